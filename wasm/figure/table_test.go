package figure

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Every row is as wide as its head, says something, and holds no NaN.
func TestTablesAreWhole(t *testing.T) {
	for name, p := range gallery() {
		for _, look := range looks {
			table := p.Data(look)
			if len(table.Head) < 2 {
				t.Errorf("%s: head %q", name, table.Head)
			}
			if len(table.Rows) == 0 && !strings.HasPrefix(name, "empty-plot") {
				t.Errorf("%s: no rows", name)
			}
			for _, r := range table.Rows {
				if len(r) != len(table.Head) {
					t.Errorf("%s: row %q under head %q", name, r, table.Head)
				}
				s := strings.Join(r, "")
				if s == "" || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
					t.Errorf("%s: row %q", name, r)
				}
			}
		}
	}
}

func TestTables(t *testing.T) {
	x := []float64{0, 1, 2}
	for _, c := range []struct {
		name string
		p    picture
		want string
	}{
		{"side by side", Plot{X: Axis{Label: "Time", Unit: "d"}, Y: Axis{Label: "Oxygen", Unit: "%"},
			Lines: []Line{{Name: "foil", X: x, Y: []float64{1, 1.5, 2.25}}, {Name: "paper", X: x, Y: []float64{2, math.NaN(), -4}}},
			Bands: []Band{{Name: "95 %", X: x, Lo: x, Hi: []float64{1, 2, 3}}}, Marks: []Mark{{Name: "limit", At: 3.125}}},
			"Time, d|foil, %|paper, %|95 %, %\nlimit|3.125|3.125|3.125\n0|1.0|2.0|0.0 to 1.0\n1|1.5|–|1.0 to 2.0\n2|2.2|−4.0|2.0 to 3.0\n"},
		{"readings as read", Plot{Y: Axis{Label: "Weight", Unit: "g"},
			Points: []Points{{X: x, Y: []float64{18.04, 18.1, 17.96}, Err: []float64{0.01, 0, 0.02}, Flagged: []bool{false, true}}}},
			"What|x|Weight, g\nReadings|0|18.04 ± 0.01\nReadings (flagged)|1|18.1\nReadings|2|17.96 ± 0.02\n"},
		{"bars", Plot{X: Axis{Label: "Score"}, Bars: []Bar{{X: 80.25, Width: 0.5, Hi: 3}, {X: 80.75, Width: 0.5, Hi: 1, Flag: true}}},
			"What|Score|y\n|80 to 80.5|3\n (flagged)|80.5 to 81|1\n"},
		{"comparison", Plot{Y: Axis{Unit: "g"}, Bars: []Bar{{Name: "A", Width: 1, Hi: 3}, {Name: "B", X: 1, Width: 1, Lo: -1, Hi: 2}}},
			"What|g\nA|3\nB|−1 to 2\n"},
		{"own ticks", Plot{X: Axis{Label: "Date", Ticks: []Tick{{1, "2 Dec"}}}, Lines: []Line{{X: x, Y: x}}},
			"Date|y\n0|0.0\n2 Dec|1.0\n2|2.0\n"},
		{"balance", Flow{Unit: "g", From: []Share{{Name: "Dose", Amount: 20, Text: "20.00"}}, To: []Share{{Name: "Cup", Amount: 15}, {Name: "Lost", Amount: -1}}},
			"Side|What|Amount, g|Share, %\nIn|Dose|20.00|100.0\nOut|Cup|15|75.0\nOut|Lost|−1|−5.0\nOut|Not accounted for|5|25.0\n"},
		{"strip", Strip{Unit: "days", Windows: []Window{{"best", 7, math.Inf(1), Full}}, Moments: []Moment{{Name: "Ready", At: 7, Err: 1.5, Text: "2 Dec"}}},
			"What|From, days|To, days|When\nbest|7|–|\nReady|7 ± 1.5||2 Dec\n"},
	} {
		table := c.p.Table()
		got := strings.Join(table.Head, "|") + "\n"
		for _, r := range table.Rows {
			got += strings.Join(r, "|") + "\n"
		}
		if got != c.want {
			t.Errorf("%s:\n%swant\n%s", c.name, got, c.want)
		}
	}
}

// The table of a long curve has its first and last point.
func TestLongCurveIsThinned(t *testing.T) {
	x, y := sweep(1000, 0, 999, func(v float64) float64 { return v })
	rows := Plot{Lines: []Line{{X: x, Y: y}}}.Table().Rows
	if len(rows) != thinned || rows[0][0] != "0" || rows[thinned-1][0] != "999" {
		t.Errorf("%d rows, %v to %v", len(rows), rows[0], rows[len(rows)-1])
	}
	many := Plot{Points: []Points{{X: x, Y: y}}}.Table().Rows
	if last := many[len(many)-1][0]; len(many) != mostRows+1 || last != "600 more, not listed" {
		t.Errorf("%d rows, the last %q", len(many), last)
	}
}

