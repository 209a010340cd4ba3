// Command batch evaluates a file of cuppings, however long: for each row of
// dose, water and strength, the extraction yield of the bowl.
//
//	go run ./examples/batch -n 10000000 > cups.csv     # an invented file
//	go run ./examples/batch cups.csv > yields.csv
//
// The file has a head and three columns, dose_g,water_g,strength_pct, with no
// quotes. What comes out is the same rows in the same order with a fourth
// column. A row that is refused keeps an empty cell there and is told on the
// error output with its line and the library's reason; the program then ends
// with status 1.
//
// One goroutine reads blocks and cuts them between two lines, as many as there
// are cores evaluate them, one writes them in the order in which they were
// read. There is a fixed number of blocks, used again and again: when all are
// in hand the reader waits, and memory stays the same for a file of any length.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"log"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"sync"

	"example.org/evenlot/extraction"
)

const (
	blockBytes = 256 << 10 // read at a time
	maxLine    = 64 << 10  // a longer line is no row
	maxTold    = 20        // refused rows that are told, of all that are counted
	head       = "dose_g,water_g,strength_pct"
)

func main() {
	log.SetFlags(0)
	cores := flag.Int("cpu", runtime.NumCPU(), "rows are evaluated on so many cores")
	invent := flag.Int("n", 0, "write an invented file of so many rows and end")
	flag.Parse()
	if *invent > 0 {
		if err := write(os.Stdout, *invent); err != nil {
			log.Fatal(err)
		}
		return
	}
	in := os.Stdin
	if flag.NArg() > 0 {
		f, err := os.Open(flag.Arg(0))
		if err != nil {
			log.Fatal(err)
		}
		defer f.Close()
		in = f
	}
	done, err := evaluate(in, os.Stdout, max(*cores, 1))
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range done.told {
		log.Printf("line %d: %v", f.line, f.err)
	}
	if more := done.refused - len(done.told); more > 0 {
		log.Printf("and %d more", more)
	}
	if done.refused > 0 {
		log.Fatalf("%d of %d rows were refused", done.refused, done.rows)
	}
}

// A block is some whole lines on their way from the reader to the writer.
type block struct {
	in, out []byte
	rows    int
	refused int
	told    []fault // the first of them, lines counted from the block's own first
	ready   chan struct{}
}

type fault struct {
	line int
	err  error
}

// A summary is what became of a file.
type summary struct {
	rows, refused int
	told          []fault
}

// evaluate streams a file through as many goroutines as there are cores.
func evaluate(r io.Reader, w io.Writer, cores int) (summary, error) {
	blocks := 3*cores + 2
	work := make(chan *block, blocks)
	order := make(chan *block, blocks) // the same blocks, for the writer
	free := make(chan *block, blocks)
	for range blocks {
		free <- &block{ready: make(chan struct{}, 1)}
	}
	stop := make(chan struct{}) // closed when writing failed

	var workers sync.WaitGroup
	for range cores {
		workers.Go(func() {
			for b := range work {
				b.evaluate()
				b.ready <- struct{}{}
			}
		})
	}
	readErr := make(chan error, 1)
	go func() {
		readErr <- cut(r, func() *block { return <-free }, func(b *block) bool {
			select {
			case order <- b:
				work <- b
				return true
			case <-stop:
				return false
			}
		})
		close(work)
		close(order)
	}()

	var done summary
	_, err := io.WriteString(w, head+",yield_pct\n")
	if err != nil {
		close(stop)
	}
	for b := range order {
		<-b.ready
		if err == nil {
			if _, err = w.Write(b.out); err != nil {
				close(stop)
			}
		}
		for _, f := range b.told[:min(len(b.told), maxTold-len(done.told))] {
			done.told = append(done.told, fault{2 + done.rows + f.line, f.err})
		}
		done.rows += b.rows
		done.refused += b.refused
		free <- b
	}
	workers.Wait()
	return done, errors.Join(err, <-readErr)
}

