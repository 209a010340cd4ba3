package published

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// A Claim says which function computes a quantity of the table. Use Number,
// Exact or Range to make one.
type Claim func(in *Inputs) (lo, hi float64, err error)

// Number claims a quantity that is one number.
func Number(f func(in *Inputs) (float64, error)) Claim {
	return func(in *Inputs) (lo, hi float64, err error) {
		v, err := f(in)
		return v, v, err
	}
}

// Exact claims a quantity that is a decimal.
func Exact(f func(in *Inputs) (decimal.Decimal, error)) Claim {
	return Number(func(in *Inputs) (float64, error) {
		v, err := f(in)
		return v.InexactFloat64(), err
	})
}

// Range claims a quantity that is a range or a single number given as a
// range of no width.
func Range(f func(in *Inputs) (lo, hi float64, err error)) Claim { return f }

// Constant claims a quantity that needs no inputs.
func Constant(v float64) Claim {
	return Number(func(*Inputs) (float64, error) { return v, nil })
}

// Limits claims a range that needs no inputs.
func Limits(lo, hi float64) Claim {
	return func(*Inputs) (float64, float64, error) { return lo, hi, nil }
}

// Inputs are the named inputs of a row, "TempC=25 °C; Method=oven; X=1 2 3 g".
// Every input of a row must be asked for by its claim.
type Inputs struct {
	text map[string]string
	used map[string]bool
	errs []error
}

// Float returns a named input, without its unit.
func (in *Inputs) Float(name string) float64 {
	v, err := strconv.ParseFloat(first(in.Text(name)), 64)
	if err != nil {
		in.errs = append(in.errs, fmt.Errorf("input %s: %w", name, err))
	}
	return v
}

// Decimal returns a named input with all its digits, without its unit.
func (in *Inputs) Decimal(name string) decimal.Decimal {
	v, err := decimal.NewFromString(first(in.Text(name)))
	if err != nil {
		in.errs = append(in.errs, fmt.Errorf("input %s: %w", name, err))
	}
	return v
}

// Int returns a named whole number, without its unit.
func (in *Inputs) Int(name string) int {
	v, err := strconv.Atoi(first(in.Text(name)))
	if err != nil {
		in.errs = append(in.errs, fmt.Errorf("input %s: %w", name, err))
	}
	return v
}

// Floats returns a named input that is a list of numbers, up to the first
// word that is none.
func (in *Inputs) Floats(name string) []float64 {
	var list []float64
	for w := range strings.FieldsSeq(in.Text(name)) {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil {
			break
		}
		list = append(list, v)
	}
	if list == nil {
		in.errs = append(in.errs, fmt.Errorf("input %s holds no numbers", name))
	}
	return list
}

// Text returns a named input whole.
func (in *Inputs) Text(name string) string {
	s, ok := in.text[name]
	if !ok {
		in.errs = append(in.errs, fmt.Errorf("there is no input %s", name))
	}
	in.used[name] = true
	return s
}

// Has says whether the row has a named input.
func (in *Inputs) Has(name string) bool {
	_, ok := in.text[name]
	return ok
}

func first(s string) string {
	s, _, _ = strings.Cut(strings.TrimSpace(s), " ")
	return s
}

func parseInputs(s string) (*Inputs, error) {
	in := &Inputs{text: map[string]string{}, used: map[string]bool{}}
	if s = strings.TrimSpace(s); s == "" {
		return in, nil
	}
	for part := range strings.SplitSeq(s, ";") {
		name, value, ok := strings.Cut(part, "=")
		name = strings.TrimSpace(name)
		if _, twice := in.text[name]; !ok || name == "" || twice {
			return nil, fmt.Errorf("inputs %q: each is Name=value, once", s)
		}
		in.text[name] = strings.TrimSpace(value)
	}
	return in, nil
}

// Run checks every row of testdata/published.csv in the current package
// against the claim for its quantity, and keeps testdata/ours.csv true. With
// EVENLOT_UPDATE=1 in the environment it rewrites that file.
func Run(t *testing.T, claims map[string]Claim) {
	t.Helper()
	answers, problems := check("testdata", claims)
	for _, p := range problems {
		t.Error(p)
	}
	path := filepath.Join("testdata", "ours.csv")
	if os.Getenv("EVENLOT_UPDATE") == "1" {
		if err := writeOurs(path, answers); err != nil {
			t.Error(err)
		}
		return
	}
	for _, p := range compareOurs(path, answers) {
		t.Error(p)
	}
}

