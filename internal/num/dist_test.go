package num

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// reference reads the grid that testdata/dist.py wrote.
func reference(t *testing.T) map[string][][]float64 {
	t.Helper()
	b, err := os.ReadFile("testdata/dist.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string][][]float64{}
	for i, line := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		if i < 2 {
			continue
		}
		f := strings.Split(line, ",")
		if len(f) != 3 {
			t.Fatalf("line %d: %q", i+1, line)
		}
		var row []float64
		for _, w := range append(strings.Fields(f[1]), f[2]) {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, v)
		}
		rows[f[0]] = append(rows[f[0]], row)
	}
	return rows
}

func TestDistributionsAgainstReference(t *testing.T) {
	functions := map[string]func(a []float64) float64{
		"normal cdf":         func(a []float64) float64 { return NormalCDF(a[0]) },
		"normal quantile":    func(a []float64) float64 { return NormalQuantile(a[0]) },
		"student cdf":        func(a []float64) float64 { return StudentCDF(a[0], a[1]) },
		"student quantile":   func(a []float64) float64 { return StudentQuantile(a[0], a[1]) },
		"chi2 cdf":           func(a []float64) float64 { return ChiSquareCDF(a[0], a[1]) },
		"chi2 tail":          func(a []float64) float64 { return ChiSquareTail(a[0], a[1]) },
		"chi2 quantile":      func(a []float64) float64 { return ChiSquareQuantile(a[0], a[1]) },
		"f cdf":              func(a []float64) float64 { return FCDF(a[0], a[1], a[2]) },
		"f tail":             func(a []float64) float64 { return FTail(a[0], a[1], a[2]) },
		"f quantile":         func(a []float64) float64 { return FQuantile(a[0], a[1], a[2]) },
		"binomial cdf":       func(a []float64) float64 { return BinomialLower(int(a[0]), int(a[1]), a[2]) },
		"binomial tail":      func(a []float64) float64 { return BinomialUpper(int(a[0]), int(a[1]), a[2]) },
		"hypergeometric cdf": func(a []float64) float64 { return HypergeometricCDF(int(a[0]), int(a[1]), int(a[2]), int(a[3])) },
		"noncentral t cdf": func(a []float64) float64 {
			below, _, _ := NoncentralT{a[1], a[2]}.Shares(a[0])
			return below
		},
		"noncentral t tail": func(a []float64) float64 {
			_, above, _ := NoncentralT{a[1], a[2]}.Shares(a[0])
			return above
		},
	}
	rows := reference(t)
	for name, f := range functions {
		if len(rows[name]) < 6 {
			t.Errorf("%s: %d rows", name, len(rows[name]))
		}
		worst := 0.0
		for _, r := range rows[name] {
			args, want := r[:len(r)-1], r[len(r)-1]
			got := f(args)
			floor := 1e-280 // relative, down to shares that nothing can hold
			if strings.HasPrefix(name, "noncentral") {
				floor = 1e-7 // its documented accuracy is absolute
			}
			off := math.Abs(got-want) / math.Max(math.Abs(want), floor)
			if math.Abs(got-want) < 1e-280 {
				off = 0
			}
			if !(off <= 1e-9) {
				t.Errorf("%s%v = %v, want %v (off by %.1e)", name, args, got, want, off)
			}
			worst = math.Max(worst, off)
		}
		t.Logf("%s: %d rows, worst %.1e", name, len(rows[name]), worst)
	}
	for name := range rows {
		if functions[name] == nil {
			t.Errorf("nobody computes %q", name)
		}
	}
}

func TestDistributionsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, p := range []float64{-0.1, 1.1, nan, inf} {
		for name, v := range map[string]float64{
			"normal": NormalQuantile(p), "student": StudentQuantile(p, 3), "χ²": ChiSquareQuantile(p, 3),
			"F": FQuantile(p, 3, 4), "noncentral t": NoncentralT{9, 2}.Quantile(p),
		} {
			if !math.IsNaN(v) {
				t.Errorf("%s quantile at %v is %v", name, p, v)
			}
		}
	}
	for _, d := range []NoncentralT{{0, 1}, {1.5, 1}, {nan, 1}, {1e6 + 1, 1}, {9, nan}, {9, 5e3 + 1}, {9, -inf}} {
		if below, above, density := d.Shares(1); !math.IsNaN(below + above + density) {
			t.Errorf("%+v: %v %v %v", d, below, above, density)
		}
		if q := d.Quantile(0.5); !math.IsNaN(q) {
			t.Errorf("%+v: quantile %v", d, q)
		}
	}
	if below, _, _ := (NoncentralT{9, 1}).Shares(nan); !math.IsNaN(below) {
		t.Errorf("at NaN: %v", below)
	}
}

