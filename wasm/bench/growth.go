package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"time"

	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/moisture"
)

// growth times what takes a series or draws, from a thousand to most.
func growth(root string, most int) error {
	fmt.Printf("\n## Growth with n\n\nThe floors: a logger's record, its humidities summed; a simulation, the draws and the formula alone; a batch, the same file read once and its lines counted. A whole run of the batch program starts a process, which takes some milliseconds.\n")
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "batch")
	build := exec.Command("go", "build", "-o", program, "./examples/batch")
	build.Dir = root
	if out, err := build.CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	var series, simulation, batch [][]string
	// The batch program first: a process begins with the memory of the one
	// that starts it, and that is to be small.
	for n := 1000; n <= most; n *= 10 {
		row, err := growBatch(program, dir, n)
		if err != nil {
			return err
		}
		batch = append(batch, row)
	}
	for n := 1000; n <= most; n *= 10 {
		row, err := growSeries(n)
		if err != nil {
			return err
		}
		series = append(series, row)
		if n >= 10_000 { // fewer than 20 000 are not drawn
			if row, err = growDraws(n); err != nil {
				return err
			}
			simulation = append(simulation, row)
		}
	}
	table(" moisture.SummariseLog, rows | ours | a row | floor | ratio ", series)
	table(" uncertainty.Simulate, draws | ours | a draw | floor | ratio ", simulation)
	if found, version := python(); found["draws"] > 0 {
		fmt.Printf("\nA million draws of the same quotient, all at once in memory, and their two quantiles take %s in NumPy (%s).\n", ns(found["draws"]), version)
	}
	table(" examples/batch, rows | file | 1 core | 2 cores | rows/s, 2 cores | processor time | memory | floor | ratio, 2 cores ", batch)
	return nil
}

// best runs f three times, once where a run is long.
func best(f func() error) (time.Duration, error) {
	least := time.Duration(1 << 62)
	for i := 0; i < 3 && (i == 0 || least < 5*time.Second); i++ {
		start := time.Now()
		if err := f(); err != nil {
			return 0, err
		}
		least = min(least, time.Since(start))
	}
	return least, nil
}

func line(n int, ours, floor time.Duration) []string {
	return []string{strconv.Itoa(n), ns(float64(ours)), ns(float64(ours) / float64(n)), ns(float64(floor)), fmt.Sprintf("%.2g", float64(ours)/float64(floor))}
}

func growSeries(n int) ([]string, error) {
	draw := rand.New(rand.NewPCG(1, 2))
	rows := make([]moisture.LogReading, n)
	for i := range rows {
		rows[i] = moisture.LogReading{UnixSeconds: int64(60 * i), TempC: 18 + draw.Float64(), RHPct: 55 + 5*draw.Float64()}
	}
	limits := moisture.LogLimits{LowC: 14, HighC: 22, LowRHPct: 50, HighRHPct: 62, RiskAw: moisture.GrowthLimitAw, MaxGapSeconds: 3600}
	ours, err := best(func() error {
		_, err := moisture.SummariseLog(moisture.ParchmentArabica(), limits, rows)
		return err
	})
	if err != nil {
		return nil, err
	}
	floor, err := best(func() error {
		sum := 0.0
		for i := range rows {
			sum += rows[i].RHPct
		}
		sink = sum
		return nil
	})
	return line(n, ours, floor), err
}

func growDraws(n int) ([]string, error) {
	in := []uncertainty.Quantity{{Value: 36, U: 0.1}, {Value: 9.5, U: 0.05}, {Value: 18, U: 0.05}}
	made := 0
	ours, err := best(func() error {
		s, err := uncertainty.Simulate(func(x []float64) float64 { return x[0] * x[1] / x[2] }, in,
			uncertainty.Plan{CoveragePct: 95, Digits: 1, MinDraws: n, MaxDraws: max(n, 20_000), Seed: 1})
		made = s.Draws
		return err
	})
	if err != nil {
		return nil, err
	}
	draw := rand.New(rand.NewPCG(1, 2))
	floor, err := best(func() error {
		for range made {
			sink += (36 + 0.1*draw.NormFloat64()) * (9.5 + 0.05*draw.NormFloat64()) / (18 + 0.05*draw.NormFloat64())
		}
		return nil
	})
	return line(made, ours, floor), err
}

func growBatch(program, dir string, n int) ([]string, error) {
	path := filepath.Join(dir, "cups.csv")
	out, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	defer os.Remove(path)
	invent := exec.Command(program, "-n", strconv.Itoa(n))
	invent.Stdout = out
	if err := invent.Run(); err != nil {
		return nil, err
	}
	if err := out.Close(); err != nil {
		return nil, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	memory, busy := int64(0), time.Duration(1<<62)
	on := func(cores int) (time.Duration, error) {
		return best(func() error {
			cmd := exec.Command(program, "-cpu", strconv.Itoa(cores), path)
			cmd.Env = append(os.Environ(), "GOMAXPROCS="+strconv.Itoa(cores))
			to, err := os.Create(filepath.Join(dir, "yields.csv"))
			if err != nil {
				return err
			}
			defer to.Close()
			cmd.Stdout, cmd.Stderr = to, os.Stderr
			if err := cmd.Run(); err != nil {
				return err
			}
			memory = max(memory, peak(cmd.ProcessState))
			busy = min(busy, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime())
			return nil
		})
	}
	one, err := on(1)
	if err != nil {
		return nil, err
	}
	two, err := on(min(2, runtime.NumCPU()))
	if err != nil {
		return nil, err
	}
	floor, err := best(func() error { return countLines(path, n+1) })
	if err != nil {
		return nil, err
	}
	return []string{strconv.Itoa(n), fmt.Sprintf("%.1f MB", float64(info.Size())/1e6), ns(float64(one)), ns(float64(two)),
		fmt.Sprintf("%.2g", float64(n)/two.Seconds()), ns(float64(busy)), fmt.Sprintf("%.0f MB", float64(memory)/1e6), ns(float64(floor)), fmt.Sprintf("%.2g", float64(two)/float64(floor))}, nil
}

// countLines reads a file once, in blocks, and counts its lines.
func countLines(path string, want int) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	block := make([]byte, 1<<20)
	lines := 0
	for {
		n, err := f.Read(block)
		lines += bytes.Count(block[:n], []byte("\n"))
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
	}
	if lines != want {
		return fmt.Errorf("the file has %d lines, not %d", lines, want)
	}
	return nil
}
