package degas

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

func TestFitRefusals(t *testing.T) {
	nan := math.NaN()
	good := func() Weighings {
		return weighed(rand.New(rand.NewPCG(1, 2)), bent, 200, 0.01, 0.01, 0, ages)
	}
	jar := func() Jar {
		j := Jar{VolumeML: 2000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 0.1, RepeatabilityKPa: 0.2, WithinPct: 50}
		return jarred(rand.New(rand.NewPCG(1, 2)), bent, j, ages)
	}
	weigh := func(change func(w *Weighings)) func() error {
		return func() error {
			w := good()
			change(&w)
			f, err := FitWeighings(w, Stretched{})
			if err != nil && f.Estimates != nil {
				t.Error("estimates beside an error")
			}
			return err
		}
	}
	press := func(change func(j *Jar)) func() error {
		return func() error {
			j := jar()
			change(&j)
			return second(FitJar(j, Stretched{}))
		}
	}
	for name, c := range map[string]struct {
		err  func() error
		want []string
	}{
		"no shape":         {func() error { return second(FitWeighings(good(), nil)) }, []string{"like"}},
		"pointer":          {func() error { return second(FitJar(jar(), &Stretched{})) }, []string{"like"}},
		"sphere no radius": {func() error { return second(FitWeighings(good(), Sphere{})) }, []string{"RadiusMM"}},
		"sheet no size":    {func() error { return second(FitJar(jar(), Sheet{})) }, []string{"HalfThicknessMM"}},
		"zero weighings":   {func() error { return second(FitWeighings(Weighings{}, Stretched{})) }, []string{"Readings", "DivisionG", "WithinPct"}},
		"zero jar":         {func() error { return second(FitJar(Jar{}, Stretched{})) }, []string{"Readings", "VolumeML", "CoffeeG", "DensityGPerML", "ResolutionKPa", "WithinPct"}},
		"too few":          {weigh(func(w *Weighings) { w.Readings = w.Readings[:5] }), []string{"Readings"}},
		"order":            {weigh(func(w *Weighings) { w.Readings[4].Days = w.Readings[3].Days }), []string{"Readings[4].Days"}},
		"age and mass":     {weigh(func(w *Weighings) { w.Readings[1] = Weighing{nan, decimal.Zero} }), []string{"Readings[1].Days", "Readings[1].MassG"}},
		"mass too long":    {weigh(func(w *Weighings) { w.Readings[1].MassG = decimal.New(1, 10000) }), []string{"Readings[1].MassG"}},
		"mass too fine":    {weigh(func(w *Weighings) { w.Readings[1].MassG = decimal.New(1, -10000) }), []string{"Readings[1].MassG"}},
		"division":         {weigh(func(w *Weighings) { w.DivisionG = decimal.Zero }), []string{"DivisionG"}},
		"all at once": {weigh(func(w *Weighings) {
			w.RepeatabilityG, w.DriftGPerDay, w.PickupMgPerGDay, w.PickupUncertaintyMgPerGDay, w.WithinPct = -1, nan, 11, math.Inf(1), 0.5
		}), []string{"RepeatabilityG", "DriftGPerDay", "PickupMgPerGDay", "PickupUncertaintyMgPerGDay", "WithinPct"}},
		"jar too full":     {press(func(j *Jar) { j.CoffeeG = 1600 }), []string{"VolumeML"}},
		"volume unknown":   {press(func(j *Jar) { j.VolumeUncertaintyML = 400 }), []string{"VolumeUncertaintyML"}},
		"pressure":         {press(func(j *Jar) { j.Readings[2] = JarReading{-1, nan} }), []string{"Readings[2].Days", "Readings[2].PressureKPa"}},
		"jar order":        {press(func(j *Jar) { j.Readings[2].Days = 0 }), []string{"Readings[2].Days"}},
		"jar all the rest": {press(func(j *Jar) { j.TempC, j.ResolutionKPa, j.RepeatabilityKPa, j.DriftKPaPerDay = 70, 0, -1, nan }), []string{"TempC", "ResolutionKPa", "RepeatabilityKPa", "DriftKPaPerDay"}},
	} {
		err := c.err()
		if err == nil {
			t.Errorf("%s: accepted", name)
			continue
		}
		if diff := cmp.Diff(c.want, fields(t, err)); diff != "" {
			t.Errorf("%s: fields (-want +got):\n%s", name, diff)
		}
	}
}

