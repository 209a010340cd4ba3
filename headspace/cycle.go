package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// GasConstant is R, J/(mol·K), which is kPa·L/(mol·K). Source: SI,
// exact since 2019.
const GasConstant = 8.31446261815324

// ZeroCelsiusK is 0 °C in kelvin, exact by definition.
const ZeroCelsiusK = 273.15

// Cycles are evacuations that are each filled back with gas, or
// pressurisations that are each vented: the arithmetic is the same.
//
// The zero Cycles is refused.
type Cycles struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space, mL, rigid
	LowKPa    float64 // lower pressure of the cycle, kPa absolute
	HighKPa   float64 // upper pressure of the cycle, kPa absolute
	TempC     float64 // temperature, °C, for the amount of gas only
	Count     int     // number of cycles
}

// Cycled is what the cycles left and took.
type Cycled struct {
	OxygenPct float64 // oxygen, % by volume
	LeftPct   float64 // share of the start gas still there, %
	SupplyMol float64 // purge gas used, mol
	SupplyML  float64 // purge gas used, mL at TempC and HighKPa
	Notes     Notes
}

// AfterCycles returns the oxygen after j cycles between two absolute
// pressures. A vacuum purge starts at the upper pressure, a pressure purge at
// the lower one; both thin the start gas by the same share in each cycle.
//
//	y = y_n + (y_0 − y_n)·(P_L/P_H)^j
//	n = j·(P_H − P_L)·V_h/(R·T)
//
//	y_0  StartPct   %    accepted 0.5 to 100
//	y_n  SupplyPct  %    accepted 0 to 100
//	V_h  FreeML     mL   accepted 1 to 1e9
//	P_L  LowKPa     kPa  accepted 0.01 to 5000, absolute
//	P_H  HighKPa    kPa  accepted 1 to 5000, absolute, above LowKPa
//	T    TempC      °C   accepted −40 to 150
//	j    Count           accepted 0 to 1 000 000
//
// A gauge reading in place of an absolute pressure is the usual mistake: a
// vacuum gauge that shows −0.9 bar means 11 kPa absolute at sea level. Full
// mixing in each cycle, ideal gas, isothermal. The gas space must be rigid:
// a bag in a chamber between two pressures obeys it only while it cannot
// collapse.
//
// Source: Crowl and Louvar, Chemical Process Safety, inerting; KOSHA guide
// C-C-85, annex 2.
func AfterCycles(c Cycles) (Cycled, error) {
	bad := gasSpace(nil, c.StartPct, c.SupplyPct, c.FreeML)
	bad = pressures(bad, c.LowKPa, c.HighKPa)
	bad = fault.Float(bad, "TempC", c.TempC, -40, 150, "°C")
	bad = fault.Int(bad, "Count", c.Count, 0, maxCount, "cycles")
	if bad != nil {
		return Cycled{}, fault.Input(bad)
	}
	j := float64(c.Count)
	share := math.Exp(j * lnRatio(c.LowKPa, c.HighKPa))
	return Cycled{
		OxygenPct: blend(c.StartPct, c.SupplyPct, share),
		LeftPct:   100 * share,
		SupplyMol: j * amount(c.HighKPa-c.LowKPa, c.FreeML, c.TempC),
		SupplyML:  j * (c.HighKPa - c.LowKPa) / c.HighKPa * c.FreeML,
		Notes:     noBenefit(c.StartPct, c.SupplyPct),
	}, nil
}

// CycleTarget is a target to be reached by cycles between two pressures.
//
// The zero CycleTarget is refused.
type CycleTarget struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space, mL, rigid
	TargetPct float64 // oxygen to be reached, % by volume
	LowKPa    float64 // lower pressure of the cycle, kPa absolute
	HighKPa   float64 // upper pressure of the cycle, kPa absolute
}

