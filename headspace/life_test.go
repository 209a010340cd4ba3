package headspace

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var aBag = Bag{
	FreeML: 750, CoffeeG: 340, TempC: 20, KPa: SeaLevelKPa, OxygenPct: 1, CarbonDioxidePct: 2, SlackML: 120, OpenKPa: 1,
	Film:   Film{0.6, 0.08, 0.02, AirOxygenPct},
	Uptake: Uptake{1.5, 1, 0},
	Pores:  PoreGas{140, 12, 0.8},
}

// release is a stretched exponential with an infinite rate at the start.
func release(total, perDay, beta float64) Release {
	return func(d float64) float64 { return -total * math.Expm1(-math.Pow(perDay*d, beta)) }
}

func aged(t *testing.T, b Bag, days float64, r Release) Aged {
	t.Helper()
	a, err := OxygenAfter(b, days, r)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// numeric integrates what the exact solution also gives.
func numeric(t *testing.T, b Bag, days float64) Aged {
	t.Helper()
	r := newRun(b, nil)
	var one [1]Aged
	if err := r.integrate(one[:], nil, days, 0); err != nil {
		t.Fatal(err)
	}
	return one[0]
}

// The integrator gives the closed form to 1e-9, wherever there is one.
func TestIntegratorAgainstClosedForm(t *testing.T) {
	film, uptake, pores := aBag.Film, aBag.Uptake, aBag.Pores
	for name, b := range map[string]Bag{
		"film":                   {Film: film},
		"film, leaky":            {Film: Film{5000, 0.1, 0, AirOxygenPct}},
		"film and uptake":        {Film: film, Uptake: uptake},
		"uptake":                 {Uptake: uptake},
		"pores":                  {Pores: pores},
		"pores, fast":            {Pores: PoreGas{500, 18, 20}},
		"film and pores":         {Film: film, Pores: pores},
		"film, uptake and pores": {Film: film, Uptake: uptake, Pores: pores},
		"fast uptake":            {Film: film, Uptake: Uptake{300, 1, 0}, Pores: pores},
	} {
		b.FreeML, b.CoffeeG, b.TempC, b.KPa, b.OxygenPct = 750, 340, 23, 95, 1.3
		for _, days := range []float64{0, 1.0 / 24, 1, 30, 365} {
			got, want := numeric(t, b, days), aged(t, b, days, nil)
			for _, c := range []struct {
				what string
				g, w float64
			}{
				{"oxygen", got.OxygenPct, want.OxygenPct}, {"pores", got.PorePct, want.PorePct},
				{"entered", got.EnteredML, want.EnteredML}, {"taken", got.TakenML, want.TakenML},
			} {
				if !(math.Abs(c.g-c.w) <= 1e-9*math.Max(1, math.Abs(c.w))) {
					t.Errorf("%s after %v days: %s %.12g, closed form %.12g", name, days, c.what, c.g, c.w)
				}
			}
		}
	}
}

// With a steady release the film and the sweep together have a closed form
// too: n' = g·x_e − (g + R)·n/V.
func TestIntegratorUnderSweep(t *testing.T) {
	const rate = 30.0 // mL/d
	b := Bag{FreeML: 750, CoffeeG: 340, TempC: 0, KPa: SeaLevelKPa, OxygenPct: 1, Film: Film{20, 0.08, 0, AirOxygenPct}}
	g := 20 * 0.08
	for _, days := range []float64{0.01, 1, 30, 365} {
		l := (g + rate) / 750
		steady := g * AirOxygenPct / (g + rate)
		want := steady + (1-steady)*math.Exp(-l*days)
		got := aged(t, b, days, func(d float64) float64 { return rate * d })
		near(t, "oxygen under a steady sweep", got.OxygenPct, want, 1e-9)
	}
}

// Against the same equations integrated once more, by a plain fourth-order
// scheme with small steps from corner to corner of the release, with a bent
// uptake.
func TestIntegratorAgainstFineSteps(t *testing.T) {
	b := aBag
	b.Uptake.BendPerPct = 0.8
	q := func(d float64) float64 { return 900 * (1 - math.Exp(-d/3)) }
	rate := func(d float64) float64 { return 300 * math.Exp(-d/3) }
	r := newRun(b, q)
	venting := false
	f := func(d float64, y [3]float64) [3]float64 { // headspace, pores, vented
		v := b.FreeML + math.Min(q(d), b.SlackML)
		x := y[0] / v
		in, out := r.g*(r.xe-x), r.u*x/(1+r.bend*x)
		even := b.Pores.EvenPerDay * (y[1] - b.Pores.PoreML*x)
		gone := 0.0
		if venting {
			gone = rate(d) * y[0] / r.most
		}
		return [3]float64{in - out + even - gone, -even, gone}
	}
	y := [3]float64{7.5, 16.8, 0}
	plus := func(y, k [3]float64, h float64) [3]float64 {
		for i := range y {
			y[i] += h * k[i]
		}
		return y
	}
	const days, n = 20.0, 5000
	when := func(ml float64) float64 { return -3 * math.Log1p(-ml/900) } // the corners
	from := 0.0
	for _, to := range []float64{when(b.SlackML), when(r.threshold), days} {
		venting = to == days
		h := (to - from) / n
		for i := range n {
			d := from + float64(i)*h
			k1 := f(d, y)
			k2 := f(d+h/2, plus(y, k1, h/2))
			k3 := f(d+h/2, plus(y, k2, h/2))
			k4 := f(d+h, plus(y, k3, h))
			for j := range y {
				y[j] += h / 6 * (k1[j] + 2*k2[j] + 2*k3[j] + k4[j])
			}
		}
		from = to
	}
	a := aged(t, b, days, q)
	near(t, "held", a.HeldML, y[0], 1e-9)
	near(t, "pores", a.PoreHeldML, y[1], 1e-9)
	near(t, "vented", a.VentedML, y[2], 1e-9)
}

// Oxygen, nitrogen and carbon dioxide: what came in is out, taken, or there.
func TestLifeBalances(t *testing.T) {
	for _, b := range []Bag{aBag, {FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 20, SlackML: 50, OpenKPa: 2}} {
		for _, r := range []Release{nil, release(1500, 0.2, 0.6), release(40, 1, 0.5)} {
			var course [200]Aged
			if err := OxygenCourse(b, course[:], 0.5, r); err != nil {
				t.Fatal(err)
			}
			rest := b.FreeML * (100 - b.OxygenPct - b.CarbonDioxidePct) / 100 // nitrogen and argon
			for _, a := range course {
				q := 0.0
				if r != nil {
					q = r(a.Days)
				}
				start := b.FreeML*b.OxygenPct/100 + b.Pores.PoreML*b.Pores.OxygenPct/100
				if e := start + a.EnteredML - a.TakenML - a.VentedML - a.HeldML - a.PoreHeldML; !(math.Abs(e) <= 1e-12*b.FreeML) && a.VentedML > 0 {
					t.Fatalf("oxygen is off by %v at %v days", e, a.Days)
				}
				// All gas: the pressure and volume hold what has not vented.
				v := b.FreeML + math.Min(q, b.SlackML)
				all := v * a.KPa / b.KPa
				if e := b.FreeML + q - a.GasVentedML - all; !(math.Abs(e) <= 1e-12*(b.FreeML+q)) {
					t.Fatalf("gas is off by %v at %v days", e, a.Days)
				}
				// Carbon dioxide, with the vented by its own sweep: what is not
				// carbon dioxide thins by e^−S once the valve is open.
				s := a.GasVentedML / (b.FreeML + b.SlackML) / (1 + b.OpenKPa/b.KPa)
				other := all * (1 - a.CarbonDioxidePct/100)
				want := (b.FreeML - b.FreeML*b.CarbonDioxidePct/100) * math.Exp(-s)
				if !(math.Abs(other-want) <= 1e-12*b.FreeML) {
					t.Fatalf("carbon dioxide is off by %v at %v days", other-want, a.Days)
				}
				_ = rest
			}
		}
	}
}

// With nothing but the sweep, the shares of the gases stay whole.
func TestSweepKeepsWhole(t *testing.T) {
	b := Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 1, CarbonDioxidePct: 3, SlackML: 50, OpenKPa: 2}
	r := release(1500, 0.2, 0.6)
	for _, d := range []float64{0, 0.01, 0.1, 1, 10, 100} {
		a := aged(t, b, d, r)
		// Nitrogen keeps its proportion to oxygen: 96 to 1.
		near(t, "sum", a.OxygenPct*97+a.CarbonDioxidePct, 100, 1e-12)
		if d == 100 && !(a.VentedML > 0 && a.OxygenPct < 0.3) {
			t.Errorf("%+v", a)
		}
	}
	// A slack bag swells first: the valve stays shut and nothing is lost.
	slack := b
	slack.SlackML = 5000
	a := aged(t, slack, 100, r)
	if a.VentedML != 0 || a.GasVentedML != 0 || a.KPa != 100 {
		t.Errorf("%+v", a)
	}
	near(t, "thinned by swelling", a.OxygenPct, 750.0/(750+r(100)), 1e-12)
	near(t, "held", a.HeldML, 7.5, 1e-12)
}

