// Package cup holds the calculators of the cupping table and the brew bar.
package cup

import (
	"slices"

	"example.org/evenlot/wasm/catalogue"
)

// Calculators lists them all.
func Calculators() []*catalogue.Calculator {
	return slices.Concat(Brews(), Table())
}

// Table lists those for a whole table of bowls. Their bundle is that of the
// packing line's gas, which has room.
func Table() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		cuppingSession(),
		scaleTells(),
	}
}

// Brews lists those of one bowl or brew.
func Brews() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		doseForBowl(),
		measuredBowl(),
		weighedBowl(),
		bowlYield(),
		steepStrength(),
		brewPlan(),
		icedBrew(),
		whatGroundsKeep(),
		waterByVolume(),
		brewYield(),
		recipeFor(),
		strengthAfter(),
		refractometer(),
		ownSlope(),
		ovenStrength(),
		spentGrounds(),
		repeatReadings(),
		strengthUnits(),
		dilute(),
		blendTwo(),
	}
}
