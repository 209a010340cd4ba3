package num

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// The library's own parser is the reference.
func FuzzParseDecimal(f *testing.F) {
	for _, s := range []string{"0", "-0.50", "12.50", ".5", "5.", "", "-", ".", "1.2.3", "1e5", "--1", "+1", " 1", "123456789012345678", "1234567890123456789.0123456789012345678901234567890", "000000000000000000000.1", strings.Repeat("9", 70)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, ok := ParseDecimal(s)
		want, err := decimal.NewFromString(s)
		if strings.ContainsAny(s, "eE+") {
			if ok {
				t.Fatalf("%q was read as %v", s, got)
			}
			return
		}
		if ok != (err == nil) {
			t.Fatalf("%q: %v, the library says %v", s, ok, err)
		}
		if ok && (!got.Equal(want) || got.Exponent() != want.Exponent()) {
			t.Fatalf("%q is %v e%d, the library says %v e%d", s, got, got.Exponent(), want, want.Exponent())
		}
	})
}
