package catalogue

import (
	"math"
	"math/bits"
	"strconv"
	"unicode/utf8"
)

// A writer appends JSON without reflection, which would weigh as much in the
// bundle as all the formulas.
type writer struct {
	b     []byte
	comma bool
}

func (w *writer) sep() {
	if w.comma {
		w.b = append(w.b, ',')
	}
	w.comma = true
}

func (w *writer) open(c byte)  { w.sep(); w.b = append(w.b, c); w.comma = false }
func (w *writer) close(c byte) { w.b = append(w.b, c); w.comma = true }

// key takes a name in plain letters.
func (w *writer) key(k string) {
	w.sep()
	w.b = append(append(append(w.b, '"'), k...), `":`...)
	w.comma = false
}

func (w *writer) str(s string) { w.sep(); w.b = appendString(w.b, s) }

func (w *writer) num(v float64) {
	w.sep()
	if math.IsNaN(v) || math.IsInf(v, 0) {
		w.b = append(w.b, "null"...)
		return
	}
	w.b = strconv.AppendFloat(w.b, v, 'g', -1, 64)
}

// tenths writes n/10 as num would.
func (w *writer) tenths(n int64) {
	w.sep()
	w.b = strconv.AppendInt(w.b, n/10, 10)
	if n %= 10; n != 0 {
		w.b = append(w.b, '.', byte('0'+n))
	}
}

func (w *writer) field(k, s string) {
	if s == "" {
		return
	}
	b := w.b // all in one: most of a sheet are such fields, and a call is not free in WebAssembly
	if w.comma {
		b = append(b, ',')
	}
	w.b, w.comma = appendString(append(append(append(b, '"'), k...), `":`...), s), true
}

func (w *writer) strings(list []string) {
	w.open('[')
	for _, s := range list {
		w.str(s)
	}
	w.close(']')
}

const hexDigits = "0123456789abcdef"

// eight reads eight bytes of a string at once.
func eight(s string) uint64 {
	_ = s[7]
	return uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 | uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56
}

func appendString(b []byte, s string) []byte {
	b = append(b, '"')
	from := 0 // what is not yet written
	for i := 0; i < len(s); {
		if i+8 <= len(s) {
			// Most bytes stand for themselves. The others are found eight at a
			// time: here each has its highest bit, being none of ASCII, or 0x7f, or
			// below a space, or 0 without a quote or a backslash. A borrow can give
			// it to a byte too many only behind one of these.
			const one = 0x0101010101010101
			x := eight(s[i:])
			special := (x | (x + one) | (x - ' '*one) | ((x ^ '"'*one) - one) | ((x ^ '\\'*one) - one)) & (0x80 * one)
			if special == 0 {
				i += 8
				continue
			}
			i += bits.TrailingZeros64(special) / 8
		} else if c := s[i]; c >= ' ' && c < 0x7f && c != '"' && c != '\\' {
			i++
			continue
		}
		r, w := utf8.DecodeRuneInString(s[i:])
		var with string
		switch {
		case r == '"':
			with = `\"`
		case r == '\\':
			with = `\\`
		case r < 0x20 || r == 0x7f || r == '\u2028' || r == '\u2029':
			with = string([]byte{'\\', 'u', hexDigits[r>>12&15], hexDigits[r>>8&15], hexDigits[r>>4&15], hexDigits[r&15]})
		case r == utf8.RuneError && w == 1: // a byte that is no UTF-8
			with = "\ufffd"
		}
		if with != "" {
			b = append(append(b, s[from:i]...), with...)
			from = i + w
		}
		i += w
	}
	return append(append(b, s[from:]...), '"')
}

func list[T any](w *writer, k string, items []T, each func(T)) {
	if len(items) == 0 {
		return
	}
	w.key(k)
	w.open('[')
	for _, x := range items {
		w.open('{')
		each(x)
		w.close('}')
	}
	w.close(']')
}

func (w *writer) table(t Table) {
	w.field("title", t.Title)
	w.key("head")
	w.strings(t.Head)
	w.key("rows")
	w.open('[')
	for _, r := range t.Rows {
		w.strings(r)
	}
	w.close(']')
}

// JSON writes a sheet for the page and for embedders: names in lower camel
// case, numbers in base units, nothing where there is nothing to say.
func (s Sheet) JSON() []byte { return s.AppendJSON(make([]byte, 0, 4096)) }

// AppendJSON appends what JSON writes.
func (s Sheet) AppendJSON(b []byte) []byte {
	w := &writer{b: b}
	w.open('{')
	w.field("calc", s.Calc)
	list(w, "faults", s.Faults, func(f Fault) {
		w.field("field", f.Field)
		w.field("kind", f.Kind)
		w.field("text", f.Text)
	})
	w.field("problem", s.Problem)
	list(w, "values", s.Values, func(v Value) {
		w.field("id", v.ID)
		w.field("label", v.Label)
		w.field("symbol", v.Symbol)
		w.field("unit", v.Unit)
		w.field("group", v.Group)
		w.field("text", v.Text)
		w.field("plusMinus", v.PlusMinus)
		w.key("number")
		w.num(v.Number)
		w.key("u")
		w.num(v.U)
		list(w, "shares", v.Shares, func(x Share) {
			w.field("label", x.Label)
			w.key("pct")
			w.tenths(int64(math.Round(10 * x.Pct)))
		})
	})
	list(w, "verdicts", s.Verdicts, func(v Verdict) {
		w.field("output", v.Output)
		w.field("label", v.Label)
		w.field("group", v.Group)
		w.field("word", v.Word)
		w.key("inPct")
		w.num(math.Round(100*v.InPct) / 100)
		w.field("limit", v.Limit)
		w.field("source", v.Source)
		w.field("maxPlusMinus", v.MaxPlusMinus)
		w.field("caution", v.Caution)
	})
	w.field("overall", s.Overall)
	w.field("reason", s.Reason)
	list(w, "missing", s.Missing, func(m Missing) {
		w.field("group", m.Group)
		w.field("what", m.What)
	})
	list(w, "working", s.Working, func(l Line) {
		w.field("text", l.Text)
		w.field("mathml", l.MathML)
	})
	if len(s.Notes) > 0 {
		w.key("notes")
		w.strings(s.Notes)
	}
	list(w, "figures", s.Figures, func(f Drawn) {
		w.field("svg", f.SVG)
		w.key("table")
		w.open('{')
		w.table(f.Table)
		w.close('}')
	})
	list(w, "tables", s.Tables, func(t Table) { w.table(t) })
	list(w, "rows", s.Rows, func(r RowReport) {
		w.field("field", r.Field)
		w.key("good")
		w.num(float64(r.Good))
		w.key("bad")
		w.num(float64(r.Bad))
		if len(r.Faults) > 0 {
			w.key("faults")
			w.strings(r.Faults)
		}
	})
	list(w, "read", s.Read, func(u Understood) {
		w.field("field", u.Field)
		w.field("text", u.Text)
	})
	w.close('}')
	return w.b
}
