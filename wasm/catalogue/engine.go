package catalogue

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/evenlot/checkpoint"
	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// A State is what stands in a form: field ID to the characters typed, with
// "ID.unit" for a unit other than the base and "ID.pm" for the instrument's
// plus-minus in that unit. It is also the query of the address.
type State map[string]string

// A Sheet is everything that one evaluation says.
type Sheet struct {
	Calc     string
	Faults   []Fault // what stands in the way of an answer, in form order
	Problem  string  // why there is no answer although every field reads well
	Values   []Value
	Verdicts []Verdict
	Overall  string // the lot sheet's word over all its checkpoints
	Reason   string // and what it is due to
	Missing  []Missing
	Working  []Line
	Notes    []string
	Figures  []Drawn
	Tables   []Table
	Rows     []RowReport // what was read of each series
	Read     []Understood
}

// A Fault is why a field was refused.
type Fault struct {
	Field string
	Kind  string // empty, unreadable, ambiguous, range, date, row
	Text  string
}

// A Value is one output.
type Value struct {
	ID, Label, Symbol, Unit, Group string
	Text                           string  // in earned digits, or words
	PlusMinus                      string  // two standard uncertainties, in earned digits; empty when exact
	Number                         float64 // NaN for words
	U                              float64 // standard uncertainty
	Shares                         []Share // of the variance, largest first
}

// A Share is how much of an output's variance one source of it makes.
type Share struct {
	Label string
	Pct   float64
}

// A Verdict is an output held against its limit.
type Verdict struct {
	Output, Label, Group string
	Word                 string // in, out, too close to call
	InPct                float64
	Limit                string // "10 to 12 %"
	Source               string // where our default limit comes from; empty for the user's own
	MaxPlusMinus         string // the plus-minus at which it could be called
	Caution              string
}

// A Missing checkpoint could not be judged.
type Missing struct{ Group, What string }

// A Drawn figure has the table behind it.
type Drawn struct {
	SVG   string
	Table Table
}

// A Table of text.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
}

// A RowReport says what became of a series.
type RowReport struct {
	Field  string
	Good   int
	Bad    int
	Faults []string // "line 12: …"
}

// Understood is how a field was read, in the base unit.
type Understood struct{ Field, Text string }

// Eval is EvalFor in English. The zone is that of dates and times; nil is UTC.
func (c *Calculator) Eval(state State, zone *time.Location) Sheet {
	return c.EvalFor(state, Locale{Zone: zone})
}

// EvalFor reads a state, computes, propagates uncertainty and judges, in the
// words of a reader.
func (c *Calculator) EvalFor(state State, locale Locale) Sheet {
	return c.Sit(locale).Whole(state)
}

// A Sitting answers the states of one form one after another, as keys come:
// what the last key did not touch is neither read nor propagated again. What
// it answers is what EvalFor answers.
type Sitting struct {
	calc   *Calculator
	locale Locale
	typed  []entry
	values []value            // the fields as they were read
	shares [][][]contribution // of each part, to each output: the dearest part of a sheet; nil where not known
	trials [2]ran             // of the budget: an input up, and down
	shown  ran                // what is read
	scribe scribe
	limits []limitWords // of the calculator's limits, as they were last
}

// limitWords is what a verdict says of its limit.
type limitWords struct {
	limit                 checkpoint.Limit
	text, source, caution string
	_                     incomparable
}

// An entry is what stood in a field.
type entry struct {
	unit, pm     string // where in a state its unit and plus-minus stand
	typed, in, u string // what stood there
	read         bool   // and had no fault
	rows         *RowReport
	_            incomparable
}

// Sit begins a sitting for one reader.
func (c *Calculator) Sit(locale Locale) *Sitting {
	if locale.Zone == nil {
		locale.Zone = time.UTC
	}
	form := c.Form()
	n := len(form)
	trial := func() ran { return ran{Out: Out{calc: c, locale: &english, results: make([]result, len(c.Outputs))}} }
	s := &Sitting{calc: c, locale: locale, typed: make([]entry, n), values: make([]value, n), shares: make([][][]contribution, len(c.parts)), trials: [...]ran{trial(), trial()}, shown: trial(), limits: make([]limitWords, len(c.Limits))}
	for i := range form {
		s.typed[i].unit, s.typed[i].pm = form[i].ID+".unit", form[i].ID+".pm"
	}
	return s
}

