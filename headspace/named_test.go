package headspace

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

func second[T any](_ T, err error) error { return err }

// What is refused is told with its field, its value and what would do, word
// for word; the numbers that are not limits are worked beside them.
func TestRefusalsWordForWord(t *testing.T) {
	course := func(n int, step float64) error { return OxygenCourse(aBag, make([]Aged, n), step, nil) }
	at := func(n int, days ...float64) error { return OxygenAt(aBag, make([]Aged, n), days, nil) }
	bag := Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 1}
	const release = " mL; accepted: 0 to 1000000000 mL (finite, not negative, 0 at 0, never falling, at most 500 headspaces in all)"
	released := func(days float64, r Release) error { return second(OxygenAfter(bag, days, r)) }
	meter := func(zeroRaw, zeroTrue, spanRaw, spanTrue float64) error {
		c := Calibration{zeroRaw, zeroTrue, spanRaw, spanTrue}
		return second(CorrectReading(Meter{RawPct: 1, Before: c, After: Calibration{0, 0, 20, 20}, SpanKPa: 100, ReadKPa: 100}))
	}
	steps := func(s ...Step) error { return second(AfterSteps(Space{750, 20, 100, Mix{20, 79, 0}}, s)) }
	few := bags(nil, 0, 0, 0.1, 5, 40, 41)
	blind := bags(nil, 90, 0, 0, 0.5, 0.6, 0.7)
	for want, err := range map[string]error{
		"no headspace: the beans alone fill the bag; CoffeeG is 340 g, possible with 1 to 339.99999999999994 g":                                               second(FreeVolume(Fill{425, 340, 0.8})),
		"BeanGPerML is 0.4 g/mL; accepted: 0.5 to 1.5 g/mL (a bulk density, below 0.5 g/mL, already holds the gaps)":                                          second(FreeVolume(Fill{425, 340, 0.4})),
		"BeanGPerML is 0.4975 g/mL; accepted: 0.5 to 1.5 g/mL (a bulk density, below 0.5 g/mL, already holds the gaps)":                                       second(FreeVolume(Fill{425, 340, 0.4975})),
		"BeanGPerML is 0.001 g/mL; accepted: 0.5 to 1.5 g/mL (a bulk density, below 0.5 g/mL, already holds the gaps)":                                        second(FreeVolume(Fill{425, 340, 0.001})),
		"BeanGPerML is 1.6 g/mL; accepted: 0.5 to 1.5 g/mL":                                                                                                   second(FreeVolume(Fill{425, 340, 1.6})),
		"BeanGPerML is 0 g/mL; accepted: 0.5 to 1.5 g/mL":                                                                                                     second(FreeVolume(Fill{425, 340, 0})),
		"CoffeeG is 0 g; accepted: 1 to 100000 g; BeanGPerML is 0.4 g/mL; accepted: 0.5 to 1.5 g/mL (a bulk density, below 0.5 g/mL, already holds the gaps)": second(FreeVolume(Fill{425, 0, 0.4})),
		"HeightMM is 100 mm; accepted: 130 to 5000 mm (the width is the shorter side)":                                                                        second(PillowBag(Pillow{130, 100})),
		"FilledG is 25 g; accepted: 30 to 200000 g (the water weighs at least 10 g)":                                                                          second(WaterFilled(WaterFill{20, 25, 20})),
		"BeanGPerML is 0.7 g/mL; accepted: 0.7000000000000001 to 1.5 g/mL (a bean is denser than its heap)":                                                   second(VoidShare(Heap{0.7, 0.7})),
		// 100 + 1000 − 100·1.2/0.3 and − 100·1.2/2
		"no particle density: the weighings give a density outside 0.3 to 2 g/mL; TogetherG is 1100 g, possible with 700 to 1040 g": second(BeanDensity(Displacement{100, 1000, 1100, 1.2, 0})),
		"no particle density: the weighings give a density outside 0.3 to 2 g/mL; TogetherG is 1101 g, possible with 700 to 1040 g": second(BeanDensity(Displacement{100, 1000, 1101, 1.2, 0})),
		"no particle density: the weighings give a density outside 0.3 to 2 g/mL; TogetherG is 600 g, possible with 700 to 1040 g":  second(BeanDensity(Displacement{100, 1000, 600, 1.2, 0})),

		"no gas volume: the purge gas itself holds 0.5 % oxygen and no purging goes below that; TargetPct is 0.3 %, possible with 0.5000000000000001 to 20.9 %": second(SweepFor(Target{20.9, 0.5, 750, 0.3})),
		"LowKPa is 120 kPa; accepted: 0.01 to 99.99999999999999 kPa (below the higher pressure; both absolute)":                                                 second(AfterCycles(Cycles{20.9, 0, 750, 120, 100, 20, 1})),
		"LowKPa is 100 kPa; accepted: 0.01 to 99.99999999999999 kPa (below the higher pressure; both absolute)":                                                 second(AfterCycles(Cycles{20.9, 0, 750, 100, 100, 20, 1})),

		"stepDays is 11 d; accepted: 1e-06 to 10 d (the last point is at most 3660 days after sealing)": course(367, 11),
		"dst is 0 points; accepted: 1 to 2147483647 points":                                             course(0, 1),
		"stepDays is 367 d; accepted: 1e-06 to 366 d":                                                   course(2, 367),
		"days[1] is 3 d; accepted: 5 to 3660 d":                                                         at(3, 5, 3, 6),
		"days[0] is -1 d; accepted: 0 to 3660 d; days[2] is 3661 d; accepted: 4 to 3660 d":              at(3, -1, 4, 3661),
		"days is 3 days; accepted: 2 to 2 days":                                                         at(2, 1, 2, 3),
		"days is 0 days; accepted: 1 to 1 days":                                                         at(0),
		"OxygenPct is 101 %; accepted: 0 to 100 %":                                                      second(OxygenAfter(Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 101, CarbonDioxidePct: 100}, 1, nil)),
		"CarbonDioxidePct is 80 %; accepted: 0 to 75 %":                                                 second(OxygenAfter(Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 25, CarbonDioxidePct: 80}, 1, nil)),

		// A release is looked at in sixteenths of the time, from the first to the last.
		"Release(0) is 5" + release:        released(16, func(float64) float64 { return 5 }),
		"Release(0.25) is -0.25" + release: released(4, func(d float64) float64 { return -d }),
		"Release(2) is 20" + release: released(16, func(d float64) float64 {
			if d > 0 && d < 1.5 {
				return 50
			}
			return 10 * d
		}),
		"Release(16) is 14" + release: released(16, func(d float64) float64 {
			if d == 16 {
				return 14
			}
			return d
		}),

		"no nozzle: fewer than 2 readings stand clear of the meter's resolution; ResolutionPct is 0.1 %, possible with 0.0001 to 0.03333333333333333 %":                     second(FitNozzle(few)),
		"no nozzle: every nozzle explains these readings equally well, or none does: add bags with more and with less gas; Readings is 3 bags, possible with 4 to 500 bags": second(FitNozzle(blind)),
		"SupplyPct is 1 %; accepted: 0 to 0.9999999999999999 % (below the oxygen before, or the readings tell nothing)":                                                     second(FitNozzle(Trial{1, 1, 0.1, blind.Readings})),

		"Before.SpanRawPct is 5 %; accepted: 10.5 to 110 % (at least 0.5 above the zero point)":                                                      meter(10, 0, 5, 20),
		"Before.SpanTruePct is 5 %; accepted: 10.5 to 100 % (at least 0.5 above the zero gas)":                                                       meter(0, 10, 20, 5),
		"Before.ZeroRawPct is -3 %; accepted: -2 to 109.5 %; Before.SpanRawPct is -2 %; accepted: -1.5 to 110 % (at least 0.5 above the zero point)": meter(-3, 0, -2, 20),
		"Before.ZeroTruePct is -3 %; accepted: 0 to 99.5 %; Before.SpanTruePct is 0 %; accepted: 0.5 to 100 % (at least 0.5 above the zero gas)":     meter(0, -3, 20, 0),
		"LimitPct is 0.5 %; accepted: 1 to 20 % (not below the excellent limit)":                                                                     second(JudgeOxygen(Case{1.2, 0.05, 2, 1, 0.5})),
		"ExcellentPct is 21 %; accepted: 0.01 to 20 %; LimitPct is 0 %; accepted: 0.01 to 20 % (not below the excellent limit)":                      second(JudgeOxygen(Case{1.2, 0.05, 2, 21, 0})),

		"no fresh air: the air outside holds no less carbon dioxide than the level; LevelPPM is 512 ppm, possible with 512.0000000000001 to 1000000 ppm": second(FreshAirFor(FreshAir{0.02, 512, 512})),
		"LevelPct is 21 %; accepted: 1 to 20 %":                                           second(LeakAllowed(Allowance{30, BlownIn, 20, 21})),
		"OutsidePct is 5 %; accepted: 10 to 100 %; LevelPct is 0 %; accepted: 1 to 100 %": second(LeakAllowed(Allowance{30, BlownIn, 5, 0})),
		// 30 of 21 % and 3 of none: 630/33 = 19.09…, here 30 and 12: 15 %
		"no time to that oxygen: the room settles at 15 % and never passes the level; levelPct is 14 %, possible with 15.000000000000002 to 21 %":                            second(HoursToOxygen(Leak{60, 12, 30, BlownIn, 21, 21, 1, 0}, 14)),
		"no time to that oxygen: the room settles at 15 % and never passes the level; levelPct is 15 %, possible with 15.000000000000002 to 21 %":                            second(HoursToOxygen(Leak{60, 12, 30, BlownIn, 21, 21, 1, 0}, 15)),
		"no time to that oxygen: the room is below the level from the start and stays there: it settles at 15 %; levelPct is 22 %, possible with 15.000000000000002 to 21 %": second(HoursToOxygen(Leak{60, 12, 30, BlownIn, 21, 21, 1, 0}, 22)),

		"LeaveBar is 201 bar; accepted: 0 to 200 bar (not above the pressure at the gauge)":                                             second(CylinderContent(Cylinder{50, 200, 201, 15, SeaLevelKPa, GasState{15, 100}})),
		"GaugeBar is 301 bar; accepted: 0 to 300 bar; LeaveBar is -1 bar; accepted: 0 to 300 bar (not above the pressure at the gauge)": second(CylinderContent(Cylinder{50, 301, -1, 15, SeaLevelKPa, GasState{15, 100}})),
		"no bags: the cylinder holds less than one bag takes; BagL is 2.01 L, possible with 0.0001 to 2 L":                              second(CylinderLife(Draught{0.002, 2.01, 60, decimal.Zero})),

		"Mix.CarbonDioxidePct is 10 %; accepted: 0 to 9 % (the gases together are at most 100 %)": second(AfterSteps(Space{750, 20, 100, Mix{21, 70, 10}}, nil)),
		"Mix.CarbonDioxidePct is 0 %; accepted: 0 to 0 % (the gases together are at most 100 %)":  second(AfterSteps(Space{750, 20, 100, Mix{60, 50, 0}}, nil)),
		"steps[0].ToKPa is 99 kPa; accepted: 100 to 5000 kPa (a fill goes up)":                    steps(Step{Kind: FillStep, ToKPa: 99}),
		"steps[0].ToKPa is 101 kPa; accepted: 0.01 to 100 kPa (a vent goes down)":                 steps(Step{Kind: VentStep, ToKPa: 101}),
		"steps[1].ToKPa is 49 kPa; accepted: 50 to 5000 kPa (a fill goes up)":                     steps(Step{Kind: VentStep, ToKPa: 50}, Step{Kind: FillStep, ToKPa: 49}),
		"steps[0].ToKPa is 6000 kPa; accepted: 100 to 5000 kPa (a fill goes up); steps[1].ToKPa is 5500 kPa; accepted: 0.01 to 5000 kPa (a vent goes down)": steps(
			Step{Kind: FillStep, ToKPa: 6000}, Step{Kind: VentStep, ToKPa: 5500}),
		"steps[0].ToKPa is 0 kPa; accepted: 0.01 to 100 kPa (a vent goes down); steps[1].ToKPa is 0 kPa; accepted: 0.01 to 5000 kPa (a fill goes up)": steps(
			Step{Kind: VentStep, ToKPa: 0}, Step{Kind: FillStep, ToKPa: 0}),
		"steps[0].GasML is -1 mL; accepted: 0 to 1000000000000 mL; steps[0].NozzlePct is 101 %; accepted: -99 to 100 %": steps(Step{Kind: SweepStep, GasML: -1, NozzlePct: 101}),
		"steps[0].Kind is 4; accepted: 1 to 3":                                   steps(Step{Kind: 4}),
		"steps is 1001 steps; accepted: 0 to 1000 steps":                         steps(make([]Step, 1001)...),
		"layers is 21 layers; accepted: 1 to 20 layers":                          second(LaminateOTR(make([]float64, 21))),
		"layers is 0 layers; accepted: 1 to 20 layers":                           second(LaminateOTR(nil)),
		"layers[1] is 0 cc/(m²·d·atm); accepted: 1e-06 to 1000000 cc/(m²·d·atm)": second(LaminateOTR([]float64{1, 0, 5})),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
}

