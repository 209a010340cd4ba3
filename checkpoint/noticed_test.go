package checkpoint

import (
	"math"
	"testing"

	"example.org/evenlot/internal/num"
)

// What a refusal names: the field, the value, both ends and the reason.
func TestWhatARefusalNames(t *testing.T) {
	judge := func(l Limit) error { _, err := Judge(Reading{11, 0.1}, l, 5); return err }
	together := func(vs ...Verdict) error { _, err := Together(vs...); return err }
	for _, c := range []struct {
		err  error
		want string
	}{
		{judge(Limit{}), "Lo is 0; accepted: 1e+15 or less (a limit from 0 to 0 is no limit; set Hi, or an infinity for an open side)"},
		{judge(Limit{-inf, inf}), "Hi is +Inf; accepted: -1e+15 to 1e+15 (open on both sides, it limits nothing)"},
		{judge(Limit{12, 10}), "Hi is 10; accepted: 12 or more (over the lower limit)"},
		{judge(Limit{inf, 12}), "Lo is +Inf; accepted: -1e+15 to 1e+15"},
		{judge(Limit{10, -inf}), "Hi is -Inf; accepted: -1e+15 to 1e+15"},
		{together(Verdict{Word: In, InPct: 95}, Verdict{}), "verdicts[1] is not judged % inside; accepted: 0 to 100 % inside (take verdicts as Judge gave them)"},
		{together(Verdict{Word: Out, InPct: math.Nextafter(0, -1)}), "verdicts[0] is out % inside; accepted: 0 to 100 % inside (take verdicts as Judge gave them)"},
		{together(Verdict{Word: In, InPct: math.Nextafter(100, 101)}), "verdicts[0] is in % inside; accepted: 0 to 100 % inside (take verdicts as Judge gave them)"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got %q, want %q", c.err, c.want)
		}
	}
	if err := together(Verdict{Word: In, InPct: 100}, Verdict{Word: Out}); err != nil {
		t.Errorf("certainty is refused: %v", err)
	}
}

// A reading far outside keeps the digits of its small chance. Φ(−10) =
// 7.619853024160527e-24 stands in every table of far tails.
func TestFarOutside(t *testing.T) {
	const tail = 7.619853024160527e-24
	for _, c := range []struct {
		y, u float64
		l    Limit
	}{
		{10.9, 0.04, Limit{10, 10.5}}, // from above, the lower end within one unit too
		{9.6, 0.04, Limit{10, 10.5}},  // from below
		{9.99, 0.001, Limit{10, 12}},
		{22, 1, Limit{-inf, 12}},
		{0, 1, Limit{10, inf}},
	} {
		v, err := Judge(Reading{c.y, c.u}, c.l, 5)
		if err != nil || v.Word != Out || math.Abs(v.InPct/(100*tail)-1) > 1e-10 {
			t.Errorf("%v ± %v in %v: %+v, %v; want %v %%", c.y, c.u, c.l, v, err, 100*tail)
		}
	}
	// Exactly at the end of one limit half of the readings are inside.
	if v, err := Judge(Reading{12, 1}, Limit{-inf, 12}, 5); err != nil || v.InPct != 50 || v.Word != TooClose {
		t.Errorf("at the limit: %+v, %v", v, err)
	}
}

// In the middle of two limits both tails are equal: a reading can be called
// in while Φ(−half/u) is at most half the risk, so to u = half/1.959964.
func TestMeterJustTooCoarse(t *testing.T) {
	for _, c := range []struct {
		u  float64
		in bool
	}{{1 / 1.9599, false}, {1 / 1.96, true}, {1 / 1.7, false}, {1 / 1.5, false}} {
		v, err := Judge(Reading{11, c.u}, Limit{10, 12}, 5)
		if err != nil || v.AnyAccepted() != c.in || (v.Word == In) != c.in {
			t.Errorf("u %v: %+v, %v", c.u, v, err)
		}
		if !c.in && (v.AcceptLo != inf || v.AcceptHi != -inf) {
			t.Errorf("u %v: accepted from %v to %v", c.u, v.AcceptLo, v.AcceptHi)
		}
		if c.in && (math.Abs(v.AcceptLo-11) > 0.01 || math.Abs(v.AcceptHi-11) > 0.01) {
			t.Errorf("u %v: accepted from %v to %v, so near to none", c.u, v.AcceptLo, v.AcceptHi)
		}
	}
	if v := (Verdict{AcceptLo: 11, AcceptHi: 11}); !v.AnyAccepted() {
		t.Error("one reading is accepted, and none is told")
	}
}

// At a risk of one half any uncertainty calls a value beside a single limit,
// and none calls a value on one of two.
func TestEvenRisk(t *testing.T) {
	for y, word := range map[float64]Word{11: In, 12: In, 13: Out} {
		if v, err := Judge(Reading{y, 0.1}, Limit{-inf, 12}, 50); err != nil || v.MaxU != inf || v.Word != word {
			t.Errorf("%v: %+v, %v", y, v, err)
		}
	}
	if v, err := Judge(Reading{12, 0.1}, Limit{10, 12}, 50); err != nil || v.MaxU != 0 {
		t.Errorf("at one of two limits: %+v, %v", v, err)
	}
	if v, err := Judge(Reading{12.5, 1}, Limit{10, 12}, 50); err != nil || v.MaxU != inf {
		t.Errorf("beyond one of two limits: %+v, %v", v, err)
	}
}

