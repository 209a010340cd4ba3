package rest

import (
	"math"
	"strings"
	"time"

	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var uses = []struct {
	catalogue.Option
	use degas.Use
}{
	{catalogue.Option{ID: "filter", Label: "Filter"}, degas.Filter},
	{catalogue.Option{ID: "espresso", Label: "Espresso"}, degas.Espresso},
	{catalogue.Option{ID: "cupping", Label: "Cupping"}, degas.Cupping},
	{catalogue.Option{ID: "pack", Label: "Packing without a valve"}, degas.PackNoValve},
}

func restWindow() *catalogue.Calculator {
	choices := make([]catalogue.Option, len(uses))
	for i, u := range uses {
		choices[i] = u.Option
	}
	own := func(f catalogue.Field) catalogue.Field {
		f.Optional, f.Group, f.Example = true, "A curve of your own; without it the band between published claims is used", ""
		return f
	}
	return &catalogue.Calculator{
		ID:       "rest-window",
		Place:    catalogue.RestShelf,
		Order:    10,
		Name:     "Rest window",
		Question: "From when to when is this roast ready, by the clock?",
		Keywords: "resting dates calendar espresso filter freshness best before daylight saving",
		Fields: []catalogue.Field{
			{ID: "roasted", Label: "Roasted at", Kind: catalogue.Moment, Example: "2026-10-21T09:30", Help: "Local date and time"},
			{ID: "use", Label: "For", Kind: catalogue.Choice, Example: "filter", Choices: choices, Help: "Only to show what is said about it; your own level and limit decide"},
			levelField("20"),
			{ID: "fresh", Label: "Past its best at the age of", Symbol: "t_f", Unit: "d", Min: 0.1, Max: degas.MaxDays, GoField: "FreshDays", Example: "35", Exact: true,
				Help: "Your own limit of freshness, from tasting, like 35 d or 5 weeks"},
			own(tauField()), own(betaField()),
		},
		Outputs: []catalogue.Output{
			{ID: "from", Label: "Ready from"},
			{ID: "to", Label: "Past its best after"},
			{ID: "days", Label: "Rest until ready, at the latest", Symbol: "t_r", Unit: "d"},
			{ID: "early", Label: "Rest until ready, at the earliest", Unit: "d"},
			{ID: "open", Label: "The window stays open", Unit: "d"},
		},
		Compute: computeWindow,
		Cautions: []string{
			"A bag closed without a valve goes on filling with gas and can burst, however the window looks: follow its gas with your own bag before you close one.",
			"Rest is preference, not physics, and the claims below contradict one another. Set the level and the limit by your own tasting.",
		},
		Sources: []catalogue.Source{
			{Name: "Fine Robusta cupping protocols page (CQI standards)", Locator: "roasted within 24 h, rested 8 h", Provenance: "opened"},
			{Name: "Roaster guide on roast age and espresso", Locator: "introduction", Provenance: "opened"},
			{Name: "UK roaster trial on freshness and espresso, 2020", Locator: "introduction", Provenance: "opened"},
			{Name: "Rest before filter and espresso", Locator: "trade habit", Provenance: "common practice"},
		},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "rest claim, days"}, {Package: "degas", Quantity: "rest claim, hours"}},
	}
}

