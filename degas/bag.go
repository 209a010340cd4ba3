package degas

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The opening pressure of the one-way valves on coffee bags, gauge.
//
// Common practice; a consumer article says "a few millibar". No measured value
// could be opened.
const (
	ValveLowKPa  = 0.2 // kPa gauge, 2 mbar
	ValveHighKPa = 1.0 // kPa gauge, 10 mbar
)

// A Bag is coffee sealed into a pack. SlackML makes the kind: a soft bag first
// swells at the pressure outside by its slack and then grows taut; a rigid
// pack has none. The zero Bag is refused.
type Bag struct {
	CoffeeG    float64 // g; accepted 1 to 1000000
	Coffee     Coffee
	SealedDays float64 // age of the coffee when it is sealed, days; accepted 0 to MaxDays
	GasML      float64 // gas in the pack when it is sealed, without the beans, mL; accepted 1 to 10000000
	SlackML    float64 // by how much it can swell before it is taut, mL; accepted 0 to 10000000; 0 truly is a rigid pack
	ValveKPa   float64 // opening pressure of its valve, kPa gauge; accepted 0 to 50; 0 truly is no valve
	TempC      float64 // °C; accepted MinTempC to MaxTempC
	OutsideKPa float64 // kPa absolute; accepted MinPressureKPa to 110
}

const (
	maxCoffeeG = 1e6
	maxSlackML = 1e7
)

func (b Bag) check() []*FieldError {
	bad := fault.Float(nil, "CoffeeG", b.CoffeeG, 1, maxCoffeeG, "g")
	bad = b.Coffee.check(bad)
	bad = fault.Float(bad, "SealedDays", b.SealedDays, 0, MaxDays, "days")
	bad = fault.Float(bad, "GasML", b.GasML, 1, 1e7, "mL")
	bad = fault.Float(bad, "SlackML", b.SlackML, 0, maxSlackML, "mL")
	bad = fault.Float(bad, "ValveKPa", b.ValveKPa, 0, 50, "kPa gauge")
	bad = fault.Float(bad, "TempC", b.TempC, MinTempC, MaxTempC, "°C")
	return fault.Float(bad, "OutsideKPa", b.OutsideKPa, MinPressureKPa, 110, "kPa absolute")
}

// evolvedML is the gas given off by days after sealing, mL at the bag's
// temperature and the pressure outside.
func (b Bag) evolvedML(days float64) float64 {
	return b.CoffeeG * b.Coffee.GasMgPerG * lost(b.Coffee.Curve, b.SealedDays, b.SealedDays+days) * mlPerMg(b.TempC, b.OutsideKPa)
}

// finalML is what is left in the coffee at sealing, as mL.
func (b Bag) finalML() float64 {
	left, _ := b.Coffee.Curve.share(b.SealedDays)
	return b.CoffeeG * b.Coffee.GasMgPerG * left * mlPerMg(b.TempC, b.OutsideKPa)
}

// state follows the evolved gas into volume and pressure.
func (b Bag) state(evolved float64) BagState {
	s := BagState{EvolvedML: evolved, GasML: b.GasML + math.Min(evolved, b.SlackML)}
	if evolved > b.SlackML {
		s.GaugeKPa = b.OutsideKPa * (evolved - b.SlackML) / s.GasML
	}
	if b.ValveKPa > 0 && s.GaugeKPa > b.ValveKPa {
		// What the pack holds at the valve's pressure stays; the rest is out.
		s.VentedML = evolved - b.SlackML - b.ValveKPa/b.OutsideKPa*s.GasML
		s.GaugeKPa = b.ValveKPa
	} else if s.GaugeKPa > 0 {
		s.Notes |= UpperBound
	}
	s.Notes |= b.Coffee.notes()
	return s
}

// A BagState is a pack at a time after sealing. The zero BagState stands
// beside an error only.
type BagState struct {
	EvolvedML float64 // gas given off since sealing, mL at the pack's temperature and the pressure outside
	GasML     float64 // gas volume in the pack, mL
	GaugeKPa  float64 // pressure over that outside, kPa
	VentedML  float64 // let out by the valve, mL at the pack's temperature and the pressure outside
	Notes     Notes
}

