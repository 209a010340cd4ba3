package store

import (
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var firstOrder = catalogue.Source{Name: "first-order approach to equilibrium", Provenance: "derived"}

func storeDrift() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "store-drift",
		Place:    catalogue.GreenStore,
		Order:    28,
		Name:     "Drift of a lot in the store",
		Question: "What moisture will this lot have after some time in this room?",
		Keywords: "how fast weeks months sack rate time constant shelf",
		Fields: []catalogue.Field{
			content("m", "Moisture now", "M_0", "10.2", "MoisturePct"),
			temperature("t", "Air temperature of the room", "t", "18.0", "TempC"),
			humidity("rh", "Relative humidity of the room", "φ", "60", "RHPct"),
			number("tau", "Time constant", "τ", "d", moisture.MinTimeConstantDays, moisture.MaxTimeConstantDays, "45", 10, "TimeConstantDays", "Days in which 63 % of the way is gone; from two weighings of your own sacks, like 45"),
			number("d", "Time in the room", "T", "d", 0, moisture.MaxStoreDays, "30", 0, "Days", "In days, like 30"),
		},
		Outputs: []catalogue.Output{{ID: "m1", Label: "Moisture then, wet basis", Symbol: "M", Unit: "%"}, {ID: "e", Label: "Moisture that the room leads to", Symbol: "M_e", Unit: "%"}},
		Limits:  []catalogue.Limit{{Output: "m1", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: greenStandard, Caution: mouldCaution}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			e, err := moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: in.F("t"), RHPct: in.F("rh")})
			if err != nil {
				return err
			}
			stay := moisture.Stay{MoisturePct: in.F("m"), EquilibriumPct: e.MoisturePct, TimeConstantDays: in.F("tau")}
			m, err := moisture.DriftAfter(stay, in.F("d"))
			if err != nil {
				return err
			}
			after := func(equilibrium, days float64) float64 {
				s := stay
				s.EquilibriumPct = equilibrium
				v, err := moisture.DriftAfter(s, days)
				if err != nil {
					return nan
				}
				return v
			}
			lo, hi := max(e.MoisturePct-e.SEPct, moisture.MinMoisturePct), min(e.MoisturePct+e.SEPct, moisture.MaxMoisturePct)
			out.SetU("m1", m, (after(hi, in.F("d"))-after(lo, in.F("d")))/2, "the curve itself")
			out.SetU("e", e.MoisturePct, e.SEPct, "the curve itself")
			if !out.Full() {
				return nil
			}
			x := func(m float64) float64 { return 100 * m / (100 - m) }
			out.Work("X = X_e + (X_0 - X_e)*exp(-T/τ)", "X", pct(x(m), 4), "X_e", pct(x(e.MoisturePct), 4), "X_0", pct(x(in.F("m")), 4), "T", in.Text("d"), "τ", in.Text("tau"))
			out.Work("M = 100*X/(100 + X)", "M", pct(m, 4), "X", pct(x(m), 4))
			out.Note("No time constant of a sack was found in a source: fit yours from two weighings. The outside of a sack goes faster than its core.")
			say(out, e.Notes)
			g := grid(0, max(in.F("d")*1.3, 1), 60)
			out.Figure(figure.Plot{
				Title:  "Moisture of the lot over time",
				Desc:   out.Say("From {} towards {}: after {} the lot has {}.", in.Text("m"), pct(e.MoisturePct, 3), in.Text("d"), pct(m, 3)),
				X:      figure.Axis{Label: "Time in the room", Unit: "d"},
				Y:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
				Bands:  []figure.Band{{Name: "by the error of the curve", X: g, Lo: each(g, func(d float64) float64 { return after(lo, d) }), Hi: each(g, func(d float64) float64 { return after(hi, d) })}},
				Lines:  []figure.Line{{Name: "the lot", X: g, Y: each(g, func(d float64) float64 { return after(e.MoisturePct, d) })}},
				Points: []figure.Points{{Name: "then", X: []float64{in.F("d")}, Y: []float64{m}}},
				Marks:  []figure.Mark{{Name: "the room's", At: e.MoisturePct}},
			})
			return nil
		},
		Cautions: []string{mouldCaution},
		Sources:  []catalogue.Source{firstOrder, roaPaper},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "equilibrium moisture"}},
	}
}

