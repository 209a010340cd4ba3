package words

// ignored are texts in the catalogue's code that are not for reading.
var ignored = map[string]bool{
	"licl": true, "mgcl2": true, "k2co3": true, "mgno3": true, "nabr": true, "ki": true, "nacl": true, "kcl": true, "k2so4": true,
}

// both are texts that are an address in one place and shown in another.
var both = map[string]bool{"first": true, "second": true}
