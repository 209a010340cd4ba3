package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Form is the equation of an isotherm. The zero Form is refused.
type Form uint8

// The equations, X in % dry basis, a the activity, t in °C.
const (
	// FormRoa: X = (P₀a + P₁a² + P₂a³)·exp[(P₃a + P₄a² + P₅a³)·t].
	FormRoa Form = iota + 1
	// FormGAB: X = P₀·P₁·P₂·a / [(1 − P₂a)·(1 − P₂a + P₁P₂a)], with P₀ the
	// monolayer (% dry basis), P₁ the heat constant C, P₂ the factor K.
	FormGAB
	// FormOswin: X = P₀·[a/(1 − a)]^P₁.
	FormOswin
	// FormHenderson: X = P₀·[−ln(1 − a)]^P₁, which is a = 1 − exp(−k·Xⁿ) with
	// n = 1/P₁ and k = P₀⁻ⁿ.
	FormHenderson
)

// String is the name that the literature uses.
func (f Form) String() string {
	switch f {
	case FormRoa:
		return "Roa"
	case FormGAB:
		return "GAB"
	case FormOswin:
		return "Oswin"
	case FormHenderson:
		return "Henderson"
	}
	return "none"
}

// params is the number of parameters of a form.
func (f Form) params() int {
	switch f {
	case FormRoa:
		return 6
	case FormGAB:
		return 3
	case FormOswin, FormHenderson:
		return 2
	}
	return 0
}

// topAw is the greatest activity at which a form is finite and of use.
func (f Form) topAw() float64 {
	if f == FormRoa {
		return 1
	}
	return 0.99
}

// An Isotherm is a curve of moisture against water activity with what must be
// known to trust it. It comes from [ParchmentArabica], from [FitIsotherm] or
// from [AnchorIsotherm]. The zero Isotherm is refused.
type Isotherm struct {
	Name       string     // what to print beside each answer
	Coffee     string     // species and cultivar
	State      string     // parchment, green, roasted ground
	Branch     string     // desorption, adsorption or unknown
	Source     string     // where it was published, or "fitted here"
	Provenance string     // opened, quoted, memory, or fitted
	Form       Form       // the equation
	P          [6]float64 // its parameters, as Form says; unused ones 0
	Scale      float64    // factor on X: 1 as published, else from an anchor
	MinC, MaxC float64    // temperatures of the data, °C
	MinAw      float64    // lowest activity of the data
	MaxAw      float64    // highest activity of the data
	SEDryPct   float64    // standard error of the fit, % dry basis
}

// ParchmentArabica returns the isotherm of parchment arabica, cultivar
// Caturra, while it loses water.
//
//	X = (p₁f + p₂f² + p₃f³)·exp[(q₁f + q₂f² + q₃f³)·t]
//
//	X  % dry basis, data 4.8 to 25.2
//	f  relative humidity or activity, 0 to 1, data 0.05 to 1
//	t  °C, data 10, 25, 40 and 55, range given 5 to 55
//	p  61.030848, −108.37141, 74.46105     % dry basis
//	q  −0.037049, 0.070114, −0.035177      1/°C
//
// Its standard error, 0.54 % dry basis, is about 0.43 % wet near 12 %. It is
// the only complete set found for coffee before roasting and is used for green
// beans with that warning: hulled beans, other species and lots that take up
// water instead of losing it may differ by more. Above an activity of 0.7
// published isotherms disagree widely.
//
// A later paper misprints q₁ as −0.03049, which adds 1.3 % at 60 % and 25 °C.
//
// Source: Trejos, Roa & Oliveros, Cenicafé 40(1):5–15, 1989, eq. 2 and table 3;
// quoted by thesis research notes.
func ParchmentArabica() Isotherm {
	return Isotherm{
		Name: "parchment arabica, desorption (Roa form)", Coffee: "arabica, Caturra",
		State: "parchment", Branch: "desorption",
		Source:     "Trejos, Roa & Oliveros, Cenicafé 40(1):5–15, 1989",
		Provenance: "quoted",
		Form:       FormRoa,
		P:          [6]float64{61.030848, -108.37141, 74.46105, -0.037049, 0.070114, -0.035177},
		Scale:      1,
		MinC:       5, MaxC: 55, MinAw: 0.05, MaxAw: 1,
		SEDryPct: 0.54,
	}
}

// Accepted states of a bean.
const (
	BeanMinC = 0    // lowest temperature an isotherm is asked for, °C
	BeanMaxC = 70   // highest temperature an isotherm is asked for, °C
	MinAw    = 0.01 // lowest water activity accepted: pure number
	MaxAw    = 1    // highest water activity accepted: a percent is refused
)

