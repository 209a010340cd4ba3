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

// line renders a formula with its numbers. A formula that does not parse is a
// fault of the calculator, found by this package's tests.
func line(formula string, pairs []string) Line {
	left, right, ok := strings.Cut(formula, "=")
	if !ok {
		panic("catalogue: a line of working is symbol = formula: " + formula)
	}
	values := map[string]string{}
	for i := 0; i+1 < len(pairs); i += 2 {
		values[pairs[i]] = pairs[i+1]
	}
	symbol := strings.TrimSpace(left)
	tree := parse(right)
	var text, ml strings.Builder
	ml.WriteString(`<math display="block"><mrow>`)
	sym := &node{op: 'v', text: symbol}
	sym.write(&text, &ml, nil, 0)
	eq := func() {
		text.WriteString(" = ")
		ml.WriteString("<mo>=</mo>")
	}
	eq()
	tree.write(&text, &ml, nil, 0)
	if tree.hasSymbol(values) {
		eq()
		tree.write(&text, &ml, values, 0)
	}
	if v, ok := values[symbol]; ok {
		eq()
		text.WriteString(v)
		quantity(&ml, v)
	}
	ml.WriteString("</mrow></math>")
	return Line{text.String(), ml.String()}
}

func (n *node) hasSymbol(values map[string]string) bool {
	if n.op == 'v' {
		_, ok := values[n.text]
		return ok
	}
	for _, a := range n.args {
		if a.hasSymbol(values) {
			return true
		}
	}
	return false
}

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

// write appends the plain and the MathML form; with values the symbols are
// replaced by their numbers.
func (n *node) write(text, ml *strings.Builder, values map[string]string, above int) {
	both := func(t, m string) { text.WriteString(t); ml.WriteString(m) }
	switch n.op {
	case 'n':
		both(n.text, "<mn>"+n.text+"</mn>")
	case 'v':
		if v, ok := values[n.text]; ok {
			wrap := strings.HasPrefix(v, "−") && above > 0 || above >= 3 && strings.ContainsAny(v, " ×")
			if wrap {
				both("(", "<mo>(</mo>")
			}
			text.WriteString(v)
			quantity(ml, v)
			if wrap {
				both(")", "<mo>)</mo>")
			}
			return
		}
		text.WriteString(n.text)
		identifier(ml, n.text)
	case 'f':
		if n.text == "sqrt" {
			both("√(", "<msqrt>")
			n.args[0].write(text, ml, values, 0)
			both(")", "</msqrt>")
			return
		}
		text.WriteString(n.text + "(")
		identifier(ml, n.text)
		ml.WriteString("<mo>(</mo>")
		for i, a := range n.args {
			if i > 0 {
				both("; ", "<mo>;</mo>")
			}
			a.write(text, ml, values, 0)
		}
		both(")", "<mo>)</mo>")
	case '(':
		both("(", "<mo>(</mo>")
		n.args[0].write(text, ml, values, 0)
		both(")", "<mo>)</mo>")
	case '~':
		both("−", "<mo>−</mo>")
		n.args[0].write(text, ml, values, 2)
	case '^':
		ml.WriteString("<msup><mrow>")
		n.args[0].write(text, ml, values, 3)
		both("^", "</mrow><mrow>")
		e := n.args[1]
		if e.op == '(' { // raised: no parentheses needed in MathML
			text.WriteString("(")
			e.args[0].write(text, ml, values, 0)
			text.WriteString(")")
		} else {
			e.write(text, ml, values, 0)
		}
		ml.WriteString("</mrow></msup>")
	case '/':
		ml.WriteString("<mfrac><mrow>")
		n.args[0].bare(text, ml, values, 2)
		both("/", "</mrow><mrow>")
		n.args[1].bare(text, ml, values, 2)
		ml.WriteString("</mrow></mfrac>")
	case '*':
		n.args[0].write(text, ml, values, 2)
		if values != nil {
			both(" × ", "<mo>×</mo>")
		} else {
			both("·", `<mo>·</mo>`)
		}
		n.args[1].write(text, ml, values, 2)
	case '+':
		n.args[0].write(text, ml, values, 1)
		both(" + ", "<mo>+</mo>")
		n.args[1].write(text, ml, values, 1)
	case '-':
		n.args[0].write(text, ml, values, 1)
		both(" − ", "<mo>−</mo>")
		n.args[1].write(text, ml, values, 1)
	}
}

// bare writes one side of a fraction: in MathML its parentheses fall away.
func (n *node) bare(text, ml *strings.Builder, values map[string]string, above int) {
	if n.op == '(' {
		text.WriteString("(")
		n.args[0].write(text, ml, values, 0)
		text.WriteString(")")
		return
	}
	n.write(text, ml, values, above)
}

// identifier writes a symbol: one letter slanted, several upright, what
// follows an underscore as a subscript.
func identifier(ml *strings.Builder, s string) {
	name, sub, ok := strings.Cut(s, "_")
	mi := func(t string) { ml.WriteString("<mi>" + escape(t) + "</mi>") }
	if ok {
		ml.WriteString("<msub>")
	}
	mi(name)
	if ok {
		mi(sub)
		ml.WriteString("</msub>")
	}
}

// quantity writes "36.0 g" or "1.2×10^−5 1/s" as a number and its unit.
func quantity(ml *strings.Builder, v string) {
	number, unit, _ := strings.Cut(v, " ")
	mantissa, exponent, ok := strings.Cut(number, "×10^")
	ml.WriteString("<mn>" + escape(mantissa) + "</mn>")
	if ok {
		ml.WriteString("<mo>×</mo><msup><mn>10</mn><mn>" + escape(exponent) + "</mn></msup>")
	}
	if unit != "" {
		ml.WriteString(`<mspace width="0.17em"></mspace><mtext>` + escape(unit) + "</mtext>")
	}
}

// escape makes text safe inside markup.
func escape(s string) string {
	if !strings.ContainsAny(s, `&<>"`) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch r {
		case '&':
			b.WriteString("&amp;")
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '"':
			b.WriteString("&quot;")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
