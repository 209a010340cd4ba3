package degas

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"
)

// A fit's numbers hang together: intervals, standard errors and bands by the
// scales they are told on, whose half-width is the normal's 1.959964 standard
// errors where the stated uncertainty stands.
func TestFitHangsTogether(t *testing.T) {
	const z = 1.959963984540054
	for name, c := range map[string]struct {
		truth Coffee
		like  Curve
	}{
		"stretched": {bent, Stretched{}}, "two pools, small": {Coffee{8, TwoPools{20, 0.5, 8}}, TwoPools{}},
		"two pools, large": {Coffee{8, TwoPools{75, 0.5, 8}}, TwoPools{}}, "first order": {Coffee{6, FirstOrder{2}}, FirstOrder{}},
	} {
		w := weighed(rand.New(rand.NewPCG(3, 9)), c.truth, 200, 1e-5, 2e-4, 0.0001, ages)
		w.PickupUncertaintyMgPerGDay = 0.001 // so 0.0002 g/day
		f, err := FitWeighings(w, c.like)
		if err != nil || f.Notes&ScatterExceedsStated != 0 {
			t.Errorf("%s: %v, %v", name, f.Notes, err)
			continue
		}
		in, _ := innerOf(c.like)
		want := append([]float64{c.truth.GasMgPerG}, in.values(c.truth.Curve)...)
		for i, e := range f.Estimates {
			up, down, se := math.Log(e.High/e.Value), math.Log(e.Value/e.Low), e.SE/e.Value
			if e.Name == "FastPct" {
				logit := func(v float64) float64 { return math.Log(v / (100 - v)) }
				up, down, se = logit(e.High)-logit(e.Value), logit(e.Value)-logit(e.Low), e.SE/(e.Value*(1-e.Value/100))
			}
			if !near(up, z*se, 1e-9) || !near(down, z*se, 1e-9) || !(math.Abs(e.Value-want[i]) < 5*e.SE) {
				t.Errorf("%s: %+v; want %v", name, e, want[i])
			}
			if f.Correlation[i][i] != 1 {
				t.Errorf("%s: correlation %v", name, f.Correlation)
			}
			for j := range f.Estimates {
				if r := f.Correlation[i][j]; !(math.Abs(r) <= 1+1e-9) || !near(r, f.Correlation[j][i], 1e-9) {
					t.Errorf("%s: correlation %v", name, f.Correlation)
				}
			}
		}
		if s := f.Slope; !near(s.High-s.Value, z*s.SE, 1e-9) || !near(s.Value-s.Low, z*s.SE, 1e-9) || !(s.SE <= 0.0002*(1+1e-9)) {
			t.Errorf("%s: the slope %+v is known worse than it was", name, s)
		}
		// The sum of squares is that of the residuals, and of the slope over its own.
		sum := math.Pow((f.Slope.Value-0)/0.0002, 2)
		for _, r := range f.Residuals {
			sum += r.InSigmas * r.InSigmas
			if !near(r.InSigmas, r.Left/math.Hypot(2e-4, 1e-5/math.Sqrt(12)), 1e-9) {
				t.Errorf("%s: %+v", name, r)
			}
		}
		if !near(f.ChiSquare, sum, 1e-3) || f.DF != len(ages)-f.Parameters || f.Parameters != 2+len(f.Estimates)-1 {
			t.Errorf("%s: χ² %v, by the residuals %v; %d and %d", name, f.ChiSquare, sum, f.DF, f.Parameters)
		}
		b, err := f.Left(ages[0])
		if err != nil || !near(b.LeftMgPerG, f.AtFirst.Value, 1e-9) || !near(b.HighMgPerG, f.AtFirst.High, 1e-6) || !near(b.LowMgPerG, f.AtFirst.Low, 1e-6) {
			t.Errorf("%s: %+v at the first reading, %+v, %v", name, b, f.AtFirst, err)
		}
		l, _ := Left(f.Coffee.Curve, ages[0])
		m, _ := Left(f.Coffee.Curve, ages[len(ages)-1])
		if (f.Notes&LongTail != 0) != (l.LeftPct-m.LeftPct < 50) {
			t.Errorf("%s: %v with %v %% lost in sight", name, f.Notes, l.LeftPct-m.LeftPct)
		}
		for _, days := range []float64{-1, 3650.5, math.NaN()} {
			if _, err := f.Left(days); err == nil {
				t.Errorf("%s: day %v has an answer", name, days)
			}
		}
	}
	// Half of the curve in sight or less.
	for last, want := range map[int]Notes{6: LongTail, 7: 0, 12: 0} { // of 8 mg/g with τ 4 days, to day 2, to day 3, by which 1 − e^(−¾) is gone, and to day 21
		f, err := FitWeighings(weighed(nil, Coffee{8, FirstOrder{4}}, 200, 1e-5, 1e-5, 0, ages[:last]), FirstOrder{})
		if err != nil || f.Notes != want {
			t.Errorf("%v days: %v, %v", ages[last-1], f.Notes, err)
		}
	}
}

