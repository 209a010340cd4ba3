package sampling

import (
	"errors"
	"math"
	"testing"
)

// What a refusal names: the input, what was given, both ends and the reason.
func TestWhatARefusalNames(t *testing.T) {
	one := func(_ any, err error) error { return err }
	letter := func(lot int) error { _, _, err := CodeLetter(lot); return err }
	x := []float64{1, 2, 3, 4}
	claim := func(c Claim, readings ...float64) error { return one(ToleranceBound(readings, c)) }
	judge := func(v Variables, sd float64, readings ...float64) error {
		return one(JudgeVariables(readings, 5, true, v, sd))
	}
	usual := Claim{95, 95, Upper, false, 0}
	for _, c := range []struct {
		err  error
		want string
	}{
		{one(ZeroFailureInLot(5, 5, 95)), "maxBad is 5 units; accepted: 0 to 4 units"},
		{one(ZeroFailureInLot(0, 1, 95)), "lot is 0 units; accepted: 1 to 10000000 units; maxBad is 1 units; accepted: 0 to 0 units"},
		{one(GoodShare(5, 5, 95)), "bad is 5 units; accepted: 0 to 4 units"},
		{one(GoodShare(0, 1, 95)), "n is 0 units; accepted: 1 to 10000000 units; bad is 1 units; accepted: 0 to 0 units"},
		{one(AcceptPct(Attributes{N: 5, Ac: 5}, 1)), "Ac is 5 units; accepted: 0 to 4 units"},
		{one(AcceptPct(Attributes{N: 0, Ac: 1, Lot: -1}, 1)), "N is 0 units; accepted: 1 to 10000000 units; Ac is 1 units; accepted: 0 to 0 units; Lot is -1 units; accepted: 1 to 10000000 units"},
		{one(AcceptPct(Attributes{N: 5, Lot: 4}, 1)), "Lot is 4 units; accepted: 5 to 10000000 units"},
		{one(QualityAt(Attributes{N: 5, Lot: 9}, 95)), "Lot is 9 units; accepted: 0 to 0 units (a small lot has only whole bad units; ask for the chance of each)"},
		{one(PlanAttributes(Points{1, 95, 1, 10})), "BadPct is 1 % bad; accepted: 1 to 90 % bad (worse than the good quality)"},
		{one(PlanAttributes(Points{1, 95, 90.1, 10})), "BadPct is 90.1 % bad; accepted: 1 to 90 % bad (worse than the good quality)"},
		{letter(1), "lot is 1 units; accepted: 2 to 10000000 units"},
		{one(TabledAttributes(1, 0.2)), "lot is 1 units; accepted: 2 to 10000000 units; aqlPct is 0.2 %; accepted: 0.01 to 10 % (one of 0.010 0.015 0.025 0.040 0.065 0.10 0.15 0.25 0.40 0.65 1.0 1.5 2.5 4.0 6.5 10)"},
		{one(Below(Censored{Detected: []float64{3, 2, 3}, Below: 1, Limit: 2.5})), "Detected[1] is 2; accepted: 2.5 to 1e+15"},
		{one(Below(Censored{Detected: []float64{3, 3}, Below: 1, Limit: 2.5})), "Detected is 2 alike; accepted: 1 to 1 alike (two different readings at least are needed for a spread)"},
		{one(Below(Censored{Detected: []float64{1, 2}, Below: MaxReadings, Limit: 1})), "no estimate: the readings seen do not tell where the others lie; Below is 1000000 readings, possible with 0 to 150 readings"},
		{one(Below(Censored{Detected: []float64{1e-300, 1e15, 1e15}, Below: 1, Limit: 1e-300, Lognormal: true})), "no estimate: the spread of the logarithms is beyond all use; Detected is 418.76 of standard deviation in logarithms, possible with 0.001 to 33 of standard deviation in logarithms"},
		{one(Rosner(x, 1, 5)), "readings is 4 readings; accepted: 5 to 1000000 readings"},
		{one(Rosner(x, 2, 5)), "readings is 4 readings; accepted: 5 to 1000000 readings"},
		{one(Rosner(x, 3, 5)), "readings is 4 readings; accepted: 6 to 1000000 readings"},
		{one(Rosner(x, 11, 5)), "most is 11 readings; accepted: 1 to 10 readings"},
		{one(ModifiedScore(x, 4)), "i is 4; accepted: 0 to 3"},
		{one(ModifiedScore(nil, 1)), "readings is 0 readings; accepted: 3 to 1000000 readings; i is 1; accepted: 0 to 0"},
		{one(ModifiedScore([]float64{1, 1, 1, 2}, 0)), "no modified score: more than half of the readings are alike; readings is 3 alike, possible with 1 to 2 alike"},
		{one(TrimmedMean([]float64{1, 2, -1e15, 2e15}, 5)), "readings[3] is 2e+15; accepted: -1e+15 to 1e+15"},
		// z(0.9999)²/2 is 6.92: from eight readings on a is over zero.
		{one(ApproximateFactor(7, 95, 99.99)), "no approximate tolerance factor: the approximation breaks down for so few readings; take the exact factor; n is 7, possible with 8 to 1000000"},
		{claim(Claim{95, 95, 0, false, 0}, x...), "Side is no side; accepted: 1 to 3 (say which end the claim is about)"},
		{claim(Claim{95, 95, 4, false, 0}, x...), "Side is no side; accepted: 1 to 3 (say which end the claim is about)"},
		{claim(Claim{95, 95, Upper, true, 0}, 1, 0, 2), "readings[1] is 0; accepted: 1e-300 to 1e+15 (a lognormal lot has no zeros; readings below detection want a calculation of their own)"},
		{claim(Claim{95, 95, Upper, true, 0}, 1, -2e15), "readings[1] is -2e+15; accepted: -1e+15 to 1e+15"},
		{claim(Claim{95, 95, Upper, true, 0}, 1e-300, 1e15), "no bound: the scatter is so large that the bound passes all numbers; readings is 512.87 of standard deviation in logarithms, possible with 0 to 39.49 of standard deviation in logarithms"},
		{claim(usual, 1), "readings is 1 readings; accepted: 2 to 1000000 readings"},
		{one(AcceptVariablesPct(Variables{N: 1000001, K: 1}, 1)), "N is 1000001 readings; accepted: 2 to 1000000 readings"},
		{one(AcceptVariablesPct(Variables{N: 1, K: 11}, 1)), "N is 1 readings; accepted: 2 to 1000000 readings; K is 11; accepted: -10 to 10"},
		{one(AcceptVariablesPct(Variables{SDKnown: true, K: 1}, 1)), "N is 0 readings; accepted: 1 to 1000000 readings"},
		{judge(Variables{N: 3, K: 1}, 0, x...), "readings is 4 readings; accepted: 3 to 3 readings"},
		{judge(Variables{N: 4, K: 1}, 1, x...), "sd is 1; accepted: 0 to 0"},
		{judge(Variables{N: 3, K: 1}, 0, 1, 1, 1), "readings is 3 alike; accepted: 2 to 1000000 (readings without scatter say nothing of a lot's; take a finer meter)"},
		{judge(Variables{SDKnown: true, N: 1, K: 1}, 0, 1), "sd is 0; accepted: 1e-300 to 1e+15"},
		{one(TabledVariables(6, 0.2)), "n is 6 readings; accepted: 3 to 200 readings (one of 3 4 5 7 10 15 20 25 30 35 40 50 75 100 150 200); aqlPct is 0.2 %; accepted: 0.1 to 10 % (one of 0.10 0.15 0.25 0.40 0.65 1.0 1.5 2.5 4.0 6.5 10)"},
		{one(TabledVariables(3, 0.10)), "no plan: the table has none for so few readings at that quality; n is 3 readings, possible with 15 to 200 readings"},
		{one(TabledVariables(4, 0.15)), "no plan: the table has none for so few readings at that quality; n is 4 readings, possible with 10 to 200 readings"},
		{one(TabledVariables(5, 0.40)), "no plan: the table has none for so few readings at that quality; n is 5 readings, possible with 7 to 200 readings"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got  %q\nwant %q", c.err, c.want)
		}
	}
	// A million readings know the mean to 1.96 thousandths of the deviation.
	var none *ImpossibleError
	if _, err := ReadingsForMean(1e6, 1, 95); !errors.As(err, &none) || math.Abs(none.Min-1959.966) > 1e-3 || none.Max != MaxMagnitude || none.Field != "halfWidth" {
		t.Errorf("%v", err)
	}
	if n, err := ReadingsForMean(1e6, none.Min, 95); err != nil || n != MaxReadings {
		t.Errorf("%v, %v", n, err)
	}
	for _, n := range tabledN {
		if v, err := TabledVariables(n, 10); err != nil || v.N != n {
			t.Errorf("%d readings: %+v, %v", n, v, err)
		}
	}
}

