package browsertest

import (
	"bytes"
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"example.org/evenlot/wasm/catalogue/lot"
	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// The link, copied or read by a camera off the screen, opens the same
// calculation on another device, from a dark page too.
func TestLinkAndCode(t *testing.T) {
	t.Parallel()
	for i, c := range onePerBundle(t) {
		if i%3 != 0 || c.Whole {
			continue
		}
		b := open(t, home)
		b.media("", []string{"light", "dark"}[i%2])
		b.visit(c.ID + "/")
		b.click("#example")
		state := c.Example()
		b.same(c.Eval(state, nil))
		b.push("Link and QR code")
		b.until(`document.querySelector(".share .code")`)
		link := js[string](b, `document.querySelector(".share input").value`)
		if !strings.HasPrefix(link, b.host.base()+c.ID+"/") {
			t.Errorf("%s: the link is %s", c.ID, link)
		}
		shot, err := chromedp.Run(b.ctx, chromedp.ScreenshotScale(chromedp.CSS(".share .code"), 3))
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(shot))
		if err != nil {
			t.Fatal(err)
		}
		bits, err := gozxing.NewBinaryBitmapFromImage(img)
		if err != nil {
			t.Fatal(err)
		}
		if read, err := qrcode.NewQRCodeReader().Decode(bits, nil); err != nil {
			t.Errorf("%s: the code does not read: %v", c.ID, err)
		} else if read.GetText() != link {
			t.Errorf("%s: the code says %s, the link %s", c.ID, read.GetText(), link)
		}
		other := open(t, home)
		other.visit(strings.TrimPrefix(link, b.host.base()))
		other.standsAs(c, state)
		other.same(c.Eval(state, nil))
	}
}

// More than a code can hold is told, and the link is there all the same.
func TestCodeTooLong(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := lot.Calculators()[0]
	b.visit(c.ID + "/")
	b.fill(c.ID+"-lot", strings.Repeat("Crake Hill ", 300))
	b.push("Link and QR code")
	b.want(`[...document.querySelectorAll(".share p")].at(-1).textContent`, "The address is too long for a QR code.")
	b.until(`document.querySelector(".share input").value.length > 3300`)
}

// What is pinned stands first on the list, then what was used last.
func TestPinned(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	list := onePerBundle(t)
	pinned, used := list[0], list[1]
	b.visit(pinned.ID + "/")
	b.push("Pin")
	b.want(`[...document.querySelectorAll("#tools button")].find((e) => e.textContent === "Pin").getAttribute("aria-pressed")`, "true")
	b.visit(used.ID + "/")
	b.click("#example")
	b.same(used.Eval(used.Example(), nil))
	b.click("#form button[type=submit]")
	const first = `[...document.querySelectorAll("#recent:not([hidden]) a")].map((e) => e.textContent).join(" | ")`
	b.visit("")
	b.want(first, pinned.Name+" | "+used.Name)
	b.click("#recent a")
	b.until(`document.querySelector("[data-calc=` + pinned.ID + `]") && document.documentElement.dataset.ready === "1"`)
	b.push("Pin") // again: it goes
	b.visit("")
	b.want(first, used.Name)
}

