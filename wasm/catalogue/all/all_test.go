package all

import (
	"encoding/json"
	"encoding/xml"
	"example.org/evenlot/wasm/catalogue"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
)

// number is an output's number in a sheet; NaN when it is not there.
func number(s catalogue.Sheet, output string) float64 {
	for _, v := range s.Values {
		if v.ID == output {
			return v.Number
		}
	}
	return math.NaN()
}

func TestEveryExampleComputes(t *testing.T) {
	for _, c := range Calculators() {
		sheet := c.Eval(c.Example(), nil)
		if sheet.Problem != "" || len(sheet.Faults) > 0 {
			t.Errorf("%s: %q %v", c.ID, sheet.Problem, sheet.Faults)
			continue
		}
		if len(sheet.Values) == 0 {
			t.Errorf("%s gives no value", c.ID)
		}
		if len(sheet.Working) == 0 {
			t.Errorf("%s shows no working", c.ID)
		}
		check(t, c, sheet)
	}
}

// check is what must hold for every sheet with an answer.
func check(t *testing.T, c *catalogue.Calculator, sheet catalogue.Sheet) {
	t.Helper()
	for _, v := range sheet.Values {
		if v.Text == "" || strings.Contains(v.Text, "NaN") || strings.Contains(v.Text, "Inf") || math.IsInf(v.Number, 0) || math.IsNaN(v.U) || math.IsInf(v.U, 0) {
			t.Errorf("%s: %s is %q, %v ± %v", c.ID, v.ID, v.Text, v.Number, v.U)
		}
	}
	for _, l := range sheet.Working {
		if strings.Contains(l.Text, "NaN") || strings.Contains(l.Text, "Inf") {
			t.Errorf("%s: working %q", c.ID, l.Text)
		}
		wellFormed(t, c.ID+" working", l.MathML)
	}
	for _, f := range sheet.Figures {
		wellFormed(t, c.ID+" figure", f.SVG)
		if strings.Contains(f.SVG, "NaN") || strings.Contains(f.SVG, "style=") {
			t.Errorf("%s: the figure holds NaN or a style attribute", c.ID)
		}
		if len(f.Table.Head) == 0 {
			t.Errorf("%s: a figure without a table behind it", c.ID)
		}
	}
	if !json.Valid(sheet.JSON()) {
		t.Errorf("%s: the sheet is no JSON: %s", c.ID, sheet.JSON())
	}
}

func wellFormed(t *testing.T, what, markup string) {
	t.Helper()
	for d := xml.NewDecoder(strings.NewReader(markup)); ; {
		_, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%s is not well formed: %v\n%.300s", what, err, markup)
			return
		}
	}
}

// hostile is what a tired, hurried or hostile hand may leave in a field.
var hostile = []string{"", "abc", "-5", "0", "1e400", "9999999999999999999999", "NaN", "Inf", "1e-320", "10,5", "0.000000000000000000000001",
	"−3", "1,234", "1.234,5", "--5", "5o", strings.Repeat("9", 500), "\x00", "<b>7</b>", "٣", "1 2", "1 250", "+.5", "5."}

// Every field of every calculator with every hostile input, and its limits
// and the places just beyond: a fault beside a field, a stated problem, or a
// finite answer. With -short every third input.
func TestHostileInput(t *testing.T) {
	for _, c := range Calculators() {
		t.Run(c.ID, func(t *testing.T) {
			t.Parallel()
			turn := 0
			try := func(key, typed string) {
				if turn++; testing.Short() && turn%3 != 0 {
					return
				}
				s := c.Example()
				s[key] = typed
				sheet := c.Eval(s, nil)
				for _, ft := range sheet.Faults {
					if ft.Text == "" || !strings.HasSuffix(ft.Text, ".") {
						t.Errorf("%s = %q: fault %+v", key, typed, ft)
					}
				}
				if len(sheet.Faults) > 0 || sheet.Problem != "" {
					return
				}
				if len(sheet.Values) == 0 && len(sheet.Missing) == 0 {
					t.Errorf("%s = %q says nothing at all", key, typed)
				}
				check(t, c, sheet)
			}
			for _, f := range c.Form() {
				for _, h := range hostile {
					try(f.ID, h)
				}
				if f.Kind != catalogue.Number {
					continue
				}
				for _, v := range []float64{f.Min, f.Max, math.Nextafter(f.Min, math.Inf(-1)), math.Nextafter(f.Max, math.Inf(1)), 2 * f.Max} {
					try(f.ID, strings.ReplaceAll(catalogue.Shortest(v), "−", "-"))
				}
				for _, h := range []string{"abc", "-1", "0", "0,1", "1e-320", strings.Repeat("9", 500)} {
					try(f.ID+".pm", h)
				}
				try(f.ID+".unit", "furlong")
			}
		})
	}
}

func TestCatalogueIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Calculators() {
		if seen[c.ID] || c.ID == "" || c.ID != strings.ToLower(c.ID) || strings.ContainsAny(c.ID, " _/.") {
			t.Errorf("address %q stands twice or is none", c.ID)
		}
		seen[c.ID] = true
		if c.Name == "" || !strings.HasSuffix(c.Question, "?") || len(c.Outputs) == 0 || len(c.Sources) == 0 {
			t.Errorf("%s lacks a name, a question, an output or a source", c.ID)
		}
		ids := map[string]bool{}
		for _, f := range c.Form() {
			if ids[f.ID] || f.ID == "" || strings.ContainsAny(f.ID, ". ") {
				t.Errorf("%s: field %q stands twice or is none", c.ID, f.ID)
			}
			ids[f.ID] = true
			if f.Label == "" || f.Help == "" {
				t.Errorf("%s: field %s has no label or no help", c.ID, f.ID)
			}
			if f.Kind == catalogue.Number && !(f.Min < f.Max) {
				t.Errorf("%s: field %s takes %v to %v", c.ID, f.ID, f.Min, f.Max)
			}
			if f.Example == "" && !f.Optional {
				t.Errorf("%s: field %s has no example", c.ID, f.ID)
			}
			if f.Kind == catalogue.Choice && len(f.Choices) == 0 || f.Kind == catalogue.Series && len(f.Columns) == 0 {
				t.Errorf("%s: field %s has nothing to choose or no columns", c.ID, f.ID)
			}
		}
		for _, s := range c.Sources {
			switch s.Provenance {
			case "opened", "quoted", "memory", "common practice", "derived":
			default:
				t.Errorf("%s: source %q has provenance %q", c.ID, s.Name, s.Provenance)
			}
		}
		for _, l := range c.Limits {
			if l.Source.Name == "" && l.Source.Provenance == "" && (l.Lo == l.Lo || l.Hi == l.Hi) {
				t.Errorf("%s: the limit on %s names no source", c.ID, l.Output)
			}
		}
	}
}

// Solving for each field, with its own example's answer as the target, gives
// the example back, or another value that answers as well.
func TestSolveInverts(t *testing.T) {
	for _, c := range Calculators() {
		at := c.Eval(c.Example(), nil)
		for _, f := range c.Solvable() {
			if f.Example == "" {
				continue
			}
			for _, v := range at.Values {
				if math.IsNaN(v.Number) || v.U == 0 || !slices.ContainsFunc(v.Shares, func(s catalogue.Share) bool { return s.Label == f.Label && s.Pct > 1 }) {
					continue
				}
				target := strings.ReplaceAll(catalogue.Shortest(v.Number), "−", "-")
				if len(target) > 30 {
					continue
				}
				text, why := c.Solve(c.Example(), catalogue.Locale{}, f.ID, v.ID, target)
				if why != "" {
					t.Errorf("%s: solving %s for %s = %s: %s", c.ID, f.ID, v.ID, target, why)
					continue
				}
				s := c.Example()
				s[f.ID] = text
				if back := number(c.Eval(s, nil), v.ID); !(math.Abs(back-v.Number) <= 2*v.U+1e-3*math.Abs(v.Number)) {
					t.Errorf("%s: %s = %s gives %s = %v, want %v", c.ID, f.ID, text, v.ID, back, v.Number)
				}
			}
		}
	}
}

