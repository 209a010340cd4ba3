package store

import (
	"math"

	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

func sackDrift() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "sack-drift",
		Place:    catalogue.GreenStore,
		Order:    20,
		Name:     "Weight at another moisture",
		Question: "What does this sack weigh at another moisture, or at the contract's?",
		Keywords: "shrink drift contract weight water gained lost invoice mass",
		Fields: []catalogue.Field{
			mass("m1", "Weight now", "m_1", "60.00", "MassKg", "Of a sack or of the whole lot, like 60.00"),
			content("w1", "Moisture now", "w_1", "11.0", "MoisturePct"),
			content("w2", "Other moisture", "w_2", "11.7", "ToMoisturePct"),
		},
		Outputs: []catalogue.Output{
			{ID: "m2", Label: "Weight at the other moisture", Symbol: "m_2", Unit: "kg"},
			{ID: "water", Label: "Water taken up", Symbol: "Δ", Unit: "kg"},
			{ID: "dry", Label: "Dry matter, the same throughout", Symbol: "m_d", Unit: "kg"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			d, err := moisture.SackMass(moisture.Drift{MassKg: in.D("m1"), MoisturePct: in.D("w1"), ToMoisturePct: in.D("w2")})
			if err != nil {
				return err
			}
			out.SetD("m2", d.MassKg)
			out.SetD("water", d.WaterKg)
			out.SetD("dry", d.DryMatterKg)
			if !out.Full() {
				return nil
			}
			m2 := d.MassKg.InexactFloat64()
			out.Work("m_2 = m_1*(100 - w_1)/(100 - w_2)", "m_2", catalogue.Num(m2, 5)+" kg", "m_1", in.Text("m1"), "w_1", in.Text("w1"), "w_2", in.Text("w2"))
			out.Work("Δ = m_2 - m_1", "Δ", catalogue.Num(d.WaterKg.InexactFloat64(), 3)+" kg", "m_2", catalogue.Num(m2, 5)+" kg", "m_1", in.Text("m1"))
			out.Note("Subtracting the percentages is the usual mistake: dry matter stays, so weights go as the dry shares.")
			out.Note("Both moistures must come from the same oven or meter.")
			w1, w2 := in.F("w1"), in.F("w2")
			dry := d.DryMatterKg.InexactFloat64()
			g := grid(max(min(w1, w2)-1, 0), min(max(w1, w2)+1, 90), 40)
			out.Figure(figure.Plot{
				Title:  "Weight against moisture",
				Desc:   out.Say("The same dry matter weighs {} at {} and {} kg at {}.", in.Text("m1"), in.Text("w1"), catalogue.Num(m2, 5), in.Text("w2")),
				X:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
				Y:      figure.Axis{Label: "Weight", Unit: "kg"},
				Lines:  []figure.Line{{Name: "same dry matter", X: g, Y: each(g, func(w float64) float64 { return 100 * dry / (100 - w) })}},
				Points: []figure.Points{{Name: "now", X: []float64{w1}, Y: []float64{in.F("m1")}}, {Name: "other", X: []float64{w2}, Y: []float64{m2}, Shape: figure.Diamond}},
			})
			return nil
		},
		Cautions: []string{mouldCaution},
		Sources:  []catalogue.Source{balance},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "mass after drift"}, {Package: "moisture", Quantity: "mass lost on drying"}},
	}
}

func weighBack() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "weigh-back",
		Place:    catalogue.GreenStore,
		Order:    30,
		Name:     "Moisture by weighing back",
		Question: "What is the moisture of this sack now, by its weight alone?",
		Keywords: "weigh again drift without meter",
		Fields: []catalogue.Field{
			mass("m1", "First weight", "m_1", "60.00", "MassKg", "On the day when the moisture was measured, like 60.00"),
			content("w1", "Moisture then", "w_1", "10.8", "MoisturePct"),
			mass("m2", "Weight now", "m_2", "60.42", "ToMassKg", "The same sack on the same scale, like 60.42"),
		},
		Outputs: []catalogue.Output{{ID: "w2", Label: "Moisture now, wet basis", Symbol: "w_2", Unit: "%"}},
		Limits:  []catalogue.Limit{{Output: "w2", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: greenStandard, Caution: mouldCaution}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			w, err := moisture.MoistureByWeight(moisture.WeighBack{MassKg: in.D("m1"), MoisturePct: in.D("w1"), ToMassKg: in.D("m2")})
			if err != nil {
				return err
			}
			out.SetD("w2", w)
			if !out.Full() {
				return nil
			}
			v := w.InexactFloat64()
			out.Work("w_2 = 100 - (100 - w_1)*m_1/m_2", "w_2", pct(v, 4), "w_1", in.Text("w1"), "m_1", in.Text("m1"), "m_2", in.Text("m2"))
			out.Note("All that came or went is taken for water: torn sacks and samples taken count against it. In silo drying it agreed with the oven within {} to {} on average.", "0.6", "0.8 %")
			dry := in.F("m1") * (100 - in.F("w1"))
			lo, hi := min(in.F("m1"), in.F("m2")), max(in.F("m1"), in.F("m2"))
			g := grid(max(lo*0.98, dry/100), hi*1.02, 40)
			out.Figure(figure.Plot{
				Title:  "Moisture against weight",
				Desc:   out.Say("The sack had {} at {} and has {} at {}.", in.Text("w1"), in.Text("m1"), pct(v, 4), in.Text("m2")),
				X:      figure.Axis{Label: "Weight", Unit: "kg"},
				Y:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
				Lines:  []figure.Line{{Name: "same dry matter", X: g, Y: each(g, func(m float64) float64 { return 100 - dry/m })}},
				Points: []figure.Points{{Name: "then", X: []float64{in.F("m1")}, Y: []float64{in.F("w1")}}, {Name: "now", X: []float64{in.F("m2")}, Y: []float64{v}, Shape: figure.Diamond}},
			})
			return nil
		},
		Cautions: []string{mouldCaution},
		Sources:  []catalogue.Source{balance, {Name: "Oliveros et al., Cenicafé 61(2), 2010", Locator: "abstract", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "weigh-back against the oven"}},
	}
}

