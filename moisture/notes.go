package moisture

// Notes are what to tell the reader beside a right answer: a set of bits, so
// that results stay comparable. The zero Notes is none.
type Notes uint32

// The notes of this package.
const (
	// Extrapolated: outside the range in which the source published the
	// equation or its fit.
	Extrapolated Notes = 1 << iota

	// ParchmentDesorption: the curve was measured on drying parchment
	// arabica, not on the hulled lot at hand.
	ParchmentDesorption

	// MayGrowMould: the activity, or the upper edge of its band of one
	// standard error, reaches [GrowthLimitAw].
	MayGrowMould

	// InsideMoistureLimit: the content is at or below [CodexMaxMoisturePct]
	// although the activity may let mould grow: the moisture limit alone
	// clears nothing.
	InsideMoistureLimit

	// OrganicGain: the balance says that dry matter was gained, which no
	// roast does: a weight or a moisture is wrong.
	OrganicGain

	// WaterGain: the balance says that the roasted coffee holds more water
	// than the green did: a weight or a moisture is wrong, or the quench
	// water stayed.
	WaterGain

	// OverIce: below 0 °C, where a surface takes frost before dew.
	OverIce

	// WideDuplicates: two results differ by more than the repeatability
	// limit: weigh again before using the mean.
	WideDuplicates

	// FewPairs: so few pairs that the uncertainty is itself poorly known.
	FewPairs

	// OutsidePairs: the reading lies outside the pairs that the line or the
	// curve was fitted to.
	OutsidePairs

	// CloseCall: the two best curves differ by less than 2 in the Bayesian
	// criterion: the data do not choose between them.
	CloseCall

	// Gaps: some of the time had no usable reading and counts nowhere.
	Gaps

	// NearDew: the surface is above the dew point by less than the margin.
	NearDew
)

// String joins the notes as plain clauses.
func (n Notes) String() string {
	clauses := [...]string{
		"outside the published range",
		"curve of drying parchment arabica, not of this lot",
		"mould may grow at this activity or within one standard error of it",
		"inside the moisture limit, which is no proof of a safe activity",
		"dry matter seems gained: check weights and moistures",
		"water seems gained: check weights and moistures",
		"below 0 °C frost forms before dew",
		"duplicates differ by more than the repeatability limit",
		"few pairs: the uncertainty is itself uncertain",
		"outside the pairs that were fitted",
		"the data do not choose between the two best curves",
		"some of the time has no usable reading",
		"above the dew point by less than the margin",
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
