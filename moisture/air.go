package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// Accepted states of air.
const (
	AirMinC   = -40 // lowest air temperature accepted, °C
	AirMaxC   = 80  // highest air temperature accepted, °C
	MinRHPct  = 1   // lowest relative humidity accepted, %: refuses a fraction
	MaxRHPct  = 100 // highest relative humidity accepted, %
	DewMinC   = -80 // lowest dew point accepted, °C
	vapourGas = 461.52
)

// VapourGasConstant is the gas constant of water vapour, J/(kg·K). ASHRAE,
// Handbook of Fundamentals, Psychrometrics, eq. 2; opened.
const VapourGasConstant = vapourGas

// Air is the state of the air in a room, where its pressure does not matter.
//
// The zero Air is refused: no air is perfectly dry.
type Air struct {
	TempC float64 // temperature, °C
	RHPct float64 // relative humidity over liquid water at any temperature, % (57, not 0.57)
}

func (a Air) check() error {
	bad := fault.Float(nil, "TempC", a.TempC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "RHPct", a.RHPct, MinRHPct, MaxRHPct, "%")
	return fault.Input(bad)
}

func (a Air) lnVapourPa() float64 {
	return lnOverWater(a.TempC+zeroCInKelvin) + math.Log(a.RHPct/100)
}

// VapourPressure returns the pressure of the water vapour in the air, in kPa.
//
//	e = φ/100·e_w(t)
//
//	t    air.TempC  °C   accepted −40 to 80
//	φ    air.RHPct  %    accepted 1 to 100, over liquid water
//	e_w  see [SaturationOverWater]
//	e               kPa
//
// Outside, and for NaN, it returns 0 and an [*InputError]. As good as e_w,
// within 0.025 % above 0 °C.
//
// Source: definition, with e_w of ASHRAE, ch. 1, eq. 6.
func VapourPressure(air Air) (pressureKPa float64, err error) {
	if err := air.check(); err != nil {
		return 0, err
	}
	return air.RHPct / 100 * waterKPa(air.TempC), nil
}

// Dew is what DewPoint found.
type Dew struct {
	DewC  float64 // dew point, °C
	Notes Notes   // what to tell the reader beside the number
}

// DewPoint returns the temperature at which the air, cooled at constant
// pressure, is saturated over liquid water: any surface colder than that gets
// wet, whatever the relative humidity says.
//
//	e_w(t_d) = φ/100·e_w(t), solved for t_d
//
//	t    air.TempC  °C   accepted −40 to 80, published 0 to 80
//	φ    air.RHPct  %    accepted 1 to 100
//	t_d  Dew.DewC   °C
//	e_w  see [SaturationOverWater]
//
// A dew point below 0 °C carries [OverIce] and [Extrapolated]: see
// [FrostPoint]. Outside the accepted ranges, and for NaN, DewPoint returns the
// zero Dew and an [*InputError].
//
// Within 0.005 °C of IAPWS above 0 °C. One per cent in φ is about 0.3 °C in
// t_d at room conditions, so the hygrometer decides.
//
// Source: ASHRAE, Handbook of Fundamentals, ch. 1, eq. 6, inverted.
func DewPoint(air Air) (Dew, error) {
	if err := air.check(); err != nil {
		return Dew{}, err
	}
	d := Dew{DewC: saturatedAt(air.lnVapourPa(), false)}
	if d.DewC < 0 {
		d.Notes = OverIce | Extrapolated
	}
	return d, nil
}