func lotOfSacks() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "lot-of-sacks",
		Place:    catalogue.GreenStore,
		Order:    18,
		Name:     "A lot of many sacks",
		Question: "What is the moisture of the whole lot, and how far apart are its sacks?",
		Keywords: "weighted mean spread wettest sack average total weight",
		Fields: []catalogue.Field{{ID: "sacks", Label: "Sacks", Kind: catalogue.Series, Whole: true, GoField: "Sacks",
			Columns: []catalogue.Column{
				{ID: "m", Label: "Weight", Unit: "kg", Min: moisture.MinMassKg, Max: moisture.MaxMassKg},
				{ID: "w", Label: "Moisture", Unit: "%", Min: moisture.MinMoisturePct, Max: moisture.MaxMoisturePct}},
			Example: "60.2 11.2\n59.8 11.0\n60.1 11.4\n60.0 10.9\n59.7 11.3\n31.5 12.6",
			Help:    "One sack a line: its weight in kg, then its moisture in percent"},
			{ID: "pm", Label: "What the moisture meter may be off by", Unit: "%", Min: 0, Max: 5, Example: "0.3", Exact: true, Optional: true, Help: "On all sacks alike, like 0.3; empty takes the readings as they are"}},
		Outputs: []catalogue.Output{
			{ID: "w", Label: "Moisture of the lot, wet basis", Symbol: "w", Unit: "%"},
			{ID: "wettest", Label: "Wettest sack", Unit: "%"},
			{ID: "spread", Label: "Standard deviation between sacks", Symbol: "s", Unit: "%"},
			{ID: "m", Label: "Weight of the lot", Symbol: "m", Unit: "kg"},
			{ID: "water", Label: "Water in it", Unit: "kg"},
			{ID: "n", Label: "Sacks", Symbol: "n"},
		},
		Limits: []catalogue.Limit{
			{Output: "w", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: greenStandard, Caution: mouldCaution},
			{Output: "wettest", Lo: nan, Hi: moisture.CodexMaxMoisturePct, Source: catalogue.Source{Name: "Codex CAC/RCP 69-2009", Locator: "introduction, para. 3", Provenance: "opened"}, Caution: mouldCaution},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			cols := in.Columns("sacks")
			sacks := make([]moisture.Sack, len(cols[0]))
			for i := range sacks {
				sacks[i] = moisture.Sack{MassKg: decimal.NewFromFloat(cols[0][i]), MoisturePct: decimal.NewFromFloat(cols[1][i])}
			}
			lot, err := moisture.SackLot(sacks)
			if err != nil {
				return err
			}
			if in.Has("pm") && in.F("pm") > 0 {
				u := in.F("pm") / math.Sqrt(3)
				out.SetU("w", lot.MoisturePct.InexactFloat64(), u, "the meter")
				out.SetU("wettest", lot.HighestPct.InexactFloat64(), u, "the meter")
			} else {
				out.SetD("w", lot.MoisturePct.Round(2))
				out.SetD("wettest", lot.HighestPct)
			}
			if lot.Count > 1 {
				out.SetU("spread", lot.MoistureSpreadPct, lot.MoistureSpreadPct/math.Sqrt(2*float64(lot.Count-1)), "the number of sacks")
			}
			out.SetD("m", lot.MassKg)
			out.SetD("water", lot.WaterKg.Round(2))
			out.SetCount("n", lot.Count)
			if !out.Full() {
				return nil
			}
			w := lot.MoisturePct.InexactFloat64()
			out.Work("w = 100*W/m", "w", pct(w, 4), "W", catalogue.Num(lot.WaterKg.InexactFloat64(), 4)+" kg", "m", catalogue.Num(lot.MassKg.InexactFloat64(), 5)+" kg")
			out.Note("The mean is weighted by mass: a small wet sack counts little in it and much for mould.")
			x := grid(1, float64(lot.Count), max(lot.Count-1, 1))[:lot.Count]
			const most = 400
			y := cols[1]
			if lot.Count > most {
				x, y = x[:most], y[:most]
				out.Note("The picture shows the first {} sacks.", catalogue.Shortest(most))
			}
			out.Figure(figure.Plot{
				Title:  "Moisture of each sack",
				Desc:   out.Say("{} sacks from {} to {}, the lot at {}.", catalogue.Shortest(float64(lot.Count)), pct(lot.LowestPct.InexactFloat64(), 4), pct(lot.HighestPct.InexactFloat64(), 4), pct(w, 4)),
				X:      figure.Axis{Label: "Sack", Min: 0, Max: float64(len(x) + 1)},
				Y:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
				Points: []figure.Points{{Name: "sacks", X: x, Y: y}},
				Marks:  []figure.Mark{{Name: "the lot", At: w}, {Name: "12 %", At: moisture.SpecialtyMaxMoisturePct}},
			})
			return nil
		},
		Cautions: []string{mouldCaution},
		Sources:  []catalogue.Source{balance},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "water in a lot"}},
	}
}
