package headspace

import (
	"errors"
	"math"
	"testing"
)

var (
	aFill    = Fill{1200, 340, BeanMediumGPerML}
	aPurge   = Purge{AirOxygenPct, 0.1, 750, 1500}
	aTarget  = Target{AirOxygenPct, 0.1, 750, 1}
	aFlushes = Flushes{AirOxygenPct, 0.1, 750, 500, 3}
	aCycles  = Cycles{AirOxygenPct, 0.1, 750, 10, 101.325, 20, 2}
)

func TestPurgeRefusals(t *testing.T) {
	gas := []limit{{"StartPct", 0.5, 100}, {"SupplyPct", 0, 100}, {"FreeML", 1, 1e9}}
	with := func(more ...limit) []limit { return append(append([]limit(nil), gas...), more...) }
	refuses(t, aFill, FreeVolume, limit{"BagML", 10, 200_000}, limit{"CoffeeG", 1, 100_000}, limit{"BeanGPerML", 0.5, 1.5})
	refuses(t, aPurge, AfterSweep, with(limit{"GasML", 0, 1e12})...)
	refuses(t, aPurge, AfterPiston, with(limit{"GasML", 0, 1e12})...)
	refuses(t, aTarget, SweepFor, with(limit{"TargetPct", 1e-6, 100})...)
	refuses(t, aTarget, PistonFor, with(limit{"TargetPct", 1e-6, 100})...)
	refuses(t, aFlushes, AfterFlushes, with(limit{"FlushML", 1e-6, 1e12}, limit{"Count", 0, 1e6})...)
	refuses(t, FlushTarget{AirOxygenPct, 0.1, 750, 1, 500}, FlushesFor, with(limit{"TargetPct", 1e-6, 100}, limit{"FlushML", 1e-6, 1e12})...)
	refuses(t, aCycles, AfterCycles, with(limit{"LowKPa", 0.01, math.Nextafter(101.325, 0)}, limit{"HighKPa", math.Nextafter(10, 11), 5000},
		limit{"TempC", -40, 150}, limit{"Count", 0, 1e6})[:4]...)
	refuses(t, Cycles{AirOxygenPct, 0.1, 750, 0.5, 101.325, 20, 2}, AfterCycles, limit{"HighKPa", 1, 5000},
		limit{"TempC", -40, 150}, limit{"Count", 0, 1e6})
	refuses(t, CycleTarget{AirOxygenPct, 0.1, 750, 1, 0.5, 101.325}, CyclesFor,
		with(limit{"TargetPct", 1e-6, 100}, limit{"LowKPa", 0.01, math.Nextafter(101.325, 0)})...)
	refuses(t, CycleTarget{AirOxygenPct, 0.1, 750, 1, 0.5, 101.325}, CyclesFor, limit{"HighKPa", 1, 5000})
	refuses(t, VacuumTarget{AirOxygenPct, 0.1, 1, 101.325, 2}, VacuumFor, limit{"StartPct", 0.5, 100}, limit{"SupplyPct", 0, 100},
		limit{"TargetPct", 1e-6, 100}, limit{"HighKPa", 1, 5000}, limit{"Count", 1, 1000})
}

