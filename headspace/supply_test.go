package headspace

import (
	"errors"
	"math"
	"testing"

	"github.com/shopspring/decimal"
)

var (
	aShift    = Shift{2400, 300, 10, GasState{20, SeaLevelKPa}, GasState{15, 100}}
	aCylinder = Cylinder{50, 200, 5, 15, SeaLevelKPa, GasState{15, 100}}
	aDraught  = Draught{9.2, 2.6, 60, decimal.RequireFromString("48.50")}
	aFloat    = FloatMeter{20, AirMolarG, GasState{20, SeaLevelKPa}, NitrogenMolarG, GasState{20, 250}, GasState{20, SeaLevelKPa}}
)

func TestSupplyRefusals(t *testing.T) {
	refuses(t, aShift, GasUsed, limit{"BagGasML", 0.1, 1e8}, limit{"Bags", 1, 1e7}, limit{"LostPct", 0, 95},
		limit{"Bag.TempC", -40, 150}, limit{"Bag.KPa", 1, 5000}, limit{"Ref.TempC", -40, 150}, limit{"Ref.KPa", 1, 5000})
	refuses(t, aCylinder, CylinderContent, limit{"WaterL", 0.1, 1e4})
	refuses(t, Cylinder{50, 300, 0, 15, SeaLevelKPa, GasState{15, 100}}, CylinderContent, limit{"GaugeBar", 0, 300}, limit{"LeaveBar", 0, 300}, limit{"TempC", -20, 60},
		limit{"AmbientKPa", 50, 110}, limit{"Ref.TempC", -40, 150}, limit{"Ref.KPa", 1, 5000})
	refuses(t, aDraught, CylinderLife, limit{"UsableM3", 0.001, 1e5}, limit{"BagL", 1e-4, 1e5}, limit{"BagsPerHour", 0.1, 1e5})
	refuses(t, aFloat, TrueFlow, limit{"ShownLPerMin", 0, 1e5}, limit{"ScaleMolarG", 2, 200}, limit{"Scale.TempC", -40, 150}, limit{"Scale.KPa", 1, 5000},
		limit{"GasMolarG", 2, 200}, limit{"Gas.TempC", -40, 150}, limit{"Gas.KPa", 1, 5000}, limit{"Ref.TempC", -40, 150}, limit{"Ref.KPa", 1, 5000})
	refuses(t, GasState{20, 101}, NitrogenZ, limit{"TempC", -40, 150}, limit{"KPa", 1, 35_000})
	var input *InputError
	for _, p := range []string{"-0.01", "1000000.01", "1e60"} {
		d := aDraught
		d.CylinderPrice = decimal.RequireFromString(p)
		if _, err := CylinderLife(d); !errors.As(err, &input) || input.Fields[0].Field != "CylinderPrice" {
			t.Errorf("price %s: %v", p, err)
		}
	}
	c := aCylinder
	c.LeaveBar = 201
	if _, err := CylinderContent(c); !errors.As(err, &input) || input.Fields[0].Field != "LeaveBar" || input.Fields[0].Why == "" {
		t.Errorf("left with more than it has: %v", err)
	}
	var none *ImpossibleError
	if _, err := CylinderLife(Draught{0.001, 1.1, 60, decimal.Zero}); !errors.As(err, &none) || none.Field != "BagL" {
		t.Errorf("not one bag: %v", err)
	}
}

// The reference equation against an equation of another kind, that of Lee and
// Kesler, over all that a cylinder sees. Source: Lee and Kesler, AIChE Journal
// 21, 1975; coefficients from memory. Method: 0.4 % between the two.
func TestNitrogenAgainstLeeKesler(t *testing.T) {
	type set struct{ b1, b2, b3, b4, c1, c2, c3, c4, d1, d2, beta, gamma float64 }
	simple := set{0.1181193, 0.265728, 0.154790, 0.030323, 0.0236744, 0.0186984, 0, 0.042724, 0.155488e-4, 0.623689e-4, 0.65392, 0.060167}
	octane := set{0.2026579, 0.331511, 0.027655, 0.203488, 0.0313385, 0.0503618, 0.016901, 0.041577, 0.48736e-4, 0.0740336e-4, 1.226, 0.03754}
	z := func(s set, tr, pr float64) float64 {
		b := s.b1 - s.b2/tr - s.b3/(tr*tr) - s.b4/(tr*tr*tr)
		c := s.c1 - s.c2/tr + s.c3/(tr*tr*tr)
		d := s.d1 + s.d2/tr
		lo, hi := 0.05, 1e6
		for range 200 {
			v := math.Sqrt(lo * hi)
			f := 1 + b/v + c/(v*v) + d/math.Pow(v, 5) + s.c4/(tr*tr*tr*v*v)*(s.beta+s.gamma/(v*v))*math.Exp(-s.gamma/(v*v))
			if f > pr*v/tr {
				lo = v
			} else {
				hi = v
			}
		}
		return pr * lo / tr
	}
	for _, c := range []float64{-20, 0, 15, 40, 60} {
		for _, bar := range []float64{1, 20, 50, 100, 150, 200, 250, 300} {
			tr, pr := (c+ZeroCelsiusK)/126.2, bar/33.98
			a, b := z(simple, tr, pr), z(octane, tr, pr)
			want := a + 0.0377/0.3978*(b-a)
			got, err := NitrogenZ(GasState{c, 100 * bar})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "Z", got, want, 0.004)
		}
	}
	// At low pressure it is an ideal gas, and more gas is always more pressure.
	one, err := NitrogenZ(GasState{15, 1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Z at 1 kPa", one, 1, 1e-5)
	for c := -40.0; c <= 150; c += 10 {
		last := 0.0
		for p := 1.0; p <= 35_000; p += 50 {
			n := nitrogenMolPerL(p, c+ZeroCelsiusK)
			if !(n > last) {
				t.Fatalf("%v °C, %v kPa: %v mol/L after %v", c, p, n, last)
			}
			last = n
		}
	}
}

// Usable and left are the whole, and a cylinder used to nothing gives it all
// but the room's own pressure.
func TestCylinderBalance(t *testing.T) {
	for _, bar := range []float64{0, 1, 50, 200, 300} {
		for _, leave := range []float64{0, bar / 2, bar} {
			c := aCylinder
			c.GaugeBar, c.LeaveBar = bar, leave
			all, err := CylinderContent(c)
			if err != nil {
				t.Fatal(err)
			}
			c.GaugeBar, c.LeaveBar = leave, 0
			rest, err := CylinderContent(c)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "usable and rest", all.UsableM3+rest.FullM3, all.FullM3, 1e-12)
			if leave == bar && all.UsableM3 != 0 {
				t.Errorf("%+v", all)
			}
		}
	}
}

