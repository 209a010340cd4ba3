package uncertainty

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// CurvedPct is the change of the uncertainty by its second-order terms, %,
// beyond which Propagate says Curved: about half a unit in the second digit,
// which JCGM 101:2008, 8.1 takes as the numerical tolerance; memory.
const CurvedPct = 5

// A Model is any function of its inputs, in their order. It must not write to
// x or keep it.
type Model func(x []float64) float64

// A Correlation says that two inputs move together.
//
// The zero Correlation is refused: an input has no correlation with itself.
type Correlation struct {
	I, J int     // indices of the two inputs
	R    float64 // −1 to 1
}

// A Contribution is one line of the budget.
type Contribution struct {
	Sensitivity float64 // ∂y/∂x, in the result's unit per unit of the input
	U           float64 // |∂y/∂x|·u(x), in the result's unit
	SharePct    float64 // of the result's variance, %; with correlations it may be negative
}

// A Result is what Propagate found.
type Result struct {
	Value    float64        // the model at the inputs' values, in its unit
	U        float64        // standard uncertainty, first order, same unit
	DF       float64        // effective degrees of freedom; +Inf where none of the uncertainties is itself uncertain
	SecondU  float64        // standard uncertainty with second-order terms, same unit
	Shift    float64        // by how much the mean lies beside Value, second order, same unit
	Budget   []Contribution // one for each input
	Dominant int            // index of the input with the largest share; −1 where none has any
	Notes    Notes
}

// Quantity is the result as an input of another model.
func (r Result) Quantity() Quantity { return Quantity{Value: r.Value, U: r.U, DF: r.DF} }

