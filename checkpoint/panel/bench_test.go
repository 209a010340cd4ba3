package panel

import (
	"math"
	"testing"
)

var (
	sink   float64
	sinkN  int
	sinkOK bool
)

func BenchmarkByChance(b *testing.B) {
	trial := Trial{Triangle, 60, 27}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			d, err := ByChance(trial)
			if err != nil {
				b.Fatal(err)
			}
			sink = d.ByChancePct
		}
	})
	b.Run("floor", func(b *testing.B) { // the terms of the tail as bare products
		b.ReportAllocs()
		for b.Loop() {
			term, sum := 1e-3, 0.0
			for k := 27; k < 60; k++ {
				sum += term
				term *= float64(60-k) / float64(k+1) * 0.5
			}
			sink = sum
		}
	})
}

func BenchmarkCorrectAtPct(b *testing.B) {
	for _, m := range methods {
		b.Run(m.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p, err := CorrectAtPct(m, 1.5)
				if err != nil {
					b.Fatal(err)
				}
				sink = p
			}
		})
	}
	b.Run("floor", func(b *testing.B) { // 48 exponentials and cosines
		b.ReportAllocs()
		for b.Loop() {
			s := 0.0
			for i := range 48 {
				c := math.Cos(float64(i) / 50)
				s += math.Exp(-1.5 / (c * c))
			}
			sink = s
		}
	})
}

func BenchmarkAssessors(b *testing.B) {
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			s, err := Assessors(Goal{Triangle, 5, 80, 47})
			if err != nil {
				b.Fatal(err)
			}
			sinkN = s.Smallest
		}
	})
	b.Run("largest", func(b *testing.B) { // about 10 000 assessors
		b.ReportAllocs()
		for b.Loop() {
			s, err := Assessors(Goal{Triangle, 5, 80, 34.6})
			if err != nil {
				b.Fatal(err)
			}
			sinkN = s.Smallest
		}
	})
}

func BenchmarkFriedman(b *testing.B) {
	table := make([][]float64, 5)
	for i := range table {
		for j := range 7 {
			table[i] = append(table[i], float64((i*7+j*3)%5))
		}
	}
	b.Run("enumerated", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			f, err := Friedman(table)
			if err != nil || f.Notes != 0 {
				b.Fatal(f, err)
			}
			sink = f.ByChancePct
		}
	})
	b.Run("floor", func(b *testing.B) { // the statistic alone
		b.ReportAllocs()
		for b.Loop() {
			sums := make([]int, 5)
			for j := range 7 {
				r, _ := doubledRanks(table, j)
				for i := range r {
					sums[i] += r[i]
				}
			}
			f, ok := friedman(sums, 7, 0)
			sink, sinkOK = f.Statistic, ok
		}
	})
}

func BenchmarkAgree(b *testing.B) {
	table := make([][]float64, 10)
	for i := range table {
		for j := range 6 {
			table[i] = append(table[i], float64(80+(i*7+j*3)%9))
		}
	}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			a, err := Agree(table, 95)
			if err != nil {
				b.Fatal(err)
			}
			sink = a.ICC21.Value
		}
	})
	b.Run("floor", func(b *testing.B) { // the mean squares alone
		b.ReportAllocs()
		for b.Loop() {
			sink = analyse(table).msErr
		}
	})
}

func BenchmarkUnder(b *testing.B) {
	list := []Cupping{{0, 87}, {4, 86.5}, {8, 86.75}, {12, 86}, {16, 85.25}, {20, 85.5}, {26, 84.5}}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			t, err := ScoreTrend(list, 95)
			if err != nil {
				b.Fatal(err)
			}
			c, err := Under(t, 84)
			if err != nil {
				b.Fatal(err)
			}
			sink = c.Week
		}
	})
}
