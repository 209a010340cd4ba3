package uncertainty

import (
	"errors"
	"math"
	"testing"
)

// The mean moves by b·u² and the uncertainty not at all for x + b·x² − b²·x³/3
// about zero, where the second-order terms of a normal cancel: 2·b² − 6·b²/3.
// Curved is said where the mean moves by more than a quarter of u.
func TestCurvedByShiftAlone(t *testing.T) {
	for _, u := range []float64{1e-3, 1, 50} {
		for _, c := range []struct {
			share float64 // shift over u
			want  Notes
		}{{0.2, 0}, {0.2495, 0}, {-0.2495, 0}, {0.2505, Curved}, {-0.2505, Curved}, {0.3, Curved}} {
			b := c.share / u
			r, err := Propagate(func(x []float64) float64 { return x[0] + b*x[0]*x[0] - b*b*x[0]*x[0]*x[0]/3 }, []Quantity{{U: u}})
			if err != nil || r.Notes != c.want || !near(r.Shift, c.share*u, 1e-9) || !near(r.U, u, 1e-4) || !near(r.SecondU, u, 1e-4) {
				t.Errorf("u %v, shift %v of it: %+v, %v", u, c.share, r, err)
			}
		}
	}
	// For x − x³/6 they are −u⁴, so that over u = 1 nothing is left of u².
	r, err := Propagate(func(x []float64) float64 { return x[0] - x[0]*x[0]*x[0]/6 }, []Quantity{{U: 1.1}})
	if err != nil || r.SecondU != 0 || r.Notes != Curved || !near(r.U, 1.1, 1e-3) {
		t.Errorf("%+v, %v", r, err)
	}
}

// The square of a curved trapezoid about zero has the variance (κ − 1)·u⁴. κ by
// a plain sum: a rectangle of half-width a has a²/3 and a⁴/5 for its moments, and
// a is anything between 1 − e and 1 + e.
func TestKurtosisOfInexactLimits(t *testing.T) {
	for _, e := range []float64{0, 0.25, 0.5, 0.9, 1} {
		const n = 20000
		m2, m4 := 0.0, 0.0
		for i := range n {
			a := 1 - e + 2*e*(float64(i)+0.5)/n
			m2 += a * a / 3 / n
			m4 += a * a * a * a / 5 / n
		}
		q, err1 := FromInexactLimits(0, 2, 2*e)
		r, err2 := Propagate(func(x []float64) float64 { return x[0] * x[0] }, []Quantity{q})
		if err1 != nil || err2 != nil || !near(q.U, 2*math.Sqrt(m2), 1e-8) || !near(r.SecondU, math.Sqrt(m4/(m2*m2)-1)*q.U*q.U, 1e-7) {
			t.Errorf("edge %v: %+v, %+v, kurtosis %v; %v %v", e, q, r, m4/(m2*m2), err1, err2)
		}
	}
}

// A formula too steep for its uncertainty to be a number has none.
func TestUncertaintyOverflows(t *testing.T) {
	var no *ImpossibleError
	for name, c := range map[string]struct {
		f  Model
		in []Quantity
	}{
		"first order":    {func(x []float64) float64 { return 1e300 * x[0] }, []Quantity{{U: 3e8}}},
		"second order":   {func(x []float64) float64 { return 1e160 * x[0] * x[0] }, []Quantity{{U: 1}}},
		"third order":    {func(x []float64) float64 { return 1e160 * x[0] * x[0] * x[0] }, []Quantity{{U: 1}}},
		"of a product":   {func(x []float64) float64 { return 1e160 * x[0] * x[1] }, []Quantity{{U: 1}, {U: 1}}},
		"of x²·z":        {func(x []float64) float64 { return 1e160 * x[0] * x[0] * x[1] }, []Quantity{{U: 1}, {U: 1}}},
		"of x·z²":        {func(x []float64) float64 { return 1e160 * x[0] * x[1] * x[1] }, []Quantity{{U: 1}, {U: 1}}},
		"of a far value": {func(x []float64) float64 { return 1e308 + 1e308*x[0] }, []Quantity{{U: 1.7}}},
	} {
		if r, err := Propagate(c.f, c.in); !errors.As(err, &no) || no.Quantity != "uncertainty" || r.Budget != nil {
			t.Errorf("%s: %+v, %v", name, r, err)
		}
	}
	// A square may vanish or overflow where the uncertainty itself does not.
	for _, u := range []float64{1e-290, 1e-170, 1e-160, 1, 1e150, 1e160, 1e250} {
		r, err := Propagate(func(x []float64) float64 { return u * x[0] }, []Quantity{{U: 1}})
		if err != nil || !near(r.U, u, 1e-9) || !near(r.SecondU, u, 1e-9) || r.Notes != 0 {
			t.Errorf("%v: %+v, %v", u, r, err)
		}
	}
	r, err := Propagate(func(x []float64) float64 { return 1e150 * (x[0] + x[1]) }, []Quantity{{U: 1e10}, {U: 1e10}})
	if err != nil || !near(r.U, math.Sqrt2*1e160, 1e-9) || !near(r.SecondU, math.Sqrt2*1e160, 1e-9) {
		t.Errorf("%+v, %v", r, err)
	}
}

// Degrees of freedom of a scatter that there is not say nothing.
func TestNoScatterNoDegrees(t *testing.T) {
	for _, m := range []Meter{{Value: 3, Division: 0.1}, {Value: 3, Accuracy: 0.1}, {Value: 3, Division: 0.1, Accuracy: 0.2, CalibrationU: 0.1, CalibrationK: 2}} {
		with := m
		with.RepeatabilityDF, with.Readings = 7, 5
		a, err1 := Measured(m)
		b, err2 := Measured(with)
		if err1 != nil || err2 != nil || a != b || a.Quantity.DF != 0 {
			t.Errorf("%+v and %+v, %v %v", a, b, err1, err2)
		}
	}
	// A scatter of unknown degrees gives none either.
	if m, err := Measured(Meter{RepeatabilitySD: 1, Readings: 4}); err != nil || m.Quantity != (Quantity{U: 0.5}) {
		t.Errorf("%+v, %v", m, err)
	}
	// A correlation of nothing is allowed between any shapes.
	if _, err := Simulate(yield, []Quantity{{Value: 1, U: 0.1, Shape: Rectangular}, {Value: 1, U: 0.1}, {Value: 5}}, Plan{CoveragePct: 95, Digits: 1, MaxDraws: 2 * Batch}, Correlation{0, 1, 0}); err != nil {
		t.Error(err)
	}
}
