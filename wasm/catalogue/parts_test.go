package catalogue

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/shopspring/decimal"
)

// What was typed, and how it is read, in a field that takes 0 to 100 %.
func TestReadNumber(t *testing.T) {
	upTo := func(max float64) func(decimal.Decimal) bool {
		return func(d decimal.Decimal) bool { v := d.InexactFloat64(); return v >= -max && v <= max }
	}
	for _, c := range []struct {
		typed string
		max   float64
		want  string
		how   reading
	}{
		{"57.5", 100, "57.5", readable}, {"57,5", 100, "57.5", readable}, {" 57.5 ", 100, "57.5", readable},
		{"57.5 %", 100, "57.5", readable}, {"57.5%", 100, "57.5", readable}, {"57.50", 100, "57.50", readable},
		{".5", 100, "0.5", readable}, {"5.", 100, "5", readable}, {"+5", 100, "5", readable},
		{"−5", 100, "-5", readable}, {"-5", 100, "-5", readable}, {"- 5", 100, "-5", readable},
		{"1 250", 2000, "1250", readable}, {"1\u00a0250", 2000, "1250", readable}, {"1\u202f250,5", 2000, "1250.5", readable},
		{"1,250.5", 2000, "1250.5", readable}, {"1.250,5", 2000, "1250.5", readable}, {"1'250", 2000, "1250", readable},
		{"1,250", 2000, "1.250", twoWays}, {"1.250", 2000, "1.250", twoWays}, {"1.250", 100, "1.250", readable},
		{"12,500", 20, "12.500", readable}, {"0,250", 2000, "0.250", readable}, {"1.250.000", 2e6, "1250000", readable},
		{"5o", 100, "", unreadable}, {"1e3", 1e4, "", unreadable}, {"12.5.3", 100, "", unreadable}, {"--5", 100, "", unreadable},
		{"1 2", 100, "", unreadable}, {"1 25", 1e4, "", unreadable}, {"12 3456", 1e9, "", unreadable}, {"1,25.5", 1e4, "", unreadable},
		{"", 100, "", empty}, {"  ", 100, "", empty}, {"%", 100, "", unreadable}, {"٣", 100, "", unreadable}, {".", 100, "", unreadable},
		{strings.Repeat("1", 40), 1e50, "", unreadable},
	} {
		d, how := readNumber(c.typed, "%", upTo(c.max))
		if how != c.how {
			t.Errorf("%q up to %v: reading %d, want %d", c.typed, c.max, how, c.how)
			continue
		}
		if how == readable || how == twoWays {
			if got := strings.Replace(digitsOf(d), "−", "-", 1); got != c.want {
				t.Errorf("%q up to %v is %s, want %s", c.typed, c.max, got, c.want)
			}
		}
	}
}

func TestReadRows(t *testing.T) {
	two := []Column{{ID: "t", Label: "Time", Unit: "h", Min: 0, Max: 1e4}, {ID: "m", Label: "Mass", Unit: "g", Min: 0, Max: 1e4}}
	for name, c := range map[string]struct {
		typed  string
		rows   int
		faults string
	}{
		"tabs":           {"0\t100.0\n24\t99,5\n", 2, ""},
		"heading":        {"hours;grams\n0;100,0\n24;99,5", 2, ""},
		"commas":         {"0,100.0\n24,99.5", 2, ""},
		"spaces":         {"0 100.0\n24 99.5\n\n# a remark\n48 99.2", 3, ""},
		"a bad row":      {"0 100\nx 99\n24 -5\n48 99", 2, "line 2: Time reads x; it takes digits and one point or comma; line 3: Mass is -5 g; it takes 0 to 10000 g"},
		"a cell missing": {"0;100\n24;\n", 1, "line 2: Mass is missing"},
		"too many":       {"0;100;7", 0, "line 1: has 3 values; wanted are Time, Mass"},
		"carriage":       {"0;100\r\n24;99\r\n", 2, ""},
	} {
		r := NewRows(two, Locale{})
		r.Feed(c.typed)
		cols, faults := r.cols, r.faults
		var all []string
		for _, f := range faults {
			all = append(all, "line "+Shortest(float64(f.line))+": "+f.text)
		}
		if got := strings.Join(all, "; "); len(cols[0]) != c.rows || got != c.faults {
			t.Errorf("%s: %d rows and %q, want %d and %q", name, len(cols[0]), got, c.rows, c.faults)
		}
	}
	r := NewRows([]Column{{ID: "o", Label: "Oxygen", Unit: "%", Min: 0, Max: 25}}, Locale{})
	r.Feed("oxygen\n0.8 1.1 0,9\n")
	r.Feed("1.3\n9999\n")
	if one := r.cols[0]; len(one) != 4 || one[2] != 0.9 || r.bad != 1 || r.faults[0].line != 4 {
		t.Errorf("one column: %v %v", one, r.faults)
	}
}

