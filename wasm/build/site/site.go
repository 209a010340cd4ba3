// Package site builds the static site: every calculator's page pre-rendered
// from the catalogue, the WebAssembly bundle, the service worker that keeps
// them, compressed copies and the licences of what is shipped.
package site

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"example.org/evenlot/internal/published"
	"example.org/evenlot/wasm/build/words"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"example.org/evenlot/wasm/page"
)

// Root finds the module's folder from the folder at hand.
func Root() (string, error) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", err
	}
	mod := strings.TrimSpace(string(out))
	root := filepath.Dir(mod)
	if _, err := os.Stat(filepath.Join(root, "wasm", "bridge", "bridge.go")); err != nil {
		return "", errors.New("run this inside the Evenlot checkout: go.mod is " + mod)
	}
	return root, nil
}

// Build makes every file of the site, by its path. Two builds of one checkout
// with one Go give the same bytes.
func Build(root string) (map[string][]byte, error) {
	root, err := filepath.Abs(root)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	if err := bundles(root, files); err != nil {
		return nil, err
	}
	for _, name := range []string{"evenlot.css", "icon.svg", "lots.schema.json"} {
		if err := copyPage(files, name); err != nil {
			return nil, err
		}
	}
	scripts, err := fs.Glob(page.Files, "*.js")
	if err != nil {
		return nil, err
	}
	for _, name := range scripts {
		if err := copyPage(files, name); err != nil {
			return nil, err
		}
	}
	for _, name := range []string{"vendor/lean-qr.js", "vendor/idb.js"} {
		if err := copyPage(files, name); err != nil {
			return nil, err
		}
	}
	worker := files["sw.js"]
	delete(files, "sw.js")
	files["manifest.webmanifest"] = []byte(`{"name":"Evenlot","short_name":"Evenlot","description":"Checked arithmetic for coffee roasteries","start_url":"index.html","scope":"./","display":"standalone","background_color":"#fbfaf7","theme_color":"#14524b","icons":[{"src":"icon.svg","sizes":"any","type":"image/svg+xml"}]}` + "\n")
	if files["licences.txt"], err = licences(root); err != nil {
		return nil, err
	}
	checks, err := published.Checks(root)
	if err != nil {
		return nil, err
	}
	// The pages name the build, and the build's name comes from everything
	// else, the pages' templates and the catalogue (through the bundle)
	// included.
	build := hash(files, checks)
	if err := pages(files, checks, build); err != nil {
		return nil, err
	}
	if err := tables(root, files); err != nil {
		return nil, err
	}
	book := map[string][]byte{} // read with a network: the worker does not keep it
	if err := bookPages(root, book, checks, build); err != nil {
		return nil, err
	}
	// The worker keeps the bundles compressed: a quarter of the storage.
	list := slices.DeleteFunc(slices.Sorted(maps.Keys(files)), func(name string) bool { return strings.HasSuffix(name, ".wasm") })
	names, err := json.Marshal(list)
	if err != nil {
		return nil, err
	}
	whole := hash(files, nil)
	files["sw.js"] = bytes.Replace(bytes.Replace(worker, []byte("{{BUILD}}"), []byte(whole), 1), []byte("/*{{FILES}}*/ []"), names, 1)
	maps.Copy(files, book)
	files["SHA256SUMS"] = Sums(files)
	return files, nil
}

// Sums lists the checksums of files, as sha256sum -c reads them.
func Sums(files map[string][]byte) []byte {
	var text bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(&text, "%x  %s\n", sha256.Sum256(files[name]), name)
	}
	return text.Bytes()
}