// cut reads blocks and hands on whole lines, the head left away.
func cut(r io.Reader, get func() *block, put func(*block) bool) error {
	first := true
	var rest []byte // the beginning of a line whose end is not read yet
	for {
		b := get()
		b.in = append(b.in[:0], rest...)
		n := len(b.in)
		if cap(b.in) < n+blockBytes {
			b.in = append(make([]byte, 0, n+blockBytes+maxLine), b.in...)
		}
		m, err := io.ReadFull(r, b.in[n:n+blockBytes])
		b.in = b.in[:n+m]
		end := err == io.EOF || err == io.ErrUnexpectedEOF
		if err != nil && !end {
			return err
		}
		whole := bytes.LastIndexByte(b.in, '\n') + 1
		if end {
			whole = len(b.in)
		}
		if len(b.in)-whole > maxLine {
			return fmt.Errorf("a line is longer than %d bytes", maxLine)
		}
		rest = append(rest[:0], b.in[whole:]...)
		b.in = b.in[:whole]
		if first {
			line, after, _ := bytes.Cut(b.in, []byte("\n"))
			if string(bytes.TrimSuffix(line, []byte("\r"))) != head {
				return fmt.Errorf("the head is %.80q; it must be %q", line, head)
			}
			b.in, first = after, false
		}
		if len(b.in) > 0 && !put(b) || end {
			return nil
		}
	}
}

var errCells = errors.New("a row has three cells")

// evaluate is where the library is called: once a row, without allocation as
// long as nothing is refused.
func (b *block) evaluate() {
	b.out, b.told, b.rows, b.refused = b.out[:0], b.told[:0], 0, 0
	if cap(b.out) < 2*len(b.in) {
		b.out = make([]byte, 0, 2*len(b.in))
	}
	for rest := b.in; len(rest) > 0; b.rows++ {
		line := rest
		if i := bytes.IndexByte(rest, '\n'); i >= 0 {
			line, rest = rest[:i], rest[i+1:]
		} else {
			rest = nil
		}
		line = bytes.TrimSuffix(line, []byte("\r"))
		b.out = append(append(b.out, line...), ',')
		y, err := yield(line)
		if err == nil {
			b.out = strconv.AppendFloat(b.out, y, 'f', 2, 64)
		} else if b.refused++; len(b.told) < maxTold {
			b.told = append(b.told, fault{b.rows, err})
		}
		b.out = append(b.out, '\n')
	}
}

func yield(line []byte) (float64, error) {
	var cell [3]float64
	for i := range cell {
		var text []byte
		text, after, more := bytes.Cut(line, []byte(","))
		if more != (i < len(cell)-1) {
			return 0, errCells
		}
		v, err := number(text)
		if err != nil {
			return 0, err
		}
		cell[i], line = v, after
	}
	e, err := extraction.ImmersionYield(extraction.Immersion{DoseG: cell[0], WaterG: cell[1], StrengthPct: cell[2]})
	return e.YieldPct, err
}

// powers are exact as floats, and so is a quotient of two exact floats
// rounded once: up to 15 digits need no more than that.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// number is strconv.ParseFloat with a short way for what a scale prints.
func number(text []byte) (float64, error) {
	mantissa, places, digits, point := 0, 0, 0, false
	for _, c := range text {
		switch {
		case c >= '0' && c <= '9':
			mantissa = 10*mantissa + int(c-'0')
			digits++
			if point {
				places++
			}
		case c == '.' && !point:
			point = true
		default:
			digits = 99
		}
		if digits > 15 {
			return strconv.ParseFloat(string(text), 64)
		}
	}
	if digits == 0 {
		return strconv.ParseFloat(string(text), 64)
	}
	return float64(mantissa) / powers[places], nil
}

// write invents cuppings.
func write(w io.Writer, rows int) error {
	draw := rand.New(rand.NewPCG(26, 41))
	buf := append(make([]byte, 0, blockBytes+64), head+"\n"...)
	for range rows {
		dose := 9.5 + draw.Float64()
		buf = strconv.AppendFloat(buf, dose, 'f', 2, 64)
		buf = strconv.AppendFloat(append(buf, ','), dose*(15+3*draw.Float64()), 'f', 1, 64)
		buf = strconv.AppendFloat(append(buf, ','), 1.1+0.4*draw.Float64(), 'f', 2, 64)
		if buf = append(buf, '\n'); len(buf) > blockBytes {
			if _, err := w.Write(buf); err != nil {
				return err
			}
			buf = buf[:0]
		}
	}
	_, err := w.Write(buf)
	return err
}
