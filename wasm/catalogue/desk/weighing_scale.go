package desk

import (
	"math"

	"example.org/evenlot/checkpoint/weighing"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

func scaleCheck() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "scale-check",
		Place:    catalogue.QualityDesk,
		Order:    50,
		Name:     "Scale against a test weight",
		Question: "Is this scale within its permissible error?",
		Keywords: "calibration check weight accuracy class balance as found verification oiml",
		Fields: []catalogue.Field{
			chosen("class", "Accuracy class", "Class", "In an oval on the plate: most scales for trade are III, 0.01 g scales II", "III",
				catalogue.Option{ID: "I", Label: "I, special"}, catalogue.Option{ID: "II", Label: "II, high"},
				catalogue.Option{ID: "III", Label: "III, medium"}, catalogue.Option{ID: "IIII", Label: "IIII, ordinary"}),
			given("e", "Verification interval", "e", "g", weighing.MinIntervalG, weighing.MaxIntervalG, "1", "IntervalG", "The e on the plate, not the d: like 1 or 0.1"),
			given("m", "Test weight", "m", "g", 0, weighing.MaxLoadG, "1000", "LoadG", "Its nominal or certified value, like 1000"),
			given("i", "What the scale shows", "I", "g", -weighing.MaxLoadG, weighing.MaxLoadG, "1001", "ReadingG", "Before anyone adjusts anything, like 1001"),
			spare(given("w", "Tolerance of the test weight", "w", "g", 0, weighing.MaxIntervalG, "0.05", "WeightErrorG", "From its certificate, or by its class: an M1 kilogram is good to 0.05. Empty to take it as true")),
			chosen("use", "Compared with", "", "A scale in use may be off by twice what a new one may", "use",
				catalogue.Option{ID: "use", Label: "the limits of a scale in use"}, catalogue.Option{ID: "new", Label: "the limits at verification"}),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "The scale"},
			{ID: "err", Label: "Error", Symbol: "E", Unit: "g"},
			{ID: "mpe", Label: "Permissible error, up or down", Unit: "g"},
			{ID: "least", Label: "Least load of the class", Unit: "g"},
		},
		Compute: computeScaleCheck,
		Cautions: []string{localLaw,
			"Write the error down before adjusting: everything packed since the last check was packed with it."},
		Sources: []catalogue.Source{scaleRule},
		Checks:  []catalogue.Check{{Package: "checkpoint/weighing", Quantity: "permissible error"}, {Package: "checkpoint/weighing", Quantity: "minimum capacity"}},
	}
}

var scaleClasses = map[string]weighing.Class{"I": weighing.ClassI, "II": weighing.ClassII, "III": weighing.ClassIII, "IIII": weighing.ClassIIII}

func computeScaleCheck(in *catalogue.In, out *catalogue.Out) error {
	load := weighing.Load{Class: scaleClasses[in.Choice("class")], IntervalG: in.D("e"), LoadG: in.D("m"), InService: in.Choice("use") == "use"}
	check := weighing.Check{Load: load, ReadingG: in.D("i")}
	if in.Has("w") {
		check.WeightErrorG = in.D("w")
	}
	f, err := weighing.AsFound(check)
	if err != nil {
		return err
	}
	least, err := weighing.MinimumCapacityG(load.Class, load.IntervalG)
	if err != nil {
		return err
	}
	switch f.Verdict {
	case weighing.Pass:
		out.SetWords("word", out.Say("is within its permissible error"))
	case weighing.Fail:
		out.SetWords("word", out.Say("is outside its permissible error"))
	default:
		out.SetWords("word", out.Say("cannot be judged with this weight: too close to call"))
	}
	out.SetD("err", f.ErrorG)
	out.SetD("mpe", f.LimitG)
	out.SetD("least", least)
	if !out.Full() {
		return nil
	}
	out.Work("E = I - m", "E", grams(f.ErrorG), "I", in.Text("i"), "m", in.Text("m"))
	out.Work("n = m/e", "n", catalogue.Num(in.F("m")/in.F("e"), 4)+" e", "m", in.Text("m"), "e", in.Text("e"))
	sayWeighing(out, f.Notes)
	if !in.Has("w") {
		out.Note("The test weight was taken as true.")
	}
	// The permitted band over the loads, as stairs.
	top := max(1.5*in.F("m"), 60*in.F("e"))
	var x, lo, hi []float64
	at := func(m float64) {
		l := load
		l.LoadG = decimal.NewFromFloat(m)
		p, err := weighing.PermissibleError(l)
		if err != nil {
			return
		}
		v := p.LimitG.InexactFloat64()
		x, lo, hi = append(x, m), append(lo, -v), append(hi, v)
	}
	at(0)
	for _, n := range []float64{50, 200, 500, 2000, 5000, 20000, 50000, 200000} {
		if m := n * in.F("e"); m < top {
			at(m)
			at(m * (1 + 1e-9))
		}
	}
	at(top)
	out.Figure(figure.Plot{
		Title:  "Error and what is permitted",
		Desc:   out.Say("At {} the scale is off by {}; permitted are {} up or down.", in.Text("m"), grams(f.ErrorG), grams(f.LimitG)),
		X:      figure.Axis{Label: "Load", Unit: "g"},
		Y:      figure.Axis{Label: "Error", Unit: "g"},
		Bands:  []figure.Band{{Name: "permitted", X: x, Lo: lo, Hi: hi}},
		Points: []figure.Points{{Name: "found", X: []float64{in.F("m")}, Y: []float64{f.ErrorG.InexactFloat64()}, Err: []float64{check.WeightErrorG.InexactFloat64()}}},
		Marks:  []figure.Mark{{Name: "no error", At: 0}},
	})
	return nil
}