// Whole is the sheet of a state.
func (s *Sitting) Whole(state State) Sheet { return s.answer(state, pictured) }

// Worked is Whole without its figures, which cost most of it.
func (s *Sitting) Worked(state State) Sheet { return s.answer(state, worked) }

// Brief is Worked without working, notes, tables, how each field was read and
// what the uncertainty of all values but the first is made of: what a page
// shows while a hand still types, at a fraction of the cost.
func (s *Sitting) Brief(state State) Sheet { return s.answer(state, brief) }

// An extent is how much of a sheet is asked for.
type extent uint8

const (
	brief extent = iota
	worked
	pictured
)

func (s *Sitting) answer(state State, all extent) Sheet {
	c, l := s.calc, &s.locale
	sheet := Sheet{Calc: c.ID}
	in, faults := s.read(state, &sheet)
	sheet.Faults = faults
	if len(faults) > 0 {
		return sheet
	}
	out := s.run(in, all)
	if out.err != nil {
		c.explain(out.err, in, state, l, &sheet)
		return sheet
	}
	sheet.Working, sheet.Notes, sheet.Figures, sheet.Tables, sheet.Missing = out.working, out.notes, out.figures, out.tables, out.missing
	sheet.Values = make([]Value, 0, len(c.Outputs))
	if all >= worked {
		sheet.Read = make([]Understood, 0, len(in.fields))
	}
	for i := range in.fields {
		if v := &in.values[i]; all >= worked && v.given && in.fields[i].Kind == Number {
			sheet.Read = append(sheet.Read, Understood{in.fields[i].ID, l.number(v.text)})
		}
	}
	for i := range c.parts {
		if s.shares[i] == nil {
			s.shares[i] = s.budget(in.of(&c.parts[i]), out)
		}
	}
	for i, o := range c.Outputs {
		r := out.results[i]
		if !r.set {
			continue
		}
		v := Value{ID: o.ID, Label: l.word(o.Label), Symbol: o.Symbol, Unit: l.unit(o.Unit), Group: l.word(o.Group), Number: r.v}
		v.Shares, v.U = variance(s.shares[r.part][i], r, all >= worked || len(sheet.Values) == 0)
		for i := range v.Shares {
			v.Shares[i].Label = l.word(v.Shares[i].Label)
		}
		switch {
		case r.words != "":
			v.Text, v.Number = r.words, nan
		case math.IsNaN(r.v) || math.IsInf(r.v, 0):
			sheet.Values, sheet.Verdicts = nil, nil
			sheet.Problem = l.say("{} has no finite value here.", l.word(o.Label))
			return sheet
		case r.whole:
			v.Text = Shortest(r.v)
		case v.U > 0:
			v.Text, v.PlusMinus = earned(r.v, 2*v.U)
		case r.exact != nil:
			v.Text = digitsOf(*r.exact)
		default:
			v.Text = unclaimed(r.v)
		}
		v.Text, v.PlusMinus = l.number(v.Text), l.number(v.PlusMinus)
		sheet.Values = append(sheet.Values, v)
	}
	s.judge(in, &sheet)
	if c.Whole && len(sheet.Faults) == 0 {
		sheet.Overall, sheet.Reason = overall(sheet, l)
	}
	return sheet
}

// overall is the word for a lot: its worst verdict, and what it is due to.
func overall(s Sheet, l *Locale) (word, reason string) {
	list := func(w checkpoint.Word) string {
		var names []string
		for _, v := range s.Verdicts {
			if v.Word == w.String() {
				names = append(names, v.Label)
			}
		}
		return strings.Join(names, "; ")
	}
	if out := list(checkpoint.Out); out != "" {
		return "hold", l.say("Out of its limit: {}.", out)
	}
	if near := list(checkpoint.TooClose); near != "" {
		return "measure again", l.say("Too close to call: {}.", near)
	}
	if len(s.Missing) > 0 {
		var groups []string
		for _, m := range s.Missing {
			if !slices.Contains(groups, m.Group) {
				groups = append(groups, m.Group)
			}
		}
		return "not complete", l.say("Readings are missing at: {}.", strings.Join(groups, "; "))
	}
	return "release", l.word("Every limit that is set is met; what has none is not judged.")
}

