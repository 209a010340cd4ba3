package weighing

import (
	"math"
	"testing"

	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// What a refusal names: the input, what was given, both ends and the reason.
func TestWhatARefusalNames(t *testing.T) {
	one := func(_ any, err error) error { return err }
	judge := func(contents []decimal.Decimal, accept int) error {
		return one(Judge(Batch{NominalG: dec("250"), ContentsG: contents, AcceptShort: accept}))
	}
	for _, c := range []struct {
		err  error
		want string
	}{
		{one(PermissibleError(Load{Class: ClassIII, IntervalG: dec("0.30"), LoadG: dec("1")})),
			"IntervalG is 0.30 g; accepted: 1e-06 to 100000 g (an interval is 1, 2 or 5 times a power of ten)"},
		{one(PermissibleError(Load{Class: ClassIII, IntervalG: dec("0.2"), LoadG: dec("2000.1")})), "LoadG is 2000.1 g; accepted: 0 to 2000 g"},
		{one(WeightErrorG(M3, dec("0.5"))), "nominalG is 0.5 g; accepted: 1 to 20000 g (a test weight of class M3 is 1, 2 or 5 times a power of ten)"},
		{one(WeightErrorG(E2, dec("3"))), "nominalG is 3 g; accepted: 0.01 to 20000 g (a test weight of class E2 is 1, 2 or 5 times a power of ten)"},
		{one(UnroundedG(Changeover{dec("100"), dec("0.1"), dec("0.11")})), "AddedG is 0.11 g; accepted: 0 to 0.1 g"},
		{judge(list(3, "250"), 4), "AcceptShort is 4 packs; accepted: 0 to 3 packs"},
		{judge(list(1, "250"), -1), "ContentsG is 1 weights; accepted: 2 to 10000 weights; AcceptShort is -1 packs; accepted: 0 to 2 packs"},
		{judge(list(MaxReadings+2, "250"), MaxReadings+1), "ContentsG is 10002 weights; accepted: 2 to 10000 weights; AcceptShort is 10001 packs; accepted: 0 to 10000 packs"},
		{one(RepeatabilityG([]decimal.Decimal{dec("1"), dec("-100000000.1")})), "readingsG[1] is -100000000.1 g; accepted: -100000000 to 100000000 g"},
		{one(MeanFactor(30, 29)), "batch is 29 packs; accepted: 30 to 10000000 packs"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got  %q\nwant %q", c.err, c.want)
		}
	}
	if v, err := MeanFactor(1, 0); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
	if v, err := StandardUncertaintyG(Readout{}); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
	if v, err := RepeatabilityG(nil); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
	for got, want := range map[string]string{
		Class(5).String(): "no class", WeightClass(7).String(): "no class", Verdict(4).String(): "no verdict", Rule(4).String(): "no rule",
	} {
		if got != want {
			t.Errorf("a number without a name is called %q, want %q", got, want)
		}
	}
}

// The directive's 5 g and 10 kg are its own; of 40 packs one may be short, of
// 39 none; a plan begins at 100 packs and changes over 500 and 3200.
func TestEnds(t *testing.T) {
	for q, want := range map[string]Notes{"5": 0, "4.999": BeyondDirective, "10000": 0, "10000.01": BeyondDirective} {
		if s, err := TolerableShortage(dec(q)); err != nil || s.Notes != want {
			t.Errorf("%s g: %+v, %v", q, s, err)
		}
	}
	for batch, few := range map[int]int{1: 0, 39: 0, 40: 1, 79: 1, 80: 2, 99: 2} {
		for _, plan := range []func(int) (Plan, error){SinglePlan, DoublePlan} {
			p, err := plan(batch)
			if want := (Plan{Sample: batch, Accept: few, Reject: few + 1, MeanSample: batch, Notes: WeighAll}); err != nil || p != want {
				t.Errorf("%d packs: %+v, want %+v; %v", batch, p, want, err)
			}
		}
	}
	for batch, sample := range map[int][2]int{100: {50, 30}, 500: {50, 30}, 501: {80, 50}, 3200: {80, 50}, 3201: {125, 80}} {
		s, err1 := SinglePlan(batch)
		d, err2 := DoublePlan(batch)
		if err1 != nil || err2 != nil || s.Sample != sample[0] || d.Sample != sample[1] {
			t.Errorf("%d packs: %+v, %+v; %v %v", batch, s, d, err1, err2)
		}
	}
	// A test weight as good as a third of the limit is good enough: 1.5 e of
	// 0.2 g is 0.3 g.
	for w, want := range map[string]Notes{"0.1": 0, "0.1001": CoarseWeight} {
		f, err := AsFound(Check{Load: Load{Class: ClassIII, IntervalG: dec("0.2"), LoadG: dec("1000")}, ReadingG: dec("1000"), WeightErrorG: dec(w)})
		if err != nil || f.Notes != want || !f.LimitG.Equal(dec("0.3")) {
			t.Errorf("weight good to %s g: %+v, %v", w, f, err)
		}
	}
	// Only class II has another minimum for intervals under 0.1 g.
	for _, c := range []struct {
		class   Class
		e, want string
	}{{ClassI, "0.01", "1"}, {ClassII, "0.01", "0.2"}, {ClassII, "0.1", "5"}, {ClassIII, "0.01", "0.2"}, {ClassIIII, "0.01", "0.1"}} {
		if m, err := MinimumCapacityG(c.class, dec(c.e)); err != nil || !m.Equal(dec(c.want)) {
			t.Errorf("class %v, %s g: %v, want %s; %v", c.class, c.e, m, c.want, err)
		}
	}
}

// Two packs of 245 and 253 g: mean 249, deviation √32; half a deviation is
// 2.83 g, so that the mean may be a gram under.
func TestFloorByHand(t *testing.T) {
	j, err := Judge(Batch{NominalG: dec("250"), ContentsG: []decimal.Decimal{dec("253"), dec("245")}, MeanFactor: 0.5})
	s := math.Sqrt(32)
	if err != nil || j.Mean != Pass || math.Abs(j.FloorG-(250-s/2)) > 1e-12 || math.Abs(j.SpreadG-s) > 1e-12 || j.BetterG != -1 || !j.LeastG.Equal(dec("245")) {
		t.Errorf("%+v, %v", j, err)
	}
	j, err = Judge(Batch{NominalG: dec("250"), ContentsG: []decimal.Decimal{dec("253"), dec("245")}, MeanFactor: 0.17})
	if err != nil || j.Mean != Fail {
		t.Errorf("0.17·√32 is under a gram: %+v, %v", j, err)
	}
}

// The shares under each limit at the target are those of its normal; with no
// spread there are none.
func TestSharesAtTheTarget(t *testing.T) {
	for _, s := range []float64{0, 3, 6, 12} {
		f, err := FillTarget(Fill{NominalG: dec("250"), SpreadG: s, StepG: dec("0.5")})
		if err != nil {
			t.Fatal(err)
		}
		over := f.OverfillG.InexactFloat64()
		for i, got := range []float64{f.UnderPct, f.ShortPct, f.TooShortPct} {
			want := 0.0
			if s > 0 {
				want = 100 * num.NormalCDF(-(over+9*float64(i))/s) // 9 g may be missing of 250
			}
			if math.Abs(got-want) > 1e-12 {
				t.Errorf("spread %v: share %d is %v, want %v", s, i, got, want)
			}
		}
	}
}
