package brewratio

import (
	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// What the grounds keep: water poured less beverage received, per dose, g/g.
// The solids that went the other way are inside the figure, as a scale sees
// it.
const (
	// DripRetainedGPerG is for a filter that drained: the middle of 1.5
	// (brewing control chart, opened) to 2.5 (training lesson, opened); a
	// pressed home brew gave 2.08 (inputs opened). Common practice, weigh
	// your own with [RetainedByWeight].
	DripRetainedGPerG = 2.1

	// DripRetainedMinGPerG and DripRetainedMaxGPerG, g/g, are the ends of
	// what is published for drip: the chart's and the lesson's.
	DripRetainedMinGPerG = 1.5
	DripRetainedMaxGPerG = 2.5

	// ImmersionRetainedGPerG is for a slurry drained one or two minutes
	// through paper: 2.48 ± 0.19, counted as liquid (Liang, Chan &
	// Ristenpart, Scientific Reports 11:6904, 2021, quoted). Poured off
	// without a filter it is about 3.2 (home measurement, inputs opened).
	ImmersionRetainedGPerG = 2.48

	// MaxRetainedGPerG is the most that grounds are said to keep, g/g.
	MaxRetainedGPerG = 6
)

// Plan is a brew from tap to cup. Its masses balance to the last digit:
// BrewWaterG + BypassG = BeverageG + RetainedG.
type Plan struct {
	DoseG      decimal.Decimal // coffee, g
	BrewWaterG decimal.Decimal // water poured on the coffee, g
	BypassG    decimal.Decimal // water or ice added beside the coffee, g
	RetainedG  decimal.Decimal // what the grounds keep, g
	BrewedG    decimal.Decimal // what leaves the grounds, g
	BeverageG  decimal.Decimal // what is served: brewed and bypass, g
	Ratio      decimal.Decimal // all water per coffee, g/g
	BrewRatio  decimal.Decimal // water poured on the coffee per coffee, g/g
	ThinnedPct decimal.Decimal // strength served per strength brewed, %
	Notes      Notes           // [Unending], [UnusualRatio]
}

// Wanted is a beverage to be brewed. The zero Wanted is refused.
type Wanted struct {
	BeverageG     decimal.Decimal // what is to be served, g
	Ratio         decimal.Decimal // all water per coffee, g/g
	RetainedGPerG decimal.Decimal // what the grounds keep, g per g of dose
	BypassPct     decimal.Decimal // share of all water that goes beside the coffee, or is ice, %; 0 for none
}

// PlanBrew returns the dose and the water for a beverage: what the grounds keep
// has to be poured too.
//
//	D = B/(R − λ)    W = R·D    W_p = p·W/100
//	B_b = W − W_p − λ·D    thinned = 100·B_b/B
//
//	B    Wanted.BeverageG      g    accepted 0.1 to 4 000 000
//	R    Wanted.Ratio          g/g  accepted 0.5 to 40
//	λ    Wanted.RetainedGPerG  g/g  accepted 0 to 6; see [DripRetainedGPerG]
//	p    Wanted.BypassPct      %    accepted 0 to 90
//	D    Plan.DoseG            g, rounded to 12 places
//	W_p  Plan.BypassG          g, rounded to 12 places
//
// The plan's other masses are sums and products of these and exact, so that
// what went in comes out to the last digit; BeverageG is what this dose gives
// and may differ from the wish behind the 11th place. Bypass leaves the
// coffee's yield alone only if the coffee is still brewed with enough water:
// the brew's own ratio is in the plan.
//
// Ice is bypass: it melts and counts as water, all of it ([Melt] says whether
// the brew can melt it). Outside the ranges it returns the zero Plan and an
// [*InputError]; where the grounds would keep all that is poured on them, an
// [*ImpossibleError].
//
// Source: conservation of mass.
func PlanBrew(in Wanted) (Plan, error) {
	bad := fault.Decimal(nil, "BeverageG", in.BeverageG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	bad = fault.Decimal(bad, "RetainedGPerG", in.RetainedGPerG, 0, MaxRetainedGPerG, "g/g")
	bad = fault.Decimal(bad, "BypassPct", in.BypassPct, 0, 90, "%")
	if err := fault.Input(bad); err != nil {
		return Plan{}, err
	}
	onCoffee := in.Ratio.Mul(hundred().Sub(in.BypassPct)).Shift(-2) // g of brew water per g
	if !onCoffee.GreaterThan(in.RetainedGPerG) {
		return Plan{}, keepsAll(in.Ratio, in.RetainedGPerG, in.BypassPct)
	}
	dose, notes := quotient(in.BeverageG, in.Ratio.Sub(in.RetainedGPerG))
	return plan(dose, in.Ratio, in.RetainedGPerG, in.BypassPct, notes)
}

// plan fills in the balance from a dose.
func plan(dose, ratio, retained, bypassPct decimal.Decimal, notes Notes) (Plan, error) {
	p := Plan{DoseG: dose, Ratio: ratio, Notes: notes}
	water := dose.Mul(ratio)
	p.BypassG = water.Mul(bypassPct).Shift(-2).Round(QuotientPlacesCount)
	p.BrewWaterG = water.Sub(p.BypassG)
	p.RetainedG = dose.Mul(retained)
	p.BrewedG = p.BrewWaterG.Sub(p.RetainedG)
	p.BeverageG = p.BrewedG.Add(p.BypassG)
	if !p.BrewedG.IsPositive() { // to the last place that is kept
		return Plan{}, keepsAll(ratio, retained, bypassPct)
	}
	var n Notes
	p.BrewRatio, n = quotient(p.BrewWaterG, dose)
	p.Notes |= n
	p.ThinnedPct, n = quotient(p.BrewedG.Shift(2), p.BeverageG)
	p.Notes |= n
	if p.BrewRatio.LessThan(decimal.NewFromFloat(MinRatio)) { // never over MaxRatio: bypass only lowers it
		p.Notes |= UnusualRatio
	}
	return p, nil
}

// keepsAll names the ratio from which something runs through, to a thousandth,
// or where no ratio does, what the grounds may keep.
func keepsAll(ratio, retained, bypassPct decimal.Decimal) error {
	thousandth := decimal.New(1, -3)
	poured := hundred().Sub(bypassPct).Shift(-2)
	none := &ImpossibleError{Quantity: "brew", Why: "the grounds keep all the water that is poured on them",
		Field: "Ratio", Given: fault.Digits(ratio),
		Min: retained.DivRound(poured, 6).RoundCeil(3).Add(thousandth).InexactFloat64(), Max: MaxRatio, Unit: "g/g"}
	if none.Min > MaxRatio {
		none.Field, none.Given, none.Min = "RetainedGPerG", fault.Digits(retained), 0
		none.Max = ratio.Mul(poured).RoundFloor(3).Sub(thousandth).InexactFloat64()
	}
	return none
}

func hundred() decimal.Decimal { return decimal.New(100, 0) }

// DosePlan is a brew whose dose is given. The zero DosePlan is refused.
type DosePlan struct {
	DoseG         decimal.Decimal // coffee at hand, g
	Ratio         decimal.Decimal // all water per coffee, g/g
	RetainedGPerG decimal.Decimal // what the grounds keep, g per g of dose
	BypassPct     decimal.Decimal // share of all water that goes beside the coffee, or is ice, %
}

// PlanDose returns what a dose gives: [PlanBrew] from the other end.
//
//	W = R·D    B = (R − λ)·D
//
//	D  DosePlan.DoseG          g    accepted 0.1 to 100 000
//	R  DosePlan.Ratio          g/g  accepted 0.5 to 40
//	λ  DosePlan.RetainedGPerG  g/g  accepted 0 to 6
//	p  DosePlan.BypassPct      %    accepted 0 to 90
//
// Notes and refusals are those of [PlanBrew].
//
// Source: conservation of mass.
func PlanDose(in DosePlan) (Plan, error) {
	bad := fault.Decimal(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	bad = fault.Decimal(bad, "RetainedGPerG", in.RetainedGPerG, 0, MaxRetainedGPerG, "g/g")
	bad = fault.Decimal(bad, "BypassPct", in.BypassPct, 0, 90, "%")
	if err := fault.Input(bad); err != nil {
		return Plan{}, err
	}
	onCoffee := in.Ratio.Mul(hundred().Sub(in.BypassPct)).Shift(-2)
	if !onCoffee.GreaterThan(in.RetainedGPerG) {
		return Plan{}, keepsAll(in.Ratio, in.RetainedGPerG, in.BypassPct)
	}
	return plan(in.DoseG, in.Ratio, in.RetainedGPerG, in.BypassPct, 0)
}

// WeighedBrew is a finished brew on the scale. The zero WeighedBrew is
// refused.
type WeighedBrew struct {
	DoseG     decimal.Decimal // coffee, g
	WaterG    decimal.Decimal // water poured on it, g
	BeverageG decimal.Decimal // what came out, g
}

// Kept is what the grounds kept.
type Kept struct {
	RetainedGPerG decimal.Decimal // per gram of dose, g/g
	RetainedG     decimal.Decimal // in all, g, exact
	RetainedPct   decimal.Decimal // of the water poured, %
	Notes         Notes           // [Unending]
}

// RetainedByWeight returns what the grounds of a finished brew kept, to plan
// the next one with.
//
//	λ = (W − B)/D
//
//	D  WeighedBrew.DoseG      g    accepted 0.1 to 100 000
//	W  WeighedBrew.WaterG     g    accepted 0.1 to 4 000 000
//	B  WeighedBrew.BeverageG  g    accepted 0.1 to 4 000 000
//	λ  Kept.RetainedGPerG     g/g, rounded to 12 places
//
// Outside, it returns the zero Kept and an [*InputError]; where more came out
// than went in, an [*ImpossibleError]. Steam that left is counted as kept.
//
// Source: definition.
func RetainedByWeight(in WeighedBrew) (Kept, error) {
	bad := fault.Decimal(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "BeverageG", in.BeverageG, MinWaterG, MaxWaterG, "g")
	if err := fault.Input(bad); err != nil {
		return Kept{}, err
	}
	if in.BeverageG.GreaterThan(in.WaterG) {
		return Kept{}, &ImpossibleError{Quantity: "retained water", Why: "more came out than was poured in",
			Field: "BeverageG", Given: fault.Digits(in.BeverageG), Min: MinWaterG, Max: in.WaterG.InexactFloat64(), Unit: "g"}
	}
	k := Kept{RetainedG: in.WaterG.Sub(in.BeverageG)}
	var n Notes
	k.RetainedGPerG, k.Notes = quotient(k.RetainedG, in.DoseG)
	k.RetainedPct, n = quotient(k.RetainedG.Shift(2), in.WaterG)
	k.Notes |= n
	return k, nil
}

// Resize is a recipe to be made in another size. The zero Resize is refused.
type Resize struct {
	DoseG    decimal.Decimal // coffee of the recipe, g
	WaterG   decimal.Decimal // water of the recipe, g
	ToWaterG decimal.Decimal // water of the new size, g
}

// ScaleRecipe returns a recipe in another size. The ratio stays, and with it
// the strength, as far as grind, time and temperature make the coffee give
// the same yield; a deeper bed rarely does without a change of grind.
//
//	D₂ = D₁·W₂/W₁
//
//	D₁  Resize.DoseG     g  accepted 0.1 to 100 000
//	W₁  Resize.WaterG    g  accepted 0.1 to 4 000 000
//	W₂  Resize.ToWaterG  g  accepted 0.1 to 4 000 000
//	D₂  Brew.DoseG       g, rounded to 12 places
//
// Outside, it returns the zero Brew and an [*InputError].
//
// Source: proportion.
func ScaleRecipe(in Resize) (Brew, error) {
	bad := fault.Decimal(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "ToWaterG", in.ToWaterG, MinWaterG, MaxWaterG, "g")
	if err := fault.Input(bad); err != nil {
		return Brew{}, err
	}
	b := Brew{WaterG: in.ToWaterG}
	b.DoseG, b.Notes = quotient(in.DoseG.Mul(in.ToWaterG), in.WaterG)
	ratio, n := quotient(in.WaterG, in.DoseG)
	b.Ratio = ratio
	b.Notes |= n
	if fault.Decimal(nil, "", ratio, MinRatio, MaxRatio, "") != nil {
		b.Notes |= UnusualRatio
	}
	return b, nil
}

// Pouring is water to be poured in steps. The zero Pouring is refused.
type Pouring struct {
	WaterG    decimal.Decimal   // water in all, g
	StartG    decimal.Decimal   // what the scale shows before the first pour, g; 0 after zeroing
	DivisionG decimal.Decimal   // the step of the scale, g
	SharesPct []decimal.Decimal // the pours as shares of the water, %; they add up to 100
}

// Pour is one step.
type Pour struct {
	WaterG  decimal.Decimal // poured in this step, g
	ScaleG  decimal.Decimal // what the scale shows after it, g
	PouredG decimal.Decimal // poured so far, g
}

// Pours returns the pours of a brew with their running totals on the scale.
// They add up to the water, rounded once to the scale's division.
//
//	W    Pouring.WaterG     g  accepted 0.1 to 4 000 000
//	     Pouring.StartG     g  accepted 0 to 4 000 000
//	d    Pouring.DivisionG  g  accepted 0.0001 to 1000
//	s_i  Pouring.SharesPct  %  accepted 0 to 100 each, 1 to 100 of them, together 100
//
// Outside, it returns nil and an [*InputError]. Shares by [Parts].
//
// Source: method of largest remainders, see [Parts].
func Pours(in Pouring) ([]Pour, error) {
	bad := fault.Decimal(nil, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "StartG", in.StartG, 0, MaxWaterG, "g")
	bad = fault.Decimal(bad, "DivisionG", in.DivisionG, MinDivisionG, MaxDivisionG, "g")
	if bad = fault.Int(bad, "SharesPct", len(in.SharesPct), 1, 100, "pours"); len(in.SharesPct) <= 100 && len(in.SharesPct) > 0 {
		sum, before := decimal.Zero, len(bad)
		for i, s := range in.SharesPct {
			if bad = fault.Decimal(bad, "SharesPct["+decimal.NewFromInt(int64(i)).String()+"]", s, 0, 100, "%"); len(bad) == before {
				sum = sum.Add(s)
			}
		}
		if len(bad) == before && !sum.Equal(hundred()) {
			bad = append(bad, &FieldError{Field: "SharesPct", Given: fault.Digits(sum), Min: 100, Max: 100, Unit: "%", Why: "the pours together are the whole water"})
		}
	}
	if err := fault.Input(bad); err != nil {
		return nil, err
	}
	parts, err := Parts(Whole{MassG: in.WaterG, DivisionG: in.DivisionG, Shares: in.SharesPct})
	if err != nil {
		return nil, err
	}
	pours := make([]Pour, len(parts))
	so := decimal.Zero
	for i, p := range parts {
		so = so.Add(p)
		pours[i] = Pour{WaterG: p, PouredG: so, ScaleG: so.Add(in.StartG)}
	}
	return pours, nil
}

// What ice and water take to change, at one atmosphere.
const (
	// FusionJPerG is the heat that melts ice at 0 °C, J/g: CRC Handbook of
	// Chemistry and Physics (memory).
	FusionJPerG = 333.55

	// WaterJPerGPerK is the specific heat of liquid water between 0 and
	// 100 °C, J/(g·K), within 0.7 % (memory).
	WaterJPerGPerK = 4.19
)

// Iced is hot brew poured on ice at 0 °C. The zero Iced is refused.
type Iced struct {
	BrewG decimal.Decimal // hot brew, g
	TempC decimal.Decimal // its temperature when it meets the ice, °C
	IceG  decimal.Decimal // ice, g
}

// Melted is what becomes of the ice.
type Melted struct {
	MeltedG decimal.Decimal // ice that melts, g, rounded to 6 places
	LeftG   decimal.Decimal // ice that stays, g
	TempC   decimal.Decimal // temperature when it is over, °C, rounded to 2 places; 0 while ice is left
}

// Melt returns how much ice a hot brew can melt, and how cold it gets. Ice that
// is left is not water yet: the brew is stronger until it melts.
//
//	melts: min(I, B·c·t/L)
//	t'   = (B·c·t − I·L)/(c·(B + I)), when all melts
//
//	B  Iced.BrewG       g   accepted 0.1 to 4 000 000
//	t  Iced.TempC       °C  accepted 0 to 100
//	I  Iced.IceG        g   accepted 0 to 4 000 000
//	c  [WaterJPerGPerK]     L  [FusionJPerG]
//
// Outside, it returns the zero Melted and an [*InputError]. The vessel and the
// room are left out, and ice from a freezer takes 2.1 J/(g·K) more for each
// kelvin below zero: a cold glass leaves more ice, a warm room less.
//
// Source: conservation of energy.
func Melt(in Iced) (Melted, error) {
	bad := fault.Decimal(nil, "BrewG", in.BrewG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Decimal(bad, "IceG", in.IceG, 0, MaxWaterG, "g")
	if err := fault.Input(bad); err != nil {
		return Melted{}, err
	}
	c, l := decimal.NewFromFloat(WaterJPerGPerK), decimal.NewFromFloat(FusionJPerG)
	heat := in.BrewG.Mul(c).Mul(in.TempC)
	need := in.IceG.Mul(l)
	if need.GreaterThan(heat) {
		m := heat.DivRound(l, 6)
		return Melted{MeltedG: m, LeftG: in.IceG.Sub(m)}, nil
	}
	return Melted{MeltedG: in.IceG, TempC: heat.Sub(need).DivRound(c.Mul(in.BrewG.Add(in.IceG)), 2)}, nil
}
