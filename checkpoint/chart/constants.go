package chart

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// The accepted ranges.
const (
	MaxMagnitude = 1e15 // largest reading, limit or deviation accepted, in its unit
	MaxPoints    = 1e6  // readings of one chart, count
	MaxGroup     = 25   // readings in one group, count
)

// meanRange and rangeSD are the mean and standard deviation of the range of n
// standard normals, from n = 2. Source: definition; held against an
// independent integration in the tests.
var meanRange = [...]float64{1.1283791671, 1.6925687506, 2.0587507460, 2.3259289473, 2.5344127212, 2.7043567512, 2.8472006121, 2.9700263244, 3.0775054617, 3.1728727038, 3.2584552797, 3.3359803541, 3.4067631082, 3.4718268899, 3.5319827861, 3.5878839618, 3.6400637579, 3.6889630232, 3.7349501196, 3.7783358298, 3.8193846434, 3.8583234233, 3.8953481485, 3.9306292195}

var rangeSD = [...]float64{0.8525024664, 0.8883680041, 0.8798082028, 0.8640819411, 0.8480396861, 0.8332053356, 0.8198314898, 0.8078342746, 0.7970506735, 0.7873146206, 0.7784783412, 0.7704162021, 0.7630230956, 0.7562114297, 0.7499080894, 0.7440517840, 0.7385908534, 0.7334814955, 0.7286863457, 0.7241733407, 0.7199148085, 0.7158867355, 0.7120681752, 0.7084407659}

// Factors turn mean ranges and deviations of groups into lines. All are pure
// numbers.
type Factors struct {
	MeanRange float64 // d2: mean range of the group, in standard deviations
	RangeSD   float64 // d3: standard deviation of that range
	MeanSD    float64 // c4: mean of the group's standard deviation
	A2        float64 // 3/(d2·√n): limits of the mean, from the mean range
	A3        float64 // 3/(c4·√n): limits of the mean, from the mean deviation
	D3, D4    float64 // max(0, 1 ∓ 3·d3/d2): limits of the range
	B3, B4    float64 // max(0, 1 ∓ 3·√(1 − c4²)/c4): limits of the deviation
}

// GroupFactors returns the factors for groups of n readings.
//
//	c4 = √(2/(n − 1))·Γ(n/2)/Γ((n − 1)/2)
//
//	n  readings in a group, accepted 2 to 25
//
// For n over 10 the range wastes most of what was read: take the deviation.
//
// Source: definition; ISO 7870-2:2013, table 2; Montgomery, Introduction to
// statistical quality control, appendix VI.
func GroupFactors(n int) (Factors, error) {
	if bad := fault.Int(nil, "n", n, 2, MaxGroup, "readings"); bad != nil {
		return Factors{}, fault.Input(bad)
	}
	f := float64(n)
	d2, d3 := meanRange[n-2], rangeSD[n-2]
	up, _ := math.Lgamma(f / 2)
	down, _ := math.Lgamma((f - 1) / 2)
	c4 := math.Sqrt(2/(f-1)) * math.Exp(up-down)
	width := 3 * math.Sqrt((1-c4)*(1+c4)) / c4
	return Factors{
		MeanRange: d2, RangeSD: d3, MeanSD: c4,
		A2: 3 / (d2 * math.Sqrt(f)), A3: 3 / (c4 * math.Sqrt(f)),
		D3: math.Max(0, 1-3*d3/d2), D4: 1 + 3*d3/d2,
		B3: math.Max(0, 1-width), B4: 1 + width,
	}, nil
}
