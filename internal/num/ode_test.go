package num

import (
	"math"
	"testing"
)

// The Arenstorf orbit closes after its period. Source: Hairer, Nørsett and
// Wanner, Solving Ordinary Differential Equations I, II.0; period and start
// from memory.
func TestODEArenstorf(t *testing.T) {
	const mu = 0.012277471
	start := ODEState{0.994, 0, 0, -2.00158510637908252240537862224}
	o := ODE{F: func(_ float64, y, dy *ODEState) {
		a, b := y[0]+mu, y[0]-(1-mu)
		d1 := math.Pow(a*a+y[1]*y[1], 1.5)
		d2 := math.Pow(b*b+y[1]*y[1], 1.5)
		dy[0], dy[1] = y[2], y[3]
		dy[2] = y[0] + 2*y[3] - (1-mu)*a/d1 - mu*b/d2
		dy[3] = y[1] - 2*y[2] - (1-mu)*y[1]/d1 - mu*y[1]/d2
	}, Rel: 1e-12, Abs: ODEState{1e-12, 1e-12, 1e-12, 1e-12}, MaxSteps: 100_000}
	o.Start(0, start, 1e-4)
	y, ok := o.At(17.0652165601579625588917206249)
	if !ok {
		t.Fatal("no answer")
	}
	for i := range 2 {
		if !(math.Abs(y[i]-start[i]) < 1e-5) { // unstable: errors grow about 1e6-fold
			t.Errorf("coordinate %d ends at %v, began at %v", i, y[i], start[i])
		}
	}
}

// Between the steps the answer keeps the error too.
func TestODEDense(t *testing.T) {
	o := ODE{F: func(t float64, y, dy *ODEState) {
		dy[0] = -3 * y[0]
		dy[1] = math.Cos(t)
		dy[2] = 2 * t * y[2]
	}, Rel: 1e-12, Abs: ODEState{1e-14, 1e-14, 1e-14, 1}, MaxSteps: 10_000}
	o.Start(0, ODEState{1, 0, 1}, 1e-3)
	for i := range 301 {
		at := float64(i) / 100
		y, ok := o.At(at)
		if !ok {
			t.Fatal("no answer")
		}
		for j, want := range []float64{math.Exp(-3 * at), math.Sin(at), math.Exp(at * at)} {
			if !(math.Abs(y[j]-want) <= 1e-10*math.Max(1, want)) {
				t.Errorf("t=%v: y[%d] is %v, want %v", at, j, y[j], want)
			}
		}
	}
}

// What cannot be followed is refused, never returned.
func TestODERefuses(t *testing.T) {
	for name, f := range map[string]func(float64, *ODEState, *ODEState){
		"pole":     func(_ float64, y, dy *ODEState) { dy[0] = y[0] * y[0] }, // infinite at t = 1
		"NaN":      func(at float64, y, dy *ODEState) { dy[0] = math.Log(0.5 - at) },
		"too fast": func(_ float64, y, dy *ODEState) { dy[0] = -1e9 * (y[0] - 1e-3) },
	} {
		o := ODE{F: f, Rel: 1e-10, Abs: ODEState{1e-12, 1, 1, 1}, MaxSteps: 2000}
		o.Start(0, ODEState{1}, 1e-3)
		if y, ok := o.At(2); ok {
			t.Errorf("%s: %v", name, y)
		}
	}
}
