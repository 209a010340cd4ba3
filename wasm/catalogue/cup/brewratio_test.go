package cup

import (
	"math"
	"strings"
	"testing"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

// example evaluates a calculator's example, changed where asked.
func example(t *testing.T, c *catalogue.Calculator, changes ...string) catalogue.Sheet {
	t.Helper()
	s := c.Example()
	for i := 0; i+1 < len(changes); i += 2 {
		s[changes[i]] = changes[i+1]
	}
	sheet := c.Eval(s, nil)
	if sheet.Problem != "" || len(sheet.Faults) > 0 {
		t.Fatalf("%s: %q %v", c.ID, sheet.Problem, sheet.Faults)
	}
	return sheet
}

// got is an output's number; NaN when it is not there.
func got(s catalogue.Sheet, id string) float64 {
	for _, v := range s.Values {
		if v.ID == id {
			return v.Number
		}
	}
	return math.NaN()
}

func agree(t *testing.T, s catalogue.Sheet, id string, want float64) {
	t.Helper()
	if g := got(s, id); !(math.Abs(g-want) <= 1e-9*math.Abs(want)+1e-15) {
		t.Errorf("%s: %s is %v, by hand %v", s.Calc, id, g, want)
	}
}

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func TestDoseForBowl(t *testing.T) {
	s := example(t, doseForBowl())
	agree(t, s, "dose", 10)
	n := must[brewratio.Notation](t)(brewratio.FromRatio(brewratio.RatioAt{Ratio: d("16.5"), TempC: d("93")}))
	agree(t, s, "gl", n.CoffeeGPerL.InexactFloat64())
	agree(t, s, "pct", n.CoffeePct.InexactFloat64())
	if len(s.Figures) != 1 || len(s.Figures[0].Table.Rows) < len(brewratio.Standards()) {
		t.Errorf("the standards are not all in the picture: %v", s.Figures)
	}
}

func TestBowls(t *testing.T) {
	bowl := brewratio.Vessel{TopMM: d("90"), BottomMM: d("60"), HeightMM: d("55")}
	v := must[decimal.Decimal](t)(brewratio.PartVolume(brewratio.PartFill{Vessel: bowl, FillMM: d("45")}))
	b := must[brewratio.Brew](t)(brewratio.BowlDose(brewratio.BowlFill{VolumeML: v, Ratio: d("16.5"), TempC: d("93"), GroundsMLPerG: d("0.73")}))
	s := example(t, measuredBowl())
	agree(t, s, "vol", v.InexactFloat64())
	agree(t, s, "dose", b.DoseG.InexactFloat64())
	agree(t, s, "water", b.WaterG.InexactFloat64())
	example(t, measuredBowl(), "top", "60", "bottom", "90") // closing upwards draws too

	v = must[decimal.Decimal](t)(brewratio.FilledVolume(brewratio.Fill{EmptyG: d("210.4"), FullG: d("395.6"), TempC: d("20")}))
	agree(t, example(t, weighedBowl()), "vol", v.InexactFloat64())
}

func TestSessionListAddsUp(t *testing.T) {
	s := example(t, cuppingSession(), "s", "1", "d", "0.5")
	agree(t, s, "coffee", 6*7*8.25)
	agree(t, s, "kettles", 5)
	if len(s.Tables) != 1 || len(s.Tables[0].Rows) != 6 || len(s.Tables[0].Head) != 8 {
		t.Fatalf("the weighing list is %v", s.Tables)
	}
	// Bowls that are compared hold the same; a row is one sample.
	for _, row := range s.Tables[0].Rows {
		sum := decimal.Zero
		for i, c := range row[1:] {
			sum = sum.Add(d(c))
			if i > 0 && c != row[2] {
				t.Errorf("bowls of %v", row)
			}
		}
		if !sum.Equal(d("58")) {
			t.Errorf("%v is %s g", row, sum)
		}
	}
	// On a scale that shows 8.25 g as 10 g a sample of 50 g is gone with its bowls.
	coarse := example(t, cuppingSession(), "d", "10")
	if row := coarse.Tables[0].Rows[0]; row[1] != "10" || row[2] != "10" {
		t.Errorf("on a coarse scale %v", row)
	}
}

func TestPlans(t *testing.T) {
	p := must[brewratio.Plan](t)(brewratio.PlanBrew(brewratio.Wanted{BeverageG: d("1000"), Ratio: d("16.5"), RetainedGPerG: d("2.1"), BypassPct: d("20")}))
	s := example(t, brewPlan(), "p", "20")
	agree(t, s, "dose", p.DoseG.InexactFloat64())
	agree(t, s, "bypass", p.BypassG.InexactFloat64())
	agree(t, s, "thin", p.ThinnedPct.InexactFloat64())
	last := s.Tables[0].Rows[len(s.Tables[0].Rows)-1]
	if want := p.BrewWaterG.DivRound(d("0.1"), 0).Mul(d("0.1")).StringFixed(1); last[2] != want {
		t.Errorf("after the last pour the scale shows %s, want %s", last[2], want)
	}
	c := brewPlan()
	state := c.Example()
	state["pours"] = "50\n49"
	if sheet := c.Eval(state, nil); len(sheet.Faults) == 0 && sheet.Problem == "" {
		t.Error("pours of 99 % are not refused")
	}

	iced := example(t, icedBrew())
	p = must[brewratio.Plan](t)(brewratio.PlanBrew(brewratio.Wanted{BeverageG: d("1000"), Ratio: d("16.5"), RetainedGPerG: d("2.1"), BypassPct: d("35")}))
	agree(t, iced, "ice", p.BypassG.InexactFloat64())
	m := must[brewratio.Melted](t)(brewratio.Melt(brewratio.Iced{BrewG: p.BrewedG, TempC: d("85"), IceG: p.BypassG}))
	agree(t, iced, "cold", m.TempC.InexactFloat64())
	agree(t, example(t, whatGroundsKeep()), "keep", 32.0/15)
}

func TestWaterAndScale(t *testing.T) {
	m := must[decimal.Decimal](t)(brewratio.WaterMass(brewratio.PouredVolume{VolumeML: d("150"), TempC: d("93")}))
	agree(t, example(t, waterByVolume()), "m", m.InexactFloat64())
	agree(t, example(t, scaleTells()), "least", 200*0.05)
}

// No label or sentence names a unit that the field beside it does not have,
// and no two calculators share an address.
func TestWords(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Calculators() {
		if seen[c.ID] {
			t.Errorf("%s stands twice", c.ID)
		}
		seen[c.ID] = true
		if c.Place != catalogue.CuppingTable && c.Place != catalogue.BrewBar {
			t.Errorf("%s is not at the cupping table or the brew bar", c.ID)
		}
		if len(c.Checks) == 0 {
			t.Errorf("%s names no published values", c.ID)
		}
		for _, n := range example(t, c).Notes {
			if strings.Contains(n, "{") || !strings.HasSuffix(n, ".") {
				t.Errorf("%s: note %q", c.ID, n)
			}
		}
	}
}
