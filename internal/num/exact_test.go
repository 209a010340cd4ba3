package num

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// Binomial and hypergeometric shares of small numbers against whole numbers
// counted exactly.
func TestCountsAgainstWholeNumbers(t *testing.T) {
	choose := func(n, k int) *big.Int { return new(big.Int).Binomial(int64(n), int64(k)) }
	for lot := 0; lot <= 11; lot++ {
		for marked := 0; marked <= lot; marked++ {
			for n := 0; n <= lot; n++ {
				sum := new(big.Int)
				for k := -1; k <= n+1; k++ {
					if k >= 0 && k <= marked && n-k >= 0 && n-k <= lot-marked {
						sum.Add(sum, new(big.Int).Mul(choose(marked, k), choose(lot-marked, n-k)))
					}
					want, _ := new(big.Rat).SetFrac(sum, choose(lot, n)).Float64()
					if got := HypergeometricCDF(k, n, marked, lot); !(math.Abs(got-want) <= 1e-14) {
						t.Fatalf("at most %d of %d from %d with %d marked: %v, want %v", k, n, lot, marked, got, want)
					}
				}
			}
		}
	}
	for _, w := range [][2]int64{{1, 2}, {1, 4}, {3, 4}, {1, 1024}, {1023, 1024}, {5, 16}} { // exact in binary
		p, _ := big.NewRat(w[0], w[1]).Float64()
		for n := 0; n <= 40; n++ {
			lower := new(big.Rat)
			for k := -1; k <= n+1; k++ {
				term := new(big.Rat)
				if k >= 0 && k <= n {
					num := new(big.Int).Mul(new(big.Int).Exp(big.NewInt(w[0]), big.NewInt(int64(k)), nil), new(big.Int).Exp(big.NewInt(w[1]-w[0]), big.NewInt(int64(n-k)), nil))
					term.SetFrac(num.Mul(num, choose(n, k)), new(big.Int).Exp(big.NewInt(w[1]), big.NewInt(int64(n)), nil))
				}
				upper, _ := new(big.Rat).Sub(big.NewRat(1, 1), lower).Float64() // k or more
				lower.Add(lower, term)
				one, _ := term.Float64()
				low, _ := lower.Float64()
				for _, c := range []struct {
					name      string
					got, want float64
				}{
					{"pmf", pmf(k, n, p, 1-p), one}, {"upper", BinomialUpper(k, n, p), upper}, {"lower", BinomialLower(k, n, p), low},
				} {
					if !(math.Abs(c.got-c.want) <= 2e-13*c.want) {
						t.Fatalf("%s of %d in %d at %v: %v, want %v", c.name, k, n, p, c.got, c.want)
					}
				}
			}
		}
	}
	// Sure and impossible tries.
	for n := range 4 {
		for k := -1; k <= n+1; k++ {
			at := func(b bool) float64 { return indicator(b) }
			for name, c := range map[string][2]float64{
				"pmf at 0": {pmf(k, n, 0, 1), at(k == 0)}, "pmf at 1": {pmf(k, n, 1, 0), at(k == n)},
				"upper at 0": {BinomialUpper(k, n, 0), at(k <= 0)}, "upper at 1": {BinomialUpper(k, n, 1), at(k <= n)},
				"lower at 0": {BinomialLower(k, n, 0), at(k >= 0)}, "lower at 1": {BinomialLower(k, n, 1), at(k >= n)},
			} {
				if c[0] != c[1] {
					t.Errorf("%s, %d of %d: %v, want %v", name, k, n, c[0], c[1])
				}
			}
		}
	}
	for _, v := range []float64{BinomialUpper(0, -1, 0.5), BinomialLower(0, -1, 0.5),
		BinomialLower(0, 1, -1e-300), BinomialUpper(0, 1, -1e-300), BinomialUpper(0, 1, 1+1e-15), BinomialLower(0, 1, math.NaN())} {
		if !math.IsNaN(v) {
			t.Errorf("%v where nothing is defined", v)
		}
	}
}