// read reads every field of the form that is not as it was.
func (s *Sitting) read(state State, sheet *Sheet) (*In, []Fault) {
	c := s.calc
	var faults []Fault
	for i := range s.typed {
		id, e := c.form[i].ID, &s.typed[i]
		typed, in, u := state[id], state[e.unit], state[e.pm]
		if !e.read || e.typed != typed || e.in != in || e.u != u || s.locale.Fed[id] != nil {
			faulty := s.readField(i, state)
			e.typed, e.in, e.u, e.read = typed, in, u, faulty == nil
			faults = append(faults, faulty...)
			for j := range c.parts {
				if c.parts[j].sees(id) {
					s.shares[j] = nil
				}
			}
		}
		if e.rows != nil {
			sheet.Rows = append(sheet.Rows, *e.rows)
		}
	}
	return &In{fields: c.form, values: s.values, zone: s.locale.Zone}, faults
}

// readField reads one field of the form.
func (s *Sitting) readField(i int, state State) (faults []Fault) {
	c, l, f, v := s.calc, &s.locale, &s.calc.form[i], &s.values[i]
	*v, s.typed[i].rows = value{}, nil
	typed := state[f.ID]
	say := func(kind, text string) { faults = append(faults, Fault{f.ID, kind, text}) }
	if len(strings.TrimSpace(typed)) == 0 && l.Fed[f.ID] == nil {
		if !f.Optional {
			say("empty", l.say("{} is not entered.", l.label(*f)))
		}
		return faults
	}
	v.given = true
	switch f.Kind {
	case Words:
		v.text = typed
	case Choice:
		for _, o := range f.Choices {
			if o.ID == typed {
				v.choice, v.text = o.ID, l.word(o.Label)
			}
		}
		if v.choice == "" {
			say("unreadable", l.say("{} reads {}; choose one of the list.", l.label(*f), clip(typed)))
		}
	case Moment:
		t, err := readMoment(typed, l.Zone)
		if err != nil {
			say("date", l.say("{} reads {}; it takes a date and time like 2026-11-25T14:30.", l.label(*f), clip(typed)))
			break
		}
		v.moment, v.text = t.Unix(), Stamp(t)
	case Series:
		r := l.Fed[f.ID]
		if r == nil {
			r = NewRows(f.Columns, *l)
			r.Feed(typed)
		}
		v.cols = r.cols
		report := &RowReport{Field: f.ID, Good: r.Good(), Bad: r.bad}
		for n, b := range r.faults {
			if n == 20 {
				report.Faults = append(report.Faults, l.say("and {} more", Shortest(float64(r.bad-n))))
				break
			}
			report.Faults = append(report.Faults, l.say("line {}: {}", Shortest(float64(b.line)), b.text))
		}
		s.typed[i].rows = report
		if r.Good() == 0 {
			say("row", join(l.say("{} holds no row that reads well.", l.label(*f)), strings.Join(report.Faults, "; ")+"."))
		} else if f.Whole && r.bad > 0 {
			say("row", join(l.say("{}: each row counts, and not all can be read.", l.label(*f)), strings.Join(report.Faults, "; ")+"."))
		}
	case Number:
		if ft := c.readNumber(*f, state, v, l); ft.Kind != "" {
			faults = append(faults, ft)
		}
	}
	return faults
}

// readMoment reads 2026-11-25T14:30, the T perhaps a space, seconds ignored.
func readMoment(s string, zone *time.Location) (time.Time, error) {
	s = strings.TrimSpace(s)
	var part [5]int
	seps := "--T::"
	ok := len(s) >= 16 && len(s) <= 19
	for i := 0; ok && i < 5; i++ {
		n := 2
		if i == 0 {
			n = 4
		}
		v, err := strconv.Atoi(s[:n])
		ok = err == nil && s[0] >= '0' && s[0] <= '9'
		part[i] = v
		s = s[n:]
		if s != "" {
			ok = ok && (s[0] == seps[i] || i == 2 && s[0] == ' ')
			s = s[1:]
		}
	}
	t := time.Date(part[0], time.Month(part[1]), part[2], part[3], part[4], 0, 0, zone)
	if !ok || part[0] < 1990 || part[0] > 2199 || int(t.Month()) != part[1] || t.Day() != part[2] || part[3] > 23 || part[4] > 59 {
		return time.Time{}, errors.New("no date and time")
	}
	return t, nil
}

