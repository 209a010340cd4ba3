package catalogue

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

// A Place is where in the building a calculator is used, in walking order.
type Place uint8

// The places, in the order in which a lot passes them.
const (
	GreenStore Place = iota
	Roaster
	PackingLine
	RestShelf
	CuppingTable
	BrewBar
	QualityDesk
)

var placeNames = [...]string{"Green store", "Roaster", "Packing line", "Rest shelf", "Cupping table", "Brew bar", "Quality desk"}

// String is the place's name as shown.
func (p Place) String() string { return placeNames[p] }

// Places lists all places in walking order.
func Places() []Place {
	return []Place{GreenStore, Roaster, PackingLine, RestShelf, CuppingTable, BrewBar, QualityDesk}
}

// A Calculator is one question of the bench with everything needed to ask,
// answer, judge and explain it.
type Calculator struct {
	ID       string // address, lower case with hyphens
	Place    Place
	Order    int // within the place
	Name     string
	Question string
	Keywords string // further words by which it is found
	Fields   []Field
	Outputs  []Output  // the first is the answer
	Derived  []Derived // what is computed on the way and may be refused
	Limits   []Limit
	Whole    bool // one word over all verdicts: the lot sheet
	Compute  func(in *In, out *Out) error
	Parts    []Part // in place of Compute, where its fields fall into groups
	Cautions []string
	Sources  []Source
	Checks   []Check // which published values its formulas are tested by

	once  sync.Once // makes what follows
	form  []Field
	parts []Part // one at least
}

// A Part computes some of the outputs from some of the fields: a key that
// touches none of these leaves its outputs and its share of the budget as they
// were.
type Part struct {
	Compute func(in *In, out *Out) error
	Reads   []string // every field it looks at; it sees no other
	_       incomparable
}

func (p *Part) sees(field string) bool {
	return p == nil || p.Reads == nil || slices.Contains(p.Reads, field)
}

// A Kind is what a field takes.
type Kind uint8

// The kinds of field.
const (
	Number Kind = iota // one number with a unit
	Choice             // one of Choices
	Series             // rows of numbers in Columns, typed, pasted or from a file
	Moment             // a local date and time, 2026-11-25T14:30
	Words              // free text, never computed with
)

// A Field is one input.
type Field struct {
	ID        string // name in the form and the address
	Label     string
	Symbol    string // as in the working, such as "t" or "m_g"
	Help      string // what to type, with an example
	Group     string // heading under which it stands; empty is the first group
	Kind      Kind
	GoField   string  // its name in the package's errors
	Unit      string  // base unit; empty for a pure number
	Min, Max  float64 // accepted range in Unit
	Example   string  // an invented value, in Unit
	PlusMinus float64 // half-width of the usual instrument's error, in Unit
	Exact     bool    // a count or setting: digits carry no uncertainty
	None      bool    // a bare 0 says that there is none, whatever the usual instrument's error
	Optional  bool    // the calculator answers without it
	Choices   []Option
	Columns   []Column // of a Series
	Whole     bool     // of a Series: one row that cannot be read spoils the answer, as in a sum or a sequence
	limit     string   // output that this field is a limit of
	side      string   // at least, at most
}

// The small structs below are not comparable: a comparison of every length of
// list that the catalogue holds would weigh more in the bundle than a
// calculator.
type incomparable [0]func()

// An Option is one choice of a field.
type Option struct {
	ID, Label string
	_         incomparable
}

// A Column is one column of a Series.
type Column struct {
	ID, Label, Unit string
	Min, Max        float64
	Optional        bool
	_               incomparable
}

// An Output is one result.
type Output struct {
	ID, Label, Symbol string
	Unit              string // base unit; the page offers the others
	Group             string // the checkpoint that it belongs to, on the lot sheet
	_                 incomparable
}

// A Derived is a value on the way from the fields to the answer that a package
// may refuse.
type Derived struct {
	GoField string // its name in the package's errors
	Label   string
	_       incomparable
}

// A Limit is what an output is judged by unless the user sets another.
// NaN leaves a side open; both NaN offers the fields without a default.
type Limit struct {
	Output  string
	Lo, Hi  float64
	Source  Source
	Caution string // what to say beside a verdict that says in
	_       incomparable
}

// A Source is where a formula or a limit comes from.
type Source struct {
	Name, Locator string
	Provenance    string // opened, quoted, memory, common practice, derived
	_             incomparable
}

// A Check names rows of a package's table of published values.
type Check struct {
	Package, Quantity string
	_                 incomparable
}

// Sort puts calculators in walking order: by place, then order, then address.
func Sort(list []*Calculator) {
	slices.SortStableFunc(list, func(a, b *Calculator) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), cmp.Compare(a.Order, b.Order), cmp.Compare(a.ID, b.ID))
	})
}

