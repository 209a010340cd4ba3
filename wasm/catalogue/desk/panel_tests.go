package desk

import (
	"math"

	"example.org/evenlot/checkpoint/panel"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func differenceTest() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "difference-test",
		Place:    catalogue.QualityDesk,
		Order:    70,
		Name:     "Are they different?",
		Question: "Did this panel find a difference between two coffees?",
		Keywords: "triangle test duo-trio paired tetrad sensory discrimination p value significance",
		Fields:   []catalogue.Field{methodField(), tasters("24"), rightAnswers("14"), riskField("Of calling a difference that is none, like 5"), confidenceField()},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "The panel"},
			{ID: "p", Label: "Guessing alone does as well", Symbol: "p", Unit: "%"},
			{ID: "need", Label: "Right answers needed", Symbol: "x_c"},
			{ID: "pd", Label: "Tasters who tell them apart", Symbol: "p_d", Unit: "%"},
			{ID: "lo", Label: "at least", Unit: "%"},
			{ID: "hi", Label: "at most", Unit: "%"},
			{ID: "d", Label: "Distance of the coffees, in standard deviations of one sip", Symbol: "δ"},
		},
		Compute: computeDifference,
		Cautions: []string{panelCaution,
			"A panel that found no difference has not shown that the coffees are alike: that is another test with more tasters."},
		Sources: []catalogue.Source{triangleRule, triangleFAO, duoTrioRule, powerPaper},
		Checks: []catalogue.Check{{Package: "checkpoint/panel", Quantity: "critical count"}, {Package: "checkpoint/panel", Quantity: "by chance"},
			{Package: "checkpoint/panel", Quantity: "lower limit of right answers"}, {Package: "checkpoint/panel", Quantity: "distance"}},
	}
}

func computeDifference(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "n", "Assessors", "x", "Correct"); err != nil {
		return err
	}
	m := panelMethods[in.Choice("method")]
	trial := panel.Trial{Method: m, Assessors: in.Int("n"), Correct: in.Int("x")}
	d, err := panel.ByChance(trial)
	if err != nil {
		return err
	}
	s, err := panel.Estimate(trial, in.F("conf"))
	if err != nil {
		return err
	}
	c, err := panel.CriticalCount(m, trial.Assessors, in.F("risk"))
	if err != nil {
		return err
	}
	if trial.Correct >= c {
		out.SetWords("word", out.Say("found a difference"))
	} else {
		out.SetWords("word", out.Say("found no difference, which proves none"))
	}
	out.Set("p", sig(d.ByChancePct, 3))
	out.SetCount("need", c)
	out.Set("pd", sig(s.DiscriminatorsPct, 2))
	out.Set("lo", sig(s.LowerDiscriminatorsPct, 2))
	out.Set("hi", sig(s.UpperDiscriminatorsPct, 2))
	p0, err := panel.ChancePct(m)
	if err != nil {
		return err
	}
	if s.CorrectPct < panel.MaxCorrectPct {
		dp, err := panel.DPrime(m, max(s.CorrectPct, p0))
		if err != nil {
			return err
		}
		out.Set("d", sig(dp, 2))
	}
	if !out.Full() {
		return nil
	}
	out.Work("p_c = 100*x/n", "p_c", percent(s.CorrectPct, 3), "x", in.Text("x"), "n", in.Text("n"))
	out.Work("p_d = 100*(p_c - p_0)/(100 - p_0)", "p_d", percent(100*(s.CorrectPct-p0)/(100-p0), 3), "p_c", percent(s.CorrectPct, 3), "p_0", percent(p0, 3))
	out.Note("The probability is the exact binomial one: that of {} or more right answers out of {} when everybody guesses.", in.Text("x"), in.Text("n"))
	sayPanel(out, d.Notes)
	// The bars of pure guessing, as long as they can be seen.
	var bars []figure.Bar
	last := 100.0
	lo, hi := trial.Assessors, 0
	for k := 0; k <= trial.Assessors; k++ {
		next := 0.0
		if k < trial.Assessors {
			up, err := panel.ByChance(panel.Trial{Method: m, Assessors: trial.Assessors, Correct: k + 1})
			if err != nil {
				return err
			}
			next = up.ByChancePct
		}
		if p := last - next; p > 0.01 && len(bars) < drawn {
			bars = append(bars, figure.Bar{X: float64(k), Width: 0.9, Hi: p, Flag: k >= c})
			lo, hi = min(lo, k), max(hi, k)
		}
		if last = next; last < 0.005 && k > trial.Correct {
			break
		}
	}
	out.Figure(figure.Plot{
		Title: "Right answers if everybody guesses",
		Desc:  out.Say("Out of {} tasters who guess; {} right answers are needed and {} were given.", in.Text("n"), counted(c), in.Text("x")),
		X:     figure.Axis{Label: "Right answers", Min: float64(min(lo, trial.Correct)) - 1, Max: float64(max(hi, trial.Correct, c)) + 1},
		Y:     figure.Axis{Label: "Probability", Unit: "%"},
		Bars:  bars,
		Marks: []figure.Mark{{Name: "this panel", At: float64(trial.Correct), Vertical: true}, {Name: "needed", At: float64(c) - 0.5, Vertical: true}},
	})
	return nil
}

