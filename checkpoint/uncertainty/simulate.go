package uncertainty

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"example.org/evenlot/internal/fault"
)

const (
	// Batch is how many draws are sorted at a time, count. JCGM 101:2008,
	// 7.9.4 b, for coverages up to 99 %; memory.
	Batch = 10000

	// DefaultCoveragePct is the coverage of an interval where nobody has said
	// another, %. JCGM 101:2008, 5.10.1 takes 95 % in its examples; memory.
	DefaultCoveragePct = 95

	// DefaultDigits is how many significant digits of the standard
	// uncertainty are to be stable, count. JCGM 101:2008, 7.9.2, "typically
	// one or two"; memory.
	DefaultDigits = 2

	// DefaultMaxDraws is where a run ends that does not settle, count: a
	// second's work. Our own choice.
	DefaultMaxDraws = 5e6
)

// A Plan says how to simulate.
//
// The zero Plan is refused, except for its Seed, MinDraws, Lo and Hi, whose
// zeros are what they say.
type Plan struct {
	CoveragePct float64 // share that the intervals hold, %, 50 to 99
	Digits      int     // significant digits of the uncertainty that are to be stable, 1 or 2
	MinDraws    int     // draws to make at least, count; whole batches of Batch are made
	MaxDraws    int     // draws to make at most, count, 20 000 and the batches of MinDraws to 1e9
	Seed        uint64  // the same seed gives the same answer
	Lo, Hi      float64 // the limit to count draws inside of, in the result's unit; both zero count nothing
}

// A Simulation is what Simulate found. All but the counts and percentages are
// in the result's unit.
type Simulation struct {
	Mean             float64     // of the draws
	U                float64     // their standard deviation
	Lo, Hi           float64     // interval with as much below as above it
	ShortLo, ShortHi float64     // the shortest interval
	Quantiles        [99]float64 // at 1, 2, … 99 %, for a picture
	InsidePct        float64     // draws within Plan.Lo to Plan.Hi, %; 0 where none was asked for
	Draws            int         // draws made, count
	Notes            Notes
}

// Simulate returns what a model's result may be when its inputs are drawn from
// what they may be.
//
//	y_k = f(x_1k, …, x_nk), k = 1 … M
//	Mean, U from all draws; the intervals from the mean of each batch's order
//	statistics at the plotting positions (k − 3/8)/(10 000 + 1/4)
//
//	inputs        up to 64, drawn by their Shape; Student as Value + U·t(DF)
//	correlations  between Normal inputs only
//	plan          as its fields say
//
// Batches of [Batch] draws are added until twice the standard error of the
// mean, of the uncertainty and of both ends of the interval is below half a
// unit in the last of Digits digits of the uncertainty, at least until
// MinDraws. A run that MaxDraws ends earlier carries [NotSettled]; one over an
// input with two degrees of freedom or fewer always does, its spread being
// infinite.
//
// Memory does not grow with the draws. A draw at which the model is not
// finite gives an [*ImpossibleError]: something drawn lies outside what the
// formula is for, and the shape or the uncertainty of an input must say so; the
// error names the input and an uncertainty with which this plan's draws stay
// inside. A model that is not finite at the inputs themselves is refused with
// them, in an [*InputError], as are uncertainties under [MinRelativeU].
//
// Source: JCGM 101:2008, 5.3, 6.4, 7.6, 7.7 and 7.9; the plotting position:
// Blom, Statistical estimates and transformed beta-variables, 1958.
func Simulate(f Model, inputs []Quantity, plan Plan, correlations ...Correlation) (Simulation, error) {
	if err := checkModel(f, inputs, correlations); err != nil {
		return Simulation{}, err
	}
	if err := plan.check(inputs, correlations); err != nil {
		return Simulation{}, err
	}
	s, x := simulate(f, inputs, plan, correlations)
	if x == nil {
		return s, nil
	}
	// Blame the input whose value alone, in place of its draw, mends the
	// draw that failed.
	finite := func(y float64) bool { return !math.IsNaN(y) && !math.IsInf(y, 0) }
	at := 0
	for i, q := range inputs {
		drawn := x[i]
		x[i] = q.Value
		if q.U > 0 && finite(f(x)) {
			at = i
			break
		}
		x[i] = drawn
	}
	for i, q := range inputs {
		x[i] = q.Value
	}
	if y := f(x); !finite(y) {
		return Simulation{}, noModel(y)
	}
	works := func(inputs []Quantity) bool {
		_, failed := simulate(f, inputs, plan, correlations)
		return failed == nil
	}
	return Simulation{}, noSpread("simulation", "the formula has no finite value at some of the draws", inputs, at, works, 3)
}