// How well the jar's volume is known is known of the gas and of nothing else.
func TestFitOfAnUncertainJar(t *testing.T) {
	j := Jar{VolumeML: 2000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 1e-3, RepeatabilityKPa: 1e-2, WithinPct: 50}
	j = jarred(rand.New(rand.NewPCG(3, 9)), bent, j, ages)
	sure, err1 := FitJar(j, Stretched{})
	j.VolumeUncertaintyML = 70 // of 1750 mL
	unsure, err2 := FitJar(j, Stretched{})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	share := func(e Estimate) float64 { return e.SE / e.Value * e.SE / e.Value }
	extra := 0.04 * 0.04
	if !near(share(unsure.Estimates[0])-share(sure.Estimates[0]), extra, 1e-9) || !near(share(unsure.AtFirst)-share(sure.AtFirst), extra, 1e-9) {
		t.Errorf("gas %v and %v, at first %v and %v", sure.Estimates[0], unsure.Estimates[0], sure.AtFirst, unsure.AtFirst)
	}
	for _, r := range sure.Residuals {
		if !near(r.InSigmas, r.Left/math.Sqrt(1e-4+1e-6/12), 1e-9) {
			t.Errorf("%+v", r)
		}
	}
	for i := 1; i < 3; i++ {
		if !near(unsure.Estimates[i].SE, sure.Estimates[i].SE, 1e-9) {
			t.Errorf("%v and %v", sure.Estimates[i], unsure.Estimates[i])
		}
	}
	for _, days := range []float64{0.5, 5, 20} {
		a, _ := sure.Left(days)
		b, _ := unsure.Left(days)
		wide := func(b FitBand) float64 { return math.Pow(math.Log(b.HighMgPerG/b.LowMgPerG)/2/1.959963984540054, 2) }
		if !near(wide(b)-wide(a), extra, 1e-6) || !near(a.LowPct, b.LowPct, 1e-9) || !near(a.HighPct, b.HighPct, 1e-9) {
			t.Errorf("day %v: %+v and %+v", days, a, b)
		}
	}
	// A jar says when it holds the coffee back: from a rise of 60 kPa.
	met := [2]bool{}
	for grams := 260.0; grams <= 320; grams += 0.5 {
		j := Jar{VolumeML: 2500, CoffeeG: grams, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 1e-3, RepeatabilityKPa: 1e-2, WithinPct: 50}
		j = jarred(nil, Coffee{8, FirstOrder{3}}, j, ages)
		rise := j.Readings[len(j.Readings)-1].PressureKPa - j.Readings[0].PressureKPa
		if rise < 57 || rise > 63 {
			continue
		}
		f, err := FitJar(j, FirstOrder{})
		if err != nil || (f.Notes&BackPressure != 0) != (rise > 60) {
			t.Errorf("%v kPa: %v, %v", rise, f.Notes, err)
		}
		met[map[bool]int{true: 1}[rise > 60]] = true
	}
	if met != [2]bool{true, true} {
		t.Errorf("rises on both sides of 60 kPa: %v", met)
	}
	for _, like := range []Curve{TwoPools{}, Stretched{}, FirstOrder{}} { // noise of 60 kPa and more tells nothing
		j := Jar{VolumeML: 2000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 1e-3, RepeatabilityKPa: 1e-2, WithinPct: 1}
		for i, v := range []float64{0, 90, 10, 80, 5, 70, 90, 0, 60, 30} {
			j.Readings = append(j.Readings, JarReading{float64(i), v})
		}
		if f, err := FitJar(j, like); err == nil || !reflect.DeepEqual(f, Fit{}) {
			t.Errorf("%+v beside %v", f, err)
		}
	}
}

