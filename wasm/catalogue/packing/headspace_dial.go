package packing

import (
	"errors"
	"math"

	"example.org/evenlot/checkpoint/sampling"
	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

// Invented readings: one nozzle at 20 L/min into bags of 775 mL.
const exampleReadings = "3 5.1\n3 5.9\n4 3.9\n4 3.2\n5 2.3\n5 2.0\n6 1.5\n6 1.2\n7 0.9\n7 0.8"

func nozzleFit() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "nozzle-fit",
		Place:    catalogue.PackingLine,
		Order:    60,
		Name:     "Set the machine by readings",
		Question: "From oxygen readings at known times: what is the shortest flush that keeps nearly all bags under the limit?",
		Keywords: "dial in fit nozzle tolerance bound prediction interval outlier zero resolution",
		Fields: fields([]catalogue.Field{
			{ID: "rows", Label: "Readings", Kind: catalogue.Series, GoField: "Readings", Example: exampleReadings,
				Columns: []catalogue.Column{{ID: "t", Label: "Time", Unit: "s", Min: 0.01, Max: 36_000}, {ID: "y", Label: "Oxygen", Unit: "%", Min: 0, Max: 100},
					{ID: "q", Label: "Flow", Unit: "L/min", Min: 0.01, Max: 10_000, Optional: true}},
				Help: "Flushing time in s and oxygen in %, one bag a line, and the flow where it was another. Ten bags at three times and more; a reading of 0 is typed as 0"},
			exact(freeField()), exact(flowField("20")), exact(startField()), exact(supplyField()),
			exact(field("res", "Last digit of the meter", "r", "%", 1e-4, 1, "0.1", 0, "ResolutionPct", "Its smallest step, like 0.1")),
		}, under("What must hold",
			exact(field("y", "Oxygen that a bag must stay under", "y_max", "%", 0.001, 50, "2.0", 0, "LimitPct", "2 is the trade's habit, 1 is excellent")),
			exact(field("share", "Of so many bags", "p", "%", 50, 99.9, "95", 0, "coveragePct", "Like 95 of 100")),
			exact(field("conf", "Claimed rightly this often", "γ", "%", 50, 99.9, "95", 0, "confidencePct", "Confidence, like 95 %")),
			exact(field("at", "Another time asked about", "t_2", "s", 0.01, 36_000, "6", 0, "Seconds", "Oxygen is foretold for it, like 6")))),
		Outputs: []catalogue.Output{
			{ID: "s", Label: "Shortest flushing time", Symbol: "t", Unit: "s"},
			{ID: "gas", Label: "Nitrogen for one bag then", Symbol: "V", Unit: "mL"},
			{ID: "mid", Label: "Oxygen of the middle bag then", Unit: "%"},
			{ID: "at", Label: "Oxygen at the time asked about", Unit: "%"},
			{ID: "low", Label: "Oxygen of the next bag then, at least", Unit: "%"},
			{ID: "high", Label: "Oxygen of the next bag then, at most", Unit: "%"},
			{ID: "q", Label: "Nozzle", Symbol: "q", Unit: "%"},
			{ID: "sd", Label: "Bags differ by", Symbol: "s", Unit: "%"},
		},
		Compute: computeNozzle,
		Cautions: []string{
			"The bags tried must be like those to come: same coffee, bag, machine and hand. After any change, try again.",
			readCaution, gasCaution,
		},
		Sources: []catalogue.Source{nozzleBook,
			{Name: "Dempster, Laird and Rubin, J. R. Stat. Soc. B 39, 1977", Locator: "readings known as intervals", Provenance: "memory"},
			{Name: "ISO 16269-6:2014", Locator: "one-sided tolerance bound", Provenance: "memory"},
			{Name: "Iglewicz and Hoaglin, How to Detect and Handle Outliers, 1993", Locator: "modified z-score above 3.5", Provenance: "memory"}},
		Checks: []catalogue.Check{{Package: "headspace", Quantity: "nozzle volumes for a target"}, {Package: "checkpoint/sampling", Quantity: "one-sided tolerance factor"}},
	}
}

