package main

import (
	_ "embed"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

//go:embed peer.mjs
var peerScript []byte

const peerVersion = "1.1.1"

// peer times an open library of moist air in Node, from the npm registry.
func peer(list []bench) (map[string]float64, string, error) {
	if _, err := exec.LookPath("npm"); err != nil {
		return nil, "none here: npm is not installed", nil
	}
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return nil, "", err
	}
	defer os.RemoveAll(dir)
	if err := os.WriteFile(filepath.Join(dir, "peer.mjs"), peerScript, 0o644); err != nil {
		return nil, "", err
	}
	install := exec.Command("npm", "install", "--silent", "--no-audit", "--no-fund", "psychrolib@"+peerVersion)
	install.Dir = dir
	if out, err := install.CombinedOutput(); err != nil {
		return nil, "none here: npm install failed: " + strings.TrimSpace(string(out)), nil
	}
	run := exec.Command("node", "peer.mjs")
	run.Dir = dir
	run.Stderr = os.Stderr
	out, err := run.Output()
	if err != nil {
		return nil, "", err
	}
	found := map[string]float64{}
	for line := range strings.Lines(string(out)) {
		name, text, _ := strings.Cut(strings.TrimSpace(line), " ")
		if found[name], err = strconv.ParseFloat(text, 64); err != nil {
			return nil, "", err
		}
	}
	for _, b := range list {
		if b.peer != "" && found[b.peer] == 0 {
			return nil, "", fmt.Errorf("the peer did not time %s", b.peer)
		}
	}
	return found, "psychrolib " + peerVersion + " (npm, MIT) in Node", nil
}
