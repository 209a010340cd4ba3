// Package api records what the module promises to its importers: api.txt has
// one line for each exported function, type, field, method and constant of the
// public packages, and a test fails when a line is gone, changed or new.
//
// A new line is recorded by EVENLOT_UPDATE=1 go test ./internal/api. A line
// that is gone or changed breaks importers: before 1.0 it costs a new minor
// version, afterwards a new major one, and a word in CHANGELOG.md either way.
package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/importer"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
)

// Public are the packages that are promised; wasm and internal are not.
var Public = []string{"brewratio", "extraction", "moisture", "headspace", "degas", "checkpoint",
	"checkpoint/uncertainty", "checkpoint/sampling", "checkpoint/chart", "checkpoint/weighing", "checkpoint/panel", "checkpoint/stock"}

// Lines lists the exported API of the packages, sorted. Parameters come by
// their types, for their names are no promise; constants come with their
// values.
func Lines(root string, packages []string) ([]string, error) {
	args := []string{"list", "-export", "-deps", "-json=ImportPath,Export,DepOnly"}
	for _, p := range packages {
		args = append(args, "./"+p)
	}
	cmd := exec.Command("go", args...)
	cmd.Dir = root
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	exports := map[string]string{}
	var paths []string
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath, Export string
			DepOnly            bool
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		exports[p.ImportPath] = p.Export
		if !p.DepOnly {
			paths = append(paths, p.ImportPath)
		}
	}
	imports := importer.ForCompiler(token.NewFileSet(), "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	var lines []string
	for _, path := range paths {
		pkg, err := imports.Import(path)
		if err != nil {
			return nil, err
		}
		lines = append(lines, describe(pkg)...)
	}
	slices.Sort(lines)
	return lines, nil
}

func describe(pkg *types.Package) (lines []string) {
	short := func(p *types.Package) string {
		if p == pkg {
			return ""
		}
		return p.Name()
	}
	add := func(format string, a ...any) {
		lines = append(lines, "pkg "+pkg.Path()+", "+fmt.Sprintf(format, a...))
	}
	for _, name := range pkg.Scope().Names() {
		o := pkg.Scope().Lookup(name)
		if !o.Exported() {
			continue
		}
		switch o := o.(type) {
		case *types.Const:
			add("const %s %s = %s", name, types.TypeString(o.Type(), short), o.Val().ExactString())
		case *types.Var:
			add("var %s %s", name, types.TypeString(o.Type(), short))
		case *types.Func:
			add("func %s%s", name, signature(o.Signature(), short))
		case *types.TypeName:
			t := o.Type()
			if o.IsAlias() {
				add("type %s = %s", name, types.TypeString(types.Unalias(t), short))
				t = types.Unalias(t) // an alias carries what stands behind it
			}
			described(add, name, t, short)
		}
	}
	return lines
}

func described(add func(string, ...any), name string, t types.Type, short types.Qualifier) {
	named, ok := t.(*types.Named)
	if !ok {
		return
	}
	switch u := named.Underlying().(type) {
	case *types.Struct:
		comparable := ""
		if types.Comparable(u) {
			comparable = ", comparable"
		}
		add("type %s struct%s", name, comparable)
		for f := range u.Fields() {
			if f.Exported() {
				add("type %s struct, %s %s", name, f.Name(), types.TypeString(f.Type(), short))
			}
		}
	default:
		add("type %s %s", name, types.TypeString(u, short))
	}
	set := types.NewMethodSet(types.NewPointer(named))
	value := types.NewMethodSet(named)
	for m := range set.Methods() {
		f, ok := m.Obj().(*types.Func)
		if !ok || !f.Exported() || types.IsInterface(named) {
			continue
		}
		on := "*" + name
		if value.Lookup(f.Pkg(), f.Name()) != nil {
			on = name
		}
		add("method (%s) %s%s", on, f.Name(), signature(f.Signature(), short))
	}
}

func signature(s *types.Signature, short types.Qualifier) string {
	list := func(t *types.Tuple, variadic bool) string {
		var parts []string
		for i := range t.Len() {
			text := types.TypeString(t.At(i).Type(), short)
			if variadic && i == t.Len()-1 {
				text = "..." + strings.TrimPrefix(text, "[]")
			}
			parts = append(parts, text)
		}
		return "(" + strings.Join(parts, ", ") + ")"
	}
	text := list(s.Params(), s.Variadic())
	if s.Results().Len() > 0 {
		text += " " + list(s.Results(), false)
	}
	return text
}
