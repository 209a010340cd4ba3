package packing

import (
	"math"

	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var (
	osha  = catalogue.Source{Name: "OSHA, letter of 2 April 2007 on 29 CFR 1910.134", Locator: "below 19.5 % deficient and immediately dangerous", Provenance: "opened"}
	bands = catalogue.Source{Name: "'The effects of oxygen deficiency', a construction-safety table", Provenance: "opened"}

	alarm = catalogue.Limit{Lo: headspace.DeficientOxygenPct, Hi: nan, Source: osha,
		Caution: "In on paper is not safe in the room: a leak is not mixed, and no calculation warns. Alarm and ventilation first. Too close to call counts as out."}
)

var roomMarks = []figure.Mark{{Name: "19.5 %", At: headspace.DeficientOxygenPct}, {Name: "18 %, get out", At: headspace.EvacuateOxygenPct}}

func roomField() catalogue.Field {
	return field("v", "Free volume of the room", "V", "m³", 0.1, 1e6, "60", 5, "RoomM3", "Floor times at most 2 m of height, less furniture and machines, like 60")
}

// effects lists what low oxygen does, and marks where this room would be; in a
// gap between two bands, and under the last, the worse of them.
func effects(out *catalogue.Out, oxygen float64) {
	var bands []headspace.Effect // from the mildest
	within := false
	at := func(e headspace.Effect) bool { return oxygen >= e.LowPct && oxygen <= e.HighPct }
	for _, e := range headspace.OxygenEffects() {
		if e.LowPct < e.HighPct {
			bands = append(bands, e)
			within = within || at(e)
		}
	}
	worse := headspace.Effect{}
	if !within && oxygen < bands[0].HighPct {
		worse = bands[len(bands)-1]
		for i := len(bands) - 1; i >= 0 && bands[i].HighPct < oxygen; i-- {
			worse = bands[i]
		}
	}
	var rows [][]string
	here := out.Say("here")
	for _, e := range headspace.OxygenEffects() {
		mark := ""
		if e.LowPct < e.HighPct && at(e) || e == worse {
			mark = here
		}
		band := catalogue.Shortest(e.LowPct) + " %"
		if e.LowPct < e.HighPct {
			band = catalogue.Shortest(e.LowPct) + "–" + catalogue.Shortest(e.HighPct) + " %"
		}
		rows = append(rows, []string{band, e.What, mark})
	}
	out.Table("What too little oxygen does", []string{"Oxygen", "Effect", ""}, rows)
	out.Note("The bands are one source's; agencies differ. They are warnings and no safe times.")
}

func roomRelease() *catalogue.Calculator {
	limit := alarm
	limit.Output = "x"
	return &catalogue.Calculator{
		ID:       "room-release",
		Place:    catalogue.PackingLine,
		Order:    170,
		Name:     "A cylinder let go in the room",
		Question: "What oxygen is left in the room if all this gas escapes at once?",
		Keywords: "asphyxiation safety nitrogen leak burst hose store",
		Fields: []catalogue.Field{
			roomField(),
			field("g", "Gas let go", "V_g", "m³", 0, 1e6, "9.6", 0.2, "GasM3", "A full 50 L cylinder at 200 bar holds about 9.6 m³; several add up"),
			field("x0", "Oxygen before", "x_0", "%", 0, 100, "20.9", 0, "StartPct", "Fresh air is 20.9"),
		},
		Outputs: []catalogue.Output{
			{ID: "x", Label: "Oxygen left", Symbol: "x", Unit: "%"},
			{ID: "mix", Label: "Oxygen if what leaves is mixed already", Unit: "%"},
			{ID: "most", Label: "Gas that takes the room to 19.5 %", Unit: "m³"},
		},
		Limits: []catalogue.Limit{limit},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			s, err := headspace.AfterSpill(headspace.Spill{RoomM3: in.F("v"), GasM3: in.F("g"), StartPct: in.F("x0")})
			if err != nil {
				return err
			}
			out.Set("x", s.OxygenPct)
			out.Set("mix", s.MixedPct)
			if in.F("x0") >= headspace.DeficientOxygenPct {
				out.Set("most", in.F("v")*(1-headspace.DeficientOxygenPct/in.F("x0")))
			}
			if !out.Full() {
				return nil
			}
			if in.F("g") < in.F("v") {
				out.Work("x = x_0*(1 - V_g/V)", "x", pct(s.OxygenPct, 3), "x_0", in.Text("x0"), "V_g", in.Text("g"), "V", in.Text("v"))
			} else {
				out.Work("x = 0", "x", pct(0, 1))
				out.Note("There is more gas than room: nothing is left to breathe.")
			}
			effects(out, s.OxygenPct)
			x := grid(0, math.Max(in.F("v")/2, 1.2*in.F("g")), 60)
			line := func(mixed bool) []float64 {
				return each(x, func(g float64) (float64, error) {
					s, err := headspace.AfterSpill(headspace.Spill{RoomM3: in.F("v"), GasM3: g, StartPct: in.F("x0")})
					if mixed {
						return s.MixedPct, err
					}
					return s.OxygenPct, err
				})
			}
			out.Figure(figure.Plot{
				Title:  "Oxygen left by the gas let go",
				Desc:   out.Say("Oxygen left in the room against the gas let go, by both forms; {} leave {} %.", in.Text("g"), num(s.OxygenPct, 3)),
				X:      figure.Axis{Label: "Gas let go", Unit: "m³"},
				Y:      figure.Axis{Label: "Oxygen", Unit: "%", Max: 22},
				Lines:  []figure.Line{{Name: "use this", X: x, Y: line(false)}, {Name: "mixed", X: x, Y: line(true), Style: figure.Dashed}},
				Points: []figure.Points{{Name: "this release", X: []float64{in.F("g")}, Y: []float64{s.OxygenPct}}},
				Marks:  roomMarks,
			})
			return nil
		},
		Cautions: []string{headspace.CautionNitrogen, "Near the leak and in corners it is worse than this mean. Never go in to look, and never put a head into a flushed hopper."},
		Sources:  []catalogue.Source{{Name: "UK laboratory safety guides", Locator: "sudden release", Provenance: "opened"}, osha, bands},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "oxygen after a spill"}, {Package: "headspace", Quantity: "oxygen volume after a spill"}, {Package: "headspace", Quantity: "added gas that takes air to a level"}},
	}
}

