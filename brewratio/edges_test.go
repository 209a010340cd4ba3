package brewratio

import (
	"testing"

	"github.com/shopspring/decimal"
)

// Every accepted limit is met from both sides: the limit itself is not
// refused, a billionth beyond is, with the field's name.
func TestLimitsFromBothSides(t *testing.T) {
	bowl := Vessel{d("90"), d("60"), d("55")}
	equal := func(n int) []decimal.Decimal {
		list := make([]decimal.Decimal, n)
		for i := range list {
			list[i] = decimal.NewFromInt(100).DivRound(decimal.NewFromInt(int64(n)), 6)
		}
		return list
	}
	table := func(f func(*Session)) error { s := session(); f(&s); return second(PlanSession(s)) }
	for name, c := range map[string]struct {
		field, lo, hi string
		ask           func(v decimal.Decimal) error
	}{
		"dose":        {"DoseG", "0.1", "100000", func(v decimal.Decimal) error { return second(Water(DoseAndRatio{v, d("16")})) }},
		"ratio":       {"Ratio", "0.5", "40", func(v decimal.Decimal) error { return second(Water(DoseAndRatio{d("10"), v})) }},
		"water":       {"WaterG", "0.1", "4000000", func(v decimal.Decimal) error { return second(Dose(WaterAndRatio{v, d("16")})) }},
		"division":    {"DivisionG", "0.0001", "1000", func(v decimal.Decimal) error { return second(Round(OnScale{d("10"), v})) }},
		"rounded":     {"MassG", "0", "4000000", func(v decimal.Decimal) error { return second(Round(OnScale{v, d("1")})) }},
		"temperature": {"TempC", "0", "100", func(v decimal.Decimal) error { return second(WaterDensity(At{v})) }},
		"volume":      {"VolumeML", "0.1", "4000000", func(v decimal.Decimal) error { return second(WaterMass(PouredVolume{v, d("20")})) }},
		"g/L":         {"CoffeeGPerL", "23.9", "2000", func(v decimal.Decimal) error { return second(FromGramsPerLitre(GPerLAt{v, d("20")})) }},
		"g/100 mL":    {"CoffeeGPer100ML", "2.39", "200", func(v decimal.Decimal) error { return second(FromGramsPer100ML(GPer100MLAt{v, d("20")})) }},
		"percent":     {"CoffeePct", "2.5", "200", func(v decimal.Decimal) error { return second(FromPct(PctAt{v, d("20")})) }},
		"brim":        {"TopMM", "5", "2000", func(v decimal.Decimal) error { return second(VesselVolume(Vessel{v, d("60"), d("55")})) }},
		"floor":       {"BottomMM", "5", "2000", func(v decimal.Decimal) error { return second(VesselVolume(Vessel{d("90"), v, d("55")})) }},
		"height":      {"HeightMM", "5", "3000", func(v decimal.Decimal) error { return second(VesselVolume(Vessel{d("90"), d("60"), v})) }},
		"fill":        {"FillMM", "0", "55", func(v decimal.Decimal) error { return second(PartVolume(PartFill{bowl, v})) }},
		"empty bowl":  {"EmptyG", "0", "3999999", func(v decimal.Decimal) error { return second(FilledVolume(Fill{v, d("4000000"), d("20")})) }},
		"bowl":        {"VolumeML", "1", "4000000", func(v decimal.Decimal) error { return second(BowlDose(BowlFill{v, d("16"), d("93"), d("0.7")})) }},
		"room":        {"GroundsMLPerG", "0", "3", func(v decimal.Decimal) error { return second(BowlDose(BowlFill{d("200"), d("16"), d("93"), v})) }},
		"whole":       {"MassG", "0.1", "4000000", func(v decimal.Decimal) error { return second(Parts(Whole{v, d("0.1"), equal(3)})) }},
		"share": {"Shares[1]", "0", "4000000", func(v decimal.Decimal) error {
			return second(Parts(Whole{d("10"), d("0.1"), []decimal.Decimal{d("1"), v}}))
		}},
		"bowl's dose":   {"DoseG", "0.1", "1000", func(v decimal.Decimal) error { return table(func(s *Session) { s.DoseG = v }) }},
		"rinse":         {"RinseG", "0.1", "1000", func(v decimal.Decimal) error { return table(func(s *Session) { s.RinseG = v }) }},
		"bowl's water":  {"WaterG", "0.1", "40000", func(v decimal.Decimal) error { return table(func(s *Session) { s.WaterG = v }) }},
		"extra water":   {"ExtraWaterG", "0", "4000000", func(v decimal.Decimal) error { return table(func(s *Session) { s.ExtraWaterG = v }) }},
		"kettle":        {"KettleG", "50", "4000000", func(v decimal.Decimal) error { return table(func(s *Session) { s.KettleG = v }) }},
		"table's scale": {"DivisionG", "0.0001", "10", func(v decimal.Decimal) error { return table(func(s *Session) { s.DivisionG = v }) }},
		"beverage":      {"BeverageG", "0.1", "4000000", func(v decimal.Decimal) error { return second(PlanBrew(Wanted{v, d("16"), d("2"), d("0")})) }},
		"retained":      {"RetainedGPerG", "0", "6", func(v decimal.Decimal) error { return second(PlanBrew(Wanted{d("200"), d("16"), v, d("0")})) }},
		"bypass":        {"BypassPct", "0", "90", func(v decimal.Decimal) error { return second(PlanBrew(Wanted{d("200"), d("16"), d("1"), v})) }},
		"planned dose":  {"DoseG", "0.1", "100000", func(v decimal.Decimal) error { return second(PlanDose(DosePlan{v, d("16"), d("2"), d("0")})) }},
		"resized":       {"ToWaterG", "0.1", "4000000", func(v decimal.Decimal) error { return second(ScaleRecipe(Resize{d("15"), d("250"), v})) }},
		"start":         {"StartG", "0", "4000000", func(v decimal.Decimal) error { return second(Pours(Pouring{d("250"), v, d("1"), equal(4)})) }},
		"hot brew":      {"TempC", "0", "100", func(v decimal.Decimal) error { return second(Melt(Iced{d("100"), v, d("50")})) }},
		"ice":           {"IceG", "0", "4000000", func(v decimal.Decimal) error { return second(Melt(Iced{d("100"), d("80"), v})) }},
		"repeatability": {"Balance.RepeatableToG", "0", "1000", func(v decimal.Decimal) error {
			return second(SmallestDose(SmallestWanted{Balance{d("0.1"), v}, d("1")}))
		}},
		"tolerance": {"TolerancePct", "0.001", "50", func(v decimal.Decimal) error {
			return second(SmallestDose(SmallestWanted{Balance{d("0.1"), d("0")}, v}))
		}},
		"standard's dose": {"Standard.DoseG", "0.1", "100000", func(v decimal.Decimal) error {
			return second(StandardDose(StandardBowl{Standard{DoseG: v, WaterG: d("165")}, d("165"), d("20")}))
		}},
	} {
		for _, v := range []string{c.lo, c.hi} {
			if err := c.ask(d(v)); err != nil {
				t.Errorf("%s: %s is refused: %v", name, v, err)
			}
		}
		step := d("1e-9")
		for _, v := range []decimal.Decimal{d(c.lo).Sub(step), d(c.hi).Add(step)} {
			if name == "empty bowl" && v.IsPositive() {
				continue // its end comes from the full bowl
			}
			if err := c.ask(v); len(fields(err)) != 1 || fields(err)[0] != c.field {
				t.Errorf("%s: %s gives %v", name, v, err)
			}
		}
	}
	for name, c := range map[string]struct {
		field  string
		lo, hi int
		ask    func(n int) error
	}{
		"bowls":   {"BowlsCount", 1, 10_000, func(n int) error { return second(Bowls(Batch{d("10"), d("165"), n})) }},
		"coffees": {"CoffeesCount", 1, 1000, func(n int) error { return table(func(s *Session) { s.CoffeesCount = n }) }},
		"each":    {"BowlsPerCoffeeCount", 1, 100, func(n int) error { return table(func(s *Session) { s.BowlsPerCoffeeCount = n }) }},
		"spares":  {"SparesPerCoffeeCount", 0, 100, func(n int) error { return table(func(s *Session) { s.SparesPerCoffeeCount = n }) }},
		"rinses":  {"RinsesPerCoffeeCount", 0, 100, func(n int) error { return table(func(s *Session) { s.RinsesPerCoffeeCount = n }) }},
		"pours":   {"SharesPct", 1, 100, func(n int) error { return second(Pours(Pouring{d("250"), d("0"), d("1"), equal(max(n, 0))})) }},
		"parts":   {"Shares", 1, 10_000, func(n int) error { return second(Parts(Whole{d("250"), d("0.01"), equal(max(n, 0))})) }},
	} {
		for _, n := range []int{c.lo, c.hi} {
			if err := c.ask(n); err != nil {
				t.Errorf("%s: %d is refused: %v", name, n, err)
			}
		}
		for _, n := range []int{c.lo - 1, c.hi + 1} {
			if n < 0 && (c.field == "SharesPct" || c.field == "Shares") {
				continue
			}
			if err := c.ask(n); len(fields(err)) != 1 || fields(err)[0] != c.field {
				t.Errorf("%s: %d gives %v", name, n, err)
			}
		}
	}
}