// simulate returns the draw at which the model is not finite, or else nil.
func simulate(f Model, inputs []Quantity, plan Plan, correlations []Correlation) (Simulation, []float64) {
	var lower []float64
	if len(correlations) > 0 {
		lower, _ = cholesky(len(inputs), correlations)
	}
	d := newDrawer(inputs, lower, plan.Seed)
	n := len(inputs)
	room := make([]float64, 2*Batch+n)
	draws, order, x := room[:Batch], room[Batch:2*Batch], room[2*Batch:]
	tail := (1 - plan.CoveragePct/100) / 2
	var centre, ends [2]tally // Mean and U; Lo and Hi
	var s Simulation
	var shift, sum, squares float64
	inside := 0
	for b := 0; ; b++ {
		var bs, bss float64
		for k := range draws {
			d.draw(x)
			y := f(x)
			if b == 0 && k == 0 {
				shift = y
			}
			e := y - shift
			bs += e
			bss += e * e
			if y >= plan.Lo && y <= plan.Hi {
				inside++
			}
			draws[k] = y
			if math.IsNaN(bss) || math.IsInf(bss, 0) {
				return Simulation{}, x
			}
		}
		sum += bs
		squares += bss
		slices.Sort(draws)
		for k, v := range draws {
			order[k] += (v - order[k]) / float64(b+1)
		}
		bm := bs / Batch
		centre[0].add(bm)
		centre[1].add(math.Sqrt(math.Max(bss/Batch-bm*bm, 0)))
		ends[0].add(at(draws, tail))
		ends[1].add(at(draws, 1-tail))
		s.Draws = (b + 1) * Batch
		if b == 0 {
			continue
		}
		m := sum / float64(s.Draws)
		s.Mean = shift + m
		s.U = math.Sqrt(math.Max(squares/float64(s.Draws)-m*m, 0) * float64(s.Draws) / float64(s.Draws-1))
		half := halfUnit(s.U, plan.Digits)
		settled := 2*centre[0].standardError() <= half && 2*centre[1].standardError() <= half &&
			2*ends[0].standardError() <= half && 2*ends[1].standardError() <= half
		for _, q := range inputs {
			if q.Shape == Student && q.U > 0 && q.df() <= 2 {
				settled = false
			}
		}
		if settled && s.Draws >= plan.MinDraws {
			break
		}
		if s.Draws+Batch > plan.MaxDraws {
			if !settled {
				s.Notes |= NotSettled
			}
			break
		}
	}
	if s.U == 0 {
		s.Notes |= NoSpread
	}
	s.Lo, s.Hi = at(order, tail), at(order, 1-tail)
	s.ShortLo, s.ShortHi = shortest(order, plan.CoveragePct/100)
	for i := range s.Quantiles {
		s.Quantiles[i] = at(order, float64(i+1)/100)
	}
	if plan.Lo != 0 || plan.Hi != 0 {
		s.InsidePct = 100 * float64(inside) / float64(s.Draws)
	}
	return s, nil
}

func (p Plan) check(inputs []Quantity, correlations []Correlation) error {
	var bad []*FieldError
	bad = fault.Float(bad, "CoveragePct", p.CoveragePct, 50, 99, "%")
	bad = fault.Int(bad, "Digits", p.Digits, 1, 2, "digits")
	bad = fault.Int(bad, "MinDraws", p.MinDraws, 0, 1e9, "draws")
	bad = fault.Int(bad, "MaxDraws", p.MaxDraws, max(2*Batch, (min(p.MinDraws, 1e9)+Batch-1)/Batch*Batch), 1e9, "draws")
	if math.IsNaN(p.Lo) || math.IsInf(p.Lo, 1) {
		bad = fault.Float(bad, "Lo", p.Lo, math.Inf(-1), MaxMagnitude, "")
	}
	if math.IsNaN(p.Hi) || p.Hi < p.Lo {
		bad = fault.Float(bad, "Hi", p.Hi, p.Lo, math.Inf(1), "")
	}
	for k, c := range correlations {
		if c.R != 0 && (inputs[c.I].Shape != Normal || inputs[c.J].Shape != Normal) {
			bad = append(bad, &FieldError{Field: "correlations[" + strconv.Itoa(k) + "]", Given: fault.Shortest(c.R), Min: 0, Max: 0,
				Why: "only Normal inputs can be drawn together"})
		}
	}
	return fault.Input(bad)
}

// A tally is the running mean and spread of one figure over the batches.
type tally struct{ n, mean, ss float64 }

func (t *tally) add(v float64) {
	t.n++
	d := v - t.mean
	t.mean += d / t.n
	t.ss += d * (v - t.mean)
}

func (t *tally) standardError() float64 { return math.Sqrt(t.ss / (t.n * (t.n - 1))) }

