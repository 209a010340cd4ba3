package headspace

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/evenlot/internal/num"
	"github.com/google/go-cmp/cmp"
)

// bags flushes bags of 750 mL at 20 L/min through a known nozzle, with a
// spread in ln(oxygen), and reads them to a resolution.
func bags(rng *rand.Rand, nozzlePct, sd, resolution float64, seconds ...float64) Trial {
	return bagsFrom(0.05, rng, nozzlePct, sd, resolution, seconds...)
}

func bagsFrom(supply float64, rng *rand.Rand, nozzlePct, sd, resolution float64, seconds ...float64) Trial {
	t := Trial{StartPct: AirOxygenPct, SupplyPct: supply, ResolutionPct: resolution}
	if resolution == 0 {
		t.ResolutionPct = 1e-4
	}
	for _, s := range seconds {
		y := blend(t.StartPct, t.SupplyPct, nozzleShare(volumes(750, 20, s), nozzlePct/100))
		if sd > 0 {
			y *= math.Exp(sd * rng.NormFloat64())
		}
		if resolution > 0 {
			y = resolution * math.Round(y/resolution)
		}
		t.Readings = append(t.Readings, Reading{750, 20, s, y})
	}
	return t
}

var times = []float64{3, 3, 4, 4, 5, 5, 6, 6, 7, 7}

