package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The latent heat of water in parchment coffee. Trejos, Roa & Oliveros,
// Cenicafé 40(1), 1989, eq. 6; quoted by thesis research notes. A later paper
// prints B as 21.5011, which moves the excess by 1.3 % at X = 0.12.
const (
	LatentKJPerKg     = 2502.4  // latent heat of free water at 0 °C, kJ/kg
	LatentKJPerKgPerC = 2.4295  // its fall with temperature, kJ/(kg·°C)
	BoundFactor       = 1.44408 // A, pure number
	BoundExponent     = 21.6011 // B, per kg of water per kg of dry matter
)

// Heat is what HeatOfSorption found.
type Heat struct {
	TotalKJPerKg float64 // heat to evaporate a little water from the bean, kJ/kg
	NetKJPerKg   float64 // its excess over free water, the net isosteric heat, kJ/kg
	Notes        Notes   // what to tell the reader beside the numbers
}

// HeatOfSorption returns the heat that binds water to coffee at a content: the
// drier the bean, the harder its water is held.
//
//	L₀ = 2502.4 − 2.4295·t
//	L  = L₀·[1 + A·exp(−B·X)]
//	q  = L − L₀
//
//	X  bean.MoisturePct   % wet basis  accepted 0.5 to 80, taken to a dry-basis fraction
//	t  bean.TempC         °C           accepted 0 to 70, published 10 to 55
//	L  Heat.TotalKJPerKg  kJ/kg
//	q  Heat.NetKJPerKg    kJ/kg
//	A, B  BoundFactor, BoundExponent
//
// Outside 4.8 to 25.2 % dry basis or the published temperatures it carries
// [Extrapolated], always [ParchmentDesorption]. Outside the accepted ranges,
// and for NaN, it returns the zero Heat and an [*InputError].
//
// Abstracts on hulled arabica give 4042 kJ/kg at X = 0.019 and 2395 at 0.253
// in adsorption: the order is right, the dry end uncertain by a quarter.
//
// Source: Trejos, Roa & Oliveros, Cenicafé 40(1):5–15, 1989, eq. 6; quoted.
func HeatOfSorption(bean Bean) (Heat, error) {
	bad := fault.Float(nil, "MoisturePct", bean.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Float(bad, "TempC", bean.TempC, BeanMinC, BeanMaxC, "°C")
	if err := fault.Input(bad); err != nil {
		return Heat{}, err
	}
	x := dryFromWet(bean.MoisturePct)
	net := netHeat(x, bean.TempC)
	h := Heat{TotalKJPerKg: freeHeat(bean.TempC) + net, NetKJPerKg: net, Notes: ParchmentDesorption}
	if x < 4.8 || x > 25.2 || bean.TempC < 10 || bean.TempC > 55 {
		h.Notes |= Extrapolated
	}
	return h, nil
}

// SealedSample is a sample whose activity was read at one temperature and is
// wanted at another, nothing having got out. The zero SealedSample is refused.
type SealedSample struct {
	Aw          float64 // activity read, 0 to 1
	MoisturePct float64 // content, % wet basis
	FromC       float64 // temperature of the reading, °C
	ToC         float64 // temperature wanted, °C
}

// Carried is what CarryActivity found.
type Carried struct {
	Aw         float64 // activity at the second temperature
	NetKJPerKg float64 // net isosteric heat used, kJ/kg
	Notes      Notes   // what to tell the reader beside the numbers
}

// CarryActivity returns the activity of a sealed sample at another
// temperature. Warming raises it, about 0.003 per kelvin near 12 %: a reading
// at 25 °C is not the lot's activity in a store at 18 °C.
//
//	a₂ = a₁·exp[(q/R_w)·(1/T₁ − 1/T₂)]
//
//	a₁   SealedSample.Aw           accepted 0.01 to 1
//	M    SealedSample.MoisturePct  % wet basis  accepted 0.5 to 80
//	T₁   SealedSample.FromC        °C  accepted 0 to 70, in K
//	T₂   SealedSample.ToC          °C  accepted 0 to 70, in K
//	q    [HeatOfSorption] at the mean temperature, kJ/kg
//	R_w  0.46152 kJ/(kg·K), VapourGasConstant
//	a₂   Carried.Aw
//
// Notes are those of HeatOfSorption. Outside the accepted ranges, and for NaN,
// it returns the zero Carried and an [*InputError]; an activity above 1 gives
// an [*ImpossibleError].
//
// Source: Clausius–Clapeyron, with q of Trejos, Roa & Oliveros 1989, eq. 6.
func CarryActivity(s SealedSample) (Carried, error) {
	bad := fault.Float(nil, "Aw", s.Aw, MinAw, MaxAw, "")
	bad = fault.Float(bad, "MoisturePct", s.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Float(bad, "FromC", s.FromC, BeanMinC, BeanMaxC, "°C")
	bad = fault.Float(bad, "ToC", s.ToC, BeanMinC, BeanMaxC, "°C")
	if err := fault.Input(bad); err != nil {
		return Carried{}, err
	}
	net, ln := s.rise(s.ToC)
	a := s.Aw * math.Exp(ln)
	if a > MaxAw {
		most := num.Furthest(s.FromC, s.ToC, func(c float64) bool {
			_, ln := s.rise(c)
			return s.Aw*math.Exp(ln) <= MaxAw
		})
		return Carried{}, &ImpossibleError{Quantity: "activity", Why: "it would pass 1 at the second temperature",
			Field: "ToC", Given: fault.Shortest(s.ToC), Min: BeanMinC, Max: most, Unit: "°C"}
	}
	h, err := HeatOfSorption(Bean{s.MoisturePct, (s.FromC + s.ToC) / 2}) // for its notes
	if err != nil {
		return Carried{}, err
	}
	return Carried{Aw: a, NetKJPerKg: net, Notes: h.Notes}, nil
}

// rise is the net isosteric heat, kJ/kg, and ln(a₂/a₁) at a temperature in °C.
func (s SealedSample) rise(toC float64) (net, ln float64) {
	net = netHeat(dryFromWet(s.MoisturePct), (s.FromC+toC)/2)
	return net, 1000 * net / VapourGasConstant * (1/(s.FromC+zeroCInKelvin) - 1/(toC+zeroCInKelvin))
}

// netHeat is q, kJ/kg, at X in % dry basis.
func netHeat(x, tempC float64) float64 {
	return freeHeat(tempC) * BoundFactor * math.Exp(-BoundExponent*x/100)
}

// freeHeat is L₀, kJ/kg.
func freeHeat(tempC float64) float64 { return LatentKJPerKg - LatentKJPerKgPerC*tempC }
