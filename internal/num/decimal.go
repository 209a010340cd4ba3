package num

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// ParseDecimal reads an optional minus sign, digits and at most one point,
// with a digit on at least one side of it. It is the decimal library's own
// parser without exponents, and without fmt behind it, which would weigh a
// fifteenth of a WebAssembly bundle.
func ParseDecimal(s string) (decimal.Decimal, bool) {
	var d decimal.Decimal
	neg := len(s) > 0 && s[0] == '-'
	if neg {
		s = s[1:]
	}
	places, digits, point := int32(0), 0, false
	chunk, size := int64(0), int32(0) // the digits since the last flush
	flush := func() {
		d = decimal.NewFromBigInt(d.Shift(size).BigInt(), 0).Add(decimal.New(chunk, 0))
		chunk, size = 0, 0
	}
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			chunk = 10*chunk + int64(c-'0')
			size++
			digits++
			if point {
				places++
			}
			if size == 18 {
				flush()
			}
		case c == '.' && !point:
			point = true
		default:
			return decimal.Decimal{}, false
		}
	}
	if digits == 0 {
		return decimal.Decimal{}, false
	}
	if digits == int(size) { // never flushed
		if neg {
			chunk = -chunk
		}
		return decimal.New(chunk, -places), true
	}
	flush()
	if neg {
		d = d.Neg()
	}
	return decimal.NewFromBigInt(d.BigInt(), -places), true
}

// MustDecimal is ParseDecimal for constants.
func MustDecimal(s string) decimal.Decimal {
	d, ok := ParseDecimal(s)
	if !ok {
		panic("num: " + strconv.Quote(s) + " is no decimal")
	}
	return d
}
