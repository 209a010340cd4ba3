package store

import (
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func dryBasis() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "moisture-basis",
		Place:    catalogue.GreenStore,
		Order:    44,
		Name:     "Wet and dry basis",
		Question: "What is this moisture on dry basis, as papers print it?",
		Keywords: "convert water content w.b. d.b.",
		Fields:   []catalogue.Field{content("m", "Moisture, wet basis", "M", "12.0", "MoisturePct")},
		Outputs:  []catalogue.Output{{ID: "x", Label: "Moisture, dry basis", Symbol: "X", Unit: "%"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			m := in.F("m")
			x, err := moisture.DryBasis(m)
			if err != nil {
				return err
			}
			out.Set("x", x)
			if !out.Full() {
				return nil
			}
			out.Work("X = 100*M/(100 - M)", "X", pct(x, 4), "M", in.Text("m"))
			out.Note("Wet basis is water per bean, dry basis water per dry matter: the dry figure is always the larger one.")
			g := grid(moisture.MinMoisturePct, max(25, min(m*1.2, moisture.MaxMoisturePct)), 60)
			out.Figure(figure.Plot{
				Title:  "Dry basis against wet basis",
				Desc:   out.Say("Dry-basis moisture rises ever faster than wet-basis moisture; here {} is {}.", in.Text("m"), pct(x, 4)),
				X:      figure.Axis{Label: "Wet basis", Unit: "%"},
				Y:      figure.Axis{Label: "Dry basis", Unit: "%"},
				Lines:  []figure.Line{{Name: "dry basis", X: g, Y: each(g, func(m float64) float64 { return 100 * m / (100 - m) })}},
				Points: []figure.Points{{Name: "this one", X: []float64{m}, Y: []float64{x}}},
			})
			return nil
		},
		Sources: []catalogue.Source{balance},
		Checks:  []catalogue.Check{{Package: "moisture", Quantity: "dry-basis moisture as a fraction"}},
	}
}
