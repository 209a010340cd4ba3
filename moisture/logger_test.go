package moisture

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestLogByHand(t *testing.T) {
	nan := math.NaN()
	rows := []LogReading{
		{0, 18, 56},      // in band
		{600, 18, 64},    // above the band
		{1200, 18, 70},   // and at risk
		{1800, 18, 70},   // at risk
		{2400, nan, nan}, // the battery was changed
		{3000, 18, 56},   // in band; 1200 s after the last usable row
		{9000, 10, 56},   // 6000 s: a gap; too cold
		{9600, 18, 45},   // below the band
		{10200, 18, 56},
	}
	log, err := SummariseLog(roa, storeLimits, rows)
	if err != nil {
		t.Fatal(err)
	}
	eq := func(rh float64, c float64) float64 {
		e, err := EquilibriumMoisture(roa, Air{c, rh})
		if err != nil {
			t.Fatal(err)
		}
		return e.MoisturePct
	}
	want := StoreLog{
		ReadingsCount: 9, MissingCount: 1, GapsCount: 1,
		UsedSeconds: 4200, GapSeconds: 6000,
		InBandSeconds:      300 + 600 + 300, // halves of 0–600, 1800–3000, 9600–10200
		RiskSeconds:        300 + 600 + 600,
		LongestRiskSeconds: 1500,
		MeanTempC:          (3000*18 + 600*14 + 600*18) / 4200.0,
		MeanRHPct:          (600*60 + 600*67 + 600*70 + 1200*63 + 600*50.5 + 600*50.5) / 4200.0,
		MoisturePct: (300*(eq(56, 18)+eq(64, 18)) + 300*(eq(64, 18)+eq(70, 18)) + 600*eq(70, 18) + 600*(eq(70, 18)+eq(56, 18)) +
			300*(eq(56, 10)+eq(45, 18)) + 300*(eq(45, 18)+eq(56, 18))) / 4200,
		MinTempC: 10, MaxTempC: 18, MinRHPct: 45, MaxRHPct: 70,
		WorstIndex: 2, WorstByPct: 8,
		Notes: ParchmentDesorption | MayGrowMould | Gaps,
	}
	approx := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(b)) })
	if diff := cmp.Diff(want, log, approx); diff != "" {
		t.Error(diff)
	}
}

