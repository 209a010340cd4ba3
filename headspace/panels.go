package headspace

import (
	"math"

	"example.org/evenlot/internal/num"
)

const (
	stages    = num.RadauStages
	maxPanels = 20_000

	// A run that is to end where another was given up ends in other panels: so
	// many are kept back when that end is named.
	sparePanels = 100

	relPanel  = 1e-10 // error of a panel, of what is there
	absPanel  = 1e-13 // likewise, of the whole gas space
	firstDays = 0.5   // panel to try first
)

// looks are the places within a panel at which it is tested: its start, where a
// corner before the first stage shows; the gap in which a release that starts
// infinitely fast shows; and the middle.
var looks = [...]float64{0, 0.026, 0.53}

// panels follow c = n·e^(S−S₀), in which the sweep since the start of a panel
// is exact and a release that starts infinitely fast does no harm, by
// collocation: within a panel all is a polynomial through its start and its
// stages, which obeys the equations at every stage. How far it disobeys at
// other places is its error. A panel ends where the bag becomes taut
// and where the valve opens, since no polynomial has a corner.
type panels struct {
	r    *run
	rule *num.Radau
	end  float64 // no panel goes beyond

	t, length float64 // the last panel; none yet when the length is 0
	next      float64 // length to try next
	tried     int

	sure, sureTaken float64 // time that is reached with panels to spare; oxygen taken up by then

	// At its start and its stages; before the first panel only the last holds.
	q, swept       [stages + 1]float64 // release; headspaces swept since sealing
	grown, v       [stages + 1]float64 // e^(S−S₀); gas space; not at its start
	c, z           [stages + 1]float64 // oxygen: headspace's as above, and the pores'
	entered, taken [stages + 1]float64
	whole          bool    // entered and taken are known at every stage, not only at the last
	smooth         bool    // q is the polynomial through its values
	before         float64 // e^S₀

	in, out, dc, dz [stages]float64 // rates at the stages
	matrix          [4 * stages * stages]float64
	rhs             [2 * stages]float64
	between         [len(looks)][stages + 1]float64
	slope           [len(looks)][stages]float64
}

func (r *run) panels(end float64) panels {
	p := panels{r: r, rule: num.RadauRule(), end: end, next: firstDays}
	for i, s := range looks {
		p.between[i], p.slope[i] = p.rule.Between(s), p.rule.Slope(s)
	}
	p.c[stages], p.z[stages], p.grown[stages] = r.n0, r.m0, 1
	return p
}

// reached is the end of the last panel.
func (p *panels) reached() float64 { return p.t + p.length }

// step makes the next panel. It is false when the release is at fault, and
// when the panels become too many; then the panels end where they did.
func (p *panels) step() bool {
	p.t, p.length = p.t+p.length, 0
	p.q[0], p.swept[0] = p.q[stages], p.swept[stages]
	p.before = num.Exp(p.swept[0])
	p.c[0], p.z[0] = p.c[stages]/p.grown[stages], p.z[stages]
	p.entered[0], p.taken[0] = p.entered[stages], p.taken[stages]
	cornered := false
	h := p.next
	if rest := p.end - p.t; 1.2*h > rest {
		h = rest
	}
	for p.tried < maxPanels {
		p.tried++
		if corner, ok := p.corner(h); ok {
			h, cornered = corner, true
			continue
		}
		if !p.ask(h) {
			return false
		}
		miss := p.solve(h)
		if p.r.fault != nil {
			return false
		}
		better := 0.9 * num.Exp(-num.Log(miss)/stages)
		if !(miss <= 1) && p.t+h/8 > p.t {
			if !(better > 0.02) { // or not a number
				better = 0.02
			}
			h *= math.Min(better, 0.3)
			p.next, cornered = h, false
			continue
		}
		if p.length = h; !cornered {
			p.next = h * math.Min(better, 5)
		}
		if p.tried <= maxPanels-sparePanels {
			p.sure, p.sureTaken = p.reached(), p.taken[stages]
		}
		return true
	}
	return false
}