// Where the readings cannot tell, there is no answer.
func TestFitCannotTell(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	// Half a day says little about a release of weeks.
	early := []float64{0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5}
	if _, err := FitWeighings(weighed(rng, bent, 200, 0.01, 0.01, 0, early), Stretched{}); err == nil {
		t.Error("half a day of weighings passed")
	} else {
		e := impossible(t, err, err.(*ImpossibleError).Field)
		if e.Quantity != "release curve" {
			t.Errorf("%v", e)
		}
	}
	// A balance that drifts by an unknown amount hides the tail.
	w := weighed(rng, bent, 200, 0.01, 0.01, 0, ages)
	w.DriftGPerDay, w.WithinPct = 0.5, 10
	err := second(FitWeighings(w, Stretched{}))
	e := impossible(t, err, "WithinPct")
	w.WithinPct = math.Min(100, e.Min*1.001)
	if f, err := FitWeighings(w, Stretched{}); err != nil {
		t.Errorf("within %v %%, said to be possible: %v", w.WithinPct, err)
	} else if got := 100 * (f.Estimates[0].High/f.Estimates[0].Value - 1); !near(got, e.Min, 1e-6) {
		t.Errorf("open by %v %%, said to be %v", got, e.Min)
	}
	// Stale coffee: nothing but noise.
	flat := weighed(rng, Coffee{0, bent.Curve}, 200, 0.01, 0.01, 0, ages)
	if f, err := FitWeighings(flat, Stretched{}); err == nil {
		t.Errorf("noise gave %v mg/g", f.Coffee.GasMgPerG)
	}
	// A sample that gains.
	damp := weighed(rng, Coffee{0.001, bent.Curve}, 200, 0.01, 0.01, 0.1, ages)
	if f, err := FitWeighings(damp, FirstOrder{}); err == nil {
		t.Errorf("a sample that gains weight gave %v mg/g", f.Coffee.GasMgPerG)
	}
}

