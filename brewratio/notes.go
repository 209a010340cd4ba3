package brewratio

// Notes are what to tell the reader beside a right answer: a set of bits, so
// that results stay comparable. The zero Notes is none.
type Notes uint32

// The notes of this package.
const (
	// Unending: the quotient has no last decimal place and was rounded at
	// the place that the function states.
	Unending Notes = 1 << iota

	// UnusualRatio: outside [MinRatio] to [MaxRatio], where recipes lie; a
	// gram typed for a kilogram, or a dose and a water exchanged, looks so.
	UnusualRatio
)

// String joins the notes as plain clauses.
func (n Notes) String() string {
	clauses := [...]string{
		"the division has no last decimal place: rounded",
		"the ratio is outside what recipes use: check the two masses",
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
