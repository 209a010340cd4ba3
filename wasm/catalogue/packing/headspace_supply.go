package packing

import (
	"math"

	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

// reference is the state at which suppliers in many countries tell gas.
var reference = headspace.GasState{TempC: headspace.CylinderTempC, KPa: headspace.StandardKPa}

const referenceNote = "Gas volumes are told at 15 °C and 100 kPa. Normal conditions, 0 °C and 101.325 kPa, make them 6.5 % smaller: compare only like with like."

func nitrogenSupply() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "nitrogen-supply",
		Place:    catalogue.PackingLine,
		Order:    110,
		Name:     "Nitrogen for a shift",
		Question: "How many bags does a cylinder flush, when is it changed, and what does the gas of a bag cost?",
		Keywords: "cylinder bottle gas use litres price change-over real gas compressibility",
		Fields: fields([]catalogue.Field{
			field("gas", "Nitrogen into one bag", "V_1", "mL", 0.1, 1e8, "2000", 50, "BagGasML", "At the bag, like 2 L: flow times time"),
			field("lost", "Lost beside the bags", "w", "%", 0, 95, "10", 5, "LostPct", "Of all that is drawn: idling, purging of lines, leaks; compare a cylinder's bags with this sum"),
			exact(field("n", "Bags in a shift", "N", "", 1, 1e7, "300", 0, "Bags", "Like 300")),
			exact(field("rate", "Bags an hour", "r", "1/h", 0.1, 1e5, "60", 0, "BagsPerHour", "Like 60")),
			tempField("t", "Temperature at the bag and the cylinder", "T", "TempC", "18"),
			pressureField("p", "Air pressure, absolute", "P", "AmbientKPa"),
		}, under("The cylinder",
			exact(field("w", "Water volume, as stamped", "V_w", "L", 0.1, 10_000, "50", 0, "WaterL", "Like 50; of a bundle the sum")),
			field("g", "Pressure at its gauge now", "P_g", "kPa", 0, 30_000, "20000", 200, "", "Over the air, like 200 bar"),
			field("left", "Pressure at which it is changed", "P_e", "kPa", 0, 30_000, "500", 50, "", "Over the air, like 5 bar; never drawn to nothing"),
			exact(field("price", "Price of one cylinder", "", "", 0, 1e6, "48.50", 0, "CylinderPrice", "With delivery and hire, in your own currency, like 48.50")))),
		Outputs: []catalogue.Output{
			{ID: "bags", Label: "Bags from this cylinder"},
			{ID: "h", Label: "Time until it is changed", Unit: "h"},
			{ID: "cost", Label: "Gas of one bag costs"},
			{ID: "use", Label: "Usable gas in the cylinder, 15 °C and 100 kPa", Symbol: "V_u", Unit: "m³"},
			{ID: "one", Label: "Drawn for one bag, 15 °C and 100 kPa", Symbol: "V_b", Unit: "L"},
			{ID: "shift", Label: "Drawn in a shift, 15 °C and 100 kPa", Unit: "L"},
		},
		Derived: []catalogue.Derived{{GoField: "BagL", Label: "Gas of one bag"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			at := headspace.GasState{TempC: in.F("t"), KPa: in.F("p")}
			u, err := headspace.GasUsed(headspace.Shift{BagGasML: in.F("gas"), Bags: in.Int("n"), LostPct: in.F("lost"), Bag: at, Ref: reference})
			if err != nil {
				return err
			}
			cyl := headspace.Cylinder{WaterL: in.F("w"), GaugeBar: in.F("g") / 100, LeaveBar: math.Min(in.F("left"), in.F("g")) / 100, TempC: at.TempC, AmbientKPa: at.KPa, Ref: reference}
			c, err := headspace.CylinderContent(cyl)
			if err != nil {
				return err
			}
			out.Set("use", c.UsableM3)
			out.Set("one", u.BagL)
			out.Set("shift", u.ShiftL)
			if exactly := 1000 * c.UsableM3 / u.BagL; exactly < 1 || c.UsableM3 < 0.001 {
				out.SetCount("bags", 0)
				out.Note("What is left in the cylinder does not do one bag.")
			} else {
				s, err := headspace.CylinderLife(headspace.Draught{UsableM3: c.UsableM3, BagL: u.BagL, BagsPerHour: in.F("rate"), CylinderPrice: in.D("price")})
				if err != nil {
					return err
				}
				out.Set("bags", math.Floor(exactly)) // shown as well as it is known, and not to the bag
				out.Set("h", exactly/in.F("rate"))   // without the last, broken bag: it must move with its inputs
				out.SetD("cost", s.CostPerBag)
			}
			if !out.Full() {
				return nil
			}
			out.Work("V_b = V_1/1000/(1 - w/100)*288.15/(T + 273.15)*P/100", "V_b", num(u.BagL, 4)+" L", "V_1", in.Text("gas"), "w", in.Text("lost"), "T", in.Text("t"), "P", in.Text("p"))
			out.Work("V_f = V_w/1000*(P_g + P)/100*288.15/(T + 273.15)/Z", "V_f", num(c.FullM3, 4)+" m³", "V_w", in.Text("w"), "P_g", in.Text("g"), "P", in.Text("p"), "T", in.Text("t"), "Z", num(c.Z, 5))
			out.Work("N_c = 1000*V_u/V_b", "V_u", num(c.UsableM3, 4)+" m³", "V_b", num(u.BagL, 4)+" L", "N_c", num(1000*c.UsableM3/u.BagL, 5))
			out.Note(referenceNote)
			if in.F("left") > in.F("g") {
				out.Note("The cylinder is below the pressure at which it is changed.")
			}
			if !out.Pictured() {
				return nil
			}
			x := grid(0, 300, 60)
			real, ideal := make([]float64, len(x)), make([]float64, len(x))
			for i, bar := range x {
				d := cyl
				d.GaugeBar, d.LeaveBar = bar, 0
				c, err := headspace.CylinderContent(d)
				if err != nil {
					return err
				}
				real[i], ideal[i] = c.FullM3, c.IdealM3
			}
			out.Figure(figure.Plot{
				Title:  "Nitrogen in the cylinder",
				Desc:   out.Say("Gas in the cylinder against the pressure at its gauge, real and as the ideal gas law has it; now it holds {} m³.", num(c.FullM3, 3)),
				X:      figure.Axis{Label: "Pressure at the gauge", Unit: "bar"},
				Y:      figure.Axis{Label: "Gas, 15 °C and 100 kPa", Unit: "m³", Max: nan},
				Lines:  []figure.Line{{Name: "real", X: x, Y: real}, {Name: "ideal", X: x, Y: ideal, Style: figure.Dashed}},
				Points: []figure.Points{{Name: "now", X: []float64{cyl.GaugeBar}, Y: []float64{c.FullM3}}},
			})
			return nil
		},
		Cautions: []string{
			"A cylinder is heavy and under high pressure: chain it, cap it in transport, and leave valves and regulators to those who are trained.",
			gasCaution,
		},
		Sources: []catalogue.Source{
			{Name: "Span and others, J. Phys. Chem. Ref. Data 29, 2000", Locator: "equation of state of nitrogen", Provenance: "memory"}, idealGas,
			{Name: "Public cylinder page of a gas distributor", Locator: "factor 0.96 at 200 bar", Provenance: "opened"}},
		Checks: []catalogue.Check{{Package: "headspace", Quantity: "real over ideal gas of a cylinder"}, {Package: "headspace", Quantity: "cylinder content, 1 bar"}, {Package: "headspace", Quantity: "compressibility factor of nitrogen"}, {Package: "headspace", Quantity: "molar volume"}},
	}
}

