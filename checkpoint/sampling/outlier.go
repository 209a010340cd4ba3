package sampling

import (
	"math"
	"slices"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Outlier tests are asked at a significance of 0.1 to 20 %.
const (
	MinAlphaPct     = 0.1 // least significance accepted, %
	MaxAlphaPct     = 20  // greatest significance accepted, %
	DefaultAlphaPct = 5   // significance at which a reading is flagged, %: the straggler of ISO 5725-2:1994; quoted
)

// GrubbsCritical returns the largest distance from the mean, in standard
// deviations, that chance explains for the oddest of n readings.
//
//	G = (n − 1)/√n·√(q²/(n − 2 + q²)), q = t(1 − α/(2n), n − 2), or α/n one-sided
//
//	n  n              readings, accepted 3 to 1 000 000
//	α  alphaPct/100   %, accepted 0.1 to 20
//	   twoSided       whether an odd reading may lie on either side
//
// Source: Grubbs, Technometrics 11, 1969; ISO 5725-2:1994, table 5 (two-sided).
func GrubbsCritical(n int, alphaPct float64, twoSided bool) (float64, error) {
	bad := fault.Int(nil, "n", n, 3, MaxReadings, "readings")
	bad = fault.Float(bad, "alphaPct", alphaPct, MinAlphaPct, MaxAlphaPct, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return grubbs(n, alphaPct/100, twoSided), nil
}

func grubbs(n int, alpha float64, twoSided bool) float64 {
	f := float64(n)
	p := alpha / f
	if twoSided {
		p /= 2
	}
	q := num.StudentQuantile(p, f-2)
	return (f - 1) / math.Sqrt(f) * math.Sqrt(q*q/(f-2+q*q))
}

// A Suspect is the oddest of a set of readings.
type Suspect struct {
	Index    int     // of the reading
	Value    float64 // the reading, in its unit
	G        float64 // its distance from the mean, in standard deviations
	Critical float64 // the distance that chance explains, likewise
	Flagged  bool    // G is over Critical
}

// Grubbs tests the one reading that lies furthest from the mean.
//
//	G = max|x − x̄|/s
//
//	x  readings      any unit, 3 to 1 000 000, each within ±1e15
//	α  alphaPct/100  %, accepted 0.1 to 20, two-sided
//
// A flag is a reason to look for a cause, not to delete: without a cause the
// reading stays. Two odd readings hide each other; see [Rosner]. Readings that
// are all alike have no suspect: the zero Suspect.
//
// Source: Grubbs, Technometrics 11, 1969.
func Grubbs(readings []float64, alphaPct float64) (Suspect, error) {
	bad := checkReadings(nil, "readings", readings, 3)
	bad = fault.Float(bad, "alphaPct", alphaPct, MinAlphaPct, MaxAlphaPct, "%")
	if bad != nil {
		return Suspect{}, fault.Input(bad)
	}
	mean, sd, _ := momentsOf(readings, func(x float64) float64 { return x })
	if !(sd > 0) {
		return Suspect{}, nil
	}
	s := Suspect{Critical: grubbs(len(readings), alphaPct/100, true)}
	for i, x := range readings {
		if g := math.Abs(x-mean) / sd; g > s.G {
			s.Index, s.Value, s.G = i, x, g
		}
	}
	s.Flagged = s.G > s.Critical
	return s, nil
}

// MaxSuspects is how many readings Rosner tests at most, count.
const MaxSuspects = 10

// Rosner tests up to a stated number of odd readings, of which none can hide
// another, and returns them from the oddest on; those flagged are the first
// ones up to the last whose distance is over its critical value.
//
//	R_i = max|x − x̄|/s of what is left after i − 1 were set aside
//	λ_i = Grubbs's critical value for n − i + 1 readings
//
//	x  readings      any unit, max(most + 3, 5) to 1 000 000, each within ±1e15
//	   most          accepted 1 to 10
//	α  alphaPct/100  %, accepted 0.1 to 20
//
// Nothing is deleted; readings is not written to. Under 25 readings the
// significance is only nominal.
//
// Source: Rosner, Technometrics 25, 1983.
func Rosner(readings []float64, most int, alphaPct float64) ([]Suspect, error) {
	bad := fault.Int(nil, "most", most, 1, MaxSuspects, "readings")
	if bad == nil {
		bad = checkReadings(bad, "readings", readings, max(most+3, 5))
	}
	bad = fault.Float(bad, "alphaPct", alphaPct, MinAlphaPct, MaxAlphaPct, "%")
	if bad != nil {
		return nil, fault.Input(bad)
	}
	left := slices.Clone(readings)
	index := make([]int, len(left))
	for i := range index {
		index[i] = i
	}
	var list []Suspect
	last := -1
	for range most {
		s, err := Grubbs(left, alphaPct)
		if err != nil {
			return nil, err
		}
		if s == (Suspect{}) {
			break
		}
		if s.Flagged {
			last = len(list)
		}
		at := s.Index
		s.Index = index[at]
		list = append(list, s)
		left, index = slices.Delete(left, at, at+1), slices.Delete(index, at, at+1)
	}
	for i := range list {
		list[i].Flagged = i <= last
	}
	return list, nil
}

// ModifiedScoreLimit is the modified score beyond which a reading is flagged,
// pure number. Iglewicz & Hoaglin, How to detect and handle outliers, 1993;
// memory.
const ModifiedScoreLimit = 3.5

// ModifiedScore returns how far a reading lies from the median, in robust
// standard deviations: a measure that the odd readings themselves cannot
// stretch.
//
//	M = 0.6745·(x − median)/MAD
//
//	x  readings[i]  any unit, 3 to 1 000 000 readings, each within ±1e15
//
// Where more than half of the readings are alike MAD is zero and there is no
// score: an [*ImpossibleError].
//
// Source: Iglewicz & Hoaglin, How to detect and handle outliers, 1993.
func ModifiedScore(readings []float64, i int) (float64, error) {
	bad := checkReadings(nil, "readings", readings, 3)
	bad = fault.Int(bad, "i", i, 0, max(len(readings)-1, 0), "")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	r := robust(readings)
	if !(r.ScaledMAD > 0) {
		alike := 0
		for _, x := range readings {
			if x == r.Median {
				alike++
			}
		}
		return 0, &ImpossibleError{Quantity: "modified score", Why: "more than half of the readings are alike",
			Field: "readings", Given: strconv.Itoa(alike), Min: 1, Max: float64(len(readings) / 2), Unit: "alike"}
	}
	return (readings[i] - r.Median) / r.ScaledMAD, nil
}

// A Robust is what readings say when a few of them are not to be trusted. All
// in the readings' unit.
type Robust struct {
	Median    float64 // the middle reading
	ScaledMAD float64 // median distance from the median, times 1.4826: a normal's standard deviation
	Mean      float64 // Algorithm A's robust mean
	SD        float64 // Algorithm A's robust standard deviation; 0 where MAD is
}

// RobustMean returns averages and spreads that odd readings cannot pull far.
//
//	MAD = median|x − median|, σ ≈ MAD/0.674490
//	Algorithm A: clip at x* ± 1.5·s*, x* = mean, s* = 1.134·s, until settled
//
//	x  readings  any unit, 3 to 1 000 000, each within ±1e15
//
// Nothing is deleted. Where more than half of the readings are alike the
// robust mean is the median and the spread zero.
//
// Source: ISO 13528:2015, C.3 (Algorithm A); ISO 5725-5:1998.
func RobustMean(readings []float64) (Robust, error) {
	if bad := checkReadings(nil, "readings", readings, 3); bad != nil {
		return Robust{}, fault.Input(bad)
	}
	return robust(readings), nil
}

func robust(readings []float64) Robust {
	x := slices.Clone(readings)
	slices.Sort(x)
	r := Robust{Median: middle(x)}
	far := make([]float64, len(x))
	for i, v := range x {
		far[i] = math.Abs(v - r.Median)
	}
	slices.Sort(far)
	r.ScaledMAD = middle(far) / 0.6744897501960817
	r.Mean, r.SD = r.Median, r.ScaledMAD
	for range 500 {
		d := 1.5 * r.SD
		lo, hi := r.Mean-d, r.Mean+d
		mean, sd, _ := momentsOf(x, func(v float64) float64 { return math.Min(math.Max(v, lo), hi) })
		sd *= 1.134
		settled := math.Abs(mean-r.Mean) <= 1e-12*sd && math.Abs(sd-r.SD) <= 1e-12*sd
		r.Mean, r.SD = mean, sd
		if settled {
			break
		}
	}
	return r
}

// middle is the median of sorted values.
func middle(x []float64) float64 {
	n := len(x)
	if n%2 == 1 {
		return x[n/2]
	}
	return x[n/2-1] + (x[n/2]-x[n/2-1])/2
}

// TrimmedMean returns the mean without a stated share of the readings at each
// end.
//
//	drop ⌊α·n⌋ at each end; a whole number that rounding misses counts as that number
//
//	x  readings     any unit, 3 to 1 000 000, each within ±1e15
//	α  trimPct/100  %, accepted 0 to 49
//
// Source: definition; ISO 5725-5:1998.
func TrimmedMean(readings []float64, trimPct float64) (float64, error) {
	bad := checkReadings(nil, "readings", readings, 3)
	bad = fault.Float(bad, "trimPct", trimPct, 0, 49, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	x := slices.Clone(readings)
	slices.Sort(x)
	share := trimPct * float64(len(x)) / 100
	drop := int(share)
	if whole := math.Round(share); math.Abs(share-whole) <= 1e-15*whole {
		drop = int(whole)
	}
	mean, _, _ := momentsOf(x[drop:len(x)-drop], func(v float64) float64 { return v })
	return mean, nil
}
