package site

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
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
		if name != "sw.js" && !strings.HasSuffix(name, ".wasm") && !strings.HasPrefix(name, "handbook/") && !strings.Contains(worker, `"`+name+`"`) {
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

// Every link of the handbook into itself has a place to go to, and no page
// names a thing twice.
func TestHandbook(t *testing.T) {
	root := filepath.Join("..", "..", "..")
	checks, err := published.Checks(root)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	if err := bookPages(root, files, checks, "test"); err != nil {
		t.Fatal(err)
	}
	if len(files) != 13 {
		t.Errorf("%d pages, not one for each of twelve packages and the first", len(files))
	}
	id, href := regexp.MustCompile(` id="([^"]+)"`), regexp.MustCompile(`<a href="([^"]+)"`)
	ids := map[string]map[string]bool{}
	for name, text := range files {
		ids[name] = map[string]bool{}
		for _, m := range id.FindAllSubmatch(text, -1) {
			if ids[name][string(m[1])] {
				t.Errorf("%s: %s stands twice", name, m[1])
			}
			ids[name][string(m[1])] = true
		}
	}
	links := 0
	for name, text := range files {
		_, main, _ := bytes.Cut(text, []byte("<main"))
		main, _, _ = bytes.Cut(main, []byte("</main>"))
		for _, m := range href.FindAllSubmatch(main, -1) {
			to, anchor, _ := strings.Cut(string(m[1]), "#")
			if strings.Contains(to, "://") {
				continue
			}
			page := name
			if to != "" {
				page = path.Join(path.Dir(name), to)
			}
			links++
			if ids[page] == nil || anchor != "" && !ids[page][anchor] {
				t.Errorf("%s links to %s, which is not there", name, m[1])
			}
		}
	}
	if links < 500 {
		t.Errorf("only %d links", links)
	}
}