// bundles compiles the WebAssembly.
func bundles(root string, files map[string][]byte) error {
	dir, err := os.MkdirTemp("", "evenlot")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	mod, err := lean(root)
	if err != nil {
		return err
	}
	for _, b := range all.Bundles() {
		name := b.Name + ".wasm"
		out := filepath.Join(dir, name)
		cmd := exec.Command("go", append(append([]string{"build"}, Flags...), "-modfile", mod, "-o", out, "./wasm/bridge/"+b.Name)...)
		cmd.Dir = root
		cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=-mod=readonly")
		if text, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("building the bundle %s: %w\n%s", b.Name, err, text)
		}
		if files[name], err = os.ReadFile(out); err != nil {
			return err
		}
	}
	for _, b := range all.Bundles() {
		files[b.Name+".wasm.gz"] = Gzip(files[b.Name+".wasm"])
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	files["wasm_exec.js"], err = os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec.js"))
	return err
}

// Flags are how the bundles are compiled, and the floor that their size is
// held against. Only the runtime and math, whose speed every answer feels, and
// strconv, which is smaller with it, keep their inlining: without it the rest is
// a tenth smaller, and an answer still comes in a few milliseconds.
var Flags = []string{"-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-gcflags=all=-l",
	"-gcflags=runtime/...=", "-gcflags=internal/runtime/...=", "-gcflags=internal/bytealg=", "-gcflags=math=", "-gcflags=internal/strconv="}

func copyPage(files map[string][]byte, name string) error {
	b, err := page.Files.ReadFile(name)
	files[name] = b
	return err
}

// hash names a set of files and checks.
func hash(files map[string][]byte, checks map[string][]published.Check) string {
	h := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(h, "%s %d\n", name, len(files[name]))
		h.Write(files[name])
	}
	for _, pkg := range slices.Sorted(maps.Keys(checks)) {
		fmt.Fprintf(h, "%s %v\n", pkg, checks[pkg])
	}
	for _, pattern := range []string{"*.html", "words/*.json"} {
		names, err := fs.Glob(page.Files, pattern)
		if err != nil {
			panic(err) // the patterns are constants
		}
		for _, name := range names {
			b, err := page.Files.ReadFile(name)
			if err != nil {
				panic(err) // embedded
			}
			h.Write(b)
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:12]
}

// A view is what every page's template sees.
type view struct {
	Root, Home                         string // to the site's top, and to the language's
	Title, Description, Version, Build string
	Languages                          []language
}

// A language is one in which the site is written.
type language struct {
	Code, Name, Href string
	Here             bool
	words            map[string]string
	folder           string // empty, or with a slash at its end
}

// languages lists English and the tables of words in package page.
func languages() ([]language, error) {
	list := []language{{Code: "en", Name: "English"}}
	for _, l := range []language{{Code: "es", Name: "Español"}} {
		text, err := page.Files.ReadFile("words/" + l.Code + ".json")
		if err != nil {
			return nil, err
		}
		if err := json.Unmarshal(text, &l.words); err != nil {
			return nil, fmt.Errorf("words/%s.json: %w", l.Code, err)
		}
		l.folder = l.Code + "/"
		list = append(list, l)
	}
	return list, nil
}

// tables writes what a page says in another language while it is open: one
// table for every page and one for each bundle.
func tables(root string, files map[string][]byte) error {
	shared, of, err := words.Needed(root)
	if err != nil {
		return err
	}
	tongues, err := languages()
	if err != nil {
		return err
	}
	for _, l := range tongues {
		if l.words == nil {
			continue
		}
		write := func(name string, keys []string) error {
			table := map[string]string{}
			for _, k := range keys {
				if w, ok := l.words[k]; ok {
					table[k] = w
				}
			}
			text, err := json.Marshal(table)
			files[name] = text
			return err
		}
		if err := write(l.Code+".json", shared); err != nil {
			return err
		}
		for bundle, keys := range of {
			if err := write(l.Code+"-"+bundle+".json", keys); err != nil {
				return err
			}
		}
	}
	return nil
}

func (l language) t(english string) string {
	if w, ok := l.words[english]; ok {
		return w
	}
	return english
}

// unit is a unit; short ones are symbols and stay.
func (l language) unit(u string) string {
	if len(u) < 4 {
		return u
	}
	return l.t(u)
}

