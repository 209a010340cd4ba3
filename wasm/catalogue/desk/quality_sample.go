package desk

import (
	"math"

	"example.org/evenlot/checkpoint/sampling"
	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

const oxygenReadings = "0.8\n1.1\n0.9\n1.3\n1.0\n1.2\n0.7\n1.1\n1.4\n1.0"

// saySampling turns the notes of package sampling into notes of the sheet.
func saySampling(out *catalogue.Out, n sampling.Notes) {
	if n&sampling.CoarseMeter != 0 {
		out.Note("The readings scatter less than the meter's step can show: the step stands in for the scatter.")
	}
	if n&sampling.FewReadings != 0 {
		out.Note("So few readings make a wide bound; one odd reading decides.")
	}
	if n&sampling.Suspects != 0 {
		out.Note("At least one reading is unlike the rest. It is counted. Look for a cause; without one it stays.")
	}
	if n&sampling.MostBelow != 0 {
		out.Note("Most readings are below detection: the best estimate rests on the shape assumed.")
	}
	if n&sampling.Arrow != 0 {
		out.Note("The table has no plan of its own in that cell and points to another letter.")
	}
	if n&sampling.WholeLot != 0 {
		out.Note("The plan asks for the whole lot: look at every unit.")
	}
}

func meanOfReadings() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "readings",
		Place:    catalogue.QualityDesk,
		Order:    20,
		Name:     "Readings of one lot",
		Question: "What do these readings say together, and is one of them odd?",
		Keywords: "mean standard deviation outlier grubbs rosner median robust average replicate cups",
		Fields: []catalogue.Field{
			readingsField("Readings", "", "1.38\n1.40\n1.39\n1.52\n1.41\n1.38", "readings", "One a line, at least three, in any unit"),
			shareField("sure", "Confidence of the interval", "γ", "95", "coveragePct", "Like 95", 50, 99.99),
			shareField("alpha", "Significance of the outlier test", "α", "5", "alphaPct", "How often it may flag a reading that is quite ordinary, like 5", sampling.MinAlphaPct, sampling.MaxAlphaPct),
		},
		Outputs: []catalogue.Output{
			{ID: "mean", Label: "Mean", Symbol: "x_m"},
			{ID: "half", Label: "Interval of the mean, up and down", Symbol: "U"},
			{ID: "sd", Label: "Standard deviation of one reading", Symbol: "s"},
			{ID: "odd", Label: "The oddest reading"},
			{ID: "robust", Label: "Mean that odd readings cannot pull"},
			{ID: "median", Label: "Median"},
		},
		Compute:  computeReadings,
		Cautions: []string{"A flag is a reason to look, not to delete. A reading is set aside for a cause that was found, and that is written down."},
		Sources:  []catalogue.Source{guide, grubbsPaper, {Name: "ISO 13528:2015, robust analysis", Locator: "Algorithm A", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/sampling", Quantity: "distance of the oddest reading"}, {Package: "checkpoint/sampling", Quantity: "greatest distance of one reading by chance, two-sided"}, {Package: "checkpoint/sampling", Quantity: "robust mean, Algorithm A"}, {Package: "checkpoint/uncertainty", Quantity: "mean of readings"}},
	}
}

func computeReadings(in *catalogue.In, out *catalogue.Out) error {
	x := in.Columns("x")[0]
	q, err := uncertainty.FromReadings(x)
	if err != nil {
		return err
	}
	k, err := uncertainty.CoverageFactor(in.F("sure"), q.DF)
	if err != nil {
		return err
	}
	odd, err := sampling.Grubbs(x, in.F("alpha"))
	if err != nil {
		return err
	}
	robust, err := sampling.RobustMean(x)
	if err != nil {
		return err
	}
	sd := q.U * math.Sqrt(float64(len(x)))
	out.SetU("mean", q.Value, q.U, "the scatter of the readings")
	setSig(out, "half", k*q.U, 2)
	setSig(out, "sd", sd, 2)
	setPlace(out, "robust", robust.Mean, q.U)
	out.Set("median", robust.Median)
	switch {
	case odd.Critical == 0:
		out.SetWords("odd", out.Say("there is none: all are alike"))
	case odd.Flagged:
		out.SetWords("odd", out.Say("line {}, {}: flagged", counted(odd.Index+1), catalogue.Shortest(odd.Value)))
	default:
		out.SetWords("odd", out.Say("line {}, {}: not unlike the rest", counted(odd.Index+1), catalogue.Shortest(odd.Value)))
	}
	if !out.Full() {
		return nil
	}
	out.Work("u = s/sqrt(n)", "u", num4(q.U), "s", num4(sd), "n", counted(len(x)))
	out.Work("U = t*u", "U", num4(k*q.U), "t", num4(k), "u", num4(q.U))
	flags := make([]bool, len(x))
	if odd.Critical > 0 {
		out.Work("G = abs(x - x_m)/s", "G", num4(odd.G), "x", catalogue.Shortest(odd.Value), "x_m", num4(q.Value), "s", num4(sd))
		out.Note("Chance alone explains a G of up to {} for {} readings.", num4(odd.Critical), counted(len(x)))
	}
	if most := min(3, len(x)-3); len(x) >= 5 && most >= 1 {
		list, err := sampling.Rosner(x, most, in.F("alpha"))
		if err != nil {
			return err
		}
		n := 0
		for _, s := range list {
			if s.Flagged {
				flags[s.Index] = true
				n++
			}
		}
		if n > 1 {
			out.Note("{} readings together are unlike the rest, hiding each other from the simple test.", counted(n))
		}
	} else if odd.Flagged {
		flags[odd.Index] = true
	}
	shown := min(len(x), drawn)
	n := float64(shown + 1)
	out.Figure(figure.Plot{
		Title:  "The readings",
		Desc:   out.Say("{} readings with their mean and its interval; flagged ones are ringed.", counted(len(x))),
		X:      figure.Axis{Label: "Line", Min: 0, Max: n},
		Y:      figure.Axis{Label: "Reading"},
		Bands:  []figure.Band{{Name: "mean and its interval", X: []float64{0, n}, Lo: []float64{q.Value - k*q.U, q.Value - k*q.U}, Hi: []float64{q.Value + k*q.U, q.Value + k*q.U}}},
		Points: []figure.Points{{Name: "readings", X: numbered(shown), Y: x[:shown], Flagged: flags[:shown]}},
		Marks:  []figure.Mark{{Name: "median", At: robust.Median}},
	})
	return nil
}

func lotBound() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "lot-bound",
		Place:    catalogue.QualityDesk,
		Order:    22,
		Name:     "What the lot holds",
		Question: "Is nearly all of this lot within its limit, judging by a few readings?",
		Keywords: "tolerance interval bound coverage confidence oxygen bags sample lot release",
		Fields: []catalogue.Field{
			readingsField("Readings", "", oxygenReadings, "readings", "One unit of the lot a line, at least two, in any unit: oxygen in ten bags of one run, in %"),
			chosen("side", "The claim is", "Side", "Which end of the lot it is about", "upper",
				catalogue.Option{ID: "upper", Label: "nearly all lies below a bound"}, catalogue.Option{ID: "lower", Label: "nearly all lies above a bound"}, catalogue.Option{ID: "both", Label: "nearly all lies between two bounds"}),
			coverageField(), claimConfidence(),
			chosen("shape", "The readings are", "", "Amounts that cannot be negative and are often near zero are skewed", "log",
				catalogue.Option{ID: "log", Label: "over zero and skewed: take logarithms"}, catalogue.Option{ID: "plain", Label: "spread alike up and down"}),
			spare(given("d", "Smallest step shown", "d", "", 0, 1e9, "0.1", "Division", "Of the meter, so that equal readings are not taken for no scatter. Empty for a fine meter")),
			spare(given("limit", "Limit", "T", "", -1e9, 1e9, "2", "", "What the claim is held against; for two bounds the upper one. Empty for none")),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "The claim"},
			{ID: "hi", Label: "Upper bound", Symbol: "B_U"},
			{ID: "lo", Label: "Lower bound", Symbol: "B_L"},
			{ID: "mean", Label: "Mean of the readings"},
			{ID: "k", Label: "Factor", Symbol: "k"},
		},
		Compute: computeLotBound,
		Cautions: []string{
			"The units must come from all over one lot. Ten readings of one bag are one bag.",
			"A mean within the limit says nothing of single bags.",
		},
		Sources: []catalogue.Source{toleranceISO, {Name: "Millard, an R package for environmental statistics, v3.1.0, 2025", Locator: "tolerance intervals", Provenance: "opened"}},
		Checks:  []catalogue.Check{{Package: "checkpoint/sampling", Quantity: "one-sided tolerance factor"}, {Package: "checkpoint/sampling", Quantity: "two-sided tolerance factor"}, {Package: "checkpoint/sampling", Quantity: "upper bound of a lognormal lot"}},
	}
}