// Splitting a quiet interval changes nothing, and a constant room gives its
// own equilibrium.
func TestLogProperties(t *testing.T) {
	minute := yearLog(19_990)
	a, err := SummariseLog(roa, storeLimits, minute)
	if err != nil {
		t.Fatal(err)
	}
	if a.UsedSeconds+a.GapSeconds != minute[len(minute)-1].UnixSeconds-minute[0].UnixSeconds {
		t.Errorf("time does not close: %+v", a)
	}
	if !(a.InBandSeconds <= float64(a.UsedSeconds) && a.LongestRiskSeconds <= a.RiskSeconds && a.MinRHPct <= a.MeanRHPct && a.MeanRHPct <= a.MaxRHPct) {
		t.Errorf("%+v", a)
	}
	quiet := []LogReading{{0, 18, 58}, {60, 18, 58}, {3000, 18, 58}, {3060, 18, 58}}
	b, err := SummariseLog(roa, storeLimits, quiet)
	e, _ := EquilibriumMoisture(roa, Air{18, 58})
	if err != nil || !near(b.MoisturePct, e.MoisturePct, 1e-12) || b.InBandSeconds != 3060 || b.WorstIndex != -1 || b.Notes != ParchmentDesorption {
		t.Errorf("%+v, %v", b, err)
	}
	for name, rows := range map[string][]LogReading{
		"twice the same moment": {{0, 18, 58}, {0, 18, 58}},
		"backwards":             {{60, 18, 58}, {0, 18, 58}},
	} {
		if _, err := SummariseLog(roa, storeLimits, rows); fields(err) == nil || fields(err)[0] != "rows[1].UnixSeconds" {
			t.Errorf("%s: %v", name, err)
		}
	}
	// What the curve does not take is a missing reading.
	choice, err := ChooseIsotherm(lotPairs)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		curve   Isotherm
		t, rh   float64
		missing int
	}{
		{roa, 18, 100, 0}, {roa, 18, up(100), 1}, {roa, 18, 1, 0}, {roa, 18, down(1), 1}, {roa, 0, 58, 0}, {roa, -0.001, 58, 1},
		{roa, 70, 58, 0}, {roa, up(70), 58, 1}, {choice.Best.Curve, 18, 99, 0}, {choice.Best.Curve, 18, 99.1, 1},
	} {
		rows := []LogReading{{0, 18, 58}, {60, c.t, c.rh}, {120, 18, 58}}
		b, err := SummariseLog(c.curve, storeLimits, rows)
		if err != nil || b.MissingCount != c.missing || b.UsedSeconds != 120 {
			t.Errorf("%v °C, %v %%: %+v, %v", c.t, c.rh, b, err)
		}
	}
	for rh, want := range map[float64]float64{68: 60, 67.999: 0} {
		b, err := SummariseLog(roa, storeLimits, []LogReading{{0, 18, rh}, {60, 18, rh}})
		if err != nil || b.RiskSeconds != want || (b.Notes&MayGrowMould != 0) != (want > 0) {
			t.Errorf("at %v %%: %v s at risk, notes %q, %v", rh, b.RiskSeconds, b.Notes, err)
		}
	}
	// The band's edges are in it, and a pause as long as the limit counts.
	for _, c := range []struct {
		t, rh   float64
		seconds int64
		in      float64
		gaps    int
	}{
		{12, 58, 60, 60, 0}, {22, 58, 60, 60, 0}, {18, 50, 60, 60, 0}, {18, 62, 60, 60, 0},
		{11.999, 58, 60, 30, 0}, {22.001, 58, 60, 30, 0}, {18, 49.999, 60, 30, 0}, {18, 62.001, 60, 30, 0},
		{18, 58, 3600, 3600, 0}, {18, 58, 3601, 0, 1},
	} {
		// The last two readings make sure of time that counts; they are out.
		rows := []LogReading{{0, 18, 58}, {c.seconds, c.t, c.rh}, {c.seconds + 3700, 40, 58}, {c.seconds + 3760, 40, 58}}
		b, err := SummariseLog(roa, storeLimits, rows)
		if err != nil || b.InBandSeconds != c.in || b.GapsCount != 1+c.gaps {
			t.Errorf("%+v: %+v, %v", c, b, err)
		}
	}
	flat := Isotherm{Form: FormRoa, Scale: 1}
	if got, err := SummariseLog(flat, storeLimits, quiet); fields(err) == nil || got != (StoreLog{}) {
		t.Errorf("a curve of nothing gives %+v, %v", got, err)
	}
	_, err = SummariseLog(roa, storeLimits, []LogReading{{60, 18, 58}, {0, 18, 58}})
	if want := "rows[1].UnixSeconds is 0 s; accepted: 61 to 100000000000 s (times rise from row to row)"; err == nil || err.Error() != want {
		t.Errorf("backwards reads %v", err)
	}
	swapped := storeLimits
	swapped.LowC, swapped.HighC, swapped.LowRHPct, swapped.HighRHPct = 22, 12, 62, 50
	_, err = SummariseLog(roa, swapped, quiet)
	if diff := cmp.Diff([]string{"HighC", "HighRHPct"}, fields(err)); diff != "" {
		t.Error(diff)
	}
	strange := LogLimits{math.NaN(), math.Inf(1), math.NaN(), math.NaN(), math.NaN(), -1}
	got, err := SummariseLog(Isotherm{}, strange, quiet)
	sane(t, "SummariseLog", strange, got, err)
	if diff := cmp.Diff([]string{"Form", "LowC", "HighC", "LowRHPct", "HighRHPct", "RiskAw", "MaxGapSeconds"}, fields(err)); diff != "" {
		t.Error(diff)
	}
}

// Time at the threshold is time at risk, however the threshold rounds as a
// percentage: 100·0.55 is a little over 55.
func TestRiskAtTheThreshold(t *testing.T) {
	for i := 30_00; i <= 100_00; i++ {
		l := storeLimits
		l.RiskAw = float64(i) / 1e4
		pct := float64(i) / 100
		for rh, want := range map[float64]float64{pct: 600, down(down(pct)): 0} {
			b, err := SummariseLog(roa, l, []LogReading{{0, 20, rh}, {600, 20, rh}})
			if err != nil || b.RiskSeconds != want || b.LongestRiskSeconds != want {
				t.Fatalf("%v %% held against %v: %v s, %v", rh, l.RiskAw, b.RiskSeconds, err)
			}
		}
	}
	// One that is no short decimal stays where it is.
	l := storeLimits
	l.RiskAw = 2.0 / 3
	for rh, want := range map[float64]float64{100 * l.RiskAw: 600, down(100 * l.RiskAw): 0} {
		if b, err := SummariseLog(roa, l, []LogReading{{0, 20, rh}, {600, 20, rh}}); err != nil || b.RiskSeconds != want {
			t.Errorf("%v %% held against two thirds: %v s, %v", rh, b.RiskSeconds, err)
		}
	}
}

