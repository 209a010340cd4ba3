package sampling

// Notes are what to tell the reader beside a right answer: a set of bits. The
// zero Notes is none.
type Notes uint32

// The notes of this package.
const (
	// CoarseMeter: the readings scatter by less than the meter's step can
	// show; the step stands in for the scatter.
	CoarseMeter Notes = 1 << iota

	// FewReadings: under [FewCount], where a single odd reading decides.
	FewReadings

	// Suspects: the outlier test flags at least one reading; look at it
	// before believing the bound, and do not delete it without a cause.
	Suspects

	// Approximate: by an approximation, where an exact form exists.
	Approximate

	// MostBelow: more than half of the readings are below detection; what is
	// said of the rest rests on the shape assumed.
	MostBelow

	// Arrow: the published table has no plan in that cell and points to
	// another letter, whose sample size holds.
	Arrow

	// WholeLot: the plan asks for as many units as the lot has, or more:
	// inspect all.
	WholeLot
)

// FewCount is the number of readings below which FewReadings is said; our own
// choice, where a factor of 95 %/95 % passes 3.
const FewCount = 10

// String joins the notes as plain clauses.
func (n Notes) String() string {
	s := ""
	for _, c := range [...]struct {
		note Notes
		text string
	}{
		{CoarseMeter, "the scatter is finer than the meter's step, which stands in for it"},
		{FewReadings, "few readings, one odd one decides"},
		{Suspects, "at least one reading is flagged as unlike the rest"},
		{Approximate, "by an approximation"},
		{MostBelow, "most readings are below detection"},
		{Arrow, "the table points to another code letter"},
		{WholeLot, "inspect every unit"},
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
