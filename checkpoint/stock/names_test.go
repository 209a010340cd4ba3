package stock

import (
	"math"
	"slices"
	"testing"
)

// What a refusal names: the input, what was given, both ends and the reason.
func TestWhatARefusalNames(t *testing.T) {
	one := func(_ any, err error) error { return err }
	many := func(n int, b Bin) []Bin { return slices.Repeat([]Bin{b}, n) }
	kinds := make([]int, MaxBins+1)
	for i := range kinds {
		kinds[i] = i
	}
	day := []Bin{{3, 1}, {5, 1}}
	big := []Bin{{MaxBags, 1}}
	buffer := func(days ...[]Bin) error { return one(Buffer(Wait{days, pct("95")})) }
	cycle := func(n, rest, shelf int, roasts ...int) error {
		return one(RoastPlan(Cycle{slices.Repeat([][]Bin{day}, n), roasts, rest, shelf, pct("90")}))
	}
	trade := func(p, c, s string) error { return one(CriticalRatioPct(Trade{pct(p), pct(c), pct(s)})) }
	market := func(mean, sd float64) error {
		return one(Newsvendor(Market{Trade{pct("4"), pct("1"), pct("0")}, mean, sd}))
	}
	for _, c := range []struct {
		err  error
		want string
	}{
		{one(Tally([]int{0, MaxBags, -1, MaxBags + 1})), "record[2] is -1 bags; accepted: 0 to 5000 bags; record[3] is 5001 bags; accepted: 0 to 5000 bags"},
		{one(Tally(kinds)), "record is 1001 different demands; accepted: 1 to 1000 different demands"},
		{buffer(), "Days is 0 days; accepted: 1 to 14 days"},
		{buffer(append(many(MaxBins-1, Bin{3, 1}), Bin{-1, 0})), "Days[0][999].Bags is -1 bags; accepted: 0 to 5000 bags"},
		{buffer([]Bin{{3, 1}, {5, -1}, {5, MaxTimes + 1}}), "Days[0][1].Times is -1; accepted: 0 to 100000; Days[0][2].Times is 100001; accepted: 0 to 100000"},
		{buffer(many(MaxBins+1, Bin{-1, 0})), "Days[0] is 1001 bins; accepted: 1 to 1000 bins"},
		{buffer([]Bin{}), "Days[0] is 0 bins; accepted: 1 to 1000 bins"},
		{buffer([]Bin{{3, 0}}), "Days[0] is 0 days seen; accepted: 1 to 100000 days seen (an empty histogram holds no demand)"},
		{buffer(big, big, []Bin{{1, 1}}), "Days is 10001 bags in all; accepted: 0 to 10000 bags in all"},
		{buffer(big, big, []Bin{{1, 1}, {-1, 1}}), "Days[2][1].Bags is -1 bags; accepted: 0 to 5000 bags"},
		{one(RoastWindow(Sale{12, 15, 7, 9})), "no roast day: the days on sale are more than rest and shelf leave; ShelfDays is 9 days, possible with 10 to 365 days"},
		{one(RoastWindow(Sale{3, 2, 1, 9})), "ToDay is 2 days; accepted: 3 to 365 days"},
		{one(RoastWindow(Sale{0, 0, 5, 4})), "ShelfDays is 4 days; accepted: 5 to 365 days"},
		{cycle(3, 3, 4, 0), "no roast plan: bags must last until the next roast's are rested; ShelfDays is 4 days, possible with 5 to 365 days"},
		{cycle(3, 1, 9), "RoastDays is 0 roasts; accepted: 1 to 14 roasts"},
		{cycle(3, 1, 9, 1, 1), "RoastDays[1] is 1; accepted: 2 to 2 (in order, none twice)"},
		{cycle(3, 1, 9, 99, 5), "RoastDays[0] is 99; accepted: 0 to 2 (in order, none twice); RoastDays[1] is 5; accepted: 2 to 2 (in order, none twice)"},
		{cycle(3, 1, 9, -1, -2), "RoastDays[0] is -1; accepted: 0 to 2 (in order, none twice); RoastDays[1] is -2; accepted: 0 to 2 (in order, none twice)"},
		// The last day twice is no plan either, though every number is in range.
		{cycle(14, 0, 30, 13, 13), "RoastDays[1] is 13; accepted: 13 to 13 (in order, none twice)"},
		{cycle(14, 0, 30, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, -9), "RoastDays is 15 roasts; accepted: 1 to 14 roasts; RoastDays[13] is 14; accepted: 13 to 13 (in order, none twice)"},
		{cycle(15, 0, 30, 14), "Days is 15 days; accepted: 1 to 14 days; RoastDays[0] is 14; accepted: 0 to 13 (in order, none twice)"},
		{cycle(0, 0, 30, 1), "Days is 0 days; accepted: 1 to 14 days; RoastDays[0] is 1; accepted: 0 to 0 (in order, none twice)"},
		{one(RoastPlan(Cycle{[][]Bin{{{3334, 1}}}, []int{0}, 2, 9, pct("90")})),
			"Days is 10002 bags from a roast to the next rested one; accepted: 0 to 10000 bags from a roast to the next rested one"},
		{one(ToRoast(Need{0, 0, 0})), "PerBatch is 0 bags; accepted: 1 to 10000 bags"},
		{trade("0", "0", "0"), "PriceEach is 0 per bag; accepted: 0.0001 to 1000000 per bag; CostEach is 0 per bag; accepted: 0.0001 to 1000000 per bag"},
		{trade("4", "5", "0"), "CostEach is 5 per bag; accepted: 0.0001 to 4 per bag"},
		{trade("4", "0", "5"), "CostEach is 0 per bag; accepted: 0.0001 to 4 per bag; LeftoverEach is 5 per bag; accepted: -1000000 to 4 per bag"},
		{trade("4", "2", "3"), "LeftoverEach is 3 per bag; accepted: -1000000 to 2 per bag"},
		{trade("4", "4", "3"), "CostEach is 4 per bag; accepted: 3 to 4 per bag (it lies between what a bag left over and a bag sold bring)"},
		{trade("4", "2", "2"), "CostEach is 2 per bag; accepted: 2 to 4 per bag (it lies between what a bag left over and a bag sold bring)"},
		{market(100, 101), "SDBags is 101 bags; accepted: 0 to 100 bags"},
		{market(0.5, 20000), "MeanBags is 0.5 bags; accepted: 1 to 10000 bags; SDBags is 20000 bags; accepted: 0 to 10000 bags"},
		{one(FillRatePct(Lead{DailyBags: 10, LeadDays: 4}, -51, 50)),
			"lotBags is 50 bags; accepted: 51 to 1000000000 bags (with so little stock more is missing than one lot brings)"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("got  %q\nwant %q", c.err, c.want)
		}
	}
	for name, err := range map[string]error{
		"as many bags as there may be, one day closed": buffer(big, big, []Bin{{0, 1}}),
		"more, never seen": buffer(big, big, []Bin{{0, 1}, {MaxBags, 0}}),
		"as many from a roast to the next rested one": one(RoastPlan(Cycle{[][]Bin{{{MaxBags, 1}}}, []int{0}, 1, 9, pct("90")})),
		"the dearest":  trade("1000000", "500000", "-1000000"),
		"the cheapest": trade("0.0002", "0.0001", "0"),
	} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if v, err := CriticalRatioPct(Trade{}); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
	if v, err := FillRatePct(Lead{}, 0, 1); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
	if v, err := FillRatePct(Lead{DailyBags: 10, LeadDays: 4}, -51, 50); err == nil || v != 0 {
		t.Errorf("%v beside %v", v, err)
	}
	if bins, err := Tally(kinds[:MaxBins]); err != nil || len(bins) != MaxBins {
		t.Errorf("%d bins, %v", len(bins), err)
	}
	if bins, err := Tally([]int{5, 3, 3}); err != nil || !slices.Equal(bins, []Bin{{3, 2}, {5, 1}}) {
		t.Errorf("%v, %v", bins, err)
	}
}

