package desk

import (
	"math"

	"example.org/evenlot/checkpoint/chart"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

const lossReadings = "14.8\n15.1\n14.9\n15.0\n15.2\n14.9\n15.1\n15.0\n14.8\n15.0\n15.1\n14.9\n15.0\n15.2\n15.7\n15.4"

// ruleSets are the choices of run rules.
var ruleSets = map[string]chart.Rules{"few": chart.DefaultRules, "we": chart.WesternElectric, "nelson": chart.Nelson, "one": chart.Beyond}

func rulesField() catalogue.Field {
	return chosen("rules", "Rules", "rules", "More rules find more and cry wolf more often", "few",
		catalogue.Option{ID: "few", Label: "1 and 5: beyond three sigma, two of three beyond two"}, catalogue.Option{ID: "one", Label: "1: beyond three sigma"},
		catalogue.Option{ID: "we", Label: "the four of Western Electric"}, catalogue.Option{ID: "nelson", Label: "all eight of Nelson"})
}

// ruleWords says a rule in plain words, each a text of its own.
func ruleWords(out *catalogue.Out, r chart.Rules) string {
	s := ""
	for bit := chart.Rules(1); bit <= chart.Run8; bit <<= 1 {
		if r&bit == 0 {
			continue
		}
		if s != "" {
			s += "; "
		}
		s += out.Say(bit.String())
	}
	return s
}

func controlChart() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "control-chart",
		Place:    catalogue.QualityDesk,
		Order:    30,
		Name:     "Is today like the days before?",
		Question: "Which of these readings do not belong to the process as it was?",
		Keywords: "control chart individuals moving range shewhart run rules nelson western electric spc drift deviation target",
		Fields: []catalogue.Field{
			{ID: "x", Label: "Readings", Kind: catalogue.Series, GoField: "x",
				Columns: []catalogue.Column{{ID: "x", Label: "Reading", Min: -1e9, Max: 1e9}, {ID: "t", Label: "Its target", Min: -1e9, Max: 1e9, Optional: true}},
				Example: lossReadings, Help: "In order of time, one a line, in any unit: weight loss of one profile, in %. A second number is that reading's own target: then deviations are charted, and lots with different targets share one chart"},
			spare(given("base", "Lines from the first", "n_0", "", 2, 1e6, "12", "base", "How many of the first readings were in order and make the lines; twenty are good. Empty for all")),
			rulesField(),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "Called out"},
			{ID: "hi", Label: "Upper line"},
			{ID: "mid", Label: "Centre"},
			{ID: "lo", Label: "Lower line"},
			{ID: "sigma", Label: "Short-term standard deviation", Symbol: "σ"},
			{ID: "arl", Label: "Points to a false call, when nothing is wrong"},
		},
		Compute: computeChart,
		Cautions: []string{
			"These lines come from the process, not from the customer. A process within its lines may still make bad coffee, and the other way round.",
			"A call asks for a cause. Without one change nothing: adjusting to chance makes it worse.",
		},
		Sources: []catalogue.Source{handbook, nelsonPaper, {Name: "Champ & Woodall, Technometrics 29, 1987", Locator: "run lengths", Provenance: "memory"}},
		Checks:  []catalogue.Check{{Package: "checkpoint/chart", Quantity: "individuals, upper line"}, {Package: "checkpoint/chart", Quantity: "individuals, mean moving range"}, {Package: "checkpoint/chart", Quantity: "run length"}, {Package: "checkpoint/chart", Quantity: "length of rule 2"}},
	}
}

// deviations are the readings, or what they miss their targets by where every
// reading has one.
func deviations(cols [][]float64) (x []float64, targets bool, err error) {
	x = cols[0]
	if len(cols) < 2 {
		return x, false, nil
	}
	n := 0
	for _, t := range cols[1] {
		if t == t {
			n++
		}
	}
	switch n {
	case 0:
		return x, false, nil
	case len(x):
		x, err = chart.Deviations(x, cols[1])
		return x, true, err
	}
	return nil, false, missing("give every reading its target, or none")
}