// Stamp writes a moment as 2026-11-25 14:30, in its own zone.
func Stamp(t time.Time) string {
	two := func(n int) string {
		if n < 10 {
			return "0" + strconv.Itoa(n)
		}
		return strconv.Itoa(n)
	}
	return strconv.Itoa(t.Year()) + "-" + two(int(t.Month())) + "-" + two(t.Day()) + " " + two(t.Hour()) + ":" + two(t.Minute())
}

// unitOf is the unit in which a field is being typed.
func unitOf(f Field, state State) string {
	u := state[f.ID+".unit"]
	if u == "" {
		return f.Unit
	}
	for _, s := range Units(f.Unit) {
		if s == u {
			return u
		}
	}
	return f.Unit
}

// readNumber reads a number field and its uncertainty.
func (c *Calculator) readNumber(f Field, state State, v *value, l *Locale) Fault {
	typed, u := state[f.ID], unitOf(f, state)
	toBase := func(d decimal.Decimal) decimal.Decimal {
		b, _ := convert(d, u, f.Unit)
		return b
	}
	fits := func(d decimal.Decimal) bool {
		b := toBase(d).InexactFloat64()
		return b >= f.Min && b <= f.Max
	}
	d, how := readNumber(typed, u, fits)
	label := l.label(f)
	switch how {
	case unreadable:
		return Fault{f.ID, "unreadable", l.say("{} reads {}; it takes digits and one point or comma.", label, clip(typed))}
	case twoWays:
		i := strings.IndexAny(typed, ".,")
		whole := strings.TrimSpace(typed[:i] + typed[i+1:])
		return Fault{f.ID, "ambiguous", l.say("{} may mean {} or {}; write {} or {}.", label, joined(digitsOf(d), l.unit(u)), joined(whole, l.unit(u)), digitsOf(d)+"0", whole)}
	}
	if !fits(d) {
		return Fault{f.ID, "range", l.say("{} is {}; it takes {}.", label, joined(digitsOf(d), l.unit(u)), c.rangeIn(f, u, l))}
	}
	v.dec = toBase(d)
	v.f = v.dec.InexactFloat64()
	v.text = joined(digitsOf(d), l.unit(u))
	if u != f.Unit {
		n := max(len(strings.TrimLeft(d.Coefficient().Text(10), "-")), 2)
		v.text = joined(minus(significant(v.dec, n+1)), l.unit(f.Unit))
	}
	if f.Exact {
		return Fault{}
	}
	// Half a digit and the instrument's half-width, both rectangular.
	half := 0.5 * math.Pow(10, float64(d.Exponent()))
	half = widthF(half, u, f.Unit)
	if d.IsZero() && d.Exponent() >= 0 && f.Min >= 0 {
		half = 0 // a bare 0 says that there is none; 0.0 is a reading
	}
	pm := f.PlusMinus
	if typedPM := state[f.ID+".pm"]; strings.TrimSpace(typedPM) != "" {
		p, how := readNumber(typedPM, u, func(decimal.Decimal) bool { return true })
		x := widthF(p.InexactFloat64(), u, f.Unit)
		if how != readable && how != twoWays || !(x >= 0 && x <= f.Max-f.Min) {
			return Fault{f.ID + ".pm", "range", l.say("The plus-minus of {} reads {}; it takes 0 to {}.", label, clip(typedPM), joined(round6(convertWidth(f, u)), l.unit(u)))}
		}
		pm = x
	}
	if f.None && v.f == 0 && half == 0 && pm == f.PlusMinus {
		pm = 0
	}
	v.u = math.Hypot(half, pm) / math.Sqrt(3)
	return Fault{}
}

func convertWidth(f Field, u string) float64 { return widthF(f.Max-f.Min, f.Unit, u) }

func (c *Calculator) rangeIn(f Field, u string, l *Locale) string {
	return l.span(convertF(f.Min, f.Unit, u), convertF(f.Max, f.Unit, u), l.unit(u))
}

