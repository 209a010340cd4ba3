package stock

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// MaxMoney is the largest price or cost of a bag accepted, in any currency.
const MaxMoney = 1e6

// A Trade is what a bag costs and brings, in any one currency.
//
// The zero Trade is refused.
type Trade struct {
	PriceEach    decimal.Decimal // what a bag sells for
	CostEach     decimal.Decimal // what a bag costs to make
	LeftoverEach decimal.Decimal // what a bag not sold in time still brings; negative where it costs
}

func (t Trade) check(bad []*FieldError) []*FieldError {
	top, before := float64(MaxMoney), len(bad)
	bad = fault.Decimal(bad, "PriceEach", t.PriceEach, 1e-4, top, "per bag")
	if len(bad) == before {
		top = t.PriceEach.InexactFloat64()
	}
	before = len(bad)
	bad = fault.Decimal(bad, "CostEach", t.CostEach, 1e-4, top, "per bag")
	if len(bad) == before {
		top = t.CostEach.InexactFloat64()
	}
	bad = fault.Decimal(bad, "LeftoverEach", t.LeftoverEach, -MaxMoney, top, "per bag")
	if bad == nil && (!t.CostEach.LessThan(t.PriceEach) || !t.LeftoverEach.LessThan(t.CostEach)) {
		bad = append(bad, &FieldError{Field: "CostEach", Given: fault.Digits(t.CostEach), Min: t.LeftoverEach.InexactFloat64(), Max: t.PriceEach.InexactFloat64(),
			Unit: "per bag", Why: "it lies between what a bag left over and a bag sold bring"})
	}
	return bad
}

// CriticalRatioPct returns the service level, in percent, at which the last
// bag earns what it risks.
//
//	ratio = (p − c)/(p − s)
//
//	p   trade.PriceEach      per bag   accepted 0.0001 to MaxMoney
//	c   trade.CostEach       per bag   accepted between s and p
//	s   trade.LeftoverEach   per bag   accepted −MaxMoney to under c
//
// Fields outside their range are refused with an [*InputError].
//
// Source: Porteus, Foundations of Stochastic Inventory Theory, 2002, ch. 1.
func CriticalRatioPct(trade Trade) (float64, error) {
	if err := fault.Input(trade.check(nil)); err != nil {
		return 0, err
	}
	return 100 * trade.ratio(), nil
}

func (t Trade) ratio() float64 {
	gain, risk := t.margins()
	return quotient(gain, risk)
}

// quotient is part/all, for the smallest parts that 40 digits can hold.
func quotient(part, all decimal.Decimal) float64 { return part.DivRound(all, 70).InexactFloat64() }

// z is the normal quantile of the ratio, from the end that keeps its digits.
func (t Trade) z() float64 {
	gain, risk := t.margins()
	if loss := t.CostEach.Sub(t.LeftoverEach); loss.LessThan(gain) {
		return -num.NormalQuantile(quotient(loss, risk))
	}
	return num.NormalQuantile(quotient(gain, risk))
}

// margins is p − c and p − s.
func (t Trade) margins() (gain, risk decimal.Decimal) {
	return t.PriceEach.Sub(t.CostEach), t.PriceEach.Sub(t.LeftoverEach)
}

// Order is a one-time stock and what it brings.
type Order struct {
	Bags       float64 // stock, bags; whole from BestStock
	RatioPct   float64 // the critical ratio, %
	ServicePct float64 // chance that it lasts, %
	FillPct    float64 // share of the demand that it serves, %
	Profit     float64 // mean profit, in the currency of the Trade
	Mismatch   float64 // mean cost of having too many or too few, same
	Notes      Notes
}