func trialOf(in *catalogue.In) headspace.Trial {
	t := headspace.Trial{StartPct: in.F("y0"), SupplyPct: in.F("yn"), ResolutionPct: in.F("res")}
	cols := in.Columns("rows")
	for i, s := range cols[0] {
		flow := in.F("flow")
		if v := cols[2][i]; v == v {
			flow = v
		}
		t.Readings = append(t.Readings, headspace.Reading{FreeML: in.F("v"), FlowLPerMin: flow, Seconds: s, OxygenPct: cols[1][i]})
	}
	return t
}

// shortest takes the tolerance factor for as many readings as the fit is worth
// at its answer.
func shortest(in *catalogue.In, f headspace.NozzleFit) (s headspace.Shortest, k float64, n int, err error) {
	for n = f.Count; n >= 2; {
		if k, err = sampling.OneSidedFactor(n, in.F("share"), in.F("conf")); err != nil {
			return s, k, n, err
		}
		s, err = headspace.ShortestTime(f, headspace.Assurance{FreeML: in.F("v"), FlowLPerMin: in.F("flow"), LimitPct: in.F("y"), ToleranceFactor: math.Max(k, 0.1)})
		if err != nil || s.EffectiveCount >= float64(n) || n == 2 {
			return s, k, n, err
		}
		n = max(2, min(n-1, int(s.EffectiveCount)))
	}
	return s, k, n, err
}

// known is the standard uncertainty that the fit lends to what follows from it:
// by its nozzle, and by its spread, which DF readings tell to 1/√(2·DF).
func known(f headspace.NozzleFit, y func(headspace.NozzleFit) float64) float64 {
	half := func(move func(f *headspace.NozzleFit, sign float64)) float64 {
		up, down := f, f
		move(&up, 1)
		move(&down, -1)
		if d := math.Abs(y(up)-y(down)) / 2; d == d && !math.IsInf(d, 0) {
			return d
		}
		return 0
	}
	return math.Hypot(
		half(func(f *headspace.NozzleFit, sign float64) {
			f.NozzlePct = math.Max(-99, math.Min(100, f.NozzlePct+sign*f.SEPct))
		}),
		half(func(f *headspace.NozzleFit, sign float64) {
			f.SDLn *= 1 + sign/math.Sqrt(2*float64(f.DF))
		}))
}

