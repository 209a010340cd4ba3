package figure

import "math"

// cell is the side of a square of the occupancy map.
const cell = 3.0

// Weights of what text should not hide. Each is the cost of one cell.
const (
	edge = 1   // of an area
	area = 2   // of a bar
	fine = 5   // an error bar
	rule = 6   // a mark
	firm = 8   // a line, a reading
	word = 120 // text
)

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
	n := int(max(math.Abs(x1-x0), math.Abs(y1-y0))/cell*2) + 1
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
// what belongs to others. A text that may stand over what it names pays
// nothing for that. The count ends when it is enough.
func (r *room) cost(x0, y0, x1, y1 float64, owner int, over bool, enough float64) float64 {
	const near = 4
	i0, i1 := r.cells(x0-near-r.x0, x1+near-r.x0, r.nx)
	j0, j1 := r.cells(y0-near-r.y0, y1+near-r.y0, r.ny)
	k0, k1 := r.cells(x0-1-r.x0, x1+1-r.x0, r.nx)
	l0, l1 := r.cells(y0-1-r.y0, y1+1-r.y0, r.ny)
	c := 0.0
	for j := j0; j <= j1 && c < enough; j++ {
		for i, weight := range r.weight[j*r.nx+i0 : j*r.nx+i1+1] {
			if weight == 0 {
				continue
			}
			i += i0
			own := int(r.owner[j*r.nx+i]) == owner
			w := float64(weight)
			if weight == edge {
				w = 0.4
				if own { // a band's name stands in it or beside it
					w = 1.5
				}
			}
			switch {
			case own && over && weight < word:
			case i >= k0 && i <= k1 && j >= l0 && j <= l1:
				c += w
			case !own:
				c += w / 16
			}
		}
	}
	return c
}

// cells are the first and last of n cells between two distances.
func (r *room) cells(a, b float64, n int) (first, last int) {
	return max(int(a/cell), 0), min(int(b/cell), n-1)
}

// parted is what it costs that something else that has a name, other than a
// mark, lies between an anchor and its text.
func (r *room) parted(ax, ay, x, y float64, owner int) float64 {
	n := int(max(math.Abs(ax-x), math.Abs(ay-y))/cell*2) + 1
	for m := range n {
		t := float64(m) / float64(n)
		i, j := int((ax+t*(x-ax)-r.x0)/cell), int((ay+t*(y-ay)-r.y0)/cell)
		if i < 0 || j < 0 || i >= r.nx || j >= r.ny {
			continue
		}
		k := j*r.nx + i
		o := int(r.owner[k])
		if m > 0 && r.weight[k] >= fine && o != owner && (o < ofMark.owner(0) || o >= ofLine.owner(0)) {
			return hidden
		}
	}
	return 0
}

// another says whether a curve of another owner passes through a box.
func (r *room) another(x0, y0, x1, y1 float64, owner int) bool {
	i0, i1 := r.cells(x0-r.x0, x1-r.x0, r.nx)
	j0, j1 := r.cells(y0-r.y0, y1-r.y0, r.ny)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			if k := j*r.nx + i; r.weight[k] == firm && int(r.owner[k]) != owner && int(r.owner[k]) < ofEllipse.owner(0) {
				return true
			}
		}
	}
	return false
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
	x, y   float64
	align  string
	lines  []string
	box    frame
	anchor anchor
}

// hidden is the cost from which a name is better written under the picture.
const hidden = 18

// place finds the cheapest place for a text, or says false when every place
// would hide something.
func (r *room) place(w *wanted) (spot, bool) {
	best, found := math.Inf(1), false
	owner := w.owner(w.i)
	var s spot
	gaps := []float64{w.gap, w.gap + 9, w.gap + 18}
	if w.led {
		gaps = []float64{24, 36, 50, 66, 84}
	}
	for n, limit := range [...]float64{(r.x1 - r.x0) * 0.62, (r.x1 - r.x0) * 0.36} {
		lines := wrap(w.text, limit)
		if len(lines) == 0 || n > 0 && len(lines) == 1 {
			continue
		}
		wide, h := widest(lines), rise+fall+float64(len(lines)-1)*lineH
		try := func(a anchor, x0, y0 float64, align string, c float64) {
			x1, y1 := x0+wide, y0+h
			if x0 < r.x0 || x1 > r.x1 || y0 < r.y0 || y1 > r.y1 {
				return
			}
			c += float64(n) * 1.5
			if c >= best {
				return
			}
			if c += r.cost(x0, y0, x1, y1, owner, w.over, best-c); c >= best {
				return
			}
			x, y := max(x0+4, min(a.x, x1-4)), max(y0+4, min(a.y, y1-4))
			if !w.led {
				c += r.parted(a.x, a.y, x, y, owner)
			}
			if far := math.Hypot(max(x0, min(a.x, x1))-a.x, max(y0, min(a.y, y1))-a.y) - 1; w.kind == ofLine && far > w.gap && c < best && r.another(x0-far, y0-far, x1+far, y1+far, owner) {
				c += hidden
			}
			if c >= best {
				return
			}
			best, found = c, true
			switch x = x0; align {
			case "middle":
				x = x0 + wide/2
			case "end":
				x = x1
			}
			s = spot{x, y0 + rise, align, lines, frame{x0, y0, x1, y1}, a}
		}
		for _, a := range w.anchors {
			sides := a.sides
			if sides == 0 {
				sides = w.sides
			}
			for far, gap := range gaps {
				c := a.cost + 1.2*float64(far)
				if sides&above != 0 {
					try(a, a.x-wide/2, a.y-gap-h, "middle", c+0.1)
					try(a, a.x-wide, a.y-gap-h, "end", c)
					try(a, a.x, a.y-gap-h, "start", c)
				}
				if sides&below != 0 {
					try(a, a.x-wide/2, a.y+gap, "middle", c+0.4)
					try(a, a.x-wide, a.y+gap, "end", c+0.3)
					try(a, a.x, a.y+gap, "start", c+0.3)
				}
				if sides&right != 0 {
					try(a, a.x+gap, a.y-h/2, "start", c)
				}
				if sides&left != 0 {
					try(a, a.x-gap-wide, a.y-h/2, "end", c+0.2)
				}
			}
			if sides&centred != 0 {
				try(a, a.x-wide/2, a.y-h/2, "middle", a.cost-0.5)
			}
		}
	}
	limit := float64(hidden)
	if w.led { // rather over a thin line than not at all
		limit *= 2.5
	}
	if !found || !w.must && best > limit {
		return spot{}, false
	}
	r.box(s.box.x0, s.box.y0, s.box.x1, s.box.y1, word, owner)
	return s, true
}
