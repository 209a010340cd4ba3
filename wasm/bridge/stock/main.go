//go:build js && wasm

// Command stock is one bundle of the page.
package main

import (
	"example.org/evenlot/wasm/bridge"
	"example.org/evenlot/wasm/catalogue/desk"
)

func main() { bridge.Serve(desk.Stock()) }
