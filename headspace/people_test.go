package headspace

import (
	"errors"
	"math"
	"strings"
	"testing"
)

var (
	aSpill   = Spill{30, 9.5, AirOxygenPct}
	aLeak    = Leak{60, 3, 30, BlownIn, AirOxygenPct, AirOxygenPct, 1, 2}
	aResting = Resting{60, 0.02, 30, 420, CO2OutsidePPM, 1, 2}
)

func TestPeopleRefusals(t *testing.T) {
	refuses(t, aSpill, AfterSpill, limit{"RoomM3", 0.1, 1e6}, limit{"GasM3", 0, 1e6}, limit{"StartPct", 0, 100})
	leak := []limit{{"RoomM3", 0.1, 1e6}, {"LeakM3PerHour", 0, 1e6}, {"AirM3PerHour", 0, 1e7}, {"Fan", 1, 2}, {"StartPct", 0, 100}, {"OutsidePct", 0, 100}, {"MixingFactor", 0.1, 1}}
	refuses(t, aLeak, AfterLeak, append(leak, limit{"Hours", 0, 8784})...)
	refuses(t, aLeak, func(l Leak) (float64, error) { return HoursToOxygen(l, 19.5) }, leak...)
	for _, v := range []float64{-1, 100.1, math.NaN()} {
		var input *InputError
		if _, err := HoursToOxygen(aLeak, v); !errors.As(err, &input) || input.Fields[0].Field != "levelPct" {
			t.Errorf("level %v: %v", v, err)
		}
	}
	refuses(t, Allowance{30, BlownIn, AirOxygenPct, 19.5}, LeakAllowed, limit{"AirM3PerHour", 0, 1e7}, limit{"Fan", 1, 2})
	refuses(t, Allowance{30, BlownIn, AirOxygenPct, 10}, LeakAllowed, limit{"OutsidePct", 10, 100})
	refuses(t, Allowance{30, BlownIn, AirOxygenPct, 19.5}, LeakAllowed, limit{"LevelPct", 1, AirOxygenPct})
	refuses(t, aResting, AfterResting, limit{"RoomM3", 0.1, 1e6}, limit{"CO2M3PerHour", 0, 1e5}, limit{"AirM3PerHour", 0, 1e7}, limit{"StartPPM", 0, 1e6},
		limit{"OutsidePPM", 0, 1e5}, limit{"MixingFactor", 0.1, 1}, limit{"Hours", 0, 8784})
	refuses(t, FreshAir{0.02, CO2OutsidePPM, CO2LongPPM}, FreshAirFor, limit{"CO2M3PerHour", 1e-9, 1e5}, limit{"OutsidePPM", 0, 1e5}, limit{"LevelPPM", 100, 1e6})
	var none *ImpossibleError
	if _, err := FreshAirFor(FreshAir{0.02, 500, 500}); !errors.As(err, &none) || none.Field != "LevelPPM" {
		t.Errorf("air no better than the level: %v", err)
	}
}

// The first form is the lower one, both begin alike, and neither leaves 0 to
// the start.
func TestSpillOrder(t *testing.T) {
	for _, share := range []float64{0, 1e-9, 1e-3, 0.1, 0.5, 1, 2, 1e6} {
		s, err := AfterSpill(Spill{10, 10 * math.Min(share, 1e5), 20.9})
		if err != nil {
			t.Fatal(err)
		}
		if !(s.OxygenPct >= 0 && s.OxygenPct <= s.MixedPct && s.MixedPct <= 20.9) {
			t.Errorf("share %v: %+v", share, s)
		}
		if share < 1e-2 && s.MixedPct-s.OxygenPct > 20.9*share*share {
			t.Errorf("share %v: %+v", share, s)
		}
	}
}

