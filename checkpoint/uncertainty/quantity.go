package uncertainty

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The accepted ranges.
const (
	MaxMagnitude = 1e15 // largest value or uncertainty accepted, in its unit
	MaxInputs    = 64   // inputs of one model, count
	MaxReadings  = 1e6  // readings of one quantity, count
)

// A Shape is how the possible values lie around the best one. It matters to
// Simulate, and a little to the second-order terms of Propagate. The zero
// Shape is Normal.
type Shape uint8

// The shapes.
const (
	Normal          Shape = iota // bell: certificates, means of many readings
	Rectangular                  // anywhere between two limits alike: a display's last digit, a stated tolerance
	Triangular                   // between two limits, the middle more likely: a careful filling to a mark
	Arcsine                      // between two limits, the ends more likely: a temperature that cycles
	Student                      // mean of DF+1 readings: longer tails than Normal
	CurvedTrapezoid              // between two limits that are themselves inexact by Edge
	shapes
)

// String is the shape's name.
func (s Shape) String() string {
	names := [...]string{"normal", "rectangular", "triangular", "arcsine", "Student's t", "curved trapezoid"}
	if s < shapes {
		return names[s]
	}
	return "no shape"
}

// A Quantity is a value and what is known of its uncertainty.
//
// The zero Quantity is an exact zero. An exact constant has only a Value.
type Quantity struct {
	Value float64 // in any unit
	U     float64 // standard uncertainty, same unit; for Student the scale s/√n
	DF    float64 // degrees of freedom of U, 1 or more; 0 and +Inf mean that U is known
	Shape Shape
	Edge  float64 // of CurvedTrapezoid: by how much of the half-width each limit may be off, 0 to 1; else 0
}

// df is DF with 0 read as infinite.
func (q Quantity) df() float64 {
	if q.DF == 0 {
		return math.Inf(1)
	}
	return q.DF
}

// check appends what is wrong with a quantity.
func (q Quantity) check(bad []*FieldError, name string) []*FieldError {
	bad = fault.Float(bad, name+"Value", q.Value, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, name+"U", q.U, 0, MaxMagnitude, "")
	if q.DF != 0 {
		bad = fault.Float(bad, name+"DF", q.DF, 1, math.Inf(1), "")
	}
	if q.Shape >= shapes {
		bad = append(bad, &FieldError{Field: name + "Shape", Given: strconv.Itoa(int(q.Shape)), Min: 0, Max: float64(shapes) - 1})
	}
	if q.Shape == Student && math.IsInf(q.df(), 1) {
		bad = append(bad, &FieldError{Field: name + "DF", Given: fault.Shortest(q.DF), Min: 1, Max: 1e6, Why: "a Student's t needs its degrees of freedom; without any it is Normal"})
	}
	edge := 0.0
	if q.Shape == CurvedTrapezoid {
		edge = 1
	}
	return fault.Float(bad, name+"Edge", q.Edge, 0, edge, "")
}

// FromHalfWidth returns the quantity that lies within value ± halfWidth.
//
//	u = a/√3 rectangular, a/√6 triangular, a/√2 arcsine
//
//	a  halfWidth  any unit, accepted 0 to 1e15
//	u  Quantity.U same unit
//
// Shapes without two limits are refused, with every other refused field, in
// an [*InputError].
//
// Source: JCGM 100:2008, 4.3.7 and 4.3.9; JCGM 101:2008, 6.4.6.
func FromHalfWidth(value, halfWidth float64, shape Shape) (Quantity, error) {
	bad := fault.Float(nil, "value", value, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "halfWidth", halfWidth, 0, MaxMagnitude, "")
	var by float64
	switch shape {
	case Rectangular:
		by = 3
	case Triangular:
		by = 6
	case Arcsine:
		by = 2
	default:
		bad = append(bad, &FieldError{Field: "shape", Given: shape.String(), Min: float64(Rectangular), Max: float64(Arcsine),
			Why: "only rectangular, triangular and arcsine have two exact limits"})
	}
	if bad != nil {
		return Quantity{}, fault.Input(bad)
	}
	return Quantity{Value: value, U: halfWidth / math.Sqrt(by), Shape: shape}, nil
}

// FromInexactLimits returns the quantity that lies within value ± halfWidth,
// where each limit is itself known only to ± inexact.
//
//	u² = a²/3 + d²/9
//
//	a  halfWidth  any unit, accepted 1e-300 to 1e15
//	d  inexact    same unit, accepted 0 to a
//	u  Quantity.U same unit
//
// Source: JCGM 101:2008, 6.4.3.
func FromInexactLimits(value, halfWidth, inexact float64) (Quantity, error) {
	bad := fault.Float(nil, "value", value, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "halfWidth", halfWidth, 1e-300, MaxMagnitude, "")
	bad = fault.Float(bad, "inexact", inexact, 0, math.Max(0, math.Min(halfWidth, MaxMagnitude)), "")
	if bad != nil {
		return Quantity{}, fault.Input(bad)
	}
	edge := inexact / halfWidth
	return Quantity{Value: value, U: halfWidth * math.Sqrt(1.0/3+edge*edge/9), Shape: CurvedTrapezoid, Edge: edge}, nil
}

