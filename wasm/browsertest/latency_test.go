package browsertest

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"example.org/evenlot/wasm/catalogue"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/performance"
)

// How long a key takes to become an answer on a slow phone is printed and not
// judged: a busy computer is no defect of the page. What is judged is that
// nothing moves under the finger while a page loads.
func TestLatency(t *testing.T) {
	for _, c := range onePerBundle(t) {
		t.Run(c.ID, func(t *testing.T) { latency(t, c) }) // its tab closes before the next opens
	}
}

// pace is the time between two keys of a fast typist.
const pace = 120 * time.Millisecond

func latency(t *testing.T, c *catalogue.Calculator) {
	b := open(t, home)
	b.size(phone)
	b.visit(c.ID + "/")
	moved := js[float64](b, `globalThis.moved`)
	if moved > 0.02 {
		t.Errorf("%s: the layout moved by %.3f while loading", c.ID, moved)
	}
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	js[bool](b, `(() => {
		globalThis.keys = []; globalThis.long = [];
		new PerformanceObserver((l) => { for (const e of l.getEntries()) long.push(e.duration); }).observe({ type: "longtask" });
		let at = 0;
		addEventListener("keydown", () => { at = performance.now(); }, true);
		new MutationObserver(() => { if (at) { const from = at; at = 0; requestAnimationFrame(() => { const c = new MessageChannel(); c.port1.onmessage = () => keys.push(performance.now() - from); c.port2.postMessage(0); }); } })
			.observe(document.documentElement, { attributeFilter: ["data-shown"] });
		return true; })()`)
	f := own(c)[0]
	pressed := 0
	press := func(key string) {
		time.Sleep(pace)
		b.press(key)
		pressed++
		js[bool](b, fmt.Sprintf(`new Promise((done) => { const look = (left) => keys.length >= %d || left === 0 ? done(true) : setTimeout(look, 10, left - 1); look(200); })`, pressed))
	}
	write := func() {
		for _, r := range f.Example {
			press(string(r))
		}
		for range f.Example {
			press("\b")
		}
	}
	// First at full speed, in the processor's own time, which does not
	// depend on what else runs here; then in real time, slowed down.
	b.fill(control(c, f), "")
	write() // the engine compiles on its first rounds
	call(b, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
	before := b.busy()
	from := pressed
	write()
	cpu := 1000 * (b.busy() - before) / float64(pressed-from)
	js[bool](b, `(keys.length = 0, long.length = 0, true)`)
	pressed = 0
	call(b, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
	write()
	write()
	times := js[[]float64](b, `keys`)
	if len(times) == 0 {
		t.Fatalf("%s: no key was followed by an answer", c.ID)
	}
	slices.Sort(times)
	long := js[[]float64](b, `long`)
	worst := 0.0
	for _, d := range long {
		worst = max(worst, d)
	}
	t.Logf("%-20s a key takes %.1f ms of the processor, figures and all; at a fourth of its speed, here and now, from key to answer on the screen: median %.0f ms, 95th percentile %.0f ms; long tasks %d, the longest %.0f ms; layout moved by %.3f while loading",
		c.ID, cpu, times[len(times)/2], times[len(times)*95/100], len(long), worst, moved)
}

// busy is how long the page's main thread has worked, in seconds of the
// processor.
func (b *tab) busy() float64 {
	b.t.Helper()
	for _, m := range call(b, performance.GetMetrics, cdp.Empty{}).Metrics {
		if m.Name == "TaskDuration" {
			return m.Value
		}
	}
	b.t.Fatal("the browser does not say how long it worked")
	return 0
}