// What is outside, at the border and one float inside.
func TestBordersOfDistributions(t *testing.T) {
	tiny, most := math.SmallestNonzeroFloat64, math.Nextafter(1, 0)
	nan := math.NaN()
	for _, c := range []struct {
		name string
		got  float64
		nan  bool
	}{
		{"normal at the least p", NormalQuantile(tiny), false}, {"normal at the greatest p", NormalQuantile(most), false},
		{"normal below 0", NormalQuantile(-tiny), true}, {"normal above 1", NormalQuantile(math.Nextafter(1, 2)), true},
		{"t, p 0", StudentQuantile(0, 3), true}, {"t, p 1", StudentQuantile(1, 3), true}, {"t, nu 0", StudentQuantile(0.3, 0), true},
		{"t, nu -1", StudentQuantile(0.3, -1), true}, {"t, nu NaN", StudentQuantile(0.3, nan), true}, {"t, nu small", StudentQuantile(0.3, 0.05), false},
		{"χ², p 0", ChiSquareQuantile(0, 3), true}, {"χ², p 1", ChiSquareQuantile(1, 3), true}, {"χ², nu 0", ChiSquareQuantile(0.3, 0), true}, {"χ², nu -1", ChiSquareQuantile(0.3, -1), true}, {"χ²", ChiSquareQuantile(0.3, 0.5), false},
		{"F, p 0", FQuantile(0, 3, 3), true}, {"F, p 1", FQuantile(1, 3, 3), true}, {"F, d1 0", FQuantile(0.3, 0, 3), true}, {"F, d2 0", FQuantile(0.3, 3, 0), true}, {"F", FQuantile(0.3, 0.5, 0.5), false},
		{"F, d1 -1", FQuantile(0.3, -1, 3), true}, {"F, d2 -1", FQuantile(0.3, 3, -1), true},
		{"factor, p 0", StudentFactor(0, 1), true}, {"factor, p 1", StudentFactor(1, 1), true}, {"factor, nu 0", StudentFactor(0.5, 0), true}, {"factor, nu 1", StudentFactor(0.5, 1), false},
		{"noncentral, p 0", NoncentralT{5, 1}.Quantile(0), true}, {"noncentral, p 1", NoncentralT{5, 1}.Quantile(1), true}, {"noncentral, q 0", NoncentralT{5, 1}.QuantileAbove(0), true}, {"noncentral, q 1", NoncentralT{5, 1}.QuantileAbove(1), true},
		{"noncentral, least nu", NoncentralT{1, 1}.Quantile(0.5), false}, {"noncentral, most nu", NoncentralT{1e6, 1}.Quantile(0.5), false}, {"noncentral, most delta", NoncentralT{9, 5e3}.Quantile(0.5), false}, {"noncentral, least delta", NoncentralT{9, -5e3}.Quantile(0.5), false},
		{"noncentral, nu 0", NoncentralT{0, 1}.Quantile(0.5), true}, {"noncentral, nu 1.5", NoncentralT{1.5, 1}.Quantile(0.5), true}, {"noncentral, nu over", NoncentralT{1e6 + 1, 1}.Quantile(0.5), true},
		{"noncentral, delta over", NoncentralT{9, 5e3 + 0.5}.Quantile(0.5), true}, {"noncentral, delta under", NoncentralT{9, -5e3 - 0.5}.Quantile(0.5), true},
	} {
		if math.IsNaN(c.got) != c.nan || math.IsInf(c.got, 0) {
			t.Errorf("%s: %v", c.name, c.got)
		}
	}
	for name, c := range map[string][2]float64{
		"normal at 0": {NormalQuantile(0), math.Inf(-1)}, "normal at 1": {NormalQuantile(1), math.Inf(1)},
		"t median": {StudentQuantile(0.5, 3), 0}, "t at 0": {StudentCDF(0, 3), 0.5},
		"χ² at 0": {ChiSquareCDF(0, 3), 0}, "χ² below 0": {ChiSquareCDF(-1, 3), 0}, "χ² above 0": {ChiSquareTail(0, 3), 1}, "χ² above -1": {ChiSquareTail(-1, 3), 1},
		"F at 0": {FCDF(0, 3, 4), 0}, "F below 0": {FCDF(-1, 3, 4), 0}, "F above 0": {FTail(0, 3, 4), 1}, "F above -1": {FTail(-1, 3, 4), 1},
		"T(h, 0)": {OwenT(0.7, 0), 0}, "T(-h, a)": {OwenT(-0.7, 0.4), OwenT(0.7, 0.4)}, "T(h, -a)": {OwenT(0.7, -3), -OwenT(0.7, 3)}, "T(h, -∞)": {OwenT(0.7, math.Inf(-1)), -0.5 * NormalCDF(-0.7)},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %v, want %v", name, c[0], c[1])
		}
	}
	// Closed forms: F with 2 and 2 degrees, χ² with 2, t with 1 and 2, T(h, 1).
	for _, x := range []float64{1e-3, 0.5, 0.99, 1.3, 40} {
		for name, c := range map[string][2]float64{
			"F":  {FCDF(x, 2, 2), x / (1 + x)},
			"F'": {FTail(x, 2, 2), 1 / (1 + x)},
			"χ²": {ChiSquareCDF(x, 2), -math.Expm1(-x / 2)}, "χ²'": {ChiSquareTail(x, 2), math.Exp(-x / 2)},
			"t 1": {StudentCDF(-x, 1), 0.5 - math.Atan(x)/math.Pi}, "t 2": {StudentCDF(x, 2), 0.5 + x/(2*math.Sqrt(2+x*x))},
			"T": {OwenT(x, 1), 0.5 * NormalCDF(x) * NormalCDF(-x)},
			"φ": {NormalPDF(x), math.Exp(-x*x/2) / math.Sqrt(2*math.Pi)},
		} {
			if !(math.Abs(c[0]-c[1]) <= 3e-13*c[1]+1e-16) {
				t.Errorf("%s at %v: %v, want %v", name, x, c[0], c[1])
			}
		}
	}
	for _, p := range []float64{1e-12, 0.01, 0.3, 0.495, 0.5, 0.505, 0.7, 0.999} {
		for name, c := range map[string][2]float64{
			"χ² 2":  {ChiSquareQuantile(p, 2), -2 * math.Log1p(-p)},
			"t 1":   {StudentQuantile(p, 1), -1 / math.Tan(math.Pi*p)},
			"t 2":   {StudentQuantile(p, 2), (2*p - 1) * math.Sqrt(1/(2*p*(1-p)))},
			"F 2 2": {FQuantile(p, 2, 2), p / (1 - p)},
			"F 2 4": {FQuantile(p, 2, 4), 2 * math.Expm1(-math.Log1p(-p)/2)},
			"F 4 2": {FQuantile(p, 4, 2), math.Sqrt(p) / (2 * (1 - math.Sqrt(p)))},
			"t ∞":   {StudentQuantile(p, 2e16), NormalQuantile(p)},
		} {
			if !(math.Abs(c[0]-c[1]) <= 1e-11*math.Abs(c[1])+1e-15) {
				t.Errorf("%s at %v: %v, want %v", name, p, c[0], c[1])
			}
		}
	}
}

