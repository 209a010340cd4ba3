package store

import (
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func greenActivity() *catalogue.Calculator {
	const own = "A pair of readings of this lot, if you have one"
	return &catalogue.Calculator{
		ID:       "green-activity",
		Place:    catalogue.GreenStore,
		Order:    14,
		Name:     "Water activity of green",
		Question: "What water activity does this moisture mean, and may mould grow?",
		Keywords: "aw isotherm sorption equilibrium relative humidity erh",
		Fields: []catalogue.Field{
			content("m", "Moisture of the lot", "M", "12.0", "MoisturePct"),
			temperature("t", "Temperature of the lot", "t", "20.0", "TempC"),
			under(own, maybe(number("a0", "Activity read", "a_0", "", moisture.MinAw, 0.99, "", 0.01, "Aw", "0 to 1, by an activity meter on a sample of this lot, like 0.56"))),
			under(own, maybe(number("m0", "Moisture of the same sample", "M_0", "%", moisture.MinMoisturePct, moisture.MaxMoisturePct, "", 0.3, "", "Wet basis, like 10.4"))),
			under(own, maybe(number("t0", "Temperature of that reading", "t_0", "°C", moisture.BeanMinC, moisture.BeanMaxC, "", 0.5, "", "Of the sample in the meter, like 22"))),
		},
		Outputs: []catalogue.Output{{ID: "a", Label: "Water activity", Symbol: "a_w"}, {ID: "low", Label: "One standard error of the curve below"}, {ID: "high", Label: "One standard error of the curve above"}},
		Limits:  []catalogue.Limit{{Output: "a", Lo: nan, Hi: moisture.GrowthLimitAw, Source: growth, Caution: mouldCaution}},
		Compute: computeActivity,
		Cautions: []string{
			"A lot inside the moisture limit can be above the activity limit. An activity inferred from moisture is a guess of a few hundredths: measure it.",
			mouldCaution,
		},
		Sources: []catalogue.Source{roaPaper, growth, {Name: "Bucheli & Taniwaki, Food Addit. Contam. 19(7), 2002", Locator: "abstract: 14 % at 0.80", Provenance: "opened"}},
		Checks:  []catalogue.Check{{Package: "moisture", Quantity: "equilibrium moisture of parchment, Roa isotherm"}, {Package: "moisture", Quantity: "equilibrium moisture"}},
	}
}

func computeActivity(in *catalogue.In, out *catalogue.Out) error {
	curve := moisture.ParchmentArabica()
	anchored := in.Has("a0") && in.Has("m0") && in.Has("t0")
	if anchored {
		var err error
		curve, err = moisture.AnchorIsotherm(curve, moisture.Anchor{Aw: in.F("a0"), MoisturePct: in.F("m0"), TempC: in.F("t0")})
		if err != nil {
			return err
		}
	}
	bean := moisture.Bean{MoisturePct: in.F("m"), TempC: in.F("t")}
	a, err := moisture.WaterActivity(curve, bean)
	if err != nil {
		return err
	}
	out.SetU("a", a.Aw, a.SEAw, "the curve itself")
	out.Set("low", a.LowAw)
	out.Set("high", a.HighAw)
	if !out.Full() {
		return nil
	}
	x := 100 * bean.MoisturePct / (100 - bean.MoisturePct)
	p := curve.P
	out.Work("X = 100*M/(100 - M)", "X", pct(x, 4), "M", in.Text("m"))
	out.Work("X = k*(p_1*a_w + p_2*a_w^2 + p_3*a_w^3)*exp((q_1*a_w + q_2*a_w^2 + q_3*a_w^3)*t)", "X", pct(x, 4), "a_w", catalogue.Num(a.Aw, 3), "t", in.Text("t"), "k", catalogue.Num(curve.Scale, 4),
		"p_1", catalogue.Shortest(p[0]), "p_2", catalogue.Shortest(p[1]), "p_3", catalogue.Shortest(p[2]), "q_1", catalogue.Shortest(p[3]), "q_2", catalogue.Shortest(p[4]), "q_3", catalogue.Shortest(p[5]))
	if anchored {
		out.Note("The curve is drawn through this lot's own pair. One pair tells its level, not its shape, and how much nearer the shape is there nobody has published: the band keeps the curve's own error and adds that of the pair.")
	} else if in.Has("a0") || in.Has("m0") || in.Has("t0") {
		out.Note("The pair of readings is not complete and is left out: it takes activity, moisture and temperature.")
	}
	say(out, a.Notes)
	g := grid(0.1, 0.9, 64)
	mid, lo, hi := make([]float64, len(g)), make([]float64, len(g)), make([]float64, len(g))
	for i, aw := range g {
		e, err := moisture.EquilibriumMoisture(curve, moisture.Air{TempC: bean.TempC, RHPct: 100 * aw})
		if err != nil {
			return err
		}
		mid[i], lo[i], hi[i] = e.MoisturePct, e.MoisturePct-e.SEPct, e.MoisturePct+e.SEPct
	}
	points := []figure.Points{{Name: "this lot", X: []float64{a.Aw}, Y: []float64{bean.MoisturePct}}}
	if anchored {
		points = append(points, figure.Points{Name: "its own pair", X: []float64{in.F("a0")}, Y: []float64{in.F("m0")}, Shape: figure.Diamond})
	}
	var px, py, half []float64
	for _, q := range moisture.PublishedPoints() {
		if q.LowAw == q.HighAw { // points; the boxes of whole studies are left out
			l, h := 100*q.LowDryPct/(100+q.LowDryPct), 100*q.HighDryPct/(100+q.HighDryPct)
			px, py, half = append(px, q.LowAw), append(py, (l+h)/2), append(half, (h-l)/2)
		}
	}
	points = append(points, figure.Points{Name: "published points", X: px, Y: py, Err: half, Shape: figure.Ring})
	out.Figure(figure.Plot{
		Title:  "Moisture against water activity",
		Desc:   out.Say("The isotherm at {} with its standard error as a band; {} of moisture is an activity of {}.", in.Text("t"), in.Text("m"), catalogue.Num(a.Aw, 2)),
		X:      figure.Axis{Label: "Water activity"},
		Y:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
		Bands:  []figure.Band{{Name: "curve ± its error", X: g, Lo: lo, Hi: hi}},
		Lines:  []figure.Line{{Name: "curve", X: g, Y: mid}},
		Points: points,
		Marks:  []figure.Mark{{Name: "mould", At: moisture.GrowthLimitAw, Vertical: true}, {Name: "12.5 %", At: moisture.CodexMaxMoisturePct}},
	})
	return nil
}

func ownIsotherm() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "own-isotherm",
		Place:    catalogue.GreenStore,
		Order:    40,
		Name:     "An isotherm of our own",
		Question: "Which curve do our own pairs of moisture and activity make?",
		Keywords: "aw water activity GAB Oswin Henderson fit sorption monolayer",
		Fields: []catalogue.Field{
			{ID: "pairs", Label: "Samples of one lot", Kind: catalogue.Series, GoField: "Pairs",
				Columns: []catalogue.Column{
					{ID: "a", Label: "Activity", Min: moisture.MinAw, Max: 0.99},
					{ID: "m", Label: "Moisture", Unit: "%", Min: moisture.MinMoisturePct, Max: moisture.MaxMoisturePct}},
				Example: "0.35 8.1\n0.45 9.2\n0.55 10.3\n0.62 11.2\n0.70 12.5\n0.78 14.3",
				Help:    "One sample a line: activity, then moisture in percent. Four at least, six or more are better, all at one temperature"},
			number("m", "Moisture to judge", "M", "%", moisture.MinMoisturePct, moisture.MaxMoisturePct, "11.8", 0.3, "MoisturePct", "Wet basis, of a sack of the same lot, like 11.8"),
		},
		Outputs: []catalogue.Output{
			{ID: "a", Label: "Water activity at this moisture", Symbol: "a_w"},
			{ID: "form", Label: "Curve chosen"},
			{ID: "p0", Label: "First constant, % dry basis"},
			{ID: "p1", Label: "Second constant"},
			{ID: "p2", Label: "Third constant"},
			{ID: "s", Label: "Scatter about the curve, dry basis", Symbol: "s", Unit: "%"},
		},
		Limits:   []catalogue.Limit{{Output: "a", Lo: nan, Hi: moisture.GrowthLimitAw, Source: growth, Caution: mouldCaution}},
		Compute:  computeOwn,
		Cautions: []string{mouldCaution},
		Sources: []catalogue.Source{
			{Name: "GAB, Oswin and Henderson equations, as usually written", Provenance: "memory"},
			{Name: "Kass & Raftery, J. Am. Stat. Assoc. 90, 1995", Locator: "differences of BIC below 2", Provenance: "memory"},
		},
		Checks: []catalogue.Check{{Package: "moisture", Quantity: "GAB content"}, {Package: "moisture", Quantity: "GAB monolayer fitted"}},
	}
}

