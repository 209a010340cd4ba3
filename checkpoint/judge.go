package checkpoint

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The accepted ranges of a judgement.
const (
	// MaxMagnitude is the largest value, limit or uncertainty accepted, in
	// the unit of the reading.
	MaxMagnitude = 1e15

	// MinRiskPct and MaxRiskPct bound the risk, %. A fraction given for a
	// percent, 0.05 for 5, falls below; above 50 a reading could be in and
	// out at once.
	MinRiskPct = 0.1
	MaxRiskPct = 50

	// DefaultRiskPct is the risk of a wrong call to accept where nobody has
	// said another, %: the conformance probability of 95 % that ISO
	// 14253-1:2017 takes where the parties have agreed on none; memory.
	DefaultRiskPct = 5
)

// A Limit is what a reading must stay within, both ends included, in the
// reading's unit.
//
// An infinite Lo or Hi leaves that side open. The zero Limit is refused, as
// is one that is open on both sides: neither can be meant.
type Limit struct {
	Lo, Hi float64 // in the unit of the reading
}

// A Reading is a measured value with its standard uncertainty.
//
// The zero Reading is an exact zero.
type Reading struct {
	Value float64 // in the unit of the limit
	U     float64 // standard uncertainty, same unit; zero for a value without any
}

// A Word is the outcome of a judgement. The zero Word is no judgement.
type Word uint8

// The words.
const (
	In       Word = iota + 1 // inside, with at most the risk allowed of being wrong
	Out                      // outside, with at most the risk allowed of being wrong
	TooClose                 // this uncertainty allows neither
)

// String is the word as shown: "in", "out" or "too close to call".
func (w Word) String() string {
	switch w {
	case In:
		return "in"
	case Out:
		return "out"
	case TooClose:
		return "too close to call"
	}
	return "not judged"
}

// A Verdict is what Judge found.
type Verdict struct {
	Word     Word
	InPct    float64 // probability that the true value is inside the limit, %
	AcceptLo float64 // lower end of the readings called in at this uncertainty, in the unit of the reading; −Inf on an open side
	AcceptHi float64 // upper end of them; below AcceptLo where no reading could be called in
	MaxU     float64 // largest standard uncertainty at which this value is called in or out, in the unit of the reading; +Inf where any would do
}

// AnyAccepted says whether a reading exists that would be called in at the
// uncertainty judged with. If not, the meter is too coarse for the limit.
func (v Verdict) AnyAccepted() bool { return v.AcceptLo <= v.AcceptHi }

// Judge says whether the true value behind a reading is within a limit, at a
// stated risk of being wrong.
//
//	p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u)
//	in   where p_c ≥ 1 − α
//	out  where Φ((T_L − y)/u) ≥ 1 − α below the limit, or Φ((y − T_U)/u) ≥ 1 − α above it
//
//	y         r.Value        accepted −1e15 to 1e15
//	u         r.U            same unit, accepted 0 to 1e15
//	T_L, T_U  l.Lo, l.Hi     same unit, T_L < T_U, one may be infinite
//	α         riskPct/100    %, accepted 0.1 to 50
//	p_c       Verdict.InPct  %
//
// Between the two the reading is too close to call. Without uncertainty the
// call is a plain comparison, the limit itself being inside. To be called out
// the true value must be known to lie on one side: a meter so coarse that it
// is probably beyond one end or the other, who knows which, calls nothing.
//
// AcceptLo and AcceptHi are the limit less its guard band: with one limit
// T_U − z(1 − α)·u; with two the exact point where p_c = 1 − α, or +Inf and
// −Inf where p_c reaches 1 − α nowhere. MaxU is the largest u at which the
// same value is called; at the limit itself it is zero.
//
// It holds for a normal uncertainty and no knowledge of the lot beyond the
// reading. Refused fields come in an [*InputError].
//
// Source: JCGM 106:2012, 7 and 8.3.
func Judge(r Reading, l Limit, riskPct float64) (Verdict, error) {
	var bad []*FieldError
	bad = fault.Float(bad, "Value", r.Value, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "U", r.U, 0, MaxMagnitude, "")
	bad = l.check(bad)
	bad = fault.Float(bad, "riskPct", riskPct, MinRiskPct, MaxRiskPct, "%")
	if bad != nil {
		return Verdict{}, fault.Input(bad)
	}
	risk := riskPct / 100
	z := math.Abs(num.NormalQuantile(risk)) // of one side; never −0
	lo, hi := r.Value-l.Lo, l.Hi-r.Value
	near, far := min(lo, hi), max(lo, hi) // only the nearer can be below zero
	v := Verdict{MaxU: maxU(near, far, z, risk)}
	v.AcceptLo, v.AcceptHi = l.accepted(r.U, z, risk)
	if r.U == 0 {
		v.Word = Out
		if near >= 0 {
			v.Word, v.InPct = In, 100
		}
		return v, nil
	}
	beyond := num.NormalCDF(-far / r.U)
	v.InPct = 100 * (num.NormalCDF(near/r.U) - beyond) // outside, both are small and keep their digits
	switch {
	case near >= 0 && num.NormalCDF(-near/r.U)+beyond <= risk:
		v.Word = In
	case near < 0 && num.NormalCDF(near/r.U) <= risk:
		v.Word = Out
	default:
		v.Word = TooClose
	}
	return v, nil
}

