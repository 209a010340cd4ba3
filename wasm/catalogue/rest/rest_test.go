package rest

import (
	"math"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the tests bring their own time zones

	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

func calculator(t *testing.T, id string) *catalogue.Calculator {
	t.Helper()
	for _, c := range Calculators() {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("there is no calculator %s", id)
	return nil
}

// sheet evaluates a calculator's example with some fields changed.
func sheet(t *testing.T, id string, changes ...string) catalogue.Sheet {
	t.Helper()
	c := calculator(t, id)
	s := c.Example()
	for i := 0; i+1 < len(changes); i += 2 {
		s[changes[i]] = changes[i+1]
	}
	return c.Eval(s, nil)
}

func value(s catalogue.Sheet, id string) catalogue.Value {
	for _, v := range s.Values {
		if v.ID == id {
			return v
		}
	}
	return catalogue.Value{Number: math.NaN()}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// Each example against the package called by hand.
func TestExamplesByHand(t *testing.T) {
	own := degas.Stretched{TauDays: 4, Exponent: 0.65}
	coffee := degas.Coffee{GasMgPerG: 9, Curve: own}
	band := must(degas.OrientationBand(5))
	span := must(degas.OrientationDays(20))
	warm := must(degas.Hastened(own, must(degas.Q10Factor(degas.Q10{Factor: 1.5, ReferenceC: 20, TempC: 24}))))
	through := must(degas.StretchedThrough(degas.Point{Days: 1, GonePct: 45}, degas.Point{Days: 7, GonePct: 85}))
	bag := degas.Bag{CoffeeG: 250, Coffee: coffee, SealedDays: 1, GasML: 300, SlackML: 150, ValveKPa: 0.5, TempC: 21, OutsideKPa: 101.3}
	after := must(degas.BagAfter(bag, 7))
	taste := must(degas.TasteBefore(degas.Release{Coffee: coffee, Roasted: time.Date(2026, 11, 23, 14, 0, 0, 0, time.UTC), CutOff: time.Date(2026, 11, 24, 11, 0, 0, 0, time.UTC),
		RestHours: 8, TastingHours: 1.5, OpenedDays: 10}))
	here, there := degas.Store{OxygenKPa: 2, WaterActivity: 0.2, TempC: 15}, degas.Store{OxygenKPa: 21, WaterActivity: 0.2, TempC: 22}
	life := must(degas.RelativeLife(here, there))
	room := degas.CoffeeRoom{CoffeeKg: 200, Coffee: degas.Coffee{GasMgPerG: 10, Curve: own}, Hours: 12, VolumeM3: 80, FreshM3PerHour: 15, OutdoorPPM: degas.OutdoorCO2PPM,
		Conditions: degas.Conditions{TempC: 20, PressureKPa: 101.3}}
	air, peak := must(degas.CoffeeRoomAir(room)), must(degas.CoffeeRoomPeak(room))
	given := must(degas.Emission(200, room.Coffee, 0, 0.5, room.Conditions))
	for _, c := range []struct {
		calc, output string
		want         float64
	}{
		{"gas-orientation", "low", band.LowGonePct}, {"gas-orientation", "high", band.HighGonePct}, {"gas-orientation", "soon", span.LowDays}, {"gas-orientation", "late", span.HighDays},
		{"gas-curve", "left", must(degas.Left(warm, 7)).LeftPct}, {"gas-curve", "mg", 0.09 * must(degas.Left(warm, 7)).LeftPct},
		{"gas-curve", "until", must(degas.DaysUntil(warm, 33))}, {"gas-curve", "rate", 0.09 * must(degas.MeanRate(warm, 7, 8))},
		{"gas-two-points", "tau", through.TauDays}, {"gas-two-points", "beta", through.Exponent}, {"gas-two-points", "until", must(degas.DaysUntil(through, 10))},
		{"ground-gas", "slow", must(degas.Left(degas.Sphere{RadiusMM: 0.25, DiffusivityM2PerS: 0.5e-13}, 2.0/24)).LeftPct},
		{"ground-gas", "fast", must(degas.Left(degas.Sphere{RadiusMM: 0.25, DiffusivityM2PerS: 10e-13}, 2.0/24)).LeftPct},
		{"ground-gas", "half", 10.61}, // of the table of published values
		{"rest-window", "days", span.HighDays}, {"rest-window", "early", span.LowDays}, {"rest-window", "open", 35 - span.HighDays},
		{"taste-before-despatch", "age", 19.5}, {"taste-before-despatch", "ratio", taste.GasRatio}, {"taste-before-despatch", "then", taste.ThenLeftPct}, {"taste-before-despatch", "later", taste.OpenedLeftPct},
		{"bag-gas", "p", 0.5}, {"bag-gas", "v", 450}, {"bag-gas", "evolved", after.EvolvedML}, {"bag-gas", "vented", after.VentedML},
		{"bag-gas", "taut", must(degas.DaysToGauge(bag, 0))}, {"bag-gas", "opens", must(degas.DaysToGauge(bag, 0.5))}, {"bag-gas", "peak", 0.5}, {"bag-gas", "hold", must(degas.HoldDays(bag, 0))},
		{"ground-life", "factor", life.Factor}, {"ground-life", "o2", life.OxygenFactor}, {"ground-life", "aw", 1}, {"ground-life", "temp", life.TemperatureFactor}, {"ground-life", "days", 40 * life.Factor},
		{"coffee-air", "ppm", air.PPM}, {"coffee-air", "peak", peak.PPM}, {"coffee-air", "when", peak.Hours}, {"coffee-air", "g", given}, {"coffee-air", "air", must(degas.FreshAirFor(given, 5000, 420))},
	} {
		tol := 1e-12
		if c.want == 10.61 {
			tol = 1e-3
		}
		if got := value(sheet(t, c.calc), c.output).Number; !(math.Abs(got-c.want) <= tol*math.Abs(c.want)) {
			t.Errorf("%s: %s is %v, by hand %v", c.calc, c.output, got, c.want)
		}
	}
}

// The fits' examples against their package.
func TestFitsByHand(t *testing.T) {
	s := sheet(t, "gas-weighings")
	var w degas.Weighings
	w.DivisionG, w.RepeatabilityG, w.PickupMgPerGDay, w.PickupUncertaintyMgPerGDay, w.WithinPct = decimal.RequireFromString("0.01"), 0.01, 0.01, 0.01, 50
	for line := range strings.SplitSeq(exampleWeighings, "\n") {
		d, m, _ := strings.Cut(line, " ")
		w.Readings = append(w.Readings, degas.Weighing{Days: decimal.RequireFromString(d).InexactFloat64(), MassG: decimal.RequireFromString(m)})
	}
	f := must(degas.FitWeighings(w, degas.Stretched{}))
	b := must(f.Left(10))
	for id, want := range map[string][2]float64{
		"gas": {f.Estimates[0].Value, f.Estimates[0].SE}, "first": {f.AtFirst.Value, f.AtFirst.SE}, "left": {b.LeftPct, (b.HighPct - b.LowPct) / 4},
	} {
		if v := value(s, id); v.Number != want[0] || math.Abs(v.U-want[1]) > 1e-9*want[1] {
			t.Errorf("%s is %v ± %v, by hand %v ± %v", id, v.Number, v.U, want[0], want[1])
		}
	}
	// The age at the level, and how well it is known: where the band crosses.
	v := value(s, "until")
	if want := must(degas.DaysUntil(f.Coffee.Curve, 33)); v.Number != want {
		t.Errorf("until %v, by hand %v", v.Number, want)
	}
	crosses := func(of func(degas.FitBand) float64) float64 {
		lo, hi := 0.1, 1000.0
		for range 60 {
			if mid := (lo + hi) / 2; of(must(f.Left(mid))) > 33 {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	early, late := crosses(func(b degas.FitBand) float64 { return b.LowPct }), crosses(func(b degas.FitBand) float64 { return b.HighPct })
	if want := (late - early) / 4; math.Abs(v.U-want) > 1e-8*want {
		t.Errorf("the band crosses from %v to %v days: u %v, by hand %v", early, late, v.U, want)
	}
	lo, hi := must(f.Left(v.Number-2*v.U)), must(f.Left(v.Number+2*v.U))
	if !(lo.LowPct < 33.5 && lo.LowPct > 31 && hi.HighPct > 32.5 && hi.HighPct < 35) {
		t.Errorf("two standard uncertainties about %v days meet %v and %v", v.Number, lo, hi)
	}
	// All three shapes are compared, and the truth of the invented data wins.
	found := false
	for _, table := range s.Tables {
		if table.Title == "Which shape the readings prefer" {
			found = len(table.Rows) == 3 && table.Rows[0][0] == "Stretched exponential" && table.Rows[0][3] == "0"
		}
	}
	if !found {
		t.Errorf("tables: %v", s.Tables)
	}
	jar := sheet(t, "gas-jar")
	if v := value(jar, "gas"); !(v.Number > 9.5 && v.Number < 10.7 && v.U > 0.05 && v.U < 0.3) {
		t.Errorf("jar: %v ± %v mg/g", v.Number, v.U)
	}
	for _, shape := range []string{poolShape, oneShape} {
		if s := sheet(t, "gas-weighings", "shape", shape); s.Problem != "" || len(s.Faults) > 0 || math.IsNaN(value(s, "gas").Number) {
			t.Errorf("%s: %q %v", shape, s.Problem, s.Faults)
		}
	}
	// Too few, too short: refused beside the field or with words.
	if s := sheet(t, "gas-weighings", "rows", "0.1 300\n1 299"); len(s.Faults) == 0 || s.Faults[0].Field != "rows" {
		t.Errorf("two weighings: %q %v", s.Problem, s.Faults)
	}
	if s := sheet(t, "gas-weighings", "rows", "0.04 300.00\n0.05 299.98\n0.06 300.00\n0.07 299.99\n0.08 299.98\n0.1 299.98"); s.Problem == "" {
		t.Errorf("an hour of weighings: %v %v", s.Values, s.Faults)
	}
	if s := sheet(t, "gas-jar", "v", "140"); len(s.Faults) == 0 || s.Faults[0].Field != "v" {
		t.Errorf("a jar smaller than its coffee: %q %v", s.Problem, s.Faults)
	}
}

// Words and dates, in a place whose clock changes.
func TestRestByTheClock(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	c := calculator(t, "rest-window")
	state := c.Example()
	state["tau"], state["beta"], state["level"] = "4.0", "0.65", "30"
	s := c.Eval(state, berlin)
	// Roasted on 21 October at 09:30; 35 days of 24 h later the clock shows
	// an hour less.
	if to := value(s, "to"); to.Text != "2026-11-25 08:30" {
		t.Errorf("gone by %q", to.Text)
	}
	ready := must(degas.DaysUntil(degas.Stretched{TauDays: 4, Exponent: 0.65}, 30))
	want := catalogue.Stamp(time.Date(2026, 10, 21, 9, 30, 0, 0, berlin).Add(time.Duration(math.Round(ready*86400)) * time.Second))
	if from := value(s, "from"); from.Text != want || value(s, "days").Number != ready {
		t.Errorf("ready from %q, want %q", from.Text, want)
	}
	if !strings.Contains(strings.Join(s.Notes, " "), "The clock changes") {
		t.Errorf("notes: %v", s.Notes)
	}
	// Freshness that ends too early says which level would do.
	state["fresh"] = "2"
	if s := c.Eval(state, berlin); !strings.Contains(s.Problem, "freshness ends") || !strings.Contains(s.Problem, "possible") {
		t.Errorf("%q %v", s.Problem, s.Faults)
	}
	if s := sheet(t, "rest-window", "use", "espresso"); len(s.Tables) == 0 || len(s.Tables[0].Rows) != 5 {
		t.Errorf("claims about espresso: %v", s.Tables)
	}

	taste := sheet(t, "taste-before-despatch")
	if w := value(taste, "word").Text; w != "yes: between 2026-11-23 22:00 and 2026-11-24 09:30" {
		t.Errorf("%q", w)
	}
	taste = sheet(t, "taste-before-despatch", "rest", "24")
	if w := value(taste, "word").Text; w != "no: 4.50 h short of the rest" {
		t.Errorf("%q", w)
	}
	if v := value(sheet(t, "ground-life"), "last"); v.Text != "2027-07-25" {
		t.Errorf("best before %q", v.Text)
	}
	if s := sheet(t, "ground-life", "anchor", "", "packed", ""); !math.IsNaN(value(s, "days").Number) || s.Problem != "" {
		t.Errorf("without a finding: %v %q", s.Values, s.Problem)
	}
}

// What the answers must warn of.
func TestWarnings(t *testing.T) {
	has := func(s catalogue.Sheet, words string) bool { return strings.Contains(strings.Join(s.Notes, " "), words) }
	for words, s := range map[string]catalogue.Sheet{
		"an orientation, not a measurement":    sheet(t, "gas-orientation"),
		"before the first day":                 sheet(t, "gas-orientation", "t", "0.5"),
		"beyond about a month":                 sheet(t, "gas-orientation", "t", "60"),
		"takes all three":                      sheet(t, "gas-curve", "q10", ""),
		"outside the range":                    sheet(t, "gas-curve", "gas", "30"),
		"differ twentyfold":                    sheet(t, "ground-gas"),
		"The pressure is an upper bound":       sheet(t, "bag-gas", "valve", "0"),
		"never grows taut":                     sheet(t, "bag-gas", "slack", "9000"),
		"The valve never opens":                sheet(t, "bag-gas", "slack", "9000"),
		"No wait is long enough":               sheet(t, "bag-gas", "slack", "0"),
		"Above a water activity of 0.35":       sheet(t, "ground-life", "aw", "0.40"),
		"immediately dangerous":                sheet(t, "coffee-air", "v", "1", "q", "0"),
		"above the limit of 5000 ppm":          sheet(t, "coffee-air", "q", "2", "q.pm", "0.1", "v", "20"),
		"holds 4.3 times the gas":              sheet(t, "taste-before-despatch"),
		"scatter more than the stated balance": sheet(t, "gas-weighings", "shape", oneShape),
	} {
		if !has(s, words) {
			t.Errorf("no note says %q: %v %q %v", words, s.Notes, s.Problem, s.Faults)
		}
	}
	if s := sheet(t, "coffee-air", "q", "2", "q.pm", "0.1", "v", "20"); len(s.Verdicts) != 1 || s.Verdicts[0].Word != "out" {
		t.Errorf("verdicts %v", s.Verdicts)
	}
	for _, id := range []string{"bag-gas", "coffee-air", "gas-jar", "gas-weighings", "ground-life"} {
		if len(calculator(t, id).Cautions) == 0 {
			t.Errorf("%s carries no caution", id)
		}
	}
}

// A picture with a table behind it for every calculator.
func TestPictures(t *testing.T) {
	for _, c := range Calculators() {
		if s := c.Eval(c.Example(), nil); len(s.Figures) == 0 || len(s.Working) == 0 {
			t.Errorf("%s draws %d figures and works in %d lines", c.ID, len(s.Figures), len(s.Working))
		}
	}
}

// A closed bin is out, not too close to call: the 0 of its ventilation says
// that there is none, and has no share in the uncertainty. One who states a
// plus-minus of his own for it means it.
func TestClosedBinIsOut(t *testing.T) {
	bin := []string{"kg", "500", "v", "2", "q", "0"}
	s := sheet(t, "coffee-air", bin...)
	if s.Verdicts[0].Word != "out" || !strings.Contains(s.Notes[0], "immediately dangerous") {
		t.Errorf("%+v, %q", s.Verdicts, s.Notes)
	}
	for _, share := range value(s, "peak").Shares {
		if share.Label == "Open air let in" {
			t.Errorf("no ventilation makes %v %% of the variance", share.Pct)
		}
	}
	if s := sheet(t, "coffee-air", append(bin, "q.pm", "3")...); s.Verdicts[0].Word != "out" {
		t.Errorf("with the usual plus-minus, as the form sends it: %+v", s.Verdicts)
	}
	if s := sheet(t, "coffee-air", append(bin, "q.pm", "4")...); value(s, "peak").U <= value(sheet(t, "coffee-air", bin...), "peak").U {
		t.Error("a plus-minus of one's own is not heard")
	}
}
