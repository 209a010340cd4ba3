package sampling

import (
	"errors"
	"math"
	"math/big"
	"slices"
	"strconv"
	"testing"

	"example.org/evenlot/internal/num"
)

// choose is the binomial coefficient, in whole numbers.
func choose(n, k int) *big.Int { return new(big.Int).Binomial(int64(n), int64(k)) }

// drawn is the chance of at most c bad among n units of a lot with marked bad
// ones: a sum of whole numbers.
func drawn(c, n, marked, lot int) float64 {
	sum := new(big.Int)
	for d := 0; d <= min(c, n, marked); d++ {
		if n-d <= lot-marked {
			sum.Add(sum, new(big.Int).Mul(choose(marked, d), choose(lot-marked, n-d)))
		}
	}
	p, _ := new(big.Rat).SetFrac(sum, choose(lot, n)).Float64()
	return p
}

// Every small lot, counted in whole numbers: what a plan accepts, and the
// smallest number of good units that proves a claim.
func TestSmallLotsCounted(t *testing.T) {
	for _, lot := range []int{1, 2, 3, 5, 8, 13, 21} {
		for n := 1; n <= lot; n++ {
			for _, c := range []int{0, 1, 2, n - 1} {
				if c >= n {
					continue
				}
				for marked := 0; marked <= lot; marked++ {
					got, err := AcceptPct(Attributes{N: n, Ac: c, Lot: lot}, 100*float64(marked)/float64(lot))
					if want := 100 * drawn(c, n, marked, lot); err != nil || math.Abs(got-want) > 1e-10 {
						t.Errorf("%d bad of %d, n = %d, c = %d: %v, counted %v; %v", marked, lot, n, c, got, want, err)
					}
				}
			}
		}
		for maxBad := 0; maxBad < lot; maxBad++ {
			for _, confidence := range []float64{50, 75, 90, 95, 99.99} {
				want := 1
				for want < lot-maxBad && drawn(0, want, maxBad+1, lot) > (1-confidence/100)*(1+1e-12) {
					want++
				}
				if n, err := ZeroFailureInLot(lot, maxBad, confidence); err != nil || n != want {
					t.Errorf("%d bad allowed of %d, %v %%: %d units, counted %d; %v", maxBad, lot, confidence, n, want, err)
				}
			}
		}
	}
}

// binomial is the chance of at most c bad of n, term by term.
func binomial(c, n int, p float64) (sum float64) {
	for d := 0; d <= c; d++ {
		f, _ := new(big.Float).SetInt(choose(n, d)).Float64()
		sum += f * math.Pow(p, float64(d)) * math.Pow(1-p, float64(n-d))
	}
	return sum
}

// At the share claimed good, as few bad as were found come up with the chance
// 1 − γ just: what Clopper and Pearson's bound is.
func TestGoodShareIsABound(t *testing.T) {
	for _, n := range []int{1, 2, 5, 30, 59, 200} {
		for _, bad := range []int{0, 1, 2, 7, n / 2, n - 1} {
			if bad >= n {
				continue
			}
			for _, confidence := range []float64{50, 80, 95, 99.99} {
				p, err := GoodShare(n, bad, confidence)
				if got := 100 * binomial(bad, n, 1-p/100); err != nil || math.Abs(got-(100-confidence)) > 1e-8 {
					t.Errorf("%d bad of %d at %v %%: %v claimed, where so few come up with %v %%; %v", bad, n, confidence, p, got, err)
				}
			}
		}
	}
	for _, plan := range []Attributes{{N: 1}, {N: 2, Ac: 1}, {N: 13, Ac: 1}, {N: 50, Ac: 7}, {N: 80, Ac: 3}} {
		for _, p := range []float64{0.1, 2, 10, 50, 97} {
			if a, err := AcceptPct(plan, p); err != nil || math.Abs(a-100*binomial(plan.Ac, plan.N, p/100)) > 1e-10 {
				t.Errorf("%+v at %v %%: %v; %v", plan, p, a, err)
			}
		}
	}
}

