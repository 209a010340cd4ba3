package rest

import (
	"math"

	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func coffeeAir() *catalogue.Calculator {
	niosh := catalogue.Source{Name: "NIOSH, Documentation for IDLH concentrations, carbon dioxide, 1994", Locator: "5000 ppm over 8 h; OSHA and ACGIH the same", Provenance: "opened"}
	return &catalogue.Calculator{
		ID:       "coffee-air",
		Place:    catalogue.RestShelf,
		Order:    30,
		Name:     "Carbon dioxide around stored coffee",
		Question: "How much carbon dioxide gathers in a room or a bin with fresh coffee?",
		Keywords: "safety ventilation silo bin hopper confined space exposure limit ppm carbon monoxide",
		Fields: []catalogue.Field{
			{ID: "kg", Label: "Coffee", Symbol: "m", Unit: "kg", Min: 0.01, Max: 1e6, GoField: "CoffeeKg", Example: "200", Help: "All that comes in at once, like 200"},
			gasField("10"), tauField(), betaField(),
			{ID: "from", Label: "Its age when it comes in", Symbol: "t_1", Unit: "d", Min: 0, Max: degas.MaxDays, GoField: "FromDays", Example: "0", Exact: true, Help: "Since roasting; 0 straight from the roaster"},
			{ID: "t", Label: "Time since then", Symbol: "t", Unit: "h", Min: 0, Max: 8760, GoField: "Hours", Example: "12", Help: "Like 12 h or 2 d"},
			{ID: "v", Label: "Air around the coffee", Symbol: "V", Unit: "m³", Min: 0.001, Max: 1e6, GoField: "VolumeM3", Example: "80", PlusMinus: 5, Help: "Of the room less what stands in it; in a full bin about half of its volume"},
			{ID: "q", Label: "Open air let in", Symbol: "Q", Unit: "m³/h", Min: 0, Max: 1e7, GoField: "FreshM3PerHour", Example: "15", PlusMinus: 3, None: true, Help: "As the ventilation gives it; 0 for a closed room or bin"},
			tempField("temp", "Temperature", "T", "TempC", "20"), outsideField("PressureKPa"),
		},
		Outputs: []catalogue.Output{
			{ID: "ppm", Label: "Carbon dioxide then", Symbol: "C", Unit: "ppm"},
			{ID: "peak", Label: "Highest within that time", Unit: "ppm"},
			{ID: "when", Label: "It is highest after", Unit: "h"},
			{ID: "g", Label: "Given off on average until then", Symbol: "G", Unit: "L/h"},
			{ID: "air", Label: "Open air that would keep that average at the 8 h limit", Symbol: "Q_8", Unit: "m³/h"},
		},
		Limits:  []catalogue.Limit{{Output: "peak", Lo: nan, Hi: degas.CO2LimitPPM, Source: niosh, Caution: "The average over 8 hours counts at work; a room that is stirred on paper has pits and corners with more. Measure."}},
		Compute: computeAir,
		Cautions: []string{
			"Bins, silos, tanks and totes of fresh or ground coffee kill. Never enter or lean in on the strength of a number: meters for carbon dioxide and carbon monoxide, trained people, local codes. No rescue without breathing air.",
			"An oxygen alarm does not protect from carbon dioxide: at its 19.5 % there is 6.7 % carbon dioxide, and 4 % is immediately dangerous.",
			"Carbon monoxide comes with it and is not computed: nobody has published how much coffee gives off. In a store of over 22 t without ventilation 35 to 50 ppm were measured, above 150 ppm at each open tote, over 1000 ppm near a grinder; the limits are 20 to 50 ppm over 8 hours.",
		},
		Sources: []catalogue.Source{niosh, idealCO, noCurve,
			{Name: "Maitland, fire service magazine, on an incident of 2019", Locator: "carbon monoxide in a coffee store", Provenance: "opened"},
			{Name: "Directive 2004/37/EC, Annex III, as amended by (EU) 2022/431", Locator: "carbon monoxide 20 ppm", Provenance: "opened"}},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "CO2 limit, 8 h"}, {Package: "degas", Quantity: "CO2 rise in a room"}, {Package: "degas", Quantity: "CO2 rise in a closed room"}, {Package: "degas", Quantity: "CO2 that lowers oxygen to the alarm"}, {Package: "degas", Quantity: "CO through a store without ventilation"}},
	}
}

