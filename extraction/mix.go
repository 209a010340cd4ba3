package extraction

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// MaxMassG is the largest mass that is mixed, g.
const MaxMassG = 10_000_000

// Part is a mass of brew of one strength; water has strength 0. The zero Part
// is truly nothing.
type Part struct {
	MassG       float64 // g
	StrengthPct float64 // dissolved solids, % w/w
}

// Mixed is a blend.
type Mixed struct {
	MassG       float64 // g
	StrengthPct float64 // dissolved solids, % w/w
	SolidsG     float64 // dissolved solids, g
	Notes       Notes   // [UnusualStrength]
}

// Blend returns what brews, and water, give together.
//
//	T = Σmᵢ·Tᵢ/Σmᵢ
//
//	m  Part.MassG         g      accepted 0 to 10 000 000 each, together 0.1 or more
//	T  Part.StrengthPct   % w/w  accepted 0 to 100 each
//	   number of parts           accepted 1 to 1000
//
// Outside, it returns the zero Mixed and an [*InputError]. Masses add;
// volumes do not.
//
// Source: conservation of mass.
func Blend(parts []Part) (Mixed, error) {
	bad := fault.Int(nil, "parts", len(parts), 1, 1000, "parts")
	if bad == nil {
		for i, p := range parts {
			bad = floatAt(bad, "parts", i, "MassG", p.MassG, 0, MaxMassG, "g")
			bad = floatAt(bad, "parts", i, "StrengthPct", p.StrengthPct, 0, 100, "%")
		}
	}
	if err := fault.Input(bad); err != nil {
		return Mixed{}, err
	}
	var out Mixed
	for _, p := range parts {
		out.MassG += p.MassG
		out.SolidsG += p.MassG * p.StrengthPct / 100
	}
	if err := fault.Input(fault.Float(nil, "parts", out.MassG, 0.1, 1000*MaxMassG, "g in all")); err != nil {
		return Mixed{}, err
	}
	out.StrengthPct = 100 * out.SolidsG / out.MassG
	out.Notes = strengthNotes(out.StrengthPct)
	return out, nil
}

// Dilution is a brew to be thinned, or strengthened with a stronger one. The
// zero Dilution is refused.
type Dilution struct {
	BrewG         float64 // brew at hand, g
	StrengthPct   float64 // its strength, % w/w
	WithPct       float64 // strength of what is added, % w/w: 0 for water
	ToStrengthPct float64 // strength wanted, % w/w
}

