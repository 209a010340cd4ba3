package sampling

import (
	"errors"
	"fmt"
	"testing"
)

// The table of plans by measuring is smooth: where two rows and two columns
// cross, the step from column to column is nearly the same in both rows. A
// swapped digit makes a kink that its mending by a percent would flatten.
// Where the print itself has such kinks they are listed, each with the way that
// would flatten it: two more digits or a second print would tell whether they
// are the standard's roundings or slips.
func TestTableIsSmooth(t *testing.T) {
	kinks := map[string]bool{
		"4 1.0 up": true, "4 1.5 down": true, "4 2.5 up": true, "5 0.65 up": true, "5 1.0 down": true, "5 1.5 up": true,
		"7 0.65 down": true, "7 1.0 up": true, "7 1.5 down": true, "15 2.5 up": true, "15 4.0 down": true,
		"20 0.65 down": true, "20 1.0 up": true, "25 0.25 up": true, "25 0.65 up": true, "30 2.5 down": true,
		"35 0.10 up": true, "35 0.15 down": true, "35 2.5 up": true, "40 0.10 down": true, "40 0.15 up": true,
	}
	ns := []int{3, 4, 5, 7, 10, 15, 20, 25, 30, 35, 40, 50, 75, 100, 150, 200}
	names := []string{"0.10", "0.15", "0.25", "0.40", "0.65", "1.0", "1.5", "2.5", "4.0", "6.5", "10"}
	aql := []float64{0.10, 0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5, 10}
	least := []int{15, 10, 7, 7, 5, 4, 4, 3, 3, 3, 3} // the smallest sample of each quality
	var k [16][11]float64
	for i, n := range ns {
		for j := range aql {
			v, err := TabledVariables(n, aql[j])
			var none *ImpossibleError
			if (err == nil) != (n >= least[j]) || err != nil && (!errors.As(err, &none) || none.Min != float64(least[j])) {
				t.Errorf("%d readings at %v %%: %+v, %v", n, aql[j], v, err)
			}
			k[i][j] = v.K
		}
	}
	rough := func(i, j int) (sum float64) {
		for r := max(i-1, 0); r <= min(i, 14); r++ {
			for c := max(j-1, 0); c <= min(j, 9); c++ {
				if k[r][c] > 0 { // the strictest corner: so are the other three
					d := k[r][c] + k[r+1][c+1] - k[r][c+1] - k[r+1][c]
					sum += d * d
				}
			}
		}
		return sum
	}
	for i, n := range ns {
		for j := range aql {
			if k[i][j] == 0 {
				continue
			}
			if j > 0 && k[i][j-1] > 0 && k[i][j] >= k[i][j-1] {
				t.Errorf("%d readings: k does not fall from %v to %v %%", n, aql[j-1], aql[j])
			}
			as := k[i][j]
			before := rough(i, j)
			for way, by := range map[string]float64{"up": 1.01, "down": 0.99} {
				k[i][j] = as * by
				if name := fmt.Sprintf("%d %s %s", n, names[j], way); (rough(i, j) < before) != kinks[name] {
					t.Errorf("%s: k %v has the kinks %.3g, moved they are %.3g", name, as, before, rough(i, j))
				}
			}
			k[i][j] = as
		}
	}
}