func TestConvert(t *testing.T) {
	for _, c := range []struct{ typed, from, to, want string }{
		{"68", "°F", "°C", "20"}, {"18.5", "°C", "°F", "65.3"}, {"0", "°C", "°F", "32"}, {"1.00", "lb", "g", "454"}, {"12", "oz", "g", "340"},
		{"453.59237", "g", "lb", "1.0000000"}, {"10,5", "g", "kg", "0.0105"}, {"2", "d", "h", "48"}, {"1000", "mL", "L", "1.0000"},
	} {
		if got, ok := Convert(c.typed, c.from, c.from, c.to); !ok || got != c.want {
			t.Errorf("%s %s is %q %s, want %s", c.typed, c.from, got, c.to, c.want)
		}
	}
	if got, ok := Convert("abc", "g", "g", "kg"); ok {
		t.Errorf("abc g became %s kg", got)
	}
	for _, d := range dimensions { // there and back for every pair
		for _, a := range d {
			for _, b := range d {
				v := decimal.RequireFromString("12.345")
				w, ok := convert(v, a.symbol, b.symbol)
				back, ok2 := convert(w, b.symbol, a.symbol)
				if !ok || !ok2 || back.Sub(v).Abs().GreaterThan(decimal.New(1, -15)) {
					t.Errorf("12.345 %s → %s %s → %s", a.symbol, w, b.symbol, back)
				}
			}
		}
	}
}

func TestEarnedDigits(t *testing.T) {
	for _, c := range []struct {
		v, u       float64
		text, plus string
	}{
		{10.9234, 0.4321, "10.9", "0.4"}, {10.9234, 0.1321, "10.92", "0.13"}, {1234.5, 57, "1230", "60"}, {1234.5, 196, "1200", "200"},
		{19.0123, 0.096, "19.0", "0.1"}, {-0.001, 0.4, "0.0", "0.4"}, {-3.26, 0.3, "−3.3", "0.3"}, {0.0012345, 0.00002, "0.00123", "0.00002"},
		{99.96, 0.31, "100.0", "0.3"}, {5, 0.0996, "5.00", "0.10"},
	} {
		if v, u := earned(c.v, c.u); v != c.text || u != c.plus {
			t.Errorf("%v ± %v is shown as %s ± %s, want %s ± %s", c.v, c.u, v, u, c.text, c.plus)
		}
	}
}

func TestFormula(t *testing.T) {
	l := new(scribe).line("E = B*T/(D - m_w)", []string{"B", "36.0 g", "T", "9.50 %", "D", "18.0 g", "m_w", "−0.5 g", "E", "18.5 %"})
	if want := "E = B·T/(D − m_w) = 36.0 g × 9.50 %/(18.0 g − (−0.5 g)) = 18.5 %"; l.Text != want {
		t.Errorf("%s\nwant %s", l.Text, want)
	}
	if want := "<mfrac><mrow><mi>B</mi><mo>·</mo><mi>T</mi></mrow><mrow><mi>D</mi><mo>−</mo><msub><mi>m</mi><mi>w</mi></msub></mrow></mfrac>"; !strings.Contains(l.MathML, want) {
		t.Errorf("%s\nlacks %s", l.MathML, want)
	}
	for _, bad := range []string{"E", "E = (B", "E = B +", "E = B ! C"} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%q parses", bad)
				}
			}()
			new(scribe).line(bad, nil)
		}()
	}
}

// What we write of a string the standard library reads as it: each byte at
// each place among others, and what is no UTF-8 as the same sign as from its own
// writer.
func TestJSONStrings(t *testing.T) {
	check := func(s string) {
		own, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var got, want string
		if err := errors.Join(json.Unmarshal(own, &want), json.Unmarshal(appendString(nil, s), &got)); err != nil || got != want {
			t.Errorf("%q is read as %q, want %q (%v)", s, got, want, err)
		}
	}
	for at := range 20 {
		for c := range 256 {
			b := []byte("0123456789abcdefghij")
			b[at] = byte(c)
			check(string(b))
			b[(at*7+3)%20] = '"'
			check(string(b))
		}
	}
	for _, s := range []string{"", "a·b × c − d ≤ 5 µm²", "\u2028\u2029\ufffd", "\xe2\x80", "\xed\xa0\x80", "</script>&amp;", "é\"é\\é\x00é\x7f𝄞"} {
		for pad := range 9 {
			check(strings.Repeat("x", pad) + s + "yz")
		}
	}
}

// The propagation against the textbook: u of a product and of a sum.
func TestPropagation(t *testing.T) {
	c := &Calculator{ID: "x", Fields: []Field{
		{ID: "a", Label: "A", Min: 0, Max: 100, PlusMinus: 0.3}, {ID: "b", Label: "B", Min: 0, Max: 100, PlusMinus: 0.1}},
		Outputs: []Output{{ID: "p", Label: "P"}, {ID: "s", Label: "S"}},
		Compute: func(in *In, out *Out) error {
			out.Set("p", in.F("a")*in.F("b"))
			out.SetU("s", in.F("a")+in.F("b"), 0.2, "the model")
			return nil
		}}
	sheet := c.Eval(State{"a": "10.000000", "b": "20.000000"}, nil)
	ua, ub := 0.3/math.Sqrt(3), 0.1/math.Sqrt(3)
	for i, want := range []float64{math.Hypot(20*ua, 10*ub), math.Sqrt(ua*ua + ub*ub + 0.04)} {
		if got := sheet.Values[i].U; !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("u of output %d is %v, want %v", i, got, want)
		}
	}
	if top := sheet.Values[0].Shares[0]; top.Label != "A" || !(math.Abs(top.Pct-97.2973) < 1e-3) {
		t.Errorf("the product is dominated by %+v", top)
	}
	if top := sheet.Values[1].Shares[0]; top.Label != "the model" {
		t.Errorf("the sum is dominated by %+v", top)
	}
}