// Ribbons and bars are as tall as they are much, the same on both sides.
func TestFlowIsInProportion(t *testing.T) {
	random := noise()
	for trial := range 100 {
		f := Flow{Title: "t", Unit: "g"}
		for range 1 + int(random()*6) {
			f.From = append(f.From, Share{Name: "in", Amount: 5 + random()*100})
		}
		for range 1 + int(random()*6) {
			f.To = append(f.To, Share{Name: "out", Amount: 5 + random()*100})
		}
		in, out := 0.0, 0.0
		for _, s := range f.From {
			in += s.Amount
		}
		for _, s := range f.To {
			out += s.Amount
		}
		s := parse(t, f.SVG())
		var x []float64
		left, right, middle := 0.0, 0.0, 0.0
		for _, e := range s.class("f-node") {
			x = append(x, e.num("x"))
		}
		for _, e := range s.class("f-node") {
			switch h := e.num("height"); {
			case e.num("x") == minOf(x):
				left += h
			case e.num("x") == maxOf(x):
				right += h
			default:
				middle += h
			}
		}
		hairline := 0.0 // a share that would be thinner is drawn 0.6 tall
		if rest := math.Abs(in-out) / math.Max(in, out) * middle; rest > 0 && rest < 0.6 {
			hairline = 0.6 - rest
		}
		if over := math.Max(left, right) - middle; math.Abs(over-hairline) > 0.05 || math.Abs(math.Min(left, right)-middle) > 0.05 || middle != 120 {
			t.Fatalf("trial %d: %g on the left, %g in the middle, %g on the right", trial, left, middle, right)
		}
		first := s.class("f-node")[1].num("height") // after the middle
		if want := f.From[0].Amount / math.Max(in, out) * middle; math.Abs(first-want) > 0.02 {
			t.Fatalf("trial %d: the first share is %g tall, want %g", trial, first, want)
		}
		if missing := strings.Contains(f.SVG(), "Not accounted for"); missing != (math.Abs(in-out) > 1e-6*math.Max(in, out)) {
			t.Fatalf("trial %d: %g in, %g out, missing %v", trial, in, out, missing)
		}
		if n := len(s.class("f-ribbon")); n != len(s.class("f-node"))-1 {
			t.Fatalf("trial %d: %d ribbons", trial, n)
		}
	}
}

func minOf(x []float64) float64 {
	m := math.Inf(1)
	for _, v := range x {
		m = math.Min(m, v)
	}
	return m
}

func maxOf(x []float64) float64 {
	m := math.Inf(-1)
	for _, v := range x {
		m = math.Max(m, v)
	}
	return m
}

// Links that claim more than their ends have stay within them.
func TestLinksStayWithinTheirEnds(t *testing.T) {
	f := Flow{From: []Share{{Name: "a", Amount: 10}}, To: []Share{{Name: "b", Amount: 10}}, Links: []Link{{0, 0, 7}, {0, 0, 700}, {0, 0, 5}}}
	s := parse(t, f.SVG())
	if n := len(s.class("f-ribbon")); n != 2 {
		t.Errorf("%d ribbons, want 7 and the 3 that are left", n)
	}
	if !strings.Contains(s.class("f-ribbon")[1].attrs["d"], "v36C") {
		t.Errorf("the second ribbon is not 36 of 120 tall: %s", s.class("f-ribbon")[1].attrs["d"])
	}
}

// Windows lie in order at the place of their times.
func TestStripIsInProportion(t *testing.T) {
	s := parse(t, Strip{Windows: []Window{{"a", 0, 10, Open}, {"b", 10, 40, Full}}, Moments: []Moment{{Name: "m", At: 20}}}.SVG())
	at := func(e element) (x0, x1 float64) {
		var top float64
		if _, err := fmt.Sscanf(e.attrs["d"], "M%g %gH%gV", &x1, &top, &x0); err != nil {
			t.Fatal(err, e.attrs["d"])
		}
		return
	}
	w := s.class("f-window")
	a0, a1 := at(w[0])
	b0, b1 := at(w[1])
	if a1 != b0 || math.Abs((a1-a0)*3-(b1-b0)) > 0.05 {
		t.Errorf("windows from %g to %g and from %g to %g", a0, a1, b0, b1)
	}
	if x := s.class("f-moment")[0].num("x1"); math.Abs(x-(a0+b1)/2) > 0.01 {
		t.Errorf("the middle is at %g, want %g", x, (a0+b1)/2)
	}
}

