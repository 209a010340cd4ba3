package catalogue

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Line is one line of working in two writings of the same thing.
type Line struct {
	Text   string // E = B·T/D = 36.0 g × 9.50 % / 18.0 g = 19.0 %
	MathML string
}

// A node of a parsed formula.
type node struct {
	op   byte // 'n' number, 'v' symbol, 'f' function, '(' parentheses, or + - * / ^ ~ (negation)
	text string
	args []*node
}

// A scribe writes lines of working, and remembers the formulas that it parsed:
// a form asks for the same ones at each key.
type scribe struct {
	formulas map[string]*formula
	text, ml []byte // of the line at hand
	pieces   []piece
	numbers  bool // what is written has room for numbers in place of symbols
	_        incomparable
}

// A formula is what a line has whatever the numbers in it.
type formula struct {
	symbol   string // on its left
	text, ml string // E = B·T/D
	pieces   []piece
	_        incomparable
}

// A piece is a symbol and what stands before it.
type piece struct {
	text, ml  string
	symbol    string // empty at the end
	power     bool   // the symbol is raised
	negatable bool   // a minus sign may stand before its number
	_         incomparable
}

// formula parses a line. One that does not parse is a fault of the calculator,
// found by this package's tests.
func (s *scribe) formula(line string) *formula {
	if f, ok := s.formulas[line]; ok {
		return f
	}
	left, right, ok := strings.Cut(line, "=")
	if !ok {
		panic("catalogue: a line of working is symbol = formula: " + line)
	}
	f, tree := &formula{symbol: strings.TrimSpace(left)}, parse(right)
	s.text, s.ml, s.numbers = s.text[:0], s.ml[:0], false
	(&node{op: 'v', text: f.symbol}).write(s, 0)
	s.equals()
	tree.write(s, 0)
	f.text, f.ml = string(s.text), string(s.ml)
	s.text, s.ml, s.numbers = s.text[:0], s.ml[:0], true
	s.equals()
	tree.write(s, 0)
	f.pieces = append(s.pieces, piece{text: string(s.text), ml: string(s.ml)})
	s.pieces = nil
	if s.formulas == nil || len(s.formulas) >= 100 { // some are made of what was typed
		s.formulas = map[string]*formula{}
	}
	s.formulas[line] = f
	return f
}

// line renders a formula with its numbers; pairs are symbols, each with its own.
func (s *scribe) line(line string, pairs []string) Line {
	f := s.formula(line)
	s.text, s.ml = append(s.text[:0], f.text...), append(append(s.ml[:0], "<math display='block'><mrow>"...), f.ml...)
	bare := len(s.text) // without numbers, if there are none
	bareML, known := len(s.ml), false
	for i := range f.pieces {
		p := &f.pieces[i]
		s.both(p.text, p.ml)
		v, ok := numberOf(pairs, p.symbol)
		known = known || ok
		wrap := ok && (p.negatable && strings.HasPrefix(v, "−") || p.power && strings.ContainsAny(v, " ×"))
		switch {
		case wrap:
			s.both("(", "<mo>(</mo>")
			s.quantity(v)
			s.both(")", "<mo>)</mo>")
		case ok:
			s.quantity(v)
		case p.symbol != "":
			s.identifier(p.symbol)
		}
	}
	if !known {
		s.text, s.ml = s.text[:bare], s.ml[:bareML]
	}
	if v, ok := numberOf(pairs, f.symbol); ok {
		s.equals()
		s.quantity(v)
	}
	s.mark("</mrow></math>")
	n := len(s.text)
	s.text = append(s.text, s.ml...)
	both := string(s.text) // one piece of memory
	return Line{both[:n], both[n:]}
}

// numberOf is the number of a symbol: the last one given.
func numberOf(pairs []string, symbol string) (string, bool) {
	for i := len(pairs)&^1 - 2; i >= 0; i -= 2 {
		if pairs[i] == symbol {
			return pairs[i+1], true
		}
	}
	return "", false
}

