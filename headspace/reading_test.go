package headspace

import (
	"errors"
	"math"
	"testing"
)

var (
	aCal   = Calibration{0.12, 0.02, 20.6, 20.6}
	bCal   = Calibration{0.2, 0.01, 20.4, 20.6}
	aMeter = Meter{1.3, aCal, bCal, 40, 101.3, 99.8, 0.1, 0.03, 0.01, false}
	aDraw  = Draw{1.4, 20.7, 20, 500, 4}
	aCase  = Case{1.2, 0.05, 2, 1, 2}
)

func TestReadingRefusals(t *testing.T) {
	refuses(t, aMeter, CorrectReading, limit{"RawPct", -2, 110}, limit{"ElapsedPct", 0, 100},
		limit{"SpanKPa", 50, 200}, limit{"ReadKPa", 50, 200}, limit{"ResolutionPct", 0, 1}, limit{"RepeatSDPct", 0, 5}, limit{"GasSDPct", 0, 5})
	wide := Meter{RawPct: 1, Before: Calibration{-2, 0, 110, 100}, After: Calibration{-2, 0, 110, 100}, SpanKPa: 100, ReadKPa: 100}
	refuses(t, wide, CorrectReading, limit{"Before.ZeroRawPct", -2, 109.5}, limit{"Before.ZeroTruePct", 0, 99.5}, limit{"Before.SpanRawPct", -1.5, 110}, limit{"Before.SpanTruePct", 0.5, 100})
	refuses(t, aCase, JudgeOxygen, limit{"OxygenPct", -2, 110}, limit{"UncertaintyPct", 0, 10}, limit{"CoverageFactor", 0, 5})
}

func TestVerdictLimits(t *testing.T) {
	refuses(t, Case{1.2, 0.05, 2, 1, 20}, JudgeOxygen, limit{"ExcellentPct", 0.01, 20})
	refuses(t, aCase, JudgeOxygen, limit{"LimitPct", 1, 20})
	refuses(t, aDraw, BagOxygen, limit{"OxygenPct", -2, 110}, limit{"AirPct", 0, 100}, limit{"DrawML", 0.1, 10_000}, limit{"GiveML", 0.1, 1e6}, limit{"LineML", 0, 10_000})
	refuses(t, RoomAir{25, 50, 101.3}, AirOxygen, limit{"TempC", 0, 60}, limit{"RHPct", 0, 100}, limit{"KPa", 50, 110})
	refuses(t, GasState{20, 101.3}, MolarVolume, limit{"TempC", -40, 150}, limit{"KPa", 1, 5000})
	refuses(t, Restated{1, GasState{0, 100}, GasState{20, 101}}, VolumeAt, limit{"Volume", 0, 1e12}, limit{"From.TempC", -40, 150}, limit{"From.KPa", 1, 5000}, limit{"To.TempC", -40, 150}, limit{"To.KPa", 1, 5000})
	for _, h := range []float64{math.Nextafter(-500, -501), math.Nextafter(11_000, 12_000), math.NaN(), math.Inf(-1)} {
		if p, err := Pressure(h); err == nil || p != 0 {
			t.Errorf("at %v m: %v", h, p)
		}
	}
}

