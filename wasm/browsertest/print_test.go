package browsertest

import (
	"fmt"
	"maps"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/lot"
	"github.com/chromedp/chromedp"
)

// paper is a printed page.
type paper struct {
	path, text string
	pages      string
	size       string
}

// print makes the PDF that the browser would send to a printer.
func (b *tab) print(size chromedp.PaperSize) paper {
	b.t.Helper()
	info, text := need(b.t, "pdfinfo", "poppler-utils"), need(b.t, "pdftotext", "poppler-utils")
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
	if err != nil {
		b.t.Fatal(err)
	}
	p := paper{path: filepath.Join(b.t.TempDir(), "page.pdf")}
	keep(b.t, strings.ReplaceAll(b.t.Name(), "/", "-")+".pdf", pdf)
	if err := os.WriteFile(p.path, pdf, 0o644); err != nil {
		b.t.Fatal(err)
	}
	out, err := exec.Command(info, p.path).Output()
	if err != nil {
		b.t.Fatalf("pdfinfo: %v", err)
	}
	for line := range strings.Lines(string(out)) {
		key, value, _ := strings.Cut(line, ":")
		switch key {
		case "Pages":
			p.pages = strings.TrimSpace(value)
		case "Page size":
			p.size = strings.TrimSpace(value)
		}
	}
	out, err = exec.Command(text, "-layout", p.path, "-").Output()
	if err != nil {
		b.t.Fatalf("pdftotext: %v", err)
	}
	p.text = strings.Join(strings.Fields(string(out)), " ")
	return p
}

// light is the share of the first printed page that is nearly white.
func (p paper) light(t *testing.T) float64 {
	t.Helper()
	out, err := exec.Command(need(t, "pdftoppm", "poppler-utils"), "-r", "30", "-gray", "-singlefile", p.path).Output()
	if err != nil {
		t.Fatalf("pdftoppm: %v", err)
	}
	var w, h, top int
	head := regexp.MustCompile(`^P5\s+\d+\s+\d+\s+\d+\s`).Find(out)
	if _, err := fmt.Sscan(strings.TrimPrefix(string(head), "P5"), &w, &h, &top); err != nil {
		t.Fatalf("pdftoppm: %v", err)
	}
	pixels := out[len(head):]
	n := 0
	for _, v := range pixels {
		if v > 240 {
			n++
		}
	}
	return float64(n) / float64(w*h)
}

// The lot sheet prints on one page of A4, and of Letter: every value, every
// verdict's word, the limits' sources and the build; black on white, from
// a dark screen too.
func TestLotOnOnePage(t *testing.T) {
	t.Parallel()
	c := lot.Calculators()[0]
	crake := catalogue.State{} // most of its verdicts are out or too close to call, and say more
	for _, e := range crakeHill {
		crake[e.field] = e.typed
	}
	near := maps.Clone(crake) // nothing is easy here
	for k, v := range map[string]string{"aw": "0.70", "r": "12.00", "n": "4", "flush": "660", "o2": "2.0", "tds": "1.35", "supply": "0.4"} {
		near[k] = v
	}
	many := c.Example()
	many["batches"] = strings.TrimSpace(strings.Repeat("12.00 10.17\n", 6))
	many["o2s"] = strings.TrimSpace(strings.Repeat("0.6 ", 12))
	for _, p := range []struct {
		name, scheme, size string
		paper              chromedp.PaperSize
		state              catalogue.State
	}{
		{"A4", "light", "(A4)", chromedp.PaperA4, c.Example()},
		{"Letter", "dark", "(letter)", chromedp.PaperLetter, c.Example()},
		{"A4, seven batches", "light", "(A4)", chromedp.PaperA4, many},
		{"Letter, seven batches", "light", "(letter)", chromedp.PaperLetter, many},
		{"A4, on hold", "light", "(A4)", chromedp.PaperA4, crake},
		{"A4, close", "light", "(A4)", chromedp.PaperA4, near},
		{"A4, empty", "dark", "(A4)", chromedp.PaperA4, catalogue.State{"lot": "nothing read yet"}},
	} {
		t.Run(p.name, func(t *testing.T) {
			b := open(t, home)
			b.media("", p.scheme)
			query := url.Values{}
			for k, v := range p.state {
				query.Set(k, v)
			}
			for _, f := range c.Form() {
				if f.IsLimit() && f.Example != "" {
					p.state[f.ID] = f.Example
				}
			}
			sheet := c.Eval(p.state, nil)
			b.visit(c.ID + "/?" + query.Encode())
			b.same(sheet)
			got := b.print(p.paper)
			if got.pages != "1" || !strings.Contains(got.size, p.size) {
				t.Errorf("%s pages of %s", got.pages, got.size)
			}
			for _, v := range sheet.Values {
				if !strings.Contains(got.text, v.Text) || !strings.Contains(got.text, v.Label) {
					t.Errorf("%s, %s, is not on the paper", v.Label, v.Text)
				}
			}
			words := map[string]int{upperFirst(sheet.Overall): 1}
			for _, v := range sheet.Verdicts {
				words[upperFirst(v.Word)]++
			}
			for w, n := range words {
				if strings.Count(got.text, w) < n {
					t.Errorf("the word %q stands %d times on the paper, not %d", w, strings.Count(got.text, w), n)
				}
			}
			for _, text := range []string{p.state["lot"], "build", "Printed"} {
				if !strings.Contains(got.text, text) {
					t.Errorf("%q is not on the paper", text)
				}
			}
			for _, text := range []string{"Fill in the example", "Skip to", "Compute"} {
				if strings.Contains(got.text, text) {
					t.Errorf("%q is of no use on paper", text)
				}
			}
			if share := got.light(t); share < 0.8 {
				t.Errorf("only %.0f %% of the paper stays white", 100*share)
			}
		})
	}
}

