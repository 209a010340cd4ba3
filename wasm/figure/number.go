package figure

import (
	"math"
	"strconv"
	"strings"
)

// drawable says whether a value can stand on an axis. Beyond 1e150 a
// difference or a ratio of two values could overflow.
func drawable(v float64) bool { return math.Abs(v) <= 1e150 }

// fixed prints v with a number of decimals, a true minus sign, thousands
// apart, and never a negative zero.
func (l *Look) fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', max(decimals, 0), 64)
	whole, frac, _ := strings.Cut(s, ".")
	if len(whole) > 4 {
		var b strings.Builder
		for i := range len(whole) {
			if i > 0 && (len(whole)-i)%3 == 0 {
				b.WriteString("\u202f")
			}
			b.WriteByte(whole[i])
		}
		whole = b.String()
	}
	if frac != "" {
		whole += l.point() + frac
	}
	if v < 0 && strings.Trim(s, "0.") != "" {
		return "−" + whole
	}
	return whole
}

func (l *Look) point() string {
	if l.Comma {
		return ","
	}
	return "."
}

// short prints v with at most n significant digits and no trailing zeros.
// Digits before the point are never rounded away; what cannot be drawn is a
// dash.
func (l *Look) short(v float64, n int) string {
	if !drawable(v) {
		return "–"
	}
	if v == 0 {
		return l.fixed(0, 0)
	}
	s := strconv.FormatFloat(v, 'e', n-1, 64)
	mant, exp, _ := strings.Cut(s, "e")
	e, err := strconv.Atoi(exp)
	if err != nil {
		return s // cannot be: v is finite
	}
	mant = strings.TrimSuffix(strings.TrimRight(mant, "0"), ".")
	digits := len(strings.Trim(mant, "-")) - strings.Count(mant, ".") - 1
	if e >= 7 || e < -4 {
		return l.power(v, e, max(digits, 0))
	}
	return l.fixed(v, digits-e)
}

// power prints v as 1.5×10⁶.
func (l *Look) power(v float64, e, decimals int) string {
	m := strconv.FormatFloat(v, 'e', decimals, 64)
	m, exp, _ := strings.Cut(m, "e")
	if n, err := strconv.Atoi(exp); err == nil {
		e = n
	}
	m = strings.Replace(strings.Replace(m, "-", "−", 1), ".", l.point(), 1)
	p := "10" + superscript(e)
	if m == "1" {
		return p
	}
	return m + "×" + p
}

func superscript(n int) string {
	var b strings.Builder
	for _, c := range strconv.Itoa(n) {
		if c == '-' {
			b.WriteRune('⁻')
		} else {
			b.WriteRune([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹")[c-'0'])
		}
	}
	return b.String()
}

// reading prints a value as it was read.
func (l *Look) reading(v float64) string { return l.short(v, 6) }

// computed prints a computed value.
func (l *Look) computed(v float64) string { return l.short(v, 4) }

// uncertain prints a value with what it may be off by: that in two digits, and
// the value to no more places; zeros at the end are left away.
func (l *Look) uncertain(v, half float64) string {
	if !(half > 0) {
		return l.reading(v)
	}
	two := l.short(half, 2)
	_, exp, _ := strings.Cut(strconv.FormatFloat(half, 'e', 1, 64), "e")
	e, err := strconv.Atoi(exp)
	if err != nil || e < -4 || e >= 7 || !drawable(v) || math.Abs(v) >= 1e7 {
		return l.reading(v) + " ± " + two
	}
	places := max(1-e, 0)
	for s := strconv.FormatFloat(v, 'f', places, 64); places > 0 && strings.HasSuffix(s, "0"); s = s[:len(s)-1] {
		places--
	}
	return l.fixed(v, places) + " ± " + two
}
