// Command bench measures what the library and its bundles cost, beside what
// the same would cost without them, in one run on one machine:
//
//	go run ./wasm/bench                     # all of it, some minutes
//	go run ./wasm/bench -only library
//
// Four tables: the packages' functions against a bare float64 line (the floor)
// and, where one computes the same, against general-purpose libraries in
// Node and Python; growth with the
// number of rows and draws on one core and on two; the bundles' bytes against
// an empty Go program with the same flags; an answer through the bridge against
// the same formula in hand-written JavaScript. What needs node, npm or brotli
// says so where they are missing.
//
// Times are the least of several rounds, which is what the machine can do
// when nothing else has it; ratios within one table are worth more than times.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"runtime"
	"strings"
	"time"

	"example.org/evenlot/wasm/build/site"
)

func main() {
	log.SetFlags(0)
	only := flag.String("only", "", "one of library, growth, bundles, bridge")
	most := flag.Int("most", 10_000_000, "rows of the longest series")
	flag.Parse()
	root, err := site.Root()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s, %s/%s, %d cores\n", runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU())
	if load, err := os.ReadFile("/proc/loadavg"); err == nil {
		fmt.Printf("load of the last minute when this began: %s\n", strings.Fields(string(load))[0])
	}
	for _, part := range []struct {
		name string
		run  func() error
	}{
		{"library", func() error { return library() }},
		{"growth", func() error { return growth(root, *most) }},
		{"bundles", func() error { return bundles(root) }},
		{"bridge", func() error { return bridge(root) }},
	} {
		if *only != "" && *only != part.name {
			continue
		}
		if err := part.run(); err != nil {
			log.Fatalf("bench: %s: %v", part.name, err)
		}
	}
	runtime.KeepAlive(sink)
}

// sink keeps the compiler from leaving a computation away.
var sink float64

// perCall returns the least time of one call, in ns, over many rounds so short
// that some of them go by undisturbed on a machine that others use too.
func perCall(f func()) float64 {
	n := 1
	for rounds(f, n) < 200*time.Microsecond {
		n *= 2
	}
	best := time.Duration(1 << 62)
	for i, start := 0, time.Now(); i < 20 || i < 500 && time.Since(start) < 2*time.Second; i++ {
		best = min(best, rounds(f, n))
	}
	return float64(best) / float64(n)
}

func rounds(f func(), n int) time.Duration {
	start := time.Now()
	for range n {
		f()
	}
	return time.Since(start)
}

// table prints columns as Markdown, so that a run can be kept as it is.
func table(head string, rows [][]string) {
	cells := strings.Split(head, "|")
	fmt.Printf("\n|%s|\n|%s\n", strings.Join(cells, "|"), strings.Repeat("---|", len(cells)))
	for _, r := range rows {
		fmt.Printf("| %s |\n", strings.Join(r, " | "))
	}
}

// ns prints a time with three digits and its unit.
func ns(v float64) string {
	switch {
	case v < 1e3:
		return fmt.Sprintf("%.3g ns", v)
	case v < 1e6:
		return fmt.Sprintf("%.3g µs", v/1e3)
	case v < 1e9:
		return fmt.Sprintf("%.3g ms", v/1e6)
	}
	return fmt.Sprintf("%.3g s", v/1e9)
}