// BagAfter returns the pressure and volume of a pack some days after sealing.
//
//	V_e  = m·M0·(F(t_s + t) − F(t_s))·R·T/(P·M)          evolved
//	V    = V_g + min(V_e, V_s)                            volume of gas
//	p    = P·(V_e − V_s)/V         where V_e > V_s        over the pressure outside
//	p    = p_v, the rest vented    where p > p_v          with a valve
//
//	m     CoffeeG      g
//	M0, F Coffee       mg/g, fraction
//	t_s   SealedDays   days
//	t     days         days            accepted 0 to MaxDays − SealedDays
//	V_g   GasML        mL
//	V_s   SlackML      mL
//	p_v   ValveKPa     kPa gauge
//	T     TempC        °C, then K
//	P     OutsideKPa   kPa absolute
//
// Where pressure builds up the answer carries [UpperBound]: beans stop giving
// off gas at some pressure, which is not modelled. The bag does not stretch
// here and its gas has the temperature stated. Bad fields are refused together
// with an [*InputError].
//
// Safety: a rigid or taut pack of fresh coffee without a working valve can
// burst. The number is no pressure rating.
//
// Source: ideal gas law and mass balance; that release goes on only to a
// certain pressure: Gould 1912, quoted by Ukers, All About Coffee, 1922.
func BagAfter(b Bag, days float64) (BagState, error) {
	bad := b.check()
	most := float64(MaxDays)
	if bad == nil {
		most -= b.SealedDays
	}
	bad = fault.Float(bad, "days", days, 0, most, "days")
	if err := fault.Input(bad); err != nil {
		return BagState{}, err
	}
	return b.state(b.evolvedML(days)), nil
}

// BagPeak returns the pressure and volume of a pack when all the gas that is
// in the coffee at sealing has left it: the most that can come.
//
//	V_e = m·M0·L(t_s)·R·T/(P·M)        the rest as in [BagAfter]
//
// Bad fields are refused together with an [*InputError].
//
// Source: see [BagAfter].
func BagPeak(b Bag) (BagState, error) {
	if err := fault.Input(b.check()); err != nil {
		return BagState{}, err
	}
	return b.state(b.finalML()), nil
}

// DaysToGauge returns how long after sealing a pack reaches a pressure over
// that outside; with the valve's opening pressure, when the valve opens; with
// 0, when the bag is taut.
//
//	V_e(t) = V_s + p·(V_g + V_s)/P
//
//	p   gaugeKPa   kPa   accepted 0 to 700
//
// The valve itself is left out of it. The pressure is an upper bound, so that
// the time is a lower one. Bad fields are refused together with an
// [*InputError]; a pressure that all the gas cannot make is an
// [*ImpossibleError] that says which it can.
//
// Source: see [BagAfter].
func DaysToGauge(b Bag, gaugeKPa float64) (float64, error) {
	bad := fault.Float(b.check(), "gaugeKPa", gaugeKPa, 0, 700, "kPa gauge")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	need := func(slackML, kPa float64) float64 { return slackML + kPa*(b.GasML+slackML)/b.OutsideKPa }
	wanted := need(b.SlackML, gaugeKPa)
	if wanted <= 0 {
		return 0, nil
	}
	most := MaxDays - b.SealedDays
	all := b.evolvedML(most)
	if !(all >= wanted) {
		peak := b
		peak.ValveKPa = 0
		if s := peak.state(all); s.GaugeKPa > 0 {
			return 0, &ImpossibleError{Quantity: "time", Why: "all the gas in the coffee makes less pressure",
				Field: "gaugeKPa", Given: fault.Shortest(gaugeKPa), Min: 0,
				Max: num.Inside(s.GaugeKPa, 0, func(kPa float64) bool { return need(b.SlackML, kPa) <= all }), Unit: "kPa gauge"}
		}
		none := &ImpossibleError{Quantity: "time", Why: "the pack takes up all the gas in the coffee without growing taut",
			Field: "SlackML", Given: fault.Shortest(b.SlackML), Min: 0,
			Max: num.Inside((all-gaugeKPa*b.GasML/b.OutsideKPa)/(1+gaugeKPa/b.OutsideKPa), 0, func(mL float64) bool { return need(mL, gaugeKPa) <= all }), Unit: "mL"}
		if none.Max < 0 || need(0, gaugeKPa) > all { // even a taut pack: it takes more gas
			none.Field, none.Given, none.Unit = "Coffee.GasMgPerG", fault.Shortest(b.Coffee.GasMgPerG), "mg/g"
			none.Min, none.Max = b.Coffee.GasMgPerG*(wanted/all)*(1+1e-12), MaxGasMgPerG
			if none.Min > none.Max { // more than any coffee has
				none.Field, none.Given, none.Unit = "CoffeeG", fault.Shortest(b.CoffeeG), "g"
				none.Min, none.Max = b.CoffeeG*(wanted/all)*(1+1e-12), maxCoffeeG
			}
			if none.Min > none.Max { // nor is there so much coffee
				return 0, &ImpossibleError{Quantity: none.Quantity, Why: none.Why}
			}
		}
		return 0, none
	}
	days, _ := num.Root(func(t float64) float64 { return b.evolvedML(t) - wanted }, 0, most, 0)
	return days, nil
}

