package packing

import (
	"math"

	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func altitudeField(id, label, help string) catalogue.Field {
	return exact(field(id, label, "H", "m", -500, 5000, "100", 0, "AltitudeM", help))
}

func oxygenReading() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "oxygen-reading",
		Place:    catalogue.PackingLine,
		Order:    50,
		Name:     "What the oxygen meter says",
		Question: "What oxygen was in the bag, with the meter's zero, span, drift and draw put right?",
		Keywords: "headspace analyser calibration zero span needle correction uncertainty verdict",
		Fields: fields([]catalogue.Field{
			field("r", "Reading", "r", "%", -2, 110, "1.3", 0.1, "RawPct", "As the meter showed it in the bag, like 1.3; the plus-minus is how far repeated readings differ"),
			field("z", "Shown in the zero gas", "z", "%", -2, 50, "0.1", 0.1, "ZeroRawPct", "Before the run, in nitrogen, like 0.1"),
			field("zt", "Oxygen of the zero gas", "y_z", "%", 0, 50, "0.00", 0.01, "ZeroTruePct", "From its certificate, like 0.00"),
			field("s", "Shown in room air", "s", "%", 1, 110, "20.4", 0.1, "SpanRawPct", "Before the run, in fresh air, like 20.4"),
		}, under("The air it was spanned in",
			field("t", "Air temperature", "t", "°C", 0, 60, "22", 1, "TempC", "Like 22"),
			field("rh", "Relative humidity", "φ", "%", 0, 100, "50", 5, "RHPct", "Like 50; water takes the place of oxygen"),
			altitudeField("h", "Height above the sea where it was spanned", "Like 100"),
			maybe(exact(field("h2", "Height where the bag was read, if elsewhere", "H_2", "m", -500, 5000, "", 0, "", "For a cell that answers to partial pressure; empty when spanned on site or corrected by the meter")))),
			under("After the run",
				maybe(field("z2", "Shown in the zero gas then", "z_2", "%", -2, 50, "0.2", 0.1, "", "With the next field, for the drift; empty if not done")),
				maybe(field("s2", "Shown in room air then", "s_2", "%", 1, 110, "20.2", 0.1, "", "Like 20.2")),
				maybe(exact(field("e", "Place of the reading between the two", "e", "%", 0, 100, "50", 0, "ElapsedPct", "0 at the first calibration, 100 at the second")))),
			under("The draw",
				maybe(field("d", "Gas drawn", "D", "mL", 0.1, 10_000, "20", 2, "DrawML", "For one reading, like 20")),
				maybe(field("g", "Gas that the bag can give", "G", "mL", 0.1, 1e6, "700", 50, "GiveML", "A limp bag nearly all of it, a rigid pack about a tenth")),
				maybe(field("l", "Needle, tube and cell", "L", "mL", 0, 10_000, "4", 1, "LineML", "Full of air when the needle goes in, like 4")))),
		Outputs: []catalogue.Output{
			{ID: "y", Label: "Oxygen in the bag", Symbol: "y", Unit: "%"},
			{ID: "cell", Label: "Oxygen at the cell", Symbol: "y_c", Unit: "%"},
			{ID: "span", Label: "What the room air held", Symbol: "y_s", Unit: "%"},
			{ID: "drift", Label: "Drift between the calibrations, at this reading", Unit: "%"},
			{ID: "air", Label: "Share of outside air in the sample", Symbol: "w", Unit: "%"},
		},
		Derived: []catalogue.Derived{{GoField: "OxygenPct", Label: "The reading, corrected"}, {GoField: "Before.SpanTruePct", Label: "What the room air held"}, {GoField: "After.SpanTruePct", Label: "What the room air held"}},
		Limits:  []catalogue.Limit{{Output: "y", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit}},
		Compute: computeReading,
		Cautions: []string{
			"Judge flushing on readings within an hour or so of sealing: later ones look better, by carbon dioxide and by oxygen gone into the coffee.",
		},
		Sources: []catalogue.Source{{Name: "Two-point calibration", Provenance: "derived"}, {Name: "ISO 2533:1975", Locator: "standard atmosphere", Provenance: "quoted"},
			{Name: "The Engineering ToolBox", Locator: "composition of air", Provenance: "opened"}},
		Checks: []catalogue.Check{{Package: "headspace", Quantity: "corrected reading"}, {Package: "headspace", Quantity: "oxygen of humid air"}, {Package: "headspace", Quantity: "standard-atmosphere pressure"}, {Package: "headspace", Quantity: "uncorrected partial-pressure reading"}},
	}
}

