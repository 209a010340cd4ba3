package cup

import (
	"example.org/evenlot/extraction"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

// massFlow draws where each gram of solids and water went.
func massFlow(out *catalogue.Out, b extraction.Balance, dose, water, bypass float64) figure.Flow {
	f := figure.Flow{
		Title: "Where each gram went", Unit: "g",
		Desc: out.Say("Of {} g of coffee, {} g are dissolved in the cup, {} g dissolved in what the grounds kept, {} g stayed solid.",
			catalogue.Num(dose, 3), catalogue.Num(b.CupSolidsG, 3), catalogue.Num(b.RetainedSolidsG, 3), catalogue.Num(b.UndissolvedG, 3)),
		From: []figure.Share{{Name: "coffee", Amount: dose}, {Name: "water poured", Amount: water}},
		To: []figure.Share{
			{Name: "solids in the cup", Amount: b.CupSolidsG},
			{Name: "water in the cup", Amount: b.CupWaterG + bypass},
			{Name: "solids left in the grounds' liquid", Amount: b.RetainedSolidsG},
			{Name: "water left in the grounds", Amount: b.RetainedWaterG},
			{Name: "grounds", Amount: b.UndissolvedG},
		},
		Links: []figure.Link{
			{From: 0, To: 0, Amount: b.CupSolidsG}, {From: 0, To: 2, Amount: b.RetainedSolidsG}, {From: 0, To: 4, Amount: b.UndissolvedG},
			{From: 1, To: 1, Amount: b.CupWaterG}, {From: 1, To: 3, Amount: b.RetainedWaterG},
		},
	}
	if bypass > 0 {
		f.From = append(f.From, figure.Share{Name: "bypass", Amount: bypass})
		f.Links = append(f.Links, figure.Link{From: 2, To: 1, Amount: bypass})
	}
	return f
}

func yieldNotes(out *catalogue.Out, n extraction.Notes) {
	switch {
	case n&extraction.AboveSoluble != 0:
		out.Note("This is more than any published total of solubles (36 %): a strength or a weight is wrong.")
	case n&extraction.HighYield != 0:
		out.Note("This is more than most coffees give below 100 °C (about 30 %): check strength and weights.")
	case n&extraction.LowYield != 0:
		out.Note("This is less than a finished brew gives (10 %): check strength and weights.")
	}
	if n&extraction.RetainedStronger != 0 {
		out.Note("The liquid left in the grounds is stronger than the cup, which no finished brew shows.")
	}
}

func bowlYield() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "bowl-yield", Place: catalogue.CuppingTable, Order: 60,
		Name:     "Yield of a bowl",
		Question: "How much of the coffee dissolved in this bowl?",
		Keywords: "extraction EY immersion cupping strength TDS steeped",
		Fields:   []catalogue.Field{doseField("10.0"), pouredField("165.0"), strengthField("1.25")},
		Outputs: []catalogue.Output{
			{ID: "yield", Label: "Extraction yield", Symbol: "E", Unit: "%"},
			{ID: "solids", Label: "Dissolved", Symbol: "S", Unit: "g"},
			{ID: "rest", Label: "Strength this bowl comes to at rest", Unit: "%"},
		},
		Limits: []catalogue.Limit{{Output: "yield", Lo: 18, Hi: 22, Source: golden,
			Caution: bowlWindow}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			d, w, t := in.F("dose"), in.F("w"), in.F("t")
			b, err := extraction.ImmersionYield(extraction.Immersion{DoseG: d, WaterG: w, StrengthPct: t})
			if err != nil {
				return err
			}
			out.Set("yield", b.YieldPct)
			out.Set("solids", b.DissolvedG)
			s, err := extraction.Equilibrium(extraction.Steep{Ratio: w / d, YieldPct: extraction.CuppingYieldPct, YieldUPct: extraction.DesorptionYieldUPct})
			if err == nil {
				out.SetU("rest", s.StrengthPct, s.StrengthUPct, "the spread of published yields")
			}
			if !out.Full() {
				return nil
			}
			out.Work("E = T/(1 - T)*W/D", "E", sig4(b.YieldPct, "%"), "T", in.Text("t"), "W", in.Text("w"), "D", in.Text("dose"))
			yieldNotes(out, b.Notes)
			out.Note("The bowl is taken as one liquid of one strength: how much is spooned off does not matter. Water that evaporates from an open bowl makes both read high.")
			out.Note("At rest means left alone, 20 minutes and more: a bowl tasted after ten is likely below it.")
			u, err := extraction.ImmersionUncertainty(extraction.Immersion{DoseG: d, WaterG: w, StrengthPct: t},
				extraction.BrewU{DoseG: in.U("dose"), WaterG: in.U("w"), StrengthPct: in.U("t")})
			if err != nil {
				return err
			}
			out.Figure(strengthMap(out, bowlMethod, u))
			out.Note(mapNote)
			out.Figure(figure.Flow{
				Title: "Where each gram of the bowl is", Unit: "g",
				Desc:  out.Say("{} g of {} g of coffee are dissolved in {} g of water.", catalogue.Num(b.DissolvedG, 3), catalogue.Num(d, 3), catalogue.Num(w, 4)),
				From:  []figure.Share{{Name: "coffee", Amount: d}, {Name: "water poured", Amount: w}},
				To:    []figure.Share{{Name: "dissolved", Amount: b.DissolvedG}, {Name: "water", Amount: w}, {Name: "grounds", Amount: d - b.DissolvedG}},
				Links: []figure.Link{{From: 0, To: 0, Amount: b.DissolvedG}, {From: 0, To: 2, Amount: d - b.DissolvedG}, {From: 1, To: 1, Amount: w}},
			})
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{liang, golden, europe, gum},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "extraction yield, immersion"}, {Package: "extraction", Quantity: "standard uncertainty of a yield, immersion"}, {Package: "extraction", Quantity: "yield of cupping bowls at equilibrium"}},
	}
}

