package figure

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A sheet is a plot as a reader gets it.
type paper struct {
	all   []element
	frame frame
	w, h  float64
}

func parse(t testing.TB, s string) paper {
	t.Helper()
	all, err := read(s)
	if err != nil {
		t.Fatal(err)
	}
	p := paper{all: all}
	fmt.Sscanf(all[0].attrs["viewBox"], "0 0 %g %g", &p.w, &p.h)
	fmt.Sscanf(all[0].attrs["data-frame"], "%g %g %g %g", &p.frame.x0, &p.frame.y0, &p.frame.x1, &p.frame.y1)
	return p
}

func (p paper) class(c string) (out []element) {
	for _, e := range p.all {
		if e.class(c) {
			out = append(out, e)
		}
	}
	return out
}

var command = regexp.MustCompile(`[A-Za-z][^A-Za-z]*`)

// points lists the points of a path of absolute M and L.
func points(t testing.TB, d string) (runs [][]pt) {
	t.Helper()
	for _, c := range command.FindAllString(d, -1) {
		f := strings.Fields(c[1:])
		switch c[0] {
		case 'h', 'Z':
			continue
		case 'M':
			runs = append(runs, nil)
		case 'L':
		default:
			t.Fatalf("path has %s", c)
		}
		for i := 0; i+1 < len(f); i += 2 {
			x, errX := strconv.ParseFloat(f[i], 64)
			y, errY := strconv.ParseFloat(f[i+1], 64)
			if errX != nil || errY != nil {
				t.Fatalf("path has %s", c)
			}
			runs[len(runs)-1] = append(runs[len(runs)-1], pt{x, y})
		}
	}
	return runs
}

func (f frame) holds(p pt) bool {
	const round = 0.005
	return p.x >= f.x0-round && p.x <= f.x1+round && p.y >= f.y0-round && p.y <= f.y1+round
}

// Whatever the data, curves, bands and readings stay in the plot area, and a
// reading stands where data-x and data-y say.
func TestDrawnWhereItBelongs(t *testing.T) {
	random := noise()
	for trial := range 300 {
		scaleX, scaleY := math.Pow10(int(random()*20)-10), math.Pow10(int(random()*20)-10)
		n := 1 + int(random()*40)
		var x, y, lo, hi []float64
		for range n {
			x = append(x, (random()-0.3)*scaleX)
			y = append(y, (random()-0.3)*scaleY)
			lo = append(lo, y[len(y)-1]-random()*scaleY)
			hi = append(hi, y[len(y)-1]+random()*scaleY)
		}
		p := Plot{Title: "t", Lines: []Line{{Name: "line", X: x, Y: y}}, Bands: []Band{{Name: "band", X: x, Lo: lo, Hi: hi}}, Points: []Points{{Name: "points", X: x, Y: y}}}
		if trial%3 == 0 { // part of it outside
			p.X.Min, p.X.Max = -0.2*scaleX, 0.3*scaleX
			p.Y.Min, p.Y.Max = math.NaN(), 0.4*scaleY
		}
		if trial%4 == 0 {
			p.X.Log = true
		}
		s := parse(t, p.SVG())
		if len(s.class("f-empty")) > 0 {
			continue // all values negative on a logarithmic axis
		}
		for _, class := range []string{"f-line", "f-band"} {
			for _, e := range s.class(class) {
				if e.name != "path" {
					continue // a sample of the key
				}
				for _, run := range points(t, e.attrs["d"]) {
					for _, q := range run {
						if !s.frame.holds(q) && q.y < s.frame.y1+20 {
							t.Fatalf("trial %d: %s at %v, frame %v", trial, class, q, s.frame)
						}
					}
				}
			}
		}
		var loX, hiX, loY, hiY float64
		var kind string
		fmt.Sscanf(s.all[0].attrs["data-x"], "%g %g %s", &loX, &hiX, &kind)
		fmt.Sscanf(s.all[0].attrs["data-y"], "%g %g", &loY, &hiY)
		drawn := 0
		for _, e := range s.class("f-point") {
			q := pt{e.num("cx"), e.num("cy")}
			if q.y > s.frame.y1+5 {
				continue
			}
			if !s.frame.holds(q) {
				t.Fatalf("trial %d: reading at %v, frame %v", trial, q, s.frame)
			}
			u := (q.x - s.frame.x0) / (s.frame.x1 - s.frame.x0)
			vx := loX + u*(hiX-loX)
			if kind == "log" {
				vx = loX * math.Pow(hiX/loX, u)
			}
			vy := hiY - (q.y-s.frame.y0)/(s.frame.y1-s.frame.y0)*(hiY-loY)
			found := false
			for i := range x {
				close := math.Abs(vx-x[i]) <= 1e-4*(hiX-loX)
				if kind == "log" {
					close = math.Abs(math.Log(vx/x[i])) <= 1e-4*math.Log(hiX/loX)
				}
				found = found || close && math.Abs(vy-y[i]) <= 1e-4*(hiY-loY)
			}
			if !found {
				t.Fatalf("trial %d: a reading at %g, %g that was not given", trial, vx, vy)
			}
			drawn++
		}
		if drawn == 0 && trial%3 != 0 {
			t.Fatalf("trial %d: no reading of %d is drawn", trial, n)
		}
	}
}

