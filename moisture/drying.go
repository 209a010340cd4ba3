package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// What the oven standards prescribe. They are conventions: a moisture belongs
// to the one that gave it.
const (
	// GreenOvenC is the oven temperature for green coffee, °C. ISO 6673; opened.
	GreenOvenC = 105

	// GreenOvenHours is its heating time, h. ISO 6673; quoted by The Coffee
	// Guide, International Trade Centre.
	GreenOvenHours = 16

	// GreenPortionG is its test portion of whole beans, g. ISO 6673:2003, 7.2; opened.
	GreenPortionG = 10

	// RoastedOvenC is the oven temperature for roasted ground coffee, °C.
	// ISO 11294:1994, 4.1; opened.
	RoastedOvenC = 103

	// RoastedOvenHours is its heating time, h. ISO 11294:1994; memory.
	RoastedOvenHours = 2

	// RoastedPortionG is its test portion, g, of degassed ground coffee.
	// ISO 11294:1994, 7.2; opened.
	RoastedPortionG = 5

	// RoastedRepeatabilityPct is the difference that two results by the same
	// operator and oven should not exceed, % of mass, absolute. ISO 11294:1994,
	// 9.1; opened. For green coffee no limit was read in a source.
	RoastedRepeatabilityPct = 0.1

	// BrazilOvenC is the Brazilian official oven's temperature, °C. Lacerda
	// Filho 2016; opened.
	BrazilOvenC = 103

	// BrazilOvenHours is its heating time, h. Lacerda Filho 2016; opened.
	BrazilOvenHours = 24

	// VacuumOvenC is the temperature of the basic reference method, °C.
	// ISO 1446:2001; memory.
	VacuumOvenC = 48

	// OvenOffset2003Pct is how far ISO 6673 read from ISO 1446 by its own scope
	// of 2003, %. The edition of 2025 drops the sentence: never applied here.
	OvenOffset2003Pct = -1.0
)

// Dish is one portion weighed before and after the oven, always with its dish.
// The zero Dish is refused.
type Dish struct {
	TareG   decimal.Decimal // empty dried dish, g
	BeforeG decimal.Decimal // dish with the portion, g
	AfterG  decimal.Decimal // dish with the dried portion, cooled in a desiccator, g
}

// finestG is the least portion that is named as possible, g: the last digit of
// a balance that shows a tenth of a milligram.
var finestG = decimal.New(1, -4)

// MaxDishG is the greatest weight of a dish accepted, g.
const MaxDishG = 5000

