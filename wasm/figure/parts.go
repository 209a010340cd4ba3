package figure

import "math"

// bands draws the areas. Of several each has an edge, solid or dashed, and its
// name stands where no other is.
func (c *canvas) bands() {
	drawn := make([][][]pt, len(c.plot.Bands))
	for i := range c.plot.Bands {
		b := &c.plot.Bands[i]
		n := min(len(b.X), len(b.Lo), len(b.Hi))
		owner := ofBand.owner(i)
		var anchors []anchor
		var outlines [][]pt
		for j := 0; j < n; j++ {
			var hi, lo []pt
			for ; j < n && c.can(b.X[j], b.Lo[j]) && c.y.can(b.Hi[j]); j++ {
				hi = append(hi, c.at(b.X[j], b.Hi[j]))
				lo = append(lo, c.at(b.X[j], b.Lo[j]))
			}
			if hi == nil {
				continue
			}
			anchors = append(anchors, c.within(hi, lo)...)
			hi, lo = thin(c.near(hi)), thin(c.near(lo))
			outline := append(append([]pt(nil), hi...), reversed(lo)...)
			c.edge(outline, owner)
			c.edge([]pt{hi[0], lo[0]}, owner)
			if poly := c.f.inside(outline); len(poly) > 2 {
				outlines = append(outlines, poly)
			}
		}
		if outlines == nil {
			continue
		}
		c.put(`<path class="f-band @" d="`, float64(i))
		c.path(outlines, true)
		c.fill(i)
		c.want(ofBand, i, b.Name, fromEnd(few(anchors), 2))
		drawn[i] = outlines
	}
	for _, w := range c.wanted {
		for k := range w.anchors {
			a := &w.anchors[k]
			q := pt{a.x, a.y}
			switch a.sides {
			case above:
				q.y -= w.gap + (rise+fall)/2
			case below:
				q.y += w.gap + (rise+fall)/2
			}
			for i, others := range drawn {
				if i != w.i && covers(others, q) {
					a.cost += hidden
				}
			}
		}
	}
}

// fill ends the drawing of an area.
func (c *canvas) fill(i int) {
	c.put(`" fill="currentColor" fill-opacity="0.14"`)
	if len(c.plot.Bands) > 1 {
		c.put(` stroke="currentColor"`)
		if i%2 == 1 {
			c.put(` stroke-dasharray="6 4"`)
		}
	}
	c.put("/>\n")
}

// covers says whether a point lies in an area.
func covers(area [][]pt, q pt) (in bool) {
	for _, o := range area {
		for i, a := range o {
			b := o[(i+1)%len(o)]
			if (a.y > q.y) != (b.y > q.y) && q.x < a.x+(q.y-a.y)/(b.y-a.y)*(b.x-a.x) {
				in = !in
			}
		}
	}
	return in
}

// near pulls points that are very far away to where they still cut the frame
// in the same place, to the accuracy of a drawing.
func (c *canvas) near(run []pt) []pt {
	const far = 1e7
	out := make([]pt, len(run))
	for i, p := range run {
		out[i] = pt{max(min(p.x, far), -far), max(min(p.y, far), -far)}
	}
	return out
}

// edge notes a line that is only the edge of an area.
func (c *canvas) edge(run []pt, owner int) {
	for k := 1; k < len(run); k++ {
		if p, q, ok := c.f.clip(run[k-1], run[k]); ok {
			c.room.line(p.x, p.y, q.x, q.y, edge, owner)
		}
	}
}

