package desk

import (
	"math"

	"example.org/evenlot/checkpoint"
	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func readingVerdict() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "in-or-out",
		Place:    catalogue.QualityDesk,
		Order:    10,
		Name:     "In, out or too close to call",
		Question: "Is this reading within its limit, given how good the meter is?",
		Keywords: "limit specification verdict guard band decision rule conformity uncertainty pass fail",
		Fields: []catalogue.Field{
			given("y", "Reading", "y", "", -1e12, 1e12, "11.7", "Value", "In any unit, the same in all fields: 11.7 for 11.7 % moisture"),
			given("pm", "Plus-minus of the reading", "U", "", 0, 1e12, "0.3", "U", "With 95 % confidence, two standard uncertainties: what a certificate states, like 0.3; 0 for a reading beyond doubt"),
			spare(given("lo", "Limit, at least", "T_L", "", -1e12, 1e12, "10", "Lo", "Empty for no limit on this side")),
			spare(given("hi", "Limit, at most", "T_U", "", -1e12, 1e12, "12", "Hi", "Empty for no limit on this side")),
			shareField("risk", "Risk of a wrong call", "α", "5", "riskPct", "How often a call may be wrong, like 5", checkpoint.MinRiskPct, checkpoint.MaxRiskPct),
		},
		Outputs: []catalogue.Output{
			{ID: "word", Label: "The reading is"},
			{ID: "in", Label: "It is truly inside with", Symbol: "p_c", Unit: "%"},
			{ID: "alo", Label: "Readings are in from"},
			{ID: "ahi", Label: "Readings are in up to"},
			{ID: "need", Label: "Plus-minus that would call it", Symbol: "U_n"},
		},
		Compute: computeVerdict,
		Cautions: []string{
			"The call is about what was read. Whether the rest of the lot is like it is another question: see how many to sample.",
			"For safety the risk stays on the maker's side: ship what is in, not what is not out.",
		},
		Sources: []catalogue.Source{conformity, {Name: "ILAC-G8:09/2019, Guidelines on decision rules", Locator: "guard bands", Provenance: "quoted"}},
		Checks:  []catalogue.Check{{Package: "checkpoint", Quantity: "chance of being inside"}, {Package: "checkpoint", Quantity: "chance of being outside"}, {Package: "checkpoint", Quantity: "guard band on one side in units of u"}},
	}
}

func computeVerdict(in *catalogue.In, out *catalogue.Out) error {
	if !in.Has("lo") && !in.Has("hi") {
		return missing("enter a limit on one side at least")
	}
	y, u := in.F("y"), in.F("pm")/2
	limit := checkpoint.Limit{Lo: orOpen(in, "lo", -1), Hi: orOpen(in, "hi", 1)}
	v, err := checkpoint.Judge(checkpoint.Reading{Value: y, U: u}, limit, in.F("risk"))
	if err != nil {
		return err
	}
	out.SetWords("word", out.Say(v.Word.String()))
	out.Set("in", v.InPct)
	if in.Has("lo") && v.AnyAccepted() {
		setPlace(out, "alo", v.AcceptLo, u)
	}
	if in.Has("hi") && v.AnyAccepted() {
		setPlace(out, "ahi", v.AcceptHi, u)
	}
	if v.Word == checkpoint.TooClose && v.MaxU > 0 {
		setSig(out, "need", 2*v.MaxU, 2)
	}
	if !out.Full() {
		return nil
	}
	if in.F("pm") > 0 {
		out.Work("u = U/2", "u", num4(u), "U", in.Text("pm"))
	}
	share := catalogue.Num(v.InPct, 4) + " %"
	pc := []string{"p_c", share, "y", in.Text("y"), "u", num4(u)}
	switch {
	case u == 0:
		out.Note("Without a plus-minus the call is a plain comparison; the limit itself is in.")
		if in.Has("hi") {
			out.Work("d = T_U - y", "d", num4(limit.Hi-y), "T_U", in.Text("hi"), "y", in.Text("y"))
		} else {
			out.Work("d = y - T_L", "d", num4(y-limit.Lo), "T_L", in.Text("lo"), "y", in.Text("y"))
		}
	case in.Has("lo") && in.Has("hi"):
		out.Work("p_c = Φ((T_U - y)/u) - Φ((T_L - y)/u)", append(pc, "T_U", in.Text("hi"), "T_L", in.Text("lo"))...)
	case in.Has("hi"):
		out.Work("p_c = Φ((T_U - y)/u)", append(pc, "T_U", in.Text("hi"))...)
	default:
		out.Work("p_c = Φ((y - T_L)/u)", append(pc, "T_L", in.Text("lo"))...)
	}
	if !v.AnyAccepted() {
		out.Note("This meter is too coarse for this limit: no reading at all could be called in.")
	}
	if v.Word == checkpoint.TooClose && v.MaxU == 0 {
		out.Note("The reading stands on the limit: no meter, however good, can call it.")
	}
	out.Figure(verdictPicture(out, y, u, limit, v))
	return nil
}

