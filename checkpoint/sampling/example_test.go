package sampling_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/checkpoint/sampling"
)

// Oxygen in ten bags of one run, %. Invented.
var oxygen = []float64{0.8, 1.1, 0.9, 1.3, 1.0, 1.2, 0.7, 1.1, 1.4, 1.0}

// Are at least 95 % of the run's bags under 2 % oxygen, with 95 % confidence?
func ExampleToleranceBound() {
	claim := sampling.Claim{
		CoveragePct: sampling.DefaultCoveragePct, ConfidencePct: sampling.DefaultConfidencePct,
		Side: sampling.Upper, Division: 0.1, Lognormal: true,
	}
	b, err := sampling.ToleranceBound(oxygen, claim)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("95 %% of the bags are under %.2f %% (k = %.3f)\n", b.Hi, b.K)
	// Output: 95 % of the bags are under 1.97 % (k = 2.911)
}

func ExampleToleranceBound_refused() {
	_, err := sampling.ToleranceBound(oxygen, sampling.Claim{CoveragePct: 0.95, ConfidencePct: 95, Side: sampling.Upper})
	var bad *sampling.FieldError
	if errors.As(err, &bad) {
		fmt.Println(bad)
	}
	// Output: CoveragePct is 0.95 %; accepted: 50 to 99.99 %
}

// Three bags need a much wider margin than thirty.
func ExampleOneSidedFactor() {
	for _, n := range []int{3, 10, 30} {
		k, err := sampling.OneSidedFactor(n, 95, 95)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("n = %d: k = %.3f\n", n, k)
	}
	// Output:
	// n = 3: k = 7.656
	// n = 10: k = 2.911
	// n = 30: k = 2.220
}