// A unit other than the base gives the same answer.
func TestUnitsAgree(t *testing.T) {
	for _, c := range Calculators() {
		at := c.Eval(c.Example(), nil)
		for _, f := range c.Fields {
			if f.Kind != catalogue.Number || f.Example == "" {
				continue
			}
			for _, u := range catalogue.Units(f.Unit)[1:] {
				typed, ok := catalogue.Convert(f.Example, f.Unit, f.Unit, u)
				if !ok {
					t.Errorf("%s: %s = %s does not convert to %s", c.ID, f.ID, f.Example, u)
					continue
				}
				back, ok := catalogue.Convert(typed, f.Unit, u, f.Unit)
				if !ok {
					t.Errorf("%s: %s does not convert back from %s", c.ID, typed, u)
				}
				s := c.Example()
				s[f.ID], s[f.ID+".unit"] = typed, u
				sheet := c.Eval(s, nil)
				if sheet.Problem != "" || len(sheet.Faults) > 0 {
					continue // a rounding may leave the range at its very end
				}
				for i, v := range at.Values {
					if math.IsNaN(v.Number) || i >= len(sheet.Values) || v.U == 0 {
						continue
					}
					if got := sheet.Values[i].Number; !(math.Abs(got-v.Number) <= 8*v.U+0.05*math.Abs(v.Number)) {
						t.Errorf("%s: %s in %s (%s, back %s) gives %s = %v, want %v", c.ID, f.ID, u, typed, back, v.ID, got, v.Number)
					}
				}
			}
		}
	}
}

// What is shown while a hand types is what stands there afterwards: the brief
// sheet lacks working, notes, figures, tables, how fields were read and what the
// uncertainty of its further values is made of, and nothing else; the worked one
// lacks figures. What one
// sitting keeps from state to state changes nothing either: its sheets are
// those of a sitting that begins with the state. Each field of each form is
// tried empty, at both ends of its range, and at its example with another
// plus-minus and another unit. With -short every third field.
func TestBriefSaysTheSame(t *testing.T) {
	for _, c := range Calculators() {
		sitting := c.Sit(catalogue.Locale{})
		same := func(s catalogue.State) {
			t.Helper()
			got, want := sitting.Brief(s), c.Eval(s, nil)
			if w, g := string(want.JSON()), string(sitting.Whole(s).JSON()); w != g {
				t.Errorf("%s: %v\nfirst %s\nlater %s", c.ID, s, w, g)
			}
			noFigures := want
			noFigures.Figures = nil
			if w, g := string(noFigures.JSON()), string(sitting.Worked(s).JSON()); w != g {
				t.Errorf("%s: %v\nworked %s\nwhole  %s", c.ID, s, g, w)
			}
			if got.Working != nil || got.Notes != nil && len(got.Notes) > len(want.Notes) || got.Figures != nil || got.Tables != nil || got.Read != nil {
				t.Errorf("%s: %v: a brief sheet has more than its answer", c.ID, s)
			}
			want.Working, want.Notes, want.Figures, want.Tables, want.Read = nil, nil, nil, nil, nil
			for i := range want.Values {
				if i > 0 {
					want.Values[i].Shares = nil
				}
			}
			got.Notes = nil
			if w, g := string(want.JSON()), string(got.JSON()); w != g {
				t.Errorf("%s: %v\nbrief %s\nwhole %s", c.ID, s, g, w)
			}
		}
		same(c.Example())
		same(catalogue.State{})
		for i, f := range c.Form() {
			if testing.Short() && i%3 != 0 {
				continue
			}
			s := c.Example()
			s[f.ID] = ""
			same(s)
			if f.Kind == catalogue.Number {
				for _, v := range []float64{f.Min, f.Max} {
					s[f.ID] = catalogue.Shortest(v)
					same(s)
				}
				s[f.ID], s[f.ID+".pm"] = c.Example()[f.ID], "0.2"
				same(s)
				if units := catalogue.Units(f.Unit); len(units) > 0 {
					s[f.ID+".unit"] = units[len(units)-1]
					same(s)
				}
			}
			for _, o := range f.Choices {
				s[f.ID] = o.ID
				same(s)
			}
		}
	}
}
