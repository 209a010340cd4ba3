package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Accepted pressures and altitudes.
const (
	MinPressureKPa = 50       // least air pressure accepted, kPa absolute
	MaxPressureKPa = 110      // greatest air pressure accepted, kPa absolute
	MinAltitudeM   = -500     // lowest place accepted, m above sea level
	MaxAltitudeM   = 5000     // highest place accepted, m above sea level
	molarRatio     = 0.621945 // water to dry air, ASHRAE 2017
	dryGas         = 287.042  // dry air, J/(kg·K), ASHRAE 2025
	molarGas       = 8.314472 // J/(mol·K), as ASHRAE and Hyland & Wexler use it
)

// StandardPressureKPa is the pressure of the standard atmosphere at sea level,
// kPa. ISO 2533; memory.
const StandardPressureKPa = 101.325

// DryAirGasConstant is the gas constant of dry air, J/(kg·K). ASHRAE,
// Handbook of Fundamentals, ch. 1, eq. 1; opened.
const DryAirGasConstant = dryGas

// PressureAtAltitude returns the mean air pressure at a place, in kPa.
//
//	p = 101.325·(1 − 2.25577·10⁻⁵·z)^5.2559
//
//	z  altitudeM  m above sea level  accepted −500 to 5000, published −5000 to 11 000
//	p             kPa absolute
//
// Outside, and for NaN, it returns 0 and an [*InputError] that names
// altitudeM. Weather moves the true pressure by 3 %.
//
// Source: ASHRAE, Handbook of Fundamentals, ch. 1, eq. 3 (standard atmosphere).
func PressureAtAltitude(altitudeM float64) (pressureKPa float64, err error) {
	if err := fault.Input(fault.Float(nil, "altitudeM", altitudeM, MinAltitudeM, MaxAltitudeM, "m")); err != nil {
		return 0, err
	}
	return StandardPressureKPa * math.Pow(1-2.25577e-5*altitudeM, 5.2559), nil
}

// MoistAir is the state of air where its pressure matters. The zero MoistAir
// is refused.
type MoistAir struct {
	TempC       float64 // temperature, °C
	RHPct       float64 // relative humidity over liquid water, % (57, not 0.57)
	PressureKPa float64 // pressure, kPa absolute (101.325, not 1013.25)
}

func (a MoistAir) refuse() []*FieldError {
	bad := fault.Float(nil, "TempC", a.TempC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "RHPct", a.RHPct, MinRHPct, MaxRHPct, "%")
	return fault.Float(bad, "PressureKPa", a.PressureKPa, MinPressureKPa, MaxPressureKPa, "kPa")
}

// molarShare is x, moles of vapour per mole of moist air.
func (a MoistAir) molarShare() float64 {
	e := waterKPa(a.TempC)
	return a.RHPct / 100 * enhancement(a.TempC, a.PressureKPa, e, false) * e / a.PressureKPa
}

// ratio is W, kg of water per kg of dry air.
func (a MoistAir) ratio() float64 {
	return ratioOf(a.molarShare())
}

// ratioOf is W, kg/kg, of a molar share of vapour.
func ratioOf(x float64) float64 { return molarRatio * x / (1 - x) }

// AirState is what AirProperties found.
type AirState struct {
	DewC            float64 // dew point, °C
	WetBulbC        float64 // thermodynamic wet-bulb temperature, °C
	RatioGPerKg     float64 // humidity ratio, g of water per kg of dry air
	WaterGPerM3     float64 // absolute humidity, g of water per m³ of air
	EnthalpyKJPerKg float64 // enthalpy above dry air and water at 0 °C, kJ per kg of dry air
	DensityKgPerM3  float64 // density of the moist air, kg/m³
	VolumeM3PerKg   float64 // volume of moist air per kg of dry air, m³/kg
	SaturationPct   float64 // humidity ratio as a share of the saturated one, %
	Notes           Notes   // what to tell the reader beside the numbers
}

