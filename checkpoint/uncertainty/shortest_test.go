package uncertainty

import "testing"

// Over a flat top all intervals are as short and the middle one is taken; over
// two flat tops alike the first one's; beside a narrow place the one that holds
// it. Steps and shares are powers of two, so that ties are exact.
func TestShortestByHand(t *testing.T) {
	line := func(step func(i int) float64) []float64 {
		x := make([]float64, Batch)
		for i := 1; i < Batch; i++ {
			x[i] = x[i-1] + step(i)
		}
		return x
	}
	for _, c := range []struct {
		x      []float64
		p      float64
		lo, hi int // the ranks about the ends
	}{
		{line(func(int) float64 { return 1 }), 0.5, 2499, 7499}, // 0 to 4998 are as short
		// A quarter fits 2000 times into the first 4501 places, and 2000
		// times into the last.
		{line(func(i int) float64 {
			if i > 4500 && i < 5500 {
				return 4
			}
			return 1
		}), 0.25, 999, 3499},
		{line(func(i int) float64 {
			if i > 7000 && i <= 9600 {
				return 0.5
			}
			return 1
		}), 0.25, 7049, 9549},
		{line(func(i int) float64 { return float64(i) }), 0.75, 0, 7500},
		{line(func(i int) float64 { return float64(Batch - i) }), 0.75, 2498, 9998},
	} {
		lo, hi := shortest(c.x, c.p)
		if lo != c.x[c.lo] || hi < c.x[c.hi] || hi > c.x[c.hi+1] {
			t.Errorf("share %v: %v to %v, want %v to %v", c.p, lo, hi, c.x[c.lo], c.x[c.hi])
		}
	}
}
