package browsertest

import (
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"example.org/evenlot/wasm/catalogue"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

// How long a key takes to become an answer on a slow phone is printed and not
// judged: a busy computer is no defect of the page. Beside it stands the floor,
// an empty page that answers a key with a number.
func TestLatency(t *testing.T) {
	t.Run("floor", latencyFloor)
	// The longest answers, and one that stands for the others.
	some := []string{"room-moisture", "bag-oxygen", "control-chart", "lot-sheet"}
	for _, c := range onePerBundle(t) {
		if slices.Contains(some, c.ID) || thorough {
			t.Run(c.ID, func(t *testing.T) { latency(t, c) }) // its tab closes before the next opens
		}
	}
}

// Nothing moves under the finger while a page loads.
func TestNothingMoves(t *testing.T) {
	for _, c := range onePerBundle(t) {
		t.Run(c.ID, func(t *testing.T) { // in a profile that has nothing yet
			t.Parallel()
			b := open(t, home)
			b.size(phone)
			b.visit(c.ID + "/")
			if moved := js[float64](b, `globalThis.moved`); moved > 0.02 {
				t.Errorf("the layout moved by %.3f while loading", moved)
			}
		})
	}
}

// thorough types on a page of each bundle, and often enough for a 95th
// percentile that is more than the longest of twenty.
var thorough = os.Getenv("EVENLOT_LATENCY") == "1"

// pace is the time between two keys of a fast typist.
const pace = 120 * time.Millisecond

func latencyFloor(t *testing.T) {
	b := open(t, home)
	b.size(phone)
	b.do(chromedp.Navigate("about:blank"))
	js[bool](b, `(() => {
		document.body.innerHTML = "<input id=typed><output id=answer></output>";
		let n = 0;
		typed.oninput = () => { answer.textContent = ++n; document.documentElement.dataset.shown = n; };
		typed.focus();
		return true; })()`)
	typeKeys(b, "floor", "61.25")
}

func latency(t *testing.T, c *catalogue.Calculator) {
	b := open(t, home)
	b.size(phone)
	b.visit(c.ID + "/")
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	f := own(c)[0]
	b.fill(control(c, f), "")
	typeKeys(b, c.ID, f.Example)
}

// typeKeys types a text into the field in focus and deletes it, again and again,
// and prints how long the page takes to answer.
func typeKeys(b *tab, name, text string) {
	b.t.Helper()
	js[bool](b, `(() => {
		globalThis.there = []; globalThis.seen = []; globalThis.long = [];
		new PerformanceObserver((l) => { for (const e of l.getEntries()) long.push(e.duration); }).observe({ type: "longtask" });
		let at = 0;
		addEventListener("keydown", () => { at = performance.now(); }, true);
		new MutationObserver(() => {
			if (!at) return;
			const from = at;
			at = 0;
			there.push(performance.now() - from);
			requestAnimationFrame(() => { const c = new MessageChannel(); c.port1.onmessage = () => seen.push(performance.now() - from); c.port2.postMessage(0); });
		}).observe(document.documentElement, { attributeFilter: ["data-shown"] });
		return true; })()`)
	pressed := 0
	// While a key is answered the page is asked nothing: a question on the
	// way would stand in its own measure.
	press := func(key string) {
		b.press(key)
		pressed++
		time.Sleep(pace)
		for range 200 {
			if js[int](b, `seen.length`) >= pressed {
				return
			}
			time.Sleep(pace / 10)
		}
	}
	write := func() {
		for _, r := range text {
			press(string(r))
		}
		for range text {
			press("\b")
		}
	}
	// First at full speed, in the processor's own time, which does not
	// depend on what else runs here; then in real time, slowed down.
	write() // the engine compiles on its first rounds
	call(b, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
	before := b.busy()
	from := pressed
	write()
	cpu := 1000 * (b.busy() - before) / float64(pressed-from)
	call(b, performance.Disable, cdp.Empty{}) // it goes on counting
	js[bool](b, `(there.length = seen.length = long.length = 0, true)`)
	pressed = 0
	call(b, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
	keys := 20
	if thorough {
		keys = 200
	}
	for pressed < keys {
		write()
	}
	there, seen := js[[]float64](b, `there`), js[[]float64](b, `seen`)
	if len(seen) == 0 {
		b.t.Fatalf("%s: no key was followed by an answer", name)
	}
	long := js[[]float64](b, `long`)
	b.t.Logf("%-20s a key takes %.1f ms of the processor, figures and all; at a fourth of its speed, here and now: key to answer %s, to the screen %s (median and 95th percentile); long tasks %d, the longest %.0f ms",
		name, cpu, spread(there), spread(seen), len(long), slices.Max(append(long, 0)))
}

// spread is the median and the 95th percentile.
func spread(times []float64) string {
	slices.Sort(times)
	return fmt.Sprintf("%.0f and %.0f ms", times[len(times)/2], times[len(times)*95/100])
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
