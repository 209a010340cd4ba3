package cup

import (
	"math"

	"example.org/evenlot/extraction"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var (
	sugar   = catalogue.Source{Name: "CRC Handbook of Chemistry and Physics, aqueous sucrose", Locator: "refractive index and density at 20 °C", Provenance: "quoted"}
	slopes  = catalogue.Source{Name: "slope of 0.85 % per °Brix", Locator: "trade habit; Moroney et al., PLoS ONE 14(7), 2019, gives 0.823 (quoted)", Provenance: "common practice"}
	solute  = catalogue.Source{Name: "volume of dissolved coffee, 0.62 mL/g as of sugars", Provenance: "memory"}
	repeats = catalogue.Source{Name: "ISO 5725-6", Locator: "repeatability limit, 2.8 standard deviations", Provenance: "memory"}
)

func refractometer() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "brix-to-strength", Place: catalogue.BrewBar, Order: 14,
		Name:     "Strength from a sugar scale",
		Question: "What strength is this refractometer reading, and how well is it known?",
		Keywords: "Brix refractive index TDS temperature zero water slope",
		Fields: []catalogue.Field{
			{ID: "bx", Label: "Reading", Symbol: "x", Unit: "°Brix", Min: extraction.MinBrixPct, Max: extraction.MaxBrixPct, Example: "1.55", PlusMinus: 0.02, GoField: "BrixPct", Help: "Of the filtered, cooled sample, like 1.55"},
			{ID: "zero", Label: "Reading of plain water", Symbol: "x_0", Unit: "°Brix", Min: -1, Max: 1, Example: "0.00", PlusMinus: 0.02, GoField: "ZeroPct", Help: "Just before, with the brewing water; 0 after zeroing on it"},
			{ID: "temp", Label: "Temperature of sample and water", Symbol: "t", Unit: "°C", Min: extraction.MinSampleC, Max: extraction.MaxSampleC, Example: "20", GoField: "TempC", Help: "On the prism; 20 when the instrument compensates or was zeroed at this temperature", Exact: true},
			{ID: "k", Label: "Strength per °Brix", Symbol: "k", Unit: "%/°Brix", Min: 0.6, Max: 1.1, Example: "0.85", PlusMinus: 0.035, GoField: "SlopePct", Help: "0.85 by habit, published from 0.82 to 0.90; better your own, fitted to dried samples"},
		},
		Outputs: []catalogue.Output{
			{ID: "t", Label: "Strength", Symbol: "T", Unit: "%"},
			{ID: "gl", Label: "The same per litre of brew at 20 °C", Unit: "g/L"},
			{ID: "corr", Label: "Added for the temperature", Unit: "°Brix"},
		},
		Limits: []catalogue.Limit{{Output: "t", Lo: 1.15, Hi: 1.35, Source: golden}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			c := 0.0
			if in.F("temp") != extraction.ReferenceSampleC {
				var err error
				if c, err = extraction.BrixCorrection(extraction.Uncompensated{BrixPct: in.F("bx"), TempC: in.F("temp")}); err != nil {
					return err
				}
			}
			bx := in.F("bx") + c
			m, err := extraction.BrixStrength(extraction.Refractometry{BrixPct: min(max(bx, extraction.MinBrixPct), extraction.MaxBrixPct), ZeroPct: in.F("zero"), SlopePct: in.F("k")})
			if err != nil {
				return err
			}
			out.Set("t", m.StrengthPct)
			out.Set("corr", c)
			if s, err := extraction.Convert(extraction.Solution{StrengthPct: m.StrengthPct, TempC: 20, SoluteMLPerG: extraction.SoluteMLPerG}); err == nil {
				out.Set("gl", s.GPerL)
			}
			if !out.Full() {
				return nil
			}
			out.Work("T = k*(x + c - x_0)", "T", sig4(m.StrengthPct, "%"), "k", in.Text("k"), "x", in.Text("bx"), "c", sig4(c, "°Brix"), "x_0", in.Text("zero"))
			if c != 0 {
				out.Note("The correction takes the sample to lose index with temperature as water does; sugar tables differ from it by up to 0.06 °Brix at 15 to 25 °C. Zeroing at the sample's temperature is better.")
			}
			if m.Notes&extraction.UnusualStrength != 0 {
				out.Note("Brewed coffee does not have this strength.")
			}
			out.Note("Suspended fines scatter light: filter the sample. A conductivity meter's ppm counts ions and tells nothing of a brew's strength.")
			net := bx - in.F("zero")
			known := []struct {
				name string
				k, u float64
			}{
				{"habit", extraction.SlopePracticePct, extraction.SlopePracticeUPct}, {"web", extraction.SlopeRegressionPct, extraction.SlopeRegressionUPct},
				{"volume", extraction.SlopeGPerL / 10.03, 0}, {"weak", extraction.SlopeWeakPct, 0}, {"strong", extraction.SlopeStrongPct, 0},
			}
			p := figure.Points{Name: "published slopes"}
			var ticks []figure.Tick
			for i, s := range known {
				p.X, p.Y, p.Err = append(p.X, float64(i+1)), append(p.Y, s.k*net), append(p.Err, 2*s.u*math.Abs(net))
				ticks = append(ticks, figure.Tick{At: float64(i + 1), Name: s.name})
			}
			out.Figure(figure.Plot{
				Title:  "This reading by the published slopes",
				Desc:   out.Say("The strength that five published slopes make of {} °Brix; with the slope entered it is {} %.", catalogue.Num(net, 3), catalogue.Num(m.StrengthPct, 3)),
				X:      figure.Axis{Label: "Slope", Min: 0.5, Max: 5.5, Ticks: ticks},
				Y:      figure.Axis{Label: "Strength", Unit: "%"},
				Points: []figure.Points{p},
				Marks:  []figure.Mark{{Name: "this slope", At: m.StrengthPct}},
			})
			return nil
		},
		Cautions: []string{"Cool the sample before it touches the prism: hot coffee burns and reads wrong."},
		Sources:  []catalogue.Source{slopes, sugar, golden, {Name: "IAPWS R9-97", Locator: "refractive index of water", Provenance: "memory"}},
		Checks: []catalogue.Check{{Package: "extraction", Quantity: "strength of a Brix reading"}, {Package: "extraction", Quantity: "refractive index of a sucrose solution"},
			{Package: "extraction", Quantity: "correction of a Brix reading"}, {Package: "extraction", Quantity: "strength per degree Brix in use"}},
	}
}

