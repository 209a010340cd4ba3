package sampling

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Censored is a set of readings of which some only say "below detection".
//
// The zero Censored is refused.
type Censored struct {
	Detected  []float64 // readings at or above the limit, in their unit
	Below     int       // readings below it, count
	Limit     float64   // the detection limit, in the readings' unit, over 0
	Lognormal bool      // the logarithms are normal; else the readings are
}

// An Estimate is what a Censored says, shown in three ways so that nobody has
// to trust one. All but the percentages are in the readings' unit.
type Estimate struct {
	LowMean, HighMean float64 // the mean with every unseen reading at 0, and at the limit
	Mean, SD          float64 // of the lot, by maximum likelihood under the shape assumed
	BelowPct          float64 // share of the readings below detection, %
	MaxBelowPct       float64 // share of the lot that may be below it, with 95 % confidence, %
	Notes             Notes
}

// Below returns mean and spread of readings of which some are below detection.
//
//	L = Σ ln φ((x − μ)/σ)/σ + m·ln Φ((d − μ)/σ), greatest over μ and σ
//
//	x  c.Detected  any unit, 2 to 1 000 000, at c.Limit or above, at most 1e15; not all alike
//	m  c.Below     accepted 0 to 1 000 000
//	d  c.Limit     same unit, accepted 1e-300 to 1e15
//
// LowMean and HighMean need no shape: the truth of these readings is between
// them, however wide that is. Half the limit in place of an unseen reading is
// neither. For Lognormal Mean and SD are those of the readings themselves, not
// of their logarithms. [MostBelow] says that the estimate rests on its shape.
//
// By the EM algorithm, at most 10 000 steps. Where they do not suffice an
// [*ImpossibleError] names the most unseen readings with which they do; other
// refusals come in an [*InputError].
//
// Source: Cohen, Technometrics 1, 1959 (likelihood); Dempster, Laird & Rubin,
// JRSS B 39, 1977 (EM); Helsel, Statistics for censored environmental data,
// 2012 (bounds).
func Below(c Censored) (Estimate, error) {
	bad := checkReadings(nil, "Detected", c.Detected, 2)
	bad = fault.Int(bad, "Below", c.Below, 0, MaxReadings, "readings")
	bad = fault.Float(bad, "Limit", c.Limit, 1e-300, MaxMagnitude, "")
	if bad == nil {
		alike := true
		for i, x := range c.Detected {
			if x < c.Limit {
				bad = fault.Float(bad, "Detected["+strconv.Itoa(i)+"]", x, c.Limit, MaxMagnitude, "")
			}
			alike = alike && x == c.Detected[0]
		}
		if alike && bad == nil {
			bad = append(bad, &FieldError{Field: "Detected", Given: strconv.Itoa(len(c.Detected)), Min: 1, Max: float64(len(c.Detected) - 1), Unit: "alike", Why: "two different readings at least are needed for a spread"})
		}
	}
	if bad != nil {
		return Estimate{}, fault.Input(bad)
	}
	e, none := c.estimate()
	if none == nil {
		return e, nil
	}
	// The most unseen readings with which there is an estimate; with none, where
	// there is one, the spread of those seen is all there is.
	with := func(below int) bool {
		d := c
		d.Below = below
		_, err := d.estimate()
		return err == nil
	}
	if !with(0) {
		return Estimate{}, none
	}
	yes, no := 0, c.Below
	for no-yes > 1 {
		if mid := yes + (no-yes)/2; with(mid) {
			yes = mid
		} else {
			no = mid
		}
	}
	none.Field, none.Given, none.Min, none.Max, none.Unit = "Below", strconv.Itoa(c.Below), 0, float64(yes), "readings"
	return Estimate{}, none
}

// estimate is Below's answer for an input that was checked; its error names
// the spread of the readings seen.
func (c Censored) estimate() (Estimate, *ImpossibleError) {
	scale := func(x float64) float64 { return x }
	if c.Lognormal {
		scale = math.Log
	}
	k, m := float64(len(c.Detected)), float64(c.Below)
	n := k + m
	plain, _, _ := momentsOf(c.Detected, func(x float64) float64 { return x })
	e := Estimate{LowMean: plain * k / n, HighMean: plain*k/n + c.Limit*m/n, BelowPct: 100 * m / n}
	e.MaxBelowPct = 100 * quality(c.Below, c.Below+len(c.Detected), 0.05)
	if m > k {
		e.Notes |= MostBelow
	}
	mean, sd, _ := momentsOf(c.Detected, scale)
	sum2 := sd * sd * (k - 1) // about mean
	d := scale(c.Limit)
	mu, v := mean, sum2/k
	settled := m == 0
	for range 10000 {
		if settled {
			break
		}
		// The unseen readings as they would be below d on average.
		s := math.Sqrt(v)
		z := (d - mu) / s
		h := hazard(z)
		unseen := mu - s*h
		spread := v * math.Max(1-z*h-h*h, 0) // variance of a normal cut off above z
		next := (k*mean + m*unseen) / n
		nv := (sum2 + k*(mean-next)*(mean-next) + m*(spread+(unseen-next)*(unseen-next))) / n
		settled = math.Abs(next-mu) <= 1e-12*s && math.Abs(nv-v) <= 1e-12*v
		mu, v = next, nv
	}
	none := &ImpossibleError{Quantity: "estimate", Why: "the readings seen do not tell where the others lie",
		Field: "Detected", Given: fault.Shortest(math.Round(100*sd) / 100), Min: math.SmallestNonzeroFloat64, Max: MaxMagnitude}
	if !settled || math.IsNaN(mu) || !(v > 0) || math.IsInf(v, 0) {
		return Estimate{}, none
	}
	v *= n / (n - 1)
	e.Mean, e.SD = mu, math.Sqrt(v)
	if c.Lognormal {
		e.Mean = math.Exp(mu + v/2)
		e.SD = e.Mean * math.Sqrt(math.Expm1(v))
		if math.IsInf(e.SD, 0) { // at μ + v over 709
			none.Why = "the spread of the logarithms is beyond all use"
			none.Min, none.Max, none.Unit = 0.001, math.Floor(math.Sqrt(700-mu)), "of standard deviation in logarithms"
			return Estimate{}, none
		}
	}
	return e, nil
}

// hazard is φ(z)/Φ(z), also far below, where both vanish.
func hazard(z float64) float64 {
	if z < -30 { // Laplace's continued fraction (Abramowitz and Stegun 26.2.14)
		r := -z
		for k := 8.0; k > 0; k-- {
			r = k/r - z
		}
		return r
	}
	return num.NormalPDF(z) / num.NormalCDF(z)
}