// a ran is one run of Compute.
type ran struct {
	Out
	err error
}

// run computes for a reader, who is told so much.
func (s *Sitting) run(in *In, all extent) *ran {
	c, r := s.calc, &s.shown
	clear(r.results)
	*r = ran{Out: Out{calc: c, all: all, read: true, locale: &s.locale, scribe: &s.scribe, results: r.results}}
	for i := range c.parts {
		if r.part = i; r.err == nil {
			r.err = in.of(&c.parts[i]).run(&r.Out)
		}
	}
	return r
}

var english Locale // English, for runs that nobody reads

// explain turns an error of a package into words with this form's labels and
// the units on show.
func (c *Calculator) explain(err error, in *In, state State, l *Locale, sheet *Sheet) {
	input, refused := errors.AsType[*fault.InputError](err)
	none, impossible := errors.AsType[*fault.ImpossibleError](err)
	switch {
	case refused:
		for _, fe := range input.Fields {
			if f, ok := c.byGo(fe.Field); ok {
				var text string
				if f.Kind == Series {
					text = l.toldOfRows(f, fe)
				} else {
					u := unitOf(f, state)
					span := l.span(convertF(fe.Min, f.Unit, u), convertF(fe.Max, f.Unit, u), l.unit(u))
					text = l.say("{} is {}; it takes {}.", l.label(f), in.at(f.ID).text, span)
					// What was typed may lie inside, and what was made of it not.
					if v, err := strconv.ParseFloat(fe.Given, 64); err == nil && f.Kind == Number && in.Has(f.ID) && in.F(f.ID) >= fe.Min && in.F(f.ID) <= fe.Max {
						text = l.say("{} comes to {}; it takes {}.", l.label(f), joined(round6(convertF(v, f.Unit, u)), l.unit(u)), span)
					}
				}
				if fe.Why != "" {
					text = join(text, l.say("The reason: {}.", l.why(fe.Why)))
				}
				sheet.Faults = append(sheet.Faults, Fault{f.ID, "range", text})
			} else {
				sheet.Problem = join(sheet.Problem, c.told(fe, l))
			}
		}
	case impossible:
		sheet.Problem = l.say("No {}: {}.", l.why(none.Quantity), l.why(none.Why))
		if f, ok := c.byGo(none.Field); ok && none.Min < none.Max {
			if f.Kind == Series {
				sheet.Problem = join(sheet.Problem, l.possibleOfRows(f, none))
				return
			}
			u := unitOf(f, state)
			sheet.Problem = join(sheet.Problem, l.say("It is possible with this field at {2}: {1}.", l.label(f), l.span(convertF(none.Min, f.Unit, u), convertF(none.Max, f.Unit, u), l.unit(u))))
		}
	default:
		sheet.Problem = upperFirst(l.why(err.Error())) + "."
	}
}

// toldOfRows is the refusal of a series: of a row, where the error says which,
// or of all rows together.
func (l *Locale) toldOfRows(f Field, fe *fault.FieldError) string {
	given, span := joined(fe.Given, l.unit(fe.Unit)), l.span(fe.Min, fe.Max, l.unit(fe.Unit))
	if row := rowOf(fe.Field); row != "" {
		return l.say("{}: row {} of those that read well says {}; it takes {}.", l.label(f), row, given, span)
	}
	if len(fe.Unit) > 3 { // a word, which one of its kind would want in the singular
		given = fe.Given
	}
	return l.say("{}: {} in all; it takes {}.", l.label(f), given, span)
}

// possibleOfRows says which change of a series would make an answer exist.
func (l *Locale) possibleOfRows(f Field, none *fault.ImpossibleError) string {
	span := l.span(none.Min, none.Max, l.unit(none.Unit))
	if row := rowOf(none.Field); row != "" {
		return l.say("It is possible with {3} in row {2} of those that read well: {1}.", l.label(f), row, span)
	}
	return l.say("It is possible with {2}: {1}.", l.label(f), span)
}

// rowOf is the number of the row that a package's error names, from 1.
func rowOf(field string) string {
	_, index, _ := strings.Cut(field, "[")
	index, _, _ = strings.Cut(index, "]")
	i, err := strconv.Atoi(index)
	if err != nil {
		return ""
	}
	return strconv.Itoa(i + 1)
}

