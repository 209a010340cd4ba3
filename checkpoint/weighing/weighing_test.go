package weighing

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/internal/num"
	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// refused lists the fields of a refusal; nil where there is none.
func refused(err error) (fields []string) {
	var in *InputError
	if errors.As(err, &in) {
		for _, f := range in.Fields {
			fields = append(fields, f.Field)
		}
	}
	return fields
}

func beyond(v, towards float64) float64 { return math.Nextafter(v, towards) }

func list(n int, v string) []decimal.Decimal {
	l := make([]decimal.Decimal, n)
	for i := range l {
		l[i] = dec(v)
	}
	return l
}

func TestRefusals(t *testing.T) {
	loadErr := func(c Class, e, m string) error {
		_, err := PermissibleError(Load{Class: c, IntervalG: dec(e), LoadG: dec(m)})
		return err
	}
	weightErr := func(c WeightClass, m string) error { _, err := WeightErrorG(c, dec(m)); return err }
	overErr := func(i, d, l string) error { _, err := UnroundedG(Changeover{dec(i), dec(d), dec(l)}); return err }
	foundErr := func(c Check) error { _, err := AsFound(c); return err }
	readErr := func(r Readout) error { _, err := StandardUncertaintyG(r); return err }
	smallErr := func(d, s, p string) error { _, err := SmallestWeighing(Weighing{dec(d), dec(s), dec(p)}); return err }
	shortErr := func(q string) error { _, err := TolerableShortage(dec(q)); return err }
	meanErr := func(n, N int) error { _, err := MeanFactor(n, N); return err }
	judgeErr := func(b Batch) error { _, err := Judge(b); return err }
	fillErr := func(f Fill) error { _, err := FillTarget(f); return err }
	giveErr := func(r Run) error { _, err := Giveaway(r); return err }
	spreadErr := func(l []decimal.Decimal) error { _, err := RepeatabilityG(l); return err }
	planErr := func(p func(int) (Plan, error), n int) error { _, err := p(n); return err }
	nan, inf := math.NaN(), math.Inf(1)
	good := Fill{dec("250"), 1, decimal.Decimal{}, dec("0.5")}

	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"zero load":               {loadErr(0, "0", "0"), []string{"Class", "IntervalG"}},
		"no load":                 {loadErr(ClassIII, "1", "0"), nil},
		"least interval":          {loadErr(ClassII, "0.000001", "0"), nil},
		"interval below":          {loadErr(ClassII, "0.0000005", "0"), []string{"IntervalG"}},
		"most interval":           {loadErr(ClassIII, "100000", "0"), nil},
		"interval above":          {loadErr(ClassIII, "200000", "0"), []string{"IntervalG"}},
		"interval of three":       {loadErr(ClassIII, "3", "0"), []string{"IntervalG"}},
		"interval of 0.1 as 0.10": {loadErr(ClassIII, "0.10", "0"), nil},
		"interval of fifty":       {loadErr(ClassIII, "50", "0"), nil},
		"interval of fifteen":     {loadErr(ClassIII, "15", "0"), []string{"IntervalG"}},
		"most load, III":          {loadErr(ClassIII, "1", "10000"), nil},
		"load above, III":         {loadErr(ClassIII, "1", "10000.0000001"), []string{"LoadG"}},
		"most load, II":           {loadErr(ClassII, "0.1", "10000"), nil},
		"load above, II":          {loadErr(ClassII, "0.1", "10000.1"), []string{"LoadG"}},
		"most load, IIII":         {loadErr(ClassIIII, "5", "5000"), nil},
		"load above, IIII":        {loadErr(ClassIIII, "5", "5001"), []string{"LoadG"}},
		"most load, I":            {loadErr(ClassI, "1", "100000000"), nil},
		"load above, I":           {loadErr(ClassI, "1", "100000001"), []string{"LoadG"}},
		"negative load":           {loadErr(ClassI, "1", "-0.1"), []string{"LoadG"}},
		"class and load":          {loadErr(ClassIIII+1, "1", "-1"), []string{"Class", "LoadG"}},
		"hostile load":            {loadErr(ClassIII, "1", "1e9999"), []string{"LoadG"}},

		"zero weight":          {weightErr(0, "0"), []string{"class", "nominalG"}},
		"a weight of 3 kg":     {weightErr(M1, "3000"), []string{"nominalG"}},
		"least of M3":          {weightErr(M3, "1.000"), nil},
		"below M3":             {weightErr(M3, "0.5"), []string{"nominalG"}},
		"least of all":         {weightErr(F1, "0.01"), nil},
		"below all":            {weightErr(F1, "0.005"), []string{"nominalG"}},
		"most of all":          {weightErr(M3, "20000"), nil},
		"above all":            {weightErr(M3, "50000"), []string{"nominalG"}},
		"kilograms for grams":  {weightErr(M1, "0.75"), []string{"nominalG"}},
		"a class beyond":       {weightErr(M3+1, "1"), []string{"class"}},
		"added none":           {overErr("1000", "5", "0"), nil},
		"added one step":       {overErr("1000", "5", "5"), nil},
		"added over a step":    {overErr("1000", "5", "5.1"), []string{"AddedG"}},
		"added less than none": {overErr("1000", "5", "-0.1"), []string{"AddedG"}},
		"no step, no reading":  {overErr("1e30", "0", "0"), []string{"ReadingG", "DivisionG"}},
		"zero check":           {foundErr(Check{}), []string{"Class", "IntervalG"}},
		"check, all bad":       {foundErr(Check{Load{ClassIII, dec("1"), dec("-1"), false}, dec("1e30"), dec("-1")}), []string{"LoadG", "ReadingG", "WeightErrorG"}},

		"zero readout":       {readErr(Readout{}), []string{"DivisionG"}},
		"least readout":      {readErr(Readout{DivisionG: MinIntervalG}), nil},
		"readout below":      {readErr(Readout{DivisionG: beyond(MinIntervalG, 0)}), []string{"DivisionG"}},
		"most readout":       {readErr(Readout{MaxIntervalG, MaxIntervalG, MaxIntervalG, MaxIntervalG, true}), nil},
		"readout above":      {readErr(Readout{beyond(MaxIntervalG, inf), 0, 0, 0, false}), []string{"DivisionG"}},
		"readout, no number": {readErr(Readout{nan, inf, -1, nan, true}), []string{"DivisionG", "RepeatabilityG", "WeightErrorG", "TareSpreadG"}},
		"zero weighing":      {smallErr("0", "0", "0"), []string{"DivisionG", "TolerancePct"}},
		"tolerance least":    {smallErr("0.1", "0", "0.001"), nil},
		"tolerance below":    {smallErr("0.1", "0", "0.0009999"), []string{"TolerancePct"}},
		"tolerance most":     {smallErr("0.1", "0", "50"), nil},
		"tolerance above":    {smallErr("0.1", "0", "50.000001"), []string{"TolerancePct"}},
		"spread below":       {smallErr("0.1", "-0.01", "1"), []string{"RepeatabilityG"}},
		"one reading":        {spreadErr(list(1, "5")), []string{"readingsG"}},
		"two readings":       {spreadErr(list(2, "5")), nil},
		"hostile readings":   {spreadErr([]decimal.Decimal{dec("1e99"), dec("1"), dec("1e-99")}), []string{"readingsG[0]", "readingsG[2]"}},

		"nominal none":       {shortErr("0"), []string{"nominalG"}},
		"nominal least":      {shortErr("1"), nil},
		"nominal below":      {shortErr("0.25"), []string{"nominalG"}}, // kilograms
		"nominal most":       {shortErr("50000"), nil},
		"nominal above":      {shortErr("50000.1"), []string{"nominalG"}},
		"sample of one":      {meanErr(1, 0), []string{"sample"}},
		"sample of two":      {meanErr(2, 0), nil},
		"sample of all":      {meanErr(50, 50), nil},
		"more than all":      {meanErr(51, 50), []string{"batch"}},
		"nothing at all":     {meanErr(0, -1), []string{"sample", "batch"}},
		"no batch, double":   {planErr(DoublePlan, 0), []string{"batch"}},
		"no batch, single":   {planErr(SinglePlan, MaxBatch+1), []string{"batch"}},
		"few, destructive":   {planErr(DestructivePlan, 99), []string{"batch"}},
		"zero batch":         {judgeErr(Batch{}), []string{"NominalG", "ContentsG"}},
		"batch, all bad":     {judgeErr(Batch{dec("0"), list(1, "1"), 3, nan}), []string{"NominalG", "ContentsG", "AcceptShort", "MeanFactor"}},
		"batch, one bad":     {judgeErr(Batch{dec("250"), []decimal.Decimal{dec("250"), dec("1e12")}, 1, -0.1}), []string{"ContentsG[1]", "MeanFactor"}},
		"zero fill":          {fillErr(Fill{}), []string{"NominalG", "StepG"}},
		"good fill":          {fillErr(good), nil},
		"fill, spread most":  {fillErr(Fill{dec("250"), MaxSpreadG, dec("1000"), dec("1000")}), nil},
		"fill, all bad":      {fillErr(Fill{dec("-1"), nan, dec("-1"), dec("1001")}), []string{"NominalG", "SpreadG", "DriftG", "StepG"}},
		"fill, spread above": {fillErr(Fill{dec("250"), beyond(MaxSpreadG, inf), dec("0"), dec("1")}), []string{"SpreadG"}},
		"zero run":           {giveErr(Run{}), []string{"NominalG", "Packs"}},
		"run, all bad":       {giveErr(Run{dec("0.99"), dec("100001"), MaxBatch + 1}), []string{"NominalG", "MeanG", "Packs"}},
	} {
		if diff := cmp.Diff(c.want, refused(c.err)); diff != "" {
			t.Errorf("%s: %s (%v)", name, diff, c.err)
		}
	}
}

