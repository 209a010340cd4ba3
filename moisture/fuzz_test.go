package moisture

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
)

// Any four floats, through every float function, give a finite answer or a
// refusal.
func FuzzFloats(f *testing.F) {
	f.Add(18.0, 60.0, 101.325, 3.0)                                // a store
	f.Add(5e-324, 1e-320, 0.0, math.MaxFloat64)                    // the smallest and the largest
	f.Add(math.NaN(), math.Inf(1), math.Inf(-1), 0.0)              // no numbers
	f.Add(-40.0, 100.0, 50.0, 10.0)                                // corners of moist air
	f.Add(80.0, 100.0, 50.0, 0.0)                                  // where vapour is nearly all of the air
	f.Add(0.0, 100.0, 110.0, -40.0)                                // the wick between water and ice
	f.Add(70.0, 99.0, 0.99, 80.0)                                  // corners of the isotherm
	f.Add(0.5, 400.0, 1e8, 1e-4)                                   // corners of moisture and mass
	f.Add(math.Nextafter(20, 0), math.Nextafter(100, 0), 1.0, 1.0) // just inside
	f.Fuzz(func(t *testing.T, a, b, c, d float64) {
		in := [4]float64{a, b, c, d}
		for _, p := range probes() {
			// The four floats take the place of fields from each start.
			for from := range p.fields {
				v := append([]float64(nil), p.base...)
				for i := range in {
					if from+i < len(v) {
						v[from+i] = in[i]
					}
				}
				got, err := p.call(v)
				sane(t, p.name, v, got, err)
			}
		}
	})
}

// Any series of pairs or readings, through every fit, gives a finite answer or
// a refusal.
func FuzzFits(f *testing.F) {
	f.Add(0.35, 0.02, 8.0, 1.1, uint8(6), int64(7))         // a lot
	f.Add(0.5, 0.0, 10.0, 1.0, uint8(5), int64(1))          // all the same
	f.Add(0.9, 0.02, 20.0, 0.5, uint8(4), int64(3))         // falling where coffee rises
	f.Add(0.01, 0.12, 0.5, 2.0, uint8(9), int64(0))         // steep
	f.Add(math.NaN(), 1e300, 11.0, 1.0, uint8(4), int64(2)) // no numbers
	f.Fuzz(func(t *testing.T, a0, da, m0, k float64, n uint8, seed int64) {
		n = n%12 + 1
		pairs := make([]IsothermPair, n)
		meter := make([]MeterPair, n)
		readings := make([]StoreReading, n)
		rows := make([]LogReading, n)
		for i := range pairs {
			x := float64(i)
			wobble := 0.1 * float64((seed>>(i%60))&3)
			m := m0*math.Pow(k, x) + wobble
			pairs[i] = IsothermPair{a0 + da*x, m, 20 + wobble}
			meter[i] = MeterPair{m, a0*100 + da*100*x}
			readings[i] = StoreReading{10 * x * a0, m}
			rows[i] = LogReading{int64(m0*60) + int64(i)*(seed%7000), 100 * da * x, 100*a0 + wobble}
		}
		for _, form := range []Form{FormGAB, FormOswin, FormHenderson} {
			got, err := FitIsotherm(form, pairs)
			sane(t, "FitIsotherm", pairs, got, err)
		}
		choice, err := ChooseIsotherm(pairs)
		sane(t, "ChooseIsotherm", pairs, choice, err)
		c, err := CalibrateMeter(meter)
		sane(t, "CalibrateMeter", meter, c, err)
		if err == nil {
			r, err := CorrectedReading(c, m0)
			sane(t, "CorrectedReading", meter, r, err)
		}
		fit, err := FitDrift(readings, m0)
		sane(t, "FitDrift", readings, fit, err)
		fit, err = FitDriftAndEquilibrium(readings)
		sane(t, "FitDriftAndEquilibrium", readings, fit, err)
		log, err := SummariseLog(roa, storeLimits, rows)
		sane(t, "SummariseLog", rows, log, err)
	})
}