func brewYield() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "brew-yield", Place: catalogue.BrewBar, Order: 12,
		Name:     "Yield of a brew",
		Question: "How much of the coffee dissolved, and where did each gram go?",
		Keywords: "extraction EY filter pour over espresso immersion TDS strength map bypass dry dose balance",
		Fields: []catalogue.Field{
			{ID: "how", Label: "The brewer", Kind: catalogue.Choice, Example: "drains",
				Choices: []catalogue.Option{{ID: "drains", Label: "Water drains through the coffee"}, {ID: "steeps", Label: "Coffee steeps, then it is poured or pressed off"}},
				Help:    "Decides how strong the liquid left in the grounds is"},
			doseField("15.0"), pouredField("250"),
			{ID: "b", Label: "Beverage", Symbol: "B", Unit: "g", Min: extraction.MinWaterG, Max: extraction.MaxWaterG, Example: "220", PlusMinus: 0.5, GoField: "BeverageG", Help: "In the server, bypass included, like 220"},
			strengthField("1.40"),
			{ID: "tr", Label: "Strength of the last drops", Symbol: "T_r", Unit: "%", Max: extraction.MaxStrengthPct, Example: "0.8", PlusMinus: 0.1, GoField: "RetainedStrengthPct", Help: "Or of liquid pressed from the grounds, like 0.8; empty when it is taken as clean. A steeped brew does not ask", Optional: true},
			{ID: "p", Label: "Bypass", Symbol: "P", Unit: "g", Max: extraction.MaxWaterG, GoField: "BypassG", Help: "Water added beside the coffee, in grams; empty for none", Optional: true},
			{ID: "m", Label: "Moisture of the coffee", Symbol: "m", Unit: "%", Max: 15, Example: "2.0", PlusMinus: 0.3, GoField: "MoisturePct", Help: "Wet basis, like 2.0, for the yield per dry coffee; empty to leave it out", Optional: true},
			{ID: "gas", Label: "Gas in the coffee", Symbol: "c", Unit: "%", Max: 3, PlusMinus: 0.2, GoField: "GasPct", Help: "Carbon dioxide, in percent of its weight; empty when the oven's moisture has it already", Optional: true},
		},
		Outputs: []catalogue.Output{
			{ID: "yield", Label: "Extraction yield", Symbol: "E", Unit: "%"},
			{ID: "cup", Label: "Yield in the cup", Symbol: "E_c", Unit: "%"},
			{ID: "before", Label: "Strength before the bypass", Symbol: "T_1", Unit: "%"},
			{ID: "dry", Label: "Yield per dry coffee", Unit: "%"},
			{ID: "keep", Label: "Liquid kept by the grounds", Symbol: "λ", Unit: "g/g"},
		},
		Limits: []catalogue.Limit{{Output: "cup", Lo: 18, Hi: 22, Source: golden,
			Caution: "The window is a finding of taste about filter coffee, not a law."}},
		Compute:  computeBrewYield,
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{balance, liang, golden, europe, gum},
		Checks: []catalogue.Check{{Package: "extraction", Quantity: "extraction yield, draining"}, {Package: "extraction", Quantity: "extraction yield, immersion"},
			{Package: "extraction", Quantity: "extraction yield, general balance"}, {Package: "extraction", Quantity: "standard uncertainty of a yield, draining"}},
	}
}

