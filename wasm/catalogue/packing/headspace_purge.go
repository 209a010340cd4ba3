package packing

import (
	"math"

	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func purgeOf(in *catalogue.In) headspace.Purge {
	return headspace.Purge{StartPct: in.F("y0"), SupplyPct: in.F("yn"), FreeML: in.F("v")}
}

func flushOxygen() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "flush-oxygen",
		Place:    catalogue.PackingLine,
		Order:    40,
		Name:     "Oxygen after flushing",
		Question: "What oxygen does this much nitrogen leave in the bag?",
		Keywords: "residual purge sweep piston dilution shots modified atmosphere",
		Fields: []catalogue.Field{
			freeField(),
			field("gas", "Nitrogen into one bag", "V", "mL", 0, 1e9, "2000", 50, "GasML", "At the pressure of the bag: flow times time, like 2 L"),
			startField(), supplyField(), nozzleField("10"),
			maybe(exact(field("n", "The same gas in how many shots", "n", "", 1, 10_000, "4", 0, "Count", "Each mixed and let out again, like 4; empty for a stream"))),
		},
		Outputs: []catalogue.Output{
			{ID: "o2", Label: "Oxygen through your nozzle", Symbol: "y", Unit: "%"},
			{ID: "sweep", Label: "Oxygen if all were stirred", Unit: "%"},
			{ID: "piston", Label: "Oxygen if nothing mixed", Unit: "%"},
			{ID: "shots", Label: "Oxygen after the shots", Unit: "%"},
			{ID: "theta", Label: "Nitrogen in headspaces", Symbol: "θ"},
		},
		Limits: []catalogue.Limit{{Output: "o2", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			p := purgeOf(in)
			p.GasML = in.F("gas")
			n, err := headspace.AfterNozzle(headspace.Nozzle{StartPct: p.StartPct, SupplyPct: p.SupplyPct, FreeML: p.FreeML, GasML: p.GasML, NozzlePct: in.F("q")})
			if err != nil {
				return err
			}
			s, err := headspace.AfterSweep(p)
			if err != nil {
				return err
			}
			pi, err := headspace.AfterPiston(p)
			if err != nil {
				return err
			}
			out.Set("o2", n.OxygenPct)
			out.Set("sweep", s.OxygenPct)
			out.Set("piston", pi.OxygenPct)
			out.Set("theta", n.Volumes)
			shot, shots := 0.0, 0.0
			if in.Has("n") && p.GasML > 0 {
				shot = p.GasML / float64(in.Int("n"))
				f, err := headspace.AfterFlushes(headspace.Flushes{StartPct: p.StartPct, SupplyPct: p.SupplyPct, FreeML: p.FreeML, FlushML: shot, Count: in.Int("n")})
				if err != nil {
					return err
				}
				shots = f.OxygenPct
				out.Set("shots", shots)
			}
			if !out.Full() {
				return nil
			}
			out.Work("θ = V/V_h", "θ", num(n.Volumes, 4), "V", in.Text("gas"), "V_h", in.Text("v"))
			workNozzle(in, out, n.Volumes, n.OxygenPct)
			if shot > 0 {
				out.Work("y_f = y_n + (y_0 - y_n)*(V_h/(V_h + V/n))^n", "y_f", pct(shots, 3), "y_n", in.Text("yn"), "y_0", in.Text("y0"), "V_h", in.Text("v"), "V", in.Text("gas"), "n", in.Text("n"))
			}
			say(out, n.Notes)
			out.Note(meanNote)
			most := math.Max(1.3*p.GasML, 3.5*p.FreeML)
			out.Figure(figure.Plot{
				Title:  "Oxygen against nitrogen used",
				Desc:   out.Say("Oxygen left against nitrogen for a piston, a stirred bag and your nozzle; {} of nitrogen leave {} %.", in.Text("gas"), num(n.OxygenPct, 3)),
				X:      figure.Axis{Label: "Nitrogen", Unit: "L"},
				Y:      oxygenAxis(p.SupplyPct, n.OxygenPct),
				Lines:  append(ideals(p, most, shot), throughNozzle("your nozzle", p, in.F("q"), most)),
				Marks:  oxygenMarks,
				Points: []figure.Points{{Name: "this setting", X: []float64{p.GasML / 1000}, Y: []float64{n.OxygenPct}}},
			})
			return nil
		},
		Cautions: []string{readCaution, gasCaution},
		Sources:  []catalogue.Source{kosha, inerting, nozzleBook},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "sweep gas for a target"}, {Package: "headspace", Quantity: "piston gas for all"}, {Package: "headspace", Quantity: "nozzle volumes for a target"}},
	}
}