func smallestWeighing() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "smallest-weighing",
		Place:    catalogue.QualityDesk,
		Order:    52,
		Name:     "Smallest weighing",
		Question: "How little may be weighed on this scale?",
		Keywords: "minimum weight dose repeatability division resolution balance",
		Fields: []catalogue.Field{
			given("d", "Smallest step shown", "d", "g", weighing.MinIntervalG, weighing.MaxIntervalG, "0.1", "DivisionG", "The d of the display, like 0.1"),
			spare(catalogue.Field{ID: "r", Label: "Repeated weighings", Kind: catalogue.Series, GoField: "ReadingsG",
				Columns: []catalogue.Column{{ID: "m", Label: "Weight", Unit: "g", Min: -1e6, Max: 1e6}},
				Example: "18.0 18.1 18.1 18.0 18.0 18.1 18.0 18.0 17.9 18.0",
				Help:    "Ten or more of one small load, put on and taken off each time. Empty if there are none"}),
			given("tol", "Tolerance", "τ", "%", 0.001, 50, "1", "TolerancePct", "How far a weight may be off, in percent of itself: like 1 for a dose"),
		},
		Outputs: []catalogue.Output{
			{ID: "min", Label: "Smallest weighing", Symbol: "m_min", Unit: "g"},
			{ID: "s", Label: "Standard deviation that counts", Symbol: "s", Unit: "g"},
		},
		Compute: computeSmallest,
		Cautions: []string{
			"This is about scatter only. A scale that shows the same wrong weight ten times has perfect repeatability: check it against a weight.",
		},
		Sources: []catalogue.Source{{Name: "USP General Chapter 41, Balances, 2019", Locator: "repeatability", Provenance: "quoted"}},
		Checks:  []catalogue.Check{{Package: "checkpoint/weighing", Quantity: "smallest weighing"}, {Package: "checkpoint/weighing", Quantity: "repeatability"}},
	}
}

func computeSmallest(in *catalogue.In, out *catalogue.Out) error {
	w := weighing.Weighing{DivisionG: in.D("d"), TolerancePct: in.D("tol")}
	found := 0.0
	if in.Has("r") {
		s, err := weighing.RepeatabilityG(fromFloats(in.Columns("r")[0]))
		if err != nil {
			return err
		}
		found = s
		w.RepeatabilityG = decimal.NewFromFloat(s)
	}
	m, err := weighing.SmallestWeighing(w)
	if err != nil {
		return err
	}
	s := max(found, weighing.LeastRepeatability*in.F("d"))
	out.SetD("min", m.LoadG)
	out.Set("s", sig(s, 3))
	if !out.Full() {
		return nil
	}
	out.Work("s_d = 0.41*d", "s_d", catalogue.Num(weighing.LeastRepeatability*in.F("d"), 3)+" g", "d", in.Text("d"))
	out.Work("m_min = 2*s*100/τ", "m_min", grams(m.LoadG), "s", catalogue.Num(s, 3)+" g", "τ", in.Text("tol"))
	out.Note("The answer is rounded up to the scale's step.")
	if in.Has("r") {
		if n := len(in.Columns("r")[0]); n < 10 {
			out.Note("{} weighings are few for a standard deviation: take ten.", counted(n))
		}
	}
	sayWeighing(out, m.Notes)
	least := m.LoadG.InexactFloat64()
	var x, y []float64
	for i := range 61 {
		v := least / 8 * math.Pow(64, float64(i)/60)
		x, y = append(x, v), append(y, 200*s/v)
	}
	out.Figure(figure.Plot{
		Title:  "Scatter of a weight, by its size",
		Desc:   out.Say("Two standard deviations in percent of the load; they come down to {} at {}.", in.Text("tol"), grams(m.LoadG)),
		X:      figure.Axis{Label: "Load", Unit: "g", Log: true},
		Y:      figure.Axis{Label: "Two standard deviations", Unit: "%", Log: true},
		Lines:  []figure.Line{{Name: "this scale", X: x, Y: y}},
		Points: []figure.Points{{Name: "smallest weighing", X: []float64{least}, Y: []float64{200 * s / least}}},
		Marks:  []figure.Mark{{Name: "tolerance", At: in.F("tol")}},
	})
	return nil
}
