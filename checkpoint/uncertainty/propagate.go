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

// MinRelativeU is the smallest uncertainty that Propagate and Simulate take
// beside a value, as a share of it, a pure number: a float has 4500 steps in
// so much, and a formula's own rounding is then 1 % of the second-order terms.
// Our own choice.
const MinRelativeU = 1e-12

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
// Derivatives are differences over a small part of u, by the steps that the
// floats took, so that an input is moved by no more than half its uncertainty.
// An uncertainty over 0 but under [MinRelativeU] of its value is refused:
// floats have no steps for it. Take such an input as its distance from a round
// value, or its uncertainty as 0. u₂ takes the inputs as
// independent whatever the correlations say; where it leaves u by more than
// [CurvedPct], or the mean moves by more than u₂/4, the result carries
// [Curved].
//
// A model that is not finite at the inputs is refused with them, in an
// [*InputError]; one that is not finite beside them gives an
// [*ImpossibleError], which names how far it goes.
//
// Source: JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1; the general fourth moment
// instead of the normal one: definition.
func Propagate(f Model, inputs []Quantity, correlations ...Correlation) (Result, error) {
	if err := checkModel(f, inputs, correlations); err != nil {
		return Result{}, err
	}
	r, at := propagate(f, inputs, correlations)
	switch at {
	case fine:
		return r, nil
	case atInputs:
		return Result{}, noModel(r.Value)
	}
	// How much uncertainty there may be: of one input, most likely of the one
	// at which it was noticed, or of all.
	works := func(inputs []Quantity) bool {
		_, at := propagate(f, inputs, correlations)
		return at == fine
	}
	return Result{}, noSpread("uncertainty", "the formula has no finite value within half a standard uncertainty of the inputs", inputs, at, works, 40)
}

// Where a model fails: nowhere, at the inputs, or beside the input of that
// index.
const (
	fine     = -1
	atInputs = -2
)