// Poles do not cross the words of others where there is another way.
func TestFlags(t *testing.T) {
	for name, xs := range map[string][]float64{
		"apart":    {10, 120, 230},
		"together": {10, 14, 18, 22},
		"at right": {300, 320, 340},
		"same":     {50, 50, 50},
		"spread":   {8, 45, 58, 200, 340},
		"crowd":    {8, 58, 206, 324, 338}, // only if the last but one turns
	} {
		var flags []*flag
		for _, x := range xs {
			flags = append(flags, &flag{x: x, lines: []string{"Moment", "19 days"}})
		}
		rows := mast{x0: 1, x1: 359}.hoist(flags)
		for i, a := range flags {
			if a.row >= rows || a.x0 < 0 || a.x1 > 360 {
				t.Errorf("%s: row %d of %d, from %g to %g", name, a.row, rows, a.x0, a.x1)
			}
			for j, b := range flags {
				if i == j {
					continue
				}
				if a.row == b.row && a.x0 < b.x1 && b.x0 < a.x1 {
					t.Errorf("%s: %d and %d overlap", name, i, j)
				}
				if b.row >= a.row && b.x > a.x0 && b.x < a.x1 {
					t.Errorf("%s: the pole of %d crosses the words of %d", name, j, i)
				}
			}
		}
	}
	if (mast{x1: 359}).hoist(nil) != 0 {
		t.Error("no flags need rows")
	}
}

// In the middle the ribbons lie on each other without gap or overlap.
func TestRibbonsTile(t *testing.T) {
	f := Flow{From: []Share{{Name: "a", Amount: 10}, {Name: "b", Amount: 30}}, To: []Share{{Name: "c", Amount: 25}, {Name: "d", Amount: 15}}}
	s := parse(t, f.SVG())
	type side struct{ y, h float64 }
	var end [4]side
	for i, e := range s.class("f-ribbon") {
		var x0, y0, x1, y1, x2, y2, x3, y3, h float64
		if _, err := fmt.Sscanf(e.attrs["d"], "M%g %gC%g %g %g %g %g %gv%g", &x0, &y0, &x1, &y1, &x2, &y2, &x3, &y3, &h); err != nil {
			t.Fatal(err, e.attrs["d"])
		}
		if end[i] = (side{y3, h}); i >= 2 {
			end[i].y = y0
		}
	}
	for _, pair := range [][2]side{{end[0], end[1]}, {end[2], end[3]}} {
		if math.Abs(pair[0].y+pair[0].h-pair[1].y) > 0.01 || math.Abs(pair[0].h+pair[1].h-120) > 0.01 {
			t.Errorf("ribbons %v", pair)
		}
	}
	if end[0].h != 30 || end[2].h != 75 {
		t.Errorf("ribbons are %v", end)
	}
}

func TestWindowsThatAreNone(t *testing.T) {
	s := parse(t, Strip{Windows: []Window{{"backwards", 9, 2, Full}, {"nowhere", math.NaN(), 2, Full}, {"never", math.Inf(-1), 2, Full}, {"good", 1, 2, Full}}}.SVG())
	if n := len(s.class("f-window")); n != 1 {
		t.Errorf("%d windows are drawn, want 1", n)
	}
}

// A line without a name that only joins readings is not listed twice.
func TestJoinedReadingsAreListedOnce(t *testing.T) {
	if n := len(gallery()["batches"].Table().Rows); n != 12+3 {
		t.Errorf("%d rows for 12 batches and 3 limits", n)
	}
}

// Two digits of what a value may be off by, and no more places of the value.
func TestUncertain(t *testing.T) {
	var l Look
	for _, c := range []struct {
		v, half float64
		want    string
	}{
		{10.9126, 0.428574, "10.91 ± 0.43"}, {18.04, 0.01, "18.04 ± 0.01"}, {1.3, 0.05, "1.3 ± 0.05"}, {1234.56, 34.2, "1235 ± 34"},
		{0.6, 0.00999, "0.6 ± 0.01"}, {-2.4449, 0.031, "−2.445 ± 0.031"}, {7, 0, "7"}, {7, math.NaN(), "7"}, {12, 340, "12 ± 340"},
	} {
		if got := l.uncertain(c.v, c.half); got != c.want {
			t.Errorf("%v ± %v reads %q, want %q", c.v, c.half, got, c.want)
		}
	}
}

// A point without a name at the centre of an ellipse is listed with the ellipse
// alone; one beside it is listed too.
func TestCentresAreListedOnce(t *testing.T) {
	p := Plot{Ellipses: []Ellipse{{Name: "this brew", X: 20, Y: 1.3, HalfX: 1, HalfY: 0.1}}, Points: []Points{{X: []float64{20}, Y: []float64{1.3}}}}
	if rows := p.Table().Rows; len(rows) != 1 || rows[0][0] != "this brew" {
		t.Errorf("%v", rows)
	}
	p.Points[0].X[0] = 20.5
	if rows := p.Table().Rows; len(rows) != 2 {
		t.Errorf("%v", rows)
	}
}
