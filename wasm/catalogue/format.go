package catalogue

import (
	"math"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

var nan = math.NaN()

// Shortest prints a number with the fewest digits that read back as it.
func Shortest(v float64) string {
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e15) {
		return minus(strconv.FormatFloat(v, 'g', -1, 64))
	}
	return minus(strconv.FormatFloat(v, 'f', -1, 64))
}

// minus writes a true minus sign.
func minus(s string) string { return strings.Replace(s, "-", "−", 1) }

// Num prints v with n significant digits, for the working.
func Num(v float64, n int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return Shortest(v)
	}
	a := math.Abs(v)
	if a < 1e-5 || a >= 1e9 {
		return power(strconv.FormatFloat(v, 'e', n-1, 64))
	}
	var room [32]byte
	s := strconv.AppendFloat(room[:0], v, 'e', n-1, 64)
	_, exp, _ := strings.Cut(string(s), "e")
	e, err := strconv.Atoi(exp)
	if err != nil {
		return Shortest(v)
	}
	at := n - 1 - e // decimal places
	if at < 0 {     // digits before the point that were rounded away
		if v, err = strconv.ParseFloat(string(s), 64); err != nil {
			return Shortest(v)
		}
		at = 0
	}
	return minus(string(strconv.AppendFloat(room[:0], v, 'f', at, 64)))
}

// unclaimed prints a number whose uncertainty is not known: four significant
// digits at most, and no zeros behind it that would claim more.
func unclaimed(v float64) string {
	s := Num(v, 4)
	if strings.Contains(s, ".") && !strings.Contains(s, "×") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// power turns 1.2e-05 into 1.2×10^−5.
func power(s string) string {
	m, e, ok := strings.Cut(s, "e")
	if !ok {
		return minus(s)
	}
	n, err := strconv.Atoi(e)
	if err != nil {
		return s
	}
	return minus(m) + "×10^" + minus(strconv.Itoa(n))
}

// earned prints a value with the digits that its expanded uncertainty U
// allows, and U itself: two digits of U when it begins with 1, one otherwise.
func earned(v, U float64) (value, plusMinus string) {
	var room [32]byte
	n, s := 1, strconv.AppendFloat(room[:0], U, 'e', 1, 64)
	if s[0] != '1' {
		n, s = 0, strconv.AppendFloat(room[:0], U, 'e', 0, 64)
	}
	_, exp, _ := strings.Cut(string(s), "e")
	e, err := strconv.Atoi(exp)
	if err != nil {
		return Shortest(v), Shortest(U)
	}
	at := n - e // decimal places
	if at > 12 || at < -12 {
		return Num(v, 4), Num(U, 2)
	}
	if at >= 0 {
		return minus(fixed(v, at)), fixed(U, at)
	}
	p := math.Pow(10, float64(-at))
	return minus(fixed(math.Round(v/p)*p, 0)), fixed(math.Round(U/p)*p, 0)
}

// fixed never prints a negative zero.
func fixed(v float64, at int) string {
	s := strconv.FormatFloat(v, 'f', at, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// digitsOf prints a decimal with the places that it carries.
func digitsOf(d decimal.Decimal) string {
	e := d.Exponent()
	if e > 0 || e < -40 {
		return minus(d.String())
	}
	return minus(d.StringFixed(-e))
}

// joined puts a unit behind a number.
func joined(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// span says a range with its unit.
func (l *Locale) span(lo, hi float64, unit string) string {
	switch {
	case math.IsInf(hi, 1) || hi >= 1e12:
		return l.say("{} or more", joined(round6(lo), unit))
	case math.IsInf(lo, -1) || lo <= -1e12:
		return l.say("{} or less", joined(round6(hi), unit))
	}
	if lo == hi {
		return joined(round6(lo), unit)
	}
	return l.say("{} to {}", round6(lo), joined(round6(hi), unit))
}

// round6 keeps a converted limit readable.
func round6(v float64) string {
	s := strconv.FormatFloat(v, 'g', 6, 64)
	if !strings.Contains(s, "e") {
		return minus(s)
	}
	r, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return Shortest(v)
	}
	return Shortest(r)
}
