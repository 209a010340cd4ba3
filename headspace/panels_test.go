package headspace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Uptake alone, bent: V·dx/dt = −u·x/(1 + B·x) has the closed form
// ln(x/x₀) + B·(x − x₀) = −u·t/V, from nearly straight to nearly steady. What is
// taken is what is missing.
func TestBentUptakeInClosedForm(t *testing.T) {
	const ugPerMole = 31.998e6
	for _, bend := range []float64{1e-6, 0.003, 0.009, 0.011, 0.05, 0.8, 20, 1000} {
		for _, start := range []float64{0.01, 1, 20.9} {
			b := Bag{FreeML: 500, CoffeeG: 250, TempC: 25, KPa: 100, OxygenPct: start, Uptake: Uptake{8, 2, bend}}
			mL := 100e3 * 1e-6 / (8.314462618 * 298.15) * ugPerMole // µg in a mL
			perDay := 8 * 250 / mL / 500                            // of the headspace, at 2 %
			x0, bent := start/100, 100*bend
			u := perDay * (1 + bent*0.02) / 0.02
			for _, days := range []float64{0.05, 3, 40, 300} {
				a := aged(t, b, days, nil)
				lo, hi := -800.0, math.Log(x0) // of ln x
				for range 200 {
					mid := (lo + hi) / 2
					if mid-math.Log(x0)+bent*(math.Exp(mid)-x0) < -u*days {
						lo = mid
					} else {
						hi = mid
					}
				}
				want := 100 * math.Exp(lo)
				if !(math.Abs(a.OxygenPct-want) <= 1e-9*want+1e-12) || !(math.Abs(a.TakenML-5*(start-want)) <= 1e-9*5*start) || a.EnteredML != 0 {
					t.Errorf("bend %v from %v %% after %v days: %v %%, %v mL taken; want %v and %v", bend, start, days, a.OxygenPct, a.TakenML, want, 5*(start-want))
				}
			}
		}
	}
}

// A bent uptake in a bag that lets oxygen in comes to rest where both are
// alike: g·(xₑ − x) = u·x/(1 + B·x), a quadratic in x, in the pores too.
func TestBentUptakeComesToRest(t *testing.T) {
	for _, bend := range []float64{0.004, 0.3, 50} {
		b := Bag{FreeML: 100, CoffeeG: 250, TempC: 0, KPa: 100, OxygenPct: 5, Film: Film{0, 0, 30, AirOxygenPct}, Uptake: Uptake{60, 2, bend}, Pores: PoreGas{40, 1, 5}}
		mL := 100e3 * 1e-6 / (8.314462618 * 273.15) * 31.998e6
		bent, outside := 100*bend, AirOxygenPct/100.0
		u := 60 * 250 / mL * (1 + bent*0.02) / 0.02
		// g·xₑ + (g·xₑ·B − g − u)·x − g·B·x² = 0
		const g = 30
		q, l, c := -g*bent, g*outside*bent-g-u, g*outside
		x := 2 * c / (math.Sqrt(l*l-4*q*c) - l)
		a := aged(t, b, 3660, nil)
		near(t, "oxygen at rest", a.OxygenPct, 100*x, 1e-9)
		near(t, "pores at rest", a.PorePct, 100*x, 1e-9)
		near(t, "balance", a.EnteredML-a.TakenML, x*140-5-0.4, 1e-6)
	}
}