func computeChart(in *catalogue.In, out *catalogue.Out) error {
	x, targets, err := deviations(in.Columns("x"))
	if err != nil {
		return err
	}
	base := len(x)
	if in.Has("base") {
		if err := wholes(in, "base", "base"); err != nil {
			return err
		}
		base = min(base, in.Int("base"))
	}
	pair, err := chart.Individuals(x[:base])
	if err != nil {
		return err
	}
	rules := ruleSets[in.Choice("rules")]
	marks, err := chart.Check(x, pair.Level, rules)
	if err != nil {
		return err
	}
	called := 0
	flags := make([]bool, len(x))
	for i, m := range marks {
		if m != 0 {
			called++
			flags[i] = true
		}
	}
	if called == 0 {
		out.SetWords("word", out.Say("none"))
	} else {
		out.SetWords("word", out.Say("{} of {} readings", counted(called), counted(len(x))))
	}
	l := pair.Level
	setPlace(out, "hi", l.Upper, l.Sigma)
	setPlace(out, "mid", l.Centre, l.Sigma)
	setPlace(out, "lo", l.Lower, l.Sigma)
	setSig(out, "sigma", l.Sigma, 2)
	if arl, err := chart.RunLength(rules&^(chart.Trend|chart.Zigzag), 0); err == nil {
		out.SetCount("arl", int(math.Round(arl)))
	}
	if !out.Full() {
		return nil
	}
	out.Work("σ = R/d_2", "σ", num4(l.Sigma), "R", num4(pair.Spread.Centre), "d_2", "1.128")
	out.Work("U = c + 3*σ", "U", num4(l.Upper), "c", num4(l.Centre), "σ", num4(l.Sigma))
	if targets {
		out.Note("Charted is each reading less its own target.")
	}
	if rules&chart.Trend != 0 {
		out.Note("Points to a false call are without rules 3 and 4, which call more often still.")
	}
	if base < 20 {
		out.Note("Lines from {} readings are rough; twenty or more make them firm.", counted(base))
	}
	if called > 0 && base == len(x) {
		out.Note("The lines come from readings that are themselves called out. Take a time when all was well.")
	}
	var rows [][]string
	for i, m := range marks {
		if m != 0 && len(rows) < 50 {
			rows = append(rows, []string{counted(i + 1), num4(x[i]), m.Number(), ruleWords(out, m)})
		}
	}
	if rows != nil {
		out.Table("Called out", []string{"Line", "Reading", "Rule", "In words"}, rows)
	}
	out.Figure(chartPicture(out, "The process and its lines", x, l, flags, base))
	return nil
}

// chartPicture shows the last readings of a chart with its lines.
func chartPicture(out *catalogue.Out, title string, x []float64, l chart.Lines, flags []bool, base int) figure.Plot {
	from := max(0, len(x)-drawn)
	at := make([]float64, len(x)-from)
	for i := range at {
		at[i] = float64(from + i + 1)
	}
	p := figure.Plot{
		Title:  title,
		Desc:   out.Say("{} readings in order of time; those called out are ringed.", counted(len(x))),
		X:      figure.Axis{Label: "Line", Min: float64(from), Max: float64(len(x) + 1)},
		Y:      figure.Axis{Label: "Reading"},
		Lines:  []figure.Line{{X: at, Y: x[from:], Style: figure.Dotted}},
		Points: []figure.Points{{Name: "readings", X: at, Y: x[from:], Flagged: flags[from:]}},
		Marks:  []figure.Mark{{Name: "upper line", At: l.Upper}, {Name: "centre", At: l.Centre}, {Name: "lower line", At: l.Lower}},
	}
	if base < len(x) && base > from {
		p.Marks = append(p.Marks, figure.Mark{Name: "judged from here", At: float64(base) + 0.5, Vertical: true})
	}
	return p
}

