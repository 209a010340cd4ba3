package store

import (
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func roomMoisture() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "room-moisture",
		Place:    catalogue.GreenStore,
		Order:    10,
		Name:     "Green in this room",
		Question: "What moisture does green coffee come to when it lies in this room?",
		Keywords: "equilibrium storage humidity store climate water content",
		Fields: []catalogue.Field{
			{ID: "t", Label: "Air temperature", Symbol: "t", Unit: "°C", Min: moisture.BeanMinC, Max: moisture.BeanMaxC, GoField: "TempC",
				Example: "18.0", PlusMinus: 0.5, Help: "As the thermometer in the store shows it, like 18 or 18.5"},
			{ID: "rh", Label: "Relative humidity", Symbol: "φ", Unit: "%", Min: moisture.MinRHPct, Max: 100, GoField: "RHPct",
				Example: "57", PlusMinus: 2, Help: "In percent, as the room sensor shows it, like 57 or 57.5"},
		},
		Outputs: []catalogue.Output{
			{ID: "m", Label: "Moisture it comes to, wet basis", Symbol: "M", Unit: "%"},
			{ID: "slope", Label: "Moisture for one percent of humidity more", Unit: "%"},
		},
		Limits: []catalogue.Limit{{Output: "m", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: greenStandard,
			Caution: "Inside the moisture limit is not safe from mould by itself: water activity decides, and a lot's average hides wetter beans."}},
		Compute: computeRoomMoisture,
		Cautions: []string{
			"Mould grows by water activity, not by moisture. Keep activity under the limit as well, look for wet spots, and follow food law on mould and its toxins.",
		},
		Sources: []catalogue.Source{
			{Name: "Trejos, Roa & Oliveros, Cenicafé 40(1), 1989", Locator: "eq. 2, table 3", Provenance: "quoted"},
		},
		Checks: []catalogue.Check{{Package: "moisture", Quantity: "equilibrium moisture of parchment, Roa isotherm"}},
	}
}

var greenStandard = catalogue.Source{Name: "SCA Green Coffee Defect Classification, 2018", Locator: "green coffee moisture standard", Provenance: "opened"}

// roaTexts are the constants of the curve as the working shows them.
var roaTexts = func() (texts []string) {
	for _, v := range moisture.ParchmentArabica().P {
		texts = append(texts, catalogue.Shortest(v))
	}
	return texts
}()

func computeRoomMoisture(in *catalogue.In, out *catalogue.Out) error {
	curve := moisture.ParchmentArabica()
	air := moisture.Air{TempC: in.F("t"), RHPct: in.F("rh")}
	e, err := moisture.EquilibriumMoisture(curve, air)
	if err != nil {
		return err
	}
	out.SetU("m", e.MoisturePct, e.SEPct, "the curve itself")
	out.Set("slope", e.PctPerRHPct)
	if !out.Full() {
		return nil
	}
	p := roaTexts
	out.Work("X = (p_1*f + p_2*f^2 + p_3*f^3)*exp((q_1*f + q_2*f^2 + q_3*f^3)*t)",
		"X", catalogue.Num(e.DryMoisturePct, 4)+" % dry basis", "f", catalogue.Num(air.RHPct/100, 4), "t", in.Text("t"),
		"p_1", p[0], "p_2", p[1], "p_3", p[2], "q_1", p[3], "q_2", p[4], "q_3", p[5])
	out.Work("M = 100*X/(100 + X)", "M", catalogue.Num(e.MoisturePct, 4)+" %", "X", catalogue.Num(e.DryMoisturePct, 4))
	out.Note("The curve is that of parchment arabica while it dries. Hulled beans, other species and lots that take up water may differ by more than its stated error.")
	if e.Notes&moisture.Extrapolated != 0 {
		out.Note("This room lies outside the temperatures or humidities of the curve's data: the number is extrapolated.")
	}
	if !out.Pictured() {
		return nil
	}
	const n = 60
	x, mid, lo, hi := make([]float64, 0, n), make([]float64, 0, n), make([]float64, 0, n), make([]float64, 0, n)
	for i := range n + 1 {
		rh := 20 + 70*float64(i)/n
		c, err := moisture.EquilibriumMoisture(curve, moisture.Air{TempC: air.TempC, RHPct: rh})
		if err != nil {
			continue
		}
		x, mid = append(x, rh), append(mid, c.MoisturePct)
		lo, hi = append(lo, c.MoisturePct-c.SEPct), append(hi, c.MoisturePct+c.SEPct)
	}
	out.Figure(figure.Plot{
		Title:  "Moisture that green comes to, by humidity",
		Desc:   out.Say("Equilibrium moisture at {} against relative humidity with the curve's standard error as a band; this room comes to {} %.", in.Text("t"), catalogue.Num(e.MoisturePct, 3)),
		X:      figure.Axis{Label: "Relative humidity", Unit: "%"},
		Y:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
		Bands:  []figure.Band{{Name: "curve ± its error", X: x, Lo: lo, Hi: hi}},
		Lines:  []figure.Line{{Name: "parchment, drying", X: x, Y: mid}},
		Points: []figure.Points{{Name: "this room", X: []float64{air.RHPct}, Y: []float64{e.MoisturePct}, Err: []float64{e.SEPct}}},
		Marks:  []figure.Mark{{Name: "10 %", At: moisture.SpecialtyMinMoisturePct}, {Name: "12 %", At: moisture.SpecialtyMaxMoisturePct}},
	})
	return nil
}
