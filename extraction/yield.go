package extraction

import "example.org/evenlot/internal/fault"

// What the functions of this package accept.
const (
	MinDoseG = 0.1     // smallest dose, g
	MaxDoseG = 100_000 // largest dose, g

	MinWaterG = 0.1       // smallest water, g
	MaxWaterG = 4_000_000 // largest water, g

	// MinStrengthPct is the weakest brew, % w/w: a strength typed as a
	// fraction (0.0135, 0.12) lies below it.
	MinStrengthPct = 0.15
	MaxStrengthPct = 35 // strongest brew, % w/w

	MinYieldPct = 1   // smallest yield asked for, %: a fraction lies below it
	MaxYieldPct = 100 // largest, %

	MaxAbsorbedGPerG = 3 // most water said to be locked in the particles, g/g
)

// What a finished brew's yield is judged by.
const (
	// LowYieldPct is the yield, %, below which a finished brew is doubtful:
	// common practice, no source.
	LowYieldPct = 10

	// HighYieldPct is the total of solubles, %, that water up to 100 °C
	// dissolves from most coffees: International Trade Centre, The Coffee
	// Guide, Q&A 064 (opened).
	HighYieldPct = 30

	// SolublePct is the largest total of solubles, %, published for a
	// coffee: Lockhart, The soluble solids in beverage coffee, 1957
	// (quoted by a training lesson).
	SolublePct = 36
)

// solids is the mass balance of every function here: the solids dissolved, in
// the unit of the masses, with strengths as fractions.
func solids(beverage, water, absorbed, t, tr float64) float64 {
	return (beverage*(t-tr) + (water-absorbed)*tr) / (1 - tr)
}

func yieldNotes(e float64) (n Notes) {
	if e < LowYieldPct {
		n |= LowYield
	}
	if e > HighYieldPct {
		n |= HighYield
	}
	if e > SolublePct {
		n |= AboveSoluble
	}
	return n
}

func strengthNotes(t float64) Notes {
	if t < MinStrengthPct || t > MaxStrengthPct {
		return UnusualStrength
	}
	return 0
}

// Brew is a finished brew, weighed and measured. The zero Brew is refused.
type Brew struct {
	DoseG       float64 // dry coffee as weighed, g
	WaterG      float64 // water poured, without bypass, g
	BeverageG   float64 // what left the grounds, before bypass, g
	StrengthPct float64 // dissolved solids in the beverage, % w/w

	// RetainedStrengthPct is the strength of the liquid left in the grounds,
	// % w/w: 0 after a long rinse with fresh water, StrengthPct in immersion.
	RetainedStrengthPct float64

	// AbsorbedGPerG is water inside the particles that never mixed, g per g
	// of dose; 0 counts all retained liquid as mixed.
	AbsorbedGPerG float64
}

// Balance says where each gram of solids and water went.
type Balance struct {
	YieldPct        float64 // solids dissolved per dose, %
	CupYieldPct     float64 // solids in the cup per dose, %
	DissolvedG      float64 // solids that left the particles, g
	CupSolidsG      float64 // of these, in the cup, g
	CupWaterG       float64 // water in the cup, g
	RetainedSolidsG float64 // dissolved solids left in the grounds' liquid, g
	RetainedWaterG  float64 // water left in the grounds, absorbed and mixed, g
	UndissolvedG    float64 // dose that stayed solid, g
	Notes           Notes   // what to tell the reader beside the numbers
}

