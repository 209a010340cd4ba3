package num

import "math"

// StudentFactor is the t between whose minus and plus lies the share p of
// Student's t with nu degrees of freedom, a whole number. It is NaN unless
// 0 < p < 1 and nu ≥ 1.
//
// It is StudentQuantile((1+p)/2, nu) by a finite sum: a program that needs
// nothing else is spared the incomplete beta function. Time grows with nu.
//
// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3
// and 26.7.4 (memory; tested against the other).
func StudentFactor(p float64, nu int) float64 {
	if !(p > 0 && p < 1 && nu >= 1) {
		return math.NaN()
	}
	inside := func(angle float64) float64 { // share within, with t = √ν·tan(angle)
		sin, cos := math.Sincos(angle)
		sum := 0.0
		term, k := 1.0, 2 // even: cos⁰, then ½·cos², ...
		if nu%2 == 1 {
			term, k = cos, 3 // odd: cos¹, then ⅔·cos³, ...
		}
		for ; k <= nu; k += 2 {
			sum += term
			term *= float64(k-1) / float64(k) * cos * cos
		}
		if nu%2 == 1 {
			return 2 / math.Pi * (angle + sin*sum)
		}
		return sin * sum
	}
	angle, ok := Root(func(a float64) float64 { return inside(a) - p }, 0, math.Pi/2, 0)
	if !ok {
		return math.NaN()
	}
	return math.Sqrt(float64(nu)) * math.Tan(angle)
}
