// Command digits computes one set of sheets on every platform at hand and
// compares them: every text of the sheet must be the same, decimals to their
// last digit among them, and every float within 1e-12 of its size, or within
// what the iteration behind it promises.
//
//	go run ./internal/digits
//
// The platforms are the one it runs on, WebAssembly in Node, and 64-bit ARM
// under qemu-aarch64-static where that is installed. Floats may differ in
// their last digits: the exponential is another routine under WebAssembly,
// and ARM fuses a product with a sum.
//
// The sheets are every calculator's example, and the same with each number a
// little less and a little more.
package main

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"log"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"github.com/shopspring/decimal"
)

func main() {
	log.SetFlags(0)
	out := flag.Bool("print", false, "print this platform's sheets and end")
	flag.Parse()
	if *out {
		w := bufio.NewWriter(os.Stdout)
		sheets(w)
		if err := w.Flush(); err != nil {
			log.Fatal(err)
		}
		return
	}
	var here bytes.Buffer
	sheets(&here)
	fmt.Printf("%s/%s: %d lines\n", runtime.GOOS, runtime.GOARCH, bytes.Count(here.Bytes(), []byte("\n")))
	failed := false
	for _, p := range platforms() {
		there, err := p.run()
		if err != nil {
			log.Fatalf("digits: %s: %v", p.name, err)
		}
		worst, where, problems := compare(here.Bytes(), there)
		for _, s := range problems[:min(len(problems), 20)] {
			fmt.Println(s)
		}
		failed = failed || len(problems) > 0
		fmt.Printf("%s: %d differences; floats that no iteration made agree within %.1e of their size (%s)\n", p.name, len(problems), worst, where)
	}
	if failed {
		os.Exit(1)
	}
}

// sheets writes one line for each value: what was asked, the text, and the
// number in full.
func sheets(w io.Writer) {
	for _, c := range all.Calculators() {
		base := c.Example()
		sheet(w, c, "example", base)
		for _, f := range c.Form() {
			typed, err := decimal.NewFromString(base[f.ID])
			if f.Kind != catalogue.Number || err != nil {
				continue
			}
			for _, by := range []string{"0.97", "1.03"} {
				state := catalogue.State{}
				for k, v := range base {
					state[k] = v
				}
				moved := typed.Mul(decimal.RequireFromString(by))
				if f.Exact {
					moved = moved.Round(-typed.Exponent())
				}
				state[f.ID] = moved.StringFixed(-moved.Exponent())
				sheet(w, c, f.ID+"="+state[f.ID], state)
			}
		}
	}
}

func sheet(w io.Writer, c *catalogue.Calculator, name string, state catalogue.State) {
	at := c.ID + "\t" + name + "\t"
	s := c.Eval(state, nil)
	for _, f := range s.Faults {
		fmt.Fprintf(w, "%s%s\t%s\n", at, f.Field, f.Text)
	}
	if s.Problem != "" {
		fmt.Fprintf(w, "%sproblem\t%s\n", at, s.Problem)
	}
	for _, v := range s.Values {
		fmt.Fprintf(w, "%s%s\t%s ± %s\t%s\t%s\n", at, v.ID, v.Text, v.PlusMinus, full(v.Number), full(v.U))
	}
	for _, v := range s.Verdicts {
		fmt.Fprintf(w, "%s%s\t%s of %s\n", at, v.Output, v.Word, v.Limit)
	}
}

func full(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// A platform runs this command elsewhere.
type platform struct {
	name, goos, goarch string
	with               []string
}

func platforms() []platform {
	var list []platform
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		log.Fatal(err)
	}
	if _, err := exec.LookPath("node"); err == nil {
		list = append(list, platform{"js/wasm in Node", "js", "wasm", []string{filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "go_js_wasm_exec")}})
	} else {
		fmt.Println("js/wasm: not compared, node is not installed")
	}
	if _, err := exec.LookPath("qemu-aarch64-static"); err == nil {
		list = append(list, platform{"linux/arm64 under qemu", "linux", "arm64", []string{"qemu-aarch64-static"}})
	} else {
		fmt.Println("linux/arm64: not compared, qemu-aarch64-static is not installed")
	}
	return list
}

func (p platform) run() ([]byte, error) {
	dir, err := os.MkdirTemp("", "digits")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	bin := filepath.Join(dir, "digits")
	build := exec.Command("go", "build", "-o", bin, "example.org/evenlot/internal/digits")
	build.Env = append(os.Environ(), "GOOS="+p.goos, "GOARCH="+p.goarch, "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%w\n%s", err, out)
	}
	cmd := exec.Command(p.with[0], append(p.with[1:], bin, "-print")...)
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME")} // Go's Node wrapper takes little more
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%w\n%s", err, errs.Bytes())
	}
	return out, nil
}

// loose are the calculators whose numbers come from an iteration or from a
// difference, and what they can be held to: where an iteration stops depends
// on last digits.
var loose = map[string]float64{
	"drift-rate":    1e-8, // least squares, and those below it to own-isotherm
	"gas-weighings": 1e-8,
	"gas-jar":       1e-8,
	"nozzle-fit":    1e-8,
	"own-isotherm":  1e-8,
	"bag-oxygen":    1e-8,  // integrated in steps to 1e-10, and days at which a level is met
	"room-moisture": 1e-10, // its slope is a difference
}

// A standard uncertainty is a difference of two answers, whose own last digits
// it has grown a hundred to a thousand times.
const grown = 1e3

// compare finds the largest relative difference of the numbers that are held
// to 1e-12, and every line that differs by more than it may.
func compare(a, b []byte) (worst float64, where string, problems []string) {
	x, y := strings.Split(string(a), "\n"), strings.Split(string(b), "\n")
	if len(x) != len(y) {
		problems = append(problems, fmt.Sprintf("%d lines here, %d there", len(x), len(y)))
	}
	for i := range min(len(x), len(y)) {
		if x[i] == y[i] {
			continue
		}
		p, q := strings.Split(x[i], "\t"), strings.Split(y[i], "\t")
		same := len(p) == 6 && len(q) == 6
		for k := 0; same && k < 4; k++ {
			same = p[k] == q[k]
		}
		if !same {
			problems = append(problems, "here  "+x[i]+"\nthere "+y[i])
			continue
		}
		limit, isLoose := loose[p[0]]
		if !isLoose {
			limit = 1e-12
		}
		value, u := apart(p[4], q[4]), apart(p[5], q[5])
		if !(value <= limit && u <= grown*limit) {
			problems = append(problems, "here  "+x[i]+"\nthere "+y[i])
		} else if !isLoose && value > worst {
			worst, where = value, strings.Join(p[:3], " ")
		}
	}
	return worst, where, problems
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// apart is how far two numbers lie apart, relative to the larger.
func apart(a, b string) float64 {
	if a == b {
		return 0
	}
	x, y := number(a), number(b)
	return math.Abs(x-y) / max(math.Abs(x), math.Abs(y))
}