// Form lists the fields that the form shows: the calculator's own and, in a
// group of their own, the limits. Do not write to it.
func (c *Calculator) Form() []Field {
	c.once.Do(func() {
		c.form = c.makeForm()
		if c.parts = c.Parts; c.parts == nil {
			c.parts = []Part{{Compute: c.Compute}}
		}
	})
	return c.form
}

func (c *Calculator) makeForm() []Field {
	form := slices.Clone(c.Fields)
	for _, l := range c.Limits {
		o := c.output(l.Output)
		side := func(suffix, word string, v float64) {
			f := Field{ID: l.Output + suffix, Label: o.Label + ", " + word, side: word, Group: "Judged by", Unit: o.Unit,
				Min: -1e12, Max: 1e12, Exact: true, Optional: true, limit: l.Output,
				Help: "Empty for no limit on this side"}
			if v == v {
				f.Example = Shortest(v)
			}
			form = append(form, f)
		}
		side("-min", "at least", l.Lo)
		side("-max", "at most", l.Hi)
	}
	return form
}

// Example is the state of a form filled in with its example.
func (c *Calculator) Example() State {
	s := State{}
	for _, f := range c.Form() {
		if f.Example != "" {
			s[f.ID] = f.Example
		}
	}
	return s
}

// IsLimit says whether the field is a limit of an output.
func (f Field) IsLimit() bool { return f.limit != "" }

// LimitLabel is the label of a limit's field in its two parts.
func (f Field) LimitLabel() [2]string {
	return [2]string{strings.TrimSuffix(f.Label, ", "+f.side), f.side}
}

func (c *Calculator) output(id string) Output {
	for _, o := range c.Outputs {
		if o.ID == id {
			return o
		}
	}
	panic("catalogue: " + c.ID + " has no output " + id)
}

// A value is what was read from one field.
type value struct {
	given  bool
	dec    decimal.Decimal
	rough  bool // dec is still to be made of f
	f      float64
	u      float64 // standard uncertainty, base unit
	text   string  // as understood, in the base unit, with the unit
	choice string
	cols   [][]float64
	moment int64 // Unix seconds: a time.Time here would keep all its methods in the bundle
}

// In is what a Compute reads: its fields in their base units.
type In struct {
	fields []Field // the whole form
	values []value
	zone   *time.Location
	part   *Part // for which it is; nil sees all
	next   int   // where at begins to look: forms are read in their order
}

func (in *In) at(id string) *value {
	for k, i := 0, in.next; k < len(in.fields); k, i = k+1, i+1 {
		if i >= len(in.fields) {
			i = 0
		}
		if in.fields[i].ID == id && in.part.sees(id) {
			in.next = i + 1
			return &in.values[i]
		}
	}
	panic("catalogue: there is no field " + id)
}

// of is what a part sees; it shares the values.
func (in *In) of(p *Part) *In { return &In{in.fields, in.values, in.zone, p, 0} }

func (in *In) run(out *Out) error { return in.part.Compute(in, out) }

// Has says whether an optional field was filled.
func (in *In) Has(id string) bool { return in.at(id).given }

// F is a number in its base unit.
func (in *In) F(id string) float64 { return in.at(id).f }

// D is a number with the digits typed, in its base unit.
func (in *In) D(id string) decimal.Decimal {
	v := in.at(id)
	if v.rough {
		v.dec, v.rough = decimal.NewFromFloat(v.f), false
	}
	return v.dec
}

// Int is a whole number; the range check of the field has seen it.
func (in *In) Int(id string) int { return int(in.at(id).f) }

// U is the standard uncertainty of a field in its base unit.
func (in *In) U(id string) float64 { return in.at(id).u }

// Choice is the ID of the option chosen.
func (in *In) Choice(id string) string { return in.at(id).choice }

// Time is a date and time in the user's zone.
func (in *In) Time(id string) time.Time { return time.Unix(in.at(id).moment, 0).In(in.zone) }

// Columns are a series' columns, all of the same length; a cell left empty in
// an optional column is NaN. Do not write to them.
func (in *In) Columns(id string) [][]float64 { return in.at(id).cols }

// Text is a field as it was understood, with its unit, for the working.
func (in *In) Text(id string) string { return in.at(id).text }

// with returns a copy of in in which one number is replaced.
func (in *In) with(id string, v float64) *In {
	c := &In{in.fields, append([]value(nil), in.values...), in.zone, in.part, 0}
	c.at(id).turn(v)
	return c
}

// turn gives a number another value.
func (v *value) turn(x float64) { v.f, v.rough, v.given = x, true, true }

