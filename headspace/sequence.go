package headspace

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// A Mix is a gas by volume. What is missing to 100 % is other gas, in air
// mainly argon: nitrogen is not 100 less oxygen.
//
// The zero Mix is pure other gas, and truly so.
type Mix struct {
	OxygenPct        float64 // % by volume
	NitrogenPct      float64 // % by volume
	CarbonDioxidePct float64 // % by volume
}

// Nitrogen and carbon dioxide in dry air. Source: The Engineering ToolBox, air
// composition; opened. Carbon dioxide rises by about 0.0003 a year.
const (
	AirNitrogenPct      = 78.084 // % by volume
	AirArgonPct         = 0.934  // % by volume
	AirCarbonDioxidePct = 0.0412 // % by volume, about 2019
)

// A Kind is what a step does.
type Kind uint8

// The kinds of step. The zero Kind is refused.
const (
	// SweepStep feeds GasML of the supply through the nozzle at constant
	// pressure; as much leaves, and what stays then mixes.
	SweepStep Kind = iota + 1

	// FillStep lets supply in up to ToKPa and mixes.
	FillStep

	// VentStep lets gas out, or pumps it out, down to ToKPa. What stays keeps
	// its composition.
	VentStep
)

// A Step is one move of a purging sequence.
//
// The zero Step is refused. Fields that the kind does not use are not read.
type Step struct {
	Kind      Kind
	Supply    Mix     // gas fed, for SweepStep and FillStep
	GasML     float64 // gas fed, mL at the temperature and pressure of the space, for SweepStep
	NozzlePct float64 // see Nozzle, %, for SweepStep
	ToKPa     float64 // pressure at the end, kPa absolute, for FillStep and VentStep
}

// A Space is a rigid gas space.
//
// The zero Space is refused.
type Space struct {
	FreeML float64 // volume, mL
	TempC  float64 // temperature, °C, constant
	KPa    float64 // pressure, kPa absolute
	Mix    Mix     // what is in it
}

// Amounts are quantities of the four gases, mol.
type Amounts struct {
	OxygenMol, NitrogenMol, CarbonDioxideMol, OtherMol float64
}

// An Outcome is a gas space after a sequence, with the balance of each gas:
// Start and Fed together are Vented and Left.
type Outcome struct {
	Mix                         Mix
	KPa                         float64 // pressure at the end, kPa absolute
	Start, Fed, Vented, Left    Amounts // balance of each gas
	SupplyMol                   float64 // purge gas fed in all, mol
	LowOxygenPct, HighOxygenPct float64 // lowest and highest oxygen on the way, % by volume
}

// AfterSteps follows a gas space through sweeps, fills and vents in any order.
//
//	sweep  y_i ← s_i + (y_i − s_i)·M(GasML/V_h)
//	fill   y_i ← s_i + (y_i − s_i)·P/ToKPa,  P ← ToKPa
//	vent   P ← ToKPa
//
//	y_i, s_i  Mix, Supply  %    each 0 to 100, together at most 100
//	V_h       FreeML       mL   accepted 1 to 1e9
//	T         TempC        °C   accepted −40 to 150
//	P, ToKPa               kPa  accepted 0.01 to 5000, absolute; a fill goes up, a vent down
//	M                           the share left of [AfterNozzle]
//
// The gas mixes after each step. Steps with one supply may change places
// where both act at one pressure, since each thins by a factor of its own;
// with two supplies the last one counts most, and a fill from a lower pressure
// thins more, so that beginning with pressure or with vacuum is not the same.
// At most 1000 steps.
//
// Source: Crowl and Louvar, Chemical Process Safety, inerting (combined
// pressure and vacuum purging); mass balance.
func AfterSteps(s Space, steps []Step) (Outcome, error) {
	bad := fault.Float(nil, "FreeML", s.FreeML, minFreeML, maxFreeML, "mL")
	bad = fault.Float(bad, "TempC", s.TempC, -40, 150, "°C")
	bad = fault.Float(bad, "KPa", s.KPa, minStepKPa, maxStepKPa, "kPa")
	bad = s.Mix.check(bad, "Mix.")
	if len(steps) > 1000 {
		bad = fault.Int(bad, "steps", len(steps), 0, 1000, "steps")
		return Outcome{}, fault.Input(bad)
	}
	at := math.NaN() // not known after what was refused
	if s.KPa >= minStepKPa && s.KPa <= maxStepKPa {
		at = s.KPa
	}
	for i := range steps {
		bad, at = steps[i].check(bad, i, at)
	}
	if bad != nil {
		return Outcome{}, fault.Input(bad)
	}
	o := Outcome{Mix: s.Mix, KPa: s.KPa, LowOxygenPct: s.Mix.OxygenPct, HighOxygenPct: s.Mix.OxygenPct}
	o.Start = s.Mix.of(amount(s.KPa, s.FreeML, s.TempC))
	for _, st := range steps {
		held := amount(o.KPa, s.FreeML, s.TempC)
		switch st.Kind {
		case SweepStep:
			fed := amount(o.KPa, st.GasML, s.TempC)
			share := nozzleShare(st.GasML/s.FreeML, st.NozzlePct/100)
			o.SupplyMol += fed
			o.Fed.add(st.Supply.of(fed))
			// What leaves is the start gas that is gone, and supply for the rest.
			gone := held * (1 - share)
			o.Vented.add(o.Mix.of(gone))
			o.Vented.add(st.Supply.of(fed - gone))
			o.Mix = o.Mix.toward(st.Supply, share)
		case FillStep:
			fed := amount(st.ToKPa-o.KPa, s.FreeML, s.TempC)
			o.SupplyMol += fed
			o.Fed.add(st.Supply.of(fed))
			o.Mix = o.Mix.toward(st.Supply, o.KPa/st.ToKPa)
			o.KPa = st.ToKPa
		case VentStep:
			o.Vented.add(o.Mix.of(amount(o.KPa-st.ToKPa, s.FreeML, s.TempC)))
			o.KPa = st.ToKPa
		}
		o.LowOxygenPct = math.Min(o.LowOxygenPct, o.Mix.OxygenPct)
		o.HighOxygenPct = math.Max(o.HighOxygenPct, o.Mix.OxygenPct)
	}
	o.Left = o.Mix.of(amount(o.KPa, s.FreeML, s.TempC))
	return o, nil
}

