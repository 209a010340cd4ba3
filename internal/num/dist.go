package num

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// NormalPDF is φ(z), the density of a standard normal at z.
func NormalPDF(z float64) float64 { return math.Exp(-z*z/2) / (math.Sqrt2 * math.SqrtPi) }

// NormalCDF is Φ(z), the share of a standard normal below z. Its upper tail
// is NormalCDF(-z), with all digits.
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
// Its upper tail is StudentCDF(-t, nu), with all digits; the share between −t
// and t, which is all there is near 0, is StudentWithin.
func StudentCDF(t, nu float64) float64 {
	if t*t <= min(3, nu) {
		return 0.5 + math.Copysign(StudentWithin(t, nu)/2, t)
	}
	tail := studentTail(math.Abs(t), nu)
	if t > 0 {
		return 1 - tail
	}
	return tail
}

// StudentWithin is the share of Student's t with nu degrees of freedom
// between −t and t, with all digits near 0.
//
// There it is I(½, ν/2; y) with y = t²/(ν + t²), by the series of positive
// terms in y: neither one less y nor logarithms of large factorials come in,
// in which large ν would lose the digits.
//
// Source: DLMF 8.17.8 with 15.8.1.
func StudentWithin(t, nu float64) float64 {
	t = math.Abs(t)
	if !(t*t <= min(3, nu)) {
		return 1 - 2*studentTail(t, nu)
	}
	if nu > likeNormal {
		return math.Erf(t / math.Sqrt2)
	}
	a, y := nu/2, t*t/(nu+t*t)
	sum, term := 0.0, 1.0
	for k := 0.0; term > 1e-17*sum; k++ {
		sum += term
		term *= y * (a + 0.5 + k) / (1.5 + k)
	}
	return 2 * math.Sqrt(y) * studentFront(t, nu) * sum
}

// likeNormal is the number of degrees of freedom from which Student's t is
// the normal to the last digit.
const likeNormal = 1e20

// studentTail is the share above t, for t² over min(3, nu).
//
// Source: Didonato & Morris, Significant digit computation of the incomplete
// beta function ratios, ACM TOMS 18, 1992, the continued fraction (9).
func studentTail(t, nu float64) float64 {
	x := 1 / (1 + t/nu*t)
	switch {
	case nu > likeNormal:
		return NormalCDF(-t)
	case nu < 40:
		return 0.5 * mathext.RegIncBeta(nu/2, 0.5, x)
	case t > 1e100: // below all floats
		return 0
	}
	// α_n/(β_n + …), summed from its far end.
	a, y := nu/2, t/(nu+t*t)*t
	lambda := x * (t - 1) * (t + 1) / 2 // a·y − x/2
	f := 0.0
	for n := 90.0; n >= 0; n-- {
		d := a + 2*n
		beta := n + n*(0.5-n)*x/(d-1) + (a+n)/(d+1)*(lambda+1+n*(1+y))
		f = beta + f
		if n > 0 {
			f = (a + n - 1) / (d - 1) * ((a + n - 0.5) / (d - 1)) * n * (0.5 - n) * x * x / f
		}
	}
	return 0.5 * math.Sqrt(y) * studentFront(t, nu) / f
}

// studentFront is (1 + t²/ν)^(−ν/2)/B(ν/2, ½).
func studentFront(t, nu float64) float64 {
	a := nu / 2
	ratio := 0.0 // Γ(a + ½)/Γ(a)
	if a < 40 {
		ratio = math.Gamma(a+0.5) / math.Gamma(a)
	} else {
		a2 := a * a
		ratio = math.Sqrt(a) * math.Exp(-(1.0/8-(1.0/192-(1.0/640-17.0/14336/a2)/a2)/a2)/a)
	}
	return ratio / math.SqrtPi * math.Exp(-a*math.Log1p(t/nu*t))
}

