package desk

import (
	"math"
	"strings"
	"testing"

	"example.org/evenlot/checkpoint/weighing"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

// answered evaluates a calculator's example with changes; it must answer.
func answered(t *testing.T, c *catalogue.Calculator, changes catalogue.State) catalogue.Sheet {
	t.Helper()
	state := c.Example()
	for k, v := range changes {
		state[k] = v
	}
	s := c.Eval(state, nil)
	if s.Problem != "" || len(s.Faults) > 0 {
		t.Fatalf("%s with %v: %q %v", c.ID, changes, s.Problem, s.Faults)
	}
	return s
}

func valueOf(t *testing.T, s catalogue.Sheet, id string) catalogue.Value {
	t.Helper()
	for _, v := range s.Values {
		if v.ID == id {
			return v
		}
	}
	t.Fatalf("%s has no value %s", s.Calc, id)
	return catalogue.Value{}
}

// gives compares outputs with what the formula package gives, to the digits
// that the sheet shows: those are two at least.
func gives(t *testing.T, s catalogue.Sheet, want map[string]float64) {
	t.Helper()
	for id, w := range want {
		got := valueOf(t, s, id).Number
		if !(math.Abs(got-w) <= 1e-9*(1+math.Abs(w))) && got != sig(w, 3) && got != sig(w, 2) {
			t.Errorf("%s: %s is %v, by hand %v", s.Calc, id, got, w)
		}
	}
}

// says looks for words in an output.
func says(t *testing.T, s catalogue.Sheet, id, want string) {
	t.Helper()
	if got := valueOf(t, s, id).Text; !strings.Contains(got, want) {
		t.Errorf("%s: %s says %q, want %q", s.Calc, id, got, want)
	}
}

func TestSig(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want float64
	}{{37.5, 2, 38}, {0.034241, 2, 0.034}, {-1234.5, 3, -1230}, {0, 2, 0}, {99.96, 3, 100}, {5e-324, 2, 5e-324}} {
		if got := sig(c.v, c.n); !(math.Abs(got-c.want) <= 1e-12*math.Abs(c.want)) {
			t.Errorf("sig(%v, %d) = %v, want %v", c.v, c.n, got, c.want)
		}
	}
}

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func float(d decimal.Decimal) float64 { return d.InexactFloat64() }

func TestScaleCheck(t *testing.T) {
	c := scaleCheck()
	f, err := weighing.AsFound(weighing.Check{
		Load:     weighing.Load{Class: weighing.ClassIII, IntervalG: dec("1"), LoadG: dec("1000"), InService: true},
		ReadingG: dec("1001"), WeightErrorG: dec("0.05")})
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"err": float(f.ErrorG), "mpe": float(f.LimitG), "least": 20})
	says(t, s, "word", "within")
	if len(s.Figures) != 1 {
		t.Errorf("%d figures", len(s.Figures))
	}
	says(t, answered(t, c, catalogue.State{"i": "1003"}), "word", "outside")
	says(t, answered(t, c, catalogue.State{"i": "1002", "w": "1"}), "word", "too close")
	says(t, answered(t, c, catalogue.State{"i": "1002", "use": "new"}), "word", "outside")
	says(t, answered(t, c, catalogue.State{"w": ""}), "word", "within")
	state := c.Example()
	state["e"] = "3"
	if s := c.Eval(state, nil); len(s.Faults) != 1 || s.Faults[0].Field != "e" {
		t.Errorf("an interval of 3 g: %v", s.Faults)
	}
}

func TestSmallestWeighingSheet(t *testing.T) {
	c := smallestWeighing()
	var readings []decimal.Decimal
	for _, r := range strings.Fields("18.0 18.1 18.1 18.0 18.0 18.1 18.0 18.0 17.9 18.0") {
		readings = append(readings, dec(r))
	}
	sd, err := weighing.RepeatabilityG(readings)
	if err != nil {
		t.Fatal(err)
	}
	m, err := weighing.SmallestWeighing(weighing.Weighing{DivisionG: dec("0.1"), RepeatabilityG: decimal.NewFromFloat(sd), TolerancePct: dec("1")})
	if err != nil {
		t.Fatal(err)
	}
	gives(t, answered(t, c, nil), map[string]float64{"min": float(m.LoadG), "s": sd})
	gives(t, answered(t, c, catalogue.State{"r": ""}), map[string]float64{"min": 8.2, "s": 0.041})
}