func TestReadMoment(t *testing.T) {
	zone := time.FixedZone("test", 3600)
	got, err := readMoment("2026-11-25T14:30", zone)
	if err != nil || !got.Equal(time.Date(2026, 11, 25, 13, 30, 0, 0, time.UTC)) {
		t.Errorf("%v %v", got, err)
	}
	if text := Stamp(got); text != "2026-11-25 14:30" {
		t.Errorf("stamped %s", text)
	}
	for _, bad := range []string{"", "yesterday", "2026-13-01T00:00", "0001-01-01T00:00", "9999-01-01", "2026-02-30T10:00", "2026-11-25T24:00", "2026-11-25", "-026-11-25T14:30"} {
		if got, err := readMoment(bad, zone); err == nil {
			t.Errorf("%q reads as %v", bad, got)
		}
	}
}

func FuzzReadNumber(f *testing.F) {
	for _, s := range []string{"1 250,5", "1.250", "5o", "−3", "1e400", "\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, how := readNumber(s, "g", func(d decimal.Decimal) bool { return d.InexactFloat64() < 1000 })
		if how == readable && (d.NumDigits() > longest+1 || d.Exponent() > 0 || d.Exponent() < -longest) {
			t.Errorf("%q read as %v", s, d)
		}
	})
}

// A line like 14,8 where a second column may be left away: one number to a
// reader who writes commas, a question to another, two where the other rows say
// so.
func TestOneNumberOrTwo(t *testing.T) {
	columns := []Column{{ID: "x", Min: 0, Max: 100}, {ID: "t", Min: 0, Max: 100, Optional: true}}
	for _, c := range []struct {
		text  string
		comma bool
		x, t  []float64
		bad   int
	}{
		{"14,8\n15,1\n", true, []float64{14.8, 15.1}, []float64{nan, nan}, 0},
		{"14,8\n15,1\n", false, nil, nil, 2},
		{"14,8 15,0\n", false, []float64{14.8}, []float64{15}, 0},
		{"14;8\n", false, []float64{14}, []float64{8}, 0},
		{"14.8,15.0\n15,16\n", false, []float64{14.8, 15}, []float64{15, 16}, 0},
		{"x,t\n14.5,15\n", true, []float64{14.5}, []float64{15}, 0},
		{"14.8\n15\n", false, []float64{14.8, 15}, []float64{nan, nan}, 0},
	} {
		r := NewRows(columns, Locale{Comma: c.comma})
		r.Feed(c.text)
		if diff := cmp.Diff([][]float64{c.x, c.t}, r.cols, cmpopts.EquateNaNs(), cmpopts.EquateEmpty()); diff != "" || r.Bad() != c.bad {
			t.Errorf("%q: %d bad, %s", c.text, r.Bad(), diff)
		}
	}
}

func FuzzReadRows(f *testing.F) {
	f.Add("1;2\n3,4\n")
	f.Add("a\tb\n1\t2\n")
	f.Fuzz(func(t *testing.T, s string) {
		r := NewRows([]Column{{ID: "a", Min: 0, Max: 10}, {ID: "b", Min: 0, Max: 10, Optional: true}}, Locale{})
		r.Feed(s)
		cols := r.cols
		if len(cols[0]) != len(cols[1]) {
			t.Fatalf("%d and %d cells", len(cols[0]), len(cols[1]))
		}
		for _, v := range cols[0] {
			if !(v >= 0 && v <= 10) {
				t.Fatalf("%v was let in", v)
			}
		}
	})
}

// The fast way reads what the careful way reads, and nothing else.
func FuzzPlain(f *testing.F) {
	for _, s := range []string{"57.5", "57,5", "-3", "1.250", "0.1234", "5.", ".5", "-", "1-2", "007"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, ok := plain(s)
		if !ok {
			return
		}
		d, how := readNumber(s, "", func(decimal.Decimal) bool { return true })
		if how != readable || d.InexactFloat64() != v {
			t.Errorf("%q is %v the fast way and %v (%d) the careful way", s, v, d, how)
		}
	})
}

func BenchmarkFeed(b *testing.B) {
	text := strings.Repeat("12.5;18.25;57,3\n", 1000)
	columns := []Column{{Max: 100}, {Max: 100}, {Max: 100}}
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		r := NewRows(columns, Locale{})
		r.Feed(text)
		if r.Good() != 1000 {
			b.Fatal(r.faults)
		}
	}
}
