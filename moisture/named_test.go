package moisture

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// limit holds a field to its range: at both ends it is not named, one step
// beyond it is, with that range and unit.
func limit(t *testing.T, field string, min, max float64, unit string, call func(v float64) error) {
	t.Helper()
	for _, v := range []float64{min, max} {
		if err := call(v); slices.Contains(fields(err), field) {
			t.Errorf("%s at its end %v: %v", field, v, err)
		}
	}
	for _, v := range []float64{down(min), up(max), math.NaN()} {
		var in *InputError
		if err := call(v); !errors.As(err, &in) || !slices.Contains(fields(err), field) {
			t.Errorf("%s beyond its end, %v: %v", field, v, err)
			continue
		}
		if f := in.Fields[slices.Index(fields(in), field)]; f.Min != min || f.Max != max || f.Unit != unit {
			t.Errorf("%s = %v: %v; want %v to %v %s", field, v, f, min, max, unit)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// What is refused inside a list or a curve is named with its own range.
func TestNamedRanges(t *testing.T) {
	pair := func(set func(p *IsothermPair, v float64)) func(v float64) error {
		return func(v float64) error {
			list := slices.Clone(lotPairs)
			set(&list[1], v)
			return second(FitIsotherm(FormOswin, list))
		}
	}
	limit(t, "pairs[1].Aw", 0.01, 0.99, "", pair(func(p *IsothermPair, v float64) { p.Aw = v }))
	limit(t, "pairs[1].MoisturePct", 0.5, 80, "%", pair(func(p *IsothermPair, v float64) { p.MoisturePct = v }))
	limit(t, "pairs[1].TempC", 0, 70, "°C", pair(func(p *IsothermPair, v float64) { p.TempC = v }))
	meter := func(set func(p *MeterPair, v float64)) func(v float64) error {
		return func(v float64) error {
			list := []MeterPair{{10, 10.2}, {11, 11.1}, {12, 12.4}}
			set(&list[2], v)
			return second(CalibrateMeter(list))
		}
	}
	limit(t, "pairs[2].MeterPct", 0.5, 80, "%", meter(func(p *MeterPair, v float64) { p.MeterPct = v }))
	limit(t, "pairs[2].OvenPct", 0.5, 80, "%", meter(func(p *MeterPair, v float64) { p.OvenPct = v }))
	limit(t, "readings[0].Days", 0, 10_000, "days", func(v float64) error {
		return second(FitDrift([]StoreReading{{v, 10}, {5, 11}}, 12))
	})
	limit(t, "readings[1].MoisturePct", 0.5, 80, "%", func(v float64) error {
		return second(FitDrift([]StoreReading{{0, 10}, {5, v}}, 12))
	})

	at := func(c Isotherm, rh float64) error { return second(EquilibriumMoisture(c, Air{20, rh})) }
	limit(t, "Scale", 0.2, 5, "", func(v float64) error { c := roa; c.Scale = v; return at(c, 50) })
	limit(t, "SEDryPct", 0, 20, "%", func(v float64) error { c := roa; c.SEDryPct = v; return at(c, 50) })
	limit(t, "P", -1e4, 1e4, "", func(v float64) error {
		return at(Isotherm{Form: FormRoa, Scale: 1, P: [6]float64{200, v}}, 1) // 0.01·(200 ± 100) % dry
	})
	gab := func(i int) func(v float64) error {
		return func(v float64) error {
			c := Isotherm{Form: FormGAB, Scale: 1, P: [6]float64{5, 10, 0.8}}
			c.P[i] = v
			return at(c, 50)
		}
	}
	limit(t, "P[0]", 0.01, 100, "%", gab(0))
	limit(t, "P[1]", 0.01, 1e6, "", gab(1))
	limit(t, "P[2]", 0.01, 1, "", gab(2))
	limit(t, "P[1]", 0.01, 10, "", func(v float64) error {
		return at(Isotherm{Form: FormHenderson, Scale: 1, P: [6]float64{10, v}}, 50)
	})

	limits := func(set func(l *LogLimits)) func() error {
		l := storeLimits
		set(&l)
		return func() error { return second(SummariseLog(roa, l, []LogReading{{0, 18, 58}, {60, 18, 58}})) }
	}
	for want, err := range map[string]error{
		// One limit begins where another stands, up to the end of the range.
		"HighC is 79 °C; accepted: 80 to 80 °C":                                                        limits(func(l *LogLimits) { l.LowC, l.HighC = 80, 79 })(),
		"HighRHPct is 99.5 %; accepted: 100 to 100 %":                                                  limits(func(l *LogLimits) { l.LowRHPct, l.HighRHPct = 100, 99.5 })(),
		"HighRHPct is 0.5 %; accepted: 1 to 100 %":                                                     limits(func(l *LogLimits) { l.LowRHPct, l.HighRHPct = 0, 0.5 })(),
		"MaxGapSeconds is 31622401 s; accepted: 1 to 31622400 s":                                       limits(func(l *LogLimits) { l.MaxGapSeconds = 31_622_401 })(),
		"MaxGapSeconds is 0 s; accepted: 1 to 31622400 s":                                              limits(func(l *LogLimits) { l.MaxGapSeconds = 0 })(),
		"HighReadPct is 99.5 %; accepted: 100 to 100 %":                                                second(CorrectedHumidity(TwoPoint{LowReadPct: 95, LowTruePct: 50, HighReadPct: 99.5, HighTruePct: 75}, 60)),
		"HighTruePct is 99.5 %; accepted: 100 to 100 %":                                                second(CorrectedHumidity(TwoPoint{LowReadPct: 50, LowTruePct: 95, HighReadPct: 75, HighTruePct: 99.5}, 60)),
		"salt is 0; accepted: 1 to 15 (no handbook equation for this salt)":                            second(HandbookSalt(0, 20)),
		"Form is 9; accepted: 1 to 4 (an isotherm has an equation)":                                    at(Isotherm{Form: 9}, 50),
		"form is 1; accepted: 2 to 4 (GAB, Oswin or Henderson)":                                        second(FitIsotherm(FormRoa, lotPairs)),
		"readings[1].Days is 1 days; accepted: 1.0001 to 10000 days (readings stand in order of time)": second(FitDrift([]StoreReading{{1, 10}, {1, 11}}, 12)),
		"rows[1].UnixSeconds is 12 s; accepted: 13 to 100000000000 s (times rise from row to row)": second(SummariseLog(roa, storeLimits,
			[]LogReading{{12, 18, 58}, {12, 18, 58}})),
		"rows[0].UnixSeconds is -100000000001 s; accepted: -100000000000 to 100000000000 s (seconds, not milliseconds)": second(SummariseLog(roa, storeLimits,
			[]LogReading{{-1e11 - 1, 18, 58}, {0, 18, 58}})),
		"rows[1].UnixSeconds is 100000000001 s; accepted: -100000000000 to 100000000000 s (seconds, not milliseconds)": second(SummariseLog(roa, storeLimits,
			[]LogReading{{0, 18, 58}, {1e11 + 1, 18, 58}})),

		// What cannot be.
		"no summary: no two usable readings lie within a gap's length of each other; MaxGapSeconds is 3600 s, possible with 7200 to 31622400 s": second(SummariseLog(roa, storeLimits,
			[]LogReading{{0, 18, 58}, {7200, 18, 58}})),
		"no day: this room never brings the lot to that content; targetPct is 9.5 %, possible with 10 to 10.999999999999998 %": second(DaysToMoisture(Stay{10, 11, 30}, 9.5)),
		"no time constant: the last reading does not lie between the first and the equilibrium; readings[2].MoisturePct is 9.5 %, possible with 10.001010719154857 to 10.999999999999998 %": second(FitDrift(
			[]StoreReading{{0, 10}, {5, 10.2}, {10, 9.5}}, 11)),
		"no humidity: the line leaves 0 to 100 % at this reading; readPct is 70 %, possible with 15 to 65 %":    second(CorrectedHumidity(TwoPoint{40, 50, 60, 90, 0, 0}, 70)),
		"no humidity: the line leaves 0 to 100 % at this reading; readPct is 14.75 %, possible with 15 to 65 %": second(CorrectedHumidity(TwoPoint{40, 50, 60, 90, 0, 0}, 14.75)),
		"no humidity: the line leaves 0 to 100 % at this reading; readPct is 65.25 %, possible with 15 to 65 %": second(CorrectedHumidity(TwoPoint{40, 50, 60, 90, 0, 0}, 65.25)),
		"no humidity: the line leaves 0 to 100 % at this reading; readPct is 100 %, possible with 0 to 99.5 %":  second(CorrectedHumidity(TwoPoint{19.5, 20, 59.5, 60, 0, 0}, 100)),
		"no humidity: the line leaves 0 to 100 % at this reading; readPct is 0 %, possible with 0.5 to 100 %":   second(CorrectedHumidity(TwoPoint{20.5, 20, 60.5, 60, 0, 0}, 0)),
		"no fitted isotherm: the pairs were read at temperatures too far apart; pairs[2].TempC is 25.5 °C, possible with 22 to 25 °C": second(FitIsotherm(FormOswin,
			[]IsothermPair{{0.4, 9, 22}, {0.5, 10, 25}, {0.6, 11, 25.5}, {0.7, 12, 22}})),
		"no moisture: the second weight is below the dry matter of the first; ToMassKg is 87.9 kg, possible with 88 to 100000000 kg":  second(MoistureByWeight(WeighBack{dec("100"), dec("12"), dec("87.9")})),
		"no loss on drying: the dish with its portion weighs no more than the dish; BeforeG is 20 g, possible with 20.0001 to 5000 g": second(LossOnDrying(Dish{dec("20"), dec("20"), dec("20")})),
		"no loss on drying: the portion gained weight in the oven; AfterG is 30.1 g, possible with 20 to 30 g":                        second(LossOnDrying(Dish{dec("20"), dec("30"), dec("30.1")})),
		"no loss on drying: the dried portion weighs less than nothing; AfterG is 19 g, possible with 20 to 30 g":                     second(LossOnDrying(Dish{dec("20"), dec("30"), dec("19")})),
		"no roast loss: the roasted coffee weighs more than the green; RoastedKg is 10.1 kg, possible with 0.001 to 10 kg":            second(RoastLossSE(RoastReadings{10, 10.1, 11, 2}, RoastReadings{})),
		"no calibration line: all readings are the same; pairs[1].MeterPct is 11 %, possible with 0.5 to 80 %":                        second(CalibrateMeter([]MeterPair{{11, 11}, {11, 12}, {11, 11.5}})),
		"no relative humidity: the dew point is above the temperature; DewC is 19 °C, possible with -80 to 18 °C":                     second(RelativeHumidity(DewReading{18, 19})),
		"no Oswin fit: all activities are the same; pairs is 4, possible with 5 to 10000": second(FitIsotherm(FormOswin,
			[]IsothermPair{{0.5, 10, 20}, {0.5, 10.1, 20}, {0.5, 10.2, 20}, {0.5, 10, 20}})),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
	// The equilibrium itself is never reached, what lies next to it is.
	{
		var none *ImpossibleError
		if _, err := DaysToMoisture(Stay{12, 11, 30}, 11); !errors.As(err, &none) || !(none.Min > 11 && none.Min < 11+1e-12) || none.Max != 12 {
			t.Errorf("%v", err)
		} else if days, err := DaysToMoisture(Stay{12, 11, 30}, none.Min); err != nil || days < 30*30 {
			t.Errorf("%v days, %v", days, err)
		}
	}
	for name, err := range map[string]error{
		"drift to the end": second(FitDrift([]StoreReading{{0, 12}, {5, 11}}, 11)),
	} {
		var none *ImpossibleError
		if !errors.As(err, &none) || !(none.Min > 11 && none.Min < 11+1e-12) || !near(none.Max, wetFromDry(dryFromWet(11)+(dryFromWet(12)-dryFromWet(11))*math.Exp(-5.0/MaxTimeConstantDays)), 1e-12) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// A reading of the wick 0.01 K below what dry air gives.
	var least *ImpossibleError
	if err := second(HumidityFromWetBulb(Psychrometer{18, 0, 101.325})); !errors.As(err, &least) {
		t.Error(err)
	} else if rh, err := HumidityFromWetBulb(Psychrometer{18, least.Min - 0.01, 101.325}); err == nil {
		t.Errorf("%v %%", rh)
	} else if rh, err := HumidityFromWetBulb(Psychrometer{18, least.Min + 0.01, 101.325}); err != nil || !(rh < 0.2) {
		t.Errorf("%v %%, %v", rh, err)
	}
	// A broken lower limit leaves the range of the upper one whole.
	if err := limits(func(l *LogLimits) { l.LowRHPct, l.HighRHPct = 100.5, 0 })(); err == nil ||
		err.Error() != "LowRHPct is 100.5 %; accepted: 0 to 100 %; HighRHPct is 0 %; accepted: 1 to 100 %" {
		t.Error(err)
	}
	// Accepted: pairs 3 K apart, a reading 1e-4 days later, times at both ends,
	// a line that just reaches 0 and 100 %, a sack dried to nothing but matter, a portion without water.
	for i, err := range []error{
		second(FitIsotherm(FormOswin, []IsothermPair{{0.4, 9, 22}, {0.5, 10, 25}, {0.6, 11, 22}, {0.7, 12.5, 22}})),
		second(SummariseLog(roa, storeLimits, []LogReading{{-1e11, 18, 58}, {-1e11 + 60, 18, 58}, {1e11, 18, 58}})),
		second(CorrectedHumidity(TwoPoint{50, 50, 75, 75, 0, 0}, 0)),
		second(CorrectedHumidity(TwoPoint{50, 50, 75, 75, 0, 0}, 100)),
		second(CorrectedHumidity(TwoPoint{50, 50, 75, 75, 0, 0}, 99.5)),
		second(MoistureByWeight(WeighBack{dec("100"), dec("12"), dec("88")})),
		second(LossOnDrying(Dish{dec("20"), dec("30"), dec("30")})),
		second(LossOnDrying(Dish{dec("20"), dec("30"), dec("20")})),
		second(RoastLossSE(RoastReadings{10, 10, 11, 2}, RoastReadings{})),
		second(TotalLoss(dec("10"), dec("10"))),
	} {
		if err != nil {
			t.Errorf("%d: %v", i, err)
		}
	}
	if err := second(FitDrift([]StoreReading{{1, 10}, {1.0001, 10.9}}, 11)); fields(err) != nil {
		t.Errorf("1e-4 days apart: %v", err)
	}
	if err := second(FitDrift([]StoreReading{{1, 10}, {1.0000995, 10.9}}, 11)); fields(err) == nil {
		t.Errorf("less than 1e-4 days apart: %v", err)
	}
}

// A curve whose parameters give no content is refused as such, by every
// function that reads it, from the first content beyond the accepted ones.
func TestBrokenCurves(t *testing.T) {
	line := func(p ...float64) Isotherm { // X = P₀·a + P₁·a²
		c := Isotherm{Form: FormRoa, Scale: 1}
		copy(c.P[:], p)
		return c
	}
	log := func(c Isotherm) error {
		return second(SummariseLog(c, storeLimits, []LogReading{{0, 20, 50}, {60, 20, 50}}))
	}
	at := func(c Isotherm) error { return second(EquilibriumMoisture(c, Air{20, 50})) }
	anchor := func(m float64) func(Isotherm) error {
		return func(c Isotherm) error {
			return second(AnchorIsotherm(c, Anchor{Aw: 0.5, MoisturePct: m, TempC: 20}))
		}
	}
	for name, call := range map[string]func(Isotherm) error{"log": log, "equilibrium": at, "anchor": anchor(75)} {
		for x, want := range map[float64]string{
			399.5: "", 400: "", 0.4: "", // % dry at an activity of 0.5
			400.5: "P is 400.5 % dry basis; accepted: 0 to 400 (the curve's parameters give a content outside this range)",
			0:     "P is 0 % dry basis; accepted: 0 to 400 (the curve's parameters give a content outside this range)",
			-0.5:  "P is -0.5 % dry basis; accepted: 0 to 400 (the curve's parameters give a content outside this range)",
		} {
			err := call(line(2 * x))
			if x == 0.4 && name == "anchor" {
				err = anchor(0.5)(line(0.8)) // 0.5025 % dry
			}
			if want == "" && err != nil || want != "" && (err == nil || err.Error() != want) {
				t.Errorf("%s at %v %%: %v", name, x, err)
			}
		}
	}
	for want, c := range map[string]Isotherm{
		"P is 0.5 % dry basis; accepted: 0 to 400 (the curve's parameters give a content outside this range)":  line(100, -99.5), // falls
		"P is 190 % dry basis; accepted: 0 to 400 (the curve's parameters give a content outside this range)":  line(-10, 200),   // begins below nothing
		"P is +Inf % dry basis; accepted: 0 to 400 (the curve's parameters give a content outside this range)": line(100, 0, 0, 1e3),
	} {
		if err := second(WaterActivity(c, Bean{12, 20})); err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
	var none *ImpossibleError
	if err := second(WaterActivity(roa, Bean{0.55, 20})); !errors.As(err, &none) || !near(none.Min, 0.5917, 1e-3) || !near(none.Max, 20.63, 1e-3) {
		t.Errorf("drier than the curve: %v", err)
	}
}

// An anchor moves a curve by its factor, and its band by three parts in square.
func TestAnchorParts(t *testing.T) {
	e, err := EquilibriumMoisture(roa, Air{22, 55})
	if err != nil {
		t.Fatal(err)
	}
	x := 1.2 * e.DryMoisturePct
	a := Anchor{Aw: 0.55, MoisturePct: wetFromDry(x), TempC: 22, AwSE: 0.02, MoistureSEPct: 0.3}
	got, err := AnchorIsotherm(roa, a)
	if err != nil {
		t.Fatal(err)
	}
	const h = 1e-3 // % of humidity
	hi, _ := EquilibriumMoisture(roa, Air{22, 55 + h})
	lo, _ := EquilibriumMoisture(roa, Air{22, 55 - h})
	perAw := (hi.DryMoisturePct - lo.DryMoisturePct) / (2 * h / 100)
	toDry := (dryFromWet(a.MoisturePct+1e-4) - dryFromWet(a.MoisturePct-1e-4)) / 2e-4
	want := math.Sqrt(math.Pow(1.2*roa.SEDryPct, 2) + math.Pow(toDry*0.3, 2) + math.Pow(1.2*perAw*0.02, 2))
	if !near(got.Scale, 1.2, 1e-12) || !near(got.SEDryPct, want, 1e-6) {
		t.Errorf("scale %v, band %v, want %v", got.Scale, got.SEDryPct, want)
	}
	if d := (hi.MoisturePct - lo.MoisturePct) / (2 * h); !near(e.PctPerRHPct, d, 1e-6) {
		t.Errorf("%v %% per %% of humidity, by differences %v", e.PctPerRHPct, d)
	}
	// The second anchor is held to what any factor may be.
	for _, c := range []struct {
		scale, factor float64
		ok            bool
	}{
		{1, 0.5001, true}, {1, 0.499, false}, {1, 1.999, true}, {1, 2.001, false},
		{4, 1.2, true}, {4, 1.249, true}, {4, 1.26, false}, {0.3, 0.67, true}, {0.3, 0.665, false},
	} {
		curve := roa
		curve.Scale = c.scale
		e, err := EquilibriumMoisture(curve, Air{22, 55})
		if err != nil {
			t.Fatal(err)
		}
		_, err = AnchorIsotherm(curve, Anchor{Aw: 0.55, MoisturePct: wetFromDry(c.factor * e.DryMoisturePct), TempC: 22})
		if (err == nil) != c.ok {
			t.Errorf("%v anchored by %v: %v", c.scale, c.factor, err)
		}
		var none *ImpossibleError
		if c.factor == 1.26 && (!errors.As(err, &none) || none.Why != "the curve was anchored before to another level" || none.Field != "MoisturePct" ||
			!near(none.Min, wetFromDry(0.5*e.DryMoisturePct), 1e-12) || !near(none.Max, wetFromDry(1.25*e.DryMoisturePct), 1e-12)) {
			t.Error(err)
		}
		if c.factor == 2.001 && (!errors.As(err, &none) || !near(none.Min, wetFromDry(0.5*e.DryMoisturePct), 1e-12) || !near(none.Max, wetFromDry(2*e.DryMoisturePct), 1e-12)) {
			t.Error(err)
		}
	}
}

// The criterion is the one of its definition, and a choice is by its order.
func TestCriterion(t *testing.T) {
	made := Isotherm{Form: FormGAB, Scale: 1, P: [6]float64{5.1, 12.5, 0.87}}
	var pairs []IsothermPair
	for i, a := range []float64{0.12, 0.22, 0.33, 0.43, 0.53, 0.62, 0.71, 0.8, 0.88} {
		pairs = append(pairs, IsothermPair{a, wetFromDry(made.dry(a, 25) + 0.05*float64(i%3-1)), 25})
	}
	for n := 5; n <= len(pairs); n++ {
		c, err := ChooseIsotherm(pairs[:n])
		if err != nil {
			t.Fatal(err)
		}
		var order []float64
		for i, f := range c.Fits {
			k := []int{3, 2, 2}[i]
			rss := 0.0
			for _, p := range pairs[:n] {
				d := dryFromWet(p.MoisturePct) - f.Curve.dry(p.Aw, p.TempC)
				rss += d * d
			}
			bic := float64(n)*math.Log(rss/float64(n)) + float64(k)*math.Log(float64(n))
			if !near(f.RSSDryPct2, rss, 1e-9) || math.Abs(f.BICIndex-bic) > 1e-6 || !near(f.Curve.SEDryPct, math.Sqrt(rss/float64(n-k)), 1e-9) {
				t.Errorf("%d pairs, %v: %+v; sum of squares %v, criterion %v", n, f.Curve.Form, f, rss, bic)
			}
			if (f.Notes == FewPairs) != (n < k+5) {
				t.Errorf("%d pairs, %v: %v", n, f.Curve.Form, f.Notes)
			}
			order = append(order, bic)
		}
		slices.Sort(order)
		if math.Abs(c.Best.BICIndex-order[0]) > 1e-6 || math.Abs(c.NextIndex-(order[1]-order[0])) > 1e-6 || (c.Notes&CloseCall != 0) != (c.NextIndex < 2) {
			t.Errorf("%d pairs: %+v, %v, order %v", n, c.NextIndex, c.Notes, order)
		}
	}
	// A perfect fit: 1e-18 stands for its mean square. 4·ln 1e-18 + 2·ln 4.
	oswin := Isotherm{Form: FormOswin, Scale: 1, P: [6]float64{10, 0.3}}
	pairs = nil
	for _, a := range []float64{0.2, 0.4, 0.6, 0.8} {
		pairs = append(pairs, IsothermPair{a, wetFromDry(oswin.dry(a, 25)), 25})
	}
	if f, err := FitIsotherm(FormOswin, pairs); err != nil || !near(f.BICIndex, -163.01353, 1e-6) {
		t.Errorf("%v, %v", f.BICIndex, err)
	}
}

// Notes begin where the doc comments say, and one step before they do not.
func TestNotesAtTheirBorders(t *testing.T) {
	is := func(name string, want, got Notes) {
		t.Helper()
		if got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	heat := func(x, c float64) Notes {
		h, err := HeatOfSorption(Bean{wetFromDry(x), c})
		if err != nil {
			t.Error(err)
		}
		return h.Notes
	}
	for _, c := range []struct{ x, t float64 }{{4.81, 20}, {25.19, 20}, {12, 10}, {12, 55}} {
		is("inside the heat's data", ParchmentDesorption, heat(c.x, c.t))
	}
	for _, c := range []struct{ x, t float64 }{{4.79, 20}, {25.21, 20}, {12, down(10)}, {12, up(55)}} {
		is("outside the heat's data", ParchmentDesorption|Extrapolated, heat(c.x, c.t))
	}
	for to, want := range map[float64]Notes{60: ParchmentDesorption, 60.1: ParchmentDesorption | Extrapolated} {
		c, err := CarryActivity(SealedSample{0.5, 11, 50, to})
		if err != nil {
			t.Error(err)
		}
		is("carried across 55 °C", want, c.Notes)
	}
	// The note stands where the dew point or the wet bulb lies below 0 °C.
	for _, p := range []float64{50, 101.325, 110} {
		for c := 0.0; c < 3; c += 0.1 {
			for rh := 60.0; rh <= 100; rh += 2 {
				if s, err := AirProperties(MoistAir{c, rh, p}); err != nil || (s.Notes == OverIce) != (s.DewC < 0 || s.WetBulbC < 0) {
					t.Fatalf("%v °C, %v %%, %v kPa: %+v, %v", c, rh, p, s, err)
				}
			}
		}
	}
	// Frost is possible up to the humidity that it names.
	var frost *ImpossibleError
	if err := second(FrostPoint(Air{20, 60})); !errors.As(err, &frost) || frost.Min != MinRHPct {
		t.Error(err)
	} else if second(FrostPoint(Air{20, frost.Max - 1e-9})) != nil || second(FrostPoint(Air{20, frost.Max + 1e-9})) == nil {
		t.Error(err)
	}
	// What would pass 1 is told where it reaches it.
	var most *ImpossibleError
	if err := second(CarryActivity(SealedSample{0.95, 5, 10, 60})); !errors.As(err, &most) || most.Field != "ToC" || most.Min != 0 || !(most.Max > 10) {
		t.Error(err)
	} else if c, err := CarryActivity(SealedSample{0.95, 5, 10, most.Max - 1e-6}); err != nil || !(c.Aw > 1-1e-6) {
		t.Errorf("%+v, %v", c, err)
	} else if err := second(CarryActivity(SealedSample{0.95, 5, 10, most.Max + 1e-6})); err == nil {
		t.Errorf("beyond %v °C", most.Max)
	}
	// A wick below 0 °C is ice, and air knows its own; between −0.2 and 0.4 °C
	// ice and water both balance.
	for _, bulb := range []float64{-0.9, -0.5, 0.5} {
		rh, err := HumidityFromWetBulb(Psychrometer{5, bulb, 101.325})
		if err != nil {
			t.Fatal(err)
		}
		if s, err := AirProperties(MoistAir{5, rh, 101.325}); err != nil || math.Abs(s.WetBulbC-bulb) > 1e-6 {
			t.Errorf("a wick at %v °C came back as %+v, %v", bulb, s, err)
		}
	}
	for _, c := range []struct {
		t    float64
		want Notes
	}{{0, 0}, {5, 0}, {down(0), Extrapolated}, {-20, Extrapolated}} {
		f, err := FrostPoint(Air{c.t, 25})
		if err != nil {
			t.Error(err)
		}
		is("frost", c.want, f.Notes)
		s, err := AirProperties(MoistAir{c.t, 25, 101.325})
		if err != nil {
			t.Error(err)
		}
		is("air", c.want|OverIce, s.Notes)
		w, err := WaterForRoom(RoomChange{100, 101.325, Air{20, 60}, Air{18, 55}, Air{c.t, 80}, 1})
		if err != nil {
			t.Error(err)
		}
		is("room", c.want, w.Notes)
	}
	s, err := AirProperties(MoistAir{20, 35, 101.325}) // dew at 4.2 °C
	if err != nil {
		t.Error(err)
	}
	is("mild air", 0, s.Notes)
	for rh, want := range map[float64]Notes{27: 0, 26: OverIce | Extrapolated} { // dew at 0.5 and −0.1 °C
		w, err := SackSweat(ColdSack{20, Air{20, rh}, 3})
		if err != nil {
			t.Error(err)
		}
		is("sack", want, w.Notes)
	}
	for read, want := range map[float64]Notes{50: 0, 75: 0, down(50): OutsidePairs, up(75): OutsidePairs, 90: OutsidePairs} {
		c, err := CorrectedHumidity(TwoPoint{50, 50, 75, 75, 0, 0}, read)
		if err != nil {
			t.Error(err)
		}
		is("two salts", want, c.Notes)
	}
	var pairs []MeterPair
	for i := range 10 {
		pairs = append(pairs, MeterPair{10 + 0.25*float64(i), 10.1 + 0.25*float64(i)})
	}
	for n, want := range map[int]Notes{9: FewPairs, 10: 0} {
		c, err := CalibrateMeter(pairs[:n])
		if err != nil {
			t.Error(err)
		}
		is("calibration", want, c.Notes)
		r, err := CorrectedReading(c, c.HighestPct)
		if err != nil {
			t.Error(err)
		}
		is("reading", want, r.Notes)
	}
	log, err := SummariseLog(roa, storeLimits, []LogReading{{0, 18, 58}, {60, 18, 58}, {7200, 18, 58}, {7260, 18, 58}})
	if err != nil {
		t.Error(err)
	}
	is("a gap, no row missing", ParchmentDesorption|Gaps, log.Notes)
	// Stretches at risk of 300 and 600 s, cut by a gap.
	log, err = SummariseLog(roa, storeLimits, []LogReading{{0, 18, 70}, {300, 18, 70}, {7200, 18, 70}, {7800, 18, 70}})
	if err != nil || log.LongestRiskSeconds != 600 || log.RiskSeconds != 900 {
		t.Errorf("%+v, %v", log, err)
	}
}

// Drifts come back from readings that begin at any day, as far as a time
// constant and a content may be.
func TestDriftsComeBack(t *testing.T) {
	made := func(x0, xe, tau, from, step float64, n int) []StoreReading { // contents dry
		var list []StoreReading
		for i := range n {
			d := step * float64(i)
			list = append(list, StoreReading{from + d, wetFromDry(xe + (x0-xe)*math.Exp(-d/tau))})
		}
		return list
	}
	for n := 4; n <= 8; n++ {
		r := made(12, 14, 20, 100, 6, n)
		f, err := FitDriftAndEquilibrium(r)
		if err != nil || !near(f.TimeConstantDays, 20, 1e-5) || !near(f.StartPct, wetFromDry(12), 1e-8) || !near(f.EquilibriumPct, wetFromDry(14), 1e-6) || (f.Notes == FewPairs) != (n < 8) {
			t.Errorf("%d readings: %+v, %v", n, f, err)
		}
		f, err = FitDrift(r, wetFromDry(14))
		if err != nil || !near(f.TimeConstantDays, 20, 1e-7) || !near(f.StartPct, wetFromDry(12), 1e-9) || (f.Notes == FewPairs) != (n < 5) {
			t.Errorf("%d readings: %+v, %v", n, f, err)
		}
	}
	// The standard error of the end, by its definition from two readings' noise:
	// the residuals are of one size, and a hundredth of them gives a hundredth.
	noisy := func(s float64) DriftFit {
		r := made(12, 14, 20, 0, 6, 9)
		for i := range r {
			r[i].MoisturePct = wetFromDry(dryFromWet(r[i].MoisturePct) + s*[]float64{1, -1, -1, 1, 1, -1, 1, -1, 1}[i])
		}
		f, err := FitDriftAndEquilibrium(r)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	big, small := noisy(1e-2), noisy(1e-4)
	if !near(big.EquilibriumSEPct, 100*small.EquilibriumSEPct, 0.05) || !near(big.TimeConstantSEDays, 100*small.TimeConstantSEDays, 0.05) ||
		!near(small.ResidualDryPct, 1e-4*math.Sqrt(9./6), 0.2) {
		t.Errorf("%+v and %+v", big, small)
	}
	for _, c := range []struct {
		x0, xe, tau, step float64
		ok                bool
	}{
		{10, 12, 0.01005, 0.004, true}, {10, 12, 0.00995, 0.004, false},
		{12, 12.2, 20, 5, true}, {10, 12, 9999.5, 900, true}, {10, 12, 10000.5, 900, false},
	} {
		r := made(c.x0, c.xe, c.tau, 0, c.step, 2)
		if f, err := FitDrift(r, wetFromDry(c.xe)); (err == nil) != c.ok {
			t.Errorf("%+v: %+v, %v", c, f, err)
		}
	}
	for _, c := range []struct {
		xe float64
		ok bool
	}{{0.502, true}, {0.498, false}, {399.5, true}, {400.5, false}} {
		f, err := FitDriftAndEquilibrium(made(10, c.xe, 50, 0, 10, 8))
		if (err == nil) != c.ok {
			t.Errorf("%+v: %+v, %v", c, f, err)
		}
		if want := "no time constant: the readings lead to no content that coffee can have; readings is 8, possible with 9 to 100000"; !c.ok && (err == nil || err.Error() != want) {
			t.Error(err)
		}
	}
	// The curve through these begins below nothing, at about −2 % dry.
	r := made(-3, 50, 20, 0, 5, 9)
	r[0].MoisturePct = 0.6
	if f, err := FitDriftAndEquilibrium(r); err == nil {
		t.Errorf("%+v", f)
	}
}

// A lot is at its own content at once, wherever the room takes it, even where
// it takes it nowhere.
func TestNoDaysToWhereItIs(t *testing.T) {
	for _, room := range []float64{4, 10.7, 11, 15} {
		days, err := DaysToMoisture(Stay{MoisturePct: 10.7, EquilibriumPct: room, TimeConstantDays: 12}, 10.7)
		if days != 0 || err != nil {
			t.Errorf("room at %v %%: %v days, %v", room, days, err)
		}
	}
}
