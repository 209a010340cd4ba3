package browsertest

import (
	"math"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/wasm/catalogue"
	"github.com/chromedp/chromedp"
)

// Class: the answer and the working stay veiled until asked for, the guesses
// stand around the answer, a slider moves it live.
func TestClass(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	b.size(projector)
	c := calculator(t, "moisture-basis")
	b.visit(c.ID + "/")
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	b.push("Class")
	b.until(`document.querySelector(".lesson") && document.documentElement.dataset.ready === "1"`)
	state := c.Example()
	sheet := c.Eval(state, nil)
	b.same(sheet)
	seen := func(selector string) string {
		return `String([...document.querySelectorAll(` + lit(selector) + `)].filter((e) => e.checkVisibility({ visibilityProperty: true }) && e.textContent).length)`
	}
	answers := sheet.Values[0].Text
	b.want(seen("#result .value"), "0")
	b.want(seen("#working-lines > *"), "0")
	b.leave()
	js[bool](b, `(scrollTo(0, 0), new Promise((done) => setTimeout(() => done(true), 900)))`) // the answer would be spoken now
	if got := js[string](b, `document.getElementById("spoken").textContent + document.getElementById("glance").textContent`); strings.Contains(got, answers) {
		t.Errorf("the veiled answer is told elsewhere: %s", got)
	}

	b.fill("guesses", "10 11,5 9.75 many ")
	b.want(seen("#result .value"), "0")
	b.push("Show the answer")
	b.want(seen("#result .value"), strconv.Itoa(len(sheet.Values)))
	caption := js[string](b, `document.querySelector(".guesses figcaption").textContent`)
	if n := js[int](b, `document.querySelectorAll(".guesses circle").length`); n != 3 || !strings.HasPrefix(caption, "3 guesses; the nearest is ") || !strings.Contains(caption, answers) {
		t.Errorf("%d guesses are drawn: %s", n, caption)
	}
	// They stand on the picture too, at their height on its axis of moisture.
	heights := js[[]float64](b, `[...document.querySelectorAll("#more svg .guessed circle")].map((c) => {
		const svg = c.closest("svg"), [, top, , bottom] = svg.dataset.frame.split(" ").map(Number), [lo, hi] = svg.dataset.y.split(" ").map(Number);
		return lo + (hi - lo) * (bottom - c.getAttribute("cy")) / (bottom - top); })`)
	if len(heights) != 3 || math.Abs(heights[0]-10) > 0.05 || math.Abs(heights[1]-11.5) > 0.05 || math.Abs(heights[2]-9.75) > 0.05 {
		t.Errorf("on the picture the guesses stand at %v", heights)
	}
	b.fill("guesses", "")
	b.until(`document.querySelectorAll(".guesses circle, .guessed circle").length === 0`)
	b.push("Hide the answer")
	b.want(seen("#result .value"), "0")

	lines := js[int](b, `document.querySelectorAll("#working-lines > *").length`)
	if lines == 0 {
		t.Fatal("there is no working")
	}
	for i := range lines {
		b.push("Next line of working")
		b.want(seen("#working-lines > *"), strconv.Itoa(i+1))
		b.until(inView(`[...document.querySelectorAll("button")].find((e) => e.textContent === "Next line of working")`))
		b.until(inView(`document.querySelector("#working-lines").children[` + strconv.Itoa(i) + `]`))
	}
	// The buttons hide nothing of the last line.
	if js[bool](b, `(() => { const a = document.querySelector(".steer").getBoundingClientRect(), l = document.querySelector("#working-lines").lastElementChild.getBoundingClientRect(); return l.bottom > a.top && l.right > a.left; })()`) {
		t.Error("the buttons lie over the last line of working")
	}
	b.until(`[...document.querySelectorAll("button")].find((e) => e.textContent === "Next line of working").disabled`)

	// A slider writes into its field, in the field's own digits.
	f := own(c)[0]
	id := control(c, f)
	moved := js[string](b, `(() => { const e = document.getElementById(`+lit(id)+`), s = e.closest(".ask").querySelector("input[type=range]");
		s.value = String(Number(e.value) * 0.9); s.dispatchEvent(new Event("input", { bubbles: true })); return e.value; })()`)
	if moved == f.Example || len(moved) > len(f.Example)+1 {
		t.Errorf("the slider writes %s for %s", moved, f.Example)
	}
	state[f.ID] = moved
	b.same(c.Eval(state, nil))
	if s := c.Eval(state, nil); s.Values[0].Text == answers {
		t.Error("the slider did not change the answer")
	}
}

// inView says whether an element stands whole within the window.
func inView(element string) string {
	return `(() => { const r = ` + element + `.getBoundingClientRect(); return r.height > 0 && r.top >= 0 && r.bottom <= innerHeight; })()`
}