func TestPackShortage(t *testing.T) {
	c := packShortage()
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"t1": 9, "few": 241, "never": 232})
	says(t, s, "word", "under its label")
	says(t, answered(t, c, catalogue.State{"x": "240.9"}), "word", "one of the few")
	says(t, answered(t, c, catalogue.State{"x": "231.9"}), "word", "may not be sold")
	says(t, answered(t, c, catalogue.State{"x": "250"}), "word", "holds")
	gives(t, answered(t, c, catalogue.State{"q": "1", "q.unit": "kg", "x": ""}), map[string]float64{"t1": 15})
}

func TestFillTargetSheet(t *testing.T) {
	f, err := weighing.FillTarget(weighing.Fill{NominalG: dec("250"), SpreadG: 1.2, DriftG: dec("0.4"), StepG: dec("0.1")})
	if err != nil {
		t.Fatal(err)
	}
	g, err := weighing.Giveaway(weighing.Run{NominalG: dec("250"), MeanG: f.TargetG, Packs: 4000})
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, fillTarget(), nil)
	gives(t, s, map[string]float64{"target": float(f.TargetG), "over": float(f.OverfillG), "kg": float(g.TotalKG), "bags": float(g.Packs), "under": f.UnderPct, "short": 0, "never": 0})
	s = answered(t, fillTarget(), catalogue.State{"s": "0", "n": "", "drift": "0"})
	gives(t, s, map[string]float64{"target": 250, "under": 0})
	state := fillTarget().Example()
	state["n"] = "40.5"
	if s := fillTarget().Eval(state, nil); len(s.Faults) != 1 || s.Faults[0].Field != "n" || !strings.Contains(s.Faults[0].Text, "whole number") {
		t.Errorf("40.5 packs: %v", s.Faults)
	}
}

func TestBatchCheck(t *testing.T) {
	c := batchCheck()
	example := c.Example()["x"]
	var contents []decimal.Decimal
	for _, x := range strings.Fields(example) {
		contents = append(contents, dec(x))
	}
	f, err := weighing.MeanFactor(30, 0)
	if err != nil {
		t.Fatal(err)
	}
	j, err := weighing.Judge(weighing.Batch{NominalG: dec("250"), ContentsG: contents, AcceptShort: 1, MeanFactor: f})
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"mean": float(j.MeanG.Round(2)), "floor": math.Ceil(100*j.FloorG) / 100, "spread": j.SpreadG, "short": 0, "never": 0, "need": 30, "better": j.BetterG})
	says(t, s, "word", "passes")
	says(t, answered(t, c, catalogue.State{"plan": "single"}), "word", "too few")
	says(t, answered(t, c, catalogue.State{"batch": "30", "plan": "all"}), "word", "passes")
	says(t, answered(t, c, catalogue.State{"x": strings.Replace(example, "250.8", "231.0", 1)}), "word", "twice")
	two := strings.Replace(strings.Replace(example, "250.8", "240.0", 1), "251.2", "240.0", 1)
	says(t, answered(t, c, catalogue.State{"x": two}), "word", "second sample")
	says(t, answered(t, c, catalogue.State{"x": two + " " + example}), "word", "passes")
	three := strings.Replace(two, "249.7", "240.0", 1)
	says(t, answered(t, c, catalogue.State{"x": three}), "word", "too many")
	says(t, answered(t, c, catalogue.State{"q": "252"}), "word", "mean is too low")
}

func TestGiveawaySheet(t *testing.T) {
	s := answered(t, giveaway(), nil)
	gives(t, s, map[string]float64{"kg": 5.2, "packs": 20.8, "share": 0.52})
	if valueOf(t, s, "kg").U == 0 {
		t.Error("a mean read to 0.1 g carries no uncertainty")
	}
}
