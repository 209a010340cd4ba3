package moisture_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/moisture"
	"github.com/shopspring/decimal"
)

// A paper prints 13.6 % dry basis. What would a meter in the store show?
func ExampleWetBasis() {
	m, err := moisture.WetBasis(13.6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% wet basis\n", m)
	// Output: 12.0 % wet basis
}

// A meter shows 12 %. Which figure compares with a paper's dry basis?
func ExampleDryBasis() {
	x, err := moisture.DryBasis(12)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% dry basis\n", x)
	// Output: 13.6 % dry basis
}

// A 60 kg sack drifts from 11.0 to 11.7 % in a damp store. What does it weigh?
func ExampleSackMass() {
	d, err := moisture.SackMass(moisture.Drift{
		MassKg:        decimal.RequireFromString("60.00"),
		MoisturePct:   decimal.RequireFromString("11.0"),
		ToMoisturePct: decimal.RequireFromString("11.7"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s kg, of which %s kg is water taken up\n", d.MassKg.StringFixed(2), d.WaterKg.StringFixed(2))
	// Output: 60.48 kg, of which 0.48 kg is water taken up
}

// What does a refused reading say? Here a fraction was typed for a percent,
// and the weight is missing.
func ExampleSackMass_refused() {
	_, err := moisture.SackMass(moisture.Drift{
		MoisturePct:   decimal.RequireFromString("0.11"),
		ToMoisturePct: decimal.RequireFromString("11.7"),
	})
	var bad *moisture.InputError
	if errors.As(err, &bad) {
		for _, f := range bad.Fields {
			fmt.Println(f)
		}
	}
	// Output:
	// MassKg is 0 kg; accepted: 0.001 to 100000000 kg
	// MoisturePct is 0.11 %; accepted: 0.5 to 80 %
}

// A pallet came in at 10.8 % and 1200 kg, and now weighs 1209.5 kg. What would
// the meter show?
func ExampleMoistureByWeight() {
	m, err := moisture.MoistureByWeight(moisture.WeighBack{
		MassKg:      decimal.RequireFromString("1200.0"),
		MoisturePct: decimal.RequireFromString("10.8"),
		ToMassKg:    decimal.RequireFromString("1209.5"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(m.StringFixed(1), "%")
	// Output: 11.5 %
}

// Three sacks of one lot were measured. What is the lot's moisture, and how
// wet is its wettest sack?
func ExampleSackLot() {
	lot, err := moisture.SackLot([]moisture.Sack{
		{MassKg: decimal.RequireFromString("60.2"), MoisturePct: decimal.RequireFromString("11.2")},
		{MassKg: decimal.RequireFromString("59.8"), MoisturePct: decimal.RequireFromString("11.0")},
		{MassKg: decimal.RequireFromString("31.5"), MoisturePct: decimal.RequireFromString("12.6")},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s kg at %s %%, wettest %s %%, spread %.1f %%\n", lot.MassKg.StringFixed(1),
		lot.MoisturePct.StringFixed(2), lot.HighestPct.StringFixed(1), lot.MoistureSpreadPct)
	// Output: 151.5 kg at 11.41 %, wettest 12.6 %, spread 0.9 %
}

// What will a room at 18 °C and 60 % bring a lot of green to?
func ExampleEquilibriumMoisture() {
	e, err := moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: 18, RHPct: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.1f %%\n", e.MoisturePct, e.SEPct)
	fmt.Println(e.Notes)
	// Output:
	// 11.2 ± 0.4 %
	// curve of drying parchment arabica, not of this lot
}

// A lot is at 12.5 % and the contract takes it. May it grow mould at 25 °C?
func ExampleWaterActivity() {
	a, err := moisture.WaterActivity(moisture.ParchmentArabica(), moisture.Bean{MoisturePct: 12.5, TempC: 25})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("activity %.2f (%.2f to %.2f)\n", a.Aw, a.LowAw, a.HighAw)
	fmt.Println(a.Notes)
	// Output:
	// activity 0.72 (0.70 to 0.74)
	// curve of drying parchment arabica, not of this lot; mould may grow at this activity or within one standard error of it; inside the moisture limit, which is no proof of a safe activity
}

// How much water can air at 20 °C hold, as a pressure?
func ExampleSaturationOverWater() {
	s, err := moisture.SaturationOverWater(20)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f kPa, rising %.3f kPa per kelvin\n", s.PressureKPa, s.KPaPerK)
	// Output: 2.339 kPa, rising 0.145 kPa per kelvin
}

// And over ice, in a freezer at −18 °C?
func ExampleSaturationOverIce() {
	s, err := moisture.SaturationOverIce(-18)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f kPa\n", s.PressureKPa)
	// Output: 0.1249 kPa
}

// What does the water in the store's air press?
func ExampleVapourPressure() {
	e, err := moisture.VapourPressure(moisture.Air{TempC: 18, RHPct: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f kPa\n", e)
	// Output: 1.24 kPa
}

// When does a cold sack start to sweat in a store at 20 °C and 60 %?
func ExampleDewPoint() {
	d, err := moisture.DewPoint(moisture.Air{TempC: 20, RHPct: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("below %.1f °C\n", d.DewC)
	// Output: below 12.0 °C
}

// A batch of 12.00 kg came out at 10.20 kg. What of the loss was water?
func ExampleRoastLoss() {
	l, err := moisture.RoastLoss(moisture.Roast{
		GreenKg:            decimal.RequireFromString("12.00"),
		RoastedKg:          decimal.RequireFromString("10.20"),
		GreenMoisturePct:   decimal.RequireFromString("11.0"),
		RoastedMoisturePct: decimal.RequireFromString("2.0"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s %% in all: %s %% water, %s %% dry matter\n", l.TotalPct.StringFixed(1),
		l.WaterPct.StringFixed(1), l.OrganicPct.StringFixed(1))
	fmt.Printf("%s %% of the dry matter left\n", l.DryMatterPct.StringFixed(1))
	// Output:
	// 15.0 % in all: 9.3 % water, 5.7 % dry matter
	// 6.4 % of the dry matter left
}

// How much green must be weighed out for 20 kg in bags at 15.5 % loss, with
// 0.4 % overfill and 300 g for the cupping table?
func ExampleGreenForRoasted() {
	c, err := moisture.GreenForRoasted(moisture.RoastPlan{
		RoastedKg:   decimal.RequireFromString("20"),
		LossPct:     decimal.RequireFromString("15.5"),
		OverfillPct: decimal.RequireFromString("0.4"),
		HeldBackKg:  decimal.RequireFromString("0.300"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.GreenKg.StringFixed(2), "kg")
	// Output: 24.12 kg
}

// What will a charge of 15 kg give at 16 % loss?
func ExampleRoastedMass() {
	r, err := moisture.RoastedMass(moisture.Batch{
		GreenKg: decimal.RequireFromString("15.0"),
		LossPct: decimal.RequireFromString("16"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.StringFixed(2), "kg")
	// Output: 12.60 kg
}
