//go:build js && wasm

// Command gas is one bundle of the page.
package main

import (
	"example.org/evenlot/wasm/bridge"
	"example.org/evenlot/wasm/catalogue/cup"
	"example.org/evenlot/wasm/catalogue/packing"
)

func main() { bridge.Serve(append(packing.Gas(), cup.Table()...)) }