// From near both sides of the borders that no exact value meets, and at those
// that one does.
func TestBordersFromNear(t *testing.T) {
	ok := func(name string, want bool, err error) {
		t.Helper()
		if (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
	dense := func(rho float64) error { return second(BeanDensity(Displacement{100, 1000, 1100 - 100/rho, 1, 0})) }
	for rho, want := range map[float64]bool{0.2985: false, 0.3015: true, 1.5: true, 1.99: true, 2.01: false, 2.5: false} {
		ok("a density", want, dense(rho))
	}
	ok("height as width", true, second(PillowBag(Pillow{130, 130})))
	ok("just 10 g of water", true, second(WaterFilled(WaterFill{20, 30, 20})))
	ok("a course to the last day", true, OxygenCourse(aBag, make([]Aged, 367), 10, nil))
	ok("one layer", true, second(LaminateOTR([]float64{5})))
	ok("twenty layers", true, second(LaminateOTR([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})))
	thousand := make([]Step, 1000)
	for i := range thousand {
		thousand[i] = Step{Kind: SweepStep, Supply: clean, GasML: 1}
	}
	ok("a thousand steps", true, second(AfterSteps(aSpace, thousand)))
	ok("a fill to the same pressure", true, second(AfterSteps(aSpace, []Step{{Kind: FillStep, Supply: clean, ToKPa: aSpace.KPa}})))
	for share, want := range map[float64]bool{0.995e-12: true, 1.005e-12: false} {
		ok("gases together", want, second(AfterSteps(Space{750, 20, 100, Mix{50, 50 + 100*share, 0}}, nil)))
	}
	// 500 headspaces, and 1e9 mL from a bag that takes more.
	bag := Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 1}
	big := Bag{FreeML: 1e6, CoffeeG: 340, TempC: 20, KPa: 50, OxygenPct: 1, SlackML: 1e6, OpenKPa: 50}
	for q, want := range map[float64]bool{499.5 * 750: true, 500.5 * 750: false} {
		ok("headspaces", want, second(OxygenAfter(bag, 1, func(d float64) float64 { return q * d })))
	}
	for q, want := range map[float64]bool{1e9 - 0.5: true, 1e9: true, 1e9 + 0.5: false} {
		ok("mL in all", want, second(OxygenAfter(big, 1, func(d float64) float64 { return q * d })))
	}
	// One bag exactly, one and two thirds, and not quite one.
	for bagL, want := range map[float64]int{1: 1, 0.6: 1, 0.5: 2, 1.005: 0} {
		s, err := CylinderLife(Draught{0.001, bagL, 60, decimal.RequireFromString("2")})
		if s.Bags != want || (err == nil) != (want > 0) {
			t.Errorf("bags of %v L: %+v, %v", bagL, s, err)
		}
	}
	s, err := CylinderLife(Draught{0.003, 1, 60, decimal.RequireFromString("2")}) // 2/3
	if err != nil || s.CostPerBag.String() != "0.6667" {
		t.Errorf("%+v, %v", s, err)
	}
	for k := 1; k < 2000; k++ { // as many bags as were filled, whatever the rounding
		if s, err := CylinderLife(Draught{float64(k) * 0.0026, 2.6, 60, decimal.Zero}); err != nil || s.Bags != k {
			t.Fatalf("%d bags: %+v, %v", k, s, err)
		}
	}
	// Each flush halves: left = 2⁻ⁿ. A billionth above a whole number is that number.
	for exact, want := range map[float64]int{3: 3, 3 + 2.97e-9: 3, 3 + 3.03e-9: 4, 3 - 1e-9: 3, 2.5: 3, 2.2: 3, 1 + 0.99e-9: 1, 1 + 1.5e-9: 2, 5e-10: 0, 0.2: 1} {
		f, err := FlushesFor(FlushTarget{100, 0, 750, 100 * math.Exp2(-exact), 750})
		if err != nil || f.Count != want || math.Abs(f.Exact-exact) > 1e-14 {
			t.Errorf("%v flushes: %+v, %v", exact, f, err)
		}
	}
	// The most flushes and cycles that are counted.
	var none *ImpossibleError
	if err := second(FlushesFor(FlushTarget{20, 0, 1000, 1, 1e-6})); !errors.As(err, &none) || none.Field != "FlushML" || none.Max != 1e12 {
		t.Fatal(err)
	}
	for share, want := range map[float64]bool{1 + 1e-8: true, 1 - 1e-8: false} {
		f, err := FlushesFor(FlushTarget{20, 0, 1000, 1, none.Min * share})
		ok("flushes", want, err)
		if want && math.Abs(float64(f.Count)-1e6) > 1 {
			t.Errorf("%+v", f)
		}
	}
	if err := second(CyclesFor(CycleTarget{20, 0, 1000, 1, 99.9999999, 100})); !errors.As(err, &none) || none.Field != "LowKPa" || none.Min != 0.01 {
		t.Fatal(err)
	}
	for share, want := range map[float64]bool{1 - 1e-13: true, 1 + 1e-13: false} {
		ok("cycles", want, second(CyclesFor(CycleTarget{20, 0, 1000, 1, none.Max * share, 100})))
	}
	// Nine tenths of a sample may be outside air: 0.1005 and 0.0995 of bag gas.
	for share, want := range map[float64]bool{0.1005: true, 0.0995: false, 0.5: true} {
		ok("share of the bag, by what it gives", want, second(BagOxygen(Draw{5, 20.9, 100, 100 * share, 0})))
		ok("share of the bag, by the line", want, second(BagOxygen(Draw{5, 20.9, 100, 500, -100 / math.Log1p(-share)})))
	}
	for share, want := range map[float64]Notes{9.95: 0, 10.05: AirInSample} {
		d, err := BagOxygen(Draw{5, 20.9, 100, 100 - share, 0})
		if err != nil || d.Notes != want || math.Abs(d.AirShare-share) > 1e-9 {
			t.Errorf("%v %% of air: %+v, %v", share, d, err)
		}
	}
	// The ends that a refused draw names are ends: there a tenth is of the bag.
	for _, d := range []Draw{{5, 20.9, 0.1, 50, 4}, {5, 20.9, 1000, 50, 4}} {
		if err := second(BagOxygen(d)); !errors.As(err, &none) || none.Field != "DrawML" {
			t.Fatalf("%+v: %v", d, err)
		}
		d.DrawML = none.Min * 1.0001
		ok("the least draw", true, second(BagOxygen(d)))
		d.DrawML = none.Min * 0.9999
		ok("less than it", false, second(BagOxygen(d)))
		d.DrawML = none.Max * 0.9999
		ok("the greatest draw", true, second(BagOxygen(d)))
	}
	// No draw will do: a line of which the draw replaces a third, for 3 mL of which
	// the bag gives 1; a bag that gives a fifth, where the line leaves a half.
	for _, c := range []struct {
		d    Draw
		want ImpossibleError
	}{
		{Draw{5, 20.9, 3, 1, 100}, ImpossibleError{Field: "LineML", Given: "100", Min: 0, Max: -3 / math.Log1p(-0.3)}},
		{Draw{5, 20.9, 100, 5, -100 / math.Log1p(-0.5)}, ImpossibleError{Field: "GiveML", Given: "5", Min: 20, Max: 1e6}},
		{Draw{5, 20.9, 10, 0.5, 100}, ImpossibleError{}}, // neither alone
	} {
		if err := second(BagOxygen(c.d)); !errors.As(err, &none) || none.Field != c.want.Field || none.Given != c.want.Given ||
			math.Abs(none.Min-c.want.Min) > 1e-9 || math.Abs(none.Max-c.want.Max) > 1e-9 {
			t.Errorf("no draw will do: %+v: %v, want %+v", c.d, err, c.want)
		}
	}
	// Limits of a verdict, with numbers that binary holds: 0.25 of margin.
	for oxygen, want := range map[float64]Verdict{0.5: Excellent, 0.75: Acceptable, 1.5: Acceptable, 1.75: Undecided, 2: Undecided, 2.125: Undecided, 2.25: TooMuch} {
		if v, err := JudgeOxygen(Case{oxygen, 0.125, 2, 1, 2}); err != nil || v != want {
			t.Errorf("%v %%: %v, %v", oxygen, v, err)
		}
	}
	for rho, want := range map[float64]Notes{0.62: 0, 0.94: 0, math.Nextafter(0.62, 0): UnusualDensity, math.Nextafter(0.94, 1): UnusualDensity} {
		if f, err := FreeVolume(Fill{1000, 100, rho}); err != nil || f.Notes != want {
			t.Errorf("%v g/mL: %v, %v", rho, f.Notes, err)
		}
	}
	for rho, want := range map[float64]Notes{0.625: 0, 0.615: UnusualDensity, 0.935: 0, 0.945: UnusualDensity} {
		if d, err := BeanDensity(Displacement{100, 1000, 1100 - 100/rho, 1, 0}); err != nil || d.Notes != want {
			t.Errorf("%v g/mL: %v, %v", rho, d.Notes, err)
		}
	}
}

// Equations of state and their constants, written a second time in the form in
// which they are printed. It guards the digits against a slip of the hand; it
// is no second source.
func TestSecondCopies(t *testing.T) {
	// Span, Lemmon, Jacobsen, Wagner and Yokozeki, 2000, table of coefficients:
	// n, i, j, l of Σ n·δ^i·τ^j·exp(−δ^l).
	n := []float64{0.924803575275, -0.492448489428, 0.661883336938, -1.92902649201, -0.622469309629e-1, 0.349943957581,
		0.564857472498, -1.61720005987, -0.481395031883, 0.421150636384, -0.161962230825e-1, 0.172100994165, 0.735448924933e-2, 0.168077305479e-1,
		-0.107626664179e-2, -0.137318088513e-1, 0.635466899859e-3, 0.304432279419e-2, -0.435762336045e-1, -0.723174889316e-1, 0.389644315272e-1,
		-0.212201363910e-1, 0.408822981509e-2, -0.551990017984e-4, -0.462016716479e-1, -0.300311716011e-2, 0.368825891208e-1, -0.255856846220e-2,
		0.896915264558e-2, -0.441513370350e-2, 0.133722924858e-2, 0.264832491957e-3}
	ii := []float64{1, 1, 2, 2, 3, 3, 1, 1, 1, 3, 3, 4, 6, 6, 7, 7, 8, 8, 1, 2, 3, 4, 5, 8, 4, 5, 5, 8, 3, 5, 6, 9}
	jj := []float64{0.25, 0.875, 0.5, 0.875, 0.375, 0.75, 0.5, 0.75, 2, 1.25, 3.5, 1, 0.5, 3, 0, 2.75, 0.75, 2.5, 4, 6, 6, 3, 3, 6, 16, 11, 15, 12, 12, 7, 4, 16}
	ll := []float64{0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4}
	// δ·∂α/∂δ: each term times i − l·δ^l.
	slope := func(d, tau float64) float64 {
		sum := 0.0
		for k := range n {
			dl, e := 0.0, 1.0
			if ll[k] > 0 {
				dl = math.Pow(d, ll[k])
				e = math.Exp(-dl)
			}
			sum += n[k] * math.Pow(d, ii[k]) * math.Pow(tau, jj[k]) * e * (ii[k] - ll[k]*dl)
		}
		return sum
	}
	for _, c := range []float64{-40, 0, 15, 60, 150} {
		for _, kPa := range []float64{100, 5000, 20_000, 35_000} {
			z, err := NitrogenZ(GasState{c, kPa})
			if err != nil {
				t.Fatal(err)
			}
			k := c + 273.15
			rho := kPa / (z * 8.31446261815324 * k) // mol/L
			near(t, "pressure of nitrogen", rho*8.31451*k*(1+slope(rho/11.1839, 126.192/k)), kPa, 2e-13)
		}
	}
	// Water vapour, ASHRAE Fundamentals, ch. 1, eq. 6, through moist room air.
	for c := 0.0; c <= 60; c += 7.5 {
		got, err := AirOxygen(RoomAir{c, 100, 100})
		if err != nil {
			t.Fatal(err)
		}
		k := c + 273.15
		e := math.Exp(-0.58002206e4/k+0.13914993e1-0.48640239e-1*k+0.41764768e-4*k*k-0.14452093e-7*math.Pow(k, 3)+0.65459673e1*math.Log(k)) / 1000
		near(t, "oxygen of wet air", got, 20.946*(1-e/100), 1e-14)
	}
	// Water, Tanaka and others, Metrologia 38, 2001.
	for c := 0.0; c <= 40; c += 5 {
		got, err := WaterDensity(c)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "water", got, 0.999974950*(1-math.Pow(c-3.983035, 2)*(c+301.797)/(522528.9*(c+69.34881))), 1e-15)
	}
	p, err := PillowBag(Pillow{100, 250})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pillow", p.BagML, 1000*(2.5/math.Pi-0.142*(1-math.Pow(10, -2.5))), 1e-14)
	near(t, "pillow, high", p.HighML/p.BagML, 0.217/(1/math.Pi-0.142*0.9), 1e-14)
	near(t, "ground Q10", GroundQ10(), math.Exp(13_000/8.31446261815324*(1/293.15-1/303.15)), 1e-15)
}

