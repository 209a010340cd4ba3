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
	head := []string{l.Words.What, p.X.head("x"), p.Y.head("y")}
	x, y, ok := p.scales(l, 6, 5)
	if !ok {
		return Table{Head: head}
	}
	if t, ok := p.columns(l, &x, &y); ok {
		return t
	}
	t := list{l: l}
	for k := range p.Points {
		if s := &p.Points[k]; !p.centres(s) {
			t.points(s, &x)
		}
	}
	compared := len(p.Bars) > 0
	for i := range p.Bars {
		compared = compared && p.Bars[i].Name != ""
	}
	for i := range p.Bars {
		b := &p.Bars[i]
		at := ""
		if b.Name == "" {
			at = l.between(x.reading(l, b.X-b.Width/2), x.reading(l, b.X+b.Width/2))
		}
		t.row(l.flagged(b.Name, b.Flag), at, b.text(l))
	}
	for _, m := range p.Marks {
		if m.Vertical {
			t.row(m.Name, x.reading(l, m.At), "")
		} else {
			t.row(m.Name, "", l.reading(m.At))
		}
	}
	for _, e := range p.Ellipses {
		t.row(e.Name, l.pair(e.X, " ± ", e.HalfX), l.pair(e.Y, " ± ", e.HalfY))
	}
	for _, a := range p.Arrows {
		t.row(a.Name, l.pair(a.FromX, " → ", a.ToX), l.pair(a.FromY, " → ", a.ToY))
	}
	for _, b := range p.Labels {
		t.row(b.Text, l.computed(b.X), l.computed(b.Y))
	}
	for k := range p.Lines {
		n := &p.Lines[k]
		if n.Name == "" && p.joins(n) {
			continue
		}
		for _, i := range picks(min(len(n.X), len(n.Y))) {
			t.row(n.Name, x.computed(l, n.X[i]), y.say(l, n.Y[i]))
		}
	}
	for k := range p.Bands {
		b := &p.Bands[k]
		for _, i := range picks(min(len(b.X), len(b.Lo), len(b.Hi))) {
			t.row(b.Name, x.computed(l, b.X[i]), l.between(y.say(l, b.Lo[i]), y.say(l, b.Hi[i])))
		}
	}
	if compared && len(t.rows) == len(p.Bars) { // a comparison needs no empty column
		for i, r := range t.rows {
			t.rows[i] = []string{r[0], r[2]}
		}
		head = []string{head[0], head[2]}
	}
	return Table{head, t.rows}
}

// A list is a table of names with values of X and Y.
type list struct {
	l    *Look
	rows [][]string
}

func (t *list) row(name, x, y string) { t.rows = append(t.rows, []string{name, x, y}) }

// centres says that points without a name are those of the ellipses, which
// list them.
func (p *Plot) centres(s *Points) bool {
	found := 0
	for i := range min(len(s.X), len(s.Y)) {
		for _, e := range p.Ellipses {
			if e.ok() && e.X == s.X[i] && e.Y == s.Y[i] {
				found++
				break
			}
		}
	}
	return s.Name == "" && found == len(s.X)
}

func (t *list) points(s *Points, x *scale) {
	name := s.Name
	if name == "" {
		name = t.l.Words.Readings
	}
	n := min(len(s.X), len(s.Y))
	for i := range min(n, mostRows) {
		t.row(t.l.flagged(name, i < len(s.Flagged) && s.Flagged[i]), x.reading(t.l, s.X[i]), t.l.uncertain(s.Y[i], s.half(i)))
	}
	if n > mostRows {
		t.row(t.l.fixed(float64(n-mostRows), 0)+" "+t.l.Words.Unlisted, "", "")
	}
}

// between is a range in words.
func (l *Look) between(lo, hi string) string { return lo + " " + l.Words.Range + " " + hi }

// pair is two computed values with a sign between them.
func (l *Look) pair(a float64, sign string, b float64) string {
	return l.computed(a) + sign + l.computed(b)
}

// flagged is a name, and that it is flagged.
func (l *Look) flagged(name string, yes bool) string {
	if yes {
		return name + " (" + l.Words.Flagged + ")"
	}
	return name
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
			row = append(row, l.between(y.say(l, b.Lo[i]), y.say(l, b.Hi[i])))
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
