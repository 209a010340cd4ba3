package extraction

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The sucrose scale at 20 °C and 589.3 nm, in air: a parabola through the 31
// points from 0 to 20 % of the CRC Handbook's table of sucrose solutions
// (quoted by an open science library), which it meets within that table's
// own rounding, 0.00005. The points themselves are on the scale that ICUMSA
// adopted in 1974.
const (
	SucroseIndex0 = 1.332997    // index of water on this scale
	SucroseIndex1 = 1.424083e-3 // per degree Brix
	SucroseIndex2 = 5.97363e-6  // per degree Brix squared
)

// The degrees Brix that are read and published.
const (
	MinBrixPct          = -1 // an instrument that lost its zero, °Brix
	MaxBrixPct          = 30 // °Brix
	PublishedMaxBrixPct = 20 // end of the points behind the parabola, °Brix
)

// Reading is what a refractometer shows on its sucrose scale. The zero
// Reading is truly 0 °Brix.
type Reading struct {
	BrixPct float64 // °Brix, g of sucrose per 100 g of solution with the same index
}

// Refracted is an index or a Brix, and what to tell beside it.
type Refracted struct {
	Index   float64 // refractive index against air, 20 °C, 589.3 nm
	BrixPct float64 // °Brix
	Notes   Notes   // [Extrapolated] above [PublishedMaxBrixPct]
}

// SucroseIndex returns the refractive index of a sucrose solution at 20 °C.
//
//	n = n₀ + n₁·Bx + n₂·Bx²
//
//	Bx  Reading.BrixPct  °Brix  accepted −1 to 30, published 0 to 20
//	n   Refracted.Index  against air, 589.3 nm
//	n₀..n₂  [SucroseIndex0], [SucroseIndex1], [SucroseIndex2]
//
// Within 0.00005 of the handbook's table up to 20 %, which is 0.03 °Brix.
// Outside the published range it carries [Extrapolated]; outside the accepted
// one it returns the zero Refracted and an [*InputError]. It is sucrose: 10 %
// of glucose syrup reads 10.4 here, and coffee needs a slope of its own.
//
// Source: CRC Handbook of Chemistry and Physics, concentrative properties of
// aqueous sucrose (quoted).
func SucroseIndex(in Reading) (Refracted, error) {
	bad := fault.Float(nil, "BrixPct", in.BrixPct, MinBrixPct, MaxBrixPct, "°Brix")
	if err := fault.Input(bad); err != nil {
		return Refracted{}, err
	}
	return Refracted{Index: sucrose(in.BrixPct), BrixPct: in.BrixPct, Notes: brixNotes(in.BrixPct)}, nil
}

func sucrose(bx float64) float64 { return SucroseIndex0 + bx*(SucroseIndex1+bx*SucroseIndex2) }

func brix(n float64) float64 {
	d := n - SucroseIndex0
	return 2 * d / (SucroseIndex1 + math.Sqrt(SucroseIndex1*SucroseIndex1+4*SucroseIndex2*d))
}

func brixNotes(bx float64) Notes {
	if bx > PublishedMaxBrixPct || bx < 0 {
		return Extrapolated
	}
	return 0
}

// The indices that are read, and the temperatures at which the sample may be.
const (
	MinIndex         = 1.3290 // refractive index: water at 50 °C less a lost zero
	MaxIndex         = 1.3820 // refractive index: 30 °Brix
	MinSampleC       = 5      // °C
	MaxSampleC       = 50     // °C
	ReferenceSampleC = 20     // °C, of the scale
)

// Sample is an index read at a temperature, uncompensated. The zero Sample is
// refused.
type Sample struct {
	Index float64 // refractive index against air, 589.3 nm
	TempC float64 // temperature of the sample on the prism, °C
}