// The range told beside a refused weight is that of its class.
func TestWeightRangeIsTold(t *testing.T) {
	for class, least := range map[WeightClass]float64{E2: 0.01, M1: 0.01, M2: 0.1, M3: 1} {
		_, err := WeightErrorG(class, dec("3"))
		var f *FieldError
		if !errors.As(err, &f) || f.Min != least || f.Max != 20000 {
			t.Errorf("%v: %v", class, err)
		}
	}
}

func TestAsFound(t *testing.T) {
	// e = 5 g, 2 kg is 400 e: ± 2.5 g new, ± 5 g in use.
	load := Load{ClassIII, dec("5"), dec("2000"), true}
	for _, c := range []struct {
		reading, weight string
		word            Verdict
		notes           Notes
	}{
		{"2005", "0.1", Pass, 0},
		{"1995", "0.1", Pass, 0},
		{"2005.0001", "0.1", Fail, 0},
		{"1994.9", "0.1", Fail, 0},
		{"2005.1", "1.6666", Fail, 0}, // a third of 5 g, just: the weight counts as true
		{"2002", "1.7", Pass, CoarseWeight},
		{"2003.3", "1.7", Pass, CoarseWeight},
		{"2003.31", "1.7", Close, CoarseWeight},
		{"2006.7", "1.7", Close, CoarseWeight},
		{"2006.71", "1.7", Fail, CoarseWeight},
		{"2000", "6", Close, CoarseWeight}, // so coarse that nothing can pass
	} {
		f, err := AsFound(Check{load, dec(c.reading), dec(c.weight)})
		if err != nil || f.Verdict != c.word || f.Notes != c.notes || !f.LimitG.Equal(dec("5")) || !f.ErrorG.Equal(dec(c.reading).Sub(dec("2000"))) {
			t.Errorf("%s with a weight good to %s: %+v, want %v, %v (%v)", c.reading, c.weight, f, c.word, c.notes, err)
		}
	}
	f, err := AsFound(Check{Load{ClassIII, dec("5"), dec("95"), false}, dec("95"), decimal.Decimal{}})
	if err != nil || f.Notes != BelowMinimum {
		t.Errorf("under 20 e: %+v (%v)", f, err)
	}
	f, err = AsFound(Check{Load{ClassIII, dec("5"), dec("100"), false}, dec("95"), decimal.Decimal{}})
	if err != nil || f.Notes != 0 || !f.LimitG.Equal(dec("2.5")) {
		t.Errorf("at 20 e: %+v (%v)", f, err)
	}
	if got := (BelowMinimum | WeighAll).String(); got != "under the minimum capacity of the class; under 100 packs: no plan; weigh them all" {
		t.Errorf("notes read %q", got)
	}
	if Class(9).String() != "no class" || WeightClass(9).String() != "no class" || Verdict(9).String() != "no verdict" || Rule(9).String() != "no rule" {
		t.Error("an unknown word has a name")
	}
	if ClassIIII.String() != "IIII" || M3.String() != "M3" || Close.String() != "too close to call" || MeanRule.String() != "the mean must reach the nominal content" {
		t.Error("a word has another's name")
	}
}