// Propagate returns the value of a model with the uncertainty that its inputs
// give it, and how much of it comes from each.
//
//	y   = f(x_1, …, x_n)
//	u²  = Σ_i Σ_j c_i·c_j·r_ij·u_i·u_j, c_i = ∂f/∂x_i
//	ν   = u⁴/Σ (c_i·u_i)⁴/ν_i
//	u₂² = u² + Σ_i [(κ_i − 1)/4·f_ii² + κ_i/3·f_i·f_iii]·u_i⁴
//	         + Σ_i Σ_j≠i [½·f_ij² + f_i·f_ijj]·u_i²·u_j²
//
//	x, u, ν  inputs[i]               up to 64, each as its own check accepts
//	r        correlations            each −1 to 1, each pair once; together a possible matrix
//	y        Result.Value
//	u, u₂    Result.U, Result.SecondU, y's unit
//	κ        kurtosis of the input's shape, 3 for Normal
//
// Derivatives are central differences over a small part of u, so that an
// input is moved by no more than half its uncertainty. u₂ takes the inputs as
// independent whatever the correlations say; where it leaves u by more than
// [CurvedPct], or the mean moves by more than u₂/4, the result carries
// [Curved].
//
// A model that is not finite beside the inputs gives an [*ImpossibleError];
// refused inputs come in an [*InputError].
//
// Source: JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1; the general fourth moment
// instead of the normal one: definition.
func Propagate(f Model, inputs []Quantity, correlations ...Correlation) (Result, error) {
	if err := checkModel(f, inputs, correlations); err != nil {
		return Result{}, err
	}
	n := len(inputs)
	p := probe{f: f, at: make([]float64, n), inputs: inputs}
	for i, q := range inputs {
		p.at[i] = q.Value
	}
	y := p.f(p.at)
	if math.IsNaN(y) || math.IsInf(y, 0) {
		return Result{}, noValue("value", inputs, 0)
	}
	r := Result{Value: y, Budget: make([]Contribution, n), Dominant: -1}
	cu := make([]float64, 4*n) // signed c·u, f(+h), f(−h) and third derivatives
	plus, minus, third := cu[n:2*n], cu[2*n:3*n], cu[3*n:]
	cu = cu[:n]
	second := 0.0
	for i, q := range inputs {
		if q.U == 0 {
			continue
		}
		h := q.U / 64
		c := (8*(p.move(i, h)-p.move(i, -h)) - (p.move(i, 2*h) - p.move(i, -2*h))) / (12 * h)
		// Differences over h = u/4, everything in multiples of u.
		h = q.U / 4
		plus[i], minus[i] = p.move(i, h), p.move(i, -h)
		far, near := p.move(i, 2*h), p.move(i, -2*h)
		f2 := (16*(plus[i]+minus[i]) - (far + near) - 30*y) / 12 * 16 // f_ii·u²
		f3 := ((far - near) - 2*(plus[i]-minus[i])) / 2 * 64          // f_iii·u³
		if p.bad || math.IsNaN(c+f2+f3) || math.IsInf(c*q.U, 0) || math.IsInf(f2*f2+f3*f3, 0) {
			return Result{}, noValue("uncertainty", inputs, i)
		}
		cu[i] = c * q.U
		third[i] = f3
		r.Budget[i] = Contribution{Sensitivity: c, U: math.Abs(cu[i])}
		k := q.kurtosis()
		r.Shift += f2 / 2
		second += (k-1)/4*f2*f2 + k/3*cu[i]*f3
	}
	for i := range inputs {
		for j := range i {
			if inputs[i].U == 0 || inputs[j].U == 0 {
				continue
			}
			hi, hj := inputs[i].U/4, inputs[j].U/4
			pp, pm := p.move2(i, hi, j, hj), p.move2(i, hi, j, -hj)
			mp, mm := p.move2(i, -hi, j, hj), p.move2(i, -hi, j, -hj)
			fij := (pp - pm - mp + mm) / 4 * 16
			fijj := (pp - mp + pm - mm - 2*(plus[i]-minus[i])) / 2 * 64
			fiij := (pp - pm + mp - mm - 2*(plus[j]-minus[j])) / 2 * 64
			if p.bad || math.IsNaN(fij+fijj+fiij) || math.IsInf(fij*fij+fijj*fijj+fiij*fiij, 0) {
				return Result{}, noValue("uncertainty", inputs, i)
			}
			second += fij*fij + cu[i]*fijj + cu[j]*fiij // ½·f_ij² stands twice in the double sum
		}
	}
	scale := 0.0 // the largest part; the rest is relative to it, so that squares neither overflow nor vanish
	for _, c := range cu {
		scale = math.Max(scale, math.Abs(c))
	}
	correlated := false
	if scale > 0 {
		v := 0.0
		for _, c := range cu {
			v += (c / scale) * (c / scale)
		}
		for _, k := range correlations {
			v += 2 * k.R * (cu[k.I] / scale) * (cu[k.J] / scale)
			correlated = correlated || k.R != 0
		}
		v = math.Max(v, 0)
		r.U = scale * math.Sqrt(v)
		w := 0.0
		for i, q := range inputs {
			own := (cu[i] / scale) * (cu[i] / scale)
			share := own
			for _, k := range correlations {
				if k.I == i || k.J == i {
					share += k.R * (cu[k.I] / scale) * (cu[k.J] / scale)
				}
			}
			if v > 0 {
				r.Budget[i].SharePct = 100 * share / v
			}
			w += own * own / q.df()
			if r.Dominant < 0 || r.Budget[i].SharePct > r.Budget[r.Dominant].SharePct {
				r.Dominant = i
			}
		}
		r.DF = v * v / w // +Inf where every part is known
		if v == 0 {
			r.Dominant, r.DF = -1, math.Inf(1)
		}
	} else {
		r.DF = math.Inf(1)
	}
	if correlated {
		r.DF = math.Inf(1)
		for _, q := range inputs {
			if !math.IsInf(q.df(), 1) && q.U > 0 {
				r.Notes |= CorrelatedDF
			}
		}
	}
	if v := r.U*r.U + second; v > 0 {
		r.SecondU = math.Sqrt(v)
	}
	if math.IsInf(r.SecondU, 0) { // as it is where U is; Shift's parts are under 1e154
		return Result{}, noValue("uncertainty", inputs, 0)
	}
	switch most := math.Max(r.U, r.SecondU); {
	case most == 0:
		r.Notes |= NoSpread
	case math.Abs(r.SecondU-r.U) > CurvedPct/100.0*most || math.Abs(r.Shift) > most/4:
		r.Notes |= Curved
	}
	return r, nil
}

// kurtosis is the fourth central moment over u⁴.
func (q Quantity) kurtosis() float64 {
	switch q.Shape {
	case Rectangular:
		return 9.0 / 5
	case Triangular:
		return 12.0 / 5
	case Arcsine:
		return 3.0 / 2
	case CurvedTrapezoid: // (E a⁴)/5 over ((E a²)/3)², a uniform within 1 ± Edge
		e := q.Edge * q.Edge
		return (1 + 2*e + e*e/5) / 5 * 9 / ((1 + e/3) * (1 + e/3))
	}
	return 3
}

// A probe asks a model beside the inputs.
type probe struct {
	f      Model
	at     []float64
	inputs []Quantity
	bad    bool
}

func (p *probe) ask() float64 {
	y := p.f(p.at)
	if math.IsNaN(y) || math.IsInf(y, 0) {
		p.bad = true
	}
	return y
}

func (p *probe) move(i int, h float64) float64 {
	p.at[i] = p.inputs[i].Value + h
	y := p.ask()
	p.at[i] = p.inputs[i].Value
	return y
}

func (p *probe) move2(i int, hi float64, j int, hj float64) float64 {
	p.at[i] = p.inputs[i].Value + hi
	y := p.move(j, hj)
	p.at[i] = p.inputs[i].Value
	return y
}

