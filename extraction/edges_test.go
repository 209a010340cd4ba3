package extraction

import (
	"math"
	"testing"
)

// Every accepted limit is met from both sides: a step beyond is refused with
// the field's name, the limit itself is not.
func TestLimitsFromBothSides(t *testing.T) {
	third := func(_, _ float64, err error) error { return err }
	filter := Method{FilterLiquidGPerG, 0, 0}
	pairs := func(x, y float64) []Pair { return []Pair{{1, 1}, {2, 2}, {x, y}} }
	for name, c := range map[string]struct {
		field  string
		lo, hi float64
		ask    func(v float64) error
	}{
		"bean moisture":        {"MoisturePct", 0, 15, func(v float64) error { return second(DryFactor(Bean{v, 0})) }},
		"bean gas":             {"GasPct", 0, 3, func(v float64) error { return second(DryFactor(Bean{0, v})) }},
		"spent moisture":       {"Bean.MoisturePct", 0, 15, func(v float64) error { return second(SpentGroundsYield(Spent{20, 12, Bean{v, 0}, 15, 0, 0, true})) }},
		"spent gas":            {"Bean.GasPct", 0, 3, func(v float64) error { return second(SpentGroundsYield(Spent{20, 12, Bean{0, v}, 15, 0, 0, true})) }},
		"spent ratio":          {"Ratio", 1, 40, func(v float64) error { return second(SpentGroundsYield(Spent{20, 16, Bean{}, v, 0, 0, true})) }},
		"spent liquid":         {"LiquidGPerG", 0, 3.5, func(v float64) error { return second(SpentGroundsYield(Spent{20, 16, Bean{}, 15, v, 0, true})) }},
		"spent volatiles":      {"VolatilesPct", 0, 5, func(v float64) error { return second(SpentGroundsYield(Spent{20, 16, Bean{}, 15, 0, v, true})) }},
		"check yield":          {"YieldPct", 1, 100, func(v float64) error { return second(OvenApparentYield(OvenCheck{v, 15, 0, 0})) }},
		"check liquid":         {"LiquidGPerG", 0, 3.5, func(v float64) error { return second(OvenApparentYield(OvenCheck{20, 15, v, 0})) }},
		"check volatiles":      {"VolatilesPct", 0, 5, func(v float64) error { return second(OvenApparentYield(OvenCheck{20, 15, 0, v})) }},
		"steep ratio":          {"Ratio", 1, 40, func(v float64) error { return second(Equilibrium(Steep{v, 20, 0})) }},
		"steep yield":          {"YieldPct", 5, 40, func(v float64) error { return second(Equilibrium(Steep{15, v, 0})) }},
		"steep uncertainty":    {"YieldUPct", 0, 10, func(v float64) error { return second(Equilibrium(Steep{15, 20, v})) }},
		"line ratio":           {"Ratio", 1, 40, func(v float64) error { return second(LineStrength(OnLine{Method{}, v, 20})) }},
		"kept":                 {"Method.LiquidGPerG", 0, 6, func(v float64) error { return second(LineStrength(OnLine{Method{v, 0, 0}, 15, 20})) }},
		"share":                {"Method.RetainedSharePct", 0, 100, func(v float64) error { return second(LineStrength(OnLine{Method{2, v, 0}, 15, 20})) }},
		"locked":               {"Method.AbsorbedGPerG", 0, 3, func(v float64) error { return second(LineStrength(OnLine{Method{4, 0, v}, 15, 20})) }},
		"change from":          {"Ratio", 5, 40, func(v float64) error { return third(StrengthAfter(Changed{filter, 1.3, max(v, 1), 16})) }},
		"brix":                 {"BrixPct", -1, 30, func(v float64) error { return second(SucroseIndex(Reading{v})) }},
		"reading":              {"BrixPct", -1, 30, func(v float64) error { return second(BrixStrength(Refractometry{v, 0, 0, 0.85, 0})) }},
		"zero":                 {"ZeroPct", -1, 1, func(v float64) error { return second(BrixStrength(Refractometry{1, v, 0, 0.85, 0})) }},
		"reading uncertainty":  {"BrixUPct", 0, 2, func(v float64) error { return second(BrixStrength(Refractometry{1, 0, v, 0.85, 0})) }},
		"slope":                {"SlopePct", 0.6, 1.1, func(v float64) error { return second(BrixStrength(Refractometry{1, 0, 0, v, 0})) }},
		"slope uncertainty":    {"SlopeUPct", 0, 0.2, func(v float64) error { return second(BrixStrength(Refractometry{1, 0, 0, 0.85, v})) }},
		"index":                {"Index", 1.3290, 1.3820, func(v float64) error { return second(Brix(Sample{v, 20})) }},
		"sample":               {"TempC", 5, 50, func(v float64) error { return second(Brix(Sample{1.335, v})) }},
		"correction":           {"TempC", 5, 50, func(v float64) error { return second(BrixCorrection(Uncompensated{1, v})) }},
		"water":                {"TempC", 0, 60, func(v float64) error { return second(WaterIndex(At{v})) }},
		"slope by volume":      {"GPerL", 5, 12, func(v float64) error { return second(SlopePct(SlopeByMass{v, 1000})) }},
		"density":              {"KgPerM3", 950, 1200, func(v float64) error { return second(SlopePct(SlopeByMass{8, v})) }},
		"pair reading":         {"pairs[2].BrixPct", -1, 30, func(v float64) error { return second(FitSlope(pairs(v, 1))) }},
		"pair strength":        {"pairs[2].StrengthPct", 0, 35, func(v float64) error { return second(FitSlope(pairs(3, v))) }},
		"oven dish":            {"DishG", 0, 9990, func(v float64) error { return second(OvenStrength(Oven{min(v, 10_001), 10_000, max(v, 0) + 1, 0})) }},
		"oven uncertainty":     {"UG", 0, 1, func(v float64) error { return second(OvenStrength(Oven{0, 10, 1, v})) }},
		"repeated reading":     {"readings[1].Pct", -1, 100, func(v float64) error { return second(Repeatability([]float64{1, v})) }},
		"strength":             {"StrengthPct", 0, 35, func(v float64) error { return second(Convert(Solution{v, 20, 0.62})) }},
		"solute":               {"SoluteMLPerG", 0.4, 0.9, func(v float64) error { return second(Convert(Solution{1, 20, v})) }},
		"by volume":            {"GPerL", 0, 500, func(v float64) error { return second(ConvertGPerL(ByVolume{v, 20, 0.62})) }},
		"served":               {"VolumeML", 0.1, 4e6, func(v float64) error { return second(BeverageMass(Served{v, 1, 20, 0.62})) }},
		"brew to thin":         {"BrewG", 0.1, 4e6, func(v float64) error { return second(Dilute(Dilution{v, 1.3, 0, 1.2})) }},
		"part mass":            {"parts[1].MassG", 0, MaxMassG, func(v float64) error { return second(Blend([]Part{{1, 1}, {v, 1}})) }},
		"part strength":        {"parts[1].StrengthPct", 0, 100, func(v float64) error { return second(Blend([]Part{{1, 1}, {1, v}})) }},
		"blend":                {"TotalG", 0.1, MaxMassG, func(v float64) error { return third(BlendParts(TwoBrews{2, 1, 1.5, v})) }},
		"blend at either end":  {"ToStrengthPct", 1, 2, func(v float64) error { return third(BlendParts(TwoBrews{2, 1, v, 10})) }},
		"points":               {"PointsPct", 0.1, 5, func(v float64) error { return second(Directions(Turn{filter, 1.3, 20, v, 5})) }},
		"percent":              {"ChangePct", 0.1, 30, func(v float64) error { return second(Directions(Turn{filter, 1.3, 20, 1, v})) }},
		"ellipse coverage":     {"CoveragePct", 1, 99.9, func(v float64) error { return second(MapEllipse(MapPoint{20, 0.5, 1.3, 0.03, 0, v})) }},
		"ellipse yield spread": {"YieldUPct", 0, 50, func(v float64) error { return second(MapEllipse(MapPoint{20, v, 1.3, 0.03, 0, 95})) }},
	} {
		for _, v := range []float64{c.lo, c.hi} {
			if err := c.ask(v); err != nil {
				t.Errorf("%s: %v is refused: %v", name, v, err)
			}
		}
		if name == "change from" || name == "oven dish" {
			continue // their ends come from another input
		}
		for _, v := range []float64{math.Nextafter(c.lo, math.Inf(-1)), math.Nextafter(c.hi, math.Inf(1)), math.NaN()} {
			err := c.ask(v)
			if f := fields(err); (len(f) != 1 || f[0] != c.field) && impossible(err) != c.field {
				t.Errorf("%s: %v gives %v", name, v, err)
			}
		}
	}
}