// Any curve a caller makes up gives a finite answer or a refusal.
func FuzzCurves(f *testing.F) {
	f.Add(uint8(1), 61.0, -108.0, 74.0, -0.037, 1.0, 0.54, 0.6, 20.0) // like the shipped one
	f.Add(uint8(2), 5.0, 12.0, 0.9, 0.0, 1.0, 0.3, 0.9, 20.0)         // GAB
	f.Add(uint8(2), 5.0, 1e6, 1.0, 0.0, 5.0, 20.0, 0.99, 70.0)        // GAB at its limits
	f.Add(uint8(3), 100.0, 10.0, 0.0, 0.0, 5.0, 0.0, 0.99, 0.0)       // overflows the contents
	f.Add(uint8(4), 0.01, 10.0, 0.0, 0.0, 0.2, 0.0, 0.01, 0.0)        // underflows them
	f.Add(uint8(1), -1e4, 1e4, -1e4, 1e4, 1.0, 0.5, 0.5, 70.0)        // no curve at all
	f.Fuzz(func(t *testing.T, form uint8, p0, p1, p2, p3, scale, se, aw, temp float64) {
		c := Isotherm{Form: Form(form % 6), P: [6]float64{p0, p1, p2, p3}, Scale: scale, SEDryPct: se, MaxAw: 1, MaxC: 70}
		e, err := EquilibriumMoisture(c, Air{temp, 100 * aw})
		sane(t, "EquilibriumMoisture", c, e, err)
		a, err := WaterActivity(c, Bean{10 + 20*aw, temp})
		sane(t, "WaterActivity", c, a, err)
		k, err := AnchorIsotherm(c, Anchor{aw, 11, temp, 0.01, 0.2})
		sane(t, "AnchorIsotherm", c, k, err)
	})
}

// Any decimals give an exact answer or a refusal.
func FuzzDecimals(f *testing.F) {
	f.Add("60.00", "11.0", "11.7")   // a sack
	f.Add("0", "-0", "0.000")        // nothing
	f.Add("1e9000", "1e-9000", "12") // hostile exponents
	f.Add("100000000", "80", "0.5")  // corners
	f.Fuzz(func(t *testing.T, a, b, c string) {
		x, e1 := decimal.NewFromString(a)
		y, e2 := decimal.NewFromString(b)
		z, e3 := decimal.NewFromString(c)
		if e1 != nil || e2 != nil || e3 != nil || len(a)+len(b)+len(c) > 400 {
			return
		}
		if d, err := SackMass(Drift{x, y, z}); err == nil && !d.MassKg.Sub(d.WaterKg).Equal(x) {
			t.Fatalf("%v %v %v: %+v", a, b, c, d)
		}
		if m, err := MoistureByWeight(WeighBack{x, y, z}); err == nil && (m.IsNegative() || m.GreaterThan(hundred)) {
			t.Fatalf("%v %v %v: %v", a, b, c, m)
		}
		if l, err := RoastLoss(Roast{x, z, y, y}); err == nil && !l.WaterKg.Add(l.OrganicKg).Equal(l.TotalKg) {
			t.Fatalf("%v %v %v: %+v", a, b, c, l)
		}
		if l, err := SackLot([]Sack{{x, y}, {z, y}}); err == nil && !l.WaterKg.Add(l.DryMatterKg).Equal(l.MassKg) {
			t.Fatalf("%v %v %v: %+v", a, b, c, l)
		}
		if m, err := LossOnDrying(Dish{x, y, z}); err == nil && (m.IsNegative() || m.GreaterThan(hundred)) {
			t.Fatalf("%v %v %v: %v", a, b, c, m)
		}
		if p, err := GreenForRoasted(RoastPlan{x, y, z, z, z}); err == nil && p.GreenKg.LessThan(x) {
			t.Fatalf("%v %v %v: %+v", a, b, c, p)
		}
		_, _ = MeanOfDuplicates(Duplicates{x, y, z})
		_, _ = ExpectedLoss(RoastAim{x, y, z})
		_, _ = RoastedMass(Batch{x, y})
		_, _ = TotalLoss(x, y)
	})
}
