// Package rest holds the calculators of the rest shelf.
package rest

import (
	"slices"

	"example.org/evenlot/wasm/catalogue"
)

// Calculators lists them all.
func Calculators() []*catalogue.Calculator {
	return slices.Concat(Shelf(), Own())
}

// Shelf lists those of release, rest, the bag and the room.
func Shelf() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		gasOrientation(),
		gasCurve(),
		gasTwoPoints(),
		groundGas(),
		restWindow(),
		tasteBefore(),
		bagGas(),
		groundLife(),
		coffeeAir(),
	}
}

// Own lists those that fit a release curve to own readings.
func Own() []*catalogue.Calculator {
	return []*catalogue.Calculator{
		gasWeighings(),
		gasJar(),
	}
}
