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

// A Window is a stretch of time. To may be +Inf: a window without an end.
type Window struct {
	Name     string
	From, To float64 // in the Strip's unit
	Tone     Tone
}

// A Moment is a point in time.
type Moment struct {
	Name string  // such as "Roasted"
	At   float64 // in the Strip's unit
	Err  float64 // half-width, 0 for none
	Text string  // the time as to be printed, such as a date; empty for the number
	Now  bool    // drawn as the present
}

// A Strip is a stretch of time with its windows and moments.
type Strip struct {
	Title   string // accessible name
	Desc    string // what the figure shows, in a sentence
	Unit    string // of the numbers, such as "days"
	Windows []Window
	Moments []Moment
}

// SVG draws the strip in the plain Look.
func (s Strip) SVG() string { return s.Draw(Look{}) }

// Table returns the strip as a table in the plain Look.
func (s Strip) Table() Table { return s.Data(Look{}) }

func (w Window) ok() bool {
	return drawable(w.From) && (drawable(w.To) && w.To >= w.From || math.IsInf(w.To, 1))
}

func (w Window) endless() bool { return math.IsInf(w.To, 1) }

func (m Moment) half() float64 {
	if drawable(m.Err) {
		return math.Abs(m.Err)
	}
	return 0
}

// scale settles the range of time drawn.
func (s *Strip) scale() (scale, bool) {
	var r span
	open := false
	for _, w := range s.Windows {
		if w.ok() {
			r.add(w.From)
			r.add(w.To)
			open = open || w.endless()
		}
	}
	for _, m := range s.Moments {
		if drawable(m.At) {
			r.add(m.At)
			r.add(m.At - m.half())
			r.add(m.At + m.half())
		}
	}
	if open {
		r.hi += (r.hi - r.lo) / 6
	}
	return newScale(&Axis{}, r, 0, false, 6), r.any
}

func (s *Strip) time(l *Look, m Moment) string {
	switch {
	case m.Text != "":
		return m.Text
	case s.Unit == "":
		return l.computed(m.At)
	}
	return l.computed(m.At) + " " + s.Unit
}

// Data returns the strip as a table.
func (s Strip) Data(look Look) Table {
	l := look.worded()
	behind := ""
	if s.Unit != "" {
		behind = ", " + s.Unit
	}
	t := Table{Head: []string{l.Words.What, l.Words.From + behind, l.Words.To + behind, l.Words.When}}
	for _, w := range s.Windows {
		t.Rows = append(t.Rows, []string{w.Name, l.reading(w.From), l.reading(w.To), ""})
	}
	for _, m := range s.Moments {
		t.Rows = append(t.Rows, []string{m.Name, l.uncertain(m.At, m.half()), "", m.Text})
	}
	return t
}

// Draw draws the strip: windows named above it, moments below.
func (s Strip) Draw(l Look) string {
	g := newPen(l)
	sc, ok := s.scale()
	if !ok {
		return g.nothing("f-strip", s.Title, s.Desc, nil)
	}
	const (
		thick = 24
		over  = lineH + 3   // height of a row of names
		under = 2*lineH + 7 // height of a row of moments
	)
	sc.p0, sc.p1 = 8, g.w-8

	var names []*flag
	for _, w := range s.Windows {
		if lines := wrap(w.Name, g.w-4); w.ok() && len(lines) > 0 {
			x1 := sc.p1
			if !w.endless() {
				x1 = sc.at(w.To)
			}
			names = append(names, &flag{x: (sc.at(w.From) + x1) / 2, lines: lines[:1]})
		}
	}
	top := 12 + over*float64(mast{x0: 1, x1: g.w - 1, centred: true}.hoist(names))
	bottom := top + float64(thick)
	for _, f := range names {
		y := top - 12 - over*float64(f.row)
		if f.row > 0 {
			g.rule("f-leader", f.x, y+fall, f.x, top, 0.75)
		}
		g.text("f-name", (f.x0+f.x1)/2, y, "middle", f.lines[0])
	}

	for _, w := range s.Windows {
		if !w.ok() {
			continue
		}
		class, opacity := "f-open", 0.0
		switch w.Tone {
		case Full:
			class, opacity = "f-full", 0.62
		case Faint:
			class, opacity = "f-faint", 0.2
		}
		x0, x1 := sc.at(w.From), sc.p1
		shut := "z"
		if w.endless() {
			shut = ""
		} else {
			x1 = sc.at(w.To)
		}
		g.put(`<path class="f-window ` + class)
		g.put(`" d="M~ ~H~V~H~`+shut+`" fill="currentColor" fill-opacity="~" stroke="currentColor" stroke-width="1.25"/>`+"\n", x1, top, x0, bottom, x1, opacity)
	}

	var poles []*flag
	var moments []Moment
	for _, m := range s.Moments {
		if drawable(m.At) {
			moments = append(moments, m)
			poles = append(poles, &flag{x: sc.at(m.At), lines: []string{m.Name, s.time(g.look, m)}})
		}
	}
	rows := mast{x0: 1, x1: g.w - 1}.hoist(poles)
	for i, f := range poles {
		foot := bottom + 9 + under*float64(f.row) + 2*lineH
		if m := moments[i]; m.Now {
			g.put(`<path class="f-now" d="M~ ~l-6-9h12z" fill="currentColor"/>`+"\n", f.x, top)
			g.rule("f-now", f.x, top, f.x, foot, 2.5)
		} else {
			g.rule("f-moment", f.x, top-4, f.x, foot, 1.25)
		}
		if e := moments[i].half(); e > 0 {
			x0, x1 := max(sc.at(moments[i].At-e), 0), min(sc.at(moments[i].At+e), g.w)
			g.put(`<path class="f-err" d="M~ ~v6m0-3H~m0-3v6" fill="none" stroke="currentColor"/>`+"\n", x0, bottom+2, x1)
		}
	}
	for _, f := range poles { // over all poles
		y := bottom + 12 + under*float64(f.row) + rise
		g.words("f-name", f, y, f.lines[0])
		g.words("f-amount", f, y+lineH, f.lines[1])
	}
	h := bottom + 8
	if rows > 0 {
		h += 4 + under*float64(rows)
	}
	return g.figure("f-strip", s.Title, s.Desc, nil, h, nil)
}
