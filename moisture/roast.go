package moisture

import (
	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// Accepted roast figures.
const (
	MinRoastedMoisturePct = 0.1 // least content of roasted coffee accepted, % wet basis
	MaxRoastedMoisturePct = 15  // greatest content of roasted coffee accepted, % wet basis
	MinRoastLossPct       = 1   // least total loss accepted, % of green mass: refuses a fraction
	MaxRoastLossPct       = 60  // greatest total loss accepted, % of green mass
)

// Roast is one batch, weighed before and after, with both contents. The zero
// Roast is refused.
type Roast struct {
	GreenKg            decimal.Decimal // green coffee charged, kg
	RoastedKg          decimal.Decimal // roasted coffee discharged, kg
	GreenMoisturePct   decimal.Decimal // content of the green, % wet basis
	RoastedMoisturePct decimal.Decimal // content of the roasted, % wet basis
}

func (r Roast) check() error {
	bad := fault.Decimal(nil, "GreenKg", r.GreenKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Decimal(bad, "RoastedKg", r.RoastedKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Decimal(bad, "GreenMoisturePct", r.GreenMoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Decimal(bad, "RoastedMoisturePct", r.RoastedMoisturePct, MinRoastedMoisturePct, MaxRoastedMoisturePct, "%")
	if err := fault.Input(bad); err != nil {
		return err
	}
	return lighter(r.GreenKg, r.RoastedKg, "RoastedKg")
}

// lighter refuses a batch that gained weight; the input calls it by name.
func lighter(green, roasted decimal.Decimal, name string) error {
	if roasted.LessThanOrEqual(green) {
		return nil
	}
	return &ImpossibleError{Quantity: "roast loss", Why: "the roasted coffee weighs more than the green",
		Field: name, Given: fault.Digits(roasted), Min: MinMassKg, Max: atMost(green), Unit: "kg"}
}

// Loss is what RoastLoss found. Water and organic loss add up to the total.
type Loss struct {
	TotalPct     decimal.Decimal // mass lost, % of green mass
	WaterPct     decimal.Decimal // water lost, % of green mass
	OrganicPct   decimal.Decimal // everything else lost, % of green mass
	DryMatterPct decimal.Decimal // everything else lost, % of green dry matter
	TotalKg      decimal.Decimal // mass lost, kg
	WaterKg      decimal.Decimal // water lost, kg
	OrganicKg    decimal.Decimal // everything else lost, kg
	Notes        Notes           // what to tell the reader beside the numbers
}

// RoastLoss splits what a batch lost in the roaster into water and dry matter.
//
//	ΔW = m_g·M_g/100 − m_r·M_r/100
//	ΔO = (m_g − m_r) − ΔW
//	d  = 100·ΔO / (m_g·(100 − M_g)/100)
//
//	m_g  Roast.GreenKg             kg           accepted 0.001 to 1e8
//	m_r  Roast.RoastedKg           kg           accepted 0.001 to m_g
//	M_g  Roast.GreenMoisturePct    % wet basis  accepted 0.5 to 80
//	M_r  Roast.RoastedMoisturePct  % wet basis  accepted 0.1 to 15
//	ΔW   Loss.WaterKg              kg
//	ΔO   Loss.OrganicKg            kg
//	d    Loss.DryMatterPct         % of green dry matter
//
// Masses are exact, percentages rounded to 9 places. A loss below zero is told
// by [OrganicGain] or [WaterGain]. Outside the accepted ranges it returns the
// zero Loss and an [*InputError]; roasted above green, an [*ImpossibleError].
//
// Subtracting the two moistures is the usual mistake: from 11 to 2 % at 15 %
// total loss the water is 9.3 % of the green mass, not 9. Reactions above
// about 180 °C form water that leaves too: this balance books it, and chaff
// and dust, as dry matter. Quench water that stayed is booked as moisture.
//
// Source: definition, conservation of mass.
func RoastLoss(r Roast) (Loss, error) {
	if err := r.check(); err != nil {
		return Loss{}, err
	}
	green := r.GreenKg
	l := Loss{TotalKg: green.Sub(r.RoastedKg)}
	l.WaterKg = green.Mul(r.GreenMoisturePct).Sub(r.RoastedKg.Mul(r.RoastedMoisturePct)).Shift(-2)
	l.OrganicKg = l.TotalKg.Sub(l.WaterKg)
	dry := green.Mul(hundred.Sub(r.GreenMoisturePct)) // 100 times
	l.TotalPct = l.TotalKg.Shift(2).DivRound(green, PctPlacesCount)
	l.WaterPct = l.WaterKg.Shift(2).DivRound(green, PctPlacesCount)
	l.OrganicPct = l.OrganicKg.Shift(2).DivRound(green, PctPlacesCount)
	l.DryMatterPct = l.OrganicKg.Shift(4).DivRound(dry, PctPlacesCount)
	if l.OrganicKg.IsNegative() {
		l.Notes |= OrganicGain
	}
	if l.WaterKg.IsNegative() {
		l.Notes |= WaterGain
	}
	return l, nil
}

// RoastPlan is what must come out of the roaster. The zero RoastPlan is
// refused; the last three fields may truly be zero.
type RoastPlan struct {
	RoastedKg     decimal.Decimal // roasted coffee to be packed, net, kg
	LossPct       decimal.Decimal // total loss expected, % of green mass
	OverfillPct   decimal.Decimal // given above the net weight, % of it
	HeldBackKg    decimal.Decimal // roasted coffee kept for samples and test cups, kg
	GreenSampleKg decimal.Decimal // green coffee kept back unroasted, kg
}

// Accepted extras of a plan.
const (
	MaxOverfillPct = 20  // greatest overfill accepted, % of net weight
	MaxHeldBackKg  = 1e6 // greatest mass kept back accepted, kg
)

// Charge is what GreenForRoasted found.
type Charge struct {
	GreenKg   decimal.Decimal // green coffee to weigh out, samples included, kg
	RoastedKg decimal.Decimal // roasted coffee that leaves the roaster, kg
}

// GreenForRoasted returns the green coffee to weigh out for a roasted target.
//
//	R = m·(1 + o/100) + h
//	G = R·100/(100 − L) + g
//
//	m  RoastPlan.RoastedKg      kg               accepted 0.001 to 1e8
//	L  RoastPlan.LossPct        % of green mass  accepted 1 to 60
//	o  RoastPlan.OverfillPct    % of m           accepted 0 to 20
//	h  RoastPlan.HeldBackKg     kg               accepted 0 to 1e6
//	g  RoastPlan.GreenSampleKg  kg               accepted 0 to 1e6
//	R  Charge.RoastedKg         kg, exact
//	G  Charge.GreenKg           kg, rounded to 9 places
//
// Outside, it returns the zero Charge and an [*InputError].
//
// The loss is taken of the green mass, so it is divided out, not added: 15 %
// loss needs 17.6 % more green than roasted.
//
// Source: definition, conservation of mass.
func GreenForRoasted(p RoastPlan) (Charge, error) {
	bad := fault.Decimal(nil, "RoastedKg", p.RoastedKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Decimal(bad, "LossPct", p.LossPct, MinRoastLossPct, MaxRoastLossPct, "%")
	bad = fault.Decimal(bad, "OverfillPct", p.OverfillPct, 0, MaxOverfillPct, "%")
	bad = fault.Decimal(bad, "HeldBackKg", p.HeldBackKg, 0, MaxHeldBackKg, "kg")
	bad = fault.Decimal(bad, "GreenSampleKg", p.GreenSampleKg, 0, MaxHeldBackKg, "kg")
	if err := fault.Input(bad); err != nil {
		return Charge{}, err
	}
	out := p.RoastedKg.Mul(hundred.Add(p.OverfillPct)).Shift(-2).Add(p.HeldBackKg)
	green := out.Shift(2).DivRound(hundred.Sub(p.LossPct), MassPlacesCount).Add(p.GreenSampleKg)
	return Charge{GreenKg: green, RoastedKg: out}, nil
}

// Batch is green coffee to be roasted. The zero Batch is refused.
type Batch struct {
	GreenKg decimal.Decimal // green coffee charged, kg
	LossPct decimal.Decimal // total loss expected, % of green mass
}

// RoastedMass returns the roasted coffee that a charge will give, in kg.
//
//	R = G·(100 − L)/100
//
//	G  Batch.GreenKg  kg               accepted 0.001 to 1e8
//	L  Batch.LossPct  % of green mass  accepted 1 to 60
//	R                 kg, exact
//
// Outside, it returns 0 and an [*InputError].
//
// Source: definition, conservation of mass.
func RoastedMass(b Batch) (roastedKg decimal.Decimal, err error) {
	bad := fault.Decimal(nil, "GreenKg", b.GreenKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Decimal(bad, "LossPct", b.LossPct, MinRoastLossPct, MaxRoastLossPct, "%")
	if err := fault.Input(bad); err != nil {
		return decimal.Decimal{}, err
	}
	return b.GreenKg.Mul(hundred.Sub(b.LossPct)).Shift(-2), nil
}
