package degas

import (
	"math"
	"time"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Use is what rested coffee is for.
type Use uint8

// The uses for which rest is claimed in print or by habit.
const (
	Cupping Use = iota
	PackNoValve
	PackVacuum
	Filter
	Espresso
	FlushedBag
	PeakAroma
	PeakTaste
)

// A RestClaim is what one source says about rest. Rest is preference and not
// physics: the claims contradict one another and are kept as they are.
type RestClaim struct {
	ID               string
	Use              Use
	FromDays, ToDays float64 // age since roasting, days; both equal where one number is given
	Source           string
	Provenance       string // opened, quoted or common practice
}

// RestClaims lists what could be found about rest before a use.
//
// Source: named in each claim.
func RestClaims() []RestClaim {
	return []RestClaim{
		{"cupping-robusta", Cupping, CuppingRestHours / 24, CuppingLatestHours / 24, "Fine Robusta cupping protocols page (CQI standards)", "opened"},
		{"cupping-sca", Cupping, 8.0 / 24, 1, "SCA cupping protocol", "quoted"},
		{"pack-48h", PackNoValve, 2, 2, "European patent EP 1340695", "opened"},
		{"pack-japan", PackNoValve, 1, 3, "Japanese trade articles on coffee packing and valves", "opened"},
		{"pack-german-silo", PackNoValve, 2, 14, "German roaster article on valve bags, 2006", "opened"},
		{"pack-vacuum-japan", PackVacuum, 2, 3, "Japanese packaging seller article on carbon dioxide", "opened"},
		{"filter", Filter, FilterRestDays, FilterLatestDays, "trade habit", "common practice"},
		{"espresso", Espresso, EspressoRestDays, EspressoLatestDays, "trade habit", "common practice"},
		{"espresso-guide", Espresso, 7, 21, "Roaster guide on roast age and espresso", "opened"},
		{"espresso-trial", Espresso, 5, 10, "UK roaster trial on freshness and espresso, 2020", "opened"},
		{"espresso-forum", Espresso, 3, 5, "Espresso forum thread, 2006", "opened"},
		{"espresso-weeks", Espresso, 21, 35, "Article on degassing in a vacuum chamber, 2023, one taster", "opened"},
		{"flushed", FlushedBag, 14, 14, "Australian roaster blind test on ageing", "opened"},
		{"aroma", PeakAroma, 4, 4, "Hirose, figure in a trade magazine, 2005", "quoted"},
		{"taste", PeakTaste, 14, 14, "Hirose, figure in a trade magazine, 2005", "quoted"},
	}
}

// The cupping window of the published protocol.
//
// Source: Fine Robusta cupping protocols page (CQI standards), sample
// preparation, roasting; the same for arabica is quoted from the SCA.
const (
	CuppingRestHours   = 8.0  // h, least rest after roasting
	CuppingLatestHours = 24.0 // h, latest age of the roast
)

// Habits of the trade, with no data behind them.
const (
	FilterRestDays     = 3.0  // days
	FilterLatestDays   = 14.0 // days
	EspressoRestDays   = 7.0  // days; light roasts longer
	EspressoLatestDays = 28.0 // days
)

// A RestPlan asks when coffee is ready and when it must be gone. The zero
// RestPlan is refused.
type RestPlan struct {
	Coffee     Coffee
	LeftMgPerG float64 // ready when the gas left has fallen to this, mg/g; accepted MinLeftPct to 100 % of Coffee.GasMgPerG
	FreshDays  float64 // gone at the latest at this age, from your own tasting or habit, days; accepted 0.1 to MaxDays
}

// A Window is from when to when coffee is good for a use. The zero Window
// stands beside an error only.
type Window struct {
	FromDays     float64 // age at which it is ready, days
	ToDays       float64 // age at which it must be gone, days
	ToLeftMgPerG float64 // gas left then, mg/g
	Notes        Notes
}

// RestWindow returns from when to when coffee is good for a use: ready when
// its gas has fallen to a level, gone before freshness ends.
//
//	t_from: M0·L(t) = LeftMgPerG,   t_to = FreshDays
//
//	M0, L   Coffee       mg/g, fraction
//	        LeftMgPerG   mg/g   accepted 1 to 100 % of M0
//	        FreshDays    days   accepted 0.1 to MaxDays
//
// Both ends are the roastery's own; physics only joins them. Bad fields are
// refused together with an [*InputError]; a window that closes before it opens
// is an [*ImpossibleError] that says which level would open it.
//
// Source: definition; see [DaysUntilAmount].
func RestWindow(p RestPlan) (Window, error) {
	bad := p.Coffee.check(nil)
	low, high := MinGasMgPerG*MinLeftPct/100, MaxGasMgPerG
	if bad == nil {
		low, high = p.Coffee.GasMgPerG*MinLeftPct/100, p.Coffee.GasMgPerG
	}
	bad = fault.Float(bad, "LeftMgPerG", p.LeftMgPerG, low, high, "mg/g")
	bad = fault.Float(bad, "FreshDays", p.FreshDays, 0.1, MaxDays, "days")
	if err := fault.Input(bad); err != nil {
		return Window{}, err
	}
	from := p.Coffee.Curve.reaches(p.LeftMgPerG / p.Coffee.GasMgPerG)
	left, _ := p.Coffee.Curve.share(p.FreshDays)
	if !(from <= p.FreshDays) {
		return Window{}, &ImpossibleError{Quantity: "rest window", Why: "freshness ends before so much gas has gone",
			Field: "LeftMgPerG", Given: fault.Shortest(p.LeftMgPerG),
			Min: num.Inside(p.Coffee.GasMgPerG*left, p.Coffee.GasMgPerG, func(mg float64) bool { return p.Coffee.Curve.reaches(mg/p.Coffee.GasMgPerG) <= p.FreshDays }),
			Max: p.Coffee.GasMgPerG, Unit: "mg/g"}
	}
	return Window{FromDays: from, ToDays: p.FreshDays, ToLeftMgPerG: p.Coffee.GasMgPerG * left, Notes: p.Coffee.notes()}, nil
}

// A Span is a range of ages. The zero Span stands beside an error only.
type Span struct {
	LowDays  float64 // by the faster claim, days
	HighDays float64 // by the slower claim, days
	Notes    Notes
}

// OrientationDays returns between which ages whole coffee comes down to a
// share of its gas, as far as anything is claimed in print: [OrientationBand]
// turned about, for who has no weighings of their own.
//
//	leftPct   %   accepted MinLeftPct to 100
//
// Notes as in [OrientationBand], where either end calls for them. A bad share
// is refused with an [*InputError].
//
// Source: see [OrientationBand].
func OrientationDays(leftPct float64) (Span, error) {
	if err := fault.Input(fault.Float(nil, "leftPct", leftPct, MinLeftPct, 100, "%")); err != nil {
		return Span{}, err
	}
	slow, fast := OrientationCurves()
	s := Span{LowDays: fast.reaches(leftPct / 100), HighDays: slow.reaches(leftPct / 100), Notes: Orientation}
	if s.LowDays < 1 {
		s.Notes |= BeforeFirstClaim
	}
	if s.HighDays > ClaimedEmptyDays {
		s.Notes |= Extrapolated
	}
	return s, nil
}

// A WallClock is what a clock on the wall shows: what a roaster writes down.
// The zero WallClock is refused.
type WallClock struct {
	Year   int // accepted 1970 to 2200
	Month  int // accepted 1 to 12
	Day    int // accepted 1 to what the month has
	Hour   int // accepted 0 to 23
	Minute int // accepted 0 to 59
}

// A Moment is an instant and what is to be said about its clock. The zero
// Moment stands beside an error only.
type Moment struct {
	Time  time.Time // in the location asked for
	Notes Notes
}

// Instant returns the moment at which the clock of a place shows a time. An
// hour that the clock shows twice in autumn is taken as the first of the two
// and carries [AmbiguousHour]; one that it skips in spring is refused.
//
//	w     WallClock   see there
//	loc   the place, from the caller; nil is refused
//
// Bad fields are refused together with an [*InputError].
//
// Source: the time zone database that loc was read from.
func Instant(w WallClock, loc *time.Location) (Moment, error) {
	var bad []*FieldError
	bad = fault.Int(bad, "Year", w.Year, 1970, 2200, "")
	bad = fault.Int(bad, "Month", w.Month, 1, 12, "")
	days := 31
	if bad == nil {
		days = time.Date(w.Year, time.Month(w.Month)+1, 0, 12, 0, 0, 0, time.UTC).Day()
	}
	bad = fault.Int(bad, "Day", w.Day, 1, days, "")
	bad = fault.Int(bad, "Hour", w.Hour, 0, 23, "h")
	bad = fault.Int(bad, "Minute", w.Minute, 0, 59, "min")
	bad = checkPlace(bad, loc)
	if err := fault.Input(bad); err != nil {
		return Moment{}, err
	}
	t := time.Date(w.Year, time.Month(w.Month), w.Day, w.Hour, w.Minute, 0, 0, loc)
	if t.Hour() != w.Hour || t.Minute() != w.Minute || t.Day() != w.Day {
		return Moment{}, fault.Input([]*FieldError{{Field: "Hour", Given: fault.Shortest(float64(w.Hour)), Min: 0, Max: 23, Unit: "h", Why: "the clock skips this time on that day"}})
	}
	m := Moment{Time: t}
	_, own := t.Zone()
	for _, side := range []time.Duration{-24 * time.Hour, 24 * time.Hour} {
		_, other := t.Add(side).Zone()
		twin := t.Add(time.Duration(own-other) * time.Second)
		if _, its := twin.Zone(); its == other && other != own {
			m.Notes |= AmbiguousHour
			if twin.Before(m.Time) {
				m.Time = twin
			}
		}
	}
	return m, nil
}

func checkPlace(bad []*FieldError, loc *time.Location) []*FieldError {
	if loc != nil {
		return bad
	}
	return append(bad, &FieldError{Field: "loc", Given: "0", Min: 1, Max: 1, Unit: "place", Why: "give the time zone"})
}

// startOfDay is the first instant of a day, which may be one past what its
// month has.
func startOfDay(y int, m time.Month, d int, loc *time.Location) time.Time {
	noon := time.Date(y, m, d, 12, 0, 0, 0, loc) // no clock was ever put forward at noon, but for a whole day left out
	y, m, d = noon.Date()
	t := time.Date(y, m, d, 0, 0, 0, 0, loc)
	if t.Day() == d {
		return t
	}
	// Midnight is skipped: halve down to the second that begins the day.
	lo, hi := t.Unix(), noon.Unix()
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; time.Unix(mid, 0).In(loc).Day() == d {
			hi = mid
		} else {
			lo = mid
		}
	}
	return time.Unix(hi, 0).In(loc)
}

