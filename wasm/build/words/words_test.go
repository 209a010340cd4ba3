package words

import (
	"encoding/json"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.org/evenlot/degas"
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"example.org/evenlot/wasm/page"
)

var root = filepath.Join("..", "..", "..")

func table(t *testing.T, code string) map[string]string {
	t.Helper()
	text, err := page.Files.ReadFile("words/" + code + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var words map[string]string
	if err := json.Unmarshal(text, &words); err != nil {
		t.Fatal(err)
	}
	return words
}

var gap = regexp.MustCompile(`\{\d?\}`)

// Every text has its translation, and every translation its text. With
// EVENLOT_UPDATE=1 the entries that no text asks for any more are taken out,
// and those that lack stand in the table untranslated, to be filled in.
func TestComplete(t *testing.T) {
	keys, err := Keys(root)
	if err != nil {
		t.Fatal(err)
	}
	if len(keys) < 3000 {
		t.Errorf("only %d texts were found", len(keys))
	}
	update := os.Getenv("EVENLOT_UPDATE") == "1"
	for _, code := range []string{"es"} {
		words := table(t, code)
		for _, k := range slices.Sorted(maps.Keys(keys)) {
			w, ok := words[k]
			switch {
			case !ok:
				t.Errorf("%s lacks %q (%s)", code, k, strings.Join(keys[k], ", "))
				words[k] = k
			case w == k && len(strings.Fields(k)) > 3 && !sameEverywhere[k]:
				t.Errorf("%s: %q is not translated", code, k)
			case strings.TrimSpace(w) != w || w == "":
				t.Errorf("%s: %q is empty or has blanks at its ends", code, k)
			}
			if a, b := gaps(k), gaps(words[k]); !slices.Equal(a, b) {
				t.Errorf("%s: %q has the gaps %v, its translation %v", code, k, a, b)
			}
			if a, b := end(k), end(words[k]); a != b {
				t.Errorf("%s: %q ends as %q, its translation as %q", code, k, a, b)
			}
		}
		for _, k := range slices.Sorted(maps.Keys(words)) {
			if keys[k] == nil {
				t.Errorf("%s: nothing says %q any more", code, k)
				delete(words, k)
			}
		}
		if update {
			write(t, code, words)
		}
	}
}

// sameEverywhere are the long texts that need no translation.
var sameEverywhere = map[string]bool{}

// gaps lists what a pattern takes, as numbers.
func gaps(s string) []string {
	list := gap.FindAllString(s, -1)
	for i, g := range list {
		if g == "{}" {
			list[i] = "{" + string(rune('1'+i)) + "}"
		}
	}
	slices.Sort(list)
	return list
}

// end is a sentence's last sign: texts are glued by it.
func end(s string) string {
	if n := len(s); n > 0 && strings.ContainsRune(".?:", rune(s[n-1])) {
		return s[n-1:]
	}
	return ""
}

func write(t *testing.T, code string, words map[string]string) {
	t.Helper()
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(words); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(root, "wasm", "page", "words", code+".json"), []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The page is answered in a made-up language in which every letter of every
// text is one: what still reads as English did not go through the table.
func TestNothingStaysEnglish(t *testing.T) {
	keys, err := Keys(root)
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]string{}
	for k := range keys {
		words[k] = masked(k)
	}
	locale := catalogue.Locale{Words: words, Comma: true}
	random := rand.New(rand.NewPCG(1, 2))
	said := map[string]bool{}
	for _, c := range all.Calculators() {
		quiet := strings.NewReplacer(untouched(c)...)
		try := func(s catalogue.State) {
			sheet := c.EvalFor(s, locale)
			for _, text := range texts(sheet) {
				text = quiet.Replace(markup.ReplaceAllString(text, " "))
				if m := english.FindString(text); m != "" && !said[c.ID+m] {
					said[c.ID+m] = true
					t.Errorf("%s says %q in %.200q", c.ID, m, text)
				}
			}
		}
		try(c.Example())
		for _, f := range c.Form() {
			for _, typed := range []string{"", "abc", "-5", "0", "1.234"} {
				s := c.Example()
				s[f.ID] = typed
				try(s)
			}
			for _, o := range f.Choices {
				s := c.Example()
				s[f.ID] = o.ID
				try(s)
			}
			if f.Kind == catalogue.Series {
				for _, typed := range []string{"10", "10 11\n11 12", "5 5 5\n5 5 5\n5 5 5\n5 5 5", "3 4\n4 5\n5 6\n6 7\n7 8", "9 8\n8 7\n7 6\n1 2\nx"} {
					s := c.Example()
					s[f.ID] = typed
					try(s)
				}
			}
			if f.Kind != catalogue.Number {
				continue
			}
			for _, v := range []float64{f.Min, f.Max, 2 * f.Max} {
				s := c.Example()
				s[f.ID] = strings.ReplaceAll(catalogue.Shortest(v), "−", "-")
				try(s)
			}
		}
		for range 40 { // several fields at once
			s := c.Example()
			for _, f := range c.Form() {
				switch {
				case random.IntN(3) > 0:
				case f.Kind == catalogue.Number:
					part := []float64{0, 0.001, 0.1, 0.5, 0.9, 1}[random.IntN(6)]
					s[f.ID] = strings.ReplaceAll(catalogue.Shortest(f.Min+part*(f.Max-f.Min)), "−", "-")
				case f.Kind == catalogue.Choice:
					s[f.ID] = f.Choices[random.IntN(len(f.Choices))].ID
				}
			}
			try(s)
		}
	}
}

// masked puts a letter of no English word for every letter, and keeps gaps.
func masked(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return 'ж'
		}
		return r
	}, s)
}