// StudentQuantile is the t below which the share p of Student's t with nu
// degrees of freedom lies; the normal quantile where nu is infinite. It is NaN
// unless 0 < p < 1 and nu > 0.
func StudentQuantile(p, nu float64) float64 {
	switch {
	case !(p > 0 && p < 1 && nu > 0):
		return math.NaN()
	case nu > likeNormal:
		return NormalQuantile(p)
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

// ChiSquareTail is the share of χ² with nu degrees of freedom above x.
func ChiSquareTail(x, nu float64) float64 {
	if x <= 0 {
		return 1
	}
	return mathext.GammaIncRegComp(nu/2, x/2)
}

// ChiSquareQuantile is the x below which the share p of χ² with nu degrees of
// freedom lies. It is NaN unless 0 < p < 1 and nu > 0.
func ChiSquareQuantile(p, nu float64) float64 {
	if !(p > 0 && p < 1 && nu > 0) {
		return math.NaN()
	}
	// In ln x, in which even the longest tail is nearly straight, about the
	// guess of Wilson and Hilferty.
	miss := func(y float64) float64 {
		x := math.Exp(y)
		if p > 0.5 {
			return math.Log((1 - p) / ChiSquareTail(x, nu))
		}
		return math.Log(ChiSquareCDF(x, nu) / p)
	}
	c := 1 - 2/(9*nu) + NormalQuantile(p)*math.Sqrt(2/(9*nu))
	y := math.Log(nu) + 3*math.Log(math.Max(c, 1e-3))
	lo, hi := y-0.01, y+0.01
	for step := 0.1; miss(lo) > 0; step *= 2 {
		if lo -= step; lo < -1e4 {
			return 0 // below all floats
		}
	}
	for step := 0.1; miss(hi) < 0; step *= 2 {
		hi += step
	}
	y, ok := Root(miss, lo, hi, 0)
	if !ok {
		return math.NaN()
	}
	return math.Exp(y)
}

// FCDF is the share of Fisher's F with d1 and d2 degrees of freedom below x.
func FCDF(x, d1, d2 float64) float64 {
	if x <= 0 {
		return 0
	}
	return mathext.RegIncBeta(d1/2, d2/2, 1/(1+d2/d1/x))
}

// FTail is the share of Fisher's F with d1 and d2 degrees of freedom above x.
func FTail(x, d1, d2 float64) float64 {
	if x <= 0 {
		return 1
	}
	return mathext.RegIncBeta(d2/2, d1/2, 1/(1+d1/d2*x))
}

// FQuantile is the x below which the share p of Fisher's F with d1 and d2
// degrees of freedom lies, 0 below e⁻⁷⁰⁰ and infinite above e⁷⁰⁰. It is NaN
// unless 0 < p < 1 and both are over 0.
//
// In ln x, in which even the longest tail is nearly straight, by the smaller
// of the two shares, which keeps its digits.
func FQuantile(p, d1, d2 float64) float64 {
	if !(p > 0 && p < 1 && d1 > 0 && d2 > 0) {
		return math.NaN()
	}
	miss := func(y float64) float64 {
		x := math.Exp(y)
		if p > 0.5 {
			return math.Log((1 - p) / FTail(x, d1, d2))
		}
		return math.Log(FCDF(x, d1, d2) / p)
	}
	const far = 700
	switch {
	case !(miss(-far) < 0):
		return 0
	case !(miss(far) > 0):
		return math.Inf(1)
	}
	y, ok := Root(miss, -far, far, 1e-14)
	if !ok {
		return math.NaN()
	}
	return math.Exp(y)
}

// HypergeometricCDF is the chance of at most k marked units among n drawn
// without return from lot units of which marked are marked.
func HypergeometricCDF(k, n, marked, lot int) float64 {
	least, most := max(0, n+marked-lot), min(n, marked)
	switch {
	case k < least:
		return 0
	case k >= most:
		return 1
	}
	// Begin at the most likely number and go both ways: every term is a
	// product of ratios.
	mode := int(float64(n+1) * (float64(marked+1) / float64(lot+2)))
	mode = min(max(mode, least), most)
	sum, all := 0.0, 0.0
	add := func(i int, term float64) {
		all += term
		if i <= k {
			sum += term
		}
	}
	term := 1.0
	for i := mode; i <= most && term > 1e-30; i++ {
		add(i, term)
		term *= float64(marked-i) * float64(n-i) / (float64(i+1) * float64(lot-marked-n+i+1))
	}
	term = 1.0
	for i := mode - 1; i >= least && term > 1e-30; i-- {
		term *= float64(i+1) * float64(lot-marked-n+i+1) / (float64(marked-i) * float64(n-i))
		add(i, term)
	}
	return sum / all
}

// gauss20 holds the positive nodes and their weights of the Gauss–Legendre
// rule with 20 points.
var gauss20 = [...][2]float64{
	{0.0765265211334973338, 0.152753387130725851},
	{0.227785851141645078, 0.149172986472603747},
	{0.373706088715419561, 0.142096109318382051},
	{0.510867001950827098, 0.131688638449176627},
	{0.636053680726515025, 0.118194531961518417},
	{0.746331906460150793, 0.101930119817240435},
	{0.839116971822218823, 0.0832767415767047487},
	{0.912234428251325906, 0.0626720483341090636},
	{0.963971927277913791, 0.0406014298003869413},
	{0.993128599185094925, 0.0176140071391521183},
}

// Gauss is the integral of f from a to b by the Gauss–Legendre rule with 20
// points: exact for polynomials of degree 39, without limits of error for
// anything else.
func Gauss(f func(float64) float64, a, b float64) float64 {
	sum := 0.0
	GaussNodes(a, b, func(x, w float64) { sum += w * f(x) })
	return sum
}

// GaussNodes visits the 20 points of the rule between a and b, each with its
// weight.
func GaussNodes(a, b float64, visit func(x, w float64)) {
	mid, half := (a+b)/2, (b-a)/2
	for _, g := range gauss20 {
		visit(mid-half*g[0], half*g[1])
		visit(mid+half*g[0], half*g[1])
	}
}
