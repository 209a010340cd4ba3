package extraction

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Slopes from °Brix to strength, % w/w per °Brix. They differ by more than
// their own uncertainties: coffee is no single solute.
const (
	// SlopePracticePct is the slope in common use: trade habit since about
	// 2006, no paper found (common practice). The default, never silently.
	SlopePracticePct = 0.85

	// SlopePracticeUPct covers the published slopes as a standard
	// uncertainty.
	SlopePracticeUPct = 0.02

	// SlopeRegressionPct and SlopeRegressionUPct: Gomez, regression of
	// collected online data, before 2022 (quoted by a web article).
	SlopeRegressionPct  = 0.8491
	SlopeRegressionUPct = 0.0043

	// SlopeGPerL is by volume, g/L per °Brix: Moroney et al., PLoS ONE
	// 14(7):e0219906, 2019 (quoted), the only reviewed one. It is 0.823 %.
	SlopeGPerL = 8.25

	// SlopeWeakPct and SlopeStrongPct are one operator's slopes for weak and
	// for strong fractions: a web article, 2022 (opened).
	SlopeWeakPct   = 0.902
	SlopeStrongPct = 0.8322
)

// Refractometry is a reading on a sucrose scale with what turns it into a
// strength. The zero Refractometry is refused.
type Refractometry struct {
	BrixPct   float64 // °Brix of the sample, filtered, at the scale's temperature
	ZeroPct   float64 // °Brix of plain brewing water just before; 0 when the instrument was zeroed on it
	BrixUPct  float64 // standard uncertainty of the difference of the two, °Brix
	SlopePct  float64 // strength per °Brix, % w/w: [SlopePracticePct], or your own by [FitSlope]
	SlopeUPct float64 // its standard uncertainty, % w/w per °Brix: [SlopePracticeUPct]
}

// Measured is a strength and how well it is known.
type Measured struct {
	StrengthPct float64 // dissolved solids, % w/w
	UPct        float64 // standard uncertainty, % w/w
	Notes       Notes   // [UnusualStrength]
}

// BrixStrength returns the strength behind a refractometer reading.
//
//	T    = k·(Bx − Bx₀)
//	u²(T) = (k·u_Bx)² + ((Bx − Bx₀)·u_k)²
//
//	Bx    Refractometry.BrixPct    °Brix          accepted −1 to 30
//	Bx₀   Refractometry.ZeroPct    °Brix          accepted −1 to 1
//	u_Bx  Refractometry.BrixUPct   °Brix          accepted 0 to 2
//	k     Refractometry.SlopePct   % w/w per °Brix  accepted 0.6 to 1.1
//	u_k   Refractometry.SlopeUPct  % w/w per °Brix  accepted 0 to 0.2
//	T     Measured.StrengthPct     % w/w
//
// A strength that no brew has carries [UnusualStrength]. Outside the ranges it
// returns the zero Measured and an [*InputError]. Suspended fines scatter the
// light and read as solids or as a blur: filter first. The slope was found
// with the solute of one coffee; between coffees and between strong and weak
// fractions it moves by 4 %, which is more than the digits of any display.
//
// Source: definition; the slope names its own.
func BrixStrength(in Refractometry) (Measured, error) {
	bad := fault.Float(nil, "BrixPct", in.BrixPct, MinBrixPct, MaxBrixPct, "°Brix")
	bad = fault.Float(bad, "ZeroPct", in.ZeroPct, -1, 1, "°Brix")
	bad = fault.Float(bad, "BrixUPct", in.BrixUPct, 0, 2, "°Brix")
	bad = fault.Float(bad, "SlopePct", in.SlopePct, 0.6, 1.1, "%/°Brix")
	bad = fault.Float(bad, "SlopeUPct", in.SlopeUPct, 0, 0.2, "%/°Brix")
	if err := fault.Input(bad); err != nil {
		return Measured{}, err
	}
	net := in.BrixPct - in.ZeroPct
	t := in.SlopePct * net
	return Measured{StrengthPct: t, UPct: math.Hypot(in.SlopePct*in.BrixUPct, net*in.SlopeUPct), Notes: strengthNotes(t)}, nil
}

