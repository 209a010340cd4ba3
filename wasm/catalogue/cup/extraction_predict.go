package cup

import (
	"example.org/evenlot/extraction"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func steepStrength() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "steeped-strength", Place: catalogue.CuppingTable, Order: 70,
		Name:     "Strength of a steeped brew",
		Question: "What strength does this bowl come to when it is left alone?",
		Keywords: "equilibrium immersion predict desorption cupping TDS",
		Fields: []catalogue.Field{
			doseField("10.0"), pouredField("165.0"),
			{ID: "e", Label: "Yield at rest", Symbol: "E", Unit: "%", Min: 5, Max: 40, Example: "23.9", PlusMinus: 1, GoField: "YieldPct", Help: "23.9 in the published cupping bowls, 22.2 decaffeinated, 21.5 over all ratios; or your own"},
		},
		Outputs: []catalogue.Output{
			{ID: "t", Label: "Strength at rest", Symbol: "T", Unit: "%"},
			{ID: "s", Label: "Dissolved", Symbol: "S", Unit: "g"},
		},
		Derived: []catalogue.Derived{{GoField: "Ratio", Label: "Water per coffee"}},
		Limits: []catalogue.Limit{{Output: "t", Lo: 1.15, Hi: 1.35, Source: golden,
			Caution: bowlWindow}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			r := in.F("w") / in.F("dose")
			s, err := extraction.Equilibrium(extraction.Steep{Ratio: r, YieldPct: in.F("e")})
			if err != nil {
				return err
			}
			out.Set("t", s.StrengthPct)
			out.Set("s", in.F("e")/100*in.F("dose"))
			if !out.Full() {
				return nil
			}
			out.Work("T = E/(W/D + E)", "T", sig4(s.StrengthPct, "%"), "E", in.Text("e"), "W", in.Text("w"), "D", in.Text("dose"))
			if s.Notes&extraction.Extrapolated != 0 {
				out.Note("The model was fitted at ratios of 3 to 25: this is outside.")
			}
			out.Note("Published for 80 to 99 °C, at rest: about 20 minutes at 1:25, 45 at 1:5. Measured strengths meet it at 1:5 to 1:15 and are 14 % lower at 1:25. After ten minutes a bowl is likely below it.")
			var x, mid, lo, hi []float64
			u := in.U("e")
			for i := range 61 {
				at := 3 + 22*float64(i)/60
				c, err := extraction.Equilibrium(extraction.Steep{Ratio: at, YieldPct: in.F("e"), YieldUPct: min(u, 10)})
				if err != nil {
					return err
				}
				x, mid = append(x, at), append(mid, c.StrengthPct)
				lo, hi = append(lo, c.StrengthPct-2*c.StrengthUPct), append(hi, c.StrengthPct+2*c.StrengthUPct)
			}
			out.Figure(figure.Plot{
				Title:  "Strength at rest, by ratio",
				Desc:   out.Say("Strength against water per coffee at a yield of {}; this bowl comes to {} %.", in.Text("e"), catalogue.Num(s.StrengthPct, 3)),
				X:      figure.Axis{Label: "Water per coffee", Unit: "g/g"},
				Y:      figure.Axis{Label: "Strength", Unit: "%"},
				Bands:  []figure.Band{{Name: "yield ± its plus-minus", X: x, Lo: lo, Hi: hi}},
				Lines:  []figure.Line{{Name: "at rest", X: x, Y: mid}},
				Points: []figure.Points{{Name: "this bowl", X: []float64{r}, Y: []float64{s.StrengthPct}}},
			})
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{liang, golden},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "strength of a full immersion at equilibrium"}, {Package: "extraction", Quantity: "yield of cupping bowls at equilibrium"}},
	}
}

