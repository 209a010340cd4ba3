package headspace

import (
	"math"
	"slices"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// OutlierScore is the modified z-score above which a reading is called an
// outlier, a pure number. Source: Iglewicz and Hoaglin, How to Detect and
// Handle Outliers, 1993, as in the NIST/SEMATECH e-Handbook, section 1.3.5.17;
// from memory.
const OutlierScore = 3.5

// What a trial accepts.
const (
	minResolutionPct = 1e-4
	maxBags          = 500
)

// nearResolution is the number of resolutions below which a reading counts as
// an interval and not as a number.
const nearResolution = 3

// A Reading is one bag flushed and measured.
//
// The zero Reading is refused. OxygenPct is truly zero when zero: a meter may
// show 0.0.
type Reading struct {
	FreeML      float64 // gas space of that bag, mL
	FlowLPerMin float64 // flow, L/min at the temperature and pressure of the bag
	Seconds     float64 // flushing time, s
	OxygenPct   float64 // oxygen shown, % by volume
}

// A Trial is a set of readings from one nozzle and machine.
//
// The zero Trial is refused. SupplyPct is truly zero when zero.
type Trial struct {
	StartPct      float64   // oxygen before, % by volume
	SupplyPct     float64   // oxygen in the purge gas, % by volume
	ResolutionPct float64   // smallest step of the meter, % by volume
	Readings      []Reading // 3 to 500 bags
}

// A NozzleFit is what a trial tells about the nozzle.
type NozzleFit struct {
	NozzlePct     float64 // see Nozzle, %
	SEPct         float64 // its standard error, % (of the nozzle scale)
	SDLn          float64 // spread from bag to bag, standard deviation of ln(oxygen), a pure number
	DF            int     // degrees of freedom of that spread, a count
	Count         int     // readings used, all of them
	Censored      int     // readings taken as an interval: 0, or below 3 resolutions, a count
	Outliers      int     // readings that stand apart, kept all the same, a count
	WithoutPct    float64 // NozzlePct without the outliers, %
	MinVolumes    float64 // least gas tried, in headspaces, a pure number
	MaxVolumes    float64 // most gas tried, in headspaces, a pure number
	StartPct      float64 // oxygen before, % by volume, as given
	SupplyPct     float64 // oxygen in the purge gas, % by volume, as given
	ResolutionPct float64 // step of the meter, % by volume, as given
	Notes         Notes

	// The fit by medians, by which outliers are judged.
	MedianNozzlePct float64 // median of the nozzles that each reading alone would tell, %
	MedianLn        float64 // median of what ln(oxygen) is off from it, a pure number
	MADLn           float64 // median of how far each is from that, a pure number
}

// FitNozzle fits the nozzle to readings of oxygen at known gas.
//
//	ln y = ln(y_n + (y_0 − y_n)·M(θ, q)) + e,  e normal with spread SDLn
//
//	y_0  StartPct       %      accepted 0.5 to 100
//	y_n  SupplyPct      %      accepted 0 to 20, below StartPct
//	     ResolutionPct  %      accepted 1e-4 to 1
//	V_h  FreeML         mL     accepted 1 to 1e9
//	     FlowLPerMin    L/min  accepted 0.01 to 10 000
//	     Seconds        s      accepted 0.01 to 36 000
//	y    OxygenPct      %      accepted 0 to 100
//	θ    flow times time over V_h
//	M, q as in [AfterNozzle]
//
// The logarithm is fitted because the spread between bags grows with the
// oxygen in them. A reading of 0, or of less than 3 resolutions, is not a
// number but an interval of half a resolution to each side (from nothing, for
// 0): it enters by its likelihood, found by expectation and maximisation
// around least squares, and is counted in Censored; where it says so little that
// these do not settle, as a 0 after a very long flush, by steps with the
// information of each point, and DF leaves out what it does not tell. A reading
// whose modified
// z-score around a fit by medians exceeds [OutlierScore] is counted in
// Outliers and kept; WithoutPct is the fit without them. [JudgeReading] says
// which they are.
//
// An [*ImpossibleError] comes when no more than one reading is a number, or
// when the readings cannot tell nozzles apart, as when all of them took less
// gas than the piston part. It names a finer resolution where that would do, else
// more bags, up to 500.
//
// The standard error is that of the linearised model and assumes that the
// bags differ at random: bags of one minute are less different than bags of
// one week.
//
// Source: Dempster, Laird and Rubin, Journal of the Royal Statistical Society
// B 39, 1977 (interval readings); the model as in AfterNozzle.
func FitNozzle(t Trial) (NozzleFit, error) {
	if err := t.check(); err != nil {
		return NozzleFit{}, err
	}
	n := len(t.Readings)
	pts := make([]point, n)
	f := NozzleFit{Count: n, StartPct: t.StartPct, SupplyPct: t.SupplyPct, ResolutionPct: t.ResolutionPct, MinVolumes: math.Inf(1)}
	for i, r := range t.Readings {
		pts[i] = f.point(r)
		f.MinVolumes = math.Min(f.MinVolumes, pts[i].theta)
		f.MaxVolumes = math.Max(f.MaxVolumes, pts[i].theta)
		if pts[i].interval {
			f.Censored++
		}
	}
	if n-f.Censored < 2 {
		return NozzleFit{}, t.tooCoarse(n - f.Censored)
	}
	f.byMedians(pts)
	got, ok := f.likeliest(pts)
	if !ok {
		return NozzleFit{}, moreBags("every nozzle explains these readings equally well, or none does: add bags with more and with less gas", n, 1)
	}
	f.NozzlePct, f.SEPct, f.SDLn, f.DF = got.q*100, got.se*100, got.sd, got.df
	f.WithoutPct = f.NozzlePct
	kept := slices.DeleteFunc(slices.Clone(pts), func(p point) bool { return f.score(p) > OutlierScore })
	if f.Outliers = n - len(kept); f.Outliers > 0 {
		f.Notes |= HasOutliers
		if w, ok := f.likeliest(kept); ok {
			f.WithoutPct = w.q * 100
		}
	}
	if f.Censored > 0 {
		f.Notes |= HasCensored
	}
	if n < 6 {
		f.Notes |= FewReadings
	}
	return f, nil
}

// A Judged reading is one seen against the fit of its trial.
type Judged struct {
	Volumes     float64 // gas used, in headspaces, a pure number
	ExpectedPct float64 // oxygen by the fit, % by volume
	Score       float64 // modified z-score, without sign, a pure number
	Outlier     bool    // the score exceeds OutlierScore
	Censored    bool    // taken as an interval, not as a number
}

// JudgeReading says how one reading stands against a fit: what was expected,
// and whether it counts as an outlier or as an interval. An outlier is a
// question to the bag, not a reading to drop: look for a leak, a bad seal or a
// blocked needle first.
//
// Accepted ranges as in [FitNozzle]; a NozzleFit that FitNozzle did not make is
// refused.
//
// Source: as FitNozzle; score 0.6745·|e − median|/MAD, Iglewicz and Hoaglin.
func JudgeReading(f NozzleFit, r Reading) (Judged, error) {
	bad := f.check(nil)
	bad = r.check(bad)
	if bad != nil {
		return Judged{}, fault.Input(bad)
	}
	p := f.point(r)
	s := f.score(p)
	return Judged{
		Volumes: p.theta, ExpectedPct: math.Exp(f.lnOxygen(p.theta, f.NozzlePct/100)),
		Score: s, Outlier: s > OutlierScore, Censored: p.interval,
	}, nil
}

// A Setting is a machine setting whose result is asked for.
//
// The zero Setting is refused.
type Setting struct {
	FreeML        float64 // gas space, mL
	FlowLPerMin   float64 // flow, L/min at the temperature and pressure of the bag
	Seconds       float64 // flushing time, s
	ConfidencePct float64 // confidence of the interval, %
}

// A Prediction is the oxygen to expect in the next bag.
type Prediction struct {
	OxygenPct       float64 // median of the bags, % by volume
	LowPct, HighPct float64 // prediction interval of one further bag, % by volume, cut at 100
	Volumes         float64 // gas used, in headspaces, a pure number
	Notes           Notes
}

// PredictOxygen returns the oxygen of the next bag at another setting, with
// the interval that holds it with the stated confidence.
//
//	ln y ± t·√(SDLn² + (∂ln y/∂q·SE)²)
//
// cut at 100 %, above which no oxygen is.
//
//	     FreeML         mL     accepted 1 to 1e9
//	     FlowLPerMin    L/min  accepted 0.01 to 10 000
//	     Seconds        s      accepted 0.01 to 36 000
//	     ConfidencePct  %      accepted 50 to 99.9
//	t    Student's t with f.DF degrees of freedom, two-sided
//
// Outside the gas that was tried the answer carries [Extrapolated]: the model
// has one parameter and cannot warn of a shape that it does not know.
//
// Source: Draper and Smith, Applied Regression Analysis (prediction of one
// further observation), linearised.
func PredictOxygen(f NozzleFit, s Setting) (Prediction, error) {
	bad := f.check(nil)
	bad = settings(bad, s.FreeML, s.FlowLPerMin, s.Seconds)
	bad = fault.Float(bad, "ConfidencePct", s.ConfidencePct, 50, 99.9, "%")
	if bad != nil {
		return Prediction{}, fault.Input(bad)
	}
	theta := volumes(s.FreeML, s.FlowLPerMin, s.Seconds)
	q := f.NozzlePct / 100
	mid := f.lnOxygen(theta, q)
	half := num.StudentQuantile(0.5+s.ConfidencePct/200, float64(f.DF)) * math.Hypot(f.SDLn, f.slope(theta, q)*f.SEPct/100)
	p := Prediction{OxygenPct: math.Exp(mid), LowPct: math.Exp(mid - half), HighPct: math.Min(math.Exp(mid+half), 100), Volumes: theta}
	if theta < f.MinVolumes || theta > f.MaxVolumes {
		p.Notes |= Extrapolated
	}
	return p, nil
}

// An Assurance is what the shortest time must keep.
//
// The zero Assurance is refused.
type Assurance struct {
	FreeML          float64 // gas space, mL
	FlowLPerMin     float64 // flow, L/min at the temperature and pressure of the bag
	LimitPct        float64 // oxygen that the stated share of bags must stay under, % by volume
	ToleranceFactor float64 // one-sided tolerance factor k for that share, confidence and number of readings
}

// A Shortest time to flush.
type Shortest struct {
	Seconds        float64 // flushing time, s: round up
	GasML          float64 // gas of one bag, mL at the temperature and pressure of the bag
	Volumes        float64 // that gas in headspaces, a pure number
	OxygenPct      float64 // median oxygen then, % by volume
	EffectiveCount float64 // readings that the fit is worth at this setting, a pure number
	Notes          Notes
}

// ShortestTime returns the shortest flushing time at which, by a tolerance
// bound, a stated share of bags is under the limit with stated confidence.
//
//	ln y(θ) + k·SDLn = ln(limit), solved for θ
//
//	     FreeML           mL     accepted 1 to 1e9
//	     FlowLPerMin      L/min  accepted 0.01 to 10 000
//	     LimitPct         %      accepted 0.001 to 50
//	k    ToleranceFactor         accepted 0.1 to 100
//
// Take k, the one-sided factor of a normal tolerance bound, for the share, the
// confidence and the number of readings (f.Count). It covers a mean known from
// that many readings; EffectiveCount says what the fit is worth at the answer,
// and when it is smaller the answer carries [WeakHere]: take k for that number
// instead. A limit that the supply's own oxygen and the spread of the bags put
// out of reach is an [*ImpossibleError] of the limit, or where no limit would do
// of the factor, of the supply or of the spread. Outside the gas that was tried the
// answer carries [Extrapolated]: confirm it with bags.
//
// Source: ISO 16269-6:2014 (one-sided tolerance bound, unknown spread), applied
// to ln(oxygen) around the fit.
func ShortestTime(f NozzleFit, a Assurance) (Shortest, error) {
	bad := f.check(nil)
	bad = fault.Float(bad, "FreeML", a.FreeML, minFreeML, maxFreeML, "mL")
	bad = fault.Float(bad, "FlowLPerMin", a.FlowLPerMin, 0.01, 10_000, "L/min")
	bad = fault.Float(bad, "LimitPct", a.LimitPct, minLimitPct, maxLimitPct, "%")
	bad = fault.Float(bad, "ToleranceFactor", a.ToleranceFactor, minTolerance, maxTolerance, "")
	if bad != nil {
		return Shortest{}, fault.Input(bad)
	}
	y := aim(a.LimitPct, a.ToleranceFactor, f.SDLn)
	if !(y > f.SupplyPct) {
		return Shortest{}, a.tooTight(f.SupplyPct, f.SDLn)
	}
	if y >= f.StartPct {
		return Shortest{OxygenPct: f.StartPct, EffectiveCount: float64(f.Count), Notes: AlreadyThere}, nil
	}
	q := f.NozzlePct / 100
	theta := nozzleVolumes((y-f.SupplyPct)/(f.StartPct-f.SupplyPct), q)
	s := Shortest{
		Seconds:   theta * a.FreeML / 1000 / a.FlowLPerMin * 60,
		GasML:     theta * a.FreeML,
		Volumes:   theta,
		OxygenPct: y,
	}
	s.EffectiveCount = maxCount
	if d := f.slope(theta, q) * f.SEPct / 100; d*d*maxCount > f.SDLn*f.SDLn {
		s.EffectiveCount = f.SDLn * f.SDLn / (d * d)
	}
	if s.EffectiveCount < 0.999*float64(f.Count) {
		s.Notes |= WeakHere
	}
	if theta < f.MinVolumes || theta > f.MaxVolumes {
		s.Notes |= Extrapolated
	}
	return s, nil
}

// What ShortestTime accepts.
const (
	minLimitPct  = 0.001
	maxLimitPct  = 50
	minTolerance = 0.1
	maxTolerance = 100
)

// aim is the median that keeps the stated share of bags under a limit, %.
func aim(limitPct, factor, sdLn float64) float64 { return limitPct / math.Exp(factor*sdLn) }

// tooTight says which change brings the limit above what a supply and a spread
// between bags leave.
func (a Assurance) tooTight(supplyPct, sdLn float64) error {
	y := aim(a.LimitPct, a.ToleranceFactor, sdLn)
	return opened(&ImpossibleError{Quantity: "flushing time", Why: "the oxygen of the purge gas and the spread from bag to bag pass the limit however long the flush"},
		way{"LimitPct", "%", a.LimitPct, minLimitPct, maxLimitPct, maxLimitPct, func(pct float64) bool { return aim(pct, a.ToleranceFactor, sdLn) > supplyPct }},
		way{"ToleranceFactor", "", a.ToleranceFactor, minTolerance, maxTolerance, minTolerance, func(k float64) bool { return aim(a.LimitPct, k, sdLn) > supplyPct }},
		way{"SupplyPct", "%", supplyPct, 0, 20, 0, func(pct float64) bool { return y > pct }},
		way{"SDLn", "", sdLn, 0, 1e3, 0, func(sd float64) bool { return aim(a.LimitPct, a.ToleranceFactor, sd) > supplyPct }})
}

// A point is a reading as the fit sees it.
type point struct {
	theta    float64 // gas in headspaces
	ln       float64 // ln of the reading, when it is a number
	lo, hi   float64 // ln of the ends of the interval, when it is one
	interval bool
}

func (f *NozzleFit) point(r Reading) point {
	p := point{theta: volumes(r.FreeML, r.FlowLPerMin, r.Seconds)}
	if p.interval = r.OxygenPct < nearResolution*f.ResolutionPct; p.interval {
		// math.Log(0) is −Inf: an interval open below.
		p.lo = math.Log(math.Max(0, r.OxygenPct-f.ResolutionPct/2))
		p.hi = math.Log(r.OxygenPct + f.ResolutionPct/2)
		return p
	}
	p.ln = math.Log(r.OxygenPct)
	return p
}

func volumes(freeML, flowLPerMin, seconds float64) float64 {
	return flowLPerMin * 1000 / 60 * seconds / freeML
}

// lnOxygen is the model; −Inf where nothing at all is left.
func (f *NozzleFit) lnOxygen(theta, q float64) float64 {
	return math.Log(blend(f.StartPct, f.SupplyPct, nozzleShare(theta, q)))
}

// slope is ∂ln y/∂q.
func (f *NozzleFit) slope(theta, q float64) float64 {
	m := nozzleShare(theta, q)
	var dm float64
	switch {
	case q <= 0:
		dm = -theta * m
	case theta > q && q < 1:
		// M = (1−q)·e^(−(θ−q)/(1−q))
		dm = m * (1 - theta) / ((1 - q) * (1 - q))
		dm -= m / (1 - q)
	}
	return (f.StartPct - f.SupplyPct) * dm / blend(f.StartPct, f.SupplyPct, m)
}

// residual is how far a point lies from the model; nothing inside an interval.
func (p point) residual(model float64) float64 {
	switch {
	case !p.interval:
		return p.ln - model
	case model > p.hi:
		return p.hi - model
	case model < p.lo:
		return p.lo - model
	}
	return 0
}

// byMedians sets the robust fit: the median of the nozzles that each reading
// alone would give, then the centre and the spread of what is left over.
func (f *NozzleFit) byMedians(pts []point) {
	qs := make([]float64, 0, len(pts))
	for _, p := range pts {
		if p.interval {
			continue
		}
		// ln 0 is kept finite: the root finder divides by what it gets.
		miss := func(q float64) float64 { return math.Max(f.lnOxygen(p.theta, q), -800) - p.ln }
		const lo, hi = minNozzlePct / 100.0, 0.999
		switch q, ok := num.Root(miss, lo, hi, 1e-12); {
		case ok:
			qs = append(qs, q)
		case miss(hi) > 0:
			qs = append(qs, hi)
		default:
			qs = append(qs, lo)
		}
	}
	f.MedianNozzlePct = 100 * median(qs)
	rs := make([]float64, len(pts))
	for i, p := range pts {
		rs[i] = p.residual(f.lnOxygen(p.theta, f.MedianNozzlePct/100))
	}
	f.MedianLn = median(slices.Clone(rs))
	for i := range rs {
		rs[i] = math.Abs(rs[i] - f.MedianLn)
	}
	f.MADLn = median(rs)
}

// score is the modified z-score. Readings that agree to within rounding have
// no spread to stand out from.
func (f *NozzleFit) score(p point) float64 {
	e := math.Abs(p.residual(f.lnOxygen(p.theta, f.MedianNozzlePct/100)) - f.MedianLn)
	if e < 1e-9 {
		return 0
	}
	return math.Min(0.6745*e/math.Max(f.MADLn, 1e-9), 1e9)
}

func median(v []float64) float64 {
	slices.Sort(v)
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}

// likely is the outcome of one likelihood fit.
type likely struct {
	q, se, sd float64
	df        int
}

// likeliest fits by least squares, with interval readings replaced by what
// they would be on average, until nothing moves.
func (f *NozzleFit) likeliest(pts []point) (likely, bool) {
	n := len(pts)
	ln := make([]float64, n)
	spare := make([]float64, n) // variance that an interval leaves open
	intervals := false
	for i, p := range pts {
		ln[i] = p.ln
		if p.interval {
			intervals = true
			ln[i] = p.hi
		}
	}
	// 2+q keeps the step of the numerical derivative away from zero.
	shift := []float64{2 + f.start(pts, ln)}
	var best likely
	for range 500 {
		fit, err := num.LeastSquares(n, shift, func(dst, p []float64) {
			q := p[0] - 2
			if q < minNozzlePct/100.0 || q > 0.9999 {
				dst[0] = math.NaN()
				return
			}
			for i, pt := range pts {
				dst[i] = f.lnOxygen(pt.theta, q) - ln[i]
			}
		})
		if err != nil {
			return likely{}, false
		}
		q, rss := fit.P[0]-2, fit.RSS
		for _, v := range spare {
			rss += v
		}
		sd := math.Sqrt(rss / float64(n-1))
		info := 0.0
		for i, p := range pts {
			d := f.slope(p.theta, q)
			w := 1.0
			if p.interval && sd > 0 {
				w = math.Max(0, 1-spare[i]/(sd*sd))
			}
			info += w * d * d
		}
		settled := math.Abs(q-best.q) <= 1e-9 && math.Abs(sd-best.sd) <= 1e-9
		best = likely{q: q, se: sd / math.Sqrt(info), sd: sd, df: n - 1}
		if math.IsInf(best.se, 0) || math.IsNaN(best.se) {
			return likely{}, false
		}
		if !intervals || settled {
			return best, true
		}
		shift[0] = fit.P[0]
		for i, p := range pts {
			if p.interval {
				ln[i], spare[i] = within(f.lnOxygen(p.theta, q), sd, p.lo, p.hi)
			}
		}
	}
	return f.scored(pts, best)
}

// scored goes on from a fit that did not settle. Intervals that the model meets
// by far tell next to nothing, and expectation and maximisation, which counts
// them as readings, creeps: here the same two equations are stepped with the
// information that each point has.
func (f *NozzleFit) scored(pts []point, at likely) (likely, bool) {
	for range 200 {
		score, info, squares, free := 0.0, 0.0, 0.0, float64(len(pts)-1)
		for _, p := range pts {
			model, d := f.lnOxygen(p.theta, at.q), f.slope(p.theta, at.q)
			if !p.interval {
				e := p.ln - model
				score, info, squares = score+d*e, info+d*d, squares+e*e
				continue
			}
			mean, v := within(model, at.sd, p.lo, p.hi)
			e := mean - model
			score += d * e
			info += d * d * math.Max(0, 1-v/(at.sd*at.sd))
			free -= (e*e + v) / (at.sd * at.sd)
		}
		next := likely{q: at.q + score/info, sd: math.Sqrt(squares / free), df: max(1, int(free+0.5))}
		next.se = next.sd / math.Sqrt(info)
		if !(next.q >= minNozzlePct/100.0 && next.q <= 0.9999 && next.sd > 0 && next.se > 0) || math.IsInf(next.se, 0) {
			return likely{}, false
		}
		if math.Abs(next.q-at.q) <= 1e-9 && math.Abs(next.sd-at.sd) <= 1e-9 {
			return next, true
		}
		at = next
	}
	return likely{}, false
}

// start is the best of a few nozzles to begin the search with.
func (f *NozzleFit) start(pts []point, ln []float64) float64 {
	best, least := 0.0, math.Inf(1)
	for q := -0.95; q < 1; q += 0.05 {
		s := 0.0
		for i, p := range pts {
			e := f.lnOxygen(p.theta, q) - ln[i]
			s += e * e
		}
		if s < least {
			best, least = q, s
		}
	}
	return best
}

// within is mean and variance of a normal known to lie between lo and hi.
func within(mean, sd, lo, hi float64) (m, v float64) {
	a, b := (lo-mean)/sd, (hi-mean)/sd
	switch {
	case !(sd > 1e-9): // no spread: the nearest point of the interval
		return math.Min(math.Max(mean, lo), hi), 0
	case a > 30:
		return lo, 0
	case b < -30:
		return hi, 0
	}
	pa, pb := density(a), density(b)
	var z float64 // share between, from the tail that loses no digits
	if a > 0 {
		z = num.NormalCDF(-a) - num.NormalCDF(-b)
	} else {
		z = num.NormalCDF(b) - num.NormalCDF(a)
	}
	if b-a < 1e-3 || !(z > 0) { // narrow: flat inside
		return (lo + hi) / 2, (hi - lo) * (hi - lo) / 12
	}
	shift := (pa - pb) / z
	m = mean + sd*shift
	spread := 1 - shift*shift
	if !math.IsInf(a, 0) {
		spread += a * pa / z
	}
	spread -= b * pb / z
	return math.Min(math.Max(m, lo), hi), sd * sd * math.Min(math.Max(spread, 0), 1)
}

func density(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// moreBags asks for so many bags more, where so many can be read.
func moreBags(why string, have, more int) error {
	none := &ImpossibleError{Quantity: "nozzle", Why: why}
	if have+more <= maxBags {
		none.Field, none.Given, none.Unit = "Readings", strconv.Itoa(have), "bags"
		none.Min, none.Max = float64(have+more), maxBags
	}
	return none
}

// tooCoarse names the finer resolutions at which two readings stand clear, where
// these then tell the nozzle at both ends; else more bags.
func (t Trial) tooCoarse(clear int) error {
	const why = "fewer than 2 readings stand clear of the meter's resolution"
	shown := make([]float64, len(t.Readings))
	for i, r := range t.Readings {
		shown[i] = r.OxygenPct
	}
	slices.Sort(shown)
	next := shown[len(shown)-2]
	stands := func(pct float64) bool { return next >= nearResolution*pct }
	fits := func(pct float64) bool {
		t.ResolutionPct = pct
		_, err := FitNozzle(t)
		return err == nil
	}
	given := t.ResolutionPct
	if most := num.Inside(next/nearResolution, minResolutionPct, stands); stands(minResolutionPct) && fits(minResolutionPct) && fits(most) {
		return &ImpossibleError{Quantity: "nozzle", Why: why, Field: "ResolutionPct", Given: fault.Shortest(given), Min: minResolutionPct, Max: most, Unit: "%"}
	}
	return moreBags(why, len(t.Readings), 2-clear)
}

func (t Trial) check() error {
	bad := fault.Float(nil, "StartPct", t.StartPct, minStartPct, 100, "%")
	n := len(bad)
	bad = fault.Float(bad, "SupplyPct", t.SupplyPct, 0, 20, "%")
	if len(bad) == 0 && t.SupplyPct >= t.StartPct {
		bad = fault.Float(bad, "SupplyPct", t.SupplyPct, 0, math.Nextafter(t.StartPct, 0), "%")
		bad[n].Why = "below the oxygen before, or the readings tell nothing"
	}
	bad = fault.Float(bad, "ResolutionPct", t.ResolutionPct, minResolutionPct, 1, "%")
	if many := fault.Int(nil, "Readings", len(t.Readings), 3, maxBags, "bags"); many != nil {
		return fault.Input(append(bad, many...))
	}
	for i, r := range t.Readings {
		n := len(bad)
		if bad = r.check(bad); len(bad) > n {
			bad = fault.Under("Readings["+strconv.Itoa(i)+"].", bad, n)
		}
	}
	return fault.Input(bad)
}

func (r Reading) check(bad []*FieldError) []*FieldError {
	bad = settings(bad, r.FreeML, r.FlowLPerMin, r.Seconds)
	return fault.Float(bad, "OxygenPct", r.OxygenPct, 0, 100, "%")
}

func settings(bad []*FieldError, freeML, flowLPerMin, seconds float64) []*FieldError {
	bad = fault.Float(bad, "FreeML", freeML, minFreeML, maxFreeML, "mL")
	bad = fault.Float(bad, "FlowLPerMin", flowLPerMin, 0.01, 10_000, "L/min")
	return fault.Float(bad, "Seconds", seconds, 0.01, 36_000, "s")
}

// check refuses a fit that FitNozzle did not make.
func (f *NozzleFit) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "NozzlePct", f.NozzlePct, minNozzlePct, 100, "%")
	bad = fault.Float(bad, "SEPct", f.SEPct, 0, 1e9, "%")
	bad = fault.Float(bad, "SDLn", f.SDLn, 0, 1e3, "")
	bad = fault.Int(bad, "DF", f.DF, 1, 499, "")
	bad = fault.Float(bad, "StartPct", f.StartPct, minStartPct, 100, "%")
	bad = fault.Float(bad, "SupplyPct", f.SupplyPct, 0, 20, "%")
	bad = fault.Float(bad, "ResolutionPct", f.ResolutionPct, minResolutionPct, 1, "%")
	bad = fault.Float(bad, "MedianNozzlePct", f.MedianNozzlePct, minNozzlePct, 100, "%")
	bad = fault.Float(bad, "MedianLn", f.MedianLn, -1e3, 1e3, "")
	return fault.Float(bad, "MADLn", f.MADLn, 0, 1e3, "")
}
