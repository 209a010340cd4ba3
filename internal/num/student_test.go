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
