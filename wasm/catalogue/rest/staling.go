package rest

import (
	"math"

	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func groundLife() *catalogue.Calculator {
	store := func(prefix, group, o2, aw, temp string) []catalogue.Field {
		goPrefix := ""
		if prefix == "r" {
			goPrefix = "Reference."
		}
		return []catalogue.Field{
			{ID: prefix + "o2", Label: "Oxygen around the coffee, partial pressure", Symbol: "p", Group: group, Unit: "kPa", Min: 0.05, Max: 30, GoField: goPrefix + "OxygenKPa", Example: o2, PlusMinus: 0.1, Help: "1 % of oxygen at one atmosphere is 1.01 kPa; air is 21"},
			{ID: prefix + "aw", Label: "Water activity of the coffee", Symbol: "a_w", Group: group, Min: 0.05, Max: 0.6, GoField: goPrefix + "WaterActivity", Example: aw, PlusMinus: 0.02, Help: "0 to 1, like 0.2"},
			{ID: prefix + "t", Label: "Temperature", Symbol: "T", Group: group, Unit: "°C", Min: -25, Max: 45, GoField: goPrefix + "TempC", Example: temp, PlusMinus: 1, Help: "As the store's thermometer shows it, like 20"},
		}
	}
	c := &catalogue.Calculator{
		ID:       "ground-life",
		Place:    catalogue.RestShelf,
		Order:    70,
		Name:     "How long ground coffee keeps",
		Question: "How much longer does ground coffee keep in this store than in another?",
		Keywords: "aw staling shelf life best before oxygen water activity freezer",
		Outputs: []catalogue.Output{
			{ID: "factor", Label: "Keeps as long as there, times", Symbol: "K"},
			{ID: "o2", Label: "Of that by oxygen, times", Symbol: "K_p"},
			{ID: "aw", Label: "by water, times", Symbol: "K_a"},
			{ID: "temp", Label: "by temperature, times", Symbol: "K_T"},
			{ID: "days", Label: "Keeps, by your own finding there", Unit: "d"},
			{ID: "last", Label: "Until, at the middle of the ±"},
		},
		Compute: computeLife,
		Cautions: []string{
			"For roasted and ground coffee only. It does not carry to whole beans, and it is no promise of days without a finding of your own.",
			"A best-before date is a statement to the customer: food law says who makes it and how.",
		},
		Sources: []catalogue.Source{
			{Name: "Cardelli and Labuza, LWT 34, 273, 2001", Locator: "abstract", Provenance: "opened"},
			{Name: "Cardelli and Labuza, Predicting algorithms for oxygen uptake and shelf life of dry foods, about 2000", Locator: "hyperbola of the oxygen term", Provenance: "opened"},
		},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "staling rate ratio, oxygen"}, {Package: "degas", Quantity: "staling rate increase, water activity"}, {Package: "degas", Quantity: "staling, activation energy"}, {Package: "degas", Quantity: "companion study, temperature factor"}},
	}
	c.Fields = append(store("", "This store", "2.0", "0.20", "15"), store("r", "The store to compare with", "21", "0.20", "22")...)
	c.Fields = append(c.Fields,
		catalogue.Field{ID: "anchor", Label: "Your own finding: it keeps there for", Symbol: "t_0", Group: "A date", Unit: "d", Min: 1, Max: degas.MaxDays, GoField: "Days", Example: "40", PlusMinus: 5, Optional: true, Help: "Until your own end point, from tasting, like 40 d. Empty for no date"},
		catalogue.Field{ID: "packed", Label: "Packed at", Group: "A date", Kind: catalogue.Moment, Example: "2026-11-23T15:00", Optional: true, Help: "Local date and time"})
	return c
}