// Every lot to 3000 with every quality: a plan can find as many bad units as
// it accepts, and one more.
func TestPlansCanRefuse(t *testing.T) {
	for lot := 2; lot <= 3000; lot++ {
		for _, aql := range aqls {
			p, err := TabledAttributes(lot, aql)
			if err != nil || p.N > lot || p.N < 1 || p.Ac >= p.N || p.Lot != lot || (p.Notes&WholeLot != 0) != (p.N == lot) {
				t.Fatalf("lot %d, AQL %v: %+v, %v", lot, aql, p, err)
			}
		}
	}
}

// The example of Rosner's paper, 54 readings: the distances and their critical
// values at 5 % as the NIST/SEMATECH e-Handbook prints them (1.3.5.17.3),
// from memory. The third passes its critical value though the first two do
// not, so that three are flagged.
func TestRosnersExample(t *testing.T) {
	x := []float64{-0.25, 0.68, 0.94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.70, 1.76, 1.77,
		1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.40, 2.47, 2.54, 2.62, 2.64,
		2.90, 2.92, 2.92, 2.93, 3.21, 3.26, 3.30, 3.59, 3.68, 4.30, 4.64, 5.34, 5.42, 6.01}
	r := []float64{3.119, 2.943, 3.179, 2.810, 2.816, 2.848, 2.279, 2.310, 2.102, 2.067}
	critical := []float64{3.159, 3.151, 3.144, 3.136, 3.128, 3.120, 3.112, 3.103, 3.094, 3.085}
	list, err := Rosner(x, 10, 5)
	if err != nil || len(list) != 10 {
		t.Fatalf("%+v, %v", list, err)
	}
	seen := map[int]bool{}
	for i, s := range list {
		if math.Abs(s.G-r[i]) > 6e-4 || math.Abs(s.Critical-critical[i]) > 6e-4 || s.Flagged != (i < 3) || x[s.Index] != s.Value || seen[s.Index] {
			t.Errorf("%d: %+v, want %v and %v", i+1, s, r[i], critical[i])
		}
		seen[s.Index] = true
	}
	for i, want := range []int{53, 52, 51} {
		if list[i].Index != want {
			t.Errorf("%d: reading %d, want %d", i+1, list[i].Index, want)
		}
	}
	// Without an odd reading none is flagged.
	if list, err := Rosner([]float64{10.1, 10.3, 9.9, 10.0, 10.2, 10.1, 9.8, 10.0}, 3, 5); err != nil || len(list) != 3 || list[0].Flagged || list[1].Flagged || list[2].Flagged {
		t.Errorf("%+v, %v", list, err)
	}
}

// A bound notes a suspect exactly where Grubbs's test flags one, from three
// readings on: of 0, 0 and 1 the last is 1.1547 away, where chance explains
// 1.1543.
func TestSuspectsAreGrubbs(t *testing.T) {
	for _, x := range [][]float64{{0, 0, 1}, {0, 0.5, 1}, {1, 2, 3, 40}, {1, 2, 3, 4}, {5, 5, 5}, {3, 4}, {0, 0, 1e-200}} {
		b, err := ToleranceBound(x, Claim{95, 95, Upper, false, 0})
		if err != nil {
			t.Fatal(err)
		}
		want := false
		if len(x) > 2 {
			s, err := Grubbs(x, 5)
			if err != nil {
				t.Fatal(err)
			}
			want = s.Flagged
		}
		if (b.Notes&Suspects != 0) != want {
			t.Errorf("%v: %q, flagged %v", x, b.Notes, want)
		}
		if len(x) == 3 && x[2] == 1 && x[1] == 0 && !want {
			t.Error("the third of 0, 0, 1 is not flagged")
		}
	}
}

