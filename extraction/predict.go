package extraction

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The ratios that recipes use.
const (
	MinRatio = 1  // g of water per g of coffee
	MaxRatio = 40 // g/g; grams per litre lie above it
)

// Constants of the equilibrium desorption model of full immersion: Liang, Chan
// & Ristenpart, Scientific Reports 11:6904, 2021 (quoted). The paper splits
// the yield into a partition constant K and an assumed E_max of 0.30; only
// their product is identified by the data, so only the product is here.
const (
	// DesorptionYieldPct is K·E_max, %: the yield at equilibrium, from 0.717
	// × 0.30.
	DesorptionYieldPct = 21.51

	// DesorptionYieldUPct is the spread of measured yields about it, %: 20.70
	// ± 1.08 over all ratios from 3 on. The fit's own uncertainty is 0.2.
	DesorptionYieldUPct = 1.08

	// CuppingYieldPct and CuppingYieldUPct are K·E_max, %, of the paper's
	// caffeinated coffees in cupping bowls: 0.792 × 0.30.
	CuppingYieldPct  = 23.9
	CuppingYieldUPct = 0.6

	// DecafCuppingYieldPct is the same for its decaffeinated ones, %.
	DecafCuppingYieldPct = 22.2

	DesorptionMinRatio = 3  // smallest ratio of the fit, g/g
	DesorptionMaxRatio = 25 // largest, g/g; there the model reads 14 % high
)

// Steep is a full immersion left to its equilibrium. The zero Steep is
// refused.
type Steep struct {
	Ratio     float64 // water per coffee, g/g
	YieldPct  float64 // yield at equilibrium, %: [DesorptionYieldPct], or this coffee's own
	YieldUPct float64 // its standard uncertainty, %: [DesorptionYieldUPct]
}

// Steeped is what a full immersion comes to.
type Steeped struct {
	StrengthPct  float64 // dissolved solids at equilibrium, % w/w
	StrengthUPct float64 // standard uncertainty from that of the yield, % w/w
	YieldPct     float64 // yield, %: it does not depend on the ratio
	Notes        Notes   // [Extrapolated], and those of [Yield]
}

// Equilibrium returns the strength that a full immersion comes to when it is
// left alone: the coffee gives the same share of itself to much water and to
// little.
//
//	T = E/(R + E)    u(T) = R·u(E)/(R + E)²
//
//	R  Steep.Ratio          g/g  accepted 1 to 40, published 3 to 25
//	E  Steep.YieldPct       %    accepted 5 to 40; a fraction in the equation
//	u  Steep.YieldUPct      %    accepted 0 to 10
//	T  Steeped.StrengthPct  % w/w
//
// Published for 80 to 99 °C and grounds of 0.58 to 1.31 mm median size, at
// the plateau: 20 minutes at a ratio of 25, 45 minutes at 5. A bowl tasted
// after ten minutes is likely to be still below it. Measured strengths meet
// the model at ratios of 5 to 15 and are 14 % lower at 25. Outside the
// published ratios the answer carries [Extrapolated]; outside the accepted
// ones it returns the zero Steeped and an [*InputError].
//
// Source: Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021, eq. 11
// and 13 (quoted).
func Equilibrium(in Steep) (Steeped, error) {
	bad := fault.Float(nil, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, 5, 40, "%")
	bad = fault.Float(bad, "YieldUPct", in.YieldUPct, 0, 10, "%")
	if err := fault.Input(bad); err != nil {
		return Steeped{}, err
	}
	e := in.YieldPct / 100
	out := Steeped{StrengthPct: 100 * e / (in.Ratio + e), YieldPct: in.YieldPct,
		StrengthUPct: in.Ratio * in.YieldUPct / ((in.Ratio + e) * (in.Ratio + e)), Notes: yieldNotes(in.YieldPct)}
	if in.Ratio < DesorptionMinRatio || in.Ratio > DesorptionMaxRatio {
		out.Notes |= Extrapolated
	}
	return out, nil
}

// Method is how a brewer shares its liquid between cup and grounds. The zero
// Method truly keeps nothing back: no liquid stays in the grounds.
type Method struct {
	// LiquidGPerG is the liquid, water and solids, that stays in the grounds,
	// g per g of dose: [FilterLiquidGPerG], [SpentLiquidGPerG], or weighed.
	LiquidGPerG float64

	// RetainedSharePct is the strength of that liquid as a share of the
	// cup's, %: 0 draining, 100 immersion.
	RetainedSharePct float64

	// AbsorbedGPerG is the part of it that is water locked in the particles,
	// g per g of dose.
	AbsorbedGPerG float64
}

