package cup

import (
	"example.org/evenlot/brewratio"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func count(id, label, symbol string, lo, hi float64, example, goField, help string) catalogue.Field {
	return setting(id, label, symbol, "", lo, hi, example, goField, help)
}

func cuppingSession() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "cupping-session", Place: catalogue.CuppingTable, Order: 30,
		Name:     "A cupping table",
		Question: "What does this table take, and what is each dose?",
		Keywords: "session plan bowls rinse spare kettle sample set aside weighing list print",
		Fields: []catalogue.Field{
			count("c", "Coffees", "c", 1, 60, "6", "CoffeesCount", "How many, like 6"),
			count("b", "Bowls of each", "b", 1, 20, "5", "BowlsPerCoffeeCount", "Like 5"),
			count("r", "Rinse doses of each", "r", 0, 10, "1", "RinsesPerCoffeeCount", "Ground first and thrown away, so that the grinder forgets the last coffee; usually 1"),
			count("s", "Spare doses of each", "s", 0, 20, "0", "SparesPerCoffeeCount", "Weighed and kept in hand, like 1"),
			setting("dose", "Coffee per bowl", "D", "g", brewratio.MinDoseG, 1000, "8.25", "DoseG", "Like 8.25"),
			optional(setting("g", "Coffee per rinse", "g", "g", brewratio.MinDoseG, 1000, "8.25", "RinseG", "Empty for the dose of a bowl")),
			setting("w", "Water per bowl", "W", "g", brewratio.MinWaterG, 40_000, "150", "WaterG", "Like 150"),
			setting("x", "Water beside the bowls", "W_x", "g", 0, 1e6, "600", "ExtraWaterG", "For warming bowls and rinsing spoons, in all, like 600"),
			setting("k", "One kettle pours", "K", "g", 50, 1e5, "1200", "KettleG", "Without the rest that stays in it, like 1200"),
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
	out.Table("Weighing list in grams: it adds up to the coffee in all, rounded once", head, rows)
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
