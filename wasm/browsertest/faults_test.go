package browsertest

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
)

// A spoiled field and what is typed into it.
type spoiled struct {
	field       catalogue.Field
	kind, typed string
}

// beyond is a number outside a field's range.
func beyond(f catalogue.Field) string {
	if f.Max < 1e12 {
		return ascii(2*math.Abs(f.Max) + 1)
	}
	return ascii(f.Min - 1)
}

func ascii(v float64) string { return strings.ReplaceAll(catalogue.Shortest(v), "−", "-") }

// own lists a calculator's own numbers, without the limits.
func own(c *catalogue.Calculator) []catalogue.Field {
	return slices.DeleteFunc(slices.Clone(c.Fields), func(f catalogue.Field) bool { return f.Kind != catalogue.Number })
}

// onePerBundle is the first calculator of each bundle that has a number.
func onePerBundle(t *testing.T) []*catalogue.Calculator {
	t.Helper()
	var list []*catalogue.Calculator
	for _, bundle := range all.Bundles() {
		for _, c := range bundle.Calculators {
			if len(own(c)) > 0 {
				list = append(list, c)
				break
			}
		}
	}
	if len(list) == 0 {
		t.Fatal("no bundle has a calculator with a number")
	}
	return list
}

// readFault says how a field stands: its text, its fault, what a screen
// reader is told.
type readFault struct {
	Value, Fault, Invalid string
	Described, Beside     bool
	Marked                bool // by its border, which is not as on other fields
}

func (b *tab) fault(id string) readFault {
	b.t.Helper()
	return js[readFault](b, `(() => { const e = document.getElementById(`+lit(id)+`), f = document.getElementById(`+lit(id+"-fault")+`);
const a = e.getBoundingClientRect(), c = f.getBoundingClientRect(), others = [...document.querySelectorAll("#form .enter input:not([aria-invalid])")].map((x) => getComputedStyle(x).borderTopColor);
return { Value: e.value, Marked: !others.includes(getComputedStyle(e).borderTopColor), Fault: f.textContent, Invalid: e.getAttribute("aria-invalid") ?? "",
  Described: (e.getAttribute("aria-describedby") ?? "").split(" ").includes(f.id),
  Beside: f.textContent !== "" && c.height > 0 && Math.abs(c.left - a.left) < 80 && a.top - c.bottom < 60 && a.top >= c.bottom - 1 }; })()`)
}

// A broken field keeps what was typed, says beside itself what is wrong, in
// the catalogue's own words, and is named in the summary when the button is
// pressed; a mended field loses its fault at once.
func TestBrokenField(t *testing.T) {
	for _, c := range onePerBundle(t) {
		t.Run(c.ID, func(t *testing.T) {
			t.Parallel()
			b := open(t, home)
			b.visit(c.ID + "/")
			b.click("#example")
			b.same(c.Eval(c.Example(), nil))

			f := own(c)[0]
			id := control(c, f)
			cases := []spoiled{{f, "unreadable", "5o"}, {f, "range", beyond(f)}, {f, "unreadable", "12.5.3"}, {f, "unreadable", "<img src=x>"}}
			for _, s := range cases {
				state := c.Example()
				state[f.ID] = s.typed
				want := only(t, c, state, s.kind)

				// While typing: no fault yet, and no old answer beside it.
				b.fill(id, s.typed)
				b.until(`document.querySelector("#result").childElementCount === 0`)
				if got := b.fault(id); got.Fault != "" || got.Invalid != "" {
					t.Errorf("%q, while typing: %+v", s.typed, got)
				}
				b.want(`document.getElementById("wait").hidden ? "" : document.getElementById("wait").textContent`, "Waiting for a field that reads well.")

				// Having left it: the fault stands beside the field.
				b.leave()
				b.want(`document.getElementById(`+lit(id+"-fault")+`).textContent`, want)
				if got := b.fault(id); got.Value != s.typed || got.Invalid != "true" || !got.Described || !got.Beside || !got.Marked {
					t.Errorf("%q, having left the field: %+v", s.typed, got)
				}
				if js[bool](b, `!document.getElementById("summary").hidden`) {
					t.Errorf("%q: the summary stands there before the button was pressed", s.typed)
				}

				// Mended: it goes before the field is left.
				b.fill(id, f.Example)
				b.want(`document.getElementById(`+lit(id+"-fault")+`).textContent`, "")
				if got := b.fault(id); got.Invalid != "" || got.Described || got.Marked {
					t.Errorf("%q, mended: %+v", s.typed, got)
				}
				b.same(c.Eval(c.Example(), nil))
				b.leave()
			}
		})
	}
}

// only is the text of the one fault of a state.
func only(t *testing.T, c *catalogue.Calculator, state catalogue.State, kind string) string {
	t.Helper()
	s := c.Eval(state, nil)
	if len(s.Faults) != 1 || s.Faults[0].Kind != kind {
		t.Fatalf("the catalogue finds %+v, not one fault of kind %s", s.Faults, kind)
	}
	return s.Faults[0].Text
}

// The button tells all faults together: in a summary that takes the focus,
// each with a link to its field, in the words that stand beside the field.
func TestFaultSummary(t *testing.T) {
	t.Parallel()
	for _, c := range onePerBundle(t) {
		t.Run(c.ID, func(t *testing.T) {
			b := open(t, home)
			b.visit(c.ID + "/")
			b.click("#example")
			b.same(c.Eval(c.Example(), nil))
			state := c.Example()
			broken := 0
			for i, f := range own(c) {
				typed := beyond(f)
				if i%2 == 1 {
					typed = "" // a fault where the field is needed, none where it may stay empty
				}
				state[f.ID] = typed
				b.fill(control(c, f), typed)
				if broken++; broken == 4 {
					break
				}
			}
			faults := c.Eval(state, nil).Faults
			if len(faults) == 0 {
				t.Fatal("nothing is broken")
			}
			b.click("#form button[type=submit]")
			b.until(`!document.getElementById("summary").hidden && document.activeElement.id === "summary"`)
			var want []string
			for _, ft := range faults {
				want = append(want, ft.Text)
			}
			b.want(`[...document.querySelectorAll("#summary a")].map((a) => a.textContent).join("\n")`, strings.Join(want, "\n"))
			for i, ft := range faults {
				id := c.ID + "-" + ft.Field
				if got := b.fault(id); got.Fault != ft.Text || got.Invalid != "true" || got.Value != state[ft.Field] {
					t.Errorf("%s beside the field: %+v, want %q", ft.Field, got, ft.Text)
				}
				b.click("#summary li:nth-child(" + ascii(float64(i+1)) + ") a")
				b.want(`document.activeElement.id`, id)
				// The label must be in view with the field.
				if !js[bool](b, `(() => { const r = document.querySelector(`+lit(`label[for="`+id+`"]`)+`).getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; })()`) {
					t.Errorf("the label of %s is out of view", ft.Field)
				}
			}
		})
	}
}
