package chart

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/evenlot/internal/num"
)

// The lower line of ranges is zero for groups of up to six: D₃ shows only
// above, where it is 0.2230 for ten (row D3-n10 of the published values).
func TestLowerLineOfRanges(t *testing.T) {
	x := normals(200, 3)
	for size, d3 := range map[int]float64{6: 0, 10: 0.2230} {
		p, err := MeanAndRange(x[:20*size], size)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Spread.Lower / p.Spread.Centre; !(math.Abs(got-d3) <= 0.0005) {
			t.Errorf("groups of %d: D3 is %v, want %v", size, got, d3)
		}
	}
}

// What a refusal names: the input, what was given, both ends and the reason.
func TestWhatARefusalNames(t *testing.T) {
	x := []float64{1, 2, 4, 3}
	one := func(_ any, err error) error { return err }
	still := func(mean, sd, lo, hi float64) error {
		_, err := Capability(Still{mean, sd, 9, 10, lo, hi, 95})
		return err
	}
	for _, c := range []struct {
		err  error
		want string
	}{
		{still(10, 1, -inf, inf), "Hi is +Inf; accepted: -1e+15 to 1e+15 (open on both sides, there is nothing to fit between)"},
		{still(10, 1, 7, 7), "Hi is 7; accepted: 7 to 1e+15 (over the lower limit)"},
		{still(10, 1, inf, 7), "Lo is +Inf; accepted: -1e+15 to 1e+15; Hi is 7; accepted: +Inf to 1e+15 (over the lower limit)"},
		{still(10, 1, -inf, 2e15), "Hi is 2e+15; accepted: -1e+15 to 1e+15"},
		// An index of 1e15 at 3 over 3e15 of one limit, at 12 over 6e15 of two.
		{still(0, 1e-16, -inf, 3), "SD is 1e-16; accepted: 1e-15 to 1e+15 (so small beside the limits that no index holds it)"},
		{still(3, 1e-16, -9, 3), "SD is 1e-16; accepted: 2e-15 to 1e+15 (so small beside the limits that no index holds it)"},
		{still(1e15, 1e-300, -1e15, 1e15), "SD is 1e-300; accepted: 0.3333333333333333 to 1e+15 (so small beside the limits that no index holds it)"},
		{still(3, 1e-16, 6, inf), "SD is 1e-16; accepted: 1e-15 to 1e+15 (so small beside the limits that no index holds it)"},
		{still(0, 0.995e-15, -inf, 3), "SD is 9.95e-16; accepted: 1e-15 to 1e+15 (so small beside the limits that no index holds it)"},
		{one(Individuals([]float64{1, 2, MaxMagnitude * 2})), "x[2] is 2e+15; accepted: -1e+15 to 1e+15"},
		{one(Individuals(x, 4, 0, -1)), "setAside[0] is 4; accepted: 0 to 3; setAside[2] is -1; accepted: 0 to 3"},
		{one(Individuals(x, 0, 2)), "no lines: too few readings in a row are left; setAside is 2 readings, possible with 0 to 1 readings"},
		{one(Individuals([]float64{5, 5, 5})), "no lines: the readings have no scatter; a finer meter would show some; x is 0 readings unlike the one before, possible with 1 to 2 readings unlike the one before"},
		{one(MeanAndRange([]float64{1, 2, 3, 4, 5}, 2)), "x is 5 readings; accepted: 4 to 1000000 readings (whole groups of 2, two at least)"},
		{one(MeanAndRange(x, 4)), "x is 4 readings; accepted: 8 to 1000000 readings (whole groups of 4, two at least)"},
		{one(FromMeanSD(0, 1, 5, 1)), "groups is 1 groups; accepted: 2 to 1000000 groups"},
		{one(Deviations(x, x[:3])), "target is 3 targets; accepted: 4 to 4 targets"},
		{one(Check(x, Lines{0, -3, 3, 1}, 0)), "rules is 0; accepted: 1 to 511 (a set of rules, not an empty one)"},
		{one(Check(x, Lines{0, -3, 3, 1}, 512)), "rules is 512; accepted: 1 to 511 (a set of rules, not an empty one)"},
		{one(Check(x, Lines{0, 1, -1, 1}, Beyond)), "Lower is 1; accepted: 0 or less; Upper is -1; accepted: 0 or more"},
		{one(RunLength(Trend, 0)), "rules is 4; accepted: 1 to 499 (rules 3 and 4 look at steps, which no chain of zones holds)"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got  %q\nwant %q", c.err, c.want)
		}
	}
	for _, s := range []Still{{0, 1.001e-15, 9, 10, -inf, 3, 95}, {3, 2.001e-15, 9, 10, -9, 3, 95}, {-MaxMagnitude, 1, 9, 10, -MaxMagnitude, MaxMagnitude, 95}} {
		if _, err := Capability(s); err != nil {
			t.Errorf("%+v: %v", s, err)
		}
	}
	if _, err := Individuals([]float64{-MaxMagnitude, MaxMagnitude}); err != nil {
		t.Error(err)
	}
	if _, err := Check(x, Lines{0, 0, 0, 1}, Nelson|Run8); err != nil {
		t.Errorf("a line on the centre, as that of ranges may be: %v", err)
	}
	if _, err := FromMeanSD(0, 1, 2, 2); err != nil {
		t.Error(err)
	}
	if s := Rules(1 << 9).String(); s != "" {
		t.Errorf("a rule that is none has the words %q", s)
	}
	if v, err := RunLength(0, 0); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
	if v, err := MissPct(-1, 1); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
}

