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

	// HasOutliers: some readings stand apart from the rest. They were kept.
	HasOutliers

	// HasCensored: some readings are 0 or near the meter's resolution and
	// entered as intervals, not as numbers.
	HasCensored

	// FewReadings: fewer than 6 readings: the spread is itself poorly known.
	FewReadings

	// WeakHere: at this setting the fit is worth fewer readings than were
	// taken: take the tolerance factor for the smaller number.
	WeakHere

	// BelowZero: the corrected oxygen is below zero, which the gas cannot be:
	// the zero point or the air share is wrong by at least that much.
	BelowZero

	// DriftUnknown: there was no second calibration, so that the drift of the
	// meter is not in the uncertainty.
	DriftUnknown

	// AirInSample: more than a tenth of the sample was outside air.
	AirInSample
)

// String joins the notes as plain clauses.
func (n Notes) String() string {
	clauses := [...]string{
		"outside the published range or the readings fitted",
		"the supply holds no less oxygen than the start: flushing cannot lower it",
		"already at or below the target: no gas is needed",
		"particle density outside 0.62 to 0.94 g/mL: check that it is not a bulk density",
		"some readings stand apart and were kept: look for a leak or a blocked needle",
		"readings of 0 or near the resolution entered as intervals",
		"fewer than 6 readings: the spread is poorly known",
		"the fit is weaker at this setting than the number of readings suggests",
		"below zero, which no gas is: check the zero point",
		"no second calibration: drift is not in the uncertainty",
		"more than a tenth of the sample was outside air",
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
