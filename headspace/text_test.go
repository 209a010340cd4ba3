package headspace

import "testing"

// Every word goes out and comes back; what has no word reads none, and a word
// that nobody wrote is refused and changes nothing.
func TestWordsThereAndBack(t *testing.T) {
	for i, want := range []string{"none", "blown in", "drawn out", "none"} {
		if got := Fan(i).String(); got != want {
			t.Errorf("fan %d reads %q", i, got)
		}
	}
	for i, want := range []string{"none", "sweep", "fill", "vent", "none"} {
		if got := Kind(i).String(); got != want {
			t.Errorf("kind %d reads %q", i, got)
		}
	}
	for i, want := range []string{"none", "excellent", "acceptable", "undecided", "too much oxygen", "none"} {
		if got := Verdict(i).String(); got != want {
			t.Errorf("verdict %d reads %q", i, got)
		}
	}
	for _, f := range []Fan{BlownIn, DrawnOut} {
		var back Fan
		if text, err := f.MarshalText(); err != nil || back.UnmarshalText(text) != nil || back != f {
			t.Errorf("%v came back as %v", f, back)
		}
	}
	for _, k := range []Kind{SweepStep, FillStep, VentStep} {
		var back Kind
		if text, err := k.MarshalText(); err != nil || back.UnmarshalText(text) != nil || back != k {
			t.Errorf("%v came back as %v", k, back)
		}
	}
	for v := Excellent; v <= TooMuch; v++ {
		var back Verdict
		if text, err := v.MarshalText(); err != nil || back.UnmarshalText(text) != nil || back != v {
			t.Errorf("%v came back as %v", v, back)
		}
	}
	for n := Notes(0); n < AirInSample<<1; n++ {
		var back Notes
		if text, err := n.MarshalText(); err != nil || back.UnmarshalText(text) != nil || back != n {
			t.Fatalf("%q came back as %q", n, back)
		}
	}
	f, k, v, n := BlownIn, FillStep, Undecided, BelowZero
	for _, err := range []error{f.UnmarshalText([]byte("blow")), k.UnmarshalText([]byte("Fill")), v.UnmarshalText([]byte("good")), n.UnmarshalText([]byte("fine; fine"))} {
		if err == nil {
			t.Error("a word that nobody wrote is read")
		}
	}
	if f != BlownIn || k != FillStep || v != Undecided || n != BelowZero {
		t.Errorf("%v, %v, %v, %v", f, k, v, n)
	}
}
