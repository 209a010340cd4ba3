package extraction

import "example.org/evenlot/internal/fault"

// Target is a brew whose yield is known or wanted, and whose strength is
// asked. The zero Target is refused.
type Target struct {
	DoseG     float64 // dry coffee as weighed, g
	WaterG    float64 // water poured, without bypass, g
	BeverageG float64 // what leaves the grounds, before bypass, g
	YieldPct  float64 // extraction yield, %

	// RetainedSharePct is the strength of the liquid left in the grounds as
	// a share of the beverage's, %: 0 draining, 100 immersion.
	RetainedSharePct float64

	// AbsorbedGPerG is water inside the particles that never mixes, g per g
	// of dose.
	AbsorbedGPerG float64
}

// Strong is a strength and what goes with it.
type Strong struct {
	StrengthPct         float64 // dissolved solids in the beverage, % w/w
	RetainedStrengthPct float64 // in the liquid left in the grounds, % w/w
	DissolvedG          float64 // solids dissolved, g
	Notes               Notes   // what to tell the reader beside the numbers
}

// Strength returns the strength that a yield gives: [Yield] read backwards.
//
//	S = E·D/100
//	T = 100·S/[B·(1 − q) + (W + S − a·D)·q]
//
//	D  Target.DoseG             g    accepted 0.1 to 100 000
//	W  Target.WaterG            g    accepted 0.1 to 4 000 000
//	B  Target.BeverageG         g    accepted 0.1 to 4 000 000
//	E  Target.YieldPct          %    accepted 1 to 100
//	q  Target.RetainedSharePct  %    accepted 0 to 100; a fraction in the equation
//	a  Target.AbsorbedGPerG     g/g  accepted 0 to 3
//	T  Strong.StrengthPct       % w/w
//
// A strength that no brew has carries [UnusualStrength], a yield that no
// coffee gives the notes of [Yield]. Outside the accepted ranges it returns
// the zero Strong and an [*InputError]; where the beverage weighs more than
// the water and the solids, or the liquid would hold nothing but solids, an
// [*ImpossibleError].
//
// Source: conservation of mass; see [Yield].
func Strength(in Target) (Strong, error) {
	bad := fault.Float(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Float(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "BeverageG", in.BeverageG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	bad = fault.Float(bad, "RetainedSharePct", in.RetainedSharePct, 0, 100, "%")
	bad = fault.Float(bad, "AbsorbedGPerG", in.AbsorbedGPerG, 0, MaxAbsorbedGPerG, "g/g")
	if err := fault.Input(bad); err != nil {
		return Strong{}, err
	}
	s := in.YieldPct / 100 * in.DoseG
	absorbed := in.AbsorbedGPerG * in.DoseG
	retained := in.WaterG + s - in.BeverageG // liquid, g
	if slack := 1e-9 * (in.WaterG + s); retained < absorbed-slack {
		if retained < -slack {
			none := &ImpossibleError{Quantity: "strength", Why: "the beverage weighs more than the water and the dissolved solids"}
			return Strong{}, in.named(none, "BeverageG", "WaterG")
		}
		none := &ImpossibleError{Quantity: "strength", Why: "less liquid stays in the grounds than the particles are said to lock in"}
		return Strong{}, in.named(none, "AbsorbedGPerG", "WaterG", "BeverageG")
	}
	out, ok := strong(s, in.BeverageG, in.WaterG-absorbed, in.RetainedSharePct/100, in.YieldPct)
	if !ok {
		none := &ImpossibleError{Quantity: "strength", Why: "the dissolved solids would weigh as much as the liquid that holds them"}
		return Strong{}, in.named(none, "YieldPct", "BeverageG", "WaterG")
	}
	return out, nil
}

// named puts into a refusal the first of the fields that has a range which gives
// a strength, all else unchanged.
//
// No less stays than is locked in, and the liquid is more than solids, where
//
//	B ≤ W + S − a·D
//	S·(1 − q) < B·(1 − q) + (W − a·D)·q
func (in Target) named(none *ImpossibleError, fields ...string) error {
	s, q := in.YieldPct/100*in.DoseG, in.RetainedSharePct/100
	d, w := in.DoseG, in.WaterG
	free := w - in.AbsorbedGPerG*d
	for _, field := range fields {
		unit, v := "g", &in.WaterG
		var least, most, lo, hi float64
		switch field {
		case "BeverageG":
			v, lo, hi = &in.BeverageG, MinWaterG, MaxWaterG
			least, most = s-free*q/(1-q), free+s
		case "WaterG":
			lo, hi = MinWaterG, MaxWaterG
			least, most = max(in.BeverageG-s, (s-in.BeverageG)*(1-q)/q)+w-free, hi
			if q == 0 {
				least = in.BeverageG - s + w - free
			}
		case "YieldPct":
			v, unit, lo, hi = &in.YieldPct, "%", MinYieldPct, MaxYieldPct
			least, most = 100*(in.BeverageG-free)/d, 100*(in.BeverageG+free*q/(1-q))/d
		case "AbsorbedGPerG":
			v, unit, lo, hi = &in.AbsorbedGPerG, "g/g", 0, MaxAbsorbedGPerG
			least, most = 0, (w+s-in.BeverageG)/d
			if q > 0 {
				most = min(most, (w-(s-in.BeverageG)*(1-q)/q)/d)
			}
		}
		given := *v
		if possible(none, field, given, max(least, lo), min(most, hi), unit, func(x float64) bool {
			*v = x
			ok := x >= lo && x <= hi && in.balances()
			*v = given
			return ok
		}) {
			break
		}
	}
	return none
}

// balances says whether there is a strength, as [Strength] holds it.
func (in Target) balances() bool {
	s, absorbed := in.YieldPct/100*in.DoseG, in.AbsorbedGPerG*in.DoseG
	if in.WaterG+s-in.BeverageG < absorbed-1e-9*(in.WaterG+s) {
		return false
	}
	_, ok := strong(s, in.BeverageG, in.WaterG-absorbed, in.RetainedSharePct/100, in.YieldPct)
	return ok
}

// strong solves the balance for T: linear, because T_r = q·T. It is false where
// the solids would weigh as much as the liquid that holds them.
func strong(s, beverage, freeWater, q, yieldPct float64) (Strong, bool) {
	t := s / (beverage*(1-q) + (freeWater+s)*q)
	if !(t >= 0 && t < 1) {
		return Strong{}, false
	}
	return Strong{StrengthPct: 100 * t, RetainedStrengthPct: 100 * q * t, DissolvedG: s,
		Notes: yieldNotes(yieldPct) | strengthNotes(100*t)}, true
}

// DrainingTarget asks for the strength of a brew that drains through. The
// zero DrainingTarget is refused.
type DrainingTarget struct {
	DoseG     float64 // dry coffee as weighed, g
	BeverageG float64 // beverage before bypass, g
	YieldPct  float64 // extraction yield, %
}

// DrainingStrength returns the strength that a yield gives in a brew that
// drains through: the limit q = 0 of [Strength].
//
//	T = 100·(E/100)·D/B
//
//	D  DrainingTarget.DoseG      g  accepted 0.1 to 100 000
//	B  DrainingTarget.BeverageG  g  accepted 0.1 to 4 000 000
//	E  DrainingTarget.YieldPct   %  accepted 1 to 100
//	T  Strong.StrengthPct        % w/w
//
// Notes and refusals are those of [Strength].
//
// Source: definition.
func DrainingStrength(in DrainingTarget) (Strong, error) {
	bad := fault.Float(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Float(bad, "BeverageG", in.BeverageG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	if err := fault.Input(bad); err != nil {
		return Strong{}, err
	}
	holds := func(beverage, yieldPct float64) bool {
		_, ok := strong(yieldPct/100*in.DoseG, beverage, 0, 0, yieldPct)
		return ok && yieldPct >= MinYieldPct && beverage <= MaxWaterG
	}
	out, ok := strong(in.YieldPct/100*in.DoseG, in.BeverageG, 0, 0, in.YieldPct)
	if !ok {
		none := &ImpossibleError{Quantity: "strength", Why: "the dissolved solids would weigh as much as the liquid that holds them"}
		if !possible(none, "YieldPct", in.YieldPct, MinYieldPct, 100*in.BeverageG/in.DoseG, "%",
			func(yieldPct float64) bool { return holds(in.BeverageG, yieldPct) }) {
			possible(none, "BeverageG", in.BeverageG, in.YieldPct/100*in.DoseG, MaxWaterG, "g",
				func(beverage float64) bool { return holds(beverage, in.YieldPct) })
		}
		return Strong{}, none
	}
	return out, nil
}

// ImmersionTarget asks for the strength of an immersion brew. The zero
// ImmersionTarget is refused.
type ImmersionTarget struct {
	DoseG    float64 // dry coffee as weighed, g
	WaterG   float64 // water poured, g
	YieldPct float64 // extraction yield, %
}

// ImmersionStrength returns the strength that a yield gives in immersion: the
// limit q = 1, a = 0 of [Strength].
//
//	T = 100·S/(W + S)    S = E·D/100
//
//	D  ImmersionTarget.DoseG     g  accepted 0.1 to 100 000
//	W  ImmersionTarget.WaterG    g  accepted 0.1 to 4 000 000
//	E  ImmersionTarget.YieldPct  %  accepted 1 to 100
//	T  Strong.StrengthPct        % w/w
//
// Notes and refusals are those of [Strength].
//
// Source: Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021, eq. 17
// solved for the strength (quoted).
func ImmersionStrength(in ImmersionTarget) (Strong, error) {
	bad := fault.Float(nil, "DoseG", in.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Float(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "YieldPct", in.YieldPct, MinYieldPct, MaxYieldPct, "%")
	if err := fault.Input(bad); err != nil {
		return Strong{}, err
	}
	out, _ := strong(in.YieldPct/100*in.DoseG, 0, in.WaterG, 1, in.YieldPct) // the water is always beside the solids
	return out, nil
}
