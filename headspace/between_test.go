package headspace

import (
	"math"
	"testing"
)

// Between the stages of a panel the course takes the release from their
// polynomial where that is safe. What depends on the release alone, the gas
// vented, must be what the release itself gives at each hour: for smooth
// releases, for tables with corners, and for one that comes in jolts.
func TestReleaseBetweenSteps(t *testing.T) {
	for name, r := range map[string]Release{
		"stretched":   release(1500, 0.2, 0.6),
		"saturating":  func(d float64) float64 { return 1500 * d / (5 + d) },
		"corners":     func(d float64) float64 { return 300*math.Min(d, 2.3) + 40*math.Max(0, math.Min(d, 9.1)-2.3) },
		"stairs":      func(d float64) float64 { return 90 * math.Floor(d/3) },
		"late":        func(d float64) float64 { return 500 * math.Max(0, math.Tanh((d-20)*4)+1) * math.Min(1, d*1e9) },
		"a fine wave": func(d float64) float64 { return 30*d + math.Sin(7*d)*4 },
	} {
		bag := aBag
		full := bag.FreeML + bag.SlackML
		most := full * (1 + bag.OpenKPa/bag.KPa)
		threshold := bag.SlackML + full*bag.OpenKPa/bag.KPa
		course := make([]Aged, 60*24+1)
		if err := OxygenCourse(bag, course, 1.0/24, r); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, a := range course {
			q := r(float64(i) / 24)
			want := math.Max(0, q-threshold) / most * most
			if !(math.Abs(a.GasVentedML-want) <= 2e-11*(bag.FreeML+q)) {
				t.Errorf("%s: after %d hours %v mL have gone, not %v", name, i, a.GasVentedML, want)
				break
			}
		}
	}
}
