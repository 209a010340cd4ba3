package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Particle densities of whole roasted beans: mass over the volume inside the
// bean's outline without the pores that are open to the air. Never use a bulk
// density in their place: the gaps between beans are headspace.
//
// They were reduced by us from the raw masses and pressures of an open
// gas-pycnometry data set (18 bags; repeated trials of one bag spread by 0.003
// to 0.009 g/mL). Its author sorts bags from dark to light by this density;
// the three roast words are ours. A displacement weighing of your own beans
// is better: see [BeanDensity].
const (
	BeanDarkGPerML   = 0.66 // g/mL, the middle of 0.62 to 0.71
	BeanMediumGPerML = 0.80 // g/mL, the mean of all 18 bags
	BeanLightGPerML  = 0.90 // g/mL, the middle of 0.86 to 0.94
	BeanMinGPerML    = 0.62 // g/mL, the lowest bag of that set
	BeanMaxGPerML    = 0.94 // g/mL, the highest bag of that set
)

// A Fill is a filled and sealed bag.
//
// The zero Fill is refused.
type Fill struct {
	BagML      float64 // inside volume of the filled, sealed bag, mL
	CoffeeG    float64 // mass of whole beans, g
	BeanGPerML float64 // particle density of the bean, g/mL, not the bulk density
}

// Free is the gas space of a bag.
type Free struct {
	FreeML     float64 // gas between and above the beans, mL
	BeanML     float64 // space that the beans take, mL
	FreePct    float64 // share of the bag that is gas, %
	FreeMLPerG float64 // gas for each gram of coffee, mL/g
	Notes      Notes
}

// FreeVolume returns the headspace of a filled bag: all gas between and above
// the beans.
//
//	V_h = V_bag − m/ρ
//
//	V_bag  BagML       mL    accepted 10 to 200 000
//	m      CoffeeG     g     accepted 1 to 100 000
//	ρ      BeanGPerML  g/mL  accepted 0.5 to 1.5, published 0.62 to 0.94
//	V_h    FreeML      mL
//
// Beans that fill the whole bag leave no headspace: that is an
// [*ImpossibleError]. A density outside the published range carries
// [UnusualDensity]; a bulk density, 0.3 to 0.45 g/mL, is refused.
//
// An error of 0.05 g/mL in the density is about 6 % of the bean volume. Pores
// inside the beans are not counted: see [PoreVolume].
//
// Source: definition.
func FreeVolume(fill Fill) (Free, error) {
	bad := fault.Float(nil, "BagML", fill.BagML, 10, 200_000, "mL")
	bad = fault.Float(bad, "CoffeeG", fill.CoffeeG, 1, 100_000, "g")
	bad = beanDensity(bad, fill.BeanGPerML)
	if bad != nil {
		return Free{}, fault.Input(bad)
	}
	beans := fill.CoffeeG / fill.BeanGPerML
	if !(beans < fill.BagML) {
		return Free{}, &ImpossibleError{
			Quantity: "headspace", Why: "the beans alone fill the bag",
			Field: "CoffeeG", Given: fault.Shortest(fill.CoffeeG),
			Min: 1, Max: num.Inside(fill.BagML*fill.BeanGPerML, 1, func(g float64) bool { return g/fill.BeanGPerML < fill.BagML }), Unit: "g",
		}
	}
	free := fill.BagML - beans
	f := Free{
		FreeML:     free,
		BeanML:     beans,
		FreePct:    100 * free / fill.BagML,
		FreeMLPerG: free / fill.CoffeeG,
	}
	if fill.BeanGPerML < BeanMinGPerML || fill.BeanGPerML > BeanMaxGPerML {
		f.Notes |= UnusualDensity
	}
	return f, nil
}

// beanDensity refuses what is no particle density of coffee.
func beanDensity(bad []*FieldError, v float64) []*FieldError {
	n := len(bad)
	bad = fault.Float(bad, "BeanGPerML", v, 0.5, 1.5, "g/mL")
	if len(bad) > n && v > 0 && v < 0.5 {
		bad[n].Why = "a bulk density, below 0.5 g/mL, already holds the gaps"
	}
	return bad
}

// Robin's approximation for a sealed flat bag and what is proven about it.
const (
	PillowEnd          = 0.142  // coefficient of the end correction, a pure number
	PillowSquareBest   = 0.2055 // volume of the best square bag constructed, in w³
	PillowSquareUpper  = 0.217  // proven upper bound of the square bag, in w³
	pillowSquareRobin  = 1/math.Pi - PillowEnd*0.9
	pillowUpperPerItem = PillowSquareUpper / pillowSquareRobin
)

