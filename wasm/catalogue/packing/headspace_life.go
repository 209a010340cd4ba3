package packing

import (
	"math"

	"example.org/evenlot/degas"
	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var (
	filmTable = catalogue.Source{Name: "Public table of a film converter", Locator: "transmission rates", Provenance: "opened"}
	balanceOf = catalogue.Source{Name: "Balance of oxygen in the bag", Provenance: "derived"}
)

func filmField() catalogue.Field {
	return field("otr", "Oxygen through the film", "OTR", "cm³/(m²·d·atm)", 0, 2e4, "0.6", 0, "OTRCCPerM2DayAtm", "From its data sheet: foil below 0.006, metallised laminate 0.6, metallised PET 2, PET 105. A value measured in air is multiplied by 4.8")
}

func areaField() catalogue.Field {
	return field("area", "Film around the gas", "A", "m²", 0, 10, "0.080", 0.005, "AreaM2", "Both sides together, like 0.08")
}

func gramsField() catalogue.Field {
	return field("m", "Coffee in the bag", "m", "g", 1, 100_000, "340", 0, "CoffeeG", "Net weight, like 340")
}

func bagLife() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "bag-oxygen",
		Place:    catalogue.PackingLine,
		Order:    80,
		Name:     "Oxygen over the bag's life",
		Question: "What will the meter show an hour, a day and a month after sealing, and how much oxygen does the coffee get?",
		Keywords: "ingress film OTR valve uptake pores carbon dioxide sweep shelf life dose",
		Fields: fields([]catalogue.Field{
			field("y", "Oxygen at sealing", "y_0", "%", 0, 100, "1.2", 0.1, "OxygenPct", "By the meter, like 1.2"),
			exact(field("day", "Day asked about", "t", "d", 0, 1000, "90", 0, "Days", "Since sealing, like 90")),
			freeField(), gramsField(), exact(tempField("t", "Temperature", "T", "TempC", "20")), exact(pressureField("p", "Air pressure outside, absolute", "P", "KPa")),
		}, under("What comes in", filmField(), areaField(),
			maybe(field("leak", "Through valve and seals, or the whole bag", "g_b", "mL/d", 0, 1e4, "0.00", 0, "BagCCPerDayAtm", "Per day at one atmosphere of oxygen, as measured on whole bags; no figure for valves is published"))),
			under("What the coffee takes",
				maybe(field("up", "Oxygen taken up", "r", "µg/(g·d)", 0, 1000, "0.5", 0, "UGPerGDay", "Per gram and day at the oxygen of the next field: your own measurement; empty for none")),
				maybe(field("upat", "measured at an oxygen of", "y_r", "%", 0.01, 100, "1.0", 0, "AtPct", "Like 1; the rate is taken in proportion to oxygen"))),
			under("What the beans give off",
				maybe(field("gas", "Carbon dioxide at drop", "M_0", "mg/g", degas.MinGasMgPerG, degas.MaxGasMgPerG, "9.0", 0, "GasMgPerG", "From your weighings: see the rest shelf; empty for none")),
				maybe(field("tau", "Time scale of its curve", "τ", "d", degas.MinTauDays, degas.MaxTauDays, "4.0", 0, "TauDays", "From the same fit, like 4")),
				maybe(field("beta", "Shape of its curve", "β", "", degas.MinExponent, degas.MaxExponent, "0.65", 0, "Exponent", "From the same fit, like 0.65")),
				maybe(exact(field("age", "Age of the coffee when sealed", "t_s", "d", 0, 365, "1.0", 0, "days", "Since roasting, like 1"))),
				maybe(exact(field("slack", "How much the bag can swell before it is taut", "V_s", "mL", 0, 1e6, "100", 0, "SlackML", "0 for a rigid pack"))),
				maybe(exact(field("open", "Opening pressure of the valve, over the outside", "P_o", "kPa", 0, 50, "0.5", 0, "OpenKPa", "By common practice 0.2 to 1 kPa")))),
			under("Gas inside the beans",
				maybe(field("pore", "Gas space inside the beans", "V_p", "mL", 0, 1e5, "", 5, "PoreML", "About 0.4 mL for each gram; empty if their own gas keeps the air out")),
				maybe(field("porey", "Oxygen in it at sealing", "z", "%", 0, 100, "", 1, "", "Beans that rested in air carry air, up to 20.9; nobody has published how much")),
				maybe(field("even", "Evens out with the headspace", "λ", "1/d", 0, 24, "", 0, "EvenPerDay", "Share of the difference a day, like 1, which is 63 % in a day")))),
		Outputs: []catalogue.Output{
			{ID: "then", Label: "Oxygen shown on the day asked about", Symbol: "y", Unit: "%"},
			{ID: "hour", Label: "Oxygen shown after an hour", Unit: "%"},
			{ID: "one", Label: "Oxygen shown after a day", Unit: "%"},
			{ID: "month", Label: "Oxygen shown after 30 days", Unit: "%"},
			{ID: "start", Label: "Oxygen sealed in, for each gram", Unit: "µg/g"},
			{ID: "in", Label: "Oxygen come in by then, for each gram", Unit: "µg/g"},
			{ID: "dose", Label: "Oxygen gone into the coffee by then", Unit: "µg/g"},
			{ID: "old", Label: "Days until the old rule's 41 µg/g for ground coffee", Unit: "d"},
		},
		Compute: computeLife,
		Cautions: []string{
			"A falling reading is no proof of a good bag: carbon dioxide and uptake hide what comes in. Count what entered.",
			"No date of freshness follows from this: what oxygen does to whole beans is published too thinly.",
		},
		Sources: []catalogue.Source{balanceOf, filmTable,
			{Name: "Sivetz and Desrosier, Coffee Technology, 1979", Locator: "14 mL of oxygen for a pound", Provenance: "memory"},
			{Name: "Cardelli and Labuza, Lebensm.-Wiss. Technol. 34, 2001", Locator: "ground coffee; abstract", Provenance: "opened"}},
		Checks: []catalogue.Check{{Package: "headspace", Quantity: "oxygen of a bag with film alone"}, {Package: "headspace", Quantity: "oxygen entered, STP"}, {Package: "headspace", Quantity: "oxygen after a sweep by carbon dioxide"}, {Package: "headspace", Quantity: "old dose"}},
	}
}

