package degas

import "example.org/evenlot/internal/fault"

// ReleaseML returns the carbon dioxide that coffee gives off from an age on, as
// a function of the days since then: what a bag that is followed through its
// life takes (headspace.Release).
//
//	Q(t) = m·M0·(L(t₁) − L(t₁ + t))·v
//
//	m      coffeeG    g      accepted 0.01 to 1e9
//	M0, L  c          mg/g, share left
//	t₁     fromDays   days   accepted 0 to MaxDays
//	v      by [CO2MLPerG], here mL/mg
//	t      argument   days   0 or more: not checked, since it is called thousands of times
//	Q      result     mL at the conditions stated
//
// The checks are made once, here. Bad fields are refused together with an
// [*InputError], and the function beside it is nil.
//
// Source: mass balance and ideal gas law.
func ReleaseML(coffeeG float64, c Coffee, fromDays float64, at Conditions) (func(days float64) float64, error) {
	bad := fault.Float(nil, "coffeeG", coffeeG, 0.01, 1e9, "g")
	bad = c.check(bad)
	bad = fault.Float(bad, "fromDays", fromDays, 0, MaxDays, "days")
	if err := fault.Input(at.check(bad)); err != nil {
		return nil, err
	}
	all := coffeeG * c.GasMgPerG * mlPerMg(at.TempC, at.PressureKPa)
	left, gone := c.Curve.share(fromDays)
	return func(days float64) float64 {
		l, g := c.Curve.share(fromDays + days)
		if gone < 0.5 { // the difference of the smaller shares keeps its digits
			return all * (g - gone)
		}
		return all * (left - l)
	}, nil
}
