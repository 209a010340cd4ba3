package headspace

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// Units of oxygen transmission, exact by the definitions of inch and mil.
const (
	PerM2FromPer100In2 = 15.500031000062 // cc/(m²·d) for 1 cc/(100 in²·d)
	PermFromMil100In2  = 0.3937007874    // cc·mm/(m²·d·atm) for 1 cc·mil/(100 in²·d·atm)
	MolPerM2SFromCCM2D = 5.1636e-10      // mol/(m²·s) for 1 cc(STP)/(m²·d)
)

// Typical oxygen transmission of flat film, cc(STP)/(m²·d), from the public
// table of a converter; opened. Flat film only: creases, seals and the valve
// decide for a real bag. Measured with pure oxygen on one side, that is at a
// difference of one atmosphere.
const (
	OTRFoilLaminate   = 0.006 // cc/(m²·d), PET/aluminium foil/LDPE: below this
	OTRMetPETLaminate = 0.6   // cc/(m²·d), metallised PET 12 µm/LDPE 50 µm
	OTRMetPET         = 2.0   // cc/(m²·d), metallised PET 12 µm
	OTRPET            = 105   // cc/(m²·d), PET 12 µm
	OTRCastPP         = 4800  // cc/(m²·d), cast PP 30 µm
	OTRLDPE           = 8000  // cc/(m²·d), LDPE
)

// A Layer of polymer film.
//
// The zero Layer is refused.
type Layer struct {
	PermCCMMPerM2DayAtm float64 // oxygen permeability, cc(STP)·mm/(m²·d·atm)
	ThicknessUM         float64 // thickness, µm
}

// FilmOTR returns the oxygen transmission rate of one layer of polymer,
// cc(STP)/(m²·d·atm).
//
//	OTR = P/l
//
//	P  PermCCMMPerM2DayAtm  cc·mm/(m²·d·atm)  accepted 1e-6 to 1e4
//	l  ThicknessUM          µm                accepted 0.1 to 5000
//
// Humidity raises the permeability of EVOH a hundredfold and that of PET
// hardly at all.
//
// Source: Fick's law across a film.
func FilmOTR(l Layer) (float64, error) {
	bad := fault.Float(nil, "PermCCMMPerM2DayAtm", l.PermCCMMPerM2DayAtm, 1e-6, 1e4, "cc·mm/(m²·d·atm)")
	bad = fault.Float(bad, "ThicknessUM", l.ThicknessUM, 0.1, 5000, "µm")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return l.PermCCMMPerM2DayAtm * 1000 / l.ThicknessUM, nil
}

// LaminateOTR returns the oxygen transmission rate of layers, from that of
// each, in the unit of the layers.
//
//	1/OTR = Σ 1/OTR_i
//
//	OTR_i  layers  cc/(m²·d·atm)  accepted 1e-6 to 1e6, 1 to 20 layers
//
// For whole polymer layers. It fails for metal and for foil with pinholes:
// metallised PET under LDPE is published at 0.6 where the rule gives 2.0. Have
// the laminate measured.
//
// Source: resistances in series; Cooksey, Marsh and Doar, Food Technology,
// September 1999, report that textbooks disagree about it.
func LaminateOTR(layers []float64) (float64, error) {
	bad := fault.Int(nil, "layers", len(layers), 1, 20, "layers")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	resistance := 0.0
	for i, v := range layers {
		n := len(bad)
		if bad = fault.Float(bad, "", v, 1e-6, 1e6, "cc/(m²·d·atm)"); len(bad) > n {
			bad = fault.Under("layers["+strconv.Itoa(i)+"]", bad, n)
		}
		resistance += 1 / v
	}
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return 1 / resistance, nil
}

// OxygenMolarG is the molar mass of O2, g/mol. Source: IUPAC; memory.
const OxygenMolarG = 31.998

// A Dose is oxygen in a gas space, to be told per gram of coffee.
//
// The zero Dose is refused. OxygenPct is truly zero when zero.
type Dose struct {
	FreeML    float64  // gas space, mL
	OxygenPct float64  // oxygen, % by volume
	CoffeeG   float64  // mass of coffee, g
	State     GasState // temperature and pressure of the gas
}

// OxygenDose returns the oxygen of a gas space per gram of coffee, µg/g.
//
//	d = y/100·V_h/V_m(T, P)·M/m
//
//	V_h   FreeML     mL  accepted 0.1 to 1e9
//	y     OxygenPct  %   accepted 0 to 100
//	m     CoffeeG    g   accepted 1 to 100 000
//	T, P  State          as in [MolarVolume]
//
// The same 1 % is twice the oxygen per gram in a bag with twice the headspace.
//
// Source: ideal gas law.
func OxygenDose(d Dose) (float64, error) {
	bad := fault.Float(nil, "FreeML", d.FreeML, 0.1, maxFreeML, "mL")
	bad = fault.Float(bad, "OxygenPct", d.OxygenPct, 0, 100, "%")
	bad = fault.Float(bad, "CoffeeG", d.CoffeeG, 1, 100_000, "g")
	bad = d.State.check(bad, "State.")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return d.OxygenPct / 100 * d.FreeML * ugPerML(d.State) / d.CoffeeG, nil
}

// ugPerML is the mass of oxygen in 1 mL at a state, µg.
func ugPerML(s GasState) float64 { return OxygenMolarG * 1000 / s.molarL() }

// Published sensitivity of roasted and ground coffee to its store. Source:
// Cardelli and Labuza, Lebensmittel-Wissenschaft und -Technologie 34, 2001,
// abstract opened. Ground coffee, with half of the consumers rejecting it as
// the end: no date for whole beans follows from them.
const (
	GroundOxygenFactor  = 20 // times faster at 21.3 kPa of oxygen than at 0.5 kPa
	GroundPerTenthAwPct = 60 // % faster for each 0.1 of water activity
	GroundPer10KLowPct  = 15 // % faster for each 10 K, lower
	GroundPer10KHighPct = 23 // % faster for each 10 K, upper
	GroundEaKJPerMol    = 13 // activation energy of shelf life, kJ/mol
	groundQ10FromK      = 293.15
)

// GroundQ10 returns the factor by which 10 K speeds the loss of ground coffee
// that follows from the published activation energy.
//
//	Q_10 = e^(E/R·(1/T − 1/(T + 10))), T = 293.15 K
//
// Source: Arrhenius law with [GroundEaKJPerMol].
func GroundQ10() float64 {
	return math.Exp(GroundEaKJPerMol * 1000 / GasConstant * (1/groundQ10FromK - 1/(groundQ10FromK+10)))
}
