package cup

import (
	"example.org/evenlot/extraction"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func dilute() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "dilute-to-strength", Place: catalogue.BrewBar, Order: 24,
		Name:     "Thin to a strength",
		Question: "How much water, or other brew, brings this one to a strength?",
		Keywords: "dilute concentrate cold brew water add TDS",
		Fields: []catalogue.Field{
			{ID: "b", Label: "Brew at hand", Symbol: "B", Unit: "g", Min: 0.1, Max: extraction.MaxWaterG, Example: "500", GoField: "BrewG", Help: "Like 500"},
			{ID: "t", Label: "Its strength", Symbol: "T", Unit: "%", Max: 100, Example: "1.62", PlusMinus: 0.05, GoField: "StrengthPct", Help: "Like 1.62"},
			{ID: "to", Label: "Strength wanted", Symbol: "T_2", Unit: "%", Min: 0.01, Max: 100, Example: "1.35", GoField: "ToStrengthPct", Help: "Like 1.35", Exact: true},
			{ID: "with", Label: "Strength of what is added", Symbol: "T_x", Unit: "%", Max: 100, Example: "0", GoField: "WithPct", Help: "0 for water"},
		},
		Outputs: []catalogue.Output{{ID: "x", Label: "To add", Symbol: "x", Unit: "g"}, {ID: "all", Label: "Together", Unit: "g"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			x, err := extraction.Dilute(extraction.Dilution{BrewG: in.F("b"), StrengthPct: in.F("t"), WithPct: in.F("with"), ToStrengthPct: in.F("to")})
			if err != nil {
				return err
			}
			out.Set("x", x)
			out.Set("all", x+in.F("b"))
			if out.Full() {
				out.Work("x = B*(T - T_2)/(T_2 - T_x)", "x", sig4(x, "g"), "B", in.Text("b"), "T", in.Text("t"), "T_2", in.Text("to"), "T_x", in.Text("with"))
				out.Note("Thinning moves the strength and leaves the yield alone.")
				b, t, w := in.F("b"), in.F("t")/100, in.F("with")/100
				out.Figure(mixture(out, "brew at hand", "added", b, t, x, w))
			}
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{balance},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "what to add for a strength"}, {Package: "extraction", Quantity: "strength of a blend"}},
	}
}

// mixture draws solids and water of two parts in one.
func mixture(out *catalogue.Out, first, second string, a, ta, b, tb float64) figure.Flow {
	return figure.Flow{
		Title: "Solids and water of the two", Unit: "g",
		Desc: out.Say("{} g and {} g together hold {} g of solids.", catalogue.Num(a, 4), catalogue.Num(b, 4), catalogue.Num(a*ta+b*tb, 3)),
		From: []figure.Share{{Name: first, Amount: a}, {Name: second, Amount: b}},
		To:   []figure.Share{{Name: "solids", Amount: a*ta + b*tb}, {Name: "water", Amount: a*(1-ta) + b*(1-tb)}},
		Links: []figure.Link{{From: 0, To: 0, Amount: a * ta}, {From: 0, To: 1, Amount: a * (1 - ta)},
			{From: 1, To: 0, Amount: b * tb}, {From: 1, To: 1, Amount: b * (1 - tb)}},
	}
}

func blendTwo() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "blend-to-strength", Place: catalogue.BrewBar, Order: 26,
		Name:     "Blend two brews",
		Question: "How much of each of two brews makes this much of a strength?",
		Keywords: "mix concentrate batch alligation TDS",
		Fields: []catalogue.Field{
			{ID: "t1", Label: "Strength of the first", Symbol: "T_1", Unit: "%", Max: 100, Example: "3.60", PlusMinus: 0.1, GoField: "FirstPct", Help: "Like 3.60"},
			{ID: "t2", Label: "Strength of the second", Symbol: "T_2", Unit: "%", Max: 100, Example: "0", GoField: "SecondPct", Help: "Like 1.20; 0 for water"},
			{ID: "t", Label: "Strength wanted", Symbol: "T", Unit: "%", Max: 100, Example: "1.35", GoField: "ToStrengthPct", Help: "Between the two, like 1.35", Exact: true},
			{ID: "m", Label: "How much", Symbol: "M", Unit: "g", Min: 0.1, Max: extraction.MaxMassG, Example: "300", GoField: "TotalG", Help: "Together, like 300", Exact: true},
		},
		Outputs: []catalogue.Output{{ID: "m1", Label: "Of the first", Symbol: "m_1", Unit: "g"}, {ID: "m2", Label: "Of the second", Symbol: "m_2", Unit: "g"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			a, b, err := extraction.BlendParts(extraction.TwoBrews{FirstPct: in.F("t1"), SecondPct: in.F("t2"), ToStrengthPct: in.F("t"), TotalG: in.F("m")})
			if err != nil {
				return err
			}
			out.Set("m1", a)
			out.Set("m2", b)
			if out.Full() {
				out.Work("m_1 = M*(T - T_2)/(T_1 - T_2)", "m_1", sig4(a, "g"), "M", in.Text("m"), "T", in.Text("t"), "T_2", in.Text("t2"), "T_1", in.Text("t1"))
				out.Work("m_2 = M - m_1", "m_2", sig4(b, "g"), "M", in.Text("m"), "m_1", sig4(a, "g"))
				out.Figure(mixture(out, "first", "second", a, in.F("t1")/100, b, in.F("t2")/100))
			}
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{balance, {Name: "the mixing rule, two study pages", Locator: "worked examples", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "parts of the stronger brew"}, {Package: "extraction", Quantity: "parts of the weaker brew"}},
	}
}
