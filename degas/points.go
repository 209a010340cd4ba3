package degas

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Point is one point of a release curve. The zero Point is refused.
type Point struct {
	Days    float64 // days; accepted 0.0001 to MaxDays
	GonePct float64 // %; accepted 1 to 99
}

func (p Point) check(bad []*FieldError, days, gone string) []*FieldError {
	bad = fault.Float(bad, days, p.Days, 0.0001, MaxDays, "days")
	return fault.Float(bad, gone, p.GonePct, 1, 99, "%")
}

// checkPair refuses two points that are not in order of time.
func checkPair(a, b Point) []*FieldError {
	bad := a.check(nil, "a.Days", "a.GonePct")
	bad = b.check(bad, "b.Days", "b.GonePct")
	if bad != nil {
		return bad
	}
	if !(b.Days > a.Days) {
		bad = append(bad, &FieldError{Field: "b.Days", Given: fault.Shortest(b.Days), Min: a.Days, Max: MaxDays, Unit: "days", Why: "the second point is later than the first"})
	}
	if !(b.GonePct > a.GonePct) {
		bad = append(bad, &FieldError{Field: "b.GonePct", Given: fault.Shortest(b.GonePct), Min: a.GonePct, Max: 99, Unit: "%", Why: "more is gone at the second point than at the first"})
	}
	return bad
}

// FirstOrderThrough returns the first-order curve through one point.
//
//	τ = −t/ln(1 − F/100)
//
//	t   p.Days      days   accepted 0.0001 to MaxDays
//	F   p.GonePct   %      accepted 1 to 99
//
// One point says nothing about the shape. Bad fields are refused together with
// an [*InputError]; a scale of time beyond MaxTauDays is an
// [*ImpossibleError].
//
// Source: inverse of [FirstOrder].
func FirstOrderThrough(p Point) (FirstOrder, error) {
	if err := fault.Input(p.check(nil, "Days", "GonePct")); err != nil {
		return FirstOrder{}, err
	}
	c := FirstOrder{TauDays: -p.Days / math.Log1p(-p.GonePct/100)}
	if c.check(nil) != nil {
		return FirstOrder{}, &ImpossibleError{Quantity: "first-order curve", Why: "it would be slower than any that is accepted",
			Field: "GonePct", Given: fault.Shortest(p.GonePct), Min: -100 * math.Expm1(-p.Days/MaxTauDays) * (1 + 1e-12), Max: 99, Unit: "%"}
	}
	return c, nil
}

// StretchedThrough returns the stretched exponential through two points.
//
//	β = ln(ln(1 − F₁)/ln(1 − F₂))/ln(t₁/t₂)
//	τ = t₁/(−ln(1 − F₁))^(1/β)              F as fractions
//
//	t₁, F₁  a.Days, a.GonePct   days, %   accepted 0.0001 to MaxDays, 1 to 99
//	t₂, F₂  b.Days, b.GonePct   days, %   later and more
//
// Two points fix it exactly and leave nothing to judge it by: a fit wants six
// and more ([FitWeighings]). Bad fields are refused together with an
// [*InputError]; points that need an exponent or a scale of time out of range
// are an [*ImpossibleError] that says which second shares are possible, or, where
// none is, which second days.
//
// Source: inverse of [Stretched].
func StretchedThrough(a, b Point) (Stretched, error) {
	if err := fault.Input(checkPair(a, b)); err != nil {
		return Stretched{}, err
	}
	l1, l2 := -math.Log1p(-a.GonePct/100), -math.Log1p(-b.GonePct/100)
	through := func(b Point) (Stretched, bool) {
		beta := math.Log(l1/-math.Log1p(-b.GonePct/100)) / math.Log(a.Days/b.Days)
		c := Stretched{TauDays: a.Days * math.Pow(l1, -1/beta), Exponent: beta}
		return c, c.check(nil) == nil
	}
	c, ok := through(b)
	if ok {
		return c, nil
	}
	beta := c.Exponent
	at := func(beta float64) float64 { return -100 * math.Expm1(-l1*math.Pow(b.Days/a.Days, beta)) }
	why := "its exponent would be " + digits3(beta)
	if beta >= MinExponent && beta <= MaxExponent {
		why = "its scale of time would be " + digits3(c.TauDays) + " days"
	}
	// Through the first point, a flatter curve has a scale of time farther from
	// that point: later where less than 63 % is gone by then, else earlier.
	farthest := MaxTauDays / a.Days
	if l1 > 1 {
		farthest = MinTauDays / a.Days
	}
	least := math.Max(MinExponent, -math.Log(l1)/math.Log(farthest))
	none := &ImpossibleError{Quantity: "stretched exponential", Why: why,
		Field: "b.GonePct", Given: fault.Shortest(b.GonePct), Min: at(least), Max: math.Min(99, at(MaxExponent)), Unit: "%"}
	if none.Min > 99 { // so late no share will do
		none.Field, none.Given, none.Unit = "b.Days", fault.Shortest(b.Days), "days"
		none.Min, none.Max = a.Days*math.Pow(l2/l1, 1/MaxExponent), a.Days*math.Pow(l2/l1, 1/least)
	}
	taken := func(x float64) bool {
		b := b
		if none.Field == "b.Days" {
			b.Days = x
		} else {
			b.GonePct = x
		}
		_, ok := through(b)
		return ok
	}
	middle := (none.Min + none.Max) / 2
	none.Min, none.Max = num.Inside(none.Min, middle, taken), num.Inside(none.Max, middle, taken)
	return Stretched{}, none
}

