// Package words finds every English text that the page can show, so that a
// test can hold the tables of the other languages against them.
package words

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/checkpoint"
	"example.org/evenlot/checkpoint/chart"
	"example.org/evenlot/extraction"
	"example.org/evenlot/headspace"
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"example.org/evenlot/wasm/page"
)

// rooms are the packages whose refusals reach the page.
var rooms = []string{"brewratio", "degas", "headspace", "moisture", "extraction", "checkpoint", "checkpoint/chart",
	"checkpoint/panel", "checkpoint/sampling", "checkpoint/stock", "checkpoint/uncertainty", "checkpoint/weighing", "internal/fault"}

// Keys finds the texts, each with the places where it stands. root is the
// module's folder.
func Keys(root string) (map[string][]string, error) {
	k := keys{found: map[string][]string{}, silent: map[string]bool{}}
	k.catalogue()
	k.enumerations()
	if err := k.code(root); err != nil {
		return nil, err
	}
	if err := k.page(); err != nil {
		return nil, err
	}
	return k.found, nil
}

type keys struct {
	found  map[string][]string
	silent map[string]bool // texts of the catalogue that are not for reading
}

func (k *keys) add(text, where string) {
	text = strings.TrimSpace(text)
	if text == "" || !wordy(text) || slices.Contains(k.found[text], where) {
		return
	}
	k.found[text] = append(k.found[text], where)
}

// written marks a place whose texts stand in the page itself as it is
// delivered, already in its language.
const written = ", the page"

// Needed sorts the texts by who says them while a page is open: any page's
// scripts and the engine, or the bundles. What stands in the pages already is
// not among them. root is the module's folder.
func Needed(root string) (shared []string, bundles map[string][]string, err error) {
	places, err := Keys(root)
	if err != nil {
		return nil, nil, err
	}
	linked := map[string]map[string]bool{} // bundle: its packages and calculators
	for _, b := range all.Bundles() {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{.ImportPath}}", "./wasm/bridge/"+b.Name)
		cmd.Dir = root
		cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
		out, err := cmd.Output()
		if err != nil {
			return nil, nil, fmt.Errorf("what %s is made of: %w", b.Name, err)
		}
		in := map[string]bool{}
		for path := range strings.Lines(string(out)) {
			in[strings.TrimPrefix(strings.TrimSpace(path), "example.org/evenlot/")] = true
		}
		for _, c := range b.Calculators {
			in[c.ID] = true
		}
		linked[b.Name] = in
	}
	bundles = map[string][]string{}
	for _, text := range slices.Sorted(maps.Keys(places)) {
		var by []string
		everywhere, inPage := false, false
		for _, at := range places[text] {
			switch {
			case strings.HasSuffix(at, written):
				inPage = true
			case strings.HasPrefix(at, "wasm/catalogue/") && inPage: // where the same text is written down in Go
			case strings.HasSuffix(at, ".html"), at == "wasm/build/site":
			case at == "lots.js" || at == "lotfile.js" || at == "card.js":
				by = append(by, "lot")
			default:
				found := false
				for name, in := range linked {
					if in[at] {
						found = true
						by = append(by, name)
					}
				}
				everywhere = everywhere || !found
			}
		}
		slices.Sort(by)
		by = slices.Compact(by)
		if everywhere || len(by) == len(linked) {
			shared = append(shared, text)
			continue
		}
		for _, name := range by {
			bundles[name] = append(bundles[name], text)
		}
	}
	return shared, bundles, nil
}

// wordy says whether a text has two letters in a row that are no symbol.
func wordy(s string) bool {
	if alike[s] {
		return false
	}
	run := 0
	for _, r := range s {
		if unicode.IsLetter(r) {
			if run++; run == 2 {
				return true
			}
		} else {
			run = 0
		}
	}
	return false
}

// alike are the symbols that every language writes alike.
var alike = map[string]bool{}

