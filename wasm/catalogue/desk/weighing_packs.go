package desk

import (
	"math"

	"example.org/evenlot/checkpoint/weighing"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

func nominal(example string) catalogue.Field {
	return given("q", "Nominal content", "Q", "g", weighing.MinNominalG, weighing.MaxNominalG, example, "NominalG", "What the label says, net: like 250")
}

func packShortage() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "pack-shortage",
		Place:    catalogue.QualityDesk,
		Order:    54,
		Name:     "Short pack",
		Question: "By how much may a single pack fall short of its label?",
		Keywords: "tolerable negative error net content prepack underweight e mark",
		Fields: []catalogue.Field{nominal("250"),
			spare(given("x", "Content of one pack", "x", "g", 0, 2*weighing.MaxNominalG, "243.5", "ContentsG", "Net, without bag, valve and scavenger; empty to see the limits only"))},
		Outputs: []catalogue.Output{
			{ID: "t1", Label: "Tolerable shortage", Symbol: "T_1", Unit: "g"},
			{ID: "few", Label: "Few packs may be under", Unit: "g"},
			{ID: "never", Label: "No pack may be under", Unit: "g"},
			{ID: "word", Label: "This pack"},
		},
		Compute:  computeShortage,
		Cautions: []string{localLaw, "The shortage is for single packs. The mean must be what the label says, whatever one pack may miss."},
		Sources:  []catalogue.Source{directive, {Name: "UK Government, Weights and measures: packaged goods", Locator: "table of tolerable negative errors", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/weighing", Quantity: "tolerable shortage"}},
	}
}

func computeShortage(in *catalogue.In, out *catalogue.Out) error {
	s, err := weighing.TolerableShortage(in.D("q"))
	if err != nil {
		return err
	}
	out.SetD("t1", s.T1G)
	out.SetD("few", s.FewG)
	out.SetD("never", s.NeverG)
	if in.Has("x") {
		switch x := in.D("x"); {
		case x.LessThan(s.NeverG):
			out.SetWords("word", out.Say("is short by more than twice the tolerable: it may not be sold"))
		case x.LessThan(s.FewG):
			out.SetWords("word", out.Say("is short by more than the tolerable: one of the few"))
		case x.LessThan(in.D("q")):
			out.SetWords("word", out.Say("is under its label, and may be if the mean is not"))
		default:
			out.SetWords("word", out.Say("holds what its label says"))
		}
	}
	if !out.Full() {
		return nil
	}
	out.Work("Q_1 = Q - T_1", "Q_1", grams(s.FewG), "Q", in.Text("q"), "T_1", grams(s.T1G))
	out.Work("Q_2 = Q - 2*T_1", "Q_2", grams(s.NeverG), "Q", in.Text("q"), "T_1", grams(s.T1G))
	out.Note("Few means at most about {} of the packs.", percent(weighing.FewShortPct, 2))
	sayWeighing(out, s.Notes)
	if !out.Pictured() {
		return nil
	}
	var x, y []float64
	for i := range 121 {
		q := in.F("q") / 4 * math.Pow(16, float64(i)/120)
		if t, err := weighing.TolerableShortage(fromFloats([]float64{math.Round(q)})[0]); err == nil {
			x, y = append(x, math.Round(q)), append(y, t.T1G.InexactFloat64())
		}
	}
	out.Figure(figure.Plot{
		Title:  "Tolerable shortage by nominal content",
		Desc:   out.Say("A pack of {} may fall short by {}.", in.Text("q"), grams(s.T1G)),
		X:      figure.Axis{Label: "Nominal content", Unit: "g", Log: true},
		Y:      figure.Axis{Label: "Tolerable shortage", Unit: "g"},
		Lines:  []figure.Line{{Name: "the rule", X: x, Y: y}},
		Points: []figure.Points{{Name: "this pack", X: []float64{in.F("q")}, Y: []float64{s.T1G.InexactFloat64()}}},
	})
	return nil
}

func fillTarget() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "fill-target",
		Place:    catalogue.QualityDesk,
		Order:    56,
		Name:     "Where to set the filler",
		Question: "To what must the filler be set so that the packs keep the rules, and what does that give away?",
		Keywords: "overfill giveaway average rule net content target weight prepack",
		Fields: []catalogue.Field{nominal("250"),
			asked("s", "Spread of filled packs", "s", "g", 0, weighing.MaxSpreadG, "1.2", "SpreadG", "Standard deviation of thirty or more net contents, like 1.2"),
			given("drift", "Allowance for drift", "a", "g", 0, weighing.MaxSpreadG, "0.4", "DriftG", "How far the setting wanders between two checks, and how well the mean is known; 0 for none"),
			given("step", "Step of the setting", "", "g", weighing.MinIntervalG, weighing.MaxSpreadG, "0.1", "StepG", "The finest step in which the filler can be set, like 0.1"),
			spare(given("n", "Packs in a month", "N", "", 1, weighing.MaxBatch, "4000", "Packs", "For what is given away; empty to leave that out")),
		},
		Outputs: []catalogue.Output{
			{ID: "target", Label: "Set the filler to", Unit: "g"},
			{ID: "over", Label: "Over the label", Unit: "g"},
			{ID: "kg", Label: "Given away", Unit: "kg"},
			{ID: "bags", Label: "Given away, in packs"},
			{ID: "under", Label: "Packs under the label", Unit: "%"},
			{ID: "short", Label: "Packs short by more than the tolerable", Unit: "%"},
			{ID: "never", Label: "Packs short by more than twice the tolerable", Unit: "%"},
		},
		Compute:  computeFillTarget,
		Cautions: []string{localLaw},
		Sources:  []catalogue.Source{directive, {Name: "normal spread of filled packs", Provenance: "common practice"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/weighing", Quantity: "tolerable shortage"}, {Package: "checkpoint/weighing", Quantity: "filling target"}, {Package: "checkpoint/weighing", Quantity: "quantile of none"}},
	}
}

func computeFillTarget(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "n", "Packs"); err != nil {
		return err
	}
	t, err := weighing.FillTarget(weighing.Fill{NominalG: in.D("q"), SpreadG: in.F("s"), DriftG: in.D("drift"), StepG: in.D("step")})
	if err != nil {
		return err
	}
	out.SetD("target", t.TargetG)
	out.SetD("over", t.OverfillG)
	out.Set("under", t.UnderPct)
	out.Set("short", shown6(t.ShortPct))
	out.Set("never", shown6(t.TooShortPct))
	if in.Has("n") {
		g, err := weighing.Giveaway(weighing.Run{NominalG: in.D("q"), MeanG: t.TargetG, Packs: in.Int("n")})
		if err != nil {
			return err
		}
		out.SetD("kg", g.TotalKG)
		out.SetD("bags", g.Packs)
		if out.Full() {
			out.Work("G = N*g/1000", "G", catalogue.Shortest(g.TotalKG.InexactFloat64())+" kg", "N", in.Text("n"), "g", grams(t.OverfillG))
		}
	}
	if !out.Full() {
		return nil
	}
	t1 := t.Shortage.T1G.InexactFloat64()
	q, s := in.F("q"), in.F("s")
	out.Work("A = Q - T_1 + 1.960*s", "A", catalogue.Num(q-t1+1.960*s, 6)+" g", "Q", in.Text("q"), "T_1", grams(t.Shortage.T1G), "s", in.Text("s"))
	out.Work("B = Q - 2*T_1 + 3.719*s", "B", catalogue.Num(q-2*t1+3.719*s, 6)+" g", "Q", in.Text("q"), "T_1", grams(t.Shortage.T1G), "s", in.Text("s"))
	out.Note("The target is the largest of Q, A and B, plus the drift, rounded up to the step.")
	switch t.Governs {
	case weighing.MeanRule:
		out.Note("The mean governs: half of the packs may be under their label. A smaller spread saves nothing until the drift can shrink with it.")
	case weighing.FewRule:
		out.Note("The few short packs govern: a smaller spread would save coffee.")
	default:
		out.Note("The packs that are far too short govern: a smaller spread would save coffee.")
	}
	out.Note("A normal spread is assumed. A filler that now and then drops a whole portion short wants every pack weighed.")
	sayWeighing(out, t.Notes)
	target := t.TargetG.InexactFloat64()
	var x, y []float64
	if s > 0 {
		for i := range 81 {
			z := -4 + float64(i)/10
			x, y = append(x, target+z*s), append(y, math.Exp(-z*z/2))
		}
	}
	out.Figure(figure.Plot{
		Title: "The packs and their limits",
		Desc:  out.Say("Packs around {} with a spread of {}; {} of them are under the label.", grams(t.TargetG), in.Text("s"), percent(t.UnderPct, 3)),
		X:     figure.Axis{Label: "Content", Unit: "g", Min: min(q-2*t1, target-4*s) - 0.1*t1, Max: target + 4*s + 0.1*t1},
		Y:     figure.Axis{Label: "How often, peak as one", Min: 0, Max: 1.05},
		Lines: []figure.Line{{Name: "packs", X: x, Y: y}},
		Marks: []figure.Mark{
			{Name: "label", At: q, Vertical: true},
			{Name: "few under", At: q - t1, Vertical: true},
			{Name: "none under", At: q - 2*t1, Vertical: true},
			{Name: "set to", At: target, Vertical: true},
		},
	})
	return nil
}