// Pores full of air: the reading rises towards the evened-out oxygen, never
// past it, and the pores fall to meet it.
func TestPoresEvenOut(t *testing.T) {
	b := Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 0.5, Pores: PoreGas{145, 18, 0.9}}
	end, err := AfterEvening(Evening{750, 0.5, 145, 18})
	if err != nil {
		t.Fatal(err)
	}
	last := Aged{OxygenPct: 0.5 - 1e-15, PorePct: 18 + 1e-15}
	var course [400]Aged
	if err := OxygenCourse(b, course[:], 0.1, nil); err != nil {
		t.Fatal(err)
	}
	for _, a := range course {
		if !(a.OxygenPct >= last.OxygenPct-1e-13 && a.OxygenPct <= end+1e-12 && a.PorePct <= last.PorePct+1e-13 && a.PorePct >= end-1e-12) {
			t.Fatalf("%+v after %+v", a, last)
		}
		last = a
	}
	near(t, "end", last.OxygenPct, end, 1e-9)
}

// Fast uptake hides the ingress: the meter sees little, the coffee gets all.
func TestUptakeHidesIngress(t *testing.T) {
	b := Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: SeaLevelKPa, OxygenPct: 1, Film: Film{100, 0.08, 0, AirOxygenPct}, Uptake: Uptake{500, 1, 0}}
	a := aged(t, b, 90, nil)
	if !(a.OxygenPct < 0.1 && a.EnteredML > 50 && math.Abs(a.TakenML-a.EnteredML-7.5) < 0.5) {
		t.Errorf("%+v", a)
	}
	// Steady state: what comes in is what is taken.
	in := 100 * 0.08 * (293.15 / 273.15) * (AirOxygenPct - a.OxygenPct) / 100
	dose, err := OxygenDose(Dose{FreeML: in, OxygenPct: 100, CoffeeG: 340, State: GasState{20, SeaLevelKPa}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "uptake", 500*a.OxygenPct, dose, 1e-9)
	// The bent rate agrees with the plain one where it was measured, exceeds it
	// below and stays under it above.
	for _, c := range []struct{ pct, sign float64 }{{0.2, 1}, {5, -1}} {
		start := Bag{FreeML: 1e6, CoffeeG: 1, TempC: 20, KPa: 100, OxygenPct: c.pct, Uptake: Uptake{50, 1, 0}}
		plain := aged(t, start, 0.01, nil).TakenML
		start.Uptake.BendPerPct = 2
		if bent := aged(t, start, 0.01, nil).TakenML; !(c.sign*(bent-plain) > 0) {
			t.Errorf("at %v %%: bent %v, plain %v", c.pct, bent, plain)
		}
		start.OxygenPct = 1
		near(t, "bent rate where it was measured", aged(t, start, 1e-3, nil).TakenUGPerG, 50e-3, 1e-4)
	}
}

