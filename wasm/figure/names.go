package figure

import "math"

// names places what wants a place, explicit labels first.
func (c *canvas) names() {
	for i, l := range c.plot.Labels {
		if l.Text == "" || !c.x.in(l.X) || !c.y.in(l.Y) {
			continue
		}
		x, y := c.x.at(l.X), c.y.at(l.Y)
		if !c.seat(&wanted{text: l.Text, class: "f-name f-text", anchors: []anchor{{x: x, y: y}}, sides: above | below | left | right | centred, gap: 5, owner: labelOwner + i, must: true}) {
			for k, s := range wrap(l.Text, c.w*0.6) { // longer than the frame is wide
				w := width(s)
				c.text("f-name f-text", c.hold(x, w)+w/2, y+float64(k)*lineH, "middle", s)
			}
		}
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
		// On the line itself, if that hides little of it.
		if inline := *w; w.inline && width(w.text) < (c.f.x1-c.f.x0)/4 {
			inline.over, inline.sides = true, w.sides|centred
			if c.seat(&inline) {
				continue
			}
		}
		// Further away, with a line to it.
		if led := *w; len(w.anchors) <= 3 || w.owner >= arrowOwner {
			if led.led = true; c.seat(&led) {
				continue
			}
		}
		// A letter in the picture, the name under it.
		tag := itoa(len(c.keys) + 1)
		if len(c.keys) < 26 {
			tag = string(rune('A' + len(c.keys)))
		}
		letter := *w
		letter.class += " f-letter"
		letter.text, letter.must, letter.over, letter.sides = tag, true, true, w.sides|centred
		if c.seat(&letter) {
			w.text = tag + "  " + w.text
		}
		c.keys = append(c.keys, w)
	}
}

// rank orders names by how little choice of place they have.
func (w *wanted) rank() int {
	switch {
	case w.late:
		return 3
	case len(w.anchors) <= 3:
		return 0
	case w.owner < lineOwner: // marks
		return 1
	}
	return 2
}

func (c *canvas) seat(w *wanted) bool {
	s, ok := c.room.place(w)
	if !ok {
		return false
	}
	if w.over {
		c.open(w.owner, s.box)
	}
	if w.led {
		x, y := math.Max(s.box.x0, math.Min(s.anchor.x, s.box.x1)), math.Max(s.box.y0, math.Min(s.anchor.y, s.box.y1))
		if l := math.Hypot(x-s.anchor.x, y-s.anchor.y); l > 8 {
			c.rule("f-leader", x, y, s.anchor.x+(x-s.anchor.x)*6/l, s.anchor.y+(y-s.anchor.y)*6/l, 0.75)
		}
	}
	for i, line := range s.lines {
		c.text(w.class, s.x, s.y+float64(i)*lineH, s.align, line)
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
				w.sample(x, y)
			}
			c.text(w.class, x+sample, y, "start", line)
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
