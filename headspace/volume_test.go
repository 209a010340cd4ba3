package headspace

import (
	"errors"
	"math"
	"testing"
)

var (
	aDisplacement = Displacement{100, 500, 475, 0.998, 0.01}
	aPores        = Pores{340, 0.8, PorosityRoastedPct}
	anEvening     = Evening{750, 1, 145, 15}
)

func TestVolumeRefusals(t *testing.T) {
	refuses(t, Pillow{130, 200}, PillowBag, limit{"HeightMM", 130, 5000})
	refuses(t, Pillow{2000, 2000}, PillowBag, limit{"WidthMM", 20, 2000})
	refuses(t, Pillow{20, 2000}, PillowBag, limit{"WidthMM", 20, 2000}, limit{"HeightMM", 20, 5000})
	refuses(t, WaterFill{20, 1200, 20}, WaterFilled, limit{"FilledG", 30, 200_000})
	refuses(t, WaterFill{0, 20_000, 20}, WaterFilled, limit{"EmptyG", 0, 10_000}, limit{"FilledG", 10, 200_000}, limit{"TempC", 0, 40})
	refuses(t, aDisplacement, BeanDensity, limit{"BeansG", 1, 10_000}, limit{"VesselG", 1, 50_000}, limit{"TogetherG", 1, 50_000},
		limit{"MediumGPerML", 0.3, 2}, limit{"ScaleG", 0, 10})
	refuses(t, Heap{0.8, 1.5}, VoidShare, limit{"BeanGPerML", math.Nextafter(0.8, 1), 1.5})
	refuses(t, Heap{0.1, 1.5}, VoidShare, limit{"BulkGPerML", 0.1, 1}, limit{"BeanGPerML", 0.5, 1.5})
	refuses(t, aPores, PoreVolume, limit{"CoffeeG", 1, 100_000}, limit{"BeanGPerML", 0.5, 1.5}, limit{"PorosityPct", 0, 80})
	refuses(t, anEvening, AfterEvening, limit{"FreeML", 1, 1e9}, limit{"OxygenPct", 0, 100}, limit{"PoreML", 0, 1e9}, limit{"PorePct", 0, 100})
	for _, c := range []float64{math.Nextafter(0, -1), math.Nextafter(40, 41), math.NaN(), math.Inf(1)} {
		if v, err := WaterDensity(c); err == nil || v != 0 {
			t.Errorf("water at %v °C: %v", c, v)
		}
	}
	var none *ImpossibleError
	if _, err := BeanDensity(Displacement{100, 500, 610, 1, 0}); !errors.As(err, &none) || none.Field != "TogetherG" {
		t.Errorf("beans that float out of the arithmetic: %v", err)
	} else {
		for _, m := range []float64{none.Min * (1 + 1e-9), none.Max * (1 - 1e-9)} {
			if _, err := BeanDensity(Displacement{100, 500, m, 1, 0}); err != nil {
				t.Errorf("a weighing it calls possible: %v", err)
			}
		}
	}
}

// A bulk density in place of a particle density is named as what it is.
func TestBulkDensityIsNamed(t *testing.T) {
	_, err := FreeVolume(Fill{1200, 340, 0.37})
	var field *FieldError
	if !errors.As(err, &field) || field.Field != "BeanGPerML" || field.Why == "" {
		t.Errorf("%v", err)
	}
}

// A very long pillow is a tube: w²/π for each mm of height, and its two ends
// take off 0.142 w³ whatever the height.
func TestPillowTendsToTube(t *testing.T) {
	const w = 100.0
	tall, err := PillowBag(Pillow{w, 5000})
	if err != nil {
		t.Fatal(err)
	}
	less, err := PillowBag(Pillow{w, 4000})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tube", tall.BagML-less.BagML, w*w/math.Pi*1000/1000, 1e-12)
	near(t, "ends", 5000*w*w/math.Pi/1000-tall.BagML, 0.142*w*w*w/1000, 1e-9)
	last := 0.0
	for h := w; h <= 5000; h += 7 {
		v, err := PillowBag(Pillow{w, h})
		if err != nil {
			t.Fatal(err)
		}
		if !(v.BagML > last && v.HighML > v.BagML) {
			t.Fatalf("height %v: %+v after %v", h, v, last)
		}
		last = v.BagML
	}
	// The size scales with the cube of the lengths.
	big, err := PillowBag(Pillow{2 * w, 2 * 333})
	if err != nil {
		t.Fatal(err)
	}
	small, err := PillowBag(Pillow{w, 333})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cube", big.BagML, 8*small.BagML, 1e-12)
}

