package rest

import (
	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func gasOrientation() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "gas-orientation",
		Place:    catalogue.RestShelf,
		Order:    40,
		Name:     "Gas left, without weighings",
		Question: "How much of its gas has whole coffee lost by now, as far as anybody says in print?",
		Keywords: "degassing rest CO2 carbon dioxide bloom fresh age days",
		Fields: []catalogue.Field{
			ageField("t", "Age since roasting", "5", "Like 5 d or 36 h"),
			levelField("20"),
		},
		Outputs: []catalogue.Output{
			{ID: "low", Label: "Gone, by the slower claim", Symbol: "F_s", Unit: "%"},
			{ID: "high", Label: "Gone, by the faster claim", Symbol: "F_f", Unit: "%"},
			{ID: "soon", Label: "Comes down to the level, by the faster claim", Unit: "d"},
			{ID: "late", Label: "Comes down to the level, by the slower claim", Unit: "d"},
		},
		Compute: computeOrientation,
		Sources: []catalogue.Source{
			{Name: "Home roasting FAQ and two storage pages", Locator: "40 % in a day; no data shown", Provenance: "opened"},
			{Name: "Smrke, talk on freshness", Locator: "70 % in a day", Provenance: "quoted"},
			{Name: "Lecture on coffee at a science academy, 2008", Locator: "about 30 days to empty a valved bag", Provenance: "quoted"},
		},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "share gone after a day, slower claim"}, {Package: "degas", Quantity: "share gone after a day, faster claim"}, {Package: "degas", Quantity: "days until a valved bag is nearly empty"}},
	}
}

func computeOrientation(in *catalogue.In, out *catalogue.Out) error {
	b, err := degas.OrientationBand(in.F("t"))
	if err != nil {
		return err
	}
	s, err := degas.OrientationDays(in.F("level"))
	if err != nil {
		return err
	}
	out.Set("low", b.LowGonePct)
	out.Set("high", b.HighGonePct)
	out.Set("soon", s.LowDays)
	out.Set("late", s.HighDays)
	if !out.Full() {
		return nil
	}
	slow, fast := degas.OrientationCurves()
	out.Work("F_s = 100*(1 - exp(-(t/τ_s)^β_s))", "F_s", catalogue.Num(b.LowGonePct, 3)+" %", "t", in.Text("t"), "τ_s", days(slow.TauDays)+" d", "β_s", catalogue.Num(slow.Exponent, 3))
	out.Work("F_f = 100*(1 - exp(-(t/τ_f)^β_f))", "F_f", catalogue.Num(b.HighGonePct, 3)+" %", "t", in.Text("t"), "τ_f", days(fast.TauDays)+" d", "β_f", catalogue.Num(fast.Exponent, 3))
	out.Note("This is an orientation, not a measurement: the two claims disagree, neither shows data, and neither roast, grind nor temperature is in them. Two weeks of weighing one sample tell more.")
	if b.Notes&degas.BeforeFirstClaim != 0 {
		out.Note("Nothing is published about the hours before the first day: the band there is only drawn through.")
	}
	if b.Notes&degas.Extrapolated != 0 {
		out.Note("Nothing is published beyond about a month: the band there is only drawn on.")
	}
	x := ages(max(35, 1.2*min(in.F("t"), 300)), 80)
	out.Figure(figure.Plot{
		Title:  "Gas left in whole coffee, between published claims",
		Desc:   out.Say("Share of the gas left against age. The band runs from the faster claim, 70 % gone in a day, to the slower, 40 % gone in a day; at {} between {} and {} % are left.", in.Text("t"), catalogue.Num(100-b.HighGonePct, 2), catalogue.Num(100-b.LowGonePct, 2)),
		X:      figure.Axis{Label: "Age", Unit: "days", Max: x[len(x)-1]},
		Y:      figure.Axis{Label: "Gas left", Unit: "%", Max: 100},
		Bands:  []figure.Band{orientationBand(x)},
		Marks:  []figure.Mark{{Name: "level", At: in.F("level")}, {Name: "now", At: in.F("t"), Vertical: true}},
		Points: []figure.Points{{Name: "claims", X: []float64{1, 1}, Y: []float64{60, 30}, Shape: figure.Ring}},
	})
	return nil
}
