package panel

import (
	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The accepted ranges of discrimination tests.
const (
	// MaxAssessors is the largest panel accepted, a count.
	MaxAssessors = 10000

	// MinRiskPct and MaxRiskPct bound a risk of error, %. A fraction given
	// for a percent, 0.05 for 5, falls below.
	MinRiskPct = 0.1
	MaxRiskPct = 50

	// MinPowerPct and MaxPowerPct bound the power asked for, %: under a half
	// a coin is the better panel.
	MinPowerPct = 50
	MaxPowerPct = 99.99

	// MinConfidencePct and MaxConfidencePct bound the confidence of an
	// interval, %. A fraction given for a percent falls below.
	MinConfidencePct = 50
	MaxConfidencePct = 99.99

	// DefaultRiskPct is the risk of a wrong call of difference that sensory
	// practice takes, %: common practice, and a table column of every ISO
	// discrimination test.
	DefaultRiskPct = 5

	// DefaultPowerPct is the power that most plans ask for, %: common
	// practice (Cohen, Statistical Power Analysis, 1988).
	DefaultPowerPct = 80

	// tie is the relative slack by which a probability counts as equal to a
	// risk: four of four right by guessing a half is 6.25 %, not more.
	tie = 1e-11
)

// Notes says what to tell the reader beside an answer. The zero Notes is
// nothing to tell.
type Notes uint32

// The notes.
const (
	// BelowChance: fewer right answers than guessing gives; the best estimate
	// of the difference is none.
	BelowChance Notes = 1 << iota
	// FewAssessors: fewer than the 6 with which the published tables begin.
	FewAssessors
	// Approximate: the probability is that of a χ² distribution, since the
	// table is too large to enumerate.
	Approximate
	// Extrapolated: the answer lies after the last week that was cupped.
	Extrapolated
	// FarAhead: it lies after the last week by more than the weeks cupped
	// span; a straight line is not to be trusted so far.
	FarAhead
	// AlreadyUnder: the line was under the threshold by the last week cupped.
	AlreadyUnder
	// NoICC2K: the residual outweighs the coffees so far that ICC(2,k) does
	// not exist; it is given as 0.
	NoICC2K
)

var clauses = [...]string{
	"fewer right answers than guessing gives",
	"fewer assessors than the published tables begin with",
	"by the chi-squared approximation",
	"after the last week cupped",
	"further ahead than the weeks cupped span",
	"already under the threshold by the last week cupped",
	"no ICC(2,k): the residual outweighs the coffees",
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

// publishedAssessors is the smallest panel of the tables in ISO 4120.
const publishedAssessors = 6

// A Trial is the outcome of one discrimination test, one assessment per
// taster.
//
// The zero Trial is refused: it has no method and nobody tasted.
type Trial struct {
	Method    Method
	Assessors int // assessments, n
	Correct   int // right answers among them, x
}

func (t Trial) check(bad []*FieldError) []*FieldError {
	bad = checkMethod(bad, "Method", t.Method)
	bad = fault.Int(bad, "Assessors", t.Assessors, 1, MaxAssessors, "")
	return fault.Int(bad, "Correct", t.Correct, 0, max(0, min(t.Assessors, MaxAssessors)), "")
}

func (t Trial) notes() (n Notes) {
	if float64(t.Correct) < float64(t.Assessors)*t.Method.chance() {
		n |= BelowChance
	}
	if t.Assessors < publishedAssessors {
		n |= FewAssessors
	}
	return n
}

// Difference is what [ByChance] found.
type Difference struct {
	ByChancePct float64 // how often guessing alone does as well or better, %
	Notes       Notes
}

// ByChance returns how often tasters who all guess would give as many right
// answers or more: the one-sided exact p value of a difference test.
//
//	p = Σ C(n, i)·p_0^i·(1 − p_0)^(n−i), i from x to n
//
//	n, x   trial.Assessors, trial.Correct   accepted 1 to MaxAssessors, 0 to n
//
// Fewer right answers than chance and fewer than 6 assessors are noted. Any
// field outside its range is refused with an [*InputError].
//
// A large value does not show that the coffees are alike: see [Alike].
//
// Source: ISO 4120:2021, 10; ISO 10399:2017; ISO 5495:2005, one-sided.
func ByChance(trial Trial) (Difference, error) {
	if err := fault.Input(trial.check(nil)); err != nil {
		return Difference{}, err
	}
	p := num.BinomialUpper(trial.Correct, trial.Assessors, trial.Method.chance())
	return Difference{100 * p, trial.notes()}, nil
}

// PreferenceByChancePct returns how often a panel without any preference, of
// assessors tasters who had to choose, splits at least as unevenly as
// chose against the rest: the two-sided exact p value of a paired preference
// test, in percent.
//
//	p = min(1, 2·P(X ≥ max(x, n − x))), X binomial with n and 1/2
//
//	n, x   assessors, chose   accepted 1 to MaxAssessors, 0 to n
//
// Counts outside their range are refused with an [*InputError].
//
// Source: ISO 5495:2005, two-sided.
func PreferenceByChancePct(assessors, chose int) (float64, error) {
	bad := fault.Int(nil, "assessors", assessors, 1, MaxAssessors, "")
	bad = fault.Int(bad, "chose", chose, 0, max(0, min(assessors, MaxAssessors)), "")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	p := 2 * num.BinomialUpper(max(chose, assessors-chose), assessors, 0.5)
	return 100 * min(1, p), nil
}

// CriticalCount returns the smallest number of right answers that shows a
// difference at a risk of riskPct of calling one that is none.
//
//	x_c = min x with P(X ≥ x) ≤ α, X binomial with n and p_0
//
//	n   assessors   accepted 1 to MaxAssessors
//	α   riskPct     %   accepted MinRiskPct to MaxRiskPct
//
// Fields outside their range are refused with an [*InputError]. Where even
// all answers right do not suffice the answer is an [*ImpossibleError] that
// names the smallest panel that can decide.
//
// Source: ISO 4120:2021, table A.1; ISO 10399:2017, table A.1.
func CriticalCount(method Method, assessors int, riskPct float64) (int, error) {
	bad := checkMethod(nil, "method", method)
	bad = fault.Int(bad, "assessors", assessors, 1, MaxAssessors, "")
	bad = fault.Float(bad, "riskPct", riskPct, MinRiskPct, MaxRiskPct, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	c := critical(assessors, method.chance(), riskPct/100)
	if c > assessors {
		least := assessors
		for critical(least, method.chance(), riskPct/100) > least {
			least++
		}
		return 0, &ImpossibleError{Quantity: "critical count", Why: "all answers right would still be guessed too often",
			Field: "assessors", Given: itoa(assessors), Min: float64(least), Max: MaxAssessors}
	}
	return c, nil
}

// critical is the smallest x with P(X ≥ x) ≤ alpha; n + 1 where there is none.
func critical(n int, p, alpha float64) int {
	// Up to the whole part of the mean, which the median is never under, the
	// tail is over a half: no accepted risk allows that.
	return criticalFrom(int(float64(n)*p), n, p, alpha)
}

// criticalFrom looks for it from x on. It ends with 0 at n + 1.
func criticalFrom(x, n int, p, alpha float64) int {
	for num.BinomialUpper(x, n, p) > alpha*(1+tie) {
		x++
	}
	return x
}

// A Likeness asks whether coffees are alike enough: whether fewer than
// MaxDiscriminatorsPct of the tasters can tell them apart.
//
// The zero Likeness is refused.
type Likeness struct {
	Trial
	MaxDiscriminatorsPct float64 // the share of discriminators that would matter, %
}

// Alike returns how often a panel would give as few right answers or fewer
// if MaxDiscriminatorsPct of the tasters could tell the coffees apart: the p
// value of a similarity test. Where it is at most the risk taken, the coffees
// are alike to that degree.
//
//	p = P(X ≤ x), X binomial with n and p_0 + p_d·(1 − p_0)
//
//	n, x   like.Assessors, like.Correct   accepted 1 to MaxAssessors, 0 to n
//	p_d    like.MaxDiscriminatorsPct      %   accepted 1 to 99
//
// As a rule of thumb of ISO 4120 (memory), under 25 % of discriminators is a
// small share and over 35 % a large one. Fewer than 6 assessors are
// noted; fields outside their range are refused with an [*InputError].
//
// Source: ISO 4120:2021, 10.3; Meilgaard, Civille & Carr, Sensory Evaluation Techniques.
func Alike(like Likeness) (Difference, error) {
	bad := like.check(nil)
	bad = fault.Float(bad, "MaxDiscriminatorsPct", like.MaxDiscriminatorsPct, 1, 99, "%")
	if err := fault.Input(bad); err != nil {
		return Difference{}, err
	}
	p := num.BinomialLower(like.Correct, like.Assessors, like.Method.correct(like.MaxDiscriminatorsPct/100))
	return Difference{100 * p, like.notes()}, nil
}

// AlikeCount returns the largest number of right answers that still shows the
// coffees to be alike: that fewer than maxDiscriminatorsPct tell them apart,
// at a risk of riskPct of being wrong.
//
//	x_s = max x with P(X ≤ x) ≤ β, X binomial with n and p_0 + p_d·(1 − p_0)
//
//	n     assessors              accepted 1 to MaxAssessors
//	p_d   maxDiscriminatorsPct   %   accepted 1 to 99
//	β     riskPct                %   accepted MinRiskPct to MaxRiskPct
//
// Fields outside their range are refused with an [*InputError]. Where even no
// right answer does not suffice the answer is an [*ImpossibleError] that names
// the smallest panel that can decide.
//
// Source: ISO 4120:2021, table A.2.
func AlikeCount(method Method, assessors int, maxDiscriminatorsPct, riskPct float64) (int, error) {
	bad := checkMethod(nil, "method", method)
	bad = fault.Int(bad, "assessors", assessors, 1, MaxAssessors, "")
	bad = fault.Float(bad, "maxDiscriminatorsPct", maxDiscriminatorsPct, 1, 99, "%")
	bad = fault.Float(bad, "riskPct", riskPct, MinRiskPct, MaxRiskPct, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	pc, beta := method.correct(maxDiscriminatorsPct/100), riskPct/100
	x := alike(assessors, pc, beta)
	if x < 0 {
		least := assessors
		for alike(least, pc, beta) < 0 {
			least++
		}
		return 0, &ImpossibleError{Quantity: "count that shows likeness", Why: "even no right answer would happen too often",
			Field: "assessors", Given: itoa(assessors), Min: float64(least), Max: MaxAssessors}
	}
	return x, nil
}

// alike is the largest x with P(X ≤ x) ≤ beta: by symmetry, from the critical
// count of wrong answers. It is −1 where there is none.
func alike(n int, pc, beta float64) int { return n - critical(n, 1-pc, beta) }

// Strength is what [Estimate] found: the difference with its exact interval.
type Strength struct {
	CorrectPct, LowerCorrectPct, UpperCorrectPct                      float64
	DiscriminatorsPct, LowerDiscriminatorsPct, UpperDiscriminatorsPct float64
	Notes                                                             Notes
}

// Estimate returns how strong the difference is: the share of right answers
// and of tasters who tell the coffees apart, each with an exact two-sided
// interval.
//
//	p_c          = x/n
//	lower limit:   P(X ≥ x) = (1 − γ)/2 at p_c,lower; 0 where x = 0
//	upper limit:   P(X ≤ x) = (1 − γ)/2 at p_c,upper; 1 where x = n
//	p_d          = max(0, (p_c − p_0)/(1 − p_0)), likewise its limits
//
//	n, x   trial.Assessors, trial.Correct   accepted 1 to MaxAssessors, 0 to n
//	γ      confidencePct                    %   accepted MinConfidencePct to MaxConfidencePct
//
// A share of discriminators cannot be negative: with fewer right answers than
// chance the estimate is 0, with a note. The distance d′ and its limits come
// from [DPrime] of the shares of right answers. Fields outside their range
// are refused with an [*InputError].
//
// Source: Clopper & Pearson, Biometrika 26, 1934; Christensen, Statistical
// methodology for sensory discrimination tests, 2023.
func Estimate(trial Trial, confidencePct float64) (Strength, error) {
	bad := trial.check(nil)
	bad = fault.Float(bad, "confidencePct", confidencePct, MinConfidencePct, MaxConfidencePct, "%")
	if err := fault.Input(bad); err != nil {
		return Strength{}, err
	}
	n, x := trial.Assessors, trial.Correct
	tail := (1 - confidencePct/100) / 2
	pc, lo, hi := float64(x)/float64(n), 0.0, 1.0
	if x > 0 {
		lo, _ = num.Root(func(p float64) float64 { return num.BinomialUpper(x, n, p) - tail }, 0, pc, 1e-14)
	}
	if x < n {
		hi, _ = num.Root(func(p float64) float64 { return num.BinomialLower(x, n, p) - tail }, pc, 1, 1e-14)
	}
	pd := func(p float64) float64 { return 100 * max(0, trial.Method.discriminators(p)) }
	return Strength{100 * pc, 100 * lo, 100 * hi, pd(pc), pd(lo), pd(hi), trial.notes()}, nil
}