// A target at or below the supply's own oxygen is impossible, and the error
// names the lowest target that is not.
func TestUnreachableTargets(t *testing.T) {
	for _, supply := range []float64{0, 0.1, 1, 5} {
		for _, y := range []float64{supply, supply / 2} {
			if y < 1e-6 {
				continue
			}
			_, e1 := SweepFor(Target{AirOxygenPct, supply, 750, y})
			_, e2 := PistonFor(Target{AirOxygenPct, supply, 750, y})
			_, e3 := FlushesFor(FlushTarget{AirOxygenPct, supply, 750, y, 500})
			_, e4 := CyclesFor(CycleTarget{AirOxygenPct, supply, 750, y, 10, 101.325})
			_, e5 := VacuumFor(VacuumTarget{AirOxygenPct, supply, y, 101.325, 2})
			for i, err := range []error{e1, e2, e3, e4, e5} {
				var none *ImpossibleError
				if !errors.As(err, &none) || none.Field != "TargetPct" {
					t.Errorf("%d: supply %v %%, target %v %%: %v", i, supply, y, err)
					continue
				}
				if _, err := SweepFor(Target{AirOxygenPct, supply, 750, none.Min}); err != nil {
					t.Errorf("the target it calls possible: %v", err)
				}
			}
		}
	}
	var none *ImpossibleError
	if _, err := FreeVolume(Fill{425, 340, 0.8}); !errors.As(err, &none) || none.Field != "CoffeeG" {
		t.Errorf("beans that fill the bag: %v", err)
	}
	if _, err := FlushesFor(FlushTarget{AirOxygenPct, 0, 1e9, 1, 1e-6}); !errors.As(err, &none) || none.Field != "FlushML" {
		t.Errorf("flushes far too small: %v", err)
	} else if n, err := FlushesFor(FlushTarget{AirOxygenPct, 0, 1e9, 1, none.Min * 1.001}); err != nil || n.Count > maxCount {
		t.Errorf("the flush it calls possible: %v, %v", n, err)
	}
	if _, err := CyclesFor(CycleTarget{AirOxygenPct, 0, 750, 1, math.Nextafter(100, 0), 100}); !errors.As(err, &none) || none.Field != "LowKPa" {
		t.Errorf("pressures far too close: %v", err)
	}
}

func TestAlreadyThere(t *testing.T) {
	n, err := SweepFor(Target{1, 0.1, 750, 1})
	if err != nil || n != (Needed{Notes: AlreadyThere}) {
		t.Errorf("%+v, %v", n, err)
	}
	c, err := FlushesFor(FlushTarget{1, 0.1, 750, 2, 500})
	if err != nil || c != (FlushCount{OxygenPct: 1, Notes: AlreadyThere}) {
		t.Errorf("%+v, %v", c, err)
	}
	v, err := VacuumFor(VacuumTarget{1, 0.1, 2, 101.325, 2})
	if err != nil || v != (Vacuum{101.325, AlreadyThere}) {
		t.Errorf("%+v, %v", v, err)
	}
}

// Oxygen never leaves the span between supply and start, falls with each
// further mL, and the three ideals keep their order.
func TestPurgeOrderAndBounds(t *testing.T) {
	for _, start := range []float64{0.5, 1, AirOxygenPct, 100} {
		for _, supply := range []float64{0, 0.1, 0.49, 0.5, 20, 100} {
			for _, free := range []float64{1, 750, 1e9} {
				last := start
				for _, volumes := range []float64{0, 1e-9, 1e-3, 0.1, 0.5, 0.999, 1, 2, 3.5, 10, 100, 800} {
					p := Purge{start, supply, free, volumes * free}
					s, e1 := AfterSweep(p)
					pi, e2 := AfterPiston(p)
					fl, e3 := AfterFlushes(Flushes{start, supply, free, math.Max(p.GasML/3, 1e-6), 3})
					if e1 != nil || e2 != nil || e3 != nil {
						t.Fatal(e1, e2, e3)
					}
					lo, hi := math.Min(start, supply), math.Max(start, supply)
					for _, y := range []float64{s.OxygenPct, pi.OxygenPct, fl.OxygenPct} {
						if !(y >= lo*(1-1e-15) && y <= hi*(1+1e-15)) {
							t.Fatalf("%+v: %v %% is outside %v to %v", p, y, lo, hi)
						}
					}
					if supply < start {
						if !(pi.OxygenPct <= s.OxygenPct*(1+1e-14)) || !(s.OxygenPct <= fl.OxygenPct*(1+1e-14)) && p.GasML >= 3e-6 {
							t.Fatalf("%+v: piston %v, sweep %v, flushes %v", p, pi.OxygenPct, s.OxygenPct, fl.OxygenPct)
						}
						if s.OxygenPct > last {
							t.Fatalf("%+v: more gas left more oxygen", p)
						}
						last = s.OxygenPct
					}
					if (s.Notes&SupplyAboveStart != 0) != (supply >= start) {
						t.Fatalf("%+v: notes %v", p, s.Notes)
					}
				}
			}
		}
	}
}

