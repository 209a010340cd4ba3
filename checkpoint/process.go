package checkpoint

import (
	"math"
	"slices"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Process is the spread of true values from which lots come, taken as
// normal.
//
// The zero Process is refused: a process without spread needs no check.
type Process struct {
	Mean float64 // in the unit of the limit
	SD   float64 // standard deviation of the true values, without the meter's part, same unit
}

// Risks are what a rule of acceptance comes to over many lots.
type Risks struct {
	FalseAcceptPct float64 // of all lots, those accepted that are outside the limit, %
	FalseRejectPct float64 // of all lots, those rejected that are inside it, %
	OutsidePct     float64 // of all lots, those outside the limit, measured or not, %
}

// LongRunRisks returns how often a rule of acceptance errs over many lots from
// one process: the buyer's and the producer's risk.
//
//	R_accept = ∫ outside T of φ((x − m)/σ)/σ · P(A | x) dx
//	R_reject = ∫ inside T  of φ((x − m)/σ)/σ · (1 − P(A | x)) dx
//	P(A | x) = Φ((A_U − x)/u) − Φ((A_L − x)/u)
//
//	m, σ      p.Mean, p.SD            in the unit of the limit; m within ±1e15, σ 1e-12 to 1e15
//	u         u                       same unit, accepted 0 to 1e15
//	T_L, T_U  limit.Lo, limit.Hi      same unit, as in [Judge]
//	A_L, A_U  accept.Lo, accept.Hi    readings that are accepted, as Verdict.AcceptLo and AcceptHi: one side
//	                                  may be infinite; +Inf and −Inf accept nothing
//
// Judge tells the risk of one reading; this tells that of the rule. A guard
// band lowers the buyer's risk and raises the producer's. It holds for a
// normal process and a normal meter; refused fields come in an [*InputError].
//
// By Gauss–Legendre panels laid to the meter's width, to about 1e-12.
//
// Source: JCGM 106:2012, 9.5.
func LongRunRisks(p Process, u float64, limit, accept Limit) (Risks, error) {
	var bad []*FieldError
	bad = fault.Float(bad, "Mean", p.Mean, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "SD", p.SD, 1e-12, MaxMagnitude, "")
	bad = fault.Float(bad, "u", u, 0, MaxMagnitude, "")
	n := len(bad)
	bad = fault.Under("limit.", limit.check(bad), n)
	nothing := math.IsInf(accept.Lo, 1) && math.IsInf(accept.Hi, -1)
	point := accept.Lo == accept.Hi && accept.Lo != 0 && math.Abs(accept.Lo) <= MaxMagnitude
	if !nothing && !point {
		n = len(bad)
		bad = fault.Under("accept.", accept.check(bad), n)
	}
	if bad != nil {
		return Risks{}, fault.Input(bad)
	}
	// In units of the process: x = m + σ·z.
	unit := func(v float64) float64 { return (v - p.Mean) / p.SD }
	t := Limit{unit(limit.Lo), unit(limit.Hi)}
	a := Limit{unit(accept.Lo), unit(accept.Hi)}
	w := u / p.SD
	// Both keep the digits of small shares, on either side.
	accepted := func(z float64) float64 {
		lo, hi := (a.Lo-z)/w, (a.Hi-z)/w
		switch {
		case nothing || point:
			return 0
		case lo > 0:
			return num.NormalCDF(-lo) - num.NormalCDF(-hi)
		}
		return num.NormalCDF(hi) - num.NormalCDF(lo)
	}
	rejected := func(z float64) float64 {
		if nothing || point {
			return 1
		}
		return num.NormalCDF((a.Lo-z)/w) + num.NormalCDF((z-a.Hi)/w)
	}
	edge := 9.0 // beyond, 1e-19 of the lots
	// Panels of 4.5 spreads, of the lots' and of the meter's at either end.
	var room [17]float64
	cuts := append(room[:0], t.Lo, t.Hi)
	for k := -edge; k <= edge; k += 4.5 {
		cuts = append(cuts, k, a.Lo+k*w, a.Hi+k*w)
	}
	for i, c := range cuts {
		cuts[i] = max(-edge, min(c, edge)) // an open side's cut counts for nothing
	}
	slices.Sort(cuts)
	var r Risks
	for i := 1; i < len(cuts); i++ {
		lo, hi := cuts[i-1], cuts[i]
		if lo == hi {
			continue
		}
		if mid := (lo + hi) / 2; mid >= t.Lo && mid <= t.Hi {
			r.FalseRejectPct += 100 * num.Gauss(func(z float64) float64 { return num.NormalPDF(z) * rejected(z) }, lo, hi)
		} else {
			r.FalseAcceptPct += 100 * num.Gauss(func(z float64) float64 { return num.NormalPDF(z) * accepted(z) }, lo, hi)
		}
	}
	r.OutsidePct = 100 * (num.NormalCDF(t.Lo) + num.NormalCDF(-t.Hi))
	return r, nil
}