// Where a fit is refused as open, it is open as far as it says, and one that
// is a hair less open is given.
func TestOpenAsFarAsItSays(t *testing.T) {
	w := weighed(rand.New(rand.NewPCG(5, 5)), bent, 200, 1e-5, 5e-3, 0, ages)
	w.WithinPct = 100
	f, err := FitWeighings(w, Stretched{})
	if err != nil {
		t.Fatal(err)
	}
	open := 100 * (f.Estimates[0].High/f.Estimates[0].Value - 1)
	for share, want := range map[float64]bool{1.001: true, 0.999: false} {
		w.WithinPct = open * share
		_, err := FitWeighings(w, Stretched{})
		var none *ImpossibleError
		if (err == nil) != want {
			t.Errorf("known to %v %%, asked for %v %%: %v", open, w.WithinPct, err)
		} else if err != nil && (!errors.As(err, &none) || none.Field != "WithinPct" || !near(none.Min, open, 1e-9) || !math.IsInf(none.Max, 1)) {
			t.Errorf("%v", err)
		}
	}
	// More and more noise: the fast pool's time goes from known to open by a
	// factor of ten. First in wide steps, then in fine ones where it happens.
	given, refused := 0.0, math.Inf(1)
	fit := func(noise float64) bool {
		w := weighed(nil, Coffee{8, TwoPools{20, 0.1, 6}}, 200, 1e-5, noise, 0, ages)
		w.WithinPct = 100
		f, err := FitWeighings(w, TwoPools{})
		if err == nil {
			for _, e := range f.Estimates[1:] {
				factor := e.High / e.Value
				if e.Name == "FastPct" {
					factor = e.High / (100 - e.High) / (e.Value / (100 - e.Value))
				}
				given = math.Max(given, factor)
			}
			return true
		}
		var none *ImpossibleError
		if !errors.As(err, &none) {
			t.Fatal(err)
		}
		_, after, ok := strings.Cut(none.Why, "open by a factor of ")
		if !ok {
			return false
		}
		number, reach, _ := strings.Cut(after, " ")
		if reach != "from 0.02 to 30 days" {
			t.Errorf("%v", none)
		}
		v, err := strconv.ParseFloat(number, 64)
		if err != nil || none.Field != "Readings" || none.Min != float64(len(ages)+1) || none.Max != 1000 || none.Given != strconv.Itoa(len(ages)) {
			t.Fatalf("%v, %v", none, err)
		}
		refused = math.Min(refused, v)
		return false
	}
	noise := 1e-3
	for noise < 0.1 && fit(noise) {
		noise *= 1.06
	}
	for n := noise / 1.06; n < noise; n *= 1.003 {
		fit(n)
	}
	if !(given <= 10 && given > 9.8 && refused >= 10 && refused < 10.2) {
		t.Errorf("given up to a factor of %v, refused from %v", given, refused)
	}
}

