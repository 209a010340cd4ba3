package store

import (
	"math"

	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func meterAgainstOven() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "moisture-meter",
		Place:    catalogue.GreenStore,
		Order:    22,
		Name:     "Quick meter against the oven",
		Question: "What would the oven say to this reading of our quick meter?",
		Keywords: "calibration bias slope limits of agreement correction capacitance",
		Fields: []catalogue.Field{
			{ID: "pairs", Label: "Samples measured by both", Kind: catalogue.Series, GoField: "Pairs",
				Columns: []catalogue.Column{
					{ID: "r", Label: "Meter", Unit: "%", Min: moisture.MinMoisturePct, Max: moisture.MaxMoisturePct},
					{ID: "o", Label: "Oven", Unit: "%", Min: moisture.MinMoisturePct, Max: moisture.MaxMoisturePct}},
				Example: "9.6 9.1\n10.1 9.8\n10.4 9.9\n10.9 10.5\n11.2 10.9\n11.4 10.9\n11.8 11.5\n12.3 11.9\n12.6 12.4\n13.1 12.7",
				Help:    "One sample a line: the meter, then the oven, in percent. Ten or more over the range that you buy"},
			number("r", "Reading to correct", "R", "%", moisture.MinMoisturePct, moisture.MaxMoisturePct, "11.9", 0, "MeterPct", "As the meter shows it, like 11.9"),
		},
		Outputs: []catalogue.Output{
			{ID: "o", Label: "Corrected moisture, wet basis", Symbol: "O", Unit: "%"},
			{ID: "bias", Label: "Meter less oven, on average", Symbol: "D", Unit: "%"},
			{ID: "low", Label: "Lower limit of agreement", Unit: "%"},
			{ID: "high", Label: "Upper limit of agreement", Unit: "%"},
			{ID: "slope", Label: "Slope of the line", Symbol: "b"},
			{ID: "offset", Label: "Offset of the line", Symbol: "a", Unit: "%"},
		},
		Compute:  computeMeter,
		Cautions: []string{meterCaution},
		Sources: []catalogue.Source{
			{Name: "Bland & Altman, Lancet 327:307–310, 1986", Locator: "limits of agreement", Provenance: "memory"},
			{Name: "Draper & Smith, Applied Regression Analysis", Locator: "prediction of one new observation", Provenance: "memory"},
		},
		Checks: []catalogue.Check{{Package: "moisture", Quantity: "bias of two meters"}, {Package: "moisture", Quantity: "slope of a line"}},
	}
}

func computeMeter(in *catalogue.In, out *catalogue.Out) error {
	cols := in.Columns("pairs")
	pairs := make([]moisture.MeterPair, len(cols[0]))
	for i := range pairs {
		pairs[i] = moisture.MeterPair{MeterPct: cols[0][i], OvenPct: cols[1][i]}
	}
	c, err := moisture.CalibrateMeter(pairs)
	if err != nil {
		return err
	}
	r, err := moisture.CorrectedReading(c, in.F("r"))
	if err != nil {
		return err
	}
	out.SetU("o", r.MoisturePct, r.SEPct, "scatter of the pairs")
	out.SetU("bias", c.BiasPct, c.BiasSEPct, "scatter of the pairs")
	out.Set("low", c.AgreeLowPct)
	out.Set("high", c.AgreeHighPct)
	out.SetU("slope", c.SlopeRatio, c.SlopeSERatio, "scatter of the pairs")
	out.SetU("offset", c.OffsetPct, c.OffsetSEPct, "scatter of the pairs")
	if !out.Full() {
		return nil
	}
	out.Work("O = a + b*R", "O", pct(r.MoisturePct, 4), "a", catalogue.Num(c.OffsetPct, 4), "b", catalogue.Num(c.SlopeRatio, 4), "R", in.Text("r"))
	out.Work("u = s*sqrt(1 + 1/n + (R - R_m)^2/S)", "u", pct(r.SEPct, 2), "s", catalogue.Num(c.ResidualPct, 3), "n", catalogue.Shortest(float64(c.PairsCount)),
		"R", in.Text("r"), "R_m", catalogue.Num(c.MeanPct, 4), "S", catalogue.Num(c.SpreadPct2, 4))
	out.Note("With 95 % the oven lies between {} and {}.", pct(r.LowPct, 4), pct(r.HighPct, 4))
	out.Note("One reading of the meter alone lies between {} and {} off the oven, 95 of 100 times.", pct(c.AgreeLowPct, 2), pct(c.AgreeHighPct, 2))
	say(out, r.Notes)
	lo, hi := math.Min(c.LowestPct, in.F("r")), math.Max(c.HighestPct, in.F("r"))
	g := grid(lo, hi, 40)
	mid, below, above := make([]float64, len(g)), make([]float64, len(g)), make([]float64, len(g))
	for i, x := range g {
		p, err := moisture.CorrectedReading(c, x)
		if err != nil {
			return err
		}
		mid[i], below[i], above[i] = p.MoisturePct, p.LowPct, p.HighPct
	}
	out.Figure(figure.Plot{
		Title:  "Oven against meter",
		Desc:   out.Say("{} samples by meter and oven, the line through them and the band in which one new oven result lies; {} on the meter is {} by the oven.", catalogue.Shortest(float64(c.PairsCount)), in.Text("r"), pct(r.MoisturePct, 3)),
		X:      figure.Axis{Label: "Meter", Unit: "%"},
		Y:      figure.Axis{Label: "Oven", Unit: "%"},
		Bands:  []figure.Band{{Name: "95 % of new results", X: g, Lo: below, Hi: above}},
		Lines:  []figure.Line{{Name: "line", X: g, Y: mid}},
		Points: []figure.Points{{Name: "samples", X: cols[0], Y: cols[1]}, {Name: "this reading", X: []float64{in.F("r")}, Y: []float64{r.MoisturePct}, Shape: figure.Diamond}},
	})
	return nil
}
