package store

import (
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var (
	dryLossSource = catalogue.Source{Name: "Fernandes, 2019", Locator: "usual dry-matter loss", Provenance: "quoted"}
	lossSource    = catalogue.Source{Name: "training-course lesson on mass loss, after Schenker 2000", Locator: "first paragraph", Provenance: "opened"}
)

const roastCaution = "Roasting is hot work with smoke, chaff fires and carbon monoxide: the machine's manual, fire rules and local codes decide, not a figure for weight."

func roastedContent(id, example string) catalogue.Field {
	return number(id, "Moisture of the roasted", "M_r", "%", moisture.MinRoastedMoisturePct, moisture.MaxRoastedMoisturePct, example, 0.2, "RoastedMoisturePct", "Wet basis, like 2.0")
}

func roastLoss() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "roast-loss",
		Place:    catalogue.Roaster,
		Order:    10,
		Name:     "Roast loss, water and dry matter",
		Question: "What did this batch lose, and how much of it was water?",
		Keywords: "weight loss organic shrinkage degree of roast",
		Fields: []catalogue.Field{
			mass("g", "Green weight charged", "m_g", "12.00", "GreenKg", "As the scale shows it, like 12.00"),
			mass("r", "Roasted weight", "m_r", "10.20", "RoastedKg", "Cooled, chaff out, like 10.20"),
			content("mg", "Moisture of the green", "M_g", "11.0", "GreenMoisturePct"),
			roastedContent("mr", "2.0"),
		},
		Outputs: []catalogue.Output{
			{ID: "dry", Label: "Dry matter lost, of green dry matter", Symbol: "d", Unit: "%"},
			{ID: "total", Label: "Total loss, of green weight", Symbol: "L", Unit: "%"},
			{ID: "water", Label: "Water lost, of green weight", Unit: "%"},
			{ID: "organic", Label: "Dry matter lost, of green weight", Unit: "%"},
			{ID: "kg", Label: "Water lost", Symbol: "w", Unit: "kg"},
		},
		Limits: []catalogue.Limit{
			{Output: "dry", Lo: nan, Hi: nan}, // sources disagree by roast degree: the table shows them, the user decides
			{Output: "total", Lo: moisture.TypicalLossMinPct, Hi: moisture.TypicalLossMaxPct, Source: lossSource,
				Caution: "A usual range, not one of quality: many light roasts lie below it. Set your own."},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			l, err := moisture.RoastLoss(moisture.Roast{GreenKg: in.D("g"), RoastedKg: in.D("r"), GreenMoisturePct: in.D("mg"), RoastedMoisturePct: in.D("mr")})
			if err != nil {
				return err
			}
			out.SetD("dry", l.DryMatterPct)
			out.SetD("total", l.TotalPct)
			out.SetD("water", l.WaterPct)
			out.SetD("organic", l.OrganicPct)
			out.SetD("kg", l.WaterKg)
			if !out.Full() {
				return nil
			}
			f := func(v float64) string { return catalogue.Num(v, 4) + " kg" }
			water, organic := l.WaterKg.InexactFloat64(), l.OrganicKg.InexactFloat64()
			out.Work("w = (m_g*M_g - m_r*M_r)/100", "w", f(water), "m_g", in.Text("g"), "M_g", in.Text("mg"), "m_r", in.Text("r"), "M_r", in.Text("mr"))
			out.Work("o = m_g - m_r - w", "o", f(organic), "m_g", in.Text("g"), "m_r", in.Text("r"), "w", f(water))
			out.Work("d = 100*o/(m_g*(1 - M_g/100))", "d", pct(l.DryMatterPct.InexactFloat64(), 4), "o", f(organic), "m_g", in.Text("g"), "M_g", in.Text("mg"))
			out.Note("Reactions above about {} form water that leaves too: this balance books it, and chaff and dust, as dry matter.", "180 °C")
			out.Note("The usual ranges are for orientation: compare your own batches of one coffee with each other.")
			say(out, l.Notes)
			var rows [][]string
			for _, d := range moisture.DryLossByDegree() {
				rows = append(rows, []string{d.Degree, catalogue.Shortest(d.MinPct), catalogue.Shortest(d.MaxPct), d.Source})
			}
			out.Table("Dry matter lost by degree of roast, for orientation, from memory", []string{"Degree", "From, %", "To, %", "Source"}, rows)
			dryLeft := in.F("r") * (100 - in.F("mr")) / 100
			waterLeft := in.F("r") - dryLeft
			out.Figure(figure.Flow{
				Title: "Where the green weight went",
				Desc:  out.Say("Of {} green, {} left as water and {} as dry matter; {} stayed.", in.Text("g"), f(water), f(organic), in.Text("r")),
				Unit:  "kg",
				From:  []figure.Share{{Name: "Water in the green", Amount: in.F("g") * in.F("mg") / 100}, {Name: "Dry matter in the green", Amount: in.F("g") * (100 - in.F("mg")) / 100}},
				To:    []figure.Share{{Name: "Water lost", Amount: water}, {Name: "Water left", Amount: waterLeft}, {Name: "Dry matter lost", Amount: organic}, {Name: "Dry matter left", Amount: dryLeft}},
				Links: []figure.Link{{From: 0, To: 0, Amount: water}, {From: 0, To: 1, Amount: waterLeft}, {From: 1, To: 2, Amount: organic}, {From: 1, To: 3, Amount: dryLeft}},
			})
			return nil
		},
		Cautions: []string{roastCaution},
		Sources:  []catalogue.Source{balance, lossSource, dryLossSource, {Name: "Geiger et al., J. Food Sci. 70(2), 2005", Locator: "abstract", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "water lost in the roaster"}, {Package: "moisture", Quantity: "dry matter lost in the roaster"}, {Package: "moisture", Quantity: "typical dry-matter loss"}},
	}
}

