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
