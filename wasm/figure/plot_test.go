package figure

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

// wellFormed reads a figure as XML and returns its fault.
func wellFormed(s string) error {
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		if _, err := d.Token(); err != nil {
			if errors.Is(err, io.EOF) {
				return nil
			}
			return err
		}
	}
}

func TestZeroFigures(t *testing.T) {
	for name, s := range map[string]string{"plot": Plot{}.SVG(), "flow": Flow{}.SVG(), "strip": Strip{}.SVG()} {
		if err := wellFormed(s); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if !strings.Contains(s, "nothing to draw") {
			t.Errorf("%s: does not say that it is empty:\n%s", name, s)
		}
	}
}

func TestOneLine(t *testing.T) {
	s := Plot{Title: "Rise", Lines: []Line{{Name: "up", X: []float64{0, 1, 2}, Y: []float64{0, 1, 4}}}}.SVG()
	if err := wellFormed(s); err != nil || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
		t.Errorf("%v\n%s", err, s)
	}
}