func groupChart() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "group-chart",
		Place:    catalogue.QualityDesk,
		Order:    32,
		Name:     "Chart of small groups",
		Question: "Do these groups of readings come from one steady process?",
		Keywords: "xbar r s chart mean range standard deviation subgroup filling weights control",
		Fields: []catalogue.Field{
			readingsField("Readings", "", "251.2\n250.8\n251.5\n250.9\n251.1\n251.6\n251.3\n250.7\n251.0\n251.4\n251.2\n250.6\n250.9\n251.3\n251.1\n252.6\n252.9\n252.4", "x", "One a line, group after group in order of time, in any unit: three bags each half hour, in g"),
			given("n", "Readings in a group", "n", "", 2, chart.MaxGroup, "3", "size", "Like 3: the bags taken together"),
			spare(given("base", "Lines from the first groups", "g_0", "", 2, 1e5, "5", "base", "How many of the first groups were in order and make the lines. Empty for all")),
			chosen("by", "Spread by", "", "The range is easier by hand, the deviation wastes less", "range",
				catalogue.Option{ID: "range", Label: "range of the group"}, catalogue.Option{ID: "sd", Label: "standard deviation of the group"}),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "Groups called out"},
			{ID: "hi", Label: "Upper line of the mean"},
			{ID: "mid", Label: "Centre"},
			{ID: "lo", Label: "Lower line of the mean"},
			{ID: "shi", Label: "Upper line of the spread"},
			{ID: "smid", Label: "Mean spread"},
		},
		Compute:  computeGroups,
		Cautions: []string{"A group is what is taken together. Readings of different machines in one group hide what differs between them."},
		Sources:  []catalogue.Source{{Name: "ISO 7870-2:2013, Shewhart control charts", Locator: "table 2", Provenance: "memory"}, handbook},
		Checks:   []catalogue.Check{{Package: "checkpoint/chart", Quantity: "factor A2"}, {Package: "checkpoint/chart", Quantity: "factor D4"}, {Package: "checkpoint/chart", Quantity: "factor B4"}, {Package: "checkpoint/chart", Quantity: "group means, upper line from the mean deviation"}},
	}
}

func computeGroups(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "n", "size"); err != nil {
		return err
	}
	x, n := in.Columns("x")[0], in.Int("n")
	means, ranges, sds, err := chart.Groups(x, n)
	if err != nil {
		return err
	}
	base := len(means)
	if in.Has("base") {
		if err := wholes(in, "base", "base"); err != nil {
			return err
		}
		base = min(base, in.Int("base"))
	}
	make2, spread := chart.MeanAndRange, ranges
	if in.Choice("by") == "sd" {
		make2, spread = chart.MeanAndSD, sds
	}
	pair, err := make2(x[:base*n], n)
	if err != nil {
		return err
	}
	level, err := chart.Check(means, pair.Level, chart.DefaultRules)
	if err != nil {
		return err
	}
	wide, err := chart.Check(spread, pair.Spread, chart.Beyond)
	if err != nil {
		return err
	}
	flags, wideFlags := make([]bool, len(means)), make([]bool, len(means))
	called := 0
	for i := range means {
		flags[i], wideFlags[i] = level[i] != 0, wide[i] != 0
		if flags[i] || wideFlags[i] {
			called++
		}
	}
	if called == 0 {
		out.SetWords("word", out.Say("none"))
	} else {
		out.SetWords("word", out.Say("{} of {}", counted(called), counted(len(means))))
	}
	setPlace(out, "hi", pair.Level.Upper, pair.Level.Sigma)
	setPlace(out, "mid", pair.Level.Centre, pair.Level.Sigma)
	setPlace(out, "lo", pair.Level.Lower, pair.Level.Sigma)
	setSig(out, "shi", pair.Spread.Upper, 3)
	setSig(out, "smid", pair.Spread.Centre, 3)
	if !out.Full() {
		return nil
	}
	f, err := chart.GroupFactors(n)
	if err != nil {
		return err
	}
	if in.Choice("by") == "sd" {
		out.Work("U = c + A_3*s", "U", num4(pair.Level.Upper), "c", num4(pair.Level.Centre), "A_3", num4(f.A3), "s", num4(pair.Spread.Centre))
	} else {
		out.Work("U = c + A_2*R", "U", num4(pair.Level.Upper), "c", num4(pair.Level.Centre), "A_2", num4(f.A2), "R", num4(pair.Spread.Centre))
	}
	out.Note("Means are judged by rules 1 and 5, spreads by rule 1. Look at the spread first: where it is out, the lines of the mean mean nothing.")
	ofGroups := func(title, what string, x []float64, l chart.Lines, flags []bool) {
		p := chartPicture(out, title, x, l, flags, base)
		p.Desc = out.Say("{} groups in order of time; those called out are ringed.", counted(len(x)))
		p.X.Label, p.Y.Label, p.Points[0].Name = "Group", what, "groups"
		out.Figure(p)
	}
	ofGroups("Means of the groups", "Mean of the group", means, pair.Level, flags)
	ofGroups("Spread within the groups", "Spread of the group", spread, pair.Spread, wideFlags)
	return nil
}

