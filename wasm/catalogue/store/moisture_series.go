package store

import (
	"errors"
	"strconv"

	"example.org/evenlot/checkpoint/chart"
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

func roastSeries() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "roast-series",
		Place:    catalogue.Roaster,
		Order:    16,
		Name:     "Loss from batch to batch",
		Question: "Is the loss of these batches steady, or does one of them stand apart?",
		Keywords: "consistency control chart individuals weight loss series",
		Fields: []catalogue.Field{{ID: "batches", Label: "Batches of one roast, in order", Kind: catalogue.Series, GoField: "x",
			Columns: []catalogue.Column{
				{ID: "g", Label: "Green", Unit: "kg", Min: moisture.MinMassKg, Max: moisture.MaxMassKg},
				{ID: "r", Label: "Roasted", Unit: "kg", Min: moisture.MinMassKg, Max: moisture.MaxMassKg}},
			Example: "12.00 10.16\n12.00 10.14\n12.00 10.17\n12.00 10.13\n12.00 10.15\n12.00 10.16\n12.00 10.13\n12.00 10.15\n12.00 10.16\n12.00 10.14\n12.00 10.15\n12.00 10.04",
			Help:    "One batch a line: green, then roasted, in kg, of one coffee and one roast. Twenty or more make lines worth trusting"}},
		Outputs: []catalogue.Output{
			{ID: "apart", Label: "Batches that stand apart"},
			{ID: "mean", Label: "Mean loss, of green weight", Symbol: "L_m", Unit: "%"},
			{ID: "low", Label: "Lower line", Unit: "%"},
			{ID: "high", Label: "Upper line", Unit: "%"},
			{ID: "sigma", Label: "Standard deviation from batch to batch", Symbol: "s", Unit: "%"},
		},
		Compute: computeSeries,
		Cautions: []string{
			"A batch that stands apart asks for its cause: charge, probe, gas, weather, scale. A steady loss of a wrong roast is steady too.",
			roastCaution,
		},
		Sources: []catalogue.Source{
			{Name: "NIST/SEMATECH e-Handbook of Statistical Methods", Locator: "6.3.2.2", Provenance: "opened"},
			{Name: "Nelson, J. Quality Technology 16(4), 1984", Locator: "rules 1 and 5", Provenance: "quoted"},
		},
		Checks: []catalogue.Check{{Package: "moisture", Quantity: "typical total loss"}},
	}
}

func computeSeries(in *catalogue.In, out *catalogue.Out) error {
	cols := in.Columns("batches")
	loss, order := make([]float64, len(cols[0])), make([]float64, len(cols[0]))
	for i := range loss {
		l, err := moisture.TotalLoss(decimal.NewFromFloat(cols[0][i]), decimal.NewFromFloat(cols[1][i]))
		if none, ok := errors.AsType[*moisture.ImpossibleError](err); ok { // told with its row
			return &moisture.InputError{Fields: []*moisture.FieldError{{Field: "x[" + strconv.Itoa(i) + "]", Given: none.Given, Min: none.Min, Max: none.Max, Unit: none.Unit, Why: none.Why}}}
		}
		if err != nil {
			return err
		}
		loss[i], order[i] = l.InexactFloat64(), float64(i+1)
	}
	lines, err := chart.Individuals(loss)
	if err != nil {
		return err
	}
	found, err := chart.Check(loss, lines.Level, chart.DefaultRules)
	if err != nil {
		return err
	}
	apart := 0
	flagged := make([]bool, len(loss))
	for i, r := range found {
		if r != 0 {
			flagged[i] = true
			apart++
		}
	}
	out.SetCount("apart", apart)
	out.Set("mean", lines.Level.Centre)
	out.Set("low", lines.Level.Lower)
	out.Set("high", lines.Level.Upper)
	out.Set("sigma", lines.Level.Sigma)
	if !out.Full() {
		return nil
	}
	n := len(loss)
	out.Work("L = 100*(m_g - m_r)/m_g", "L", pct(loss[n-1], 4), "m_g", catalogue.Num(cols[0][n-1], 4)+" kg", "m_r", catalogue.Num(cols[1][n-1], 4)+" kg")
	out.Work("u = L_m + 3*s", "u", pct(lines.Level.Upper, 4), "L_m", pct(lines.Level.Centre, 4), "s", pct(lines.Level.Sigma, 3))
	for i, r := range found {
		if r != 0 {
			out.Note("Batch {}, {}: {}.", catalogue.Shortest(order[i]), pct(loss[i], 4), out.Say(r.String()))
		}
	}
	if n < 20 {
		out.Note("Fewer than twenty batches: the lines are a first guess.")
	}
	const most = 400
	from := max(n-most, 0)
	out.Figure(figure.Plot{
		Title:  "Loss of each batch",
		Desc:   out.Say("{} batches about {}; {} stand apart.", catalogue.Shortest(float64(n)), pct(lines.Level.Centre, 4), catalogue.Shortest(float64(apart))),
		X:      figure.Axis{Label: "Batch"},
		Y:      figure.Axis{Label: "Total loss", Unit: "%"},
		Lines:  []figure.Line{{Name: "loss", X: order[from:], Y: loss[from:]}},
		Points: []figure.Points{{Name: "batches", X: order[from:], Y: loss[from:], Flagged: flagged[from:]}},
		Marks:  []figure.Mark{{Name: "mean", At: lines.Level.Centre}, {Name: "upper line", At: lines.Level.Upper}, {Name: "lower line", At: lines.Level.Lower}},
	})
	return nil
}