// A result is what a Compute set for one output.
type result struct {
	set   bool
	part  int // which set it
	v     float64
	exact *decimal.Decimal
	whole bool // a count
	model float64
	why   string
	words string
}

// Out is what a Compute writes.
type Out struct {
	calc    *Calculator
	part    int // that runs
	all     extent
	read    bool // someone reads it: it is not a run of the budget
	results []result
	working []Line
	notes   []string
	figures []Drawn
	tables  []Table
	missing []Missing
	locale  *Locale
	scribe  *scribe
}

// Full is true in the one run whose working, notes and tables are shown; what
// sets an output does so in every run.
func (o *Out) Full() bool { return o.all >= worked }

// Pictured is true where the figures are shown too: only there is the course of
// a curve worth its cost.
func (o *Out) Pictured() bool { return o.all >= pictured }

func (o *Out) at(id string) *result {
	for i := range o.calc.Outputs {
		if o.calc.Outputs[i].ID == id {
			return &o.results[i]
		}
	}
	panic("catalogue: there is no output " + id)
}

// Shown is true in a run that someone reads: a whole number or words that cost
// much, and have no uncertainty, need no other.
func (o *Out) Shown() bool { return o.read }

func (o *Out) put(id string, r result) {
	r.set, r.part = true, o.part
	*o.at(id) = r
}

// Set gives an output its value, in its base unit.
func (o *Out) Set(id string, v float64) { o.put(id, result{v: v}) }

// SetU gives an output its value and the standard uncertainty that the model
// itself has, beyond that of the inputs, with the words for the budget.
func (o *Out) SetU(id string, v, u float64, why string) {
	o.put(id, result{v: v, model: u, why: why})
}

// SetD gives an output an exact decimal value.
func (o *Out) SetD(id string, d decimal.Decimal) {
	o.put(id, result{v: d.InexactFloat64(), exact: &d})
}

// SetCount gives an output a whole number, shown without uncertainty.
func (o *Out) SetCount(id string, n int) {
	o.put(id, result{v: float64(n), whole: true})
}

// SetWords gives an output words instead of a number, such as a date.
func (o *Out) SetWords(id, words string) { o.put(id, result{words: words}) }

// Work adds a line of working: a formula in plain infix notation and, by
// pairs, each symbol with its number and unit. The line shows the formula,
// then the numbers in it, then the value of the symbol on its left.
//
//	out.Work("E = B*T/D", "B", "36.0 g", "T", "9.50 %", "D", "18.0 g", "E", "19.0 %")
func (o *Out) Work(formula string, pairs ...string) {
	if o.Full() {
		for i := 1; i < len(pairs); i += 2 {
			pairs[i] = o.locale.quantity(pairs[i])
		}
		o.working = append(o.working, o.scribe.line(formula, pairs))
	}
}

// Note adds a sentence beside the answer: extrapolated, common practice, a
// caution that this input calls for. The pattern is a constant, so that it can
// be translated; each {} in it takes one of args.
//
//	out.Note("Below {} % the curve has no data.", "5")
func (o *Out) Note(pattern string, args ...string) {
	if !o.Full() {
		return
	}
	if text := o.locale.say(pattern, args...); !slices.Contains(o.notes, text) {
		o.notes = append(o.notes, text)
	}
}

// Say writes a sentence in the reader's language, as Note does, for a figure's
// Desc, a table's cell or an output in words. Labels and titles without
// numbers need no Say: they are looked up on their way out.
func (o *Out) Say(pattern string, args ...string) string {
	return o.locale.say(pattern, args...)
}

// Figure adds a picture: a figure.Plot, Flow or Strip.
func (o *Out) Figure(p figure.Picture) {
	if !o.Pictured() {
		return
	}
	l := o.locale
	if l.Words != nil {
		p = p.In(func(s string) string { return l.number(l.word(s)) })
	}
	look := figure.Look{ID: o.calc.ID + "-" + strconv.Itoa(len(o.figures)), Comma: l.Comma, Words: l.figureWords()}
	t := p.Data(look)
	o.figures = append(o.figures, Drawn{SVG: p.Draw(look), Table: Table{Head: t.Head, Rows: t.Rows}})
}

// Table adds a table of results.
func (o *Out) Table(title string, head []string, rows [][]string) {
	if o.Full() {
		o.tables = append(o.tables, o.locale.table(Table{Title: title, Head: head, Rows: rows}))
	}
}

// Missing says that a checkpoint could not be judged for want of a reading.
func (o *Out) Missing(group, what string) {
	if o.read {
		o.missing = append(o.missing, Missing{o.locale.word(group), o.locale.word(what)})
	}
}
