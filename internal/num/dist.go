package num

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// NormalCDF is Φ(z), the share of a standard normal below z.
func NormalCDF(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// NormalQuantile is the z below which the share p of a standard normal lies.
// It is infinite at 0 and 1 and NaN outside.
func NormalQuantile(p float64) float64 {
	switch {
	case p == 0:
		return math.Inf(-1)
	case p == 1:
		return math.Inf(1)
	case !(p > 0 && p < 1):
		return math.NaN()
	}
	return mathext.NormalQuantile(p)
}

// StudentCDF is the share of Student's t with nu degrees of freedom below t.
func StudentCDF(t, nu float64) float64 {
	if t == 0 {
		return 0.5
	}
	tail := 0.5 * mathext.RegIncBeta(nu/2, 0.5, nu/(nu+t*t))
	if t > 0 {
		return 1 - tail
	}
	return tail
}

// StudentQuantile is the t below which the share p of Student's t with nu
// degrees of freedom lies. It is NaN unless 0 < p < 1 and nu > 0.
func StudentQuantile(p, nu float64) float64 {
	switch {
	case !(p > 0 && p < 1 && nu > 0):
		return math.NaN()
	case p == 0.5:
		return 0
	case p > 0.5:
		return -StudentQuantile(1-p, nu)
	}
	// Bracket on a logarithmic scale: the tail may be long.
	hi := 1.0
	for StudentCDF(-hi, nu) > p {
		hi *= 2
		if math.IsInf(hi, 0) {
			return math.NaN()
		}
	}
	t, ok := Root(func(t float64) float64 { return StudentCDF(-t, nu) - p }, 0, hi, 0)
	if !ok {
		return math.NaN()
	}
	return -t
}

// ChiSquareCDF is the share of χ² with nu degrees of freedom below x.
func ChiSquareCDF(x, nu float64) float64 {
	if x <= 0 {
		return 0
	}
	return mathext.GammaIncReg(nu/2, x/2)
}

// ChiSquareQuantile is the x below which the share p of χ² with nu degrees of
// freedom lies. It is NaN unless 0 < p < 1 and nu > 0.
func ChiSquareQuantile(p, nu float64) float64 {
	if !(p > 0 && p < 1 && nu > 0) {
		return math.NaN()
	}
	return 2 * mathext.GammaIncRegInv(nu/2, p)
}

// FCDF is the share of Fisher's F with d1 and d2 degrees of freedom below x.
func FCDF(x, d1, d2 float64) float64 {
	if x <= 0 {
		return 0
	}
	return mathext.RegIncBeta(d1/2, d2/2, d1*x/(d1*x+d2))
}