func fitted(t *testing.T, trial Trial) NozzleFit {
	t.Helper()
	f, err := FitNozzle(trial)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Readings without spread give back the nozzle that made them.
func TestFitRecovers(t *testing.T) {
	for _, q := range []float64{-95, -60, -20, 0, 15, 40, 70} {
		f := fitted(t, bags(nil, q, 0, 0, times...))
		if !(math.Abs(f.NozzlePct-q) < 1e-5 && f.SDLn < 1e-6 && f.SEPct < 1e-4) || f.Outliers != 0 || f.Notes != 0 {
			t.Errorf("nozzle %v came back as %+v", q, f)
		}
		if f.DF != 9 || f.Count != 10 || f.WithoutPct != f.NozzlePct {
			t.Errorf("%+v", f)
		}
	}
}

// k95 are the one-sided tolerance factors for 95 % of the population with 95 %
// confidence from n readings. Source: ISO 16269-6:2014 and standard tables;
// from memory.
var k95 = [...]float64{3: 7.656, 4: 5.144, 5: 4.203, 6: 3.708, 7: 3.399, 8: 3.187, 9: 3.031, 10: 2.911}

// Over many trials the intervals hold what they promise: the nozzle within
// its t interval, the next bag within its prediction interval, and the stated
// share of bags under the limit with the stated confidence.
func TestFitKeepsItsPromises(t *testing.T) {
	const trials, sd = 1000, 0.15
	rng := rand.New(rand.NewPCG(7, 11))
	quantile := num.StudentQuantile(0.975, 9)
	for _, q := range []float64{-45, 20} {
		var inside, predicted, assured int
		for range trials {
			f := fitted(t, bags(rng, q, sd, 0, times...))
			if math.Abs(f.NozzlePct-q) <= quantile*f.SEPct {
				inside++
			}
			p, err := PredictOxygen(f, Setting{750, 20, 6.5, 90})
			if err != nil {
				t.Fatal(err)
			}
			next := bags(rng, q, sd, 0, 6.5).Readings[0].OxygenPct
			if p.LowPct <= next && next <= p.HighPct {
				predicted++
			}
			// 95 % of bags with 95 % confidence, for as many readings as the fit
			// is worth at the answer.
			s, err := ShortestTime(f, Assurance{750, 20, 2.5, k95[10]})
			for n := 9; err == nil && s.EffectiveCount < float64(n+1) && n >= 3; n-- {
				s, err = ShortestTime(f, Assurance{750, 20, 2.5, k95[n]})
			}
			if err != nil {
				t.Fatal(err)
			}
			median := blend(AirOxygenPct, 0.05, nozzleShare(volumes(750, 20, s.Seconds), q/100))
			if num.NormalCDF(math.Log(2.5/median)/sd) >= 0.95 {
				assured++
			}
		}
		for _, c := range []struct {
			what     string
			got      int
			low, top float64
		}{
			// Bands of three standard deviations of a count of 1000.
			{"nozzle in its 95 % interval", inside, 0.929, 0.971},
			{"bag in its 90 % interval", predicted, 0.871, 0.929},
			{"95 % of bags under the limit", assured, 0.929, 1},
		} {
			if share := float64(c.got) / trials; share < c.low || share > c.top {
				t.Errorf("nozzle %v: %s in %.1f %% of trials", q, c.what, 100*share)
			}
		}
	}
}

// Readings of 0 enter by their likelihood: the fit is the maximum of the
// likelihood written down directly and searched over a grid.
func TestFitOfZerosIsTheLikeliest(t *testing.T) {
	trial := bagsFrom(0, rand.New(rand.NewPCG(3, 5)), 0, 0.25, 0.1, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 14, 14)
	f := fitted(t, trial)
	if f.Censored < 3 || f.Notes&HasCensored == 0 {
		t.Fatalf("%+v", f)
	}
	like := func(q, sd float64) float64 {
		sum := 0.0
		for _, r := range trial.Readings {
			mean := math.Log(AirOxygenPct * nozzleShare(volumes(r.FreeML, r.FlowLPerMin, r.Seconds), q))
			if r.OxygenPct < 0.3-1e-12 {
				lo, hi := math.Inf(-1), math.Log(r.OxygenPct+0.05)
				if r.OxygenPct > 0.05 {
					lo = math.Log(r.OxygenPct - 0.05)
				}
				sum += math.Log(num.NormalCDF((hi-mean)/sd) - num.NormalCDF((lo-mean)/sd))
				continue
			}
			z := (math.Log(r.OxygenPct) - mean) / sd
			sum += -z*z/2 - math.Log(sd)
		}
		return sum
	}
	// The reported spread has n−1 below it; the maximum of the likelihood has n,
	// which moves the maximum a little where there are intervals.
	best, bestQ := math.Inf(-1), 0.0
	for q := -0.5; q < 0.5; q += 0.0005 {
		if l := like(q, f.SDLn); l > best {
			best, bestQ = l, q
		}
	}
	if !(math.Abs(100*bestQ-f.NozzlePct) <= 0.06) {
		t.Errorf("the grid finds %v, the fit %v", 100*bestQ, f.NozzlePct)
	}
	// The standard error is the curvature of that likelihood.
	const h = 2e-3
	at := f.NozzlePct / 100
	curve := (like(at+h, f.SDLn) - 2*like(at, f.SDLn) + like(at-h, f.SDLn)) / (h * h)
	if se := 100 / math.Sqrt(-curve); !(math.Abs(f.SEPct-se) <= 0.05*se) {
		t.Errorf("standard error %v, by curvature %v", f.SEPct, se)
	}
	// Dropping the zeros would make the nozzle look worse than it is.
	dropped := trial
	dropped.Readings = nil
	for _, r := range trial.Readings {
		if r.OxygenPct > 0 {
			dropped.Readings = append(dropped.Readings, r)
		}
	}
	if g := fitted(t, dropped); !(g.NozzlePct < f.NozzlePct) {
		t.Errorf("without the zeros %v, with them %v", g.NozzlePct, f.NozzlePct)
	}
}

// A fit that went through JSON judges as the one that was made.
func TestFitTravels(t *testing.T) {
	trial := bags(rand.New(rand.NewPCG(4, 2)), 9, 0.08, 0.01, times...)
	trial.Readings[4].OxygenPct *= 5
	f := fitted(t, trial)
	text, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	var back NozzleFit
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	for _, r := range trial.Readings {
		want, err := JudgeReading(f, r)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := JudgeReading(back, r); err != nil || got != want {
			t.Errorf("%+v: %+v, %v; before the journey %+v", r, got, err, want)
		}
	}
}

// An outlier is named and kept, and the fit without it is told.
func TestFitNamesOutliers(t *testing.T) {
	trial := bags(rand.New(rand.NewPCG(1, 2)), 10, 0.08, 0.01, times...)
	clean := fitted(t, trial)
	if clean.Outliers != 0 {
		t.Fatalf("%+v", clean)
	}
	trial.Readings[6].OxygenPct *= 6 // a leaking seal
	f := fitted(t, trial)
	if f.Outliers != 1 || f.Notes&HasOutliers == 0 || f.Count != 10 || f.NozzlePct == f.WithoutPct {
		t.Errorf("%+v", f)
	}
	if !(math.Abs(f.WithoutPct-clean.NozzlePct) < math.Abs(f.NozzlePct-clean.NozzlePct)) {
		t.Errorf("clean %v, with %v, without %v", clean.NozzlePct, f.NozzlePct, f.WithoutPct)
	}
	less := trial
	less.Readings = slices.Delete(slices.Clone(trial.Readings), 6, 7)
	if alone := fitted(t, less); !(math.Abs(f.WithoutPct-alone.NozzlePct) <= 1e-6*alone.NozzlePct) {
		t.Errorf("without %v, a fit that never saw it %v", f.WithoutPct, alone.NozzlePct)
	}
	for i, r := range trial.Readings {
		j, err := JudgeReading(f, r)
		if err != nil {
			t.Fatal(err)
		}
		if j.Outlier != (i == 6) || j.Outlier != (j.Score > OutlierScore) {
			t.Errorf("reading %d: %+v", i, j)
		}
	}
}

func TestFitRefusals(t *testing.T) {
	good := bags(nil, 0, 0, 0, times...)
	call := func(tr Trial) error {
		f, err := FitNozzle(tr)
		if (err == nil) == (f == NozzleFit{}) {
			t.Errorf("%+v beside %v", f, err)
		}
		return err
	}
	for _, c := range []struct {
		set  func(*Trial, float64)
		name string
		limit
	}{
		{func(x *Trial, v float64) { x.StartPct = v }, "StartPct", limit{"", 0.5, 100}},
		{func(x *Trial, v float64) { x.SupplyPct = v }, "SupplyPct", limit{"", 0, 20}},
		{func(x *Trial, v float64) { x.ResolutionPct = v }, "ResolutionPct", limit{"", 1e-4, 1}},
		{func(x *Trial, v float64) { x.Readings[2].FreeML = v }, "Readings[2].FreeML", limit{"", 1, 1e9}},
		{func(x *Trial, v float64) { x.Readings[2].FlowLPerMin = v }, "Readings[2].FlowLPerMin", limit{"", 0.01, 1e4}},
		{func(x *Trial, v float64) { x.Readings[2].Seconds = v }, "Readings[2].Seconds", limit{"", 0.01, 36_000}},
		{func(x *Trial, v float64) { x.Readings[2].OxygenPct = v }, "Readings[2].OxygenPct", limit{"", 0, 100}},
	} {
		try := func(v float64) []string {
			x := good
			x.Readings = append([]Reading(nil), good.Readings...)
			c.set(&x, v)
			var input *InputError
			var got []string
			if errors.As(call(x), &input) {
				for _, f := range input.Fields {
					got = append(got, f.Field)
				}
			}
			return got
		}
		for _, v := range []float64{c.min, c.max} {
			if got := try(v); got != nil {
				t.Errorf("%s = %v is refused in %v", c.name, v, got)
			}
		}
		for _, v := range []float64{math.Nextafter(c.min, -1e9), math.Nextafter(c.max, 1e18), math.NaN(), math.Inf(1), math.Inf(-1)} {
			if diff := cmp.Diff([]string{c.name}, try(v)); diff != "" {
				t.Errorf("%s = %v: %s", c.name, v, diff)
			}
		}
	}
	var input *InputError
	for _, n := range []int{0, 2, 501} {
		x := good
		x.Readings = make([]Reading, n)
		if !errors.As(call(x), &input) || input.Fields[0].Field != "Readings" {
			t.Errorf("%d readings: %v", n, call(x))
		}
	}
	x := good
	x.StartPct, x.SupplyPct = 1, 1
	if !errors.As(call(x), &input) || input.Fields[0].Field != "SupplyPct" {
		t.Errorf("nothing to tell: %v", call(x))
	}
	// Nothing but the last digit, and nothing beyond the piston part.
	var none *ImpossibleError
	x = bags(nil, 0, 0, 0.1, 40, 41, 42)
	if !errors.As(call(x), &none) || none.Field != "ResolutionPct" {
		t.Errorf("last digits only: %v", call(x))
	}
	x = bags(nil, 90, 0, 0, 0.5, 0.6, 0.7)
	if !errors.As(call(x), &none) || none.Field != "Readings" {
		t.Errorf("readings that cannot tell: %v", call(x))
	}
}

// What a refused trial names can be had: the finer resolution at both of its ends,
// or that many more bags. A zero is an interval at any resolution.
func TestFitWaysOut(t *testing.T) {
	read := func(resolution float64, shown ...float64) Trial {
		x := Trial{StartPct: AirOxygenPct, ResolutionPct: resolution}
		for i, y := range shown {
			x.Readings = append(x.Readings, Reading{750, 20, 3 + float64(i%5), y})
		}
		return x
	}
	for _, c := range []struct {
		name  string
		trial Trial
		field string
		least float64
	}{
		{"three zeros", read(0.1, 0, 0, 0), "Readings", 5},
		{"a number and zeros", read(0.1, 3, 0, 0), "Readings", 4},
		{"499 zeros", read(0.1, make([]float64, 499)...), "", 0},
		{"a fine meter", read(0.00015, 0.0004, 0.0004, 0.0004), "ResolutionPct", 1e-4},
		{"a finer one than there is", read(0.00015, 0.0002, 0.0002, 0.0002), "Readings", 5},
		{"a coarse meter", read(1, 2.1, 1.5, 0.5, 0.2), "ResolutionPct", 1e-4},
		{"a coarse meter, one number", read(1, 5, 1.5, 0.5, 0), "ResolutionPct", 1e-4},
		{"no gas to speak of", bags(nil, 90, 0, 0, 0.5, 0.6, 0.7), "Readings", 4},
	} {
		_, err := FitNozzle(c.trial)
		var none *ImpossibleError
		if !errors.As(err, &none) || none.Field != c.field || none.Min != c.least {
			t.Errorf("%s: %v; want %s from %v", c.name, err, c.field, c.least)
			continue
		}
		switch none.Field {
		case "ResolutionPct":
			if !(none.Min <= none.Max && none.Max < c.trial.ResolutionPct) {
				t.Errorf("%s: %v", c.name, err)
			}
			for _, c.trial.ResolutionPct = range []float64{none.Min, none.Max} {
				if _, err := FitNozzle(c.trial); err != nil {
					t.Errorf("%s: named, but %v", c.name, err)
				}
			}
		case "Readings":
			for _, n := range []float64{none.Min, none.Max} {
				more := bags(nil, 0, 0, 0, 3, 5).Readings
				x := c.trial
				for i := 0; len(x.Readings) < int(n); i++ {
					x.Readings = append(x.Readings[:len(x.Readings):len(x.Readings)], more[i%2])
				}
				if _, err := FitNozzle(x); err != nil {
					t.Errorf("%s: with %v bags: %v", c.name, n, err)
				}
			}
		}
	}
}

func TestPredictRefusals(t *testing.T) {
	f := fitted(t, bags(rand.New(rand.NewPCG(1, 2)), 10, 0.1, 0.01, times...))
	setting := []limit{{"FreeML", 1, 1e9}, {"FlowLPerMin", 0.01, 1e4}, {"Seconds", 0.01, 36_000}}
	refuses(t, Setting{750, 20, 5, 95}, func(s Setting) (Prediction, error) { return PredictOxygen(f, s) }, append(setting, limit{"ConfidencePct", 50, 99.9})...)
	refuses(t, Reading{750, 20, 5, 1}, func(r Reading) (Judged, error) { return JudgeReading(f, r) }, append(setting, limit{"OxygenPct", 0, 100})...)
	refuses(t, Assurance{750, 20, 2, 2.9}, func(a Assurance) (Shortest, error) { return ShortestTime(f, a) },
		limit{"FreeML", 1, 1e9}, limit{"FlowLPerMin", 0.01, 1e4}, limit{"LimitPct", 0.001, 50}, limit{"ToleranceFactor", 0.1, 100})
	// A fit that FitNozzle did not make.
	refuses(t, f, func(f NozzleFit) (Shortest, error) { return ShortestTime(f, Assurance{750, 20, 2, 2.9}) },
		limit{"NozzlePct", -99, 100}, limit{"SEPct", 0, 1e9}, limit{"SDLn", 0, 1e3}, limit{"DF", 1, 499},
		limit{"StartPct", 0.5, 100}, limit{"SupplyPct", 0, 20}, limit{"ResolutionPct", 1e-4, 1})
	var none *ImpossibleError
	_, err := ShortestTime(f, Assurance{750, 20, 0.06, 5})
	if !errors.As(err, &none) || none.Field != "LimitPct" {
		t.Fatalf("a limit too near the supply: %v", err)
	}
	if _, err := ShortestTime(f, Assurance{750, 20, none.Min * 1.01, 5}); err != nil {
		t.Errorf("the limit it calls possible: %v", err)
	}
	s, err := ShortestTime(f, Assurance{750, 20, 50, 0.1})
	if err != nil || s.Seconds != 0 || s.Notes != AlreadyThere {
		t.Errorf("nothing to do: %+v, %v", s, err)
	}
	allocatesNothing(t, Setting{750, 20, 5, 95}, func(s Setting) (float64, error) {
		p, err := ShortestTime(f, Assurance{750, 20, 2, 2.9})
		return p.Seconds, err
	})
}

// A longer flush, a kinder limit and a smaller factor do what they should,
// and the median at the answer is what the model says.
func TestShortestTimeOrder(t *testing.T) {
	f := fitted(t, bags(rand.New(rand.NewPCG(1, 2)), 10, 0.1, 0.01, times...))
	at := func(limit, k float64) Shortest {
		s, err := ShortestTime(f, Assurance{750, 20, limit, k})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	if !(at(1, 2).Seconds > at(2, 2).Seconds && at(1, 3).Seconds > at(1, 2).Seconds) {
		t.Error("a stricter limit or a larger factor does not take longer")
	}
	s := at(1.5, 2.5)
	p, err := PredictOxygen(f, Setting{750, 20, s.Seconds, 95})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "median", p.OxygenPct, s.OxygenPct, 1e-12)
	near(t, "bound", s.OxygenPct*math.Exp(2.5*f.SDLn), 1.5, 1e-12)
	near(t, "gas", s.GasML, s.Seconds*20_000/60, 1e-12)
	if far := at(0.2, 1); far.Notes&Extrapolated == 0 || far.Notes&WeakHere == 0 {
		t.Errorf("%+v", far)
	}
	// Doubling the flow halves the time and leaves the gas.
	d, err := ShortestTime(f, Assurance{750, 40, 1.5, 2.5})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "time at double flow", d.Seconds, s.Seconds/2, 1e-12)
}