// workNozzle shows the branch of the nozzle that was taken.
func workNozzle(in *catalogue.In, out *catalogue.Out, theta, oxygen float64) {
	q := in.F("q") / 100
	pairs := []string{"y", pct(oxygen, 3), "y_n", in.Text("yn"), "y_0", in.Text("y0"), "θ", num(theta, 4), "q", num(q, 3)}
	switch {
	case q <= 0:
		out.Work("y = y_n + (y_0 - y_n)*exp(-(1 + q)*θ)", pairs...)
	case theta <= q:
		out.Work("y = y_n + (y_0 - y_n)*(1 - θ)", pairs...)
	case q == 1:
		out.Work("y = y_n", pairs...)
	default:
		out.Work("y = y_n + (y_0 - y_n)*(1 - q)*exp(-(θ - q)/(1 - q))", pairs...)
	}
}

func flushTarget() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "flush-target",
		Place:    catalogue.PackingLine,
		Order:    30,
		Name:     "Nitrogen for a target",
		Question: "How long must I flush, and with how much nitrogen, to come to this oxygen?",
		Keywords: "seconds litres shots purge time residual",
		Fields: []catalogue.Field{
			freeField(), targetField(), flowField("20"), startField(), supplyField(), nozzleField("10"),
			maybe(exact(field("shot", "Size of one shot", "V_f", "mL", 0.1, 1e6, "500", 0, "FlushML", "Where the machine gives shots, each mixed and let out, like 500; empty for a stream"))),
		},
		Outputs: []catalogue.Output{
			{ID: "s", Label: "Flushing time", Symbol: "t", Unit: "s"},
			{ID: "gas", Label: "Nitrogen for one bag", Symbol: "V", Unit: "mL"},
			{ID: "sweep", Label: "Nitrogen if all were stirred", Unit: "mL"},
			{ID: "piston", Label: "Nitrogen if nothing mixed", Unit: "mL"},
			{ID: "n", Label: "Shots"},
			{ID: "o2", Label: "Oxygen after the shots", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			t := headspace.Target{StartPct: in.F("y0"), SupplyPct: in.F("yn"), FreeML: in.F("v"), TargetPct: in.F("y")}
			n, err := headspace.NozzleFor(headspace.NozzleTarget{StartPct: t.StartPct, SupplyPct: t.SupplyPct, FreeML: t.FreeML, TargetPct: t.TargetPct, NozzlePct: in.F("q")})
			if err != nil {
				return err
			}
			s, err := headspace.SweepFor(t)
			if err != nil {
				return err
			}
			p, err := headspace.PistonFor(t)
			if err != nil {
				return err
			}
			seconds := n.GasML / 1000 / in.F("flow") * 60
			out.Set("s", seconds)
			out.Set("gas", n.GasML)
			out.Set("sweep", s.GasML)
			out.Set("piston", p.GasML)
			if in.Has("shot") {
				c, err := headspace.FlushesFor(headspace.FlushTarget{StartPct: t.StartPct, SupplyPct: t.SupplyPct, FreeML: t.FreeML, TargetPct: t.TargetPct, FlushML: in.F("shot")})
				if err != nil {
					return err
				}
				out.SetCount("n", c.Count)
				out.Set("o2", c.OxygenPct)
				if out.Full() && c.Count > 0 {
					out.Work("n = ln((y_0 - y_n)/(y - y_n))/ln(1 + V_f/V_h)", "n", num(c.Exact, 3), "y_0", in.Text("y0"), "y_n", in.Text("yn"), "y", in.Text("y"), "V_f", in.Text("shot"), "V_h", in.Text("v"))
				}
			}
			if !out.Full() {
				return nil
			}
			say(out, n.Notes)
			q := in.F("q") / 100
			left := (t.TargetPct - t.SupplyPct) / (t.StartPct - t.SupplyPct)
			pairs := []string{"V", ml(n.GasML), "V_h", in.Text("v"), "q", num(q, 3), "m", num(left, 4)}
			switch {
			case n.Volumes == 0:
				out.Work("V = 0", "V", ml(0))
			default:
				out.Work("m = (y - y_n)/(y_0 - y_n)", "m", num(left, 4), "y", in.Text("y"), "y_n", in.Text("yn"), "y_0", in.Text("y0"))
				switch {
				case q <= 0:
					out.Work("V = V_h*ln(1/m)/(1 + q)", pairs...)
				case left >= 1-q:
					out.Work("V = V_h*(1 - m)", pairs...)
				default:
					out.Work("V = V_h*(q + (1 - q)*ln((1 - q)/m))", pairs...)
				}
			}
			out.Work("t = V/1000/Q*60", "t", num(seconds, 3)+" s", "V", ml(n.GasML), "Q", in.Text("flow"))
			most := math.Max(1.3*math.Max(n.GasML, s.GasML), 2*t.FreeML)
			pu := headspace.Purge{StartPct: t.StartPct, SupplyPct: t.SupplyPct, FreeML: t.FreeML}
			out.Figure(figure.Plot{
				Title:  "Oxygen against nitrogen used",
				Desc:   out.Say("Oxygen left against nitrogen for a piston, a stirred bag and your nozzle; {} takes {} mL.", in.Text("y"), num(n.GasML, 3)),
				X:      figure.Axis{Label: "Nitrogen", Unit: "L"},
				Y:      oxygenAxis(t.SupplyPct, t.TargetPct),
				Lines:  append(ideals(pu, most, optional(in, "shot", 0)), throughNozzle("your nozzle", pu, in.F("q"), most)),
				Marks:  []figure.Mark{{Name: "target", At: t.TargetPct}},
				Points: []figure.Points{{Name: "enough", X: []float64{n.GasML / 1000}, Y: []float64{math.Min(t.TargetPct, t.StartPct)}}},
			})
			return nil
		},
		Cautions: []string{readCaution, gasCaution},
		Sources:  []catalogue.Source{kosha, inerting, nozzleBook},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "sweep gas for a target"}, {Package: "headspace", Quantity: "sweep volumes for a target"}, {Package: "headspace", Quantity: "nozzle volumes for a target"}},
	}
}

