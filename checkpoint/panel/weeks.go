package panel

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The accepted ranges of a score over weeks.
const (
	// MaxWeek is the largest week accepted, and its negative the smallest.
	MaxWeek = 10000

	// MaxCuppings is the largest number of cuppings accepted, a count.
	MaxCuppings = 10000
)

// A Cupping is the panel's mean score of a coffee in a week.
//
// The zero Cupping is a score of 0 in week 0.
type Cupping struct {
	Week  float64 // weeks since any day one likes, parts of a week too
	Score float64 // points
}

// Trend is the straight line through the same coffee's scores over weeks.
type Trend struct {
	SlopePerWeek   float64 // points per week, negative when falling
	SlopeHalfWidth float64 // its interval is SlopePerWeek ± SlopeHalfWidth, points per week
	MeanWeek       float64 // where the line is best known, weeks
	MeanScore      float64 // the line's value there, points
	SD             float64 // scatter of one cupping about the line, points
	SlopeU         float64 // standard uncertainty of the slope, points per week
	FirstWeek      float64 // first week cupped
	LastWeek       float64 // last week cupped
	Cuppings       int     // how many, a count
	T              float64 // Student's quantile of the interval, a pure number
}

// ScoreAt is the line's value in a week, in points.
func (t Trend) ScoreAt(week float64) float64 {
	return t.MeanScore + t.SlopePerWeek*(week-t.MeanWeek)
}

// HalfWidthAt is the half-width of the line's interval in a week, in points:
// how well the mean score of that week is known.
func (t Trend) HalfWidthAt(week float64) float64 {
	u := math.Hypot(t.SD/math.Sqrt(float64(t.Cuppings)), t.SlopeU*(week-t.MeanWeek))
	return t.T * u
}

// NextHalfWidthAt is the half-width, in points, of the interval for one more
// cupping in a week: its own scatter comes on top of the line's.
func (t Trend) NextHalfWidthAt(week float64) float64 {
	return math.Hypot(t.HalfWidthAt(week), t.T*t.SD)
}

// ScoreTrend returns the straight line through a coffee's scores over weeks
// and how well its slope is known.
//
//	b   = Σ (w − w̄)(s − s̄)/Σ (w − w̄)²
//	s²  = Σ (s − line)²/(n − 2)
//	u_b = s/√Σ (w − w̄)²;  U_b = t(½ + γ/2; n − 2)·u_b
//
//	w   Cupping.Week                accepted −MaxWeek to MaxWeek, two or more different
//	s   Cupping.Score               accepted −MaxScore to MaxScore
//	n   len(cuppings)               accepted 3 to MaxCuppings
//	γ   confidencePct   %           accepted MinConfidencePct to MaxConfidencePct
//
// Give each cupping's panel mean, not each taster's score: tasters of one
// table share its water, roast and day. Fields outside their range are
// refused with an [*InputError]; cuppings all of one week have no line: an
// [*ImpossibleError].
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1.
func ScoreTrend(cuppings []Cupping, confidencePct float64) (Trend, error) {
	bad := fault.Int(nil, "cuppings", len(cuppings), 3, MaxCuppings, "")
	if bad == nil {
		for i, c := range cuppings {
			if !(math.Abs(c.Week) <= MaxWeek && math.Abs(c.Score) <= MaxScore) {
				at := "cuppings[" + itoa(i) + "]."
				bad = fault.Float(bad, at+"Week", c.Week, -MaxWeek, MaxWeek, "weeks")
				bad = fault.Float(bad, at+"Score", c.Score, -MaxScore, MaxScore, "points")
			}
		}
	}
	bad = fault.Float(bad, "confidencePct", confidencePct, MinConfidencePct, MaxConfidencePct, "%")
	if err := fault.Input(bad); err != nil {
		return Trend{}, err
	}
	n := float64(len(cuppings))
	w0, s0 := cuppings[0].Week, cuppings[0].Score
	out := Trend{FirstWeek: w0, LastWeek: w0, Cuppings: len(cuppings)}
	mw, ms := 0.0, 0.0
	for _, c := range cuppings {
		mw += (c.Week - w0) / n
		ms += (c.Score - s0) / n
		out.FirstWeek = min(out.FirstWeek, c.Week)
		out.LastWeek = max(out.LastWeek, c.Week)
	}
	// Under a second of a week apart is one and the same cupping.
	if out.LastWeek-out.FirstWeek < 1e-6 {
		return Trend{}, &ImpossibleError{Quantity: "slope", Why: "all cuppings are of one week",
			Field: "cuppings", Given: "1", Min: 2, Max: MaxCuppings, Unit: "different weeks"}
	}
	var sww, sws float64
	for _, c := range cuppings {
		dw, ds := c.Week-w0-mw, c.Score-s0-ms
		sww += dw * dw
		sws += dw * ds
	}
	b := sws / sww
	rss := 0.0
	for _, c := range cuppings {
		e := c.Score - s0 - ms - b*(c.Week-w0-mw)
		rss += e * e
	}
	out.SlopePerWeek, out.MeanWeek, out.MeanScore = b, w0+mw, s0+ms
	out.SD = math.Sqrt(rss / (n - 2))
	out.SlopeU = out.SD / math.Sqrt(sww)
	out.T = num.StudentQuantile(0.5+confidencePct/200, n-2)
	out.SlopeHalfWidth = out.T * out.SlopeU
	return out, nil
}