// HoldDays returns how old coffee must be before it is sealed into a pack
// without a valve, so that all the gas still in it never makes more than a
// pressure. SealedDays and ValveKPa of the bag do not count.
//
//	m·M0·L(t)·R·T/(P·M) = V_s + p·(V_g + V_s)/P
//
//	p   gaugeKPa   kPa gauge   accepted 0 to 700; 0 truly means that it only swells
//
// The answer is 0 where even coffee straight from the roaster may be sealed.
// Bad fields are refused together with an [*InputError]; a hold of more than
// MaxDays, or for less than MinLeftPct of the gas, is an [*ImpossibleError]
// that says which slack would do.
//
// Safety: see [BagAfter]. Holding open lets oxygen in; that is another chapter.
//
// Source: see [BagAfter].
func HoldDays(b Bag, gaugeKPa float64) (float64, error) {
	b.SealedDays, b.ValveKPa = 0, 0
	bad := fault.Float(b.check(), "gaugeKPa", gaugeKPa, 0, 700, "kPa gauge")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	room := func(slackML float64) float64 { return slackML + gaugeKPa*(b.GasML+slackML)/b.OutsideKPa }
	may, all := room(b.SlackML), b.finalML()
	if may >= all {
		return 0, nil
	}
	long := func(may float64) bool {
		return may < all && (may < all*MinLeftPct/100 || !(b.Coffee.Curve.reaches(may/all) <= MaxDays))
	}
	if long(may) {
		least, _ := b.Coffee.Curve.share(MaxDays)
		least = math.Max(least, MinLeftPct/100) * all
		rise := gaugeKPa / b.OutsideKPa
		none := &ImpossibleError{Quantity: "hold", Why: "the pack takes up almost none of the gas"}
		if long(room(maxSlackML)) { // nor does the slackest
			return 0, none
		}
		none.Field, none.Given, none.Unit = "SlackML", fault.Shortest(b.SlackML), "mL"
		none.Min, none.Max = num.Inside((least-rise*b.GasML)/(1+rise), maxSlackML, func(mL float64) bool { return !long(room(mL)) }), maxSlackML
		return 0, none
	}
	return b.Coffee.Curve.reaches(may / all), nil
}

// SlackMgPerG returns how much gas per gram of coffee a soft bag without a
// valve can still take before it is taut.
//
//	q = V_s/(m·v)
//
//	V_s   slackML   mL            accepted 0 to 10000000
//	m     coffeeG   g             accepted 1 to 1000000
//	v     by [CO2MLPerG] at the conditions stated, mL/g
//	q     result    mg/g
//
// Bad fields are refused together with an [*InputError].
//
// Source: ideal gas law.
func SlackMgPerG(slackML, coffeeG float64, at Conditions) (float64, error) {
	bad := fault.Float(nil, "slackML", slackML, 0, maxSlackML, "mL")
	bad = fault.Float(bad, "coffeeG", coffeeG, 1, 1e6, "g")
	if err := fault.Input(at.check(bad)); err != nil {
		return 0, err
	}
	return slackML / (coffeeG * mlPerMg(at.TempC, at.PressureKPa)), nil
}