// number is a number as the language writes it.
func (l language) number(s string) string {
	if l.words == nil {
		return s
	}
	return strings.Replace(s, ".", ",", 1)
}

func pages(files map[string][]byte, checks map[string][]published.Check, build string) error {
	tongues, err := languages()
	if err != nil {
		return err
	}
	for _, l := range tongues {
		if err := pagesIn(l, tongues, files, checks, build); err != nil {
			return err
		}
	}
	return nil
}

// templates are the page's, in the language.
func (l language) templates() (*template.Template, error) {
	return template.New("").Funcs(template.FuncMap{
		"provenance": catalogue.ProvenanceWords, "t": l.t, "unit": l.unit, "lang": func() string { return l.Code },
	}).ParseFS(page.Files, "*.html")
}

func pagesIn(l language, tongues []language, files map[string][]byte, checks map[string][]published.Check, build string) error {
	t, err := l.templates()
	if err != nil {
		return err
	}
	// at makes the view of a page from its path below the language's folder.
	at := func(path, title, description string) view {
		v := view{Title: title, Description: description, Version: catalogue.Version, Build: build,
			Home: strings.Repeat("../", strings.Count(path, "/"))}
		if v.Home == "" {
			v.Home = "./"
		}
		v.Root = v.Home
		if l.folder != "" {
			v.Root = strings.TrimPrefix(v.Home, "./") + "../"
		}
		for _, o := range tongues {
			o.Here = o.Code == l.Code
			o.Href = v.Root + o.folder + path
			v.Languages = append(v.Languages, o)
		}
		return v
	}
	render := func(path, name string, data any) error {
		var b bytes.Buffer
		if err := t.ExecuteTemplate(&b, name, data); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		files[l.folder+path] = b.Bytes()
		return nil
	}
	if err := render("index.html", "index.html", struct {
		view
		Places []stand
	}{at("index.html", "Evenlot: "+l.t("The bench"), l.t("Checked arithmetic for coffee roasteries, from the sack to the cup. Each calculation shows its number with its uncertainty, its working, its sources and a verdict.")), stands(l)}); err != nil {
		return err
	}
	var packages []room
	var sums []published.Summary
	for _, pkg := range slices.Sorted(maps.Keys(checks)) {
		packages = append(packages, room{pkg, checks[pkg]})
		sums = append(sums, published.Summarise(pkg, checks[pkg]))
	}
	if err := render("checked/index.html", "checked.html", struct {
		view
		Summaries []published.Summary
		Packages  []room
	}{at("checked/index.html", l.t("How it is checked")+" · Evenlot", l.t("Every formula is held against values from outside the project. This table is what the tests ran for this build.")), sums, packages}); err != nil {
		return err
	}
	for _, b := range all.Bundles() {
		for _, c := range b.Calculators {
			path := c.ID + "/index.html"
			p := calcView(at(path, l.t(c.Name)+" · Evenlot", l.t(c.Question)), c, checks, l)
			p.Bundle = b.Name
			if err := render(path, "calculator.html", p); err != nil {
				return err
			}
		}
	}
	return nil
}

// bookPages writes the library's handbook, in English alone.
func bookPages(root string, files map[string][]byte, checks map[string][]published.Check, build string) error {
	var packages []string
	for _, name := range slices.Sorted(maps.Keys(checks)) {
		if !strings.HasPrefix(name, "internal/") {
			packages = append(packages, name)
		}
	}
	chapters, err := handbook(root, packages)
	if err != nil {
		return err
	}
	english := language{Code: "en", Name: "English", Here: true}
	t, err := english.templates()
	if err != nil {
		return err
	}
	type bookView struct {
		view
		Heading, Up string
		Chapters    []chapter
		Chapter     *chapter
	}
	write := func(path string, v bookView) error {
		v.Version, v.Build, v.Languages = catalogue.Version, build, []language{english}
		v.Root = strings.Repeat("../", strings.Count(path, "/"))
		v.Home, v.Up = v.Root, strings.TrimPrefix(v.Root, "../")
		v.Title = v.Heading + " · Evenlot"
		var b bytes.Buffer
		if err := t.ExecuteTemplate(&b, "handbook.html", v); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		files[path] = b.Bytes()
		return nil
	}
	if err := write("handbook/index.html", bookView{view: view{Description: "The Go library, package by package."}, Heading: "Handbook", Chapters: chapters}); err != nil {
		return err
	}
	for _, c := range chapters {
		if err := write("handbook/"+c.Href(), bookView{view: view{Description: c.Synopsis}, Heading: c.Name, Chapter: &c}); err != nil {
			return err
		}
	}
	return nil
}

