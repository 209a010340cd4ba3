package catalogue

import (
	"strconv"
	"strings"
	"unicode"

	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// A reading says how well what was typed reads as a number.
type reading uint8

const (
	readable reading = iota
	empty
	unreadable
	twoWays
)

// longest is how many characters a number may have.
const longest = 34

// readNumber reads what a person typed into a number field: spaces and the
// field's own unit are dropped, comma or point is the decimal sign, with both
// the last is. A single sign with three digits behind it may be a thousands
// sign: the reading that fits the field's range is taken, and where both fit
// the answer is twoWays.
func readNumber(typed, unit string, fits func(decimal.Decimal) bool) (decimal.Decimal, reading) {
	zero := decimal.Decimal{}
	s := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || r == '\u00a0' || r == '\u202f' || r == '\u2009' || r == '\'' || r == '’':
			return ' '
		case r == '−' || r == '–':
			return '-'
		}
		return r
	}, typed)
	s = strings.TrimSpace(s)
	if s == "" {
		return zero, empty
	}
	if len(s) > 400 {
		return zero, unreadable
	}
	if unit != "" {
		for _, w := range spellings(unit) {
			if rest, ok := strings.CutSuffix(s, w); ok {
				s = strings.TrimSpace(rest)
				break
			}
		}
	}
	sign := ""
	if s != "" && (s[0] == '-' || s[0] == '+') {
		if s[0] == '-' {
			sign = "-"
		}
		s = strings.TrimSpace(s[1:])
	}
	// Spaces may only part groups of three.
	if strings.Contains(s, " ") {
		head, tail, _ := strings.Cut(s, " ")
		groups := strings.Fields(tail)
		for i, g := range groups {
			whole := g
			if i == len(groups)-1 {
				whole, _, _ = strings.Cut(strings.ReplaceAll(g, ",", "."), ".")
			}
			if len(whole) != 3 {
				return zero, unreadable
			}
		}
		if len(head) > 3 || strings.ContainsAny(head, ".,") {
			return zero, unreadable
		}
		s = head + strings.Join(groups, "")
	}
	digits, points, commas := 0, 0, 0
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '.':
			points++
		case r == ',':
			commas++
		default:
			return zero, unreadable
		}
	}
	if digits == 0 || digits > longest {
		return zero, unreadable
	}
	parse := func(text string) decimal.Decimal {
		d, ok := num.ParseDecimal(sign + text)
		if !ok {
			panic("catalogue: " + text + " passed as digits but does not parse")
		}
		return d
	}
	switch {
	case points+commas == 0:
		return parse(s), readable
	case points > 0 && commas > 0:
		last := strings.LastIndexAny(s, ".,")
		whole, part := s[:last], s[last+1:]
		other := ","
		if s[last] == ',' {
			other = "."
		}
		if strings.Contains(whole, string(s[last])) || !grouped(whole, other) {
			return zero, unreadable
		}
		return parse(strings.ReplaceAll(whole, other, "") + "." + part), readable
	case points+commas > 1:
		sep := "."
		if commas > 0 {
			sep = ","
		}
		if !grouped(s, sep) {
			return zero, unreadable
		}
		return parse(strings.ReplaceAll(s, sep, "")), readable
	}
	// One sign: a decimal one, unless exactly three digits follow it.
	i := strings.IndexAny(s, ".,")
	asDecimal := parse(s[:i] + "." + s[i+1:])
	if len(s)-i-1 != 3 || i == 0 || i > 3 || s[0] == '0' {
		return asDecimal, readable
	}
	asThousands := parse(s[:i] + s[i+1:])
	switch d, t := fits(asDecimal), fits(asThousands); {
	case d && t:
		return asDecimal, twoWays
	case t:
		return asThousands, readable
	}
	return asDecimal, readable
}

// grouped says whether s is digits in groups of three parted by sep.
func grouped(s, sep string) bool {
	parts := strings.Split(s, sep)
	for i, p := range parts {
		if i == 0 && (len(p) == 0 || len(p) > 3) || i > 0 && len(p) != 3 {
			return false
		}
	}
	return true
}

// A rowFault is a row of a series that could not be read.
type rowFault struct {
	line int
	text string
}

// maxRows is how many rows of a series are read.
const maxRows = 1_200_000

// Rows is a series being read, a piece at a time.
type Rows struct {
	Columns []Column
	locale  *Locale
	cols    [][]float64
	faults  []rowFault
	bad     int // rows in error, those beyond the list of faults included
	line    int
	full    bool
	lone    bool // a row may hold one number alone
	commas  bool // a row with points in its numbers was parted by commas
}

// maxFaults is how many rows in error are kept to be told.
const maxFaults = 1000

// NewRows begins to read a series of a calculator's field.
func NewRows(columns []Column, locale Locale) *Rows {
	r := &Rows{Columns: columns, locale: &locale, cols: make([][]float64, len(columns))}
	needed := 0
	for _, c := range columns {
		if !c.Optional {
			needed++
		}
	}
	r.lone = needed == 1 && len(columns) > 1
	return r
}

// Good is how many rows read well so far; Bad how many did not.
func (r *Rows) Good() int { return len(r.cols[0]) }

// Bad is how many rows could not be read so far.
func (r *Rows) Bad() int { return r.bad }