// The same gas cut into ever more flushes tends to the stirred sweep, and the
// gap closes as 1/n.
func TestFlushesTendToSweep(t *testing.T) {
	for _, volumes := range []float64{0.3, 1, 3} {
		s, err := AfterSweep(Purge{AirOxygenPct, 0.2, 750, 750 * volumes})
		if err != nil {
			t.Fatal(err)
		}
		for n := 10; n <= 1_000_000; n *= 10 {
			f, err := AfterFlushes(Flushes{AirOxygenPct, 0.2, 750, 750 * volumes / float64(n), n})
			if err != nil {
				t.Fatal(err)
			}
			// (1+θ/n)^-n / e^-θ = 1 + θ²/2n + …
			gap := (f.OxygenPct-0.2)/(s.OxygenPct-0.2) - 1
			want := volumes * volumes / 2 / float64(n)
			if !(gap > 0 && math.Abs(gap-want) <= 3*volumes*want/float64(n)*(1+volumes)+1e-9) {
				t.Errorf("%v volumes in %d flushes: gap %v, want about %v", volumes, n, gap, want)
			}
		}
	}
}

// Each inverse brings back what went in.
func TestInverses(t *testing.T) {
	for _, start := range []float64{1, AirOxygenPct, 100} {
		for _, supply := range []float64{0, 0.01, 0.5} {
			for _, y := range []float64{0.500001, 0.6, 0.99} {
				for _, free := range []float64{1, 750, 1e9} {
					goal := Target{start, supply, free, y}
					n, err := SweepFor(goal)
					if err != nil {
						t.Fatal(err)
					}
					back, err := AfterSweep(Purge{start, supply, free, n.GasML})
					if err != nil {
						t.Fatal(err)
					}
					near(t, "sweep and back", back.OxygenPct, y, 1e-12)
					n, err = PistonFor(goal)
					if err != nil {
						t.Fatal(err)
					}
					back, err = AfterPiston(Purge{start, supply, free, n.GasML})
					if err != nil {
						t.Fatal(err)
					}
					near(t, "piston and back", back.OxygenPct, y, 1e-12)
					for _, flush := range []float64{free / 50, free, 30 * free} {
						c, err := FlushesFor(FlushTarget{start, supply, free, y, flush})
						if err != nil {
							t.Fatal(err)
						}
						before, err := AfterFlushes(Flushes{start, supply, free, flush, c.Count - 1})
						if err != nil {
							t.Fatal(err)
						}
						if !(c.OxygenPct <= y*(1+1e-9) && before.OxygenPct > y) {
							t.Fatalf("%+v, flushes of %v: %d gives %v, one less %v", goal, flush, c.Count, c.OxygenPct, before.OxygenPct)
						}
					}
					for j := 1; j <= 4; j++ {
						v, err := VacuumFor(VacuumTarget{start, supply, y, 101.325, j})
						if err != nil {
							t.Fatal(err)
						}
						if v.LowKPa < 0.01 {
							continue
						}
						got, err := AfterCycles(Cycles{start, supply, free, v.LowKPa, 101.325, 20, j})
						if err != nil {
							t.Fatal(err)
						}
						near(t, "vacuum and back", got.OxygenPct, y, 1e-9)
						c, err := CyclesFor(CycleTarget{start, supply, free, y, v.LowKPa, 101.325})
						if err != nil || c.Count != j {
							t.Fatalf("%+v: %d cycles reach it, the inverse says %d, %v", goal, j, c.Count, err)
						}
					}
				}
			}
		}
	}
}

