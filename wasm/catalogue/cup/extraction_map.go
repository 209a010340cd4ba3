package cup

import (
	"math"

	"example.org/evenlot/extraction"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var (
	liang  = catalogue.Source{Name: "Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021", Locator: "equilibrium of full immersion", Provenance: "quoted"}
	golden = catalogue.Source{Name: "SCAA, Golden Cup Standard, version 23DEC2015", Locator: "strength 1.15 to 1.35 %, yield 18 to 22 %", Provenance: "opened"}
	europe = catalogue.Source{Name: "SCAE brewing chart, by an open encyclopaedia", Locator: "strength 1.20 to 1.45 %", Provenance: "quoted"}
	gum    = catalogue.Source{Name: "JCGM 100:2008", Locator: "5.1.2: propagation of uncertainty", Provenance: "memory"}
)

var bowlMethod = extraction.Method{LiquidGPerG: extraction.SpentLiquidGPerG, RetainedSharePct: 100}

func doseField(example string) catalogue.Field {
	return catalogue.Field{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g", Min: extraction.MinDoseG, Max: extraction.MaxDoseG, Example: example, GoField: "DoseG", Help: "As weighed before grinding, like " + example}
}

func pouredField(example string) catalogue.Field {
	return catalogue.Field{ID: "w", Label: "Water poured", Symbol: "W", Unit: "g", Min: extraction.MinWaterG, Max: extraction.MaxWaterG, Example: example, GoField: "WaterG", Help: "On the coffee, like " + example}
}

func strengthField(example string) catalogue.Field {
	return catalogue.Field{ID: "t", Label: "Strength", Symbol: "T", Unit: "%", Min: extraction.MinStrengthPct, Max: extraction.MaxStrengthPct, Example: example, PlusMinus: 0.05, GoField: "StrengthPct", Help: "Dissolved solids, percent by weight, like " + example + "; the display's last digit is not earned"}
}

// methodFields ask how a brewer shares its liquid.
func methodFields() []catalogue.Field {
	return []catalogue.Field{
		{ID: "liquid", Label: "Liquid that the grounds keep", Symbol: "λ", Unit: "g/g", Max: 6, Example: "2.1", PlusMinus: 0.2, GoField: "Method.LiquidGPerG", Help: "Grams for each gram of coffee: 2.1 for a drained filter, 2.5 for a steeped and drained brew"},
		{ID: "share", Label: "Its strength, as a share of the cup's", Symbol: "q", Unit: "%", Max: 100, Example: "0", GoField: "Method.RetainedSharePct", Help: "0 for a filter that drained, 100 for a steeped brew, between for strong last drops"},
	}
}

func methodOf(in *catalogue.In) extraction.Method {
	return extraction.Method{LiquidGPerG: in.F("liquid"), RetainedSharePct: in.F("share")}
}

// linePoints follows a line of equal ratio inside a window of the map.
func linePoints(m extraction.Method, ratio, fromE, toE, fromT, toT float64) (x, y []float64) {
	const n = 24
	for i := range n + 1 {
		e := fromE + (toE-fromE)*float64(i)/n
		t, err := extraction.LineStrength(extraction.OnLine{Method: m, Ratio: ratio, YieldPct: e})
		if err == nil && t >= fromT && t <= toT {
			x, y = append(x, e), append(y, t)
		}
	}
	return x, y
}

// strengthMap draws a brew on the map of strength and yield: published
// targets, lines of equal ratio for this brewer's balance, the brew with the
// region that holds it, and where a change takes it.
func strengthMap(out *catalogue.Out, m extraction.Method, p extraction.YieldU) figure.Plot {
	e, t := p.YieldPct, p.StrengthPct
	fromE, toE := max(1, min(16, e-4, e-3*p.UPct)), min(100, max(24, e+4, e+3*p.UPct))
	fromT, toT := max(0.01, min(0.7*t, t-3*p.StrengthUPct)), max(1.35*t, t+3*p.StrengthUPct)
	plot := figure.Plot{
		Title: "Strength and yield",
		X:     figure.Axis{Label: "Yield", Unit: "%", Min: fromE, Max: toE},
		Y:     figure.Axis{Label: "Strength", Unit: "%"},
	}
	if t < 3 { // the published targets are of filter coffee
		fromT, toT = min(fromT, 1), max(toT, 1.6)
		for _, w := range extraction.Windows() {
			plot.Bands = append(plot.Bands, figure.Band{Name: w.Name, X: []float64{w.YieldLowPct, w.YieldHighPct},
				Lo: []float64{w.StrengthLowPct, w.StrengthLowPct}, Hi: []float64{w.StrengthHighPct, w.StrengthHighPct}})
		}
	}
	plot.Y.Min, plot.Y.Max = fromT, toT
	ratio, err := extraction.PointRatio(extraction.OnMap{Method: m, StrengthPct: t, YieldPct: e})
	if err == nil {
		x, y := linePoints(m, ratio, fromE, toE, fromT, toT)
		plot.Lines = append(plot.Lines, figure.Line{Name: "1:" + catalogue.Num(ratio, 3), X: x, Y: y})
		step := 2.0
		if ratio < 6 {
			step = 0.5
		}
		near := math.Round(ratio/step) * step
		for i := -2; i <= 2; i++ {
			r := near + float64(i)*step
			if x, y := linePoints(m, r, fromE, toE, fromT, toT); len(x) > 1 && math.Abs(r-ratio) > 0.3*step {
				plot.Lines = append(plot.Lines, figure.Line{Name: "1:" + catalogue.Shortest(r), X: x, Y: y, Style: figure.Guide})
			}
		}
	}
	if d, err := extraction.Directions(extraction.Turn{Method: m, StrengthPct: t, YieldPct: e, PointsPct: 2.5, ChangePct: 12}); err == nil {
		for _, a := range d {
			plot.Arrows = append(plot.Arrows, figure.Arrow{Name: a.Change, FromX: e, FromY: t, ToX: a.YieldPct, ToY: a.StrengthPct})
		}
	}
	point := extraction.MapPoint{YieldPct: e, YieldUPct: p.UPct, StrengthPct: t, StrengthUPct: p.StrengthUPct, CovariancePct: p.CovariancePct, CoveragePct: 95}
	plot.Points = []figure.Points{{Name: "this brew", X: []float64{e}, Y: []float64{t}}}
	if el, err := extraction.MapEllipse(point); err == nil && p.UPct > 0 {
		plot.Points[0].Name = ""
		plot.Ellipses = []figure.Ellipse{{Name: "this brew, 95 %", X: e, Y: t, HalfX: el.CoverageRatio * p.UPct, HalfY: el.CoverageRatio * p.StrengthUPct, Rho: p.CorrelationEtoT}}
	}
	plot.Desc = out.Say("Strength against yield with published targets and lines of equal ratio; this brew stands at {} % and {} %, inside the outlined region 19 times of 20.", catalogue.Num(e, 3), catalogue.Num(t, 3))
	return plot
}

const mapNote = "The lines of equal ratio bend with what the grounds keep: this map is for this brewer. Finer and coarser follow the line, water and dose cross it at equal yield."