func computeLotBound(in *catalogue.In, out *catalogue.Out) error {
	x := in.Columns("x")[0]
	side := map[string]sampling.Side{"upper": sampling.Upper, "lower": sampling.Lower, "both": sampling.Both}[in.Choice("side")]
	claim := sampling.Claim{CoveragePct: in.F("cover"), ConfidencePct: in.F("sure"), Side: side, Lognormal: in.Choice("shape") == "log", Division: in.F("d")}
	b, err := sampling.ToleranceBound(x, claim)
	if err != nil {
		return err
	}
	if side != sampling.Lower {
		setSig(out, "hi", b.Hi, 3)
	}
	if side != sampling.Upper {
		setSig(out, "lo", b.Lo, 3)
	}
	setSig(out, "mean", b.Mean, 3)
	out.Set("k", b.K)
	limit := in.F("limit")
	held := b.Hi <= limit
	if side == sampling.Lower {
		held = b.Lo >= limit
	}
	switch {
	case !in.Has("limit"):
		out.SetWords("word", out.Say("is not held against any limit"))
	case held:
		out.SetWords("word", out.Say("holds: the bound is within the limit"))
	default:
		out.SetWords("word", out.Say("cannot be made from these readings: the bound is beyond the limit"))
	}
	if !out.Full() {
		return nil
	}
	k, s := num4(b.K), num4(b.SD)
	switch {
	case claim.Lognormal && side != sampling.Lower:
		out.Work("B_U = exp(m + k*s)", "B_U", num4(b.Hi), "m", num4(math.Log(b.Mean)), "k", k, "s", s)
	case claim.Lognormal:
		out.Work("B_L = exp(m - k*s)", "B_L", num4(b.Lo), "m", num4(math.Log(b.Mean)), "k", k, "s", s)
	case side != sampling.Lower:
		out.Work("B_U = m + k*s", "B_U", num4(b.Hi), "m", num4(b.Mean), "k", k, "s", s)
	default:
		out.Work("B_L = m - k*s", "B_L", num4(b.Lo), "m", num4(b.Mean), "k", k, "s", s)
	}
	if claim.Division > 0 {
		out.Note("Half of the smallest step is added to the bound.")
	}
	if claim.Lognormal {
		out.Note("Mean and deviation are those of the natural logarithms; the mean shown is the geometric one.")
	}
	out.Note("At least {} of the lot lies within the bound, with a confidence of {}.", in.Text("cover"), in.Text("sure"))
	saySampling(out, b.Notes)
	shown := min(len(x), drawn)
	n := float64(shown + 1)
	p := figure.Plot{
		Title:  "Readings and the bound of the lot",
		Desc:   out.Say("{} readings, the bound for {} of the lot with a confidence of {}, and the limit.", counted(len(x)), in.Text("cover"), in.Text("sure")),
		X:      figure.Axis{Label: "Unit drawn", Min: 0, Max: n},
		Y:      figure.Axis{Label: "Reading"},
		Points: []figure.Points{{Name: "readings", X: numbered(shown), Y: x[:shown]}},
		Marks:  []figure.Mark{{Name: "mean", At: b.Mean}},
	}
	if side != sampling.Lower {
		p.Marks = append(p.Marks, figure.Mark{Name: "upper bound", At: b.Hi})
	}
	if side != sampling.Upper {
		p.Marks = append(p.Marks, figure.Mark{Name: "lower bound", At: b.Lo})
	}
	if in.Has("limit") {
		p.Marks = append(p.Marks, figure.Mark{Name: "limit", At: limit})
	}
	out.Figure(p)
	return nil
}