// Dilute returns how much of water, or of another brew, brings a brew to a
// strength, g.
//
//	x = B·(T − T₂)/(T₂ − T_x)
//
//	B    Dilution.BrewG          g      accepted 0.1 to 4 000 000
//	T    Dilution.StrengthPct    % w/w  accepted 0 to 100
//	T_x  Dilution.WithPct        % w/w  accepted 0 to 100
//	T₂   Dilution.ToStrengthPct  % w/w  accepted 0.01 to 100
//	x                            g
//
// Outside, it returns 0 and an [*InputError]; where the strength wanted is not
// between the two, or so near the added one that no reasonable mass gets
// there, an [*ImpossibleError].
//
// Source: conservation of mass; the mixing rule.
func Dilute(in Dilution) (float64, error) {
	bad := fault.Float(nil, "BrewG", in.BrewG, 0.1, MaxWaterG, "g")
	bad = fault.Float(bad, "StrengthPct", in.StrengthPct, 0, 100, "%")
	bad = fault.Float(bad, "WithPct", in.WithPct, 0, 100, "%")
	bad = fault.Float(bad, "ToStrengthPct", in.ToStrengthPct, 0.01, 100, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	if in.ToStrengthPct == in.StrengthPct {
		return 0, nil
	}
	added := func(to float64) float64 { return in.BrewG * (in.StrengthPct - to) / (to - in.WithPct) }
	x := added(in.ToStrengthPct)
	if !(x >= 0 && x <= MaxMassG) { // infinite where the two are equal
		none := &ImpossibleError{Quantity: "mixture", Why: "the strength wanted is not between the two that are mixed"}
		if x > MaxMassG && x < math.Inf(1) {
			none.Why = "it would take more than " + fault.Shortest(MaxMassG) + " g"
		}
		far := (in.BrewG*in.StrengthPct + MaxMassG*in.WithPct) / (in.BrewG + MaxMassG) // with all that may be added
		least, most := max(min(far, in.StrengthPct), 0.01), max(far, in.StrengthPct)
		to := func(to float64) bool {
			return to >= 0.01 && (to == in.StrengthPct || added(to) >= 0 && added(to) <= MaxMassG)
		}
		with := func(with float64) bool {
			d := in
			d.WithPct = with
			return with >= 0 && with <= 100 && d.reached()
		}
		apart := in.BrewG * (in.ToStrengthPct - in.StrengthPct) / MaxMassG // of what is added, from the strength wanted
		lo, hi := 0.0, in.ToStrengthPct+apart
		if apart > 0 {
			lo, hi = in.ToStrengthPct+apart, 100
		}
		switch { // two that are alike only ever give their own strength
		case in.StrengthPct == in.WithPct && possible(none, "WithPct", in.WithPct, lo, hi, "%", with):
		case possible(none, "ToStrengthPct", in.ToStrengthPct, least, most, "%", to):
		default:
			possible(none, "WithPct", in.WithPct, lo, hi, "%", with)
		}
		return 0, none
	}
	return x, nil
}

// reached says whether a mass that is mixed brings the brew to its strength.
func (in Dilution) reached() bool {
	x := in.BrewG * (in.StrengthPct - in.ToStrengthPct) / (in.ToStrengthPct - in.WithPct)
	return x >= 0 && x <= MaxMassG
}

// TwoBrews is a blend of a known mass to be made of two brews. The zero
// TwoBrews is refused.
type TwoBrews struct {
	FirstPct      float64 // strength of the first, % w/w
	SecondPct     float64 // strength of the second, % w/w; 0 for water
	ToStrengthPct float64 // strength wanted, % w/w
	TotalG        float64 // mass wanted, g
}

// BlendParts returns how much of each of two brews makes a mass of a strength,
// g. The two add up to it.
//
//	m₁ = M·(T − T₂)/(T₁ − T₂)    m₂ = M − m₁
//
//	T₁  TwoBrews.FirstPct       % w/w  accepted 0 to 100
//	T₂  TwoBrews.SecondPct      % w/w  accepted 0 to 100
//	T   TwoBrews.ToStrengthPct  % w/w  accepted 0 to 100, between the two
//	M   TwoBrews.TotalG         g      accepted 0.1 to 10 000 000
//
// Where both are of the strength wanted, any split is right, and all is of the
// first. Outside, it returns zeros and an [*InputError]; where the strength
// wanted is not between the two, an [*ImpossibleError].
//
// Source: conservation of mass; the mixing rule (alligation).
func BlendParts(in TwoBrews) (firstG, secondG float64, err error) {
	bad := fault.Float(nil, "FirstPct", in.FirstPct, 0, 100, "%")
	bad = fault.Float(bad, "SecondPct", in.SecondPct, 0, 100, "%")
	bad = fault.Float(bad, "ToStrengthPct", in.ToStrengthPct, 0, 100, "%")
	bad = fault.Float(bad, "TotalG", in.TotalG, 0.1, MaxMassG, "g")
	if err := fault.Input(bad); err != nil {
		return 0, 0, err
	}
	if in.ToStrengthPct == in.FirstPct { // of two alike, all is of the first
		return in.TotalG, 0, nil
	}
	share := (in.ToStrengthPct - in.SecondPct) / (in.FirstPct - in.SecondPct)
	if !(share >= 0 && share <= 1) {
		return 0, 0, &ImpossibleError{Quantity: "mixture", Why: "the strength wanted is not between the two that are mixed",
			Field: "ToStrengthPct", Given: fault.Shortest(in.ToStrengthPct), Min: min(in.FirstPct, in.SecondPct), Max: max(in.FirstPct, in.SecondPct), Unit: "%"}
	}
	firstG = in.TotalG * share
	return firstG, in.TotalG - firstG, nil
}