// within sets anchors in the middle of a band and at its edges, from left to
// right.
func (c *canvas) within(hi, lo []pt) []anchor {
	var out []anchor
	at := func(x, up, down float64) {
		if x < c.f.x0 || x > c.f.x1 || max(up, down) < c.f.y0 || min(up, down) > c.f.y1 {
			return
		}
		hold := func(y float64) float64 { return max(min(y, c.f.y1), c.f.y0) }
		up, down = hold(up), hold(down)
		out = append(out, anchor{x: x, y: (up + down) / 2, sides: centred},
			anchor{x: x, y: min(up, down), sides: above}, anchor{x: x, y: max(up, down), sides: below})
	}
	at(hi[0].x, hi[0].y, lo[0].y)
	for k := 1; k < len(hi); k++ {
		a, b, ok := c.f.clip(pt{hi[k-1].x, c.f.y0}, pt{hi[k].x, c.f.y0})
		if !ok {
			continue // beside the frame, maybe very far
		}
		dx := hi[k].x - hi[k-1].x
		n := int(math.Abs(b.x-a.x)/14) + 1
		for m := 1; m <= n; m++ {
			x := a.x + (b.x-a.x)*float64(m)/float64(n)
			t := 1.0
			if dx != 0 {
				t = (x - hi[k-1].x) / dx
			}
			at(x, hi[k-1].y+t*(hi[k].y-hi[k-1].y), lo[k-1].y+t*(lo[k].y-lo[k-1].y))
		}
	}
	return out
}

// fromEnd makes anchors dearer the further they are from the last.
func fromEnd(a []anchor, most float64) []anchor {
	for k := range a {
		a[k].cost += most * float64(len(a)-1-k) / float64(len(a))
	}
	return a
}

// few keeps some of the anchors, evenly.
func few(a []anchor) []anchor {
	const most = 60
	if len(a) <= most {
		return a
	}
	var out []anchor
	for i := range most {
		out = append(out, a[i*(len(a)-1)/(most-1)])
	}
	return out
}

func reversed[T any](p []T) []T {
	out := make([]T, len(p))
	for i := range p {
		out[len(p)-1-i] = p[i]
	}
	return out
}

func (c *canvas) bars() {
	for _, b := range c.plot.Bars {
		if !b.ok() || !c.x.can(b.X-b.Width/2) && !c.x.can(b.X+b.Width/2) {
			continue
		}
		lo, hi := min(b.Lo, b.Hi), max(b.Lo, b.Hi)
		if c.y.log {
			if hi < c.y.lo {
				continue
			}
			lo = max(lo, c.y.lo)
		}
		xa := b.X - b.Width/2
		if c.x.log {
			xa = max(xa, c.x.lo)
		}
		x0, x1 := max(c.x.at(xa), c.f.x0), min(c.x.at(b.X+b.Width/2), c.f.x1)
		y0, y1 := max(c.y.at(hi), c.f.y0), min(c.y.at(lo), c.f.y1)
		if x1 <= x0 || y1 < y0 {
			continue
		}
		if x1-x0 > 4 {
			x0, x1 = x0+0.5, x1-0.5
		}
		c.bar(b, x0, y0, x1, y1)
		c.room.box(x0, y0, x1, y1, area, ofBar.owner(0))
		if c.named && b.Name != "" {
			s, y := b.text(c.look), y0-5
			if b.Hi < b.Lo {
				y = y1 + 5 + rise
			}
			if w := bold(s); w <= c.slot()+6 {
				c.text("f-amount", (x0+x1)/2, y, "middle", s)
				c.room.box((x0+x1-w)/2, y-rise, (x0+x1+w)/2, y+fall, word, ofBar.owner(0))
			}
		}
	}
}

func (c *canvas) marks() {
	f := c.f
	for i, m := range c.plot.Marks {
		s := &c.y
		if m.Vertical {
			s = &c.x
		}
		if !s.can(m.At) {
			continue
		}
		w := c.want(ofMark, i, m.Name, nil)
		if m.Vertical {
			w.sides = left | right
		}
		if !s.in(m.At) {
			c.away(m, s, w)
			continue
		}
		p := s.at(m.At)
		a, b := pt{f.x1, p}, pt{f.x0, p}
		c0, c1 := a, b // between which the name stands
		if m.Vertical {
			a, b = pt{p, f.y0}, pt{p, f.y1}
			c0, c1 = pt{p, f.y0 + 8}, pt{p, f.y1 - 8}
		}
		w.anchors = spread(c0, c1, 12, 3)
		c.rule("f-mark", b.x, a.y, a.x, b.y, 1.25)
		c.room.line(a.x, a.y, b.x, b.y, rule, w.owner(i))
	}
}