// A second calibration that shows what the first did is one: its raw numbers are
// read anew, so that the answer is as sure as with one that is a hair off, and the
// drift is known to be nothing. Twice the same numbers of one are not.
func TestTheSameAgain(t *testing.T) {
	at := func(off float64, again bool) Corrected {
		t.Helper()
		c := Calibration{0, 0, 20.8, 20.946}
		d := c
		d.SpanRawPct += off
		got, err := CorrectReading(Meter{RawPct: 0.5, Before: c, After: d, ElapsedPct: 50, SpanKPa: 100, ReadKPa: 100, ResolutionPct: 0.1, RepeatSDPct: 0.05, Again: again})
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	one, two, off := at(0, false), at(0, true), at(1e-9, false)
	if one.Notes != DriftUnknown || two.Notes != 0 || off.Notes != 0 || two.DriftPct != 0 || two.OxygenPct != one.OxygenPct {
		t.Errorf("once %+v, again %+v, a hair off %+v", one, two, off)
	}
	near(t, "uncertainty with the same again", two.UncertaintyPct, off.UncertaintyPct, 1e-9)
	// Two readings of the zero gas halve the square of its part.
	near(t, "the zero point's part", one.FromZeroPct, two.FromZeroPct*math.Sqrt2, 1e-12)
	if got := at(1e-9, true); got != off {
		t.Errorf("one that differs is a second whether it says so or not: %+v, %+v", got, off)
	}
}

// A meter that is right in its two gases is right in them whatever it shows,
// and a meter that shows the truth is left alone.
func TestCalibrationPointsComeBack(t *testing.T) {
	for _, cal := range []Calibration{aCal, bCal, {-1, 0, 30, 20.946}, {3, 2, 60, 99}} {
		at := func(raw float64) Corrected {
			t.Helper()
			c, err := CorrectReading(Meter{RawPct: raw, Before: cal, After: cal, SpanKPa: 100, ReadKPa: 100})
			if err != nil {
				t.Fatal(err)
			}
			if c.Notes&DriftUnknown == 0 || c.DriftPct != 0 {
				t.Errorf("%+v", c)
			}
			return c
		}
		if z := at(cal.ZeroRawPct).OxygenPct; math.Abs(z-cal.ZeroTruePct) > 1e-14 {
			t.Errorf("zero gas reads %v", z)
		}
		near(t, "span gas", at(cal.SpanRawPct).OxygenPct, cal.SpanTruePct, 1e-14)
	}
	if c, err := CorrectReading(Meter{RawPct: 0.1, Before: aCal, After: aCal, SpanKPa: 100, ReadKPa: 100}); err != nil || c.OxygenPct >= 0 || c.Notes&BelowZero == 0 {
		t.Errorf("below the zero point: %+v, %v", c, err)
	}
}

// The drift is linear between the two calibrations.
func TestDriftIsLinear(t *testing.T) {
	at := func(elapsed float64) Corrected {
		m := aMeter
		m.ElapsedPct = elapsed
		c, err := CorrectReading(m)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	a, b := at(0), at(100)
	near(t, "whole drift", a.DriftPct, b.OxygenPct-a.OxygenPct, 1e-12)
	near(t, "a quarter of it", at(25).OxygenPct, a.OxygenPct+0.25*a.DriftPct, 1e-12)
	if a.Notes != 0 {
		t.Errorf("notes %v", a.Notes)
	}
}

// The uncertainty is what moving each input by its own does, as root of
// squares, and its parts add up.
func TestReadingUncertainty(t *testing.T) {
	for _, same := range []bool{false, true} {
		m := aMeter
		if same {
			m.After = m.Before
		}
		c, err := CorrectReading(m)
		if err != nil {
			t.Fatal(err)
		}
		raw := math.Hypot(m.ResolutionPct/math.Sqrt(12), m.RepeatSDPct)
		const h = 1e-6
		slope := func(move func(m *Meter, h float64)) float64 {
			up, down := m, m
			move(&up, h)
			move(&down, -h)
			a, e1 := CorrectReading(up)
			b, e2 := CorrectReading(down)
			if e1 != nil || e2 != nil {
				t.Fatal(e1, e2)
			}
			return (a.OxygenPct - b.OxygenPct) / (2 * h)
		}
		sum := 0.0
		add := func(u float64, move func(m *Meter, h float64)) { s := u * slope(move); sum += s * s }
		add(raw, func(m *Meter, h float64) { m.RawPct += h })
		add(m.GasSDPct, func(m *Meter, h float64) { m.Before.ZeroTruePct += h; m.After.ZeroTruePct += h })
		add(m.GasSDPct, func(m *Meter, h float64) { m.Before.SpanTruePct += h; m.After.SpanTruePct += h })
		if same {
			add(raw, func(m *Meter, h float64) { m.Before.ZeroRawPct += h; m.After.ZeroRawPct += h })
			add(raw, func(m *Meter, h float64) { m.Before.SpanRawPct += h; m.After.SpanRawPct += h })
		} else {
			add(raw, func(m *Meter, h float64) { m.Before.ZeroRawPct += h })
			add(raw, func(m *Meter, h float64) { m.After.ZeroRawPct += h })
			add(raw, func(m *Meter, h float64) { m.Before.SpanRawPct += h })
			add(raw, func(m *Meter, h float64) { m.After.SpanRawPct += h })
		}
		near(t, "uncertainty", c.UncertaintyPct, math.Sqrt(sum), 1e-6)
		near(t, "its parts", math.Sqrt(c.FromReadingPct*c.FromReadingPct+c.FromZeroPct*c.FromZeroPct+c.FromSpanPct*c.FromSpanPct), c.UncertaintyPct, 1e-12)
		if !(c.FromSpanPct < c.FromZeroPct/5) {
			t.Errorf("near 1 %% the zero point governs: %+v", c)
		}
	}
}

// A cell spanned at sea level is put right at altitude.
func TestAltitude(t *testing.T) {
	p, err := Pressure(1500)
	if err != nil {
		t.Fatal(err)
	}
	cal := Calibration{0.1, 0, 20.8, AirOxygenPct}
	shown := 0.1 + (20.8-0.1)*p/SeaLevelKPa
	c, err := CorrectReading(Meter{RawPct: shown, Before: cal, After: cal, SpanKPa: SeaLevelKPa, ReadKPa: p})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "air at 1500 m", c.OxygenPct, AirOxygenPct, 1e-12)
	last := 200.0
	for h := -500.0; h <= 11_000; h += 50 {
		p, err := Pressure(h)
		if err != nil || !(p < last) {
			t.Fatalf("%v m: %v kPa after %v, %v", h, p, last, err)
		}
		last = p
	}
	// Water takes the place of oxygen, the more the thinner the air.
	wet, _ := AirOxygen(RoomAir{30, 80, 101.3})
	high, _ := AirOxygen(RoomAir{30, 80, 80})
	dry, _ := AirOxygen(RoomAir{30, 0, 80})
	if !(high < wet && wet < dry && dry == AirOxygenPct) {
		t.Errorf("%v, %v, %v", high, wet, dry)
	}
}

func TestVerdict(t *testing.T) {
	for _, c := range []struct {
		oxygen, u, k float64
		want         Verdict
	}{
		{0.5, 0.1, 2, Excellent}, {0.8, 0.1, 2, Acceptable}, {0.79, 0.1, 2, Excellent}, {1, 0, 2, Acceptable},
		{1.79, 0.1, 2, Acceptable}, {1.8, 0.1, 2, Undecided}, {2, 0, 2, TooMuch}, {2, 0.1, 2, Undecided}, {2.25, 0.1, 2, TooMuch},
		{2.25, 0.5, 0, TooMuch}, {-0.1, 0.05, 2, Excellent},
	} {
		got, err := JudgeOxygen(Case{c.oxygen, c.u, c.k, ExcellentOxygenPct, LimitOxygenPct})
		if err != nil || got != c.want {
			t.Errorf("%v ± %v·%v: %v, %v, want %v", c.oxygen, c.k, c.u, got, err, c.want)
		}
		if got.String() == "none" {
			t.Errorf("%v has no word", c)
		}
	}
	if Verdict(0).String() != "none" || Verdict(9).String() != "none" {
		t.Error("a verdict that is none has a word")
	}
}

// Mixing the bag's gas with outside air by the shares the doc gives, and
// taking it out again.
func TestDrawTakesTheAirOut(t *testing.T) {
	for _, d := range []Draw{{0, 20.7, 20, 500, 4}, {0, 20.7, 20, 5, 0}, {0, 20.7, 50, 30, 10}, {0, 0, 9, 900, 90}, {0, 20.9, 10, 1.2, 0}} {
		for _, y := range []float64{0, 0.4, 5, 40} {
			bag := math.Min(1, d.GiveML/d.DrawML)
			if d.LineML > 0 {
				bag *= 1 - math.Exp(-d.DrawML/d.LineML)
			}
			d.OxygenPct = bag*y + (1-bag)*d.AirPct
			s, err := BagOxygen(d)
			if bag < 0.1 {
				var none *ImpossibleError
				if !errors.As(err, &none) {
					t.Errorf("%+v: %v, %v", d, s, err)
				}
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if !(math.Abs(s.OxygenPct-y) <= 1e-12*math.Max(1, y)/bag) {
				t.Errorf("%+v: %v came back as %v", d, y, s.OxygenPct)
			}
			near(t, "share", s.AirShare, 100*(1-bag), 1e-9)
			if (s.Notes&AirInSample != 0) != (s.AirShare > 10) {
				t.Errorf("%+v", s)
			}
		}
	}
	// Each change alone: of the draw, of the line, of what the bag gives.
	for _, d := range []Draw{{5, 20.7, 100, 5, 0}, {5, 20.7, 1, 500, 50}, {5, 20.7, 3, 1, 100}, {5, 20.7, 100, 5, 100}} {
		var none *ImpossibleError
		if _, err := BagOxygen(d); !errors.As(err, &none) {
			t.Errorf("%+v: %v", d, err)
			continue
		}
		if !(none.Min < none.Max) {
			t.Errorf("%+v: %v", d, none)
			continue
		}
		better := d
		mid := (none.Min + none.Max) / 2
		switch none.Field {
		case "DrawML":
			better.DrawML = math.Max(none.Min*1.001, math.Min(mid, none.Max))
		case "LineML":
			better.LineML = mid
		case "GiveML":
			better.GiveML = mid
		}
		if _, err := BagOxygen(better); err != nil {
			t.Errorf("%+v is called possible: %v", better, err)
		}
	}
}

func TestReadingAllocations(t *testing.T) {
	allocatesNothing(t, aMeter, CorrectReading)
	allocatesNothing(t, aCase, JudgeOxygen)
	allocatesNothing(t, aDraw, BagOxygen)
	allocatesNothing(t, RoomAir{25, 50, 101.3}, AirOxygen)
	allocatesNothing(t, 1500.0, Pressure)
	allocatesNothing(t, Restated{1, GasState{0, 100}, GasState{20, 101}}, VolumeAt)
}

func FuzzReading(f *testing.F) {
	f.Add(1.3, 0.12, 0.0, 20.6, 20.6, 40.0, 101.3, 99.8, 0.1)       // a bench reading
	f.Add(0.013, 0.0, 0.0, 0.206, 0.209, 0.4, 1013.0, 998.0, 0.001) // fractions and hPa
	f.Add(math.NaN(), -2.0, 99.5, 5e-324, 100.0, 0.0, 50.0, 200.0, 1e-320)
	f.Fuzz(func(t *testing.T, raw, zr, zt, sr, st, e, ps, pr, res float64) {
		cal := Calibration{zr, zt, sr, st}
		c, err := CorrectReading(Meter{raw, cal, Calibration{zr + res, zt, sr, st}, e, ps, pr, res, res, res, res > 0.5})
		judged(t, c, err)
		s, err := BagOxygen(Draw{raw, st, zr, sr, zt})
		judged(t, s, err)
		x, err := AirOxygen(RoomAir{zt, e, ps})
		judged(t, x, err)
		v, err := VolumeAt(Restated{raw, GasState{zr, ps}, GasState{zt, pr}})
		judged(t, v, err)
	})
}