// A number beside an error is zero.
func TestNothingBesideAnError(t *testing.T) {
	count := func(n int, err error) (float64, error) { return float64(n), err }
	for name, f := range map[string]func() (float64, error){
		"ZeroFailure":             func() (float64, error) { return count(ZeroFailure(1, 95)) },
		"ZeroFailureInLot":        func() (float64, error) { return count(ZeroFailureInLot(0, 0, 95)) },
		"GoodShare":               func() (float64, error) { return GoodShare(0, 0, 95) },
		"AcceptPct":               func() (float64, error) { return AcceptPct(Attributes{}, 1) },
		"QualityAt":               func() (float64, error) { return QualityAt(Attributes{}, 95) },
		"CodeLetter":              func() (float64, error) { _, n, err := CodeLetter(0); return float64(n), err },
		"GrubbsCritical":          func() (float64, error) { return GrubbsCritical(2, 5, true) },
		"ModifiedScore":           func() (float64, error) { return ModifiedScore(nil, 0) },
		"ModifiedScore, none":     func() (float64, error) { return ModifiedScore([]float64{1, 1, 1}, 0) },
		"TrimmedMean":             func() (float64, error) { return TrimmedMean(nil, 5) },
		"OneSidedFactor":          func() (float64, error) { return OneSidedFactor(1, 95, 95) },
		"TwoSidedFactor":          func() (float64, error) { return TwoSidedFactor(1, 95, 95) },
		"HoweFactor":              func() (float64, error) { return HoweFactor(1, 95, 95) },
		"ApproximateFactor":       func() (float64, error) { return ApproximateFactor(1, 95, 95) },
		"ApproximateFactor, none": func() (float64, error) { return ApproximateFactor(2, 95, 99.99) },
		"ReadingsForBound":        func() (float64, error) { return count(ReadingsForBound(0, 95, 95)) },
		"ReadingsForBound, none":  func() (float64, error) { return count(ReadingsForBound(0.5, 95, 95)) },
		"ReadingsForMean":         func() (float64, error) { return count(ReadingsForMean(0, 1, 95)) },
		"ReadingsForMean, none":   func() (float64, error) { return count(ReadingsForMean(1e6, 1, 95)) },
		"AcceptVariablesPct":      func() (float64, error) { return AcceptVariablesPct(Variables{}, 1) },
		"Estimated":               func() (float64, error) { return Estimated(2, 0) },
		"IndexFor":                func() (float64, error) { return IndexFor(2, 1) },
	} {
		if v, err := f(); err == nil || v != 0 {
			t.Errorf("%s: %v beside %v", name, v, err)
		}
	}
}

