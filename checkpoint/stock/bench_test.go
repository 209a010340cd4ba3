package stock

import "testing"

var (
	sink  float64
	sinkN int
)

func BenchmarkBuffer(b *testing.B) {
	day := make([]Bin, 60)
	for i := range day {
		day[i] = Bin{10 + i, 1 + i*(59-i)/50}
	}
	wait := Wait{[][]Bin{day, day, day}, pct("95")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			h, err := Buffer(wait)
			if err != nil {
				b.Fatal(err)
			}
			sinkN = h.Bags
		}
	})
	b.Run("floor", func(b *testing.B) { // the same convolution in floats, not exact
		b.ReportAllocs()
		for b.Loop() {
			p := make([]float64, 210)
			p[0] = 1
			for range 3 {
				next := make([]float64, 210)
				for i, x := range p {
					if x == 0 {
						continue
					}
					for _, d := range day {
						next[i+d.Bags] += x * float64(d.Times)
					}
				}
				p = next
			}
			sink = p[100]
		}
	})
}

func BenchmarkRoastPlan(b *testing.B) {
	quiet := []Bin{{2, 4}, {4, 5}, {7, 1}}
	busy := []Bin{{8, 3}, {12, 6}, {17, 1}}
	cycle := Cycle{[][]Bin{quiet, quiet, quiet, quiet, busy, busy, {{0, 1}}}, []int{0, 3}, 3, 21, pct("95")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p, err := RoastPlan(cycle)
			if err != nil {
				b.Fatal(err)
			}
			sinkN = p[0].UpTo
		}
	})
	// The most that the accepted ranges allow: demand spread over 1000 bins,
	// two weeks, the longest rest and shelf.
	wide := make([]Bin, MaxBins)
	for i := range wide {
		wide[i] = Bin{i * 220 / MaxBins, MaxTimes}
	}
	most := Cycle{RoastDays: []int{0}, RestDays: MaxRestDays, ShelfDays: MaxShelfDays, LevelPct: pct("99.999")}
	for range MaxDays {
		most.Days = append(most.Days, wide)
	}
	b.Run("largest", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p, err := RoastPlan(most)
			if err != nil {
				b.Fatal(err)
			}
			sinkN = p[0].UpTo
		}
	})
}

func BenchmarkSafetyForFill(b *testing.B) {
	lead := Lead{12, 4, 10, 2, 0}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			s, err := SafetyForFill(lead, 240, 99)
			if err != nil {
				b.Fatal(err)
			}
			sink = s.SafetyBags
		}
	})
	b.Run("floor", func(b *testing.B) { // one evaluation of the loss
		b.ReportAllocs()
		for b.Loop() {
			sink = NormalLoss(0.6)
		}
	})
}
