package uncertainty

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// A Line is a calibration line y = Intercept + Slope·(x − X0), fitted to
// points whose x is taken as exact. X0 is where Intercept holds.
type Line struct {
	X0          float64 // in the unit of x
	Intercept   float64 // y at X0, in the unit of y
	Slope       float64 // units of y per unit of x
	InterceptU  float64 // standard uncertainty of Intercept, in the unit of y
	SlopeU      float64 // of Slope, units of y per unit of x
	R           float64 // correlation of Intercept and Slope, −1 to 1
	ResidualSD  float64 // scatter of single points about the line, in the unit of y
	DF          float64 // degrees of freedom: points less two
	MinX, MaxX  float64 // the points' range, in the unit of x
	MeanX, SumX float64 // mean of the points' x, in its unit, and Σ(x − mean)², in its square
	N           int     // points, count
}

// FitLine returns the straight line through calibration points by least
// squares, such as a meter's correction against what it should have read.
//
//	slope     b = Σ(x − x̄)(y − ȳ)/Σ(x − x̄)²
//	intercept a = ȳ − b·(x̄ − x_0)
//	s² = Σ(y − a − b·(x − x_0))²/(n − 2)
//	u²(b) = s²/Σ(x − x̄)², u²(a) = s²/n + (x̄ − x_0)²·u²(b)
//	r(a, b) = −(x̄ − x_0)·u(b)/u(a)
//
//	x, y  x, y  any units, within ±1e15, 3 to 1 000 000 points
//	x_0   x0    unit of x, within ±1e15
//
// Points that all stand at one x are refused; refused fields come in an
// [*InputError].
//
// Source: JCGM 100:2008, H.3.2, equations (H.13).
func FitLine(x0 float64, x, y []float64) (Line, error) {
	bad := fault.Float(nil, "x0", x0, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Int(bad, "x", len(x), 3, MaxReadings, "points")
	if len(x) >= 3 {
		bad = checkReadings(bad, "x", x)
		bad = checkReadings(bad, "y", y)
	}
	if len(x) != len(y) {
		bad = fault.Int(bad, "y", len(y), len(x), len(x), "points")
	}
	if bad != nil {
		return Line{}, fault.Input(bad)
	}
	n := float64(len(x))
	mx, sx := meanSD(x)
	my, _ := meanSD(y)
	l := Line{X0: x0, DF: n - 2, MinX: x[0], MaxX: x[0], MeanX: mx, N: len(x)}
	var sxy float64
	for i := range x {
		sxy += (x[i] - mx) * (y[i] - my)
		l.MinX, l.MaxX = math.Min(l.MinX, x[i]), math.Max(l.MaxX, x[i])
	}
	l.SumX = sx * sx * (n - 1)
	if !(l.SumX > 0) || l.MinX == l.MaxX {
		return Line{}, fault.Input(append(bad, &FieldError{Field: "x", Given: fault.Shortest(x[0]) + " throughout", Min: -MaxMagnitude, Max: MaxMagnitude,
			Why: "points at two places at least make a line"}))
	}
	l.Slope = sxy / l.SumX
	l.Intercept = my - l.Slope*(mx-x0)
	var ss float64
	for i := range x {
		d := (y[i] - my) - l.Slope*(x[i]-mx)
		ss += d * d
	}
	l.ResidualSD = math.Sqrt(ss / l.DF)
	l.SlopeU = l.ResidualSD / math.Sqrt(l.SumX)
	l.InterceptU = math.Hypot(l.ResidualSD/math.Sqrt(n), (mx-x0)*l.SlopeU)
	if l.InterceptU > 0 {
		l.R = -(mx - x0) * l.SlopeU / l.InterceptU
	}
	return l, nil
}

// maxLine is the largest slope, intercept or scatter of a line accepted: over
// all that FitLine makes, and under what overflows in use.
const maxLine = 1e200

// check refuses a Line that FitLine did not make, by the fields that are read.
func (l Line) check() []*FieldError {
	bad := fault.Float(nil, "l.X0", l.X0, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "l.Intercept", l.Intercept, -maxLine, maxLine, "")
	bad = fault.Float(bad, "l.Slope", l.Slope, -maxLine, maxLine, "")
	bad = fault.Float(bad, "l.SlopeU", l.SlopeU, 0, maxLine, "")
	bad = fault.Float(bad, "l.ResidualSD", l.ResidualSD, 0, 10*MaxMagnitude, "")
	bad = fault.Float(bad, "l.DF", l.DF, 0, MaxReadings, "")
	bad = fault.Float(bad, "l.MinX", l.MinX, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "l.MaxX", l.MaxX, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "l.MeanX", l.MeanX, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "l.SumX", l.SumX, math.SmallestNonzeroFloat64, math.MaxFloat64, "")
	return fault.Int(bad, "l.N", l.N, 3, MaxReadings, "points")
}

// spread is the standard uncertainty of the mean of m readings beside the
// line at x, over that of one; m infinite for the line itself.
func (l Line) spread(x, m float64) float64 {
	return math.Hypot(math.Sqrt(1/m+1/float64(l.N)), (x-l.MeanX)/math.Sqrt(l.SumX))
}

// OnLine returns the line's height at x with its uncertainty: what is known of
// the mean of many readings there, not where the next one will fall.
//
//	y = a + b·(x − x_0)
//	u² = s²·(1/n + (x − x̄)²/Σ(x − x̄)²), ν = n − 2
//
//	x  x  unit of the points' x, within ±1e15
//
// Outside the points the answer carries [OutsideLine]. A Line that FitLine
// cannot have made is refused by its fields, in an [*InputError].
//
// Source: JCGM 100:2008, H.3.4, equation (H.15).
func OnLine(l Line, x float64) (Quantity, Notes, error) {
	bad := l.check()
	bad = fault.Float(bad, "x", x, -MaxMagnitude, MaxMagnitude, "")
	if bad != nil {
		return Quantity{}, 0, fault.Input(bad)
	}
	q := Quantity{Value: l.Intercept + l.Slope*(x-l.X0), DF: l.DF, U: l.ResidualSD * l.spread(x, math.Inf(1))}
	var notes Notes
	if x < l.MinX || x > l.MaxX {
		notes |= OutsideLine
	}
	return q, notes, nil
}

// ReadBack returns the x that a mean of fresh readings of y stands for: the
// meter's line used backwards, with the uncertainty of both.
//
//	x = x_0 + (y − a)/b
//	u² = (s/b)²·(1/m + 1/n + (x − x̄)²/Σ(x − x̄)²), ν = n − 2
//
//	y  y         unit of the points' y, within ±1e15
//	m  readings  that y is the mean of, accepted 1 to 1 000 000
//
// First order in the slope's own uncertainty: a line whose slope is not known
// to 1/6 of itself is refused as [*ImpossibleError], its x having no bounds
// worth the name. Outside the points the answer carries [OutsideLine].
//
// Source: ISO 8466-1:1990, 5.3; JCGM 100:2008, 5.1.2.
func ReadBack(l Line, y float64, readings int) (Quantity, Notes, error) {
	bad := l.check()
	bad = fault.Float(bad, "y", y, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Int(bad, "readings", readings, 1, MaxReadings, "readings")
	if bad != nil {
		return Quantity{}, 0, fault.Input(bad)
	}
	steep := math.Abs(l.Slope)
	if steep == 0 {
		// Steep enough for its own uncertainty, for an x within all magnitude
		// and for that x's uncertainty.
		least := max(6.001*l.SlopeU, 2*math.Abs(y-l.Intercept)/MaxMagnitude, l.ResidualSD*math.Hypot(2, 2*MaxMagnitude/math.Sqrt(l.SumX))/1e300, 1e-180)
		return Quantity{}, 0, &ImpossibleError{Quantity: "reading back", Why: "a flat line tells no x",
			Field: "l.Slope", Given: "0", Min: least, Max: maxLine}
	}
	x := l.X0 + (y-l.Intercept)/l.Slope
	if !(math.Abs(x) <= MaxMagnitude) {
		return Quantity{}, 0, fault.Input([]*FieldError{l.beyond(y)})
	}
	q := Quantity{Value: x, DF: l.DF}
	if l.ResidualSD > 0 {
		each := l.spread(x, float64(readings)) / steep
		if q.U = l.ResidualSD * each; math.IsInf(q.U, 1) { // no line of FitLine's
			return Quantity{}, 0, fault.Input([]*FieldError{{Field: "l.ResidualSD", Given: fault.Shortest(l.ResidualSD), Min: 0, Max: 1e300 / each,
				Why: "with so small a slope, x is uncertain beyond all magnitude"}})
		}
	}
	if !(steep > 6*l.SlopeU) {
		return Quantity{}, 0, &ImpossibleError{Quantity: "reading back", Why: "the slope of the line is not known well enough",
			Field: "l.SlopeU", Given: fault.Shortest(l.SlopeU), Min: 0, Max: steep / 6.001}
	}
	var notes Notes
	if x < l.MinX || x > l.MaxX {
		notes |= OutsideLine
	}
	return q, notes, nil
}

// beyond refuses a y whose x is beyond all magnitude, by the range whose x is
// not; or the intercept, where there is none.
func (l Line) beyond(y float64) *FieldError {
	const why = "beyond, x is beyond all magnitude"
	reach := func(m float64) (lo, hi float64) { // of y less the intercept
		a, b := l.Slope*(-m-l.X0), l.Slope*(m-l.X0)
		return math.Min(a, b), math.Max(a, b)
	}
	fits := func(y, intercept float64) bool { return math.Abs(l.X0+(y-intercept)/l.Slope) <= MaxMagnitude }
	lo, hi := reach(MaxMagnitude)
	if !fits(l.Intercept+lo, l.Intercept) || !fits(l.Intercept+hi, l.Intercept) { // by rounding
		lo, hi = reach(MaxMagnitude * (1 - 1e-12))
	}
	least, most := math.Max(l.Intercept+lo, -MaxMagnitude), math.Min(l.Intercept+hi, MaxMagnitude)
	if least <= most && fits(least, l.Intercept) && fits(most, l.Intercept) {
		return &FieldError{Field: "y", Given: fault.Shortest(y), Min: least, Max: most, Why: why}
	}
	lo, hi = reach(MaxMagnitude / 2)
	return &FieldError{Field: "l.Intercept", Given: fault.Shortest(l.Intercept), Min: y - hi, Max: y - lo, Why: why}
}
