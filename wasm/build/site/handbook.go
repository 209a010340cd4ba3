package site

import (
	"bytes"
	"go/ast"
	"go/doc"
	"go/doc/comment"
	"go/format"
	"go/parser"
	"go/token"
	"html/template"
	"path/filepath"
	"slices"
	"strings"
)

// A chapter of the handbook is one package: what go doc says, as a page.
type chapter struct {
	Name, Import, Synopsis string
	Doc                    template.HTML
	Items                  []item
}

// An item is a function, a type, its methods, constants.
type item struct {
	ID, Title, Decl string
	Parts           []string // further names that stand in it
	Doc             template.HTML
	Examples        []example
}

type example struct{ Title, Code, Output string }

// Href is where the chapter stands, from the handbook's first page.
func (c chapter) Href() string { return c.Name + "/index.html" }

// handbook reads the packages of the library.
func handbook(root string, packages []string) ([]chapter, error) {
	var list []chapter
	for _, name := range packages {
		c, err := chapterOf(root, name, packages)
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	return list, nil
}

const module = "example.org/evenlot/"

func chapterOf(root, name string, packages []string) (chapter, error) {
	paths, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(name), "*.go"))
	if err != nil {
		return chapter{}, err
	}
	fset := token.NewFileSet()
	var files []*ast.File
	for _, path := range paths {
		f, err := parser.ParseFile(fset, path, nil, parser.ParseComments)
		if err != nil {
			return chapter{}, err
		}
		files = append(files, f)
	}
	p, err := doc.NewFromFiles(fset, files, module+name)
	if err != nil {
		return chapter{}, err
	}
	printer := p.Printer()
	printer.HeadingLevel = 3
	printer.HeadingID = func(*comment.Heading) string { return "" }
	up := strings.Repeat("../", strings.Count(name, "/")+1)
	printer.DocLinkURL = func(l *comment.DocLink) string {
		to := l.Name
		if l.Recv != "" {
			to = l.Recv + "." + l.Name
		}
		switch other, ours := strings.CutPrefix(l.ImportPath, module); {
		case l.ImportPath == "":
			return "#" + to
		case ours && slices.Contains(packages, other):
			return strings.TrimSuffix(up+other+"/index.html#"+to, "#")
		}
		return "https://pkg.go.dev/" + l.ImportPath + "#" + to
	}
	read := func(text string) template.HTML { return template.HTML(printer.HTML(p.Parser().Parse(text))) }
	var fault error
	source := func(n any) string {
		var b bytes.Buffer
		if err := format.Node(&b, fset, n); err != nil {
			fault = err
		}
		return b.String()
	}
	c := chapter{Name: name, Import: module + name, Synopsis: p.Synopsis(p.Doc), Doc: read(p.Doc)}
	add := func(id, title string, decl ast.Node, text string, examples []*doc.Example) {
		i := item{ID: id, Title: title, Decl: source(decl), Doc: read(text)}
		for _, e := range examples {
			code := source(e.Code)
			if b, ok := strings.CutPrefix(code, "{\n"); ok {
				code = strings.ReplaceAll("\n"+strings.TrimSuffix(b, "\n}"), "\n\t", "\n")[1:]
			}
			i.Examples = append(i.Examples, example{strings.ReplaceAll(e.Suffix, "_", " "), code, e.Output})
		}
		c.Items = append(c.Items, i)
	}
	values := func(list []*doc.Value) {
		for _, v := range list {
			add(v.Names[0], strings.Join(v.Names, ", "), v.Decl, v.Doc, nil)
			c.Items[len(c.Items)-1].Parts = v.Names[1:]
		}
	}
	functions := func(list []*doc.Func, owner string) {
		for _, f := range list {
			f.Decl.Body, f.Decl.Doc = nil, nil
			add(owner+f.Name, owner+f.Name, f.Decl, f.Doc, f.Examples)
		}
	}
	values(p.Consts)
	values(p.Vars)
	functions(p.Funcs, "")
	for _, t := range p.Types {
		t.Decl.Doc = nil
		add(t.Name, t.Name, t.Decl, t.Doc, t.Examples)
		if s, ok := t.Decl.Specs[0].(*ast.TypeSpec).Type.(*ast.StructType); ok {
			for _, f := range s.Fields.List {
				for _, n := range f.Names {
					c.Items[len(c.Items)-1].Parts = append(c.Items[len(c.Items)-1].Parts, t.Name+"."+n.Name)
				}
			}
		}
		values(t.Consts)
		values(t.Vars)
		functions(t.Funcs, "")
		functions(t.Methods, t.Name+".")
	}
	return c, fault
}
