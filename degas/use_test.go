package degas

import (
	"math"
	"testing"
	"time"
	_ "time/tzdata" // the tests bring their own time zones

	"github.com/google/go-cmp/cmp"
)

func TestOrientation(t *testing.T) {
	last := Band{}
	for days := 0.01; days < 100; days *= 1.2 {
		b, err := OrientationBand(days)
		if err != nil {
			t.Fatal(err)
		}
		if !(b.LowGonePct > last.LowGonePct && b.HighGonePct > last.HighGonePct && b.LowGonePct < b.HighGonePct) {
			t.Fatalf("at %v: %v", days, b)
		}
		want := Orientation
		if days < 1 {
			want |= BeforeFirstClaim
		}
		if days > 30 {
			want |= Extrapolated
		}
		if b.Notes != want {
			t.Errorf("at %v: %v", days, b.Notes)
		}
		last = b
	}
	month, _ := OrientationBand(ClaimedEmptyDays)
	if !near(month.LowGonePct, NearlyAllLowPct, 1e-12) || !near(month.HighGonePct, NearlyAllHighPct, 1e-12) {
		t.Errorf("after the month: %v", month)
	}
	for _, left := range []float64{1, 5, 30, 60, 99} {
		s, err := OrientationDays(left)
		if err != nil || !(s.LowDays < s.HighDays) {
			t.Fatalf("%v, %v", s, err)
		}
		low, _ := OrientationBand(s.LowDays)
		high, _ := OrientationBand(s.HighDays)
		if !near(100-low.HighGonePct, left, 1e-9) || !near(100-high.LowGonePct, left, 1e-9) {
			t.Errorf("%v %% left: %v", left, s)
		}
	}
	if s, _ := OrientationDays(60); s.Notes != Orientation|BeforeFirstClaim {
		t.Errorf("60 %% left: %v", s.Notes)
	}
	if s, _ := OrientationDays(2); s.Notes != Orientation|Extrapolated {
		t.Errorf("2 %% left: %v", s.Notes)
	}
	if s, _ := OrientationDays(20); s.Notes != Orientation {
		t.Errorf("20 %% left: %v", s.Notes)
	}
}

// bag is invented: 250 g sealed a day old into a soft bag.
func bag() Bag {
	return Bag{CoffeeG: 250, Coffee: Coffee{9, Stretched{4, 0.65}}, SealedDays: 1, GasML: 300, SlackML: 150, TempC: 21, OutsideKPa: 100}
}

