// Package store holds the calculators of the green store and the roaster.
package store

import "example.org/evenlot/wasm/catalogue"

// Green lists those of the green store.
func Green() []*catalogue.Calculator {
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
	}
}

// Meters lists those that hold a meter of the air against something surer. Their
// bundle is that of own release curves, which has room.
func Meters() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		saltCheck(),
		wetBulbHumidity(),
	}
}

// Roast lists those of the roaster. Their bundle is that of the rest shelf,
// which has room.
func Roast() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		roastLoss(),
		greenToWeigh(),
		expectedLoss(),
		roastSeries(),
	}
}