// halfUnit is half a unit in the last of the given digits of u.
func halfUnit(u float64, digits int) float64 {
	if u == 0 {
		return 0
	}
	return 0.5 * math.Pow(10, float64(exponent(u, digits)-digits+1))
}

// position is the index, counted from 0, at which the sorted values hold the
// share p.
func position(p float64) float64 { return p*(Batch+0.25) + 0.375 - 1 }

// at interpolates sorted values at the share p.
func at(sorted []float64, p float64) float64 { return index(sorted, position(p)) }

func index(sorted []float64, k float64) float64 {
	i := int(k)
	switch {
	case k <= 0:
		return sorted[0]
	case i >= len(sorted)-1:
		return sorted[len(sorted)-1]
	}
	r := k - float64(i)
	return sorted[i]*(1-r) + sorted[i+1]*r
}

// shortest finds the shortest interval that holds the share p. Where several
// are as short, as over a flat top, it takes the middle one.
func shortest(sorted []float64, p float64) (lo, hi float64) {
	span := p * (Batch + 0.25)
	best := math.Inf(1)
	first, last := 0, 0
	for i := 0; float64(i)+span <= float64(len(sorted)-1); i++ {
		w := index(sorted, float64(i)+span) - sorted[i]
		switch {
		case w < best*(1-1e-12):
			best, first, last = w, i, i
		case w <= best && last == i-1:
			last = i
		}
	}
	i := (first + last) / 2
	return sorted[i], index(sorted, float64(i)+span)
}

// A drawer draws the inputs together.
type drawer struct {
	r      *rand.Rand
	inputs []Quantity
	lower  []float64 // rows of the correlation's lower triangle; nil without any
	z      []float64
}

// stream is the second half of the generator's seed: "evenlot".
const stream = 0x6576656e6c6f74

func newDrawer(inputs []Quantity, lower []float64, seed uint64) *drawer {
	d := &drawer{r: rand.New(rand.NewPCG(seed, stream)), inputs: inputs, lower: lower}
	if lower != nil {
		d.z = make([]float64, len(inputs))
	}
	return d
}

func (d *drawer) draw(x []float64) {
	for i := range d.inputs {
		q := &d.inputs[i]
		if q.U == 0 {
			x[i] = q.Value
			continue
		}
		switch q.Shape {
		case Normal:
			z := d.r.NormFloat64()
			if d.lower != nil {
				d.z[i] = z
				z = 0
				row := d.lower[i*len(x):]
				for j := 0; j <= i; j++ {
					z += row[j] * d.z[j]
				}
			}
			x[i] = q.Value + q.U*z
		case Rectangular:
			x[i] = q.Value + q.U*math.Sqrt(3)*(2*d.r.Float64()-1)
		case Triangular:
			x[i] = q.Value + q.U*math.Sqrt(6)*(d.r.Float64()+d.r.Float64()-1)
		case Arcsine:
			x[i] = q.Value + q.U*math.Sqrt2*math.Sin(2*math.Pi*d.r.Float64())
		case Student:
			x[i] = q.Value + q.U*d.student(q.DF)
		case CurvedTrapezoid:
			half := q.U / math.Sqrt(1.0/3+q.Edge*q.Edge/9)
			half *= 1 + q.Edge*(2*d.r.Float64()-1)
			x[i] = q.Value + half*(2*d.r.Float64()-1)
		}
	}
}

// student draws t = Z/√(χ²/ν), with χ² = 2·Γ(ν/2) after Marsaglia and Tsang,
// A simple method for generating gamma variables, 2000.
func (d *drawer) student(nu float64) float64 {
	a := nu / 2
	boost := 1.0
	if a < 1 {
		boost = math.Pow(1-d.r.Float64(), 1/a)
		a++
	}
	a -= 1.0 / 3
	c := 1 / math.Sqrt(9*a)
	for {
		z := d.r.NormFloat64()
		v := 1 + c*z
		if v <= 0 {
			continue
		}
		v = v * v * v
		if math.Log(1-d.r.Float64()) < 0.5*z*z+a-a*v+a*math.Log(v) {
			return d.r.NormFloat64() / math.Sqrt(2*a*v*boost/nu)
		}
	}
}

// InsidePctError returns the standard error of a share counted among draws.
//
//	s = 100·√(p(1 − p)/M)
//
//	p  insidePct/100  %, accepted 0 to 100
//	M  draws          accepted 1 to 1e9
//
// Source: definition (binomial).
func InsidePctError(insidePct float64, draws int) (float64, error) {
	bad := fault.Float(nil, "insidePct", insidePct, 0, 100, "%")
	bad = fault.Int(bad, "draws", draws, 1, 1e9, "draws")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	p := insidePct / 100
	return 100 * math.Sqrt(p*(1-p)/float64(draws)), nil
}
