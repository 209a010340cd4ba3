package published

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Docs fails when an exported function or method of the current package has
// no doc comment, when a function with a result names no source ("Source:"
// begins the line; arithmetic of our own says "Source: definition."), or when
// an exported number stands without a unit in its name or beside it.
func Docs(t *testing.T) {
	t.Helper()
	for _, p := range undocumented(".") {
		t.Error(p)
	}
}

// unitEnd finds a field or constant name that says its unit or its kind.
var unitEnd = regexp.MustCompile(`(Pct|Percent|C|K|DegC|G|Kg|KG|Mg|ML|L|M|M2|M3|CM|MM|Kelvin|KPa|HPa|Pa|Bar|Mbar|PPM|Days|Hours|Seconds|Minutes|PerDay|PerHour|PerMinute|PerG|PerK|PerKG|PerC|PerML|PerL|Ratio|Share|Factor|Count|Aw|Activity|Exponent|PerMol|Mol|Index)$`)

func undocumented(dir string) (problems []string) {
	fset := token.NewFileSet()
	paths, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(paths) == 0 {
		return []string{dir + ": no Go files"}
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, path, nil, parser.ParseComments)
		if err != nil {
			return []string{err.Error()}
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if !d.Name.IsExported() {
					continue
				}
				doc := d.Doc.Text()
				where := fset.Position(d.Pos()).String() + ": " + d.Name.Name
				if doc == "" {
					problems = append(problems, where+" has no doc comment")
				} else if computes(d) && !strings.Contains(doc, "Source:") {
					problems = append(problems, where+" names no Source:")
				}
			case *ast.GenDecl:
				problems = append(problems, bare(fset, d)...)
			}
		}
	}
	return problems
}

// computes says whether a declaration is a function, not a method, with a
// result: those are the formulas.
func computes(d *ast.FuncDecl) bool {
	return d.Recv == nil && d.Type.Results != nil
}

// bare lists exported numbers without a unit in their name or comment.
func bare(fset *token.FileSet, d *ast.GenDecl) (problems []string) {
	say := func(n *ast.Ident, what string) {
		problems = append(problems, fset.Position(n.Pos()).String()+": "+n.Name+" is "+what+" without a unit in its name or a comment")
	}
	for _, s := range d.Specs {
		switch s := s.(type) {
		case *ast.ValueSpec:
			for _, n := range s.Names {
				if n.IsExported() && s.Doc.Text()+s.Comment.Text()+d.Doc.Text() == "" {
					say(n, "a constant")
				}
			}
		case *ast.TypeSpec:
			st, ok := s.Type.(*ast.StructType)
			if !ok || !s.Name.IsExported() {
				continue
			}
			for _, f := range st.Fields.List {
				if !isNumber(f.Type) || f.Doc.Text()+f.Comment.Text() != "" {
					continue
				}
				for _, n := range f.Names {
					if n.IsExported() && !unitEnd.MatchString(n.Name) {
						say(n, "a number")
					}
				}
			}
		}
	}
	return problems
}

func isNumber(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name == "float64" || e.Name == "int"
	case *ast.SelectorExpr:
		return e.Sel.Name == "Decimal"
	case *ast.ArrayType:
		return isNumber(e.Elt)
	}
	return false
}
