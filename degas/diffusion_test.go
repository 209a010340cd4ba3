package degas

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// near is false for NaN.
func near(got, want, rel float64) bool {
	return math.Abs(got-want) <= rel*math.Abs(want)
}

// The reference has 30 digits and none of our code; see testdata/diffusion.py.
func TestDiffusionAgainst30Digits(t *testing.T) {
	f, err := os.Open("testdata/diffusion.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	least, most, worst := math.Inf(1), 0.0, 0.0
	for _, row := range rows[1:] {
		var v [5]float64
		for i, s := range row {
			if v[i], err = strconv.ParseFloat(s, 64); err != nil && v[i] != 0 {
				t.Fatal(err)
			}
		}
		least, most = min(least, v[0]), max(most, v[0])
		ball, err := SphereShare(v[0])
		if err != nil {
			t.Fatal(err)
		}
		flat, err := SheetShare(v[0])
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range []float64{ball.LeftPct, ball.GonePct, flat.LeftPct, flat.GonePct} {
			want := 100 * v[i+1]
			if want < 1e-300 { // below what a float holds with all its digits
				if !(got < 1e-299) {
					t.Errorf("Fo %v, column %d: %v, want nothing", v[0], i, got)
				}
				continue
			}
			if !near(got, want, 1e-12) {
				t.Errorf("Fo %v, column %d: %.17g, want %s·100", v[0], i, got, row[i+1])
			}
			worst = max(worst, math.Abs(got/want-1))
		}
	}
	if len(rows) < 100 || !(most/least >= 0.999e12) {
		t.Errorf("%d rows from %v to %v: not the twelve decades claimed", len(rows), least, most)
	}
	t.Logf("%d points from Fo %v to %v: worst relative error %.2g", len(rows)-1, least, most, worst)
}

// The two forms must agree around where they join: a wrong term would show.
func TestDiffusionFormsJoin(t *testing.T) {
	for name, c := range map[string]struct {
		share func(float64) (float64, float64)
		join  float64
	}{"sphere": {sphere, sphereJoin}, "sheet": {sheet, sheetJoin}} {
		_, below := c.share(math.Nextafter(c.join, 0))
		_, above := c.share(c.join)
		if !near(below, above, 1e-14) {
			t.Errorf("%s: %.17g below the join, %.17g at it", name, below, above)
		}
		last := -1.0
		for fo := c.join * 0.9; fo < c.join*1.1; fo *= 1.0001 {
			_, gone := c.share(fo)
			if !(gone > last) {
				t.Fatalf("%s: at Fo %v the share gone does not rise", name, fo)
			}
			last = gone
		}
	}
}

// The popular short forms are good where they are said to be and bad outside.
func TestDiffusionShortForms(t *testing.T) {
	early := func(fo float64) float64 { return 6*math.Sqrt(fo/math.Pi) - 3*fo }
	late := func(fo float64) float64 { return 1 - 6/(math.Pi*math.Pi)*math.Exp(-math.Pi*math.Pi*fo) }
	for _, c := range []struct {
		name string
		got  float64
		want float64
	}{
		{"early form at 0.2", early(0.2), 0.9138795132},
		{"late form at 0.1", late(0.1), 0.7734208037},
	} {
		if !near(c.got, c.want, 1e-9) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	for fo := 1e-6; fo <= 0.1; fo *= 1.5 {
		if _, gone := sphere(fo); !(math.Abs(gone-early(fo)) <= 5e-6) {
			t.Errorf("early form at %v is off by %v", fo, early(fo)-gone)
		}
	}
	for fo := 0.2; fo <= 10; fo *= 1.5 {
		if _, gone := sphere(fo); !(math.Abs(gone-late(fo)) <= 1e-4) {
			t.Errorf("late form at %v is off by %v", fo, late(fo)-gone)
		}
	}
}