func ownSlope() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "own-slope", Place: catalogue.BrewBar, Order: 32,
		Name:     "Your own slope",
		Question: "What slope turns this refractometer's reading into the strength of these brews?",
		Keywords: "calibrate Brix oven fit regression TDS",
		Fields: []catalogue.Field{{ID: "pairs", Label: "Brews read and dried", Kind: catalogue.Series, GoField: "Pairs",
			Columns: []catalogue.Column{
				{ID: "x", Label: "Reading less water's", Unit: "°Brix", Min: extraction.MinBrixPct, Max: extraction.MaxBrixPct},
				{ID: "y", Label: "Strength by drying", Unit: "%", Min: 0, Max: extraction.MaxStrengthPct}},
			Example: "1.21 1.03\n1.48 1.25\n1.62 1.39\n1.77 1.49\n2.05 1.74\n2.40 2.05",
			Help:    "One brew a line: the reading, then the strength by drying. Three at least, six or more are better, spread over the strengths that you will read"}},
		Outputs: []catalogue.Output{
			{ID: "k", Label: "Strength per °Brix", Symbol: "k", Unit: "%/°Brix"},
			{ID: "s", Label: "A brew lies off the line by", Symbol: "s", Unit: "%"},
			{ID: "a", Label: "Intercept, were it free", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			cols := in.Columns("pairs")
			pairs := make([]extraction.Pair, len(cols[0]))
			for i := range pairs {
				pairs[i] = extraction.Pair{BrixPct: cols[0][i], StrengthPct: cols[1][i]}
			}
			f, err := extraction.FitSlope(pairs)
			if err != nil {
				return err
			}
			out.SetU("k", f.SlopePct, f.SlopeUPct, "the scatter of the pairs")
			out.SetU("s", f.ResidualPct, f.ResidualPct/math.Sqrt(2*float64(f.DFCount)), "the number of brews")
			if f.InterceptU > 0 {
				out.SetU("a", f.InterceptPct, f.InterceptU, "the scatter of the pairs")
			}
			if !out.Full() {
				return nil
			}
			sxy, sxx := 0.0, 0.0
			for _, p := range pairs {
				sxy, sxx = sxy+p.BrixPct*p.StrengthPct, sxx+p.BrixPct*p.BrixPct
			}
			out.Work("k = s_xy/s_xx", "k", sig4(f.SlopePct, "%/°Brix"), "s_xy", sig4(sxy, ""), "s_xx", sig4(sxx, ""))
			if f.Notes&extraction.InterceptMatters != 0 {
				out.Note("The pairs do not meet at zero: zero the instrument on water, or take strong and weak brews apart.")
			}
			if f.Notes&extraction.FewReadings != 0 {
				out.Note("So few brews that the spread is itself poorly known.")
			}
			lo, hi := min(0, f.LowBrixPct), 1.05*f.HighBrixPct
			var x, y, down, up []float64
			for i := range 21 {
				at := lo + (hi-lo)*float64(i)/20
				x, y = append(x, at), append(y, f.SlopePct*at)
				w := 2 * math.Hypot(f.SlopeUPct*at, f.ResidualPct)
				down, up = append(down, f.SlopePct*at-w), append(up, f.SlopePct*at+w)
			}
			out.Figure(figure.Plot{
				Title:  "Strength by drying against the reading",
				Desc:   out.Say("{} brews and the line through zero, {} % per °Brix.", catalogue.Shortest(float64(len(pairs))), catalogue.Num(f.SlopePct, 3)),
				X:      figure.Axis{Label: "Reading", Unit: "°Brix"},
				Y:      figure.Axis{Label: "Strength", Unit: "%"},
				Bands:  []figure.Band{{Name: "a next brew", X: x, Lo: down, Hi: up}},
				Lines:  []figure.Line{{Name: "your slope", X: x, Y: y}},
				Points: []figure.Points{{Name: "brews", X: cols[0], Y: cols[1]}},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "least squares through zero", Provenance: "derived"}, slopes},
		Checks:  []catalogue.Check{{Package: "extraction", Quantity: "slope through zero"}, {Package: "extraction", Quantity: "uncertainty of a slope through zero"}},
	}
}