func computeWindow(in *catalogue.In, out *catalogue.Out) error {
	fresh := in.F("fresh")
	own := in.Has("tau") && in.Has("beta")
	var early, late float64
	if own {
		d, err := degas.DaysUntil(curveOf(in), in.F("level"))
		if err != nil {
			return err
		}
		early, late = d, d
	} else {
		s, err := degas.OrientationDays(in.F("level"))
		if err != nil {
			return err
		}
		early, late = s.LowDays, s.HighDays
	}
	if late > fresh {
		low := 0.0
		if own {
			left, err := leftPct(curveOf(in), fresh)
			if err != nil {
				return err
			}
			low = left
		} else {
			b, err := degas.OrientationBand(fresh)
			if err != nil {
				return err
			}
			low = 100 - b.LowGonePct
		}
		return &degas.ImpossibleError{Quantity: "rest window", Why: "freshness ends before so much gas has gone",
			Field: "leftPct", Given: catalogue.Shortest(in.F("level")), Min: low, Max: 100, Unit: "%"}
	}
	roasted := in.Time("roasted")
	from, err := degas.WhenAged(roasted, late, roasted.Location())
	if err != nil {
		return err
	}
	to, err := degas.WhenAged(roasted, fresh, roasted.Location())
	if err != nil {
		return err
	}
	out.SetWords("from", catalogue.Stamp(from.Time))
	out.SetWords("to", catalogue.Stamp(to.Time))
	out.Set("days", late)
	out.Set("early", early)
	out.Set("open", fresh-late)
	if !out.Full() {
		return nil
	}
	noteOn(out, (from.Notes|to.Notes)&degas.ClockChanges)
	if own {
		out.Work("t_r = τ*(-ln(L/100))^(1/β)", "t_r", days(late)+" d", "τ", in.Text("tau"), "L", catalogue.Num(in.F("level"), 3), "β", in.Text("beta"))
	} else {
		slow, _ := degas.OrientationCurves()
		out.Work("t_r = τ_s*(-ln(L/100))^(1/β_s)", "t_r", days(late)+" d", "τ_s", days(slow.TauDays)+" d", "L", catalogue.Num(in.F("level"), 3), "β_s", catalogue.Num(slow.Exponent, 3))
		out.Note("Without a curve of your own this is an orientation: the level is reached somewhere between the two rests, and the window begins at the later one.")
	}
	strip := figure.Strip{
		Title: "Rest window",
		Desc:  out.Say("From roasting on {}: ready from {}, past its best after {}.", catalogue.Stamp(roasted), catalogue.Stamp(from.Time), catalogue.Stamp(to.Time)),
		Unit:  "days",
		Windows: []figure.Window{
			{Name: "resting", From: 0, To: early, Tone: figure.Open},
			{Name: "ready", From: late, To: fresh, Tone: figure.Full},
		},
		Moments: []figure.Moment{
			{Name: "Roasted", At: 0, Text: catalogue.Stamp(roasted)},
			{Name: "Ready from", At: late, Text: catalogue.Stamp(from.Time)},
			{Name: "Past its best", At: fresh, Text: catalogue.Stamp(to.Time)},
		},
	}
	if late > early {
		strip.Windows = append(strip.Windows, figure.Window{Name: "perhaps ready", From: early, To: late, Tone: figure.Faint})
	}
	out.Figure(strip)
	x := ages(math.Min(degas.MaxDays, 1.1*fresh), 80)
	plot := figure.Plot{
		Title: "Gas left over the rest",
		Desc:  out.Say("Share of the gas left against age, with the level of {} and the window.", in.Text("level")),
		X:     figure.Axis{Label: "Age", Unit: "days", Max: x[len(x)-1]},
		Y:     figure.Axis{Label: "Gas left", Unit: "%", Max: 100},
		Bands: []figure.Band{orientationBand(x)},
		Marks: []figure.Mark{{Name: "level", At: in.F("level")}, {Name: "ready", At: late, Vertical: true}, {Name: "past its best", At: fresh, Vertical: true}},
	}
	if own {
		c := curveOf(in)
		plot.Lines = []figure.Line{{Name: "your curve", X: x, Y: over(x, func(d float64) (float64, error) { return leftPct(c, d) })}}
	}
	out.Figure(plot)
	showClaims(in, out, roasted)
	return nil
}

// showClaims lists what is said about rest before the use chosen, with the
// dates that it would make.
func showClaims(in *catalogue.In, out *catalogue.Out, roasted time.Time) {
	var rows [][]string
	for _, u := range uses {
		if u.ID != in.Choice("use") {
			continue
		}
		for _, c := range degas.RestClaims() {
			if c.Use != u.use {
				continue
			}
			stamp := func(d float64) string {
				m, err := degas.WhenAged(roasted, d, roasted.Location())
				if err != nil {
					return "–"
				}
				return catalogue.Stamp(m.Time)
			}
			span := catalogue.Num(c.FromDays, 2)
			if c.ToDays != c.FromDays {
				span = strings.Join([]string{span, catalogue.Num(c.ToDays, 2)}, " – ")
			}
			rows = append(rows, []string{c.Source, catalogue.ProvenanceWords(c.Provenance), span, stamp(c.FromDays), stamp(c.ToDays)})
		}
	}
	out.Table("What is said about this use", []string{"Source", "How we know it", "Days", "From", "To"}, rows)
}