// Four readings by hand: ranges 2, 1 and 2, their mean 5/3, over d2 of two,
// 2/√π; the range of two has the deviation √(2 − 4/π).
func TestLinesByHand(t *testing.T) {
	moving := 5.0 / 3
	sigma := moving * math.Sqrt(math.Pi) / 2
	d3 := math.Sqrt(2 - 4/math.Pi)
	for _, base := range []float64{0, 123456789} {
		p, err := Individuals([]float64{base + 10, base + 12, base + 11, base + 13})
		want := Pair{Level: Lines{base + 11.5, base + 11.5 - 3*sigma, base + 11.5 + 3*sigma, sigma},
			Spread: Lines{moving, 0, moving + 3*d3*sigma, d3 * sigma}, Points: 4}
		if err != nil || !nearPair(p, want) {
			t.Errorf("%+v, %v; want %+v", p, err, want)
		}
	}
	// Groups of two, means 11 and 12, ranges 2 and 2.
	p, err := MeanAndRange([]float64{10, 12, 11, 13}, 2)
	sigma = math.Sqrt(math.Pi) // of one reading: 2/d2
	line := sigma / math.Sqrt2
	want := Pair{Level: Lines{11.5, 11.5 - 3*line, 11.5 + 3*line, line}, Spread: Lines{2, 0, 2 + 3*d3*sigma, d3 * sigma}, Points: 2}
	if err != nil || !nearPair(p, want) {
		t.Errorf("%+v, %v; want %+v", p, err, want)
	}
	// c4 of ten is 0.9727, B3 0.284 and B4 1.716: a third of the way to the
	// upper line is one deviation of the deviation, √(1 − c4²)/c4 of the mean.
	p, err = FromMeanSD(11, 2, 10, 20)
	c4 := math.Sqrt(2.0/9) * math.Gamma(5) / math.Gamma(4.5)
	sd := 2 * math.Sqrt(1-c4*c4) / c4
	line = 2 / (c4 * math.Sqrt(10))
	want = Pair{Level: Lines{11, 11 - 3*line, 11 + 3*line, line}, Spread: Lines{2, 2 - 3*sd, 2 + 3*sd, sd}, Points: 20}
	if err != nil || !nearPair(p, want) {
		t.Errorf("%+v, %v; want %+v", p, err, want)
	}
}

