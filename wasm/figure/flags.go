package figure

// A flag is text at a pole: a moment of a strip, a limit over rows of bars.
type flag struct {
	x     float64 // of the pole
	lines []string

	// What hoist finds.
	row    int     // counted from where the pole starts
	x0, x1 float64 // of the text
}

// A mast holds flags between two edges. Centred flags stand over the end of
// their pole; others fly at its side, to the right if they can.
type mast struct {
	x0, x1  float64
	centred bool
	steps   int // left for the search
}

const aside = 5 // between a pole and its text, and between two texts

// hoist gives each flag a row and a side so that no text meets another text
// or the pole of another flag, in as few rows as it can. It returns how many.
// Where there is no such way it lets poles cross texts, but never two texts.
func (m mast) hoist(flags []*flag) int {
	order := append([]*flag(nil), flags...)
	for i := 1; i < len(order); i++ { // from the right
		for j := i; j > 0 && order[j].x > order[j-1].x; j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	for rows := 1; rows <= min(len(order), 8); rows++ {
		m.steps = 4000
		if m.search(order, 0, rows) {
			top := 0
			for _, f := range order {
				top = max(top, f.row+1)
			}
			return top
		}
	}
	rows := 0
	for n, f := range order {
		f.x0, f.x1 = m.sides(f)[0], m.sides(f)[0]+m.wide(f)
		f.row = 0
		for i := 0; i < n; i++ {
			if o := order[i]; o.row == f.row && o.meets(f) {
				f.row++
				i = -1
			}
		}
		rows = max(rows, f.row+1)
	}
	return rows
}

// search places the flags from the n-th on.
func (m *mast) search(order []*flag, n, rows int) bool {
	if n == len(order) {
		return true
	}
	f := order[n]
	for row := range rows {
		for _, x := range m.sides(f) {
			if m.steps--; m.steps < 0 {
				return false
			}
			f.row, f.x0, f.x1 = row, x, x+m.wide(f)
			if m.free(f, order[:n]) && m.search(order, n+1, rows) {
				return true
			}
		}
	}
	return false
}

// wide is the room for a flag's text, which the page may set in bold.
func (m mast) wide(f *flag) float64 {
	w := 0.0
	for _, l := range f.lines {
		w = max(w, bold(l))
	}
	return w
}

// sides are the places where a flag's text may begin, the better one first.
func (m mast) sides(f *flag) []float64 {
	w := m.wide(f)
	if m.centred {
		return []float64{max(min(f.x-w/2, m.x1-w), m.x0)}
	}
	var s []float64
	if f.x+aside+w <= m.x1 {
		s = append(s, f.x+aside)
	}
	if f.x-aside-w >= m.x0 {
		s = append(s, f.x-aside-w)
	}
	if s == nil { // wider than either side
		s = append(s, max(m.x1-w, m.x0))
	}
	return s
}

// free says whether a flag stands clear of those already placed.
func (m mast) free(f *flag, placed []*flag) bool {
	for _, o := range placed {
		if o.row == f.row && o.meets(f) || m.crosses(o, f) || m.crosses(f, o) {
			return false
		}
	}
	return true
}

func (f *flag) meets(o *flag) bool { return f.x0 < o.x1+aside && o.x0 < f.x1+aside }

// crosses says whether the pole of a crosses the text of b. The pole of a
// centred flag ends before its own row.
func (m mast) crosses(a, b *flag) bool {
	past := a.row > b.row || a.row == b.row && !m.centred
	return past && a.x > b.x0-2 && a.x < b.x1+2
}

// words writes a flag's line at its side of the pole.
func (p *pen) words(class string, f *flag, y float64, s string) {
	if f.x1 < f.x {
		p.text(class, f.x1, y, "end", s)
		return
	}
	p.text(class, f.x0, y, "start", s)
}
