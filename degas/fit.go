package degas

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// What fits accept and when they refuse.
const (
	MaxReadings = 1000 // count
	// DefaultWithinPct is a fair value of WithinPct: a gas content known to
	// worse than that is no better than the published band. Our choice.
	DefaultWithinPct = 50.0 // %
	// OpenFactor is the factor, either way, beyond which a parameter other
	// than the gas content counts as open and the fit is refused. Our choice.
	OpenFactor = 10.0 // no unit
	// ScatterLevelPct is the level of the χ² test by which the stated
	// uncertainty of a reading is judged. Our choice, so strict that a true
	// statement is seldom refused.
	ScatterLevelPct = 99.0 // %
	// BackPressureKPa is the pressure above which a jar is said to hold the
	// coffee back: a tenth of the 6 bar inside a fresh bean that Smrke is
	// quoted for. Our choice.
	BackPressureKPa = 60.0 // kPa
)

// A Weighing is the mass of one open sample at an age, without the dish. The
// zero Weighing is refused.
type Weighing struct {
	Days  float64         // age since roasting or grinding, days; accepted 0 to MaxDays, later than the one before
	MassG decimal.Decimal // g; accepted 1 to 100000
}

// Weighings are repeated weighings of one open sample, and what can be off
// about them. The zero Weighings is refused.
type Weighings struct {
	Readings       []Weighing      // in order of age; accepted two more than the fit has parameters, to MaxReadings
	DivisionG      decimal.Decimal // the balance's division, g; accepted 0.00001 to 100
	RepeatabilityG float64         // standard deviation of repeated weighings, g; accepted 0 to 100; 0 truly means that only the division counts

	// What runs away in a straight line and cannot be told from the reading
	// alone. Zero truly means none.
	DriftGPerDay               float64 // standard uncertainty of the balance's drift, g/day; accepted 0 to 10
	PickupMgPerGDay            float64 // moisture that the sample takes up, mg/(g·day), negative if it dries; accepted −10 to 10; from a witness sample that has no gas left
	PickupUncertaintyMgPerGDay float64 // its standard uncertainty, mg/(g·day); accepted 0 to 10

	WithinPct float64 // refuse unless the gas content is known to this, %, at 95 %; accepted 1 to 100; see DefaultWithinPct
}

// A JarReading is the pressure in a closed jar at an age of the coffee.
type JarReading struct {
	Days        float64 // age since roasting or grinding, days; accepted 0 to MaxDays, later than the one before
	PressureKPa float64 // kPa, all absolute or all gauge; accepted −100 to 1000
}

// A Jar is coffee in a closed jar of known volume, and what can be off about
// its readings. The zero Jar is refused. A closed jar of fresh coffee builds
// up pressure: use one that is made for it and has a relief valve.
type Jar struct {
	Readings            []JarReading // in order of age; accepted two more than the fit has parameters, to MaxReadings
	VolumeML            float64      // of the empty jar with its fittings, mL; accepted 10 to 1000000
	VolumeUncertaintyML float64      // standard uncertainty of what the gas fills, mL; accepted 0 to a fifth of it
	CoffeeG             float64      // g; accepted 1 to 1000000
	DensityGPerML       float64      // of the beans or particles themselves, g/mL; accepted 0.3 to 1.6
	TempC               float64      // held constant, °C; accepted MinTempC to MaxTempC
	ResolutionKPa       float64      // the gauge's last digit, kPa; accepted 0.00001 to 10
	RepeatabilityKPa    float64      // standard deviation of its readings, kPa; accepted 0 to 10; 0 truly means that only the resolution counts
	DriftKPaPerDay      float64      // standard uncertainty of its drift, kPa/day; accepted 0 to 10; 0 truly means none
	WithinPct           float64      // refuse unless the gas content is known to this, %, at 95 %; accepted 1 to 100; see DefaultWithinPct
}

// An Estimate is one number that a fit found, with its 95 % interval. The
// interval is symmetrical on a logarithmic scale; for a share on that of its
// odds.
type Estimate struct {
	Name      string  // the field that it fills, with its unit, such as "GasMgPerG"
	Value     float64 // in the unit of Name
	SE        float64 // standard uncertainty, in the unit of Name
	Low, High float64 // 95 % interval, in the unit of Name
}

// A Residual is what a fit leaves of one reading.
type Residual struct {
	Days     float64 // days
	Left     float64 // reading less curve, in the unit of the reading: g or kPa
	InSigmas float64 // the same over the stated uncertainty of a reading, no unit
}

