package headspace

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Film is what lets oxygen into a bag.
//
// The zero Film is a perfect barrier, and truly so.
type Film struct {
	OTRCCPerM2DayAtm float64 // oxygen transmission, cc(STP)/(m²·d·atm), at the store's climate
	AreaM2           float64 // area of film around the gas, m²
	BagCCPerDayAtm   float64 // transmission of a whole bag as measured, or of seals and valve, cc(STP)/(d·atm)
	OutsidePct       float64 // oxygen outside, % by volume
}

// An Uptake is oxygen going into the coffee.
//
// The zero Uptake is none, and truly so. No rate for whole beans is published
// that deserves to be a default: measure it, or see what a guess does.
type Uptake struct {
	UGPerGDay  float64 // rate at AtPct, µg of oxygen per g of coffee and day
	AtPct      float64 // oxygen at which that rate holds, % of one ambient pressure; not read when the rate is 0
	BendPerPct float64 // b in r ∝ p/(1 + b·p): 0 for a rate in proportion to oxygen, per %
}

// A PoreGas is gas inside the beans that evens out with the headspace.
//
// The zero PoreGas is none, and truly so.
type PoreGas struct {
	PoreML     float64 // gas space inside the beans, mL, see PoreVolume
	OxygenPct  float64 // oxygen in it at sealing, % by volume
	EvenPerDay float64 // rate at which the difference to the headspace shrinks, seen from the pores, per day
}

// A Bag is a sealed bag on its way to the customer.
//
// The zero Bag is refused. Film, Uptake, Pores, CarbonDioxidePct, SlackML and
// OpenKPa are truly zero when zero.
type Bag struct {
	FreeML           float64 // headspace at sealing, mL
	CoffeeG          float64 // mass of coffee, g
	TempC            float64 // temperature, °C
	KPa              float64 // pressure around and at sealing, kPa absolute
	OxygenPct        float64 // oxygen of the headspace at sealing, % by volume
	CarbonDioxidePct float64 // carbon dioxide of the headspace at sealing, % by volume
	SlackML          float64 // how much the bag can still swell before it is tight, mL
	OpenKPa          float64 // pressure over ambient at which the valve opens, kPa
	Film             Film
	Uptake           Uptake
	Pores            PoreGas
}

// A Release is the carbon dioxide that the coffee of the whole bag has given
// off since sealing, mL at the temperature and pressure of the bag, as a
// function of time in days: 0 at 0, never falling. A nil Release is none.
// ReleaseML of package degas makes one of a release curve.
type Release func(days float64) (mL float64)

// Aged is a bag some time after sealing.
type Aged struct {
	Days             float64 // time since sealing, days
	OxygenPct        float64 // oxygen of the headspace, what a meter would show, % by volume
	CarbonDioxidePct float64 // carbon dioxide of the headspace, % by volume
	PorePct          float64 // oxygen of the pore gas, % of one ambient pressure
	KPa              float64 // pressure in the bag, kPa absolute
	HeldML           float64 // oxygen in the headspace, mL at TempC and KPa of the Bag
	PoreHeldML       float64 // oxygen in the pores, mL likewise
	EnteredML        float64 // oxygen that came in through film and valve so far, mL likewise
	TakenML          float64 // oxygen taken up by the coffee so far, mL likewise
	VentedML         float64 // oxygen gone out through the valve so far, mL likewise
	GasVentedML      float64 // all gas gone out through the valve so far, mL likewise
	TakenUGPerG      float64 // oxygen taken up by each gram of coffee so far, µg/g
	EnteredUGPerG    float64 // oxygen that came in for each gram of coffee so far, µg/g
	Notes            Notes
}