// Crossing is when a falling score reaches a threshold.
type Crossing struct {
	Week             float64 // when the line crosses
	Earliest, Latest float64 // the interval of that week
	Notes            Notes
}

// Under returns the week in which a coffee's score falls under the threshold
// at which it is bought or kept, with the interval of that week.
//
//	w_0 = w̄ + (h − s̄)/b
//	Earliest, Latest: the two w with |line(w) − h| = t·u(line(w)) (Fieller)
//
//	h   threshold     points   accepted −MaxScore to MaxScore
//	    trend         from ScoreTrend, with its confidence
//
// The interval is for the true mean score, not for one cupping of it, which
// scatters more (see [Trend.NextHalfWidthAt]). A week beyond the last cupping
// is noted, and noted again when it lies further ahead than the cuppings
// span: coffee need not keep falling along a line.
//
// A threshold outside its range and a Trend that ScoreTrend did not make are
// refused with an [*InputError]. A score that does not clearly fall has no
// such week at this confidence: an [*ImpossibleError] that names the
// confidence, if any is accepted at which it has, or else the slope.
//
// Source: Fieller, J. R. Statist. Soc. B 16, 1954; Draper & Smith, Applied
// Regression Analysis, inverse estimation.
func Under(trend Trend, threshold float64) (Crossing, error) {
	bad := trend.check(nil)
	bad = fault.Float(bad, "threshold", threshold, -MaxScore, MaxScore, "points")
	if err := fault.Input(bad); err != nil {
		return Crossing{}, err
	}
	out, lack := trend.crossing(threshold)
	if lack != nothing {
		return Crossing{}, trend.wayOut(threshold, lack)
	}
	switch {
	case out.Week <= trend.LastWeek:
		out.Notes |= AlreadyUnder
	case out.Week > trend.LastWeek+(trend.LastWeek-trend.FirstWeek):
		out.Notes |= Extrapolated | FarAhead
	default:
		out.Notes |= Extrapolated
	}
	return out, nil
}

// What a score lacks that has no week under the threshold.
type lack uint8

const (
	nothing lack = iota
	fall
	clarity
	speed
)

// crossing is the week without its notes, or what there lacks for one.
func (t Trend) crossing(threshold float64) (out Crossing, _ lack) {
	b := t.SlopePerWeek
	switch {
	case !(b < 0):
		return out, fall
	case !(-b > t.SlopeHalfWidth):
		return out, clarity
	}
	// With x = w − w̄ and d = h − s̄: (b·x − d)² = t²·(s²/n + u_b²·x²).
	d := threshold - t.MeanScore
	a := (-b - t.SlopeHalfWidth) * (t.SlopeHalfWidth - b)
	v := t.T * t.SD / math.Sqrt(float64(t.Cuppings))
	mid := b * d / a
	half := math.Sqrt(max(0, mid*mid-(d*d-v*v)/a))
	out = Crossing{Week: t.MeanWeek + d/b, Earliest: t.MeanWeek + mid - half, Latest: t.MeanWeek + mid + half}
	// A slope a hair below zero crosses beyond any calendar.
	if !(math.Abs(out.Earliest) <= farWeek && math.Abs(out.Latest) <= farWeek) { // Week lies between them
		return Crossing{}, speed
	}
	return out, nothing
}

