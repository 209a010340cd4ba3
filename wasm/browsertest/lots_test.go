package browsertest

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/lot"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// A keptLot is a lot as it lies in the browser's database and travels in a
// file.
type keptLot struct {
	ID      string            `json:"id"`
	Rev     int               `json:"rev"`
	Created string            `json:"created"`
	Changed string            `json:"changed"`
	State   map[string]string `json:"state"`
	Card    map[string]string `json:"card"`
	History []struct {
		At    string `json:"at"`
		By    string `json:"by"`
		Field string `json:"field"`
		To    string `json:"to"`
	} `json:"history"`
	Notes []struct {
		At   string `json:"at"`
		By   string `json:"by"`
		Text string `json:"text"`
	} `json:"notes"`
}

// keptLots reads the browser's database past the page.
func (b *tab) keptLots() []keptLot {
	b.t.Helper()
	list := js[[]keptLot](b, `new Promise((done, failed) => {
		const r = indexedDB.open("evenlot:" + `+lit(b.host.folder)+` + ":lots");
		r.onerror = () => failed(r.error);
		r.onsuccess = () => { const q = r.result.transaction("lots").objectStore("lots").getAll(); q.onsuccess = () => { r.result.close(); done(q.result); }; };
	})`)
	slices.SortFunc(list, func(a, b keptLot) int { return strings.Compare(a.Created, b.Created) })
	return list
}

// untilKept waits until the lots kept are as asked.
func (b *tab) untilKept(what string, ok func([]keptLot) bool) []keptLot {
	b.t.Helper()
	var list []keptLot
	for end := time.Now().Add(settled); ; time.Sleep(20 * time.Millisecond) {
		if list = b.keptLots(); ok(list) {
			return list
		}
		if time.Now().After(end) {
			b.t.Fatalf("never kept: %s\n%+v", what, list)
		}
	}
}

// holds says whether some lot holds a text in a field.
func holds(list []keptLot, field, text string) bool {
	return slices.ContainsFunc(list, func(l keptLot) bool { return l.State[field] == text })
}

// push presses the button with this text.
func (b *tab) push(text string) {
	b.t.Helper()
	b.until(`[...document.querySelectorAll("button")].some((e) => e.textContent === ` + lit(text) + `)`)
	js[bool](b, `([...document.querySelectorAll("button")].find((e) => e.textContent === `+lit(text)+`).click(), true)`)
}

const saidOfLots = `document.querySelector("#lots > .bar").textContent`

// usual is a form of the lot sheet with nothing typed.
func usual(c *catalogue.Calculator) catalogue.State {
	state := catalogue.State{}
	for _, f := range c.Form() {
		if f.IsLimit() && f.Example != "" {
			state[f.ID] = strings.ReplaceAll(f.Example, "−", "-")
		}
	}
	return state
}

// typeLot types fields of a new lot and waits until they are kept.
func (b *tab) typeLot(c *catalogue.Calculator, fields ...string) catalogue.State {
	b.t.Helper()
	state := usual(c)
	for i := 0; i < len(fields); i += 2 {
		b.enter(c.ID+"-"+fields[i], fields[i+1])
		state[fields[i]] = fields[i+1]
	}
	b.untilKept(strings.Join(fields, " "), func(l []keptLot) bool {
		return slices.ContainsFunc(l, func(l keptLot) bool {
			for i := 0; i < len(fields); i += 2 {
				if l.State[fields[i]] != fields[i+1] {
					return false
				}
			}
			return true
		})
	})
	return state
}

// upload hands a file to a file picker.
func (b *tab) upload(selector, name string, content []byte) {
	b.t.Helper()
	path := filepath.Join(b.t.TempDir(), name)
	if err := os.WriteFile(path, content, 0o644); err != nil {
		b.t.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles(chromedp.CSS(selector), []string{path}))
}

const lotPicker = "#lots input[type=file]"

// saves returns the file that a button saves.
func (b *tab) saves(button string) (name, text string) {
	b.t.Helper()
	js[bool](b, `(() => { globalThis.saved = [];
		URL.createObjectURL = (blob) => { saved.push(blob); return "blob:"; };
		HTMLAnchorElement.prototype.click = function () { saved.push(this.download); }; return true; })()`)
	b.push(button)
	b.until(`saved.length === 2`)
	return js[string](b, `saved[1]`), js[string](b, `saved[0].text()`)
}

