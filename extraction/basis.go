package extraction

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Bean is what a dose is made of beside dry coffee. The zero Bean is truly
// dry and without gas.
type Bean struct {
	MoisturePct float64 // water in the coffee as dosed, % wet basis
	GasPct      float64 // carbon dioxide that leaves in the brew, % of the dose
}

// DryFactor returns the number by which a yield per dose as weighed is
// multiplied to become a yield per dry coffee.
//
//	f = 1/(1 − m − c)    E_dry = f·E
//
//	m  Bean.MoisturePct  % wet basis  accepted 0 to 15; a fraction in the equation
//	c  Bean.GasPct       % of dose    accepted 0 to 3; a fraction in the equation
//
// Outside, it returns 0 and an [*InputError]. An oven at 103 °C drives off
// carbon dioxide with the water: a moisture measured so on fresh coffee holds
// the gas already, and GasPct is then 0. Say on which basis a yield stands:
// moisture and gas together lift a yield of 20 by about one point.
//
// Source: conservation of mass; the form with moisture alone from a web
// article on measuring extraction by hand (opened).
func DryFactor(in Bean) (float64, error) {
	bad := fault.Float(nil, "MoisturePct", in.MoisturePct, 0, 15, "%")
	bad = fault.Float(bad, "GasPct", in.GasPct, 0, 3, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return 1 / (1 - in.MoisturePct/100 - in.GasPct/100), nil
}

// Bypassed is a brew that was thinned after it left the grounds. The zero
// Bypassed is refused.
type Bypassed struct {
	Brew    Brew    // the brew, its beverage and strength as served, after the bypass
	BypassG float64 // water added beside the grounds, g, inside Brew.BeverageG and not in Brew.WaterG
}

// BypassYield returns the balance of a brew from what was served after bypass.
// The yield is the coffee's: bypass moves the strength and leaves the yield
// alone.
//
//	B₁ = B − P    T₁ = T·B/B₁
//
// and [Yield] of B₁ at T₁.
//
//	P   Bypassed.BypassG         g      accepted 0 to 4 000 000, less than B
//	B   Brew.BeverageG, served   g
//	T   Brew.StrengthPct, served % w/w
//	T₁  second result: the strength before bypass, % w/w
//
// Notes and refusals are those of [Yield], of the brew before bypass.
//
// Source: conservation of mass.
func BypassYield(in Bypassed) (Balance, float64, error) {
	bad := fault.Float(nil, "BypassG", in.BypassG, 0, MaxWaterG, "g")
	bad = fault.Float(bad, "BeverageG", in.Brew.BeverageG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "StrengthPct", in.Brew.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	if err := fault.Input(bad); err != nil {
		return Balance{}, 0, err
	}
	b := in.Brew
	b.BeverageG -= in.BypassG
	if !(b.BeverageG >= MinWaterG) {
		none := &ImpossibleError{Quantity: "yield", Why: "nothing is left of the beverage before the bypass"}
		gives := func(bypass float64) bool {
			less := in
			less.BypassG = bypass
			if !(bypass >= 0 && in.Brew.BeverageG-bypass >= MinWaterG) {
				return false
			}
			_, _, err := BypassYield(less)
			return err == nil
		}
		// As much as leaves MinWaterG, and MaxStrengthPct in it.
		most := in.Brew.BeverageG * (1 - in.Brew.StrengthPct/MaxStrengthPct)
		most = num.Furthest(0, min(in.Brew.BeverageG-MinWaterG, most), gives)
		possible(none, "BypassG", in.BypassG, 0, most, "g", gives)
		return Balance{}, 0, none
	}
	b.StrengthPct = in.Brew.StrengthPct * in.Brew.BeverageG / b.BeverageG
	out, err := Yield(b)
	if err != nil {
		return Balance{}, 0, err
	}
	return out, b.StrengthPct, nil
}

// What drying spent grounds gets wrong: Liang, Chan & Ristenpart, Scientific
// Reports 11:6904, 2021 (quoted).
const (
	// OvenVolatilesPct is the yield that volatiles lost in the oven feign,
	// % of the dose; printed as about 0.023.
	OvenVolatilesPct = 2.3

	// SpentLiquidGPerG is the liquid that drained grounds carry into the
	// oven with its solids in it, g per g of dose; ± 0.19.
	SpentLiquidGPerG = 2.48
)

// Spent is coffee weighed dry before the brew and after it. The zero Spent is
// refused.
type Spent struct {
	DoseG          float64 // coffee before the brew, g
	DryG           float64 // the same coffee dried after it, g
	Bean           Bean    // what the dose held beside dry coffee
	Ratio          float64 // water per coffee of the brew, g/g
	LiquidGPerG    float64 // liquid the grounds kept when they went into the oven, g per g of dose: [SpentLiquidGPerG]; 0 when they were rinsed
	VolatilesPct   float64 // yield that the oven feigns, % of the dose: [OvenVolatilesPct]
	RetainedAsBrew bool    // the kept liquid is as strong as the cup, as in immersion; false when it is clean
}

// OvenYield is what drying spent grounds says, as it stands and corrected.
type OvenYield struct {
	ApparentPct float64 // loss of mass per dry dose, %
	YieldPct    float64 // what dissolved per dry dose, by the published correction, %
	BiasPct     float64 // apparent less corrected, in points of yield
	Notes       Notes   // [Extrapolated] for a ratio outside 3 to 25, and those of [Yield]
}

// SpentGroundsYield returns the yield from coffee dried before and after the
// brew, and what the known errors of the method make of it: the liquid kept
// in the grounds leaves its solids there (too low), the oven drives off more
// than water (too high).
//
//	D'  = D·(1 − m − c)
//	E_o = (D' − d)/D'
//	E_o = E·(1 − λ/(R + E)) + v    solved for E
//
//	D    Spent.DoseG         g       accepted 0.1 to 100 000
//	d    Spent.DryG          g       accepted 0.05 to 100 000
//	m, c Spent.Bean          %       see [DryFactor]
//	R    Spent.Ratio         g/g     accepted 1 to 40, published 3 to 25
//	λ    Spent.LiquidGPerG   g/g     accepted 0 to 3.5; in the equation only where RetainedAsBrew
//	v    Spent.VolatilesPct  %       accepted 0 to 5; a fraction in the equation
//	E_o  OvenYield.ApparentPct, E  OvenYield.YieldPct, in the equations fractions
//
// The apparent yield reads a third low at a ratio of 5. The correction is a
// model with one laboratory's constants: use the method to check a scale of
// strengths, not to judge a brew. Outside the ranges it returns the zero
// OvenYield and an [*InputError]; where the grounds gained mass beyond what
// the kept liquid can explain, and where their loss with the solids of that
// liquid is more than the dose, an [*ImpossibleError].
//
// Source: Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021, eq. 22
// (quoted), solved for the yield.
func SpentGroundsYield(in Spent) (OvenYield, error) {
	bad := fault.Float(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Float(bad, "DryG", in.DryG, 0.05, MaxDoseG, "g")
	bad = fault.Float(bad, "Bean.MoisturePct", in.Bean.MoisturePct, 0, 15, "%")
	bad = fault.Float(bad, "Bean.GasPct", in.Bean.GasPct, 0, 3, "%")
	bad = fault.Float(bad, "Ratio", in.Ratio, 1, MaxRatio, "g/g")
	bad = fault.Float(bad, "LiquidGPerG", in.LiquidGPerG, 0, 3.5, "g/g")
	bad = fault.Float(bad, "VolatilesPct", in.VolatilesPct, 0, 5, "%")
	if err := fault.Input(bad); err != nil {
		return OvenYield{}, err
	}
	dry := in.DoseG * (1 - in.Bean.MoisturePct/100 - in.Bean.GasPct/100)
	kept := 0.0
	if in.RetainedAsBrew {
		kept = in.LiquidGPerG
	}
	apparent, e := in.dissolved(dry, in.DryG, kept)
	if !(e <= 1) {
		return OvenYield{}, in.noYield(dry, kept, e)
	}
	out := OvenYield{ApparentPct: 100 * apparent, YieldPct: 100 * e, BiasPct: 100 * (apparent - e), Notes: yieldNotes(100 * e)}
	if in.Ratio < DesorptionMinRatio || in.Ratio > DesorptionMaxRatio {
		out.Notes |= Extrapolated
	}
	return out, nil
}

// dissolved is E_o and E, fractions; E is NaN where the grounds lost less than
// the oven drives off.
func (in Spent) dissolved(dry, dryG, kept float64) (apparent, e float64) {
	apparent = (dry - dryG) / dry
	// E² + (R − λ − x)·E − x·R = 0 with x = E_o − v
	x := apparent - in.VolatilesPct/100
	if !(x >= 0) {
		return apparent, math.NaN()
	}
	p, q := in.Ratio-kept-x, -x*in.Ratio
	root := math.Sqrt(p*p/4 - q)
	if p > 0 { // the same root without cancellation
		return apparent, -q / (p/2 + root)
	}
	return apparent, -p/2 + root
}

// noYield names the dried grounds that are between nothing and all of the dose,
// or where no grounds are, the liquid that is said to be kept.
func (in Spent) noYield(dry, kept, e float64) error {
	none := &ImpossibleError{Quantity: "yield", Why: "the dried grounds weigh more than the dose less what the oven drives off",
		Field: "DryG", Given: fault.Shortest(in.DryG), Unit: "g"}
	if e > 1 {
		none.Why = "more would have dissolved than was dosed"
	}
	v := in.VolatilesPct / 100
	gives := func(dryG float64) bool { _, e := in.dissolved(dry, dryG, kept); return e <= 1 }
	least, most := max(0.05, dry*(kept/(in.Ratio+1)-v)), dry*(1-v)
	middle := (least + most) / 2
	switch none.Min, none.Max = num.Inside(least, middle, gives), num.Inside(most, middle, gives); {
	case gives(none.Min) && gives(none.Max):
	case e > 1:
		keeps := func(kept float64) bool { _, e := in.dissolved(dry, in.DryG, kept); return e <= 1 }
		x := (dry-in.DryG)/dry - v
		none.Field, none.Given, none.Unit = "LiquidGPerG", fault.Shortest(in.LiquidGPerG), "g/g"
		none.Min, none.Max = 0, num.Inside((1-x)*(in.Ratio+1), 0, keeps)
	default: // both are wrong
		*none = ImpossibleError{Quantity: none.Quantity, Why: none.Why}
	}
	return none
}

// OvenCheck is a brew of known yield whose grounds go into the oven. The zero
// OvenCheck is refused.
type OvenCheck struct {
	YieldPct     float64 // yield of the brew, %
	Ratio        float64 // water per coffee, g/g
	LiquidGPerG  float64 // liquid as strong as the cup that the grounds keep, g/g: [SpentLiquidGPerG]
	VolatilesPct float64 // yield that the oven feigns, %: [OvenVolatilesPct]
}

// OvenApparentYield returns the yield, %, that dried grounds will show for a
// brew of known yield: the error of [SpentGroundsYield] the other way round.
//
//	E_o = E·(1 − λ/(R + E)) + v
//
//	E  OvenCheck.YieldPct      %    accepted 1 to 100; a fraction in the equation
//	R  OvenCheck.Ratio         g/g  accepted 1 to 40, published 3 to 25
//	λ  OvenCheck.LiquidGPerG   g/g  accepted 0 to 3.5, no more than R + E
//	v  OvenCheck.VolatilesPct  %    accepted 0 to 5; a fraction in the equation
//
// Outside, it returns 0 and an [*InputError].
//
// Source: Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021, eq. 22
// (quoted).
func OvenApparentYield(in OvenCheck) (float64, error) {
	bad := fault.Float(nil, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	bad = fault.Float(bad, "Ratio", in.Ratio, 1, MaxRatio, "g/g")
	most := 3.5
	if bad == nil {
		most = min(most, in.Ratio+in.YieldPct/100)
	}
	bad = fault.Float(bad, "LiquidGPerG", in.LiquidGPerG, 0, most, "g/g")
	bad = fault.Float(bad, "VolatilesPct", in.VolatilesPct, 0, 5, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	e := in.YieldPct / 100
	return 100*e*(1-in.LiquidGPerG/(in.Ratio+e)) + in.VolatilesPct, nil
}
