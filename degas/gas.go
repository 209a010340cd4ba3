package degas

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The carbon dioxide in freshly roasted coffee, mg per g of coffee. The first
// is the value to begin from without a measurement of one's own; the other
// two bound what credible sources claim. None is by roast degree: no such
// table could be opened.
const (
	// InitialGasMgPerG: about 1 % of the weight. Smrke and others, J. Agric.
	// Food Chem. 66, 2018, quoted by a roaster's article.
	InitialGasMgPerG = 10.0 // mg/g
	// InitialGasLowMgPerG: the usual content named by one author of
	// published home measurements.
	InitialGasLowMgPerG = 6.0 // mg/g
	// InitialGasHighMgPerG: about 2 % of the weight with other gases. Rao, The
	// Coffee Roaster's Companion, 2014, chapter 16.
	InitialGasHighMgPerG = 20.0 // mg/g
)

// The gas contents that are accepted.
const (
	MinGasMgPerG = 0.1  // mg/g
	MaxGasMgPerG = 50.0 // mg/g; 40 mg/g needs more pores than a bean has
)

// A Coffee is how much gas coffee holds at t = 0 and how it lets it go. The
// zero Coffee is refused. JSON holds the numbers of its curve and not which
// curve it is: write that beside it, and read into the curve's own type.
type Coffee struct {
	GasMgPerG float64 // M0, carbon dioxide at t = 0, mg per g of coffee; accepted MinGasMgPerG to MaxGasMgPerG
	Curve     Curve
}

func (c Coffee) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "GasMgPerG", c.GasMgPerG, MinGasMgPerG, MaxGasMgPerG, "mg/g")
	return checkCurve(bad, "Curve", c.Curve)
}

// An Amount is gas in mg per g of coffee and as shares. The zero Amount
// stands beside an error only.
type Amount struct {
	LeftMgPerG float64 // still in the coffee, mg/g
	GoneMgPerG float64 // gone since t = 0, mg/g
	Share
}

// AmountLeft returns how much gas coffee still holds at an age.
//
//	q = M0·F/100,   M0 − q = M0·L/100
//
//	M0  c.GasMgPerG       mg/g   accepted MinGasMgPerG to MaxGasMgPerG, published 6 to 20
//	t   days              days   accepted 0 to MaxDays
//	q   Amount.GoneMgPerG mg/g
//
// It carries [Extrapolated] where the gas content or a diffusivity lies
// outside what was published. Bad fields are refused together with an
// [*InputError].
//
// Source: definition; see [Left].
func AmountLeft(c Coffee, days float64) (Amount, error) {
	bad := c.check(nil)
	bad = fault.Float(bad, "days", days, 0, MaxDays, "days")
	if err := fault.Input(bad); err != nil {
		return Amount{}, err
	}
	left, gone := c.Curve.share(days)
	return Amount{
		LeftMgPerG: c.GasMgPerG * left,
		GoneMgPerG: c.GasMgPerG * gone,
		Share:      Share{LeftPct: 100 * left, GonePct: 100 * gone, Notes: c.notes()},
	}, nil
}

func (c Coffee) notes() Notes {
	n := c.Curve.notes()
	if c.GasMgPerG < InitialGasLowMgPerG || c.GasMgPerG > InitialGasHighMgPerG {
		n |= Extrapolated
	}
	return n
}

// AmountLost returns how much gas leaves between two ages, in mg per g of
// coffee. Divided by the interval it is the mean rate.
//
//	Δq = M0·(F(t₂) − F(t₁))/100
//
//	M0  c.GasMgPerG   mg/g   accepted MinGasMgPerG to MaxGasMgPerG, published 6 to 20
//	t₁  fromDays      days   accepted 0 to MaxDays
//	t₂  toDays        days   accepted fromDays + MinIntervalDays to MaxDays
//	Δq  result        mg/g
//
// Bad fields are refused together with an [*InputError].
//
// Source: definition; see [Left].
func AmountLost(c Coffee, fromDays, toDays float64) (float64, error) {
	bad := checkInterval(c.check(nil), fromDays, toDays)
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return c.GasMgPerG * lost(c.Curve, fromDays, toDays), nil
}