// WhenAged returns the moment at which coffee reaches an age, on the clock of
// a place.
//
//	t = roasted + days·24 h, to the second
//
//	roasted   an instant, from [Instant] or a log
//	days      days of 24 h   accepted 0 to MaxDays
//	loc       the place, from the caller; nil is refused
//
// Gas knows no daylight saving: an age is elapsed time. Where the clock changes
// in between, the answer carries [ClockChanges]: seven days after nine o'clock
// is then eight or ten. Bad fields are refused together with an
// [*InputError].
//
// Source: definition.
func WhenAged(roasted time.Time, days float64, loc *time.Location) (Moment, error) {
	bad := fault.Float(nil, "days", days, 0, MaxDays, "days")
	if err := fault.Input(checkPlace(bad, loc)); err != nil {
		return Moment{}, err
	}
	t := roasted.Add(time.Duration(math.Round(days*secondsPerDay)) * time.Second).In(loc)
	m := Moment{Time: t}
	_, a := roasted.In(loc).Zone()
	if _, b := t.Zone(); a != b {
		m.Notes |= ClockChanges
	}
	return m, nil
}

// AgeDays returns how old coffee is at an instant, in days of 24 h: the
// inverse of [WhenAged].
//
//	t = (at − roasted)/24 h
//
// An instant before roasting, or more than MaxDays after it, is refused with
// an [*InputError].
//
// Source: definition.
func AgeDays(roasted, at time.Time) (float64, error) {
	// Seconds, because a Duration ends after 292 years.
	seconds := float64(at.Unix()-roasted.Unix()) + float64(at.Nanosecond()-roasted.Nanosecond())*1e-9
	days := seconds / secondsPerDay
	if err := fault.Input(fault.Float(nil, "at", days, 0, MaxDays, "days after roasting")); err != nil {
		return 0, err
	}
	return days, nil
}

