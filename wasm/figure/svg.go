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

// A pen writes SVG elements.
type pen struct {
	b    strings.Builder
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

// coord prints a coordinate with at most two decimals.
func coord(v float64) string {
	n := math.Round(v * 100)
	if !(math.Abs(n) < 1e9) {
		n = 0 // cannot be: what is drawn is clipped
	}
	return strconv.FormatFloat(n/100+0, 'f', -1, 64)
}

// el writes an empty element; attributes come in pairs of name and value.
func (p *pen) el(name string, attrs ...string) {
	p.b.WriteString("<" + name)
	for i := 0; i+1 < len(attrs); i += 2 {
		p.b.WriteString(" " + attrs[i] + `="` + escape(attrs[i+1]) + `"`)
	}
	p.b.WriteString("/>\n")
}

func (p *pen) rule(class string, x0, y0, x1, y1, width float64) {
	p.el("line", "class", class, "x1", coord(x0), "y1", coord(y0), "x2", coord(x1), "y2", coord(y1),
		"stroke", "currentColor", "stroke-width", coord(width))
}

// text writes one line; anchor is start, middle or end.
func (p *pen) text(class string, x, y float64, anchor, s string) {
	p.b.WriteString(`<text class="` + class + `" x="` + coord(x) + `" y="` + coord(y) + `"`)
	if anchor != "start" {
		p.b.WriteString(` text-anchor="` + anchor + `"`)
	}
	p.b.WriteString(` fill="currentColor">` + escape(s) + "</text>\n")
}

// figure closes the drawing: frame, name and description around what was
// written. An empty title is replaced by the first of others that says
// something.
func (p *pen) figure(kind, title, desc string, others []string, h float64, more ...string) string {
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
	attrs := []string{"xmlns", "http://www.w3.org/2000/svg", "class", "f-figure f-" + kind, "viewBox", "0 0 " + coord(p.w) + " " + coord(h),
		"font-family", "sans-serif", "font-size", coord(em), "direction", "ltr", "role", "img", "aria-labelledby", id + "-t"}
	if desc != "" {
		attrs = append(attrs, "aria-describedby", id+"-d")
	}
	attrs = append(attrs, more...)
	var out strings.Builder
	out.WriteString("<svg")
	for i := 0; i+1 < len(attrs); i += 2 {
		out.WriteString(" " + attrs[i] + `="` + escape(attrs[i+1]) + `"`)
	}
	out.WriteString(">\n<title id=\"" + id + `-t">` + escape(title) + "</title>\n")
	if desc != "" {
		out.WriteString(`<desc id="` + id + `-d">` + escape(desc) + "</desc>\n")
	}
	out.WriteString(p.b.String())
	out.WriteString("</svg>\n")
	return out.String()
}

// nothing is the figure of no data.
func (p *pen) nothing(kind, title, desc string, others []string) string {
	p.el("rect", "class", "f-empty", "x", "1", "y", "1", "width", coord(p.w-2), "height", "94",
		"fill", "none", "stroke", "currentColor", "stroke-dasharray", "2 6")
	p.text("f-text", p.w/2, 53, "middle", p.look.Words.Nothing)
	return p.figure(kind, title, desc, others, 96)
}

// escape makes text safe inside an element or a quoted attribute.
func escape(s string) string {
	plain := true
	for i := range len(s) {
		c := s[i]
		plain = plain && c >= ' ' && c < 0x7f && c != '&' && c != '<' && c != '>' && c != '"' && c != '\''
	}
	if plain {
		return s
	}
	var b strings.Builder
	for _, r := range clean(s) {
		switch r {
		case '&':
			b.WriteString("&amp;")
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '"':
			b.WriteString("&#34;")
		case '\'':
			b.WriteString("&#39;")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
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
		w = math.Max(w, width(l))
	}
	return w
}
