package browsertest

import (
	"net/url"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"example.org/evenlot/wasm/catalogue/lot"
	"github.com/chromedp/chromedp"
)

// filled types a part of the lot into the lot sheet and returns what then
// stands in the form.
func filled(b *tab) (*catalogue.Calculator, catalogue.State) {
	b.t.Helper()
	c := lot.Calculators()[0]
	b.visit(c.ID + "/")
	state := catalogue.State{}
	for _, f := range c.Form() {
		if f.IsLimit() && f.Example != "" {
			state[f.ID] = f.Example
		}
	}
	for _, e := range crakeHill[:8] {
		b.enter(c.ID+"-"+e.field, e.typed)
		state[e.field] = e.typed
	}
	b.same(c.Eval(state, nil))
	return c, state
}

// standsAs compares what stands in the form with a state, character for
// character.
func (b *tab) standsAs(c *catalogue.Calculator, state catalogue.State) {
	b.t.Helper()
	got := js[map[string]string](b, `Object.fromEntries([...document.querySelectorAll("#form [name]:not(.unit):not([name$='.pm'])")].map((e) => [e.name, e.value]))`)
	for _, f := range c.Form() {
		if f.Kind != catalogue.Choice && got[f.ID] != state[f.ID] {
			b.t.Errorf("%s reads %q, not %q", f.ID, got[f.ID], state[f.ID])
		}
	}
}

// What was typed is there after a reload, at the same address in another
// browser, and in the same browser without the address.
func TestInputIsKept(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c, state := filled(b)
	address := b.address()
	if q := b.query(); q.Get("lot") != state["lot"] || q.Get("rh") != state["rh"] {
		t.Errorf("the address holds %v", q)
	}
	// Half a number, with a fault: it is kept all the same.
	b.enter(c.ID+"-bag", "12oo ")
	b.want(`document.getElementById("`+c.ID+`-bag-fault").textContent.slice(0, 4)`, "Insi")
	b.do(chromedp.Reload())
	b.ready()
	state["bag"] = "12oo "
	b.standsAs(c, state)
	b.fill(c.ID+"-bag", "")
	delete(state, "bag")
	b.same(c.Eval(state, nil))

	t.Run("by the address alone", func(t *testing.T) {
		other := open(t, home)
		other.visit(address)
		other.standsAs(c, state)
		other.same(c.Eval(state, nil))
	})
	t.Run("by this browser alone", func(t *testing.T) {
		second := b.beside()
		second.t = t
		second.visit(c.ID + "/")
		second.standsAs(c, state)
		second.same(c.Eval(state, nil))
	})
}

func field(c *catalogue.Calculator, id string) (catalogue.Field, bool) {
	for _, f := range c.Form() {
		if f.ID == id {
			return f, true
		}
	}
	return catalogue.Field{}, false
}

// A form emptied by its button stays empty.
func TestEmptied(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := onePerBundle(t)[0]
	b.visit(c.ID + "/")
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	b.click("#clear")
	state := catalogue.State{}
	for _, f := range c.Form() {
		if f.IsLimit() && f.Example != "" {
			state[f.ID] = strings.ReplaceAll(f.Example, "−", "-")
		}
	}
	b.want(`location.search`, "")
	b.standsAs(c, state)
	b.do(chromedp.Reload())
	b.ready()
	b.standsAs(c, state)
}

// A browser that refuses to write the address so often still computes, and
// the address follows.
func TestAddressRefused(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := onePerBundle(t)[0]
	b.visit(c.ID + "/")
	js[bool](b, `(() => { const write = history.replaceState.bind(history); let refused = 0;
		history.replaceState = (...a) => { if (refused++ < 3) throw new DOMException("too often", "SecurityError"); return write(...a); }; return true; })()`)
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	b.until(`location.search.length > 3`)
}

// Back and forward bring the pages with their input.
func TestBackAndForward(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	b.visit("")
	c, state := filled(b)
	b.click(".top nav a") // by a link, as a person goes
	b.until(`document.getElementById("places") && document.documentElement.dataset.ready === "1"`)
	others := onePerBundle(t)
	d := others[0]
	b.click(`#places a[href^="` + d.ID + `/"]`)
	b.until(`document.querySelector("[data-calc=` + d.ID + `]") && document.documentElement.dataset.ready === "1"`)
	b.click("#example")
	b.same(d.Eval(d.Example(), nil))
	js[bool](b, `(history.back(), true)`)
	b.until(`document.getElementById("places")`)
	js[bool](b, `(history.back(), true)`)
	b.until(`document.querySelector("[data-calc=` + c.ID + `]") && document.documentElement.dataset.ready === "1"`)
	b.standsAs(c, state)
	b.same(c.Eval(state, nil))
	js[bool](b, `(history.forward(), true)`)
	b.until(`document.getElementById("places")`)
	js[bool](b, `(history.forward(), true)`)
	b.until(`document.querySelector("[data-calc=` + d.ID + `]") && document.documentElement.dataset.ready === "1"`)
	b.same(d.Eval(d.Example(), nil))
}