// spread sets n+1 anchors from a to b, ever dearer.
func spread(a, b pt, n int, most float64) []anchor {
	var out []anchor
	for k := range n + 1 {
		t := float64(k) / float64(n)
		out = append(out, anchor{x: a.x + t*(b.x-a.x), y: a.y + t*(b.y-a.y), cost: t * most})
	}
	return out
}

// away names a mark that lies outside a given range, with an arrow to where.
func (c *canvas) away(m Mark, s *scale, w *wanted) {
	f := c.f
	low := m.At < s.lo
	switch {
	case m.Vertical && low:
		w.text = "← " + m.Name
	case m.Vertical:
		w.text = m.Name + " →"
	case low:
		w.text = "↓ " + m.Name
	default:
		w.text = "↑ " + m.Name
	}
	w.gap, w.away = 3, true
	switch {
	case m.Vertical && low:
		w.sides, w.anchors = right, spread(pt{f.x0, f.y0 + 10}, pt{f.x0, f.y1 - 10}, 8, 1)
	case m.Vertical:
		w.sides, w.anchors = left, spread(pt{f.x1, f.y0 + 10}, pt{f.x1, f.y1 - 10}, 8, 1)
	case low:
		w.sides, w.anchors = above, spread(pt{f.x1, f.y1}, pt{f.x0, f.y1}, 8, 1)
	default:
		w.sides, w.anchors = below, spread(pt{f.x1, f.y0}, pt{f.x0, f.y0}, 8, 1)
	}
}

func (c *canvas) ellipses() {
	for i, e := range c.plot.Ellipses {
		if !e.ok() {
			continue
		}
		owner := ofEllipse.owner(i)
		const n = 72
		var xs, ys []float64
		k := math.Sqrt(1 - e.Rho*e.Rho)
		for j := range n + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(j%n) / n)
			xs = append(xs, e.X+e.HalfX*cos)
			ys = append(ys, e.Y+e.HalfY*(e.Rho*cos+k*sin))
		}
		runs := pieces(&c.x, &c.y, c.f, xs, ys)
		if len(runs) == 0 {
			continue
		}
		c.put(`<path class="f-ellipse @" d="`, float64(i))
		c.path(runs, false)
		c.put(`" fill="none" stroke="currentColor" stroke-width="1.5"/>` + "\n")
		var anchors []anchor
		for _, r := range runs {
			c.trace(r, firm, owner)
			for j := 0; j < len(r); j += 6 {
				anchors = append(anchors, anchor{x: r[j].x, y: r[j].y})
			}
		}
		c.want(ofEllipse, i, e.Name, anchors)
	}
}

// trace marks a run as drawn.
func (c *canvas) trace(r []pt, weight uint8, owner int) {
	for j := range r {
		if j == 0 {
			c.room.put(r[0].x, r[0].y, weight, owner)
			continue
		}
		c.room.line(r[j-1].x, r[j-1].y, r[j].x, r[j].y, weight, owner)
	}
}

// openLine and closeLine stand around the path data of a line.
func (c *canvas) openLine(l *Line, i int) {
	style := "f-solid"
	switch l.Style {
	case Dashed:
		style = "f-dashed"
	case Dotted:
		style = "f-dotted"
	case Guide:
		c.put(`<path class="f-line f-guide" d="`)
		return
	}
	c.put(`<path class="f-line `+style+` @" d="`, float64(i))
}

func (c *canvas) closeLine(l *Line) {
	width := 2.25
	if l.Style == Guide {
		width = 1.5
	}
	c.put(`" fill="none" stroke="currentColor" stroke-width="~" stroke-linecap="round" stroke-linejoin="round"`, width)
	switch l.Style {
	case Dashed:
		c.put(` stroke-dasharray="8 5"`)
	case Dotted, Guide:
		c.put(` stroke-dasharray="0.1 5"`)
	}
	c.put("/>\n")
}

// drawLines draws the lines, each open where a name stands on it.
func (c *canvas) drawLines() {
	for _, t := range c.traced {
		c.openLine(t.line, t.i)
		c.path(t.runs, false)
		c.closeLine(t.line)
	}
}

