package browsertest

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"example.org/evenlot/wasm/catalogue/lot"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// axe is the accessibility checker's script, fetched once by npm as
// package-lock.json pins it.
var axe = sync.OnceValues(func() (string, error) {
	const script = "node_modules/axe-core/axe.min.js"
	var want, have struct {
		Version         string
		DevDependencies map[string]string
	}
	if text, err := os.ReadFile("package.json"); err != nil {
		return "", err
	} else if err := json.Unmarshal(text, &want); err != nil {
		return "", err
	}
	if text, err := os.ReadFile(filepath.Join("node_modules", "axe-core", "package.json")); err == nil {
		if err := json.Unmarshal(text, &have); err != nil {
			return "", err
		}
	}
	if have.Version != want.DevDependencies["axe-core"] {
		npm, err := exec.LookPath("npm")
		if err != nil {
			return "", errors.New("this test needs npm, which fetches axe-core: on Debian, apt-get install npm")
		}
		if text, err := exec.Command(npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund").CombinedOutput(); err != nil {
			return "", fmt.Errorf("npm ci did not fetch axe-core: %w\n%s", err, text)
		}
	}
	text, err := os.ReadFile(filepath.FromSlash(script))
	return string(text), err
})

// accessible asks the checker about the page as it stands, with every rule
// that it knows, the size of targets included.
func (b *tab) accessible(what string) {
	b.t.Helper()
	type violation struct{ ID, Help, Where string }
	bad := js[[]violation](b, `axe.run(document, { resultTypes: ["violations"], rules: { "target-size": { enabled: true } } }).then((r) => r.violations.map((v) => ({
		ID: v.id, Help: v.help, Where: v.nodes.slice(0, 6).map((n) => n.target.join(" ") + ": " + (n.any[0] ?? n.all[0] ?? n.none[0])?.message).join("; ") + (v.nodes.length > 6 ? " and " + (v.nodes.length - 6) + " more" : "") })))`)
	for _, v := range bad {
		b.t.Errorf("%s: %s (%s) at %s", what, v.ID, v.Help, v.Where)
	}
}

// A state of a page that is worth a look.
type scene struct {
	name string
	set  func(b *tab)
}

func scenes(t *testing.T) []scene {
	c := lot.Calculators()[0]
	example := func(b *tab, id string) {
		b.visit(id)
		b.click("#example")
		b.until(`document.querySelector("#result [data-value]")`)
	}
	unfold := func(b *tab) {
		js[bool](b, `(document.querySelectorAll("main details").forEach((d) => { d.open = true; }), scrollTo(0, 0), true)`)
	}
	list := []scene{
		{"index", func(b *tab) { b.visit("") }},
		{"checked", func(b *tab) { b.visit("checked/") }},
		{"lot-empty", func(b *tab) { b.visit(c.ID + "/") }},
		{"lot-filled", func(b *tab) { example(b, c.ID+"/") }},
		{"lot-unfolded", func(b *tab) { example(b, c.ID+"/"); unfold(b) }},
		{"lot-faults", func(b *tab) {
			b.visit(c.ID + "/")
			b.enter(c.ID+"-gm", "95")
			b.enter(c.ID+"-rh", "5o")
			b.click("#form button[type=submit]")
			b.until(`document.activeElement.id === "summary"`)
		}},
	}
	for _, d := range onePerBundle(t) {
		if d.Whole {
			continue
		}
		list = append(list, scene{d.ID, func(b *tab) { example(b, d.ID+"/"); unfold(b) }})
	}
	d := onePerBundle(t)[0]
	return append(list, scene{"class", func(b *tab) { example(b, d.ID+"/?class=1") }},
		scene{"spanish", func(b *tab) { example(b, "es/"+d.ID+"/") }})
}

// The accessibility checker finds nothing: every kind of page and state, in
// light and dark, on a phone, a tablet and a projector.
func TestAccessible(t *testing.T) {
	script, err := axe()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range scenes(t) {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			b := open(t, home)
			s.set(b)
			js[bool](b, script+";true")
			for _, size := range screens {
				b.size(size)
				for _, scheme := range []string{"light", "dark"} {
					b.media("", scheme)
					b.accessible(size.name + ", " + scheme)
					b.picture(s.name+"-"+size.name+"-"+scheme, size)
				}
			}
		})
	}
}

