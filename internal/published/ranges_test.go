package published

import (
	"strings"
	"testing"

	"example.org/evenlot/internal/fault"
)

type heap struct {
	MassG float64
	Count int
}

func TestRangesHasTeeth(t *testing.T) {
	good := func(h heap) (float64, error) {
		bad := fault.Float(nil, "MassG", h.MassG, 0.1, 50, "g")
		return 0, fault.Input(fault.Int(bad, "Count", h.Count, 1, 9, ""))
	}
	strict := func(h heap) (float64, error) { // refuses its own end
		if h.MassG > 0.1 && h.MassG <= 50 {
			return 0, nil
		}
		return 0, fault.Input([]*fault.FieldError{{Field: "MassG", Given: "x", Min: 0.1, Max: 50, Unit: "g"}})
	}
	lax := func(h heap) (float64, error) { // accepts more than it says
		if h.MassG >= 0.1 && h.MassG < 50.5 {
			return 0, nil
		}
		return 0, fault.Input([]*fault.FieldError{{Field: "MassG", Given: "x", Min: 0.1, Max: 50, Unit: "g"}})
	}
	for name, c := range map[string]struct {
		f    any
		want string
	}{"good": {good, ""}, "strict": {strict, "MassG at 0.1 (beyond: false) is refused: true"}, "lax": {lax, "MassG at 50 (beyond: true) is refused: false"}} {
		lines, problems := rangesOf("F", c.f)
		got := strings.Join(problems, "\n")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: %s", name, got)
		}
		if name == "good" && strings.Join(lines, "\n") != "F,Count,1,9,\nF,MassG,0.1,50,g" {
			t.Errorf("the ranges are %q", lines)
		}
	}
}