// FromCertificate returns the quantity that a certificate gives as value ±
// expandedU with a coverage factor.
//
//	u = U/k
//
//	U  expandedU  any unit, accepted 0 to 1e15
//	k  k          pure number, accepted 1 to 64
//
// A certificate that names degrees of freedom or a confidence instead of k:
// take k from [CoverageFactor].
//
// Source: JCGM 100:2008, 4.3.3.
func FromCertificate(value, expandedU, k float64) (Quantity, error) {
	bad := fault.Float(nil, "value", value, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "expandedU", expandedU, 0, MaxMagnitude, "")
	bad = fault.Float(bad, "k", k, 1, 64, "")
	if bad != nil {
		return Quantity{}, fault.Input(bad)
	}
	return Quantity{Value: value, U: expandedU / k}, nil
}

// FromReadings returns the mean of readings taken alike, with the uncertainty
// that their own scatter gives.
//
//	y = Σx/n, s² = Σ(x − y)²/(n − 1), u = s/√n, ν = n − 1
//
//	x  readings     any unit, 2 to 1 000 000 of them, each within ±1e15
//	u  Quantity.U   same unit
//	ν  Quantity.DF
//
// The readings must be independent: ten presses on one filled cell repeat the
// display, not the sampling. Refused fields come in an [*InputError].
//
// Source: JCGM 100:2008, 4.2.
func FromReadings(readings []float64) (Quantity, error) {
	if bad := checkReadings(nil, "readings", readings); bad != nil {
		return Quantity{}, fault.Input(bad)
	}
	mean, s := meanSD(readings)
	n := float64(len(readings))
	return Quantity{Value: mean, U: s / math.Sqrt(n), DF: n - 1, Shape: Student}, nil
}

func checkReadings(bad []*FieldError, name string, x []float64) []*FieldError {
	bad = fault.Int(bad, name, len(x), 2, MaxReadings, "readings")
	for i, v := range x {
		if !(math.Abs(v) <= MaxMagnitude) { // the name is made only where it is needed
			bad = fault.Float(bad, name+"["+strconv.Itoa(i)+"]", v, -MaxMagnitude, MaxMagnitude, "")
		}
	}
	return bad
}

// meanSD is computed in two passes, so that a large mean costs no digits.
func meanSD(x []float64) (mean, sd float64) {
	n := float64(len(x))
	for _, v := range x {
		mean += v - x[0]
	}
	mean = x[0] + mean/n
	ss := 0.0
	for _, v := range x {
		d := v - mean
		ss += d * d
	}
	return mean, math.Sqrt(ss / (n - 1))
}

// MeansR returns the correlation of the means of two quantities that were read
// together, pair by pair; it is that of the readings.
//
//	r = Σ(x − x̄)(y − ȳ)/√(Σ(x − x̄)²·Σ(y − ȳ)²)
//
//	x, y  x, y  any units, as many of the one as of the other, 2 to 1 000 000
//	r           −1 to 1; 0 where one of them never moved
//
// Source: JCGM 100:2008, 5.2.3.
func MeansR(x, y []float64) (float64, error) {
	bad := checkReadings(nil, "x", x)
	bad = checkReadings(bad, "y", y)
	if len(x) != len(y) {
		bad = fault.Int(bad, "y", len(y), len(x), len(x), "readings")
	}
	if bad != nil {
		return 0, fault.Input(bad)
	}
	mx, _ := meanSD(x)
	my, _ := meanSD(y)
	var sx, sy, sxy float64
	for i := range x {
		dx, dy := x[i]-mx, y[i]-my
		sx += dx * dx
		sy += dy * dy
		sxy += dx * dy
	}
	if sx == 0 || sy == 0 {
		return 0, nil
	}
	return math.Max(-1, math.Min(1, sxy/(math.Sqrt(sx)*math.Sqrt(sy)))), nil
}

// A Meter is one reading, or the mean of a few, and what is known about the
// instrument and its use. What is unknown stays zero and counts nothing.
//
// The zero Meter is refused: a reading without any uncertainty is a Quantity,
// and to say so is the caller's business.
type Meter struct {
	Value            float64 // the reading, or the mean of Readings of them, in any unit
	Division         float64 // the display's step, same unit
	Readings         int     // how many readings Value is the mean of; at least 1 where RepeatabilitySD is given
	RepeatabilitySD  float64 // standard deviation of single readings, same unit
	RepeatabilityDF  float64 // its degrees of freedom; 0 where it is taken as known
	Accuracy         float64 // half-width that the maker states or a class allows, same unit
	CalibrationU     float64 // expanded uncertainty of the calibration, same unit
	CalibrationK     float64 // its coverage factor; needed where CalibrationU is given
	CalibrationError float64 // what the calibration found the meter to read too high, same unit; taken off the value
}

