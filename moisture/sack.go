package moisture

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// Drift is a mass of coffee whose moisture goes from one content to another.
// The zero Drift is refused.
type Drift struct {
	MassKg        decimal.Decimal // mass at the first content, kg
	MoisturePct   decimal.Decimal // first content, % wet basis
	ToMoisturePct decimal.Decimal // second content, % wet basis
}

// Drifted is what SackMass found.
type Drifted struct {
	MassKg      decimal.Decimal // mass at the second content, kg
	WaterKg     decimal.Decimal // water taken up, kg; negative when lost
	DryMatterKg decimal.Decimal // dry matter, the same before and after, kg
}

// SackMass returns the mass of a sack, or of any lot, at another moisture: its
// dry matter stays. With a contract's moisture as the second content it is
// the weight to invoice.
//
//	m_d = m₁·(100 − w₁)/100
//	m₂  = m₁·(100 − w₁)/(100 − w₂)
//	Δ   = m₂ − m₁
//
//	m₁   Drift.MassKg         kg           accepted 0.001 to 1e8
//	w₁   Drift.MoisturePct    % wet basis  accepted 0.5 to 80
//	w₂   Drift.ToMoisturePct  % wet basis  accepted 0.5 to 80
//	m_d  Drifted.DryMatterKg  kg, exact
//	m₂   Drifted.MassKg       kg, rounded to 9 places
//	Δ    Drifted.WaterKg      kg
//
// Outside, it returns the zero Drifted and an [*InputError].
//
// Subtracting the percentages is the usual mistake: from 25 to 15 % a mass
// loses 11.76 %, not 10 %. The balance is exact while no dry matter is lost,
// so it does not hold for roasting (see [RoastLoss]) or for dust and theft.
// Both contents must come from the same method: the oven conventions differ
// by up to a point.
//
// Source: definition, conservation of dry matter.
func SackMass(d Drift) (Drifted, error) {
	bad := fault.Decimal(nil, "MassKg", d.MassKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Decimal(bad, "MoisturePct", d.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Decimal(bad, "ToMoisturePct", d.ToMoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	if err := fault.Input(bad); err != nil {
		return Drifted{}, err
	}
	dry := d.MassKg.Mul(hundred.Sub(d.MoisturePct)) // 100·m_d
	m2 := dry.DivRound(hundred.Sub(d.ToMoisturePct), MassPlacesCount)
	return Drifted{MassKg: m2, WaterKg: m2.Sub(d.MassKg), DryMatterKg: dry.Shift(-2)}, nil
}

// How well weighing back agrees with the oven of ISO 6673: mean absolute
// differences of three lots in silo drying. Oliveros et al., Cenicafé 61(2),
// 2010, abstract; opened.
const (
	WeighBackMinDiffPct = 0.59 // least, % of moisture
	WeighBackMaxDiffPct = 0.77 // greatest, % of moisture
)

// WeighBack is a mass weighed twice, with its content known the first time.
// The zero WeighBack is refused.
type WeighBack struct {
	MassKg      decimal.Decimal // mass at the first weighing, kg
	MoisturePct decimal.Decimal // content then, % wet basis
	ToMassKg    decimal.Decimal // mass at the second weighing, kg
}

// MoistureByWeight returns the content, % wet basis, of a lot that was weighed
// again: what its mass gained or lost was water.
//
//	w₂ = 100 − (100 − w₁)·m₁/m₂
//
//	m₁  WeighBack.MassKg       kg           accepted 0.001 to 1e8
//	w₁  WeighBack.MoisturePct  % wet basis  accepted 0.5 to 80
//	m₂  WeighBack.ToMassKg     kg           accepted 0.001 to 1e8
//	w₂                         % wet basis, rounded to 9 places
//
// Outside, it returns 0 and an [*InputError]; when the second mass is below
// the dry matter of the first, an [*ImpossibleError].
//
// Weighing back agreed with the oven of ISO 6673 within 0.6 to 0.8 % on
// average in silo drying (Oliveros et al. 2010).
//
// Source: definition, conservation of dry matter.
func MoistureByWeight(w WeighBack) (moisturePct decimal.Decimal, err error) {
	bad := fault.Decimal(nil, "MassKg", w.MassKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Decimal(bad, "MoisturePct", w.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Decimal(bad, "ToMassKg", w.ToMassKg, MinMassKg, MaxMassKg, "kg")
	if err := fault.Input(bad); err != nil {
		return decimal.Decimal{}, err
	}
	dry := w.MassKg.Mul(hundred.Sub(w.MoisturePct)) // 100·m_d
	if w.ToMassKg.Mul(hundred).LessThan(dry) {
		return decimal.Decimal{}, &ImpossibleError{Quantity: "moisture",
			Why:   "the second weight is below the dry matter of the first",
			Field: "ToMassKg", Given: fault.Digits(w.ToMassKg),
			Min: math.Max(atLeast(dry.Shift(-2)), MinMassKg), Max: MaxMassKg, Unit: "kg"}
	}
	return hundred.Sub(dry.DivRound(w.ToMassKg, PctPlacesCount)), nil
}

// Sack is one sack, or one part of a lot, as weighed and measured. The zero
// Sack is refused.
type Sack struct {
	MassKg      decimal.Decimal // mass, kg
	MoisturePct decimal.Decimal // content, % wet basis
}

// Lot is what SackLot found.
type Lot struct {
	Count             int             // sacks
	MassKg            decimal.Decimal // mass, kg
	WaterKg           decimal.Decimal // water, kg
	DryMatterKg       decimal.Decimal // dry matter, kg
	MoisturePct       decimal.Decimal // content weighted by mass, % wet basis
	LowestPct         decimal.Decimal // driest sack, % wet basis
	HighestPct        decimal.Decimal // wettest sack, % wet basis
	MoistureSpreadPct float64         // standard deviation between sacks, %; 0 for one sack
}

// MaxSacksCount is the greatest number of sacks that SackLot takes, a count.
const MaxSacksCount = 1_000_000

// SackLot returns the mass, water and content of a lot of many sacks. The
// content of the lot is the weighted mean, not the mean of the readings; the
// wettest sack is told beside it because mould asks for no average.
//
//	M = Σ mᵢ·wᵢ / Σ mᵢ
//	s = √( Σ (wᵢ − w̄)² / (n − 1) )
//
//	mᵢ  Sack.MassKg            kg           accepted 0.001 to 1e8
//	wᵢ  Sack.MoisturePct       % wet basis  accepted 0.5 to 80
//	M   Lot.MoisturePct        % wet basis, rounded to 9 places
//	s   Lot.MoistureSpreadPct  %, each sack counting once
//
// Masses are exact. No sack at all, more than a million of them, or one
// outside the accepted ranges gives the zero Lot and an [*InputError].
//
// Source: definition, conservation of mass.
func SackLot(sacks []Sack) (Lot, error) {
	bad := fault.Int(nil, "sacks", len(sacks), 1, MaxSacksCount, "")
	if bad == nil {
		for i, s := range sacks {
			name := func(f string) string { return "sacks[" + strconv.Itoa(i) + "]." + f }
			if b := fault.Decimal(nil, "", s.MassKg, MinMassKg, MaxMassKg, "kg"); b != nil {
				b[0].Field = name("MassKg")
				bad = append(bad, b...)
			}
			if b := fault.Decimal(nil, "", s.MoisturePct, MinMoisturePct, MaxMoisturePct, "%"); b != nil {
				b[0].Field = name("MoisturePct")
				bad = append(bad, b...)
			}
		}
	}
	if err := fault.Input(bad); err != nil {
		return Lot{}, err
	}
	lot := Lot{Count: len(sacks), LowestPct: sacks[0].MoisturePct, HighestPct: sacks[0].MoisturePct}
	water := decimal.Decimal{} // 100 times
	mean, m2 := 0.0, 0.0       // Welford
	for i, s := range sacks {
		lot.MassKg = lot.MassKg.Add(s.MassKg)
		water = water.Add(s.MassKg.Mul(s.MoisturePct))
		lot.LowestPct = decimal.Min(lot.LowestPct, s.MoisturePct)
		lot.HighestPct = decimal.Max(lot.HighestPct, s.MoisturePct)
		w := s.MoisturePct.InexactFloat64()
		d := w - mean
		mean += d / float64(i+1)
		m2 += d * (w - mean)
	}
	lot.WaterKg = water.Shift(-2)
	lot.DryMatterKg = lot.MassKg.Sub(lot.WaterKg)
	lot.MoisturePct = water.DivRound(lot.MassKg, PctPlacesCount)
	if len(sacks) > 1 {
		lot.MoistureSpreadPct = math.Sqrt(m2 / float64(len(sacks)-1))
	}
	return lot, nil
}
