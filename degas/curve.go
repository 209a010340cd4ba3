package degas

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Curve says which share of its gas coffee has let go at an age. It is one
// of [FirstOrder], [Stretched], [TwoPools], [Sphere] and [Sheet]. All of them
// stretch in time as one when a temperature changes. A nil Curve is refused.
type Curve interface {
	share(days float64) (left, gone float64) // 0 to 1
	reaches(left float64) (days float64)     // for left from 0 to 1, not 0
	hastened(factor float64) Curve
	check(bad []*FieldError) []*FieldError
	notes() Notes
}

// The ranges that curves accept.
const (
	MaxDays              = 3650  // days; the oldest age
	MinTauDays           = 1e-5  // days; about a second
	MaxTauDays           = 36500 // days
	MinExponent          = 0.1   // shape of the stretched exponential, no unit
	MaxExponent          = 2.0   // no unit
	MinRadiusMM          = 0.005 // mm
	MaxRadiusMM          = 20.0  // mm
	MinDiffusivityM2PerS = 1e-17 // m²/s
	MaxDiffusivityM2PerS = 1e-7  // m²/s
	MinLeftPct           = 1.0   // %; the smallest share whose age is given, so that 0.4 for 40 % is refused
)

// The range of effective diffusivities found in roasted and ground coffee.
//
// Source: Anderson, Shimoni, Liardon, Labuza, The diffusion kinetics of carbon
// dioxide in fresh roasted and ground coffee, J. Food Eng. 59, 2003, abstract.
const (
	GroundDiffusivityLowM2PerS  = 0.5e-13 // m²/s
	GroundDiffusivityHighM2PerS = 10e-13  // m²/s
)

const secondsPerDay = 86400

// FirstOrder is one pool that empties at a rate in proportion to what is left:
//
//	L/100 = exp(−t/τ)        half of it gone at τ·ln 2
//
// It is the wrong shape for whole beans: through the published 40 % in a day
// it is empty in a week, which all observation denies. The zero FirstOrder is
// refused.
//
// Source: definition.
type FirstOrder struct {
	TauDays float64 // τ, days; accepted MinTauDays to MaxTauDays
}

func (c FirstOrder) share(days float64) (left, gone float64) {
	return decayed(days / c.TauDays)
}
func (c FirstOrder) reaches(left float64) float64  { return -math.Log(left) * c.TauDays }
func (c FirstOrder) hastened(factor float64) Curve { return FirstOrder{c.TauDays / factor} }
func (c FirstOrder) notes() Notes                  { return 0 }
func (c FirstOrder) check(bad []*FieldError) []*FieldError {
	return fault.Float(bad, "TauDays", c.TauDays, MinTauDays, MaxTauDays, "days")
}

// decayed is e^−x and 1 − e^−x: the smaller of the two is computed and the
// other is what it leaves, to the last digit.
func decayed(x float64) (left, gone float64) {
	if x < math.Ln2 {
		gone = -math.Expm1(-x)
		return 1 - gone, gone
	}
	left = num.Exp(-x)
	return left, 1 - left
}

// Stretched is the stretched exponential, also called the Weibull curve:
//
//	L/100 = exp(−(t/τ)^β)    63 % gone at τ for any β
//
// With β under 1 it starts fast, at an infinite rate, and has a long tail.
// The zero Stretched is refused.
//
// Source: Weibull, A statistical distribution function of wide applicability,
// J. Appl. Mech. 18, 1951.
type Stretched struct {
	TauDays  float64 // τ, days; accepted MinTauDays to MaxTauDays
	Exponent float64 // β; accepted MinExponent to MaxExponent
}

func (c Stretched) share(days float64) (left, gone float64) {
	return decayed(power(days/c.TauDays, c.Exponent))
}

// power is x^p for an x of 0 or more and a p that is positive, to a few units
// in the last place while |p·ln x| is small, at a third of the cost of
// math.Pow, which knows every case.
func power(x, p float64) float64 { return num.Exp(p * num.Log(x)) }

func (c Stretched) reaches(left float64) float64 {
	return c.TauDays * math.Pow(-math.Log(left), 1/c.Exponent)
}
func (c Stretched) hastened(factor float64) Curve { return Stretched{c.TauDays / factor, c.Exponent} }
func (c Stretched) notes() Notes                  { return 0 }
func (c Stretched) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "TauDays", c.TauDays, MinTauDays, MaxTauDays, "days")
	return fault.Float(bad, "Exponent", c.Exponent, MinExponent, MaxExponent, "")
}

// TwoPools is two pools that empty each at its own rate:
//
//	L = A·exp(−t/τ₁) + (100 − A)·exp(−t/τ₂)
//
// The zero TwoPools is refused; so is a fast pool slower than the slow one.
//
// Source: definition.
type TwoPools struct {
	FastPct     float64 // A, share of the gas in the fast pool, %; accepted 1 to 99
	FastTauDays float64 // τ₁, days; accepted MinTauDays to MaxTauDays
	SlowTauDays float64 // τ₂, days; accepted FastTauDays to MaxTauDays
}

