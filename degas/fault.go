package degas

import "example.org/evenlot/internal/fault"

type (
	// A FieldError says why one field was refused: which, what was given, the
	// accepted range with its unit, and the reason.
	FieldError = fault.FieldError
	// An InputError lists every refused field of one input.
	InputError = fault.InputError
	// An ImpossibleError says that an answer does not exist and which change
	// of the input would make it exist.
	ImpossibleError = fault.ImpossibleError
)