// A number beside an error is zero.
func TestNothingBesideAnError(t *testing.T) {
	filter := Method{FilterLiquidGPerG, 0, 0}
	one := func(v float64, err error) [3]float64 { return [3]float64{v, 0, flag(err)} }
	two := func(v, w float64, err error) [3]float64 { return [3]float64{v, w, flag(err)} }
	for name, got := range map[string][3]float64{
		"DryFactor":         one(DryFactor(Bean{-1, 0})),
		"OvenApparentYield": one(OvenApparentYield(OvenCheck{})),
		"BeverageMass":      one(BeverageMass(Served{})),
		"LineStrength":      one(LineStrength(OnLine{})),
		"no line":           one(LineStrength(OnLine{Method{6, 0, 0}, 5, 20})),
		"PointRatio":        one(PointRatio(OnMap{})),
		"no point":          one(PointRatio(OnMap{filter, 0.2, 30})),
		"StrengthAfter":     two(StrengthAfter(Changed{})),
		"no change":         two(StrengthAfter(Changed{filter, 1.3, 1.5, 16})),
		"nothing after":     two(StrengthAfter(Changed{Method{6, 0, 0}, 1.3, 16, 5})),
		"BrixCorrection":    one(BrixCorrection(Uncompensated{})),
		"WaterIndex":        one(WaterIndex(At{-1})),
		"SlopePct":          one(SlopePct(SlopeByMass{})),
		"Dilute":            one(Dilute(Dilution{})),
		"no dilution":       one(Dilute(Dilution{100, 1.2, 0, 1.3})),
		"BlendParts":        two(BlendParts(TwoBrews{})),
		"no blend":          two(BlendParts(TwoBrews{2, 1, 3, 10})),
	} {
		if got != [3]float64{0, 0, 1} {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func flag(err error) float64 {
	if err == nil {
		return 0
	}
	return 1
}

// Notes stand exactly where their limits are.
func TestNotesAtTheirLimits(t *testing.T) {
	for _, c := range []struct {
		ratio float64
		want  Notes
	}{{math.Nextafter(3, 0), Extrapolated}, {3, 0}, {15, 0}, {25, 0}, {math.Nextafter(25, 26), Extrapolated}} {
		s, err := Equilibrium(Steep{c.ratio, 20, 0})
		if err != nil || s.Notes != c.want {
			t.Errorf("1:%v: %q, %v", c.ratio, s.Notes, err)
		}
		y, err := SpentGroundsYield(Spent{20, 16, Bean{}, c.ratio, 0, 0, true})
		if err != nil || y.Notes != c.want {
			t.Errorf("oven at 1:%v: %q, %v", c.ratio, y.Notes, err)
		}
	}
	for _, c := range []struct {
		yield float64
		want  Notes
	}{{math.Nextafter(10, 0), LowYield}, {10, 0}, {30, 0}, {math.Nextafter(30, 31), HighYield}, {36, HighYield}, {math.Nextafter(36, 37), HighYield | AboveSoluble}} {
		if got := yieldNotes(c.yield); got != c.want {
			t.Errorf("%v %%: %q", c.yield, got)
		}
	}
	for _, c := range []struct {
		strength float64
		want     Notes
	}{{math.Nextafter(0.15, 0), UnusualStrength}, {0.15, 0}, {35, 0}, {math.Nextafter(35, 36), UnusualStrength}} {
		if got := strengthNotes(c.strength); got != c.want {
			t.Errorf("%v %%: %q", c.strength, got)
		}
	}
	for _, c := range []struct {
		brix float64
		want Notes
	}{{math.Nextafter(0, -1), Extrapolated}, {0, 0}, {20, 0}, {math.Nextafter(20, 21), Extrapolated}} {
		if got := brixNotes(c.brix); got != c.want {
			t.Errorf("%v °Brix: %q", c.brix, got)
		}
	}
	s, err := Strength(Target{15, 250, 220, 20, 0, 0})
	if err != nil || s.Notes != 0 {
		t.Errorf("%+v, %v", s, err)
	}
}

// The line with an intercept against the straight-line formulas of a textbook,
// worked by hand on four points.
func TestInterceptByHand(t *testing.T) {
	// x 1 2 3 4, y 1 3 2 4: mean 2.5 both, Sxx 5, Sxy 4, slope 0.8,
	// intercept 0.5, residuals −0.3 0.9 −0.9 0.3, RSS 1.8, s² 0.9,
	// u(a) = √(0.9·(1/4 + 6.25/5)) = √1.35.
	f, err := FitSlope([]Pair{{1, 1}, {2, 3}, {3, 2}, {4, 4}})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(f.InterceptPct-0.5) > 1e-12 || math.Abs(f.InterceptU-math.Sqrt(1.35)) > 1e-12 {
		t.Errorf("%+v", f)
	}
	// Through zero: Σxy 29, Σx² 30.
	if math.Abs(f.SlopePct-29./30) > 1e-12 || f.Notes != FewReadings {
		t.Errorf("%+v", f)
	}
	both, err := FitSlope([]Pair{{1.3, 0.85}, {2.3, 1.7}, {5.3, 4.25}})
	if err != nil || both.Notes != FewReadings|InterceptMatters {
		t.Errorf("%q, %v", both.Notes, err)
	}
}

// Yield and strength move together as the strength is misread.
func TestCovarianceIsTheDerivative(t *testing.T) {
	b := Brew{15, 250, 220, 1.4, 0.8, 0.2}
	u := must[YieldU](t)(YieldUncertainty(b, BrewU{StrengthPct: 0.03}))
	up, down := b, b
	up.StrengthPct += 1e-5
	down.StrengthPct -= 1e-5
	if want := (solidsOf(up) - solidsOf(down)) / 2e-5 * 0.03 * 0.03; math.Abs(u.CovariancePct-want) > 1e-8 || math.Abs(u.CorrelationEtoT-1) > 1e-12 {
		t.Errorf("%v, by steps %v; correlation %v", u.CovariancePct, want, u.CorrelationEtoT)
	}
	exact := must[YieldU](t)(YieldUncertainty(b, BrewU{DoseG: 0.1}))
	if exact.CorrelationEtoT != 0 || math.IsNaN(exact.CorrelationEtoT) {
		t.Errorf("%+v", exact)
	}
}

// Grounds that lost all that they were said to have kept, and more, are not
// told that they weigh too much.
func TestSpentGroundsBeyondTheDose(t *testing.T) {
	for want, in := range map[string]Spent{
		// At E = 1 the grounds weigh D'·(λ/(R + 1) − v) and the liquid is (1 − x)·(R + 1).
		"no yield: more would have dissolved than was dosed; DryG is 1 g, possible with 10 to 100 g":                                   {100, 1, Bean{}, 9, 1, 0, true},
		"no yield: more would have dissolved than was dosed; LiquidGPerG is 3.5 g/g, possible with 0 to 1 g/g":                         {100, 50, Bean{}, 1, 3.5, 0, true},
		"no yield: the dried grounds weigh more than the dose less what the oven drives off; DryG is 99 g, possible with 0.05 to 97 g": {100, 99, Bean{}, 9, 1, 3, false},
		"no yield: the dried grounds weigh more than the dose less what the oven drives off":                                           {100, 101, Bean{}, 1, 3.5, 0, true},
	} {
		if err := second(SpentGroundsYield(in)); err == nil || err.Error() != want {
			t.Errorf("%+v: %v", in, err)
		}
	}
}
