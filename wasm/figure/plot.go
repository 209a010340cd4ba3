package figure

import (
	"math"
)

// SVG draws the plot in the plain Look.
func (p Plot) SVG() string { return p.Draw(Look{}) }

// Draw draws the plot.
func (p Plot) Draw(l Look) string {
	g := newPen(l)
	c := canvas{pen: g, plot: p}
	if !c.measure() {
		return g.nothing("plot", p.Title, p.Desc)
	}
	c.axes()
	c.bands()
	c.bars()
	c.marks()
	c.ellipses()
	c.lines()
	c.arrows()
	c.points()
	c.names()
	h := c.key()
	return g.figure("plot", p.Title, p.Desc, h, "data-frame", coord(c.f.x0)+" "+coord(c.f.y0)+" "+coord(c.f.x1)+" "+coord(c.f.y1))
}

// A canvas is a plot being drawn.
type canvas struct {
	*pen
	plot   Plot
	x, y   scale
	f      frame
	room   *room
	bottom float64 // of what is written under the frame
	wanted []wanted
	keys   []wanted // names that found no place in the picture
	beyond int      // readings outside a given range
}

// A wanted is a name that wants a place.
type wanted struct {
	text, class string
	anchors     []anchor
	sides       int
	gap         float64
	owner       int
	must        bool
	sample      func(x, y float64) // draws the sample of the key
}

// ranges collects what the data span.
func (p Plot) ranges() (x, y span) {
	x.log, y.log = p.X.Log, p.Y.Log
	both := func(u, v float64) {
		if drawable(u) && drawable(v) && (!x.log || u >= 1e-150) && (!y.log || v >= 1e-150) {
			x.add(u)
			y.add(v)
		}
	}
	for _, l := range p.Lines {
		for i := range min(len(l.X), len(l.Y)) {
			both(l.X[i], l.Y[i])
		}
	}
	for _, b := range p.Bands {
		for i := range min(len(b.X), len(b.Lo), len(b.Hi)) {
			if drawable(b.Lo[i]) && drawable(b.Hi[i]) {
				both(b.X[i], b.Lo[i])
				both(b.X[i], b.Hi[i])
			}
		}
	}
	for _, s := range p.Points {
		for i := range min(len(s.X), len(s.Y)) {
			both(s.X[i], s.Y[i])
			if e := s.half(i); e > 0 {
				both(s.X[i], s.Y[i]-e)
				both(s.X[i], s.Y[i]+e)
			}
		}
	}
	for _, b := range p.Bars {
		if b.ok() {
			both(b.X-b.Width/2, b.Lo)
			both(b.X+b.Width/2, b.Hi)
			if y.log { // a bar from 0 still has its upper end
				y.add(b.Hi)
				x.add(b.X - b.Width/2)
				x.add(b.X + b.Width/2)
			}
		}
	}
	for _, e := range p.Ellipses {
		if e.ok() {
			both(e.X-e.HalfX, e.Y-e.HalfY)
			both(e.X+e.HalfX, e.Y+e.HalfY)
			both(e.X, e.Y)
		}
	}
	for _, a := range p.Arrows {
		if drawable(a.FromX) && drawable(a.FromY) && drawable(a.ToX) && drawable(a.ToY) {
			both(a.FromX, a.FromY)
			both(a.ToX, a.ToY)
		}
	}
	for _, l := range p.Labels {
		both(l.X, l.Y)
	}
	for _, m := range p.Marks {
		if m.Vertical {
			x.add(m.At)
		} else {
			y.add(m.At)
		}
	}
	return x, y
}

func (s Points) half(i int) float64 {
	if i < len(s.Err) && drawable(s.Err[i]) {
		return math.Abs(s.Err[i])
	}
	return 0
}

func (b Bar) ok() bool {
	return drawable(b.X) && drawable(b.Width) && drawable(b.Lo) && drawable(b.Hi) && b.Width > 0
}

func (e Ellipse) ok() bool {
	return drawable(e.X) && drawable(e.Y) && drawable(e.HalfX) && drawable(e.HalfY) && math.Abs(e.Rho) <= 1
}

