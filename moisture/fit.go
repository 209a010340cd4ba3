package moisture

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// IsothermPair is one sample of a lot with both readings. The zero
// IsothermPair is refused.
type IsothermPair struct {
	Aw          float64 // water activity, 0 to 1
	MoisturePct float64 // content of the same sample, % wet basis
	TempC       float64 // temperature of the activity reading, °C
}

func (p IsothermPair) refuse(bad []*FieldError, list string, i int) []*FieldError {
	bad = floatAt(bad, list, i, "Aw", p.Aw, MinAw, 0.99, "")
	bad = floatAt(bad, list, i, "MoisturePct", p.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	return floatAt(bad, list, i, "TempC", p.TempC, BeanMinC, BeanMaxC, "°C")
}

// Anchor is a lot's own pair of readings with their standard uncertainties.
// The zero Anchor is refused; an uncertainty may truly be zero.
type Anchor struct {
	Aw            float64 // water activity, 0 to 1
	MoisturePct   float64 // content of the same sample, % wet basis
	TempC         float64 // temperature of the activity reading, °C
	AwSE          float64 // standard uncertainty of the activity
	MoistureSEPct float64 // standard uncertainty of the content, %
}

// Limits of what AnchorIsotherm takes for the same material.
const (
	MinAnchorScale = 0.5 // least factor on the curve: pure number
	MaxAnchorScale = 2   // greatest factor on the curve: pure number

	minScale = 0.2 // least factor of a curve, of all its anchors
	maxScale = 5   // greatest
)

// AnchorIsotherm returns the curve drawn through a lot's own pair of readings:
// its contents are all multiplied by the same factor.
//
//	k  = X₀/curve(a₀, t₀)
//	s² = (k·s_X)² + u_X² + (k·dX/da·u_a)²
//
//	a₀   Anchor.Aw             accepted 0.01 to 0.99
//	X₀   Anchor.MoisturePct    % wet basis  accepted 0.5 to 80, taken to dry basis
//	t₀   Anchor.TempC          °C           accepted 0 to 70
//	u_a  Anchor.AwSE           accepted 0 to 0.1
//	u_X  Anchor.MoistureSEPct  %            accepted 0 to 5, taken to dry basis
//	k    Isotherm.Scale        accepted 0.5 to 2
//	s    Isotherm.SEDryPct     % dry basis
//
// One pair tells the level, not the shape: the band keeps the curve's own
// standard error and adds the readings'. Outside the accepted ranges it
// returns the zero Isotherm and an [*InputError]; a pair too far from the
// curve gives an [*ImpossibleError].
//
// Source: definition; the shape is the curve's own, see [ParchmentArabica].
func AnchorIsotherm(curve Isotherm, at Anchor) (Isotherm, error) {
	bad := curve.refuse(nil)
	bad = fault.Float(bad, "Aw", at.Aw, MinAw, 0.99, "")
	bad = fault.Float(bad, "MoisturePct", at.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Float(bad, "TempC", at.TempC, BeanMinC, BeanMaxC, "°C")
	bad = fault.Float(bad, "AwSE", at.AwSE, 0, 0.1, "")
	bad = fault.Float(bad, "MoistureSEPct", at.MoistureSEPct, 0, 5, "%")
	if err := fault.Input(bad); err != nil {
		return Isotherm{}, err
	}
	x := dryFromWet(at.MoisturePct)
	have := curve.dry(at.Aw, at.TempC)
	if !(have > 0 && have <= MaxDryMoisturePct) {
		return Isotherm{}, brokenCurve(have)
	}
	scaled := func(x float64) (k float64, near, sound bool) {
		k = x / have
		return k, k >= MinAnchorScale && k <= MaxAnchorScale, curve.Scale*k >= minScale && curve.Scale*k <= maxScale
	}
	k, near, sound := scaled(x)
	if !near || !sound {
		none := &ImpossibleError{Quantity: "anchored curve",
			Why:   "the pair lies too far from the curve to be the same material",
			Field: "MoisturePct", Given: fault.Shortest(at.MoisturePct), Unit: "%"}
		if near {
			none.Why = "the curve was anchored before to another level"
		}
		takes := func(pct float64) bool {
			_, near, sound := scaled(dryFromWet(pct))
			return near && sound && pct >= MinMoisturePct && pct <= MaxMoisturePct
		}
		least := math.Max(wetFromDry(have*math.Max(MinAnchorScale, minScale/curve.Scale)), MinMoisturePct)
		most := math.Min(wetFromDry(have*math.Min(MaxAnchorScale, maxScale/curve.Scale)), MaxMoisturePct)
		middle := (least + most) / 2
		none.Min, none.Max = num.Inside(least, middle, takes), num.Inside(most, middle, takes)
		if !takes(middle) { // the curve itself lies outside what is accepted there
			none.Field, none.Given, none.Unit, none.Min, none.Max = "", "", "", 0, 0
		}
		return Isotherm{}, none
	}
	c := curve
	c.Scale *= k
	c.Name = "anchored to one pair: " + curve.Name
	toDry := (100 + x) * (100 + x) / 1e4
	c.SEDryPct = math.Hypot(k*curve.SEDryPct, math.Hypot(toDry*at.MoistureSEPct, c.slope(at.Aw, at.TempC)*at.AwSE))
	return c, nil
}

// What FitIsotherm takes.
const (
	MinIsothermPairsCount = 4 // least number of pairs: the three constants of GAB and one more
	MaxIsothermPairsCount = 10_000

	// MaxFitSpreadK is how far the temperatures of the pairs may lie apart, K:
	// the activity of a sealed sample moves about 0.003 per kelvin, so 3 K are
	// 0.01, what a good meter can tell.
	MaxFitSpreadK = 3
)

// Fit is an isotherm fitted to a lot's own pairs.
type Fit struct {
	Curve      Isotherm   // the curve, its SEDryPct the residual deviation
	SE         [3]float64 // standard errors of Curve.P, in its order and units
	PairsCount int        // pairs used
	RSSDryPct2 float64    // residual sum of squares, (% dry basis)²
	BICIndex   float64    // Bayesian information criterion, lower is better
	Notes      Notes      // what to tell the reader beside the numbers
}

// FitIsotherm fits one form to a lot's pairs of activity and content, by
// least squares on the dry-basis content.
//
//	GAB        X = m₀·C·K·a/[(1 − K·a)(1 − K·a + C·K·a)]
//	Oswin      X = A·[a/(1 − a)]^B
//	Henderson  X = A·[−ln(1 − a)]^B
//	s²  = Σ (Xᵢ − X(aᵢ))²/(n − k)
//	BIC = n·ln(Σ (Xᵢ − X(aᵢ))²/n) + k·ln n
//
//	a  IsothermPair.Aw           accepted 0.01 to 0.99
//	X  IsothermPair.MoisturePct  % wet basis  accepted 0.5 to 80, taken to dry basis
//	t  IsothermPair.TempC        °C           accepted 0 to 70, all within 3 K
//	n  4 to 10 000 pairs; k constants: 3 for GAB, 2 for the others
//	s  Fit.Curve.SEDryPct        % dry basis
//
// The curve holds at the temperature of its pairs; [CarryActivity] takes a
// reading to another. Fewer than n = k + 5 carry [FewPairs]. FormRoa cannot be
// fitted. Outside the accepted ranges it returns the zero Fit and an
// [*InputError]; pairs that cannot tell the constants, or give ones without
// meaning such as K above 1, an [*ImpossibleError].
//
// Source: van den Berg & Bruin 1981 (GAB); Oswin 1946; Henderson 1952, as
// usually written; method: Levenberg–Marquardt, Moré 1978.
func FitIsotherm(form Form, pairs []IsothermPair) (Fit, error) {
	if err := checkPairs(form, pairs); err != nil {
		return Fit{}, err
	}
	return fitted(form, pairs)
}

func checkPairs(form Form, pairs []IsothermPair) error {
	var bad []*FieldError
	if form != FormGAB && form != FormOswin && form != FormHenderson {
		bad = append(bad, &FieldError{Field: "form", Given: strconv.Itoa(int(form)), Min: float64(FormGAB),
			Max: float64(FormHenderson), Why: "GAB, Oswin or Henderson"})
	}
	if b := fault.Int(nil, "pairs", len(pairs), MinIsothermPairsCount, MaxIsothermPairsCount, ""); b != nil {
		bad = append(bad, b...)
	} else {
		for i, p := range pairs {
			bad = p.refuse(bad, "pairs", i)
		}
	}
	if err := fault.Input(bad); err != nil {
		return err
	}
	lo, hi := spanC(pairs, -1)
	if hi-lo <= MaxFitSpreadK {
		return nil
	}
	none := &ImpossibleError{Quantity: "fitted isotherm", Why: "the pairs were read at temperatures too far apart"}
	for i, p := range pairs { // the one that is alone far from the others
		lo, hi := spanC(pairs, i)
		if hi-lo > MaxFitSpreadK {
			continue
		}
		near := func(c float64) bool { return c-lo <= MaxFitSpreadK && hi-c <= MaxFitSpreadK }
		none.Field, none.Given, none.Unit = "pairs["+strconv.Itoa(i)+"].TempC", fault.Shortest(p.TempC), "°C"
		none.Min = num.Inside(math.Max(hi-MaxFitSpreadK, BeanMinC), lo, near)
		none.Max = num.Inside(math.Min(lo+MaxFitSpreadK, BeanMaxC), hi, near)
		break
	}
	return none
}

// spanC is the least and the greatest temperature of the pairs but one.
func spanC(pairs []IsothermPair, but int) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i, p := range pairs {
		if i != but {
			lo, hi = math.Min(lo, p.TempC), math.Max(hi, p.TempC)
		}
	}
	return lo, hi
}

func fitted(form Form, pairs []IsothermPair) (Fit, error) {
	n, k := len(pairs), form.params()
	x := make([]float64, n)
	c := Isotherm{Form: form, Scale: 1, Coffee: "the user's lot", State: "as sampled", Branch: "unknown",
		Name: form.String() + " form fitted to " + strconv.Itoa(n) + " pairs", Source: "fitted here", Provenance: "fitted",
		MinC: pairs[0].TempC, MaxC: pairs[0].TempC, MinAw: pairs[0].Aw, MaxAw: pairs[0].Aw}
	for i, p := range pairs {
		x[i] = dryFromWet(p.MoisturePct)
		c.MinC, c.MaxC = math.Min(c.MinC, p.TempC), math.Max(c.MaxC, p.TempC)
		c.MinAw, c.MaxAw = math.Min(c.MinAw, p.Aw), math.Max(c.MaxAw, p.Aw)
	}
	none := func(why string) error {
		return &ImpossibleError{Quantity: form.String() + " fit", Why: why, Field: "pairs",
			Given: strconv.Itoa(n), Min: float64(n + 1), Max: MaxIsothermPairsCount}
	}
	if c.MinAw == c.MaxAw {
		return Fit{}, none("all activities are the same")
	}
	trial := c
	fit, err := num.LeastSquares(n, start(form, pairs, x), func(dst, p []float64) {
		copy(trial.P[:], p)
		ok := p[0] > 0 && p[1] > 0 && (form != FormGAB || p[2] > 0 && p[2]*c.MaxAw < 1)
		for i := range dst {
			dst[i] = math.NaN()
			if ok {
				dst[i] = trial.dry(pairs[i].Aw, pairs[i].TempC) - x[i]
			}
		}
	})
	if err != nil {
		return Fit{}, none(err.Error())
	}
	copy(c.P[:], fit.P)
	c.SEDryPct = fit.ResidualSD()
	if bad := c.refuse(nil); bad != nil {
		return Fit{}, none("the constants have no meaning: " + bad[0].Error())
	}
	f := Fit{Curve: c, PairsCount: n, RSSDryPct2: fit.RSS}
	copy(f.SE[:], fit.SE)
	// A perfect fit would send the criterion to −∞: nothing is weighed to
	// better than a billionth of a per cent.
	f.BICIndex = float64(n)*math.Log(math.Max(fit.RSS/float64(n), 1e-18)) + float64(k)*math.Log(float64(n))
	if n < k+5 {
		f.Notes |= FewPairs
	}
	return f, nil
}

// start gives constants to begin with: for the power forms the straight line
// through the logarithms; for GAB the best of a grid of C and K, for which m₀
// is a linear problem.
func start(form Form, pairs []IsothermPair, x []float64) []float64 {
	n := float64(len(x))
	if form == FormGAB {
		var best []float64
		bestRSS := math.Inf(1)
		for _, c := range [...]float64{1.5, 5, 15, 60} {
			for _, k := range [...]float64{0.5, 0.65, 0.8, 0.9, 0.97} {
				shape := Isotherm{Form: FormGAB, Scale: 1, P: [6]float64{1, c, k}}
				xy, yy := 0.0, 0.0
				for i, p := range pairs {
					y := shape.dry(p.Aw, p.TempC)
					xy += x[i] * y
					yy += y * y
				}
				m0, rss := xy/yy, 0.0
				for i, p := range pairs {
					d := m0*shape.dry(p.Aw, p.TempC) - x[i]
					rss += d * d
				}
				if rss < bestRSS {
					best, bestRSS = []float64{m0, c, k}, rss
				}
			}
		}
		return best
	}
	u := func(a float64) float64 {
		if form == FormOswin {
			return math.Log(a / (1 - a))
		}
		return math.Log(-math.Log1p(-a))
	}
	var mu, mv, uu, uv float64
	for i, p := range pairs {
		mu += u(p.Aw) / n
		mv += math.Log(x[i]) / n
	}
	for i, p := range pairs {
		d := u(p.Aw) - mu
		uu += d * d
		uv += d * (math.Log(x[i]) - mv)
	}
	b := math.Max(uv/uu, 0.02)
	return []float64{math.Exp(mv - b*mu), b}
}

// CloseBIC is the difference in the criterion below which two curves are not
// told apart. Kass & Raftery, J. Am. Stat. Assoc. 90, 1995; memory. Pure number.
const CloseBIC = 2

// Choice is what ChooseIsotherm found.
type Choice struct {
	Best      Fit     // the form of least criterion
	Fits      [3]Fit  // GAB, Oswin, Henderson; the zero Fit where a form cannot be fitted
	NextIndex float64 // how far the second best criterion lies above the best; 0 without a second
	Notes     Notes   // what to tell the reader beside the choice
}

// ChooseIsotherm fits GAB, Oswin and Henderson to a lot's pairs and chooses
// the one with the least Bayesian criterion, which counts what each constant
// costs; the others stay beside it. When the second lies within 2 the answer
// carries [CloseCall]: then either curve will do inside the pairs, and neither
// outside them.
//
//	BIC = n·ln(RSS/n) + k·ln n
//
// Inputs, ranges and refusals are those of [FitIsotherm]. When no form can be
// fitted it returns the zero Choice and the error of the last.
//
// Source: Schwarz, Ann. Stat. 6, 1978; Kass & Raftery 1995 for the margin.
func ChooseIsotherm(pairs []IsothermPair) (Choice, error) {
	if err := checkPairs(FormGAB, pairs); err != nil {
		return Choice{}, err
	}
	var c Choice
	var last error
	best, next := math.Inf(1), math.Inf(1)
	for i, form := range [...]Form{FormGAB, FormOswin, FormHenderson} {
		f, err := fitted(form, pairs)
		if err != nil {
			last = err
			continue
		}
		c.Fits[i] = f
		if f.BICIndex < best {
			best, next = f.BICIndex, best
			c.Best = f
		} else if f.BICIndex < next {
			next = f.BICIndex
		}
	}
	if math.IsInf(best, 1) {
		return Choice{}, last
	}
	c.Notes = c.Best.Notes
	if !math.IsInf(next, 1) {
		c.NextIndex = next - best
		if c.NextIndex < CloseBIC {
			c.Notes |= CloseCall
		}
	}
	return c, nil
}

// A PublishedPoint is a content that a paper gives at an activity, without a
// curve: to be drawn as a point or a box beside a curve, never fitted with it.
type PublishedPoint struct {
	Coffee     string  // what it was measured on
	LowAw      float64 // activity, lower end
	HighAw     float64 // activity, upper end
	LowDryPct  float64 // content, lower end, % dry basis
	HighDryPct float64 // content, upper end, % dry basis
	Source     string  // where it stands
	Provenance string  // opened, quoted or memory
}

// PublishedPoints returns the sparse published contents at activities that
// stand beside [ParchmentArabica].
//
// Source: each point's own.
func PublishedPoints() []PublishedPoint {
	return []PublishedPoint{
		{"green coffee", 0.80, 0.80, dryFromWet(14), dryFromWet(14),
			"Bucheli & Taniwaki, Food Addit. Contam. 19(7):655–665, 2002, abstract", "opened"},
		{"green coffee in store", 0.65, 0.65, dryFromWet(11), dryFromWet(12),
			"Brazilian extension article on coffee storage, 2007", "opened"},
		{"arabica, adsorption, 30 to 60 °C", 0.10, 0.83, 1.91, 25.34,
			"Santos et al., Científica 48(4):302–310, 2020, abstract", "opened"},
		{"roasted ground blends, 10 and 30 °C", 0.1912, 0.5160, 2.2, 5.5,
			"Oliveira et al., Braz. J. Develop. 6(4), 2020, abstract", "opened"},
	}
}
