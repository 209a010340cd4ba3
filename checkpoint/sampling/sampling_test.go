package sampling

import (
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/evenlot/internal/num"
)

var (
	inf = math.Inf(1)
	nan = math.NaN()
)

func refused(err error) (names []string) {
	var in *InputError
	if errors.As(err, &in) {
		for _, f := range in.Fields {
			names = append(names, f.Field)
		}
	}
	return names
}

func impossible(err error) bool {
	var no *ImpossibleError
	return errors.As(err, &no)
}

func near(a, b, rel float64) bool { return math.Abs(a-b) <= rel*math.Max(1e-30, math.Abs(b)) }

// grid reads a frozen reference: a line on the tools, a header, numbers.
func grid(t *testing.T, name string, least int) (rows [][4]float64) {
	t.Helper()
	b, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		if i < 2 {
			continue
		}
		var row [4]float64
		for j, f := range strings.Split(line, ",") {
			if row[j], err = strconv.ParseFloat(f, 64); err != nil {
				t.Fatal(err)
			}
		}
		rows = append(rows, row)
	}
	if len(rows) < least {
		t.Fatalf("%s: %d rows", name, len(rows))
	}
	return rows
}

// Nine significant digits over n = 2 to 1000 and shares to 99.99 %, against
// arbitrary-precision arithmetic, and an R package to its own six.
func TestFactorsAgainstReference(t *testing.T) {
	worst := 0.0
	for _, r := range grid(t, "factors.csv", 192) {
		k, err := OneSidedFactor(int(r[0]), r[1], r[2])
		if err != nil || !near(k, r[3], 1e-9) {
			t.Errorf("one-sided n=%v %v/%v: %v, want %v; %v", r[0], r[1], r[2], k, r[3], err)
		}
		worst = math.Max(worst, math.Abs(k/r[3]-1))
	}
	t.Logf("one side: worst %.1e", worst)
	worst = 0
	for _, r := range grid(t, "twosided-mp.csv", 36) {
		k, err := TwoSidedFactor(int(r[0]), r[1], r[2])
		if err != nil || !near(k, r[3], 1e-9) {
			t.Errorf("two-sided n=%v %v/%v: %v, want %v; %v", r[0], r[1], r[2], k, r[3], err)
		}
		worst = math.Max(worst, math.Abs(k/r[3]-1))
	}
	// The R package stops its own search at about 3e-7.
	for _, r := range grid(t, "twosided.csv", 72) {
		if k, err := TwoSidedFactor(int(r[0]), r[1], r[2]); err != nil || !near(k, r[3], 1e-6) {
			t.Errorf("two-sided n=%v %v/%v: %v, the R package has %v; %v", r[0], r[1], r[2], k, r[3], err)
		}
	}
	t.Logf("two sides: worst %.1e", worst)
}

// Every n from 2 to 1000: falling in n, rising in both shares, between what
// bounds it.
func TestFactorsShape(t *testing.T) {
	for _, p := range []float64{50, 90, 95, 99, 99.99} {
		for _, g := range []float64{50, 90, 95, 99.99} {
			last, last2 := inf, inf
			z := -num.NormalQuantile((100 - p) / 100)
			for n := 2; n <= 1000; n++ {
				k, err := OneSidedFactor(n, p, g)
				if err != nil {
					t.Fatal(err)
				}
				// At 50 % confidence k comes from above too, a median over z.
				if !(k < last || p == 50 && g == 50) || !(k > z-1e-9) {
					t.Fatalf("n=%d %v/%v: %v after %v, z = %v", n, p, g, k, last, z)
				}
				last = k
				if n%50 == 2 {
					k2, err := TwoSidedFactor(n, p, g)
					if err != nil || !(k2 < last2) || !(k2 > -num.NormalQuantile((100-p)/200)) {
						t.Fatalf("two-sided n=%d %v/%v: %v after %v; %v", n, p, g, k2, last2, err)
					}
					last2 = k2
				}
			}
		}
	}
	// Past the noncentral t's own range the normal form joins on.
	for _, p := range []float64{95, 99.99} {
		z := -num.NormalQuantile((100 - p) / 100)
		n := int(math.Floor(1e6 / (z * z)))
		if n > MaxReadings-10 {
			continue
		}
		a, err1 := OneSidedFactor(n-5, p, 99)
		b, err2 := OneSidedFactor(n+5, p, 99)
		if err1 != nil || err2 != nil || !near(a, b, 2e-6) {
			t.Errorf("%v %%: %v just below the seam, %v above; %v %v", p, a, b, err1, err2)
		}
	}
}

