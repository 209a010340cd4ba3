package stock

import (
	"bufio"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

var histograms = map[string][]Bin{
	"a":      {{3, 2}, {5, 5}, {6, 1}, {9, 2}},
	"b":      {{12, 1}, {0, 1}, {4, 2}, {4, 1}}, // in no order, one demand twice
	"c":      {{7, 1}},
	"d":      {{0, 7}, {1, 2}, {2, 1}, {40, 0}}, // the last was never seen
	"closed": {{0, 1}},
}

func daysOf(names string) (days [][]Bin) {
	for n := range strings.FieldsSeq(names) {
		days = append(days, histograms[n])
	}
	return days
}

// oracle reads a table that make_oracle.py wrote.
func oracle(t *testing.T, name string) (rows [][]string) {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		if !strings.HasPrefix(s.Text(), "#") {
			rows = append(rows, strings.Split(s.Text(), ","))
		}
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

func num64(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func TestBufferOracle(t *testing.T) {
	for _, r := range oracle(t, "buffers.csv") {
		wait := Wait{daysOf(r[0]), pct(r[1])}
		h, err := Buffer(wait)
		if err != nil || strconv.Itoa(h.Bags) != r[2] || !near(h.MeanBags, num64(t, r[4]), 1e-13) || !near(h.ShortBags, num64(t, r[5]), 1e-13) ||
			!near(h.LeftBags, num64(t, r[6]), 1e-13) || !near(h.ServicePct, 100*num64(t, r[7]), 1e-12) {
			t.Errorf("%v: %+v (%v)", r, h, err)
		}
		if f, err := FillBuffer(wait); err != nil || strconv.Itoa(f.Bags) != r[3] {
			t.Errorf("%v: fill %+v (%v)", r, f, err)
		}
		if s, err := Service(wait.Days, h.Bags); err != nil || s.ServicePct != h.ServicePct || s.FillPct != h.FillPct {
			t.Errorf("%v: the service of the buffer is %+v (%v)", r, s, err)
		}
	}
}

func TestPlanOracle(t *testing.T) {
	for _, r := range oracle(t, "plans.csv") {
		var roasts []int
		for s := range strings.FieldsSeq(r[1]) {
			roasts = append(roasts, int(num64(t, s)))
		}
		plan, err := RoastPlan(Cycle{daysOf(r[0]), roasts, int(num64(t, r[2])), int(num64(t, r[3])), pct(r[4])})
		if err != nil || len(plan) != len(roasts) {
			t.Fatalf("%v: %v, %v", r, plan, err)
		}
		for i, p := range plan {
			want := r[5+5*i:]
			if strconv.Itoa(p.UpTo) != want[0] || !near(p.ServicePct, 100*num64(t, want[1]), 1e-11) || !near(p.MeanRoast, num64(t, want[2]), 1e-12) ||
				!near(p.StaleBags, num64(t, want[3]), 1e-12) || !near(p.StalePct, 100*num64(t, want[4]), 1e-11) {
				t.Errorf("%v: roast %d is %+v", r, i, p)
			}
			if (p.Notes&Stale != 0) != (p.StalePct > 5) || p.Day != roasts[i] {
				t.Errorf("%v: roast %d is %+v", r, i, p)
			}
		}
	}
}

func TestNormalOracle(t *testing.T) {
	for _, r := range oracle(t, "normal.csv") {
		v := make([]float64, len(r))
		for i := range r {
			v[i] = num64(t, r[i])
		}
		lead := Lead{v[0], v[1], v[2], v[3], v[4]}
		s, err := SafetyStock(lead, v[6])
		if err != nil || !near(s.SafetyBags, v[7], 1e-9) || !near(s.ReorderBags, v[8], 1e-9) {
			t.Errorf("%v: %+v (%v)", r, s, err)
		}
		if f, err := FillRatePct(lead, s.SafetyBags, v[5]); err != nil || !near(f, 100*v[9], 1e-9) {
			t.Errorf("%v: fill %v (%v)", r, f, err)
		}
		if s, err := SafetyForFill(lead, v[5], v[6]); err != nil || !near(s.SafetyBags, v[10], 1e-8) || (s.Notes == NegativeStock) != (v[10] < 0) {
			t.Errorf("%v: safety for fill %+v (%v)", r, s, err)
		}
	}
}

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

func beyond1(v, towards float64) float64 { return math.Nextafter(v, towards) }

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	day := []Bin{{3, 1}, {5, 1}}
	bufferErr := func(days [][]Bin, level string) error { _, err := Buffer(Wait{days, pct(level)}); return err }
	tallyErr := func(r []int) error { _, err := Tally(r); return err }
	serviceErr := func(days [][]Bin, s int) error { _, err := Service(days, s); return err }
	saleErr := func(s Sale) error { _, err := RoastWindow(s); return err }
	cycleErr := func(c Cycle) error { _, err := RoastPlan(c); return err }
	needErr := func(n Need) error { _, err := ToRoast(n); return err }
	ratioErr := func(p, c, s string) error { _, err := CriticalRatioPct(Trade{pct(p), pct(c), pct(s)}); return err }
	marketErr := func(mean, sd float64) error {
		_, err := Newsvendor(Market{Trade{pct("4"), pct("1"), pct("0")}, mean, sd})
		return err
	}
	safetyErr := func(l Lead, level float64) error { _, err := SafetyStock(l, level); return err }
	fillErr := func(ss, lot float64) error {
		_, err := FillRatePct(Lead{DailyBags: 10, DailySDBags: 2, LeadDays: 4}, ss, lot)
		return err
	}
	forFillErr := func(lot, fill float64) error {
		_, err := SafetyForFill(Lead{DailyBags: 10, DailySDBags: 2, LeadDays: 4}, lot, fill)
		return err
	}
	many := make([]Bin, MaxBins+1)
	for i := range many {
		many[i] = Bin{i, 1}
	}
	record := make([]int, MaxBins+1)
	for i := range record {
		record[i] = i
	}
	week := Cycle{[][]Bin{day, day, day}, []int{0, 2}, 1, 9, pct("90")}
	change := func(f func(c *Cycle)) Cycle {
		c := week
		c.RoastDays = slices.Clone(week.RoastDays)
		f(&c)
		return c
	}
	big := [][]Bin{{{MaxBags, 1}}, {{MaxBags, 1}}, {{1, 1}}}

	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"no days":            {bufferErr(nil, "95"), []string{"Days"}},
		"no bins":            {bufferErr([][]Bin{{}}, "95"), []string{"Days[0]"}},
		"never seen":         {bufferErr([][]Bin{day, {{3, 0}}}, "95"), []string{"Days[1]"}},
		"bins at most":       {bufferErr([][]Bin{many[:MaxBins]}, "95"), nil},
		"bins above":         {bufferErr([][]Bin{many}, "95"), []string{"Days[0]"}},
		"bags at most":       {bufferErr([][]Bin{{{MaxBags, MaxTimes}}}, "95"), nil},
		"bags above":         {bufferErr([][]Bin{{{MaxBags + 1, MaxTimes + 1}}, {{-1, -1}}}, "0.95"), []string{"Days[0][0].Bags", "Days[0][0].Times", "Days[0]", "Days[1][0].Bags", "Days[1][0].Times", "Days[1]", "LevelPct"}},
		"all at most":        {bufferErr(big[:2], "95"), nil},
		"all above":          {bufferErr(big, "95"), []string{"Days"}},
		"days above":         {bufferErr(slices.Repeat([][]Bin{day}, MaxDays+1), "95"), []string{"Days"}},
		"days at most":       {bufferErr(slices.Repeat([][]Bin{day}, MaxDays), "95"), nil},
		"level least":        {bufferErr([][]Bin{day}, "50"), nil},
		"level below":        {bufferErr([][]Bin{day}, "49.9999999999999999999"), []string{"LevelPct"}},
		"level most":         {bufferErr([][]Bin{day}, "99.999"), nil},
		"level above":        {bufferErr([][]Bin{day}, "99.9990000000000000001"), []string{"LevelPct"}},
		"level hostile":      {bufferErr([][]Bin{day}, "1e-999"), []string{"LevelPct"}},
		"no record":          {tallyErr(nil), []string{"record"}},
		"record below":       {tallyErr([]int{3, -1, MaxBags + 1}), []string{"record[1]", "record[2]"}},
		"record at most":     {tallyErr(record[:MaxBins]), nil},
		"record, many kinds": {tallyErr(record), []string{"record"}},
		"stock none":         {serviceErr([][]Bin{day}, 0), nil},
		"stock most":         {serviceErr([][]Bin{day}, MaxTotalBags), nil},
		"stock above":        {serviceErr([][]Bin{day}, MaxTotalBags+1), []string{"bags"}},
		"stock below":        {serviceErr(nil, -1), []string{"days", "bags"}},

		"zero sale":            {saleErr(Sale{}), nil},
		"sale to before from":  {saleErr(Sale{3, 2, 1, 9}), []string{"ToDay"}},
		"sale, all bad":        {saleErr(Sale{-MaxShelfDays - 1, MaxShelfDays + 1, MaxRestDays + 1, -1}), []string{"FromDay", "ToDay", "RestDays", "ShelfDays"}},
		"sale, shelf at rest":  {saleErr(Sale{0, 0, 5, 5}), nil},
		"sale, shelf in rest":  {saleErr(Sale{0, 0, 5, 4}), []string{"ShelfDays"}},
		"zero cycle":           {cycleErr(Cycle{}), []string{"Days", "RoastDays", "LevelPct"}},
		"good cycle":           {cycleErr(week), nil},
		"no roast":             {cycleErr(change(func(c *Cycle) { c.RoastDays = nil })), []string{"RoastDays"}},
		"roast twice":          {cycleErr(change(func(c *Cycle) { c.RoastDays[1] = 0 })), []string{"RoastDays[1]"}},
		"roast after the week": {cycleErr(change(func(c *Cycle) { c.RoastDays[1] = 3 })), []string{"RoastDays[1]"}},
		"roast before it":      {cycleErr(change(func(c *Cycle) { c.RoastDays[0] = -1 })), []string{"RoastDays[0]"}},
		"rest and shelf":       {cycleErr(change(func(c *Cycle) { c.RestDays, c.ShelfDays = -1, MaxShelfDays+1 })), []string{"RestDays", "ShelfDays"}},
		"a stretch too large":  {cycleErr(change(func(c *Cycle) { c.Days = [][]Bin{{{4000, 1}}, {{1, 1}}, {{1, 1}}} })), []string{"Days"}},
		"no batch":             {needErr(Need{}), []string{"PerBatch"}},
		"need, all bad":        {needErr(Need{-1, MaxTotalBags + 1, 0}), []string{"UpTo", "Have", "PerBatch"}},
		"need at most":         {needErr(Need{MaxTotalBags, 0, 1}), nil},

		"zero trade":       {ratioErr("0", "0", "0"), []string{"PriceEach", "CostEach"}},
		"price under cost": {ratioErr("1", "2", "0"), []string{"CostEach"}},
		"price at cost":    {ratioErr("2", "2", "0"), []string{"CostEach"}},
		"leftover at cost": {ratioErr("4", "2", "2"), []string{"CostEach"}},
		"leftover over":    {ratioErr("4", "2", "3"), []string{"LeftoverEach"}},
		"leftover costs":   {ratioErr("4", "2", "-1"), nil},
		"market, no mean":  {marketErr(0.9, 0), []string{"MeanBags"}},
		"market, least":    {marketErr(1, 1), nil},
		"market, wide":     {marketErr(100, beyond1(100, inf)), []string{"SDBags"}},
		"market, NaN":      {marketErr(nan, inf), []string{"MeanBags", "SDBags"}},
		"zero lead":        {safetyErr(Lead{}, 0.95), []string{"DailyBags", "levelPct"}},
		"lead, all bad":    {safetyErr(Lead{nan, -1, inf, nan, 366}, nan), []string{"DailyBags", "DailySDBags", "LeadDays", "LeadSDDays", "ReviewDays", "levelPct"}},
		"level at most":    {safetyErr(Lead{1, 0, 365, 365, 365}, MaxLevelPct), nil},
		"level over":       {safetyErr(Lead{1, 0, 0, 0, 0}, beyond1(MaxLevelPct, 100)), []string{"levelPct"}},
		"lot, none":        {fillErr(nan, 0), []string{"safetyBags", "lotBags"}},
		"lot too small":    {fillErr(-100, 50), []string{"lotBags"}},
		"lot large enough": {fillErr(-100, 101), nil},
		"fill at most":     {forFillErr(0.01, MaxLevelPct), nil},
		"fill, all bad":    {forFillErr(inf, 0.95), []string{"lotBags", "fillPct"}},
	} {
		if diff := cmp.Diff(c.want, refused(c.err)); diff != "" {
			t.Errorf("%s: %s (%v)", name, diff, c.err)
		}
	}
}

func TestImpossible(t *testing.T) {
	var none *ImpossibleError
	s := Sale{FromDay: 12, ToDay: 15, RestDays: 7, ShelfDays: 9}
	if _, err := RoastWindow(s); !errors.As(err, &none) || none.Field != "ShelfDays" || none.Min != 10 {
		t.Fatalf("%v", none)
	}
	s.ShelfDays = int(none.Min)
	if w, err := RoastWindow(s); err != nil || w != (Window{5, 5}) {
		t.Errorf("%+v (%v)", w, err)
	}
	c := Cycle{daysOf("a b a d"), []int{0}, 3, 5, pct("90")}
	if _, err := RoastPlan(c); !errors.As(err, &none) || none.Field != "ShelfDays" || none.Min != 6 {
		t.Fatalf("%v", none)
	}
	c.ShelfDays = int(none.Min)
	if _, err := RoastPlan(c); err != nil {
		t.Error(err)
	}
}

func TestNothingIsLeftOfASteadyDemand(t *testing.T) {
	plan, err := RoastPlan(Cycle{daysOf("c c"), []int{0}, 1, 20, pct("95")})
	if err != nil || plan[0].UpTo != 21 || plan[0].StaleBags != 0 || plan[0].StalePct != 0 || plan[0].MeanRoast != 14 {
		t.Errorf("%+v (%v)", plan, err)
	}
}

// A stock one bag smaller misses the level; the shares add up.
func TestBuffersAreTheSmallest(t *testing.T) {
	for _, names := range []string{"a", "b d", "a a b c d", "d closed d", "closed"} {
		days := daysOf(names)
		for _, level := range []string{"50", "80", "90", "97.5", "99.999"} {
			want := pct(level).InexactFloat64()
			h, err := Buffer(Wait{days, pct(level)})
			if err != nil || h.ServicePct < want-1e-9 {
				t.Fatalf("%s at %s: %+v (%v)", names, level, h, err)
			}
			if h.Bags > 0 {
				if less, _ := Service(days, h.Bags-1); less.ServicePct >= want {
					t.Fatalf("%s at %s: %d bags do, %d too", names, level, h.Bags, h.Bags-1)
				}
			}
			f, err := FillBuffer(Wait{days, pct(level)})
			if err != nil || f.FillPct < want-1e-9 {
				t.Fatalf("%s at %s: %+v (%v)", names, level, f, err)
			}
			if f.Bags > 0 {
				if less, _ := Service(days, f.Bags-1); less.FillPct >= want {
					t.Fatalf("%s at %s: %d bags fill, %d too", names, level, f.Bags, f.Bags-1)
				}
			}
			for _, x := range []Held{h, f} { // what comes in is sold, short or left
				if !near(float64(x.Bags)-x.MeanBags, x.LeftBags-x.ShortBags, 1e-9) {
					t.Fatalf("%s at %s: %+v does not add up", names, level, x)
				}
			}
		}
		list, err := Demand(days)
		if err != nil {
			t.Fatal(err)
		}
		sum, last := 0.0, -1
		for _, c := range list {
			if sum += c.Pct; !near(sum, c.WithinPct, 1e-9) || c.Bags <= last || !(c.Pct > 0) {
				t.Fatalf("%s: %+v after %v %%", names, c, sum)
			}
			last = c.Bags
		}
		if list[len(list)-1].WithinPct != 100 {
			t.Fatalf("%s ends at %v %%", names, list[len(list)-1].WithinPct)
		}
	}
}

// Two weeks of the longest record: the products of the counts stay whole.
func TestLongRecords(t *testing.T) {
	days := slices.Repeat([][]Bin{{{3, MaxTimes}, {5, 1}}}, MaxDays)
	h, err := Buffer(Wait{days, pct("50")})
	if err != nil || h.Bags != 3*MaxDays {
		t.Errorf("%+v (%v)", h, err)
	}
	if want := 100 * math.Pow(float64(MaxTimes)/(MaxTimes+1), MaxDays); !near(h.ServicePct, want, 1e-9) {
		t.Errorf("service %v, want %v", h.ServicePct, want)
	}
}

func TestExactAtTheLevel(t *testing.T) {
	record := make([]int, 20) // 19 weekends of up to 19 bags and one of 40
	for i := range record {
		record[i] = i + 1
	}
	record[19] = 40
	bins, err := Tally(record)
	if err != nil || len(bins) != 20 {
		t.Fatal(bins, err)
	}
	for level, want := range map[string]int{"95": 19, "95.00000000000000000001": 40, "94.9999": 19, "90": 18} {
		if h, err := Buffer(Wait{[][]Bin{bins}, pct(level)}); err != nil || h.Bags != want || h.Notes != 0 {
			t.Errorf("at %s: %+v, want %d (%v)", level, h, want, err)
		}
	}
	if h, _ := Buffer(Wait{[][]Bin{bins}, pct("95.24")}); h.Notes != BeyondRecord || h.Notes.String() != "the record is too short for a level so high" {
		t.Errorf("over 20 of 21: %v", h.Notes)
	}
	if h, _ := Service([][]Bin{{{0, 1}}}, 3); h.FillPct != 100 || h.LeftBags != 3 {
		t.Errorf("nothing is ever asked: %+v", h)
	}
}

func TestBestStockIsBest(t *testing.T) {
	trade := Trade{pct("9.50"), pct("4.20"), pct("1")}
	for _, names := range []string{"a", "a b", "b b d", "d"} {
		days := daysOf(names)
		best, err := BestStock(days, trade)
		if err != nil {
			t.Fatal(err)
		}
		for s := 0; s <= 60; s++ {
			h, err := Service(days, s)
			if err != nil {
				t.Fatal(err)
			}
			sold := h.MeanBags - h.ShortBags
			if profit := 9.5*sold + 1*h.LeftBags - 4.2*float64(s); profit > best.Profit+1e-9 {
				t.Fatalf("%s: %d bags earn %v, the best %v bags %v", names, s, profit, best.Bags, best.Profit)
			} else if float64(s) == best.Bags && !near(profit, best.Profit, 1e-9) {
				t.Fatalf("%s: %d bags earn %v, not %v", names, s, profit, best.Profit)
			}
		}
	}
	for _, names := range []string{"closed", "d"} {
		o, err := BestStock(daysOf(names), trade)
		if err != nil {
			t.Fatal(err)
		}
		if h, err := Service(daysOf(names), int(o.Bags)); err != nil || !near(o.FillPct, h.FillPct, 1e-12) || !near(o.ServicePct, h.ServicePct, 1e-12) {
			t.Errorf("%s: %+v and %+v (%v)", names, o, h, err)
		}
	}
	thin, err := BestStock(daysOf("a"), Trade{pct("5"), pct("4.20"), pct("1")})
	if err != nil || thin.Notes != ThinMargin {
		t.Errorf("%+v (%v)", thin, err)
	}
}

func TestNormalLoss(t *testing.T) {
	last := math.Inf(1)
	for z := -40.0; z <= 45; z += 0.01 {
		l := NormalLoss(z)
		if !(l >= 0 && (l < last || l < 1e-300)) || !near(l-NormalLoss(-z), -z, 1e-12*(1+math.Abs(z))) {
			t.Fatalf("L(%v) = %v after %v", z, l, last)
		}
		last = l
	}
	under, over := NormalLoss(math.Nextafter(5, 0)), NormalLoss(5)
	if !near(under, over, 1e-9*over) {
		t.Errorf("the branches meet at %v and %v", under, over)
	}
	if !math.IsNaN(NormalLoss(math.NaN())) || NormalLoss(math.Inf(1)) != 0 {
		t.Error("the ends are wrong")
	}
}

func TestNoSpread(t *testing.T) {
	l := Lead{DailyBags: 10, LeadDays: 4}
	s, err := SafetyForFill(l, 100, 95)
	if err != nil || !near(s.SafetyBags, -5, 1e-12) || !near(s.ReorderBags, 35, 1e-12) || s.Notes != NegativeStock {
		t.Errorf("%+v (%v)", s, err)
	}
	if f, err := FillRatePct(l, -5, 100); err != nil || !near(f, 95, 1e-12) {
		t.Errorf("%v (%v)", f, err)
	}
}

func TestToRoast(t *testing.T) {
	for _, c := range []struct {
		need Need
		want Bags
	}{
		{Need{100, 40, 24}, Bags{60, 3, 12}},
		{Need{88, 40, 24}, Bags{48, 2, 0}},
		{Need{89, 40, 24}, Bags{49, 3, 23}}, // one bag takes a batch
		{Need{40, 41, 24}, Bags{}},
	} {
		if got, err := ToRoast(c.need); err != nil || got != c.want {
			t.Errorf("%+v: %+v, want %+v (%v)", c.need, got, c.want, err)
		}
	}
}

func TestNothingIsWrittenTo(t *testing.T) {
	record := []int{5, 3, 9, 3}
	if _, err := Tally(record); err != nil || !slices.Equal(record, []int{5, 3, 9, 3}) {
		t.Errorf("the record is %v (%v)", record, err)
	}
	days := [][]Bin{{{12, 1}, {0, 1}, {4, 2}, {4, 1}}}
	if _, err := Buffer(Wait{days, pct("90")}); err != nil || !cmp.Equal(days, [][]Bin{{{12, 1}, {0, 1}, {4, 2}, {4, 1}}}) {
		t.Errorf("the days are %v (%v)", days, err)
	}
}

func TestAllocations(t *testing.T) {
	lead := Lead{10, 3, 4, 1, 7}
	for name, f := range map[string]func(){
		"SafetyStock":   func() { SafetyStock(lead, 95) },
		"FillRatePct":   func() { FillRatePct(lead, 20, 100) },
		"SafetyForFill": func() { SafetyForFill(lead, 100, 95) },
		"NormalLoss":    func() { NormalLoss(1.3) },
		"RoastWindow":   func() { RoastWindow(Sale{5, 6, 3, 20}) },
		"ToRoast":       func() { ToRoast(Need{100, 40, 24}) },
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

func told(err error) bool {
	var none *ImpossibleError
	return err == nil || refused(err) != nil || errors.As(err, &none)
}

func FuzzPlan(f *testing.F) {
	f.Add([]byte{3, 2, 5, 5, 9, 1}, 2, 0, 1, 3, 9, "95")                 // an ordinary week
	f.Add([]byte{0, 1}, 1, 0, 0, 0, 0, "50")                             // nobody ever comes
	f.Add([]byte{255, 255, 0, 0, 1}, 14, 13, 13, 30, 365, "99.999")      // everything at its limit
	f.Add([]byte{}, 0, -1, 99, -5, 400, "1e-50")                         // everything beyond
	f.Add([]byte{7, 1, 7, 1, 7, 1, 7, 1}, 4, 1, 3, 2, 2, "66.666666666") // one demand, many bins
	f.Fuzz(func(t *testing.T, raw []byte, n, s1, s2, rest, shelf int, level string) {
		l, err := decimal.NewFromString(level)
		if err != nil {
			return
		}
		n = max(0, min(n, 20))
		days := make([][]Bin, n)
		for i := 0; n > 0 && i+1 < len(raw); i += 2 {
			days[i/2%n] = append(days[i/2%n], Bin{int(raw[i]), int(raw[i+1])})
		}
		h, err := Buffer(Wait{days, l})
		if !told(err) || !finite(h.ServicePct, h.FillPct, h.ShortBags, h.LeftBags) || err != nil && h != (Held{}) {
			t.Fatalf("%+v, %v", h, err)
		}
		plan, err := RoastPlan(Cycle{days, []int{s1, s2}, rest, min(shelf, 60), l})
		if !told(err) || err != nil && plan != nil {
			t.Fatalf("%+v, %v", plan, err)
		}
		for _, p := range plan {
			if !finite(p.MeanRoast, p.ServicePct, p.FillPct, p.StaleBags, p.StalePct) || p.MeanRoast < 0 || p.StalePct > 100 {
				t.Fatalf("%+v", p)
			}
		}
		o, err := BestStock(days, Trade{l, l.Shift(-1), decimal.Decimal{}})
		if !told(err) || !finite(o.Profit, o.Mismatch, o.FillPct, o.RatioPct) {
			t.Fatalf("%+v, %v", o, err)
		}
	})
}

func FuzzNormal(f *testing.F) {
	f.Add(15.0, 5.0, 2.0, 0.0, 7.0, 60.0, 95.0)          // an ordinary café
	f.Add(0.01, 0.0, 0.0, 0.0, 0.0, 0.01, 50.0)          // the least of all
	f.Add(1e6, 1e6, 365.0, 365.0, 365.0, 0.01, 99.999)   // the most of all
	f.Add(1.0, 5e-324, 1.0, 0.0, 0.0, 1e9, 50.0)         // hardly a spread, a huge lot
	f.Add(math.NaN(), math.Inf(1), -1.0, 0., 0., 0., .9) // no numbers
	f.Fuzz(func(t *testing.T, mu, sd, lead, lsd, review, lot, level float64) {
		l := Lead{mu, sd, lead, lsd, review}
		s, err := SafetyStock(l, level)
		if !told(err) || !finite(s.SafetyBags, s.ReorderBags) {
			t.Fatalf("%+v, %v", s, err)
		}
		p, err := FillRatePct(l, s.SafetyBags, lot)
		if !told(err) || !finite(p) || p < 0 || p > 100 {
			t.Fatalf("%v, %v", p, err)
		}
		s, err = SafetyForFill(l, lot, level)
		if !told(err) || !finite(s.SafetyBags, s.ReorderBags) {
			t.Fatalf("%+v, %v", s, err)
		}
		o, err := Newsvendor(Market{Trade{decimal.New(95, -1), decimal.New(42, -1), decimal.New(1, 0)}, mu, sd})
		if !told(err) || !finite(o.Bags, o.Profit, o.Mismatch, o.FillPct) {
			t.Fatalf("%+v, %v", o, err)
		}
	})
}

// A bag that hardly loses, or hardly earns, has a stock all the same: z by
// mpmath from the small difference of the decimals.
func TestNewsvendorNearAnEnd(t *testing.T) {
	for _, c := range []struct {
		price, cost, left string
		z                 float64
	}{
		{"20", "10", "9.99999999999999999", 8.7572903487823151},
		{"20", "10", "9.9999999999999999999999999999999999", 12.421412039437843},
		{"10.00000000000000001", "10", "0", -8.7572903487823151},
		{"10.0000000000000000000000000000000001", "10", "0", -12.421412039437843},
	} {
		trade := Trade{decimal.RequireFromString(c.price), decimal.RequireFromString(c.cost), decimal.RequireFromString(c.left)}
		o, err := Newsvendor(Market{trade, 100, 5})
		if err != nil || !near(o.Bags, 100+5*c.z, 1e-11) {
			t.Errorf("%+v: %+v, %v; want %v bags", c, o, err, 100+5*c.z)
		}
		gain, _ := trade.PriceEach.Sub(trade.CostEach).Float64()
		loss, _ := trade.CostEach.Sub(trade.LeftoverEach).Float64()
		// profit = (p − c)·μ − (p − s)·φ(z)·σ
		if want := gain*100 - (gain+loss)*5*math.Exp(-c.z*c.z/2)/math.Sqrt(2*math.Pi); !near(o.Profit, want, 1e-12*gain*100) {
			t.Errorf("%+v: profit %v, want %v", c, o.Profit, want)
		}
		if !(o.Mismatch > 0) {
			t.Errorf("%+v: mismatch %v", c, o.Mismatch)
		}
		if o, err = Newsvendor(Market{trade, 100, 0}); err != nil || o.Bags != 100 || o.Mismatch != 0 || o.Profit != gain*100 {
			t.Errorf("%+v without spread: %+v, %v", c, o, err)
		}
	}
}

// A refusal to name a roast day names something that would give one.
func TestRoastDayThatIsNamed(t *testing.T) {
	for _, s := range []Sale{{FromDay: 0, ToDay: 20, RestDays: 5, ShelfDays: 21}, {FromDay: -365, ToDay: 365, RestDays: 3, ShelfDays: 365}, {FromDay: 0, ToDay: 365, RestDays: 30, ShelfDays: 30}} {
		_, err := RoastWindow(s)
		var none *ImpossibleError
		if !errors.As(err, &none) || !(none.Min <= none.Max) {
			t.Fatalf("%+v: %v", s, err)
		}
		for _, v := range []int{int(none.Min), int(none.Max)} {
			c := s
			if none.Field == "ToDay" {
				c.ToDay = v
			} else {
				c.ShelfDays = v
			}
			if _, err := RoastWindow(c); err != nil {
				t.Errorf("%+v: %v", c, err)
			}
		}
	}
	// The second gap asks for more than the first, and that is what is named.
	cycle := Cycle{RoastDays: []int{0, 2}, RestDays: 1, ShelfDays: 1, LevelPct: decimal.NewFromInt(95)}
	for range 7 {
		cycle.Days = append(cycle.Days, histograms["a"])
	}
	_, err := RoastPlan(cycle)
	var none *ImpossibleError
	if !errors.As(err, &none) || none.Field != "ShelfDays" || none.Min != 5 {
		t.Fatalf("%v", err)
	}
	for days, ok := range map[int]bool{5: true, 4: false} {
		cycle.ShelfDays = days
		if _, err := RoastPlan(cycle); (err == nil) != ok {
			t.Errorf("%d days: %v", days, err)
		}
	}
}

// The normal never has less than nothing held or served: where it would, the
// answer is refused, and the widest spread named is the end of it.
func TestNewsvendorHoldsSomething(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 30))
	refused := 0
	for range 2000 {
		price := 1 + 20*r.Float64()
		cost := price * (1 - math.Pow(10, -5*r.Float64()))
		m := Market{Trade{decimal.NewFromFloat(price), decimal.NewFromFloat(cost), decimal.NewFromFloat(-1000 * r.Float64())}, math.Pow(10, 4*r.Float64()), 0}
		m.SDBags = m.MeanBags * r.Float64()
		o, err := Newsvendor(m)
		var none *ImpossibleError
		if errors.As(err, &none) {
			refused++
			if none.Field != "SDBags" || none.Min != 0 || !(none.Max < m.SDBags) {
				t.Fatalf("%v: %v", m, err)
			}
			m.SDBags = none.Max * (1 + 1e-9)
			if _, err := Newsvendor(m); err == nil {
				t.Fatalf("%v: a wider spread than %v is answered", m, none.Max)
			}
			m.SDBags = none.Max
			o, err = Newsvendor(m)
		}
		if err != nil || !(o.Bags >= 0) || !(o.FillPct >= 0 && o.FillPct <= 100) {
			t.Fatalf("%v: %+v, %v", m, o, err)
		}
	}
	if refused < 100 {
		t.Errorf("only %d refused", refused)
	}
}
