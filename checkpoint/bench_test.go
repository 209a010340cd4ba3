package checkpoint

import (
	"testing"

	"example.org/evenlot/internal/num"
)

var sink float64

func BenchmarkJudge(b *testing.B) {
	r, l := Reading{11.9, 0.3}, Limit{10, 12}
	b.Run("checked", func(b *testing.B) { // two limits: the acceptance interval and MaxU are roots
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Judge(r, l, DefaultRiskPct); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("one limit", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Judge(r, Limit{-inf, 12}, DefaultRiskPct); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // the probability alone
		b.ReportAllocs()
		for b.Loop() {
			sink = 1 - num.NormalCDF((l.Lo-r.Value)/r.U) - num.NormalCDF((r.Value-l.Hi)/r.U)
		}
	})
}
