package site

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/evenlot/internal/published"
)

// The tables of the README are what the tests and the catalogue say now. With
// EVENLOT_UPDATE=1 they are rewritten.
func TestReadmeIsTrue(t *testing.T) {
	root := filepath.Join("..", "..", "..")
	checks, err := published.Checks(root)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(root, "README.md")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	got := string(text)
	for name, want := range map[string]string{"checks": ReadmeChecks(checks), "calculators": ReadmeCalculators()} {
		from, to := "<!-- "+name+" -->\n", "<!-- end of "+name+" -->\n"
		before, rest, ok := strings.Cut(got, from)
		_, after, ok2 := strings.Cut(rest, to)
		if !ok || !ok2 {
			t.Fatalf("README.md lacks the marks of %s", name)
		}
		got = before + from + want + to + after
	}
	if got == string(text) {
		return
	}
	if os.Getenv("EVENLOT_UPDATE") != "1" {
		t.Fatal("README.md is behind: run the tests with EVENLOT_UPDATE=1")
	}
	if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Two builds of one checkout give the same bytes, every file that the service
// worker keeps is there, and no page holds a script or a style of its own.
func TestBuild(t *testing.T) {
	root := filepath.Join("..", "..", "..")
	a, err := Build(root)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Build(root)
	if err != nil {
		t.Fatal(err)
	}
	if len(a) != len(b) {
		t.Errorf("%d and %d files", len(a), len(b))
	}
	worker := string(a["sw.js"])
	for name, text := range a {
		if !bytes.Equal(text, b[name]) {
			t.Errorf("%s differs between two builds", name)
		}
		if name == "SHA256SUMS" {
			if lines := bytes.Count(text, []byte("\n")); lines != len(a)-1 {
				t.Errorf("%d checksums for %d files", lines, len(a)-1)
			}
			continue
		}
		if sum := fmt.Sprintf("%x  %s\n", sha256.Sum256(text), name); !strings.Contains(string(a["SHA256SUMS"]), sum) {
			t.Errorf("%s has no checksum", name)
		}
		if name != "sw.js" && !strings.HasSuffix(name, ".wasm") && !strings.Contains(worker, `"`+name+`"`) {
			t.Errorf("the service worker does not keep %s", name)
		}
		if strings.HasSuffix(name, ".html") {
			for _, bad := range []string{"<script>", "<style", " style=", " onclick=", "javascript:"} {
				if bytes.Contains(text, []byte(bad)) {
					t.Errorf("%s holds %s", name, bad)
				}
			}
		}
	}
	if strings.Contains(worker, "{{") {
		t.Error("the service worker was not filled in")
	}
}
