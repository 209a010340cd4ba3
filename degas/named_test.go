package degas

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/shopspring/decimal"
)

// What is refused is told with its field, its value and what would do, word
// for word; numbers that are not limits are worked beside them.
func TestRefusalsWordForWord(t *testing.T) {
	ok := Stretched{3, 0.6}
	pack := func(set func(b *Bag)) Bag {
		b := bag()
		set(&b)
		return b
	}
	when := time.Date(2025, 3, 1, 8, 0, 0, 0, time.UTC)
	taste := func(span, rest, tasting, opened float64) error {
		return second(TasteBefore(Release{Coffee{9, ok}, when, when.Add(time.Duration(span * float64(time.Hour))), rest, tasting, opened}))
	}
	clock := func(w WallClock, loc *time.Location) error { return second(Instant(w, loc)) }
	kg := func(list ...Weighing) error {
		return second(FitWeighings(Weighings{Readings: list, DivisionG: decimal.New(1, -2), WithinPct: 50}, FirstOrder{1}))
	}
	g := func(days float64, mass string) Weighing { return Weighing{days, decimal.RequireFromString(mass)} }
	jar := func(set func(j *Jar), kpa ...float64) error {
		j := Jar{VolumeML: 1000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 20, ResolutionKPa: 0.1, WithinPct: 50}
		for i, v := range kpa {
			j.Readings = append(j.Readings, JarReading{float64(i), v})
		}
		set(&j)
		return second(FitJar(j, FirstOrder{1}))
	}
	store := Store{1, 0.2, 20}
	factor := func(float64) (float64, error) { return 1, nil }
	for want, err := range map[string]error{
		"curve is 0 curve; accepted: 1 to 1 curve (one of the five shapes, by value)":                                                           second(Left(nil, 1)),
		"curve is a pointer to a curve; accepted: 1 to 1 curve (one of the five shapes, by value)":                                              second(Left(&ok, 1)),
		"SlowTauDays is 2 days; accepted: 3 to 36500 days (the slow pool is not faster than the fast one)":                                      second(Left(TwoPools{50, 3, 2}, 1)),
		"FastTauDays is 0 days; accepted: 0.00001 to 36500 days; SlowTauDays is 0 days; accepted: 0.00001 to 36500 days":                        second(Left(TwoPools{50, 0, 0}, 1)),
		"FastPct is 0 %; accepted: 1 to 99 %; SlowTauDays is 2 days; accepted: 3 to 36500 days (the slow pool is not faster than the fast one)": second(Left(TwoPools{0, 3, 2}, 1)),
		"toDays is 2 days; accepted: 2.000001 to 3650 days (an interval ends after it begins)":                                                  second(MeanRate(ok, 2, 2)),
		"toDays is -1 days; accepted: 2.000001 to 3650 days":                                                                                    second(MeanRate(ok, 2, -1)),
		"toDays is 0 days; accepted: 2.000001 to 3650 days (an interval ends after it begins)":                                                  second(MeanRate(ok, 2, 0)),
		"toDays is 0 days; accepted: 1e-06 to 3650 days":                                                                                        second(MeanRate(ok, 0, 0)),
		"fromDays is -1 days; accepted: 0 to 3650 days; toDays is 0 days; accepted: 1e-06 to 3650 days":                                         second(MeanRate(ok, -1, 0)),

		"days is 3641 days; accepted: 0 to 3640 days":                                                     second(BagAfter(pack(func(b *Bag) { b.SealedDays = 10 }), 3641)),
		"GasML is 0 mL; accepted: 1 to 10000000 mL; days is -1 days; accepted: 0 to 3650 days":            second(BagAfter(pack(func(b *Bag) { b.GasML = 0 }), -1)),
		"SolidML is 5000 mL; accepted: 0 to 4999 mL":                                                      second(SealedBinMLPerG(SealedBin{5000, 5000, 101, 20, 100, 10, 22, 500})),
		"BinML is 0 mL; accepted: 10 to 10000000 mL; SolidML is -1 mL; accepted: 0 to 9999999 mL":         second(SealedBinMLPerG(SealedBin{0, -1, 101, 20, 100, 10, 22, 500})),
		"leftMgPerG is 11 mg/g; accepted: 0.1 to 10 mg/g":                                                 second(DaysUntilAmount(Coffee{10, ok}, 11)),
		"GasMgPerG is 0 mg/g; accepted: 0.1 to 50 mg/g; leftMgPerG is 0 mg/g; accepted: 0.001 to 50 mg/g": second(DaysUntilAmount(Coffee{0, ok}, 0)),
		"LeftMgPerG is 11 mg/g; accepted: 0.1 to 10 mg/g":                                                 second(RestWindow(RestPlan{Coffee{10, ok}, 11, 30})),
		"GasMgPerG is 0 mg/g; accepted: 0.1 to 50 mg/g; LeftMgPerG is 0 mg/g; accepted: 0.001 to 50 mg/g": second(RestWindow(RestPlan{Coffee{0, ok}, 0, 30})),

		"Day is 31; accepted: 1 to 30":                                               clock(WallClock{2025, 4, 31, 8, 0}, time.UTC),
		"Day is 29; accepted: 1 to 28":                                               clock(WallClock{2025, 2, 29, 8, 0}, time.UTC),
		"Day is 30; accepted: 1 to 29":                                               clock(WallClock{2024, 2, 30, 8, 0}, time.UTC),
		"Month is 13; accepted: 1 to 12; Day is 32; accepted: 1 to 31":               clock(WallClock{2025, 13, 32, 8, 0}, time.UTC),
		"Hour is 24 h; accepted: 0 to 23 h; Minute is 60 min; accepted: 0 to 59 min": clock(WallClock{2025, 4, 30, 24, 60}, time.UTC),
		"Year is 1969; accepted: 1970 to 2200":                                       clock(WallClock{1969, 4, 30, 8, 0}, time.UTC),
		"loc is 0 place; accepted: 1 to 1 place (give the time zone)":                clock(WallClock{2025, 4, 30, 8, 0}, nil),
		"CutOff is 0 h after roasting; accepted: 0.1 to 720 h after roasting":        taste(0, 8, 1, 10),
		"TastingHours is 11 h; accepted: 0 to 10 h":                                  taste(10, 8, 11, 10),
		"TastingHours is 25 h; accepted: 0 to 24 h":                                  taste(30, 8, 25, 10),
		"CutOff is 721 h after roasting; accepted: 0.1 to 720 h after roasting; TastingHours is 25 h; accepted: 0 to 24 h": taste(721, 8, 25, 10),
		"RestHours is 721 h; accepted: 0 to 720 h; OpenedDays is 0 days; accepted: 0.1 to 3650 days":                       taste(30, 721, 1, 0),

		"b.Days is 1 days; accepted: 2 to 3650 days (the second point is later than the first); b.GonePct is 30 %; accepted: 40 to 99 % (more is gone at the second point than at the first)": second(StretchedThrough(
			Point{2, 40}, Point{1, 30})),
		"b.Days is 2 days; accepted: 2 to 3650 days (the second point is later than the first)":        second(StretchedThrough(Point{2, 40}, Point{2, 50})),
		"b.GonePct is 40 %; accepted: 40 to 99 % (more is gone at the second point than at the first)": second(StretchedThrough(Point{2, 40}, Point{3, 40})),
		"b.Days is 2 days; accepted: 2 to 3650 days (the second loss is later than the first)":         second(FirstOrderFromLosses(Loss{2, 1}, Loss{2, 2})),

		"limitPPM is 425 ppm; accepted: 430 to 100000 ppm":                                                    second(FreshAirFor(10, 425, 420)),
		"limitPPM is 1500 ppm; accepted: 2010 to 100000 ppm":                                                  second(FreshAirFor(10, 1500, 2000)),
		"limitPPM is 305 ppm; accepted: 310 to 100000 ppm; outdoorPPM is 299 ppm; accepted: 300 to 2000 ppm":  second(FreshAirFor(10, 305, 299)),
		"limitPPM is 305 ppm; accepted: 310 to 100000 ppm; outdoorPPM is 2001 ppm; accepted: 300 to 2000 ppm": second(FreshAirFor(10, 305, 2001)),
		"FromDays is 3649.5 days; accepted: 0 to 3649 days":                                                   second(CoffeeRoomAir(CoffeeRoom{50, Coffee{9, ok}, 3649.5, 24, 60, 30, 420, Conditions{20, 101}})),
		"FromDays is -1 days; accepted: 0 to 3650 days; Hours is -1 h; accepted: 0 to 8760 h":                 second(CoffeeRoomAir(CoffeeRoom{50, Coffee{9, ok}, -1, -1, 60, 30, 420, Conditions{20, 101}})),
		"FromDays is -1 days; accepted: 0 to 3285 days":                                                       second(CoffeeRoomAir(CoffeeRoom{50, Coffee{9, ok}, -1, 8760, 60, 30, 420, Conditions{20, 101}})),
		"limitPPM is 400 ppm; accepted: 420 to 1000000 ppm":                                                   second(HoursToLimit(Room{60, 30, 10, 420, 0}, 400)),
		"OutdoorPPM is 299 ppm; accepted: 300 to 2000 ppm; limitPPM is 200 ppm; accepted: 300 to 1000000 ppm": second(HoursToLimit(Room{60, 30, 10, 299, 0}, 200)),

		"stays[1].Days is -1 days; accepted: 0 to 3650 days; stays[1].TempC is 61 °C; accepted: -40 to 60 °C": second(EquivalentDays([]Stay{{1, 20}, {-1, 61}}, factor)),
		"reference.WaterActivity is 0.7; accepted: 0.05 to 0.6":                                               second(RelativeLife(store, Store{1, 0.7, 20})),
		"store.OxygenKPa is 31 kPa; accepted: 0.05 to 30 kPa; store.TempC is 46 °C; accepted: -25 to 45 °C":   second3(BestBeforeDays(Anchor{30, store}, Store{31, 0.2, 46})),

		"Readings[1].Days is 0 days; accepted: 0 to 3650 days (later than the reading before)": kg(g(0, "200"), g(0, "199"), g(1, "199"), g(2, "198"), g(3, "198")),
		"Readings[0].Days is -1 days; accepted: 0 to 3650 days; Readings[2].Days is 1 days; accepted: 2 to 3650 days (later than the reading before); Readings[2].MassG is 0.5 g; accepted: 1 to 100000 g": kg(
			g(-1, "200"), g(2, "199"), g(1, "0.5"), g(3, "198"), g(4, "198")),
		"Readings is 4 readings; accepted: 5 to 1000 readings":                                                                             kg(g(0, "200"), g(1, "199"), g(2, "198"), g(3, "198")),
		"Readings[1].PressureKPa is 1001 kPa; accepted: -100 to 1000 kPa; Readings[3].PressureKPa is -101 kPa; accepted: -100 to 1000 kPa": jar(func(*Jar) {}, 0, 1001, 2, -101, 4),
		// 200/0.8 = 250 mL of coffee, and 1 of gas; a fifth of 750
		"VolumeML is 250.5 mL; accepted: 251 to 1000000 mL (the coffee alone fills more)":              jar(func(j *Jar) { j.VolumeML = 250.5 }, 0, 1, 2, 3, 4),
		"VolumeUncertaintyML is 151 mL; accepted: 0 to 150 mL (at most a fifth of what the gas fills)": jar(func(j *Jar) { j.VolumeUncertaintyML = 151 }, 0, 1, 2, 3, 4),
		"VolumeUncertaintyML is 200001 mL; accepted: 0 to 200000 mL":                                   jar(func(j *Jar) { j.VolumeUncertaintyML = 200_001 }, 0, 1, 2, 3, 4),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
}

// The ends that an impossible answer names are ends: just inside there is an
// answer, just outside there is none.
func TestImpossibleEnds(t *testing.T) {
	end := func(name, field string, err error, low, high func(v float64) error) {
		t.Helper()
		var none *ImpossibleError
		if !errors.As(err, &none) || none.Field != field {
			t.Errorf("%s: %v", name, err)
			return
		}
		const h = 1e-6
		if low != nil {
			if e := low(none.Min * (1 + h)); e != nil {
				t.Errorf("%s: inside %v: %v", name, none.Min, e)
			}
			if e := low(none.Min * (1 - h)); e == nil {
				t.Errorf("%s: outside %v there is an answer", name, none.Min)
			}
		}
		if high != nil {
			if e := high(none.Max * (1 - h)); e != nil {
				t.Errorf("%s: inside %v: %v", name, none.Max, e)
			}
			if e := high(none.Max * (1 + h)); e == nil {
				t.Errorf("%s: outside %v there is an answer", name, none.Max)
			}
		}
	}
	slow := Stretched{2000, 0.5}
	until := func(v float64) error { return second(DaysUntil(slow, v)) }
	end("age", "leftPct", until(5), until, until)
	amount := func(v float64) error { return second(DaysUntilAmount(Coffee{8, slow}, v)) }
	end("age by amount", "leftMgPerG", amount(0.5), amount, amount)
	window := func(v float64) error { return second(RestWindow(RestPlan{Coffee{8, Stretched{3, 0.6}}, v, 3})) }
	end("window", "LeftMgPerG", window(0.5), window, window)
	gauge := func(v float64) error { return second(DaysToGauge(bag(), v)) }
	end("gauge", "gaugeKPa", gauge(700), nil, gauge)
	slack := func(v float64) error { b := bag(); b.SlackML = v; return second(DaysToGauge(b, 0)) }
	end("slack", "SlackML", slack(5000), nil, slack)
	for _, c := range []struct {
		curve Curve
		kpa   float64
	}{{Stretched{4, 0.65}, 0}, {Stretched{4, 0.65}, 2}, {slow, 0}, {slow, 1}} {
		hold := func(v float64) error {
			b := bag()
			b.SlackML, b.Coffee.Curve, b.GasML = v, c.curve, 10
			return second(HoldDays(b, c.kpa))
		}
		end("hold", "SlackML", hold(0.1), hold, nil)
	}
	opened := func(v float64) error {
		at := time.Unix(0, 0)
		return second(TasteBefore(Release{Coffee{8, FirstOrder{2}}, at, at.Add(24 * time.Hour), 8, 1, v}))
	}
	end("opened", "OpenedDays", opened(100), nil, opened)
	best := func(v float64) error {
		return second3(BestBeforeDays(Anchor{v, Store{21, 0.4, 35}}, Store{0.5, 0.11, 4}))
	}
	end("best before", "Days", best(3000), nil, best)

	first := func(v float64) error { return second(FirstOrderThrough(Point{3000, v})) }
	end("first order", "GonePct", first(1), first, nil)
	stretched := func(v float64) error { return second(StretchedThrough(Point{1, 40}, Point{3, v})) }
	end("stretched, low", "b.GonePct", stretched(40.5), stretched, stretched)
	pools := func(v float64) error { return second(TwoPoolsThrough(30, Point{1, 40}, Point{7, v})) }
	end("two pools", "b.GonePct", pools(98.5), nil, pools)
	for name, through := range map[string]func(mm float64, p Point) error{
		"radiusMM":        func(mm float64, p Point) error { return second(SphereThrough(mm, p)) },
		"halfThicknessMM": func(mm float64, p Point) error { return second(SheetThrough(mm, p)) },
	} {
		slow := func(v float64) error { return through(v, Point{MaxDays, 1}) }
		end("slow", name, slow(MinRadiusMM), slow, slow)
		fast := func(v float64) error { return through(v, Point{0.0001, 99}) }
		end("fast", name, fast(MaxRadiusMM), nil, fast)
	}
	losses := func(v float64) error { return second(FirstOrderFromLosses(Loss{1, 2}, Loss{5, v})) }
	end("losses", "b.GoneMgPerG", losses(1), losses, nil)

	room := Room{60, 30, 200, 420, 0}
	limit := func(v float64) error { return second(HoursToLimit(room, v)) }
	end("room", "limitPPM", limit(1e5), nil, limit)
	var none *ImpossibleError
	if err := limit(1e5); !errors.As(err, &none) || none.Min != 420 {
		t.Error(err)
	}
	// The curve that would be too flat or too steep, or too slow, says so. The
	// last: −ln 0.95 = 0.05129 and −ln 0.9415 = 0.06028 are 3^0.147 apart, and
	// 1000·0.05129^(−1/0.147) = 6e11.
	for want, p := range map[string][2]Point{
		"its exponent would be 0.0236":                 {{1, 40}, {3, 40.8}},
		"its exponent would be 2.85":                   {{1, 10}, {2, 53.2}},
		"its scale of time would be 599000000000 days": {{1000, 5}, {3000, 5.85}},
	} {
		if err := second(StretchedThrough(p[0], p[1])); !errors.As(err, &none) || none.Why != want {
			t.Errorf("%v; want %s", err, want)
		}
	}
	// A pack that needs nothing, and one that takes all.
	b := bag()
	b.SlackML = 0
	if d, err := DaysToGauge(b, 0); d != 0 || err != nil {
		t.Errorf("%v, %v", d, err)
	}
	b.SlackML = 5000
	if d, err := HoldDays(b, 0); d != 0 || err != nil {
		t.Errorf("%v, %v", d, err)
	}
}

// Notes stand at their borders: exactly there and one step beyond.
func TestNotesAtTheirBorders(t *testing.T) {
	up := func(v float64) float64 { return math.Nextafter(v, math.Inf(1)) }
	down := func(v float64) float64 { return math.Nextafter(v, math.Inf(-1)) }
	for d, want := range map[float64]Notes{0.5e-13: 0, down(0.5e-13): Extrapolated, 10e-13: 0, up(10e-13): Extrapolated} {
		for _, c := range []Curve{Sphere{1, d}, Sheet{1, d}} {
			if s, err := Left(c, 1); err != nil || s.Notes != want {
				t.Errorf("%v: %v, %v", c, s.Notes, err)
			}
		}
	}
	for gas, want := range map[float64]Notes{6: 0, down(6): Extrapolated, 20: 0, up(20): Extrapolated} {
		if a, err := AmountLeft(Coffee{gas, FirstOrder{3}}, 1); err != nil || a.Notes != want {
			t.Errorf("%v mg/g: %v, %v", gas, a.Notes, err)
		}
	}
	for days, want := range map[float64]Notes{1: Orientation, down(1): Orientation | BeforeFirstClaim, 30: Orientation, up(30): Orientation | Extrapolated} {
		if b, err := OrientationBand(days); err != nil || b.Notes != want {
			t.Errorf("%v days: %v, %v", days, b.Notes, err)
		}
	}
	for left := 1.0; left <= 100; left += 0.01 {
		s, err := OrientationDays(left)
		if err != nil || (s.Notes&BeforeFirstClaim != 0) != (s.LowDays < 1) || (s.Notes&Extrapolated != 0) != (s.HighDays > 30) || s.Notes&Orientation == 0 {
			t.Fatalf("%v %%: %+v, %v", left, s, err)
		}
	}
	store := func(p, aw, c float64) Store { return Store{p, aw, c} }
	for _, c := range []struct {
		s    Store
		want Notes
	}{
		{store(0.5, 0.106, 4), GroundOnly}, {store(21.3, 0.408, 35), GroundOnly},
		{store(down(0.5), 0.2, 20), GroundOnly | Extrapolated}, {store(up(21.3), 0.2, 20), GroundOnly | Extrapolated},
		{store(1, down(0.106), 20), GroundOnly | Extrapolated}, {store(1, up(0.408), 20), GroundOnly | Extrapolated},
		{store(1, 0.2, down(4)), GroundOnly | Extrapolated}, {store(1, 0.2, up(35)), GroundOnly | Extrapolated},
	} {
		for _, pair := range [][2]Store{{c.s, {1, 0.2, 20}}, {{1, 0.2, 20}, c.s}} {
			if l, err := RelativeLife(pair[0], pair[1]); err != nil || l.Notes != c.want {
				t.Errorf("%+v: %v, %v", pair, l.Notes, err)
			}
		}
	}
	// Air by quarters of a ppm across both limits; 1000 m³/h in a small room.
	for _, limit := range []float64{CO2LimitPPM, CO2DangerPPM} {
		for d := -2.0; d <= 2; d += 0.25 {
			rise := (limit + d - 420) / 1e6
			g := 1000 * rise / (1 - 420e-6 - rise) // m³/h
			a, err := RoomAir(Room{1, 1000, 1000 * g, 420, 100})
			if err != nil || math.Abs(a.PPM-limit-d) > 1e-6 {
				t.Fatalf("%+v, %v; want %v", a, err, limit+d)
			}
			if (a.Notes&OverLimit != 0) != (a.PPM > 5000) || (a.Notes&AirDisplaced != 0) != (a.PPM > 40000) {
				t.Errorf("%v ppm: %v", a.PPM, a.Notes)
			}
		}
	}
	// A pack below its valve's pressure is an upper bound, one at it is not.
	b := bag()
	b.ValveKPa = 5
	for days, want := range map[float64]Notes{0: 0, 5: 0, 7: UpperBound, 60: 0} {
		s, err := BagAfter(b, days)
		if err != nil || (s.Notes == UpperBound) != (s.GaugeKPa > 0 && s.GaugeKPa < 5) {
			t.Errorf("day %v: %+v, %v; want %v", days, s, err, want)
		}
	}
}

// Whatever two points a stretched exponential cannot go through, the second
// shares that are named are possible just inside their ends and not outside;
// where there are none up to 99 %, the second days are.
func TestStretchedThroughEnds(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	shares, days := 0, 0
	for range 20000 {
		a := Point{math.Exp(math.Log(1e-4) + draw.Float64()*math.Log(3e7)), 1 + 98*draw.Float64()}
		b := Point{a.Days * math.Exp(6*draw.Float64()*draw.Float64()), a.GonePct + (99-a.GonePct)*draw.Float64()}
		_, err := StretchedThrough(a, b)
		var none *ImpossibleError
		if !errors.As(err, &none) {
			continue
		}
		through := func(v float64) error { return second(StretchedThrough(a, Point{b.Days, v})) }
		if shares++; none.Field == "b.Days" {
			shares, days = shares-1, days+1
			through = func(v float64) error { return second(StretchedThrough(a, Point{v, b.GonePct})) }
		}
		if !(none.Min < none.Max) {
			t.Fatalf("%v and %v: %v", a, b, err)
		}
		h := 1e-6 * (none.Max - none.Min)
		for _, v := range []float64{none.Min + h, none.Max - h} {
			if err := through(v); err != nil {
				t.Fatalf("%v and %v: %v is %v of %v to %v, yet %v", a, b, none.Field, v, none.Min, none.Max, err)
			}
		}
		for _, v := range []float64{none.Min - h, none.Max + h} {
			if err := through(v); err == nil {
				t.Fatalf("%v and %v: %v is %v and is possible, beyond %v to %v", a, b, none.Field, v, none.Min, none.Max)
			}
		}
	}
	if shares < 1000 || days < 50 {
		t.Errorf("%d refusals name shares, %d days", shares, days)
	}
}

// Whatever two losses no coffee has, some coffee has what is named in place of
// one of them, just inside its ends, and none has what lies outside.
func TestFromLossesEnds(t *testing.T) {
	draw := rand.New(rand.NewPCG(3, 4))
	sphere := func(mm float64) func(a, b Loss) (Coffee, error) {
		return func(a, b Loss) (Coffee, error) { return SphereFromLosses(mm, a, b) }
	}
	sheet := func(mm float64) func(a, b Loss) (Coffee, error) {
		return func(a, b Loss) (Coffee, error) { return SheetFromLosses(mm, a, b) }
	}
	for name, from := range map[string]func(a, b Loss) (Coffee, error){
		"first order": FirstOrderFromLosses, "sphere": sphere(3), "sheet": sheet(2),
		"small sphere": sphere(MinRadiusMM), "large sheet": sheet(MaxRadiusMM),
	} {
		refused := 0
		for range 100 {
			a := Loss{math.Exp(math.Log(1e-3) + draw.Float64()*math.Log(1e6)), math.Exp(math.Log(0.02) + draw.Float64()*math.Log(1000))}
			b := Loss{a.Days * (1.2 + 2.4*draw.Float64()), math.Max(0.1, math.Min(50, a.GoneMgPerG*(0.5+7*draw.Float64())))}
			_, err := from(a, b)
			var none *ImpossibleError
			if !errors.As(err, &none) {
				continue
			}
			if none.Field == "" {
				continue // no coffee has either of the two, and one range cannot tell
			}
			refused++
			with := func(v float64) error { return second(from(a, Loss{b.Days, v})) }
			if none.Field == "a.GoneMgPerG" {
				with = func(v float64) error { return second(from(Loss{a.Days, v}, b)) }
			}
			if !(none.Min <= none.Max) {
				t.Fatalf("%s, %v and %v: %v", name, a, b, err)
			}
			// Where all is gone at both ages, or neither middle feels it yet, the
			// losses have one ratio, and the range is narrow.
			inside := math.Max(1e-6*(none.Max-none.Min), 1e-13*none.Max)
			for _, v := range []float64{none.Min + inside, none.Max - inside} {
				if none.Min+inside > none.Max-inside {
					break
				}
				if err := with(v); err != nil {
					t.Fatalf("%s, %v and %v: %s is %v of %v to %v, yet %v", name, a, b, none.Field, v, none.Min, none.Max, err)
				}
			}
			h := 1e-6 * none.Max
			for _, v := range []float64{none.Min - h, none.Max + h} {
				if err := with(v); err == nil {
					t.Fatalf("%s, %v and %v: %s is %v and is possible, beyond %v to %v", name, a, b, none.Field, v, none.Min, none.Max)
				}
			}
		}
		if refused < 20 {
			t.Errorf("%s: only %d refused", name, refused)
		}
	}
}

// Both ends of what is named when there is no answer can be had, whatever
// rounding does to them.
func TestNamedEndsCanBeHad(t *testing.T) {
	draw := rand.New(rand.NewPCG(8, 3))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, draw.Float64()) }
	tried := map[string]int{}
	try := func(name string, with func(field string, v float64) error, err error) {
		t.Helper()
		var none *ImpossibleError
		if !errors.As(err, &none) {
			return
		}
		tried[name]++
		if none.Field == "" {
			return // no change of one field helps
		}
		if !(none.Min <= none.Max) {
			t.Fatalf("%s: %v", name, err)
		}
		for _, v := range []float64{none.Min, none.Max} {
			if math.IsInf(v, 1) {
				continue
			}
			if again := with(none.Field, v); again != nil {
				t.Fatalf("%s: %v; with that: %v", name, err, again)
			}
		}
	}
	for range 400 {
		curves := []Curve{
			Stretched{between(1, 4000), 0.2 + 0.8*draw.Float64()}, FirstOrder{between(100, 3000)},
			TwoPools{between(2, 90), between(1, 20), between(100, 3000)}, Sphere{between(1, 5), between(1e-16, 1e-13)},
		}
		c := curves[draw.IntN(len(curves))]
		if c.check(nil) != nil {
			continue
		}
		left := between(MinLeftPct, 90)
		try("age", func(_ string, v float64) error { return second(DaysUntil(c, v)) }, second(DaysUntil(c, left)))
		co := Coffee{between(2, 15), c}
		try("amount", func(_ string, v float64) error { return second(DaysUntilAmount(co, v)) }, second(DaysUntilAmount(co, co.GasMgPerG*left/100)))
		plan := RestPlan{co, co.GasMgPerG * left / 100, between(1, 200)}
		try("window", func(_ string, v float64) error { p := plan; p.LeftMgPerG = v; return second(RestWindow(p)) }, second(RestWindow(plan)))
		b := bag()
		b.Coffee, b.SlackML, b.GasML = co, between(1, 3e4), between(50, 3000)
		if draw.IntN(3) == 0 { // packs of any size, drawn by themselves
			b.CoffeeG, b.GasML, b.SlackML = between(1, 1e6), between(1, 1e7), between(1e-3, 1e7)
		}
		kPa := between(0.1, 700)
		with := func(f func(Bag, float64) (float64, error)) func(string, float64) error {
			return func(field string, v float64) error {
				b, kPa := b, kPa
				switch field {
				case "SlackML":
					b.SlackML = v
				case "gaugeKPa":
					kPa = v
				case "Coffee.GasMgPerG":
					b.Coffee.GasMgPerG = v
				case "CoffeeG":
					b.CoffeeG = v
				default:
					t.Fatal(field)
				}
				return second(f(b, kPa))
			}
		}
		try("gauge", with(DaysToGauge), second(DaysToGauge(b, kPa)))
		if b.SlackML < 3e4 {
			b.SlackML = between(1e-3, 3)
		}
		try("hold", with(HoldDays), second(HoldDays(b, kPa)))
		r := Room{VolumeM3: between(5, 500), SourceLPerHour: between(0.01, 50), FreshM3PerHour: between(1, 500), OutdoorPPM: 420}
		try("room", func(_ string, v float64) error { return second(HoursToLimit(r, v)) }, second(HoursToLimit(r, between(500, 1e6))))
		p, q := Point{between(0.01, 5), 1 + 97*draw.Float64()}, Point{between(6, 60), 1 + 97*draw.Float64()}
		try("stretched", func(field string, v float64) error {
			q := q
			if field == "b.Days" {
				q.Days = v
			} else {
				q.GonePct = v
			}
			return second(StretchedThrough(p, q))
		}, second(StretchedThrough(p, q)))
		if draw.IntN(3) == 0 { // hardly more than at the first
			q.GonePct = p.GonePct + (99-p.GonePct)*between(1e-15, 1e-2)
			q.Days = p.Days * between(1.01, 1e4)
		}
		fast := between(1, 99)
		try("two pools", func(field string, v float64) error {
			q, fast := q, fast
			if field == "fastPct" {
				fast = v
			} else {
				q.GonePct = v
			}
			return second(TwoPoolsThrough(fast, p, q))
		}, second(TwoPoolsThrough(fast, p, q)))
	}
	for _, name := range []string{"age", "amount", "window", "gauge", "hold", "room", "stretched", "two pools"} {
		if tried[name] < 10 {
			t.Errorf("%s: refused %d times", name, tried[name])
		}
	}
}