func ovenStrength() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "strength-by-drying", Place: catalogue.BrewBar, Order: 34,
		Name:     "Strength by drying",
		Question: "What strength do these weighings of a dried brew give?",
		Keywords: "oven reference gravimetric TDS dish",
		Fields: []catalogue.Field{
			{ID: "dish", Label: "Dish, empty and dry", Symbol: "m_0", Unit: "g", Max: 10_000, Example: "25.0000", GoField: "DishG", Help: "0 when the scale was set to zero on it, or like 25.0000", Exact: true},
			{ID: "wet", Label: "Dish with the filtered brew", Symbol: "m_w", Unit: "g", Min: 0.5, Max: 10_000, Example: "35.2000", GoField: "WetG", Help: "Like 35.2000", Exact: true},
			{ID: "dry", Label: "Dish with what is left", Symbol: "m_d", Unit: "g", Max: 10_000, Example: "25.1377", GoField: "DryG", Help: "When its weight stays, cooled in a desiccator, like 25.1377", Exact: true},
			{ID: "u", Label: "Standard uncertainty of a weighing", Symbol: "u", Unit: "g", Max: 1, Example: "0.0002", GoField: "UG", Help: "The standard deviation of one weight weighed ten times, like 0.0002", Exact: true},
		},
		Outputs: []catalogue.Output{{ID: "t", Label: "Strength", Symbol: "T", Unit: "%"}, {ID: "left", Label: "Solids left", Unit: "g"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			m, err := extraction.OvenStrength(extraction.Oven{DishG: in.F("dish"), WetG: in.F("wet"), DryG: in.F("dry"), UG: in.F("u")})
			if err != nil {
				return err
			}
			out.SetU("t", m.StrengthPct, m.UPct, "the weighings")
			out.Set("left", in.F("dry")-in.F("dish"))
			if out.Full() {
				out.Work("T = (m_d - m_0)/(m_w - m_0)", "T", sig4(m.StrengthPct, "%"), "m_d", in.Text("dry"), "m_0", in.Text("dish"), "m_w", in.Text("wet"))
				out.Note("Fines dry to solids too: filter first and note the pores. Volatile acids leave, the last water stays.")
				brew := in.F("wet") - in.F("dish")
				out.Figure(figure.Flow{Title: "What was in the dish", Unit: "g",
					Desc: out.Say("{} g of brew dried to {} g.", catalogue.Num(brew, 4), catalogue.Num(in.F("dry")-in.F("dish"), 3)),
					From: []figure.Share{{Name: "brew", Amount: brew}},
					To:   []figure.Share{{Name: "solids", Amount: in.F("dry") - in.F("dish")}, {Name: "water", Amount: in.F("wet") - in.F("dry")}}})
			}
			return nil
		},
		Cautions: []string{"A hot oven and a dish in steam burn: tongs, gloves, and let it cool before weighing."},
		Sources:  []catalogue.Source{definition, {Name: "European Coffee Brewing Centre, Testing Procedures", Locator: "dehydration as the more precise method", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "strength by drying"}},
	}
}