func alikeTest() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "likeness-test",
		Place:    catalogue.QualityDesk,
		Order:    72,
		Name:     "Are they alike?",
		Question: "Did this panel show that two coffees are alike enough?",
		Keywords: "similarity test triangle substitute blend component equivalence",
		Fields: []catalogue.Field{methodField(), tasters("60"), rightAnswers("20"),
			given("pd", "Share of tasters that would matter", "p_d", "%", 1, 99, "30", "MaxDiscriminatorsPct", "If that many could tell the coffees apart it would matter: like 30"),
			riskField("Of calling coffees alike that are not, like 5")},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "The panel"},
			{ID: "p", Label: "So few right answers by luck", Symbol: "p", Unit: "%"},
			{ID: "most", Label: "Right answers at most", Symbol: "x_s"},
		},
		Compute:  computeAlike,
		Cautions: []string{panelCaution, "Alike to this panel, at this roast and brew, at this age. Cup again when any of them changes."},
		Sources:  []catalogue.Source{triangleRule, powerPaper},
		Checks:   []catalogue.Check{{Package: "checkpoint/panel", Quantity: "likeness by chance"}, {Package: "checkpoint/panel", Quantity: "smallest panel for likeness"}},
	}
}

func computeAlike(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "n", "Assessors", "x", "Correct"); err != nil {
		return err
	}
	m := panelMethods[in.Choice("method")]
	like := panel.Likeness{Trial: panel.Trial{Method: m, Assessors: in.Int("n"), Correct: in.Int("x")}, MaxDiscriminatorsPct: in.F("pd")}
	d, err := panel.Alike(like)
	if err != nil {
		return err
	}
	most, err := panel.AlikeCount(m, like.Assessors, like.MaxDiscriminatorsPct, in.F("risk"))
	if err != nil {
		return err
	}
	if like.Correct <= most {
		out.SetWords("word", out.Say("showed that they are alike to that degree"))
	} else {
		out.SetWords("word", out.Say("did not show that they are alike"))
	}
	out.Set("p", sig(d.ByChancePct, 3))
	out.SetCount("most", most)
	if !out.Full() {
		return nil
	}
	p0, err := panel.ChancePct(m)
	if err != nil {
		return err
	}
	pc, err := panel.CorrectPct(m, like.MaxDiscriminatorsPct)
	if err != nil {
		return err
	}
	out.Work("p_c = p_0 + p_d*(100 - p_0)/100", "p_c", percent(pc, 4), "p_0", percent(p0, 4), "p_d", in.Text("pd"))
	out.Note("The probability is that of {} or fewer right answers out of {} if {} of the tasters could tell the coffees apart.", in.Text("x"), in.Text("n"), in.Text("pd"))
	sayPanel(out, d.Notes&^panel.BelowChance)
	var x, y []float64
	for pd := 1.0; pd <= 99; pd++ {
		l := like
		l.MaxDiscriminatorsPct = pd
		if a, err := panel.Alike(l); err == nil {
			x, y = append(x, pd), append(y, a.ByChancePct)
		}
	}
	out.Figure(figure.Plot{
		Title:  "How well the panel rules out a share of discriminators",
		Desc:   out.Say("The chance of so few right answers, by the share of tasters who tell the coffees apart; at {} it is {}.", in.Text("pd"), percent(d.ByChancePct, 2)),
		X:      figure.Axis{Label: "Tasters who tell them apart", Unit: "%", Min: 0, Max: 100},
		Y:      figure.Axis{Label: "So few right by luck", Unit: "%", Min: 0, Max: 100},
		Lines:  []figure.Line{{Name: "this panel", X: x, Y: y}},
		Points: []figure.Points{{Name: "would matter", X: []float64{in.F("pd")}, Y: []float64{d.ByChancePct}}},
		Marks:  []figure.Mark{{Name: "risk taken", At: in.F("risk")}},
	})
	return nil
}

