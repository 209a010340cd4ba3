package brewratio

import (
	"bufio"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/internal/num"
	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

// impossible is the field whose change makes an answer possible.
func impossible(err error) string {
	var none *ImpossibleError
	if !errors.As(err, &none) {
		return ""
	}
	return none.Field
}

func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// The whole range against the equation of state IAPWS-95, frozen from a
// general-purpose library; the float form of the same equation beside it.
func TestWaterDensityAgainstIAPWS95(t *testing.T) {
	f, err := os.Open("testdata/waterdensity.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	n, worst := 0, 0.0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		temp, rho, ok := strings.Cut(lines.Text(), ",")
		want, err := strconv.ParseFloat(rho, 64)
		if !ok || err != nil {
			continue // the heading
		}
		n++
		got := must[decimal.Decimal](t)(WaterDensity(At{d(temp)})).InexactFloat64()
		if worst = max(worst, math.Abs(got/want-1)); !(math.Abs(got/want-1) <= 1e-5) {
			t.Errorf("at %s °C: ours %v, IAPWS-95 %v", temp, got, want)
		}
		c, _ := strconv.ParseFloat(temp, 64)
		if math.Abs(got-num.WaterDensity(c)) > 6e-7 {
			t.Errorf("at %s °C: decimal %v, float %v", temp, got, num.WaterDensity(c))
		}
	}
	if n < 40 || worst < 1e-7 {
		t.Errorf("%d points, worst deviation %v: the grid is not what it should be", n, worst)
	}
}

// Other published formulations of the density of water. Each was made for
// ITS-90 or within 0.002 kg/m³ of it.
func TestWaterDensityAgainstOtherFormulations(t *testing.T) {
	bettin := func(t float64) float64 { // Bettin and Spieweck 1990 (opened)
		return (999.83952 + t*(16.952577+t*(-7.9905127e-3+t*(-46.241757e-6+t*(105.84601e-9-t*281.03006e-12))))) / (1 + 16.887236e-3*t)
	}
	tanaka := func(t float64) float64 { // CIPM, Tanaka 2001 (quoted)
		return 999.974950 * (1 - (t-3.983035)*(t-3.983035)*(t+301.797)/(522528.9*(t+69.34881)))
	}
	for tenth := 0; tenth <= 1000; tenth++ {
		c := decimal.New(int64(tenth), -1)
		x := c.InexactFloat64()
		got := must[decimal.Decimal](t)(WaterDensity(At{c})).InexactFloat64()
		if off := got - bettin(x); math.Abs(off) > 0.006 {
			t.Errorf("at %s °C: %v from Bettin and Spieweck", c, off)
		}
		if off := got - tanaka(x); tenth <= 400 && math.Abs(off) > 0.005 {
			t.Errorf("at %s °C: %v from the CIPM formula", c, off)
		}
	}
}

func TestNotationsAreOneRatio(t *testing.T) {
	for _, temp := range []string{"0", "20", "93", "100"} {
		for _, r := range []string{"0.5", "2", "14.3", "16.5", "17.42", "18.18", "39.9"} {
			n := must[Notation](t)(FromRatio(RatioAt{d(r), d(temp)}))
			close := func(what string, m Notation) {
				t.Helper()
				if m.Ratio.Sub(d(r)).Abs().GreaterThan(d("1e-9")) {
					t.Errorf("1:%s at %s °C came back from %s as 1:%s", r, temp, what, m.Ratio)
				}
				for _, x := range [][2]decimal.Decimal{{m.CoffeePct, n.CoffeePct}, {m.CoffeeGPerL, n.CoffeeGPerL}, {m.CoffeeGPer100ML, n.CoffeeGPer100ML}} {
					if x[0].Sub(x[1]).Abs().GreaterThan(d("1e-7")) {
						t.Errorf("1:%s at %s °C: from %s %s, from the ratio %s", r, temp, what, x[0], x[1])
					}
				}
			}
			close("g/L", must[Notation](t)(FromGramsPerLitre(GPerLAt{n.CoffeeGPerL, d(temp)})))
			close("g/100 mL", must[Notation](t)(FromGramsPer100ML(GPer100MLAt{n.CoffeeGPer100ML, d(temp)})))
			close("%", must[Notation](t)(FromPct(PctAt{n.CoffeePct, d(temp)})))
			// By way of a real litre: pour it, weigh it, divide.
			mass := must[decimal.Decimal](t)(WaterMass(PouredVolume{d("1000"), d(temp)}))
			b := must[Brew](t)(Ratio(DoseAndWater{n.CoffeeGPerL, mass}))
			if b.Ratio.Sub(d(r)).Abs().GreaterThan(d("1e-9")) {
				t.Errorf("a litre at %s °C weighs %s g and makes 1:%s of 1:%s", temp, mass, b.Ratio, r)
			}
			if back := must[decimal.Decimal](t)(WaterVolume(PouredMass{mass, d(temp)})); !back.Equal(d("1000")) {
				t.Errorf("a litre at %s °C came back as %s mL", temp, back)
			}
		}
	}
}

func TestStandardsAreWhole(t *testing.T) {
	ids := map[string]bool{}
	for _, s := range Standards() {
		if ids[s.ID] || s.ID == "" || s.Name == "" || s.Source == "" || s.WaterG.IsZero() == s.WaterML.IsZero() {
			t.Errorf("%+v", s)
		}
		ids[s.ID] = true
		r := must[DoseRange](t)(StandardDose(StandardBowl{s, d("165"), d("93")}))
		if r.LowG.GreaterThan(r.DoseG) || r.DoseG.GreaterThan(r.HighG) || r.DoseG.LessThan(d("7")) || r.DoseG.GreaterThan(d("13")) {
			t.Errorf("%s wants %s g to %s g in a bowl of 165 g", s.ID, r.LowG, r.HighG)
		}
	}
	// By mass the temperature does not matter, by volume it does.
	byMass, _ := standard("bowl-165")
	byVolume, _ := standard("cupping-150")
	cold, hot := d("4"), d("93")
	loose := byMass
	loose.DoseToleranceG = loose.DoseG.Add(d("0.01"))
	if _, err := StandardDose(StandardBowl{loose, d("200"), cold}); err == nil {
		t.Error("a tolerance over the dose passed: the least dose would be below nothing")
	}
	m1 := must[DoseRange](t)(StandardDose(StandardBowl{byMass, d("200"), cold}))
	m2 := must[DoseRange](t)(StandardDose(StandardBowl{byMass, d("200"), hot}))
	v1 := must[DoseRange](t)(StandardDose(StandardBowl{byVolume, d("200"), cold}))
	v2 := must[DoseRange](t)(StandardDose(StandardBowl{byVolume, d("200"), hot}))
	if !m1.DoseG.Equal(m2.DoseG) || !v2.DoseG.GreaterThan(v1.DoseG.Mul(d("1.03"))) {
		t.Errorf("by mass %s and %s, by volume %s and %s", m1.DoseG, m2.DoseG, v1.DoseG, v2.DoseG)
	}
}

func TestVesselsFillAndLevel(t *testing.T) {
	for _, v := range []Vessel{
		{d("90"), d("60"), d("55")}, {d("60"), d("90"), d("55")}, {d("80"), d("80"), d("95")},
		{d("80.0001"), d("80"), d("95")}, {d("5"), d("2000"), d("3000")}, {d("2000"), d("5"), d("5")},
	} {
		brim := must[decimal.Decimal](t)(VesselVolume(v))
		last := d("-1")
		for _, share := range []string{"0", "0.0001", "0.1", "0.5", "0.9", "1"} {
			volume := brim.Mul(d(share)).Truncate(6)
			h := must[decimal.Decimal](t)(FillHeight(VolumeIn{v, volume}))
			back := must[decimal.Decimal](t)(PartVolume(PartFill{v, h}))
			// A millionth of a millimetre is worth the area in nanolitres.
			if back.Sub(volume).Abs().GreaterThan(d("4e-3")) || back.Sub(volume).Abs().GreaterThan(brim.Mul(d("1e-6")).Add(d("1e-5"))) {
				t.Errorf("%v: %s mL stand %s mm high, which hold %s mL", v, volume, h, back)
			}
			if !h.GreaterThan(last) || h.GreaterThan(v.HeightMM) {
				t.Errorf("%v: %s mL stand %s mm high, less than the last", v, volume, h)
			}
			last = h
		}
		if _, err := FillHeight(VolumeIn{v, brim.Add(d("0.01"))}); impossible(err) != "VolumeML" {
			t.Errorf("%v holds more than its brim: %v", v, err)
		}
	}
	// Upside down it holds the same.
	a := must[decimal.Decimal](t)(VesselVolume(Vessel{d("90"), d("60"), d("55")}))
	b := must[decimal.Decimal](t)(VesselVolume(Vessel{d("60"), d("90"), d("55")}))
	if !a.Equal(b) {
		t.Errorf("%s and %s", a, b)
	}
}

func TestBowlDoseFillsTheBowl(t *testing.T) {
	for _, temp := range []string{"20", "93"} {
		for _, room := range []string{"0", "0.73", "3"} {
			for _, r := range []string{"0.5", "14.3", "16.5", "40"} {
				b := must[Brew](t)(BowlDose(BowlFill{d("246.2"), d(r), d(temp), d(room)}))
				water := must[decimal.Decimal](t)(WaterVolume(PouredMass{b.WaterG, d(temp)}))
				all := water.Add(b.DoseG.Mul(d(room)))
				if all.Sub(d("246.2")).Abs().GreaterThan(d("1e-9")) || !b.DoseG.Mul(d(r)).Equal(b.WaterG) {
					t.Errorf("at %s °C, 1:%s: %s mL in a bowl of 246.2", temp, r, all)
				}
			}
		}
	}
	filled := must[decimal.Decimal](t)(FilledVolume(Fill{d("210.4"), d("456.1"), d("20")}))
	direct := must[decimal.Decimal](t)(WaterVolume(PouredMass{d("245.7"), d("20")}))
	if !filled.Equal(direct) {
		t.Errorf("a weighed fill gives %s mL, its water %s", filled, direct)
	}
	if _, err := FilledVolume(Fill{d("210"), d("210"), d("20")}); impossible(err) != "FullG" {
		t.Errorf("an empty vessel has a volume: %v", err)
	}
}

// Parts add up to the whole in every grid, and none is a division off.
func TestPartsAddUp(t *testing.T) {
	for _, div := range []string{"0.0001", "0.01", "0.1", "0.2", "0.5", "1", "5"} {
		for _, whole := range []string{"49.5", "82.5", "100", "247.5", "333.33", "4000000"} {
			for _, shares := range [][]string{{"1"}, {"1", "1", "1"}, {"40", "20", "20", "20"}, {"8.25", "8.25", "8.25", "8.25", "8.25", "8.25"},
				{"0", "1", "0"}, {"0.001", "1000"}, {"1", "2", "3", "4", "5", "6", "7"}} {
				in := Whole{MassG: d(whole), DivisionG: d(div)}
				sum, total := decimal.Zero, decimal.Zero
				for _, s := range shares {
					in.Shares = append(in.Shares, d(s))
					sum = sum.Add(d(s))
				}
				parts := must[[]decimal.Decimal](t)(Parts(in))
				want := must[Rounded](t)(Round(OnScale{d(whole), d(div)}))
				for i, p := range parts {
					total = total.Add(p)
					if off := p.Mul(sum).Sub(want.MassG.Mul(in.Shares[i])).Abs(); !off.LessThan(d(div).Mul(sum)) {
						t.Fatalf("%s g by %s: part %d is %s, a division off", whole, div, i, p)
					}
					if !p.DivRound(d(div), 8).IsInteger() {
						t.Fatalf("%s g by %s: part %d is %s, which the scale cannot show", whole, div, i, p)
					}
				}
				if !total.Equal(want.MassG) {
					t.Errorf("%s g by %s in parts %v: they add up to %s, want %s", whole, div, shares, total, want.MassG)
				}
			}
		}
	}
	// The larger remainder gets the division that is left; at a tie the earlier.
	parts := must[[]decimal.Decimal](t)(Parts(Whole{d("10"), d("1"), []decimal.Decimal{d("3.3"), d("3.3"), d("3.4")}}))
	same(t, parts, []decimal.Decimal{d("3"), d("3"), d("4")})
	parts = must[[]decimal.Decimal](t)(Parts(Whole{d("2"), d("1"), []decimal.Decimal{d("1"), d("1"), d("1")}}))
	same(t, parts, []decimal.Decimal{d("1"), d("1"), d("0")})
}

func session() Session {
	return Session{CoffeesCount: 6, BowlsPerCoffeeCount: 5, SparesPerCoffeeCount: 1, RinsesPerCoffeeCount: 1,
		DoseG: d("8.25"), RinseG: d("8.25"), WaterG: d("150"), ExtraWaterG: d("600"), KettleG: d("1200"), DivisionG: d("0.1")}
}

func TestSessionAddsUp(t *testing.T) {
	plan := must[SessionPlan](t)(PlanSession(session()))
	same(t, plan, SessionPlan{BowlsCount: 30, DosesCount: 42, CoffeeG: d("346.5"), CoffeePerCoffeeG: d("57.75"), SampleG: d("57.8"),
		WaterG: d("5100"), KettlesCount: 5, LastKettleG: d("300")})
	for _, div := range []string{"0.01", "0.1", "0.2", "0.5", "1", "10"} {
		for coffees := 1; coffees <= 7; coffees++ {
			s := session()
			s.CoffeesCount, s.DivisionG = coffees, d(div)
			s.RinsesPerCoffeeCount = coffees % 3
			s.SparesPerCoffeeCount = coffees % 2
			plan := must[SessionPlan](t)(PlanSession(s))
			list := must[[]Weighing](t)(WeighingList(s))
			if len(list) != plan.DosesCount {
				t.Fatalf("%d lines, %d doses", len(list), plan.DosesCount)
			}
			kinds := map[DoseKind]int{}
			per := map[int]decimal.Decimal{}
			bowl := must[Rounded](t)(Round(OnScale{s.DoseG, s.DivisionG})).MassG
			for _, w := range list {
				per[w.CoffeeCount] = per[w.CoffeeCount].Add(w.MassG)
				kinds[w.Kind]++
				if w.Kind != RinseDose && !w.MassG.Equal(bowl) {
					t.Errorf("%+v beside bowls of %s g", w, bowl)
				}
			}
			alike := bowl.Mul(decimal.NewFromInt(int64(s.BowlsPerCoffeeCount + s.SparesPerCoffeeCount)))
			for c, m := range per {
				want := plan.SampleG
				switch rest := want.Sub(alike); {
				case s.RinsesPerCoffeeCount == 0:
					want = alike
				case rest.LessThan(s.DivisionG):
					rinses := s.RinseG.Mul(decimal.NewFromInt(int64(s.RinsesPerCoffeeCount)))
					want = alike.Add(must[Rounded](t)(Round(OnScale{rinses, s.DivisionG})).MassG)
				}
				if !m.Equal(want) {
					t.Errorf("coffee %d on a scale of %s: %s g, want %s", c, div, m, want)
				}
			}
			if kinds[BowlDoses] != plan.BowlsCount || kinds[RinseDose] != coffees*s.RinsesPerCoffeeCount || kinds[SpareDose] != coffees*s.SparesPerCoffeeCount {
				t.Errorf("kinds are %v", kinds)
			}
		}
	}
	huge := session()
	huge.CoffeesCount, huge.BowlsPerCoffeeCount = 1000, 100
	if _, err := WeighingList(huge); !cmp.Equal(fields(err), []string{"CoffeesCount"}) {
		t.Errorf("a list of 102 000 lines: %v", err)
	}
	odd := session()
	odd.WaterG = d("3")
	if plan := must[SessionPlan](t)(PlanSession(odd)); plan.Notes != UnusualRatio {
		t.Errorf("3 g on 8.25 g: %v", plan.Notes)
	}
	exact := session()
	exact.ExtraWaterG = d("300") // 4800 g: four kettles to the brim
	if plan := must[SessionPlan](t)(PlanSession(exact)); plan.KettlesCount != 4 || !plan.LastKettleG.Equal(d("1200")) {
		t.Errorf("%d kettles, the last with %s g", plan.KettlesCount, plan.LastKettleG)
	}
}

// What goes in comes out, to the last digit, and the strength that is served
// is what the solids in all of it make.
func TestPlansBalance(t *testing.T) {
	n := 0
	for _, beverage := range []string{"30", "200", "1000", "1900", "4000000"} {
		for _, r := range []string{"2", "5", "14.3", "16.67", "18.18", "40"} {
			for _, keep := range []string{"0", "1", "2.1", "2.48", "6"} {
				for _, bypass := range []string{"0", "0.07", "15", "33.3", "50", "90"} {
					p, err := PlanBrew(Wanted{d(beverage), d(r), d(keep), d(bypass)})
					if f := impossible(err); f == "Ratio" || f == "RetainedGPerG" {
						continue
					}
					if err != nil {
						t.Fatal(err)
					}
					n++
					if !p.BrewWaterG.Add(p.BypassG).Equal(p.BeverageG.Add(p.RetainedG)) {
						t.Fatalf("in %s + %s, out %s + %s", p.BrewWaterG, p.BypassG, p.BeverageG, p.RetainedG)
					}
					if !p.BrewWaterG.Add(p.BypassG).Equal(p.DoseG.Mul(d(r))) {
						t.Fatalf("the ratio is lost: %+v", p)
					}
					if off := p.BeverageG.Sub(d(beverage)).Abs(); off.GreaterThan(d("5e-11")) {
						t.Fatalf("wanted %s g, planned %s g", beverage, p.BeverageG)
					}
					// Solids are conserved by bypass: strength × mass.
					served := p.BeverageG.Mul(p.ThinnedPct)
					if off := served.Sub(p.BrewedG.Shift(2)).Abs(); off.GreaterThan(p.BeverageG.Mul(d("1e-12"))) {
						t.Fatalf("brewed %s, served %s", p.BrewedG.Shift(2), served)
					}
					if p.DoseG.GreaterThan(d("100000")) || p.DoseG.LessThan(d("0.1")) {
						continue
					}
					q := must[Plan](t)(PlanDose(DosePlan{p.DoseG, d(r), d(keep), d(bypass)}))
					q.Notes, p.Notes = 0, 0
					if !cmp.Equal(p, q) {
						t.Fatalf("from the dose %+v, from the beverage %+v", q, p)
					}
					if bypass == "0" {
						k := must[Kept](t)(RetainedByWeight(WeighedBrew{p.DoseG, p.BrewWaterG, p.BeverageG}))
						if k.RetainedGPerG.Sub(d(keep)).Abs().GreaterThan(d("1e-9")) {
							t.Fatalf("keeps %s, weighed %s", keep, k.RetainedGPerG)
						}
					}
				}
			}
		}
	}
	if n < 300 {
		t.Errorf("only %d plans", n)
	}
	if _, err := PlanBrew(Wanted{d("200"), d("4"), d("2"), d("50")}); impossible(err) != "Ratio" {
		t.Errorf("2 g on the coffee and 2 g kept: %v", err)
	}
	if _, err := RetainedByWeight(WeighedBrew{d("10"), d("100"), d("100.1")}); impossible(err) != "BeverageG" {
		t.Errorf("%v", err)
	}
}

func TestPoursAddUp(t *testing.T) {
	p := must[[]Pour](t)(Pours(Pouring{d("333"), d("20.0"), d("1"), []decimal.Decimal{d("15"), d("25"), d("30"), d("30")}}))
	same(t, p, []Pour{{d("50"), d("70"), d("50")}, {d("83"), d("153"), d("133")}, {d("100"), d("253"), d("233")}, {d("100"), d("353"), d("333")}})
	for _, shares := range [][]decimal.Decimal{{d("50"), d("49")}, {d("100"), d("1")}, {d("-1"), d("101")}, nil} {
		if _, err := Pours(Pouring{d("333"), d("0"), d("1"), shares}); fields(err) == nil {
			t.Errorf("pours of %v: %v", shares, err)
		}
	}
}

func TestScalingKeepsTheRatio(t *testing.T) {
	for _, to := range []string{"0.1", "75", "1000", "4000000"} {
		b := must[Brew](t)(ScaleRecipe(Resize{d("15"), d("250"), d(to)}))
		if off := b.DoseG.Mul(d("250")).Sub(d("15").Mul(d(to))).Abs(); off.GreaterThan(d("2e-10")) {
			t.Errorf("to %s g: %s g of coffee", to, b.DoseG)
		}
	}
}

func TestMelt(t *testing.T) {
	// 333.55 J/g over 4.19 J/(g K) is 79.6 K: as much brew at 79.6 °C just
	// melts its own weight.
	all := must[Melted](t)(Melt(Iced{d("100"), d("79.7"), d("100")}))
	if !all.LeftG.IsZero() || !all.MeltedG.Equal(d("100")) || all.TempC.GreaterThan(d("0.1")) {
		t.Errorf("%+v", all)
	}
	some := must[Melted](t)(Melt(Iced{d("100"), d("79.5"), d("100")}))
	if !some.LeftG.IsPositive() || !some.TempC.IsZero() || !some.MeltedG.Add(some.LeftG).Equal(d("100")) {
		t.Errorf("%+v", some)
	}
	none := must[Melted](t)(Melt(Iced{d("100"), d("90"), d("0")}))
	if !none.TempC.Equal(d("90")) || !none.MeltedG.IsZero() {
		t.Errorf("%+v", none)
	}
	// Colder with more ice, all the way.
	last := d("91")
	for ice := int64(0); ice <= 200; ice += 5 {
		m := must[Melted](t)(Melt(Iced{d("100"), d("90"), decimal.NewFromInt(ice)}))
		if m.TempC.GreaterThan(last) || m.TempC.Equal(last) && !last.IsZero() {
			t.Errorf("%d g of ice: %s °C after %s", ice, m.TempC, last)
		}
		last = m.TempC
	}
}

func TestScaleTells(t *testing.T) {
	fine, coarse := Balance{d("0.01"), d("0")}, Balance{d("1"), d("0.3")}
	m := must[decimal.Decimal](t)(SmallestDose(SmallestWanted{Balance{d("0.1"), d("0")}, d("1")}))
	if !m.Equal(d("8.2")) {
		t.Errorf("a tenth of a gram may weigh from %s g on within 1 %%", m)
	}
	// At the smallest dose the tolerance is the one wanted.
	for _, p := range []string{"0.1", "1", "5"} {
		m := must[decimal.Decimal](t)(SmallestDose(SmallestWanted{fine, d(p)}))
		if m.LessThan(d("0.1")) {
			continue
		}
		told := must[RatioTold](t)(RatioTolerance(WeighedRatio{m, m.Mul(d("16.5")), fine, coarse}))
		if math.Abs(told.DosePct-d(p).InexactFloat64()) > 1e-4 {
			t.Errorf("wanted %s %%, have %v", p, told.DosePct)
		}
		if !(told.RatioPct >= told.DosePct && told.RatioPct >= told.WaterPct) || math.Abs(told.Ratio-16.5*told.RatioPct/100) > 1e-9 {
			t.Errorf("%+v", told)
		}
	}
	// Division 1 rounds two readings: 0.41 is more than a repeatability of 0.3.
	told := must[RatioTold](t)(RatioTolerance(WeighedRatio{d("10"), d("165"), fine, coarse}))
	if math.Abs(told.WaterPct-100*2*0.41/165) > 1e-12 || math.Abs(told.DosePct-100*2*0.0041/10) > 1e-12 {
		t.Errorf("%+v", told)
	}
}

func TestPlanRefusals(t *testing.T) {
	bad := decimal.New(1, 20000)
	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"density below":       {second(WaterDensity(At{d("-0.0001")})), []string{"TempC"}},
		"density at 100":      {second(WaterDensity(At{d("100")})), nil},
		"density in °F":       {second(WaterDensity(At{d("200")})), []string{"TempC"}},
		"mass of zero":        {second(WaterMass(PouredVolume{})), []string{"VolumeML"}},
		"mass hostile":        {second(WaterMass(PouredVolume{bad, bad})), []string{"VolumeML", "TempC"}},
		"volume of zero":      {second(WaterVolume(PouredMass{})), []string{"WaterG"}},
		"ratio for g/L":       {second(FromGramsPerLitre(GPerLAt{d("16.5"), d("20")})), []string{"CoffeeGPerL"}},
		"g/L at limits":       {second(FromGramsPerLitre(GPerLAt{d("23.9"), d("0")})), nil},
		"g/100 mL":            {second(FromGramsPer100ML(GPer100MLAt{})), []string{"CoffeeGPer100ML"}},
		"pct as fraction":     {second(FromPct(PctAt{d("0.06"), d("20")})), []string{"CoffeePct"}},
		"notation of zero":    {second(FromRatio(RatioAt{})), []string{"Ratio"}},
		"standard of zero":    {second(StandardDose(StandardBowl{})), []string{"Standard.DoseG", "Standard.WaterML", "WaterG"}},
		"standard by mass":    {second(StandardDose(StandardBowl{Standard{DoseG: d("10"), WaterG: d("-1")}, d("165"), d("101")})), []string{"Standard.WaterG", "TempC"}},
		"vessel of zero":      {second(VesselVolume(Vessel{})), []string{"TopMM", "BottomMM", "HeightMM"}},
		"vessel in cm":        {second(VesselVolume(Vessel{d("9"), d("6"), d("4.9")})), []string{"HeightMM"}},
		"overfull":            {second(PartVolume(PartFill{Vessel{d("90"), d("60"), d("55")}, d("55.1")})), []string{"FillMM"}},
		"fill of nothing":     {second(FillHeight(VolumeIn{Vessel{d("90"), d("60"), d("55")}, d("-1")})), []string{"VolumeML"}},
		"fill of zero":        {second(FilledVolume(Fill{})), []string{"FullG"}},
		"bowl of zero":        {second(BowlDose(BowlFill{})), []string{"VolumeML", "Ratio"}},
		"bowl with much room": {second(BowlDose(BowlFill{d("200"), d("16.5"), d("93"), d("3.01")})), []string{"GroundsMLPerG"}},
		"parts of zero":       {second(Parts(Whole{})), []string{"MassG", "DivisionG", "Shares"}},
		"parts of no shares":  {second(Parts(Whole{d("10"), d("1"), []decimal.Decimal{d("0"), d("0")}})), []string{"Shares"}},
		"a negative share":    {second(Parts(Whole{d("10"), d("1"), []decimal.Decimal{d("1"), d("-1")}})), []string{"Shares[1]"}},
		"session of zero":     {second(PlanSession(Session{})), []string{"CoffeesCount", "BowlsPerCoffeeCount", "DoseG", "WaterG", "KettleG", "DivisionG"}},
		"rinse without mass":  {second(PlanSession(Session{CoffeesCount: 1, BowlsPerCoffeeCount: 1, RinsesPerCoffeeCount: 1, DoseG: d("8"), WaterG: d("150"), KettleG: d("1000"), DivisionG: d("0.1")})), []string{"RinseG"}},
		"list of zero":        {second(WeighingList(Session{})), []string{"CoffeesCount", "BowlsPerCoffeeCount", "DoseG", "WaterG", "KettleG", "DivisionG"}},
		"plan of zero":        {second(PlanBrew(Wanted{})), []string{"BeverageG", "Ratio"}},
		"plan beyond":         {second(PlanBrew(Wanted{d("200"), d("40.1"), d("6.1"), d("90.1")})), []string{"Ratio", "RetainedGPerG", "BypassPct"}},
		"dose plan of zero":   {second(PlanDose(DosePlan{})), []string{"DoseG", "Ratio"}},
		"kept of zero":        {second(RetainedByWeight(WeighedBrew{})), []string{"DoseG", "WaterG", "BeverageG"}},
		"resize of zero":      {second(ScaleRecipe(Resize{})), []string{"DoseG", "WaterG", "ToWaterG"}},
		"pours of zero":       {second(Pours(Pouring{})), []string{"WaterG", "DivisionG", "SharesPct"}},
		"iced of zero":        {second(Melt(Iced{})), []string{"BrewG"}},
		"smallest of zero":    {second(SmallestDose(SmallestWanted{})), []string{"Balance.DivisionG", "TolerancePct"}},
		"tolerance of zero":   {second(RatioTolerance(WeighedRatio{})), []string{"DoseG", "WaterG", "DoseBalance.DivisionG", "WaterBalance.DivisionG"}},
	} {
		if diff := cmp.Diff(c.want, fields(c.err)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	if _, err := Parts(Whole{d("1"), d("10"), []decimal.Decimal{d("1")}}); impossible(err) != "DivisionG" {
		t.Errorf("1 g on a scale of 10 g: %v", err)
	}
}

// Any whole and any shares add up or are refused.
func FuzzParts(f *testing.F) {
	f.Add("82.5", "0.1", "1", "1", "1")              // thirds
	f.Add("100", "0.3", "0", "0", "7")               // a division that does not divide
	f.Add("0.1", "1000", "1", "1", "1")              // less than the scale shows
	f.Add("4000000", "0.0001", "1e-30", "1e30", "3") // forty-billion divisions
	f.Fuzz(func(t *testing.T, mass, division, a, b, c string) {
		var x [5]decimal.Decimal
		for i, s := range []string{mass, division, a, b, c} {
			v, err := decimal.NewFromString(s)
			if err != nil || len(s) > 60 {
				return
			}
			x[i] = v
		}
		parts, err := Parts(Whole{x[0], x[1], x[2:]})
		if err != nil {
			if parts != nil || fields(err) == nil && impossible(err) == "" {
				t.Fatalf("%v beside %v", parts, err)
			}
			return
		}
		want, err := Round(OnScale{x[0], x[1]})
		if err != nil {
			t.Fatal(err)
		}
		if sum := decimal.Sum(parts[0], parts[1:]...); !sum.Equal(want.MassG) {
			t.Fatalf("%v add up to %s, want %s", parts, sum, want.MassG)
		}
	})
}