// Brix returns the reading on the sucrose scale of an index taken at another
// temperature than the scale's.
//
//	n₂₀ = n + n_w(20) − n_w(t)
//	Bx  = 2·(n₂₀ − n₀)/(n₁ + √(n₁² + 4·n₂·(n₂₀ − n₀)))
//
//	n    Sample.Index       accepted 1.3290 to 1.3820
//	t    Sample.TempC       °C  accepted 5 to 50
//	n_w  index of water, [WaterIndex]
//	Bx   Refracted.BrixPct  °Brix
//
// The sample is taken to lose index with temperature as water does. At 15
// and 25 °C that meets the CRC Handbook's corrections for sugar within 0.03
// °Brix; it falls 0.06 short of the OIV's at 15 °C and 0.13 short at 10 °C.
// No table is published for coffee. An instrument that
// compensates itself wants 20 here. Zeroing on water of the sample's own
// temperature removes the question. Below 0 or above 20 °Brix the answer
// carries [Extrapolated]; outside the ranges it returns the zero Refracted
// and an [*InputError].
//
// Source: the parabola of [SucroseIndex] solved; water by IAPWS R9-97
// (memory, checked against an open steam-property library).
func Brix(in Sample) (Refracted, error) {
	bad := fault.Float(nil, "Index", in.Index, MinIndex, MaxIndex, "")
	bad = fault.Float(bad, "TempC", in.TempC, MinSampleC, MaxSampleC, "°C")
	if err := fault.Input(bad); err != nil {
		return Refracted{}, err
	}
	n := in.Index
	if in.TempC != ReferenceSampleC {
		n += waterIndex(ReferenceSampleC) - waterIndex(in.TempC)
	}
	bx := brix(n)
	return Refracted{Index: n, BrixPct: bx, Notes: brixNotes(bx)}, nil
}

// Uncompensated is a Brix read at another temperature than 20 °C by an
// instrument that does not correct for it. The zero Uncompensated is refused.
type Uncompensated struct {
	BrixPct float64 // °Brix as shown
	TempC   float64 // temperature of the sample on the prism, °C
}

// BrixCorrection returns what to add to a Brix reading taken at another
// temperature than 20 °C, °Brix.
//
//	Bx  Uncompensated.BrixPct  °Brix  accepted −1 to 30
//	t   Uncompensated.TempC    °C     accepted 5 to 50
//
// By way of [SucroseIndex] and [Brix], whose remarks hold. Outside the ranges
// it returns 0 and an [*InputError].
//
// Source: see [Brix].
func BrixCorrection(in Uncompensated) (float64, error) {
	bad := fault.Float(nil, "BrixPct", in.BrixPct, MinBrixPct, MaxBrixPct, "°Brix")
	bad = fault.Float(bad, "TempC", in.TempC, MinSampleC, MaxSampleC, "°C")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return brix(sucrose(in.BrixPct)+waterIndex(ReferenceSampleC)-waterIndex(in.TempC)) - in.BrixPct, nil
}

// Coefficients of the refractive index of water: IAPWS, Release on the
// Refractive Index of Ordinary Water Substance, R9-97 (memory, checked
// against an open steam-property library).
const (
	indexA0 = 0.244257733
	indexA1 = 9.74634476e-3
	indexA2 = -3.73234996e-3
	indexA3 = 2.68678472e-4
	indexA4 = 1.58920570e-3
	indexA5 = 2.45934259e-3
	indexA6 = 0.900704920
	indexA7 = -1.66626219e-2
	indexUV = 0.2292020
	indexIR = 5.432937

	sodiumLine = 0.5893 / 0.589 // reduced wavelength
)

// AirIndex is the refractive index of air at 20 °C and one atmosphere, 589 nm:
// sugar scales count from it, the release from a vacuum (memory).
const AirIndex = 1.000272

// WaterIndex returns the refractive index of water against air at 589.3 nm and
// one atmosphere.
//
//	(n² − 1)/(n² + 2) = ρ·(a₀ + a₁·ρ + a₂·T + a₃·λ²·T + a₄/λ² + a₅/(λ² − λ_u²) + a₆/(λ² − λ_i²) + a₇·ρ²)
//
// with ρ in 1000 kg/m³, T in 273.15 K and λ in 0.589 µm; then n/[AirIndex].
//
//	t  At.TempC  °C  accepted 0 to 60
//	n            against air
//
// Outside, it returns 0 and an [*InputError]. At 20 °C it is 1.33299, the zero
// of the sugar scale; per kelvin above, 0.0001 less, which is 0.07 °Brix.
//
// Source: IAPWS R9-97 (memory; quoted coefficients in an open steam-property
// library, against which it is tested).
func WaterIndex(in At) (float64, error) {
	bad := fault.Float(nil, "TempC", in.TempC, 0, 60, "°C")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return waterIndex(in.TempC), nil
}

// At is a temperature. The zero At is truly 0 °C.
type At struct {
	TempC float64 // °C
}

func waterIndex(t float64) float64 {
	rho, temp, l2 := num.WaterDensity(t)/1000, (t+273.15)/273.15, sodiumLine*sodiumLine
	a := rho * (indexA0 + indexA1*rho + indexA2*temp + indexA3*l2*temp + indexA4/l2 +
		indexA5/(l2-indexUV*indexUV) + indexA6/(l2-indexIR*indexIR) + indexA7*rho*rho)
	return math.Sqrt((2*a+1)/(1-a)) / AirIndex
}