func smallShift() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "small-shift",
		Place:    catalogue.QualityDesk,
		Order:    34,
		Name:     "A slow drift",
		Question: "Has this process moved by a little, and since when?",
		Keywords: "ewma cusum drift small shift change point",
		Fields: []catalogue.Field{
			readingsField("Readings", "", "15.0\n14.9\n15.1\n15.3\n15.2\n15.4\n15.3\n15.3\n15.4", "x", "In order of time, one a line, in any unit"),
			given("t", "Target", "T", "", -1e9, 1e9, "15", "Target", "Where the process should be: like 15, or 0 for deviations"),
			given("s", "Short-term standard deviation", "σ", "", 1e-9, 1e9, "0.17", "Sigma", "Of single readings, from the chart of a good time"),
			given("lambda", "Weight of the newest reading", "λ", "", 0.01, 1, "0.2", "Lambda", "Of the average: 0.2 sees shifts of about one deviation soonest"),
			given("k", "Slack, in standard deviations", "k", "", 0, 10, "0.5", "Slack", "Of the sums: half of the shift to be found, like 0.5"),
			given("h", "Decision, in standard deviations", "h", "", 0.1, 100, "5", "Decision", "Of the sums: with 5 one false call in some 465 readings"),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "The process"},
			{ID: "since", Label: "Moved about since line"},
			{ID: "avg", Label: "Weighted average now", Symbol: "z"},
			{ID: "high", Label: "Sum above", Symbol: "S_p"},
			{ID: "low", Label: "Sum below", Symbol: "S_m"},
		},
		Compute:  computeShift,
		Cautions: []string{"Both charts need the standard deviation of a time when all was well; that of these readings would hold the drift itself."},
		Sources:  []catalogue.Source{{Name: "NIST/SEMATECH e-Handbook of Statistical Methods, 2012", Locator: "6.3.2.3 and 6.3.2.4", Provenance: "quoted"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/chart", Quantity: "EWMA"}, {Package: "checkpoint/chart", Quantity: "CUSUM, high side"}, {Package: "checkpoint/chart", Quantity: "CUSUM, first call"}},
	}
}

