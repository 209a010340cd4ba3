package num

import "math"

// NoncentralT is T = (Z + δ)/S, with Z standard normal and S² = χ²/ν apart
// from it: the ratio that decides how far a small sample's mean and spread can
// both mislead.
type NoncentralT struct {
	Nu    float64 // degrees of freedom, a whole number from 1 to 1e6
	Delta float64 // noncentrality, −5e3 to 5e3
}

// valid refuses what the integration is not made for.
func (d NoncentralT) valid() bool {
	return d.Nu >= 1 && d.Nu <= 1e6 && d.Nu == math.Trunc(d.Nu) && d.Delta >= -5e3 && d.Delta <= 5e3
}

// Shares gives the share below t, the share above it, each with its own
// digits, and the density at t. All are NaN where Nu, Delta or t are out of
// range.
//
//	P(T ≤ t) = ∫ Φ(t·s − δ)·f_S(s) ds
//
// by Gauss–Legendre panels laid to the width of both the step and the
// density, to about 1e-12.
//
// Source: definition; Owen, A survey of properties and applications of the
// noncentral t-distribution, Technometrics 10, 1968.
func (d NoncentralT) Shares(t float64) (below, above, density float64) {
	switch {
	case !d.valid() || math.IsNaN(t):
		nan := math.NaN()
		return nan, nan, nan
	case t < 0 || t == 0 && d.Delta < 0:
		above, below, density = NoncentralT{d.Nu, -d.Delta}.Shares(-t)
		return below, above, density
	}
	return d.shares(t, newChi(d.Nu))
}

// A chi is S = √(χ²/ν): its density and where that is not lost.
type chi struct {
	nu, logC    float64
	lo, hi, max float64 // support; widest panel
}

func newChi(nu float64) chi {
	a := nu / 2
	c := chi{nu: nu}
	// ln 2 + a·ln a − a − ln Γ(a), without its large parts where they cancel
	if a >= 15 {
		r := 1 / (a * a)
		c.logC = math.Ln2 + 0.5*math.Log(a/(2*math.Pi)) - (1.0/12-r*(1.0/360-r*(1.0/1260-r/1680)))/a
	} else {
		lg, _ := math.Lgamma(a)
		c.logC = math.Ln2 + a*math.Log(a) - a - lg
	}
	w := math.Sqrt(2 * nu)
	c.lo = math.Max(0, (math.Sqrt(2*nu-1)-8.5)/w)
	c.hi = (math.Sqrt(2*nu-1) + 8.5 + 3.5/math.Sqrt(nu)) / w
	c.max = 6.5 / w
	return c
}

// at is the density at s.
func (c chi) at(s float64) float64 {
	d := s - 1
	return math.Exp(c.logC + c.nu*(math.Log1p(d)-d*(s+1)/2) - math.Log(s))
}

func (d NoncentralT) shares(t float64, c chi) (below, above, density float64) {
	// Φ climbs from 0 to 1 within 8.5/t of s = δ/t; the breaks keep each panel
	// to one kind of country.
	var cuts [7]float64
	n := 0
	cut := func(s float64) {
		if s > c.lo && s < c.hi && (n == 0 || s > cuts[n-1]) {
			cuts[n] = s
			n++
		}
	}
	cuts[0], n = c.lo, 1
	if t > 0 {
		for _, k := range [...]float64{-8.5, -4, 0, 4, 8.5} {
			cut((d.Delta + k) / t)
		}
	}
	cuts[n] = c.hi
	for i := range n {
		a, b := cuts[i], cuts[i+1]
		parts := math.Ceil((b - a) / c.max)
		h := (b - a) / (2 * parts)
		for j := 0.0; j < parts; j++ {
			mid := a + (2*j+1)*h
			// Where Φ is 0 or 1 to all digits only one of the three has a part.
			for _, g := range gauss20 {
				for _, s := range [2]float64{mid - h*g[0], mid + h*g[0]} {
					w := h * g[1] * c.at(s)
					z := t*s - d.Delta
					switch {
					case z < -38:
						above += w
					case z > 38:
						below += w
					default:
						p := NormalCDF(-math.Abs(z)) * w
						if z > 0 {
							above += p
							below += w - p
						} else {
							below += p
							above += w - p
						}
						density += s * NormalPDF(z) * w
					}
				}
			}
		}
	}
	return below, above, density
}

// Quantile is the t below which the share p lies. It is NaN unless 0 < p < 1
// and the distribution is in range.
//
// By Newton's method on the logarithms of t and of the smaller tail, in which
// even the longest tail is nearly straight, kept inside a bracket.
func (d NoncentralT) Quantile(p float64) float64 {
	return d.quantile(p, 1-p)
}

// QuantileAbove is the t above which the share q lies, for a small q with all
// its digits.
func (d NoncentralT) QuantileAbove(q float64) float64 {
	return d.quantile(1-q, q)
}

func (d NoncentralT) quantile(p, q float64) float64 {
	if !d.valid() || !(p > 0 && q > 0 && p < 1 && q < 1) {
		return math.NaN()
	}
	switch zero := NormalCDF(-d.Delta); {
	case p == zero:
		return 0
	case p < zero:
		return -NoncentralT{d.Nu, -d.Delta}.quantile(q, p)
	}
	c := newChi(d.Nu)
	upper := q < p
	// Near zero the distribution is a straight line, and its own rounding more
	// than the share asked for.
	over := p - NormalCDF(-d.Delta)
	if upper {
		over = NormalCDF(d.Delta) - q
	}
	if _, _, density := d.shares(1e-12, c); over <= 1e-10*density/(1+math.Abs(d.Delta)) {
		return over / density
	}
	x := math.Log(d.start(p, q))
	lo, hi := math.Inf(-1), math.Inf(1)
	for range 100 {
		t := math.Exp(x)
		below, above, density := d.shares(t, c)
		// miss is ln of the tail against the one wanted, rising in x.
		miss, slope := math.Log(below/p), t*density/below
		if upper {
			miss, slope = math.Log(q/above), t*density/above
		}
		if miss > 0 {
			hi = x
		} else {
			lo = x
		}
		step := miss / slope
		if math.Abs(step) <= 1e-7 && math.Abs(miss) <= 1e-6 { // what it misses is of the order of its square
			return math.Exp(x - step)
		}
		if math.Abs(miss) <= 4e-15 { // so near zero that t hardly moves the share: nothing more can be known
			return t
		}
		if !(math.Abs(step) <= 2) {
			step = math.Copysign(2, miss)
		}
		next := x - step
		if !(next > lo && next < hi) && !math.IsInf(lo, 0) && !math.IsInf(hi, 0) {
			next = (lo + hi) / 2
		}
		if next == x {
			return t
		}
		x = next
		if x < -700 { // t underflows: p is zero's own share to all digits
			return 0
		}
	}
	return math.NaN()
}

// start is a positive guess at the quantile: the normal approximation where
// it holds, else the quotient of typical Z and S.
func (d NoncentralT) start(p, q float64) float64 {
	z := NormalQuantile(p)
	if q < p {
		z = -NormalQuantile(q)
	}
	b := 1 - 1/(4*d.Nu) // mean of S, nearly
	v := 1 / (2 * d.Nu) // variance of S, nearly
	if den := b*b - z*z*v; den > 0.2 {
		if r := b*b + v*(d.Delta*d.Delta-z*z); r > 0 {
			if t := (d.Delta*b + z*math.Sqrt(r)) / den; t > 0.01 {
				return t
			}
		}
	}
	return math.Max(d.Delta+z, 1) * math.Max(1, math.Pow(q, -1/d.Nu)/2)
}
