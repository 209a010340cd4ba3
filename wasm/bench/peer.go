package main

import (
	_ "embed"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
)

//go:embed peer.mjs
var peerScript []byte

const peerVersion = "1.1.1"

//go:embed peer.py
var pythonScript []byte

// python times SciPy, NumPy and uncertainties, where a Python has them.
var python = sync.OnceValues(func() (map[string]float64, string) {
	for _, bin := range []string{"python3", "/usr/bin/python3"} {
		version, err := exec.Command(bin, "-c", "import scipy, numpy, uncertainties as u; print('SciPy '+scipy.__version__+', NumPy '+numpy.__version__+', uncertainties '+u.__version__)").Output()
		if err != nil {
			continue
		}
		out, err := exec.Command(bin, "-c", string(pythonScript)).Output()
		if err != nil {
			continue
		}
		if found, err := times(out); err == nil {
			return found, strings.TrimSpace(string(version)) + " in Python"
		}
	}
	return nil, "no Python here that has scipy and uncertainties (Debian: python3-scipy, python3-uncertainties)"
})

// times reads lines of a name and nanoseconds.
func times(out []byte) (map[string]float64, error) {
	found := map[string]float64{}
	for line := range strings.Lines(string(out)) {
		name, text, _ := strings.Cut(strings.TrimSpace(line), " ")
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return nil, err
		}
		found[name] = v
	}
	return found, nil
}

// peer times an open library of moist air in Node, from the npm registry, and
// those in Python.
func peer() (map[string]float64, string, error) {
	found, version := python()
	air, its, err := node()
	if err != nil {
		return nil, "", err
	}
	all := map[string]float64{}
	maps.Copy(all, found)
	maps.Copy(all, air)
	return all, its + "; " + version, nil
}

func node() (map[string]float64, string, error) {
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
	found, err := times(out)
	return found, "psychrolib " + peerVersion + " (npm, MIT) in Node", err
}