func computeShift(in *catalogue.In, out *catalogue.Out) error {
	x, sigma := in.Columns("x")[0], in.F("s")
	avg, err := chart.EWMA(x, chart.Smooth{Target: in.F("t"), Sigma: sigma, Lambda: in.F("lambda"), Width: chart.DefaultWidth})
	if err != nil {
		return err
	}
	sums, err := chart.CUSUM(x, chart.Cumulate{Target: in.F("t"), Slack: in.F("k") * sigma, Decision: in.F("h") * sigma})
	if err != nil {
		return err
	}
	n := len(x)
	byAverage, bySum := -1, -1
	for i := n - 1; i >= 0; i-- {
		if avg[i].Out {
			byAverage = i
		}
		if sums[i].Out {
			bySum = i
		}
	}
	switch {
	case byAverage < 0 && bySum < 0:
		out.SetWords("word", out.Say("has not clearly moved"))
	case bySum < 0:
		out.SetWords("word", out.Say("has moved: the average calls at line {}", counted(byAverage+1)))
	case byAverage < 0:
		out.SetWords("word", out.Say("has moved: the sum calls at line {}", counted(bySum+1)))
	default:
		out.SetWords("word", out.Say("has moved: both call, first at line {}", counted(min(byAverage, bySum)+1)))
	}
	if bySum >= 0 {
		out.SetCount("since", sums[bySum].Since+1)
	}
	setPlace(out, "avg", avg[n-1].Value, sigma)
	setPlace(out, "high", sums[n-1].High, sigma)
	setPlace(out, "low", sums[n-1].Low, sigma)
	if !out.Full() {
		return nil
	}
	before := in.F("t")
	if n > 1 {
		before = avg[n-2].Value
	}
	out.Work("z = λ*x + (1 - λ)*z_1", "z", num4(avg[n-1].Value), "λ", in.Text("lambda"), "x", catalogue.Shortest(x[n-1]), "z_1", num4(before))
	out.Note("The average is judged by lines at three of its own deviations, the sums by {} deviations of a reading.", in.Text("h"))
	from := max(0, n-drawn)
	var at, z, lo, hi, up, down []float64
	var flags, sumFlags []bool
	for i := from; i < n; i++ {
		at, z, lo, hi = append(at, float64(i+1)), append(z, avg[i].Value), append(lo, avg[i].Lower), append(hi, avg[i].Upper)
		up, down, flags, sumFlags = append(up, sums[i].High), append(down, -sums[i].Low), append(flags, avg[i].Out), append(sumFlags, sums[i].Out)
	}
	axis := figure.Axis{Label: "Line", Min: float64(from), Max: float64(n + 1)}
	out.Figure(figure.Plot{
		Title: "Weighted average", Desc: out.Say("The weighted average of the readings within its lines; points called out are ringed."),
		X: axis, Y: figure.Axis{Label: "Average"},
		Bands:  []figure.Band{{Name: "within the lines", X: at, Lo: lo, Hi: hi}},
		Points: []figure.Points{{Name: "average", X: at, Y: z, Flagged: flags}},
		Marks:  []figure.Mark{{Name: "target", At: in.F("t")}},
	})
	h := in.F("h") * sigma
	out.Figure(figure.Plot{
		Title: "Cumulative sums", Desc: out.Say("The sums of what lies above and below the target by more than the slack; a sum beyond its line calls."),
		X: axis, Y: figure.Axis{Label: "Sum"},
		Lines:  []figure.Line{{Name: "above", X: at, Y: up}, {Name: "below", X: at, Y: down, Style: figure.Dashed}},
		Points: []figure.Points{{X: at, Y: up, Flagged: sumFlags}},
		Marks:  []figure.Mark{{Name: "calls above", At: h}, {Name: "calls below", At: -h}},
	})
	return nil
}