// corner is the length at which the bag becomes taut or its valve opens,
// whichever comes first within h. It asks for the release at the end of h.
func (p *panels) corner(h float64) (length float64, ok bool) {
	end := p.r.released(math.Min(p.t+h, p.end))
	p.q[stages] = end
	for _, ml := range [...]float64{p.r.b.SlackML, p.r.threshold} {
		// A corner at the start or the end of the panel, but for rounding, is none.
		near := 1e-12 * (ml + p.r.b.FreeML)
		if p.q[0] >= ml-near || end <= ml+near {
			continue
		}
		s, found := num.Root(func(s float64) float64 {
			switch s {
			case 0:
				return p.q[0] - ml
			case 1:
				return end - ml
			}
			return p.r.released(p.t+s*h) - ml
		}, 0, 1, 0)
		if found && p.t+s*h > p.t {
			return s * h, s < 1
		}
	}
	return h, false
}

// ask asks for the release at the other stages of a panel of length h.
func (p *panels) ask(h float64) bool {
	for i, s := range p.rule.C {
		if i < stages-1 {
			p.q[i+1] = p.r.released(p.t + s*h)
		}
		q := p.q[i+1]
		if q < p.q[i] && p.r.fell(p.q[i], q, p.t+s*h) {
			return false
		}
		p.swept[i+1], p.v[i+1] = p.r.swept(q), p.r.space(q)
		p.grown[i+1] = num.Exp(p.swept[i+1] - p.swept[0])
	}
	return p.r.fault == nil
}

// space is the gas space after a release.
func (r *run) space(q float64) float64 {
	if q > r.b.SlackML {
		return r.full
	}
	return r.b.FreeML + q
}

// solve works the panel out for a length h, and says how far it misses, in
// units of what it may.
func (p *panels) solve(h float64) (miss float64) {
	r := p.r
	if !p.follow(h) {
		return math.Inf(1)
	}
	for i := range stages {
		p.in[i], p.out[i], p.dc[i], p.dz[i], _ = r.rates(p.grown[i+1], p.v[i+1], p.c[i+1], p.z[i+1])
	}
	p.gather(h, stages-1)
	p.whole = false
	p.smooth = true
	small := absPanel * (r.b.FreeML + r.b.Pores.PoreML)
	for k, s := range looks {
		q := p.q[0]
		if s > 0 {
			q = r.released(p.t + s*h)
		}
		guess := dot(p.between[k][:], p.q[:])
		p.smooth = p.smooth && math.Abs(guess-q) <= 1e-13*(r.b.FreeML+q)
		grown, v := num.Exp(r.swept(q)-p.swept[0]), r.space(q)
		c, z := dot(p.between[k][:], p.c[:]), dot(p.between[k][:], p.z[:])
		_, _, dc, dz, decay := r.rates(grown, v, c, z)
		// A slope that is off moves the answer for the panel's length at most,
		// and for no longer than it is remembered.
		missC := math.Abs(dc-dot(p.slope[k][:], p.dc[:])) / (1/h + decay) / (small*grown + relPanel*math.Abs(c))
		missZ := math.Abs(dz-dot(p.slope[k][:], p.dz[:])) / (1/h + r.even) / (small + relPanel*math.Abs(z))
		if missC != missC || missZ != missZ {
			return math.Inf(1)
		}
		miss = math.Max(miss, math.Max(missC, missZ))
	}
	return miss
}

// gather adds up what has come in and was taken up by a stage.
func (p *panels) gather(h float64, stage int) {
	in, out := 0.0, 0.0
	for j, w := range &p.rule.Q[stage] {
		in += w * p.in[j]
		out += w * p.out[j]
	}
	p.entered[stage+1], p.taken[stage+1] = p.entered[0]+h*in, p.taken[0]+h*out
}