// The weakest verdict is one of those that gave the lot its word, even where
// another is less sure of being inside.
func TestWeakestHasTheWord(t *testing.T) {
	lot, err := Together(Verdict{Word: TooClose, InPct: 0.5}, Verdict{Word: Out, InPct: 4}, Verdict{Word: Out, InPct: 3}, Verdict{Word: Out, InPct: 3})
	if err != nil || lot.Weakest != 2 {
		t.Errorf("%+v, %v", lot, err)
	}
	if lot, err := Together(Verdict{Word: In, InPct: 100}); err != nil || lot.Weakest != 0 || lot.AllInPct != 100 || lot.SomeOutPct != 0 {
		t.Errorf("%+v, %v", lot, err)
	}
}

// both is the probability that X < h and Y < k for two standard normals of
// correlation r, by Owen's function: a route without the process's integral.
func both(h, k, r float64) float64 {
	if math.IsInf(h, -1) || math.IsInf(k, -1) {
		return 0
	}
	if math.IsInf(h, 1) {
		return num.NormalCDF(k)
	}
	if math.IsInf(k, 1) {
		return num.NormalCDF(h)
	}
	c := math.Sqrt(1 - r*r)
	p := 0.5*(num.NormalCDF(h)+num.NormalCDF(k)) - num.OwenT(h, (k-r*h)/(h*c)) - num.OwenT(k, (h-r*k)/(k*c))
	if h*k < 0 {
		p -= 0.5
	}
	return p
}

// A reading y = x + e has the spread √(σ² + u²) and the correlation
// σ/√(σ² + u²) with x, so that both risks are differences of binormal
// probabilities. To 1e-12, as the comment says.
func TestLongRunRisksByOwen(t *testing.T) {
	for _, l := range []Limit{{10, 12}, {-inf, 12}, {10, inf}, {10.9, 11.3}} {
		for _, guard := range []float64{0, 0.03, 0.11, -0.2} {
			for _, m := range []float64{10.937, 12.6, 8.7} {
				for _, w := range []float64{1e-3, 0.01, 0.05, 0.1, 0.2, 0.3, 0.5, 0.8, 1.1, 1.7, 2.5, 4, 8, 20, 1000} {
					p, u := Process{m, 0.47}, 0.47*w
					a := Limit{l.Lo + guard, l.Hi - guard}
					y := math.Hypot(p.SD, u)
					r := p.SD / y
					tl, th := (l.Lo-m)/p.SD, (l.Hi-m)/p.SD
					al, ah := (a.Lo-m)/y, (a.Hi-m)/y
					good := both(th, ah, r) - both(tl, ah, r) - both(th, al, r) + both(tl, al, r) // inside and accepted
					accept := num.NormalCDF(ah) - num.NormalCDF(al) - good
					reject := num.NormalCDF(th) - num.NormalCDF(tl) - good
					got, err := LongRunRisks(p, u, l, a)
					if err != nil || math.Abs(got.FalseAcceptPct-100*accept) > 1e-10 || math.Abs(got.FalseRejectPct-100*reject) > 1e-10 {
						t.Errorf("%v u %v in %v, accepted %v: %+v, %v; Owen's function gives %v and %v, off by %.2g and %.2g",
							p, u, l, a, got, err, 100*accept, 100*reject, got.FalseAcceptPct-100*accept, got.FalseRejectPct-100*reject)
					}
					if out := 100 * (1 - num.NormalCDF(th) + num.NormalCDF(tl)); math.Abs(got.OutsidePct-out) > 1e-10 {
						t.Errorf("%v in %v: outside %v, want %v", p, l, got.OutsidePct, out)
					}
				}
			}
		}
	}
}

// At the ends of what is accepted, and at the largest uncertainty, the chance
// of being outside is the risk, at any risk and however far the other end is:
// 0.1548 % is one of many risks at which z, a float, has Φ(−z) a digit under
// the risk even without the other end.
func TestRiskIsMetAtTheEnds(t *testing.T) {
	tail := func(z float64) float64 { return 0.5 * math.Erfc(z/math.Sqrt2) }
	risks := []float64{0.1, 0.1548, 0.3055, 5, 49.99, 50}
	for r := 0.1; r < 50; r *= 1.013 {
		risks = append(risks, r)
	}
	for _, risk := range risks {
		for _, width := range []float64{6.6, 7, 9, 12, 20, 43, 100, 1e9, inf} {
			v, err := Judge(Reading{0.3, 1}, Limit{0, width}, risk)
			if err != nil || math.Abs(tail(v.AcceptLo)+tail(width-v.AcceptLo)-risk/100) > 1e-14 || width < inf && math.Abs(v.AcceptLo+v.AcceptHi-width) > 1e-9*width {
				t.Errorf("risk %v %%, limit %v wide: %+v, %v", risk, width, v, err)
			}
			if s := 0.3 / v.MaxU; width < inf && math.Abs(tail(s)+tail(s*(width-0.3)/0.3)-risk/100) > 1e-14 {
				t.Errorf("risk %v %%, limit %v wide: at most %v", risk, width, v.MaxU)
			}
		}
	}
}
