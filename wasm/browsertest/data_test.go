package browsertest

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"github.com/chromedp/chromedp"
)

// calculator is the one with this id.
func calculator(t *testing.T, id string) *catalogue.Calculator {
	t.Helper()
	for _, bundle := range all.Bundles() {
		for _, c := range bundle.Calculators {
			if c.ID == id {
				return c
			}
		}
	}
	t.Fatalf("there is no calculator %s", id)
	return nil
}

const dataPicker = "#form input[type=file]"

const saidOfData = `document.querySelector(".import").textContent`

// A store's climate over rows minutes, as a logger would write it: more
// columns than wanted, semicolons, decimal commas, local times, quotes. Of its
// rows the bad ones stand at known lines. theirs is the file, ours what Go
// reads of it.
func climate(rows int, bad map[int]string) (theirs, ours []byte) {
	at := time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)
	theirs = append(theirs, "No;Time;Temperature °C;Relative humidity %;\"Battery; V\"\r\n"...)
	ours = append(ours, '\n')
	for i := range rows {
		day := float64(i) / 1440
		temp := strconv.FormatFloat(17+3*math.Sin(2*math.Pi*day)+math.Sin(day/30), 'f', 1, 64)
		rh := strconv.FormatFloat(58+6*math.Cos(2*math.Pi*day)+4*math.Sin(day/50), 'f', 1, 64)
		when := at.Add(time.Duration(i) * time.Minute).Format("2006-01-02 15:04:05")
		theirs = fmt.Appendf(theirs, "%d;%s;", i+1, when)
		if text, ok := bad[i+2]; ok { // the heading is line 1
			theirs = append(theirs, text...)
			ours = append(ours, "x;x;x\n"...)
		} else {
			theirs = append(append(append(theirs, strings.Replace(temp, ".", ",", 1)...), ';'), strings.Replace(rh, ".", ",", 1)...)
			ours = strconv.AppendFloat(ours, float64(i)/60, 'g', -1, 64)
			ours = append(append(append(append(append(ours, ';'), temp...), ';'), rh...), '\n')
		}
		theirs = append(theirs, ";\"2,9\"\r\n"...)
	}
	return theirs, ours
}

// smooth watches the page from inside: the longest time between two frames,
// what the progress said, and how long a typed character took to be drawn.
const smooth = `(() => {
	globalThis.watched = { gap: 0, echo: [], steps: [] };
	let last = performance.now(), at = 0;
	const frame = () => {
		const now = performance.now();
		watched.gap = Math.max(watched.gap, now - last);
		last = now;
		const bar = document.querySelector(".import progress");
		if (bar && bar.value !== watched.steps.at(-1)) watched.steps.push(bar.value);
		requestAnimationFrame(frame);
	};
	requestAnimationFrame(frame);
	addEventListener("keydown", () => { at = performance.now(); }, true);
	addEventListener("input", () => { const from = at; at = 0; if (from) requestAnimationFrame(() => watched.echo.push(performance.now() - from)); }, true);
	return true; })()`

type watched struct {
	Gap   float64   `json:"gap"`
	Echo  []float64 `json:"echo"`
	Steps []float64 `json:"steps"`
}

