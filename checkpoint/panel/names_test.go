package panel

import (
	"errors"
	"math"
	"strconv"
	"testing"
)

// What a refusal names: the input, what was given, both ends and the reason.
func TestWhatARefusalNames(t *testing.T) {
	one := func(_ any, err error) error { return err }
	wide := func(n, k int) [][]float64 {
		table := make([][]float64, n)
		for i := range table {
			table[i] = make([]float64, k)
		}
		return table
	}
	slope := func(b, half float64) error {
		return one(Under(Trend{SlopePerWeek: b, SlopeHalfWidth: half, MeanWeek: 5, MeanScore: 84, SD: 0.1, SlopeU: half / 4, LastWeek: 10, Cuppings: 5, T: 3.182446305284263}, 80))
	}
	for _, c := range []struct {
		err  error
		want string
	}{
		{one(Agree([][]float64{{1, 2}, {3}}, 95)), "scores[1] is 1 tasters; accepted: 2 to 2 tasters (every taster scores every coffee)"},
		{one(Agree([][]float64{{1, 2}, {MaxScore + 1, 1}}, 95)), "scores[1][0] is 1000001 points; accepted: -1000000 to 1000000 points"},
		{one(Agree([][]float64{{1, 2}, {1, -MaxScore - 1}}, 95)), "scores[1][1] is -1000001 points; accepted: -1000000 to 1000000 points"},
		{one(Agree(wide(2, MaxTasters+1), 95)), "scores[0] is 1001 tasters; accepted: 2 to 1000 tasters"},
		{one(Agree(wide(1, 2), 95)), "scores is 1 coffees; accepted: 2 to 1000 coffees"},
		{one(Agree(wide(3, 2), 95)), "no correlation: the coffees' means do not differ; scores is 1 different means, possible with 2 to 3 different means"},
		{one(MeanScore([]float64{1, MaxScore + 1, -MaxScore - 1}, 95)), "scores[1] is 1000001 points; accepted: -1000000 to 1000000 points; scores[2] is -1000001 points; accepted: -1000000 to 1000000 points"},
		{one(Friedman(wide(3, 2))), "no rank test: every taster gave all coffees the same score; scores is 0 tasters who tell coffees apart, possible with 1 to 2 tasters who tell coffees apart"},
		{one(ByChance(Trial{Triangle, 5, 6})), "Correct is 6; accepted: 0 to 5"},
		{one(ByChance(Trial{Triangle, -5, 1})), "Assessors is -5; accepted: 1 to 10000; Correct is 1; accepted: 0 to 0"},
		{one(ByChance(Trial{Triangle, MaxAssessors + 2, MaxAssessors + 1})), "Assessors is 10002; accepted: 1 to 10000; Correct is 10001; accepted: 0 to 10000"},
		{one(PreferenceByChancePct(5, 6)), "chose is 6; accepted: 0 to 5"},
		{one(PreferenceByChancePct(-5, -1)), "assessors is -5; accepted: 1 to 10000; chose is -1; accepted: 0 to 0"},
		{one(CriticalCount(Triangle, 2, 5)), "no critical count: all answers right would still be guessed too often; assessors is 2, possible with 3 to 10000"},
		// (2/3)^n is at most a twentieth from eight tasters on, (1 − 1/3 − 0.2·2/3)^n from five.
		{one(AlikeCount(Triangle, 2, 20, 5)), "no count that shows likeness: even no right answer would happen too often; assessors is 2, possible with 5 to 10000"},
		{one(DPrime(0, 30)), "method is 0; accepted: 1 to 5; correctPct is 30 %; accepted: 33.333333333333336 to 99.9999999 %"},
		{one(DPrime(Paired, 49)), "correctPct is 49 %; accepted: 50 to 99.9999999 %"},
		{one(DiscriminatorsPct(Paired, 101)), "correctPct is 101 %; accepted: 50 to 100 %"},
		{one(Assessors(Goal{Paired, 5, 80, 50.4})), "CorrectPct is 50.4 %; accepted: 50.5 to 100 %"},
		{one(AlikeAssessors(LikenessGoal{Triangle, 5, 80, 30, 29.75})), "TrueDiscriminatorsPct is 29.75 %; accepted: 0 to 29.5 %"},
		{one(AlikeAssessors(LikenessGoal{Triangle, 0, 80, 1, 29.75})), "RiskPct is 0 %; accepted: 0.1 to 50 %; TrueDiscriminatorsPct is 29.75 %; accepted: 0 to 0.5 %"},
		{one(AlikeAssessors(LikenessGoal{Triangle, 5, 80, 99, 99})), "TrueDiscriminatorsPct is 99 %; accepted: 0 to 98.5 %"},
		{one(AlikeAssessors(LikenessGoal{Triangle, 5, 80, 0.5, 99})), "MaxDiscriminatorsPct is 0.5 %; accepted: 1 to 99 %; TrueDiscriminatorsPct is 99 %; accepted: 0 to 98.5 %"},
		{one(ScoreTrend([]Cupping{{0, 84}, {MaxWeek + 1, 84}, {2, -MaxScore - 1}}, 95)),
			"cuppings[1].Week is 10001 weeks; accepted: -10000 to 10000 weeks; cuppings[2].Score is -1000001 points; accepted: -1000000 to 1000000 points"},
		{one(ScoreTrend([]Cupping{{-MaxWeek - 1, 84}, {0, MaxScore + 1}, {2, 84}}, 95)),
			"cuppings[0].Week is -10001 weeks; accepted: -10000 to 10000 weeks; cuppings[1].Score is 1000001 points; accepted: -1000000 to 1000000 points"},
		{one(ScoreTrend([]Cupping{{3, 85}, {3, 84}, {3 + 0.995e-6, 86}}, 95)), "no slope: all cuppings are of one week; cuppings is 1 different weeks, possible with 2 to 10000 different weeks"},
		{slope(0, 0), "no week under the threshold: the score does not fall; SlopePerWeek is 0 points per week, possible with -4.143e-06 points per week or less"},
		// The line falls by 4 and by t·s/√n = 0.142 more in a million weeks.
		// Student's t of three degrees is 4 below at a confidence of 97.19 %.
		{slope(-1, 1), "no week under the threshold: the score does not clearly fall; ConfidencePct is 95 %, possible with 50 to 97.19 %"},
		{slope(-1e-6, 0), "no week under the threshold: the score falls too slowly to name one; SlopePerWeek is -1e-06 points per week, possible with -4.143e-06 points per week or less"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got  %q\nwant %q", c.err, c.want)
		}
	}
	for name, err := range map[string]error{
		"scores at both ends":     one(Agree([][]float64{{1, MaxScore}, {-MaxScore, 2}}, 95)),
		"as wide as there may be": one(RankSums(wide(2, MaxTasters))),
		"a second of a week":      one(ScoreTrend([]Cupping{{0, 85}, {0, 84}, {1.005e-6, 86}}, 95)),
		"cuppings at both ends":   one(ScoreTrend([]Cupping{{-MaxWeek, MaxScore}, {MaxWeek, -MaxScore}, {0, 84}}, 95)),
	} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A number beside an error is zero.
func TestNothingBesideAnError(t *testing.T) {
	one := func(v float64, err error) (float64, error) { return v, err }
	for name, f := range map[string]func() (float64, error){
		"ChancePct":             func() (float64, error) { return one(ChancePct(0)) },
		"CorrectPct":            func() (float64, error) { return one(CorrectPct(0, 5)) },
		"discriminatorsPct":     func() (float64, error) { return one(DiscriminatorsPct(0, 5)) },
		"CorrectAtPct":          func() (float64, error) { return one(CorrectAtPct(0, 1)) },
		"dPrime":                func() (float64, error) { return one(DPrime(0, 50)) },
		"PreferenceByChancePct": func() (float64, error) { return one(PreferenceByChancePct(0, 0)) },
		"LeastRankDifference":   func() (float64, error) { return one(LeastRankDifference(0, 2, 5)) },
		"CriticalCount":         func() (float64, error) { c, err := CriticalCount(0, 9, 5); return float64(c), err },
		"CriticalCount, none":   func() (float64, error) { c, err := CriticalCount(Triangle, 2, 5); return float64(c), err },
		"AlikeCount":            func() (float64, error) { c, err := AlikeCount(0, 9, 20, 5); return float64(c), err },
		"AlikeCount, none":      func() (float64, error) { c, err := AlikeCount(Triangle, 2, 20, 5); return float64(c), err },
	} {
		if v, err := f(); err == nil || v != 0 {
			t.Errorf("%s: %v beside %v", name, v, err)
		}
	}
	// At chance itself the distance is none.
	if d, err := DPrime(Paired, 50); err != nil || d != 0 {
		t.Errorf("%v, %v", d, err)
	}
	if got := Method(6).String(); got != "no method" {
		t.Errorf("a method that is none is called %q", got)
	}
}

// The published tables begin with six assessors; as many right answers as
// guessing gives are not under it.
func TestNotesAtTheirEnds(t *testing.T) {
	for n, want := range map[int]Notes{5: FewAssessors, 6: 0} {
		d, err1 := ByChance(Trial{Paired, n, n})
		p, err2 := Power(Design{Paired, n, 10, 90})
		l, err3 := Alike(Likeness{Trial{Paired, n, n}, 20})
		if err1 != nil || err2 != nil || err3 != nil || d.Notes != want || p.Notes != want || l.Notes != want {
			t.Errorf("%d assessors: %v, %v, %v; %v %v %v", n, d.Notes, p.Notes, l.Notes, err1, err2, err3)
		}
	}
	for x, want := range map[int]Notes{3: BelowChance, 4: 0} {
		if d, err := ByChance(Trial{Paired, 8, x}); err != nil || d.Notes != want {
			t.Errorf("%d of 8: %v, %v", x, d.Notes, err)
		}
	}
	// Enumerated are up to six coffees, and rank sums that ten bits hold: two
	// coffees by 255 tasters, not by 256.
	table := func(n, m int) [][]float64 {
		scores := make([][]float64, n)
		for i := range scores {
			scores[i] = make([]float64, m)
			for j := range scores[i] {
				scores[i][j] = float64((i*(j%3+1) + j) % 7)
			}
		}
		return scores
	}
	for _, c := range []struct {
		n, m int
		want Notes
	}{{6, 2, 0}, {7, 2, Approximate}, {2, 255, 0}, {2, 256, Approximate}} {
		if f, err := Friedman(table(c.n, c.m)); err != nil || f.Notes != c.want {
			t.Errorf("%d coffees by %d tasters: %v, %v", c.n, c.m, f.Notes, err)
		}
	}
}

// Half of the tasters prefer each of two coffees: as uneven as that it is
// always; all of ten is 2/2¹⁰.
func TestPreferenceByHand(t *testing.T) {
	for _, c := range []struct {
		n, x int
		want float64
	}{{10, 5, 100}, {10, 10, 100 * 2. / 1024}, {10, 0, 100 * 2. / 1024}, {10, 9, 100 * 22. / 1024}, {1, 1, 100}} {
		if p, err := PreferenceByChancePct(c.n, c.x); err != nil || !near(p, c.want, 1e-12) {
			t.Errorf("%d of %d: %v, want %v; %v", c.x, c.n, p, c.want, err)
		}
	}
}

// The way out that is named is the nearest, to a hundredth of a percent.
func TestWayOutIsNearest(t *testing.T) {
	var none *ImpossibleError
	for _, m := range []Method{Triangle, Paired} {
		g := Goal{m, 5, 95, 100*m.chance() + 0.6}
		if _, err := Assessors(g); !errors.As(err, &none) || none.Quantity != "panel of at most 10000" || none.Max != 100 {
			t.Fatalf("%v", err)
		}
		// At n = 10 000 the normal's sum of both quantiles, 1.645 + 1.645, is
		// the distance in standard errors.
		p0 := m.chance()
		p := none.Min / 100
		apart := 1.6449 * (math.Sqrt(p0*(1-p0)/MaxAssessors) + math.Sqrt(p*(1-p)/MaxAssessors))
		if !near(p-p0, apart, 2e-4) {
			t.Errorf("%v: %v %%, by the normal %v", m, none.Min, 100*(p0+apart))
		}
		g.CorrectPct = none.Min
		if _, err := Assessors(g); err != nil {
			t.Errorf("%v: at %v: %v", m, none.Min, err)
		}
		if g.CorrectPct -= 0.03; g.CorrectPct > 100*p0+0.5 {
			if _, err := Assessors(g); err == nil {
				t.Errorf("%v: at %v, too", m, g.CorrectPct)
			}
		}
		l := LikenessGoal{m, 5, 95, 11, 10}
		if _, err := AlikeAssessors(l); !errors.As(err, &none) || none.Max != 99 {
			t.Fatalf("%v", err)
		}
		l.MaxDiscriminatorsPct = none.Min
		if _, err := AlikeAssessors(l); err != nil {
			t.Errorf("%v: at %v: %v", m, none.Min, err)
		}
		l.MaxDiscriminatorsPct -= 0.05
		if _, err := AlikeAssessors(l); err == nil {
			t.Errorf("%v: at %v, too", m, l.MaxDiscriminatorsPct)
		}
	}
}

// A line without scatter crosses in one week, known exactly, wherever that
// lies; it is named up to a million weeks away, on either side.
func TestExactLines(t *testing.T) {
	for i := range 60 {
		b := -0.01 - 0.013*float64(i)
		line := Trend{SlopePerWeek: b, MeanWeek: 5.3, MeanScore: 84.7, FirstWeek: 0, LastWeek: 10, Cuppings: 6, T: 2.776}
		c, err := Under(line, 80.1)
		if want := 5.3 + (80.1-84.7)/b; err != nil || !near(c.Week, want, 1e-9*want) || !near(c.Earliest, want, 1e-6*want) || !near(c.Latest, want, 1e-6*want) {
			t.Errorf("slope %v: %+v, %v; want %v", b, c, err, want)
		}
	}
	for _, threshold := range []float64{84 + 1001, 84 - 1001} {
		if c, err := Under(Trend{SlopePerWeek: -1e-3, MeanWeek: 0, MeanScore: 84, LastWeek: 10, Cuppings: 6, T: 2.776}, threshold); err == nil {
			t.Errorf("threshold %v: %+v", threshold, c)
		}
	}
	for _, threshold := range []float64{84 + 999, 84 - 999} {
		if _, err := Under(Trend{SlopePerWeek: -1e-3, MeanWeek: 0, MeanScore: 84, LastWeek: 10, Cuppings: 6, T: 2.776}, threshold); err != nil {
			t.Errorf("threshold %v: %v", threshold, err)
		}
	}
}

// Three scores by hand: mean 85, deviation 1, Student's t of two degrees 4.3027.
func TestMeanScoreByHand(t *testing.T) {
	for _, x := range [][]float64{{84, 86, 85}, {86, 84, 85}} {
		m, err := MeanScore(x, 95)
		if err != nil || m.Score != 85 || !near(m.SD, 1, 1e-12) || !near(m.U, 1/math.Sqrt(3), 1e-12) || !near(m.HalfWidth, 4.302653/math.Sqrt(3), 1e-6) || m.DF != 2 {
			t.Errorf("%v: %+v, %v", x, m, err)
		}
	}
}

// Three tasters at 5 % must all be right: by guessing (1/3)³, at 90 % 0.9³.
func TestPowerByHand(t *testing.T) {
	c, err := Power(Design{Triangle, 3, 5, 90})
	if err != nil || c.CriticalCount != 3 || !near(c.ActualRiskPct, 100./27, 1e-12) || !near(c.PowerPct, 72.9, 1e-12) {
		t.Errorf("%+v, %v", c, err)
	}
}

// A crossing is under way up to the last cupping, near for as long again as
// the cuppings span, and beyond that far ahead; it is none where one end of
// its interval is beyond all calendars.
func TestCrossingNotesAtTheirEnds(t *testing.T) {
	line := Trend{SlopePerWeek: -1, MeanWeek: 5, MeanScore: 84, FirstWeek: 0, LastWeek: 10, Cuppings: 6, T: 2.776}
	for threshold, want := range map[float64]Notes{79: AlreadyUnder, 78.5: Extrapolated, 69: Extrapolated, 68.5: Extrapolated | FarAhead} {
		if c, err := Under(line, threshold); err != nil || c.Notes != want {
			t.Errorf("threshold %v: %+v, %v", threshold, c, err)
		}
	}
	line.SlopeHalfWidth = 0.999999
	line.SlopeU = line.SlopeHalfWidth / line.T
	for _, threshold := range []float64{74, 94} {
		var none *ImpossibleError
		if c, err := Under(line, threshold); !errors.As(err, &none) || none.Field != "SlopePerWeek" {
			t.Errorf("threshold %v: %+v, %v", threshold, c, err)
		}
	}
}

// The smallest panel that can decide, by hand: all right by guessing is p_0ⁿ,
// and none right where so many tell the coffees apart (1 − p_c)ⁿ. Half a
// percent beside such a risk the panel is one larger, or not.
func TestSmallestPanelByHand(t *testing.T) {
	var none *ImpossibleError
	for _, m := range methods {
		for least := 2; least <= 9; least++ {
			for _, c := range []struct {
				by   float64
				want int
			}{{1.005, least}, {0.995, least + 1}} {
				if risk := 100 * math.Pow(m.chance(), float64(least)) * c.by; risk >= MinRiskPct {
					if _, err := CriticalCount(m, 1, risk); !errors.As(err, &none) || none.Min != float64(c.want) {
						t.Errorf("%v at %v %%: %v, want %d", m, risk, err, c.want)
					}
				}
				for _, pd := range []float64{1, 30, 60} {
					wrong := (1 - m.chance()) * (1 - pd/100)
					if risk := 100 * math.Pow(wrong, float64(least)) * c.by; risk >= MinRiskPct && risk < 100*wrong {
						if x, err := AlikeCount(m, c.want, pd, risk); x != 0 || err != nil && risk < 50 {
							t.Errorf("%v, %v %% at %v %%: %d of %d, %v", m, pd, risk, x, c.want, err)
						}
						if _, err := AlikeCount(m, 1, pd, risk); risk < 50 && (!errors.As(err, &none) || none.Min != float64(c.want)) {
							t.Errorf("%v, %v %% at %v %%: %v, want %d", m, pd, risk, err, c.want)
						}
					}
				}
			}
		}
	}
}

// tails are P(X ≥ x) for x from 0 to n + 1, term by term from the far end.
func tails(n int, p float64) []float64 {
	list := make([]float64, n+2)
	ways := 1.0 // of which x are right
	for x := n; x >= 0; x-- {
		list[x] = list[x+1] + ways*math.Pow(p, float64(x))*math.Pow(1-p, float64(n-x))
		ways *= float64(x) / float64(n-x+1)
	}
	return list
}

// Small panels counted through: the first with the power, and the first from
// which on all have it.
func TestPanelSizesCounted(t *testing.T) {
	for _, m := range methods {
		for _, risk := range []float64{1, 5, 20, 50} {
			for _, power := range []float64{50, 80, 95} {
				for _, pd := range []float64{45, 70, 100} {
					pc, err := CorrectPct(m, pd)
					if err != nil {
						t.Fatal(err)
					}
					has := func(n int) bool {
						x := 0
						for guess := tails(n, m.chance()); guess[x] > risk/100*(1+1e-9); {
							x++
						}
						return tails(n, pc/100)[x] >= power/100*(1-1e-9)
					}
					var want Size
					for n := 1; n <= 90; n++ {
						if has(n) && want.Smallest == 0 {
							want.Smallest = n
						}
						if !has(n) {
							want.Stable = n + 1
						}
					}
					want.Stable = max(want.Stable, 1)
					if want.Stable > 70 {
						continue // not counted far enough
					}
					if s, err := Assessors(Goal{m, risk, power, pc}); err != nil || s != want {
						t.Errorf("%v, %v %% at %v and %v %%: %+v, counted %+v; %v", m, pd, risk, power, s, want, err)
					}
				}
			}
		}
	}
}

// Where no share of discriminators that is accepted lies far enough from the
// true one, the true share that does is named, and it is nearly the largest.
func TestTrueShareThatIsNamed(t *testing.T) {
	for _, g := range []LikenessGoal{{Triangle, 1, 95, 99, 98.5}, {DuoTrio, 0.1, 80, 99, 98.4}, {Triangle, 5, 99.99, 99, 98.3}} {
		_, err := AlikeAssessors(g)
		var none *ImpossibleError
		if !errors.As(err, &none) || none.Field != "TrueDiscriminatorsPct" || none.Given != strconv.FormatFloat(g.TrueDiscriminatorsPct, 'g', -1, 64) ||
			none.Min != 0 || !(none.Max < g.TrueDiscriminatorsPct) || none.Unit != "%" {
			t.Fatalf("%+v: %v", g, err)
		}
		g.TrueDiscriminatorsPct = none.Max
		if s, err := AlikeAssessors(g); err != nil || s.Smallest > MaxAssessors {
			t.Errorf("%+v: %+v, %v", g, s, err)
		}
		g.TrueDiscriminatorsPct = none.Max + 0.05
		if s, err := AlikeAssessors(g); err == nil {
			t.Errorf("%+v: %+v", g, s)
		}
	}
}

// The same scores have the same chance to the last digit, however often they are
// asked.
func TestFriedmanIsTheSameEachTime(t *testing.T) {
	scores := [][]float64{{7, 8, 6, 9, 5}, {6, 8, 7, 9, 5}, {7, 7, 6, 8, 5}, {5, 8, 7, 9, 6}, {6, 6, 7, 8, 9}}
	first, err := Friedman(scores)
	if err != nil {
		t.Fatal(err)
	}
	for range 50 {
		if again, err := Friedman(scores); err != nil || again != first {
			t.Fatalf("%+v, then %+v (%v)", first, again, err)
		}
	}
}
