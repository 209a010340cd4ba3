package chart

import "example.org/evenlot/internal/fault"

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
