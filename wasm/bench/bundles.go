package main

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"example.org/evenlot/wasm/build/site"
)

// bundles compares each bundle with an empty program compiled alike.
func bundles(root string) error {
	files, err := site.Build(root)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	for name, text := range map[string]string{"go.mod": "module empty\n\ngo 1.26.0\n", "main.go": "package main\n\nfunc main() {}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			return err
		}
	}
	cmd := exec.Command("go", append(append([]string{"build"}, site.Flags...), "-o", "empty.wasm", ".")...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=-mod=mod", "GOWORK=off")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	empty, err := os.ReadFile(filepath.Join(dir, "empty.wasm"))
	if err != nil {
		return err
	}
	how, squeeze := "brotli -q 11 -w 24", brotli
	if _, err := exec.LookPath("brotli"); err != nil {
		how, squeeze = "gzip -9, for brotli is not installed", func(b []byte) (int, error) { return len(site.Gzip(b)), nil }
	}
	fmt.Printf("\n## Bundles\n\nCompressed by %s. The floor is an empty Go program with the same flags.\n", how)
	floor, err := squeeze(empty)
	if err != nil {
		return err
	}
	rows := [][]string{{"empty program", fmt.Sprint(len(empty)), fmt.Sprint(floor), "1"}}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if !strings.HasSuffix(name, ".wasm") {
			continue
		}
		n, err := squeeze(files[name])
		if err != nil {
			return err
		}
		rows = append(rows, []string{name, fmt.Sprint(len(files[name])), fmt.Sprint(n), fmt.Sprintf("%.2f", float64(n)/float64(floor))})
	}
	table(" bundle | bytes | compressed | ratio ", rows)
	// What a page loads beside its bundle.
	page, raw := 0, 0
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if strings.HasSuffix(name, ".css") || name == "room-moisture/index.html" || strings.HasSuffix(name, ".js") && name != "sw.js" {
			n, err := squeeze(files[name])
			if err != nil {
				return err
			}
			page += n
			raw += len(files[name])
		}
	}
	fmt.Printf("\nA calculator's page without its bundle (HTML, CSS, every script, wasm_exec.js included): %d bytes, %d compressed.\n", raw, page)
	return nil
}

func brotli(b []byte) (int, error) {
	cmd := exec.Command("brotli", "-q", "11", "-w", "24", "-c")
	cmd.Stdin = bytes.NewReader(b)
	out, err := cmd.Output()
	return len(out), err
}
