package cup

import (
	"example.org/evenlot/brewratio"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

var (
	balance  = catalogue.Source{Name: "conservation of mass", Provenance: "derived"}
	retained = catalogue.Source{Name: "training lesson 2.0 to 2.5, brewing control chart 1.5 g/g", Locator: "what a drained filter keeps", Provenance: "opened"}
)

func keepField() catalogue.Field {
	return catalogue.Field{ID: "keep", Label: "What the grounds keep", Symbol: "λ", Unit: "g/g", Max: brewratio.MaxRetainedGPerG, Example: "2.1", PlusMinus: 0.2, GoField: "RetainedGPerG", Help: "Grams of water for each gram of coffee: about 2.1 for a drained filter, 2.5 for a steeped brew; weigh yours below"}
}

func planFields(share catalogue.Field) []catalogue.Field {
	return []catalogue.Field{
		{ID: "b", Label: "Beverage wanted", Symbol: "B", Unit: "g", Min: brewratio.MinWaterG, Max: brewratio.MaxWaterG, Example: "1000", GoField: "BeverageG", Help: "In the server, like 1000", Exact: true},
		ratioField("16.5"), keepField(), share,
	}
}

func plannedBrew(in *catalogue.In, share string) (brewratio.Plan, error) {
	return brewratio.PlanBrew(brewratio.Wanted{BeverageG: in.D("b"), Ratio: in.D("r"), RetainedGPerG: in.D("keep"), BypassPct: in.D(share)})
}

// planWorking shows the lines that both plans share; a division is that of the
// scale, zero where none is asked for.
func planWorking(in *catalogue.In, out *catalogue.Out, p brewratio.Plan, share string, division decimal.Decimal) error {
	weigh := func(g decimal.Decimal) (string, error) {
		if division.IsZero() {
			return dec4(g, "g"), nil
		}
		shown, err := onScale(g, division)
		return shown + " g", err
	}
	dose, err := weigh(p.DoseG)
	if err != nil {
		return err
	}
	water, err := weigh(p.BrewWaterG)
	if err != nil {
		return err
	}
	out.Work("D = B/(R - λ)", "D", dec4(p.DoseG, "g"), "B", in.Text("b"), "R", in.Text("r"), "λ", in.Text("keep"))
	out.Work("W_p = D*R*p/100", "W_p", dec4(p.BypassG, "g"), "D", dec4(p.DoseG, "g"), "R", in.Text("r"), "p", plain(in.D(share)))
	out.Work("W_b = D*R - W_p", "W_b", dec4(p.BrewWaterG, "g"), "D", dec4(p.DoseG, "g"), "R", in.Text("r"), "W_p", dec4(p.BypassG, "g"))
	out.Note("To weigh by this plan: {} of coffee, {} of water on it.", dose, water)
	if p.Notes&brewratio.UnusualRatio != 0 {
		out.Note("Water poured on the coffee, per coffee, is outside what recipes use.")
	}
	return nil
}

// planFlow draws where the water of a plan goes.
func planFlow(out *catalogue.Out, p brewratio.Plan, beside string) figure.Flow {
	f := figure.Flow{
		Title: "Where the water goes", Unit: "g",
		Desc: out.Say("{} on the coffee; {} stay in the grounds, {} are served.", dec4(p.BrewWaterG, "g"), dec4(p.RetainedG, "g"), dec4(p.BeverageG, "g")),
		From: []figure.Share{{Name: "on the coffee", Amount: p.BrewWaterG.InexactFloat64()}},
		To:   []figure.Share{{Name: "served", Amount: p.BeverageG.InexactFloat64()}, {Name: "kept by the grounds", Amount: p.RetainedG.InexactFloat64()}},
		Links: []figure.Link{
			{From: 0, To: 0, Amount: p.BrewedG.InexactFloat64()}, {From: 0, To: 1, Amount: p.RetainedG.InexactFloat64()},
		},
	}
	if p.BypassG.IsPositive() {
		f.From = append(f.From, figure.Share{Name: beside, Amount: p.BypassG.InexactFloat64()})
		f.Links = append(f.Links, figure.Link{From: 1, To: 0, Amount: p.BypassG.InexactFloat64()})
	}
	return f
}

func brewPlan() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "brew-plan", Place: catalogue.BrewBar, Order: 10,
		Name:     "Plan a brew",
		Question: "How much coffee and water give this much in the server?",
		Keywords: "dose batch brewer bypass pours pour over recipe scale retained water",
		Fields: append(planFields(catalogue.Field{ID: "p", Label: "Share of the water that bypasses the coffee", Symbol: "p", Unit: "%", Max: 90, Example: "0", GoField: "BypassPct", Help: "Of all water, like 20; 0 for none", Exact: true}),
			divisionField("d", "DivisionG"),
			catalogue.Field{ID: "pours", Label: "Pours", Kind: catalogue.Series, Whole: true, Optional: true, GoField: "SharesPct",
				Columns: []catalogue.Column{{ID: "s", Label: "Share", Unit: "%", Min: 0, Max: 100}},
				Example: "16\n28\n28\n28", Help: "Shares of the water on the coffee in percent, one a line, together 100"}),
		Outputs: []catalogue.Output{
			{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g"},
			{ID: "water", Label: "Water on the coffee", Symbol: "W_b", Unit: "g"},
			{ID: "bypass", Label: "Water beside the coffee", Symbol: "W_p", Unit: "g"},
			{ID: "kept", Label: "Kept by the grounds", Unit: "g"},
			{ID: "thin", Label: "Strength served, of the strength brewed", Unit: "%"},
		},
		Derived: []catalogue.Derived{{GoField: "WaterG", Label: "All the water"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			p, err := plannedBrew(in, "p")
			if err != nil {
				return err
			}
			out.SetD("dose", p.DoseG)
			out.SetD("water", p.BrewWaterG)
			out.SetD("bypass", p.BypassG)
			if in.D("p").IsZero() {
				out.SetD("bypass", decimal.Zero) // none is none, not the last digit of a division
			}
			out.SetD("kept", p.RetainedG)
			out.SetD("thin", p.ThinnedPct)
			if in.Has("pours") {
				if err := pours(in, out, p); err != nil {
					return err
				}
			}
			if !out.Full() {
				return nil
			}
			if err := planWorking(in, out, p, "p", in.D("d")); err != nil {
				return err
			}
			if in.D("p").IsPositive() {
				out.Note("Bypass leaves the yield alone and thins the cup. The coffee itself is brewed at 1:{}.", catalogue.Num(p.BrewRatio.InexactFloat64(), 3))
			}
			out.Figure(planFlow(out, p, "beside it"))
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{balance, retained},
		Checks:   []catalogue.Check{{Package: "brewratio", Quantity: "beverage of a dose"}, {Package: "brewratio", Quantity: "strength served per strength brewed"}, {Package: "brewratio", Quantity: "most water retained, drip"}},
	}
}

func pours(in *catalogue.In, out *catalogue.Out, p brewratio.Plan) error {
	var shares []decimal.Decimal
	for _, s := range in.Columns("pours")[0] {
		shares = append(shares, decimal.NewFromFloat(s))
	}
	list, err := brewratio.Pours(brewratio.Pouring{WaterG: p.BrewWaterG.Round(9), DivisionG: in.D("d"), SharesPct: shares})
	if err != nil {
		return err
	}
	places := max(0, -in.D("d").Exponent())
	var rows [][]string
	for i, x := range list {
		rows = append(rows, []string{catalogue.Shortest(float64(i + 1)), x.WaterG.StringFixed(places), x.ScaleG.StringFixed(places)})
	}
	out.Table("Pours in grams, from a scale set to zero", []string{"Pour", "Water", "Scale shows"}, rows)
	return nil
}

func icedBrew() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "iced-brew", Place: catalogue.BrewBar, Order: 22,
		Name:     "Brew on ice",
		Question: "How much coffee, hot water and ice, and does the ice melt?",
		Keywords: "iced coffee flash chill melt dilution",
		Fields: append(planFields(catalogue.Field{ID: "p", Label: "Share of all water that is ice", Symbol: "p", Unit: "%", Max: 90, Example: "35", GoField: "BypassPct", Help: "It melts and counts as water, like 35", Exact: true}),
			catalogue.Field{ID: "t", Label: "Temperature of the brew where it meets the ice", Symbol: "t", Unit: "°C", Max: 100, Example: "85", PlusMinus: 3, GoField: "TempC", Help: "Cooler than the kettle, like 85"}),
		Outputs: []catalogue.Output{
			{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g"},
			{ID: "water", Label: "Hot water on the coffee", Symbol: "W_b", Unit: "g"},
			{ID: "ice", Label: "Ice in the server", Symbol: "W_p", Unit: "g"},
			{ID: "left", Label: "Ice that cannot melt", Unit: "g"},
			{ID: "cold", Label: "Temperature when it is over", Unit: "°C"},
		},
		Derived: []catalogue.Derived{{GoField: "WaterG", Label: "All the water"}, {GoField: "BrewG", Label: "Brew that meets the ice"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			p, err := plannedBrew(in, "p")
			if err != nil {
				return err
			}
			m, err := brewratio.Melt(brewratio.Iced{BrewG: p.BrewedG, TempC: in.D("t"), IceG: p.BypassG})
			if err != nil {
				return err
			}
			out.SetD("dose", p.DoseG)
			out.SetD("water", p.BrewWaterG)
			out.SetD("ice", p.BypassG)
			out.Set("left", m.LeftG.InexactFloat64())
			out.Set("cold", m.TempC.InexactFloat64())
			if !out.Full() {
				return nil
			}
			if err := planWorking(in, out, p, "p", decimal.Zero); err != nil {
				return err
			}
			if !m.LeftG.IsPositive() {
				out.Work("t_e = (B_1*c*t - W_p*L)/(c*(B_1 + W_p))", "t_e", sig4(m.TempC.InexactFloat64(), "°C"), "B_1", dec4(p.BrewedG, "g"), "c", catalogue.Shortest(brewratio.WaterJPerGPerK)+" J/(g·K)", "t", in.Text("t"), "W_p", dec4(p.BypassG, "g"), "L", catalogue.Shortest(brewratio.FusionJPerG)+" J/g")
			}
			if m.LeftG.IsPositive() {
				out.Note("Some ice stays: until it melts, the brew is stronger than planned.")
			}
			out.Note("Ice at 0 °C, no cold glass, no warm room: ice from the freezer takes a little more heat, the room gives some.")
			out.Figure(planFlow(out, p, "ice"))
			return nil
		},
		Cautions: []string{scalds, "Hot brew on ice can crack glass: use a vessel made for it."},
		Sources:  []catalogue.Source{balance, {Name: "CRC Handbook of Chemistry and Physics", Locator: "heat of fusion of ice 333.55 J/g", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "brewratio", Quantity: "heat that melts ice"}},
	}
}

func whatGroundsKeep() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "what-grounds-keep", Place: catalogue.BrewBar, Order: 20,
		Name:     "What the grounds keep",
		Question: "How much water did the grounds keep, for planning the next brew?",
		Keywords: "retained absorption ratio weigh",
		Fields: []catalogue.Field{
			{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g", Min: brewratio.MinDoseG, Max: brewratio.MaxDoseG, Example: "15.0", GoField: "DoseG", Help: "Like 15.0"},
			{ID: "w", Label: "Water poured on it", Symbol: "W", Unit: "g", Min: brewratio.MinWaterG, Max: brewratio.MaxWaterG, Example: "250", GoField: "WaterG", Help: "Like 250"},
			{ID: "b", Label: "What came out", Symbol: "B", Unit: "g", Min: brewratio.MinWaterG, Max: brewratio.MaxWaterG, Example: "218", PlusMinus: 0.5, GoField: "BeverageG", Help: "Like 218"},
		},
		Outputs: []catalogue.Output{
			{ID: "keep", Label: "Kept per gram of coffee", Symbol: "λ", Unit: "g/g"},
			{ID: "pct", Label: "Kept, of the water poured", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			k, err := brewratio.RetainedByWeight(brewratio.WeighedBrew{DoseG: in.D("dose"), WaterG: in.D("w"), BeverageG: in.D("b")})
			if err != nil {
				return err
			}
			out.SetD("keep", k.RetainedGPerG)
			out.SetD("pct", k.RetainedPct)
			if out.Full() {
				out.Work("λ = (W - B)/D", "λ", dec4(k.RetainedGPerG, "g/g"), "W", in.Text("w"), "B", in.Text("b"), "D", in.Text("dose"))
				out.Note("Steam that left is counted as kept.")
				out.Figure(figure.Flow{
					Title: "Where the water went", Unit: "g",
					Desc: out.Say("Of {} poured, {} came out.", in.Text("w"), in.Text("b")),
					From: []figure.Share{{Name: "poured", Amount: in.F("w")}},
					To:   []figure.Share{{Name: "came out", Amount: in.F("b")}, {Name: "kept by the grounds", Amount: k.RetainedG.InexactFloat64()}},
				})
			}
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{definition, retained},
		Checks:   []catalogue.Check{{Package: "brewratio", Quantity: "water retained"}, {Package: "brewratio", Quantity: "share of the water retained"}},
	}
}
