package weighing

import (
	"math"
	"strings"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// A Class is the accuracy class of a scale, on its plate in an oval.
//
// The zero Class is refused.
type Class uint8

// The accuracy classes of OIML R 76.
const (
	ClassI    Class = iota + 1 // special: analytical balances
	ClassII                    // high: laboratory scales, 0.01 g scales
	ClassIII                   // medium: scales for trade, bench and floor
	ClassIIII                  // ordinary: scales for coarse goods
)

var classNames = [...]string{"no class", "I", "II", "III", "IIII"}

// String is the class in Roman numerals.
func (c Class) String() string {
	if int(c) < len(classNames) {
		return classNames[c]
	}
	return classNames[0]
}

// The accepted ranges of scales and loads.
const (
	// MinIntervalG and MaxIntervalG bound e and d, g.
	MinIntervalG = 1e-6
	MaxIntervalG = 1e5

	// MaxLoadG is the largest load accepted, g: a loaded lorry.
	MaxLoadG = 1e8

	// InServiceFactor is what the limits of a verification are multiplied by
	// for a scale in use, a pure number: OIML R 76-1:2006, 3.5.2; quoted.
	InServiceFactor = 2

	// LimitPerWeight is how many times the test weight's own error the
	// permissible error must be at least, a pure number: OIML R 76-1:2006,
	// 3.7.1; common practice.
	LimitPerWeight = 3
)

// Notes says what to tell the reader beside an answer. The zero Notes is
// nothing to tell.
type Notes uint32

// The notes.
const (
	// BelowMinimum: the load is under the class's minimum capacity, where
	// rounding alone makes the reading doubtful.
	BelowMinimum Notes = 1 << iota
	// CoarseWeight: the test weight's own tolerance is more than a third of
	// the limit that it is to prove.
	CoarseWeight
	// DivisionGoverns: the repeatability found is better than the display can
	// show; its rounding sets the smallest weighing.
	DivisionGoverns
	// BeyondDirective: the nominal quantity is outside the 5 g to 10 kg of
	// Directive 76/211/EEC.
	BeyondDirective
	// WeighAll: the batch is under 100 packs: no sampling plan is published.
	WeighAll
)

var clauses = [...]string{
	"under the minimum capacity of the class",
	"the test weight is too coarse for this limit",
	"the display's rounding governs",
	"outside the 5 g to 10 kg of the directive",
	"under 100 packs: no plan; weigh them all",
}

// String joins the notes as plain clauses.
func (n Notes) String() string {
	s := ""
	for i, c := range clauses {
		if n&(1<<i) != 0 {
			if s != "" {
				s += "; "
			}
			s += c
		}
	}
	return s
}

// bands of the permissible error on verification, in e: up to first 0.5 e, up
// to second 1 e, up to most 1.5 e. OIML R 76-1:2006, table 6.
var bands = [...]struct{ first, second, most, least int64 }{
	ClassI:    {50_000, 200_000, math.MaxInt64, 100},
	ClassII:   {5_000, 20_000, 100_000, 50},
	ClassIII:  {500, 2_000, 10_000, 20},
	ClassIIII: {50, 200, 1_000, 10},
}

// A Load is a load on a scale of a class.
//
// The zero Load is refused: it has no class.
type Load struct {
	Class     Class
	IntervalG decimal.Decimal // e, g
	LoadG     decimal.Decimal // m, g
	InService bool            // in use, not just verified: twice the error is allowed
}

// Permitted is what [PermissibleError] found.
type Permitted struct {
	LimitG decimal.Decimal // the reading may be off by ± this, g
	Notes  Notes
}

// PermissibleError returns by how much the scale may be off at a load.
//
//	           m/e up to                     mpe on verification
//	class I    50 000, 200 000, no end       0.5 e, 1 e, 1.5 e
//	class II   5 000, 20 000, 100 000        0.5 e, 1 e, 1.5 e
//	class III  500, 2 000, 10 000            0.5 e, 1 e, 1.5 e
//	class IIII 50, 200, 1 000                0.5 e, 1 e, 1.5 e
//	in service: InServiceFactor times
//
//	e   load.IntervalG   g   accepted MinIntervalG to MaxIntervalG; 1, 2 or 5 times a power of ten
//	m   load.LoadG       g   accepted 0 to the class's largest number of intervals
//
// e is not d: a class II scale may show tenths of its e. A load under the
// minimum capacity (100, 50, 20, 10 e; 20 e for class II with e under 0.1 g)
// is noted. Fields outside their range are refused with an [*InputError].
//
// Source: OIML R 76-1:2006, tables 3 and 6, 3.5.2.
func PermissibleError(load Load) (Permitted, error) {
	if err := fault.Input(load.check(nil)); err != nil {
		return Permitted{}, err
	}
	return load.permitted(), nil
}

func (l Load) check(bad []*FieldError) []*FieldError { return l.checkAs(bad, "Class", "IntervalG") }

// checkAs is check where the input has other names.
func (l Load) checkAs(bad []*FieldError, class, interval string) []*FieldError {
	before := len(bad)
	bad = fault.Int(bad, class, int(l.Class), int(ClassI), int(ClassIIII), "")
	bad = fault.Decimal(bad, interval, l.IntervalG, MinIntervalG, MaxIntervalG, "g")
	if len(bad) == before && !isInterval(l.IntervalG) {
		bad = append(bad, &FieldError{Field: interval, Given: fault.Digits(l.IntervalG), Min: MinIntervalG, Max: MaxIntervalG,
			Unit: "g", Why: "an interval is 1, 2 or 5 times a power of ten"})
	}
	most := float64(MaxLoadG)
	if len(bad) == before {
		if b := bands[l.Class].most; b != math.MaxInt64 {
			most = min(most, l.IntervalG.Mul(decimal.NewFromInt(b)).InexactFloat64())
		}
	}
	return fault.Decimal(bad, "LoadG", l.LoadG, 0, most, "g")
}

// isInterval says whether d is 1, 2 or 5 times a power of ten.
func isInterval(d decimal.Decimal) bool {
	switch strings.TrimRight(d.Coefficient().String(), "0") {
	case "1", "2", "5":
		return true
	}
	return false
}

// half is 0.5, exactly.
func half() decimal.Decimal { return decimal.New(5, -1) }

func (l Load) permitted() Permitted {
	b := bands[l.Class]
	in := func(n int64) bool { return !l.LoadG.GreaterThan(l.IntervalG.Mul(decimal.NewFromInt(n))) }
	halves := int64(3)
	switch {
	case in(b.first):
		halves = 1
	case in(b.second):
		halves = 2
	}
	if l.InService {
		halves *= InServiceFactor
	}
	out := Permitted{LimitG: l.IntervalG.Mul(decimal.New(5*halves, -1))}
	if l.LoadG.LessThan(minimum(l.Class, l.IntervalG)) {
		out.Notes |= BelowMinimum
	}
	return out
}

func minimum(c Class, e decimal.Decimal) decimal.Decimal {
	least := bands[c].least
	if c == ClassII && e.LessThan(decimal.New(1, -1)) {
		least = 20
	}
	return e.Mul(decimal.NewFromInt(least))
}

// MinimumCapacityG returns the load, in grams, below which a scale of the
// class is not meant to be used, since its rounding weighs too much there.
//
//	class I 100 e; class II 20 e (e under 0.1 g) or 50 e; class III 20 e; class IIII 10 e
//
//	e   intervalG   g   accepted MinIntervalG to MaxIntervalG; 1, 2 or 5 times a power of ten
//
// Fields outside their range are refused with an [*InputError].
//
// Source: OIML R 76-1:2006, table 3.
func MinimumCapacityG(class Class, intervalG decimal.Decimal) (decimal.Decimal, error) {
	if err := fault.Input(Load{Class: class, IntervalG: intervalG}.checkAs(nil, "class", "intervalG")); err != nil {
		return decimal.Decimal{}, err
	}
	return minimum(class, intervalG), nil
}

// A Changeover is a reading with the small weights that it takes to tip the
// display to its next step: it tells what the scale would show without
// rounding.
//
// The zero Changeover is refused: a scale has an interval.
type Changeover struct {
	ReadingG  decimal.Decimal // what the display shows, g
	DivisionG decimal.Decimal // d, g
	AddedG    decimal.Decimal // small weights added until the display tips by one d, g
}

// UnroundedG returns what the scale would show if it did not round, in grams.
//
//	P = I + d/2 − ΔL
//
//	I    c.ReadingG    g   accepted −MaxLoadG to MaxLoadG
//	d    c.DivisionG   g   accepted MinIntervalG to MaxIntervalG
//	ΔL   c.AddedG      g   accepted 0 to d; usually in steps of d/10
//
// Fields outside their range are refused with an [*InputError].
//
// Source: OIML R 76-1:2006, A.4.4.3.
func UnroundedG(c Changeover) (decimal.Decimal, error) {
	bad := fault.Decimal(nil, "ReadingG", c.ReadingG, -MaxLoadG, MaxLoadG, "g")
	bad = fault.Decimal(bad, "DivisionG", c.DivisionG, MinIntervalG, MaxIntervalG, "g")
	most := float64(MaxIntervalG)
	if bad == nil {
		most = c.DivisionG.InexactFloat64()
	}
	bad = fault.Decimal(bad, "AddedG", c.AddedG, 0, most, "g")
	if err := fault.Input(bad); err != nil {
		return decimal.Decimal{}, err
	}
	return c.ReadingG.Add(c.DivisionG.Mul(half())).Sub(c.AddedG), nil
}

// A Check is one test weight on one scale, read as found: before anyone
// adjusts anything.
//
// The zero Check is refused.
type Check struct {
	Load                         // LoadG is the test weight's nominal or certified value
	ReadingG     decimal.Decimal // what the scale shows, g; better, from UnroundedG
	WeightErrorG decimal.Decimal // the test weight's own tolerance or uncertainty, g; 0 if it is to be ignored
}

// Found is what [AsFound] found.
type Found struct {
	ErrorG  decimal.Decimal // E, g: positive when the scale shows too much
	LimitG  decimal.Decimal // mpe, g
	Verdict Verdict
	Notes   Notes
}

// A Verdict is a word on a scale or a pack. The zero Verdict is none.
type Verdict uint8

// The verdicts.
const (
	Pass  Verdict = iota + 1 // within its limit
	Fail                     // outside its limit
	Close                    // within the doubt of the test weight of its limit
)

var verdicts = [...]string{"no verdict", "pass", "fail", "too close to call"}

// String is the verdict in words.
func (v Verdict) String() string {
	if int(v) < len(verdicts) {
		return verdicts[v]
	}
	return verdicts[0]
}

// AsFound returns the scale's error at one test weight and whether it is
// within the permissible error.
//
//	E = I − m
//	pass where |E| ≤ mpe − w, fail where |E| > mpe + w, too close between
//
//	m     check.LoadG          g   as in PermissibleError
//	I     check.ReadingG       g   accepted −MaxLoadG to MaxLoadG
//	w     check.WeightErrorG   g   accepted 0 to MaxIntervalG
//	mpe   from PermissibleError
//
// A weight that is good enough by the rule of one third (see
// LimitPerWeight) is taken as true, w = 0; a coarser one is noted and its
// tolerance opens a band of doubt. Note the error before adjusting: what was
// packed since the last check was packed with it. Fields outside their range
// are refused with an [*InputError].
//
// Source: OIML R 76-1:2006, 3.5, 3.7.1 and A.4.4.
func AsFound(check Check) (Found, error) {
	bad := check.Load.check(nil)
	bad = fault.Decimal(bad, "ReadingG", check.ReadingG, -MaxLoadG, MaxLoadG, "g")
	bad = fault.Decimal(bad, "WeightErrorG", check.WeightErrorG, 0, MaxIntervalG, "g")
	if err := fault.Input(bad); err != nil {
		return Found{}, err
	}
	p := check.permitted()
	out := Found{ErrorG: check.ReadingG.Sub(check.LoadG), LimitG: p.LimitG, Notes: p.Notes}
	w := check.WeightErrorG
	if w.Mul(decimal.NewFromInt(LimitPerWeight)).GreaterThan(p.LimitG) {
		out.Notes |= CoarseWeight
	} else {
		w = decimal.Decimal{}
	}
	off := out.ErrorG.Abs()
	switch {
	case !off.GreaterThan(p.LimitG.Sub(w)):
		out.Verdict = Pass
	case off.GreaterThan(p.LimitG.Add(w)):
		out.Verdict = Fail
	default:
		out.Verdict = Close
	}
	return out, nil
}

// A Readout is what blurs a weight read off a scale.
//
// The zero Readout is refused: a display has a step.
type Readout struct {
	DivisionG      float64 // d, g
	RepeatabilityG float64 // s, spread of repeated weighings, g
	WeightErrorG   float64 // tolerance of the weight that the scale was set with, g
	TareSpreadG    float64 // spread of the empty bags, g; 0 where each bag is tared itself
	Net            bool    // the weight is a difference of two readings, empty and full
}

// StandardUncertaintyG returns the standard uncertainty, in grams, of one
// weight read off a scale.
//
//	u² = r·d²/12 + s² + w²/3 + s_t², r = 2 for a net weight, else 1
//
//	d     r.DivisionG        g   accepted MinIntervalG to MaxIntervalG
//	s     r.RepeatabilityG   g   accepted 0 to MaxIntervalG
//	w     r.WeightErrorG     g   accepted 0 to MaxIntervalG, half-width of a rectangle
//	s_t   r.TareSpreadG      g   accepted 0 to MaxIntervalG
//
// A film lot whose bags vary by 0.3 g blurs a net weight by that much if only
// one bag was tared. Fields outside their range are refused with an
// [*InputError].
//
// Source: JCGM 100:2008, 4.3.7 and F.2.2.1.
func StandardUncertaintyG(r Readout) (float64, error) {
	bad := fault.Float(nil, "DivisionG", r.DivisionG, MinIntervalG, MaxIntervalG, "g")
	bad = fault.Float(bad, "RepeatabilityG", r.RepeatabilityG, 0, MaxIntervalG, "g")
	bad = fault.Float(bad, "WeightErrorG", r.WeightErrorG, 0, MaxIntervalG, "g")
	bad = fault.Float(bad, "TareSpreadG", r.TareSpreadG, 0, MaxIntervalG, "g")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	steps := 1.0
	if r.Net {
		steps = 2
	}
	return math.Sqrt(steps*r.DivisionG*r.DivisionG/12 + r.RepeatabilityG*r.RepeatabilityG +
		r.WeightErrorG*r.WeightErrorG/3 + r.TareSpreadG*r.TareSpreadG), nil
}

// A Weighing is how well something must be weighed on a scale.
//
// The zero Weighing is refused.
type Weighing struct {
	DivisionG      decimal.Decimal // d, g
	RepeatabilityG decimal.Decimal // s of ten or more weighings of one small load, g; 0 if it never moved
	TolerancePct   decimal.Decimal // how far a weight may be off, % of itself
}

// The constants of the smallest weighing.
const (
	// RepeatabilityFactor is how many standard deviations must fit into the
	// tolerance, a pure number: USP chapter 41; quoted.
	RepeatabilityFactor = 2

	// LeastRepeatability is the smallest standard deviation that a display
	// can be credited with, in divisions: 0.41 d, about d/√6; USP chapter 41;
	// quoted.
	LeastRepeatability = 0.41
)

// Smallest is what [SmallestWeighing] found.
type Smallest struct {
	LoadG decimal.Decimal // rounded up to a whole division, g
	Notes Notes
}

// SmallestWeighing returns the least that may be weighed on a scale so that
// repeated weighings stay within a tolerance.
//
//	m_min = 2·max(s, 0.41·d)·100/τ, rounded up to a whole d
//
//	d   w.DivisionG        g   accepted MinIntervalG to MaxIntervalG
//	s   w.RepeatabilityG   g   accepted 0 to MaxIntervalG
//	τ   w.TolerancePct     %   accepted 0.001 to 50
//
// It says nothing about a wrong scale: only [AsFound] does. A repeatability
// under what the display can show is noted. Fields outside their range are
// refused with an [*InputError].
//
// Source: USP General Chapter 41, Balances, 2019; 0.10 % there.
func SmallestWeighing(w Weighing) (Smallest, error) {
	bad := fault.Decimal(nil, "DivisionG", w.DivisionG, MinIntervalG, MaxIntervalG, "g")
	bad = fault.Decimal(bad, "RepeatabilityG", w.RepeatabilityG, 0, MaxIntervalG, "g")
	bad = fault.Decimal(bad, "TolerancePct", w.TolerancePct, 0.001, 50, "%")
	if err := fault.Input(bad); err != nil {
		return Smallest{}, err
	}
	var out Smallest
	s := w.DivisionG.Mul(decimal.NewFromFloat(LeastRepeatability))
	if w.RepeatabilityG.GreaterThan(s) {
		s = w.RepeatabilityG
	} else {
		out.Notes |= DivisionGoverns
	}
	steps := ceilQuotient(s.Mul(decimal.NewFromInt(100*RepeatabilityFactor)), w.TolerancePct.Mul(w.DivisionG))
	out.LoadG = w.DivisionG.Mul(steps)
	return out, nil
}

// ceilQuotient is a/b rounded up to a whole number, for b over 0.
func ceilQuotient(a, b decimal.Decimal) decimal.Decimal {
	q, r := a.QuoRem(b, 0)
	if r.IsPositive() {
		q = q.Add(decimal.NewFromInt(1))
	}
	return q
}

// MaxReadings is the largest number of weighings accepted, a count.
const MaxReadings = 10000

// RepeatabilityG returns the standard deviation, in grams, of repeated
// weighings of one load: ten at least, put on and taken off each time.
//
//	s² = (n·Σ x² − (Σ x)²)/(n·(n − 1)), summed exactly
//
//	x   readingsG   g   accepted −MaxLoadG to MaxLoadG, 2 to MaxReadings of them
//
// Fields outside their range are refused with an [*InputError].
//
// Source: OIML R 76-1:2006, A.4.10; the sums are exact, so that the digits of
// a small spread on a large load stay.
func RepeatabilityG(readingsG []decimal.Decimal) (float64, error) {
	_, s, err := moments("readingsG", readingsG, 2)
	return s, err
}

// moments gives the exact sum and the standard deviation of weights.
func moments(field string, list []decimal.Decimal, least int) (sum decimal.Decimal, s float64, err error) {
	bad := fault.Int(nil, field, len(list), least, MaxReadings, "weights")
	if bad == nil {
		for i, x := range list {
			bad = fault.Decimal(bad, field+"["+itoa(i)+"]", x, -MaxLoadG, MaxLoadG, "g")
		}
	}
	if err := fault.Input(bad); err != nil {
		return decimal.Decimal{}, 0, err
	}
	var squares decimal.Decimal
	for _, x := range list {
		sum = sum.Add(x)
		squares = squares.Add(x.Mul(x))
	}
	n := decimal.NewFromInt(int64(len(list)))
	n1 := decimal.NewFromInt(int64(len(list) - 1))
	v := squares.Mul(n).Sub(sum.Mul(sum)).DivRound(n.Mul(n1), 40)
	return sum, math.Sqrt(v.InexactFloat64()), nil
}
