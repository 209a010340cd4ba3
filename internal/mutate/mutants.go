package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// A source is one package, parsed and type-checked.
type source struct {
	path, dir, root string
	fset            *token.FileSet
	files           []*ast.File
	text            map[string][]byte
	info            types.Info
}

// load reads a package with the export data of what it imports.
func load(pkg string) (*source, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles,Module,DepOnly", pkg)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	s := &source{fset: token.NewFileSet(), text: map[string][]byte{}}
	exports := map[string]string{}
	var names []string
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath, Export, Dir string
			GoFiles                 []string
			Module                  *struct{ Dir string }
			DepOnly                 bool
		}
		if err := d.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		exports[p.ImportPath] = p.Export
		if !p.DepOnly {
			s.path, s.dir, s.root, names = p.ImportPath, p.Dir, p.Module.Dir, p.GoFiles
		}
	}
	if names == nil {
		return nil, errors.New("no Go files")
	}
	for _, name := range names {
		path := filepath.Join(s.dir, name)
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(s.fset, path, text, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		s.text[path] = text
		s.files = append(s.files, f)
	}
	s.info = types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{}}
	conf := types.Config{Importer: importer.ForCompiler(s.fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(exports[path])
	})}
	_, err = conf.Check(s.path, s.fset, s.files, &s.info)
	return s, err
}

// A mutant is one change.
type mutant struct {
	id          int
	where, what string
}

// An edit puts text in place of the bytes from one offset to another. Where
// several begin at one place, an opening stands outside those after it, and a
// closing (depth below zero) after those before it.
type edit struct {
	from, to int
	depth    int
	text     string
}

type mutator struct {
	*source
	file    *ast.File
	edits   []edit
	mutants []mutant
	depth   int
}

// mutate returns the package's files with every mutant in them, and the list.
func (s *source) mutate() (map[string][]byte, []mutant) {
	files := map[string][]byte{}
	m := &mutator{source: s}
	for _, f := range s.files {
		m.file, m.edits = f, nil
		for _, d := range f.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok != token.VAR {
				continue // a constant is changed where it is used
			}
			m.walk(d)
		}
		path := s.fset.Position(f.Pos()).Filename
		files[path] = m.apply(s.text[path])
	}
	return files, m.mutants
}

func (m *mutator) offset(p token.Pos) int { return m.fset.Position(p).Offset }

func (m *mutator) add(at token.Pos, what string) int {
	p := m.fset.Position(at)
	id := len(m.mutants)
	m.mutants = append(m.mutants, mutant{id, fmt.Sprintf("%s:%d:%d", filepath.Base(p.Filename), p.Line, p.Column), what})
	return id
}

// wrap puts a call around an expression.
func (m *mutator) wrap(e ast.Expr, call string) {
	m.edits = append(m.edits, edit{m.offset(e.Pos()), m.offset(e.Pos()), m.depth, call},
		edit{m.offset(e.End()), m.offset(e.End()), -m.depth, ")"})
}

func (m *mutator) printed(e ast.Expr) string {
	path := m.fset.Position(e.Pos()).Filename
	return strings.Join(strings.Fields(string(m.text[path][m.offset(e.Pos()):m.offset(e.End())])), " ")
}

// numeric says whether an expression is a plain float64 or int.
func (m *mutator) numeric(e ast.Expr) bool {
	t := m.info.Types[e].Type
	return t == types.Typ[types.Float64] || t == types.Typ[types.Int]
}

func (m *mutator) isDecimal(e ast.Expr) bool {
	t := m.info.Types[e].Type
	return t != nil && t.String() == "github.com/shopspring/decimal.Decimal"
}

func (m *mutator) walk(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		if n == nil {
			m.depth--
			return false
		}
		if !m.visit(n) {
			return false
		}
		m.depth++
		return true
	})
}

// visit mutates one node and says whether to go on into it.
func (m *mutator) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.GenDecl:
		return n.Tok == token.VAR
	case *ast.ArrayType, *ast.Ellipsis, *ast.FuncType, *ast.BranchStmt, *ast.LabeledStmt:
		if l, ok := n.(*ast.LabeledStmt); ok {
			m.depth++
			m.walk(l.Stmt)
			m.depth--
		}
		return false
	case *ast.CaseClause:
		for _, e := range n.List {
			if m.info.Types[e].Value == nil {
				m.walk(e)
			}
		}
		for _, s := range n.Body {
			m.walk(s)
		}
		return false
	case *ast.KeyValueExpr: // a field's name, or an index that must be constant
		m.depth++
		m.walk(n.Value)
		m.depth--
		return false
	case *ast.AssignStmt:
		m.assign(n)
	case *ast.CallExpr:
		if m.printed(n) == "math.Inf(1)" {
			return false // of 0 and of 2 it is the same
		}
		m.call(n)
	case ast.Expr:
		return m.expr(n)
	}
	return true
}

