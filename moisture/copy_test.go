package moisture

import (
	"math"
	"testing"
)

// A second copy of the polynomials of moist air, in powers as they were printed
// and not nested as the package computes them. It guards the digits and the
// nesting against a slip of the hand; it is no second source.
//
//	f    Hardy, Proc. 3rd Int. Symp. on Humidity and Moisture, 1998, tables 3 and 4
//	B    Hyland & Wexler, ASHRAE Trans. 89(2A), 1983, cm³/mol
func TestMoistAirAgainstASecondCopy(t *testing.T) {
	poly := func(t float64, c [4]float64) float64 {
		return c[0] + c[1]*t + c[2]*t*t + c[3]*t*t*t
	}
	f := func(a, b [4]float64, t, p, e float64) float64 {
		return math.Exp(poly(t, a)*(1-e/p) + math.Exp(poly(t, b))*(p/e-1))
	}
	water := [2][4]float64{{3.53624e-4, 2.9328363e-5, 2.6168979e-7, 8.5813609e-9}, {-1.07588e1, 6.3268134e-2, -2.5368934e-4, 6.3405286e-7}}
	super := [2][4]float64{{3.62183e-4, 2.6061244e-5, 3.8667770e-7, 3.8268958e-9}, {-1.07604e1, 6.3987441e-2, -2.6351566e-4, 1.6725084e-6}}
	ice := [2][4]float64{{3.64449e-4, 2.9367585e-5, 4.8874766e-7, 4.3669918e-9}, {-1.07271e1, 7.6215115e-2, -1.7490155e-4, 2.4668279e-6}}
	const r, m = 8.314472, 0.621945
	for _, p := range []float64{50, 101.325, 110} {
		for c := -40.0; c <= 80; c += 8 {
			for _, rh := range []float64{1, 60, 100} {
				s, err := AirProperties(MoistAir{c, rh, p})
				if err != nil {
					t.Fatal(err)
				}
				sat, err := SaturationOverWater(c)
				if err != nil {
					t.Fatal(err)
				}
				k := water
				if c < 0 {
					k = super
				}
				x := rh / 100 * sat.PressureKPa / p * f(k[0], k[1], c, p, sat.PressureKPa)
				w := m * x / (1 - x)
				T := c + 273.15
				aa := 0.349568e2 - 0.668772e4/T - 0.210141e7/(T*T) + 0.924746e8/(T*T*T)
				aw := 0.32366097e2 - 0.141138e5/T - 0.1244535e7/(T*T) - 0.2348789e10/math.Pow(T, 4)
				ww := r * T * (0.70e-8 - 0.147184e-8*math.Exp(1734.29/T)) * 1e6
				z := 1 + ((1-x)*(1-x)*aa+2*x*(1-x)*aw+x*x*ww)*1e-6*p*1000/(r*T)
				v := 0.287042 * T * z * (1 + w/m) / p // m³ per kg of dry air
				if !near(s.RatioGPerKg, 1000*w, 1e-12) || !near(s.VolumeM3PerKg, v, 1e-13) || !near(s.SaturationPct, rh*(1-sat.PressureKPa/p*f(k[0], k[1], c, p, sat.PressureKPa))/(1-x), 1e-12) {
					t.Errorf("%v °C, %v %%, %v kPa: %+v; second copy %v g/kg, %v m³/kg", c, rh, p, s, 1000*w, v)
				}
			}
			// The wick's balance, ASHRAE Fundamentals, ch. 1, eq. 33 and 35.
			for _, below := range []float64{0.1, 1} {
				b := c - below
				if b < -40 {
					continue
				}
				rh, err := HumidityFromWetBulb(Psychrometer{c, b, p})
				if err != nil {
					continue // drier than dry
				}
				var ws, w float64
				if b < 0 {
					e, err := SaturationOverIce(b)
					if err != nil {
						t.Fatal(err)
					}
					x := f(ice[0], ice[1], b, p, e.PressureKPa) * e.PressureKPa / p
					ws = m * x / (1 - x)
					w = ((2830-0.24*b)*ws - 1.006*(c-b)) / (2830 + 1.86*c - 2.1*b)
				} else {
					e, err := SaturationOverWater(b)
					if err != nil {
						t.Fatal(err)
					}
					x := f(water[0], water[1], b, p, e.PressureKPa) * e.PressureKPa / p
					ws = m * x / (1 - x)
					w = ((2501-2.326*b)*ws - 1.006*(c-b)) / (2501 + 1.86*c - 4.186*b)
				}
				sat, _ := SaturationOverWater(c)
				k := water
				if c < 0 {
					k = super
				}
				want := 100 * w / (m + w) * p / (sat.PressureKPa * f(k[0], k[1], c, p, sat.PressureKPa))
				if !near(rh, math.Min(want, 100), 1e-10) {
					t.Errorf("%v °C, wick %v °C, %v kPa: %v %%, second copy %v %%", c, b, p, rh, want)
				}
			}
		}
	}
	// Water for a room: its dry air times the change of the ratio.
	to, err1 := AirProperties(MoistAir{18, 58, 95})
	from, err2 := AirProperties(MoistAir{24, 40, 95})
	out, err3 := AirProperties(MoistAir{5, 85, 95})
	got, err4 := WaterForRoom(RoomChange{120, 95, Air{24, 40}, Air{18, 58}, Air{5, 85}, 0.5})
	dry := 120 / to.VolumeM3PerKg
	if err1 != nil || err2 != nil || err3 != nil || err4 != nil || !near(got.OnceG, dry*(to.RatioGPerKg-from.RatioGPerKg), 1e-12) || !near(got.PerHourG, 0.5*dry*(to.RatioGPerKg-out.RatioGPerKg), 1e-12) {
		t.Errorf("%+v, %v kg of dry air", got, dry)
	}
}