// CyclesFor returns how many cycles reach a target, the inverse of
// [AfterCycles], rounded up to a whole cycle.
//
//	j = ln((y − y_n)/(y_0 − y_n)) / ln(P_L/P_H)
//
//	y  TargetPct  %  accepted 1e-6 to 100
//
// Other symbols as in [AfterCycles]. GasML of the result is at HighKPa. A
// target at or below the supply's own oxygen is an [*ImpossibleError].
//
// Source: Crowl and Louvar, Chemical Process Safety, inerting; KOSHA guide
// C-C-85, annex 2.
func CyclesFor(t CycleTarget) (FlushCount, error) {
	bad := target(nil, t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct)
	bad = pressures(bad, t.LowKPa, t.HighKPa)
	if bad != nil {
		return FlushCount{}, fault.Input(bad)
	}
	left, done, err := Target{t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct}.share("number of cycles")
	if err != nil {
		return FlushCount{}, Target{t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct}.counted(err, -lnRatio(t.LowKPa, t.HighKPa))
	}
	if done {
		return FlushCount{OxygenPct: t.StartPct, Notes: AlreadyThere}, nil
	}
	exact := math.Log(left) / lnRatio(t.LowKPa, t.HighKPa)
	if !(exact <= maxCount) {
		most := t.HighKPa + t.HighKPa*math.Expm1(math.Log(left)/maxCount)
		return FlushCount{}, &ImpossibleError{
			Quantity: "number of cycles", Why: "more than 1000000 cycles between pressures so close would be needed",
			Field: "LowKPa", Given: fault.Shortest(t.LowKPa),
			Min: 0.01, Max: num.Inside(most, 0.01, func(kPa float64) bool { return math.Log(left)/lnRatio(kPa, t.HighKPa) <= maxCount }), Unit: "kPa",
		}
	}
	n := whole(exact)
	y, err := AfterCycles(Cycles{t.StartPct, t.SupplyPct, t.FreeML, t.LowKPa, t.HighKPa, 20, n})
	if err != nil {
		return FlushCount{}, err
	}
	return FlushCount{Count: n, Exact: exact, GasML: y.SupplyML, OxygenPct: y.OxygenPct}, nil
}

// VacuumTarget is a target to be reached by a given number of cycles.
//
// The zero VacuumTarget is refused.
type VacuumTarget struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	TargetPct float64 // oxygen to be reached, % by volume
	HighKPa   float64 // upper pressure of the cycle, kPa absolute
	Count     int     // number of cycles
}

// Vacuum is the lower pressure that reaches a target.
type Vacuum struct {
	LowKPa float64 // lower pressure of the cycle, kPa absolute
	Notes  Notes
}

// VacuumFor returns the vacuum that reaches a target in a given number of
// cycles: the highest lower pressure that will do.
//
//	P_L = P_H·((y − y_n)/(y_0 − y_n))^(1/j)
//
//	j  Count  accepted 1 to 1000
//
// Other symbols as in [AfterCycles] and [CyclesFor]. The answer may be deeper
// than a pump can go: compare it with the pump's own figure.
//
// Source: Crowl and Louvar, Chemical Process Safety, inerting, solved for P_L.
func VacuumFor(t VacuumTarget) (Vacuum, error) {
	bad := fault.Float(nil, "StartPct", t.StartPct, minStartPct, 100, "%")
	bad = fault.Float(bad, "SupplyPct", t.SupplyPct, 0, 100, "%")
	bad = fault.Float(bad, "TargetPct", t.TargetPct, minTargetPct, 100, "%")
	bad = fault.Float(bad, "HighKPa", t.HighKPa, 1, 5000, "kPa")
	bad = fault.Int(bad, "Count", t.Count, 1, 1000, "cycles")
	if bad != nil {
		return Vacuum{}, fault.Input(bad)
	}
	left, done, err := Target{t.StartPct, t.SupplyPct, minFreeML, t.TargetPct}.share("vacuum")
	if err != nil {
		return Vacuum{}, err
	}
	if done {
		return Vacuum{LowKPa: t.HighKPa, Notes: AlreadyThere}, nil
	}
	return Vacuum{LowKPa: t.HighKPa * math.Exp(math.Log(left)/float64(t.Count))}, nil
}

// pressures refuses a cycle that does not go down.
func pressures(bad []*FieldError, low, high float64) []*FieldError {
	n := len(bad)
	bad = fault.Float(bad, "LowKPa", low, 0.01, 5000, "kPa")
	ok := len(bad) == n
	bad = fault.Float(bad, "HighKPa", high, 1, 5000, "kPa")
	if ok && len(bad) == n && !(low < high) {
		bad = fault.Float(bad, "LowKPa", low, 0.01, math.Nextafter(high, 0), "kPa")
		bad[n].Why = "below the higher pressure; both absolute"
	}
	return bad
}

// lnRatio is ln(low/high); of two that are close the quotient would lose what
// they differ by.
func lnRatio(low, high float64) float64 {
	if 2*low > high {
		return math.Log1p((low - high) / high)
	}
	return math.Log(low / high)
}

// amount is the ideal gas in a space, mol.
func amount(kPa, ml, tempC float64) float64 {
	return kPa * ml / (1000 * GasConstant * (tempC + ZeroCelsiusK))
}