// sealedBag reads the bag of the form; an empty field of a group is none.
func sealedBag(in *catalogue.In) headspace.Bag {
	b := headspace.Bag{FreeML: in.F("v"), CoffeeG: in.F("m"), TempC: in.F("t"), KPa: in.F("p"), OxygenPct: in.F("y"),
		SlackML: optional(in, "slack", 0), OpenKPa: optional(in, "open", 0),
		Film: headspace.Film{OTRCCPerM2DayAtm: in.F("otr"), AreaM2: in.F("area"), BagCCPerDayAtm: optional(in, "leak", 0), OutsidePct: headspace.AirOxygenPct}}
	if in.Has("up") {
		b.Uptake = headspace.Uptake{UGPerGDay: in.F("up"), AtPct: optional(in, "upat", 1)}
	}
	if in.Has("pore") {
		b.Pores = headspace.PoreGas{PoreML: in.F("pore"), OxygenPct: optional(in, "porey", 0), EvenPerDay: optional(in, "even", 0)}
	}
	return b
}

// releaseOf is what the coffee has given off since sealing, by the curve of
// package degas; nil when the form has none.
func releaseOf(in *catalogue.In) (headspace.Release, error) {
	if !in.Has("gas") || !in.Has("tau") || !in.Has("beta") {
		return nil, nil
	}
	coffee := degas.Coffee{GasMgPerG: in.F("gas"), Curve: degas.Stretched{TauDays: in.F("tau"), Exponent: in.F("beta")}}
	return degas.ReleaseML(in.F("m"), coffee, optional(in, "age", 0), degas.Conditions{TempC: in.F("t"), PressureKPa: in.F("p")})
}