// What our meter may be off by is typed once and counts in every calculation
// that reads such a meter, and the answer is Go's with it.
func TestOurMeters(t *testing.T) {
	t.Parallel()
	pm := regexp.MustCompile(`name="([^"]+)\.pm"[^>]* value="[^"]*" data-meter="([^"]+)"`)
	type user struct {
		c      *catalogue.Calculator
		fields []string
	}
	users := map[string][]user{}
	for _, bundle := range all.Bundles() {
		for _, c := range bundle.Calculators {
			byKind := map[string][]string{}
			for _, m := range pm.FindAllSubmatch(files[c.ID+"/index.html"], -1) {
				byKind[string(m[2])] = append(byKind[string(m[2])], string(m[1]))
			}
			for kind, fields := range byKind {
				users[kind] = append(users[kind], user{c, fields})
			}
		}
	}
	tested := false
	for kind, list := range users {
		if len(list) < 2 || tested {
			continue
		}
		from, to := list[0], list[len(list)-1]
		// An odd plus-minus that both take and that changes the second's answer.
		const own = "0.37"
		state := to.c.Example()
		for _, f := range to.fields {
			state[f+".pm"] = own
		}
		sheet := to.c.Eval(state, nil)
		plain := to.c.Eval(to.c.Example(), nil)
		if sheet.Problem != "" || len(sheet.Faults) > 0 || len(plain.Values) == 0 || equal(tally(expected(sheet, upperFirst)), tally(expected(plain, upperFirst))) {
			continue
		}
		tested = true
		b := open(t, home)
		b.visit(from.c.ID + "/")
		for _, f := range from.fields {
			b.enter(from.c.ID+"-"+f+"-pm", own)
		}
		b.push("Use these in every calculation")
		b.want(`document.getElementById("ours-said").textContent`, "Kept on this device.")
		b.visit(to.c.ID + "/")
		for _, f := range to.fields {
			b.want(`document.getElementById(`+lit(to.c.ID+"-"+f+"-pm")+`).value`, own)
		}
		b.click("#example")
		b.same(sheet)
		t.Logf("%s: typed in %s, counted in %s", kind, from.c.ID, to.c.ID)
	}
	if !tested {
		t.Errorf("no meter is read by two calculators: %d kinds", len(users))
	}
}

// In Spanish a decimal comma is typed and answered; the other language takes
// along what was typed, as typed, and a lot goes on being the same lot.
func TestSpanish(t *testing.T) {
	t.Parallel()
	words := map[string]string{}
	if text, err := os.ReadFile(filepath.Join("..", "page", "words", "es.json")); err != nil {
		t.Fatal(err)
	} else if err := json.Unmarshal(text, &words); err != nil {
		t.Fatal(err)
	}
	b := open(t, home)
	c := lot.Calculators()[0]
	b.visit("es/" + c.ID + "/")
	state := usual(c)
	for k, v := range state {
		state[k] = strings.ReplaceAll(v, ".", ",")
	}
	if got := js[string](b, `document.getElementById("lot-sheet-activity-max").value`); strings.Contains(got, ".") {
		t.Logf("limits stand with a point: %s", got)
		state = usual(c)
	}
	for _, e := range [][2]string{{"lot", "Loma del Rascón (inventado)"}, {"gm", "11,9"}, {"aw", "0,58"}, {"t", "22,5"}, {"rh", "71"}} {
		b.enter(c.ID+"-"+e[0], e[1])
		state[e[0]] = e[1]
	}
	say := func(english string) string {
		if w, ok := words[english]; ok {
			return w
		}
		return english
	}
	sheet := c.EvalFor(state, catalogue.Locale{Words: words, Comma: true})
	b.sameIn(sheet, say)
	if shown := js[string](b, `document.querySelector(".answer").textContent`); !regexp.MustCompile(`\d,\d`).MatchString(shown) || !strings.Contains(shown, "11,9") {
		t.Errorf("the answer has no decimal comma: %s", shown)
	}
	b.untilKept("the lot", func(l []keptLot) bool { return holds(l, "rh", "71") })
	b.click("a[data-language]")
	b.until(`document.documentElement.lang === "en" && document.documentElement.dataset.ready === "1"`)
	b.want(`document.getElementById("lot-sheet-gm").value`, "11,9")
	b.same(c.Eval(state, nil))
	b.enter(c.ID+"-gm", "11.8")
	if list := b.untilKept("the lot", func(l []keptLot) bool { return holds(l, "gm", "11.8") }); len(list) != 1 {
		t.Errorf("one lot became %d in the other language", len(list))
	}
	b.click("a[data-language]")
	b.until(`document.documentElement.lang === "es" && document.documentElement.dataset.ready === "1"`)
	b.want(`document.getElementById("lot-sheet-gm").value`, "11.8")
	state["gm"] = "11.8"
	b.sameIn(c.EvalFor(state, catalogue.Locale{Words: words, Comma: true}), say)
}