func roomLeak() *catalogue.Calculator {
	then, end := alarm, alarm
	then.Output, end.Output = "x", "low"
	return &catalogue.Calculator{
		ID:       "room-leak",
		Place:    catalogue.PackingLine,
		Order:    180,
		Name:     "Nitrogen into a ventilated room",
		Question: "How low does the oxygen fall when nitrogen flows into the room, how soon, and how much may flow?",
		Keywords: "asphyxiation safety ventilation air changes flushing leak recovery",
		Fields: []catalogue.Field{
			roomField(),
			none(field("r", "Nitrogen into the room", "R", "m³/h", 0, 1e6, "6", 0.5, "LeakM3PerHour", "A leak, or all that the line flushes; 0 for a room that recovers")),
			none(field("n", "Air changes", "N", "1/h", 0, 1000, "0.5", 0.1, "", "0 for a closed room; a basement has 0.4 an hour, a house 0.25 to 1; a fan's flow over the room's volume")),
			{ID: "fan", Label: "The air", Kind: catalogue.Choice, Example: "in", Help: "A fan that draws out counts the leak in its flow, so that less fresh air comes in",
				Choices: []catalogue.Option{{ID: "in", Label: "is blown or drifts in"}, {ID: "out", Label: "is drawn out"}}},
			field("t", "Time asked about", "t", "h", 0, 8784, "1.0", 0, "Hours", "Like 1"),
			field("x0", "Oxygen at the start", "x_0", "%", 0, 100, "20.9", 0, "StartPct", "20.9 in fresh air; what it had fallen to, for a recovery"),
			exact(field("k", "Mixing", "K", "", 0.1, 1, "1", 0, "MixingFactor", "1 for a stirred room; guides take down to 0.2, which slows every change")),
		},
		Outputs: []catalogue.Output{
			{ID: "low", Label: "Oxygen in the end", Symbol: "x_s", Unit: "%"},
			{ID: "x", Label: "Oxygen then", Symbol: "x", Unit: "%"},
			{ID: "when", Label: "Time to 19.5 %", Unit: "h"},
			{ID: "may", Label: "Most nitrogen that keeps 19.5 % in the end", Unit: "m³/h"},
		},
		Derived: []catalogue.Derived{{GoField: "AirM3PerHour", Label: "Fresh air"}},
		Limits:  []catalogue.Limit{end, then},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			l := headspace.Leak{RoomM3: in.F("v"), LeakM3PerHour: in.F("r"), AirM3PerHour: in.F("n") * in.F("v"), Fan: headspace.BlownIn,
				StartPct: in.F("x0"), OutsidePct: headspace.AirOxygenPct, MixingFactor: in.F("k"), Hours: in.F("t")}
			if in.Choice("fan") == "out" {
				l.Fan = headspace.DrawnOut
			}
			b, err := headspace.AfterLeak(l)
			if err != nil {
				return err
			}
			out.Set("low", b.SteadyPct)
			out.Set("x", b.OxygenPct)
			may, err := headspace.LeakAllowed(headspace.Allowance{AirM3PerHour: l.AirM3PerHour, Fan: l.Fan, OutsidePct: headspace.AirOxygenPct, LevelPct: headspace.DeficientOxygenPct})
			if err != nil {
				return err
			}
			out.Set("may", may)
			under := l.StartPct < headspace.DeficientOxygenPct
			if under {
				out.Note("The room is under 19.5 % from the start: nobody goes in before a meter on the spot says that it is over.")
			}
			if h, err := headspace.HoursToOxygen(l, headspace.DeficientOxygenPct); err == nil {
				out.Set("when", h)
			} else if under {
				out.Note("It stays under 19.5 % with this air.")
			} else {
				out.Note("By these numbers the room stays over 19.5 %, as long as the ventilation runs and the air is mixed. The ± says how sure that is.")
			}
			if !out.Full() {
				return nil
			}
			fresh := l.AirM3PerHour
			if l.Fan == headspace.DrawnOut {
				fresh = math.Max(0, fresh-l.LeakM3PerHour)
				out.Work("F = N*V - R", "F", num(fresh, 3)+" m³/h", "N", in.Text("n"), "V", in.Text("v"), "R", in.Text("r"))
			} else {
				out.Work("F = N*V", "F", num(fresh, 3)+" m³/h", "N", in.Text("n"), "V", in.Text("v"))
			}
			if fresh+l.LeakM3PerHour > 0 {
				out.Work("x_s = 20.946*F/(F + R)", "x_s", pct(b.SteadyPct, 3), "F", num(fresh, 3)+" m³/h", "R", in.Text("r"))
				out.Work("x = x_s + (x_0 - x_s)*exp(-K*(F + R)*t/V)", "x", pct(b.OxygenPct, 3), "x_s", pct(b.SteadyPct, 3), "x_0", in.Text("x0"), "K", in.Text("k"), "F", num(fresh, 3)+" m³/h", "R", in.Text("r"), "t", in.Text("t"), "V", in.Text("v"))
			} else {
				out.Note("Nothing flows and nothing is moved: the room stays as it is.")
			}
			effects(out, math.Min(b.SteadyPct, b.OxygenPct))
			last := math.Max(4, 1.5*l.Hours)
			x := grid(0, math.Min(last, 8784), 80)
			out.Figure(figure.Plot{
				Title: "Oxygen in the room",
				Desc:  out.Say("Oxygen in the room against hours; after {} it is {} %, in the end {} %.", in.Text("t"), num(b.OxygenPct, 3), num(b.SteadyPct, 3)),
				X:     figure.Axis{Label: "Since the start", Unit: "h"},
				Y:     figure.Axis{Label: "Oxygen", Unit: "%", Min: math.Floor(math.Max(0, math.Min(17, math.Min(b.SteadyPct, l.StartPct)-1))), Max: 22},
				Lines: []figure.Line{{Name: "oxygen", X: x, Y: each(x, func(h float64) (float64, error) {
					m := l
					m.Hours = h
					b, err := headspace.AfterLeak(m)
					return b.OxygenPct, err
				})}},
				Points: []figure.Points{{Name: "then", X: []float64{l.Hours}, Y: []float64{b.OxygenPct}}},
				Marks:  roomMarks,
			})
			return nil
		},
		Cautions: []string{headspace.CautionNitrogen, "For carbon dioxide from resting coffee see the rest shelf: it harms long before oxygen falls to 19.5 %."},
		Sources:  []catalogue.Source{{Name: "Fermilab ES&H Manual, chapter 4240", Locator: "cases A to D", Provenance: "quoted"}, {Name: "CCPS, CHEF Guide", Locator: "table 12-7, air changes", Provenance: "opened"}, osha, bands},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "steady depletion"}, {Package: "headspace", Quantity: "air changes, average house"}, {Package: "headspace", Quantity: "oxygen under a leak"}, {Package: "headspace", Quantity: "leak that a room bears"}},
	}
}