func computeLife(in *catalogue.In, out *catalogue.Out) error {
	b := sealedBag(in)
	release, err := releaseOf(in)
	if err != nil {
		return err
	}
	day := in.F("day")
	// One run through the times, in their order.
	at := []float64{1.0 / 24, 1, 30}
	place := len(at)
	for place > 0 && at[place-1] > day {
		place--
	}
	at = append(at[:place], append([]float64{day}, at[place:]...)...)
	states := make([]headspace.Aged, len(at))
	if err := headspace.OxygenAt(b, states, at, release); err != nil {
		return err
	}
	then := states[place]
	rest := append(append([]headspace.Aged(nil), states[:place]...), states[place+1:]...)
	out.Set("then", then.OxygenPct)
	out.Set("hour", rest[0].OxygenPct)
	out.Set("one", rest[1].OxygenPct)
	out.Set("month", rest[2].OxygenPct)
	dose, err := headspace.OxygenDose(headspace.Dose{FreeML: b.FreeML, OxygenPct: b.OxygenPct, CoffeeG: b.CoffeeG, State: headspace.GasState{TempC: b.TempC, KPa: b.KPa}})
	if err != nil {
		return err
	}
	out.Set("start", dose)
	out.Set("in", then.EnteredUGPerG)
	out.Set("dose", then.TakenUGPerG)
	if out.Shown() && b.Uptake.UGPerGDay > 0 {
		if d, err := headspace.DaysToDose(b, headspace.OldDoseUGPerG, 1000, release); err == nil {
			out.SetCount("old", int(math.Round(d)))
		} else {
			out.Note("The coffee does not take up the 41 µg/g of the old rule within 1000 days.")
		}
	}
	if !out.Full() {
		return nil
	}
	g := (b.Film.OTRCCPerM2DayAtm*b.Film.AreaM2 + b.Film.BagCCPerDayAtm) * (b.TempC + headspace.ZeroCelsiusK) / headspace.ZeroCelsiusK
	out.Work("g = (OTR*A + g_b)*(T + 273.15)/273.15", "g", num(g, 3)+" mL/d", "OTR", in.Text("otr"), "A", in.Text("area"), "g_b", num(b.Film.BagCCPerDayAtm, 3)+" mL/d", "T", in.Text("t"))
	out.Work("dn/dt = g*(x_e - x) - u*x - n*dS/dt")
	gone := 0.0
	if release != nil {
		gone = release(day)
		out.Work("S = (Q - V_s - (V_h + V_s)*P_o/P)/((V_h + V_s)*(1 + P_o/P))", "S", num(then.GasVentedML/((b.FreeML+b.SlackML)*(1+b.OpenKPa/b.KPa)), 3), "Q", ml(gone), "V_s", ml(b.SlackML), "V_h", in.Text("v"), "P_o", num(b.OpenKPa, 2)+" kPa", "P", in.Text("p"))
	}
	out.Note(wholeBeanNote)
	if in.Has("gas") && release == nil {
		out.Note("The curve of carbon dioxide is not complete and was left out: it takes the gas at drop, its time scale and its shape.")
	}
	if then.GasVentedML > 0 {
		lost, err := headspace.OxygenDose(headspace.Dose{FreeML: math.Max(0.1, then.VentedML), OxygenPct: 100, CoffeeG: b.CoffeeG, State: headspace.GasState{TempC: b.TempC, KPa: b.KPa}})
		if err != nil {
			return err
		}
		out.Note("By then {} mL of gas have left through the valve and taken {} µg/g of oxygen with them.", num(then.GasVentedML, 3), num(lost, 2))
	}
	last := math.Min(1000, math.Max(day*1.2, 60))
	const n = 90
	days := make([]float64, n+1)
	for i := range days { // an hour to the last, by equal ratios
		days[i] = 1.0 / 24 * math.Pow(last*24, float64(i)/n)
	}
	course := make([]headspace.Aged, len(days))
	if err := headspace.OxygenAt(b, course, days, release); err != nil {
		return err
	}
	y, taken, entered, co2 := make([]float64, n+1), make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)
	for i, a := range course {
		y[i], taken[i], entered[i], co2[i] = a.OxygenPct, a.TakenUGPerG, a.EnteredUGPerG, a.CarbonDioxidePct
	}
	out.Figure(figure.Plot{
		Title:  "Oxygen that the meter shows",
		Desc:   out.Say("Oxygen in the bag against days since sealing; on day {} it is {} %.", num(day, 3), num(then.OxygenPct, 3)),
		X:      figure.Axis{Label: "Since sealing", Unit: "days", Log: true},
		Y:      figure.Axis{Label: "Oxygen", Unit: "%", Max: nan},
		Lines:  []figure.Line{{Name: "shown", X: days, Y: y}},
		Marks:  []figure.Mark{{Name: "limit", At: headspace.LimitOxygenPct}},
		Points: []figure.Points{{Name: "asked about", X: []float64{math.Max(day, 1.0/24)}, Y: []float64{then.OxygenPct}}},
	})
	out.Figure(figure.Plot{
		Title: "Oxygen for each gram of coffee",
		Desc:  out.Say("Oxygen that came in and oxygen that went into the coffee, against days since sealing; {} µg/g were sealed in.", num(dose, 3)),
		X:     figure.Axis{Label: "Since sealing", Unit: "days", Log: true},
		Y:     figure.Axis{Label: "Oxygen", Unit: "µg/g", Max: nan},
		Lines: []figure.Line{{Name: "come in", X: days, Y: entered, Style: figure.Dashed}, {Name: "into the coffee", X: days, Y: taken}},
		Marks: []figure.Mark{{Name: "sealed in", At: dose}},
	})
	if release != nil {
		out.Figure(figure.Plot{
			Title: "Carbon dioxide in the bag",
			Desc:  out.Say("Share of carbon dioxide in the bag against days since sealing; on day {} it is {} %.", num(day, 3), num(then.CarbonDioxidePct, 2)),
			X:     figure.Axis{Label: "Since sealing", Unit: "days", Log: true},
			Y:     figure.Axis{Label: "Carbon dioxide", Unit: "%", Max: 100},
			Lines: []figure.Line{{Name: "in the bag", X: days, Y: co2}},
		})
	}
	return nil
}

