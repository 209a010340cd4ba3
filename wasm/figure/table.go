package figure

// Table returns what the plot shows, in the plain Look.
func (p Plot) Table() Table { return p.Data(Look{}) }

// most is how many rows a table of a long series has.
const most = 60

// Data returns what the plot shows as a table.
func (p Plot) Data(l Look) Table {
	x, y, ok := p.scales(l, 6, 5)
	if !ok {
		return Table{Head: []string{"What", head(p.X, "x"), head(p.Y, "y")}}
	}
	if t, ok := p.columns(l, &x, &y); ok {
		return t
	}
	t := Table{Head: []string{"What", head(p.X, "x"), head(p.Y, "y")}}
	row := func(cells ...string) { t.Rows = append(t.Rows, cells) }
	for _, b := range p.Bands {
		n := min(len(b.X), len(b.Lo), len(b.Hi))
		for _, i := range picks(n) {
			row(b.Name, x.say(l, b.X[i]), y.say(l, b.Lo[i])+" to "+y.say(l, b.Hi[i]))
		}
	}
	for _, b := range p.Bars {
		v := y.say(l, b.Hi)
		if b.Lo != 0 {
			v = y.say(l, b.Lo) + " to " + v
		}
		if b.Name != "" {
			row(b.Name, x.say(l, b.X), v)
		} else {
			row("Bar", x.say(l, b.X-b.Width/2)+" to "+x.say(l, b.X+b.Width/2), v)
		}
	}
	for _, n := range p.Lines {
		for _, i := range picks(min(len(n.X), len(n.Y))) {
			row(n.Name, x.say(l, n.X[i]), y.say(l, n.Y[i]))
		}
	}
	for _, s := range p.Points {
		for i := range min(len(s.X), len(s.Y)) {
			v := l.reading(s.Y[i])
			if e := s.half(i); e > 0 {
				v += " ± " + l.reading(e)
			}
			name := s.Name
			if i < len(s.Flagged) && s.Flagged[i] {
				name += " (flagged)"
			}
			row(name, x.sayReading(l, s.X[i]), v)
		}
	}
	for _, e := range p.Ellipses {
		row(e.Name, x.say(l, e.X)+" ± "+x.say(l, e.HalfX), y.say(l, e.Y)+" ± "+y.say(l, e.HalfY))
	}
	for _, a := range p.Arrows {
		row(a.Name, x.say(l, a.FromX)+" → "+x.say(l, a.ToX), y.say(l, a.FromY)+" → "+y.say(l, a.ToY))
	}
	for _, m := range p.Marks {
		if m.Vertical {
			row(m.Name, x.sayReading(l, m.At), "")
		} else {
			row(m.Name, "", l.reading(m.At))
		}
	}
	for _, b := range p.Labels {
		row(b.Text, x.say(l, b.X), y.say(l, b.Y))
	}
	return t
}

func (l Look) reading(v float64) string {
	if !drawable(v) {
		return "–"
	}
	return l.short(v, 6)
}

func (s *scale) sayReading(l Look, v float64) string {
	if s.own {
		return s.say(l, v)
	}
	return l.reading(v)
}

func head(a Axis, other string) string {
	if t := a.title(); t != "" {
		return t
	}
	return other
}

// columns writes lines and bands over the same X side by side.
func (p Plot) columns(l Look, x, y *scale) (Table, bool) {
	if len(p.Bars) > 0 || len(p.Points) > 0 || len(p.Lines)+len(p.Bands) == 0 {
		return Table{}, false
	}
	var xs []float64
	same := func(o []float64) bool {
		if xs == nil {
			xs = o
			return true
		}
		if len(xs) != len(o) {
			return false
		}
		for i := range o {
			if o[i] != xs[i] {
				return false
			}
		}
		return true
	}
	t := Table{Head: []string{head(p.X, "x")}}
	for _, n := range p.Lines {
		if !same(n.X) || len(n.Y) != len(n.X) {
			return Table{}, false
		}
		t.Head = append(t.Head, named(n.Name, p.Y))
	}
	for _, b := range p.Bands {
		if !same(b.X) || len(b.Lo) != len(b.X) || len(b.Hi) != len(b.X) {
			return Table{}, false
		}
		t.Head = append(t.Head, named(b.Name, p.Y))
	}
	for _, i := range picks(len(xs)) {
		row := []string{x.say(l, xs[i])}
		for _, n := range p.Lines {
			row = append(row, y.say(l, n.Y[i]))
		}
		for _, b := range p.Bands {
			row = append(row, y.say(l, b.Lo[i])+" to "+y.say(l, b.Hi[i]))
		}
		t.Rows = append(t.Rows, row)
	}
	for _, m := range p.Marks {
		row := make([]string, len(t.Head))
		if m.Vertical {
			row[0] = m.Name + ": " + x.sayReading(l, m.At)
		} else {
			row[0] = m.Name
			for i := 1; i < len(row); i++ {
				row[i] = l.reading(m.At)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t, true
}

func named(name string, y Axis) string {
	if name == "" {
		return head(y, "y")
	}
	if y.Unit != "" {
		return name + ", " + y.Unit
	}
	return name
}

// picks returns the indices of a series that its table shows.
func picks(n int) []int {
	var out []int
	if n <= most {
		for i := range n {
			out = append(out, i)
		}
		return out
	}
	for i := range most {
		out = append(out, i*(n-1)/(most-1))
	}
	return out
}
