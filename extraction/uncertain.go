package extraction

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// BrewU is the standard uncertainty of each input of a [Brew], in its unit,
// independent of each other. The zero BrewU is truly exact.
type BrewU struct {
	DoseG               float64 // of the dose, g
	WaterG              float64 // of the water, g
	BeverageG           float64 // of the beverage, g
	StrengthPct         float64 // of the strength, % w/w
	RetainedStrengthPct float64 // of the strength of the retained liquid, % w/w
	AbsorbedGPerG       float64 // of the absorbed water, g/g
}

func (u BrewU) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "u.DoseG", u.DoseG, 0, MaxDoseG, "g")
	bad = fault.Float(bad, "u.WaterG", u.WaterG, 0, MaxWaterG, "g")
	bad = fault.Float(bad, "u.BeverageG", u.BeverageG, 0, MaxWaterG, "g")
	bad = fault.Float(bad, "u.StrengthPct", u.StrengthPct, 0, MaxStrengthPct, "%")
	bad = fault.Float(bad, "u.RetainedStrengthPct", u.RetainedStrengthPct, 0, MaxStrengthPct, "%")
	return fault.Float(bad, "u.AbsorbedGPerG", u.AbsorbedGPerG, 0, MaxAbsorbedGPerG, "g/g")
}

// YieldU is a yield with its uncertainty, and what each input contributes.
type YieldU struct {
	YieldPct        float64 // extraction yield, %
	UPct            float64 // its standard uncertainty, points of yield
	ByDosePct       float64 // contribution of the dose, points of yield
	ByWaterPct      float64 // of the water
	ByBeveragePct   float64 // of the beverage
	ByStrengthPct   float64 // of the strength
	ByRetainedPct   float64 // of the strength of the retained liquid
	ByAbsorbedPct   float64 // of the absorbed water
	StrengthPct     float64 // the strength, % w/w, for the map
	StrengthUPct    float64 // its standard uncertainty, % w/w
	CovariancePct   float64 // covariance of yield and strength, points times % w/w
	CorrelationEtoT float64 // correlation of yield and strength, −1 to 1; both come from one reading
	Notes           Notes   // those of [Yield]
}

func (y *YieldU) finish(slope float64) {
	sum := 0.0
	for _, c := range [...]float64{y.ByDosePct, y.ByWaterPct, y.ByBeveragePct, y.ByStrengthPct, y.ByRetainedPct, y.ByAbsorbedPct} {
		sum += c * c
	}
	y.UPct = math.Sqrt(sum)
	y.CovariancePct = slope * y.StrengthUPct * y.StrengthUPct
	if y.UPct > 0 && y.StrengthUPct > 0 {
		y.CorrelationEtoT = y.CovariancePct / y.UPct / y.StrengthUPct
	}
}