// In every class the error allowed grows with the load and halves cleanly.
func TestPermissibleErrorGrows(t *testing.T) {
	for c := ClassI; c <= ClassIIII; c++ {
		for _, e := range []string{"0.001", "0.1", "2", "5"} {
			last := decimal.Decimal{}
			for _, n := range []int64{0, 10, 50, 51, 200, 201, 500, 501, 1000, 2000, 2001, 5000, 5001, 10000, 20000, 20001, 50000, 50001, 100000, 200000, 200001} {
				load := Load{Class: c, IntervalG: dec(e), LoadG: dec(e).Mul(decimal.NewFromInt(n))}
				p, err := PermissibleError(load)
				if err != nil {
					if n <= bands[c].most && load.LoadG.LessThan(decimal.NewFromInt(MaxLoadG)) {
						t.Errorf("%v, %d e refused: %v", c, n, err)
					}
					continue
				}
				load.InService = true
				q, _ := PermissibleError(load)
				if p.LimitG.LessThan(last) || !q.LimitG.Equal(p.LimitG.Add(p.LimitG)) || !p.LimitG.IsPositive() {
					t.Fatalf("%v, e %s, %d e: %v after %v, in service %v", c, e, n, p.LimitG, last, q.LimitG)
				}
				last = p.LimitG
			}
		}
	}
}

