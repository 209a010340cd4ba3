package main

import (
	_ "embed"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"example.org/evenlot/wasm/build/site"
)

//go:embed bridge.cjs
var bridgeScript []byte

// bridge loads the bundle of the green store in Node and times its answers.
func bridge(root string) error {
	fmt.Printf("\n## Through the bridge, in Node\n")
	if _, err := exec.LookPath("node"); err != nil {
		fmt.Println("\nNot measured: node is not installed.")
		return nil
	}
	files, err := site.Build(root)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	for name, text := range map[string][]byte{"wasm_exec.js": files["wasm_exec.js"], "store.wasm": files["store.wasm"], "bridge.cjs": bridgeScript} {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			return err
		}
	}
	cmd := exec.Command("node", "bridge.cjs")
	cmd.Dir = dir
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	var rows [][]string
	for line := range strings.Lines(string(out)) {
		rows = append(rows, strings.Split(strings.TrimSpace(line), "\t"))
	}
	table(" what | through the bridge | hand-written JavaScript | ratio ", rows)
	return nil
}
