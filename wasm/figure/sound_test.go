package figure

import (
	"encoding/xml"
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// An element is one element of a figure as a test sees it.
type element struct {
	name  string
	attrs map[string]string
	text  string
}

func (e element) class(c string) bool {
	for _, s := range strings.Fields(e.attrs["class"]) {
		if s == c {
			return true
		}
	}
	return false
}

func (e element) num(name string) float64 {
	v, err := strconv.ParseFloat(e.attrs[name], 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// read parses a figure strictly as XML.
func read(s string) ([]element, error) {
	var all []element
	var open []int
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attrs: map[string]string{}}
			for _, a := range tok.Attr {
				if _, twice := e.attrs[a.Name.Local]; twice {
					return nil, fmt.Errorf("%s has %s twice", e.name, a.Name.Local)
				}
				e.attrs[a.Name.Local] = a.Value
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].text += string(tok)
			}
		case xml.Comment, xml.ProcInst, xml.Directive:
			return nil, fmt.Errorf("%T in a figure", tok)
		}
	}
}

var (
	allowed = map[string]string{
		"svg":     "xmlns class viewBox font-family font-size direction role aria-labelledby aria-describedby data-frame data-x data-y",
		"title":   "id",
		"desc":    "id",
		"text":    "class x y text-anchor fill",
		"line":    "class x1 y1 x2 y2 stroke stroke-width stroke-opacity",
		"rect":    "class x y width height fill fill-opacity stroke stroke-width stroke-dasharray",
		"circle":  "class cx cy r fill stroke stroke-width",
		"ellipse": "class cx cy rx ry fill stroke stroke-width",
		"path":    "class d fill fill-opacity stroke stroke-width stroke-linecap stroke-linejoin stroke-dasharray",
	}
	number = regexp.MustCompile(`^-?[0-9]+(\.[0-9]{1,2})?$`)
	inPath = regexp.MustCompile(`-?[0-9]*\.?[0-9]+(e-?[0-9]+)?`)
)

// documented are the classes that the package's comment explains.
func documented(t testing.TB) map[string]bool {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	classes := map[string]bool{}
	for _, c := range regexp.MustCompile(`f-[a-z1-6-]+`).FindAllString(string(doc), -1) {
		classes[c] = true
	}
	for _, c := range []string{"f-2", "f-3", "f-4", "f-5"} { // f-1 to f-6
		classes[c] = true
	}
	return classes
}

// sound returns what is wrong with a figure as SVG: everything that must hold
// whatever was drawn.
func sound(s string, classes map[string]bool) error {
	all, err := read(s)
	if err != nil {
		return err
	}
	if len(all) < 2 || all[0].name != "svg" || all[1].name != "title" {
		return errors.New("not an svg with a title first")
	}
	svg := all[0]
	if svg.attrs["role"] != "img" || svg.attrs["aria-labelledby"] != all[1].attrs["id"] || strings.TrimSpace(all[1].text) == "" {
		return errors.New("no name")
	}
	ids := map[string]bool{}
	var w, h float64
	if _, err := fmt.Sscanf(svg.attrs["viewBox"], "0 0 %g %g", &w, &h); err != nil || w != 360 && w != 720 || !(h > 0) {
		return fmt.Errorf("viewBox %q", svg.attrs["viewBox"])
	}
	for _, e := range all {
		list, ok := allowed[e.name]
		if !ok {
			return fmt.Errorf("element %s", e.name)
		}
		for a, v := range e.attrs {
			if !strings.Contains(" "+list+" ", " "+a+" ") {
				return fmt.Errorf("%s has attribute %s", e.name, a)
			}
			switch a {
			case "id":
				if ids[v] || v == "" || strings.ContainsAny(v, " \"'<>&") {
					return fmt.Errorf("id %q", v)
				}
				ids[v] = true
			case "class":
				for _, c := range strings.Fields(v) {
					if !classes[c] {
						return fmt.Errorf("class %s is not explained", c)
					}
				}
			case "fill", "stroke":
				if v != "none" && v != "currentColor" {
					return fmt.Errorf("%s=%q: colours belong in the stylesheet", a, v)
				}
			case "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "ry", "width", "height", "stroke-width":
				f, err := strconv.ParseFloat(v, 64)
				if err != nil || !number.MatchString(v) || f < -20 || f > math.Max(w, h)+20 {
					return fmt.Errorf("%s %s=%q", e.name, a, v)
				}
			case "d":
				if strings.ContainsAny(v, "NIn") {
					return fmt.Errorf("path %q", v)
				}
				for _, n := range inPath.FindAllString(v, -1) {
					f, err := strconv.ParseFloat(n, 64)
					if err != nil || !number.MatchString(n) || f < -60 || f > math.Max(w, h)+20 {
						return fmt.Errorf("path has %q", n)
					}
				}
			}
		}
	}
	if d := svg.attrs["aria-describedby"]; d != "" && !ids[d] {
		return errors.New("no description")
	}
	return nil
}

func TestSound(t *testing.T) {
	classes := documented(t)
	for name, p := range gallery() {
		for suffix, look := range looks {
			if err := sound(p.Draw(look), classes); err != nil {
				t.Errorf("%s%s: %v", name, suffix, err)
			}
		}
	}
}

// The check itself must be able to fail.
func TestSoundHasTeeth(t *testing.T) {
	classes := documented(t)
	good := Plot{Title: "t", Lines: []Line{{X: []float64{0, 1}, Y: []float64{0, 1}}}}.SVG()
	if err := sound(good, classes); err != nil {
		t.Fatal(err)
	}
	for _, change := range [][2]string{
		{"</svg>", ""},
		{`role="img"`, `role="none"`},
		{`<title id="t-t">t<`, `<title id="t-t"><`},
		{`<path class="f-line`, `<path style="x" class="f-line`},
		{`<path class="f-line`, `<path class="f-lien`},
		{` d="M`, ` d="MNaN M`},
		{` d="M`, ` d="M1.234 `},
		{`fill="none"`, `fill="red"`},
		{`x1="`, `x1="1e9`},
		{"</svg>", "<script/></svg>"},
	} {
		bad := strings.Replace(good, change[0], change[1], 1)
		if bad == good {
			t.Errorf("%q is not in the figure", change[0])
		}
		if sound(bad, classes) == nil {
			t.Errorf("a figure with %q in place of %q passed", change[1], change[0])
		}
	}
}

// Every class that is explained is drawn by some figure.
func TestClassesAreUsed(t *testing.T) {
	used := map[string]bool{}
	for _, p := range gallery() {
		for _, look := range looks {
			all, err := read(p.Draw(look))
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range all {
				for _, c := range strings.Fields(e.attrs["class"]) {
					used[c] = true
				}
			}
		}
	}
	for c := range documented(t) {
		if !used[c] {
			t.Errorf("no figure draws class %s", c)
		}
	}
}

// The package goes into the bundle: nothing heavy comes with it.
func TestImports(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range tree.Imports {
			switch i.Path.Value {
			case `"math"`, `"strconv"`, `"strings"`:
			default:
				t.Errorf("%s imports %s", f, i.Path.Value)
			}
		}
	}
}
