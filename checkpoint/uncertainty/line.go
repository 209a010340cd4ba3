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

// check refuses a Line that FitLine did not make.
func (l Line) check() []*FieldError {
	bad := fault.Float(nil, "l.SumX", l.SumX, math.SmallestNonzeroFloat64, math.MaxFloat64, "")
	return fault.Int(bad, "l.N", l.N, 3, MaxReadings, "points")
}

// OnLine returns the line's height at x with its uncertainty: what is known of
// the mean of many readings there, not where the next one will fall.
//
//	y = a + b·(x − x_0)
//	u² = s²·(1/n + (x − x̄)²/Σ(x − x̄)²), ν = n − 2
//
//	x  x  unit of the points' x, within ±1e15
//
// Outside the points the answer carries [OutsideLine].
//
// Source: JCGM 100:2008, H.3.4, equation (H.15).
func OnLine(l Line, x float64) (Quantity, Notes, error) {
	bad := l.check()
	bad = fault.Float(bad, "x", x, -MaxMagnitude, MaxMagnitude, "")
	if bad != nil {
		return Quantity{}, 0, fault.Input(bad)
	}
	d := x - l.MeanX
	q := Quantity{Value: l.Intercept + l.Slope*(x-l.X0), DF: l.DF,
		U: l.ResidualSD * math.Sqrt(1/float64(l.N)+d*d/l.SumX)}
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
	if !(math.Abs(l.Slope) > 6*l.SlopeU) {
		return Quantity{}, 0, &ImpossibleError{Quantity: "reading back", Why: "the slope of the line is not known well enough",
			Field: "l.SlopeU", Given: fault.Shortest(l.SlopeU), Min: 0, Max: math.Abs(l.Slope) / 6}
	}
	x := l.X0 + (y-l.Intercept)/l.Slope
	d := x - l.MeanX
	q := Quantity{Value: x, DF: l.DF,
		U: l.ResidualSD / math.Abs(l.Slope) * math.Sqrt(1/float64(readings)+1/float64(l.N)+d*d/l.SumX)}
	if !(math.Abs(x) <= MaxMagnitude) {
		return Quantity{}, 0, fault.Input(fault.Float(nil, "y", y, l.Intercept, l.Intercept, ""))
	}
	var notes Notes
	if x < l.MinX || x > l.MaxX {
		notes |= OutsideLine
	}
	return q, notes, nil
}