// YieldUncertainty returns the yield of a brew with its standard uncertainty,
// first order, inputs independent.
//
//	u²(E) = Σ (∂E/∂xᵢ)²·u²(xᵢ)
//	∂S/∂B   = (T − T_r)/(1 − T_r)     ∂S/∂W = T_r/(1 − T_r)
//	∂S/∂T   = B/(1 − T_r)             ∂S/∂a = −D·T_r/(1 − T_r)
//	∂S/∂T_r = (W − a·D − B·(1 − T))/(1 − T_r)²
//	∂E/∂D   = −(S + a·D·T_r/(1 − T_r))/D²
//
// with E = S/D and the symbols of [Yield]; each u(x) is in [BrewU] under the
// name of x, as in x's unit, accepted 0 to x's largest value.
//
// T_r is taken as measured on its own. In immersion it is the cup itself: use
// [ImmersionUncertainty], which ties the two. Notes and refusals are those of
// [Yield].
//
// Source: JCGM 100:2008, 5.1.2, applied to [Yield].
func YieldUncertainty(b Brew, u BrewU) (YieldU, error) {
	bal, err := Yield(b)
	if err := together(err, u.check(nil)); err != nil {
		return YieldU{}, err
	}
	t, tr, d := b.StrengthPct/100, b.RetainedStrengthPct/100, b.DoseG
	k := 1 / (1 - tr)
	perG := 100 / d // points of yield per g of solids
	out := YieldU{YieldPct: bal.YieldPct, StrengthPct: b.StrengthPct, StrengthUPct: u.StrengthPct, Notes: bal.Notes}
	out.ByDosePct = perG * (bal.DissolvedG + b.AbsorbedGPerG*d*tr*k) / d * u.DoseG
	out.ByWaterPct = perG * tr * k * u.WaterG
	out.ByBeveragePct = perG * math.Abs(t-tr) * k * u.BeverageG
	out.ByStrengthPct = perG * b.BeverageG * k * u.StrengthPct / 100
	out.ByRetainedPct = perG * math.Abs(b.WaterG-b.AbsorbedGPerG*d-b.BeverageG*(1-t)) * k * k * u.RetainedStrengthPct / 100
	out.ByAbsorbedPct = perG * d * tr * k * u.AbsorbedGPerG
	out.finish(perG * b.BeverageG * k / 100)
	return out, nil
}

// DrainingUncertainty returns the yield of a brew that drains through with its
// standard uncertainty.
//
//	(u(E)/E)² = (u(B)/B)² + (u(T)/T)² + (u(D)/D)²
//
// The inputs are those of [DrainingYield]; each u(x) is in [BrewU] under the
// name of x, as in x's unit, accepted 0 to x's largest value. Notes and
// refusals are those of [DrainingYield]. It tells nothing of what stayed in
// the grounds: that is no uncertainty but another question.
//
// Source: JCGM 100:2008, 5.1.6, applied to [DrainingYield].
func DrainingUncertainty(b Draining, u BrewU) (YieldU, error) {
	e, err := DrainingYield(b)
	if err := together(err, u.check(nil)); err != nil {
		return YieldU{}, err
	}
	out := YieldU{YieldPct: e.YieldPct, StrengthPct: b.StrengthPct, StrengthUPct: u.StrengthPct, Notes: e.Notes}
	out.ByDosePct = e.YieldPct * u.DoseG / b.DoseG
	out.ByBeveragePct = e.YieldPct * u.BeverageG / b.BeverageG
	out.ByStrengthPct = e.YieldPct * u.StrengthPct / b.StrengthPct
	out.finish(e.YieldPct / b.StrengthPct)
	return out, nil
}

// ImmersionUncertainty returns the yield of an immersion brew with its
// standard uncertainty: the retained liquid is the cup's, so that one strength
// counts in both.
//
//	(u(E)/E)² = (u(W)/W)² + (u(T)/(T·(1 − T)))² + (u(D)/D)²
//
// The inputs are those of [ImmersionYield]; each u(x) is in [BrewU] under the
// name of x, as in x's unit, accepted 0 to x's largest value. Notes and
// refusals are those of [ImmersionYield].
//
// Source: JCGM 100:2008, 5.1.2, applied to [ImmersionYield].
func ImmersionUncertainty(b Immersion, u BrewU) (YieldU, error) {
	e, err := ImmersionYield(b)
	if err := together(err, u.check(nil)); err != nil {
		return YieldU{}, err
	}
	t := b.StrengthPct / 100
	out := YieldU{YieldPct: e.YieldPct, StrengthPct: b.StrengthPct, StrengthUPct: u.StrengthPct, Notes: e.Notes}
	out.ByDosePct = e.YieldPct * u.DoseG / b.DoseG
	out.ByWaterPct = e.YieldPct * u.WaterG / b.WaterG
	slope := e.YieldPct / (b.StrengthPct * (1 - t))
	out.ByStrengthPct = slope * u.StrengthPct
	out.finish(slope)
	return out, nil
}