// A gap in the data is a gap in the line, and a lone point is a dot.
func TestGaps(t *testing.T) {
	nan := math.NaN()
	s := parse(t, Plot{Lines: []Line{{X: []float64{0, 1, 2, 3, 4, 5, 6, 7}, Y: []float64{nan, 1, nan, 2, 3, math.Inf(1), nan, 4}}}}.SVG())
	runs := points(t, s.class("f-line")[0].attrs["d"])
	var lengths []int
	for _, r := range runs {
		lengths = append(lengths, len(r))
	}
	if fmt.Sprint(lengths) != "[1 2 1]" {
		t.Errorf("runs of %v points, want 1 2 1", lengths)
	}
}

// A line that leaves the frame and comes back is cut where it crosses.
func TestClip(t *testing.T) {
	f := frame{0, 0, 100, 50}
	for _, c := range []struct {
		a, b, p, q pt
		ok         bool
	}{
		{pt{10, 10}, pt{20, 20}, pt{10, 10}, pt{20, 20}, true},
		{pt{-10, 25}, pt{110, 25}, pt{0, 25}, pt{100, 25}, true},
		{pt{50, -50}, pt{50, 100}, pt{50, 0}, pt{50, 50}, true},
		{pt{-50, -50}, pt{150, 150}, pt{0, 0}, pt{50, 50}, true},
		{pt{-1, 0}, pt{-1, 50}, pt{}, pt{}, false},
		{pt{-10, 40}, pt{20, 70}, pt{0, 50}, pt{0, 50}, true}, // a corner
		{pt{-10, 45}, pt{20, 75}, pt{}, pt{}, false},
		{pt{0, 0}, pt{0, 0}, pt{0, 0}, pt{0, 0}, true},
		{pt{50, 25}, pt{1e300, 25}, pt{50, 25}, pt{100, 25}, true},
	} {
		p, q, ok := f.clip(c.a, c.b)
		if ok != c.ok || ok && (math.Hypot(p.x-c.p.x, p.y-c.p.y) > 1e-9 || math.Hypot(q.x-c.q.x, q.y-c.q.y) > 1e-9) {
			t.Errorf("%v to %v: %v to %v, %v", c.a, c.b, p, q, ok)
		}
	}
}

