package extraction

import (
	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

type (
	// A FieldError says why one field of an input was refused.
	FieldError = fault.FieldError

	// An InputError lists every refused field of an input, in the order in
	// which the input declares them.
	InputError = fault.InputError

	// An ImpossibleError says that the answer asked for does not exist, and
	// which change would make it exist.
	ImpossibleError = fault.ImpossibleError
)

// possible puts a field into a refusal, with the range from least to most as far
// as its ends give an answer. It is false, and the refusal as before, where they
// do not.
func possible(none *ImpossibleError, field string, given, least, most float64, unit string, gives func(v float64) bool) bool {
	middle := least + (most-least)/2
	lo, hi := num.Inside(least, middle, gives), num.Inside(most, middle, gives)
	if !(lo <= hi && gives(lo) && gives(hi)) {
		return false
	}
	none.Field, none.Given, none.Min, none.Max, none.Unit = field, fault.Shortest(given), lo, hi, unit
	return true
}