// A calculator's paper holds its answer, its working, its sources and its
// cautions, the folds open.
func TestCalculatorOnPaper(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	for _, c := range onePerBundle(t) {
		if c.Whole {
			continue
		}
		sheet := c.Eval(c.Example(), nil)
		b.visit(c.ID + "/")
		b.click("#example")
		b.same(sheet)
		got := b.print(chromedp.PaperA4)
		want := []string{c.Name, c.Question, sheet.Values[0].Text, c.Sources[0].Name, "Evenlot"}
		for _, v := range sheet.Verdicts {
			want = append(want, upperFirst(v.Word), v.Limit)
		}
		want = append(want, c.Cautions...)
		for _, f := range c.Fields { // the plus-minus behind the answer
			if f.Kind == catalogue.Number && !f.Exact && f.PlusMinus > 0 {
				words := strings.Fields(f.Label) // a long label breaks
				want = append(want, "± "+strings.Join(words[:min(2, len(words))], " "))
			}
		}
		for _, text := range want {
			if !strings.Contains(got.text, strings.Join(strings.Fields(text), " ")) {
				t.Errorf("%s: %q is not on the paper:\n%s", c.ID, text, got.text)
			}
		}
		if js[int](b, `document.querySelectorAll("details[data-for-paper]").length`) != 0 {
			t.Errorf("%s: folds stay open after printing", c.ID)
		}
	}
}

// On paper the working is set in eight points at least; smaller stands only
// what would not fit in a line, and nothing runs off the paper. On the screen a
// line that goes on behind the edge shows it.
func TestPrintedWorking(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	for _, id := range []string{"roast-loss", "room-moisture", "green-activity", "film-layers"} {
		c := find(t, id)
		b.media("", "")
		b.size(screen{"desk", 1280, 900, false})
		b.visit(c.ID + "/")
		b.click("#example")
		b.same(c.Eval(c.Example(), nil))
		js[bool](b, `(document.getElementById("working").open = true, true)`)
		cue := js[string](b, `getComputedStyle(document.querySelector("#working .line")).backgroundAttachment`)
		if !strings.HasPrefix(cue, "local, local, scroll") {
			t.Errorf("%s: a long line has no cue that it goes on: %s", id, cue)
		}
		js[bool](b, `(dispatchEvent(new Event("beforeprint")), true)`)
		b.media("print", "")
		b.size(screen{"A4", 688, 1000, false}) // between its margins
		lines := js[[]struct {
			Points, Wide, Room float64
			Long               bool
			Cue                string
		}](b, `[...document.querySelectorAll("#working .line math")].map((m) => ({ Points: parseFloat(getComputedStyle(m).fontSize) * 0.75, Wide: m.getBoundingClientRect().width,
			Room: m.parentElement.clientWidth, Long: m.classList.contains("long"), Cue: getComputedStyle(m.parentElement).backgroundImage }))`)
		if len(lines) == 0 {
			t.Errorf("%s: there is no working", id)
		}
		for _, l := range lines {
			if l.Wide > l.Room+1 || l.Cue != "none" || l.Points < 7.99 && (!l.Long || l.Wide*8/l.Points < 0.9*l.Room) {
				t.Errorf("%s: a line of working is printed as %+v", id, l)
			}
		}
		js[bool](b, `(dispatchEvent(new Event("afterprint")), true)`)
	}
}
