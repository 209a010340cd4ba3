package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Salt is a saturated salt solution whose air has a known humidity. The zero
// Salt is refused.
type Salt uint8

// The salts, from dry to damp.
const (
	LithiumChloride    Salt = iota + 1 // LiCl·H2O
	MagnesiumChloride                  // MgCl2·6H2O
	SodiumIodide                       // NaI·2H2O
	PotassiumCarbonate                 // K2CO3
	CalciumNitrate                     // Ca(NO3)2·4H2O
	MagnesiumNitrate                   // Mg(NO3)2·6H2O
	SodiumBromide                      // NaBr·2H2O
	AmmoniumNitrate                    // NH4NO3
	PotassiumIodide                    // KI
	SodiumNitrate                      // NaNO3
	SodiumChloride                     // NaCl
	AmmoniumChloride                   // NH4Cl
	PotassiumBromide                   // KBr
	PotassiumChloride                  // KCl
	PotassiumSulfate                   // K2SO4
)

// A saltData is what is known of one salt.
type saltData struct {
	name string
	// RH = a·exp(b/T): Wexler, Constant humidity solutions, CRC Handbook of
	// Chemistry and Physics, section 15; opened. a is 0 where it has none.
	a, b, minC, maxC float64
	// Greenspan, J. Res. NBS 81A(1), 1977, table 2, at 20 and 25 °C with the
	// larger of their uncertainties; memory. at20 is 0 where none is known here.
	at20, at25, u float64
}

func (s Salt) data() saltData {
	switch s {
	case LithiumChloride:
		return saltData{name: "lithium chloride", a: 14.53, b: -75, minC: 20, maxC: 65, at20: 11.31, at25: 11.30, u: 0.31}
	case MagnesiumChloride:
		return saltData{name: "magnesium chloride", a: 29.26, b: 34, minC: 5, maxC: 45, at20: 33.07, at25: 32.78, u: 0.18}
	case SodiumIodide:
		return saltData{name: "sodium iodide", a: 3.62, b: 702, minC: 5, maxC: 45}
	case PotassiumCarbonate:
		return saltData{name: "potassium carbonate", at20: 43.16, at25: 43.16, u: 0.39}
	case CalciumNitrate:
		return saltData{name: "calcium nitrate", a: 1.89, b: 981, minC: 10, maxC: 30}
	case MagnesiumNitrate:
		return saltData{name: "magnesium nitrate", a: 25.28, b: 220, minC: 5, maxC: 35, at20: 54.38, at25: 52.89, u: 0.23}
	case SodiumBromide:
		return saltData{name: "sodium bromide", a: 20.49, b: 308, minC: 0, maxC: 35, at20: 59.14, at25: 57.57, u: 0.44}
	case AmmoniumNitrate:
		return saltData{name: "ammonium nitrate", a: 3.54, b: 853, minC: 10, maxC: 40}
	case PotassiumIodide:
		return saltData{name: "potassium iodide", a: 29.35, b: 254, minC: 5, maxC: 30, at20: 69.90, at25: 68.86, u: 0.26}
	case SodiumNitrate:
		return saltData{name: "sodium nitrate", a: 26.94, b: 302, minC: 10, maxC: 40}
	case SodiumChloride:
		return saltData{name: "sodium chloride", a: 69.20, b: 25, minC: 10, maxC: 40, at20: 75.47, at25: 75.29, u: 0.14}
	case AmmoniumChloride:
		return saltData{name: "ammonium chloride", a: 35.67, b: 235, minC: 10, maxC: 40}
	case PotassiumBromide:
		return saltData{name: "potassium bromide", a: 40.98, b: 203, minC: 5, maxC: 25}
	case PotassiumChloride:
		return saltData{name: "potassium chloride", a: 49.38, b: 159, minC: 5, maxC: 25, at20: 85.11, at25: 84.34, u: 0.29}
	case PotassiumSulfate:
		return saltData{name: "potassium sulfate", at20: 97.59, at25: 97.30, u: 0.53}
	}
	return saltData{}
}

// String is the salt's name.
func (s Salt) String() string { return s.data().name }

// HandbookUncertaintyPct is the uncertainty of the handbook's salt equation, %
// of the value. Wexler, CRC Handbook, section 15, "about"; opened.
const HandbookUncertaintyPct = 2