// A Measurement is what Measured made of a reading, with its parts.
type Measurement struct {
	Quantity       Quantity
	ResolutionU    float64 // standard uncertainty from the display's step, in the reading's unit
	RepeatabilityU float64 // from the scatter of readings, same unit
	AccuracyU      float64 // from the maker's tolerance, same unit
	CalibrationU   float64 // from the calibration, same unit
}

// Measured returns a reading with the uncertainty of its parts together.
//
//	u² = d²/12 + s²/n + a²/3 + (U/k)²
//	ν  = u⁴/((s/√n)⁴/ν_s)
//
//	d     m.Division         any unit, accepted 0 to 1e15
//	s     m.RepeatabilitySD  same unit, accepted 0 to 1e15; ν_s m.RepeatabilityDF
//	n     m.Readings         accepted 1 to 1 000 000
//	a     m.Accuracy         same unit, rectangular
//	U, k  m.CalibrationU, m.CalibrationK  k accepted 1 to 64
//	u, ν  Quantity.U, Quantity.DF
//
// Averaging lessens the scatter only: the display's step, where the scatter is
// smaller than it, the tolerance and the calibration are the same in every
// reading. A scatter seen through the display already holds its step; both
// are counted, which errs to the safe side.
//
// Source: JCGM 100:2008, 4.3.3, 4.3.7, 5.1.2, F.2.2.1 and G.4.1.
func Measured(m Meter) (Measurement, error) {
	var bad []*FieldError
	bad = fault.Float(bad, "Value", m.Value, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "Division", m.Division, 0, MaxMagnitude, "")
	least := 0
	if m.RepeatabilitySD != 0 {
		least = 1
	}
	bad = fault.Int(bad, "Readings", m.Readings, least, MaxReadings, "readings")
	bad = fault.Float(bad, "RepeatabilitySD", m.RepeatabilitySD, 0, MaxMagnitude, "")
	if m.RepeatabilityDF != 0 {
		bad = fault.Float(bad, "RepeatabilityDF", m.RepeatabilityDF, 1, math.Inf(1), "")
	}
	bad = fault.Float(bad, "Accuracy", m.Accuracy, 0, MaxMagnitude, "")
	bad = fault.Float(bad, "CalibrationU", m.CalibrationU, 0, MaxMagnitude, "")
	if m.CalibrationU != 0 || m.CalibrationK != 0 {
		bad = fault.Float(bad, "CalibrationK", m.CalibrationK, 1, 64, "")
	}
	bad = fault.Float(bad, "CalibrationError", m.CalibrationError, -MaxMagnitude, MaxMagnitude, "")
	if bad == nil && m.Division == 0 && m.RepeatabilitySD == 0 && m.Accuracy == 0 && m.CalibrationU == 0 {
		bad = append(bad, &FieldError{Field: "Division", Given: "0", Min: math.SmallestNonzeroFloat64, Max: MaxMagnitude,
			Why: "nothing is said of the meter; give its step, scatter, tolerance or calibration"})
	}
	if bad != nil {
		return Measurement{}, fault.Input(bad)
	}
	out := Measurement{
		ResolutionU: m.Division / math.Sqrt(12),
		AccuracyU:   m.Accuracy / math.Sqrt(3),
	}
	if m.RepeatabilitySD != 0 {
		out.RepeatabilityU = m.RepeatabilitySD / math.Sqrt(float64(m.Readings))
	}
	if m.CalibrationU != 0 {
		out.CalibrationU = m.CalibrationU / m.CalibrationK
	}
	u := math.Hypot(math.Hypot(out.ResolutionU, out.RepeatabilityU), math.Hypot(out.AccuracyU, out.CalibrationU))
	q := Quantity{Value: m.Value - m.CalibrationError, U: u}
	if m.RepeatabilityDF != 0 && out.RepeatabilityU > 0 {
		share := out.RepeatabilityU / u
		q.DF = m.RepeatabilityDF / (share * share * share * share)
	}
	if out.RepeatabilityU == 0 && out.CalibrationU == 0 && (m.Division == 0 || m.Accuracy == 0) {
		q.Shape = Rectangular
	}
	out.Quantity = q
	return out, nil
}

// CoverageFactor returns the k by which a standard uncertainty is multiplied
// for an interval that holds a stated share of what is possible.
//
//	k = t((1 + p)/2, ν)
//
//	p  coveragePct/100  %, accepted 50 to 99.99
//	ν  df               accepted 1 to +Inf; 0 means +Inf
//
// Source: JCGM 100:2008, G.3.
func CoverageFactor(coveragePct, df float64) (float64, error) {
	bad := fault.Float(nil, "coveragePct", coveragePct, 50, 99.99, "%")
	if df == 0 {
		df = math.Inf(1)
	}
	bad = fault.Float(bad, "df", df, 1, math.Inf(1), "")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return -num.StudentQuantile((1-coveragePct/100)/2, df), nil
}