// verdictPicture shows what the true value may be, the limit, and what is left
// of it after the guard band.
func verdictPicture(out *catalogue.Out, y, u float64, limit checkpoint.Limit, v checkpoint.Verdict) figure.Plot {
	from, to := y-4*u, y+4*u
	reach := math.Max(4*u, 1e-9*math.Abs(y))
	for _, e := range []float64{limit.Lo, limit.Hi} {
		if !math.IsInf(e, 0) {
			from, to = math.Min(from, e-reach/2), math.Max(to, e+reach/2)
		}
	}
	if from == to {
		from, to = from-1, to+1
	}
	pad := 0.05 * (to - from)
	p := figure.Plot{
		Title: "The reading and its limit",
		Desc:  out.Say("The reading with what it may truly be, and the limit less its guard band."),
		X:     figure.Axis{Label: "Reading", Min: from - pad, Max: to + pad},
		Y:     figure.Axis{Label: "How likely", Min: 0, Max: 1.15},
	}
	if u > 0 {
		bell := func(x float64) (float64, bool) { return math.Exp(-(x - y) * (x - y) / (2 * u * u)), true }
		x, h := curve(math.Max(from, y-4*u), math.Min(to, y+4*u), 120, bell)
		p.Lines = append(p.Lines, figure.Line{Name: "true value", X: x, Y: h})
	}
	if v.AnyAccepted() {
		lo, hi := math.Max(v.AcceptLo, from-pad), math.Min(v.AcceptHi, to+pad)
		if lo < hi {
			p.Bands = append(p.Bands, figure.Band{Name: "readings called in", X: []float64{lo, hi}, Lo: []float64{0, 0}, Hi: []float64{0.12, 0.12}})
		}
	}
	if !math.IsInf(limit.Lo, 0) {
		p.Marks = append(p.Marks, figure.Mark{Name: "at least", At: limit.Lo, Vertical: true})
	}
	if !math.IsInf(limit.Hi, 0) {
		p.Marks = append(p.Marks, figure.Mark{Name: "at most", At: limit.Hi, Vertical: true})
	}
	p.Points = []figure.Points{{Name: "reading", X: []float64{y}, Y: []float64{0.06}, Flagged: []bool{v.Word != checkpoint.In}}}
	return p
}