func init() {
	for _, s := range strings.Fields("kg mg oz lb mL fl ft³ min kPa hPa Pa bar psi mmHg cm mm ft g/mL kg/m³ lb/ft³ L/min m³/h mL/s ft³/h cm² in² mL/d mg/g g/kg AICc BIC µg/g µg/(g·d) µL/min m²/s ml ms kJ/(kg·K) kJ/kg kJ/mol g/mol ppm pH ±% °Cd kW kJ cm³/(m²·d·atm) cm³ kPa·s µm ×10⁻¹² ln exp sqrt mL/g cm³/(100 g/min mol cm³/(m²·d) kg/h kg/d g/h mg/d µg mL/min kg/mol g/L mg/(g·d) kPa/d mg/L mg/kg °Brix %/°Brix GAB") {
		alike[s] = true
	}
	alike["cm³/(100 in²·d·atm)"], alike["kJ/(kg K)"], alike["g/100 mL"] = true, true, true
}

// catalogue takes the texts that the calculators hold as data.
func (k *keys) catalogue() {
	for _, p := range catalogue.Places() {
		k.add(p.String(), "places")
	}
	for _, p := range []string{"memory", "quoted", "opened", "common practice", "derived"} {
		k.add(catalogue.ProvenanceWords(p), "provenance")
	}
	unit := func(at, base string) {
		for _, u := range catalogue.Units(base) {
			if len(u) > 3 {
				k.add(u, at)
			}
		}
	}
	for _, c := range all.Calculators() {
		at := c.ID
		k.add(c.Name, at) // also as the title of a figure
		for _, s := range append([]string{c.Question, c.Keywords}, c.Cautions...) {
			k.add(s, at+written)
		}
		k.silent[c.ID] = true
		for _, f := range c.Form() {
			label := f.LimitLabel()
			for _, s := range []string{label[0], label[1], f.Group} {
				k.add(s, at)
			}
			k.add(f.Help, at+written)
			unit(at, f.Unit)
			if f.Kind == catalogue.Words {
				k.add(f.Example, at)
			}
			for _, o := range f.Choices {
				k.add(o.Label, at)
				k.silent[o.ID] = true
			}
			for _, o := range f.Columns {
				k.add(o.Label, at)
				unit(at, o.Unit)
				k.silent[o.ID] = true
			}
			for _, s := range []string{f.ID, f.Symbol, f.GoField, f.Example} {
				k.silent[s] = true
			}
		}
		for _, o := range c.Outputs {
			k.add(o.Label, at)
			k.add(o.Group, at)
			unit(at, o.Unit)
			k.silent[o.ID], k.silent[o.Symbol] = true, true
		}
		quiet := func(s catalogue.Source) {
			k.silent[s.Name], k.silent[s.Locator], k.silent[s.Provenance] = true, true, true
			if s.Provenance == "derived" || s.Provenance == "common practice" { // a description, not a name
				k.add(s.Name, at)
				k.add(s.Locator, at)
			}
		}
		for _, l := range c.Limits {
			k.add(l.Caution, at)
			quiet(l.Source)
		}
		for _, s := range c.Sources {
			quiet(s)
		}
		for _, s := range c.Checks {
			k.silent[s.Package], k.silent[s.Quantity] = true, true
		}
	}
}

// enumerations takes the texts that types print and the catalogue shows.
func (k *keys) enumerations() {
	for _, w := range []checkpoint.Word{checkpoint.In, checkpoint.Out, checkpoint.TooClose} {
		k.add(w.String(), "verdict")
	}
	for _, w := range []string{"hold", "measure again", "not complete", "release"} {
		k.add(w, "lot verdict")
	}
	for bit := chart.Rules(1); bit <= chart.Run8; bit <<= 1 {
		k.add(bit.String(), "chart rules")
	}
	for _, d := range moisture.DryLossByDegree() {
		k.add(d.Degree, "degrees of roast")
	}
	for _, e := range headspace.OxygenEffects() {
		k.add(e.What, "effects of low oxygen")
	}
	for _, w := range extraction.Windows() {
		k.add(w.Name, "published windows")
	}
	for _, s := range brewratio.Standards() {
		k.add(s.Name, "published ratios")
	}
	for _, s := range []string{"finer", "coarser", "more water", "less water", "more dose", "less dose"} {
		k.add(s, "directions on the map")
	}
	for f := moisture.Form(0); f < 16; f++ {
		if s := f.String(); s != "none" {
			k.add(s, "forms of isotherm")
			k.add(s+" fit", "forms of isotherm")
		}
	}
}