// What an impossible plan names works at both ends: the ratio, or where no ratio
// is enough, what the grounds keep.
func TestPlanTellsWhatIsPossible(t *testing.T) {
	for _, c := range []struct {
		ratio, keep, bypass string
		field               string
		min, max            float64
	}{
		{"4", "2", "50", "Ratio", 4.001, MaxRatio},
		{"3", "2.5", "50", "Ratio", 5.001, MaxRatio},
		{"2", "2.0001", "33.3", "Ratio", 3, MaxRatio},
		{"40", "6", "90", "RetainedGPerG", 0, 3.999},
		{"0.5", "5", "90", "RetainedGPerG", 0, 0.049},
	} {
		for name, plan := range map[string]func(ratio, keep decimal.Decimal) error{
			"PlanBrew": func(ratio, keep decimal.Decimal) error {
				return second(PlanBrew(Wanted{d("300"), ratio, keep, d(c.bypass)}))
			},
			"PlanDose": func(ratio, keep decimal.Decimal) error {
				return second(PlanDose(DosePlan{d("20"), ratio, keep, d(c.bypass)}))
			},
		} {
			err := plan(d(c.ratio), d(c.keep))
			none, ok := err.(*ImpossibleError)
			if !ok || none.Field != c.field || none.Min != c.min || none.Max != c.max {
				t.Errorf("%s, %+v: %v", name, c, err)
				continue
			}
			for _, v := range []float64{none.Min, none.Max} {
				ratio, keep := decimal.NewFromFloat(v), d(c.keep)
				if c.field != "Ratio" {
					ratio, keep = d(c.ratio), decimal.NewFromFloat(v)
				}
				if err := plan(ratio, keep); err != nil {
					t.Errorf("%s, %+v: with %v, as named, %v", name, c, v, err)
				}
			}
		}
	}
	if _, err := PlanDose(DosePlan{d("20"), d("4.000001"), d("2"), d("50")}); err != nil {
		t.Error(err)
	}
	p := must[Plan](t)(PlanDose(DosePlan{d("20"), d("16"), d("2"), d("50")}))
	if p.Notes != Unending || !p.BrewRatio.Equal(d("8")) { // 120/280 of the strength does not end
		t.Errorf("%+v", p)
	}
	p = must[Plan](t)(PlanDose(DosePlan{d("20"), d("16"), d("2"), d("0")}))
	if p.Notes != 0 {
		t.Errorf("%+v", p)
	}
	p = must[Plan](t)(PlanDose(DosePlan{d("20"), d("4"), d("0"), d("90")}))
	if p.Notes&UnusualRatio == 0 {
		t.Errorf("0.4 g on each gram: %+v", p)
	}
	if got, want := (Unending | UnusualRatio).String(), "the division has no last decimal place: rounded; the ratio is outside what recipes use: check the two masses"; got != want {
		t.Errorf("got %q", got)
	}
	if got := BowlDoses.String() + RinseDose.String() + SpareDose.String(); got != "bowlrinsespare" {
		t.Errorf("kinds are called %q", got)
	}
}

// A quotient that ends is printed without the zeros of the division, one in
// whole tens too.
func TestQuotientsEndShort(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{{"165", "16.5", "10"}, {"1650", "16.5", "100"}, {"20", "16", "1.25"}, {"100", "0.5", "200"}} {
		q, n := quotient(d(c.a), d(c.b))
		if q.String() != c.want || n != 0 || q.Exponent() < d(c.want).Exponent() {
			t.Errorf("%s/%s is %s with %d places, %q", c.a, c.b, q, -q.Exponent(), n)
		}
	}
}