// told is the refusal of a value that no field of the form asks for.
func (c *Calculator) told(fe *fault.FieldError, l *Locale) string {
	for _, d := range c.Derived {
		if !sameGo(d.GoField, fe.Field) {
			continue
		}
		given := fe.Given
		if v, err := strconv.ParseFloat(given, 64); err == nil {
			given = round6(v)
		}
		text := l.say("{} comes to {}; it takes {}.", l.word(d.Label), joined(given, l.unit(fe.Unit)), l.span(fe.Min, fe.Max, l.unit(fe.Unit)))
		if fe.Why != "" {
			text = join(text, l.say("The reason: {}.", l.why(fe.Why)))
		}
		return text
	}
	return l.told(fe)
}

// told is the refusal of a value that has no name but the package's.
func (l *Locale) told(fe *fault.FieldError) string {
	text := l.say("{} is {}; it takes {}.", fe.Field, joined(fe.Given, l.unit(fe.Unit)), l.span(fe.Min, fe.Max, l.unit(fe.Unit)))
	if fe.Why != "" {
		text = join(text, l.say("The reason: {}.", l.why(fe.Why)))
	}
	return text
}

func upperFirst(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return string(s[0]-32) + s[1:]
	}
	return s
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// byGo finds the field that a package's error names; an index or a path
// before the name is left away, and a parameter, which begins small, is the
// field of its name.
func (c *Calculator) byGo(name string) (Field, bool) {
	for _, f := range c.Fields {
		if sameGo(f.GoField, name) {
			return f, true
		}
	}
	bare := name
	if i := strings.IndexByte(bare, '['); i >= 0 {
		bare = bare[:i]
	}
	bare = bare[strings.LastIndexByte(bare, '.')+1:]
	for _, f := range c.Fields {
		if sameGo(f.GoField, bare) {
			return f, true
		}
	}
	return Field{}, false
}

func sameGo(a, b string) bool {
	return a != "" && b != "" && a[0]|0x20 == b[0]|0x20 && a[1:] == b[1:]
}

// A contribution is what one input does to one output.
type contribution struct {
	label string
	size  float64 // |∂y/∂x|·u(x)
}

// budget runs a part at each of its inputs' standard uncertainty up and down.
func (s *Sitting) budget(in *In, at *ran) [][]contribution {
	c, up, down := s.calc, &s.trials[0], &s.trials[1]
	list := make([][]contribution, len(c.Outputs))
	unsure := func(i int) bool {
		f, v := &in.fields[i], &in.values[i]
		return f.Kind == Number && v.given && v.u != 0 && !f.IsLimit() && in.part.sees(f.ID)
	}
	n := 0
	for i := range in.fields {
		if unsure(i) {
			n++
		}
	}
	for i := range in.fields {
		if !unsure(i) {
			continue
		}
		f, v := &in.fields[i], in.values[i]
		for _, way := range [...]struct {
			to *ran
			x  float64
		}{{up, v.f + v.u}, {down, v.f - v.u}} {
			in.values[i].turn(way.x)
			clear(way.to.results)
			way.to.err = in.run(&way.to.Out)
		}
		in.values[i] = v
		for o := range c.Outputs {
			if !at.results[o].set || at.results[o].whole || at.results[o].words != "" {
				continue
			}
			hi, lo, half := at.results[o].v, at.results[o].v, 0.0
			if up.err == nil && up.results[o].set {
				hi = up.results[o].v
				half++
			}
			if down.err == nil && down.results[o].set {
				lo = down.results[o].v
				half++
			}
			if half == 0 {
				continue
			}
			if size := math.Abs(hi-lo) / half; size > 0 && !math.IsInf(size, 0) {
				if list[o] == nil {
					list[o] = make([]contribution, 0, n)
				}
				list[o] = append(list[o], contribution{f.Label, size})
			}
		}
	}
	return list
}

