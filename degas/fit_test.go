package degas

import (
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"testing"

	"github.com/shopspring/decimal"
)

// weighed makes the weighings of an invented sample: what a balance of the
// division d and the repeatability r shows of it, with a slope in g/day.
func weighed(rng *rand.Rand, c Coffee, dropG, d, r, slope float64, ages []float64) Weighings {
	w := Weighings{DivisionG: decimal.NewFromFloat(d), RepeatabilityG: r, WithinPct: DefaultWithinPct}
	places := int32(math.Round(-math.Log10(d)))
	for _, t := range ages {
		_, gone := c.Curve.share(t)
		m := dropG*(1-c.GasMgPerG*gone/1000) + slope*(t-ages[0])
		if rng != nil {
			m += r * rng.NormFloat64()
		}
		w.Readings = append(w.Readings, Weighing{t, decimal.NewFromFloat(math.Round(m/d) * d).Round(places)})
	}
	return w
}

func jarred(rng *rand.Rand, c Coffee, j Jar, ages []float64) Jar {
	kpa := j.CoffeeG * mlPerMg(j.TempC, 1) / (j.VolumeML - j.CoffeeG/j.DensityGPerML)
	for _, t := range ages {
		_, gone := c.Curve.share(t)
		_, first := c.Curve.share(ages[0])
		p := 101 + kpa*c.GasMgPerG*(gone-first)
		if rng != nil {
			p += j.RepeatabilityKPa * rng.NormFloat64()
		}
		j.Readings = append(j.Readings, JarReading{t, math.Round(p/j.ResolutionKPa) * j.ResolutionKPa})
	}
	return j
}

var (
	ages   = []float64{0.02, 0.1, 0.25, 0.5, 1, 2, 3, 5, 7, 10, 14, 21, 30}
	hours  = []float64{0.01, 0.05, 0.1, 0.2, 0.4, 0.7, 1, 1.5, 2, 3, 4, 6}
	bent   = Coffee{8, Stretched{4, 0.65}}
	pooled = Coffee{8, TwoPools{37.5, 0.5, 8}}
)

// The parameters behind synthetic curves come back, from fine and noiseless
// readings, for every shape and for both methods.
func TestFitFindsTheTruth(t *testing.T) {
	for name, c := range map[string]struct {
		truth Coffee
		like  Curve
		ages  []float64
	}{
		"stretched":   {bent, Stretched{}, ages},
		"two pools":   {pooled, TwoPools{}, ages},
		"first order": {Coffee{6, FirstOrder{2}}, FirstOrder{}, ages},
		"sphere":      {Coffee{10, Sphere{0.3, 2e-13}}, Sphere{RadiusMM: 0.3}, hours},
		"sheet":       {Coffee{10, Sheet{0.2, 1.5e-13}}, Sheet{HalfThicknessMM: 0.2}, hours},
	} {
		for method, fit := range map[string]func() (Fit, error){
			"weighings": func() (Fit, error) {
				return FitWeighings(weighed(nil, c.truth, 200, 1e-5, 1e-5, 0, c.ages), c.like)
			},
			"drifting": func() (Fit, error) {
				w := weighed(nil, c.truth, 200, 1e-5, 1e-5, 0.002, c.ages)
				w.PickupMgPerGDay, w.PickupUncertaintyMgPerGDay = 0.005, 0.01
				return FitWeighings(w, c.like)
			},
			"jar": func() (Fit, error) {
				j := Jar{VolumeML: 2000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 1e-4, RepeatabilityKPa: 1e-4, WithinPct: 50}
				return FitJar(jarred(nil, c.truth, j, c.ages), c.like)
			},
		} {
			f, err := fit()
			if err != nil {
				t.Errorf("%s, %s: %v", name, method, err)
				continue
			}
			in, _ := innerOf(c.like)
			want := append([]float64{c.truth.GasMgPerG}, in.values(c.truth.Curve)...)
			for i, e := range f.Estimates {
				if !near(e.Value, want[i], 2e-3) || !(e.Low < want[i] && want[i] < e.High) || !(e.Low < e.Value && e.Value < e.High) {
					t.Errorf("%s, %s: %s is %v from %v to %v, want %v", name, method, e.Name, e.Value, e.Low, e.High, want[i])
				}
			}
			// The slope's truth is 0.002 g/day, its prior 0.001 ± 0.002.
			if method == "drifting" && !(math.Abs(f.Slope.Value-0.002) <= 1e-4) {
				t.Errorf("%s: slope %v g/day", name, f.Slope.Value)
			}
			first, _ := AmountLeft(c.truth, c.ages[0])
			if !near(f.AtFirst.Value, first.LeftMgPerG, 2e-3) {
				t.Errorf("%s, %s: %v mg/g at the first reading, want %v", name, method, f.AtFirst.Value, first.LeftMgPerG)
			}
			if f.Notes&ScatterExceedsStated != 0 {
				t.Errorf("%s, %s: %v", name, method, f.Notes)
			}
		}
	}
}