func howMany() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "how-many",
		Place:    catalogue.QualityDesk,
		Order:    24,
		Name:     "How many to sample",
		Question: "How many units must be read, or counted, to make this claim?",
		Keywords: "sample size zero failure success run lot bags coverage confidence destructive",
		Fields: []catalogue.Field{
			coverageField(), claimConfidence(),
			given("mean", "Mean to be expected", "m", "", -1e9, 1e9, "1.05", "", "From earlier lots, in any unit"),
			given("sd", "Standard deviation to be expected", "s", "", 1e-6, 1e9, "0.22", "", "From earlier lots, same unit: not the meter's, the units'"),
			given("limit", "Limit", "T", "", -1e9, 1e9, "2", "", "Same unit; above or below the mean"),
			spare(given("lot", "Units in the lot", "N", "", 1, sampling.MaxUnits, "600", "lot", "For counting in a small lot. Empty for a lot without end")),
		},
		Outputs: []catalogue.Output{
			{ID: "n", Label: "Units to read", Symbol: "n"},
			{ID: "c", Label: "Units to count, all good", Symbol: "n_0"},
			{ID: "margin", Label: "Margin, in standard deviations", Symbol: "M"},
		},
		Compute: computeHowMany,
		Cautions: []string{
			"With just so many readings the claim succeeds about every other time, even if the lot is as expected: take a few more.",
			"Counting needs no assumption about the shape of the lot; reading needs a normal one.",
		},
		Sources: []catalogue.Source{toleranceISO, {Name: "success-run theorem", Provenance: "memory"}},
		Checks:  []catalogue.Check{{Package: "checkpoint/sampling", Quantity: "units that must all be good"}, {Package: "checkpoint/sampling", Quantity: "one-sided tolerance factor"}},
	}
}