func filmLayers() *catalogue.Calculator {
	layer := func(id, label, example, help string) catalogue.Field {
		return field(id, label, "", "cm³/(m²·d·atm)", 1e-6, 1e6, example, 0, "Layers", help)
	}
	return &catalogue.Calculator{
		ID:       "film-layers",
		Place:    catalogue.PackingLine,
		Order:    150,
		Name:     "What a film lets in",
		Question: "How tight is a laminate of these layers, and how much air's oxygen comes into the bag a day?",
		Keywords: "barrier OTR permeability laminate transmission ingress",
		Fields: []catalogue.Field{
			layer("a", "First layer", "105", "Oxygen transmission of the layer alone: PET of 12 µm 105"),
			maybe(layer("b", "Second layer", "8000", "LDPE 8000, cast PP of 30 µm 4800; empty for one layer")),
			maybe(layer("c", "Third layer", "", "Empty for two")),
			areaField(), freeField(), exact(tempField("t", "Temperature", "T", "TempC", "20")),
		},
		Outputs: []catalogue.Output{
			{ID: "otr", Label: "Oxygen through the laminate", Symbol: "OTR", Unit: "cm³/(m²·d·atm)"},
			{ID: "day", Label: "Oxygen into the bag a day, at first", Unit: "mL/d"},
			{ID: "rise", Label: "Rise of the reading in 30 days, from 1 %", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			layers := []float64{in.F("a")}
			for _, id := range []string{"b", "c"} {
				if in.Has(id) {
					layers = append(layers, in.F(id))
				}
			}
			otr, err := headspace.LaminateOTR(layers)
			if err != nil {
				return err
			}
			b := headspace.Bag{FreeML: in.F("v"), CoffeeG: 1, TempC: in.F("t"), KPa: headspace.SeaLevelKPa, OxygenPct: 1,
				Film: headspace.Film{OTRCCPerM2DayAtm: math.Min(otr, 2e4), AreaM2: in.F("area"), OutsidePct: headspace.AirOxygenPct}}
			month, err := headspace.OxygenAfter(b, 30, nil)
			if err != nil {
				return err
			}
			daily := otr * in.F("area") * (headspace.AirOxygenPct - 1) / 100 * (b.TempC + headspace.ZeroCelsiusK) / headspace.ZeroCelsiusK
			out.Set("otr", otr)
			out.Set("day", daily)
			out.Set("rise", month.OxygenPct-1)
			if !out.Full() {
				return nil
			}
			out.Work("1/OTR = 1/O_1 + 1/O_2 + 1/O_3")
			out.Work("D = OTR*A*(0.20946 - 0.01)*(T + 273.15)/273.15", "D", num(daily, 3)+" mL/d", "OTR", num(otr, 4)+" cm³/(m²·d·atm)", "A", in.Text("area"), "T", in.Text("t"))
			out.Note("Layers add up so only where they are whole polymer. Metal and foil break the rule both ways: metallised PET under LDPE is published at 0.6 where the rule gives 2. Creases, seals and the valve decide for a real bag: have it measured.")
			if otr > 2e4 {
				out.Note("The rise was computed for {} cm³/(m²·d·atm), the most that is accepted.", "20000")
			}
			days := grid(0, 365, 73)
			states := make([]headspace.Aged, len(days))
			if err := headspace.OxygenAt(b, states, days, nil); err != nil {
				return err
			}
			y := make([]float64, len(days))
			for i, s := range states {
				y[i] = s.OxygenPct
			}
			out.Figure(figure.Plot{
				Title: "Oxygen with this film alone",
				Desc:  out.Say("Oxygen in the bag against days, from 1 % and with nothing taken up; after 30 days it is {} %.", num(month.OxygenPct, 3)),
				X:     figure.Axis{Label: "Since sealing", Unit: "days"},
				Y:     figure.Axis{Label: "Oxygen", Unit: "%", Max: nan},
				Lines: []figure.Line{{Name: "in the bag", X: days, Y: y}},
				Marks: []figure.Mark{{Name: "limit", At: headspace.LimitOxygenPct}},
			})
			return nil
		},
		Sources: []catalogue.Source{filmTable, {Name: "Resistances in series", Provenance: "derived"},
			{Name: "Cooksey, Marsh and Doar, Food Technology, September 1999", Locator: "textbooks disagree on the rule", Provenance: "quoted"}},
		Checks: []catalogue.Check{{Package: "headspace", Quantity: "layers in series"}, {Package: "headspace", Quantity: "film of a thickness"}, {Package: "headspace", Quantity: "oxygen of a bag with film alone"}},
	}
}

func oxygenDose() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "oxygen-per-gram",
		Place:    catalogue.PackingLine,
		Order:    70,
		Name:     "Oxygen for each gram",
		Question: "How much oxygen does this reading mean for each gram of coffee?",
		Keywords: "dose microgram ppm headspace half full bag",
		Fields: []catalogue.Field{
			field("y", "Oxygen in the bag", "y", "%", 0, 100, "1.0", 0.1, "OxygenPct", "By the meter, like 1"),
			freeField(), gramsField(), tempField("t", "Temperature", "T", "TempC", "20"), pressureField("p", "Pressure in the bag, absolute", "P", "KPa"),
		},
		Outputs: []catalogue.Output{{ID: "d", Label: "Oxygen for each gram of coffee", Symbol: "d", Unit: "µg/g"}, {ID: "ml", Label: "Oxygen in the bag", Unit: "mL"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			dose := headspace.Dose{FreeML: in.F("v"), OxygenPct: in.F("y"), CoffeeG: in.F("m"), State: headspace.GasState{TempC: in.F("t"), KPa: in.F("p")}}
			d, err := headspace.OxygenDose(dose)
			if err != nil {
				return err
			}
			out.Set("d", d)
			out.Set("ml", dose.FreeML*dose.OxygenPct/100)
			if !out.Full() {
				return nil
			}
			mole, err := headspace.MolarVolume(dose.State)
			if err != nil {
				return err
			}
			out.Work("d = y/100*V_h/V_m*31.998*1000/m", "d", num(d, 3)+" µg/g", "y", in.Text("y"), "V_h", in.Text("v"), "V_m", num(mole, 4)+" L/mol", "m", in.Text("m"))
			out.Note("The same reading is twice the oxygen for each gram in a bag with twice the headspace.")
			x := grid(1, 4*dose.FreeML, 40)
			out.Figure(figure.Plot{
				Title: "The same reading in other headspaces",
				Desc:  out.Say("Oxygen for each gram at {} against the headspace; in this bag it is {} µg/g.", in.Text("y"), num(d, 3)),
				X:     figure.Axis{Label: "Headspace", Unit: "mL"},
				Y:     figure.Axis{Label: "Oxygen", Unit: "µg/g", Max: nan},
				Lines: []figure.Line{{Name: "this reading", X: x, Y: each(x, func(v float64) (float64, error) {
					e := dose
					e.FreeML = v
					return headspace.OxygenDose(e)
				})}},
				Points: []figure.Points{{Name: "this bag", X: []float64{dose.FreeML}, Y: []float64{d}}},
				Marks:  []figure.Mark{{Name: "old rule", At: headspace.OldDoseUGPerG}},
			})
			return nil
		},
		Cautions: []string{"The old rule of 41 µg/g is for ground coffee, from memory of a textbook: no limit for whole beans."},
		Sources:  []catalogue.Source{idealGas, {Name: "Sivetz and Desrosier, Coffee Technology, 1979", Locator: "14 mL of oxygen for a pound", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "oxygen of a gas space"}, {Package: "headspace", Quantity: "old dose"}},
	}
}
