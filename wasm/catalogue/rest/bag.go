package rest

import (
	"math"

	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func bagGas() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "bag-gas",
		Place:    catalogue.RestShelf,
		Order:    20,
		Name:     "What the gas does to the bag",
		Question: "How far does the bag swell, what pressure comes, when does the valve open, and how long must a bag without one wait?",
		Keywords: "pressure volume valve burst inflate tempering degassing sealing tin can",
		Fields: []catalogue.Field{
			{ID: "m", Label: "Coffee in the pack", Symbol: "m", Unit: "g", Min: 1, Max: 1e6, GoField: "CoffeeG", Example: "250", Help: "Net weight, like 250"},
			{ID: "sealed", Label: "Age when it is sealed", Symbol: "t_s", Unit: "d", Min: 0, Max: degas.MaxDays, GoField: "SealedDays", Example: "1.0", Help: "Since roasting, like 1 d or 12 h"},
			{ID: "vg", Label: "Gas in the pack when sealed", Symbol: "V_g", Unit: "mL", Min: 1, Max: 1e7, GoField: "GasML", Example: "300", PlusMinus: 15, Help: "Without the beans themselves, like 300"},
			{ID: "slack", Label: "Slack: how much it can swell before it is taut", Symbol: "V_s", Unit: "mL", Min: 0, Max: 1e7, GoField: "SlackML", Example: "150", PlusMinus: 15, None: true, Help: "0 for a tin or a bottle"},
			{ID: "valve", Label: "Opening pressure of the valve, over the outside", Symbol: "p_v", Unit: "kPa", Min: 0, Max: 50, GoField: "ValveKPa", Example: "0.5", Exact: true, Help: "By common practice 0.2 to 1 kPa, which is 2 to 10 mbar; 0 for no valve"},
			gasField("9.0"), tauField(), betaField(),
			tempField("temp", "Temperature", "T", "TempC", "21"), outsideField("OutsideKPa"),
			ageField("t", "Time since sealing asked about", "7", "Like 7 d"),
			{ID: "may", Label: "Pressure that a pack without a valve may take", Symbol: "p", Unit: "kPa", Min: 0, Max: 700, GoField: "gaugeKPa", Example: "0", Exact: true, Help: "Over the outside, as its maker allows; 0 when it may only swell"},
		},
		Outputs: []catalogue.Output{
			{ID: "p", Label: "Pressure then, over the outside", Symbol: "p_t", Unit: "kPa"},
			{ID: "v", Label: "Gas volume in the pack then", Symbol: "V", Unit: "mL"},
			{ID: "evolved", Label: "Gas given off by then", Symbol: "V_e", Unit: "mL"},
			{ID: "vented", Label: "Let out by the valve by then", Unit: "mL"},
			{ID: "taut", Label: "Taut after", Unit: "d"},
			{ID: "opens", Label: "The valve opens after", Unit: "d"},
			{ID: "peak", Label: "Highest pressure that can come, over the outside", Unit: "kPa"},
			{ID: "hold", Label: "Age to wait for before sealing without a valve", Unit: "d"},
		},
		Compute: computeBag,
		Cautions: []string{
			"A tin, a bottle or a taut bag of fresh coffee without a working valve can burst. No number here is a pressure rating: take the pack maker's, and a relief device.",
			"The oxygen in the pack is another question: resting in a valved bag does not replace flushing.",
		},
		Sources: []catalogue.Source{idealCO,
			{Name: "Gould, 1912", Locator: "release stops at a certain pressure; no number", Provenance: "quoted"},
			{Name: "Opening pressure of coffee valves", Locator: "2 to 10 mbar", Provenance: "common practice"}},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "pressure in a rigid pack"}, {Package: "degas", Quantity: "gas evolved into a soft bag"}, {Package: "degas", Quantity: "valve, opening pressure"}},
	}
}