func capabilityOf() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "capability",
		Place:    catalogue.QualityDesk,
		Order:    36,
		Name:     "Good enough?",
		Question: "How well does a steady process fit between its limits?",
		Keywords: "cp cpk ppk capability index process tolerance six sigma defects",
		Fields: []catalogue.Field{
			given("m", "Mean", "m", "", -1e9, 1e9, "251.1", "Mean", "Of the readings, in any unit, the same in all fields"),
			given("s", "Standard deviation", "s", "", 1e-9, 1e9, "0.6", "SD", "Of all readings for what customers get; of the chart for what the process could do"),
			given("n", "Readings", "n", "", 2, 1e6, "30", "N", "How many they come from, like 30"),
			spare(given("lo", "Limit, at least", "L", "", -1e9, 1e9, "250", "Lo", "Empty for no limit on this side")),
			spare(given("hi", "Limit, at most", "U", "", -1e9, 1e9, "", "Hi", "Empty for no limit on this side")),
			shareField("sure", "Confidence of the lower bound", "γ", "95", "ConfidencePct", "Like 95", 50, 99.99),
		},
		Outputs: []catalogue.Output{
			{ID: "cpk", Label: "Index by the nearer limit", Symbol: "C_pk"},
			{ID: "cpkl", Label: "which is surely over"},
			{ID: "cp", Label: "Index, were it in the middle", Symbol: "C_p"},
			{ID: "out", Label: "Outside the limits, about", Unit: "%"},
		},
		Compute: computeCapability,
		Cautions: []string{"For a process that its chart calls out these numbers mean nothing.",
			"1.33 as the least index is a custom of engineering, not a rule for food."},
		Sources: []catalogue.Source{{Name: "NIST/SEMATECH e-Handbook of Statistical Methods, 2012", Locator: "6.1.6", Provenance: "quoted"}, {Name: "Bissell, Applied Statistics 39, 1990", Provenance: "memory"}},
		Checks:  []catalogue.Check{{Package: "checkpoint/chart", Quantity: "Cp"}, {Package: "checkpoint/chart", Quantity: "Cpk"}, {Package: "checkpoint/chart", Quantity: "share outside"}},
	}
}

func computeCapability(in *catalogue.In, out *catalogue.Out) error {
	if !in.Has("lo") && !in.Has("hi") {
		return missing("enter a limit on one side at least")
	}
	if err := wholes(in, "n", "N"); err != nil {
		return err
	}
	p := chart.Still{Mean: in.F("m"), SD: in.F("s"), N: in.Int("n"), DF: in.Int("n") - 1, Lo: orOpen(in, "lo", -1), Hi: orOpen(in, "hi", 1), ConfidencePct: in.F("sure")}
	a, err := chart.Capability(p)
	if err != nil {
		return err
	}
	setSig(out, "cpk", a.Cpk, 3)
	setSig(out, "cpkl", a.CpkLower, 3)
	setSig(out, "out", a.OutsidePct, 2)
	if in.Has("lo") && in.Has("hi") {
		setSig(out, "cp", a.Cp, 3)
	}
	if !out.Full() {
		return nil
	}
	if p.Hi-p.Mean <= p.Mean-p.Lo {
		out.Work("C_pk = (U - m)/(3*s)", "C_pk", catalogue.Num(a.Cpk, 3), "U", in.Text("hi"), "m", in.Text("m"), "s", in.Text("s"))
	} else {
		out.Work("C_pk = (m - L)/(3*s)", "C_pk", catalogue.Num(a.Cpk, 3), "m", in.Text("m"), "L", in.Text("lo"), "s", in.Text("s"))
	}
	if !a.Exact {
		out.Note("The lower bound is by Bissell's approximation.")
	}
	out.Note("The share outside takes the process as normal, and mean and deviation as exact.")
	bell := func(x float64) (float64, bool) {
		return math.Exp(-(x - p.Mean) * (x - p.Mean) / (2 * p.SD * p.SD)), true
	}
	from, to := p.Mean-4*p.SD, p.Mean+4*p.SD
	x, y := curve(from, to, 120, bell)
	pic := figure.Plot{
		Title: "The process between its limits", Desc: out.Say("The spread of the process and the limits; about {} lie outside.", percent(a.OutsidePct, 2)),
		X: figure.Axis{Label: "Reading"}, Y: figure.Axis{Label: "How likely", Min: 0, Max: 1.15},
		Lines: []figure.Line{{Name: "process", X: x, Y: y}},
	}
	if in.Has("lo") {
		pic.Marks = append(pic.Marks, figure.Mark{Name: "at least", At: p.Lo, Vertical: true})
		from = math.Min(from, p.Lo)
	}
	if in.Has("hi") {
		pic.Marks = append(pic.Marks, figure.Mark{Name: "at most", At: p.Hi, Vertical: true})
		to = math.Max(to, p.Hi)
	}
	pad := 0.05 * (to - from)
	pic.X.Min, pic.X.Max = from-pad, to+pad
	out.Figure(pic)
	return nil
}
