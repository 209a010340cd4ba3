package sampling

import "testing"

// The code letters at level II with their sample sizes, and the ends of their
// lots: a second copy of the standard's table 1 and of the sizes in table 2-A,
// from memory. Each lot is asked for at its end and one beyond.
func TestEveryLetter(t *testing.T) {
	for i, c := range []struct {
		last   int // largest lot of the letter
		letter string
		units  int
	}{
		{8, "A", 2}, {15, "B", 3}, {25, "C", 5}, {50, "D", 8}, {90, "E", 13}, {150, "F", 20}, {280, "G", 32}, {500, "H", 50},
		{1200, "J", 80}, {3200, "K", 125}, {10000, "L", 200}, {35000, "M", 315}, {150000, "N", 500}, {500000, "P", 800}, {MaxUnits, "Q", 1250},
	} {
		letter, units, err := CodeLetter(c.last)
		if err != nil || letter != c.letter || units != c.units {
			t.Errorf("%d units: %s, %d, %v; want %s, %d", c.last, letter, units, err, c.letter, c.units)
		}
		if i > 0 {
			continue
		}
		if letter, _, err = CodeLetter(2); err != nil || letter != "A" {
			t.Errorf("the smallest lot: %s, %v", letter, err)
		}
	}
	for _, c := range []struct {
		lot    int
		letter string
	}{{9, "B"}, {16, "C"}, {26, "D"}, {51, "E"}, {91, "F"}, {151, "G"}, {281, "H"}, {501, "J"}, {1201, "K"}, {3201, "L"}, {10001, "M"}, {35001, "N"}, {150001, "P"}, {500001, "Q"}} {
		if letter, _, err := CodeLetter(c.lot); err != nil || letter != c.letter {
			t.Errorf("%d units: %s, want %s; %v", c.lot, letter, c.letter, err)
		}
	}
	// Every quality of the series has a plan for every letter, and along the
	// table's diagonals the accepted number is one: letter J accepts 0, 1, 2, 3
	// ... at 0.15, 0.65, 1.0, 1.5 ... %.
	for _, c := range []struct {
		aql   float64
		n, ac int
		notes Notes
	}{
		{0.010, 1250, 0, Arrow | WholeLot}, {0.015, 800, 0, Arrow}, {0.025, 500, 0, Arrow}, {0.040, 315, 0, Arrow}, {0.065, 200, 0, Arrow}, {0.10, 125, 0, Arrow},
		{0.15, 80, 0, 0}, {0.25, 50, 0, Arrow}, {0.40, 125, 1, Arrow}, {0.65, 80, 1, 0}, {1.0, 80, 2, 0}, {1.5, 80, 3, 0}, {2.5, 80, 5, 0}, {4.0, 80, 7, 0}, {6.5, 80, 10, 0}, {10, 80, 14, 0},
	} {
		p, err := TabledAttributes(1200, c.aql)
		if c.n >= 1200 {
			c.n = 1200
		}
		if err != nil || p.N != c.n || p.Ac != c.ac || p.Notes != c.notes {
			t.Errorf("letter J at %v %%: %+v, %v; want %+v", c.aql, p, err, c)
		}
	}
}