func computeBrewYield(in *catalogue.In, out *catalogue.Out) error {
	steeps := in.Choice("how") == "steeps"
	brew := extraction.Brew{DoseG: in.F("dose"), WaterG: in.F("w"), BeverageG: in.F("b"), StrengthPct: in.F("t"), RetainedStrengthPct: in.F("tr")}
	bypass := in.F("p")
	if steeps && bypass < brew.BeverageG { // the grounds hold what the cup held before the bypass
		brew.RetainedStrengthPct = brew.StrengthPct * brew.BeverageG / (brew.BeverageG - bypass)
	}
	b, before, err := extraction.BypassYield(extraction.Bypassed{Brew: brew, BypassG: bypass})
	if err != nil {
		return err
	}
	out.Set("yield", b.YieldPct)
	out.Set("cup", b.CupYieldPct)
	kept := (b.RetainedWaterG + b.RetainedSolidsG) / brew.DoseG
	out.Set("keep", kept)
	if bypass > 0 {
		out.Set("before", before)
	}
	dry := 0.0
	if in.Has("m") || in.Has("gas") {
		f, err := extraction.DryFactor(extraction.Bean{MoisturePct: in.F("m"), GasPct: in.F("gas")})
		if err != nil {
			return err
		}
		dry = b.YieldPct * f
		out.Set("dry", dry)
	}
	if !out.Full() {
		return nil
	}
	brew.BeverageG -= bypass
	brew.StrengthPct = before
	if bypass > 0 {
		out.Work("T_1 = T*B/(B - P)", "T_1", sig4(before, "%"), "T", in.Text("t"), "B", in.Text("b"), "P", in.Text("p"))
	}
	out.Work("S = (B_1*(T_1 - T_r) + W*T_r)/(1 - T_r)", "S", sig4(b.DissolvedG, "g"), "B_1", sig4(brew.BeverageG, "g"), "T_1", sig4(before, "%"),
		"T_r", sig4(brew.RetainedStrengthPct, "%"), "W", in.Text("w"))
	out.Work("E = S/D", "E", sig4(b.YieldPct, "%"), "S", sig4(b.DissolvedG, "g"), "D", in.Text("dose"))
	out.Work("E_c = T*B/D", "E_c", sig4(b.CupYieldPct, "%"), "T", in.Text("t"), "B", in.Text("b"), "D", in.Text("dose"))
	if dry > 0 {
		out.Work("E_dry = E/(1 - m - c)", "E_dry", sig4(dry, "%"), "E", sig4(b.YieldPct, "%"), "m", sig4(in.F("m"), "%"), "c", sig4(in.F("gas"), "%"))
	}
	yieldNotes(out, b.Notes)
	if !steeps && !in.Has("tr") {
		out.Note("The liquid left in the grounds is taken as clean: the true yield is this or more, by up to two points when the last drops are strong.")
	}
	u := extraction.BrewU{DoseG: in.U("dose"), WaterG: in.U("w"), BeverageG: in.U("b"), StrengthPct: in.U("t"), RetainedStrengthPct: in.U("tr")}
	var known extraction.YieldU
	if steeps {
		known, err = extraction.ImmersionUncertainty(extraction.Immersion{DoseG: brew.DoseG, WaterG: brew.WaterG, StrengthPct: before}, u)
	} else {
		known, err = extraction.YieldUncertainty(brew, u)
	}
	if err != nil {
		return err
	}
	out.Figure(massFlow(out, b, brew.DoseG, brew.WaterG, bypass))
	m := extraction.Method{LiquidGPerG: min(kept, 6), RetainedSharePct: min(100, 100*brew.RetainedStrengthPct/before)}
	if kept < 0 { // rounding of a brew that kept nothing
		m.LiquidGPerG = 0
	}
	out.Figure(strengthMap(out, m, known))
	out.Note(mapNote)
	if bypass > 0 {
		out.Note("The map shows the brew before the bypass.")
	}
	return nil
}
