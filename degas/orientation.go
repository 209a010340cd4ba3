package degas

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// What is claimed in print about whole beans, and our reading of it.
const (
	// ClaimedDayLowPct is the share gone in the first 24 h by trade texts that
	// copy one another, without data.
	ClaimedDayLowPct = 40.0 // %
	// ClaimedDayHighPct is the share gone in the first 24 h that Smrke is
	// quoted for, from a talk.
	ClaimedDayHighPct = 70.0 // %
	// ClaimedEmptyDays is when a valved bag has lost nearly all its gas, from
	// a lecture of 2008 at a science academy, quoted by a blog.
	ClaimedEmptyDays = 30.0 // days
	// NearlyAllLowPct and NearlyAllHighPct are how we read "nearly all": the
	// claim has no number. They make the band's two edges meet the month.
	NearlyAllLowPct  = 95.0 // %
	NearlyAllHighPct = 99.0 // %
)

// A Band is a range of shares gone. The zero Band stands beside an error
// only.
type Band struct {
	LowGonePct  float64 // the slower claim, %
	HighGonePct float64 // the faster claim, %
	Notes       Notes
}

// OrientationCurves returns the two edges of [OrientationBand] as curves:
// stretched exponentials through the slower and the faster of the published
// claims. They are not parameters of any coffee.
//
// Source: see [OrientationBand].
func OrientationCurves() (slow, fast Stretched) {
	edge := func(day, month float64) Stretched {
		l1, l2 := -math.Log1p(-day/100), -math.Log1p(-month/100)
		beta := math.Log(l2/l1) / math.Log(ClaimedEmptyDays)
		return Stretched{TauDays: math.Pow(l1, -1/beta), Exponent: beta}
	}
	return edge(ClaimedDayLowPct, NearlyAllLowPct), edge(ClaimedDayHighPct, NearlyAllHighPct)
}

// OrientationBand returns between which shares of its gas whole coffee has
// lost at an age, as far as anything is claimed in print: for who has no
// weighings of their own. It is an orientation and says so.
//
//	the slower edge goes through 40 % at 1 day and 95 % at 30 days,
//	the faster one through 70 % at 1 day and 99 % at 30 days,
//	each a stretched exponential
//
//	t   days   days   accepted 0 to MaxDays, claimed 1 to 30
//
// All answers carry [Orientation]; before the first day [BeforeFirstClaim],
// after the month [Extrapolated]. A bad age is refused with an [*InputError].
//
// The claims disagree, none shows data, and neither roast, grind nor
// temperature is in them. A sample weighed for two weeks tells more.
//
// Source: the claims, see [ClaimedDayLowPct], [ClaimedDayHighPct] and
// [ClaimedEmptyDays]; the shape between and the reading of "nearly all" are
// ours.
func OrientationBand(days float64) (Band, error) {
	if err := fault.Input(fault.Float(nil, "days", days, 0, MaxDays, "days")); err != nil {
		return Band{}, err
	}
	slow, fast := OrientationCurves()
	_, low := slow.share(days)
	_, high := fast.share(days)
	b := Band{LowGonePct: 100 * low, HighGonePct: 100 * high, Notes: Orientation}
	if days < 1 {
		b.Notes |= BeforeFirstClaim
	}
	if days > ClaimedEmptyDays {
		b.Notes |= Extrapolated
	}
	return b, nil
}
