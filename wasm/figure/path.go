package figure

import "math"

// A pt is a point of the drawing.
type pt struct{ x, y float64 }

// A frame is the plot area.
type frame struct{ x0, y0, x1, y1 float64 }

// clip cuts a segment to the frame.
func (f frame) clip(a, b pt) (pt, pt, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.x-a.x, b.y-a.y
	for _, e := range [...][2]float64{{-dx, a.x - f.x0}, {dx, f.x1 - a.x}, {-dy, a.y - f.y0}, {dy, f.y1 - a.y}} {
		p, q := e[0], e[1]
		if p == 0 {
			if q < 0 {
				return a, b, false
			}
			continue
		}
		t := q / p
		if p < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
	}
	if !(t0 <= t1) {
		return a, b, false
	}
	hold := func(p pt) pt {
		return pt{min(max(p.x, f.x0), f.x1), min(max(p.y, f.y0), f.y1)}
	}
	c, d := a, b
	if t0 > 0 {
		c = pt{a.x + t0*dx, a.y + t0*dy}
	}
	if t1 < 1 {
		d = pt{a.x + t1*dx, a.y + t1*dy}
	}
	return hold(c), hold(d), true
}

// pieces maps a line into the frame: one run of points for each part that is
// in it.
func pieces(x, y *scale, f frame, xs, ys []float64) [][]pt {
	var out [][]pt
	var run []pt
	end := func() {
		if len(run) > 0 {
			out = append(out, run)
		}
		run = nil
	}
	var last pt
	have, drawn := false, false // last is there; last is at the end of a run or a segment
	lone := func() {
		if have && !drawn && last.x >= f.x0 && last.x <= f.x1 && last.y >= f.y0 && last.y <= f.y1 {
			end()
			run = []pt{last}
		}
		end()
	}
	for i := range min(len(xs), len(ys)) {
		if !x.can(xs[i]) || !y.can(ys[i]) {
			lone()
			have, drawn = false, false
			continue
		}
		p := pt{x.at(xs[i]), y.at(ys[i])}
		if have {
			if a, b, ok := f.clip(last, p); ok {
				if len(run) == 0 || run[len(run)-1] != a {
					end()
					run = append(run, a)
				}
				run = append(run, b)
				drawn = true
			} else {
				end()
				drawn = true
			}
		}
		last, have = p, true
	}
	lone()
	return out
}

// thin keeps what can be seen: in each unit of width the first, lowest,
// highest and last point, and of what is left the corners.
func thin(run []pt) []pt {
	if len(run) > 400 {
		var kept []pt
		for i := 0; i < len(run); {
			j, lo, hi := i, i, i
			for j < len(run) && math.Floor(run[j].x) == math.Floor(run[i].x) {
				if run[j].y < run[lo].y {
					lo = j
				}
				if run[j].y > run[hi].y {
					hi = j
				}
				j++
			}
			for k, n := range [...]int{i, min(lo, hi), max(lo, hi), j - 1} {
				if k == 0 || run[n] != kept[len(kept)-1] {
					kept = append(kept, run[n])
				}
			}
			i = j
		}
		run = kept
	}
	return corners(run)
}

// corners drops points that lie within a twentieth of a unit of the line
// through the points kept.
func corners(run []pt) []pt {
	const tolerance = 0.05
	if len(run) < 3 {
		return run
	}
	keep := make([]bool, len(run))
	keep[0], keep[len(run)-1] = true, true
	stack := [][2]int{{0, len(run) - 1}}
	for len(stack) > 0 {
		s := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		a, b := run[s[0]], run[s[1]]
		far, at := tolerance, -1
		l := math.Hypot(b.x-a.x, b.y-a.y)
		for i := s[0] + 1; i < s[1]; i++ {
			d := math.Hypot(run[i].x-a.x, run[i].y-a.y)
			if l > 0 {
				t := ((run[i].x-a.x)*(b.x-a.x) + (run[i].y-a.y)*(b.y-a.y)) / (l * l)
				t = min(max(t, 0), 1)
				d = math.Hypot(run[i].x-a.x-t*(b.x-a.x), run[i].y-a.y-t*(b.y-a.y))
			}
			if d > far {
				far, at = d, i
			}
		}
		if at > 0 {
			keep[at] = true
			stack = append(stack, [2]int{s[0], at}, [2]int{at, s[1]})
		}
	}
	var out []pt
	for i, k := range keep {
		if k {
			out = append(out, run[i])
		}
	}
	return out
}

// path writes runs as path data; a run of one point becomes a dot of the pen.
func (p *pen) path(runs [][]pt, closed bool) {
	for _, run := range runs {
		for i, q := range run {
			switch i {
			case 0:
				p.put("M~ ~", q.x, q.y)
			case 1:
				p.put("L~ ~", q.x, q.y)
			default:
				p.put(" ~ ~", q.x, q.y)
			}
		}
		if len(run) == 1 {
			p.put("h0")
		}
		if closed {
			p.put("Z")
		}
	}
}

// inside cuts a closed outline to the frame.
func (f frame) inside(poly []pt) []pt {
	edges := [...]func(p pt) float64{
		func(p pt) float64 { return p.x - f.x0 },
		func(p pt) float64 { return f.x1 - p.x },
		func(p pt) float64 { return p.y - f.y0 },
		func(p pt) float64 { return f.y1 - p.y },
	}
	for _, side := range edges {
		var out []pt
		for i, p := range poly {
			q := poly[(i+1)%len(poly)]
			a, b := side(p), side(q)
			if a >= 0 {
				out = append(out, p)
			}
			if a >= 0 != (b >= 0) {
				t := a / (a - b)
				out = append(out, pt{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)})
			}
		}
		poly = out
	}
	return poly
}

// without cuts what lies in a box out of runs.
func without(runs [][]pt, box frame) [][]pt {
	var out [][]pt
	for _, run := range runs {
		now := run[:1:1]
		for i := 1; i < len(run); i++ {
			a, b, hit := box.clip(run[i-1], run[i])
			if !hit || a == b {
				now = append(now, run[i])
				continue
			}
			if a != run[i-1] {
				now = append(now, a)
			}
			if len(now) > 1 {
				out = append(out, now)
			}
			if now = []pt{b}; b != run[i] {
				now = append(now, run[i])
			}
		}
		if len(now) > 1 || len(run) == 1 {
			out = append(out, now)
		}
	}
	return out
}
