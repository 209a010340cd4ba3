// Package packing holds the calculators of the packing line.
package packing

import "example.org/evenlot/wasm/catalogue"

// Calculators lists them.
func Calculators() []*catalogue.Calculator {
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
		bagLife(),
		filmLayers(),
		oxygenDose(),
		nitrogenSupply(),
		flowMeter(),
		roomRelease(),
		roomLeak(),
	}
}
