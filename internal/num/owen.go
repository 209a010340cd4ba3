package num

import "math"

// OwenT is Owen's function: the probability that X > h and 0 < Y < a·X for
// two independent standard normals.
//
//	T(h, a) = 1/(2π)·∫ exp(−h²/(2·cos²θ)) dθ, θ from 0 to arctan a
//
// For |a| > 1 the identity that turns a into 1/a is used, so that the
// integrand stays smooth; 24 Gauss–Legendre points leave an error below 1e-15
// there. It is even in h and odd in a.
//
// Source: Owen, Tables for computing bivariate normal probabilities, 1956.
func OwenT(h, a float64) float64 {
	h = math.Abs(h)
	switch {
	case math.IsNaN(h) || math.IsNaN(a):
		return math.NaN()
	case a < 0:
		return -OwenT(h, -a)
	case math.IsInf(a, 1):
		return 0.5 * NormalCDF(-h)
	case a > 1:
		// Written in tails, which keep their digits for large h.
		p, q := NormalCDF(-h), NormalCDF(-a*h)
		return 0.5*(p+q) - p*q - OwenT(a*h, 1/a)
	}
	half := 0.5 * math.Atan(a)
	sum := 0.0
	for _, g := range gauss24 {
		for _, x := range [2]float64{-g.node, g.node} {
			c := math.Cos(half * (1 + x))
			sum += g.weight * math.Exp(-0.5*h*h/(c*c))
		}
	}
	return sum * half / (2 * math.Pi)
}

// gauss24 is the half above zero of the 24-point Gauss–Legendre rule.
var gauss24 = [...]struct{ node, weight float64 }{
	{0.06405689286260563, 0.12793819534675216},
	{0.1911188674736163, 0.1258374563468283},
	{0.3150426796961634, 0.12167047292780339},
	{0.4337935076260451, 0.1155056680537256},
	{0.5454214713888396, 0.1074442701159656},
	{0.6480936519369755, 0.09761865210411389},
	{0.7401241915785544, 0.08619016153195327},
	{0.820001985973903, 0.0733464814110803},
	{0.886415527004401, 0.0592985849154368},
	{0.9382745520027328, 0.0442774388174198},
	{0.9747285559713095, 0.0285313886289337},
	{0.9951872199970213, 0.0123412297999872},
}
