package figure

import "math"

// names places what wants a place.
func (c *canvas) names() {
	for i, l := range c.plot.Labels {
		if l.Text == "" || !c.x.in(l.X) || !c.y.in(l.Y) {
			continue
		}
		q := c.at(l.X, l.Y)
		w := c.want(ofLabel, i, l.Text, []anchor{{x: q.x, y: q.y}})
		w.must = true
	}
	// First what can stand in few places only, last what can stand in many.
	order := c.wanted
	for i := 1; i < len(order); i++ {
		for j := i; j > 0 && order[j].rank() < order[j-1].rank(); j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	for _, w := range order {
		if c.seat(w) {
			continue
		}
		if w.kind == ofLabel { // longer than the frame is wide
			for k, s := range wrap(w.text, c.w*0.6) {
				half := width(s) / 2
				c.text(w.class(), c.hold(w.anchors[0].x, 2*half)+half, w.anchors[0].y+float64(k)*lineH, "middle", s)
			}
			continue
		}
		try := *w
		if w.kind == ofLine && width(w.text) < (c.f.x1-c.f.x0)/4 { // on the line itself, which is cut
			if try.over, try.sides = true, w.sides|centred; c.seat(&try) {
				continue
			}
			try = *w
		}
		if len(w.anchors) <= 3 || w.kind == ofArrow || w.kind == ofPoint { // further away, with a line to it
			if try.led = true; c.seat(&try) {
				continue
			}
			try = *w
		}
		// A letter in the picture, the name under it.
		try.text = itoa(len(c.keys) + 1)
		if len(c.keys) < 26 {
			try.text = string(rune('A' + len(c.keys)))
		}
		try.letter, try.must, try.over, try.sides = true, true, true, w.sides|centred
		if c.seat(&try) {
			w.text = try.text + "  " + w.text
		}
		c.keys = append(c.keys, w)
	}
}

// rank orders names: first those that the plot gives a place, last those that
// can stand almost anywhere.
func (w *wanted) rank() int {
	switch {
	case w.kind == ofLabel:
		return 0
	case w.kind == ofBand:
		return 4
	case len(w.anchors) <= 3:
		return 1
	case w.kind == ofMark:
		return 2
	}
	return 3
}

func (c *canvas) seat(w *wanted) bool {
	s, ok := c.room.place(w)
	if !ok {
		return false
	}
	if w.over && w.kind == ofLine {
		c.open(w.i, s.box)
	}
	if w.led {
		x, y := max(s.box.x0, min(s.anchor.x, s.box.x1)), max(s.box.y0, min(s.anchor.y, s.box.y1))
		if l := math.Hypot(x-s.anchor.x, y-s.anchor.y); l > 8 {
			c.rule("f-leader", x, y, s.anchor.x+(x-s.anchor.x)*6/l, s.anchor.y+(y-s.anchor.y)*6/l, 0.75)
		}
	}
	for i, line := range s.lines {
		c.text(w.class(), s.x, s.y+float64(i)*lineH, s.align, line)
	}
	return true
}

// key writes the names that found no place under the picture, each with a
// sample, and returns the height of the whole.
func (c *canvas) key() float64 {
	const sample = 34
	y, x := c.bottom, c.w
	for _, w := range c.keys {
		for i, line := range wrap(w.text, c.w-sample-4) {
			need := sample + width(line)
			switch {
			case i > 0:
				x, y = 2, y+lineH
			case x+need > c.w-1:
				x, y = 2, y+lineH+5
			}
			if i == 0 {
				c.sample(w, x, y)
			}
			c.text(w.class(), x+sample, y, "start", line)
			x += need + 18
		}
	}
	if c.beyond > 0 {
		for _, s := range wrap(c.look.Words.Outside+": "+itoa(c.beyond), c.w-4) {
			y += lineH + 3
			c.text("f-note", 2, y, "start", s)
		}
	}
	return y + 7
}