// The same mass of gas, told at two states; price and bags multiply back.
func TestSupplyTwoRoutes(t *testing.T) {
	u, err := GasUsed(aShift)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "shift", u.ShiftL, 300*u.BagL, 1e-12)
	near(t, "with the loss out", u.BagL*0.9, 2.4*(288.15/293.15)*(101.325/100), 1e-12)
	v, err := VolumeAt(Restated{2400, aShift.Bag, aShift.Ref})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "restated", v/1000, u.BagL*0.9, 1e-12)
	s, err := CylinderLife(aDraught)
	if err != nil {
		t.Fatal(err)
	}
	if s.Bags != 3538 || !s.CostPerBag.Equal(decimal.RequireFromString("0.0137")) {
		t.Errorf("%+v", s)
	}
	near(t, "hours", s.Hours, 3538.0/60, 1e-12)
	// A volume that holds a whole number of bags keeps the last one.
	w, err := CylinderLife(Draught{0.3, 0.1, 1, decimal.Zero})
	if err != nil || w.Bags != 3000 {
		t.Errorf("%+v, %v", w, err)
	}
}

// A float sees √density: the same gas at four times the density flows half
// the volume, and twice the mass.
func TestFloatMeter(t *testing.T) {
	m := FloatMeter{20, NitrogenMolarG, GasState{20, 100}, NitrogenMolarG, GasState{20, 400}, GasState{20, 100}}
	f, err := TrueFlow(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tube", f.TubeLPerMin, 10, 1e-12)
	near(t, "reference", f.RefLPerMin, 40, 1e-12)
	m.Gas = m.Scale
	f, err = TrueFlow(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "as scaled", f.RefLPerMin, 20, 1e-12)
	m.ScaleMolarG = AirMolarG
	f, err = TrueFlow(m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "nitrogen on an air scale", f.RefLPerMin, 20*math.Sqrt(AirMolarG/NitrogenMolarG), 1e-12)
}

func TestSupplyAllocations(t *testing.T) {
	allocatesNothing(t, aShift, GasUsed)
	allocatesNothing(t, aCylinder, CylinderContent)
	allocatesNothing(t, aFloat, TrueFlow)
	allocatesNothing(t, GasState{20, 20_000}, NitrogenZ)
}

func FuzzSupply(f *testing.F) {
	f.Add(2400.0, 300, 10.0, 20.0, 101.3, 200.0, 5.0, 28.0)   // a shift
	f.Add(2.4, 300, 0.1, 293.0, 1.013, 20000.0, 500.0, 0.028) // litres, kelvin, bar
	f.Add(math.NaN(), -1, math.Inf(1), -40.0, 1.0, 300.0, 300.0, 2.0)
	f.Fuzz(func(t *testing.T, ml float64, n int, lost, c, kpa, bar, leave, molar float64) {
		at := GasState{c, kpa}
		u, err := GasUsed(Shift{ml, n, lost, at, at})
		judged(t, u, err)
		k, err := CylinderContent(Cylinder{ml, bar, leave, c, kpa, at})
		judged(t, k, err)
		v, err := TrueFlow(FloatMeter{ml, molar, at, molar, GasState{lost, bar}, at})
		judged(t, v, err)
		z, err := NitrogenZ(GasState{c, bar})
		judged(t, z, err)
		if s, err := CylinderLife(Draught{lost, ml, bar, decimal.NewFromInt(int64(n))}); err == nil && s.Bags < 1 {
			t.Fatalf("%+v", s)
		}
	})
}