// scales settles both axes without the drawing's measures.
func (p Plot) scales(l Look, nx, ny int) (x, y scale, ok bool) {
	sx, sy := p.ranges()
	if !sx.any && !sy.any {
		return x, y, false
	}
	pad := 0.0
	if len(p.Points) > 0 || len(p.Ellipses) > 0 || len(p.Labels) > 0 || len(p.Arrows) > 0 {
		pad = 0.03
	}
	if len(p.Bars) > 0 {
		pad = 0.01
	}
	x = newScale(p.X, sx, pad, false, nx)
	y = newScale(p.Y, sy, 0, true, ny)
	x.set(l, p.X, nx)
	y.set(l, p.Y, ny)
	return x, y, true
}

// set fills the ticks: the axis' own or round ones.
func (s *scale) set(l Look, a Axis, count int) {
	s.round(l, count)
	if len(a.Ticks) == 0 {
		return
	}
	s.own = true
	s.ticks = nil
	for _, t := range a.Ticks {
		s.ticks = append(s.ticks, t)
	}
	for i := 1; i < len(s.ticks); i++ {
		for j := i; j > 0 && s.ticks[j].At < s.ticks[j-1].At; j-- {
			s.ticks[j], s.ticks[j-1] = s.ticks[j-1], s.ticks[j]
		}
	}
}

func (a Axis) title() string {
	if a.Unit == "" {
		return a.Label
	}
	if a.Label == "" {
		return a.Unit
	}
	return a.Label + ", " + a.Unit
}

// measure settles the frame; false when there is nothing to draw.
func (c *canvas) measure() bool {
	height := 190.0
	nx, ny := 6, 5
	if c.look.Wide {
		height, nx, ny = 300, 10, 7
	}
	var ok bool
	if c.x, c.y, ok = c.plot.scales(c.look, nx, ny); !ok {
		return false
	}
	c.names2ticks()
	top := 8.0
	if c.plot.Y.title() != "" {
		top = 26
	}
	left := 8.0
	for _, t := range c.y.ticks {
		if c.y.in2(t.At) {
			left = math.Max(left, width(t.Name)+10)
		}
	}
	left = math.Min(left, c.w*0.4)
	c.f = frame{left, top, c.w - 12, top + height}
	c.y.p0, c.y.p1 = c.f.y1, c.f.y0
	for {
		c.x.p0, c.x.p1 = c.f.x0, c.f.x1
		if c.x.own || nx <= 2 || c.fit() {
			break
		}
		nx--
		c.x.round(c.look, nx)
	}
	c.room = newRoom(c.f.x0, c.f.y0, c.f.x1, c.f.y1)
	return true
}

// names2ticks puts the names of bars in place of the numbers under them.
func (c *canvas) names2ticks() {
	if c.x.own {
		return
	}
	var ticks []Tick
	for _, b := range c.plot.Bars {
		if b.Name != "" && b.ok() {
			ticks = append(ticks, Tick{b.X, b.Name})
		}
	}
	if ticks != nil {
		a := c.plot.X
		a.Ticks = ticks
		c.x.set(c.look, a, 6)
	}
}

func (s *scale) in2(v float64) bool {
	return s.can(v) && v >= s.lo-1e-9*math.Abs(s.hi-s.lo) && v <= s.hi+1e-9*math.Abs(s.hi-s.lo)
}

// fit says whether the numbers under the frame stand clear of each other.
func (c *canvas) fit() bool {
	end := math.Inf(-1)
	for _, t := range c.x.ticks {
		w := width(t.Name)
		x := c.x.at(t.At) - w/2
		if x < end+8 {
			return false
		}
		end = x + w
	}
	return true
}

