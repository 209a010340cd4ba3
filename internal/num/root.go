package num

import "math"

// Root returns x between a and b where f(x) is zero, by Brent's method: the
// bracket is kept at every step, so that an answer is never outside it.
//
// ok is false when f(a) and f(b) have the same sign, when f is NaN anywhere
// it is asked, or when 200 steps do not suffice. The error of x is at most
// tol plus four units in its last place.
//
// Source: Brent, Algorithms for Minimization without Derivatives, 1973, ch. 4.
func Root(f func(float64) float64, a, b, tol float64) (x float64, ok bool) {
	fa, fb := f(a), f(b)
	switch {
	case math.IsNaN(fa) || math.IsNaN(fb):
		return 0, false
	case fa == 0:
		return a, true
	case fb == 0:
		return b, true
	case (fa > 0) == (fb > 0):
		return 0, false
	}
	c, fc := a, fa
	d := b - a // the last step
	e := d     // the step before it
	for range 200 {
		if (fb > 0) == (fc > 0) { // the root lies between a and b
			c, fc = a, fa
			d = b - a
			e = d
		}
		if math.Abs(fc) < math.Abs(fb) { // b is the best so far
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		least := 2*0x1p-52*math.Abs(b) + tol/2
		m := (c - b) / 2
		if math.Abs(m) <= least || fb == 0 {
			return b, true
		}
		if math.Abs(e) < least || math.Abs(fa) <= math.Abs(fb) {
			d, e = m, m // bisect
		} else {
			var p, q float64
			s := fb / fa
			if a == c { // secant
				p = 2 * m * s
				q = 1 - s
			} else { // inverse quadratic
				r, t := fb/fc, fa/fc
				p = s * (2*m*t*(t-r) - (b-a)*(r-1))
				q = (t - 1) * (r - 1) * (s - 1)
			}
			if p > 0 {
				q = -q
			} else {
				p = -p
			}
			if 2*p < min(3*m*q-math.Abs(least*q), math.Abs(e*q)) {
				e, d = d, p/q
			} else {
				d, e = m, m
			}
		}
		a, fa = b, fb
		if math.Abs(d) > least {
			b += d
		} else {
			b += math.Copysign(least, m)
		}
		if fb = f(b); math.IsNaN(fb) {
			return 0, false
		}
	}
	return 0, false
}

// Inside is the place nearest to end, on the way to inner, that is ok: what can
// be named as the end of a range when rounding, or a limit that is never quite
// reached, refuses the end itself. It is inner where nothing within a thousandth
// of the way is ok.
func Inside(end, inner float64, ok func(x float64) bool) float64 {
	x := end
	for share := 0x1p-52; share < 1e-3; share *= 2 {
		if ok(x) {
			return x
		}
		x = end + share*(inner-end)
	}
	return inner
}

// Furthest is how far from a place that is ok, towards another, all is ok, as far
// as halving tells.
func Furthest(from, to float64, ok func(x float64) bool) float64 {
	if ok(to) {
		return to
	}
	for range 60 {
		if mid := from + (to-from)/2; ok(mid) {
			from = mid
		} else {
			to = mid
		}
	}
	return from
}