func computeBag(in *catalogue.In, out *catalogue.Out) error {
	b := degas.Bag{CoffeeG: in.F("m"), Coffee: coffeeOf(in), SealedDays: in.F("sealed"), GasML: in.F("vg"), SlackML: in.F("slack"),
		ValveKPa: in.F("valve"), TempC: in.F("temp"), OutsideKPa: in.F("p")}
	s, err := degas.BagAfter(b, in.F("t"))
	if err != nil {
		return err
	}
	peak, err := degas.BagPeak(b)
	if err != nil {
		return err
	}
	out.Set("p", s.GaugeKPa)
	out.Set("v", s.GasML)
	out.Set("evolved", s.EvolvedML)
	out.Set("peak", peak.GaugeKPa)
	if b.ValveKPa > 0 {
		out.Set("vented", s.VentedML)
		if d, err := degas.DaysToGauge(b, b.ValveKPa); err == nil {
			out.Set("opens", d)
		} else {
			out.Note("The valve never opens: all the gas in the coffee makes less than its opening pressure.")
		}
	}
	if d, err := degas.DaysToGauge(b, 0); err == nil {
		out.Set("taut", d)
	} else {
		out.Note("The pack takes up all the gas and never grows taut.")
	}
	if d, err := degas.HoldDays(b, in.F("may")); err == nil {
		out.Set("hold", d)
	} else {
		out.Note("No wait is long enough to seal this without a valve: the pack takes up almost none of the gas. Give it a valve or more slack.")
	}
	if !out.Full() {
		return nil
	}
	noteOn(out, s.Notes|peak.Notes)
	v, err := degas.CO2MLPerG(degas.Conditions{TempC: b.TempC, PressureKPa: b.OutsideKPa})
	if err != nil {
		return err
	}
	l1, err := leftPct(b.Coffee.Curve, b.SealedDays)
	if err != nil {
		return err
	}
	l2, err := leftPct(b.Coffee.Curve, b.SealedDays+in.F("t"))
	if err != nil {
		return err
	}
	out.Work("V_e = m*M_0*(L_s - L_t)/100*v/1000", "V_e", catalogue.Num(s.EvolvedML, 4)+" mL", "m", in.Text("m"), "M_0", in.Text("gas"), "L_s", catalogue.Num(l1, 3)+" %", "L_t", catalogue.Num(l2, 3)+" %", "v", catalogue.Num(v, 4)+" mL/g")
	if s.EvolvedML > b.SlackML {
		free := b.OutsideKPa * (s.EvolvedML - b.SlackML) / s.GasML
		out.Work("p_free = P*(V_e - V_s)/(V_g + V_s)", "p_free", catalogue.Num(free, 3)+" kPa", "P", in.Text("p"), "V_e", catalogue.Num(s.EvolvedML, 4)+" mL", "V_s", in.Text("slack"), "V_g", in.Text("vg"))
		if s.VentedML > 0 {
			out.Note("The valve lets out what would press more than its opening pressure: a working valve keeps the pack within about a hundredth of the outside.")
		}
	}
	x := ages(math.Min(degas.MaxDays-b.SealedDays, math.Max(14, 1.3*in.F("t"))), 80)
	sealed := b
	sealed.ValveKPa = 0
	plot := figure.Plot{
		Title: "Pressure in the pack after sealing",
		Desc:  out.Say("Pressure over the outside against days since sealing; at {} it is {} kPa.", in.Text("t"), catalogue.Num(s.GaugeKPa, 3)),
		X:     figure.Axis{Label: "Since sealing", Unit: "days", Max: x[len(x)-1]},
		Y:     figure.Axis{Label: "Pressure over the outside", Unit: "kPa", Max: nan},
		Lines: []figure.Line{{Name: "without a valve, at most", X: x, Y: over(x, func(d float64) (float64, error) {
			s, err := degas.BagAfter(sealed, d)
			return s.GaugeKPa, err
		}), Style: figure.Dashed}},
		Points: []figure.Points{{Name: "asked about", X: []float64{in.F("t")}, Y: []float64{s.GaugeKPa}}},
	}
	if b.ValveKPa > 0 {
		plot.Lines = append(plot.Lines, figure.Line{Name: "with the valve", X: x, Y: over(x, func(d float64) (float64, error) {
			s, err := degas.BagAfter(b, d)
			return s.GaugeKPa, err
		})})
	}
	out.Figure(plot)
	out.Figure(figure.Plot{
		Title: "Gas volume after sealing",
		Desc:  out.Say("Gas given off, and gas in the pack, against days since sealing, at the pressure outside."),
		X:     figure.Axis{Label: "Since sealing", Unit: "days", Max: x[len(x)-1]},
		Y:     figure.Axis{Label: "Gas", Unit: "mL", Max: nan},
		Lines: []figure.Line{
			{Name: "given off", X: x, Y: over(x, func(d float64) (float64, error) { s, err := degas.BagAfter(b, d); return s.EvolvedML, err }), Style: figure.Dashed},
			{Name: "in the pack", X: x, Y: over(x, func(d float64) (float64, error) { s, err := degas.BagAfter(b, d); return s.GasML, err })},
		},
	})
	return nil
}
