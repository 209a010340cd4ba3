package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// The Hyland–Wexler equation over liquid water, ln(p/Pa) as a function of T/K.
// ASHRAE, Handbook of Fundamentals, ch. 1, eq. 6; opened in the tests of a
// general psychrometric library.
const (
	waterC8  = -5.8002206e3  // K
	waterC9  = 1.3914993     // 1
	waterC10 = -4.8640239e-2 // 1/K
	waterC11 = 4.1764768e-5  // 1/K²
	waterC12 = -1.4452093e-8 // 1/K³
	waterC13 = 6.5459673     // 1
)

// The Hyland–Wexler equation over ice. ASHRAE, Handbook of Fundamentals, ch. 1,
// eq. 5; memory, within 0.032 % of IAPWS R14-08 over −40 to 0 °C (tested).
const (
	iceC1 = -5.6745359e3   // K
	iceC2 = 6.3925247      // 1
	iceC3 = -9.6778430e-3  // 1/K
	iceC4 = 6.2215701e-7   // 1/K²
	iceC5 = 2.0747825e-9   // 1/K³
	iceC6 = -9.4840240e-13 // 1/K⁴
	iceC7 = 4.1635019      // 1
)

const (
	zeroCInKelvin = 273.15 // 0 °C, K; definition

	// WaterMinC is the least temperature that SaturationOverWater takes, °C;
	// the equation was published from 0 °C, below it the liquid is supercooled.
	WaterMinC = -50

	// WaterMaxC is the greatest that SaturationOverWater takes, °C, as published.
	WaterMaxC = 200

	// IceMinC bounds SaturationOverIce from below, °C, as published.
	IceMinC = -100
)

// Saturation is the vapour pressure of pure water in equilibrium.
type Saturation struct {
	PressureKPa float64 // saturation pressure, kPa absolute
	KPaPerK     float64 // its slope with temperature, kPa/K
	Notes       Notes   // what to tell the reader beside the number
}

// SaturationOverWater returns the saturation pressure over liquid water.
//
//	ln(e_w/Pa) = C₈/T + C₉ + C₁₀·T + C₁₁·T² + C₁₂·T³ + C₁₃·ln T
//	de_w/dT    = e_w·(−C₈/T² + C₁₀ + 2·C₁₁·T + 3·C₁₂·T² + C₁₃/T)
//
//	T        tempC + 273.15          K    accepted −50 to 200 °C, published 0 to 200
//	e_w      Saturation.PressureKPa  kPa
//	de_w/dT  Saturation.KPaPerK      kPa/K
//	C₈…C₁₃   the Hyland–Wexler coefficients
//
// Below 0 °C the water is supercooled and the answer carries [Extrapolated].
// Outside the accepted range, and for NaN, it returns the zero Saturation and
// an [*InputError] that names tempC.
//
// This formulation is used, and not the shorter Magnus form, because it is
// what engineers' tables are made with, one function serves from the store to
// the oven, and it lies within 0.025 % of IAPWS over 0 to 80 °C (Magnus: up to
// 0.3 %). Against Murphy and Koop (2005) it is 0.1 % high at −20 °C and 0.7 %
// at −40 °C, over supercooled water.
//
// Source: ASHRAE, Handbook of Fundamentals, ch. 1, eq. 6 (Hyland & Wexler 1983).
func SaturationOverWater(tempC float64) (Saturation, error) {
	if err := fault.Input(fault.Float(nil, "tempC", tempC, WaterMinC, WaterMaxC, "°C")); err != nil {
		return Saturation{}, err
	}
	T := tempC + zeroCInKelvin
	e := math.Exp(lnOverWater(T)) / 1000
	s := Saturation{PressureKPa: e, KPaPerK: e * slopeOverWater(T)}
	if tempC < 0 {
		s.Notes = Extrapolated
	}
	return s, nil
}

// SaturationOverIce returns the saturation pressure over ice.
//
//	ln(e_i/Pa) = C₁/T + C₂ + C₃·T + C₄·T² + C₅·T³ + C₆·T⁴ + C₇·ln T
//	de_i/dT    = e_i·(−C₁/T² + C₃ + 2·C₄·T + 3·C₅·T² + 4·C₆·T³ + C₇/T)
//
//	T        tempC + 273.15          K    accepted and published −100 to 0 °C
//	e_i      Saturation.PressureKPa  kPa
//	de_i/dT  Saturation.KPaPerK      kPa/K
//	C₁…C₇    the Hyland–Wexler coefficients over ice
//
// Outside, and for NaN, it returns the zero Saturation and an [*InputError]
// that names tempC. Over −40 to 0 °C it lies within 0.032 % of IAPWS R14-08.
//
// Source: ASHRAE, Handbook of Fundamentals, ch. 1, eq. 5 (Hyland & Wexler 1983).
func SaturationOverIce(tempC float64) (Saturation, error) {
	if err := fault.Input(fault.Float(nil, "tempC", tempC, IceMinC, 0, "°C")); err != nil {
		return Saturation{}, err
	}
	T := tempC + zeroCInKelvin
	e := math.Exp(lnOverIce(T)) / 1000
	return Saturation{PressureKPa: e, KPaPerK: e * slopeOverIce(T)}, nil
}

// lnOverWater is ln(e_w/Pa), T in K.
func lnOverWater(T float64) float64 {
	return waterC8/T + waterC9 + T*(waterC10+T*(waterC11+T*waterC12)) + waterC13*math.Log(T)
}

// slopeOverWater is d ln e_w / dT, 1/K.
func slopeOverWater(T float64) float64 {
	return (waterC13-waterC8/T)/T + waterC10 + T*(2*waterC11+T*3*waterC12)
}

// lnOverIce is ln(e_i/Pa), T in K.
func lnOverIce(T float64) float64 {
	return iceC1/T + iceC2 + T*(iceC3+T*(iceC4+T*(iceC5+T*iceC6))) + iceC7*math.Log(T)
}

// slopeOverIce is d ln e_i / dT, 1/K.
func slopeOverIce(T float64) float64 {
	return (iceC7-iceC1/T)/T + iceC3 + T*(2*iceC4+T*(3*iceC5+T*4*iceC6))
}

// waterKPa is e_w in kPa at a temperature in °C.
func waterKPa(tempC float64) float64 { return math.Exp(lnOverWater(tempC+zeroCInKelvin)) / 1000 }

// saturatedAt returns the temperature, °C, at which ln(e/Pa) is reached, by
// Newton's method on a curve that is nearly straight in 1/T. It starts from
// the Magnus form, within 1 K everywhere, and needs two or three steps.
func saturatedAt(lnPa float64, ice bool) float64 {
	g := lnPa - lnMagnusPa
	t := magnusTempC * g / (magnusFactor - g)
	if ice {
		t = magnusIceTempC * g / (magnusIceFactor - g)
	}
	for range 8 {
		T := t + zeroCInKelvin
		var step float64
		if ice {
			step = (lnOverIce(T) - lnPa) / slopeOverIce(T)
		} else {
			step = (lnOverWater(T) - lnPa) / slopeOverWater(T)
		}
		t -= step
		if math.Abs(step) < 1e-6 { // the next would be below 1e-14
			break
		}
	}
	return t
}

// The Magnus form is only where the search begins. WMO-No. 8, annex 4.B;
// quoted, over ice memory.
const (
	lnMagnusPa      = 6.415424 // ln 611.2
	magnusFactor    = 17.62
	magnusTempC     = 243.12
	magnusIceFactor = 22.46
	magnusIceTempC  = 272.62
)