// variance adds the contributions and the model's own uncertainty; shared also
// says what each of them makes of it.
func variance(list []contribution, r result, shared bool) ([]Share, float64) {
	least := 1e-12 * math.Abs(r.v) // a change below the float's own noise is none
	n, total := 0, 0.0
	count := func(size float64) {
		if size > least {
			n++
			total += size * size
		}
	}
	for i := range list {
		count(list[i].size)
	}
	count(r.model)
	if total == 0 || math.IsInf(total, 0) {
		return nil, 0
	}
	if !shared {
		return nil, math.Sqrt(total)
	}
	shares := make([]Share, 0, n) // largest first; the lists are short
	add := func(label string, size float64) {
		if !(size > least) {
			return
		}
		shares = append(shares, Share{label, 100 * size * size / total})
		for at := len(shares) - 1; at > 0 && shares[at-1].Pct < shares[at].Pct; at-- {
			shares[at-1], shares[at] = shares[at], shares[at-1]
		}
	}
	for _, x := range list {
		add(x.label, x.size)
	}
	add(r.why, r.model)
	return shares, math.Sqrt(total)
}

// judge holds every limited output against the limits in the form.
func (s *Sitting) judge(in *In, sheet *Sheet) {
	c, l := s.calc, &s.locale
	for i := range c.Limits {
		limit := &c.Limits[i]
		lim := checkpoint.Limit{Lo: math.Inf(-1), Hi: math.Inf(1)}
		lo, hi := in.at(limit.Output+"-min"), in.at(limit.Output+"-max")
		if lo.given {
			lim.Lo = lo.f
		}
		if hi.given {
			lim.Hi = hi.f
		}
		if !lo.given && !hi.given {
			continue
		}
		o := c.output(limit.Output)
		if lim.Lo > lim.Hi {
			sheet.Faults = append(sheet.Faults, Fault{limit.Output + "-max", "range", l.say("{}: the most, {}, is below the least, {}.", l.word(o.Label), hi.text, lo.text)})
			continue
		}
		for _, v := range sheet.Values {
			if v.ID != limit.Output || math.IsNaN(v.Number) {
				continue
			}
			j, err := checkpoint.Judge(checkpoint.Reading{Value: v.Number, U: v.U}, lim, checkpoint.DefaultRiskPct)
			if err != nil {
				why := err.Error() + "."
				if input, ok := errors.AsType[*fault.InputError](err); ok {
					why = l.told(input.Fields[0])
				}
				sheet.Notes = append(sheet.Notes, l.say("{} could not be judged: {}", l.word(o.Label), why))
				continue
			}
			if said := &s.limits[i]; said.limit != lim {
				*said = limitWords{limit: lim, text: l.number(l.span(lim.Lo, lim.Hi, l.unit(o.Unit)))}
				if lim.Lo == limit.Lo && lim.Hi == limit.Hi || lim.Hi == limit.Hi && !lo.given && limit.Lo != limit.Lo || lim.Lo == limit.Lo && !hi.given && limit.Hi != limit.Hi {
					said.source, said.caution = l.cite(limit.Source), l.word(limit.Caution)
				}
			}
			verdict := Verdict{Output: o.ID, Label: l.word(o.Label), Group: l.word(o.Group), Word: j.Word.String(), InPct: j.InPct,
				Limit: s.limits[i].text, Source: s.limits[i].source, Caution: s.limits[i].caution}
			if j.Word == checkpoint.TooClose && j.MaxU > 0 {
				verdict.MaxPlusMinus = l.number(joined(Num(2*j.MaxU, 2), l.unit(o.Unit)))
			}
			sheet.Verdicts = append(sheet.Verdicts, verdict)
		}
	}
	if len(sheet.Faults) > 0 {
		sheet.Values, sheet.Verdicts = nil, nil
	}
}

// cite names a source with its provenance.
func (l *Locale) cite(s Source) string {
	text := l.word(s.Name)
	if s.Locator != "" {
		text = join(text+",", l.word(s.Locator))
	}
	how := l.word(ProvenanceWords(s.Provenance))
	switch {
	case text == "":
		return how
	case s.Provenance == "" || s.Provenance == "opened":
		return text
	}
	return text + " (" + how + ")"
}

// ProvenanceWords is how a provenance is shown to users.
func ProvenanceWords(p string) string {
	switch p {
	case "memory":
		return "from memory"
	case "quoted":
		return "as quoted elsewhere"
	case "opened":
		return "read in the source"
	}
	return p
}