// SlopeByMass is a slope by volume to be turned into one by mass. The zero
// SlopeByMass is refused.
type SlopeByMass struct {
	GPerL   float64 // strength by volume per °Brix, g/L: [SlopeGPerL]
	KgPerM3 float64 // density of the brew, kg/m³, by [Convert]
}

// SlopePct returns a slope by mass, % w/w per °Brix, from one by volume.
//
//	k = 100·c/ρ
//
//	c  SlopeByMass.GPerL    g/L per °Brix  accepted 5 to 12
//	ρ  SlopeByMass.KgPerM3  kg/m³          accepted 950 to 1200
//
// Outside, it returns 0 and an [*InputError].
//
// Source: definition.
func SlopePct(in SlopeByMass) (float64, error) {
	bad := fault.Float(nil, "GPerL", in.GPerL, 5, 12, "g/L")
	bad = fault.Float(bad, "KgPerM3", in.KgPerM3, 950, 1200, "kg/m³")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return 100 * in.GPerL / in.KgPerM3, nil
}

// Pair is one brew read on the refractometer and dried in the oven. The zero
// Pair is truly water: it adds nothing to a slope.
type Pair struct {
	BrixPct     float64 // reading less water's, °Brix
	StrengthPct float64 // oven-dry strength, % w/w
}

// SlopeFit is a slope of one's own.
type SlopeFit struct {
	SlopePct     float64 // strength per °Brix, % w/w, through zero
	SlopeUPct    float64 // its standard uncertainty
	ResidualPct  float64 // standard deviation of a brew about the line, % w/w
	DFCount      int     // degrees of freedom
	LowBrixPct   float64 // smallest reading among the pairs, °Brix
	HighBrixPct  float64 // largest, °Brix
	InterceptPct float64 // intercept of a line that need not meet zero, % w/w
	InterceptU   float64 // its standard uncertainty, % w/w; 0 when all readings are equal
	Notes        Notes   // [InterceptMatters], [FewReadings]
}

// FitSlope returns the slope of one's own brews, by least squares through zero,
// and whether the pairs agree with going through zero.
//
//	k  = ΣxᵢYᵢ/Σxᵢ²    s² = Σ(Yᵢ − k·xᵢ)²/(n − 1)    u(k) = s/√Σxᵢ²
//
//	x  Pair.BrixPct      °Brix  accepted −1 to 30 each
//	Y  Pair.StrengthPct  % w/w  accepted 0 to 35 each
//	n  accepted 3 to 1000
//
// With fewer than six pairs it carries [FewReadings]; where a line with an
// intercept does better than chance, [InterceptMatters]. Outside the ranges,
// and where no reading differs from zero, it returns the zero SlopeFit and an
// error. Spread the pairs over the strengths that will be read: the slope is
// only known there.
//
// Source: least squares; JCGM 100:2008, annex H.3, for the line with an
// intercept.
func FitSlope(pairs []Pair) (SlopeFit, error) {
	bad := fault.Int(nil, "pairs", len(pairs), 3, 1000, "pairs")
	if bad == nil {
		for i, p := range pairs {
			bad = floatAt(bad, "pairs", i, "BrixPct", p.BrixPct, MinBrixPct, MaxBrixPct, "°Brix")
			bad = floatAt(bad, "pairs", i, "StrengthPct", p.StrengthPct, 0, MaxStrengthPct, "%")
		}
	}
	if err := fault.Input(bad); err != nil {
		return SlopeFit{}, err
	}
	n := float64(len(pairs))
	var sx, sy, sxx, sxy float64
	out := SlopeFit{LowBrixPct: pairs[0].BrixPct, HighBrixPct: pairs[0].BrixPct, DFCount: len(pairs) - 1}
	for _, p := range pairs {
		sx += p.BrixPct
		sy += p.StrengthPct
		sxx += p.BrixPct * p.BrixPct
		sxy += p.BrixPct * p.StrengthPct
		out.LowBrixPct = min(out.LowBrixPct, p.BrixPct)
		out.HighBrixPct = max(out.HighBrixPct, p.BrixPct)
	}
	if !(sxx > 1e-6) {
		return SlopeFit{}, &ImpossibleError{Quantity: "slope", Why: "all readings are those of water",
			Field: "pairs", Given: fault.Shortest(out.HighBrixPct), Min: 0.1, Max: MaxBrixPct, Unit: "°Brix"}
	}
	out.SlopePct = sxy / sxx
	mx, my := sx/n, sy/n
	var rss, dxx, dxy float64
	for _, p := range pairs {
		r := p.StrengthPct - out.SlopePct*p.BrixPct
		rss += r * r
		d := p.BrixPct - mx
		dxx += d * d
		dxy += d * (p.StrengthPct - my)
	}
	out.ResidualPct = math.Sqrt(rss / (n - 1))
	out.SlopeUPct = out.ResidualPct / math.Sqrt(sxx)
	if len(pairs) < 6 {
		out.Notes |= FewReadings
	}
	if dxx > 1e-9*sxx {
		b := dxy / dxx
		out.InterceptPct = my - b*mx
		var rest float64
		for _, p := range pairs {
			r := p.StrengthPct - out.InterceptPct - b*p.BrixPct
			rest += r * r
		}
		out.InterceptU = math.Sqrt(rest / (n - 2) * (1/n + mx*mx/dxx))
		// Rounding alone leaves 1e-12 of an intercept in pairs that meet zero.
		if math.Abs(out.InterceptPct) > num.StudentFactor(0.95, len(pairs)-2)*out.InterceptU+1e-12*math.Abs(my) {
			out.Notes |= InterceptMatters
		}
	}
	return out, nil
}

