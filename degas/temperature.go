package degas

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// The sensitivities that are accepted. There is no default: no activation
// energy of degassing was published in a source that could be opened, and
// that of staling ([StalingKJPerMol]) is another process.
const (
	MaxActivationKJPerMol = 200.0 // kJ/mol; so that J/mol and kcal/mol as J fall outside
	MinQ10                = 1.0   // no unit
	MaxQ10                = 10.0  // no unit
)

// Arrhenius is a rate's activation energy and the step of temperature for
// which its change is asked. The zero ActivationKJPerMol truly means no
// effect of temperature; 0 °C is a temperature.
type Arrhenius struct {
	ActivationKJPerMol float64 // Ea, kJ/mol; accepted 0 to MaxActivationKJPerMol
	ReferenceC         float64 // T₀, °C, where the rate is known; accepted MinTempC to MaxTempC
	TempC              float64 // T, °C; accepted MinTempC to MaxTempC
}

// ArrheniusFactor returns by how much faster gas leaves at one temperature
// than at the reference.
//
//	f = exp(Ea/R·(1/T₀ − 1/T))
//
//	Ea  ActivationKJPerMol   kJ/mol       accepted 0 to MaxActivationKJPerMol
//	T₀  ReferenceC           °C, then K   accepted MinTempC to MaxTempC
//	T   TempC                °C, then K   accepted MinTempC to MaxTempC
//	f   result               –            1 at the reference
//
// Nobody has published an Ea of degassing that could be checked: it must be
// the user's own. [Hastened] applies f to a curve. Bad fields are refused
// together with an [*InputError].
//
// Source: Arrhenius equation; Labuza, Application of chemical kinetics to
// deterioration of foods, J. Chem. Educ. 61, 1984.
func ArrheniusFactor(a Arrhenius) (float64, error) {
	bad := fault.Float(nil, "ActivationKJPerMol", a.ActivationKJPerMol, 0, MaxActivationKJPerMol, "kJ/mol")
	bad = fault.Float(bad, "ReferenceC", a.ReferenceC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "TempC", a.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return arrhenius(a.ActivationKJPerMol, a.ReferenceC, a.TempC), nil
}

func arrhenius(kj, fromC, toC float64) float64 {
	t0, t := fromC+ZeroC, toC+ZeroC
	return math.Exp(1000 * kj / GasConstant * (toC - fromC) / (t0 * t))
}

// A Q10 is by how much a rate grows over ten degrees and the step for which
// its change is asked. The zero Q10 is refused.
type Q10 struct {
	Factor     float64 // Q10, no unit; accepted MinQ10 to MaxQ10
	ReferenceC float64 // T₀, °C, where the rate is known; accepted MinTempC to MaxTempC
	TempC      float64 // T, °C; accepted MinTempC to MaxTempC
}

// Q10Factor returns by how much faster a process runs at one temperature than
// at the reference.
//
//	f = Q10^((T − T₀)/10)
//
//	Q10  Factor       –    accepted MinQ10 to MaxQ10
//	T₀   ReferenceC   °C   accepted MinTempC to MaxTempC
//	T    TempC        °C   accepted MinTempC to MaxTempC
//
// A Q10 belongs to the ten degrees where it was found; over a wide step use
// [ArrheniusFactor]. Bad fields are refused together with an [*InputError].
//
// Source: definition; Labuza, Application of chemical kinetics to
// deterioration of foods, J. Chem. Educ. 61, 1984.
func Q10Factor(q Q10) (float64, error) {
	bad := fault.Float(nil, "Factor", q.Factor, MinQ10, MaxQ10, "")
	bad = fault.Float(bad, "ReferenceC", q.ReferenceC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "TempC", q.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return math.Pow(q.Factor, (q.TempC-q.ReferenceC)/10), nil
}

// Q10FromActivation returns the Q10 between a temperature and ten degrees
// above it.
//
//	Q10 = exp(10·Ea/(R·T·(T + 10)))
//
//	Ea  activationKJPerMol   kJ/mol       accepted 0 to MaxActivationKJPerMol
//	T   tempC                °C, then K   accepted MinTempC to MaxTempC − 10
//
// Bad fields are refused together with an [*InputError].
//
// Source: Arrhenius equation.
func Q10FromActivation(activationKJPerMol, tempC float64) (float64, error) {
	bad := fault.Float(nil, "activationKJPerMol", activationKJPerMol, 0, MaxActivationKJPerMol, "kJ/mol")
	bad = fault.Float(bad, "tempC", tempC, MinTempC, MaxTempC-10, "°C")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return arrhenius(activationKJPerMol, tempC, tempC+10), nil
}

// ActivationFromQ10 returns the activation energy, in kJ/mol, of a Q10 found
// between a temperature and ten degrees above it.
//
//	Ea = R·T·(T + 10)·ln(Q10)/10
//
//	Q10  q10     –            accepted MinQ10 to MaxQ10
//	T    tempC   °C, then K   accepted MinTempC to MaxTempC − 10
//
// Bad fields are refused together with an [*InputError].
//
// Source: Arrhenius equation.
func ActivationFromQ10(q10, tempC float64) (float64, error) {
	bad := fault.Float(nil, "q10", q10, MinQ10, MaxQ10, "")
	bad = fault.Float(bad, "tempC", tempC, MinTempC, MaxTempC-10, "°C")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	t := tempC + ZeroC
	return GasConstant * t * (t + 10) * math.Log(q10) / 10 / 1000, nil
}

// The factors by which [Hastened] accepts to stretch time.
const (
	MinHaste = 1e-4 // no unit
	MaxHaste = 1e4  // no unit
)

// Hastened returns the same curve, run faster by a factor: its times divided,
// its diffusivity multiplied, its shape and the gas at t = 0 kept.
//
//	L'(t) = L(f·t)
//
//	f   factor   –   accepted MinHaste to MaxHaste
//
// Bad parameters and a bad factor are refused together with an [*InputError];
// so is a result whose parameters would be out of range.
//
// Source: time–temperature superposition; exact where one activation energy
// governs all of the curve.
func Hastened(curve Curve, factor float64) (Curve, error) {
	bad := checkCurve(nil, "curve", curve)
	bad = fault.Float(bad, "factor", factor, MinHaste, MaxHaste, "")
	if bad == nil {
		curve = curve.hastened(factor)
		bad = curve.check(nil)
	}
	if err := fault.Input(bad); err != nil {
		return nil, err
	}
	return curve, nil
}

// A Stay is a time spent at one temperature. The zero Stay is no time at all
// at 0 °C.
type Stay struct {
	Days  float64 // days; accepted 0 to MaxDays
	TempC float64 // °C; accepted MinTempC to MaxTempC
}

// EquivalentDays returns the age at the reference temperature to which a
// history of temperatures amounts. Give it to [Left] with the curve of the
// reference temperature.
//
//	t_eq = Σ f(Tᵢ)·Δtᵢ
//
//	Δtᵢ   Stay.Days    days   accepted 0 to MaxDays
//	Tᵢ    Stay.TempC   °C     accepted MinTempC to MaxTempC
//	f     factor       –      by [ArrheniusFactor], [Q10Factor] or a measurement
//	t_eq  result       days
//
// A steady slope of temperature is cut into stays by the caller. Bad stays are
// refused together, as stays[i].Days, with an [*InputError]; an error of
// factor is returned as it is, and a factor that is not between MinHaste and
// MaxHaste is refused.
//
// Source: time–temperature superposition, see [Hastened].
func EquivalentDays(stays []Stay, factor func(tempC float64) (float64, error)) (float64, error) {
	var bad []*FieldError
	for i, s := range stays {
		n := len(bad)
		bad = fault.Float(bad, "Days", s.Days, 0, MaxDays, "days")
		bad = fault.Float(bad, "TempC", s.TempC, MinTempC, MaxTempC, "°C")
		if len(bad) > n {
			fault.Under("stays["+strconv.Itoa(i)+"].", bad, n)
		}
	}
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	sum := 0.0
	for _, s := range stays {
		f, err := factor(s.TempC)
		if err != nil {
			return 0, err
		}
		if err := fault.Input(fault.Float(nil, "factor", f, MinHaste, MaxHaste, "")); err != nil {
			return 0, err
		}
		sum += f * s.Days
	}
	return sum, nil
}
