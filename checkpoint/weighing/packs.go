package weighing

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// The accepted ranges of packs.
const (
	// MinNominalG and MaxNominalG bound the nominal content, g.
	MinNominalG = 1
	MaxNominalG = 50000

	// DirectiveMinG and DirectiveMaxG are the limits of Directive 76/211/EEC,
	// g: article 1; memory.
	DirectiveMinG = 5
	DirectiveMaxG = 10000

	// MaxSpreadG is the largest spread of filled packs accepted, g.
	MaxSpreadG = 1000

	// MaxBatch is the largest batch accepted, a count of packs.
	MaxBatch = 10_000_000
)

// tolerable is the table of tolerable shortages: above over g, up to the next
// row's over, tenths of a percent of the nominal quantity or, where that is
// zero, fixed tenths of a gram.
var tolerable = [...]struct{ over, permille, fixed int64 }{
	{15000, 10, 0},
	{10000, 0, 1500},
	{1000, 15, 0},
	{500, 0, 150},
	{300, 30, 0},
	{200, 0, 90},
	{100, 45, 0},
	{50, 0, 45},
	{0, 90, 0},
}

// Shortage is how far a single pack may fall short.
type Shortage struct {
	T1G      decimal.Decimal // tolerable shortage, g
	FewG     decimal.Decimal // Q_n − T_1: at most a few packs in a hundred below, g
	NeverG   decimal.Decimal // Q_n − 2·T_1: no pack below, g
	NominalG decimal.Decimal // Q_n, g: the mean must not be below
	Notes    Notes
}

// TolerableShortage returns by how much a single pack may fall short of its
// nominal content in the European Union and the United Kingdom.
//
//	Q_n, g             T_1
//	to 50              9 %
//	over 50 to 100     4.5 g
//	over 100 to 200    4.5 %
//	over 200 to 300    9 g
//	over 300 to 500    3 %
//	over 500 to 1000   15 g
//	over 1 to 10 kg    1.5 %
//	over 10 to 15 kg   150 g
//	over 15 kg         1 %
//	percentages are rounded up to the next 0.1 g
//
//	Q_n   nominalG   g   accepted MinNominalG to MaxNominalG
//
// T_1 is what one pack may miss, never what all may: the mean must be Q_n.
// Outside 5 g to 10 kg, where the directive does not apply, the answer is
// noted. A nominal content outside its range is refused with an
// [*InputError].
//
// Source: Council Directive 76/211/EEC, annex I, 2.4; UK Weights and Measures
// (Packaged Goods) Regulations 2006.
func TolerableShortage(nominalG decimal.Decimal) (Shortage, error) {
	return allowed("nominalG", nominalG)
}

// allowed is TolerableShortage of what the input calls name.
func allowed(name string, nominalG decimal.Decimal) (Shortage, error) {
	return shortage(name, nominalG, func(decimal.Decimal) int32 { return 1 })
}

// TolerableShortageR87 is [TolerableShortage] by the international
// recommendation: the same table, but above 1 kg percentages are rounded up
// to the next whole gram.
//
//	Q_n   nominalG   g   accepted MinNominalG to MaxNominalG
//
// A nominal content outside its range is refused with an [*InputError].
//
// Source: OIML R 87:2016, table 1.
func TolerableShortageR87(nominalG decimal.Decimal) (Shortage, error) {
	s, err := shortage("nominalG", nominalG, func(q decimal.Decimal) int32 {
		if q.GreaterThan(decimal.New(1000, 0)) {
			return 0
		}
		return 1
	})
	s.Notes &^= BeyondDirective
	return s, err
}

func shortage(name string, q decimal.Decimal, places func(decimal.Decimal) int32) (Shortage, error) {
	if err := fault.Input(fault.Decimal(nil, name, q, MinNominalG, MaxNominalG, "g")); err != nil {
		return Shortage{}, err
	}
	s := Shortage{NominalG: q}
	for _, row := range tolerable {
		if q.GreaterThan(decimal.NewFromInt(row.over)) {
			s.T1G = decimal.New(row.fixed, -1)
			if row.permille > 0 {
				s.T1G = q.Mul(decimal.New(row.permille, -3)).RoundCeil(places(q))
			}
			break
		}
	}
	s.FewG = q.Sub(s.T1G)
	s.NeverG = s.FewG.Sub(s.T1G)
	if q.LessThan(decimal.NewFromInt(DirectiveMinG)) || q.GreaterThan(decimal.NewFromInt(DirectiveMaxG)) {
		s.Notes |= BeyondDirective
	}
	return s, nil
}