// A course is the same as its points, one by one.
func TestCourseIsItsPoints(t *testing.T) {
	for _, r := range []Release{nil, release(1500, 0.2, 0.6)} {
		var course [25]Aged
		if err := OxygenCourse(aBag, course[:], 3.5, r); err != nil {
			t.Fatal(err)
		}
		for _, a := range course {
			b := aged(t, aBag, a.Days, r)
			if !(math.Abs(a.OxygenPct-b.OxygenPct) <= 1e-9 && math.Abs(a.TakenML-b.TakenML) <= 1e-9 && math.Abs(a.PorePct-b.PorePct) <= 1e-9) {
				t.Errorf("%+v in the course, %+v alone", a, b)
			}
		}
	}
}

// The same at times of one's own, which may stand still but not go back.
func TestOxygenAt(t *testing.T) {
	days := []float64{0, 1.0 / 24, 1, 1, 30, 365}
	for _, r := range []Release{nil, release(1500, 0.2, 0.6)} {
		dst := make([]Aged, len(days))
		if err := OxygenAt(aBag, dst, days, r); err != nil {
			t.Fatal(err)
		}
		for i, a := range dst {
			if b := aged(t, aBag, days[i], r); !(math.Abs(a.OxygenPct-b.OxygenPct) <= 1e-9 && a.Days == days[i]) {
				t.Errorf("%+v together, %+v alone", a, b)
			}
		}
		for name, c := range map[string]struct {
			days []float64
			n    int
		}{"none": {nil, 0}, "too few": {days[:2], 3}, "back": {[]float64{1, 0.5}, 2}, "NaN": {[]float64{0, math.NaN()}, 2}, "late": {[]float64{3661}, 1}} {
			dst := make([]Aged, c.n)
			for i := range dst {
				dst[i].Days = 7
			}
			var input *InputError
			if err := OxygenAt(aBag, dst, c.days, r); !errors.As(err, &input) || c.n > 0 && dst[0] != (Aged{}) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	dst := make([]Aged, len(days))
	allocatesNothing(t, aBag, func(b Bag) (int, error) { return 0, OxygenAt(b, dst, days, nil) })
}

func TestDaysToDose(t *testing.T) {
	for _, r := range []Release{nil, release(1500, 0.2, 0.6)} {
		for _, days := range []float64{0.5, 7, 200} {
			dose := aged(t, aBag, days, r).TakenUGPerG
			got, err := DaysToDose(aBag, dose, 365, r)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "days", got, days, 1e-6)
		}
	}
	var none *ImpossibleError
	if d, err := DaysToDose(aBag, 1e5, 365, nil); !errors.As(err, &none) || d != 0 || none.Field != "doseUGPerG" {
		t.Errorf("%v, %v", d, err)
	} else if _, err := DaysToDose(aBag, none.Max, 365, nil); err != nil {
		t.Errorf("the dose it calls possible: %v", err)
	}
	for _, c := range [][2]float64{{0, 365}, {math.NaN(), 365}, {1, 0}, {1, 3661}, {1, math.Inf(1)}} {
		var input *InputError
		if _, err := DaysToDose(aBag, c[0], c[1], nil); !errors.As(err, &input) {
			t.Errorf("%v: %v", c, err)
		}
	}
}

func TestLifeRefusals(t *testing.T) {
	limits := []limit{
		{"FreeML", 1, 1e6}, {"CoffeeG", 1, 1e5}, {"TempC", -20, 60}, {"KPa", 50, 110}, {"OxygenPct", 0, 98}, {"CarbonDioxidePct", 0, 99},
		{"SlackML", 0, 1e6}, {"OpenKPa", 0, 50}, {"Film.OTRCCPerM2DayAtm", 0, 2e4}, {"Film.AreaM2", 0, 10}, {"Film.BagCCPerDayAtm", 0, 1e4},
		{"Film.OutsidePct", 0, 100}, {"Uptake.UGPerGDay", 0, 1000}, {"Uptake.AtPct", 0.01, 100}, {"Uptake.BendPerPct", 0, 1000},
		{"Pores.PoreML", 0, 1e5}, {"Pores.OxygenPct", 0, 100}, {"Pores.EvenPerDay", 0, 24},
	}
	plain := aBag
	plain.CarbonDioxidePct = 0
	after := func(b Bag) (Aged, error) { return OxygenAfter(b, 3, nil) }
	refuses(t, plain, after, append(append([]limit(nil), limits[:4]...), limit{"OxygenPct", 0, 100})...)
	refuses(t, aBag, after, limits[5:]...)
	for _, d := range []float64{-1e-9, math.Nextafter(3660, 4000), math.NaN(), math.Inf(1)} {
		var input *InputError
		if a, err := OxygenAfter(aBag, d, nil); !errors.As(err, &input) || a != (Aged{}) {
			t.Errorf("%v days: %+v, %v", d, a, err)
		}
	}
	dst := make([]Aged, 3)
	for _, step := range []float64{0, math.Nextafter(366, 400), math.NaN()} {
		dst[0].Days = 5
		if err := OxygenCourse(aBag, dst, step, nil); err == nil || dst[0] != (Aged{}) {
			t.Errorf("step %v: %+v, %v", step, dst[0], err)
		}
	}
	if err := OxygenCourse(aBag, make([]Aged, 3000), 2, nil); err == nil {
		t.Error("16 years are accepted")
	}
	if err := OxygenCourse(aBag, nil, 2, nil); err == nil {
		t.Error("no points are accepted")
	}
	for name, r := range map[string]Release{
		"negative":     func(d float64) float64 { return -d },
		"falling":      func(d float64) float64 { return 100*d - 20*d*d },
		"not a number": func(d float64) float64 { return math.Sqrt(2 - d) },
		"infinite":     func(d float64) float64 { return math.Inf(1) },
		"from nowhere": func(d float64) float64 { return 5 },
		"huge":         func(d float64) float64 { return 1e6 * d },
	} {
		for _, b := range []Bag{aBag, {FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 1}} {
			var input *InputError
			if a, err := OxygenAfter(b, 4, r); !errors.As(err, &input) || a != (Aged{}) {
				t.Errorf("a release that is %s: %+v, %v", name, a, err)
			}
		}
	}
}

// A release from a table has a corner at each of its rows. Between them the
// film and a steady sweep have the closed form of above.
func TestReleaseWithCorners(t *testing.T) {
	b := Bag{FreeML: 750, CoffeeG: 340, TempC: 0, KPa: SeaLevelKPa, OxygenPct: 1, Film: Film{20, 0.08, 0, AirOxygenPct}}
	g := 20 * 0.08
	for _, every := range []float64{0.07, 0.5, 1, 3.3552816254552122, 13} { // days between rows
		table := []float64{0}
		rates := []float64{}
		for i := 0; float64(i)*every < 60; i++ {
			rates = append(rates, 80/(1+float64(i%7)*every))
			table = append(table, table[i]+every*rates[i])
		}
		q := func(d float64) float64 {
			i := min(int(d/every), len(rates)-1)
			return table[i] + (d-float64(i)*every)*rates[i]
		}
		pct, at := 1.0, 0.0
		for i, rate := range rates {
			to := math.Min(float64(i+1)*every, 60)
			l := (g + rate) / 750
			steady := g * AirOxygenPct / (g + rate)
			pct = steady + (pct-steady)*math.Exp(-l*(to-at))
			at = to
		}
		near(t, "oxygen by a table", aged(t, b, 60, q).OxygenPct, pct, 1e-9)
	}
}

// A few litres of pores evening out with next to no headspace within moments,
// followed for ten years: stiff, and no trouble. So much pore gas keeps its
// oxygen, and what is swept out has it.
func TestStiffExchange(t *testing.T) {
	b := Bag{FreeML: 1, CoffeeG: 1, TempC: 20, KPa: 100, OxygenPct: 1, OpenKPa: 1, Pores: PoreGas{1e5, 10, 24}}
	calls := 0
	a := aged(t, b, 3660, func(d float64) float64 { calls++; return 0.01 * d })
	near(t, "vented", a.VentedML, a.GasVentedML*0.1/1.01, 1e-3) // the valve opens at 1 % over; the pores fall from 10 to 9.996 %
	near(t, "pores", a.PoreHeldML, 1e4-a.VentedML, 1e-5)
	if calls > 2000 {
		t.Errorf("the release was asked %d times", calls)
	}
}

// What would take too many steps says how far it came, and that is so.
func TestTooManySteps(t *testing.T) {
	r := func(d float64) float64 { return math.Floor(100*d) / 100 }
	var none *ImpossibleError
	named := func(err error, field, given string, least float64) bool {
		t.Helper()
		if !errors.As(err, &none) || none.Field != field || none.Given != given || none.Min != least || !(none.Max >= least) {
			t.Errorf("%v; want %s, given %s, from %v", err, field, given, least)
			return false
		}
		return true
	}
	possible := func(err error) {
		t.Helper()
		if err != nil {
			t.Errorf("called possible: %v", err)
		}
	}
	a, err := OxygenAfter(aBag, 3660, r)
	if a != (Aged{}) || !named(err, "days", "3660", 0) || none.Max < 6 {
		t.Fatalf("%+v, %v", a, err)
	}
	reached := none.Max
	possible(second(OxygenAfter(aBag, 0, r)))
	possible(second(OxygenAfter(aBag, reached, r)))
	dst := make([]Aged, 4)
	if named(OxygenCourse(aBag, dst, 366, r), "stepDays", "366", 1e-6) {
		possible(OxygenCourse(aBag, dst, none.Max, r))
	}
	days := []float64{1, 2, 5, 3660}
	if named(OxygenAt(aBag, dst, days, r), "days[3]", "3660", 5) {
		days[3] = none.Max
		possible(OxygenAt(aBag, dst, days, r))
	}
	if named(OxygenAt(aBag, dst, []float64{1, 2, 3000, 3660}, r), "days", "4", 1) && none.Max != 2 {
		t.Errorf("days that are reached: %v", none)
	}
	possible(OxygenAt(aBag, dst[:2], []float64{1, 2}, r))
	named(OxygenAt(aBag, dst[:2], []float64{3000, 3660}, r), "", "", 0)
	d, err := DaysToDose(aBag, 1e5, 3660, r)
	if named(err, "doseUGPerG", "100000", 0.01) && d == 0 {
		possible(second(DaysToDose(aBag, none.Min, 3660, r)))
		possible(second(DaysToDose(aBag, none.Max, 3660, r)))
	}
}

// A release that falls and is up again at each sixteenth of the time is seen to
// fall where the course is integrated, and where the days asked for are held
// against each other; one that falls by rounding alone is not called falling.
func TestFallBetweenSixteenths(t *testing.T) {
	wave := func(d float64) float64 { s := math.Sin(math.Pi * d); return 200 * s * s }
	for i := range 16 {
		if wave(15.5*float64(i+1)/16) < wave(15.5*float64(i)/16) {
			t.Fatal("not made for this test")
		}
	}
	b := Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 1, OpenKPa: 1}
	half := make([]Aged, 32)
	falls := func(name string, err error) {
		t.Helper()
		var input *InputError
		if !errors.As(err, &input) || !strings.HasPrefix(input.Fields[0].Field, "Release(") || !strings.Contains(input.Fields[0].Why, "never falling") {
			t.Errorf("%s: %v", name, err)
		}
	}
	falls("a sweep by the half day", OxygenCourse(b, half, 0.5, wave))
	b.Film = Film{AreaM2: 0.1, OTRCCPerM2DayAtm: 1, OutsidePct: 20.9}
	falls("with a film", second(OxygenAfter(b, 15.5, wave)))
	b.Uptake = Uptake{UGPerGDay: 1, AtPct: 21}
	falls("with a dose", second(DaysToDose(b, 1e5, 15.5, wave)))
	// 1500 mL, up and down by the last digit or two.
	rough := func(d float64) float64 {
		if d == 0 {
			return 0
		}
		return 1500 * (1 - 4e-16*math.Abs(math.Sin(1e6*d)))
	}
	days := make([]float64, 200)
	for i := range days {
		days[i] = 15.5 * float64(i) / 199
	}
	still := b
	still.Film, still.Uptake = Film{}, Uptake{}
	for name, b := range map[string]Bag{"integrated": b, "a sweep alone": still} {
		r := newRun(b, rough)
		if r.exact != (name == "a sweep alone") {
			t.Fatal(name)
		}
		for i := 1; i < len(days); i++ {
			if r.fell(rough(days[i-1]), rough(days[i]), days[i]) {
				t.Errorf("%s: %v", name, r.fault)
			}
		}
		if !r.fell(1500, 1500*(1-1e-11), 1) || r.fault == nil {
			t.Errorf("%s: a fall is none", name)
		}
	}
}

