package panel

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

func itoa(n int) string { return strconv.Itoa(n) }

// A Design is a difference test with a panel of given size and the true
// effect that it meets.
//
// The zero Design is refused.
type Design struct {
	Method     Method
	Assessors  int     // n
	RiskPct    float64 // α, %
	CorrectPct float64 // true share of right answers p_c, %, from CorrectPct or CorrectAtPct
}

// Chance is the power of a test.
type Chance struct {
	PowerPct      float64 // chance of the outcome looked for, %
	CriticalCount int     // right answers that decide
	ActualRiskPct float64 // the risk really taken with that count, %: at most the one allowed
	Notes         Notes
}

// Power returns the chance that the panel finds a difference which is there.
//
//	1 − β = P(X ≥ x_c), X binomial with n and p_c; x_c from CriticalCount
//
//	n     design.Assessors    accepted 1 to MaxAssessors
//	α     design.RiskPct      %   accepted MinRiskPct to MaxRiskPct
//	p_c   design.CorrectPct   %   accepted p_0 to 100
//
// The power rises and falls like a saw as tasters are added, because the
// count is whole: see [Assessors]. Fields outside their range are refused
// with an [*InputError]; a panel too small to decide at all is an
// [*ImpossibleError], as in [CriticalCount].
//
// Source: Christensen, Statistical methodology for sensory discrimination
// tests, 2023, 3.2; Ennis, The power of sensory discrimination methods, 1993.
func Power(design Design) (Chance, error) {
	bad := checkMethod(nil, "Method", design.Method)
	bad = fault.Int(bad, "Assessors", design.Assessors, 1, MaxAssessors, "")
	bad = fault.Float(bad, "RiskPct", design.RiskPct, MinRiskPct, MaxRiskPct, "%")
	bad = fault.Float(bad, "CorrectPct", design.CorrectPct, leastCorrect(design.Method), 100, "%")
	if err := fault.Input(bad); err != nil {
		return Chance{}, err
	}
	c, err := CriticalCount(design.Method, design.Assessors, design.RiskPct)
	if err != nil {
		return Chance{}, err
	}
	out := Chance{
		PowerPct:      100 * num.BinomialUpper(c, design.Assessors, design.CorrectPct/100),
		CriticalCount: c,
		ActualRiskPct: 100 * num.BinomialUpper(c, design.Assessors, design.Method.chance()),
	}
	if design.Assessors < publishedAssessors {
		out.Notes |= FewAssessors
	}
	return out, nil
}

// leastCorrect is the smallest accepted share of right answers, %.
func leastCorrect(m Method) float64 { return 100 * m.chance() }

// A Goal is a difference test that is to be planned.
//
// The zero Goal is refused.
type Goal struct {
	Method     Method
	RiskPct    float64 // α, %
	PowerPct   float64 // 1 − β, %
	CorrectPct float64 // share of right answers of the difference to be found, %
}

// Size is how many assessors a plan takes.
type Size struct {
	Smallest int // the smallest panel that has the power
	Stable   int // from this size on every larger panel has it too
}

// Assessors returns how many tasters it takes to find a difference.
//
//	n = min n with P(X ≥ x_c(n)) ≥ 1 − β, X binomial with n and p_c
//
//	α       goal.RiskPct      %   accepted MinRiskPct to MaxRiskPct
//	1 − β   goal.PowerPct     %   accepted MinPowerPct to MaxPowerPct
//	p_c     goal.CorrectPct   %   accepted p_0 + 0.5 to 100
//
// Because the critical count is whole, one taster more can cost power: 297
// tasters can suffice where 300 do not. Size.Stable is the panel to plan for
// when one taster may fall ill or bring a friend; it was looked for up to
// twice the smallest panel and a hundred more, where the power is far above
// the one asked for.
//
// Fields outside their range are refused with an [*InputError]. A plan that
// needs more than MaxAssessors is an [*ImpossibleError].
//
// Source: ISO 4120:2021, table A.3; Christensen, Statistical methodology for
// sensory discrimination tests, 2023, 3.2.6.
func Assessors(goal Goal) (Size, error) {
	bad := checkMethod(nil, "Method", goal.Method)
	bad = fault.Float(bad, "RiskPct", goal.RiskPct, MinRiskPct, MaxRiskPct, "%")
	bad = fault.Float(bad, "PowerPct", goal.PowerPct, MinPowerPct, MaxPowerPct, "%")
	bad = fault.Float(bad, "CorrectPct", goal.CorrectPct, leastCorrect(goal.Method)+0.5, 100, "%")
	if err := fault.Input(bad); err != nil {
		return Size{}, err
	}
	s, ok := size(goal.Method.chance(), goal.CorrectPct/100, goal.RiskPct/100, goal.PowerPct/100)
	if !ok {
		return Size{}, &ImpossibleError{Quantity: "panel of at most 10000",
			Why: "so small a difference takes more tasters", Field: "CorrectPct",
			Given: fault.Shortest(goal.CorrectPct), Min: goal.enough(), Max: 100, Unit: "%"}
	}
	return s, nil
}

// enough is a share of right answers, %, for which MaxAssessors have the power.
func (g Goal) enough() float64 {
	c := critical(MaxAssessors, g.Method.chance(), g.RiskPct/100)
	p, _ := num.Root(func(p float64) float64 { return num.BinomialUpper(c, MaxAssessors, p) - g.PowerPct/100 },
		g.Method.chance(), 1, 1e-9)
	return math.Ceil(1e4*p) / 100
}