// Feed reads whole lines: cells parted by tabs, semicolons, or, where a point
// is the decimal sign, commas; else by spaces. A field of one column takes any
// number of numbers on a line. A first line without numbers is a heading, one
// that begins with # a remark. Rows in error are listed and the good ones
// kept. Where 14,8 may be one number or two, it is one to a reader who writes
// decimal commas and refused to another.
func (r *Rows) Feed(text string) {
	for text != "" && !r.full {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		r.line++
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		if len(r.cols[0]) >= maxRows {
			r.full = true
			r.refuse(r.locale.say("more rows than {}", Shortest(maxRows)))
			return
		}
		r.row(line)
	}
}

func (r *Rows) refuse(why string) {
	r.bad++
	if len(r.faults) < maxFaults {
		r.faults = append(r.faults, rowFault{r.line, why})
	}
}

func (r *Rows) row(line string) {
	cells := split(line, len(r.Columns))
	if r.lone && len(cells) == 2 && strings.Count(line, ",") == 1 {
		switch before, after, _ := strings.Cut(line, ","); {
		case strings.Contains(line, "."):
			r.commas = true
		case r.commas || !number(before) || !number(after):
		case r.locale.Comma:
			cells = []string{line}
		default:
			r.refuse(r.locale.say("{} may be one number or two; write a point, or part the columns by a space", clip(line)))
			return
		}
	}
	heading := func() bool { return len(r.cols[0]) == 0 && wordy(cells) }
	if len(r.Columns) == 1 {
		for _, c := range cells {
			if v, why := cell(c, r.Columns[0], r.locale); why == "" {
				r.cols[0] = append(r.cols[0], v)
			} else if !heading() {
				r.refuse(why)
			}
		}
		return
	}
	why := ""
	if len(cells) > len(r.Columns) {
		var names []string
		for _, col := range r.Columns {
			names = append(names, r.locale.word(col.Label))
		}
		why = r.locale.say("has {} values; wanted are {}", Shortest(float64(len(cells))), strings.Join(names, ", "))
	}
	for i, col := range r.Columns {
		c := ""
		if i < len(cells) {
			c = cells[i]
		}
		v, w := cell(c, col, r.locale)
		if why == "" {
			why = w
		}
		r.cols[i] = append(r.cols[i], v)
	}
	if why == "" {
		return
	}
	for i := range r.cols {
		r.cols[i] = r.cols[i][:len(r.cols[i])-1]
	}
	if !heading() {
		r.refuse(why)
	}
}

// wordy says whether no cell begins with a digit: a heading.
func wordy(cells []string) bool {
	for _, c := range cells {
		if c != "" && strings.ContainsAny(c[:1], "0123456789+-.,") {
			return false
		}
	}
	return true
}

func split(text string, columns int) []string {
	sep := ""
	switch {
	case strings.Contains(text, "\t"):
		sep = "\t"
	case strings.Contains(text, ";"):
		sep = ";"
	case strings.Contains(text, ",") && (strings.Contains(text, ".") || columns > 1 && !strings.Contains(text, " ")):
		sep = ","
	}
	if sep == "" || sep == "," && columns == 1 && strings.Contains(text, " ") {
		cells := strings.Fields(text)
		for i := range cells {
			cells[i] = strings.TrimSuffix(cells[i], ",")
		}
		return cells
	}
	cells := strings.Split(text, sep)
	for i := range cells {
		cells[i] = strings.Trim(strings.TrimSpace(cells[i]), `"`)
	}
	return cells
}

// cell reads one cell, or says why it cannot.
func cell(c string, col Column, l *Locale) (float64, string) {
	if v, ok := plain(c); ok && v >= col.Min && v <= col.Max {
		return v, "" // the fast way, for a million rows
	}
	in := func(d decimal.Decimal) bool {
		v := d.InexactFloat64()
		return v >= col.Min && v <= col.Max
	}
	d, fault := readNumber(c, col.Unit, in)
	switch fault {
	case empty:
		if col.Optional {
			return nan, ""
		}
		return 0, l.say("{} is missing", l.word(col.Label))
	case unreadable:
		return 0, l.say("{} reads {}; it takes digits and one point or comma", l.word(col.Label), clip(c))
	}
	if !in(d) {
		return 0, l.say("{} is {}; it takes {}", l.word(col.Label), joined(clip(c), l.unit(col.Unit)), l.span(col.Min, col.Max, l.unit(col.Unit)))
	}
	return d.InexactFloat64(), ""
}

// number says whether s is digits and nothing else, but for a sign before them.
func number(s string) bool {
	return strings.Trim(strings.TrimLeft(s, "+-−"), "0123456789") == "" && s != ""
}

// clip keeps what was typed short enough to repeat.
func clip(s string) string {
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return s
}

// plain reads the commonest writing: digits, perhaps a minus before and one
// decimal sign among them. Three digits behind the sign are left to readNumber.
func plain(s string) (float64, bool) {
	sign := -1
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9' || c == '-' && i == 0:
		case (c == '.' || c == ',') && sign < 0 && i > 0:
			sign = i
		default:
			return 0, false
		}
	}
	if len(s) == 0 || len(s) > 18 || s[len(s)-1] < '0' || sign > 0 && len(s)-sign == 4 {
		return 0, false
	}
	if sign > 0 && s[sign] == ',' {
		s = s[:sign] + "." + s[sign+1:]
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}