func TestPurgeAllocations(t *testing.T) {
	allocatesNothing(t, aFill, FreeVolume)
	allocatesNothing(t, aPurge, AfterSweep)
	allocatesNothing(t, aPurge, AfterPiston)
	allocatesNothing(t, aTarget, SweepFor)
	allocatesNothing(t, aTarget, PistonFor)
	allocatesNothing(t, aFlushes, AfterFlushes)
	allocatesNothing(t, FlushTarget{AirOxygenPct, 0.1, 750, 1, 500}, FlushesFor)
	allocatesNothing(t, aCycles, AfterCycles)
	allocatesNothing(t, CycleTarget{AirOxygenPct, 0.1, 750, 1, 10, 101.325}, CyclesFor)
	allocatesNothing(t, VacuumTarget{AirOxygenPct, 0.1, 1, 101.325, 2}, VacuumFor)
}

func FuzzPurge(f *testing.F) {
	f.Add(1200.0, 340.0, 0.8, 20.946, 0.1, 1.0, 1500.0, 500.0, 3)                                     // a bag on the bench
	f.Add(1200.0, 340.0, 0.37, 0.20946, 0.001, 0.01, 1.5, 0.5, 3)                                     // fractions and litres
	f.Add(1e-320, math.Inf(1), math.NaN(), 5e-324, math.Copysign(0, -1), 1e-6, 1e12, 1e-3, 1_000_000) // edges of the floats
	f.Add(100000.0, 100000.0, 1.0, 0.5, 0.5, 0.5, 0.0, 1e9, 0)                                        // no gas space, nothing to do
	f.Fuzz(func(t *testing.T, bag, coffee, density, start, supply, goal, gas, flush float64, n int) {
		free, err := FreeVolume(Fill{bag, coffee, density})
		judged(t, free, err)
		p := Purge{start, supply, free.FreeML, gas}
		s, err := AfterSweep(p)
		judged(t, s, err)
		s, err = AfterPiston(p)
		judged(t, s, err)
		w, err := SweepFor(Target{start, supply, free.FreeML, goal})
		judged(t, w, err)
		fl, err := AfterFlushes(Flushes{start, supply, free.FreeML, flush, n})
		judged(t, fl, err)
		c, err := FlushesFor(FlushTarget{start, supply, bag, goal, flush})
		judged(t, c, err)
		y, err := AfterCycles(Cycles{start, supply, bag, flush, gas, goal, n})
		judged(t, y, err)
		c, err = CyclesFor(CycleTarget{start, supply, bag, goal, flush, gas})
		judged(t, c, err)
		v, err := VacuumFor(VacuumTarget{start, supply, goal, gas, n})
		judged(t, v, err)
	})
}

// What is named when no purging gets there can be had: a lower target than the
// gas allows, and any target of a gas that only makes it worse.
func TestUnreachableNamesWhatCanBeHad(t *testing.T) {
	for _, c := range []Target{
		{StartPct: 20.9, SupplyPct: 2, FreeML: 500, TargetPct: 1},
		{StartPct: 20.9, SupplyPct: 2, FreeML: 500, TargetPct: 2},
		{StartPct: 5, SupplyPct: 10, FreeML: 500, TargetPct: 2},
		{StartPct: 5, SupplyPct: 5, FreeML: 500, TargetPct: 2},
	} {
		var none *ImpossibleError
		if _, err := SweepFor(c); !errors.As(err, &none) || !(none.Min <= none.Max) {
			t.Errorf("%+v: %v", c, err)
			continue
		}
		for _, c.TargetPct = range []float64{none.Min, none.Max} {
			if _, err := SweepFor(c); err != nil {
				t.Errorf("%+v, named: %v", c, err)
			}
		}
	}
}