// shown6 leaves nothing of a share under one pack in two hundred million.
func shown6(pct float64) float64 { return math.Round(1e6*pct) / 1e6 }

func batchCheck() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "batch-check",
		Place:    catalogue.QualityDesk,
		Order:    58,
		Name:     "Batch of packs",
		Question: "Does this batch of packs hold what its label says?",
		Keywords: "average rule reference test net content sample inspection prepack",
		Fields: []catalogue.Field{nominal("250"),
			given("batch", "Packs in the batch", "N", "", 1, weighing.MaxBatch, "400", "Batch", "All packs of one run, like 400"),
			{ID: "x", Label: "Net contents", Kind: catalogue.Series, GoField: "ContentsG",
				Columns: []catalogue.Column{{ID: "x", Label: "Content", Unit: "g", Min: -1e5, Max: 1e5}},
				Example: "250.8 251.2 249.7 250.4 250.1 251.9 250.6 249.2 250.9 250.3 251.4 250.0 250.7 249.9 250.5 251.1 250.2 250.8 249.6 251.0 250.4 250.6 250.3 251.3 249.8 250.7 250.9 250.1 250.5 251.2",
				Help:    "Net, in grams, one number for each pack: filled weight less its own bag"},
			chosen("plan", "Test", "", "The directive's test in two steps, its test by opening, or the recommendation's in one step", "double",
				catalogue.Option{ID: "double", Label: "the directive, in two steps"}, catalogue.Option{ID: "single", Label: "the recommendation, in one step"},
				catalogue.Option{ID: "open", Label: "the directive, packs opened"}, catalogue.Option{ID: "all", Label: "every pack weighed, nothing forgiven"}),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "The batch"},
			{ID: "mean", Label: "Mean content", Symbol: "x_m", Unit: "g"},
			{ID: "floor", Label: "The mean must reach", Unit: "g"},
			{ID: "spread", Label: "Standard deviation", Symbol: "s", Unit: "g"},
			{ID: "short", Label: "Short by more than the tolerable"},
			{ID: "never", Label: "Short by more than twice the tolerable"},
			{ID: "need", Label: "Packs that the test wants"},
			{ID: "better", Label: "Given away per pack", Unit: "g"},
		},
		Compute:  computeBatch,
		Cautions: []string{localLaw, "This is an inspector's test of a sample: it forgives what chance may do. A packer whose mean is the label only just is rejected once in 200 times."},
		Sources:  []catalogue.Source{directive, {Name: "OIML R 87:2016, Quantity of product in prepackages", Locator: "tables 1 and 2", Provenance: "memory"}},
		Checks: []catalogue.Check{{Package: "checkpoint/weighing", Quantity: "factor of the mean"}, {Package: "checkpoint/weighing", Quantity: "double plan: Accept"},
			{Package: "checkpoint/weighing", Quantity: "single plan: Accept"}, {Package: "checkpoint/weighing", Quantity: "tolerable shortage"}},
	}
}

