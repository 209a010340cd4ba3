// Package rest holds the calculators of the rest shelf.
package rest

import "example.org/evenlot/wasm/catalogue"

// Calculators lists them.
func Calculators() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		gasOrientation(),
		gasCurve(),
		gasTwoPoints(),
		groundGas(),
		gasWeighings(),
		gasJar(),
		restWindow(),
		tasteBefore(),
		bagGas(),
		groundLife(),
		coffeeAir(),
	}
}
