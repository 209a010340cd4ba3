//go:build js && wasm

// Command store is one bundle of the page.
package main

import (
	"example.org/evenlot/wasm/bridge"
	"example.org/evenlot/wasm/catalogue/store"
)

func main() { bridge.Serve(store.Green()) }