func TestBag(t *testing.T) {
	// Gas is conserved: what is in the pack, and what is out, is what was in
	// it and what came.
	for _, valve := range []float64{0, 0.5, 20} {
		for _, slack := range []float64{0, 150, 5000} {
			b := bag()
			b.ValveKPa, b.SlackML = valve, slack
			last := BagState{}
			for _, days := range []float64{0, 0.01, 0.3, 1, 5, 40, 1000} {
				s, err := BagAfter(b, days)
				if err != nil {
					t.Fatal(err)
				}
				in := s.GasML * (b.OutsideKPa + s.GaugeKPa) / b.OutsideKPa
				if !near(in+s.VentedML, b.GasML+s.EvolvedML, 1e-12) {
					t.Errorf("valve %v, slack %v, %v days: %v mL in, %v out, %v came", valve, slack, days, in, s.VentedML, s.EvolvedML)
				}
				if s.EvolvedML < last.EvolvedML || s.GasML < last.GasML || s.GaugeKPa < last.GaugeKPa || s.VentedML < last.VentedML {
					t.Errorf("at %v days gas goes back: %v after %v", days, s, last)
				}
				if s.VentedML > 0 && s.GaugeKPa != valve || s.VentedML < 0 || valve == 0 && s.VentedML > 0 || s.GasML > b.GasML+slack {
					t.Errorf("valve %v: %v", valve, s)
				}
				if (s.Notes&UpperBound != 0) != (s.GaugeKPa > 0 && s.GaugeKPa != valve) {
					t.Errorf("valve %v, %v: %v", valve, s, s.Notes)
				}
				last = s
			}
			peak, err := BagPeak(b)
			if err != nil || peak.GaugeKPa < last.GaugeKPa || peak.EvolvedML < last.EvolvedML {
				t.Errorf("the peak %v is below %v, %v", peak, last, err)
			}
		}
	}
	// Two routes to one number: the time to a pressure, and the pressure then.
	b := bag()
	for _, kpa := range []float64{0, 0.5, 20, 100} {
		days, err := DaysToGauge(b, kpa)
		if err != nil {
			t.Fatal(err)
		}
		if s, _ := BagAfter(b, days); !(math.Abs(s.GaugeKPa-kpa) <= 1e-9*(1+kpa)) {
			t.Errorf("%v kPa at %v days: %v", kpa, days, s)
		}
	}
	taut, _ := DaysToGauge(b, 0)
	if s, _ := BagAfter(b, taut); !near(s.EvolvedML, b.SlackML, 1e-9) {
		t.Errorf("taut at %v days: %v", taut, s)
	}
	// Coffee at the end of all ages has no time left to make a pressure in.
	old := b
	old.SealedDays, old.Coffee.Curve, old.SlackML = MaxDays-1, FirstOrder{MaxTauDays}, 0
	if _, err := DaysToGauge(old, 30); err == nil {
		t.Error("a pressure was reached beyond the last age")
	}
	if d, err := DaysToGauge(old, 0.01); err != nil || !(d < 1) {
		t.Errorf("0.01 kPa after %v days, %v", d, err)
	}
	rigid := b
	rigid.SlackML = 0
	if d, err := DaysToGauge(rigid, 0); err != nil || d != 0 {
		t.Errorf("a rigid pack is taut at %v, %v", d, err)
	}
	// A hold that is long enough makes the peak just what was allowed.
	for _, kpa := range []float64{0, 5, 50} {
		hold, err := HoldDays(b, kpa)
		if err != nil {
			t.Fatal(err)
		}
		held := b
		held.SealedDays = hold
		if s, _ := BagPeak(held); !(math.Abs(s.GaugeKPa-kpa) <= 1e-9*(1+kpa)) {
			t.Errorf("held %v days for %v kPa: %v", hold, kpa, s)
		}
	}
	roomy := b
	roomy.SlackML = 1e5
	if d, err := HoldDays(roomy, 0); err != nil || d != 0 {
		t.Errorf("a huge bag needs a hold of %v, %v", d, err)
	}
}

func TestBagImpossible(t *testing.T) {
	b := bag()
	err := second(DaysToGauge(b, 700))
	e := impossible(t, err, "gaugeKPa")
	if _, err := DaysToGauge(b, e.Max*(1-1e-9)); err != nil {
		t.Errorf("%v kPa was said to be possible: %v", e.Max, err)
	}
	b.SlackML = 5000
	err = second(DaysToGauge(b, 1))
	e = impossible(t, err, "SlackML")
	b.SlackML = e.Max * (1 - 1e-6)
	if _, err := DaysToGauge(b, 0); err != nil {
		t.Errorf("%v mL of slack was said to be possible: %v", b.SlackML, err)
	}
	b = bag()
	b.SlackML = 0
	err = second(HoldDays(b, 0))
	e = impossible(t, err, "SlackML")
	b.SlackML = e.Min * (1 + 1e-9)
	if _, err := HoldDays(b, 0); err != nil {
		t.Errorf("%v mL of slack was said to be possible: %v", b.SlackML, err)
	}
	b.SlackML, b.Coffee.Curve = 20, Stretched{2000, 0.5}
	err = second(HoldDays(b, 1))
	e = impossible(t, err, "SlackML")
	b.SlackML = e.Min * (1 + 1e-9)
	if _, err := HoldDays(b, 1); err != nil {
		t.Errorf("%v mL of slack was said to be possible: %v", b.SlackML, err)
	}
}

func TestValveSweep(t *testing.T) {
	s, err := ValveSweep(0, 300, 20.9)
	if err != nil || s.CO2Pct != 0 || s.OxygenPct != 20.9 {
		t.Errorf("nothing evolved: %v, %v", s, err)
	}
	// Nitrogen makes up the rest: dilution alone keeps the ratio of the old.
	s, _ = ValveSweep(450, 300, 20.9)
	if !near(s.OxygenPct/20.9+s.CO2Pct/100, 1, 1e-14) {
		t.Errorf("%v", s)
	}
}

