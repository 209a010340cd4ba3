package brewratio

import (
	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// Standard is a published dose and water, or a habit named as one.
type Standard struct {
	ID             string          // short name, lower case
	Name           string          // what it is for
	DoseG          decimal.Decimal // dose in the middle, g
	DoseToleranceG decimal.Decimal // allowed either side, g; 0 where none is given
	WaterML        decimal.Decimal // the water that goes with it, mL; 0 where it is by mass
	WaterG         decimal.Decimal // the water that goes with it, g; 0 where it is by volume
	Source         string          // who says so
	Provenance     string          // opened, quoted, memory or common practice
}

// Standards returns the published ratios for cupping and filter brewing, and
// the bowl in common use.
//
// Source: each entry names its own.
func Standards() []Standard {
	table := [...]struct {
		id, name           string
		dose, tolerance    int64 // hundredths of a gram
		ml, g              int64
		source, provenance string
	}{
		{"cupping-150", "Cupping, arabica", 825, 25, 150, 0,
			"Specialty Coffee Association, Cupping Standards; Coffee Standards, revised 2018, s. 3.1", "opened"},
		{"cupping-robusta-150", "Cupping, fine robusta", 875, 25, 150, 0,
			"Coffee Quality Institute and UCDA, Fine Robusta Cupping Standards", "opened"},
		{"cup-test-iso-6668", "Cup testing of green coffee", 700, 0, 100, 0,
			"ISO 6668:2008; the clause was not seen", "memory"},
		{"bowl-165", "Cupping bowl, 10 g to 165 g", 1000, 0, 0, 165, "trade habit", "common practice"},
		{"research-150", "Cupping in a research preprint", 800, 0, 0, 150, "Oec, engrXiv preprint v1, 2026", "quoted"},
		{"filter-55", "Filter brewing", 5500, 550, 1000, 0, "SCAA, Golden Cup Standard, version 23DEC2015", "opened"},
		{"filter-test-europe", "Filter brewing, testing of brewers in Europe", 5500, 500, 1000, 0,
			"European Coffee Brewing Centre, Testing Procedures", "opened"},
	}
	list := make([]Standard, 0, len(table))
	for _, x := range table {
		list = append(list, Standard{ID: x.id, Name: x.name, DoseG: decimal.New(x.dose, -2), DoseToleranceG: decimal.New(x.tolerance, -2),
			WaterML: decimal.New(x.ml, 0), WaterG: decimal.New(x.g, 0), Source: x.source, Provenance: x.provenance})
	}
	return list
}

// StandardBowl asks what dose a standard wants for a vessel's water. The zero
// StandardBowl is refused.
type StandardBowl struct {
	Standard Standard        // one of [Standards], or the house's own
	WaterG   decimal.Decimal // water in this vessel, g
	TempC    decimal.Decimal // temperature at which a standard by volume reads its water, °C
}

// DoseRange is a dose and how far it may be off.
type DoseRange struct {
	LowG  decimal.Decimal // smallest dose allowed, g
	DoseG decimal.Decimal // the dose, g
	HighG decimal.Decimal // largest dose allowed, g
}

// StandardDose returns the dose that a standard asks of a vessel.
//
//	D = D_s·W/W_s    by mass
//	D = D_s·V/V_s    by volume, V = 1000·W/ρ(t)
//
//	D_s       Standard.DoseG, Standard.DoseToleranceG  g
//	V_s, W_s  Standard.WaterML, Standard.WaterG        mL, g; one of the two
//	W         StandardBowl.WaterG                      g   accepted 0.1 to 4 000 000
//	t         StandardBowl.TempC                       °C  accepted 0 to 100
//	D         DoseRange                                g, rounded to 12 places
//
// A standard by volume is read at a temperature that most of them do not
// give: with hot water the same 150 mL weigh 144.5 g, with cold 150 g, and
// the bowl's dose moves by 4 %. Outside the ranges, or for a standard without
// a dose or a water, or with a tolerance over its dose, it returns the zero DoseRange and an [*InputError].
//
// Source: proportion; the standard names its own.
func StandardDose(in StandardBowl) (DoseRange, error) {
	s := in.Standard
	bad := fault.Decimal(nil, "Standard.DoseG", s.DoseG, MinDoseG, MaxDoseG, "g")
	bad = fault.Decimal(bad, "Standard.DoseToleranceG", s.DoseToleranceG, 0, MaxDoseG, "g")
	if bad == nil && s.DoseToleranceG.GreaterThan(s.DoseG) {
		bad = append(bad, &FieldError{Field: "Standard.DoseToleranceG", Given: fault.Digits(s.DoseToleranceG), Min: 0, Max: s.DoseG.InexactFloat64(), Unit: "g", Why: "the least dose allowed would be below nothing"})
	}
	per := s.WaterG
	if s.WaterG.IsZero() {
		per = s.WaterML
		bad = fault.Decimal(bad, "Standard.WaterML", per, MinWaterG, MaxVolumeML, "mL")
	} else {
		bad = fault.Decimal(bad, "Standard.WaterG", per, MinWaterG, MaxWaterG, "g")
	}
	bad = fault.Decimal(bad, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return DoseRange{}, err
	}
	up, down := in.WaterG, per
	if s.WaterG.IsZero() {
		up, down = in.WaterG.Shift(3), per.Mul(density(in.TempC))
	}
	of := func(dose decimal.Decimal) decimal.Decimal {
		q, _ := quotient(dose.Mul(up), down)
		return q
	}
	return DoseRange{LowG: of(s.DoseG.Sub(s.DoseToleranceG)), DoseG: of(s.DoseG), HighG: of(s.DoseG.Add(s.DoseToleranceG))}, nil
}