// open cuts what lies in a box out of a line.
func (c *canvas) open(i int, box frame) {
	for k := range c.traced {
		if t := &c.traced[k]; t.i == i {
			t.runs = without(t.runs, frame{box.x0 - 2, box.y0, box.x1 + 2, box.y1})
		}
	}
}

func (c *canvas) lines() {
	for i := range c.plot.Lines {
		l := &c.plot.Lines[i]
		owner := ofLine.owner(i)
		runs := pieces(&c.x, &c.y, c.f, l.X, l.Y)
		if len(runs) == 0 {
			continue
		}
		var anchors []anchor
		for j := len(runs) - 1; j >= 0; j-- {
			runs[j] = thin(runs[j])
			c.trace(runs[j], firm, owner)
			anchors = append(anchors, along(runs[j])...)
		}
		c.traced = append(c.traced, traced{l, i, runs})
		c.want(ofLine, i, l.Name, fromEnd(few(reversed(anchors)), 8)).guide = l.Style == Guide
	}
}

// along sets anchors on a run, from its end, at equal ways.
func along(run []pt) []anchor {
	length := 0.0
	for k := 1; k < len(run); k++ {
		length += math.Hypot(run[k].x-run[k-1].x, run[k].y-run[k-1].y)
	}
	pace := max(14, length/60)
	out := []anchor{{x: run[len(run)-1].x, y: run[len(run)-1].y}}
	way := 0.0
	for k := len(run) - 1; k > 0; k-- {
		a, b := run[k], run[k-1]
		l := math.Hypot(b.x-a.x, b.y-a.y)
		for way+l >= pace {
			t := (pace - way) / l
			a = pt{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)}
			l -= pace - way
			way = 0
			out = append(out, anchor{x: a.x, y: a.y})
		}
		way += l
	}
	return out
}

func (c *canvas) arrows() {
	for i, a := range c.plot.Arrows {
		if !c.can(a.FromX, a.FromY) || !c.can(a.ToX, a.ToY) {
			continue
		}
		owner := ofArrow.owner(i)
		full := c.at(a.ToX, a.ToY)
		p, q, ok := c.f.clip(c.at(a.FromX, a.FromY), full)
		if !ok {
			continue
		}
		runs := [][]pt{{p, q}}
		if l := math.Hypot(q.x-p.x, q.y-p.y); l > 1 && math.Hypot(q.x-full.x, q.y-full.y) < 0.5 {
			ux, uy := (q.x-p.x)/l, (q.y-p.y)/l
			h := min(8, l/2)
			runs = append(runs, []pt{{q.x - h*ux - h*0.5*uy, q.y - h*uy + h*0.5*ux}, q, {q.x - h*ux + h*0.5*uy, q.y - h*uy - h*0.5*ux}})
		}
		c.put(`<path class="f-arrow" d="`)
		c.path(runs, false)
		c.put(`" fill="none" stroke="currentColor" stroke-width="1.75" stroke-linecap="round" stroke-linejoin="round"/>` + "\n")
		c.trace(runs[0], firm, owner)
		c.want(ofArrow, i, a.Name, fromEnd(reversed(along(runs[0])), 8))
	}
}

