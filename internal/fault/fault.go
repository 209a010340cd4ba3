// Package fault holds the one shape in which every package of this module
// refuses an input or says that an answer does not exist.
//
// The public packages name these types by alias, so that errors.As with any
// of the aliases finds them all.
package fault

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// A FieldError says why one field of an input was refused.
//
// The zero FieldError means nothing and is never returned.
type FieldError struct {
	Field    string  // as the input spells it: a struct's field as "RHPct", a parameter as "days", an element as "readings[3].Pct"
	Given    string  // the value exactly as given
	Min, Max float64 // the accepted range, in Unit
	Unit     string  // unit of Given, Min and Max; empty for a pure number
	Why      string  // the reason, where the range alone does not tell it
}

// Error names the field, the value given, the accepted range and the reason.
func (e *FieldError) Error() string {
	s := e.Field + " is " + joined(e.Given, e.Unit) +
		"; accepted: " + between(e.Min, e.Max, e.Unit)
	if e.Why != "" {
		s += " (" + e.Why + ")"
	}
	return s
}

// An InputError lists every refused field of one input, in the order in which
// the input declares them.
type InputError struct{ Fields []*FieldError }

// Error joins the messages of all fields.
func (e *InputError) Error() string {
	s := ""
	for i, f := range e.Fields {
		if i > 0 {
			s += "; "
		}
		s += f.Error()
	}
	return s
}

// Unwrap gives the field errors, so that errors.As finds the first of them.
func (e *InputError) Unwrap() []error {
	list := make([]error, len(e.Fields))
	for i, f := range e.Fields {
		list[i] = f
	}
	return list
}

// An ImpossibleError says that every field is acceptable alone but that the
// answer asked for does not exist, and which change would make it exist.
type ImpossibleError struct {
	Quantity string  // what was asked for, such as "flushes"
	Why      string  // why it does not exist, in one clause
	Field    string  // the input whose change makes an answer possible; empty where no change of one does
	Given    string  // that input's value as given
	Min, Max float64 // where an answer exists, in Unit, all else unchanged
	Unit     string
}

// Error says what has no answer, why, and what would make one possible.
func (e *ImpossibleError) Error() string {
	text := "no " + e.Quantity + ": " + e.Why
	if e.Field == "" {
		return text
	}
	return text + "; " + e.Field + " is " + joined(e.Given, e.Unit) +
		", possible with " + between(e.Min, e.Max, e.Unit)
}

// Under puts a place, such as "Readings[3].", before the names in bad from n on:
// what was refused of one element. Build the place only for a refusal.
func Under(place string, bad []*FieldError, n int) []*FieldError {
	for _, e := range bad[n:] {
		e.Field = place + e.Field
	}
	return bad
}

// Float appends a FieldError to bad when v is outside min to max; NaN is.
//
// It allocates nothing when v is accepted.
func Float(bad []*FieldError, field string, v, min, max float64, unit string) []*FieldError {
	if v >= min && v <= max {
		return bad
	}
	return append(bad, &FieldError{Field: field, Given: Shortest(v), Min: min, Max: max, Unit: unit})
}

// Int appends a FieldError to bad when v is outside min to max.
func Int(bad []*FieldError, field string, v, min, max int, unit string) []*FieldError {
	if v >= min && v <= max {
		return bad
	}
	return append(bad, &FieldError{Field: field, Given: strconv.Itoa(v), Min: float64(min), Max: float64(max), Unit: unit})
}

// MaxDigits is the longest coefficient and the largest magnitude of exponent
// that Decimal accepts: longer ones are hostile, not weighed.
const MaxDigits = 40

// Decimal appends a FieldError to bad when v is outside min to max, or has
// more than MaxDigits digits before or after its point.
func Decimal(bad []*FieldError, field string, v decimal.Decimal, min, max float64, unit string) []*FieldError {
	why := ""
	switch {
	case v.Exponent() > MaxDigits || v.Exponent() < -MaxDigits || v.NumDigits() > MaxDigits:
		why = "at most 40 digits, and as many places, are read"
	case v.LessThan(decimal.NewFromFloat(min)) || v.GreaterThan(decimal.NewFromFloat(max)):
	default:
		return bad
	}
	return append(bad, &FieldError{Field: field, Given: Digits(v), Min: min, Max: max, Unit: unit, Why: why})
}

// Input returns nil for no refused fields and an InputError otherwise.
func Input(bad []*FieldError) error {
	if bad == nil {
		return nil
	}
	return &InputError{bad}
}

// Digits prints a decimal with the places that it carries; one too long to
// read comes in scientific form with its coefficient cut to 20 digits.
func Digits(v decimal.Decimal) string {
	if e := v.Exponent(); e <= 0 && e >= -MaxDigits && v.NumDigits() <= MaxDigits {
		return v.StringFixed(-e)
	}
	c := v.Coefficient().String()
	e := int(v.Exponent())
	if len(c) > 20 {
		e += len(c) - 20
		c = c[:20]
	}
	return c + "e" + strconv.Itoa(e)
}

// Shortest prints a float with the fewest digits that read back as it.
func Shortest(v float64) string {
	if a := math.Abs(v); a >= 1e-5 && a < 1e15 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

func joined(given, unit string) string {
	if unit == "" {
		return given
	}
	return given + " " + unit
}

func between(min, max float64, unit string) string {
	switch {
	case math.IsInf(max, 1):
		return joined(Shortest(min), unit) + " or more"
	case math.IsInf(min, -1):
		return joined(Shortest(max), unit) + " or less"
	}
	return Shortest(min) + " to " + joined(Shortest(max), unit)
}