func computeOwn(in *catalogue.In, out *catalogue.Out) error {
	cols := in.Columns("pairs")
	pairs := make([]moisture.IsothermPair, len(cols[0]))
	const at = 20 // the curve holds at the temperature of its pairs, whichever it is
	for i := range pairs {
		pairs[i] = moisture.IsothermPair{Aw: cols[0][i], MoisturePct: cols[1][i], TempC: at}
	}
	c, err := moisture.ChooseIsotherm(pairs)
	if err != nil {
		return err
	}
	best := c.Best
	bean := moisture.Bean{MoisturePct: in.F("m"), TempC: at}
	a, err := moisture.WaterActivity(best.Curve, bean)
	if err != nil {
		return err
	}
	out.SetU("a", a.Aw, a.SEAw, "scatter of the pairs")
	out.SetWords("form", best.Curve.Form.String())
	out.SetU("p0", best.Curve.P[0], best.SE[0], "scatter of the pairs")
	out.SetU("p1", best.Curve.P[1], best.SE[1], "scatter of the pairs")
	if best.Curve.Form == moisture.FormGAB {
		out.SetU("p2", best.Curve.P[2], best.SE[2], "scatter of the pairs")
	}
	out.Set("s", best.Curve.SEDryPct)
	if !out.Full() {
		return nil
	}
	x := 100 * bean.MoisturePct / (100 - bean.MoisturePct)
	value := []string{"X", pct(x, 4), "a_w", catalogue.Num(a.Aw, 3)}
	p := func(i int) string { return catalogue.Num(best.Curve.P[i], 4) }
	switch best.Curve.Form {
	case moisture.FormGAB:
		out.Work("X = m_0*C*K*a_w/((1 - K*a_w)*(1 - K*a_w + C*K*a_w))", append(value, "m_0", p(0), "C", p(1), "K", p(2))...)
	case moisture.FormOswin:
		out.Work("X = A*(a_w/(1 - a_w))^B", append(value, "A", p(0), "B", p(1))...)
	default:
		out.Work("X = A*(-ln(1 - a_w))^B", append(value, "A", p(0), "B", p(1))...)
	}
	var rows [][]string
	var lines []figure.Line
	lo, hi := best.Curve.MinAw, best.Curve.MaxAw
	g := grid(max(lo-0.05, moisture.MinAw), min(hi+0.05, 0.95), 60)
	for i, f := range c.Fits {
		if f.PairsCount == 0 {
			continue
		}
		rows = append(rows, []string{f.Curve.Form.String(), catalogue.Num(f.Curve.SEDryPct, 2), catalogue.Num(f.BICIndex, 4)})
		style := figure.Solid
		if f.Curve.Form != best.Curve.Form {
			style = figure.Dashed
		}
		lines = append(lines, figure.Line{Name: f.Curve.Form.String(), X: g, Style: style, Y: each(g, func(aw float64) float64 {
			e, err := moisture.EquilibriumMoisture(c.Fits[i].Curve, moisture.Air{TempC: at, RHPct: 100 * aw})
			if err != nil {
				return nan
			}
			return e.MoisturePct
		})})
	}
	out.Table("The three forms", []string{"Form", "Scatter, % dry basis", "BIC, lower is better"}, rows)
	out.Note("The curve holds at the temperature of its pairs and between them.")
	say(out, c.Notes|a.Notes)
	out.Figure(figure.Plot{
		Title:  "Our own isotherm",
		Desc:   out.Say("{} pairs and the curves fitted to them; {} of moisture is an activity of {}.", catalogue.Shortest(float64(best.PairsCount)), in.Text("m"), catalogue.Num(a.Aw, 2)),
		X:      figure.Axis{Label: "Water activity"},
		Y:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
		Lines:  lines,
		Points: []figure.Points{{Name: "pairs", X: cols[0], Y: cols[1]}, {Name: "to judge", X: []float64{a.Aw}, Y: []float64{bean.MoisturePct}, Shape: figure.Diamond}},
		Marks:  []figure.Mark{{Name: "mould", At: moisture.GrowthLimitAw, Vertical: true}},
	})
	return nil
}

