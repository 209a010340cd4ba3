package num

import (
	"errors"
	"math"
)

// A Fit is the answer of LeastSquares.
type Fit struct {
	P          []float64   // the parameters
	SE         []float64   // their standard errors, from the residual spread
	Cov        [][]float64 // their covariance
	RSS        float64     // sum of squared residuals
	DF         int         // observations less parameters
	Iterations int
}

// ResidualSD is the residual standard deviation, sqrt(RSS/DF).
func (f Fit) ResidualSD() float64 { return math.Sqrt(f.RSS / float64(f.DF)) }

// The reasons for which LeastSquares gives no answer.
var (
	ErrTooFew   = errors.New("fewer observations than parameters and one more")
	ErrSingular = errors.New("the data cannot tell the parameters apart")
	ErrNoAnswer = errors.New("the search did not settle")
)

// LeastSquares finds the p that minimises Σ rᵢ(p)², beginning at start, by
// the Levenberg–Marquardt method: each step solves the damped linear problem
// by Householder QR of the Jacobian, with the damping scaled by the largest
// column norms seen, and the Jacobian taken by central differences.
//
// resid writes the n residuals at p into dst; a residual that is NaN or
// infinite marks p as out of bounds, and the search steps back from it.
// start is not written to.
//
// Source: Moré, The Levenberg–Marquardt algorithm, Lecture Notes in
// Mathematics 630, 1978.
func LeastSquares(n int, start []float64, resid func(dst, p []float64)) (Fit, error) {
	k := len(start)
	if n <= k {
		return Fit{}, ErrTooFew
	}
	p := append([]float64(nil), start...)
	r := make([]float64, n)
	try := make([]float64, n)
	next := make([]float64, k)
	jac := make([][]float64, k) // columns
	for j := range jac {
		jac[j] = make([]float64, n)
	}
	scale := make([]float64, k)
	lo := make([]float64, n)
	resid(r, p)
	rss := sumSq(r)
	if math.IsNaN(rss) || math.IsInf(rss, 0) {
		return Fit{}, ErrNoAnswer
	}
	lambda := 1e-3
	flat := 0
	var iter int
	for iter = 1; iter <= 1000; iter++ {
		if !jacobian(jac, p, lo, resid) {
			return Fit{}, ErrNoAnswer
		}
		for j, col := range jac {
			scale[j] = math.Max(scale[j], math.Sqrt(sumSq(col)))
			if scale[j] == 0 {
				return Fit{}, ErrSingular
			}
		}
		stepped := false
		for lambda < 1e30 {
			step, ok := solveDamped(jac, r, scale, lambda)
			if !ok {
				lambda = math.Max(lambda*10, 1e-12)
				continue
			}
			small := true
			for j := range p {
				next[j] = p[j] - step[j]
				if math.Abs(step[j]) > 1e-13*(math.Abs(p[j])+1e-13/scale[j]) {
					small = false
				}
			}
			resid(try, next)
			got := sumSq(try)
			if got <= rss { // NaN fails
				gain := rss - got
				copy(p, next)
				r, try = try, r
				if gain <= 1e-15*rss {
					flat++
				} else {
					flat = 0
				}
				rss = got
				lambda /= 10
				stepped = true
				if small {
					flat = 3
				}
				break
			}
			if small {
				flat = 3
				stepped = true
				break
			}
			lambda *= 10
		}
		if !stepped {
			break
		}
		if flat >= 3 {
			break
		}
	}
	if iter > 1000 {
		return Fit{}, ErrNoAnswer
	}
	return summed(p, r, rss, jac, lo, resid, iter)
}

// summed makes the Fit at the p found.
func summed(p, r []float64, rss float64, jac [][]float64, lo []float64, resid func(dst, p []float64), iter int) (Fit, error) {
	n, k := len(r), len(p)
	if !jacobian(jac, p, lo, resid) {
		return Fit{}, ErrNoAnswer
	}
	inv, ok := inverseNormal(jac)
	if !ok {
		return Fit{}, ErrSingular
	}
	f := Fit{P: p, RSS: rss, DF: n - k, Iterations: iter, SE: make([]float64, k), Cov: inv}
	s2 := rss / float64(n-k)
	for i := range inv {
		for j := range inv[i] {
			inv[i][j] *= s2
		}
		f.SE[i] = math.Sqrt(inv[i][i])
	}
	return f, nil
}

