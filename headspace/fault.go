package headspace

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

// A way is one field whose change may make an answer exist.
type way struct {
	field, unit     string
	given, min, max float64 // what was given, and the accepted range
	best            float64 // the value that is the likeliest to be answered
	ok              func(x float64) bool
}

// opened names in none the first way whose best value is answered, as far to both
// sides of it as all is; nothing where there is none.
func opened(none *ImpossibleError, ways ...way) *ImpossibleError {
	for _, w := range ways {
		if w.ok(w.best) {
			none.Field, none.Given, none.Unit = w.field, fault.Shortest(w.given), w.unit
			none.Min, none.Max = num.Furthest(w.best, w.min, w.ok), num.Furthest(w.best, w.max, w.ok)
			break
		}
	}
	return none
}