// A heavier weight of the same class has no smaller error, a finer class no
// larger one.
func TestWeightErrorsAreInOrder(t *testing.T) {
	for i, row := range weightErrors {
		for k := range row.ug {
			// The recommendation writes every error in these steps.
			digits := strings.TrimRight(strconv.FormatInt(row.ug[k], 10), "0")
			if row.ug[k] > 0 && !slices.Contains([]string{"1", "12", "16", "2", "25", "3", "4", "5", "6", "8"}, digits) {
				t.Errorf("%d mg in class %v: %d ug is no step of the table", row.mg, WeightClass(k+1), row.ug[k])
			}
			if k > 0 && row.ug[k] > 0 {
				if r := float64(row.ug[k]) / float64(row.ug[k-1]); r < 2.9 || r > 3.4 {
					t.Errorf("%d mg: class %v errs %.2f times class %v", row.mg, WeightClass(k+1), r, WeightClass(k))
				}
			}
			if k > 0 && row.ug[k] > 0 && !(row.ug[k] > row.ug[k-1]) {
				t.Errorf("%d mg: class %v is no coarser than %v", row.mg, WeightClass(k+1), WeightClass(k))
			}
			if i > 0 && row.ug[k] > weightErrors[i-1].ug[k] {
				t.Errorf("%d mg in class %v errs more than the heavier weight", row.mg, WeightClass(k+1))
			}
			// From 100 g up every class is a fixed share of the weight.
			ppm := [...]int64{16, 50, 160, 500, 1600, 5000}[k]
			if row.mg >= 100_000 {
				want := row.mg * ppm / 10_000 // ug
				if d := math.Abs(float64(row.ug[k]-want)) / float64(want); d > 0.07 {
					t.Errorf("%d mg in class %v: %d ug, %d by share", row.mg, WeightClass(k+1), row.ug[k], want)
				}
			}
		}
	}
}

