package panel

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.org/evenlot/internal/num"
	"github.com/google/go-cmp/cmp"
)

var methods = []Method{Triangle, DuoTrio, Paired, ThreeAFC, Tetrad}

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

var nan, inf = math.NaN(), math.Inf(1)

func TestRefusals(t *testing.T) {
	trialErr := func(tr Trial) error { _, err := ByChance(tr); return err }
	estimateErr := func(tr Trial, g float64) error { _, err := Estimate(tr, g); return err }
	critErr := func(m Method, n int, a float64) error { _, err := CriticalCount(m, n, a); return err }
	powerErr := func(d Design) error { _, err := Power(d); return err }
	goalErr := func(g Goal) error { _, err := Assessors(g); return err }
	alikeErr := func(l Likeness) error { _, err := Alike(l); return err }
	likeGoalErr := func(g LikenessGoal) error { _, err := AlikeAssessors(g); return err }
	meanErr := func(s []float64, g float64) error { _, err := MeanScore(s, g); return err }
	agreeErr := func(s [][]float64, g float64) error { _, err := Agree(s, g); return err }
	trendErr := func(s []Cupping, g float64) error { _, err := ScoreTrend(s, g); return err }
	correctErr := func(m Method, pd float64) error { _, err := CorrectPct(m, pd); return err }
	atErr := func(m Method, d float64) error { _, err := CorrectAtPct(m, d); return err }
	dErr := func(m Method, pc float64) error { _, err := DPrime(m, pc); return err }
	leastErr := func(n, m int, a float64) error { _, err := LeastRankDifference(n, m, a); return err }
	preferErr := func(n, x int) error { _, err := PreferenceByChancePct(n, x); return err }
	countErr := func(m Method, n int, pd, a float64) error { _, err := AlikeCount(m, n, pd, a); return err }

	table := [][]float64{{1, 2}, {3, 5}}
	weeks := []Cupping{{0, 86}, {1, 85}, {2, 85}}
	third := 100 * Triangle.chance()
	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"zero trial":                {trialErr(Trial{}), []string{"Method", "Assessors"}},
		"one taster":                {trialErr(Trial{Triangle, 1, 1}), nil},
		"largest panel":             {trialErr(Trial{Triangle, MaxAssessors, MaxAssessors}), nil},
		"panel too large":           {trialErr(Trial{Triangle, MaxAssessors + 1, 0}), []string{"Assessors"}},
		"more right than there are": {trialErr(Trial{Triangle, 5, 6}), []string{"Correct"}},
		"less than none right":      {trialErr(Trial{Triangle, 5, -1}), []string{"Correct"}},
		"two bad":                   {trialErr(Trial{Tetrad + 1, 0, -1}), []string{"Method", "Assessors", "Correct"}},
		"negative panel":            {trialErr(Trial{Triangle, -5, -5}), []string{"Assessors", "Correct"}},

		"confidence at its least":   {estimateErr(Trial{Paired, 9, 5}, MinConfidencePct), nil},
		"confidence below":          {estimateErr(Trial{Paired, 9, 5}, beyond(MinConfidencePct, 0)), []string{"confidencePct"}},
		"confidence at its most":    {estimateErr(Trial{Paired, 9, 5}, MaxConfidencePct), nil},
		"confidence above":          {estimateErr(Trial{Paired, 9, 5}, beyond(MaxConfidencePct, 100)), []string{"confidencePct"}},
		"a fraction for confidence": {estimateErr(Trial{Paired, 9, 5}, 0.95), []string{"confidencePct"}},
		"confidence NaN":            {estimateErr(Trial{Paired, 9, 5}, nan), []string{"confidencePct"}},

		"risk at its least":   {critErr(Triangle, 100, MinRiskPct), nil},
		"risk below":          {critErr(Triangle, 100, beyond(MinRiskPct, 0)), []string{"riskPct"}},
		"risk at its most":    {critErr(Triangle, 100, MaxRiskPct), nil},
		"risk above":          {critErr(Triangle, 100, beyond(MaxRiskPct, 100)), []string{"riskPct"}},
		"risk a fraction":     {critErr(Triangle, 100, 0.05), []string{"riskPct"}},
		"risk NaN, no method": {critErr(0, 0, nan), []string{"method", "assessors", "riskPct"}},
		"risk infinite":       {critErr(Triangle, 100, inf), []string{"riskPct"}},

		"zero design":           {powerErr(Design{}), []string{"Method", "Assessors", "RiskPct", "CorrectPct"}},
		"effect of chance":      {powerErr(Design{Triangle, 30, 5, third}), nil},
		"effect below chance":   {powerErr(Design{Triangle, 30, 5, beyond(third, 0)}), []string{"CorrectPct"}},
		"effect whole":          {powerErr(Design{Triangle, 30, 5, 100}), nil},
		"effect over whole":     {powerErr(Design{Triangle, 30, 5, beyond(100, 101)}), []string{"CorrectPct"}},
		"effect NaN":            {powerErr(Design{Triangle, 30, 5, nan}), []string{"CorrectPct"}},
		"zero goal":             {goalErr(Goal{}), []string{"Method", "RiskPct", "PowerPct", "CorrectPct"}},
		"power at its least":    {goalErr(Goal{Paired, 5, MinPowerPct, 75}), nil},
		"power below":           {goalErr(Goal{Paired, 5, beyond(MinPowerPct, 0), 75}), []string{"PowerPct"}},
		"power at its most":     {goalErr(Goal{Paired, 5, MaxPowerPct, 75}), nil},
		"power above":           {goalErr(Goal{Paired, 5, beyond(MaxPowerPct, 100), 75}), []string{"PowerPct"}},
		"power of one":          {goalErr(Goal{Paired, 5, 100, 75}), []string{"PowerPct"}},
		"effect at chance":      {goalErr(Goal{Paired, 5, 80, 50.4}), []string{"CorrectPct"}},
		"zero likeness":         {alikeErr(Likeness{}), []string{"Method", "Assessors", "MaxDiscriminatorsPct"}},
		"likeness at its least": {alikeErr(Likeness{Trial{Triangle, 30, 9}, 1}), nil},
		"likeness a fraction":   {alikeErr(Likeness{Trial{Triangle, 30, 9}, 0.3}), []string{"MaxDiscriminatorsPct"}},
		"likeness at its most":  {alikeErr(Likeness{Trial{Triangle, 30, 9}, 99}), nil},
		"likeness above":        {alikeErr(Likeness{Trial{Triangle, 30, 9}, beyond(99, 100)}), []string{"MaxDiscriminatorsPct"}},
		"zero likeness goal":    {likeGoalErr(LikenessGoal{}), []string{"Method", "RiskPct", "PowerPct", "MaxDiscriminatorsPct"}},
		"truth over the limit":  {likeGoalErr(LikenessGoal{Triangle, 5, 80, 30, 29.6}), []string{"TrueDiscriminatorsPct"}},
		"truth at the edge":     {likeGoalErr(LikenessGoal{Triangle, 20, 80, 80, 50}), nil},
		"truth NaN":             {likeGoalErr(LikenessGoal{Triangle, 20, 80, nan, nan}), []string{"MaxDiscriminatorsPct", "TrueDiscriminatorsPct"}},
		"count, all bad":        {countErr(9, 0, 0, 0), []string{"method", "assessors", "maxDiscriminatorsPct", "riskPct"}},

		"share none":       {correctErr(Triangle, 0), nil},
		"share below":      {correctErr(Triangle, beyond(0, -1)), []string{"discriminatorsPct"}},
		"share all":        {correctErr(Triangle, 100), nil},
		"share above":      {correctErr(0, beyond(100, 101)), []string{"method", "discriminatorsPct"}},
		"distance none":    {atErr(Triangle, 0), nil},
		"distance most":    {atErr(Triangle, MaxDPrime), nil},
		"distance above":   {atErr(Triangle, beyond(MaxDPrime, 100)), []string{"dPrime"}},
		"distance NaN":     {atErr(Triangle, nan), []string{"dPrime"}},
		"right at chance":  {dErr(Triangle, third), nil},
		"right below":      {dErr(Triangle, beyond(third, 0)), []string{"correctPct"}},
		"right at most":    {dErr(Triangle, MaxCorrectPct), nil},
		"right above":      {dErr(Triangle, beyond(MaxCorrectPct, 101)), []string{"correctPct"}},
		"right, no method": {dErr(0, nan), []string{"method", "correctPct"}},
		"prefer, bad":      {preferErr(0, 1), []string{"assessors", "chose"}},
		"ranks, all bad":   {leastErr(1, MaxTasters+1, nan), []string{"coffees", "tasters", "riskPct"}},

		"no scores":             {meanErr(nil, 95), []string{"scores"}},
		"one score":             {meanErr([]float64{1}, 95), []string{"scores"}},
		"scores at most":        {meanErr([]float64{MaxScore, -MaxScore}, 95), nil},
		"score above":           {meanErr([]float64{beyond(MaxScore, inf), nan, -inf}, nan), []string{"scores[0]", "scores[1]", "scores[2]", "confidencePct"}},
		"no table":              {agreeErr(nil, 95), []string{"scores"}},
		"one coffee":            {agreeErr(table[:1], 95), []string{"scores"}},
		"a table of one taster": {agreeErr([][]float64{{1}, {2}}, 95), []string{"scores[0]"}},
		"ragged":                {agreeErr([][]float64{{1, 2}, {2}, {3, nan}}, 0.95), []string{"scores[1]", "scores[2][1]", "confidencePct"}},
		"smallest table":        {agreeErr(table, 95), nil},
		"two cuppings":          {trendErr(weeks[:2], 95), []string{"cuppings"}},
		"three cuppings":        {trendErr(weeks, 95), nil},
		"week NaN":              {trendErr([]Cupping{{nan, 1}, {1, inf}, {2, 3}}, 95), []string{"cuppings[0].Week", "cuppings[1].Score"}},
		"week at most":          {trendErr([]Cupping{{MaxWeek, 1}, {-MaxWeek, 2}, {2, 3}}, 95), nil},
		"week above":            {trendErr([]Cupping{{beyond(MaxWeek, inf), 1}, {0, 2}, {2, 3}}, 95), []string{"cuppings[0].Week"}},
	} {
		if diff := cmp.Diff(c.want, refused(c.err)); diff != "" {
			t.Errorf("%s: %s (%v)", name, diff, c.err)
		}
	}
	if _, err := ChancePct(0); refused(err) == nil {
		t.Error("no method has a chance")
	}
	if _, err := Under(Trend{}, 80); !slices.Equal(refused(err), []string{"Cuppings", "T"}) {
		t.Errorf("the zero Trend: %v", err)
	}
	tr, err := ScoreTrend(weeks, 95)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Under(tr, nan); !slices.Equal(refused(err), []string{"threshold"}) {
		t.Errorf("threshold NaN: %v", err)
	}
	if _, err := Friedman([][]float64{{1, nan}, {2, 3}}); !slices.Equal(refused(err), []string{"scores[0][1]"}) {
		t.Errorf("a NaN among ranks: %v", err)
	}
	if _, err := RankSums(nil); refused(err) == nil {
		t.Error("no table has rank sums")
	}
	if _, err := CoffeeMeans(nil, 95); refused(err) == nil {
		t.Error("no table has means")
	}
	if _, err := Offsets(nil, 95); refused(err) == nil {
		t.Error("no table has offsets")
	}
}

