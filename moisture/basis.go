package moisture

import (
	"math"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// DryBasis returns the dry-basis content of a wet-basis one: water per dry
// matter instead of water per bean.
//
//	X = 100·M / (100 − M)
//
//	M  moisturePct  % wet basis  accepted 0.5 to 80
//	X               % dry basis
//
// Outside, and for NaN, it returns 0 and an [*InputError] that names
// moisturePct. The relation is exact.
//
// Source: definition.
func DryBasis(moisturePct float64) (dryMoisturePct float64, err error) {
	if err := fault.Input(fault.Float(nil, "moisturePct", moisturePct, MinMoisturePct, MaxMoisturePct, "%")); err != nil {
		return 0, err
	}
	return dryFromWet(moisturePct), nil
}

// WetBasis returns the wet-basis content of a dry-basis one, as papers print
// it: 13.6 % dry is 12.0 % wet.
//
//	M = 100·X / (100 + X)
//
//	X  dryMoisturePct  % dry basis  accepted 0.5 to 400
//	M                  % wet basis
//
// Outside, and for NaN, it returns 0 and an [*InputError] that names
// dryMoisturePct. The relation is exact.
//
// Source: definition.
func WetBasis(dryMoisturePct float64) (moisturePct float64, err error) {
	if err := fault.Input(fault.Float(nil, "dryMoisturePct", dryMoisturePct, MinDryMoisturePct, MaxDryMoisturePct, "%")); err != nil {
		return 0, err
	}
	return wetFromDry(dryMoisturePct), nil
}

func dryFromWet(m float64) float64 { return 100 * m / (100 - m) }

func wetFromDry(x float64) float64 { return 100 * x / (100 + x) }

// Scales of decimal results: enough that nobody's scale can read the rounding.
const (
	MassPlacesCount = 9 // decimal places of a mass in kg, so 1 µg
	PctPlacesCount  = 9 // decimal places of a percentage
)

var hundred = decimal.NewFromInt(100)

// atMost is a decimal as a float that reads back as no more than it.
func atMost(d decimal.Decimal) float64 {
	f := d.InexactFloat64()
	for decimal.NewFromFloat(f).GreaterThan(d) {
		f = math.Nextafter(f, math.Inf(-1))
	}
	return f
}

// atLeast is a decimal as a float that reads back as no less than it.
func atLeast(d decimal.Decimal) float64 { return -atMost(d.Neg()) }