// A steady release in a tight bag whose valve opens at once, with film, straight
// uptake and pores, is a linear system of two: its answer is a steady state and
// two decaying modes, by the eigenvalues of the matrix.
func TestSteadySweepWithPores(t *testing.T) {
	for _, rate := range []float64{0.5, 30, 2000} {
		for _, even := range []float64{0.01, 0.8, 24} {
			b := Bag{FreeML: 750, CoffeeG: 340, TempC: 0, KPa: 101.325, OxygenPct: 1, Film: Film{0, 0, 1.6, AirOxygenPct}, Uptake: Uptake{1.5, 1, 0}, Pores: PoreGas{140, 12, even}}
			mL := 101325e-6 / (8.314462618 * 273.15) * 31.998e6
			const g, v, vp = 1.6, 750.0, 140.0
			u := 1.5 * 340 / mL / 0.01
			// n' = g·xₑ − p·n + even·m, m' = r·n − even·m
			p, r := (g+u+rate+even*vp)/v, even*vp/v
			in := g * AirOxygenPct / 100.0
			n0, m0 := 7.5, 16.8
			ns := in / (p - r)
			ms := ns * r / even
			root := math.Sqrt((p-even)*(p-even) + 4*r*even)
			fast := -(p + even + root) / 2
			slow := even * (p - r) / fast
			// Each mode has n in the proportion (λ + even)/r to m.
			kf, ks := (fast+even)/r, (slow+even)/r
			mf := ((n0 - ns) - ks*(m0-ms)) / (kf - ks)
			mo := (m0 - ms) - mf
			for _, days := range []float64{0.001, 0.3, 5, 60, 180} {
				if rate*days > 400*v {
					continue
				}
				a := aged(t, b, days, func(d float64) float64 { return rate * d })
				ef, es := math.Expm1(fast*days), math.Expm1(slow*days)
				n := n0 + kf*mf*ef + ks*mo*es
				m := m0 + mf*ef + mo*es
				all := ns*days + kf*mf*ef/fast + ks*mo*es/slow // ∫n
				for _, c := range []struct {
					what      string
					got, want float64
				}{{"headspace", a.HeldML, n}, {"pores", a.PoreHeldML, m}, {"oxygen", a.OxygenPct, n / 7.5}, {"pores' oxygen", a.PorePct, m / 1.4},
					{"entered", a.EnteredML, in*days - g*all/v}, {"taken", a.TakenML, u * all / v}, {"vented", a.VentedML, rate * all / v}} {
					if !(math.Abs(c.got-c.want) <= 1e-9*math.Abs(c.want)+1e-10) {
						t.Errorf("%v mL/d, evening %v, %v days: %s %v, want %v", rate, even, days, c.what, c.got, c.want)
					}
				}
			}
		}
	}
}

// What is claimed of the oxygen in the headspace, 1e-9 of itself or 1e-12 % over
// a year, against much shorter panels, for bags and releases at random.
func TestPanelsAreShortEnough(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, draw.Float64()) }
	for range 1500 {
		b := Bag{FreeML: between(100, 3000), CoffeeG: between(30, 2000), TempC: 20, KPa: 101, OxygenPct: between(0.1, 20),
			SlackML: between(1, 300) - 1, OpenKPa: between(0.1, 5), Film: Film{between(0.1, 3000), between(0.01, 0.3), 0, AirOxygenPct}, Uptake: Uptake{between(0.1, 30), 1, 0}}
		if draw.IntN(2) == 0 {
			b.Uptake.BendPerPct = between(0.01, 10)
		}
		if draw.IntN(3) == 0 {
			b.Pores = PoreGas{between(1, 500), 10, between(0.01, 10)}
		}
		gas := release(between(3, 7)*b.CoffeeG, between(0.05, 1), 0.4+0.6*draw.Float64())
		days := []float64{between(0.1, 10), 30, between(40, 365)}
		usual := make([]Aged, len(days))
		if err := OxygenAt(b, usual, days, gas); err != nil {
			t.Fatal(err)
		}
		r := newRun(b, gas)
		p := r.panels(days[2])
		for i, day := range days {
			for p.reached() < day {
				if p.next = math.Min(p.next, 0.05+p.reached()/5); !p.step() {
					t.Fatalf("%+v: stopped after %v days", b, p.reached())
				}
			}
			var a Aged
			p.within(&a, day, day)
			if !(math.Abs(usual[i].OxygenPct-a.OxygenPct) <= 1e-9*a.OxygenPct+1e-12) {
				t.Errorf("%+v after %v days: %v %%, by shorter panels %v", b, day, usual[i].OxygenPct, a.OxygenPct)
			}
		}
	}
}
