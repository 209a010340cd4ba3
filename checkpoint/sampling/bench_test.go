package sampling

import (
	"testing"

	"example.org/evenlot/internal/num"
)

var sink float64

func BenchmarkOneSidedFactor(b *testing.B) {
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := OneSidedFactor(10, 95, 95); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("n 2 to 1000", func(b *testing.B) { // the whole table of one claim
		b.ReportAllocs()
		for b.Loop() {
			for n := 2; n <= 1000; n++ {
				if _, err := OneSidedFactor(n, 95, 95); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // the closed approximation
		for b.Loop() {
			sink, _, _, _ = natrella(10, 95, 95)
		}
	})
}

func BenchmarkTwoSidedFactor(b *testing.B) {
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := TwoSidedFactor(10, 95, 95); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // Howe's closed form
		for b.Loop() {
			sink = howe(10, 95, 95)
		}
	})
}

func BenchmarkToleranceBound(b *testing.B) {
	x := []float64{0.8, 1.1, 0.9, 1.3, 1.0, 1.2, 0.7, 1.1, 1.4, 1.0}
	claim := Claim{95, 95, Upper, true, 0.1}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := ToleranceBound(x, claim); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // the factor alone
		d := num.NoncentralT{Nu: 9, Delta: 5.2}
		for b.Loop() {
			sink = d.Quantile(0.95)
		}
	})
}
