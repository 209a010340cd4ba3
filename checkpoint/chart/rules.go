package chart

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// Rules are run rules: a set of bits. The zero Rules is none.
type Rules uint16

// The rules, by their number in Nelson's list; Run8 is the fourth of the
// Western Electric rules, which has 8 where Nelson has 9.
const (
	Beyond     Rules = 1 << iota // 1: a point beyond three sigma
	Run9                         // 2: nine points running on one side of the centre
	Trend                        // 3: six points running that rise or fall all the way
	Zigzag                       // 4: fourteen points running that go up and down in turn
	TwoOfThree                   // 5: two of three points beyond two sigma on one side
	FourOfFive                   // 6: four of five points beyond one sigma on one side
	Hugging                      // 7: fifteen points running within one sigma
	Avoiding                     // 8: eight points running with none within one sigma, on both sides
	Run8                         // Western Electric 4: eight points running on one side of the centre
	ruleCount  = iota
)

const (
	// Nelson is all of Nelson's rules. Nelson, J. Quality Technology 16(4),
	// 1984; quoted.
	Nelson = Beyond | Run9 | Trend | Zigzag | TwoOfThree | FourOfFive | Hugging | Avoiding

	// WesternElectric is the four of the handbook of 1956; opened in an open
	// textbook.
	WesternElectric = Beyond | TwoOfThree | FourOfFive | Run8

	// DefaultRules are two rules for a small team: with all four of Western
	// Electric a still process is called out once in 92 points, with these
	// once in 225. Common practice.
	DefaultRules = Beyond | TwoOfThree
)

// The lengths of the rules' runs, in points.
const (
	Run9Length     = 9  // points on one side, Nelson's rule 2
	TrendLength    = 6  // points rising or falling, rule 3
	ZigzagLength   = 14 // points up and down in turn, rule 4
	HuggingLength  = 15 // points within one sigma, rule 7
	AvoidingLength = 8  // points with none within one sigma, rule 8
	Run8Length     = 8  // points on one side, Western Electric
)

// Number is the rule's number as the literature gives it: "1" to "8" of
// Nelson's list, "WE4".
func (r Rules) Number() string {
	return r.join(func(i int) string {
		if 1<<i == int(Run8) {
			return "WE4"
		}
		return strconv.Itoa(i + 1)
	}, ", ")
}

// String says the rules in plain words.
func (r Rules) String() string {
	text := [ruleCount]string{
		"beyond three sigma",
		"nine running on one side of the centre",
		"six running that rise or fall",
		"fourteen running up and down in turn",
		"two of three beyond two sigma on one side",
		"four of five beyond one sigma on one side",
		"fifteen running within one sigma",
		"eight running with none within one sigma",
		"eight running on one side of the centre",
	}
	return r.join(func(i int) string { return text[i] }, "; ")
}

func (r Rules) join(name func(int) string, sep string) string {
	s := ""
	for i := range ruleCount {
		if r&(1<<i) == 0 {
			continue
		}
		if s != "" {
			s += sep
		}
		s += name(i)
	}
	return s
}

// Check says for each point which of the rules it completes; 0 where none.
//
//	x      x      unit of the lines, in order of time, 1 to 1 000 000, each within ±1e15
//	lines  lines  Centre within ±1e15, Sigma 1e-300 to 1e15; Lower and Upper
//	              count for rule 1 in place of three sigma
//	rules  rules  any set but none
//
// A point on a line is not beyond it. Each completed pattern marks its last
// point only; the run that it ends reaches back by the rule's length. Rules 1
// and 5 of limits that are not symmetric (a range) mean little: take rule 1
// alone there.
//
// Source: Nelson, The Shewhart control chart: tests for special causes, J.
// Quality Technology 16(4), 1984; Western Electric, Statistical quality
// control handbook, 1956.
func Check(x []float64, lines Lines, rules Rules) ([]Rules, error) {
	bad := checkPoints(nil, "x", x, 1)
	bad = lines.check(bad)
	if rules == 0 || rules >= 1<<ruleCount {
		bad = append(bad, &FieldError{Field: "rules", Given: strconv.Itoa(int(rules)), Min: 1, Max: 1<<ruleCount - 1, Why: "a set of rules, not an empty one"})
	}
	if bad != nil {
		return nil, fault.Input(bad)
	}
	marks := make([]Rules, len(x))
	var s runs
	for i, v := range x {
		z := (v - lines.Centre) / lines.Sigma
		beyond := v < lines.Lower || v > lines.Upper
		if i > 0 {
			s.turn(v - x[i-1])
		}
		marks[i] = s.next(z, beyond) & rules
	}
	return marks, nil
}

