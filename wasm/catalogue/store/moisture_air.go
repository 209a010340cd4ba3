package store

import (
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

// airTemperature is a field for air, which may be colder than beans.
func airTemperature(id, label, symbol, example, goField string) catalogue.Field {
	return number(id, label, symbol, "°C", moisture.AirMinC, moisture.AirMaxC, example, 0.5, goField, "As the thermometer shows it, like 18 or −5")
}

func altitude() catalogue.Field {
	return number("z", "Height of the place", "z", "m", moisture.MinAltitudeM, moisture.MaxAltitudeM, "100", 0, "AltitudeM", "Above sea level, like 100; it sets the air pressure")
}

func storeAir() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "store-air",
		Place:    catalogue.GreenStore,
		Order:    26,
		Name:     "The air of a room",
		Question: "How much water is in this air, and when will it let it go?",
		Keywords: "psychrometric dew point frost wet bulb absolute humidity ratio enthalpy density",
		Fields:   []catalogue.Field{airTemperature("t", "Air temperature", "t", "18.0", "TempC"), humidity("rh", "Relative humidity", "φ", "58", "RHPct"), altitude()},
		Outputs: []catalogue.Output{
			{ID: "dew", Label: "Dew point", Symbol: "t_d", Unit: "°C"},
			{ID: "frost", Label: "Frost point", Symbol: "t_f", Unit: "°C"},
			{ID: "wet", Label: "Wet bulb", Symbol: "t_w", Unit: "°C"},
			{ID: "abs", Label: "Water in a cubic metre", Symbol: "a", Unit: "g/m³"},
			{ID: "w", Label: "Water per dry air", Symbol: "W", Unit: "g/kg"},
			{ID: "h", Label: "Enthalpy, per dry air", Symbol: "h", Unit: "kJ/kg"},
			{ID: "rho", Label: "Density", Symbol: "ρ", Unit: "kg/m³"},
		},
		Compute: computeAir,
		Sources: []catalogue.Source{ashrae, {Name: "IAPWS-95 and humid air G08", Locator: "compared point by point in the tests", Provenance: "opened"}},
		Checks:  []catalogue.Check{{Package: "moisture", Quantity: "dew point"}, {Package: "moisture", Quantity: "saturation pressure over water"}, {Package: "moisture", Quantity: "saturation humidity ratio"}},
	}
}

func computeAir(in *catalogue.In, out *catalogue.Out) error {
	p, err := moisture.PressureAtAltitude(in.F("z"))
	if err != nil {
		return err
	}
	air := moisture.Air{TempC: in.F("t"), RHPct: in.F("rh")}
	s, err := moisture.AirProperties(moisture.MoistAir{TempC: air.TempC, RHPct: air.RHPct, PressureKPa: p})
	if err != nil {
		return err
	}
	out.Set("dew", s.DewC)
	if f, err := moisture.FrostPoint(air); err == nil {
		out.Set("frost", f.FrostC)
	}
	out.Set("wet", s.WetBulbC)
	out.Set("abs", s.WaterGPerM3)
	out.Set("w", s.RatioGPerKg)
	out.Set("h", s.EnthalpyKJPerKg)
	out.Set("rho", s.DensityKgPerM3)
	if !out.Full() {
		return nil
	}
	e, err := moisture.VapourPressure(air)
	if err != nil {
		return err
	}
	out.Work("p = 101.325*(1 - 0.0000225577*z)^5.2559", "p", catalogue.Num(p, 5)+" kPa", "z", in.Text("z"))
	out.Work("e = φ*e_w/100", "e", catalogue.Num(e, 4)+" kPa", "φ", in.Text("rh"), "e_w", catalogue.Num(e*100/air.RHPct, 4)+" kPa")
	out.Work("W = 621.945*f*e/(p - f*e)", "W", catalogue.Num(s.RatioGPerKg, 4)+" g/kg", "e", catalogue.Num(e, 4)+" kPa", "p", catalogue.Num(p, 5)+" kPa",
		"f", catalogue.Num(enhancementOf(s.RatioGPerKg, e, p), 4))
	say(out, s.Notes)
	psychrometric(out, in.Text("t"), in.Text("rh"), p, air, s)
	return nil
}

// enhancementOf is the f that leads from e to W, for the working.
func enhancementOf(ratio, e, p float64) float64 { return ratio * p / (621.945 + ratio) / e }

