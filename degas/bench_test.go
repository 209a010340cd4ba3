package degas

import (
	"math"
	"testing"
)

var sink float64

// Over twelve decades of time, evenly in the logarithm: what one evaluation
// costs on average.
func BenchmarkSphereShare(b *testing.B) {
	var fo [97]float64
	for i := range fo {
		fo[i] = math.Pow(10, -9+float64(i)/8)
	}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		i := 0
		for b.Loop() {
			s, err := SphereShare(fo[i])
			if err != nil {
				b.Fatal(err)
			}
			sink = s.LeftPct
			if i++; i == len(fo) {
				i = 0
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // one square root and one exponential
		b.ReportAllocs()
		i := 0
		for b.Loop() {
			sink = math.Sqrt(fo[i]) * math.Exp(-fo[i])
			if i++; i == len(fo) {
				i = 0
			}
		}
	})
	b.Run("worst", func(b *testing.B) { // at the join, where all terms count
		b.ReportAllocs()
		for b.Loop() {
			s, err := SphereShare(sphereJoin * (1 - 1e-9))
			if err != nil {
				b.Fatal(err)
			}
			sink = s.LeftPct
		}
	})
}

func BenchmarkSheetShare(b *testing.B) {
	var fo [97]float64
	for i := range fo {
		fo[i] = math.Pow(10, -9+float64(i)/8)
	}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		i := 0
		for b.Loop() {
			s, err := SheetShare(fo[i])
			if err != nil {
				b.Fatal(err)
			}
			sink = s.LeftPct
			if i++; i == len(fo) {
				i = 0
			}
		}
	})
}

func BenchmarkLeft(b *testing.B) {
	var c Curve = Stretched{3.1, 0.59}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Left(c, 4); err != nil {
				b.Fatal(err)
			}
		}
	})
	x := 4 / 3.1
	b.Run("floor", func(b *testing.B) { // a power and the exponential twice
		b.ReportAllocs()
		for b.Loop() {
			p := math.Pow(x, 0.59)
			sink = math.Exp(-p) - math.Expm1(-p)
		}
	})
}

func BenchmarkDaysUntil(b *testing.B) {
	for name, c := range map[string]Curve{"stretched": Stretched{3.1, 0.59}, "two pools": TwoPools{37.5, 0.5, 8}, "sphere": Sphere{3.5, 10e-13}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := DaysUntil(c, 30); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
