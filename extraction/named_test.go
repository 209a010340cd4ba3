package extraction

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func third[T, U any](_ T, _ U, err error) error { return err }

// What is refused is told with its field, its value and the range of it that
// would do, word for word. The numbers are worked in the comments where they
// are not limits.
func TestRefusalsWordForWord(t *testing.T) {
	filter := Method{FilterLiquidGPerG, 0, 0}
	recipe := func(g Goal) error { return second(RecipeFor(g)) }
	for want, err := range map[string]error{
		// 220 less the smallest beverage, 0.1
		"no yield: nothing is left of the beverage before the bypass; BypassG is 220 g, possible with 0 to 211.82857142857142 g": third(BypassYield(Bypassed{Brew{15, 250, 220, 1.3, 0, 0}, 220})),
		// 20·(1 − 0.025) = 19.5
		"no yield: the dried grounds weigh more than the dose less what the oven drives off; DryG is 20 g, possible with 2.6 to 19.5 g": second(SpentGroundsYield(Spent{20, 20, Bean{}, 15, 2.48, 2.5, true})),
		// E² − 1.4·E − 0.9 = 0 has 1.88: more than everything
		"no yield: more would have dissolved than was dosed; DryG is 2 g, possible with 15 to 20 g": second(SpentGroundsYield(Spent{20, 2, Bean{}, 1, 1.5, 0, true})),
		// 1 + 0.2
		"LiquidGPerG is 1.25 g/g; accepted: 0 to 1.2 g/g":                                                                                 second(OvenApparentYield(OvenCheck{20, 1, 1.25, 0})),
		"no slope: all readings are those of water; pairs is 0 °Brix, possible with 0.1 to 30 °Brix":                                      second(FitSlope([]Pair{{0, 0}, {0, 0}, {0, 0}})),
		"pairs is 2 pairs; accepted: 3 to 1000 pairs":                                                                                     second(FitSlope(make([]Pair, 2))),
		"no strength: there is no brew in the dish; WetG is 10.05 g, possible with 10.1 to 10000 g":                                       second(OvenStrength(Oven{10, 10.05, 10, 0})),
		"no strength: the dried dish weighs less than empty or as much as full; DryG is 9.99 g, possible with 10 to 19.999999999999996 g": second(OvenStrength(Oven{10, 20, 9.99, 0})),
		"no strength: the dried dish weighs less than empty or as much as full; DryG is 20 g, possible with 10 to 19.999999999999996 g":   second(OvenStrength(Oven{10, 20, 20, 0})),
		"parts is 0.05 g in all; accepted: 0.1 to 10000000000 g in all":                                                                   second(Blend([]Part{{0.05, 1}})),
		"no mixture: the strength wanted is not between the two that are mixed; ToStrengthPct is 1.5 %, possible with 0.01 to 1.3 %":      second(Dilute(Dilution{100, 1.3, 0, 1.5})),
		"no mixture: the strength wanted is not between the two that are mixed; ToStrengthPct is 3 %, possible with 1 to 2 %":             third(BlendParts(TwoBrews{2, 1, 3, 10})),

		// What is locked in is part of what is kept.
		"Method.AbsorbedGPerG is 1 g/g; accepted: 0 to 0 g/g":                                                            second(LineStrength(OnLine{Method{0, 0, 1}, 15, 20})),
		"Method.AbsorbedGPerG is 1 g/g; accepted: 0 to 0.5 g/g":                                                          second(LineStrength(OnLine{Method{0.5, 0, 1}, 15, 20})),
		"Method.AbsorbedGPerG is 4 g/g; accepted: 0 to 3 g/g":                                                            second(LineStrength(OnLine{Method{5, 0, 4}, 15, 20})),
		"no strength: the grounds would keep the liquid that the solids need; Ratio is 5 g/g, possible with 7 to 40 g/g": second(LineStrength(OnLine{Method{6, 0, 0}, 5, 20})),
		"no strength: the grounds would keep the liquid that the solids need; Ratio is 4 g/g, possible with 6 to 40 g/g": second(LineStrength(OnLine{Method{5, 100, 0}, 4, 20})), // though 4.2 of liquid is more than the solids
		"no yield: the known brew's strength and ratio leave no yield that coffee can give; Ratio is 12 g/g, possible with 1 to 9 g/g": third(StrengthAfter(
			Changed{Method{}, 10, 12, 16})), // 0.1·12/0.9 = 1.33
		"no yield: the known brew's strength and ratio leave no yield that coffee can give; Ratio is 1.98 g/g, possible with 1.99 to 40 g/g": third(StrengthAfter(
			Changed{Method{}, 0.5, 1.98, 16})), // 0.005·1.98/0.995 = 0.00995
		"no yield: the known brew's strength and ratio leave no yield that coffee can give; Ratio is 2 g/g, possible with 2.859230769230773 to 40 g/g": third(StrengthAfter(
			Changed{filter, 1.3, 2, 16})),

		"DoseMaxG is 99999.5 g; accepted: 100000 to 100000 g":                                           recipe(Goal{filter, 200, 1.3, 20, 100_000, 99_999.5, 1000}),
		"DoseMaxG is 5 g; accepted: 10 to 100000 g":                                                     recipe(Goal{filter, 200, 1.3, 20, 10, 5, 1000}),
		"DoseMinG is 100000.5 g; accepted: 0.1 to 100000 g; DoseMaxG is 0 g; accepted: 0.1 to 100000 g": recipe(Goal{filter, 200, 1.3, 20, 100_000.5, 0, 1000}),

		// 250 + 3; (250 + 3 − 240)/15
		"no strength: the beverage weighs more than the water and the dissolved solids; BeverageG is 253.5 g, possible with 3.0000000000000275 to 253 g": second(Strength(Target{15, 250, 253.5, 20, 0, 0})),
		"no strength: less liquid stays in the grounds than the particles are said to lock in; AbsorbedGPerG is 1 g/g, possible with 0 to 0.8 g/g":       second(Strength(Target{15, 250, 241, 20, 0, 1})),
		"no strength: less liquid stays in the grounds than the particles are said to lock in; AbsorbedGPerG is 1 g/g, possible with 0 to 0 g/g":         second(Strength(Target{15, 250, 253, 20, 0, 1})),
		"no strength: the dissolved solids would weigh as much as the liquid that holds them; YieldPct is 20 %, possible with 1 to 15.999999999999998 %": second(DrainingStrength(DrainingTarget{15, 2.4, 20})), // 3/2.4 = 1.25
		// 200·(1 − 0.02); (200 − 196)/16
		"no yield: the beverage weighs more than the water and the dissolved solids; WaterG is 190 g, possible with 196 to 4000000 g":             second(Yield(Brew{16, 190, 200, 2, 0, 0})),
		"no yield: less liquid stayed in the grounds than the particles are said to lock in; AbsorbedGPerG is 1 g/g, possible with 0 to 0.25 g/g": second(Yield(Brew{16, 200, 200, 2, 0, 1})),
		"no yield: more would have dissolved than was dosed; DoseG is 1 g, possible with 2 to 100000 g":                                           second(DrainingYield(Draining{1, 100, 2})),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
	// An element of a list is named by its place.
	for i, want := range map[int]string{0: "readings[0].Pct", 9: "readings[9].Pct", 12: "readings[12].Pct", 100: "readings[100].Pct"} {
		list := make([]float64, 110)
		list[i] = 101
		if f := fields(second(Repeatability(list))); len(f) != 1 || f[0] != want {
			t.Errorf("element %d is told as %q", i, f)
		}
	}
}

// One per cent to either side of the borders that no exact value meets.
func TestBordersFromNear(t *testing.T) {
	ok := func(name string, want bool, err error) {
		t.Helper()
		if (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
	bypass := func(left float64) error { return third(BypassYield(Bypassed{Brew{15, 250, 1, 1.3, 0, 0}, 1 - left})) }
	ok("0.1005 g left", true, bypass(0.1005))
	ok("0.0995 g left", false, bypass(0.0995))
	same := func(sxx float64) error {
		x := math.Sqrt(sxx / 3)
		return second(FitSlope([]Pair{{x, x}, {x, x}, {x, x}}))
	}
	ok("squares of 1.005e-6", true, same(1.005e-6))
	ok("squares of 0.995e-6", false, same(0.995e-6))
	ok("0.1005 g in the dish", true, second(OvenStrength(Oven{1, 1.1005, 1, 0})))
	ok("0.0995 g in the dish", false, second(OvenStrength(Oven{1, 1.0995, 1, 0})))
	ok("0.1005 g in all", true, second(Blend([]Part{{0.1005, 1}})))
	ok("0.0995 g in all", false, second(Blend([]Part{{0.0995, 1}})))
	// 1.01/0.01 − 1 = 100 times the brew.
	ok("half a gram below the most", true, second(Dilute(Dilution{99_999.995, 1.01, 0, 0.01})))
	ok("half a gram above the most", false, second(Dilute(Dilution{100_000.005, 1.01, 0, 0.01})))
	ok("a hair too strong", false, second(Dilute(Dilution{100, 1.2, 0, 1.2005})))
	ok("two brews hardly different", true, third(BlendParts(TwoBrews{1 + 0x1p-51, 1, 1 + 0x1p-52, 10})))
	ok("beyond two brews hardly different", false, third(BlendParts(TwoBrews{1 + 0x1p-52, 1, 1 + 0x1p-51, 10})))
	ok("the second the stronger", true, third(BlendParts(TwoBrews{1, 2, 1.5, 10})))
	ok("5.9 + 0.2 of liquid, 6 kept, all as strong as the cup", true, second(LineStrength(OnLine{Method{6, 100, 0}, 5.9, 20})))
	ok("a yield of 1.005 %", true, third(StrengthAfter(Changed{Method{}, 0.5, 2, 2})))
	ok("ratio 40.5", false, second(PointRatio(OnMap{Method{}, 20 / 40.7, 20})))
	ok("ratio 39.5", true, second(PointRatio(OnMap{Method{}, 20 / 39.7, 20})))
	ok("ratio 0.6", false, second(PointRatio(OnMap{Method{}, 30 / 0.9, 30})))
	ok("all dissolved", true, second(DrainingYield(Draining{2, 100, 2})))
	ok("all dissolved", true, second(Yield(Brew{2, 110, 100, 2, 0, 0})))
	ok("as much beverage as water and solids, less 1 g", true, second(Strength(Target{15, 250, 252, 20, 0, 0})))
	// Rounding is forgiven up to a billionth of all liquid, 253 and 204 g.
	for share, want := range map[float64]bool{0.995e-9: true, 1.005e-9: false} {
		ok("beverage", want, second(Strength(Target{15, 250, 253 * (1 + share), 20, 0, 0})))
		ok("locked in", want, second(Strength(Target{15, 250, 238 + 253*share, 20, 0, 1})))
		ok("water", want, second(Yield(Brew{16, 196 - 200*share, 200, 2, 0, 0})))
		ok("locked in", want, second(Yield(Brew{16, 212 - 216*share, 200, 2, 0, 1})))
	}
	// An oven that finds the dose again: nothing dissolved.
	if y, err := SpentGroundsYield(Spent{20, 20, Bean{}, 15, 0, 0, true}); err != nil || y.YieldPct != 0 {
		t.Errorf("%+v, %v", y, err)
	}
	// With nothing kept, E² + (R − x)·E − x·R = (E − x)·(E + R): E is x, to the
	// last digit of a loss of a billionth too.
	for _, share := range []float64{1e-9, 0.2, 0.9} {
		y, err := SpentGroundsYield(Spent{20, 20 * (1 - share), Bean{}, 40, 0, 0, true})
		if err != nil || !near(y.YieldPct, y.ApparentPct) || !(math.Abs(y.BiasPct) < 1e-12) {
			t.Errorf("%+v, %v", y, err)
		}
	}
	y, err := SpentGroundsYield(Spent{20, 16.2, Bean{}, 15, 2.48, 2.3, true})
	if err != nil || y.BiasPct == 0 || !near(y.BiasPct, y.ApparentPct-y.YieldPct) {
		t.Errorf("%+v, %v", y, err)
	}
	if f, err := DryFactor(Bean{5, 1}); err != nil || !near(f, 1/0.94) {
		t.Errorf("%v, %v", f, err)
	}
	// Nothing stands beside the three refusals of a bypass.
	for _, in := range []Bypassed{{}, {Brew{15, 250, 220, 1.3, 0, 0}, 220}, {Brew{1, 250, 220, 1.3, 0, 0}, 20}} {
		if b, s, err := BypassYield(in); b != (Balance{}) || s != 0 || err == nil {
			t.Errorf("%+v, %v, %v", b, s, err)
		}
	}
}

// A refusal of a point on the map names the strengths at the two ends of the
// ratios: there the ratio is 40, and the least that the liquid allows.
func TestPointRatioEnds(t *testing.T) {
	for _, c := range []struct {
		m     Method
		yield float64
		least float64 // ratio at the greatest strength; 0 where 35 % comes first
	}{
		{Method{}, 20, 1}, {Method{2, 50, 0}, 20, 1.8}, {Method{4, 50, 1}, 30, 3.7},
		{Method{3, 0, 0}, 20, 0}, {Method{6, 10, 0}, 30, 0}, {Method{2.1, 0, 0}, 20, 0},
	} {
		var none *ImpossibleError
		if err := second(PointRatio(OnMap{c.m, 0.2, c.yield})); !errors.As(err, &none) || none.Field != "StrengthPct" || none.Given != "0.2" || none.Unit != "%" {
			t.Fatalf("%+v: %v", c, err)
		}
		if r, err := PointRatio(OnMap{c.m, none.Min * (1 + 1e-12), c.yield}); err != nil || math.Abs(r-40) > 1e-9 {
			t.Errorf("%+v: the ratio at %v is %v, %v", c, none.Min, r, err)
		}
		if c.least == 0 {
			if none.Max != 35 {
				t.Errorf("%+v: possible up to %v", c, none.Max)
			}
			continue
		}
		if r, err := PointRatio(OnMap{c.m, none.Max * (1 - 1e-12), c.yield}); err != nil || math.Abs(r-c.least) > 1e-9 {
			t.Errorf("%+v: the ratio at %v is %v, %v", c, none.Max, r, err)
		}
	}
	// A brewer that takes 10 to 30 g and 300 g of water: the water ends it.
	// r = 0.2/0.0125 + 2.1 − 0.2 = 17.9 and 16 g of beverage for each gram.
	g := Goal{Method{2.1, 0, 0}, 100, 1.25, 20, 10, 30, 300}
	for beverage, want := range map[float64]bool{100: false, 159.9: false, 160.1: true, 268: true, 268.3: false, 470: false} {
		g.BeverageG = beverage
		err := second(RecipeFor(g))
		if (err == nil) != want {
			t.Errorf("%v g: %v", beverage, err)
		}
		var none *ImpossibleError
		if err != nil && (!errors.As(err, &none) || none.Field != "BeverageG" || math.Abs(none.Min-160) > 1e-9 || math.Abs(none.Max-300/17.9*16) > 1e-9) {
			t.Errorf("%v g: %v", beverage, err)
		}
	}
	g.WaterMaxG = 4000
	g.BeverageG = 481
	var none *ImpossibleError
	if err := second(RecipeFor(g)); !errors.As(err, &none) || math.Abs(none.Max-480) > 1e-9 {
		t.Errorf("with water enough: %v", err)
	}
}

// Standard uncertainties against differences of the answer itself.
func TestUncertaintiesByDifferences(t *testing.T) {
	o := Oven{10, 20, 13, 0.002}
	sum, h := 0.0, 1e-5
	for i := range 3 {
		a, b := o, o
		*[]*float64{&a.DishG, &a.WetG, &a.DryG}[i] += h
		*[]*float64{&b.DishG, &b.WetG, &b.DryG}[i] -= h
		d := (must[Measured](t)(OvenStrength(a)).StrengthPct - must[Measured](t)(OvenStrength(b)).StrengthPct) / (2 * h) * o.UG
		sum += d * d
	}
	if m := must[Measured](t)(OvenStrength(o)); math.Abs(m.UPct/math.Sqrt(sum)-1) > 1e-6 || !near(m.StrengthPct, 30) {
		t.Errorf("%+v, by differences ±%v", m, math.Sqrt(sum))
	}
	at := func(v float64) float64 { return must[Strengths](t)(Convert(Solution{20, 25, v})).KgPerM3 }
	s := must[Strengths](t)(Convert(Solution{20, 25, 0.62}))
	// The slope alone: the uncertainty is of first order.
	if want := 100 * math.Abs(at(0.62+h)-at(0.62-h)) / (2 * h) * 0.05 / s.KgPerM3; math.Abs(s.DensityUPct/want-1) > 1e-6 {
		t.Errorf("%v %%, by differences %v %%", s.DensityUPct, want)
	}
	// The ellipse leans up for a positive covariance: where the yield is
	// greatest, the strength lies by k·cov/u(E) above the centre.
	e := must[Ellipse](t)(MapEllipse(MapPoint{20, 0.5, 1.3, 0.03, 0.012, 95}))
	k := math.Sqrt(-2 * math.Log(0.05))
	if x, y := e.At(0); !near(x, 20+0.5*k) || !near(y, 1.3+k*0.012/0.5) {
		t.Errorf("at the right end %v, %v", x, y)
	}
	for _, u := range []float64{0, 0.1, 0.3, 0.7, 1.1} {
		for _, v := range []float64{0, 0.01, 0.03, 0.07} {
			for _, sign := range []float64{-1, 1} {
				e, err := MapEllipse(MapPoint{20, u, 1.3, v, sign * u * v, 95})
				x, y := e.At(1)
				if err != nil || !(math.Abs(x-20) < 5 && math.Abs(y-1.3) < 0.5) {
					t.Errorf("u %v and %v: %v, %v, %v", u, v, x, y, err)
				}
			}
		}
	}
	// More water and more dose are the ratio times and by 1.05.
	m := Method{2.1, 0, 0}
	d, err := Directions(Turn{m, 1.3, 20, 1, 5})
	r, err2 := PointRatio(OnMap{m, 1.3, 20})
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	for i, want := range []float64{21, 19, 20, 20} {
		s := must[float64](t)(LineStrength(OnLine{m, []float64{r, r, r * 1.05, r / 1.05}[i], want}))
		if d[i].YieldPct != want || !near(d[i].StrengthPct, s) {
			t.Errorf("%+v; want %v %%, %v %%", d[i], want, s)
		}
	}
}

// Notes follow the answer beside them and nothing else.
func TestNotesOfAnswers(t *testing.T) {
	unusual := func(s float64) Notes {
		if s > 35 || s < 0.15 {
			return UnusualStrength
		}
		return 0
	}
	for _, s := range []float64{0.1, 0.149, 0.151, 1.3, 20, 34.8, 35.2} {
		m := must[Measured](t)(OvenStrength(Oven{0, 100, s, 0}))
		if m.Notes != unusual(s) {
			t.Errorf("oven, %v %%: %q", s, m.Notes)
		}
		d := must[Strong](t)(DrainingStrength(DrainingTarget{15, 300 / s, 20}))
		if d.Notes != unusual(s) || !near(d.StrengthPct, s) {
			t.Errorf("draining, %v %%: %+v", s, d)
		}
	}
	for g := 300.0; g <= 500; g++ {
		if c := must[Strengths](t)(ConvertGPerL(ByVolume{g, 20, 0.62})); c.Notes != unusual(c.StrengthPct) {
			t.Errorf("%v g/L: %+v", g, c)
		}
	}
	for s := 0.14; s < 0.16; s += 0.001 {
		if c := must[Strengths](t)(Convert(Solution{s, 20, 0.62})); c.Notes != unusual(c.StrengthPct) {
			t.Errorf("%v %%: %+v", s, c)
		}
	}
	for n, want := range map[int]Notes{5: FewReadings, 6: 0} {
		var pairs []Pair
		var list []float64
		for i := range n {
			pairs = append(pairs, Pair{float64(i + 1), 0.85 * float64(i+1)})
			list = append(list, float64(i))
		}
		if f := must[SlopeFit](t)(FitSlope(pairs)); f.Notes != want {
			t.Errorf("%d pairs: %q", n, f.Notes)
		}
		if r := must[Repeated](t)(Repeatability(list)); r.Notes != want {
			t.Errorf("%d readings: %q", n, r.Notes)
		}
	}
	if b := must[Balance](t)(Yield(Brew{15, 250, 220, 1.3, 1.3, 0})); b.Notes != 0 {
		t.Errorf("grounds as strong as the cup: %q", b.Notes)
	}
	// The pairs of TestInterceptByHand raised by 4.4 and 4.6: intercepts of 4.9
	// and 5.1 beside t(0.975; 2)·√1.35 = 4.3027·1.1619 = 4.999.
	for up, want := range map[float64]Notes{4.4: FewReadings, 4.6: FewReadings | InterceptMatters} {
		if f := must[SlopeFit](t)(FitSlope([]Pair{{1, 1 + up}, {2, 3 + up}, {3, 2 + up}, {4, 4 + up}})); f.Notes != want {
			t.Errorf("raised by %v: %+v", up, f)
		}
	}
	// Readings 1 − d, 1, 1 + d have 2·d² about their mean, and 3 in all.
	for share, want := range map[float64]bool{1.005e-9: true, 0.995e-9: false} {
		d := math.Sqrt(1.5 * share)
		if f := must[SlopeFit](t)(FitSlope([]Pair{{1 - d, 1}, {1, 2}, {1 + d, 1}})); (f.InterceptU != 0) != want {
			t.Errorf("a spread of %v: %+v", share, f)
		}
	}
}

// Both ends of what is named when there is no answer can be had.
func TestNamedEndsCanBeHad(t *testing.T) {
	draw := rand.New(rand.NewPCG(6, 1))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, draw.Float64()) }
	tried := map[string]int{}
	try := func(name string, err error, with func(field string, v float64) error) {
		t.Helper()
		none, ok := err.(*ImpossibleError)
		if !ok || none.Field == "" {
			return
		}
		tried[name+" "+none.Field]++
		for _, v := range []float64{none.Min, none.Max} {
			again := with(none.Field, v)
			if then, ok := again.(*ImpossibleError); ok && then.Field != none.Field {
				continue // that was put right, and another is in the way
			}
			if again != nil || !(none.Min <= none.Max) {
				t.Fatalf("%s: %v; with that: %v", name, err, again)
			}
		}
	}
	for range 3000 {
		m := Method{LiquidGPerG: 3 * draw.Float64(), RetainedSharePct: 100 * draw.Float64()}
		m.AbsorbedGPerG = m.LiquidGPerG * draw.Float64()
		d := Dilution{between(0.1, 4e6), between(0.2, 30), between(0.01, 30), between(0.01, 30)}
		try("Dilute", second(Dilute(d)), func(_ string, v float64) error { d := d; d.ToStrengthPct = v; return second(Dilute(d)) })
		c := Changed{Method: m, StrengthPct: between(0.2, 35), Ratio: between(1, 40), ToRatio: between(1, 40)}
		try("StrengthAfter", third(StrengthAfter(c)), func(field string, v float64) error {
			c := c
			if field == "ToRatio" {
				c.ToRatio = v
			} else {
				c.Ratio = v
			}
			return third(StrengthAfter(c))
		})
		l := OnLine{m, between(1, 40), between(1, 100)}
		try("LineStrength", second(LineStrength(l)), func(_ string, v float64) error { l := l; l.Ratio = v; return second(LineStrength(l)) })
		p := OnMap{m, between(0.15, 35), between(1, 100)}
		try("PointRatio", second(PointRatio(p)), func(field string, v float64) error {
			p := p
			if field == "YieldPct" {
				p.YieldPct = v
			} else {
				p.StrengthPct = v
			}
			return second(PointRatio(p))
		})
		g := Goal{Method: m, BeverageG: between(50, 2000), StrengthPct: 1.3, YieldPct: 20, DoseMinG: between(5, 60), WaterMaxG: between(100, 2000)}
		g.DoseMaxG = g.DoseMinG * between(1, 4)
		try("RecipeFor", second(RecipeFor(g)), func(field string, v float64) error {
			g := g
			switch field {
			case "BeverageG":
				g.BeverageG = v
			case "DoseMinG":
				g.DoseMinG = v
			case "DoseMaxG":
				g.DoseMaxG = v
			case "WaterMaxG":
				g.WaterMaxG = v
			default:
				t.Fatal(field)
			}
			return second(RecipeFor(g))
		})
	}
	for _, name := range []string{"Dilute ToStrengthPct", "StrengthAfter Ratio", "LineStrength Ratio", "PointRatio StrengthPct", "RecipeFor BeverageG", "RecipeFor DoseMinG", "RecipeFor WaterMaxG"} {
		if tried[name] < 10 {
			t.Errorf("%s: refused %d times", name, tried[name])
		}
	}
}

// A brew that is wrong and uncertainties that are wrong are told together.
func TestAllFaultsOfAnUncertainty(t *testing.T) {
	u := BrewU{DoseG: -1, StrengthPct: -1}
	for name, err := range map[string]error{
		"Yield":     second(YieldUncertainty(Brew{}, u)),
		"Draining":  second(DrainingUncertainty(Draining{}, u)),
		"Immersion": second(ImmersionUncertainty(Immersion{}, u)),
	} {
		in, ok := err.(*InputError)
		if !ok {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var got []string
		for _, f := range in.Fields {
			got = append(got, f.Field)
		}
		if n := len(got); got[0] != "DoseG" || n < 4 || got[n-2] != "u.DoseG" || got[n-1] != "u.StrengthPct" {
			t.Errorf("%s: %v", name, got)
		}
	}
}
