package num

import "math"

// ODEState is the state of a small system of differential equations. Unused
// places stay zero.
type ODEState [4]float64

// An ODE follows y' = F(t, y) by the Dormand–Prince pair of orders 5 and 4,
// with steps chosen to keep the error of each within Abs + Rel·|y|, and a
// continuous answer of order 4 between them. Set the fields, then call Start
// once and At for times that do not fall.
//
// Source: Hairer, Nørsett and Wanner, Solving Ordinary Differential Equations
// I, 2nd edition, 1993, II.4 to II.6.
type ODE struct {
	F        func(t float64, y *ODEState, dy *ODEState)
	Rel      float64
	Abs      ODEState
	MaxSteps int

	t, h         float64 // end of the last step, length of the next
	y, k1        ODEState
	from, length float64     // the last step
	dense        [5]ODEState // its interpolant
	steps        int

	k2, k3, k4, k5, k6, k7, z, next ODEState // of one step, here so that they need no new memory
}

// Start sets the first point and the first step to try.
func (o *ODE) Start(t float64, y ODEState, h float64) {
	o.t, o.y, o.h = t, y, h
	o.from, o.length, o.steps = t, 0, 0
	o.dense = [5]ODEState{y}
	o.F(t, &o.y, &o.k1)
}

// At returns the state at t, which is not before the last t asked for. ok is
// that of the steps there.
func (o *ODE) At(t float64) (y ODEState, ok bool) {
	for o.t < t {
		if !o.Step() {
			return ODEState{}, false
		}
	}
	return o.Within(t), true
}

// Within is the state at t, which lies in the last step.
func (o *ODE) Within(t float64) (y ODEState) {
	if o.length == 0 {
		return o.y
	}
	s := (t - o.from) / o.length
	r := 1 - s
	d := &o.dense
	for i := range y {
		y[i] = d[0][i] + s*(d[1][i]+r*(d[2][i]+s*(d[3][i]+r*d[4][i])))
	}
	return y
}

// Reached is the end of the last step.
func (o *ODE) Reached() float64 { return o.t }

// Last is the start and the length of the last step. F was asked for its start
// before, and for [ODEStages] of its length since, in that order; then once
// more for its end.
func (o *ODE) Last() (from, length float64) { return o.from, o.length }

// ODEStages are the places within a step at which F is asked.
var ODEStages = [5]float64{1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1}

// Steps is the number of steps taken and refused so far.
func (o *ODE) Steps() int { return o.steps }

// Step takes one step that keeps the error. It is false when the steps become
// too many or too small, or F is not finite.
func (o *ODE) Step() bool {
	y, k1, k2, k3, k4, k5, k6, k7, z, next := &o.y, &o.k1, &o.k2, &o.k3, &o.k4, &o.k5, &o.k6, &o.k7, &o.z, &o.next
	rejected := false
	for {
		if o.steps++; o.steps > o.MaxSteps {
			return false
		}
		h, t := o.h, o.t
		if !(t+0.1*h > t) || math.IsInf(h, 0) {
			return false
		}
		for i := range z {
			z[i] = y[i] + h*(1.0/5)*k1[i]
		}
		o.F(t+h/5, z, k2)
		for i := range z {
			z[i] = y[i] + h*(3.0/40*k1[i]+9.0/40*k2[i])
		}
		o.F(t+3*h/10, z, k3)
		for i := range z {
			z[i] = y[i] + h*(44.0/45*k1[i]-56.0/15*k2[i]+32.0/9*k3[i])
		}
		o.F(t+4*h/5, z, k4)
		for i := range z {
			z[i] = y[i] + h*(19372.0/6561*k1[i]-25360.0/2187*k2[i]+64448.0/6561*k3[i]-212.0/729*k4[i])
		}
		o.F(t+8*h/9, z, k5)
		for i := range z {
			z[i] = y[i] + h*(9017.0/3168*k1[i]-355.0/33*k2[i]+46732.0/5247*k3[i]+49.0/176*k4[i]-5103.0/18656*k5[i])
		}
		o.F(t+h, z, k6)
		for i := range z {
			next[i] = y[i] + h*(35.0/384*k1[i]+500.0/1113*k3[i]+125.0/192*k4[i]-2187.0/6784*k5[i]+11.0/84*k6[i])
		}
		o.F(t+h, next, k7)
		worst := 0.0
		for i := range z {
			e := h * (71.0/57600*k1[i] - 71.0/16695*k3[i] + 71.0/1920*k4[i] - 17253.0/339200*k5[i] + 22.0/525*k6[i] - 1.0/40*k7[i])
			tol := o.Abs[i] + o.Rel*math.Max(math.Abs(y[i]), math.Abs(next[i]))
			switch {
			case e != e || math.IsInf(e, 0):
				worst = math.Inf(1)
			case e != 0:
				worst = math.Max(worst, math.Abs(e)/tol)
			}
		}
		if !(worst <= 1) {
			rejected = true
			o.h = h * math.Max(0.1, 0.9*math.Pow(worst, -0.2))
			continue
		}
		grow := 5.0
		if rejected {
			grow = 1
		}
		o.h = h * math.Min(grow, 0.9*math.Pow(math.Max(worst, 1e-10), -0.2))
		for i := range z {
			diff := next[i] - y[i]
			b := h*k1[i] - diff
			o.dense[0][i] = y[i]
			o.dense[1][i] = diff
			o.dense[2][i] = b
			o.dense[3][i] = diff - h*k7[i] - b
			o.dense[4][i] = h * (-12715105075.0/11282082432*k1[i] + 87487479700.0/32700410799*k3[i] -
				10690763975.0/1880347072*k4[i] + 701980252875.0/199316789632*k5[i] -
				1453857185.0/822651844*k6[i] + 69997945.0/29380423*k7[i])
		}
		o.from, o.length = t, h
		o.t, o.y, o.k1 = t+h, *next, *k7
		return true
	}
}