// OxygenAfter returns the state of a bag some days after sealing.
//
//	dn/dt = g·(x_e − n/V) − u·(n/V)/(1 + b·n/V) + λ·V_p·(z − n/V) − n·dS/dt
//	dz/dt = −λ·(z − n/V)
//	g     = (OTR·A + bag)·T/273.15,  mL/d for the whole of one atmosphere
//	S     = max(0, Q − slack − V·P_o/P)/(V·(1 + P_o/P))
//	V     = V_h + min(Q, slack)
//
//	n      HeldML            mL   oxygen in the headspace
//	V_h    FreeML            mL   accepted 1 to 1e6
//	m      CoffeeG           g    accepted 1 to 100 000
//	T      TempC             °C   accepted −20 to 60
//	P      KPa               kPa  accepted 50 to 110, absolute
//	       OxygenPct         %    accepted 0 to 100
//	       CarbonDioxidePct  %    accepted 0 to 100 less OxygenPct
//	slack  SlackML           mL   accepted 0 to 1e6
//	P_o    OpenKPa           kPa  accepted 0 to 50
//	OTR    Film.OTRCCPerM2DayAtm  cc(STP)/(m²·d·atm)  accepted 0 to 2e4
//	A      Film.AreaM2            m²                  accepted 0 to 10
//	bag    Film.BagCCPerDayAtm    cc(STP)/(d·atm)     accepted 0 to 1e4
//	x_e    Film.OutsidePct        %                   accepted 0 to 100
//	u      from Uptake.UGPerGDay  µg/(g·d)            accepted 0 to 1000
//	       Uptake.AtPct           %                   accepted 0.01 to 100
//	b      Uptake.BendPerPct      1/%                 accepted 0 to 1000
//	V_p    Pores.PoreML           mL                  accepted 0 to 1e5
//	z      Pores.OxygenPct        %                   accepted 0 to 100
//	λ      Pores.EvenPerDay       1/d                 accepted 0 to 24
//	Q      release                mL   what the coffee has given off
//	       days                   d    accepted 0 to 3660
//
// Released gas first swells a slack bag, then raises its pressure to that of
// the valve, and from then on sweeps the headspace out. Without release, and
// with uptake in proportion to oxygen, the answer is exact; a sweep alone is
// exact too; all else is integrated, the oxygen in the headspace to about 1e-9
// of itself over a year, or 1e-12 % if that is more; what rounding leaves below
// 0 is 0. OxygenPct is n over all the gas in the bag. Oxygen that enters or is
// taken up, and the nitrogen that crosses the film, are not counted in the
// volume of gas: with 1 % oxygen that is an error of at most 1 % of the reading.
// Gas leaves the pores unswept by the carbon dioxide that comes out of them, and
// the headspace is stirred:
// layers or a short way to the valve make the sweep slower. When uptake
// is fast, oxygen falls although more comes in: count what entered, not what
// the meter finds.
//
// A release with corners of its own, such as a table read between its rows,
// costs time, not digits; one that jumps costs digits too. Very many of them may
// need too many steps; that is an [*ImpossibleError] that names days it does reach.
//
// A release that is negative, is not finite or exceeds 500 headspaces where it is
// asked is refused. So is one that is seen to fall: from one sixteenth of the time
// to the next, from one of the days asked for to the next, and, where the course is
// integrated, from stage to stage of each step of the integration. A sweep alone
// asks at no other times. A fall between them all is not seen, and the answer then
// means nothing: see to it that yours never falls.
//
// Good where its inputs are: published kinetics of whole beans are thin, no
// paper with the sweep equation was found, and valve leaks are unpublished.
//
// Source: mass balance; Henry and Fick as in any text on permeable packaging,
// such as Robertson, Food Packaging (memory).
func OxygenAfter(b Bag, days float64, release Release) (Aged, error) {
	if bad := fault.Float(b.check(nil), "days", days, 0, maxDays, "d"); bad != nil {
		return Aged{}, fault.Input(bad)
	}
	var one [1]Aged
	if err := course(b, one[:], nil, days, 0, release); err != nil {
		return Aged{}, err
	}
	return one[0], nil
}

// OxygenAt fills dst with the state of a bag at each of the days, in one run.
//
//	days  d  accepted 0 to 3660 each, none before the last, as many as dst
//
// All else as in [OxygenAfter]. Beside an error dst is cleared.
//
// Source: as OxygenAfter.
func OxygenAt(b Bag, dst []Aged, days []float64, release Release) error {
	bad := b.check(nil)
	last := 0.0
	for i, d := range days {
		n := len(bad)
		if bad = fault.Float(bad, "", d, last, maxDays, "d"); len(bad) > n {
			bad = fault.Under("days["+strconv.Itoa(i)+"]", bad, n)
			continue
		}
		last = d
	}
	if len(days) == 0 || len(days) != len(dst) {
		bad = fault.Int(bad, "days", len(days), max(len(dst), 1), max(len(dst), 1), "days")
	}
	if bad != nil {
		clear(dst)
		return fault.Input(bad)
	}
	return course(b, dst, days, 0, 0, release)
}