func computeReading(in *catalogue.In, out *catalogue.Out) error {
	p, err := headspace.Pressure(in.F("h"))
	if err != nil {
		return err
	}
	air, err := headspace.AirOxygen(headspace.RoomAir{TempC: in.F("t"), RHPct: in.F("rh"), KPa: p})
	if err != nil {
		return err
	}
	m := headspace.Meter{RawPct: in.F("r"), Before: headspace.Calibration{ZeroRawPct: in.F("z"), ZeroTruePct: in.F("zt"), SpanRawPct: in.F("s"), SpanTruePct: air}, SpanKPa: p, ReadKPa: p}
	m.After = m.Before
	if in.Has("h2") {
		if m.ReadKPa, err = headspace.Pressure(in.F("h2")); err != nil {
			return err
		}
	}
	again := in.Has("z2") && in.Has("s2")
	if again {
		m.After.ZeroRawPct, m.After.SpanRawPct, m.Again = in.F("z2"), in.F("s2"), true
		m.ElapsedPct = optional(in, "e", 50)
	}
	c, err := headspace.CorrectReading(m)
	if err != nil {
		return err
	}
	out.Set("cell", c.OxygenPct)
	out.Set("span", air)
	if again {
		out.Set("drift", c.DriftPct)
	}
	bag, share := c.OxygenPct, 0.0
	var notes headspace.Notes
	if in.Has("d") && in.Has("g") {
		s, err := headspace.BagOxygen(headspace.Draw{OxygenPct: c.OxygenPct, AirPct: air, DrawML: in.F("d"), GiveML: in.F("g"), LineML: optional(in, "l", 0)})
		if err != nil {
			return err
		}
		bag, notes, share = s.OxygenPct, s.Notes, s.AirShare
		out.Set("air", share)
	}
	out.Set("y", bag)
	off := 2 * math.Hypot(in.U("r"), math.Hypot(in.U("z"), in.U("s"))) // what the meter's own digits allow
	if bag < -off {
		return &headspace.ImpossibleError{Quantity: "oxygen", Why: "corrected, the reading is below zero by more than the meter may be off; check its zero point"}
	}
	if !out.Full() {
		return nil
	}
	if bag > air+off {
		out.Note("The corrected oxygen is above that of the air around: check the calibration.")
	}
	if err := workReading(in, out, m, c.OxygenPct, air); err != nil {
		return err
	}
	if in.Has("d") && in.Has("g") {
		w, d, l, g := num(share/100, 3), in.Text("d"), in.Text("l"), in.Text("g")
		switch line := optional(in, "l", 0) > 0; { // the line's air, and what leaks in when the bag gives too little
		case line && in.F("g") >= in.F("d"):
			out.Work("w = exp(-D/L)", "w", w, "D", d, "L", l)
		case line:
			out.Work("w = 1 - (1 - exp(-D/L))*G/D", "w", w, "D", d, "L", l, "G", g)
		case in.F("g") < in.F("d"):
			out.Work("w = 1 - G/D", "w", w, "D", d, "G", g)
		}
		out.Work("y = (y_c - w*y_s)/(1 - w)", "y", pct(bag, 3), "y_c", pct(c.OxygenPct, 4), "w", num(share/100, 3), "y_s", pct(air, 4))
	}
	say(out, c.Notes&^headspace.BelowZero|notes)
	if bag < 0 {
		say(out, headspace.BelowZero)
	}
	v, err := headspace.JudgeOxygen(headspace.Case{OxygenPct: bag, ExcellentPct: headspace.ExcellentOxygenPct, LimitPct: headspace.LimitOxygenPct})
	if err == nil && v == headspace.Excellent && bag >= 0 { // below it the zero point is in doubt
		out.Note("Under 1 % counts as excellent.")
	}
	if d := in.F("s") - air; d > 0.3 || d < -0.3 {
		out.Note("In this air the meter should show {} %: set its span.", num(air, 3))
	}
	x := grid(0, 21, 42)
	line := func(cal headspace.Calibration) []float64 {
		return each(x, func(raw float64) (float64, error) {
			c, err := headspace.CorrectReading(headspace.Meter{RawPct: raw, Before: cal, After: cal, SpanKPa: m.SpanKPa, ReadKPa: m.ReadKPa})
			return c.OxygenPct - raw, err
		})
	}
	lines := []figure.Line{{Name: "before", X: x, Y: line(m.Before)}}
	if again {
		lines = append(lines, figure.Line{Name: "after", X: x, Y: line(m.After), Style: figure.Dashed})
	}
	out.Figure(figure.Plot{
		Title:  "What to add to a reading",
		Desc:   out.Say("The correction against what the meter shows; {} becomes {} %.", in.Text("r"), num(c.OxygenPct, 3)),
		X:      figure.Axis{Label: "Shown", Unit: "%"},
		Y:      figure.Axis{Label: "To add", Unit: "%"},
		Lines:  lines,
		Points: []figure.Points{{Name: "this reading", X: []float64{m.RawPct}, Y: []float64{c.OxygenPct - m.RawPct}}},
	})
	return nil
}