func (c *canvas) axes() {
	f := c.f
	for _, t := range c.y.ticks {
		if !c.y.in(t.At) {
			continue
		}
		y := c.y.at(t.At)
		c.rule("f-grid", f.x0, y, f.x1, y, 0.5)
		c.text("f-tick", f.x0-6, y+5, "end", t.Name)
	}
	c.rule("f-axis", f.x0, f.y1, f.x1, f.y1, 1)
	// Numbers of the x axis, in up to three rows when they are names.
	var ends [3]float64
	for i := range ends {
		ends[i] = -1
	}
	rows := 1
	slot := f.x1 - f.x0
	for i := 1; i < len(c.x.ticks); i++ {
		if c.x.in(c.x.ticks[i].At) && c.x.in(c.x.ticks[i-1].At) {
			slot = math.Min(slot, c.x.at(c.x.ticks[i].At)-c.x.at(c.x.ticks[i-1].At))
		}
	}
	for _, t := range c.x.ticks {
		if !c.x.in(t.At) {
			continue
		}
		x := c.x.at(t.At)
		c.rule("f-axis", x, f.y1, x, f.y1+4, 1)
		w := width(t.Name)
		at := math.Min(math.Max(x-w/2, 1), c.w-1-w)
		for r := range ends {
			if at >= ends[r]+6 || ends[r] < 0 {
				c.text("f-tick", at+w/2, f.y1+18+float64(r)*lineH, "middle", t.Name)
				ends[r] = at + w
				rows = max(rows, r+1)
				break
			}
		}
	}
	c.bottom = f.y1 + 18 + float64(rows-1)*lineH
	if s := c.plot.Y.title(); s != "" {
		c.text("f-label", 1, 14, "start", s)
	}
	if s := c.plot.X.title(); s != "" {
		c.bottom += lineH + 2
		c.text("f-label", f.x1, c.bottom, "end", s)
	}
}

func series(class string, i int) string { return class + " f-" + itoa(i%6+1) }

func (c *canvas) want(w wanted) {
	if w.text != "" {
		c.wanted = append(c.wanted, w)
	}
}

func (c *canvas) bands() {
	for i, b := range c.plot.Bands {
		n := min(len(b.X), len(b.Lo), len(b.Hi))
		owner := 100 + i
		var anchors []anchor
		for j := 0; j < n; {
			for j < n && !(c.x.can(b.X[j]) && c.y.can(b.Lo[j]) && c.y.can(b.Hi[j])) {
				j++
			}
			start := j
			var up, down []pt
			for j < n && c.x.can(b.X[j]) && c.y.can(b.Lo[j]) && c.y.can(b.Hi[j]) {
				x := c.x.at(b.X[j])
				up = append(up, pt{x, c.y.at(b.Hi[j])})
				down = append(down, pt{x, c.y.at(b.Lo[j])})
				j++
			}
			if j == start {
				break
			}
			poly := c.f.inside(append(append([]pt{}, corners(up)...), reversed(corners(down))...))
			if len(poly) < 2 {
				continue
			}
			c.el("path", "class", series("f-band", i), "d", d([][]pt{poly}, true), "fill", "currentColor", "fill-opacity", "0.14")
			for k := range up {
				k := len(up) - 1 - k
				m := (up[k].y + down[k].y) / 2
				anchors = append(anchors, anchor{up[k].x, m, float64(len(up)-1-k) / float64(len(up)) * 2})
			}
			for _, side := range [2][]pt{up, down} {
				for k := 1; k < len(side); k++ {
					if p, q, ok := c.f.clip(side[k-1], side[k]); ok {
						c.room.line(p.x, p.y, q.x, q.y, 1, owner)
					}
				}
			}
		}
		c.want(wanted{text: b.Name, class: series("f-name f-band-name", i), anchors: few(anchors), sides: centred | left, owner: owner,
			sample: func(x, y float64) {
				c.el("rect", "class", series("f-band", i), "x", coord(x), "y", coord(y-10), "width", "26", "height", "12", "fill", "currentColor", "fill-opacity", "0.14")
			}})
	}
}

// few keeps at most forty anchors, evenly.
func few(a []anchor) []anchor {
	const most = 40
	if len(a) <= most {
		return a
	}
	var out []anchor
	for i := range most {
		out = append(out, a[i*(len(a)-1)/(most-1)])
	}
	return out
}

