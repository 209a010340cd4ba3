package figure

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// back reads a number as this package prints it.
func back(t *testing.T, s string) float64 {
	t.Helper()
	s = strings.NewReplacer("−", "-", "\u202f", "", ",", ".").Replace(s)
	if m, p, ok := strings.Cut(s, "×"); ok || strings.HasPrefix(s, "10") && strings.ContainsAny(s, "⁰¹²³⁴⁵⁶⁷⁸⁹") {
		if !ok {
			m, p = "1", s
		}
		e := strings.NewReplacer("⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9", "⁻", "-").Replace(strings.TrimPrefix(p, "10"))
		s = m + "e" + e
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%q is no number", s)
	}
	return v
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 0, "0"}, {0, 2, "0.00"}, {-0.001, 2, "0.00"}, {-0.5, 1, "−0.5"}, {1234, 0, "1234"}, {12345, 0, "12\u202f345"}, {-1234567.5, 1, "−1\u202f234\u202f567.5"},
	} {
		if got := (&Look{}).fixed(c.v, c.decimals); got != c.want {
			t.Errorf("fixed(%v, %d) is %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
	if got := (&Look{Comma: true}).fixed(12345.5, 1); got != "12\u202f345,5" {
		t.Errorf("with a comma %q", got)
	}
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{
		{0, 4, "0"}, {12.5, 4, "12.5"}, {12.3456, 4, "12.35"}, {99999, 4, "99\u202f999"}, {1e7, 4, "10⁷"}, {-1.5e-9, 4, "−1.5×10⁻⁹"}, {0.0001, 4, "0.0001"}, {9.9999e-5, 4, "0.0001"}, {-2, 1, "−2"}, {258.2, 4, "258.2"},
	} {
		if got := (&Look{}).short(c.v, c.n); got != c.want {
			t.Errorf("short(%v, %d) is %q, want %q", c.v, c.n, got, c.want)
		}
	}
}

// ranges reach from nearly nothing to nearly too much, on both sides of 0.
func eachRange(visit func(lo, hi float64)) {
	for e := -149; e <= 149; e += 3 {
		p := math.Pow10(e)
		for _, m := range []float64{1, 1.7, 2, 3.3, 5, 9.99} {
			visit(0, m*p)
			visit(-m*p, 0)
			visit(-m*p, 0.3*m*p)
			visit(m*p, m*p*1.37)
			visit(m*p, m*p*(1+1e-6))
			visit(-m*p*1.01, -m*p)
			visit(m*p, m*p)
		}
	}
}

// Ticks are in the range, rise by equal round steps, leave no end of the
// range without one for longer than a step, and print exactly what they are.
func TestTicks(t *testing.T) {
	eachRange(func(lo, hi float64) {
		for _, count := range []int{2, 5, 10} {
			for _, snap := range []bool{false, true} {
				var d span
				d.add(lo)
				d.add(hi)
				s := newScale(&Axis{}, d, 0, snap, count)
				s.round(&Look{}, count)
				if !(s.lo < s.hi) || s.lo > lo || s.hi < hi {
					t.Fatalf("%g to %g: scale is %g to %g", lo, hi, s.lo, s.hi)
				}
				n := len(s.ticks)
				if n == 0 || n > count+2 {
					t.Fatalf("%g to %g: %d ticks for %d parts", lo, hi, n, count)
				}
				slack := (s.hi - s.lo) * 1e-6
				step := s.hi - s.lo
				for i, k := range s.ticks {
					if k.At < s.lo-slack || k.At > s.hi+slack {
						t.Fatalf("%g to %g: tick at %g", s.lo, s.hi, k.At)
					}
					if v := back(t, k.Name); math.Abs(v-k.At) > 1e-9*math.Abs(k.At) {
						t.Fatalf("tick at %g is called %s", k.At, k.Name)
					}
					if i > 0 {
						w := k.At - s.ticks[i-1].At
						if !(w > 0) || i > 1 && math.Abs(w-step) > slack {
							t.Fatalf("%g to %g: ticks %v", lo, hi, s.ticks)
						}
						if step = w; k.Name == s.ticks[i-1].Name {
							t.Fatalf("two ticks are called %s", k.Name)
						}
					}
				}
				if n > 1 && (s.ticks[0].At-s.lo > step+slack || s.hi-s.ticks[n-1].At > step+slack) {
					t.Fatalf("%g to %g: ticks %v leave an end free", s.lo, s.hi, s.ticks)
				}
				if n > 1 {
					m := strconv.FormatFloat(step, 'e', 6, 64)[:1]
					if m != "1" && m != "2" && m != "5" && !strings.HasPrefix(strconv.FormatFloat(step, 'e', 3, 64), "9.99") {
						t.Fatalf("step %g is not round", step)
					}
				}
				if snap && lo != hi && (math.Abs(s.ticks[0].At-s.lo) > slack || math.Abs(s.ticks[n-1].At-s.hi) > slack) {
					t.Fatalf("%g to %g: widened to %g to %g but ticks %v", lo, hi, s.lo, s.hi, s.ticks)
				}
			}
		}
	})
}

func TestLogTicks(t *testing.T) {
	for e := -140; e <= 130; e += 9 {
		for _, ratio := range []float64{1, 1.001, 1.5, 3, 7, 12, 150, 1e4, 1e9, 1e15} {
			for _, m := range []float64{1, 1.3, 2, 7} {
				lo := m * math.Pow10(e)
				hi := lo * ratio
				for _, snap := range []bool{false, true} {
					d := span{log: true}
					d.add(lo)
					d.add(hi)
					s := newScale(&Axis{Log: true}, d, 0, snap, 5)
					s.round(&Look{}, 5)
					if !(s.lo < s.hi) || s.lo > lo*(1+1e-9) || s.hi < hi*(1-1e-9) || !(s.lo > 0) {
						t.Fatalf("%g to %g: scale is %g to %g", lo, hi, s.lo, s.hi)
					}
					if len(s.ticks) == 0 || len(s.ticks) > 9 {
						t.Fatalf("%g to %g: ticks %v", lo, hi, s.ticks)
					}
					for i, k := range s.ticks {
						if k.At < s.lo*(1-1e-6) || k.At > s.hi*(1+1e-6) || i > 0 && !(k.At > s.ticks[i-1].At) {
							t.Fatalf("%g to %g: ticks %v", s.lo, s.hi, s.ticks)
						}
						if v := back(t, k.Name); math.Abs(v-k.At) > 1e-9*k.At {
							t.Fatalf("tick at %g is called %s", k.At, k.Name)
						}
					}
				}
			}
		}
	}
}

// A scale puts its ends at its ends and keeps order.
func TestScaleKeepsOrder(t *testing.T) {
	for _, log := range []bool{false, true} {
		eachRange(func(lo, hi float64) {
			if log && lo <= 0 {
				return
			}
			d := span{log: log}
			d.add(lo)
			d.add(hi)
			s := newScale(&Axis{Log: log}, d, 0.03, false, 5)
			s.p0, s.p1 = 20, 340
			last := math.Inf(-1)
			for i := range 21 {
				v := s.lo + (s.hi-s.lo)*float64(i)/20
				if i == 20 {
					v = s.hi
				}
				p := s.at(v)
				if !(p > last) || !s.in(v) {
					t.Fatalf("log %v, %g to %g: %g is drawn at %g after %g", log, s.lo, s.hi, v, p, last)
				}
				last = p
			}
			if a, b := s.at(s.lo), s.at(s.hi); math.Abs(a-20) > 1e-6 || math.Abs(b-340) > 1e-6 {
				t.Fatalf("%g to %g is drawn from %g to %g", s.lo, s.hi, a, b)
			}
		})
	}
}

func TestRangeGiven(t *testing.T) {
	nan := math.NaN()
	d := span{any: true, lo: 3, hi: 8}
	for _, c := range []struct {
		a      Axis
		lo, hi float64
	}{
		{Axis{}, 3, 8},
		{Axis{Min: 0, Max: 5}, 0, 5},
		{Axis{Min: 0, Max: nan}, 0, 8},
		{Axis{Min: nan, Max: 20}, 3, 20},
		{Axis{Min: nan, Max: nan}, 3, 8},
		{Axis{Min: 5, Max: 0}, 3, 8},                      // no range
		{Axis{Min: 4, Max: 4}, 3, 8},                      // no range
		{Axis{Min: 10, Max: nan}, 10, 11},                 // beyond the data
		{Axis{Min: nan, Max: 1}, 0.9, 1},                  // below the data
		{Axis{Min: math.Inf(-1), Max: 10}, 3, 10},         // an infinity is no bound
		{Axis{Log: true, Min: 0, Max: 10}, 3, 10},         // a logarithmic axis has no 0
		{Axis{Log: true, Min: -5, Max: nan}, 3, 8},        //
		{Axis{Log: true, Min: 1, Max: 100}, 1, 100},       //
		{Axis{Log: true, Min: 50, Max: nan}, 25, 100},     // beyond the data
		{Axis{Min: -1e150, Max: 1e150}, -1e150, 1e150},    // the widest
		{Axis{Min: 1, Max: math.Nextafter(1, 2)}, 1, 1.1}, // too narrow to be told apart
	} {
		s := newScale(&c.a, d, 0, false, 5)
		if math.Abs(s.lo-c.lo) > 1e-9*math.Abs(c.lo) || math.Abs(s.hi-c.hi) > 1e-9*math.Abs(c.hi) {
			t.Errorf("%+v over 3 to 8: %g to %g, want %g to %g", c.a, s.lo, s.hi, c.lo, c.hi)
		}
	}
}

func TestWholeNumbersGetNoHalfTicks(t *testing.T) {
	s := Plot{Points: []Points{{X: []float64{1, 2, 3}, Y: []float64{0.5, 1, 2}}}}
	x, y, ok := s.scales(&Look{}, 6, 5)
	if !ok || len(x.ticks) != 3 || x.ticks[1].Name != "2" {
		t.Errorf("X: %v", x.ticks)
	}
	if len(y.ticks) < 3 || !strings.Contains(y.ticks[1].Name, ".") {
		t.Errorf("Y: %v", y.ticks)
	}
}