// Gauss's rule is exact for every power up to 39, and not for 40.
func TestGaussPowers(t *testing.T) {
	for k := range 41 {
		got := Gauss(func(x float64) float64 { return math.Pow(x, float64(k)) }, 0, 2)
		off := math.Abs(got/(math.Pow(2, float64(k+1))/float64(k+1)) - 1)
		if k < 40 && !(off <= 2e-15) {
			t.Errorf("x^%d is off by %v", k, off)
		}
	}
	count, sum := 0, 0.0
	GaussNodes(3, 5, func(x, w float64) {
		if !(x > 3 && x < 5 && w > 0) {
			t.Errorf("node %v with %v", x, w)
		}
		count++
		sum += w
	})
	if count != 20 || math.Abs(sum-2) > 1e-15 {
		t.Errorf("%d nodes, weights %v", count, sum)
	}
}

// Decimals against the library's own parser, in lengths about the chunks of 18
// digits that are read at once.
func TestParseDecimalAgainstTheLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for n := 1; n <= 60; n++ {
		for range 8 {
			s := make([]byte, n)
			for i := range s {
				s[i] = byte('0' + rng.IntN(10))
			}
			at := rng.IntN(n + 1)
			for _, text := range []string{string(s), string(s[:at]) + "." + string(s[at:]), "-" + string(s[:at]) + "." + string(s[at:]), "-" + strings.Repeat("0", at) + string(s)} {
				want, err := decimal.NewFromString(text)
				got, ok := ParseDecimal(text)
				if err != nil || !ok || !got.Equal(want) || got.Exponent() != want.Exponent() {
					t.Fatalf("%q: %v (%d), %v; want %v (%d), %v", text, got, got.Exponent(), ok, want, want.Exponent(), err)
				}
			}
		}
	}
	for _, text := range []string{"", "-", ".", "-.", "1.2.3", "--1", "+1", "1e3", "1 ", "/", ":", "0x1", "1,5", "−1"} {
		if d, ok := ParseDecimal(text); ok || !d.Equal(decimal.Decimal{}) {
			t.Errorf("%q is read as %v", text, d)
		}
	}
	if d := MustDecimal("-0.50"); d.String() != "-0.5" {
		t.Errorf("%v", d)
	}
	defer func() {
		if r := recover(); r != `num: "x" is no decimal` {
			t.Errorf("panics with %v", r)
		}
	}()
	MustDecimal("x")
}