// A million rows of a logger: read with progress while the page goes on
// answering, the bad ones told by their line, and computed as Go computes
// them. Stopped half-way, a file changes nothing.
func TestMillionRows(t *testing.T) {
	const rows = 1_000_000
	bad := map[int]string{7: "17,2;5000", 500_000: "warm;60,1", 500_001: "1e9;60,2", 900_000: "17,1,2;60", 1_000_001: "hot;60,2"}
	c := calculator(t, "store-log")
	theirs, ours := climate(rows, bad)
	fed := catalogue.NewRows(c.Fields[0].Columns, catalogue.Locale{})
	fed.Feed(string(ours))
	if fed.Bad() != len(bad) || fed.Good() != rows-len(bad) {
		t.Fatalf("Go reads %d rows, and %d not", fed.Good(), fed.Bad())
	}
	want := func(state catalogue.State) catalogue.Sheet {
		return c.EvalFor(state, catalogue.Locale{Fed: map[string]*catalogue.Rows{"log": fed}})
	}
	path := filepath.Join(t.TempDir(), "store.csv")
	if err := os.WriteFile(path, theirs, 0o644); err != nil {
		t.Fatal(err)
	}

	b := open(t, home)
	b.visit(c.ID + "/")
	b.click("#example")
	state := c.Example()
	b.same(c.Eval(state, nil))
	js[bool](b, smooth)
	choose := func() {
		b.do(chromedp.SetUploadFiles(chromedp.CSS(dataPicker), []string{path}))
		b.until(`document.querySelectorAll(".import select").length === 3`)
		// Recognised by their headings, the hours as time.
		if got := js[[]string](b, `[...document.querySelectorAll(".import select")].map((e) => e.selectedOptions[0].textContent)`); got[0] != "Time" || got[1] != "Temperature °C" || got[2] != "Relative humidity %" {
			t.Errorf("the columns recognised are %q", got)
		}
		b.push("Use these columns")
	}
	choose()
	b.until(`(document.querySelector(".import progress")?.value ?? 0) > 0`)
	// Typing goes on meanwhile, and is answered: by what stands in the field,
	// not by half a file.
	gap := control(c, field1(c, "gap"))
	begin := time.Now()
	b.fill(gap, "")
	for _, key := range "13" {
		b.press(string(key))
	}
	state["gap"] = "13"
	b.want(`document.getElementById(`+lit(gap)+`).value`, "13")
	if js[bool](b, `Boolean(document.querySelector(".import progress"))`) {
		b.same(c.Eval(state, nil))
	}
	b.until(`!document.querySelector(".import progress")`)
	took := time.Since(begin)
	b.want(`document.querySelector(".import p").textContent`, fmt.Sprintf("store.csv: rows read %d, not read %d.", rows-len(bad), len(bad)))
	delete(state, "log")
	sheet := want(state)
	b.same(sheet)
	faults := js[string](b, `document.getElementById("more").textContent`)
	for line := range bad {
		if !strings.Contains(faults, fmt.Sprintf("line %s: ", catalogue.Shortest(float64(line)))) {
			t.Errorf("line %d is not told among the rows in error", line)
		}
	}
	b.enter(gap, "0.5")
	state["gap"] = "0.5"
	b.same(want(state))
	w := js[watched](b, `watched`)
	worst := 0.0
	for _, e := range w.Echo {
		worst = max(worst, e)
	}
	t.Logf("%d rows, %.0f MB: read in %.1f s from the first progress; longest time between frames %.0f ms; a typed character drawn within %.0f ms at worst; %d steps of progress",
		rows, float64(len(theirs))/1e6, took.Seconds(), w.Gap, worst, len(w.Steps))
	if w.Gap > 1000 || worst > 1000 || len(w.Echo) < 2 {
		t.Errorf("the page was not responsive: %.0f ms between frames, %v ms from key to frame", w.Gap, w.Echo)
	}
	if len(w.Steps) < 5 {
		t.Errorf("progress was shown %d times: %v", len(w.Steps), w.Steps)
	}

	// Another file on its way, stopped: the first is still the one in use.
	choose()
	b.until(`(document.querySelector(".import progress")?.value ?? 0) > 0`)
	b.push("Stop")
	b.until(saidOfData + `.startsWith("Stopped. Nothing of the file is used.")`)
	b.until(saidOfData + `.includes("rows read ` + strconv.Itoa(rows-len(bad)) + `")`)
	b.same(want(state))
	b.push("Leave the file away")
	b.want(`document.getElementById("wait").textContent`, "Waiting for: Record.")

	// And with rows typed by hand, those.
	b.click("#example")
	state = c.Example()
	b.same(c.Eval(state, nil))
	choose()
	b.until(`(document.querySelector(".import progress")?.value ?? 0) > 0`)
	b.push("Stop")
	b.want(saidOfData, "Stopped. Nothing of the file is used.")
	b.standsAs(c, state)
	b.same(c.Eval(state, nil))

	// The example and the emptied form leave a file away.
	choose()
	b.until(`document.querySelector(".import button")?.textContent === "Leave the file away"`)
	b.click("#example")
	b.same(c.Eval(state, nil))
	b.want(saidOfData, "")
}