// A lot is kept with its history and found again, others beside it; what was
// typed last is saved before another is shown; a lot goes only when confirmed.
func TestLotsAreKept(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := lot.Calculators()[0]
	b.visit(c.ID + "/")
	b.fill("lot-by", "Ana")
	first := b.typeLot(c, "lot", "Crake Hill 26-007 (invented)", "gm", "11.9", "aw", "0.58")
	b.same(c.Eval(first, nil))
	b.do(chromedp.Reload())
	b.ready()
	b.standsAs(c, first)
	b.want(`document.querySelector("#lot-pick").selectedOptions[0].textContent.split(",")[0]`, first["lot"])
	b.enter(c.ID+"-rh", "71")
	first["rh"] = "71"
	list := b.untilKept("the humidity", func(l []keptLot) bool { return holds(l, "rh", "71") })
	if len(list) != 1 {
		t.Fatalf("one lot became %d by a reload", len(list))
	}
	if h := list[0].History; len(h) != 4 || h[1].By != "Ana" || h[1].Field != "gm" || h[1].To != "11.9" || !recent(h[1].At) {
		t.Errorf("its history is %+v", h)
	}
	// The last key and a reload at once.
	b.fill(c.ID+"-t", "22.5")
	b.do(chromedp.Reload())
	b.ready()
	first["t"] = "22.5"
	b.standsAs(c, first)
	if list = b.untilKept("the last key", func(l []keptLot) bool { return holds(l, "t", "22.5") }); len(list) != 1 {
		t.Fatalf("one lot became %d by a reload", len(list))
	}

	b.push("New lot")
	b.want(`document.querySelector("#lot-sheet-gm").value`, "")
	b.standsAs(c, usual(c))
	second := b.typeLot(c, "lot", "Tern Mere 26-002 (invented)", "gm", "10.4")
	list = b.keptLots()
	if len(list) != 2 {
		t.Fatalf("%d lots are kept, not 2", len(list))
	}
	// Choosing another at once does not lose the last key.
	b.fill(c.ID+"-aw", "0.51")
	second["aw"] = "0.51"
	b.choose("#lot-pick", list[0].ID)
	b.want(`document.querySelector("#lot-sheet-gm").value`, "11.9")
	b.standsAs(c, first)
	b.same(c.Eval(first, nil))
	b.untilKept("the second lot's last key", func(l []keptLot) bool { return holds(l, "aw", "0.51") })
	b.do(chromedp.Reload())
	b.ready()
	b.standsAs(c, first)

	// Notes: text, whoever wrote them and whatever it looks like.
	const note = `Sent back: <img src=x onerror="document.title='taken'">`
	b.fill("lot-note", note)
	b.push("Add the note")
	list = b.untilKept("a note", func(l []keptLot) bool { return len(l[0].Notes) == 1 })
	if n := list[0].Notes[0]; n.By != "Ana" || n.Text != note || !recent(n.At) {
		t.Errorf("the note is %+v", n)
	}
	b.until(`document.querySelector("#lots details li").textContent.endsWith(` + lit(", Ana: "+note) + `)`)
	b.until(`[...document.querySelectorAll("#lots details li")].some((e) => e.textContent.endsWith(", Ana: Moisture of the green: 11.9"))`)

	b.push("Delete this lot")
	b.push("Keep it")
	if n := len(b.keptLots()); n != 2 {
		t.Errorf("%d lots are left of two", n)
	}
	b.push("Delete this lot")
	b.want(saidOfLots, "Delete Crake Hill 26-007 (invented) for good? Delete it Keep it")
	b.push("Delete it")
	list = b.untilKept("one lot", func(l []keptLot) bool { return len(l) == 1 })
	if list[0].State["lot"] != second["lot"] {
		t.Errorf("what is left is %+v", list[0])
	}
	b.standsAs(c, usual(c))
	b.do(chromedp.Reload())
	b.ready()
	b.choose("#lot-pick", list[0].ID)
	b.want(`document.querySelector("#lot-sheet-gm").value`, "10.4")
	b.standsAs(c, second)

	// A name that looks like a page is a name.
	const wild = `<img src=x onerror="document.title='taken'"><b>Rail Cove</b>`
	b.push("New lot")
	b.want(`document.querySelector("#lot-sheet-gm").value`, "")
	b.typeLot(c, "lot", wild, "gm", "11.0")
	b.until(`[...document.querySelectorAll("#lot-pick option")].some((e) => e.textContent.startsWith(` + lit(wild) + `))`)
	b.push("Delete this lot")
	b.until(saidOfLots + `.includes(` + lit(wild) + `)`)
	if got := js[string](b, `document.title + document.querySelectorAll("main img, #lots b").length`); strings.Contains(got, "taken") || !strings.HasSuffix(got, "0") {
		t.Errorf("the name reached the page: %s", got)
	}
}

// recent says whether a moment, as kept, lies within the last hour.
func recent(at string) bool {
	m, err := time.Parse(time.RFC3339, at)
	return err == nil && time.Since(m).Abs() < time.Hour
}