// A Fit is a release curve of one's own: what the readings say and how well
// they say it.
type Fit struct {
	Coffee      Coffee      // the curve and the gas at t = 0
	Estimates   []Estimate  // first GasMgPerG, then the curve's own in their order
	Correlation [][]float64 // of Estimates on their scales, −1 to 1, no unit
	Slope       Estimate    // what ran away in a straight line, g/day or kPa/day
	AtFirst     Estimate    // gas left at the first reading, mg/g: what the readings saw the rest of
	Residuals   []Residual
	ChiSquare   float64 // sum of squares of the residuals over the stated uncertainty, and of the slope over its own; no unit
	DF          int     // readings less parameters, count
	Parameters  int     // fitted, without the slope, count
	Notes       Notes

	inner     inner
	y         []float64 // the readings, from the first on
	sigma     float64   // their stated uncertainty
	p         []float64
	cov       [][]float64
	extra     float64 // relative variance of the gas content from outside the readings
	quantile  float64
	coffeeFor func(p []float64) Coffee
}

// FitWeighings fits a release curve to repeated weighings of an open sample.
//
//	mᵢ = m₁ − G·(F(tᵢ) − F(t₁)) + b·(tᵢ − t₁) + noise      M0 = 1000·G/(m₁ + G·F(t₁))
//
//	tᵢ, mᵢ   Readings      days, g
//	F        the curve, as a fraction
//	G        gas at t = 0, g
//	b        drift and moisture pick-up together, g/day: a nuisance, held by
//	         PickupMgPerGDay·m₁/1000 with the stated uncertainties
//	noise    σ² = RepeatabilityG² + DivisionG²/12
//
// Of like only the type counts, and the radius or half thickness of a [Sphere]
// or [Sheet]. The search begins from the best of a grid, solved for m₁, G and b
// exactly, and goes on by Levenberg–Marquardt in the logarithms of what must
// be positive.
//
// The intervals follow from the stated σ. Where the residuals scatter so much
// more that chance would do it once in a hundred, they follow the residuals
// instead, with Student's t, and the fit carries [ScatterExceedsStated]. Where
// less than half of the gas has gone between the first and the last reading it
// carries [LongTail]: the content at t = 0 then rests on the shape.
//
// Refused with an [*InputError]: readings out of range or order, too few of
// them. An [*ImpossibleError] says that the readings cannot tell: the gas
// content is open beyond WithinPct, or another parameter beyond OpenFactor.
//
// On invented weighings with a known noise the 95 % intervals hold the truth
// 95 % of the time (tested). Moisture and gas cannot be told apart by weighing:
// what is not stated about the pick-up goes into the gas.
//
// Source: the method, Bates and Watts, Nonlinear Regression Analysis and Its
// Applications, 1988; weighing roasted coffee, Smrke and others, J. Agric.
// Food Chem. 66, 2018 (abstract).
func FitWeighings(w Weighings, like Curve) (Fit, error) {
	in, err := innerOf(like)
	if err != nil {
		return Fit{}, err
	}
	var bad []*FieldError
	bad = fault.Int(bad, "Readings", len(w.Readings), in.parameters()+2, MaxReadings, "readings")
	last := math.Inf(-1)
	for i, r := range w.Readings {
		n := len(bad)
		bad = checkAge(bad, r.Days, last)
		bad = fault.Decimal(bad, "MassG", r.MassG, 1, 100000, "g")
		if len(bad) > n {
			fault.Under("Readings["+strconv.Itoa(i)+"].", bad, n)
		}
		if r.Days >= 0 {
			last = math.Max(last, r.Days)
		}
	}
	bad = fault.Decimal(bad, "DivisionG", w.DivisionG, 0.00001, 100, "g")
	bad = fault.Float(bad, "RepeatabilityG", w.RepeatabilityG, 0, 100, "g")
	bad = fault.Float(bad, "DriftGPerDay", w.DriftGPerDay, 0, 10, "g/day")
	bad = fault.Float(bad, "PickupMgPerGDay", w.PickupMgPerGDay, -10, 10, "mg/(g·day)")
	bad = fault.Float(bad, "PickupUncertaintyMgPerGDay", w.PickupUncertaintyMgPerGDay, 0, 10, "mg/(g·day)")
	bad = fault.Float(bad, "WithinPct", w.WithinPct, 1, 100, "%")
	if err := fault.Input(bad); err != nil {
		return Fit{}, err
	}
	first := w.Readings[0].MassG.InexactFloat64()
	s := series{
		t: make([]float64, len(w.Readings)), y: make([]float64, len(w.Readings)),
		sigma:  math.Hypot(w.RepeatabilityG, w.DivisionG.InexactFloat64()/math.Sqrt(12)),
		sign:   -1,
		slope:  w.PickupMgPerGDay * first / 1000,
		slopeU: math.Hypot(w.DriftGPerDay, w.PickupUncertaintyMgPerGDay*first/1000),
		// No content above MaxGasMgPerG, nor below its least.
		minGain: MinGasMgPerG * first / 1000, maxGain: MaxGasMgPerG * first / 1000,
		within:    w.WithinPct,
		slopeName: "GPerDay",
	}
	for i, r := range w.Readings {
		s.t[i] = r.Days
		s.y[i] = r.MassG.Sub(w.Readings[0].MassG).InexactFloat64()
	}
	s.gas = func(offset, gain, gone float64) float64 {
		return 1000 * gain / (first + offset + gain*gone)
	}
	return s.fit(in)
}

