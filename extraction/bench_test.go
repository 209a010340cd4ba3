package extraction

import "testing"

var sink float64

func BenchmarkYield(b *testing.B) {
	brew := Brew{15, 250, 220, 1.4, 0.8, 0}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r, err := Yield(brew)
			if err != nil {
				b.Fatal(err)
			}
			sink = r.YieldPct
		}
	})
	b.Run("floor", func(b *testing.B) { // the formula by hand, nothing checked
		b.ReportAllocs()
		for b.Loop() {
			t, tr := brew.StrengthPct/100, brew.RetainedStrengthPct/100
			sink = 100 * (brew.BeverageG*(t-tr) + brew.WaterG*tr) / (1 - tr) / brew.DoseG
		}
	})
}
