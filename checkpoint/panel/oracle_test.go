package panel

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/internal/num"
)

// oracle reads a table that make_oracle.R wrote.
func oracle(t *testing.T, name string, columns int) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows [][]string
	for s := bufio.NewScanner(f); s.Scan(); {
		if strings.HasPrefix(s.Text(), "#") {
			continue
		}
		cells := strings.Split(s.Text(), ",")
		if len(cells) != columns {
			t.Fatalf("%s: %q has %d columns, want %d", name, s.Text(), len(cells), columns)
		}
		rows = append(rows, cells)
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

func num64(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

// methodWith is a method with a chance of a third or of a half.
func methodWith(chance float64) Method {
	if chance > 0.4 {
		return DuoTrio
	}
	return Triangle
}

func TestBinomialOracle(t *testing.T) {
	for _, r := range oracle(t, "binom_tests.csv", 7) {
		m := methodWith(num64(t, r[0]))
		n, x := int(num64(t, r[1])), int(num64(t, r[2]))
		d, err := ByChance(Trial{m, n, x})
		if up := 100 * num64(t, r[3]); err != nil || !near(d.ByChancePct, up, 1e-11*up) {
			t.Errorf("%v %d of %d: by chance %v, want %v (%v)", m, x, n, d.ByChancePct, up, err)
		}
		s, err := Estimate(Trial{m, n, x}, 95)
		if err != nil || !near(s.LowerCorrectPct, 100*num64(t, r[4]), 1e-9) || !near(s.UpperCorrectPct, 100*num64(t, r[5]), 1e-9) {
			t.Errorf("%v %d of %d: limits %v and %v, want %s and %s (%v)", m, x, n, s.LowerCorrectPct, s.UpperCorrectPct, r[4], r[5], err)
		}
		p, err := PreferenceByChancePct(n, x)
		if two := 100 * num64(t, r[6]); err != nil || !near(p, two, 1e-10*two) {
			t.Errorf("%d of %d prefer: %v, want %v (%v)", x, n, p, two, err)
		}
	}
}

func TestPowerOracle(t *testing.T) {
	for _, r := range oracle(t, "power.csv", 7) {
		m, n := methodWith(num64(t, r[0])), int(num64(t, r[1]))
		risk, pc := 100*num64(t, r[2]), 100*num64(t, r[3])
		crit, alike := int(num64(t, r[4])), int(num64(t, r[6]))
		c, err := Power(Design{m, n, risk, pc})
		if crit > n {
			if err == nil {
				t.Errorf("%v n %d risk %v: no critical count exists, ours is %d", m, n, risk, c.CriticalCount)
			}
		} else if want := 100 * num64(t, r[5]); err != nil || c.CriticalCount != crit || !near(c.PowerPct, want, 1e-10*want) {
			t.Errorf("%v n %d risk %v: %+v, want count %d, power %v (%v)", m, n, risk, c, crit, want, err)
		}
		pd, err := DiscriminatorsPct(m, pc)
		if err != nil {
			t.Fatal(err)
		}
		x, err := AlikeCount(m, n, math.Round(pd), risk)
		if alike < 0 {
			if err == nil {
				t.Errorf("%v n %d risk %v: no count shows likeness, ours is %d", m, n, risk, x)
			}
		} else if err != nil || x != alike {
			t.Errorf("%v n %d risk %v pd %v: likeness to %d, want %d (%v)", m, n, risk, pd, x, alike, err)
		}
	}
}

func TestPanelOracle(t *testing.T) {
	for _, r := range oracle(t, "panels.csv", 6) {
		m := methodWith(num64(t, r[0]))
		s, err := Assessors(Goal{m, 100 * num64(t, r[1]), 100 * num64(t, r[2]), 100 * num64(t, r[3])})
		if want := (Size{int(num64(t, r[4])), int(num64(t, r[5]))}); err != nil || s != want {
			t.Errorf("%v %v: %+v, want %+v (%v)", m, r, s, want, err)
		}
	}
}

func TestThurstoneOracle(t *testing.T) {
	names := map[string]Method{}
	for m := Triangle; m <= Tetrad; m++ {
		names[m.String()] = m
	}
	for _, r := range oracle(t, "thurstone.csv", 3) {
		m, d := names[r[0]], num64(t, r[1])
		pc, err := CorrectAtPct(m, d)
		if want := 100 * num64(t, r[2]); err != nil || !near(pc, want, 3e-11) {
			t.Errorf("%v at %v: %v, want %v (%v)", m, d, pc, want, err)
		}
	}
	for _, r := range oracle(t, "psyphy.csv", 3) {
		m, pc, want := names[r[0]], 100*num64(t, r[1]), num64(t, r[2])
		// That package integrates and searches to about 1e-4 of d′.
		d, err := DPrime(m, pc)
		if err != nil || !near(d, want, 2e-4) {
			t.Errorf("%v at %v %%: d′ %v, want %v (%v)", m, pc, d, want, err)
		}
	}
}

func oracleTables(t *testing.T) (tables [][][]float64) {
	for _, r := range oracle(t, "tables.csv", 1) {
		tables = append(tables, rows(r[0]))
	}
	return tables
}

func TestAgreeOracle(t *testing.T) {
	tables := oracleTables(t)
	for _, r := range oracle(t, "icc.csv", 5) {
		a, err := Agree(tables[int(num64(t, r[0]))], 95)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]Coefficient{"ICC1": a.ICC11, "ICC2": a.ICC21, "ICC3": a.ICC31,
			"ICC1k": a.ICC1K, "ICC2k": a.ICC2K, "ICC3k": a.ICC3K}[r[1]]
		want := Coefficient{num64(t, r[2]), num64(t, r[3]), num64(t, r[4])}
		// Over 1 the other package extrapolates a form that does not exist.
		if want.Value > 1 {
			want.Value = 0
			if a.Notes != NoICC2K {
				t.Errorf("table %s: notes are %v", r[0], a.Notes)
			}
		} else if r[1] == "ICC2k" && a.Notes != 0 {
			t.Errorf("table %s: notes are %v", r[0], a.Notes)
		}
		if want.Lower > 1 {
			want.Lower = 0
		}
		tol := func(v float64) float64 { return 1e-7 * (1 + math.Abs(v)) }
		if !near(got.Value, want.Value, tol(want.Value)) || !near(got.Lower, want.Lower, tol(want.Lower)) || !near(got.Upper, want.Upper, tol(want.Upper)) {
			t.Errorf("table %s %s: %+v, want %+v", r[0], r[1], got, want)
		}
	}
}

func TestFriedmanOracle(t *testing.T) {
	tables := oracleTables(t)
	for _, r := range oracle(t, "friedman.csv", 4) {
		f, err := Friedman(tables[int(num64(t, r[0]))])
		if err != nil || !near(f.Statistic, num64(t, r[1]), 1e-11) || f.DF != int(num64(t, r[2])) ||
			!near(num.ChiSquareTail(f.Statistic, float64(f.DF)), num64(t, r[3]), 1e-12) {
			t.Errorf("table %s: %+v, want %v (%v)", r[0], f, r[1:], err)
		}
	}
}

func TestOffsetsOracle(t *testing.T) {
	tables := oracleTables(t)
	for _, r := range oracle(t, "offsets.csv", 4) {
		list, err := Offsets(tables[int(num64(t, r[0]))], 95)
		if err != nil {
			t.Fatal(err)
		}
		o := list[int(num64(t, r[1]))]
		if !near(o.Points, num64(t, r[2]), 1e-12) || !near(o.HalfWidth, num64(t, r[3]), 1e-9) {
			t.Errorf("table %s taster %s: %+v, want %v", r[0], r[1], o, r[2:])
		}
	}
}

func TestWeeksOracle(t *testing.T) {
	series := [][]Cupping{
		{{0, 87}, {4, 86.5}, {8, 86.75}, {12, 86}, {16, 85.25}, {20, 85.5}, {26, 84.5}},
		{{0, 85}, {2, 84.8}, {5, 84.1}, {9, 83.9}, {10, 83.2}, {15, 82.8}},
	}
	for _, r := range oracle(t, "weeks.csv", 11) {
		var v [11]float64
		for i := range v {
			v[i] = num64(t, r[i])
		}
		tr, err := ScoreTrend(series[int(v[0])], 100*v[2])
		if err != nil {
			t.Fatal(err)
		}
		c, err := Under(tr, v[1])
		if err != nil {
			t.Fatal(err)
		}
		got := [...]float64{tr.SlopePerWeek, tr.SlopeHalfWidth, tr.ScoreAt(10), tr.HalfWidthAt(10), tr.NextHalfWidthAt(10), c.Week, c.Earliest, c.Latest}
		for i, g := range got {
			if !near(g, v[3+i], 1e-8*(1+math.Abs(v[3+i]))) {
				t.Errorf("series %v, threshold %v, %v %%: figure %d is %v, want %v", v[0], v[1], 100*v[2], i, g, v[3+i])
			}
		}
	}
}
