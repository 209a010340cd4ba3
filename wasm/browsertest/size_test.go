package browsertest

import (
	"crypto/sha256"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"example.org/evenlot/wasm/build/site"
	"example.org/evenlot/wasm/catalogue/all"
	"github.com/andybalholm/brotli"
)

// small is how many bytes a static server with brotli sends for b. It takes
// seconds for a bundle, so the answer is kept in the user's cache, under the
// hash of what was compressed.
func small(t testing.TB, b []byte) int {
	t.Helper()
	known := ""
	if dir, err := os.UserCacheDir(); err == nil {
		known = filepath.Join(dir, "evenlot", fmt.Sprintf("brotli-11-24-%x", sha256.Sum256(b)))
		if text, err := os.ReadFile(known); err == nil {
			if n, err := strconv.Atoi(string(text)); err == nil && n > 0 {
				return n
			}
		}
	}
	var n counter
	w := brotli.NewWriterOptions(&n, brotli.WriterOptions{Quality: 11, LGWin: 24})
	if _, err := w.Write(b); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if known != "" {
		// A cache that cannot be written only costs time.
		if os.MkdirAll(filepath.Dir(known), 0o755) == nil {
			_ = os.WriteFile(known, []byte(strconv.Itoa(int(n))), 0o644)
		}
	}
	return int(n)
}

type counter int

func (c *counter) Write(b []byte) (int, error) {
	*c += counter(len(b))
	return len(b), nil
}

// floor is an empty Go program, compiled as the bundles are.
func floor(t testing.TB) []byte {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module empty\n\ngo 1.26.0\n", "main.go": "package main\n\nfunc main() {}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("go", append(append([]string{"build"}, site.Flags...), "-o", "empty.wasm", ".")...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=", "GOWORK=off")
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	b, err := os.ReadFile(filepath.Join(dir, "empty.wasm"))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What is downloaded stays small: no bundle is over twice an empty Go
// program, and what a page loads beside its bundle is under 60 kB.
func TestSize(t *testing.T) {
	t.Parallel()
	compressed := map[string]int{}
	var mu sync.Mutex
	var wait sync.WaitGroup
	slots := make(chan bool, 2)
	measure := func(name string, b []byte) {
		wait.Go(func() {
			slots <- true
			n := small(t, b)
			mu.Lock()
			compressed[name] = n
			mu.Unlock()
			<-slots
		})
	}
	empty := floor(t)
	measure("floor", empty)
	for _, b := range all.Bundles() {
		name := b.Name + ".wasm"
		if files[name] == nil {
			t.Fatalf("the site holds no %s", name)
		}
		measure(name, files[name])
	}
	for name, b := range files {
		if ext := filepath.Ext(name); ext != ".wasm" && ext != ".gz" {
			measure(name, b)
		}
	}
	wait.Wait()

	least := compressed["floor"]
	t.Logf("%-24s %9d bytes, brotli %8d", "an empty Go program", len(empty), least)
	for _, b := range all.Bundles() {
		name := b.Name + ".wasm"
		n := compressed[name]
		t.Logf("%-24s %9d bytes, brotli %8d, %.2f of the floor", name, len(files[name]), n, float64(n)/float64(least))
		if n > 2*least {
			t.Errorf("%s takes %d bytes, over twice the floor of %d", name, n, least)
		}
	}
	shared, words := 0, 0
	for _, name := range slices.Sorted(maps.Keys(compressed)) {
		if loaded(name) {
			t.Logf("%-24s %9d bytes, brotli %8d", name, len(files[name]), compressed[name])
			if name == "es.json" { // the Spanish pages alone load it
				words = compressed[name]
				continue
			}
			shared += compressed[name]
		}
	}
	worst, page := 0, ""
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if strings.HasSuffix(name, "index.html") && compressed[name] > worst && !strings.Contains(name, "checked/") {
			worst, page = compressed[name], name
		}
	}
	t.Logf("beside its bundle a page loads %d bytes of brotli in shared files and at most %d of its own (%s)", shared, worst, page)
	t.Logf("a Spanish page loads its table of words too: %d bytes of brotli, which the 60 kB do not hold", words)
	if shared+worst > 60_000 {
		t.Errorf("beside the bundle a page loads %d bytes of brotli, over 60 kB", shared+worst)
	}
}

// loaded says whether a page of the site may load a file beside itself and
// its bundle: scripts, the style, words, the icon.
func loaded(name string) bool {
	switch filepath.Ext(name) {
	case ".js":
		return name != "sw.js"
	case ".css", ".svg", ".webmanifest", ".json":
		return true
	}
	return false
}
