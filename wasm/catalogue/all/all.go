// Package all lists every calculator and the bundle that holds it, for the
// build and the tests. The page does not ship it.
package all

import (
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/cup"
	"example.org/evenlot/wasm/catalogue/desk"
	"example.org/evenlot/wasm/catalogue/lot"
	"example.org/evenlot/wasm/catalogue/packing"
	"example.org/evenlot/wasm/catalogue/rest"
	"example.org/evenlot/wasm/catalogue/store"
)

// A Bundle is what one page loads: the command of its name under wasm/bridge.
// There are several because one with everything would be over twice the size
// of an empty Go program, and a page needs only its own.
type Bundle struct {
	Name        string
	Calculators []*catalogue.Calculator
}

// Bundles lists the bundles.
func Bundles() []Bundle {
	return []Bundle{
		{"store", store.Green()},
		{"packing", packing.Bags()},
		{"gas", append(packing.Gas(), cup.Table()...)},
		{"rest", append(rest.Shelf(), store.Roast()...)},
		{"own", append(rest.Own(), store.Meters()...)},
		{"cup", cup.Brews()},
		{"desk", desk.Readings()},
		{"series", desk.Series()},
		{"stock", desk.Stock()},
		{"panel", desk.Panel()},
		{"lot", lot.Calculators()},
	}
}

// Calculators lists all calculators in walking order.
func Calculators() []*catalogue.Calculator {
	var list []*catalogue.Calculator
	for _, b := range Bundles() {
		list = append(list, b.Calculators...)
	}
	catalogue.Sort(list)
	return list
}
