package store

import (
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

// salts are those of the standard table, from dry to damp.
var salts = [...]struct {
	id   string
	salt moisture.Salt
}{
	{"licl", moisture.LithiumChloride}, {"mgcl2", moisture.MagnesiumChloride}, {"k2co3", moisture.PotassiumCarbonate},
	{"mgno3", moisture.MagnesiumNitrate}, {"nabr", moisture.SodiumBromide}, {"ki", moisture.PotassiumIodide},
	{"nacl", moisture.SodiumChloride}, {"kcl", moisture.PotassiumChloride}, {"k2so4", moisture.PotassiumSulfate},
}

func saltOf(id string) moisture.Salt {
	for _, s := range salts {
		if s.id == id {
			return s.salt
		}
	}
	return 0
}

func saltCheck() *catalogue.Calculator {
	choices := []catalogue.Option{
		{ID: "licl", Label: "Lithium chloride, 11 %"}, {ID: "mgcl2", Label: "Magnesium chloride, 33 %"}, {ID: "k2co3", Label: "Potassium carbonate, 43 %"},
		{ID: "mgno3", Label: "Magnesium nitrate, 53 %"}, {ID: "nabr", Label: "Sodium bromide, 58 %"}, {ID: "ki", Label: "Potassium iodide, 69 %"},
		{ID: "nacl", Label: "Sodium chloride, 75 %"}, {ID: "kcl", Label: "Potassium chloride, 84 %"}, {ID: "k2so4", Label: "Potassium sulfate, 97 %"},
	}
	salt := func(id, label, example string) catalogue.Field {
		return catalogue.Field{ID: id, Label: label, Kind: catalogue.Choice, Choices: choices, Example: example, GoField: "Salt", Help: "The saturated solution, with undissolved salt left in the cup"}
	}
	read := func(id, label, symbol, example, goField string) catalogue.Field {
		return number(id, label, symbol, "%", 0, 100, example, 0.5, goField, "As the meter shows it, after an hour; an activity times 100, like 53.8")
	}
	return &catalogue.Calculator{
		ID:       "salt-check",
		Place:    catalogue.GreenStore,
		Order:    38,
		Name:     "Checking a meter over salts",
		Question: "What should the hygrometer or the activity meter have shown?",
		Keywords: "aw calibration saturated salt solution water activity meter verification",
		Fields: []catalogue.Field{
			number("t", "Temperature of cup and sensor", "t", "°C", 15, 30, "22.0", 0.5, "TempC", "The same for both, like 22"),
			salt("low", "Drier salt", "mgno3"),
			read("rl", "Reading over the drier salt", "r_l", "55.1", "LowReadPct"),
			salt("high", "Damper salt", "nacl"),
			read("rh", "Reading over the damper salt", "r_h", "78.0", "HighReadPct"),
			read("r", "Reading to correct", "r", "64.0", "ReadPct"),
		},
		Outputs: []catalogue.Output{
			{ID: "rh", Label: "Corrected humidity", Symbol: "φ", Unit: "%"},
			{ID: "aw", Label: "As a water activity", Symbol: "a_w"},
			{ID: "el", Label: "Error over the drier salt", Unit: "%"},
			{ID: "eh", Label: "Error over the damper salt", Unit: "%"},
		},
		Derived: []catalogue.Derived{{GoField: "LowTruePct", Label: "Humidity over the drier salt"}, {GoField: "HighTruePct", Label: "Humidity over the damper salt"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			l, err := moisture.StandardSalt(saltOf(in.Choice("low")), in.F("t"))
			if err != nil {
				return err
			}
			h, err := moisture.StandardSalt(saltOf(in.Choice("high")), in.F("t"))
			if err != nil {
				return err
			}
			p := moisture.TwoPoint{LowReadPct: in.F("rl"), LowTruePct: l.RHPct, HighReadPct: in.F("rh"), HighTruePct: h.RHPct,
				TrueSEPct: max(l.UncertaintyPct, h.UncertaintyPct) / 2}
			c, err := moisture.CorrectedHumidity(p, in.F("r"))
			if err != nil {
				return err
			}
			out.SetU("rh", c.RHPct, c.SEPct, "the salts")
			out.SetU("aw", c.RHPct/100, c.SEPct/100, "the salts")
			out.SetU("el", in.F("rl")-l.RHPct, l.UncertaintyPct/2, "the salts")
			out.SetU("eh", in.F("rh")-h.RHPct, h.UncertaintyPct/2, "the salts")
			if !out.Full() {
				return nil
			}
			out.Work("φ = φ_l + (φ_h - φ_l)*(r - r_l)/(r_h - r_l)", "φ", pct(c.RHPct, 4), "φ_l", pct(l.RHPct, 4), "φ_h", pct(h.RHPct, 4), "r", in.Text("r"), "r_l", in.Text("rl"), "r_h", in.Text("rh"))
			out.Note("The salts are at {} and {} at this temperature.", pct(l.RHPct, 4), pct(h.RHPct, 4))
			if l.Notes&moisture.Extrapolated != 0 {
				out.Note("The table that stands here is for 20 to 25 °C: beyond it a straight line goes on.")
			}
			say(out, c.Notes)
			lo, hi := min(in.F("rl"), in.F("r")), max(in.F("rh"), in.F("r"))
			b := (h.RHPct - l.RHPct) / (p.HighReadPct - p.LowReadPct)
			g := []float64{lo, hi}
			out.Figure(figure.Plot{
				Title:  "The meter against two salts",
				Desc:   out.Say("The line through both salts takes a reading of {} to {}.", in.Text("r"), pct(c.RHPct, 4)),
				X:      figure.Axis{Label: "Reading", Unit: "%"},
				Y:      figure.Axis{Label: "True humidity", Unit: "%"},
				Lines:  []figure.Line{{Name: "correction", X: g, Y: each(g, func(r float64) float64 { return l.RHPct + b*(r-p.LowReadPct) })}, {Name: "no error", X: g, Y: g, Style: figure.Dotted}},
				Points: []figure.Points{{Name: "salts", X: []float64{p.LowReadPct, p.HighReadPct}, Y: []float64{l.RHPct, h.RHPct}, Err: []float64{l.UncertaintyPct, h.UncertaintyPct}}, {Name: "this reading", X: []float64{in.F("r")}, Y: []float64{c.RHPct}, Shape: figure.Diamond}},
			})
			return nil
		},
		Cautions: []string{
			"Some of these salts are harmful: gloves, labels, no food nearby, and never a salt on the sensor. Read their safety sheets.",
			"A kelvin between cup and sensor is 4 to 6 % at the damp end. Choose salts that bracket the lot: 53 and 75 % for green coffee.",
		},
		Sources: []catalogue.Source{
			{Name: "Greenspan, J. Res. NBS 81A(1):89–96, 1977", Locator: "table 2", Provenance: "memory"},
			{Name: "Wexler, Constant humidity solutions, CRC Handbook, section 15", Locator: "agrees within its 2 %", Provenance: "opened"},
		},
		Checks: []catalogue.Check{{Package: "moisture", Quantity: "humidity over a salt, standard"}, {Package: "moisture", Quantity: "humidity over a salt, handbook"}},
	}
}