// A fit speaks of what it was given, and its answers follow the model, whose
// derivatives are taken here by differences.
func TestFitByItsOwnWords(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 4))
	differ := false
	for range 60 {
		trial := bags(rng, 10, 0.1, 0.01, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.5, 7, 7.5, 8)
		trial.Readings[rng.IntN(11)].OxygenPct *= 1 + rng.Float64()
		f := fitted(t, trial)
		near(t, "least gas", f.MinVolumes, 20_000./60*3/750, 1e-14)
		near(t, "most gas", f.MaxVolumes, 20_000./60*8/750, 1e-14)
		outliers := 0
		var scores []float64
		for _, r := range trial.Readings {
			j, err := JudgeReading(f, r)
			if err != nil {
				t.Fatal(err)
			}
			scores = append(scores, j.Score)
			if j.Outlier != (j.Score > 3.5) || j.Censored != (r.OxygenPct < 0.03) {
				t.Errorf("%+v", j)
			}
			if j.Outlier {
				outliers++
			}
			near(t, "expected", j.ExpectedPct, blend(AirOxygenPct, 0.05, nozzleShare(j.Volumes, f.NozzlePct/100)), 1e-12)
		}
		if f.Outliers != outliers || (f.Notes&HasOutliers != 0) != (outliers > 0) || (f.WithoutPct != f.NozzlePct) != (outliers > 0) {
			t.Errorf("%d outliers in %+v", outliers, f)
		}
		differ = differ || outliers > 0
		// The median of 11 scores is that of the deviation they are measured by.
		near(t, "middle score", median(scores), 0.6745, 1e-12)
	}
	if !differ {
		t.Error("no trial has an outlier")
	}
	f := fitted(t, bags(rand.New(rand.NewPCG(1, 2)), 10, 0.1, 0.01, times...))
	border := 0
	for oxygen := 0.05; oxygen < 20; oxygen *= 1.0005 {
		j, err := JudgeReading(f, Reading{750, 20, 5, oxygen})
		if err != nil || j.Outlier != (j.Score > 3.5) {
			t.Errorf("%+v, %v", j, err)
		}
		if math.Abs(j.Score-3.5) < 0.03 {
			border++
		}
	}
	if border < 4 {
		t.Errorf("%d scores about the border", border)
	}
	// Where the gas of the readings ends, and one step beyond.
	at := func(theta float64) Setting { return Setting{1000, 60, theta, 95} } // one headspace a second
	for theta, want := range map[float64]Notes{f.MinVolumes: 0, f.MaxVolumes: 0, f.MinVolumes * (1 - 1e-12): Extrapolated, f.MaxVolumes * (1 + 1e-12): Extrapolated} {
		if p, err := PredictOxygen(f, at(theta)); err != nil || p.Notes != want {
			t.Errorf("%v headspaces: %+v, %v", theta, p, err)
		}
	}
	weak := [2]bool{}
	for limit := 0.12; limit < 20; limit *= 1.004 {
		s, err := ShortestTime(f, Assurance{1000, 60, limit, 1})
		if err != nil {
			t.Fatal(err)
		}
		const h = 1e-6
		q := f.NozzlePct / 100
		d := (f.lnOxygen(s.Volumes, q+h) - f.lnOxygen(s.Volumes, q-h)) / (2 * h) * f.SEPct / 100
		near(t, "effective count", s.EffectiveCount, math.Min(1e6, f.SDLn*f.SDLn/(d*d)), 1e-4)
		w := s.Notes&WeakHere != 0
		if w != (s.EffectiveCount < 0.999*10) || (s.Notes&Extrapolated != 0) != (s.Volumes < f.MinVolumes || s.Volumes > f.MaxVolumes) {
			t.Errorf("%+v", s)
		}
		if w {
			weak[1] = true
		} else {
			weak[0] = true
		}
		// The interval by its definition.
		p, err := PredictOxygen(f, at(s.Volumes))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "half of the interval", math.Log(p.HighPct/p.LowPct)/2, num.StudentQuantile(0.975, 9)*math.Sqrt(f.SDLn*f.SDLn+d*d), 1e-5)
		near(t, "middle of the interval", math.Sqrt(p.HighPct*p.LowPct), p.OxygenPct, 1e-12)
	}
	if weak != [2]bool{true, true} {
		t.Error("the weak side is not met")
	}
	// However wide the interval, no oxygen is above 100 %.
	wide := f
	wide.SEPct = 0
	p, err := PredictOxygen(f, at(2))
	if err != nil {
		t.Fatal(err)
	}
	for _, high := range []float64{99.5, 100.5, 1e300} {
		wide.SDLn = math.Log(high/p.OxygenPct) / num.StudentQuantile(0.975, 9)
		got, err := PredictOxygen(wide, at(2))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "wide interval", got.HighPct, math.Min(high, 100), 1e-12)
		near(t, "its lower end", got.LowPct, p.OxygenPct*(p.OxygenPct/high), 1e-9)
	}
	// Two readings clear of the resolution are enough; six are not few.
	for n, want := range map[int]Notes{3: FewReadings, 5: FewReadings, 6: 0, 7: 0} {
		if g := fitted(t, bags(nil, 10, 0, 0, times[:n]...)); g.Notes != want || g.DF != n-1 {
			t.Errorf("%d readings: %+v", n, g)
		}
	}
	if g := fitted(t, bags(nil, 0, 0, 0.1, 3, 5, 40)); g.Censored != 1 || g.Notes != HasCensored|FewReadings {
		t.Errorf("%+v", g)
	}
}

