package figure

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A picture is any of the three figures.
type picture interface {
	SVG() string
	Table() Table
	Draw(Look) string
	Data(Look) Table
}

// sweep computes a curve without exponentials, whose last bits differ between
// platforms.
func sweep(n int, lo, hi float64, f func(float64) float64) (x, y []float64) {
	for i := range n {
		v := lo + (hi-lo)*float64(i)/float64(n-1)
		x, y = append(x, v), append(y, f(v))
	}
	return x, y
}

// noise is the same every time: values from 0 to 1.
func noise() func() float64 {
	s := uint32(1)
	return func() float64 {
		s = s*1664525 + 1013904223
		return float64(s>>8) / (1 << 24)
	}
}

// gallery is one figure of each kind that the page draws, and some that no
// one should draw. All values are invented.
func gallery() map[string]picture {
	nan := math.NaN()
	x, y := sweep(61, 0, 30, func(t float64) float64 { return 7.5 * t / (t + 4) })
	_, lo := sweep(61, 0, 30, func(t float64) float64 { return 6.8 * t / (t + 4.5) })
	_, hi := sweep(61, 0, 30, func(t float64) float64 { return 8.2 * t / (t + 3.6) })
	ox, foil := sweep(61, 0, 60, func(t float64) float64 { return 0.05 + 0.3*t/(t+20) })
	_, paper := sweep(61, 0, 60, func(t float64) float64 { return 0.05 + 1.8*t/(t+20) })
	_, opened := sweep(61, 0, 60, func(t float64) float64 { return 0.05 + 6*t/(t+40) })

	var scores []Bar
	for i, n := range []float64{1, 3, 7, 12, 9, 4, 2} {
		scores = append(scores, Bar{X: 80 + float64(i)*0.5, Width: 0.5, Hi: n, Flag: i == 0})
	}
	compare := func(values []float64, names ...string) (bars []Bar) {
		for i, n := range names {
			bars = append(bars, Bar{Name: n, X: float64(i), Width: 0.7, Hi: values[i]})
		}
		return bars
	}
	random := noise()
	var hours, humid []float64
	for i := range 10000 {
		hours = append(hours, float64(i)/24)
		humid = append(humid, 60+8*math.Abs(math.Mod(float64(i)/900, 4)-2)+4*random())
	}
	var cloudX, cloudY []float64
	for range 5000 {
		a := random() + random() + random() + random()
		cloudX, cloudY = append(cloudX, a), append(cloudY, a*a+random())
	}
	var family []Line
	for k := range 6 {
		lx, ly := sweep(30, 0, 29, func(t float64) float64 { return float64(k)*0.4 + math.Sqrt(t+float64(k)) })
		family = append(family, Line{Name: "store at " + itoa(15+5*k) + " °C", X: lx, Y: ly, Style: Style(k % 3)})
	}
	var saturation []Line
	for k, name := range []string{"100 %", "80 %", "60 %", "40 %", "20 %"} {
		lx, ly := sweep(26, 5, 30, func(t float64) float64 { return (5 - float64(k)) * (1 + t*t/250) })
		saturation = append(saturation, Line{Name: name, X: lx, Y: ly, Style: Style(min(k, 1))})
	}
	batch := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	colour := []float64{61.2, 60.8, 61.5, 62, 61.1, 60.2, 61.7, 64.9, 61.4, 61, 60.5, 61.3}
	var december []Tick
	for i := range 31 {
		december = append(december, Tick{float64(i), itoa(i+1) + " Dec"})
	}

	return map[string]picture{
		"empty-plot":  Plot{},
		"empty-flow":  Flow{Title: "Roast loss", To: []Share{{Name: "Roasted", Amount: nan}}},
		"empty-strip": Strip{Title: "Windows", Moments: []Moment{{Name: "Roasted", At: math.Inf(1)}}},
		"release": Plot{Title: "Gas that left the beans", Desc: "The release slows down; one reading of eight lies low.",
			X: Axis{Label: "Time since roast", Unit: "d"}, Y: Axis{Label: "CO₂ released", Unit: "mL/g"},
			Bands: []Band{{Name: "95 % of bags", X: x, Lo: lo, Hi: hi}},
			Lines: []Line{{Name: "fitted release", X: x, Y: y}},
			Points: []Points{{Name: "readings", X: []float64{0.5, 1, 2, 4, 7, 10, 14, 21}, Y: []float64{0.9, 1.6, 2.4, 3.8, 4.1, 5.4, 5.7, 6.4},
				Err: []float64{.2, .2, .2, .2, .2, .2, .2, .2}, Flagged: []bool{false, false, false, false, true}}},
			Marks: []Mark{{Name: "valve opens", At: 8.5}, {Name: "rest ends", At: 9, Vertical: true}}},
		"oxygen": Plot{Title: "Oxygen in three bags", X: Axis{Label: "Days on the shelf"}, Y: Axis{Label: "Oxygen", Unit: "%", Log: true},
			Lines: []Line{{Name: "foil, valve", X: ox, Y: foil}, {Name: "paper with liner", X: ox, Y: paper, Style: Dashed}, {Name: "opened each day", X: ox, Y: opened, Style: Dotted}},
			Marks: []Mark{{Name: "limit 1 %", At: 1}}},
		"histogram": Plot{Title: "Scores of the table", X: Axis{Label: "Score"}, Y: Axis{Label: "Cuppers"},
			Bars: scores, Marks: []Mark{{Name: "mean 81.5", At: 81.5, Vertical: true}}},
		"weeks": Plot{Title: "Drift of the scale", Y: Axis{Label: "Drift", Unit: "g"}, Bars: compare([]float64{-1.2, 0.4, 2.25, -0.3}, "Week 1", "Week 2", "Week 3", "Week 4")},
		"variance": Plot{Title: "What dominates", Y: Axis{Label: "Share of the variance", Unit: "%"},
			Bars: compare([]float64{12, 31, 44, 8, 5}, "Instrument", "Repeat readings", "Sampling", "Temperature", "Model")},
		"bias": Plot{Title: "Bias", X: Axis{Label: "Cupper"}, Y: Axis{Label: "Bias against the table, points of the form"},
			Bars:  compare([]float64{-1.2, 0.4, 2.25, -0.3, 1.1}, "Ama Boateng", "Bo", "Čeněk of the second floor", "Dao", "Elif"),
			Marks: []Mark{{Name: "too kind", At: 2}, {Name: "too strict", At: -2}}},
		"strength": Plot{Title: "Strength and yield", X: Axis{Label: "Yield", Unit: "%"}, Y: Axis{Label: "Strength", Unit: "%"},
			Ellipses: []Ellipse{{Name: "this brew, 95 %", X: 19.5, Y: 1.31, HalfX: 0.9, HalfY: 0.06, Rho: 0.7}, {Name: "last week", X: 21.2, Y: 1.22, HalfX: 1.1, HalfY: 0.05, Rho: 0.6}},
			Points:   []Points{{X: []float64{19.5, 21.2}, Y: []float64{1.31, 1.22}}},
			Arrows:   []Arrow{{Name: "finer grind", FromX: 19.5, FromY: 1.31, ToX: 21, ToY: 1.41}},
			Labels:   []Label{{Text: "ours", X: 20, Y: 1.25}},
			Lines:    []Line{{Name: "60 g/L", X: []float64{17, 23}, Y: []float64{1.12, 1.52}, Style: Dashed}}},
		"humidity": Plot{Title: "Store humidity, a year", X: Axis{Label: "Date", Ticks: []Tick{{0, "1 Jan"}, {90, "1 Apr"}, {181, "1 Jul"}, {273, "1 Oct"}, {365, "1 Jan"}}},
			Y:     Axis{Label: "Relative humidity", Unit: "%"},
			Lines: []Line{{Name: "logger at the back wall", X: hours, Y: humid}},
			Bands: []Band{{Name: "keep within", X: []float64{0, 400}, Lo: []float64{50, 50}, Hi: []float64{60, 60}}}},
		"one-reading": Plot{Title: "One reading", X: Axis{Label: "Time", Unit: "h"}, Y: Axis{Label: "Weight", Unit: "g"},
			Points: []Points{{Name: "only one", X: []float64{3}, Y: []float64{1250}}}},
		"shapes": Plot{Title: "Rounds", X: Axis{Label: "Round"}, Y: Axis{Label: "Difference", Unit: "points"},
			Points: []Points{
				{Name: "Anna", X: []float64{1, 2, 3}, Y: []float64{-0.5, 0.25, 1}},
				{Name: "Ben", X: []float64{1, 2, 3}, Y: []float64{0, 0.5, 0.25}, Shape: Ring},
				{Name: "Carl", X: []float64{1, 2, 3}, Y: []float64{1, -1, -0.25}, Shape: Square},
				{Name: "Dora", X: []float64{1, 2, 3}, Y: []float64{-1, 1.25, .6}, Shape: Diamond},
				{Name: "Emil", X: []float64{1, 2, 3}, Y: []float64{.5, -.5, 1.25}, Shape: Triangle},
				{Name: "Fay", X: []float64{1, 2, 3}, Y: []float64{1.3, 0, 0}, Shape: Cross}},
			Marks: []Mark{{Name: "no difference", At: 0}}},
		"batches": Plot{Title: "Colour of the batches", X: Axis{Label: "Batch"}, Y: Axis{Label: "Colour reading"},
			Lines:  []Line{{X: batch, Y: colour}},
			Points: []Points{{X: batch, Y: colour, Flagged: []bool{7: true}}},
			Marks:  []Mark{{Name: "upper limit", At: 63.6}, {Name: "centre", At: 61.3}, {Name: "lower limit", At: 59.0}}},
		"large-small": Plot{Title: "Large and small", X: Axis{Label: "Diffusivity", Unit: "m²/s"}, Y: Axis{Label: "Count"},
			Lines: []Line{{Name: "rising", X: []float64{1e-12, 4e-12, 9e-12}, Y: []float64{-2e7, 0, 5e7}},
				{Name: "crossing it with a long name that is wrapped", X: []float64{1e-12, 4e-12, 9e-12}, Y: []float64{4e7, 0, -2e7}, Style: Dashed}}},
		"outside": Plot{Title: "Gaps and readings outside", X: Axis{Label: "Time", Unit: "d", Min: 0, Max: 10}, Y: Axis{Label: "Oxygen", Unit: "%", Min: 0, Max: 2},
			Lines:  []Line{{Name: "meter A", X: []float64{-1, 1, 2, 3, 4, 5, 6, 7, 8, 12}, Y: []float64{.2, .4, .6, nan, .9, 1, 2.6, 1.2, nan, 1}}},
			Points: []Points{{Name: "bag", X: []float64{1, 5, 20, 7, math.Inf(-1)}, Y: []float64{1.6, 3, 1, 1.9, 1}, Err: []float64{.3, .1, .2, .3}}},
			Marks:  []Mark{{Name: "limit 3 %", At: 3}, {Name: "end of life", At: 30, Vertical: true}, {Name: "before roast", At: -3, Vertical: true}, {Name: "nowhere", At: nan}}},
		"family": Plot{Title: "Loss by temperature", X: Axis{Label: "Days"}, Y: Axis{Label: "Loss", Unit: "%"}, Lines: family},
		"states": Plot{Title: "Where the lot is", X: Axis{Ticks: december}, Y: Axis{Label: "State", Min: 0, Max: 3, Ticks: []Tick{{1, "in the silo"}, {2, "in a bag with a valve"}, {3, "gone"}}},
			Lines: []Line{{X: []float64{0, 10, 10, 20, 20, 30}, Y: []float64{1, 1, 2, 2, 3, 3}}}},
		"grind": Plot{Title: "Grind", X: Axis{Label: "Particle size", Unit: "µm", Log: true}, Y: Axis{Label: "Share", Unit: "%"},
			Lines: []Line{{Name: "setting 4", X: []float64{5, 10, 20, 50, 100, 200, 400, 800, 1600}, Y: []float64{.2, .8, 2.5, 3, 2, 5, 12, 6, .4}}}},
		"cloud": Plot{Title: "Five thousand readings", X: Axis{Label: "Water activity"}, Y: Axis{Label: "Moisture", Unit: "%"},
			Points: []Points{{Name: "all lots", X: cloudX, Y: cloudY}}},
		"level": Plot{Title: "Nothing moves", X: Axis{Label: "Hour"}, Y: Axis{Label: "Weight", Unit: "g"},
			Lines: []Line{{Name: "scale", X: []float64{0, 1, 2}, Y: []float64{5, 5, 5}}}, Marks: []Mark{{Name: "wanted", At: 5}}},
		"air": Plot{Title: "Air of the store", X: Axis{Label: "Temperature", Unit: "°C"}, Y: Axis{Label: "Water per dry air", Unit: "g/kg"}, Lines: saturation,
			Arrows: []Arrow{{Name: "to its dew point", FromX: 18, FromY: 5.1, ToX: 9, ToY: 5.1}}, Points: []Points{{Name: "this air", X: []float64{18}, Y: []float64{5.1}}}},
		"window": Plot{Title: "Target window", X: Axis{Label: "Yield", Unit: "%"}, Y: Axis{Label: "Strength", Unit: "%"},
			Bands: []Band{{Name: "wanted", X: []float64{18, 22}, Lo: []float64{1.15, 1.15}, Hi: []float64{1.35, 1.35}}},
			Points: []Points{{Name: "cup 1", X: []float64{20.4}, Y: []float64{1.22}, Err: []float64{.03}},
				{Name: "cup 2", X: []float64{23}, Y: []float64{1.42}, Err: []float64{.03}, Shape: Square, Flagged: []bool{true}}}},
		"targets": Plot{Title: "Two targets", X: Axis{Label: "Yield", Unit: "%", Min: 16, Max: 26}, Y: Axis{Label: "Strength", Unit: "%", Min: 1, Max: 1.9},
			Bands: []Band{{Name: "the older target", X: []float64{18, 22}, Lo: []float64{1.15, 1.15}, Hi: []float64{1.35, 1.35}},
				{Name: "the newer target", X: []float64{18, 22}, Lo: []float64{1.2, 1.2}, Hi: []float64{1.45, 1.45}}},
			Lines:  []Line{{Name: "1:16.7", X: []float64{16, 26}, Y: []float64{1.01, 1.63}}, {Name: "1:14", X: []float64{16, 25}, Y: []float64{1.21, 1.88}, Style: Guide}},
			Arrows: []Arrow{{Name: "coarser", FromX: 22.3, FromY: 1.4, ToX: 19.8, ToY: 1.245}, {Name: "more dose", FromX: 22.3, FromY: 1.4, ToX: 22.3, ToY: 1.58}},
			Points: []Points{{X: []float64{22.3}, Y: []float64{1.4}}}},
		"hostile": Plot{Title: `<script>alert("1")</script>` + "\x00\xff", Desc: "]]> & 'quoted'", X: Axis{Label: "a<b", Unit: "&"}, Y: Axis{Label: `"`, Unit: "'"},
			Lines: []Line{{Name: "</svg><b onclick=x>", X: []float64{0, 1}, Y: []float64{0, 1}}}, Marks: []Mark{{Name: "--><!--", At: 0.5}}},
		"cup": Flow{Title: "Where the solids and the water went", Unit: "g",
			From: []Share{{Name: "Water poured", Amount: 300}, {Name: "Dry grounds", Amount: 18}},
			To: []Share{{Name: "Water in the cup", Amount: 258.2}, {Name: "Solids in the cup", Amount: 3.7}, {Name: "Water held by the grounds", Amount: 37.8},
				{Name: "Dry grounds left", Amount: 14.3}, {Name: "Evaporated", Amount: 4}},
			Links: []Link{{0, 0, 258.2}, {1, 1, 3.7}, {0, 2, 37.8}, {1, 3, 14.3}, {0, 4, 4}, {5, 0, 1}, {0, -1, 1}, {1, 1, nan}}},
		"roast": Flow{Title: "Roast loss", Unit: "kg", From: []Share{{Name: "Green", Amount: 15, Text: "15.00"}},
			To: []Share{{Name: "Roasted", Amount: 12.66, Text: "12.66"}, {Name: "Water driven off", Amount: 1.5, Text: "1.50"}, {Name: "Chaff", Amount: 0.1, Text: "0.10"}, {Name: "Stones", Text: "0.00"}}},
		"gain": Flow{Title: "More than came in", Unit: "g", From: []Share{{Name: "Dose", Amount: 18.04, Text: "18.04"}}, To: []Share{{Name: "Cup", Amount: 19}}},
		"lot": Strip{Title: "Windows of a lot", Desc: "The lot is in its best time.", Unit: "days",
			Windows: []Window{{"rest", 0, 7, Open}, {"best", 7, 35, Full}, {"still good", 35, 60, Faint}},
			Moments: []Moment{{Name: "Roasted", At: 0, Text: "Wed 25 Nov"}, {Name: "Ready", At: 7, Err: 1.5, Text: "Wed 2 Dec"}, {Name: "Best ends", At: 35, Err: 4, Text: "Wed 30 Dec"},
				{Name: "End", At: 60, Text: "24 Jan"}, {Name: "Today", At: 9.5, Text: "4 Dec", Now: true}}},
		"open-end": Strip{Title: "No end known", Unit: "days",
			Windows: []Window{{"resting in the warm room", 0, 3, Open}, {"best for espresso", 3, 12, Full}, {"best for filter", 12, 20, Full}, {"drinkable", 20, math.Inf(1), Faint}, {"backwards", 9, 2, Full}},
			Moments: []Moment{{Name: "Roasted", At: 0}, {Name: "A", At: 3, Err: 1}, {Name: "B", At: 12, Err: 2}, {Name: "Today", At: 19, Now: true}, {Name: "Almost at the end", At: 20}}},
	}
}