func (s *scribe) plain(t string)   { s.text = append(s.text, t...) }
func (s *scribe) mark(m string)    { s.ml = append(s.ml, m...) }
func (s *scribe) both(t, m string) { s.plain(t); s.mark(m) }
func (s *scribe) equals()          { s.both(" = ", "<mo>=</mo>") }

type parser struct {
	s   string
	pos int
}

func parse(s string) *node {
	p := &parser{s: s}
	n := p.sum()
	if p.peek() != 0 {
		panic("catalogue: formula does not parse at " + p.s[p.pos:] + " in " + s)
	}
	return n
}

func (p *parser) peek() rune {
	for p.pos < len(p.s) && p.s[p.pos] == ' ' {
		p.pos++
	}
	if p.pos == len(p.s) {
		return 0
	}
	r, _ := utf8.DecodeRuneInString(p.s[p.pos:])
	return r
}

func (p *parser) sum() *node {
	n := p.product()
	for {
		switch r := p.peek(); r {
		case '+', '-':
			p.pos++
			n = &node{op: byte(r), args: []*node{n, p.product()}}
		default:
			return n
		}
	}
}

func (p *parser) product() *node {
	n := p.power()
	for {
		switch r := p.peek(); r {
		case '*', '/':
			p.pos++
			n = &node{op: byte(r), args: []*node{n, p.power()}}
		default:
			return n
		}
	}
}

func (p *parser) power() *node {
	if p.peek() == '-' {
		p.pos++
		return &node{op: '~', args: []*node{p.power()}}
	}
	n := p.primary()
	if p.peek() == '^' {
		p.pos++
		n = &node{op: '^', args: []*node{n, p.power()}}
	}
	return n
}

func (p *parser) primary() *node {
	r := p.peek()
	switch {
	case r == '(':
		p.pos++
		n := p.sum()
		p.expect(')')
		return &node{op: '(', args: []*node{n}}
	case r >= '0' && r <= '9' || r == '.':
		start := p.pos
		for p.pos < len(p.s) && (p.s[p.pos] >= '0' && p.s[p.pos] <= '9' || p.s[p.pos] == '.') {
			p.pos++
		}
		return &node{op: 'n', text: p.s[start:p.pos]}
	case unicode.IsLetter(r) || r == '°':
		start := p.pos
		for p.pos < len(p.s) {
			r, w := utf8.DecodeRuneInString(p.s[p.pos:])
			if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' && r != '°' && r != '′' && r != ',' {
				break
			}
			if r == ',' && !strings.Contains(p.s[start:p.pos], "_") {
				break
			}
			p.pos += w
		}
		name := p.s[start:p.pos]
		if p.peek() == '(' {
			p.pos++
			n := &node{op: 'f', text: name, args: []*node{p.sum()}}
			for p.peek() == ',' {
				p.pos++
				n.args = append(n.args, p.sum())
			}
			p.expect(')')
			return n
		}
		return &node{op: 'v', text: name}
	}
	panic("catalogue: formula does not parse at " + p.s[p.pos:] + " in " + p.s)
}

func (p *parser) expect(r rune) {
	if p.peek() != r {
		panic("catalogue: formula lacks " + string(r) + ": " + p.s)
	}
	p.pos++
}

