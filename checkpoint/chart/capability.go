package chart

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// CustomaryCp is the least C_pk that is often asked for, pure number; common
// practice of engineering, not a standard for food.
const CustomaryCp = 1.33

// A Still is a process in control and the limits it is held against, all but
// the counts in one unit.
//
// The zero Still is refused.
type Still struct {
	Mean          float64 // of the readings
	SD            float64 // within groups for C_p and C_pk; of all readings for P_p and P_pk
	DF            int     // degrees of freedom of SD, count: n − 1 for all readings
	N             int     // readings that Mean comes from, count
	Lo, Hi        float64 // the limits; an infinity leaves a side open
	ConfidencePct float64 // of the lower bounds, one-sided, %, 50 to 99.99
}

// An Ability is what Capability found. Indices are pure numbers.
type Ability struct {
	Cp         float64 // the limits' width over six deviations; 0 with one limit
	CpLower    float64 // its lower confidence bound; 0 with one limit
	Cpk        float64 // distance of the mean to the nearer limit over three deviations
	CpkLower   float64 // its lower confidence bound
	OffCentre  float64 // k: distance of the mean from the middle over half the width; 0 with one limit
	OutsidePct float64 // share outside, were mean and deviation exact and the process normal, %
	Exact      bool    // CpkLower is exact (one limit); else by Bissell's approximation
}

// Capability returns how well a still process fits between its limits, and how
// little the index itself is known.
//
//	C_p = (U − L)/(6·s), C_pk = min(U − x̄, x̄ − L)/(3·s)
//	lower bound of C_p: C_p·√(χ²(1 − γ, ν)/ν)
//	of C_pk, one limit: the δ/(3·√n) for which P(t'(ν, δ) ≤ 3·√n·C_pk) = γ
//	of C_pk, two limits: C_pk − z(γ)·√(1/(9·n) + C_pk²/(2·ν))
//	outside = Φ((L − x̄)/s) + Φ((x̄ − U)/s)
//
//	x̄, s   p.Mean, p.SD  any unit; within ±1e15, 1e-300 to 1e15
//	n, ν   p.N, p.DF      count, accepted 2 to 1 000 000
//	L, U   p.Lo, p.Hi     same unit, L < U, one may be infinite
//	γ      p.ConfidencePct %
//
// It means nothing for a process that its chart calls out. From ten readings
// an index of 1.33 is known to no better than about 0.8.
//
// Source: ISO 22514-4:2016; NIST/SEMATECH e-Handbook, 6.1.6; Bissell, Applied
// Statistics 39, 1990.
func Capability(p Still) (Ability, error) {
	bad := fault.Float(nil, "Mean", p.Mean, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "SD", p.SD, 1e-300, MaxMagnitude, "")
	bad = fault.Int(bad, "DF", p.DF, 1, MaxPoints, "")
	bad = fault.Int(bad, "N", p.N, 2, MaxPoints, "readings")
	if !math.IsInf(p.Lo, -1) {
		bad = fault.Float(bad, "Lo", p.Lo, -MaxMagnitude, MaxMagnitude, "")
	}
	switch {
	case math.IsInf(p.Lo, -1) && math.IsInf(p.Hi, 1):
		bad = append(bad, &FieldError{Field: "Hi", Given: fault.Shortest(p.Hi), Min: -MaxMagnitude, Max: MaxMagnitude, Why: "open on both sides, there is nothing to fit between"})
	case !(p.Hi > p.Lo):
		bad = append(bad, &FieldError{Field: "Hi", Given: fault.Shortest(p.Hi), Min: p.Lo, Max: MaxMagnitude, Why: "over the lower limit"})
	case !math.IsInf(p.Hi, 1):
		bad = fault.Float(bad, "Hi", p.Hi, -MaxMagnitude, MaxMagnitude, "")
	}
	bad = fault.Float(bad, "ConfidencePct", p.ConfidencePct, 50, 99.99, "%")
	if bad != nil {
		return Ability{}, fault.Input(bad)
	}
	miss := (100 - p.ConfidencePct) / 100
	n, nu := float64(p.N), float64(p.DF)
	width, oneLimit := p.Hi-p.Lo, math.IsInf(p.Hi-p.Lo, 1)
	most := math.Abs(math.Max(p.Lo-p.Mean, p.Mean-p.Hi)) / 3 // the greater index times SD
	if !oneLimit {
		most = math.Max(most, width/6)
	}
	if !(most/p.SD <= 1e15) {
		return Ability{}, fault.Input(append(bad, &FieldError{Field: "SD", Given: fault.Shortest(p.SD), Min: most / 1e15, Max: MaxMagnitude, Why: "so small beside the limits that no index holds it"}))
	}
	below, above := (p.Lo-p.Mean)/p.SD, (p.Mean-p.Hi)/p.SD
	a := Ability{
		Cpk:        -math.Max(below, above) / 3,
		OutsidePct: 100 * (num.NormalCDF(below) + num.NormalCDF(above)),
	}
	if oneLimit {
		lower, ok := exactLower(a.Cpk, n, nu, miss)
		if ok {
			a.CpkLower, a.Exact = lower, true
			return a, nil
		}
	} else {
		a.Cp = width / (6 * p.SD)
		a.CpLower = a.Cp * math.Sqrt(num.ChiSquareQuantile(miss, nu)/nu)
		a.OffCentre = math.Abs((p.Lo-p.Mean)+(p.Hi-p.Mean)) / width
	}
	a.CpkLower = a.Cpk + num.NormalQuantile(miss)*math.Sqrt(1/(9*n)+a.Cpk*a.Cpk/(2*nu))
	return a, nil
}

// exactLower is the lower bound of a one-sided index by the noncentral t; ok
// is false where that is out of range.
func exactLower(cpk, n, nu, miss float64) (float64, bool) {
	root := 3 * math.Sqrt(n)
	t := root * cpk
	if math.Abs(t) > 900 {
		return 0, false
	}
	above := func(delta float64) float64 {
		_, a, _ := num.NoncentralT{Nu: nu, Delta: delta}.Shares(t)
		return a - miss
	}
	// The greater δ, the more lies above t: the bound is where just 1 − γ does.
	delta, ok := num.Root(above, -1e3, 1e3, 1e-9)
	return delta / root, ok
}