// A worksheet: the same number makes the same sheet, its answers stand on a
// page of their own, each with its working.
func TestWorksheet(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := calculator(t, "moisture-basis")
	b.visit(c.ID + "/")
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	b.push("Class")
	b.until(`document.querySelector(".lesson") && document.documentElement.dataset.ready === "1"`)
	b.same(c.Eval(c.Example(), nil))
	make := func(number string) string {
		b.fill("sheet-number", number)
		js[bool](b, `(document.querySelector(".worksheet").replaceChildren(), true)`)
		b.push("Make a worksheet")
		b.until(`document.querySelectorAll(".worksheet ol").length === 2`)
		return js[string](b, `document.querySelector(".worksheet").textContent.replaceAll("worksheet `+number+`", "worksheet")`)
	}
	seven := make("7")
	if eight := make("8"); eight == seven {
		t.Error("numbers 7 and 8 make the same sheet")
	}
	b.do(chromedp.Reload())
	b.ready()
	b.same(c.Eval(c.Example(), nil))
	if again := make("7"); again != seven {
		t.Errorf("number 7 makes\n%s\nand then\n%s", seven, again)
	}
	tasks := js[[]string](b, `[...document.querySelectorAll(".worksheet ol:first-of-type li")].map((e) => e.firstChild.textContent)`)
	answers := js[[]string](b, `[...document.querySelectorAll(".worksheet ol:last-of-type li")].map((e) => e.firstChild.textContent)`)
	if len(tasks) != 6 || len(answers) != 6 {
		t.Fatalf("%d tasks, %d answers", len(tasks), len(answers))
	}
	// Each answer is Go's for the numbers of its task.
	for i, text := range tasks {
		state := c.Example()
		for _, f := range c.Fields {
			if m := regexp.MustCompile(regexp.QuoteMeta(f.Label) + ` ([\d.]+)`).FindStringSubmatch(text); m != nil {
				state[f.ID] = strings.TrimSuffix(m[1], ".")
			}
		}
		sheet := c.Eval(state, nil)
		if len(sheet.Values) == 0 || !strings.HasPrefix(answers[i], sheet.Values[0].Label+": "+sheet.Values[0].Text) {
			t.Errorf("task %q has the answer %q, not Go's: %+v", text, answers[i], sheet)
		}
	}
	p := b.print(chromedp.PaperA4)
	n, err := strconv.Atoi(p.pages)
	if err != nil || n < 2 {
		t.Fatalf("the worksheet takes %s pages", p.pages)
	}
	text := need(t, "pdftotext", "poppler-utils")
	first := 0 // the page on which the answers begin
	for k := 1; k <= n; k++ {
		out, err := exec.Command(text, "-f", strconv.Itoa(k), "-l", strconv.Itoa(k), p.path, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		flat := strings.Join(strings.Fields(string(out)), " ")
		if first == 0 && strings.Contains(flat, ": answers") {
			first = k
			if !strings.HasPrefix(flat, c.Name+", worksheet 7: answers") {
				t.Errorf("the answers begin in the middle of a page:\n%s", flat)
			}
		}
		if first == 0 {
			for _, a := range answers {
				if strings.Contains(flat, a) {
					t.Errorf("page %d gives an answer away: %s", k, a)
				}
			}
		}
	}
	if first != 2 {
		t.Errorf("the answers begin on page %d of %d, not on the second", first, n)
	}
}

// The verdict of another output is said with its name: by the live region, by
// the first line on a phone, and in the answers of a worksheet.
func TestClassVerdicts(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	b.size(phone)
	c := calculator(t, "roast-loss")
	state := c.Example()
	state["r"] = "10.56"
	sheet := c.Eval(state, nil)
	first, j := sheet.Values[0], sheet.Verdicts[0]
	if j.Output == first.ID || j.Word != "out" {
		t.Fatalf("%s says %+v", c.ID, sheet.Verdicts)
	}
	b.visit(c.ID + "/")
	b.click("#example")
	b.enter(c.ID+"-r", state["r"])
	b.same(sheet)
	b.want(`document.getElementById("spoken").textContent`, first.Label+": "+first.Text+" plus or minus "+first.PlusMinus+" %; "+j.Label+": out")
	other := sheet.Values[slices.IndexFunc(sheet.Values, func(v catalogue.Value) bool { return v.ID == j.Output })]
	b.want(`document.getElementById("glance").textContent`, j.Label+" "+other.Text+" ± "+other.PlusMinus+" %")
	if n := js[int](b, `document.querySelectorAll("#glance .shape").length`); n != 1 {
		t.Errorf("the first line has %d shapes of verdicts, want that of the worst", n)
	}
	c = calculator(t, "room-moisture") // where the first has one
	b.visit(c.ID + "/")
	b.click("#example")
	b.same(c.Eval(c.Example(), nil))
	b.until(`document.querySelectorAll("#glance .shape").length === 1`)
}

// What a pupil is asked is possible, no question comes twice, and with the
// plus-minus that stands on the sheet Go gives the answers of the key.
func TestWorksheetTasks(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	for _, k := range []struct {
		calc, number string
		least        int
		fixed        []string // what stands in every task
	}{
		{"roast-loss", "3", 6, nil},
		{"flush-oxygen", "3", 6, []string{"Oxygen before flushing 20.9 "}},
		{"room-leak", "2", 6, []string{"Oxygen at the start 20.9 "}},
		{"oxygen-reading", "1", 2, []string{"Shown in room air then 20.2 "}},
		{"control-chart", "1", 2, []string{"Lines from the first 12"}},
		{"difference-test", "1", 2, []string{"Confidence 95 %"}},
		{"green-activity", "1", 6, nil},
		{"rest-window", "1", 5, nil},
	} {
		c := calculator(t, k.calc)
		b.visit(c.ID + "/?class=1")
		b.click("#example")
		b.same(c.Eval(c.Example(), nil))
		b.fill("sheet-number", k.number)
		b.push("Make a worksheet")
		b.until(`document.querySelectorAll(".worksheet ol").length === 2`)
		given := js[[]string](b, `[...document.querySelectorAll(".worksheet ol:first-of-type li")].map((e) => e.firstChild.textContent)`)
		key := js[[]string](b, `[...document.querySelectorAll(".worksheet ol:last-of-type li")].map((e) => e.firstChild.textContent)`)
		if len(given) < k.least || len(given) > 6 || len(key) != len(given) {
			t.Errorf("%s: %d tasks, %d answers", c.ID, len(given), len(key))
			continue
		}
		notes := len(c.Eval(c.Example(), nil).Notes)
		for i, text := range given {
			for _, want := range k.fixed {
				if !strings.Contains(text, want) {
					t.Errorf("%s: %q does not say %q", c.ID, text, want)
				}
			}
			if slices.Contains(given[:i], text) || slices.Contains(key[:i], key[i]) {
				t.Errorf("%s: the task %q, %q comes twice", c.ID, text, key[i])
			}
			state := c.Example()
			for _, f := range c.Fields {
				_, rest, ok := strings.Cut("; "+text, "; "+f.Label+" ")
				if !ok {
					continue
				}
				said, _, _ := strings.Cut(strings.TrimSuffix(rest, "."), "; ")
				switch f.Kind {
				case catalogue.Series:
					heads, list, _ := strings.Cut(said, "): ")
					for _, c := range f.Columns {
						if !strings.Contains(heads, c.Label) {
							t.Errorf("%s: %q does not say what %s is", c.ID, said, c.Label)
						}
					}
					said = list
					state[f.ID] = strings.ReplaceAll(said, " / ", "\n")
				case catalogue.Number:
					number, pm, measured := strings.Cut(strings.TrimSpace(strings.TrimSuffix(said, " "+f.Unit)), " ± ")
					state[f.ID] = number
					if half := halfDigit(number); measured == f.Exact || measured && f.PlusMinus == 0 && pm != half {
						t.Errorf("%s: %s is given as %q", c.ID, f.Label, said)
					} else if measured && f.PlusMinus > 0 {
						state[f.ID+".pm"] = pm
					}
				}
			}
			sheet := c.Eval(state, nil)
			if len(sheet.Values) == 0 || sheet.Problem != "" || len(sheet.Notes) > notes {
				t.Errorf("%s: %q is no task: %+v", c.ID, text, sheet)
				continue
			}
			v := sheet.Values[0]
			want := v.Label + ": " + v.Text
			if v.PlusMinus != "" {
				want += " ± " + v.PlusMinus
			}
			if v.Unit != "" {
				want += " " + v.Unit
			}
			if w := slices.IndexFunc(sheet.Verdicts, func(j catalogue.Verdict) bool { return j.Output == v.ID }); w >= 0 {
				want += "; " + sheet.Verdicts[w].Word
			} else if len(sheet.Verdicts) > 0 {
				want += "; " + sheet.Verdicts[0].Label + ": " + sheet.Verdicts[0].Word
			}
			if key[i] != want || strings.HasPrefix(v.Text, "−") {
				t.Errorf("%s: the key to %q says %q, Go %q", c.ID, text, key[i], want)
			}
		}
	}
}

// halfDigit is half of the last digit of a number.
func halfDigit(text string) string {
	_, part, point := strings.Cut(text, ".")
	if !point {
		return "0.5"
	}
	return "0." + strings.Repeat("0", len(part)) + "5"
}