// psychrometric draws where the air stands among the lines of humidity.
func psychrometric(out *catalogue.Out, t, rh string, p float64, air moisture.Air, s moisture.AirState) {
	if !out.Pictured() {
		return
	}
	lo, hi := min(air.TempC-12, 5), max(air.TempC+12, 30)
	lo, hi = max(lo, moisture.AirMinC), min(hi, moisture.AirMaxC)
	g := grid(lo, hi, 40)
	var lines []figure.Line
	for _, r := range [...]struct {
		rh   float64
		name string
	}{{20, "20 %"}, {40, "40 %"}, {60, "60 %"}, {80, "80 %"}, {100, "100 %"}} {
		style := figure.Dashed
		if r.rh == 100 {
			style = figure.Solid
		}
		lines = append(lines, figure.Line{Name: r.name, X: g, Style: style, Y: each(g, func(t float64) float64 {
			a, err := moisture.AirProperties(moisture.MoistAir{TempC: t, RHPct: r.rh, PressureKPa: p})
			if err != nil {
				return nan
			}
			return a.RatioGPerKg
		})})
	}
	plot := figure.Plot{
		Title:  "The air among the lines of relative humidity",
		Desc:   out.Say("Water per dry air against temperature: this air at {} and {} holds {} g/kg and is saturated at its dew point, {} °C.", t, rh, catalogue.Num(s.RatioGPerKg, 3), catalogue.Num(s.DewC, 3)),
		X:      figure.Axis{Label: "Temperature", Unit: "°C"},
		Y:      figure.Axis{Label: "Water per dry air", Unit: "g/kg"},
		Lines:  lines,
		Points: []figure.Points{{Name: "this air", X: []float64{air.TempC}, Y: []float64{s.RatioGPerKg}}},
	}
	if s.DewC > lo && s.DewC < air.TempC-0.5 {
		plot.Arrows = []figure.Arrow{{Name: "to its dew point", FromX: air.TempC, FromY: s.RatioGPerKg, ToX: s.DewC, ToY: s.RatioGPerKg}}
	}
	out.Figure(plot)
}

func wetBulbHumidity() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "wet-bulb",
		Place:    catalogue.GreenStore,
		Order:    42,
		Name:     "Humidity by two thermometers",
		Question: "What relative humidity do a dry and a wet thermometer show?",
		Keywords: "psychrometer sling whirling check hygrometer",
		Fields: []catalogue.Field{
			number("t", "Dry thermometer", "t", "°C", moisture.AirMinC, moisture.AirMaxC, "18.0", 0.1, "TempC", "In a good draught, like 18.0"),
			number("w", "Wet thermometer", "t_w", "°C", moisture.AirMinC, moisture.AirMaxC, "13.2", 0.1, "WetBulbC", "Under a clean wet wick in the same draught, like 13.2"),
			altitude(),
		},
		Outputs: []catalogue.Output{{ID: "rh", Label: "Relative humidity", Symbol: "φ", Unit: "%"}},
		Limits:  []catalogue.Limit{{Output: "rh", Lo: moisture.CargoMinRHPct, Hi: moisture.CargoMaxRHPct, Source: catalogue.Source{Name: "Cargo Handbook, Coffee Beans, 2012", Locator: "storage humidity", Provenance: "opened"}}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			p, err := moisture.PressureAtAltitude(in.F("z"))
			if err != nil {
				return err
			}
			q := moisture.Psychrometer{TempC: in.F("t"), WetBulbC: in.F("w"), PressureKPa: p}
			rh, err := moisture.HumidityFromWetBulb(q)
			if err != nil {
				return err
			}
			out.Set("rh", rh)
			if !out.Full() {
				return nil
			}
			ratio := "0"
			if a, err := moisture.AirProperties(moisture.MoistAir{TempC: q.TempC, RHPct: rh, PressureKPa: p}); err == nil {
				ratio = catalogue.Num(a.RatioGPerKg/1000, 4)
			}
			out.Work("W = ((2501 - 2.326*t_w)*W_s - 1.006*(t - t_w))/(2501 + 1.86*t - 4.186*t_w)", "t", in.Text("t"), "t_w", in.Text("w"), "W", ratio)
			if q.WetBulbC < 0 {
				out.Note("Below 0 °C the wick is taken for ice: 2830 − 0.24 t in place of 2501 − 2.326 t, and 2.1 in place of 4.186.")
			}
			out.Note("A wick that is dirty, dry or out of the draught reads high: half a degree is 4 to 5 % of humidity at room temperature.")
			g := grid(max(q.WetBulbC-4, moisture.AirMinC), q.TempC, 40)
			out.Figure(figure.Plot{
				Title: "Humidity against the wet thermometer",
				Desc:  out.Say("With the dry thermometer at {}, the wet one at {} shows {}.", in.Text("t"), in.Text("w"), pct(rh, 3)),
				X:     figure.Axis{Label: "Wet thermometer", Unit: "°C"},
				Y:     figure.Axis{Label: "Relative humidity", Unit: "%"},
				Lines: []figure.Line{{Name: "this dry thermometer", X: g, Y: each(g, func(w float64) float64 {
					q.WetBulbC = w
					v, err := moisture.HumidityFromWetBulb(q)
					if err != nil {
						return nan
					}
					return v
				})}},
				Points: []figure.Points{{Name: "now", X: []float64{in.F("w")}, Y: []float64{rh}}},
			})
			return nil
		},
		Sources: []catalogue.Source{ashrae},
		Checks:  []catalogue.Check{{Package: "moisture", Quantity: "humidity from wet bulb"}, {Package: "moisture", Quantity: "wet bulb"}},
	}
}
