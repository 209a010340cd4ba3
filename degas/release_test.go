package degas

import (
	"errors"
	"math"
	"testing"
)

// The release is the emission added up, from any age, for every curve: what a
// mean rate over a time gives times that time.
func TestReleaseIsEmission(t *testing.T) {
	at := Conditions{TempC: 21, PressureKPa: 99}
	for _, c := range []Curve{FirstOrder{3}, Stretched{4, 0.6}, TwoPools{FastPct: 40, FastTauDays: 0.5, SlowTauDays: 20}, Sphere{RadiusMM: 3, DiffusivityM2PerS: 2e-13}, Sheet{HalfThicknessMM: 1, DiffusivityM2PerS: 2e-13}} {
		coffee := Coffee{9, c}
		for _, from := range []float64{0, 0.3, 5, 200} {
			q, err := ReleaseML(340, coffee, from, at)
			if err != nil {
				t.Fatal(err)
			}
			if q(0) != 0 {
				t.Errorf("%#v: %v mL at once", c, q(0))
			}
			last := 0.0
			for _, days := range []float64{0.01, 1, 40, 900} {
				g, err := Emission(0.34, coffee, from, from+days, at)
				if err != nil {
					t.Fatal(err)
				}
				want := g * 1000 * 24 * days
				if got := q(days); !(math.Abs(got-want) <= 1e-12*want+1e-12) || got < last {
					t.Errorf("%#v from %v for %v days: %v mL, not %v", c, from, days, got, want)
				} else {
					last = got
				}
			}
		}
	}
}

func TestReleaseRefusals(t *testing.T) {
	var input *InputError
	q, err := ReleaseML(0, Coffee{}, -1, Conditions{})
	if !errors.As(err, &input) || q != nil {
		t.Fatalf("%v, %v", q == nil, err)
	}
	var got []string
	for _, f := range input.Fields {
		got = append(got, f.Field)
	}
	want := []string{"coffeeG", "GasMgPerG", "Curve", "fromDays", "PressureKPa"}
	for i := range want {
		if i >= len(got) || got[i] != want[i] {
			t.Fatalf("refused are %v, not %v", got, want)
		}
	}
	coffee, at := Coffee{9, Stretched{4, 0.6}}, Conditions{TempC: 20, PressureKPa: AtmosphereKPa}
	for _, bad := range []float64{math.Nextafter(0.01, 0), math.Nextafter(1e9, 2e9), math.NaN(), math.Inf(1)} {
		if _, err := ReleaseML(bad, coffee, 0, at); !errors.As(err, &input) || input.Fields[0].Field != "coffeeG" || input.Fields[0].Min != 0.01 || input.Fields[0].Max != 1e9 || input.Fields[0].Unit != "g" {
			t.Errorf("%v g: %v", bad, err)
		}
	}
	for _, bad := range []float64{-1e-9, math.Nextafter(MaxDays, 1e9), math.NaN()} {
		if _, err := ReleaseML(340, coffee, bad, at); !errors.As(err, &input) || input.Fields[0].Field != "fromDays" || input.Fields[0].Min != 0 || input.Fields[0].Max != MaxDays {
			t.Errorf("%v days: %v", bad, err)
		}
	}
	for _, good := range []float64{0.01, 1e9} {
		if _, err := ReleaseML(good, coffee, MaxDays, at); err != nil {
			t.Error(err)
		}
	}
}

func TestReleaseAllocations(t *testing.T) {
	q, err := ReleaseML(340, Coffee{9, Stretched{4, 0.6}}, 1, Conditions{TempC: 20, PressureKPa: AtmosphereKPa})
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(100, func() { sink = q(30) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// What a stretched exponential through two points calls possible is possible,
// just inside both ends, and just outside it is not: where the exponent sets
// the end, and where the scale of time does, on either side of it.
func TestStretchedThroughNamesWhatIsPossible(t *testing.T) {
	for _, p := range [][2]Point{
		{{1, 40}, {7, 41}}, {{1, 40}, {1.5, 99}}, {{3000, 1}, {3600, 1.03}}, {{0.0001, 99}, {0.001, 99}}, {{0.0001, 1}, {3650, 1.01}}, {{2, 62}, {3, 62.01}}, {{2, 64}, {3, 64.01}},
	} {
		_, err := StretchedThrough(p[0], p[1])
		e, ok := errors.AsType[*ImpossibleError](err)
		if !ok {
			if input, refused := errors.AsType[*InputError](err); !refused || input.Fields[0].Field != "b.GonePct" {
				t.Errorf("%v: %v", p, err)
			}
			continue
		}
		try := func(gone float64) error { _, err := StretchedThrough(p[0], Point{p[1].Days, gone}); return err }
		if gone := p[1].GonePct; gone >= e.Min && gone <= e.Max {
			t.Errorf("%v: %v", p, e)
		}
		in := 1e-9 * (e.Max - e.Min)
		if try(e.Min+in) != nil || try(e.Max-in) != nil {
			t.Errorf("%v: %v and %v are called possible: %v, %v", p, e.Min, e.Max, try(e.Min+in), try(e.Max-in))
		}
		if try(e.Min-in) == nil || e.Max < 99 && try(e.Max+in) == nil {
			t.Errorf("%v: more is possible than %v to %v", p, e.Min, e.Max)
		}
	}
}
