package figure

import "math"

// cell is the side of a square of the occupancy map.
const cell = 3.0

// A room remembers what is drawn where, so that text finds free places.
type room struct {
	frame
	nx, ny int
	weight []uint8
	owner  []int16
}

func newRoom(f frame) *room {
	r := &room{frame: f}
	r.nx, r.ny = int((f.x1-f.x0)/cell)+1, int((f.y1-f.y0)/cell)+1
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

// An anchor is a place to which a label may be attached.
type anchor struct {
	x, y  float64
	cost  float64
	sides int // 0 for those of the label
}

const (
	above = 1 << iota
	below
	left
	right
	centred
)

// A spot is where a label went: its first baseline and its alignment.
type spot struct {
	x, y  float64
	align string
	lines []string
}

// hidden is the cost from which a name is better written under the picture.
const hidden = 14

// place finds the cheapest place for a text, or says false when every place
// would hide something.
func (r *room) place(w wanted) (spot, bool) {
	best, found := math.Inf(1), false
	var s spot
	var box frame
	for n, limit := range [...]float64{(r.x1 - r.x0) * 0.62, (r.x1 - r.x0) * 0.36} {
		lines := wrap(w.text, limit)
		if len(lines) == 0 || n > 0 && len(lines) == 1 {
			continue
		}
		wide, h := widest(lines), rise+fall+float64(len(lines)-1)*lineH
		try := func(x0, y0 float64, align string, c float64) {
			x1, y1 := x0+wide, y0+h
			if x0 < r.x0 || x1 > r.x1 || y0 < r.y0 || y1 > r.y1 {
				return
			}
			c += float64(n) * 1.5
			if c >= best {
				return
			}
			if c += r.cost(x0, y0, x1, y1, w.owner); c >= best {
				return
			}
			best, found, box = c, true, frame{x0, y0, x1, y1}
			x := x0
			switch align {
			case "middle":
				x = x0 + wide/2
			case "end":
				x = x1
			}
			s = spot{x, y0 + rise, align, lines}
		}
		for _, a := range w.anchors {
			sides := a.sides
			if sides == 0 {
				sides = w.sides
			}
			for far := range 2 {
				gap, c := w.gap+9*float64(far), a.cost+1.2*float64(far)
				if sides&above != 0 {
					try(a.x-wide/2, a.y-gap-h, "middle", c+0.1)
					try(a.x-wide, a.y-gap-h, "end", c)
					try(a.x, a.y-gap-h, "start", c)
				}
				if sides&below != 0 {
					try(a.x-wide/2, a.y+gap, "middle", c+0.4)
					try(a.x-wide, a.y+gap, "end", c+0.3)
					try(a.x, a.y+gap, "start", c+0.3)
				}
				if sides&right != 0 {
					try(a.x+gap, a.y-h/2, "start", c)
				}
				if sides&left != 0 {
					try(a.x-gap-wide, a.y-h/2, "end", c+0.2)
				}
			}
			if sides&centred != 0 {
				try(a.x-wide/2, a.y-h/2, "middle", a.cost-0.5)
			}
		}
	}
	if !found || !w.must && best > hidden {
		return spot{}, false
	}
	r.box(box.x0, box.y0, box.x1, box.y1, 60, w.owner)
	return s, true
}

// A flag is text at a pole: a moment of a strip, a limit over rows of bars.
type flag struct {
	x     float64 // of the pole
	lines []string
	// what hoist found:
	row    int
	x0, x1 float64
}

// hoist gives each flag a row, counted from where the poles start, so that no
// text meets another text or the pole of a flag in a row further on. It
// returns the number of rows. Centred flags stand over their poles.
func hoist(fs []*flag, x0, x1 float64, centred bool) int {
	const gap = 5
	var order, turned []*flag
	for _, f := range fs {
		w := 1.14 * widest(f.lines)
		switch {
		case centred:
			f.x0 = math.Max(math.Min(f.x-w/2, x1-w), x0)
		case f.x+gap+w > x1:
			f.x0 = math.Max(f.x-gap-w, x0)
			turned = append(turned, f)
			f.x1 = f.x0 + w
			continue
		default:
			f.x0 = f.x + gap
		}
		f.x1 = f.x0 + w
		order = append(order, f)
	}
	sortFlags(turned, func(a, b *flag) bool { return a.x < b.x })
	sortFlags(order, func(a, b *flag) bool { return a.x > b.x })
	order = append(turned, order...)
	rows := 0
	for n, f := range order {
		for f.row = 0; f.row < rows; f.row++ {
			free := true
			for _, o := range order[:n] {
				meet := o.row == f.row && f.x0 < o.x1+gap && o.x0 < f.x1+gap
				under := o.row > f.row && o.x > f.x0-2 && o.x < f.x1+2
				over := o.row < f.row && f.x > o.x0-2 && f.x < o.x1+2
				if meet || under || over {
					free = false
					break
				}
			}
			if free {
				break
			}
		}
		rows = max(rows, f.row+1)
	}
	return rows
}

func sortFlags(fs []*flag, less func(a, b *flag) bool) {
	for i := 1; i < len(fs); i++ {
		for j := i; j > 0 && less(fs[j], fs[j-1]); j-- {
			fs[j], fs[j-1] = fs[j-1], fs[j]
		}
	}
}
