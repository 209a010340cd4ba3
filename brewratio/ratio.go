package brewratio

import (
	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// What the functions of this package accept.
const (
	MinDoseG = 0.1     // smallest dose, g
	MaxDoseG = 100_000 // largest dose, g: a batch brewer's hundred kilograms

	MinWaterG = 0.1       // smallest water, g
	MaxWaterG = 4_000_000 // largest water, g

	MinRatio = 0.5 // smallest ratio, g of water per g of coffee
	MaxRatio = 40  // largest ratio, g/g; grams per litre typed as a ratio lie above it

	MinDivisionG = 0.0001 // finest division of a scale, g
	MaxDivisionG = 1000   // coarsest division of a scale, g
)

// QuotientPlacesCount is the number of decimal places to which a quotient is
// rounded, half away from zero, when it does not end before: a ten-millionth
// of what the finest division shows.
const QuotientPlacesCount = 12

// Brew is a dose, its water and their ratio.
type Brew struct {
	DoseG  decimal.Decimal // ground or whole coffee, as weighed, g
	WaterG decimal.Decimal // water poured, g
	Ratio  decimal.Decimal // R, g of water per g of coffee: the x of 1:x
	Notes  Notes           // what to tell the reader beside the numbers
}

// DoseAndRatio asks for the water. The zero DoseAndRatio is refused.
type DoseAndRatio struct {
	DoseG decimal.Decimal // dose, g
	Ratio decimal.Decimal // water per coffee, g/g
}

// Water returns the brew that a dose makes at a ratio. Its water is exact: a
// product of decimals ends.
//
//	W = D·R
//
//	D  DoseAndRatio.DoseG  g    accepted 0.1 to 100 000
//	R  DoseAndRatio.Ratio  g/g  accepted 0.5 to 40
//	W  Brew.WaterG         g, exact
//
// Outside, it returns the zero Brew and an [*InputError]. Grams per litre
// (55) and percent fall outside the ratio's range on purpose: [FromGramsPerLitre]
// and its siblings read those.
//
// Source: definition.
func Water(in DoseAndRatio) (Brew, error) {
	bad := fault.Decimal(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	if err := fault.Input(bad); err != nil {
		return Brew{}, err
	}
	return Brew{DoseG: in.DoseG, WaterG: in.DoseG.Mul(in.Ratio), Ratio: in.Ratio}, nil
}

// WaterAndRatio asks for the dose. The zero WaterAndRatio is refused.
type WaterAndRatio struct {
	WaterG decimal.Decimal // water, g
	Ratio  decimal.Decimal // water per coffee, g/g
}

// Dose returns the brew that a water needs at a ratio.
//
//	D = W/R
//
//	W  WaterAndRatio.WaterG  g    accepted 0.1 to 4 000 000
//	R  WaterAndRatio.Ratio   g/g  accepted 0.5 to 40
//	D  Brew.DoseG            g, rounded to 12 places where it does not end
//
// Where the dose was rounded it carries [Unending]; [Round] brings it to what
// a scale shows. Outside the ranges it returns the zero Brew and an
// [*InputError].
//
// Source: definition.
func Dose(in WaterAndRatio) (Brew, error) {
	bad := fault.Decimal(nil, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	if err := fault.Input(bad); err != nil {
		return Brew{}, err
	}
	b := Brew{WaterG: in.WaterG, Ratio: in.Ratio}
	b.DoseG, b.Notes = quotient(in.WaterG, in.Ratio)
	return b, nil
}

// DoseAndWater asks for the ratio. The zero DoseAndWater is refused.
type DoseAndWater struct {
	DoseG  decimal.Decimal // dose, g
	WaterG decimal.Decimal // water, g
}

// Ratio returns the brew that a dose and a water are.
//
//	R = W/D
//
//	D  DoseAndWater.DoseG   g  accepted 0.1 to 100 000
//	W  DoseAndWater.WaterG  g  accepted 0.1 to 4 000 000
//	R  Brew.Ratio           g/g, rounded to 12 places where it does not end
//
// Where the ratio was rounded it carries [Unending], and [UnusualRatio] where
// it lies outside what [Water] and [Dose] accept. Outside the ranges it
// returns the zero Brew and an [*InputError].
//
// Source: definition.
func Ratio(in DoseAndWater) (Brew, error) {
	bad := fault.Decimal(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	if err := fault.Input(bad); err != nil {
		return Brew{}, err
	}
	b := Brew{DoseG: in.DoseG, WaterG: in.WaterG}
	b.Ratio, b.Notes = quotient(in.WaterG, in.DoseG)
	if fault.Decimal(nil, "", b.Ratio, MinRatio, MaxRatio, "") != nil {
		b.Notes |= UnusualRatio
	}
	return b, nil
}

// quotient divides and says whether it had to round.
func quotient(a, b decimal.Decimal) (decimal.Decimal, Notes) {
	q := a.DivRound(b, QuotientPlacesCount)
	if q.Mul(b).Equal(a) {
		return short(q), 0
	}
	return q, Unending
}

// short drops the zeros that a division wrote behind a quotient that ended.
func short(q decimal.Decimal) decimal.Decimal {
	for q.Exponent() < 0 {
		s := q.Truncate(-q.Exponent() - 1)
		if !s.Equal(q) {
			break
		}
		q = s
	}
	return q
}

// Batch is one brew made a number of times. The zero Batch is refused.
type Batch struct {
	DoseG      decimal.Decimal // coffee of one bowl or brew, g
	WaterG     decimal.Decimal // water of one bowl or brew, g
	BowlsCount int             // how many
}

// Total is what a number of brews takes.
type Total struct {
	DoseG  decimal.Decimal // coffee in all, g, exact
	WaterG decimal.Decimal // water in all, g, exact
}

// Bowls returns what n equal bowls take; the ratio, and with it the strength,
// stays.
//
//	ΣD = n·D    ΣW = n·W
//
//	D  Batch.DoseG       g  accepted 0.1 to 100 000
//	W  Batch.WaterG      g  accepted 0.1 to 4 000 000
//	n  Batch.BowlsCount     accepted 1 to 10 000
//
// Outside, it returns the zero Total and an [*InputError].
//
// Source: definition.
func Bowls(in Batch) (Total, error) {
	bad := fault.Decimal(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Int(bad, "BowlsCount", in.BowlsCount, 1, MaxBowlsCount, "")
	if err := fault.Input(bad); err != nil {
		return Total{}, err
	}
	n := decimal.NewFromInt(int64(in.BowlsCount))
	return Total{DoseG: in.DoseG.Mul(n), WaterG: in.WaterG.Mul(n)}, nil
}

// MaxBowlsCount is the most bowls that one call plans.
const MaxBowlsCount = 10_000

// OnScale is a mass to be brought to a scale's division. The zero OnScale is
// refused.
type OnScale struct {
	MassG     decimal.Decimal // the mass wanted, g
	DivisionG decimal.Decimal // the step of the display, g: 0.1, 0.5, 1 ...
}

// Rounded is a mass as a scale can show it.
type Rounded struct {
	MassG  decimal.Decimal // the nearest whole number of divisions, g
	ErrorG decimal.Decimal // that minus the mass wanted, g, exact
}

// Round returns the mass nearest to the one wanted that a scale can show: a
// whole number of its divisions. A tie goes away from zero.
//
//	m' = d·⌊m/d⌉
//
//	m   OnScale.MassG      g  accepted 0 to 4 000 000
//	d   OnScale.DivisionG  g  accepted 0.0001 to 1000
//	m'  Rounded.MassG      g, exact
//
// Outside, it returns the zero Rounded and an [*InputError].
//
// Source: definition.
func Round(in OnScale) (Rounded, error) {
	bad := fault.Decimal(nil, "MassG", in.MassG, 0, MaxWaterG, "g")
	bad = fault.Decimal(bad, "DivisionG", in.DivisionG, MinDivisionG, MaxDivisionG, "g")
	if err := fault.Input(bad); err != nil {
		return Rounded{}, err
	}
	m := in.MassG.DivRound(in.DivisionG, 0).Mul(in.DivisionG)
	return Rounded{MassG: m, ErrorG: m.Sub(in.MassG)}, nil
}
