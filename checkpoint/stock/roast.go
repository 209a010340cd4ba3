package stock

import (
	"math/big"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// The accepted ranges of resting and selling.
const (
	// MaxRestDays and MaxShelfDays bound the rest and the last day on sale,
	// days after the roast.
	MaxRestDays  = 30
	MaxShelfDays = 365
)

// A Sale is a stretch of days on which bags are sold, between an earliest and
// a latest age.
//
// The zero Sale is one day of bags sold on the day of their roast.
type Sale struct {
	FromDay, ToDay int // first and last day of selling, counted from any day 0
	RestDays       int // a bag is not sold before this many days after its roast
	ShelfDays      int // nor after this many
}

// Window is when bags may be roasted.
type Window struct {
	EarliestDay, LatestDay int // roast days, on the count of the Sale; both ends included
}

// RoastWindow returns between which days bags must be roasted so that they
// are rested on the first day on sale and not stale on the last.
//
//	latest = from − r;  earliest = to − w
//
//	from, to   sale.FromDay, ToDay   accepted −MaxShelfDays to MaxShelfDays, to not before from
//	r          sale.RestDays         days   accepted 0 to MaxRestDays
//	w          sale.ShelfDays        days   accepted r to MaxShelfDays
//
// Fields outside their range are refused with an [*InputError]. Where one
// roast cannot serve all the days the answer is an [*ImpossibleError] that
// says how long bags would have to keep, or by when the sale would have to
// end.
//
// Source: definition.
func RoastWindow(sale Sale) (Window, error) {
	bad := fault.Int(nil, "FromDay", sale.FromDay, -MaxShelfDays, MaxShelfDays, "days")
	bad = fault.Int(bad, "ToDay", sale.ToDay, max(-MaxShelfDays, min(sale.FromDay, MaxShelfDays)), MaxShelfDays, "days")
	bad = checkAges(bad, sale.RestDays, sale.ShelfDays)
	if err := fault.Input(bad); err != nil {
		return Window{}, err
	}
	w := Window{sale.ToDay - sale.ShelfDays, sale.FromDay - sale.RestDays}
	if w.EarliestDay > w.LatestDay {
		if keep := sale.ToDay - sale.FromDay + sale.RestDays; keep > MaxShelfDays { // no shelf life will do
			return Window{}, &ImpossibleError{Quantity: "roast day", Why: "the days on sale are more than rest and shelf leave",
				Field: "ToDay", Given: itoa(sale.ToDay), Min: float64(sale.FromDay), Max: float64(sale.FromDay + sale.ShelfDays - sale.RestDays), Unit: "days"}
		}
		return Window{}, &ImpossibleError{Quantity: "roast day", Why: "the days on sale are more than rest and shelf leave",
			Field: "ShelfDays", Given: itoa(sale.ShelfDays), Min: float64(sale.ToDay - sale.FromDay + sale.RestDays), Max: MaxShelfDays, Unit: "days"}
	}
	return w, nil
}

func checkAges(bad []*FieldError, rest, shelf int) []*FieldError {
	bad = fault.Int(bad, "RestDays", rest, 0, MaxRestDays, "days")
	return fault.Int(bad, "ShelfDays", shelf, max(0, min(rest, MaxRestDays)), MaxShelfDays, "days")
}

// A Cycle is a week, or any number of days that come again, with its roast
// days.
//
// The zero Cycle is refused.
type Cycle struct {
	Days      [][]Bin         // demand of each day, day 0 first; {{0, 1}} is a closed day
	RoastDays []int           // days on which there is a roast, in order, counted from 0
	RestDays  int             // a bag is sold from this many days after its roast
	ShelfDays int             // until this many
	LevelPct  decimal.Decimal // service level, %
}

// Roast is what to do on one roast day of a cycle.
type Roast struct {
	Day        int     // of the cycle
	CoverFrom  int     // first day that this roast's bags are sold, days after the roast
	CoverTo    int     // last day before the next roast's bags are rested, days after the roast
	UpTo       int     // bags at hand and at rest after roasting
	MeanRoast  float64 // what that makes to roast on average, bags
	ServicePct float64 // chance that nobody is sent away until CoverTo, %
	FillPct    float64 // share of the demand served until CoverTo, at least, %
	StaleBags  float64 // mean of the bags left after ShelfDays, bags
	StalePct   float64 // chance that any is left then, %
	Notes      Notes
}

// RoastPlan returns how many bags there should be after each roast of the
// cycle, at hand and at rest together, so that each stretch between two
// roasts is served at the level. On the day itself count what is there before
// opening, and roast the difference: see [ToRoast].
//
//	S_i  = min S with P(D ≤ S) ≥ level,
//	       D the demand from roast day i to the day before the next roast's
//	       bags are rested, both included: the days s_i to s_{i+1} + r − 1
//	left = E[(S_i − D_w)⁺], D_w the demand of the days s_i to s_i + w
//
//	       cycle.Days        each as in Buffer; 1 to MaxDays days
//	s_i    cycle.RoastDays   1 or more, rising, each a day of the cycle
//	r      cycle.RestDays    days   accepted 0 to MaxRestDays
//	w      cycle.ShelfDays   days   accepted r to MaxShelfDays
//	level  cycle.LevelPct    %      accepted MinLevelPct to MaxLevelPct
//
// Oldest bags are sold first; who comes in vain does not come back; days do
// not depend on each other. Bags that outlive their last day before a stretch
// ends make its true level a little lower: StalePct says how often there are
// any, and over 5 % it is noted. The level is compared exactly; the stale
// bags are summed in floats.
//
// Fields outside their range are refused with an [*InputError]. A stretch
// longer than bags keep is an [*ImpossibleError] that says how long they
// would have to.
//
// Source: Silver, Pyke & Thomas, Inventory and Production Management in
// Supply Chains, periodic review, order up to level (R, S), with the exact
// demand in place of the normal.
func RoastPlan(cycle Cycle) ([]Roast, error) {
	if err := fault.Input(cycle.check()); err != nil {
		return nil, err
	}
	n := len(cycle.Days)
	tallies := make([]tally, n)
	for i, d := range cycle.Days {
		tallies[i] = newTally(d)
	}
	over := func(from, days int) tally { // the demand of so many days
		t := tally{[]*big.Int{big.NewInt(1)}, big.NewInt(1), MaxTimes}
		for k := range days {
			t = t.plus(tallies[(from+k)%n])
		}
		return t
	}
	longest := 0 // that bags of any roast must last
	for i := range cycle.RoastDays {
		longest = max(longest, cycle.gap(i)+cycle.RestDays-1)
	}
	if longest > cycle.ShelfDays {
		return nil, &ImpossibleError{Quantity: "roast plan", Why: "bags must last until the next roast's are rested",
			Field: "ShelfDays", Given: itoa(cycle.ShelfDays), Min: float64(longest), Max: MaxShelfDays, Unit: "days"}
	}
	plan := make([]Roast, len(cycle.RoastDays))
	num, den := hundredths(cycle.LevelPct)
	for i, s := range cycle.RoastDays {
		gap := cycle.gap(i)
		to := gap + cycle.RestDays - 1
		t := over(s, to+1)
		h := t.held(t.quantile(num, den))
		plan[i] = Roast{Day: s, CoverFrom: cycle.RestDays, CoverTo: to, UpTo: h.Bags, ServicePct: h.ServicePct, FillPct: h.FillPct}
		if beyond(t.seen, cycle.LevelPct) {
			plan[i].Notes |= BeyondRecord
		}
		plan[i].StaleBags, plan[i].StalePct = left(tallies, s, cycle.ShelfDays+1, h.Bags)
		if plan[i].StalePct > 5 {
			plan[i].Notes |= Stale
		}
	}
	for i := range plan {
		// What was there after the roast before, less the demand since.
		before := (i + len(plan) - 1) % len(plan)
		since := over(plan[before].Day, cycle.gap(before))
		plan[i].MeanRoast = since.held(plan[before].UpTo - plan[i].UpTo).ShortBags
	}
	return plan, nil
}

// gap is the number of days from roast i to the next.
func (c Cycle) gap(i int) int {
	if i+1 < len(c.RoastDays) {
		return c.RoastDays[i+1] - c.RoastDays[i]
	}
	return c.RoastDays[0] + len(c.Days) - c.RoastDays[i]
}

func (c Cycle) check() []*FieldError {
	bad := checkDays(nil, "Days", c.Days)
	bad = fault.Int(bad, "RoastDays", len(c.RoastDays), 1, MaxDays, "roasts")
	last, top := -1, max(0, min(len(c.Days), MaxDays)-1)
	for i, s := range c.RoastDays[:min(len(c.RoastDays), MaxDays)] {
		if s <= last || s > top {
			bad = append(bad, &FieldError{Field: "RoastDays[" + itoa(i) + "]", Given: itoa(s), Min: float64(min(last+1, top)), Max: float64(top), Why: "in order, none twice"})
		}
		last = max(last, min(s, top))
	}
	bad = checkAges(bad, c.RestDays, c.ShelfDays)
	bad = checkLevel(bad, c.LevelPct)
	if bad == nil { // the longest stretch must stay countable
		var most int
		for _, d := range c.Days {
			for _, b := range d {
				most = max(most, b.Bags)
			}
		}
		for i := range c.RoastDays {
			if days := c.gap(i) + c.RestDays; days*most > MaxTotalBags {
				bad = append(bad, &FieldError{Field: "Days", Given: itoa(days * most), Min: 0, Max: MaxTotalBags, Unit: "bags from a roast to the next rested one"})
				break
			}
		}
	}
	return bad
}

// nothing is the chance under which no bag counts as left.
const nothing = 1e-18

// left is the mean of what of a stock is left after some days, and the chance
// in percent that anything is.
func left(tallies []tally, from, days, stock int) (mean, pct float64) {
	p := make([]float64, stock) // probability of each demand under the stock
	if stock == 0 {
		return 0, 0
	}
	p[0] = 1
	next := make([]float64, stock)
	for k := range days {
		t := tallies[(from+k)%len(tallies)]
		clear(next)
		rest := 0.0 // the chance that anything is still left
		for d, n := range t.count {
			if n == nil || d >= stock {
				continue
			}
			w := share(n, t.total) / 100
			for i, q := range p[:stock-d] {
				next[i+d] += q * w
				rest += q * w
			}
		}
		p, next = next, p
		if rest < nothing {
			return 0, 0
		}
	}
	for d, q := range p {
		mean += q * float64(stock-d)
		pct += 100 * q
	}
	return mean, min(pct, 100) // a sum of 100 may round to just over it
}

// A Need is a roast day's sum.
//
// The zero Need is refused: a batch has bags.
type Need struct {
	UpTo     int // bags wanted after roasting, from a Roast or a Held
	Have     int // bags at hand and at rest that will not be stale before they are sold
	PerBatch int // bags that one batch of the roaster fills; 1 where any number will do
}

// Bags is what to roast.
type Bags struct {
	Bags    int // wanted
	Batches int // whole batches, at least that many bags
	Extra   int // bags beyond those wanted that whole batches make
}

// ToRoast returns how many bags to roast, and in how many whole batches.
//
//	bags = max(0, upTo − have);  batches = ⌈bags/perBatch⌉
//
//	need.UpTo, need.Have   bags   accepted 0 to MaxTotalBags
//	need.PerBatch          bags   accepted 1 to MaxTotalBags
//
// Fields outside their range are refused with an [*InputError].
//
// Source: definition.
func ToRoast(need Need) (Bags, error) {
	bad := fault.Int(nil, "UpTo", need.UpTo, 0, MaxTotalBags, "bags")
	bad = fault.Int(bad, "Have", need.Have, 0, MaxTotalBags, "bags")
	bad = fault.Int(bad, "PerBatch", need.PerBatch, 1, MaxTotalBags, "bags")
	if err := fault.Input(bad); err != nil {
		return Bags{}, err
	}
	b := Bags{Bags: max(0, need.UpTo-need.Have)}
	b.Batches = (b.Bags + need.PerBatch - 1) / need.PerBatch
	b.Extra = b.Batches*need.PerBatch - b.Bags
	return b, nil
}