// DaysUntilAmount returns the age at which the gas left has fallen to a level
// in mg per g of coffee.
//
//	M0  c.GasMgPerG   mg/g   accepted MinGasMgPerG to MaxGasMgPerG
//	    leftMgPerG    mg/g   accepted MinLeftPct of M0 to M0
//	t   result        days
//
// Bad fields are refused together with an [*InputError]; a level that is not
// reached in MaxDays is an [*ImpossibleError].
//
// Source: definition; see [DaysUntil].
func DaysUntilAmount(c Coffee, leftMgPerG float64) (float64, error) {
	bad := c.check(nil)
	low, high := MinGasMgPerG*MinLeftPct/100, MaxGasMgPerG
	if bad == nil {
		low, high = c.GasMgPerG*MinLeftPct/100, c.GasMgPerG
	}
	bad = fault.Float(bad, "leftMgPerG", leftMgPerG, low, high, "mg/g")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	days := c.Curve.reaches(leftMgPerG / c.GasMgPerG)
	if !(days <= MaxDays) {
		left, _ := c.Curve.share(MaxDays)
		return 0, &ImpossibleError{Quantity: "age", Why: "so little is left only after more than ten years",
			Field: "leftMgPerG", Given: fault.Shortest(leftMgPerG),
			Min: num.Inside(c.GasMgPerG*left, c.GasMgPerG, func(mg float64) bool { return c.Curve.reaches(mg/c.GasMgPerG) <= MaxDays }), Max: c.GasMgPerG, Unit: "mg/g"}
	}
	return days, nil
}

// Constants of nature and of the two gases.
const (
	GasConstant = 8.31446261815324 // R, J/(mol·K); CODATA 2018, exact
	ZeroC       = 273.15           // K at 0 °C, exact

	CO2GPerMol = 44.0095 // g/mol; NIST Chemistry WebBook, from memory
	COGPerMol  = 28.0101 // g/mol; NIST Chemistry WebBook, from memory

	AtmosphereKPa = 101.325 // kPa absolute, exact
)

// The conditions that are accepted for a gas.
const (
	MinTempC       = -40.0 // °C
	MaxTempC       = 60.0  // °C; a reading in °F mostly falls outside
	MinPressureKPa = 50.0  // kPa absolute; so that bar, psi and mbar fall outside
	MaxPressureKPa = 800.0 // kPa absolute
)

// Conditions are the temperature and pressure at which a gas volume is
// stated. A volume without them may be wrong by 9 %. The zero Conditions is
// refused.
type Conditions struct {
	TempC       float64 // °C; accepted MinTempC to MaxTempC
	PressureKPa float64 // kPa absolute; accepted MinPressureKPa to MaxPressureKPa
}

func (at Conditions) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "TempC", at.TempC, MinTempC, MaxTempC, "°C")
	return fault.Float(bad, "PressureKPa", at.PressureKPa, MinPressureKPa, MaxPressureKPa, "kPa absolute")
}

// mlPerMg is the volume of a milligram of carbon dioxide.
func mlPerMg(tempC, kpa float64) float64 {
	return GasConstant * (tempC + ZeroC) / (kpa * CO2GPerMol)
}

// CO2MLPerG returns the volume of a gram of carbon dioxide.
//
//	v = R·T/(P·M)
//
//	T   at.TempC         °C, then K     accepted MinTempC to MaxTempC
//	P   at.PressureKPa   kPa absolute   accepted MinPressureKPa to MaxPressureKPa
//	M   CO2GPerMol       g/mol
//	v   result           mL/g
//
// The gas is taken as ideal: 0.5 % too much at one atmosphere, 3 % at six; see
// [Compressibility]. Bad conditions are refused with an [*InputError].
//
// Source: ideal gas law.
func CO2MLPerG(at Conditions) (float64, error) {
	if err := fault.Input(at.check(nil)); err != nil {
		return 0, err
	}
	return 1000 * mlPerMg(at.TempC, at.PressureKPa), nil
}

