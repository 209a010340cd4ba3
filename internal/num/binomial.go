package num

import "math"

// BinomialUpper is the probability of x or more successes in n tries of
// probability p: the terms are added from the end of the tail that does not
// hold the mean, so that small tails keep their digits.
func BinomialUpper(x, n int, p float64) float64 {
	if n < 0 || !(p >= 0 && p <= 1) {
		return math.NaN()
	}
	return upper(x, n, p, 1-p)
}

// BinomialLower is the probability of x or fewer successes in n tries.
func BinomialLower(x, n int, p float64) float64 {
	if n < 0 || !(p >= 0 && p <= 1) {
		return math.NaN()
	}
	return upper(n-x, n, 1-p, p)
}

// pmf is the probability of exactly x successes in n independent tries of
// probability p each, by the saddle-point expansion, which keeps about 13
// digits where the factorials themselves would overflow. It takes both p and
// q = 1 − p: the smaller of the two carries the digits.
//
// Source: Loader, Fast and accurate computation of binomial probabilities, 2000.
func pmf(x, n int, p, q float64) float64 {
	switch {
	case x < 0 || x > n:
		return 0
	case p == 0:
		return indicator(x == 0)
	case q == 0:
		return indicator(x == n)
	case x == 0:
		return math.Exp(float64(n) * logShare(q, p))
	case x == n:
		return math.Exp(float64(n) * logShare(p, q))
	}
	fx, fn := float64(x), float64(n)
	lc := stirlingError(fn) - stirlingError(fx) - stirlingError(fn-fx) -
		deviance(fx, fn*p) - deviance(fn-fx, fn*q)
	return math.Exp(lc) * math.Sqrt(fn/(2*math.Pi*fx*(fn-fx)))
}

func upper(x, n int, p, q float64) float64 {
	switch {
	case x <= 0:
		return 1
	case x > n:
		return 0
	case float64(x) > float64(n)*p:
		return upperSum(x, n, p, q)
	}
	return 1 - upperSum(n-x+1, n, q, p)
}

// upperSum adds the terms from x up to n; x is at or above the mean, so that
// they fall from the first.
func upperSum(x, n int, p, q float64) float64 {
	term := pmf(x, n, p, q)
	sum := term
	for k := x; k < n && term > 1e-17*sum; k++ {
		term *= float64(n-k) / float64(k+1) * (p / q)
		sum += term
	}
	return min(sum, 1) // a sum of 1 may round to just over it
}

// logShare is ln p, where q = 1 − p.
func logShare(p, q float64) float64 {
	if q < 0.5 {
		return math.Log1p(-q)
	}
	return math.Log(p)
}

func indicator(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// stirlingError is ln n! less Stirling's formula for it.
func stirlingError(n float64) float64 {
	if n < 16 {
		lg, _ := math.Lgamma(n + 1)
		return lg - (n+0.5)*math.Log(n) + n - 0.5*math.Log(2*math.Pi)
	}
	n2 := n * n
	return (1.0/12 - (1.0/360-(1.0/1260-(1.0/1680-1.0/1188/n2)/n2)/n2)/n2) / n
}

// deviance is x·ln(x/m) + m − x without cancellation near x = m.
func deviance(x, m float64) float64 {
	if d := x - m; math.Abs(d) < 0.1*(x+m) {
		v := d / (x + m)
		s, e := d*v, 2*x*v
		v2 := v * v
		for j := 3.0; j < 2000; j += 2 {
			e *= v2
			next := s + e/j
			if next == s {
				return s
			}
			s = next
		}
	}
	return x*math.Log(x/m) + m - x
}