func (l Lines) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "Centre", l.Centre, -MaxMagnitude, MaxMagnitude, "")
	bad = fault.Float(bad, "Lower", l.Lower, math.Inf(-1), l.Centre, "")
	bad = fault.Float(bad, "Upper", l.Upper, l.Centre, math.Inf(1), "")
	return fault.Float(bad, "Sigma", l.Sigma, 1e-300, MaxMagnitude, "")
}

// runs is what must be remembered of the points before: comparable, so that
// it is also the state of a Markov chain.
type runs struct {
	above, below         uint8    // points running on one side
	two                  [2]uint8 // the last two beyond two sigma, as bits: above, below
	four                 [2]uint8 // the last four beyond one sigma
	within, outside      uint8    // points running within, outside one sigma
	both                 [2]uint8 // of the outside run: how many points ago one lay above, below; 0 never
	rising, falling, zig uint8    // steps running
	last                 int8     // sign of the last step
}

// turn takes the step from the point before.
func (s *runs) turn(step float64) {
	sign := int8(0)
	if step > 0 {
		sign = 1
	} else if step < 0 {
		sign = -1
	}
	grow := func(n *uint8, on bool) {
		if !on {
			*n = 0
		} else if *n < 200 {
			*n++
		}
	}
	grow(&s.rising, sign > 0)
	grow(&s.falling, sign < 0)
	switch {
	case sign == 0:
		s.zig = 0
	case sign == -s.last:
		grow(&s.zig, true)
	default:
		s.zig = 1
	}
	s.last = sign
}

// next takes a point, z sigma above the centre, and returns the rules that it
// completes.
func (s *runs) next(z float64, beyond bool) (r Rules) {
	grow := func(n *uint8, on bool, most uint8) {
		if !on {
			*n = 0
		} else if *n < most {
			*n++
		}
	}
	grow(&s.above, z > 0, Run9Length)
	grow(&s.below, z < 0, Run9Length)
	one := math.Abs(z) > 1
	grow(&s.within, !one, HuggingLength)
	grow(&s.outside, one, AvoidingLength)
	for i, side := range [2]float64{z, -z} {
		two, four := s.two[i]<<1&3, s.four[i]<<1&15
		now2, now1 := side > 2, side > 1
		if now2 && s.two[i] != 0 {
			r |= TwoOfThree
		}
		if now1 && ones(s.four[i]) >= 3 {
			r |= FourOfFive
		}
		if now2 {
			two |= 1
		}
		if now1 {
			four |= 1
		}
		s.two[i], s.four[i] = two, four
		// How long ago this side was last seen in the run outside one sigma.
		switch {
		case !one:
			s.both[i] = 0
		case now1:
			s.both[i] = 1
		case s.both[i] > 0:
			if s.both[i]++; s.both[i] > AvoidingLength {
				s.both[i] = 0
			}
		}
	}
	if beyond {
		r |= Beyond
	}
	if s.above >= Run9Length || s.below >= Run9Length {
		r |= Run9
	}
	if s.above >= Run8Length || s.below >= Run8Length {
		r |= Run8
	}
	if s.rising >= TrendLength-1 || s.falling >= TrendLength-1 {
		r |= Trend
	}
	if s.zig >= ZigzagLength-1 {
		r |= Zigzag
	}
	if s.within >= HuggingLength {
		r |= Hugging
	}
	if s.outside >= AvoidingLength && s.both[0] > 0 && s.both[1] > 0 {
		r |= Avoiding
	}
	return r
}

func ones(b uint8) (n int) {
	for ; b != 0; b &= b - 1 {
		n++
	}
	return n
}
