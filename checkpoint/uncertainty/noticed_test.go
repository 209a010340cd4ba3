package uncertainty

import (
	"math"
	"testing"
)

// A slope that is known to a sixth of itself is not enough, and a little
// better is.
func TestSlopeKnownToASixth(t *testing.T) {
	for _, slope := range []float64{6.001, 6.5, -6.001, -6.5} {
		if q, _, err := ReadBack(Line{Slope: slope, SlopeU: 1, ResidualSD: 2, SumX: 4, N: 4, DF: 2, MaxX: 1}, slope/2, 1); err != nil || !near(q.Value, 0.5, 1e-12) ||
			!near(q.U, 2/math.Abs(slope)*math.Sqrt(1+0.25+0.0625), 1e-12) {
			t.Errorf("%v: %+v, %v", slope, q, err)
		}
	}
	for _, slope := range []float64{6, 5.999, -6, 0} {
		if q, _, err := ReadBack(Line{Slope: slope, SlopeU: 1, SumX: 4, N: 4}, 1, 1); err == nil {
			t.Errorf("%v: %+v", slope, q)
		}
	}
}

// Rounding carries no correlation beyond ±1, of a result with itself or with
// its opposite.
func TestCorrelationEndsAtOne(t *testing.T) {
	for k := range 200 {
		a, b, c := 1+float64(k)/7, 3-float64(k)/11, math.Sqrt(float64(k+1))
		f := func(x []float64) float64 { return a*x[0] + b*x[1] - c*x[2] }
		g := func(x []float64) float64 { return -f(x) }
		in := []Quantity{{Value: 1, U: 0.1}, {Value: 2, U: 0.3}, {Value: 5, U: 0.7}}
		same, err1 := OutputR(f, f, in)
		opposite, err2 := OutputR(f, g, in)
		if err1 != nil || err2 != nil || !(same <= 1 && same >= 1-1e-12) || !(opposite >= -1 && opposite <= -1+1e-12) {
			t.Fatalf("%v %v %v: %v and %v; %v %v", a, b, c, same, opposite, err1, err2)
		}
	}
}

// A model is asked once for its value, eight times beside it for each input
// that is uncertain, and four times for each pair of them: never for an exact
// one.
func TestExactInputsAskNothing(t *testing.T) {
	in := make([]Quantity, 7)
	for i := range in {
		in[i].Value = float64(i)
	}
	for k := range in {
		if k > 0 {
			in[(3*k)%7].U = 0.5
		}
		asked := 0
		if _, err := Propagate(func(x []float64) float64 { asked++; return x[0] * x[1] }, in); err != nil || asked != 1+8*k+2*k*(k-1) {
			t.Errorf("%d uncertain: asked %d times, %v", k, asked, err)
		}
	}
}

// An end of the interval that falls now here and now there keeps a run from
// settling by itself, whichever end it is: a twentieth of the draws lie far out,
// and the 5 % end is the last of them or the first of the others.
func TestEitherEndMustSettle(t *testing.T) {
	plan := Plan{CoveragePct: 90, Digits: 2, MaxDraws: 20 * Batch}
	far := func(x float64) float64 {
		if x < -0.9 {
			return -10
		}
		return x
	}
	in := []Quantity{{U: 1 / math.Sqrt(3), Shape: Rectangular}}
	low, err1 := Simulate(func(x []float64) float64 { return far(x[0]) }, in, plan)
	high, err2 := Simulate(func(x []float64) float64 { return -far(x[0]) }, in, plan)
	if err1 != nil || err2 != nil || low.Notes != NotSettled || high.Notes != NotSettled || low.Draws != 20*Batch || high.Draws != 20*Batch {
		t.Errorf("%v of %d draws, %v of %d; %v %v", low.Notes, low.Draws, high.Notes, high.Draws, err1, err2)
	}
	// The one is the other's mirror image.
	if !near(low.Lo, -high.Hi, 1e-9) || !near(low.Hi, -high.Lo, 1e-9) || !near(low.Mean, -high.Mean, 1e-9) || !near(low.U, high.U, 1e-9) {
		t.Errorf("%+v and %+v", low, high)
	}
}

// No batch is begun that would pass the most draws allowed; and only what is
// drawn as Student's t has a spread without end.
func TestDrawsEndInTime(t *testing.T) {
	same := func(x []float64) float64 { return x[0] }
	for most, want := range map[int]int{20000: 20000, 29999: 20000, 30000: 30000, 30001: 30000, 39999: 30000} {
		s, err := Simulate(same, []Quantity{{U: 1, DF: 1, Shape: Student}}, Plan{CoveragePct: 50, Digits: 1, MaxDraws: most})
		if err != nil || s.Draws != want || s.Notes != NotSettled {
			t.Errorf("at most %d: %d, %v, %v", most, s.Draws, s.Notes, err)
		}
	}
	for _, q := range []Quantity{{U: 1, DF: 1}, {U: 1, DF: 2}, {Value: 1, DF: 1, Shape: Student}} {
		s, err := Simulate(func(x []float64) float64 { return x[0] + x[1] }, []Quantity{q, {U: 1}}, Plan{CoveragePct: 50, Digits: 1, MaxDraws: 1e6})
		if err != nil || s.Notes != 0 {
			t.Errorf("%+v: %v, %v", q, s.Notes, err)
		}
	}
}