// A line is open where a name stands on it, and only there.
func TestWithout(t *testing.T) {
	box := frame{10, 0, 20, 10}
	for _, c := range []struct{ run, want string }{
		{"M0 5L30 5", "M0 5L10 5M20 5L30 5"},
		{"M0 20L30 20", "M0 20L30 20"},
		{"M0 5L15 5 15 20", "M0 5L10 5M15 10L15 20"},
		{"M12 5L15 5 30 5", "M20 5L30 5"},
		{"M12 5L15 5", ""},
		{"M0 5L12 5 13 6 14 5 30 5", "M0 5L10 5M20 5L30 5"},
		{"M5 5", "M5 5h0"},
	} {
		p := &pen{}
		p.path(without(points(t, c.run), box), false)
		if got := string(p.b); got != c.want {
			t.Errorf("%s became %s, want %s", c.run, got, c.want)
		}
	}
}

// A long line keeps the extremes of every column of the drawing, and is small.
func TestThinKeepsExtremes(t *testing.T) {
	random := noise()
	var run []pt
	for i := range 100_000 {
		run = append(run, pt{float64(i) * 300 / 100_000, 100 + 80*random()*random()})
	}
	run[54_321].y = 190 // one peak
	short := thin(run)
	if len(short) > 4*300 {
		t.Errorf("%d points are left", len(short))
	}
	type column struct{ lo, hi float64 }
	columns := func(run []pt) map[int]column {
		m := map[int]column{}
		for _, p := range run {
			c, ok := m[int(p.x)]
			if !ok {
				c = column{p.y, p.y}
			}
			m[int(p.x)] = column{math.Min(c.lo, p.y), math.Max(c.hi, p.y)}
		}
		return m
	}
	got := columns(short)
	for x, c := range columns(run) {
		if g := got[x]; math.Abs(g.lo-c.lo) > 0.1 || math.Abs(g.hi-c.hi) > 0.1 {
			t.Fatalf("column %d: %v, want %v", x, g, c)
		}
	}
	for i := 1; i < len(short); i++ {
		if short[i].x < short[i-1].x {
			t.Fatal("the order is lost")
		}
	}
}

func TestLongSeriesStaySmall(t *testing.T) {
	for name, most := range map[string]int{"humidity": 24_000, "cloud": 24_000} {
		p := gallery()[name]
		if n := len(p.SVG()); n > most {
			t.Errorf("%s has %d bytes, more than %d", name, n, most)
		}
		if n := len(p.Table().Rows); n > mostRows+1 {
			t.Errorf("%s has a table of %d rows", name, n)
		}
	}
}

// A box is a text as drawn.
type box struct {
	frame
	text string
}

func boxes(p paper, classes ...string) (out []box) {
	for _, e := range p.all {
		if e.name != "text" {
			continue
		}
		for _, c := range classes {
			if !e.class(c) {
				continue
			}
			x, y, w := e.num("x"), e.num("y"), width(e.text)
			switch e.attrs["text-anchor"] {
			case "middle":
				x -= w / 2
			case "end":
				x -= w
			}
			out = append(out, box{frame{x, y - rise, x + w, y}, e.text})
			break
		}
	}
	return out
}

// No text hides another, and none is cut off by the edge.
func TestTextIsFree(t *testing.T) {
	for name, p := range gallery() {
		for suffix, look := range looks {
			s := parse(t, p.Draw(look))
			all := boxes(s, "f-name", "f-amount", "f-tick", "f-label", "f-note", "f-text")
			for i, a := range all {
				if a.x0 < -1 || a.x1 > s.w+1 || a.y0 < -1 || a.y1+fall > s.h+1 {
					t.Errorf("%s%s: %q at %v leaves the figure of %g × %g", name, suffix, a.text, a.frame, s.w, s.h)
				}
				for _, b := range all[:i] {
					if a.x0 < b.x1-1 && b.x0 < a.x1-1 && a.y0 < b.y1 && b.y0 < a.y1 {
						t.Errorf("%s%s: %q and %q overlap", name, suffix, a.text, b.text)
					}
				}
			}
		}
	}
}

