package uncertainty

// Notes are what to tell the reader beside a right answer: a set of bits. The
// zero Notes is none.
type Notes uint32

// The notes of this package.
const (
	// Curved: second-order terms move the uncertainty by more than
	// [CurvedPct], or the mean by more than a quarter of it: simulate instead.
	Curved Notes = 1 << iota

	// CorrelatedDF: inputs are correlated, for which the effective degrees of
	// freedom have no standing; none are given.
	CorrelatedDF

	// NotSettled: the largest number of draws was reached before the digits
	// asked for were stable.
	NotSettled

	// NoSpread: every input is exact, or none has any effect here.
	NoSpread

	// OutsideLine: the reading lies outside the points that the calibration
	// line was fitted to.
	OutsideLine
)

// String joins the notes as plain clauses.
func (n Notes) String() string {
	s := ""
	for _, c := range [...]struct {
		note Notes
		text string
	}{
		{Curved, "the formula is curved over this uncertainty; simulate instead"},
		{CorrelatedDF, "inputs are correlated, so the degrees of freedom are not known"},
		{NotSettled, "the draws did not settle to the digits asked for"},
		{NoSpread, "no input has any uncertainty that matters here"},
		{OutsideLine, "outside the points of the calibration"},
	} {
		if n&c.note == 0 {
			continue
		}
		if s != "" {
			s += "; "
		}
		s += c.text
	}
	return s
}
