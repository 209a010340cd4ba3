// Package cup holds the calculators of the cupping table and the brew bar.
package cup

import "example.org/evenlot/wasm/catalogue"

// Calculators lists them.
func Calculators() []*catalogue.Calculator {
	return []*catalogue.Calculator{}
}