// Bulk volume is beans and gaps: two routes to the headspace of a heap.
func TestVoidsAndHeadspaceAgree(t *testing.T) {
	for _, bulk := range []float64{0.1, 0.3, 0.37, 0.45} {
		for _, bean := range []float64{0.5, 0.8, 1.5} {
			v, err := VoidShare(Heap{bulk, bean})
			if err != nil {
				t.Fatal(err)
			}
			f, err := FreeVolume(Fill{1000, 1000 * bulk, bean})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "voids", v, f.FreePct, 1e-12)
		}
	}
}

// The scale's uncertainty of a density is what moving each weighing does.
func TestDensityUncertainty(t *testing.T) {
	base, err := BeanDensity(aDisplacement)
	if err != nil {
		t.Fatal(err)
	}
	const h = 1e-3
	sum := 0.0
	for i := range 3 {
		up, down := aDisplacement, aDisplacement
		for _, s := range []struct {
			d *Displacement
			h float64
		}{{&up, h}, {&down, -h}} {
			*[]*float64{&s.d.BeansG, &s.d.VesselG, &s.d.TogetherG}[i] += s.h
		}
		a, e1 := BeanDensity(up)
		b, e2 := BeanDensity(down)
		if e1 != nil || e2 != nil {
			t.Fatal(e1, e2)
		}
		slope := (a.BeanGPerML - b.BeanGPerML) / (2 * h)
		sum += slope * slope
	}
	near(t, "uncertainty", base.UncertaintyGPerML, aDisplacement.ScaleG*math.Sqrt(sum), 1e-6)
	near(t, "volume", base.BeanML*base.BeanGPerML, aDisplacement.BeansG, 1e-12)
}

// Evening out keeps the oxygen and lies between the two gases.
func TestEveningKeepsOxygen(t *testing.T) {
	for _, e := range []Evening{anEvening, {1, 0, 1e9, 100}, {750, 1, 0, 20}, {1e9, 20, 1, 0}} {
		y, err := AfterEvening(e)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "oxygen", y*(e.FreeML+e.PoreML), e.OxygenPct*e.FreeML+e.PorePct*e.PoreML, 1e-12)
		if y < math.Min(e.OxygenPct, e.PorePct) || y > math.Max(e.OxygenPct, e.PorePct) {
			t.Errorf("%+v gives %v", e, y)
		}
	}
}

func TestVolumeAllocations(t *testing.T) {
	allocatesNothing(t, Pillow{130, 200}, PillowBag)
	allocatesNothing(t, WaterFill{20, 1200, 20}, WaterFilled)
	allocatesNothing(t, aDisplacement, BeanDensity)
	allocatesNothing(t, Heap{0.37, 0.8}, VoidShare)
	allocatesNothing(t, aPores, PoreVolume)
	allocatesNothing(t, anEvening, AfterEvening)
	allocatesNothing(t, 20.0, WaterDensity)
}

func FuzzVolumes(f *testing.F) {
	f.Add(130.0, 200.0, 340.0, 0.8, 20.0)                             // a bag on the bench
	f.Add(0.13, 0.2, 0.34, 800.0, 293.0)                              // metres, kilograms, kg/m³, kelvin
	f.Add(math.NaN(), math.Inf(1), 5e-324, math.Copysign(0, -1), 0.0) // edges of the floats
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64) {
		p, err := PillowBag(Pillow{a, b})
		judged(t, p, err)
		w, err := WaterFilled(WaterFill{a, b, e})
		judged(t, w, err)
		bd, err := BeanDensity(Displacement{c, a, b, d, e})
		judged(t, bd, err)
		v, err := VoidShare(Heap{d, e})
		judged(t, v, err)
		v, err = PoreVolume(Pores{c, d, e})
		judged(t, v, err)
		v, err = AfterEvening(Evening{a, b, c, e})
		judged(t, v, err)
	})
}
