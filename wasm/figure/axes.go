package figure

import (
	"math"
	"strconv"
)

// measure settles the frame; false when there is nothing to draw.
func (c *canvas) measure() bool {
	height, nx, ny := 190.0, 6, 5
	if c.look.Wide {
		height, nx, ny = 300, 10, 7
	}
	var ok bool
	if c.x, c.y, ok = c.plot.scales(c.look, nx, ny); !ok {
		return false
	}
	c.nameBars()
	c.f = frame{8, 8, c.w - 12, 0}
	if c.plot.Y.title() != "" {
		c.f.y0 = 8 + float64(len(c.title()))*(lineH+1)
	}
	c.f.y1 = c.f.y0 + height
	for _, t := range c.y.ticks {
		c.f.x0 = max(c.f.x0, widest(c.yName(t))+10)
	}
	c.y.p0, c.y.p1 = c.f.y1, c.f.y0
	c.x.p0, c.x.p1 = c.f.x0, c.f.x1
	for !c.x.own && nx > 2 && !c.fit(1) {
		nx--
		c.x.round(c.look, nx)
	}
	c.room = newRoom(c.f)
	return true
}

// title is the Y axis' label, which stands over it in lines.
func (c *canvas) title() []string { return wrap(c.plot.Y.title(), c.w-4) }

func (c *canvas) yName(t Tick) []string { return wrap(t.Name, c.w*0.35) }

// nameBars puts the names of bars in place of the numbers under them.
func (c *canvas) nameBars() {
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
		c.x.set(c.look, ticks, 6)
		c.named = true
	}
}

// fit says whether every n-th of the names under the frame stands clear of
// the one before.
func (c *canvas) fit(n int) bool {
	end := math.Inf(-1)
	for i, t := range c.x.ticks {
		if i%n != 0 || !c.x.in(t.At) {
			continue
		}
		w := width(t.Name)
		x := c.hold(c.x.at(t.At), w)
		if x < end+8 {
			return false
		}
		end = x + w
	}
	return true
}

// hold is where a text of width w over x begins, kept within the figure.
func (c *canvas) hold(x, w float64) float64 {
	return max(min(x-w/2, c.w-1-w), 1)
}

func (c *canvas) axes() {
	f := c.f
	for _, t := range c.y.ticks {
		if !c.y.in(t.At) {
			continue
		}
		y := c.y.at(t.At)
		c.put(`<line class="f-grid" x1="~" y1="~" x2="~" y2="~" stroke="currentColor" stroke-width="0.75" stroke-opacity="0.25"/>`+"\n", f.x0, y, f.x1, y)
		lines := c.yName(t)
		for i, s := range lines {
			c.text("f-tick", f.x0-6, y+5+lineH*(float64(i)-float64(len(lines)-1)/2), "end", s)
		}
	}
	c.rule("f-axis", f.x0, f.y1, f.x1, f.y1, 1)
	if len(c.plot.Bars) > 0 && c.y.in(0) && c.y.lo < 0 {
		c.rule("f-axis", f.x0, c.y.at(0), f.x1, c.y.at(0), 1)
	}
	every := 1
	for !c.named && every < len(c.x.ticks) && !c.fit(every) {
		every++
	}
	slot := c.slot()
	rows := 1
	for i, t := range c.x.ticks {
		if !c.x.in(t.At) {
			continue
		}
		x := c.x.at(t.At)
		c.rule("f-axis", x, f.y1, x, f.y1+4, 1)
		if i%every != 0 {
			continue
		}
		lines := []string{t.Name}
		if c.named {
			lines = wrap(t.Name, slot)
		}
		for r, s := range lines {
			w := width(s)
			c.text("f-tick", c.hold(x, w)+w/2, f.y1+18+float64(r)*lineH, "middle", s)
		}
		rows = max(rows, len(lines))
	}
	c.minor()
	c.bottom = f.y1 + 18 + float64(rows-1)*lineH
	for i, s := range c.title() {
		c.text("f-label", 1, 14+float64(i)*(lineH+1), "start", s)
	}
	for _, s := range wrap(c.plot.X.title(), c.w-16) {
		c.bottom += lineH + 2
		c.text("f-label", f.x1, c.bottom, "end", s)
	}
}

// minor marks 2 to 9 in each power of ten of a logarithmic axis.
func (c *canvas) minor() {
	each := func(s *scale, draw func(p float64)) {
		if !s.log || s.own || s.hi/s.lo > 1e6 {
			return
		}
		c.put(`<path class="f-axis" d="`)
		for e := int(math.Floor(math.Log10(s.lo))); scaled(1, e) <= s.hi; e++ {
			for m := 2.0; m < 10; m++ {
				if v := scaled(m, e); s.in(v) {
					draw(s.at(v))
				}
			}
		}
		c.put(`" fill="none" stroke="currentColor" stroke-width="0.75"/>` + "\n")
	}
	each(&c.x, func(p float64) { c.put("M~ ~v3", p, c.f.y1) })
	each(&c.y, func(p float64) { c.put("M~ ~h3", c.f.x0, p) })
}

// slot is the room for the name of one bar.
func (c *canvas) slot() float64 {
	s := c.f.x1 - c.f.x0
	last := math.Inf(-1)
	for _, t := range c.x.ticks {
		if c.x.in(t.At) {
			x := c.x.at(t.At)
			s = min(s, x-last)
			last = x
		}
	}
	return max(s-8, 3*em)
}

// data says for a script which values the ends of the axis have.
func (s *scale) data(p *pen) {
	for _, v := range [...]float64{s.lo, s.hi} {
		p.b = append(strconv.AppendFloat(p.b, v, 'g', 9, 64), ' ')
	}
	if s.log {
		p.put("log")
	} else {
		p.put("linear")
	}
}
