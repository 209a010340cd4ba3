package packing

import (
	"math"

	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var nan = math.NaN()

var (
	habit      = catalogue.Source{Name: "Habit of the trade: below 2 %, under 1 % excellent", Provenance: "common practice"}
	definition = catalogue.Source{Name: "Balance of volumes", Provenance: "derived"}
	kosha      = catalogue.Source{Name: "KOSHA Technical Guide C-C-85, inert-gas purging", Locator: "annexes 2 and 3", Provenance: "quoted"}
	inerting   = catalogue.Source{Name: "Crowl and Louvar, Chemical Process Safety", Locator: "inerting", Provenance: "memory"}
	nozzleBook = catalogue.Source{Name: "Cholette and Cloutier, Can. J. Chem. Eng. 37, 1959", Locator: "piston, stirred and bypassed parts", Provenance: "memory"}
	idealGas   = catalogue.Source{Name: "Ideal gas law", Locator: "R of the SI of 2019", Provenance: "memory"}
	pycnometry = catalogue.Source{Name: "Open gas-pycnometry data set of a coffee-measurement blog", Locator: "18 bags, reduced by us", Provenance: "derived"}
)

const (
	gasCaution    = headspace.CautionNitrogen
	readCaution   = "Believe the bags, not the arithmetic: measure oxygen in filled bags, more than one, an hour or so after sealing."
	meanNote      = "This is the mean of the gas in the bag once it has evened out; a needle may meet a richer or a leaner corner before."
	vesselCaution = "A vessel not made for vacuum can collapse, one not made for pressure can burst."
	gaugeCaution  = "Pressures are absolute. A vacuum gauge that shows −0.9 bar means about 0.11 bar at sea level."
	wholeBeanNote = "Rates for whole beans are published too thinly to stand here as defaults: what you type is what you get."
)

// field is a field that takes one number.
func field(id, label, symbol, unit string, lo, hi float64, example string, pm float64, goField, help string) catalogue.Field {
	return catalogue.Field{ID: id, Label: label, Symbol: symbol, Unit: unit, Min: lo, Max: hi, Example: example, PlusMinus: pm, GoField: goField, Help: help}
}

// exact marks a setting.
func exact(f catalogue.Field) catalogue.Field {
	f.Exact = true
	return f
}

// none is a field in which a bare 0 says that there is none.
func none(f catalogue.Field) catalogue.Field {
	f.None = true
	return f
}

// maybe is a field that may stay empty; without an example it does.
func maybe(f catalogue.Field) catalogue.Field {
	f.Optional = true
	return f
}

// under puts fields under a heading.
func under(group string, fields ...catalogue.Field) []catalogue.Field {
	for i := range fields {
		fields[i].Group = group
	}
	return fields
}

// fields joins groups of fields.
func fields(groups ...[]catalogue.Field) []catalogue.Field {
	var all []catalogue.Field
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

func startField() catalogue.Field {
	return field("y0", "Oxygen before flushing", "y_0", "%", 0.5, 100, "20.9", 0, "StartPct", "Room air is 20.9; less if a step came before")
}

func supplyField() catalogue.Field {
	return field("yn", "Oxygen in the nitrogen", "y_n", "%", 0, 20, "0.10", 0, "SupplyPct", "From the certificate, or from a meter at the nozzle of a generator, like 0.1 or 0.5; 0 for pure")
}

func freeField() catalogue.Field {
	return field("v", "Headspace", "V_h", "mL", 1, 1e6, "775", 25, "FreeML", "All gas in the filled bag, between and above the beans: see the headspace of a bag")
}

func nozzleField(example string) catalogue.Field {
	return field("q", "Nozzle", "q", "%", -99, 100, example, 0, "NozzlePct", "0 is stirred, 100 a piston, below 0 gas lost to the outlet. Your own number comes from the fit of readings; without one take 0")
}

func targetField() catalogue.Field {
	return exact(field("y", "Oxygen to come to", "y", "%", 1e-3, 100, "1.0", 0, "TargetPct", "Like 1; it must be above the oxygen in the nitrogen"))
}

func flowField(example string) catalogue.Field {
	return field("flow", "Flow into the bag", "Q", "L/min", 0.01, 10_000, example, 0, "FlowLPerMin", "At the pressure of the bag: the flow meter's own page puts its scale right")
}

func tempField(id, label, symbol, goField, example string) catalogue.Field {
	return field(id, label, symbol, "°C", -20, 60, example, 1, goField, "As the thermometer shows it, like 20")
}

func pressureField(id, label, symbol, goField string) catalogue.Field {
	return field(id, label, symbol, "kPa", 50, 110, "101.3", 1, goField, "101.3 at sea level, about 1.2 less for each 100 m of height")
}

// optional is a field's number, or other where it stands empty.
func optional(in *catalogue.In, id string, other float64) float64 {
	if in.Has(id) {
		return in.F(id)
	}
	return other
}

func num(v float64, n int) string { return catalogue.Num(v, n) }
func pct(v float64, n int) string { return catalogue.Num(v, n) + " %" }
func ml(v float64) string         { return catalogue.Num(v, 4) + " mL" }

// say passes the package's remarks on.
func say(out *catalogue.Out, n headspace.Notes) {
	if n&headspace.SupplyAboveStart != 0 {
		out.Note("The nitrogen holds no less oxygen than the gas in the bag: flushing cannot lower it.")
	}
	if n&headspace.AlreadyThere != 0 {
		out.Note("The bag is there already: no gas is needed.")
	}
	if n&headspace.UnusualDensity != 0 {
		out.Note("Roasted beans measured from 0.62 to 0.94 g/mL: check that this is not a bulk density.")
	}
	if n&headspace.Extrapolated != 0 {
		out.Note("This lies outside the gas that was tried: confirm it with bags.")
	}
	if n&headspace.HasOutliers != 0 {
		out.Note("Some readings stand apart from the rest. They were kept: look for a leak, a bad seal or a blocked needle.")
	}
	if n&headspace.HasCensored != 0 {
		out.Note("Readings of 0, or near the last digit of the meter, entered as intervals and not as numbers.")
	}
	if n&headspace.FewReadings != 0 {
		out.Note("Fewer than 6 readings: how much bags differ is poorly known.")
	}
	if n&headspace.BelowZero != 0 {
		out.Note("The corrected oxygen is below zero, which no gas is: check the zero point.")
	}
	if n&headspace.DriftUnknown != 0 {
		out.Note("There was no second calibration: drift of the meter is not in the uncertainty.")
	}
	if n&headspace.AirInSample != 0 {
		out.Note("More than a tenth of the sample was outside air: draw less, or from a bigger bag.")
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

// each is f over x; where it gives none there is a gap.
func each(x []float64, f func(float64) (float64, error)) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		v, err := f(x[i])
		if err != nil {
			v = nan
		}
		y[i] = v
	}
	return y
}

// ideals draws oxygen against gas for the three ideals: piston, stirred, and
// shots of one size, on a logarithmic axis.
func ideals(p headspace.Purge, mostML, flushML float64) []figure.Line {
	x := grid(0, mostML, 80)
	liters := each(x, func(v float64) (float64, error) { return v / 1000, nil })
	lines := []figure.Line{
		{Name: "piston", X: liters, Style: figure.Dashed, Y: each(x, func(v float64) (float64, error) {
			p.GasML = v
			y, err := headspace.AfterPiston(p)
			return y.OxygenPct, err
		})},
		{Name: "stirred", X: liters, Style: figure.Dotted, Y: each(x, func(v float64) (float64, error) {
			p.GasML = v
			y, err := headspace.AfterSweep(p)
			return y.OxygenPct, err
		})},
	}
	if flushML > 0 {
		var at, y []float64
		for n := 0; n <= 60 && float64(n)*flushML <= mostML*1.001; n++ {
			f, err := headspace.AfterFlushes(headspace.Flushes{StartPct: p.StartPct, SupplyPct: p.SupplyPct, FreeML: p.FreeML, FlushML: flushML, Count: n})
			if err != nil {
				break
			}
			at, y = append(at, float64(n)*flushML/1000), append(y, f.OxygenPct)
		}
		lines = append(lines, figure.Line{Name: "shots", X: at, Y: y, Style: figure.Dashed})
	}
	return lines
}

// throughNozzle is oxygen against gas for one nozzle.
func throughNozzle(name string, p headspace.Purge, q, mostML float64) figure.Line {
	x := grid(0, mostML, 80)
	return figure.Line{Name: name,
		X: each(x, func(v float64) (float64, error) { return v / 1000, nil }),
		Y: each(x, func(v float64) (float64, error) {
			y, err := headspace.AfterNozzle(headspace.Nozzle{StartPct: p.StartPct, SupplyPct: p.SupplyPct, FreeML: p.FreeML, GasML: v, NozzlePct: q})
			return y.OxygenPct, err
		})}
}

// oxygenAxis is logarithmic and reaches below the supply.
func oxygenAxis(supplyPct, lowest float64) figure.Axis {
	low := 0.05
	for _, v := range []float64{supplyPct, lowest} {
		for v > 0 && low > v/1.5 && low > 1e-4 {
			low /= 10
		}
	}
	return figure.Axis{Label: "Oxygen", Unit: "%", Log: true, Min: low, Max: 30}
}

var oxygenMarks = []figure.Mark{{Name: "limit", At: headspace.LimitOxygenPct}, {Name: "excellent", At: headspace.ExcellentOxygenPct}}