func sumSq(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x * x
	}
	return s
}

// jacobian fills the columns of jac with ∂r/∂p by central differences.
func jacobian(jac [][]float64, p, lo []float64, resid func(dst, p []float64)) bool {
	for j, col := range jac {
		at := p[j]
		h := 6e-6 * math.Max(math.Abs(at), 1e-8)
		p[j] = at - h
		resid(lo, p)
		down := p[j]
		p[j] = at + h
		resid(col, p)
		width := p[j] - down
		p[j] = at
		for i := range col {
			col[i] = (col[i] - lo[i]) / width
			if math.IsNaN(col[i]) || math.IsInf(col[i], 0) {
				return false
			}
		}
	}
	return true
}

// solveDamped solves min |J·s − r|² + λ·|D·s|² by QR of the stacked matrix.
func solveDamped(jac [][]float64, r, scale []float64, lambda float64) ([]float64, bool) {
	n, k := len(r), len(jac)
	a := make([][]float64, k)
	for j := range a {
		a[j] = make([]float64, n+k)
		copy(a[j], jac[j])
		a[j][n+j] = math.Sqrt(lambda) * scale[j]
	}
	b := make([]float64, n+k)
	copy(b, r)
	diag, ok := householder(a, b)
	if !ok {
		return nil, false
	}
	s := make([]float64, k)
	for i := k - 1; i >= 0; i-- {
		v := b[i]
		for j := i + 1; j < k; j++ {
			v -= a[j][i] * s[j]
		}
		s[i] = v / diag[i]
	}
	return s, true
}

// householder turns the columns a into R above the diagonal, with the
// diagonal returned apart, and applies the same reflections to b, if any.
func householder(a [][]float64, b []float64) (diag []float64, ok bool) {
	k := len(a)
	diag = make([]float64, k)
	for j := range k {
		col := a[j][j:]
		norm := math.Sqrt(sumSq(col))
		whole := math.Sqrt(sumSq(a[j]))
		if !(norm > 1e-14*whole) {
			return nil, false
		}
		if col[0] > 0 {
			norm = -norm
		}
		diag[j] = norm
		col[0] -= norm
		h := -norm * col[0] // |v|²/2
		reflect := func(v []float64) {
			dot := 0.0
			for i := range col {
				dot += col[i] * v[i]
			}
			dot /= h
			for i := range col {
				v[i] -= dot * col[i]
			}
		}
		for m := j + 1; m < k; m++ {
			reflect(a[m][j:])
		}
		if b != nil {
			reflect(b[j:])
		}
	}
	return diag, true
}

// inverseNormal returns (JᵀJ)⁻¹, or false where its columns, scaled to one
// length, are dependent to working precision.
func inverseNormal(jac [][]float64) ([][]float64, bool) {
	k := len(jac)
	a := make([][]float64, k)
	size := make([]float64, k)
	for j := range a {
		size[j] = math.Sqrt(sumSq(jac[j]))
		if size[j] == 0 {
			return nil, false
		}
		a[j] = make([]float64, len(jac[j]))
		for i, v := range jac[j] {
			a[j][i] = v / size[j]
		}
	}
	diag, ok := householder(a, nil)
	if !ok {
		return nil, false
	}
	rinv := make([][]float64, k) // rows of R⁻¹
	for i := range rinv {
		rinv[i] = make([]float64, k)
		if math.Abs(diag[i]) < 1e-10 {
			return nil, false
		}
	}
	for c := range k {
		rinv[c][c] = 1 / diag[c]
		for i := c - 1; i >= 0; i-- {
			v := 0.0
			for j := i + 1; j <= c; j++ {
				v -= a[j][i] * rinv[j][c]
			}
			rinv[i][c] = v / diag[i]
		}
	}
	inv := make([][]float64, k)
	for i := range inv {
		inv[i] = make([]float64, k)
		for j := range inv[i] {
			for c := max(i, j); c < k; c++ {
				inv[i][j] += rinv[i][c] * rinv[j][c]
			}
			inv[i][j] /= size[i] * size[j]
		}
	}
	return inv, true
}
