package stock

import (
	"math/big"
	"slices"
	"strconv"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

func itoa(n int) string { return strconv.Itoa(n) }

// The accepted ranges of demand.
const (
	// MaxBags is the largest demand of one day, in bags.
	MaxBags = 5000

	// MaxTimes is how often one demand may have been seen, a count.
	MaxTimes = 100_000

	// MaxBins is the largest number of different demands of one day, a count.
	MaxBins = 1000

	// MaxDays is the largest number of days added, a count.
	MaxDays = 14

	// MaxTotalBags is the largest demand of all days together, in bags.
	MaxTotalBags = 10000

	// MinLevelPct and MaxLevelPct bound a service level or fill rate, %. A
	// fraction given for a percent, 0.95 for 95, falls below.
	MinLevelPct = 50
	MaxLevelPct = 99.999
)

// Notes says what to tell the reader beside an answer. The zero Notes is
// nothing to tell.
type Notes uint32

// The notes.
const (
	// BeyondRecord: fewer days were seen than a level so high can be read
	// from; the answer is the most ever seen, or near it.
	BeyondRecord Notes = 1 << iota
	// Stale: more than one roast in twenty leaves bags past their last day.
	Stale
	// ThinMargin: a bag earns less than it costs; the best stock is small.
	ThinMargin
	// NegativeStock: the target is met with less than the mean demand.
	NegativeStock
)

var clauses = [...]string{
	"the record is too short for a level so high",
	"bags often outlive their last day",
	"the margin is under the loss of a bag left over",
	"less than the mean demand is enough",
}

// String joins the notes as plain clauses.
func (n Notes) String() string {
	s := ""
	for i, c := range clauses {
		if n&(1<<i) != 0 {
			if s != "" {
				s += "; "
			}
			s += c
		}
	}
	return s
}

// A Bin is one demand of the past and how often it was seen.
//
// The zero Bin was never seen.
type Bin struct {
	Bags  int // demand of one day or weekend, bags
	Times int // how often it was seen, a count
}

// Tally counts a record of past demand into a histogram, in order of demand.
//
//	record   bags   accepted 0 to MaxBags each, 1 to MaxTimes of them, MaxBins different ones
//
// A record outside these ranges is refused with an [*InputError].
//
// Source: definition.
func Tally(record []int) ([]Bin, error) {
	bad := fault.Int(nil, "record", len(record), 1, MaxTimes, "days")
	if bad == nil {
		for i, d := range record {
			if uint(d) > MaxBags { // below zero too
				bad = fault.Int(bad, "record["+itoa(i)+"]", d, 0, MaxBags, "bags")
			}
		}
	}
	if err := fault.Input(bad); err != nil {
		return nil, err
	}
	order := slices.Clone(record)
	slices.Sort(order)
	var bins []Bin
	for _, d := range order {
		if n := len(bins); n > 0 && bins[n-1].Bags == d {
			bins[n-1].Times++
		} else {
			bins = append(bins, Bin{d, 1})
		}
	}
	if err := fault.Input(fault.Int(nil, "record", len(bins), 1, MaxBins, "different demands")); err != nil {
		return nil, err
	}
	return bins, nil
}

// checkDays refuses histograms of days, which the input calls name.
func checkDays(bad []*FieldError, name string, days [][]Bin) []*FieldError {
	before := len(bad)
	bad = fault.Int(bad, name, len(days), 1, MaxDays, "days")
	if len(bad) > before {
		return bad
	}
	total := 0
	for i, day := range days {
		at := name + "[" + itoa(i) + "]"
		bad = fault.Int(bad, at, len(day), 1, MaxBins, "bins")
		if len(day) > MaxBins {
			continue
		}
		most, seen := 0, false
		for k, b := range day {
			if uint(b.Bags) > MaxBags || uint(b.Times) > MaxTimes { // below zero too
				bad = fault.Int(bad, at+"["+itoa(k)+"].Bags", b.Bags, 0, MaxBags, "bags")
				bad = fault.Int(bad, at+"["+itoa(k)+"].Times", b.Times, 0, MaxTimes, "")
				continue
			}
			if b.Times > 0 {
				most, seen = max(most, b.Bags), true
			}
		}
		if !seen && len(day) > 0 {
			bad = append(bad, &FieldError{Field: at, Given: "0", Min: 1, Max: MaxTimes, Unit: "days seen", Why: "an empty histogram holds no demand"})
		}
		total += most
	}
	if len(bad) == before {
		bad = fault.Int(bad, name, total, 0, MaxTotalBags, "bags in all")
	}
	return bad
}

// A tally holds how often each total demand occurs, in whole numbers: the
// counts of the days multiplied.
type tally struct {
	count []*big.Int // index is demand, bags; nil is zero
	total *big.Int
	seen  int // the shortest record among the days
}

// newTally is one day's histogram; bins of one demand add up.
func newTally(day []Bin) tally {
	var most, seen int
	for _, b := range day {
		if b.Times > 0 {
			most = max(most, b.Bags)
			seen += b.Times
		}
	}
	t := tally{make([]*big.Int, most+1), big.NewInt(int64(seen)), seen}
	for _, b := range day {
		if b.Times > 0 {
			if t.count[b.Bags] == nil {
				t.count[b.Bags] = new(big.Int)
			}
			t.count[b.Bags].Add(t.count[b.Bags], big.NewInt(int64(b.Times)))
		}
	}
	return t
}

// plus adds another day, independent of the days before. Both histograms are
// written as one long number each, a slot of bytes for every demand, wide
// enough that no sum spills over; the product of the two numbers is then the
// convolution (Kronecker's substitution).
func (t tally) plus(u tally) tally {
	total := new(big.Int).Mul(t.total, u.total)
	width := total.BitLen()/8 + 1
	n := len(t.count) + len(u.count) - 1
	product := new(big.Int).Mul(t.number(width), u.number(width)).FillBytes(make([]byte, n*width))
	sum := tally{make([]*big.Int, n), total, min(t.seen, u.seen)}
	for d := range sum.count {
		slot := product[(n-1-d)*width:][:width]
		if c := new(big.Int).SetBytes(slot); c.Sign() > 0 {
			sum.count[d] = c
		}
	}
	return sum
}

// number is Σ count[d]·256^(width·d).
func (t tally) number(width int) *big.Int {
	n := len(t.count)
	text := make([]byte, n*width)
	for d, c := range t.count {
		if c != nil {
			c.FillBytes(text[(n-1-d)*width:][:width])
		}
	}
	return new(big.Int).SetBytes(text)
}

// addUp convolves days.
func addUp(days [][]Bin) tally {
	t := newTally(days[0])
	for _, d := range days[1:] {
		t = t.plus(newTally(d))
	}
	return t
}

// share is a/b as a float in percent, for whole a and b.
func share(a, b *big.Int) float64 {
	f, _ := new(big.Rat).SetFrac(a, b).Float64()
	return 100 * f
}

// figures are the exact sums at a stock.
type figures struct {
	within *big.Int // count of demands at or under the stock
	short  *big.Int // Σ (demand − stock)⁺ · count
	left   *big.Int // Σ (stock − demand)⁺ · count
	asked  *big.Int // Σ demand · count
}

func (t tally) at(stock int) figures {
	f := figures{new(big.Int), new(big.Int), new(big.Int), new(big.Int)}
	part := new(big.Int)
	for d, n := range t.count {
		if n == nil {
			continue
		}
		f.asked.Add(f.asked, part.Mul(n, big.NewInt(int64(d))))
		if d <= stock {
			f.within.Add(f.within, n)
			f.left.Add(f.left, part.Mul(n, big.NewInt(int64(stock-d))))
		} else {
			f.short.Add(f.short, part.Mul(n, big.NewInt(int64(d-stock))))
		}
	}
	return f
}

// ratio writes a decimal as whole numerator and denominator.
func ratio(d decimal.Decimal) (num, den *big.Int) {
	r := d.Rat()
	return r.Num(), r.Denom()
}

// quantile is the smallest stock at which a share of at least num/den of the
// demands is met whole.
func (t tally) quantile(num, den *big.Int) int {
	need := new(big.Int).Mul(t.total, num)
	have, scaled := new(big.Int), new(big.Int)
	var stock int
	for d, n := range t.count {
		if n == nil {
			continue
		}
		stock = d
		if scaled.Mul(have.Add(have, n), den).Cmp(need) >= 0 {
			break
		}
	}
	return stock
}

// hundredths is a percentage as a share, in whole numbers.
func hundredths(pct decimal.Decimal) (num, den *big.Int) { return ratio(pct.Shift(-2)) }

// beyond says whether a record of n days is too short to read a level from:
// the most ever seen is passed once in n + 1 days.
func beyond(seen int, levelPct decimal.Decimal) bool {
	return levelPct.GreaterThan(decimal.NewFromInt(100*int64(seen)).DivRound(decimal.NewFromInt(int64(seen)+1), 9))
}

func checkLevel(bad []*FieldError, levelPct decimal.Decimal) []*FieldError {
	return fault.Decimal(bad, "LevelPct", levelPct, MinLevelPct, MaxLevelPct, "%")
}

// A Wait is a time without new bags, and how sure one wants to be.
//
// The zero Wait is refused.
type Wait struct {
	Days     [][]Bin         // demand of each day that the stock must last, or one histogram of whole weekends
	LevelPct decimal.Decimal // service level or fill rate, %
}

// Held is a stock and what it does.
type Held struct {
	Bags       int     // stock at hand when the wait begins, bags
	ServicePct float64 // chance that it lasts, %
	FillPct    float64 // share of the demand that it serves, %; 100 where nothing is ever asked
	MeanBags   float64 // mean demand of the wait, bags
	ShortBags  float64 // mean of what is asked and not there, bags
	LeftBags   float64 // mean of what is left, bags
	Notes      Notes
}

func (t tally) held(stock int) Held {
	f := t.at(stock)
	h := Held{Bags: stock, ServicePct: share(f.within, t.total), FillPct: 100,
		MeanBags: share(f.asked, t.total) / 100, ShortBags: share(f.short, t.total) / 100, LeftBags: share(f.left, t.total) / 100}
	if f.asked.Sign() > 0 {
		h.FillPct = share(new(big.Int).Sub(f.asked, f.short), f.asked)
	}
	return h
}

// Buffer returns the smallest stock with which nobody is sent away in a share
// LevelPct of such waits.
//
//	S = min S with P(D ≤ S) ≥ level, D the sum of the days
//
//	Days[i]    wait.Days       each accepted 1 to MaxBins bins of 0 to MaxBags, up to MaxDays days
//	level      wait.LevelPct   %   accepted MinLevelPct to MaxLevelPct
//
// The probability is a ratio of whole numbers, and the level is compared
// exactly: 19 of 20 weekends meet 95 %. A level that the record is too short
// for is noted: from 20 weekends nobody can read 99 %, and the most ever seen
// is passed about once in 21. Fields outside their range are refused with an
// [*InputError].
//
// Source: definition of the quantile of a discrete distribution.
func Buffer(wait Wait) (Held, error) {
	if err := fault.Input(wait.check()); err != nil {
		return Held{}, err
	}
	t := addUp(wait.Days)
	h := t.held(t.quantile(hundredths(wait.LevelPct)))
	if beyond(t.seen, wait.LevelPct) {
		h.Notes |= BeyondRecord
	}
	return h, nil
}

func (w Wait) check() []*FieldError { return checkLevel(checkDays(nil, "Days", w.Days), w.LevelPct) }

// FillBuffer returns the smallest stock that serves a share LevelPct of all
// bags asked for.
//
//	S = min S with E[(D − S)⁺] ≤ (1 − level)·E[D]
//
// Inputs, ranges and refusals are those of [Buffer]; the comparison is exact.
//
// Source: Silver, Pyke & Thomas, Inventory and Production Management in
// Supply Chains, fraction of demand served (P2).
func FillBuffer(wait Wait) (Held, error) {
	if err := fault.Input(wait.check()); err != nil {
		return Held{}, err
	}
	t := addUp(wait.Days)
	num, den := hundredths(wait.LevelPct)
	lost := new(big.Int).Sub(den, num)
	// E[(D − S)⁺] falls as S grows: halve the bracket.
	lo, hi := 0, len(t.count)-1
	a, b := new(big.Int), new(big.Int)
	for lo < hi {
		mid := (lo + hi) / 2
		f := t.at(mid)
		if a.Mul(f.short, den).Cmp(b.Mul(f.asked, lost)) <= 0 {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	h := t.held(lo)
	if beyond(t.seen, wait.LevelPct) {
		h.Notes |= BeyondRecord
	}
	return h, nil
}

// Service returns what a given stock does over a wait: how often it lasts and
// what share it serves.
//
//	ServicePct = P(D ≤ S);  FillPct = 1 − E[(D − S)⁺]/E[D]
//
//	S   bags   accepted 0 to MaxTotalBags
//	    days   as in Buffer
//
// Fields outside their range are refused with an [*InputError].
//
// Source: definition; Silver, Pyke & Thomas, Inventory and Production
// Management in Supply Chains (P1 and P2).
func Service(days [][]Bin, bags int) (Held, error) {
	bad := checkDays(nil, "days", days)
	bad = fault.Int(bad, "bags", bags, 0, MaxTotalBags, "bags")
	if err := fault.Input(bad); err != nil {
		return Held{}, err
	}
	return addUp(days).held(bags), nil
}

// A Chance is one total demand with its probability.
type Chance struct {
	Bags      int     // total demand, bags
	Pct       float64 // probability, %
	WithinPct float64 // probability of this demand or less, %
}

// Demand returns the distribution of the total demand of several days, in
// order, without the demands that cannot occur.
//
//	P(D = d) = Σ Π P(D_i = d_i) over all d_i that add up to d
//
//	days   as in Buffer
//
// Days outside their range are refused with an [*InputError].
//
// Source: definition of the convolution.
func Demand(days [][]Bin) ([]Chance, error) {
	if err := fault.Input(checkDays(nil, "days", days)); err != nil {
		return nil, err
	}
	t := addUp(days)
	var list []Chance
	have := new(big.Int)
	for d, n := range t.count {
		if n != nil {
			have.Add(have, n)
			list = append(list, Chance{d, share(n, t.total), share(have, t.total)})
		}
	}
	return list, nil
}