// A Plan is how many packs to weigh and how many of them may be under
// Q_n − T_1. A single plan has no Second.
type Plan struct {
	Sample, Accept, Reject             int     // first sample, packs; accept at most; reject from
	Second, SecondAccept, SecondReject int     // second sample, packs; both samples together
	MeanSample                         int     // packs whose mean is tested
	MeanFactor                         float64 // that mean must be at least Q_n − MeanFactor·s; a pure number
	Notes                              Notes
}

func checkBatch(batch int) error {
	return fault.Input(fault.Int(nil, "batch", batch, 1, MaxBatch, "packs"))
}

// weighAll is the plan of a small batch: of the whole batch no more than
// FewShortPct may be short, and its mean is known, not estimated.
func weighAll(batch int) Plan {
	few := batch * 25 / 1000
	return Plan{Sample: batch, Accept: few, Reject: few + 1, MeanSample: batch, Notes: WeighAll}
}

// DoublePlan returns the reference test of a batch in two steps: weigh the
// first sample; with a count of short packs between Accept and Reject weigh a
// second one and judge both together.
//
//	batch            first     accept reject   second   accept reject
//	100 to 500       30        1      3        30       4      5
//	501 to 3200      50        2      5        50       6      7
//	3201 and over    80        3      7        80       8      9
//
//	batch   packs   accepted 1 to MaxBatch
//
// Under 100 packs the test is on all of them, with a note. The factor of the
// mean is that of 30 packs to 500 and of 50 packs over. A batch outside its
// range is refused with an [*InputError].
//
// Source: Council Directive 76/211/EEC, annex II, 2.2.1 and 2.3.
func DoublePlan(batch int) (Plan, error) {
	if err := checkBatch(batch); err != nil {
		return Plan{}, err
	}
	switch {
	case batch < 100:
		return weighAll(batch), nil
	case batch <= 500:
		return Plan{Sample: 30, Accept: 1, Reject: 3, Second: 30, SecondAccept: 4, SecondReject: 5, MeanSample: 30, MeanFactor: factor(30)}, nil
	case batch <= 3200:
		return Plan{Sample: 50, Accept: 2, Reject: 5, Second: 50, SecondAccept: 6, SecondReject: 7, MeanSample: 50, MeanFactor: factor(50)}, nil
	}
	return Plan{Sample: 80, Accept: 3, Reject: 7, Second: 80, SecondAccept: 8, SecondReject: 9, MeanSample: 50, MeanFactor: factor(50)}, nil
}

// SinglePlan returns the reference test of a batch in one step, as in the
// international recommendation.
//
//	lot              sample   short packs allowed   factor of the mean
//	100 to 500       50       3                     0.379
//	501 to 3200      80       5                     0.295
//	3201 and over    125      7                     0.234
//
//	batch   packs   accepted 1 to MaxBatch
//
// Under 100 packs all are weighed, with a note. A batch outside its range is
// refused with an [*InputError].
//
// Source: OIML R 87:2016, table 2.
func SinglePlan(batch int) (Plan, error) {
	if err := checkBatch(batch); err != nil {
		return Plan{}, err
	}
	p := Plan{Sample: 125, Accept: 7}
	switch {
	case batch < 100:
		return weighAll(batch), nil
	case batch <= 500:
		p = Plan{Sample: 50, Accept: 3}
	case batch <= 3200:
		p = Plan{Sample: 80, Accept: 5}
	}
	p.Reject, p.MeanSample, p.MeanFactor = p.Accept+1, p.Sample, factor(p.Sample)
	return p, nil
}

// DestructivePlan returns the reference test where packs must be opened to be
// weighed: 20 packs, one of them may be short.
//
//	batch   packs   accepted 100 to MaxBatch
//
// A batch outside its range is refused with an [*InputError]: the directive
// has no destructive test of under 100 packs.
//
// Source: Council Directive 76/211/EEC, annex II, 2.2.2 and 2.3.
func DestructivePlan(batch int) (Plan, error) {
	if err := fault.Input(fault.Int(nil, "batch", batch, 100, MaxBatch, "packs")); err != nil {
		return Plan{}, err
	}
	return Plan{Sample: 20, Accept: 1, Reject: 2, MeanSample: 20, MeanFactor: factor(20)}, nil
}