func TestRefusals(t *testing.T) {
	next := math.Nextafter
	over := next(MaxMagnitude, inf)
	ok := []float64{1, 2, 4, 3, 5, 2}
	claim := Claim{95, 95, Upper, false, 0}
	one := func(_ any, err error) error { return err }
	pts := Points{5, 95, 15, 7.5}
	plan := Attributes{N: 10, Ac: 1}
	for _, c := range []struct {
		name string
		err  error
		want []string
	}{
		{"factor, least", one(OneSidedFactor(2, 50, 50)), nil},
		{"factor, greatest", one(OneSidedFactor(MaxReadings, 99.99, 99.99)), nil},
		{"two-sided, greatest", one(TwoSidedFactor(MaxReadings, 99.99, 99.99)), nil},
		{"two-sided, least", one(TwoSidedFactor(2, 99.99, 99.99)), nil},
		{"fractions for percents", one(OneSidedFactor(10, 0.95, 0.95)), []string{"coveragePct", "confidencePct"}},
		{"factor beyond", one(TwoSidedFactor(1, next(99.99, 100), next(50, 0))), []string{"n", "coveragePct", "confidencePct"}},
		{"factor NaN", one(HoweFactor(MaxReadings+1, nan, nan)), []string{"n", "coveragePct", "confidencePct"}},
		{"approximate beyond", one(ApproximateFactor(1, nan, inf)), []string{"n", "coveragePct", "confidencePct"}},
		{"bound", one(ToleranceBound(ok, claim)), nil},
		{"zero claim", one(ToleranceBound(ok, Claim{})), []string{"CoveragePct", "ConfidencePct", "Side"}},
		{"bad readings", one(ToleranceBound([]float64{nan, 1, over}, claim)), []string{"readings[0]", "readings[2]"}},
		{"one reading", one(ToleranceBound(ok[:1], claim)), []string{"readings"}},
		{"negative step", one(ToleranceBound(ok, Claim{95, 95, Upper, false, -1})), []string{"Division"}},
		{"lognormal zeros", one(ToleranceBound([]float64{0, 1, -2, 1e-300}, Claim{95, 95, Upper, true, 0})), []string{"readings[0]", "readings[2]"}},
		{"readings for a bound", one(ReadingsForBound(3, 95, 95)), nil},
		{"readings for no bound", one(ReadingsForBound(0, nan, 100)), []string{"marginSD", "coveragePct", "confidencePct"}},
		{"readings for a mean", one(ReadingsForMean(1, 1, 95)), nil},
		{"readings for no mean", one(ReadingsForMean(0, nan, 0.95)), []string{"sd", "halfWidth", "confidencePct"}},
		{"zero failures", one(ZeroFailure(99.99, 99.99)), nil},
		{"zero failures beyond", one(ZeroFailure(next(50, 0), nan)), []string{"coveragePct", "confidencePct"}},
		{"zero failures in a lot", one(ZeroFailureInLot(1, 0, 95)), nil},
		{"in no lot", one(ZeroFailureInLot(0, 0, 0)), []string{"lot", "confidencePct"}},
		{"all bad allowed", one(ZeroFailureInLot(5, 5, 95)), []string{"maxBad"}},
		{"share", one(GoodShare(10, 9, 95)), nil},
		{"all bad", one(GoodShare(10, 10, 95)), []string{"bad"}},
		{"accept", one(AcceptPct(plan, 0)), nil},
		{"zero plan", one(AcceptPct(Attributes{}, nan)), []string{"N", "badPct"}},
		{"more bad than drawn", one(AcceptPct(Attributes{N: 5, Ac: 5, Lot: 4}, next(100, 101))), []string{"Ac", "Lot", "badPct"}},
		{"quality", one(QualityAt(plan, 0.01)), nil},
		{"quality of a small lot", one(QualityAt(Attributes{N: 5, Lot: 9}, 100)), []string{"Lot", "acceptPct"}},
		{"zero points", one(PlanAttributes(Points{})), []string{"GoodPct", "GoodAcceptPct", "BadPct", "BadAcceptPct"}},
		{"points swapped", one(PlanVariables(Points{15, 95, 5, 7.5}, false)), []string{"BadPct"}},
		{"NaN points", one(PlanVariables(Points{nan, nan, nan, nan}, true)), []string{"GoodPct", "GoodAcceptPct", "BadPct", "BadAcceptPct"}},
		{"letter of nothing", func() error { _, _, err := CodeLetter(1); return err }(), []string{"lot"}},
		{"no such quality", one(TabledAttributes(1, 1.1)), []string{"lot", "aqlPct"}},
		{"tabled NaN", one(TabledVariables(6, nan)), []string{"n", "aqlPct"}},
		{"variables", one(AcceptVariablesPct(Variables{N: 1, K: -10, SDKnown: true}, 1e-4)), nil},
		{"zero variables", one(AcceptVariablesPct(Variables{}, 0)), []string{"N", "badPct"}},
		{"variables beyond", one(AcceptVariablesPct(Variables{N: 1000001, K: 10.1}, 5)), []string{"N", "K"}},
		{"estimate", one(Estimated(3, -1000)), nil},
		{"no estimate", one(Estimated(2, nan)), []string{"n", "index"}},
		{"index", one(IndexFor(3, 99.9999)), nil},
		{"no index", one(IndexFor(2, 0)), []string{"n", "maxPct"}},
		{"judge", one(JudgeVariables(ok, 9, true, Variables{N: 6, K: 1}, 0)), nil},
		{"judge too few", one(JudgeVariables(ok[:5], 9, true, Variables{N: 6, K: 1}, 0)), []string{"readings"}},
		{"judge without scatter", one(JudgeVariables([]float64{2, 2}, 9, true, Variables{N: 2, K: 1}, 0)), []string{"readings"}},
		{"judge with a stray deviation", one(JudgeVariables(ok, nan, true, Variables{N: 6, K: 1}, 1)), []string{"limit", "sd"}},
		{"judge without deviation", one(JudgeVariables(ok, 9, true, Variables{N: 6, K: 1, SDKnown: true}, 0)), []string{"sd"}},
		{"critical", one(GrubbsCritical(3, 0.1, true)), nil},
		{"a fraction for a percent", one(GrubbsCritical(2, 0.05, true)), []string{"n", "alphaPct"}},
		{"two readings", one(Grubbs(ok[:2], nan)), []string{"readings", "alphaPct"}},
		{"Rosner", one(Rosner(ok, 3, 5)), nil},
		{"Rosner of too few", one(Rosner(ok[:5], 3, 5)), []string{"readings"}},
		{"Rosner of none", one(Rosner(ok, 0, 21)), []string{"most", "alphaPct"}},
		{"score", one(ModifiedScore(ok, 5)), nil},
		{"score of nothing", one(ModifiedScore(ok, 6)), []string{"i"}},
		{"robust", one(RobustMean(ok[:2])), []string{"readings"}},
		{"trim", one(TrimmedMean(ok, 49)), nil},
		{"trim all", one(TrimmedMean(ok, next(49, 50))), []string{"trimPct"}},
		{"zero censored", one(Below(Censored{})), []string{"Detected", "Limit"}},
		{"a reading under its limit", one(Below(Censored{Detected: []float64{1, 3, 0.5}, Below: 2, Limit: 1})), []string{"Detected[2]"}},
		{"all alike", one(Below(Censored{Detected: []float64{1, 1, 1}, Below: 2, Limit: 1})), []string{"Detected"}},
		{"NaN censored", one(Below(Censored{Detected: []float64{nan, 1}, Below: -1, Limit: nan})), []string{"Detected[0]", "Below", "Limit"}},
		{"plan of points", one(PlanAttributes(pts)), nil},
	} {
		if d := cmp.Diff(c.want, refused(c.err)); d != "" || c.want == nil && c.err != nil {
			t.Errorf("%s: refused (-want +got):\n%s%v", c.name, d, c.err)
		}
	}
	for name, err := range map[string]error{
		"Natrella at n = 3":        one(ApproximateFactor(3, 99, 99)),
		"no room":                  one(ReadingsForBound(1.6, 95, 95)),
		"points too close":         one(PlanAttributes(Points{5, 99.99, 5.01, 0.01})),
		"points too close to read": one(PlanVariables(Points{5, 99.99, 5.01, 0.01}, false)),
		"a mean too sharp":         one(ReadingsForMean(1, 1e-9, 95)),
		"strict and small":         one(TabledVariables(3, 0.1)),
		"half alike":               one(ModifiedScore([]float64{1, 1, 1, 5}, 3)),
		"a bound past all numbers": one(ToleranceBound([]float64{1e-300, 1e15}, Claim{99.99, 99.99, Upper, true, 0})),
	} {
		if !impossible(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestToleranceBound(t *testing.T) {
	x := []float64{0.8, 1.1, 0.9, 1.3, 1.0, 1.2, 0.7, 1.1, 1.4, 1.0} // invented, % oxygen
	up, err := ToleranceBound(x, Claim{95, 95, Upper, false, 0})
	if err != nil || !near(up.Mean, 1.05, 1e-12) || !near(up.Hi, 1.05+2.910963413081*up.SD, 1e-12) || !math.IsInf(up.Lo, -1) || up.Notes != 0 {
		t.Errorf("%+v, %v", up, err)
	}
	lo, _ := ToleranceBound(x, Claim{95, 95, Lower, false, 0})
	if !near(up.Hi-1.05, 1.05-lo.Lo, 1e-12) || !math.IsInf(lo.Hi, 1) {
		t.Errorf("lower %+v is no mirror of upper %+v", lo, up)
	}
	both, _ := ToleranceBound(x, Claim{95, 95, Both, false, 0})
	if !(both.Hi > up.Hi && both.Lo < lo.Lo) {
		t.Errorf("both sides %+v within one %+v", both, up)
	}
	// Units: a thousandfold reading has a thousandfold bound.
	var mg []float64
	for _, v := range x {
		mg = append(mg, 1000*v)
	}
	for _, logn := range []bool{false, true} {
		a, _ := ToleranceBound(x, Claim{95, 95, Upper, logn, 0})
		b, _ := ToleranceBound(mg, Claim{95, 95, Upper, logn, 0})
		if !near(b.Hi, 1000*a.Hi, 1e-9) || !near(b.Mean, 1000*a.Mean, 1e-9) {
			t.Errorf("lognormal %v: %+v against %+v", logn, b, a)
		}
	}
	// A display that hides the scatter.
	flat, err := ToleranceBound([]float64{1.1, 1.1, 1.1, 1.1}, Claim{95, 95, Upper, false, 0.1})
	k, _ := OneSidedFactor(4, 95, 95)
	if err != nil || flat.SD != 0 || flat.Notes != CoarseMeter|FewReadings || !near(flat.Hi, 1.1+0.05+k*0.1/math.Sqrt(12), 1e-12) {
		t.Errorf("%+v, %v", flat, err)
	}
	if s, _ := ToleranceBound(append([]float64{9}, x...), Claim{95, 95, Upper, false, 0}); s.Notes&Suspects == 0 || s.N != 11 {
		t.Errorf("%+v", s)
	}
	if n := testing.AllocsPerRun(5, func() { _, _ = ToleranceBound(x, Claim{95, 95, Both, true, 0.01}) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// What the factor promises, it keeps: of many invented lots, as many bounds
// hold as the confidence says.
func TestToleranceKeepsItsPromise(t *testing.T) {
	const lots, n = 4000, 8
	seed := uint64(7)
	normal := func() float64 { // by inversion of a plain congruential generator
		seed = seed*6364136223846793005 + 1442695040888963407
		return num.NormalQuantile((float64(seed>>11) + 0.5) / (1 << 53))
	}
	for _, side := range []Side{Upper, Both} {
		held := 0
		x := make([]float64, n)
		for range lots {
			for i := range x {
				x[i] = 11 + 0.3*normal()
			}
			b, err := ToleranceBound(x, Claim{90, 95, side, false, 0})
			if err != nil {
				t.Fatal(err)
			}
			if num.NormalCDF((b.Hi-11)/0.3)-num.NormalCDF((b.Lo-11)/0.3) >= 0.9 {
				held++
			}
		}
		if share := float64(held) / lots; math.Abs(share-0.95) > 4*math.Sqrt(0.95*0.05/lots) {
			t.Errorf("%v: %v of the bounds hold, want 0.95", side, share)
		}
	}
}

func TestHowMany(t *testing.T) {
	for _, m := range []float64{1.7, 2, 3, 10, 500} {
		n, err := ReadingsForBound(m, 95, 95)
		if err != nil {
			t.Fatal(err)
		}
		k, _ := OneSidedFactor(n, 95, 95)
		if !(k <= m) {
			t.Errorf("margin %v: n = %d has k = %v", m, n, k)
		}
		if n > 2 {
			if k, _ := OneSidedFactor(n-1, 95, 95); !(k > m) {
				t.Errorf("margin %v: n = %d would do", m, n-1)
			}
		}
	}
	// By the table of t: 0.1 % of moisture known to 0.05 %.
	if n, err := ReadingsForMean(0.1, 0.05, 95); n != 18 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
	if n, err := ReadingsForMean(1e-300, 1e15, 50); n != 2 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
}

func TestZeroFailure(t *testing.T) {
	for _, p := range []float64{50, 90, 95, 99, 99.9, 99.99} {
		for _, g := range []float64{50, 90, 95, 99.99} {
			n, err := ZeroFailure(p, g)
			if err != nil {
				t.Fatal(err)
			}
			got, _ := GoodShare(n, 0, g)
			if got < p-1e-9 {
				t.Errorf("%v/%v: %d units claim only %v", p, g, n, got)
			}
			if n > 1 {
				if less, _ := GoodShare(n-1, 0, g); less >= p {
					t.Errorf("%v/%v: %d units would do", p, g, n-1)
				}
			}
		}
	}
	for _, lot := range []int{1, 2, 10, 60, 1000, MaxUnits} {
		for _, bad := range []int{0, 1, lot / 20, lot - 1} {
			if bad >= lot {
				continue
			}
			n, err := ZeroFailureInLot(lot, bad, 95)
			if err != nil || n < 1 || n > lot-bad {
				t.Fatalf("lot %d, %d bad: %d, %v", lot, bad, n, err)
			}
			if n < lot-bad && num.HypergeometricCDF(0, n, bad+1, lot) > 0.05*(1+1e-9) {
				t.Errorf("lot %d, %d bad: %d units are too few", lot, bad, n)
			}
		}
	}
	// A large lot needs what an endless one does.
	if n, _ := ZeroFailureInLot(1e7, 5e5-1, 95); n != 59 {
		t.Errorf("%d units of a lot of 10 million", n)
	}
	if s, err := GoodShare(59, 1, 95); err != nil || !(s < 95 && s > 92) {
		t.Errorf("%v, %v", s, err)
	}
}

func TestAttributes(t *testing.T) {
	plan := Attributes{N: 68, Ac: 2}
	last := 101.0
	for _, p := range []float64{0, 0.1, 1, 5, 20, 99, 100} {
		a, err := AcceptPct(plan, p)
		if err != nil || !(a <= last) {
			t.Fatalf("%v %% bad: %v after %v; %v", p, a, last, err)
		}
		last = a
		// A large lot is like an endless one.
		b, err := AcceptPct(Attributes{N: 68, Ac: 2, Lot: MaxUnits}, p)
		if err != nil || math.Abs(a-b) > 0.01 {
			t.Errorf("%v %% bad: %v endless, %v of a large lot; %v", p, a, b, err)
		}
	}
	for _, a := range []float64{0.01, 5, 50, 95, 99.99} {
		q, _ := QualityAt(plan, a)
		if back, err := AcceptPct(plan, q); err != nil || !near(back, a, 1e-8) {
			t.Errorf("%v %% came back as %v", a, back)
		}
	}
	for _, p := range []Points{{1, 95, 5, 10}, {0.1, 99, 1, 1}, {10, 90, 40, 49}, {0.001, 50.01, 90, 49}} {
		plan, err := PlanAttributes(p)
		if err != nil {
			t.Fatal(err)
		}
		good, _ := AcceptPct(plan, p.GoodPct)
		bad, _ := AcceptPct(plan, p.BadPct)
		if !(good >= p.GoodAcceptPct-1e-9 && bad <= p.BadAcceptPct+1e-9) {
			t.Errorf("%+v: %+v accepts %v and %v", p, plan, good, bad)
		}
		// No smaller n does, with any c.
		for c := 0; c < plan.N-1 && c < 50; c++ {
			g, _ := AcceptPct(Attributes{N: plan.N - 1, Ac: c}, p.GoodPct)
			b, _ := AcceptPct(Attributes{N: plan.N - 1, Ac: c}, p.BadPct)
			if g >= p.GoodAcceptPct && b <= p.BadAcceptPct {
				t.Errorf("%+v: n = %d, c = %d would do", p, plan.N-1, c)
			}
		}
	}
	// Arrows stay in the table, and every direct plan passes a lot at its AQL
	// nearly always.
	for lot := 2; lot <= MaxUnits; lot = lot*3/2 + 1 {
		for _, aql := range aqls {
			plan, err := TabledAttributes(lot, aql)
			if err != nil || plan.N < 1 || plan.N > lot || plan.Ac < 0 || plan.Ac > 21 {
				t.Fatalf("lot %d, AQL %v: %+v, %v", lot, aql, plan, err)
			}
			if plan.Notes&WholeLot != 0 {
				continue
			}
			a, err := AcceptPct(Attributes{N: plan.N, Ac: plan.Ac}, aql)
			if err != nil || !(a > 86 && a < 99.9) {
				t.Errorf("lot %d, AQL %v: %+v accepts %v %%; %v", lot, aql, plan, a, err)
			}
		}
	}
	if p, _ := TabledAttributes(5, 10); p.N != 5 || p.Ac != 1 || p.Notes != Arrow|WholeLot {
		t.Errorf("letter A at 10 %%: %+v", p)
	}
	ends := []int{8, 15, 25, 50, 90, 150, 280, 500, 1200, 3200, 10000, 35000, 150000, 500000}
	for i, lot := range ends {
		at, _, err1 := CodeLetter(lot)
		over, _, err2 := CodeLetter(lot + 1)
		if at != letters[i:i+1] || over != letters[i+1:i+2] || err1 != nil || err2 != nil {
			t.Errorf("lot %d is %s, one more %s; want %s and %s", lot, at, over, letters[i:i+1], letters[i+1:i+2])
		}
	}
}

func TestVariables(t *testing.T) {
	for _, known := range []bool{false, true} {
		for _, p := range []Points{{1, 95, 5, 10}, {0.1, 99, 1, 1}, {10, 90, 40, 49}, {5, 95, 15, 7.5}} {
			plan, err := PlanVariables(p, known)
			if err != nil {
				t.Fatal(err)
			}
			good, _ := AcceptVariablesPct(plan, p.GoodPct)
			bad, _ := AcceptVariablesPct(plan, p.BadPct)
			if !near(good, p.GoodAcceptPct, 1e-6) || !(bad <= p.BadAcceptPct*(1+1e-6)) {
				t.Errorf("%+v known %v: %+v accepts %v and %v", p, known, plan, good, bad)
			}
			counted, err := PlanAttributes(p)
			if err != nil || counted.N < plan.N {
				t.Errorf("%+v: %d readings, but only %d counted", p, plan.N, counted.N)
			}
		}
	}
	for _, n := range tabledN {
		for _, m := range []float64{1e-4, 3, 50, 99.9999} {
			k, err := IndexFor(n, m)
			if err != nil {
				t.Fatal(err)
			}
			if back, err := Estimated(n, k); n > 3 && (err != nil || !near(back, m, 1e-5)) {
				t.Errorf("n = %d: %v %% came back as %v; %v", n, m, back, err)
			}
		}
	}
	// The tabled constants rise with n, fall with the AQL, and pass a lot at
	// its AQL nearly always: what a digit wrong in 150 would break.
	for i, n := range tabledN {
		last := inf
		for j, aql := range aqls[5:] {
			plan, err := TabledVariables(n, aql)
			if impossible(err) && tabledK[i][j] == 0 {
				continue
			}
			if err != nil || !(plan.K < last) {
				t.Fatalf("n = %d, AQL %v: %+v after %v; %v", n, aql, plan, last, err)
			}
			last = plan.K
			if i > 0 && tabledK[i-1][j] != 0 && tabledK[i-1][j] > plan.K+0.011 { // the source's own 2.45, 2.44 for n = 35, 40 at 0.15 %
				t.Errorf("n = %d, AQL %v: k falls from %v to %v", n, aql, tabledK[i-1][j], plan.K)
			}
			a, err := AcceptVariablesPct(plan, aql)
			if err != nil || !(a > 84 && a < 99.9) {
				t.Errorf("n = %d, AQL %v: accepts %v %%; %v", n, aql, a, err)
			}
		}
	}
	// Above the limit and below it are mirror images.
	x := []float64{197, 188, 184, 205, 201}
	var y []float64
	for _, v := range x {
		y = append(y, -v)
	}
	a, _ := JudgeVariables(x, 209, true, Variables{N: 5, K: 1.6}, 0)
	b, _ := JudgeVariables(y, -209, false, Variables{N: 5, K: 1.6}, 0)
	if a.Index != b.Index || a.EstimatedPct != b.EstimatedPct || a.Accept || b.Accept {
		t.Errorf("%+v, %+v", a, b)
	}
	c, err := JudgeVariables(x[:1], 209, true, Variables{N: 1, K: 1.4, SDKnown: true}, 8)
	if err != nil || c.Index != 1.5 || !c.Accept || c.EstimatedPct != 0 {
		t.Errorf("%+v, %v", c, err)
	}
	d, err := JudgeVariables(x, 209, true, Variables{N: 5, K: 1.4, SDKnown: true}, 8)
	if err != nil || !near(d.EstimatedPct, 100*num.NormalCDF(-1.75*math.Sqrt(1.25)), 1e-12) {
		t.Errorf("%+v, %v", d, err)
	}
}

func TestOutliers(t *testing.T) {
	clean := []float64{10.1, 10.3, 9.9, 10.0, 10.2, 10.1, 9.8, 10.0, 10.2, 10.1}
	if s, err := Grubbs(clean, 5); err != nil || s.Flagged || s.Index != 6 {
		t.Errorf("%+v, %v", s, err)
	}
	if s, err := Grubbs([]float64{4, 4, 4}, 5); err != nil || s != (Suspect{}) {
		t.Errorf("all alike: %+v, %v", s, err)
	}
	// Three readings cannot be further than 1.1547 deviations.
	if s, _ := Grubbs([]float64{0, 0, 1e9}, 1); !near(s.G, 2/math.Sqrt(3), 1e-9) {
		t.Errorf("%+v", s)
	}
	// Two odd readings hide each other from Grubbs, not from Rosner.
	pair := append([]float64{13.0, 13.1}, clean[:8]...)
	if s, _ := Grubbs(pair, 5); s.Flagged {
		t.Errorf("the pair does not hide: %+v", s)
	}
	before := append([]float64(nil), pair...)
	list, err := Rosner(pair, 4, 5)
	if err != nil || len(list) != 4 || !list[0].Flagged || !list[1].Flagged || list[2].Flagged || list[0].Index != 1 || list[1].Index != 0 {
		t.Errorf("%+v, %v", list, err)
	}
	if d := cmp.Diff(before, pair); d != "" {
		t.Error("readings were written to")
	}
	if list, err := Rosner(make([]float64, 6), 2, 5); err != nil || list != nil {
		t.Errorf("all alike: %v, %v", list, err)
	}
	if m, err := ModifiedScore(pair, 1); err != nil || !(m > ModifiedScoreLimit) {
		t.Errorf("%v, %v", m, err)
	}
}

func TestRobust(t *testing.T) {
	x := []float64{10.1, 10.3, 9.9, 10.0, 10.2, 10.1, 9.8, 10.0, 10.2, 10.1}
	a, err := RobustMean(x)
	if err != nil || math.Abs(a.Mean-10.07) > 0.01 || math.Abs(a.SD-0.15) > 0.03 || !near(a.Median, 10.1, 1e-12) {
		t.Errorf("%+v, %v", a, err)
	}
	wild := append([]float64{1e15}, x...)
	b, err := RobustMean(wild)
	if err != nil || math.Abs(b.Mean-a.Mean) > 0.1 || b.SD > 0.4 {
		t.Errorf("one wild reading moves %+v to %+v", a, b)
	}
	if r, err := RobustMean([]float64{3, 3, 3, 9}); err != nil || r.Mean != 3 || r.SD != 0 {
		t.Errorf("%+v, %v", r, err)
	}
	if r, _ := RobustMean([]float64{-1e15, 1e15, 1e15, -1e15}); math.IsInf(r.Mean, 0) || math.IsNaN(r.SD) {
		t.Errorf("%+v", r)
	}
	for trim, want := range map[float64]float64{0: 22, 19: 22, 20: 3, 49: 3} {
		if m, err := TrimmedMean([]float64{100, 1, 4, 3, 2}, trim); err != nil || !near(m, want, 1e-12) {
			t.Errorf("trimmed by %v %%: %v, want %v; %v", trim, m, want, err)
		}
	}
}

func TestBelow(t *testing.T) {
	x := []float64{1.2, 1.5, 1.9, 2.2, 2.8, 3.5}
	whole, err := Below(Censored{Detected: x, Limit: 1})
	mean, sd, _ := momentsOf(x, func(v float64) float64 { return v })
	if err != nil || !near(whole.Mean, mean, 1e-9) || !near(whole.SD, sd, 1e-9) || whole.BelowPct != 0 || whole.LowMean != whole.HighMean {
		t.Errorf("%+v, want %v and %v; %v", whole, mean, sd, err)
	}
	for _, logn := range []bool{false, true} {
		last := inf
		for _, below := range []int{0, 1, 3, 6, 20} {
			e, err := Below(Censored{x, below, 1, logn})
			if err != nil || !(e.Mean < last) || !(e.LowMean <= e.HighMean) || !(e.MaxBelowPct > e.BelowPct) || (e.Notes == MostBelow) != (below > 6) {
				t.Fatalf("lognormal %v, %d below: %+v after %v; %v", logn, below, e, last, err)
			}
			last = e.Mean
			if logn && !(e.Mean >= e.LowMean && e.Mean <= e.HighMean*1.05) {
				t.Errorf("%d below: mean %v, bounds %v to %v", below, e.Mean, e.LowMean, e.HighMean)
			}
		}
	}
	// The likelihood has its top there: no step away raises it.
	c := Censored{Detected: x, Below: 4, Limit: 1}
	e, _ := Below(c)
	s := e.SD * math.Sqrt(9.0/10)
	like := func(mu, s float64) float64 {
		l := 4 * math.Log(num.NormalCDF((1-mu)/s))
		for _, v := range x {
			l += math.Log(num.NormalPDF((v-mu)/s) / s)
		}
		return l
	}
	top := like(e.Mean, s)
	for _, d := range [][2]float64{{0.01, 0}, {-0.01, 0}, {0, 0.01}, {0, -0.01}} {
		if like(e.Mean+d[0], s+d[1]) > top {
			t.Errorf("a step of %v is likelier", d)
		}
	}
}

func TestNames(t *testing.T) {
	if s := (CoarseMeter | FewReadings).String(); s != "the scatter is finer than the meter's step, which stands in for it; few readings, one odd one decides" {
		t.Error(s)
	}
	for s, want := range map[Side]string{0: "no side", Upper: "upper", Lower: "lower", Both: "both"} {
		if s.String() != want {
			t.Error(s)
		}
	}
}

func FuzzFactor(f *testing.F) {
	f.Add(10, 95.0, 95.0)
	f.Add(2, 99.99, 99.99)     // the longest tail
	f.Add(1000000, 50.0, 50.0) // no coverage beyond the middle
	f.Add(72000, 99.99, 99.99) // at the seam of the two methods
	f.Fuzz(func(t *testing.T, n int, p, g float64) {
		for _, k := range []func(int, float64, float64) (float64, error){OneSidedFactor, TwoSidedFactor} {
			v, err := k(n, p, g)
			if err != nil && (refused(err) == nil || v != 0) || err == nil && !(v >= -1e-9 && v < 1e6) {
				t.Fatalf("n=%d %v/%v: %v, %v", n, p, g, v, err)
			}
		}
	})
}

func FuzzBound(f *testing.F) {
	f.Add(1.0, 2.0, 3.0, 0.1, true)
	f.Add(0.0, 0.0, 0.0, 0.0, false)        // nothing scatters
	f.Add(1e15, -1e15, 1e-300, 1e15, false) // as far apart as may be
	f.Add(1e15, 1e-300, 1e-300, 0.0, true)  // and by logarithms
	f.Fuzz(func(t *testing.T, a, b, c, d float64, logn bool) {
		x := []float64{a, b, c, a + b, b - c}
		e, err := ToleranceBound(x, Claim{99, 95, Both, logn, d})
		if err != nil && (refused(err) == nil && !impossible(err) || e != (Bound{})) {
			t.Fatalf("%+v, %v", e, err)
		}
		if err == nil && !(e.Lo <= e.Hi && !math.IsInf(e.Hi, 0) && !math.IsInf(e.Lo, 0)) {
			t.Fatalf("%+v", e)
		}
		if r, err := RobustMean(x); err == nil && (math.IsNaN(r.Mean+r.SD+r.Median) || math.IsInf(r.SD, 0)) {
			t.Fatalf("%+v", r)
		}
		if e, err := Below(Censored{x, 3, d, logn}); err == nil && (math.IsNaN(e.Mean+e.SD) || math.IsInf(e.SD, 0) || math.IsInf(e.Mean, 0)) {
			t.Fatalf("%+v", e)
		}
	})
}
