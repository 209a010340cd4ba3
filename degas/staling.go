package degas

import (
	"math"
	"time"

	"example.org/evenlot/internal/fault"
)

// Kinetics of the shelf life of roasted and ground coffee, where half of the
// consumers reject it, as the abstract prints them.
//
// Source: Cardelli and Labuza, Application of Weibull hazard analysis to the
// determination of the shelf life of roasted and ground coffee, LWT 34, 273,
// 2001.
const (
	StalingOxygenLowKPa  = 0.5   // kPa of oxygen, lowest studied
	StalingOxygenHighKPa = 21.3  // kPa of oxygen, highest studied
	StalingOxygenFactor  = 20.0  // no unit; the rate between these two
	StalingAwLow         = 0.106 // water activity, lowest studied
	StalingAwHigh        = 0.408 // water activity, highest studied
	StalingAwFactor      = 1.6   // no unit; the rate for each 0.1 of water activity, printed as +60 %
	StalingLowC          = 4.0   // °C, lowest studied
	StalingHighC         = 35.0  // °C, highest studied
	StalingKJPerMol      = 13.0  // kJ/mol, activation energy of shelf life; of degassing it says nothing
	StalingRejectPct     = 50.0  // % of consumers who reject it at the end of the shelf life

	StalingTenDegreesLowPct  = 15.0 // %, rate increase for each 10 °C, as printed
	StalingTenDegreesHighPct = 23.0 // %, rate increase for each 10 °C, as printed
)

// StalingAwRise is the water activity above which staling is said to rise
// sharply; Labuza, quoted by an article of a testing laboratory, 2011. It is
// not in the kinetics here.
const StalingAwRise = 0.35 // water activity

// From its companion paper.
//
// Source: Cardelli and Labuza, Predicting algorithms for oxygen uptake and
// shelf life of dry foods and the application to coffee, about 2000.
const (
	CompanionOxygenLow  = 1.1  // no unit, least sensitivity factor for oxygen
	CompanionOxygenHigh = 10.5 // no unit, greatest
	CompanionAwLow      = 1.1  // no unit, least sensitivity factor for water activity
	CompanionAwHigh     = 1.6  // no unit, greatest
	CompanionQ10Low     = 1.1  // no unit, least factor for each 10 °C
	CompanionQ10High    = 1.2  // no unit, greatest
)

// StalingHalfRateKPa returns the oxygen pressure K at which the hyperbola of
// the oxygen term reaches half of its greatest rate.
//
//	f = p₂·(K + p₁)/(p₁·(K + p₂))    gives    K = p₁·p₂·(f − 1)/(p₂ − f·p₁)
//
//	p₁, p₂   StalingOxygenLowKPa, StalingOxygenHighKPa   kPa
//	f        StalingOxygenFactor                          –
//	K        17.9 kPa
//
// The hyperbola is the companion paper's form; its constant is ours, from the
// one ratio that is printed.
//
// Source: see [StalingOxygenLowKPa].
func StalingHalfRateKPa() float64 {
	return StalingOxygenLowKPa * StalingOxygenHighKPa * (StalingOxygenFactor - 1) /
		(StalingOxygenHighKPa - StalingOxygenFactor*StalingOxygenLowKPa)
}

// A Store is how ground coffee is kept. The zero Store is refused: no oxygen
// at all is outside every study.
type Store struct {
	OxygenKPa     float64 // partial pressure of oxygen, held constant, kPa; accepted 0.05 to 30, published 0.5 to 21.3; 1 % at one atmosphere is 1.01 kPa
	WaterActivity float64 // 0 to 1; accepted 0.05 to 0.6, published 0.106 to 0.408
	TempC         float64 // °C; accepted −25 to 45, published 4 to 35
}

func (s Store) check(bad []*FieldError, oxygen, aw, temp string) []*FieldError {
	bad = fault.Float(bad, oxygen, s.OxygenKPa, 0.05, 30, "kPa")
	bad = fault.Float(bad, aw, s.WaterActivity, 0.05, 0.6, "")
	return fault.Float(bad, temp, s.TempC, -25, 45, "°C")
}

func (s Store) outside() bool {
	return s.OxygenKPa < StalingOxygenLowKPa || s.OxygenKPa > StalingOxygenHighKPa ||
		s.WaterActivity < StalingAwLow || s.WaterActivity > StalingAwHigh ||
		s.TempC < StalingLowC || s.TempC > StalingHighC
}

// A Life is how long ground coffee keeps in one store against another. The
// zero Life stands beside an error only.
type Life struct {
	Factor            float64 // shelf life over that in the reference, no unit; 2 keeps twice as long
	OxygenFactor      float64 // what the oxygen does to it, no unit
	ActivityFactor    float64 // what the water does to it, no unit
	TemperatureFactor float64 // what the temperature does to it, no unit
	Notes             Notes
}