func computeNozzle(in *catalogue.In, out *catalogue.Out) error {
	trial := trialOf(in)
	f, err := headspace.FitNozzle(trial)
	if err != nil {
		return err
	}
	const why = "the readings"
	s, k, n, err := shortest(in, f)
	var none *headspace.ImpossibleError
	switch {
	case errors.As(err, &none):
		out.Note("No time keeps this limit: the nitrogen's own oxygen and how much bags differ pass it however long the flush.")
	case err != nil:
		return err
	default:
		at := func(f headspace.NozzleFit) headspace.Shortest {
			s, err := headspace.ShortestTime(f, headspace.Assurance{FreeML: in.F("v"), FlowLPerMin: in.F("flow"), LimitPct: in.F("y"), ToleranceFactor: math.Max(k, 0.1)})
			if err != nil {
				return headspace.Shortest{Seconds: nan, GasML: nan, OxygenPct: nan}
			}
			return s
		}
		out.SetU("s", s.Seconds, known(f, func(f headspace.NozzleFit) float64 { return at(f).Seconds }), why)
		out.SetU("gas", s.GasML, known(f, func(f headspace.NozzleFit) float64 { return at(f).GasML }), why)
		out.SetU("mid", s.OxygenPct, known(f, func(f headspace.NozzleFit) float64 { return at(f).OxygenPct }), why)
	}
	foretell := func(f headspace.NozzleFit) (headspace.Prediction, error) {
		return headspace.PredictOxygen(f, headspace.Setting{FreeML: in.F("v"), FlowLPerMin: in.F("flow"), Seconds: in.F("at"), ConfidencePct: in.F("conf")})
	}
	p, err := foretell(f)
	if err != nil {
		return err
	}
	of := func(pick func(headspace.Prediction) float64) float64 {
		return known(f, func(f headspace.NozzleFit) float64 {
			p, err := foretell(f)
			if err != nil {
				return nan
			}
			return pick(p)
		})
	}
	out.SetU("at", p.OxygenPct, of(func(p headspace.Prediction) float64 { return p.OxygenPct }), why)
	out.SetU("low", p.LowPct, of(func(p headspace.Prediction) float64 { return p.LowPct }), why)
	out.SetU("high", p.HighPct, of(func(p headspace.Prediction) float64 { return p.HighPct }), why)
	out.SetU("q", f.NozzlePct, f.SEPct, why)
	out.SetU("sd", 100*math.Expm1(f.SDLn), known(f, func(f headspace.NozzleFit) float64 { return 100 * math.Expm1(f.SDLn) }), why)
	if !out.Full() {
		return nil
	}
	out.Work("ln(y) = ln(y_n + (y_0 - y_n)*M)")
	if none == nil && s.Seconds > 0 {
		out.Work("y = y_max/exp(k*s)", "y", pct(s.OxygenPct, 3), "y_max", in.Text("y"), "k", num(k, 4), "s", num(f.SDLn, 3))
		out.Work("t = θ*V_h/1000/Q*60", "t", num(s.Seconds, 3)+" s", "θ", num(s.Volumes, 3), "V_h", in.Text("v"), "Q", in.Text("flow"))
		if n < f.Count {
			out.Note("At this setting the fit is worth {} readings of the {}: the margin was taken for those.", catalogue.Shortest(float64(n)), catalogue.Shortest(float64(f.Count)))
		}
	}
	say(out, f.Notes|(s.Notes|p.Notes)&headspace.Extrapolated)
	if f.Outliers > 0 {
		out.Note("Without them the nozzle would be {} instead of {} %.", num(f.WithoutPct, 3), num(f.NozzlePct, 3))
	}
	x := make([]float64, f.Count)
	y, flags := make([]float64, f.Count), make([]bool, f.Count)
	least := math.Max(1e-3, s.OxygenPct)
	rows := make([][]string, f.Count)
	for i, r := range trial.Readings {
		j, err := headspace.JudgeReading(f, r)
		if err != nil {
			return err
		}
		x[i], y[i], flags[i] = j.Volumes*r.FreeML/1000, math.Max(r.OxygenPct, f.ResolutionPct/4), j.Outlier
		least = math.Min(least, y[i])
		remark := ""
		switch {
		case j.Outlier:
			remark = out.Say("stands apart, kept")
		case j.Censored:
			remark = out.Say("taken as an interval")
		}
		rows[i] = []string{num(r.Seconds, 3) + " s", pct(r.OxygenPct, 3), pct(j.ExpectedPct, 3), remark}
	}
	out.Table("The readings", []string{"Time", "Oxygen", "By the fit", "Remark"}, rows)
	if !out.Pictured() {
		return nil
	}
	pu := headspace.Purge{StartPct: f.StartPct, SupplyPct: f.SupplyPct, FreeML: in.F("v")}
	most := 1.15 * math.Max(f.MaxVolumes*in.F("v"), math.Max(s.GasML, p.Volumes*in.F("v")))
	band := figure.Band{Name: "next bag"}
	for _, v := range grid(most/80, most, 79) {
		b, err := headspace.PredictOxygen(f, headspace.Setting{FreeML: in.F("v"), FlowLPerMin: in.F("flow"), Seconds: math.Max(0.01, v/1000/in.F("flow")*60), ConfidencePct: in.F("conf")})
		if err != nil {
			continue
		}
		band.X, band.Lo, band.Hi = append(band.X, v/1000), append(band.Lo, b.LowPct), append(band.Hi, math.Min(math.Max(f.StartPct, f.SupplyPct), b.HighPct))
	}
	plot := figure.Plot{
		Title:  "Oxygen against nitrogen used",
		Desc:   out.Say("The readings, the fitted nozzle with the band of the next bag, and the ideals; the nozzle is {} %.", num(f.NozzlePct, 3)),
		X:      figure.Axis{Label: "Nitrogen", Unit: "L"},
		Y:      oxygenAxis(f.SupplyPct, least),
		Bands:  []figure.Band{band},
		Lines:  append(ideals(pu, most, 0), throughNozzle("fitted nozzle", pu, f.NozzlePct, most)),
		Points: []figure.Points{{Name: "readings", X: x, Y: y, Flagged: flags}},
		Marks:  []figure.Mark{{Name: "limit", At: in.F("y")}},
	}
	if none == nil && s.Seconds > 0 {
		plot.Marks = append(plot.Marks, figure.Mark{Name: "shortest", At: s.GasML / 1000, Vertical: true})
	}
	out.Figure(plot)
	return nil
}