// Names of curves do not lie on curves or readings of others.
func TestNamesHideNothing(t *testing.T) {
	for _, name := range []string{"release", "oxygen", "family", "strength", "batches", "large-small", "humidity"} {
		s := parse(t, gallery()[name].SVG())
		for _, b := range boxes(s, "f-line-name", "f-point-name", "f-band-name", "f-mark-name", "f-ellipse-name") {
			if b.y1 > s.frame.y1 || len([]rune(b.text)) == 1 { // in the key, or a letter on its line
				continue
			}
			inner := frame{b.x0 + 2, b.y0 + 1, b.x1 - 2, b.y1 - 1}
			for _, e := range s.class("f-line") {
				for _, run := range points(t, e.attrs["d"]) {
					for i := 1; i < len(run); i++ {
						if _, _, hit := inner.clip(run[i-1], run[i]); hit {
							t.Errorf("%s: %q lies on a line", name, b.text)
						}
					}
				}
			}
			for _, e := range s.class("f-point") {
				if x, y := e.num("cx"), e.num("cy"); x > inner.x0 && x < inner.x1 && y > inner.y0 && y < inner.y1 {
					t.Errorf("%s: %q lies on a reading", name, b.text)
				}
			}
		}
	}
}

// Every name that was given can be read in the figure.
func TestEveryNameIsThere(t *testing.T) {
	for name, p := range gallery() {
		plot, ok := p.(Plot)
		if !ok || strings.HasPrefix(name, "empty") {
			continue
		}
		for _, look := range looks {
			var text []string
			for _, e := range parse(t, p.Draw(look)).all {
				if e.name == "text" {
					text = append(text, e.text)
				}
			}
			joined := strings.Join(text, " ")
			var names []string
			for _, l := range plot.Lines {
				names = append(names, l.Name)
			}
			for _, l := range plot.Bands {
				names = append(names, l.Name)
			}
			for _, l := range plot.Points {
				names = append(names, l.Name)
			}
			for _, l := range plot.Bars {
				names = append(names, l.Name)
			}
			for _, l := range plot.Marks {
				if drawable(l.At) {
					names = append(names, l.Name)
				}
			}
			for _, l := range plot.Ellipses {
				names = append(names, l.Name)
			}
			for _, l := range plot.Arrows {
				names = append(names, l.Name)
			}
			for _, l := range plot.Labels {
				names = append(names, l.Text)
			}
			for _, n := range append(names, plot.X.title(), plot.Y.title()) {
				if !strings.Contains(joined, n) {
					t.Errorf("%s: %q is not in the figure", name, n)
				}
			}
		}
	}
}

// A name that finds no room gets a letter, once at the line and once in the
// key.
func TestLetters(t *testing.T) {
	s := parse(t, gallery()["family"].SVG())
	letters := s.class("f-letter")
	if len(letters) == 0 {
		t.Fatal("six close lines all found room")
	}
	for _, l := range letters {
		found := false
		for _, e := range s.class("f-line-name") {
			found = found || strings.HasPrefix(e.text, l.text+" ") && e.num("y") > s.frame.y1
		}
		if !found {
			t.Errorf("letter %s is not explained", l.text)
		}
	}
}

// Even where there is no room at all, each name can be found.
func TestLettersWithoutRoom(t *testing.T) {
	var p Plot
	random := noise()
	for range 20 {
		x, y := sweep(40, 0, 1, func(float64) float64 { return random() })
		p.Lines = append(p.Lines, Line{Name: "one of many lines", X: x, Y: y})
	}
	s := parse(t, p.SVG())
	letters := map[string]bool{}
	for _, e := range s.class("f-letter") {
		letters[e.text] = true
	}
	keys := 0
	for _, e := range s.class("f-line-name") {
		if e.num("y") < s.frame.y1+5 {
			continue
		}
		keys++
		letter, _, _ := strings.Cut(e.text, " ")
		if !letters[letter] {
			t.Errorf("%q is under the picture without its letter in it", e.text)
		}
	}
	if keys < 15 {
		t.Errorf("%d of 20 names are under the picture", keys)
	}
}