func computeBatch(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "batch", "Batch"); err != nil {
		return err
	}
	x := in.Columns("x")[0]
	n := len(x)
	var p weighing.Plan
	var err error
	switch in.Choice("plan") {
	case "double":
		p, err = weighing.DoublePlan(in.Int("batch"))
	case "single":
		p, err = weighing.SinglePlan(in.Int("batch"))
	case "open":
		p, err = weighing.DestructivePlan(in.Int("batch"))
	default:
		p = weighing.Plan{Sample: in.Int("batch"), Accept: int(float64(in.Int("batch")) * weighing.FewShortPct / 100)}
	}
	if err != nil {
		return err
	}
	// In the second step both samples count together.
	accept := p.Accept
	if p.Second > 0 && n >= p.Sample+p.Second {
		accept = p.SecondAccept
	}
	factor := 0.0
	if p.MeanFactor > 0 && n >= 2 {
		if factor, err = weighing.MeanFactor(n, 0); err != nil {
			return err
		}
	}
	j, err := weighing.Judge(weighing.Batch{NominalG: in.D("q"), ContentsG: fromFloats(x), AcceptShort: min(accept, n), MeanFactor: factor})
	if err != nil {
		return err
	}
	enough := n >= p.Sample || n >= in.Int("batch")
	again := p.Second > 0 && n < p.Sample+p.Second && j.Short > p.Accept && j.Short < p.Reject && j.Never == weighing.Pass && j.Mean == weighing.Pass
	switch {
	case j.Never == weighing.Fail:
		out.SetWords("word", out.Say("fails: a pack is short by more than twice the tolerable"))
	case !enough:
		out.SetWords("word", out.Say("cannot be judged yet: too few packs are weighed"))
	case again:
		out.SetWords("word", out.Say("wants the second sample: too many short packs to accept, too few to reject"))
	case j.Mean == weighing.Fail:
		out.SetWords("word", out.Say("fails: the mean is too low"))
	case j.Few == weighing.Fail:
		out.SetWords("word", out.Say("fails: too many packs are short"))
	default:
		out.SetWords("word", out.Say("passes"))
	}
	out.SetD("mean", j.MeanG.Round(2))
	out.SetD("floor", decimal.NewFromFloat(j.FloorG).RoundCeil(2))
	out.Set("spread", sig(j.SpreadG, 3))
	out.SetCount("short", j.Short)
	out.SetCount("never", j.TooShort)
	out.SetCount("need", p.Sample)
	out.Set("better", sig(j.BetterG, 3))
	if !out.Full() {
		return nil
	}
	out.Work("x_0 = Q - f*s", "x_0", catalogue.Num(j.FloorG, 6)+" g", "Q", in.Text("q"), "f", catalogue.Num(factor, 3), "s", catalogue.Num(j.SpreadG, 3)+" g")
	out.Note("{} packs are weighed; the test wants {}, and accepts that {} of them are short.", counted(n), counted(p.Sample), counted(accept))
	sayWeighing(out, p.Notes)
	sayWeighing(out, j.Shortage.Notes)
	shown, flags := x, make([]bool, 0, n)
	if n > drawn {
		shown = x[:drawn]
		out.Note("The picture shows the first {} packs.", counted(drawn))
	}
	few := j.Shortage.FewG.InexactFloat64()
	for _, v := range shown {
		flags = append(flags, v < few)
	}
	out.Figure(figure.Plot{
		Title:  "Net content of each pack",
		Desc:   out.Say("{} packs with a mean of {} against a label of {}.", counted(n), catalogue.Num(j.MeanG.InexactFloat64(), 6)+" g", in.Text("q")),
		X:      figure.Axis{Label: "Pack", Min: 0, Max: float64(len(shown) + 1)},
		Y:      figure.Axis{Label: "Net content", Unit: "g"},
		Points: []figure.Points{{Name: "packs", X: numbered(len(shown)), Y: shown, Flagged: flags}},
		Marks: []figure.Mark{{Name: "label", At: in.F("q")}, {Name: "few under", At: few},
			{Name: "none under", At: j.Shortage.NeverG.InexactFloat64()}},
	})
	return nil
}

