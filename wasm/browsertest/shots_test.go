package browsertest

import (
	"os"
	"path/filepath"
	"testing"
)

// keep writes a picture or a PDF to shots/ when EVENLOT_SHOTS is 1, to be
// looked at.
func keep(t testing.TB, name string, b []byte) {
	t.Helper()
	if os.Getenv("EVENLOT_SHOTS") != "1" {
		return
	}
	if err := os.MkdirAll("shots", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join("shots", name), b, 0o644); err != nil {
		t.Fatal(err)
	}
}
