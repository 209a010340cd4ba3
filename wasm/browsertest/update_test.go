package browsertest

import (
	"bytes"
	"maps"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue/lot"
)

// A newer version taken in one window reaches the other one too; in both what
// was typed is still there, and the lots are the same lots.
func TestUpdateKeepsLots(t *testing.T) {
	t.Parallel()
	h := serve(folder)
	defer h.Close()
	b := open(t, h)
	c := lot.Calculators()[0]
	b.visit(c.ID + "/")
	b.kept()
	state := b.typeLot(c, "lot", "Crake Hill (invented)", "gm", "11.9", "rh", "60")
	other := b.beside()
	d := onePerBundle(t)[0]
	other.visit(d.ID + "/")
	other.kept()
	other.click("#example")
	other.same(d.Eval(d.Example(), nil))
	half := own(d)[0]
	other.fill(control(d, half), "12oo ") // not yet a number

	newer := maps.Clone(files)
	for name, text := range newer {
		if strings.HasSuffix(name, ".html") {
			newer[name] = bytes.Replace(text, []byte("</body>"), []byte("<p id=\"newer\">newer</p></body>"), 1)
		}
	}
	const mark = `const build = "`
	if !bytes.Contains(newer["sw.js"], []byte(mark)) {
		t.Fatal("the service worker does not name its build")
	}
	newer["sw.js"] = bytes.Replace(newer["sw.js"], []byte(mark), []byte(mark+"newer-"), 1)
	h.publish(newer)
	js[bool](b, `navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => true)`)
	for _, w := range []*tab{b, other} {
		w.until(`!document.getElementById("news").hidden && document.querySelector("#news button")`)
		w.want(`document.getElementById("news").textContent`, "A newer version is ready. Take it now")
	}
	b.fill(c.ID+"-aw", "0.58") // the last key before the button
	state["aw"] = "0.58"
	b.click("#news button")
	for _, w := range []*tab{b, other} {
		w.until(`document.getElementById("newer") && document.documentElement.dataset.ready === "1"`)
	}
	b.standsAs(c, state)
	b.same(c.Eval(state, nil))
	typed := d.Example()
	typed[half.ID] = "12oo "
	other.standsAs(d, typed)
	if list := b.untilKept("the last key", func(l []keptLot) bool { return holds(l, "aw", "0.58") }); len(list) != 1 {
		t.Errorf("one lot became %d by an update", len(list))
	}
}
