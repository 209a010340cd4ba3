package sampling

import (
	"math"
	"sort"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// MaxUnits is the largest lot or sample accepted, count.
const MaxUnits = 1e7

// ZeroFailure returns how many units must all be good to claim that a stated
// share of the lot is good.
//
//	n = ⌈ln(1 − γ)/ln p⌉
//
//	p  coveragePct/100    share good, %, accepted 50 to 99.99
//	γ  confidencePct/100  %, accepted 50 to 99.99
//	n  units
//
// For a lot much larger than n. No shape is assumed, so that it needs more
// units than [ReadingsForBound] needs readings.
//
// Source: ISO 16269-6:2014, distribution-free; success-run theorem.
func ZeroFailure(coveragePct, confidencePct float64) (int, error) {
	bad := fault.Float(nil, "coveragePct", coveragePct, MinPct, MaxPct, "%")
	bad = fault.Float(bad, "confidencePct", confidencePct, MinPct, MaxPct, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return int(math.Ceil(math.Log((100-confidencePct)/100)/math.Log1p(-(100-coveragePct)/100) - 1e-9)), nil
}

// ZeroFailureInLot returns how many units of a small lot must all be good to
// claim that no more than maxBad are bad.
//
//	smallest n with C(N − D, n)/C(N, n) ≤ 1 − γ, D = maxBad + 1
//
//	N  lot             units, accepted 1 to 10 000 000
//	   maxBad          bad units the claim allows, accepted 0 to lot − 1
//	γ  confidencePct   %, accepted 50 to 99.99
//
// With maxBad 0 nearly every unit must be looked at.
//
// Source: definition (hypergeometric).
func ZeroFailureInLot(lot, maxBad int, confidencePct float64) (int, error) {
	bad := fault.Int(nil, "lot", lot, 1, MaxUnits, "units")
	bad = fault.Int(bad, "maxBad", maxBad, 0, max(lot-1, 0), "units")
	bad = fault.Float(bad, "confidencePct", confidencePct, MinPct, MaxPct, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	risk := (100 - confidencePct) / 100 * (1 + 1e-12)
	lo, hi := 0, lot-maxBad // all good at hi proves the claim
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if num.HypergeometricCDF(0, mid, maxBad+1, lot) <= risk {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, nil
}

// GoodShare returns the share of the lot that may be claimed good after bad of
// n units were found bad.
//
//	p = 1 − B(γ; x + 1, n − x)
//
//	n  n              units drawn, accepted 1 to 10 000 000
//	x  bad            units found bad, accepted 0 to n − 1
//	γ  confidencePct  %, accepted 50 to 99.99
//	p                 %, at least so much with that confidence; B is a quantile of beta
//
// Source: Clopper & Pearson, Biometrika 26, 1934.
func GoodShare(n, bad int, confidencePct float64) (float64, error) {
	f := fault.Int(nil, "n", n, 1, MaxUnits, "units")
	f = fault.Int(f, "bad", bad, 0, max(n-1, 0), "units")
	f = fault.Float(f, "confidencePct", confidencePct, MinPct, MaxPct, "%")
	if f != nil {
		return 0, fault.Input(f)
	}
	if bad == 0 {
		return 100 * math.Pow((100-confidencePct)/100, 1/float64(n)), nil
	}
	risk := (100 - confidencePct) / 100
	p, _ := num.Root(func(p float64) float64 { return num.BinomialUpper(n-bad, n, p) - risk }, 0, 1, 0)
	return 100 * p, nil
}

// quality is the share of bad units with which at most c of n are bad by a
// stated chance: the beta quantile, from the binomial sum, which keeps 13
// digits where the incomplete beta function has 8.
func quality(c, n int, chance float64) float64 {
	p, _ := num.Root(func(p float64) float64 { return num.BinomialLower(c, n, p) - chance }, 0, 1, 0)
	return p
}

// An Attributes is a single-sampling plan by counting: draw N, accept the lot
// with at most Ac bad.
//
// The zero Attributes is refused.
type Attributes struct {
	N     int // units drawn, count
	Ac    int // greatest number of bad units with which the lot is accepted, count
	Lot   int // units of the lot, count; 0 for a lot much larger than N
	Notes Notes
}

func (a Attributes) check(bad []*FieldError) []*FieldError {
	bad = fault.Int(bad, "N", a.N, 1, MaxUnits, "units")
	bad = fault.Int(bad, "Ac", a.Ac, 0, max(a.N-1, 0), "units")
	if a.Lot != 0 {
		bad = fault.Int(bad, "Lot", a.Lot, max(a.N, 1), MaxUnits, "units")
	}
	return bad
}

// AcceptPct returns the chance that a plan accepts a lot of a stated quality:
// one point of its operating characteristic.
//
//	P_a = Σ_{d ≤ c} C(n, d)·p^d·(1 − p)^(n − d), hypergeometric where Lot is given
//
//	n, c  plan.N, plan.Ac  units
//	p     badPct/100       %, accepted 0 to 100; of a Lot rounded to whole units
//	P_a                    %
//
// Source: definition (binomial, hypergeometric); ISO 2859-1:1999, 12.
func AcceptPct(plan Attributes, badPct float64) (float64, error) {
	bad := plan.check(nil)
	bad = fault.Float(bad, "badPct", badPct, 0, 100, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	if plan.Lot != 0 {
		marked := int(math.Round(badPct / 100 * float64(plan.Lot)))
		return 100 * num.HypergeometricCDF(plan.Ac, plan.N, marked, plan.Lot), nil
	}
	return 100 * num.BinomialLower(plan.Ac, plan.N, badPct/100), nil
}

// QualityAt returns the quality that a plan accepts with a stated chance: at
// 95 % what the producer must keep, at 10 % or 5 % what the buyer is protected
// from.
//
//	p = B(1 − P_a; c + 1, n − c)
//
//	n, c  plan.N, plan.Ac  units; Lot must be 0
//	P_a   acceptPct        %, accepted 0.01 to 99.99
//	p                      % bad
//
// Source: definition (binomial, by its beta quantile).
func QualityAt(plan Attributes, acceptPct float64) (float64, error) {
	bad := plan.check(nil)
	if plan.Lot != 0 {
		bad = append(bad, &FieldError{Field: "Lot", Given: strconv.Itoa(plan.Lot), Min: 0, Max: 0, Unit: "units",
			Why: "a small lot has only whole bad units; ask for the chance of each"})
	}
	bad = fault.Float(bad, "acceptPct", acceptPct, 0.01, 99.99, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return 100 * quality(plan.Ac, plan.N, acceptPct/100), nil
}

// Points pin a plan down: a good lot is accepted nearly always, a bad one
// nearly never.
//
// The zero Points is refused.
type Points struct {
	GoodPct       float64 // quality of a good lot, % bad, 0.001 to 50
	GoodAcceptPct float64 // least chance of accepting it, %, 50.01 to 99.99
	BadPct        float64 // quality of a bad lot, % bad, over GoodPct to 90
	BadAcceptPct  float64 // greatest chance of accepting that, %, 0.01 to 49.99
}

func (p Points) check() []*FieldError {
	bad := fault.Float(nil, "GoodPct", p.GoodPct, 0.001, 50, "% bad")
	bad = fault.Float(bad, "GoodAcceptPct", p.GoodAcceptPct, 50.01, 99.99, "%")
	if !(p.BadPct > p.GoodPct && p.BadPct <= 90) {
		bad = append(bad, &FieldError{Field: "BadPct", Given: fault.Shortest(p.BadPct), Min: p.GoodPct, Max: 90, Unit: "% bad", Why: "worse than the good quality"})
	}
	return fault.Float(bad, "BadAcceptPct", p.BadAcceptPct, 0.01, 49.99, "%")
}

// PlanAttributes returns the smallest plan by counting that keeps two points.
//
//	smallest n, with some c: P_a(good) ≥ 1 − α and P_a(bad) ≤ β
//
//	points  as its fields say
//	P_a     binomial, as [AcceptPct] for a large lot
//
// Beyond 100 000 units it is an [*ImpossibleError]: the points are too close
// together for counting.
//
// Source: definition (binomial).
func PlanAttributes(points Points) (Attributes, error) {
	if bad := points.check(); bad != nil {
		return Attributes{}, fault.Input(bad)
	}
	const most = 100000
	pg, pb := points.GoodPct/100, points.BadPct/100
	// For each c the bad point sets the least n and the good point the most;
	// both rise with c.
	least := 1
	for c := 0; ; c++ {
		// Gallop from the last least to one that protects, then halve.
		lo := max(least, c+1) - 1
		hi, step := lo+1, 1
		for hi < most && num.BinomialLower(c, hi, pb) > points.BadAcceptPct/100 {
			lo, step = hi, 2*step
			hi += step
		}
		if hi >= most {
			if hi = most; num.BinomialLower(c, most, pb) > points.BadAcceptPct/100 {
				break
			}
		}
		for hi-lo > 1 {
			mid := (lo + hi) / 2
			if num.BinomialLower(c, mid, pb) <= points.BadAcceptPct/100 {
				hi = mid
			} else {
				lo = mid
			}
		}
		least = hi
		if num.BinomialLower(c, least, pg) >= points.GoodAcceptPct/100 {
			return Attributes{N: least, Ac: c}, nil
		}
	}
	// With all the units there is a plan for a lot bad enough.
	c := sort.Search(most, func(c int) bool { return num.BinomialLower(c, most, pg) >= points.GoodAcceptPct/100 })
	worse := num.Furthest(90, points.BadPct, func(pct float64) bool { return num.BinomialLower(c, most, pct/100) <= points.BadAcceptPct/100 })
	return Attributes{}, &ImpossibleError{Quantity: "plan", Why: "more than 100 000 units would have to be drawn",
		Field: "BadPct", Given: fault.Shortest(points.BadPct), Min: worse, Max: 90, Unit: "% bad"}
}

// letters are the code letters of the tables; I and O are not used.
const letters = "ABCDEFGHJKLMNPQR"

var (
	// letterUnits is the sample size of each letter.
	letterUnits = [len(letters)]int{2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000}
	// lotEnds is the largest lot of each letter at level II; Q has none, and R
	// only arrows reach.
	lotEnds = [...]int{8, 15, 25, 50, 90, 150, 280, 500, 1200, 3200, 10000, 35000, 150000, 500000}
	// aqls is the series of preferred qualities, %.
	aqls = [...]float64{0.010, 0.015, 0.025, 0.040, 0.065, 0.10, 0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5, 10}
	// diagonal is the Ac of each diagonal of the table; −1 points up, −2 down.
	diagonal = [...]int{0, -1, -2, 1, 2, 3, 5, 7, 10, 14, 21}
)

// CodeLetter returns the code letter of a lot at general inspection level II
// and the sample size that belongs to it.
//
//	lot  units, accepted 2 to 10 000 000
//
// Source: ISO 2859-1:1999, tables 1 and 2-A.
func CodeLetter(lot int) (letter string, units int, err error) {
	if bad := fault.Int(nil, "lot", lot, 2, MaxUnits, "units"); bad != nil {
		return "", 0, fault.Input(bad)
	}
	i := letterOf(lot)
	return letters[i : i+1], letterUnits[i], nil
}

func letterOf(lot int) int {
	i := 0
	for i < len(lotEnds) && lot > lotEnds[i] {
		i++
	}
	return i
}

// TabledAttributes returns the standard's single-sampling plan for a lot:
// normal inspection, general level II.
//
//	lot     units, accepted 2 to 10 000 000
//	aqlPct  % bad, one of 0.010 0.015 0.025 0.040 0.065 0.10 0.15 0.25 0.40
//	        0.65 1.0 1.5 2.5 4.0 6.5 10
//
// Where the table points to another letter, that letter's sample size is
// given too, with [Arrow]; where it asks for the whole lot, [WholeLot].
//
// The table is read by its diagonals, of which it is made. Switching to
// tightened and reduced inspection is not here, and without switching the
// table does not protect as it says: it protects the producer, and passes
// lots worse than the AQL often. For a claim about the share of one lot see
// [ZeroFailure] and [ToleranceBound].
//
// Source: ISO 2859-1:1999, table 2-A.
func TabledAttributes(lot int, aqlPct float64) (Attributes, error) {
	bad := fault.Int(nil, "lot", lot, 2, MaxUnits, "units")
	j := -1
	for k, a := range aqls {
		if a == aqlPct {
			j = k
		}
	}
	if j < 0 {
		bad = append(bad, &FieldError{Field: "aqlPct", Given: fault.Shortest(aqlPct), Min: aqls[0], Max: aqls[len(aqls)-1], Unit: "%",
			Why: "one of 0.010 0.015 0.025 0.040 0.065 0.10 0.15 0.25 0.40 0.65 1.0 1.5 2.5 4.0 6.5 10"})
	}
	if bad != nil {
		return Attributes{}, fault.Input(bad)
	}
	i := letterOf(lot)
	plan := Attributes{Lot: lot}
	const first = 14 // letter J is 8 and its Ac = 0 stands at AQL 0.15, which is 6
	d := i + j - first
	switch {
	case d < 0:
		i, plan.Notes = i-d, Arrow
		d = 0
	case d >= len(diagonal):
		i, plan.Notes = i-(d-len(diagonal)+1), Arrow
		d = len(diagonal) - 1
	case d == 1 && i == 0: // nothing above A: down instead
		i, d, plan.Notes = 2, 3, Arrow
	case diagonal[d] == -1:
		i, d, plan.Notes = i-1, d-1, Arrow
	case diagonal[d] == -2:
		i, d, plan.Notes = i+1, d+1, Arrow
	}
	plan.N, plan.Ac = letterUnits[i], diagonal[d]
	if plan.N >= lot {
		plan.N = lot
		plan.Notes |= WholeLot
	}
	return plan, nil
}