func (c TwoPools) share(days float64) (left, gone float64) {
	a := c.FastPct / 100
	x, y := days/c.FastTauDays, days/c.SlowTauDays
	return a*math.Exp(-x) + (1-a)*math.Exp(-y), -(a*math.Expm1(-x) + (1-a)*math.Expm1(-y))
}
func (c TwoPools) reaches(left float64) float64 {
	// The slow pool alone would take longer than the two together.
	log := -math.Log(left)
	if log <= 0 {
		return 0
	}
	late := log * c.SlowTauDays * (1 + 1e-9)
	var days float64
	if left > 0.5 {
		gone := 1 - left
		days, _ = num.Root(func(t float64) float64 { _, g := c.share(t); return g - gone }, 0, late, 0)
	} else {
		days, _ = num.Root(func(t float64) float64 { l, _ := c.share(t); return math.Log(l) + log }, 0, late, 0)
	}
	return days
}
func (c TwoPools) hastened(factor float64) Curve {
	return TwoPools{c.FastPct, c.FastTauDays / factor, c.SlowTauDays / factor}
}
func (c TwoPools) notes() Notes { return 0 }
func (c TwoPools) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "FastPct", c.FastPct, 1, 99, "%")
	fast := len(bad)
	bad = fault.Float(bad, "FastTauDays", c.FastTauDays, MinTauDays, MaxTauDays, "days")
	low := MinTauDays
	if len(bad) == fast {
		low = c.FastTauDays
	}
	slow := len(bad)
	bad = fault.Float(bad, "SlowTauDays", c.SlowTauDays, low, MaxTauDays, "days")
	if len(bad) > slow && low > MinTauDays {
		bad[slow].Why = "the slow pool is not faster than the fast one"
	}
	return bad
}

// Sphere is diffusion out of a ball, such as a ground particle; see
// [SphereShare] for the equation. One size and one diffusivity are taken for
// all. A diffusivity is a fitted number: the published ones of ground coffee
// differ twentyfold and do not carry to whole beans. The zero Sphere is
// refused.
//
// Source: Crank, The Mathematics of Diffusion, 2nd ed., 1975, chapter 6.
type Sphere struct {
	RadiusMM          float64 // a, mm; accepted MinRadiusMM to MaxRadiusMM
	DiffusivityM2PerS float64 // D, m²/s; accepted MinDiffusivityM2PerS to MaxDiffusivityM2PerS, published 0.5e-13 to 10e-13
}

func (c Sphere) fo(days float64) float64 {
	return c.DiffusivityM2PerS * days * secondsPerDay / (c.RadiusMM * c.RadiusMM * 1e-6)
}
func (c Sphere) share(days float64) (left, gone float64) { return sphere(c.fo(days)) }
func (c Sphere) reaches(left float64) float64 {
	return diffusionFo(sphere, left, math.Pi*math.Pi) / c.fo(1)
}
func (c Sphere) hastened(factor float64) Curve {
	return Sphere{c.RadiusMM, c.DiffusivityM2PerS * factor}
}
func (c Sphere) notes() Notes { return diffusivityNotes(c.DiffusivityM2PerS) }
func (c Sphere) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "RadiusMM", c.RadiusMM, MinRadiusMM, MaxRadiusMM, "mm")
	return checkDiffusivity(bad, c.DiffusivityM2PerS)
}

// Sheet is diffusion out of both faces of a flat piece, such as a flake; see
// [SheetShare] for the equation and [Sphere] for what a diffusivity is worth.
// The zero Sheet is refused.
//
// Source: Crank, The Mathematics of Diffusion, 2nd ed., 1975, chapter 4.
type Sheet struct {
	HalfThicknessMM   float64 // a, mm; accepted MinRadiusMM to MaxRadiusMM
	DiffusivityM2PerS float64 // D, m²/s; accepted MinDiffusivityM2PerS to MaxDiffusivityM2PerS, published 0.5e-13 to 10e-13
}

func (c Sheet) fo(days float64) float64 {
	return c.DiffusivityM2PerS * days * secondsPerDay / (c.HalfThicknessMM * c.HalfThicknessMM * 1e-6)
}
func (c Sheet) share(days float64) (left, gone float64) { return sheet(c.fo(days)) }
func (c Sheet) reaches(left float64) float64 {
	return diffusionFo(sheet, left, math.Pi*math.Pi/4) / c.fo(1)
}
func (c Sheet) hastened(factor float64) Curve {
	return Sheet{c.HalfThicknessMM, c.DiffusivityM2PerS * factor}
}
func (c Sheet) notes() Notes { return diffusivityNotes(c.DiffusivityM2PerS) }
func (c Sheet) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "HalfThicknessMM", c.HalfThicknessMM, MinRadiusMM, MaxRadiusMM, "mm")
	return checkDiffusivity(bad, c.DiffusivityM2PerS)
}