func nearPair(a, b Pair) bool {
	for _, v := range [][2]float64{
		{a.Level.Centre, b.Level.Centre}, {a.Level.Lower, b.Level.Lower}, {a.Level.Upper, b.Level.Upper}, {a.Level.Sigma, b.Level.Sigma},
		{a.Spread.Centre, b.Spread.Centre}, {a.Spread.Lower, b.Spread.Lower}, {a.Spread.Upper, b.Spread.Upper}, {a.Spread.Sigma, b.Spread.Sigma},
	} {
		if !(math.Abs(v[0]-v[1]) <= 1e-9*math.Max(1, math.Abs(v[1]))) {
			return false
		}
	}
	return a.Points == b.Points
}

// A large mean costs no digits: the same group far from zero scatters alike.
func TestLargeMean(t *testing.T) {
	const base = 123456789
	near0, far := make([]float64, 6), make([]float64, 6)
	for i, v := range []float64{0.1, 0.35, 0.2, 0.7, 0.15, 0.4} {
		far[i] = base + v
		near0[i] = far[i] - base // exact
	}
	m0, r0, s0, err0 := Groups(near0, 3)
	m, r, s, err := Groups(far, 3)
	if err0 != nil || err != nil {
		t.Fatal(err0, err)
	}
	for g := range m {
		if math.Abs(m[g]-base-m0[g]) > 2e-8 || r[g] != r0[g] || !near(s[g], s0[g], 1e-7) {
			t.Errorf("group %d: %v, %v and %v near zero, %v, %v and %v far from it", g, m0[g], r0[g], s0[g], m[g], r[g], s[g])
		}
	}
}

// A point on a line is on neither side of it.
func TestOnALine(t *testing.T) {
	repeat := func(n int, v ...float64) (x []float64) {
		for i := range n {
			x = append(x, v[i%len(v)])
		}
		return x
	}
	for _, c := range []struct {
		rule Rules
		x    []float64 // in sigma from the centre
		want bool
	}{
		{Beyond, []float64{3}, false},
		{Beyond, []float64{-3}, false},
		{TwoOfThree, []float64{-2, -2}, false},
		{FourOfFive, repeat(4, 1), false},
		{FourOfFive, repeat(4, -1), false},
		{Hugging, repeat(15, 1, -1), true},
		{Avoiding, repeat(8, 1, -1), false},
	} {
		for i := range c.x {
			c.x[i] = 10 + 2*c.x[i]
		}
		marks, err := Check(c.x, Lines{10, 4, 16, 2}, c.rule)
		if err != nil || (marks[len(c.x)-1] == c.rule) != c.want {
			t.Errorf("rule %s on %v: %v, %v", c.rule.Number(), c.x, marks, err)
		}
	}
}

// Runs of one kind have closed forms. Feller, An introduction to probability
// theory and its applications, vol. 1, XIII.7: r successes running take
// (1 − pʳ)/(pʳ·q) trials; r of either kind
// (1 − pʳ)·(1 − qʳ)/(pʳ·q + p·qʳ − pʳ·qʳ), which is 2ʳ − 1 for a coin.
func TestRunLengthOfPlainRuns(t *testing.T) {
	for _, shift := range []float64{0, 0.3, 1, 2.5, 3.7} {
		p := num.NormalCDF(shift)
		q := num.NormalCDF(-shift)
		for rule, r := range map[Rules]float64{Run8: Run8Length, Run9: Run9Length} {
			a, b := math.Pow(p, r), math.Pow(q, r)
			want := (1 - a) * (1 - b) / (a*q + p*b - a*b)
			if got, err := RunLength(rule, shift); err != nil || !near(got, want, 1e-11*want) {
				t.Errorf("rule %s, shift %v: %v, %v; want %v", rule.Number(), shift, got, err, want)
			}
		}
		in := num.NormalCDF(1-shift) - num.NormalCDF(-1-shift)
		run := math.Pow(in, HuggingLength)
		want := (1 - run) / (run * (1 - in))
		if got, err := RunLength(Hugging, shift); err != nil || !near(got, want, 1e-11*want) {
			t.Errorf("hugging, shift %v: %v, %v; want %v", shift, got, err, want)
		}
	}
	if got, err := RunLength(Run9, 0); err != nil || !near(got, 511, 1e-12) {
		t.Errorf("nine of a coin: %v, %v", got, err)
	}
}