// Yield returns the extraction yield of a brew and where its solids and water
// went.
//
//	S   = [B·(T − T_r) + (W − a·D)·T_r]/(1 − T_r)
//	E   = 100·S/D
//	E_c = 100·B·T/D
//
//	D    Brew.DoseG                g      accepted 0.1 to 100 000
//	W    Brew.WaterG               g      accepted 0.1 to 4 000 000
//	B    Brew.BeverageG            g      accepted 0.1 to 4 000 000
//	T    Brew.StrengthPct          % w/w  accepted 0.15 to 35; a fraction in the equation
//	T_r  Brew.RetainedStrengthPct  % w/w  accepted 0 to 35; a fraction in the equation
//	a    Brew.AbsorbedGPerG        g/g    accepted 0 to 3
//	S    Balance.DissolvedG        g
//	E    Balance.YieldPct          %
//	E_c  Balance.CupYieldPct       %
//
// A yield outside what coffee gives carries [LowYield], [HighYield] or
// [AboveSoluble]; T_r above T carries [RetainedStronger]. Outside the accepted
// ranges Yield returns the zero Balance and an [*InputError]; where the
// beverage weighs more than the water and the solids together, where the
// solids would outweigh the dose, or where the particles would have locked in
// more water than stayed, an [*ImpossibleError].
//
// It is arithmetic: its answer is as good as its inputs. T_r is rarely
// measured; between 0 and T it moves the yield of a filter brew by up to two
// points, so say which was assumed.
//
// Source: conservation of mass; the limit T_r = T after Liang, Chan &
// Ristenpart, Scientific Reports 11:6904, 2021, eq. 17 (quoted).
func Yield(b Brew) (Balance, error) {
	bad := fault.Float(nil, "DoseG", b.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Float(bad, "WaterG", b.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "BeverageG", b.BeverageG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "StrengthPct", b.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	bad = fault.Float(bad, "RetainedStrengthPct", b.RetainedStrengthPct, 0, MaxStrengthPct, "%")
	bad = fault.Float(bad, "AbsorbedGPerG", b.AbsorbedGPerG, 0, MaxAbsorbedGPerG, "g/g")
	if err := fault.Input(bad); err != nil {
		return Balance{}, err
	}
	t, tr := b.StrengthPct/100, b.RetainedStrengthPct/100
	absorbed := b.AbsorbedGPerG * b.DoseG
	s := solids(b.BeverageG, b.WaterG, absorbed, t, tr)
	if s > b.DoseG {
		none := &ImpossibleError{Quantity: "yield", Why: "more would have dissolved than was dosed"}
		return Balance{}, b.named(none, "DoseG", "BeverageG", "WaterG", "StrengthPct")
	}
	retained := b.WaterG + s - b.BeverageG // liquid, g
	if slack := 1e-9 * (b.WaterG + s); retained < absorbed-slack {
		if retained < -slack {
			none := &ImpossibleError{Quantity: "yield", Why: "the beverage weighs more than the water and the dissolved solids"}
			return Balance{}, b.named(none, "WaterG", "BeverageG", "StrengthPct")
		}
		none := &ImpossibleError{Quantity: "yield", Why: "less liquid stayed in the grounds than the particles are said to lock in"}
		return Balance{}, b.named(none, "AbsorbedGPerG", "WaterG", "BeverageG", "StrengthPct")
	}
	out := Balance{
		YieldPct:    100 * s / b.DoseG,
		CupYieldPct: 100 * b.BeverageG * t / b.DoseG,
		DissolvedG:  s,
		CupSolidsG:  b.BeverageG * t,
		CupWaterG:   b.BeverageG * (1 - t),
	}
	out.RetainedSolidsG = s - out.CupSolidsG
	out.RetainedWaterG = b.WaterG - out.CupWaterG
	out.UndissolvedG = b.DoseG - s
	out.Notes = yieldNotes(out.YieldPct)
	if b.RetainedStrengthPct > b.StrengthPct {
		out.Notes |= RetainedStronger
	}
	return out, nil
}

// named puts into a refusal the first of the fields that has a range which gives
// a yield, all else unchanged.
//
// Neither more than the dose dissolves nor less stays than is locked in where
//
//	B·(T − T_r) + (W − a·D)·T_r ≤ D·(1 − T_r)
//	B·(1 − T) ≤ W − a·D
func (b Brew) named(none *ImpossibleError, fields ...string) error {
	t, tr := b.StrengthPct/100, b.RetainedStrengthPct/100
	d, w, a := b.DoseG, b.WaterG, b.AbsorbedGPerG
	free := w - a*d
	for _, field := range fields {
		unit, v := "g", &b.WaterG
		// In this field the second says no less or no more than, the first the other.
		var least, most, lo, hi float64
		switch field {
		case "DoseG":
			v, lo, hi = &b.DoseG, MinDoseG, MaxDoseG
			least, most = (b.BeverageG*(t-tr)+w*tr)/(1-tr+a*tr), (w-b.BeverageG*(1-t))/a
		case "WaterG":
			lo, hi = MinWaterG, MaxWaterG
			least, most = b.BeverageG*(1-t)+a*d, (d*(1-tr)-b.BeverageG*(t-tr))/tr+a*d
		case "BeverageG":
			v, lo, hi = &b.BeverageG, MinWaterG, MaxWaterG
			least, most = 0, free/(1-t)
			if room := (d*(1-tr) - free*tr) / (t - tr); t > tr {
				most = min(most, room)
			} else if t < tr {
				least = room
			}
		case "StrengthPct":
			v, unit, lo, hi = &b.StrengthPct, "%", MinStrengthPct, MaxStrengthPct
			least, most = 100*(1-free/b.BeverageG), 100*((d*(1-tr)-free*tr)/b.BeverageG+tr)
		case "AbsorbedGPerG":
			v, unit, lo, hi = &b.AbsorbedGPerG, "g/g", 0, MaxAbsorbedGPerG
			least, most = 0, (w-b.BeverageG*(1-t))/d
			if tr > 0 {
				least = (w - (d*(1-tr)-b.BeverageG*(t-tr))/tr) / d
			}
		}
		given := *v
		if possible(none, field, given, max(least, lo), min(most, hi), unit, func(x float64) bool {
			*v = x
			ok := x >= lo && x <= hi && b.balances()
			*v = given
			return ok
		}) {
			break
		}
	}
	return none
}

// balances says whether a brew has a yield, as [Yield] holds it.
func (b Brew) balances() bool {
	absorbed := b.AbsorbedGPerG * b.DoseG
	s := solids(b.BeverageG, b.WaterG, absorbed, b.StrengthPct/100, b.RetainedStrengthPct/100)
	return s <= b.DoseG && b.WaterG+s-b.BeverageG >= absorbed-1e-9*(b.WaterG+s)
}

// Draining is a brew that the water drains through, so that what stays in the
// grounds is taken as clean: filter, espresso. The zero Draining is refused.
type Draining struct {
	DoseG       float64 // dry coffee as weighed, g
	BeverageG   float64 // beverage before bypass, g
	StrengthPct float64 // dissolved solids in the beverage, % w/w
}

// Extracted is a yield and the solids behind it.
type Extracted struct {
	YieldPct   float64 // solids dissolved per dose, %
	DissolvedG float64 // solids dissolved, g
	Notes      Notes   // what to tell the reader beside the numbers
}

// DrainingYield returns the yield of a brew whose grounds were left with clean
// liquid: the limit T_r = 0 of [Yield]. It is what reached the cup, whatever
// the brewer, and never too high.
//
//	E = 100·B·T/D
//
//	D  Draining.DoseG        g      accepted 0.1 to 100 000
//	B  Draining.BeverageG    g      accepted 0.1 to 4 000 000
//	T  Draining.StrengthPct  % w/w  accepted 0.15 to 35; a fraction in the equation
//	E  Extracted.YieldPct    %
//
// Notes and refusals are those of [Yield].
//
// Source: definition.
func DrainingYield(b Draining) (Extracted, error) {
	bad := fault.Float(nil, "DoseG", b.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Float(bad, "BeverageG", b.BeverageG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "StrengthPct", b.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	if err := fault.Input(bad); err != nil {
		return Extracted{}, err
	}
	return extracted(b.DoseG, b.BeverageG, b.StrengthPct/100, 0, "BeverageG")
}

// Immersion is a brew whose whole water stands on the grounds and holds the
// solids evenly: cupping bowl, steeped and poured or pressed off. The zero
// Immersion is refused.
type Immersion struct {
	DoseG       float64 // dry coffee as weighed, g
	WaterG      float64 // water poured, g
	StrengthPct float64 // dissolved solids in the beverage, % w/w
}

// ImmersionYield returns the yield of a brew whose retained liquid is as strong
// as the cup: the limit T_r = T, a = 0 of [Yield]. How much was poured off
// does not matter.
//
//	E = 100·T/(1 − T)·W/D
//
//	D  Immersion.DoseG        g      accepted 0.1 to 100 000
//	W  Immersion.WaterG       g      accepted 0.1 to 4 000 000
//	T  Immersion.StrengthPct  % w/w  accepted 0.15 to 35; a fraction in the equation
//	E  Extracted.YieldPct     %
//
// Notes and refusals are those of [Yield]. Water that evaporated from an open
// bowl makes the strength, and the yield with it, read high.
//
// Source: Liang, Chan & Ristenpart, Scientific Reports 11:6904, 2021, eq. 17
// (quoted).
func ImmersionYield(b Immersion) (Extracted, error) {
	bad := fault.Float(nil, "DoseG", b.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Float(bad, "WaterG", b.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Float(bad, "StrengthPct", b.StrengthPct, MinStrengthPct, MaxStrengthPct, "%")
	if err := fault.Input(bad); err != nil {
		return Extracted{}, err
	}
	t := b.StrengthPct / 100
	return extracted(b.DoseG, b.WaterG, t, t, "WaterG")
}

// extracted is a yield, or says which dose would have held the solids, or where
// none does, how little liquid would.
func extracted(dose, liquid, t, tr float64, field string) (Extracted, error) {
	s := dissolvedIn(liquid, t, tr)
	if s > dose {
		none := &ImpossibleError{Quantity: "yield", Why: "more would have dissolved than was dosed"}
		if !possible(none, "DoseG", dose, s, MaxDoseG, "g", func(dose float64) bool { return dose >= s && dose <= MaxDoseG }) {
			possible(none, field, liquid, MinWaterG, liquid*(dose/s), "g", func(x float64) bool { return x >= MinWaterG && dissolvedIn(x, t, tr) <= dose })
		}
		return Extracted{}, none
	}
	e := 100 * s / dose
	return Extracted{YieldPct: e, DissolvedG: s, Notes: yieldNotes(e)}, nil
}

// dissolvedIn is the solids of a liquid that is beverage alone, where T_r is 0,
// or water alone, where it is T.
func dissolvedIn(liquid, t, tr float64) float64 {
	if tr == 0 {
		return solids(liquid, 0, 0, t, 0)
	}
	return solids(0, liquid, 0, t, tr)
}