// BestStock returns the stock that earns most on average over days without
// roasting, exactly, from the histogram of past demand.
//
//	S        = min S with P(D ≤ S) ≥ (p − c)/(p − s)
//	profit   = (p − c)·E[D] − mismatch
//	mismatch = (p − c)·E[(D − S)⁺] + (c − s)·E[(S − D)⁺]
//
//	days       as in Buffer
//	p, c, s    trade, as in CriticalRatioPct
//
// The ratio is compared exactly. Where a bag left over loses more than a bag
// sold earns the answer is noted. A customer sent away counts as one lost
// margin and no more; a lost customer costs more. Fields outside their range
// are refused with an [*InputError].
//
// Source: Arrow, Harris & Marschak, Econometrica 19, 1951; Winston, Operations
// Research, the news vendor problem, discrete demand.
func BestStock(days [][]Bin, trade Trade) (Order, error) {
	bad := checkDays(nil, "days", days)
	bad = trade.check(bad)
	if err := fault.Input(bad); err != nil {
		return Order{}, err
	}
	t := addUp(days)
	gain, risk := trade.margins()
	// gain/risk with both brought to whole numbers.
	gn, gd := ratio(gain)
	rn, rd := ratio(risk)
	h := t.held(t.quantile(gn.Mul(gn, rd), rn.Mul(rn, gd)))
	return trade.order(float64(h.Bags), h.ServicePct, h.MeanBags, h.ShortBags, h.LeftBags), nil
}

func (t Trade) order(bags, servicePct, mean, short, left float64) Order {
	gain := t.PriceEach.Sub(t.CostEach).InexactFloat64()
	loss := t.CostEach.Sub(t.LeftoverEach).InexactFloat64()
	o := Order{Bags: bags, RatioPct: 100 * t.ratio(), ServicePct: servicePct, FillPct: 100}
	if mean > 0 {
		o.FillPct = 100 * (1 - short/mean)
	}
	o.Mismatch = gain*short + loss*left
	o.Profit = gain*mean - o.Mismatch
	if gain < loss {
		o.Notes |= ThinMargin
	}
	return o
}

// A Market is a demand known by its mean and spread only, with its Trade.
//
// The zero Market is refused.
type Market struct {
	Trade
	MeanBags float64 // μ, bags
	SDBags   float64 // σ, bags
}

// Newsvendor returns the stock that earns most on average where demand is
// normal: the textbook's answer, for demand of which no histogram exists.
//
//	z        = Φ⁻¹((p − c)/(p − s));  Q = μ + z·σ
//	short    = σ·(φ(z) − z·(1 − Φ(z)))
//	left     = short + z·σ = σ·(φ(z) + z·Φ(z))
//	profit   = (p − c)·μ − (p − s)·φ(z)·σ
//
//	μ         market.MeanBags   bags   accepted 1 to MaxTotalBags
//	σ         market.SDBags     bags   accepted 0 to μ
//	p, c, s   as in CriticalRatioPct
//
// However little a bag left over loses, or a bag sold earns, z comes from the
// difference in decimals. A spread over a third of the mean gives the normal a
// share of negative demand: take [BestStock]. Where a thin margin and a wide
// spread make so much of it that less than nothing would be served, there is no
// answer: an [*ImpossibleError] says up to which spread there is. Fields outside
// their range are refused with an [*InputError].
//
// Source: Porteus, Foundations of Stochastic Inventory Theory, 2002, ch. 1;
// Gallego, The newsvendor problem, 1995.
func Newsvendor(market Market) (Order, error) {
	bad := market.Trade.check(nil)
	bad = checkNormal(bad, market.MeanBags, market.SDBags)
	if err := fault.Input(bad); err != nil {
		return Order{}, err
	}
	z := market.z()
	lost := NormalLoss(z) // over −z: where more than nothing is served, more than nothing is held
	short, left := market.SDBags*lost, market.SDBags*NormalLoss(-z)
	if short > market.MeanBags {
		return Order{}, &ImpossibleError{Quantity: "stock", Why: "with so wide a spread the normal takes much of the demand for negative; take a histogram",
			Field: "SDBags", Given: fault.Shortest(market.SDBags), Min: 0,
			Max: num.Inside(market.MeanBags/lost, 0, func(sd float64) bool { return sd*lost <= market.MeanBags }), Unit: "bags"}
	}
	return market.order(market.MeanBags+z*market.SDBags, 100*market.ratio(), market.MeanBags, short, left), nil
}

