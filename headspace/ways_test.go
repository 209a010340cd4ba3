package headspace

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

// A refused answer names what would make it exist: the value given lies outside
// of that range, and both of its ends, fed back in the field named, are answered.
// Where none is named, no other value of any one field has an answer.
func TestWaysOut(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 21))
	gas := []limit{{"StartPct", 0.5, 100}, {"SupplyPct", 0, 100}, {"FreeML", 1, 1e9}, {"TargetPct", 1e-6, 100}}
	and := func(more ...limit) []limit { return append(append([]limit(nil), gas...), more...) }
	waysOut(t, r, 2000, gas, func(in Target) error { return second(SweepFor(in)) })
	waysOut(t, r, 2000, gas, func(in Target) error { return second(PistonFor(in)) })
	waysOut(t, r, 2000, and(limit{"NozzlePct", -99, 100}), func(in NozzleTarget) error { return second(NozzleFor(in)) })
	waysOut(t, r, 8000, and(limit{"FlushML", 1e-6, 1e12}), func(in FlushTarget) error { return second(FlushesFor(in)) })
	waysOut(t, r, 8000, and(limit{"LowKPa", 0.01, 5000}, limit{"HighKPa", 1, 5000}), func(in CycleTarget) error { return second(CyclesFor(in)) })
	waysOut(t, r, 2000, []limit{gas[0], gas[1], gas[3], {"HighKPa", 1, 5000}, {"Count", 1, 1000}}, func(in VacuumTarget) error { return second(VacuumFor(in)) })
	waysOut(t, r, 4000, []limit{{"OxygenPct", 0, 110}, {"AirPct", 0, 100}, {"DrawML", 0.1, 1e4}, {"GiveML", 0.1, 1e6}, {"LineML", 0, 1e4}},
		func(in Draw) error { return second(BagOxygen(in)) })
	type alarm struct {
		Leak
		LevelPct float64
	}
	waysOut(t, r, 4000, []limit{{"RoomM3", 0.1, 1e6}, {"LeakM3PerHour", 0, 1e6}, {"AirM3PerHour", 0, 1e7}, {"Fan", 1, 2}, {"StartPct", 0, 100}, {"OutsidePct", 0, 100}, {"MixingFactor", 0.1, 1}, {"LevelPct", 0, 100}},
		func(in alarm) error { return second(HoursToOxygen(in.Leak, in.LevelPct)) })
	waysOut(t, r, 2000, []limit{{"CO2M3PerHour", 1e-9, 1e5}, {"OutsidePPM", 0, 1e5}, {"LevelPPM", 100, 1e6}}, func(in FreshAir) error { return second(FreshAirFor(in)) })
	waysOut(t, r, 4000, []limit{{"BagML", 10, 2e5}, {"BeanGPerML", 0.5, 1.5}, {"CoffeeG", 1, 1e5}}, func(in Fill) error { return second(FreeVolume(in)) })
	waysOut(t, r, 4000, []limit{{"BeansG", 1, 1e4}, {"VesselG", 1, 5e4}, {"TogetherG", 1, 5e4}, {"MediumGPerML", 0.3, 2}}, func(in Displacement) error { return second(BeanDensity(in)) })
	waysOut(t, r, 2000, []limit{{"UsableM3", 1e-3, 1e5}, {"BagL", 1e-4, 1e5}, {"BagsPerHour", 0.1, 1e5}}, func(in Draught) error { return second(CylinderLife(in)) })
	type wanted struct {
		NozzleFit
		Assurance
	}
	waysOut(t, r, 4000, []limit{{"StartPct", 0.5, 100}, {"SupplyPct", 0, 20}, {"SDLn", 0, 1000}, {"NozzlePct", -99, 100}, {"LimitPct", 0.001, 50}, {"ToleranceFactor", 0.1, 100}},
		func(in wanted) error {
			in.SEPct, in.DF, in.Count, in.ResolutionPct, in.FreeML, in.FlowLPerMin = 1, 5, 6, 0.1, 750, 20
			return second(ShortestTime(in.NozzleFit, in.Assurance))
		})
	type dose struct {
		Bag
		DoseUGPerG, LastDays float64
	}
	bag := []limit{{"FreeML", 1, 1e6}, {"CoffeeG", 1, 1e5}, {"TempC", -20, 60}, {"KPa", 50, 110}, {"OxygenPct", 0, 100}, {"Film.OTRCCPerM2DayAtm", 0, 2e4}, {"Film.AreaM2", 0, 10}, {"Film.OutsidePct", 0, 100},
		{"Uptake.UGPerGDay", 1e-9, 1000}, {"Uptake.AtPct", 0.01, 100}, {"DoseUGPerG", 0.01, 1e5}, {"LastDays", 0.01, 3660}}
	dosing := []string{"DoseUGPerG", "LastDays", "Uptake.UGPerGDay"}
	waysOut(t, r, 600, bag, func(in dose) error { return second(DaysToDose(in.Bag, in.DoseUGPerG, in.LastDays, nil)) }, dosing...)
	waysOut(t, r, 30, append(bag, limit{"Uptake.BendPerPct", 0, 1000}), func(in dose) error {
		return second(DaysToDose(in.Bag, in.DoseUGPerG, in.LastDays, func(d float64) float64 { return 0.1 * in.FreeML * d / (1 + d) }))
	}, dosing...)
}