func ExampleTwoSidedFactor() {
	k, err := sampling.TwoSidedFactor(10, 95, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f\n", k)
	// Output: 3.393
}

func ExampleHoweFactor() {
	k, err := sampling.HoweFactor(10, 95, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f\n", k)
	// Output: 3.382
}

func ExampleApproximateFactor() {
	_, err := sampling.ApproximateFactor(3, 99, 99)
	fmt.Println(err)
	// Output: no approximate tolerance factor: the approximation breaks down for so few readings; take the exact factor; n is 3, possible with 4 to 1000000
}

// The limit is 2 % and bags come at 1.05 % with a deviation of 0.22 %.
func ExampleReadingsForBound() {
	n, err := sampling.ReadingsForBound((2-1.05)/0.22, 95, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n, "bags")
	// Output: 5 bags
}

func ExampleReadingsForMean() {
	n, err := sampling.ReadingsForMean(0.3, 0.1, 95) // moisture, %
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n, "readings")
	// Output: 38 readings
}

// Without measuring, only counting: how many good bags for the same claim?
func ExampleZeroFailure() {
	n, err := sampling.ZeroFailure(95, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n, "bags, all good")
	// Output: 59 bags, all good
}

// A pallet of 60 bags, at most 3 leakers.
func ExampleZeroFailureInLot() {
	n, err := sampling.ZeroFailureInLot(60, 3, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n, "bags, all tight")
	// Output: 31 bags, all tight
}

func ExampleGoodShare() {
	p, err := sampling.GoodShare(50, 1, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("at least %.1f %% are good\n", p)
	// Output: at least 90.9 % are good
}

// 13 of a lot, none bad: what slips through?
func ExampleAcceptPct() {
	for _, bad := range []float64{1, 5, 10} {
		p, err := sampling.AcceptPct(sampling.Attributes{N: 13}, bad)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f %% bad: accepted with %.0f %%\n", bad, p)
	}
	// Output:
	// 1 % bad: accepted with 88 %
	// 5 % bad: accepted with 51 %
	// 10 % bad: accepted with 25 %
}

func ExampleQualityAt() {
	q, err := sampling.QualityAt(sampling.Attributes{N: 68, Ac: 2}, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %% bad\n", q)
	// Output: 1.21 % bad
}

func ExamplePlanAttributes() {
	p, err := sampling.PlanAttributes(sampling.Points{GoodPct: 1, GoodAcceptPct: 95, BadPct: 8, BadAcceptPct: 10})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("draw %d, accept with %d bad\n", p.N, p.Ac)
	// Output: draw 65, accept with 2 bad
}

// The same protection by measuring.
func ExamplePlanVariables() {
	p, err := sampling.PlanVariables(sampling.Points{GoodPct: 1, GoodAcceptPct: 95, BadPct: 8, BadAcceptPct: 10}, false)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("read %d, accept at %.2f deviations inside the limit\n", p.N, p.K)
	// Output: read 28, accept at 1.83 deviations inside the limit
}

func ExampleCodeLetter() {
	letter, n, err := sampling.CodeLetter(800)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(letter, n)
	// Output: J 80
}

func ExampleTabledAttributes() {
	p, err := sampling.TabledAttributes(800, 1.0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("draw %d, accept with %d bad\n", p.N, p.Ac)
	// Output: draw 80, accept with 2 bad
}

func ExampleTabledVariables() {
	p, err := sampling.TabledVariables(35, 1.0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.K)
	// Output: 1.89
}

// What an AQL plan of 1 % does with a lot that has 5 % bad.
func ExampleAcceptVariablesPct() {
	p, err := sampling.AcceptVariablesPct(sampling.Variables{N: 35, K: 1.89}, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("accepted with %.0f %%\n", p)
	// Output: accepted with 21 %
}

func ExampleJudgeVariables() {
	m, err := sampling.JudgeVariables(oxygen, 2, true, sampling.Variables{N: 10, K: 1.72}, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: %.1f deviations inside, about %.3f %% over\n", m.Accept, m.Index, m.EstimatedPct)
	// Output: true: 4.4 deviations inside, about 0.000 % over
}

func ExampleEstimated() {
	p, err := sampling.Estimated(5, 1.59)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", p)
	// Output: 2.2 %
}

func ExampleIndexFor() {
	k, err := sampling.IndexFor(75, 3.17)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", k)
	// Output: 1.84
}

// Is the fourth cup's strength one to look at?
func ExampleGrubbs() {
	s, err := sampling.Grubbs([]float64{1.38, 1.40, 1.39, 1.52, 1.41, 1.38}, sampling.DefaultAlphaPct)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("cup %d, %.2f %%: flagged %v (%.2f over %.2f)\n", s.Index+1, s.Value, s.Flagged, s.G, s.Critical)
	// Output: cup 4, 1.52 %: flagged true (1.99 over 1.89)
}

func ExampleGrubbsCritical() {
	g, err := sampling.GrubbsCritical(10, 5, true)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f\n", g)
	// Output: 2.290
}

func ExampleRosner() {
	list, err := sampling.Rosner([]float64{13.0, 13.1, 10.1, 10.3, 9.9, 10.0, 10.2, 10.1, 9.8, 10.0}, 3, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range list {
		fmt.Println(s.Value, s.Flagged)
	}
	// Output:
	// 13.1 true
	// 13 true
	// 10.3 false
}

func ExampleModifiedScore() {
	m, err := sampling.ModifiedScore([]float64{1.38, 1.40, 1.39, 1.52, 1.41, 1.38}, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(m > sampling.ModifiedScoreLimit)
	// Output: true
}

func ExampleRobustMean() {
	r, err := sampling.RobustMean([]float64{1.38, 1.40, 1.39, 1.52, 1.41, 1.38})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("median %.3f, robust mean %.3f ± %.3f %%\n", r.Median, r.Mean, r.SD)
	// Output: median 1.395, robust mean 1.399 ± 0.024 %
}

func ExampleTrimmedMean() {
	m, err := sampling.TrimmedMean([]float64{84, 85.5, 86, 79, 85}, 20) // scores
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", m)
	// Output: 84.83
}

// Four of ten bags read below the meter's 0.1 % oxygen.
func ExampleBelow() {
	e, err := sampling.Below(sampling.Censored{
		Detected: []float64{0.12, 0.15, 0.18, 0.24, 0.31, 0.40}, Below: 4, Limit: 0.1, Lognormal: true,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean between %.3f and %.3f %%, most likely %.3f %%\n", e.LowMean, e.HighMean, e.Mean)
	// Output: mean between 0.140 and 0.180 %, most likely 0.176 %
}
