package num

import (
	"math"
	"testing"
)

// An end that will do is kept; one that is refused by rounding, or never quite
// reached, moves no further than it must; where nothing near will do the inner
// place is named.
func TestInside(t *testing.T) {
	for _, c := range []struct {
		end, inner float64
		ok         func(float64) bool
		most       float64 // it may move, as a share of the way
	}{
		{5, 10, func(x float64) bool { return x >= 5 }, 0},
		{5, 10, func(x float64) bool { return x > 5 }, 4e-16},
		{5, 1, func(x float64) bool { return x < 5 }, 4e-16},
		{5, 10, func(x float64) bool { return x >= 5+3e-9 }, 2e-9},
		{0, 100, func(x float64) bool { return x > 0 }, 4e-16},
	} {
		x := Inside(c.end, c.inner, c.ok)
		if !c.ok(x) || !(math.Abs(x-c.end) <= c.most*math.Abs(c.inner-c.end)) {
			t.Errorf("from %v towards %v: %v", c.end, c.inner, x)
		}
	}
	if x := Inside(5, 10, func(x float64) bool { return x > 7 }); x != 10 {
		t.Errorf("nothing near will do: %v", x)
	}
}

func TestFurthest(t *testing.T) {
	for _, c := range []struct{ from, to, end float64 }{{1, 9, 4.5}, {9, 1, 4.5}, {0, 1e6, 0.25}, {-3, 3, 3}} {
		ok := func(x float64) bool { return x == c.from || math.Abs(x-c.from) <= math.Abs(c.end-c.from) }
		if x := Furthest(c.from, c.to, ok); !ok(x) || !(math.Abs(x-c.end) <= 1e-15*math.Abs(c.to-c.from)) {
			t.Errorf("from %v to %v: %v, want %v", c.from, c.to, x, c.end)
		}
	}
}
