package all

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
)

// Wherever a field is moved, what is refused is told in the form's words, and
// no value is refused that lies inside the range that it is told to lie in.
func TestRefusalsSpeakTheFormsLanguage(t *testing.T) {
	goName := regexp.MustCompile(`\b[A-Z]?[a-z]+[A-Z]\w*|\w\.\w*[A-Z]|NaN|Inf|%!`)
	range_ := regexp.MustCompile(`^(.+) (?:is|comes to) (-?[\d.e+-]+)( \S+)?; it takes (-?[\d.e+-]+)(?: to (-?[\d.e+-]+))?`)
	for _, c := range Calculators() {
		example := c.Example()
		for _, f := range c.Fields {
			if f.Kind != catalogue.Number {
				continue
			}
			width := f.Max - f.Min
			for _, x := range []float64{f.Min, f.Min + 1e-4*width, f.Min + 0.01*width, f.Min + width/2, f.Max - 0.01*width, f.Max} {
				state := catalogue.State{}
				for k, v := range example {
					state[k] = v
				}
				state[f.ID] = catalogue.Shortest(x)
				s := c.Eval(state, nil)
				texts := []string{s.Problem}
				for _, refused := range s.Faults {
					texts = append(texts, refused.Text)
				}
				for _, text := range texts {
					plain := strings.ReplaceAll(text, "−", "-")
					for _, w := range []string{"pH", "kPa", "mL", "mS", "mPa", "cP", "°Brix"} {
						plain = strings.ReplaceAll(plain, w, "")
					}
					if name := goName.FindString(plain); name != "" && !strings.Contains(text, "reads "+state[f.ID]) {
						t.Errorf("%s, %s at %s: %q in %q", c.ID, f.ID, state[f.ID], name, text)
					}
					m := range_.FindStringSubmatch(plain)
					if m == nil || strings.Contains(text, "The reason:") {
						continue
					}
					v, err := strconv.ParseFloat(m[2], 64)
					lo, err2 := strconv.ParseFloat(m[4], 64)
					hi, err3 := strconv.ParseFloat(m[5], 64)
					if err == nil && err2 == nil && err3 == nil && v >= lo && v <= hi {
						t.Errorf("%s, %s at %s: refused inside its range: %q", c.ID, f.ID, state[f.ID], text)
					}
				}
			}
		}
	}
}