// code reads the source of the catalogue and of the rooms.
func (k *keys) code(root string) error {
	dirs := []string{"wasm/catalogue", "wasm/build/site"}
	list, err := os.ReadDir(filepath.Join(root, "wasm", "catalogue"))
	if err != nil {
		return err
	}
	for _, d := range list {
		if d.IsDir() && d.Name() != "all" {
			dirs = append(dirs, "wasm/catalogue/"+d.Name())
		}
	}
	consts := map[string]ast.Expr{} // package.name
	files := map[string][]*ast.File{}
	fset := token.NewFileSet()
	for _, dir := range append(slices.Clone(rooms), dirs...) {
		names, err := filepath.Glob(filepath.Join(root, dir, "*.go"))
		if err != nil {
			return err
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			files[dir] = append(files[dir], f)
			for _, d := range f.Decls {
				g, ok := d.(*ast.GenDecl)
				if !ok {
					continue
				}
				for _, s := range g.Specs {
					v, ok := s.(*ast.ValueSpec)
					for i := 0; ok && i < len(v.Names) && i < len(v.Values); i++ {
						consts[f.Name.Name+"."+v.Names[i].Name] = v.Values[i]
					}
				}
			}
		}
	}
	for _, dir := range append(slices.Clone(rooms), dirs...) {
		if len(files[dir]) == 0 {
			return fmt.Errorf("%s: no source found", dir)
		}
		r := reader{keys: k, dir: dir, pkg: files[dir][0].Name.Name, consts: consts, files: files[dir], room: slices.Contains(rooms, dir)}
		switch {
		case r.room:
			r.refusals()
		case dir == "wasm/catalogue" || dir == "wasm/build/site":
			r.engine()
		default:
			r.calculators()
			r.refusals()
		}
	}
	return nil
}

type reader struct {
	*keys
	dir, pkg string
	consts   map[string]ast.Expr
	files    []*ast.File
	room     bool
}

// text is the value of a constant text.
func (r *reader) text(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			s, err := strconv.Unquote(e.Value)
			return s, err == nil
		}
	case *ast.ParenExpr:
		return r.text(e.X)
	case *ast.BinaryExpr:
		if a, ok := r.text(e.X); ok && e.Op == token.ADD {
			b, ok := r.text(e.Y)
			return a + b, ok
		}
	case *ast.Ident:
		if v, ok := r.consts[r.pkg+"."+e.Name]; ok {
			return r.text(v)
		}
	case *ast.SelectorExpr:
		if p, ok := e.X.(*ast.Ident); ok {
			if v, ok := r.consts[p.Name+"."+e.Sel.Name]; ok {
				was := r.pkg
				r.pkg = p.Name
				defer func() { r.pkg = was }()
				return r.text(v)
			}
		}
	}
	return "", false
}

// called is the last part of a call's name, with what stands before it.
func called(c *ast.CallExpr) (before, name string) {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return "", f.Name
	case *ast.SelectorExpr:
		before = "…"
		if x, ok := f.X.(*ast.Ident); ok {
			before = x.Name
		}
		return before, f.Sel.Name
	}
	return "", ""
}

// engine takes what the engine itself says: say, word and t with a constant,
// and the words of figures.
func (r *reader) engine() {
	for _, f := range r.files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if before, name := called(n); before != "" && (name == "say" || name == "word" || name == "t") {
					for _, a := range n.Args {
						if s, ok := r.text(a); ok {
							r.add(s, r.dir)
						}
					}
				}
			case *ast.FuncDecl:
				if n.Name.Name == "figureWords" {
					ast.Inspect(n, func(n ast.Node) bool {
						if e, ok := n.(ast.Expr); ok {
							if s, ok := r.text(e); ok {
								r.add(s, r.dir)
							}
						}
						return true
					})
				}
			}
			return true
		})
	}
}

