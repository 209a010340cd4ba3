package rest

import (
	"math"

	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var (
	nan = math.NaN()

	noCurve = catalogue.Source{Name: "Smrke and others, J. Agric. Food Chem. 66, 5293, 2018", Locator: "about 1 % of the weight; its tables were not opened", Provenance: "quoted"}
	crank   = catalogue.Source{Name: "Crank, The Mathematics of Diffusion, 2nd ed., 1975", Locator: "equations 4.18 to 6.22", Provenance: "memory"}
	idealCO = catalogue.Source{Name: "Ideal gas law", Locator: "molar mass of carbon dioxide 44.0095 g/mol", Provenance: "memory"}
)

// The fields that many calculators share.

func gasField(example string) catalogue.Field {
	return catalogue.Field{ID: "gas", Label: "Gas at drop", Symbol: "M_0", Unit: "mg/g", Min: degas.MinGasMgPerG, Max: degas.MaxGasMgPerG, GoField: "GasMgPerG",
		Example: example, PlusMinus: 0, Help: "Carbon dioxide per gram of coffee. From your own weighings; without any take 10: in print it is from 6 to 20"}
}

func tauField() catalogue.Field {
	return catalogue.Field{ID: "tau", Label: "Time scale of your curve", Symbol: "τ", Unit: "d", Min: degas.MinTauDays, Max: degas.MaxTauDays, GoField: "TauDays",
		Example: "4.0", Help: "When 63 % of the gas has gone, from a fit of your own weighings; none is published that could be taken instead"}
}

func betaField() catalogue.Field {
	return catalogue.Field{ID: "beta", Label: "Shape of your curve", Symbol: "β", Min: degas.MinExponent, Max: degas.MaxExponent, GoField: "Exponent",
		Example: "0.65", Help: "From the same fit, like 0.65: under 1 is a fast start and a long tail, 1 is one pool"}
}

func ageField(id, label, example, help string) catalogue.Field {
	return catalogue.Field{ID: id, Label: label, Symbol: "t", Unit: "d", Min: 0, Max: degas.MaxDays, GoField: "days", Example: example, Help: help}
}

func levelField(example string) catalogue.Field {
	return catalogue.Field{ID: "level", Label: "Level to come down to, of the gas at drop", Symbol: "L", Unit: "%", Min: degas.MinLeftPct, Max: 100, GoField: "leftPct",
		Example: example, Help: "In percent that may be left, like 33. It is your own: no source gives a level for taste"}
}

func tempField(id, label, symbol, goField, example string) catalogue.Field {
	return catalogue.Field{ID: id, Label: label, Symbol: symbol, Unit: "°C", Min: degas.MinTempC, Max: degas.MaxTempC, GoField: goField,
		Example: example, PlusMinus: 1, Help: "As the thermometer shows it, like 20"}
}

func outsideField(goField string) catalogue.Field {
	return catalogue.Field{ID: "p", Label: "Air pressure outside, absolute", Symbol: "P", Unit: "kPa", Min: degas.MinPressureKPa, Max: 110, GoField: goField,
		Example: "101.3", PlusMinus: 1, Help: "101.3 at sea level, about 1.2 less for each 100 m of height"}
}

// curveOf reads the stretched curve of the shared fields.
func curveOf(in *catalogue.In) degas.Stretched {
	return degas.Stretched{TauDays: in.F("tau"), Exponent: in.F("beta")}
}

func coffeeOf(in *catalogue.In) degas.Coffee {
	return degas.Coffee{GasMgPerG: in.F("gas"), Curve: curveOf(in)}
}

// noteOn passes the package's remarks on.
func noteOn(out *catalogue.Out, n degas.Notes) {
	if n&degas.Extrapolated != 0 {
		out.Note("An input lies outside the range that was published or studied.")
	}
	if n&degas.UpperBound != 0 {
		out.Note("The pressure is an upper bound: coffee gives off less into a pack under pressure, and no number for that could be found.")
	}
	if n&degas.BackPressure != 0 {
		out.Note("The pressure in the jar holds the coffee back: its true curve lies above this one. Use less coffee in more volume.")
	}
	if n&degas.ScatterExceedsStated != 0 {
		out.Note("The readings scatter more than the stated balance or gauge allows. The intervals follow the residuals; look at their picture for a trend.")
	}
	if n&degas.LongTail != 0 {
		out.Note("Less than half of the gas left between the first and the last reading: its content at drop rests on the shape chosen.")
	}
	if n&degas.ClockChanges != 0 {
		out.Note("The clock changes in between. Ages are elapsed time, so that the hour on the wall shifts.")
	}
}

// ages are n + 1 times up to the last, close together at the start.
func ages(last float64, n int) []float64 {
	list := make([]float64, n+1)
	for i := range list {
		x := float64(i) / float64(n)
		list[i] = last * x * x
	}
	return list
}

// over is what f gives at each x; where it gives none there is a gap.
func over(x []float64, f func(x float64) (float64, error)) []float64 {
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

func gonePct(c degas.Curve, days float64) (float64, error) {
	s, err := degas.Left(c, days)
	return s.GonePct, err
}

func leftPct(c degas.Curve, days float64) (float64, error) {
	s, err := degas.Left(c, days)
	return s.LeftPct, err
}

// orientationBand is the band between the published claims, as share left.
func orientationBand(x []float64) figure.Band {
	slow, fast := degas.OrientationCurves()
	return figure.Band{Name: "between published claims", X: x,
		Lo: over(x, func(d float64) (float64, error) { return leftPct(fast, d) }),
		Hi: over(x, func(d float64) (float64, error) { return leftPct(slow, d) })}
}

// days prints an age for a sentence.
func days(v float64) string { return catalogue.Num(v, 3) }