// However rare a call, its run has a length. Rule 7 by the closed form and
// rule 8 as a chain of its own solved as a linear system, both with 60 digits
// and more in mpmath.
func TestRunLengthOfRareCalls(t *testing.T) {
	for _, c := range []struct {
		rules       Rules
		shift, want float64
	}{
		{Hugging, 0, 963.27154413906017}, {Hugging, 1.5, 88956109.852964683}, {Hugging, 2, 1327935929658.2143},
		{Hugging, 2.2, 150438231876586.96}, {Hugging, 2.4, 28574010351018000}, {Hugging, 2.5, 4.7895488547258083e17},
		{Hugging, 3, 4.6163291816082863e24}, {Hugging, 5, 3.0920058070841493e67}, {Hugging, 8, 2.4706153569638345e178},
		{Hugging, 10, 1.6291694011011409e284},
		{Avoiding, 0, 14342.295594796526}, {Avoiding, 3, 31997.671632878589}, {Avoiding, 8, 8.8606262010536734e18},
		{Hugging | Avoiding, 5, 1013594720.2583548}, {Hugging | Avoiding, 10, 5.2337947238056933e27},
	} {
		if got, err := RunLength(c.rules, c.shift); err != nil || !near(got, c.want, 1e-11*c.want) {
			t.Errorf("rules %s, shift %v: %v, %v; want %v", c.rules.Number(), c.shift, got, err, c.want)
		}
	}
	// Every set at every shift: finite, and another rule only shortens it.
	zones := []Rules{Beyond, Run9, TwoOfThree, FourOfFive, Hugging, Avoiding, Run8}
	for _, shift := range []float64{0, 1, 2.5, 4, 7, 10} {
		length := map[Rules]float64{}
		for set := 1; set < 1<<len(zones); set++ {
			if n := ones(uint8(set)); n > 3 && n < len(zones) {
				continue // large chains, of which the whole set stands for all
			}
			var r Rules
			for i, z := range zones {
				if set>>i&1 == 1 {
					r |= z
				}
			}
			arl, err := RunLength(r, shift)
			if err != nil || !(arl >= 1) || math.IsInf(arl, 1) {
				t.Fatalf("rules %s, shift %v: %v, %v", r.Number(), shift, arl, err)
			}
			length[r] = arl
			for _, z := range zones {
				if fewer, ok := length[r&^z]; ok && !(arl <= fewer*(1+1e-11)) {
					t.Errorf("rules %s, shift %v: %v, but %v without rule %s", r.Number(), shift, arl, fewer, z.Number())
				}
			}
		}
	}
}

// The first line of an EWMA is λ deviations times the width; a point on it is
// not out.
func TestFirstLine(t *testing.T) {
	list, err := EWMA([]float64{10, 12}, Smooth{Target: 10, Sigma: 0.5, Lambda: 0.2, Width: 3})
	if err != nil || !near(list[0].Upper, 10+3*0.2*0.5, 1e-12) || !near(list[0].Lower, 10-3*0.2*0.5, 1e-12) || list[1].Value != 10+0.2*2 {
		t.Errorf("%+v, %v", list, err)
	}
	// With λ = 1 the lines are three deviations away.
	list, err = EWMA([]float64{11.5, 8.5, 11.50001}, Smooth{Target: 10, Sigma: 0.5, Lambda: 1, Width: 3})
	if err != nil || list[0].Out || list[1].Out || !list[2].Out {
		t.Errorf("%+v, %v", list, err)
	}
}