// A Pillow is an empty, flat, sealed bag, measured inside the seals.
//
// The zero Pillow is refused.
type Pillow struct {
	WidthMM  float64 // the shorter inside side, mm
	HeightMM float64 // the longer inside side, mm
}

// PillowVolume is the most that a flat bag can hold.
type PillowVolume struct {
	BagML  float64 // volume by the approximation, mL
	HighML float64 // the volume, were the approximation as low as it can be for a square bag, mL
}

// PillowBag returns the largest volume of a flat pillow bag.
//
//	V = w³·(h/(π·w) − 0.142·(1 − 10^(−h/w)))
//
//	w  WidthMM   mm  accepted 20 to 2000
//	h  HeightMM  mm  accepted WidthMM to 5000
//	V  BagML     mL
//
// The bag is taken as inextensible and blown up full; a bag on a shelf is
// slacker. For the square bag, the only shape with proven limits, the
// approximation gives 0.191 w³ where 0.2055 w³ has been built and 0.217 w³
// cannot be passed: it is 7 % to 14 % low. HighML is 14 % above BagML. For a
// bag with gussets or a block bottom no formula is published: fill it with
// water (see [WaterFilled]).
//
// Source: Robin, Paper bag problem, Mathematics Today, 2004, as given by
// Wikipedia; opened.
func PillowBag(p Pillow) (PillowVolume, error) {
	bad := fault.Float(nil, "WidthMM", p.WidthMM, 20, 2000, "mm")
	n := len(bad)
	bad = fault.Float(bad, "HeightMM", p.HeightMM, 20, 5000, "mm")
	if len(bad) == 0 && p.HeightMM < p.WidthMM {
		bad = fault.Float(bad, "HeightMM", p.HeightMM, p.WidthMM, 5000, "mm")
		bad[n].Why = "the width is the shorter side"
	}
	if bad != nil {
		return PillowVolume{}, fault.Input(bad)
	}
	w, r := p.WidthMM, p.HeightMM/p.WidthMM
	v := w * w * w * (r/math.Pi + PillowEnd*math.Expm1(-r*math.Ln10)) / 1000
	return PillowVolume{BagML: v, HighML: v * pillowUpperPerItem}, nil
}

// WaterDensity returns the density of air-free water, g/mL, at 0 to 40 °C.
//
//	ρ = a_5·(1 − (t + a_1)²·(t + a_2)/(a_3·(t + a_4)))
//
//	t  tempC  °C  accepted 0 to 40
//
// Within 1e-6 g/mL over the range.
//
// Source: Tanaka and others, Recommended table for the density of water
// between 0 °C and 40 °C, Metrologia 38, 2001; coefficients from memory.
func WaterDensity(tempC float64) (float64, error) {
	if bad := fault.Float(nil, "tempC", tempC, 0, 40, "°C"); bad != nil {
		return 0, fault.Input(bad)
	}
	return waterGPerML(tempC), nil
}

func waterGPerML(t float64) float64 {
	const a1, a2, a3, a4, a5 = -3.983035, 301.797, 522528.9, 69.34881, 0.999974950
	return a5 * (1 - (t+a1)*(t+a1)*(t+a2)/(a3*(t+a4)))
}

// A WaterFill is a bag weighed empty and filled with water.
//
// The zero WaterFill is refused.
type WaterFill struct {
	EmptyG  float64 // empty bag, g
	FilledG float64 // bag full of water to the seal, g
	TempC   float64 // temperature of the water, °C
}

// WaterFilled returns the volume of a bag from its fill of water, mL: the
// best measure of a bag of any shape.
//
//	V = (m_2 − m_1)/ρ_w
//
//	m_1  EmptyG   g   accepted 0 to 10 000
//	m_2  FilledG  g   accepted 10 to 200 000, above EmptyG by 10 or more
//	t    TempC    °C  accepted 0 to 40
//
// The lift of air, about 0.1 %, is neglected: the bag stretches by more.
//
// Source: definition, with the density of water of [WaterDensity].
func WaterFilled(w WaterFill) (float64, error) {
	bad := fault.Float(nil, "EmptyG", w.EmptyG, 0, 10_000, "g")
	n := len(bad)
	bad = fault.Float(bad, "FilledG", w.FilledG, 10, 200_000, "g")
	if len(bad) == 0 && w.FilledG < w.EmptyG+10 {
		bad = fault.Float(bad, "FilledG", w.FilledG, w.EmptyG+10, 200_000, "g")
		bad[n].Why = "the water weighs at least 10 g"
	}
	bad = fault.Float(bad, "TempC", w.TempC, 0, 40, "°C")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return (w.FilledG - w.EmptyG) / waterGPerML(w.TempC), nil
}

