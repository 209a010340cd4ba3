package checkpoint

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var inf = math.Inf(1)

func TestJudgeRefusals(t *testing.T) {
	good := Reading{11, 0.1}
	limit := Limit{10, 12}
	next := math.Nextafter
	for _, c := range []struct {
		name string
		r    Reading
		l    Limit
		risk float64
		want []string // refused fields; none is accepted
	}{
		{"at the largest", Reading{MaxMagnitude, MaxMagnitude}, limit, 5, nil},
		{"at the least", Reading{-MaxMagnitude, 0}, limit, 5, nil},
		{"zero reading", Reading{}, limit, 5, nil},
		{"least risk", good, limit, MinRiskPct, nil},
		{"largest risk", good, limit, MaxRiskPct, nil},
		{"smallest uncertainty", Reading{11, 5e-324}, limit, 5, nil},
		{"value beyond", Reading{next(MaxMagnitude, inf), 1}, limit, 5, []string{"Value"}},
		{"value below", Reading{next(-MaxMagnitude, -inf), 1}, limit, 5, []string{"Value"}},
		{"negative uncertainty", Reading{11, -5e-324}, limit, 5, []string{"U"}},
		{"uncertainty beyond", Reading{11, next(MaxMagnitude, inf)}, limit, 5, []string{"U"}},
		{"NaN", Reading{math.NaN(), math.NaN()}, Limit{math.NaN(), math.NaN()}, math.NaN(), []string{"Value", "U", "Lo", "Hi", "riskPct"}},
		{"infinite", Reading{inf, inf}, Limit{inf, -inf}, inf, []string{"Value", "U", "Lo", "Hi", "riskPct"}},
		{"zero limit", good, Limit{}, 5, []string{"Lo"}},
		{"open on both sides", good, Limit{-inf, inf}, 5, []string{"Hi"}},
		{"reversed", good, Limit{12, 10}, 5, []string{"Hi"}},
		{"of no width", good, Limit{12, 12}, 5, []string{"Hi"}},
		{"a fraction for a percent", good, limit, 0.05, []string{"riskPct"}},
		{"risk just below", good, limit, next(MinRiskPct, 0), []string{"riskPct"}},
		{"risk just above", good, limit, next(MaxRiskPct, 99), []string{"riskPct"}},
		{"two at once", Reading{11, -1}, limit, 95, []string{"U", "riskPct"}},
	} {
		v, err := Judge(c.r, c.l, c.risk)
		var got []string
		var in *InputError
		if errors.As(err, &in) {
			for _, f := range in.Fields {
				got = append(got, f.Field)
			}
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s: refused fields (-want +got):\n%s", c.name, d)
		}
		if err != nil && v != (Verdict{}) {
			t.Errorf("%s: a verdict beside an error: %+v", c.name, v)
		}
		if err == nil && (v.Word < In || v.Word > TooClose || !(v.InPct >= 0 && v.InPct <= 100) || !(v.MaxU >= 0)) {
			t.Errorf("%s: %+v", c.name, v)
		}
	}
}

// Over readings, limits of every kind and risks: the word, the acceptance
// interval and the largest uncertainty tell one story.
func TestJudgeAgreesWithItself(t *testing.T) {
	words := map[Word]int{}
	for _, l := range []Limit{{10, 12}, {-inf, 12}, {10, inf}, {-3, 1e-9}, {0, 12}, {-12, 0}, {-1e15, 1e15}} {
		for _, risk := range []float64{MinRiskPct, 1, 5, 25, 49.999, 50} {
			for _, y := range []float64{-1e15, -4, -1e-12, 0, 1e-9, 9.9, 10, 10.0001, 10.6, 11, 11.3, 11.99, 12, 12.2, 30, 1e15} {
				for _, u := range []float64{0, 5e-324, 1e-9, 0.01, 0.1, 0.5, 1, 3, 100, 1e15} {
					v, err := Judge(Reading{y, u}, l, risk)
					if err != nil {
						t.Fatal(err)
					}
					words[v.Word]++
					inside := y >= l.Lo && y <= l.Hi
					if v.Word == In && !inside || v.Word == Out && inside {
						t.Fatalf("%v ± %v in %v at %v %%: %+v", y, u, l, risk, v)
					}
					slack := 1e-9*(math.Abs(y)+u) + 1e-300
					if accepted := y >= v.AcceptLo-slack && y <= v.AcceptHi+slack; v.Word == In && !accepted {
						t.Fatalf("%v ± %v in %v at %v %%: in, but outside the acceptance interval: %+v", y, u, l, risk, v)
					}
					if y >= v.AcceptLo+slack && y <= v.AcceptHi-slack && v.Word != In {
						t.Fatalf("%v ± %v in %v at %v %%: inside the acceptance interval and not in: %+v", y, u, l, risk, v)
					}
					if risk == 50 && (y == l.Lo || y == l.Hi) {
						continue // a tie, decided by the far tail's last digit
					}
					if v.MaxU > 1e-300 && v.MaxU < MaxMagnitude/2 && risk < 49 { // at one half the last digit decides
						called, _ := Judge(Reading{y, v.MaxU * (1 - 1e-6)}, l, risk)
						open, _ := Judge(Reading{y, v.MaxU * (1 + 1e-6)}, l, risk)
						if called.Word == TooClose || open.Word != TooClose {
							t.Fatalf("%v in %v at %v %%: called %v just below MaxU %v, %v just above", y, l, risk, called.Word, v.MaxU, open.Word)
						}
					}
					if u < v.MaxU*(1-1e-9) && v.Word == TooClose || u > v.MaxU*(1+1e-9) && v.Word != TooClose {
						t.Fatalf("%v ± %v in %v at %v %%: MaxU tells another story: %+v", y, u, l, risk, v)
					}
					if v.Word == In && v.InPct < 100-risk-1e-9 || v.Word == Out && v.InPct > risk+1e-9 {
						t.Fatalf("%v ± %v in %v at %v %%: more risk than allowed: %+v", y, u, l, risk, v)
					}
				}
			}
		}
	}
	for _, w := range []Word{In, Out, TooClose} {
		if words[w] < 100 {
			t.Errorf("the grid saw %q only %d times", w, words[w])
		}
	}
}