// meanConfidence is the one-sided confidence of the test of the mean, a share:
// 76/211/EEC, annex II, 2.3.
const meanConfidence = 0.995

func factor(n int) float64 {
	return num.StudentQuantile(meanConfidence, float64(n-1)) / math.Sqrt(float64(n))
}

// MeanFactor returns the factor by which the spread of a sample lowers what
// its mean must reach, so that a batch whose true mean is the nominal content
// is rejected once in 200 times.
//
//	f = t(0.995; n − 1)/√n · √(1 − n/N)
//
//	n   sample   packs   accepted 2 to MaxReadings
//	N   batch    packs   accepted n to MaxBatch; 0 for a batch without end
//
// New Zealand's table follows the form with N, N being the upper end of each
// row; the directive and R 87 print the form without it. Counts outside their
// ranges are refused with an [*InputError].
//
// Source: Council Directive 76/211/EEC, annex II, 2.3; New Zealand Weights
// and Measures Regulations 1999, schedule 7A.
func MeanFactor(sample, batch int) (float64, error) {
	bad := fault.Int(nil, "sample", sample, 2, MaxReadings, "packs")
	if batch != 0 {
		bad = fault.Int(bad, "batch", batch, max(2, min(sample, MaxReadings)), MaxBatch, "packs")
	}
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	f := factor(sample)
	if batch != 0 {
		f *= math.Sqrt(1 - float64(sample)/float64(batch))
	}
	return f, nil
}

// A Batch is what was found in a sample of packs.
//
// The zero Batch is refused.
type Batch struct {
	NominalG    decimal.Decimal   // Q_n, g
	ContentsG   []decimal.Decimal // net content of each pack weighed, g
	AcceptShort int               // packs that may be short, from a Plan
	MeanFactor  float64           // from a Plan or MeanFactor; 0 where all packs were weighed
}

// Judgement is what [Judge] found.
type Judgement struct {
	MeanG    decimal.Decimal // mean content, g, rounded to a thousandth of the last place weighed
	SpreadG  float64         // standard deviation, g
	LeastG   decimal.Decimal // the smallest content, g
	FloorG   float64         // what the mean must reach, Q_n − f·s, g
	Shortage Shortage
	Short    int     // packs under Q_n − T_1, a count
	TooShort int     // packs under Q_n − 2·T_1, a count
	Mean     Verdict // the mean reaches the floor
	Few      Verdict // no more short packs than accepted
	Never    Verdict // no pack far too short
	Overall  Verdict // all three
	BetterG  float64 // mean less nominal, g: what is given away per pack
}

// Judge returns whether a sample of packs meets the three rules: the mean,
// the few short packs, no pack far too short.
//
//	Mean    Σ x/n ≥ Q_n − f·s
//	Few     count of x < Q_n − T_1 is at most AcceptShort
//	Never   no x < Q_n − 2·T_1
//
//	Q_n   batch.NominalG      g   accepted MinNominalG to MaxNominalG
//	x     batch.ContentsG     g   accepted −MaxLoadG to MaxLoadG, 2 to MaxReadings of them
//	      batch.AcceptShort       accepted 0 to the sample
//	f     batch.MeanFactor        accepted 0 to 100
//	T_1   from TolerableShortage
//
// The reference test is an inspector's: it forgives the packer what chance
// may do in a sample. A packer's own target is [FillTarget]. Contents are
// net: valve and scavenger belong to the bag. With f = 0 the comparison of
// the mean is exact. Fields outside their ranges are refused with an
// [*InputError].
//
// Source: Council Directive 76/211/EEC, annex I, 1 and 5 and annex II.
func Judge(batch Batch) (Judgement, error) {
	short, err := allowed("NominalG", batch.NominalG)
	var bad []*FieldError
	if err != nil {
		bad = err.(*InputError).Fields
	}
	sum, s, err := moments("ContentsG", batch.ContentsG, 2)
	if err != nil {
		bad = append(bad, err.(*InputError).Fields...)
	}
	bad = fault.Int(bad, "AcceptShort", batch.AcceptShort, 0, max(2, min(len(batch.ContentsG), MaxReadings)), "packs")
	bad = fault.Float(bad, "MeanFactor", batch.MeanFactor, 0, 100, "")
	if err := fault.Input(bad); err != nil {
		return Judgement{}, err
	}
	n := decimal.NewFromInt(int64(len(batch.ContentsG)))
	out := Judgement{SpreadG: s, Shortage: short, LeastG: batch.ContentsG[0]}
	places := int32(3)
	for _, x := range batch.ContentsG {
		places = max(places, 3-x.Exponent())
		if x.LessThan(out.LeastG) {
			out.LeastG = x
		}
		if x.LessThan(short.FewG) {
			out.Short++
		}
		if x.LessThan(short.NeverG) {
			out.TooShort++
		}
	}
	q := batch.NominalG.InexactFloat64()
	out.MeanG = sum.DivRound(n, places)
	// The excess of the sum is exact: a float of the mean itself would not be.
	out.BetterG = sum.Sub(batch.NominalG.Mul(n)).InexactFloat64() / float64(len(batch.ContentsG))
	out.FloorG = q - batch.MeanFactor*s
	out.Mean = verdict(out.BetterG >= -batch.MeanFactor*s)
	out.Few = verdict(out.Short <= batch.AcceptShort)
	out.Never = verdict(out.TooShort == 0)
	out.Overall = verdict(out.Mean == Pass && out.Few == Pass && out.Never == Pass)
	return out, nil
}