var (
	// The calls whose texts are shown, and the arguments that are.
	speaking = map[string][]int{"Note": {0}, "Say": {0}, "Missing": {0, 1}, "SetU": {3}, "New": {0}, "Table": {0, 1, 2}}
	// The calls whose texts are not; SetWords and SetU name an output first.
	mute = map[string]bool{"Work": true, "F": true, "D": true, "Int": true, "U": true, "Choice": true, "Time": true, "Columns": true,
		"Text": true, "Has": true, "Set": true, "SetD": true, "SetCount": true, "panic": true, "Sweep": true}
	shown = map[string]bool{"Label": true, "Help": true, "Group": true, "Name": true, "Question": true, "Title": true, "Desc": true,
		"Text": true, "What": true, "Caution": true, "Cautions": true, "Why": true}
	hidden = map[string]bool{"ID": true, "GoField": true, "Symbol": true, "Example": true, "Field": true, "Package": true, "Given": true,
		"Provenance": true, "Locator": true, "Output": true, "Keywords": true, "Order": true, "Unit": true, "Reads": true}
)

// calculators takes every text of a room of the catalogue that stands where
// it may be read: a new way to show a text is found without being told of.
func (r *reader) calculators() {
	for _, f := range r.files {
		r.walk(f, false)
	}
}

func (r *reader) walk(n ast.Node, certain bool) {
	ast.Inspect(n, func(x ast.Node) bool {
		if x == nil || x == n {
			return x != nil
		}
		switch x := x.(type) {
		case *ast.ImportSpec, *ast.CommentGroup:
			return false
		case *ast.CallExpr:
			before, name := called(x)
			if name == "Work" {
				r.units(x)
			}
			if mute[name] && before != "catalogue" || before == "strings" || before == "strconv" {
				return false
			}
			for i, a := range x.Args {
				if i == 0 && (name == "SetU" || name == "SetWords") {
					continue
				}
				r.take(a, slices.Contains(speaking[name], i))
			}
			if lit, ok := x.Fun.(*ast.FuncLit); ok {
				r.walk(lit, false)
			}
			return false
		case *ast.IndexExpr:
			if _, ok := r.text(x.Index); ok {
				r.take(x.X, false)
				return false
			}
		case *ast.CaseClause:
			for _, s := range x.Body {
				r.take2(s)
			}
			return false
		case *ast.BinaryExpr:
			if x.Op == token.EQL || x.Op == token.NEQ {
				return false
			}
			r.take(x, certain)
			return false
		case *ast.CompositeLit:
			kind := ""
			switch t := x.Type.(type) {
			case *ast.SelectorExpr:
				kind = t.Sel.Name
			case *ast.Ident:
				kind = t.Name
			}
			if kind == "Source" || kind == "Check" {
				return false
			}
			if a, ok := x.Type.(*ast.ArrayType); ok {
				if s, ok := a.Elt.(*ast.SelectorExpr); ok && (s.Sel.Name == "Source" || s.Sel.Name == "Check") {
					return false
				}
			}
			for _, e := range x.Elts {
				kv, ok := e.(*ast.KeyValueExpr)
				if !ok { // a row of a table, or a field of a struct without a name
					r.take(e, true)
					continue
				}
				key, _ := kv.Key.(*ast.Ident)
				switch {
				case key != nil && hidden[key.Name]:
					if key.Name == "Unit" {
						if s, ok := r.text(kv.Value); ok && unitWord.MatchString(s) {
							r.add(s, r.dir)
						}
					}
				case key != nil && key.Name == "Quantity" && kind == "Check":
				case key != nil && (shown[key.Name] || key.Name == "Quantity"):
					r.take(kv.Value, true)
				default:
					r.take(kv.Value, certain)
				}
			}
			return false
		case *ast.BasicLit, *ast.Ident, *ast.SelectorExpr:
			r.take(x.(ast.Expr), certain)
			return false
		}
		return true
	})
}

// units takes the units that are words from a line of working, " points".
func (r *reader) units(call *ast.CallExpr) {
	ast.Inspect(call, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok {
			if s, ok := r.text(lit); ok && len(s) > 4 && s[0] == ' ' && unitWord.MatchString(s) {
				r.add(s, r.dir)
			}
		}
		return true
	})
}

var unitWord = regexp.MustCompile(`\pL{4}`)

// take2 walks a statement.
func (r *reader) take2(s ast.Stmt) { r.walk(&ast.BlockStmt{List: []ast.Stmt{s}}, false) }