func propagate(f Model, inputs []Quantity, correlations []Correlation) (Result, int) {
	n := len(inputs)
	p := probe{f: f, at: make([]float64, n), inputs: inputs}
	for i, q := range inputs {
		p.at[i] = q.Value
	}
	y := p.f(p.at)
	if math.IsNaN(y) || math.IsInf(y, 0) {
		return Result{Value: y}, atInputs
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
		// Differences over h = u/4, everything in multiples of u.
		wide := p.around(i, y, 1.0/4)
		first, f2, f3 := wide.slopes()
		plus[i], minus[i] = wide.y[0], wide.y[1]
		if q.U > 1e-9*math.Abs(q.Value) { // nearer, where rounding leaves room
			near := p.around(i, y, 1.0/64)
			first, _, _ = near.slopes()
		}
		c := first / q.U
		if p.bad || math.IsNaN(c+f2+f3) || math.IsInf(c, 0) || math.IsInf(first, 0) || math.IsInf(f2*f2+f3*f3, 0) {
			return Result{}, i
		}
		cu[i] = first
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
			ip, im := p.step(i, 1.0/4), -p.step(i, -1.0/4)
			jp, jm := p.step(j, 1.0/4), -p.step(j, -1.0/4)
			fij := (pp - pm - mp + mm) / ((ip + im) * (jp + jm))
			// How the slope in one changes to either side of the other.
			di, dj := plus[i]-minus[i], plus[j]-minus[j]
			fijj := 2 * ((pp-mp-di)/jp + (pm-mm-di)/jm) / ((jp + jm) * (ip + im))
			fiij := 2 * ((pp-pm-dj)/ip + (mp-mm-dj)/im) / ((ip + im) * (jp + jm))
			if p.bad || math.IsNaN(fij+fijj+fiij) || math.IsInf(fij*fij+fijj*fijj+fiij*fiij, 0) {
				return Result{}, i
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
	if second >= 0 { // without squares that vanish or overflow
		r.SecondU = math.Hypot(r.U, math.Sqrt(second))
	} else if v := r.U*r.U + second; v > 0 {
		r.SecondU = math.Sqrt(v)
	}
	if math.IsInf(r.SecondU, 0) { // as it is where U is; Shift's parts are under 1e154
		return Result{}, max(r.Dominant, 0)
	}
	switch most := math.Max(r.U, r.SecondU); {
	case most == 0:
		r.Notes |= NoSpread
	case math.Abs(r.SecondU-r.U) > CurvedPct/100.0*most || math.Abs(r.Shift) > most/4:
		r.Notes |= Curved
	}
	return r, fine
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

// step is the step that floats take for one of part·u, in u.
func (p *probe) step(i int, part float64) float64 {
	q := p.inputs[i]
	return (q.Value + part*q.U - q.Value) / q.U
}

// Steps are a model's values at one step up and down and at two, the steps in
// u.
type steps struct {
	centre float64
	y, at  [4]float64
}

func (p *probe) around(i int, centre, part float64) steps {
	s := steps{centre: centre}
	for k, m := range [4]float64{part, -part, 2 * part, -2 * part} {
		s.y[k], s.at[k] = p.move(i, m*p.inputs[i].U), p.step(i, m)
	}
	return s
}

// slopes are the first three derivatives, times u, u² and u³, of the quartic
// through the values: (y − centre)/step is a cubic, in divided differences.
func (s steps) slopes() (f1, f2, f3 float64) {
	d, x := s.y, s.at
	for k := range d {
		d[k] = (d[k] - s.centre) / x[k]
	}
	for level := 1; level < len(d); level++ {
		for k := len(d) - 1; k >= level; k-- {
			d[k] = (d[k] - d[k-1]) / (x[k] - x[k-level])
		}
	}
	// Newton's form at 0, and its derivatives: f' = g, f″ = 2·g′, f‴ = 3·g″.
	f1 = d[0] - x[0]*(d[1]-x[1]*(d[2]-x[2]*d[3]))
	f2 = 2 * (d[1] - (x[0]+x[1])*d[2] + (x[0]*x[1]+x[0]*x[2]+x[1]*x[2])*d[3])
	f3 = 6 * (d[2] - (x[0]+x[1]+x[2])*d[3])
	return f1, f2, f3
}

// noModel refuses a model that is not finite at the inputs.
func noModel(y float64) error {
	return fault.Input([]*FieldError{{Field: "f", Given: fault.Shortest(y), Min: -math.MaxFloat64, Max: math.MaxFloat64,
		Why: "the formula has no finite value at the inputs"}})
}

// noSpread says that an answer does not exist for these uncertainties, and how
// large which of them may be, found by so many trials: of the input at first,
// else of any other, else none at all.
func noSpread(what, why string, inputs []Quantity, at int, works func([]Quantity) bool, trials int) error {
	list := append([]Quantity(nil), inputs...)
	for k := range inputs {
		i := (at + k) % len(inputs)
		if inputs[i].U == 0 {
			continue
		}
		with := func(u float64) bool {
			list[i].U = u
			return works(list)
		}
		if !with(0) {
			list[i] = inputs[i]
			continue
		}
		yes, no := 0.0, inputs[i].U
		for range trials {
			mid := (yes + no) / 2
			if mid >= MinRelativeU*math.Abs(inputs[i].Value) && with(mid) {
				yes = mid
			} else {
				no = mid
			}
		}
		if least := MinRelativeU * math.Abs(inputs[i].Value); yes > 0 && yes < least {
			yes = 0
		}
		return &ImpossibleError{Quantity: what, Why: why,
			Field: "inputs[" + strconv.Itoa(i) + "].U", Given: fault.Shortest(inputs[i].U), Min: 0, Max: yes}
	}
	return &ImpossibleError{Quantity: what, Why: why,
		Field: "inputs[].U", Given: "over 0 in " + strconv.Itoa(len(inputs)) + " inputs", Min: 0, Max: 0}
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
		} else if least := MinRelativeU * math.Abs(q.Value); q.U > 0 && q.U < least {
			bad = append(bad, &FieldError{Field: "inputs[" + strconv.Itoa(i) + "].U", Given: fault.Shortest(q.U), Min: least, Max: MaxMagnitude,
				Why: "or 0; a float has no steps so small beside its value"})
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
