package cup

import (
	"example.org/evenlot/brewratio"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func cuppingSession() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "cupping-session", Place: catalogue.CuppingTable, Order: 20,
		Name:     "A cupping table",
		Question: "What does this table take, and what is each dose?",
		Keywords: "session plan bowls rinse spare kettle sample set aside weighing list print",
		Fields: []catalogue.Field{
			{ID: "c", Label: "Coffees", Symbol: "c", Min: 1, Max: 60, Example: "6", GoField: "CoffeesCount", Help: "How many, like 6", Exact: true},
			{ID: "b", Label: "Bowls of each", Symbol: "b", Min: 1, Max: 20, Example: "5", GoField: "BowlsPerCoffeeCount", Help: "Like 5", Exact: true},
			{ID: "r", Label: "Rinse doses of each", Symbol: "r", Max: 10, Example: "1", GoField: "RinsesPerCoffeeCount", Help: "Ground first and thrown away, so that the grinder forgets the last coffee; usually 1", Exact: true},
			{ID: "s", Label: "Spare doses of each", Symbol: "s", Max: 20, Example: "0", GoField: "SparesPerCoffeeCount", Help: "Weighed and kept in hand, like 1", Exact: true},
			{ID: "dose", Label: "Coffee per bowl", Symbol: "D", Unit: "g", Min: brewratio.MinDoseG, Max: 1000, Example: "8.25", GoField: "DoseG", Help: "Like 8.25", Exact: true},
			{ID: "g", Label: "Coffee per rinse", Symbol: "g", Unit: "g", Min: brewratio.MinDoseG, Max: 1000, Example: "8.25", GoField: "RinseG", Help: "Empty for the dose of a bowl", Exact: true, Optional: true},
			{ID: "w", Label: "Water per bowl", Symbol: "W", Unit: "g", Min: brewratio.MinWaterG, Max: 40_000, Example: "150", GoField: "WaterG", Help: "Like 150", Exact: true},
			{ID: "x", Label: "Water beside the bowls", Symbol: "W_x", Unit: "g", Max: 1e6, Example: "600", GoField: "ExtraWaterG", Help: "For warming bowls and rinsing spoons, in all, like 600", Exact: true},
			{ID: "k", Label: "One kettle pours", Symbol: "K", Unit: "g", Min: 50, Max: 1e5, Example: "1200", GoField: "KettleG", Help: "Without the rest that stays in it, like 1200", Exact: true},
			divisionField("d", "DivisionG"),
		},
		Outputs: []catalogue.Output{
			{ID: "sample", Label: "Roasted sample to set aside, each", Symbol: "m", Unit: "g"},
			{ID: "coffee", Label: "Coffee in all", Symbol: "M", Unit: "g"},
			{ID: "water", Label: "Water in all", Symbol: "W_s", Unit: "g"},
			{ID: "kettles", Label: "Kettles to fill"},
			{ID: "bowls", Label: "Bowls on the table"},
		},
		Compute:  session,
		Cautions: []string{scalds},
		Sources: []catalogue.Source{definition, cuppingRatio,
			{Name: "SCAA cupping protocol, by a trade article, 2024", Locator: "five cups and one rinse portion", Provenance: "quoted"},
			{Name: "method of largest remainders", Provenance: "common practice"}},
		Checks: []catalogue.Check{{Package: "brewratio", Quantity: "coffee for one sample of five cups"}, {Package: "brewratio", Quantity: "bowls per coffee"}, {Package: "brewratio", Quantity: "rinse doses per coffee"}},
	}
}

func session(in *catalogue.In, out *catalogue.Out) error {
	s := brewratio.Session{
		CoffeesCount: in.Int("c"), BowlsPerCoffeeCount: in.Int("b"), RinsesPerCoffeeCount: in.Int("r"), SparesPerCoffeeCount: in.Int("s"),
		DoseG: in.D("dose"), RinseG: in.D("dose"), WaterG: in.D("w"), ExtraWaterG: in.D("x"), KettleG: in.D("k"), DivisionG: in.D("d"),
	}
	if in.Has("g") {
		s.RinseG = in.D("g")
	}
	plan, err := brewratio.PlanSession(s)
	if err != nil {
		return err
	}
	out.SetD("sample", plan.SampleG)
	out.SetD("coffee", plan.CoffeeG)
	out.SetD("water", plan.WaterG)
	out.SetCount("kettles", plan.KettlesCount)
	out.SetCount("bowls", plan.BowlsCount)
	if !out.Full() {
		return nil
	}
	out.Work("m = r*g + (b + s)*D", "m", plain(plan.CoffeePerCoffeeG)+" g", "r", in.Text("r"), "g", plain(s.RinseG)+" g", "b", in.Text("b"), "s", in.Text("s"), "D", in.Text("dose"))
	out.Work("M = c*m", "M", plain(plan.CoffeeG)+" g", "c", in.Text("c"), "m", plain(plan.CoffeePerCoffeeG)+" g")
	out.Work("W_s = c*b*W + W_x", "W_s", plain(plan.WaterG)+" g", "c", in.Text("c"), "b", in.Text("b"), "W", in.Text("w"), "W_x", in.Text("x"))
	out.Note("The sample is rounded up to the scale's step. Add what your grinder keeps: weigh a dose before and after grinding.")
	if plan.Notes&brewratio.UnusualRatio != 0 {
		out.Note("Water per coffee is outside what recipes use: check the two weights.")
	}
	list, err := brewratio.WeighingList(s)
	if err != nil {
		return err
	}
	// One row a coffee, one cell a dose: what is written beside the scale.
	places := max(0, -s.DivisionG.Exponent())
	head := []string{"Coffee"}
	for i := range s.RinsesPerCoffeeCount {
		head = append(head, out.Say("rinse {}", catalogue.Shortest(float64(i+1))))
	}
	for i := range s.BowlsPerCoffeeCount {
		head = append(head, out.Say("bowl {}", catalogue.Shortest(float64(i+1))))
	}
	for i := range s.SparesPerCoffeeCount {
		head = append(head, out.Say("spare {}", catalogue.Shortest(float64(i+1))))
	}
	var rows [][]string
	for _, w := range list {
		if len(rows) < w.CoffeeCount {
			rows = append(rows, []string{catalogue.Shortest(float64(w.CoffeeCount))})
		}
		last := len(rows) - 1
		rows[last] = append(rows[last], w.MassG.StringFixed(places))
	}
	out.Table("Weighing list in grams: alike bowls, and the rest of each sample for its rinse", head, rows)
	d := s.DoseG.InexactFloat64() * float64(s.CoffeesCount)
	out.Figure(figure.Flow{
		Title: "Where the coffee goes", Unit: "g",
		Desc: out.Say("{} of coffee: into bowls, through the grinder, kept in hand.", plain(plan.CoffeeG)+" g"),
		From: []figure.Share{{Name: "coffee in all", Amount: plan.CoffeeG.InexactFloat64()}},
		To: []figure.Share{
			{Name: "bowls", Amount: d * float64(s.BowlsPerCoffeeCount)},
			{Name: "rinses", Amount: s.RinseG.InexactFloat64() * float64(s.RinsesPerCoffeeCount*s.CoffeesCount)},
			{Name: "spares", Amount: d * float64(s.SparesPerCoffeeCount)},
		},
	})
	return nil
}
