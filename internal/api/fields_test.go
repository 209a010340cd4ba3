package api

import (
	"encoding/csv"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A refusal names what the signature shows: a parameter by its name, and a
// struct's field by its own, behind the parameter's where two could be meant.
func TestFieldsAreSpelledAsGiven(t *testing.T) {
	files, err := filepath.Glob("../../*/testdata/ranges.csv")
	deeper, _ := filepath.Glob("../../*/*/testdata/ranges.csv")
	if files = append(files, deeper...); err != nil || len(files) < 12 {
		t.Fatalf("%d records of ranges, %v", len(files), err)
	}
	for _, name := range files {
		dir := filepath.Dir(filepath.Dir(name))
		spelled := spellings(t, dir)
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, r := range rows[1:] {
			root := r[1]
			if i := strings.IndexAny(root, ".[("); i >= 0 {
				root = root[:i]
			}
			names, known := spelled[r[0]]
			if !known || !slices.Contains(names, root) {
				t.Errorf("%s: %s names %s; its signature shows %s", dir, r[0], r[1], strings.Join(names, ", "))
			}
		}
	}
}

// spellings are, for each function of a package, its parameters and the fields
// of the structs it takes.
func spellings(t *testing.T, dir string) map[string][]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	structs := map[string][]string{} // the fields of each
	inner := map[string][]string{}   // and the types of these
	funcs := map[string]*ast.FuncDecl{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				key := d.Name.Name
				if d.Recv != nil {
					key = typeName(d.Recv.List[0].Type) + "." + key
				}
				funcs[key] = d
			case *ast.GenDecl:
				for _, s := range d.Specs {
					s, ok := s.(*ast.TypeSpec)
					if !ok {
						continue
					}
					st, ok := s.Type.(*ast.StructType)
					if !ok {
						continue
					}
					for _, f := range st.Fields.List {
						for _, n := range f.Names {
							structs[s.Name.Name] = append(structs[s.Name.Name], n.Name)
						}
						inner[s.Name.Name] = append(inner[s.Name.Name], typeName(f.Type))
					}
				}
			}
		}
	}
	var within func(name string, depth int) []string
	within = func(name string, depth int) []string {
		list := slices.Clone(structs[name])
		for _, n := range inner[name] {
			if depth > 0 {
				list = append(list, within(n, depth-1)...)
			}
		}
		return list
	}
	out := map[string][]string{}
	for key, d := range funcs {
		list := d.Type.Params.List
		if d.Recv != nil {
			list = append(slices.Clip(d.Recv.List), list...)
		}
		for _, p := range list {
			for _, n := range p.Names {
				out[key] = append(out[key], n.Name)
			}
			out[key] = append(out[key], within(typeName(p.Type), 3)...)
		}
		if d.Recv != nil {
			out[d.Name.Name] = append(out[d.Name.Name], out[key]...)
		}
	}
	return out
}

func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.StarExpr:
		return typeName(e.X)
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}
