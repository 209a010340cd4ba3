package desk

import (
	"math"

	"example.org/evenlot/checkpoint/weighing"
	"example.org/evenlot/internal/fault"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

// asked is a field whose digits and instrument carry uncertainty.
func asked(id, label, symbol, unit string, lo, hi float64, example, goField, help string) catalogue.Field {
	return catalogue.Field{ID: id, Label: label, Symbol: symbol, Unit: unit, Min: lo, Max: hi, Example: example, GoField: goField, Help: help}
}

// given is a field taken as exact: a count, a setting, what a display shows.
func given(id, label, symbol, unit string, lo, hi float64, example, goField, help string) catalogue.Field {
	f := asked(id, label, symbol, unit, lo, hi, example, goField, help)
	f.Exact = true
	return f
}

// chosen is a choice.
func chosen(id, label, goField, help, example string, options ...catalogue.Option) catalogue.Field {
	return catalogue.Field{ID: id, Label: label, Kind: catalogue.Choice, GoField: goField, Help: help, Example: example, Choices: options}
}

// spare makes a field one that may stay empty.
func spare(f catalogue.Field) catalogue.Field {
	f.Optional = true
	return f
}

// percent writes a percentage of at most n significant digits.
func percent(v float64, n int) string { return catalogue.Num(v, n) + " %" }

// grams writes a weight with the digits that it carries.
func grams(d decimal.Decimal) string {
	return catalogue.Shortest(d.InexactFloat64()) + " g"
}

// fromFloats takes numbers as they were typed.
func fromFloats(list []float64) []decimal.Decimal {
	d := make([]decimal.Decimal, len(list))
	for i, v := range list {
		d[i] = decimal.NewFromFloat(v)
	}
	return d
}

func counted(n int) string { return catalogue.Shortest(float64(n)) }

// wholes refuses the fields that hold no whole number, by pairs of a field's
// ID and its name in the package's errors.
func wholes(in *catalogue.In, pairs ...string) error {
	var bad []*fault.FieldError
	for i := 0; i < len(pairs); i += 2 {
		if id := pairs[i]; in.Has(id) && in.F(id) != float64(in.Int(id)) {
			bad = append(bad, &fault.FieldError{Field: pairs[i+1], Given: in.Text(id), Max: 1e12, Why: "it is a whole number"})
		}
	}
	return fault.Input(bad)
}

// sig rounds to n significant digits: what a limit of an interval deserves.
func sig(v float64, n int) float64 {
	p := math.Pow(10, float64(n-1)-math.Floor(math.Log10(math.Abs(v))))
	if v == 0 || !(p < 1e300 && p > 1e-300) {
		return v
	}
	return math.Round(v*p) / p
}

// drawn is at most how many readings a picture shows.
const drawn = 400

// numbered is 1, 2, 3 … n.
func numbered(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(i + 1)
	}
	return x
}

const localLaw = "Legal metrology is local: a scale used for trade must be approved and verified where it stands, and the inspector's rules decide about a pack. Ask the local weights and measures authority."

var (
	directive = catalogue.Source{Name: "Council Directive 76/211/EEC, annexes I and II", Locator: "as consolidated", Provenance: "opened"}
	scaleRule = catalogue.Source{Name: "OIML R 76-1:2006, Non-automatic weighing instruments", Locator: "tables 3 and 6", Provenance: "quoted"}
)

// sayWeighing turns the notes of package weighing into notes of the sheet.
func sayWeighing(out *catalogue.Out, n weighing.Notes) {
	if n&weighing.BelowMinimum != 0 {
		out.Note("The load is under the least that a scale of this class is meant for: its rounding alone makes the reading doubtful.")
	}
	if n&weighing.CoarseWeight != 0 {
		out.Note("The test weight's own tolerance is over a third of the limit: it opens a band of doubt. Take a finer weight.")
	}
	if n&weighing.DivisionGoverns != 0 {
		out.Note("The repeatability found is better than the display can show: its rounding governs.")
	}
	if n&weighing.BeyondDirective != 0 {
		out.Note("The directive covers packs of 5 g to 10 kg; this one lies outside.")
	}
	if n&weighing.WeighAll != 0 {
		out.Note("For fewer than 100 packs there is no sampling plan: weigh them all.")
	}
}