func computeHowMany(in *catalogue.In, out *catalogue.Out) error {
	cover, sure := in.F("cover"), in.F("sure")
	margin := math.Abs(in.F("limit")-in.F("mean")) / in.F("sd")
	setSig(out, "margin", margin, 3)
	var c int
	var err error
	if in.Has("lot") {
		if err := wholes(in, "lot", "lot"); err != nil {
			return err
		}
		lot := in.Int("lot")
		bad := int(float64(lot) * (100 - cover) / 100)
		c, err = sampling.ZeroFailureInLot(lot, min(bad, lot-1), sure)
	} else {
		c, err = sampling.ZeroFailure(cover, sure)
	}
	if err != nil {
		return err
	}
	out.SetCount("c", c)
	n, err := 0, error(nil)
	if margin >= 0.01 && margin <= 1000 {
		n, err = sampling.ReadingsForBound(margin, cover, sure)
	}
	if n == 0 || err != nil {
		out.SetWords("n", out.Say("no number is enough: the limit is too near the mean, or too far to need one"))
	} else {
		out.SetCount("n", n)
	}
	if margin > 1000 {
		out.SetCount("n", 2)
		n = 2
	}
	if !out.Full() {
		return nil
	}
	out.Work("M = abs(T - m)/s", "M", num4(margin), "T", in.Text("limit"), "m", in.Text("mean"), "s", in.Text("sd"))
	if !in.Has("lot") {
		out.Work("n_0 = ln(1 - γ)/ln(p)", "n_0", counted(c), "γ", catalogue.Shortest(sure/100), "p", catalogue.Shortest(cover/100))
	}
	if n > 0 {
		k, err := sampling.OneSidedFactor(n, cover, sure)
		if err != nil {
			return err
		}
		out.Note("With {} readings the factor is {}, which the margin just covers.", counted(n), num4(k))
	}
	if !out.Pictured() {
		return nil
	}
	var x, y []float64
	for _, m := range [...]int{2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 25, 30, 40, 50, 70, 100, 150, 200} {
		k, err := sampling.OneSidedFactor(m, cover, sure)
		if err != nil {
			return err
		}
		x, y = append(x, float64(m)), append(y, k)
	}
	p := figure.Plot{
		Title: "Margin needed by number of readings",
		Desc:  out.Say("The more units are read, the nearer the limit may stand to the mean."),
		X:     figure.Axis{Label: "Units read", Log: true},
		Y:     figure.Axis{Label: "Margin needed, in standard deviations", Log: true},
		Lines: []figure.Line{{Name: "needed", X: x, Y: y}},
	}
	if margin > 0 && margin <= 1000 {
		p.Marks = []figure.Mark{{Name: "yours", At: margin}}
	}
	out.Figure(p)
	return nil
}

