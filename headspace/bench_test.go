package headspace

import (
	"math"
	"testing"
)

var sink float64

func BenchmarkAfterSweep(b *testing.B) {
	p := Purge{AirOxygenPct, 0.1, 775, 1500}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			y, err := AfterSweep(p)
			if err != nil {
				b.Fatal(err)
			}
			sink = y.OxygenPct
		}
	})
	b.Run("floor", func(b *testing.B) { // one exponential, nothing else
		b.ReportAllocs()
		for b.Loop() {
			sink = math.Exp(-p.GasML / p.FreeML)
		}
	})
}
