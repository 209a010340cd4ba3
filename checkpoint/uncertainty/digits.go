package uncertainty

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// exponent is that of the first digit of u when rounded to digits.
func exponent(u float64, digits int) int {
	var room [32]byte
	s := strconv.AppendFloat(room[:0], u, 'e', digits-1, 64)
	i := len(s) - 1
	for s[i] != 'e' {
		i--
	}
	e := 0
	for _, c := range s[i+2:] {
		e = 10*e + int(c-'0')
	}
	if s[i+1] == '-' {
		e = -e
	}
	return e
}

// Places returns the decimal places that a standard uncertainty leaves to its
// value: the place of the last of its significant digits. It is negative for
// tens, hundreds and so on.
//
//	u       any unit, accepted 1e-300 to 1e15
//	digits  significant digits of u, 1 or 2; [DefaultDigits]
//
// Refused fields come in an [*InputError].
//
// Source: JCGM 100:2008, 7.2.6.
func Places(u float64, digits int) (int, error) {
	bad := fault.Float(nil, "u", u, 1e-300, MaxMagnitude, "")
	bad = fault.Int(bad, "digits", digits, 1, 2, "digits")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	return digits - 1 - exponent(u, digits), nil
}

// Earned returns a value and its standard uncertainty as text, both rounded
// to the place that the uncertainty earns.
//
//	value   any unit, accepted −1e15 to 1e15
//	u       same unit, accepted 0, then 1e-300 to 1e15
//	digits  significant digits of u, 1 or 2; [DefaultDigits]
//
// An uncertainty of zero earns every digit: the value comes in its shortest
// form. Rounding is of the exact binary value, half to even.
//
// Source: JCGM 100:2008, 7.2.6.
func Earned(value, u float64, digits int) (valueText, uText string, err error) {
	var room [64]byte
	v, err := AppendEarned(room[:0], value, u, digits)
	if err != nil {
		return "", "", err
	}
	if u == 0 {
		return string(v), "0", nil
	}
	valueText = string(v)
	uText = string(appendRounded(room[:0], u, digits-1-exponent(u, digits)))
	return valueText, uText, nil
}

// AppendEarned appends the value of [Earned] to dst and allocates nothing
// where dst has room.
//
// Source: JCGM 100:2008, 7.2.6.
func AppendEarned(dst []byte, value, u float64, digits int) ([]byte, error) {
	bad := fault.Float(nil, "value", value, -MaxMagnitude, MaxMagnitude, "")
	if u != 0 {
		bad = fault.Float(bad, "u", u, 1e-300, MaxMagnitude, "")
	}
	bad = fault.Int(bad, "digits", digits, 1, 2, "digits")
	if bad != nil {
		return nil, fault.Input(bad)
	}
	if u == 0 {
		return strconv.AppendFloat(dst, value+0, 'f', -1, 64), nil // never −0
	}
	return appendRounded(dst, value, digits-1-exponent(u, digits)), nil
}

// appendRounded appends v with the given decimal places, never as −0.
func appendRounded(dst []byte, v float64, places int) []byte {
	if places < 0 {
		p := math.Pow(10, float64(-places))
		v = math.RoundToEven(v/p) * p
		places = 0
	}
	start := len(dst)
	dst = strconv.AppendFloat(dst, v, 'f', places, 64)
	if dst[start] == '-' {
		zero := true
		for _, c := range dst[start+1:] {
			zero = zero && (c == '0' || c == '.')
		}
		if zero {
			dst = append(dst[:start], dst[start+1:]...)
		}
	}
	return dst
}
