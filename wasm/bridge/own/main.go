//go:build js && wasm

// Command own is one bundle of the page.
package main

import (
	"example.org/evenlot/wasm/bridge"
	"example.org/evenlot/wasm/catalogue/rest"
)

func main() { bridge.Serve(rest.Own()) }
