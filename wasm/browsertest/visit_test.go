package browsertest

import (
	"maps"
	"testing"

	"example.org/evenlot/wasm/build/site"
	"github.com/chromedp/cdproto/page"
)

// BenchmarkVisit times a visit, from the start of the navigation to the answer
// on the page: the first, and the second, which finds everything in the
// service worker's store. The floor is the same page with a program that does
// nothing but say that it is there.
//
//	go test -run '^$' -bench Visit -benchtime 9x .
func BenchmarkVisit(b *testing.B) {
	floor := maps.Clone(files)
	floor["store.wasm"] = compile(b, "import \"syscall/js\"\n\nfunc main() { js.Global().Get(\"evenlotReady\").Invoke(); select {} }")
	floor["store.wasm.gz"] = site.Gzip(floor["store.wasm"])
	for _, of := range []struct {
		name  string
		files map[string][]byte
	}{{"calculator", files}, {"empty main", floor}} {
		h := serve(folder)
		b.Cleanup(h.Close)
		h.publish(of.files)
		took := func(tb *tab) float64 {
			tb.visit("room-moisture/?t=18.0&rh=57")
			return js[float64](tb, `globalThis.readyAt`)
		}
		b.Run(of.name, func(b *testing.B) {
			first, second := 0.0, 0.0
			for b.Loop() {
				tb := open(b, h)
				call(tb, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `new MutationObserver(() => { globalThis.readyAt ??= document.documentElement.dataset.ready === "1" ? performance.now() : undefined; }).observe(document, { attributes: true, subtree: true, attributeFilter: ["data-ready"] });`})
				first += took(tb)
				tb.kept()
				second += took(tb)
			}
			b.ReportMetric(first/float64(b.N), "ms/first")
			b.ReportMetric(second/float64(b.N), "ms/second")
			b.ReportMetric(0, "ns/op")
		})
	}
}
