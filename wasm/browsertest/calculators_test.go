package browsertest

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
)

// control is the element in which a field is entered.
func control(c *catalogue.Calculator, f catalogue.Field) string { return c.ID + "-" + f.ID }

// Every calculator's page: its form has a named control for every field, its
// example gives what Go gives, digit for digit as shown, and the pictures
// that Go draws are there, each with the numbers behind it.
func TestEveryCalculator(t *testing.T) {
	for _, bundle := range all.Bundles() {
		t.Run(bundle.Name, func(t *testing.T) {
			t.Parallel()
			if len(bundle.Calculators) == 0 {
				t.Fatal("the bundle holds no calculator")
			}
			b := open(t, home)
			for _, c := range bundle.Calculators {
				t.Run(c.ID, func(t *testing.T) {
					b.t = t
					b.visit(c.ID + "/")
					b.hasForm(c)
					b.click("#example")
					sheet := c.Eval(c.Example(), nil)
					b.same(sheet)
					b.hasPictures(sheet)
					b.hasWorking(sheet)
					for _, text := range b.complaints() {
						t.Error(text)
					}
				})
			}
			b.t = t
		})
	}
}

// In every other language the answers are Go's in that language: its words,
// its decimal comma.
func TestLanguages(t *testing.T) {
	tables, err := filepath.Glob(filepath.Join("..", "page", "words", "*.json"))
	if err != nil || len(tables) == 0 {
		t.Fatalf("no tables of words: %v", err)
	}
	for _, path := range tables {
		code := strings.TrimSuffix(filepath.Base(path), ".json")
		t.Run(code, func(t *testing.T) {
			t.Parallel()
			words := map[string]string{}
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(text, &words); err != nil {
				t.Fatal(err)
			}
			say := func(english string) string {
				if w, ok := words[english]; ok {
					return w
				}
				return english
			}
			b := open(t, home)
			for _, c := range onePerBundle(t) {
				b.visit(code + "/" + c.ID + "/")
				if got := js[string](b, `document.documentElement.lang + ": " + document.querySelector("h1").textContent`); got != code+": "+say(c.Name) {
					t.Errorf("the page says %q", got)
				}
				b.click("#example")
				sheet := c.EvalFor(c.Example(), catalogue.Locale{Words: words, Comma: true})
				b.sameIn(sheet, say)
				b.hasWorking(sheet)
			}
			// The other language takes what is typed along, and back.
			last := onePerBundle(t)[0]
			b.visit(code + "/" + last.ID + "/")
			b.click("#example")
			b.click("a[data-language]")
			b.until(`document.documentElement.lang === "en" && document.documentElement.dataset.ready === "1"`)
			b.same(last.Eval(last.Example(), nil))
		})
	}
}

// hasForm checks the names by which every control is known to a screen
// reader: label, hint, unit.
func (b *tab) hasForm(c *catalogue.Calculator) {
	b.t.Helper()
	type control struct {
		Name, Label, Described, Tag, Unit string
	}
	list := js[[]control](b, `[...document.querySelectorAll("#form .ask :is(input[type=text], input[type=datetime-local], textarea, select:not(.unit))")].map((e) => ({
		Name: e.name, Label: (e.labels[0]?.textContent ?? "").trim(), Tag: e.localName,
		Described: (e.getAttribute("aria-describedby") ?? "").split(" ").map((id) => document.getElementById(id)?.textContent ?? "(no " + id + ")").join(" ").trim(),
		Unit: (e.parentElement.querySelector("select.unit option, .sign")?.textContent ?? "").trim(),
	}))`)
	find := func(name string) (control, bool) {
		i := slices.IndexFunc(list, func(x control) bool { return x.Name == name })
		if i < 0 {
			return control{}, false
		}
		return list[i], true
	}
	for _, f := range c.Form() {
		x, ok := find(f.ID)
		if !ok {
			b.t.Errorf("no control for the field %s", f.ID)
			continue
		}
		if !strings.HasPrefix(x.Label, f.Label) {
			b.t.Errorf("the field %s is labelled %q, not %q", f.ID, x.Label, f.Label)
		}
		if !strings.Contains(x.Described, f.Help) || strings.Contains(x.Described, "(no ") {
			b.t.Errorf("the field %s is described by %q, not by %q", f.ID, x.Described, f.Help)
		}
		if f.Kind == catalogue.Number && x.Unit != f.Unit {
			b.t.Errorf("the field %s shows the unit %q, not %q", f.ID, x.Unit, f.Unit)
		}
		want := map[catalogue.Kind]string{catalogue.Choice: "select", catalogue.Series: "textarea"}[f.Kind]
		if want == "" {
			want = "input"
		}
		if x.Tag != want {
			b.t.Errorf("the field %s is a %s, not a %s", f.ID, x.Tag, want)
		}
	}
	// No two elements of one name: labels and faults would point astray.
	if twice := js[[]string](b, `(() => { const n = {}; for (const e of document.querySelectorAll("[id]")) n[e.id] = (n[e.id] ?? 0) + 1; return Object.keys(n).filter((k) => n[k] > 1); })()`); len(twice) > 0 {
		b.t.Errorf("ids stand twice: %v", twice)
	}
}