func TestFilmRefusals(t *testing.T) {
	refuses(t, Layer{1.2, 12}, FilmOTR, limit{"PermCCMMPerM2DayAtm", 1e-6, 1e4}, limit{"ThicknessUM", 0.1, 5000})
	refuses(t, Dose{750, 1, 340, GasState{20, 101}}, OxygenDose, limit{"FreeML", 0.1, 1e9}, limit{"OxygenPct", 0, 100}, limit{"CoffeeG", 1, 1e5}, limit{"State.TempC", -40, 150}, limit{"State.KPa", 1, 5000})
	for _, l := range [][]float64{nil, make([]float64, 21), {1, 0}, {math.NaN()}, {math.Inf(1), 1}, {1e-7}} {
		var input *InputError
		if v, err := LaminateOTR(l); !errors.As(err, &input) || v != 0 {
			t.Errorf("%v: %v, %v", l, v, err)
		}
	}
	// A laminate is tighter than its tightest layer, and order is nothing to it.
	a, e1 := LaminateOTR([]float64{105, 8000, 2})
	b, e2 := LaminateOTR([]float64{2, 105, 8000})
	if e1 != nil || e2 != nil || a >= 2 || math.Abs(a-b) > 1e-12 {
		t.Errorf("%v, %v, %v, %v", a, b, e1, e2)
	}
	// Twice the thickness is two layers.
	one, _ := FilmOTR(Layer{1.2, 12})
	two, _ := FilmOTR(Layer{1.2, 24})
	pair, _ := LaminateOTR([]float64{one, one})
	near(t, "two layers", pair, two, 1e-14)
}

