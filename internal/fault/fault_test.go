package fault

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

func TestFloatLimits(t *testing.T) {
	for _, c := range []struct {
		v  float64
		ok bool
	}{
		{1, true}, {2, true}, {math.Nextafter(1, 0), false}, {math.Nextafter(2, 3), false},
		{math.NaN(), false}, {math.Inf(1), false}, {math.Inf(-1), false},
	} {
		if got := Float(nil, "X", c.v, 1, 2, "g") == nil; got != c.ok {
			t.Errorf("Float(%v) accepted: %v, want %v", c.v, got, c.ok)
		}
	}
	if n := testing.AllocsPerRun(100, func() {
		if Float(nil, "X", 1.5, 1, 2, "g") != nil {
			t.Fatal("refused 1.5")
		}
	}); n != 0 {
		t.Errorf("an accepted value costs %v allocations", n)
	}
}

func TestUnder(t *testing.T) {
	bad := Float(nil, "A", 2, 0, 1, "")
	bad = Float(bad, "B", 3, 0, 1, "")
	bad = Under("List[7].", Float(bad, "C", 4, 0, 1, ""), 1)
	if len(bad) != 3 || bad[0].Field != "A" || bad[1].Field != "List[7].B" || bad[2].Field != "List[7].C" {
		t.Errorf("%v", bad)
	}
}

func TestDecimalLimits(t *testing.T) {
	for _, c := range []struct {
		v  string
		ok bool
	}{
		{"1", true}, {"2", true}, {"2.0000000000000000000001", false}, {"0.9999999999999999999", false},
		{"1e9000", false}, {"1e-9000", false}, {"1." + strings.Repeat("1", 60), false}, {"-1.5", false},
	} {
		if got := Decimal(nil, "X", decimal.RequireFromString(c.v), 1, 2, "g") == nil; got != c.ok {
			t.Errorf("Decimal(%v) accepted: %v, want %v", c.v, got, c.ok)
		}
	}
	huge := Decimal(nil, "X", decimal.RequireFromString("1e9000"), 1, 2, "g")
	if got := huge[0].Given; got != "1e9000" {
		t.Errorf("given is told as %q", got)
	}
	// Inside the range, what is wrong with a long one is its length alone.
	for _, v := range []string{"1.5" + strings.Repeat("0", 39), "1." + strings.Repeat("9", 40), "15e-41"} {
		long := Decimal(nil, "X", decimal.RequireFromString(v), 1e-50, 2, "g")
		if len(long) != 1 || long[0].Why != "at most "+strconv.Itoa(MaxDigits)+" digits, and as many places, are read" {
			t.Errorf("%s: %v", v, long)
		}
	}
	for _, v := range []string{"3", "0", "1e40"} {
		if far := Decimal(nil, "X", decimal.RequireFromString(v), 1, 2, "g"); len(far) != 1 || far[0].Why != "" {
			t.Errorf("%s: %v", v, far)
		}
	}
	for _, v := range []string{"1.5" + strings.Repeat("0", 38), "1e-40"} {
		if ok := Decimal(nil, "X", decimal.RequireFromString(v), 1e-50, 2, "g"); ok != nil {
			t.Errorf("%s: %v", v, ok[0])
		}
	}
	if got := Digits(decimal.RequireFromString("12.50")); got != "12.50" {
		t.Errorf("Digits dropped a place: %q", got)
	}
}

func TestMessages(t *testing.T) {
	bad := Float(nil, "RHPct", 140, 0.1, 100, "%")
	bad = Int(bad, "Bowls", 0, 1, 99, "")
	bad[1].Why = "a table has bowls"
	err := Input(bad)
	want := "RHPct is 140 %; accepted: 0.1 to 100 %; Bowls is 0; accepted: 1 to 99 (a table has bowls)"
	if diff := cmp.Diff(want, err.Error()); diff != "" {
		t.Error(diff)
	}
	var field *FieldError
	if !errors.As(err, &field) || field.Field != "RHPct" {
		t.Errorf("errors.As found %v", field)
	}
	if err := Input(nil); err != nil {
		t.Errorf("Input(nil) is %v", err)
	}
	none := &ImpossibleError{Quantity: "flushes", Why: "the supply itself holds more oxygen",
		Field: "TargetPct", Given: "0.1", Min: 0.5, Max: 20.9, Unit: "%"}
	want = "no flushes: the supply itself holds more oxygen; TargetPct is 0.1 %, possible with 0.5 to 20.9 %"
	if diff := cmp.Diff(want, none.Error()); diff != "" {
		t.Error(diff)
	}
	alone := &ImpossibleError{Quantity: "flushes", Why: "the supply itself holds more oxygen"}
	if got, want := alone.Error(), "no flushes: the supply itself holds more oxygen"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	open := &FieldError{Field: "X", Given: "-1", Min: 0, Max: math.Inf(1), Unit: "g"}
	if got, want := open.Error(), "X is -1 g; accepted: 0 g or more"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
