// Command mutate asks how much the tests of a package notice. It changes the
// package in small ways, one at a time (a + for a −, a < for a <=, a constant
// a step up or down, a condition left away), runs the package's own tests
// against each change and counts those that fail. What survives is printed:
// it is a hole in the tests, or a change that makes no difference.
//
//	go run ./internal/mutate -n 150 ./moisture ./degas
//
// All changes are compiled into one test binary, and an environment variable
// switches one of them on: a mutant costs one run of the tests and no
// compilation. The sources are not touched; the changed ones reach the
// compiler as an overlay.
package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

func main() {
	log.SetFlags(0)
	most := flag.Int("n", 150, "mutants to try in each package, drawn evenly at random; 0 is all")
	seed := flag.Uint64("seed", 1, "of the draw")
	file := flag.String("file", "", "only the mutants of this file, like life.go")
	limit := flag.Duration("for", 5*time.Minute, "time for each package; what is not reached is not counted")
	flag.Parse()
	if flag.NArg() == 0 {
		log.Fatal("mutate: name the packages, like ./moisture")
	}
	fmt.Println("package | sites | tried | killed | share")
	for _, pkg := range flag.Args() {
		r, err := try(pkg, *file, *most, *seed, *limit)
		if err != nil {
			log.Fatalf("mutate: %s: %v", pkg, err)
		}
		r.print(os.Stdout)
	}
}

// A report is what became of one package.
type report struct {
	pkg      string
	sites    int
	tried    int
	survived []mutant
}

func (r report) print(w io.Writer) {
	fmt.Fprintf(w, "%s | %d | %d | %d | %.1f %%\n", r.pkg, r.sites, r.tried, r.tried-len(r.survived), 100*float64(r.tried-len(r.survived))/float64(max(r.tried, 1)))
	for _, m := range r.survived {
		fmt.Fprintf(w, "  survived %d: %s: %s\n", m.id, m.where, m.what)
	}
}

func try(pkg, file string, most int, seed uint64, limit time.Duration) (report, error) {
	src, err := load(pkg)
	if err != nil {
		return report{}, err
	}
	files, mutants := src.mutate()
	if file != "" {
		mutants = slices.DeleteFunc(mutants, func(m mutant) bool { return !strings.HasPrefix(m.where, file+":") })
	}
	r := report{pkg: pkg, sites: len(mutants)}
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	bin, err := compile(src, files, dir)
	if err != nil {
		return r, err
	}
	start := time.Now()
	if out, err := run(bin, src.dir, -1, 10*time.Minute); err != nil {
		return r, fmt.Errorf("the tests fail without any mutant: %w\n%s", err, out)
	}
	once := time.Since(start)
	draw := rand.New(rand.NewPCG(seed, 0))
	draw.Shuffle(len(mutants), func(i, j int) { mutants[i], mutants[j] = mutants[j], mutants[i] })
	if most > 0 && len(mutants) > most {
		mutants = mutants[:most]
	}
	var mu sync.Mutex
	var wg sync.WaitGroup
	next := 0
	deadline := time.Now().Add(limit)
	for range runtime.NumCPU() {
		wg.Go(func() {
			for {
				mu.Lock()
				if next == len(mutants) || time.Now().After(deadline) {
					mu.Unlock()
					return
				}
				m := mutants[next]
				next++
				mu.Unlock()
				_, err := run(bin, src.dir, m.id, 10*once+20*time.Second)
				mu.Lock()
				r.tried++
				if err == nil {
					r.survived = append(r.survived, m)
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	slices.SortFunc(r.survived, func(a, b mutant) int { return a.id - b.id })
	return r, nil
}

// compile builds the test binary of the mutated package.
func compile(src *source, files map[string][]byte, dir string) (string, error) {
	overlay := map[string]map[string]string{"Replace": {}}
	for path, text := range files {
		to := filepath.Join(dir, strconv.Itoa(len(overlay["Replace"]))+".go")
		if err := os.WriteFile(to, text, 0o644); err != nil {
			return "", err
		}
		overlay["Replace"][path] = to
	}
	to := filepath.Join(dir, "switch.go")
	if err := os.WriteFile(to, []byte(switches), 0o644); err != nil {
		return "", err
	}
	overlay["Replace"][filepath.Join(src.root, "internal", "mutant", "mutant.go")] = to
	text, err := json.Marshal(overlay)
	if err != nil {
		return "", err
	}
	list := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(list, text, 0o644); err != nil {
		return "", err
	}
	bin := filepath.Join(dir, "tests")
	cmd := exec.Command("go", "test", "-c", "-vet=off", "-overlay", list, "-o", bin, src.path)
	cmd.Dir = src.root
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", fmt.Errorf("compiling the mutants: %w\n%s", err, out)
	}
	return bin, nil
}

// run runs the tests with one mutant switched on; a run that does not end is a
// failed one.
func run(bin, dir string, id int, limit time.Duration) ([]byte, error) {
	ctx, stop := context.WithTimeout(context.Background(), limit)
	defer stop()
	cmd := exec.CommandContext(ctx, bin, "-test.short", "-test.failfast")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "EVENLOT_MUTANT="+strconv.Itoa(id), "GOMAXPROCS=1", "GOMEMLIMIT=1GiB")
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	err := cmd.Run()
	if err != nil && ctx.Err() == nil && !errors.As(err, new(*exec.ExitError)) {
		log.Fatal(err) // the binary could not be run at all
	}
	return []byte(tail(out.String(), 2000)), err
}

func tail(s string, n int) string {
	if len(s) > n {
		s = s[len(s)-n:]
	}
	return strings.TrimSpace(s)
}