// TwoPoolsThrough returns the two pools through two points, for a given share
// of the gas in the fast one.
//
//	A·x₁ + (100 − A)·y₁ = L₁       x = exp(−t/τ₁), y = exp(−t/τ₂)
//	A·x₂ + (100 − A)·y₂ = L₂       x₂ = x₁^(t₂/t₁), y₂ = y₁^(t₂/t₁)
//
//	A       fastPct             %         accepted 1 to 99
//	t₁, F₁  a.Days, a.GonePct   days, %   accepted 0.0001 to MaxDays, 1 to 99
//	t₂, F₂  b.Days, b.GonePct   days, %   later and more
//
// The share in the fast pool cannot come from two points; it is an assumption.
// Bad fields are refused together with an [*InputError]; points that no two
// pools of that division go through are an [*ImpossibleError], which names no
// field where no change of one helps.
//
// Source: inverse of [TwoPools] by bracketed root: the second equation rises
// with y₁ wherever y₁ is not under x₁.
func TwoPoolsThrough(fastPct float64, a, b Point) (TwoPools, error) {
	bad := fault.Float(nil, "fastPct", fastPct, 1, 99, "%")
	if err := fault.Input(append(bad, checkPair(a, b)...)); err != nil {
		return TwoPools{}, err
	}
	c, least, most, ok := twoPools(fastPct, a, b)
	if ok {
		return c, nil
	}
	none := &ImpossibleError{Quantity: "two pools", Why: "no two rates go through both points with that share in the fast pool",
		Field: "b.GonePct", Given: fault.Shortest(b.GonePct), Min: math.Max(math.Nextafter(a.GonePct, 100), least), Max: math.Min(99, most), Unit: "%"}
	taken := func(pct float64) bool {
		_, _, _, ok := twoPools(fastPct, a, Point{b.Days, pct})
		return ok
	}
	for part := 0.5; part > 1e-9 && none.Min < none.Max; part /= 2 {
		for _, at := range [...]float64{none.Min + part*(none.Max-none.Min), none.Max - part*(none.Max-none.Min)} {
			if taken(at) {
				none.Min, none.Max = num.Furthest(at, none.Min, taken), num.Furthest(at, none.Max, taken)
				return TwoPools{}, none
			}
		}
	}
	// No second share will do with this one in the fast pool, but perhaps another.
	fits := func(pct float64) bool {
		_, _, _, ok := twoPools(pct, a, b)
		return pct >= 1 && pct <= 99 && ok
	}
	if pct, ok := fastFor(a, b); ok {
		none.Field, none.Given = "fastPct", fault.Shortest(fastPct)
		none.Min, none.Max = num.Furthest(pct, 1, fits), num.Furthest(pct, 99, fits)
		return TwoPools{}, none
	}
	// None will: both must change.
	return TwoPools{}, &ImpossibleError{Quantity: none.Quantity, Why: "no two rates go through both points"}
}