type room struct {
	Name   string
	Checks []published.Check
}

// A stand is one place of the building with its calculators.
type stand struct {
	ID, Name string
	Calcs    []entry
}

type entry struct{ ID, Name, Question, Find string }

func stands(l language) []stand {
	var list []stand
	for _, p := range catalogue.Places() {
		s := stand{ID: slug(p.String()), Name: p.String()}
		for _, c := range all.Calculators() {
			if c.Place == p {
				s.Calcs = append(s.Calcs, entry{c.ID, c.Name, c.Question,
					strings.ToLower(strings.Join([]string{l.t(c.Name), l.t(c.Question), l.t(c.Keywords), l.t(p.String())}, " "))})
			}
		}
		if s.Calcs != nil {
			list = append(list, s)
		}
	}
	return list
}

func slug(s string) string { return strings.ReplaceAll(strings.ToLower(s), " ", "-") }

type calcPage struct {
	view
	Calc     *catalogue.Calculator
	PlaceID  string
	Bundle   string
	Groups   []group
	Meters   []field
	Solvable []catalogue.Field
	Outputs  []catalogue.Output
	Checked  []checkRow
	FieldIDs string
	Example  string
}

type checkRow struct {
	published.Check
	Said bool
}

type group struct {
	Name   string
	Fold   bool
	Fields []field
}

// A field as the template sees it.
type field struct {
	ID, DomID, Label, Hint, Unit, Value, PM, Meter, Columns, ColumnUnits string
	Units                                                                []string
	Choices                                                              []catalogue.Option
	IsChoice, IsSeries, IsMoment, IsWords, Keypad, Wide                  bool
	Optional                                                             bool
}