// check computes every row below dir and returns what is wrong.
func check(dir string, claims map[string]Claim) (answers []Answer, problems []string) {
	say := func(format string, a ...any) { problems = append(problems, fmt.Sprintf(format, a...)) }
	rows, err := Read(filepath.Join(dir, "published.csv"))
	if err != nil {
		return nil, []string{err.Error()}
	}
	used := map[string]bool{}
	for _, r := range rows {
		claim, ok := claims[r.Quantity]
		if !ok {
			say("row %s: no function claims the quantity %q", r.ID, r.Quantity)
			continue
		}
		used[r.Quantity] = true
		in, err := parseInputs(r.Inputs)
		if err != nil {
			say("row %s: %v", r.ID, err)
			continue
		}
		lo, hi, err := claim(in)
		if len(in.errs) > 0 {
			say("row %s: %v", r.ID, in.errs)
			continue
		}
		if err != nil {
			say("row %s: %v", r.ID, err)
			continue
		}
		for name := range in.text {
			if !in.used[name] {
				say("row %s: its claim never asks for input %s", r.ID, name)
			}
		}
		a := Answer{ID: r.ID, Lo: lo, Hi: hi, text: figure(lo)}
		if r.IsRange() {
			a.text += ".." + figure(hi)
		} else if lo != hi && !math.IsNaN(lo) {
			say("row %s: its claim gives a range, the source one number", r.ID)
		}
		answers = append(answers, a)
		met := within(lo, r.Lo, r.Tolerance) && within(hi, r.Hi, r.Tolerance)
		stated, disagrees := r.Disagrees()
		switch {
		case disagrees && met:
			say("row %s: the note says that we disagree, but ours is %s and theirs %s: mend the note", r.ID, a.text, r.Value)
		case disagrees:
			v, err := finite(stated)
			if err != nil || !within(lo, v, halfLastDigit(stated)) {
				say("row %s: the note says ours is %s, but it is %s", r.ID, stated, a.text)
			}
		case !met:
			say("row %s (%s, %s): ours %s, theirs %s %s, tolerance %v", r.ID, r.Quantity, r.Inputs, a.text, r.Value, r.Unit, r.Tolerance)
		}
	}
	for q := range claims {
		if !used[q] {
			say("the claim %q has no row", q)
		}
	}
	slices.Sort(problems)
	return answers, problems
}

// within is false for NaN and for infinities. Only rounding of the decimal
// tolerance itself is forgiven: a value that differs by exactly half a digit
// is within half a digit.
func within(got, want, tol float64) bool {
	return !math.IsInf(got, 0) && math.Abs(got-want) <= tol+4e-16*math.Max(math.Abs(want), tol)
}

// figure prints thirteen significant digits: enough for every tolerance in the
// tables, and not so many that another machine's last digits show.
func figure(v float64) string { return strconv.FormatFloat(v, 'g', 13, 64) }

// halfLastDigit is half of the place of the last digit printed.
func halfLastDigit(s string) float64 {
	mantissa, exp, _ := strings.Cut(strings.ToLower(s), "e")
	e, _ := strconv.Atoi(exp)
	if i := strings.IndexByte(mantissa, '.'); i >= 0 {
		e -= len(mantissa) - i - 1
	}
	return 0.5 * math.Pow(10, float64(e)) * (1 + 1e-9)
}

func writeOurs(path string, answers []Answer) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	w := csv.NewWriter(f)
	records := [][]string{{"id", "ours"}}
	for _, a := range answers {
		records = append(records, []string{a.ID, a.text})
	}
	if err := w.WriteAll(records); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// compareOurs says where the file of our answers is not what we compute now.
func compareOurs(path string, answers []Answer) (problems []string) {
	ours, err := ReadOurs(path)
	if err != nil {
		return []string{err.Error() + ": run the tests with EVENLOT_UPDATE=1"}
	}
	for _, a := range answers {
		b, ok := ours[a.ID]
		near := func(x, y float64) bool { return within(x, y, 1.1e-5*math.Abs(y)) || within(x, y, 1e-300) }
		if !ok || !near(a.Lo, b.Lo) || !near(a.Hi, b.Hi) {
			problems = append(problems, fmt.Sprintf("%s: row %s is %q there and %s now: run the tests with EVENLOT_UPDATE=1 and look at the change", path, a.ID, b.text, a.text))
		}
		delete(ours, a.ID)
	}
	for id := range ours {
		problems = append(problems, fmt.Sprintf("%s: row %s is in no table", path, id))
	}
	return problems
}
