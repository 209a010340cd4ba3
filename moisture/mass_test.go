package moisture

import (
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"
)

// Dry matter is conserved through every change, to the last digit of the mass.
func TestMassThereAndBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	small := decimal.New(1, -MassPlacesCount+1)
	for range 2000 {
		d := Drift{decimal.New(rng.Int64N(1e9)+1, -3), decimal.New(rng.Int64N(7950)+50, -2), decimal.New(rng.Int64N(7950)+50, -2)}
		r, err := SackMass(d)
		if err != nil {
			t.Fatal(d, err)
		}
		if !r.MassKg.Sub(r.WaterKg).Equal(d.MassKg) {
			t.Fatalf("%v: water does not close: %+v", d, r)
		}
		if (d.ToMoisturePct.Cmp(d.MoisturePct) > 0) != r.WaterKg.IsPositive() {
			t.Fatalf("%v: water goes the wrong way: %v", d, r.WaterKg)
		}
		dry := r.MassKg.Mul(hundred.Sub(d.ToMoisturePct)).Shift(-2)
		if dry.Sub(r.DryMatterKg).Abs().GreaterThan(small) {
			t.Fatalf("%v: dry matter %v became %v", d, r.DryMatterKg, dry)
		}
		back, err := MoistureByWeight(WeighBack{d.MassKg, d.MoisturePct, r.MassKg})
		if d.MassKg.GreaterThan(decimal.NewFromInt(1)) && r.MassKg.IsPositive() {
			if err != nil || back.Sub(d.ToMoisturePct).Abs().GreaterThan(decimal.New(1, -6)) {
				t.Fatalf("%v: weighed back to %v, %v", d, back, err)
			}
		}
	}
}

func TestDecimalRefusals(t *testing.T) {
	huge, tiny := dec("1e9000"), dec("1e-9000")
	for name, c := range map[string]func(v decimal.Decimal) (any, error){
		"MassKg":             func(v decimal.Decimal) (any, error) { return SackMass(Drift{v, dec("11"), dec("12")}) },
		"MoisturePct":        func(v decimal.Decimal) (any, error) { return SackMass(Drift{dec("60"), v, dec("12")}) },
		"ToMoisturePct":      func(v decimal.Decimal) (any, error) { return SackMass(Drift{dec("60"), dec("11"), v}) },
		"ToMassKg":           func(v decimal.Decimal) (any, error) { return MoistureByWeight(WeighBack{dec("60"), dec("11"), v}) },
		"sacks[0].MassKg":    func(v decimal.Decimal) (any, error) { return SackLot([]Sack{{v, dec("11")}}) },
		"BeforeG":            func(v decimal.Decimal) (any, error) { return LossOnDrying(Dish{dec("20"), v, dec("29")}) },
		"SecondPct":          func(v decimal.Decimal) (any, error) { return MeanOfDuplicates(Duplicates{dec("11"), v, dec("0.1")}) },
		"GreenKg":            func(v decimal.Decimal) (any, error) { return RoastLoss(Roast{v, dec("1"), dec("11"), dec("2")}) },
		"roastedKg":          func(v decimal.Decimal) (any, error) { return TotalLoss(dec("12"), v) },
		"RoastedMoisturePct": func(v decimal.Decimal) (any, error) { return RoastLoss(Roast{dec("12"), dec("10"), dec("11"), v}) },
		"LossPct":            func(v decimal.Decimal) (any, error) { return RoastedMass(Batch{dec("12"), v}) },
		"HeldBackKg": func(v decimal.Decimal) (any, error) {
			return GreenForRoasted(RoastPlan{dec("12"), dec("15"), dec("0"), v, dec("0")})
		},
		"DryMatterLossPct": func(v decimal.Decimal) (any, error) { return ExpectedLoss(RoastAim{dec("11"), dec("2"), v}) },
	} {
		for _, v := range []decimal.Decimal{huge, huge.Neg(), tiny, tiny.Neg(), dec("-1"), dec("1." + longDigits)} {
			got, err := c(v)
			if names := fields(err); len(names) != 1 || names[0] != name {
				t.Errorf("%s = %s is refused as %q: %+v", name, short(v), names, got)
			}
		}
	}
	for _, c := range []struct {
		v  string
		ok bool
	}{{"0.5", true}, {"0.4999999999", false}, {"80", true}, {"80.0000000001", false}} {
		if _, err := SackMass(Drift{dec("60"), dec(c.v), dec("12")}); (err == nil) != c.ok {
			t.Errorf("a moisture of %s: %v", c.v, err)
		}
	}
	sacks := []Sack{{dec("60"), dec("11")}, {dec("60"), dec("0.11")}, {dec("-1"), dec("90")}}
	_, err := SackLot(sacks)
	if names := fields(err); len(names) != 3 || names[0] != "sacks[1].MoisturePct" || names[1] != "sacks[2].MassKg" || names[2] != "sacks[2].MoisturePct" {
		t.Errorf("bad sacks are told as %q", names)
	}
}

const longDigits = "1111111111111111111111111111111111111111111111111111111111111"

func short(v decimal.Decimal) string {
	if v.Exponent() > 100 || v.Exponent() < -100 {
		return v.Coefficient().String() + "e…"
	}
	return v.String()
}

