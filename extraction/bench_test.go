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

func BenchmarkPointRatio(b *testing.B) {
	in := OnMap{Method{FilterLiquidGPerG, 0, 0}, 1.3, 20}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r, err := PointRatio(in)
			if err != nil {
				b.Fatal(err)
			}
			sink = r
		}
	})
	b.Run("floor", func(b *testing.B) { // the formula by hand
		b.ReportAllocs()
		for b.Loop() {
			t, e := in.StrengthPct/100, in.YieldPct/100
			sink = e/t - e + in.Method.LiquidGPerG
		}
	})
}

func BenchmarkBrix(b *testing.B) {
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r, err := Brix(Sample{1.3352, 24})
			if err != nil {
				b.Fatal(err)
			}
			sink = r.BrixPct
		}
	})
	b.Run("floor", func(b *testing.B) { // the parabola solved, no temperature
		b.ReportAllocs()
		for b.Loop() {
			sink = brix(1.3352)
		}
	})
}

func BenchmarkYieldUncertainty(b *testing.B) {
	brew, u := Brew{15, 250, 220, 1.4, 0.8, 0}, BrewU{0.05, 1, 1, 0.03, 0.2, 0}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r, err := YieldUncertainty(brew, u)
			if err != nil {
				b.Fatal(err)
			}
			sink = r.UPct
		}
	})
	b.Run("differences", func(b *testing.B) { // the same by central differences
		b.ReportAllocs()
		for b.Loop() {
			sum := 0.0
			for i, h := range [...]float64{u.DoseG, u.WaterG, u.BeverageG, u.StrengthPct, u.RetainedStrengthPct} {
				up, down := brew, brew
				for _, s := range [...]struct {
					b *Brew
					h float64
				}{{&up, h}, {&down, -h}} {
					switch i {
					case 0:
						s.b.DoseG += s.h
					case 1:
						s.b.WaterG += s.h
					case 2:
						s.b.BeverageG += s.h
					case 3:
						s.b.StrengthPct += s.h
					case 4:
						s.b.RetainedStrengthPct += s.h
					}
				}
				d := (solidsOf(up) - solidsOf(down)) / 2
				sum += d * d
			}
			sink = sum
		}
	})
}
