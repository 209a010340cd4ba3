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
// the Levenberg–Marquardt method in Moré's form: a trust region whose shape
// follows the largest Jacobian columns seen and whose radius follows how well
// the linear model foretold the last step; each step by Householder QR; the
// Jacobian by central differences. Where the search from a wide region ends
// where the data cannot tell the parameters apart, or does not settle, it
// begins again from start with a narrower one.
//
// resid writes the n residuals at p into dst; a residual that is NaN or
// infinite marks p as out of bounds, and the search steps back from it.
// start is not written to. An answer is a point where no step of the linear
// model would matter; it is a minimum near start, not proved to be the least
// of all.
//
// Source: Moré, The Levenberg–Marquardt algorithm, Lecture Notes in
// Mathematics 630, 1978; the test that it settled: Bates and Watts, A relative
// offset orthogonality convergence criterion for nonlinear least squares,
// Technometrics 23, 1981.
func LeastSquares(n int, start []float64, resid func(dst, p []float64)) (Fit, error) {
	if n <= len(start) {
		return Fit{}, ErrTooFew
	}
	var first error
	for _, radius := range []float64{100, 1, 0.1, 0.01} {
		s := newSearch(n, start, resid)
		fit, err := s.run(radius)
		if err == nil {
			return fit, nil
		}
		if first == nil {
			first = err
		}
		// Neither an idle parameter nor a refused start is mended by a
		// narrower region.
		if s.hopeless {
			break
		}
	}
	return Fit{}, first
}

const (
	unit     = 0x1p-52 // spacing of floats at 1
	maxSteps = 1000    // Jacobians of one search
)

// A search is one descent from one start.
type search struct {
	resid    func(dst, p []float64)
	p, next  []float64
	r, try   []float64
	lo       []float64
	jac      [][]float64 // columns
	scale    []float64   // D: the largest length of each column seen
	size     []float64   // the largest size of each parameter seen; +Inf if it began at zero
	norm     float64     // |r|
	hopeless bool
}

func newSearch(n int, start []float64, resid func(dst, p []float64)) *search {
	k := len(start)
	s := &search{
		resid: resid,
		p:     append([]float64(nil), start...), next: make([]float64, k),
		r: make([]float64, n), try: make([]float64, n), lo: make([]float64, n),
		jac: make([][]float64, k), scale: make([]float64, k), size: make([]float64, k),
	}
	for j := range s.jac {
		s.jac[j] = make([]float64, n)
		if start[j] == 0 {
			s.size[j] = math.Inf(1)
		}
	}
	return s
}

// run descends from the start. The first region reaches radius times the
// scaled length of the start.
func (s *search) run(radius float64) (Fit, error) {
	n, k := len(s.r), len(s.p)
	s.resid(s.r, s.p)
	s.norm = math.Sqrt(sumSq(s.r))
	if math.IsNaN(s.norm) || math.IsInf(s.norm, 0) || !s.jacobian() {
		s.hopeless = true
		return Fit{}, ErrNoAnswer
	}
	for j, col := range s.jac {
		s.scale[j] = math.Sqrt(sumSq(col))
		if s.scale[j] == 0 {
			s.scale[j] = 1 // no effect here; perhaps further on
		}
	}
	reach := radius * s.scaled(s.p)
	if reach == 0 {
		reach = radius
	}
	lambda := 0.0
	steps := 0
	for done := false; !done; {
		if steps++; steps > maxSteps {
			return Fit{}, ErrNoAnswer
		}
		f := factor(s.jac, s.r)
		for accepted := false; !accepted && !done; {
			var step []float64
			step, lambda = f.bounded(s.scale, reach, lambda)
			length := s.scaled(step)
			for j := range s.p {
				s.next[j] = s.p[j] - step[j]
			}
			if steps == 1 {
				reach = math.Min(reach, length)
			}
			s.resid(s.try, s.next)
			got := math.Sqrt(sumSq(s.try))
			// All relative to |r|²: the gain had, the gain foretold and
			// the slope along the step.
			had := -1.0
			if 0.1*got < s.norm {
				had = 1 - (got/s.norm)*(got/s.norm)
			}
			linear := f.along(step) / s.norm
			damped := math.Sqrt(lambda) * length / s.norm
			told := linear*linear + 2*damped*damped
			slope := -(linear*linear + damped*damped)
			ratio := 0.0
			if told > 0 {
				ratio = had / told
			}
			if !(ratio > 0.25) {
				shrink := 0.5
				if had < 0 {
					shrink = 0.5 * slope / (slope + 0.5*had)
				}
				if !(0.1*got < s.norm) || !(shrink >= 0.1) {
					shrink = 0.1
				}
				reach = shrink * math.Min(reach, 10*length)
				lambda /= shrink
			} else if lambda == 0 || ratio >= 0.75 {
				reach = 2 * length
				lambda /= 2
			}
			if ratio >= 1e-4 && got <= s.norm {
				accepted = true
				copy(s.p, s.next)
				s.r, s.try = s.try, s.r
				s.norm = got
			}
			done = s.norm == 0 ||
				math.Abs(had) <= unit && told <= unit && ratio <= 2 ||
				!(reach > unit*s.scaled(s.p))
		}
		if !s.jacobian() {
			return Fit{}, ErrNoAnswer
		}
		for j, col := range s.jac {
			s.scale[j] = math.Max(s.scale[j], math.Sqrt(sumSq(col)))
		}
	}
	inv, ok := inverseNormal(s.jac)
	if !ok {
		s.hopeless = s.idle()
		return Fit{}, ErrSingular
	}
	f := factor(s.jac, s.r)
	if !s.settled(f) {
		return Fit{}, ErrNoAnswer
	}
	fit := Fit{P: s.p, RSS: s.norm * s.norm, DF: n - k, Iterations: steps, SE: make([]float64, k), Cov: inv}
	s2 := fit.RSS / float64(n-k)
	for i := range inv {
		for j := range inv[i] {
			inv[i][j] *= s2
		}
		fit.SE[i] = math.Sqrt(inv[i][i])
	}
	return fit, nil
}

