package weighing_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/checkpoint/weighing"
	"github.com/shopspring/decimal"
)

func g(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// By how much may the bench scale be off at one kilogram?
func ExamplePermissibleError() {
	p, err := weighing.PermissibleError(weighing.Load{Class: weighing.ClassIII, IntervalG: g("2"), LoadG: g("1000"), InService: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("±", p.LimitG, "g")
	// Output: ± 2 g
}

// Is a 5 g scale meant for 18 g doses?
func ExampleMinimumCapacityG() {
	m, err := weighing.MinimumCapacityG(weighing.ClassIII, g("5"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("from", m, "g")
	// Output: from 100 g
}

// The display says 1000 g, and 1.5 g more make it 1005 g.
func ExampleUnroundedG() {
	p, err := weighing.UnroundedG(weighing.Changeover{ReadingG: g("1000"), DivisionG: g("5"), AddedG: g("1.5")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p, "g")
	// Output: 1001 g
}

// The Monday check with an M1 kilogram.
func ExampleAsFound() {
	w, err := weighing.WeightErrorG(weighing.M1, g("1000"))
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := weighing.AsFound(weighing.Check{
		Load:         weighing.Load{Class: weighing.ClassIII, IntervalG: g("1"), LoadG: g("1000"), InService: true},
		ReadingG:     g("1003"),
		WeightErrorG: w,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v g off, ± %v g allowed: %v\n", f.ErrorG, f.LimitG, f.Verdict)
	// Output: 3 g off, ± 2 g allowed: fail
}

// The interval was read off the wrong line of the plate.
func ExampleAsFound_refused() {
	_, err := weighing.AsFound(weighing.Check{
		Load:     weighing.Load{Class: weighing.ClassIII, IntervalG: g("3"), LoadG: g("1000")},
		ReadingG: g("1000"),
	})
	var field *weighing.FieldError
	if errors.As(err, &field) {
		fmt.Println(field.Field, "-", field.Why)
	}
	// Output: IntervalG - an interval is 1, 2 or 5 times a power of ten
}

// How good is an M1 half kilogram?
func ExampleWeightErrorG() {
	w, err := weighing.WeightErrorG(weighing.M1, g("500"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("±", w.StringFixed(3), "g")
	// Output: ± 0.025 g
}

// How well is a net weight known from a 0.1 g scale, when one bag was tared
// for a film lot that varies by 0.3 g?
func ExampleStandardUncertaintyG() {
	u, err := weighing.StandardUncertaintyG(weighing.Readout{DivisionG: 0.1, RepeatabilityG: 0.05, TareSpreadG: 0.3, Net: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f g\n", u)
	// Output: 0.31 g
}

// What is the smallest dose for a 0.1 g scale, to 1 %?
func ExampleSmallestWeighing() {
	s, err := weighing.SmallestWeighing(weighing.Weighing{DivisionG: g("0.1"), TolerancePct: g("1")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.LoadG, "g:", s.Notes)
	// Output: 8.2 g: the display's rounding governs
}

// Ten weighings of one dose.
func ExampleRepeatabilityG() {
	var readings []decimal.Decimal
	for _, r := range []string{"18.01", "18.02", "18.01", "18.00", "18.01", "18.01", "18.02", "18.01", "18.00", "18.01"} {
		readings = append(readings, g(r))
	}
	s, err := weighing.RepeatabilityG(readings)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f g\n", s)
	// Output: 0.0067 g
}

// How far may one bag of 250 g fall short?
func ExampleTolerableShortage() {
	s, err := weighing.TolerableShortage(g("250"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("T1 %v g; few under %v g, none under %v g\n", s.T1G.StringFixed(1), s.FewG.StringFixed(1), s.NeverG.StringFixed(1))
	// Output: T1 9.0 g; few under 241.0 g, none under 232.0 g
}

// The recommendation rounds a big bag's shortage up to whole grams.
func ExampleTolerableShortageR87() {
	s, err := weighing.TolerableShortageR87(g("2500"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.T1G, "g")
	// Output: 38 g
}

// How many of a batch of 1200 will be weighed?
func ExampleDoublePlan() {
	p, err := weighing.DoublePlan(1200)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d first, %d more if %d to %d are short\n", p.Sample, p.Second, p.Accept+1, p.Reject-1)
	// Output: 50 first, 50 more if 3 to 4 are short
}

func ExampleSinglePlan() {
	p, err := weighing.SinglePlan(1200)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d, of which %d may be short; factor %.3f\n", p.Sample, p.Accept, p.MeanFactor)
	// Output: 80, of which 5 may be short; factor 0.295
}

func ExampleDestructivePlan() {
	p, err := weighing.DestructivePlan(1200)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d, of which %d may be short\n", p.Sample, p.Accept)
	// Output: 20, of which 1 may be short
}

// What does the sample size do to the mean that must be reached?
func ExampleMeanFactor() {
	f, err := weighing.MeanFactor(30, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f\n", f)
	// Output: 0.503
}

// A small batch, all of it weighed: invented contents.
func ExampleJudge() {
	var contents []decimal.Decimal
	for _, c := range []string{"250.5", "249.5", "251.0", "240.5", "252.0", "250.0", "251.5", "250.5"} {
		contents = append(contents, g(c))
	}
	j, err := weighing.Judge(weighing.Batch{NominalG: g("250"), ContentsG: contents})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %v g: %v; %d short: %v\n", j.MeanG.StringFixed(1), j.Mean, j.Short, j.Few)
	// Output: mean 249.4 g: fail; 1 short: fail
}

// To what should the filler be set that scatters by 1.2 g?
func ExampleFillTarget() {
	t, err := weighing.FillTarget(weighing.Fill{NominalG: g("250"), SpreadG: 1.2, DriftG: g("0.4"), StepG: g("0.5")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v g: %v\n", t.TargetG, t.Governs)
	// Output: 250.5 g: the mean must reach the nominal content
}

// What does 1.3 g too much in each of 4000 bags come to?
func ExampleGiveaway() {
	r, err := weighing.Giveaway(weighing.Run{NominalG: g("250"), MeanG: g("251.3"), Packs: 4000})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v kg, %v bags\n", r.TotalKG.StringFixed(1), r.Packs.StringFixed(1))
	// Output: 5.2 kg, 20.8 bags
}
