package catalogue

// Version is the semantic version of the library, the bundle and the page.
const Version = "0.1.0"
