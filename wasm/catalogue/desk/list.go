// Package desk holds the calculators of the quality desk.
package desk

import (
	"slices"

	"example.org/evenlot/wasm/catalogue"
)

// Calculators lists them all.
func Calculators() []*catalogue.Calculator {
	return slices.Concat(Readings(), Series(), Stock(), Panel())
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

// Series lists those of control charts, scales and packs.
func Series() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		controlChart(),
		groupChart(),
		smallShift(),
		capabilityOf(),
		scaleCheck(),
		smallestWeighing(),
		packShortage(),
		fillTarget(),
		batchCheck(),
		giveaway(),
	}
}

// Stock lists those of the stock to hold.
func Stock() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		weekendBuffer(),
		roastDays(),
		bestStock(),
		safetyStock(),
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