func (m *mutator) expr(e ast.Expr) bool {
	if tv := m.info.Types[e]; tv.Value != nil {
		if m.numeric(e) {
			id := m.add(e.Pos(), m.printed(e)+" up")
			m.add(e.Pos(), m.printed(e)+" down")
			m.wrap(e, fmt.Sprintf("mutant.C[%s](%d, ", tv.Type, id))
		}
		return false
	}
	b, ok := e.(*ast.BinaryExpr)
	if !ok {
		return true
	}
	op := b.Op
	switch op {
	case token.LAND, token.LOR:
		for _, x := range []ast.Expr{b.X, b.Y} {
			id := m.add(x.Pos(), "left away of "+op.String()+": "+m.printed(x))
			m.depth++
			m.wrap(x, fmt.Sprintf("mutant.Drop(%d, %v, ", id, op == token.LAND))
			m.depth--
		}
		return true
	case token.SHL, token.SHR:
		return false
	}
	if !m.operands(b) {
		return true
	}
	name, what := "", ""
	switch op {
	case token.ADD:
		name, what = "Add", "+ to −"
	case token.SUB:
		name, what = "Sub", "− to +"
	case token.MUL:
		name, what = "Mul", "* to /"
	case token.QUO:
		name, what = "Quo", "/ to *"
	case token.LSS:
		name, what = "Lss", "< to <="
	case token.LEQ:
		name, what = "Leq", "<= to <"
	case token.GTR:
		name, what = "Gtr", "> to >="
	case token.GEQ:
		name, what = "Geq", ">= to >"
	case token.EQL:
		name, what = "Eql", "== to !="
	case token.NEQ:
		name, what = "Neq", "!= to =="
	default:
		return true
	}
	text := m.printed(b)
	id := m.add(b.OpPos, what+" in "+text)
	switch op {
	case token.LSS, token.LEQ, token.GTR, token.GEQ:
		m.add(b.OpPos, "turned round: "+text)
	}
	m.wrap(b, fmt.Sprintf("mutant.%s(%d, ", name, id))
	at := m.offset(b.OpPos)
	m.edits = append(m.edits, edit{at, at + len(op.String()), 0, ","})
	return true
}

// operands says whether both sides are plain numbers, at least one of them
// with its type.
func (m *mutator) operands(b *ast.BinaryExpr) bool {
	return m.numeric(b.X) && m.numeric(b.Y)
}

func (m *mutator) assign(a *ast.AssignStmt) {
	if len(a.Lhs) != 1 || !m.numeric(a.Lhs[0]) && a.Tok != token.DEFINE && a.Tok != token.ASSIGN {
		return
	}
	name := ""
	switch a.Tok {
	case token.ADD_ASSIGN, token.SUB_ASSIGN:
		name = "Neg"
	case token.MUL_ASSIGN, token.QUO_ASSIGN:
		if m.info.Types[a.Lhs[0]].Type != types.Typ[types.Float64] {
			return
		}
		name = "Inv"
	default:
		return
	}
	t := m.info.Types[a.Lhs[0]].Type
	id := m.add(a.TokPos, a.Tok.String()+" turned round: "+m.printed(a.Rhs[0]))
	m.wrap(a.Rhs[0], fmt.Sprintf("mutant.%s[%s](%d, ", name, t, id))
}

// call mutates the arithmetic of decimals.
func (m *mutator) call(c *ast.CallExpr) {
	sel, ok := c.Fun.(*ast.SelectorExpr)
	if !ok || len(c.Args) == 0 || !m.isDecimal(sel.X) || !m.isDecimal(c.Args[0]) {
		return
	}
	name, what := "", ""
	switch sel.Sel.Name {
	case "Add", "Sub":
		name, what = "DecNeg", "turned round"
	case "Mul", "DivRound", "QuoRem":
		name, what = "DecUp", "its operand 1 % up"
	case "LessThan", "LessThanOrEqual", "GreaterThan", "GreaterThanOrEqual":
		name, what = "DecUlp", "an equal operand moved over the border"
	default:
		return
	}
	id := m.add(c.Args[0].Pos(), sel.Sel.Name+" "+what+": "+m.printed(c))
	if name == "DecUlp" {
		m.wrap(c.Args[0], fmt.Sprintf("mutant.DecUlp(%d, %q, %s, ", id, sel.Sel.Name, m.plain(sel.X)))
		return
	}
	m.wrap(c.Args[0], fmt.Sprintf("mutant.%s(%d, ", name, id))
}

