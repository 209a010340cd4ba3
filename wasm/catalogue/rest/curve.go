package rest

import (
	"math"

	"example.org/evenlot/degas"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func gasCurve() *catalogue.Calculator {
	optional := func(f catalogue.Field, group string) catalogue.Field {
		f.Optional, f.Group = true, group
		return f
	}
	const shelf = "A shelf at another temperature"
	return &catalogue.Calculator{
		ID:       "gas-curve",
		Place:    catalogue.RestShelf,
		Order:    60,
		Name:     "Gas left, by a curve of your own",
		Question: "How much gas is left by my own release curve, and when does it come down to a level?",
		Keywords: "degassing Weibull stretched exponential rest temperature Q10 rate",
		Fields: []catalogue.Field{
			gasField("9.0"), tauField(), betaField(),
			ageField("t", "Age", "7", "Since roasting or grinding, like 7 d or 36 h"),
			levelField("33"),
			optional(tempField("ref", "Temperature where the curve was measured", "T_0", "ReferenceC", "20"), shelf),
			optional(tempField("shelf", "Temperature of the shelf", "T", "TempC", "24"), shelf),
			{ID: "q10", Label: "Faster for each 10 °C", Symbol: "Q_10", Group: shelf, Min: degas.MinQ10, Max: degas.MaxQ10, GoField: "Factor", Example: "1.5", Optional: true,
				Help: "Your own factor, like 1.5, from two shelves. None is published for gas; leave it empty for no correction"},
		},
		Outputs: []catalogue.Output{
			{ID: "left", Label: "Gas left, of the gas at drop", Symbol: "L", Unit: "%"},
			{ID: "mg", Label: "Gas left per gram", Symbol: "q", Unit: "mg/g"},
			{ID: "until", Label: "Age when it comes down to the level", Unit: "d"},
			{ID: "rate", Label: "Mean rate over the next day", Symbol: "r", Unit: "mg/(g·d)"},
		},
		Compute: computeCurve,
		Sources: []catalogue.Source{
			{Name: "Weibull, J. Appl. Mech. 18, 1951", Locator: "the shape", Provenance: "memory"}, noCurve,
			{Name: "Labuza, J. Chem. Educ. 61, 1984", Locator: "Q10", Provenance: "opened"},
		},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "amount gone, stretched"}, {Package: "degas", Quantity: "days until an amount is left, stretched"}, {Package: "degas", Quantity: "time at a raised temperature"}},
	}
}

func computeCurve(in *catalogue.In, out *catalogue.Out) error {
	coffee := coffeeOf(in)
	factor := 1.0
	warm := in.Has("ref") && in.Has("shelf") && in.Has("q10")
	if warm {
		var err error
		if factor, err = degas.Q10Factor(degas.Q10{Factor: in.F("q10"), ReferenceC: in.F("ref"), TempC: in.F("shelf")}); err != nil {
			return err
		}
		if coffee.Curve, err = degas.Hastened(coffee.Curve, factor); err != nil {
			return err
		}
	}
	t := in.F("t")
	a, err := degas.AmountLeft(coffee, t)
	if err != nil {
		return err
	}
	until, err := degas.DaysUntil(coffee.Curve, in.F("level"))
	if err != nil {
		return err
	}
	out.Set("left", a.LeftPct)
	out.Set("mg", a.LeftMgPerG)
	out.Set("until", until)
	if t+1 <= degas.MaxDays {
		lost, err := degas.AmountLost(coffee, t, t+1)
		if err != nil {
			return err
		}
		out.Set("rate", lost)
	}
	if !out.Full() {
		return nil
	}
	tau := in.Text("tau")
	if warm {
		scaled := coffee.Curve.(degas.Stretched)
		tau = days(scaled.TauDays) + " d"
		out.Work("f = Q_10^((T - T_0)/10)", "f", catalogue.Num(factor, 3), "Q_10", in.Text("q10"), "T", in.Text("shelf"), "T_0", in.Text("ref"))
		out.Work("τ = τ_0/f", "τ", tau, "τ_0", in.Text("tau"), "f", catalogue.Num(factor, 3))
	} else if in.Has("ref") || in.Has("shelf") || in.Has("q10") {
		out.Note("A correction for temperature takes all three: both temperatures and the factor. None was made.")
	}
	out.Work("L = 100*exp(-(t/τ)^β)", "L", catalogue.Num(a.LeftPct, 3)+" %", "t", in.Text("t"), "τ", tau, "β", in.Text("beta"))
	out.Work("q = M_0*L/100", "q", catalogue.Num(a.LeftMgPerG, 3)+" mg/g", "M_0", in.Text("gas"), "L", catalogue.Num(a.LeftPct, 3))
	noteOn(out, a.Notes)
	x := ages(math.Min(degas.MaxDays, math.Max(10, 1.2*math.Max(t, math.Min(until, 200)))), 80)
	out.Figure(figure.Plot{
		Title:  "Gas left, by your curve",
		Desc:   out.Say("Share of the gas left against age by your own curve, with the band between published claims behind it; at {} it is {} %, and it comes down to the level at {} days.", in.Text("t"), catalogue.Num(a.LeftPct, 3), days(until)),
		X:      figure.Axis{Label: "Age", Unit: "days", Max: x[len(x)-1]},
		Y:      figure.Axis{Label: "Gas left", Unit: "%", Max: 100},
		Bands:  []figure.Band{orientationBand(x)},
		Lines:  []figure.Line{{Name: "your curve", X: x, Y: over(x, func(d float64) (float64, error) { return leftPct(coffee.Curve, d) })}},
		Points: []figure.Points{{Name: "now", X: []float64{t}, Y: []float64{a.LeftPct}}},
		Marks:  []figure.Mark{{Name: "level", At: in.F("level")}},
	})
	return nil
}

