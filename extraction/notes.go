package extraction

// Notes are what to tell the reader beside a right answer: a set of bits, so
// that results stay comparable. The zero Notes is none.
type Notes uint32

// The notes of this package.
const (
	// Extrapolated: outside the range in which the source published the
	// equation or its fit.
	Extrapolated Notes = 1 << iota

	// LowYield: below [LowYieldPct], less than any finished brew gives: a
	// strength or a mass is likely to be wrong.
	LowYield

	// HighYield: above [HighYieldPct], more than most coffees hold that
	// water below 100 °C dissolves.
	HighYield

	// AboveSoluble: above [SolublePct], more than any published total of
	// solubles: a strength or a mass is wrong.
	AboveSoluble

	// RetainedStronger: the liquid left in the grounds is said to be
	// stronger than the cup, which no finished brew shows.
	RetainedStronger

	// UnusualStrength: outside [MinStrengthPct] to [MaxStrengthPct], where
	// brewed coffee lies.
	UnusualStrength

	// InterceptMatters: a line with an intercept fits the pairs better than
	// one through zero, by more than twice the intercept's uncertainty: the
	// instrument was not zeroed on water, or the slope is not constant.
	InterceptMatters

	// OutsidePairs: the reading lies outside the pairs that the slope was
	// fitted to.
	OutsidePairs

	// FewReadings: so few readings that their spread is itself poorly known.
	FewReadings
)

// String joins the notes as plain clauses.
func (n Notes) String() string {
	clauses := [...]string{
		"outside the published range",
		"a lower yield than any finished brew: check strength and masses",
		"a higher yield than most coffees give below 100 °C",
		"a higher yield than all published solubles: a strength or a mass is wrong",
		"the liquid left in the grounds is stronger than the cup: check",
		"a strength that brewed coffee does not have",
		"the pairs do not meet at zero: zero the instrument, or the slope is not constant",
		"outside the pairs that the slope was fitted to",
		"few readings: their spread is itself poorly known",
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