func giveaway() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "giveaway",
		Place:    catalogue.QualityDesk,
		Order:    60,
		Name:     "Given away by overfilling",
		Question: "What did this run give away, in kilograms and in packs?",
		Keywords: "overfill giveaway loss net content mean",
		Fields: []catalogue.Field{nominal("250"),
			asked("x", "Mean content", "x_m", "g", 0, 2*weighing.MaxNominalG, "251.3", "MeanG", "Net mean of the packs weighed, like 251.3"),
			given("n", "Packs", "N", "", 1, weighing.MaxBatch, "4000", "Packs", "How many were filled, like 4000"),
		},
		Outputs: []catalogue.Output{
			{ID: "kg", Label: "Given away", Symbol: "G", Unit: "kg"},
			{ID: "packs", Label: "In packs"},
			{ID: "share", Label: "In percent of the label", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			if err := wholes(in, "n", "Packs"); err != nil {
				return err
			}
			g, err := weighing.Giveaway(weighing.Run{NominalG: in.D("q"), MeanG: in.D("x"), Packs: in.Int("n")})
			if err != nil {
				return err
			}
			out.SetD("kg", g.TotalKG)
			out.SetD("packs", g.Packs)
			out.SetD("share", g.SharePct)
			if !out.Full() {
				return nil
			}
			out.Work("G = N*(x_m - Q)/1000", "G", catalogue.Shortest(g.TotalKG.InexactFloat64())+" kg", "N", in.Text("n"), "x_m", in.Text("x"), "Q", in.Text("q"))
			if g.PerPackG.IsNegative() {
				out.Note("The packs are short on average: that is no saving but a breach of the rule of the mean.")
			}
			top := max(2*math.Abs(in.F("x")-in.F("q")), 1)
			out.Figure(figure.Plot{
				Title:  "Given away, by overfill",
				Desc:   out.Say("At {} over the label, {} are given away.", grams(g.PerPackG), catalogue.Num(g.TotalKG.InexactFloat64(), 4)+" kg"),
				X:      figure.Axis{Label: "Over the label", Unit: "g"},
				Y:      figure.Axis{Label: "Given away", Unit: "kg"},
				Lines:  []figure.Line{{Name: "this many packs", X: []float64{0, top}, Y: []float64{0, top * in.F("n") / 1000}}},
				Points: []figure.Points{{Name: "this run", X: []float64{g.PerPackG.InexactFloat64()}, Y: []float64{g.TotalKG.InexactFloat64()}}},
			})
			return nil
		},
		Cautions: []string{localLaw},
		Sources:  []catalogue.Source{{Name: "arithmetic", Provenance: "derived"}},
	}
}
