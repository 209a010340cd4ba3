package brewratio

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// What a refusal names, to its ends: the input, what was given, the range.
func TestWhatARefusalNames(t *testing.T) {
	shares := func(n int, s string) []decimal.Decimal {
		list := make([]decimal.Decimal, n)
		for i := range list {
			list[i] = d(s)
		}
		return list
	}
	pours := func(s []decimal.Decimal) error {
		_, err := Pours(Pouring{WaterG: d("300"), DivisionG: d("0.1"), SharesPct: s})
		return err
	}
	parts := func(mass, division string, s []decimal.Decimal) error {
		_, err := Parts(Whole{MassG: d(mass), DivisionG: d(division), Shares: s})
		return err
	}
	plan := func(w Wanted) error { _, err := PlanBrew(w); return err }
	dose := func(p DosePlan) error { _, err := PlanDose(p); return err }
	table := Session{CoffeesCount: 51, BowlsPerCoffeeCount: 100, SparesPerCoffeeCount: 96, RinsesPerCoffeeCount: 1,
		DoseG: d("8"), RinseG: d("8"), WaterG: d("150"), KettleG: d("1000"), DivisionG: d("0.1")}
	list := func(s Session) error { _, err := WeighingList(s); return err }
	kept := func(w WeighedBrew) error { _, err := RetainedByWeight(w); return err }
	full := func(f Fill) error { _, err := FilledVolume(f); return err }
	for _, c := range []struct {
		err  error
		want string
	}{
		{pours(shares(100, "2")), "SharesPct is 200 %; accepted: 100 to 100 % (the pours together are the whole water)"},
		{pours(shares(99, "1")), "SharesPct is 99 %; accepted: 100 to 100 % (the pours together are the whole water)"},
		{pours(shares(101, "200")), "SharesPct is 101 pours; accepted: 1 to 100 pours"},
		{pours(nil), "SharesPct is 0 pours; accepted: 1 to 100 pours"},
		{parts("1", "0.1", nil), "Shares is 0 parts; accepted: 1 to 10000 parts"},
		{parts("1", "0.1", shares(10001, "-1")), "Shares is 10001 parts; accepted: 1 to 10000 parts"},
		{parts("1", "0.1", shares(10000, "0")), "Shares is 0 in all; accepted: 0 to 4000000 (one part at least must be more than nothing)"},
		{parts("1", "0.1", shares(1, "0")), "Shares is 0 in all; accepted: 0 to 4000000 (one part at least must be more than nothing)"},
		{parts("0.1", "1", shares(1, "1")), "no parts: the whole is less than the scale can show; DivisionG is 1 g, possible with 0.0001 to 0.2 g"},
		{plan(Wanted{BeverageG: d("300"), Ratio: d("4"), RetainedGPerG: d("2.1"), BypassPct: d("50")}),
			"no brew: the grounds keep all the water that is poured on them; Ratio is 4 g/g, possible with 4.201 to 40 g/g"},
		{dose(DosePlan{DoseG: d("20"), Ratio: d("4.2"), RetainedGPerG: d("2.1"), BypassPct: d("50")}),
			"no brew: the grounds keep all the water that is poured on them; Ratio is 4.2 g/g, possible with 4.201 to 40 g/g"},
		// Half of 1 g goes beside the coffee, a trace more when rounded to 12
		// places, and less than that trace would leave the grounds.
		{dose(DosePlan{DoseG: d("0.1"), Ratio: d("10"), RetainedGPerG: d("4.999999999992"), BypassPct: d("50.00000000005")}),
			"no brew: the grounds keep all the water that is poured on them; Ratio is 10 g/g, possible with 10.001 to 40 g/g"},
		{kept(WeighedBrew{DoseG: d("20"), WaterG: d("300"), BeverageG: d("300.1")}),
			"no retained water: more came out than was poured in; BeverageG is 300.1 g, possible with 0.1 to 300 g"},
		{full(Fill{EmptyG: d("150"), FullG: d("150"), TempC: d("20")}),
			"no volume: the full vessel is not heavier than the empty one; FullG is 150 g, possible with 150 to 4000000 g"},
		{list(table), "CoffeesCount is 10047 doses in all; accepted: 1 to 10000 doses in all"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got %q, want %q", c.err, c.want)
		}
	}
	// A share of 0.01 % each and 10 000 parts are the most there may be.
	if p, err := Parts(Whole{MassG: d("1000"), DivisionG: d("0.1"), Shares: shares(MaxPartsCount, "1")}); err != nil || !p[0].Equal(d("0.1")) || !p[9999].Equal(d("0.1")) {
		t.Errorf("ten thousand parts: %v", err)
	}
	if err := parts("1", "0.1", append(shares(2, "0"), d("-1"))); err == nil || !strings.Contains(err.Error(), "Shares[2] is -1; accepted: 0 to 4000000") {
		t.Errorf("a negative part: %v", err)
	}
}