func checkDiffusivity(bad []*FieldError, d float64) []*FieldError {
	return fault.Float(bad, "DiffusivityM2PerS", d, MinDiffusivityM2PerS, MaxDiffusivityM2PerS, "m²/s")
}

func diffusivityNotes(d float64) Notes {
	if d < GroundDiffusivityLowM2PerS || d > GroundDiffusivityHighM2PerS {
		return Extrapolated
	}
	return 0
}

// checkCurve refuses nil, and pointers, which could be nil; the input calls
// the curve name.
func checkCurve(bad []*FieldError, name string, c Curve) []*FieldError {
	switch c.(type) {
	case FirstOrder, Stretched, TwoPools, Sphere, Sheet:
		return c.check(bad)
	}
	given := "0"
	if c != nil {
		given = "a pointer to a"
	}
	return append(bad, &FieldError{Field: name, Given: given, Min: 1, Max: 1, Unit: "curve", Why: "one of the five shapes, by value"})
}

// Left returns how the gas that was in the coffee at t = 0 is divided at an
// age: the share left and the share gone.
//
//	L, F  by the equation of the curve
//
//	c     its type and parameters   see each
//	t     days                      accepted 0 to MaxDays
//	L, F  Share                     %
//
// It carries [Extrapolated] where a diffusivity lies outside the published
// range. Bad parameters and a bad age are refused together with an
// [*InputError]. How good it is depends on the parameters alone: with those of
// one's own fit see [Fit.Left], without any see [OrientationBand].
//
// Source: the source of the curve's type.
func Left(curve Curve, days float64) (Share, error) {
	bad := checkCurve(nil, "curve", curve)
	bad = fault.Float(bad, "days", days, 0, MaxDays, "days")
	if err := fault.Input(bad); err != nil {
		return Share{}, err
	}
	left, gone := curve.share(days)
	return Share{LeftPct: 100 * left, GonePct: 100 * gone, Notes: curve.notes()}, nil
}

// DaysUntil returns the age at which the share left has fallen to a level:
// the inverse of [Left].
//
//	t     days, the answer
//	L     leftPct   %   accepted MinLeftPct to 100
//
// Refused with an [*InputError]: bad parameters, a level out of range (a
// fraction for a percent is). An age beyond MaxDays is an [*ImpossibleError],
// which says the level that is reached by then.
//
// Source: inverse of the curve's equation; for diffusion and two pools by
// bracketed root.
func DaysUntil(curve Curve, leftPct float64) (float64, error) {
	bad := checkCurve(nil, "curve", curve)
	bad = fault.Float(bad, "leftPct", leftPct, MinLeftPct, 100, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	days := curve.reaches(leftPct / 100)
	if !(days <= MaxDays) {
		left, _ := curve.share(MaxDays)
		return 0, &ImpossibleError{Quantity: "age", Why: "so little is left only after more than ten years",
			Field: "leftPct", Given: fault.Shortest(leftPct),
			Min: num.Inside(100*left, 100, func(pct float64) bool { return curve.reaches(pct/100) <= MaxDays }), Max: 100, Unit: "%"}
	}
	return days, nil
}

// MeanRate returns how fast gas leaves between two ages, on average, in
// percent of the gas at t = 0 per day. A mean is all that can be given: at
// t = 0 the rate of most curves is infinite.
//
//	r = (F(t₂) − F(t₁))/(t₂ − t₁)
//
//	t₁  fromDays   days     accepted 0 to MaxDays
//	t₂  toDays     days     accepted fromDays + MinIntervalDays to MaxDays
//	r   result     %/day
//
// Refused with an [*InputError]: bad parameters or ages. Multiply by the gas
// at t = 0 in mg/g and divide by 100 for mg/g per day, or use [AmountLost].
//
// Source: definition.
func MeanRate(curve Curve, fromDays, toDays float64) (float64, error) {
	bad := checkCurve(nil, "curve", curve)
	bad = checkInterval(bad, fromDays, toDays)
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return 100 * lost(curve, fromDays, toDays) / (toDays - fromDays), nil
}

// MinIntervalDays is the shortest interval of a mean rate, about 0.1 s.
const MinIntervalDays = 1e-6 // days

func checkInterval(bad []*FieldError, from, to float64) []*FieldError {
	n := len(bad)
	bad = fault.Float(bad, "fromDays", from, 0, MaxDays, "days")
	least := MinIntervalDays
	if len(bad) == n {
		least = from + MinIntervalDays
	}
	n = len(bad)
	bad = fault.Float(bad, "toDays", to, least, MaxDays, "days")
	if len(bad) > n && least > MinIntervalDays && to >= 0 {
		bad[n].Why = "an interval ends after it begins"
	}
	return bad
}

// lost is the share, 0 to 1, that goes between two ages.
func lost(c Curve, from, to float64) float64 {
	l1, g1 := c.share(from)
	l2, g2 := c.share(to)
	if g1 < 0.5 {
		return g2 - g1
	}
	return l1 - l2
}