func TestLifeAllocations(t *testing.T) {
	allocatesNothing(t, aBag, func(b Bag) (Aged, error) { return OxygenAfter(b, 30, nil) })
	allocatesNothing(t, Layer{1.2, 12}, FilmOTR)
	allocatesNothing(t, Dose{750, 1, 340, GasState{20, 101}}, OxygenDose)
	layers := []float64{105, 8000}
	allocatesNothing(t, layers, LaminateOTR)
}

func FuzzOxygenAfter(f *testing.F) {
	f.Add(750.0, 340.0, 20.0, 101.3, 1.0, 120.0, 1.0, 0.6, 0.08, 1.5, 0.5, 140.0, 0.8, 30.0, 1500.0)   // a bag
	f.Add(0.75, 0.34, 293.0, 1013.0, 0.01, 0.0, 10.0, 0.0006, 800.0, 1.5, 0.0, 0.0, 0.0, 30.0, 1.5)    // wrong units
	f.Add(1.0, 1e5, 60.0, 110.0, 100.0, 0.0, 0.0, 2e4, 10.0, 1000.0, 1000.0, 1e5, 24.0, 3660.0, 499.0) // stiff
	f.Add(1e6, 1.0, -20.0, 50.0, 0.0, 1e6, 50.0, 0.0, 0.0, 0.0, 0.0, 1e-300, 1e-300, 1e-300, 1e8)      // nearly nothing
	f.Fuzz(func(t *testing.T, free, coffee, c, kpa, oxygen, slack, open, otr, area, up, bend, pore, even, days, co2 float64) {
		b := Bag{free, coffee, c, kpa, oxygen, 0, slack, open, Film{otr, area, 0, AirOxygenPct}, Uptake{up, 1, bend}, PoreGas{pore, 10, even}}
		a, err := OxygenAfter(b, days, nil)
		judged(t, a, err)
		a, err = OxygenAfter(b, days, release(co2, 0.2, 0.6))
		judged(t, a, err)
		if err == nil && (a.OxygenPct < -1e-9 || a.OxygenPct > 100.0001*(1+open)) {
			t.Fatalf("%+v", a)
		}
	})
}