// The criterion and the weights of a comparison by their definition.
func TestCompareByDefinition(t *testing.T) {
	between := false                                                 // a weight that is neither all nor nothing
	for i, stated := range []float64{2e-3, 1e-3, 3e-3, 2e-3, 3e-3} { // as it is, too fine, too coarse
		truth := bent
		if i > 2 {
			truth = Coffee{8, FirstOrder{4}}
		}
		w := weighed(rand.New(rand.NewPCG(8, 1)), truth, 200, 1e-5, 2e-3, 0, ages)
		w.RepeatabilityG, w.WithinPct = stated, 100
		var fits []Fit
		for _, like := range []Curve{FirstOrder{}, Stretched{}, Sphere{RadiusMM: 1}} {
			f, err := FitWeighings(w, like)
			if err == nil {
				fits = append(fits, f)
			}
		}
		ranks, err := Compare(fits...)
		if err != nil || len(fits) < 2 {
			t.Fatalf("%d fits, %v", len(fits), err)
		}
		c, n := math.Inf(1), float64(len(ages))
		for _, f := range fits {
			c = math.Min(c, f.ChiSquare/float64(f.DF))
		}
		c = math.Max(c, 1)
		least, sum := math.Inf(1), 0.0
		aicc := make([]float64, len(fits))
		for i, f := range fits {
			k := float64(f.Parameters)
			aicc[i] = f.ChiSquare/c + 2*k + 2*k*(k+1)/(n-k-1)
			least = math.Min(least, aicc[i])
		}
		for i := range aicc {
			sum += math.Exp((least - aicc[i]) / 2)
		}
		for i, r := range ranks {
			if !near(r.AICc, aicc[i], 1e-12) || math.Abs(r.Delta-(aicc[i]-least)) > 1e-9 || math.Abs(r.WeightPct-100*math.Exp((least-aicc[i])/2)/sum) > 1e-9 {
				t.Errorf("%+v; by definition %v, %v", r, aicc[i], aicc[i]-least)
			}
			between = between || r.WeightPct > 5 && r.WeightPct < 40
		}
	}
	if !between {
		t.Error("no two fits are close")
	}
	// Where the readings scatter more than stated, Student's factor stands for
	// the normal's: t(0.975; 10) = 2.228139 for 13 readings and 3 parameters.
	w := weighed(rand.New(rand.NewPCG(8, 1)), Coffee{8, FirstOrder{4}}, 200, 1e-5, 2e-3, 0, ages)
	w.RepeatabilityG, w.WithinPct = 2e-4, 100
	if f, err := FitWeighings(w, FirstOrder{}); err != nil || f.Notes&ScatterExceedsStated == 0 || f.DF != 10 {
		t.Errorf("%v, %v", f.Notes, err)
	} else {
		for _, e := range append(f.Estimates, f.AtFirst) {
			if !near(math.Log(e.High/e.Value), 2.2281388519649385*e.SE/e.Value, 1e-9) {
				t.Errorf("%+v", e)
			}
		}
	}
	// The same ages in a jar and on a balance are not the same readings.
	j, err1 := FitJar(jarred(nil, bent, Jar{VolumeML: 2000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 1e-3, RepeatabilityKPa: 1e-2, WithinPct: 50}, ages), Stretched{})
	g, err2 := FitWeighings(weighed(nil, bent, 200, 1e-5, 1e-5, 0, ages), Stretched{})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if second(Compare(j, g)) == nil || second(Compare(g, g)) != nil {
		t.Error("a jar is compared with a balance")
	}
	// As many readings at other ages are other readings.
	other := append([]float64(nil), ages...)
	other[4] = 1.25
	a, err1 := FitWeighings(weighed(nil, bent, 200, 1e-5, 1e-5, 0, ages), Stretched{})
	b, err2 := FitWeighings(weighed(nil, bent, 200, 1e-5, 1e-5, 0, other), Stretched{})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if err := second(Compare(a, b)); err == nil || err.Error() != "fits[1] is 13 readings; accepted: 13 to 13 readings (all fits are of the same readings)" {
		t.Error(err)
	}
}

