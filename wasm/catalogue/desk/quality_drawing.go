package desk

import (
	"math"

	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func drawnQuotient() *catalogue.Calculator {
	shape := func(id, label string) catalogue.Field {
		return chosen(id, label, "", "How its possible values lie around it", "flat",
			catalogue.Option{ID: "flat", Label: "anywhere within the plus-minus"}, catalogue.Option{ID: "bell", Label: "a bell: the plus-minus holds 95 %"}, catalogue.Option{ID: "tent", Label: "the middle more likely than the ends"})
	}
	value := func(id, label, symbol, example, help string) catalogue.Field {
		return given(id, label, symbol, "", -1e9, 1e9, example, "", help)
	}
	pm := func(id, label, symbol, example string) catalogue.Field {
		return given(id, label, symbol, "", 0, 1e9, example, "", "Same unit; 0 for an exact number")
	}
	return &catalogue.Calculator{
		ID:       "drawn",
		Place:    catalogue.QualityDesk,
		Order:    98,
		Name:     "Rough inputs, drawn",
		Question: "What may a product over a divisor be, when the inputs are only roughly known?",
		Keywords: "monte carlo simulation uncertainty propagation extraction yield ratio interval budget",
		Fields: []catalogue.Field{
			value("a", "First factor", "a", "36", "In any unit: beverage in g for the yield of a brew"), pm("ua", "Plus-minus of the first factor", "U_a", "0.5"), shape("sa", "The first factor lies"),
			value("b", "Second factor", "b", "9.5", "Strength in %"), pm("ub", "Plus-minus of the second factor", "U_b", "0.1"), shape("sb", "The second factor lies"),
			value("c", "Divisor", "c", "18", "Dose in g"), pm("uc", "Plus-minus of the divisor", "U_d", "1"), shape("sc", "The divisor lies"),
			given("seed", "Seed", "", "", 0, 1e9, "1", "", "The same seed draws the same numbers: any whole number"),
		},
		Outputs: []catalogue.Output{
			{ID: "mean", Label: "Result, on average", Symbol: "y"},
			{ID: "lo", Label: "95 % of it lies from"},
			{ID: "hi", Label: "up to"},
			{ID: "u", Label: "Standard uncertainty", Symbol: "u"},
			{ID: "most", Label: "Most of it comes from"},
			{ID: "first", Label: "By the usual formula it would be", Symbol: "u_1"},
			{ID: "draws", Label: "Draws made"},
		},
		Compute: computeDrawn,
		Sources: []catalogue.Source{drawingGuide, guide},
		Checks:  []catalogue.Check{{Package: "checkpoint/uncertainty", Quantity: "sum of four, simulated interval"}, {Package: "checkpoint/uncertainty", Quantity: "falling-ball viscosity, simulated interval"}, {Package: "checkpoint/uncertainty", Quantity: "ratio times a factor, standard uncertainty"}},
	}
}

func computeDrawn(in *catalogue.In, out *catalogue.Out) error {
	quantity := func(id string) (uncertainty.Quantity, error) {
		value, half := in.F(id), in.F("u"+id)
		switch in.Choice("s" + id) {
		case "bell":
			return uncertainty.FromCertificate(value, half, 2)
		case "tent":
			return uncertainty.FromHalfWidth(value, half, uncertainty.Triangular)
		}
		return uncertainty.FromHalfWidth(value, half, uncertainty.Rectangular)
	}
	var inputs []uncertainty.Quantity
	for _, id := range [...]string{"a", "b", "c"} {
		q, err := quantity(id)
		if err != nil {
			return err
		}
		inputs = append(inputs, q)
	}
	if c, half := math.Abs(in.F("c")), in.F("uc"); c <= half*1.0001 || in.Choice("sc") == "bell" && c < 3*half {
		return missing("the divisor may be zero, and then the result has no bounds")
	}
	f := func(x []float64) float64 { return x[0] * x[1] / x[2] }
	r, err := uncertainty.Propagate(f, inputs)
	if err != nil {
		return err
	}
	s, err := uncertainty.Simulate(f, inputs, uncertainty.Plan{CoveragePct: uncertainty.DefaultCoveragePct, Digits: uncertainty.DefaultDigits,
		MaxDraws: 200000, Seed: uint64(in.F("seed"))})
	if err != nil {
		return err
	}
	out.SetU("mean", s.Mean, s.U, "the inputs")
	setPlace(out, "lo", s.Lo, s.U)
	setPlace(out, "hi", s.Hi, s.U)
	setSig(out, "u", s.U, 2)
	setSig(out, "first", r.U, 2)
	out.SetCount("draws", s.Draws)
	names := [...]string{"the first factor", "the second factor", "the divisor"}
	if r.Dominant < 0 {
		out.SetWords("most", out.Say("nothing: all are exact"))
	} else {
		out.SetWords("most", out.Say(names[r.Dominant]))
	}
	if !out.Full() {
		return nil
	}
	out.Work("y_0 = a*b/c", "y_0", num4(r.Value), "a", in.Text("a"), "b", in.Text("b"), "c", in.Text("c"))
	if r.Notes&uncertainty.Curved != 0 {
		out.Note("The formula is curved over so wide a range: believe the drawn interval, not the usual formula.")
	}
	if s.Notes&uncertainty.NotSettled != 0 {
		out.Note("After {} draws the last digit is still not settled.", counted(s.Draws))
	}
	if s.U > 0 {
		var bars []figure.Bar
		for i := 1; i < len(s.Quantiles); i += 2 { // two in a hundred between neighbours
			lo, hi := s.Quantiles[i-1], s.Quantiles[i]
			if i+1 < len(s.Quantiles) {
				hi = s.Quantiles[i+1]
			}
			if hi > lo {
				bars = append(bars, figure.Bar{X: (lo + hi) / 2, Width: hi - lo, Hi: 2 / (hi - lo)})
			}
		}
		out.Figure(figure.Plot{
			Title: "What the result may be", Desc: out.Say("How often each result was drawn; 95 % lie between {} and {}.", num4(s.Lo), num4(s.Hi)),
			X: figure.Axis{Label: "Result"}, Y: figure.Axis{Label: "Draws per unit of the result", Unit: "%", Min: 0, Max: math.NaN()},
			Bars:  bars,
			Marks: []figure.Mark{{Name: "from", At: s.Lo, Vertical: true}, {Name: "up to", At: s.Hi, Vertical: true}},
		})
		p := figure.Plot{Title: "Which input matters", Desc: out.Say("The share of each input in the variance of the result."), Y: figure.Axis{Label: "Share", Unit: "%", Min: 0, Max: 100}}
		for i, b := range r.Budget {
			p.Bars = append(p.Bars, figure.Bar{Name: out.Say(names[i]), X: float64(i + 1), Width: 0.7, Hi: b.SharePct, Flag: i == r.Dominant})
		}
		out.Figure(p)
	}
	return nil
}

func meterLine() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "meter-line",
		Place:    catalogue.QualityDesk,
		Order:    16,
		Name:     "Meter against reference",
		Question: "What does this meter's reading stand for, by its own comparison with a reference?",
		Keywords: "calibration line regression oven moisture meter correction refractometer standard",
		Fields: []catalogue.Field{
			{ID: "x", Label: "Comparison", Kind: catalogue.Series, GoField: "x",
				Columns: []catalogue.Column{{ID: "r", Label: "Reference", Min: -1e9, Max: 1e9}, {ID: "m", Label: "Meter", Min: -1e9, Max: 1e9}},
				Example: "9.8 10.1\n10.6 10.8\n11.1 11.4\n11.9 12.1\n12.6 12.9", Help: "One lot a line: the reference first (the oven's moisture, in %), then the meter's reading; at least three"},
			given("y", "Reading", "y", "", -1e9, 1e9, "11.0", "y", "What the meter shows now"),
			given("n", "Readings averaged", "n", "", 1, 1e6, "1", "readings", "How many it is the mean of, like 1"),
		},
		Outputs: []catalogue.Output{
			{ID: "v", Label: "It stands for", Symbol: "v"},
			{ID: "U", Label: "Plus-minus, 95 %", Symbol: "U"},
			{ID: "a", Label: "Intercept of the line", Symbol: "a"},
			{ID: "b", Label: "Slope of the line", Symbol: "b"},
			{ID: "s", Label: "Scatter about the line", Symbol: "s"},
		},
		Compute:  computeMeterLine,
		Cautions: []string{"The line holds between its points, for this kind of coffee. The reference's own error is not in the plus-minus."},
		Sources:  []catalogue.Source{guide, {Name: "NIST Statistical Reference Datasets, Norris", Locator: "certified values", Provenance: "quoted"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/uncertainty", Quantity: "calibration line, slope"}, {Package: "checkpoint/uncertainty", Quantity: "calibration line, intercept"}, {Package: "checkpoint/uncertainty", Quantity: "calibration line, residual deviation"}},
	}
}

func computeMeterLine(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "n", "readings"); err != nil {
		return err
	}
	cols := in.Columns("x")
	l, err := uncertainty.FitLine(0, cols[0], cols[1])
	if err != nil {
		return err
	}
	q, notes, err := uncertainty.ReadBack(l, in.F("y"), in.Int("n"))
	if err != nil {
		return err
	}
	k, err := uncertainty.CoverageFactor(95, q.DF)
	if err != nil {
		return err
	}
	out.SetU("v", q.Value, q.U, "the scatter of the comparison")
	setSig(out, "U", k*q.U, 2)
	out.Set("a", l.Intercept)
	out.Set("b", l.Slope)
	setSig(out, "s", l.ResidualSD, 2)
	if !out.Full() {
		return nil
	}
	out.Work("v = (y - a)/b", "v", num4(q.Value), "y", in.Text("y"), "a", num4(l.Intercept), "b", num4(l.Slope))
	out.Work("U = t*u", "U", catalogue.Num(k*q.U, 2), "t", num4(k), "u", catalogue.Num(q.U, 2))
	if notes&uncertainty.OutsideLine != 0 {
		out.Note("The reading lies outside the points of the comparison.")
	}
	from, to := math.Min(l.MinX, q.Value), math.Max(l.MaxX, q.Value)
	at := func(v float64) float64 { return l.Intercept + l.Slope*v }
	shown := min(len(cols[0]), drawn)
	out.Figure(figure.Plot{
		Title: "The meter against its reference", Desc: out.Say("{} comparisons, the line through them, and the reading carried back by it.", counted(l.N)),
		X: figure.Axis{Label: "Reference"}, Y: figure.Axis{Label: "Meter"},
		Lines: []figure.Line{{Name: "line", X: []float64{from, to}, Y: []float64{at(from), at(to)}},
			{Name: "true meter", X: []float64{from, to}, Y: []float64{from, to}, Style: figure.Dotted}},
		Points: []figure.Points{{Name: "comparisons", X: cols[0][:shown], Y: cols[1][:shown]}, {Name: "reading", X: []float64{q.Value}, Y: []float64{in.F("y")}, Shape: figure.Diamond}},
	})
	return nil
}