// Sums by hand, in binary fractions so that they are exact.
func TestCUSUMByHand(t *testing.T) {
	for _, c := range []struct {
		s    Cumulate
		x    []float64
		want []CumulatePoint
	}{
		{Cumulate{10, 0.5, 1}, []float64{10, 11.5, 10.75, 8, 9}, []CumulatePoint{
			{0, 0, false, -1},
			{1, 0, false, -1}, // as high as the decision is not over it
			{1.25, 0, true, 1},
			{0, 1.5, true, 3},
			{0, 2, true, 3},
		}},
		{Cumulate{10, 0, 1}, []float64{9, 8, 9.5}, []CumulatePoint{{0, 1, false, -1}, {0, 3, true, 0}, {0, 3.5, true, 0}}},
		// Both over the decision: the greater tells since when, the upper at a tie.
		{Cumulate{10, 0, 0.5}, []float64{12, 9}, []CumulatePoint{{2, 0, true, 0}, {1, 1, true, 0}}},
		{Cumulate{10, 0, 0.5}, []float64{12, 8.75}, []CumulatePoint{{2, 0, true, 0}, {0.75, 1.25, true, 1}}},
	} {
		got, err := CUSUM(c.x, c.s)
		if err != nil {
			t.Fatal(err)
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%+v of %v: point %d is %+v, want %+v", c.s, c.x, i, got[i], c.want[i])
			}
		}
	}
}

// Many readings set aside, in any order and some twice: by definition, each
// run of what is left gives its moving ranges.
func TestManySetAside(t *testing.T) {
	x := normals(100000, 3)
	var aside []int
	gone := make([]bool, len(x))
	for i := len(x) - 1; i >= 0; i -= 5 {
		aside = append(aside, i)
		gone[i] = true
	}
	aside = append(aside, aside[7], 0)
	gone[0] = true
	sum, moving, n, pairs := 0.0, 0.0, 0, 0
	for i, v := range x {
		if gone[i] {
			continue
		}
		sum += v
		n++
		if i > 0 && !gone[i-1] {
			moving += math.Abs(v - x[i-1])
			pairs++
		}
	}
	p, err := Individuals(x, aside...)
	if err != nil || p.Points != n || !near(p.Spread.Centre, moving/float64(pairs), 1e-12) || !(math.Abs(p.Level.Centre-sum/float64(n)) <= 1e-12) {
		t.Errorf("%+v, %v; want %d points about %v, ranges %v", p, err, n, sum/float64(n), moving/float64(pairs))
	}
}

// So many of the readings as is said can be set aside, from the first, and one
// more cannot.
func TestAsManySetAsideAsSaid(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	refused := 0
	for range 2000 {
		x := make([]float64, 2+r.IntN(9))
		for i := range x {
			x[i] = r.NormFloat64()
		}
		aside := make([]int, 1+r.IntN(2*len(x)))
		for i := range aside {
			aside[i] = r.IntN(len(x))
		}
		_, err := Individuals(x, aside...)
		var none *ImpossibleError
		if !errors.As(err, &none) {
			continue
		}
		refused++
		most := int(none.Max)
		if most < 0 || most >= len(aside) {
			t.Fatalf("%d of %v: %v", len(x), aside, err)
		}
		if _, err := Individuals(x, aside[:most]...); err != nil {
			t.Fatalf("%d of %v: %d of them: %v", len(x), aside, most, err)
		}
		if _, err := Individuals(x, aside[:most+1]...); err == nil {
			t.Fatalf("%d of %v: %d of them can be set aside", len(x), aside, most+1)
		}
	}
	if refused < 200 {
		t.Errorf("only %d refused", refused)
	}
}

// Readings at the ends of what is accepted have a deviation over that.
func TestFarReadingsHaveLines(t *testing.T) {
	p, err := MeanAndSD([]float64{MaxMagnitude, -MaxMagnitude, MaxMagnitude, -MaxMagnitude}, 2)
	if err != nil || p.Level.Centre != 0 || !near(p.Spread.Centre, math.Sqrt2*MaxMagnitude, 1e-14) {
		t.Errorf("%+v, %v", p, err)
	}
}