// A link from elsewhere is no lot of this device, and takes none's place.
func TestLinkIsNoLot(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := lot.Calculators()[0]
	b.visit(c.ID + "/")
	b.typeLot(c, "lot", "Crake Hill (invented)", "gm", "11.9")
	b.visit(c.ID + "/?lot=Coot+Ness+(invented)&gm=10.1")
	b.do(chromedp.Reload())
	b.ready()
	if list := b.keptLots(); len(list) != 1 || list[0].State["gm"] != "11.9" {
		t.Fatalf("a link was opened, and kept is %+v", list)
	}
	b.enter(c.ID+"-aw", "0.50")
	list := b.untilKept("the linked lot once something is typed", func(l []keptLot) bool { return len(l) == 2 })
	if s := list[1].State; s["gm"] != "10.1" || s["aw"] != "0.50" || list[0].State["gm"] != "11.9" {
		t.Errorf("kept are %+v", list)
	}
}

// Two windows: a change in one appears in the other; where both changed, both
// are told and either may win.
func TestTwoWindows(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := lot.Calculators()[0]
	id := c.ID + "-"
	b.visit(c.ID + "/")
	state := b.typeLot(c, "lot", "Crake Hill (invented)", "gm", "11.9", "rh", "60")
	other := b.beside()
	other.visit(c.ID + "/")
	other.standsAs(c, state)

	b.enter(id+"gm", "11.2")
	other.want(`document.getElementById(`+lit(id+"gm")+`).value`, "11.2")
	other.enter(id+"aw", "0.55")
	b.want(`document.getElementById(`+lit(id+"aw")+`).value`, "0.55")
	state["gm"], state["aw"] = "11.2", "0.55"
	b.standsAs(c, state)
	b.same(c.Eval(state, nil))

	// The other window waits long with its saving: its hand is still moving.
	slow := func() {
		js[bool](other, `(() => { const real = setTimeout; globalThis.setTimeout = (f, ms) => real(f, ms === 400 ? 60_000 : ms); return true; })()`)
	}
	slow()
	const told = "This lot was changed in another window."
	other.fill(id+"rh", "63")
	b.enter(id+"gm", "11.5")
	other.until(saidOfLots + `.startsWith(` + lit(told) + `)`)
	other.want(`document.getElementById(`+lit(id+"rh")+`).value`, "63")
	other.push("Keep what stands here as a new lot")
	list := other.untilKept("both", func(l []keptLot) bool { return len(l) == 2 })
	if l := list[0].State; l["gm"] != "11.5" || l["rh"] != "60" {
		t.Errorf("the lot of the first window is %v", l)
	}
	if l := list[1].State; l["gm"] != "11.2" || l["rh"] != "63" || l["aw"] != "0.55" {
		t.Errorf("the new lot of the second window is %v", l)
	}

	other.do(chromedp.Reload())
	other.ready()
	other.choose("#lot-pick", list[0].ID)
	other.want(`document.getElementById(`+lit(id+"gm")+`).value`, "11.5")
	slow()
	other.fill(id+"rh", "64")
	b.enter(id+"gm", "11.6")
	other.until(saidOfLots + `.startsWith(` + lit(told) + `)`)
	// Going elsewhere is no way out: it would lose one of the two.
	other.push("New lot")
	other.until(saidOfLots + `.startsWith(` + lit(told) + `)`)
	other.want(`document.getElementById(`+lit(id+"rh")+`).value`, "64")
	other.push("Take what stands there")
	other.want(`document.getElementById(`+lit(id+"gm")+`).value`, "11.6")
	state["gm"] = "11.6"
	other.standsAs(c, state)
	if list = other.keptLots(); len(list) != 2 || holds(list, "rh", "64") {
		t.Errorf("kept are %+v", list)
	}
}

// lotSchema is the published schema, compiled.
func lotSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	const name = "lots.schema.json"
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(files[name]))
	if err != nil {
		t.Fatalf("the site's %s: %v", name, err)
	}
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	if err := compiler.AddResource(name, doc); err != nil {
		t.Fatal(err)
	}
	schema, err := compiler.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

func follows(schema *jsonschema.Schema, text []byte) error {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return err
	}
	return schema.Validate(doc)
}

