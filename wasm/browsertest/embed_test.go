package browsertest

import (
	"encoding/json"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.org/evenlot/wasm/build/embed"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"github.com/chromedp/chromedp"
)

const embedExamples = "../../examples/embed"

// packed is the npm package, made of the site under test.
var packed = sync.OnceValues(func() (map[string][]byte, error) {
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		return nil, err
	}
	return embed.Folder(root, files)
})

// strict is what an importer's page may be served with.
const strict = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'"

// importer serves the example pages with the package beside them, under the
// strict policy. What alter puts in a file's place is served instead; nil is
// a file that is missing.
func importer(t *testing.T, alter map[string][]byte) *host {
	t.Helper()
	made, err := packed()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]byte{}
	for name, b := range made {
		all["evenlot/"+name] = b
	}
	maps.Copy(all, alter)
	for name, b := range all {
		if b == nil {
			delete(all, name)
		}
	}
	pages, err := filepath.Glob(filepath.FromSlash(embedExamples + "/page/*"))
	if err != nil || len(pages) < 4 {
		t.Fatalf("the example pages are not there: %v %v", pages, err)
	}
	for _, name := range pages {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(name)] = b
	}
	h := &host{folder: "/theirs/", files: all, names: map[string]bool{}}
	h.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", strict)
		name := strings.TrimPrefix(r.URL.Path, h.folder)
		if b, ok := all[name]; ok && path.Ext(name) == ".gz" {
			w.Header().Set("Content-Type", "application/gzip")
			if _, err := w.Write(b); err != nil {
				return // the browser went away
			}
			return
		}
		h.ServeHTTP(w, r)
	}))
	t.Cleanup(h.Close)
	return h
}

// inside finds in the element's shadow.
func inside(selector string) string {
	return `document.querySelector("evenlot-calculator").shadowRoot.querySelector(` + lit(selector) + `)`
}

// shownInside is every value and verdict that the element shows.
const shownInside = `(() => { const s = document.querySelector("evenlot-calculator").shadowRoot; const text = (e) => e.textContent.replace(/\s+/g, " ").trim();
	return [...s.querySelectorAll("#result .value")].map((e) => e.dataset.value + "=" + text(e.querySelector(".much"))).concat(
		[...s.querySelectorAll("#result .verdict")].map((e) => e.dataset.verdict + ":" + text(e.querySelector(".word")))).sort().join("\n"); })()`

