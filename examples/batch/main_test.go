package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"

	"example.org/evenlot/extraction"
)

// Every row comes out once, in its place, with the library's own answer,
// however the file is cut and on however many cores.
func TestOrderAndAnswers(t *testing.T) {
	const rows = 100_000 // seven blocks
	var file bytes.Buffer
	if err := write(&file, rows); err != nil {
		t.Fatal(err)
	}
	var one []byte
	for _, cores := range []int{1, 2, 7} {
		var out bytes.Buffer
		done, err := evaluate(bytes.NewReader(file.Bytes()), &out, cores)
		if err != nil || done.rows != rows || done.refused != 0 {
			t.Fatalf("%d cores: %+v %v", cores, done, err)
		}
		if one == nil {
			one = bytes.Clone(out.Bytes())
		} else if !bytes.Equal(one, out.Bytes()) {
			t.Errorf("%d cores give another file than one", cores)
		}
	}
	table, err := csv.NewReader(bytes.NewReader(one)).ReadAll()
	if err != nil || len(table) != rows+1 {
		t.Fatalf("%d lines: %v", len(table), err)
	}
	for _, i := range []int{1, 2, rows / 3, rows / 2, rows - 1, rows} {
		var v [4]float64
		for k := range v {
			if v[k], err = strconv.ParseFloat(table[i][k], 64); err != nil {
				t.Fatal(err)
			}
		}
		e, err := extraction.ImmersionYield(extraction.Immersion{DoseG: v[0], WaterG: v[1], StrengthPct: v[2]})
		if err != nil || !(math.Abs(e.YieldPct-v[3]) <= 0.005000001) {
			t.Errorf("row %d: %v, the library says %v: %v", i, table[i], e.YieldPct, err)
		}
	}
}

// A refused row is told with its line in the file and leaves the others alone.
func TestRefused(t *testing.T) {
	var file strings.Builder
	file.WriteString(head + "\r\n")
	for i := 2; i <= 90_000; i++ {
		switch i {
		case 3:
			file.WriteString("10,165,125\n") // thousandths for percent
		case 4:
			file.WriteString("10,165\n")
		case 5:
			file.WriteString("10,165,1.25,7\n")
		case 80_000:
			file.WriteString("NaN,165,1.25\n")
		case 80_001:
			file.WriteString("ten,165,1.25\n")
		case 90_000:
			file.WriteString("10.0,165.0,1.25") // the last line has no end
		default:
			file.WriteString("10.0,165.0,1.25\r\n")
		}
	}
	var out bytes.Buffer
	// A reader that gives a byte, then nothing, then half: as pipes do.
	done, err := evaluate(iotest.HalfReader(strings.NewReader(file.String())), &out, 3)
	if err != nil || done.rows != 89_999 || done.refused != 5 {
		t.Fatalf("%d rows, %d refused: %v", done.rows, done.refused, err)
	}
	var lines []int
	for _, f := range done.told {
		lines = append(lines, f.line)
	}
	if fmt.Sprint(lines) != "[3 4 5 80000 80001]" {
		t.Errorf("the lines are %v", lines)
	}
	if _, ok := errors.AsType[*extraction.InputError](done.told[0].err); !ok {
		t.Errorf("line 3: %v", done.told[0].err)
	}
	got := strings.Split(out.String(), "\n")
	if len(got) != 90_001 || got[1] != "10.0,165.0,1.25,"+yieldOf(t, "10.0,165.0,1.25") || got[2] != "10,165,125," || got[89_999] != got[1] {
		t.Errorf("%d lines: %q %q %q", len(got), got[1], got[2], got[89_999])
	}
}

func yieldOf(t *testing.T, row string) string {
	t.Helper()
	y, err := yield([]byte(row))
	if err != nil {
		t.Fatal(err)
	}
	return strconv.FormatFloat(y, 'f', 2, 64)
}

func TestBrokenFiles(t *testing.T) {
	for name, c := range map[string]struct {
		r    io.Reader
		want string
	}{
		"empty":         {strings.NewReader(""), "the head is"},
		"another head":  {strings.NewReader("a,b,c\n1,2,3\n"), "the head is"},
		"endless line":  {io.MultiReader(strings.NewReader(head+"\n"), endless{}), "longer than"},
		"reader breaks": {io.MultiReader(strings.NewReader(head+"\n10,165,1.25\n"), iotest.ErrReader(errors.New("the disk is gone"))), "the disk is gone"},
	} {
		if _, err := evaluate(c.r, io.Discard, 2); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	var file bytes.Buffer
	if err := write(&file, 400_000); err != nil {
		t.Fatal(err)
	}
	if _, err := evaluate(&file, full{}, 2); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("a full disk: %v", err)
	}
}

type endless struct{}

func (endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = '1'
	}
	return len(b), nil
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// Memory does not grow with the file.
func TestBounded(t *testing.T) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	// Never held whole: 1 million rows, 16 MB, made while they are read.
	r, w := io.Pipe()
	go func() { w.CloseWithError(write(w, 1_000_000)) }()
	done, err := evaluate(r, io.Discard, 2)
	runtime.ReadMemStats(&after)
	if err != nil || done.rows != 1_000_000 {
		t.Fatalf("%+v: %v", done, err)
	}
	if grown := int64(after.HeapSys) - int64(before.HeapSys); grown > 16<<20 {
		t.Errorf("the heap grew by %d bytes", grown)
	}
}

func FuzzNumber(f *testing.F) {
	for _, s := range []string{
		"10.0", "165", ".5", "5.", "1e3", "-1", "", ".", "NaN", "0x10",
		"999999999999999", "0.00000000000001", // the longest of the short way
		"9007199254740993", "123456789012345.6", // and beyond it
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := number([]byte(s))
		want, wantErr := strconv.ParseFloat(s, 64)
		if (err == nil) != (wantErr == nil) || math.Float64bits(got) != math.Float64bits(want) {
			t.Errorf("%q is %v, %v; strconv says %v, %v", s, got, err, want, wantErr)
		}
	})
}

func BenchmarkEvaluate(b *testing.B) {
	var file bytes.Buffer
	if err := write(&file, 200_000); err != nil {
		b.Fatal(err)
	}
	for _, cores := range []int{1, runtime.NumCPU()} {
		b.Run(fmt.Sprintf("checked/cores=%d", cores), func(b *testing.B) {
			b.SetBytes(int64(file.Len()))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := evaluate(bytes.NewReader(file.Bytes()), io.Discard, cores); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("floor", func(b *testing.B) { // the lines counted, nothing else
		b.SetBytes(int64(file.Len()))
		for b.Loop() {
			if bytes.Count(file.Bytes(), []byte("\n")) != 200_001 {
				b.Fatal("lines are missing")
			}
		}
	})
}
