package figure

import (
	"strings"
	"testing"
)

// Every name of a figure comes out in the other words, and the figure that was
// given keeps its own.
func TestIn(t *testing.T) {
	x := []float64{1, 2}
	for _, p := range []Picture{
		Plot{Title: "a", X: Axis{Label: "b", Unit: "c"}, Y: Axis{Label: "d", Unit: "e"}, Bands: []Band{{Name: "f", X: x, Lo: x, Hi: x}},
			Lines: []Line{{Name: "g", X: x, Y: x}}, Points: []Points{{Name: "h", X: x, Y: x}}, Bars: []Bar{{Name: "i", X: 1, Width: 1, Hi: 1}},
			Marks: []Mark{{Name: "j", At: 1}}, Labels: []Label{{Text: "k", X: 1, Y: 1}}, Ellipses: []Ellipse{{Name: "l", X: 1, Y: 1, HalfX: 1, HalfY: 1}},
			Arrows: []Arrow{{Name: "m", FromX: 1, ToX: 2}}},
		Flow{Title: "a", From: []Share{{Name: "b", Amount: 1}}, To: []Share{{Name: "c", Amount: 1}}},
		Strip{Title: "a", Unit: "b", Windows: []Window{{Name: "c", From: 1, To: 2}}, Moments: []Moment{{Name: "d", At: 1}}},
	} {
		n := 0
		q := p.In(func(s string) string { n++; return strings.ToUpper(s) })
		want := 13
		switch p.(type) {
		case Flow:
			want = 3
		case Strip:
			want = 4
		}
		if n != want {
			t.Errorf("%T: %d words were asked for, want %d", p, n, want)
		}
		if p.Draw(Look{}) == q.Draw(Look{}) {
			t.Errorf("%T is drawn in the words it had", p)
		}
	}
}