// What cannot exist is told with what would make it exist, and that is true.
func TestImpossible(t *testing.T) {
	var none *ImpossibleError
	_, err := CriticalCount(Triangle, 2, 5)
	if !errors.As(err, &none) || none.Field != "assessors" || none.Min != 3 {
		t.Fatalf("two tasters, triangle at 5 %%: %v", err)
	}
	if c, err := CriticalCount(Triangle, 3, 5); err != nil || c != 3 {
		t.Errorf("three tasters: %v, %v", c, err)
	}
	_, err = AlikeCount(Triangle, 2, 20, 5)
	if !errors.As(err, &none) || none.Field != "assessors" {
		t.Fatalf("two tasters, likeness: %v", err)
	}
	least := int(none.Min)
	if _, err := AlikeCount(Triangle, least, 20, 5); err != nil {
		t.Errorf("likeness with %d: %v", least, err)
	}
	if _, err := AlikeCount(Triangle, least-1, 20, 5); err == nil {
		t.Errorf("likeness with %d is possible", least-1)
	}
	g := Goal{Triangle, 5, 95, 34}
	_, err = Assessors(g)
	if !errors.As(err, &none) || none.Field != "CorrectPct" {
		t.Fatalf("a tiny effect: %v", err)
	}
	g.CorrectPct = none.Min
	if s, err := Assessors(g); err != nil || s.Smallest < MaxAssessors/2 {
		t.Errorf("with %v %%: %+v, %v", none.Min, s, err)
	}
	l := LikenessGoal{Triangle, 5, 95, 11, 10}
	_, err = AlikeAssessors(l)
	if !errors.As(err, &none) || none.Field != "MaxDiscriminatorsPct" {
		t.Fatalf("a tiny margin: %v", err)
	}
	l.MaxDiscriminatorsPct = none.Min
	if s, err := AlikeAssessors(l); err != nil || s.Smallest < MaxAssessors/2 {
		t.Errorf("with %v %%: %+v, %v", none.Min, s, err)
	}
	for name, table := range map[string][][]float64{
		"all alike":                     {{84, 84}, {84, 84}},
		"means alike":                   {{83, 85}, {85, 83}},
		"means alike, but for rounding": {{0.1, 0.2}, {0.3, 0}},
	} {
		if _, err := Agree(table, 95); !errors.As(err, &none) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Friedman([][]float64{{84, 83}, {84, 83}}); !errors.As(err, &none) {
		t.Errorf("all tied: %v", err)
	}
	if _, err := ScoreTrend([]Cupping{{3, 85}, {3, 84}, {3, 86}}, 95); !errors.As(err, &none) {
		t.Errorf("one week: %v", err)
	}
	rising, err := ScoreTrend([]Cupping{{0, 84}, {1, 85}, {2, 85.5}}, 95)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Under(rising, 80); !errors.As(err, &none) || none.Field != "SlopePerWeek" {
		t.Errorf("a rising score: %v", err)
	}
	noisy := []Cupping{{0, 86}, {1, 85}, {2, 86}, {3, 84.75}, {4, 85}}
	tr, err := ScoreTrend(noisy, 95)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = Under(tr, 80); !errors.As(err, &none) || none.Field != "ConfidencePct" || none.Given != "95" || none.Max < MinConfidencePct {
		t.Fatalf("a noisy score: %v", err)
	}
	for _, c := range []struct {
		confidence float64
		ok         bool
	}{{none.Max, true}, {none.Max + 0.02, false}} {
		if tr, err = ScoreTrend(noisy, c.confidence); err != nil {
			t.Fatal(err)
		}
		if _, err := Under(tr, 80); (err == nil) != c.ok {
			t.Errorf("at %v %%: %v", c.confidence, err)
		}
	}
}

// ICC(2,k) is told to exist exactly where it does.
func TestMeanFormExists(t *testing.T) {
	seen := map[bool]int{}
	for i := range 400 {
		x := func(k int) float64 { return float64((i*37+k*k*11+k*i*7)%23) / 4 }
		table := [][]float64{{80 + x(1), 80 + x(2), 80 + x(3)}, {80 + x(4), 80 + x(5), 80 + x(6)}, {80 + x(7), 80 + x(8), 80 + x(9)}}
		a, err := Agree(table, 95)
		if err != nil {
			continue
		}
		// The published form, where its divisor is above zero.
		n := 3.0
		exists := a.CoffeesMS+(a.TastersMS-a.ResidualMS)/n > 0
		seen[exists]++
		if (a.Notes&NoICC2K == 0) != exists {
			t.Fatalf("%v: %+v", table, a)
		}
		if want := (a.CoffeesMS - a.ResidualMS) / (a.CoffeesMS + (a.TastersMS-a.ResidualMS)/n); exists && !near(a.ICC2K.Value, want, 1e-9*(1+math.Abs(want))) {
			t.Fatalf("%v: ICC(2,k) %v, by its own form %v", table, a.ICC2K.Value, want)
		}
	}
	if seen[true] < 20 || seen[false] < 20 {
		t.Errorf("the grid holds %v", seen)
	}
}

func TestMethodsGrow(t *testing.T) {
	for _, m := range methods {
		p0, err := ChancePct(m)
		if err != nil {
			t.Fatal(err)
		}
		last := p0 - 1e-9
		for d := 0.0; d <= MaxDPrime; d += 0.125 {
			pc, err := CorrectAtPct(m, d)
			if err != nil || !(pc >= last && pc <= 100) {
				t.Fatalf("%v at %v: %v after %v (%v)", m, d, pc, last, err)
			}
			last = pc
			if pc > p0+1 && pc < 99.9 {
				if back, err := DPrime(m, pc); err != nil || !near(back, d, 1e-8) {
					t.Fatalf("%v: d′ %v came back as %v (%v)", m, d, back, err)
				}
			}
		}
		if first, _ := CorrectAtPct(m, 0); !near(first, p0, 1e-12) {
			t.Errorf("%v: no distance gives %v %%, guessing %v %%", m, first, p0)
		}
		for pd := 0.0; pd <= 100; pd += 12.5 {
			pc, err := CorrectPct(m, pd)
			if err != nil {
				t.Fatal(err)
			}
			if back, err := DiscriminatorsPct(m, max(pc, p0)); err != nil || !near(back, pd, 1e-9) {
				t.Fatalf("%v: p_d %v came back as %v (%v)", m, pd, back, err)
			}
		}
	}
	// The published order of the methods at any distance.
	for d := 0.25; d < 6; d += 0.25 {
		at := func(m Method) float64 { p, _ := CorrectAtPct(m, d); return p }
		if !(at(Triangle) < at(Tetrad) && at(Tetrad) < at(ThreeAFC) && at(DuoTrio) < at(Paired)) {
			t.Fatalf("at %v the methods stand in another order", d)
		}
	}
}

func TestCriticalCountIsTheSmallest(t *testing.T) {
	for _, m := range methods {
		for n := 3; n <= 400; n++ {
			for _, risk := range []float64{MinRiskPct, 1, 5, 6.25, 12.5, MaxRiskPct} {
				c, err := CriticalCount(m, n, risk)
				if err != nil {
					continue
				}
				at, _ := ByChance(Trial{m, n, c})
				under, _ := ByChance(Trial{m, n, c - 1})
				if !(at.ByChancePct <= risk*(1+2*tie) && under.ByChancePct > risk) {
					t.Fatalf("%v n %d risk %v: count %d has %v, one less %v", m, n, risk, c, at.ByChancePct, under.ByChancePct)
				}
			}
		}
	}
	// 4 of 4 by guessing a half is 6.25 %, not a hair more.
	if c, err := CriticalCount(Paired, 4, 6.25); err != nil || c != 4 {
		t.Errorf("4 tasters at 6.25 %%: %v, %v", c, err)
	}
}

// Stable means stable far beyond where it was looked for.
func TestStableStaysStable(t *testing.T) {
	for _, m := range []Method{Triangle, Paired} {
		for _, pd := range []float64{12, 30, 55, 100} {
			for _, power := range []float64{MinPowerPct, 80, 99} {
				for _, risk := range []float64{1, 5, 20, MaxRiskPct} {
					pc, _ := CorrectPct(m, pd)
					s, err := Assessors(Goal{m, risk, power, pc})
					if err != nil {
						t.Fatal(err)
					}
					if s.Stable < s.Smallest {
						t.Fatalf("%+v", s)
					}
					for n := s.Stable; n < 10*s.Stable && n <= 1500; n++ {
						c, err := Power(Design{m, n, risk, pc})
						if err != nil || c.PowerPct < power*(1-1e-9) {
							t.Fatalf("%v pd %v power %v risk %v: stable from %d, but %d has %v (%v)", m, pd, power, risk, s.Stable, n, c.PowerPct, err)
						}
					}
				}
			}
		}
	}
}

func TestNotes(t *testing.T) {
	d, err := ByChance(Trial{Triangle, 5, 1})
	if want := BelowChance | FewAssessors; err != nil || d.Notes != want {
		t.Errorf("notes %v, want %v", d.Notes, want)
	}
	if got, want := d.Notes.String(), "fewer right answers than guessing gives; fewer assessors than the published tables begin with"; got != want {
		t.Errorf("notes read %q", got)
	}
	s, err := Estimate(Trial{Triangle, 12, 2}, 95)
	if err != nil || s.DiscriminatorsPct != 0 || s.Notes != BelowChance || !(s.UpperDiscriminatorsPct > 0) {
		t.Errorf("below chance: %+v (%v)", s, err)
	}
	all, err := Estimate(Trial{Triangle, 12, 12}, 95)
	if err != nil || all.UpperCorrectPct != 100 || !near(all.LowerCorrectPct, 100*math.Pow(0.025, 1./12), 1e-9) {
		t.Errorf("all right: %+v (%v)", all, err)
	}
	if Method(9).String() != "no method" {
		t.Error("an unknown method has a name")
	}
}

// byForce deals every taster's ranks in every order.
func byForce(ranks [][]int, least int) float64 {
	n := len(ranks[0])
	hit, all := 0, 0
	var deal func(j int, sums []int)
	deal = func(j int, sums []int) {
		if j == len(ranks) {
			all++
			if deviations(sums) >= least {
				hit++
			}
			return
		}
		order := make([]int, n)
		var put func(i, used int)
		put = func(i, used int) {
			if i == n {
				next := slices.Clone(sums)
				for k, at := range order {
					next[at] += ranks[j][k]
				}
				deal(j+1, next)
				return
			}
			for at := range n {
				if used&(1<<at) == 0 {
					order[i] = at
					put(i+1, used|1<<at)
				}
			}
		}
		put(0, 0)
	}
	deal(0, make([]int, n))
	return float64(hit) / float64(all)
}

func TestFriedmanByForce(t *testing.T) {
	for _, table := range [][][]float64{
		{{1, 2, 3}, {2, 1, 3}},
		{{1, 2, 2, 5}, {2, 2, 3, 1}, {4, 2, 1, 1}},
		{{84, 83, 85}, {84, 82, 86}, {85, 82, 84}, {83, 82, 83}},
		{{1, 1, 1, 1}, {1, 2, 2, 3}, {1, 3, 4, 2}},
		{{3, 1, 2}, {1, 1, 2}, {3, 2, 9}}, // ties that do not stand side by side
	} {
		ranks := make([][]int, len(table[0]))
		sums := make([]int, len(table))
		for j := range ranks {
			ranks[j], _ = doubledRanks(table, j)
			for i, r := range ranks[j] {
				sums[i] += r
			}
		}
		want := 100 * byForce(ranks, deviations(sums))
		got, err := Friedman(table)
		if err != nil || !near(got.ByChancePct, want, 1e-10) || got.Notes != 0 {
			t.Errorf("%v: %+v, by force %v (%v)", table, got, want, err)
		}
	}
	wide := make([][]float64, 8)
	for i := range wide {
		wide[i] = []float64{float64(i), float64(i * i % 5), float64(-i)}
	}
	f, err := Friedman(wide)
	if err != nil || f.Notes != Approximate || !near(f.ByChancePct, 100*num.ChiSquareTail(f.Statistic, 7), 1e-12) {
		t.Errorf("8 coffees: %+v (%v)", f, err)
	}
	// Thirty tasters of one mind: χ² = 30·7, and its tail Q(7/2, 105) by mpmath.
	for i := range wide {
		wide[i] = make([]float64, 30)
		for j := range wide[i] {
			wide[i][j] = float64(i)
		}
	}
	f, err = Friedman(wide)
	if err != nil || f.Statistic != 210 || f.KendallW != 1 || !(f.ByChancePct > 0) || math.Abs(f.ByChancePct/8.72650914484055e-40-1) > 1e-11 {
		t.Errorf("of one mind: %+v (%v)", f, err)
	}
}

func TestTablesKeepTheirMeaning(t *testing.T) {
	table := [][]float64{{84.25, 83.5, 85}, {86, 85.75, 86.5}, {81.5, 82, 82.25}, {87.75, 86.5, 88}, {84, 83.25, 83.5}}
	moved := make([][]float64, len(table))
	for i, row := range table {
		moved[i] = []float64{row[0] - 2, row[1], row[2] + 1.5} // strict, as before, mild
	}
	before := slices.Clone(table[0])
	a, err := Agree(table, 95)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Agree(moved, 95)
	if err != nil {
		t.Fatal(err)
	}
	if !near(a.ICC31.Value, b.ICC31.Value, 1e-12) || !near(a.ResidualMS, b.ResidualMS, 1e-12) {
		t.Errorf("strict and mild tasters changed the order's agreement: %v, %v", a.ICC31, b.ICC31)
	}
	if !(b.ICC21.Value < a.ICC21.Value && b.ICC11.Value < a.ICC11.Value) {
		t.Errorf("strict and mild tasters did not cost agreement: %v, %v", a.ICC21, b.ICC21)
	}
	for _, c := range []Coefficient{a.ICC11, a.ICC21, a.ICC31, a.ICC1K, a.ICC2K, a.ICC3K} {
		if !(c.Lower < c.Value && c.Value < c.Upper && c.Upper <= 1) {
			t.Errorf("interval out of order: %+v", c)
		}
	}
	fa, _ := Friedman(table)
	fb, _ := Friedman(moved)
	if fa != fb {
		t.Errorf("ranks feel strictness: %+v, %+v", fa, fb)
	}
	oa, err := Offsets(table, 95)
	if err != nil {
		t.Fatal(err)
	}
	ob, err := Offsets(moved, 95)
	if err != nil {
		t.Fatal(err)
	}
	sum, ss := 0.0, 0.0
	for j := range oa {
		sum += ob[j].Points
		ss += ob[j].SD * ob[j].SD
		if d := ob[j].Points - oa[j].Points - []float64{-2, 0, 1.5}[j] - 0.5/3; !near(d, 0, 1e-12) {
			t.Errorf("taster %d moved by %v too much", j, d)
		}
	}
	if !near(sum, 0, 1e-12) {
		t.Errorf("offsets add up to %v", sum)
	}
	if !ob[0].Clear || !ob[2].Clear {
		t.Errorf("two points are not seen: %+v", ob)
	}
	// The tasters' scatters make up the residual.
	if !near(ss/3, b.ResidualMS, 1e-12) {
		t.Errorf("scatters %v, residual %v", ss/3, b.ResidualMS)
	}
	means, err := CoffeeMeans(table, 95)
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range means {
		own, err := MeanScore(table[i], 95)
		if err != nil || !near(m.Score, own.Score, 1e-12) || m.DF != 8 || own.DF != 2 {
			t.Errorf("coffee %d: %+v and %+v (%v)", i, m, own, err)
		}
		if !near(m.SD*m.SD, a.ResidualMS, 1e-12) || !near(m.HalfWidth/m.U, 2.306004135204166, 1e-9) || !near(own.HalfWidth/own.U, 4.302652729911275, 1e-9) {
			t.Errorf("coffee %d: Student's factor %v, %v", i, m.HalfWidth/m.U, own.HalfWidth/own.U)
		}
	}
	sums, err := RankSums(table)
	if want := []float64{9, 12, 3, 15, 6}; err != nil || !slices.Equal(sums, want) {
		t.Errorf("rank sums %v, want %v (%v)", sums, want, err)
	}
	if !slices.Equal(table[0], before) {
		t.Error("the table was written to")
	}
	// Tasters in perfect accord but for strictness.
	perfect, err := Agree([][]float64{{80, 81}, {84, 85}, {82, 83}}, 95)
	if err != nil || perfect.ICC31 != (Coefficient{1, 1, 1}) || !(perfect.ICC21.Value < 1) || math.IsNaN(perfect.ICC21.Lower+perfect.ICC21.Upper) {
		t.Errorf("accord but for strictness: %+v (%v)", perfect, err)
	}
	same, err := Agree([][]float64{{80, 80}, {84, 84}, {82, 82}}, 95)
	if one := (Coefficient{1, 1, 1}); err != nil || same.ICC21 != one || same.ICC2K != one || same.ICC1K != one {
		t.Errorf("perfect accord: %+v (%v)", same, err)
	}
}

func TestCrossing(t *testing.T) {
	list := []Cupping{{0, 87}, {4, 86.5}, {8, 86.75}, {12, 86}, {16, 85.25}, {20, 85.5}, {26, 84.5}}
	tr, err := ScoreTrend(list, 90)
	if err != nil {
		t.Fatal(err)
	}
	for h := 60.0; h <= 95; h += 0.5 {
		c, err := Under(tr, h)
		if err != nil {
			t.Fatal(err)
		}
		if !near(tr.ScoreAt(c.Week), h, 1e-9) || !(c.Earliest <= c.Week && c.Week <= c.Latest) {
			t.Fatalf("threshold %v: %+v, the line is at %v", h, c, tr.ScoreAt(c.Week))
		}
		for _, w := range []float64{c.Earliest, c.Latest} {
			if d := math.Abs(tr.ScoreAt(w) - h); !near(d, tr.HalfWidthAt(w), 1e-9*(1+d)) {
				t.Fatalf("threshold %v: at %v the line is %v off, its half-width %v", h, w, d, tr.HalfWidthAt(w))
			}
		}
		want := Extrapolated
		switch {
		case c.Week <= 26:
			want = AlreadyUnder
		case c.Week > 52:
			want |= FarAhead
		}
		if c.Notes != want {
			t.Fatalf("threshold %v, week %v: notes %v", h, c.Week, c.Notes)
		}
	}
	shifted := make([]Cupping, len(list))
	for i, c := range list {
		shifted[len(list)-1-i] = Cupping{c.Week + 1000, c.Score - 20}
	}
	u, err := ScoreTrend(shifted, 90)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := Under(tr, 80)
	b, err := Under(u, 60)
	if err != nil || !near(a.Week+1000, b.Week, 1e-8) || !near(a.Latest+1000, b.Latest, 1e-7) || a.Notes != b.Notes {
		t.Errorf("moved weeks and scores: %+v and %+v (%v)", a, b, err)
	}
	exact, err := ScoreTrend([]Cupping{{0, 88}, {1, 87}, {2, 86}}, 95)
	if err != nil {
		t.Fatal(err)
	}
	if c, err := Under(exact, 80); err != nil || c.Week != 8 || c.Earliest != 8 || c.Latest != 8 {
		t.Errorf("a line without scatter: %+v (%v)", c, err)
	}
	flat := Trend{SlopePerWeek: -1e-9, MeanScore: 85, Cuppings: 5, LastWeek: 10, T: 2}
	var none *ImpossibleError
	if _, err := Under(flat, 80); !errors.As(err, &none) || none.Field != "SlopePerWeek" {
		t.Errorf("a slope of nothing: %v", err)
	}
}

// What a refusal names is a way out: at its ends there is a week, and a step
// beyond there is none.
func TestWaysOutOfNoCrossing(t *testing.T) {
	scatter := Trend{MeanWeek: 5, MeanScore: 84, SD: 1.3, LastWeek: 10, FirstWeek: 0, Cuppings: 6}
	for _, b := range []float64{1, 0, -1e-30, -1e-9, -0.01, -0.2, -0.399, -0.41, -2e12} {
		for _, u := range []float64{0, 1e-20, 0.1, 0.5, 1e12} {
			for _, pct := range []float64{50, 60, 95, 99.99} {
				for _, threshold := range []float64{84, 80, -1e6, 1e6} {
					tr := scatter
					tr.SlopePerWeek, tr.SlopeU = b, u
					tr.T = num.StudentQuantile(0.5+pct/200, 4)
					tr.SlopeHalfWidth = tr.T * u
					_, err := Under(tr, threshold)
					if err == nil {
						continue
					}
					var none *ImpossibleError
					if !errors.As(err, &none) {
						t.Fatal(err)
					}
					at := func(v float64) error {
						w := tr
						if none.Field == "ConfidencePct" {
							if v < MinConfidencePct || v > MaxConfidencePct {
								return errors.New("outside what ScoreTrend accepts")
							}
							w.T = num.StudentQuantile(0.5+v/200, 4)
							w.SlopeHalfWidth = w.T * u
						} else {
							w.SlopePerWeek = v
						}
						_, err := Under(w, threshold)
						return err
					}
					low, beyond := none.Min, none.Max+0.011
					if none.Field == "SlopePerWeek" {
						low, beyond = -maxSlope, none.Max*0.998
					}
					if at(low) != nil || at(none.Max) != nil {
						t.Fatalf("slope %v ± %v at %v %%, threshold %v: %v: at %v %v, at %v %v", b, u, pct, threshold, err, low, at(low), none.Max, at(none.Max))
					}
					if at(beyond) == nil && none.Max < -1e-12 {
						t.Fatalf("slope %v ± %v at %v %%, threshold %v: %v, but possible at %v", b, u, pct, threshold, err, beyond)
					}
				}
			}
		}
	}
}

func TestAllocations(t *testing.T) {
	table := [][]float64{{84.25, 83.5, 85}, {86, 85.75, 86.5}, {81.5, 82, 82.25}}
	list := []Cupping{{0, 87}, {4, 86.5}, {8, 86}, {12, 85.5}}
	tr, err := ScoreTrend(list, 95)
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]func(){
		"ByChance":        func() { ByChance(Trial{Triangle, 60, 27}) },
		"CriticalCount":   func() { CriticalCount(Triangle, 60, 5) },
		"Alike":           func() { Alike(Likeness{Trial{Triangle, 60, 20}, 30}) },
		"Estimate":        func() { Estimate(Trial{Triangle, 60, 27}, 95) },
		"CorrectAtPct":    func() { CorrectAtPct(Tetrad, 1.5) },
		"DPrime":          func() { DPrime(Tetrad, 55) },
		"Power":           func() { Power(Design{Triangle, 60, 5, 50}) },
		"Assessors":       func() { Assessors(Goal{Triangle, 5, 80, 60}) },
		"AlikeAssessors":  func() { AlikeAssessors(LikenessGoal{Triangle, 5, 80, 50, 10}) },
		"Agree":           func() { Agree(table, 95) },
		"MeanScore":       func() { MeanScore(table[0], 95) },
		"ScoreTrend":      func() { ScoreTrend(list, 95) },
		"Under":           func() { Under(tr, 84) },
		"PreferenceBy":    func() { PreferenceByChancePct(30, 21) },
		"LeastDifference": func() { LeastRankDifference(5, 8, 5) },
	} {
		if n := testing.AllocsPerRun(20, f); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}

func finite(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// told says whether an error is one of the two that callers are promised.
func told(err error) bool {
	var in *InputError
	var none *ImpossibleError
	return errors.As(err, &in) || errors.As(err, &none)
}

func FuzzTrial(f *testing.F) {
	f.Add(uint8(1), 12, 8, 5.0, 95.0)            // an ordinary triangle
	f.Add(uint8(2), MaxAssessors, 1, 0.1, 99.99) // the largest panel, hardly a right answer
	f.Add(uint8(0), -1, 7, math.NaN(), 0.95)     // everything wrong
	f.Add(uint8(5), 1, 1, 50.0, 50.0)            // one taster
	f.Fuzz(func(t *testing.T, m uint8, n, x int, risk, confidence float64) {
		trial := Trial{Method(m), n, x}
		d, err := ByChance(trial)
		if err == nil != (d != Difference{}) || err != nil && !told(err) || !finite(d.ByChancePct) || d.ByChancePct > 100 {
			t.Fatalf("%+v: %+v, %v", trial, d, err)
		}
		s, err := Estimate(trial, confidence)
		if err != nil && (!told(err) || s != Strength{}) || !finite(s.LowerCorrectPct, s.UpperCorrectPct) ||
			!(s.LowerCorrectPct <= s.CorrectPct && s.CorrectPct <= s.UpperCorrectPct) {
			t.Fatalf("%+v at %v: %+v, %v", trial, confidence, s, err)
		}
		c, err := CriticalCount(Method(m), n, risk)
		if err != nil && (!told(err) || c != 0) || c > max(n, 0) {
			t.Fatalf("%+v at %v: %v, %v", trial, risk, c, err)
		}
		a, err := Alike(Likeness{trial, risk})
		if err != nil && !told(err) || !finite(a.ByChancePct) {
			t.Fatalf("%+v at %v: %+v, %v", trial, risk, a, err)
		}
	})
}

func FuzzTable(f *testing.F) {
	f.Add(84.0, 83.5, 85.0, 82.0, 86.0, 85.5, 95.0)                   // ordinary scores
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 95.0)                         // nothing differs
	f.Add(1e6, -1e6, 1e6, -1e6, 1e6, -1e6, 99.99)                     // the widest scores
	f.Add(5e-324, 0.0, 0.0, 0.0, 0.0, 0.0, 50.0)                      // the smallest difference there is
	f.Add(math.NaN(), math.Inf(1), 1.0, 2.0, 3.0, 4.0, math.Inf(-1))  // no numbers
	f.Add(84.0, 84.0000000001, 84.0, 84.0000000001, 84.0, 84.0, 95.0) // hardly a difference
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, confidence float64) {
		table := [][]float64{{a, b}, {c, d}, {e, g}}
		r, err := Agree(table, confidence)
		if err != nil {
			if !told(err) || r != (Agreement{}) {
				t.Fatalf("%v: %+v, %v", table, r, err)
			}
		} else {
			for _, c := range []Coefficient{r.ICC11, r.ICC21, r.ICC31, r.ICC1K, r.ICC2K, r.ICC3K} {
				if !finite(c.Value, c.Lower, c.Upper) || c.Value > 1+1e-9 || c.Upper > 1+1e-9 {
					t.Fatalf("%v: %+v", table, r)
				}
			}
		}
		fr, err := Friedman(table)
		if err != nil && !told(err) || !finite(fr.Statistic, fr.ByChancePct, fr.KendallW) || fr.KendallW > 1+1e-12 || fr.ByChancePct > 100 {
			t.Fatalf("%v: %+v, %v", table, fr, err)
		}
		tr, err := ScoreTrend([]Cupping{{a, b}, {c, d}, {e, g}}, confidence)
		if err != nil {
			if !told(err) {
				t.Fatal(err)
			}
			return
		}
		cr, err := Under(tr, 0)
		if err != nil && (!told(err) || cr != Crossing{}) || !finite(tr.SlopePerWeek, tr.SlopeHalfWidth, tr.SD, cr.Week, cr.Earliest, cr.Latest) {
			t.Fatalf("%v: %+v, %+v, %v", table, tr, cr, err)
		}
	})
}

