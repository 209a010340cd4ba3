package num

import (
	"math"
	"testing"
)

// The finite sum and the incomplete beta function are two routes to one
// number.
func TestStudentFactor(t *testing.T) {
	for _, nu := range []int{1, 2, 3, 4, 5, 10, 29, 30, 100, 999} {
		for _, p := range []float64{0.1, 0.5, 0.6827, 0.95, 0.99, 0.9999} {
			got, want := StudentFactor(p, nu), StudentQuantile((1+p)/2, float64(nu))
			if !(math.Abs(got-want) <= 1e-9*want) {
				t.Errorf("p %v, %d degrees of freedom: %v, want %v", p, nu, got, want)
			}
		}
	}
	// JCGM 100:2008, table G.2.
	for _, c := range [][3]float64{{0.95, 1, 12.71}, {0.95, 4, 2.78}, {0.95, 20, 2.09}, {0.99, 11, 3.11}} {
		if got := StudentFactor(c[0], int(c[1])); math.Abs(got-c[2]) > 0.005 {
			t.Errorf("p %v, %v degrees of freedom: %v, want %v", c[0], c[1], got, c[2])
		}
	}
	for _, v := range []float64{StudentFactor(0, 5), StudentFactor(1, 5), StudentFactor(0.5, 0), StudentFactor(math.NaN(), 5)} {
		if !math.IsNaN(v) {
			t.Errorf("%v where there is none", v)
		}
	}
}

// Near 0 and with many degrees of freedom, where the incomplete beta function
// alone has half its digits, against quadrature.
func TestStudentAgainstQuadrature(t *testing.T) {
	for _, r := range frozen(t, "student.csv", 4) {
		got, name := StudentWithin(r[1], r[2]), "within"
		if r[0] == 1 {
			got, name = StudentCDF(-r[1], r[2]), "tail"
		}
		if !(math.Abs(got-r[3]) <= 2e-14*r[3]) {
			t.Errorf("%s %v with %v: %v, want %v", name, r[1], r[2], got, r[3])
		}
	}
	// The two forms meet without a step at t² = 3 and at t² = ν, that of the
	// tail at ν = 40 and that of the normal at 1e20.
	for _, c := range [][4]float64{
		{1.7320508075688772, 1e3, 1.7320508075688774, 1e3}, {1.7320508075688772, 9, 1.7320508075688774, 9}, {1, 1, 1.0000000000000002, 1},
		{0.3, 0.09, 0.30000000000000004, 0.09}, {2, 39.999999999999993, 2, 40}, {2, 1e20, 2, 1.0000000000000001e20}, {1, 1e20, 1, 1.0000000000000001e20},
	} {
		if a, b := StudentWithin(c[0], c[1]), StudentWithin(c[2], c[3]); !(math.Abs(a-b) <= 1e-14) {
			t.Errorf("a step at %v: %v and %v", c, a, b)
		}
	}
	for _, nu := range []float64{0.05, 1, 39, 41, 1e6, 1e17, 1e21, math.Inf(1)} {
		for _, x := range []float64{0, 1e-300, 0.1, 1.5, 1.9, 10, 1e5, 1e99, 1e101, 1e160, math.Inf(1)} {
			below, above, in := StudentCDF(-x, nu), StudentCDF(x, nu), StudentWithin(x, nu)
			if !(below >= 0 && math.Abs(below+above-1) <= 1e-15 && math.Abs(in+2*below-1) <= 1e-14) {
				t.Errorf("%v with %v: %v, %v, %v", x, nu, below, above, in)
			}
		}
	}
	// Quantiles: Cornish and Fisher in mpmath, and onto the normal without a jump.
	for _, c := range [][3]float64{{0.975, 9e9, 1.95996398480364}, {0.975, 1e9, 1.95996398691233}, {0.75, 9e9, 0.674489750223341}} {
		if got := StudentQuantile(c[0], c[1]); !(math.Abs(got-c[2]) <= 1e-11) {
			t.Errorf("quantile %v with %v: %v, want %v", c[0], c[1], got, c[2])
		}
	}
	for _, p := range []float64{1e-12, 0.01, 0.3, 0.6, 0.975, 0.9999} {
		z := NormalQuantile(p)
		z2 := z * z
		for nu := 1e5; nu <= 1e22; nu *= 7 {
			// Cornish and Fisher; the next term is less than z⁷/ν³.
			want := z * (1 + ((z2+1)/4+(5*z2*z2+16*z2+3)/(96*nu))/nu)
			if got := StudentQuantile(p, nu); !(math.Abs(got/want-1) <= z2*z2*z2/nu/nu/nu+1e-12) {
				t.Errorf("quantile %v with %v: %v, want %v", p, nu, got, want)
			}
		}
	}
}
