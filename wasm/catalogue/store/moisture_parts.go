package store

import (
	"math"

	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
)

// nan leaves a side of a limit open.
var nan = math.NaN()

// number is a field that takes one number.
func number(id, label, symbol, unit string, lo, hi float64, example string, pm float64, goField, help string) catalogue.Field {
	return catalogue.Field{ID: id, Label: label, Symbol: symbol, Unit: unit, Min: lo, Max: hi,
		Example: example, PlusMinus: pm, GoField: goField, Help: help}
}

// maybe is a field that may stay empty.
func maybe(f catalogue.Field) catalogue.Field {
	f.Optional = true
	return f
}

// under puts a field under a heading.
func under(group string, f catalogue.Field) catalogue.Field {
	f.Group = group
	return f
}

func temperature(id, label, symbol, example, goField string) catalogue.Field {
	return number(id, label, symbol, "°C", moisture.BeanMinC, moisture.BeanMaxC, example, 0.5, goField, "As the thermometer shows it, like 18 or 18.5")
}

func humidity(id, label, symbol, example, goField string) catalogue.Field {
	return number(id, label, symbol, "%", moisture.MinRHPct, moisture.MaxRHPct, example, 2, goField, "In percent, as the sensor shows it, like 57 or 57.5")
}

func content(id, label, symbol, example, goField string) catalogue.Field {
	return number(id, label, symbol, "%", moisture.MinMoisturePct, moisture.MaxMoisturePct, example, 0.3, goField, "Wet basis, as the meter or the oven gives it, like 11.2")
}

func mass(id, label, symbol, example, goField, help string) catalogue.Field {
	return number(id, label, symbol, "kg", moisture.MinMassKg, moisture.MaxMassKg, example, 0, goField, help)
}

var (
	balance  = catalogue.Source{Name: "conservation of mass", Provenance: "derived"}
	roaPaper = catalogue.Source{Name: "Trejos, Roa & Oliveros, Cenicafé 40(1), 1989", Locator: "eq. 2, table 3", Provenance: "quoted"}
	ashrae   = catalogue.Source{Name: "ASHRAE, Handbook of Fundamentals, Psychrometrics", Provenance: "opened"}
	isoOven  = catalogue.Source{Name: "ISO 11294:1994, roasted ground coffee", Locator: "9.1", Provenance: "opened"}
	growth   = catalogue.Source{Name: "Good Hygiene Practices along the coffee chain (FAO/ICO)", Locator: "controlling mould growth", Provenance: "opened"}
)

const (
	mouldCaution = "Mould grows by water activity, and a lot's average hides its wettest beans: this clears nothing. Food law on mould and its toxins decides, by analysis."
	meterCaution = "A handheld meter knows neither the density nor the temperature of a coffee that it was not calibrated for."
	curveNote    = "The curve is that of parchment arabica while it dries. Hulled beans, other species and lots that take up water may differ by more than its stated error."
	outsideNote  = "This lies outside the temperatures or activities of the curve's data: the number is extrapolated."
)

// say turns the notes of package moisture into notes of the sheet.
func say(out *catalogue.Out, n moisture.Notes) {
	if n&moisture.ParchmentDesorption != 0 {
		out.Note(curveNote)
	}
	if n&moisture.Extrapolated != 0 {
		out.Note("Some of this lies outside the published range of its equation: the number is extrapolated.")
	}
	if n&moisture.MayGrowMould != 0 {
		out.Note("Mould may grow at this activity, or within one standard error of it.")
	}
	if n&moisture.InsideMoistureLimit != 0 {
		out.Note("The moisture is inside the limit of contracts, which is no proof of a safe activity.")
	}
	if n&moisture.OverIce != 0 {
		out.Note("Below 0 °C frost forms before dew.")
	}
	if n&moisture.FewPairs != 0 {
		out.Note("There are few pairs: the uncertainty is itself uncertain.")
	}
	if n&moisture.OutsidePairs != 0 {
		out.Note("The reading lies outside the pairs that were compared.")
	}
	if n&moisture.CloseCall != 0 {
		out.Note("The readings do not choose between the two best curves: inside them either will do, outside them neither.")
	}
	if n&moisture.Gaps != 0 {
		out.Note("Some of the time has no usable reading and counts nowhere.")
	}
	if n&moisture.OrganicGain != 0 {
		out.Note("Dry matter seems gained, which no roast does: check weights and moistures.")
	}
	if n&moisture.WaterGain != 0 {
		out.Note("Water seems gained: check weights and moistures, or quench water stayed in.")
	}
}

// grid is n+1 numbers from lo to hi.
func grid(lo, hi float64, n int) []float64 {
	g := make([]float64, n+1)
	for i := range g {
		g[i] = lo + (hi-lo)*float64(i)/float64(n)
	}
	return g
}

// each is f over x.
func each(x []float64, f func(float64) float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		y[i] = f(x[i])
	}
	return y
}

func pct(v float64, n int) string { return catalogue.Num(v, n) + " %" }
