package sampling

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The accepted ranges.
const (
	MaxMagnitude = 1e15 // largest reading or limit accepted, in its unit
	MaxReadings  = 1e6  // readings of one lot, count

	MinPct = 50    // least coverage or confidence accepted, %; a fraction for a percent falls below
	MaxPct = 99.99 // greatest coverage or confidence accepted, %

	// DefaultCoveragePct and DefaultConfidencePct, %, are the usual pair of a
	// tolerance bound; common practice.
	DefaultCoveragePct   = 95
	DefaultConfidencePct = 95
)

func checkClaim(bad []*FieldError, n int, coveragePct, confidencePct float64) []*FieldError {
	bad = fault.Int(bad, "n", n, 2, MaxReadings, "readings")
	bad = fault.Float(bad, "coveragePct", coveragePct, MinPct, MaxPct, "%")
	return fault.Float(bad, "confidencePct", confidencePct, MinPct, MaxPct, "%")
}

// OneSidedFactor returns the k for which x̄ + k·s lies above a stated share of
// a normal lot with stated confidence; x̄ − k·s lies below as much.
//
//	k = t'(γ, n − 1, z(p)·√n)/√n
//
//	n   n                  readings, accepted 2 to 1 000 000
//	p   coveragePct/100    %, accepted 50 to 99.99
//	γ   confidencePct/100  %, accepted 50 to 99.99
//	t'  noncentral Student quantile
//
// Good to 9 significant digits, and within 2e-14 where it is nearly zero.
// Refused fields come in an [*InputError].
//
// Source: ISO 16269-6:2014, annex; Owen, A survey of properties and
// applications of the noncentral t-distribution, Technometrics 10, 1968.
func OneSidedFactor(n int, coveragePct, confidencePct float64) (float64, error) {
	if bad := checkClaim(nil, n, coveragePct, confidencePct); bad != nil {
		return 0, fault.Input(bad)
	}
	return oneSided(n, coveragePct, confidencePct)
}

func oneSided(n int, coveragePct, confidencePct float64) (float64, error) {
	root := math.Sqrt(float64(n))
	delta := -num.NormalQuantile((100-coveragePct)/100) * root
	d := num.NoncentralT{Nu: float64(n - 1), Delta: math.Abs(delta)} // never −0
	k := d.QuantileAbove((100-confidencePct)/100) / root
	if math.IsNaN(k) {
		return 0, &ImpossibleError{Quantity: "tolerance factor", Why: "the search for the noncentral t quantile did not settle",
			Field: "n", Given: strconv.Itoa(n), Min: 2, Max: MaxReadings}
	}
	return k, nil
}

// ApproximateFactor returns the one-sided k by a closed form, for a
// spreadsheet or a check by hand.
//
//	a = 1 − z(γ)²/(2(n − 1)), b = z(p)² − z(γ)²/n
//	k = (z(p) + √(z(p)² − a·b))/a
//
//	n, p, γ  as for [OneSidedFactor]
//
// Within 1.3 % of the exact factor from n = 10 at 95 %/95 %. Where a is not
// over zero it does not exist, an [*ImpossibleError].
//
// Source: Natrella, Experimental Statistics, NBS Handbook 91, 1963; NIST/SEMATECH
// e-Handbook, 7.2.6.3.
func ApproximateFactor(n int, coveragePct, confidencePct float64) (float64, error) {
	if bad := checkClaim(nil, n, coveragePct, confidencePct); bad != nil {
		return 0, fault.Input(bad)
	}
	k, _, _, err := natrella(n, coveragePct, confidencePct)
	return k, err
}

func natrella(n int, coveragePct, confidencePct float64) (k, a, b float64, err error) {
	zp, zg := -num.NormalQuantile((100-coveragePct)/100), -num.NormalQuantile((100-confidencePct)/100)
	a = 1 - zg*zg/(2*float64(n-1))
	b = zp*zp - zg*zg/float64(n)
	if a <= 0 {
		return 0, a, b, &ImpossibleError{Quantity: "approximate tolerance factor", Why: "the approximation breaks down for so few readings; take the exact factor",
			Field: "n", Given: strconv.Itoa(n), Min: math.Floor(zg*zg/2) + 2, Max: MaxReadings}
	}
	return (zp + math.Sqrt(math.Max(zp*zp-a*b, 0))) / a, a, b, nil
}