// Algorithm A's answer is a fixed point: clipped at 1.5 of its own deviations
// the readings have its mean again, and 1/1.134 of its deviation.
func TestAlgorithmASettles(t *testing.T) {
	for _, x := range [][]float64{
		{10.1, 10.3, 9.9, 10.0, 10.2, 10.1, 9.8, 10.0, 10.2, 14},
		{1, 2, 4, 8, 16, 32, 64},
		{-5, 0, 1, 1.5, 2, 2.5, 3, 900},
		{3, 1, 2},
	} {
		r, err := RobustMean(x)
		if err != nil {
			t.Fatal(err)
		}
		mean, ss := 0.0, 0.0
		n := float64(len(x))
		clip := func(v float64) float64 { return max(r.Mean-1.5*r.SD, min(v, r.Mean+1.5*r.SD)) }
		for _, v := range x {
			mean += clip(v) / n
		}
		for _, v := range x {
			ss += (clip(v) - mean) * (clip(v) - mean) / (n - 1)
		}
		if !near(mean, r.Mean, 1e-11) || !near(1.134*math.Sqrt(ss), r.SD, 1e-11) {
			t.Errorf("%v: %+v, once more %v and %v", x, r, mean, 1.134*math.Sqrt(ss))
		}
		// By every way of trimming the mean is that of the middle readings.
		s := slices.Sorted(slices.Values(x))
		for drop := 0; 2*drop < len(x); drop++ {
			want := 0.0
			for _, v := range s[drop : len(s)-drop] {
				want += v / float64(len(s)-2*drop)
			}
			pct := 100 * (float64(drop) + 0.5) / n
			if m, err := TrimmedMean(x, min(pct, 49)); err != nil || !near(m, want, 1e-12) {
				t.Errorf("%v without %d at each end: %v, want %v; %v", x, drop, m, want, err)
			}
		}
	}
}

// The likelihood of readings of which some are below detection has no slope
// at the estimate: both its derivatives are zero, by hand,
//
//	Σ(x − μ)/σ² − m·h/σ = 0, −k/σ + Σ(x − μ)²/σ³ − m·h·z/σ = 0
//
// with z = (d − μ)/σ and h = φ(z)/Φ(z). SD has the factor √(n/(n − 1)) on top.
func TestBelowHasNoSlope(t *testing.T) {
	for _, c := range []Censored{
		{Detected: []float64{1.2, 1.5, 1.9, 2.2, 2.8, 3.5}, Below: 4, Limit: 1},
		{Detected: []float64{1.2, 1.5, 1.9, 2.2, 2.8, 3.5}, Below: 1, Limit: 0.2},
		{Detected: []float64{5, 7}, Below: 1, Limit: 4.5},
		{Detected: []float64{1000.1, 1000.3, 1000.2, 1000.4}, Below: 2, Limit: 1000},
		{Detected: []float64{2, 3, 2.5, 2.7}, Below: 12, Limit: 2},
	} {
		e, err := Below(c)
		if err != nil {
			t.Fatal(err)
		}
		k, m := float64(len(c.Detected)), float64(c.Below)
		s := e.SD * math.Sqrt((k+m-1)/(k+m))
		z := (c.Limit - e.Mean) / s
		h := num.NormalPDF(z) / num.NormalCDF(z)
		first, second := 0.0, 0.0
		for _, x := range c.Detected {
			first += (x - e.Mean) / s
			second += (x - e.Mean) * (x - e.Mean) / (s * s)
		}
		if math.Abs(first-m*h) > 1e-8*k || math.Abs(second-k-m*h*z) > 1e-8*k {
			t.Errorf("%+v: %+v leaves slopes of %v and %v", c, e, first-m*h, second-k-m*h*z)
		}
		// The logarithms of a lognormal lot are such readings: exp(μ + v/2)
		// is its mean, and (SD/mean)² = exp(v) − 1.
		logs := Censored{Below: c.Below, Limit: math.Exp(c.Limit - e.Mean), Lognormal: true}
		for _, x := range c.Detected {
			logs.Detected = append(logs.Detected, math.Exp(x-e.Mean))
		}
		l, err := Below(logs)
		if v := e.SD * e.SD; err != nil || !near(l.Mean, math.Exp(v/2), 1e-7) || !near(l.SD/l.Mean, math.Sqrt(math.Exp(v)-1), 1e-7) {
			t.Errorf("%+v as a lognormal: %+v, %v", c, l, err)
		}
	}
}