func calcView(v view, c *catalogue.Calculator, checks map[string][]published.Check, l language) calcPage {
	p := calcPage{view: v, Calc: c, PlaceID: slug(c.Place.String()), Solvable: c.Solvable(), Outputs: c.Outputs}
	example := map[string]string{}
	var ids []string
	for _, f := range c.Form() {
		x := field{ID: f.ID, DomID: c.ID + "-" + f.ID, Label: l.t(f.Label), Hint: l.t(f.Help), Unit: l.unit(f.Unit), Meter: f.GoField,
			IsChoice: f.Kind == catalogue.Choice, IsSeries: f.Kind == catalogue.Series, IsMoment: f.Kind == catalogue.Moment, IsWords: f.Kind == catalogue.Words,
			Keypad: f.Min >= 0, Optional: f.Optional && !f.IsLimit()}
		x.Wide = x.IsSeries || x.IsWords || x.IsMoment || x.IsChoice
		if f.IsLimit() { // "the output, at most": two texts
			o := f.LimitLabel()
			x.Label = l.t(o[0]) + ", " + l.t(o[1])
		}
		for _, o := range f.Choices {
			x.Choices = append(x.Choices, catalogue.Option{ID: o.ID, Label: l.t(o.Label)})
		}
		var cols, units []string
		for _, o := range f.Columns {
			cols, units = append(cols, l.t(o.Label)), append(units, o.Unit)
		}
		x.Columns, x.ColumnUnits = strings.Join(cols, "|"), strings.Join(units, "|")
		if f.Kind == catalogue.Number && !f.IsLimit() {
			if units := catalogue.Units(f.Unit); len(units) > 1 {
				x.Units = units
			}
		}
		if f.IsLimit() {
			x.Value = l.number(strings.ReplaceAll(f.Example, "−", "-"))
		}
		if f.Example != "" {
			example[f.ID] = f.Example
			switch f.Kind {
			case catalogue.Number:
				example[f.ID] = l.number(f.Example)
			case catalogue.Words:
				example[f.ID] = l.t(f.Example)
			}
		}
		ids = append(ids, x.DomID)
		i := slices.IndexFunc(p.Groups, func(g group) bool { return g.Name == l.t(f.Group) })
		if i < 0 {
			p.Groups = append(p.Groups, group{Name: l.t(f.Group), Fold: f.IsLimit()})
			i = len(p.Groups) - 1
		}
		p.Groups[i].Fields = append(p.Groups[i].Fields, x)
		if f.Kind == catalogue.Number && !f.Exact && !f.IsLimit() {
			m := x
			if f.PlusMinus > 0 {
				m.PM = l.number(strconv.FormatFloat(f.PlusMinus, 'f', -1, 64))
			}
			p.Meters = append(p.Meters, m)
		}
	}
	text, err := json.Marshal(example)
	if err != nil {
		panic(err) // strings always marshal
	}
	p.Example = string(text)
	p.FieldIDs = strings.Join(ids, " ")
	for _, want := range c.Checks {
		for _, r := range checks[want.Package] {
			if r.Provenance != "derived" && (want.Quantity == "" || r.Quantity == want.Quantity) {
				_, said := r.Disagrees()
				p.Checked = append(p.Checked, checkRow{r, said})
			}
		}
	}
	return p
}

// shipped are the modules whose code is in the bundle.
var shipped = []string{"github.com/shopspring/decimal", "gonum.org/v1/gonum"}

// licences collects the licences of everything that the site holds.
func licences(root string) ([]byte, error) {
	var b bytes.Buffer
	part := func(name, path string) error {
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%s\n%s\n\n%s\n\n", name, strings.Repeat("=", len(name)), bytes.TrimSpace(text))
		return nil
	}
	if err := part("Evenlot", filepath.Join(root, "LICENSE")); err != nil {
		return nil, err
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	if err := part("The Go standard library and wasm_exec.js", filepath.Join(strings.TrimSpace(string(goroot)), "LICENSE")); err != nil {
		return nil, err
	}
	for _, m := range shipped {
		cmd := exec.Command("go", "list", "-m", "-f", "{{.Version}} {{.Dir}}", m)
		cmd.Dir = root
		out, err := cmd.Output()
		if err != nil {
			return nil, fmt.Errorf("finding %s: %w", m, err)
		}
		version, dir, _ := strings.Cut(strings.TrimSpace(string(out)), " ")
		if err := part(m+" "+version, filepath.Join(dir, "LICENSE")); err != nil {
			return nil, err
		}
	}
	for _, v := range []struct{ name, file string }{
		{"lean-qr 2.7.4 (npm), QR codes", "vendor/lean-qr.LICENSE"},
		{"idb 8.0.4 (npm), the browser's own database", "vendor/idb.LICENSE"},
	} {
		text, err := page.Files.ReadFile(v.file)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%s\n%s\n\n%s\n\n", v.name, strings.Repeat("=", len(v.name)), bytes.TrimSpace(text))
	}
	return b.Bytes(), nil
}

// Gzip makes the compressed copy of a file, or nil where it would save less
// than a tenth.
func Gzip(b []byte) []byte {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		panic(err) // the level is a constant of the library
	}
	if _, err := w.Write(b); err != nil {
		panic(err) // a bytes.Buffer does not fail
	}
	if err := w.Close(); err != nil {
		panic(err)
	}
	if out.Len() > int(math.Round(0.9*float64(len(b)))) {
		return nil
	}
	return out.Bytes()
}
