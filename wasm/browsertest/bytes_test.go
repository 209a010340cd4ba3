package browsertest

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/evenlot/wasm/build/site"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
)

// small is how many bytes a static server with brotli sends for each file, by
// the brotli that Node holds.
func small(t testing.TB, files map[string][]byte) map[string]int {
	t.Helper()
	dir := t.TempDir()
	for name, b := range files {
		place := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(place), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(place, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	script, err := filepath.Abs("brotli.mjs")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", script)
	cmd.Dir, cmd.Stderr = dir, os.Stderr
	cmd.Env = append(os.Environ(), "UV_THREADPOOL_SIZE=2") // files at once
	cmd.Stdin = strings.NewReader(strings.Join(slices.Sorted(maps.Keys(files)), "\n"))
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var sizes map[string]int
	if err := json.Unmarshal(out, &sizes); err != nil {
		t.Fatal(err)
	}
	if len(sizes) != len(files) {
		t.Fatalf("%d of %d files are measured", len(sizes), len(files))
	}
	return sizes
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
	empty := floor(t)
	// The longest page of each bundle in each language stands for its others.
	var worst []string
	for _, language := range []string{"", "es/"} {
		for _, bundle := range all.Bundles() {
			page := func(c *catalogue.Calculator) string { return language + c.ID + "/" }
			size := func(c *catalogue.Calculator) int { return len(files[page(c)+"index.html"]) }
			worst = append(worst, page(slices.MaxFunc(bundle.Calculators, func(a, b *catalogue.Calculator) int { return size(a) - size(b) })))
		}
	}
	// Brotli takes its time: it weighs the bundles that gzip leaves largest, and
	// what it made of them judges the others.
	zipped := func(b all.Bundle) int { return len(files[b.Name+".wasm.gz"]) }
	bundles := slices.SortedFunc(slices.Values(all.Bundles()), func(a, b all.Bundle) int { return zipped(b) - zipped(a) })
	fullest, others := bundles[:8], bundles[8:]
	sent := map[string][]byte{"floor": empty}
	for _, b := range fullest {
		sent[b.Name+".wasm"] = files[b.Name+".wasm"]
	}
	for name, b := range files {
		switch filepath.Ext(name) {
		case ".html", ".gz", ".wasm":
		default:
			sent[name] = b
		}
	}
	for _, page := range worst {
		sent[page+"index.html"] = files[page+"index.html"]
	}
	compressed := small(t, sent)

	least := compressed["floor"]
	t.Logf("%-24s %9d bytes, brotli %8d", "an empty Go program", len(empty), least)
	gain := 0.0
	for _, b := range fullest {
		name := b.Name + ".wasm"
		gain = max(gain, float64(compressed[name])/float64(zipped(b)))
		n, ok := compressed[name]
		if !ok {
			t.Fatalf("the site holds no %s", name)
		}
		t.Logf("%-24s %9d bytes, brotli %8d, %.2f of the floor", name, len(files[name]), n, float64(n)/float64(least))
		if n > 2*least {
			t.Errorf("%s takes %d bytes, over twice the floor of %d", name, n, least)
		}
	}
	for _, b := range others {
		if n := 1.01 * gain * float64(zipped(b)); n > 2*float64(least) {
			t.Errorf("%s.wasm may take %.0f bytes, over twice the floor of %d: weigh it too", b.Name, n, least)
		}
	}
	// What a page loads, as the browser that opened it says.
	b := open(t, home)
	for _, page := range worst {
		b.visit(page)
		own := compressed[page+"index.html"]
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
				t.Errorf("%s loads %s, which is not of the site", page, address)
			}
			total += n
			parts = append(parts, fmt.Sprintf("%s %d", name, n))
		}
		t.Logf("%-32s beside its bundle %d bytes of brotli: itself %d, %s", page, total, own, strings.Join(parts, ", "))
		if wasm != 1 || len(parts) < 5 {
			t.Errorf("%s loads %d bundles and %d other files", page, wasm, len(parts))
		}
		if total > 60_000 {
			t.Errorf("beside its bundle %s loads %d bytes of brotli, over 60 kB", page, total)
		}
	}
}