// A step far over readings near zero is a spread of logarithms without end.
// At 50 %/50 % it has no part in the bound, which is the geometric mean and half
// a step; else there is no upper bound, and the lower one is half a step under
// zero. Never NaN.
func TestStepFarOverItsReadings(t *testing.T) {
	x := []float64{1e-300, 2e-300, 4e-300}
	for _, c := range []struct {
		claim  Claim
		lo, hi float64
	}{
		{Claim{50, 50, Upper, true, 1e15}, -inf, 5e14},
		{Claim{50, 50, Lower, true, 1e15}, -5e14, inf},
		{Claim{95, 95, Lower, true, 1e15}, -5e14, inf},
		{Claim{50, 50, Upper, true, 1e-310}, -inf, 2e-300},
	} {
		b, err := ToleranceBound(x, c.claim)
		if err != nil || b.Lo != c.lo && !near(b.Lo, c.lo, 1e-9) || b.Hi != c.hi && math.Abs(b.Hi/c.hi-1) > 1e-9 {
			t.Errorf("%+v: %+v, %v", c.claim, b, err)
		}
	}
	for _, side := range []Side{Upper, Both} {
		if b, err := ToleranceBound(x, Claim{95, 95, side, true, 1e15}); !impossible(err) {
			t.Errorf("%v: %+v, %v", side, b, err)
		}
	}
}

// A lot judged is a lot estimated: the share is that of [Estimated] from three
// readings on, and none of two. Accepted by k is accepted by its M.
func TestJudgedIsEstimated(t *testing.T) {
	x := []float64{197, 188, 184, 205, 201, 190, 195}
	for n := 2; n <= len(x); n++ {
		for _, limit := range []float64{199, 206, 212, 240} {
			m, err := JudgeVariables(x[:n], limit, true, Variables{N: n, K: 1.1}, 0)
			if err != nil {
				t.Fatal(err)
			}
			if n == 2 {
				if m.EstimatedPct != 0 {
					t.Errorf("two readings: %+v", m)
				}
				continue
			}
			p, err1 := Estimated(n, m.Index)
			most, err2 := Estimated(n, 1.1)
			if err1 != nil || err2 != nil || m.EstimatedPct != p || m.Accept != (p <= most) && most > 0 {
				t.Errorf("n = %d, limit %v: %+v, estimated %v, at k %v; %v %v", n, limit, m, p, most, err1, err2)
			}
		}
	}
	// Three readings: v = ½ − Q·√3/4 has the arcsine law, 2/π·asin √v.
	for _, q := range []float64{-1, 0, 0.5, 1.1} {
		if p, err := Estimated(3, q); err != nil || !near(p, 200/math.Pi*math.Asin(math.Sqrt(0.5-q*math.Sqrt(3)/4)), 1e-9) {
			t.Errorf("index %v: %v, %v", q, p, err)
		}
	}
}

// Down to −37, where Φ vanishes among the floats, hazard is φ/Φ itself; far
// below φ/Φ = x + 1/x − 2/x³ + 10/x⁵ − ... at x = −z
// (Abramowitz and Stegun 26.2.12, turned round).
func TestHazard(t *testing.T) {
	for _, z := range []float64{-29.9, -30.1, -32, -34.5, -37} {
		want := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / (math.Erfc(-z/math.Sqrt2) / 2)
		if got := hazard(z); !(math.Abs(got/want-1) <= 2e-13) { // the exponential of 700
			t.Errorf("hazard(%v) is %v, want %v", z, got, want)
		}
	}
	for _, x := range []float64{200, 1e4, 1e9, 1e100} {
		want := x + 1/x - 2/x/x/x + 10/x/x/x/x/x
		if got := hazard(-x); !(math.Abs(got/want-1) <= 4e-16) {
			t.Errorf("hazard(%v) is %v, want %v", -x, got, want)
		}
	}
}

