// Package desk holds the calculators of the quality desk.
package desk

import "example.org/evenlot/wasm/catalogue"

// Calculators lists them.
func Calculators() []*catalogue.Calculator {
	return []*catalogue.Calculator{
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
