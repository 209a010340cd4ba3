package desk

import (
	"math"

	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

var (
	conformity   = catalogue.Source{Name: "JCGM 106:2012, The role of measurement uncertainty in conformity assessment", Locator: "7 and 8.3", Provenance: "memory"}
	guide        = catalogue.Source{Name: "JCGM 100:2008, Guide to the expression of uncertainty in measurement", Locator: "4, 5 and annexes G and H", Provenance: "quoted"}
	drawingGuide = catalogue.Source{Name: "JCGM 101:2008, Propagation of distributions using a Monte Carlo method", Locator: "7 and 9", Provenance: "quoted"}
	toleranceISO = catalogue.Source{Name: "ISO 16269-6:2014, Statistical tolerance intervals", Locator: "tables", Provenance: "memory"}
	grubbsPaper  = catalogue.Source{Name: "Grubbs, Technometrics 11, 1969; NIST/SEMATECH e-Handbook, 1.3.5.17.1", Provenance: "quoted"}
	handbook     = catalogue.Source{Name: "NIST/SEMATECH e-Handbook of Statistical Methods, 2012", Locator: "6.3.2", Provenance: "opened"}
	nelsonPaper  = catalogue.Source{Name: "Nelson, J. Quality Technology 16(4), 1984", Provenance: "quoted"}
)

// readingsField is a column of readings, one a line.
func readingsField(label, unit, example, goField, help string) catalogue.Field {
	return catalogue.Field{ID: "x", Label: label, Kind: catalogue.Series, GoField: goField,
		Columns: []catalogue.Column{{ID: "x", Label: "Reading", Unit: unit, Min: -1e9, Max: 1e9}},
		Example: example, Help: help}
}

// shareField is a percentage taken as exact.
func shareField(id, label, symbol, example, goField, help string, lo, hi float64) catalogue.Field {
	return given(id, label, symbol, "%", lo, hi, example, goField, help)
}

func coverageField() catalogue.Field {
	return shareField("cover", "Share of the lot", "p", "95", "CoveragePct", "How much of the lot the claim is about, like 95", 50, 99.99)
}

func claimConfidence() catalogue.Field {
	return shareField("sure", "Confidence", "γ", "95", "ConfidencePct", "How often such a claim is to be right, like 95; not the same as the share", 50, 99.99)
}

// num4 writes four significant digits.
func num4(v float64) string { return catalogue.Num(v, 4) }

// setSig gives an output n significant digits and no more.
func setSig(out *catalogue.Out, id string, v float64, n int) {
	at := math.Floor(math.Log10(math.Abs(sig(v, n)))) - float64(n) + 1
	setAt(out, id, v, at)
}

// setPlace gives an output the digits down to the second one of its
// uncertainty or scatter u.
func setPlace(out *catalogue.Out, id string, v, u float64) {
	places, err := uncertainty.Places(math.Abs(u), 2)
	if err != nil {
		places = 99
	}
	setAt(out, id, v, -float64(places))
}

// setAt rounds an output at a power of ten.
func setAt(out *catalogue.Out, id string, v, at float64) {
	if !(at >= -12 && at <= 12 && math.Abs(v) < 1e15) {
		out.Set(id, v)
		return
	}
	out.SetD(id, decimal.NewFromFloat(v).Round(-int32(at)))
}

// orOpen is a limit, or the infinity that leaves its side open.
func orOpen(in *catalogue.In, id string, sign int) float64 {
	if in.Has(id) {
		return in.F(id)
	}
	return math.Inf(sign)
}

// curve is n+1 points of f from a to b.
func curve(a, b float64, n int, f func(float64) (float64, bool)) (x, y []float64) {
	for i := range n + 1 {
		v := a + (b-a)*float64(i)/float64(n)
		if w, ok := f(v); ok {
			x, y = append(x, v), append(y, w)
		}
	}
	return x, y
}