// size finds the panels with the power, where p0 is the share under no effect
// and p1 > p0 the one to be found.
func size(p0, p1, alpha, power float64) (s Size, ok bool) {
	last, c := 0, 0 // the last panel that misses the power; the critical count so far
	for n := 1; n <= MaxAssessors || s.Smallest > 0; n++ {
		c = criticalFrom(c, n, p0, alpha)                 // it never falls as n grows
		if num.BinomialUpper(c, n, p1) >= power*(1-tie) { // 0 where c is n + 1
			if s.Smallest == 0 {
				s.Smallest = n
			}
		} else {
			last = n
		}
		if s.Smallest > 0 && n >= 2*s.Smallest+100 {
			break
		}
	}
	s.Stable = last + 1
	return s, s.Smallest > 0
}

// A LikenessGoal is a similarity test that is to be planned.
//
// The zero LikenessGoal is refused.
type LikenessGoal struct {
	Method                Method
	RiskPct               float64 // risk of calling coffees alike that are not, %
	PowerPct              float64 // chance of finding them alike, %
	MaxDiscriminatorsPct  float64 // share of discriminators that would matter, %
	TrueDiscriminatorsPct float64 // share that is truly there, %; 0 where they are the same coffee
}

// AlikeAssessors returns how many tasters it takes to show that coffees are
// alike.
//
//	n = min n with P(X ≤ x_s(n)) ≥ 1 − β, X binomial with n and p_c of the truth
//
//	x_s                               from AlikeCount
//	α       goal.RiskPct               %   accepted MinRiskPct to MaxRiskPct
//	1 − β   goal.PowerPct              %   accepted MinPowerPct to MaxPowerPct
//	        goal.MaxDiscriminatorsPct  %   accepted 1 to 99
//	        goal.TrueDiscriminatorsPct %   accepted 0 to MaxDiscriminatorsPct − 0.5
//
// The panel is far larger than for a difference. Fields outside their range
// are refused with an [*InputError]; a plan that needs more than MaxAssessors
// is an [*ImpossibleError]. Size.Stable is as in [Assessors].
//
// Source: ISO 4120:2021, 10.3; Christensen, Statistical methodology for
// sensory discrimination tests, 2023, 3.2.
func AlikeAssessors(goal LikenessGoal) (Size, error) {
	bad := checkMethod(nil, "Method", goal.Method)
	bad = fault.Float(bad, "RiskPct", goal.RiskPct, MinRiskPct, MaxRiskPct, "%")
	bad = fault.Float(bad, "PowerPct", goal.PowerPct, MinPowerPct, MaxPowerPct, "%")
	top, before := 98.5, len(bad)
	bad = fault.Float(bad, "MaxDiscriminatorsPct", goal.MaxDiscriminatorsPct, 1, 99, "%")
	if len(bad) == before {
		top = goal.MaxDiscriminatorsPct - 0.5
	}
	bad = fault.Float(bad, "TrueDiscriminatorsPct", goal.TrueDiscriminatorsPct, 0, top, "%")
	if err := fault.Input(bad); err != nil {
		return Size{}, err
	}
	// Wrong answers are many where the coffees are alike: the same test,
	// counted from the other end.
	m := goal.Method
	s, ok := size(1-m.correct(goal.MaxDiscriminatorsPct/100), 1-m.correct(goal.TrueDiscriminatorsPct/100),
		goal.RiskPct/100, goal.PowerPct/100)
	if !ok {
		none := &ImpossibleError{Quantity: "panel of at most 10000",
			Why: "the true share lies too near the one that would matter", Field: "MaxDiscriminatorsPct",
			Given: fault.Shortest(goal.MaxDiscriminatorsPct), Max: 99, Unit: "%"}
		if none.Min, ok = goal.enough(); !ok {
			none.Field, none.Given = "TrueDiscriminatorsPct", fault.Shortest(goal.TrueDiscriminatorsPct)
			none.Min, none.Max = 0, goal.few()
		}
		return Size{}, none
	}
	return s, nil
}

// enough is a MaxDiscriminatorsPct for which MaxAssessors have the power; ok is
// false where none that is accepted is.
func (g LikenessGoal) enough() (pct float64, ok bool) {
	truth := g.TrueDiscriminatorsPct / 100
	p, ok := num.Root(func(pd float64) float64 { return g.beyond(pd, truth) }, truth, 0.99, 1e-9)
	return math.Ceil(1e4*p) / 100, ok
}

// few is a TrueDiscriminatorsPct for which MaxAssessors have the power.
func (g LikenessGoal) few() float64 {
	matters := g.MaxDiscriminatorsPct / 100
	p, _ := num.Root(func(truth float64) float64 { return g.beyond(matters, truth) }, 0, matters, 1e-9)
	return math.Floor(1e4*p) / 100
}

// beyond is by how much the power of MaxAssessors exceeds the one asked for,
// where a share matters would matter and the share truth is there.
func (g LikenessGoal) beyond(matters, truth float64) float64 {
	x := alike(MaxAssessors, g.Method.correct(matters), g.RiskPct/100)
	return num.BinomialLower(x, MaxAssessors, g.Method.correct(truth)) - g.PowerPct/100
}