// settled says whether the undamped step still open is either lost in the
// scatter of the residuals or lost in the parameters' own digits.
func (s *search) settled(f factored) bool {
	step, ok := f.undamped()
	if !ok {
		return false
	}
	k, n := float64(len(s.p)), float64(len(s.r))
	if f.along(step) <= 1e-3*math.Sqrt(k/(n-k))*s.norm {
		return true
	}
	for j, v := range step {
		if !(math.Abs(v) <= 1e-8*math.Abs(s.p[j])) {
			return false
		}
	}
	return true
}

// idle says whether a parameter never had any effect.
func (s *search) idle() bool {
	for j, col := range s.jac {
		if sumSq(col) == 0 && s.scale[j] == 1 {
			return true
		}
	}
	return false
}

// scaled is |D·v|.
func (s *search) scaled(v []float64) float64 {
	t := 0.0
	for j, x := range v {
		t += s.scale[j] * x * s.scale[j] * x
	}
	return math.Sqrt(t)
}

// jacobian fills the columns of jac with ∂r/∂p by central differences over
// 6e-6 of the parameter. One that comes near zero has no size of its own
// there: it is varied by what changes the residuals by 6e-6 of themselves,
// but by no more than 6e-6 of its largest value so far, unless that began at
// zero.
func (s *search) jacobian() bool {
	for j := range s.jac {
		s.size[j] = math.Max(s.size[j], math.Abs(s.p[j]))
		own := 6e-6 * math.Abs(s.p[j])
		h := 6e-6 * s.size[j]
		if s.scale[j] > 0 {
			h = math.Min(h, 6e-6*s.norm/s.scale[j])
		}
		if math.IsInf(h, 1) {
			h = 6e-6
		}
		if h = math.Max(h, own); h == 0 {
			h = 1e-12
		}
		if s.column(j, h) {
			continue
		}
		// Perhaps that reached out of bounds.
		if own == 0 {
			own = h * 1e-6
		}
		if own == h || !s.column(j, own) {
			return false
		}
	}
	return true
}

// column fills one column of jac with the difference over 2h.
func (s *search) column(j int, h float64) bool {
	col, at := s.jac[j], s.p[j]
	s.p[j] = at - h
	down := s.p[j]
	s.resid(s.lo, s.p)
	s.p[j] = at + h
	width := s.p[j] - down
	s.resid(col, s.p)
	s.p[j] = at
	for i := range col {
		col[i] = (col[i] - s.lo[i]) / width
		if math.IsNaN(col[i]) || math.IsInf(col[i], 0) {
			return false
		}
	}
	return true
}

// A factored holds J = Q·R, and Qᵀr.
type factored struct {
	a    [][]float64 // R above the diagonal, by columns
	diag []float64   // its diagonal
	b    []float64   // the first k of Qᵀr
}

func factor(jac [][]float64, r []float64) factored {
	k := len(jac)
	f := factored{a: make([][]float64, k), b: append([]float64(nil), r...)}
	for j, col := range jac {
		f.a[j] = append([]float64(nil), col...)
	}
	f.diag = householder(f.a, f.b)
	f.b = f.b[:k]
	return f
}