func driftRate() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "drift-rate",
		Place:    catalogue.GreenStore,
		Order:    34,
		Name:     "How fast our store works",
		Question: "What is the time constant of our sacks, by our own readings?",
		Keywords: "fit weighings rate first order",
		Fields: []catalogue.Field{
			{ID: "readings", Label: "Readings of one lot", Kind: catalogue.Series, GoField: "Readings",
				Columns: []catalogue.Column{
					{ID: "d", Label: "Day", Unit: "d", Min: 0, Max: moisture.MaxStoreDays},
					{ID: "m", Label: "Moisture", Unit: "%", Min: moisture.MinMoisturePct, Max: moisture.MaxMoisturePct}},
				Example: "0 10.20\n14 10.47\n28 10.66\n42 10.80\n56 10.93",
				Help:    "One reading a line: the day, then the moisture in percent, by meter or by weighing back. Two at least"},
			content("e", "Moisture that the room leads to", "M_e", "11.2", "EquilibriumPct"),
		},
		Outputs: []catalogue.Output{
			{ID: "tau", Label: "Time constant", Symbol: "τ", Unit: "d"},
			{ID: "half", Label: "Half of the way takes", Unit: "d"},
			{ID: "start", Label: "Moisture at the first reading, on the curve", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			cols := in.Columns("readings")
			readings := make([]moisture.StoreReading, len(cols[0]))
			for i := range readings {
				readings[i] = moisture.StoreReading{Days: cols[0][i], MoisturePct: cols[1][i]}
			}
			f, err := moisture.FitDrift(readings, in.F("e"))
			if err != nil {
				return err
			}
			const ln2 = 0.6931471805599453
			out.SetU("tau", f.TimeConstantDays, f.TimeConstantSEDays, "scatter of the readings")
			out.SetU("half", ln2*f.TimeConstantDays, ln2*f.TimeConstantSEDays, "scatter of the readings")
			out.Set("start", f.StartPct)
			if !out.Full() {
				return nil
			}
			out.Work("X = X_e + (X_0 - X_e)*exp(-T/τ)", "τ", catalogue.Num(f.TimeConstantDays, 3)+" d")
			say(out, f.Notes)
			first, last := readings[0].Days, readings[len(readings)-1].Days
			g := grid(first, last+(last-first)/2, 60)
			s := moisture.Stay{MoisturePct: f.StartPct, EquilibriumPct: in.F("e"), TimeConstantDays: f.TimeConstantDays}
			out.Figure(figure.Plot{
				Title: "Readings and the drift through them",
				Desc:  out.Say("{} readings and the curve of a time constant of {} days towards {}.", catalogue.Shortest(float64(len(readings))), catalogue.Num(f.TimeConstantDays, 3), in.Text("e")),
				X:     figure.Axis{Label: "Day", Unit: "d"},
				Y:     figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
				Lines: []figure.Line{{Name: "drift", X: g, Y: each(g, func(d float64) float64 {
					v, err := moisture.DriftAfter(s, d-first)
					if err != nil {
						return nan
					}
					return v
				})}},
				Points: []figure.Points{{Name: "readings", X: cols[0], Y: cols[1]}},
				Marks:  []figure.Mark{{Name: "the room's", At: in.F("e")}},
			})
			return nil
		},
		Cautions: []string{meterCaution},
		Sources:  []catalogue.Source{firstOrder},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "hours of a thin layer"}},
	}
}