func vacuumFill() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "vacuum-fill",
		Place:    catalogue.PackingLine,
		Order:    90,
		Name:     "Vacuum and back-fill",
		Question: "What oxygen do cycles of vacuum and nitrogen leave, and how many cycles or how deep a vacuum does a target take?",
		Keywords: "chamber evacuate pressure cycle pump purge tin",
		Fields: []catalogue.Field{
			field("low", "Vacuum pulled, absolute", "P_L", "kPa", 0.01, 5000, "10", 1, "LowKPa", "Absolute, like 10 kPa, which is 100 mbar; a gauge that counts down from the air must be turned into this"),
			field("high", "Filled back to, absolute", "P_H", "kPa", 1, 5000, "101.3", 1, "HighKPa", "101.3 at sea level; the upper pressure where nitrogen is pressed in"),
			exact(field("j", "Cycles", "j", "", 0, 1000, "2", 0, "Count", "How often, like 2")),
			targetField(), startField(), supplyField(), freeField(),
			field("t", "Temperature", "T", "°C", -40, 150, "20", 2, "TempC", "For the amount of gas only, like 20"),
		},
		Outputs: []catalogue.Output{
			{ID: "o2", Label: "Oxygen after these cycles", Symbol: "y", Unit: "%"},
			{ID: "need", Label: "Cycles for the target"},
			{ID: "deep", Label: "Vacuum for the target in these cycles, absolute", Unit: "kPa"},
			{ID: "gas", Label: "Nitrogen for these cycles, at the upper pressure", Unit: "mL"},
		},
		Limits: []catalogue.Limit{{Output: "o2", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			c := headspace.Cycles{StartPct: in.F("y0"), SupplyPct: in.F("yn"), FreeML: in.F("v"), LowKPa: in.F("low"), HighKPa: in.F("high"), TempC: in.F("t"), Count: in.Int("j")}
			y, err := headspace.AfterCycles(c)
			if err != nil {
				return err
			}
			out.Set("o2", y.OxygenPct)
			out.Set("gas", y.SupplyML)
			n, err := headspace.CyclesFor(headspace.CycleTarget{StartPct: c.StartPct, SupplyPct: c.SupplyPct, FreeML: c.FreeML, TargetPct: in.F("y"), LowKPa: c.LowKPa, HighKPa: c.HighKPa})
			if err != nil {
				return err
			}
			out.SetCount("need", n.Count)
			if c.Count > 0 {
				d, err := headspace.VacuumFor(headspace.VacuumTarget{StartPct: c.StartPct, SupplyPct: c.SupplyPct, TargetPct: in.F("y"), HighKPa: c.HighKPa, Count: c.Count})
				if err != nil {
					return err
				}
				out.Set("deep", d.LowKPa)
			}
			if !out.Full() {
				return nil
			}
			out.Work("y = y_n + (y_0 - y_n)*(P_L/P_H)^j", "y", pct(y.OxygenPct, 3), "y_n", in.Text("yn"), "y_0", in.Text("y0"), "P_L", in.Text("low"), "P_H", in.Text("high"), "j", in.Text("j"))
			if n.Exact > 0 {
				out.Work("N = ln((y_0 - y_n)/(y - y_n))/ln(P_H/P_L)", "N", num(n.Exact, 3), "y_0", in.Text("y0"), "y_n", in.Text("yn"), "y", in.Text("y"), "P_H", in.Text("high"), "P_L", in.Text("low"))
			}
			say(out, y.Notes|n.Notes)
			out.Note("A vacuum alone does not change the share of oxygen, only its amount: the nitrogen does. The gas must fill a rigid space; a bag that collapses keeps its beans' gaps but little else.")
			last := min(max(c.Count, n.Count)+1, 40)
			x := grid(0, float64(last), last)
			out.Figure(figure.Plot{
				Title: "Oxygen after each cycle",
				Desc:  out.Say("Oxygen after each cycle of vacuum and nitrogen; after {} it is {} %.", in.Text("j"), num(y.OxygenPct, 3)),
				X:     figure.Axis{Label: "Cycles"},
				Y:     oxygenAxis(c.SupplyPct, math.Max(y.OxygenPct, 1e-3)),
				Lines: []figure.Line{{Name: "oxygen", X: x, Y: each(x, func(j float64) (float64, error) {
					d := c
					d.Count = int(j)
					y, err := headspace.AfterCycles(d)
					return y.OxygenPct, err
				})}},
				Marks:  []figure.Mark{{Name: "target", At: in.F("y")}},
				Points: []figure.Points{{Name: "these cycles", X: []float64{float64(c.Count)}, Y: []float64{y.OxygenPct}}},
			})
			return nil
		},
		Cautions: []string{gaugeCaution, vesselCaution, gasCaution},
		Sources:  []catalogue.Source{inerting, kosha, {Name: "Process-engineering sheet on dilution purging", Locator: "cycle examples", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "oxygen after cycles"}, {Package: "headspace", Quantity: "purge cycles, unrounded"}, {Package: "headspace", Quantity: "purge gas of cycles"}},
	}
}

