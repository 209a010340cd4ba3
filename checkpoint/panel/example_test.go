package panel_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/checkpoint/panel"
)

// The scores of the examples are invented: four tasters, five coffees.
var table = [][]float64{
	{84.25, 83.50, 85.00, 84.00},
	{86.00, 85.75, 86.50, 86.25},
	{81.50, 82.00, 82.25, 81.00},
	{87.75, 86.50, 88.00, 87.00},
	{84.00, 83.25, 83.50, 84.50},
}

// How often is a pure guess right?
func ExampleChancePct() {
	p, err := panel.ChancePct(panel.Triangle)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", p)
	// Output: 33.3 %
}

// Eight of twelve found the odd cup: is the new profile another coffee?
func ExampleByChance() {
	d, err := panel.ByChance(panel.Trial{Method: panel.Triangle, Assessors: 12, Correct: 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("guessing does as well in %.1f %% of such tests\n", d.ByChancePct)
	// Output: guessing does as well in 1.9 % of such tests
}

// A percentage for a count, and a panel that is none.
func ExampleByChance_refused() {
	_, err := panel.ByChance(panel.Trial{Method: panel.Triangle, Assessors: 12, Correct: 67})
	var field *panel.FieldError
	if errors.As(err, &field) {
		fmt.Println(field.Field, field.Min, field.Max)
	}
	// Output: Correct 0 12
}

// Twenty-one of thirty prefer the natural: is that a preference?
func ExamplePreferenceByChancePct() {
	p, err := panel.PreferenceByChancePct(30, 21)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", p)
	// Output: 4.3 %
}

// How many of 24 tasters must find the odd cup?
func ExampleCriticalCount() {
	c, err := panel.CriticalCount(panel.Triangle, 24, panel.DefaultRiskPct)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c, "of 24")
	// Output: 13 of 24
}

// What share is right when 30 % truly tell the coffees apart?
func ExampleCorrectPct() {
	p, err := panel.CorrectPct(panel.Triangle, 30)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", p)
	// Output: 53.3 %
}

// And back: half were right.
func ExampleDiscriminatorsPct() {
	p, err := panel.DiscriminatorsPct(panel.Triangle, 50)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", p)
	// Output: 25 %
}

// The same difference asked by two methods.
func ExampleCorrectAtPct() {
	for _, m := range []panel.Method{panel.Triangle, panel.Tetrad} {
		p, err := panel.CorrectAtPct(m, 1.5)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.0f %%\n", m, p)
	}
	// Output:
	// triangle: 51 %
	// tetrad: 64 %
}

// How far apart are coffees that half of a triangle panel tells apart?
func ExampleDPrime() {
	d, err := panel.DPrime(panel.Triangle, 50)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f standard deviations of a sip\n", d)
	// Output: 1.47 standard deviations of a sip
}

// May the cheaper lot go into the blend? 60 tasters, 20 right.
func ExampleAlike() {
	like := panel.Likeness{
		Trial:                panel.Trial{Method: panel.Triangle, Assessors: 60, Correct: 20},
		MaxDiscriminatorsPct: 30,
	}
	d, err := panel.Alike(like)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("if 30 %% could tell, so few right in %.2f %% of tests\n", d.ByChancePct)
	// Output: if 30 % could tell, so few right in 0.14 % of tests
}

// Up to how many right answers do 60 tasters show likeness?
func ExampleAlikeCount() {
	c, err := panel.AlikeCount(panel.Triangle, 60, 30, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c, "of 60")
	// Output: 25 of 60
}

// How strong is the difference that 27 of 48 found?
func ExampleEstimate() {
	s, err := panel.Estimate(panel.Trial{Method: panel.Triangle, Assessors: 48, Correct: 27}, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% tell them apart (%.0f to %.0f)\n", s.DiscriminatorsPct, s.LowerDiscriminatorsPct, s.UpperDiscriminatorsPct)
	// Output: 34 % tell them apart (12 to 56)
}

// What can a dozen tasters see?
func ExamplePower() {
	pc, err := panel.CorrectPct(panel.Triangle, 30)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := panel.Power(panel.Design{Method: panel.Triangle, Assessors: 12, RiskPct: 5, CorrectPct: pc})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("power %.0f %%: mostly nothing\n", c.PowerPct)
	// Output: power 26 %: mostly nothing
}

// How many tasters does it take?
func ExampleAssessors() {
	pc, err := panel.CorrectPct(panel.Triangle, 30)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := panel.Assessors(panel.Goal{Method: panel.Triangle, RiskPct: 5, PowerPct: panel.DefaultPowerPct, CorrectPct: pc})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d, and from %d on any number\n", s.Smallest, s.Stable)
	// Output: 40, and from 42 on any number
}

// And how many to show that two lots are alike?
func ExampleAlikeAssessors() {
	s, err := panel.AlikeAssessors(panel.LikenessGoal{Method: panel.Triangle, RiskPct: 5, PowerPct: 80, MaxDiscriminatorsPct: 30})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d, and from %d on any number\n", s.Smallest, s.Stable)
	// Output: 39, and from 46 on any number
}

// Do the tasters agree?
func ExampleAgree() {
	a, err := panel.Agree(table, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("one taster for any other: ICC(2,1) %.2f (%.2f to %.2f)\n", a.ICC21.Value, a.ICC21.Lower, a.ICC21.Upper)
	// Output: one taster for any other: ICC(2,1) 0.94 (0.78 to 0.99)
}

// Do they rank the coffees alike?
func ExampleFriedman() {
	f, err := panel.Friedman(table)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("W %.2f, by chance %.3f %%\n", f.KendallW, f.ByChancePct)
	// Output: W 0.96, by chance 0.001 %
}

func ExampleRankSums() {
	sums, err := panel.RankSums(table)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(sums)
	// Output: [11 16 4 20 9]
}

// How far apart must rank sums lie?
func ExampleLeastRankDifference() {
	d, err := panel.LeastRankDifference(5, 4, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", d)
	// Output: 8.8
}

// Who scores milder than the table?
func ExampleOffsets() {
	list, err := panel.Offsets(table, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	for j, o := range list {
		fmt.Printf("taster %d: %+.2f ± %.2f points\n", j+1, o.Points, o.HalfWidth)
	}
	// Output:
	// taster 1: +0.07 ± 0.41 points
	// taster 2: -0.43 ± 0.41 points
	// taster 3: +0.42 ± 0.41 points
	// taster 4: -0.08 ± 0.41 points
}

// What would other tasters give the first coffee?
func ExampleMeanScore() {
	m, err := panel.MeanScore(table[0], 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.1f points\n", m.Score, m.HalfWidth)
	// Output: 84.2 ± 1.0 points
}

// How do the coffees of this table compare?
func ExampleCoffeeMeans() {
	means, err := panel.CoffeeMeans(table, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range means[:2] {
		fmt.Printf("%.1f ± %.1f points\n", m.Score, m.HalfWidth)
	}
	// Output:
	// 84.2 ± 0.5 points
	// 86.1 ± 0.5 points
}

// cuppings of one green lot over half a year, invented.
var cuppings = []panel.Cupping{
	{Week: 0, Score: 87}, {Week: 4, Score: 86.5}, {Week: 8, Score: 86.75}, {Week: 12, Score: 86},
	{Week: 16, Score: 85.25}, {Week: 20, Score: 85.5}, {Week: 26, Score: 84.5},
}

// How fast does the lot fade?
func ExampleScoreTrend() {
	t, err := panel.ScoreTrend(cuppings, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f points a week\n", t.SlopePerWeek, t.SlopeHalfWidth)
	// Output: -0.09 ± 0.03 points a week
}

// When will it be under 84?
func ExampleUnder() {
	t, err := panel.ScoreTrend(cuppings, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := panel.Under(t, 84)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("week %.0f (%.0f to %.0f): %v\n", c.Week, c.Earliest, c.Latest, c.Notes)
	// Output: week 33 (27 to 45): after the last week cupped
}

// A score that only may be falling.
func ExampleUnder_refused() {
	t, err := panel.ScoreTrend([]panel.Cupping{{Week: 0, Score: 86}, {Week: 2, Score: 85.5}, {Week: 4, Score: 86.25}, {Week: 6, Score: 85.5}}, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = panel.Under(t, 84)
	var none *panel.ImpossibleError
	if errors.As(err, &none) {
		fmt.Println(none.Why)
	}
	// Output: the score does not clearly fall
}