// workReading shows how the cell's oxygen comes from the reading: by one
// calibration, or by the one before and the one after.
func workReading(in *catalogue.In, out *catalogue.Out, m headspace.Meter, cell, air float64) error {
	by := func(symbol string, c headspace.Calibration) (float64, error) {
		alone := m
		alone.Before, alone.After = c, c
		got, err := headspace.CorrectReading(alone)
		if err != nil {
			return 0, err
		}
		raw := in.Text("r")
		if m.ReadKPa != m.SpanKPa {
			r := c.ZeroRawPct + (m.RawPct-c.ZeroRawPct)*m.SpanKPa/m.ReadKPa
			out.Work("r = z + (r_0 - z)*P_s/P_r", "r", pct(r, 4), "z", pct(c.ZeroRawPct, 4), "r_0", raw, "P_s", num(m.SpanKPa, 5)+" kPa", "P_r", num(m.ReadKPa, 5)+" kPa")
			raw = pct(r, 4)
		}
		out.Work(symbol+" = y_z + (y_s - y_z)*(r - z)/(s - z)", symbol, pct(got.OxygenPct, 4), "y_z", in.Text("zt"), "y_s", pct(air, 4), "r", raw, "z", pct(c.ZeroRawPct, 4), "s", pct(c.SpanRawPct, 4))
		return got.OxygenPct, nil
	}
	if !m.Again {
		_, err := by("y_c", m.Before)
		return err
	}
	before, err := by("y_1", m.Before)
	if err != nil {
		return err
	}
	after, err := by("y_2", m.After)
	if err != nil {
		return err
	}
	out.Work("y_c = (1 - e)*y_1 + e*y_2", "y_c", pct(cell, 4), "e", num(m.ElapsedPct/100, 3), "y_1", pct(before, 4), "y_2", pct(after, 4))
	return nil
}

func airOxygen() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "air-oxygen",
		Place:    catalogue.PackingLine,
		Order:    160,
		Name:     "Oxygen in this room's air",
		Question: "What should my meter show in this air before I span it?",
		Keywords: "humidity altitude span calibration 20.9 partial pressure",
		Fields: []catalogue.Field{
			field("t", "Air temperature", "t", "°C", 0, 60, "25", 0.5, "TempC", "Like 25"),
			field("rh", "Relative humidity", "φ", "%", 0, 100, "50", 3, "RHPct", "Like 50"),
			altitudeField("h", "Height above the sea", "Like 100"),
		},
		Outputs: []catalogue.Output{
			{ID: "x", Label: "Oxygen in this air", Symbol: "x", Unit: "%"},
			{ID: "dry", Label: "What a cell spanned at sea level in dry air shows", Unit: "%"},
			{ID: "p", Label: "Air pressure at this height", Symbol: "P", Unit: "kPa"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			p, err := headspace.Pressure(in.F("h"))
			if err != nil {
				return err
			}
			x, err := headspace.AirOxygen(headspace.RoomAir{TempC: in.F("t"), RHPct: in.F("rh"), KPa: p})
			if err != nil {
				return err
			}
			out.Set("x", x)
			out.Set("dry", x*p/headspace.SeaLevelKPa)
			out.Set("p", p)
			if !out.Full() {
				return nil
			}
			out.Work("P = 101.325*(1 - 0.0065*H/288.15)^5.25588", "P", num(p, 4)+" kPa", "H", in.Text("h"))
			water := p * (1 - x/headspace.AirOxygenPct)
			out.Work("x = 20.946*(1 - p_w/P)", "x", pct(x, 4), "p_w", num(water, 3)+" kPa", "P", num(p, 4)+" kPa")
			out.Note("Height alone does not change the share of oxygen, only its pressure: span on site.")
			h := grid(0, 100, 20)
			var lines []figure.Line
			for _, c := range []struct {
				t     float64
				name  string
				style figure.Style
			}{{10, "10 °C", figure.Solid}, {20, "20 °C", figure.Dashed}, {30, "30 °C", figure.Dotted}} {
				lines = append(lines, figure.Line{Name: c.name, X: h, Style: c.style, Y: each(h, func(rh float64) (float64, error) {
					return headspace.AirOxygen(headspace.RoomAir{TempC: c.t, RHPct: rh, KPa: p})
				})})
			}
			out.Figure(figure.Plot{
				Title:  "Oxygen in air by its humidity",
				Desc:   out.Say("Oxygen in air against humidity at three temperatures; this air holds {} %.", num(x, 4)),
				X:      figure.Axis{Label: "Relative humidity", Unit: "%"},
				Y:      figure.Axis{Label: "Oxygen", Unit: "%", Min: 19.5, Max: 21},
				Lines:  lines,
				Points: []figure.Points{{Name: "this air", X: []float64{in.F("rh")}, Y: []float64{x}}},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "ISO 2533:1975", Locator: "standard atmosphere", Provenance: "quoted"},
			{Name: "Hyland and Wexler, as in the ASHRAE Handbook of Fundamentals", Locator: "saturation pressure", Provenance: "memory"},
			{Name: "The Engineering ToolBox", Locator: "composition of air", Provenance: "opened"}},
		Checks: []catalogue.Check{{Package: "headspace", Quantity: "oxygen of humid air"}, {Package: "headspace", Quantity: "water in saturated air"}, {Package: "headspace", Quantity: "sea-level equivalent of oxygen at altitude"}},
	}
}