func greenToWeigh() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "green-to-weigh",
		Place:    catalogue.Roaster,
		Order:    12,
		Name:     "Green to weigh out",
		Question: "How much green must be weighed out for this roasted weight?",
		Keywords: "charge batch size overfill samples order planning",
		Fields: []catalogue.Field{
			mass("m", "Roasted coffee to pack, net", "m", "20.00", "RoastedKg", "All bags together, like 20.00"),
			number("l", "Loss expected", "L", "%", moisture.MinRoastLossPct, moisture.MaxRoastLossPct, "15.5", 0.3, "LossPct", "Of the green weight, by your last batches of this coffee, like 15.5"),
			number("o", "Overfill", "o", "%", 0, moisture.MaxOverfillPct, "0.4", 0, "OverfillPct", "Given above the net weight, in percent of it; 0 for none"),
			number("h", "Roasted coffee held back", "h", "kg", 0, moisture.MaxHeldBackKg, "0.300", 0, "HeldBackKg", "For samples and test cups, like 0.300; 0 for none"),
			number("k", "Green coffee held back", "k", "kg", 0, moisture.MaxHeldBackKg, "0.350", 0, "GreenSampleKg", "A green sample, like 0.350; 0 for none"),
		},
		Outputs: []catalogue.Output{{ID: "g", Label: "Green to weigh out", Symbol: "G", Unit: "kg"}, {ID: "r", Label: "Roasted coffee that leaves the roaster", Symbol: "R", Unit: "kg"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			c, err := moisture.GreenForRoasted(moisture.RoastPlan{RoastedKg: in.D("m"), LossPct: in.D("l"), OverfillPct: in.D("o"), HeldBackKg: in.D("h"), GreenSampleKg: in.D("k")})
			if err != nil {
				return err
			}
			out.SetD("g", c.GreenKg)
			out.SetD("r", c.RoastedKg)
			if !out.Full() {
				return nil
			}
			f := func(v float64) string { return catalogue.Num(v, 5) + " kg" }
			g, r := c.GreenKg.InexactFloat64(), c.RoastedKg.InexactFloat64()
			out.Work("R = m*(1 + o/100) + h", "R", f(r), "m", in.Text("m"), "o", in.Text("o"), "h", in.Text("h"))
			out.Work("G = 100*R/(100 - L) + k", "G", f(g), "R", f(r), "L", in.Text("l"), "k", in.Text("k"))
			out.Note("The loss is of the green weight, so it is divided out: adding it to the roasted weight gives too little.")
			over := in.F("m") * in.F("o") / 100
			out.Figure(figure.Flow{
				Title: "What the green becomes",
				Desc:  out.Say("Of {} green, {} is packed.", f(g), in.Text("m")),
				Unit:  "kg",
				From:  []figure.Share{{Name: "Green", Amount: g}},
				To: []figure.Share{{Name: "Packed, net", Amount: in.F("m")}, {Name: "Overfill", Amount: over}, {Name: "Held back", Amount: in.F("h")},
					{Name: "Lost in the roaster", Amount: g - in.F("k") - r}, {Name: "Green sample", Amount: in.F("k")}},
			})
			return nil
		},
		Cautions: []string{roastCaution},
		Sources:  []catalogue.Source{balance},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "typical total loss"}},
	}
}

