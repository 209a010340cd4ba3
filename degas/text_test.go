package degas

import "testing"

// Every use has its word, which comes back; beyond them it reads none.
func TestUsesThereAndBack(t *testing.T) {
	for i, want := range []string{"cupping", "packing without a valve", "vacuum packing", "filter", "espresso", "flushed bag", "peak of aroma", "peak of taste", "none", "none"} {
		u := Use(i)
		if u.String() != want {
			t.Errorf("use %d reads %q, want %q", i, u, want)
		}
		var back Use
		if text, err := u.MarshalText(); err != nil || want != "none" && (back.UnmarshalText(text) != nil || back != u) {
			t.Errorf("%v came back as %v", u, back)
		}
	}
	u := Espresso
	if err := u.UnmarshalText([]byte("Filter")); err == nil || u != Espresso {
		t.Errorf("%v, %v", u, err)
	}
}