func spentGrounds() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "yield-from-spent-grounds", Place: catalogue.BrewBar, Order: 38,
		Name:     "Yield from spent grounds",
		Question: "What yield do dried grounds show, and what do their known errors make of it?",
		Keywords: "oven dry grounds bias extraction check",
		Fields: []catalogue.Field{
			doseField("15.00"),
			{ID: "dry", Label: "The same grounds, dried after the brew", Symbol: "d", Unit: "g", Min: 0.05, Max: extraction.MaxDoseG, Example: "12.10", PlusMinus: 0.02, GoField: "DryG", Help: "Like 12.10"},
			{ID: "m", Label: "Moisture of the coffee", Symbol: "m", Unit: "%", Max: 15, Example: "3.0", PlusMinus: 0.3, GoField: "Bean.MoisturePct", Help: "Before the brew, wet basis, by the same oven, like 3.0"},
			{ID: "r", Label: "Water per coffee", Symbol: "R", Unit: "g/g", Min: extraction.MinRatio, Max: extraction.MaxRatio, Example: "15", GoField: "Ratio", Help: "The x of 1:x of the brew, like 15"},
			{ID: "l", Label: "Liquid as strong as the cup in the grounds", Symbol: "λ", Unit: "g/g", Max: 3.5, Example: "2.48", PlusMinus: 0.2, None: true, GoField: "LiquidGPerG", Help: "Grams per gram of coffee when they went into the oven: 2.48 steeped and drained; 0 when they were rinsed"},
			{ID: "v", Label: "Yield that the oven feigns", Symbol: "v", Unit: "%", Max: 5, Example: "2.3", PlusMinus: 0.5, GoField: "VolatilesPct", Help: "By volatiles that leave: 2.3 as published"},
		},
		Outputs: []catalogue.Output{
			{ID: "e", Label: "Yield, corrected", Symbol: "E", Unit: "%"},
			{ID: "shown", Label: "Yield as the oven shows it", Symbol: "E_o", Unit: "%"},
			{ID: "bias", Label: "Error of the oven", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			y, err := extraction.SpentGroundsYield(extraction.Spent{DoseG: in.F("dose"), DryG: in.F("dry"), Bean: extraction.Bean{MoisturePct: in.F("m")},
				Ratio: in.F("r"), LiquidGPerG: in.F("l"), VolatilesPct: in.F("v"), RetainedAsBrew: true})
			if err != nil {
				return err
			}
			out.Set("e", y.YieldPct)
			out.Set("shown", y.ApparentPct)
			out.Set("bias", y.BiasPct)
			if !out.Full() {
				return nil
			}
			out.Work("E_o = 1 - d/(D*(1 - m))", "E_o", sig4(y.ApparentPct, "%"), "d", in.Text("dry"), "D", in.Text("dose"), "m", in.Text("m"))
			out.Work("E_o = E*(1 - λ/(R + E)) + v", "E_o", sig4(y.ApparentPct, "%"), "E", sig4(y.YieldPct, "%"), "λ", in.Text("l"), "R", in.Text("r"), "v", in.Text("v"))
			if y.Notes&extraction.Extrapolated != 0 {
				out.Note("The correction was published for ratios of 3 to 25: this is outside.")
			}
			out.Note("The correction is a model with one laboratory's constants: use it to check a strength, not to judge a brew.")
			yieldNotes(out, y.Notes)
			var x, shown []float64
			for i := range 45 {
				r := 3 + 22*float64(i)/44
				s, err := extraction.OvenApparentYield(extraction.OvenCheck{YieldPct: max(y.YieldPct, extraction.MinYieldPct), Ratio: r, LiquidGPerG: min(in.F("l"), r), VolatilesPct: in.F("v")})
				if err != nil {
					continue
				}
				x, shown = append(x, r), append(shown, s)
			}
			out.Figure(figure.Plot{
				Title: "What the oven shows of one yield, by ratio",
				Desc:  out.Say("A true yield of {} % as dried grounds show it at ratios of 3 to 25.", catalogue.Num(y.YieldPct, 3)),
				X:     figure.Axis{Label: "Water per coffee", Unit: "g/g"},
				Y:     figure.Axis{Label: "Yield", Unit: "%"},
				Lines: []figure.Line{{Name: "shown", X: x, Y: shown}},
				Marks: []figure.Mark{{Name: "true", At: y.YieldPct}},
			})
			return nil
		},
		Cautions: []string{"Wet grounds in a hot oven steam: open it away from the face."},
		Sources:  []catalogue.Source{{Name: "Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021", Locator: "eq. 22", Provenance: "quoted"}},
		Checks:   []catalogue.Check{{Package: "extraction", Quantity: "yield shown by dried grounds"}, {Package: "extraction", Quantity: "yield feigned by oven volatiles"}, {Package: "extraction", Quantity: "liquid that drained immersion grounds keep"}},
	}
}