// The parts of a sum, each alone and all together.
func TestPartsOfSums(t *testing.T) {
	bag := Bag{FreeML: 750, CoffeeG: 340, TempC: 20, KPa: 100, OxygenPct: 1}
	after := func(f Film) Aged {
		b := bag
		b.Film = f
		a, err := OxygenAfter(b, 30, nil)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	// 2·0.05 + 0.3 = 0.4 of film and seals.
	if both, one := after(Film{2, 0.05, 0.3, 21}), after(Film{0, 0, 0.4, 21}); both != one {
		near(t, "film and seals", both.EnteredML, one.EnteredML, 1e-12)
	}
	near(t, "film alone", after(Film{8, 0.05, 0, 21}).EnteredML, after(Film{0, 0, 0.4, 21}).EnteredML, 1e-12)
	// 20 + 70 + 6 leave 4 % of other gases, of 0.75 L at 100 kPa.
	o, err := AfterSteps(Space{750, 20, 100, Mix{20, 70, 6}}, nil)
	mol := 0.75 * 100 / (8.31446261815324 * 293.15)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "oxygen", o.Left.OxygenMol, 0.20*mol, 1e-14)
	near(t, "nitrogen", o.Left.NitrogenMol, 0.70*mol, 1e-14)
	near(t, "carbon dioxide", o.Left.CarbonDioxideMol, 0.06*mol, 1e-14)
	near(t, "the rest", o.Left.OtherMol, 0.04*mol, 1e-12)
	// What a cylinder holds, by the factor at the reference and in the cylinder.
	c, err1 := CylinderContent(Cylinder{50, 200, 5, 15, 100, GasState{20, 120}})
	z, err2 := NitrogenZ(GasState{15, 20_100})
	zr, err3 := NitrogenZ(GasState{20, 120})
	if err1 != nil || err2 != nil || err3 != nil {
		t.Fatal(err1, err2, err3)
	}
	full := 50 * 20_100 / (z * 8.31446261815324 * 288.15) // mol
	near(t, "kilograms", c.FullKG, full*28.0134/1000, 1e-12)
	near(t, "cubic metres", c.FullM3, full*zr*8.31446261815324*293.15/120/1000, 1e-12)
	near(t, "the factor", c.Z, z, 1e-12)
	near(t, "ideal", c.IdealM3, 50*20_100./288.15*293.15/120/1000, 1e-12)
	// Below zero is below zero, by half a per cent or by one float.
	for oxygen, want := range map[float64]Notes{0: 0, 0.5: 0, -0.5: BelowZero, -1e-300: BelowZero} {
		if d, err := BagOxygen(Draw{oxygen, 20.9, 10, 50, 0}); err != nil || d.Notes != want || d.OxygenPct != oxygen {
			t.Errorf("%v %%: %+v, %v", oxygen, d, err)
		}
		cal := Calibration{0, 0, 20, 20}
		if c, err := CorrectReading(Meter{RawPct: oxygen, Before: cal, After: cal, SpanKPa: 100, ReadKPa: 100}); err != nil || c.Notes != want|DriftUnknown {
			t.Errorf("%v %%: %+v, %v", oxygen, c, err)
		}
	}
	// A release that falls only near the end of a course is seen there.
	late := func(d float64) float64 {
		if d > 19 {
			return 5
		}
		return d
	}
	var input *InputError
	if err := OxygenCourse(bag, make([]Aged, 3), 10, late); !errors.As(err, &input) || input.Fields[0].Field != "Release(20)" {
		t.Errorf("a release that falls at last: %v", err)
	}
	if err := OxygenAt(bag, make([]Aged, 2), []float64{1, 20}, late); !errors.As(err, &input) || input.Fields[0].Field != "Release(20)" {
		t.Errorf("a release that falls at last: %v", err)
	}
	var none *ImpossibleError
	if err := second(DaysToDose(aBag, 1e5, 365, nil)); !errors.As(err, &none) || none.Min != 0.01 || none.Unit != "µg/g" {
		t.Error(err)
	}
	for _, c := range [][2]float64{{0, 365}, {1, 0}, {1e5, 365}} {
		if d, err := DaysToDose(aBag, c[0], c[1], nil); d != 0 || err == nil {
			t.Errorf("%v beside %v", d, err)
		}
	}
	if d, err := DaysToDose(aBag, 1, 365, func(d float64) float64 { return -d }); d != 0 || err == nil {
		t.Errorf("%v beside %v", d, err)
	}
	// A target that is met needs nothing, and says so, whatever the way.
	for name, get := range map[string]func() (Needed, error){
		"sweep":  func() (Needed, error) { return SweepFor(Target{2, 0.1, 750, 3}) },
		"piston": func() (Needed, error) { return PistonFor(Target{2, 0.1, 750, 3}) },
		"nozzle": func() (Needed, error) { return NozzleFor(NozzleTarget{2, 0.1, 750, 3, 20}) },
	} {
		if n, err := get(); err != nil || n != (Needed{Notes: AlreadyThere}) {
			t.Errorf("%s: %+v, %v", name, n, err)
		}
	}
	// In a narrow interval a reading lies in the middle, with a twelfth of its square.
	if m, v := within(0, 1, 3, 3.0005); math.Abs(m-3.00025) > 1e-12 || math.Abs(v/(0.0005*0.0005/12)-1) > 1e-9 {
		t.Errorf("%v, %v", m, v)
	}
	// The last day of a course, missed by half a day.
	if err := OxygenCourse(bag, make([]Aged, 367), 3660.5/366, nil); err == nil {
		t.Error("a course to day 3660.5 is accepted")
	}
}

// Between the steps of a course a smooth release is read off what the steps
// asked for: many points cost few calls, and the answer is the same.
func TestSmoothReleaseIsAskedSeldom(t *testing.T) {
	calls := 0
	smooth := func(d float64) float64 { calls++; return -1200 * math.Expm1(-d/9) }
	b := aBag
	b.Film.BagCCPerDayAtm += 0.5
	dst := make([]Aged, 20_000)
	if err := OxygenCourse(b, dst, 60./20_000, smooth); err != nil {
		t.Fatal(err)
	}
	if calls > len(dst)/2 {
		t.Errorf("%d calls for %d points", calls, len(dst))
	}
	for i := 0; i < len(dst); i += 997 {
		one, err := OxygenAfter(b, dst[i].Days, smooth)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "oxygen", dst[i].OxygenPct, one.OxygenPct, 1e-8)
		near(t, "carbon dioxide", dst[i].CarbonDioxidePct, one.CarbonDioxidePct, 1e-9)
	}
}