// along is |J·s|.
func (f factored) along(s []float64) float64 {
	t := 0.0
	for i := range s {
		v := f.diag[i] * s[i]
		for j := i + 1; j < len(s); j++ {
			v += f.a[j][i] * s[j]
		}
		t += v * v
	}
	return math.Sqrt(t)
}

// undamped solves min |J·s − r|², where J has full rank.
func (f factored) undamped() ([]float64, bool) {
	whole := 0.0
	for j, d := range f.diag {
		size := d * d
		for i := range j {
			size += f.a[j][i] * f.a[j][i]
		}
		if !(math.Abs(d) > 1e-14*math.Sqrt(size)) {
			return nil, false
		}
		whole += size
	}
	if !(whole > 0) {
		return nil, false
	}
	return backward(f.a, f.diag, f.b), true
}

// backward solves R·s = b.
func backward(a [][]float64, diag, b []float64) []float64 {
	k := len(diag)
	s := make([]float64, k)
	for i := k - 1; i >= 0; i-- {
		v := b[i]
		for j := i + 1; j < k; j++ {
			v -= a[j][i] * s[j]
		}
		s[i] = v / diag[i]
	}
	return s
}

// damped solves min |J·s − r|² + λ·|D·s|² and returns with s the derivative
// of |D·s| in λ.
func (f factored) damped(scale []float64, lambda float64) (s []float64, length, slope float64) {
	k := len(scale)
	a := make([][]float64, k)
	for j := range a {
		a[j] = make([]float64, 2*k)
		copy(a[j][:j], f.a[j][:j])
		a[j][j] = f.diag[j]
		a[j][k+j] = math.Sqrt(lambda) * scale[j]
	}
	b := make([]float64, 2*k)
	copy(b, f.b)
	diag := householder(a, b)
	s = backward(a, diag, b)
	for j, d := range scale {
		length += d * s[j] * d * s[j]
	}
	length = math.Sqrt(length)
	// R'ᵀ·w = D·D·s/|D·s|; the slope is −|D·s|·|w|².
	for i := range k {
		w := scale[i] * scale[i] * s[i] / length
		for j := range i {
			w -= a[i][j] * b[j]
		}
		b[i] = w / diag[i] // b has served
		slope -= b[i] * b[i]
	}
	return s, length, slope * length
}

// bounded finds the step of |D·s| within 10 % of reach, and its damping; the
// undamped step, where that is short enough.
func (f factored) bounded(scale []float64, reach, lambda float64) ([]float64, float64) {
	k := len(scale)
	low := 0.0
	if s, ok := f.undamped(); ok {
		length := 0.0
		for j, d := range scale {
			length += d * s[j] * d * s[j]
		}
		length = math.Sqrt(length)
		if length <= 1.1*reach {
			return s, 0
		}
		if _, _, slope := f.damped(scale, 0); slope < 0 {
			low = (reach - length) / slope
		}
	}
	high := 0.0 // |D⁻¹Jᵀr|/reach
	for j := range k {
		g := f.diag[j] * f.b[j]
		for i := range j {
			g += f.a[j][i] * f.b[i]
		}
		high += (g / scale[j]) * (g / scale[j])
	}
	high = math.Sqrt(high) / reach
	if high == 0 {
		return make([]float64, k), 0
	}
	lambda = math.Max(lambda, low)
	if !(lambda > 0 && lambda < high) {
		lambda = math.Max(1e-3*high, math.Sqrt(low*high))
	}
	var s []float64
	for range 30 {
		var length, slope float64
		s, length, slope = f.damped(scale, lambda)
		over := length - reach
		if math.Abs(over) <= 0.1*reach || !(slope < 0) {
			break
		}
		if over > 0 {
			low = math.Max(low, lambda)
		} else {
			high = math.Min(high, lambda)
		}
		lambda = math.Max(low, lambda-length/reach*over/slope)
		if !(lambda > 0 && lambda <= high) {
			lambda = math.Max(1e-3*high, math.Sqrt(low*high))
		}
	}
	return s, lambda
}

func sumSq(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x * x
	}
	return s
}

// householder turns the columns a into R above the diagonal, with the
// diagonal returned apart, and applies the same reflections to b, if any.
func householder(a [][]float64, b []float64) (diag []float64) {
	k := len(a)
	diag = make([]float64, k)
	for j := range k {
		col := a[j][j:]
		norm := math.Sqrt(sumSq(col))
		if norm == 0 {
			continue
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
	return diag
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
	diag := householder(a, nil)
	rinv := make([][]float64, k) // rows of R⁻¹
	for i := range rinv {
		rinv[i] = make([]float64, k)
		if !(math.Abs(diag[i]) >= 1e-10) {
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
