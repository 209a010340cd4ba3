// Package lot holds the lot sheet: one lot taken through every checkpoint of
// the building, each judged as its readings come in.
package lot

import (
	"math"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/extraction"
	"example.org/evenlot/headspace"
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

// Calculators lists the lot sheet alone.
func Calculators() []*catalogue.Calculator { return []*catalogue.Calculator{sheet()} }

// The checkpoints, in the order in which a lot passes them.
const (
	green  = "1 Green coffee"
	store  = "2 Green store"
	roast  = "3 Roast"
	bag    = "4 Bag and flush"
	oxygen = "5 Oxygen reading"
	rest   = "6 Rest"
	cup    = "7 Cup"
)

func sheet() *catalogue.Calculator {
	standard := catalogue.Source{Name: "SCA Green Coffee Defect Classification, 2018", Locator: "moisture and water activity, washed arabica on import", Provenance: "opened"}
	habit := catalogue.Source{Provenance: "common practice"}
	brew := catalogue.Source{Name: "Golden Cup standard, 2015", Locator: "strength and yield of filter coffee", Provenance: "opened"}
	return &catalogue.Calculator{
		ID:       "lot-sheet",
		Place:    catalogue.QualityDesk,
		Order:    0,
		Name:     "Lot sheet",
		Question: "Does this lot pass every checkpoint, from the sack to the cup?",
		Keywords: "release hold accept batch record print",
		Whole:    true,
		Fields: []catalogue.Field{
			{ID: "lot", Label: "Lot", Kind: catalogue.Words, Group: green, Optional: true, Example: "Tern Ridge 26-041 (invented)", Help: "Any name or number"},
			number("gm", "Moisture of the green", "M_g", green, "%", moisture.MinMoisturePct, 30, "10.8", 0.3, "MoisturePct", "Wet basis, as the meter or the oven gives it, like 10.8"),
			number("aw", "Water activity of the green", "a_w", green, "", moisture.MinAw, moisture.MaxAw, "0.55", 0.01, "Aw", "0 to 1, as the activity meter shows it, like 0.55"),
			number("t", "Air temperature of the store", "t", store, "°C", moisture.BeanMinC, moisture.BeanMaxC, "18.0", 0.5, "TempC", "As the thermometer in the store shows it, like 18"),
			number("rh", "Relative humidity of the store", "φ", store, "%", moisture.MinRHPct, 100, "57", 2, "RHPct", "In percent, like 57"),
			number("g", "Green weight charged", "m_g", roast, "kg", moisture.MinMassKg, 1e6, "12.00", 0, "GreenKg", "As the scale shows it, like 12.00"),
			number("r", "Roasted weight", "m_r", roast, "kg", moisture.MinMassKg, 1e6, "10.14", 0, "RoastedKg", "As the scale shows it, like 10.14"),
			number("rm", "Moisture of the roasted coffee", "M_r", roast, "%", moisture.MinRoastedMoisturePct, moisture.MaxRoastedMoisturePct, "1.8", 0.2, "RoastedMoisturePct", "Wet basis, like 1.8; only to split the loss"),
			number("bag", "Inside volume of the bag", "V_bag", bag, "mL", 10, 1e6, "1150", 20, "BagML", "Filled and sealed, by water or by its sizes, like 1150"),
			number("w", "Coffee in the bag", "m", bag, "g", 1, 1e6, "340", 0, "CoffeeG", "Net weight, like 340"),
			number("rho", "Density of the bean", "ρ", bag, "g/mL", 0.3, 1.3, "0.80", 0.05, "BeanGPerML", "Of the particle, not in bulk: dark about 0.66, middle 0.80, light 0.90"),
			number("supply", "Oxygen in the nitrogen", "y_n", bag, "%", 0, 20, "0.10", 0, "SupplyPct", "Of the cylinder or the generator, like 0.1"),
			number("flush", "Gas of one flush", "V_f", bag, "mL", 1, 1e7, "800", 40, "FlushML", "At the pressure of the bag, like 800"),
			{ID: "n", Label: "Flushes", Symbol: "n", Group: bag, Min: 1, Max: 1000, Example: "5", Exact: true, Optional: true, GoField: "Count", Help: "How many times, each mixed and vented, like 5"},
			number("o2", "Oxygen reading in the bag", "y", oxygen, "%", 0, 25, "0.8", 0.1, "OxygenPct", "In percent, as the meter shows it within an hour of sealing, like 0.8"),
			{ID: "roasted", Label: "Roasted at", Kind: catalogue.Moment, Group: rest, Optional: true, Example: "2026-11-16T09:30", Help: "Local date and time"},
			{ID: "cupped", Label: "Opened or cupped at", Kind: catalogue.Moment, Group: rest, Optional: true, Example: "2026-11-23T10:00", Help: "Local date and time"},
			number("dose", "Coffee in the bowl", "D", cup, "g", 0.1, 1e5, "10.0", 0, "DoseG", "As the scale shows it, like 10.0"),
			number("water", "Water in the bowl", "W", cup, "g", 0.1, 4e6, "165.0", 0, "WaterG", "As the scale shows it, like 165.0"),
			number("tds", "Strength of the cup", "T", cup, "%", 0.05, 30, "1.25", 0.03, "StrengthPct", "Dissolved solids, % by weight, like 1.25"),
		},
		Outputs: []catalogue.Output{
			{ID: "moisture", Label: "Moisture of the green, wet basis", Symbol: "M_g", Unit: "%", Group: green},
			{ID: "activity", Label: "Water activity of the green", Symbol: "a_w", Group: green},
			{ID: "emc", Label: "Moisture that the store leads to", Symbol: "M_e", Unit: "%", Group: store},
			{ID: "dew", Label: "Dew point of the store", Symbol: "t_d", Unit: "°C", Group: store},
			{ID: "loss", Label: "Roast loss", Symbol: "L", Unit: "%", Group: roast},
			{ID: "dry", Label: "Dry-matter loss, of green dry matter", Symbol: "d", Unit: "%", Group: roast},
			{ID: "free", Label: "Headspace", Symbol: "V_h", Unit: "mL", Group: bag},
			{ID: "flushed", Label: "Oxygen that the flushes leave", Symbol: "y", Unit: "%", Group: bag},
			{ID: "read", Label: "Oxygen read", Symbol: "y", Unit: "%", Group: oxygen},
			{ID: "days", Label: "Rest before the cup", Unit: "d", Group: rest},
			{ID: "ratio", Label: "Water per coffee", Symbol: "R", Unit: "g/g", Group: cup},
			{ID: "strength", Label: "Strength", Symbol: "T", Unit: "%", Group: cup},
			{ID: "yield", Label: "Extraction yield of the bowl", Symbol: "E", Unit: "%", Group: cup},
		},
		Limits: []catalogue.Limit{
			{Output: "moisture", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: standard},
			{Output: "activity", Lo: nan, Hi: moisture.SpecialtyMaxAw, Source: standard,
				Caution: "A lot average hides wetter beans: this is a caution, never a clearance from mould or its toxins."},
			{Output: "emc", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: standard},
			{Output: "loss", Lo: 14, Hi: 20, Source: catalogue.Source{Name: "Fernandes, 2019", Locator: "usual range of total roast loss", Provenance: "quoted"}},
			{Output: "flushed", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit},
			{Output: "read", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit},
			{Output: "days", Lo: 3, Hi: 14, Source: catalogue.Source{Name: "rest of whole beans for filter coffee", Provenance: "common practice"}},
			{Output: "ratio", Lo: nan, Hi: nan},
			{Output: "strength", Lo: 1.15, Hi: 1.35, Source: brew},
			{Output: "yield", Lo: 18, Hi: 22, Source: brew},
		},
		Compute: compute,
		Cautions: []string{
			"Nitrogen gives no warning and an oxygen alarm does not protect from carbon dioxide: ventilate, and keep heads out of hoppers and bins. Closed packs of fresh coffee can burst. Water for cupping scalds.",
			"A verdict here is arithmetic on what was typed. Food law, local codes and licensed practice decide.",
		},
		Sources: []catalogue.Source{
			standard,
			{Name: "Trejos, Roa & Oliveros, Cenicafé 40(1), 1989", Locator: "eq. 2: store and moisture", Provenance: "quoted"},
			{Name: "KOSHA guide C-C-85", Locator: "purging by dilution", Provenance: "quoted"},
			{Name: "Liang, Chan & Ristenpart, 2021", Locator: "eq. 17: yield of immersion", Provenance: "quoted"},
			brew,
		},
	}
}

// nan leaves a side of a limit open.
var nan = math.NaN()

func number(id, label, symbol, group, unit string, lo, hi float64, example string, pm float64, goField, help string) catalogue.Field {
	return catalogue.Field{ID: id, Label: label, Symbol: symbol, Group: group, Unit: unit, Min: lo, Max: hi,
		Example: example, PlusMinus: pm, GoField: goField, Help: help, Optional: true}
}

// has says whether all of some fields were filled.
func has(in *catalogue.In, ids ...string) bool {
	for _, id := range ids {
		if !in.Has(id) {
			return false
		}
	}
	return true
}

func compute(in *catalogue.In, out *catalogue.Out) error {
	for _, checkpoint := range []func(*catalogue.In, *catalogue.Out) error{atGreen, atStore, atRoast, atBag, atOxygen, atRest, atCup} {
		if err := checkpoint(in, out); err != nil {
			return err
		}
	}
	return nil
}

func atGreen(in *catalogue.In, out *catalogue.Out) error {
	if in.Has("gm") {
		out.SetD("moisture", in.D("gm"))
	} else {
		out.Missing(green, "Moisture of the green is not entered.")
	}
	if in.Has("aw") {
		out.SetD("activity", in.D("aw"))
	} else {
		out.Missing(green, "Water activity is not entered: a lot inside its moisture limit can still be over the activity at which mould grows.")
	}
	return nil
}

func atStore(in *catalogue.In, out *catalogue.Out) error {
	if !has(in, "t", "rh") {
		out.Missing(store, "The store's temperature and humidity are not both entered.")
		return nil
	}
	air := moisture.Air{TempC: in.F("t"), RHPct: in.F("rh")}
	e, err := moisture.EquilibriumMoisture(moisture.ParchmentArabica(), air)
	if err != nil {
		return err
	}
	d, err := moisture.DewPoint(air)
	if err != nil {
		return err
	}
	out.SetU("emc", e.MoisturePct, e.SEPct, "the isotherm itself")
	out.Set("dew", d.DewC)
	if e.Notes&moisture.Extrapolated != 0 {
		out.Note("The store lies outside the range of the isotherm's data.")
	}
	out.Work("M_e = 100*X/(100 + X)", "M_e", catalogue.Num(e.MoisturePct, 4)+" %", "X", catalogue.Num(e.DryMoisturePct, 4))
	return nil
}

var hundred = decimal.New(100, 0)

func atRoast(in *catalogue.In, out *catalogue.Out) error {
	if !has(in, "g", "r") {
		out.Missing(roast, "Green and roasted weight are not both entered.")
		return nil
	}
	g, r := in.D("g"), in.D("r")
	if has(in, "gm", "rm") {
		l, err := moisture.RoastLoss(moisture.Roast{GreenKg: g, RoastedKg: r, GreenMoisturePct: in.D("gm"), RoastedMoisturePct: in.D("rm")})
		if err != nil {
			return err
		}
		out.SetD("loss", l.TotalPct.Round(6))
		out.SetD("dry", l.DryMatterPct.Round(6))
	} else {
		if r.GreaterThan(g) {
			return &moisture.ImpossibleError{Quantity: "roast loss", Why: "the roasted coffee weighs more than the green",
				Field: "RoastedKg", Min: moisture.MinMassKg, Max: in.F("g"), Unit: "kg"}
		}
		out.SetD("loss", hundred.Mul(g.Sub(r)).DivRound(g, 6))
		out.Note("The roast loss is not split into water and dry matter: that takes the moisture of the green and of the roasted coffee.")
	}
	out.Work("L = 100*(m_g - m_r)/m_g", "m_g", in.Text("g"), "m_r", in.Text("r"))
	return nil
}

func atBag(in *catalogue.In, out *catalogue.Out) error {
	if !has(in, "bag", "w", "rho") {
		out.Missing(bag, "Bag volume, coffee and bean density are not all entered.")
		return nil
	}
	f, err := headspace.FreeVolume(headspace.Fill{BagML: in.F("bag"), CoffeeG: in.F("w"), BeanGPerML: in.F("rho")})
	if err != nil {
		return err
	}
	out.Set("free", f.FreeML)
	out.Work("V_h = V_bag - m/ρ", "V_h", catalogue.Num(f.FreeML, 4)+" mL", "V_bag", in.Text("bag"), "m", in.Text("w"), "ρ", in.Text("rho"))
	if !has(in, "supply", "flush", "n") {
		out.Missing(bag, "The flush is not entered: oxygen in the nitrogen, gas of one flush, and how many.")
		return nil
	}
	p, err := headspace.AfterFlushes(headspace.Flushes{StartPct: headspace.AirOxygenPct, SupplyPct: in.F("supply"),
		FreeML: f.FreeML, FlushML: in.F("flush"), Count: in.Int("n")})
	if err != nil {
		return err
	}
	out.Set("flushed", p.OxygenPct)
	out.Work("y = y_n + (y_0 - y_n)*(V_h/(V_h + V_f))^n", "y", catalogue.Num(p.OxygenPct, 3)+" %", "y_n", in.Text("supply"), "y_0", "20.946 %",
		"V_h", catalogue.Num(f.FreeML, 4)+" mL", "V_f", in.Text("flush"), "n", in.Text("n"))
	out.Note("The flush is taken as fully mixed each time; a real nozzle may do better or worse, which readings tell.")
	return nil
}

func atOxygen(in *catalogue.In, out *catalogue.Out) error {
	if !in.Has("o2") {
		out.Missing(oxygen, "No oxygen was read in a sealed bag.")
		return nil
	}
	out.SetD("read", in.D("o2"))
	if in.F("o2") < headspace.ExcellentOxygenPct {
		out.Note("Under 1 % of oxygen is called excellent (common practice).")
	}
	return nil
}

func atRest(in *catalogue.In, out *catalogue.Out) error {
	if !has(in, "roasted", "cupped") {
		out.Missing(rest, "The times of roasting and of cupping are not both entered.")
		return nil
	}
	hours := in.Time("cupped").Sub(in.Time("roasted")).Hours()
	if hours < 0 {
		return &moisture.ImpossibleError{Quantity: "rest", Why: "the cup comes before the roast"}
	}
	out.Set("days", hours/24)
	return nil
}

func atCup(in *catalogue.In, out *catalogue.Out) error {
	if !has(in, "dose", "water") {
		out.Missing(cup, "Coffee and water of the bowl are not both entered.")
		return nil
	}
	b, err := brewratio.Ratio(brewratio.DoseAndWater{DoseG: in.D("dose"), WaterG: in.D("water")})
	if err != nil {
		return err
	}
	out.SetD("ratio", b.Ratio.Round(6))
	out.Work("R = W/D", "R", catalogue.Num(b.Ratio.InexactFloat64(), 4), "W", in.Text("water"), "D", in.Text("dose"))
	if !in.Has("tds") {
		out.Missing(cup, "The strength of the cup is not entered.")
		return nil
	}
	out.SetD("strength", in.D("tds"))
	e, err := extraction.ImmersionYield(extraction.Immersion{DoseG: in.F("dose"), WaterG: in.F("water"), StrengthPct: in.F("tds")})
	if err != nil {
		return err
	}
	out.Set("yield", e.YieldPct)
	out.Work("E = 100*T/(100 - T)*W/D", "E", catalogue.Num(e.YieldPct, 4)+" %", "T", catalogue.Num(in.F("tds"), 4), "W", in.Text("water"), "D", in.Text("dose"))
	return nil
}
