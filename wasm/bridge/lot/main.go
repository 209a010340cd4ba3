//go:build js && wasm

// Command lot is one bundle of the page.
package main

import (
	"example.org/evenlot/wasm/bridge"
	"example.org/evenlot/wasm/catalogue/lot"
)

func main() { bridge.Serve(lot.Calculators()) }