func panelPower() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "panel-power",
		Place:    catalogue.QualityDesk,
		Order:    74,
		Name:     "How many tasters",
		Question: "How many tasters does it take to find a difference?",
		Keywords: "power sample size panel triangle tetrad discriminators d prime plan",
		Fields: []catalogue.Field{methodField(),
			chosen("by", "Difference given as", "", "The share of tasters who tell the coffees apart, or the distance of the coffees", "pd",
				catalogue.Option{ID: "pd", Label: "share of tasters who tell them apart"}, catalogue.Option{ID: "d", Label: "distance in standard deviations of one sip"}),
			spare(given("pd", "Share to be found", "p_d", "%", 1, 100, "30", "DiscriminatorsPct", "A share of 30 is a medium difference, 50 a large one")),
			spare(given("d", "Distance to be found", "δ", "", 0.1, panel.MaxDPrime, "1.5", "DPrime", "A distance of 1 is small, 2 is plain")),
			riskField("Of calling a difference that is none, like 5"),
			given("power", "Power", "", "%", panel.MinPowerPct, panel.MaxPowerPct, "80", "PowerPct", "Chance of finding a difference of that size, like 80"),
			spare(given("have", "Tasters at hand", "n", "", 1, panel.MaxAssessors, "12", "Assessors", "To see what they can do; empty to leave that out")),
		},
		Outputs: []catalogue.Output{
			{ID: "n", Label: "Tasters to plan for"},
			{ID: "least", Label: "Smallest panel that has the power"},
			{ID: "pc", Label: "Right answers to be expected", Symbol: "p_c", Unit: "%"},
			{ID: "need", Label: "Right answers needed from the tasters to plan for", Symbol: "x_c"},
			{ID: "have", Label: "Power of the tasters at hand", Unit: "%"},
		},
		Compute:  computePower,
		Cautions: []string{panelCaution},
		Sources:  []catalogue.Source{triangleRule, powerPaper},
		Checks: []catalogue.Check{{Package: "checkpoint/panel", Quantity: "smallest panel by discriminators"}, {Package: "checkpoint/panel", Quantity: "smallest panel by distance"},
			{Package: "checkpoint/panel", Quantity: "power by discriminators"}, {Package: "checkpoint/panel", Quantity: "right answers at a distance"}},
	}
}

type missing string

func (m missing) Error() string { return string(m) }

func computePower(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "have", "Assessors"); err != nil {
		return err
	}
	m := panelMethods[in.Choice("method")]
	var pc float64
	var err error
	switch by := in.Choice("by"); {
	case !in.Has(by):
		return missing("enter the difference to be found")
	case by == "pd":
		pc, err = panel.CorrectPct(m, in.F("pd"))
	default:
		pc, err = panel.CorrectAtPct(m, in.F("d"))
	}
	if err != nil {
		return err
	}
	size, err := panel.Assessors(panel.Goal{Method: m, RiskPct: in.F("risk"), PowerPct: in.F("power"), CorrectPct: pc})
	if err != nil {
		return err
	}
	design := panel.Design{Method: m, Assessors: min(size.Stable, panel.MaxAssessors), RiskPct: in.F("risk"), CorrectPct: pc}
	at, err := panel.Power(design)
	if err != nil {
		return err
	}
	out.SetCount("n", size.Stable)
	out.SetCount("least", size.Smallest)
	out.Set("pc", sig(pc, 3))
	out.SetCount("need", at.CriticalCount)
	powerOf := func(n int) float64 {
		d := design
		d.Assessors = n
		c, err := panel.Power(d)
		if err != nil {
			return math.NaN() // too few to decide anything
		}
		return c.PowerPct
	}
	if in.Has("have") {
		if p := powerOf(in.Int("have")); p == p {
			out.Set("have", sig(p, 3))
		} else {
			out.Set("have", 0)
		}
	}
	if !out.Full() {
		return nil
	}
	p0, err := panel.ChancePct(m)
	if err != nil {
		return err
	}
	if in.Choice("by") == "pd" {
		out.Work("p_c = p_0 + p_d*(100 - p_0)/100", "p_c", percent(pc, 4), "p_0", percent(p0, 4), "p_d", in.Text("pd"))
	} else {
		out.Work("p_d = 100*(p_c - p_0)/(100 - p_0)", "p_d", percent(100*(pc-p0)/(100-p0), 3), "p_c", percent(pc, 4), "p_0", percent(p0, 4))
	}
	out.Note("The power is exact and goes up and down like a saw, because answers are whole: {} tasters can suffice where a few more do not. From {} on every number does.", counted(size.Smallest), counted(size.Stable))
	top := min(max(2*size.Stable, 30), panel.MaxAssessors)
	if in.Has("have") {
		top = max(top, min(in.Int("have"), panel.MaxAssessors))
	}
	step := max(1, top/300)
	var x, y []float64
	for n := 1; n <= top; n += step {
		x, y = append(x, float64(n)), append(y, powerOf(n))
	}
	points := []figure.Points{{Name: "to plan for", X: []float64{float64(design.Assessors)}, Y: []float64{at.PowerPct}}}
	if in.Has("have") {
		points = append(points, figure.Points{Name: "at hand", X: []float64{in.F("have")}, Y: []float64{powerOf(in.Int("have"))}, Shape: figure.Diamond})
	}
	out.Figure(figure.Plot{
		Title:  "Power by the number of tasters",
		Desc:   out.Say("The chance of finding the difference; {} is kept from {} tasters on.", in.Text("power"), counted(size.Stable)),
		X:      figure.Axis{Label: "Tasters", Min: 0, Max: float64(top)},
		Y:      figure.Axis{Label: "Power", Unit: "%", Min: 0, Max: 100},
		Lines:  []figure.Line{{Name: "power", X: x, Y: y}},
		Points: points,
		Marks:  []figure.Mark{{Name: "asked for", At: in.F("power")}},
	})
	return nil
}

