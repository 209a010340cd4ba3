package uncertainty

import (
	"errors"
	"math"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var (
	inf = math.Inf(1)
	nan = math.NaN()
)

func yield(x []float64) float64 { return x[0] * x[1] / x[2] }

func yieldInputs() []Quantity {
	return []Quantity{{Value: 36, U: 0.1}, {Value: 9.5, U: 0.05}, {Value: 18, U: 0.05}}
}

// refused lists the fields that an error refuses.
func refused(err error) (names []string) {
	var in *InputError
	if errors.As(err, &in) {
		for _, f := range in.Fields {
			names = append(names, f.Field)
		}
	}
	return names
}

func TestRefusals(t *testing.T) {
	next := math.Nextafter
	over := next(MaxMagnitude, inf)
	ok := []float64{1, 2, 3}
	plan := Plan{CoveragePct: 95, Digits: 2, MaxDraws: 2 * Batch}
	with := func(change func(*Plan)) Plan {
		p := plan
		change(&p)
		return p
	}
	in := yieldInputs()
	one := func(_ any, err error) error { return err }
	line, _ := FitLine(0, ok, []float64{1, 2, 2.9})
	for _, c := range []struct {
		name string
		err  error
		want []string
	}{
		{"half-width, largest", one(FromHalfWidth(-MaxMagnitude, MaxMagnitude, Arcsine)), nil},
		{"half-width, zero", one(FromHalfWidth(0, 0, Triangular)), nil},
		{"half-width beyond", one(FromHalfWidth(over, over, Normal)), []string{"value", "halfWidth", "shape"}},
		{"half-width below", one(FromHalfWidth(1, -5e-324, Rectangular)), []string{"halfWidth"}},
		{"half-width NaN", one(FromHalfWidth(nan, nan, 99)), []string{"value", "halfWidth", "shape"}},
		{"inexact limits", one(FromInexactLimits(1, 1e-300, 1e-300)), nil},
		{"inexact beyond", one(FromInexactLimits(1, 1, next(1, 2))), []string{"inexact"}},
		{"inexact NaN", one(FromInexactLimits(nan, nan, nan)), []string{"value", "halfWidth", "inexact"}},
		{"no half-width", one(FromInexactLimits(1, 0, 0)), []string{"halfWidth"}},
		{"certificate, least k", one(FromCertificate(1, 0, 1)), nil},
		{"certificate, largest k", one(FromCertificate(1, 0, 64)), nil},
		{"certificate beyond", one(FromCertificate(inf, -1, next(1, 0))), []string{"value", "expandedU", "k"}},
		{"certificate NaN", one(FromCertificate(nan, nan, nan)), []string{"value", "expandedU", "k"}},
		{"one reading", one(FromReadings([]float64{1})), []string{"readings"}},
		{"none", one(FromReadings(nil)), []string{"readings"}},
		{"bad readings", one(FromReadings([]float64{1, nan, over, 4, -inf})), []string{"readings[1]", "readings[2]", "readings[4]"}},
		{"pairs", one(MeansR(ok, ok)), nil},
		{"unequal pairs", one(MeansR(ok, ok[:2])), []string{"y"}},
		{"bad pairs", one(MeansR([]float64{1, nan}, []float64{inf, 2})), []string{"x[1]", "y[0]"}},
		{"zero meter", one(Measured(Meter{})), []string{"Division"}},
		{"meter without digits", one(Measured(Meter{Value: 5, Readings: 3})), []string{"Division"}},
		{"display only", one(Measured(Meter{Value: 5, Division: 0.1})), nil},
		{"scatter without count", one(Measured(Meter{RepeatabilitySD: 1})), []string{"Readings"}},
		{"calibration without k", one(Measured(Meter{CalibrationU: 1})), []string{"CalibrationK"}},
		{"meter NaN", one(Measured(Meter{nan, nan, -1, nan, nan, nan, nan, nan, nan})),
			[]string{"Value", "Division", "Readings", "RepeatabilitySD", "RepeatabilityDF", "Accuracy", "CalibrationU", "CalibrationK", "CalibrationError"}},
		{"coverage, ends", one(CoverageFactor(50, 1)), nil},
		{"coverage, other end", one(CoverageFactor(99.99, inf)), nil},
		{"a fraction for a percent", one(CoverageFactor(0.95, 9)), []string{"coveragePct"}},
		{"coverage beyond", one(CoverageFactor(next(99.99, 100), next(1, 0))), []string{"coveragePct", "df"}},
		{"coverage NaN", one(CoverageFactor(nan, nan)), []string{"coveragePct", "df"}},

		{"no model", one(Propagate(nil, in)), []string{"f"}},
		{"no inputs", one(Propagate(yield, nil)), []string{"inputs"}},
		{"too many", one(Propagate(yield, make([]Quantity, MaxInputs+1))), []string{"inputs"}},
		{"bad input", one(Propagate(yield, []Quantity{in[0], {nan, -1, 0.5, 99, 2}, in[2]})),
			[]string{"inputs[1].Value", "inputs[1].U", "inputs[1].DF", "inputs[1].Shape", "inputs[1].Edge"}},
		{"an exact NaN", one(Propagate(yield, []Quantity{{Value: nan}, in[1], in[2]})), []string{"inputs[0].Value"}},
		{"t without df", one(Propagate(yield, []Quantity{in[0], in[1], {Value: 1, U: 1, Shape: Student}})), []string{"inputs[2].DF"}},
		{"an edge where none belongs", one(Propagate(yield, []Quantity{in[0], in[1], {Value: 1, U: 1, Edge: 0.1}})), []string{"inputs[2].Edge"}},
		{"zero correlation", one(Propagate(yield, in, Correlation{})), []string{"correlations[0].J"}},
		{"correlation with nobody", one(Propagate(yield, in, Correlation{-1, 3, 1.1})), []string{"correlations[0].I", "correlations[0].J", "correlations[0].R"}},
		{"twice the same pair", one(Propagate(yield, in, Correlation{0, 1, 0}, Correlation{1, 0, 0})), []string{"correlations[1].J"}},
		{"impossible together", one(Propagate(yield, in, Correlation{0, 1, 1}, Correlation{1, 2, 1}, Correlation{0, 2, -1})), []string{"correlations"}},
		{"possible together", one(Propagate(yield, in, Correlation{0, 1, 1}, Correlation{1, 2, -1}, Correlation{0, 2, -1})), nil},

		{"plan", one(Simulate(yield, in, plan)), nil},
		{"zero plan", one(Simulate(yield, in, Plan{})), []string{"CoveragePct", "Digits", "MaxDraws"}},
		{"coverage of a plan", one(Simulate(yield, in, with(func(p *Plan) { p.CoveragePct = next(99, 100) }))), []string{"CoveragePct"}},
		{"digits of a plan", one(Simulate(yield, in, with(func(p *Plan) { p.Digits = 3 }))), []string{"Digits"}},
		{"draws of a plan", one(Simulate(yield, in, with(func(p *Plan) { p.MaxDraws-- }))), []string{"MaxDraws"}},
		{"more at least than at most", one(Simulate(yield, in, with(func(p *Plan) { p.MinDraws = p.MaxDraws + 1 }))), []string{"MaxDraws"}},
		{"limits of a plan", one(Simulate(yield, in, with(func(p *Plan) { p.Lo, p.Hi = 2, 1 }))), []string{"Hi"}},
		{"NaN limits", one(Simulate(yield, in, with(func(p *Plan) { p.Lo, p.Hi = nan, nan }))), []string{"Lo", "Hi"}},
		{"correlated, not normal", one(Simulate(yield, []Quantity{{U: 1, Shape: Rectangular}, {Value: 1, U: 1}, {Value: 9}}, plan, Correlation{0, 1, 0.5})), []string{"correlations[0]"}},
		{"share among draws", one(InsidePctError(100, 1)), nil},
		{"share beyond", one(InsidePctError(next(100, 101), 0)), []string{"insidePct", "draws"}},

		{"places, least", one(Places(1e-300, 1)), nil},
		{"places, largest", one(Places(MaxMagnitude, 2)), nil},
		{"places beyond", one(Places(0, 0)), []string{"u", "digits"}},
		{"places NaN", one(Places(nan, 3)), []string{"u", "digits"}},
		{"digits of nothing", func() error { _, _, err := Earned(nan, -1, 3); return err }(), []string{"value", "u", "digits"}},
		{"append beyond", one(AppendEarned(nil, over, next(1e-300, 0), 2)), []string{"value", "u"}},

		{"line", one(FitLine(0, ok, ok)), nil},
		{"two points", one(FitLine(0, ok[:2], ok[:2])), []string{"x"}},
		{"points in one place", one(FitLine(0, []float64{2, 2, 2}, ok)), []string{"x"}},
		{"unequal", one(FitLine(nan, ok, []float64{1, 2})), []string{"x0", "y"}},
		{"NaN points", one(FitLine(0, []float64{1, nan, 3}, []float64{1, 2, inf})), []string{"x[1]", "y[2]"}},
		{"zero line", func() error { _, _, err := OnLine(Line{}, nan); return err }(), []string{"l.SumX", "l.N", "x"}},
		{"zero line back", func() error { _, _, err := ReadBack(Line{}, nan, 0); return err }(), []string{"l.SumX", "l.N", "y", "readings"}},
		{"line back", func() error { _, _, err := ReadBack(line, 2, 1); return err }(), nil},
		{"inside nothing", one(InsidePct(Quantity{U: -1}, nan, nan)), []string{"q.U", "lo", "hi"}},
		{"inside", one(InsidePct(Quantity{U: 1, DF: 3}, -inf, 2)), nil},
	} {
		if d := cmp.Diff(c.want, refused(c.err)); d != "" {
			t.Errorf("%s: refused (-want +got):\n%s", c.name, d)
		}
	}
}

func TestImpossible(t *testing.T) {
	root := func(x []float64) float64 { return math.Sqrt(x[0]) }
	plan := Plan{CoveragePct: 95, Digits: 1, MaxDraws: 2 * Batch}
	line, err := FitLine(0, []float64{1, 2, 3, 4}, []float64{1, 3, 1, 3})
	if err != nil {
		t.Fatal(err)
	}
	for name, try := range map[string]func() error{
		"beside the value": func() error { _, err := Propagate(root, []Quantity{{Value: 0.1, U: 1}}); return err },
		"two inputs together": func() error {
			_, err := Propagate(func(x []float64) float64 { return math.Sqrt(2.4 - x[0] - x[1]) }, []Quantity{{Value: 1, U: 1}, {Value: 1, U: 1}})
			return err
		},
		"at a draw": func() error { _, err := Simulate(root, []Quantity{{Value: 2, U: 1}}, plan); return err },
		"overflow": func() error {
			_, err := Simulate(func(x []float64) float64 { return x[0] * 1e300 }, []Quantity{{U: 1}}, plan)
			return err
		},
		"a flat line": func() error { _, _, err := ReadBack(line, 2, 1); return err },
	} {
		err := try()
		var no *ImpossibleError
		if !errors.As(err, &no) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Propagation against closed forms.
func TestPropagate(t *testing.T) {
	in := yieldInputs()
	r, err := Propagate(yield, in)
	if err != nil {
		t.Fatal(err)
	}
	rel := math.Sqrt(math.Pow(0.1/36, 2) + math.Pow(0.05/9.5, 2) + math.Pow(0.05/18, 2))
	if !near(r.Value, 19, 1e-12) || !near(r.U, 19*rel, 1e-9) || r.Dominant != 1 || r.Notes != 0 || !math.IsInf(r.DF, 1) {
		t.Errorf("%+v", r)
	}
	sum := 0.0
	for i, b := range r.Budget {
		sum += b.SharePct
		if !near(b.U, math.Abs(b.Sensitivity)*in[i].U, 1e-12) {
			t.Errorf("input %d: %+v", i, b)
		}
	}
	if !near(sum, 100, 1e-9) {
		t.Errorf("shares come to %v %%", sum)
	}
	// A quadratic of two normals: Var(a·x² + b·x·z) about (m, n) is exact to
	// second order.
	for _, c := range [][4]float64{{0, 0, 1, 2}, {1, -2, 0.5, 0.3}, {10, 3, 1, 1}} {
		m, n, u, v := c[0], c[1], c[2], c[3]
		r, err := Propagate(func(x []float64) float64 { return 3*x[0]*x[0] + 2*x[0]*x[1] }, []Quantity{{Value: m, U: u}, {Value: n, U: v}})
		if err != nil {
			t.Fatal(err)
		}
		exact := math.Pow((6*m+2*n)*u, 2) + math.Pow(2*m*v, 2) + 18*u*u*u*u + 4*u*u*v*v
		if !near(r.SecondU*r.SecondU, exact, 1e-9) || !near(r.Shift, 3*u*u, 1e-9) {
			t.Errorf("%v: second-order variance %v, shift %v; exactly %v and %v", c, r.SecondU*r.SecondU, r.Shift, exact, 3*u*u)
		}
	}
	// A cube: 9m⁴u² + (9(κ − 1) + 6κ)·m²u⁴ to second order.
	for shape, kurtosis := range map[Shape]float64{Normal: 3, Rectangular: 1.8} {
		r, err := Propagate(func(x []float64) float64 { return x[0] * x[0] * x[0] }, []Quantity{{Value: 2, U: 0.3, Shape: shape}})
		want := 9*16*0.09 + (9*(kurtosis-1)+6*kurtosis)*4*0.0081
		if err != nil || !near(r.SecondU*r.SecondU, want, 1e-8) {
			t.Errorf("%v: variance %v, want %v; %v", shape, r.SecondU*r.SecondU, want, err)
		}
	}
	// Curved begins where the second order moves u by 5 %: for a square at
	// u/m between 0.46 and 0.47.
	for u, curved := range map[float64]bool{0.45: false, 0.48: true} {
		r, err := Propagate(func(x []float64) float64 { return x[0] * x[0] }, []Quantity{{Value: 1, U: u}})
		if err != nil || (r.Notes == Curved) != curved {
			t.Errorf("u = %v: u %v, second order %v, shift %v, %q; %v", u, r.U, r.SecondU, r.Shift, r.Notes, err)
		}
	}
	// The square of a value with each shape: Var(x²) = (κ − 1)·u⁴ at zero.
	for shape, kurtosis := range map[Shape]float64{Normal: 3, Rectangular: 1.8, Triangular: 2.4, Arcsine: 1.5} {
		r, err := Propagate(func(x []float64) float64 { return x[0] * x[0] }, []Quantity{{U: 0.7, Shape: shape}})
		if err != nil || !near(r.SecondU, math.Sqrt(kurtosis-1)*0.49, 1e-9) || r.Notes != Curved || r.U > 1e-12 {
			t.Errorf("%v: %+v, %v", shape, r, err)
		}
	}
	// Inputs that move as one: a difference loses all, a sum doubles.
	two := []Quantity{{Value: 5, U: 0.2, DF: 4}, {Value: 3, U: 0.2}}
	d, err := Propagate(func(x []float64) float64 { return x[0] - x[1] }, two, Correlation{0, 1, 1})
	s, err2 := Propagate(func(x []float64) float64 { return x[0] + x[1] }, two, Correlation{0, 1, 1})
	if err != nil || err2 != nil || d.U > 1e-8 || !near(s.U, 0.4, 1e-9) || s.Notes&CorrelatedDF == 0 || !math.IsInf(s.DF, 1) {
		t.Errorf("difference %+v, sum %+v", d, s)
	}
	// Nothing uncertain, and an input of no effect.
	e, err := Propagate(yield, []Quantity{{Value: 36}, {Value: 9.5}, {Value: 18}})
	if err != nil || e.U != 0 || e.Dominant != -1 || e.Notes != NoSpread {
		t.Errorf("%+v, %v", e, err)
	}
	// Neither the smallest nor the largest uncertainty breaks it.
	for _, u := range []float64{5e-324, 1e-300, 1e-160, 1e15} {
		r, err := Propagate(func(x []float64) float64 { return 2 * x[0] }, []Quantity{{U: u, DF: 3}})
		if err == nil && u > 1e-300 && (!near(r.U, 2*u, 1e-9) || !near(r.DF, 3, 1e-9)) {
			t.Errorf("u = %v: %+v", u, r)
		}
		if err != nil && u > 1e-300 {
			t.Errorf("u = %v: %v", u, err)
		}
	}
}

func near(a, b, rel float64) bool { return math.Abs(a-b) <= rel*math.Max(1e-30, math.Abs(b)) }

// What is drawn has the mean, spread and kurtosis that Propagate reckons with.
func TestShapes(t *testing.T) {
	edge, err := FromInexactLimits(7, 2, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range []Quantity{
		{Value: 7, U: 2}, {Value: 7, U: 2, Shape: Rectangular}, {Value: 7, U: 2, Shape: Triangular},
		{Value: 7, U: 2, Shape: Arcsine}, {Value: 7, U: 2, Shape: Student, DF: 30}, edge,
	} {
		d := newDrawer([]Quantity{q}, nil, 3)
		x := make([]float64, 1)
		const n = 400000
		var m1, m2, m4 float64
		for range n {
			d.draw(x)
			e := (x[0] - 7) / q.U
			m1 += e / n
			m2 += e * e / n
			m4 += e * e * e * e / n
		}
		wantM2, kurtosis := 1.0, q.kurtosis()
		if q.Shape == Student {
			wantM2, kurtosis = 30.0/28, 3+6.0/26
		}
		if math.Abs(m1) > 0.006 || math.Abs(m2-wantM2) > 0.01 || math.Abs(m4/(m2*m2)-kurtosis) > 0.05 {
			t.Errorf("%v: mean %v, variance %v, kurtosis %v; want 0, %v, %v", q.Shape, m1, m2, m4/(m2*m2), wantM2, kurtosis)
		}
	}
}

// Student's t as drawn, against its own quantiles.
func TestStudentDraws(t *testing.T) {
	for _, df := range []float64{1, 2.5, 4, 18} {
		s, err := Simulate(func(x []float64) float64 { return x[0] }, []Quantity{{U: 1, DF: df, Shape: Student}},
			Plan{CoveragePct: 90, Digits: 2, MaxDraws: 400000, MinDraws: 400000, Seed: 5})
		if err != nil {
			t.Fatal(err)
		}
		k, _ := CoverageFactor(90, df)
		if math.Abs(s.Hi-k) > 0.02*k || math.Abs(s.Lo+k) > 0.02*k {
			t.Errorf("df %v: %v to %v, want ±%v", df, s.Lo, s.Hi, k)
		}
		if df <= 2 && s.Notes != NotSettled {
			t.Errorf("df %v: a spread without end settled: %v", df, s.Notes)
		}
	}
}

func TestSimulate(t *testing.T) {
	plan := Plan{CoveragePct: 95, Digits: 2, MaxDraws: 1e6, Seed: 42, Lo: 18.8, Hi: inf}
	a, err := Simulate(yield, yieldInputs(), plan)
	b, _ := Simulate(yield, yieldInputs(), plan)
	if err != nil || a != b {
		t.Errorf("the same seed gives %+v and %+v, %v", a, b, err)
	}
	plan.Seed = 43
	if c, _ := Simulate(yield, yieldInputs(), plan); c.Mean == a.Mean {
		t.Error("another seed gives the same")
	}
	if a.Draws >= 1e6 || a.Draws%Batch != 0 || a.Notes != 0 {
		t.Errorf("%d draws, %v", a.Draws, a.Notes)
	}
	if math.Abs(a.Mean-19.001) > 0.003 || math.Abs(a.U-0.1248) > 0.002 || math.Abs(a.InsidePct-94.6) > 0.6 {
		t.Errorf("%+v", a)
	}
	last := math.Inf(-1)
	for _, q := range a.Quantiles {
		if q < last {
			t.Fatal("quantiles fall")
		}
		last = q
	}
	if !(a.ShortHi-a.ShortLo <= a.Hi-a.Lo) {
		t.Errorf("shortest %v to %v, symmetric %v to %v", a.ShortLo, a.ShortHi, a.Lo, a.Hi)
	}
	// Two digits of 0.0098 mean ±0.00005 twice over at the ends: about
	// (2·2.67·0.0098/0.00005)², a million draws.
	long, err := Simulate(func(x []float64) float64 { return x[0] }, []Quantity{{U: 0.0098}}, Plan{CoveragePct: 95, Digits: 2, MaxDraws: 3e6})
	if err != nil || long.Notes != 0 || long.Draws < 5e5 || long.Draws > 2.5e6 {
		t.Errorf("%d draws, %v; %v", long.Draws, long.Notes, err)
	}
	// Correlated inputs: a difference of two that move together.
	s, err := Simulate(func(x []float64) float64 { return x[0] - x[1] }, []Quantity{{U: 1}, {U: 1}},
		Plan{CoveragePct: 95, Digits: 2, MaxDraws: 400000, MinDraws: 400000}, Correlation{1, 0, 0.9})
	if err != nil || math.Abs(s.U-math.Sqrt(0.2)) > 0.003 {
		t.Errorf("%v, want %v; %v", s.U, math.Sqrt(0.2), err)
	}
	// Exact inputs.
	s, err = Simulate(yield, []Quantity{{Value: 36}, {Value: 9.5}, {Value: 18}}, plan)
	if err != nil || s.U != 0 || s.Notes != NoSpread || s.Lo != 19 || s.ShortHi != 19 {
		t.Errorf("%+v, %v", s, err)
	}
	// A flat top: the shortest interval of a rectangle is the middle one.
	s, err = Simulate(func(x []float64) float64 { return x[0] }, []Quantity{{U: 1, Shape: Rectangular}}, Plan{CoveragePct: 50, Digits: 1, MaxDraws: 2 * Batch})
	if err != nil || !(s.ShortHi-s.ShortLo < 1.75 && s.ShortHi-s.ShortLo > 1.6) {
		t.Errorf("%+v, %v", s, err)
	}
}

// Memory is flat: twice the draws take no more.
func TestSimulateMemory(t *testing.T) {
	in := yieldInputs()
	run := func(draws int) float64 {
		p := Plan{CoveragePct: 95, Digits: 2, MinDraws: draws, MaxDraws: draws}
		return testing.AllocsPerRun(2, func() {
			if _, err := Simulate(yield, in, p); err != nil {
				t.Fatal(err)
			}
		})
	}
	if few, many := run(2*Batch), run(20*Batch); few != many || many > 8 {
		t.Errorf("%v allocations for few, %v for many", few, many)
	}
}

func TestMeasured(t *testing.T) {
	m, err := Measured(Meter{Value: 11.4, Division: 0.1, Readings: 4, RepeatabilitySD: 0.2, RepeatabilityDF: 9, Accuracy: 0.5, CalibrationU: 0.3, CalibrationK: 2, CalibrationError: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	u := math.Sqrt(0.01/12 + 0.01 + 0.25/3 + 0.0225)
	want := Measurement{Quantity{11.3, u, 9 * math.Pow(u/0.1, 4), Normal, 0}, 0.1 / math.Sqrt(12), 0.1, 0.5 / math.Sqrt(3), 0.15}
	if d := cmp.Diff(want, m, cmp.Comparer(func(a, b float64) bool { return near(a, b, 1e-12) })); d != "" {
		t.Error(d)
	}
	for _, c := range []struct {
		m    Meter
		want Shape
	}{{Meter{Division: 1}, Rectangular}, {Meter{Accuracy: 1}, Rectangular}, {Meter{Division: 1, Accuracy: 1}, Normal}, {Meter{Division: 1, CalibrationU: 1, CalibrationK: 2}, Normal}} {
		if m, err := Measured(c.m); err != nil || m.Quantity.Shape != c.want {
			t.Errorf("%+v: %v, %v", c.m, m.Quantity.Shape, err)
		}
	}
	// Far from zero the scatter keeps its digits.
	q, err := FromReadings([]float64{1e9 + 1, 1e9 + 2, 1e9 + 3})
	if err != nil || !near(q.U, 1/math.Sqrt(3), 1e-9) || q.Value != 1e9+2 {
		t.Errorf("%+v, %v", q, err)
	}
	if r, err := MeansR([]float64{1, 1, 1}, []float64{1, 2, 3}); r != 0 || err != nil {
		t.Errorf("what never moves: %v, %v", r, err)
	}
}

func TestEarned(t *testing.T) {
	for _, c := range []struct {
		v, u       float64
		digits     int
		want, with string
		places     int
	}{
		{19, 0.1248, 2, "19.00", "0.12", 2},
		{19.0449, 0.1248, 1, "19.0", "0.1", 1},
		{19, 0.0999, 2, "19.00", "0.10", 2},
		{19, 0.0949, 1, "19.00", "0.09", 2},
		{-0.04, 0.13, 1, "0.0", "0.1", 1},
		{-0.06, 0.13, 1, "-0.1", "0.1", 1},
		{12345, 130, 2, "12340", "130", -1},
		{12355, 130, 2, "12360", "130", -1},
		{12345, 130, 1, "12300", "100", -2},
		{12345, 9.96, 2, "12345", "10", 0},
		{4, 13000, 1, "0", "10000", -4},
		{-4, 13000, 1, "0", "10000", -4},
		{1.5e-9, 2.3e-11, 2, "0.000000001500", "0.000000000023", 12},
	} {
		v, u, err := Earned(c.v, c.u, c.digits)
		if err != nil || v != c.want || u != c.with {
			t.Errorf("Earned(%v, %v, %d) = %q ± %q, %v; want %q ± %q", c.v, c.u, c.digits, v, u, err, c.want, c.with)
		}
		if p, err := Places(c.u, c.digits); err != nil || p != c.places {
			t.Errorf("Places(%v, %d) = %v, %v; want %d", c.u, c.digits, p, err, c.places)
		}
	}
	if v, u, err := Earned(19.25, 0, 2); v != "19.25" || u != "0" || err != nil {
		t.Errorf("an exact value: %q ± %q, %v", v, u, err)
	}
	room := make([]byte, 0, 64)
	if n := testing.AllocsPerRun(100, func() { _, _ = AppendEarned(room, 19.0449, 0.1248, 2) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
	// Rounding never moves a value by more than half a unit of its place.
	for _, u := range []float64{3e-7, 0.0149, 0.5, 1, 9.95, 123, 5e6} {
		for _, v := range []float64{0, 1, -17.35, 1e6 / 7, 1e12 / 3} {
			s, _, err := Earned(v, u, 2)
			if err != nil {
				t.Fatal(err)
			}
			got, err := strconv.ParseFloat(s, 64)
			p, _ := Places(u, 2)
			if half := 0.5 * math.Pow(10, float64(-p)); err != nil || math.Abs(got-v) > half*(1+1e-9)+1e-15*math.Abs(v) {
				t.Errorf("%v ± %v became %q", v, u, s)
			}
		}
	}
}

func TestLine(t *testing.T) {
	x, y := []float64{10, 11, 12, 13}, []float64{10.2, 11.1, 12.3, 13.2}
	l, err := FitLine(0, x, y)
	if err != nil {
		t.Fatal(err)
	}
	// The origin of x changes nothing but where the intercept stands.
	m, err := FitLine(11.5, x, y)
	if err != nil || !near(m.Slope, l.Slope, 1e-12) || math.Abs(m.R) > 1e-12 || !near(m.Intercept, l.Intercept+11.5*l.Slope, 1e-12) {
		t.Errorf("%+v against %+v, %v", m, l, err)
	}
	for _, at := range []float64{10, 11.5, 13, 20} {
		a, na, _ := OnLine(l, at)
		b, nb, _ := OnLine(m, at)
		if !near(a.Value, b.Value, 1e-12) || !near(a.U, b.U, 1e-9) || na != nb || (na == OutsideLine) != (at > 13) {
			t.Errorf("at %v: %+v %v, %+v %v", at, a, na, b, nb)
		}
		back, _, err := ReadBack(l, a.Value, 3)
		if err != nil || !near(back.Value, at, 1e-12) || !(back.U > l.ResidualSD/l.Slope/2) {
			t.Errorf("%v came back as %+v, %v", at, back, err)
		}
	}
	if _, _, err := ReadBack(Line{Slope: 1e-10, SumX: 1, N: 3}, 1e10, 1); refused(err) == nil {
		t.Error("an x beyond all magnitude was not refused")
	}
}

func TestInsidePct(t *testing.T) {
	few, _ := InsidePct(Quantity{U: 1, DF: 3}, -2, 2)
	many, _ := InsidePct(Quantity{U: 1}, -2, 2)
	if !near(many, 95.449973610364, 1e-9) || !near(few, 86.067, 1e-4) {
		t.Errorf("3 degrees of freedom %v, many %v", few, many)
	}
	exact, _ := InsidePct(Quantity{Value: 2}, -2, 2)
	out, _ := InsidePct(Quantity{Value: 2.1}, -2, 2)
	far, err := InsidePct(Quantity{Value: -30, U: 1}, 0, inf)
	if exact != 100 || out != 0 || err != nil || !(far > 0 && far < 1e-190) {
		t.Errorf("%v %v %v %v", exact, out, far, err)
	}
	if tiny, err := InsidePct(Quantity{U: 5e-324, DF: 2}, -1, 1); err != nil || tiny != 100 {
		t.Errorf("%v, %v", tiny, err)
	}
}

func TestNames(t *testing.T) {
	if s := (Curved | NotSettled).String(); s != "the formula is curved over this uncertainty; simulate instead; the draws did not settle to the digits asked for" {
		t.Error(s)
	}
	if Normal.String() != "normal" || CurvedTrapezoid.String() != "curved trapezoid" || shapes.String() != "no shape" {
		t.Error("shapes are misnamed")
	}
}

func FuzzPropagate(f *testing.F) {
	f.Add(36.0, 0.1, 0.0, 18.0, 0.05, 9.0, 0.5, uint8(0)) // ordinary
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, uint8(0))    // 0/0
	f.Add(1.0, 5e-324, 1.0, 1.0, 1e15, 1.0, 1.0, uint8(4))
	f.Add(1e15, 1e15, 1e300, -1e15, 1e-300, 1.0, -1.0, uint8(5))
	f.Fuzz(func(t *testing.T, a, ua, na, b, ub, nb, r float64, shape uint8) {
		in := []Quantity{{a, ua, na, Shape(shape % 7), 0}, {b, ub, nb, Normal, 0}}
		for _, m := range []Model{
			func(x []float64) float64 { return x[0] / x[1] },
			func(x []float64) float64 { return math.Exp(x[0]) * x[1] },
		} {
			got, err := Propagate(m, in, Correlation{0, 1, r})
			if err != nil {
				var no *ImpossibleError
				if refused(err) == nil && !errors.As(err, &no) || got.Budget != nil {
					t.Fatalf("%+v, %v", got, err)
				}
				continue
			}
			if v := got.Value + got.U + got.SecondU + got.Shift + got.Budget[0].SharePct + got.Budget[1].U; math.IsNaN(v) || math.IsInf(v, 0) || math.IsNaN(got.DF) {
				t.Fatalf("%+v", got)
			}
		}
	})
}

func FuzzEarned(f *testing.F) {
	f.Add(19.0, 0.1248, 2)
	f.Add(math.Copysign(0, -1), 5e-324, 1) // a negative zero, too small an uncertainty
	f.Add(1e15, 1e-300, 2)                 // every digit and many zeros
	f.Add(9.995, 0.00995, 1)               // carries
	f.Add(-1e15, 9.999e14, 1)              // rounds to more than was given
	f.Fuzz(func(t *testing.T, v, u float64, digits int) {
		a, b, err := Earned(v, u, digits)
		if err != nil {
			if refused(err) == nil || a+b != "" {
				t.Fatal(a, b, err)
			}
			return
		}
		for _, s := range []string{a, b} {
			if x, err := strconv.ParseFloat(s, 64); err != nil || math.IsInf(x, 0) || s == "-0" {
				t.Fatalf("%v ± %v: %q, %v", v, u, s, err)
			}
		}
	})
}

// A narrow limit, and degrees of freedom without number, keep their digits:
// the density's integral and Cornish and Fisher's expansion, in mpmath.
func TestManyDegreesOfFreedom(t *testing.T) {
	for _, c := range []struct{ df, lo, hi, want float64 }{
		{1e6, 0, 1e-6, 3.989421806658085e-5}, {9e9, 0, 1e-3, 0.03989422138999809}, {0, 0, 1e-9, 3.989422804014327e-8},
		{1, -1e-12, 0, 3.183098861837907e-11}, {1e6, 0.5, 0.5 + 0x1p-20, 3.357554591196654e-5},
		{1e11, 10, math.Inf(1), 100 * (7.619853024160527e-24 + 7.694598626706420e-23*1010/4e11)}, // Φ(−10) and φ(10)·(10³ + 10)/4ν
	} {
		p, err := InsidePct(Quantity{U: 1, DF: c.df}, c.lo, c.hi)
		if err != nil || !near(p, c.want, 1e-9) { // from ½ on a difference of two shares
			t.Errorf("%+v: %v, %v", c, p, err)
		}
	}
	for _, c := range [][3]float64{{95, 9e9, 1.95996398480364}, {95, 1e9, 1.95996398691233}, {50, 9e9, 0.674489750223341}} {
		if k, err := CoverageFactor(c[0], c[1]); err != nil || !near(k, c[2], 1e-11) {
			t.Errorf("%v %% with %v: %v, %v; want %v", c[0], c[1], k, err, c[2])
		}
	}
}

// A line by hand is refused by what is read of it, and never gives a number
// that is none.
func TestLinesByHand(t *testing.T) {
	good := Line{Slope: 2, Intercept: 1, SlopeU: 0.1, ResidualSD: 0.2, DF: 3, MaxX: 4, MeanX: 2, SumX: 10, N: 5}
	if _, _, err := OnLine(good, 1); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		change func(*Line, float64)
		field  string
		value  []float64
	}{
		{func(l *Line, v float64) { l.X0 = v }, "l.X0", []float64{nan, inf, -2e15}},
		{func(l *Line, v float64) { l.Intercept = v }, "l.Intercept", []float64{nan, -inf, 1e201}},
		{func(l *Line, v float64) { l.Slope = v }, "l.Slope", []float64{nan, inf, -1e201}},
		{func(l *Line, v float64) { l.SlopeU = v }, "l.SlopeU", []float64{nan, inf, -1}},
		{func(l *Line, v float64) { l.ResidualSD = v }, "l.ResidualSD", []float64{nan, inf, -1}},
		{func(l *Line, v float64) { l.DF = v }, "l.DF", []float64{nan, inf, -1}},
		{func(l *Line, v float64) { l.MinX = v }, "l.MinX", []float64{nan, inf}},
		{func(l *Line, v float64) { l.MaxX = v }, "l.MaxX", []float64{nan, inf}},
		{func(l *Line, v float64) { l.MeanX = v }, "l.MeanX", []float64{nan, inf}},
		{func(l *Line, v float64) { l.SumX = v }, "l.SumX", []float64{nan, inf, 0}},
	} {
		for _, v := range c.value {
			l := good
			c.change(&l, v)
			_, _, on := OnLine(l, 1)
			_, _, back := ReadBack(l, 1, 1)
			for _, err := range []error{on, back} {
				if names := refused(err); len(names) != 1 || names[0] != c.field {
					t.Errorf("%s %v: %v", c.field, v, err)
				}
			}
		}
	}
	// Whatever is accepted gives finite answers, and what is not gives ranges
	// whose ends are accepted.
	var few int
	for _, slope := range []float64{0, 5e-324, 1e-300, -1e-10, 0.5, -3, 1e200} {
		for _, slopeU := range []float64{0, 1e-12, 1} {
			for _, intercept := range []float64{0, 1e15, -1e20, 1e200} {
				for _, sum := range []float64{5e-324, 1, 1e300} {
					for _, y := range []float64{0, 100, -1e15} {
						l := Line{X0: 3, Intercept: intercept, Slope: slope, SlopeU: slopeU, ResidualSD: 7, DF: 3, MaxX: 4, MeanX: -1e15, SumX: sum, N: 5}
						q, _, err := OnLine(l, 1e15)
						if err != nil || math.IsNaN(q.Value+q.U) || math.IsInf(q.Value, 0) || math.IsInf(q.U, 0) {
							t.Fatalf("%+v: %+v, %v", l, q, err)
						}
						q, _, err = ReadBack(l, y, 1)
						if err == nil {
							if math.IsNaN(q.Value+q.U) || math.IsInf(q.Value, 0) || math.IsInf(q.U, 0) {
								t.Fatalf("%+v at %v: %+v", l, y, q)
							}
							continue
						}
						few++
						var none *ImpossibleError
						var in *InputError
						field, least, most := "", 0.0, 0.0
						if errors.As(err, &none) {
							field, least, most = none.Field, none.Min, none.Max
						} else if errors.As(err, &in) {
							field, least, most = in.Fields[0].Field, in.Fields[0].Min, in.Fields[0].Max
						}
						for _, v := range []float64{least, most} {
							m, at := l, y
							switch field {
							case "y":
								at = v
							case "l.Slope":
								m.Slope = v
							case "l.SlopeU":
								m.SlopeU = v
							case "l.Intercept":
								m.Intercept = v
							case "l.ResidualSD":
								m.ResidualSD = v
							default:
								t.Fatalf("%v", err)
							}
							if _, _, again := ReadBack(m, at, 1); again != nil {
								if r := refused(again); len(r) == 1 && r[0] == field || none != nil {
									t.Fatalf("%+v at %v: %v, but with %v: %v", l, y, err, v, again)
								}
							}
						}
					}
				}
			}
		}
	}
	if few < 100 {
		t.Errorf("%d refusals only", few)
	}
}

// The steps are those that floats take: a small uncertainty beside a large
// value keeps its size down to the limit, and below is refused.
func TestSmallBesideTheValue(t *testing.T) {
	same := func(x []float64) float64 { return x[0] }
	for _, value := range []float64{1, 1.0000001, 1.9999999, 3, -7.3, 1e9 / 7, 1e15} {
		for _, share := range []float64{1e-3, 1e-6, 1.1e-9, 0.9e-9, 1e-11, 1.001e-12} {
			u := share * math.Abs(value)
			in := []Quantity{{Value: value, U: u}}
			r, err := Propagate(same, in)
			if err != nil || !near(r.U, u, 1e-12) || !near(r.SecondU, u, 1e-10) || math.Abs(r.Shift) > 1e-10*u || r.Notes != 0 {
				t.Errorf("%v ± %v: %+v, %v", value, u, r, err)
			}
			// A square rounds by itself: U = 2·x·u and no more.
			r, err = Propagate(func(x []float64) float64 { return x[0] * x[0] / value }, in)
			if err != nil || !near(r.U, 2*u, 2e-3) || !near(r.SecondU, 2*u, 0.02) || r.Notes != 0 {
				t.Errorf("square of %v ± %v: %+v, %v", value, u, r, err)
			}
			// A product with another: both steps, and the mixed terms.
			r, err = Propagate(func(x []float64) float64 { return (x[0] - value) / u * x[1] }, []Quantity{in[0], {Value: 5, U: 2}})
			if err != nil || !near(r.U, 5, 1e-9) || !near(r.SecondU, math.Sqrt(29), 1e-9) {
				t.Errorf("beside %v ± %v: %+v, %v", value, u, r, err)
			}
		}
		for _, share := range []float64{0.999e-12, 1e-15, 1e-300} {
			in := []Quantity{{Value: 2}, {Value: value, U: share * math.Abs(value)}}
			_, err := Propagate(same, in)
			_, err2 := Simulate(same, in, Plan{CoveragePct: 95, Digits: 1, MaxDraws: 2 * Batch})
			for _, err := range []error{err, err2} {
				var bad *InputError
				if !errors.As(err, &bad) || bad.Fields[0].Field != "inputs[1].U" || bad.Fields[0].Min != 1e-12*math.Abs(value) {
					t.Errorf("%v: %v", in, err)
				}
			}
		}
	}
	// Nothing beside 0 is small.
	if r, err := Propagate(same, []Quantity{{U: 1e-150}}); err != nil || !near(r.U, 1e-150, 1e-12) {
		t.Errorf("%+v, %v", r, err)
	}
}

// An uncertainty that a refusal names makes the answer exist, at both ends.
func TestWaysOutOfNoSpread(t *testing.T) {
	plan := Plan{CoveragePct: 95, Digits: 1, MaxDraws: 2 * Batch}
	for name, c := range map[string]struct {
		f     Model
		in    []Quantity
		field string
	}{
		"second":  {func(x []float64) float64 { return x[0] + math.Sqrt(x[1]) }, []Quantity{{Value: 1}, {Value: 0.1, U: 0.4}}, "inputs[1].U"},
		"bounded": {func(x []float64) float64 { return math.Sqrt(x[1] - x[0]) }, []Quantity{{Value: 1, U: 1e-3}, {Value: 2, U: 3, Shape: Rectangular}}, "inputs[1].U"},
		"first":   {func(x []float64) float64 { return math.Log(x[0]) * x[1] }, []Quantity{{Value: 1, U: 2.5}, {Value: 2, U: 1}}, "inputs[0].U"},
		"pair":    {func(x []float64) float64 { return math.Sqrt(2.4 - x[0] - x[1]) }, []Quantity{{Value: 1, U: 0.7, Shape: Rectangular}, {Value: 1, U: 0.1, Shape: Rectangular}}, "inputs[0].U"},
		"both":    {func(x []float64) float64 { return math.Sqrt(x[0]) + math.Sqrt(x[1]) }, []Quantity{{Value: 1, U: 3}, {Value: 1, U: 3}}, "inputs[].U"},
	} {
		for kind, f := range map[string]func(in []Quantity) error{
			"propagate": func(in []Quantity) error { _, err := Propagate(c.f, in); return err },
			"simulate":  func(in []Quantity) error { _, err := Simulate(c.f, in, plan); return err },
		} {
			err := f(c.in)
			var none *ImpossibleError
			if !errors.As(err, &none) {
				if err != nil || name != "pair" {
					t.Errorf("%s, %s: %v", name, kind, err)
				}
				continue
			}
			if none.Field != c.field {
				t.Errorf("%s, %s: %v", name, kind, err)
			}
			for _, u := range []float64{none.Min, none.Max} {
				in := append([]Quantity(nil), c.in...)
				for i := range in {
					if none.Field == "inputs[].U" || none.Field == "inputs["+strconv.Itoa(i)+"].U" {
						in[i].U = u
					}
				}
				if again := f(in); again != nil {
					t.Errorf("%s, %s: %v; with %v: %v", name, kind, err, u, again)
				}
			}
		}
	}
	// No uncertainty mends a formula that has no value.
	for _, y := range []float64{nan, inf} {
		f := func([]float64) float64 { return y }
		_, err := Propagate(f, []Quantity{{U: 1}})
		_, err2 := Simulate(f, []Quantity{{U: 1}}, plan)
		for _, err := range []error{err, err2} {
			if names := refused(err); len(names) != 1 || names[0] != "f" {
				t.Errorf("%v: %v", y, err)
			}
		}
	}
}