// wayOut names the confidence at which there would be a week, or else the
// slope.
func (t Trend) wayOut(threshold float64, without lack) error {
	why := "the score does not fall"
	switch without {
	case clarity:
		why = "the score does not clearly fall"
	case speed:
		why = "the score falls too slowly to name one"
	}
	if df := float64(t.Cuppings - 2); without == clarity {
		at := func(pct float64) bool {
			v := t
			v.T = num.StudentQuantile(0.5+pct/200, df)
			v.SlopeHalfWidth = v.T * v.SlopeU
			_, lack := v.crossing(threshold)
			return lack == nothing
		}
		given := 100 * num.StudentWithin(t.T, df)
		if given > MinConfidencePct && at(MinConfidencePct) {
			yes := num.Furthest(MinConfidencePct, MaxConfidencePct, at)
			return &ImpossibleError{Quantity: "week under the threshold", Why: why,
				Field: "ConfidencePct", Given: fault.Shortest(math.Round(1e6*given) / 1e6), Min: MinConfidencePct, Max: math.Floor(100*yes) / 100, Unit: "%"}
		}
	}
	at := func(fall float64) bool {
		v := t
		v.SlopePerWeek = -fall
		_, lack := v.crossing(threshold)
		return lack == nothing
	}
	yes := max(-t.SlopePerWeek, t.SlopeHalfWidth, 1e-12)
	no := yes / 2
	for !at(yes) { // half of maxSlope is steep enough for all
		no, yes = yes, 2*yes
	}
	yes = num.Furthest(yes, no, at)
	// Four digits, and not below what is needed.
	told := 0.0
	if e := 3 - math.Floor(math.Log10(yes)); e >= 0 {
		unit := math.Pow(10, e)
		told = math.Ceil(yes*unit) / unit
	} else {
		unit := math.Pow(10, -e)
		told = math.Ceil(yes/unit) * unit
	}
	return &ImpossibleError{Quantity: "week under the threshold", Why: why,
		Field: "SlopePerWeek", Given: fault.Shortest(t.SlopePerWeek), Min: math.Inf(-1), Max: -told, Unit: "points per week"}
}

// farWeek is the furthest week that a crossing is named for.
const farWeek = 1e6

// check refuses what ScoreTrend cannot have made.
func (t Trend) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "SlopePerWeek", t.SlopePerWeek, -maxSlope, maxSlope, "points per week")
	bad = fault.Float(bad, "SlopeHalfWidth", t.SlopeHalfWidth, 0, math.MaxFloat32, "points per week")
	bad = fault.Float(bad, "MeanWeek", t.MeanWeek, -MaxWeek, MaxWeek, "weeks")
	bad = fault.Float(bad, "MeanScore", t.MeanScore, -MaxScore, MaxScore, "points")
	bad = fault.Float(bad, "SD", t.SD, 0, 4*MaxScore, "points")
	bad = fault.Float(bad, "SlopeU", t.SlopeU, 0, math.MaxFloat32, "points per week")
	bad = fault.Float(bad, "FirstWeek", t.FirstWeek, -MaxWeek, MaxWeek, "weeks")
	bad = fault.Float(bad, "LastWeek", t.LastWeek, -MaxWeek, MaxWeek, "weeks")
	bad = fault.Int(bad, "Cuppings", t.Cuppings, 3, MaxCuppings, "")
	return fault.Float(bad, "T", t.T, 0.1, 1e5, "")
}

// maxSlope is the steepest slope accepted, far over every half-width that is:
// as steep a fall is clear.
const maxSlope = 1e40
