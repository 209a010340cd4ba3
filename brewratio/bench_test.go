package brewratio

import "testing"

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
