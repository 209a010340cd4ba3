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