// The room against its own balance, stepped through in small times, for both
// fans, with a leak below and above what the fan draws.
func TestLeakAgainstSteps(t *testing.T) {
	for _, l := range []Leak{
		aLeak, {60, 3, 30, DrawnOut, 20, 21, 0.5, 3}, {60, 40, 30, DrawnOut, 21, 21, 1, 3}, {60, 40, 30, BlownIn, 21, 21, 0.2, 3},
		{60, 0, 30, BlownIn, 15, 21, 1, 1}, {60, 5, 0, BlownIn, 21, 21, 1, 4}, {60, 0, 0, DrawnOut, 17, 21, 1, 4},
	} {
		got, err := AfterLeak(l)
		if err != nil {
			t.Fatal(err)
		}
		const n = 100_000
		h := l.Hours / n
		x := l.StartPct
		rate := func(x float64) float64 {
			fresh, out := l.AirM3PerHour, l.AirM3PerHour+l.LeakM3PerHour
			if l.Fan == DrawnOut {
				out = math.Max(l.AirM3PerHour, l.LeakM3PerHour)
				fresh = out - l.LeakM3PerHour
			}
			return l.MixingFactor * (fresh*l.OutsidePct - out*x) / l.RoomM3
		}
		for range n {
			x += h * rate(x+h/2*rate(x))
		}
		near(t, "oxygen", got.OxygenPct, x, 1e-8)
		// And back: the time at which it was so.
		if got.OxygenPct == l.StartPct {
			continue
		}
		hours, err := HoursToOxygen(l, got.OxygenPct)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hours", hours, l.Hours, 1e-9)
	}
}

// A room that the ventilation holds never passes the level, and the leak that
// is allowed holds it exactly there.
func TestLeakAllowedHolds(t *testing.T) {
	for _, fan := range []Fan{BlownIn, DrawnOut} {
		r, err := LeakAllowed(Allowance{30, fan, AirOxygenPct, DeficientOxygenPct})
		if err != nil {
			t.Fatal(err)
		}
		l := aLeak
		l.Fan, l.LeakM3PerHour = fan, r
		b, err := AfterLeak(l)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "steady", b.SteadyPct, DeficientOxygenPct, 1e-12)
		l.LeakM3PerHour = 0.99 * r
		var none *ImpossibleError
		if h, err := HoursToOxygen(l, DeficientOxygenPct); !errors.As(err, &none) || h != 0 {
			t.Errorf("a leak that is carried: %v, %v", h, err)
		}
		l.LeakM3PerHour = 1.01 * r
		if h, err := HoursToOxygen(l, DeficientOxygenPct); err != nil || h <= 0 {
			t.Errorf("a leak that is not carried: %v, %v", h, err)
		}
	}
	if h, err := HoursToOxygen(aLeak, aLeak.StartPct); h != 0 || err != nil {
		t.Errorf("already there: %v, %v", h, err)
	}
	// A level on the far side of the start is never passed either.
	var none *ImpossibleError
	if _, err := HoursToOxygen(aLeak, 22); !errors.As(err, &none) {
		t.Errorf("%v", err)
	}
}

// A level that is never passed is refused with the reason that holds: a room
// that is under an alarm from the start must not read like one that is safe.
// What is named instead is passed.
func TestHoursToOxygenSaysWhyNever(t *testing.T) {
	for _, c := range []struct {
		leak, air, start, level float64
		why                     string
	}{
		{10, 50, 20.9, 16, "the room settles at 17.45"},
		{40, 50, 18, 19.5, "the room is below the level from the start and stays there: it settles at 11.6"},
		{0.1, 50, 18, 17, "the room is above the level from the start and rises to 20.9"},
		{1, 50, 18, 20.8, "the room is below the level from the start and stays there: it settles at 20.5"},
		{0, 0, 18, 19.5, "there is neither leak nor air: nothing changes"},
	} {
		l := aLeak
		l.Fan, l.LeakM3PerHour, l.AirM3PerHour, l.StartPct = BlownIn, c.leak, c.air, c.start
		var none *ImpossibleError
		if _, err := HoursToOxygen(l, c.level); !errors.As(err, &none) || !strings.HasPrefix(none.Why, c.why) {
			t.Errorf("%+v: %v", c, err)
			continue
		}
		for _, level := range []float64{none.Min, none.Max} {
			if _, err := HoursToOxygen(l, level); err != nil {
				t.Errorf("%+v: named, but %v", c, err)
			}
		}
	}
}