func computeAir(in *catalogue.In, out *catalogue.Out) error {
	r := degas.CoffeeRoom{CoffeeKg: in.F("kg"), Coffee: coffeeOf(in), FromDays: in.F("from"), Hours: in.F("t"), VolumeM3: in.F("v"),
		FreshM3PerHour: in.F("q"), OutdoorPPM: degas.OutdoorCO2PPM, Conditions: degas.Conditions{TempC: in.F("temp"), PressureKPa: in.F("p")}}
	a, err := degas.CoffeeRoomAir(r)
	if err != nil {
		return err
	}
	peak, err := degas.CoffeeRoomPeak(r)
	if err != nil {
		return err
	}
	out.Set("ppm", a.PPM)
	out.Set("peak", peak.PPM)
	out.Set("when", peak.Hours)
	if to := r.FromDays + r.Hours/24; to >= r.FromDays+degas.MinIntervalDays {
		g, err := degas.Emission(r.CoffeeKg, r.Coffee, r.FromDays, to, r.Conditions)
		if err != nil {
			return err
		}
		out.Set("g", g)
		if air, err := degas.FreshAirFor(g, degas.CO2LimitPPM, degas.OutdoorCO2PPM); err == nil {
			out.Set("air", air)
			if out.Full() {
				l1, _ := leftPct(r.Coffee.Curve, r.FromDays)
				l2, _ := leftPct(r.Coffee.Curve, to)
				v, err := degas.CO2MLPerG(r.Conditions)
				if err != nil {
					return err
				}
				out.Work("G = m*M_0*(L_1 - L_2)/100*v/(1000*t)", "G", catalogue.Num(g, 3)+" L/h", "m", in.Text("kg"), "M_0", in.Text("gas"), "L_1", catalogue.Num(l1, 3)+" %", "L_2", catalogue.Num(l2, 3)+" %", "v", catalogue.Num(v, 4)+" L/kg", "t", in.Text("t"))
				out.Work("Q_8 = G/1000*(1000000 - 5000)/(5000 - C_0)", "Q_8", catalogue.Num(air, 3)+" m³/h", "G", catalogue.Num(g, 3)+" L/h", "C_0", "420 ppm")
			}
		}
	}
	if !out.Full() {
		return nil
	}
	out.Work("C = C_0 + ΔC", "C", catalogue.Num(a.PPM, 4)+" ppm", "C_0", "420 ppm", "ΔC", catalogue.Num(a.RisePPM, 4)+" ppm")
	if peak.Notes&degas.AirDisplaced != 0 {
		out.Note("This is immediately dangerous to life: above {} ppm. Keep people out.", catalogue.Num(degas.CO2DangerPPM, 5))
	} else if peak.Notes&degas.OverLimit != 0 {
		out.Note("This is above the limit of {} ppm over 8 hours.", catalogue.Num(degas.CO2LimitPPM, 4))
	}
	out.Note("The air is taken as stirred, and all the coffee as coming in at once. Carbon dioxide is heavier than air and gathers in pits, bins and corners.")
	course, err := degas.CoffeeRoomCourse(r)
	if err != nil {
		return err
	}
	x, y := make([]float64, len(course)), make([]float64, len(course))
	for i, at := range course {
		x[i], y[i] = at.Hours, at.PPM
	}
	out.Figure(figure.Plot{
		Title:  "Carbon dioxide around the coffee",
		Desc:   out.Say("Carbon dioxide in the air against hours since the coffee came in; at {} it is {} ppm, at most {} ppm.", in.Text("t"), catalogue.Num(a.PPM, 3), catalogue.Num(peak.PPM, 3)),
		X:      figure.Axis{Label: "Since the coffee came in", Unit: "h", Max: r.Hours},
		Y:      figure.Axis{Label: "Carbon dioxide", Unit: "ppm", Log: true, Min: 300, Max: math.Max(6e4, 1.5*peak.PPM)},
		Lines:  []figure.Line{{Name: "in the air", X: x, Y: y}},
		Marks:  []figure.Mark{{Name: "8 h limit", At: degas.CO2LimitPPM}, {Name: "danger to life", At: degas.CO2DangerPPM}},
		Points: []figure.Points{{Name: "then", X: []float64{r.Hours}, Y: []float64{a.PPM}}},
	})
	return nil
}