func verdict(ok bool) Verdict {
	if ok {
		return Pass
	}
	return Fail
}

// The packer's rules, as shares of packs.
const (
	// FewShortPct is how many packs may be under Q_n − T_1, %: one in forty,
	// OIML R 87 and the guidance to 76/211/EEC; opened in the United
	// Kingdom's guidance ("about 2.5 %").
	FewShortPct = 2.5

	// NeverShortPct is how many packs under Q_n − 2·T_1 count as none, %: one
	// in ten thousand, the United Kingdom's packers' guidance; memory.
	NeverShortPct = 0.01
)

// A Fill is a filling line whose target is to be set.
//
// The zero Fill is refused.
type Fill struct {
	NominalG decimal.Decimal // Q_n, g
	SpreadG  float64         // standard deviation of filled packs, g
	DriftG   decimal.Decimal // how far the setting may wander between two checks, and how well the mean is known, g
	StepG    decimal.Decimal // step in which the target can be set, g
}

// Rule is which of the three rules sets a target. The zero Rule is none.
type Rule uint8

// The rules.
const (
	MeanRule  Rule = iota + 1 // the mean must be the nominal content
	FewRule                   // few packs under Q_n − T_1
	NeverRule                 // none under Q_n − 2·T_1
)

var rules = [...]string{"no rule", "the mean must reach the nominal content",
	"few packs may be under the nominal content less the tolerable shortage",
	"no pack may be under the nominal content less twice the tolerable shortage"}

// String is the rule in words.
func (r Rule) String() string {
	if int(r) < len(rules) {
		return rules[r]
	}
	return rules[0]
}

// Target is what [FillTarget] found.
type Target struct {
	TargetG     decimal.Decimal // to what the filler is set, g
	OverfillG   decimal.Decimal // target less nominal content, g
	Governs     Rule            // the rule that asks for most
	UnderPct    float64         // packs under Q_n at that target, without drift, %
	ShortPct    float64         // packs under Q_n − T_1, %
	TooShortPct float64         // packs under Q_n − 2·T_1, %
	Shortage    Shortage
	Notes       Notes
}

