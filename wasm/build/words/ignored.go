package words

// ignored are texts in the catalogue's code that are not for reading, or that
// every language writes alike.
var ignored = map[string]bool{}
