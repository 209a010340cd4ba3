package sampling

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Variables is a plan by measuring: read N units, accept the lot where the
// mean lies K standard deviations inside its limit.
//
// The zero Variables is refused.
type Variables struct {
	N       int     // readings, count, 2 to 1 000 000 (1 where SDKnown)
	K       float64 // acceptability constant, pure number, −10 to 10
	SDKnown bool    // the deviation is that of the process, known from many lots, not that of these readings
}

func (v Variables) check(bad []*FieldError) []*FieldError {
	least := 2
	if v.SDKnown {
		least = 1
	}
	bad = fault.Int(bad, "N", v.N, least, MaxReadings, "readings")
	return fault.Float(bad, "K", v.K, -10, 10, "")
}

// AcceptVariablesPct returns the chance that a plan by measuring accepts a
// normal lot of a stated quality.
//
//	P_a = P(t'(n − 1, z·√n) ≥ k·√n), or Φ((z − k)·√n) with a known deviation
//	z = z(1 − p)
//
//	n, k  plan.N, plan.K
//	p     badPct/100       %, accepted 0.0001 to 99.9999
//	P_a                    %
//
// Source: ISO 3951-1:2013, annex; Owen, Technometrics 10, 1968.
func AcceptVariablesPct(plan Variables, badPct float64) (float64, error) {
	bad := plan.check(nil)
	bad = fault.Float(bad, "badPct", badPct, 1e-4, 99.9999, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	root := math.Sqrt(float64(plan.N))
	z := -num.NormalQuantile(badPct / 100)
	if plan.SDKnown {
		return 100 * num.NormalCDF((z-plan.K)*root), nil
	}
	_, above, _ := num.NoncentralT{Nu: float64(plan.N - 1), Delta: z * root}.Shares(plan.K * root)
	return 100 * math.Min(above, 1), nil
}

// PlanVariables returns the smallest plan by measuring that keeps two points.
//
//	smallest n with t'(β', n − 1, z_b·√n) ≤ t'(α, n − 1, z_g·√n), β' = 1 − β
//	k = t'(α, n − 1, z_g·√n)/√n
//
//	points   as its fields say
//	sdKnown  the deviation is known: normal quantiles in place of noncentral t
//
// Of the k that keep both points this is the largest: the good lot's chance is
// met exactly and the buyer has the rest. The same protection takes far fewer
// readings than counting, if the lot is normal. More than MaxReadings would be
// an [*ImpossibleError]: the points are too close together.
//
// Source: definition, from ISO 3951-1:2013; Owen, Technometrics 10, 1968.
func PlanVariables(points Points, sdKnown bool) (Variables, error) {
	if bad := points.check(); bad != nil {
		return Variables{}, fault.Input(bad)
	}
	zg := -num.NormalQuantile(points.GoodPct / 100)
	alpha, beta := (100-points.GoodAcceptPct)/100, points.BadAcceptPct/100
	ends := func(n int, badPct float64) (least, most float64) {
		zb := -num.NormalQuantile(badPct / 100)
		root := math.Sqrt(float64(n))
		if sdKnown {
			return zb - num.NormalQuantile(beta)/root, zg + num.NormalQuantile(alpha)/root
		}
		nu := float64(n - 1)
		return num.NoncentralT{Nu: nu, Delta: zb * root}.QuantileAbove(beta) / root,
			num.NoncentralT{Nu: nu, Delta: zg * root}.Quantile(alpha) / root
	}
	const top = int(MaxReadings)
	fits := func(n int, badPct float64) bool {
		least, most := ends(n, badPct)
		return least <= most
	}
	if !fits(top, points.BadPct) {
		worse := num.Furthest(90, points.BadPct, func(badPct float64) bool { return fits(top, badPct) })
		return Variables{}, &ImpossibleError{Quantity: "plan", Why: "more than 1 000 000 would be needed",
			Field: "BadPct", Given: fault.Shortest(points.BadPct), Min: worse, Max: 90, Unit: "% bad"}
	}
	lo, hi := 1, top
	if sdKnown {
		lo = 0
	}
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if fits(mid, points.BadPct) {
			hi = mid
		} else {
			lo = mid
		}
	}
	_, k := ends(hi, points.BadPct)
	return Variables{N: hi, K: k, SDKnown: sdKnown}, nil
}