// The most ever seen of n days is passed once in n + 1: the level of exactly
// n/(n + 1) is read from them, a trace more is not.
func TestBeyondRecordAtItsEnd(t *testing.T) {
	for n, level := range map[int]string{1: "50", 3: "75", 4: "80", 19: "95"} {
		day := [][]Bin{{{3, n}}}
		at, err1 := Buffer(Wait{day, pct(level)})
		over, err2 := Buffer(Wait{day, pct(level + ".000001")})
		if err1 != nil || err2 != nil || at.Notes != 0 || over.Notes != BeyondRecord {
			t.Errorf("%d days at %s %%: %v, above %v; %v %v", n, level, at.Notes, over.Notes, err1, err2)
		}
	}
}

// One bag for one asker a day who stays away k times in a hundred: sold on the
// day of its roast only, it is left k % of the time.
func TestStaleAtItsEnd(t *testing.T) {
	for _, c := range []struct {
		away int // of 1000
		want Notes
	}{{50, 0}, {51, Stale}, {45, 0}, {55, Stale}} {
		plan, err := RoastPlan(Cycle{[][]Bin{{{0, c.away}, {1, 1000 - c.away}}}, []int{0}, 0, 0, pct("99")})
		share := float64(c.away) / 1000
		if err != nil || plan[0].UpTo != 1 || plan[0].Notes != c.want || !near(plan[0].StalePct, 100*share, 1e-12) || !near(plan[0].StaleBags, share, 1e-14) || !near(plan[0].MeanRoast, 1-share, 1e-14) {
			t.Errorf("away %d of 1000: %+v, %v", c.away, plan, err)
		}
	}
	// A closed week roasts nothing.
	plan, err := RoastPlan(Cycle{[][]Bin{{{0, 1}}}, []int{0}, 0, 0, pct("50")})
	if err != nil || len(plan) != 1 || plan[0] != (Roast{ServicePct: 100, FillPct: 100}) {
		t.Errorf("%+v, %v", plan, err)
	}
}