func carryActivity() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "activity-temperature",
		Place:    catalogue.GreenStore,
		Order:    36,
		Name:     "Activity at another temperature",
		Question: "The meter read this activity in a warm room. What is it in the store?",
		Keywords: "water activity isosteric heat Clausius Clapeyron aw temperature correction",
		Fields: []catalogue.Field{
			number("a", "Activity read", "a_1", "", moisture.MinAw, moisture.MaxAw, "0.67", 0.01, "Aw", "0 to 1, as the activity meter shows it, like 0.67"),
			content("m", "Moisture of the sample", "M", "11.8", "MoisturePct"),
			temperature("t1", "Temperature of the reading", "t_1", "25.0", "FromC"),
			temperature("t2", "Temperature of the store", "t_2", "15.0", "ToC"),
		},
		Outputs: []catalogue.Output{{ID: "a2", Label: "Activity in the store", Symbol: "a_2"}, {ID: "q", Label: "Net isosteric heat", Symbol: "q", Unit: "kJ/kg"}},
		Limits:  []catalogue.Limit{{Output: "a2", Lo: nan, Hi: moisture.GrowthLimitAw, Source: growth, Caution: mouldCaution}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			s := moisture.SealedSample{Aw: in.F("a"), MoisturePct: in.F("m"), FromC: in.F("t1"), ToC: in.F("t2")}
			c, err := moisture.CarryActivity(s)
			if err != nil {
				return err
			}
			out.Set("a2", c.Aw)
			out.Set("q", c.NetKJPerKg)
			if !out.Full() {
				return nil
			}
			out.Work("a_2 = a_1*exp(q/R_w*(1/T_1 - 1/T_2))", "a_2", catalogue.Num(c.Aw, 3), "a_1", in.Text("a"), "q", catalogue.Num(c.NetKJPerKg, 4)+" kJ/kg",
				"R_w", "0.46152 kJ/(kg K)", "T_1", catalogue.Num(s.FromC+273.15, 5)+" K", "T_2", catalogue.Num(s.ToC+273.15, 5)+" K")
			out.Note("The sample is sealed: warming raises its activity although its moisture stays.")
			say(out, c.Notes)
			g := grid(max(min(s.FromC, s.ToC)-5, 0), min(max(s.FromC, s.ToC)+5, 70), 40)
			out.Figure(figure.Plot{
				Title: "Activity of the sealed sample",
				Desc:  out.Say("Activity against temperature: {} at {} and {} at {}.", in.Text("a"), in.Text("t1"), catalogue.Num(c.Aw, 3), in.Text("t2")),
				X:     figure.Axis{Label: "Temperature", Unit: "°C"},
				Y:     figure.Axis{Label: "Water activity"},
				Lines: []figure.Line{{Name: "this moisture", X: g, Y: each(g, func(t float64) float64 {
					s.ToC = t
					c, err := moisture.CarryActivity(s)
					if err != nil {
						return nan
					}
					return c.Aw
				})}},
				Points: []figure.Points{{Name: "read", X: []float64{in.F("t1")}, Y: []float64{in.F("a")}}, {Name: "in the store", X: []float64{in.F("t2")}, Y: []float64{c.Aw}, Shape: figure.Diamond}},
			})
			return nil
		},
		Cautions: []string{mouldCaution},
		Sources:  []catalogue.Source{{Name: "Trejos, Roa & Oliveros, Cenicafé 40(1), 1989", Locator: "eq. 6", Provenance: "quoted"}},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "heat of sorption"}},
	}
}