// FixedPoint is a known humidity.
type FixedPoint struct {
	RHPct          float64 // relative humidity over the saturated salt, %
	UncertaintyPct float64 // its uncertainty as the source states it, % of relative humidity
	Notes          Notes   // what to tell the reader beside the numbers
}

// HandbookSalt returns the humidity over a saturated salt by the handbook's
// equation: good for a quick check of a meter, at any room temperature.
//
//	φ = A·exp(B/T)
//
//	t  tempC                     °C  accepted 0 to 50, T in K
//	φ  FixedPoint.RHPct          %
//	u  FixedPoint.UncertaintyPct %, 2 % of φ
//	A, B  for each salt, published for ranges between 0 and 65 °C
//
// Outside the salt's own range it carries [Extrapolated]. An unknown salt, one
// that the handbook's table lacks (potassium carbonate and sulfate), NaN or a
// temperature outside give the zero FixedPoint and an [*InputError].
//
// Leave undissolved salt in the cup and an hour at least for the air above it;
// 1 K between cup and sensor is 4 to 6 % at the damp end. Use food-safe handling:
// some of these salts are harmful.
//
// Source: Wexler, Constant humidity solutions, CRC Handbook of Chemistry and
// Physics, section 15.
func HandbookSalt(salt Salt, tempC float64) (FixedPoint, error) {
	d := salt.data()
	bad := refuseSalt(nil, salt, d.a > 0, "no handbook equation for this salt")
	bad = fault.Float(bad, "tempC", tempC, 0, 50, "°C")
	if err := fault.Input(bad); err != nil {
		return FixedPoint{}, err
	}
	p := FixedPoint{RHPct: d.a * math.Exp(d.b/(tempC+zeroCInKelvin))}
	p.UncertaintyPct = p.RHPct * HandbookUncertaintyPct / 100
	if tempC < d.minC || tempC > d.maxC {
		p.Notes |= Extrapolated
	}
	return p, nil
}

// StandardSalt returns the humidity over a saturated salt by the table of the
// national bureau of standards, with the table's own uncertainty: five to ten
// times closer than [HandbookSalt], near room temperature only.
//
//	φ = φ₂₀ + (φ₂₅ − φ₂₀)·(t − 20)/5
//
//	t  tempC                     °C  accepted 15 to 30, table 20 and 25
//	φ  FixedPoint.RHPct          %
//	u  FixedPoint.UncertaintyPct %, the larger of the two
//
// The line leaves the table by less than 0.1 % within 15 to 30 °C; outside 20
// to 25 °C it carries [Extrapolated]. An unknown salt, one without an entry
// here, NaN or a temperature outside give the zero FixedPoint and an
// [*InputError].
//
// Source: Greenspan, J. Res. NBS 81A(1):89–96, 1977, table 2; memory.
func StandardSalt(salt Salt, tempC float64) (FixedPoint, error) {
	d := salt.data()
	bad := refuseSalt(nil, salt, d.at20 > 0, "no entry for this salt")
	bad = fault.Float(bad, "tempC", tempC, 15, 30, "°C")
	if err := fault.Input(bad); err != nil {
		return FixedPoint{}, err
	}
	p := FixedPoint{RHPct: d.at20 + (d.at25-d.at20)*(tempC-20)/5, UncertaintyPct: d.u}
	if tempC < 20 || tempC > 25 {
		p.Notes |= Extrapolated
	}
	return p, nil
}

func refuseSalt(bad []*FieldError, salt Salt, ok bool, why string) []*FieldError {
	if ok {
		return bad
	}
	return append(bad, &FieldError{Field: "salt", Given: fault.Shortest(float64(salt)),
		Min: float64(LithiumChloride), Max: float64(PotassiumSulfate), Why: why})
}

// TwoPoint is a hygrometer, or an activity meter in hundredths, read over two
// salts. The zero TwoPoint is refused; the uncertainties may truly be zero.
type TwoPoint struct {
	LowReadPct  float64 // reading over the drier salt, %
	LowTruePct  float64 // humidity of the drier salt, %
	HighReadPct float64 // reading over the damper salt, %
	HighTruePct float64 // humidity of the damper salt, %
	TrueSEPct   float64 // standard uncertainty of each salt, %
	ReadSEPct   float64 // standard uncertainty of each reading, %
}

