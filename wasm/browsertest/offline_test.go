package browsertest

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue/all"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// cut stops the server for good: nothing listens any more.
func (b *tab) cut() {
	b.t.Helper()
	b.mu.Lock()
	b.adrift = true
	b.mu.Unlock()
	call(b, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true, DownloadThroughput: -1, UploadThroughput: -1})
	b.host.CloseClientConnections()
	b.host.Close()
}

// After one visit to one page, every page computes without a network.
func TestOffline(t *testing.T) {
	t.Parallel()
	b := open(t, serve(folder))
	first := onePerBundle(t)[0]
	b.visit(first.ID + "/")
	b.kept()
	b.cut()

	b.do(chromedp.Reload())
	b.ready()
	b.click("#example")
	b.same(first.Eval(first.Example(), nil))
	b.until(`location.search.length > 3`) // the address holds the input now
	b.do(chromedp.Reload())
	b.ready()
	b.same(first.Eval(first.Example(), nil))

	for _, bundle := range all.Bundles() {
		for i, c := range bundle.Calculators {
			if i > 0 {
				break
			}
			b.visit(c.ID + "/index.html")
			b.click("#example")
			b.same(c.Eval(c.Example(), nil))
		}
	}
	// A bundle is kept once, as it is asked for, not beside its other copy.
	if twice := js[[]string](b, `caches.keys().then((k) => caches.open(k[0])).then((c) => c.keys()).then((k) => { const u = k.map((r) => r.url); return u.filter((x) => u.includes(x + ".gz")); })`); len(twice) > 0 {
		t.Errorf("kept twice: %v", twice)
	}
	// And every page is there, in every language, with and without its name,
	// but for the library's handbook: who writes programs has a network.
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if path, ok := strings.CutSuffix(name, "index.html"); ok && !strings.HasPrefix(name, "handbook/") {
			if status := js[int](b, `fetch(`+lit(b.host.folder+path)+`).then((r) => r.status, () => 0)`); status != 200 {
				t.Errorf("without a network, /%s answers %d", path, status)
			}
		}
	}
}

// A server that sends the compressed copy as what it holds (the browser then
// unpacks it), and one that knows no media type for WebAssembly: both compute,
// with a network and without. One that lacks the compressed copies computes
// too.
func TestOtherServers(t *testing.T) {
	t.Parallel()
	for _, s := range []struct {
		name  string
		alter func(h *host)
	}{
		{"unpacks", func(h *host) { h.encoded = true }},
		{"no media type", func(h *host) { h.plain = true }},
		{"no compressed copies", func(h *host) {
			fewer := maps.Clone(files)
			maps.DeleteFunc(fewer, func(name string, _ []byte) bool { return strings.HasSuffix(name, ".gz") })
			h.publish(fewer)
		}},
	} {
		t.Run(s.name, func(t *testing.T) {
			h := serve(folder)
			s.alter(h)
			b := open(t, h)
			b.mu.Lock()
			b.adrift = s.name == "no compressed copies" // it is asked for in vain, and that is told on the console
			b.mu.Unlock()
			c := onePerBundle(t)[0]
			b.visit(c.ID + "/")
			b.click("#example")
			b.same(c.Eval(c.Example(), nil))
			if s.name == "no compressed copies" {
				return // it computes, but cannot be kept
			}
			b.kept()
			b.cut()
			b.do(chromedp.Reload())
			b.ready()
			b.same(c.Eval(c.Example(), nil))
		})
	}
}

// A newer build is told and taken only when asked for; what was typed
// survives it.
func TestUpdateIsAskedFor(t *testing.T) {
	t.Parallel()
	h := serve(folder)
	defer h.Close()
	b := open(t, h)
	c := onePerBundle(t)[0]
	b.visit(c.ID + "/")
	b.kept()
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	state := c.Example()
	js[bool](b, `caches.open("another page").then(() => caches.open("evenlot:/another/folder/:1")).then(() => true)`)

	newer := maps.Clone(files)
	for name, text := range newer {
		if strings.HasSuffix(name, ".html") {
			newer[name] = bytes.Replace(text, []byte("</body>"), []byte("<p id=\"newer\">newer</p></body>"), 1)
		}
	}
	worker := newer["sw.js"]
	at := bytes.Index(worker, []byte(`const build = "`))
	if at < 0 {
		t.Fatal("the service worker does not name its build")
	}
	newer["sw.js"] = append(append(bytes.Clone(worker[:at]), []byte(`const build = "newer-`)...), worker[at+len(`const build = "`):]...)
	h.publish(newer)

	js[bool](b, `navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => true)`)
	b.until(`!document.getElementById("news").hidden && document.querySelector("#news button")`)
	b.standsAs(c, state)
	// Not asked for yet: a reload still gives the old build.
	b.do(chromedp.Reload())
	b.ready()
	if js[bool](b, `Boolean(document.getElementById("newer"))`) {
		t.Error("the newer build was taken without being asked for")
	}
	b.until(`!document.getElementById("news").hidden && document.querySelector("#news button")`)
	b.standsAs(c, state)
	b.click("#news button")
	b.until(`document.getElementById("newer") && document.documentElement.dataset.ready === "1"`)
	b.standsAs(c, state)
	b.same(c.Eval(state, nil))
	// The old build's files are gone, and nobody else's.
	b.until(`caches.keys().then((k) => k.length < 4)`)
	if keys := js[[]string](b, `caches.keys()`); len(keys) != 3 || !slices.Contains(keys, "another page") ||
		!slices.Contains(keys, "evenlot:/another/folder/:1") || !slices.ContainsFunc(keys, func(k string) bool { return strings.Contains(k, "newer-") }) {
		t.Errorf("the caches of this origin are now %v", keys)
	}
}
