package brewratio

import (
	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// The temperatures at which water is measured here.
const (
	MinTempC = 0   // ice point, °C
	MaxTempC = 100 // °C; at one atmosphere water boils at 99.97 °C

	MaxVolumeML = 4_000_000 // largest volume, mL
)

// At is where water is measured. The zero At is truly 0 °C.
type At struct {
	TempC decimal.Decimal // water temperature, °C
}

// WaterDensity returns the density of air-free water at one atmosphere.
//
//	t' = 1.00024·t
//	ρ  = (a0 + a1·t' + a2·t'² + a3·t'³ + a4·t'⁴ + a5·t'⁵)/(1 + b·t')
//
//	t       At.TempC  °C, scale of 1990; accepted and published 0 to 100
//	t'                °C, scale of 1968, on which the equation stands
//	a0..a5            999.83952, 16.945176, −7.9870401e-3, −46.170461e-6,
//	                  105.56302e-9, −280.54253e-12
//	b                 16.879850e-3
//	ρ                 kg/m³ = g/L, rounded to 6 places
//
// Outside, it returns 0 and an [*InputError]. It stays within 5e-6 of itself
// of the equation of state IAPWS-95 (0.005 kg/m³), tested from 0 to 99.9 °C.
// Tap water is 0.1 to 0.2 kg/m³ denser (memory), a mountain's lower pressure
// moves it by less than 0.03 kg/m³: both are ignored. It is computed in
// decimals: every machine gives the same digits.
//
// A much read reprint swaps two digits of b (16.897850e-3), worth 0.27 kg/m³
// at 20 °C; these digits give the published tables.
//
// Source: Kell, J. Chem. Eng. Data 20:97, 1975 (quoted: Jones and Harris, J.
// Res. NIST 97:335, 1992, eq. 1).
func WaterDensity(in At) (decimal.Decimal, error) {
	bad := fault.Decimal(nil, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return decimal.Zero, err
	}
	return density(in.TempC), nil
}

// density is Kell's equation for an accepted temperature. Its value ends
// after the sixth place.
func density(t decimal.Decimal) decimal.Decimal {
	t = t.Round(6).Mul(decimal.NewFromFloat(num.IPTS68PerITS90))
	up := decimal.Zero
	for _, a := range [...]float64{num.KellA5, num.KellA4, num.KellA3, num.KellA2, num.KellA1, num.KellA0} {
		up = up.Mul(t).Add(decimal.NewFromFloat(a))
	}
	down := t.Mul(decimal.NewFromFloat(num.KellB)).Add(decimal.NewFromInt(1))
	return up.DivRound(down, 6)
}

// PouredVolume is water measured by volume. The zero PouredVolume is refused.
type PouredVolume struct {
	VolumeML decimal.Decimal // volume at TempC, mL
	TempC    decimal.Decimal // water temperature when measured, °C
}

// WaterMass returns the mass of a volume of water.
//
//	W = V·ρ(t)/1000
//
//	V  PouredVolume.VolumeML  mL  accepted 0.1 to 4 000 000
//	t  PouredVolume.TempC     °C  accepted 0 to 100
//	ρ  [WaterDensity], g/L
//	W  g, exact for that density
//
// Outside, it returns 0 and an [*InputError]. 150 mL of cold water are 150 g
// within 0.3 %; at 93 °C they are 144.5 g, which is another ratio.
//
// Source: definition; density by [WaterDensity].
func WaterMass(in PouredVolume) (decimal.Decimal, error) {
	bad := fault.Decimal(nil, "VolumeML", in.VolumeML, MinWaterG, MaxVolumeML, "mL")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return decimal.Zero, err
	}
	return in.VolumeML.Mul(density(in.TempC)).Shift(-3), nil
}

// PouredMass is water measured by mass. The zero PouredMass is refused.
type PouredMass struct {
	WaterG decimal.Decimal // mass, g
	TempC  decimal.Decimal // water temperature, °C
}

// WaterVolume returns the volume of a mass of water.
//
//	V = 1000·W/ρ(t)
//
//	W  PouredMass.WaterG  g   accepted 0.1 to 4 000 000
//	t  PouredMass.TempC   °C  accepted 0 to 100
//	ρ  [WaterDensity], g/L
//	V  mL, rounded to 12 places
//
// Outside, it returns 0 and an [*InputError].
//
// Source: definition; density by [WaterDensity].
func WaterVolume(in PouredMass) (decimal.Decimal, error) {
	bad := fault.Decimal(nil, "WaterG", in.WaterG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return decimal.Zero, err
	}
	return in.WaterG.Shift(3).DivRound(density(in.TempC), QuotientPlacesCount), nil
}
