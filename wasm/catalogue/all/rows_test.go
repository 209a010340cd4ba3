package all

import (
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
)

// What a package refuses of a series is told with what was given, and with its
// row where one row is to blame.
func TestRefusedRowsAreTold(t *testing.T) {
	texts := []string{"10.1 11\n10.1 11\n9 8\n10.2 5", "10", "10 11 12", "10 11\n11 12", "5 5 5 5\n5 5 5 5\n5 5 5 5\n5 5 5 5", "3 4\n4 5\n5 6\n6 7\n7 8"}
	told := map[string]string{} // of each calculator, field and text
	for _, c := range Calculators() {
		for _, f := range c.Fields {
			if f.Kind != catalogue.Series {
				continue
			}
			for _, text := range texts {
				state := c.Example()
				state[f.ID] = text
				s := c.Eval(state, nil)
				said := s.Problem
				for _, fault := range s.Faults {
					if fault.Field == f.ID && !strings.HasPrefix(fault.Text, f.Label) {
						t.Errorf("%s, %q: %q", c.ID, text, fault.Text)
					}
					said += fault.Text
				}
				if strings.Contains(said, " ;") || strings.Contains(said, " is .") {
					t.Errorf("%s, %q: says nothing of what was given: %q", c.ID, text, said)
				}
				told[c.ID+" "+f.ID+" "+text] = said
			}
		}
	}
	for at, want := range map[string]string{
		"store-log log " + texts[0]:        "Record: row 2 of those that read well says 10.1 h; it takes 10.1 to 1000000 h.",
		"store-log log " + texts[3]:        "No summary: no two usable readings lie within a gap's length of each other.",
		"drift-rate readings " + texts[3]:  "It is possible with 11 to 11.2 % in row 2 of those that read well: Readings of one lot.",
		"nozzle-fit rows " + texts[2]:      "Readings: 1 in all; it takes 3 to 500 bags.",
		"gas-jar rows " + texts[0]:         "Pressures: row 3 of those that read well says 9 days; it takes 10.1 to 3650 days.",
		"brew-plan pours " + texts[2]:      "Pours: 33 % in all; it takes 100 %.",
		"lot-sheet batches " + texts[5]:    "Other batches of the lot: row 1 of those that read well says 4 kg; it takes 0.001 to 3 kg. The reason: the roasted coffee weighs more than the green.",
		"roast-series batches " + texts[5]: "Batches of one roast, in order: row 1 of those that read well says 4 kg; it takes 0.001 to 3 kg.",
		"control-chart x " + texts[5]:      "No lines: the readings have no scatter; a finer meter would show some. It is possible with 1 to 4 readings unlike the one before: Readings.",
	} {
		if !strings.Contains(told[at], want) {
			t.Errorf("%s\nsays  %s\nwants %s", at, told[at], want)
		}
	}
}