// FilterLiquidGPerG is the liquid that a drained filter keeps, g per g of
// dose: the lower part of 2.0 to 2.5 (training lesson, opened) and 2.08 (home
// brew, inputs opened). Common practice; weigh your own.
const FilterLiquidGPerG = 2.1

func (m Method) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "Method.LiquidGPerG", m.LiquidGPerG, 0, 6, "g/g")
	bad = fault.Float(bad, "Method.RetainedSharePct", m.RetainedSharePct, 0, 100, "%")
	most := float64(MaxAbsorbedGPerG)
	if m.LiquidGPerG >= 0 && m.LiquidGPerG < most {
		most = m.LiquidGPerG
	}
	return fault.Float(bad, "Method.AbsorbedGPerG", m.AbsorbedGPerG, 0, most, "g/g")
}

// perStrength is the liquid per dose that a strength is spread over, g/g:
// solids per dose divided by it give the strength.
func (m Method) perStrength(ratio, e float64) float64 {
	q := m.RetainedSharePct / 100
	return (ratio+e-m.LiquidGPerG)*(1-q) + (ratio+e-m.AbsorbedGPerG)*q
}

// OnLine asks for a point of a line of equal ratio. The zero OnLine is
// refused.
type OnLine struct {
	Method   Method  // how the brewer shares its liquid
	Ratio    float64 // water per coffee, g/g
	YieldPct float64 // extraction yield, %
}

