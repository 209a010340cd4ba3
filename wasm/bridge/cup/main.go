//go:build js && wasm

// Command cup is one bundle of the page.
package main

import (
	"example.org/evenlot/wasm/bridge"
	"example.org/evenlot/wasm/catalogue/cup"
)

func main() { bridge.Serve(cup.Brews()) }