var (
	english = regexp.MustCompile(`[A-Za-z]{4,}`)
	// Markup, symbols with an index, and the Go names of what no field asks for.
	markup = regexp.MustCompile(`(?s)<[^>]*>|&[a-z]+;|\pL+_\pL+|\b[A-Z]\w*(\.\w+)* жж`)
)

// untouched are what a sheet repeats as it stands: names of sources, what was
// typed, and the signs that formulas and units are written in.
func untouched(c *catalogue.Calculator) []string {
	list := []string{"mmHg", "", "°Brix", "", "sqrt", "", "log", "", "AICc", "", "1.234", ""}
	for _, f := range c.Form() {
		if f.Kind == catalogue.Words && f.Example != "" {
			list = append(list, f.Example, "")
		}
	}
	for _, r := range degas.RestClaims() {
		list = append(list, r.Source, "")
	}
	for _, d := range moisture.DryLossByDegree() {
		list = append(list, d.Source, "")
	}
	for _, s := range c.Sources {
		list = append(list, s.Name, "", s.Locator+" ", " ")
	}
	for _, l := range c.Limits {
		list = append(list, l.Source.Name, "", l.Source.Locator, "")
	}
	var out []string
	for i := 0; i < len(list); i += 2 {
		if strings.TrimSpace(list[i]) != "" {
			out = append(out, list[i], list[i+1])
		}
	}
	return out
}

// texts lists what a sheet shows.
func texts(s catalogue.Sheet) []string {
	list := append([]string{s.Problem, s.Reason}, s.Notes...)
	for _, f := range s.Faults {
		list = append(list, f.Text)
	}
	for _, v := range s.Values {
		list = append(list, v.Label, v.Unit, v.Group, v.Text)
		for _, x := range v.Shares {
			list = append(list, x.Label)
		}
	}
	for _, v := range s.Verdicts {
		list = append(list, v.Label, v.Limit, v.Source, v.Caution, v.MaxPlusMinus)
	}
	for _, m := range s.Missing {
		list = append(list, m.Group, m.What)
	}
	tables := slices.Clone(s.Tables)
	for _, f := range s.Figures {
		list = append(list, f.SVG)
		tables = append(tables, f.Table)
	}
	for _, x := range tables {
		list = append(list, x.Title)
		list = append(list, x.Head...)
		for _, r := range x.Rows {
			list = append(list, r...)
		}
	}
	for _, l := range s.Working {
		list = append(list, l.Text)
	}
	for _, r := range s.Rows {
		list = append(list, r.Faults...)
	}
	for _, r := range s.Read {
		list = append(list, r.Text)
	}
	return list
}

// A page loads the words of its bundle alone: with these a calculator says
// what it says with all words, in its example, with each field empty, with
// letters in it, and far out of its range.
func TestNeededIsEnough(t *testing.T) {
	whole := table(t, "es")
	shared, of, err := Needed(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range all.Bundles() {
		part := map[string]string{}
		for _, k := range slices.Concat(shared, of[b.Name]) {
			if w, ok := whole[k]; ok {
				part[k] = w
			}
		}
		if len(part) > len(whole)/2 {
			t.Errorf("%s loads %d of %d words", b.Name, len(part), len(whole))
		}
		for _, c := range b.Calculators {
			same := func(s catalogue.State) {
				want := string(c.EvalFor(s, catalogue.Locale{Words: whole, Comma: true}).JSON())
				if got := string(c.EvalFor(s, catalogue.Locale{Words: part, Comma: true}).JSON()); got != want {
					i := 0
					for i < len(got) && i < len(want) && got[i] == want[i] {
						i++
					}
					i = max(0, i-60)
					t.Errorf("%s: %v\n%s\nand with all words\n%s", c.ID, s, got[i:min(len(got), i+160)], want[i:min(len(want), i+160)])
				}
			}
			same(c.Example())
			for _, f := range c.Form() {
				for _, typed := range []string{"", "x", "1e30", catalogue.Shortest(f.Min), catalogue.Shortest(f.Max)} {
					s := c.Example()
					s[f.ID] = typed
					same(s)
				}
			}
		}
	}
}
