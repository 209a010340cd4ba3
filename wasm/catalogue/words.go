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

// picture writes the words of a figure for the reader. Desc, a sentence with
// numbers, and dates come translated already, from Out.Say.
func (l *Locale) picture(p Picture) Picture {
	if l.Words == nil {
		return p
	}
	switch p := p.(type) {
	case figure.Plot:
		l.plot(&p)
		return p
	case figure.Flow:
		p.Title, p.From, p.To = l.word(p.Title), append([]figure.Share(nil), p.From...), append([]figure.Share(nil), p.To...)
		for i := range p.From {
			p.From[i].Name = l.word(p.From[i].Name)
		}
		for i := range p.To {
			p.To[i].Name = l.word(p.To[i].Name)
		}
		return p
	case figure.Strip:
		p.Title, p.Unit = l.word(p.Title), l.word(p.Unit)
		p.Windows, p.Moments = append([]figure.Window(nil), p.Windows...), append([]figure.Moment(nil), p.Moments...)
		for i := range p.Windows {
			p.Windows[i].Name = l.word(p.Windows[i].Name)
		}
		for i := range p.Moments {
			p.Moments[i].Name = l.word(p.Moments[i].Name)
		}
		return p
	}
	return p
}

func (l *Locale) plot(p *figure.Plot) {
	axis := func(a *figure.Axis) { a.Label, a.Unit = l.word(a.Label), l.word(a.Unit) }
	p.Title = l.word(p.Title)
	axis(&p.X)
	axis(&p.Y)
	for i := range p.Bands {
		p.Bands[i].Name = l.word(p.Bands[i].Name)
	}
	for i := range p.Lines {
		p.Lines[i].Name = l.word(p.Lines[i].Name)
	}
	for i := range p.Points {
		p.Points[i].Name = l.word(p.Points[i].Name)
	}
	for i := range p.Bars {
		p.Bars[i].Name = l.word(p.Bars[i].Name)
	}
	for i := range p.Marks {
		p.Marks[i].Name = l.number(l.word(p.Marks[i].Name))
	}
	for i := range p.Ellipses {
		p.Ellipses[i].Name = l.word(p.Ellipses[i].Name)
	}
	for i := range p.Arrows {
		p.Arrows[i].Name = l.word(p.Arrows[i].Name)
	}
	for i := range p.Labels {
		p.Labels[i].Text = l.word(p.Labels[i].Text)
	}
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
		{&w.Nothing, "There is nothing to draw yet"}, {&w.Outside, "Readings outside the picture"}, {&w.Unaccounted, "Not accounted for"},
		{&w.What, "What"}, {&w.Readings, "Readings"}, {&w.Range, "to"}, {&w.Flagged, "flagged"}, {&w.Unlisted, "more, not listed"},
		{&w.Side, "Side"}, {&w.In, "In"}, {&w.Out, "Out"}, {&w.Amount, "Amount"}, {&w.Share, "Share"},
		{&w.From, "From"}, {&w.To, "To"}, {&w.When, "When"},
	} {
		*x.to = l.word(x.english)
	}
	return w
}