// OxygenCourse fills dst with the state of a bag at 0, 1, 2 … steps after
// sealing, at the cost of one run through the time.
//
//	stepDays  d  accepted 1e-6 to 366, and the last time at most 3660
//
// All else as in [OxygenAfter]. Beside an error dst is
// cleared.
//
// Source: as OxygenAfter.
func OxygenCourse(b Bag, dst []Aged, stepDays float64, release Release) error {
	bad := b.check(nil)
	if len(dst) == 0 {
		bad = fault.Int(bad, "dst", 0, 1, math.MaxInt32, "points")
	}
	n := len(bad)
	bad = fault.Float(bad, "stepDays", stepDays, minStepDays, 366, "d")
	if len(bad) == n && float64(len(dst)-1)*stepDays > maxDays {
		bad = fault.Float(bad, "stepDays", stepDays, minStepDays, maxDays/float64(len(dst)-1), "d")
		bad[n].Why = "the last point is at most 3660 days after sealing"
	}
	if bad != nil {
		clear(dst)
		return fault.Input(bad)
	}
	return course(b, dst, nil, 0, stepDays, release)
}

const (
	maxDays     = 3660
	minStepDays = 1e-6
)

// course computes the states at the times, or at first, first+step and so on
// where there are none.
func course(b Bag, dst []Aged, times []float64, first, step float64, release Release) error {
	r := newRun(b, release)
	if err := r.feasible(at(times, first, step, len(dst)-1)); err != nil {
		clear(dst)
		return err
	}
	var err error
	if r.exact {
		err = r.closed(dst, times, first, step)
	} else {
		err = r.integrate(dst, times, first, step)
	}
	if err != nil {
		clear(dst)
	}
	return err
}

// DaysToDose returns the days until each gram of coffee has taken up a dose
// of oxygen.
//
//	TakenML(t)·M/V_m/m = dose, solved for t
//
//	doseUGPerG  µg/g  accepted 0.01 to 1e5
//	lastDays    d     accepted 0.01 to 3660: the search ends there
//	            Uptake.UGPerGDay  accepted from 1e-9: without uptake there is no dose
//
// A dose that is not reached by then is an [*ImpossibleError] that names the
// doses which are; where all of those are below any that is accepted, the days or
// the uptake that would do, if either would. The dose is what went into the coffee; for the worst case that
// all of what comes in goes into it, give a fast uptake. What dose
// matters to whole beans is not published; an old rule for ground coffee is
// [OldDoseUGPerG].
//
// Source: as [OxygenAfter].
func DaysToDose(b Bag, doseUGPerG, lastDays float64, release Release) (float64, error) {
	bad := b.check(nil)
	if b.Uptake.UGPerGDay == 0 {
		bad = fault.Float(bad, "Uptake.UGPerGDay", 0, minUptakeUGPerDay, maxUptakeUGPerDay, "µg/(g·d)")
		bad[len(bad)-1].Why = "coffee that takes up no oxygen never comes to a dose"
	}
	bad = fault.Float(bad, "doseUGPerG", doseUGPerG, minDoseUGPerG, 1e5, "µg/g")
	bad = fault.Float(bad, "lastDays", lastDays, 0.01, maxDays, "d")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	days, most, err := dosed(b, doseUGPerG, lastDays, release)
	if err != nil {
		return 0, err
	}
	if most < doseUGPerG {
		return 0, tooLittle(b, doseUGPerG, lastDays, release, most)
	}
	return days, nil
}

const (
	minDoseUGPerG     = 0.01
	minUptakeUGPerDay = 1e-9
	maxUptakeUGPerDay = 1000
)

