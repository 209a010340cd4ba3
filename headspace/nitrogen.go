package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The reference equation of state of nitrogen, in its reduced variables.
// Source: Span, Lemmon, Jacobsen, Wagner and Yokozeki, J. Phys. Chem. Ref. Data
// 29, 2000; coefficients from memory, checked against compressibility factors
// that were computed from the opened coefficients.
const (
	nitrogenCriticalK       = 126.192 // K
	nitrogenCriticalMolPerL = 11.1839 // mol/L
	nitrogenR               = 8.31451 // J/(mol·K), the value of that paper
)

// NitrogenZ returns the compressibility factor of nitrogen, P/(ρ·R·T): how
// much room it takes against an ideal gas.
//
//	P     state.KPa    kPa  accepted 1 to 35 000, absolute
//	T     state.TempC  °C   accepted −40 to 150
//
// Within 0.02 % over this range.
//
// Source: Span and others, J. Phys. Chem. Ref. Data 29, 2000.
func NitrogenZ(state GasState) (float64, error) {
	bad := fault.Float(nil, "TempC", state.TempC, -40, 150, "°C")
	bad = fault.Float(bad, "KPa", state.KPa, 1, 35_000, "kPa")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	k := state.TempC + ZeroCelsiusK
	return state.KPa / (nitrogenMolPerL(state.KPa, k) * GasConstant * k), nil
}

// nitrogenMolPerL is the density at a pressure and a temperature, above the
// critical temperature, where pressure rises with density.
func nitrogenMolPerL(kPa, kelvin float64) float64 {
	tau := nitrogenCriticalK / kelvin
	unit := nitrogenCriticalMolPerL * nitrogenR * kelvin
	d := kPa / unit // ideal, in critical densities
	// The factor lies between 0.7 and 1.7 up to 35 MPa and from −40 °C on.
	d, ok := num.Root(func(d float64) float64 { return unit*d*nitrogenFactor(d, tau) - kPa }, d/1.7, d/0.7, 1e-14)
	if !ok {
		return math.NaN()
	}
	return d * nitrogenCriticalMolPerL
}

// nitrogenFactor is 1 + δ·∂α/∂δ, which is Z.
func nitrogenFactor(d, tau float64) float64 {
	z, ln := 1.0, math.Log(tau)
	for i := range nitrogenTerms {
		c := &nitrogenTerms[i]
		t := c.n * power(d, c.i) * math.Exp(c.j*ln)
		if c.l == 0 {
			z += t * float64(c.i)
			continue
		}
		dl := power(d, c.l)
		z += t * math.Exp(-dl) * (float64(c.i) - float64(c.l)*dl)
	}
	return z
}

func power(x float64, n int) float64 {
	p := 1.0
	for range n {
		p *= x
	}
	return p
}

// Terms n·δ^i·τ^j, with the factor e^(−δ^l) where l is not 0. The four terms
// of that equation around the critical point, at −147 °C, are left out: from
// −40 °C on they are below 1e-50.
var nitrogenTerms = [32]struct {
	n float64
	i int
	j float64
	l int
}{
	{0.924803575275, 1, 0.25, 0},
	{-0.492448489428, 1, 0.875, 0},
	{0.661883336938, 2, 0.5, 0},
	{-1.92902649201, 2, 0.875, 0},
	{-0.0622469309629, 3, 0.375, 0},
	{0.349943957581, 3, 0.75, 0},
	{0.564857472498, 1, 0.5, 1},
	{-1.61720005987, 1, 0.75, 1},
	{-0.481395031883, 1, 2, 1},
	{0.421150636384, 3, 1.25, 1},
	{-0.0161962230825, 3, 3.5, 1},
	{0.172100994165, 4, 1, 1},
	{0.00735448924933, 6, 0.5, 1},
	{0.0168077305479, 6, 3, 1},
	{-0.00107626664179, 7, 0, 1},
	{-0.0137318088513, 7, 2.75, 1},
	{0.000635466899859, 8, 0.75, 1},
	{0.00304432279419, 8, 2.5, 1},
	{-0.0435762336045, 1, 4, 2},
	{-0.0723174889316, 2, 6, 2},
	{0.0389644315272, 3, 6, 2},
	{-0.0212201363910, 4, 3, 2},
	{0.00408822981509, 5, 3, 2},
	{-0.0000551990017984, 8, 6, 2},
	{-0.0462016716479, 4, 16, 3},
	{-0.00300311716011, 5, 11, 3},
	{0.0368825891208, 5, 15, 3},
	{-0.00255856846220, 8, 12, 3},
	{0.00896915264558, 3, 12, 4},
	{-0.00441513370350, 5, 7, 4},
	{0.00133722924858, 6, 4, 4},
	{0.000264832491957, 9, 16, 4},
}