func shouldShow(s catalogue.Sheet, say func(string) string) string {
	var list []string
	for _, v := range s.Values {
		text := v.Text
		if v.PlusMinus != "" {
			text += " ± " + v.PlusMinus
		}
		if v.Unit != "" {
			text += " " + v.Unit
		}
		list = append(list, v.ID+"="+text)
	}
	up := func(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
	for _, v := range s.Verdicts {
		list = append(list, v.Output+":"+up(say(v.Word)))
	}
	if s.Overall != "" {
		list = append(list, "overall:"+up(say(s.Overall)))
	}
	for range s.Missing {
		list = append(list, "missing:"+say("Missing"))
	}
	slices.Sort(list)
	return strings.Join(list, "\n")
}

func english(s string) string { return s }

// The element in a stranger's page under a strict policy: any calculator,
// with labels, in both languages, and Go's answers.
func TestElement(t *testing.T) {
	t.Parallel()
	b := open(t, importer(t, nil))
	b.do(chromedp.Navigate(b.host.base() + "element.html"))
	room := find(t, "room-moisture")
	state := room.Example()
	b.want(shownInside, shouldShow(room.Eval(state, nil), english))
	v := room.Eval(state, nil).Values[0]
	b.want(`document.getElementById("heard").textContent`, v.Text+" ± "+v.PlusMinus+" "+v.Unit+", "+room.Eval(state, nil).Verdicts[0].Word)
	b.want(inside("#spoken")+".textContent", v.Label+": "+v.Text+" plus or minus "+v.PlusMinus+" "+v.Unit+"; "+room.Eval(state, nil).Verdicts[0].Word)

	// An attribute changes; a person types; a fault stands by its field.
	js[bool](b, `(document.querySelector("evenlot-calculator").setAttribute("rh", "66.5"), true)`)
	state["rh"] = "66.5"
	b.want(shownInside, shouldShow(room.Eval(state, nil), english))
	type typed struct{ Value, Fault, Invalid, Described string }
	type_ := func(id, text string) {
		js[bool](b, `(() => { const e = `+inside("#"+id)+`; e.focus(); e.value = `+lit(text)+`; e.dispatchEvent(new Event("input", { bubbles: true })); e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	}
	read := func(id string) typed {
		return js[typed](b, `(() => { const e = `+inside("#"+id)+`, s = e.getRootNode(); return { Value: e.value, Fault: s.getElementById(e.id + "-fault").textContent, Invalid: e.getAttribute("aria-invalid") ?? "",
			Described: e.getAttribute("aria-describedby").split(" ").map((id) => s.getElementById(id)?.textContent ?? "(none)").join(" ") }; })()`)
	}
	type_("room-moisture-rh", "166")
	state["rh"] = "166"
	wrong := room.Eval(state, nil).Faults[0].Text
	b.want(inside("#room-moisture-rh-fault")+".textContent", wrong)
	if got := read("room-moisture-rh"); got.Invalid != "true" || !strings.Contains(got.Described, wrong) || strings.Contains(got.Described, "(none)") {
		t.Errorf("the refused field stands as %+v", got)
	}
	b.want(shownInside, "")
	js[bool](b, `(`+inside("button[type=submit]")+`.click(), true)`)
	b.want(`document.querySelector("evenlot-calculator").shadowRoot.activeElement?.id + ": " + `+inside("#summary a")+`?.textContent`, "summary: "+wrong)
	type_("room-moisture-rh", "57")
	state["rh"] = "57"
	b.want(shownInside, shouldShow(room.Eval(state, nil), english))
	if got := read("room-moisture-rh"); got.Fault != "" || got.Invalid != "" {
		t.Errorf("the mended field stands as %+v", got)
	}

	// Another unit, with its plus-minus; steps of the last digit.
	js[bool](b, `(() => { const e = `+inside(`select[name="t.unit"]`)+`; e.value = "°F"; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	b.want(inside("#room-moisture-t")+".value", "64.4")
	b.want(inside("#room-moisture-t-pm")+".value", "0.90")
	state["t"], state["t.unit"], state["t.pm"] = "64.4", "°F", "0.90"
	b.want(shownInside, shouldShow(room.Eval(state, nil), english))
	js[bool](b, `(`+inside(`[data-field=t] [data-step="1"]`)+`.click(), true)`)
	state["t"] = "64.5"
	b.want(inside("#room-moisture-t")+".value", "64.5")
	b.want(shownInside, shouldShow(room.Eval(state, nil), english))

	// A file in place of typed rows.
	b.putCalculator("roast-series", "en")
	series := find(t, "roast-series")
	js[bool](b, `(() => { const e = `+inside("input[type=file]")+`, d = new DataTransfer(); d.items.add(new File([`+lit(series.Example()["batches"])+`], "batches.csv")); e.files = d.files; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	b.want(shownInside, shouldShow(series.Eval(series.Example(), nil), english))

	if grown := js[[]string](b, `(() => { const f = document.createElement("iframe"); document.body.append(f); const plain = new Set(Object.getOwnPropertyNames(f.contentWindow)); f.remove();
		return Object.getOwnPropertyNames(window).filter((n) => !plain.has(n) && ["Go", "fs", "process", "path", "evenlot", "evenlotReady"].includes(n)); })()`); len(grown) > 0 {
		t.Errorf("the page's globals have grown by %v", grown)
	}
	// What a page names a calculator that there is not, it reads in its place.
	js[bool](b, `(document.querySelector("evenlot-calculator").setAttribute("calculator", "../no"), true)`)
	b.want(inside("[role=alert]")+".textContent", `calculator="../no"`)
}

func find(t *testing.T, id string) *catalogue.Calculator {
	t.Helper()
	for _, c := range all.Calculators() {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("there is no calculator %s", id)
	return nil
}

// putCalculator puts another calculator into the page, without attributes.
func (b *tab) putCalculator(id, language string) {
	b.t.Helper()
	js[bool](b, `new Promise((done) => { document.addEventListener("sheet", () => done(true), { once: true });
		const e = document.createElement("evenlot-calculator"); e.setAttribute("calculator", `+lit(id)+`); e.setAttribute("language", `+lit(language)+`);
		document.querySelector("evenlot-calculator").replaceWith(e); })`)
}

// Every calculator's element: each field has its label and its hint, and the
// example's answer is Go's.
func TestElementOfEach(t *testing.T) {
	for _, code := range []string{"en", "es"} {
		t.Run(code, func(t *testing.T) {
			t.Parallel()
			locale, say := catalogue.Locale{}, english
			if code != "en" {
				words := map[string]string{}
				made, err := packed()
				if err != nil {
					t.Fatal(err)
				}
				if err := json.Unmarshal(made["words/"+code+".json"], &words); err != nil {
					t.Fatal(err)
				}
				locale = catalogue.Locale{Words: words, Comma: true}
				say = func(s string) string {
					if w, ok := words[s]; ok {
						return w
					}
					return s
				}
			}
			b := open(t, importer(t, nil))
			b.do(chromedp.Navigate(b.host.base() + "element.html"))
			b.until(`!!document.querySelector("evenlot-calculator").result`)
			list := all.Calculators()
			if code != "en" {
				list = onePerBundle(t)
			}
			for _, c := range list {
				t.Run(c.ID, func(t *testing.T) {
					b.t = t
					b.putCalculator(c.ID, code)
					for _, f := range c.Form() {
						names := js[string](b, `(() => { const e = `+inside("#"+control(c, f))+`, s = e?.getRootNode(); return e ? e.labels[0]?.textContent + "|" + e.getAttribute("aria-describedby").split(" ").map((id) => s.getElementById(id)?.textContent).join(" ") : "no control"; })()`)
						if label := f.LimitLabel(); !strings.HasPrefix(names, say(label[0])) || !strings.Contains(names, "|"+say(f.Help)) {
							t.Errorf("the field %s is named %q", f.ID, names)
						}
					}
					js[bool](b, `(`+inside("#example")+`.click(), true)`)
					b.want(shownInside, shouldShow(c.EvalFor(c.Example(), locale), say))
					cautions := js[int](b, `document.querySelector("evenlot-calculator").shadowRoot.querySelectorAll(".care p").length`)
					if cautions != len(c.Cautions) {
						t.Errorf("%d of %d cautions are shown", cautions, len(c.Cautions))
					}
					for _, text := range b.complaints() {
						t.Error(text)
					}
				})
			}
			b.t = t
		})
	}
}

// The checker finds nothing in the element, filled and refused.
func TestElementAccessible(t *testing.T) {
	t.Parallel()
	script, err := axe()
	if err != nil {
		t.Fatal(err)
	}
	for _, scheme := range []string{"light", "dark"} {
		b := open(t, importer(t, nil))
		b.media("", scheme)
		b.size(phone)
		b.do(chromedp.Navigate(b.host.base() + "element.html"))
		b.until(`!!document.querySelector("evenlot-calculator").result`)
		js[bool](b, script+"; true")
		b.accessible("element, " + scheme)
		js[bool](b, `(document.querySelector("evenlot-calculator").setAttribute("t", "1o"), true)`)
		js[bool](b, `(`+inside("button[type=submit]")+`.click(), true)`)
		b.until(inside("#summary a") + ` !== null`)
		js[bool](b, `(document.querySelector("evenlot-calculator").shadowRoot.querySelectorAll("details").forEach((d) => { d.open = true; }), true)`)
		b.accessible("element with a fault, " + scheme)
		if wide := js[int](b, `document.documentElement.scrollWidth`); wide > int(phone.width) {
			t.Errorf("the element makes the page %d px wide on a phone", wide)
		}
	}
}

// The module under a form of the importer's own, where not even our policy of
// trusted types is allowed; a panic; a bundle that was tampered with; a server
// without the compressed copies.
func TestModule(t *testing.T) {
	t.Parallel()
	bag := find(t, "bag-headspace")
	b := open(t, importer(t, nil))
	b.do(chromedp.Navigate(b.host.base() + "module.html"))
	says := `document.getElementById("answer").textContent`
	line := func(s catalogue.Sheet) string {
		var list []string
		for _, v := range s.Values {
			text := v.Label + ": " + v.Text
			if v.PlusMinus != "" {
				text += " ± " + v.PlusMinus
			}
			list = append(list, text+" "+v.Unit)
		}
		return strings.Join(list, "; ")
	}
	state := catalogue.State{"m": "340", "bag": "1200", "bulk": "0.37", "rho": "0.80", "pore": "34"}
	b.want(says, line(bag.Eval(state, nil)))
	b.fill("m", "34o")
	state["m"] = "34o"
	b.want(says, bag.Eval(state, nil).Faults[0].Text)
	b.fill("m", "250")
	state["m"] = "250"
	b.want(says, line(bag.Eval(state, nil)))
	ask := `import("./evenlot/evenlot.js").then(async ({ load }) => { const ask = async (e) => { const r = await e.roomMoisture({ t: "18.0", rh: 57 }); return r.ok ? r.values.m.text : r.problem; }; `
	if got := js[string](b, ask+`const good = await ask(await load()), e = await load(), of = Date.prototype, { getTimezoneOffset } = of; of.getTimezoneOffset = () => { throw new Error("made to fail"); }; const bad = await ask(e); of.getTimezoneOffset = getTimezoneOffset;
		return bad.includes("made to fail") && (await ask(e)) === good ? "as it should" : bad; })`); got != "as it should" {
		t.Errorf("after a panic: %s", got)
	}

	made, err := packed()
	if err != nil {
		t.Fatal(err)
	}
	tamper := func(name string) []byte {
		other := slices.Clone(made[name])
		other[len(other)-1] ^= 1
		return other
	}
	c := open(t, importer(t, map[string][]byte{"evenlot/store.wasm": tamper("store.wasm"), "evenlot/store.wasm.gz": tamper("store.wasm.gz")}))
	c.do(chromedp.Navigate(c.host.base() + "module.html"))
	c.until(says + ` === ` + lit(line(bag.Eval(catalogue.State{"m": "340", "bag": "1200", "bulk": "0.37", "rho": "0.80", "pore": "34"}, nil))))
	if got := js[string](c, ask+`return ask(await load()); })`); !strings.Contains(got, "could not be read") {
		t.Errorf("a tampered bundle answers %q", got)
	}
	if heard := strings.Join(c.complaints(), "\n"); strings.Count(heard, "integrity") < 2 {
		t.Errorf("the browser says of a tampered bundle: %q", heard)
	}

	d := open(t, importer(t, map[string][]byte{"evenlot/store.wasm.gz": nil, "evenlot/packing.wasm.gz": nil}))
	d.do(chromedp.Navigate(d.host.base() + "module.html"))
	room := find(t, "room-moisture")
	if got, want := js[string](d, ask+`return ask(await load()); })`), room.Eval(catalogue.State{"t": "18.0", "rh": "57"}, nil).Values[0].Text; got != want {
		t.Errorf("without compressed copies: %q, not %q", got, want)
	}
	for _, text := range d.complaints() { // of the two that are missing, and of nothing else
		if !strings.Contains(text, ".wasm.gz") {
			t.Error(text)
		}
	}
}

// install packs the package with npm and installs it into a folder that
// holds the examples.
func install(t *testing.T) string {
	t.Helper()
	npm := need(t, "npm", "npm")
	made, err := packed()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	folder := filepath.Join(dir, "folder")
	write := func(name string, b []byte) {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for name, b := range made {
		write(filepath.Join(folder, filepath.FromSlash(name)), b)
	}
	command(t, dir, nil, npm, "pack", "--offline", "--silent", "./folder")
	write(filepath.Join(dir, "package.json"), []byte(`{"name":"theirs","private":true,"type":"module"}`))
	command(t, dir, nil, npm, "install", "--offline", "--silent", "--no-audit", "--no-fund", "./"+embed.Name+"-"+catalogue.Version+".tgz")
	if info, err := os.Stat(filepath.Join(dir, embed.Name+"-"+catalogue.Version+".tgz")); err == nil {
		t.Logf("%d files, packed %d bytes", len(made), info.Size())
	}
	for name, b := range made {
		if got, err := os.ReadFile(filepath.Join(dir, "node_modules", embed.Name, filepath.FromSlash(name))); err != nil || string(got) != string(b) {
			t.Errorf("installed, %s is not what was packed: %v", name, err)
		}
	}
	for _, pattern := range []string{"*.test.mjs", "node/*"} {
		names, err := filepath.Glob(filepath.Join(filepath.FromSlash(embedExamples), pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("no %s among the examples: %v", pattern, err)
		}
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			write(filepath.Join(dir, filepath.Base(name)), b)
		}
	}
	return dir
}

func command(t *testing.T, dir string, env []string, program string, args ...string) string {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir, cmd.Env = dir, append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Errorf("%s %s: %v\n%s", filepath.Base(program), strings.Join(args, " "), err, out)
	}
	return string(out)
}

// inJS is a name as the module writes it.
func inJS(id string) string {
	head, rest, _ := strings.Cut(id, "-")
	for rest != "" {
		var part string
		part, rest, _ = strings.Cut(rest, "-")
		head += strings.ToUpper(part[:1]) + part[1:]
	}
	return head
}

// exampleInput is a calculator's example as a program writes it; the limits
// are left to the module.
func exampleInput(c *catalogue.Calculator) map[string]string {
	in := map[string]string{}
	for _, f := range c.Fields {
		if f.Example != "" {
			in[inJS(f.ID)] = f.Example
		}
	}
	return in
}

// The package in Node: installed by npm, every calculator against Go.
func TestNode(t *testing.T) {
	t.Parallel()
	node := need(t, "node", "nodejs")
	dir := install(t)
	type answer struct {
		ID, Function string
		Input        map[string]string
		Sheets       map[string]json.RawMessage
	}
	var want struct {
		Version   string
		Languages []string
		Answers   []answer
	}
	made, err := packed()
	if err != nil {
		t.Fatal(err)
	}
	want.Version, want.Languages = catalogue.Version, []string{"en"}
	locales := map[string]catalogue.Locale{"en": {}}
	for _, name := range slices.Sorted(maps.Keys(made)) {
		if path.Dir(name) == "words" {
			words := map[string]string{}
			if err := json.Unmarshal(made[name], &words); err != nil {
				t.Fatal(err)
			}
			code := strings.TrimSuffix(path.Base(name), ".json")
			want.Languages = append(want.Languages, code)
			locales[code] = catalogue.Locale{Words: words, Comma: true}
		}
	}
	for _, c := range all.Calculators() {
		a := answer{c.ID, inJS(c.ID), exampleInput(c), map[string]json.RawMessage{}}
		for code, l := range locales {
			a.Sheets[code] = c.EvalFor(c.Example(), l).JSON()
		}
		want.Answers = append(want.Answers, a)
	}
	if err := os.WriteFile(filepath.Join(dir, "want.json"), []byte(lit(want)), 0o644); err != nil {
		t.Fatal(err)
	}
	command(t, dir, []string{"TZ=UTC", "EVENLOT_WANT=" + filepath.Join(dir, "want.json")}, node, "--test", "embed.test.mjs")

	// The example, from the command line.
	room := find(t, "room-moisture")
	s := room.Eval(room.Example(), nil)
	v := s.Values[0]
	if got := command(t, dir, nil, node, "room.mjs", "18.0", "57"); !strings.HasPrefix(got, v.Label+": "+v.Text+" ± "+v.PlusMinus+" "+v.Unit+"\n"+s.Verdicts[0].Word+", ") {
		t.Errorf("room.mjs says %q", got)
	}
	cmd := exec.Command(node, "room.mjs", "1800")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "t: Air temperature is 1800 °C") || !strings.Contains(string(out), "rh: ") {
		t.Errorf("room.mjs refuses with %v %q", err, out)
	}
}

// The types take every example, and refuse what the calculators would.
func TestTypes(t *testing.T) {
	t.Parallel()
	npm := need(t, "npm", "npm")
	dir := install(t)
	tsc := filepath.Join(filepath.FromSlash(embedExamples), "node_modules", ".bin", "tsc")
	if _, err := os.Stat(tsc); err != nil {
		command(t, filepath.FromSlash(embedExamples), nil, npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund")
	}
	tsc, err := filepath.Abs(tsc)
	if err != nil {
		t.Fatal(err)
	}
	var every strings.Builder
	every.WriteString("import { load } from \"evenlot\";\nconst e = await load();\n")
	for _, c := range all.Calculators() {
		every.WriteString("{ const r = await e." + inJS(c.ID) + "(" + lit(exampleInput(c)) + "); if (r.ok) { const text: string | undefined = r.values." + c.Outputs[0].ID + "?.text; void text; } else { const p: string | undefined = r.problem; void p; } }\n")
	}
	const wrong = `import { load, type Result, type Value, type RoomMoistureValues } from "evenlot";
import { EvenlotCalculator } from "evenlot/element";
const e = await load({ base: new URL("https://example.org/evenlot/"), language: "es" });
// @ts-expect-error there is no such language
await load({ language: "tlh" });
// @ts-expect-error rh is missing
await e.roomMoisture({ t: 18 });
// @ts-expect-error there is no such field
await e.roomMoisture({ t: 18, rh: 57, x: 1 });
// @ts-expect-error no temperature in kilograms
await e.roomMoisture({ t: 18, tUnit: "kg", rh: 57 });
await e.roomMoisture({ t: 18, tUnit: "°F", tPlusMinus: 1, rh: "57,5", mMin: null, mMax: "11.5" });
// @ts-expect-error a choice is one of its options
await e.roomLeak({ v: 60, r: 6, t: 1, x0: 20.9, n: 0.5, k: 1, fan: "sideways" });
// @ts-expect-error rows are numbers or text
await e.roastSeries({ batches: [[true, false]] });
// @ts-expect-error there is no such calculator
await e.teaMoisture({});
const r = await e.roomMoisture({ t: 18, rh: 57 });
// @ts-expect-error there are no values before ok was asked
r.values;
if (r.ok) {
	const m: Value | undefined = r.values.m;
	const word: "in" | "out" | "too close to call" | undefined = r.verdicts[0]?.word;
	// @ts-expect-error there is no such output
	r.values.no;
	void [m, word];
} else {
	// @ts-expect-error a fault names an input
	if (r.faults[0]?.field === "zz") void 0;
	if (r.faults[0]?.field === "tUnit") void 0;
}
const d = await e.dial("roomMoisture", { t: 18 }, "rh", "m");
if (d.ok) { const y: number | null = d.at(57); void y; }
// @ts-expect-error there is no such output
await e.dial("roomMoisture", { t: 18 }, "rh", "no");
// @ts-expect-error there is no such field
await e.solve("roomMoisture", { t: 18 }, "x", "m", 11);
const same: Result<RoomMoistureValues, string> | undefined = undefined;
void same;
const element: EvenlotCalculator = document.createElement("evenlot-calculator");
element.addEventListener("sheet", (event) => { const ok: boolean = event.detail.ok; void ok; });
`
	for name, text := range map[string]string{"every.ts": every.String(), "wrong.ts": wrong} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	command(t, dir, nil, tsc, "--noEmit", "--strict", "--target", "es2022", "--lib", "es2022,dom", "--module", "nodenext", "--types", "", "every.ts", "wrong.ts", "series.ts")
}