// An address made by hand or by malice does nothing but fill fields.
func TestHostileAddress(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	for _, c := range onePerBundle(t) {
		f := own(c)[0]
		q := url.Values{}
		for k, v := range c.Example() {
			q.Set(k, v)
		}
		bad := `<img src=x onerror=a()>` // short enough to be repeated whole in the fault
		q.Set(f.ID, bad)
		q.Set(f.ID+".unit", "furlong")
		q.Set(f.ID+".pm", "\x00NaN")
		q.Set("__proto__", "1")
		q.Set("constructor", "1")
		q.Set("class", "")
		b.visit(c.ID + "/?" + q.Encode())
		b.until(`document.querySelector("#result").childElementCount === 0`)
		b.click("#form button[type=submit]")
		b.until(`!document.getElementById("summary").hidden`)
		if got := js[int](b, `document.querySelectorAll("main img, main script").length`); got != 0 {
			t.Errorf("%s: the address reached the page", c.ID)
		}
		if got := b.fault(control(c, f)); !strings.Contains(got.Fault, bad) || got.Value != bad {
			t.Errorf("%s: what came by the address stands as %+v", c.ID, got)
		}
	}
}

// The index finds by words and lists what was used last.
func TestIndexFinds(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := onePerBundle(t)[0]
	b.visit(c.ID + "/")
	b.click("#example")
	b.click("#form button[type=submit]")
	b.same(c.Eval(c.Example(), nil))
	b.visit("")
	if got := js[string](b, `document.querySelector("#recent:not([hidden]) a")?.textContent ?? ""`); got != c.Name {
		t.Errorf("last used is %q, not %q", got, c.Name)
	}
	// From there the calculation opens as it was left, without its address.
	b.click(`#recent a`)
	b.until(`document.querySelector("[data-calc]") && document.documentElement.dataset.ready === "1"`)
	if q := b.query(); len(q) > 0 {
		t.Errorf("the list links to %v", q)
	}
	b.standsAs(c, c.Example())
	b.same(c.Eval(c.Example(), nil))
	b.visit("")
	b.fill("find", strings.ToUpper(c.Name))
	b.until(`document.getElementById("found").textContent !== ""`)
	if got := js[[]string](b, `[...document.querySelectorAll("#places li")].filter((e) => e.offsetParent).map((e) => e.querySelector("a").textContent)`); len(got) == 0 || !strings.Contains(strings.Join(got, "\n"), c.Name) {
		t.Errorf("looking for %q finds %v", c.Name, got)
	}
	b.press("\r")
	b.want(`document.activeElement.textContent`, js[string](b, `[...document.querySelectorAll("#places li a")].find((e) => e.offsetParent).textContent`))
	// Words are found by their beginnings, in any order, wherever they stand,
	// and not by what stands inside another word.
	find := func(text string) []string {
		b.fill("find", text)
		return js[[]string](b, `[...document.querySelectorAll("#places li")].filter((e) => e.offsetParent).map((e) => e.dataset.id)`)
	}
	for _, text := range []string{"water activity", "activity water", "ACTIV  wat", "aktivität", "ey"} {
		words := strings.Fields(strings.ToLower(text))
		var want []string
		for _, c := range all.Calculators() {
			has := strings.FieldsFunc(strings.ToLower(strings.Join([]string{c.Name, c.Question, c.Keywords, c.Place.String()}, " ")), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
			if !slices.ContainsFunc(words, func(w string) bool {
				return !slices.ContainsFunc(has, func(h string) bool { return strings.HasPrefix(h, w) })
			}) {
				want = append(want, c.ID)
			}
		}
		got := find(text)
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("looking for %q finds %v, not %v", text, got, want)
		}
	}
	if got := find("ater ctivity"); len(got) > 0 {
		t.Errorf("looking for the insides of words finds %v", got)
	}
	b.fill("find", "qqqq")
	b.until(`[...document.querySelectorAll("#places li")].every((e) => !e.offsetParent)`)
}
