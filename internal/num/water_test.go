package num

import (
	"math"
	"testing"
)

// IAPWS-95 at 101 325 Pa, by the iapws library; the whole grid is in
// the tests of package brewratio.
func TestWaterDensity(t *testing.T) {
	for _, c := range [][2]float64{{0, 999.843086}, {20, 998.207150}, {50, 988.035046}, {93, 963.270789}, {99.9, 958.420920}} {
		if got := WaterDensity(c[0]); math.Abs(got/c[1]-1) > 5e-6 {
			t.Errorf("at %v °C: %v, want %v", c[0], got, c[1])
		}
	}
}
