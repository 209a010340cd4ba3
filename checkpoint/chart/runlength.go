package chart

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// RunLength returns how many points it takes on average until one of the
// rules calls: with no shift the price in false alarms, with one the delay.
//
//	ARL = Σ_t P(no call in t points), by the exact Markov chain of the rules
//
//	rules    rules    any of 1, 2, 5, 6, 7, 8 and WE4; not 3 and 4, whose steps are no chain of zones
//	shift    shiftSD  standard deviations of a point, accepted 0 to 10
//	ARL               points
//
// For independent normal points and lines known exactly; lines from twenty
// points call more often. Good to 11 significant digits, however rare a call:
// the longest accepted, rule 7 alone with the level 10 away, is 1.6e284 points.
// Refused fields come in an [*InputError].
//
// Source: Champ & Woodall, Exact results for Shewhart control charts with
// supplementary runs rules, Technometrics 29, 1987.
func RunLength(rules Rules, shiftSD float64) (float64, error) {
	const zones = Beyond | Run9 | TwoOfThree | FourOfFive | Hugging | Avoiding | Run8
	var bad []*FieldError
	if rules == 0 || rules&^zones != 0 {
		bad = append(bad, &FieldError{Field: "rules", Given: strconv.Itoa(int(rules)), Min: 1, Max: float64(zones),
			Why: "rules 3 and 4 look at steps, which no chain of zones holds"})
	}
	bad = fault.Float(bad, "shiftSD", shiftSD, 0, 10, "standard deviations")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	// A point in each zone, and its chance.
	var points, chance [8]float64
	for i := range points {
		points[i] = float64(i) - 3.5
		lo, hi := float64(i-4)-shiftSD, float64(i-3)-shiftSD
		switch {
		case i == 0:
			chance[i] = num.NormalCDF(hi)
		case i == len(points)-1:
			chance[i] = num.NormalCDF(-lo)
		case lo > 0: // in the tail, where shares near 1 would cancel
			chance[i] = num.NormalCDF(-lo) - num.NormalCDF(-hi)
		default:
			chance[i] = num.NormalCDF(hi) - num.NormalCDF(lo)
		}
	}
	states := []runs{{}}
	index := map[runs]int{{}: 0}
	var next [][len(points)]int
	for i := 0; i < len(states); i++ {
		var row [len(points)]int
		for k, z := range points {
			s := states[i]
			if s.next(z, math.Abs(z) > 3)&rules != 0 {
				row[k] = -1
				continue
			}
			s.forget(rules)
			j, ok := index[s]
			if !ok {
				j = len(states)
				index[s] = j
				states = append(states, s)
			}
			row[k] = j
		}
		next = append(next, row)
	}
	// Carry where the charts still silent stand, and the share of them that
	// calls next, until that share stays; then sum the rest in closed form. A
	// rare call keeps its digits: one less the share would lose them.
	now, then := make([]float64, len(states)), make([]float64, len(states))
	now[0] = 1
	arl, alive := 0.0, 1.0
	var calls float64
	for t := range 1000000 {
		clear(then)
		was := calls
		calls = 0
		left := 0.0
		for i, p := range now {
			if p == 0 {
				continue
			}
			for k, j := range next[i] {
				v := p * chance[k]
				if j < 0 {
					calls += v
					continue
				}
				then[j] += v
				left += v
			}
		}
		arl += alive
		alive *= left
		if alive < 1e-300 {
			return arl, nil
		}
		if t > 60 && math.Abs(calls-was) <= 1e-14*calls {
			break
		}
		for j := range then {
			then[j] /= left
		}
		now, then = then, now
	}
	return arl + alive/calls, nil
}

// forget drops what none of the rules looks at, so that the chain stays small.
func (s *runs) forget(rules Rules) {
	if rules&(Run8|Run9) == 0 {
		s.above, s.below = 0, 0
	}
	if rules&TwoOfThree == 0 {
		s.two = [2]uint8{}
	}
	if rules&FourOfFive == 0 {
		s.four = [2]uint8{}
	}
	if rules&Hugging == 0 {
		s.within = 0
	}
	if rules&Avoiding == 0 {
		s.outside, s.both = 0, [2]uint8{}
	}
	s.rising, s.falling, s.zig, s.last = 0, 0, 0, 0
}

// MissPct returns the chance that the next group's mean stays within its three
// sigma lines although the level has moved.
//
//	β = Φ(3 − δ·√n) − Φ(−3 − δ·√n)
//
//	δ  shiftSD  standard deviations of single readings, accepted 0 to 10
//	n  size     readings in a group, accepted 1 to 1000
//	β           %
//
// Source: definition; Montgomery, Introduction to statistical quality control, ch. 6.
func MissPct(shiftSD float64, size int) (float64, error) {
	bad := fault.Float(nil, "shiftSD", shiftSD, 0, 10, "standard deviations")
	bad = fault.Int(bad, "size", size, 1, 1000, "readings")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	d := shiftSD * math.Sqrt(float64(size))
	return 100 * (num.NormalCDF(3-d) - num.NormalCDF(-3-d)), nil
}