// GasFromVolume returns the gas content, in mg per g of coffee, that is meant
// by a volume per mass of coffee: 6 mL/g, which is the same as 6 L/kg.
//
//	M0 = 1000·V/v
//
//	V   mlPerG   mL of gas per g of coffee   accepted 0.1 to 30
//	v   by [CO2MLPerG] at the conditions stated
//	M0  result   mg/g
//
// Bad fields are refused together with an [*InputError].
//
// Source: ideal gas law.
func GasFromVolume(mlPerG float64, at Conditions) (float64, error) {
	bad := fault.Float(nil, "mlPerG", mlPerG, 0.1, 30, "mL/g")
	if err := fault.Input(at.check(bad)); err != nil {
		return 0, err
	}
	return mlPerG / mlPerMg(at.TempC, at.PressureKPa), nil
}

// Second virial coefficient of carbon dioxide, B = a − b·exp(c/T).
//
// Source: an open chemistry reference table of second virial coefficients,
// CO2 line, 220 to 1100 K.
const (
	VirialACM3PerMol = 137.6 // a, cm³/mol
	VirialBCM3PerMol = 87.7  // b, cm³/mol
	VirialCKelvin    = 325.7 // c, K
)

// SecondVirial returns the second virial coefficient of carbon dioxide in
// cm³/mol.
//
//	B = a − b·exp(c/T)
//
//	T   tempC    °C, then K   accepted MinTempC to 300, published −53 to 827
//	B   result   cm³/mol
//
// Two tables agree at 100 °C and differ by 9 cm³/mol at 0 °C, which is 0.0004
// in Z at one atmosphere. A bad temperature is refused with an [*InputError].
//
// Source: open chemistry reference table, see [VirialACM3PerMol].
func SecondVirial(tempC float64) (float64, error) {
	if err := fault.Input(fault.Float(nil, "tempC", tempC, MinTempC, 300, "°C")); err != nil {
		return 0, err
	}
	return virial(tempC), nil
}

func virial(tempC float64) float64 {
	return VirialACM3PerMol - VirialBCM3PerMol*math.Exp(VirialCKelvin/(tempC+ZeroC))
}

// Compressibility returns Z of carbon dioxide: its volume over that of an
// ideal gas.
//
//	Z = 1 + B·P/(R·T)
//
//	T   at.TempC         °C, then K     accepted MinTempC to MaxTempC
//	P   at.PressureKPa   kPa absolute   accepted MinPressureKPa to MaxPressureKPa
//	B   by [SecondVirial]
//
// It serves to see that the ideal gas is enough here. Bad conditions are
// refused with an [*InputError].
//
// Source: virial equation cut after its second term.
func Compressibility(at Conditions) (float64, error) {
	if err := fault.Input(at.check(nil)); err != nil {
		return 0, err
	}
	return 1 + virial(at.TempC)*at.PressureKPa/(1000*GasConstant*(at.TempC+ZeroC)), nil
}

// PoreMLPerG returns the pore volume that coffee needs to hold its gas at a
// pressure inside the bean: a check of whether a claim of content and one of
// pressure can both be true.
//
//	V = M0·v(T, P)/1000
//
//	M0    gasMgPerG   mg/g           accepted MinGasMgPerG to MaxGasMgPerG
//	T, P  at          °C, kPa absolute
//	V     result      mL of pores per g of coffee
//
// Beans have about 0.4 to 0.6 mL/g. Bad fields are refused together with an
// [*InputError].
//
// Source: ideal gas law.
func PoreMLPerG(gasMgPerG float64, at Conditions) (float64, error) {
	bad := fault.Float(nil, "gasMgPerG", gasMgPerG, MinGasMgPerG, MaxGasMgPerG, "mg/g")
	bad = fault.Float(bad, "TempC", at.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "PressureKPa", at.PressureKPa, MinPressureKPa, 3000, "kPa absolute")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return gasMgPerG * mlPerMg(at.TempC, at.PressureKPa), nil
}
