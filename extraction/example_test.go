package extraction_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/extraction"
)

// 18 g gave 36 g of espresso at 10 %. How much of the coffee is in the cup?
func ExampleDrainingYield() {
	e, err := extraction.DrainingYield(extraction.Draining{DoseG: 18, BeverageG: 36, StrengthPct: 10})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", e.YieldPct)
	// Output: 20.0 %
}

// A cupping bowl of 10 g to 165 g reads 1.28 %. What is its yield?
func ExampleImmersionYield() {
	e, err := extraction.ImmersionYield(extraction.Immersion{DoseG: 10, WaterG: 165, StrengthPct: 1.28})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", e.YieldPct)
	// Output: 21.4 %
}

// A pour-over whose last drops read 0.8 %: how much dissolved, and how much
// of it stayed in the grounds?
func ExampleYield() {
	b, err := extraction.Yield(extraction.Brew{DoseG: 15, WaterG: 250, BeverageG: 220,
		StrengthPct: 1.40, RetainedStrengthPct: 0.8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%, of which %.1f %% in the cup\n", b.YieldPct, b.CupYieldPct)
	// Output: 22.3 %, of which 20.5 % in the cup
}

// What strength is a yield of 20 % in a bowl of 10 g to 165 g?
func ExampleImmersionStrength() {
	s, err := extraction.ImmersionStrength(extraction.ImmersionTarget{DoseG: 10, WaterG: 165, YieldPct: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %%\n", s.StrengthPct)
	// Output: 1.20 %
}

// What strength is a yield of 20 % in 36 g of espresso from 18 g?
func ExampleDrainingStrength() {
	s, err := extraction.DrainingStrength(extraction.DrainingTarget{DoseG: 18, BeverageG: 36, YieldPct: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", s.StrengthPct)
	// Output: 10.0 %
}

// The same pour-over at a yield of 20 %, its last drops at half the strength
// of the cup.
func ExampleStrength() {
	s, err := extraction.Strength(extraction.Target{DoseG: 15, WaterG: 250, BeverageG: 220,
		YieldPct: 20, RetainedSharePct: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %%\n", s.StrengthPct)
	// Output: 1.27 %
}

// A strength typed as a fraction is refused with the range that was expected.
func ExampleYield_refused() {
	_, err := extraction.Yield(extraction.Brew{DoseG: 15, WaterG: 250, BeverageG: 220, StrengthPct: 0.014})
	var field *extraction.FieldError
	if errors.As(err, &field) {
		fmt.Println(field)
	}
	// Output: StrengthPct is 0.014 %; accepted: 0.15 to 35 %
}

// Is 1.35 % the same as 13.5 g/L? And for espresso?
func ExampleConvert() {
	for _, t := range []float64{1.35, 10} {
		s, err := extraction.Convert(extraction.Solution{StrengthPct: t, TempC: 20, SoluteMLPerG: extraction.SoluteMLPerG})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.2f %% is %.1f g/L\n", t, s.GPerL)
	}
	// Output:
	// 1.35 % is 13.5 g/L
	// 10.00 % is 103.8 g/L
}

// 12 g/L in a cup at 60 °C, as a percentage by mass.
func ExampleConvertGPerL() {
	s, err := extraction.ConvertGPerL(extraction.ByVolume{GPerL: 12, TempC: 60, SoluteMLPerG: extraction.SoluteMLPerG})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %%\n", s.StrengthPct)
	// Output: 1.21 %
}

// What do 40 mL of espresso under its foam weigh?
func ExampleBeverageMass() {
	m, err := extraction.BeverageMass(extraction.Served{VolumeML: 40, StrengthPct: 9.5, TempC: 60, SoluteMLPerG: extraction.SoluteMLPerG})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f g\n", m)
	// Output: 40.8 g
}

// The beans held 2 % water and 1 % gas. What is a yield of 20 % per dry coffee?
func ExampleDryFactor() {
	f, err := extraction.DryFactor(extraction.Bean{MoisturePct: 2, GasPct: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", 20*f)
	// Output: 20.6 %
}

// 200 g were served at 1.35 %, 50 g of them water from the bypass.
func ExampleBypassYield() {
	b, before, err := extraction.BypassYield(extraction.Bypassed{BypassG: 50,
		Brew: extraction.Brew{DoseG: 13.5, WaterG: 178, BeverageG: 200, StrengthPct: 1.35}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%, brewed at %.2f %%\n", b.YieldPct, before)
	// Output: 20.0 %, brewed at 1.80 %
}

// 15 g of coffee with 3 % water came out of the brew and the oven as 12.1 g.
func ExampleSpentGroundsYield() {
	y, err := extraction.SpentGroundsYield(extraction.Spent{DoseG: 15, DryG: 12.1, Bean: extraction.Bean{MoisturePct: 3},
		Ratio: 15, LiquidGPerG: extraction.SpentLiquidGPerG, VolatilesPct: extraction.OvenVolatilesPct, RetainedAsBrew: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("shows %.1f %%, corrected %.1f %%\n", y.ApparentPct, y.YieldPct)
	// Output: shows 16.8 %, corrected 17.4 %
}

// What would the oven show for a bowl of a true 20 %?
func ExampleOvenApparentYield() {
	e, err := extraction.OvenApparentYield(extraction.OvenCheck{YieldPct: 20, Ratio: 16.5,
		LiquidGPerG: extraction.SpentLiquidGPerG, VolatilesPct: extraction.OvenVolatilesPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", e)
	// Output: 19.3 %
}

// What strength does a cupping bowl at 1:16.5 come to when it is left alone?
func ExampleEquilibrium() {
	s, err := extraction.Equilibrium(extraction.Steep{Ratio: 16.5,
		YieldPct: extraction.DesorptionYieldPct, YieldUPct: extraction.DesorptionYieldUPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %% ± %.2f\n", s.StrengthPct, s.StrengthUPct)
	// Output: 1.29 % ± 0.06
}

// The same ratio and yield, two brewers, two strengths.
func ExampleLineStrength() {
	filter := extraction.Method{LiquidGPerG: extraction.FilterLiquidGPerG}
	bowl := extraction.Method{LiquidGPerG: extraction.SpentLiquidGPerG, RetainedSharePct: 100}
	for _, m := range []extraction.Method{filter, bowl} {
		s, err := extraction.LineStrength(extraction.OnLine{Method: m, Ratio: 16, YieldPct: 20})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.2f %%\n", s)
	}
	// Output:
	// 1.42 %
	// 1.23 %
}

// Which ratio gives 1.30 % at 20 % in a filter?
func ExamplePointRatio() {
	r, err := extraction.PointRatio(extraction.OnMap{StrengthPct: 1.30, YieldPct: 20,
		Method: extraction.Method{LiquidGPerG: extraction.FilterLiquidGPerG}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1:%.1f\n", r)
	// Output: 1:17.3
}

// A litre at 1.30 %, expected yield 20 %, in a brewer of up to 70 g and 1.25 L.
func ExampleRecipeFor() {
	r, err := extraction.RecipeFor(extraction.Goal{BeverageG: 1000, StrengthPct: 1.30, YieldPct: 20,
		Method:   extraction.Method{LiquidGPerG: extraction.FilterLiquidGPerG},
		DoseMinG: 30, DoseMaxG: 70, WaterMaxG: 1250})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f g, %.0f g of water\n", r.DoseG, r.WaterG)
	// Output: 65.0 g, 1124 g of water
}

// A bowl at 1:16.5 reads 1.28 %. What would it read at 1:15?
func ExampleStrengthAfter() {
	s, e, err := extraction.StrengthAfter(extraction.Changed{StrengthPct: 1.28, Ratio: 16.5, ToRatio: 15,
		Method: extraction.Method{LiquidGPerG: extraction.SpentLiquidGPerG, RetainedSharePct: 100}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %% at %.1f %%\n", s, e)
	// Output: 1.41 % at 21.4 %
}

// What does a sucrose scale show for water, and for 10 % of sugar?
func ExampleSucroseIndex() {
	r, err := extraction.SucroseIndex(extraction.Reading{BrixPct: 10})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f\n", r.Index)
	// Output: 1.3478
}

// An instrument without compensation reads an index of 1.3352 at 24 °C.
func ExampleBrix() {
	r, err := extraction.Brix(extraction.Sample{Index: 1.3352, TempC: 24})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f °Brix\n", r.BrixPct)
	// Output: 1.8 °Brix
}

// How much is a sample at 25 °C misread without compensation?
func ExampleBrixCorrection() {
	c, err := extraction.BrixCorrection(extraction.Uncompensated{BrixPct: 1.5, TempC: 25})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("add %.2f °Brix\n", c)
	// Output: add 0.34 °Brix
}

// The zero that an instrument should find on water at 20 °C.
func ExampleWaterIndex() {
	n, err := extraction.WaterIndex(extraction.At{TempC: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f\n", n)
	// Output: 1.3330
}

// 1.55 °Brix with the slope in common use, which nobody knows to more than 2 %.
func ExampleBrixStrength() {
	m, err := extraction.BrixStrength(extraction.Refractometry{BrixPct: 1.55, BrixUPct: 0.02,
		SlopePct: extraction.SlopePracticePct, SlopeUPct: extraction.SlopePracticeUPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %% ± %.2f\n", m.StrengthPct, m.UPct)
	// Output: 1.32 % ± 0.04
}

// The reviewed slope of 8.25 g/L per °Brix, by mass.
func ExampleSlopePct() {
	k, err := extraction.SlopePct(extraction.SlopeByMass{GPerL: extraction.SlopeGPerL, KgPerM3: 1003})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f %% per °Brix\n", k)
	// Output: 0.823 % per °Brix
}

// A slope of one's own from six brews that were dried (invented).
func ExampleFitSlope() {
	fit, err := extraction.FitSlope([]extraction.Pair{{BrixPct: 1.21, StrengthPct: 1.03}, {BrixPct: 1.48, StrengthPct: 1.27},
		{BrixPct: 1.62, StrengthPct: 1.36}, {BrixPct: 2.05, StrengthPct: 1.74}, {BrixPct: 8.9, StrengthPct: 7.46}, {BrixPct: 11.4, StrengthPct: 9.5}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f ± %.3f\n", fit.SlopePct, fit.SlopeUPct)
	// Output: 0.836 ± 0.002
}

// 10 g of filtered brew dried to 0.1377 g.
func ExampleOvenStrength() {
	m, err := extraction.OvenStrength(extraction.Oven{DishG: 25, WetG: 35.2, DryG: 25.1377, UG: 0.0005})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f %% ± %.3f\n", m.StrengthPct, m.UPct)
	// Output: 1.350 % ± 0.007
}

// Five drops of one sample.
func ExampleRepeatability() {
	r, err := extraction.Repeatability([]float64{1.31, 1.33, 1.32, 1.30, 1.34})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f %% ± %.3f; two drops may differ by %.2f\n", r.MeanPct, r.U95Pct, r.LimitPct)
	// Output: 1.320 % ± 0.020; two drops may differ by 0.04
}

// How well is the yield of a filter brew known, and what dominates?
func ExampleDrainingUncertainty() {
	u, err := extraction.DrainingUncertainty(extraction.Draining{DoseG: 15, BeverageG: 220, StrengthPct: 1.40},
		extraction.BrewU{DoseG: 0.05, BeverageG: 0.5, StrengthPct: 0.03})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% ± %.1f, %.1f of it from the strength\n", u.YieldPct, u.UPct, u.ByStrengthPct)
	// Output: 20.5 % ± 0.4, 0.4 of it from the strength
}

// The same for a bowl, where one strength counts twice.
func ExampleImmersionUncertainty() {
	u, err := extraction.ImmersionUncertainty(extraction.Immersion{DoseG: 10, WaterG: 165, StrengthPct: 1.28},
		extraction.BrewU{DoseG: 0.05, WaterG: 1, StrengthPct: 0.03})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% ± %.1f\n", u.YieldPct, u.UPct)
	// Output: 21.4 % ± 0.5
}

// And where the last drops were measured apart.
func ExampleYieldUncertainty() {
	u, err := extraction.YieldUncertainty(
		extraction.Brew{DoseG: 15, WaterG: 250, BeverageG: 220, StrengthPct: 1.40, RetainedStrengthPct: 0.8},
		extraction.BrewU{DoseG: 0.05, WaterG: 1, BeverageG: 1, StrengthPct: 0.03, RetainedStrengthPct: 0.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% ± %.1f\n", u.YieldPct, u.UPct)
	// Output: 22.3 % ± 0.6
}

// The ellipse around a brew on the map: where it reaches farthest in yield.
func ExampleMapEllipse() {
	e, err := extraction.MapEllipse(extraction.MapPoint{YieldPct: 20.5, YieldUPct: 0.45, StrengthPct: 1.40, StrengthUPct: 0.03,
		CovariancePct: 0.0132, CoveragePct: 95})
	if err != nil {
		fmt.Println(err)
		return
	}
	yield, strength := e.At(0)
	fmt.Printf("to %.1f %% at %.2f %%\n", yield, strength)
	// Output: to 21.6 % at 1.47 %
}

// Which way does a filter brew go?
func ExampleDirections() {
	arrows, err := extraction.Directions(extraction.Turn{StrengthPct: 1.25, YieldPct: 19, PointsPct: 1, ChangePct: 5,
		Method: extraction.Method{LiquidGPerG: extraction.FilterLiquidGPerG}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, a := range arrows {
		fmt.Printf("%s: %.1f %%, %.2f %% (%s)\n", a.Change, a.YieldPct, a.StrengthPct, a.Because)
	}
	// Output:
	// finer: 20.0 %, 1.31 % (the ratio stays)
	// coarser: 18.0 %, 1.18 % (the ratio stays)
	// more water: 19.0 %, 1.18 % (the yield stays)
	// more dose: 19.0 %, 1.32 % (the yield stays)
}

// The targets that standards draw.
func ExampleWindows() {
	for _, w := range extraction.Windows() {
		fmt.Printf("%s: %.2f to %.2f %%, %.0f to %.0f %% (%s)\n", w.Name, w.StrengthLowPct, w.StrengthHighPct, w.YieldLowPct, w.YieldHighPct, w.Provenance)
	}
	// Output:
	// Golden Cup, 2015: 1.15 to 1.35 %, 18 to 22 % (opened)
	// European brewing chart: 1.20 to 1.45 %, 18 to 22 % (quoted)
}

// 300 g at 1.20 % and 200 g at 1.45 % together.
func ExampleBlend() {
	b, err := extraction.Blend([]extraction.Part{{MassG: 300, StrengthPct: 1.20}, {MassG: 200, StrengthPct: 1.45}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %%\n", b.StrengthPct)
	// Output: 1.30 %
}

// How much water brings 500 g at 1.62 % to 1.35 %?
func ExampleDilute() {
	x, err := extraction.Dilute(extraction.Dilution{BrewG: 500, StrengthPct: 1.62, ToStrengthPct: 1.35})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f g\n", x)
	// Output: 100 g
}

// 300 g at 1.35 % from a concentrate at 3.6 % and water.
func ExampleBlendParts() {
	first, second, err := extraction.BlendParts(extraction.TwoBrews{FirstPct: 3.6, ToStrengthPct: 1.35, TotalG: 300})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f g and %.1f g\n", first, second)
	// Output: 112.5 g and 187.5 g
}