func flowMeter() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "flow-meter",
		Place:    catalogue.PackingLine,
		Order:    120,
		Name:     "A flow meter at another pressure",
		Question: "What flow does my float meter stand for with this gas at this pressure?",
		Keywords: "rotameter variable area density correction air nitrogen scale",
		Fields: fields([]catalogue.Field{
			field("q", "Shown", "Q_s", "L/min", 0, 100_000, "20", 0.5, "ShownLPerMin", "Read at the float's widest edge, like 20"),
			field("p", "Pressure in the tube, over the air", "P_g", "kPa", 0, 4800, "150", 10, "", "At the outlet of the meter where its valve stands before it; like 1.5 bar"),
			field("t", "Temperature of the gas", "T", "°C", -40, 150, "20", 2, "", "Like 20"),
			exact(field("m", "Molar mass of the gas", "M", "g/mol", 2, 200, "28.01", 0, "GasMolarG", "Nitrogen 28.01, carbon dioxide 44.01, argon 39.95")),
		}, under("The scale was made for",
			exact(field("sm", "Molar mass", "M_s", "g/mol", 2, 200, "28.96", 0, "ScaleMolarG", "Air 28.96: see the plate")),
			exact(field("sp", "Pressure, absolute", "P_s", "kPa", 1, 5000, "101.3", 0, "", "Like 101.3")),
			exact(field("st", "Temperature", "T_s", "°C", -40, 150, "20", 0, "", "Like 20"))),
			under("The bag", pressureField("pa", "Air pressure, absolute", "P_a", ""), tempField("ta", "Temperature", "T_a", "", "20"))),
		Outputs: []catalogue.Output{
			{ID: "bag", Label: "Flow at the bag", Symbol: "Q", Unit: "L/min"},
			{ID: "tube", Label: "Flow in the tube, at its pressure", Unit: "L/min"},
			{ID: "ref", Label: "Flow at 15 °C and 100 kPa", Unit: "L/min"},
			{ID: "factor", Label: "Factor on the scale"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			m := headspace.FloatMeter{ShownLPerMin: in.F("q"), ScaleMolarG: in.F("sm"), Scale: headspace.GasState{TempC: in.F("st"), KPa: in.F("sp")},
				GasMolarG: in.F("m"), Gas: headspace.GasState{TempC: in.F("t"), KPa: in.F("p") + in.F("pa")}, Ref: headspace.GasState{TempC: in.F("ta"), KPa: in.F("pa")}}
			f, err := headspace.TrueFlow(m)
			if err != nil {
				return err
			}
			r := m
			r.Ref = reference
			ref, err := headspace.TrueFlow(r)
			if err != nil {
				return err
			}
			one := m
			one.ShownLPerMin = 1
			factor, err := headspace.TrueFlow(one)
			if err != nil {
				return err
			}
			out.Set("bag", f.RefLPerMin)
			out.Set("tube", f.TubeLPerMin)
			out.Set("ref", ref.RefLPerMin)
			out.Set("factor", factor.RefLPerMin)
			if !out.Full() {
				return nil
			}
			out.Work("Q_t = Q_s*sqrt(M_s*P_s*(T + 273.15)/(M*(P_g + P_a)*(T_s + 273.15)))", "Q_t", num(f.TubeLPerMin, 4)+" L/min", "Q_s", in.Text("q"), "M_s", in.Text("sm"), "P_s", in.Text("sp"), "T", in.Text("t"), "M", in.Text("m"), "P_g", in.Text("p"), "P_a", in.Text("pa"), "T_s", in.Text("st"))
			out.Work("Q = Q_t*(P_g + P_a)/P_a*(T_a + 273.15)/(T + 273.15)", "Q", num(f.RefLPerMin, 4)+" L/min", "Q_t", num(f.TubeLPerMin, 4)+" L/min", "P_g", in.Text("p"), "P_a", in.Text("pa"), "T_a", in.Text("ta"), "T", in.Text("t"))
			out.Note("Holds for a float in a tapered tube. A thermal mass-flow meter reads mass and wants its maker's factor instead.")
			x := grid(0, math.Max(400, 1.3*in.F("p")), 40)
			out.Figure(figure.Plot{
				Title: "What the same reading means at other pressures",
				Desc:  out.Say("Flow at the bag against the pressure in the tube, for {} shown; here it is {} L/min.", in.Text("q"), num(f.RefLPerMin, 3)),
				X:     figure.Axis{Label: "Pressure in the tube, over the air", Unit: "kPa"},
				Y:     figure.Axis{Label: "Flow at the bag", Unit: "L/min", Max: nan},
				Lines: []figure.Line{{Name: "flow", X: x, Y: each(x, func(p float64) (float64, error) {
					d := m
					d.Gas.KPa = p + in.F("pa")
					f, err := headspace.TrueFlow(d)
					return f.RefLPerMin, err
				})}},
				Points: []figure.Points{{Name: "here", X: []float64{in.F("p")}, Y: []float64{f.RefLPerMin}}},
			})
			return nil
		},
		Cautions: []string{gasCaution},
		Sources:  []catalogue.Source{{Name: "Float equilibrium in a variable-area meter", Locator: "any text on flow measurement", Provenance: "memory"}, idealGas},
		Checks:   []catalogue.Check{{Package: "headspace", Quantity: "molar mass of dry air"}, {Package: "headspace", Quantity: "molar volume"}},
	}
}