// RelativeLife returns how much longer roasted and ground coffee keeps in one
// store than in a reference.
//
//	life/life₀ = r₀/r,   r ∝ p/(K + p) · 1.6^(a_w/0.1) · exp(−Ea/(R·T))
//
//	p    OxygenKPa       kPa         accepted 0.05 to 30, published 0.5 to 21.3
//	a_w  WaterActivity   –           accepted 0.05 to 0.6, published 0.106 to 0.408
//	T    TempC           °C, then K  accepted −25 to 45, published 4 to 35
//	K    by [StalingHalfRateKPa]
//	Ea   StalingKJPerMol
//
// Every answer carries [GroundOnly]: it does not carry to whole beans, which
// hold their gas and their oxygen out for weeks. Outside the published range
// it carries [Extrapolated]. It holds for constant oxygen; in a closed bag the
// oxygen is used up. It is no number of days: for that see [BestBeforeDays].
// Bad fields are refused together, those of the reference as reference.…,
// with an [*InputError].
//
// The two papers give 10 to 20 % and 15 to 23 % more for each 10 °C; Q10 = 2,
// which tests in a hot box like to assume, promises several times too much.
//
// Source: see [StalingOxygenLowKPa] and [CompanionOxygenLow].
func RelativeLife(s, reference Store) (Life, error) {
	bad := s.check(nil, "OxygenKPa", "WaterActivity", "TempC")
	bad = reference.check(bad, "reference.OxygenKPa", "reference.WaterActivity", "reference.TempC")
	if err := fault.Input(bad); err != nil {
		return Life{}, err
	}
	return relativeLife(s, reference), nil
}

func relativeLife(s, reference Store) Life {
	k := StalingHalfRateKPa()
	oxygen := func(p float64) float64 { return p / (k + p) }
	l := Life{
		OxygenFactor:      oxygen(reference.OxygenKPa) / oxygen(s.OxygenKPa),
		ActivityFactor:    math.Pow(StalingAwFactor, (reference.WaterActivity-s.WaterActivity)/0.1),
		TemperatureFactor: arrhenius(StalingKJPerMol, s.TempC, reference.TempC),
		Notes:             GroundOnly,
	}
	l.Factor = l.OxygenFactor * l.ActivityFactor * l.TemperatureFactor
	if s.outside() || reference.outside() {
		l.Notes |= Extrapolated
	}
	return l
}

// An Anchor is the shelf life that the user has found for their own ground
// coffee, and the store where they found it. The zero Anchor is refused.
type Anchor struct {
	Days float64 // days until your own end point; accepted 1 to MaxDays
	Store
}

// BestBeforeDays returns how long ground coffee keeps in a store, from the
// user's own finding in another.
//
//	t = t₀·life/life₀
//
//	t₀   anchor.Days   days   accepted 1 to MaxDays
//	the rest as in [RelativeLife], with the anchor as its reference
//
// Without an anchor there is no answer in days: no published one carries to
// another coffee. Notes and refusals as in [RelativeLife]; more than MaxDays
// is an [*ImpossibleError].
//
// Source: see [RelativeLife].
func BestBeforeDays(anchor Anchor, store Store) (days float64, life Life, err error) {
	bad := fault.Float(nil, "Days", anchor.Days, 1, MaxDays, "days")
	bad = anchor.Store.check(bad, "OxygenKPa", "WaterActivity", "TempC")
	bad = store.check(bad, "store.OxygenKPa", "store.WaterActivity", "store.TempC")
	if err := fault.Input(bad); err != nil {
		return 0, Life{}, err
	}
	life = relativeLife(store, anchor.Store)
	if days = anchor.Days * life.Factor; days > MaxDays {
		return 0, Life{}, &ImpossibleError{Quantity: "best-before", Why: "it would be more than ten years, beyond any meaning",
			Field: "Days", Given: fault.Shortest(anchor.Days), Min: 1, Max: MaxDays / life.Factor, Unit: "days"}
	}
	return days, life, nil
}

// BestBefore returns the last whole day of a best-before in days from a
// packing time, in the packer's own calendar: a day that is not over counts as
// none.
//
//	packed   any instant; its location makes the calendar
//	days     days   accepted 1 to MaxDays, as by [BestBeforeDays]
//
// The answer is midnight at the beginning of that day, or the first instant of
// the day where midnight is skipped. Bad days are refused with an
// [*InputError].
//
// Source: definition.
func BestBefore(packed time.Time, days float64) (time.Time, error) {
	if err := fault.Input(fault.Float(nil, "days", days, 1, MaxDays, "days")); err != nil {
		return time.Time{}, err
	}
	y, m, d := packed.Date()
	return startOfDay(y, m, d+int(math.Floor(days)), packed.Location()), nil
}
