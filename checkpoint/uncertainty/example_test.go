package uncertainty_test

import (
	"errors"
	"fmt"
	"math"

	"example.org/evenlot/checkpoint/uncertainty"
)

// yield is extraction yield in percent: beverage mass, strength, dose.
func yield(x []float64) float64 { return x[0] * x[1] / x[2] }

// A brew of 36.0 g at 9.50 % from 18.0 g: how well is the yield known, and
// what would make it better known?
func ExamplePropagate() {
	inputs := []uncertainty.Quantity{
		{Value: 36, U: 0.06},  // beverage, g
		{Value: 9.5, U: 0.03}, // strength, %
		{Value: 18, U: 0.06},  // dose, g
	}
	r, err := uncertainty.Propagate(yield, inputs)
	if err != nil {
		fmt.Println(err)
		return
	}
	v, u, _ := uncertainty.Earned(r.Value, r.U, uncertainty.DefaultDigits)
	fmt.Printf("%s ± %s %%, of which %.0f %% from input %d\n", v, u, r.Budget[r.Dominant].SharePct, r.Dominant+1)
	// Output: 19.000 ± 0.093 %, of which 47 % from input 3
}

func ExamplePropagate_refused() {
	_, err := uncertainty.Propagate(yield, []uncertainty.Quantity{{Value: 36, U: -0.1}, {Value: 9.5}, {Value: math.NaN()}})
	var bad *uncertainty.InputError
	if errors.As(err, &bad) {
		for _, f := range bad.Fields {
			fmt.Println(f.Field, "is", f.Given)
		}
	}
	// Output:
	// inputs[0].U is -0.1
	// inputs[2].Value is NaN
}

// The same by drawing, where the dose is only known to the nearest gram.
func ExampleSimulate() {
	dose, err := uncertainty.FromHalfWidth(18, 0.5, uncertainty.Rectangular)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := uncertainty.Simulate(yield, []uncertainty.Quantity{{Value: 36, U: 0.06}, {Value: 9.5, U: 0.03}, dose},
		uncertainty.Plan{CoveragePct: uncertainty.DefaultCoveragePct, Digits: 2, MinDraws: 200_000, MaxDraws: uncertainty.DefaultMaxDraws, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%, 95 %% of it between %.1f and %.1f %%\n", s.Mean, s.Lo, s.Hi)
	// Output: 19.0 %, 95 % of it between 18.5 and 19.5 %
}

// What does the moisture meter's reading of 11.4 % mean, all told?
func ExampleMeasured() {
	m, err := uncertainty.Measured(uncertainty.Meter{
		Value: 11.4, Division: 0.1, // %
		Readings: 3, RepeatabilitySD: 0.15, RepeatabilityDF: 9,
		CalibrationU: 0.3, CalibrationK: 2, CalibrationError: 0.2,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.2f %%; calibration %.2f, scatter %.2f, display %.2f\n",
		m.Quantity.Value, m.Quantity.U, m.CalibrationU, m.RepeatabilityU, m.ResolutionU)
	// Output: 11.2 ± 0.18 %; calibration 0.15, scatter 0.09, display 0.03
}

func ExampleFromHalfWidth() {
	q, err := uncertainty.FromHalfWidth(250, 1, uncertainty.Triangular)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ± %.2f mL\n", q.Value, q.U)
	// Output: 250 ± 0.41 mL
}

func ExampleFromInexactLimits() {
	q, err := uncertainty.FromInexactLimits(22, 2, 0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ± %.2f °C\n", q.Value, q.U)
	// Output: 22 ± 1.17 °C
}

func ExampleFromCertificate() {
	q, err := uncertainty.FromCertificate(199.98, 0.02, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f g\n", q.Value, q.U)
	// Output: 199.98 ± 0.01 g
}

// Four refractometer readings of one cup.
func ExampleFromReadings() {
	q, err := uncertainty.FromReadings([]float64{1.38, 1.41, 1.39, 1.40})
	if err != nil {
		fmt.Println(err)
		return
	}
	k, err := uncertainty.CoverageFactor(95, q.DF)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f ± %.3f %% with 95 %%\n", q.Value, k*q.U)
	// Output: 1.395 ± 0.021 % with 95 %
}

// Three readings are too few for a factor of 2.
func ExampleCoverageFactor() {
	for _, df := range []float64{2, 9, math.Inf(1)} {
		k, err := uncertainty.CoverageFactor(95, df)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.2f ", k)
	}
	fmt.Println()
	// Output: 4.30 2.26 1.96
}

// Temperature and reading drifted together.
func ExampleMeansR() {
	r, err := uncertainty.MeansR([]float64{20.1, 20.6, 21.0, 21.4}, []float64{1.38, 1.39, 1.39, 1.41})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", r)
	// Output: 0.92
}

// Two yields from one dose are not independent.
func ExampleOutputR() {
	inputs := []uncertainty.Quantity{{Value: 18, U: 0.1}, {Value: 342, U: 1.5}, {Value: 350, U: 1.5}}
	first := func(x []float64) float64 { return x[1] / x[0] }
	second := func(x []float64) float64 { return x[2] / x[0] }
	r, err := uncertainty.OutputR(first, second, inputs)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", r)
	// Output: 0.62
}

func ExampleEarned() {
	v, u, err := uncertainty.Earned(19.04617, 0.1248, uncertainty.DefaultDigits)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(v, "±", u, "%")
	// Output: 19.05 ± 0.12 %
}

func ExampleAppendEarned() {
	line, err := uncertainty.AppendEarned([]byte("yield "), 19.04617, 0.1248, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(string(line), "%")
	// Output: yield 19.0 %
}

func ExamplePlaces() {
	places, err := uncertainty.Places(0.0312, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(places)
	// Output: 2
}

// A moisture meter against the oven on five lots, then a reading of 11.0 %.
func ExampleFitLine() {
	oven := []float64{9.8, 10.6, 11.1, 11.9, 12.6}
	meter := []float64{10.1, 10.8, 11.4, 12.1, 12.9}
	line, err := uncertainty.FitLine(11, oven, meter)
	if err != nil {
		fmt.Println(err)
		return
	}
	q, notes, err := uncertainty.ReadBack(line, 11.0, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f %% %v\n", q.Value, q.U, notes)
	// Output: 10.74 ± 0.07 %
}

func ExampleOnLine() {
	line, err := uncertainty.FitLine(0, []float64{10, 20, 30}, []float64{0.2, 0.5, 0.6})
	if err != nil {
		fmt.Println(err)
		return
	}
	q, notes, err := uncertainty.OnLine(line, 40)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f: %v\n", q.Value, q.U, notes)
	// Output: 0.83 ± 0.12: outside the points of the calibration
}

func ExampleReadBack() {
	line, err := uncertainty.FitLine(0, []float64{0, 5, 10, 15}, []float64{0.02, 5.06, 9.98, 15.04})
	if err != nil {
		fmt.Println(err)
		return
	}
	q, _, err := uncertainty.ReadBack(line, 9.5, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f\n", q.Value, q.U)
	// Output: 9.48 ± 0.03
}

// Three readings of oxygen, limit 2 %: Student's t is less sure than the bell.
func ExampleInsidePct() {
	q, err := uncertainty.FromReadings([]float64{1.7, 1.8, 1.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := uncertainty.InsidePct(q, math.Inf(-1), 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", p)
	// Output: 96 %
}

func ExampleInsidePctError() {
	s, err := uncertainty.InsidePctError(95, 100_000)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("95.00 ± %.2f %%\n", s)
	// Output: 95.00 ± 0.07 %
}
