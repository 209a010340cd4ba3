package checkpoint

import (
	"errors"
	"math"
	"testing"
)

func TestLongRunRisks(t *testing.T) {
	for _, p := range []Process{{0, 1}, {10.5, 0.4}, {12.3, 2}, {11, 1e-12}, {-1e15, 1}, {11, 1e15}} {
		for _, l := range []Limit{{10, 12}, {-inf, 12}, {10, inf}} {
			last := Risks{FalseAcceptPct: 101, FalseRejectPct: -1}
			for _, guard := range []float64{0, 0.05, 0.2, 0.9} {
				for _, u := range []float64{0, 5e-324, 1e-9, 0.1, 3, 1e15} {
					r, err := LongRunRisks(p, u, l, Limit{l.Lo + guard, l.Hi - guard})
					if err != nil {
						t.Fatal(err)
					}
					for _, v := range []float64{r.FalseAcceptPct, r.FalseRejectPct, r.OutsidePct} {
						if !(v >= 0 && v <= 100+1e-9) {
							t.Fatalf("%v u %v in %v, guard %v: %+v", p, u, l, guard, r)
						}
					}
					if r.FalseAcceptPct > r.OutsidePct+1e-9 || r.FalseRejectPct > 100-r.OutsidePct+1e-9 {
						t.Fatalf("%v u %v in %v, guard %v: more errors than lots: %+v", p, u, l, guard, r)
					}
					if u == 0 && guard == 0 && r.FalseAcceptPct+r.FalseRejectPct > 1e-9 {
						t.Fatalf("%v without uncertainty errs: %+v", p, r)
					}
					if u == 0.1 {
						if r.FalseAcceptPct > last.FalseAcceptPct+1e-9 || r.FalseRejectPct < last.FalseRejectPct-1e-9 {
							t.Fatalf("%v in %v: a wider guard band of %v goes from %+v to %+v", p, l, guard, last, r)
						}
						last = r
					}
				}
			}
		}
	}
	// Against a plain sum over a fine grid.
	p, u, l, a := Process{10.9, 0.7}, 0.15, Limit{10, 12}, Limit{10.2, 11.8}
	accept, reject := 0.0, 0.0
	const h = 1e-4
	for x := 10.9 - 6; x < 17; x += h {
		f := math.Exp(-math.Pow((x-p.Mean)/p.SD, 2)/2) / (p.SD * math.Sqrt(2*math.Pi)) * h
		in := 0.5*math.Erfc((x-a.Hi)/u/math.Sqrt2) - 0.5*math.Erfc((x-a.Lo)/u/math.Sqrt2)
		if x < l.Lo || x > l.Hi {
			accept += f * in
		} else {
			reject += f * (1 - in)
		}
	}
	r, err := LongRunRisks(p, u, l, a)
	if err != nil || math.Abs(r.FalseAcceptPct-100*accept) > 1e-2 || math.Abs(r.FalseRejectPct-100*reject) > 1e-2 {
		t.Errorf("%+v, %v; a plain sum gives %v and %v", r, err, 100*accept, 100*reject)
	}
}