func recipeFor() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "recipe-for-a-strength", Place: catalogue.BrewBar, Order: 16,
		Name:     "Recipe for a strength",
		Question: "Which dose and water give this strength, inside what the brewer takes?",
		Keywords: "target TDS yield dose water ratio limits",
		Fields: append([]catalogue.Field{
			{ID: "b", Label: "Beverage wanted", Symbol: "B", Unit: "g", Min: extraction.MinWaterG, Max: extraction.MaxWaterG, Example: "1000", GoField: "BeverageG", Help: "In the server, like 1000", Exact: true},
			{ID: "t", Label: "Strength wanted", Symbol: "T", Unit: "%", Min: extraction.MinStrengthPct, Max: extraction.MaxStrengthPct, Example: "1.30", GoField: "StrengthPct", Help: "Dissolved solids, percent by weight, like 1.30", Exact: true},
			{ID: "e", Label: "Yield to expect", Symbol: "E", Unit: "%", Min: extraction.MinYieldPct, Max: 60, Example: "20.0", PlusMinus: 1, GoField: "YieldPct", Help: "Of this coffee and grind, by an earlier brew, like 20.0"},
		}, append(methodFields(),
			catalogue.Field{ID: "dmin", Label: "Least coffee the brewer takes", Unit: "g", Min: extraction.MinDoseG, Max: extraction.MaxDoseG, Example: "30", GoField: "DoseMinG", Help: "Like 30", Exact: true},
			catalogue.Field{ID: "dmax", Label: "Most coffee the brewer takes", Unit: "g", Min: extraction.MinDoseG, Max: extraction.MaxDoseG, Example: "90", GoField: "DoseMaxG", Help: "Like 90", Exact: true},
			catalogue.Field{ID: "wmax", Label: "Most water the brewer takes", Unit: "g", Min: extraction.MinWaterG, Max: extraction.MaxWaterG, Example: "1250", GoField: "WaterMaxG", Help: "Like 1250", Exact: true})...),
		Outputs: []catalogue.Output{
			{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g"},
			{ID: "water", Label: "Water", Symbol: "W", Unit: "g"},
			{ID: "ratio", Label: "Water per coffee", Symbol: "R", Unit: "g/g"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			m := methodOf(in)
			r, err := extraction.RecipeFor(extraction.Goal{Method: m, BeverageG: in.F("b"), StrengthPct: in.F("t"), YieldPct: in.F("e"),
				DoseMinG: in.F("dmin"), DoseMaxG: in.F("dmax"), WaterMaxG: in.F("wmax")})
			if err != nil {
				return err
			}
			out.Set("dose", r.DoseG)
			out.Set("water", r.WaterG)
			out.Set("ratio", r.Ratio)
			if !out.Full() {
				return nil
			}
			out.Work("R = E/T - E + λ*(1 - q)", "R", sig4(r.Ratio, "g/g"), "E", in.Text("e"), "T", in.Text("t"), "λ", in.Text("liquid"), "q", in.Text("share"))
			out.Work("D = B/(R + E - λ)", "D", sig4(r.DoseG, "g"), "B", in.Text("b"), "R", sig4(r.Ratio, ""), "E", in.Text("e"), "λ", in.Text("liquid"))
			yieldNotes(out, r.Notes)
			out.Note("To weigh: {} of coffee, {} of water.", sig4(r.DoseG, "g"), sig4(r.WaterG, "g"))
			out.Note("The yield is an expectation. Another grind moves it much, another ratio a little: measure the cup.")
			u := extraction.YieldU{YieldPct: in.F("e"), UPct: in.U("e"), StrengthPct: in.F("t")}
			out.Figure(strengthMap(out, m, u))
			out.Note(mapNote)
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{balance, golden, europe},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "strength window"}, {Package: "extraction", Quantity: "yield window"}},
	}
}

func strengthAfter() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "change-the-ratio", Place: catalogue.BrewBar, Order: 18,
		Name:     "Change the ratio",
		Question: "What strength comes of another dose or water, when the yield stays?",
		Keywords: "stronger weaker dose water TDS",
		Fields: append([]catalogue.Field{
			strengthField("1.22"),
			{ID: "r", Label: "Its water per coffee", Symbol: "R", Unit: "g/g", Min: extraction.MinRatio, Max: extraction.MaxRatio, Example: "17.0", GoField: "Ratio", Help: "The x of 1:x, like 17.0"},
			{ID: "r2", Label: "Water per coffee after the change", Symbol: "R_2", Unit: "g/g", Min: extraction.MinRatio, Max: extraction.MaxRatio, Example: "16.0", GoField: "ToRatio", Help: "The x of 1:x, like 16.0"},
		}, methodFields()...),
		Outputs: []catalogue.Output{
			{ID: "t2", Label: "Strength after the change", Symbol: "T_2", Unit: "%"},
			{ID: "e", Label: "Yield, before and after", Symbol: "E", Unit: "%"},
		},
		Limits: []catalogue.Limit{{Output: "t2", Lo: 1.15, Hi: 1.35, Source: golden}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			m := methodOf(in)
			t2, e, err := extraction.StrengthAfter(extraction.Changed{Method: m, StrengthPct: in.F("t"), Ratio: in.F("r"), ToRatio: in.F("r2")})
			if err != nil {
				return err
			}
			out.Set("t2", t2)
			out.Set("e", e)
			if !out.Full() {
				return nil
			}
			out.Work("E = T*(R - λ*(1 - q))/(1 - T)", "E", sig4(e, "%"), "T", in.Text("t"), "R", in.Text("r"), "λ", in.Text("liquid"), "q", in.Text("share"))
			out.Work("T_2 = E/(R_2 + E - λ*(1 - q))", "T_2", sig4(t2, "%"), "E", sig4(e, "%"), "R_2", in.Text("r2"), "λ", in.Text("liquid"), "q", in.Text("share"))
			out.Note("In a steeped brew the yield stays. In a filter more water also washes a little more out, so that the true strength falls a little less.")
			plot := strengthMap(out, m, extraction.YieldU{YieldPct: e, StrengthPct: in.F("t"), StrengthUPct: in.U("t")})
			plot.Arrows = []figure.Arrow{{Name: "the change", FromX: e, FromY: in.F("t"), ToX: e, ToY: t2}}
			plot.Y.Min, plot.Y.Max = min(plot.Y.Min, 0.9*t2), max(plot.Y.Max, 1.1*t2)
			out.Figure(plot)
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{balance, liang, golden},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "extraction yield, general balance"}, {Package: "extraction", Quantity: "yield of a full immersion at equilibrium"}},
	}
}
