package lot

import (
	"math"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
)

// at is the sheet of the example with other readings.
func at(t *testing.T, changes ...string) (catalogue.Sheet, map[string]catalogue.Value, map[string]string) {
	t.Helper()
	c := Calculators()[0]
	state := c.Example()
	for i := 0; i < len(changes); i += 2 {
		state[changes[i]] = changes[i+1]
	}
	s := c.Eval(state, nil)
	if s.Problem != "" || len(s.Faults) > 0 {
		t.Fatalf("%v: %s %v", changes, s.Problem, s.Faults)
	}
	values, words := map[string]catalogue.Value{}, map[string]string{}
	for _, v := range s.Values {
		values[v.ID] = v
	}
	for _, v := range s.Verdicts {
		words[v.Output] = v.Word
	}
	return s, values, words
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// Several batches: the lot is weighed as a whole, and each end is judged.
func TestBatches(t *testing.T) {
	_, v, words := at(t, "g", "10.00", "r", "8.60", "batches", "20.00 16.80\n10.00 7.90",
		"loss-min", "14", "loss-max", "20", "least-min", "14", "most-max", "20") // the roastery's own
	near(t, "loss of the lot", v["loss"].Number, 100*(40-33.3)/40, 1e-9)
	near(t, "lowest", v["least"].Number, 14, 1e-9)
	near(t, "highest", v["most"].Number, 21, 1e-9)
	if words["loss"] != "in" || words["least"] != "too close to call" || words["most"] != "out" {
		t.Errorf("verdicts: %v", words)
	}
	// Half a digit of 0.01 kg on either scale, by the law of propagation.
	half := 0.005 / math.Sqrt(3)
	one := func(g, r float64) float64 { return 100 * math.Hypot(half/g, half*r/(g*g)) }
	near(t, "u of the highest", v["most"].U, one(10, 7.9), 1e-9)
	near(t, "u of the lowest", v["least"].U, one(10, 8.6), 1e-6) // by differences, since this batch stands in the fields
	a := 100 * math.Hypot(half/40, half*33.3/1600)
	b := math.Hypot(one(20, 16.8)*20, one(10, 7.9)*10) / 40
	near(t, "u of the lot", v["loss"].U, math.Hypot(a, b), 2e-6)

	s, v, _ := at(t, "batches", "")
	if _, ok := v["least"]; ok || len(s.Tables) > 0 {
		t.Error("one batch has a lowest and a table")
	}
	s, v, _ = at(t, "g", "", "r", "", "batches", "20.00 16.80")
	near(t, "loss without the first batch", v["loss"].Number, 16, 1e-9)
	s, _, _ = at(t, "g", "", "r", "", "batches", "")
	missing := false
	for _, m := range s.Missing {
		missing = missing || m.Group == roast
	}
	if !missing || s.Overall != "not complete" {
		t.Errorf("no batch at all: %v, %s", s.Missing, s.Overall)
	}
	c := Calculators()[0]
	state := c.Example()
	state["batches"] = "10.00 10.01"
	if s := c.Eval(state, nil); len(s.Faults) != 1 || s.Faults[0].Field != "batches" || !strings.Contains(s.Faults[0].Text, "weighs more than the green") || len(s.Values) > 0 {
		t.Errorf("a batch that gained: %v %v", s.Faults, s.Values)
	}
}

// Several bags: the worst is judged, and how far the rest can be trusted is
// said. With none of n over, 95 % confidence reaches 0.05^(1/n).
func TestBags(t *testing.T) {
	s, v, words := at(t, "o2", "0.8", "o2s", "0.6 1.4 0.7")
	near(t, "highest", v["read"].Number, 1.4, 0)
	near(t, "u of the highest", v["read"].U, math.Hypot(0.05, 0.1)/math.Sqrt(3), 1e-9)
	near(t, "share of 4 good", v["sure"].Number, math.Floor(100*math.Pow(0.05, 1.0/4)), 0)
	if words["read"] != "in" {
		t.Errorf("verdicts: %v", words)
	}
	said := strings.Join(s.Notes, " ")
	if !strings.Contains(said, "Bags read: 4, over 2 %: 0.") || strings.Contains(said, "excellent") {
		t.Errorf("notes: %s", said)
	}
	_, v, words = at(t, "o2s", "2.5 0.4", "read-max", "0.5") // the user's own limit: 0.8 and 2.5 are over
	if words["read"] != "out" {
		t.Errorf("verdicts: %v", words)
	}
	// One of three good: such a sample has at most 5 % chance while the share is p.
	p := v["sure"].Number / 100
	atLeastOne := func(p float64) float64 { return 1 - math.Pow(1-p, 3) }
	if !(atLeastOne(p) <= 0.05 && atLeastOne(p+0.01) > 0.05) {
		t.Errorf("share of 1 good in 3: %v", p)
	}
	_, v, _ = at(t, "o2", "2.1", "o2s", "2.5")
	near(t, "share of none good", v["sure"].Number, 0, 0)
	_, v, _ = at(t, "o2", "", "o2s", "0.4 0.9")
	near(t, "highest without the first", v["read"].Number, 0.9, 0)
	s, v, _ = at(t, "o2s", "")
	if _, ok := v["sure"]; ok || !strings.Contains(strings.Join(s.Notes, " "), "One bag was read") {
		t.Errorf("one bag: %v", s.Notes)
	}
	s, _, _ = at(t, "o2", "", "o2s", "")
	if s.Overall != "not complete" {
		t.Errorf("no bag at all: %s", s.Overall)
	}
}

// The trade's limit is above the activity from which mould grows: both are told.
func TestMouldIsTold(t *testing.T) {
	for aw, told := range map[string]bool{"0.67": false, "0.68": true, "0.69": true} {
		s, _, _ := at(t, "aw", aw)
		if strings.Contains(strings.Join(s.Notes, " "), "Mould can grow") != told {
			t.Errorf("at %s: %v", aw, s.Notes)
		}
	}
}

// A bag or a batch that cannot be read is a fault: a lot is not released by what
// is left when it is dropped.
func TestListsAreReadWhole(t *testing.T) {
	c := Calculators()[0]
	for field, text := range map[string]string{"o2s": "0.6 2l 0.7", "batches": "12.00 10.17\n12.00"} {
		state := c.Example()
		state[field] = text
		if s := c.Eval(state, nil); len(s.Faults) != 1 || s.Faults[0].Field != field || s.Overall != "" {
			t.Errorf("%s: %+v, %q", field, s.Faults, s.Overall)
		}
	}
}

// A lot that nobody has tasted is not released, and one with a faulty cup or a
// low score is held; ordinary ways to roast, rest and brew a bowl hold nothing.
func TestCupDecides(t *testing.T) {
	for _, c := range []struct {
		changes []string
		overall string
	}{
		{nil, "release"},
		{[]string{"score", ""}, "not complete"},
		{[]string{"faulty", ""}, "not complete"},
		{[]string{"faulty", "1"}, "hold"},
		{[]string{"score", "76"}, "hold"},
		{[]string{"score", "80.2"}, "measure again"},
		{[]string{"r", "10.56", "batches", ""}, "release"},  // 12 % loss
		{[]string{"cupped", "2026-11-17T09:30"}, "release"}, // after 24 h
		{[]string{"cupped", "2026-11-16T12:30"}, "hold"},    // after 3 h
		{[]string{"tds", "1.43"}, "release"},
		{[]string{"aw", "0.69"}, "measure again"},
		{[]string{"aw", "0.72"}, "hold"},
	} {
		if s, _, words := at(t, c.changes...); s.Overall != c.overall {
			t.Errorf("%v: %s, %v", c.changes, s.Overall, words)
		}
	}
}

// A run of the budget looks only at the checkpoints that its field reaches:
// every number of the form moves an output of one of them.
func TestEveryNumberReachesItsCheckpoint(t *testing.T) {
	c := Calculators()[0]
	for _, f := range c.Fields {
		if f.Kind != catalogue.Number || f.Exact {
			continue
		}
		_, v, _ := at(t, f.ID+".pm", "0.2")
		moved := false
		for _, value := range v {
			for _, s := range value.Shares {
				moved = moved || s.Label == f.Label
			}
		}
		if !moved {
			t.Errorf("%s moves nothing", f.ID)
		}
	}
	// The moisture of the green reaches two of them.
	_, v, _ := at(t)
	for _, id := range []string{"moisture", "dry"} {
		found := false
		for _, s := range v[id].Shares {
			found = found || s.Label == "Moisture of the green"
		}
		if !found {
			t.Errorf("%s does not depend on the moisture of the green: %v", id, v[id].Shares)
		}
	}
}