func TestIDs(t *testing.T) {
	for _, c := range []struct{ title, id, want string }{
		{"Oxygen in the bag", "", "oxygen-in-the-bag-t"},
		{"Oxygen in the bag", "g 7", "g-7-t"},
		{"90 days", "", "f-90-days-t"},
		{"", "", "figure-t"},
	} {
		if got := parse(t, Plot{Title: c.title}.Draw(Look{ID: c.id})).all[1].attrs["id"]; got != c.want {
			t.Errorf("%q with id %q has %q, want %q", c.title, c.id, got, c.want)
		}
	}
	seen := map[string]string{}
	for _, title := range []string{"Loss", "Loss %", "Loss ‰", "損失", "湿度", strings.Repeat("long ", 30), strings.Repeat("long ", 31)} {
		id := parse(t, Plot{Title: title}.SVG()).all[1].attrs["id"]
		if seen[id] != "" {
			t.Errorf("%q and %q share the id %s", title, seen[id], id)
		}
		seen[id] = title
	}
}

func TestOwnWords(t *testing.T) {
	look := Look{Words: Words{Nothing: "Nichts zu zeichnen", Unaccounted: "Nicht erfasst", Outside: "Messwerte außerhalb"}}
	if s := (Plot{}).Draw(look); !strings.Contains(s, "Nichts zu zeichnen") {
		t.Error(s)
	}
	if s := gallery()["roast"].Draw(look); !strings.Contains(s, "Nicht erfasst") {
		t.Error(s)
	}
	if s := gallery()["outside"].Draw(look); !strings.Contains(s, "Messwerte außerhalb: 2") {
		t.Error(s)
	}
}

func TestStandalone(t *testing.T) {
	for name, p := range gallery() {
		s := Standalone(p.SVG())
		all, err := read(s)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if all[1].name != "style" {
			t.Errorf("%s: the second element is %s", name, all[1].name)
		}
	}
	if Standalone("") != "" {
		t.Error("nothing became something")
	}
}

// An error bar reaches as far as its half-width says, on both sides, and only
// flagged readings are ringed.
func TestErrorBarsAndFlags(t *testing.T) {
	p := Plot{X: Axis{Min: 0, Max: 4}, Y: Axis{Min: 0, Max: 10},
		Points: []Points{{X: []float64{1, 2, 3}, Y: []float64{5, 5, 9}, Err: []float64{2, 0, -3}, Flagged: []bool{false, true, false}}}}
	s := parse(t, p.SVG())
	unit := (s.frame.y1 - s.frame.y0) / 10
	var whiskers [][2]float64
	for _, e := range s.class("f-err") {
		for _, m := range regexp.MustCompile(`M[0-9.]+ ([0-9.]+)V([0-9.]+)`).FindAllStringSubmatch(e.attrs["d"], -1) {
			lo, _ := strconv.ParseFloat(m[1], 64)
			hi, _ := strconv.ParseFloat(m[2], 64)
			whiskers = append(whiskers, [2]float64{(s.frame.y1 - lo) / unit, (s.frame.y1 - hi) / unit})
		}
	}
	want := [][2]float64{{3, 7}, {6, 10}} // the second is cut by the frame
	if len(whiskers) != len(want) {
		t.Fatalf("error bars %v, want %v", whiskers, want)
	}
	for i, w := range want {
		if math.Abs(whiskers[i][0]-w[0]) > 0.01 || math.Abs(whiskers[i][1]-w[1]) > 0.01 {
			t.Errorf("error bar from %v, want %v", whiskers[i], w)
		}
	}
	rings := s.class("f-flag")
	if len(rings) != 1 || math.Abs(rings[0].num("cx")-(s.frame.x0+s.frame.x1)/2) > 0.01 {
		t.Errorf("rings %v, want one in the middle", rings)
	}
}

