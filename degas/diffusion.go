package degas

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Share is how the gas at t = 0 is divided at a later time. The zero Share
// stands beside an error only: the two parts of a true one sum to 100.
type Share struct {
	LeftPct float64 // still in the coffee, % of the gas at t = 0
	GonePct float64 // gone, %; kept apart so that neither loses digits near 0
	Notes   Notes
}

// MaxFo is the largest Fo that [SphereShare] and [SheetShare] accept; long
// before it nothing is left.
const MaxFo = 1e12 // times a²/D

// Above these Fo the eigenfunction series is summed, below them the series
// of reflected fronts. Both hold everywhere; here both are short.
const (
	sphereJoin = 0.1
	sheetJoin  = 0.2
)

// SphereShare returns how much gas is left in a sphere that loses it by
// diffusion through its surface, where there is none.
//
//	L/100 = (6/π²)·Σ exp(−n²π²Fo)/n²                      n = 1, 2, …
//	F/100 = 6·√(Fo/π) − 3·Fo + 12·√Fo·Σ ierfc(n/√Fo)      the same, for short times
//
//	Fo   fo = D·t/a²   –   accepted 0 to MaxFo
//	L, F Share         %
//	ierfc(x) = exp(−x²)/√π − x·erfc(x)
//
// The second form is used below Fo = 0.1, where its first two reflections
// suffice, the first above it with at most seven terms. Both parts hold to
// 1e-12 of themselves. Beyond the accepted range and for NaN SphereShare
// returns the zero Share and an [*InputError].
//
// Source: Crank, The Mathematics of Diffusion, 2nd ed., 1975, equations 6.20
// and 6.22.
func SphereShare(fo float64) (Share, error) {
	if err := checkFo(fo); err != nil {
		return Share{}, err
	}
	left, gone := sphere(fo)
	return Share{LeftPct: 100 * left, GonePct: 100 * gone}, nil
}

// SheetShare returns how much gas is left in a sheet, such as a flake, that
// loses it by diffusion through both faces.
//
//	L/100 = (8/π²)·Σ exp(−(2n+1)²π²Fo/4)/(2n+1)²          n = 0, 1, …
//	F/100 = 2·√Fo·(1/√π + 2·Σ (−1)ⁿ·ierfc(n/√Fo))         n = 1, 2, …; the same, for short times
//
//	Fo   fo = D·t/a², with a half of the thickness   –   accepted 0 to MaxFo
//	L, F Share                                       %
//
// The two forms join at Fo = 0.2. Both parts hold to 1e-12 of themselves.
// Beyond the accepted range and for NaN SheetShare returns the zero Share and
// an [*InputError].
//
// Source: Crank, The Mathematics of Diffusion, 2nd ed., 1975, equations 4.18
// and 4.20.
func SheetShare(fo float64) (Share, error) {
	if err := checkFo(fo); err != nil {
		return Share{}, err
	}
	left, gone := sheet(fo)
	return Share{LeftPct: 100 * left, GonePct: 100 * gone}, nil
}

func checkFo(fo float64) error {
	return fault.Input(fault.Float(nil, "fo", fo, 0, MaxFo, ""))
}

// sphere returns the shares, 0 to 1, at fo.
func sphere(fo float64) (left, gone float64) {
	if fo < sphereJoin {
		root := math.Sqrt(fo)
		gone = root * (6/math.Sqrt(math.Pi) - 3*root)
		for n := 1.0; n <= 2; n++ {
			gone += 12 * root * ierfc(n/root)
		}
		return 1 - gone, gone
	}
	// The powers qⁿ² follow from q by two products each.
	q := math.Exp(-math.Pi * math.Pi * fo)
	term, step := q, q*q*q
	for n := 1.0; n <= 7; n++ {
		left += term / (n * n)
		term *= step
		step *= q * q
	}
	left *= 6 / (math.Pi * math.Pi)
	return left, 1 - left
}

// sheet returns the shares, 0 to 1, at fo.
func sheet(fo float64) (left, gone float64) {
	if fo < sheetJoin {
		root := math.Sqrt(fo)
		sum := 0.5 / math.Sqrt(math.Pi)
		sign := -1.0
		for n := 1.0; n <= 3; n++ {
			sum += sign * ierfc(n/root)
			sign = -sign
		}
		gone = 4 * root * sum
		return 1 - gone, gone
	}
	// exp(−(2n+1)²x) = q·q8^(n(n+1)/2) with q8 = q⁸.
	q := math.Exp(-math.Pi * math.Pi / 4 * fo)
	q2 := q * q
	q4 := q2 * q2
	q8 := q4 * q4
	term, step := q, q8
	for m := 1.0; m <= 11; m += 2 {
		left += term / (m * m)
		term *= step
		step *= q8
	}
	left *= 8 / (math.Pi * math.Pi)
	return left, 1 - left
}

// ierfc is the integral of the complementary error function from x, which is
// 0 or more; it is lost to rounding only where the whole does not feel it.
func ierfc(x float64) float64 {
	if x > 7 {
		return 0 // below 1e-23
	}
	return math.Exp(-x*x)/math.Sqrt(math.Pi) - x*math.Erfc(x)
}

// diffusionFo inverts share at left, which is 0 to 1 but not 0. The share
// left at fo never exceeds exp(−rate·fo) for the slowest rate.
func diffusionFo(share func(fo float64) (left, gone float64), left, rate float64) float64 {
	if left >= 1 {
		return 0
	}
	hi := -math.Log(left)/rate + 1e-300
	var x float64
	if left > 0.5 {
		gone := 1 - left
		// The root of fo is nearly proportional to the share gone.
		x, _ = num.Root(func(r float64) float64 { _, g := share(r * r); return g - gone }, 0, math.Sqrt(hi)*(1+1e-9), 0)
		return x * x
	}
	log := math.Log(left)
	x, _ = num.Root(func(fo float64) float64 { l, _ := share(fo); return math.Log(l) - log }, 0, hi*(1+1e-9), 0)
	return x
}