func TestMirror(t *testing.T) {
	for _, y := range []float64{9, 9.99, 10.2, 11.7, 13} {
		for _, u := range []float64{0, 0.1, 0.7, 2} {
			a, _ := Judge(Reading{y, u}, Limit{10, 12}, 5)
			b, _ := Judge(Reading{-y, u}, Limit{-12, -10}, 5)
			b.AcceptLo, b.AcceptHi = -b.AcceptHi, -b.AcceptLo
			if d := cmp.Diff(a, b, cmp.Comparer(near)); d != "" {
				t.Errorf("%v ± %v and its mirror image differ:\n%s", y, u, d)
			}
		}
	}
}

func near(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

// A meter whose uncertainty dwarfs the limit calls nothing, although the
// chance of being inside is small.
func TestCoarseMeter(t *testing.T) {
	for _, y := range []float64{11, 13} {
		v, err := Judge(Reading{y, 1000}, Limit{10, 12}, 5)
		if err != nil || v.Word != TooClose || v.InPct > 1 || v.AnyAccepted() {
			t.Errorf("%v ± 1000: %+v, %v", y, v, err)
		}
	}
}

func TestWords(t *testing.T) {
	for w, want := range map[Word]string{0: "not judged", In: "in", Out: "out", TooClose: "too close to call", 9: "not judged"} {
		if w.String() != want {
			t.Errorf("Word(%d) is %q, want %q", w, w, want)
		}
	}
}

// A chance of nothing is 0, not −0.
func TestTogetherCertain(t *testing.T) {
	lot, err := Together(Verdict{Word: In, InPct: 100}, Verdict{Word: In, InPct: 100})
	if err != nil || lot.AllInPct != 100 || lot.SomeOutPct != 0 || math.Signbit(lot.SomeOutPct) {
		t.Errorf("%+v, %v", lot, err)
	}
}

func TestTogether(t *testing.T) {
	in, out, close := Verdict{Word: In, InPct: 95}, Verdict{Word: Out, InPct: 2}, Verdict{Word: TooClose, InPct: 60}
	for _, c := range []struct {
		vs      []Verdict
		word    Word
		weakest int
		all     float64
	}{
		{[]Verdict{in}, In, 0, 95},
		{[]Verdict{{Word: In, InPct: 99}, in, in}, In, 1, 99 * .95 * .95},
		{[]Verdict{in, close, in}, TooClose, 1, .95 * .95 * 60},
		{[]Verdict{in, close, out, close}, Out, 2, .95 * .6 * .6 * 2},
		{[]Verdict{{Word: Out, InPct: 0}, out}, Out, 0, 0},
	} {
		lot, err := Together(c.vs...)
		if err != nil || lot.Word != c.word || lot.Weakest != c.weakest || !near(lot.AllInPct, c.all) || !near(lot.SomeOutPct, 100-c.all) {
			t.Errorf("Together(%v) = %+v, %v", c.vs, lot, err)
		}
		if lot.InCount+lot.OutCount+lot.TooCloseCount != len(c.vs) {
			t.Errorf("Together(%v) counts wrongly: %+v", c.vs, lot)
		}
	}
	for _, vs := range [][]Verdict{nil, {{}}, {in, {Word: 4, InPct: 5}}, {{Word: In, InPct: math.NaN()}}, {{Word: In, InPct: 101}}, make([]Verdict, 100001)} {
		lot, err := Together(vs...)
		var f *FieldError
		if !errors.As(err, &f) || lot != (Lot{}) {
			t.Errorf("Together of %d verdicts = %+v, %v", len(vs), lot, err)
		}
	}
}

func TestJudgeAllocatesNothing(t *testing.T) {
	v, _ := Judge(Reading{11.9, 0.3}, Limit{10, 12}, 5)
	if n := testing.AllocsPerRun(100, func() {
		_, _ = Judge(Reading{11.9, 0.3}, Limit{10, 12}, 5)
		_, _ = Together(v, v, v)
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func FuzzJudge(f *testing.F) {
	f.Add(11.9, 0.1, 10.0, 12.0, 5.0)          // ordinary
	f.Add(12.0, 0.0, 10.0, 12.0, 5.0)          // exact, at the limit
	f.Add(0.0, 5e-324, 0.0, 5e-324, 50.0)      // everything as small as it gets
	f.Add(1e15, 1e15, -1e15, 1e15, 0.1)        // as large
	f.Add(11.0, 1.0, math.Inf(-1), 12.0, 49.9) // one side open
	f.Add(10+1e-15, 0.3, 10.0, 1e15, 50.0)     // far side out of sight
	f.Fuzz(func(t *testing.T, y, u, lo, hi, risk float64) {
		v, err := Judge(Reading{y, u}, Limit{lo, hi}, risk)
		if err != nil {
			var in *InputError
			if !errors.As(err, &in) || v != (Verdict{}) {
				t.Fatalf("%+v, %v", v, err)
			}
			return
		}
		if v.Word < In || v.Word > TooClose || !(v.InPct >= 0 && v.InPct <= 100) || !(v.MaxU >= 0) ||
			v.AcceptLo != v.AcceptLo || v.AcceptHi != v.AcceptHi {
			t.Fatalf("%+v", v)
		}
	})
}
