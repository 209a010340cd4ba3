package num

// Coefficients of Kell's density of air-free water at one atmosphere, with t
// in °C and the density in kg/m³. One reprint swaps two digits of KellB
// (16.897850e-3), which is worth 0.27 kg/m³ at 20 °C; this is the one that
// gives the published tables.
//
// Source: Kell, J. Chem. Eng. Data 20:97, 1975 (quoted: Jones and Harris, J.
// Res. NIST 97:335, 1992, eq. 1; KellB from a second page).
const (
	KellA0 = 999.83952
	KellA1 = 16.945176
	KellA2 = -7.9870401e-3
	KellA3 = -46.170461e-6
	KellA4 = 105.56302e-9
	KellA5 = -280.54253e-12
	KellB  = 16.879850e-3
)

// IPTS68PerITS90 turns a temperature in °C of today's scale (ITS-90) into one
// of the scale of 1968, on which Kell's equation stands: 0.022 K at 93 °C.
//
// Source: Saunders, WOCE Newsletter 10, 1990, as used in oceanography (memory).
const IPTS68PerITS90 = 1.00024

// WaterDensity is the density of air-free water at one atmosphere, kg/m³, at
// t °C (ITS-90) between 0 and 100. It stays within 5e-6 of itself of the
// equation of state IAPWS-95.
//
// Source: Kell, J. Chem. Eng. Data 20:97, 1975.
func WaterDensity(t float64) float64 {
	t *= IPTS68PerITS90
	return (KellA0 + t*(KellA1+t*(KellA2+t*(KellA3+t*(KellA4+t*KellA5))))) / (1 + KellB*t)
}