// refuse appends what is wrong with the curve itself.
func (c *Isotherm) refuse(bad []*FieldError) []*FieldError {
	n := c.Form.params()
	if n == 0 {
		return append(bad, &FieldError{Field: "Form", Given: fault.Shortest(float64(c.Form)),
			Min: float64(FormRoa), Max: float64(FormHenderson), Why: "an isotherm has an equation"})
	}
	bad = fault.Float(bad, "Scale", c.Scale, minScale, maxScale, "")
	bad = fault.Float(bad, "SEDryPct", c.SEDryPct, 0, 20, "%")
	if c.Form == FormRoa {
		for _, p := range c.P {
			bad = fault.Float(bad, "P", p, -1e4, 1e4, "")
		}
		return bad
	}
	bad = fault.Float(bad, "P[0]", c.P[0], 0.01, 100, "%")
	if c.Form == FormGAB {
		bad = fault.Float(bad, "P[1]", c.P[1], 0.01, 1e6, "")
		bad = fault.Float(bad, "P[2]", c.P[2], 0.01, 1, "")
		return bad
	}
	return fault.Float(bad, "P[1]", c.P[1], 0.01, 10, "")
}

// dry is X, % dry basis, at an activity and a temperature in °C.
func (c *Isotherm) dry(a, t float64) float64 {
	p := &c.P
	var x float64
	switch c.Form {
	case FormRoa:
		x = a * (p[0] + a*(p[1]+a*p[2])) * num.Exp(a*(p[3]+a*(p[4]+a*p[5]))*t)
	case FormGAB:
		k := 1 - p[2]*a
		x = p[0] * p[1] * p[2] * a / (k * (k + p[1]*p[2]*a))
	case FormOswin:
		x = p[0] * math.Pow(a/(1-a), p[1])
	case FormHenderson:
		x = p[0] * math.Pow(-math.Log1p(-a), p[1])
	}
	return c.Scale * x
}

// slope is dX/da, % dry basis, by central differences inside the curve.
func (c *Isotherm) slope(a, t float64) float64 {
	const h = 1e-5
	lo, hi := a-h, math.Min(a+h, c.Form.topAw())
	return (c.dry(hi, t) - c.dry(lo, t)) / (hi - lo)
}

// notes says what the data do not cover.
func (c *Isotherm) notes(a, t float64) Notes {
	var n Notes
	if a < c.MinAw || a > c.MaxAw || t < c.MinC || t > c.MaxC {
		n |= Extrapolated
	}
	if c.Form == FormRoa && c.State == "parchment" {
		n |= ParchmentDesorption
	}
	return n
}

// Equilibrium is what EquilibriumMoisture found.
type Equilibrium struct {
	MoisturePct    float64 // content at equilibrium, % wet basis
	SEPct          float64 // its standard error by the curve alone, % wet basis
	DryMoisturePct float64 // content at equilibrium, % dry basis
	PctPerRHPct    float64 // change of MoisturePct per 1 % of relative humidity, %
	Notes          Notes   // what to tell the reader beside the number
}

// EquilibriumMoisture returns the content that beans come to when they lie in
// the air long enough: what a store does to a lot.
//
//	X = curve(φ/100, t)
//	M = 100·X/(100 + X)
//	s_M = s_X·100²/(100 + X)²
//
//	t    air.TempC                  °C  accepted 0 to 70
//	φ    air.RHPct                  %   accepted 1 to 100 (to 99 for a fitted curve)
//	X    Equilibrium.DryMoisturePct % dry basis
//	M    Equilibrium.MoisturePct    % wet basis
//	s_M  Equilibrium.SEPct          % wet basis
//
// The range of the curve's own data is in the curve; outside it the answer
// carries [Extrapolated]. Beyond the accepted ranges, for NaN and for a broken
// curve it returns the zero Equilibrium and an [*InputError].
//
// A room at 18 °C and 55 to 60 % keeps green at 10.7 to 11.2 %, ± 0.4 by the
// shipped curve. How long that takes is another question: see [DriftAfter].
//
// Source: the curve's own, see [ParchmentArabica].
func EquilibriumMoisture(curve Isotherm, air Air) (Equilibrium, error) {
	bad := curve.refuse(nil)
	bad = fault.Float(bad, "TempC", air.TempC, BeanMinC, BeanMaxC, "°C")
	bad = fault.Float(bad, "RHPct", air.RHPct, MinRHPct, 100*curve.Form.topAw(), "%")
	if err := fault.Input(bad); err != nil {
		return Equilibrium{}, err
	}
	a := air.RHPct / 100
	x := curve.dry(a, air.TempC)
	if !(x > 0 && x <= MaxDryMoisturePct) {
		return Equilibrium{}, brokenCurve(x)
	}
	toWet := 1e4 / ((100 + x) * (100 + x))
	return Equilibrium{
		MoisturePct:    wetFromDry(x),
		SEPct:          curve.SEDryPct * toWet,
		DryMoisturePct: x,
		PctPerRHPct:    curve.slope(a, air.TempC) * toWet / 100,
		Notes:          curve.notes(a, air.TempC),
	}, nil
}