func (c *canvas) points() {
	for i := range c.plot.Points {
		s := &c.plot.Points[i]
		owner := ofPoint.owner(i)
		const many = 200 // from which readings are drawn as one path
		n := min(len(s.X), len(s.Y))
		grain := 1.0 // of two readings in one square of this size one is drawn
		if n > 5*many {
			grain = 2.5
		}
		var anchors []anchor
		var blots, errs [][]pt
		gap := manners[ofPoint].gap
		seen := map[[2]int]bool{}
		for j := range n {
			if !c.can(s.X[j], s.Y[j]) {
				continue
			}
			if !c.x.in(s.X[j]) || !c.y.in(s.Y[j]) {
				c.beyond++
				continue
			}
			x, y := c.x.at(s.X[j]), c.y.at(s.Y[j])
			flagged := j < len(s.Flagged) && s.Flagged[j]
			at := [2]int{int(x / grain), int(y / grain)}
			if seen[at] && !flagged {
				continue
			}
			seen[at] = true
			if e := s.half(j); e > 0 {
				lo, hi := c.f.y1, max(c.y.at(s.Y[j]+e), c.f.y0)
				if c.y.can(s.Y[j] - e) {
					lo = min(c.y.at(s.Y[j]-e), c.f.y1)
				}
				errs = append(errs, []pt{{x, lo}, {x, hi}})
				c.room.line(x, lo, x, hi, fine, owner)
			}
			if n > many {
				blots = append(blots, []pt{{x, y}})
			} else {
				anchors = append(anchors, anchor{x: x, y: y})
			}
			if flagged {
				c.put(`<circle class="f-flag" cx="~" cy="~" r="8" fill="none" stroke="currentColor" stroke-width="1.75"/>`+"\n", x, y)
				c.room.box(x-7, y-7, x+7, y+7, firm, owner)
				gap = 11
			}
			c.room.box(x-3, y-3, x+3, y+3, firm, owner)
		}
		if errs != nil {
			c.put(`<path class="f-err @" d="`, float64(i))
			for _, e := range errs {
				c.put("M~ ~V~M~ ~h6M~ ~h6", e[0].x, e[0].y, e[1].y, e[0].x-3, e[0].y, e[1].x-3, e[1].y)
			}
			c.put(`" fill="none" stroke="currentColor"/>` + "\n")
		}
		for _, a := range anchors {
			c.shape(s.Shape, i, a.x, a.y)
		}
		if blots != nil {
			c.put(`<path class="f-blots @" d="`, float64(i))
			c.path(blots, false)
			c.put(`" fill="none" stroke="currentColor" stroke-width="5" stroke-linecap="round"/>` + "\n")
			for _, b := range blots {
				anchors = append(anchors, anchor{x: b[0].x, y: b[0].y})
			}
		}
		if len(anchors) > 0 {
			c.want(ofPoint, i, s.Name, fromEnd(few(anchors), 2)).gap = gap
		}
	}
}

// shape draws one reading.
func (c *canvas) shape(s Shape, i int, x, y float64) {
	svg := `<circle class="f-point @" cx="~" cy="~" r="3.75" fill="currentColor"/>`
	switch s {
	case Ring:
		svg = `<circle class="f-point f-hollow @" cx="~" cy="~" r="4" fill="none" stroke="currentColor" stroke-width="1.75"/>`
	case Square:
		svg = `<path class="f-point @" d="M~ ~m-3.75-3.75h7.5v7.5h-7.5z" fill="currentColor"/>`
	case Diamond:
		svg = `<path class="f-point @" d="M~ ~m0-5.25 5.25 5.25-5.25 5.25-5.25-5.25z" fill="currentColor"/>`
	case Triangle:
		svg = `<path class="f-point @" d="M~ ~m0-5 5 8.75h-10z" fill="currentColor"/>`
	case Cross:
		svg = `<path class="f-point f-hollow @" d="M~ ~m-4-4 8 8m0-8-8 8" fill="none" stroke="currentColor" stroke-width="1.75"/>`
	}
	c.put(svg+"\n", float64(i), x, y)
}

// sample draws at the left of a name in the key what it names.
func (c *canvas) sample(w *wanted, x, y float64) {
	i := float64(w.i)
	switch w.kind {
	case ofBand:
		c.put(`<path class="f-band @" d="M~ ~h26v13h-26z`, i, x, y-11)
		c.fill(w.i)
	case ofMark:
		if !w.away {
			c.rule("f-mark", x, y-4, x+26, y-4, 1.25)
		}
	case ofLine:
		l := &c.plot.Lines[w.i]
		c.openLine(l, w.i)
		c.put("M~ ~h26", x, y-4)
		c.closeLine(l)
	case ofEllipse:
		c.put(`<ellipse class="f-ellipse @" cx="~" cy="~" rx="12" ry="5" fill="none" stroke="currentColor" stroke-width="1.5"/>`+"\n", i, x+13, y-4)
	case ofArrow:
		c.put(`<path class="f-arrow" d="M~ ~h24m-6-4 6 4-6 4" fill="none" stroke="currentColor" stroke-width="1.75"/>`+"\n", x, y-4)
	case ofPoint:
		c.shape(c.plot.Points[w.i].Shape, w.i, x+13, y-4)
	}
}