// The lots in a file: as the schema says, and the same lots in another
// browser. The CSV holds what was read, in its unit, and nothing that a
// spreadsheet would run.
func TestLotsTravel(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := lot.Calculators()[0]
	b.visit(c.ID + "/")
	b.fill("lot-by", "Berta \"B\" <i>")
	b.typeLot(c, "lot", "Crake Hill, 26-007; «ñ» \"(invented)\"", "gm", "11,9", "t", "18.0", "water", "1 165,5", "bag", "1,150", "o2s", "0,6 0,7", "batches", "12,00 10,17\n12.00,10.11")
	b.choose(`select[name="t.unit"]`, "°F")
	b.untilKept("the unit", func(l []keptLot) bool { return holds(l, "t.unit", "°F") })
	b.fill("lot-note", "a note")
	b.push("Add the note")
	b.untilKept("a note", func(l []keptLot) bool { return len(l[0].Notes) == 1 })
	b.enter("card-name", "Crake Hill (invented)")
	b.untilKept("a card", func(l []keptLot) bool { return l[0].Card["name"] != "" })
	wild := []string{`=HYPERLINK("http://elsewhere.example","x")`, "+1+cmd|' /C calc'!A0", "-1+cmd|' /C calc'!A0", "@SUM(1+1)", "-5"}
	for _, name := range wild {
		b.push("New lot")
		b.want(`document.querySelector("#lot-sheet-lot").value`, "")
		b.typeLot(c, "lot", name)
	}
	list := b.keptLots()

	name, text := b.saves("Save all lots to a file")
	if !regexp.MustCompile(`^evenlot-lots-\d{4}-\d\d-\d\d\.json$`).MatchString(name) {
		t.Errorf("the file is named %s", name)
	}
	schema := lotSchema(t)
	if err := follows(schema, []byte(text)); err != nil {
		t.Errorf("the file does not follow its schema: %v", err)
	}
	other := open(t, home)
	other.visit(c.ID + "/")
	other.upload(lotPicker, name, []byte(text))
	other.want(saidOfLots, fmt.Sprintf("Lots read from %s: %d; already here: 0.", name, len(list)))
	// The first of them lies open.
	var file struct{ Lots []keptLot }
	if err := json.Unmarshal([]byte(text), &file); err != nil {
		t.Fatal(err)
	}
	other.want(`document.getElementById("lot-pick").value + document.getElementById("lot-sheet-lot").value`, file.Lots[0].ID+file.Lots[0].State["lot"])
	got := other.keptLots()
	for i := range got {
		got[i].Rev--
	}
	if !reflect.DeepEqual(got, list) {
		t.Errorf("the lots arrived as\n%+v\nand were\n%+v", got, list)
	}
	other.choose("#lot-pick", list[0].ID)
	other.want(`document.querySelector("#lot-sheet-t").value + document.querySelector("[name='t.unit']").value + document.querySelector("#card-name").value`, "64.4°FCrake Hill (invented)")
	other.upload(lotPicker, "again.json", []byte(text))
	other.want(saidOfLots, fmt.Sprintf("Lots read from again.json: 0; already here: %d.", len(list)))

	_, text = b.saves("Readings as CSV")
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(rows) != 1+len(list) {
		t.Fatalf("%d rows, %v:\n%s", len(rows), err, text)
	}
	column := func(name string) int {
		return slices.IndexFunc(rows[0], func(head string) bool { return strings.HasSuffix(head, " ["+name+"]") })
	}
	for name, want := range map[string]string{
		"gm": "Moisture of the green, %", "t": "Air temperature of the store", "t.unit": "Unit of Air temperature of the store", "gm.pm": "± Moisture of the green, %",
		"aw": "Water activity of the green", "loss-max": "Roast loss, at most, %", "batches": "Other batches of the lot: Green, kg; Roasted, kg",
	} {
		if i := column(name); i < 0 || rows[0][i] != want+" ["+name+"]" {
			t.Errorf("column %s is headed %q, not %q", name, rows[0][max(i, 0)], want)
		}
	}
	byName := map[string][]string{}
	for _, r := range rows[1:] {
		byName[r[column("lot")]] = r
		for i, cell := range r {
			if cell != "" && strings.Contains("=+-@\t\r\n", cell[:1]) && !regexp.MustCompile(`^-\d+$`).MatchString(cell) {
				t.Errorf("a spreadsheet would run column %s: %s", rows[0][i], cell)
			}
		}
	}
	for _, name := range wild {
		if name != "-5" {
			name = "'" + name
		}
		if byName[name] == nil {
			t.Errorf("the CSV has no lot %s", name)
		}
	}
	r := byName[list[0].State["lot"]]
	if r == nil || r[column("gm")] != "11.9" || r[column("t")] != "64.4" || r[column("t.unit")] != "°F" || r[column("water")] != "1165.5" ||
		r[column("bag")] != "1,150" || r[column("o2s")] != "0.6 0.7" || r[column("batches")] != "12.00 10.17\n12.00,10.11" {
		t.Errorf("the first lot's row is %q of %q", r, rows[0])
	}
}