// Bars reach from Lo to Hi, standing or lying.
func TestBarsReachFromLoToHi(t *testing.T) {
	bars := []Bar{{Name: "A", Hi: 4, Width: 0.8}, {Name: "B", X: 1, Lo: 2, Hi: -2, Width: 0.8}, {Name: "C", X: 2, Lo: 1, Hi: 3, Width: 0.8}}
	standing := parse(t, Plot{Bars: bars}.SVG())
	for i := range bars {
		bars[i].Name += strings.Repeat("ccccccccc ", 9)
	}
	lying := parse(t, Plot{Bars: bars}.SVG())
	for i, share := range []float64{4, 4, 2} {
		if got, want := standing.class("f-bar")[i].num("height"), standing.class("f-bar")[0].num("height")*share/4; math.Abs(got-want) > 0.02 {
			t.Errorf("standing bar %d is %g tall, want %g", i, got, want)
		}
		if got, want := lying.class("f-bar")[i].num("width"), lying.class("f-bar")[0].num("width")*share/4; math.Abs(got-want) > 0.02 {
			t.Errorf("lying bar %d is %g long, want %g", i, got, want)
		}
	}
	zero := lying.class("f-axis")[0].num("x1")
	if x := lying.class("f-bar")[0].num("x"); math.Abs(x-zero) > 0.01 {
		t.Errorf("the first bar begins at %g, the axis stands at %g", x, zero)
	}
	if x := lying.class("f-bar")[2].num("x"); x <= zero {
		t.Errorf("the third bar begins at %g, left of the axis at %g", x, zero)
	}
}

// A mark stands at its value.
func TestMarksStandAtTheirValue(t *testing.T) {
	s := parse(t, Plot{X: Axis{Min: 0, Max: 4}, Y: Axis{Min: 1, Max: 100, Log: true}, Marks: []Mark{{Name: "v", At: 1, Vertical: true}, {Name: "h", At: 10}}}.SVG())
	m := s.class("f-mark")
	if x := s.frame.x0 + (s.frame.x1-s.frame.x0)/4; math.Abs(m[0].num("x1")-x) > 0.01 || m[0].num("x1") != m[0].num("x2") {
		t.Errorf("the vertical mark is at %v, want %g", m[0].attrs, x)
	}
	if y := (s.frame.y0 + s.frame.y1) / 2; math.Abs(m[1].num("y1")-y) > 0.01 || m[1].num("y1") != m[1].num("y2") {
		t.Errorf("the mark at 10 of 1 to 100 is at %v, want %g", m[1].attrs, y)
	}
}

// An ellipse touches its half-widths, and leans with the correlation.
func TestEllipse(t *testing.T) {
	p := Plot{X: Axis{Min: 0, Max: 10}, Y: Axis{Min: 0, Max: 10}, Ellipses: []Ellipse{{X: 5, Y: 4, HalfX: 3, HalfY: 2, Rho: 0.8}}}
	s := parse(t, p.SVG())
	run := points(t, s.class("f-ellipse")[0].attrs["d"])[0]
	lo, hi := pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	cross := 0.0
	for _, q := range run {
		x := (q.x - s.frame.x0) / (s.frame.x1 - s.frame.x0) * 10
		y := (s.frame.y1 - q.y) / (s.frame.y1 - s.frame.y0) * 10
		lo, hi = pt{math.Min(lo.x, x), math.Min(lo.y, y)}, pt{math.Max(hi.x, x), math.Max(hi.y, y)}
		cross += (x - 5) * (y - 4)
		u, v := (x-5)/3, (y-4)/2
		if r := (u*u - 2*0.8*u*v + v*v) / (1 - 0.64); math.Abs(r-1) > 0.01 {
			t.Errorf("%g, %g is not on the ellipse: %g", x, y, r)
		}
	}
	if math.Abs(lo.x-2) > 0.02 || math.Abs(hi.x-8) > 0.02 || math.Abs(lo.y-2) > 0.02 || math.Abs(hi.y-6) > 0.02 || cross <= 0 {
		t.Errorf("from %v to %v", lo, hi)
	}
}