// TwoSidedFactor returns the k for which x̄ ± k·s holds a stated share of a
// normal lot with stated confidence.
//
//	∫ P(χ²(n − 1) > (n − 1)·r(z)²/k²)·φ(z·√n)·√n dz = γ
//	Φ(z + r) − Φ(z − r) = p
//
//	n, p, γ  as for [OneSidedFactor]
//
// Not for a claim about one side: that is OneSidedFactor, which is smaller.
// Good to 9 significant digits.
//
// Source: ISO 16269-6:2014, annex; Odeh, Tables of two-sided tolerance
// factors for a normal distribution, 1978.
func TwoSidedFactor(n int, coveragePct, confidencePct float64) (float64, error) {
	if bad := checkClaim(nil, n, coveragePct, confidencePct); bad != nil {
		return 0, fault.Input(bad)
	}
	nu, root := float64(n-1), math.Sqrt(float64(n))
	miss := (100 - confidencePct) / 100
	// Half the line of z, the integrand being even; the radius is found once
	// for each node.
	var radius2, weight [3 * 20]float64
	i := 0
	for p := range 3 {
		edge := 8.5 / root / 3
		num.GaussNodes(edge*float64(p), edge*float64(p+1), func(z, w float64) {
			r := wide(z, (100-coveragePct)/100)
			radius2[i], weight[i] = r*r, 2*w*root*num.NormalPDF(z*root)
			i++
		})
	}
	tail := func(k float64) float64 { // chance that the interval is too narrow
		sum := 0.0
		for j, r2 := range radius2 {
			sum += weight[j] * num.ChiSquareCDF(nu*r2/(k*k), nu)
		}
		return sum
	}
	// Bracket about Howe's approximation, in ln k: the tail is long.
	mid := math.Log(howe(n, coveragePct, confidencePct))
	lo, hi := mid-0.1, mid+0.1
	for range 60 {
		if tail(math.Exp(lo)) >= miss {
			break
		}
		lo -= 0.3
	}
	for range 60 {
		if tail(math.Exp(hi)) <= miss {
			break
		}
		hi += 0.3
	}
	x, ok := num.Root(func(x float64) float64 { return math.Log(tail(math.Exp(x)) / miss) }, lo, hi, 1e-12)
	if !ok {
		return 0, &ImpossibleError{Quantity: "tolerance factor", Why: "the search did not settle",
			Field: "n", Given: strconv.Itoa(n), Min: 2, Max: MaxReadings}
	}
	return math.Exp(x), nil
}

// wide is the half-width r about z outside which the share q of a standard
// normal lies.
func wide(z, q float64) float64 {
	lo := -num.NormalQuantile(q / 2)
	hi := lo + z // there one tail alone is q/2 and the other less
	r := math.Max(lo, math.Min(hi, math.Hypot(lo, z)))
	for range 60 { // Newton, kept inside the bracket
		off := num.NormalCDF(-z-r) + num.NormalCDF(z-r) - q
		if off > 0 {
			lo = r
		} else {
			hi = r
		}
		next := r + off/(num.NormalPDF(z+r)+num.NormalPDF(z-r))
		if !(next >= lo && next <= hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-r) <= 1e-13*r {
			return next
		}
		r = next
	}
	return r
}

// HoweFactor returns the two-sided k by a closed form.
//
//	k = z((1 + p)/2)·√((n − 1)(1 + 1/n)/χ²(1 − γ, n − 1))
//
//	n, p, γ  as for [OneSidedFactor]
//
// About 0.4 % below the exact factor at n = 10 and 95 %/95 %.
//
// Source: Howe, Two-sided tolerance limits for normal populations, JASA 64, 1969.
func HoweFactor(n int, coveragePct, confidencePct float64) (float64, error) {
	if bad := checkClaim(nil, n, coveragePct, confidencePct); bad != nil {
		return 0, fault.Input(bad)
	}
	return howe(n, coveragePct, confidencePct), nil
}

func howe(n int, coveragePct, confidencePct float64) float64 {
	z := -num.NormalQuantile((100 - coveragePct) / 200)
	nu := float64(n - 1)
	return z * math.Sqrt(nu*(1+1/float64(n))/num.ChiSquareQuantile((100-confidencePct)/100, nu))
}

// A Side is which end of the lot a claim is about. The zero Side is refused.
type Side uint8

// The sides.
const (
	Upper Side = iota + 1 // at least the share lies below the bound
	Lower                 // at least the share lies above the bound
	Both                  // at least the share lies between the bounds
)

// String is the side in words.
func (s Side) String() string {
	switch s {
	case Upper:
		return "upper"
	case Lower:
		return "lower"
	case Both:
		return "both"
	}
	return "no side"
}

// A Claim is what a tolerance bound is to say.
//
// The zero Claim is refused.
type Claim struct {
	CoveragePct   float64 // share of the lot, %
	ConfidencePct float64 // how often the claim holds, %
	Side          Side
	Lognormal     bool    // the logarithms are normal: readings over zero, skewed to the right
	Division      float64 // the meter's step, in the readings' unit; 0 where it is fine enough not to matter
}