// Damaged and hostile files change nothing and say why. Wherever the schema
// can say it, the schema refuses them too.
func TestDamagedLots(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := lot.Calculators()[0]
	b.visit(c.ID + "/")
	b.typeLot(c, "lot", "Crake Hill (invented)", "gm", "11.9")
	before := b.keptLots()
	sound := func() map[string]any {
		var file map[string]any
		text := `{"format":"evenlot-lots","version":1,"written":"2026-11-01T10:00:00.000Z","lots":[
			{"id":"` + before[0].ID + `","rev":9,"created":"2026-10-01T10:00:00.000Z","changed":"2099-10-02T10:00:00.000Z","state":{"lot":"a","gm":"5"},"card":{"name":"a"},
			 "history":[{"at":"2026-10-01T10:00:00Z","by":"x","field":"gm","to":"5"}],"notes":[{"at":"2026-10-01T10:00:00Z","by":"x","text":"y"}]},
			{"id":"0123456789abcdef","rev":0,"created":"2026-10-01T10:00:00.000Z","changed":"2026-10-02T10:00:00.000Z","state":{}}]}`
		if err := json.Unmarshal([]byte(text), &file); err != nil {
			t.Fatal(err)
		}
		return file
	}
	whole, err := json.Marshal(sound())
	if err != nil {
		t.Fatal(err)
	}
	at := func(file map[string]any, path ...any) (m map[string]any) {
		var v any = file
		for _, p := range path {
			switch p := p.(type) {
			case string:
				v = v.(map[string]any)[p]
			case int:
				v = v.([]any)[p]
			}
		}
		return v.(map[string]any)
	}
	first := func(f map[string]any) map[string]any { return at(f, "lots", 0) }
	second := func(f map[string]any) map[string]any { return at(f, "lots", 1) }
	many := func(n int, v any) []any {
		list := make([]any, n)
		for i := range list {
			list[i] = v
		}
		return list
	}
	raw := func(text string) func(map[string]any) any { return func(map[string]any) any { return text } }
	with := func(change func(map[string]any)) func(map[string]any) any {
		return func(f map[string]any) any { change(f); return f }
	}
	cases := []struct {
		name, why string
		beyond    bool // a rule that JSON Schema cannot hold
		make      func(map[string]any) any
	}{
		{"empty", "no whole file of lots", false, raw("")},
		{"truncated", "no whole file of lots", false, raw(string(whole[:len(whole)-40]))},
		{"half", "no whole file of lots", false, raw(string(whole[:len(whole)/2]))},
		{"garbage", "no whole file of lots", false, raw("\x00\x01\xff\xfe lots")},
		{"page", "no whole file of lots", false, raw("<!doctype html><script>document.title='taken'</script>")},
		{"nan", "no whole file of lots", false, raw(strings.Replace(string(whole), `"rev":9`, `"rev":NaN`, 1))},
		{"comma", "no whole file of lots", false, raw(strings.Replace(string(whole), `"rev":9`, `"rev":9,`, 1))},
		{"twice-one-file", "no whole file of lots", false, raw(string(whole) + string(whole))},
		{"null", "not an object", false, raw("null")},
		{"list", "not an object", false, raw("[]")},
		{"number", "not an object", false, raw("5")},
		{"foreign", "unknown", false, raw(`{"lots":[],"vendor":"x"}`)},
		{"no-format", "no file of lots", false, with(func(f map[string]any) { delete(f, "format") })},
		{"other-format", "no file of lots", false, with(func(f map[string]any) { f["format"] = "evenlot-lots-2" })},
		{"version-2", "version is 2", false, with(func(f map[string]any) { f["version"] = 2 })},
		{"version-text", `version is "1"`, false, with(func(f map[string]any) { f["version"] = "1" })},
		{"version-deep", "version is", false, raw(strings.Replace(string(whole), `"version":1`, `"version":`+strings.Repeat("[", 200_000)+strings.Repeat("]", 200_000), 1))},
		{"written-number", "written", false, with(func(f map[string]any) { f["written"] = 5 })},
		{"lots-object", "not a list", false, with(func(f map[string]any) { f["lots"] = map[string]any{} })},
		{"lots-missing", "not a list", false, with(func(f map[string]any) { delete(f, "lots") })},
		{"too-many", "more than 5000", false, with(func(f map[string]any) { f["lots"] = many(5001, second(f)) })},
		{"lot-null", "not an object", false, with(func(f map[string]any) { f["lots"] = []any{nil} })},
		{"lot-text", "not an object", false, with(func(f map[string]any) { f["lots"] = []any{"x"} })},
		{"id-twice", "stands twice", true, with(func(f map[string]any) { second(f)["id"] = first(f)["id"] })},
		{"id-missing", "missing", false, with(func(f map[string]any) { delete(second(f), "id") })},
		{"id-number", "not a text", false, with(func(f map[string]any) { second(f)["id"] = 5 })},
		{"id-markup", "id is", false, with(func(f map[string]any) { second(f)["id"] = "<img src=x>" })},
		{"id-long", "longer than 64", false, with(func(f map[string]any) { second(f)["id"] = strings.Repeat("a", 65) })},
		{"rev-negative", "rev is -1", false, with(func(f map[string]any) { second(f)["rev"] = -1 })},
		{"rev-half", "rev is 0.5", false, with(func(f map[string]any) { second(f)["rev"] = 0.5 })},
		{"rev-huge", "rev is", true, with(func(f map[string]any) { second(f)["rev"] = 1e300 })},
		{"rev-text", `rev is "1"`, false, with(func(f map[string]any) { second(f)["rev"] = "1" })},
		{"date-none", "not a date", false, with(func(f map[string]any) { second(f)["created"] = "yesterday" })},
		{"date-month", "not a date", false, with(func(f map[string]any) { second(f)["changed"] = "2026-13-01T10:00:00Z" })},
		{"date-half", "not a date", false, with(func(f map[string]any) { second(f)["changed"] = "2026-12-01T10:00" })},
		{"date-markup", "not a date", false, with(func(f map[string]any) { second(f)["changed"] = "2026-12-01T10:00:00Z (<img src=x>)" })},
		{"date-number", "not a text", false, with(func(f map[string]any) { second(f)["changed"] = 1.8e12 })},
		{"state-missing", "not an object", false, with(func(f map[string]any) { delete(second(f), "state") })},
		{"state-list", "not an object", false, with(func(f map[string]any) { second(f)["state"] = []any{} })},
		{"state-number", "not a text", false, with(func(f map[string]any) { second(f)["state"] = map[string]any{"gm": 10.5} })},
		{"state-nested", "not a text", false, with(func(f map[string]any) { second(f)["state"] = map[string]any{"gm": map[string]any{"gm": "1"}} })},
		{"state-unknown", "unknown", true, with(func(f map[string]any) { second(f)["state"] = map[string]any{"nobody": "1"} })},
		{"state-proto", "__proto__", false, raw(strings.Replace(string(whole), `"state":{}`, `"state":{"__proto__":{"gm":"1"}}`, 1))},
		{"state-constructor", "constructor", false, with(func(f map[string]any) { second(f)["state"] = map[string]any{"constructor": map[string]any{}} })},
		{"state-long", "longer than 4000", false, with(func(f map[string]any) { second(f)["state"] = map[string]any{"lot": strings.Repeat("x", 4001)} })},
		{"state-huge", "longer than 4000", false, with(func(f map[string]any) { second(f)["state"] = map[string]any{"lot": strings.Repeat("x", 15_000_000)} })},
		{"lot-proto", "__proto__", false, raw(strings.Replace(string(whole), `"state":{}`, `"state":{},"__proto__":{"id":"1"}`, 1))},
		{"file-proto", "__proto__", false, raw(strings.Replace(string(whole), `{"format"`, `{"__proto__":{"x":1},"format"`, 1))},
		{"file-unknown", "unknown", false, with(func(f map[string]any) { f["run"] = "alert(1)" })},
		{"lot-unknown", "unknown", false, with(func(f map[string]any) { second(f)["toString"] = "x" })},
		{"card-null", "not an object", false, with(func(f map[string]any) { second(f)["card"] = nil })},
		{"card-unknown", "unknown", true, with(func(f map[string]any) { second(f)["card"] = map[string]any{"price": "1"} })},
		{"card-number", "not a text", false, with(func(f map[string]any) { second(f)["card"] = map[string]any{"copies": 8} })},
		{"history-null", "not a list", false, with(func(f map[string]any) { second(f)["history"] = nil })},
		{"history-text", "not a list", false, with(func(f map[string]any) { second(f)["history"] = "none" })},
		{"history-entry", "not an object", false, with(func(f map[string]any) { second(f)["history"] = []any{1} })},
		{"history-date", "not a text", false, with(func(f map[string]any) { second(f)["history"] = []any{map[string]any{"by": "x"}} })},
		{"history-many", "more than 5000", false, with(func(f map[string]any) {
			second(f)["history"] = many(5001, map[string]any{"at": "2026-10-01T10:00:00Z"})
		})},
		{"notes-null", "not a list", false, with(func(f map[string]any) { second(f)["notes"] = nil })},
		{"notes-unknown", "unknown", false, with(func(f map[string]any) {
			second(f)["notes"] = []any{map[string]any{"at": "2026-10-01T10:00:00Z", "html": "<b>"}}
		})},
		{"notes-many", "more than 1000", false, with(func(f map[string]any) {
			second(f)["notes"] = many(1001, map[string]any{"at": "2026-10-01T10:00:00Z"})
		})},
		{"deep", "not an object", false, raw(strings.Repeat("[", 1_000_000) + strings.Repeat("]", 1_000_000))},
		{"deep-state", "not a text", false, raw(strings.Replace(string(whole), `"state":{}`, `"state":{"gm":`+strings.Repeat(`{"a":`, 100_000)+"1"+strings.Repeat("}", 100_000)+"}", 1))},
		{"large", "larger than 20 MB", true, raw(strings.Replace(string(whole), `{"format"`, "{"+strings.Repeat(" ", 25_000_000)+`"format"`, 1))},
	}
	if len(cases) < 30 {
		t.Fatalf("only %d files", len(cases))
	}
	schema := lotSchema(t)
	if err := follows(schema, whole); err != nil {
		t.Fatalf("the sound file does not follow the schema: %v", err)
	}
	for _, k := range cases {
		made := k.make(sound())
		text, isText := made.(string)
		if !isText {
			coded, err := json.Marshal(made)
			if err != nil {
				t.Fatal(err)
			}
			text = string(coded)
		}
		if text == string(whole) {
			t.Fatalf("%s: the file is sound", k.name)
		}
		if !strings.HasPrefix(k.name, "deep") && k.name != "version-deep" {
			if err := follows(schema, []byte(text)); (err == nil) != k.beyond {
				t.Errorf("%s: the schema says %v", k.name, err)
			}
		}
		js[bool](b, `(document.querySelector("#lots > .bar").textContent = "", true)`)
		b.upload(lotPicker, k.name+".json", []byte(text))
		b.until(saidOfLots + ` !== ""`)
		said := js[string](b, saidOfLots)
		if !strings.HasPrefix(said, "Nothing was read from "+k.name+".json: ") || !strings.Contains(said, k.why) || len(said) > 400 {
			t.Errorf("%s: the page says %.400q, not %q", k.name, said, k.why)
		}
		if after := b.keptLots(); !reflect.DeepEqual(after, before) {
			t.Fatalf("%s: the lots are now %+v", k.name, after)
		}
		if got := js[string](b, `document.title + document.querySelectorAll("main img").length + ({}).gm + ({}).x`); strings.Contains(got, "taken") || !strings.HasSuffix(got, "0undefinedundefined") {
			t.Errorf("%s: the file reached the page: %s", k.name, got)
		}
		for _, text := range b.complaints() {
			t.Errorf("%s: %s", k.name, text)
		}
	}
	// The same file undamaged is read: it is the damage that was refused.
	b.upload(lotPicker, "sound.json", whole)
	b.want(saidOfLots, "Lots read from sound.json: 2; already here: 0.")
	b.want(`document.querySelector("#lot-sheet-gm").value`, "5")
}