// Ages, instants and rooms to the second and the hour.
func TestToTheSecond(t *testing.T) {
	when := time.Date(2025, 3, 1, 8, 15, 0, 0, time.UTC)
	if m, err := Instant(WallClock{2025, 3, 1, 8, 15}, time.UTC); err != nil || !m.Time.Equal(when) || m.Notes != 0 {
		t.Errorf("%v, %v", m, err)
	}
	if d, err := AgeDays(when, when.Add(1500*time.Millisecond)); err != nil || !near(d, 1.5/86400, 1e-12) {
		t.Errorf("%v, %v", d, err)
	}
	if d, err := AgeDays(when.Add(700*time.Millisecond), when.Add(time.Second)); err != nil || !near(d, 0.3/86400, 1e-9) {
		t.Errorf("%v, %v", d, err)
	}
	if d, err := AgeDays(when, when.Add(3650*24*time.Hour+12*time.Hour)); err == nil {
		t.Errorf("%v", d)
	}
	if err := second(Instant(WallClock{2025, 3, 30, 2, 30}, place(t, "Europe/Berlin"))); err == nil || err.Error() != "Hour is 2 h; accepted: 0 to 23 h (the clock skips this time on that day)" {
		t.Error(err)
	}
	for want, err := range map[string]error{
		"FromDays is 3650 days; accepted: 0 to 3649.9791666666665 days": second(CoffeeRoomAir(CoffeeRoom{50, Coffee{9, FirstOrder{2}}, 3650, 0.5, 60, 30, 420, Conditions{20, 101}})),
		"limitPPM is 310.2 ppm; accepted: 310.5 to 100000 ppm":          second(FreshAirFor(10, 310.2, 300.5)),
		"RadiusMM is 0 mm; accepted: 0.005 to 20 mm":                    second(FitWeighings(Weighings{}, Sphere{})),
		"HalfThicknessMM is 0 mm; accepted: 0.005 to 20 mm":             second(FitJar(Jar{}, Sheet{})),
		"Readings is 4 readings; accepted: 5 to 1000 readings; VolumeML is 9.5 mL; accepted: 10 to 1000000 mL": second(FitJar(Jar{
			Readings: []JarReading{{0, 1}, {1, 2}, {2, 3}, {3, 4}}, VolumeML: 9.5, CoffeeG: 200, DensityGPerML: 0.8, TempC: 20, ResolutionKPa: 0.1, WithinPct: 50}, FirstOrder{})),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
	short := Release{Coffee{9, FirstOrder{2}}, when, when.Add(362 * time.Second), 0, 1, 10}
	if err := second(TasteBefore(short)); err == nil || err.Error() != "TastingHours is 1 h; accepted: 0 to 0.10055555555555555 h" {
		t.Error(err)
	}
	broken := errors.New("no factor")
	if d, err := EquivalentDays([]Stay{{1, 20}}, func(float64) (float64, error) { return 2, broken }); d != 0 || err != broken {
		t.Errorf("%v, %v", d, err)
	}
	// The most that ten years give, with a curve that goes on.
	slow := bag()
	slow.Coffee.Curve, slow.SealedDays, slow.SlackML = Stretched{3000, 0.8}, 50, 10
	most, err := BagAfter(slow, 3600)
	var none *ImpossibleError
	if e := second(DaysToGauge(slow, 700)); err != nil || !errors.As(e, &none) || !near(none.Max, most.GaugeKPa, 1e-12) {
		t.Errorf("%v, %v; want %v", err, e, most.GaugeKPa)
	}
	r := Room{1e6, 10, 5000, 420, 8759.5}
	a, err := RoomAir(r)
	if err != nil {
		t.Fatal(err)
	}
	if h, err := HoursToLimit(r, a.PPM); err != nil || !near(h, 8759.5, 1e-9) {
		t.Errorf("%v, %v", h, err)
	}
}