// brokenCurve refuses parameters that give no content.
func brokenCurve(x float64) error {
	return &InputError{Fields: []*FieldError{{Field: "P", Given: fault.Shortest(x) + " % dry basis",
		Min: 0, Max: MaxDryMoisturePct, Why: "the curve's parameters give a content outside this range"}}}
}

// Bean is the state of coffee in a sealed sample. The zero Bean is refused.
type Bean struct {
	MoisturePct float64 // content, % wet basis
	TempC       float64 // temperature, °C
}

// Activity is what WaterActivity found.
type Activity struct {
	Aw     float64 // water activity, 0 to 1
	SEAw   float64 // its standard error by the curve alone
	LowAw  float64 // activity one standard error of the curve below
	HighAw float64 // activity one standard error of the curve above
	Notes  Notes   // what to tell the reader beside the number
}

// WaterActivity returns the activity of beans from their content, by an
// isotherm read backwards.
//
//	X = 100·M/(100 − M) = curve(a_w, t), solved for a_w
//	s_a = s_X / (dX/da)
//
//	M    bean.MoisturePct  % wet basis  accepted 0.5 to 80, as far as the curve reaches
//	t    bean.TempC        °C           accepted 0 to 70
//	a_w  Activity.Aw
//	s_a  Activity.SEAw
//
// LowAw and HighAw read the curve raised and lowered by one standard error;
// they end at the ends of the curve. MayGrowMould and InsideMoistureLimit say
// when a content that any contract takes may still let mould grow. Beyond the
// accepted ranges, for NaN and for a broken curve it returns the zero Activity
// and an [*InputError]; a content that the curve never reaches gives an
// [*ImpossibleError].
//
// With the shipped curve ± 0.06 at 10 %, ± 0.04 at 11 %, ± 0.03 at 12 %: near
// 11 %, 0.1 % of moisture is 0.01 in activity. A reading by a meter is better than this inference.
//
// Source: the curve's own, see [ParchmentArabica].
func WaterActivity(curve Isotherm, bean Bean) (Activity, error) {
	bad := curve.refuse(nil)
	bad = fault.Float(bad, "MoisturePct", bean.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Float(bad, "TempC", bean.TempC, BeanMinC, BeanMaxC, "°C")
	if err := fault.Input(bad); err != nil {
		return Activity{}, err
	}
	x := dryFromWet(bean.MoisturePct)
	top := curve.Form.topAw()
	lo, hi := curve.dry(MinAw, bean.TempC), curve.dry(top, bean.TempC)
	if !(lo > 0 && hi > lo && hi < math.Inf(1)) {
		return Activity{}, brokenCurve(hi)
	}
	if x < lo*(1-1e-12) || x > hi*(1+1e-12) { // an end that went there and back
		return Activity{}, &ImpossibleError{Quantity: "water activity",
			Why:   "the isotherm does not reach this content",
			Field: "MoisturePct", Given: fault.Shortest(bean.MoisturePct),
			Min: wetFromDry(lo), Max: wetFromDry(hi), Unit: "%"}
	}
	aw, ok := curve.activityAt(math.Max(math.Min(x, hi), lo), bean.TempC)
	low, ok1 := curve.activityAt(math.Max(x-curve.SEDryPct, lo), bean.TempC)
	high, ok2 := curve.activityAt(math.Min(x+curve.SEDryPct, hi), bean.TempC)
	if !ok || !ok1 || !ok2 {
		return Activity{}, brokenCurve(x)
	}
	a := Activity{Aw: aw, SEAw: curve.SEDryPct / curve.slope(aw, bean.TempC),
		LowAw: low, HighAw: high, Notes: curve.notes(aw, bean.TempC)}
	if high >= GrowthLimitAw {
		a.Notes |= MayGrowMould
		if bean.MoisturePct <= CodexMaxMoisturePct {
			a.Notes |= InsideMoistureLimit
		}
	}
	return a, nil
}

// activityAt solves the curve for the activity; x lies between its ends.
func (c *Isotherm) activityAt(x, t float64) (float64, bool) {
	return num.Root(func(a float64) float64 { return c.dry(a, t) - x }, MinAw, c.Form.topAw(), 0)
}
