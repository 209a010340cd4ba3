package chart_test

import (
	"errors"
	"fmt"
	"math"

	"example.org/evenlot/checkpoint/chart"
)

// Weight loss of twelve roasts of one profile, %. Invented.
var loss = []float64{14.8, 15.1, 14.9, 15.0, 15.2, 14.9, 15.1, 15.0, 14.8, 15.0, 15.1, 14.9}

// Lines from twelve good roasts; then four more come in.
func ExampleIndividuals() {
	lines, err := chart.Individuals(loss)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f to %.2f %%\n", lines.Level.Lower, lines.Level.Upper)
	marks, err := chart.Check([]float64{15.0, 15.2, 15.7, 15.4}, lines.Level, chart.DefaultRules)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, m := range marks {
		if m != 0 {
			fmt.Printf("roast %d: rule %s, %v\n", i+1, m.Number(), m)
		}
	}
	// Output:
	// 14.48 to 15.49 %
	// roast 3: rule 1, beyond three sigma
	// roast 4: rule 5, two of three beyond two sigma on one side
}

func ExampleIndividuals_refused() {
	_, err := chart.Individuals([]float64{15.0, math.NaN()})
	var bad *chart.InputError
	fmt.Println(errors.As(err, &bad), err)
	_, err = chart.Individuals([]float64{15, 15, 15})
	var no *chart.ImpossibleError
	fmt.Println(errors.As(err, &no), err)
	// Output:
	// true x[1] is NaN; accepted: -1e+15 to 1e+15
	// true no lines: the readings have no scatter; a finer meter would show some; x is 0 readings unlike the one before, possible with 1 to 2 readings unlike the one before
}

func ExampleCheck() {
	marks, err := chart.Check([]float64{0.2, 0.4, 0.3, 0.1, 0.5, 0.2, 0.4, 0.3}, chart.Lines{Centre: 0, Lower: -3, Upper: 3, Sigma: 1}, chart.WesternElectric)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(marks[7])
	// Output: eight running on one side of the centre
}

// Three bags weighed each half hour, g.
func ExampleMeanAndRange() {
	bags := []float64{251.2, 250.8, 251.5, 250.9, 251.1, 251.6, 251.3, 250.7, 251.0}
	lines, err := chart.MeanAndRange(bags, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.1f to %.1f g, range up to %.1f g\n", lines.Level.Lower, lines.Level.Upper, lines.Spread.Upper)
	// Output: mean 250.4 to 251.8 g, range up to 1.7 g
}

func ExampleMeanAndSD() {
	bags := []float64{251.2, 250.8, 251.5, 250.9, 251.1, 251.6, 251.3, 250.7, 251.0}
	lines, err := chart.MeanAndSD(bags, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.1f to %.1f g\n", lines.Level.Lower, lines.Level.Upper)
	// Output: mean 250.5 to 251.8 g
}

func ExampleFromMeanSD() {
	lines, err := chart.FromMeanSD(251.1, 0.34, 3, 20)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f to %.1f g\n", lines.Level.Lower, lines.Level.Upper)
	// Output: 250.4 to 251.8 g
}

func ExampleGroups() {
	means, ranges, _, err := chart.Groups([]float64{251.2, 250.8, 251.5, 250.9, 251.1, 251.6}, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %.1f\n", means, ranges)
	// Output: [251.17 251.20] [0.7 0.7]
}

func ExampleGroupFactors() {
	f, err := chart.GroupFactors(5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("d2 %.3f, A2 %.3f, D4 %.3f\n", f.MeanRange, f.A2, f.D4)
	// Output: d2 2.326, A2 0.577, D4 2.114
}

// A light and a dark roast on one chart.
func ExampleDeviations() {
	d, err := chart.Deviations([]float64{13.2, 17.1, 12.9}, []float64{13, 17, 13})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", d)
	// Output: [0.2 0.1 -0.1]
}

// How often does a still process get called out, and how late a moved one?
func ExampleRunLength() {
	for _, rules := range []chart.Rules{chart.Beyond, chart.DefaultRules, chart.WesternElectric} {
		still, err := chart.RunLength(rules, 0)
		if err != nil {
			fmt.Println(err)
			return
		}
		moved, err := chart.RunLength(rules, 1)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("rules %s: %.0f points, %.0f when moved by one sigma\n", rules.Number(), still, moved)
	}
	// Output:
	// rules 1: 370 points, 44 when moved by one sigma
	// rules 1, 5: 225 points, 20 when moved by one sigma
	// rules 1, 5, 6, WE4: 92 points, 9 when moved by one sigma
}

func ExampleMissPct() {
	p, err := chart.MissPct(1, 4)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", p)
	// Output: 84 %
}

// A drift too small for single readings.
func ExampleEWMA() {
	points, err := chart.EWMA([]float64{15.1, 15.2, 15.1, 15.3, 15.2, 15.2, 15.3},
		chart.Smooth{Target: 15, Sigma: 0.17, Lambda: chart.DefaultLambda, Width: chart.DefaultWidth})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, p := range points {
		if p.Out {
			fmt.Printf("roast %d: %.2f %% over %.2f %%\n", i+1, p.Value, p.Upper)
		}
	}
	// Output:
	// roast 7: 15.17 % over 15.17 %
}

func ExampleCUSUM() {
	sigma := 0.17
	points, err := chart.CUSUM([]float64{15.0, 14.9, 15.1, 15.3, 15.2, 15.4, 15.3, 15.3},
		chart.Cumulate{Target: 15, Slack: chart.DefaultSlackSD * sigma, Decision: chart.DefaultDecisionSD * sigma})
	if err != nil {
		fmt.Println(err)
		return
	}
	last := points[len(points)-1]
	fmt.Printf("called %v, since roast %d\n", last.Out, last.Since+1)
	// Output: called true, since roast 3
}

func ExampleSums() {
	s, err := chart.Sums([]float64{15.1, 14.9, 15.2, 15.3}, 15)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", s)
	// Output: [0.1 0.0 0.2 0.5]
}

// Thirty bags, mean 251.1 g, deviation 0.6 g, at least 250 g.
func ExampleCapability() {
	a, err := chart.Capability(chart.Still{Mean: 251.1, SD: 0.6, DF: 29, N: 30, Lo: 250, Hi: math.Inf(1), ConfidencePct: 95})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("Cpk %.2f, surely over %.2f; about %.1f %% light\n", a.Cpk, a.CpkLower, a.OutsidePct)
	// Output: Cpk 0.61, surely over 0.44; about 3.3 % light
}