func acceptancePlan() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "acceptance-plan",
		Place:    catalogue.QualityDesk,
		Order:    26,
		Name:     "Acceptance plan",
		Question: "How many units must be checked so that good lots pass and bad lots do not?",
		Keywords: "sampling plan oc curve aql producer consumer risk attributes variables inspection leak seal",
		Fields: []catalogue.Field{
			shareField("good", "A good lot has bad units", "p_1", "1", "GoodPct", "At most so many, like 1", 0.001, 50),
			shareField("pass", "It shall pass with", "P_1", "95", "GoodAcceptPct", "At least so often, like 95", 50.01, 99.99),
			shareField("bad", "A bad lot has bad units", "p_2", "8", "BadPct", "Or more, like 8", 0.002, 90),
			shareField("slip", "It may slip through with", "P_2", "10", "BadAcceptPct", "At most so often, like 10", 0.01, 49.99),
			spare(given("n", "Your own plan: units", "n", "", 1, 1e6, "13", "N", "To compare with: how many you check now")),
			spare(given("c", "Your own plan: bad ones allowed", "c", "", 0, 1e6, "0", "Ac", "And with how many bad ones you still accept")),
		},
		Outputs: []catalogue.Output{
			{ID: "n", Label: "By counting: units to check", Symbol: "n"},
			{ID: "c", Label: "accept with bad ones, at most", Symbol: "c"},
			{ID: "v", Label: "By measuring: units to read", Symbol: "n_v"},
			{ID: "k", Label: "accept where the mean is inside the limit by, in standard deviations", Symbol: "k"},
			{ID: "own", Label: "Your plan lets the bad lot through with", Unit: "%"},
		},
		Compute:  computePlan,
		Cautions: []string{"A plan protects the average of many lots. To claim something of this lot see what the lot holds."},
		Sources:  []catalogue.Source{{Name: "Kiermeier, an R package on acceptance sampling, J. Stat. Software 26(6), 2008", Locator: "section 3", Provenance: "opened"}, {Name: "ISO 2859-1:1999; ISO 3951-1:2013", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/sampling", Quantity: "smallest plan by counting, units"}, {Package: "checkpoint/sampling", Quantity: "smallest plan by measuring, units"}, {Package: "checkpoint/sampling", Quantity: "chance of acceptance by counting"}, {Package: "checkpoint/sampling", Quantity: "chance of acceptance by measuring"}},
	}
}