// The other ends of those ranges are limits.
func TestImpossibleStarts(t *testing.T) {
	at := time.Unix(0, 0)
	slack := bag()
	slack.SlackML = 5000
	for name, c := range map[string]struct {
		err      error
		min, max float64 // NaN where the other test holds it
	}{
		"gauge":       {second(DaysToGauge(bag(), 700)), 0, math.NaN()},
		"slack":       {second(DaysToGauge(slack, 0)), 0, math.NaN()},
		"opened":      {second(TasteBefore(Release{Coffee{8, FirstOrder{2}}, at, at.Add(24 * time.Hour), 8, 1, 100})), 0, math.NaN()},
		"best before": {second3(BestBeforeDays(Anchor{3000, Store{21, 0.4, 35}}, Store{0.5, 0.11, 4})), 1, math.NaN()},
		"first order": {second(FirstOrderThrough(Point{3000, 1})), math.NaN(), 99},
		"losses":      {second(FirstOrderFromLosses(Loss{1, 2}, Loss{5, 1})), 2, math.NaN()},
		"two pools":   {second(TwoPoolsThrough(30, Point{1, 40}, Point{100, 40.5})), math.NaN(), math.NaN()},
		"slow sphere": {second(SphereThrough(MinRadiusMM, Point{MaxDays, 1})), math.NaN(), 20},
		"slow sheet":  {second(SheetThrough(MinRadiusMM, Point{MaxDays, 1})), math.NaN(), 20},
		"fast sphere": {second(SphereThrough(MaxRadiusMM, Point{0.0001, 99})), 0.005, math.NaN()},
		"fast sheet":  {second(SheetThrough(MaxRadiusMM, Point{0.0001, 99})), 0.005, math.NaN()},
		"age":         {second(DaysUntil(Stretched{2000, 0.5}, 5)), math.NaN(), 100},
		"amount":      {second(DaysUntilAmount(Coffee{8, Stretched{2000, 0.5}}, 0.5)), math.NaN(), 8},
		"window":      {second(RestWindow(RestPlan{Coffee{8, Stretched{3, 0.6}}, 0.5, 3})), math.NaN(), 8},
		"stretched":   {second(StretchedThrough(Point{1, 90}, Point{2, 98.9999})), math.NaN(), 99},
	} {
		var none *ImpossibleError
		if !errors.As(c.err, &none) {
			if name != "stretched" {
				t.Errorf("%s: %v", name, c.err)
			}
			continue
		}
		if !math.IsNaN(c.min) && none.Min != c.min || !math.IsNaN(c.max) && none.Max != c.max {
			t.Errorf("%s: %v; want %v to %v", name, none, c.min, c.max)
		}
	}
	if err := second(FitJar(Jar{Readings: make([]JarReading, 4), VolumeML: 1000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 20, ResolutionKPa: 0.1, WithinPct: 50}, Stretched{1, 1})); err == nil ||
		fields(t, err)[0] != "Readings" {
		t.Error(err)
	}
}

// No hour about the peak is worse than the peak.
func TestPeakIsThePeak(t *testing.T) {
	for _, fresh := range []float64{2, 40, 300} {
		for _, c := range []Curve{FirstOrder{2}, Stretched{4, 0.65}} {
			r := CoffeeRoom{CoffeeKg: 50, Coffee: Coffee{9, c}, FromDays: 0.2, Hours: 100, VolumeM3: 60, FreshM3PerHour: fresh, OutdoorPPM: 420, Conditions: Conditions{20, 101.325}}
			p, err := CoffeeRoomPeak(r)
			if err != nil {
				t.Fatal(err)
			}
			top := 0.0
			for h := 0.8; h <= 1.25; h += 0.01 {
				r.Hours = math.Min(p.Hours*h, 100)
				a, err := CoffeeRoomAir(r)
				if err != nil {
					t.Fatal(err)
				}
				top = math.Max(top, a.RisePPM)
			}
			if !near(p.RisePPM, top, 1e-3) {
				t.Errorf("%v, %v m³/h: the peak is %v, the worst hour near it %v", c, fresh, p, top)
			}
		}
	}
}