// coverage counts in how many of n invented experiments the 95 % interval of
// each estimate holds the truth.
func coverage(t *testing.T, n int, seed uint64, truth Coffee, like Curve, experiment func(rng *rand.Rand) (Fit, error)) (sharePct map[string]float64, refused int) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 95))
	in, err := innerOf(like)
	if err != nil {
		t.Fatal(err)
	}
	want := append([]float64{truth.GasMgPerG}, in.values(truth.Curve)...)
	hits := map[string]int{}
	done := 0
	for range n {
		f, err := experiment(rng)
		if err != nil {
			refused++
			continue
		}
		done++
		for i, e := range f.Estimates {
			if e.Low <= want[i] && want[i] <= e.High {
				hits[e.Name]++
			}
		}
		b, err := f.Left(4)
		if err != nil {
			t.Fatal(err)
		}
		s, _ := AmountLeft(truth, 4)
		if b.LowPct <= s.LeftPct && s.LeftPct <= b.HighPct {
			hits["LeftPct at 4 days"]++
		}
		if b.LowMgPerG <= s.LeftMgPerG && s.LeftMgPerG <= b.HighMgPerG {
			hits["LeftMgPerG at 4 days"]++
		}
	}
	sharePct = map[string]float64{}
	for k, v := range hits {
		sharePct[k] = 100 * float64(v) / float64(done)
	}
	return sharePct, refused
}

// The 95 % intervals hold the truth 95 % of the time. In ordinary runs 1200
// experiments, whose own spread is ±1.3 points at 95 % and ±2.4 at four
// standard deviations; with EVENLOT_COVERAGE=10000 that many, held to 93 to
// 97 %.
// Under js/wasm, where only the platform is new, 240 do.
func TestFitCoverage(t *testing.T) {
	n, slack := 1200, 1.0
	if runtime.GOOS == "js" {
		n, slack = 240, 4
	}
	if s := os.Getenv("EVENLOT_COVERAGE"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil || n < 1000 {
			t.Fatalf("EVENLOT_COVERAGE is %q", s)
		}
		slack = 0
	}
	for name, c := range map[string]struct {
		truth      Coffee
		like       Curve
		experiment func(rng *rand.Rand) (Fit, error)
	}{
		"weighings, stretched": {bent, Stretched{}, func(rng *rand.Rand) (Fit, error) {
			return FitWeighings(weighed(rng, bent, 200, 0.01, 0.01, 0, ages), Stretched{})
		}},
		"weighings, stretched, moisture": {bent, Stretched{}, func(rng *rand.Rand) (Fit, error) {
			// The sample takes up 0.02 ± 0.005 mg/(g·day): the truth is drawn.
			slope := 0.2 * (0.02 + 0.005*rng.NormFloat64())
			w := weighed(rng, bent, 200, 0.01, 0.01, slope, ages)
			w.PickupMgPerGDay, w.PickupUncertaintyMgPerGDay = 0.02, 0.005
			return FitWeighings(w, Stretched{})
		}},
		"weighings, two pools": {pooled, TwoPools{}, func(rng *rand.Rand) (Fit, error) {
			return FitWeighings(weighed(rng, pooled, 200, 0.01, 0.01, 0, ages), TwoPools{})
		}},
		"jar, stretched": {bent, Stretched{}, func(rng *rand.Rand) (Fit, error) {
			v := 2000 + 20*rng.NormFloat64() // the truth differs from what is stated
			j := Jar{VolumeML: v, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 0.1, RepeatabilityKPa: 0.2, WithinPct: 50}
			j = jarred(rng, bent, j, ages)
			j.VolumeML, j.VolumeUncertaintyML = 2000, 20
			return FitJar(j, Stretched{})
		}},
	} {
		share, refused := coverage(t, n, 1, c.truth, c.like, c.experiment)
		if refused > n/200 {
			t.Errorf("%s: %d of %d refused", name, refused, n)
		}
		for what, pct := range share {
			t.Logf("%-31s %-22s %.2f %% of %d, %d refused", name, what, pct, n, refused)
			if !(pct >= 93-slack && pct <= 97+slack) {
				t.Errorf("%s: the intervals of %s hold the truth in %.2f %% of %d", name, what, pct, n)
			}
		}
		if len(share) == 0 {
			t.Errorf("%s: nothing counted", name)
		}
	}
}