func reversed(p []pt) []pt {
	out := make([]pt, len(p))
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
		lo, hi := math.Min(b.Lo, b.Hi), math.Max(b.Lo, b.Hi)
		if c.y.log {
			if hi < c.y.lo {
				continue
			}
			lo = math.Max(lo, c.y.lo)
		}
		xa := b.X - b.Width/2
		if c.x.log {
			xa = math.Max(xa, c.x.lo)
		}
		x0, x1 := math.Max(c.x.at(xa), c.f.x0), math.Min(c.x.at(b.X+b.Width/2), c.f.x1)
		y0, y1 := math.Max(c.y.at(hi), c.f.y0), math.Min(c.y.at(lo), c.f.y1)
		if x1 <= x0 || y1 < y0 {
			continue
		}
		class, extra := "f-bar", []string(nil)
		if b.Flag {
			class, extra = "f-bar f-flag", []string{"stroke-width", "2.5"}
		}
		if x1-x0 > 4 {
			x0, x1 = x0+0.5, x1-0.5
		}
		c.el("rect", append([]string{"class", class, "x", coord(x0), "y", coord(y0), "width", coord(x1 - x0), "height", coord(y1 - y0),
			"fill", "currentColor", "fill-opacity", "0.35", "stroke", "currentColor"}, extra...)...)
		c.room.box(x0, y0, x1, y1, 1, 300)
	}
}

func (c *canvas) marks() {
	for i, m := range c.plot.Marks {
		owner := 400 + i
		var anchors []anchor
		sides := above | below
		s := &c.y
		if m.Vertical {
			s, sides = &c.x, left|right
		}
		if !s.in(m.At) {
			continue
		}
		p := s.at(m.At)
		for k := range 9 {
			t := float64(k) / 8
			if m.Vertical {
				anchors = append(anchors, anchor{p, c.f.y0 + 8 + t*(c.f.y1-c.f.y0-16), float64(k) / 3})
			} else {
				anchors = append(anchors, anchor{c.f.x1 - t*(c.f.x1-c.f.x0), p, float64(k) / 3})
			}
		}
		if m.Vertical {
			c.rule("f-mark", p, c.f.y0, p, c.f.y1, 1.25)
			c.room.line(p, c.f.y0, p, c.f.y1, 3, owner)
		} else {
			c.rule("f-mark", c.f.x0, p, c.f.x1, p, 1.25)
			c.room.line(c.f.x0, p, c.f.x1, p, 3, owner)
		}
		c.want(wanted{text: m.Name, class: "f-name f-mark-name", anchors: anchors, sides: sides, gap: 4, owner: owner,
			sample: func(x, y float64) { c.rule("f-mark", x, y-4, x+26, y-4, 1.25) }})
	}
}