func repeatReadings() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "repeat-readings", Place: catalogue.BrewBar, Order: 30,
		Name:     "Readings of one sample",
		Question: "How well do repeated readings of one sample agree?",
		Keywords: "repeatability replicates standard deviation TDS limit",
		Fields: []catalogue.Field{{ID: "x", Label: "Readings", Kind: catalogue.Series, GoField: "Readings",
			Columns: []catalogue.Column{{ID: "t", Label: "Reading", Unit: "%", Min: -1, Max: 100}},
			Example: "1.31\n1.33\n1.32\n1.30\n1.34\n1.32", Help: "One a line, each with a fresh drop of the same sample; two at least, six or more are better"}},
		Outputs: []catalogue.Output{
			{ID: "mean", Label: "Mean", Unit: "%"},
			{ID: "s", Label: "Standard deviation of a reading", Symbol: "s", Unit: "%"},
			{ID: "r", Label: "Two readings may differ by", Symbol: "r", Unit: "%"},
			{ID: "u", Label: "The mean is known within, 19 times of 20", Symbol: "U", Unit: "%"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			x := in.Columns("x")[0]
			r, err := extraction.Repeatability(x)
			if err != nil {
				return err
			}
			out.SetU("mean", r.MeanPct, r.UMeanPct, "the scatter of the readings")
			of := 1 / math.Sqrt(2*float64(r.DFCount)) // how well a spread is known
			out.SetU("s", r.SDPct, of*r.SDPct, "the number of readings")
			out.SetU("r", r.LimitPct, of*r.LimitPct, "the number of readings")
			out.SetU("u", r.U95Pct, of*r.U95Pct, "the number of readings")
			if !out.Full() {
				return nil
			}
			out.Work("r = 2.8*s", "r", sig4(r.LimitPct, "%"), "s", sig4(r.SDPct, "%"))
			if r.UMeanPct > 0 {
				out.Work("U = t_95*s/sqrt(n)", "U", sig4(r.U95Pct, "%"), "t_95", catalogue.Num(r.U95Pct/r.UMeanPct, 3), "s", sig4(r.SDPct, "%"), "n", catalogue.Shortest(float64(len(x))))
			}
			if r.Notes&extraction.FewReadings != 0 {
				out.Note("So few readings that their spread is itself poorly known.")
			}
			out.Note("Tasters tell a difference of about 0.24 % of strength. Agreement of readings says nothing about the slope behind them.")
			at := make([]float64, len(x))
			for i := range at {
				at[i] = float64(i + 1)
			}
			out.Figure(figure.Plot{
				Title:  "The readings in their order",
				Desc:   out.Say("{} readings about their mean of {} %.", catalogue.Shortest(float64(len(x))), catalogue.Num(r.MeanPct, 4)),
				X:      figure.Axis{Label: "Reading"},
				Y:      figure.Axis{Label: "Strength", Unit: "%"},
				Points: []figure.Points{{Name: "readings", X: at, Y: x}},
				Marks:  []figure.Mark{{Name: "mean", At: r.MeanPct}},
			})
			return nil
		},
		Sources: []catalogue.Source{repeats, {Name: "JCGM 100:2008", Locator: "4.2 and G.3", Provenance: "memory"}},
		Checks:  []catalogue.Check{{Package: "extraction", Quantity: "uncertainty of a mean of readings"}, {Package: "extraction", Quantity: "half-width of a 95 % interval per uncertainty of the mean"}, {Package: "extraction", Quantity: "difference of strength that tasters tell"}},
	}
}