// A ratio of exactly 0.5 and exactly 40 is a recipe's; a trace beyond is
// noted, whichever function meets it.
func TestUnusualAtItsEnds(t *testing.T) {
	for _, c := range []struct {
		dose, water string
		want        Notes
	}{
		{"10", "5", 0}, {"10", "4.999", UnusualRatio}, {"10", "400", 0}, {"10", "400.001", UnusualRatio},
	} {
		unusual := map[string]Notes{}
		brew, err := Ratio(DoseAndWater{DoseG: d(c.dose), WaterG: d(c.water)})
		if err != nil {
			t.Fatal(err)
		}
		unusual["Ratio"] = brew.Notes
		if brew, err = ScaleRecipe(Resize{DoseG: d(c.dose), WaterG: d(c.water), ToWaterG: d("100")}); err != nil {
			t.Fatal(err)
		}
		unusual["ScaleRecipe"] = brew.Notes
		s, err := PlanSession(Session{CoffeesCount: 1, BowlsPerCoffeeCount: 1, DoseG: d(c.dose), WaterG: d(c.water), KettleG: d("1000"), DivisionG: d("1")})
		if err != nil {
			t.Fatal(err)
		}
		unusual["PlanSession"] = s.Notes
		for name, n := range unusual {
			if n&UnusualRatio != c.want {
				t.Errorf("%s, %v g to %v g: %v", name, c.dose, c.water, n)
			}
		}
	}
	// Bypass takes the brew's own ratio out of the range: half beside the
	// coffee leaves 0.5 of 1 and 0.499 of 0.998.
	for ratio, want := range map[string]Notes{"1": 0, "0.998": UnusualRatio, "40": 0} {
		p, err := PlanDose(DosePlan{DoseG: d("20"), Ratio: d(ratio), BypassPct: d("50")})
		if err != nil || p.Notes&UnusualRatio != want {
			t.Errorf("1:%v with half beside: %v, %v", ratio, p.Notes, err)
		}
	}
	// At 4 °C water weighs 999.975 g/L, so that 25 g/L is 1:39.999, and 24.99
	// g/L is 1:40.015; 2000 g/L is 1:0.49999 and 1999.9 g/L is 1:0.50001.
	for gPerL, want := range map[string]Notes{"25": 0, "24.99": UnusualRatio, "1999.9": 0, "2000": UnusualRatio} {
		n, err := FromGramsPerLitre(GPerLAt{CoffeeGPerL: d(gPerL), TempC: d("4")})
		if err != nil || n.Notes&UnusualRatio != want {
			t.Errorf("%v g/L is 1:%v: %v, %v", gPerL, n.Ratio, n.Notes, err)
		}
	}
}

// The list counts rinses, bowls and spares each from one.
func TestWeighingListCounts(t *testing.T) {
	list, err := WeighingList(Session{CoffeesCount: 2, BowlsPerCoffeeCount: 3, SparesPerCoffeeCount: 2, RinsesPerCoffeeCount: 2,
		DoseG: d("8.25"), RinseG: d("5"), WaterG: d("150"), KettleG: d("1000"), DivisionG: d("0.01")})
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	for coffee := 1; coffee <= 2; coffee++ {
		for _, k := range []struct {
			kind  DoseKind
			count int
			mass  string
		}{{RinseDose, 2, "5"}, {BowlDoses, 3, "8.25"}, {SpareDose, 2, "8.25"}} {
			for n := 1; n <= k.count; n++ {
				if w := list[i]; w.CoffeeCount != coffee || w.Kind != k.kind || w.NumberCount != n || !w.MassG.Equal(d(k.mass)) {
					t.Errorf("line %d is %+v, want %v %d of coffee %d", i+1, w, k.kind, n, coffee)
				}
				i++
			}
		}
	}
	if i != len(list) {
		t.Errorf("%d lines, want %d", len(list), i)
	}
	if got := DoseKind(3).String(); got != "none" {
		t.Errorf("a kind that is none is called %q", got)
	}
}
