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

// Bags lists those of the bag and its flush.
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
	}
}

// Gas lists those of the bag in time, its readings, the gas supply and the
// people beside it.
func Gas() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		bagLife(),
		oxygenReading(),
		airOxygen(),
		filmLayers(),
		oxygenDose(),
		nitrogenSupply(),
		flowMeter(),
		roomRelease(),
		roomLeak(),
	}
}
