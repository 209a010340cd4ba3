package headspace

import "example.org/evenlot/internal/fault"

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
			Min: 1, Max: fill.BagML * fill.BeanGPerML, Unit: "g",
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