// Certain demands of 1, 2, 4, 8, 16 and 32 bags, roasts on days 0, 1 and 3,
// one day of rest: each roast serves to the day before the next one's bags are
// rested, and makes up what was sold since the roast before.
func TestThreeRoastsByHand(t *testing.T) {
	var days [][]Bin
	for d := range 6 {
		days = append(days, []Bin{{1 << d, 1}})
	}
	plan, err := RoastPlan(Cycle{days, []int{0, 1, 3}, 1, 30, pct("50")})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []Roast{
		{Day: 0, CoverFrom: 1, CoverTo: 1, UpTo: 1 + 2, MeanRoast: 3 - (57 - 56)},
		{Day: 1, CoverFrom: 1, CoverTo: 2, UpTo: 2 + 4 + 8, MeanRoast: 14 - (3 - 1)},
		{Day: 3, CoverFrom: 1, CoverTo: 3, UpTo: 8 + 16 + 32 + 1, MeanRoast: 57 - (14 - 6)},
	} {
		want.ServicePct, want.FillPct = 100, 100
		if plan[i] != want {
			t.Errorf("roast %d is %+v, want %+v", i, plan[i], want)
		}
	}
}

// Where a bag sold earns just what one left over loses, the ratio is a half
// and the margin not yet thin.
func TestEvenMargin(t *testing.T) {
	o, err := BestStock([][]Bin{{{10, 1}, {20, 1}}}, Trade{pct("10"), pct("6"), pct("2")})
	if err != nil || o.Notes != 0 || o.RatioPct != 50 || o.Bags != 10 {
		t.Errorf("%+v, %v", o, err)
	}
	n, err := Newsvendor(Market{Trade{pct("12"), pct("5"), pct("2")}, 100, 20})
	if err != nil || !near(n.ServicePct, 70, 1e-12) || !near(n.RatioPct, 70, 1e-12) {
		t.Errorf("%+v, %v", n, err)
	}
}

// Half of the waits without running out take no safety: nothing to note. Half
// a deviation less than the mean is noted. L(−0.5) = 0.5 + 0.1978 (unit normal
// loss of 0.5, 0.1978 in every table).
func TestNegativeStockAtItsEnd(t *testing.T) {
	l := Lead{DailyBags: 10, DailySDBags: 1, LeadDays: 1}
	if s, err := SafetyStock(l, 50); err != nil || s.SafetyBags != 0 || s.ReorderBags != 10 || s.Notes != 0 {
		t.Errorf("%+v, %v", s, err)
	}
	if s, err := SafetyForFill(l, 0.6978/0.05, 95); err != nil || !near(s.SafetyBags, -0.5, 1e-3) || s.Notes != NegativeStock {
		t.Errorf("%+v, %v", s, err)
	}
	if f, err := FillRatePct(l, -0.5, 0.6978/0.05); err != nil || !near(f, 95, 1e-3) {
		t.Errorf("%v, %v", f, err)
	}
	// Without spread, all or nothing.
	even := Lead{DailyBags: 10, LeadDays: 1}
	for safety, want := range map[float64]float64{5: 100, 0: 100, -0.5: 99, -50: 0} {
		if f, err := FillRatePct(even, safety, 50); err != nil || !near(f, want, 1e-12) {
			t.Errorf("safety %v: %v, want %v; %v", safety, f, want, err)
		}
	}
}

// Far below and above the mean the loss is −z and nothing.
func TestNormalLossFarOut(t *testing.T) {
	for z, want := range map[float64]float64{math.Inf(-1): math.Inf(1), -50: 50, -7: 7, -1: 1.08331547058768, -0.5: 0.697796557, 0: 1 / math.Sqrt(2*math.Pi), 45: 0} {
		if got := NormalLoss(z); got != want && !near(got, want, 1e-9) {
			t.Errorf("L(%v) is %v, want %v", z, got, want)
		}
	}
}