func TestLotIsItsSacks(t *testing.T) {
	sacks := []Sack{{dec("60.2"), dec("11.2")}, {dec("59.8"), dec("11.0")}, {dec("31.5"), dec("12.6")}}
	lot, err := SackLot(sacks)
	if err != nil {
		t.Fatal(err)
	}
	if !lot.MassKg.Equal(dec("151.5")) || !lot.WaterKg.Equal(dec("17.2894")) || !lot.DryMatterKg.Add(lot.WaterKg).Equal(lot.MassKg) {
		t.Errorf("%+v", lot)
	}
	// Spread by hand: deviations from 11.6 are −0.4, −0.6 and 1.0.
	if !near(lot.MoistureSpreadPct, 0.8717797887081347, 1e-12) {
		t.Errorf("spread %v", lot.MoistureSpreadPct)
	}
	one, err := SackLot(sacks[:1])
	if err != nil || one.MoistureSpreadPct != 0 || !one.MoisturePct.Equal(dec("11.2")) || !one.LowestPct.Equal(one.HighestPct) {
		t.Errorf("one sack: %+v, %v", one, err)
	}
	if !sacks[0].MassKg.Equal(dec("60.2")) {
		t.Error("the sacks were written to")
	}
}

func TestOven(t *testing.T) {
	m, err := LossOnDrying(Dish{dec("21.3456"), dec("31.3456"), dec("30.2256")})
	if err != nil || !m.Equal(dec("11.2")) {
		t.Errorf("%v, %v", m, err)
	}
	for second, want := range map[string]Notes{"3.1": 0, "3.1000001": WideDuplicates, "2.9": 0, "2.8": WideDuplicates} {
		d, err := MeanOfDuplicates(Duplicates{dec("3.0"), dec(second), decimal.NewFromFloat(RoastedRepeatabilityPct)})
		if err != nil || d.Notes != want {
			t.Errorf("3.0 and %s: %+v, %v", second, d, err)
		}
	}
	d, _ := MeanOfDuplicates(Duplicates{dec("3.0"), dec("3.3"), dec("0.1")})
	if !d.MoisturePct.Equal(dec("3.15")) || !d.DifferencePct.Equal(dec("0.3")) {
		t.Errorf("%+v", d)
	}
}

// The ways around the roaster meet: what the balance splits, the aim puts
// together again, and the plan weighs out.
func TestRoastHangsTogether(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	small := dec("0.0000001")
	for range 1000 {
		green := decimal.New(rng.Int64N(60_000)+1000, -3)
		roasted := green.Mul(decimal.New(rng.Int64N(1500)+7500, -4))
		r := Roast{green, roasted, decimal.New(rng.Int64N(500)+850, -2), decimal.New(rng.Int64N(300)+100, -2)}
		l, err := RoastLoss(r)
		if err != nil {
			t.Fatal(r, err)
		}
		if !l.WaterKg.Add(l.OrganicKg).Equal(l.TotalKg) || !l.TotalKg.Add(roasted).Equal(green) {
			t.Fatalf("%v: mass does not close: %+v", r, l)
		}
		if l.WaterPct.Add(l.OrganicPct).Sub(l.TotalPct).Abs().GreaterThan(small) {
			t.Fatalf("%v: percentages do not add up: %+v", r, l)
		}
		total, err := TotalLoss(green, roasted)
		if err != nil || !total.Equal(l.TotalPct) {
			t.Fatalf("%v: %v and %v, %v", r, total, l.TotalPct, err)
		}
		if l.Notes != 0 {
			continue
		}
		if l.DryMatterPct.LessThanOrEqual(dec("30")) {
			aim, err := ExpectedLoss(RoastAim{r.GreenMoisturePct, r.RoastedMoisturePct, l.DryMatterPct})
			if err != nil || aim.Sub(total).Abs().GreaterThan(small) {
				t.Fatalf("%v: aimed at %v, lost %v, %v", r, aim, total, err)
			}
		}
		out, err := RoastedMass(Batch{green, total})
		if err != nil || out.Sub(roasted).Abs().GreaterThan(small) {
			t.Fatalf("%v: expected %v, %v", r, out, err)
		}
		c, err := GreenForRoasted(RoastPlan{RoastedKg: roasted, LossPct: total})
		if err != nil || c.GreenKg.Sub(green).Abs().GreaterThan(dec("0.00001")) || !c.RoastedKg.Equal(roasted) {
			t.Fatalf("%v: weighed out %v, %v", r, c.GreenKg, err)
		}
	}
	// 20 kg net, 1 % overfill, 0.5 kg held back, 15 % loss, 0.3 kg green kept.
	c, err := GreenForRoasted(RoastPlan{dec("20"), dec("15"), dec("1"), dec("0.5"), dec("0.3")})
	if err != nil || !c.RoastedKg.Equal(dec("20.7")) || !c.GreenKg.Equal(dec("24.652941176")) {
		t.Errorf("%+v, %v", c, err)
	}
	l, err := RoastLoss(Roast{dec("10"), dec("9.5"), dec("9"), dec("1")})
	if err != nil || l.Notes != OrganicGain {
		t.Errorf("%+v, %v", l, err)
	}
	l, err = RoastLoss(Roast{dec("10"), dec("9"), dec("1"), dec("5")})
	if err != nil || l.Notes != WaterGain {
		t.Errorf("%+v, %v", l, err)
	}
}