// The slope used for the intervals is that of the model.
func TestNozzleSlope(t *testing.T) {
	f := NozzleFit{StartPct: AirOxygenPct, SupplyPct: 0.05}
	for _, q := range []float64{-0.9, -0.2, 0.1, 0.5, 0.9} {
		for _, theta := range []float64{0.05, 0.7, 1.3, 3} {
			const h = 1e-6
			want := (f.lnOxygen(theta, q+h) - f.lnOxygen(theta, q-h)) / (2 * h)
			if got := f.slope(theta, q); !(math.Abs(got-want) <= 1e-5*math.Abs(want)+1e-8) {
				t.Errorf("slope at %v volumes, nozzle %v: %v, want %v", theta, q, got, want)
			}
		}
	}
}

// Mean and variance inside an interval, against quadrature.
func TestWithinInterval(t *testing.T) {
	for _, c := range [][4]float64{
		{0, 1, math.Inf(-1), 0.5}, {0, 1, math.Inf(-1), -4}, {0, 1, -1, 2}, {0, 0.1, 0.5, 0.6}, {3, 2, -1, -0.5}, {0, 1, 5, 5.5}, {1, 1, math.Inf(-1), 40},
	} {
		mean, sd, lo, hi := c[0], c[1], c[2], c[3]
		from, to := math.Max(lo, mean-40*sd), math.Min(hi, mean+40*sd)
		const n = 200_000
		var w, m, v float64
		for i := range n {
			x := from + (to-from)*(float64(i)+0.5)/n
			p := density((x - mean) / sd)
			w, m, v = w+p, m+p*x, v+p*x*x
		}
		m /= w
		v = v/w - m*m
		gm, gv := within(mean, sd, lo, hi)
		if !(math.Abs(gm-m) < 1e-6 && math.Abs(gv-v) < 1e-6) {
			t.Errorf("%v: %v, %v, want %v, %v", c, gm, gv, m, v)
		}
	}
	for _, c := range [][4]float64{{0, 1, 50, 51}, {0, 1, math.Inf(-1), -50}, {0, 0, 1, 2}, {0, 0, -2, -1}, {0, 1, 3, 3 + 1e-6}} {
		m, v := within(c[0], c[1], c[2], c[3])
		if !(m >= c[2] && m <= c[3] && v >= 0 && v <= 1) {
			t.Errorf("%v: %v, %v", c, m, v)
		}
	}
}