// TruePoint is what CorrectedHumidity found.
type TruePoint struct {
	RHPct float64 // corrected humidity, %
	SEPct float64 // its standard uncertainty, %
	Notes Notes   // what to tell the reader beside the numbers
}

// CorrectedHumidity returns what a hygrometer should have shown, by a line
// through two salts.
//
//	b   = (φ_h − φ_l)/(r_h − r_l)
//	λ   = (r − r_l)/(r_h − r_l)
//	φ   = φ_l + b·(r − r_l)
//	u²  = [(1 − λ)² + λ²]·(u_φ² + b²·u_r²) + b²·u_r²
//
//	r_l  TwoPoint.LowReadPct   %  accepted 0 to 95
//	φ_l  TwoPoint.LowTruePct   %  accepted 1 to 95
//	r_h  TwoPoint.HighReadPct  %  accepted 0 to 100, at least 5 above r_l
//	φ_h  TwoPoint.HighTruePct  %  accepted 1 to 100, at least 5 above φ_l
//	u_φ  TwoPoint.TrueSEPct    %  accepted 0 to 5
//	u_r  TwoPoint.ReadSEPct    %  accepted 0 to 10
//	r    readPct               %  accepted 0 to 100
//	φ    TruePoint.RHPct       %
//	u    TruePoint.SEPct       %
//
// A reading outside the two points carries [OutsidePairs]: choose salts that
// bracket the lot, 53 and 75 % for green coffee. Outside the accepted ranges,
// and for NaN, it returns the zero TruePoint and an [*InputError]; a corrected
// humidity outside 0 to 100 % gives an [*ImpossibleError].
//
// Source: definition, straight line; propagation by JCGM 100:2008, 5.1.2.
func CorrectedHumidity(p TwoPoint, readPct float64) (TruePoint, error) {
	bad := fault.Float(nil, "LowReadPct", p.LowReadPct, 0, 95, "%")
	bad = fault.Float(bad, "LowTruePct", p.LowTruePct, 1, 95, "%")
	bad = fault.Float(bad, "HighReadPct", p.HighReadPct, within(p.LowReadPct, 0, 95)+5, 100, "%")
	bad = fault.Float(bad, "HighTruePct", p.HighTruePct, within(p.LowTruePct, 1, 95)+5, 100, "%")
	bad = fault.Float(bad, "TrueSEPct", p.TrueSEPct, 0, 5, "%")
	bad = fault.Float(bad, "ReadSEPct", p.ReadSEPct, 0, 10, "%")
	bad = fault.Float(bad, "readPct", readPct, 0, 100, "%")
	if err := fault.Input(bad); err != nil {
		return TruePoint{}, err
	}
	span := p.HighReadPct - p.LowReadPct
	b := (p.HighTruePct - p.LowTruePct) / span
	l := (readPct - p.LowReadPct) / span
	line := func(readPct float64) (rhPct float64, ok bool) {
		rhPct = p.LowTruePct + b*(readPct-p.LowReadPct)
		return rhPct, rhPct >= 0 && rhPct <= 100
	}
	rhPct, ok := line(readPct)
	if !ok {
		on := func(readPct float64) bool { _, ok := line(readPct); return ok }
		return TruePoint{}, &ImpossibleError{Quantity: "humidity", Why: "the line leaves 0 to 100 % at this reading",
			Field: "readPct", Given: fault.Shortest(readPct),
			Min: num.Inside(max(p.LowReadPct-p.LowTruePct/b, 0), p.LowReadPct, on),
			Max: num.Inside(min(p.LowReadPct+(100-p.LowTruePct)/b, 100), p.LowReadPct, on), Unit: "%"}
	}
	t := TruePoint{RHPct: rhPct}
	read := b * p.ReadSEPct
	t.SEPct = math.Hypot(math.Sqrt((1-l)*(1-l)+l*l)*math.Hypot(p.TrueSEPct, read), read)
	if l < 0 || l > 1 {
		t.Notes |= OutsidePairs
	}
	return t, nil
}
