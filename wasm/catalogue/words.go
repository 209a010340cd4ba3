package catalogue

import (
	"strings"
	"time"

	"example.org/evenlot/wasm/figure"
)

// A Locale is for whom an answer is written. The zero Locale is English, with
// decimal points, in UTC.
type Locale struct {
	Zone  *time.Location
	Words map[string]string // English to another language; what it lacks stays English
	Comma bool              // decimal comma
	Fed   map[string]*Rows  // series that were fed in pieces, in place of what is typed
}

// word is a text in the reader's language.
func (l *Locale) word(english string) string {
	if t, ok := l.Words[english]; ok {
		return t
	}
	return english
}

// why is an error's reason in the reader's language. The packages write
// numbers into it: where the table lacks the text as it stands, it is looked up
// with {} for each number.
func (l *Locale) why(english string) string {
	if l.Words == nil {
		return english
	}
	if _, ok := l.Words[english]; !ok {
		if pattern, numbers := numberless(english); l.Words[pattern] != "" {
			return l.say(pattern, numbers...)
		}
	}
	return l.word(english)
}

// Numberless puts {} for every number in a text.
func Numberless(text string) string {
	pattern, _ := numberless(text)
	return pattern
}

func numberless(text string) (pattern string, numbers []string) {
	var b strings.Builder
	for i := 0; i < len(text); {
		end := numberEnd(text, i)
		if end == i {
			b.WriteByte(text[i])
			i++
			continue
		}
		numbers = append(numbers, text[i:end])
		b.WriteString("{}")
		i = end
	}
	return b.String(), numbers
}

// numberEnd is where the number that begins at i ends: digits with points
// among them and perhaps an exponent, as in 1.5e-07.
func numberEnd(text string, i int) int {
	digit := func(i int) bool { return i < len(text) && text[i] >= '0' && text[i] <= '9' }
	if !digit(i) {
		return i
	}
	for {
		switch {
		case digit(i):
			i++
		case i < len(text) && (text[i] == '.' || text[i] == 'e') && digit(i+1):
			i += 2
		case i+1 < len(text) && text[i] == 'e' && (text[i+1] == '-' || text[i+1] == '+') && digit(i+2):
			i += 3
		default:
			return i
		}
	}
}

// unit is a unit in the reader's language. Short ones are symbols, and every
// language writes them alike: "in" is the inch here, and no verdict.
func (l *Locale) unit(u string) string {
	if len(u) < 4 {
		return u
	}
	return l.word(u)
}

// label is a field's label; that of a limit is two texts.
func (l *Locale) label(f Field) string {
	if f.side == "" {
		return l.word(f.Label)
	}
	two := f.LimitLabel()
	return l.word(two[0]) + ", " + l.word(two[1])
}

// say fills a pattern in the reader's language: the first {} takes the first
// of args, and so on; {1} and {2} name them where the order changes.
func (l *Locale) say(pattern string, args ...string) string {
	p := l.word(pattern)
	if !strings.Contains(p, "{") {
		return p
	}
	var b strings.Builder
	next := 0
	for {
		before, rest, ok := strings.Cut(p, "{")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		name, after, _ := strings.Cut(rest, "}")
		i := next
		if name != "" {
			i = int(name[0] - '1')
		} else {
			next++
		}
		if i >= 0 && i < len(args) {
			b.WriteString(l.number(args[i]))
		}
		p = after
	}
}

// number writes the decimal sign of the reader between digits.
func (l *Locale) number(s string) string {
	if !l.Comma || !strings.Contains(s, ".") {
		return s
	}
	b := []byte(s)
	digit := func(i int) bool { return i >= 0 && i < len(b) && b[i] >= '0' && b[i] <= '9' }
	for i := range b {
		if b[i] == '.' && digit(i-1) && digit(i+1) {
			b[i] = ','
		}
	}
	return string(b)
}

// quantity is a number with its unit, as a line of working has it.
func (l *Locale) quantity(s string) string {
	if l.Words == nil && !l.Comma {
		return s
	}
	n, unit, ok := strings.Cut(s, " ")
	if !ok {
		return l.number(s)
	}
	return l.number(n) + " " + l.unit(unit)
}

// cells is number for a row of cells, which may also be words.
func (l *Locale) cells(row []string) []string {
	out := make([]string, len(row))
	for i, c := range row {
		out[i] = l.number(l.word(c))
	}
	return out
}

// table writes a table for the reader.
func (l *Locale) table(t Table) Table {
	if l.Words == nil && !l.Comma {
		return t
	}
	u := Table{Title: l.word(t.Title), Head: l.cells(t.Head)}
	for _, r := range t.Rows {
		u.Rows = append(u.Rows, l.cells(r))
	}
	return u
}

// figureWords are the words that figures add themselves.
func (l *Locale) figureWords() figure.Words {
	var w figure.Words
	if l.Words == nil {
		return w
	}
	for _, x := range []struct {
		to      *string
		english string
	}{
		{&w.Figure, "Figure"}, {&w.Nothing, "There is nothing to draw yet"}, {&w.Outside, "Readings outside the picture"}, {&w.Unaccounted, "Not accounted for"},
		{&w.What, "What"}, {&w.Readings, "Readings"}, {&w.Range, "to"}, {&w.Flagged, "flagged"}, {&w.Unlisted, "more, not listed"},
		{&w.Side, "Side"}, {&w.In, "In"}, {&w.Out, "Out"}, {&w.Amount, "Amount"}, {&w.Share, "Share"},
		{&w.From, "From"}, {&w.To, "To"}, {&w.When, "When"},
	} {
		*x.to = l.word(x.english)
	}
	return w
}
