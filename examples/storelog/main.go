// Command storelog reads what a logger in the green store recorded and says
// what the room did to the coffee.
//
//	go run ./examples/storelog examples/storelog/store.csv
//	go run ./examples/storelog -figure humidity.svg examples/storelog/store.csv
//
// The file has a head and three columns: a time like 2026-10-01T06:00Z or
// 2026-10-01T06:00:00Z, the temperature in °C and the humidity in percent. A
// cell that holds no number is a reading that the logger missed, not a zero; a
// line that cannot be read at all ends the report with its number. store.csv is
// invented.
//
// A number of the report is no clearance: where mould is seen or smelt, the
// lot is held, whatever the log says.
package main

import (
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"log"
	"math"
	"os"
	"strconv"
	"time"

	"example.org/evenlot/checkpoint"
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/figure"
)

// limits are what this store keeps: a band of our own invention, and a pause
// of at most three hours between two readings.
var limits = moisture.LogLimits{
	LowC: 14, HighC: 22, LowRHPct: 50, HighRHPct: 62,
	RiskAw: moisture.GrowthLimitAw, MaxGapSeconds: 3 * 3600,
}

func main() {
	log.SetFlags(0)
	picture := flag.String("figure", "", "write the humidity as an SVG file")
	flag.Parse()
	in := os.Stdin
	if flag.NArg() > 0 {
		f, err := os.Open(flag.Arg(0))
		if err != nil {
			log.Fatal(err)
		}
		defer f.Close()
		in = f
	}
	rows, err := read(in)
	if err != nil {
		log.Fatal(err)
	}
	if err := report(os.Stdout, rows); err != nil {
		log.Fatal(err)
	}
	if *picture != "" {
		if err := os.WriteFile(*picture, []byte(draw(rows)), 0o644); err != nil {
			log.Fatal(err)
		}
	}
}

// read takes the file line by line; only the numbers are kept, 24 bytes a row.
func read(r io.Reader) ([]moisture.LogReading, error) {
	lines := csv.NewReader(r)
	lines.FieldsPerRecord = 3
	lines.ReuseRecord = true
	if _, err := lines.Read(); err != nil {
		return nil, fmt.Errorf("the head: %w", err)
	}
	var rows []moisture.LogReading
	for {
		cells, err := lines.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		line, _ := lines.FieldPos(0)
		at, err := time.Parse(time.RFC3339, cells[0])
		if err != nil {
			at, err = time.Parse("2006-01-02T15:04Z07:00", cells[0]) // without seconds
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", line, err)
		}
		rows = append(rows, moisture.LogReading{UnixSeconds: at.Unix(), TempC: number(cells[1]), RHPct: number(cells[2])})
	}
}

// number is NaN, a missing reading to the library, for what is none.
func number(cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func report(w io.Writer, rows []moisture.LogReading) error {
	curve := moisture.ParchmentArabica()
	s, err := moisture.SummariseLog(curve, limits, rows)
	if err != nil {
		return err // names the row and the reason
	}
	hours := func(seconds float64) float64 { return seconds / 3600 }
	fmt.Fprintf(w, "readings        %d, %d of them without a usable number\n", s.ReadingsCount, s.MissingCount)
	fmt.Fprintf(w, "time            %.0f h used, %.0f h lost, pauses too long to bridge: %d\n", hours(float64(s.UsedSeconds)), hours(float64(s.GapSeconds)), s.GapsCount)
	fmt.Fprintf(w, "temperature     %.1f °C in the mean, %.1f to %.1f\n", s.MeanTempC, s.MinTempC, s.MaxTempC)
	fmt.Fprintf(w, "humidity        %.1f %% in the mean, %.1f to %.1f\n", s.MeanRHPct, s.MinRHPct, s.MaxRHPct)
	fmt.Fprintf(w, "in the band     %.0f %% of the time\n", 100*s.InBandSeconds/float64(s.UsedSeconds))
	fmt.Fprintf(w, "at mould risk   %.1f h, %.1f h of it in one stretch\n", hours(s.RiskSeconds), hours(s.LongestRiskSeconds))
	if s.WorstIndex >= 0 {
		at := rows[s.WorstIndex]
		fmt.Fprintf(w, "farthest out    %.1f %% on %s\n", at.RHPct, time.Unix(at.UnixSeconds, 0).UTC().Format("2 January at 15:04"))
	}
	// How well the curve is known at the mean climate is how well the
	// moisture is known: a log is longer than it is exact.
	mean, err := moisture.EquilibriumMoisture(curve, moisture.Air{TempC: s.MeanTempC, RHPct: s.MeanRHPct})
	if err != nil {
		return err
	}
	v, err := checkpoint.Judge(checkpoint.Reading{Value: s.MoisturePct, U: mean.SEPct},
		checkpoint.Limit{Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct}, checkpoint.DefaultRiskPct)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "it leads to     %.1f ± %.1f %% moisture: %v\n", s.MoisturePct, 2*mean.SEPct, v.Word)
	if s.Notes != 0 {
		fmt.Fprintf(w, "notes           %v\n", s.Notes)
	}
	return nil
}

// draw puts the humidity over the store's band; a gap in the log is a gap in
// the line.
func draw(rows []moisture.LogReading) string {
	var days, rh []float64
	for i, r := range rows {
		at := float64(r.UnixSeconds-rows[0].UnixSeconds) / 86400
		if i > 0 && r.UnixSeconds-rows[i-1].UnixSeconds > limits.MaxGapSeconds {
			days, rh = append(days, at), append(rh, math.NaN())
		}
		days, rh = append(days, at), append(rh, r.RHPct)
	}
	ends := []float64{0, days[len(days)-1]}
	return figure.Standalone(figure.Plot{
		Title: "Humidity in the green store",
		Desc:  "Relative humidity over " + strconv.FormatFloat(ends[1], 'f', 1, 64) + " days, with the band that the store keeps and the activity from which mould may grow.",
		X:     figure.Axis{Label: "Time", Unit: "d"},
		Y:     figure.Axis{Label: "Relative humidity", Unit: "%"},
		Bands: []figure.Band{{Name: "band", X: ends, Lo: []float64{limits.LowRHPct, limits.LowRHPct}, Hi: []float64{limits.HighRHPct, limits.HighRHPct}}},
		Lines: []figure.Line{{Name: "store", X: days, Y: rh}},
		Marks: []figure.Mark{{Name: "mould risk", At: 100 * limits.RiskAw}},
	}.Draw(figure.Look{Wide: true}))
}