// floatAt is fault.Float for a field of one element of a list: it spells the
// name only when it refuses.
func floatAt(bad []*FieldError, list string, i int, field string, v, min, max float64, unit string) []*FieldError {
	if v >= min && v <= max {
		return bad
	}
	return fault.Float(bad, list+"["+strconv.Itoa(i)+"]."+field, v, min, max, unit)
}

// Oven is a brew dried in a dish. The zero Oven is refused.
type Oven struct {
	DishG float64 // empty dry dish, g; 0 where the scale was set to zero on it
	WetG  float64 // dish with the filtered brew, g
	DryG  float64 // dish with what is left when the weight stays, g
	UG    float64 // standard uncertainty of each weighing, g
}

// OvenStrength returns the strength by drying, the reference that slopes are
// fitted to.
//
//	T = 100·(m_d − m_0)/(m_w − m_0)
//	u(T) = 100·u·√[1 + T² + (1 − T)²]/(m_w − m_0), T a fraction
//
//	m_0  Oven.DishG            g  accepted 0 to 10 000
//	m_w  Oven.WetG             g  accepted 0.5 to 10 000
//	m_d  Oven.DryG             g  accepted 0 to 10 000
//	u    Oven.UG               g  accepted 0 to 1
//	T    Measured.StrengthPct  % w/w
//
// Outside, it returns the zero Measured and an [*InputError]; where the dish
// did not grow by the brew, or kept nothing or more than the brew, an
// [*ImpossibleError]. Filter first and state the pores: fines dry to solids
// too. Volatile acids leave and are missed; the last water is held and
// counted. A dish in steam and a hot oven burn: let it cool in a desiccator,
// with tongs.
//
// Source: definition; the European Coffee Brewing Centre counts dehydration
// as the more precise of the methods that it lists (opened).
func OvenStrength(in Oven) (Measured, error) {
	bad := fault.Float(nil, "DishG", in.DishG, 0, 10_000, "g")
	bad = fault.Float(bad, "WetG", in.WetG, 0.5, 10_000, "g")
	bad = fault.Float(bad, "DryG", in.DryG, 0, 10_000, "g")
	bad = fault.Float(bad, "UG", in.UG, 0, 1, "g")
	if err := fault.Input(bad); err != nil {
		return Measured{}, err
	}
	brew, left := in.WetG-in.DishG, in.DryG-in.DishG
	if !(in.WetG >= in.DishG+leastBrewG && left >= 0 && left < brew) {
		return Measured{}, in.noStrength()
	}
	t := left / brew
	return Measured{StrengthPct: 100 * t, UPct: 100 * in.UG * math.Sqrt(1+t*t+(1-t)*(1-t)) / brew, Notes: strengthNotes(100 * t)}, nil
}