// Carbon dioxide and the rest of the room are one balance: a leak of a gas
// without oxygen thins oxygen as much as it raises carbon dioxide.
func TestRestingAgainstLeak(t *testing.T) {
	for _, hours := range []float64{0, 0.5, 5, 500} {
		r := aResting
		r.StartPPM, r.OutsidePPM, r.CO2M3PerHour, r.Hours = 0, 0, 2, hours
		c, err := AfterResting(r)
		if err != nil {
			t.Fatal(err)
		}
		b, err := AfterLeak(Leak{r.RoomM3, r.CO2M3PerHour, r.AirM3PerHour, BlownIn, 20, 20, 1, hours})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "carbon dioxide", c.PPM+1e6*b.OxygenPct/20, 1e6, 1e-12)
	}
	air, err := FreshAirFor(FreshAir{0.02, CO2OutsidePPM, CO2LongPPM})
	if err != nil {
		t.Fatal(err)
	}
	r := aResting
	r.AirM3PerHour = air
	c, err := AfterResting(r)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "steady", c.SteadyPPM, CO2LongPPM, 1e-12)
	// At 4 % carbon dioxide, dangerous, an oxygen meter still shows above 19.5 %.
	r.StartPPM, r.Hours = CO2DangerPPM, 0
	if c, err = AfterResting(r); err != nil || c.OxygenPct < DeficientOxygenPct {
		t.Errorf("%+v, %v", c, err)
	}
	r = Resting{RoomM3: 60, StartPPM: 900, MixingFactor: 1, Hours: 5}
	if c, err = AfterResting(r); err != nil || c.PPM != 900 || c.SteadyPPM != 900 {
		t.Errorf("nothing moves: %+v, %v", c, err)
	}
}

// The bands are in order, whole, and told by someone.
func TestEffects(t *testing.T) {
	last := 100.0
	for _, e := range OxygenEffects() {
		if !(e.LowPct > 0 && e.HighPct >= e.LowPct && e.LowPct < last) || e.What == "" || e.Source == "" {
			t.Errorf("%+v", e)
		}
		last = e.LowPct
	}
	last = 0
	for _, e := range CarbonDioxideEffects() {
		if !(e.LowPct > last && e.HighPct >= e.LowPct) || e.What == "" || e.Source == "" {
			t.Errorf("%+v", e)
		}
		last = e.LowPct
	}
	limits := CarbonDioxideEffects()
	for i, ppm := range []float64{CO2LongPPM, CO2ShortUKPPM, CO2ShortUSPPM, CO2DangerPPM, CO2UnconsciousPct * 1e4} {
		near(t, limits[i].What, limits[i].LowPct*1e4, ppm, 1e-12)
	}
	if len(CautionNitrogen) == 0 || len(CautionCarbonDioxide) == 0 {
		t.Error("no cautions")
	}
}

func TestPeopleAllocations(t *testing.T) {
	allocatesNothing(t, aSpill, AfterSpill)
	allocatesNothing(t, aLeak, AfterLeak)
	allocatesNothing(t, aLeak, func(l Leak) (float64, error) { return HoursToOxygen(l, 20) })
	allocatesNothing(t, Allowance{30, BlownIn, AirOxygenPct, 19.5}, LeakAllowed)
	allocatesNothing(t, aResting, AfterResting)
	allocatesNothing(t, FreshAir{0.02, CO2OutsidePPM, CO2LongPPM}, FreshAirFor)
}

func FuzzPeople(f *testing.F) {
	f.Add(60.0, 3.0, 30.0, byte(1), 20.946, 20.946, 1.0, 2.0)           // a room
	f.Add(60000.0, 3000.0, 30000.0, byte(2), 0.209, 0.209, 0.2, 7200.0) // litres, fractions, seconds
	f.Add(math.NaN(), 0.0, 0.0, byte(0), 100.0, 0.0, 0.1, 5e-324)
	f.Fuzz(func(t *testing.T, room, leak, air float64, fan byte, start, outside, mixing, hours float64) {
		s, err := AfterSpill(Spill{room, leak, start})
		judged(t, s, err)
		l := Leak{room, leak, air, Fan(fan), start, outside, mixing, hours}
		b, err := AfterLeak(l)
		judged(t, b, err)
		h, err := HoursToOxygen(l, outside)
		judged(t, h, err)
		a, err := LeakAllowed(Allowance{air, Fan(fan), outside, start})
		judged(t, a, err)
		c, err := AfterResting(Resting{room, leak, air, start, outside, mixing, hours})
		judged(t, c, err)
		v, err := FreshAirFor(FreshAir{leak, outside, start})
		judged(t, v, err)
	})
}
