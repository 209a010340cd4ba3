// Package cup holds the calculators of the cupping table and the brew bar.
package cup

import "example.org/evenlot/wasm/catalogue"

// Calculators lists them.
func Calculators() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		doseForBowl(),
		measuredBowl(),
		weighedBowl(),
		cuppingSession(),
		scaleTells(),
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
