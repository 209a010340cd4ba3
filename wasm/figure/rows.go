package figure

import "strings"

// crowded says whether the names of a comparison of bars are too long to
// stand under them.
func (c *canvas) crowded() bool {
	p := c.plot
	if !c.named || c.y.log || len(p.Lines)+len(p.Bands)+len(p.Points)+len(p.Ellipses)+len(p.Arrows)+len(p.Labels) > 0 {
		return false
	}
	for _, m := range p.Marks {
		if m.Vertical {
			return false
		}
	}
	slot := c.slot()
	for _, t := range c.x.ticks {
		if len(wrap(t.Name, slot)) > 2 {
			return true
		}
		for _, word := range strings.Fields(t.Name) {
			if width(word) > slot {
				return true
			}
		}
	}
	return false
}

// rows draws a comparison of bars as lying bars, each with its name before it
// and its value behind it.
func (c *canvas) rows() string {
	p := c.plot
	const gap = 8
	names, values := 0.0, 0.0
	for _, b := range p.Bars {
		if b.ok() {
			names = max(names, widest(wrap(b.Name, c.w*0.42)))
			values = max(values, bold(b.text(c.look)))
		}
	}
	s := scale{lo: c.y.lo, hi: c.y.hi, p0: names + gap + 2, p1: c.w - 2 - gap - values}
	y := 4.0
	for _, t := range c.title() {
		y += lineH
		c.text("f-label", 1, y-4, "start", t)
	}
	var flags []*flag
	for _, m := range p.Marks {
		if s.in(m.At) {
			flags = append(flags, &flag{x: s.at(m.At), lines: []string{m.Name}})
		}
	}
	n := mast{x0: 1, x1: c.w - 1}.hoist(flags)
	y += float64(n)*(lineH+2) + 4
	top := y
	tall := func(b Bar) float64 {
		return max(float64(len(wrap(b.Name, c.w*0.42))), 1)*lineH + 9
	}
	foot := top
	for _, b := range p.Bars {
		if b.ok() {
			foot += tall(b)
		}
	}
	for _, f := range flags {
		base := top - 8 - float64(f.row)*(lineH+2)
		c.rule("f-mark", f.x, base-rise, f.x, foot, 1.25)
		c.words("f-name f-mark-name", f, base, f.lines[0])
	}
	for _, b := range p.Bars {
		if !b.ok() {
			continue
		}
		lines, h := wrap(b.Name, c.w*0.42), tall(b)
		mid := y + h/2
		for i, t := range lines {
			c.text("f-name", names+1, mid+5+lineH*(float64(i)-float64(len(lines)-1)/2), "end", t)
		}
		hold := func(v float64) float64 { return max(min(s.at(v), s.p1), s.p0) }
		x0, x1 := hold(min(b.Lo, b.Hi)), hold(max(b.Lo, b.Hi))
		c.bar(b, x0, mid-8, x1, mid+8)
		c.text("f-amount", x1+gap, mid+5, "start", b.text(c.look))
		y += h
	}
	x := s.p0
	if s.in(0) {
		x = s.at(0)
	}
	c.rule("f-axis", x, top, x, y, 1)
	y += 4
	for _, t := range wrap(p.X.title(), c.w-4) {
		y += lineH
		c.text("f-label", 1, y, "start", t)
		y += 4
	}
	return c.figure("f-plot", p.Title, p.Desc, p.others(), y, nil)
}

// bar draws one bar.
func (c *canvas) bar(b Bar, x0, y0, x1, y1 float64) {
	class, stroke := "f-bar", 1.0
	if b.Flag {
		class, stroke = "f-bar f-flag", 2.5
	}
	c.put(`<rect class="` + class)
	c.put(`" x="~" y="~" width="~" height="~" fill="currentColor" fill-opacity="0.35" stroke="currentColor" stroke-width="~"/>`+"\n", x0, y0, x1-x0, y1-y0, stroke)
}

// text is the value of a bar as it is printed.
func (b Bar) text(l *Look) string {
	switch {
	case b.Text != "":
		return b.Text
	case b.Lo != 0:
		return l.between(l.computed(b.Lo), l.computed(b.Hi))
	}
	return l.computed(b.Hi)
}
