package desk

import (
	"strings"
	"testing"

	"example.org/evenlot/checkpoint/panel"
	"example.org/evenlot/wasm/catalogue"
)

func TestDifferenceTest(t *testing.T) {
	c := differenceTest()
	trial := panel.Trial{Method: panel.Triangle, Assessors: 24, Correct: 14}
	d, err := panel.ByChance(trial)
	if err != nil {
		t.Fatal(err)
	}
	e, err := panel.Estimate(trial, 95)
	if err != nil {
		t.Fatal(err)
	}
	dp, err := panel.DPrime(panel.Triangle, e.CorrectPct)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"p": d.ByChancePct, "need": 13, "pd": e.DiscriminatorsPct, "lo": e.LowerDiscriminatorsPct, "hi": e.UpperDiscriminatorsPct, "d": dp})
	says(t, s, "word", "found a difference")
	says(t, answered(t, c, catalogue.State{"x": "12"}), "word", "no difference")
	all := answered(t, c, catalogue.State{"x": "24"})
	says(t, all, "word", "found a difference")
	for _, v := range all.Values {
		if v.ID == "d" {
			t.Errorf("all right: the distance is said to be %v", v.Text)
		}
	}
	gives(t, answered(t, c, catalogue.State{"x": "2"}), map[string]float64{"pd": 0, "d": 0})
	for method := range panelMethods {
		answered(t, c, catalogue.State{"method": method})
	}
	state := c.Example()
	state["x"] = "25"
	if s := c.Eval(state, nil); len(s.Faults) != 1 || s.Faults[0].Field != "x" {
		t.Errorf("25 right of 24: %v", s.Faults)
	}
	state["x"], state["n"] = "13", "24.5"
	if s := c.Eval(state, nil); len(s.Faults) != 1 || s.Faults[0].Field != "n" || !strings.Contains(s.Faults[0].Text, "whole number") {
		t.Errorf("24.5 tasters: %v", s.Faults)
	}
	state["n"], state["x"] = "2", "2"
	if s := c.Eval(state, nil); !strings.Contains(s.Problem, "guessed too often") {
		t.Errorf("two tasters: %q", s.Problem)
	}
}

func TestLikenessTest(t *testing.T) {
	c := alikeTest()
	a, err := panel.Alike(panel.Likeness{Trial: panel.Trial{Method: panel.Triangle, Assessors: 60, Correct: 20}, MaxDiscriminatorsPct: 30})
	if err != nil {
		t.Fatal(err)
	}
	most, err := panel.AlikeCount(panel.Triangle, 60, 30, 5)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"p": a.ByChancePct, "most": float64(most)})
	says(t, s, "word", "showed that they are alike")
	says(t, answered(t, c, catalogue.State{"x": "26"}), "word", "did not show")
}

func TestPanelPower(t *testing.T) {
	c := panelPower()
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"n": 42, "least": 40, "pc": 100. / 3 * 1.6})
	p, err := panel.Power(panel.Design{Method: panel.Triangle, Assessors: 12, RiskPct: 5, CorrectPct: 100. / 3 * 1.6})
	if err != nil {
		t.Fatal(err)
	}
	gives(t, s, map[string]float64{"have": p.PowerPct})
	// The published saw: 297 suffice, every number from 318 on does.
	gives(t, answered(t, c, catalogue.State{"by": "d", "d": "0.9", "have": ""}), map[string]float64{"n": 318, "least": 297})
	gives(t, answered(t, c, catalogue.State{"have": "1"}), map[string]float64{"have": 0})
	state := c.Example()
	state["pd"] = ""
	if s := c.Eval(state, nil); !strings.Contains(s.Problem, "difference to be found") {
		t.Errorf("no effect given: %q", s.Problem)
	}
	state["pd"] = "1"
	if s := c.Eval(state, nil); s.Problem == "" {
		t.Error("so small a share is found by some panel")
	}
}

func TestPreferenceTest(t *testing.T) {
	p, err := panel.PreferenceByChancePct(30, 21)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, preferenceTest(), nil)
	gives(t, s, map[string]float64{"p": p, "share": 70})
	if len(s.Verdicts) != 1 || s.Verdicts[0].Word != "in" {
		t.Errorf("verdict %+v", s.Verdicts)
	}
}

func TestPanelAgreement(t *testing.T) {
	table := [][]float64{{84.25, 83.50, 85.00, 84.00}, {86.00, 85.75, 86.50, 86.25}, {81.50, 82.00, 82.25, 81.00}, {87.75, 86.50, 88.00, 87.00}, {84.00, 83.25, 83.50, 84.50}}
	a, err := panel.Agree(table, 95)
	if err != nil {
		t.Fatal(err)
	}
	f, err := panel.Friedman(table)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, panelAgreement(), nil)
	gives(t, s, map[string]float64{"icc": a.ICC21.Value, "lo": a.ICC21.Lower, "hi": a.ICC21.Upper, "mean": a.ICC2K.Value, "order": a.ICC31.Value, "w": f.KendallW, "p": f.ByChancePct})
	if len(s.Tables) != 2 || len(s.Tables[0].Rows) != 4 || len(s.Tables[1].Rows) != 5 {
		t.Errorf("tables %+v", s.Tables)
	}
	c := panelAgreement()
	state := c.Example()
	state["table"] = "84 83 85\n86 85\n81 82 83"
	if s := c.Eval(state, nil); len(s.Faults) != 1 || s.Faults[0].Field != "table" {
		t.Errorf("a score is missing: %q %v", s.Problem, s.Faults)
	}
}

func TestCupScore(t *testing.T) {
	m, err := panel.MeanScore([]float64{84.25, 83.50, 85.00, 84.00, 84.75}, 95)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, cupScore(), nil)
	gives(t, s, map[string]float64{"mean": m.Score, "half": m.HalfWidth, "sd": m.SD})
	if v := valueOf(t, s, "mean"); v.U != m.HalfWidth/2 {
		t.Errorf("uncertainty %v, want half of %v", v.U, m.HalfWidth)
	}
	// Two tasters who lie 0.8 apart, 1.1 over the line, do not settle it.
	if s := answered(t, cupScore(), map[string]string{"s": "81.5 80.7"}); s.Verdicts[0].Word != "too close to call" {
		t.Errorf("two tasters: %+v", s.Verdicts)
	}
	if len(s.Verdicts) != 1 || s.Verdicts[0].Word != "in" {
		t.Errorf("verdict %+v", s.Verdicts)
	}
	answered(t, cupScore(), catalogue.State{"s": "84 84"})
}

func TestScoreOverWeeks(t *testing.T) {
	list := []panel.Cupping{{Week: 0, Score: 87}, {Week: 4, Score: 86.5}, {Week: 8, Score: 86.75}, {Week: 12, Score: 86}, {Week: 16, Score: 85.25}, {Week: 20, Score: 85.5}, {Week: 26, Score: 84.5}}
	tr, err := panel.ScoreTrend(list, 95)
	if err != nil {
		t.Fatal(err)
	}
	u, err := panel.Under(tr, 84)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, scoreTrend(), nil)
	gives(t, s, map[string]float64{"week": u.Week, "early": 26, "late": 46, "slope": tr.SlopePerWeek, "half": tr.SlopeHalfWidth, "next": tr.ScoreAt(26)})
	flat := answered(t, scoreTrend(), catalogue.State{"s": "0 86\n4 85.5\n8 86.25\n12 85.5"})
	says(t, flat, "week", "does not clearly fall")
	if len(flat.Figures) != 1 {
		t.Error("a score that does not fall has no picture")
	}
}
