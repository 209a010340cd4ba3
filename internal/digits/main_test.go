package main

import (
	"bytes"
	"testing"
)

func TestCompareHasTeeth(t *testing.T) {
	line := "c\texample\tm\t10.9 ± 0.8\t10.9\t0.4\n"
	for name, c := range map[string]struct {
		there string
		same  bool
	}{
		"the same":            {line, true},
		"a last digit":        {"c\texample\tm\t10.9 ± 0.8\t10.900000000000002\t0.4\n", true},
		"a digit that counts": {"c\texample\tm\t10.9 ± 0.8\t10.9000000001\t0.4\n", false},
		"an uncertainty":      {"c\texample\tm\t10.9 ± 0.8\t10.9\t0.41\n", false},
		"another text":        {"c\texample\tm\t10.90 ± 0.8\t10.9\t0.4\n", false},
		"no number":           {"c\texample\tm\t10.9 ± 0.8\tNaN\t0.4\n", false},
		"a word":              {"c\texample\tm\tin of 10 to 12 %\n", false},
		"a line more":         {line + line, false},
		"nothing":             {"", false},
	} {
		if _, _, problems := compare([]byte(line), []byte(c.there)); (problems == nil) != c.same {
			t.Errorf("%s: %v", name, problems)
		}
	}
}

// The same platform gives the same sheets twice, and they hold every
// calculator.
func TestTwice(t *testing.T) {
	if testing.Short() {
		t.Log("in short mode the sheets are made once, by the command")
		return
	}
	var a, b bytes.Buffer
	sheets(&a)
	sheets(&b)
	if !bytes.Equal(a.Bytes(), b.Bytes()) || bytes.Count(a.Bytes(), []byte("\n")) < 1000 {
		t.Errorf("%d and %d bytes", a.Len(), b.Len())
	}
}