// fastFor is a share in the fast pool with which two pools go through both
// points: one that is gone at the first, while the slow pool leaks as much as is
// gone between the two, or a part or many times that.
func fastFor(a, b Point) (pct float64, ok bool) {
	least := (b.GonePct - a.GonePct) / 8192
	if !(least > 0) {
		return 0, false
	}
	for leak := max(least, 1e-12); leak < 100; leak *= 2 {
		if pct := a.GonePct - leak; pct >= 1 {
			if _, _, _, ok := twoPools(pct, a, b); ok {
				return pct, true
			}
		}
	}
	return 0, false
}

// twoPools are the pools through two points, and the range in which the second
// share must lie for that.
func twoPools(fastPct float64, a, b Point) (c TwoPools, leastPct, mostPct float64, ok bool) {
	A, B := fastPct/100, 1-fastPct/100
	l1, l2 := 1-a.GonePct/100, 1-b.GonePct/100
	m := b.Days / a.Days
	x1 := func(y float64) float64 { return math.Max(0, (l1-B*y)/A) }
	over := func(y float64) float64 { return A*math.Pow(x1(y), m) + B*math.Pow(y, m) - l2 }
	top := math.Min(1, l1/B)
	y, ok := num.Root(over, l1, top, 0)
	if ok {
		c = TwoPools{FastPct: fastPct, FastTauDays: -a.Days / math.Log(x1(y)), SlowTauDays: -a.Days / math.Log(y)}
	}
	return c, 100 * (1 - l2 - over(top)), 100 * (1 - l2 - over(l1)), ok && c.check(nil) == nil
}

// SphereThrough returns the sphere of a given radius whose curve goes through
// one point.
//
//	D = Fo(F)·a²/t
//
//	a   radiusMM    mm     accepted MinRadiusMM to MaxRadiusMM
//	t   p.Days      days   accepted 0.0001 to MaxDays
//	F   p.GonePct   %      accepted 1 to 99
//
// Only D/a² is fixed by a point: a wrong radius gives a wrong diffusivity and
// the same curve. Bad fields are refused together with an [*InputError]; a
// diffusivity out of range is an [*ImpossibleError].
//
// Source: inverse of [SphereShare].
func SphereThrough(radiusMM float64, p Point) (Sphere, error) {
	bad := fault.Float(nil, "radiusMM", radiusMM, MinRadiusMM, MaxRadiusMM, "mm")
	if err := fault.Input(p.check(bad, "Days", "GonePct")); err != nil {
		return Sphere{}, err
	}
	fo := diffusionFo(sphere, 1-p.GonePct/100, math.Pi*math.Pi)
	c := Sphere{RadiusMM: radiusMM, DiffusivityM2PerS: diffusivity(fo, radiusMM, p.Days)}
	if c.check(nil) != nil {
		return Sphere{}, noDiffusivity("sphere", radiusMM, c.DiffusivityM2PerS, "radiusMM")
	}
	return c, nil
}

// SheetThrough returns the sheet of a given half thickness whose curve goes
// through one point.
//
//	D = Fo(F)·a²/t
//
//	a   halfThicknessMM   mm     accepted MinRadiusMM to MaxRadiusMM
//	t   p.Days            days   accepted 0.0001 to MaxDays
//	F   p.GonePct         %      accepted 1 to 99
//
// See [SphereThrough] for what is refused.
//
// Source: inverse of [SheetShare].
func SheetThrough(halfThicknessMM float64, p Point) (Sheet, error) {
	bad := fault.Float(nil, "halfThicknessMM", halfThicknessMM, MinRadiusMM, MaxRadiusMM, "mm")
	if err := fault.Input(p.check(bad, "Days", "GonePct")); err != nil {
		return Sheet{}, err
	}
	fo := diffusionFo(sheet, 1-p.GonePct/100, math.Pi*math.Pi/4)
	c := Sheet{HalfThicknessMM: halfThicknessMM, DiffusivityM2PerS: diffusivity(fo, halfThicknessMM, p.Days)}
	if c.check(nil) != nil {
		return Sheet{}, noDiffusivity("sheet", halfThicknessMM, c.DiffusivityM2PerS, "halfThicknessMM")
	}
	return c, nil
}