func checkNormal(bad []*FieldError, mean, sd float64) []*FieldError {
	top, before := float64(MaxTotalBags), len(bad)
	bad = fault.Float(bad, "MeanBags", mean, 1, top, "bags")
	if len(bad) == before {
		top = mean
	}
	return fault.Float(bad, "SDBags", sd, 0, top, "bags")
}

// NormalLoss returns the mean by which a standard normal exceeds z: what a
// stock of z standard deviations over the mean falls short by on average, in
// standard deviations. It is NaN for NaN only.
//
//	L(z) = φ(z) − z·(1 − Φ(z))
//
// Far out, where the difference would cancel, the continued fraction of the
// normal tail keeps its digits.
//
// Source: Silver, Pyke & Thomas, Inventory and Production Management in
// Supply Chains, appendix, G_u(k); Abramowitz & Stegun 26.2.14.
func NormalLoss(z float64) float64 {
	phi := math.Exp(-0.5*z*z) / math.Sqrt(2*math.Pi)
	if z < 5 {
		return phi - z*num.NormalCDF(-z)
	}
	// 1 − Φ = φ/(z + 1/(z + 2/(z + 3/…))); with f the part under the first
	// bar, L = φ·(1 − z/(z + f)) = φ·f/(z + f).
	var f float64
	for k := 60; k >= 1; k-- {
		f = float64(k) / (z + f)
	}
	return phi * f / (z + f)
}

// A Lead is the demand during the days that new stock takes, known by means
// and spreads.
//
// The zero Lead is refused.
type Lead struct {
	DailyBags   float64 // mean demand of a day, bags
	DailySDBags float64 // its standard deviation, bags
	LeadDays    float64 // mean days from ordering to having, days
	LeadSDDays  float64 // their standard deviation, days
	ReviewDays  float64 // days between two chances to order, days; 0 where one orders at any time
}

// Safety is a safety stock.
type Safety struct {
	SafetyBags  float64 // held beyond the mean demand, bags; negative where less than it will do
	ReorderBags float64 // stock at hand and on the way at which to order, or up to which, bags
	SpreadBags  float64 // standard deviation of the demand until new stock is there, bags
	Notes       Notes
}

func (l Lead) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "DailyBags", l.DailyBags, 0.01, 1e6, "bags")
	bad = fault.Float(bad, "DailySDBags", l.DailySDBags, 0, 1e6, "bags")
	bad = fault.Float(bad, "LeadDays", l.LeadDays, 0, 365, "days")
	bad = fault.Float(bad, "LeadSDDays", l.LeadSDDays, 0, 365, "days")
	return fault.Float(bad, "ReviewDays", l.ReviewDays, 0, 365, "days")
}

// spread is the standard deviation of the demand during lead and review.
func (l Lead) spread() float64 {
	return math.Sqrt((l.LeadDays+l.ReviewDays)*l.DailySDBags*l.DailySDBags + l.DailyBags*l.DailyBags*l.LeadSDDays*l.LeadSDDays)
}

func (l Lead) mean() float64 { return l.DailyBags * (l.LeadDays + l.ReviewDays) }

func (l Lead) safety(z float64) Safety {
	s := Safety{SafetyBags: z * l.spread(), SpreadBags: l.spread()}
	s.ReorderBags = l.mean() + s.SafetyBags
	if s.SafetyBags < 0 {
		s.Notes |= NegativeStock
	}
	return s
}

// SafetyStock returns the stock beyond the mean demand with which a share
// levelPct of the waits for new stock ends without running out, where demand
// is normal.
//
//	σ_L = √((L + R)·σ² + μ²·σ_days²);  SS = z·σ_L;  reorder at μ·(L + R) + SS
//
//	μ        lead.DailyBags     bags   accepted 0.01 to 1 000 000
//	σ        lead.DailySDBags   bags   accepted 0 to 1 000 000
//	L        lead.LeadDays      days   accepted 0 to 365
//	σ_days   lead.LeadSDDays    days   accepted 0 to 365
//	R        lead.ReviewDays    days   accepted 0 to 365
//	z        normal quantile of levelPct, %, accepted MinLevelPct to MaxLevelPct
//
// Any other unit of time does, if it is the same in all five: weeks for days.
// With R over zero ReorderBags is the level to order up to. Fields outside
// their range are refused with an [*InputError].
//
// Source: Chopra & Meindl, Supply Chain Management, safety inventory; Heizer &
// Render, Operations Management, ch. 12.
func SafetyStock(lead Lead, levelPct float64) (Safety, error) {
	bad := lead.check(nil)
	bad = fault.Float(bad, "levelPct", levelPct, MinLevelPct, MaxLevelPct, "%")
	if err := fault.Input(bad); err != nil {
		return Safety{}, err
	}
	return lead.safety(num.NormalQuantile(levelPct / 100)), nil
}