// waysOut draws inputs from the ranges of their fields, each even in its
// logarithm, at an end, or next to the field before it. The fields tried, or all,
// are those of which one might have been named.
func waysOut[In any](t *testing.T, r *rand.Rand, n int, ranges []limit, f func(In) error, tried ...string) {
	t.Helper()
	name := reflect.TypeFor[In]().Name()
	set := func(in In, field string, v float64) In {
		x := part(reflect.ValueOf(&in).Elem(), strings.ToUpper(field[:1])+field[1:])
		switch x.Kind() {
		case reflect.Int:
			x.SetInt(int64(v))
		case reflect.Uint8:
			x.SetUint(uint64(v))
		default:
			x.SetFloat(v)
		}
		return in
	}
	draw := func(l limit, before float64) float64 {
		switch low := math.Max(l.min, 1e-9*l.max); r.IntN(12) {
		case 0:
			return l.min
		case 1:
			return l.max
		case 2, 3:
			return math.Max(l.min, math.Min(l.max, before*(1+(r.Float64()-0.5)*math.Pow(10, -16*r.Float64()))))
		default:
			v := low * math.Pow(l.max/low, r.Float64())
			if l.min < 0 && r.IntN(2) == 0 {
				v = l.min * r.Float64()
			}
			return math.Max(l.min, math.Min(l.max, v))
		}
	}
	var named, without, wrong int
	for range n {
		var in In
		before := 1.0
		given := map[string]float64{}
		for _, l := range ranges {
			before = draw(l, before)
			if l.field == "Count" || l.field == "Fan" {
				before = math.Trunc(before)
			}
			given[l.field] = before
			in = set(in, l.field, before)
		}
		var none *ImpossibleError
		err := f(in)
		if err == nil || !errors.As(err, &none) {
			continue
		}
		fail := func(why string) {
			if wrong++; wrong <= 3 {
				t.Errorf("%s: %+v: %v: %s", name, in, err, why)
			}
		}
		if none.Field == "" {
			without++
			if none.Given != "" || none.Min != 0 || none.Max != 0 {
				fail("a range of nothing")
			}
			for _, l := range ranges {
				if tried != nil && !contains(tried, l.field) {
					continue
				}
				low := math.Max(l.min, 1e-9*l.max)
				for i := -1; i <= 16; i++ {
					v := low * math.Pow(l.max/low, float64(i)/16)
					if i < 0 {
						v = l.min
					}
					if f(set(in, l.field, v)) == nil {
						fail(l.field + " would make it possible")
						break
					}
				}
			}
			continue
		}
		named++
		was, ok := given[strings.ToUpper(none.Field[:1])+none.Field[1:]]
		switch {
		case !ok:
			fail("no such field")
		case !(none.Min <= none.Max):
			fail("the ends are the wrong way round")
		case was >= none.Min && was <= none.Max:
			fail("what was given lies inside")
		}
		for _, end := range []float64{none.Min, none.Max} {
			if again := f(set(in, none.Field, end)); again != nil {
				fail("an end is refused: " + again.Error())
			}
		}
	}
	if wrong > 3 {
		t.Errorf("%s: %d in all are wrong", name, wrong)
	}
	t.Logf("%s: %d name a way out, %d none, %d wrong", name, named, without, wrong)
	if named < 5 {
		t.Errorf("%s: only %d of %d name a way out: nothing was tried", name, named, n)
	}
}