// picture keeps a picture of the page from its top, at most three screens of
// it, to be looked at.
func (b *tab) picture(name string, size screen) {
	b.t.Helper()
	if os.Getenv("EVENLOT_SHOTS") != "1" {
		return
	}
	tall := size
	tall.height = min(3*size.height, max(size.height, int64(js[float64](b, `(scrollTo(0, 0), document.documentElement.scrollHeight)`))))
	b.size(tall)
	png, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		b.t.Fatal(err)
	}
	keep(b.t, name+".png", png)
	b.size(size)
}

// At a phone's size everything that is touched is at least 44 px high and
// wide, links inside a sentence excepted.
func TestTouchTargets(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	b.size(phone)
	for _, s := range scenes(t) {
		s.set(b)
		js[bool](b, `(document.querySelectorAll("main details").forEach((d) => { d.open = true; }), true)`)
		for _, small := range js[[]string](b, `[...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary, label.pick")].filter((e) => {
			if (e.matches(".visually-hidden, .visually-hidden *, .skip")) return false;
			const r = e.getBoundingClientRect();
			if (!r.width || getComputedStyle(e).visibility === "hidden") return false;
			if (e.localName === "a" && getComputedStyle(e).display === "inline" && e.parentElement.textContent.trim() !== e.textContent.trim()) return false;
			return r.height < 43.9 || r.width < 43.9;
		}).map((e) => { const r = e.getBoundingClientRect(); return Math.round(r.width) + "x" + Math.round(r.height) + " " + e.outerHTML.slice(0, 90); })`) {
			t.Errorf("%s: %s", s.name, small)
		}
	}
}

// Nothing scrolls sideways and no word is cut: on the narrowest screen, and
// with text at twice its size.
func TestReflow(t *testing.T) {
	for _, w := range []struct {
		name string
		size screen
		text int64
	}{{"320 px", screen{"narrow", 320, 640, true}, 16}, {"text at 200 %", phone, 32}, {"text at 200 % on a desk", screen{"desk", 1280, 800, false}, 32}} {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			b := open(t, home)
			b.size(w.size)
			call(b, page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: w.text, Fixed: w.text * 13 / 16}})
			for _, s := range scenes(t) {
				s.set(b)
				if size := js[float64](b, `parseFloat(getComputedStyle(document.documentElement).fontSize)`); size < 0.95*float64(w.text) {
					t.Fatalf("the text is %v px: the setting has no effect", size)
				}
				wide := js[[]string](b, `(() => { const w = document.documentElement.clientWidth; if (document.documentElement.scrollWidth <= w + 1) return [];
					const inScroller = (e) => { for (let p = e.parentElement; p; p = p.parentElement) if (["auto", "scroll", "hidden", "clip"].includes(getComputedStyle(p).overflowX)) return true; return false; };
					return ["the page is " + document.documentElement.scrollWidth + " px wide, the screen " + w, ...[...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > w + 1 && !inScroller(e)).slice(0, 4).map((e) => Math.round(e.getBoundingClientRect().right) + ": " + e.outerHTML.slice(0, 80))]; })()`)
				if len(wide) > 0 {
					t.Errorf("%s: %s", s.name, strings.Join(wide, "; "))
				}
				// What is cut without a way to scroll to it.
				cut := js[[]string](b, `[...document.querySelectorAll("main *, header *, footer *")].filter((e) => { const s = getComputedStyle(e);
					if (!["hidden", "clip"].includes(s.overflowX) || e.closest(".visually-hidden") || e.matches("input, textarea, select, svg, svg *")) return false; return e.scrollWidth > e.clientWidth + 1; }).map((e) => e.outerHTML.slice(0, 80))`)
				if len(cut) > 0 {
					t.Errorf("%s: cut: %v", s.name, cut)
				}
				b.picture("reflow-"+w.size.name+"-"+fmt.Sprint(w.text)+"-"+s.name, w.size)
			}
		})
	}
}