func (b *tab) hasPictures(sheet catalogue.Sheet) {
	b.t.Helper()
	type picture struct {
		Title, Role     string
		Wide, High      float64
		Rows, ShapesOut int
	}
	// They follow the answer.
	b.becomes(`String(document.querySelectorAll("#more figure").length)`, strconv.Itoa(len(sheet.Figures)))
	list := js[[]picture](b, `[...document.querySelectorAll("#more figure")].map((f) => {
		const svg = f.querySelector("svg"), r = svg?.getBoundingClientRect();
		return { Title: (svg?.querySelector("title")?.textContent ?? ""), Role: svg?.getAttribute("role") ?? "", Wide: r?.width ?? 0, High: r?.height ?? 0,
			Rows: f.querySelectorAll("tbody tr").length, ShapesOut: [...(svg?.querySelectorAll("text") ?? [])].filter((e) => { const q = e.getBoundingClientRect(); return q.right > r.right + 2 || q.left < r.left - 2 || q.bottom > r.bottom + 2 || q.top < r.top - 2; }).length };
	})`)
	if len(list) != len(sheet.Figures) {
		b.t.Fatalf("%d pictures are shown, Go draws %d", len(list), len(sheet.Figures))
	}
	for i, p := range list {
		if p.Title == "" || p.Role != "img" || p.Wide < 200 || p.High < 40 {
			b.t.Errorf("picture %d: %+v", i+1, p)
		}
		if p.Rows != len(sheet.Figures[i].Table.Rows) {
			b.t.Errorf("behind picture %d stand %d rows, Go has %d", i+1, p.Rows, len(sheet.Figures[i].Table.Rows))
		}
		if p.ShapesOut > 0 {
			b.t.Errorf("%d words of picture %d (%s) reach out of it", p.ShapesOut, i+1, p.Title)
		}
	}
}

// hasWorking opens the working and counts its lines; every one is set as
// mathematics and has a size.
func (b *tab) hasWorking(sheet catalogue.Sheet) {
	b.t.Helper()
	b.becomes(`String(document.querySelectorAll("#working-lines .line").length)`, strconv.Itoa(len(sheet.Working))) // it follows the answer
	flat := js[[]string](b, `(() => { const w = document.getElementById("working"); w.open = true;
		const lines = [...w.querySelectorAll(".line")]; const bad = lines.filter((l) => { const m = l.querySelector("math"); return !m || m.getBoundingClientRect().height < 8; }).map((l) => l.textContent);
		return [String(lines.length), ...bad]; })()`)
	if flat[0] != lit(len(sheet.Working)) || len(flat) > 1 {
		b.t.Errorf("the working has %s lines and Go's %d; not set as mathematics: %q", flat[0], len(sheet.Working), flat[1:])
	}
}
