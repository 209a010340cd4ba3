package figure

import "math"

// A Share is one part of a balance. What is not above zero has a row in the
// table but nothing to draw.
type Share struct {
	Name   string
	Amount float64 // in the Flow's unit
	Text   string  // the amount as to be printed; empty for a number of four digits
}

// A Link is an amount that went from Flow.From[From] to Flow.To[To].
type Link struct {
	From, To int
	Amount   float64
}

// A Flow is a mass balance: what went in, on the left, and what became of it,
// on the right, each as tall as it is much. What the two sides differ by is
// shown as a share of its own, never hidden.
type Flow struct {
	Title    string // accessible name
	Desc     string // what the figure shows, in a sentence
	Unit     string
	From, To []Share
	Links    []Link // which part went where; nil when all is mixed on the way
}

// SVG draws the balance in the plain Look.
func (f Flow) SVG() string { return f.Draw(Look{}) }

// Table returns the balance as a table in the plain Look.
func (f Flow) Table() Table { return f.Data(Look{}) }

func (s Share) ok() bool { return drawable(s.Amount) && s.Amount > 1e-150 }

// balanced adds the share that is missing on one side; sum is the larger
// side.
func (f *Flow) balanced(l *Look) (from, to []Share, sum float64) {
	total := func(shares []Share) (t float64) {
		for _, s := range shares {
			if s.ok() {
				t += s.Amount
			}
		}
		return t
	}
	in, out := total(f.From), total(f.To)
	sum = max(in, out)
	from, to = f.From, f.To
	rest := Share{Name: l.Words.Unaccounted, Amount: math.Abs(in - out)}
	if rest.Amount > 1e-6*sum {
		if in > out {
			to = append(append([]Share(nil), to...), rest)
		} else {
			from = append(append([]Share(nil), from...), rest)
		}
	}
	return from, to, sum
}

func (s Share) text(l *Look, unit string) string {
	t := s.Text
	if t == "" {
		t = l.computed(s.Amount)
	}
	if unit == "" {
		return t
	}
	return t + " " + unit
}

// Data returns the balance as a table.
func (f Flow) Data(look Look) Table {
	l := look.worded()
	from, to, sum := f.balanced(l)
	amount := l.Words.Amount
	if f.Unit != "" {
		amount += ", " + f.Unit
	}
	t := Table{Head: []string{l.Words.Side, l.Words.What, amount, l.Words.Share + ", %"}}
	add := func(side string, shares []Share) {
		for _, s := range shares {
			share := "–"
			if drawable(s.Amount) && sum > 0 {
				share = l.fixed(100*(s.Amount/sum), 1)
			}
			t.Rows = append(t.Rows, []string{side, s.Name, s.text(l, ""), share})
		}
	}
	add(l.Words.In, from)
	add(l.Words.Out, to)
	return t
}

// A node is a share as drawn.
type node struct {
	y, h  float64 // top and height of its bar
	lines []string
	used  float64 // of its height, by links so far
}

// Draw draws the balance.
func (f Flow) Draw(l Look) string {
	g := newPen(l)
	from, to, sum := f.balanced(g.look)
	if sum == 0 {
		return g.nothing("f-flow", f.Title, f.Desc, nil)
	}
	total, most := 120.0, g.w*0.36
	if l.Wide {
		total = 190
	}
	tall := func(amount float64) float64 { return max(total*(amount/sum), 0.6) }

	// Each share gets a slot as tall as its bar or its words; a share that is
	// not drawn keeps its index for the links.
	stack := func(shares []Share) (nodes []node, wide, height float64) {
		const gap = 10
		y := 0.0
		for _, s := range shares {
			if !s.ok() {
				nodes = append(nodes, node{})
				continue
			}
			n := node{h: tall(s.Amount), lines: wrap(s.Name, most)}
			n.lines = append(n.lines, s.text(g.look, f.Unit))
			slot := max(n.h, float64(len(n.lines))*lineH)
			n.y = y + (slot-n.h)/2
			y += slot + gap
			nodes = append(nodes, n)
			wide = max(wide, max(widest(n.lines), bold(n.lines[len(n.lines)-1])))
		}
		return nodes, min(wide, most*1.1), max(y-gap, 0)
	}
	a, wa, ha := stack(from)
	b, wb, hb := stack(to)
	height := max(max(ha, hb), total) + 12
	move := func(nodes []node, by float64) {
		for i := range nodes {
			nodes[i].y += by
		}
	}
	move(a, (height-ha)/2)
	move(b, (height-hb)/2)

	const (
		bar = 6 // width of a bar
		gap = 7 // between a bar and its words
	)
	xa, xb := wa+gap+1, g.w-wb-gap-1-bar
	ribbon := func(i int, x0, y0, x1, y1, h float64) {
		m := (x0 + x1) / 2
		g.put(`<path class="f-ribbon @" d="M~ ~C~ ~ ~ ~ ~ ~v~C~ ~ ~ ~ ~ ~z" fill="currentColor" fill-opacity="0.22"/>`+"\n",
			float64(i), x0, y0, m, y0, m, y1, x1, y1, h, m, y1+h, m, y0+h, x0, y0+h)
	}
	block := func(x, y, h float64) {
		g.put(`<rect class="f-node" x="~" y="~" width="~" height="~" fill="currentColor"/>`+"\n", x, y, bar, h)
	}
	if len(f.Links) > 0 {
		for _, k := range f.Links {
			if k.From < 0 || k.From >= len(a) || k.To < 0 || k.To >= len(b) || !drawable(k.Amount) || !(k.Amount > 0) {
				continue
			}
			n, m := &a[k.From], &b[k.To]
			h := min(tall(k.Amount), min(n.h-n.used, m.h-m.used)) // never wider than its ends
			if h <= 0 {
				continue
			}
			ribbon(k.From, xa+bar, n.y+n.used, xb, m.y+m.used, h)
			n.used += h
			m.used += h
		}
	} else {
		middle := (xa + xb) / 2
		at := (height - total) / 2
		for i, n := range a {
			if n.h > 0 {
				ribbon(i, xa+bar, n.y, middle, at, n.h)
				at += n.h
			}
		}
		at = (height - total) / 2
		for i, n := range b {
			if n.h > 0 {
				ribbon(i, middle+bar, at, xb, n.y, n.h)
				at += n.h
			}
		}
		block(middle, (height-total)/2, total)
	}
	words := func(n node, x float64, align string) {
		y := n.y + n.h/2 + rise/2 - float64(len(n.lines)-1)*lineH/2
		for i, s := range n.lines {
			class := "f-name"
			if i == len(n.lines)-1 {
				class = "f-amount"
			}
			g.text(class, x, y+float64(i)*lineH, align, s)
		}
	}
	for _, n := range a {
		if n.h > 0 {
			block(xa, n.y, n.h)
			words(n, xa-gap, "end")
		}
	}
	for _, n := range b {
		if n.h > 0 {
			block(xb, n.y, n.h)
			words(n, xb+bar+gap, "start")
		}
	}
	return g.figure("f-flow", f.Title, f.Desc, nil, height, nil)
}
