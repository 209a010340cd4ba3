// Package packing holds the calculators of the packing line.
package packing

import (
	"slices"

	"example.org/evenlot/wasm/catalogue"
)

// Calculators lists them all.
func Calculators() []*catalogue.Calculator {
	return slices.Concat(Bags(), Gas())
}

// Bags lists those of the bag, its flush and its readings.
func Bags() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		bagHeadspace(),
		bagVolume(),
		pillowBag(),
		beanDensity(),
		flushOxygen(),
		flushTarget(),
		vacuumFill(),
		purgeSequence(),
		nozzleFit(),
		oxygenReading(),
		airOxygen(),
	}
}

// Gas lists those of the bag in time, the gas supply and the people beside it.
func Gas() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		bagLife(),
		filmLayers(),
		oxygenDose(),
		nitrogenSupply(),
		flowMeter(),
		roomRelease(),
		roomLeak(),
	}
}