// Ranks by sorting against their definition, with ties, signed zeros and more
// coffees than find room.
func TestRanksByDefinition(t *testing.T) {
	for _, n := range []int{2, 5, fewRows, fewRows + 1, 1000} {
		scores := make([][]float64, n)
		for i := range scores {
			scores[i] = []float64{float64(i * i % 7), math.Copysign(0, float64(i%2)-0.5), float64(-i)}
		}
		for j := range scores[0] {
			ranks, ties := doubledRanks(scores, j)
			wantTies := 0
			for i := range scores {
				below, equal := 0, 0
				for _, row := range scores {
					if row[j] < scores[i][j] {
						below++
					} else if row[j] == scores[i][j] {
						equal++
					}
				}
				wantTies += equal*equal - 1
				if ranks[i] != 2*below+equal+1 {
					t.Fatalf("%d coffees, taster %d, coffee %d: %d, want %d", n, j, i, ranks[i], 2*below+equal+1)
				}
			}
			if ties != wantTies {
				t.Fatalf("%d coffees, taster %d: ties %d, want %d", n, j, ties, wantTies)
			}
		}
	}
}

// The largest table: each taster is milder than the last by a thousandth, each
// coffee better by one, and nothing else; so all is known.
func TestLargestTable(t *testing.T) {
	scores := make([][]float64, MaxCoffees)
	for i := range scores {
		scores[i] = make([]float64, MaxTasters)
		for j := range scores[i] {
			scores[i][j] = float64(i) + float64(j)/1024
		}
	}
	f, err := Friedman(scores)
	if err != nil || !near(f.KendallW, 1, 1e-12) || !near(f.Statistic, 999000, 1e-12) {
		t.Errorf("%+v, %v", f, err)
	}
	list, err := Offsets(scores, 95)
	if err != nil || !near(list[999].Points, 999./2/1024, 1e-9) || !near(list[0].Points, -999./2/1024, 1e-9) || list[0].SD > 1e-9 {
		t.Errorf("%+v, %v", list[0], err)
	}
	a, err := Agree(scores, 95)
	if err != nil || !near(a.ICC31.Value, 1, 1e-12) || !near(a.CoffeesMS, 1000*1000*1001./12, 1e-9) {
		t.Errorf("%+v, %v", a, err)
	}
}

func BenchmarkLargestTable(b *testing.B) {
	scores := make([][]float64, MaxCoffees)
	for i := range scores {
		scores[i] = make([]float64, MaxTasters)
		for j := range scores[i] {
			scores[i][j] = float64(i*(j+7)%911) + float64(j)/1024
		}
	}
	for name, f := range map[string]func() error{
		"Friedman": func() error { _, err := Friedman(scores); return err },
		"Offsets":  func() error { _, err := Offsets(scores, 95); return err },
		"Agree":    func() error { _, err := Agree(scores, 95); return err },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if err := f(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
