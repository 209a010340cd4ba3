package panel

import (
	"math"
	"slices"
	"sort"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// maxWork bounds the enumeration of the rank test: about a tenth of a second.
const maxWork = 1_000_000

// RankTest is what [Friedman] found.
type RankTest struct {
	Statistic   float64 // Friedman's χ²_F, corrected for ties; a pure number
	DF          int     // its degrees of freedom, coffees less one
	KendallW    float64 // concordance, 0 to 1: a pure number
	ByChancePct float64 // how often tasters without opinion agree as well or better, %
	Notes       Notes
}

// Friedman returns whether the tasters rank the coffees alike: Friedman's
// rank test and Kendall's coefficient of concordance, both corrected for
// ties. Each taster's scores are ranked by themselves, so strict and mild
// tasters weigh the same.
//
//	S    = Σ (R_i − m·(n+1)/2)², R_i rank sum of coffee i
//	T    = Σ (t³ − t) over each taster's groups of t equal scores
//	W    = 12·S/(m²·(n³ − n) − m·T)
//	χ²_F = m·(n − 1)·W
//
//	scores[i][j]   coffee i, taster j   accepted −MaxScore to MaxScore
//	n, m           coffees, tasters     accepted 2 to MaxCoffees, 2 to MaxTasters
//
// The probability is exact, by enumeration of the tasters' permutations with
// their ties, for up to 6 coffees while that takes under a million steps (5
// coffees by about 7 tasters, 3 by over 50); beyond, it is that of χ² with
// n − 1 degrees of freedom, with the note Approximate. For few tasters χ² is
// too lenient far out and too strict near 5 %.
//
// Scores outside their range and a ragged table are refused with an
// [*InputError]. Where no taster tells any two coffees apart there is
// nothing to test: an [*ImpossibleError].
//
// Source: Friedman, J. Amer. Statist. Assoc. 32, 1937; Kendall & Babington
// Smith, Ann. Math. Statist. 10, 1939; ISO 8587:2006.
func Friedman(scores [][]float64) (RankTest, error) {
	if err := fault.Input(checkTable(nil, scores, 2)); err != nil {
		return RankTest{}, err
	}
	n, m := len(scores), len(scores[0])
	ranks := make([][]int, m) // doubled, so that ties stay whole
	sums := make([]int, n)
	ties := 0
	for j := range ranks {
		var t int
		ranks[j], t = doubledRanks(scores, j)
		ties += t
		for i, r := range ranks[j] {
			sums[i] += r
		}
	}
	out, ok := friedman(sums, m, ties)
	if !ok {
		return RankTest{}, &ImpossibleError{Quantity: "rank test", Why: "every taster gave all coffees the same score",
			Field: "scores", Given: "0", Min: 1, Max: float64(m), Unit: "tasters who tell coffees apart"}
	}
	if p, ok := byEnumeration(ranks, deviations(sums)); ok {
		out.ByChancePct = 100 * p
	} else {
		out.ByChancePct = 100 * num.ChiSquareTail(out.Statistic, float64(out.DF))
		out.Notes |= Approximate
	}
	return out, nil
}

// RankSums returns the rank sum of each coffee over the tasters, rank 1 for
// the lowest score and the mean rank for equal ones.
//
//	scores[i][j]   coffee i, taster j   accepted −MaxScore to MaxScore
//
// Scores outside their range and a ragged table are refused with an
// [*InputError].
//
// Source: ISO 8587:2006.
func RankSums(scores [][]float64) ([]float64, error) {
	if err := fault.Input(checkTable(nil, scores, 2)); err != nil {
		return nil, err
	}
	sums := make([]float64, len(scores))
	for j := range scores[0] {
		ranks, _ := doubledRanks(scores, j)
		for i, r := range ranks {
			sums[i] += float64(r) / 2
		}
	}
	return sums, nil
}

// doubledRanks gives twice the rank of each coffee by one taster, and Σ(t³−t)
// over that taster's ties.
func doubledRanks(scores [][]float64, j int) (ranks []int, ties int) {
	ranks = make([]int, len(scores))
	var room [fewRows]float64
	column := room[:0]
	for _, row := range scores {
		column = append(column, row[j])
	}
	slices.Sort(column)
	for i, row := range scores {
		below, _ := slices.BinarySearch(column, row[j])
		equal := sort.Search(len(column)-below, func(k int) bool { return column[below+k] > row[j] })
		ranks[i] = 2*below + equal + 1
		ties += equal*equal - 1 // summed over the t members of a tie: t³ − t
	}
	return ranks, ties
}

// deviations is 4·S from doubled rank sums.
func deviations(sums []int) int {
	var total int
	for _, s := range sums {
		total += s
	}
	d, mean := 0, total/len(sums) // m·(n+1), a whole number
	for _, s := range sums {
		off := s - mean
		d += off * off
	}
	return d
}

// friedman makes the statistics from doubled rank sums of m tasters; false
// where all is tied.
func friedman(sums []int, m, ties int) (RankTest, bool) {
	n := len(sums)
	fn, fm := float64(n), float64(m)
	room := fm*fm*(fn*fn*fn-fn) - fm*float64(ties)
	if room <= 0 {
		return RankTest{}, false
	}
	w := 3 * float64(deviations(sums)) / room
	return RankTest{Statistic: fm * (fn - 1) * w, DF: n - 1, KendallW: w}, true
}

// byEnumeration is the probability that 4·S is at least least when each
// taster's ranks are dealt to the coffees at random. The states are sorted
// rank sums: which coffee holds which does not matter.
func byEnumeration(ranks [][]int, least int) (p float64, ok bool) {
	n, m := len(ranks[0]), len(ranks)
	if n > 6 || 2*n*m >= 1<<10 {
		return 0, false
	}
	states := map[uint64]float64{pack(sorted(ranks[0])): 1}
	var work int
	mean := m * (n + 1)
	hit := 0.0
	for j := 1; j < m; j++ {
		perms := permutations(ranks[j])
		if work += len(states) * len(perms); work > maxWork {
			return 0, false
		}
		next := map[uint64]float64{}
		keys := make([]uint64, 0, len(states)) // in an order, so that the sum is the same each time
		for key := range states {
			keys = append(keys, key)
		}
		slices.Sort(keys)
		for _, key := range keys {
			weight := states[key]
			share := weight / float64(len(perms))
			at := unpack(key, n)
			for _, perm := range perms {
				sum := at
				for i, r := range perm {
					sum[i] += r
				}
				if j < m-1 {
					next[pack(sorted(sum[:n]))] += share
					continue
				}
				d := 0
				for _, s := range sum[:n] {
					off := s - mean
					d += off * off
				}
				if d >= least {
					hit += share
				}
			}
		}
		states = next
	}
	return min(hit, 1), true // a sum of 1 may round to just over it
}

// sorted returns a sorted copy of at most six numbers.
func sorted(v []int) []int {
	var a [6]int
	s := a[:copy(a[:], v)]
	slices.Sort(s)
	return s
}

func pack(v []int) (key uint64) {
	for _, x := range v {
		key = key<<10 | uint64(x)
	}
	return key
}

func unpack(key uint64, n int) (v [6]int) {
	for i := n - 1; i >= 0; i-- {
		v[i] = int(key & (1<<10 - 1))
		key >>= 10
	}
	return v
}

// permutations lists the distinct orders of v, which has at most six members.
func permutations(v []int) [][]int {
	var list [][]int
	var build func(done, left []int)
	build = func(done, left []int) {
		if len(left) == 0 {
			list = append(list, append([]int(nil), done...))
			return
		}
		for i, x := range left {
			if i > 0 && left[i-1] == x {
				continue
			}
			rest := append(append([]int(nil), left[:i]...), left[i+1:]...)
			build(append(done, x), rest)
		}
	}
	build(nil, sorted(v))
	return list
}

// LeastRankDifference returns how far apart the rank sums of two coffees must
// lie to call them different, once [Friedman] has found a difference.
//
//	LSRD = z·√(m·n·(n + 1)/6), z the normal quantile at 1 − α/2
//
//	n, m   coffees, tasters   accepted 2 to MaxCoffees, 2 to MaxTasters
//	α      riskPct  %         accepted MinRiskPct to MaxRiskPct, for each pair
//
// It holds for ranks without ties and takes no account of how many pairs are
// compared. Fields outside their range are refused with an [*InputError].
//
// Source: ISO 8587:2006, annex A.
func LeastRankDifference(coffees, tasters int, riskPct float64) (float64, error) {
	bad := fault.Int(nil, "coffees", coffees, 2, MaxCoffees, "")
	bad = fault.Int(bad, "tasters", tasters, 2, MaxTasters, "")
	bad = fault.Float(bad, "riskPct", riskPct, MinRiskPct, MaxRiskPct, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	z := -num.NormalQuantile(riskPct / 200)
	return z * math.Sqrt(float64(tasters)*float64(coffees)*float64(coffees+1)/6), nil
}