// looks are the ways in which each figure of the gallery is drawn.
var looks = map[string]Look{
	"":      {},
	".wide": {Wide: true, Comma: true},
}

// TestGolden compares every figure with the one that was looked at.
// EVENLOT_UPDATE=1 writes them anew: look at them again.
func TestGolden(t *testing.T) {
	update := os.Getenv("EVENLOT_UPDATE") == "1"
	wanted := map[string]bool{}
	for name, p := range gallery() {
		for suffix, look := range looks {
			file := filepath.Join("testdata", name+suffix+".svg")
			wanted[file] = true
			got := p.Draw(look)
			if update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Error(err)
				continue
			}
			if got == string(want) {
				continue
			}
			g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
			for i := range min(len(g), len(w)) {
				if g[i] != w[i] {
					t.Errorf("%s, line %d:\n got %s\nwant %s", file, i+1, g[i], w[i])
					break
				}
			}
			if len(g) != len(w) {
				t.Errorf("%s: %d lines, want %d", file, len(g), len(w))
			}
		}
	}
	files, err := filepath.Glob("testdata/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !wanted[f] {
			t.Errorf("%s belongs to no figure", f)
		}
	}
}

func TestSameEveryTime(t *testing.T) {
	first, second := gallery(), gallery()
	for name := range first {
		if first[name].SVG() != second[name].SVG() {
			t.Errorf("%s differs from one drawing to the next", name)
		}
	}
}
