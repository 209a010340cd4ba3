package chart

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// The usual settings of the two charts for small shifts.
const (
	// DefaultLambda is the weight of the newest reading, pure number.
	// Montgomery, Introduction to statistical quality control: 0.05 to 0.25
	// work well; memory. NIST/SEMATECH 6.3.2.4: 0.2 to 0.3; quoted.
	DefaultLambda = 0.2

	// DefaultWidth is the distance of the EWMA's lines, in its standard
	// deviations. NIST/SEMATECH e-Handbook, 6.3.2.4; quoted.
	DefaultWidth = 3

	// DefaultSlackSD and DefaultDecisionSD are a CUSUM's k and h, in standard
	// deviations of a point: made for shifts of one, a false call in 465
	// points. Montgomery, Introduction to statistical quality control, ch. 9;
	// memory.
	DefaultSlackSD    = 0.5
	DefaultDecisionSD = 5
)

// A Smooth is the setting of an EWMA chart.
//
// The zero Smooth is refused.
type Smooth struct {
	Target float64 // where the process should be, in the readings' unit
	Sigma  float64 // standard deviation of a single point, same unit
	Lambda float64 // weight of the newest reading, 0.01 to 1
	Width  float64 // distance of the lines, in standard deviations of the average, 0.1 to 10
}

// A SmoothPoint is one point of an EWMA chart, in the readings' unit.
type SmoothPoint struct {
	Value        float64 // the average so far
	Lower, Upper float64 // the lines there
	Out          bool    // Value is beyond a line
}

// EWMA returns the exponentially weighted moving average of readings, which
// sees small lasting shifts sooner than single readings do.
//
//	z_i = λ·x_i + (1 − λ)·z_(i−1), z_0 = target
//	lines: target ± L·σ·√(λ/(2 − λ)·(1 − (1 − λ)^(2i)))
//
//	x  x        any unit, in order of time, 1 to 1 000 000, each within ±1e15
//	σ  s.Sigma  same unit, accepted 1e-300 to 1e15
//	λ  s.Lambda pure number, accepted 0.01 to 1
//	L  s.Width  pure number, accepted 0.1 to 10
//
// Source: Roberts, Technometrics 1, 1959; NIST/SEMATECH e-Handbook, 6.3.2.4.
func EWMA(x []float64, s Smooth) ([]SmoothPoint, error) {
	bad := checkPoints(nil, "x", x, 1)
	bad = fault.Float(bad, "Target", s.Target, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "Sigma", s.Sigma, 1e-300, MaxMagnitude, "")
	bad = fault.Float(bad, "Lambda", s.Lambda, 0.01, 1, "")
	bad = fault.Float(bad, "Width", s.Width, 0.1, 10, "standard deviations")
	if bad != nil {
		return nil, fault.Input(bad)
	}
	list := make([]SmoothPoint, len(x))
	z, left := s.Target, 1.0
	for i, v := range x {
		z += s.Lambda * (v - z)
		left *= (1 - s.Lambda) * (1 - s.Lambda)
		w := s.Width * s.Sigma * math.Sqrt(s.Lambda/(2-s.Lambda)*(1-left))
		list[i] = SmoothPoint{z, s.Target - w, s.Target + w, math.Abs(z-s.Target) > w}
	}
	return list, nil
}

// A Cumulate is the setting of a CUSUM chart. All in the readings' unit.
//
// The zero Cumulate is refused.
type Cumulate struct {
	Target   float64 // where the process should be
	Slack    float64 // k: half of the shift to be found
	Decision float64 // h: a sum beyond it calls
}

// A CumulatePoint is one point of a CUSUM chart, in the readings' unit.
type CumulatePoint struct {
	High, Low float64 // the sums above and below, both never under 0
	Out       bool    // one of them is over the decision interval
	Since     int     // where Out, index of the first reading of that sum: when the shift is likely to have begun; else −1
}

// CUSUM returns the two one-sided cumulative sums of readings, which find a
// small lasting shift soonest and tell when it began.
//
//	S⁺ = max(0, S⁺ + x − T − k), S⁻ = max(0, S⁻ + T − x − k), a call beyond h
//
//	x  x           any unit, in order of time, 1 to 1 000 000, each within ±1e15
//	T  s.Target    same unit, accepted −1e15 to 1e15
//	k  s.Slack     same unit, accepted 0 to 1e15
//	h  s.Decision  same unit, accepted 1e-300 to 1e15
//
// The sums go on after a call; start anew once the cause is mended.
//
// Source: Page, Biometrika 41, 1954; NIST/SEMATECH e-Handbook, 6.3.2.3.
func CUSUM(x []float64, s Cumulate) ([]CumulatePoint, error) {
	bad := checkPoints(nil, "x", x, 1)
	bad = fault.Float(bad, "Target", s.Target, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "Slack", s.Slack, 0, MaxMagnitude, "")
	bad = fault.Float(bad, "Decision", s.Decision, 1e-300, MaxMagnitude, "")
	if bad != nil {
		return nil, fault.Input(bad)
	}
	list := make([]CumulatePoint, len(x))
	high, low := 0.0, 0.0
	var highSince, lowSince int
	for i, v := range x {
		if high == 0 {
			highSince = i
		}
		if low == 0 {
			lowSince = i
		}
		high = math.Max(0, high+(v-s.Target)-s.Slack)
		low = math.Max(0, low+(s.Target-v)-s.Slack)
		p := CumulatePoint{High: high, Low: low, Since: -1}
		switch {
		case high > s.Decision && high >= low:
			p.Out, p.Since = true, highSince
		case low > s.Decision:
			p.Out, p.Since = true, lowSince
		}
		list[i] = p
	}
	return list, nil
}

// Sums returns the plain running sum of deviations from a target: its slope
// is the level, and a bend is a shift.
//
//	S_i = Σ_(j ≤ i) (x_j − T)
//
//	x  x       any unit, in order of time, 1 to 1 000 000, each within ±1e15
//	T  target  same unit, accepted −1e15 to 1e15
//
// Source: definition; Montgomery & Runger, Applied statistics and probability
// for engineers, table 16-7.
func Sums(x []float64, target float64) ([]float64, error) {
	bad := checkPoints(nil, "x", x, 1)
	bad = fault.Float(bad, "target", target, -MaxMagnitude, MaxMagnitude, "")
	if bad != nil {
		return nil, fault.Input(bad)
	}
	list := make([]float64, len(x))
	s := 0.0
	for i, v := range x {
		s += v - target
		list[i] = s
	}
	return list, nil
}
