package catalogue

import (
	"strings"

	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// A unit is one way to write a dimension: value in the dimension's first unit
// = (written − offset)·num/den, exactly.
type unit struct {
	symbol   string
	words    []string // other ways to type it
	num, den string
	offset   string
}

// dimensions lists the units by dimension, the first being the reference.
var dimensions = [][]unit{
	{{"g", []string{"gram", "grams"}, "1", "1", "0"}, {"kg", nil, "1000", "1", "0"}, {"mg", nil, "1", "1000", "0"},
		{"oz", nil, "28.349523125", "1", "0"}, {"lb", []string{"lbs"}, "453.59237", "1", "0"}, {"t", nil, "1000000", "1", "0"}},
	{{"°C", []string{"C", "degC", "º C", "ºC", "° C"}, "1", "1", "0"}, {"°F", []string{"F", "degF", "ºF", "° F"}, "5", "9", "32"}},
	{{"K", nil, "1", "1", "0"}, {"°F difference", nil, "5", "9", "0"}},
	{{"%", []string{"percent", "pct"}, "1", "1", "0"}},
	{{"mL", []string{"ml", "cc", "cm³", "cm3"}, "1", "1", "0"}, {"L", []string{"l"}, "1000", "1", "0"}, {"m³", []string{"m3"}, "1000000", "1", "0"},
		{"US fl oz", []string{"floz", "fl oz"}, "29.5735295625", "1", "0"}, {"ft³", []string{"ft3"}, "28316.846592", "1", "0"}},
	{{"h", []string{"hours", "hour", "hr", "hrs"}, "1", "1", "0"}, {"d", []string{"days", "day"}, "24", "1", "0"},
		{"min", []string{"minutes", "minute"}, "1", "60", "0"}, {"s", []string{"sec", "seconds"}, "1", "3600", "0"}, {"weeks", []string{"week"}, "168", "1", "0"}},
	{{"kPa", nil, "1", "1", "0"}, {"hPa", []string{"mbar"}, "1", "10", "0"}, {"Pa", nil, "1", "1000", "0"},
		{"bar", nil, "100", "1", "0"}, {"psi", nil, "6.894757293168", "1", "0"}, {"mmHg", nil, "0.133322387415", "1", "0"}},
	{{"cm", nil, "1", "1", "0"}, {"mm", nil, "1", "10", "0"}, {"m", nil, "100", "1", "0"}, {"in", []string{"inch", "inches"}, "2.54", "1", "0"},
		{"ft", nil, "30.48", "1", "0"}},
	{{"g/mL", []string{"g/cm³", "g/cm3"}, "1", "1", "0"}, {"kg/m³", []string{"kg/m3", "g/L"}, "1", "1000", "0"}, {"lb/ft³", nil, "0.016018463373960139580", "1", "0"}},
	{{"L/min", []string{"l/min"}, "1", "1", "0"}, {"m³/h", []string{"m3/h"}, "1000", "60", "0"}, {"mL/s", []string{"ml/s"}, "60", "1000", "0"},
		{"ft³/h", nil, "28.316846592", "60", "0"}},
	{{"m²", []string{"m2"}, "1", "1", "0"}, {"cm²", []string{"cm2"}, "1", "10000", "0"}, {"in²", []string{"in2"}, "0.00064516", "1", "0"}},
	{{"cm³/(m²·d·atm)", nil, "1", "1", "0"}, {"cm³/(100 in²·d·atm)", nil, "15.500031000062", "1", "0"}},
	{{"mL/d", []string{"cc/d"}, "1", "1", "0"}},
	{{"mg/g", nil, "1", "1", "0"}, {"g/kg", nil, "1", "1", "0"}},
}

// Units lists the symbols in which a field of a base unit may be typed, the
// base first.
func Units(base string) []string {
	if _, d := lookUp(base); d != nil {
		list := []string{base}
		for _, u := range d {
			if u.symbol != base {
				list = append(list, u.symbol)
			}
		}
		return list
	}
	return []string{base}
}

func lookUp(symbol string) (*unit, []unit) {
	for _, d := range dimensions {
		for i := range d {
			if d[i].symbol == symbol {
				return &d[i], d
			}
		}
	}
	return nil, nil
}

// spellings are the ways to type a unit after a number.
func spellings(symbol string) []string {
	if u, _ := lookUp(symbol); u != nil {
		return append([]string{u.symbol}, u.words...)
	}
	return []string{symbol}
}

// places is how many decimal places a conversion keeps: more than any
// instrument shows, so that converting back gives what was typed.
const places = 24

// convert turns v from one unit into another of the same dimension.
func convert(v decimal.Decimal, from, to string) (decimal.Decimal, bool) {
	if from == to {
		return v, true
	}
	a, d := lookUp(from)
	b, e := lookUp(to)
	if a == nil || b == nil || &d[0] != &e[0] {
		return decimal.Decimal{}, false
	}
	dec := num.MustDecimal
	top := v.Sub(dec(a.offset)).Mul(dec(a.num)).Mul(dec(b.den))
	den := dec(a.den).Mul(dec(b.num))
	q, r := top.QuoRem(den, places)
	if !r.IsZero() {
		q = top.DivRound(den, places)
	}
	return q.Add(dec(b.offset)), true
}

// convertF is convert for a float.
func convertF(v float64, from, to string) float64 {
	if from == to {
		return v
	}
	d, ok := convert(decimal.NewFromFloat(v), from, to)
	if !ok {
		return v
	}
	return d.InexactFloat64()
}

// widthF converts a width: the offset of a temperature does not apply.
func widthF(v float64, from, to string) float64 {
	a, _ := lookUp(from)
	b, _ := lookUp(to)
	if from == to || a == nil || b == nil {
		return v
	}
	f := func(u *unit) float64 {
		n := num.MustDecimal(u.num).DivRound(num.MustDecimal(u.den), 30)
		return n.InexactFloat64()
	}
	return v * f(a) / f(b)
}

// Convert turns what was typed from one unit of a field into another, keeping
// as many significant digits as were typed. ok is false where it was not a
// number.
func Convert(typed, base, from, to string) (text string, ok bool) {
	n, fault := readNumber(typed, from, func(decimal.Decimal) bool { return true })
	if fault != readable {
		return "", false
	}
	v, ok := convert(n, from, to)
	if !ok {
		return "", false
	}
	digits := len(strings.TrimLeft(n.Coefficient().Text(10), "-"))
	return significant(v, max(digits, 2)), true
}

// significant rounds to n significant digits and drops no trailing zeros
// within them. Three decimal places become four: 5.820 could be read as 5820.
func significant(v decimal.Decimal, n int) string {
	if v.IsZero() {
		return "0"
	}
	lead := v.NumDigits() + int(v.Exponent()) // digits before the point
	at := int32(n - lead)
	r := v.Round(at)
	if at == 3 {
		at = 4
	}
	return r.StringFixed(max(at, 0))
}