func computePlan(in *catalogue.In, out *catalogue.Out) error {
	points := sampling.Points{GoodPct: in.F("good"), GoodAcceptPct: in.F("pass"), BadPct: in.F("bad"), BadAcceptPct: in.F("slip")}
	plan, err := sampling.PlanAttributes(points)
	if err != nil {
		return err
	}
	reading, err := sampling.PlanVariables(points, false)
	if err != nil {
		return err
	}
	out.SetCount("n", plan.N)
	out.SetCount("c", plan.Ac)
	out.SetCount("v", reading.N)
	out.Set("k", reading.K)
	own, owned := sampling.Attributes{}, in.Has("n") && in.Has("c")
	if owned {
		if err := wholes(in, "n", "N", "c", "Ac"); err != nil {
			return err
		}
		own = sampling.Attributes{N: in.Int("n"), Ac: in.Int("c")}
		p, err := sampling.AcceptPct(own, points.BadPct)
		if err != nil {
			return err
		}
		setSig(out, "own", p, 3)
	}
	if !out.Full() {
		return nil
	}
	good, err := sampling.AcceptPct(plan, points.GoodPct)
	if err != nil {
		return err
	}
	bad, err := sampling.AcceptPct(plan, points.BadPct)
	if err != nil {
		return err
	}
	if plan.Ac == 0 {
		out.Work("P_a = (1 - p_1)^n", "P_a", percent(good, 4), "p_1", in.Text("good"), "n", counted(plan.N))
	} else {
		out.Work("r = n/n_v", "r", catalogue.Num(float64(plan.N)/float64(reading.N), 2), "n", counted(plan.N), "n_v", counted(reading.N))
	}
	out.Note("By counting, the good lot passes with {} and the bad one with {}.", percent(good, 4), percent(bad, 3))
	out.Note("Measuring needs fewer units, but a lot that is normal about one level.")
	top := math.Min(100, 1.8*points.BadPct)
	oc := func(a sampling.Attributes) ([]float64, []float64) {
		return curve(0, top, 60, func(p float64) (float64, bool) {
			v, err := sampling.AcceptPct(a, p)
			return v, err == nil
		})
	}
	x, y := oc(plan)
	lines := []figure.Line{{Name: "by counting", X: x, Y: y}}
	x, y = curve(top/60, top, 59, func(p float64) (float64, bool) {
		v, err := sampling.AcceptVariablesPct(reading, math.Min(p, 99.99))
		return v, err == nil
	})
	lines = append(lines, figure.Line{Name: "by measuring", X: x, Y: y, Style: figure.Dashed})
	if owned {
		x, y = oc(own)
		lines = append(lines, figure.Line{Name: "yours", X: x, Y: y, Style: figure.Dotted})
	}
	out.Figure(figure.Plot{
		Title:  "How often a lot passes",
		Desc:   out.Say("The chance that a lot is accepted, by how many of its units are bad."),
		X:      figure.Axis{Label: "Bad units in the lot", Unit: "%", Min: 0, Max: top},
		Y:      figure.Axis{Label: "Lots accepted", Unit: "%", Min: 0, Max: 100},
		Lines:  lines,
		Points: []figure.Points{{Name: "wanted", X: []float64{points.GoodPct, points.BadPct}, Y: []float64{points.GoodAcceptPct, points.BadAcceptPct}, Shape: figure.Diamond}},
	})
	return nil
}