func TestRestWindow(t *testing.T) {
	p := RestPlan{Coffee: Coffee{9, Stretched{4, 0.65}}, LeftMgPerG: 3, FreshDays: 30}
	w, err := RestWindow(p)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := AmountLeft(p.Coffee, w.FromDays)
	z, _ := AmountLeft(p.Coffee, 30)
	if !near(a.LeftMgPerG, 3, 1e-12) || !near(z.LeftMgPerG, w.ToLeftMgPerG, 1e-12) || w.ToDays != 30 {
		t.Errorf("%v: %v at the start, %v at the end", w, a, z)
	}
	p.FreshDays = 2
	err = second(RestWindow(p))
	e := impossible(t, err, "LeftMgPerG")
	p.LeftMgPerG = e.Min * (1 + 1e-9)
	if _, err := RestWindow(p); err != nil {
		t.Errorf("%v mg/g was said to be possible: %v", p.LeftMgPerG, err)
	}
}

func place(t *testing.T, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

func TestClock(t *testing.T) {
	berlin := place(t, "Europe/Berlin")
	// An ordinary morning.
	m, err := Instant(WallClock{2026, 3, 20, 9, 30}, berlin)
	if err != nil || m.Notes != 0 || m.Time.Format(time.RFC3339) != "2026-03-20T09:30:00+01:00" {
		t.Errorf("%v, %v", m, err)
	}
	// Ten days later the clock has changed: it shows an hour more.
	later, err := WhenAged(m.Time, 10, berlin)
	if err != nil || later.Notes != ClockChanges || later.Time.Format(time.RFC3339) != "2026-03-30T10:30:00+02:00" {
		t.Errorf("%v, %v", later, err)
	}
	if d, err := AgeDays(m.Time, later.Time); err != nil || d != 10 {
		t.Errorf("%v days, %v", d, err)
	}
	// Five days later it has not.
	if later, _ := WhenAged(m.Time, 5, berlin); later.Notes != 0 || later.Time.Hour() != 9 {
		t.Errorf("%v", later)
	}
	// In autumn it shows an hour less.
	m, _ = Instant(WallClock{2026, 10, 20, 9, 30}, berlin)
	if later, _ := WhenAged(m.Time, 7, berlin); later.Notes != ClockChanges || later.Time.Hour() != 8 {
		t.Errorf("%v", later)
	}
	// The hour that comes twice: the first is meant.
	m, err = Instant(WallClock{2026, 10, 25, 2, 15}, berlin)
	if err != nil || m.Notes != AmbiguousHour || m.Time.Format(time.RFC3339) != "2026-10-25T02:15:00+02:00" {
		t.Errorf("%v, %v", m, err)
	}
	// The hours beside it do not.
	for _, hour := range []int{1, 3} {
		if m, err := Instant(WallClock{2026, 10, 25, hour, 59}, berlin); err != nil || m.Notes != 0 {
			t.Errorf("%v, %v", m, err)
		}
	}
	// The hour that does not exist.
	if _, err := Instant(WallClock{2026, 3, 29, 2, 15}, berlin); err == nil {
		t.Error("a skipped hour passed")
	} else if diff := cmp.Diff([]string{"Hour"}, fields(t, err)); diff != "" {
		t.Error(diff)
	}
	// The same elsewhere: half an hour of saving, the other half of the year.
	howe := place(t, "Australia/Lord_Howe")
	if m, err := Instant(WallClock{2026, 4, 5, 1, 45}, howe); err != nil || m.Notes != AmbiguousHour {
		t.Errorf("%v, %v", m, err)
	}
	if _, err := Instant(WallClock{2026, 10, 4, 2, 15}, howe); err == nil {
		t.Error("a skipped half hour passed")
	}
	// A place that skips midnight: the day begins at one.
	for _, loc := range []string{"America/Santiago", "Asia/Beirut"} {
		l := place(t, loc)
		skipped := 0
		for day := 1; day <= 366; day++ {
			at := startOfDay(2024, 1, day, l)
			want := time.Date(2024, 1, day, 12, 0, 0, 0, l)
			if at.Day() != want.Day() || at.Add(-time.Second).Day() == want.Day() {
				t.Errorf("%s: day %d begins at %v", loc, day, at)
			}
			if at.Hour() != 0 {
				skipped++
			}
		}
		if skipped != 1 {
			t.Errorf("%s: midnight was skipped %d times", loc, skipped)
		}
	}
	// Years apart, beyond what a Duration holds.
	old := time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC)
	if _, err := AgeDays(old, old.AddDate(400, 0, 0)); err == nil {
		t.Error("four hundred years passed")
	}
}