// The published table has no step down anywhere: a bigger pack may not be
// allowed a smaller shortage, nor a sudden jump.
func TestShortageIsContinuous(t *testing.T) {
	last := decimal.Decimal{}
	for tenths := int64(10); tenths <= 500_000; tenths += 7 {
		q := decimal.New(tenths, -1)
		s, err := TolerableShortage(q)
		if err != nil {
			t.Fatal(err)
		}
		if s.T1G.LessThan(last) || s.T1G.Sub(last).GreaterThan(dec("0.3")) {
			t.Fatalf("%v g: %v after %v", q, s.T1G, last)
		}
		if !s.FewG.Add(s.T1G).Equal(q) || !s.NeverG.Add(s.T1G).Add(s.T1G).Equal(q) {
			t.Fatalf("%v g: limits %v and %v", q, s.FewG, s.NeverG)
		}
		r, err := TolerableShortageR87(q)
		if err != nil || r.T1G.LessThan(s.T1G) || r.T1G.Sub(s.T1G).GreaterThan(dec("0.9")) || r.Notes != 0 {
			t.Fatalf("%v g: %v, the recommendation has %v (%v)", q, s.T1G, r.T1G, err)
		}
		if (s.Notes == BeyondDirective) != (tenths < 50 || tenths > 100_000) {
			t.Fatalf("%v g: notes %v", q, s.Notes)
		}
		last = s.T1G
	}
	for _, q := range []string{"50", "100", "200", "300", "500", "1000", "10000", "15000"} {
		at, _ := TolerableShortage(dec(q))
		after, err := TolerableShortage(dec(q).Add(dec("0.000001")))
		if d := after.T1G.Sub(at.T1G); err != nil || d.IsNegative() || d.GreaterThan(dec("0.1")) {
			t.Errorf("the edge at %s g jumps by %v (%v)", q, d, err)
		}
	}
}

func TestPlans(t *testing.T) {
	for _, n := range []int{100, 500, 501, 3200, 3201, MaxBatch} {
		for name, plan := range map[string]func(int) (Plan, error){"double": DoublePlan, "single": SinglePlan, "destructive": DestructivePlan} {
			p, err := plan(n)
			if err != nil || p.Sample > n || p.Reject <= p.Accept || p.MeanSample > p.Sample || p.Notes != 0 {
				t.Errorf("%s plan of %d: %+v (%v)", name, n, p, err)
			}
			f, err := MeanFactor(p.MeanSample, 0)
			if err != nil || f != p.MeanFactor {
				t.Errorf("%s plan of %d: factor %v, for its sample %v (%v)", name, n, p.MeanFactor, f, err)
			}
			if p.Second > 0 && !(p.SecondReject == p.SecondAccept+1 && p.SecondAccept >= p.Reject-1) {
				t.Errorf("%s plan of %d: second step %+v", name, n, p)
			}
		}
	}
	for n, want := range map[int]Plan{
		500:  {Sample: 50, Accept: 3, Reject: 4, MeanSample: 50, MeanFactor: factor(50)},
		3200: {Sample: 80, Accept: 5, Reject: 6, MeanSample: 80, MeanFactor: factor(80)},
		3201: {Sample: 125, Accept: 7, Reject: 8, MeanSample: 125, MeanFactor: factor(125)},
	} {
		if p, err := SinglePlan(n); err != nil || p != want {
			t.Errorf("single plan of %d: %+v (%v)", n, p, err)
		}
	}
	for n, second := range map[int]int{500: 30, 3200: 50, 3201: 80} {
		if p, err := DoublePlan(n); err != nil || p.Second != second {
			t.Errorf("double plan of %d: %+v (%v)", n, p, err)
		}
	}
	open := Plan{Sample: 20, Accept: 1, Reject: 2, MeanSample: 20, MeanFactor: factor(20)}
	if p, err := DestructivePlan(100); err != nil || p != open {
		t.Errorf("destructive plan: %+v (%v)", p, err)
	}
	p, err := DoublePlan(99)
	if want := (Plan{Sample: 99, Accept: 2, Reject: 3, MeanSample: 99, Notes: WeighAll}); err != nil || p != want {
		t.Errorf("99 packs: %+v (%v)", p, err)
	}
	if q, err := SinglePlan(39); err != nil || q.Accept != 0 {
		t.Errorf("39 packs: %+v (%v)", q, err)
	}
	whole, err := MeanFactor(50, 50)
	if err != nil || whole != 0 {
		t.Errorf("all packs weighed: factor %v (%v)", whole, err)
	}
}

