// Package browsertest tests the static page in a real Chromium: what a person
// types, reads, prints and finds again. It is a module of its own, so that
// browser drivers stay out of the library's go.mod.
//
//	cd wasm/browsertest && go test ./...
//
// It needs chromium, pdftotext and pdfinfo (poppler-utils) and npm, which
// fetches the one pinned package of package.json. What is missing is a
// failure that says what to install. EVENLOT_SHOTS=1 also writes pictures of
// the screens to shots/.
package browsertest