func belowDetection() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "below-detection",
		Place:    catalogue.QualityDesk,
		Order:    28,
		Name:     "Readings below detection",
		Question: "What is the mean when the meter could not see some of the readings?",
		Keywords: "censored nondetect detection limit left-censored oxygen residue",
		Fields: []catalogue.Field{
			readingsField("Readings that were seen", "", "0.12\n0.15\n0.18\n0.24\n0.31\n0.40", "Detected", "One a line, at least two, in any unit; not those below detection"),
			given("m", "Readings below detection", "m", "", 0, 1e6, "4", "Below", "How many the meter could not see, like 4"),
			given("d", "Detection limit", "d", "", 1e-6, 1e9, "0.1", "Limit", "The least that the meter shows, same unit"),
			chosen("shape", "The readings are", "", "Amounts that cannot be negative and are often near zero are skewed", "log",
				catalogue.Option{ID: "log", Label: "over zero and skewed: take logarithms"}, catalogue.Option{ID: "plain", Label: "spread alike up and down"}),
		},
		Outputs: []catalogue.Output{
			{ID: "mean", Label: "Mean, most likely", Symbol: "x_m"},
			{ID: "lo", Label: "Mean, were the unseen ones zero", Symbol: "m_0"},
			{ID: "hi", Label: "Mean, were they at the limit", Symbol: "m_d"},
			{ID: "sd", Label: "Standard deviation, most likely", Symbol: "s"},
			{ID: "share", Label: "Readings below detection", Unit: "%"},
			{ID: "most", Label: "Of the lot below detection, at most (95 %)", Unit: "%"},
		},
		Compute:  computeBelow,
		Cautions: []string{"Never enter half of the limit, or zero, for a reading that was not seen: it invents data. A limit of the law is judged by the higher mean."},
		Sources:  []catalogue.Source{{Name: "Cohen, Technometrics 1, 1959", Provenance: "memory"}, {Name: "Helsel, Statistics for censored environmental data, 2012", Provenance: "memory"}},
	}
}

func computeBelow(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "m", "Below"); err != nil {
		return err
	}
	x := in.Columns("x")[0]
	e, err := sampling.Below(sampling.Censored{Detected: x, Below: in.Int("m"), Limit: in.F("d"), Lognormal: in.Choice("shape") == "log"})
	if err != nil {
		return err
	}
	setSig(out, "mean", e.Mean, 2)
	setSig(out, "lo", e.LowMean, 3)
	setSig(out, "hi", e.HighMean, 3)
	setSig(out, "sd", e.SD, 2)
	setSig(out, "share", e.BelowPct, 3)
	setSig(out, "most", e.MaxBelowPct, 2)
	if !out.Full() {
		return nil
	}
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	out.Work("m_0 = S/(n + m)", "m_0", num4(e.LowMean), "S", num4(sum), "n", counted(len(x)), "m", in.Text("m"))
	out.Work("m_d = (S + m*d)/(n + m)", "m_d", num4(e.HighMean), "S", num4(sum), "n", counted(len(x)), "m", in.Text("m"), "d", in.Text("d"))
	out.Note("The most likely mean comes from the shape of the readings that were seen, by maximum likelihood.")
	saySampling(out, e.Notes)
	shown := min(len(x), drawn)
	n := float64(shown + 1)
	out.Figure(figure.Plot{
		Title:  "What was seen, and where the mean lies",
		Desc:   out.Say("{} readings were seen, {} were not; the mean lies between {} and {}.", counted(len(x)), in.Text("m"), num4(e.LowMean), num4(e.HighMean)),
		X:      figure.Axis{Label: "Reading that was seen", Min: 0, Max: n},
		Y:      figure.Axis{Label: "Reading", Min: 0, Max: math.NaN()},
		Bands:  []figure.Band{{Name: "the mean lies here", X: []float64{0, n}, Lo: []float64{e.LowMean, e.LowMean}, Hi: []float64{e.HighMean, e.HighMean}}},
		Points: []figure.Points{{Name: "seen", X: numbered(shown), Y: x[:shown]}},
		Marks:  []figure.Mark{{Name: "detection limit", At: in.F("d")}},
	})
	return nil
}