// The name of a curve stands nearer to its own curve than to any other.
func TestNamesStandByTheirOwn(t *testing.T) {
	for _, name := range []string{"oxygen", "family", "large-small"} {
		for suffix, look := range looks {
			s := parse(t, gallery()[name].Draw(look))
			names := s.class("f-line-name")
			for n, b := range names {
				if b.num("y") > s.frame.y1+5 || n > 0 && names[n-1].attrs["class"] == b.attrs["class"] {
					continue // in the key, or the next line of a name
				}
				at := boxes(paper{all: []element{b}}, "f-line-name")[0]
				for _, next := range names[n+1:] {
					if next.attrs["class"] == b.attrs["class"] {
						u := boxes(paper{all: []element{next}}, "f-line-name")[0]
						at.frame = frame{math.Min(at.x0, u.x0), at.y0, math.Max(at.x1, u.x1), u.y1}
					}
				}
				at.y1 += fall
				own, other := math.Inf(1), math.Inf(1)
				for _, l := range s.class("f-line") {
					if strings.Contains(l.attrs["d"], "h26") {
						continue // a sample
					}
					near := math.Inf(1)
					for _, run := range points(t, l.attrs["d"]) {
						for i := 1; i < len(run); i++ {
							for k := range 21 {
								q := pt{run[i-1].x + (run[i].x-run[i-1].x)*float64(k)/20, run[i-1].y + (run[i].y-run[i-1].y)*float64(k)/20}
								near = math.Min(near, math.Hypot(q.x-math.Max(at.x0, math.Min(q.x, at.x1)), q.y-math.Max(at.y0, math.Min(q.y, at.y1))))
							}
						}
					}
					if strings.Fields(l.attrs["class"])[2] == strings.Fields(b.attrs["class"])[2] { // f-1 to f-6
						own = near
					} else {
						other = math.Min(other, near)
					}
				}
				if own > other+2 && len([]rune(b.text)) > 1 {
					t.Errorf("%s%s: %q is %.1f from its own curve, %.1f from another", name, suffix, b.text, own, other)
				}
				if own > 40 {
					t.Errorf("%s%s: %q is %.1f from its curve", name, suffix, b.text, own)
				}
			}
		}
	}
}

// A reading or an arrow hemmed in on all sides is named from further away, by a line.
func TestLedNames(t *testing.T) {
	p := gallery()["air"]
	if p == nil {
		t.Fatal("no such figure")
	}
	s := parse(t, p.SVG())
	if n := len(s.class("f-leader")); n != 2 {
		t.Errorf("%d lines lead to names, want one to the reading and one to the arrow", n)
	}
}

// The name of an area that another overlaps stands in no other area, and each
// has an edge of its own.
func TestAreasAreNamedApart(t *testing.T) {
	p := gallery()["targets"].(Plot)
	for suffix, look := range looks {
		s := parse(t, p.Draw(look))
		areas := s.class("f-band")
		names := boxes(s, "f-band-name")
		if len(areas) != 2 || len(names) < 2 {
			t.Fatalf("%d areas and %d lines of names, want 2 of each", len(areas), len(names))
		}
		if a, b := areas[0].attrs, areas[1].attrs; a["stroke"] == "" || b["stroke"] == "" || a["stroke-dasharray"] == b["stroke-dasharray"] {
			t.Errorf("%q: the edges are alike", suffix)
		}
		for i, area := range areas {
			corner := points(t, area.attrs["d"])[0]
			x0, x1 := min(corner[0].x, corner[2].x), max(corner[0].x, corner[2].x)
			y0, y1 := min(corner[0].y, corner[2].y), max(corner[0].y, corner[2].y)
			for _, e := range s.class("f-band-name") {
				at := boxes(paper{all: []element{e}}, "f-band-name")[0]
				if x, y := (at.x0+at.x1)/2, (at.y0+at.y1)/2; !e.class("f-"+itoa(i+1)) && x > x0 && x < x1 && y > y0 && y < y1 {
					t.Errorf("%q: %q stands in the other area", suffix, e.text)
				}
			}
		}
	}
}
