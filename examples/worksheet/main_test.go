package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
)

// The answers are those of the class's own arithmetic, done here with the
// numbers read back from the printed questions.
func TestAnswersByHand(t *testing.T) {
	for seed := range uint64(300) {
		var b bytes.Buffer
		if err := sheet(&b, seed, true); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		lines := strings.Split(b.String(), "\n")
		at := func(i int) (question, answer string) { return lines[2+4*i], strings.TrimSpace(lines[3+4*i]) }
		near := func(got, want, tol float64) {
			t.Helper()
			if !(math.Abs(got-want) <= tol) {
				t.Errorf("seed %d: the sheet says %v, by hand %v\n%s", seed, got, want, b.String())
			}
		}
		scan := func(text, pattern string, v ...any) {
			t.Helper()
			if n, err := fmt.Sscanf(text, pattern, v...); n != len(v) {
				t.Fatalf("%q: %v", text, err)
			}
		}
		var x, y, z, w, got, dry float64

		q, a := at(0)
		scan(q, "1. A recipe says 1:%f. How much water goes on %f g", &x, &y)
		scan(a, "%f g", &got)
		near(got, x*y, 0.006)

		q, a = at(1)
		scan(q, "2. A lot has %f %%", &x)
		scan(a, "%f g", &got)
		near(got, 100*x/(100-x), 0.006)

		q, a = at(2)
		scan(q, "3. %f kg of green at %f %% moisture become %f kg of roasted at %f %%.", &x, &y, &z, &w)
		scan(a, "%f %% of the mass, %f %% of the dry matter", &got, &dry)
		near(got, 100*(x-z)/x, 0.006)
		near(dry, 100-100*z*(100-w)/(x*(100-y)), 0.006)

		q, a = at(3)
		scan(q, "4. A bag holds %f mL of air around the beans. Each flush adds %f mL", &x, &y)
		scan(a, "%f, which leave %f %%", &got, &dry)
		oxygen, n := 20.946, 0.0
		for ; oxygen > 2; n++ {
			oxygen = (x*oxygen + y*0.1) / (x + y)
		}
		near(got, n, 0)
		near(dry, oxygen, 0.006)

		q, a = at(4)
		scan(q, "5. A cupping bowl of %f g and %f g of water measures %f %%.", &x, &y, &z)
		scan(a, "%f %%", &got)
		near(got, y*z/(100-z)*100/x, 0.06)
	}
}

func TestSheets(t *testing.T) {
	var class, again, other, answers bytes.Buffer
	for _, c := range []struct {
		b       *bytes.Buffer
		seed    uint64
		answers bool
	}{{&class, 7, false}, {&again, 7, false}, {&other, 8, false}, {&answers, 7, true}} {
		if err := sheet(c.b, c.seed, c.answers); err != nil {
			t.Fatal(err)
		}
	}
	if class.String() != again.String() || class.String() == other.String() {
		t.Error("a sheet is not made by its seed alone")
	}
	if strings.Count(class.String(), "____") == 0 || strings.Contains(answers.String(), "____") {
		t.Error("lines and answers are exchanged")
	}
	for line := range strings.Lines(class.String()) {
		if strings.HasSuffix(line, "?\n") && !strings.Contains(answers.String(), line) {
			t.Errorf("the answers are to another question than %q", line)
		}
	}
}
