package headspace

import (
	"errors"
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// AirOxygenPct is the oxygen in dry air, % by volume. Humid air holds less:
// see [AirOxygen]. Source: The Engineering ToolBox, air composition; opened.
const AirOxygenPct = 20.946

// Limits of residual oxygen in a sealed bag of coffee, a convention of the
// trade and of no standard: below 2 % acceptable, under 1 % excellent. Common
// practice.
const (
	LimitOxygenPct     = 2.0 // %, the reading must be below it
	ExcellentOxygenPct = 1.0 // %, under it the bag is excellent
)

// Accepted limits that the purging functions share.
const (
	minStartPct  = 0.5 // a fraction, such as 0.209, falls outside
	maxGasML     = 1e12
	minFreeML    = 1 // litres in place of mL fall outside
	maxFreeML    = 1e9
	minTargetPct = 1e-6
	maxCount     = 1_000_000
)

// A Purge is a gas space and the gas fed into it.
//
// The zero Purge is refused: a gas space has a volume. SupplyPct and GasML are
// truly zero when zero.
type Purge struct {
	StartPct  float64 // oxygen before, % by volume; AirOxygenPct for air
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space, mL
	GasML     float64 // purge gas fed, mL at the temperature and pressure of the bag
}

// Purged is what purging left.
type Purged struct {
	OxygenPct float64 // mean oxygen of the gas space, % by volume
	LeftPct   float64 // share of the start gas still there, %
	GasML     float64 // purge gas fed, mL at the temperature and pressure of the bag
	Volumes   float64 // GasML as a multiple of the gas space, a pure number
	Notes     Notes
}

// A Target is a gas space and the oxygen that is to be reached.
//
// The zero Target is refused.
type Target struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space, mL
	TargetPct float64 // oxygen to be reached, % by volume
}

// Needed is the gas that reaches a target.
type Needed struct {
	GasML   float64 // purge gas, mL at the temperature and pressure of the bag
	Volumes float64 // GasML as a multiple of the gas space, a pure number
	Notes   Notes
}

// AfterSweep returns the oxygen left when gas flows through a space that is
// stirred all the time, as much leaving as enters.
//
//	y = y_n + (y_0 − y_n)·e^(−V/V_h)
//
//	y_0  StartPct   %   accepted 0.5 to 100
//	y_n  SupplyPct  %   accepted 0 to 100
//	V_h  FreeML     mL  accepted 1 to 1e9
//	V    GasML      mL  accepted 0 to 1e12
//
// Constant temperature and pressure. A real nozzle mixes less or loses gas to
// the outlet: see [AfterNozzle].
//
// Source: KOSHA guide C-C-85, annex 3; Crowl and Louvar, Chemical Process
// Safety, inerting.
func AfterSweep(p Purge) (Purged, error) {
	if err := p.check(); err != nil {
		return Purged{}, err
	}
	return p.left(math.Exp(-p.GasML / p.FreeML)), nil
}

// AfterPiston returns the mean oxygen of the space when the purge gas drives
// the old gas out before it without mixing: the best that flushing can do.
//
//	y = y_n + (y_0 − y_n)·max(0, 1 − V/V_h)
//
// Symbols and accepted ranges as in [AfterSweep].
//
// Source: KOSHA guide C-C-85, section 9.2 (siphon purging).
func AfterPiston(p Purge) (Purged, error) {
	if err := p.check(); err != nil {
		return Purged{}, err
	}
	return p.left(math.Max(0, 1-p.GasML/p.FreeML)), nil
}

// SweepFor returns the gas that brings a stirred space to a target, the
// inverse of [AfterSweep].
//
//	V = V_h·ln((y_0 − y_n)/(y − y_n))
//
//	y  TargetPct  %  accepted 1e-6 to 100
//
// Other symbols as in [AfterSweep]. A target at or below the supply's own
// oxygen is an [*ImpossibleError]; a start at or below the target needs no gas
// and carries [AlreadyThere].
//
// Source: KOSHA guide C-C-85, annex 3, equation 12.
func SweepFor(t Target) (Needed, error) {
	left, done, err := t.share("gas volume")
	if err != nil || done {
		return Needed{Notes: there(done)}, err
	}
	return t.gas(-math.Log(left)), nil
}

