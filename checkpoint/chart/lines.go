package chart

import (
	"math"
	"slices"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// Lines are the centre and limits of a chart, in the unit of what is charted.
//
// The zero Lines is refused where a point is judged by it.
type Lines struct {
	Centre       float64 // in the unit charted
	Lower, Upper float64 // three Sigma away, or where the chart's own factors put them; in the unit charted
	Sigma        float64 // standard deviation of one point, in the unit charted
}

// A Pair is a chart of level above a chart of spread, as they are always read
// together. Of the spread chart Sigma is a third of the way to Upper.
type Pair struct {
	Level  Lines
	Spread Lines
	Points int // points that the lines come from, count
}

func checkPoints(bad []*FieldError, name string, x []float64, least int) []*FieldError {
	bad = fault.Int(bad, name, len(x), least, MaxPoints, "readings")
	for i, v := range x {
		if !(math.Abs(v) <= MaxMagnitude) { // the name is made only where it is needed
			bad = fault.Float(bad, name+"["+strconv.Itoa(i)+"]", v, -MaxMagnitude, MaxMagnitude, "")
		}
	}
	return bad
}

// mean is summed from the first reading on, so that a large mean costs no
// digits.
func mean(x []float64) float64 {
	rest := 0.0
	for _, v := range x {
		rest += v - x[0]
	}
	return x[0] + rest/float64(len(x))
}

// Individuals returns the lines of single readings and of their moving range,
// from a time when nothing was wrong.
//
//	x̄ ± 3·MR̄/d2, MR = |x_i − x_(i−1)|, limits of MR: 0 and D4·MR̄
//
//	x         x     any unit, 2 to 1 000 000 readings in order of time, each within ±1e15
//	setAside  indices of readings with a known cause, which give no line and
//	          no moving range; they are not deleted, only not believed
//	d2        1.128379, D4 3.2665
//
// Twenty readings or more make lines worth trusting. Readings that never
// change have no scatter and no lines: an [*ImpossibleError].
//
// Source: NIST/SEMATECH e-Handbook, 6.3.2.2; ISO 7870-2:2013.
func Individuals(x []float64, setAside ...int) (Pair, error) {
	bad := checkPoints(nil, "x", x, 2)
	for k, i := range setAside {
		bad = fault.Int(bad, "setAside["+strconv.Itoa(k)+"]", i, 0, len(x)-1, "")
	}
	if bad != nil {
		return Pair{}, fault.Input(bad)
	}
	var marks []bool
	if len(setAside) > 0 {
		marks = make([]bool, len(x))
		for _, i := range setAside {
			marks[i] = true
		}
	}
	aside := func(i int) bool { return marks != nil && marks[i] }
	rest, moving := 0.0, 0.0 // rest is summed as in mean
	n, pairs := 0, 0
	for i, v := range x {
		if aside(i) {
			continue
		}
		n++
		rest += v - x[0]
		if i > 0 && !aside(i-1) {
			pairs++
			moving += math.Abs(v - x[i-1])
		}
	}
	if pairs == 0 {
		return Pair{}, &ImpossibleError{Quantity: "lines", Why: "too few readings in a row are left",
			Field: "setAside", Given: strconv.Itoa(len(setAside)), Min: 0, Max: float64(most(len(x), setAside)), Unit: "readings"}
	}
	centre := x[0] + rest/float64(n)
	moving /= float64(pairs)
	if moving == 0 {
		return Pair{}, noScatter(pairs, "readings unlike the one before")
	}
	f, err := GroupFactors(2)
	if err != nil {
		return Pair{}, err
	}
	sigma := moving / f.MeanRange
	return Pair{
		Level:  Lines{centre, centre - 3*sigma, centre + 3*sigma, sigma},
		Spread: Lines{moving, 0, f.D4 * moving, f.RangeSD * sigma},
		Points: n,
	}, nil
}

// most is how many of the readings to set aside, from the first, leave two in a
// row.
func most(n int, setAside []int) int {
	marks, pairs := make([]bool, n), n-1
	for k, i := range setAside {
		if marks[i] {
			continue
		}
		marks[i] = true
		if i > 0 && !marks[i-1] {
			pairs--
		}
		if i < n-1 && !marks[i+1] {
			pairs--
		}
		if pairs == 0 {
			return k
		}
	}
	return len(setAside)
}

// noScatter says that none of n places shows any scatter, and that one would
// do.
func noScatter(n int, where string) error {
	return &ImpossibleError{Quantity: "lines", Why: "the readings have no scatter; a finer meter would show some",
		Field: "x", Given: "0", Min: 1, Max: float64(n), Unit: where}
}

func checkGroups(x []float64, size int) []*FieldError {
	bad := checkPoints(nil, "x", x, 4)
	bad = fault.Int(bad, "size", size, 2, MaxGroup, "readings")
	if bad == nil && (len(x)%size != 0 || len(x) < 2*size) {
		bad = append(bad, &FieldError{Field: "x", Given: strconv.Itoa(len(x)), Min: float64(2 * size), Max: MaxPoints, Unit: "readings",
			Why: "whole groups of " + strconv.Itoa(size) + ", two at least"})
	}
	return bad
}

// MeanAndRange returns the lines of group means and of group ranges.
//
//	x̿ ± A2·R̄, limits of R: D3·R̄ and D4·R̄
//
//	x     x     any unit, groups one after another in order of time, each reading within ±1e15
//	n     size  readings in a group, accepted 2 to 25
//
// A group is readings taken together (bags of one minute, cups of one brew):
// what varies within it is what the lines take as unavoidable.
//
// Source: ISO 7870-2:2013; Montgomery, Introduction to statistical quality
// control, ch. 6.
func MeanAndRange(x []float64, size int) (Pair, error) {
	if bad := checkGroups(x, size); bad != nil {
		return Pair{}, fault.Input(bad)
	}
	groups := len(x) / size
	r := 0.0
	for g := range groups {
		_, spread := groupRange(x[g*size : (g+1)*size])
		r += spread / float64(groups)
	}
	if r == 0 {
		return Pair{}, noScatter(groups, "groups of unlike readings")
	}
	f, err := GroupFactors(size)
	if err != nil {
		return Pair{}, err
	}
	c := mean(x)
	return Pair{
		Level:  Lines{c, c - f.A2*r, c + f.A2*r, f.A2 * r / 3},
		Spread: Lines{r, f.D3 * r, f.D4 * r, r * f.RangeSD / f.MeanRange},
		Points: groups,
	}, nil
}

func groupRange(x []float64) (m, spread float64) {
	return mean(x), slices.Max(x) - slices.Min(x)
}

// MeanAndSD returns the lines of group means and of group standard deviations.
//
//	x̿ ± A3·s̄, limits of s: B3·s̄ and B4·s̄
//
//	x  x     any unit, groups one after another in order of time, each reading within ±1e15
//	n  size  readings in a group, accepted 2 to 25
//
// Source: ISO 7870-2:2013; NIST/SEMATECH e-Handbook, 6.3.2.1.
func MeanAndSD(x []float64, size int) (Pair, error) {
	if bad := checkGroups(x, size); bad != nil {
		return Pair{}, fault.Input(bad)
	}
	groups := len(x) / size
	s := 0.0
	for g := range groups {
		_, sd := groupSD(x[g*size : (g+1)*size])
		s += sd / float64(groups)
	}
	if s == 0 {
		return Pair{}, noScatter(groups, "groups of unlike readings")
	}
	f, err := GroupFactors(size)
	if err != nil {
		return Pair{}, err
	}
	return fromMeanSD(mean(x), s, f, groups), nil
}

func fromMeanSD(grandMean, meanSD float64, f Factors, groups int) Pair {
	return Pair{
		Level:  Lines{grandMean, grandMean - f.A3*meanSD, grandMean + f.A3*meanSD, f.A3 * meanSD / 3},
		Spread: Lines{meanSD, f.B3 * meanSD, f.B4 * meanSD, (f.B4 - 1) * meanSD / 3},
		Points: groups,
	}
}

func groupSD(x []float64) (m, sd float64) {
	m = mean(x)
	ss := 0.0
	for _, v := range x {
		ss += (v - m) * (v - m)
	}
	return m, math.Sqrt(ss / float64(len(x)-1))
}

// FromMeanSD returns the lines of group means and deviations from a summary:
// the grand mean and the mean of the groups' standard deviations.
//
//	x̿ ± A3·s̄, limits of s: B3·s̄ and B4·s̄
//
//	x̿  grandMean  any unit, accepted −1e15 to 1e15
//	s̄  meanSD     same unit, accepted 1e-300 to 1e15
//	n   size       readings in a group, accepted 2 to 25
//	    groups     count, accepted 2 to 1 000 000
//
// Source: ISO 7870-2:2013; NIST/SEMATECH e-Handbook, 6.3.2.1.
func FromMeanSD(grandMean, meanSD float64, size, groups int) (Pair, error) {
	bad := fault.Float(nil, "grandMean", grandMean, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "meanSD", meanSD, 1e-300, MaxMagnitude, "")
	bad = fault.Int(bad, "size", size, 2, MaxGroup, "readings")
	bad = fault.Int(bad, "groups", groups, 2, MaxPoints, "groups")
	if bad != nil {
		return Pair{}, fault.Input(bad)
	}
	f, err := GroupFactors(size)
	if err != nil {
		return Pair{}, err
	}
	return fromMeanSD(grandMean, meanSD, f, groups), nil
}

// Groups returns the mean, range and standard deviation of each group, for
// the points of a chart.
//
//	x  x     any unit, groups one after another
//	n  size  readings in a group, accepted 2 to 25
//
// Source: definition.
func Groups(x []float64, size int) (means, ranges, sds []float64, err error) {
	if bad := checkGroups(x, size); bad != nil {
		return nil, nil, nil, fault.Input(bad)
	}
	n := len(x) / size
	all := make([]float64, 3*n)
	means, ranges, sds = all[:n:n], all[n:2*n:2*n], all[2*n:]
	for g := range n {
		group := x[g*size : (g+1)*size]
		means[g], ranges[g] = groupRange(group)
		_, sds[g] = groupSD(group)
	}
	return means, ranges, sds, nil
}

// Deviations returns each reading less its own target, so that lots with
// different targets share one chart.
//
//	x, target  same unit, one target for each reading, 1 to 1 000 000
//
// It is right where the scatter does not grow with the target.
//
// Source: definition.
func Deviations(x, target []float64) ([]float64, error) {
	bad := checkPoints(nil, "x", x, 1)
	bad = checkPoints(bad, "target", target, 1)
	if len(x) != len(target) {
		bad = fault.Int(bad, "target", len(target), len(x), len(x), "targets")
	}
	if bad != nil {
		return nil, fault.Input(bad)
	}
	d := make([]float64, len(x))
	for i := range x {
		d[i] = x[i] - target[i]
	}
	return d, nil
}