// A Sweep is what the gas of the coffee does to the gas in a valved bag. The
// zero Sweep stands beside an error only.
type Sweep struct {
	CO2Pct    float64 // carbon dioxide in the bag's gas, %
	OxygenPct float64 // oxygen in it, %
}

// ValveSweep returns what is in the gas of a bag whose valve has let out as
// much as the coffee gave off, stirred all the while.
//
//	y    = 100·(1 − exp(−V_e/V_h))
//	y_O2 = y₀·exp(−V_e/V_h)
//
//	V_e  evolvedML   mL   accepted 0 to 10000000
//	V_h  gasML       mL   accepted 1 to 10000000, the gas volume of the full bag
//	y₀   oxygenPct   %    accepted 0 to 21, at sealing
//
// It shows that resting in the bag does not replace flushing: 80 % carbon
// dioxide leaves 4 % oxygen. Bad fields are refused together with an
// [*InputError].
//
// Source: mass balance of a stirred volume at constant pressure.
func ValveSweep(evolvedML, gasML, oxygenPct float64) (Sweep, error) {
	bad := fault.Float(nil, "evolvedML", evolvedML, 0, 1e7, "mL")
	bad = fault.Float(bad, "gasML", gasML, 1, 1e7, "mL")
	bad = fault.Float(bad, "oxygenPct", oxygenPct, 0, 21, "%")
	if err := fault.Input(bad); err != nil {
		return Sweep{}, err
	}
	x := evolvedML / gasML
	return Sweep{CO2Pct: -100 * math.Expm1(-x), OxygenPct: oxygenPct * math.Exp(-x)}, nil
}

// A SealedBin is a reading of the gas that coffee gives off into a closed bin
// of known volume. The zero SealedBin is refused.
type SealedBin struct {
	BinML      float64 // V_b, volume of the empty bin, mL; accepted 10 to 10000000
	SolidML    float64 // V_f, volume of the coffee itself, mL; accepted 0 to less than BinML
	StartKPa   float64 // P_s, kPa absolute when it was closed; accepted MinPressureKPa to 110
	StartC     float64 // T_s, °C then; accepted MinTempC to MaxTempC
	OutsideKPa float64 // P_u, kPa absolute when it is read; accepted MinPressureKPa to 110
	GaugeKPa   float64 // P_i, kPa over that outside; accepted −50 to 700
	TempC      float64 // T_i, °C then; accepted MinTempC to MaxTempC
	CoffeeG    float64 // G_f, g; accepted 1 to 1000000
}

// SealedBinMLPerG returns the gas that coffee gave off into a closed bin, in
// mL per g at 0 °C and one atmosphere.
//
//	V = (V_b − V_f)·((P_u + P_i)/P_n·T_n/T_i − P_s/P_n·T_n/T_s)/G_f
//
//	P_n, T_n   AtmosphereKPa, 0 °C; temperatures as K
//
// Times 500 it is the printed form, in mL per 500 g. Bad fields are refused
// together with an [*InputError].
//
// Source: equation quoted by a physics forum thread of 2012 from a talk on
// equipment of 2008; it is the ideal gas law.
func SealedBinMLPerG(b SealedBin) (float64, error) {
	bad := fault.Float(nil, "BinML", b.BinML, 10, 1e7, "mL")
	top := 1e7 - 1
	if bad == nil {
		top = b.BinML - 1
	}
	bad = fault.Float(bad, "SolidML", b.SolidML, 0, top, "mL")
	bad = fault.Float(bad, "StartKPa", b.StartKPa, MinPressureKPa, 110, "kPa absolute")
	bad = fault.Float(bad, "StartC", b.StartC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "OutsideKPa", b.OutsideKPa, MinPressureKPa, 110, "kPa absolute")
	bad = fault.Float(bad, "GaugeKPa", b.GaugeKPa, -50, 700, "kPa gauge")
	bad = fault.Float(bad, "TempC", b.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "CoffeeG", b.CoffeeG, 1, 1e6, "g")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	now := (b.OutsideKPa + b.GaugeKPa) / AtmosphereKPa * ZeroC / (b.TempC + ZeroC)
	then := b.StartKPa / AtmosphereKPa * ZeroC / (b.StartC + ZeroC)
	return (b.BinML - b.SolidML) * (now - then) / b.CoffeeG, nil
}
