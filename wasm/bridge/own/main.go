//go:build js && wasm

// Command own is one bundle of the page.
package main

import (
	"example.org/evenlot/wasm/bridge"
	"example.org/evenlot/wasm/catalogue/rest"
	"example.org/evenlot/wasm/catalogue/store"
)

func main() { bridge.Serve(append(rest.Own(), store.Meters()...)) }
