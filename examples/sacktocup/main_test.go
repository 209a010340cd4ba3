package main

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue/lot"
)

// The figures that the program prints are those of the lot sheet on the page,
// at the same readings, to half of the last digit printed.
func TestSameAsThePage(t *testing.T) {
	var b bytes.Buffer
	sackToCup(&b)
	printed, half := map[string]float64{}, map[string]float64{}
	for line := range strings.Lines(b.String()) {
		if len(line) < 36 {
			continue
		}
		// The label takes 28 characters, all of them ASCII.
		digits, label := strings.Fields(line[28:])[0], strings.TrimSpace(line[:28])
		if v, err := strconv.ParseFloat(digits, 64); err == nil {
			_, places, _ := strings.Cut(digits, ".")
			printed[label], half[label] = v, 0.5*math.Pow10(-len(places))
		}
	}
	c := lot.Calculators()[0]
	sheet := c.Eval(c.Example(), nil)
	if sheet.Problem != "" || len(sheet.Faults) > 0 {
		t.Fatalf("the lot sheet does not compute: %q %v", sheet.Problem, sheet.Faults)
	}
	labels := map[string]string{
		"moisture": "moisture of the green", "emc": "moisture the store leads to", "loss": "roast loss", "dry": "dry-matter loss",
		"flushed": "oxygen after five flushes", "read": "oxygen read", "days": "rest before the cup", "ratio": "water per coffee", "yield": "extraction yield",
	}
	for _, v := range sheet.Values {
		label, ok := labels[v.ID]
		if !ok {
			continue
		}
		got, ok := printed[label]
		if !ok || !(math.Abs(got-v.Number) <= 1.0000001*half[label]) {
			t.Errorf("%s is %v here and %v on the page", label, got, v.Number)
		}
		delete(labels, v.ID)
	}
	if len(labels) > 0 {
		t.Errorf("the page does not give %v", labels)
	}
	if !strings.Contains(b.String(), "the lot: in\n") || !strings.HasPrefix(sheet.Overall, "release") {
		t.Errorf("the lot is %q on the page and here:\n%s", sheet.Overall, b.String())
	}
}
