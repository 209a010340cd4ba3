package moisture

// Accepted contents. The lower limit refuses a fraction given for a percent.
const (
	MinMoisturePct    = 0.5 // least wet-basis content accepted, %
	MaxMoisturePct    = 80  // greatest wet-basis content accepted, %
	MinDryMoisturePct = 0.5 // least dry-basis content accepted, %
	MaxDryMoisturePct = 400 // greatest dry-basis content accepted, %; 80 % wet
)

// Accepted masses.
const (
	MinMassKg = 0.001 // least mass accepted, kg
	MaxMassKg = 1e8   // greatest mass accepted, kg; four ship loads
)

// Limits to hold readings against. None is a clearance: a lot's average hides
// its wettest beans, and food-safety law at the place of sale decides.
const (
	// GrowthLimitAw is the activity below which fungal growth is not possible,
	// "about". Good Hygiene Practices along the coffee chain (FAO/ICO),
	// Controlling mould growth; opened.
	GrowthLimitAw = 0.68

	// OchratoxinLimitAw is the least activity at which ochratoxin A was formed
	// on green coffee in vitro. Bucheli & Taniwaki 2002, abstract; opened.
	OchratoxinLimitAw = 0.80

	// SpecialtyMaxAw is the activity that washed arabica sold as specialty
	// stays strictly below. SCA, Green Coffee Defect Classification poster,
	// 2018; opened.
	SpecialtyMaxAw = 0.70

	// CargoMaxAw is the greatest equilibrium humidity of a cargo, as an
	// activity. Cargo Handbook, Coffee Beans, 2012; opened.
	CargoMaxAw = 0.65

	// SpecialtyMinMoisturePct and SpecialtyMaxMoisturePct bound washed arabica
	// on import, % wet basis. SCA poster, 2018; opened.
	SpecialtyMinMoisturePct = 10 // %
	SpecialtyMaxMoisturePct = 12 // %

	// ExportMinMoisturePct and ExportMaxMoisturePct bound green coffee for
	// export, % wet basis by ISO 6673. International Coffee Council Resolution
	// 420, 2004; opened.
	ExportMinMoisturePct = 8    // %
	ExportMaxMoisturePct = 12.5 // %

	// CodexMaxMoisturePct is the greatest content against ochratoxin, % wet
	// basis. Codex CAC/RCP 69-2009; opened.
	CodexMaxMoisturePct = 12.5

	// CargoMinRHPct and CargoMaxRHPct bound the air of a sea voyage, %. Cargo
	// Handbook, Coffee Beans, 2012; opened.
	CargoMinRHPct = 50 // %
	CargoMaxRHPct = 65 // %

	// HabitMinRHPct, HabitMaxRHPct (%) and HabitTempC (°C) are the green store
	// that the trade aims at; common practice without a source.
	HabitMinRHPct = 55 // %
	HabitMaxRHPct = 60 // %
	HabitTempC    = 18 // °C

	// ExportTargetMoisturePct is the content to aim at, % wet basis. The Coffee
	// Guide, International Trade Centre; opened.
	ExportTargetMoisturePct = 11

	// StoreMaxRHPct is a store's humidity, "about", %. Brazilian extension
	// article on coffee storage, 2007; opened.
	StoreMaxRHPct = 65

	// StoreMaxTempC is a store's greatest temperature, °C. Brazilian extension
	// article on coffee storage, 2007; opened.
	StoreMaxTempC = 20
)

// within is v where it lies in min to max, else min: a limit that depends on
// another field must stay a number when that field is none.
func within(v, min, max float64) float64 {
	if v >= min && v <= max {
		return v
	}
	return min
}