func tasteBefore() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "taste-before-despatch",
		Place:    catalogue.CuppingTable,
		Order:    30,
		Name:     "Tasting before despatch",
		Question: "The coffee must leave before it has rested: what can be tasted until then, and what does that cup say?",
		Keywords: "release hold quality programme cut-off rest cupping roast day",
		Fields: []catalogue.Field{
			{ID: "roasted", Label: "Roasted at", Kind: catalogue.Moment, Example: "2026-11-23T14:00", Help: "Local date and time"},
			{ID: "cutoff", Label: "Must leave at", Kind: catalogue.Moment, Example: "2026-11-24T11:00", Help: "Local date and time"},
			{ID: "rest", Label: "Rest that your programme asks for", Symbol: "t_p", Unit: "h", Min: 0, Max: 720, GoField: "RestHours", Example: "8", Exact: true, Help: "The published cupping protocol asks for 8 h at least, within 24 h of roasting"},
			{ID: "tasting", Label: "From the first cup to the decision", Symbol: "t_d", Unit: "h", Min: 0, Max: 24, GoField: "TastingHours", Example: "1.5", Exact: true, Help: "Like 1.5 h or 90 min"},
			{ID: "opened", Label: "Age when it is opened", Symbol: "t_o", Unit: "d", Min: 0.1, Max: degas.MaxDays, GoField: "OpenedDays", Example: "10", PlusMinus: 3, Help: "By the customer, as you expect it, like 10 d"},
			gasField("9.0"), tauField(), betaField(),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "A rested cup before it leaves"},
			{ID: "age", Label: "Oldest age at which a cup can begin", Symbol: "t_c", Unit: "h"},
			{ID: "roastby", Label: "A roast would have rested if done by"},
			{ID: "ratio", Label: "Gas in that cup over gas at opening", Symbol: "R"},
			{ID: "then", Label: "Gas left at that cup", Symbol: "L_c", Unit: "%"},
			{ID: "later", Label: "Gas left at opening", Symbol: "L_o", Unit: "%"},
		},
		Derived: []catalogue.Derived{{GoField: "CutOff", Label: "Must leave at"}},
		Compute: computeTaste,
		Cautions: []string{
			"A cup this young speaks for defects and for the roast. Keep a sample and taste it again at the age at which the coffee is opened.",
		},
		Sources: []catalogue.Source{
			{Name: "Fine Robusta cupping protocols page (CQI standards)", Locator: "roasted within 24 h, rested 8 h", Provenance: "opened"},
			{Name: "SCA cupping protocol", Locator: "8 to 24 h", Provenance: "quoted"}, noCurve,
		},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "cupping, least rest"}, {Package: "degas", Quantity: "cupping, latest age"}},
	}
}

func computeTaste(in *catalogue.In, out *catalogue.Out) error {
	r := degas.Release{Coffee: coffeeOf(in), Roasted: in.Time("roasted"), CutOff: in.Time("cutoff"),
		RestHours: in.F("rest"), TastingHours: in.F("tasting"), OpenedDays: in.F("opened")}
	t, err := degas.TasteBefore(r)
	if err != nil {
		return err
	}
	if t.Notes&degas.NotRested != 0 {
		out.SetWords("word", out.Say("no: {} h short of the rest", catalogue.Num(t.ShortHours, 3)))
	} else {
		out.SetWords("word", out.Say("yes: between {} and {}", catalogue.Stamp(t.From), catalogue.Stamp(t.To)))
	}
	out.Set("age", t.AgeHours)
	out.SetWords("roastby", catalogue.Stamp(t.RoastBy))
	out.Set("ratio", t.GasRatio)
	out.Set("then", t.ThenLeftPct)
	out.Set("later", t.OpenedLeftPct)
	if !out.Full() {
		return nil
	}
	noteOn(out, t.Notes)
	out.Work("L_c = 100*exp(-(t_c/τ)^β)", "L_c", catalogue.Num(t.ThenLeftPct, 3)+" %", "t_c", catalogue.Num(t.AgeHours/24, 3)+" d", "τ", in.Text("tau"), "β", in.Text("beta"))
	out.Work("L_o = 100*exp(-(t_o/τ)^β)", "L_o", catalogue.Num(t.OpenedLeftPct, 3)+" %", "t_o", in.Text("opened"), "τ", in.Text("tau"), "β", in.Text("beta"))
	out.Work("R = L_c/L_o", "R", catalogue.Num(t.GasRatio, 3), "L_c", catalogue.Num(t.ThenLeftPct, 3)+" %", "L_o", catalogue.Num(t.OpenedLeftPct, 3)+" %")
	if t.GasRatio > 1.5 {
		out.Note("The cup before despatch holds {} times the gas of the cup at opening: gas disturbs wetting and taste, so that it says little about how the coffee will be.", catalogue.Num(t.GasRatio, 2))
	}
	cut := r.CutOff.Sub(r.Roasted).Hours()
	strip := figure.Strip{
		Title: "What can be tasted before despatch",
		Desc:  out.Say("Hours since roasting: rested from {}, last cup at {} h, leaves at {} h.", in.Text("rest"), catalogue.Num(t.AgeHours, 3), catalogue.Num(cut, 3)),
		Unit:  "h",
		Moments: []figure.Moment{
			{Name: "Roasted", At: 0, Text: catalogue.Stamp(r.Roasted)},
			{Name: "Last cup", At: t.AgeHours, Text: catalogue.Stamp(t.To)},
			{Name: "Leaves", At: cut, Text: catalogue.Stamp(r.CutOff)},
		},
		Windows: []figure.Window{{Name: "resting", From: 0, To: r.RestHours, Tone: figure.Open}},
	}
	if t.AgeHours > r.RestHours {
		strip.Windows = append(strip.Windows, figure.Window{Name: "rested and still here", From: r.RestHours, To: t.AgeHours, Tone: figure.Full})
	}
	out.Figure(strip)
	return nil
}
