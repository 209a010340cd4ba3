package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// patience is how long anything may take before it counts as not happening.
const patience = 60 * time.Second

// A tab is one page of a browser profile of its own. Whatever its console
// says as a warning or an error, a broken content policy, an uncaught
// exception or a request to another origin fails the test.
type tab struct {
	t      testing.TB
	ctx    context.Context
	host   *host
	mu     sync.Mutex
	broken []string
	adrift bool // the server was stopped: failed requests are meant
}

// A screen is a device: its size in CSS pixels.
type screen struct {
	name          string
	width, height int64
	touch         bool
}

var (
	phone     = screen{"phone", 360, 640, true}
	tablet    = screen{"tablet", 820, 1180, true}
	projector = screen{"projector", 1920, 1080, false}
	screens   = []screen{phone, tablet, projector}
)

// open makes a tab in a new profile, at the size of a desk's screen.
func open(t testing.TB, h *host) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser, chromedp.WithNewBrowserContext())
	return watch(t, h, ctx, stop)
}

// beside makes a second tab in the profile of the first.
func (b *tab) beside() *tab {
	b.t.Helper()
	ctx, stop := chromedp.NewContext(b.ctx)
	return watch(b.t, b.host, ctx, stop)
}

func watch(t testing.TB, h *host, ctx context.Context, stop context.CancelFunc) *tab {
	t.Helper()
	b := &tab{t: t, ctx: ctx, host: h}
	t.Cleanup(func() {
		stop()
		for _, text := range b.complaints() {
			t.Error(text)
		}
	})
	if err := chromedp.Listen(ctx, b.hear); err != nil {
		t.Fatal(err)
	}
	call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
addEventListener("securitypolicyviolation", (e) => console.error("content policy: " + e.violatedDirective + " stopped " + (e.blockedURI || e.sourceFile)));
globalThis.moved = 0;
new PerformanceObserver((list) => { for (const e of list.getEntries()) if (!e.hadRecentInput) globalThis.moved += e.value; }).observe({ type: "layout-shift", buffered: true });`})
	if h == home { // each of a hundred profiles would store the site for use without a network
		call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `if (globalThis.ServiceWorkerContainer) ServiceWorkerContainer.prototype.register = () => new Promise(() => {});`})
	}
	call(b, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "UTC"})
	b.size(screen{"desk", 1280, 900, false})
	return b
}

// hear notes what must not happen. It runs inside the driver's loop.
func (b *tab) hear(ev any) {
	say := func(format string, args ...any) {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.broken = append(b.broken, fmt.Sprintf(format, args...))
	}
	switch e := ev.(type) {
	case *runtime.EventConsoleAPICalled:
		switch e.Type {
		case "error", "warning", "assert":
			var text []string
			for _, a := range e.Args {
				text = append(text, string(a.Value)+a.Description)
			}
			say("console %s: %s", e.Type, strings.Join(text, " "))
		}
	case *runtime.EventExceptionThrown:
		text := e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			text += " " + e.ExceptionDetails.Exception.Description
		}
		say("uncaught: %s", text)
	case *log.EventEntryAdded:
		b.mu.Lock()
		adrift := b.adrift
		b.mu.Unlock()
		if (e.Entry.Level == "error" || e.Entry.Level == "warning") && !(adrift && e.Entry.Source == "network") {
			say("browser %s (%s): %s %s", e.Entry.Level, e.Entry.Source, e.Entry.Text, e.Entry.URL)
		}
	case *network.EventRequestWillBeSent:
		if u := e.Request.URL; !strings.HasPrefix(u, b.host.base()) && !strings.HasPrefix(u, "data:") && !strings.HasPrefix(u, "blob:"+b.host.URL) && u != "about:blank" {
			say("a request left the site's folder: %s %s", e.Request.Method, u)
		}
	}
}

// complaints are what was heard so far; they are told once.
func (b *tab) complaints() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	list := b.broken
	b.broken = nil
	return list
}

// do runs actions or ends the test.
func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// call sends one command of the protocol.
func call[P, R any](b *tab, cmd cdp.Command[P, R], params P) R {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	r, err := chromedp.Call(ctx, cmd, params)
	if err != nil {
		b.t.Fatalf("%s: %v", cmd.Method, err)
	}
	return r
}

// js evaluates an expression, waiting for it where it is a promise.
func js[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := try[T](b, expression)
	if err != nil {
		b.t.Fatalf("%v\nin %s", err, expression)
	}
	return v
}

func try[T any](b *tab, expression string) (T, error) {
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// lit writes a Go value as a JavaScript literal.
func lit(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // only strings, numbers and lists of them are passed
	}
	return string(text)
}

// until waits for an expression to be true.
func (b *tab) until(expression string) {
	b.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(20 * time.Millisecond) {
		ok, err := try[bool](b, "Promise.resolve("+expression+").then(Boolean)")
		if ok {
			return
		}
		if time.Now().After(end) {
			b.t.Fatalf("never came true: %s (%v)", expression, err)
		}
	}
}

// settled gives a page this long to show what is expected of it.
const settled = 5 * time.Second

// want waits for an expression to be a text. What is shown follows what is
// typed with a small delay; a text that stays wrong fails.
func (b *tab) want(expression, text string) {
	b.t.Helper()
	if got, ok := b.becomes(expression, text); !ok {
		b.t.Errorf("%s\n got %q\nwant %q", expression, got, text)
	}
}

func (b *tab) becomes(expression, text string) (got string, ok bool) {
	b.t.Helper()
	for end := time.Now().Add(settled); ; time.Sleep(10 * time.Millisecond) {
		v, err := try[string](b, expression)
		if err == nil && v == text {
			return v, true
		}
		if time.Now().After(end) {
			if err != nil {
				b.t.Errorf("%s: %v", expression, err)
			}
			return v, false
		}
	}
}

// visit opens a page of the site and waits until it is ready.
func (b *tab) visit(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.host.base() + path))
	b.ready()
}

func (b *tab) ready() {
	b.t.Helper()
	b.until(`document.documentElement.dataset.ready === "1"`)
}

// kept waits until the site is stored for use without a network.
func (b *tab) kept() {
	b.t.Helper()
	b.until(`document.documentElement.dataset.offline === "1"`)
}

func (b *tab) size(s screen) {
	b.t.Helper()
	var with []chromedp.EmulateViewportOption
	if s.touch {
		with = append(with, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait)
	}
	b.do(chromedp.EmulateViewport(s.width, s.height, with...))
}

// media emulates a medium ("print", or empty for the screen) and a scheme of
// colours.
func (b *tab) media(medium, scheme string) {
	b.t.Helper()
	p := emulation.SetEmulatedMediaParams{Media: medium}
	if scheme != "" {
		p.Features = []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}
	}
	call(b, emulation.SetEmulatedMedia, p)
}

// click moves the mouse onto an element and presses its button.
func (b *tab) click(selector string) {
	b.t.Helper()
	b.do(chromedp.Click(chromedp.CSS(selector), chromedp.NodeVisible))
}

// press sends keys to whatever has the focus, one by one.
func (b *tab) press(keys string, options ...chromedp.KeyOption) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(keys, options...))
}

// enter focuses the field, replaces what stands in it by what is typed, as
// from a keyboard, and leaves it.
func (b *tab) enter(id, text string) {
	b.t.Helper()
	b.fill(id, text)
	b.leave()
}

func (b *tab) fill(id, text string) {
	b.t.Helper()
	js[bool](b, `(() => { const e = document.getElementById(`+lit(id)+`); e.closest("details")?.setAttribute("open", ""); e.focus(); e.select?.(); return true; })()`)
	if text == "" {
		b.press("\b")
	} else {
		call(b, input.InsertText, input.InsertTextParams{Text: text})
	}
}

func (b *tab) leave() {
	b.t.Helper()
	js[bool](b, `(document.activeElement.blur(), true)`)
}

// choose sets a control that a keyboard test would only test Chromium with: a
// list, a date and time.
func (b *tab) choose(selector, value string) {
	b.t.Helper()
	js[bool](b, `(() => { const e = document.querySelector(`+lit(selector)+`); e.focus(); e.value = `+lit(value)+`;
e.dispatchEvent(new Event("input", { bubbles: true })); e.dispatchEvent(new Event("change", { bubbles: true })); return e.value === `+lit(value)+`; })()`)
}

// address is the path and query that the tab stands at, after the folder.
func (b *tab) address() string {
	b.t.Helper()
	return strings.TrimPrefix(js[string](b, `location.pathname + location.search`), b.host.folder)
}

func (b *tab) query() url.Values {
	b.t.Helper()
	q, err := url.ParseQuery(strings.TrimPrefix(js[string](b, `location.search`), "?"))
	if err != nil {
		b.t.Fatal(err)
	}
	return q
}
