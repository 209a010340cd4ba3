package headspace

import (
	"math"
	"testing"
)

var aNozzle = Nozzle{AirOxygenPct, 0.1, 750, 1500, 30}

func TestNozzleRefusals(t *testing.T) {
	gas := []limit{{"StartPct", 0.5, 100}, {"SupplyPct", 0, 100}, {"FreeML", 1, 1e9}}
	refuses(t, aNozzle, AfterNozzle, append(gas, limit{"GasML", 0, 1e12}, limit{"NozzlePct", -99, 100})...)
	refuses(t, NozzleTarget{AirOxygenPct, 0.1, 750, 1, 30}, NozzleFor, append(gas, limit{"TargetPct", 1e-6, 100}, limit{"NozzlePct", -99, 100})...)
}

// At 0 the nozzle is the stirred sweep, at 100 the piston; between them, and
// below, oxygen falls with each better nozzle and each further mL, without a
// jump or a kink at 0.
func TestNozzleJoinsTheIdeals(t *testing.T) {
	for _, v := range []float64{0, 1e-6, 0.2, 0.5, 0.999, 1, 1.5, 3, 20, 700} {
		p := Purge{AirOxygenPct, 0.1, 750, v * 750}
		s, e1 := AfterSweep(p)
		pi, e2 := AfterPiston(p)
		if e1 != nil || e2 != nil {
			t.Fatal(e1, e2)
		}
		at := func(q float64) float64 {
			t.Helper()
			y, err := AfterNozzle(Nozzle{p.StartPct, p.SupplyPct, p.FreeML, p.GasML, q})
			if err != nil {
				t.Fatal(err)
			}
			return y.OxygenPct
		}
		near(t, "stirred", at(0), s.OxygenPct, 1e-14)
		near(t, "piston", at(100), pi.OxygenPct, 1e-14)
		last := math.Inf(1)
		for q := -99.0; q <= 100; q++ {
			y := at(q)
			if y > last*(1+1e-14) {
				t.Fatalf("%v volumes: nozzle %v leaves %v, the one before %v", v, q, y, last)
			}
			if y < pi.OxygenPct*(1-1e-14) || y > AirOxygenPct {
				t.Fatalf("%v volumes: nozzle %v leaves %v, a piston %v", v, q, y, pi.OxygenPct)
			}
			last = y
		}
		if v > 0.1 && v < 100 {
			const h = 1e-4
			below, above := (at(0)-at(-h))/h, (at(h)-at(0))/h
			if !(math.Abs(below-above) <= 1e-3*math.Abs(below)+1e-9) {
				t.Errorf("%v volumes: slope %v below 0 and %v above", v, below, above)
			}
		}
	}
}

// A sweep in two parts, mixed between, thins by the product of the two: for
// the stirred nozzle the parting does not matter, for a piston it costs gas.
func TestNozzleInParts(t *testing.T) {
	for _, q := range []float64{-0.9, -0.3, 0, 0.4, 1} {
		whole := nozzleShare(1.2, q)
		parts := nozzleShare(0.6, q) * nozzleShare(0.6, q)
		if q <= 0 {
			near(t, "parts", parts, whole, 1e-14)
		} else if !(parts > whole) {
			t.Errorf("nozzle %v: two halves leave %v, the whole %v", q, parts, whole)
		}
	}
}

func TestNozzleInverse(t *testing.T) {
	for q := -99.0; q <= 100; q += 0.5 {
		for _, y := range []float64{0.1000001, 0.2, 1, 5, 15, 20.9, 20.9459} {
			n, err := NozzleFor(NozzleTarget{AirOxygenPct, 0.1, 750, y, q})
			if err != nil {
				t.Fatal(err)
			}
			back, err := AfterNozzle(Nozzle{AirOxygenPct, 0.1, 750, n.GasML, q})
			if err != nil {
				t.Fatal(err)
			}
			// Close to a piston, a rounding of the gas is a large share of the rest.
			if !(math.Abs(back.OxygenPct-y) <= 1e-12*y/(1.001-math.Max(0, q/100))) {
				t.Errorf("nozzle %v: %v %% came back as %v", q, y, back.OxygenPct)
			}
		}
	}
}

// An independent route: a piston part before a stirred part, stepped through
// in small parcels of gas.
func TestNozzleAgainstParcels(t *testing.T) {
	const parcels = 4000
	for _, q := range []float64{0.25, 0.6} {
		for _, theta := range []float64{0.2, 0.5, 1, 2} {
			d := theta / parcels
			front := q  // old gas still before the front, in volumes
			tank := 1.0 // share of old gas in the stirred part
			for range parcels {
				in := 0.0 // what the parcel pushes into the tank
				if front > 0 {
					in = math.Min(1, front/d)
					front -= d
				}
				// Exact for a parcel of constant feed.
				tank = in + (tank-in)*math.Exp(-d/(1-q))
			}
			want := math.Max(front, 0) + (1-q)*tank
			near(t, "share", nozzleShare(theta, q), want, 2e-3)
		}
	}
}

func TestNozzleAllocations(t *testing.T) {
	allocatesNothing(t, aNozzle, AfterNozzle)
	allocatesNothing(t, NozzleTarget{AirOxygenPct, 0.1, 750, 1, 30}, NozzleFor)
}
