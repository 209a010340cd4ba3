package brewratio_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/brewratio"
	"github.com/shopspring/decimal"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// How much water goes on 10.0 g at 1:16.5?
func ExampleWater() {
	b, err := brewratio.Water(brewratio.DoseAndRatio{DoseG: d("10.0"), Ratio: d("16.5")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g\n", b.WaterG.StringFixed(1))
	// Output: 165.0 g
}

// The bowl takes 190 g of water. How much coffee at 1:16.5?
func ExampleDose() {
	b, err := brewratio.Dose(brewratio.WaterAndRatio{WaterG: d("190"), Ratio: d("16.5")})
	if err != nil {
		fmt.Println(err)
		return
	}
	onScale, err := brewratio.Round(brewratio.OnScale{MassG: b.DoseG, DivisionG: d("0.1")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g\n", onScale.MassG.StringFixed(1))
	// Output: 11.5 g
}

// What ratio is 8.25 g to 150 g?
func ExampleRatio() {
	b, err := brewratio.Ratio(brewratio.DoseAndWater{DoseG: d("8.25"), WaterG: d("150")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1:%s\n", b.Ratio.StringFixed(1))
	// Output: 1:18.2
}

// What does a table of 30 bowls take?
func ExampleBowls() {
	t, err := brewratio.Bowls(brewratio.Batch{DoseG: d("8.25"), WaterG: d("150"), BowlsCount: 30})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g coffee, %s g water\n", t.DoseG.StringFixed(2), t.WaterG)
	// Output: 247.50 g coffee, 4500 g water
}

// What does a scale in fifths of a gram make of 8.25 g?
func ExampleRound() {
	r, err := brewratio.Round(brewratio.OnScale{MassG: d("8.25"), DivisionG: d("0.2")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g, off by %s g\n", r.MassG.StringFixed(1), r.ErrorG.StringFixed(2))
	// Output: 8.2 g, off by -0.05 g
}

// Grams per litre is not a ratio, and the refusal says what was expected.
func ExampleWater_refused() {
	_, err := brewratio.Water(brewratio.DoseAndRatio{DoseG: d("10.0"), Ratio: d("60")})
	var field *brewratio.FieldError
	if errors.As(err, &field) {
		fmt.Println(field)
	}
	// Output: Ratio is 60 g/g; accepted: 0.5 to 40 g/g
}

// What does 55 g/L mean on a scale, when the litre was measured cold and when
// it was measured at the boil?
func ExampleFromGramsPerLitre() {
	for _, t := range []string{"15", "95"} {
		n, err := brewratio.FromGramsPerLitre(brewratio.GPerLAt{CoffeeGPerL: d("55"), TempC: d(t)})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s °C: 1:%s\n", t, n.Ratio.StringFixed(1))
	}
	// Output:
	// 15 °C: 1:18.2
	// 95 °C: 1:17.5
}

// The ways to write 1:16.5 with water at 20 °C.
func ExampleFromRatio() {
	n, err := brewratio.FromRatio(brewratio.RatioAt{Ratio: d("16.5"), TempC: d("20")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g/L, %s g per 100 mL, %s %%\n", n.CoffeeGPerL.StringFixed(1), n.CoffeeGPer100ML.StringFixed(2), n.CoffeePct.StringFixed(2))
	// Output: 60.5 g/L, 6.05 g per 100 mL, 6.06 %
}

// 7 g per 100 mL as a ratio by mass.
func ExampleFromGramsPer100ML() {
	n, err := brewratio.FromGramsPer100ML(brewratio.GPer100MLAt{CoffeeGPer100ML: d("7"), TempC: d("20")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1:%s\n", n.Ratio.StringFixed(1))
	// Output: 1:14.3
}

// 6 % of the water's mass as a ratio.
func ExampleFromPct() {
	n, err := brewratio.FromPct(brewratio.PctAt{CoffeePct: d("6"), TempC: d("20")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1:%s\n", n.Ratio.StringFixed(1))
	// Output: 1:16.7
}

// How dense is the water of a kettle at 93 °C?
func ExampleWaterDensity() {
	rho, err := brewratio.WaterDensity(brewratio.At{TempC: d("93")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s kg/m³\n", rho.StringFixed(2))
	// Output: 963.27 kg/m³
}

// What do 150 mL from that kettle weigh?
func ExampleWaterMass() {
	m, err := brewratio.WaterMass(brewratio.PouredVolume{VolumeML: d("150"), TempC: d("93")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g\n", m.StringFixed(1))
	// Output: 144.5 g
}

// What room do 165 g take at 93 °C?
func ExampleWaterVolume() {
	v, err := brewratio.WaterVolume(brewratio.PouredMass{WaterG: d("165"), TempC: d("93")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s mL\n", v.StringFixed(1))
	// Output: 171.3 mL
}

// Which published ratios are there, and what do they ask of a bowl of 165 g?
func ExampleStandardDose() {
	for _, s := range brewratio.Standards()[:4] {
		r, err := brewratio.StandardDose(brewratio.StandardBowl{Standard: s, WaterG: d("165"), TempC: d("20")})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %s g (%s)\n", s.Name, r.DoseG.StringFixed(1), s.Provenance)
	}
	// Output:
	// Cupping, arabica: 9.1 g (opened)
	// Cupping, fine robusta: 9.6 g (opened)
	// Cup testing of green coffee: 11.6 g (memory)
	// Cupping bowl, 10 g to 165 g: 10.0 g (common practice)
}

// What does a bowl of 90 mm at the brim, 60 mm at the floor, 55 mm high hold?
func ExampleVesselVolume() {
	v, err := brewratio.VesselVolume(brewratio.Vessel{TopMM: d("90"), BottomMM: d("60"), HeightMM: d("55")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s mL\n", v.StringFixed(0))
	// Output: 246 mL
}

// And 10 mm below the brim?
func ExamplePartVolume() {
	bowl := brewratio.Vessel{TopMM: d("90"), BottomMM: d("60"), HeightMM: d("55")}
	v, err := brewratio.PartVolume(brewratio.PartFill{Vessel: bowl, FillMM: d("45")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s mL\n", v.StringFixed(0))
	// Output: 186 mL
}

// How high do 171 mL stand in it?
func ExampleFillHeight() {
	bowl := brewratio.Vessel{TopMM: d("90"), BottomMM: d("60"), HeightMM: d("55")}
	h, err := brewratio.FillHeight(brewratio.VolumeIn{Vessel: bowl, VolumeML: d("171")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s mm\n", h.StringFixed(1))
	// Output: 42.2 mm
}

// The same bowl on a scale: 210.4 g empty, 455.8 g full of water at 20 °C.
func ExampleFilledVolume() {
	v, err := brewratio.FilledVolume(brewratio.Fill{EmptyG: d("210.4"), FullG: d("455.8"), TempC: d("20")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s mL\n", v.StringFixed(1))
	// Output: 245.8 mL
}

// The dose for a bowl filled to a line at 186 mL, water on the grounds.
func ExampleBowlDose() {
	b, err := brewratio.BowlDose(brewratio.BowlFill{VolumeML: d("186"), Ratio: d("16.5"), TempC: d("93"),
		GroundsMLPerG: decimal.NewFromFloat(brewratio.GroundsMLPerG)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g with %s g of water\n", b.DoseG.StringFixed(1), b.WaterG.StringFixed(0))
	// Output: 10.4 g with 172 g of water
}

func table() brewratio.Session {
	return brewratio.Session{CoffeesCount: 2, BowlsPerCoffeeCount: 3, RinsesPerCoffeeCount: 1,
		DoseG: d("8.25"), RinseG: d("5"), WaterG: d("150"), KettleG: d("1000"), DivisionG: d("0.1")}
}

// What does a table of two coffees in three bowls each take?
func ExamplePlanSession() {
	p, err := brewratio.PlanSession(table())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("set aside %s g of each; %s g water in %d kettles\n", p.SampleG, p.WaterG, p.KettlesCount)
	// Output: set aside 29.8 g of each; 900 g water in 1 kettles
}

// Its weighing list on a scale in tenths: alike bowls, and the rest of the 29.8 g
// of each coffee for its rinse.
func ExampleWeighingList() {
	list, err := brewratio.WeighingList(table())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range list {
		fmt.Printf("coffee %d, %s %d: %s g\n", w.CoffeeCount, w.Kind, w.NumberCount, w.MassG.StringFixed(1))
	}
	// Output:
	// coffee 1, rinse 1: 4.9 g
	// coffee 1, bowl 1: 8.3 g
	// coffee 1, bowl 2: 8.3 g
	// coffee 1, bowl 3: 8.3 g
	// coffee 2, rinse 1: 4.9 g
	// coffee 2, bowl 1: 8.3 g
	// coffee 2, bowl 2: 8.3 g
	// coffee 2, bowl 3: 8.3 g
}

// 100 g in three equal parts on a scale in tenths.
func ExampleParts() {
	one := d("1")
	parts, err := brewratio.Parts(brewratio.Whole{MassG: d("100"), DivisionG: d("0.1"), Shares: []decimal.Decimal{one, one, one}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range parts {
		fmt.Println(p.StringFixed(1), "g")
	}
	// Output:
	// 33.4 g
	// 33.3 g
	// 33.3 g
}

// A litre of filter coffee at 1:16.67, the grounds keeping 2.1 g per g, a
// fifth of the water added after brewing.
func ExamplePlanBrew() {
	p, err := brewratio.PlanBrew(brewratio.Wanted{BeverageG: d("1000"), Ratio: d("16.67"), RetainedGPerG: d("2.1"), BypassPct: d("20")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g coffee, %s g through it, %s g beside it\n", p.DoseG.StringFixed(1), p.BrewWaterG.StringFixed(0), p.BypassG.StringFixed(0))
	// Output: 68.6 g coffee, 915 g through it, 229 g beside it
}

// What do 30 g give at 1:16?
func ExamplePlanDose() {
	p, err := brewratio.PlanDose(brewratio.DosePlan{DoseG: d("30"), Ratio: d("16"), RetainedGPerG: d("2.1")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g in the server\n", p.BeverageG.StringFixed(0))
	// Output: 417 g in the server
}

// 15 g, 250 g poured, 218 g in the server: what did the grounds keep?
func ExampleRetainedByWeight() {
	k, err := brewratio.RetainedByWeight(brewratio.WeighedBrew{DoseG: d("15"), WaterG: d("250"), BeverageG: d("218")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g per g\n", k.RetainedGPerG.StringFixed(2))
	// Output: 2.13 g per g
}

// A recipe for 250 g of water, made with 600 g.
func ExampleScaleRecipe() {
	b, err := brewratio.ScaleRecipe(brewratio.Resize{DoseG: d("15"), WaterG: d("250"), ToWaterG: d("600")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g\n", b.DoseG.StringFixed(1))
	// Output: 36.0 g
}

// 250 g in three pours; the scale shows 15 g of coffee at the start.
func ExamplePours() {
	pours, err := brewratio.Pours(brewratio.Pouring{WaterG: d("250"), StartG: d("15"), DivisionG: d("1"),
		SharesPct: []decimal.Decimal{d("16"), d("42"), d("42")}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range pours {
		fmt.Printf("pour %s g, scale at %s g\n", p.WaterG, p.ScaleG)
	}
	// Output:
	// pour 40 g, scale at 55 g
	// pour 105 g, scale at 160 g
	// pour 105 g, scale at 265 g
}

// Does 150 g of hot brew melt 100 g of ice, and how cold does it get?
func ExampleMelt() {
	m, err := brewratio.Melt(brewratio.Iced{BrewG: d("150"), TempC: d("88"), IceG: d("100")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s g melt, %s °C\n", m.MeltedG, m.TempC.StringFixed(0))
	// Output: 100 g melt, 21 °C
}

// What may a scale in tenths of a gram weigh within 1 %?
func ExampleSmallestDose() {
	m, err := brewratio.SmallestDose(brewratio.SmallestWanted{Balance: brewratio.Balance{DivisionG: d("0.1"), RepeatableToG: d("0.03")}, TolerancePct: d("1")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("from %s g on\n", m.StringFixed(1))
	// Output: from 8.2 g on
}

// How well do a scale in tenths and one in whole grams know 10 g to 165 g?
func ExampleRatioTolerance() {
	told, err := brewratio.RatioTolerance(brewratio.WeighedRatio{DoseG: d("10"), WaterG: d("165"),
		DoseBalance: brewratio.Balance{DivisionG: d("0.1")}, WaterBalance: brewratio.Balance{DivisionG: d("1")}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1:16.5 within %.1f\n", told.Ratio)
	// Output: 1:16.5 within 0.2
}