// leastBrewG is the least brew that is dried, g.
const leastBrewG = 0.1

// noStrength names the weighing that is out of order.
func (in Oven) noStrength() error {
	dries := func(dish, wet, dry float64) bool { return wet >= dish+leastBrewG && dry >= dish && dry-dish < wet-dish }
	if in.WetG >= in.DishG+leastBrewG {
		none := &ImpossibleError{Quantity: "strength", Why: "the dried dish weighs less than empty or as much as full"}
		possible(none, "DryG", in.DryG, in.DishG, in.WetG, "g", func(dry float64) bool { return dries(in.DishG, in.WetG, dry) })
		return none
	}
	none := &ImpossibleError{Quantity: "strength", Why: "there is no brew in the dish"}
	full := func(wet float64) bool { return wet <= 10_000 && dries(in.DishG, wet, in.DryG) }
	if !possible(none, "WetG", in.WetG, max(in.DishG+leastBrewG, in.DryG), 10_000, "g", full) {
		possible(none, "DishG", in.DishG, 0, min(in.WetG-leastBrewG, in.DryG), "g",
			func(dish float64) bool { return dish >= 0 && dries(dish, in.WetG, in.DryG) })
	}
	return none
}

// RepeatabilityFactor turns a repeatability standard deviation into the limit
// that two readings exceed once in twenty pairs: ISO 5725-6, 2.8 (memory).
const RepeatabilityFactor = 2.8

// Repeated is what readings of one sample say.
type Repeated struct {
	MeanPct  float64 // mean, % w/w
	SDPct    float64 // standard deviation of one reading, % w/w
	UMeanPct float64 // standard uncertainty of the mean, % w/w
	U95Pct   float64 // half-width of the mean's 95 % interval by Student's t, % w/w
	LimitPct float64 // repeatability limit of two readings, % w/w
	DFCount  int     // degrees of freedom
	Notes    Notes   // [FewReadings] below six
}

// Repeatability returns the mean and the spread of readings of one sample,
// each with a fresh drop.
//
//	s² = Σ(Tᵢ − T̄)²/(n − 1)    u = s/√n    U₉₅ = t₀.₉₇₅(n − 1)·u    r = 2.8·s
//
//	T  readings  % w/w or °Brix  accepted −1 to 100 each
//	n  accepted 2 to 1000
//
// Outside, it returns the zero Repeated and an [*InputError]. Readings of one
// drop repeat better than readings of one sample, and both tell nothing about
// the slope.
//
// Source: ISO 5725-6 for the limit (memory); JCGM 100:2008, 4.2 and G.3 for
// the rest.
func Repeatability(readings []float64) (Repeated, error) {
	bad := fault.Int(nil, "readings", len(readings), 2, 1000, "readings")
	if bad == nil {
		for i, v := range readings {
			bad = floatAt(bad, "readings", i, "Pct", v, -1, 100, "%")
		}
	}
	if err := fault.Input(bad); err != nil {
		return Repeated{}, err
	}
	n := float64(len(readings))
	// About the first reading, so that close readings keep their digits.
	var sum, squares float64
	for _, v := range readings {
		sum += v - readings[0]
	}
	mean := sum / n
	for _, v := range readings {
		d := v - readings[0] - mean
		squares += d * d
	}
	out := Repeated{MeanPct: readings[0] + mean, SDPct: math.Sqrt(squares / (n - 1)), DFCount: len(readings) - 1}
	out.UMeanPct = out.SDPct / math.Sqrt(n)
	out.U95Pct = num.StudentFactor(0.95, len(readings)-1) * out.UMeanPct
	out.LimitPct = RepeatabilityFactor * out.SDPct
	if len(readings) < 6 {
		out.Notes |= FewReadings
	}
	return out, nil
}
