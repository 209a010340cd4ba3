package chart

import (
	"math"
	"testing"
)

var sink float64

func BenchmarkCheck(b *testing.B) {
	x := normals(1000, 1)
	lines := Lines{0, -3, 3, 1}
	b.Run("checked", func(b *testing.B) { // a thousand points, all nine rules
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Check(x, lines, Nelson|Run8); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // rule 1 by hand
		for b.Loop() {
			n := 0.0
			for _, v := range x {
				if math.Abs(v) > 3 {
					n++
				}
			}
			sink = n
		}
	})
}

func BenchmarkRunLength(b *testing.B) {
	b.Run("checked", func(b *testing.B) { // all four of Western Electric
		b.ReportAllocs()
		for b.Loop() {
			if _, err := RunLength(WesternElectric, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // rule 1, one state
		for b.Loop() {
			if _, err := RunLength(Beyond, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
}
