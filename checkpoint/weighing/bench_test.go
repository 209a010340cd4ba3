package weighing

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
)

var (
	sink  float64
	sinkD decimal.Decimal
)

func BenchmarkAsFound(b *testing.B) {
	check := Check{Load{ClassIII, dec("5"), dec("2000"), true}, dec("2005"), dec("0.1")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			f, err := AsFound(check)
			if err != nil {
				b.Fatal(err)
			}
			sinkD = f.ErrorG
		}
	})
	b.Run("floor", func(b *testing.B) { // one subtraction and one comparison
		b.ReportAllocs()
		for b.Loop() {
			d := check.ReadingG.Sub(check.LoadG)
			if d.Abs().GreaterThan(check.IntervalG) {
				b.Fatal(d)
			}
			sinkD = d
		}
	})
}

func BenchmarkJudge(b *testing.B) {
	batch := Batch{dec("250"), make([]decimal.Decimal, 50), 3, 0.379}
	for i := range batch.ContentsG {
		batch.ContentsG[i] = decimal.New(int64(2500+i%7-2), -1)
	}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			j, err := Judge(batch)
			if err != nil {
				b.Fatal(err)
			}
			sink = j.SpreadG
		}
	})
	b.Run("floor", func(b *testing.B) { // the exact sums alone
		b.ReportAllocs()
		for b.Loop() {
			var sum, squares decimal.Decimal
			for _, x := range batch.ContentsG {
				sum = sum.Add(x)
				squares = squares.Add(x.Mul(x))
			}
			sinkD = squares
		}
	})
}

func BenchmarkFillTarget(b *testing.B) {
	fill := Fill{dec("250"), 1.2, dec("0.4"), dec("0.5")}
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			t, err := FillTarget(fill)
			if err != nil {
				b.Fatal(err)
			}
			sink = t.ShortPct
		}
	})
	b.Run("floor", func(b *testing.B) { // the three tails
		b.ReportAllocs()
		for b.Loop() {
			sink = math.Erfc(0.3) + math.Erfc(2.1) + math.Erfc(4.2)
		}
	})
}
