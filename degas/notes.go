package degas

// Notes are what a reader should be told beside a right number: a set of
// bits, so that results stay comparable. The zero Notes means nothing to say.
type Notes uint32

const (
	// Extrapolated: an input lies outside the range that its source studied.
	Extrapolated Notes = 1 << iota
	// Orientation: read off a band between published claims, not measured on
	// this coffee.
	Orientation
	// BeforeFirstClaim: earlier than the first age for which anything was
	// published.
	BeforeFirstClaim
	// UpperBound: coffee gives off less into a pack under pressure; the real
	// pressure stays below.
	UpperBound
	// BackPressure: the jar holds so much pressure that the coffee in it is
	// held back; the true curve lies above.
	BackPressure
	// ScatterExceedsStated: the residuals scatter more than the stated
	// balance or gauge allows; the intervals follow the residuals.
	ScatterExceedsStated
	// LongTail: the gas at drop lies mostly beyond the last reading, so that
	// it rests on the shape chosen.
	LongTail
	// GroundOnly: the kinetics are of roasted and ground coffee; they do not
	// carry to whole beans.
	GroundOnly
	// CommonPractice: a habit of the trade with no data behind it.
	CommonPractice
	// AmbiguousHour: the clock showed this time twice on this day; the first
	// is meant.
	AmbiguousHour
	// ClockChanges: the clock changes between the two ends, so that the hour
	// on the wall is not the hour one would count.
	ClockChanges
	// NotRested: the rest asked for is not reached.
	NotRested
	// OverLimit: above a published limit for people.
	OverLimit
	// AirDisplaced: so much gas that air is driven out; an oxygen alarm is
	// late.
	AirDisplaced
)

var noteWords = [...]string{
	"outside the range that the source studied",
	"an orientation between published claims, not a measurement of this coffee",
	"earlier than the first age for which anything was published",
	"an upper bound, because coffee gives off less into a pack under pressure",
	"the pressure in the jar holds the coffee back, so that the true curve lies above",
	"the residuals scatter more than stated, and the intervals follow the residuals",
	"most of the gas lies beyond the last reading and rests on the shape chosen",
	"for roasted and ground coffee; it does not carry to whole beans",
	"common practice, with no data behind it",
	"the clock showed this time twice; the first is meant",
	"the clock changes in between",
	"the rest asked for is not reached",
	"above a published limit for people",
	"gas drives the air out, and an oxygen alarm warns late",
}

// String joins the notes in plain English.
func (n Notes) String() string {
	s := ""
	for i, w := range noteWords {
		if n&(1<<i) == 0 {
			continue
		}
		if s != "" {
			s += "; "
		}
		s += w
	}
	return s
}