// follow moves c and z through a panel of length h; it is false where Newton's
// rounds do not settle.
func (p *panels) follow(h float64) bool {
	r := p.r
	for i := 1; i <= stages; i++ {
		p.c[i], p.z[i] = p.c[0], p.z[0]
	}
	bent := r.u > 0 && r.bend > 0
	if !bent && r.even == 0 && p.v[1] == p.v[stages] {
		// Taut, straight, and with pores that keep what they hold: c decays at
		// one rate, whatever the sweep.
		var f [stages]float64
		for i := range f {
			f[i] = p.grown[i+1] * r.g * r.xe
		}
		*(*[stages]float64)(p.c[1:]) = p.rule.Decay(p.c[0], h, (r.g+r.u)/p.v[stages], &f)
		return true
	}
	for range 20 { // Newton's rounds; one is enough where nothing is bent
		moved, ok := p.newton(h)
		if !ok {
			return false
		}
		if !bent || moved <= 1e-14 {
			return true
		}
	}
	return false
}

func dot(a, b []float64) float64 {
	sum := 0.0
	b = b[:len(a)]
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}

// rates are what comes in, what is taken up, the slopes of c and z, and how
// fast c forgets itself, −∂(dc)/∂c.
func (r *run) rates(grown, v, c, z float64) (in, out, dc, dz, decay float64) {
	x := c / (grown * v)
	bend := 1 + r.bend*x
	in = r.g * (r.xe - x)
	out = r.u * x / bend
	even := r.even * (z - r.b.Pores.PoreML*x)
	decay = (r.g + r.u/(bend*bend) + r.even*r.b.Pores.PoreML) / v
	return in, out, grown * (in - out + even), -even, decay
}

// newton moves c and z towards obeying the equations at the stages of a panel
// of length h, and says by what share of their largest.
func (p *panels) newton(h float64) (moved float64, ok bool) {
	r := p.r
	n := stages
	if r.even > 0 {
		n = 2 * stages // without exchange the pores keep what they hold
	}
	a, b := p.matrix[:n*n], p.rhs[:n]
	for i := range b {
		b[i] = 0
	}
	for j := range stages {
		grown, v := p.grown[j+1], p.v[j+1]
		_, _, dc, dz, decay := r.rates(grown, v, p.c[j+1], p.z[j+1])
		toZ := r.even * r.b.Pores.PoreML / (grown * v)
		for i := range stages {
			w := h * p.rule.Q[i][j]
			a[i*n+j] = w * decay
			b[i] += w * dc
			if n > stages {
				a[i*n+stages+j] = -w * grown * r.even
				a[(stages+i)*n+j] = -w * toZ
				a[(stages+i)*n+stages+j] = w * r.even
				b[stages+i] += w * dz
			}
		}
	}
	for i := range stages {
		a[i*n+i]++
		b[i] += p.c[0] - p.c[i+1]
		if n > stages {
			a[(stages+i)*n+stages+i]++
			b[stages+i] += p.z[0] - p.z[i+1]
		}
	}
	if !num.Eliminate(a, b) {
		return 0, false
	}
	most, all := 0.0, 0.0
	for i := range b {
		y := &p.c
		if i >= stages {
			y = &p.z
		}
		k := i%stages + 1
		y[k] += b[i]
		most, all = math.Max(most, math.Abs(b[i])), math.Max(all, math.Abs(y[k]))
	}
	return most / math.Max(all, math.SmallestNonzeroFloat64), true
}

// within is the state at t, in the last panel. soon is a later time for which
// it will be asked: where that is still in the panel, the release at t is
// taken from its polynomial if it has one.
func (p *panels) within(a *Aged, t, soon float64) {
	s := 1.0
	if p.length > 0 {
		s = (t - p.t) / p.length
	}
	if !p.whole {
		for i := range stages - 1 {
			p.gather(p.length, i)
		}
		p.whole = true
	}
	var q, held, pores, entered, taken float64
	for i, share := range p.rule.Between(s) {
		q += share * p.q[i]
		held += share * p.c[i]
		pores += share * p.z[i]
		entered += share * p.entered[i]
		taken += share * p.taken[i]
	}
	if !p.smooth || soon >= p.reached() {
		q = p.r.released(t)
	}
	swept, stay := p.r.swept(q), 1.0
	if swept > 0 {
		stay = num.Exp(-swept)
		held *= p.before * stay
	}
	p.r.finish(a, t, q, swept, stay, held, pores, entered, taken)
}