// LineStrength returns the strength, % w/w, that a yield gives at a ratio: the
// line of equal ratio on the map of strength and yield.
//
//	T = 100·E/[(R + E − λ)·(1 − q) + (R + E − a)·q]
//
//	R  OnLine.Ratio             g/g  accepted 1 to 40
//	E  OnLine.YieldPct          %    accepted 1 to 100; a fraction in the equation
//	λ  Method.LiquidGPerG       g/g  accepted 0 to 6
//	q  Method.RetainedSharePct  %    accepted 0 to 100; a fraction in the equation
//	a  Method.AbsorbedGPerG     g/g  accepted 0 to 3, no more than λ
//	T                           % w/w
//
// The line bends, and how much depends on the balance: the same ratio and
// yield are 1.32 % in immersion at 1:15 and 20 %, 1.53 % in a filter that
// drains. A map without its method is no map. Outside the ranges it returns 0
// and an [*InputError]; where the grounds keep all the liquid, or the liquid
// would be nothing but solids, an [*ImpossibleError].
//
// Source: conservation of mass; [Strength] per gram of dose.
func LineStrength(in OnLine) (float64, error) {
	bad := in.Method.check(nil)
	bad = fault.Float(bad, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	e := in.YieldPct / 100
	if !(in.Ratio+e > in.Method.LiquidGPerG) || !(e < in.Method.perStrength(in.Ratio, e)) {
		return 0, &ImpossibleError{Quantity: "strength", Why: "the grounds would keep the liquid that the solids need",
			Field: "Ratio", Given: fault.Shortest(in.Ratio), Min: in.Method.LiquidGPerG + 1, Max: MaxRatio, Unit: "g/g"}
	}
	return 100 * e / in.Method.perStrength(in.Ratio, e), nil
}

// OnMap is a point of the map. The zero OnMap is refused.
type OnMap struct {
	Method      Method  // how the brewer shares its liquid
	StrengthPct float64 // dissolved solids, % w/w
	YieldPct    float64 // extraction yield, %
}

// PointRatio returns the ratio, g/g, whose line runs through a point of the
// map: [LineStrength] read backwards.
//
//	R = E/T − E + λ·(1 − q) + a·q
//
//	T  OnMap.StrengthPct  % w/w  accepted 0.15 to 35; a fraction in the equation
//	E  OnMap.YieldPct     %      accepted 1 to 100; a fraction in the equation
//	   the others as in [LineStrength]
//
// Outside, it returns 0 and an [*InputError]; where the ratio is beyond what
// recipes use, an [*ImpossibleError].
//
// Source: conservation of mass; [LineStrength] solved for the ratio.
func PointRatio(in OnMap) (float64, error) {
	bad := in.Method.check(nil)
	bad = fault.Float(bad, "StrengthPct", in.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	e, q := in.YieldPct/100, in.Method.RetainedSharePct/100
	shift := in.Method.LiquidGPerG*(1-q) + in.Method.AbsorbedGPerG*q - e
	lo := max(MinRatio, in.Method.LiquidGPerG-e)
	at := func(pct float64) (r float64, ok bool) {
		r = e/(pct/100) + shift
		return r, r >= lo && r <= MaxRatio
	}
	r, ok := at(in.StrengthPct)
	if ok {
		return r, nil
	}
	// The least liquid is at most 6 g/g or 1 + E, so that the least yield makes
	// 0.16 % or more of it: there is always such a strength.
	none := &ImpossibleError{Quantity: "ratio", Why: "this strength needs more or less water than recipes use or the grounds would keep it all",
		Field: "StrengthPct", Given: fault.Shortest(in.StrengthPct), Min: max(MinStrengthPct, 100*e/(MaxRatio-shift)), Max: highest(e, lo-shift), Unit: "%"}
	usual := func(pct float64) bool { _, ok := at(pct); return ok }
	middle := (none.Min + none.Max) / 2
	none.Min, none.Max = num.Inside(none.Min, middle, usual), num.Inside(none.Max, middle, usual)
	return 0, none
}

// highest is the strength at the least liquid, %, as far as one is brewed.
func highest(e, liquid float64) float64 {
	if !(liquid > 0) {
		return MaxStrengthPct
	}
	return math.Min(MaxStrengthPct, 100*e/liquid)
}

// Goal is a cup that is wanted, and the recipe's limits. The zero Goal is
// refused.
type Goal struct {
	Method      Method  // how the brewer shares its liquid
	BeverageG   float64 // what is to be served, g
	StrengthPct float64 // dissolved solids, % w/w
	YieldPct    float64 // extraction yield that this coffee and grind are expected to give, %
	DoseMinG    float64 // least dose the brewer takes, g
	DoseMaxG    float64 // most, g
	WaterMaxG   float64 // most water the brewer takes, g
}

// Recipe is dose and water for a cup.
type Recipe struct {
	DoseG      float64 // coffee, g
	WaterG     float64 // water poured, g
	Ratio      float64 // water per coffee, g/g
	DissolvedG float64 // solids that leave the coffee, g
	RetainedG  float64 // liquid that stays in the grounds, g
	Notes      Notes   // those of [Yield]
}

// RecipeFor returns the dose and the water that give a beverage of a strength
// at an expected yield, inside what the brewer takes.
//
//	R = [PointRatio]    D = B/(R + E − λ)    W = R·D
//
//	B  Goal.BeverageG               g  accepted 0.1 to 4 000 000
//	   Goal.DoseMinG, DoseMaxG      g  accepted 0.1 to 100 000, in that order
//	   Goal.WaterMaxG               g  accepted 0.1 to 4 000 000
//	   the others as in [PointRatio]
//	D  Recipe.DoseG, W  Recipe.WaterG, g
//
// The yield is an expectation: a changed ratio changes it a little, a changed
// grind a lot. Outside the ranges it returns the zero Recipe and an
// [*InputError]; where the recipe leaves the brewer's limits, an
// [*ImpossibleError] that says which beverage they allow, or which limit is in
// the way of it.
//
// Source: conservation of mass.
func RecipeFor(in Goal) (Recipe, error) {
	bad := in.Method.check(nil)
	bad = fault.Float(bad, "BeverageG", in.BeverageG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "StrengthPct", in.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	bad = fault.Float(bad, "DoseMinG", in.DoseMinG, MinDoseG, MaxDoseG, "g")
	least := MinDoseG
	if in.DoseMinG > least && in.DoseMinG <= MaxDoseG {
		least = in.DoseMinG
	}
	bad = fault.Float(bad, "DoseMaxG", in.DoseMaxG, least, MaxDoseG, "g")
	bad = fault.Float(bad, "WaterMaxG", in.WaterMaxG, MinWaterG, MaxWaterG, "g")
	if err := fault.Input(bad); err != nil {
		return Recipe{}, err
	}
	r, err := PointRatio(OnMap{Method: in.Method, StrengthPct: in.StrengthPct, YieldPct: in.YieldPct})
	if err != nil {
		return Recipe{}, err
	}
	e := in.YieldPct / 100
	perDose := r + e - in.Method.LiquidGPerG // beverage, g per g of dose
	out := Recipe{DoseG: in.BeverageG / perDose, Ratio: r, Notes: yieldNotes(in.YieldPct)}
	out.WaterG = r * out.DoseG
	out.DissolvedG = e * out.DoseG
	out.RetainedG = in.Method.LiquidGPerG * out.DoseG
	if !in.takes(r, perDose) {
		return Recipe{}, in.outside(r, perDose)
	}
	return out, nil
}

// takes says whether the brewer takes the recipe.
func (in Goal) takes(ratio, perDose float64) bool {
	dose := in.BeverageG / perDose
	return dose >= in.DoseMinG && dose <= min(in.DoseMaxG, in.WaterMaxG/ratio)
}

// outside names the beverage that the brewer's limits allow, or where they allow
// none at this strength, the limit that is in the way, if it is one alone.
func (in Goal) outside(ratio, perDose float64) error {
	none := &ImpossibleError{Quantity: "recipe", Why: "its dose or its water is outside what the brewer takes"}
	dose := in.BeverageG / perDose
	try := func(field string, v *float64, least, most, lo, hi float64) bool {
		given := *v
		return possible(none, field, given, max(least, lo), min(most, hi), "g", func(x float64) bool {
			*v = x
			ok := x >= lo && x <= hi && in.takes(ratio, perDose)
			*v = given
			return ok
		})
	}
	switch {
	case try("BeverageG", &in.BeverageG, perDose*in.DoseMinG, perDose*min(in.DoseMaxG, in.WaterMaxG/ratio), MinWaterG, MaxWaterG):
	case try("DoseMinG", &in.DoseMinG, 0, dose, MinDoseG, MaxDoseG):
	case try("WaterMaxG", &in.WaterMaxG, dose*ratio, MaxWaterG, MinWaterG, MaxWaterG):
	default:
		try("DoseMaxG", &in.DoseMaxG, dose, MaxDoseG, MinDoseG, MaxDoseG)
	}
	return none
}

// Changed is a brew that is known, and what is changed in it. The zero Changed
// is refused.
type Changed struct {
	Method      Method  // how the brewer shares its liquid
	StrengthPct float64 // dissolved solids of the known brew, % w/w
	Ratio       float64 // its water per coffee, g/g
	ToRatio     float64 // water per coffee after the change, g/g
}

// StrengthAfter returns the strength, % w/w, that a brew comes to when its dose
// or its water is changed and its yield stays, and that yield.
//
//	E = T·[(R − λ)·(1 − q) + (R − a)·q]/(1 − T)
//	T₂ = [LineStrength] of E at R₂
//
//	T   Changed.StrengthPct  % w/w  accepted 0.15 to 35; a fraction in the equation
//	R   Changed.Ratio        g/g    accepted 1 to 40
//	R₂  Changed.ToRatio      g/g    accepted 1 to 40
//	    the others as in [LineStrength]
//
// In full immersion the yield stays; in a filter more water also washes a
// little more out, which is not in it: the true strength falls less. Outside
// the ranges it returns zeros and an [*InputError]; where there is no such
// brew, an [*ImpossibleError].
//
// Source: conservation of mass; equal yield at all ratios of immersion after
// Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021 (quoted).
func StrengthAfter(in Changed) (strengthPct, yieldPct float64, err error) {
	bad := in.Method.check(nil)
	bad = fault.Float(bad, "StrengthPct", in.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	bad = fault.Float(bad, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	bad = fault.Float(bad, "ToRatio", in.ToRatio, MinRatio, MaxRatio, "g/g")
	if err := fault.Input(bad); err != nil {
		return 0, 0, err
	}
	t := in.StrengthPct / 100
	yield := func(ratio float64) (e float64, ok bool) {
		e = t * in.Method.perStrength(ratio, 0) / (1 - t)
		return e, e >= MinYieldPct/100. && e <= 1
	}
	e, ok := yield(in.Ratio)
	if !ok {
		kept := -in.Method.perStrength(0, 0)
		least, most := max(MinRatio, kept+MinYieldPct/100.*(1-t)/t), min(MaxRatio, kept+(1-t)/t)
		gives := func(ratio float64) bool { _, ok := yield(ratio); return ok }
		return 0, 0, &ImpossibleError{Quantity: "yield", Why: "the known brew's strength and ratio leave no yield that coffee can give",
			Field: "Ratio", Given: fault.Shortest(in.Ratio),
			Min: num.Inside(least, (least+most)/2, gives), Max: num.Inside(most, (least+most)/2, gives), Unit: "g/g"}
	}
	s, err := LineStrength(OnLine{Method: in.Method, Ratio: in.ToRatio, YieldPct: 100 * e})
	if none, ok := err.(*ImpossibleError); ok {
		none.Field = "ToRatio"
	}
	if err != nil {
		return 0, 0, err
	}
	return s, 100 * e, nil
}
