package num

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// frozen reads a table of numbers whose lines after the first are
// comma-separated.
func frozen(t *testing.T, name string, columns int) [][]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows [][]float64
	for s := bufio.NewScanner(f); s.Scan(); {
		if strings.HasPrefix(s.Text(), "#") {
			continue
		}
		cells := strings.Split(s.Text(), ",")
		if len(cells) != columns {
			t.Fatalf("%s: %q has %d columns, want %d", name, s.Text(), len(cells), columns)
		}
		row := make([]float64, columns)
		for i, c := range cells {
			if row[i], err = strconv.ParseFloat(c, 64); err != nil {
				t.Fatal(err)
			}
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

func TestBinomialAgainstRationals(t *testing.T) {
	for _, r := range frozen(t, "binomial.csv", 5) {
		x, n, p := int(r[0]), int(r[1]), r[2]
		for _, c := range []struct {
			name      string
			got, want float64
		}{{"pmf", pmf(x, n, p, 1-p), r[3]}, {"upper", BinomialUpper(x, n, p), r[4]}} {
			// Below 1e-290 terms lose digits before they reach zero.
			if !(math.Abs(c.got-c.want) <= 3e-13*c.want+1e-290) {
				t.Errorf("%s(%d, %d, %v) = %v, want %v", c.name, x, n, p, c.got, c.want)
			}
		}
	}
}

func TestBinomialTailsAddUp(t *testing.T) {
	for _, n := range []int{0, 1, 7, 200, 100000} {
		for _, p := range []float64{0, 1e-9, 1. / 3, 0.5, 0.75, 1} {
			for _, x := range []int{-1, 0, 1, n / 3, n / 2, n - 1, n, n + 1} {
				lo, up := BinomialLower(x-1, n, p), BinomialUpper(x, n, p)
				if !(math.Abs(lo+up-1) <= 1e-12) {
					t.Errorf("n %d, p %v, x %d: tails %v and %v", n, p, x, lo, up)
				}
				if d := up - BinomialUpper(x+1, n, p) - pmf(x, n, p, 1-p); !(math.Abs(d) <= 1e-12) {
					t.Errorf("n %d, p %v, x %d: the step is off by %v", n, p, x, d)
				}
			}
		}
	}
	for _, p := range []float64{math.NaN(), -0.1, 1.1, math.Inf(1)} {
		if !math.IsNaN(BinomialLower(1, 2, p)) || !math.IsNaN(BinomialUpper(1, 2, p)) {
			t.Errorf("probability %v has an answer", p)
		}
	}
}

func TestOwenT(t *testing.T) {
	for _, r := range frozen(t, "owen.csv", 3) {
		if got := OwenT(r[0], r[1]); !(math.Abs(got-r[2]) <= 1e-15+4e-13*math.Abs(r[2])) {
			t.Errorf("OwenT(%v, %v) = %v, want %v", r[0], r[1], got, r[2])
		}
	}
	if got, want := OwenT(0.7, math.Inf(1)), 0.5*NormalCDF(-0.7); got != want {
		t.Errorf("OwenT(0.7, Inf) = %v, want %v", got, want)
	}
	if !math.IsNaN(OwenT(math.NaN(), 1)) || !math.IsNaN(OwenT(1, math.NaN())) {
		t.Error("NaN has an answer")
	}
}