// Where the browser keeps nothing, or has no room left, the page says so and
// nothing typed is lost.
func TestStorageRefused(t *testing.T) {
	t.Parallel()
	c := lot.Calculators()[0]
	t.Run("blocked", func(t *testing.T) {
		b := open(t, home)
		call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
			IDBFactory.prototype.open = () => { throw new DOMException("no storage here", "SecurityError"); };
			Storage.prototype.setItem = Storage.prototype.getItem = () => { throw new DOMException("no storage here", "SecurityError"); };`})
		b.visit(c.ID + "/")
		b.until(saidOfLots + `.includes("does not let the page keep lots (no storage here)")`)
		state := usual(c)
		for _, e := range crakeHill[:8] {
			b.enter(c.ID+"-"+e.field, e.typed)
			state[e.field] = e.typed
		}
		b.same(c.Eval(state, nil))
		b.do(chromedp.Reload())
		b.ready()
		b.standsAs(c, state)
		b.same(c.Eval(state, nil))
	})
	for _, how := range []struct{ name, put string }{
		{"full", `throw new DOMException("no room", "QuotaExceededError")`},
		{"full at the end", `const r = put.apply(this, a); this.transaction.abort(); return r`},
	} {
		t.Run(how.name, func(t *testing.T) {
			b := open(t, home)
			call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
				globalThis.full = false;
				const put = IDBObjectStore.prototype.put;
				IDBObjectStore.prototype.put = function (...a) { if (full) { ` + how.put + `; } return put.apply(this, a); };`})
			b.visit(c.ID + "/")
			state := b.typeLot(c, "lot", "Crake Hill (invented)", "gm", "11.9")
			js[bool](b, `full = true`)
			b.enter(c.ID+"-aw", "0.58")
			state["aw"] = "0.58"
			b.until(saidOfLots + `.includes("not saved")`)
			b.same(c.Eval(state, nil))
			// Neither a new lot nor a note may take away what has no other place.
			b.push("New lot")
			b.fill("lot-note", "keep me")
			b.push("Add the note")
			time.Sleep(200 * time.Millisecond)
			b.standsAs(c, state)
			b.want(`document.getElementById("lot-note").value`, "keep me")
			if list := b.keptLots(); len(list) != 1 || list[0].State["aw"] != "" || len(list[0].Notes) != 0 {
				t.Errorf("kept is %+v", list)
			}
			b.until(saidOfLots + `.includes("not saved")`)
			// With room again the next key saves all.
			js[bool](b, `(full = false, true)`)
			b.enter(c.ID+"-rh", "71")
			state["rh"] = "71"
			list := b.untilKept("all", func(l []keptLot) bool { return holds(l, "rh", "71") && holds(l, "aw", "0.58") })
			if len(list) != 1 {
				t.Errorf("kept is %+v", list)
			}
			b.until(`document.querySelector("#lots > .bar").hidden`)
			b.standsAs(c, state)
		})
	}
}

