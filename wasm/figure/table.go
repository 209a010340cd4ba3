package figure

// Table returns what the plot shows as a table in the plain Look.
func (p Plot) Table() Table { return p.Data(Look{}) }

const (
	longLine = 40  // a line of more points is listed
	thinned  = 21  // by so many of them
	mostRows = 400 // readings of one series that are listed
)

// Data returns what the plot shows as a table. Readings are listed as they
// are; a line or band of more than 40 points by 21 of them.
func (p Plot) Data(look Look) Table {
	l := look.worded()
	t := Table{Head: []string{l.Words.What, p.X.head("x"), p.Y.head("y")}}
	x, y, ok := p.scales(l, 6, 5)
	if !ok {
		return t
	}
	if t, ok := p.columns(l, &x, &y); ok {
		return t
	}
	row := func(cells ...string) { t.Rows = append(t.Rows, cells) }
	between := func(lo, hi string) string { return lo + " " + l.Words.Range + " " + hi }
	for k := range p.Points {
		s := &p.Points[k]
		name := s.Name
		if name == "" {
			name = l.Words.Readings
		}
		for i := range min(len(s.X), len(s.Y)) {
			if i == mostRows {
				row(l.fixed(float64(min(len(s.X), len(s.Y))-i), 0)+" "+l.Words.Unlisted, "", "")
				break
			}
			v, n := l.reading(s.Y[i]), name
			if e := s.half(i); e > 0 {
				v += " ± " + l.reading(e)
			}
			if i < len(s.Flagged) && s.Flagged[i] {
				n += " (" + l.Words.Flagged + ")"
			}
			row(n, x.reading(l, s.X[i]), v)
		}
	}
	named := false
	for _, b := range p.Bars {
		named = named || b.Name != ""
	}
	for _, b := range p.Bars {
		v, name := b.text(l), b.Name
		if b.Flag {
			name += " (" + l.Words.Flagged + ")"
		}
		if named {
			row(name, "", v)
		} else {
			row(name, between(x.reading(l, b.X-b.Width/2), x.reading(l, b.X+b.Width/2)), v)
		}
	}
	for _, m := range p.Marks {
		if m.Vertical {
			row(m.Name, x.reading(l, m.At), "")
		} else {
			row(m.Name, "", l.reading(m.At))
		}
	}
	for _, e := range p.Ellipses {
		row(e.Name, l.computed(e.X)+" ± "+l.computed(e.HalfX), l.computed(e.Y)+" ± "+l.computed(e.HalfY))
	}
	for _, a := range p.Arrows {
		row(a.Name, l.computed(a.FromX)+" → "+l.computed(a.ToX), l.computed(a.FromY)+" → "+l.computed(a.ToY))
	}
	for _, b := range p.Labels {
		row(b.Text, l.computed(b.X), l.computed(b.Y))
	}
	for k := range p.Lines {
		n := &p.Lines[k]
		if n.Name == "" && p.joins(n) {
			continue
		}
		for _, i := range picks(min(len(n.X), len(n.Y))) {
			row(n.Name, x.computed(l, n.X[i]), y.say(l, n.Y[i]))
		}
	}
	for _, b := range p.Bands {
		for _, i := range picks(min(len(b.X), len(b.Lo), len(b.Hi))) {
			row(b.Name, x.computed(l, b.X[i]), between(y.say(l, b.Lo[i]), y.say(l, b.Hi[i])))
		}
	}
	if len(p.Bars) > 0 && len(t.Rows) == len(p.Bars) && named {
		// A comparison needs no empty column.
		t.Head = []string{t.Head[0], t.Head[2]}
		for i, r := range t.Rows {
			t.Rows[i] = []string{r[0], r[2]}
		}
	}
	return t
}

// joins says whether a line only joins readings that the table has already.
func (p *Plot) joins(n *Line) bool {
	for _, s := range p.Points {
		if equal(s.X, n.X) && equal(s.Y, n.Y) {
			return true
		}
	}
	return false
}

func equal(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// reading prints a value of the axis, by its tick's name where it has one.
func (s *scale) reading(l *Look, v float64) string {
	if n := s.name(v); n != "" {
		return n
	}
	return l.reading(v)
}

func (s *scale) computed(l *Look, v float64) string {
	if n := s.name(v); n != "" {
		return n
	}
	return l.computed(v)
}

// name is the own tick's name at v, if there is one.
func (s *scale) name(v float64) string {
	if s.own {
		for _, t := range s.ticks {
			if t.At == v {
				return t.Name
			}
		}
	}
	return ""
}

// say prints a value of a curve: one digit more than the ticks have.
func (s *scale) say(l *Look, v float64) string {
	if n := s.name(v); n != "" {
		return n
	}
	if !drawable(v) || s.log || s.own || s.digits > 4 || v >= 1e7 || v <= -1e7 {
		return l.computed(v)
	}
	return l.fixed(v, s.digits+1)
}

// head is an axis' label as the head of a column.
func (a *Axis) head(other string) string {
	if t := a.title(); t != "" {
		return t
	}
	return other
}

// columns writes lines and bands over the same X side by side.
func (p *Plot) columns(l *Look, x, y *scale) (Table, bool) {
	if len(p.Bars)+len(p.Points)+len(p.Ellipses)+len(p.Arrows)+len(p.Labels) > 0 || len(p.Lines)+len(p.Bands) == 0 {
		return Table{}, false
	}
	xs := []float64(nil)
	if len(p.Lines) > 0 {
		xs = p.Lines[0].X
	} else {
		xs = p.Bands[0].X
	}
	t := Table{Head: []string{p.X.head("x")}}
	head := func(name string) {
		switch {
		case name == "":
			name = p.Y.head("y")
		case p.Y.Unit != "":
			name += ", " + p.Y.Unit
		}
		t.Head = append(t.Head, name)
	}
	for _, n := range p.Lines {
		if !equal(n.X, xs) || len(n.Y) != len(xs) {
			return Table{}, false
		}
		head(n.Name)
	}
	for _, b := range p.Bands {
		if !equal(b.X, xs) || len(b.Lo) != len(xs) || len(b.Hi) != len(xs) {
			return Table{}, false
		}
		head(b.Name)
	}
	for _, m := range p.Marks {
		row := make([]string, len(t.Head))
		row[0] = m.Name
		if m.Vertical {
			row[0] += ": " + x.reading(l, m.At)
		} else {
			for i := 1; i < len(row); i++ {
				row[i] = l.reading(m.At)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	for _, i := range picks(len(xs)) {
		row := []string{x.computed(l, xs[i])}
		for _, n := range p.Lines {
			row = append(row, y.say(l, n.Y[i]))
		}
		for _, b := range p.Bands {
			row = append(row, y.say(l, b.Lo[i])+" "+l.Words.Range+" "+y.say(l, b.Hi[i]))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, true
}

// picks returns the indices of a line that its table shows.
func picks(n int) []int {
	rows := n
	if n > longLine {
		rows = thinned
	}
	out := make([]int, rows)
	for i := range out {
		out[i] = i
		if rows < n {
			out[i] = i * (n - 1) / (rows - 1)
		}
	}
	return out
}
