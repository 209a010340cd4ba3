package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// Molar masses for gas supply. Source: The Engineering ToolBox, air
// composition (air; opened), IUPAC (the others; memory).
const (
	AirMolarG           = 28.9647 // g/mol
	NitrogenMolarG      = 28.0134 // g/mol
	CarbonDioxideMolarG = 44.0095 // g/mol
	ArgonMolarG         = 39.948  // g/mol
)

// A Shift is the gas that a machine feeds.
//
// The zero Shift is refused. LostPct is truly zero when zero.
type Shift struct {
	BagGasML float64  // gas fed into one bag, mL at Bag
	Bags     int      // bags in the shift
	LostPct  float64  // gas lost beside what is fed: purging of lines, idling, % of the whole drawn
	Bag      GasState // where BagGasML was told
	Ref      GasState // where the answer is wanted
}

// Used is gas drawn from the supply.
type Used struct {
	BagL   float64 // drawn for one bag, L at Ref
	ShiftL float64 // drawn in the shift, L at Ref
	Mol    float64 // drawn in the shift, mol
}

// GasUsed returns the gas drawn from the supply for one bag and for a shift.
//
//	V = V_1/(1 − lost)·(T_ref/T)·(P/P_ref)
//
//	V_1   BagGasML  mL  accepted 0.1 to 1e8
//	      Bags          accepted 1 to 10 000 000
//	lost  LostPct   %   accepted 0 to 95
//	T, P  Bag, Ref      as in [MolarVolume]
//
// Source: ideal gas law.
func GasUsed(s Shift) (Used, error) {
	bad := fault.Float(nil, "BagGasML", s.BagGasML, 0.1, 1e8, "mL")
	bad = fault.Int(bad, "Bags", s.Bags, 1, 10_000_000, "bags")
	bad = fault.Float(bad, "LostPct", s.LostPct, 0, 95, "%")
	bad = s.Bag.check(bad, "Bag.")
	bad = s.Ref.check(bad, "Ref.")
	if bad != nil {
		return Used{}, fault.Input(bad)
	}
	mol := s.BagGasML / 1000 / (1 - s.LostPct/100) / s.Bag.molarL()
	all := mol * float64(s.Bags)
	return Used{BagL: mol * s.Ref.molarL(), ShiftL: all * s.Ref.molarL(), Mol: all}, nil
}

// A Cylinder of nitrogen.
//
// The zero Cylinder is refused. LeaveBar is truly zero when zero.
type Cylinder struct {
	WaterL     float64  // water volume, L, as stamped
	GaugeBar   float64  // pressure at the gauge, bar over ambient
	LeaveBar   float64  // pressure at which it is changed, bar over ambient
	TempC      float64  // temperature of the cylinder, °C
	AmbientKPa float64  // pressure of the room, kPa absolute
	Ref        GasState // where the answer is wanted
}

// Content is what a cylinder holds.
type Content struct {
	FullM3   float64 // all gas in it, m³ at Ref
	UsableM3 float64 // gas until it is changed, m³ at Ref
	FullKG   float64 // mass of all gas in it, kg
	Z        float64 // compressibility factor now, a pure number
	IdealM3  float64 // what the ideal gas law would promise for all gas, m³ at Ref
}

// CylinderContent returns the nitrogen in a cylinder, real gas.
//
//	V = V_w·ρ(P, T)/ρ(P_ref, T_ref), P = gauge + ambient, ρ by [NitrogenZ]
//
//	V_w  WaterL      L    accepted 0.1 to 10 000
//	     GaugeBar    bar  accepted 0 to 300
//	     LeaveBar    bar  accepted 0 to GaugeBar
//	T    TempC       °C   accepted −20 to 60
//	     AmbientKPa  kPa  accepted 50 to 110, absolute
//	     Ref              as in [MolarVolume]; real gas there too
//
// At 200 bar a cylinder holds 5 % less than the ideal gas law says, at 300 bar
// 14 % less. Usable gas counts down to LeaveBar. The temperature is that of
// the gas, which lags the room after filling.
//
// A cylinder is heavy and under high pressure: chain it, keep the cap on in
// transport, and leave valves and regulators to those who are trained.
//
// Source: Span and others, J. Phys. Chem. Ref. Data 29, 2000.
func CylinderContent(c Cylinder) (Content, error) {
	bad := fault.Float(nil, "WaterL", c.WaterL, 0.1, 10_000, "L")
	n := len(bad)
	bad = fault.Float(bad, "GaugeBar", c.GaugeBar, 0, 300, "bar")
	most := 300.0
	if len(bad) == n {
		most = c.GaugeBar
	}
	n = len(bad)
	if bad = fault.Float(bad, "LeaveBar", c.LeaveBar, 0, most, "bar"); len(bad) > n {
		bad[n].Why = "not above the pressure at the gauge"
	}
	bad = fault.Float(bad, "TempC", c.TempC, -20, 60, "°C")
	bad = fault.Float(bad, "AmbientKPa", c.AmbientKPa, 50, 110, "kPa")
	bad = c.Ref.check(bad, "Ref.")
	if bad != nil {
		return Content{}, fault.Input(bad)
	}
	k := c.TempC + ZeroCelsiusK
	full := c.WaterL * nitrogenMolPerL(c.AmbientKPa+100*c.GaugeBar, k)
	left := c.WaterL * nitrogenMolPerL(c.AmbientKPa+100*c.LeaveBar, k)
	ideal := c.WaterL * (c.AmbientKPa + 100*c.GaugeBar) / (GasConstant * k)
	m3 := 1 / (1000 * nitrogenMolPerL(c.Ref.KPa, c.Ref.TempC+ZeroCelsiusK))
	return Content{
		FullM3: full * m3, UsableM3: (full - left) * m3, FullKG: full * NitrogenMolarG / 1000,
		Z: ideal / full, IdealM3: ideal * c.Ref.molarL() / 1000,
	}, nil
}

