package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// The standard atmosphere and its pressure at sea level. Source: ISO 2533:1975.
const (
	SeaLevelKPa   = 101.325 // kPa absolute, also one standard atmosphere (exact)
	SeaLevelK     = 288.15  // K
	LapseKPerM    = 0.0065  // K per metre of height
	PressureIndex = 5.25588 // exponent, a pure number
)

// Pressure returns the pressure of the standard atmosphere at an altitude,
// kPa absolute.
//
//	P = 101.325·(1 − 0.0065·H/288.15)^5.25588
//
//	H  altitudeM  m  accepted −500 to 11 000 (geopotential height)
//
// Weather moves the true pressure by 2 % to either side: read a barometer
// (uncorrected to sea level) where that matters.
//
// Source: ISO 2533:1975.
func Pressure(altitudeM float64) (float64, error) {
	if bad := fault.Float(nil, "altitudeM", altitudeM, -500, 11_000, "m"); bad != nil {
		return 0, fault.Input(bad)
	}
	return SeaLevelKPa * math.Pow(1-LapseKPerM*altitudeM/SeaLevelK, PressureIndex), nil
}

// RoomAir is the air of a room.
//
// The zero RoomAir is refused: its pressure is none. RHPct is truly zero when
// zero.
type RoomAir struct {
	TempC float64 // temperature, °C
	RHPct float64 // relative humidity over liquid water, %
	KPa   float64 // pressure, kPa absolute
}

// AirOxygen returns the oxygen of humid air, % by volume: what a meter spanned
// in room air should be set to.
//
//	x = 20.946·(1 − φ/100·p_ws(t)/P)
//	ln p_ws = C8/T + C9 + C10·T + C11·T² + C12·T³ + C13·ln T, in Pa
//
//	t  TempC  °C   accepted 0 to 60
//	φ  RHPct  %    accepted 0 to 100
//	P  KPa    kPa  accepted 50 to 110, absolute
//
// Altitude alone does not change the share of oxygen. At 25 °C and 50 %, air
// holds 20.62 %: a meter spanned there to 20.9 reads 1.4 % of its value high.
//
// Source: Hyland and Wexler as in the ASHRAE Handbook of Fundamentals (p_ws),
// coefficients from memory; Dalton's law.
func AirOxygen(a RoomAir) (float64, error) {
	bad := fault.Float(nil, "TempC", a.TempC, 0, 60, "°C")
	bad = fault.Float(bad, "RHPct", a.RHPct, 0, 100, "%")
	bad = fault.Float(bad, "KPa", a.KPa, 50, 110, "kPa")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return AirOxygenPct * (1 - a.RHPct/100*saturationKPa(a.TempC)/a.KPa), nil
}

// saturationKPa is the saturation pressure over liquid water, 0 to 200 °C.
func saturationKPa(tempC float64) float64 {
	t := tempC + ZeroCelsiusK
	return math.Exp(-5.8002206e3/t+1.3914993-4.8640239e-2*t+4.1764768e-5*t*t-1.4452093e-8*t*t*t+6.5459673*math.Log(t)) / 1000
}

// A GasState is a temperature and a pressure at which a gas volume is told.
//
// The zero GasState is refused.
type GasState struct {
	TempC float64 // temperature, °C
	KPa   float64 // pressure, kPa absolute
}

// States for which gas volumes are quoted. They differ by more than 7 %: name
// one beside every gas volume.
const (
	NormalTempC   = 0.0   // °C, normal conditions, with SeaLevelKPa
	StandardKPa   = 100.0 // kPa absolute, the pressure of the IUPAC standard state
	CylinderTempC = 15.0  // °C, where cylinders are filled, with SeaLevelKPa or 100 kPa
)

// MolarVolume returns the volume of one mole of ideal gas, L/mol.
//
//	V_m = R·T/P
//
//	T  TempC  °C   accepted −40 to 150
//	P  KPa    kPa  accepted 1 to 5000, absolute
//
// Source: ideal gas law with R of the SI of 2019.
func MolarVolume(s GasState) (float64, error) {
	if bad := s.check(nil, ""); bad != nil {
		return 0, fault.Input(bad)
	}
	return s.molarL(), nil
}

func (s GasState) molarL() float64 { return GasConstant * (s.TempC + ZeroCelsiusK) / s.KPa }

func (s GasState) check(bad []*FieldError, prefix string) []*FieldError {
	n := len(bad)
	bad = fault.Float(bad, "TempC", s.TempC, -40, 150, "°C")
	bad = fault.Float(bad, "KPa", s.KPa, 1, 5000, "kPa")
	return fault.Under(prefix, bad, n)
}

// A Restated gas volume is to be told at another state.
//
// The zero Restated is refused. Volume is truly zero when zero.
type Restated struct {
	Volume   float64  // any unit: the answer has the same
	From, To GasState // where Volume was told, and where it is wanted
}

// VolumeAt returns a gas volume at another temperature and pressure, in the
// unit in which it was given.
//
//	V_2 = V_1·(T_2/T_1)·(P_1/P_2)
//
//	V_1  Volume              accepted 0 to 1e12
//	T    From.TempC, To.TempC  °C   accepted −40 to 150
//	P    From.KPa, To.KPa      kPa  accepted 1 to 5000, absolute
//
// Source: ideal gas law.
func VolumeAt(r Restated) (float64, error) {
	bad := fault.Float(nil, "Volume", r.Volume, 0, 1e12, "")
	bad = r.From.check(bad, "From.")
	bad = r.To.check(bad, "To.")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return r.Volume * (r.To.molarL() / r.From.molarL()), nil
}