// A Bound is what the readings say of the lot. All but N, K and Notes are in
// the readings' unit.
type Bound struct {
	N      int     // readings, count
	Mean   float64 // of the readings; of a Lognormal the geometric mean
	SD     float64 // standard deviation of the readings; of a Lognormal that of the natural logarithms, pure number
	K      float64 // factor, pure number
	Lo, Hi float64 // the bounds; infinite on the side that the claim leaves open
	Notes  Notes
}

// ToleranceBound returns the value beyond which, with stated confidence, no
// more than the rest of the lot lies.
//
//	bound = x̄ ± k·s, or exp(x̄ ± k·s) of the logarithms
//
//	x  readings  any unit, 2 to 1 000 000, each within ±1e15; over 1e-300 for Lognormal
//	p, γ         claim.CoveragePct, claim.ConfidencePct, %, accepted 50 to 99.99
//	k  Bound.K   [OneSidedFactor], or [TwoSidedFactor] for Both
//
// The claim "95 % of bags below the limit, with 95 % confidence" holds where
// Hi is below the limit. It holds for independent readings of a normal (or
// lognormal) lot, and not for the meter's own scatter, which widens the bound.
//
// With Division the scatter counted is at least the step's own d/√12, and the
// bound lies half a step further out: readings that all show the same digit do
// not prove a lot without spread. [Suspects] says that Grubbs's test at 5 %
// flags a reading; it stays in.
//
// Source: ISO 16269-6:2014; the step: JCGM 100:2008, F.2.2.1.
func ToleranceBound(readings []float64, claim Claim) (Bound, error) {
	bad := checkReadings(nil, "readings", readings, 2)
	bad = fault.Float(bad, "CoveragePct", claim.CoveragePct, MinPct, MaxPct, "%")
	bad = fault.Float(bad, "ConfidencePct", claim.ConfidencePct, MinPct, MaxPct, "%")
	if claim.Side < Upper || claim.Side > Both {
		bad = append(bad, &FieldError{Field: "Side", Given: claim.Side.String(), Min: float64(Upper), Max: float64(Both), Why: "say which end the claim is about"})
	}
	bad = fault.Float(bad, "Division", claim.Division, 0, MaxMagnitude, "")
	if claim.Lognormal {
		for i, x := range readings {
			if !(x >= 1e-300) && x >= -MaxMagnitude {
				bad = append(bad, &FieldError{Field: "readings[" + strconv.Itoa(i) + "]", Given: fault.Shortest(x), Min: 1e-300, Max: MaxMagnitude,
					Why: "a lognormal lot has no zeros; readings below detection want a calculation of their own"})
			}
		}
	}
	if bad != nil {
		return Bound{}, fault.Input(bad)
	}
	n := len(readings)
	var k float64
	var err error
	if claim.Side == Both {
		k, err = TwoSidedFactor(n, claim.CoveragePct, claim.ConfidencePct)
	} else {
		k, err = oneSided(n, claim.CoveragePct, claim.ConfidencePct)
	}
	if err != nil {
		return Bound{}, err
	}
	same := func(x float64) float64 { return x }
	scale, back := same, same
	if claim.Lognormal {
		scale, back = math.Log, math.Exp
	}
	mean, sd, far := momentsOf(readings, scale)
	b := Bound{N: n, Mean: back(mean), SD: sd, K: k, Lo: math.Inf(-1), Hi: math.Inf(1)}
	least := claim.Division / math.Sqrt(12)
	if claim.Lognormal {
		least = math.Min(least/b.Mean, math.MaxFloat64) // finite, so that 0·least is 0
	}
	if sd < least {
		sd = least
		b.Notes |= CoarseMeter
	}
	if n < FewCount {
		b.Notes |= FewReadings
	}
	if n >= 3 && b.SD > 0 && far/b.SD > grubbs(n, 0.05, true) {
		b.Notes |= Suspects
	}
	if claim.Side != Lower {
		b.Hi = back(mean+k*sd) + claim.Division/2
	}
	if claim.Side != Upper {
		b.Lo = back(mean-k*sd) - claim.Division/2
	}
	if b.Hi > math.MaxFloat64 && claim.Side != Lower { // only a lognormal goes so far; its lower end stays over zero
		most := (709 - mean) / k // of the logarithms' scatter
		none := &ImpossibleError{Quantity: "bound", Why: "the scatter is so large that the bound passes all numbers",
			Field: "readings", Given: fault.Shortest(math.Round(100*sd) / 100), Min: 0, Max: math.Floor(100*most) / 100, Unit: "of standard deviation in logarithms"}
		if b.Notes&CoarseMeter != 0 { // and the scatter is the step's own
			none.Field, none.Given, none.Max, none.Unit = "Division", fault.Shortest(claim.Division), most*math.Sqrt(12)*b.Mean, ""
		}
		return Bound{}, none
	}
	return b, nil
}

