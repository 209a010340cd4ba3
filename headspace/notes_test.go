package headspace

import (
	"strings"
	"testing"
)

// Every note has a clause of its own, and none is said unasked.
func TestNotesSpeak(t *testing.T) {
	if s := Notes(0).String(); s != "" {
		t.Errorf("no note says %q", s)
	}
	seen := map[string]bool{}
	all := Notes(0)
	for n := Extrapolated; n <= AirInSample; n <<= 1 {
		s := n.String()
		if s == "" || seen[s] || strings.Contains(s, ";") {
			t.Errorf("note %b says %q", n, s)
		}
		seen[s] = true
		all |= n
	}
	if got := strings.Count(all.String(), "; "); got != len(seen)-1 {
		t.Errorf("%d notes together have %d joints", len(seen), got)
	}
	if s := (AirInSample << 1).String(); s != "" {
		t.Errorf("a note that does not exist says %q", s)
	}
}
