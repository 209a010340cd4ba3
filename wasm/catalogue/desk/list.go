// Package desk holds the calculators of the quality desk.
package desk

import "example.org/evenlot/wasm/catalogue"

// Calculators lists them.
func Calculators() []*catalogue.Calculator {
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
		differenceTest(),
		alikeTest(),
		panelPower(),
		preferenceTest(),
		panelAgreement(),
		cupScore(),
		scoreTrend(),
		weekendBuffer(),
		roastDays(),
		bestStock(),
		safetyStock(),
	}
}