// FillTarget returns the content that a filler must be set to so that all
// three rules of packers are kept at a given spread.
//
//	target ≥ Q_n
//	target ≥ Q_n − T_1 + 1.960·s     FewShortPct below
//	target ≥ Q_n − 2·T_1 + 3.719·s   NeverShortPct below
//	and the largest of them, plus the drift, rounded up to the step
//
//	Q_n   fill.NominalG   g   accepted MinNominalG to MaxNominalG
//	s     fill.SpreadG    g   accepted 0 to MaxSpreadG
//	      fill.DriftG     g   accepted 0 to MaxSpreadG
//	      fill.StepG      g   accepted MinIntervalG to MaxSpreadG
//	T_1   from TolerableShortage
//
// A normal spread is assumed: a filler that sometimes drops a whole scoop
// short is not, and wants every pack weighed. Half of the packs of a 250 g
// line set to 250.0 g are lawfully under 250 g. For 250 g the spread must pass
// 4.6 g before any rule but the mean governs. Fields outside their range are
// refused with an [*InputError].
//
// Source: Council Directive 76/211/EEC, annex I; the normal quantiles of
// FewShortPct and NeverShortPct.
func FillTarget(fill Fill) (Target, error) {
	short, err := allowed("NominalG", fill.NominalG)
	var bad []*FieldError
	if err != nil {
		bad = err.(*InputError).Fields
	}
	bad = fault.Float(bad, "SpreadG", fill.SpreadG, 0, MaxSpreadG, "g")
	bad = fault.Decimal(bad, "DriftG", fill.DriftG, 0, MaxSpreadG, "g")
	bad = fault.Decimal(bad, "StepG", fill.StepG, MinIntervalG, MaxSpreadG, "g")
	if err := fault.Input(bad); err != nil {
		return Target{}, err
	}
	t1 := short.T1G.InexactFloat64()
	few := zFew*fill.SpreadG - t1
	never := zNever*fill.SpreadG - 2*t1
	over := decimal.Decimal{}
	out := Target{Governs: MeanRule, Shortage: short, Notes: short.Notes}
	switch {
	case few > 0 && few >= never:
		out.Governs, over = FewRule, decimal.NewFromFloat(few)
	case never > 0:
		out.Governs, over = NeverRule, decimal.NewFromFloat(never)
	}
	want := fill.NominalG.Add(over).Add(fill.DriftG)
	out.TargetG = fill.StepG.Mul(ceilQuotient(want, fill.StepG))
	out.OverfillG = out.TargetG.Sub(fill.NominalG)
	above := out.OverfillG.InexactFloat64()
	out.UnderPct = belowPct(-above, fill.SpreadG)
	out.ShortPct = belowPct(-above-t1, fill.SpreadG)
	out.TooShortPct = belowPct(-above-2*t1, fill.SpreadG)
	return out, nil
}

// The normal quantiles of FewShortPct and NeverShortPct.
const (
	zFew   = 1.959963984540054
	zNever = 3.719016485455709
)

// belowPct is the share of packs, in percent, that lie under a limit which is
// over the target by d.
func belowPct(d, s float64) float64 {
	if s == 0 { // every pack is at the target, which is not under its limits
		return 0
	}
	return 100 * num.NormalCDF(d/s)
}

// A Run is a run of packs with the mean content that it really had.
//
// The zero Run is refused.
type Run struct {
	NominalG decimal.Decimal // Q_n, g
	MeanG    decimal.Decimal // mean content, g
	Packs    int             // a count
}

// Given is what [Giveaway] found. All of it is negative where the packs were
// short on average.
type Given struct {
	PerPackG decimal.Decimal // g
	TotalKG  decimal.Decimal // kg
	Packs    decimal.Decimal // in packs of nominal content, rounded to 0.01
	SharePct decimal.Decimal // of the nominal content, %, rounded to 0.0001
}

// Giveaway returns what a run gave away by overfilling, in kilograms and in
// packs that it could have filled.
//
//	g = x̄ − Q_n;  total = N·g;  packs = N·g/Q_n;  share = 100·g/Q_n
//
//	Q_n   run.NominalG   g   accepted MinNominalG to MaxNominalG
//	x̄     run.MeanG      g   accepted 0 to 2·MaxNominalG
//	N     run.Packs          accepted 1 to MaxBatch
//
// Sums and products are exact. Some of it is the price of the rules, see
// [FillTarget]; the rest is the filler's spread and caution. Fields outside
// their range are refused with an [*InputError].
//
// Source: definition.
func Giveaway(run Run) (Given, error) {
	bad := fault.Decimal(nil, "NominalG", run.NominalG, MinNominalG, MaxNominalG, "g")
	bad = fault.Decimal(bad, "MeanG", run.MeanG, 0, 2*MaxNominalG, "g")
	bad = fault.Int(bad, "Packs", run.Packs, 1, MaxBatch, "packs")
	if err := fault.Input(bad); err != nil {
		return Given{}, err
	}
	g := run.MeanG.Sub(run.NominalG)
	total := g.Mul(decimal.NewFromInt(int64(run.Packs)))
	return Given{
		PerPackG: g,
		TotalKG:  total.Shift(-3),
		Packs:    total.DivRound(run.NominalG, 2),
		SharePct: g.Shift(2).DivRound(run.NominalG, 4),
	}, nil
}