func TestBestBefore(t *testing.T) {
	berlin := place(t, "Europe/Berlin")
	packed := time.Date(2026, 3, 20, 23, 50, 0, 0, berlin)
	for days, want := range map[float64]string{1: "2026-03-21", 9.99: "2026-03-29", 10: "2026-03-30", 365: "2027-03-20"} {
		d, err := BestBefore(packed, days)
		if err != nil || d.Format(time.DateOnly) != want || d.Hour() != 0 {
			t.Errorf("%v days: %v, want %s, %v", days, d, want, err)
		}
	}
}

func TestTasteBefore(t *testing.T) {
	berlin := place(t, "Europe/Berlin")
	r := Release{
		Coffee:  Coffee{9, Stretched{4, 0.65}},
		Roasted: time.Date(2026, 3, 28, 14, 0, 0, 0, berlin), CutOff: time.Date(2026, 3, 29, 11, 0, 0, 0, berlin),
		RestHours: CuppingRestHours, TastingHours: 1.5, OpenedDays: 10,
	}
	got, err := TasteBefore(r)
	if err != nil {
		t.Fatal(err)
	}
	// That night has 23 hours: 20 h to the cut-off, 18.5 to the last cup.
	if got.AgeHours != 18.5 || got.Notes != ClockChanges || got.ShortHours != 0 ||
		got.From.Format(time.RFC3339) != "2026-03-28T22:00:00+01:00" ||
		got.To.Format(time.RFC3339) != "2026-03-29T09:30:00+02:00" ||
		got.RoastBy.Format(time.RFC3339) != "2026-03-29T00:30:00+01:00" {
		t.Errorf("%+v", got)
	}
	then, _ := Left(r.Coffee.Curve, 18.5/24)
	opened, _ := Left(r.Coffee.Curve, 10)
	if got.ThenLeftPct != then.LeftPct || got.OpenedLeftPct != opened.LeftPct || !near(got.GasRatio, then.LeftPct/opened.LeftPct, 1e-15) {
		t.Errorf("%+v", got)
	}
	// A rest that does not fit.
	r.RestHours = 24
	got, err = TasteBefore(r)
	if err != nil || got.Notes&NotRested == 0 || !near(got.ShortHours, 5.5, 1e-12) || !got.From.Equal(got.To) || got.RoastBy.After(r.Roasted) {
		t.Errorf("%+v, %v", got, err)
	}
	// Opened when empty.
	r.OpenedDays = 3000
	err = second(TasteBefore(r))
	e := impossible(t, err, "OpenedDays")
	r.OpenedDays = e.Max * (1 - 1e-9)
	if _, err := TasteBefore(r); err != nil {
		t.Errorf("%v days was said to be possible: %v", r.OpenedDays, err)
	}
}

func TestRelativeLife(t *testing.T) {
	air := Store{21.3, 0.2, 20}
	same, err := RelativeLife(air, air)
	if err != nil || same.Factor != 1 || same.Notes != GroundOnly {
		t.Errorf("%v, %v", same, err)
	}
	// There and back is one; the factors multiply; less of each keeps longer.
	for _, s := range []Store{{0.5, 0.106, 4}, {0.05, 0.05, -25}, {30, 0.6, 45}, {1, 0.3, 35}} {
		a, err := RelativeLife(s, air)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := RelativeLife(air, s)
		if !near(a.Factor*b.Factor, 1, 1e-12) || !near(a.OxygenFactor*a.ActivityFactor*a.TemperatureFactor, a.Factor, 1e-14) {
			t.Errorf("%v: %v there, %v back", s, a, b)
		}
		for i, less := range []Store{{s.OxygenKPa * 0.99, s.WaterActivity, s.TempC}, {s.OxygenKPa, s.WaterActivity - 0.001, s.TempC}, {s.OxygenKPa, s.WaterActivity, s.TempC - 0.1}} {
			if c := relativeLife(less, air); !(c.Factor > a.Factor) {
				t.Errorf("%v, less of number %d does not keep longer", s, i)
			}
		}
	}
	// The temperature term must lie in what both papers print for ten degrees.
	for c := 4.0; c <= 25; c++ {
		l, _ := RelativeLife(Store{5, 0.2, c + 10}, Store{5, 0.2, c})
		if rate := 100 * (1/l.Factor - 1); !(rate >= StalingTenDegreesLowPct && rate <= StalingTenDegreesHighPct) {
			t.Errorf("from %v °C ten degrees more make %v %%", c, rate)
		}
	}
	// The oxygen hyperbola meets the printed ratio, and never beats linear.
	if k := StalingHalfRateKPa(); !near(StalingOxygenHighKPa/(k+StalingOxygenHighKPa)*(k+0.5)/0.5, 20, 1e-12) {
		t.Errorf("K is %v", k)
	}
	for _, s := range []Store{{0.4, 0.2, 20}, {21.4, 0.2, 20}, {5, 0.1, 20}, {5, 0.41, 20}, {5, 0.2, 3}, {5, 0.2, 36}} {
		if l, _ := RelativeLife(s, air); l.Notes != GroundOnly|Extrapolated {
			t.Errorf("%v: %v", s, l.Notes)
		}
		if l, _ := RelativeLife(air, s); l.Notes != GroundOnly|Extrapolated {
			t.Errorf("reference %v: %v", s, l.Notes)
		}
	}
	days, life, err := BestBeforeDays(Anchor{60, air}, Store{1.01325, 0.2, 20})
	if err != nil || !near(days, 60*life.Factor, 1e-14) || !(days > 500) {
		t.Errorf("%v, %v, %v", days, life, err)
	}
	err = second3(BestBeforeDays(Anchor{3000, air}, Store{0.5, 0.106, 4}))
	e := impossible(t, err, "Days")
	if _, _, err := BestBeforeDays(Anchor{e.Max * (1 - 1e-9), air}, Store{0.5, 0.106, 4}); err != nil {
		t.Error(err)
	}
}