// PistonFor returns the gas that brings the mean oxygen to a target when
// nothing mixes, the inverse of [AfterPiston].
//
//	V = V_h·(1 − (y − y_n)/(y_0 − y_n))
//
// Symbols and refusals as in [SweepFor].
//
// Source: KOSHA guide C-C-85, section 9.2 (siphon purging).
func PistonFor(t Target) (Needed, error) {
	left, done, err := t.share("gas volume")
	if err != nil || done {
		return Needed{Notes: there(done)}, err
	}
	return t.gas(1 - left), nil
}

// Flushes is a bag that is filled with a shot of gas, mixed and vented, again
// and again.
//
// The zero Flushes is refused.
type Flushes struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space after venting, mL
	FlushML   float64 // gas of one flush, mL at the temperature and pressure of the bag
	Count     int     // number of flushes
}

// AfterFlushes returns the oxygen left after n flushes, each mixed fully and
// then vented to the first volume.
//
//	y = y_n + (y_0 − y_n)·(V_h/(V_h + V_f))^n
//
//	V_f  FlushML  mL  accepted 1e-6 to 1e12
//	n    Count        accepted 0 to 1 000 000
//
// Other symbols as in [AfterSweep]. As the same gas is cut into more flushes
// the answer tends to that of AfterSweep.
//
// Source: KOSHA guide C-C-85 (pressure purging), with V_f for the gas of one
// pressurisation.
func AfterFlushes(f Flushes) (Purged, error) {
	bad := gasSpace(nil, f.StartPct, f.SupplyPct, f.FreeML)
	bad = fault.Float(bad, "FlushML", f.FlushML, 1e-6, maxGasML, "mL")
	bad = fault.Int(bad, "Count", f.Count, 0, maxCount, "flushes")
	if bad != nil {
		return Purged{}, fault.Input(bad)
	}
	n := float64(f.Count)
	p := Purge{f.StartPct, f.SupplyPct, f.FreeML, n * f.FlushML}
	return p.left(math.Exp(-n * math.Log1p(f.FlushML/f.FreeML))), nil
}

// FlushTarget is a target to be reached by flushes of one size.
//
// The zero FlushTarget is refused.
type FlushTarget struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space after venting, mL
	TargetPct float64 // oxygen to be reached, % by volume
	FlushML   float64 // gas of one flush, mL at the temperature and pressure of the bag
}

// FlushCount is the number of flushes or cycles that reaches a target.
type FlushCount struct {
	Count     int     // whole number that reaches the target
	Exact     float64 // the number before rounding up, a pure number
	GasML     float64 // purge gas of Count, mL at the temperature and pressure of the bag
	OxygenPct float64 // oxygen after Count, % by volume
	Notes     Notes
}

// FlushesFor returns how many flushes reach a target, the inverse of
// [AfterFlushes], rounded up to a whole flush.
//
//	n = ln((y − y_n)/(y_0 − y_n)) / ln(V_h/(V_h + V_f))
//
// Symbols as in [AfterFlushes] and [SweepFor]. More than 1 000 000 flushes
// are refused as an [*ImpossibleError] of the flush size.
//
// Source: KOSHA guide C-C-85 (pressure purging), solved for n.
func FlushesFor(t FlushTarget) (FlushCount, error) {
	bad := target(nil, t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct)
	bad = fault.Float(bad, "FlushML", t.FlushML, 1e-6, maxGasML, "mL")
	if bad != nil {
		return FlushCount{}, fault.Input(bad)
	}
	g := Target{t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct}
	left, done, err := g.share("number of flushes")
	if err != nil {
		return FlushCount{}, g.counted(err, math.Log1p(t.FlushML/t.FreeML))
	}
	if done {
		return FlushCount{OxygenPct: t.StartPct, Notes: AlreadyThere}, nil
	}
	exact := -math.Log(left) / math.Log1p(t.FlushML/t.FreeML)
	if exact > maxCount {
		least := t.FreeML * math.Expm1(-math.Log(left)/maxCount)
		return FlushCount{}, &ImpossibleError{
			Quantity: "number of flushes", Why: "more than 1000000 flushes of that size would be needed",
			Field: "FlushML", Given: fault.Shortest(t.FlushML),
			Min: num.Inside(least, 2*least, func(ml float64) bool { return -math.Log(left)/math.Log1p(ml/t.FreeML) <= maxCount }), Max: maxGasML, Unit: "mL",
		}
	}
	n := whole(exact)
	y, err := AfterFlushes(Flushes{t.StartPct, t.SupplyPct, t.FreeML, t.FlushML, n})
	if err != nil {
		return FlushCount{}, err
	}
	return FlushCount{Count: n, Exact: exact, GasML: y.GasML, OxygenPct: y.OxygenPct}, nil
}

