// Package lot holds the lot sheet: one lot taken through every checkpoint of
// the building, each judged as its readings come in.
package lot

import (
	"math"
	"strconv"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/checkpoint/sampling"
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
	growth := catalogue.Source{Name: "Good Hygiene Practices along the coffee chain (FAO/ICO)", Locator: "controlling mould growth", Provenance: "opened"}
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
			{ID: "batches", Label: "Other batches of the lot", Kind: catalogue.Series, Whole: true, Group: roast, Optional: true, GoField: "Batches",
				Columns: []catalogue.Column{{ID: "g", Label: "Green", Unit: "kg", Min: moisture.MinMassKg, Max: 1e6}, {ID: "r", Label: "Roasted", Unit: "kg", Min: moisture.MinMassKg, Max: 1e6}},
				Example: "12.00 10.17\n12.00 10.11", Help: "One batch a line, green and roasted weight; from the same scale"},
			number("rm", "Moisture of the roasted coffee", "M_r", roast, "%", moisture.MinRoastedMoisturePct, moisture.MaxRoastedMoisturePct, "1.8", 0.2, "RoastedMoisturePct", "Wet basis, like 1.8; only to split the loss"),
			number("bag", "Inside volume of the bag", "V_bag", bag, "mL", 10, 1e6, "1150", 20, "BagML", "Filled and sealed, by water or by its sizes, like 1150"),
			number("w", "Coffee in the bag", "m", bag, "g", 1, 1e6, "340", 0, "CoffeeG", "Net weight, like 340"),
			number("rho", "Density of the bean", "ρ", bag, "g/mL", 0.3, 1.3, "0.80", 0.05, "BeanGPerML", "Of the particle, not in bulk: dark about 0.66, middle 0.80, light 0.90"),
			number("supply", "Oxygen in the nitrogen", "y_n", bag, "%", 0, 20, "0.10", 0, "SupplyPct", "Of the cylinder or the generator, like 0.1"),
			number("flush", "Gas of one flush", "V_f", bag, "mL", 1, 1e7, "800", 40, "FlushML", "At the pressure of the bag, like 800"),
			{ID: "n", Label: "Flushes", Symbol: "n", Group: bag, Min: 1, Max: 1000, Example: "5", Exact: true, Optional: true, GoField: "Count", Help: "How many times, each mixed and vented, like 5"},
			number("o2", "Oxygen reading in the bag", "y", oxygen, "%", 0, 25, "0.8", 0.1, "OxygenPct", "In percent, as the meter shows it within an hour of sealing, like 0.8"),
			{ID: "o2s", Label: "Readings of other bags", Kind: catalogue.Series, Whole: true, Group: oxygen, Optional: true, GoField: "OxygenPct",
				Columns: []catalogue.Column{{ID: "y", Label: "Oxygen", Unit: "%", Min: 0, Max: 25}},
				Example: "0.6 0.7 0.6 0.5", Help: "One for each bag, taken from all over the lot, like 0.6 0.7"},
			{ID: "roasted", Label: "Roasted at", Kind: catalogue.Moment, Group: rest, Optional: true, Example: "2026-11-16T09:30", Help: "Local date and time"},
			{ID: "cupped", Label: "Opened or cupped at", Kind: catalogue.Moment, Group: rest, Optional: true, Example: "2026-11-23T10:00", Help: "Local date and time"},
			number("dose", "Coffee in the bowl", "D", cup, "g", 0.1, 1e5, "10.0", 0, "DoseG", "As the scale shows it, like 10.0"),
			number("water", "Water in the bowl", "W", cup, "g", 0.1, 4e6, "165.0", 0, "WaterG", "As the scale shows it, like 165.0"),
			number("score", "Cup score", "", cup, "", 0, 100, "84.5", 1, "", "Out of 100, on your own form; the plus-minus is how far your tasters lie apart"),
			{ID: "faulty", Label: "Cups with a fault or a taint", Group: cup, Max: 1000, Example: "0", Exact: true, Optional: true, Help: "Counted on the table, 0 for none"},
			number("tds", "Strength of the cup", "T", cup, "%", 0.05, 30, "1.25", 0.03, "StrengthPct", "Dissolved solids, % by weight, like 1.25"),
		},
		Outputs: []catalogue.Output{
			{ID: "moisture", Label: "Moisture of the green, wet basis", Symbol: "M_g", Unit: "%", Group: green},
			{ID: "activity", Label: "Water activity of the green", Symbol: "a_w", Group: green},
			{ID: "emc", Label: "Moisture that the store leads to", Symbol: "M_e", Unit: "%", Group: store},
			{ID: "dew", Label: "Dew point of the store", Symbol: "t_d", Unit: "°C", Group: store},
			{ID: "loss", Label: "Roast loss", Symbol: "L", Unit: "%", Group: roast},
			{ID: "least", Label: "Roast loss, lowest batch", Unit: "%", Group: roast},
			{ID: "most", Label: "Roast loss, highest batch", Unit: "%", Group: roast},
			{ID: "dry", Label: "Dry-matter loss, of green dry matter", Symbol: "d", Unit: "%", Group: roast},
			{ID: "free", Label: "Headspace", Symbol: "V_h", Unit: "mL", Group: bag},
			{ID: "flushed", Label: "Oxygen that the flushes leave", Symbol: "y", Unit: "%", Group: bag},
			{ID: "read", Label: "Oxygen read, the highest of all bags", Symbol: "y", Unit: "%", Group: oxygen},
			{ID: "sure", Label: "Bags within the limit, with 95 % confidence at least", Unit: "%", Group: oxygen},
			{ID: "days", Label: "Rest before the cup", Unit: "d", Group: rest},
			{ID: "ratio", Label: "Water per coffee", Symbol: "R", Unit: "g/g", Group: cup},
			{ID: "strength", Label: "Strength", Symbol: "T", Unit: "%", Group: cup},
			{ID: "yield", Label: "Extraction yield of the bowl", Symbol: "E", Unit: "%", Group: cup},
			{ID: "score", Label: "Cup score", Group: cup},
			{ID: "faulty", Label: "Cups with a fault or a taint", Group: cup},
		},
		Limits: []catalogue.Limit{
			{Output: "moisture", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: standard},
			{Output: "activity", Lo: nan, Hi: moisture.GrowthLimitAw, Source: growth,
				Caution: "A lot average hides wetter beans: this is a caution, never a clearance from mould or its toxins."},
			{Output: "emc", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: standard},
			{Output: "loss", Lo: nan, Hi: nan}, // each roastery's own: light and dark roasts have no range in common
			{Output: "least", Lo: nan, Hi: nan},
			{Output: "most", Lo: nan, Hi: nan},
			{Output: "flushed", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit},
			{Output: "read", Lo: nan, Hi: headspace.LimitOxygenPct, Source: habit},
			{Output: "days", Lo: 0.33, Hi: 14, Source: catalogue.Source{Name: "from 8 h, as cupping protocols ask, to 14 d, as roasteries rest beans for filter coffee", Provenance: "common practice"}},
			{Output: "ratio", Lo: nan, Hi: nan},
			{Output: "strength", Lo: nan, Hi: nan}, // the standards are of filter coffee, not of bowls
			{Output: "yield", Lo: nan, Hi: nan},
			{Output: "score", Lo: 80, Hi: nan, Source: catalogue.Source{Name: "80 points of 100 for specialty coffee", Provenance: "common practice"}},
			{Output: "faulty", Lo: nan, Hi: 0, Source: catalogue.Source{Name: "no cup with a fault or a taint", Provenance: "common practice"}},
		},
		Parts: []catalogue.Part{
			{Compute: atGreen, Reads: []string{"gm", "aw"}},
			{Compute: atStore, Reads: []string{"t", "rh"}},
			{Compute: atRoast, Reads: []string{"gm", "g", "r", "batches", "rm"}},
			{Compute: atBag, Reads: []string{"bag", "w", "rho", "supply", "flush", "n"}},
			{Compute: atOxygen, Reads: []string{"o2", "o2s", "read-max"}},
			{Compute: atRest, Reads: []string{"roasted", "cupped"}},
			{Compute: atCup, Reads: []string{"dose", "water", "tds", "score", "faulty"}},
		},
		Cautions: []string{
			"Nitrogen gives no warning and an oxygen alarm does not protect from carbon dioxide: ventilate, and keep heads out of hoppers and bins. Closed packs of fresh coffee can burst. Water for cupping scalds.",
			"A verdict here is arithmetic on what was typed. Food law, local codes and licensed practice decide.",
		},
		Sources: []catalogue.Source{
			standard, growth,
			{Name: "Trejos, Roa & Oliveros, Cenicafé 40(1), 1989", Locator: "eq. 2: store and moisture", Provenance: "quoted"},
			{Name: "KOSHA guide C-C-85", Locator: "purging by dilution", Provenance: "quoted"},
			{Name: "Liang, Chan & Ristenpart, 2021", Locator: "eq. 17: yield of immersion", Provenance: "quoted"},
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

func atGreen(in *catalogue.In, out *catalogue.Out) error {
	if in.Has("gm") {
		out.SetD("moisture", in.D("gm"))
	} else {
		out.Missing(green, "Moisture of the green is not entered.")
	}
	if in.Has("aw") {
		out.SetD("activity", in.D("aw"))
		if in.F("aw") >= moisture.GrowthLimitAw {
			out.Note("Mould can grow from a water activity of {}: the limit of the trade's standard lies above that and is no protection.", "0.68")
		}
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

// A batch is one roast of the lot.
type batch struct {
	green, roasted decimal.Decimal
	lossPct, u     float64 // u beyond that of the fields
}

// batches lists the roasts: the one of the two fields, then the others.
func batches(in *catalogue.In) ([]batch, error) {
	var list []batch
	const heavier = "the roasted coffee weighs more than the green"
	add := func(green, roasted decimal.Decimal, u float64) {
		list = append(list, batch{green, roasted, hundred.Mul(green.Sub(roasted)).DivRound(green, 6).InexactFloat64(), u})
	}
	if has(in, "g", "r") {
		g, r := in.D("g"), in.D("r")
		if r.GreaterThan(g) {
			return nil, &moisture.ImpossibleError{Quantity: "roast loss", Why: heavier,
				Field: "RoastedKg", Given: r.String(), Min: moisture.MinMassKg, Max: g.InexactFloat64(), Unit: "kg"}
		}
		add(g, r, 0)
	}
	if in.Has("batches") {
		cols := in.Columns("batches")
		for i, g := range cols[0] {
			r := cols[1][i]
			u := 100 * math.Hypot(in.U("r")/g, in.U("g")*r/(g*g))
			if r > g {
				return nil, &moisture.InputError{Fields: []*moisture.FieldError{{Field: "Batches[" + strconv.Itoa(i) + "]",
					Given: catalogue.Shortest(r), Min: moisture.MinMassKg, Max: g, Unit: "kg", Why: heavier}}}
			}
			add(decimal.NewFromFloat(g), decimal.NewFromFloat(r), u)
		}
	}
	return list, nil
}

func atRoast(in *catalogue.In, out *catalogue.Out) error {
	list, err := batches(in)
	if err != nil {
		return err
	}
	if len(list) == 0 {
		out.Missing(roast, "Green and roasted weight are not both entered.")
		return nil
	}
	var g, r decimal.Decimal
	u := 0.0
	least, most := list[0], list[0]
	for _, b := range list {
		g, r = g.Add(b.green), r.Add(b.roasted)
		u = math.Hypot(u, b.u*b.green.InexactFloat64())
		if b.lossPct < least.lossPct {
			least = b
		}
		if b.lossPct > most.lossPct {
			most = b
		}
	}
	loss := hundred.Mul(g.Sub(r)).DivRound(g, 6)
	u /= g.InexactFloat64()
	const scale = "the weights of the other batches"
	if len(list) == 1 {
		out.SetD("loss", loss)
	} else {
		out.SetU("loss", loss.InexactFloat64(), u, scale)
		out.SetU("least", least.lossPct, least.u, scale)
		out.SetU("most", most.lossPct, most.u, scale)
	}
	if has(in, "gm", "rm") {
		l, err := moisture.RoastLoss(moisture.Roast{GreenKg: g, RoastedKg: r, GreenMoisturePct: in.D("gm"), RoastedMoisturePct: in.D("rm")})
		if err != nil {
			return err
		}
		out.SetU("dry", l.DryMatterPct.Round(6).InexactFloat64(), u, scale)
	} else {
		out.Note("The roast loss is not split into water and dry matter: that takes the moisture of the green and of the roasted coffee.")
	}
	if !out.Full() {
		return nil
	}
	kg := func(d decimal.Decimal) string { return d.String() + " kg" }
	out.Work("L = 100*(m_g - m_r)/m_g", "L", catalogue.Num(loss.InexactFloat64(), 4)+" %", "m_g", kg(g), "m_r", kg(r))
	if in.Has("batches") {
		places := int32(0) // of the finest weighing
		for _, b := range list {
			places = max(places, -b.green.Exponent(), -b.roasted.Exponent())
		}
		var rows [][]string
		for i, b := range list {
			rows = append(rows, []string{catalogue.Shortest(float64(i + 1)), b.green.StringFixed(places), b.roasted.StringFixed(places), catalogue.Num(b.lossPct, 4)})
		}
		out.Table("Roast batches", []string{"Batch", "Green, kg", "Roasted, kg", "Roast loss, %"}, rows)
	}
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
	bags, highest := 0, math.Inf(-1)
	limit, over := headspace.LimitOxygenPct, 0
	if in.Has("read-max") {
		limit = in.F("read-max")
	}
	read := func(y float64) {
		bags++
		highest = math.Max(highest, y)
		if y > limit {
			over++
		}
	}
	if in.Has("o2") {
		read(in.F("o2"))
	}
	if in.Has("o2s") {
		for _, y := range in.Columns("o2s")[0] {
			read(y)
		}
	}
	if bags == 0 {
		out.Missing(oxygen, "No oxygen was read in a sealed bag.")
		return nil
	}
	if in.Has("o2") && highest == in.F("o2") {
		out.SetD("read", in.D("o2"))
	} else {
		out.SetU("read", highest, in.U("o2"), "the meter, as in the first bag")
	}
	if highest < headspace.ExcellentOxygenPct {
		out.Note("Under 1 % of oxygen is called excellent (common practice).")
	}
	if bags == 1 {
		out.Note("One bag was read: it says little of the others.")
		return nil
	}
	if !out.Shown() {
		return nil
	}
	good := 0.0
	if over < bags {
		var err error
		if good, err = sampling.GoodShare(bags, over, 95); err != nil {
			return err
		}
	}
	out.SetCount("sure", int(math.Floor(good)))
	out.Note("Bags read: {}, over {} %: {}. What the others hold is only as sure as the bags were drawn from all over the lot.", catalogue.Shortest(float64(bags)), catalogue.Shortest(limit), catalogue.Shortest(float64(over)))
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
	if in.Has("score") {
		out.SetD("score", in.D("score"))
	} else {
		out.Missing(cup, "No cup score is entered: as far as this sheet knows, nobody has tasted the lot.")
	}
	if in.Has("faulty") {
		out.SetCount("faulty", in.Int("faulty"))
	} else {
		out.Missing(cup, "Cups with a fault or a taint were not counted.")
	}
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