// A Draught is the use that is made of a cylinder.
//
// The zero Draught is refused. CylinderPrice is truly zero when zero.
type Draught struct {
	UsableM3      float64         // gas until the cylinder is changed, m³ at a reference
	BagL          float64         // gas drawn for one bag, L at the same reference
	BagsPerHour   float64         // bags per hour
	CylinderPrice decimal.Decimal // price of one cylinder with delivery and hire, any currency
}

// Supply is how far a cylinder goes.
type Supply struct {
	Bags       int             // whole bags from one cylinder
	Hours      float64         // time until it is changed
	CostPerBag decimal.Decimal // gas of one bag, in the currency of the price, to four places
}

// CylinderLife returns how many bags a cylinder flushes, how long it lasts and
// what the gas of one bag costs.
//
//	N = floor(V/V_1), t = N/rate, cost = price/N
//
//	V     UsableM3       m³   accepted 0.001 to 100 000
//	V_1   BagL           L    accepted 1e-4 to 1e5
//	rate  BagsPerHour    1/h  accepted 0.1 to 1e5
//	      CylinderPrice       accepted 0 to 1e6
//
// A cylinder that does not do one bag is an [*ImpossibleError].
//
// Source: definition.
func CylinderLife(d Draught) (Supply, error) {
	bad := fault.Float(nil, "UsableM3", d.UsableM3, 0.001, 100_000, "m³")
	bad = fault.Float(bad, "BagL", d.BagL, 1e-4, 1e5, "L")
	bad = fault.Float(bad, "BagsPerHour", d.BagsPerHour, 0.1, 1e5, "1/h")
	bad = fault.Decimal(bad, "CylinderPrice", d.CylinderPrice, 0, 1e6, "")
	if bad != nil {
		return Supply{}, fault.Input(bad)
	}
	exact := 1000 * d.UsableM3 / d.BagL
	if exact < 1 {
		return Supply{}, &ImpossibleError{
			Quantity: "bags", Why: "the cylinder holds less than one bag takes",
			Field: "BagL", Given: fault.Shortest(d.BagL), Min: 1e-4, Max: 1000 * d.UsableM3, Unit: "L",
		}
	}
	n := math.Floor(exact * (1 + 1e-12))
	return Supply{
		Bags:       int(n),
		Hours:      n / d.BagsPerHour,
		CostPerBag: d.CylinderPrice.DivRound(decimal.NewFromInt(int64(n)), 4),
	}, nil
}

// A FloatMeter is a variable-area flow meter, a float in a tapered tube, read
// with another gas or at another state than its scale was made for.
//
// The zero FloatMeter is refused. ShownLPerMin is truly zero when zero.
type FloatMeter struct {
	ShownLPerMin float64  // read off the scale, L/min
	ScaleMolarG  float64  // molar mass of the gas of the scale, g/mol
	Scale        GasState // state of the gas for which the scale was made
	GasMolarG    float64  // molar mass of the gas that flows, g/mol
	Gas          GasState // state of that gas in the tube
	Ref          GasState // where the answer is wanted
}

// Flow is a flow of gas.
type Flow struct {
	TubeLPerMin float64 // flow, L/min at the state in the tube
	RefLPerMin  float64 // flow, L/min at Ref
}

// TrueFlow returns the flow that a float meter stands for.
//
//	Q   = Q_s·√(ρ_s/ρ), ρ = P·M/(R·T)
//	Q_r = Q·(T_r/T)·(P/P_r)
//
//	Q_s  ShownLPerMin  L/min  accepted 0 to 100 000
//	M    ScaleMolarG, GasMolarG  g/mol  accepted 2 to 200
//	     Scale, Gas, Ref       as in [MolarVolume]; absolute pressures
//
// Holds for a float much denser than the gas, and while the flow stays
// turbulent around it; viscosity is not in it. A thermal mass-flow meter reads
// mass and wants its maker's factor instead.
//
// Source: float equilibrium in a variable-area meter, any text on flow
// measurement (memory).
func TrueFlow(m FloatMeter) (Flow, error) {
	bad := fault.Float(nil, "ShownLPerMin", m.ShownLPerMin, 0, 100_000, "L/min")
	bad = fault.Float(bad, "ScaleMolarG", m.ScaleMolarG, 2, 200, "g/mol")
	bad = m.Scale.check(bad, "Scale.")
	bad = fault.Float(bad, "GasMolarG", m.GasMolarG, 2, 200, "g/mol")
	bad = m.Gas.check(bad, "Gas.")
	bad = m.Ref.check(bad, "Ref.")
	if bad != nil {
		return Flow{}, fault.Input(bad)
	}
	q := m.ShownLPerMin * math.Sqrt(m.ScaleMolarG/m.Scale.molarL()/(m.GasMolarG/m.Gas.molarL()))
	return Flow{TubeLPerMin: q, RefLPerMin: q * m.Ref.molarL() / m.Gas.molarL()}, nil
}