func TestLongRunRisksRefusals(t *testing.T) {
	good, l := Process{11, 1}, Limit{10, 12}
	for _, c := range []struct {
		name      string
		p         Process
		u         float64
		l, accept Limit
		want      int // refused fields
	}{
		{"least spread", Process{11, 1e-12}, 0, l, l, 0},
		{"largest", Process{1e15, 1e15}, 1e15, l, l, 0},
		{"spread below", Process{11, math.Nextafter(1e-12, 0)}, 0, l, l, 1},
		{"spread above", Process{11, math.Nextafter(1e15, inf)}, 0, l, l, 1},
		{"zero process", Process{}, 1, l, l, 1},
		{"negative uncertainty", good, -1e-300, l, l, 1},
		{"mean beyond", Process{math.Nextafter(1e15, inf), 1}, 0, l, l, 1},
		{"zero limits", good, 1, Limit{}, Limit{}, 2},
		{"nothing accepted", good, 1, l, Limit{inf, -inf}, 0},
		{"one reading accepted", good, 1, l, Limit{11, 11}, 0},
		{"turned about", good, 1, l, Limit{12, 10}, 1},
		{"all accepted", good, 1, l, Limit{-inf, inf}, 1},
		{"NaN", Process{math.NaN(), math.NaN()}, math.NaN(), l, l, 3},
	} {
		r, err := LongRunRisks(c.p, c.u, c.l, c.accept)
		var in *InputError
		got := 0
		if errors.As(err, &in) {
			got = len(in.Fields)
		}
		if got != c.want || err != nil && r != (Risks{}) {
			t.Errorf("%s: %d fields refused, want %d: %+v, %v", c.name, got, c.want, r, err)
		}
	}
	if n := testing.AllocsPerRun(10, func() { _, _ = LongRunRisks(good, 0.1, l, l) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// Where the process never leaves the limit, all it loses is what the meter
// reads beyond the acceptance limit: the tail of the sum of two normals.
func TestTailIsCounted(t *testing.T) {
	for _, low := range []float64{-5, -6.5, -7.9} {
		for _, u := range []float64{0.05, 0.1, 0.3} {
			r, err := LongRunRisks(Process{SD: 1}, u, Limit{Lo: -40, Hi: 40}, Limit{Lo: low, Hi: 40})
			if err != nil {
				t.Fatal(err)
			}
			want := 50 * math.Erfc(-low/math.Sqrt(2*(1+u*u)))
			if !(math.Abs(r.FalseRejectPct-want) <= 1e-9*want+1e-16) || r.FalseAcceptPct != 0 {
				t.Errorf("from %v by ±%v: %v %% and %v %%, want %v and 0", low, u, r.FalseRejectPct, r.FalseAcceptPct, want)
			}
		}
	}
}

// What Judge finds can be passed on, with a limit open on one side and with a
// meter so coarse that nothing is accepted; and the two limits are told apart
// in a refusal.
func TestRulesAsJudged(t *testing.T) {
	p := Process{Mean: 11, SD: 0.5}
	for _, c := range []struct {
		u float64
		l Limit
	}{{0.1, Limit{-inf, 12}}, {0.1, Limit{10, inf}}, {0.1, Limit{10, 12}}, {3, Limit{10, 12}}} {
		v, err := Judge(Reading{Value: 11, U: c.u}, c.l, 5)
		if err != nil {
			t.Fatal(err)
		}
		r, err := LongRunRisks(p, c.u, c.l, Limit{v.AcceptLo, v.AcceptHi})
		if err != nil {
			t.Errorf("%+v: %v", c, err)
		}
		if !v.AnyAccepted() && (r.FalseAcceptPct != 0 || !(math.Abs(r.FalseRejectPct+r.OutsidePct-100) <= 1e-10)) {
			t.Errorf("nothing is accepted, yet %+v", r)
		}
		if v.AnyAccepted() && !(r.FalseRejectPct > 0 && r.FalseRejectPct < 10) {
			t.Errorf("%+v: %+v", c, r)
		}
	}
	// Exactly: all lots outside on the far side of an open limit are let in by
	// the tail of the meter, whose digits are kept below as they are above.
	low, err := LongRunRisks(Process{SD: 1}, 0.05, Limit{-3, inf}, Limit{-2, inf})
	if err != nil {
		t.Fatal(err)
	}
	high, err := LongRunRisks(Process{SD: 1}, 0.05, Limit{-inf, 3}, Limit{-inf, 2})
	if err != nil {
		t.Fatal(err)
	}
	if !(high.FalseAcceptPct > 0 && math.Abs(low.FalseAcceptPct/high.FalseAcceptPct-1) <= 1e-9) {
		t.Errorf("mirror images: %v and %v", low.FalseAcceptPct, high.FalseAcceptPct)
	}
	_, err = LongRunRisks(p, 0.1, Limit{12, 10}, Limit{math.NaN(), 12})
	var in *InputError
	if !errors.As(err, &in) || len(in.Fields) != 2 || in.Fields[0].Field != "limit.Hi" || in.Fields[1].Field != "accept.Lo" {
		t.Errorf("%v", err)
	}
}
