package api

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestPromise(t *testing.T) {
	got, err := Lines(filepath.Join("..", ".."), Public)
	if err != nil {
		t.Fatal(err)
	}
	if os.Getenv("EVENLOT_UPDATE") == "1" {
		if err := os.WriteFile("api.txt", []byte(strings.Join(got, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	text, err := os.ReadFile("api.txt")
	if err != nil {
		t.Fatal(err)
	}
	gone, added := compare(strings.Split(strings.TrimSpace(string(text)), "\n"), got)
	for _, l := range gone {
		t.Errorf("promised, and gone or changed: %s", l)
	}
	for _, l := range added {
		t.Errorf("new, to be recorded: %s", l)
	}
}

func compare(want, got []string) (gone, added []string) {
	for _, l := range want {
		if _, ok := slices.BinarySearch(got, l); !ok {
			gone = append(gone, l)
		}
	}
	for _, l := range got {
		if _, ok := slices.BinarySearch(want, l); !ok {
			added = append(added, l)
		}
	}
	return gone, added
}

func TestPromiseHasTeeth(t *testing.T) {
	gone, added := compare([]string{"a", "b", "c"}, []string{"a", "c", "d"})
	if !slices.Equal(gone, []string{"b"}) || !slices.Equal(added, []string{"d"}) {
		t.Errorf("gone %v, added %v", gone, added)
	}
	lines, err := Lines(filepath.Join("..", ".."), []string{"checkpoint"})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"const In Word = 1", "func Judge(Reading, Limit, float64) (Verdict, error)", "type Verdict struct, AcceptLo float64",
		"type Verdict struct, comparable", "method (Word) String() (string)", "method (*Word) UnmarshalText([]byte) (error)", "func Together(...Verdict) (Lot, error)",
		"type InputError = fault.InputError", "method (*InputError) Unwrap() ([]error)", "type FieldError struct, Why string",
	} {
		found := slices.ContainsFunc(lines, func(l string) bool { return strings.HasSuffix(l, ", "+want) })
		if !found {
			t.Errorf("no line %q among %d", want, len(lines))
		}
	}
}