func checkReadings(bad []*FieldError, name string, x []float64, least int) []*FieldError {
	bad = fault.Int(bad, name, len(x), least, MaxReadings, "readings")
	for i, v := range x {
		if !(math.Abs(v) <= MaxMagnitude) { // the name is made only where it is needed
			bad = fault.Float(bad, name+"["+strconv.Itoa(i)+"]", v, -MaxMagnitude, MaxMagnitude, "")
		}
	}
	return bad
}

// momentsOf gives mean, standard deviation and largest distance from the mean
// of the scaled readings, in two passes, so that a large mean costs no digits.
func momentsOf(x []float64, scale func(float64) float64) (mean, sd, far float64) {
	n := float64(len(x))
	for _, v := range x {
		mean += scale(v) / n
	}
	rest, ss := 0.0, 0.0
	for _, v := range x {
		d := scale(v) - mean
		rest += d
		ss += d * d
	}
	rest /= n
	mean += rest
	for _, v := range x {
		far = math.Max(far, math.Abs(scale(v)-mean))
	}
	if len(x) == 1 {
		return mean, 0, far
	}
	return mean, math.Sqrt(math.Max(ss-n*rest*rest, 0) / (n - 1)), far
}

// ReadingsForBound returns how many readings it takes for a bound to clear a
// limit that lies a stated number of standard deviations beyond the mean.
//
//	smallest n with k(n, p, γ) ≤ m
//
//	m     marginSD  (limit − mean)/standard deviation, pure number, accepted 0.01 to 1000
//	p, γ            %, accepted 50 to 99.99
//	k               [OneSidedFactor]
//
// The mean and deviation of the lot are as guessed beforehand; with n readings
// their own luck clears the limit about every other time. A margin of z(p) or
// less cannot be cleared by any number, and one little over it by no number up
// to MaxReadings: an [*ImpossibleError] says which.
//
// Source: definition, from ISO 16269-6:2014.
func ReadingsForBound(marginSD, coveragePct, confidencePct float64) (int, error) {
	bad := fault.Float(nil, "marginSD", marginSD, 0.01, 1000, "standard deviations")
	bad = fault.Float(bad, "coveragePct", coveragePct, MinPct, MaxPct, "%")
	bad = fault.Float(bad, "confidencePct", confidencePct, MinPct, MaxPct, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	const most = int(MaxReadings)
	last, err := oneSided(most, coveragePct, confidencePct)
	if err != nil {
		return 0, err
	}
	if last > marginSD {
		why := "more than 1 000 000 would be needed"
		if marginSD <= -num.NormalQuantile((100-coveragePct)/100) {
			why = "the limit is no further from the mean than the share asked for reaches by itself"
		}
		return 0, &ImpossibleError{Quantity: "number of readings", Why: why,
			Field: "marginSD", Given: fault.Shortest(marginSD), Min: last, Max: 1000, Unit: "standard deviations"}
	}
	lo, hi := 1, most // k(lo) > margin ≥ k(hi)
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		k, err := oneSided(mid, coveragePct, confidencePct)
		if err != nil {
			return 0, err
		}
		if k <= marginSD {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, nil
}

// ReadingsForMean returns how many readings it takes to know the mean within
// a stated half-width.
//
//	smallest n with t((1 + γ)/2, n − 1)·s/√n ≤ h
//
//	s  sd         standard deviation of single readings, any unit, accepted 1e-300 to 1e15
//	h  halfWidth  same unit, accepted 1e-300 to 1e15
//	γ  confidencePct  %, accepted 50 to 99.99
//
// More than 1 000 000 readings are refused as an [*ImpossibleError].
//
// Source: definition (Student).
func ReadingsForMean(sd, halfWidth, confidencePct float64) (int, error) {
	bad := fault.Float(nil, "sd", sd, 1e-300, MaxMagnitude, "")
	bad = fault.Float(bad, "halfWidth", halfWidth, 1e-300, MaxMagnitude, "")
	bad = fault.Float(bad, "confidencePct", confidencePct, MinPct, MaxPct, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	reach := func(n int) float64 {
		return -num.StudentQuantile((100-confidencePct)/200, float64(n-1)) * sd / math.Sqrt(float64(n))
	}
	if reach(MaxReadings) > halfWidth {
		return 0, &ImpossibleError{Quantity: "number of readings", Why: "more than 1 000 000 would be needed",
			Field: "halfWidth", Given: fault.Shortest(halfWidth), Min: reach(MaxReadings), Max: MaxMagnitude}
	}
	lo, hi := 1, int(MaxReadings)
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if reach(mid) <= halfWidth {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, nil
}