// check appends what is wrong with the limit.
func (l Limit) check(bad []*FieldError) []*FieldError {
	if l == (Limit{}) {
		return append(bad, &FieldError{Field: "Lo", Given: "0", Min: math.Inf(-1), Max: MaxMagnitude,
			Why: "a limit from 0 to 0 is no limit; set Hi, or an infinity for an open side"})
	}
	side := func(name string, v, open float64) {
		if v != open {
			bad = fault.Float(bad, name, v, -MaxMagnitude, MaxMagnitude, "")
		}
	}
	n := len(bad)
	side("Lo", l.Lo, math.Inf(-1))
	side("Hi", l.Hi, math.Inf(1))
	switch {
	case len(bad) > n:
	case math.IsInf(l.Lo, -1) && math.IsInf(l.Hi, 1):
		bad = append(bad, &FieldError{Field: "Hi", Given: fault.Shortest(l.Hi), Min: -MaxMagnitude, Max: MaxMagnitude,
			Why: "open on both sides, it limits nothing"})
	case l.Lo >= l.Hi:
		bad = append(bad, &FieldError{Field: "Hi", Given: fault.Shortest(l.Hi), Min: l.Lo, Max: math.Inf(1),
			Why: "over the lower limit"})
	}
	return bad
}

// accepted is the interval of readings called in at u.
func (l Limit) accepted(u, z, risk float64) (lo, hi float64) {
	half := (l.Hi - l.Lo) / (2 * u)
	if 2*num.NormalCDF(-half) > risk {
		return math.Inf(1), math.Inf(-1)
	}
	// At a guard band of g·u from one end the other is 2·half − g away.
	g := guard(func(g float64) float64 { return num.NormalCDF(-g) + num.NormalCDF(g-2*half) }, z, half, risk)
	return l.Lo + g*u, l.Hi - g*u
}

// maxU is the largest uncertainty at which a value is called that is near
// above one end, or below where negative, and far inside the other.
func maxU(near, far, z, risk float64) float64 {
	switch {
	case z == 0 && math.IsInf(far, 1):
		return far // one limit and a risk of one half: called at any
	case near == 0:
		return 0
	case near < 0:
		return -near / z // +Inf at a risk of one half
	case math.IsInf(far, 1):
		return near / z
	}
	// At u = near/s the chance of being outside is Φ(−s) + Φ(−s·far/near).
	apart := min(far/near, 1e300) // finite, so that 0·apart is 0
	return near / guard(func(s float64) float64 { return num.NormalCDF(-s) + num.NormalCDF(-s*apart) }, z, widest, risk)
}

// widest is a guard band, in units of u, at which both sides together are under
// any risk accepted.
const widest = 4

// guard is where the chance of being outside falls to risk, from z on, where
// the near side alone has it, to most.
func guard(outside func(g float64) float64, z, most, risk float64) float64 {
	if outside(z) <= risk {
		return z // the far side has no part that a float could show
	}
	most = min(most, widest)
	g, ok := num.Root(func(g float64) float64 { return outside(g) - risk }, z, most, 0)
	if !ok {
		return most // on the safe side
	}
	return g
}
