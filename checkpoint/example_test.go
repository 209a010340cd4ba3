package checkpoint_test

import (
	"errors"
	"fmt"
	"math"

	"example.org/evenlot/checkpoint"
)

// The bag's limit is 2 % oxygen and the meter is good to 0.06 %. Is 1.85 % in?
func ExampleJudge() {
	v, err := checkpoint.Judge(
		checkpoint.Reading{Value: 1.85, U: 0.06},
		checkpoint.Limit{Lo: math.Inf(-1), Hi: 2},
		checkpoint.DefaultRiskPct)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: %.1f %% sure; readings up to %.2f %% are in\n", v.Word, v.InPct, v.AcceptHi)
	// Output: in: 99.4 % sure; readings up to 1.90 % are in
}

// Moisture of 11.9 % against 10 to 12 %: what would it take to call it?
func ExampleJudge_tooClose() {
	v, err := checkpoint.Judge(
		checkpoint.Reading{Value: 11.9, U: 0.2},
		checkpoint.Limit{Lo: 10, Hi: 12},
		checkpoint.DefaultRiskPct)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v; an uncertainty of %.3f %% would call it\n", v.Word, v.MaxU)
	// Output: too close to call; an uncertainty of 0.061 % would call it
}

func ExampleJudge_refused() {
	_, err := checkpoint.Judge(checkpoint.Reading{Value: 11, U: -0.1}, checkpoint.Limit{Lo: 12, Hi: 10}, 0.05)
	var bad *checkpoint.InputError
	if errors.As(err, &bad) {
		for _, f := range bad.Fields {
			fmt.Println(f)
		}
	}
	// Output:
	// U is -0.1; accepted: 0 to 1e+15
	// Hi is 10; accepted: 12 or more (over the lower limit)
	// riskPct is 0.05 %; accepted: 0.1 to 50 %
}

// Four readings on one lot. What is the word for the lot?
func ExampleTogether() {
	var verdicts []checkpoint.Verdict
	for _, moisture := range []float64{11.2, 11.4, 11.8, 11.3} {
		v, err := checkpoint.Judge(checkpoint.Reading{Value: moisture, U: 0.15}, checkpoint.Limit{Lo: 10, Hi: 12}, checkpoint.DefaultRiskPct)
		if err != nil {
			fmt.Println(err)
			return
		}
		verdicts = append(verdicts, v)
	}
	lot, err := checkpoint.Together(verdicts...)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v, for reading %d; all inside with %.0f %%\n", lot.Word, lot.Weakest+1, lot.AllInPct)
	// Output: too close to call, for reading 3; all inside with 91 %
}

// Of a year's lots, how many are let through that should not be?
func ExampleLongRunRisks() {
	r, err := checkpoint.LongRunRisks(
		checkpoint.Process{Mean: 11.2, SD: 0.4}, 0.15,
		checkpoint.Limit{Lo: 10, Hi: 12}, checkpoint.Limit{Lo: 10, Hi: 12})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% are outside; %.1f %% pass wrongly, %.1f %% are turned away wrongly\n", r.OutsidePct, r.FalseAcceptPct, r.FalseRejectPct)
	// Output: 2.4 % are outside; 0.6 % pass wrongly, 1.5 % are turned away wrongly
}
