package figure

import (
	"math"
	"strconv"
	"strings"
)

const (
	em    = 14.0 // font size
	lineH = 17.0 // between baselines
	rise  = 11.0 // of digits and capitals above the baseline
	fall  = 3.5  // of a g below it
)

// A pen writes SVG.
type pen struct {
	b    []byte
	look *Look
	w    float64
}

func newPen(l Look) *pen {
	p := &pen{look: l.worded(), w: 360}
	if l.Wide {
		p.w = 720
	}
	return p
}

// num appends a coordinate with at most two decimals.
func num(b []byte, v float64) []byte {
	n := math.Round(v * 100)
	if !(math.Abs(n) < 1e9) {
		n = 0 // cannot be: what is drawn is clipped
	}
	return strconv.AppendFloat(b, n/100+0, 'f', -1, 64)
}

// put writes SVG in which each ~ stands for the next of v, and each @ for the
// class of the next of v as the number of a series.
func (p *pen) put(svg string, v ...float64) {
	for i := range len(svg) {
		switch c := svg[i]; c {
		case '~':
			p.b = num(p.b, v[0])
			v = v[1:]
		case '@':
			p.b = append(p.b, 'f', '-', byte('1'+int(v[0])%6))
			v = v[1:]
		default:
			p.b = append(p.b, c)
		}
	}
}

// rule writes a straight line.
func (p *pen) rule(class string, x0, y0, x1, y1, width float64) {
	p.put(`<line class="` + class)
	p.put(`" x1="~" y1="~" x2="~" y2="~" stroke="currentColor" stroke-width="~"/>`+"\n", x0, y0, x1, y1, width)
}

// text writes one line; anchor is start, middle or end.
func (p *pen) text(class string, x, y float64, anchor, s string) {
	p.put(`<text class="` + class)
	p.put(`" x="~" y="~"`, x, y)
	if anchor != "start" {
		p.put(` text-anchor="` + anchor + `"`)
	}
	p.put(` fill="currentColor">`)
	p.escaped(s)
	p.put("</text>\n")
}

// figure closes the drawing: frame, name and description around what was
// written. An empty title is replaced by the first of others that says
// something.
func (p *pen) figure(kind, title, desc string, others []string, h float64, data func()) string {
	for _, s := range append(others, p.look.Words.Figure) {
		if strings.TrimSpace(clean(title)) == "" {
			title = s
		}
	}
	id := slug(p.look.ID)
	if id == "" {
		id = slug(title)
	}
	if id == "" || id[0] < 'a' || id[0] > 'z' {
		id = "f-" + id
	}
	drawn := p.b
	p.b = make([]byte, 0, len(drawn)+1024)
	p.put(`<svg xmlns="http://www.w3.org/2000/svg" class="f-figure ` + kind)
	p.put(`" viewBox="0 0 ~ ~" font-family="sans-serif" font-size="~" direction="ltr" role="img" aria-labelledby="`, p.w, h, em)
	p.put(id + `-t"`)
	if desc != "" {
		p.put(` aria-describedby="` + id + `-d"`)
	}
	if data != nil {
		data()
	}
	p.put(">\n<title id=\"" + id + `-t">`)
	p.escaped(title)
	p.put("</title>\n")
	if desc != "" {
		p.put(`<desc id="` + id + `-d">`)
		p.escaped(desc)
		p.put("</desc>\n")
	}
	p.b = append(p.b, drawn...)
	p.put("</svg>\n")
	return string(p.b)
}

// nothing is the figure of no data.
func (p *pen) nothing(kind, title, desc string, others []string) string {
	p.put(`<rect class="f-empty" x="1" y="1" width="~" height="94" fill="none" stroke="currentColor" stroke-dasharray="2 6"/>`+"\n", p.w-2)
	p.text("f-text", p.w/2, 53, "middle", p.look.Words.Nothing)
	return p.figure(kind, title, desc, others, 96, nil)
}

// escaped writes text safe inside an element.
func (p *pen) escaped(s string) {
	for _, r := range clean(s) {
		switch r {
		case '&':
			p.b = append(p.b, "&amp;"...)
		case '<':
			p.b = append(p.b, "&lt;"...)
		case '>':
			p.b = append(p.b, "&gt;"...)
		default:
			p.b = append(p.b, string(r)...)
		}
	}
}

// clean drops what XML cannot hold; other white space becomes a space.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0xfffe || r == 0xffff:
			return -1
		}
		return r
	}, s)
}

// slug makes an id of a title: letters and digits, and a number that tells
// apart what the letters do not.
func slug(s string) string {
	var b strings.Builder
	lost, gap := false, false
	hash := uint32(2166136261)
	for _, r := range s {
		hash = (hash ^ uint32(r)) * 16777619
		if r >= 'A' && r <= 'Z' {
			r += 'a' - 'A'
		}
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '_':
			if b.Len() >= 48 {
				lost = true
				continue
			}
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		default:
			gap = true
			lost = lost || r != ' ' && r != '-' && r != ','
		}
	}
	if lost {
		b.WriteString("-" + strconv.FormatUint(uint64(hash), 36))
	}
	return b.String()
}

// width guesses the width of a text in the fonts that pages use, rather a
// little too wide.
func width(s string) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("ijlI.,:;'|! \u202f\u00a0", r):
			w += 0.31
		case strings.ContainsRune("ftr()[]-", r):
			w += 0.4
		case strings.ContainsRune("mwMW%@", r):
			w += 0.92
		case strings.ContainsRune("⁰¹²³⁴⁵⁶⁷⁸⁹⁻₀₁₂₃₄₅₆₇₈₉", r):
			w += 0.4
		case r == '→' || r == '←' || r == '—' || r == '×' || r == '−' || r == '±':
			w += 0.84
		case r >= 'A' && r <= 'Z':
			w += 0.72
		case r >= 0x0300 && r < 0x0370 || r == 0x200b || r == 0x200d: // combining
		case r >= 0x2e80:
			w += 1
		default:
			w += 0.63
		}
	}
	return w * em
}

// bold is the width of a text that the page may set in bold.
func bold(s string) float64 { return 1.14 * width(s) }

// wrap breaks a text at spaces so that lines stay within limit if they can.
func wrap(s string, limit float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && width(line+" "+word) > limit {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		if width(word) <= limit {
			line += word
			continue
		}
		for _, r := range word { // a word longer than a line
			if line != "" && width(line+string(r)) > limit {
				lines = append(lines, line)
				line = ""
			}
			line += string(r)
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// widest is the width of the widest line.
func widest(lines []string) float64 {
	w := 0.0
	for _, l := range lines {
		w = max(w, width(l))
	}
	return w
}