// Accepted pressures of a space.
const (
	minStepKPa = 0.01
	maxStepKPa = 5000
)

// check refuses what is wrong with the step, and tells the pressure after it: NaN
// where the step that sets it was refused. After such a one any pressure may follow.
func (st *Step) check(bad []*FieldError, i int, at float64) ([]*FieldError, float64) {
	// Names are built only for a refusal.
	name := func(f string) string { return "steps[" + strconv.Itoa(i) + "]." + f }
	float := func(f string, v, min, max float64, unit, why string) {
		n := len(bad)
		if bad = fault.Float(bad, f, v, min, max, unit); len(bad) > n {
			bad[n].Why = why
			bad = fault.Under(name(""), bad, n)
		}
	}
	switch st.Kind {
	case SweepStep, FillStep:
		n := len(bad)
		if bad = st.Supply.check(bad, ""); len(bad) > n {
			bad = fault.Under(name("Supply."), bad, n)
		}
	case VentStep:
	default:
		return fault.Int(bad, name("Kind"), int(st.Kind), int(SweepStep), int(VentStep), ""), math.NaN()
	}
	to := func(min, max float64, why string) {
		n := len(bad)
		if float("ToKPa", st.ToKPa, min, max, "kPa", why); len(bad) > n {
			at = math.NaN()
			return
		}
		at = st.ToKPa
	}
	low, high := minStepKPa, float64(maxStepKPa)
	if at == at {
		low, high = at, at
	}
	switch st.Kind {
	case SweepStep:
		float("GasML", st.GasML, 0, maxGasML, "mL", "")
		float("NozzlePct", st.NozzlePct, minNozzlePct, 100, "%", "")
	case FillStep:
		to(low, maxStepKPa, "a fill goes up")
	case VentStep:
		to(minStepKPa, high, "a vent goes down")
	}
	return bad, at
}

func (m Mix) check(bad []*FieldError, prefix string) []*FieldError {
	n := len(bad)
	bad = fault.Float(bad, "OxygenPct", m.OxygenPct, 0, 100, "%")
	bad = fault.Float(bad, "NitrogenPct", m.NitrogenPct, 0, 100, "%")
	bad = fault.Float(bad, "CarbonDioxidePct", m.CarbonDioxidePct, 0, 100, "%")
	if len(bad) == n && m.OxygenPct+m.NitrogenPct+m.CarbonDioxidePct > 100*(1+1e-12) {
		bad = append(bad, &FieldError{Field: "CarbonDioxidePct", Given: fault.Shortest(m.CarbonDioxidePct),
			Max: math.Max(0, 100-m.OxygenPct-m.NitrogenPct), Unit: "%", Why: "the gases together are at most 100 %"})
	}
	return fault.Under(prefix, bad, n)
}

// of is the content of n mol of the mix.
func (m Mix) of(n float64) Amounts {
	o, n2, c := n*m.OxygenPct/100, n*m.NitrogenPct/100, n*m.CarbonDioxidePct/100
	return Amounts{o, n2, c, n * (100 - m.OxygenPct - m.NitrogenPct - m.CarbonDioxidePct) / 100}
}

func (m Mix) toward(s Mix, share float64) Mix {
	return Mix{
		blend(m.OxygenPct, s.OxygenPct, share),
		blend(m.NitrogenPct, s.NitrogenPct, share),
		blend(m.CarbonDioxidePct, s.CarbonDioxidePct, share),
	}
}

func (a *Amounts) add(b Amounts) {
	a.OxygenMol += b.OxygenMol
	a.NitrogenMol += b.NitrogenMol
	a.CarbonDioxideMol += b.CarbonDioxideMol
	a.OtherMol += b.OtherMol
}