func gasTwoPoints() *catalogue.Calculator {
	point := func(id, label, goField, example, help string) catalogue.Field {
		return catalogue.Field{ID: id, Label: label, Unit: "%", Min: 1, Max: 99, GoField: goField, Example: example, PlusMinus: 3, Help: help}
	}
	when := func(id, label, goField, example string) catalogue.Field {
		return catalogue.Field{ID: id, Label: label, Unit: "d", Min: 0.0001, Max: degas.MaxDays, GoField: goField, Example: example, Help: "Since roasting or grinding, like 1 d or 18 h"}
	}
	with := func(f catalogue.Field, symbol string) catalogue.Field { f.Symbol = symbol; return f }
	return &catalogue.Calculator{
		ID:       "gas-two-points",
		Place:    catalogue.RestShelf,
		Order:    90,
		Name:     "A curve through two points",
		Question: "Which release curve goes through two shares that I know?",
		Keywords: "degassing Weibull parameters tau beta",
		Fields: []catalogue.Field{
			with(when("t1", "First age", "a.Days", "1.0"), "t_1"),
			with(point("f1", "Gone by then", "a.GonePct", "45", "Of all the gas it had, like 45"), "F_1"),
			with(when("t2", "Second age", "b.Days", "7.0"), "t_2"),
			with(point("f2", "Gone by then", "b.GonePct", "85", "More than at the first age, like 85"), "F_2"),
			levelField("10"),
		},
		Outputs: []catalogue.Output{
			{ID: "tau", Label: "Time scale", Symbol: "τ", Unit: "d"},
			{ID: "beta", Label: "Shape", Symbol: "β"},
			{ID: "until", Label: "Age when it comes down to the level", Unit: "d"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			c, err := degas.StretchedThrough(degas.Point{Days: in.F("t1"), GonePct: in.F("f1")}, degas.Point{Days: in.F("t2"), GonePct: in.F("f2")})
			if err != nil {
				return err
			}
			until, err := degas.DaysUntil(c, in.F("level"))
			if err != nil {
				return err
			}
			out.Set("tau", c.TauDays)
			out.Set("beta", c.Exponent)
			out.Set("until", until)
			if !out.Full() {
				return nil
			}
			out.Work("β = ln(ln(1 - F_1/100)/ln(1 - F_2/100))/ln(t_1/t_2)", "β", catalogue.Num(c.Exponent, 3), "F_1", catalogue.Num(in.F("f1"), 4), "F_2", catalogue.Num(in.F("f2"), 4), "t_1", in.Text("t1"), "t_2", in.Text("t2"))
			out.Work("τ = t_1/(-ln(1 - F_1/100))^(1/β)", "τ", days(c.TauDays)+" d", "t_1", in.Text("t1"), "F_1", catalogue.Num(in.F("f1"), 4), "β", catalogue.Num(c.Exponent, 3))
			out.Note("Two points fix the curve and leave nothing to judge it by. Six weighings and more can show that it is wrong.")
			x := ages(math.Min(degas.MaxDays, 1.3*math.Max(in.F("t2"), math.Min(until, 300))), 80)
			out.Figure(figure.Plot{
				Title:  "A release curve through two points",
				Desc:   out.Say("Share of the gas gone against age, through {} % at {} and {} % at {}.", catalogue.Num(in.F("f1"), 3), in.Text("t1"), catalogue.Num(in.F("f2"), 3), in.Text("t2")),
				X:      figure.Axis{Label: "Age", Unit: "days", Max: x[len(x)-1]},
				Y:      figure.Axis{Label: "Gas gone", Unit: "%", Max: 100},
				Lines:  []figure.Line{{Name: "curve", X: x, Y: over(x, func(d float64) (float64, error) { return gonePct(c, d) })}},
				Points: []figure.Points{{Name: "your points", X: []float64{in.F("t1"), in.F("t2")}, Y: []float64{in.F("f1"), in.F("f2")}}},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "Weibull, J. Appl. Mech. 18, 1951", Locator: "the shape, turned about", Provenance: "memory"}},
		Checks:  []catalogue.Check{{Package: "degas", Quantity: "exponent from two points"}, {Package: "degas", Quantity: "scale of time from two points"}},
	}
}

func groundGas() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "ground-gas",
		Place:    catalogue.RestShelf,
		Order:    100,
		Name:     "Gas left in ground coffee",
		Question: "How much of its gas is left in ground coffee after some hours?",
		Keywords: "grinding diffusion sphere particle fines degassing",
		Fields: []catalogue.Field{
			{ID: "a", Label: "Particle diameter", Symbol: "d", Unit: "mm", Min: 2 * degas.MinRadiusMM, Max: 5, Example: "0.50", PlusMinus: 0.1, GoField: "RadiusMM",
				Help: "Of the middle particle by mass, like 0.5; fine ones empty far sooner"},
			{ID: "t", Label: "Time since grinding", Symbol: "t", Unit: "h", Min: 0, Max: 8760, GoField: "days", Example: "2.0", Help: "Like 2 h or 90 min"},
		},
		Outputs: []catalogue.Output{
			{ID: "slow", Label: "Left, at the lowest diffusivity in print", Symbol: "L_s", Unit: "%"},
			{ID: "fast", Label: "Left, at the highest", Symbol: "L_f", Unit: "%"},
			{ID: "half", Label: "Half is gone, at the lowest", Unit: "h"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			radius := in.F("a") / 2
			slow := degas.Sphere{RadiusMM: radius, DiffusivityM2PerS: degas.GroundDiffusivityLowM2PerS}
			fast := degas.Sphere{RadiusMM: radius, DiffusivityM2PerS: degas.GroundDiffusivityHighM2PerS}
			a, err := degas.Left(slow, in.F("t")/24)
			if err != nil {
				return err
			}
			b, err := degas.Left(fast, in.F("t")/24)
			if err != nil {
				return err
			}
			half, err := degas.DaysUntil(slow, 50)
			if err != nil {
				return err
			}
			out.Set("slow", a.LeftPct)
			out.Set("fast", b.LeftPct)
			out.Set("half", 24*half)
			if !out.Full() {
				return nil
			}
			out.Work("Fo_s = D_s*t/(d/2)^2", "Fo_s", catalogue.Num(degas.GroundDiffusivityLowM2PerS*in.F("t")*3600/(radius*radius*1e-6), 3), "D_s", "5×10^−14 m²/s", "t", in.Text("t"), "d", in.Text("a"))
			out.Work("Fo_f = D_f*t/(d/2)^2", "Fo_f", catalogue.Num(degas.GroundDiffusivityHighM2PerS*in.F("t")*3600/(radius*radius*1e-6), 3), "D_f", "1×10^−12 m²/s", "t", in.Text("t"), "d", in.Text("a"))
			out.Note("The published diffusivities of ground coffee differ twentyfold, and they are fitted numbers: gas also flows. What grinding itself lets go, half of the gas by trade texts, comes before this and is not in it. Weigh before and after.")
			x := ages(math.Max(12, 1.5*math.Min(in.F("t"), 2000)), 80)
			curve := func(c degas.Sphere) []float64 {
				return over(x, func(h float64) (float64, error) { return leftPct(c, h/24) })
			}
			out.Figure(figure.Plot{
				Title: "Gas left in ground coffee",
				Desc:  out.Say("Share of the gas left against hours since grinding, as a band between the lowest and the highest published diffusivity; at {} between {} and {} %.", in.Text("t"), catalogue.Num(b.LeftPct, 2), catalogue.Num(a.LeftPct, 2)),
				X:     figure.Axis{Label: "Since grinding", Unit: "h", Max: x[len(x)-1]},
				Y:     figure.Axis{Label: "Gas left", Unit: "%", Max: 100},
				Bands: []figure.Band{{Name: "between published diffusivities", X: x, Lo: curve(fast), Hi: curve(slow)}},
				Marks: []figure.Mark{{Name: "now", At: in.F("t"), Vertical: true}},
			})
			return nil
		},
		Sources: []catalogue.Source{crank,
			{Name: "Anderson, Shimoni, Liardon, Labuza, J. Food Eng. 59, 71, 2003", Locator: "abstract: 0.5 to 10 times 1e-13 m²/s", Provenance: "opened"}},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "share gone, sphere"}, {Package: "degas", Quantity: "diffusivity of ground coffee, low end"}, {Package: "degas", Quantity: "hours until a share is left, sphere"}},
	}
}
