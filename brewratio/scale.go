package brewratio

import (
	"math"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// What a balance's repeatability is judged by.
const (
	// DivisionFloor is the least standard deviation that a balance can be
	// credited with, as a share of its division: 0.41, which is the
	// rounding of two readings, d/√6. USP general chapter 41 (memory).
	DivisionFloor = 0.41

	// CoverageFactor widens a standard deviation to a tolerance: 2, as in
	// USP general chapter 41 (memory).
	CoverageFactor = 2
)

// Balance is a scale as its owner knows it. The zero Balance is refused.
type Balance struct {
	DivisionG     decimal.Decimal // step of the display, g
	RepeatableToG decimal.Decimal // standard deviation of one weight weighed ten times, g; 0 where it never moved
}

func (b Balance) check(bad []*FieldError, name string) []*FieldError {
	bad = fault.Decimal(bad, name+".DivisionG", b.DivisionG, MinDivisionG, MaxDivisionG, "g")
	return fault.Decimal(bad, name+".RepeatableToG", b.RepeatableToG, 0, MaxDivisionG, "g")
}

// spread is the standard deviation of one net weighing.
func (b Balance) spread() decimal.Decimal {
	if floor := b.DivisionG.Mul(decimal.NewFromFloat(DivisionFloor)); floor.GreaterThan(b.RepeatableToG) {
		return floor
	}
	return b.RepeatableToG
}

// SmallestWanted asks what a balance may weigh. The zero SmallestWanted is
// refused.
type SmallestWanted struct {
	Balance      Balance         // the scale
	TolerancePct decimal.Decimal // how far the mass may be off, %, with [CoverageFactor]
}

// SmallestDose returns the least mass that a balance may weigh for a wanted
// tolerance.
//
//	m = k·max(s, 0.41·d)·100/p
//
//	d  Balance.DivisionG            g  accepted 0.0001 to 1000
//	s  Balance.RepeatableToG        g  accepted 0 to 1000
//	p  SmallestWanted.TolerancePct  %  accepted 0.001 to 50
//	k  [CoverageFactor], 0.41 [DivisionFloor]
//	m                               g, rounded to 6 places
//
// Outside, it returns 0 and an [*InputError]. It is repeatability alone: a
// scale that is repeatably wrong needs a test weight.
//
// Source: USP general chapter 41, Balances (memory).
func SmallestDose(in SmallestWanted) (decimal.Decimal, error) {
	bad := in.Balance.check(nil, "Balance")
	bad = fault.Decimal(bad, "TolerancePct", in.TolerancePct, 0.001, 50, "%")
	if err := fault.Input(bad); err != nil {
		return decimal.Zero, err
	}
	return in.Balance.spread().Mul(decimal.New(CoverageFactor*100, 0)).DivRound(in.TolerancePct, 6), nil
}

// WeighedRatio is a brew and the two scales that weighed it. The zero
// WeighedRatio is refused.
type WeighedRatio struct {
	DoseG        decimal.Decimal // coffee, g
	WaterG       decimal.Decimal // water, g
	DoseBalance  Balance         // scale of the coffee
	WaterBalance Balance         // scale of the water
}

// RatioTold is how well two weighings know a ratio.
type RatioTold struct {
	DosePct  float64 // tolerance of the dose, %, with [CoverageFactor]
	WaterPct float64 // tolerance of the water, %
	RatioPct float64 // tolerance of the ratio, %
	Ratio    float64 // tolerance of the ratio, g/g: the x of 1:x is known to this either side
}

// RatioTolerance returns what two scales can tell of a ratio.
//
//	p_m = 100·k·max(s, 0.41·d)/m
//	p_R = √(p_D² + p_W²)    ΔR = p_R·R/100
//
//	D, W  WeighedRatio.DoseG, WaterG  g  accepted 0.1 to 100 000 and to 4 000 000
//	d, s  of each Balance             g  see [SmallestDose]
//	p     RatioTold                   %
//
// Outside, it returns the zero RatioTold and an [*InputError]. It is
// repeatability and rounding alone; two masses from one scale share its other
// errors, which leave the ratio alone.
//
// Source: JCGM 100:2008, 5.1.6, with USP general chapter 41 for each weighing
// (memory).
func RatioTolerance(in WeighedRatio) (RatioTold, error) {
	bad := fault.Decimal(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = in.DoseBalance.check(bad, "DoseBalance")
	bad = in.WaterBalance.check(bad, "WaterBalance")
	if err := fault.Input(bad); err != nil {
		return RatioTold{}, err
	}
	dose, water := in.DoseG.InexactFloat64(), in.WaterG.InexactFloat64()
	t := RatioTold{
		DosePct:  100 * CoverageFactor * in.DoseBalance.spread().InexactFloat64() / dose,
		WaterPct: 100 * CoverageFactor * in.WaterBalance.spread().InexactFloat64() / water,
	}
	t.RatioPct = math.Hypot(t.DosePct, t.WaterPct)
	t.Ratio = t.RatioPct / 100 * water / dose
	return t, nil
}
