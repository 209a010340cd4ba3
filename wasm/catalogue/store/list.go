// Package store holds the calculators of the green store and the roaster.
package store

import "example.org/evenlot/wasm/catalogue"

// Calculators lists them.
func Calculators() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		roomMoisture(),
		coldSack(),
		greenActivity(),
		ownIsotherm(),
		carryActivity(),
		storeAir(),
		storeDrift(),
		driftRate(),
		roomWater(),
		storeLog(),
		sackDrift(),
		weighBack(),
		lotOfSacks(),
		ovenMoisture(),
		meterAgainstOven(),
		dryBasis(),
		saltCheck(),
		wetBulbHumidity(),
		roastLoss(),
		greenToWeigh(),
		expectedLoss(),
		roastSeries(),
	}
}