// LossOnDrying returns the moisture of a portion, % wet basis, by the mass it
// lost in the oven.
//
//	M = 100·(b − a)/(b − d)
//
//	d  Dish.TareG    g            accepted 0 to 5000
//	b  Dish.BeforeG  g            accepted 0.01 to 5000, above d
//	a  Dish.AfterG   g            accepted 0.01 to 5000, d to b
//	M                % wet basis, rounded to 9 places
//
// Outside, it returns 0 and an [*InputError]; when the three weights stand in
// the wrong order, an [*ImpossibleError]: one that asks for a portion names no
// less than 0.0001 g of it.
//
// Whatever leaves in the oven counts as water: fresh ground coffee loses
// carbon dioxide too, so degas it first.
//
// Source: ISO 6673 and ISO 11294, expression of results.
func LossOnDrying(d Dish) (moisturePct decimal.Decimal, err error) {
	bad := fault.Decimal(nil, "TareG", d.TareG, 0, MaxDishG, "g")
	bad = fault.Decimal(bad, "BeforeG", d.BeforeG, 0.01, MaxDishG, "g")
	bad = fault.Decimal(bad, "AfterG", d.AfterG, 0.01, MaxDishG, "g")
	if err := fault.Input(bad); err != nil {
		return decimal.Decimal{}, err
	}
	wrong := func(why, field string, given decimal.Decimal, min, max float64) error {
		if min > max {
			return &ImpossibleError{Quantity: "loss on drying", Why: why} // no other weight alone helps
		}
		return &ImpossibleError{Quantity: "loss on drying", Why: why, Field: field, Given: fault.Digits(given), Min: min, Max: max, Unit: "g"}
	}
	portion := d.BeforeG.Sub(d.TareG)
	switch {
	case !portion.IsPositive():
		least := atLeast(decimal.Max(d.TareG.Add(finestG), d.AfterG))
		field, given, most := "BeforeG", d.BeforeG, float64(MaxDishG)
		if d.AfterG.LessThan(d.TareG) || least > most {
			field, given, least, most = "TareG", d.TareG, 0, atMost(decimal.Min(d.BeforeG.Sub(finestG), d.AfterG))
			if d.AfterG.GreaterThan(d.BeforeG) { // whatever the dish weighs
				least = math.Inf(1)
			}
		}
		return decimal.Decimal{}, wrong("the dish with its portion weighs no more than the dish", field, given, least, most)
	case d.AfterG.GreaterThan(d.BeforeG):
		return decimal.Decimal{}, wrong("the portion gained weight in the oven", "AfterG", d.AfterG, math.Max(atLeast(d.TareG), 0.01), atMost(d.BeforeG))
	case d.AfterG.LessThan(d.TareG):
		return decimal.Decimal{}, wrong("the dried portion weighs less than nothing", "AfterG", d.AfterG, atLeast(d.TareG), atMost(d.BeforeG))
	}
	return d.BeforeG.Sub(d.AfterG).Shift(2).DivRound(portion, PctPlacesCount), nil
}

// Duplicates are two results on one sample. The zero Duplicates is refused.
type Duplicates struct {
	FirstPct         decimal.Decimal // first result, % wet basis
	SecondPct        decimal.Decimal // second result, % wet basis
	RepeatabilityPct decimal.Decimal // greatest difference allowed, %, such as RoastedRepeatabilityPct
}

// Duplicate is what MeanOfDuplicates found.
type Duplicate struct {
	MoisturePct   decimal.Decimal // mean, % wet basis
	DifferencePct decimal.Decimal // absolute difference, %
	Notes         Notes           // what to tell the reader beside the numbers
}

// MeanOfDuplicates returns the mean of two results, and says when they lie
// farther apart than the method's repeatability allows: then neither is
// reported and the sample is dried again.
//
//	M = (M₁ + M₂)/2,  Δ = |M₁ − M₂|
//
//	M₁  Duplicates.FirstPct          % wet basis  accepted 0.1 to 80
//	M₂  Duplicates.SecondPct         % wet basis  accepted 0.1 to 80
//	r   Duplicates.RepeatabilityPct  %            accepted 0.01 to 5
//	M   Duplicate.MoisturePct        % wet basis, exact
//	Δ   Duplicate.DifferencePct      %, exact; above r it carries [WideDuplicates]
//
// Outside, it returns the zero Duplicate and an [*InputError].
//
// Source: ISO 11294:1994, 9.1 for roasted ground coffee.
func MeanOfDuplicates(d Duplicates) (Duplicate, error) {
	bad := fault.Decimal(nil, "FirstPct", d.FirstPct, MinRoastedMoisturePct, MaxMoisturePct, "%")
	bad = fault.Decimal(bad, "SecondPct", d.SecondPct, MinRoastedMoisturePct, MaxMoisturePct, "%")
	bad = fault.Decimal(bad, "RepeatabilityPct", d.RepeatabilityPct, 0.01, 5, "%")
	if err := fault.Input(bad); err != nil {
		return Duplicate{}, err
	}
	half := decimal.New(5, -1)
	r := Duplicate{MoisturePct: d.FirstPct.Add(d.SecondPct).Mul(half), DifferencePct: d.FirstPct.Sub(d.SecondPct).Abs()}
	if r.DifferencePct.GreaterThan(d.RepeatabilityPct) {
		r.Notes |= WideDuplicates
	}
	return r, nil
}
