package uncertainty

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// InsidePct returns the probability that a Quantity is inside a limit, by its
// own degrees of freedom: Student's t in place of the normal where the
// uncertainty rests on few readings.
//
//	p = T((hi − y)/u, ν) − T((lo − y)/u, ν)
//
//	y, u, ν  q       as its own check accepts
//	lo, hi   lo, hi  same unit, lo ≤ hi; infinities leave a side open
//
// The Shape of q is not asked: what is judged is mostly a result, of several
// inputs. For one reading that is flat between two ends, and whose limit lies
// near them, take [Simulate].
//
// Source: JCGM 106:2012, 7.2.2 note; JCGM 101:2008, 6.4.9.
func InsidePct(q Quantity, lo, hi float64) (float64, error) {
	bad := q.check(nil, "q.")
	bad = fault.Float(bad, "lo", lo, math.Inf(-1), math.MaxFloat64, "")
	bad = fault.Float(bad, "hi", hi, lo, math.Inf(1), "")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	if q.U == 0 {
		if q.Value >= lo && q.Value <= hi {
			return 100, nil
		}
		return 0, nil
	}
	share := func(z float64) float64 {
		switch {
		case math.Abs(z) > 1e150:
			if z > 0 {
				return 1
			}
			return 0
		}
		return num.StudentCDF(z, q.df())
	}
	a, b := (lo-q.Value)/q.U, (hi-q.Value)/q.U
	if a >= -1 && b <= 1 { // keep the digits of a narrow limit near the middle
		half := func(z float64) float64 { return math.Copysign(num.StudentWithin(z, q.df())/2, z) }
		return 100 * (half(b) - half(a)), nil
	}
	if a > 0 { // keep the digits of the smaller tails
		return 100 * (share(-a) - share(-b)), nil
	}
	return 100 * (share(b) - share(a)), nil
}
