package browsertest

import (
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
)

// How long a key takes to become an answer on a slow phone is printed and not
// judged: a busy computer is no defect of the page. What is judged is that
// nothing moves under the finger while a page loads.
func TestLatency(t *testing.T) {
	for _, c := range onePerBundle(t) {
		b := open(t, home)
		b.size(phone)
		b.visit(c.ID + "/")
		if moved := js[float64](b, `globalThis.moved`); moved > 0.02 {
			t.Errorf("%s: the layout moved by %.3f while loading", c.ID, moved)
		}
		b.click("#example")
		b.same(c.Eval(c.Example(), nil))
		call(b, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
		js[bool](b, `(() => {
			globalThis.keys = []; globalThis.long = [];
			new PerformanceObserver((l) => { for (const e of l.getEntries()) long.push(e.duration); }).observe({ type: "longtask" });
			let at = 0;
			addEventListener("keydown", () => { at = performance.now(); }, true);
			new MutationObserver(() => { if (at) { const from = at; at = 0; requestAnimationFrame(() => { const c = new MessageChannel(); c.port1.onmessage = () => keys.push(performance.now() - from); c.port2.postMessage(0); }); } })
				.observe(document.documentElement, { attributeFilter: ["data-shown"] });
			return true; })()`)
		f := own(c)[0]
		b.fill(control(c, f), "")
		for range 5 {
			for _, r := range f.Example {
				b.press(string(r))
				time.Sleep(60 * time.Millisecond)
			}
			for range f.Example {
				b.press("\b")
				time.Sleep(60 * time.Millisecond)
			}
		}
		times := js[[]float64](b, `new Promise((done) => setTimeout(() => done(keys), 300))`)
		if len(times) == 0 {
			t.Fatalf("%s: no key was followed by an answer", c.ID)
		}
		slices.Sort(times)
		long := js[[]float64](b, `long`)
		worst := 0.0
		for _, d := range long {
			worst = max(worst, d)
		}
		t.Logf("%-20s %3d keys at a fourth of the speed: median %.0f ms, 95th percentile %.0f ms; long tasks %d, the longest %.0f ms",
			c.ID, len(times), times[len(times)/2], times[len(times)*95/100], len(long), worst)
	}
}