// A Displacement is the weighing of beans in a vessel that is topped up with
// a liquid or with fine seed.
//
// The zero Displacement is refused. ScaleG is truly zero when zero.
type Displacement struct {
	BeansG       float64 // beans alone, g
	VesselG      float64 // vessel full of the medium, without beans, g
	TogetherG    float64 // vessel with the beans, topped up with the medium, g
	MediumGPerML float64 // density of the liquid, or bulk density of the seed, g/mL
	ScaleG       float64 // standard uncertainty of each of the three weighings, g
}

// Density is a particle density from a displacement weighing.
type Density struct {
	BeanGPerML        float64 // particle density, g/mL
	UncertaintyGPerML float64 // its standard uncertainty from the scale alone, g/mL
	BeanML            float64 // volume displaced, mL
	Notes             Notes
}

// BeanDensity returns the particle density of beans from a displacement
// weighing.
//
//	V = (m + m_1 − m_2)/ρ_m
//	ρ = m/V
//
//	m    BeansG        g     accepted 1 to 10 000
//	m_1  VesselG       g     accepted 1 to 50 000
//	m_2  TogetherG     g     accepted 1 to 50 000
//	ρ_m  MediumGPerML  g/mL  accepted 0.3 to 2
//	     ScaleG        g     accepted 0 to 10
//
// A density outside 0.3 to 2 g/mL is an [*ImpossibleError] of TogetherG.
// Beans drink water: weigh within a minute, or use fine seed as the medium.
// The uncertainty is that of the scale; a second filling shows the larger one
// of the packing. Outside 0.62 to 0.94 g/mL the answer carries
// [UnusualDensity].
//
// Source: definition (pycnometer weighing).
func BeanDensity(d Displacement) (Density, error) {
	bad := fault.Float(nil, "BeansG", d.BeansG, 1, 10_000, "g")
	bad = fault.Float(bad, "VesselG", d.VesselG, 1, 50_000, "g")
	bad = fault.Float(bad, "TogetherG", d.TogetherG, 1, 50_000, "g")
	bad = fault.Float(bad, "MediumGPerML", d.MediumGPerML, 0.3, 2, "g/mL")
	bad = fault.Float(bad, "ScaleG", d.ScaleG, 0, 10, "g")
	if bad != nil {
		return Density{}, fault.Input(bad)
	}
	gap, rho := d.displaced(d.TogetherG)
	if !(rho >= 0.3 && rho <= 2) { // a gap of nothing, or less, too
		// A weight like the vessel's makes the beans as dense as the medium: that is in.
		end := func(g float64) float64 {
			return num.Inside(math.Max(1, math.Min(g, 50_000)), d.VesselG, func(g float64) bool {
				_, rho := d.displaced(g)
				return rho >= 0.3 && rho <= 2
			})
		}
		return Density{}, &ImpossibleError{
			Quantity: "particle density", Why: "the weighings give a density outside 0.3 to 2 g/mL",
			Field: "TogetherG", Given: fault.Shortest(d.TogetherG), Unit: "g",
			Min: end(d.BeansG + d.VesselG - d.BeansG*d.MediumGPerML/0.3),
			Max: end(d.BeansG + d.VesselG - d.BeansG*d.MediumGPerML/2),
		}
	}
	byBeans := (d.VesselG - d.TogetherG) / gap / gap // of ρ/ρ_m, by each weighing
	byVessel := d.BeansG / gap / gap
	r := Density{
		BeanGPerML:        rho,
		UncertaintyGPerML: d.MediumGPerML * d.ScaleG * math.Sqrt(byBeans*byBeans+2*byVessel*byVessel),
		BeanML:            gap / d.MediumGPerML,
	}
	if rho < BeanMinGPerML || rho > BeanMaxGPerML {
		r.Notes |= UnusualDensity
	}
	return r, nil
}

// displaced is the medium displaced, g, and the density of the beans, g/mL, when
// vessel and beans weigh so much. It comes to the medium's own to the last digit
// where the vessel weighs the same with and without them.
func (d Displacement) displaced(togetherG float64) (gap, rho float64) {
	gap = d.BeansG + (d.VesselG - togetherG)
	return gap, d.MediumGPerML * (d.BeansG / gap)
}