func roomWater() *catalogue.Calculator {
	const now, wanted, outside = "The room now", "The room wanted", "The air outside"
	warm := func(id, label, symbol, example, goField string) catalogue.Field {
		return number(id, label, symbol, "°C", 0, 60, example, 0.5, goField, "As the thermometer shows it, like 18")
	}
	out0 := number("to", "Temperature outside", "t_o", "°C", moisture.AirMinC, 60, "16.0", 0.5, "Outside.TempC", "Of the air that comes in, like 16 or −5")
	return &catalogue.Calculator{
		ID:       "room-water",
		Place:    catalogue.GreenStore,
		Order:    32,
		Name:     "Water to take from a room",
		Question: "How much water must a dryer or a humidifier move to bring this room to its climate?",
		Keywords: "dehumidifier humidifier litres per hour air change ventilation size",
		Fields: []catalogue.Field{
			number("v", "Free air in the room", "V", "m³", 0.1, 1e6, "300", 15, "VolumeM3", "Length by width by height, less what the sacks take up, like 300"),
			altitude(),
			under(now, warm("t1", "Temperature now", "t_1", "20.0", "From.TempC")),
			under(now, humidity("r1", "Humidity now", "φ_1", "72", "From.RHPct")),
			under(wanted, warm("t2", "Temperature wanted", "t_2", "18.0", "To.TempC")),
			under(wanted, humidity("r2", "Humidity wanted", "φ_2", "58", "To.RHPct")),
			under(outside, out0),
			under(outside, humidity("ro", "Humidity outside", "φ_o", "85", "Outside.RHPct")),
			under(outside, number("n", "Air changes", "n", "per hour", 0, 60, "0.5", 0.2, "ChangesPerHour", "How often an hour the room's air is replaced: 0.2 to 1 with closed doors, by habit")),
		},
		Outputs: []catalogue.Output{
			{ID: "once", Label: "Water to remove once", Symbol: "m", Unit: "kg"},
			{ID: "hour", Label: "Water to remove each hour after that", Symbol: "q", Unit: "kg/h"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			p, err := moisture.PressureAtAltitude(in.F("z"))
			if err != nil {
				return err
			}
			r := moisture.RoomChange{VolumeM3: in.F("v"), PressureKPa: p,
				From:    moisture.Air{TempC: in.F("t1"), RHPct: in.F("r1")},
				To:      moisture.Air{TempC: in.F("t2"), RHPct: in.F("r2")},
				Outside: moisture.Air{TempC: in.F("to"), RHPct: in.F("ro")}, ChangesPerHour: in.F("n")}
			w, err := moisture.WaterForRoom(r)
			if err != nil {
				return err
			}
			once, hour := -w.OnceG/1000, -w.PerHourG/1000
			out.Set("once", once)
			out.Set("hour", hour)
			if !out.Full() {
				return nil
			}
			state := func(a moisture.Air) moisture.AirState {
				s, err := moisture.AirProperties(moisture.MoistAir{TempC: a.TempC, RHPct: a.RHPct, PressureKPa: p})
				if err != nil {
					return moisture.AirState{}
				}
				return s
			}
			s1, s2, so := state(r.From), state(r.To), state(r.Outside)
			g := func(v float64) string { return catalogue.Num(v, 4) + " g/kg" }
			out.Work("m = V*(W_1 - W_2)/(1000*v_2)", "m", catalogue.Num(once, 3)+" kg", "V", in.Text("v"), "W_1", g(s1.RatioGPerKg), "W_2", g(s2.RatioGPerKg), "v_2", catalogue.Num(s2.VolumeM3PerKg, 4)+" m³/kg")
			out.Work("q = n*V*(W_o - W_2)/(1000*v_2)", "q", catalogue.Num(hour, 3)+" kg/h", "n", in.Text("n"), "V", in.Text("v"), "W_o", g(so.RatioGPerKg), "W_2", g(s2.RatioGPerKg), "v_2", catalogue.Num(s2.VolumeM3PerKg, 4)+" m³/kg")
			if once < 0 || hour < 0 {
				out.Note("A number below zero is water to add.")
			}
			out.Note("The coffee holds far more water than the air: a tonne that gives off {} of its mass sets free {}, as much as a hundred cubic metres of store air hold.", "0.1 %", "1 kg")
			say(out, w.Notes)
			out.Figure(figure.Plot{
				Title: "Water in the three airs",
				Desc:  out.Say("Water per dry air: {} now, {} wanted, {} outside.", g(s1.RatioGPerKg), g(s2.RatioGPerKg), g(so.RatioGPerKg)),
				X:     figure.Axis{Label: "Air"},
				Y:     figure.Axis{Label: "Water per dry air", Unit: "g/kg"},
				Bars: []figure.Bar{{Name: "now", X: 1, Width: 0.6, Hi: s1.RatioGPerKg}, {Name: "wanted", X: 2, Width: 0.6, Hi: s2.RatioGPerKg},
					{Name: "outside", X: 3, Width: 0.6, Hi: so.RatioGPerKg}},
			})
			return nil
		},
		Cautions: []string{"Ventilate people first: a closed room with roasted coffee or with people in it gathers carbon dioxide. Local codes decide how much air a workplace needs."},
		Sources:  []catalogue.Source{balance, ashrae},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "saturation humidity ratio"}},
	}
}