// A person with a keyboard alone skips the head, types, reads the answer and
// opens every fold, always seeing where the focus is.
func TestKeyboardAlone(t *testing.T) {
	t.Parallel()
	c := lot.Calculators()[0]
	b := open(t, home)
	b.visit(c.ID + "/")
	b.press("\t")
	if got := js[string](b, `document.activeElement.className + " " + (document.activeElement.getBoundingClientRect().left >= 0 && document.activeElement.getBoundingClientRect().top >= 0)`); got != "skip true" {
		t.Fatalf("the first stop is %q, not the link that skips the head, in view", got)
	}
	b.press("\r")
	b.want(`document.activeElement.id`, "main")

	// From there with the tabulator alone through everything, typing the lot.
	typed := map[string]string{}
	for _, e := range crakeHill {
		if !strings.HasSuffix(e.field, "ed") {
			typed[c.ID+"-"+e.field] = e.typed
		}
	}
	type stop struct {
		ID, Tag, Class, What string
		Ring, Seen, Same     bool
	}
	var stops []stop
	reached, folds := map[string]bool{}, 0
	for range 400 {
		b.press("\t")
		s := js[stop](b, `(() => { const e = document.activeElement, s = getComputedStyle(e), r = e.getBoundingClientRect(), same = globalThis.before === e;
			globalThis.before = e;
			return { Same: same, ID: e.id, Tag: e.localName, Class: e.className, What: e.outerHTML.slice(0, 100),
				Ring: s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 || Boolean(e.closest("label") ?? document.querySelector("label:focus-within")),
				Seen: e === document.body || r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth }; })()`)
		if s.Tag == "body" || s.Tag == "html" {
			break
		}
		stops = append(stops, s)
		if s.Same && strings.Contains(s.What, "datetime-local") {
			continue // the browser's own stops in it: month, day, year …
		}
		if !s.Ring || !s.Seen {
			t.Errorf("the focus cannot be seen (ring %v, in view %v) at %s", s.Ring, s.Seen, s.What)
		}
		if s.Same {
			t.Errorf("the focus stays at %s", s.What)
		}
		if text, ok := typed[s.ID]; ok {
			b.press(text)
			reached[s.ID] = true
		}
		if s.Tag == "summary" {
			b.press("\r")
			if !js[bool](b, `document.activeElement.parentElement.open`) {
				t.Errorf("the fold does not open by the Enter key: %s", s.What)
			}
			folds++
		}
	}
	for id, text := range typed {
		if !reached[id] {
			t.Errorf("%s was not reached by the tabulator", id)
		} else if got := js[string](b, `document.getElementById(`+lit(id)+`).value`); got != text {
			t.Errorf("%s reads %q, not %q", id, got, text)
		}
	}
	if all := js[int](b, `document.querySelectorAll("main details").length`); folds == 0 || folds != all {
		t.Errorf("%d of %d folds were opened", folds, all)
	}
	t.Logf("%d stops, %d folds", len(stops), folds)
	b.until(`document.querySelectorAll("#result [data-value]").length > 5`)

	// Enter in a field is the button.
	js[bool](b, `(document.getElementById(`+lit(c.ID+"-gm")+`).focus(), document.getElementById(`+lit(c.ID+"-gm")+`).select(), true)`)
	b.press("5o\r")
	b.until(`document.activeElement.id === "summary"`)
}

// Without a script the form can still be read, and the page says what it
// takes to compute.
func TestReadableWithoutScript(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	c := lot.Calculators()[0]
	b.do(chromedp.Navigate(home.base() + c.ID + "/"))
	text, err := chromedp.Run(b.ctx, chromedp.Text(chromedp.CSS("main")))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{c.Question, c.Fields[1].Label, c.Fields[1].Help, "needs one", c.Cautions[0]} {
		if !strings.Contains(text, want) {
			t.Errorf("without a script %q cannot be read", want)
		}
	}
}
