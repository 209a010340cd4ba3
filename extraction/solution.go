package extraction

import (
	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The volume that dissolved coffee takes in the brew.
const (
	// SoluteMLPerG is the apparent specific volume of dissolved coffee, mL/g:
	// that of sugars, for want of a published figure for coffee (memory;
	// sucrose 0.612 to 0.618 by the CRC Handbook's table).
	SoluteMLPerG = 0.62

	// SoluteUMLPerG is its standard uncertainty, mL/g (memory).
	SoluteUMLPerG = 0.05
)

// The temperatures at which a brew's volume is read.
const (
	MinTempC = 0   // °C
	MaxTempC = 100 // °C
)

// Solution is a brew of known strength. The zero Solution is refused.
type Solution struct {
	StrengthPct  float64 // dissolved solids, % w/w
	TempC        float64 // temperature at which its volume is read, °C
	SoluteMLPerG float64 // apparent specific volume of the solids, mL/g: [SoluteMLPerG]
}

// Strengths is one strength in every writing.
//
// Milligrams per kilogram and per litre are both called ppm. They differ by
// the density, and neither is what a conductivity meter calls ppm: that
// counts ions, on a scale made for salt water ([SaltPerConductivity]). Coffee's
// solids hardly conduct, so no such reading tells a brew's strength.
type Strengths struct {
	StrengthPct  float64 // dissolved solids, % w/w
	GPerL        float64 // g per litre of brew at its temperature, g/L
	GPer100ML    float64 // g per 100 mL of brew, g
	PPMByMass    float64 // mg per kg of brew
	MgPerL       float64 // mg per litre of brew
	KgPerM3      float64 // density of the brew, kg/m³
	DensityUPct  float64 // standard uncertainty of that density, and of all figures by volume, %
	WaterKgPerM3 float64 // density of water at that temperature, kg/m³
	Notes        Notes   // [UnusualStrength]
}

// SaltPerConductivity is the sodium chloride, mg/L, that makes one µS/cm at
// 20 °C in water: Karrasch & Eckert, Conversion factors for units in water
// chemistry, 2009 (opened). It is what "ppm" on a conductivity meter rests
// on. It holds for salt, and not for coffee, whose conductivity even falls
// when it grows strong (Sobolík et al. 2002, abstract opened).
const SaltPerConductivity = 0.53

// Convert returns a strength by mass in every writing.
//
//	1/ρ = (1 − T)/ρ_w + T·v
//	c   = T·ρ
//
//	T    Solution.StrengthPct   % w/w  accepted 0 to 35; a fraction in the equations
//	t    Solution.TempC         °C     accepted 0 to 100
//	v    Solution.SoluteMLPerG  mL/g   accepted 0.4 to 0.9; L/kg in the equation
//	ρ_w  density of water at t, Kell 1975
//	ρ    Strengths.KgPerM3      kg/m³
//	c    Strengths.GPerL        g/L
//
// Outside, it returns the zero Strengths and an [*InputError]. With the volume
// of sucrose it gives the handbook's densities of sugar solutions within
// 0.02 % up to 20 %. The uncertainty of a factor that nobody has published
// for coffee, [SoluteUMLPerG], is worth 0.06 % of the density at 1.2 % and
// 0.5 % at 10 %. Suspended fines and oil are not in it.
//
// Source: additive volumes; density of water by Kell, J. Chem. Eng. Data
// 20:97, 1975 (quoted).
func Convert(in Solution) (Strengths, error) {
	bad := fault.Float(nil, "StrengthPct", in.StrengthPct, 0, MaxStrengthPct, "%")
	bad = fault.Float(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "SoluteMLPerG", in.SoluteMLPerG, 0.4, 0.9, "mL/g")
	if err := fault.Input(bad); err != nil {
		return Strengths{}, err
	}
	return strengths(in.StrengthPct/100, num.WaterDensity(in.TempC), in.SoluteMLPerG), nil
}

func strengths(t, water, v float64) Strengths {
	rho := 1 / ((1-t)/water + t*v/1000)
	return Strengths{
		StrengthPct: 100 * t, GPerL: t * rho, GPer100ML: t * rho / 10, PPMByMass: 1e6 * t, MgPerL: 1000 * t * rho,
		KgPerM3: rho, DensityUPct: 100 * rho * t * SoluteUMLPerG / 1000, WaterKgPerM3: water, Notes: strengthNotes(100 * t),
	}
}

// ByVolume is a brew whose strength is given per volume. The zero ByVolume is
// refused.
type ByVolume struct {
	GPerL        float64 // dissolved solids per litre of brew, g/L
	TempC        float64 // temperature at which its volume is read, °C
	SoluteMLPerG float64 // apparent specific volume of the solids, mL/g: [SoluteMLPerG]
}

// ConvertGPerL returns a strength by volume in every writing: [Convert] read
// backwards.
//
//	T = c/(ρ_w + c·(1 − v·ρ_w/1000))
//
//	c    ByVolume.GPerL         g/L   accepted 0 to 500
//	t    ByVolume.TempC         °C    accepted 0 to 100
//	v    ByVolume.SoluteMLPerG  mL/g  accepted 0.4 to 0.9
//	ρ_w  density of water at t, g/L
//	T    Strengths.StrengthPct  % w/w; a fraction in the equation
//
// Outside, it returns the zero Strengths and an [*InputError].
//
// Source: additive volumes, solved for the strength; see [Convert].
func ConvertGPerL(in ByVolume) (Strengths, error) {
	bad := fault.Float(nil, "GPerL", in.GPerL, 0, 500, "g/L")
	bad = fault.Float(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "SoluteMLPerG", in.SoluteMLPerG, 0.4, 0.9, "mL/g")
	if err := fault.Input(bad); err != nil {
		return Strengths{}, err
	}
	water := num.WaterDensity(in.TempC)
	t := in.GPerL / (water + in.GPerL*(1-in.SoluteMLPerG*water/1000))
	return strengths(t, water, in.SoluteMLPerG), nil
}

// Served is a beverage measured by volume. The zero Served is refused.
type Served struct {
	VolumeML     float64 // beverage without foam, mL
	StrengthPct  float64 // dissolved solids, % w/w
	TempC        float64 // temperature at which the volume was read, °C
	SoluteMLPerG float64 // apparent specific volume of the solids, mL/g: [SoluteMLPerG]
}

// BeverageMass returns the mass, g, of a beverage measured by volume.
//
//	B = V·ρ/1000
//
//	V  Served.VolumeML  mL  accepted 0.1 to 4 000 000
//	   the others as in [Convert], whose density ρ is
//
// Outside, it returns 0 and an [*InputError]. Foam weighs next to nothing and
// stands high: a volume read off an espresso's crema is not one to put here.
//
// Source: definition; density by [Convert].
func BeverageMass(in Served) (float64, error) {
	bad := fault.Float(nil, "VolumeML", in.VolumeML, MinWaterG, MaxWaterG, "mL")
	bad = fault.Float(bad, "StrengthPct", in.StrengthPct, 0, MaxStrengthPct, "%")
	bad = fault.Float(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "SoluteMLPerG", in.SoluteMLPerG, 0.4, 0.9, "mL/g")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return in.VolumeML * strengths(in.StrengthPct/100, num.WaterDensity(in.TempC), in.SoluteMLPerG).KgPerM3 / 1000, nil
}
