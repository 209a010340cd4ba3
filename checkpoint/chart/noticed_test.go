package chart

import (
	"math"
	"testing"
)

// The lower line of ranges is zero for groups of up to six: D₃ shows only
// above, where it is 0.2230 for ten (row D3-n10 of the published values).
func TestLowerLineOfRanges(t *testing.T) {
	x := normals(200, 3)
	for size, d3 := range map[int]float64{6: 0, 10: 0.2230} {
		p, err := MeanAndRange(x[:20*size], size)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Spread.Lower / p.Spread.Centre; !(math.Abs(got-d3) <= 0.0005) {
			t.Errorf("groups of %d: D3 is %v, want %v", size, got, d3)
		}
	}
}
