package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// TotalLoss returns the mass that a batch lost in the roaster, % of green
// mass, rounded to 9 places: the one roast figure that needs only a scale.
//
//	L = 100·(m_g − m_r)/m_g
//
//	m_g  greenKg    kg  accepted 0.001 to 1e8
//	m_r  roastedKg  kg  accepted 0.001 to m_g
//	L               % of green mass
//
// Outside, it returns 0 and an [*InputError]; roasted above green gives an
// [*ImpossibleError].
//
// Source: definition.
func TotalLoss(greenKg, roastedKg decimal.Decimal) (lossPct decimal.Decimal, err error) {
	bad := fault.Decimal(nil, "greenKg", greenKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Decimal(bad, "roastedKg", roastedKg, MinMassKg, MaxMassKg, "kg")
	if err := fault.Input(bad); err != nil {
		return decimal.Decimal{}, err
	}
	if err := lighter(greenKg, roastedKg, "roastedKg"); err != nil {
		return decimal.Decimal{}, err
	}
	return greenKg.Sub(roastedKg).Shift(2).DivRound(greenKg, PctPlacesCount), nil
}

// RoastAim is a roast by the dry matter that it shall cost. The zero RoastAim
// is refused.
type RoastAim struct {
	GreenMoisturePct   decimal.Decimal // content of the green, % wet basis
	RoastedMoisturePct decimal.Decimal // content of the roasted, % wet basis
	DryMatterLossPct   decimal.Decimal // dry matter lost, % of green dry matter; may truly be 0
}

// ExpectedLoss returns the total loss, % of green mass, that a roast will show
// on the scale: the same roast of a wetter lot loses more.
//
//	L = 100 − (100 − d)·(100 − M_g)/(100 − M_r)
//
//	M_g  RoastAim.GreenMoisturePct    % wet basis  accepted 0.5 to 80
//	M_r  RoastAim.RoastedMoisturePct  % wet basis  accepted 0.1 to 15
//	d    RoastAim.DryMatterLossPct    % of green dry matter  accepted 0 to 30
//	L                                 % of green mass, rounded to 9 places
//
// Outside, it returns 0 and an [*InputError].
//
// Source: definition, conservation of mass.
func ExpectedLoss(a RoastAim) (lossPct decimal.Decimal, err error) {
	bad := fault.Decimal(nil, "GreenMoisturePct", a.GreenMoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Decimal(bad, "RoastedMoisturePct", a.RoastedMoisturePct, MinRoastedMoisturePct, MaxRoastedMoisturePct, "%")
	bad = fault.Decimal(bad, "DryMatterLossPct", a.DryMatterLossPct, 0, 30, "%")
	if err := fault.Input(bad); err != nil {
		return decimal.Decimal{}, err
	}
	left := hundred.Sub(a.DryMatterLossPct).Mul(hundred.Sub(a.GreenMoisturePct))
	return hundred.Sub(left.DivRound(hundred.Sub(a.RoastedMoisturePct), PctPlacesCount)), nil
}

// RoastReadings are the figures of a roast as floats, or their standard
// uncertainties. As figures the zero value is refused; as uncertainties it
// truly means exact.
type RoastReadings struct {
	GreenKg            float64 // green coffee charged, kg
	RoastedKg          float64 // roasted coffee discharged, kg
	GreenMoisturePct   float64 // content of the green, % wet basis
	RoastedMoisturePct float64 // content of the roasted, % wet basis
}

// LossSE is what RoastLossSE found: standard uncertainties.
type LossSE struct {
	TotalPct     float64 // of Loss.TotalPct, %
	WaterPct     float64 // of Loss.WaterPct, %
	OrganicPct   float64 // of Loss.OrganicPct, %
	DryMatterPct float64 // of Loss.DryMatterPct, %
}

// RoastLossSE returns the standard uncertainties of what [RoastLoss] gives.
// The moistures rule: 0.3 % in the green's is 0.3 % in the water lost, and
// about as much in the dry matter, which is all of its difference between two
// roasts.
//
//	r = m_r/m_g, u_r = r·√[(u_g/m_g)² + (u_m/m_r)²]
//	total    100·(1 − r)                 u = 100·u_r
//	water    M_g − r·M_r                 u² = u_G² + (r·u_R)² + (M_r·u_r)²
//	organic  100·(1 − r) − M_g + r·M_r   u² = u_G² + (r·u_R)² + [(100 − M_r)·u_r]²
//	dry      d = 100 − 100·q, q = r·(100 − M_r)/(100 − M_g)
//	         u = 100·q·√[(u_r/r)² + (u_R/(100 − M_r))² + (u_G/(100 − M_g))²]
//
//	m_g, u_g  GreenKg             kg           accepted 0.001 to 1e8, u 0 to m_g/10
//	m_r, u_m  RoastedKg           kg           accepted 0.001 to m_g, u 0 to m_r/10
//	M_g, u_G  GreenMoisturePct    % wet basis  accepted 0.5 to 80, u 0 to 5
//	M_r, u_R  RoastedMoisturePct  % wet basis  accepted 0.1 to 15, u 0 to 5
//
// The four readings are taken as independent. Outside the accepted ranges, and
// for NaN, it returns the zero LossSE and an [*InputError], the uncertainties
// named with se before them; roasted above green gives an [*ImpossibleError].
//
// Source: JCGM 100:2008, 5.1.2, applied to the balance.
func RoastLossSE(r, se RoastReadings) (LossSE, error) {
	bad := fault.Float(nil, "GreenKg", r.GreenKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Float(bad, "RoastedKg", r.RoastedKg, MinMassKg, MaxMassKg, "kg")
	bad = fault.Float(bad, "GreenMoisturePct", r.GreenMoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Float(bad, "RoastedMoisturePct", r.RoastedMoisturePct, MinRoastedMoisturePct, MaxRoastedMoisturePct, "%")
	if bad == nil {
		bad = fault.Float(bad, "se.GreenKg", se.GreenKg, 0, r.GreenKg/10, "kg")
		bad = fault.Float(bad, "se.RoastedKg", se.RoastedKg, 0, r.RoastedKg/10, "kg")
	}
	bad = fault.Float(bad, "se.GreenMoisturePct", se.GreenMoisturePct, 0, 5, "%")
	bad = fault.Float(bad, "se.RoastedMoisturePct", se.RoastedMoisturePct, 0, 5, "%")
	if err := fault.Input(bad); err != nil {
		return LossSE{}, err
	}
	if r.RoastedKg > r.GreenKg {
		return LossSE{}, &ImpossibleError{Quantity: "roast loss", Why: "the roasted coffee weighs more than the green",
			Field: "RoastedKg", Given: fault.Shortest(r.RoastedKg), Min: MinMassKg, Max: r.GreenKg, Unit: "kg"}
	}
	ratio := r.RoastedKg / r.GreenKg
	ur := ratio * math.Hypot(se.GreenKg/r.GreenKg, se.RoastedKg/r.RoastedKg)
	both := math.Hypot(se.GreenMoisturePct, ratio*se.RoastedMoisturePct)
	dryG, dryR := 100-r.GreenMoisturePct, 100-r.RoastedMoisturePct
	q := ratio * dryR / dryG
	return LossSE{
		TotalPct:   100 * ur,
		WaterPct:   math.Hypot(both, r.RoastedMoisturePct*ur),
		OrganicPct: math.Hypot(both, dryR*ur),
		DryMatterPct: 100 * q * math.Hypot(ur/ratio,
			math.Hypot(se.RoastedMoisturePct/dryR, se.GreenMoisturePct/dryG)),
	}, nil
}

// Losses to orient by. They depend on what each author calls a degree: compare
// your own batches with each other first.
const (
	// TypicalLossMinPct is the lower end of total loss, % of green mass.
	// Training-course lesson citing Schenker 2000; opened.
	TypicalLossMinPct = 14

	// TypicalLossMaxPct is its upper end, % of green mass; as above.
	TypicalLossMaxPct = 20

	// AverageLossPct is the average of light and medium roasts, % of green
	// mass. Trade encyclopaedia, weight yields; opened.
	AverageLossPct = 16

	// TypicalDryLossMinPct is the lower end of dry-matter loss, % of green dry
	// matter. Fernandes 2019; quoted by the training-course lesson.
	TypicalDryLossMinPct = 4

	// TypicalDryLossMaxPct is its upper end, % of green dry matter; as above.
	TypicalDryLossMaxPct = 6

	// DarkestDryLossPct is the dry-matter loss of very dark roasts, up to, % of
	// green dry matter. Clarke 1987; quoted by the training-course lesson.
	DarkestDryLossPct = 12

	// RoastedMaxMoisturePct is the content below which roasted coffee stays,
	// % wet basis. Trade encyclopaedia, moisture content; opened.
	RoastedMaxMoisturePct = 5

	// ReactionsFromC is the bean temperature above which reactions form carbon
	// dioxide and water, °C. Geiger et al. 2005, abstract; opened.
	ReactionsFromC = 180
)

// A RoastDegree is a row of a published table of dry-matter loss by degree of
// roast.
type RoastDegree struct {
	Degree     string  // as the source calls it
	MinPct     float64 // lower end, % of green dry matter
	MaxPct     float64 // upper end, % of green dry matter
	Source     string  // where it stands
	Provenance string  // opened, quoted or memory
}

// DryLossByDegree returns the table of dry-matter loss by degree of roast, as
// orientation, never as a limit.
//
// Source: Clarke & Macrae, Coffee, vol. 2, Technology, 1987; memory. The
// darkest end is quoted, see [DarkestDryLossPct].
func DryLossByDegree() []RoastDegree {
	const clarke = "Clarke & Macrae, Coffee, vol. 2, Technology, 1987"
	return []RoastDegree{
		{"light", 1, 5, clarke, "memory"},
		{"medium", 5, 8, clarke, "memory"},
		{"dark", 8, 12, clarke, "memory"},
	}
}