func preferenceTest() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "preference-test",
		Place:    catalogue.QualityDesk,
		Order:    76,
		Name:     "Which do they prefer?",
		Question: "Is this split of a panel between two coffees a preference?",
		Keywords: "paired preference two sided consumer",
		Fields: []catalogue.Field{tasters("30"),
			given("x", "Chose the first", "x", "", 0, panel.MaxAssessors, "21", "Chose", "How many preferred the first coffee; everybody had to choose, like 21")},
		Outputs: []catalogue.Output{{ID: "p", Label: "Split as uneven by chance", Symbol: "p", Unit: "%"}, {ID: "share", Label: "Chose the first", Unit: "%"}},
		Limits:  []catalogue.Limit{{Output: "p", Lo: math.NaN(), Hi: panel.DefaultRiskPct, Source: catalogue.Source{Name: "ISO 5495:2005, paired comparison", Locator: "two-sided, 5 %", Provenance: "common practice"}}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			if err := wholes(in, "n", "Assessors", "x", "Chose"); err != nil {
				return err
			}
			p, err := panel.PreferenceByChancePct(in.Int("n"), in.Int("x"))
			if err != nil {
				return err
			}
			out.Set("p", sig(p, 3))
			out.Set("share", sig(100*in.F("x")/in.F("n"), 3))
			if !out.Full() {
				return nil
			}
			out.Work("s = 100*x/n", "s", percent(100*in.F("x")/in.F("n"), 3), "x", in.Text("x"), "n", in.Text("n"))
			out.Note("Exact and two-sided: either coffee might have been the preferred one.")
			n := in.Int("n")
			var x, y []float64
			step := max(1, n/300)
			for k := 0; k <= n; k += step {
				if v, err := panel.PreferenceByChancePct(n, k); err == nil {
					x, y = append(x, float64(k)), append(y, v)
				}
			}
			out.Figure(figure.Plot{
				Title:  "How often chance splits a panel so",
				Desc:   out.Say("A split of {} out of {} comes by chance in {} of panels without a preference.", in.Text("x"), in.Text("n"), percent(p, 2)),
				X:      figure.Axis{Label: "Chose the first", Min: 0, Max: float64(n)},
				Y:      figure.Axis{Label: "By chance", Unit: "%", Min: 0, Max: 100},
				Lines:  []figure.Line{{Name: "no preference", X: x, Y: y}},
				Points: []figure.Points{{Name: "this panel", X: []float64{in.F("x")}, Y: []float64{p}}},
			})
			return nil
		},
		Cautions: []string{panelCaution, "What the panel prefers, the customers need not: they are the better panel."},
		Sources:  []catalogue.Source{{Name: "Roessler et al., Journal of Food Science 43, 1978", Locator: "two-tailed table", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/panel", Quantity: "preference: least majority"}},
	}
}
