// Package published reads the tables of published values that each package
// keeps in testdata, and runs them in that package's tests.
//
// A table is testdata/published.csv, one row a published value; beside it
// lies testdata/ours.csv, which the tests write and verify: what our code
// gives for each row. From the two come the README's table and the page's
// "Checked against" sections, so that what users read is what tests ran.
package published

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Header is the first line that every table of published values must have.
var header = []string{"id", "quantity", "inputs", "value", "unit", "tolerance", "source", "locator", "provenance", "note"}

// Provenances are the words that a row may carry. Derived rows are properties
// and are not counted as published.
var provenances = []string{"opened", "quoted", "memory", "common practice", "derived"}

// A Row is one published value.
type Row struct {
	ID, Quantity, Inputs string
	Value                string  // as printed by the source; "8..12.5" is a range
	Lo, Hi               float64 // Value read as numbers, equal when it is not a range
	Unit                 string
	Tolerance            float64 // in Unit
	Source, Locator      string
	Provenance, Note     string
}

// IsRange says whether the published value is a range.
func (r Row) IsRange() bool { return strings.Contains(r.Value, "..") }

// Disagrees returns our value as the note states it, where the row is one
// that we are known to miss.
func (r Row) Disagrees() (ours string, ok bool) {
	rest, ok := strings.CutPrefix(r.Note, "disagrees: ours ")
	if !ok {
		return "", false
	}
	ours, _, _ = strings.Cut(rest, ";")
	return ours, true
}