func oneReading() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "one-reading",
		Place:    catalogue.QualityDesk,
		Order:    12,
		Name:     "What one reading is worth",
		Question: "How far may this reading be off, all told?",
		Keywords: "uncertainty resolution repeatability calibration accuracy budget plus minus display division",
		Fields: []catalogue.Field{
			given("y", "Reading", "y", "", -1e12, 1e12, "11.4", "Value", "Or the mean of a few, in any unit, the same in all fields"),
			given("d", "Smallest step shown", "d", "", 0, 1e12, "0.1", "Division", "Of the display, like 0.1"),
			spare(given("s", "Scatter of single readings", "s", "", 0, 1e12, "0.15", "RepeatabilitySD", "Standard deviation when the same thing is read again from the start. Empty if it is not known")),
			spare(given("n", "Readings averaged", "n", "", 1, 1e6, "3", "Readings", "How many the reading above is the mean of; empty for one")),
			spare(given("a", "Maker's tolerance", "a", "", 0, 1e12, "", "Accuracy", "The plus-minus of the data sheet. Empty where a calibration is known instead")),
			spare(given("U", "Plus-minus of the calibration", "U_c", "", 0, 1e12, "0.3", "CalibrationU", "As its certificate states it")),
			spare(given("k", "Coverage factor of the calibration", "k", "", 1, 64, "2", "CalibrationK", "On the certificate, nearly always 2; needed with the field before")),
			spare(given("b", "Error found by the calibration", "b", "", -1e12, 1e12, "0.2", "CalibrationError", "How much too high the meter was found to read; it is taken off")),
		},
		Outputs: []catalogue.Output{
			{ID: "y", Label: "Best value", Symbol: "y"},
			{ID: "U", Label: "Plus-minus, 95 %", Symbol: "U"},
			{ID: "u", Label: "Standard uncertainty", Symbol: "u"},
			{ID: "most", Label: "Most of it comes from"},
		},
		Compute:  computeReading,
		Cautions: []string{"Reading the same filled cell again repeats the display, not the sampling: take a new portion each time."},
		Sources:  []catalogue.Source{guide},
		Checks:   []catalogue.Check{{Package: "checkpoint/uncertainty", Quantity: "display's step, standard uncertainty"}, {Package: "checkpoint/uncertainty", Quantity: "certificate, standard uncertainty"}, {Package: "checkpoint/uncertainty", Quantity: "coverage factor"}},
	}
}

func computeReading(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "n", "Readings"); err != nil {
		return err
	}
	m := uncertainty.Meter{Value: in.F("y"), Division: in.F("d"), RepeatabilitySD: in.F("s"), Accuracy: in.F("a"),
		CalibrationU: in.F("U"), CalibrationK: in.F("k"), CalibrationError: in.F("b"), Readings: 1}
	if in.Has("n") {
		m.Readings = in.Int("n")
	}
	got, err := uncertainty.Measured(m)
	if err != nil {
		return err
	}
	k, err := uncertainty.CoverageFactor(95, got.Quantity.DF)
	if err != nil {
		return err
	}
	u := got.Quantity.U
	out.SetU("y", got.Quantity.Value, u, "the meter")
	setSig(out, "u", u, 2)
	setSig(out, "U", k*u, 2)
	names := [...]string{"the display's step", "the scatter of readings", "the maker's tolerance", "the calibration"}
	parts := [...]float64{got.ResolutionU, got.RepeatabilityU, got.AccuracyU, got.CalibrationU}
	most := 0
	for i, p := range parts {
		if p > parts[most] {
			most = i
		}
	}
	out.SetWords("most", out.Say(names[most]))
	if !out.Full() {
		return nil
	}
	out.Work("u_d = d/sqrt(12)", "u_d", num4(parts[0]), "d", in.Text("d"))
	if parts[1] > 0 {
		out.Work("u_s = s/sqrt(n)", "u_s", num4(parts[1]), "s", in.Text("s"), "n", counted(m.Readings))
	}
	if parts[2] > 0 {
		out.Work("u_a = a/sqrt(3)", "u_a", num4(parts[2]), "a", in.Text("a"))
	}
	if parts[3] > 0 {
		out.Work("u_c = U_c/k", "u_c", num4(parts[3]), "U_c", in.Text("U"), "k", in.Text("k"))
	}
	out.Work("u = sqrt(u_d^2 + u_s^2 + u_a^2 + u_c^2)", "u", num4(u), "u_d", num4(parts[0]), "u_s", num4(parts[1]), "u_a", num4(parts[2]), "u_c", num4(parts[3]))
	if parts[1] == 0 {
		out.Note("Nothing is said of the scatter: read one lot five times, each from a new portion, and enter the standard deviation.")
	}
	if parts[2] == 0 && parts[3] == 0 {
		out.Note("Neither tolerance nor calibration is counted: the meter is taken as true on average, which nobody has shown.")
	}
	p := figure.Plot{Title: "Where the plus-minus comes from", Desc: out.Say("The share of each part in the variance of the reading."), Y: figure.Axis{Label: "Share", Unit: "%", Min: 0, Max: 100}}
	for i, part := range parts {
		if part > 0 {
			p.Bars = append(p.Bars, figure.Bar{Name: out.Say(names[i]), X: float64(len(p.Bars) + 1), Width: 0.7, Hi: 100 * (part / u) * (part / u), Flag: i == most})
		}
	}
	out.Figure(p)
	return nil
}
