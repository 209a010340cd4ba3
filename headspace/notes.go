package headspace

// Notes are what to tell the reader beside a right answer: a set of bits, so
// that results stay comparable. The zero Notes is none.
type Notes uint32

// The notes of this package.
const (
	// Extrapolated: outside the range in which the source published the
	// equation, or outside the readings that were fitted.
	Extrapolated Notes = 1 << iota

	// SupplyAboveStart: the supply holds at least as much oxygen as the gas
	// that it is to replace, so flushing cannot lower it.
	SupplyAboveStart

	// AlreadyThere: the start is at or below the target: nothing is needed.
	AlreadyThere

	// UnusualDensity: the particle density lies outside the published 0.62 to
	// 0.94 g/mL of roasted beans; a bulk density may have been given.
	UnusualDensity
)

// String joins the notes as plain clauses.
func (n Notes) String() string {
	clauses := [...]string{
		"outside the published range or the readings fitted",
		"the supply holds no less oxygen than the start: flushing cannot lower it",
		"already at or below the target: no gas is needed",
		"particle density outside 0.62 to 0.94 g/mL: check that it is not a bulk density",
	}
	s := ""
	for i, c := range clauses {
		if n&(1<<i) == 0 {
			continue
		}
		if s != "" {
			s += "; "
		}
		s += c
	}
	return s
}
