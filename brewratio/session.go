package brewratio

import (
	"sort"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// MaxPartsCount is the most parts into which one mass is divided.
const MaxPartsCount = 10_000

// Whole is a mass to be weighed out in parts. The zero Whole is refused.
type Whole struct {
	MassG     decimal.Decimal   // the whole, g
	DivisionG decimal.Decimal   // the step of the scale, g
	Shares    []decimal.Decimal // how the parts stand to each other; any unit
}

// Parts divides a mass into parts that a scale can show and that add up to the
// whole that the scale can show: none of the whole is lost to rounding and
// none is made. Each part is within one division of its exact share.
//
//	N = ⌊M/d⌉    q_i = N·s_i/Σs    n_i = ⌊q_i⌋ or ⌊q_i⌋ + 1
//
// The divisions left over after ⌊q_i⌋ go to the parts with the largest
// remainder q_i − ⌊q_i⌋, at equal remainders to the earlier part.
//
//	M    Whole.MassG      g  accepted 0.1 to 4 000 000
//	d    Whole.DivisionG  g  accepted 0.0001 to 1000
//	s_i  Whole.Shares        accepted 0 to 4 000 000 each, 1 to 10 000 of them, not all 0
//	n_i·d                 g, exact
//
// Outside, it returns nil and an [*InputError]; where the whole is less than
// half a division, an [*ImpossibleError].
//
// Source: method of largest remainders (Hamilton's apportionment), common
// practice.
func Parts(in Whole) ([]decimal.Decimal, error) {
	bad := fault.Decimal(nil, "MassG", in.MassG, MinDoseG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "DivisionG", in.DivisionG, MinDivisionG, MaxDivisionG, "g")
	if bad = fault.Int(bad, "Shares", len(in.Shares), 1, MaxPartsCount, "parts"); len(in.Shares) <= MaxPartsCount {
		sum := decimal.Zero
		for i, s := range in.Shares {
			before := len(bad)
			if bad = fault.Decimal(bad, "Shares["+decimal.NewFromInt(int64(i)).String()+"]", s, 0, MaxWaterG, ""); len(bad) == before {
				sum = sum.Add(s)
			}
		}
		if bad == nil && sum.IsZero() {
			bad = append(bad, &FieldError{Field: "Shares", Given: "0 in all", Min: 0, Max: MaxWaterG, Why: "one part at least must be more than nothing"})
		}
	}
	if err := fault.Input(bad); err != nil {
		return nil, err
	}
	n := in.MassG.DivRound(in.DivisionG, 0)
	if n.IsZero() {
		return nil, &ImpossibleError{Quantity: "parts", Why: "the whole is less than the scale can show",
			Field: "DivisionG", Given: fault.Digits(in.DivisionG), Min: MinDivisionG, Max: in.MassG.Add(in.MassG).InexactFloat64(), Unit: "g"}
	}
	return apportion(n, in.DivisionG, in.Shares), nil
}

// apportion gives each share its whole divisions of n.
func apportion(n, division decimal.Decimal, shares []decimal.Decimal) []decimal.Decimal {
	sum := decimal.Zero
	for _, s := range shares {
		sum = sum.Add(s)
	}
	type rest struct {
		part int
		of   decimal.Decimal // remainder times Σs
	}
	parts := make([]decimal.Decimal, len(shares))
	rests := make([]rest, len(shares))
	left := n
	for i, s := range shares {
		q, r := n.Mul(s).QuoRem(sum, 0)
		parts[i], rests[i] = q, rest{i, r}
		left = left.Sub(q)
	}
	sort.SliceStable(rests, func(i, j int) bool { return rests[i].of.GreaterThan(rests[j].of) })
	one := decimal.NewFromInt(1)
	for i := 0; left.IsPositive(); i++ {
		parts[rests[i].part] = parts[rests[i].part].Add(one)
		left = left.Sub(one)
	}
	for i := range parts {
		parts[i] = parts[i].Mul(division)
	}
	return parts
}

// What a table usually has of each coffee, after the SCAA cupping protocol
// (quoted by a trade article, 2024).
const (
	UsualBowlsPerCoffeeCount  = 5 // bowls
	UsualRinsesPerCoffeeCount = 1 // rinse doses for the grinder
)

// Session is a table to be cupped. The zero Session is refused.
type Session struct {
	CoffeesCount         int             // coffees on the table
	BowlsPerCoffeeCount  int             // bowls of each
	SparesPerCoffeeCount int             // bowls' doses of each kept in hand
	RinsesPerCoffeeCount int             // doses of each ground first and thrown away, so that the grinder forgets the last coffee
	DoseG                decimal.Decimal // coffee per bowl, g
	RinseG               decimal.Decimal // coffee per rinse, g; read only where there are rinses
	WaterG               decimal.Decimal // water per bowl, g
	ExtraWaterG          decimal.Decimal // water for warming bowls, rinsing spoons and the like, g in all
	KettleG              decimal.Decimal // water that one kettle pours, g
	DivisionG            decimal.Decimal // the step of the scale, g
}

// SessionPlan is what a table takes.
type SessionPlan struct {
	BowlsCount       int             // bowls to be poured
	DosesCount       int             // weighings of coffee, spares and rinses among them
	CoffeeG          decimal.Decimal // coffee in all, g, exact
	CoffeePerCoffeeG decimal.Decimal // of each coffee, g, exact
	SampleG          decimal.Decimal // roasted sample to set aside of each coffee, g: that, up to the scale's next division
	WaterG           decimal.Decimal // water in all, g, exact
	KettlesCount     int             // kettles to be filled
	LastKettleG      decimal.Decimal // water in the last of them, g
	Notes            Notes           // [UnusualRatio]
}

func (s Session) check() error {
	bad := fault.Int(nil, "CoffeesCount", s.CoffeesCount, 1, 1000, "")
	bad = fault.Int(bad, "BowlsPerCoffeeCount", s.BowlsPerCoffeeCount, 1, 100, "")
	bad = fault.Int(bad, "SparesPerCoffeeCount", s.SparesPerCoffeeCount, 0, 100, "")
	bad = fault.Int(bad, "RinsesPerCoffeeCount", s.RinsesPerCoffeeCount, 0, 100, "")
	bad = fault.Decimal(bad, "DoseG", s.DoseG, MinDoseG, 1000, "g")
	if s.RinsesPerCoffeeCount != 0 {
		bad = fault.Decimal(bad, "RinseG", s.RinseG, MinDoseG, 1000, "g")
	}
	bad = fault.Decimal(bad, "WaterG", s.WaterG, MinWaterG, 40_000, "g")
	bad = fault.Decimal(bad, "ExtraWaterG", s.ExtraWaterG, 0, MaxWaterG, "g")
	bad = fault.Decimal(bad, "KettleG", s.KettleG, 50, MaxWaterG, "g")
	bad = fault.Decimal(bad, "DivisionG", s.DivisionG, MinDivisionG, 10, "g")
	return fault.Input(bad)
}

// perCoffee lists the exact doses of one coffee in the order of weighing:
// rinses, bowls, spares.
func (s Session) perCoffee() []decimal.Decimal {
	var doses []decimal.Decimal
	for range s.RinsesPerCoffeeCount {
		doses = append(doses, s.RinseG)
	}
	for range s.BowlsPerCoffeeCount + s.SparesPerCoffeeCount {
		doses = append(doses, s.DoseG)
	}
	return doses
}

// PlanSession returns the coffee, the water and the kettles of a cupping table,
// and the roasted sample to set aside for it.
//
//	per coffee  m = r·g + (b + s)·D
//	in all      M = c·m    W_Σ = c·b·W + W_x    kettles = ⌈W_Σ/K⌉
//
//	c, b, s, r  Session.CoffeesCount (1 to 1000), BowlsPerCoffeeCount (1 to
//	            100), SparesPerCoffeeCount and RinsesPerCoffeeCount (0 to 100)
//	D, g        Session.DoseG, Session.RinseG  g  accepted 0.1 to 1000
//	W           Session.WaterG                 g  accepted 0.1 to 40 000
//	W_x         Session.ExtraWaterG            g  accepted 0 to 4 000 000
//	K           Session.KettleG                g  accepted 50 to 4 000 000
//	            Session.DivisionG              g  accepted 0.0001 to 10
//
// Outside, it returns the zero SessionPlan and an [*InputError]. Spares are
// weighed, not poured. Nothing is added for what the grinder keeps: weigh a
// dose before and after grinding and put the difference into DoseG.
//
// Source: definition; one rinse per coffee after the SCAA cupping protocol
// (quoted by a trade article, 2024).
func PlanSession(s Session) (SessionPlan, error) {
	if err := s.check(); err != nil {
		return SessionPlan{}, err
	}
	c := decimal.NewFromInt(int64(s.CoffeesCount))
	plan := SessionPlan{BowlsCount: s.CoffeesCount * s.BowlsPerCoffeeCount}
	for _, m := range s.perCoffee() {
		plan.CoffeePerCoffeeG = plan.CoffeePerCoffeeG.Add(m)
		plan.DosesCount += s.CoffeesCount
	}
	plan.CoffeeG = plan.CoffeePerCoffeeG.Mul(c)
	plan.SampleG = up(plan.CoffeePerCoffeeG, s.DivisionG).Mul(s.DivisionG)
	plan.WaterG = s.WaterG.Mul(decimal.NewFromInt(int64(plan.BowlsCount))).Add(s.ExtraWaterG)
	kettles := up(plan.WaterG, s.KettleG)
	plan.KettlesCount = int(kettles.IntPart())
	plan.LastKettleG = plan.WaterG.Sub(kettles.Sub(decimal.NewFromInt(1)).Mul(s.KettleG))
	if s.WaterG.LessThan(s.DoseG.Mul(decimal.NewFromFloat(MinRatio))) || s.WaterG.GreaterThan(s.DoseG.Mul(decimal.NewFromInt(MaxRatio))) {
		plan.Notes |= UnusualRatio
	}
	return plan, nil
}

// up is the least whole number of steps that reaches m.
func up(m, step decimal.Decimal) decimal.Decimal {
	q, r := m.QuoRem(step, 0)
	if r.IsPositive() {
		q = q.Add(decimal.NewFromInt(1))
	}
	return q
}

// DoseKind says what a weighing of a cupping table is for.
type DoseKind uint8

// The kinds of dose, in the order in which they are weighed.
const (
	RinseDose DoseKind = iota // ground first and thrown away
	BowlDoses                 // into a bowl
	SpareDose                 // kept in hand
)

// String names the kind.
func (k DoseKind) String() string {
	names := [...]string{"rinse", "bowl", "spare"}
	if int(k) < len(names) {
		return names[k]
	}
	return "none"
}

// Weighing is one line of a weighing list.
type Weighing struct {
	CoffeeCount int             // which coffee, from 1
	Kind        DoseKind        // what it is for
	NumberCount int             // which of its kind, from 1
	MassG       decimal.Decimal // what the scale is to show, g
}

// WeighingList returns every dose of a cupping table as the scale can show it.
// The bowls of a coffee are compared with each other: they and its spares get
// one dose, rounded to the scale's division. Its rinses share, by [Parts], what
// that leaves of the sample that was set aside, so that each coffee's list adds
// up to SessionPlan.SampleG. Without a rinse, or on a scale so coarse that the
// bowls leave none of the sample, each dose is rounded by itself.
//
// The input and what is refused are those of [PlanSession]; more than 10 000
// doses are refused too.
//
// Source: method of largest remainders, see [Parts]; alike bowls: common
// practice.
func WeighingList(s Session) ([]Weighing, error) {
	plan, err := PlanSession(s)
	if err != nil {
		return nil, err
	}
	if err := fault.Input(fault.Int(nil, "CoffeesCount", plan.DosesCount, 1, MaxPartsCount, "doses in all")); err != nil {
		return nil, err
	}
	steps := func(mass decimal.Decimal) decimal.Decimal { return mass.DivRound(s.DivisionG, 0) }
	alike := s.BowlsPerCoffeeCount + s.SparesPerCoffeeCount
	bowl := steps(s.DoseG).Mul(s.DivisionG)
	rest := plan.SampleG.Sub(bowl.Mul(decimal.NewFromInt(int64(alike))))
	if rest.LessThan(s.DivisionG) {
		rest = s.RinseG.Mul(decimal.NewFromInt(int64(s.RinsesPerCoffeeCount)))
	}
	masses := s.perCoffee()
	rinses, bowls := masses[:s.RinsesPerCoffeeCount], masses[s.RinsesPerCoffeeCount:]
	if len(rinses) > 0 {
		copy(rinses, apportion(steps(rest), s.DivisionG, rinses))
	}
	for j := range bowls {
		bowls[j] = bowl
	}
	list := make([]Weighing, 0, plan.DosesCount)
	for i := range s.CoffeesCount {
		for j, mass := range masses {
			w := Weighing{CoffeeCount: i + 1, MassG: mass}
			switch r, b := s.RinsesPerCoffeeCount, s.BowlsPerCoffeeCount; {
			case j < r:
				w.Kind, w.NumberCount = RinseDose, j+1
			case j < r+b:
				w.Kind, w.NumberCount = BowlDoses, j-r+1
			default:
				w.Kind, w.NumberCount = SpareDose, j-r-b+1
			}
			list = append(list, w)
		}
	}
	return list, nil
}