// A Release asks what can be tasted of a roast before it leaves the building.
// The zero Release is refused.
type Release struct {
	Coffee       Coffee
	Roasted      time.Time
	CutOff       time.Time // when it must leave; accepted 0.1 h to 30 days after Roasted
	RestHours    float64   // rest before the cup that your programme asks for, h; accepted 0 to 720; see CuppingRestHours
	TastingHours float64   // from the first cup to the decision, h; accepted 0 to 24
	OpenedDays   float64   // age at which it is opened, days; accepted 0.1 to MaxDays
}

// A Tasting is what a release decision can rest on. The zero Tasting stands
// beside an error only.
type Tasting struct {
	AgeHours      float64   // oldest age at which a cup can begin before the cut-off, h
	From, To      time.Time // when a rested cup can begin; To is the last moment; equal where only the last one is left
	RoastBy       time.Time // latest roast that would be rested in time
	ShortHours    float64   // by how much the rest is missed, h; 0 if it is not
	ThenLeftPct   float64   // gas left at that age, % of the gas at roasting
	OpenedLeftPct float64   // gas left when it is opened, %
	GasRatio      float64   // gas in the cup tasted over that in the cup at opening, no unit; 1 is alike
	Notes         Notes
}

// TasteBefore returns what can be tasted of a roast before it leaves, and how
// much more gas that cup holds than the one at opening.
//
//	age   = CutOff − TastingHours − Roasted
//	ratio = L(age)/L(OpenedDays)
//
//	Roasted, CutOff   instants; the answers are on the clock of CutOff
//	RestHours         h      accepted 0 to 720
//	TastingHours      h      accepted 0 to 24
//	OpenedDays        days   accepted 0.1 to MaxDays
//
// Where the rest asked for does not fit it carries [NotRested] and says by how
// many hours, and until when the roast should have been done. A ratio far from
// 1 says that this cup speaks for defects and roast, and little for how the
// coffee will taste; what a bag then needs is a later cup of a kept sample.
// Where almost nothing is left at opening (under MinLeftPct) the ratio has no
// meaning and is an [*ImpossibleError]. Bad fields are refused together with
// an [*InputError].
//
// Source: definition; the rest of the protocol, see [CuppingRestHours].
func TasteBefore(r Release) (Tasting, error) {
	bad := r.Coffee.check(nil)
	span := float64(r.CutOff.Unix()-r.Roasted.Unix()) / 3600
	bad = fault.Float(bad, "CutOff", span, 0.1, 720, "h after roasting")
	bad = fault.Float(bad, "RestHours", r.RestHours, 0, 720, "h")
	most := 24.0
	if span >= 0.1 && span <= 720 {
		most = math.Min(most, span)
	}
	bad = fault.Float(bad, "TastingHours", r.TastingHours, 0, most, "h")
	bad = fault.Float(bad, "OpenedDays", r.OpenedDays, 0.1, MaxDays, "days")
	if err := fault.Input(bad); err != nil {
		return Tasting{}, err
	}
	hours := func(h float64) time.Duration { return time.Duration(math.Round(h*3600)) * time.Second }
	loc := r.CutOff.Location()
	t := Tasting{
		AgeHours: span - r.TastingHours,
		To:       r.CutOff.Add(-hours(r.TastingHours)),
		RoastBy:  r.CutOff.Add(-hours(r.TastingHours + r.RestHours)),
		Notes:    r.Coffee.notes(),
	}
	t.From = r.Roasted.In(loc).Add(hours(r.RestHours))
	if t.AgeHours < r.RestHours {
		t.ShortHours = r.RestHours - t.AgeHours
		t.From = t.To
		t.Notes |= NotRested
	}
	then, _ := r.Coffee.Curve.share(t.AgeHours / 24)
	opened, _ := r.Coffee.Curve.share(r.OpenedDays)
	if opened < MinLeftPct/100 {
		return Tasting{}, &ImpossibleError{Quantity: "comparison", Why: "almost no gas is left at opening",
			Field: "OpenedDays", Given: fault.Shortest(r.OpenedDays), Min: 0,
			Max: num.Inside(r.Coffee.Curve.reaches(MinLeftPct/100), 0, func(days float64) bool {
				left, _ := r.Coffee.Curve.share(days)
				return left >= MinLeftPct/100
			}), Unit: "days"}
	}
	t.ThenLeftPct, t.OpenedLeftPct, t.GasRatio = 100*then, 100*opened, then/opened
	_, a := r.Roasted.In(loc).Zone()
	if _, b := r.CutOff.Zone(); a != b {
		t.Notes |= ClockChanges
	}
	return t, nil
}