// together is what is wrong with a brew and with its uncertainties.
func together(brew error, bad []*FieldError) error {
	if in, ok := brew.(*InputError); ok {
		return fault.Input(append(in.Fields, bad...))
	}
	if bad != nil {
		return fault.Input(bad)
	}
	return brew
}

// MapPoint is a brew on the map of strength and yield. The zero MapPoint is
// refused.
type MapPoint struct {
	YieldPct      float64 // across, %
	YieldUPct     float64 // standard uncertainty, points of yield
	StrengthPct   float64 // up, % w/w
	StrengthUPct  float64 // standard uncertainty, % w/w
	CovariancePct float64 // covariance of the two, points times % w/w
	CoveragePct   float64 // how often the ellipse holds the brew, %: 95
}

// Ellipse is the region that holds a brew on the map with the coverage asked.
type Ellipse struct {
	YieldPct      float64 // centre across, %
	StrengthPct   float64 // centre up, % w/w
	CoverageRatio float64 // k: how far the ellipse reaches, in standard uncertainties
	l11, l21, l22 float64 // factor of the covariance times k
}

// MapEllipse returns the ellipse of a brew on the map. Yield and strength come
// from one reading of strength, so that the ellipse leans along the line that
// the brew would move on if that reading were off.
//
//	k² = −2·ln(1 − p)    points: centre + k·L·(cos φ, sin φ), L·Lᵀ the covariance
//
//	E, u(E)   MapPoint.YieldPct (1 to 100), YieldUPct (0 to 50)          %
//	T, u(T)   MapPoint.StrengthPct (0.01 to 35), StrengthUPct (0 to 20)  % w/w
//	          MapPoint.CovariancePct  no more in size than u(E)·u(T)
//	p         MapPoint.CoveragePct    %  accepted 1 to 99.9; a fraction in the equation
//	k         Ellipse.CoverageRatio
//
// Outside, it returns the zero Ellipse and an [*InputError].
//
// Source: JCGM 102:2011, 6.5.2, normal distribution in two dimensions
// (memory).
func MapEllipse(p MapPoint) (Ellipse, error) {
	bad := fault.Float(nil, "YieldPct", p.YieldPct, MinYieldPct, MaxYieldPct, "%")
	bad = fault.Float(bad, "YieldUPct", p.YieldUPct, 0, 50, "%")
	bad = fault.Float(bad, "StrengthPct", p.StrengthPct, 0.01, MaxStrengthPct, "%")
	bad = fault.Float(bad, "StrengthUPct", p.StrengthUPct, 0, 20, "%")
	most := 50.0 * 20
	if bad == nil {
		most = p.YieldUPct * p.StrengthUPct * (1 + 1e-9) // rounding apart
	}
	bad = fault.Float(bad, "CovariancePct", p.CovariancePct, -most, most, "%²")
	bad = fault.Float(bad, "CoveragePct", p.CoveragePct, 1, 99.9, "%")
	if err := fault.Input(bad); err != nil {
		return Ellipse{}, err
	}
	k := math.Sqrt(-2 * math.Log1p(-p.CoveragePct/100))
	e := Ellipse{YieldPct: p.YieldPct, StrengthPct: p.StrengthPct, CoverageRatio: k, l11: k * p.YieldUPct}
	if p.YieldUPct > 0 {
		e.l21 = k * p.CovariancePct / p.YieldUPct
	}
	e.l22 = math.Sqrt(max(0, k*k*p.StrengthUPct*p.StrengthUPct-e.l21*e.l21))
	return e, nil
}

// At gives the point of the ellipse at an angle, in radians, of its
// parameter: yield, %, and strength, % w/w. The whole turn is 2π.
func (e Ellipse) At(angle float64) (yieldPct, strengthPct float64) {
	sin, cos := math.Sincos(angle)
	return e.YieldPct + e.l11*cos, e.StrengthPct + e.l21*cos + e.l22*sin
}