// The cards for the bags: several to a page, their dates counted from the
// roast, in grams, black on white.
func TestCards(t *testing.T) {
	t.Parallel()
	b := open(t, home)
	c := lot.Calculators()[0]
	b.media("", "dark")
	b.visit(c.ID + "/")
	b.enter(c.ID+"-lot", "Crake Hill 26-007 (invented)")
	b.choose("#"+c.ID+"-roasted", "2026-10-28T09:30")
	for _, e := range [][2]string{{"name", "Crake Hill <washed>"}, {"restDays", "7"}, {"bestFromDays", "10"}, {"bestToDays", "45"}, {"dose", "15"}, {"water", "250"},
		{"guide", "Pour slowly."}, {"first", "fruit, cocoa"}, {"second", "red plum, cocoa nib"}, {"copies", "11"}} {
		b.enter("card-"+e[0], e[1])
	}
	b.untilKept("the card", func(l []keptLot) bool { return len(l) == 1 && l[0].Card["copies"] == "11" })
	js[bool](b, `(window.print = () => { globalThis.asked = true; }, true)`)
	b.push("Print the cards")
	b.until(`globalThis.asked`)
	p := b.print(chromedp.PaperA4)
	if p.pages != "2" {
		t.Errorf("eleven cards take %s pages, not 2", p.pages)
	}
	for _, text := range []string{"Crake Hill <washed>", "Roasted October 28, 2026", "Let it rest until November 4, 2026", "Best between November 7, 2026 and December 12, 2026",
		"15 g of coffee, 250 g of water (1:16.7)", "Pour slowly.", "fruit, cocoa", "red plum, cocoa nib"} {
		// Two cards stand side by side, so that lines mingle: words are counted.
		for _, w := range strings.Fields(text) {
			if n := strings.Count(p.text, w); n < 11 {
				t.Errorf("%q of %q stands %d times on the cards, not 11", w, text, n)
			}
		}
	}
	one, err := exec.Command(need(t, "pdftotext", "poppler-utils"), "-l", "1", p.path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(string(one)), " ")
	if n := strings.Count(flat, "Let it rest until November 4, 2026"); n != 8 {
		t.Errorf("%d cards on the first page, not 8:\n%s", n, flat)
	}
	if !strings.Contains(flat, "Best between November 7, 2026 and December 12, 2026") {
		t.Errorf("the span is not on the card:\n%s", flat)
	}
	if strings.Contains(p.text, "Moisture of the green") {
		t.Error("the lot sheet is printed among the cards")
	}
	if share := p.light(t); share < 0.8 {
		t.Errorf("only %.0f %% of the paper stays white", 100*share)
	}
	colour, err := exec.Command(need(t, "pdftoppm", "poppler-utils"), "-r", "30", "-singlefile", p.path).Output()
	if err != nil {
		t.Fatal(err)
	}
	pixels := colour[len(regexp.MustCompile(`^P6\s+\d+\s+\d+\s+\d+\s`).Find(colour)):]
	for i := 0; i+2 < len(pixels); i += 3 {
		if max(pixels[i], pixels[i+1], pixels[i+2])-min(pixels[i], pixels[i+1], pixels[i+2]) > 24 {
			t.Errorf("a colour on the cards: %v", pixels[i:i+3])
			break
		}
	}
	// Having printed, the page is a page again.
	b.until(`!document.documentElement.classList.contains("has-cards") && document.querySelector(".cards").hidden`)

	// One end of the span alone is called what it is; a card that would be wrong
	// or lack a date is not printed.
	const lines = `[...document.querySelector(".card").querySelectorAll("p")].map((e) => e.textContent).join("; ")`
	for _, k := range []struct{ rest, from, to, roasted, says, card string }{
		{"7", "", "45", "2026-10-28T09:30", "", "Let it rest until November 4, 2026; Best until December 12, 2026;"},
		{"", "10", "", "2026-10-28T09:30", "", "Roasted October 28, 2026; Best from November 7, 2026;"},
		{"", "45", "10", "2026-10-28T09:30", "Best until lies before best from.", ""},
		{"soon", "", "", "2026-10-28T09:30", "Rest, days after roasting takes 0 to 3650.", ""},
		{"7", "", "", "", "The days are counted from the roast: fill in Roasted at.", ""},
		{"", "", "", "", "", "red plum, cocoa nib; Brew with"},
	} {
		b.choose("#"+c.ID+"-roasted", k.roasted)
		b.enter("card-restDays", k.rest)
		b.enter("card-bestFromDays", k.from)
		b.enter("card-bestToDays", k.to)
		js[bool](b, `(globalThis.asked = false, true)`)
		b.push("Print the cards")
		b.want(`document.querySelector("#lots .problem").textContent`, k.says)
		if printed := js[bool](b, `globalThis.asked`); printed != (k.says == "") {
			t.Errorf("%+v: printed is %v", k, printed)
		}
		if card := js[string](b, lines); k.says == "" && !strings.Contains(card, k.card) {
			t.Errorf("%+v: the card says %q", k, card)
		}
		js[bool](b, `(dispatchEvent(new Event("afterprint")), true)`)
	}
}
