package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Accepted states of air.
const (
	AirMinC  = -40 // lowest air temperature accepted, °C
	AirMaxC  = 80  // highest air temperature accepted, °C
	MinRHPct = 1   // lowest relative humidity accepted, %: refuses a fraction
	MaxRHPct = 100 // highest relative humidity accepted, %
	DewMinC  = -80 // lowest dew point accepted, °C

)

// VapourGasConstant is the gas constant of water vapour, J/(kg·K). ASHRAE,
// Handbook of Fundamentals, Psychrometrics, eq. 2; opened.
const VapourGasConstant = 461.52

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

// Frost is what FrostPoint found.
type Frost struct {
	FrostC float64 // frost point, °C
	Notes  Notes   // what to tell the reader beside the number
}

// FrostPoint returns the temperature at which the air, cooled at constant
// pressure, is saturated over ice: where a freezer's door or a winter wall
// grows frost. It lies above the dew point of the same air.
//
//	e_i(t_f) = φ/100·e_w(t), solved for t_f
//
//	t    air.TempC    °C   accepted −40 to 80
//	φ    air.RHPct    %    accepted 1 to 100, over liquid water
//	t_f  Frost.FrostC °C
//	e_i  see [SaturationOverIce]
//
// Air too moist to give frost is told by an [*ImpossibleError] with the
// humidity below which it would. Outside the accepted ranges, and for NaN, it
// returns the zero Frost and an [*InputError].
//
// Source: ASHRAE, Handbook of Fundamentals, ch. 1, eq. 5 inverted, eq. 6.
func FrostPoint(air Air) (Frost, error) {
	if err := air.check(); err != nil {
		return Frost{}, err
	}
	ln := air.lnVapourPa()
	if top := lnOverIce(zeroCInKelvin); ln > top {
		most := 100 * math.Exp(top-lnOverWater(air.TempC+zeroCInKelvin))
		return Frost{}, &ImpossibleError{Quantity: "frost point", Why: "the air gives dew before frost",
			Field: "RHPct", Given: fault.Shortest(air.RHPct), Min: MinRHPct,
			Max: num.Inside(most, MinRHPct, func(rhPct float64) bool { return Air{air.TempC, rhPct}.lnVapourPa() <= top }), Unit: "%"}
	}
	f := Frost{FrostC: math.Min(saturatedAt(ln, true), 0)}
	if air.TempC < 0 {
		f.Notes = Extrapolated
	}
	return f, nil
}

// DewReading is air whose dew point is known. The zero DewReading is truly
// saturated air at 0 °C.
type DewReading struct {
	TempC float64 // temperature, °C
	DewC  float64 // dew point over liquid water, °C
}

// RelativeHumidity returns the relative humidity, in %, of air whose dew point
// is known; it is what an air mass shows after it is warmed or cooled.
//
//	φ = 100·e_w(t_d)/e_w(t)
//
//	t    DewReading.TempC  °C   accepted −40 to 80
//	t_d  DewReading.DewC   °C   accepted −80 to t
//	φ                      %
//
// Outside, and for NaN, it returns 0 and an [*InputError]; for a dew point
// above the temperature, an [*ImpossibleError].
//
// Source: definition, with e_w of ASHRAE, ch. 1, eq. 6.
func RelativeHumidity(r DewReading) (rhPct float64, err error) {
	bad := fault.Float(nil, "TempC", r.TempC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "DewC", r.DewC, DewMinC, AirMaxC, "°C")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	if r.DewC > r.TempC {
		return 0, &ImpossibleError{Quantity: "relative humidity", Why: "the dew point is above the temperature",
			Field: "DewC", Given: fault.Shortest(r.DewC), Min: DewMinC, Max: r.TempC, Unit: "°C"}
	}
	return 100 * math.Exp(lnOverWater(r.DewC+zeroCInKelvin)-lnOverWater(r.TempC+zeroCInKelvin)), nil
}