// FitJar fits a release curve to the pressure rise in a closed jar.
//
//	Pᵢ = P₁ + (m·R·T/(M·V))·M0·(F(tᵢ) − F(t₁)) + b·(tᵢ − t₁) + noise
//	V  = VolumeML − CoffeeG/DensityGPerML
//
//	tᵢ, Pᵢ   Readings      days, kPa
//	m        CoffeeG       g
//	T        TempC         °C, then K, held constant: 1 K is 0.34 kPa at one atmosphere
//	M0       mg/g, F as a fraction
//	b        drift, kPa/day: a nuisance, held by 0 with the stated uncertainty
//	noise    σ² = RepeatabilityKPa² + ResolutionKPa²/12
//
// The uncertainty of V goes into that of M0 alone. A gauge that reads against
// the open air follows the barometer, which is ten times its drift. Above
// BackPressureKPa of rise the fit carries [BackPressure]. For the rest see
// [FitWeighings].
//
// Source: the method, Bates and Watts, Nonlinear Regression Analysis and Its
// Applications, 1988; ideal gas law.
func FitJar(j Jar, like Curve) (Fit, error) {
	in, err := innerOf(like)
	if err != nil {
		return Fit{}, err
	}
	var bad []*FieldError
	bad = fault.Int(bad, "Readings", len(j.Readings), in.parameters()+2, MaxReadings, "readings")
	last := math.Inf(-1)
	for i, r := range j.Readings {
		n := len(bad)
		bad = checkAge(bad, r.Days, last)
		bad = fault.Float(bad, "PressureKPa", r.PressureKPa, -100, 1000, "kPa")
		if len(bad) > n {
			fault.Under("Readings["+strconv.Itoa(i)+"].", bad, n)
		}
		if r.Days >= 0 {
			last = math.Max(last, r.Days)
		}
	}
	n := len(bad)
	bad = fault.Float(bad, "VolumeML", j.VolumeML, 10, 1e6, "mL")
	bad = fault.Float(bad, "VolumeUncertaintyML", j.VolumeUncertaintyML, 0, 2e5, "mL")
	bad = fault.Float(bad, "CoffeeG", j.CoffeeG, 1, 1e6, "g")
	bad = fault.Float(bad, "DensityGPerML", j.DensityGPerML, 0.3, 1.6, "g/mL")
	free := j.VolumeML - j.CoffeeG/j.DensityGPerML
	if len(bad) == n && !(free >= 1) {
		bad = append(bad, &FieldError{Field: "VolumeML", Given: fault.Shortest(j.VolumeML), Min: j.CoffeeG/j.DensityGPerML + 1, Max: 1e6, Unit: "mL", Why: "the coffee alone fills more"})
	} else if len(bad) == n && !(j.VolumeUncertaintyML <= free/5) {
		bad = append(bad, &FieldError{Field: "VolumeUncertaintyML", Given: fault.Shortest(j.VolumeUncertaintyML), Min: 0, Max: free / 5, Unit: "mL", Why: "at most a fifth of what the gas fills"})
	}
	bad = fault.Float(bad, "TempC", j.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Float(bad, "ResolutionKPa", j.ResolutionKPa, 0.00001, 10, "kPa")
	bad = fault.Float(bad, "RepeatabilityKPa", j.RepeatabilityKPa, 0, 10, "kPa")
	bad = fault.Float(bad, "DriftKPaPerDay", j.DriftKPaPerDay, 0, 10, "kPa/day")
	bad = fault.Float(bad, "WithinPct", j.WithinPct, 1, 100, "%")
	if err := fault.Input(bad); err != nil {
		return Fit{}, err
	}
	kpa := j.CoffeeG * mlPerMg(j.TempC, 1) / free // per mg/g
	s := series{
		t: make([]float64, len(j.Readings)), y: make([]float64, len(j.Readings)),
		sigma:   math.Hypot(j.RepeatabilityKPa, j.ResolutionKPa/math.Sqrt(12)),
		sign:    1,
		slopeU:  j.DriftKPaPerDay,
		minGain: MinGasMgPerG * kpa, maxGain: MaxGasMgPerG * kpa,
		within:    j.WithinPct,
		extra:     (j.VolumeUncertaintyML / free) * (j.VolumeUncertaintyML / free),
		slopeName: "KPaPerDay",
	}
	rise := 0.0
	for i, r := range j.Readings {
		s.t[i] = r.Days
		s.y[i] = r.PressureKPa - j.Readings[0].PressureKPa
		rise = math.Max(rise, s.y[i])
	}
	s.gas = func(_, gain, _ float64) float64 { return gain / kpa }
	f, err := s.fit(in)
	if err == nil && rise > BackPressureKPa {
		f.Notes |= BackPressure
	}
	return f, err
}

func checkAge(bad []*FieldError, days, last float64) []*FieldError {
	n := len(bad)
	bad = fault.Float(bad, "Days", days, 0, MaxDays, "days")
	if len(bad) == n && !(days > last) {
		bad = append(bad, &FieldError{Field: "Days", Given: fault.Shortest(days), Min: last, Max: MaxDays, Unit: "days", Why: "later than the reading before"})
	}
	return bad
}

// An inner is a shape of curve as the search sees it: its parameters without
// bounds.
type inner struct {
	like  Curve
	names []string // of the curve's estimates
}

func innerOf(like Curve) (inner, error) {
	switch c := like.(type) {
	case FirstOrder:
		return inner{c, []string{"TauDays"}}, nil
	case Stretched:
		return inner{c, []string{"TauDays", "Exponent"}}, nil
	case TwoPools:
		return inner{c, []string{"FastPct", "FastTauDays", "SlowTauDays"}}, nil
	case Sphere:
		return inner{c, []string{"DiffusivityM2PerS"}}, fault.Input(fault.Float(nil, "RadiusMM", c.RadiusMM, MinRadiusMM, MaxRadiusMM, "mm"))
	case Sheet:
		return inner{c, []string{"DiffusivityM2PerS"}}, fault.Input(fault.Float(nil, "HalfThicknessMM", c.HalfThicknessMM, MinRadiusMM, MaxRadiusMM, "mm"))
	}
	return inner{}, fault.Input(checkCurve(nil, "like", like))
}

// parameters counts the offset, the gas and the curve's own.
func (in inner) parameters() int { return 2 + len(in.names) }

// curve makes the curve from the search's numbers; what is out of the
// accepted range is refused by its check.
func (in inner) curve(q []float64) Curve {
	switch c := in.like.(type) {
	case FirstOrder:
		return FirstOrder{math.Exp(q[0])}
	case Stretched:
		return Stretched{math.Exp(q[0]), math.Exp(q[1])}
	case TwoPools:
		return TwoPools{100 / (1 + math.Exp(-q[0])), math.Exp(q[1]), math.Exp(q[2])}
	case Sphere:
		return Sphere{c.RadiusMM, diffusivity(math.Exp(-q[0]), c.RadiusMM, 1)}
	default:
		return Sheet{c.(Sheet).HalfThicknessMM, diffusivity(math.Exp(-q[0]), c.(Sheet).HalfThicknessMM, 1)}
	}
}

// values lists the curve's estimates.
func (in inner) values(c Curve) []float64 {
	switch c := c.(type) {
	case FirstOrder:
		return []float64{c.TauDays}
	case Stretched:
		return []float64{c.TauDays, c.Exponent}
	case TwoPools:
		return []float64{c.FastPct, c.FastTauDays, c.SlowTauDays}
	case Sphere:
		return []float64{c.DiffusivityM2PerS}
	default:
		return []float64{c.(Sheet).DiffusivityM2PerS}
	}
}

// grid lists starts, from the time that the readings span.
func (in inner) grid(span float64) [][]float64 {
	var list [][]float64
	for _, f := range []float64{0.003, 0.01, 0.03, 0.1, 0.3, 1, 3, 10} {
		tau := math.Log(f * span)
		switch in.like.(type) {
		case Stretched:
			for _, beta := range []float64{0.3, 0.5, 0.8, 1.2} {
				list = append(list, []float64{tau, math.Log(beta)})
			}
		case TwoPools:
			for _, ratio := range []float64{4, 15, 60} {
				for _, odds := range []float64{-1, 0, 1} {
					list = append(list, []float64{odds, tau, tau + math.Log(ratio)})
				}
			}
		default:
			list = append(list, []float64{tau})
		}
	}
	return list
}

// A series is readings that follow sign·gain·(F(t) − F(t₁)).
type series struct {
	t, y             []float64 // y from the first reading on
	sigma            float64
	sign             float64
	slope, slopeU    float64
	minGain, maxGain float64
	within           float64
	extra            float64
	gas              func(offset, gain, gone float64) float64 // mg/g
	slopeName        string
}

// shares are what of the gas is gone at each reading.
func (s *series) shares(gone []float64, c Curve) {
	for i, t := range s.t {
		_, gone[i] = c.share(t)
	}
}

// model is what the reading i should be. The search's numbers are, in this
// order: the offset of the first reading in σ, the logarithm of the gain, the
// curve's own, and the slope in its own uncertainty where it has one.
func (s *series) model(dst, gone []float64, offset, gain, slope float64) {
	for i, t := range s.t {
		dst[i] = offset + s.sign*gain*(gone[i]-gone[0]) + slope*(t-s.t[0])
	}
}

func (s *series) parts(in inner, p []float64) (c Curve, offset, gain, slope float64) {
	k := in.parameters()
	slope = s.slope
	if s.slopeU > 0 {
		slope += p[k] * s.slopeU
	}
	return in.curve(p[2:k]), p[0] * s.sigma, math.Exp(p[1]), slope
}

// starts ranks the grid by the best that offset, gain and slope can do on
// each, which is a linear problem, and returns the best few.
func (s *series) starts(in inner) [][]float64 {
	type start struct {
		p    []float64
		cost float64
	}
	n := len(s.t)
	cols := 2
	rows := n
	if s.slopeU > 0 {
		cols, rows = 3, n+1
	}
	a := make([][]float64, cols)
	for j := range a {
		a[j] = make([]float64, rows)
	}
	y := make([]float64, rows)
	var list []start
	for _, q := range in.grid(s.t[n-1] - s.t[0]) {
		c := in.curve(q)
		if c.check(nil) != nil {
			continue
		}
		_, g1 := c.share(s.t[0])
		for i, t := range s.t {
			_, g := c.share(t)
			a[0][i], a[1][i] = 1, s.sign*(g-g1)
			y[i] = s.y[i] - s.slope*(t-s.t[0])
			if cols == 3 {
				a[2][i] = s.slopeU * (t - s.t[0])
			}
		}
		if cols == 3 {
			a[0][n], a[1][n], a[2][n], y[n] = 0, 0, s.sigma, 0
		}
		x, cost, ok := linear(a, y)
		if !ok {
			continue
		}
		gain := x[1]
		if !(gain > s.minGain) {
			gain, cost = s.minGain*2, cost*100
		}
		if !(gain < s.maxGain) {
			gain, cost = s.maxGain/2, cost*100
		}
		p := append([]float64{x[0] / s.sigma, math.Log(gain)}, q...)
		if cols == 3 {
			p = append(p, x[2])
		}
		list = append(list, start{p, cost})
	}
	slices.SortStableFunc(list, func(a, b start) int { return cmp.Compare(a.cost, b.cost) })
	var best [][]float64
	for _, l := range list[:min(3, len(list))] {
		best = append(best, l.p)
	}
	return best
}

// linear solves min |A·x − y|² for a few columns by Gram–Schmidt twice; it is
// for starts only.
func linear(cols [][]float64, y []float64) (x []float64, cost float64, ok bool) {
	k := len(cols)
	q := make([][]float64, k)
	r := make([][]float64, k)
	for j, c := range cols {
		q[j] = slices.Clone(c)
		r[j] = make([]float64, k)
		size := math.Sqrt(dot(c, c))
		for range 2 {
			for i := range j {
				d := dot(q[i], q[j])
				r[i][j] += d
				for m := range q[j] {
					q[j][m] -= d * q[i][m]
				}
			}
		}
		r[j][j] = math.Sqrt(dot(q[j], q[j]))
		if !(r[j][j] > 1e-9*size) {
			return nil, 0, false
		}
		for m := range q[j] {
			q[j][m] /= r[j][j]
		}
	}
	rest := slices.Clone(y)
	x = make([]float64, k)
	for j := range q {
		x[j] = dot(q[j], rest)
		for m := range rest {
			rest[m] -= x[j] * q[j][m]
		}
	}
	for j := k - 1; j >= 0; j-- {
		for i := j + 1; i < k; i++ {
			x[j] -= r[j][i] * x[i]
		}
		x[j] /= r[j][j]
	}
	return x, dot(rest, rest), true
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// fit searches and sums up.
func (s *series) fit(in inner) (Fit, error) {
	n, k := len(s.t), in.parameters()
	rows := n
	if s.slopeU > 0 {
		rows++
	}
	model, gone := make([]float64, n), make([]float64, n)
	var of Curve // of which gone holds the shares: most moves leave the curve as it is
	resid := func(dst, p []float64) {
		c, offset, gain, slope := s.parts(in, p)
		if !(gain >= s.minGain && gain <= s.maxGain) || c.check(nil) != nil {
			dst[0] = math.NaN()
			return
		}
		if c != of {
			s.shares(gone, c)
			of = c
		}
		s.model(model, gone, offset, gain, slope)
		for i := range n {
			dst[i] = (s.y[i] - model[i]) / s.sigma
		}
		if rows > n {
			dst[n] = p[k] // the slope's own uncertainty is its unit
		}
	}
	var best num.Fit
	found := false
	singular := false
	for _, start := range s.starts(in) {
		f, err := num.LeastSquares(rows, start, resid)
		if err != nil {
			singular = singular || errors.Is(err, num.ErrSingular)
			continue
		}
		if !found || f.RSS < best.RSS {
			best, found = f, true
		}
	}
	if !found {
		why := "the search runs out of every accepted range"
		if singular {
			why = "the readings cannot tell its parameters apart"
		}
		return Fit{}, s.cannotTell(why)
	}
	return s.summed(in, best)
}

func (s *series) cannotTell(why string) error {
	n := len(s.t)
	return &ImpossibleError{Quantity: "release curve", Why: why + " from " + digits3(s.t[0]) + " to " + digits3(s.t[n-1]) + " days",
		Field: "Readings", Given: strconv.Itoa(n), Min: float64(n + 1), Max: MaxReadings, Unit: "readings that reach earlier, later or finer"}
}

// summed turns the search's numbers into estimates.
func (s *series) summed(in inner, best num.Fit) (Fit, error) {
	n, k := len(s.t), in.parameters()
	f := Fit{inner: in, y: s.y, sigma: s.sigma, p: best.P, cov: best.Cov, extra: s.extra, ChiSquare: best.RSS, DF: n - k, Parameters: k}
	c, offset, gain, slope := s.parts(in, best.P)
	// The search scaled its covariance by the residuals; undo that where the
	// stated uncertainty stands.
	f.quantile = num.NormalQuantile(0.975)
	// The prior on the slope adds one reading and one parameter.
	if best.RSS > num.ChiSquareQuantile(ScatterLevelPct/100, float64(f.DF)) {
		f.Notes |= ScatterExceedsStated
		f.quantile = num.StudentQuantile(0.975, float64(f.DF))
	} else if best.RSS > 0 {
		scale := float64(best.DF) / best.RSS
		for i := range f.cov {
			for j := range f.cov[i] {
				f.cov[i][j] *= scale
			}
		}
	} else {
		return Fit{}, s.cannotTell("the readings are fitted without any rest, which no balance does,")
	}
	f.coffeeFor = func(p []float64) Coffee {
		c, offset, gain, _ := s.parts(in, p)
		_, g1 := c.share(s.t[0])
		return Coffee{GasMgPerG: s.gas(offset, gain, g1), Curve: c}
	}
	_, g1 := c.share(s.t[0])
	f.Coffee = Coffee{GasMgPerG: s.gas(offset, gain, g1), Curve: c}
	if bad := f.Coffee.check(nil); bad != nil {
		return Fit{}, s.cannotTell("the best curve holds " + digits3(f.Coffee.GasMgPerG) + " mg/g, beyond any credible content,")
	}

	names := append([]string{"GasMgPerG"}, in.names...)
	grads := make([][]float64, len(names))
	scaled := func(p []float64) []float64 {
		co := f.coffeeFor(p)
		v := append([]float64{co.GasMgPerG}, in.values(co.Curve)...)
		for i := range v {
			v[i] = onScale(names[i], v[i])
		}
		return v
	}
	for i := range grads {
		grads[i] = make([]float64, len(best.P))
	}
	f.gradient(scaled, grads)
	at := scaled(best.P)
	cov := make([][]float64, len(names))
	for i := range cov {
		cov[i] = make([]float64, len(names))
		for j := range cov[i] {
			cov[i][j] = quadratic(grads[i], f.cov, grads[j])
		}
	}
	cov[0][0] += s.extra
	f.Correlation = make([][]float64, len(names))
	for i, name := range names {
		se := math.Sqrt(cov[i][i])
		f.Estimates = append(f.Estimates, estimate(name, at[i], se, f.quantile))
		f.Correlation[i] = make([]float64, len(names))
		for j := range names {
			f.Correlation[i][j] = cov[i][j] / math.Sqrt(cov[i][i]*cov[j][j])
		}
		f.Correlation[i][i] = 1
		if i == 0 && !(f.Estimates[0].High/f.Estimates[0].Value-1 <= s.within/100) {
			open := 100 * (f.Estimates[0].High/f.Estimates[0].Value - 1)
			return Fit{}, &ImpossibleError{Quantity: "release curve", Why: "the readings leave the gas content open by " + digits3(open) + " %; read for longer, sooner after roasting, or finer",
				Field: "WithinPct", Given: fault.Shortest(s.within), Min: open, Max: math.Inf(1), Unit: "%"}
		}
		if i > 0 && !(f.quantile*se <= math.Log(OpenFactor)) {
			return Fit{}, s.cannotTell("the readings leave " + name + " open by a factor of " + digits3(math.Exp(math.Min(f.quantile*se, 700))))
		}
	}

	left := func(p []float64) []float64 {
		co := f.coffeeFor(p)
		l, _ := co.Curve.share(s.t[0])
		return []float64{math.Log(co.GasMgPerG * l)}
	}
	grad := [][]float64{make([]float64, len(best.P))}
	f.gradient(left, grad)
	f.AtFirst = estimate("MgPerG", left(best.P)[0], math.Sqrt(quadratic(grad[0], f.cov, grad[0])+s.extra), f.quantile)

	f.Slope = Estimate{Name: s.slopeName, Value: slope, Low: slope, High: slope}
	if s.slopeU > 0 {
		f.Slope.SE = s.slopeU * math.Sqrt(f.cov[k][k])
		f.Slope.Low -= f.quantile * f.Slope.SE
		f.Slope.High += f.quantile * f.Slope.SE
	}
	fitted, gone := make([]float64, n), make([]float64, n)
	s.shares(gone, c)
	s.model(fitted, gone, offset, gain, slope)
	for i := range fitted {
		rest := s.y[i] - fitted[i]
		f.Residuals = append(f.Residuals, Residual{Days: s.t[i], Left: rest, InSigmas: rest / s.sigma})
	}
	if lost(c, s.t[0], s.t[n-1]) < 0.5 {
		f.Notes |= LongTail
	}
	f.Notes |= f.Coffee.notes()
	return f, nil
}

// onScale is the scale on which an estimate's interval is symmetrical.
func onScale(name string, v float64) float64 {
	if name == "FastPct" {
		return math.Log(v / (100 - v))
	}
	return math.Log(v)
}

func estimate(name string, at, se, quantile float64) Estimate {
	back := math.Exp
	slope := back(at)
	if name == "FastPct" {
		back = func(x float64) float64 { return 100 / (1 + math.Exp(-x)) }
		slope = back(at) * (1 - back(at)/100)
	}
	return Estimate{Name: name, Value: back(at), SE: se * slope, Low: back(at - quantile*se), High: back(at + quantile*se)}
}

// gradient fills grads[i][j] with the derivative of f(p)[i] by p[j].
func (f Fit) gradient(fn func(p []float64) []float64, grads [][]float64) {
	p := slices.Clone(f.p)
	for j := range p {
		// The search's numbers are of order one: logarithms, and offsets in σ.
		const h = 1e-5
		at := p[j]
		p[j] = at + h
		up := fn(p)
		p[j] = at - h
		down := fn(p)
		p[j] = at
		for i := range grads {
			grads[i][j] = (up[i] - down[i]) / (2 * h)
		}
	}
}

func quadratic(a []float64, m [][]float64, b []float64) float64 {
	s := 0.0
	for i := range a {
		for j := range b {
			s += a[i] * m[i][j] * b[j]
		}
	}
	return s
}

// A FitBand is what a fit says about one age, with its 95 % interval.
type FitBand struct {
	LeftPct, LowPct, HighPct          float64 // share left, %
	LeftMgPerG, LowMgPerG, HighMgPerG float64 // gas left, mg/g
}

// Left returns how much gas is left at an age by the fitted curve, with the
// 95 % interval that the uncertainty of its parameters makes; the shape itself
// is taken as right.
//
//	t   days   days   accepted 0 to MaxDays
//
// A bad age is refused with an [*InputError]; so is a Fit that [FitWeighings] or
// [FitJar] did not make.
//
// Source: propagation of the fit's covariance on the scale of the odds.
func (f Fit) Left(days float64) (FitBand, error) {
	bad := checkCurve(nil, "Curve", f.Coffee.Curve)
	if f.coffeeFor == nil {
		bad = append(bad, &FieldError{Field: "Estimates", Given: strconv.Itoa(len(f.Estimates)), Min: 2, Max: 4, Why: "this Fit was not made by FitWeighings or FitJar"})
	}
	bad = fault.Float(bad, "days", days, 0, MaxDays, "days")
	if err := fault.Input(bad); err != nil {
		return FitBand{}, err
	}
	l, g := f.Coffee.Curve.share(days)
	b := FitBand{LeftPct: 100 * l, LeftMgPerG: f.Coffee.GasMgPerG * l}
	if !(l > 1e-12 && g > 1e-12) { // no spread that could be seen
		b.LowPct, b.HighPct = b.LeftPct, b.LeftPct
		e := f.Estimates[0]
		b.LowMgPerG, b.HighMgPerG = e.Low*l, e.High*l
		return b, nil
	}
	grads := [][]float64{make([]float64, len(f.p)), make([]float64, len(f.p))}
	f.gradient(func(p []float64) []float64 {
		co := f.coffeeFor(p)
		l, g := co.Curve.share(days)
		return []float64{math.Log(l / g), math.Log(co.GasMgPerG * l)}
	}, grads)
	spread := f.quantile * math.Sqrt(quadratic(grads[0], f.cov, grads[0]))
	odds := math.Log(l / g)
	b.LowPct, b.HighPct = 100/(1+math.Exp(spread-odds)), 100/(1+math.Exp(-spread-odds))
	spread = f.quantile * math.Sqrt(quadratic(grads[1], f.cov, grads[1])+f.extra)
	b.LowMgPerG, b.HighMgPerG = b.LeftMgPerG*math.Exp(-spread), b.LeftMgPerG*math.Exp(spread)
	return b, nil
}

// A Rank is how one of several fits of the same readings stands.
type Rank struct {
	AICc      float64 // corrected information criterion, no unit; smaller is better
	Delta     float64 // from the best, no unit; under 2 is no difference, over 10 is decisive
	WeightPct float64 // share of belief that it is the best of these, %
}

// Compare returns how fits of different shapes to the same readings stand, in
// the order given.
//
//	AICc = χ²/c + 2k + 2k·(k + 1)/(n − k − 1)
//	w    ∝ exp(−(AICc − least)/2)
//
//	χ²  Fit.ChiSquare
//	k   Fit.Parameters
//	n   readings
//	c   the least χ²/DF among the fits, or 1 if that is more: where all scatter
//	    more than stated, the statement is at fault and not the shapes
//
// Refused with an [*InputError]: fewer than two fits, or fits of different
// readings or of another stated uncertainty. It says which of these shapes to
// prefer, not that any is right: look at the residuals.
//
// Source: Burnham and Anderson, Model Selection and Multimodel Inference, 2nd
// ed., 2002, sections 2.4 to 2.6 and 2.9.
func Compare(fits ...Fit) ([]Rank, error) {
	bad := fault.Int(nil, "fits", len(fits), 2, 100, "fits")
	c := math.Inf(1)
	for i, f := range fits {
		n := len(f.Residuals)
		same := n > 0 && n == len(fits[0].Residuals) && f.Slope.Name == fits[0].Slope.Name &&
			f.sigma == fits[0].sigma && slices.Equal(f.y, fits[0].y)
		for j := 0; same && j < n; j++ {
			same = f.Residuals[j].Days == fits[0].Residuals[j].Days
		}
		if !same {
			bad = append(bad, &FieldError{Field: "fits[" + strconv.Itoa(i) + "]", Given: strconv.Itoa(n), Min: float64(len(fits[0].Residuals)), Max: float64(len(fits[0].Residuals)), Unit: "readings", Why: "all fits are of the same readings"})
			continue
		}
		c = math.Min(c, f.ChiSquare/float64(f.DF))
	}
	if err := fault.Input(bad); err != nil {
		return nil, err
	}
	c = math.Max(c, 1)
	ranks := make([]Rank, len(fits))
	least := math.Inf(1)
	for i, f := range fits {
		k, n := float64(f.Parameters), float64(len(f.Residuals))
		ranks[i].AICc = f.ChiSquare/c + 2*k + 2*k*(k+1)/(n-k-1)
		least = math.Min(least, ranks[i].AICc)
	}
	sum := 0.0
	for i := range ranks {
		ranks[i].Delta = ranks[i].AICc - least
		sum += math.Exp(-ranks[i].Delta / 2)
	}
	for i := range ranks {
		ranks[i].WeightPct = 100 * math.Exp(-ranks[i].Delta/2) / sum
	}
	return ranks, nil
}