func TestJudge(t *testing.T) {
	contents := list(30, "250.0")
	judge := func(change map[int]string, accept int, factor float64) Judgement {
		c := append([]decimal.Decimal(nil), contents...)
		for i, v := range change {
			c[i] = dec(v)
		}
		j, err := Judge(Batch{dec("250"), c, accept, factor})
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	if j := judge(nil, 1, 0.503); j.Overall != Pass || !j.MeanG.Equal(dec("250")) || j.SpreadG != 0 || j.BetterG != 0 || j.FloorG != 250 {
		t.Errorf("all exact: %+v", j)
	}
	// A tenth missing on one pack in thirty, nothing forgiven: the mean fails.
	if j := judge(map[int]string{0: "249.9"}, 1, 0); j.Mean != Fail || j.Overall != Fail || j.Few != Pass {
		t.Errorf("a tenth under: %+v", j)
	}
	if j := judge(map[int]string{0: "249.9"}, 1, 0.503); j.Mean != Pass || j.Overall != Pass {
		t.Errorf("a tenth under, by chance: %+v", j)
	}
	at := judge(map[int]string{0: "241.0", 1: "265"}, 0, 0)
	if at.Short != 0 || at.Overall != Pass || !at.LeastG.Equal(dec("241")) {
		t.Errorf("at T1: %+v", at)
	}
	if j := judge(map[int]string{0: "240.9", 1: "265"}, 0, 0); j.Short != 1 || j.Few != Fail || j.Never != Pass || j.Overall != Fail {
		t.Errorf("beyond T1: %+v", j)
	}
	if j := judge(map[int]string{0: "240.9", 1: "265"}, 1, 0); j.Overall != Pass {
		t.Errorf("one accepted: %+v", j)
	}
	if j := judge(map[int]string{0: "232.0", 1: "275"}, 1, 0); j.TooShort != 0 || j.Overall != Pass {
		t.Errorf("at twice T1: %+v", j)
	}
	if j := judge(map[int]string{0: "231.9", 1: "275"}, 1, 0); j.TooShort != 1 || j.Never != Fail || j.Overall != Fail {
		t.Errorf("beyond twice T1: %+v", j)
	}
	j := judge(map[int]string{0: "251", 1: "251"}, 1, 0.503)
	if !j.MeanG.Equal(dec("250.0667")) || math.Abs(j.BetterG-2./30) > 1e-15 {
		t.Errorf("mean %v, better by %v", j.MeanG, j.BetterG)
	}
}

func TestFillTarget(t *testing.T) {
	for _, q := range []string{"50", "100", "250", "350", "1000", "5000"} {
		last := decimal.Decimal{}
		for s := 0.0; s <= 60; s += 0.25 {
			f, err := FillTarget(Fill{dec(q), s, dec("0.2"), dec("0.1")})
			if err != nil {
				t.Fatal(err)
			}
			if f.TargetG.LessThan(last) || f.OverfillG.LessThan(dec("0.2")) || !f.TargetG.Equal(f.TargetG.Round(1)) {
				t.Fatalf("%s g, spread %v: %+v after %v", q, s, f, last)
			}
			last = f.TargetG
			// Drift takes back what was added: the rules still hold.
			t1 := f.Shortage.T1G.InexactFloat64()
			over := f.OverfillG.InexactFloat64() - 0.2
			if s > 0 {
				few, never := 100*num.NormalCDF((-over-t1)/s), 100*num.NormalCDF((-over-2*t1)/s)
				if few > FewShortPct+1e-9 || never > NeverShortPct+1e-9 || over < -1e-9 {
					t.Fatalf("%s g, spread %v: after drift %v %% and %v %% short", q, s, few, never)
				}
				if f.Governs == MeanRule && over > 0.1001 {
					t.Fatalf("%s g, spread %v: the mean governs and asks for %v g", q, s, over)
				}
			}
			if !(f.ShortPct <= FewShortPct+1e-9 && f.TooShortPct <= NeverShortPct+1e-9 && f.UnderPct <= 50) {
				t.Fatalf("%s g, spread %v: %+v", q, s, f)
			}
		}
	}
	f, err := FillTarget(Fill{dec("250"), 4.5, decimal.Decimal{}, dec("0.1")})
	if err != nil || f.Governs != MeanRule || f.UnderPct != 50 {
		t.Errorf("spread 4.5: %+v (%v)", f, err)
	}
	f, err = FillTarget(Fill{dec("250"), 4.7, decimal.Decimal{}, dec("0.1")})
	if err != nil || f.Governs != FewRule || !f.TargetG.Equal(dec("250.3")) {
		t.Errorf("spread 4.7: %+v (%v)", f, err)
	}
	f, err = FillTarget(Fill{dec("250"), 6, decimal.Decimal{}, dec("0.1")})
	if err != nil || f.Governs != NeverRule || !f.TargetG.Equal(dec("254.4")) {
		t.Errorf("spread 6: %+v (%v)", f, err)
	}
	f, err = FillTarget(Fill{dec("50"), 2.6, decimal.Decimal{}, dec("0.01")})
	if err != nil || f.Governs != NeverRule || !f.TargetG.Equal(dec("50.67")) {
		t.Errorf("50 g, spread 2.6: %+v (%v)", f, err)
	}
	for _, c := range []struct{ got, p float64 }{{zFew, FewShortPct}, {zNever, NeverShortPct}} {
		if z := -num.NormalQuantile(c.p / 100); math.Abs(z-c.got) > 1e-13 {
			t.Errorf("the quantile of %v %% is %v, not %v", c.p, z, c.got)
		}
	}
}

func TestGiveaway(t *testing.T) {
	g, err := Giveaway(Run{dec("250"), dec("251.30"), 4000})
	if err != nil || !g.PerPackG.Equal(dec("1.3")) || !g.TotalKG.Equal(dec("5.2")) || !g.Packs.Equal(dec("20.8")) || !g.SharePct.Equal(dec("0.52")) {
		t.Errorf("%+v (%v)", g, err)
	}
	g, err = Giveaway(Run{dec("250"), dec("249"), 100})
	if err != nil || !g.TotalKG.Equal(dec("-0.1")) || !g.Packs.Equal(dec("-0.4")) {
		t.Errorf("short on average: %+v (%v)", g, err)
	}
}

func TestSmallestWeighing(t *testing.T) {
	for _, c := range []struct {
		d, s, tol, want string
		notes           Notes
	}{
		{"0.1", "0", "1", "8.2", DivisionGoverns},
		{"0.01", "0", "0.10", "8.20", DivisionGoverns},
		{"0.1", "0.041", "1", "8.2", DivisionGoverns},
		{"0.1", "0.0411", "1", "8.3", 0}, // 8.22, rounded up to the display
		{"0.1", "0.05", "0.5", "20", 0},
	} {
		s, err := SmallestWeighing(Weighing{dec(c.d), dec(c.s), dec(c.tol)})
		if err != nil || !s.LoadG.Equal(dec(c.want)) || s.Notes != c.notes {
			t.Errorf("d %s, s %s, %s %%: %v, %v, want %s (%v)", c.d, c.s, c.tol, s.LoadG, s.Notes, c.want, err)
		}
	}
	u, err := StandardUncertaintyG(Readout{0.1, 0.04, 0.03, 0.3, true})
	if want := math.Sqrt(0.01/6 + 0.0016 + 0.0003 + 0.09); err != nil || math.Abs(u-want) > 1e-15 {
		t.Errorf("all four parts: %v, want %v (%v)", u, want, err)
	}
}

func TestAllocations(t *testing.T) {
	if n := testing.AllocsPerRun(100, func() { StandardUncertaintyG(Readout{0.1, 0.04, 0.03, 0.3, true}) }); n != 0 {
		t.Errorf("StandardUncertaintyG allocates %v times", n)
	}
	if n := testing.AllocsPerRun(100, func() { MeanFactor(30, 500) }); n != 0 {
		t.Errorf("MeanFactor allocates %v times", n)
	}
}

func told(err error) bool { return err == nil || refused(err) != nil }

func FuzzScale(f *testing.F) {
	f.Add(uint8(3), "5", "350", "352.5", "0.1", "1")     // a bag on a floor scale
	f.Add(uint8(1), "1e-6", "1e8", "1e8", "1e-40", "50") // the widest ratio of load and interval
	f.Add(uint8(0), "0", "-1", "1e9999999", "NaN", "0")  // hostile
	f.Add(uint8(2), "0.10000000000000000", "10000", "9999.99999999999999999999", "0.333333333333", "0.001")
	f.Fuzz(func(t *testing.T, class uint8, e, m, i, w, tol string) {
		var d [5]decimal.Decimal
		for k, s := range []string{e, m, i, w, tol} {
			v, err := decimal.NewFromString(s)
			if err != nil {
				return
			}
			d[k] = v
		}
		found, err := AsFound(Check{Load{Class(class), d[0], d[1], true}, d[2], d[3]})
		if !told(err) || (err == nil) == (found.Verdict == 0) {
			t.Fatalf("%+v, %v", found, err)
		}
		small, err := SmallestWeighing(Weighing{d[0], d[3], d[4]})
		if !told(err) || err == nil && !small.LoadG.IsPositive() {
			t.Fatalf("%+v, %v", small, err)
		}
		if _, err := WeightErrorG(WeightClass(class), d[1]); !told(err) {
			t.Fatal(err)
		}
		if _, err := UnroundedG(Changeover{d[2], d[0], d[3]}); !told(err) {
			t.Fatal(err)
		}
	})
}

func FuzzPacks(f *testing.F) {
	f.Add("250", "250.3", "249.8", 1.5, "0.2", "0.1", 30) // an ordinary line
	f.Add("1", "0", "0", 1e3, "1000", "1e-6", 1)          // all limits
	f.Add("50000", "1e8", "-1e8", 0.0, "0", "1000", 0)    // and the others
	f.Add("250", "1e40", "1e-40", 5e-324, "1e-40", "1e-40", -1)
	f.Fuzz(func(t *testing.T, q, a, b string, s float64, drift, step string, n int) {
		var d [5]decimal.Decimal
		for k, x := range []string{q, a, b, drift, step} {
			v, err := decimal.NewFromString(x)
			if err != nil {
				return
			}
			d[k] = v
		}
		finite := func(v ...float64) bool {
			for _, x := range v {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					return false
				}
			}
			return true
		}
		j, err := Judge(Batch{d[0], []decimal.Decimal{d[1], d[2]}, 1, s})
		if !told(err) || !finite(j.SpreadG, j.FloorG, j.BetterG) || (err == nil) == (j.Overall == 0) {
			t.Fatalf("%+v, %v", j, err)
		}
		target, err := FillTarget(Fill{d[0], s, d[3], d[4]})
		if !told(err) || !finite(target.UnderPct, target.ShortPct, target.TooShortPct) || err == nil && target.TargetG.LessThan(d[0]) {
			t.Fatalf("%+v, %v", target, err)
		}
		if _, err := Giveaway(Run{d[0], d[1], n}); !told(err) {
			t.Fatal(err)
		}
		if p, err := DoublePlan(n); !told(err) || err == nil && p.Sample > n {
			t.Fatalf("%+v, %v", p, err)
		}
	})
}
