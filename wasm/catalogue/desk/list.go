// Package desk holds the calculators of the quality desk.
package desk

import (
	"slices"

	"example.org/evenlot/wasm/catalogue"
)

// Calculators lists them all.
func Calculators() []*catalogue.Calculator {
	return slices.Concat(Readings(), Series(), Weights(), Panel())
}

// Readings lists those of verdicts, readings and samples.
func Readings() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		readingVerdict(),
		oneReading(),
		drawnQuotient(),
		meterLine(),
		meanOfReadings(),
		lotBound(),
		howMany(),
		acceptancePlan(),
		belowDetection(),
	}
}

// Series lists those of control charts and stock.
func Series() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		controlChart(),
		groupChart(),
		smallShift(),
		capabilityOf(),
		weekendBuffer(),
		roastDays(),
		bestStock(),
		safetyStock(),
	}
}

// Weights lists those of scales and packs.
func Weights() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		scaleCheck(),
		smallestWeighing(),
		packShortage(),
		fillTarget(),
		batchCheck(),
		giveaway(),
	}
}

// Panel lists those of panels and scores.
func Panel() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		differenceTest(),
		alikeTest(),
		panelPower(),
		preferenceTest(),
		panelAgreement(),
		cupScore(),
		scoreTrend(),
	}
}