func TestRooms(t *testing.T) {
	coffee := Coffee{9, FirstOrder{2}}
	r := CoffeeRoom{CoffeeKg: 50, Coffee: coffee, FromDays: 0.2, Hours: 30, VolumeM3: 60, FreshM3PerHour: 40, OutdoorPPM: 420, Conditions: Conditions{20, 101.325}}
	// A small first-order source has a closed form.
	got, err := CoffeeRoomAir(r)
	if err != nil {
		t.Fatal(err)
	}
	v, _ := CO2MLPerG(r.Conditions)
	k, q := 1/48.0, 40.0/60
	g0 := 50 * 9 * v * 1e-6 * k * math.Exp(-0.1) // m³/h at the start
	want := (1e6 - 420) * g0 / 60 / (q - k) * (math.Exp(-k*30) - math.Exp(-q*30))
	if !near(got.RisePPM, want, 2e-3) {
		t.Errorf("%v ppm, closed form %v", got.RisePPM, want)
	}
	// Halving the steps changes little, for the fast starts too.
	for _, c := range []Curve{FirstOrder{2}, Stretched{3, 0.3}, Stretched{4, 0.65}, Sphere{0.3, 1e-13}} {
		for _, hours := range []float64{0.5, 8, 48, 2000} {
			for _, fresh := range []float64{0, 5, 300} {
				r := r
				r.Coffee.Curve, r.Hours, r.FromDays, r.FreshM3PerHour = c, hours, 0, fresh
				a, b := r.rise(hours, roomSteps, nil), r.rise(hours, 8*roomSteps, nil)
				if !(math.Abs(a-b) <= 2e-3*b) {
					t.Errorf("%v, %v h, %v m³/h: %v against %v", c, hours, fresh, a, b)
				}
			}
		}
	}
	// A closed room loses nothing but what is driven out.
	r.FreshM3PerHour = 0
	closed, _ := CoffeeRoomAir(r)
	gas := 50 * 9 * v * 1e-6 * lost(coffee.Curve, 0.2, 0.2+30.0/24)
	if want := (1e6 - 420) * -math.Expm1(-gas/60); !near(closed.RisePPM, want, 1e-9) {
		t.Errorf("closed: %v, want %v", closed.RisePPM, want)
	}
	// A tight bin comes close to pure gas, and never beyond.
	bin := CoffeeRoom{CoffeeKg: 1000, Coffee: coffee, Hours: 240, VolumeM3: 1.2, OutdoorPPM: 420, Conditions: Conditions{20, 101.325}}
	if a, err := CoffeeRoomAir(bin); err != nil || !(a.PPM > 9e5 && a.PPM < 1e6) || a.Notes != OverLimit|AirDisplaced {
		t.Errorf("the bin: %v, %v", a, err)
	}
	if a, err := CoffeeRoomAir(CoffeeRoom{CoffeeKg: 1, Coffee: coffee, VolumeM3: 1, OutdoorPPM: 420, Conditions: Conditions{20, 101}}); err != nil || a.RisePPM != 0 || a.Notes != 0 {
		t.Errorf("at once: %v, %v", a, err)
	}
	// The peak is no less than the end, and where it says.
	r.FreshM3PerHour, r.Hours = 40, 100
	p, err := CoffeeRoomPeak(r)
	if err != nil {
		t.Fatal(err)
	}
	end, _ := CoffeeRoomAir(r)
	r.Hours = p.Hours
	then, _ := CoffeeRoomAir(r)
	if !(p.PPM > end.PPM && p.Hours > 1 && p.Hours < 30) || !near(then.RisePPM, p.RisePPM, 1e-2) {
		t.Errorf("peak %v, end %v, then %v", p, end, then)
	}
	// The course begins in open air, ends where it should and holds the peak.
	r.Hours = 100
	course, err := CoffeeRoomCourse(r)
	if err != nil || course[0].PPM != 420 || course[len(course)-1].Air != end || course[len(course)-1].Hours != 100 {
		t.Errorf("the course ends at %v, want %v, %v", course[len(course)-1], end, err)
	}
	top := 0.0
	for i, at := range course {
		top = max(top, at.PPM)
		if i > 0 && at.Hours < course[i-1].Hours {
			t.Errorf("step %d goes back", i)
		}
	}
	if !near(top, p.PPM, 1e-2) {
		t.Errorf("the course comes to %v, the peak is %v", top, p.PPM)
	}
	// What is given off adds up to what is lost.
	day, err := Emission(50, coffee, 2, 5, r.Conditions)
	if err != nil {
		t.Fatal(err)
	}
	if q, _ := AmountLost(coffee, 2, 5); !near(day*72, 50*q*v/1000, 1e-12) {
		t.Errorf("%v L/h for three days of %v mg/g", day, q)
	}
	// Steady room: limit, time, ventilation, there and back.
	room := Room{VolumeM3: 100, FreshM3PerHour: 5, SourceLPerHour: 200, OutdoorPPM: 420}
	hours, err := HoursToLimit(room, CO2LimitPPM)
	if err != nil {
		t.Fatal(err)
	}
	room.Hours = hours
	if a, _ := RoomAir(room); !near(a.PPM, CO2LimitPPM, 1e-9) {
		t.Errorf("after %v h: %v", hours, a)
	}
	need, err := FreshAirFor(200, CO2LimitPPM, 420)
	if err != nil {
		t.Fatal(err)
	}
	room.FreshM3PerHour, room.Hours = need, 8760
	if a, _ := RoomAir(room); !near(a.PPM, CO2LimitPPM, 1e-9) {
		t.Errorf("with %v m³/h: %v", need, a)
	}
	err = second(HoursToLimit(room, 6000))
	e := impossible(t, err, "limitPPM")
	if _, err := HoursToLimit(room, e.Max*(1-1e-12)); err != nil {
		t.Error(err)
	}
	room.FreshM3PerHour, room.SourceLPerHour = 0, 0
	if a, err := RoomAir(room); err != nil || a.RisePPM != 0 {
		t.Errorf("no source, no air: %v, %v", a, err)
	}
	for ppm, want := range map[float64]Notes{4000: 0, 6000: OverLimit, 50000: OverLimit | AirDisplaced} {
		if a := airOf(420, ppm-420); a.Notes != want || a.PPM != ppm {
			t.Errorf("%v ppm: %v", ppm, a)
		}
	}
}

func TestUseRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	ok := Coffee{9, Stretched{4, 0.65}}
	berlin := place(t, "Europe/Berlin")
	now := time.Date(2026, 5, 1, 8, 0, 0, 0, berlin)
	at := Conditions{20, 101.325}
	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"band":           {second(OrientationBand(nan)), []string{"days"}},
		"span":           {second(OrientationDays(0.3)), []string{"leftPct"}},
		"zero bag":       {second(BagPeak(Bag{})), []string{"CoffeeG", "GasMgPerG", "Curve", "GasML", "OutsideKPa"}},
		"bag in all":     {second(BagAfter(Bag{nan, Coffee{inf, FirstOrder{-1}}, -1, 0, nan, 51, 61, 111}, -1)), []string{"CoffeeG", "GasMgPerG", "TauDays", "SealedDays", "GasML", "SlackML", "ValveKPa", "TempC", "OutsideKPa", "days"}},
		"bag too old":    {second(BagAfter(bag(), MaxDays-0.5)), []string{"days"}},
		"gauge":          {second(DaysToGauge(bag(), -1)), []string{"gaugeKPa"}},
		"hold":           {second(HoldDays(bag(), 701)), []string{"gaugeKPa"}},
		"slack":          {second(SlackMgPerG(-1, 0, Conditions{nan, 0})), []string{"slackML", "coffeeG", "TempC", "PressureKPa"}},
		"sweep":          {second(ValveSweep(nan, 0, 22)), []string{"evolvedML", "gasML", "oxygenPct"}},
		"zero bin":       {second(SealedBinMLPerG(SealedBin{})), []string{"BinML", "StartKPa", "OutsideKPa", "CoffeeG"}},
		"bin full":       {second(SealedBinMLPerG(SealedBin{1000, 1000, 101, 20, 101, 10, 20, 500})), []string{"SolidML"}},
		"zero plan":      {second(RestWindow(RestPlan{})), []string{"GasMgPerG", "Curve", "LeftMgPerG", "FreshDays"}},
		"plan":           {second(RestWindow(RestPlan{ok, 9.1, nan})), []string{"LeftMgPerG", "FreshDays"}},
		"zero clock":     {second(Instant(WallClock{}, nil)), []string{"Year", "Month", "Day", "loc"}},
		"30 February":    {second(Instant(WallClock{2026, 2, 30, 24, 60}, berlin)), []string{"Day", "Hour", "Minute"}},
		"29 February":    {second(Instant(WallClock{2100, 2, 29, 0, 0}, berlin)), []string{"Day"}},
		"nowhere":        {second(WhenAged(now, -1, nil)), []string{"days", "loc"}},
		"before roast":   {second(AgeDays(now, now.Add(-time.Second))), []string{"at"}},
		"best before":    {second(BestBefore(now, 0.5)), []string{"days"}},
		"zero release":   {second(TasteBefore(Release{})), []string{"GasMgPerG", "Curve", "CutOff", "OpenedDays"}},
		"late release":   {second(TasteBefore(Release{ok, now, now.Add(time.Hour), 8, 2, 10})), []string{"TastingHours"}},
		"release":        {second(TasteBefore(Release{ok, now, now.Add(-time.Hour), -1, nan, 0})), []string{"CutOff", "RestHours", "TastingHours", "OpenedDays"}},
		"zero store":     {second(RelativeLife(Store{}, Store{})), []string{"OxygenKPa", "WaterActivity", "reference.OxygenKPa", "reference.WaterActivity"}},
		"zero anchor":    {second3(BestBeforeDays(Anchor{}, Store{20.9, 30, 72})), []string{"Days", "OxygenKPa", "WaterActivity", "store.WaterActivity", "store.TempC"}},
		"alarm":          {second(CO2PctAtOxygen(0.195)), []string{"oxygenPct"}},
		"zero vapour":    {second(MgPerM3(Vapour{})), []string{"GPerMol", "PressureKPa"}},
		"emission":       {second(Emission(0, Coffee{}, 2, 1, Conditions{})), []string{"coffeeKg", "GasMgPerG", "Curve", "toDays", "PressureKPa"}},
		"zero room":      {second(RoomAir(Room{})), []string{"VolumeM3", "OutdoorPPM"}},
		"room":           {second(RoomAir(Room{inf, nan, -1, 0.04, -1})), []string{"VolumeM3", "FreshM3PerHour", "SourceLPerHour", "OutdoorPPM", "Hours"}},
		"zero coffee":    {second(CoffeeRoomAir(CoffeeRoom{})), []string{"CoffeeKg", "GasMgPerG", "Curve", "VolumeM3", "OutdoorPPM", "PressureKPa"}},
		"zero course":    {second(CoffeeRoomCourse(CoffeeRoom{})), []string{"CoffeeKg", "GasMgPerG", "Curve", "VolumeM3", "OutdoorPPM", "PressureKPa"}},
		"zero peak":      {second(CoffeeRoomPeak(CoffeeRoom{})), []string{"CoffeeKg", "GasMgPerG", "Curve", "VolumeM3", "OutdoorPPM", "PressureKPa"}},
		"coffee too old": {second(CoffeeRoomAir(CoffeeRoom{1, ok, MaxDays, 1, 1, 1, 420, at})), []string{"FromDays"}},
		"fresh air":      {second(FreshAirFor(-1, 420, 420)), []string{"sourceLPerHour", "limitPPM"}},
		"fresh air, all": {second(FreshAirFor(nan, nan, nan)), []string{"sourceLPerHour", "limitPPM", "outdoorPPM"}},
		"hours":          {second(HoursToLimit(Room{}, 200)), []string{"VolumeM3", "OutdoorPPM", "limitPPM"}},
		"hours, low":     {second(HoursToLimit(Room{100, 5, 200, 420, -5}, 419)), []string{"limitPPM"}},
	} {
		if c.err == nil {
			t.Errorf("%s: accepted", name)
			continue
		}
		if diff := cmp.Diff(c.want, fields(t, c.err)); diff != "" {
			t.Errorf("%s: fields (-want +got):\n%s", name, diff)
		}
	}
}

