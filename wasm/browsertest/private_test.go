package browsertest

import (
	"bytes"
	"maps"
	"net"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Every page carries a strict content policy before anything that it governs.
func TestContentPolicy(t *testing.T) {
	t.Parallel()
	policy := regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">`)
	pages := 0
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		pages++
		at := policy.FindSubmatchIndex(files[name])
		if at == nil {
			t.Errorf("%s has no content policy", name)
			continue
		}
		text := string(files[name][at[2]:at[3]])
		if !strings.Contains(text, "default-src 'none'") || strings.Contains(text, "unsafe-inline") || strings.Contains(text, "'unsafe-eval'") || strings.Contains(text, "http") || strings.Contains(text, "*") {
			t.Errorf("%s: the policy is %s", name, text)
		}
		for _, governed := range []string{"<script", "<link", "<img"} {
			if first := bytes.Index(files[name], []byte(governed)); first >= 0 && first < at[0] {
				t.Errorf("%s: a %s stands before the policy", name, governed)
			}
		}
		for _, m := range regexp.MustCompile(`(?:src|href)="([^"]*)"`).FindAllSubmatch(files[name], -1) {
			if strings.Contains(string(m[1]), "//") || strings.HasPrefix(string(m[1]), "/") {
				t.Errorf("%s points to %s: not a place below its own folder", name, m[1])
			}
		}
	}
	if pages < 3 {
		t.Errorf("%d pages", pages)
	}
}

// The watch of these tests is awake: a script in the page, a request to
// another origin and a word on the console are each heard.
func TestWatchIsAwake(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	b.visit("")
	for _, breach := range []struct{ script, heard string }{
		{`(() => { const s = document.createElement("script"); s.textContent = "globalThis.ran = 1"; document.body.append(s); return true; })()`, "content policy"},
		{`fetch("https://evenlot.example/").then(() => true, () => true)`, "content policy"},
		{`(() => { const i = new Image(); i.src = "http://evenlot.example/i.png"; return true; })()`, "content policy"},
		{`(console.warn("look"), true)`, "look"},
		{`(setTimeout(() => { throw new Error("thrown"); }), true)`, "thrown"},
		{`fetch("nothing-here.txt").then(() => true)`, "404"},
	} {
		js[bool](b, breach.script)
		heard := ""
		for end := time.Now().Add(settled); time.Now().Before(end) && !strings.Contains(heard, breach.heard); time.Sleep(10 * time.Millisecond) {
			heard += strings.Join(b.complaints(), "\n")
		}
		if !strings.Contains(heard, breach.heard) {
			t.Errorf("%s was not heard: %q", breach.script, heard)
		}
	}
	if js[bool](b, `"ran" in globalThis`) {
		t.Error("a script written into the page ran")
	}
	time.Sleep(50 * time.Millisecond)
	b.complaints()
	home.forgive("nothing-here.txt")
}

// browsersOwn are names that Chromium asks by itself, whatever the page: its
// updates, its own autofill and hints. A page's request to one of them would
// be heard by the tab's watch and is forbidden by the content policy.
var browsersOwn = []string{".googleapis.com", ".google.com", ".gvt1.com"}

// Nothing leaves this computer: neither from the pages nor from the service
// worker, which a page's own log would not show. Whatever is not for this
// computer goes through a proxy that the test holds.
func TestNothingLeaves(t *testing.T) {
	t.Parallel()
	h := serve(folder)
	defer h.Close()
	b := open(t, h)
	for _, path := range []string{"", "checked/", "es/"} {
		b.visit(path)
	}
	for _, c := range onePerBundle(t) {
		b.visit(c.ID + "/")
		b.click("#example")
		b.same(c.Eval(c.Example(), nil))
		b.click("#form button[type=submit]")
	}
	b.kept()
	h.mu.Lock()
	for name := range h.names {
		if host, _, err := net.SplitHostPort(name); err != nil || !net.ParseIP(host).IsLoopback() {
			t.Errorf("the server was asked as %s", name)
		}
	}
	h.mu.Unlock()
	if n := h.requests(); n < len(files)/2 {
		t.Errorf("%d requests for %d files: the service worker's went elsewhere", n, len(files))
	}
	if list := js[[]string](b, `performance.getEntriesByType("resource").map((e) => e.name).filter((u) => !u.startsWith(location.origin))`); len(list) > 0 {
		t.Errorf("loaded from elsewhere: %v", list)
	}
	if text := js[string](b, `document.cookie`); text != "" {
		t.Errorf("a cookie: %s", text)
	}
	for _, r := range outside.attempts() {
		if !slices.ContainsFunc(browsersOwn, func(name string) bool { return strings.Contains(r, name) }) {
			t.Errorf("a request for elsewhere: %s", r)
		}
	}
	// The proxy is in the way: a request for elsewhere does come to it.
	p := open(t, h)
	p.do(chromedp.Navigate("http://elsewhere.example/"))
	p.complaints()
	if !slices.Contains(outside.attempts(), "GET elsewhere.example") {
		t.Errorf("the proxy heard %v", outside.attempts())
	}
}
