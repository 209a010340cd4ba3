package headspace

import (
	"math"
	"math/rand/v2"
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

// A year of bag life, hour by hour, with release, film, pores and a bent
// uptake; beside it the same year where it has a closed form, and the floor:
// one release and one exponential for each hour.
func BenchmarkOxygenCourse(b *testing.B) {
	year := make([]Aged, 365*24+1)
	bag := aBag
	r := release(1500, 0.2, 0.6)
	run := func(name string, bag Bag, r Release) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := OxygenCourse(bag, year, 1.0/24, r); err != nil {
					b.Fatal(err)
				}
			}
			sink = year[len(year)-1].OxygenPct
		})
	}
	run("closed form", bag, nil)
	run("release", bag, r)
	run("release, cheap curve", bag, func(d float64) float64 { return 1500 * d / (5 + d) })
	bag.Uptake.BendPerPct = 0.8
	run("release and bent uptake", bag, r)
	b.Run("floor", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for i := range year {
				sink = math.Exp(-r(float64(i) / 24))
			}
		}
	})
}

func BenchmarkOxygenAfter(b *testing.B) {
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			a, err := OxygenAfter(aBag, 30, nil)
			if err != nil {
				b.Fatal(err)
			}
			sink = a.OxygenPct
		}
	})
	b.Run("floor", func(b *testing.B) { // the two modes
		b.ReportAllocs()
		for b.Loop() {
			sink = math.Exp(-0.8*30) + math.Exp(-1e-4*30) + math.Expm1(-0.8*30) + math.Expm1(-1e-4*30)
		}
	})
}

func BenchmarkFitNozzle(b *testing.B) {
	for name, trial := range map[string]Trial{
		"numbers": bags(rand.New(rand.NewPCG(1, 2)), 10, 0.1, 0.01, times...),
		"zeros":   bagsFrom(0, rand.New(rand.NewPCG(3, 5)), 0, 0.25, 0.1, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 14, 14),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				f, err := FitNozzle(trial)
				if err != nil {
					b.Fatal(err)
				}
				sink = f.NozzlePct
			}
		})
	}
}

func BenchmarkCylinderContent(b *testing.B) {
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			c, err := CylinderContent(aCylinder)
			if err != nil {
				b.Fatal(err)
			}
			sink = c.FullM3
		}
	})
	b.Run("floor", func(b *testing.B) { // the equation once at each of the three states
		b.ReportAllocs()
		for b.Loop() {
			sink = nitrogenFactor(0.7, 0.44) + nitrogenFactor(0.02, 0.44) + nitrogenFactor(0.004, 0.44)
		}
	})
}
