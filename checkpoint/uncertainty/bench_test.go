package uncertainty

import (
	"math/rand/v2"
	"testing"
)

var sink float64

func BenchmarkSimulate(b *testing.B) {
	in := yieldInputs()
	b.Run("checked", func(b *testing.B) { // 1e6 draws of B·T/D, sorted for both intervals
		b.ReportAllocs()
		p := Plan{CoveragePct: 95, Digits: 2, MinDraws: 1e6, MaxDraws: 1e6, Seed: 1}
		for b.Loop() {
			if _, err := Simulate(yield, in, p); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("adaptive", func(b *testing.B) { // as many draws as two digits need
		b.ReportAllocs()
		p := Plan{CoveragePct: 95, Digits: 2, MaxDraws: 1e6, Seed: 1}
		for b.Loop() {
			if _, err := Simulate(yield, in, p); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // the draws and the formula alone
		r := rand.New(rand.NewPCG(1, 2))
		for b.Loop() {
			for range int(1e6) {
				sink += (36 + 0.1*r.NormFloat64()) * (9.5 + 0.05*r.NormFloat64()) / (18 + 0.05*r.NormFloat64())
			}
		}
	})
}

func BenchmarkPropagate(b *testing.B) {
	in := yieldInputs()
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Propagate(yield, in); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) { // the formula as often as the differences ask it
		x := []float64{36, 9.5, 18}
		for b.Loop() {
			for range 1 + 3*8 + 3*4 {
				sink += yield(x)
			}
		}
	})
}

func BenchmarkEarned(b *testing.B) {
	room := make([]byte, 0, 32)
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := AppendEarned(room, 19.0449, 0.1248, 2); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			appendRounded(room, 19.0449, 2)
		}
	})
}