func purgeSequence() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "purge-sequence",
		Place:    catalogue.PackingLine,
		Order:    100,
		Name:     "A sequence of steps",
		Question: "What does my machine's sequence of vacuum, filling and flushing leave?",
		Keywords: "combined pressure vacuum program steps cycle order",
		Fields: []catalogue.Field{
			{ID: "rows", Label: "Steps", Kind: catalogue.Series, Whole: true, GoField: "Steps", Example: "30 0\n101.3 0\n101.3 800",
				Columns: []catalogue.Column{{ID: "p", Label: "Pressure at the end", Unit: "kPa", Min: 0.01, Max: 5000}, {ID: "v", Label: "Gas swept through", Unit: "mL", Min: 0, Max: 1e9}},
				Help:    "One step a line: absolute pressure in kPa at its end, then nitrogen swept through at that pressure in mL, 0 for none. Down is a vacuum or a vent, up is nitrogen let in"},
			freeField(), startField(), supplyField(), nozzleField("0"),
			exact(field("p", "Pressure at the start, absolute", "P", "kPa", 0.01, 5000, "101.3", 0, "KPa", "101.3 at sea level; the steps are on the same gauge")),
			field("t", "Temperature", "T", "°C", -40, 150, "20", 2, "TempC", "Like 20"),
		},
		Outputs: []catalogue.Output{
			{ID: "o2", Label: "Oxygen at the end", Symbol: "y", Unit: "%"},
			{ID: "p", Label: "Pressure at the end, absolute", Unit: "kPa"},
			{ID: "gas", Label: "Nitrogen used, at the first pressure", Unit: "mL"},
		},
		Limits: []catalogue.Limit{{Output: "o2", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			cols := in.Columns("rows")
			nitrogen := headspace.Mix{OxygenPct: in.F("yn"), NitrogenPct: 100 - in.F("yn")}
			space := headspace.Space{FreeML: in.F("v"), TempC: in.F("t"), KPa: in.F("p"), Mix: headspace.Mix{OxygenPct: in.F("y0")}}
			var steps []headspace.Step
			ends := []int{0}
			at := space.KPa
			for i, p := range cols[0] {
				switch {
				case p > at:
					steps = append(steps, headspace.Step{Kind: headspace.FillStep, Supply: nitrogen, ToKPa: p})
				case p < at:
					steps = append(steps, headspace.Step{Kind: headspace.VentStep, ToKPa: p})
				}
				at = p
				if v := cols[1][i]; v > 0 {
					steps = append(steps, headspace.Step{Kind: headspace.SweepStep, Supply: nitrogen, GasML: v, NozzlePct: in.F("q")})
				}
				ends = append(ends, len(steps))
			}
			o, err := headspace.AfterSteps(space, steps)
			if err != nil {
				return err
			}
			mole, err := headspace.MolarVolume(headspace.GasState{TempC: space.TempC, KPa: math.Max(space.KPa, 1)})
			if err != nil {
				return err
			}
			out.Set("o2", o.Mix.OxygenPct)
			out.Set("p", o.KPa)
			out.Set("gas", o.SupplyMol*mole*1000*math.Max(space.KPa, 1)/space.KPa)
			if !out.Full() {
				return nil
			}
			out.Work("y_i = y_n + (y - y_n)*P/P_i")
			if y0, yn := in.F("y0"), in.F("yn"); y0 != yn {
				out.Work("y = y_n + (y_0 - y_n)*M", "y", pct(o.Mix.OxygenPct, 3), "y_n", in.Text("yn"), "y_0", in.Text("y0"), "M", num((o.Mix.OxygenPct-yn)/(y0-yn), 3))
			}
			out.Note("Steps with one gas at one pressure may change places. A fill from a deeper vacuum thins more, and beginning with pressure is one dilution better than beginning with vacuum.")
			rows := make([][]string, len(ends))
			x, y := make([]float64, len(ends)), make([]float64, len(ends))
			for i, n := range ends {
				s, err := headspace.AfterSteps(space, steps[:n])
				if err != nil {
					return err
				}
				x[i], y[i] = float64(i), s.Mix.OxygenPct
				rows[i] = []string{catalogue.Shortest(float64(i)), pct(s.Mix.OxygenPct, 3), num(s.KPa, 4) + " kPa"}
			}
			out.Table("After each step", []string{"Step", "Oxygen", "Pressure"}, rows)
			out.Figure(figure.Plot{
				Title:  "Oxygen after each step",
				Desc:   out.Say("Oxygen after each step of the sequence; at the end it is {} %.", num(o.Mix.OxygenPct, 3)),
				X:      figure.Axis{Label: "Step"},
				Y:      oxygenAxis(in.F("yn"), math.Max(o.LowOxygenPct, 1e-3)),
				Lines:  []figure.Line{{Name: "oxygen", X: x, Y: y}},
				Points: []figure.Points{{Name: "after a step", X: x, Y: y}},
				Marks:  oxygenMarks,
			})
			return nil
		},
		Cautions: []string{gaugeCaution, vesselCaution, gasCaution},
		Sources:  []catalogue.Source{inerting, kosha},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "oxygen after steps"}, {Package: "headspace", Quantity: "oxygen after cycles"}},
	}
}