// A second copy of both tables of salts: the handbook's A, B and range of
// temperature, the bureau's values at 20 and 25 °C and the larger of their
// uncertainties. It guards the digits against a slip; it is no second source.
func TestSaltsAgainstASecondCopy(t *testing.T) {
	for s, c := range map[Salt]struct{ a, b, from, to, at20, at25, u float64 }{
		LithiumChloride:    {14.53, -75, 20, 65, 11.31, 11.30, 0.31},
		MagnesiumChloride:  {29.26, 34, 5, 45, 33.07, 32.78, 0.18},
		SodiumIodide:       {3.62, 702, 5, 45, 0, 0, 0},
		PotassiumCarbonate: {0, 0, 0, 0, 43.16, 43.16, 0.39},
		CalciumNitrate:     {1.89, 981, 10, 30, 0, 0, 0},
		MagnesiumNitrate:   {25.28, 220, 5, 35, 54.38, 52.89, 0.23},
		SodiumBromide:      {20.49, 308, 0, 35, 59.14, 57.57, 0.44},
		AmmoniumNitrate:    {3.54, 853, 10, 40, 0, 0, 0},
		PotassiumIodide:    {29.35, 254, 5, 30, 69.90, 68.86, 0.26},
		SodiumNitrate:      {26.94, 302, 10, 40, 0, 0, 0},
		SodiumChloride:     {69.20, 25, 10, 40, 75.47, 75.29, 0.14},
		AmmoniumChloride:   {35.67, 235, 10, 40, 0, 0, 0},
		PotassiumBromide:   {40.98, 203, 5, 25, 0, 0, 0},
		PotassiumChloride:  {49.38, 159, 5, 25, 85.11, 84.34, 0.29},
		PotassiumSulfate:   {0, 0, 0, 0, 97.59, 97.30, 0.53},
	} {
		if c.a > 0 {
			for _, at := range []float64{c.from, math.Min(c.to, 50), math.Max(down(c.from), 0), math.Min(up(c.to), 50), 22} {
				p, err := HandbookSalt(s, at)
				want := c.a * math.Exp(c.b/(at+273.15))
				if err != nil || !near(p.RHPct, want, 1e-14) || !near(p.UncertaintyPct, want/50, 1e-14) || (p.Notes == Extrapolated) != (at < c.from || at > c.to) {
					t.Errorf("%v at %v °C: %+v, %v; second copy %v", s, at, p, err, want)
				}
			}
		} else if p, err := HandbookSalt(s, 22); err == nil {
			t.Errorf("%v: %+v", s, p)
		}
		if c.at20 == 0 {
			if p, err := StandardSalt(s, 22); err == nil {
				t.Errorf("%v: %+v", s, p)
			}
			continue
		}
		for at, want := range map[float64]float64{20: c.at20, 25: c.at25, 30: 2*c.at25 - c.at20, 15: 2*c.at20 - c.at25} {
			p, err := StandardSalt(s, at)
			if err != nil || !near(p.RHPct, want, 1e-14) || p.UncertaintyPct != c.u {
				t.Errorf("%v at %v °C: %+v, %v; second copy %v ± %v", s, at, p, err, want, c.u)
			}
		}
	}
}
