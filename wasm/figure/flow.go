package figure

import "math"

// A Share is one part of a balance.
type Share struct {
	Name   string
	Amount float64 // in the Flow's unit
	Text   string  // the amount as to be printed; empty for a number of four digits
}

// A Flow is a mass balance: what went in, on the left, and what became of it,
// on the right, each as wide as it is much. What the two sides differ by is
// drawn as a share of its own.
type Flow struct {
	Title, Desc string
	Unit        string
	From, To    []Share
	Links       []Link // which part went where; nil when all is mixed
}

// A Link is an amount that went from From[From] to To[To].
type Link struct {
	From, To int
	Amount   float64
}

// SVG draws the balance in the plain Look.
func (f Flow) SVG() string { return f.Draw(Look{}) }

// Table returns the balance as a table.
func (f Flow) Table() Table { return f.Data(Look{}) }

func kept(shares []Share) (out []Share, sum float64) {
	for _, s := range shares {
		if drawable(s.Amount) && s.Amount > 1e-150 {
			out = append(out, s)
			sum += s.Amount
		}
	}
	return out, sum
}

// balanced adds the share that is missing on one side.
func (f Flow) balanced() (from, to []Share, sum float64) {
	from, a := kept(f.From)
	to, b := kept(f.To)
	if len(from) == 0 && len(to) == 0 {
		return nil, nil, 0
	}
	sum = math.Max(a, b)
	switch {
	case a-b > 1e-6*sum:
		to = append(to, Share{Name: "Not accounted for", Amount: a - b})
	case b-a > 1e-6*sum:
		from = append(from, Share{Name: "Not accounted for", Amount: b - a})
	}
	return from, to, sum
}

func (s Share) text(l Look, unit string) string {
	t := s.Text
	if t == "" {
		t = l.short(s.Amount, 4)
	}
	if unit == "" {
		return t
	}
	return t + " " + unit
}

// Data returns the balance as a table.
func (f Flow) Data(l Look) Table {
	from, to, sum := f.balanced()
	t := Table{Head: []string{"Side", "What", amountHead(f.Unit), "Share, %"}}
	add := func(side string, shares []Share) {
		for _, s := range shares {
			t.Rows = append(t.Rows, []string{side, s.Name, s.text(l, ""), l.fixed(100*(s.Amount/sum), 1)})
		}
	}
	add("In", from)
	add("Out", to)
	return t
}

func amountHead(unit string) string {
	if unit == "" {
		return "Amount"
	}
	return "Amount, " + unit
}

// Draw draws the balance.
func (f Flow) Draw(l Look) string {
	g := newPen(l)
	from, to, sum := f.balanced()
	if sum == 0 {
		return g.nothing("flow", f.Title, f.Desc)
	}
	side := g.w * 0.32
	total := 120.0
	if l.Wide {
		total = 180
	}
	type node struct {
		y, h  float64
		lines []string
	}
	stack := func(shares []Share) (nodes []node, height float64) {
		y := 4.0
		for _, s := range shares {
			n := node{h: math.Max(total*(s.Amount/sum), 1), lines: append(wrap(s.Name, side-14), s.text(l, f.Unit))}
			slot := math.Max(n.h, float64(len(n.lines))*lineH) + 10
			n.y = y + (slot-10-n.h)/2
			nodes = append(nodes, n)
			y += slot
		}
		return nodes, y
	}
	a, ha := stack(from)
	b, hb := stack(to)
	height := math.Max(ha, hb)
	shift := func(nodes []node, by float64) {
		for i := range nodes {
			nodes[i].y += by
		}
	}
	shift(a, (height-ha)/2)
	shift(b, (height-hb)/2)
	xa, xb, mid := side, g.w-side, g.w/2
	my := (height - total) / 2
	ribbon := func(i int, x0, y0, x1, y1, h float64) {
		m := (x0 + x1) / 2
		p := func(x, y float64) string { return coord(x) + " " + coord(y) }
		g.el("path", "class", series("f-flow", i), "d", "M"+p(x0, y0)+"C"+p(m, y0)+" "+p(m, y1)+" "+p(x1, y1)+"V"+coord(y1+h)+"C"+p(m, y1+h)+" "+p(m, y0+h)+" "+p(x0, y0+h)+"Z",
			"fill", "currentColor", "fill-opacity", "0.16")
	}
	bar := func(x, y, h float64) {
		g.el("rect", "class", "f-node", "x", coord(x), "y", coord(y), "width", "6", "height", coord(h), "fill", "currentColor")
	}
	if len(f.Links) == 0 {
		at := my
		for i, n := range a {
			h := total * (from[i].Amount / sum)
			ribbon(i, xa+6, n.y, mid-3, at, h)
			at += h
		}
		at = my
		for i, n := range b {
			h := total * (to[i].Amount / sum)
			ribbon(i, mid+3, at, xb-6, n.y, h)
			at += h
		}
		bar(mid-3, my, total)
	} else {
		ua, ub := make([]float64, len(a)), make([]float64, len(b))
		for _, k := range f.Links {
			if k.From < 0 || k.From >= len(a) || k.To < 0 || k.To >= len(b) || !drawable(k.Amount) || k.Amount <= 0 {
				continue
			}
			h := total * (k.Amount / sum)
			ribbon(k.From, xa+6, a[k.From].y+ua[k.From], xb-6, b[k.To].y+ub[k.To], h)
			ua[k.From] += h
			ub[k.To] += h
		}
	}
	label := func(n node, x float64, anchor string) {
		y := n.y + n.h/2 - float64(len(n.lines)-1)*lineH/2 + 5
		for i, s := range n.lines {
			class := "f-name"
			if i == len(n.lines)-1 {
				class = "f-amount"
			}
			g.text(class, x, y+float64(i)*lineH, anchor, s)
		}
	}
	for _, n := range a {
		bar(xa, n.y, n.h)
		label(n, xa-6, "end")
	}
	for _, n := range b {
		bar(xb-6, n.y, n.h)
		label(n, xb+6, "start")
	}
	return g.figure("flow", f.Title, f.Desc, height)
}
