package desk

import (
	"math"

	"example.org/evenlot/checkpoint/stock"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func bestStock() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "best-stock",
		Place:    catalogue.QualityDesk,
		Order:    94,
		Name:     "Stock that earns most",
		Question: "How many bags earn most, when those left over lose their price?",
		Keywords: "newsvendor margin profit leftover critical ratio",
		Fields: []catalogue.Field{
			record(weekendsOf, "One number for each weekend or day in the past, twenty or more: 31 28 35"),
			given("p", "A bag sells for", "p", "", 0.0001, stock.MaxMoney, "9.50", "PriceEach", "In any currency, like 9.50"),
			given("c", "A bag costs", "c", "", 0.0001, stock.MaxMoney, "4.20", "CostEach", "What it costs to make, like 4.20"),
			given("s", "A bag left over still brings", "s", "", -stock.MaxMoney, stock.MaxMoney, "1.00", "LeftoverEach", "What it brings when it is too old to sell at full price; 0 for nothing"),
		},
		Outputs: []catalogue.Output{
			{ID: "bags", Label: "Bags that earn most", Symbol: "S"},
			{ID: "ratio", Label: "Level at which the last bag pays", Unit: "%"},
			{ID: "service", Label: "Times without running out", Unit: "%"},
			{ID: "profit", Label: "Mean profit, same currency"},
			{ID: "mismatch", Label: "Mean cost of too many or too few"},
		},
		Compute:  computeBest,
		Cautions: []string{askedFor, "A customer sent away counts as one lost margin here. One who does not come back costs more: then hold more."},
		Sources:  []catalogue.Source{{Name: "Porteus, Foundations of Stochastic Inventory Theory, 2002", Locator: "as an open package's example", Provenance: "opened"}, {Name: "Winston, Operations Research", Locator: "news vendor problem", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/stock", Quantity: "best stock"}, {Package: "checkpoint/stock", Quantity: "critical ratio"}},
	}
}

func computeBest(in *catalogue.In, out *catalogue.Out) error {
	bins, err := histogram(in.Columns("d")[0])
	if err != nil {
		return err
	}
	m := decimals(in, "p", "c", "s")
	trade := stock.Trade{PriceEach: m[0], CostEach: m[1], LeftoverEach: m[2]}
	o, err := stock.BestStock([][]stock.Bin{bins}, trade)
	if err != nil {
		return err
	}
	out.SetCount("bags", int(o.Bags))
	out.Set("ratio", sig(o.RatioPct, 3))
	out.Set("service", sig(o.ServicePct, 3))
	out.Set("profit", o.Profit)
	out.Set("mismatch", o.Mismatch)
	if !out.Full() {
		return nil
	}
	out.Work("α = 100*(p - c)/(p - s)", "α", percent(o.RatioPct, 4), "p", in.Text("p"), "c", in.Text("c"), "s", in.Text("s"))
	sayStock(out, o.Notes)
	lo, hi := bins[0].Bags, bins[len(bins)-1].Bags
	step := max(1, (hi-lo)/100)
	var x, y []float64
	for b := max(0, lo-2); b <= hi+2; b += step {
		h, err := stock.Service([][]stock.Bin{bins}, min(b, stock.MaxTotalBags))
		if err != nil {
			return err
		}
		sold := h.MeanBags - h.ShortBags
		x, y = append(x, float64(b)), append(y, in.F("p")*sold+in.F("s")*h.LeftBags-in.F("c")*float64(b))
	}
	out.Figure(figure.Plot{
		Title:  "Profit by stock",
		Desc:   out.Say("Mean profit for each stock; {} bags earn most.", counted(int(o.Bags))),
		X:      figure.Axis{Label: "Bags held"},
		Y:      figure.Axis{Label: "Mean profit"},
		Lines:  []figure.Line{{Name: "profit", X: x, Y: y}},
		Points: []figure.Points{{Name: "best", X: []float64{o.Bags}, Y: []float64{o.Profit}}},
	})
	return nil
}

func safetyStock() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "safety-stock",
		Place:    catalogue.QualityDesk,
		Order:    96,
		Name:     "Safety stock",
		Question: "At what stock must new goods be ordered, green or bags?",
		Keywords: "reorder point lead time safety stock packaging green",
		Fields: []catalogue.Field{
			asked("mu", "Used in a day", "μ", "", 0.01, 1e6, "12", "DailyBags", "Mean of a day, in bags, kilograms or pieces, like 12"),
			asked("sd", "Standard deviation of a day", "σ", "", 0, 1e6, "4", "DailySDBags", "Like 4"),
			asked("lead", "Days until new goods are there", "L", "d", 0, 365, "10", "LeadDays", "Mean, like 10"),
			asked("lsd", "Standard deviation of these days", "σ_L", "d", 0, 365, "2", "LeadSDDays", "0 where they always come on time"),
			given("review", "Days between two chances to order", "R", "d", 0, 365, "0", "ReviewDays", "0 where one orders at any time"),
			levelField("Not to run out, in a share of orders", "Like 90"),
		},
		Outputs: []catalogue.Output{
			{ID: "order", Label: "Order at, or up to"},
			{ID: "safety", Label: "of which for safety", Symbol: "B"},
			{ID: "spread", Label: "Standard deviation until new goods are there", Symbol: "σ_D"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			lead := stock.Lead{DailyBags: in.F("mu"), DailySDBags: in.F("sd"), LeadDays: in.F("lead"), LeadSDDays: in.F("lsd"), ReviewDays: in.F("review")}
			s, err := stock.SafetyStock(lead, in.F("level"))
			if err != nil {
				return err
			}
			out.Set("order", s.ReorderBags)
			out.Set("safety", s.SafetyBags)
			out.Set("spread", s.SpreadBags)
			if !out.Full() {
				return nil
			}
			out.Work("σ_D = sqrt((L + R)*σ^2 + μ^2*σ_L^2)", "σ_D", catalogue.Num(s.SpreadBags, 4), "L", in.Text("lead"), "R", in.Text("review"), "σ", in.Text("sd"), "μ", in.Text("mu"), "σ_L", in.Text("lsd"))
			z := 0.0
			if s.SpreadBags > 0 {
				z = s.SafetyBags / s.SpreadBags
			}
			out.Work("B = z*σ_D", "B", catalogue.Num(s.SafetyBags, 4), "z", catalogue.Num(z, 4), "σ_D", catalogue.Num(s.SpreadBags, 4))
			out.Note("Demand is taken as normal. For few bags a day take the histogram of past demand.")
			sayStock(out, s.Notes)
			var x, y []float64
			for level := 50.0; level <= 99.5; level += 0.5 {
				if a, err := stock.SafetyStock(lead, level); err == nil {
					x, y = append(x, level), append(y, a.SafetyBags)
				}
			}
			out.Figure(figure.Plot{
				Title:  "What a higher level costs",
				Desc:   out.Say("Safety stock by level; {} wants {}.", in.Text("level"), catalogue.Num(s.SafetyBags, 3)),
				X:      figure.Axis{Label: "Not to run out", Unit: "%"},
				Y:      figure.Axis{Label: "Safety stock", Min: 0, Max: math.NaN()},
				Lines:  []figure.Line{{Name: "safety stock", X: x, Y: y}},
				Points: []figure.Points{{Name: "chosen", X: []float64{in.F("level")}, Y: []float64{s.SafetyBags}}},
			})
			return nil
		},
		Cautions: []string{"Averages hide the late container: look at the latest deliveries one by one."},
		Sources:  []catalogue.Source{chopraBook, {Name: "Heizer & Render, Operations Management", Locator: "ch. 12", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/stock", Quantity: "safety stock"}, {Package: "checkpoint/stock", Quantity: "reorder point"}},
	}
}
