package num

import (
	"math"
	"sync"
)

// RadauStages is the number of places within a step of [Radau].
const RadauStages = 12

// Radau is the collocation of Radau type IIA with twelve stages, of order 23:
// stiff equations need no smaller steps than others, and the end of a step is
// its last stage. The polynomial through the start and the stages is the
// answer between them.
//
// Source: Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd
// edition, 1996, IV.5; weights as in Abramowitz and Stegun 25.4.31.
type Radau struct {
	C [RadauStages]float64              // the stages, as shares of the step; the last is 1
	Q [RadauStages][RadauStages]float64 // ∫ of the j-th stage's polynomial from 0 to C[i]
	w [RadauStages + 1]float64          // barycentric weights of 0 and C
	v [RadauStages]float64              // of C alone

	toModes [RadauStages][RadauStages]float64 // Legendre's k-th share in what has 1 at the j-th stage
	sums    [RadauStages][RadauStages]float64 // ∫ of Legendre's k-th from 0 to C[i]
}

// RadauRule is the rule, worked out when first asked for.
var RadauRule = sync.OnceValue(newRadau)

func newRadau() *Radau {
	const n = RadauStages
	var r Radau
	var p [n][n + 1]float64 // Legendre polynomials at the stages
	for i := range n {
		// The zeros of P_(n−1) − P_n, in −1 … 1, by Newton from near Chebyshev's.
		x := math.Cos(2 * math.Pi * float64(n-1-i) / (2*n - 1)) // 1 for the last
		for round := 0; ; round++ {
			legendre(x, &p[i])
			if i == n-1 || round == 8 {
				break
			}
			// (1 − x²)·P_k' = k·(P_(k−1) − x·P_k)
			d := (n-1)*(p[i][n-2]-x*p[i][n-1]) - n*(p[i][n-1]-x*p[i][n])
			x -= (p[i][n-1] - p[i][n]) * (1 - x*x) / d
		}
		r.C[i] = (1 + x) / 2
	}
	for i := range n {
		r.sums[i][0] = r.C[i]
		for k := 1; k < n; k++ {
			r.sums[i][k] = (p[i][k+1] - p[i][k-1]) / float64(2*(2*k+1))
		}
	}
	for j := range n {
		x := 2*r.C[j] - 1
		weight := (1 + x) / (n * n * p[j][n-1] * p[j][n-1]) / 2 // of the quadrature, on 0 … 1
		for k := range n {
			r.toModes[k][j] = float64(2*k+1) * weight * p[j][k]
		}
		for i := range n {
			for k := range n { // the stage's polynomial in Legendre's, each integrated
				r.Q[i][j] += r.sums[i][k] * r.toModes[k][j]
			}
		}
	}
	r.w[0] = 1
	for i := range n {
		r.w[0] /= -r.C[i]
		r.v[i] = 1
		for j := range n {
			if j != i {
				r.v[i] /= r.C[i] - r.C[j]
			}
		}
		r.w[i+1] = r.v[i] / r.C[i]
	}
	return &r
}

func legendre(x float64, p *[RadauStages + 1]float64) {
	p[0], p[1] = 1, x
	for k := 1; k < RadauStages; k++ {
		p[k+1] = (float64(2*k+1)*x*p[k] - float64(k)*p[k-1]) / float64(k+1)
	}
}

// Between gives the share that the start and each stage have in the answer at
// s of the step.
func (r *Radau) Between(s float64) (shares [RadauStages + 1]float64) {
	// Lagrange's polynomials: each the product of all distances but its own.
	before := 1.0
	for i := range shares {
		shares[i] = r.w[i] * before
		before *= s - r.place(i)
	}
	after := 1.0
	for i := RadauStages; i >= 0; i-- {
		shares[i] *= after
		after *= s - r.place(i)
	}
	return shares
}

// place is 0 and then the stages.
func (r *Radau) place(i int) float64 {
	if i == 0 {
		return 0
	}
	return r.C[i-1]
}

// Slope gives the share that each stage's slope has in that of the answer at
// s of the step, where s is no stage.
func (r *Radau) Slope(s float64) (shares [RadauStages]float64) {
	total := 0.0
	for i, c := range r.C {
		shares[i] = r.v[i] / (s - c)
		total += shares[i]
	}
	for i := range shares {
		shares[i] /= total
	}
	return shares
}

// Decay gives the answer at the stages of a step of length h from start:
// the collocation of dy/dt = f − d·y, with f at the stages and one d ≥ 0.
// The slope's shares in Legendre's polynomials obey equations of three
// diagonals, whose pivots are 1 at least, so that no h·d is too large.
//
// Source: the W-transformation, Hairer and Wanner as for [Radau], IV.5.
func (r *Radau) Decay(start, h, d float64, f *[RadauStages]float64) (y [RadauStages]float64) {
	const n = RadauStages
	var a, pivot [n]float64
	for k := range a {
		a[k] = times(&r.toModes[k], f)
	}
	// ∫P₀ = (P₁ + P₀)/2 and ∫P_k = (P_(k+1) − P_(k−1))/(4k + 2), where P_n is
	// P_(n−1) at the stages.
	z := h * d / 2
	a[0] -= d * start
	pivot[0] = 1 + z
	for k := 1; k < n; k++ {
		m := z / float64(2*k-1) / pivot[k-1]
		pivot[k] = 1 + m*z/float64(2*k+1)
		if k == n-1 {
			pivot[k] += z / float64(2*k+1)
		}
		a[k] -= m * a[k-1]
	}
	a[n-1] /= pivot[n-1]
	for k := n - 2; k >= 0; k-- {
		a[k] = (a[k] + z/float64(2*k+3)*a[k+1]) / pivot[k]
	}
	for i := range y {
		y[i] = start + h*times(&r.sums[i], &a)
	}
	return y
}

func times(a, b *[RadauStages]float64) float64 {
	return (a[0]*b[0] + a[2]*b[2] + a[4]*b[4] + a[6]*b[6] + a[8]*b[8] + a[10]*b[10]) +
		(a[1]*b[1] + a[3]*b[3] + a[5]*b[5] + a[7]*b[7] + a[9]*b[9] + a[11]*b[11])
}

// Eliminate solves the n linear equations a·x = b by elimination with the
// largest pivot of each column; a holds rows of n, and is used up, and b becomes x.
// It is false where a pivot is zero or not finite.
func Eliminate(a, b []float64) bool {
	n := len(b)
	for k := range n {
		best := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i*n+k]) > math.Abs(a[best*n+k]) {
				best = i
			}
		}
		pivot := a[best*n+k]
		if pivot == 0 || math.IsNaN(pivot) || math.IsInf(pivot, 0) {
			return false
		}
		if best != k {
			for j := k; j < n; j++ {
				a[k*n+j], a[best*n+j] = a[best*n+j], a[k*n+j]
			}
			b[k], b[best] = b[best], b[k]
		}
		row := a[k*n+k+1 : k*n+n]
		for i := k + 1; i < n; i++ {
			f := a[i*n+k] / pivot
			if f == 0 {
				continue
			}
			other := a[i*n+k+1:][:len(row)]
			for j, x := range row {
				other[j] -= f * x
			}
			b[i] -= f * b[k]
		}
	}
	for k := n - 1; k >= 0; k-- {
		for j := k + 1; j < n; j++ {
			b[k] -= a[k*n+j] * b[j]
		}
		b[k] /= a[k*n+k]
	}
	return true
}
