package browsertest

import (
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
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
func floor(t testing.TB) []byte { return compile(t, "func main() {}") }

// compile builds a program of one file as the bundles are built.
func compile(t testing.TB, program string) []byte {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module empty\n\ngo 1.26.0\n", "main.go": "package main\n\n" + program + "\n"} {
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
	// What a page loads, as the browser that opened it says: one page of each
	// bundle, in each language.
	b := open(t, home)
	for _, folder := range []string{"", "es/"} {
		for _, bundle := range all.Bundles() {
			worst, own := "", 0 // its largest page
			for _, c := range bundle.Calculators {
				name := folder + c.ID + "/index.html"
				if n := compressed[name]; n > own {
					worst, own = strings.TrimSuffix(name, "index.html"), n
				}
			}
			b.visit(worst)
			total, wasm := own, 0
			var parts []string
			for _, address := range js[[]string](b, `performance.getEntriesByType("resource").map((e) => e.name)`) {
				name := strings.TrimPrefix(address, home.base())
				if strings.HasSuffix(name, ".gz") {
					wasm++
					continue
				}
				n, ok := compressed[name]
				if !ok {
					t.Errorf("%s loads %s, which is not of the site", worst, address)
				}
				total += n
				parts = append(parts, fmt.Sprintf("%s %d", name, n))
			}
			t.Logf("%-32s beside its bundle %d bytes of brotli: itself %d, %s", worst, total, own, strings.Join(parts, ", "))
			if wasm != 1 || len(parts) < 5 {
				t.Errorf("%s loads %d bundles and %d other files", worst, wasm, len(parts))
			}
			if total > 60_000 {
				t.Errorf("beside its bundle %s loads %d bytes of brotli, over 60 kB", worst, total)
			}
		}
	}
}