func computeLife(in *catalogue.In, out *catalogue.Out) error {
	here := degas.Store{OxygenKPa: in.F("o2"), WaterActivity: in.F("aw"), TempC: in.F("t")}
	there := degas.Store{OxygenKPa: in.F("ro2"), WaterActivity: in.F("raw"), TempC: in.F("rt")}
	l, err := degas.RelativeLife(here, there)
	if err != nil {
		return err
	}
	out.Set("factor", l.Factor)
	out.Set("o2", l.OxygenFactor)
	out.Set("aw", l.ActivityFactor)
	out.Set("temp", l.TemperatureFactor)
	if in.Has("anchor") {
		keeps, _, err := degas.BestBeforeDays(degas.Anchor{Days: in.F("anchor"), Store: there}, here)
		if err != nil {
			return err
		}
		out.Set("days", keeps)
		if in.Has("packed") && keeps >= 1 {
			day, err := degas.BestBefore(in.Time("packed"), keeps)
			if err != nil {
				return err
			}
			out.SetWords("last", catalogue.Stamp(day)[:10])
		}
	}
	if !out.Full() {
		return nil
	}
	k := degas.StalingHalfRateKPa()
	out.Work("K_p = p_0/(k + p_0)*(k + p)/p", "K_p", catalogue.Num(l.OxygenFactor, 3), "p_0", in.Text("ro2"), "p", in.Text("o2"), "k", catalogue.Num(k, 3)+" kPa")
	out.Work("K_a = 1.6^((a_0 - a_w)/0.1)", "K_a", catalogue.Num(l.ActivityFactor, 3), "a_0", in.Text("raw"), "a_w", in.Text("aw"))
	out.Work("K_T = exp(E/R*(1/T - 1/T_0))", "K_T", catalogue.Num(l.TemperatureFactor, 3), "E", "13 kJ/mol", "R", "0.008314 kJ/(mol·K)", "T", catalogue.Num(here.TempC+degas.ZeroC, 5)+" K", "T_0", catalogue.Num(there.TempC+degas.ZeroC, 5)+" K")
	out.Work("K = K_p*K_a*K_T", "K", catalogue.Num(l.Factor, 3), "K_p", catalogue.Num(l.OxygenFactor, 3), "K_a", catalogue.Num(l.ActivityFactor, 3), "K_T", catalogue.Num(l.TemperatureFactor, 3))
	if in.Has("anchor") && in.Has("packed") {
		out.Note("By that date about half of such coffee is past your own end point: for a date on a bag take the lower end of the days.")
	}
	out.Note("The oxygen is taken as constant. In a closed bag it is used up, and the coffee keeps somewhat longer.")
	if in.F("aw") > degas.StalingAwRise {
		out.Note("Above a water activity of {} staling is said to rise sharply, which is not in the kinetics.", catalogue.Num(degas.StalingAwRise, 2))
	}
	noteOn(out, l.Notes)
	x := make([]float64, 61)
	for i := range x {
		x[i] = 0.3 * math.Pow(70, float64(i)/60)
	}
	out.Figure(figure.Plot{
		Title: "How much longer ground coffee keeps, by oxygen",
		Desc:  out.Say("Shelf life against oxygen pressure, over that in the store to compare with; this store at {} keeps {} times as long.", in.Text("o2"), catalogue.Num(l.Factor, 3)),
		X:     figure.Axis{Label: "Oxygen", Unit: "kPa", Log: true},
		Y:     figure.Axis{Label: "Keeps, times", Max: nan},
		Lines: []figure.Line{{Name: "at this temperature and water", X: x, Y: over(x, func(p float64) (float64, error) {
			s := here
			s.OxygenKPa = p
			l, err := degas.RelativeLife(s, there)
			return l.Factor, err
		})}},
		Points: []figure.Points{{Name: "this store", X: []float64{here.OxygenKPa}, Y: []float64{l.Factor}}},
		Marks:  []figure.Mark{{Name: "lowest studied", At: degas.StalingOxygenLowKPa, Vertical: true}},
	})
	return nil
}