// diffusivity is D of Fo = D·t/a².
func diffusivity(fo, mm, days float64) float64 {
	return fo * mm * mm * 1e-6 / (days * secondsPerDay)
}

func noDiffusivity(what string, mm, d float64, field string) error {
	return &ImpossibleError{Quantity: what, Why: "its diffusivity would be " + digits3(d) + " m²/s",
		Field: field, Given: fault.Shortest(mm),
		Min: math.Max(MinRadiusMM, mm*math.Sqrt(MinDiffusivityM2PerS/d)*(1+1e-12)),
		Max: math.Min(MaxRadiusMM, mm*math.Sqrt(MaxDiffusivityM2PerS/d)*(1-1e-12)), Unit: "mm"}
}

// A Loss is gas gone from coffee up to an age, measured. The zero Loss is
// refused.
type Loss struct {
	Days       float64 // days; accepted 0.0001 to MaxDays
	GoneMgPerG float64 // mg per g of coffee; accepted 0.01 to MaxGasMgPerG
}

// FirstOrderFromLosses returns the gas at t = 0 and the first-order curve that
// two measured losses amount to.
//
//	q₁/q₂ = F(t₁)/F(t₂),   M0 = 100·q₂/F(t₂)
//
//	t₁, q₁  a.Days, a.GoneMgPerG   days, mg/g   accepted 0.0001 to MaxDays, 0.01 to MaxGasMgPerG
//	t₂, q₂  b.Days, b.GoneMgPerG   days, mg/g   later and more
//
// For first order q₁/q₂ lies between t₁/t₂, where the gas has no end, and 1,
// where it has come to one. Bad fields are refused together with an
// [*InputError]; losses outside are an [*ImpossibleError] that says which
// second losses are possible, or first ones; it names no field where neither
// loss is that of any coffee.
//
// Source: inverse of [FirstOrder] by bracketed root.
func FirstOrderFromLosses(a, b Loss) (Coffee, error) {
	return fromLosses("first-order curve", FirstOrder{1}, a, b)
}

// SphereFromLosses is [FirstOrderFromLosses] for a [Sphere] of a given
// radius.
//
//	q₁/q₂ = F(D·t₁/a²)/F(D·t₂/a²),   M0 = 100·q₂/F(D·t₂/a²)
//
//	a       radiusMM               mm           accepted MinRadiusMM to MaxRadiusMM
//	t₁, q₁  a.Days, a.GoneMgPerG   days, mg/g   accepted 0.0001 to MaxDays, 0.01 to MaxGasMgPerG
//	t₂, q₂  b.Days, b.GoneMgPerG   days, mg/g   later and more
//
// For diffusion q₁/q₂ lies between √(t₁/t₂) and 1.
//
// Source: inverse of [SphereShare] by bracketed root.
func SphereFromLosses(radiusMM float64, a, b Loss) (Coffee, error) {
	return fromLosses("sphere", Sphere{radiusMM, diffusivity(1, radiusMM, 1)}, a, b)
}

// SheetFromLosses is [FirstOrderFromLosses] for a [Sheet] of a given half
// thickness.
//
//	q₁/q₂ = F(D·t₁/a²)/F(D·t₂/a²),   M0 = 100·q₂/F(D·t₂/a²)
//
//	a       halfThicknessMM        mm           accepted MinRadiusMM to MaxRadiusMM
//	t₁, q₁  a.Days, a.GoneMgPerG   days, mg/g   accepted 0.0001 to MaxDays, 0.01 to MaxGasMgPerG
//	t₂, q₂  b.Days, b.GoneMgPerG   days, mg/g   later and more
//
// Source: inverse of [SheetShare] by bracketed root.
func SheetFromLosses(halfThicknessMM float64, a, b Loss) (Coffee, error) {
	return fromLosses("sheet", Sheet{halfThicknessMM, diffusivity(1, halfThicknessMM, 1)}, a, b)
}

