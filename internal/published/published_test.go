package published

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWithinHasTeeth(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, v := range [][3]float64{{nan, 1, 9}, {1, nan, 9}, {1, 1, nan}, {inf, 1, 9}, {inf, inf, 9}, {1.0001, 1, 1e-5}} {
		if within(v[0], v[1], v[2]) {
			t.Errorf("within(%v) passed", v)
		}
	}
	for _, v := range [][3]float64{{1, 1, 0}, {1.05, 1.1, 0.05}, {876.65, 876.7, 0.05}} {
		if !within(v[0], v[1], v[2]) {
			t.Errorf("within(%v) failed", v)
		}
	}
}

const top = "id,quantity,inputs,value,unit,tolerance,source,locator,provenance,note\n"

func double(in *Inputs) (float64, error) { return 2 * in.Float("X"), nil }

// Each table here must be refused, for the reason named.
func TestRunHasTeeth(t *testing.T) {
	good := top + "a,twice,X=2 g,4,g,0.5,Book,p. 1,opened,\n"
	for name, c := range map[string]struct {
		table  string
		claims map[string]Claim
		want   string // part of the problem; "" is none
	}{
		"good":              {good, map[string]Claim{"twice": Number(double)}, ""},
		"wrong function":    {good, map[string]Claim{"twice": Constant(5)}, "its claim never asks for input X"},
		"wrong value":       {good, map[string]Claim{"twice": Number(func(in *Inputs) (float64, error) { return 3 * in.Float("X"), nil })}, "ours 6, theirs 4"},
		"NaN":               {good, map[string]Claim{"twice": Number(func(in *Inputs) (float64, error) { return math.Sqrt(-in.Float("X")), nil })}, "ours NaN"},
		"claim errs":        {good, map[string]Claim{"twice": Number(func(in *Inputs) (float64, error) { in.Float("X"); return 4, errors.New("broken") })}, "broken"},
		"missing input":     {top + "a,twice,Y=2 g,4,g,0.5,Book,,opened,\n", map[string]Claim{"twice": Number(double)}, "there is no input X"},
		"unclaimed row":     {good, map[string]Claim{}, "no function claims"},
		"claim without row": {good, map[string]Claim{"twice": Number(double), "thrice": Constant(1)}, `"thrice" has no row`},
		"unknown column":    {strings.Replace(good, "note", "notes", 1), map[string]Claim{"twice": Number(double)}, "columns are"},
		"empty":             {top, map[string]Claim{"twice": Number(double)}, "empty"},
		"no source":         {top + "a,twice,X=2 g,4,g,0.5,,,opened,\n", map[string]Claim{"twice": Number(double)}, "names no source"},
		"bad provenance":    {top + "a,twice,X=2 g,4,g,0.5,Book,,seen,\n", map[string]Claim{"twice": Number(double)}, "provenance"},
		"same id":           {good + "a,twice,X=2 g,4,g,0.5,Book,,opened,\n", map[string]Claim{"twice": Number(double)}, "stands twice"},
		"negative tol":      {top + "a,twice,X=2 g,4,g,-0.5,Book,,opened,\n", map[string]Claim{"twice": Number(double)}, "negative"},
		"range":             {top + "a,span,,1..3,g,0,Book,,opened,\n", map[string]Claim{"span": Limits(1, 3)}, ""},
		"wrong range":       {top + "a,span,,1..3,g,0,Book,,opened,\n", map[string]Claim{"span": Limits(1, 4)}, "theirs 1..3"},
		"disagreement":      {top + `a,twice,X=2 g,5,g,0.5,Book,,opened,"disagrees: ours 4.0; misprint"` + "\n", map[string]Claim{"twice": Number(double)}, ""},
		"now agreed":        {top + `a,twice,X=2 g,4,g,0.5,Book,,opened,"disagrees: ours 4.0; misprint"` + "\n", map[string]Claim{"twice": Number(double)}, "mend the note"},
		"moved":             {top + `a,twice,X=2 g,5,g,0.5,Book,,opened,"disagrees: ours 4.2; misprint"` + "\n", map[string]Claim{"twice": Number(double)}, "the note says ours is 4.2"},
	} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "published.csv"), []byte(c.table), 0o644); err != nil {
			t.Fatal(err)
		}
		_, problems := check(dir, c.claims)
		got := strings.Join(problems, "\n")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: problems are %q, want %q", name, got, c.want)
		}
	}
}

func TestOursHasTeeth(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ours.csv")
	if err := writeOurs(path, []Answer{{ID: "a", Lo: 4, Hi: 4, text: "4"}, {ID: "b", Lo: 1, Hi: 1, text: "1"}}); err != nil {
		t.Fatal(err)
	}
	if p := compareOurs(path, []Answer{{ID: "a", Lo: 4, Hi: 4}, {ID: "b", Lo: 1, Hi: 1}}); len(p) != 0 {
		t.Errorf("equal answers: %v", p)
	}
	if p := compareOurs(path, []Answer{{ID: "a", Lo: 4.001, Hi: 4.001}}); len(p) != 2 {
		t.Errorf("a moved and a missing answer: %v", p)
	}
}

func TestDocsHasTeeth(t *testing.T) {
	dir := t.TempDir()
	src := `package p
// A does.
func A(x float64) float64 { return x }
func B() {}
// C is fine.
//
// Source: a book.
func C(x float64) float64 { return x }
type T struct { MassG float64; Bare float64; Told float64 // told, g
}
const Loose = 3
`
	if err := os.WriteFile(filepath.Join(dir, "p.go"), []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	got := strings.Join(undocumented(dir), "\n")
	for _, want := range []string{"A names no Source", "B has no doc", "Bare is a number", "Loose is a constant"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not found in %s", want, got)
		}
	}
	if strings.Contains(got, " C ") || strings.Contains(got, "Told") || strings.Contains(got, "MassG") {
		t.Errorf("too strict: %s", got)
	}
}