// whole rounds up, but takes a number that is whole to within rounding of the
// logarithms as that number.
func whole(exact float64) int {
	n := math.Round(exact)
	if math.Abs(exact-n) > 1e-9*math.Max(1, n) {
		n = math.Ceil(exact)
	}
	return int(n)
}

func (p Purge) check() error {
	bad := gasSpace(nil, p.StartPct, p.SupplyPct, p.FreeML)
	bad = fault.Float(bad, "GasML", p.GasML, 0, maxGasML, "mL")
	return fault.Input(bad)
}

// left builds the result from the share of the start gas that remains.
func (p Purge) left(share float64) Purged {
	return Purged{
		OxygenPct: blend(p.StartPct, p.SupplyPct, share),
		LeftPct:   100 * share,
		GasML:     p.GasML,
		Volumes:   p.GasML / p.FreeML,
		Notes:     noBenefit(p.StartPct, p.SupplyPct),
	}
}

// blend mixes a share of start gas with supply so that rounding never carries
// the answer outside the two.
func blend(start, supply, share float64) float64 {
	return share*start + (1-share)*supply
}

func noBenefit(start, supply float64) Notes {
	if supply >= start {
		return SupplyAboveStart
	}
	return 0
}

func there(done bool) Notes {
	if done {
		return AlreadyThere
	}
	return 0
}

// share returns the share of start gas that may remain at the target.
func (t Target) share(quantity string) (left float64, done bool, err error) {
	if bad := target(nil, t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct); bad != nil {
		return 0, false, fault.Input(bad)
	}
	if t.TargetPct >= t.StartPct {
		return 1, true, nil
	}
	if !(t.TargetPct > t.SupplyPct) {
		return 0, false, unreachable(quantity, t.TargetPct, t.SupplyPct, t.StartPct)
	}
	return (t.TargetPct - t.SupplyPct) / (t.StartPct - t.SupplyPct), false, nil
}

// counted moves the least target that err names, where the purge gas holds more
// than was asked for, to the least that the most flushes or cycles reach; each of
// them leaves e^−ln of the difference.
func (t Target) counted(err error, ln float64) error {
	if none, ok := errors.AsType[*ImpossibleError](err); ok {
		none.Min = num.Furthest(none.Max, none.Min, func(pct float64) bool {
			t.TargetPct = pct
			left, _, err := t.share("")
			return err == nil && -math.Log(left)/ln <= maxCount
		})
	}
	return err
}

func unreachable(quantity string, targetPct, supplyPct, startPct float64) error {
	least, most := math.Nextafter(math.Max(supplyPct, minTargetPct), 100), startPct
	if !(least <= most) { // this gas only makes it worse: what is there already, or more
		least, most = math.Max(startPct, minTargetPct), 100
	}
	return &ImpossibleError{
		Quantity: quantity, Why: "the purge gas itself holds " + fault.Shortest(supplyPct) + " % oxygen and no purging goes below that",
		Field: "TargetPct", Given: fault.Shortest(targetPct), Min: least, Max: most, Unit: "%",
	}
}

func (t Target) gas(volumes float64) Needed {
	return Needed{GasML: volumes * t.FreeML, Volumes: volumes}
}

func gasSpace(bad []*FieldError, start, supply, free float64) []*FieldError {
	bad = fault.Float(bad, "StartPct", start, minStartPct, 100, "%")
	bad = fault.Float(bad, "SupplyPct", supply, 0, 100, "%")
	return fault.Float(bad, "FreeML", free, minFreeML, maxFreeML, "mL")
}

func target(bad []*FieldError, start, supply, free, targetPct float64) []*FieldError {
	bad = gasSpace(bad, start, supply, free)
	return fault.Float(bad, "TargetPct", targetPct, minTargetPct, 100, "%")
}