// AirProperties returns what is worth knowing about a body of moist air.
//
//	x  = φ/100·f(t,p)·e_w(t)/p
//	W  = 0.621945·x/(1 − x)
//	Z  = 1 + B(T,x)·p/(R·T)
//	ρ  = p·(1 + W) / [287.042·T·Z·(1 + W/0.621945)]
//	a  = ρ·W/(1 + W)
//	h  = 1.006·t + W·(2501 + 1.86·t)
//	W  = [(2501 − 2.326·t*)·W_s(t*) − 1.006·(t − t*)] / (2501 + 1.86·t − 4.186·t*), solved for t*
//	     below 0 °C, where the wick is ice:
//	     [(2830 − 0.24·t*)·W_s(t*) − 1.006·(t − t*)] / (2830 + 1.86·t − 2.1·t*)
//
//	t    MoistAir.TempC         °C   accepted −40 to 80
//	φ    MoistAir.RHPct         %    accepted 1 to 100, over liquid water
//	p    MoistAir.PressureKPa   kPa  accepted 50 to 110
//	f    enhancement factor of Greenspan, 1.003 to 1.006: air holds a little
//	     more water than empty space would
//	e_w  see [SaturationOverWater]
//	B    second virial coefficient of the mixture (Hyland & Wexler)
//	t_d  AirState.DewC             °C, see [DewPoint]
//	t*   AirState.WetBulbC         °C
//	W    AirState.RatioGPerKg      g/kg dry air
//	a    AirState.WaterGPerM3      g/m³
//	h    AirState.EnthalpyKJPerKg  kJ/kg dry air
//	ρ    AirState.DensityKgPerM3   kg/m³
//
// A wet bulb or dew point below 0 °C carries [OverIce]; air below 0 °C
// carries [Extrapolated], and where it holds more vapour than ice lets it, above
// 90.7 % at −10 °C, frost grows on the bulb and t* is t: such air is not told
// from its two bulbs. Outside the accepted ranges, and for NaN, it returns
// the zero AirState and an [*InputError].
//
// Against the IAPWS formulation of humid air, over −40 to 80 °C: humidity
// ratio within 0.06 %, density within 0.02 %, enthalpy within 0.1 kJ/kg up to
// 40 °C at sea level and within 0.3 % up to 80 °C (tested).
//
// Source: ASHRAE, Handbook of Fundamentals, ch. 1, eq. 20, 26, 30, 33 and 35;
// f: Greenspan 1976; B: Hyland & Wexler 1983; both memory.
func AirProperties(air MoistAir) (AirState, error) {
	if err := fault.Input(air.refuse()); err != nil {
		return AirState{}, err
	}
	T := air.TempC + zeroCInKelvin
	x := air.molarShare()
	w, ws := ratioOf(x), ratioOf(x*100/air.RHPct)
	rho := 1000 * air.PressureKPa * (1 + w) / (dryGas * T * compressibility(T, air.PressureKPa, x) * (1 + w/molarRatio))
	s := AirState{
		DewC:            saturatedAt(Air{air.TempC, air.RHPct}.lnVapourPa(), false),
		RatioGPerKg:     1000 * w,
		WaterGPerM3:     1000 * rho * w / (1 + w),
		EnthalpyKJPerKg: enthalpy(air.TempC, w),
		DensityKgPerM3:  rho,
		VolumeM3PerKg:   (1 + w) / rho,
		SaturationPct:   100 * w / ws,
	}
	var ok bool
	if s.WetBulbC, ok = wetBulb(air.TempC, w, air.PressureKPa); !ok {
		return AirState{}, &ImpossibleError{Quantity: "wet bulb", Why: "the search found none",
			Field: "RHPct", Given: fault.Shortest(air.RHPct), Min: MinRHPct, Max: MaxRHPct, Unit: "%"}
	}
	if s.DewC < 0 || s.WetBulbC < 0 { // saturated at 0 °C, rounding decides between ice and water
		s.Notes |= OverIce
	}
	if air.TempC < 0 {
		s.Notes |= Extrapolated
	}
	return s, nil
}

// enthalpy is h, kJ per kg of dry air. ASHRAE, ch. 1, eq. 30.
func enthalpy(tempC, w float64) float64 { return 1.006*tempC + w*(2501+1.86*tempC) }

// enhancement is the factor f by which air raises the vapour pressure e (kPa)
// of the condensed phase. Greenspan, J. Res. NBS 80A, 1976, with the
// coefficients for ITS-90 of Hardy 1998; memory, within 0.05 % of IAPWS.
func enhancement(tempC, pressureKPa, e float64, ice bool) float64 {
	t := tempC
	var a, b float64
	switch {
	case ice:
		a = 3.64449e-4 + t*(2.9367585e-5+t*(4.8874766e-7+t*4.3669918e-9))
		b = -1.07271e1 + t*(7.6215115e-2+t*(-1.7490155e-4+t*2.4668279e-6))
	case t < 0:
		a = 3.62183e-4 + t*(2.6061244e-5+t*(3.8667770e-7+t*3.8268958e-9))
		b = -1.07604e1 + t*(6.3987441e-2+t*(-2.6351566e-4+t*1.6725084e-6))
	default:
		a = 3.53624e-4 + t*(2.9328363e-5+t*(2.6168979e-7+t*8.5813609e-9))
		b = -1.07588e1 + t*(6.3268134e-2+t*(-2.5368934e-4+t*6.3405286e-7))
	}
	return math.Exp(a*(1-e/pressureKPa) + math.Exp(b)*(pressureKPa/e-1))
}

// compressibility is Z of moist air with the molar share x of vapour, by
// second virial coefficients in cm³/mol. Hyland & Wexler, ASHRAE Trans.
// 89(2A), 1983; memory, within 0.02 % of IAPWS.
func compressibility(T, pressureKPa, x float64) float64 {
	air := 34.9568 + (-6687.72+(-2.10141e6+9.24746e7/T)/T)/T
	cross := 32.366097 + (-14113.8+(-1.244535e6-2.348789e9/(T*T))/T)/T
	vapour := 1e6 * molarGas * T * (0.70e-8 - 0.147184e-8*math.Exp(1734.29/T))
	b := (1-x)*(1-x)*air + 2*x*(1-x)*cross + x*x*vapour
	return 1 + b*1e-6*1000*pressureKPa/(molarGas*T)
}