// Estimated returns the estimated share of a lot beyond its limit, without
// bias, from a quality index.
//
//	p̂ = I_v(n/2 − 1, n/2 − 1), v = max(0, ½ − ½·Q·√n/(n − 1))
//
//	n  n      readings, accepted 3 to 1 000 000
//	Q  index  (limit − x̄)/s toward the limit, pure number, accepted −1000 to 1000
//	p̂         %
//
// With two limits the estimates for both add.
//
// Source: MIL-STD-414, 1957, form 2; Lieberman & Resnikoff, JASA 50, 1955.
func Estimated(n int, index float64) (float64, error) {
	bad := fault.Int(nil, "n", n, 3, MaxReadings, "readings")
	bad = fault.Float(bad, "index", index, -1000, 1000, "")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return 100 * estimated(n, index), nil
}

// estimated takes I_v(a, a) as Student's t with 2·a degrees of freedom, which
// keeps its digits for large n: v = ½ − ½·t/√(ν + t²).
func estimated(n int, index float64) float64 {
	w := index * math.Sqrt(float64(n)) / float64(n-1)
	switch {
	case w >= 1:
		return 0
	case w <= -1:
		return 1
	}
	nu := float64(n - 2)
	return num.StudentCDF(-w*math.Sqrt(nu/((1-w)*(1+w))), nu)
}

