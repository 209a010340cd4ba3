package moisture

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// fields are the names that an InputError refuses, in order.
func fields(err error) []string {
	var bad *InputError
	if !errors.As(err, &bad) {
		return nil
	}
	var names []string
	for _, f := range bad.Fields {
		names = append(names, f.Field)
	}
	return names
}

// near says whether two numbers agree to a share of the second.
func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

// awkward are the numbers that no function may answer with NaN or infinity.
var awkward = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), 1e-320, -1e-320,
	math.MaxFloat64, -math.MaxFloat64, -1, 0.12}

func up(v float64) float64   { return math.Nextafter(v, math.Inf(1)) }
func down(v float64) float64 { return math.Nextafter(v, math.Inf(-1)) }

func TestBasisRefusals(t *testing.T) {
	for _, v := range append(awkward, down(MinMoisturePct), up(MaxMoisturePct)) {
		x, err := DryBasis(v)
		if diff := cmp.Diff([]string{"moisturePct"}, fields(err)); diff != "" || x != 0 {
			t.Errorf("DryBasis(%v) is %v, %v", v, x, err)
		}
	}
	for _, v := range append(awkward, down(MinDryMoisturePct), up(MaxDryMoisturePct)) {
		x, err := WetBasis(v)
		if diff := cmp.Diff([]string{"dryMoisturePct"}, fields(err)); diff != "" || x != 0 {
			t.Errorf("WetBasis(%v) is %v, %v", v, x, err)
		}
	}
}

func TestBasisThereAndBack(t *testing.T) {
	last := 0.0
	for m := float64(MinMoisturePct); m <= MaxMoisturePct; m += 0.5 {
		x, err := DryBasis(m)
		if err != nil || !(x > last) || !(x >= m) {
			t.Fatalf("%v %% wet is %v %% dry, %v", m, x, err)
		}
		back, err := WetBasis(x)
		if err != nil || !near(back, m, 1e-14) {
			t.Fatalf("%v came back as %v, %v", m, back, err)
		}
		last = x
	}
	if x, _ := DryBasis(MaxMoisturePct); x != MaxDryMoisturePct {
		t.Errorf("the limits of the two bases do not meet: %v", x)
	}
}

// The limits as the doc comments state them: a limit that moves must be moved
// in both places.
func TestLimitsAsDocumented(t *testing.T) {
	for i, c := range [][2]float64{
		{MinMoisturePct, 0.5}, {MaxMoisturePct, 80}, {MinDryMoisturePct, 0.5}, {MaxDryMoisturePct, 400},
		{MinMassKg, 0.001}, {MaxMassKg, 1e8}, {WaterMinC, -50}, {WaterMaxC, 200}, {IceMinC, -100},
		{AirMinC, -40}, {AirMaxC, 80}, {MinRHPct, 1}, {MaxRHPct, 100}, {DewMinC, -80},
		{MinPressureKPa, 50}, {MaxPressureKPa, 110}, {MinAltitudeM, -500}, {MaxAltitudeM, 5000},
		{BeanMinC, 0}, {BeanMaxC, 70}, {MinAw, 0.01}, {MaxAw, 1}, {MinAnchorScale, 0.5}, {MaxAnchorScale, 2},
		{MinIsothermPairsCount, 4}, {MaxIsothermPairsCount, 10_000}, {MaxFitSpreadK, 3}, {CloseBIC, 2},
		{MinPairsCount, 3}, {GoodPairsCount, 10}, {MaxPairsCount, 100_000}, {AgreementFactor, 1.96},
		{MinTimeConstantDays, 0.01}, {MaxTimeConstantDays, 10_000}, {MaxStoreDays, 10_000}, {MaxReadingsCount, 100_000},
		{MinRoastedMoisturePct, 0.1}, {MaxRoastedMoisturePct, 15}, {MinRoastLossPct, 1}, {MaxRoastLossPct, 60},
		{MaxOverfillPct, 20}, {MaxHeldBackKg, 1e6}, {MaxDishG, 5000}, {MaxSacksCount, 1_000_000}, {maxGapSeconds, 366 * 86400},
		{HandbookUncertaintyPct, 2}, {StandardPressureKPa, 101.325},
	} {
		if c[0] != c[1] {
			t.Errorf("limit %d is %v, documented as %v", i, c[0], c[1])
		}
	}
}