// FillRatePct returns the share of the demand, in percent, that is served
// from a stock with a given safety, ordered in lots.
//
//	fill = 1 − σ_L·L(SS/σ_L)/Q, L the normal loss
//
//	SS   safetyBags   bags   accepted −1e6 to 1e6
//	Q    lotBags      bags   accepted 0.01 to 1e9, what one order brings
//	σ_L  of lead, as in SafetyStock
//
// Shortage within one order is taken to be less than the lot. A stock so
// small that it is not, and fields outside their range, are refused with an
// [*InputError].
//
// Source: Chopra & Meindl, Supply Chain Management, expected shortage per
// replenishment cycle; Silver, Pyke & Thomas, Inventory and Production
// Management in Supply Chains.
func FillRatePct(lead Lead, safetyBags, lotBags float64) (float64, error) {
	bad := lead.check(nil)
	bad = fault.Float(bad, "safetyBags", safetyBags, -1e6, 1e6, "bags")
	bad = fault.Float(bad, "lotBags", lotBags, 0.01, 1e9, "bags")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	short := lead.short(safetyBags)
	if short > lotBags {
		return 0, fault.Input([]*FieldError{{Field: "lotBags", Given: fault.Shortest(lotBags), Min: short, Max: 1e9, Unit: "bags",
			Why: "with so little stock more is missing than one lot brings"}})
	}
	return 100 * (1 - short/lotBags), nil
}

// steady says whether a spread is none to speak of.
func steady(spread float64) bool { return spread < 1e-9 }

// short is the mean shortage per order, bags.
func (l Lead) short(safety float64) float64 {
	s := l.spread()
	if steady(s) { // all or nothing
		return max(0, -safety)
	}
	return s * NormalLoss(safety/s)
}

// SafetyForFill returns the safety stock with which a share fillPct of the
// demand is served from stock, ordered in lots.
//
//	SS with σ_L·L(SS/σ_L) = (1 − fill)·Q
//
//	Q      lotBags   bags   accepted 0.01 to 1e9, what one order brings
//	fill   fillPct   %      accepted MinLevelPct to MaxLevelPct
//	σ_L    of lead, as in SafetyStock
//
// With large lots less than the mean demand can be enough: the safety is then
// negative, with a note. Fields outside their range are refused with an
// [*InputError].
//
// Source: Chopra & Meindl, Supply Chain Management, required safety inventory
// given desired fill rate.
func SafetyForFill(lead Lead, lotBags, fillPct float64) (Safety, error) {
	bad := lead.check(nil)
	bad = fault.Float(bad, "lotBags", lotBags, 0.01, 1e9, "bags")
	bad = fault.Float(bad, "fillPct", fillPct, MinLevelPct, MaxLevelPct, "%")
	if err := fault.Input(bad); err != nil {
		return Safety{}, err
	}
	allowed := (1 - fillPct/100) * lotBags
	s := lead.spread()
	if steady(s) {
		out := Safety{SafetyBags: -allowed, SpreadBags: s, ReorderBags: lead.mean() - allowed, Notes: NegativeStock}
		return out, nil
	}
	// L falls from its argument's negative down to nothing at 38: the bracket
	// holds the root of all that is accepted.
	y := allowed / s
	z, _ := num.Root(func(z float64) float64 { return NormalLoss(z) - y }, -y-1, 38, 1e-12)
	return lead.safety(z), nil
}
