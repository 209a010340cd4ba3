package figure

import "math"

// A Tone tells windows apart without colour.
type Tone uint8

// The tones.
const (
	Open  Tone = iota // outline: waiting
	Full              // filled: the time to be in
	Faint             // half filled: still possible
)

// A Window is a stretch of time.
type Window struct {
	Name     string
	From, To float64 // in the Strip's unit
	Tone     Tone
}

// A Moment is a point in time.
type Moment struct {
	Name string // such as "Roasted"
	At   float64
	Err  float64 // half-width, 0 for none
	Text string  // the time as to be printed, such as a date; empty for the number
}

// A Strip is a line of time with its windows and moments.
type Strip struct {
	Title, Desc string
	Unit        string // of the numbers, such as "days"
	Windows     []Window
	Moments     []Moment
}

// SVG draws the strip in the plain Look.
func (s Strip) SVG() string { return s.Draw(Look{}) }

// Table returns the strip as a table.
func (s Strip) Table() Table { return s.Data(Look{}) }

func (s Strip) span() span {
	var r span
	for _, w := range s.Windows {
		r.add(w.From)
		r.add(w.To)
	}
	for _, m := range s.Moments {
		r.add(m.At)
	}
	return r
}

func (s Strip) text(l Look, m Moment) string {
	if m.Text != "" {
		return m.Text
	}
	if s.Unit == "" {
		return l.short(m.At, 4)
	}
	return l.short(m.At, 4) + " " + s.Unit
}

// Data returns the strip as a table.
func (s Strip) Data(l Look) Table {
	unit := s.Unit
	if unit == "" {
		unit = "time"
	}
	t := Table{Head: []string{"What", "From, " + unit, "To, " + unit, "When"}}
	for _, w := range s.Windows {
		t.Rows = append(t.Rows, []string{w.Name, l.reading(w.From), l.reading(w.To), ""})
	}
	for _, m := range s.Moments {
		v := l.reading(m.At)
		if drawable(m.Err) && m.Err != 0 {
			v += " ± " + l.reading(math.Abs(m.Err))
		}
		t.Rows = append(t.Rows, []string{m.Name, v, "", m.Text})
	}
	return t
}

// Draw draws the strip.
func (s Strip) Draw(l Look) string {
	g := newPen(l)
	r := s.span()
	if !r.any {
		return g.nothing("strip", s.Title, s.Desc)
	}
	sc := newScale(Axis{}, r, 0, false, 6)
	sc.p0, sc.p1 = 12, g.w-12
	type tag struct {
		x, x0 float64
		row   int
		lines [2]string
	}
	// rows gives each text the first row in which it stands clear.
	rows := func(tags []tag) int {
		var ends []float64
		for i := range tags {
			t := &tags[i]
			w := math.Max(width(t.lines[0]), width(t.lines[1]))
			t.x0 = math.Min(math.Max(t.x-w/2, 1), g.w-1-w)
			for t.row = 0; t.row < len(ends) && ends[t.row] > t.x0-8; t.row++ {
			}
			if t.row == len(ends) {
				ends = append(ends, 0)
			}
			ends[t.row] = t.x0 + w
		}
		return len(ends)
	}
	var over, under []tag
	for _, w := range s.Windows {
		if drawable(w.From) && drawable(w.To) && w.Name != "" {
			over = append(over, tag{x: (sc.at(w.From) + sc.at(w.To)) / 2, lines: [2]string{w.Name}})
		}
	}
	for _, m := range s.Moments {
		if drawable(m.At) {
			under = append(under, tag{x: sc.at(m.At), lines: [2]string{m.Name, s.text(l, m)}})
		}
	}
	no := rows(over)
	nu := rows(under)
	top := 8 + float64(no)*(lineH+3)
	const thick = 26.0
	bottom := top + thick
	for _, t := range over {
		y := top - 8 - float64(t.row)*(lineH+3)
		if t.row > 0 {
			g.rule("f-leader", t.x, y+3, t.x, top, 0.75)
		}
		g.text("f-name", t.x0, y, "start", t.lines[0])
	}
	for _, w := range s.Windows {
		if !drawable(w.From) || !drawable(w.To) {
			continue
		}
		x0, x1 := sc.at(math.Min(w.From, w.To)), sc.at(math.Max(w.From, w.To))
		class, opacity := "f-open", "0"
		switch w.Tone {
		case Full:
			class, opacity = "f-full", "0.6"
		case Faint:
			class, opacity = "f-faint", "0.2"
		}
		g.el("rect", "class", "f-window "+class, "x", coord(x0), "y", coord(top), "width", coord(x1-x0), "height", coord(thick),
			"fill", "currentColor", "fill-opacity", opacity, "stroke", "currentColor", "stroke-width", "1.25")
	}
	h := bottom + 8
	for i, t := range under {
		y := bottom + 24 + float64(t.row)*(2*lineH+6)
		g.rule("f-moment", t.x, top-4, t.x, y-13, 1.25)
		if m := s.momentAt(i); drawable(m.Err) && m.Err != 0 {
			x0, x1 := math.Max(sc.at(m.At-math.Abs(m.Err)), 2), math.Min(sc.at(m.At+math.Abs(m.Err)), g.w-2)
			g.el("path", "class", "f-err", "d", "M"+coord(x0)+" "+coord(bottom+2)+"v6M"+coord(x1)+" "+coord(bottom+2)+"v6M"+coord(x0)+" "+coord(bottom+5)+"H"+coord(x1),
				"fill", "none", "stroke", "currentColor")
		}
		g.text("f-name", t.x0, y, "start", t.lines[0])
		g.text("f-amount", t.x0, y+lineH, "start", t.lines[1])
	}
	if nu > 0 {
		h = bottom + 24 + float64(nu-1)*(2*lineH+6) + lineH + 8
	}
	return g.figure("strip", s.Title, s.Desc, h)
}

// momentAt is the i-th moment that can be drawn.
func (s Strip) momentAt(i int) Moment {
	for _, m := range s.Moments {
		if drawable(m.At) {
			if i == 0 {
				return m
			}
			i--
		}
	}
	return Moment{}
}