// take takes an expression: its text, or the texts in it.
func (r *reader) take(e ast.Expr, certain bool) {
	if s, ok := r.text(e); ok {
		if _, named := e.(*ast.Ident); named && !certain {
			return // seen where it is declared
		}
		if certain && !ignored[s] || !r.silent[s] && !ignored[s] || both[s] {
			r.add(s, r.dir)
		}
		return
	}
	switch e := e.(type) {
	case *ast.BasicLit, *ast.Ident, *ast.SelectorExpr:
	case *ast.BinaryExpr:
		if e.Op == token.EQL || e.Op == token.NEQ {
			return
		}
		r.take(e.X, certain)
		r.take(e.Y, certain)
	default:
		r.walk(&ast.ParenExpr{X: e}, certain)
	}
}

// refusals takes what errors say: Why and Quantity of the faults, also where
// they come through a variable or a parameter. What is put in at run time
// stands as {}, and so do numbers beside it, as the engine looks it up.
func (r *reader) refusals() {
	for _, f := range r.files {
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil {
				continue
			}
			take := func(e ast.Expr) {
				for _, s := range r.patterns(e, fn, 0) {
					if s != "{}" {
						r.add(s, r.dir)
					}
				}
			}
			unit := func(e ast.Expr) { // where it is a word
				for _, s := range r.patterns(e, fn, 0) {
					if unitWord.MatchString(s) {
						r.add(s, r.dir)
					}
				}
			}
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.KeyValueExpr:
					if key, ok := n.Key.(*ast.Ident); ok && (key.Name == "Why" || key.Name == "Quantity") {
						take(n.Value)
					} else if ok && key.Name == "Unit" && r.room {
						unit(n.Value)
					}
				case *ast.CompositeLit:
					if id, ok := n.Type.(*ast.Ident); ok && id.Name == "Check" {
						return false
					}
					if s, ok := n.Type.(*ast.SelectorExpr); ok && s.Sel.Name == "Check" {
						return false
					}
					if a, ok := n.Type.(*ast.ArrayType); ok {
						if s, ok := a.Elt.(*ast.SelectorExpr); ok && s.Sel.Name == "Check" {
							return false
						}
					}
				case *ast.AssignStmt:
					for i, l := range n.Lhs {
						if s, ok := l.(*ast.SelectorExpr); ok && s.Sel.Name == "Why" && i < len(n.Rhs) {
							take(n.Rhs[i])
						}
					}
				case *ast.CallExpr:
					if before, name := called(n); before == "errors" && name == "New" && len(n.Args) == 1 {
						take(n.Args[0])
					} else if before == "fault" && len(n.Args) == 6 {
						unit(n.Args[5])
					}
				}
				return true
			})
		}
	}
}

// patterns lists what an expression may say.
func (r *reader) patterns(e ast.Expr, fn *ast.FuncDecl, depth int) []string {
	if s, ok := r.text(e); ok {
		return []string{s}
	}
	if depth > 4 {
		return []string{"{}"}
	}
	switch e := e.(type) {
	case *ast.ParenExpr:
		return r.patterns(e.X, fn, depth)
	case *ast.BinaryExpr:
		var list []string
		for _, a := range r.patterns(e.X, fn, depth) {
			for _, b := range r.patterns(e.Y, fn, depth) {
				list = append(list, catalogue.Numberless(a)+catalogue.Numberless(b))
			}
		}
		return list
	case *ast.Ident:
		var list []string
		// A variable of the function.
		ast.Inspect(fn.Body, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.AssignStmt:
				for i, l := range n.Lhs {
					if id, ok := l.(*ast.Ident); ok && id.Name == e.Name && len(n.Lhs) == len(n.Rhs) {
						list = append(list, r.patterns(n.Rhs[i], fn, depth+1)...)
					}
				}
			case *ast.ValueSpec:
				for i, id := range n.Names {
					if id.Name == e.Name && i < len(n.Values) {
						list = append(list, r.patterns(n.Values[i], fn, depth+1)...)
					}
				}
			case *ast.RangeStmt:
				if id, ok := n.Value.(*ast.Ident); ok && id.Name == e.Name {
					list = append(list, r.within(n.X)...)
				}
			}
			return true
		})
		// A parameter: whatever the callers in this package give. One of a
		// function inside this one likewise.
		list = append(list, r.given(e.Name, fn, depth)...)
		if list == nil {
			return []string{"{}"}
		}
		return list
	case *ast.SelectorExpr: // a field of a table's row
		var list []string
		ast.Inspect(fn.Body, func(n ast.Node) bool {
			if s, ok := n.(*ast.RangeStmt); ok {
				list = append(list, r.within(s.X)...)
			}
			return true
		})
		if list != nil {
			return list
		}
	}
	return []string{"{}"}
}

