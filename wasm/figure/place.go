package figure

import "math"

// cell is the side of a square of the occupancy map.
const cell = 3.0

// A room remembers what is drawn where, so that text finds free places.
type room struct {
	x0, y0, x1, y1 float64
	nx, ny         int
	weight         []uint8
	owner          []int16
}

func newRoom(x0, y0, x1, y1 float64) *room {
	r := &room{x0: x0, y0: y0, x1: x1, y1: y1}
	r.nx, r.ny = int((x1-x0)/cell)+1, int((y1-y0)/cell)+1
	r.weight = make([]uint8, r.nx*r.ny)
	r.owner = make([]int16, r.nx*r.ny)
	return r
}

func (r *room) put(x, y float64, weight uint8, owner int) {
	i, j := int((x-r.x0)/cell), int((y-r.y0)/cell)
	if i < 0 || j < 0 || i >= r.nx || j >= r.ny {
		return
	}
	if k := j*r.nx + i; r.weight[k] <= weight {
		r.weight[k], r.owner[k] = weight, int16(owner)
	}
}

func (r *room) line(x0, y0, x1, y1 float64, weight uint8, owner int) {
	n := int(math.Max(math.Abs(x1-x0), math.Abs(y1-y0))/cell*2) + 1
	for i := range n + 1 {
		t := float64(i) / float64(n)
		r.put(x0+t*(x1-x0), y0+t*(y1-y0), weight, owner)
	}
}

func (r *room) box(x0, y0, x1, y1 float64, weight uint8, owner int) {
	for y := y0; y < y1+cell/2; y += cell {
		for x := x0; x < x1+cell/2; x += cell {
			r.put(x, y, weight, owner)
		}
	}
}

// cost is how much a box at this place would hide, and how near it comes to
// what belongs to others.
func (r *room) cost(x0, y0, x1, y1 float64, owner int) float64 {
	const near = 4.0
	c := 0.0
	for y := y0 - near; y <= y1+near; y += cell {
		for x := x0 - near; x <= x1+near; x += cell {
			i, j := int((x-r.x0)/cell), int((y-r.y0)/cell)
			if x < r.x0 || y < r.y0 || i >= r.nx || j >= r.ny {
				continue
			}
			k := j*r.nx + i
			w := float64(r.weight[k])
			if w == 0 {
				continue
			}
			switch {
			case x >= x0-1 && x <= x1+1 && y >= y0-1 && y <= y1+1:
				c += w
			case int(r.owner[k]) != owner:
				c += w / 12
			}
		}
	}
	return c
}

// An anchor is a place where a label may be attached.
type anchor struct {
	x, y float64
	cost float64
}

const (
	above = 1 << iota
	below
	left
	right
	centred
)

// A spot is where a label went: the first baseline, and its alignment.
type spot struct {
	x, y  float64
	align string
	lines []string
}

// place finds the cheapest place for a text, or says false when every place
// would hide something.
func (r *room) place(text string, anchors []anchor, sides int, gap float64, owner int, must bool) (spot, bool) {
	best, found := math.Inf(1), false
	var s spot
	var bx0, by0, bx1, by1 float64
	whole := (r.x1 - r.x0)
	limits := []float64{whole * 0.62, whole * 0.36}
	for n, limit := range limits {
		lines := wrap(text, limit)
		if len(lines) == 0 || n > 0 && len(lines) == 1 {
			continue
		}
		w := 0.0
		for _, l := range lines {
			w = math.Max(w, width(l))
		}
		h := ascent + float64(len(lines)-1)*lineH
		try := func(x0, y0 float64, align string, c float64) {
			x1, y1 := x0+w, y0+h
			if x0 < r.x0 || x1 > r.x1 || y0 < r.y0 || y1 > r.y1-2 {
				return
			}
			c += r.cost(x0, y0, x1, y1, owner) + float64(n)*1.5
			if c >= best {
				return
			}
			best, found = c, true
			bx0, by0, bx1, by1 = x0, y0, x1, y1
			x := x0
			switch align {
			case "middle":
				x = x0 + w/2
			case "end":
				x = x1
			}
			s = spot{x, y0 + ascent, align, lines}
		}
		for _, a := range anchors {
			for _, side := range [...]int{above, below} {
				if sides&side == 0 {
					continue
				}
				y := a.y - gap - h
				if side == below {
					y = a.y + gap
				}
				extra := a.cost
				if side == below {
					extra += 0.3
				}
				try(a.x-w/2, y, "middle", extra+0.1)
				try(a.x-w, y, "end", extra)
				try(a.x, y, "start", extra)
			}
			if sides&right != 0 {
				try(a.x+gap, a.y-h/2, "start", a.cost)
			}
			if sides&left != 0 {
				try(a.x-gap-w, a.y-h/2, "end", a.cost+0.2)
			}
			if sides&centred != 0 {
				try(a.x-w/2, a.y-h/2, "middle", a.cost)
			}
		}
	}
	if !found || !must && best > 14 {
		return spot{}, false
	}
	r.box(bx0, by0, bx1, by1, 60, owner)
	return s, true
}
