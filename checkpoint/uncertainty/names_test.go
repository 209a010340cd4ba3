package uncertainty

import (
	"errors"
	"math"
	"testing"
)

// What a refusal names: the input, what was given, both ends and the reason.
func TestWhatARefusalNames(t *testing.T) {
	one := func(_ any, err error) error { return err }
	three := func(_, _ any, err error) error { return err }
	ok := []float64{1, 2, 3}
	in := yieldInputs()
	plan := func(change func(*Plan)) error {
		p := Plan{CoveragePct: 95, Digits: 2, MaxDraws: 2 * Batch}
		change(&p)
		return one(Simulate(yield, in, p))
	}
	with := func(q Quantity) error { return one(Propagate(yield, []Quantity{in[0], q, in[2]})) }
	root := func(x []float64) float64 { return math.Sqrt(x[0]) }
	steep := Line{Slope: 1e-3, SlopeU: 1e-9, SumX: 2, N: 3, MaxX: 2, MeanX: 1, DF: 1}
	for _, c := range []struct {
		err  error
		want string
	}{
		{one(FromHalfWidth(1, 1, Normal)), "shape is normal; accepted: 1 to 3 (only rectangular, triangular and arcsine have two exact limits)"},
		{one(FromHalfWidth(1, 1, 6)), "shape is no shape; accepted: 1 to 3 (only rectangular, triangular and arcsine have two exact limits)"},
		{one(FromInexactLimits(1, 2, 3)), "inexact is 3; accepted: 0 to 2"},
		{one(FromInexactLimits(1, -2, 3)), "halfWidth is -2; accepted: 1e-300 to 1e+15; inexact is 3; accepted: 0 to 0"},
		{one(FromInexactLimits(1, 2e15, 3e15)), "halfWidth is 2e+15; accepted: 1e-300 to 1e+15; inexact is 3e+15; accepted: 0 to 1e+15"},
		{one(FromReadings([]float64{1, -2e15, 2e15})), "readings[1] is -2e+15; accepted: -1e+15 to 1e+15; readings[2] is 2e+15; accepted: -1e+15 to 1e+15"},
		{one(MeansR(ok, ok[:2])), "y is 2 readings; accepted: 3 to 3 readings"},
		{one(Measured(Meter{Value: 1})), "Division is 0; accepted: 5e-324 to 1e+15 (nothing is said of the meter; give its step, scatter, tolerance or calibration)"},
		{one(Measured(Meter{RepeatabilitySD: 1, RepeatabilityDF: 0.5, Readings: 0})), "Readings is 0 readings; accepted: 1 to 1000000 readings; RepeatabilityDF is 0.5; accepted: 1 or more"},
		{one(Measured(Meter{Division: 1, Readings: -1, CalibrationK: 0.5})), "Readings is -1 readings; accepted: 0 to 1000000 readings; CalibrationK is 0.5; accepted: 1 to 64"},
		{one(CoverageFactor(95, 0.5)), "df is 0.5; accepted: 1 or more"},

		{one(Propagate(nil, in)), "f is nil; accepted: 1 to 1 (there is no model)"},
		{one(Propagate(yield, nil)), "inputs is 0 inputs; accepted: 1 to 64 inputs"},
		{with(Quantity{Value: 1, U: 1, DF: 0.5}), "inputs[1].DF is 0.5; accepted: 1 or more"},
		{with(Quantity{Value: 1, U: 1, Shape: 6}), "inputs[1].Shape is 6; accepted: 0 to 5"},
		{with(Quantity{Value: 1, U: 1, Shape: Student}), "inputs[1].DF is 0; accepted: 1 to 1000000 (a Student's t needs its degrees of freedom; without any it is Normal)"},
		{with(Quantity{Value: 1, U: 1, Edge: 0.1}), "inputs[1].Edge is 0.1; accepted: 0 to 0"},
		{with(Quantity{Value: 1, U: 1, Edge: 1.1, Shape: CurvedTrapezoid}), "inputs[1].Edge is 1.1; accepted: 0 to 1"},
		{with(Quantity{Value: -2e15}), "inputs[1].Value is -2e+15; accepted: -1e+15 to 1e+15"},
		{with(Quantity{Value: 2e15}), "inputs[1].Value is 2e+15; accepted: -1e+15 to 1e+15"},
		{one(Propagate(yield, in, Correlation{-1, 3, 1.5})), "correlations[0].I is -1; accepted: 0 to 2; correlations[0].J is 3; accepted: 0 to 2; correlations[0].R is 1.5; accepted: -1 to 1"},
		{one(Propagate(yield, in, Correlation{3, -1, -1.5})), "correlations[0].I is 3; accepted: 0 to 2; correlations[0].J is -1; accepted: 0 to 2; correlations[0].R is -1.5; accepted: -1 to 1"},
		{one(Propagate(yield, in, Correlation{1, 1, 0})), "correlations[0].J is 1; accepted: 0 to 2 (each pair of different inputs once)"},
		{one(Propagate(yield, in, Correlation{0, 1, 0}, Correlation{0, 1, 0})), "correlations[1].J is 1; accepted: 0 to 2 (each pair of different inputs once)"},
		{one(Propagate(yield, in, Correlation{0, 1, 0}, Correlation{1, 0, 0})), "correlations[1].J is 0; accepted: 0 to 2 (each pair of different inputs once)"},
		{one(Propagate(yield, in, Correlation{0, 1, 1}, Correlation{1, 2, 1}, Correlation{0, 2, -1})),
			"correlations is 3 coefficients; accepted: -1 to 1 (no set of inputs can be correlated in this way; two that both follow a third also follow each other)"},
		{one(Propagate(root, []Quantity{{Value: -1, U: 0.1}})),
			"f is NaN; accepted: -1.7976931348623157e+308 to 1.7976931348623157e+308 (the formula has no finite value at the inputs)"},
		{one(Propagate(func(x []float64) float64 { return x[0] + math.Sqrt(x[1]) }, []Quantity{{Value: 1, U: 1}, {Value: 0.1, U: 0.4}})),
			"no uncertainty: the formula has no finite value within half a standard uncertainty of the inputs; inputs[1].U is 0.4, possible with 0 to 0.2"},

		{plan(func(p *Plan) { p.MinDraws, p.MaxDraws = 30000, 20000 }), "MaxDraws is 20000 draws; accepted: 30000 to 1000000000 draws"},
		{plan(func(p *Plan) { p.MinDraws, p.MaxDraws = 25000, 25000 }), "MaxDraws is 25000 draws; accepted: 30000 to 1000000000 draws"},
		{plan(func(p *Plan) { p.MaxDraws = 19999 }), "MaxDraws is 19999 draws; accepted: 20000 to 1000000000 draws"},
		{plan(func(p *Plan) { p.MinDraws = 2e9 }), "MinDraws is 2000000000 draws; accepted: 0 to 1000000000 draws; MaxDraws is 20000 draws; accepted: 1000000000 to 1000000000 draws"},
		{plan(func(p *Plan) { p.Lo, p.Hi = inf, inf }), "Lo is +Inf; accepted: 1e+15 or less"},
		{plan(func(p *Plan) { p.Lo, p.Hi = 2, 1 }), "Hi is 1; accepted: 2 or more"},
		{one(Simulate(yield, []Quantity{in[0], {Value: 1, U: 1, Shape: Rectangular}, in[2]}, Plan{CoveragePct: 95, Digits: 2, MaxDraws: 2 * Batch}, Correlation{0, 2, 0.5}, Correlation{0, 1, 0.5})),
			"correlations[1] is 0.5; accepted: 0 to 0 (only Normal inputs can be drawn together)"},
		{one(Simulate(root, []Quantity{{Value: 0, U: 1}}, Plan{CoveragePct: 95, Digits: 1, MaxDraws: 2 * Batch})),
			"no simulation: the formula has no finite value at some of the draws; inputs[0].U is 1, possible with 0 to 0"},

		{one(FitLine(0, []float64{2, 2, 2}, ok)), "x is 2 throughout; accepted: -1e+15 to 1e+15 (points at two places at least make a line)"},
		{one(FitLine(0, []float64{0.1, 0.1, 0.1}, ok)), "x is 0.1 throughout; accepted: -1e+15 to 1e+15 (points at two places at least make a line)"},
		{one(FitLine(0, []float64{0, 1e-200, 0}, ok)), "x is 0 throughout; accepted: -1e+15 to 1e+15 (points at two places at least make a line)"},
		{one(FitLine(0, ok[:2], ok[:2])), "x is 2 points; accepted: 3 to 1000000 points"},
		{one(FitLine(0, ok, ok[:2])), "y is 2 points; accepted: 3 to 3 points"},
		{three(ReadBack(Line{Slope: -1.5, SlopeU: 0.25, SumX: 2, N: 3}, 1, 1)), "no reading back: the slope of the line is not known well enough; l.SlopeU is 0.25, possible with 0 to 0.24995834027662056"},
		{three(ReadBack(steep, 1e15, 1)), "y is 1e+15; accepted: -1000000000000 to 1000000000000 (beyond, x is beyond all magnitude)"},
		{one(InsidePct(Quantity{U: 1}, inf, nan)), "lo is +Inf; accepted: 1.7976931348623157e+308 or less; hi is NaN; accepted: +Inf or more"},
		{one(InsidePct(Quantity{U: 1}, 2, 1.5)), "hi is 1.5; accepted: 2 or more"},
		{one(InsidePct(Quantity{Value: 2e15}, 1, 2)), "q.Value is 2e+15; accepted: -1e+15 to 1e+15"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got  %q\nwant %q", c.err, c.want)
		}
	}
	for got, want := range map[string]string{Shape(6).String(): "no shape", CurvedTrapezoid.String(): "curved trapezoid"} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A number beside an error is zero.
func TestNothingBesideAnError(t *testing.T) {
	count := func(n int, err error) (float64, error) { return float64(n), err }
	for name, f := range map[string]func() (float64, error){
		"Places":          func() (float64, error) { return count(Places(0, 1)) },
		"MeansR":          func() (float64, error) { return MeansR(nil, nil) },
		"CoverageFactor":  func() (float64, error) { return CoverageFactor(0, 1) },
		"OutputR":         func() (float64, error) { return OutputR(nil, yield, yieldInputs()) },
		"OutputR, second": func() (float64, error) { return OutputR(yield, nil, yieldInputs()) },
		"InsidePct":       func() (float64, error) { return InsidePct(Quantity{}, nan, 1) },
		"InsidePctError":  func() (float64, error) { return InsidePctError(-1, 1) },
		"OnLine":          func() (float64, error) { _, n, err := OnLine(Line{}, 0); return float64(n), err },
		"ReadBack":        func() (float64, error) { _, n, err := ReadBack(Line{}, 0, 1); return float64(n), err },
		"ReadBack, flat":  func() (float64, error) { _, n, err := ReadBack(Line{SumX: 2, N: 3}, 0, 1); return float64(n), err },
		"ReadBack, far": func() (float64, error) {
			_, n, err := ReadBack(Line{Slope: 1e-3, SumX: 2, N: 3}, 1e15, 1)
			return float64(n), err
		},
	} {
		if v, err := f(); err == nil || v != 0 {
			t.Errorf("%s: %v beside %v", name, v, err)
		}
	}
}

// Far outside the share keeps the digits of its small tail, on either side;
// Φ(−10) = 7.619853024160527e-24.
func TestInsideFarOut(t *testing.T) {
	const tail = 100 * 7.619853024160527e-24
	for _, c := range []struct{ v, lo, hi, want float64 }{
		{0, 10, inf, tail}, {0, -inf, -10, tail}, {0, 10, 1e200, tail}, {0, -1e200, -10, tail},
		{0, -inf, 0, 50}, {0, 0, inf, 50}, {0, -inf, inf, 100}, {0, -1e200, 1e200, 100}, {3, 2, 4, 68.26894921370859},
	} {
		for _, df := range []float64{0, 1e15, inf} {
			p, err := InsidePct(Quantity{Value: c.v, U: 1, DF: df}, c.lo, c.hi)
			if err != nil || !near(p, c.want, 1e-10) {
				t.Errorf("%v ± 1 (%v) from %v to %v: %v, want %v; %v", c.v, df, c.lo, c.hi, p, c.want, err)
			}
		}
	}
	// One degree of freedom: arctan. Below −1 and above 1 lies a quarter.
	for _, c := range []struct{ lo, hi, want float64 }{{1, inf, 25}, {-inf, -1, 25}, {-1, 1, 50}, {0, 1, 25}} {
		if p, err := InsidePct(Quantity{U: 1, DF: 1}, c.lo, c.hi); err != nil || !near(p, c.want, 1e-9) {
			t.Errorf("from %v to %v: %v, want %v; %v", c.lo, c.hi, p, c.want, err)
		}
	}
	for v, want := range map[float64]float64{1: 100, 2: 100, 0.999: 0, 2.001: 0} {
		if p, err := InsidePct(Quantity{Value: v}, 1, 2); err != nil || p != want {
			t.Errorf("%v exactly: %v, want %v; %v", v, p, want, err)
		}
	}
}

// Three points by hand: x 0, 1, 2 and y 0, 1, 2.1. Slope 1.05, mean of y
// 3.1/3, residuals 1/60, −1/30, 1/60, so s² = 1/600 with one degree.
func TestLineByHand(t *testing.T) {
	s := math.Sqrt(1.0 / 600)
	for _, x0 := range []float64{0, 1, 5} {
		l, err := FitLine(x0, []float64{0, 1, 2}, []float64{0, 1, 2.1})
		if err != nil {
			t.Fatal(err)
		}
		slopeU := s / math.Sqrt(2)
		interU := math.Sqrt(s*s/3 + (1-x0)*(1-x0)*slopeU*slopeU)
		want := Line{X0: x0, Intercept: 3.1/3 - 1.05*(1-x0), Slope: 1.05, InterceptU: interU, SlopeU: slopeU, R: -(1 - x0) * slopeU / interU,
			ResidualSD: s, DF: 1, MaxX: 2, MeanX: 1, SumX: 2, N: 3}
		for i, v := range [][2]float64{{l.Intercept, want.Intercept}, {l.Slope, want.Slope}, {l.InterceptU, want.InterceptU}, {l.SlopeU, want.SlopeU}, {l.R, want.R},
			{l.ResidualSD, want.ResidualSD}, {l.DF, 1}, {l.MinX, 0}, {l.MaxX, 2}, {l.MeanX, 1}, {l.SumX, 2}, {float64(l.N), 3}} {
			if math.Abs(v[0]-v[1]) > 1e-12 {
				t.Errorf("x0 %v, field %d: %v, want %v", x0, i, v[0], v[1])
			}
		}
		for x, note := range map[float64]Notes{-0.001: OutsideLine, 0: 0, 0.3: 0, 2: 0, 2.001: OutsideLine} {
			q, notes, err := OnLine(l, x)
			if err != nil || notes != note || math.Abs(q.Value-(3.1/3+1.05*(x-1))) > 1e-12 || math.Abs(q.U-s*math.Sqrt(1.0/3+(x-1)*(x-1)/2)) > 1e-12 || q.DF != 1 {
				t.Errorf("on the line at %v: %+v %v, %v", x, q, notes, err)
			}
		}
		x := 1 + (1.5-3.1/3)/1.05
		for _, n := range []int{1, 2, 10} {
			q, notes, err := ReadBack(l, 1.5, n)
			if err != nil || notes != 0 || math.Abs(q.Value-x) > 1e-12 || math.Abs(q.U-s/1.05*math.Sqrt(1/float64(n)+1.0/3+(x-1)*(x-1)/2)) > 1e-12 || q.DF != 1 {
				t.Errorf("read back by %d: %+v %v, %v; want %v", n, q, notes, err, x)
			}
		}
	}
	falling, err := FitLine(0, []float64{0, 1, 2}, []float64{2, 1, 0})
	if err != nil || falling.R != 0 {
		t.Fatalf("%+v, %v", falling, err)
	}
	for y, note := range map[float64]Notes{2.001: OutsideLine, 2: 0, 0: 0, -0.001: OutsideLine} {
		if q, notes, err := ReadBack(falling, y, 1); err != nil || notes != note || !near(q.Value, 2-y, 1e-9) && y != 2 || q.U != 0 {
			t.Errorf("%v read back: %+v %v, %v", y, q, notes, err)
		}
	}
}

// Two sums of three correlated inputs, by hand. With u = 1, 2 and 0.5 and r01
// = 0.5, r12 = −0.25: f = 2a + 3b − c has the parts 2, 6, −0.5 and the variance
// 4 + 36 + 0.25 + 2·(0.5·12 + 0.25·3) = 53.75; g = a − b + 4c the parts 1, −2,
// 2, the variance 9 − 2 + 2 = 9 and the covariance 2 − 12 − 1 + 0.5·(−4 + 6) −
// 0.25·(12 + 1) = −13.25.
func TestCorrelatedByHand(t *testing.T) {
	in := []Quantity{{Value: 5, U: 1, DF: 7}, {Value: -3, U: 2}, {Value: 8, U: 0.5}}
	f := func(x []float64) float64 { return 2*x[0] + 3*x[1] - x[2] }
	g := func(x []float64) float64 { return x[0] - x[1] + 4*x[2] }
	pairs := []Correlation{{0, 1, 0.5}, {2, 1, -0.25}}
	r, err := Propagate(f, in, pairs...)
	if err != nil || !near(r.U, math.Sqrt(53.75), 1e-9) || r.Dominant != 1 || r.Notes != CorrelatedDF || !math.IsInf(r.DF, 1) || !near(r.SecondU, r.U, 1e-9) {
		t.Fatalf("%+v, %v", r, err)
	}
	for i, want := range []Contribution{{2, 2, 100 * (4 + 6) / 53.75}, {3, 6, 100 * (36 + 6 + 0.75) / 53.75}, {-1, 0.5, 100 * (0.25 + 0.75) / 53.75}} {
		if b := r.Budget[i]; !near(b.Sensitivity, want.Sensitivity, 1e-9) || !near(b.U, want.U, 1e-9) || !near(b.SharePct, want.SharePct, 1e-9) {
			t.Errorf("input %d: %+v, want %+v", i, b, want)
		}
	}
	c, err := OutputR(f, g, in, pairs...)
	if want := -13.25 / math.Sqrt(53.75*9); err != nil || !near(c, want, 1e-9) {
		t.Errorf("correlation %v, want %v; %v", c, want, err)
	}
	if c, err := OutputR(f, f, in, pairs...); err != nil || !near(c, 1, 1e-9) {
		t.Errorf("with itself: %v, %v", c, err)
	}
	for _, exact := range []Model{func([]float64) float64 { return 4 }} {
		if c, err := OutputR(f, exact, in); err != nil || c != 0 {
			t.Errorf("with a constant: %v, %v", c, err)
		}
		if c, err := OutputR(exact, f, in); err != nil || c != 0 {
			t.Errorf("of a constant: %v, %v", c, err)
		}
	}
	// Without correlation, Welch and Satterthwaite: variance 4·9 + 9·4 = 72,
	// degrees 72²/(36²/3 + 36²/5).
	two := []Quantity{{U: 3, DF: 3}, {U: 2, DF: 5}, {Value: 1}}
	w, err := Propagate(f, two)
	if err != nil || !near(w.DF, 72*72/(36*36/3.+36*36/5.), 1e-9) || !near(w.Quantity().U, math.Sqrt(72), 1e-9) || w.Quantity().DF != w.DF || w.Quantity().Value != -1 {
		t.Errorf("%+v, %v", w, err)
	}
	// Two that follow a third by 0.9 follow each other by 0.62 at least, and
	// by 1 at most, whichever the third is.
	for _, at := range [][3]int{{0, 1, 2}, {2, 0, 1}, {1, 2, 3}, {3, 1, 0}, {0, 2, 3}} {
		four := []Quantity{{Value: 1, U: 1}, {Value: 2, U: 1}, {Value: 3, U: 1}, {Value: 4, U: 1}}
		for r, ok := range map[float64]bool{0.61: false, 0.6201: true, 0.9999: true, -0.9: false} {
			_, err := Propagate(f, four, Correlation{at[0], at[1], 0.9}, Correlation{at[2], at[0], 0.9}, Correlation{at[1], at[2], r})
			if (err == nil) != ok {
				t.Errorf("inputs %v, %v between the followers: %v", at, r, err)
			}
		}
	}
}

// A cubic of two, x²·z about (m, n): f_xx = 2n, f_xz = 2m, f_xxz = 2. To second
// order the variance is (2mn·u)² + (m²·v)² + 2n²·u⁴ + (4m² + 2m²)·u²·v², and the
// mean is shifted by n·u². Either input may be the first.
func TestSecondOrderByHand(t *testing.T) {
	for _, c := range [][4]float64{{2, 3, 0.1, 0.2}, {1, -2, 0.3, 0.15}, {5, 0.5, 0.4, 0.1}, {-3, 1, 0.2, 0.7}} {
		m, n, u, v := c[0], c[1], c[2], c[3]
		want := math.Pow(2*m*n*u, 2) + math.Pow(m*m*v, 2) + 2*n*n*math.Pow(u, 4) + 6*m*m*u*u*v*v
		a, err1 := Propagate(func(x []float64) float64 { return x[0] * x[0] * x[1] }, []Quantity{{Value: m, U: u}, {Value: n, U: v}})
		b, err2 := Propagate(func(x []float64) float64 { return x[1] * x[1] * x[0] }, []Quantity{{Value: n, U: v}, {Value: m, U: u}})
		for _, r := range []Result{a, b} {
			if err1 != nil || err2 != nil || !near(r.SecondU*r.SecondU, want, 1e-9) || !near(r.Shift, n*u*u, 1e-8) {
				t.Errorf("%v: %+v, variance %v, want %v", c, r, r.SecondU*r.SecondU, want)
			}
		}
	}
	// A fourth power about zero bends only in its fourth derivative; about 1
	// f' = 4, f'' = 12, f''' = 24: 16u² + ½·144·u⁴ + 4·24·u⁴, but for the
	// fourth derivative's part in the differences.
	r, err := Propagate(func(x []float64) float64 { return math.Pow(x[0], 4) }, []Quantity{{Value: 1, U: 0.01}})
	if want := 16e-4 + (72+96)*1e-8; err != nil || !near(r.SecondU*r.SecondU, want, 1e-9) || !near(r.Shift, 6e-4, 1e-9) {
		t.Errorf("%+v, %v; want %v", r, err, want)
	}
}

// Draws inside a limit: all of them, half of them, those between.
func TestSimulateInside(t *testing.T) {
	same := func(x []float64) float64 { return x[0] }
	for _, c := range []struct{ lo, hi, want, tol float64 }{
		{-10, 10, 100, 0}, {-inf, inf, 100, 0}, {-10, 0, 50, 1.5}, {0, 10, 50, 1.5}, {-1, 1, 68.27, 1.4}, {20, 30, 0, 0}, {0, 0, 0, 0},
	} {
		s, err := Simulate(same, []Quantity{{U: 1}}, Plan{CoveragePct: 90, Digits: 1, MaxDraws: 2 * Batch, Lo: c.lo, Hi: c.hi})
		if err != nil || math.Abs(s.InsidePct-c.want) > c.tol || s.Draws != 2*Batch {
			t.Errorf("from %v to %v: %v %% of %d, %v; want %v", c.lo, c.hi, s.InsidePct, s.Draws, err, c.want)
		}
		if e, err := InsidePctError(c.want, s.Draws); err != nil || !near(e, 100*math.Sqrt(c.want/100*(1-c.want/100)/20000), 1e-9) {
			t.Errorf("error %v, %v", e, err)
		}
		// The quantiles are those of a normal: −2.326, 0, 1.645.
		if math.Abs(s.Quantiles[0]+2.326) > 0.08 || math.Abs(s.Quantiles[49]) > 0.03 || math.Abs(s.Quantiles[94]-1.645) > 0.05 ||
			math.Abs(s.Lo+1.645) > 0.05 || math.Abs(s.Hi-1.645) > 0.05 || math.Abs(s.U-1) > 0.02 || math.Abs(s.Mean) > 0.03 {
			t.Errorf("%+v", s)
		}
	}
	// Three inputs that move together as they are told to.
	in := []Quantity{{U: 1}, {Value: 4}, {U: 2}, {U: 3}}
	pairs := []Correlation{{0, 2, 0.6}, {3, 2, -0.5}, {0, 3, 0.1}}
	for _, w := range [][3]float64{{1, 1, 0}, {1, 0, 1}, {0, 1, 1}, {1, -1, 1}, {1, 1, -1}} {
		f := func(x []float64) float64 { return w[0]*x[0] + w[1]*x[2] + w[2]*x[3] }
		s, err1 := Simulate(f, in, Plan{CoveragePct: 90, Digits: 1, MaxDraws: 4 * Batch, MinDraws: 4 * Batch}, pairs...)
		r, err2 := Propagate(f, in, pairs...)
		if err1 != nil || err2 != nil || math.Abs(s.U/r.U-1) > 0.012 {
			t.Errorf("weights %v: drawn %v, reckoned %v; %v %v", w, s.U, r.U, err1, err2)
		}
	}
}

// Plain means with a large base keep their digits.
func TestLargeBase(t *testing.T) {
	far := []float64{123456789.1, 123456789.35, 123456789.2, 123456789.7}
	close := make([]float64, len(far))
	for i, x := range far {
		close[i] = x - 123456789
	}
	a, err1 := FromReadings(far)
	b, err2 := FromReadings(close)
	if err1 != nil || err2 != nil || !near(a.U, b.U, 1e-7) || math.Abs(a.Value-123456789-b.Value) > 3e-8 {
		t.Errorf("%+v and %+v; %v %v", a, b, err1, err2)
	}
	for _, y := range [][]float64{close, {3, 1, 2, 5}} {
		p, err1 := MeansR(far, y)
		q, err2 := MeansR(close, y)
		if err1 != nil || err2 != nil || math.Abs(p-q) > 1e-6 {
			t.Errorf("%v and %v; %v %v", p, q, err1, err2)
		}
	}
	// r of (1, 2, 3) with (1, 3, 2) is 1/2.
	if r, err := MeansR([]float64{1, 2, 3}, []float64{1, 3, 2}); err != nil || !near(r, 0.5, 1e-12) {
		t.Errorf("%v, %v", r, err)
	}
	var none *ImpossibleError
	if _, _, err := ReadBack(Line{Slope: 1, SlopeU: 1, SumX: 1, N: 3}, 0, 1); !errors.As(err, &none) || !near(none.Max, 1/6.001, 1e-12) {
		t.Errorf("%v", err)
	}
}