// saturatedRatio is W_s at a wet-bulb temperature, over ice where the wick is.
func saturatedRatio(tempC, pressureKPa float64, ice bool) float64 {
	T := tempC + zeroCInKelvin
	ln := lnOverWater(T)
	if ice {
		ln = lnOverIce(T)
	}
	e := math.Exp(ln) / 1000
	return ratioOf(enhancement(tempC, pressureKPa, e, ice) * e / pressureKPa)
}

// ratioFromWetBulb is W from both bulbs. ASHRAE, ch. 1, eq. 33 and 35.
func ratioFromWetBulb(tempC, bulbC, pressureKPa float64, ice bool) float64 {
	ws := saturatedRatio(bulbC, pressureKPa, ice)
	if ice {
		return ((2830-0.24*bulbC)*ws - 1.006*(tempC-bulbC)) / (2830 + 1.86*tempC - 2.1*bulbC)
	}
	return ((2501-2.326*bulbC)*ws - 1.006*(tempC-bulbC)) / (2501 + 1.86*tempC - 4.186*bulbC)
}

// wetBulb solves the psychrometer equation. The wick carries water where that
// gives an answer at or above 0 °C, ice otherwise.
func wetBulb(tempC, w, pressureKPa float64) (float64, bool) {
	ice := tempC < 0 || ratioFromWetBulb(tempC, 0, pressureKPa, false) > w
	lo, hi := 0.0, tempC
	if ice {
		lo, hi = IceMinC, math.Min(tempC, 0)
	}
	if ratioFromWetBulb(tempC, hi, pressureKPa, ice) <= w {
		return hi, true // saturated
	}
	return num.Root(func(t float64) float64 { return ratioFromWetBulb(tempC, t, pressureKPa, ice) - w }, lo, hi, 1e-9)
}

// Psychrometer is a pair of thermometers, one under a wet wick in a good
// draught. The zero Psychrometer is refused.
type Psychrometer struct {
	TempC       float64 // dry bulb, °C
	WetBulbC    float64 // wet bulb, °C; below 0 °C the wick is taken for ice
	PressureKPa float64 // air pressure, kPa absolute
}

// HumidityFromWetBulb returns the relative humidity, in %, that a psychrometer
// shows.
//
//	W = [(2501 − 2.326·t*)·W_s(t*) − 1.006·(t − t*)] / (2501 + 1.86·t − 4.186·t*)
//	x = W/(0.621945 + W)
//	φ = 100·x·p/[f(t,p)·e_w(t)]
//
//	t   Psychrometer.TempC        °C   accepted −40 to 80
//	t*  Psychrometer.WetBulbC     °C   accepted −40 to t
//	p   Psychrometer.PressureKPa  kPa  accepted 50 to 110
//	φ                             %
//
// f, W_s and the equation below 0 °C are those of [AirProperties]. Outside the
// accepted ranges, and for NaN, it returns 0 and an [*InputError]; for a wet
// bulb above the dry one, or colder than dry air would make it, an
// [*ImpossibleError].
//
// A wick that is dirty, dry or out of the draught reads high: 0.5 °C is 4 to
// 5 % in φ at room temperature.
//
// Source: ASHRAE, Handbook of Fundamentals, ch. 1, eq. 33 and 35.
func HumidityFromWetBulb(p Psychrometer) (rhPct float64, err error) {
	bad := fault.Float(nil, "TempC", p.TempC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "WetBulbC", p.WetBulbC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "PressureKPa", p.PressureKPa, MinPressureKPa, MaxPressureKPa, "kPa")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	humidity := func(bulbC float64) float64 {
		w := ratioFromWetBulb(p.TempC, bulbC, p.PressureKPa, bulbC < 0)
		e := waterKPa(p.TempC)
		return 100 * w / (molarRatio + w) * p.PressureKPa / (enhancement(p.TempC, p.PressureKPa, e, false) * e)
	}
	refuse := func(why string) error {
		least, _ := wetBulb(p.TempC, 0, p.PressureKPa)
		least = num.Inside(math.Max(least, AirMinC), p.TempC, func(c float64) bool { return humidity(c) >= 0 })
		return &ImpossibleError{Quantity: "relative humidity", Why: why, Field: "WetBulbC",
			Given: fault.Shortest(p.WetBulbC), Min: least, Max: p.TempC, Unit: "°C"}
	}
	if p.WetBulbC > p.TempC {
		return 0, refuse("the wet bulb is warmer than the dry one")
	}
	rhPct = humidity(p.WetBulbC)
	if !(rhPct >= 0) {
		return 0, refuse("dry air would not cool the wick so far")
	}
	return math.Min(rhPct, 100), nil // by rounding only: the bulbs are equal there
}