// A log without two usable rows near each other names the gap's length that
// would do, and where none does, nothing beside the reason.
func TestLogWithoutPairs(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		rows     []LogReading
		gap      int64
		field    string
		given    string
		min, max float64
	}{
		{[]LogReading{{0, nan, 58}, {60, 18, nan}}, 3600, "", "", 0, 0},
		{[]LogReading{{0, 18, 58}, {60, 18, nan}}, 3600, "", "", 0, 0},
		{[]LogReading{{0, 18, 58}, {4e7, 18, 58}}, maxGapSeconds, "", "", 0, 0},
		{[]LogReading{{0, 18, 58}, {4e7, 18, 58}}, 3600, "", "", 0, 0},
		{[]LogReading{{0, 18, 58}, {2e5, 18, 58}, {3e5, 18, 58}, {4.1e5, 18, 58}}, 3600, "MaxGapSeconds", "3600", 1e5, maxGapSeconds},
		{[]LogReading{{0, 18, 58}, {5e4, 18, nan}, {1e5, 18, 58}}, 3600, "MaxGapSeconds", "3600", 1e5, maxGapSeconds},
		{[]LogReading{{0, 18, 58}, {maxGapSeconds, 18, 58}}, 1, "MaxGapSeconds", "1", maxGapSeconds, maxGapSeconds},
	} {
		l := storeLimits
		l.MaxGapSeconds = c.gap
		_, err := SummariseLog(roa, l, c.rows)
		var none *ImpossibleError
		if !errors.As(err, &none) || none.Field != c.field || none.Given != c.given || none.Min != c.min || none.Max != c.max {
			t.Errorf("%v: %v", c.rows, err)
			continue
		}
		for _, gap := range []float64{none.Min, none.Max} {
			if l.MaxGapSeconds = int64(gap); c.field == "MaxGapSeconds" {
				if _, err := SummariseLog(roa, l, c.rows); err != nil {
					t.Errorf("with a gap of %v: %v", gap, err)
				}
			}
		}
		if l.MaxGapSeconds = int64(none.Min) - 1; c.field == "MaxGapSeconds" {
			if _, err := SummariseLog(roa, l, c.rows); l.MaxGapSeconds > 0 && err == nil {
				t.Errorf("a gap of %v does too", l.MaxGapSeconds)
			}
		}
	}
}

// yearLog is an invented store at one reading a minute: a yearly and a daily
// wave, a few missing rows and a gap a month.
func yearLog(n int) []LogReading {
	rows := make([]LogReading, 0, n)
	at := int64(1_760_000_000)
	for i := range n {
		at += 60
		if i%43_800 == 43_799 {
			at += 7200
		}
		day := 2 * math.Pi * float64(i) / 1440
		r := LogReading{at, 18 + 3*math.Sin(day/365) + math.Sin(day), 58 + 8*math.Sin(day/365+1) - 3*math.Sin(day)}
		if i%5000 == 4999 {
			r.RHPct = math.NaN()
		}
		rows = append(rows, r)
	}
	return rows
}

func TestLogLimitsAtTheirEnds(t *testing.T) {
	quiet := []LogReading{{0, 18, 58}, {1, 18, 58}}
	for _, c := range []struct {
		field string
		set   func(l *LogLimits, v float64)
		ok    []float64
		no    []float64
	}{
		{"LowC", func(l *LogLimits, v float64) { l.LowC, l.HighC = v, 80 }, []float64{-40, 80}, []float64{down(-40), up(80)}},
		{"HighC", func(l *LogLimits, v float64) { l.HighC = v }, []float64{12, 80}, []float64{down(12), up(80)}},
		{"LowRHPct", func(l *LogLimits, v float64) { l.LowRHPct, l.HighRHPct = v, 100 }, []float64{0, 100}, []float64{-1e-9, up(100)}},
		{"HighRHPct", func(l *LogLimits, v float64) { l.HighRHPct = v }, []float64{50, 100}, []float64{down(50), up(100)}},
		{"HighRHPct", func(l *LogLimits, v float64) { l.LowRHPct, l.HighRHPct = 0, v }, []float64{1}, []float64{down(1)}},
		{"RiskAw", func(l *LogLimits, v float64) { l.RiskAw = v }, []float64{0.3, 1}, []float64{down(0.3), up(1), 68}},
		{"MaxGapSeconds", func(l *LogLimits, v float64) { l.MaxGapSeconds = int64(v) }, []float64{1, maxGapSeconds}, []float64{0, -1, maxGapSeconds + 1}},
	} {
		for i, v := range append(append([]float64(nil), c.ok...), c.no...) {
			l := storeLimits
			c.set(&l, v)
			_, err := SummariseLog(roa, l, quiet)
			names := fields(err)
			if i < len(c.ok) && err != nil || i >= len(c.ok) && (len(names) == 0 || names[0] != c.field) {
				t.Errorf("%s = %v: %v", c.field, v, err)
			}
		}
	}
}
