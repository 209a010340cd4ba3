package figure

import "math"

// SVG draws the plot in the plain Look.
func (p Plot) SVG() string { return p.Draw(Look{}) }

// Draw draws the plot.
func (p Plot) Draw(l Look) string {
	c := &canvas{pen: newPen(l), plot: &p}
	if !c.measure() {
		return c.nothing("f-plot", p.Title, p.Desc, p.others())
	}
	if c.crowded() {
		return c.rows()
	}
	c.axes()
	c.bands()
	c.bars()
	c.marks()
	c.ellipses()
	c.lines()
	under := c.b
	c.b = nil
	c.arrows()
	c.points()
	c.names()
	over := c.b
	c.b = under
	c.drawLines()
	c.b = append(c.b, over...)
	return c.figure("f-plot", p.Title, p.Desc, p.others(), c.key(), func() {
		c.put(` data-frame="~ ~ ~ ~" data-x="`, c.f.x0, c.f.y0, c.f.x1, c.f.y1)
		c.x.data(c.pen)
		c.put(`" data-y="`)
		c.y.data(c.pen)
		c.put(`"`)
	})
}

// others are names for a plot without a title.
func (p *Plot) others() []string { return []string{p.Y.title(), p.X.title()} }

// A canvas is a plot being drawn.
type canvas struct {
	*pen
	plot   *Plot
	x, y   scale
	f      frame
	room   *room
	bottom float64 // of what is written under the frame
	wanted []*wanted
	keys   []*wanted // names that found no place in the picture
	traced []traced
	beyond int  // readings outside a given range
	named  bool // bars carry names in place of the numbers of X
}

// A traced is a line that is drawn once its name has its place.
type traced struct {
	line *Line
	i    int
	runs [][]pt
}

// A kind is what a name belongs to.
type kind int

const (
	ofBand kind = iota + 1
	ofBar
	ofMark
	ofLine
	ofEllipse
	ofArrow
	ofPoint
	ofLabel
)

// owner tells apart everything that has a name.
func (k kind) owner(i int) int { return 1000*int(k) + i }

// around are the usual places of a name.
const around = above | below | left | right

// manners are how the names of a kind stand.
var manners = [...]struct {
	class string
	sides int
	gap   float64
}{
	ofBand:    {"f-name f-band-name", centred | left, 5},
	ofMark:    {"f-name f-mark-name", above | below, 4},
	ofLine:    {"f-name f-line-name", around, 6},
	ofEllipse: {"f-name f-ellipse-name", around, 5},
	ofArrow:   {"f-name f-arrow-name", around, 6},
	ofPoint:   {"f-name f-point-name", around, 8},
	ofLabel:   {"f-name f-text", around | centred, 5},
}

// A wanted is a name that wants a place.
type wanted struct {
	kind
	i       int // of its kind
	text    string
	anchors []anchor
	sides   int
	gap     float64
	over    bool // may stand over what it names
	led     bool // stands away from what it names, joined by a line
	must    bool // even if it hides something
	letter  bool // a letter in place of the name
	away    bool // of a mark outside the frame
	guide   bool // of a line without a colour of its own
}

// want notes a name; what belongs to it can still be changed.
func (c *canvas) want(k kind, i int, text string, anchors []anchor) *wanted {
	w := &wanted{kind: k, i: i, text: text, anchors: anchors, sides: manners[k].sides, gap: manners[k].gap}
	if text != "" {
		c.wanted = append(c.wanted, w)
	}
	return w
}

// class is the class of a name: with its number where there is one of many.
func (w *wanted) class() string {
	s := manners[w.kind].class
	if w.guide {
		s += " f-guide"
	} else if w.kind != ofMark && w.kind != ofArrow && w.kind != ofLabel {
		s += " f-" + itoa(w.i%6+1)
	}
	if w.letter {
		s += " f-letter"
	}
	return s
}

// can says whether a point has a place in the frame or beyond it.
func (c *canvas) can(x, y float64) bool { return c.x.can(x) && c.y.can(y) }

// at maps a point.
func (c *canvas) at(x, y float64) pt { return pt{c.x.at(x), c.y.at(y)} }

// ranges collects what the data span.
func (p *Plot) ranges() (x, y span) {
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
	for k := range p.Points {
		s := &p.Points[k]
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
			x.add(b.X)
			x.mark(b.X - b.Width/2)
			x.mark(b.X + b.Width/2)
			y.add(b.Lo) // on a logarithmic axis a bar from 0 has its upper end only
			y.add(b.Hi)
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
			x.mark(m.At)
		} else {
			y.mark(m.At)
		}
	}
	return x, y
}

func (s *Points) half(i int) float64 {
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
func (p *Plot) scales(l *Look, nx, ny int) (x, y scale, ok bool) {
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
	x = newScale(&p.X, sx, pad, false, nx)
	roof := 0.0
	if len(p.Points) > 0 {
		roof = 0.03
	}
	upper, lower := false, false // room for a name or a number beyond the data
	for _, m := range p.Marks {
		upper = upper || m.Vertical && m.Name != ""
	}
	for _, b := range p.Bars {
		if b.Name != "" && b.ok() {
			upper = upper || b.Hi >= b.Lo
			lower = lower || b.Hi < b.Lo
		}
	}
	if w := sy.hi - sy.lo; !sy.log && w > 0 {
		if upper {
			sy.hi += w / 9
		}
		if lower {
			sy.lo -= w / 9
		}
	}
	y = newScale(&p.Y, sy, roof, true, ny)
	x.set(l, p.X.Ticks, nx)
	y.set(l, p.Y.Ticks, ny)
	return x, y, true
}

// set fills the ticks: the axis' own or round ones.
func (s *scale) set(l *Look, own []Tick, count int) {
	s.round(l, count)
	if len(own) == 0 {
		return
	}
	s.own = true
	s.ticks = append([]Tick(nil), own...)
	for i := 1; i < len(s.ticks); i++ {
		for j := i; j > 0 && s.ticks[j].At < s.ticks[j-1].At; j-- {
			s.ticks[j], s.ticks[j-1] = s.ticks[j-1], s.ticks[j]
		}
	}
}

func (a *Axis) title() string {
	if a.Unit == "" {
		return a.Label
	}
	if a.Label == "" {
		return a.Unit
	}
	return a.Label + ", " + a.Unit
}