// What is told as a way out is one, and the last: a margin a digit smaller has
// none. Readings all alike below their limit are refused for the limit only.
func TestMarginThatIsNamed(t *testing.T) {
	var none *ImpossibleError
	_, err := ReadingsForBound(1.6, 95, 95)
	if !errors.As(err, &none) || none.Field != "marginSD" || none.Given != "1.6" || none.Max != 1000 {
		t.Fatalf("%v", err)
	}
	if n, err := ReadingsForBound(none.Min, 95, 95); err != nil || n != MaxReadings {
		t.Errorf("margin %v: %d, %v", none.Min, n, err)
	}
	if _, err := ReadingsForBound(math.Nextafter(none.Min, 0), 95, 95); err == nil {
		t.Errorf("a margin under %v will do", none.Min)
	}
	// A margin over z(p) wants readings, one under it cannot be had; the reason
	// says which. The bound itself by the integral in mpmath.
	if none.Why != "the limit is no further from the mean than the share asked for reaches by itself" || !near(none.Min, 1.6473791320217, 1e-12) {
		t.Errorf("%v", none)
	}
	if _, err := ReadingsForBound(1.646, 95, 95); !errors.As(err, &none) || none.Why != "more than 1 000 000 would be needed" {
		t.Errorf("%v", err)
	}
	for _, c := range []struct {
		margin float64
		n      int
	}{{1.6500141343534, 240000}, {1.65001413, 240001}} {
		if n, err := ReadingsForBound(c.margin, 95, 95); err != nil || n < c.n || n > c.n+1 {
			t.Errorf("margin %v: %d, %v", c.margin, n, err)
		}
	}
	for _, c := range []struct {
		n                 int
		coverage, sure, k float64
	}{{1000000, 95, 95, 1.6473791320217}, {400000, 95, 99.9, 1.6523673120641}, {1000000, 99.99, 99.99, 3.7295030072375}, {100000, 99.9, 95, 3.1027779771296}, {240000, 95, 95, 1.6500141343534}} {
		if k, err := OneSidedFactor(c.n, c.coverage, c.sure); err != nil || !near(k, c.k, 1e-12) {
			t.Errorf("%+v: %v, %v", c, k, err)
		}
	}
	_, err = ReadingsForMean(1, 1e-9, 95)
	if !errors.As(err, &none) || none.Field != "halfWidth" || none.Max != MaxMagnitude {
		t.Fatalf("%v", err)
	}
	if n, err := ReadingsForMean(1, none.Min, 95); err != nil || n != MaxReadings {
		t.Errorf("half-width %v: %d, %v", none.Min, n, err)
	}
	if names := refused(func() error { _, err := Below(Censored{Detected: []float64{1, 1}, Limit: 2}); return err }()); len(names) != 2 || names[0] != "Detected[0]" || names[1] != "Detected[1]" {
		t.Errorf("refused %v", names)
	}
}

// As many unseen readings as are named have an estimate, and one more has none.
func TestUnseenThatAreNamed(t *testing.T) {
	for _, c := range []Censored{{Detected: []float64{1, 2}, Limit: 1}, {Detected: []float64{1, 1.2, 1.9, 2, 3}, Limit: 1}, {Detected: []float64{1, 1.2, 1.9, 2, 3}, Limit: 1, Lognormal: true}} {
		c.Below = MaxReadings
		var none *ImpossibleError
		if _, err := Below(c); !errors.As(err, &none) || none.Field != "Below" || none.Min != 0 || !(none.Max >= 100) {
			t.Fatalf("%+v: %v", c, err)
		}
		for _, m := range []struct {
			below int
			ok    bool
		}{{0, true}, {10, true}, {100, true}, {int(none.Max), true}, {int(none.Max) + 1, false}} {
			c.Below = m.below
			if e, err := Below(c); (err == nil) != m.ok || m.ok && !(e.SD > 0) {
				t.Errorf("%+v: %+v, %v", c, e, err)
			}
		}
	}
}