// plain is an expression without its own mutants.
func (m *mutator) plain(e ast.Expr) string { return m.printed(e) }

// apply makes the edits.
func (m *mutator) apply(text []byte) []byte {
	if len(m.edits) == 0 {
		return text
	}
	slices.SortStableFunc(m.edits, func(a, b edit) int {
		// Closings come before what begins at the same place, the innermost
		// first; openings the outermost first.
		shut := func(e edit) int {
			if e.text == ")" {
				return 0
			}
			return 1
		}
		if c := cmp.Or(cmp.Compare(a.from, b.from), shut(a)-shut(b)); c != 0 {
			return c
		}
		return a.depth - b.depth
	})
	var out bytes.Buffer
	at := 0
	name := m.offset(m.file.Name.End())
	out.Write(text[:name])
	out.WriteString("; import mutant \"example.org/evenlot/internal/mutant\"")
	at = name
	for _, e := range m.edits {
		out.Write(text[at:e.from])
		out.WriteString(e.text)
		at = e.to
	}
	out.Write(text[at:])
	return out.Bytes()
}

// switches is the package that the mutated files import.
const switches = `package mutant

import (
	"math"
	"os"
	"strconv"

	"github.com/shopspring/decimal"
)

var on = func() int {
	n, err := strconv.Atoi(os.Getenv("EVENLOT_MUTANT"))
	if err != nil {
		return -1
	}
	return n
}()

type number interface{ float64 | int }

// C steps a whole number by one and moves another by one percent.
func C[T number](id int, c T) T {
	if on != id && on != id+1 {
		return c
	}
	f, step := float64(c), 1.0
	if f != math.Trunc(f) {
		step = math.Abs(f) / 100
	}
	if on == id+1 {
		step = -step
	}
	if math.Abs(f) > 1e12 {
		return c + c/100*T(math.Copysign(1, step))
	}
	return T(f + step)
}

func Add[T number](id int, a, b T) T {
	if on == id {
		return a - b
	}
	return a + b
}

func Sub[T number](id int, a, b T) T {
	if on == id {
		return a + b
	}
	return a - b
}

func Mul[T number](id int, a, b T) T {
	if on == id {
		return a / b
	}
	return a * b
}

func Quo[T number](id int, a, b T) T {
	if on == id {
		return a * b
	}
	return a / b
}

func Lss[T number](id int, a, b T) bool {
	return on != id && on != id+1 && a < b || on == id && a <= b || on == id+1 && a >= b
}

func Leq[T number](id int, a, b T) bool {
	return on != id && on != id+1 && a <= b || on == id && a < b || on == id+1 && a > b
}

func Gtr[T number](id int, a, b T) bool {
	return on != id && on != id+1 && a > b || on == id && a >= b || on == id+1 && a <= b
}

func Geq[T number](id int, a, b T) bool {
	return on != id && on != id+1 && a >= b || on == id && a > b || on == id+1 && a < b
}

func Eql[T number](id int, a, b T) bool { return (a == b) != (on == id) }

func Neq[T number](id int, a, b T) bool { return (a != b) != (on == id) }

func Drop(id int, and, b bool) bool {
	if on == id {
		return and
	}
	return b
}

func Neg[T number](id int, a T) T {
	if on == id {
		return -a
	}
	return a
}

func Inv[T number](id int, a T) T {
	if on == id {
		return 1 / a
	}
	return a
}

func DecNeg(id int, d decimal.Decimal) decimal.Decimal {
	if on == id {
		return d.Neg()
	}
	return d
}

func DecUp(id int, d decimal.Decimal) decimal.Decimal {
	if on == id {
		return d.Add(d.Shift(-2))
	}
	return d
}

// DecUlp moves b, where it equals a, to the other side of what the comparison
// lets through.
func DecUlp(id int, name string, a, b decimal.Decimal) decimal.Decimal {
	if on != id || !a.Equal(b) {
		return b
	}
	one := decimal.New(1, b.Exponent()-1)
	if name == "LessThan" || name == "GreaterThanOrEqual" {
		return b.Add(one)
	}
	return b.Sub(one)
}
`