// IndexFor returns the k that is one plan with a greatest estimated share M:
// form 1 from form 2.
//
//	k = (n − 1)·(1 − 2·B(M; n/2 − 1, n/2 − 1))/√n
//
//	n  n       readings, accepted 3 to 1 000 000
//	M  maxPct  %, accepted 0.0001 to 99.9999
//	k          pure number
//
// Source: MIL-STD-414, 1957, forms 1 and 2.
func IndexFor(n int, maxPct float64) (float64, error) {
	bad := fault.Int(nil, "n", n, 3, MaxReadings, "readings")
	bad = fault.Float(bad, "maxPct", maxPct, 1e-4, 99.9999, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	nu := float64(n - 2)
	t := -num.StudentQuantile(maxPct/100, nu)
	return float64(n-1) / math.Sqrt(float64(n)) * t / math.Sqrt(nu+t*t), nil
}

// A Measured is what a plan by measuring says of a lot.
type Measured struct {
	Accept       bool
	Mean, SD     float64 // of the readings, in their unit
	Index        float64 // (limit − mean)/SD toward the limit, pure number
	EstimatedPct float64 // share estimated beyond the limit, %; 0 where so few readings give no estimate
}

// JudgeVariables says whether a plan by measuring accepts a lot.
//
//	accept where Q = (U − x̄)/s ≥ k, or (x̄ − L)/s ≥ k
//
//	x     readings  any unit, as many as the plan has, each within ±1e15
//	U, L  limit     same unit; upper says which
//	s     that of the readings, or sd where plan.SDKnown (else sd must be 0)
//
// Readings without any scatter are refused: a display too coarse for the plan.
//
// Source: ISO 3951-1:2013, 16; MIL-STD-414, 1957, form 1.
func JudgeVariables(readings []float64, limit float64, upper bool, plan Variables, sd float64) (Measured, error) {
	bad := checkReadings(nil, "readings", readings, 1)
	bad = fault.Float(bad, "limit", limit, -MaxMagnitude, MaxMagnitude, "")
	bad = plan.check(bad)
	if plan.SDKnown {
		bad = fault.Float(bad, "sd", sd, 1e-300, MaxMagnitude, "")
	} else {
		bad = fault.Float(bad, "sd", sd, 0, 0, "")
	}
	if bad == nil && len(readings) != plan.N {
		bad = fault.Int(bad, "readings", len(readings), plan.N, plan.N, "readings")
	}
	if bad != nil {
		return Measured{}, fault.Input(bad)
	}
	mean, s, _ := momentsOf(readings, func(x float64) float64 { return x })
	m := Measured{Mean: mean, SD: s}
	if plan.SDKnown {
		s = sd
	}
	m.Index = limit - mean
	if !upper {
		m.Index = -m.Index
	}
	m.Index /= s
	if !(math.Abs(m.Index) <= 1e15) {
		return Measured{}, fault.Input(append(bad, &FieldError{Field: "readings", Given: strconv.Itoa(len(readings)) + " alike", Min: 2, Max: MaxReadings,
			Why: "readings without scatter say nothing of a lot's; take a finer meter"}))
	}
	m.Accept = m.Index >= plan.K
	switch {
	case plan.SDKnown && plan.N >= 2:
		m.EstimatedPct = 100 * num.NormalCDF(-m.Index*math.Sqrt(float64(plan.N)/float64(plan.N-1)))
	case plan.SDKnown:
	case plan.N >= 3:
		m.EstimatedPct = 100 * estimated(plan.N, m.Index)
	}
	return m, nil
}

// tabledN are the sample sizes of the table of plans by measuring.
var tabledN = [...]int{3, 4, 5, 7, 10, 15, 20, 25, 30, 35, 40, 50, 75, 100, 150, 200}

// tabledK holds k by sample size and AQL from 0.10 to 10 %; 0 is a cell from
// which the table points elsewhere.
var tabledK = [len(tabledN)][11]float64{
	{0, 0, 0, 0, 0, 0, 0, 1.12, 0.958, 0.765, 0.566},
	{0, 0, 0, 0, 0, 1.45, 1.34, 1.17, 1.01, 0.814, 0.617},
	{0, 0, 0, 0, 1.65, 1.53, 1.40, 1.24, 1.07, 0.874, 0.675},
	{0, 0, 2.00, 1.88, 1.75, 1.62, 1.50, 1.33, 1.15, 0.955, 0.755},
	{0, 2.24, 2.11, 1.98, 1.84, 1.72, 1.58, 1.41, 1.23, 1.03, 0.828},
	{2.42, 2.32, 2.20, 2.06, 1.91, 1.79, 1.65, 1.47, 1.30, 1.09, 0.886},
	{2.47, 2.36, 2.24, 2.11, 1.96, 1.82, 1.69, 1.51, 1.33, 1.12, 0.917},
	{2.50, 2.40, 2.26, 2.14, 1.98, 1.85, 1.72, 1.53, 1.35, 1.14, 0.936},
	{2.51, 2.41, 2.28, 2.15, 2.00, 1.86, 1.73, 1.55, 1.36, 1.15, 0.946},
	{2.54, 2.45, 2.31, 2.18, 2.03, 1.89, 1.76, 1.57, 1.39, 1.18, 0.969},
	{2.55, 2.44, 2.31, 2.18, 2.03, 1.89, 1.76, 1.58, 1.39, 1.18, 0.971},
	{2.60, 2.50, 2.35, 2.22, 2.08, 1.93, 1.80, 1.61, 1.42, 1.21, 1.00},
	{2.66, 2.55, 2.41, 2.27, 2.12, 1.98, 1.84, 1.65, 1.46, 1.24, 1.03},
	{2.69, 2.58, 2.43, 2.29, 2.14, 2.00, 1.86, 1.67, 1.48, 1.26, 1.05},
	{2.73, 2.61, 2.47, 2.33, 2.18, 2.03, 1.89, 1.70, 1.51, 1.29, 1.07},
	{2.73, 2.62, 2.47, 2.33, 2.18, 2.04, 1.89, 1.70, 1.51, 1.29, 1.07},
}

// TabledVariables returns the standard's plan by measuring, one limit,
// deviation unknown, normal inspection, for a sample size of its table.
//
//	n       readings, one of 3 4 5 7 10 15 20 25 30 35 40 50 75 100 150 200
//	aqlPct  % bad, one of 0.10 0.15 0.25 0.40 0.65 1.0 1.5 2.5 4.0 6.5 10
//
// Small samples have no plan at strict qualities: an [*ImpossibleError] names
// the least n that has one.
//
// The constants are from memory, three of them confirmed by documents opened;
// newer editions of ISO 3951-1 differ in the second decimal. The plan protects
// the producer: n = 35, k = 1.89 for 1 % passes a fifth of the lots that have
// 5 % bad.
//
// Source: MIL-STD-414, 1957, table B-1.
func TabledVariables(n int, aqlPct float64) (Variables, error) {
	var bad []*FieldError
	row, col := -1, -1
	for i, v := range tabledN {
		if v == n {
			row = i
		}
	}
	if row < 0 {
		bad = append(bad, &FieldError{Field: "n", Given: strconv.Itoa(n), Min: 3, Max: 200, Unit: "readings", Why: "one of 3 4 5 7 10 15 20 25 30 35 40 50 75 100 150 200"})
	}
	for i, v := range aqls[5:] {
		if v == aqlPct {
			col = i
		}
	}
	if col < 0 {
		bad = append(bad, &FieldError{Field: "aqlPct", Given: fault.Shortest(aqlPct), Min: 0.10, Max: 10, Unit: "%", Why: "one of 0.10 0.15 0.25 0.40 0.65 1.0 1.5 2.5 4.0 6.5 10"})
	}
	if bad != nil {
		return Variables{}, fault.Input(bad)
	}
	if tabledK[row][col] == 0 {
		least := row
		for tabledK[least][col] == 0 {
			least++
		}
		return Variables{}, &ImpossibleError{Quantity: "plan", Why: "the table has none for so few readings at that quality",
			Field: "n", Given: strconv.Itoa(n), Min: float64(tabledN[least]), Max: 200, Unit: "readings"}
	}
	return Variables{N: n, K: tabledK[row][col]}, nil
}