// Points too close together: the bad quality that is named has a plan, of the
// most readings or units that are drawn, and one a little less bad has none.
func TestBadQualityThatIsNamed(t *testing.T) {
	named := func(err error, why string, given float64) float64 {
		t.Helper()
		var none *ImpossibleError
		if !errors.As(err, &none) || !(none.Min > given) {
			t.Fatalf("%v", err)
		}
		want := ImpossibleError{Quantity: "plan", Why: why, Field: "BadPct", Given: strconv.FormatFloat(given, 'g', -1, 64), Min: none.Min, Max: 90, Unit: "% bad"}
		if *none != want {
			t.Errorf("got  %+v\nwant %+v", *none, want)
		}
		return none.Min
	}
	z := func(pct float64) float64 { return math.Sqrt2 * math.Erfinv(1-pct/50) } // exceeded by pct
	share := func(z float64) float64 { return 50 * math.Erfc(z/math.Sqrt2) }
	for _, p := range []Points{{0.001, 99.99, 0.00101, 0.01}, {0.01, 95, 0.01005, 10}, {0.087, 99.99, 0.0875, 1}, {1, 50.01, 1.005, 0.01}, {10, 95, 10.02, 10}, {50, 99.99, 50.01, 49.99}} {
		for _, known := range []bool{false, true} {
			_, err := PlanVariables(p, known)
			bad := named(err, "more than 1 000 000 would be needed", p.BadPct)
			at, below := p, p
			at.BadPct, below.BadPct = bad, bad*(1-1e-9)
			if v, err := PlanVariables(at, known); err != nil || v.N != MaxReadings {
				t.Errorf("%+v, known %v: %+v, %v", at, known, v, err)
			}
			if v, err := PlanVariables(below, known); err == nil {
				t.Errorf("%+v, known %v: %+v", below, known, v)
			}
			// Both chances are met when the mean of 1 000 000 readings has room for
			// them; of an unknown deviation nearly so, the square of k aside.
			a, b := z(100-p.GoodAcceptPct), z(p.BadAcceptPct)
			room, tolerance := (a+b)/1000, 1e-9
			if !known {
				k := z(p.GoodPct) - a/1000
				room, tolerance = room*math.Sqrt(1+k*k/2), 0.02
			}
			if want := share(z(p.GoodPct) - room); !(math.Abs(bad-want) <= tolerance*(want-p.GoodPct)) {
				t.Errorf("%+v, known %v: named %v, want %v", p, known, bad, want)
			}
		}
	}
	// Of 100 000 units one or two may be bad.
	for _, c := range []struct {
		p      Points
		accept int
	}{{Points{0.001, 60, 0.0011, 10}, 1}, {Points{0.001, 73, 0.002, 0.01}, 1}, {Points{0.001, 74, 0.0011, 40}, 2}, {Points{0.001, 91, 0.002, 1}, 2}} {
		_, err := PlanAttributes(c.p)
		bad := named(err, "more than 100 000 units would have to be drawn", c.p.BadPct)
		const n = 100000
		x := bad / 100
		sum := 1 + n*x/(1-x)
		if c.accept == 2 {
			sum += n * (n - 1.0) / 2 * x * x / (1 - x) / (1 - x)
		}
		if chance := 100 * math.Exp(n*math.Log1p(-x)) * sum; !(math.Abs(chance-c.p.BadAcceptPct) <= 1e-9*chance) {
			t.Errorf("%+v: %v %% bad are accepted with %v %%", c.p, bad, chance)
		}
		c.p.BadPct = bad
		if v, err := PlanAttributes(c.p); err != nil || v.N > n {
			t.Errorf("%+v: %+v, %v", c.p, v, err)
		}
	}
}