// Read reads a table of published values.
func Read(path string) ([]Row, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = len(header)
	records, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	if len(records) < 2 {
		return nil, errors.New(path + ": the table is empty")
	}
	if !slices.Equal(records[0], header) {
		return nil, fmt.Errorf("%s: columns are %v, want %v", path, records[0], header)
	}
	seen := map[string]bool{}
	rows := make([]Row, 0, len(records)-1)
	for _, c := range records[1:] {
		row := Row{ID: c[0], Quantity: c[1], Inputs: c[2], Value: c[3], Unit: c[4],
			Source: c[6], Locator: c[7], Provenance: c[8], Note: c[9]}
		if row.ID == "" || seen[row.ID] {
			return nil, fmt.Errorf("%s: id %q is empty or stands twice", path, row.ID)
		}
		seen[row.ID] = true
		lo, hi, isRange := strings.Cut(row.Value, "..")
		if !isRange {
			hi = lo
		}
		var errs [3]error
		row.Lo, errs[0] = finite(lo)
		row.Hi, errs[1] = finite(hi)
		row.Tolerance, errs[2] = finite(c[5])
		if err := errors.Join(errs[:]...); err != nil {
			return nil, fmt.Errorf("%s: row %s: %w", path, row.ID, err)
		}
		if row.Tolerance < 0 {
			return nil, fmt.Errorf("%s: row %s: negative tolerance", path, row.ID)
		}
		if !slices.Contains(provenances, row.Provenance) {
			return nil, fmt.Errorf("%s: row %s: provenance is %q, want one of %q", path, row.ID, row.Provenance, provenances)
		}
		if row.Source == "" && row.Provenance != "common practice" && row.Provenance != "memory" {
			return nil, fmt.Errorf("%s: row %s names no source", path, row.ID)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func finite(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = fmt.Errorf("%q is not a finite number", s)
	}
	return v, err
}

// An Answer is what our code gives for one row.
type Answer struct {
	ID     string
	Lo, Hi float64 // equal when the row is not a range
	text   string
}

// ReadOurs reads the answers that the tests wrote beside a table.
func ReadOurs(path string) (map[string]Answer, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = 2
	records, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	ours := map[string]Answer{}
	for i, c := range records {
		if i == 0 {
			continue
		}
		lo, hi, isRange := strings.Cut(c[1], "..")
		if !isRange {
			hi = lo
		}
		a := Answer{ID: c[0], text: c[1]}
		var e1, e2 error
		a.Lo, e1 = finite(lo)
		a.Hi, e2 = finite(hi)
		if err := errors.Join(e1, e2); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		ours[a.ID] = a
	}
	return ours, nil
}

// A Summary counts the checks of one package.
type Summary struct {
	Package   string  // such as "checkpoint/sampling"
	Rows      int     // published rows, without the derived ones
	Derived   int     // rows that are properties
	Constants int     // of Rows, those without inputs: a constant, limit or default beside the source's
	Opened    int     // of Rows, those whose source was opened
	Quoted    int     // of Rows, those quoted by another document
	Memory    int     // of Rows, those from memory
	Practice  int     // of Rows, those of common practice
	Sources   int     // distinct sources of Rows
	Disagree  int     // of Rows, those that we miss, each said in its note
	WorstID   string  // the met row that comes nearest to its tolerance
	WorstUsed float64 // its deviation as a share of its tolerance, %
}

// A Check is a row with our answer.
type Check struct {
	Row
	Ours Answer
}

// OursText is our answer with one digit more than the source prints.
func (c Check) OursText() string {
	one := func(v float64) string {
		mantissa, _, scientific := strings.Cut(strings.ToLower(c.Value), "e")
		_, places, _ := strings.Cut(mantissa, ".")
		if places, _, _ = strings.Cut(places, ".."); scientific || v != 0 && math.Abs(v) < 1e-4 {
			return strconv.FormatFloat(v, 'g', len(places)+3, 64)
		}
		return strconv.FormatFloat(v, 'f', len(places)+1, 64)
	}
	if c.IsRange() {
		return one(c.Ours.Lo) + " to " + one(c.Ours.Hi)
	}
	return one(c.Ours.Lo)
}

// Deviation is the larger distance between ours and the published value, in
// the row's unit.
func (c Check) Deviation() float64 {
	return math.Max(math.Abs(c.Ours.Lo-c.Lo), math.Abs(c.Ours.Hi-c.Hi))
}

// Checks reads every table below root, by package.
func Checks(root string) (map[string][]Check, error) {
	all := map[string][]Check{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && path != root {
			return filepath.SkipDir
		}
		if d.Name() != "published.csv" || filepath.Base(filepath.Dir(path)) != "testdata" {
			return nil
		}
		rows, err := Read(path)
		if err != nil {
			return err
		}
		ours, err := ReadOurs(filepath.Join(filepath.Dir(path), "ours.csv"))
		if err != nil {
			return err
		}
		pkg, err := filepath.Rel(root, filepath.Dir(filepath.Dir(path)))
		if err != nil {
			return err
		}
		for _, r := range rows {
			a, ok := ours[r.ID]
			if !ok {
				return fmt.Errorf("%s: no answer for row %s: run its tests with EVENLOT_UPDATE=1", path, r.ID)
			}
			all[filepath.ToSlash(pkg)] = append(all[filepath.ToSlash(pkg)], Check{r, a})
		}
		return nil
	})
	return all, err
}

// Summarise counts the checks of one package.
func Summarise(pkg string, checks []Check) Summary {
	s := Summary{Package: pkg}
	sources := map[string]bool{}
	for _, c := range checks {
		switch c.Provenance {
		case "derived":
			s.Derived++
			continue
		case "opened":
			s.Opened++
		case "quoted":
			s.Quoted++
		case "memory":
			s.Memory++
		case "common practice":
			s.Practice++
		}
		s.Rows++
		if c.Inputs == "" {
			s.Constants++
		}
		if c.Source != "" {
			sources[c.Source] = true
		}
		if _, ok := c.Disagrees(); ok {
			s.Disagree++
			continue
		}
		if c.Tolerance == 0 {
			continue
		}
		// What is left of a difference of rounded decimals is none.
		if used := min(100, 100*c.Deviation()/c.Tolerance); s.WorstID == "" || used > s.WorstUsed {
			s.WorstID, s.WorstUsed = c.ID, used
		}
	}
	s.Sources = len(sources)
	return s
}