func FuzzFitNozzle(f *testing.F) {
	f.Add(20.946, 0.05, 0.1, 750.0, 20.0, 3.0, 5.0, 7.0, 2.0, 0.8, 0.0)            // a bench with a zero
	f.Add(0.2, 0.0, 0.1, 0.75, 20.0, 3.0, 5.0, 7.0, 0.02, 0.008, 0.0)              // fractions and litres
	f.Add(100.0, 0.0, 1.0, 1.0, 1e4, 36000.0, 36000.0, 36000.0, 0.0, 100.0, 100.0) // underflow of the model
	f.Add(20.9, 0.0, 1e-4, 750.0, 20.0, 0.5, 0.6, 0.7, 18.0, 17.0, 16.0)           // before the front
	f.Fuzz(func(t *testing.T, start, supply, res, free, flow, s1, s2, s3, y1, y2, y3 float64) {
		fit, err := FitNozzle(Trial{start, supply, res, []Reading{{free, flow, s1, y1}, {free, flow, s2, y2}, {free, flow, s3, y3}}})
		judged(t, fit, err)
		if err != nil {
			return
		}
		j, err := JudgeReading(fit, Reading{free, flow, s1, y1})
		judged(t, j, err)
		p, err := PredictOxygen(fit, Setting{free, flow, s2, 95})
		judged(t, p, err)
		s, err := ShortestTime(fit, Assurance{free, flow, 2, 5})
		judged(t, s, err)
	})
}

// Bags that were flushed until nothing can be left read 0 whatever the nozzle:
// they say nothing, and neither refuse the fit nor make its spread surer.
func TestZerosAfterLongFlushes(t *testing.T) {
	bare := Trial{StartPct: 20.946, SupplyPct: 0, ResolutionPct: 0.1, Readings: []Reading{{750, 20, 3, 5.6}, {750, 20, 5, 2.3}, {750, 20, 4, 3.6}}}
	want, err := FitNozzle(bare)
	if err != nil {
		t.Fatal(err)
	}
	for _, zeros := range []int{2, 3, 10, 60, 400} {
		trial := bare
		trial.Readings = slices.Concat(bare.Readings, slices.Repeat([]Reading{{750, 20, 30, 0}}, zeros))
		f, err := FitNozzle(trial)
		if err != nil || f.DF != want.DF || f.Censored != zeros {
			t.Errorf("%d zeros: %+v, %v; without them %+v", zeros, f, err, want)
		}
		near(t, "nozzle", f.NozzlePct, want.NozzlePct, 1e-6)
		near(t, "its standard error", f.SEPct, want.SEPct, 1e-6)
		near(t, "spread", f.SDLn, want.SDLn, 1e-6)
	}
}