// A bag that is wrong in itself and in what is asked of it is told both.
func TestAllFaultsOfABag(t *testing.T) {
	want := []string{"FreeML", "CoffeeG", "KPa"}
	for name, c := range map[string]struct {
		err  error
		more []string
	}{
		"OxygenAfter":  {second(OxygenAfter(Bag{}, -1, nil)), []string{"days"}},
		"OxygenAt":     {OxygenAt(Bag{}, make([]Aged, 2), []float64{3, 2}, nil), []string{"days[1]"}},
		"OxygenCourse": {OxygenCourse(Bag{}, nil, 0, nil), []string{"dst", "stepDays"}},
		"DaysToDose":   {second(DaysToDose(Bag{}, 0, 0, nil)), []string{"Uptake.UGPerGDay", "doseUGPerG", "lastDays"}},
	} {
		var input *InputError
		if !errors.As(c.err, &input) {
			t.Errorf("%s: %v", name, c.err)
			continue
		}
		var got []string
		for _, f := range input.Fields {
			got = append(got, f.Field)
		}
		if diff := cmp.Diff(append(slices.Clone(want), c.more...), got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// What is left of oxygen after years is nothing, not less; it can be given back.
func TestNoOxygenBelowZero(t *testing.T) {
	for _, bend := range []float64{0, 0.3, 1000} {
		b := Bag{FreeML: 400, CoffeeG: 250, TempC: 22, KPa: 98, OxygenPct: 20.9, Uptake: Uptake{100, 5, bend}}
		for _, r := range []Release{nil, release(1200, 0.3, 0.7)} {
			for d := 0.0; d <= 3660; d += 30 {
				a := aged(t, b, d, r)
				if a.OxygenPct < 0 || a.PorePct < 0 || a.HeldML < 0 || a.VentedML < 0 || a.VentedML > a.GasVentedML {
					t.Fatalf("bend %v, day %v: %+v", bend, d, a)
				}
			}
		}
	}
}

// What a bag's life costs is how often the release is asked, the dearer where it
// starts infinitely fast. A bag that becomes taut between two questions costs
// twice as many where its corner is not looked for.
func TestFewQuestions(t *testing.T) {
	for _, c := range []struct {
		name        string
		r           Release
		bare, pores int
	}{
		{"saturating", func(d float64) float64 { return 1500 * d / (5 + d) }, 190, 240},
		{"too little for a taut bag", release(100, 0.2, 0.6), 450, 520},
		{"stretched", release(1500, 0.2, 0.6), 520, 600},
		{"stretched, four times as much", release(6000, 0.2, 0.6), 520, 630},
	} {
		for _, pores := range []PoreGas{{}, aBag.Pores} {
			b, most := aBag, c.bare
			if b.Pores = pores; pores != (PoreGas{}) {
				most = c.pores
			}
			asked := 0
			aged(t, b, 90, func(d float64) float64 { asked++; return c.r(d) })
			if asked > most {
				t.Errorf("%s, pores %v: asked %d times, not %d", c.name, pores, asked, most)
			}
		}
	}
}