func (c *canvas) ellipses() {
	for i, e := range c.plot.Ellipses {
		if !e.ok() {
			continue
		}
		owner := 500 + i
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
		c.el("path", "class", series("f-ellipse", i), "d", d(runs, false), "fill", "none", "stroke", "currentColor", "stroke-width", "1.5")
		var anchors []anchor
		for _, r := range runs {
			c.trace(r, 4, owner)
			for j := 0; j < len(r); j += 6 {
				anchors = append(anchors, anchor{r[j].x, r[j].y, 0})
			}
		}
		c.want(wanted{text: e.Name, class: series("f-name f-ellipse-name", i), anchors: anchors, sides: above | below | left | right, gap: 5, owner: owner,
			sample: func(x, y float64) {
				c.el("ellipse", "class", series("f-ellipse", i), "cx", coord(x+13), "cy", coord(y-4), "rx", "12", "ry", "5", "fill", "none", "stroke", "currentColor", "stroke-width", "1.5")
			}})
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

func dash(s Style) []string {
	switch s {
	case Dashed:
		return []string{"stroke-dasharray", "8 5"}
	case Dotted:
		return []string{"stroke-dasharray", "0.1 5"}
	}
	return nil
}

var styleClass = [...]string{"f-solid", "f-dashed", "f-dotted"}

func (l Line) class(i int) string {
	if int(l.Style) < len(styleClass) {
		return series("f-line "+styleClass[l.Style], i)
	}
	return series("f-line", i)
}

func (c *canvas) lines() {
	for i, l := range c.plot.Lines {
		owner := 600 + i
		runs := pieces(&c.x, &c.y, c.f, l.X, l.Y)
		if len(runs) == 0 {
			continue
		}
		var anchors []anchor
		for j := range runs {
			c.trace(runs[j], 4, owner)
		}
		for j := len(runs) - 1; j >= 0; j-- {
			anchors = append(anchors, along(runs[j])...)
			runs[j] = thin(runs[j])
		}
		anchors = few(anchors)
		for k := range anchors {
			anchors[k].cost = 3 * float64(k) / float64(len(anchors))
		}
		attrs := append([]string{"fill", "none", "stroke", "currentColor", "stroke-width", "2.25", "stroke-linecap", "round", "stroke-linejoin", "round"}, dash(l.Style)...)
		c.el("path", append([]string{"class", l.class(i), "d", d(runs, false)}, attrs...)...)
		c.want(wanted{text: l.Name, class: series("f-name f-line-name", i), anchors: anchors, sides: above | below | right | left, gap: 6, owner: owner,
			sample: func(x, y float64) {
				c.el("path", append([]string{"class", l.class(i), "d", "M" + coord(x) + " " + coord(y-4) + "h26"}, attrs...)...)
			}})
	}
}

// along sets anchors on a run, from its end, one for some units of way.
func along(run []pt) []anchor {
	out := []anchor{{x: run[len(run)-1].x, y: run[len(run)-1].y}}
	way := 0.0
	for k := len(run) - 1; k > 0; k-- {
		a, b := run[k], run[k-1]
		l := math.Hypot(b.x-a.x, b.y-a.y)
		for way+l >= 14 {
			t := (14 - way) / l
			a = pt{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)}
			l -= 14 - way
			way = 0
			out = append(out, anchor{x: a.x, y: a.y})
			if len(out) > 200 {
				return out
			}
		}
		way += l
	}
	return out
}

func (c *canvas) arrows() {
	for i, a := range c.plot.Arrows {
		if !c.x.can(a.FromX) || !c.x.can(a.ToX) || !c.y.can(a.FromY) || !c.y.can(a.ToY) {
			continue
		}
		owner := 700 + i
		full := pt{c.x.at(a.ToX), c.y.at(a.ToY)}
		p, q, ok := c.f.clip(pt{c.x.at(a.FromX), c.y.at(a.FromY)}, full)
		if !ok {
			continue
		}
		runs := [][]pt{{p, q}}
		if l := math.Hypot(q.x-p.x, q.y-p.y); l > 1 && math.Hypot(q.x-full.x, q.y-full.y) < 0.5 {
			ux, uy := (q.x-p.x)/l, (q.y-p.y)/l
			h := math.Min(8, l/2)
			runs = append(runs, []pt{{q.x - h*ux - h*0.5*uy, q.y - h*uy + h*0.5*ux}, q, {q.x - h*ux + h*0.5*uy, q.y - h*uy - h*0.5*ux}})
		}
		c.el("path", "class", "f-arrow", "d", d(runs, false), "fill", "none", "stroke", "currentColor", "stroke-width", "1.75", "stroke-linecap", "round", "stroke-linejoin", "round")
		c.trace(runs[0], 4, owner)
		c.want(wanted{text: a.Name, class: "f-name f-arrow-name", anchors: along(runs[0]), sides: above | below | left | right, gap: 6, owner: owner,
			sample: func(x, y float64) {
				c.el("path", "class", "f-arrow", "d", "M"+coord(x)+" "+coord(y-4)+"h24m-6 -4l6 4 -6 4", "fill", "none", "stroke", "currentColor", "stroke-width", "1.75")
			}})
	}
}

func (c *canvas) points() {
	for i, s := range c.plot.Points {
		owner := 800 + i
		var anchors []anchor
		seen := map[[2]int]bool{}
		for j := range min(len(s.X), len(s.Y)) {
			if !c.x.can(s.X[j]) || !c.y.can(s.Y[j]) {
				continue
			}
			if !c.x.in(s.X[j]) || !c.y.in(s.Y[j]) {
				c.beyond++
				continue
			}
			x, y := c.x.at(s.X[j]), c.y.at(s.Y[j])
			flagged := j < len(s.Flagged) && s.Flagged[j]
			at := [2]int{int(x), int(y)}
			if seen[at] && !flagged {
				continue
			}
			seen[at] = true
			if e := s.half(j); e > 0 {
				lo, hi := c.f.y1, c.f.y0
				if c.y.can(s.Y[j] - e) {
					lo = math.Min(c.y.at(s.Y[j]-e), c.f.y1)
				}
				if c.y.can(s.Y[j] + e) {
					hi = math.Max(c.y.at(s.Y[j]+e), c.f.y0)
				}
				c.el("path", "class", series("f-err", i), "d", "M"+coord(x)+" "+coord(lo)+"V"+coord(hi)+"M"+coord(x-3)+" "+coord(lo)+"h6M"+coord(x-3)+" "+coord(hi)+"h6",
					"fill", "none", "stroke", "currentColor")
				c.room.line(x, lo, x, hi, 2, owner)
			}
			c.shape(s.Shape, i, x, y)
			if flagged {
				c.el("circle", "class", "f-flag", "cx", coord(x), "cy", coord(y), "r", "8", "fill", "none", "stroke", "currentColor", "stroke-width", "1.75")
				c.room.box(x-6, y-6, x+6, y+6, 4, owner)
			}
			c.room.box(x-3, y-3, x+3, y+3, 4, owner)
			anchors = append(anchors, anchor{x: x, y: y})
		}
		for k := range anchors {
			anchors[k].cost = float64(len(anchors)-1-k) / float64(len(anchors)) * 2
		}
		c.want(wanted{text: s.Name, class: series("f-name f-point-name", i), anchors: few(anchors), sides: above | below | left | right, gap: 8, owner: owner,
			sample: func(x, y float64) { c.shape(s.Shape, i, x+13, y-4) }})
	}
}

// shape draws one reading.
func (c *canvas) shape(s Shape, i int, x, y float64) {
	class := series("f-point", i)
	path := ""
	at := "M" + coord(x) + " " + coord(y)
	switch s {
	case Ring:
		c.el("circle", "class", class+" f-open", "cx", coord(x), "cy", coord(y), "r", "4", "fill", "none", "stroke", "currentColor", "stroke-width", "1.75")
		return
	case Square:
		path = at + "m-3.75 -3.75h7.5v7.5h-7.5z"
	case Diamond:
		path = at + "m0 -5.25l5.25 5.25 -5.25 5.25 -5.25 -5.25z"
	case Triangle:
		path = at + "m0 -5l5 8.75h-10z"
	case Cross:
		c.el("path", "class", class+" f-open", "d", at+"m-4 -4l8 8m0 -8l-8 8", "fill", "none", "stroke", "currentColor", "stroke-width", "1.75")
		return
	default:
		c.el("circle", "class", class, "cx", coord(x), "cy", coord(y), "r", "3.75", "fill", "currentColor")
		return
	}
	c.el("path", "class", class, "d", path, "fill", "currentColor")
}

// names places what wants a place, explicit labels first.
func (c *canvas) names() {
	for i, l := range c.plot.Labels {
		if l.Text == "" || !c.x.in(l.X) || !c.y.in(l.Y) {
			continue
		}
		w := wanted{text: l.Text, class: "f-name f-text", anchors: []anchor{{x: c.x.at(l.X), y: c.y.at(l.Y)}}, sides: above | below | left | right | centred, gap: 5, owner: 900 + i, must: true}
		c.put(w)
	}
	for _, w := range c.wanted {
		if !c.put(w) {
			c.keys = append(c.keys, w)
		}
	}
}

func (c *canvas) put(w wanted) bool {
	s, ok := c.room.place(w.text, w.anchors, w.sides, w.gap, w.owner, w.must)
	if !ok {
		return false
	}
	for i, line := range s.lines {
		c.text(w.class, s.x, s.y+float64(i)*lineH, s.align, line)
	}
	return true
}

// key writes the names that found no place under the picture, each with a
// sample, and returns the height of the whole.
func (c *canvas) key() float64 {
	y := c.bottom
	x := c.w
	for _, w := range c.keys {
		if w.sample == nil {
			continue
		}
		for i, line := range wrap(w.text, c.w-40) {
			need := 34 + width(line)
			if i == 0 {
				if x+need > c.w-1 {
					x, y = 2, y+lineH+5
				}
				w.sample(x, y)
			} else {
				x, y = 2, y+lineH
			}
			c.text(w.class, x+34, y, "start", line)
			x += need + 18
		}
	}
	if c.beyond > 0 {
		y += lineH + 5
		s := itoa(c.beyond) + " readings lie outside the picture"
		if c.beyond == 1 {
			s = "1 reading lies outside the picture"
		}
		c.text("f-note", 2, y, "start", s)
	}
	return y + 7
}