// Medians by hand, of an odd and of an even number, and where half of the
// readings are alike.
func TestMiddleByHand(t *testing.T) {
	for _, c := range []struct {
		x           []float64
		median, mad float64
	}{
		{[]float64{9, 1, 2}, 2, 1},
		{[]float64{9, 1, 2, 4}, 3, 1.5},         // distances 1, 1, 2, 6
		{[]float64{1, 7, 2, 4, 11}, 4, 3},       // distances 0, 2, 3, 3, 7
		{[]float64{5, 5, 5, 7, 1}, 5, 0},        // distances 0, 0, 0, 2, 4
		{[]float64{5, 5, 6, 6}, 5.5, 0.5},       // all half away
		{[]float64{-4, -2, 2, 4}, 0, 3},         // 2, 2, 4, 4
		{[]float64{1, 2, 3, 4, 5, 6}, 3.5, 1.5}, // 0.5, 0.5, 1.5, 1.5, 2.5, 2.5
	} {
		r, err := RobustMean(c.x)
		if err != nil || r.Median != c.median || math.Abs(r.ScaledMAD-c.mad/0.6744897501960817) > 1e-12 {
			t.Errorf("%v: %+v, %v; want %v and %v", c.x, r, err, c.median, c.mad)
		}
		if c.mad == 0 && (r.Mean != c.median || r.SD != 0) {
			t.Errorf("%v: %+v", c.x, r)
		}
	}
}