func expectedLoss() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "expected-loss",
		Place:    catalogue.Roaster,
		Order:    14,
		Name:     "The same roast of a wetter lot",
		Question: "What loss will the scale show when the same roast is given to another moisture?",
		Keywords: "weight loss target new lot compare green moisture",
		Fields: []catalogue.Field{
			content("mg", "Moisture of the new lot", "M_g", "12.0", "GreenMoisturePct"),
			roastedContent("mr", "2.0"),
			number("d", "Dry matter that the roast costs", "d", "%", 0, 30, "6.9", 0.3, "DryMatterLossPct", "Of green dry matter, by your batches of this roast, like 6.9"),
		},
		Outputs: []catalogue.Output{{ID: "l", Label: "Total loss to expect", Symbol: "L", Unit: "%"}},
		Limits:  []catalogue.Limit{{Output: "l", Lo: moisture.TypicalLossMinPct, Hi: moisture.TypicalLossMaxPct, Source: lossSource}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			l, err := moisture.ExpectedLoss(moisture.RoastAim{GreenMoisturePct: in.D("mg"), RoastedMoisturePct: in.D("mr"), DryMatterLossPct: in.D("d")})
			if err != nil {
				return err
			}
			out.SetD("l", l)
			if !out.Full() {
				return nil
			}
			v := l.InexactFloat64()
			out.Work("L = 100 - (100 - d)*(100 - M_g)/(100 - M_r)", "L", pct(v, 4), "d", in.Text("d"), "M_g", in.Text("mg"), "M_r", in.Text("mr"))
			out.Note("A total loss compares roasts only at one green moisture: compare the dry matter.")
			g := grid(8, 14, 30)
			d, mr := in.F("d"), in.F("mr")
			out.Figure(figure.Plot{
				Title:  "Total loss of one roast by green moisture",
				Desc:   out.Say("A roast that costs {} of the dry matter shows {} at {}.", in.Text("d"), pct(v, 4), in.Text("mg")),
				X:      figure.Axis{Label: "Moisture of the green", Unit: "%"},
				Y:      figure.Axis{Label: "Total loss", Unit: "%"},
				Lines:  []figure.Line{{Name: "the same roast", X: g, Y: each(g, func(m float64) float64 { return 100 - (100-d)*(100-m)/(100-mr) })}},
				Points: []figure.Points{{Name: "this lot", X: []float64{in.F("mg")}, Y: []float64{v}}},
			})
			return nil
		},
		Cautions: []string{roastCaution},
		Sources:  []catalogue.Source{balance, lossSource},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "typical total loss"}},
	}
}