func field1(c *catalogue.Calculator, id string) catalogue.Field {
	f, ok := field(c, id)
	if !ok {
		panic("no field " + id)
	}
	return f
}

// Short files stand in the field: columns recognised by their heading,
// quotes, dates of any zone, rows in error kept where they can be mended.
func TestSmallFiles(t *testing.T) {
	t.Parallel()
	c := calculator(t, "store-log")
	for _, k := range []struct{ name, file, into string }{
		{"headed, out of order", "Humidity,Hours,Temperature\n57,0,17.8\n61,6,17.5\n", "0\t17.8\t57\n6\t17.5\t61"},
		{"quoted, semicolons", "\"Hours\";\"Temperature \"\"in\"\"\";\"Humidity; %\"\r\n\"0\";\"17,8\";\"57\"\r\n\"6\";\"17,5\";\"61\"\r\n", "0\t17,8\t57\n6\t17,5\t61"},
		{"tabs, no heading", "0\t17.8\t57\n6\t17.5\t61\n", "0\t17.8\t57\n6\t17.5\t61"},
		{"dates", "Hours;Temperature;Humidity\n2026-11-01T10:00Z;17.8;57\n2026-11-01T17:30+01:30;17.5;61\n2026-02-30T10:00Z;17.5;61\n", "0\t17.8\t57\n6\t17.5\t61\n2026-02-30T10:00Z\t17.5\t61"},
		{"an empty cell and a row in error", "Hours;Temperature;Humidity\n0;17.8;57\n3;;61\n6;17.5;sixty\n9;17.5;62\n", "0\t17.8\t57\n3\t\t61\n6\t17.5\tsixty\n9\t17.5\t62"},
		{"UTF-16", "\xff\xfe0\x00;\x001\x007\x00;\x005\x007\x00\n\x006\x00;\x001\x008\x00;\x006\x000\x00\n\x00", "0\t17\t57\n6\t18\t60"},
		{"the Latin alphabet of old, time among others", "Humidity;Temp. \xb0C;Fecha\n57;17,8;2026-11-01T10:00Z\n61;17,5;2026-11-01T16:00Z\n", "0\t17,8\t57\n6\t17,5\t61"},
		{"a mark of UTF-8 and remarks", "\ufeff# logger 3\n0;17,8;57\n6;17,5;61\n", "0\t17,8\t57\n6\t17,5\t61"},
	} {
		t.Run(k.name, func(t *testing.T) {
			b := open(t, home)
			b.visit(c.ID + "/")
			b.click("#example")
			b.same(c.Eval(c.Example(), nil))
			b.upload(dataPicker, "small.csv", []byte(k.file))
			b.want(saidOfData, "Read from small.csv.")
			b.want(`document.querySelector("#form textarea").value`, k.into)
			state := c.Example()
			state["log"] = k.into
			b.same(c.Eval(state, nil))
		})
	}
	t.Run("no text", func(t *testing.T) {
		b := open(t, home)
		b.visit(c.ID + "/")
		b.click("#example")
		for name, file := range map[string]string{
			"book.xlsx.csv": "PK\x03\x04\x14\x00\x06\x00\x08\x00\x00\x00!\x00A7\x82\xcfn\x01",
			"picture.txt":   "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x01\x00",
		} {
			b.upload(dataPicker, name, []byte(file))
			b.want(saidOfData, name+" is no plain text and was not read. Save it as CSV in UTF-8.")
			b.standsAs(c, c.Example())
			b.same(c.Eval(c.Example(), nil))
		}
		b.upload(dataPicker, "columns.csv", []byte(strings.Repeat("1;2;3;", 1_000_000)))
		b.want(saidOfData, "columns.csv has more than 200 columns and was not read.")
		// One line without an end.
		b.upload(dataPicker, "line.csv", []byte("0;17.8;57\n"+strings.Repeat("1", 5_000_000)))
		b.until(saidOfData + `.startsWith("The file could not be used (")`)
		b.standsAs(c, c.Example())
		b.same(c.Eval(c.Example(), nil))
	})
}
