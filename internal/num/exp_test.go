package num

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// exactExp is e^x in 300 bits: the series at x/1024, squared ten times.
func exactExp(x float64) *big.Float {
	real := func(v float64) *big.Float { return new(big.Float).SetPrec(300).SetFloat64(v) }
	sum, term := real(1), real(1)
	for n := 1; n < 60; n++ {
		term.Mul(term, real(x/1024))
		term.Quo(term, real(float64(n)))
		sum.Add(sum, term)
	}
	for range 10 {
		sum.Mul(sum, sum)
	}
	return sum
}

// ulps is how far got is from want, in units in the last place of want.
func ulps(got float64, want *big.Float) float64 {
	w, _ := want.Float64()
	d, _ := new(big.Float).SetPrec(300).Sub(new(big.Float).SetPrec(300).SetFloat64(got), want).Float64()
	return math.Abs(d) / (math.Nextafter(math.Abs(w), math.Inf(1)) - math.Abs(w))
}

func TestExpAgainstItsSeries(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		x := 1399*r.Float64() - 699.5
		if r.IntN(3) == 0 {
			x *= math.Exp2(-float64(r.IntN(60)))
		}
		if got := ulps(Exp(x), exactExp(x)); got > 1 {
			t.Errorf("Exp(%v) is %.3g units off", x, got)
		}
	}
}

// e^ln x is x: the error of the logarithm is what is missing in the exponent.
func TestLogAgainstTheSeries(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		x := math.Exp2(100*r.Float64() - 50)
		if r.IntN(3) == 0 {
			x = 1 + (r.Float64()-0.5)*math.Exp2(-float64(r.IntN(50)))
		}
		got := Log(x)
		if x == 1 {
			continue
		}
		// x/e^got − 1 is the absolute error of got, to its square.
		off := new(big.Float).SetPrec(300).Quo(new(big.Float).SetPrec(300).SetFloat64(x), exactExp(got))
		d, _ := off.Sub(off, big.NewFloat(1)).Float64()
		if unit := math.Nextafter(math.Abs(got), math.Inf(1)) - math.Abs(got); math.Abs(d) > unit {
			t.Errorf("Log(%v) is %.3g units off", x, math.Abs(d)/unit)
		}
	}
}

// Further out, and where there is nothing to compute, they are math's.
func TestExpAndLogAtTheirEnds(t *testing.T) {
	for _, x := range []float64{0, math.Copysign(0, -1), 1, -1, 699.9, -699.9, 700, -700, 709.7, 709.9, -740, -746, 1e300, math.Inf(1), math.Inf(-1), math.NaN()} {
		if got, want := Exp(x), math.Exp(x); !(math.Abs(got-want) <= 4e-16*want) && got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("Exp(%v) = %v, want %v", x, got, want)
		}
	}
	for _, x := range []float64{1, 2, 0.5, 0x1p-1022, 0x1p-1030, 5e-324, math.MaxFloat64, 0, -1, math.Inf(1), math.Inf(-1), math.NaN()} {
		if got, want := Log(x), math.Log(x); !(math.Abs(got-want) <= 4e-16*math.Abs(want)) && got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("Log(%v) = %v, want %v", x, got, want)
		}
	}
	if Exp(0) != 1 || Log(1) != 0 {
		t.Error("e⁰ or ln 1 is not exact")
	}
}

func BenchmarkExp(b *testing.B) {
	for _, f := range []struct {
		name string
		of   func(float64) float64
	}{{"ours", Exp}, {"floor", math.Exp}} {
		b.Run(f.name, func(b *testing.B) {
			for x := 0.1; b.Loop(); x += 0.01 {
				if x > 20 {
					x = 0.1
				}
				sinkExp += f.of(-x)
			}
		})
	}
}

var sinkExp float64