func noValue(what string, inputs []Quantity, i int) error {
	return &ImpossibleError{Quantity: what, Why: "the formula has no finite value at, or within half a standard uncertainty of, the inputs",
		Field: "inputs[" + strconv.Itoa(i) + "].U", Given: fault.Shortest(inputs[i].U), Min: 0, Max: inputs[i].U}
}

// checkModel refuses what neither Propagate nor Simulate can use.
func checkModel(f Model, inputs []Quantity, correlations []Correlation) error {
	var bad []*FieldError
	if f == nil {
		bad = append(bad, &FieldError{Field: "f", Given: "nil", Min: 1, Max: 1, Why: "there is no model"})
	}
	bad = fault.Int(bad, "inputs", len(inputs), 1, MaxInputs, "inputs")
	for i, q := range inputs {
		if q == (Quantity{Value: q.Value}) && q.Value >= -MaxMagnitude && q.Value <= MaxMagnitude {
			continue
		}
		if q.check(nil, "") != nil {
			bad = q.check(bad, "inputs["+strconv.Itoa(i)+"].")
		}
	}
	for k, c := range correlations {
		name := func(field string) string { return "correlations[" + strconv.Itoa(k) + "]." + field }
		if c.I < 0 || c.I >= len(inputs) {
			bad = fault.Int(bad, name("I"), c.I, 0, len(inputs)-1, "")
		}
		if c.J < 0 || c.J >= len(inputs) {
			bad = fault.Int(bad, name("J"), c.J, 0, len(inputs)-1, "")
		}
		if !(c.R >= -1 && c.R <= 1) {
			bad = fault.Float(bad, name("R"), c.R, -1, 1, "")
		}
		again := c.I == c.J
		for _, d := range correlations[:k] {
			again = again || d.I == c.I && d.J == c.J || d.I == c.J && d.J == c.I
		}
		if again {
			bad = append(bad, &FieldError{Field: name("J"), Given: strconv.Itoa(c.J), Min: 0, Max: float64(len(inputs) - 1),
				Why: "each pair of different inputs once"})
		}
	}
	if bad == nil && len(correlations) > 0 {
		if _, ok := cholesky(len(inputs), correlations); !ok {
			bad = append(bad, &FieldError{Field: "correlations", Given: strconv.Itoa(len(correlations)) + " coefficients", Min: -1, Max: 1,
				Why: "no set of inputs can be correlated in this way; two that both follow a third also follow each other"})
		}
	}
	return fault.Input(bad)
}

// cholesky is the lower triangle of the correlation matrix, row by row; ok is
// false where the matrix is none.
func cholesky(n int, correlations []Correlation) (l []float64, ok bool) {
	l = make([]float64, n*n)
	for i := range n {
		l[i*n+i] = 1
	}
	for _, c := range correlations {
		l[max(c.I, c.J)*n+min(c.I, c.J)] = c.R
	}
	for j := range n {
		d := l[j*n+j]
		for k := range j {
			d -= l[j*n+k] * l[j*n+k]
		}
		if d < -1e-12 {
			return nil, false
		}
		d = math.Sqrt(math.Max(d, 0))
		l[j*n+j] = d
		for i := j + 1; i < n; i++ {
			v := l[i*n+j]
			for k := range j {
				v -= l[i*n+k] * l[j*n+k]
			}
			switch {
			case d > 1e-6:
				v /= d
			case math.Abs(v) > 1e-6: // bound to its forerunners, yet asked to move alone
				return nil, false
			default:
				v = 0
			}
			l[i*n+j] = v
		}
	}
	return l, true
}

// OutputR returns the correlation of two results that share inputs.
//
//	r = Σ_i Σ_j c_i·d_j·r_ij·u_i·u_j/(u(f)·u(g))
//
//	c, d  sensitivities of f and g, as Propagate finds them
//	r     −1 to 1; 0 where one of the two has no uncertainty
//
// Source: JCGM 100:2008, H.2.3, equation (H.9).
func OutputR(f, g Model, inputs []Quantity, correlations ...Correlation) (float64, error) {
	a, err := Propagate(f, inputs, correlations...)
	if err != nil {
		return 0, err
	}
	b, err := Propagate(g, inputs, correlations...)
	if err != nil {
		return 0, err
	}
	if a.U == 0 || b.U == 0 {
		return 0, nil
	}
	part := func(r Result, i int) float64 { return r.Budget[i].Sensitivity * inputs[i].U / r.U }
	v := 0.0
	for i := range inputs {
		v += part(a, i) * part(b, i)
	}
	for _, c := range correlations {
		v += c.R * (part(a, c.I)*part(b, c.J) + part(a, c.J)*part(b, c.I))
	}
	return math.Max(-1, math.Min(1, v)), nil
}