// write appends the plain and the MathML form, or makes pieces of both.
func (n *node) write(s *scribe, above int) {
	switch n.op {
	case 'n':
		s.both(n.text, "<mn>"+n.text+"</mn>")
	case 'v':
		if !s.numbers {
			s.identifier(n.text)
			return
		}
		s.pieces = append(s.pieces, piece{text: string(s.text), ml: string(s.ml), symbol: n.text, power: above >= 3, negatable: above > 0})
		s.text, s.ml = s.text[:0], s.ml[:0]
	case 'f':
		if n.text == "sqrt" {
			s.both("√(", "<msqrt>")
			n.args[0].write(s, 0)
			s.both(")", "</msqrt>")
			return
		}
		s.identifier(n.text)
		s.both("(", "<mo>(</mo>")
		for i, a := range n.args {
			if i > 0 {
				s.both("; ", "<mo>;</mo>")
			}
			a.write(s, 0)
		}
		s.both(")", "<mo>)</mo>")
	case '(':
		s.both("(", "<mo>(</mo>")
		n.args[0].write(s, 0)
		s.both(")", "<mo>)</mo>")
	case '~':
		s.both("−", "<mo>−</mo>")
		n.args[0].write(s, 2)
	case '^':
		s.mark("<msup><mrow>")
		n.args[0].write(s, 3)
		s.both("^", "</mrow><mrow>")
		e := n.args[1]
		if e.op == '(' { // raised: no parentheses needed in MathML
			s.plain("(")
			e.args[0].write(s, 0)
			s.plain(")")
		} else {
			e.write(s, 0)
		}
		s.mark("</mrow></msup>")
	case '/':
		s.mark("<mfrac><mrow>")
		n.args[0].bare(s, 2)
		s.both("/", "</mrow><mrow>")
		n.args[1].bare(s, 2)
		s.mark("</mrow></mfrac>")
	case '*':
		n.args[0].write(s, 2)
		if s.numbers {
			s.both(" × ", "<mo>×</mo>")
		} else {
			s.both("·", `<mo>·</mo>`)
		}
		n.args[1].write(s, 2)
	case '+':
		n.args[0].write(s, 1)
		s.both(" + ", "<mo>+</mo>")
		n.args[1].write(s, 1)
	case '-':
		n.args[0].write(s, 1)
		s.both(" − ", "<mo>−</mo>")
		n.args[1].write(s, 1)
	}
}

// bare writes one side of a fraction: in MathML its parentheses fall away.
func (n *node) bare(s *scribe, above int) {
	if n.op == '(' {
		s.plain("(")
		n.args[0].write(s, 0)
		s.plain(")")
		return
	}
	n.write(s, above)
}

// identifier writes a symbol: one letter slanted, several upright, what
// follows an underscore as a subscript.
func (s *scribe) identifier(symbol string) {
	s.plain(symbol)
	name, sub, ok := strings.Cut(symbol, "_")
	if ok {
		s.mark("<msub>")
	}
	s.element("<mi>", name, "</mi>")
	if ok {
		s.element("<mi>", sub, "</mi></msub>")
	}
}

// quantity writes "36.0 g" or "1.2×10^−5 1/s" as a number and its unit.
func (s *scribe) quantity(v string) {
	s.text = append(s.text, v...)
	number, unit, measured := strings.Cut(v, " ")
	mantissa, exponent, ok := strings.Cut(number, "×10^")
	b := appendSafe(append(s.ml, "<mn>"...), mantissa)
	if ok {
		b = appendSafe(append(b, "</mn><mo>×</mo><msup><mn>10</mn><mn>"...), exponent)
		b = append(b, "</mn></msup>"...)
	} else {
		b = append(b, "</mn>"...)
	}
	if measured && unit != "" { // a thin space apart
		b = append(appendSafe(append(b, "<mtext>\u2009"...), unit), "</mtext>"...)
	}
	s.ml = b
}

// element writes text that is safe inside markup.
func (s *scribe) element(open, text, close string) {
	s.ml = append(appendSafe(append(s.ml, open...), text), close...)
}

// appendSafe appends text that is safe inside markup.
func appendSafe(b []byte, text string) []byte {
	from := 0 // what is not yet written
	for i := range len(text) {
		var with string
		switch text[i] {
		case '&':
			with = "&amp;"
		case '<':
			with = "&lt;"
		case '>':
			with = "&gt;"
		default:
			continue
		}
		b = append(append(b, text[from:i]...), with...)
		from = i + 1
	}
	return append(b, text[from:]...)
}