// Wrong shapes and wrong statements show.
func TestFitShowsMisfit(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	w := weighed(rng, bent, 200, 0.001, 0.001, 0, ages)
	one, err := FitWeighings(w, FirstOrder{})
	if err != nil {
		t.Fatal(err)
	}
	if one.Notes&ScatterExceedsStated == 0 {
		t.Error("one pool through a long tail raised no note")
	}
	right, err := FitWeighings(w, Stretched{})
	if err != nil {
		t.Fatal(err)
	}
	two, err := FitWeighings(w, TwoPools{})
	if err != nil {
		t.Fatal(err)
	}
	ranks, err := Compare(one, right, two)
	if err != nil {
		t.Fatal(err)
	}
	if ranks[1].Delta != 0 || !(ranks[0].Delta > 10) || !(ranks[2].Delta > 2) {
		t.Errorf("the true shape does not win: %v", ranks)
	}
	if sum := ranks[0].WeightPct + ranks[1].WeightPct + ranks[2].WeightPct; !near(sum, 100, 1e-12) {
		t.Errorf("beliefs sum to %v", sum)
	}
	for i, r := range ranks {
		if !near(r.WeightPct/ranks[1].WeightPct, math.Exp(-(r.AICc-ranks[1].AICc)/2), 1e-9) {
			t.Errorf("belief in %d: %v", i, r)
		}
	}
	// By hand from the definition, for one of them.
	c := math.Max(1, math.Min(right.ChiSquare/float64(right.DF), two.ChiSquare/float64(two.DF)))
	if want := right.ChiSquare/c + 8 + 40.0/(13-4-1); !near(ranks[1].AICc, want, 1e-12) {
		t.Errorf("AICc %v, want %v", ranks[1].AICc, want)
	}
	// The residuals are what the fit leaves.
	sum := 0.0
	for _, r := range right.Residuals {
		sum += r.InSigmas * r.InSigmas
	}
	if !near(sum, right.ChiSquare, 1e-9) || len(right.Residuals) != len(ages) || right.DF != len(ages)-4 {
		t.Errorf("residuals sum to %v, χ² is %v on %d degrees", sum, right.ChiSquare, right.DF)
	}
	// The same readings, said to be ten times better than they are: the
	// intervals follow the residuals and come out nearly the same.
	w.RepeatabilityG = 0.0001
	w.DivisionG = decimal.New(1, -4)
	tight, err := FitWeighings(w, Stretched{})
	if err != nil {
		t.Fatal(err)
	}
	if tight.Notes&ScatterExceedsStated == 0 {
		t.Error("a false statement raised no note")
	}
	a, b := right.Estimates[0], tight.Estimates[0]
	if !near(a.Value, b.Value, 1e-3) || !(b.High-b.Low > 0.3*(a.High-a.Low)) {
		t.Errorf("%v with the true statement, %v with a false one", a, b)
	}
	// Comparison wants the same readings.
	other, err := FitWeighings(weighed(rng, bent, 200, 0.001, 0.001, 0, ages[1:]), Stretched{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Compare(right, other); err == nil {
		t.Error("fits of different readings were compared")
	} else if diff := cmp.Diff([]string{"fits[1]"}, fields(t, err)); diff != "" {
		t.Error(diff)
	}
	// Another sample on the same days, and the same one said to be read finer.
	sample := weighed(rng, bent, 300, 0.001, 0.001, 0, ages)
	for _, r := range []float64{0.001, 0.0001} {
		same := sample
		same.RepeatabilityG = r
		if other, err = FitWeighings(same, Stretched{}); err != nil {
			t.Fatal(err)
		}
		if _, err := Compare(right, other); err == nil {
			t.Error("fits of two samples were compared")
		}
		if _, err := Compare(other, other); err != nil {
			t.Error(err)
		}
	}
	if _, err := Compare(right); err == nil {
		t.Error("one fit was compared")
	}
	if _, err := Compare(Fit{}, Fit{}); err == nil {
		t.Error("zero fits were compared")
	}
}

// A Fit that was put together by hand has no spread to tell a band from.
func TestBandOfNoFit(t *testing.T) {
	for _, days := range []float64{0, 1} {
		_, err := Fit{Coffee: Coffee{10, FirstOrder{1}}, Estimates: make([]Estimate, 2)}.Left(days)
		if diff := cmp.Diff([]string{"Estimates"}, fields(t, err)); diff != "" {
			t.Error(diff)
		}
	}
}

func TestFitBands(t *testing.T) {
	f, err := FitWeighings(weighed(rand.New(rand.NewPCG(5, 5)), bent, 200, 0.01, 0.01, 0, ages), Stretched{})
	if err != nil {
		t.Fatal(err)
	}
	for _, days := range []float64{0, 1e-3, 0.5, 3, 30, 400, MaxDays} {
		b, err := f.Left(days)
		if err != nil {
			t.Fatal(err)
		}
		if !(0 <= b.LowPct && b.LowPct <= b.LeftPct && b.LeftPct <= b.HighPct && b.HighPct <= 100) ||
			!(b.LowMgPerG <= b.LeftMgPerG && b.LeftMgPerG <= b.HighMgPerG) {
			t.Errorf("at %v: %v", days, b)
		}
	}
	// At t = 0 the band of the amount is the interval of the content.
	b, _ := f.Left(0)
	if e := f.Estimates[0]; !near(b.HighMgPerG, e.High, 1e-6) || !near(b.LowMgPerG, e.Low, 1e-6) {
		t.Errorf("%v at 0, the content is %v", b, e)
	}
	if _, err := f.Left(-1); err == nil {
		t.Error("a negative age passed")
	}
	if _, err := (Fit{}).Left(1); err == nil {
		t.Error("the zero Fit passed")
	}
	// Correlation is symmetrical, one with itself, and never beyond.
	for i := range f.Correlation {
		for j, r := range f.Correlation[i] {
			if r != f.Correlation[j][i] && !near(r, f.Correlation[j][i], 1e-9) || !(math.Abs(r) <= 1) || i == j && r != 1 {
				t.Errorf("correlation %d, %d is %v", i, j, r)
			}
		}
	}
	// Content and time of a long tail go together.
	if !(f.Correlation[0][1] > 0.5) {
		t.Errorf("content and time correlate by %v", f.Correlation[0][1])
	}
	// A rise of pressure that holds the coffee back is said.
	j := Jar{VolumeML: 600, CoffeeG: 300, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 0.1, RepeatabilityKPa: 0.2, WithinPct: 50}
	g, err := FitJar(jarred(nil, bent, j, ages), Stretched{})
	if err != nil || g.Notes&BackPressure == 0 {
		t.Errorf("no note of back-pressure: %v, %v", g.Notes, err)
	}
}

// The volume's uncertainty is the content's, and not the shape's.
func TestFitJarVolume(t *testing.T) {
	j := Jar{VolumeML: 2000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 0.01, RepeatabilityKPa: 0.01, WithinPct: 50}
	j = jarred(rand.New(rand.NewPCG(8, 8)), bent, j, ages)
	sure, err := FitJar(j, Stretched{})
	if err != nil {
		t.Fatal(err)
	}
	j.VolumeUncertaintyML = 87.5 // a twentieth of 1750
	unsure, err := FitJar(j, Stretched{})
	if err != nil {
		t.Fatal(err)
	}
	got := math.Hypot(sure.Estimates[0].SE/sure.Estimates[0].Value, 0.05)
	if e := unsure.Estimates[0]; !near(e.SE/e.Value, got, 1e-9) {
		t.Errorf("relative uncertainty %v, want %v", e.SE/e.Value, got)
	}
	if a, b := sure.Estimates[1], unsure.Estimates[1]; a != b {
		t.Errorf("the time changed from %v to %v", a, b)
	}
}

func FuzzFitWeighings(f *testing.F) {
	f.Add(uint64(1), 8.0, 4.0, 0.65, 0.01, uint8(12))      // an ordinary experiment
	f.Add(uint64(2), 0.1, 1e-5, 0.1, 1e-5, uint8(6))       // at the limits, few readings
	f.Add(uint64(3), 50.0, 36500.0, 2.0, 100.0, uint8(40)) // all lost in the division
	f.Fuzz(func(t *testing.T, seed uint64, gas, tau, beta, division float64, n uint8) {
		rng := rand.New(rand.NewPCG(seed, 1))
		if !(gas > 0 && gas < 100 && division > 1e-6 && division < 1e3) {
			return
		}
		c := Stretched{tau, beta}
		if c.check(nil) != nil {
			return
		}
		at := make([]float64, int(n%40))
		last := 0.0
		for i := range at {
			last += rng.ExpFloat64()
			at[i] = last
		}
		if len(at) == 0 {
			return
		}
		w := weighed(rng, Coffee{gas, c}, 100+900*rng.Float64(), division, division, 0, at)
		w.PickupUncertaintyMgPerGDay = 0.01 * float64(seed%3)
		for _, like := range []Curve{FirstOrder{}, Stretched{}, TwoPools{}, Sphere{RadiusMM: 1}, Sheet{HalfThicknessMM: 1}} {
			fit, err := FitWeighings(w, like)
			if err != nil {
				if fit.Estimates != nil || err.Error() == "" {
					t.Fatalf("%v beside %v", fit.Estimates, err)
				}
				continue
			}
			for _, e := range fit.Estimates {
				if !(e.Low <= e.Value && e.Value <= e.High) || math.IsInf(e.High, 0) || !(e.SE > 0) {
					t.Fatalf("%#v: %v", like, e)
				}
			}
			if _, err := fit.Left(3); err != nil {
				t.Fatal(err)
			}
		}
	})
}