// dosed is the day on which a dose is reached; where it is not by the last day,
// most, µg/g, is below it.
func dosed(b Bag, doseUGPerG, lastDays float64, release Release) (days, most float64, err error) {
	r := newRun(b, release)
	if err := r.feasible(lastDays); err != nil {
		return 0, 0, err
	}
	// What is taken up never falls: one run to the panel in which the dose is
	// reached, then that panel is narrowed down.
	lo, hi := 0.0, lastDays
	p := r.panels(lastDays)
	takenUGPerG := func(t float64) float64 {
		var a [1]Aged
		if r.exact { // with uptake there is no release here, which alone could be at fault
			_ = r.closed(a[:], nil, t, 0)
		} else {
			p.within(&a[0], t, t)
		}
		return a[0].TakenUGPerG
	}
	if !r.exact {
		for p.reached() < lastDays && takenUGPerG(p.reached()) < doseUGPerG {
			if !p.step() {
				none := tooManySteps()
				if sure := p.sureTaken * r.toUG; sure >= minDoseUGPerG {
					none.Field, none.Given, none.Unit = "doseUGPerG", fault.Shortest(doseUGPerG), "µg/g"
					none.Min, none.Max = minDoseUGPerG, sure
				}
				return 0, 0, r.stopped(none)
			}
		}
		lo, hi = p.t, p.reached()
	}
	if most = takenUGPerG(hi); most < doseUGPerG {
		return 0, most, nil
	}
	for range 60 {
		if mid := lo + (hi-lo)/2; takenUGPerG(mid) < doseUGPerG {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, most, nil
}

// tooLittle names what does give a dose where no more than most is taken up: a
// smaller dose, or where that would be below any that is accepted more days, or a
// faster uptake.
func tooLittle(b Bag, doseUGPerG, lastDays float64, release Release, most float64) error {
	none := &ImpossibleError{Quantity: "days", Why: "the coffee has taken up no more than " + fault.Shortest(most) + " µg/g by then"}
	if most >= minDoseUGPerG {
		none.Field, none.Given, none.Unit = "doseUGPerG", fault.Shortest(doseUGPerG), "µg/g"
		none.Min, none.Max = minDoseUGPerG, most
		return none
	}
	reaches := func(b Bag, last float64) bool {
		_, most, err := dosed(b, doseUGPerG, last, release)
		return err == nil && most >= doseUGPerG
	}
	if days, most, err := dosed(b, doseUGPerG, maxDays, release); err == nil && most >= doseUGPerG {
		none.Field, none.Given, none.Unit = "lastDays", fault.Shortest(lastDays), "d"
		none.Min = num.Inside(math.Max(days, math.Nextafter(lastDays, maxDays)), maxDays, func(last float64) bool { return reaches(b, last) })
		none.Max = maxDays
		return none
	}
	uptake, fast := b.Uptake.UGPerGDay, b
	fast.Uptake.UGPerGDay = maxUptakeUGPerDay
	if reaches(fast, lastDays) {
		// Each try is a whole run: halve the logarithm, and not too often.
		slow := uptake
		for range 20 {
			b.Uptake.UGPerGDay = math.Sqrt(slow) * math.Sqrt(fast.Uptake.UGPerGDay)
			if reaches(b, lastDays) {
				fast = b
			} else {
				slow = b.Uptake.UGPerGDay
			}
		}
		none.Field, none.Given, none.Unit = "Uptake.UGPerGDay", fault.Shortest(uptake), "µg/(g·d)"
		none.Min, none.Max = fast.Uptake.UGPerGDay, maxUptakeUGPerDay
	}
	return none
}

// OldDoseUGPerG is the oxygen that an old rule calls enough to stale roast and
// ground coffee: 14 mL for a pound, at 20 °C and one atmosphere. Source: Sivetz
// and Desrosier, Coffee Technology, 1979; from memory, and for ground coffee.
const OldDoseUGPerG = 41 // µg/g

// A run is one bag with its constants worked out.
type run struct {
	b          Bag
	release    Release
	g, u       float64 // film and uptake, mL/d for the whole of one ambient pressure
	xe         float64 // outside, fraction
	bend       float64 // of the uptake, per fraction
	toUG       float64 // µg/g for 1 mL of oxygen
	full, most float64 // volume when tight, amount when venting, mL
	threshold  float64 // release at which the valve opens, mL
	even       float64 // rate at which pores even out, 0 without pores, per day
	n0, m0     float64 // oxygen at sealing in headspace and pores, mL
	start      float64 // both, mL
	co2        float64 // carbon dioxide at sealing, mL
	perPore    float64 // % for 1 mL in the pores
	exact      bool
	fault      error // from release
}

func newRun(b Bag, release Release) run {
	at := GasState{b.TempC, b.KPa}
	r := run{b: b, release: release, xe: b.Film.OutsidePct / 100, bend: 100 * b.Uptake.BendPerPct}
	r.g = (b.Film.OTRCCPerM2DayAtm*b.Film.AreaM2 + b.Film.BagCCPerDayAtm) * (b.TempC + ZeroCelsiusK) / ZeroCelsiusK
	r.toUG = ugPerML(at) / b.CoffeeG
	if b.Uptake.UGPerGDay > 0 {
		x := b.Uptake.AtPct / 100
		r.u = b.Uptake.UGPerGDay / r.toUG * (1 + r.bend*x) / x
	}
	r.full = b.FreeML + b.SlackML
	r.most = r.full * (1 + b.OpenKPa/b.KPa)
	r.threshold = b.SlackML + r.full*b.OpenKPa/b.KPa
	r.n0 = b.FreeML * b.OxygenPct / 100
	r.m0 = b.Pores.PoreML * b.Pores.OxygenPct / 100
	r.start = r.n0 + r.m0
	r.co2 = b.FreeML * b.CarbonDioxidePct / 100
	if b.Pores.PoreML > 0 {
		r.even = b.Pores.EvenPerDay
		r.perPore = 100 / b.Pores.PoreML
	}
	alone := r.g == 0 && r.u == 0 && r.even == 0
	r.exact = alone || release == nil && (r.bend == 0 || r.u == 0)
	return r
}

// released is the gas given off, checked.
func (r *run) released(t float64) float64 {
	if r.release == nil {
		return 0
	}
	q := r.release(t)
	if !(q >= 0 && q <= 1e9) || r.swept(q) > 500 {
		if r.fault == nil {
			r.fault = badRelease(q, t)
		}
		return 0
	}
	return q
}

// swept is S, the headspaces that have left through the valve.
func (r *run) swept(q float64) float64 {
	if q <= r.threshold {
		return 0
	}
	return (q - r.threshold) / r.most
}

// fell is whether a release has fallen, by more than rounding, and keeps that as
// its fault.
func (r *run) fell(before, q, t float64) bool {
	if q >= before-1e-12*(r.b.FreeML+before) {
		return false
	}
	if r.fault == nil {
		r.fault = badRelease(q, t)
	}
	return true
}

func badRelease(q, t float64) error {
	return fault.Input([]*FieldError{{Field: "Release(" + fault.Shortest(t) + ")", Given: fault.Shortest(q), Min: 0, Max: 1e9, Unit: "mL",
		Why: "finite, not negative, 0 at 0, never falling, at most 500 headspaces in all"}})
}

// feasible looks at the release before any work is done.
func (r *run) feasible(end float64) error {
	if r.release == nil {
		return nil
	}
	if q := r.release(0); q != 0 {
		return badRelease(q, 0)
	}
	last := 0.0
	for i := 1; i <= 16; i++ {
		t := end * float64(i) / 16
		q := r.released(t)
		if r.fault != nil {
			return r.fault
		}
		if q < last {
			return badRelease(q, t)
		}
		last = q
	}
	return nil
}

// finish turns amounts into what is reported; stay is e^−S for swept headspaces.
func (r *run) finish(a *Aged, t, q, swept, stay, held, poreHeld, entered, taken float64) {
	b := &r.b
	v := r.space(q)
	held, poreHeld = r.rounded(held), r.rounded(poreHeld)
	all := math.Min(b.FreeML+q, r.most)
	share := 100 / all
	a.Days, a.HeldML, a.PoreHeldML, a.EnteredML, a.TakenML = t, held, poreHeld, entered, taken
	a.OxygenPct, a.KPa = share*held, b.KPa*(all/v)
	a.TakenUGPerG, a.EnteredUGPerG = taken*r.toUG, entered*r.toUG
	a.PorePct = poreHeld * r.perPore
	// Carbon dioxide: all of it stays until the valve opens; then it fills the
	// place of what the sweep carries off.
	if swept > 0 {
		a.GasVentedML = swept * r.most
		a.VentedML = r.rounded(r.start + entered - taken - held - poreHeld)
		a.CarbonDioxidePct = share * (r.most - (r.most-r.co2-r.threshold)*stay)
	} else {
		a.GasVentedML, a.VentedML = 0, 0
		a.CarbonDioxidePct = share * (r.co2 + q)
	}
	a.Notes = 0
}

// rounded is an amount of oxygen without what rounding leaves below 0.
func (r *run) rounded(mL float64) float64 {
	if mL < 0 && mL > -1e-13*(r.full+r.b.Pores.PoreML) {
		return 0
	}
	return mL
}

// at is the i-th time.
func at(times []float64, first, step float64, i int) float64 {
	if times != nil {
		return times[i]
	}
	return first + step*float64(i)
}

// closed is the exact answer.
func (r *run) closed(dst []Aged, times []float64, first, step float64) error {
	b := &r.b
	n0, m0 := r.n0, r.m0
	if r.g == 0 && r.u == 0 && r.even == 0 {
		before := 0.0
		for i := range dst {
			t := at(times, first, step, i)
			q := r.released(t)
			if r.fault != nil || r.fell(before, q, t) {
				return r.fault
			}
			before = q
			s := r.swept(q)
			stay := num.Exp(-s)
			r.finish(&dst[i], t, q, s, stay, n0*stay, m0, 0, 0)
		}
		return nil
	}
	v, vp, l := b.FreeML, b.Pores.PoreML, r.even
	// The steady state: ingress against uptake, or all evened out.
	steady := (n0 + m0) / (v + vp)
	if r.g+r.u > 0 {
		steady = r.g * r.xe / (r.g + r.u)
	}
	// Deviations from it are a fast and a slow mode; without pores there is one.
	dn, dm := n0-steady*v, m0-steady*vp
	decay := (r.g + r.u + l*vp) / v
	fast, slow := -decay, 0.0
	nf, mf := dn, 0.0
	if l > 0 {
		back := l * vp / v
		disc := math.Sqrt((decay-l)*(decay-l) + 4*back*l)
		fast = -(decay + l + disc) / 2
		slow = l * (r.g + r.u) / v / fast // the product of the two is the determinant
		nf = (-decay*dn + l*dm - slow*dn) / (fast - slow)
		mf = (back*dn - l*dm - slow*dm) / (fast - slow)
	}
	ns, ms := dn-nf, dm-mf
	still := l == 0 // the pores, if any, keep what they hold
	// e^(λt) − 1 goes from point to point by E(t+h) = E(t) + E(h) + E(t)·E(h),
	// and is begun anew now and then, so that rounding does not add up.
	const anew = 64
	var ef, es float64
	hf, hs := math.Expm1(fast*step), math.Expm1(slow*step)
	for i := range dst {
		t := at(times, first, step, i)
		if i%anew == 0 || times != nil {
			ef, es = math.Expm1(fast*t), math.Expm1(slow*t)
		} else {
			ef += hf + ef*hf
			es += hs + es*hs
		}
		sum := nf*over(ef, fast, t) + ns*over(es, slow, t) // ∫ of the deviation of n
		held, pores := steady*v+dn+nf*ef+ns*es, m0
		if !still {
			pores = steady*vp + dm + mf*ef + ms*es
		}
		r.finish(&dst[i], t, 0, 0, 1, held, pores, r.g*(r.xe*t-steady*t-sum/v), r.u*(steady*t+sum/v))
	}
	return nil
}

// over is (e^(λt) − 1)/λ, which is t for a λ of 0.
func over(e, rate, t float64) float64 {
	if rate == 0 {
		return t
	}
	return e / rate
}

// integrate follows the equations numerically.
func (r run) integrate(dst []Aged, times []float64, first, step float64) error {
	p := r.panels(at(times, first, step, len(dst)-1))
	for i := range dst {
		t := at(times, first, step, i)
		for p.reached() < t {
			if !p.step() {
				return r.stopped(p.late(times, first, step, len(dst)))
			}
		}
		p.within(&dst[i], t, at(times, first, step, min(i+4, len(dst)-1)))
		if r.fault != nil {
			return r.fault
		}
	}
	return nil
}

// stopped is why there is no next panel: the release, or else none.
func (r *run) stopped(none *ImpossibleError) error {
	if r.fault != nil {
		return r.fault
	}
	return none
}

func tooManySteps() *ImpossibleError {
	return &ImpossibleError{Quantity: "course of the oxygen", Why: "a release with so many corners takes more than 20000 steps"}
}

// late names what can be had of n times where the panels became too many: days,
// a shorter step, or fewer times.
func (p *panels) late(times []float64, first, step float64, n int) *ImpossibleError {
	none := tooManySteps()
	within := 0 // times that are surely reached
	for within < n && at(times, first, step, within) <= p.sure {
		within++
	}
	switch {
	case times == nil && step == 0:
		none.Field, none.Given, none.Unit = "days", fault.Shortest(first), "d"
		none.Max = p.sure
	case times == nil:
		if most := p.sure / float64(n-1); most >= minStepDays {
			none.Field, none.Given, none.Unit = "stepDays", fault.Shortest(step), "d"
			none.Min, none.Max = minStepDays, most
		}
	case within == n-1:
		none.Field, none.Given, none.Unit = "days["+strconv.Itoa(within)+"]", fault.Shortest(times[within]), "d"
		if none.Max = p.sure; within > 0 {
			none.Min = times[within-1]
		}
	case within > 0:
		none.Field, none.Given, none.Unit = "days", strconv.Itoa(n), "days"
		none.Min, none.Max = 1, float64(within)
	}
	return none
}

func (b *Bag) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "FreeML", b.FreeML, 1, 1e6, "mL")
	bad = fault.Float(bad, "CoffeeG", b.CoffeeG, 1, 100_000, "g")
	bad = fault.Float(bad, "TempC", b.TempC, -20, 60, "°C")
	bad = fault.Float(bad, "KPa", b.KPa, 50, 110, "kPa")
	n := len(bad)
	bad = fault.Float(bad, "OxygenPct", b.OxygenPct, 0, 100, "%")
	room := 100.0
	if len(bad) == n {
		room -= b.OxygenPct
	}
	bad = fault.Float(bad, "CarbonDioxidePct", b.CarbonDioxidePct, 0, room, "%")
	bad = fault.Float(bad, "SlackML", b.SlackML, 0, 1e6, "mL")
	bad = fault.Float(bad, "OpenKPa", b.OpenKPa, 0, 50, "kPa")
	bad = fault.Float(bad, "Film.OTRCCPerM2DayAtm", b.Film.OTRCCPerM2DayAtm, 0, 2e4, "cc/(m²·d·atm)")
	bad = fault.Float(bad, "Film.AreaM2", b.Film.AreaM2, 0, 10, "m²")
	bad = fault.Float(bad, "Film.BagCCPerDayAtm", b.Film.BagCCPerDayAtm, 0, 1e4, "cc/(d·atm)")
	bad = fault.Float(bad, "Film.OutsidePct", b.Film.OutsidePct, 0, 100, "%")
	bad = fault.Float(bad, "Uptake.UGPerGDay", b.Uptake.UGPerGDay, 0, maxUptakeUGPerDay, "µg/(g·d)")
	if b.Uptake.UGPerGDay != 0 {
		bad = fault.Float(bad, "Uptake.AtPct", b.Uptake.AtPct, 0.01, 100, "%")
	}
	bad = fault.Float(bad, "Uptake.BendPerPct", b.Uptake.BendPerPct, 0, 1000, "1/%")
	bad = fault.Float(bad, "Pores.PoreML", b.Pores.PoreML, 0, 1e5, "mL")
	bad = fault.Float(bad, "Pores.OxygenPct", b.Pores.OxygenPct, 0, 100, "%")
	return fault.Float(bad, "Pores.EvenPerDay", b.Pores.EvenPerDay, 0, 24, "1/d")
}