// With no reading below detection the share that may be is 1 − 0.05^(1/k), and
// mean and deviation are the plain ones. One known reading has no deviation.
func TestPlainCases(t *testing.T) {
	e, err := Below(Censored{Detected: []float64{3, 4, 8}, Limit: 1})
	if err != nil || math.Abs(e.MaxBelowPct-100*(1-math.Cbrt(0.05))) > 1e-9 || math.Abs(e.Mean-5) > 1e-12 || math.Abs(e.SD-math.Sqrt(7)) > 1e-12 || e.LowMean != 5 || e.HighMean != 5 || e.BelowPct != 0 || e.Notes != 0 {
		t.Errorf("%+v, %v", e, err)
	}
	e, err = Below(Censored{Detected: []float64{3, 4, 8}, Below: 3, Limit: 2})
	if err != nil || e.LowMean != 2.5 || e.HighMean != 3.5 || e.BelowPct != 50 || e.Notes&MostBelow != 0 {
		t.Errorf("%+v, %v", e, err)
	}
	if e, err = Below(Censored{Detected: []float64{3, 4, 8}, Below: 4, Limit: 2}); err != nil || e.Notes&MostBelow == 0 {
		t.Errorf("%+v, %v", e, err)
	}
	m, err := JudgeVariables([]float64{4}, 5, true, Variables{N: 1, K: 2, SDKnown: true}, 0.5)
	if err != nil || m != (Measured{Accept: true, Mean: 4, Index: 2}) {
		t.Errorf("%+v, %v", m, err)
	}
	// A large mean costs no digits.
	far := []float64{123456789.1, 123456789.35, 123456789.2, 123456789.7}
	close := make([]float64, len(far))
	for i, x := range far {
		close[i] = x - 123456789
	}
	a, err1 := ToleranceBound(far, Claim{90, 95, Both, false, 0})
	b, err2 := ToleranceBound(close, Claim{90, 95, Both, false, 0})
	if err1 != nil || err2 != nil || math.Abs(a.SD-b.SD) > 1e-9 || math.Abs(a.Hi-123456789-b.Hi) > 1e-7 {
		t.Errorf("%+v and %+v; %v %v", a, b, err1, err2)
	}
}

// The odd reading of ten is noted by Grubbs's table (two-sided 5 %, 2.290),
// which with nine readings about zero, of 15 in squares, the tenth passes at
// x with 0.9·x/√((15 + 0.9·x²)/9) = 2.290: at 5.53.
func TestSuspectsAtItsEnd(t *testing.T) {
	for _, c := range []struct {
		at   float64
		want bool
	}{{5.5, false}, {5.57, true}, {-5.5, false}, {-5.57, true}} {
		x := []float64{-2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2, c.at}
		for _, unit := range []float64{1, 1000, 1e-3} {
			scaled := make([]float64, len(x))
			for i := range x {
				scaled[i] = unit * x[i]
			}
			s, err1 := Grubbs(scaled, 5)
			b, err2 := ToleranceBound(scaled, Claim{95, 95, Upper, false, 0})
			if err1 != nil || err2 != nil || s.Index != 9 || s.Flagged != c.want || (b.Notes&Suspects != 0) != c.want || math.Abs(s.Critical-2.290) > 5e-4 {
				t.Errorf("%v times %v: %+v, %+v; %v %v", c.at, unit, s, b, err1, err2)
			}
		}
	}
}