// Over the whole range that is accepted: shares that add to one, the
// quantile as the inverse, the mirror image, the central t as a special case.
func TestNoncentralT(t *testing.T) {
	for _, nu := range []float64{1, 2, 3, 10, 59, 500, 999, 1e4, 1e6} {
		for _, delta := range []float64{-5e3, -1e3, -20, -1, 0, 1e-3, 0.5, 4, 30, 117.6, 1e3, 5e3} {
			d := NoncentralT{nu, delta}
			last := math.Inf(-1)
			for _, p := range []float64{1e-4, 0.01, 0.3, 0.5, 0.9, 0.99, 0.9999} {
				q := d.Quantile(p)
				if !(q > last) {
					t.Fatalf("%+v: quantile %v at %v, after %v", d, q, p, last)
				}
				last = q
				below, above, density := d.Shares(q)
				if !(math.Abs(below-p) <= 1e-9*p && math.Abs(below+above-1) <= 1e-11 && density > 0) {
					t.Fatalf("%+v at %v: %v below, %v above, density %v; want %v", d, q, below, above, density, p)
				}
				if m := -(NoncentralT{nu, -delta}).QuantileAbove(p); !(math.Abs(m-q) <= 1e-8*math.Abs(q)) {
					t.Fatalf("%+v: the mirror image has %v, not %v", d, m, q)
				}
				if c := StudentQuantile(p, nu); delta == 0 && !(math.Abs(q-c) <= 1e-8*math.Abs(c)) {
					t.Fatalf("%+v at %v: %v, central t %v", d, p, q, c)
				}
				h := 1e-4 * (1 + math.Abs(q)) / math.Sqrt(1+math.Abs(delta))
				lo, _, _ := d.Shares(q - h)
				hi, _, _ := d.Shares(q + h)
				if slope := (hi - lo) / (2 * h); nu >= 3 && !(math.Abs(slope-density) <= 1e-3*density) {
					t.Fatalf("%+v at %v: density %v, slope %v", d, q, density, slope)
				}
			}
		}
	}
	if q := (NoncentralT{5, 0}).Quantile(0.5); q != 0 {
		t.Errorf("median of the central t is %v", q)
	}
	d := NoncentralT{29, 9}
	if n := testing.AllocsPerRun(10, func() { d.Quantile(0.95) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// A lopsided F, by mpmath; ends of the range; its mirror image.
func TestLopsidedF(t *testing.T) {
	if got := FQuantile(1e-12, 1000, 2); !(math.Abs(got/0.0352004166968871-1) <= 1e-11) {
		t.Errorf("%v", got)
	}
	if lo, hi := FQuantile(1e-12, 0.05, 3), FQuantile(0.99, 3, 0.01); lo != 0 || !math.IsInf(hi, 1) {
		t.Errorf("beyond the ends: %v, %v", lo, hi)
	}
	for _, d := range [][2]float64{{1, 1}, {0.5, 7}, {1000, 2}, {999, 998001}, {40, 50}} {
		for _, p := range []float64{1e-10, 0.01, 0.5, 0.9} {
			if a, b := FQuantile(p, d[0], d[1]), 1/FQuantile(1-p, d[1], d[0]); !(math.Abs(a/b-1) <= 1e-6*math.Max(p, 1e-10/p)) {
				t.Errorf("F%v at %v: %v and %v", d, p, a, b)
			}
		}
	}
}

func TestGauss(t *testing.T) {
	if got := Gauss(func(x float64) float64 { return math.Pow(x, 39) + x*x }, -1, 2); math.Abs(got/(math.Pow(2, 40)/40-1.0/40+3)-1) > 1e-14 {
		t.Errorf("polynomial of degree 39: %v", got)
	}
	if got := Gauss(math.Exp, 0, 1); math.Abs(got-(math.E-1)) > 1e-15 {
		t.Errorf("exp: %v", got)
	}
}

func BenchmarkNoncentralT(b *testing.B) {
	b.Run("quantile", func(b *testing.B) { // one tolerance factor, n = 30
		d := NoncentralT{29, 9}
		for b.Loop() {
			d.Quantile(0.95)
		}
	})
	b.Run("floor", func(b *testing.B) { // the central t, whose share is one function call
		for b.Loop() {
			StudentQuantile(0.95, 29)
		}
	})
}

// Near zero the quantile of the central t is what the share is over a half,
// over the density there: Γ((ν+1)/2)/(√(πν)·Γ(ν/2)).
func TestNoncentralTNearZero(t *testing.T) {
	for _, nu := range []float64{1, 2, 22, 9810, 1e5} {
		a, _ := math.Lgamma((nu + 1) / 2)
		b, _ := math.Lgamma(nu / 2)
		density := math.Exp(a-b) / math.Sqrt(math.Pi*nu)
		for over := 0x1p-53; over < 1e-6; over *= 3 {
			p := 0.5 + over
			want := (p - 0.5) / density
			got := NoncentralT{nu, 0}.Quantile(p)
			if !(math.Abs(got-want) <= 2e-14+1e-9*want) {
				t.Errorf("ν = %v, %v over a half: %v, want %v", nu, over, got, want)
			}
			if small := (NoncentralT{nu, 1e-16}).Quantile(p); !(math.Abs(small-want) <= 2e-14+1e-9*want) {
				t.Errorf("ν = %v, %v over a half, hardly shifted: %v, want %v", nu, over, small, want)
			}
		}
	}
}
