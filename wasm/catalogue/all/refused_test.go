package all

import (
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
)

// Names of the packages' fields, and what is no number.
var goName = regexp.MustCompile(`\b[A-Z]?[a-z]+[A-Z]\w*|\w\.\w*[A-Z]|NaN|Inf|%!`)

var looksLikeGo = strings.NewReplacer("pH", "", "kPa", "", "mL", "", "mS", "", "mPa", "", "cP", "", "°Brix", "")

// said are all the words of refusal in a sheet.
func said(s catalogue.Sheet) []string {
	texts := []string{s.Problem}
	for _, f := range s.Faults {
		texts = append(texts, f.Text)
	}
	return texts
}

// Wherever a field is moved, what is refused is told in the form's words, and
// no value is refused that lies inside the range that it is told to lie in.
func TestRefusalsSpeakTheFormsLanguage(t *testing.T) {
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
				for _, text := range said(c.Eval(state, nil)) {
					plain := strings.ReplaceAll(looksLikeGo.Replace(text), "−", "-")
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

// The same with many fields moved at once.
func TestRefusalsOfManyFields(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	pick := func(list ...string) string { return list[random.IntN(len(list))] }
	for _, c := range Calculators() {
		for range 60 {
			state := c.Example()
			for _, f := range c.Fields {
				if random.IntN(3) > 0 {
					continue
				}
				switch f.Kind {
				case catalogue.Number:
					part := []float64{0, 0.001, 0.1, 0.5, 0.9, 1}[random.IntN(6)]
					state[f.ID] = pick("", catalogue.Shortest(f.Min+part*(f.Max-f.Min)))
				case catalogue.Choice:
					state[f.ID] = f.Choices[random.IntN(len(f.Choices))].ID
				case catalogue.Moment:
					state[f.ID] = pick("", "2026-11-25T14:30", "1999-01-01T00:00", "2090-01-01T00:00")
				case catalogue.Series:
					state[f.ID] = pick("", "1 2 3\n2 3 4\n3 4 5", "0 0 0\n0 0 0\n0 0 0", "10 8\n11 9\n12 9.5\n13 10")
				}
			}
			for _, text := range said(c.Eval(state, nil)) {
				if name := goName.FindString(looksLikeGo.Replace(text)); name != "" {
					t.Errorf("%s: %q in %q with %v", c.ID, name, text, state)
				}
			}
		}
	}
}