func second3[A, B any](a A, b B, err error) error {
	if e := second(a, err); e != err {
		return e
	}
	return second(b, err)
}

func TestUseNoAllocation(t *testing.T) {
	b := bag()
	room := CoffeeRoom{CoffeeKg: 50, Coffee: b.Coffee, Hours: 30, VolumeM3: 60, OutdoorPPM: 420, Conditions: Conditions{20, 101.325}}
	for name, f := range map[string]func() error{
		"BagAfter":       func() error { return second(BagAfter(b, 3)) },
		"DaysToGauge":    func() error { return second(DaysToGauge(b, 20)) },
		"HoldDays":       func() error { return second(HoldDays(b, 1)) },
		"Orientation":    func() error { return second(OrientationBand(3)) },
		"RestWindow":     func() error { return second(RestWindow(RestPlan{b.Coffee, 3, 30})) },
		"RelativeLife":   func() error { return second(RelativeLife(Store{5, 0.2, 20}, Store{21, 0.2, 20})) },
		"RoomAir":        func() error { return second(RoomAir(Room{100, 5, 200, 420, 8})) },
		"CoffeeRoomAir":  func() error { return second(CoffeeRoomAir(room)) },
		"CoffeeRoomPeak": func() error { return second(CoffeeRoomPeak(room)) },
		"MgPerM3":        func() error { return second(MgPerM3(Vapour{5000, CO2GPerMol, Conditions{20, 101.325}})) },
	} {
		var err error
		if n := testing.AllocsPerRun(100, func() { err = f() }); n != 0 || err != nil {
			t.Errorf("%s: %v allocations, %v", name, n, err)
		}
	}
}

