package brewratio

import (
	"math"
	"testing"

	"example.org/evenlot/internal/num"
)

var (
	sinkF float64
	sinkB Brew
)

// What exactness costs: a product and a quotient in decimals against the same
// in floats by hand.
func BenchmarkWater(b *testing.B) {
	in := DoseAndRatio{d("10.0"), d("16.5")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r, err := Water(in)
			if err != nil {
				b.Fatal(err)
			}
			sinkB = r
		}
	})
	b.Run("decimal", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sinkB.WaterG = in.DoseG.Mul(in.Ratio)
		}
	})
	dose, ratio := 10.0, 16.5
	b.Run("float64", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sinkF = dose * ratio
		}
	})
}

func BenchmarkDose(b *testing.B) {
	in := WaterAndRatio{d("190"), d("16.5")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r, err := Dose(in)
			if err != nil {
				b.Fatal(err)
			}
			sinkB = r
		}
	})
	b.Run("decimal", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sinkB.DoseG = in.WaterG.DivRound(in.Ratio, QuotientPlacesCount)
		}
	})
	water, ratio := 190.0, 16.5
	b.Run("float64", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sinkF = water / ratio
		}
	})
}

func BenchmarkWaterDensity(b *testing.B) {
	in := At{d("93.0")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := WaterDensity(in); err != nil {
				b.Fatal(err)
			}
		}
	})
	t := 93.0
	b.Run("float64", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sinkF = num.WaterDensity(t)
		}
	})
}

func BenchmarkPlanBrew(b *testing.B) {
	in := Wanted{d("1000"), d("16.67"), d("2.1"), d("20")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := PlanBrew(in); err != nil {
				b.Fatal(err)
			}
		}
	})
	beverage, ratio, keep, bypass := 1000.0, 16.67, 2.1, 20.0
	b.Run("float64", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			dose := beverage / (ratio - keep)
			sinkF = dose*ratio*(1-bypass/100) - keep*dose
		}
	})
}

// A table of 6 coffees in 5 bowls with spares and rinses: 42 lines.
func BenchmarkWeighingList(b *testing.B) {
	in := session()
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := WeighingList(in); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("float64", func(b *testing.B) { // rounded one by one, whatever they add up to
		b.ReportAllocs()
		for b.Loop() {
			for range 42 {
				sinkF += math.Round(8.25/0.1) * 0.1
			}
		}
	})
}