// Counting ten million units keeps its digits, and so does the share estimated
// from many readings: the incomplete beta function at mpmath's digits.
func TestLargeCounts(t *testing.T) {
	for _, c := range []struct {
		n, bad     int
		sure, want float64
	}{{10000000, 5000000, 50, 49.999995000000167}, {10000000, 5000000, 95, 49.973987583016581}, {10000000, 3, 90, 99.999933192181613}, {1000000, 990000, 99, 0.97699639890576932}} {
		if got, err := GoodShare(c.n, c.bad, c.sure); err != nil || !near(got, c.want, 1e-12) {
			t.Errorf("%+v: %v, %v", c, got, err)
		}
		// The same quantile from the other side.
		plan := Attributes{N: c.n, Ac: c.bad}
		bad, err := QualityAt(plan, 100-c.sure)
		if err != nil || !(math.Abs(bad-(100-c.want)) <= 1e-12*bad+2e-14) {
			t.Errorf("%+v: %v, %v", c, bad, err)
		}
		if p, err := AcceptPct(plan, bad); err != nil || !near(p, 100-c.sure, 1e-9) {
			t.Errorf("%+v: %v, %v", c, p, err)
		}
	}
	for _, c := range [][3]float64{{1000000, 0.01, 49.601064468257836}, {1000000, 1.5, 6.6807140557361113}, {1000000, 3.25, 0.057700927771235221}, {50000, 2, 2.2748512136842289}, {20, 1.25, 10.398569619761651}} {
		if got, err := Estimated(int(c[0]), c[1]); err != nil || !near(got, c[2], 1e-12) {
			t.Errorf("%v: %v, %v", c, got, err)
		}
		if k, err := IndexFor(int(c[0]), c[2]); err != nil || !near(k, c[1], 1e-12) {
			t.Errorf("%v: %v, %v", c, k, err)
		}
	}
}

// Ways out of a bound beyond all numbers, and of a score without distance: at
// the ends that are named there is an answer, and a step beyond none.
func TestScatterThatIsNamed(t *testing.T) {
	two := func(mean, sd float64) []float64 { // of logarithms
		return []float64{math.Exp(mean - sd/math.Sqrt2), math.Exp(mean + sd/math.Sqrt2)}
	}
	claim := Claim{CoveragePct: 95, ConfidencePct: 95, Side: Upper, Lognormal: true}
	var none *ImpossibleError
	mean := 0.0
	if _, err := ToleranceBound(two(mean, 30), claim); !errors.As(err, &none) || none.Field != "readings" || none.Given != "30" || none.Min != 0 {
		t.Fatalf("%v", err)
	}
	for sd, ok := range map[float64]bool{none.Min: true, none.Max: true, none.Max + 0.1: false} {
		if b, err := ToleranceBound(two(mean, sd), claim); (err == nil) != ok {
			t.Errorf("scatter %v: %+v, %v", sd, b, err)
		}
	}
	claim.Division = 400
	if _, err := ToleranceBound(two(mean, 0.1), claim); !errors.As(err, &none) || none.Field != "Division" || none.Given != "400" {
		t.Fatalf("%v", err)
	}
	for division, ok := range map[float64]bool{none.Min: true, none.Max * (1 - 1e-12): true, none.Max * 1.01: false} {
		claim.Division = division
		if b, err := ToleranceBound(two(mean, 0.1), claim); (err == nil) != ok {
			t.Errorf("division %v: %+v, %v", division, b, err)
		}
	}
	for _, x := range [][]float64{{1, 1, 1, 2}, {1, 1, 2}, {3, 3, 3, 3, 1, 9, 8}} {
		if _, err := ModifiedScore(x, 0); !errors.As(err, &none) || none.Min != 1 || none.Max != float64(len(x)/2) || none.Given < "2" {
			t.Fatalf("%v: %v", x, err)
		}
		for _, alike := range []int{1, int(none.Max)} {
			y := make([]float64, len(x))
			for i := range y {
				y[i] = float64(max(i, alike-1))
			}
			if _, err := ModifiedScore(y, 0); err != nil {
				t.Errorf("%d alike: %v", alike, err)
			}
		}
	}
}

// A whole number of readings is dropped at each end where the share is whole,
// whatever rounding does to it: x_i = i² tells each number from the next.
func TestTrimmedByWholeShares(t *testing.T) {
	for n := 3; n <= 300; n++ {
		x := make([]float64, n)
		for i := range x {
			x[i] = float64(i * i)
		}
		for pct := range 50 {
			drop := pct * n / 100
			sum := 0.0
			for _, v := range x[drop : n-drop] {
				sum += v
			}
			want := sum / float64(n-2*drop)
			if m, err := TrimmedMean(x, float64(pct)); err != nil || !near(m, want, 1e-12) {
				t.Errorf("%d %% of %d: %v, %v; without %d at each end %v", pct, n, m, err, drop, want)
			}
		}
	}
}