// fromLosses stretches the curve one, whose scale of time is one day.
func fromLosses(what string, one Curve, a, b Loss) (Coffee, error) {
	var bad []*FieldError
	switch c := one.(type) {
	case Sphere:
		bad = fault.Float(bad, "radiusMM", c.RadiusMM, MinRadiusMM, MaxRadiusMM, "mm")
	case Sheet:
		bad = fault.Float(bad, "halfThicknessMM", c.HalfThicknessMM, MinRadiusMM, MaxRadiusMM, "mm")
	}
	bad = fault.Float(bad, "a.Days", a.Days, 0.0001, MaxDays, "days")
	bad = fault.Float(bad, "a.GoneMgPerG", a.GoneMgPerG, 0.01, MaxGasMgPerG, "mg/g")
	bad = fault.Float(bad, "b.Days", b.Days, 0.0001, MaxDays, "days")
	bad = fault.Float(bad, "b.GoneMgPerG", b.GoneMgPerG, 0.01, MaxGasMgPerG, "mg/g")
	if bad == nil && !(b.Days > a.Days) {
		bad = append(bad, &FieldError{Field: "b.Days", Given: fault.Shortest(b.Days), Min: a.Days, Max: MaxDays, Unit: "days", Why: "the second loss is later than the first"})
	}
	if err := fault.Input(bad); err != nil {
		return Coffee{}, err
	}
	// u is the logarithm of the factor by which the curve is hastened. From
	// where the second age has hardly begun to where the first is all over.
	ratio := func(u float64) float64 {
		_, g1 := one.share(a.Days * math.Exp(u))
		_, g2 := one.share(b.Days * math.Exp(u))
		return g1 / g2
	}
	slow, fast := math.Log(1e-8/b.Days), math.Log(50/a.Days)
	want := a.GoneMgPerG / b.GoneMgPerG
	u, ok := num.Root(func(u float64) float64 { return ratio(u) - want }, slow, fast, 0)
	if ok {
		f := math.Exp(u)
		_, gone := one.share(b.Days * f)
		c := Coffee{GasMgPerG: b.GoneMgPerG / gone, Curve: one.hastened(f)}
		if c.check(nil) == nil {
			return c, nil
		}
	}
	none := &ImpossibleError{Quantity: what, Why: "no gas content up to " + fault.Shortest(MaxGasMgPerG) + " mg/g and no time fit both losses",
		Field: "b.GoneMgPerG", Given: fault.Shortest(b.GoneMgPerG), Min: a.GoneMgPerG, Max: MaxGasMgPerG, Unit: "mg/g"}
	if least, most, ok := beside(one, a, b.Days, slow, fast); ok {
		none.Min, none.Max = least, most
	} else if least, most, ok := beside(one, b, a.Days, slow, fast); ok {
		none.Field, none.Given, none.Min, none.Max = "a.GoneMgPerG", fault.Shortest(a.GoneMgPerG), least, most
	} else { // no coffee loses either of them so early or so late
		none.Field, none.Given, none.Min, none.Max, none.Unit = "", "", 0, 0, ""
	}
	return Coffee{}, none
}

// beside is the least and the most, in mg/g, that coffees in range with one
// loss have lost at other days; ok is false where there are no such coffees.
// One of them is found for each logarithm of a factor that hastens the curve,
// and the slower it is, the more gas it holds.
func beside(one Curve, a Loss, days, slow, fast float64) (least, most float64, ok bool) {
	sound := func(u float64) bool {
		_, gone := one.share(a.Days * math.Exp(u))
		return Coffee{GasMgPerG: a.GoneMgPerG / gone, Curve: one.hastened(math.Exp(u))}.check(nil) == nil
	}
	found := slow
	for !sound(found) {
		if found += 0.02; found > fast {
			return 0, 0, false
		}
	}
	last := func(out float64) float64 { // between there and what was found
		at := found
		for range 60 {
			if mid := out + (at-out)/2; sound(mid) {
				at = mid
			} else {
				out = mid
			}
		}
		_, there := one.share(days * math.Exp(at))
		_, here := one.share(a.Days * math.Exp(at))
		return a.GoneMgPerG * there / here
	}
	x, y := last(slow), last(fast)
	return math.Min(x, y), math.Max(x, y), true
}

// digits3 prints a number to three digits, for a message.
func digits3(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 2, 64), 64)
	if err != nil { // rounded up beyond the largest float
		r = v
	}
	return fault.Shortest(r)
}