// A Heap is beans poured into a vessel.
//
// The zero Heap is refused.
type Heap struct {
	BulkGPerML float64 // bulk density, g/mL
	BeanGPerML float64 // particle density, g/mL
}

// VoidShare returns the share of a heap of beans that is gap, %.
//
//	ε = 100·(1 − ρ_b/ρ)
//
//	ρ_b  BulkGPerML  g/mL  accepted 0.1 to 1
//	ρ    BeanGPerML  g/mL  accepted 0.5 to 1.5, above BulkGPerML
//
// Roasted beans leave about 45 to 55 %: a bag that looks full is half gas.
//
// Source: definition.
func VoidShare(h Heap) (float64, error) {
	bad := fault.Float(nil, "BulkGPerML", h.BulkGPerML, 0.1, 1, "g/mL")
	n := len(bad)
	bad = beanDensity(bad, h.BeanGPerML)
	if len(bad) == 0 && h.BeanGPerML <= h.BulkGPerML {
		bad = fault.Float(bad, "BeanGPerML", h.BeanGPerML, math.Nextafter(h.BulkGPerML, 2), 1.5, "g/mL")
		bad[n].Why = "a bean is denser than its heap"
	}
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return 100 * (1 - h.BulkGPerML/h.BeanGPerML), nil
}

// Internal porosity of the bean: the share of its outline that is pore. The
// methods disagree because they see different pores. Source: Oliveros and
// others, Journal of Food Engineering, 2017 (electron microscopy), abstract
// opened; mercury porosimetry gives about 50 %, from memory.
const (
	PorosityRoastedPct = 34.2 // % of the bean volume, by electron microscopy
	PorosityGreenPct   = 9.8  // % of the bean volume, by electron microscopy
)

// Pores are the pores inside the beans of a bag.
//
// The zero Pores is refused. PorosityPct is truly zero when zero.
type Pores struct {
	CoffeeG     float64 // mass of whole beans, g
	BeanGPerML  float64 // particle density, g/mL
	PorosityPct float64 // share of the bean volume that is pore, %
}

// PoreVolume returns the gas space inside the beans, mL: it is no part of the
// headspace, but beans that rested in air carry air in it.
//
//	V_p = (m/ρ)·ε/100
//
//	m  CoffeeG      g     accepted 1 to 100 000
//	ρ  BeanGPerML   g/mL  accepted 0.5 to 1.5
//	ε  PorosityPct  %     accepted 0 to 80
//
// Pores open to the air do not count as bean in a pycnometer: with a density
// measured so, part of the pores is in the headspace already and the two
// volumes overlap.
//
// Source: definition.
func PoreVolume(p Pores) (float64, error) {
	bad := fault.Float(nil, "CoffeeG", p.CoffeeG, 1, 100_000, "g")
	bad = beanDensity(bad, p.BeanGPerML)
	bad = fault.Float(bad, "PorosityPct", p.PorosityPct, 0, 80, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return p.CoffeeG / p.BeanGPerML * p.PorosityPct / 100, nil
}

// Evening is a headspace and the pores that give their gas to it.
//
// The zero Evening is refused. OxygenPct, PoreML and PorePct are truly zero
// when zero.
type Evening struct {
	FreeML    float64 // headspace, mL
	OxygenPct float64 // oxygen of the headspace, % by volume
	PoreML    float64 // gas space inside the beans, mL
	PorePct   float64 // oxygen of the pore gas, % by volume
}

// AfterEvening returns the oxygen once headspace and pores have evened out,
// %, nothing taken up: the reading that a perfect flush drifts to.
//
//	y = (V_h·y_h + V_p·y_p)/(V_h + V_p)
//
//	V_h  FreeML     mL  accepted 1 to 1e9
//	y_h  OxygenPct  %   accepted 0 to 100
//	V_p  PoreML     mL  accepted 0 to 1e9
//	y_p  PorePct    %   accepted 0 to 100
//
// Source: definition (mass balance).
func AfterEvening(e Evening) (float64, error) {
	bad := fault.Float(nil, "FreeML", e.FreeML, minFreeML, maxFreeML, "mL")
	bad = fault.Float(bad, "OxygenPct", e.OxygenPct, 0, 100, "%")
	bad = fault.Float(bad, "PoreML", e.PoreML, 0, maxFreeML, "mL")
	bad = fault.Float(bad, "PorePct", e.PorePct, 0, 100, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return blend(e.OxygenPct, e.PorePct, e.FreeML/(e.FreeML+e.PoreML)), nil
}