func coldSack() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "cold-sack",
		Place:    catalogue.GreenStore,
		Order:    12,
		Name:     "Will a cold sack sweat?",
		Question: "Will this cold sack sweat in this room, and how warm must it get first?",
		Keywords: "condensation dew point container truck winter wall",
		Fields: []catalogue.Field{
			airTemperature("s", "Temperature of the sack's surface", "t_s", "9.0", "SurfaceC"),
			airTemperature("t", "Air temperature of the room", "t", "18.0", "Room.TempC"),
			humidity("rh", "Relative humidity of the room", "φ", "58", "Room.RHPct"),
			number("margin", "Margin to keep", "m", "K", 0, 10, catalogue.Shortest(moisture.CondensationMarginK), 0, "MarginK", "How far above the dew point to stay; coating practice says about 3 K"),
		},
		Outputs: []catalogue.Output{
			{ID: "above", Label: "Surface above the dew point", Symbol: "Δ", Unit: "K"},
			{ID: "warm", Label: "Warm it to", Symbol: "t_w", Unit: "°C"},
			{ID: "dew", Label: "Dew point of the room", Symbol: "t_d", Unit: "°C"},
			{ID: "safe", Label: "Humidity at which it would stay dry", Unit: "%"},
		},
		Limits: []catalogue.Limit{{Output: "above", Lo: moisture.CondensationMarginK, Hi: nan, Source: catalogue.Source{Name: "surface-coating practice, 5 °F above the dew point", Provenance: "opened"}}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			room := moisture.Air{TempC: in.F("t"), RHPct: in.F("rh")}
			s, err := moisture.SackSweat(moisture.ColdSack{SurfaceC: in.F("s"), Room: room, MarginK: in.F("margin")})
			if err != nil {
				return err
			}
			out.Set("above", s.AboveK)
			out.Set("warm", s.WarmToC)
			out.Set("dew", s.DewC)
			out.Set("safe", s.SafeRHPct)
			if !out.Full() {
				return nil
			}
			out.Work("Δ = t_s - t_d", "Δ", catalogue.Num(s.AboveK, 3)+" K", "t_s", in.Text("s"), "t_d", catalogue.Num(s.DewC, 4)+" °C")
			out.Work("t_w = t_d + m", "t_w", catalogue.Num(s.WarmToC, 4)+" °C", "t_d", catalogue.Num(s.DewC, 4)+" °C", "m", in.Text("margin"))
			switch {
			case s.Wet:
				out.Note("It sweats: keep the liner closed until the beans, not only the surface, have warmed.")
			case s.Notes&moisture.NearDew != 0:
				out.Note("It stays dry by less than the margin.")
			}
			out.Note("The middle of a sack stays cold for days after its surface is warm.")
			say(out, s.Notes)
			g := grid(20, 90, 50)
			out.Figure(figure.Plot{
				Title: "Dew point of the room by its humidity",
				Desc:  out.Say("At {} the dew point is {} °C; the surface is at {}.", in.Text("rh"), catalogue.Num(s.DewC, 3), in.Text("s")),
				X:     figure.Axis{Label: "Relative humidity", Unit: "%"},
				Y:     figure.Axis{Label: "Temperature", Unit: "°C"},
				Lines: []figure.Line{{Name: "dew point", X: g, Y: each(g, func(rh float64) float64 {
					d, err := moisture.DewPoint(moisture.Air{TempC: room.TempC, RHPct: rh})
					if err != nil {
						return nan
					}
					return d.DewC
				})}},
				Points: []figure.Points{{Name: "this room", X: []float64{room.RHPct}, Y: []float64{s.DewC}}},
				Marks:  []figure.Mark{{Name: "surface", At: in.F("s")}},
			})
			return nil
		},
		Cautions: []string{"Wet sacks grow mould within days and stain: a wet sack is dried and set apart, not stacked. " + mouldCaution},
		Sources:  []catalogue.Source{ashrae},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "dew point"}, {Package: "moisture", Quantity: "greatest safe humidity of a cold sack"}},
	}
}
