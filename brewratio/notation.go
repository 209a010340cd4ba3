package brewratio

import (
	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// The ranges of the ways of writing a ratio: 1:40 to 1:0.5 in each of them.
const (
	MinGPerL     = 23.9 // smallest dose per volume of water, g/L
	MaxGPerL     = 2000 // largest, g/L
	MinGPer100ML = 2.39 // smallest, g per 100 mL
	MaxGPer100ML = 200  // largest, g per 100 mL
	MinCoffeePct = 2.5  // smallest, % of the water's mass
	MaxCoffeePct = 200  // largest, %
)

// Notation is one ratio written in every way.
type Notation struct {
	Ratio           decimal.Decimal // water per coffee by mass, g/g
	CoffeePct       decimal.Decimal // coffee per water by mass, %
	CoffeeGPerL     decimal.Decimal // coffee per volume of water, g/L
	CoffeeGPer100ML decimal.Decimal // coffee per volume of water, g per 100 mL
	WaterKgPerM3    decimal.Decimal // density of the water, kg/m³ = g/L
	Notes           Notes           // [UnusualRatio] and [Unending]
}

// RatioAt is a ratio by mass, and the temperature at which its water would be
// measured by volume. The zero RatioAt is refused.
type RatioAt struct {
	Ratio decimal.Decimal // water per coffee, g/g
	TempC decimal.Decimal // water temperature when its volume is read, °C
}

// FromRatio returns a ratio by mass in every way of writing it.
//
//	p = 100/R    c = ρ(t)/R    c₁₀₀ = c/10
//
//	R     RatioAt.Ratio             g/g  accepted 0.5 to 40
//	t     RatioAt.TempC             °C   accepted 0 to 100
//	p     Notation.CoffeePct        %, rounded to 12 places
//	c     Notation.CoffeeGPerL      g/L, rounded to 12 places
//	c₁₀₀  Notation.CoffeeGPer100ML  g per 100 mL
//
// Outside, it returns the zero Notation and an [*InputError].
//
// Source: definition; density by [WaterDensity].
func FromRatio(in RatioAt) (Notation, error) {
	bad := fault.Decimal(nil, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return Notation{}, err
	}
	n := Notation{Ratio: in.Ratio, WaterKgPerM3: density(in.TempC)}
	n.CoffeePct = n.over(decimal.NewFromInt(100), in.Ratio)
	n.CoffeeGPerL = n.over(n.WaterKgPerM3, in.Ratio)
	n.CoffeeGPer100ML = n.CoffeeGPerL.Shift(-1)
	return n, nil
}

// GPerLAt is a dose per litre of water. The zero GPerLAt is refused.
type GPerLAt struct {
	CoffeeGPerL decimal.Decimal // coffee per litre of water, g/L
	TempC       decimal.Decimal // water temperature when its volume is read, °C
}

// FromGramsPerLitre returns a dose per litre in every way of writing it.
//
//	R = ρ(t)/c
//
//	c  GPerLAt.CoffeeGPerL  g/L  accepted 23.9 to 2000
//	t  GPerLAt.TempC        °C   accepted 0 to 100
//	R  Notation.Ratio       g/g, rounded to 12 places
//
// Outside, it returns the zero Notation and an [*InputError].
//
// Source: definition; density by [WaterDensity].
func FromGramsPerLitre(in GPerLAt) (Notation, error) {
	bad := fault.Decimal(nil, "CoffeeGPerL", in.CoffeeGPerL, MinGPerL, MaxGPerL, "g/L")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return Notation{}, err
	}
	return perVolume(in.CoffeeGPerL, in.TempC), nil
}

// GPer100MLAt is a dose per 100 mL of water. The zero GPer100MLAt is refused.
type GPer100MLAt struct {
	CoffeeGPer100ML decimal.Decimal // coffee per 100 mL of water, g
	TempC           decimal.Decimal // water temperature when its volume is read, °C
}

// FromGramsPer100ML returns a dose per 100 mL in every way of writing it. See
// [FromGramsPerLitre], of which it is a tenth.
//
//	c₁₀₀  GPer100MLAt.CoffeeGPer100ML  g per 100 mL  accepted 2.39 to 200
//	t     GPer100MLAt.TempC            °C            accepted 0 to 100
//
// Outside, it returns the zero Notation and an [*InputError].
//
// Source: definition; density by [WaterDensity].
func FromGramsPer100ML(in GPer100MLAt) (Notation, error) {
	bad := fault.Decimal(nil, "CoffeeGPer100ML", in.CoffeeGPer100ML, MinGPer100ML, MaxGPer100ML, "g/100 mL")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return Notation{}, err
	}
	return perVolume(in.CoffeeGPer100ML.Shift(1), in.TempC), nil
}

func perVolume(gPerL, tempC decimal.Decimal) Notation {
	n := Notation{CoffeeGPerL: gPerL, CoffeeGPer100ML: gPerL.Shift(-1), WaterKgPerM3: density(tempC)}
	n.Ratio = n.over(n.WaterKgPerM3, gPerL)
	n.CoffeePct = n.over(gPerL.Shift(2), n.WaterKgPerM3)
	n.unusual()
	return n
}

// PctAt is a dose as a percentage of the water's mass. The zero PctAt is
// refused.
type PctAt struct {
	CoffeePct decimal.Decimal // coffee per water by mass, %
	TempC     decimal.Decimal // water temperature when its volume is read, °C
}

// FromPct returns a percentage of the water's mass in every way of writing it.
//
//	R = 100/p
//
//	p  PctAt.CoffeePct  %   accepted 2.5 to 200
//	t  PctAt.TempC      °C  accepted 0 to 100
//	R  Notation.Ratio   g/g, rounded to 12 places
//
// Outside, it returns the zero Notation and an [*InputError].
//
// Source: definition; density by [WaterDensity].
func FromPct(in PctAt) (Notation, error) {
	bad := fault.Decimal(nil, "CoffeePct", in.CoffeePct, MinCoffeePct, MaxCoffeePct, "%")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return Notation{}, err
	}
	n := Notation{CoffeePct: in.CoffeePct, WaterKgPerM3: density(in.TempC)}
	n.Ratio = n.over(decimal.NewFromInt(100), in.CoffeePct)
	n.CoffeeGPerL = n.CoffeePct.Mul(n.WaterKgPerM3).Shift(-2)
	n.CoffeeGPer100ML = n.CoffeeGPerL.Shift(-1)
	n.unusual()
	return n, nil
}

// over divides and notes that it had to round.
func (n *Notation) over(a, b decimal.Decimal) decimal.Decimal {
	q, notes := quotient(a, b)
	n.Notes |= notes
	return q
}

func (n *Notation) unusual() {
	if fault.Decimal(nil, "", n.Ratio, MinRatio, MaxRatio, "") != nil {
		n.Notes |= UnusualRatio
	}
}