func strengthUnits() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "strength-in-other-units", Place: catalogue.BrewBar, Order: 36,
		Name:     "Strength in other units",
		Question: "What is this strength per litre, per 100 mL and in ppm?",
		Keywords: "TDS g/L ppm mg/L density convert conductivity",
		Fields: []catalogue.Field{
			strengthField("1.35"),
			{ID: "temp", Label: "Temperature at which its volume is read", Symbol: "t", Unit: "°C", Max: 100, Example: "20", PlusMinus: 2, GoField: "TempC", Help: "Like 20"},
			{ID: "v", Label: "Volume of a gram dissolved", Symbol: "v", Unit: "mL/g", Min: 0.4, Max: 0.9, Example: "0.62", PlusMinus: 0.08, GoField: "SoluteMLPerG", Help: "0.62 as of sugars; nobody has published it for coffee"},
		},
		Outputs: []catalogue.Output{
			{ID: "gl", Label: "Per litre of brew", Symbol: "c", Unit: "g/L"},
			{ID: "g100", Label: "Per 100 mL of brew", Unit: "g/100 mL"},
			{ID: "ppm", Label: "ppm by weight", Unit: "mg/kg"},
			{ID: "mgl", Label: "Milligrams per litre", Unit: "mg/L"},
			{ID: "rho", Label: "Density of the brew", Symbol: "ρ", Unit: "kg/m³"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			s, err := extraction.Convert(extraction.Solution{StrengthPct: in.F("t"), TempC: in.F("temp"), SoluteMLPerG: in.F("v")})
			if err != nil {
				return err
			}
			out.Set("gl", s.GPerL)
			out.Set("g100", s.GPer100ML)
			out.Set("ppm", s.PPMByMass)
			out.Set("mgl", s.MgPerL)
			out.Set("rho", s.KgPerM3)
			if !out.Full() {
				return nil
			}
			out.Work("ρ = 1/((1 - T)/ρ_w + T*v/1000)", "ρ", catalogue.Num(s.KgPerM3, 5)+" g/L", "T", in.Text("t"), "ρ_w", catalogue.Num(s.WaterKgPerM3, 5)+" g/L", "v", in.Text("v"))
			out.Work("c = T*ρ", "c", sig4(s.GPerL, "g/L"), "T", in.Text("t"), "ρ", catalogue.Num(s.KgPerM3, 5)+" g/L")
			out.Note("Two things are called ppm, by weight and by volume. Neither is a conductivity meter's ppm: that counts ions on a scale made for salt, and coffee's solids hardly conduct.")
			var x, y, same []float64
			top := max(3, 1.3*in.F("t"))
			for i := range 31 {
				t := min(top, extraction.MaxStrengthPct) * float64(i) / 30
				c, err := extraction.Convert(extraction.Solution{StrengthPct: t, TempC: in.F("temp"), SoluteMLPerG: in.F("v")})
				if err != nil {
					return err
				}
				x, y, same = append(x, t), append(y, c.GPerL), append(same, 10*t)
			}
			out.Figure(figure.Plot{
				Title:  "Grams per litre against percent",
				Desc:   out.Say("Concentration by volume against strength by weight; {} is {} g/L.", in.Text("t"), catalogue.Num(s.GPerL, 4)),
				X:      figure.Axis{Label: "Strength", Unit: "%"},
				Y:      figure.Axis{Label: "Concentration", Unit: "g/L"},
				Lines:  []figure.Line{{Name: "brew", X: x, Y: y}, {Name: "a litre taken as a kilogram", X: x, Y: same, Style: figure.Dotted}},
				Points: []figure.Points{{Name: "this brew", X: []float64{in.F("t")}, Y: []float64{s.GPerL}}},
			})
			return nil
		},
		Sources: []catalogue.Source{kell, sugar, solute},
		Checks:  []catalogue.Check{{Package: "extraction", Quantity: "concentration of a solution of sucrose"}, {Package: "extraction", Quantity: "density of a solution of sucrose"}, {Package: "extraction", Quantity: "salt per conductivity"}},
	}
}