func FuzzBag(f *testing.F) {
	f.Add(250.0, 9.0, 4.0, 0.65, 1.0, 300.0, 150.0, 0.0, 21.0, 100.0, 5.0) // an ordinary bag
	f.Add(1e6, 50.0, 1e-5, 2.0, 0.0, 1.0, 0.0, 0.0, 60.0, 50.0, 3650.0)    // the most gas in the least room
	f.Add(1.0, 0.1, 36500.0, 0.1, 3650.0, 1e7, 1e7, 50.0, -40.0, 110.0, 0.0)
	f.Add(math.NaN(), 1e-320, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, math.Inf(1), -1.0)
	f.Fuzz(func(t *testing.T, g, gas, tau, beta, sealed, ml, slack, valve, c, kpa, days float64) {
		b := Bag{g, Coffee{gas, Stretched{tau, beta}}, sealed, ml, slack, valve, c, kpa}
		s, err := BagAfter(b, days)
		if err != nil {
			fields(t, err)
			if s != (BagState{}) {
				t.Fatalf("%v beside %v", s, err)
			}
			return
		}
		for _, v := range []float64{s.EvolvedML, s.GasML, s.GaugeKPa, s.VentedML} {
			if !(v >= 0 && v <= 1e12) {
				t.Fatalf("%+v: %+v", b, s)
			}
		}
		if !near(s.GasML*(kpa+s.GaugeKPa)/kpa+s.VentedML, ml+s.EvolvedML, 1e-9) {
			t.Fatalf("%+v: gas is not conserved: %+v", b, s)
		}
		if d, err := HoldDays(b, 1); err == nil && !(d >= 0 && d <= MaxDays) {
			t.Fatalf("hold %v", d)
		}
		if d, err := DaysToGauge(b, 1); err == nil && !(d >= 0 && d <= MaxDays) {
			t.Fatalf("time %v", d)
		}
	})
}