// within lists the texts with words in a literal.
func (r *reader) within(e ast.Expr) []string {
	if id, ok := e.(*ast.Ident); ok {
		e = r.consts[r.pkg+"."+id.Name]
	}
	lit, ok := e.(*ast.CompositeLit)
	if !ok {
		return nil
	}
	var list []string
	ast.Inspect(lit, func(n ast.Node) bool {
		if x, ok := n.(ast.Expr); ok {
			if s, ok := r.text(x); ok && strings.Contains(s, " ") {
				list = append(list, s)
				return false
			}
		}
		return true
	})
	return list
}

// given lists what callers pass for a parameter.
func (r *reader) given(param string, fn *ast.FuncDecl, depth int) []string {
	index := func(t *ast.FuncType) int {
		i := 0
		for _, p := range t.Params.List {
			for _, id := range p.Names {
				if id.Name == param {
					return i
				}
				i++
			}
		}
		return -1
	}
	name, at := fn.Name.Name, index(fn.Type)
	ast.Inspect(fn.Body, func(n ast.Node) bool {
		if a, ok := n.(*ast.AssignStmt); ok && len(a.Lhs) == 1 && len(a.Rhs) == 1 {
			if lit, ok := a.Rhs[0].(*ast.FuncLit); ok {
				if i := index(lit.Type); i >= 0 {
					name, at = a.Lhs[0].(*ast.Ident).Name, i
				}
			}
		}
		return true
	})
	if at < 0 {
		return nil
	}
	var list []string
	for _, f := range r.files {
		for _, d := range f.Decls {
			caller, ok := d.(*ast.FuncDecl)
			if !ok || caller.Body == nil {
				continue
			}
			ast.Inspect(caller.Body, func(n ast.Node) bool {
				if c, ok := n.(*ast.CallExpr); ok && at < len(c.Args) {
					if _, is := called(c); is == name {
						list = append(list, r.patterns(c.Args[at], caller, depth+1)...)
					}
				}
				return true
			})
		}
	}
	return list
}

var (
	inScript   = regexp.MustCompile(`\bt\(((?:"(?:[^"\\]|\\.)*"))`)
	either     = regexp.MustCompile(`\bt\([^"()]+\? ("(?:[^"\\]|\\.)*") : ("(?:[^"\\]|\\.)*")\)`)
	later      = regexp.MustCompile(`new (?:Refused|Error)\(("(?:[^"\\]|\\.)*")`)
	asked      = regexp.MustCompile(`(?m)^  \["\w+", ("(?:[^"\\]|\\.)*"), ("(?:[^"\\]|\\.)*")\],$`)
	inTemplate = regexp.MustCompile(`\bt ("(?:[^"\\]|\\.)*")`)
)

// page takes the texts of the templates and the scripts.
func (k *keys) page() error {
	for _, kind := range []struct {
		glob string
		find []*regexp.Regexp
	}{{"*.js", []*regexp.Regexp{inScript, either, later, asked}}, {"*.html", []*regexp.Regexp{inTemplate}}} {
		names, err := fs.Glob(page.Files, kind.glob)
		if err != nil {
			return err
		}
		for _, name := range names {
			text, err := page.Files.ReadFile(name)
			if err != nil {
				return err
			}
			for _, find := range kind.find {
				for _, m := range find.FindAllStringSubmatch(string(text), -1) {
					for _, q := range m[1:] {
						s, err := strconv.Unquote(q)
						if err != nil {
							return fmt.Errorf("%s: %s: %w", name, q, err)
						}
						k.add(s, name)
					}
				}
			}
		}
	}
	return nil
}
