package num

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The rule integrates every polynomial of its degree, at every stage, and at
// its end twice that, less one: this alone makes it the rule that it is.
func TestRadauIsExact(t *testing.T) {
	r := RadauRule()
	for degree := range 2*RadauStages - 1 {
		for i, c := range r.C {
			if degree >= RadauStages && i < RadauStages-1 {
				continue
			}
			got := 0.0
			for j, x := range r.C {
				got += r.Q[i][j] * math.Pow(x, float64(degree))
			}
			want := math.Pow(c, float64(degree+1)) / float64(degree+1)
			if !(math.Abs(got-want) <= 6e-16) { // a dozen roundings
				t.Errorf("∫x^%d to stage %d is %v, want %v", degree, i, got, want)
			}
		}
	}
	if r.C[RadauStages-1] != 1 {
		t.Errorf("the last stage is %v", r.C[RadauStages-1])
	}
}

// Between the stages the answer and its slope are those of the polynomial.
func TestRadauBetween(t *testing.T) {
	r := RadauRule()
	f := func(x float64) float64 { return math.Pow(x-0.3, 12) + x }
	slope := func(x float64) float64 { return 12*math.Pow(x-0.3, 11) + 1 }
	for _, s := range []float64{0, 1e-9, 0.001, r.C[0], 0.3, 0.5, r.C[7], 0.77, 0.999, 1} {
		got, total := 0.0, 0.0
		for i, share := range r.Between(s) {
			at := 0.0
			if i > 0 {
				at = r.C[i-1]
			}
			got += share * f(at)
			total += share
		}
		if !(math.Abs(got-f(s)) <= 1e-15 && math.Abs(total-1) <= 1e-14) {
			t.Errorf("at %v: %v, want %v; shares add up to %v", s, got, f(s), total)
		}
	}
	for _, s := range []float64{0, 0.001, 0.31, 0.5, 0.9} {
		got := 0.0
		for i, share := range r.Slope(s) {
			got += share * slope(r.C[i])
		}
		if !(math.Abs(got-slope(s)) <= 1e-14) {
			t.Errorf("slope at %v: %v, want %v", s, got, slope(s))
		}
	}
}

// Decay solves the equations of the rule, y = start + h·Q·(f − d·y), as the
// elimination does that knows nothing of modes; where it decays fast, to the last
// digits of what there is.
func TestDecaySolvesTheRule(t *testing.T) {
	const n = RadauStages
	r := RadauRule()
	draw := rand.New(rand.NewPCG(3, 1))
	for _, z := range []float64{0, 1e-9, 0.02, 1, 7.5, 300, 1e5, 1e9, 1e15} {
		for range 20 {
			start, h := draw.NormFloat64(), math.Exp(3*draw.NormFloat64())
			d := z / h
			var f [n]float64
			for i := range f {
				f[i] = draw.NormFloat64() * (1 + d)
			}
			var a [n * n]float64
			var want [n]float64
			for i := range n {
				want[i] = start
				for j := range n {
					want[i] += h * r.Q[i][j] * f[j]
					a[i*n+j] = z * r.Q[i][j]
				}
				a[i*n+i]++
			}
			if !Eliminate(a[:], want[:]) {
				t.Fatal("no answer")
			}
			size := math.Abs(start)
			for _, x := range want {
				size = max(size, math.Abs(x))
			}
			for i, y := range r.Decay(start, h, d, &f) {
				if !(math.Abs(y-want[i]) <= 2e-13*size) {
					t.Errorf("z %v, stage %d: %v, by elimination %v of %v", z, i, y, want[i], size)
				}
			}
		}
	}
}

// A constant f has the answer f/d + (start − f/d)·e^(−d·t); with an f that
// follows its own way, y may be anything: t² + sin t here.
func TestDecayInClosedForm(t *testing.T) {
	r := RadauRule()
	for _, z := range []float64{1e-6, 0.1, 1} { // faster, and no polynomial of twelve follows
		const h = 0.4
		d := z / h
		var flat, bent [RadauStages]float64
		for i, c := range r.C {
			flat[i] = 3
			bent[i] = 2*c*h + math.Cos(c*h) + d*(c*h*c*h+math.Sin(c*h))
		}
		a, b := r.Decay(7, h, d, &flat), r.Decay(0, h, d, &bent)
		for i, c := range r.C {
			want := 7 - (7-3/d)*-math.Expm1(-z*c)
			if !(math.Abs(a[i]-want) <= 4e-15*7) {
				t.Errorf("z %v, stage %d: %v, want %v", z, i, a[i], want)
			}
			if want := c*h*c*h + math.Sin(c*h); !(math.Abs(b[i]-want) <= 1e-15) {
				t.Errorf("z %v, stage %d: %v, want %v", z, i, b[i], want)
			}
		}
	}
}

// Hilbert's matrix, whose inverse is whole numbers; a system that needs its
// rows changed; and those that have no answer.
func TestEliminate(t *testing.T) {
	const n = 5
	var a [n * n]float64
	var b [n]float64
	for i := range n {
		for j := range n {
			a[i*n+j] = 1 / float64(i+j+1)
			b[i] += float64(j+1) / float64(i+j+1)
		}
	}
	if !Eliminate(a[:], b[:]) {
		t.Fatal("no answer")
	}
	for i, x := range b {
		if !(math.Abs(x-float64(i+1)) <= 1e-10) {
			t.Errorf("x[%d] is %v", i, x)
		}
	}
	two := []float64{3, 5, 7}
	if !Eliminate([]float64{0, 0, 2, 1, 0, 0, 0, 4, 0}, two) || two[0] != 5 || two[1] != 1.75 || two[2] != 1.5 {
		t.Errorf("rows changed: %v", two)
	}
	// Without the largest pivot, 1e-20 would swallow the second equation.
	small := []float64{1, 2}
	if !Eliminate([]float64{1e-20, 1, 1, 1}, small) || math.Abs(small[0]-1) > 1e-15 || math.Abs(small[1]-1) > 1e-15 {
		t.Errorf("a small pivot: %v", small)
	}
	// Rows that are taken away whole, added, or left alone.
	for by, a := range map[float64][]float64{1: {1, 2, 1, 5}, -1: {1, 2, -1, 5}, 0: {1, 2, 0, 5}} {
		if b := []float64{a[0]*3 + a[1]*7, a[2]*3 + a[3]*7}; !Eliminate(a, b) || b[0] != 3 || b[1] != 7 {
			t.Errorf("the first row %v times: %v", by, b)
		}
	}
	for name, a := range map[string][]float64{"singular": {1, 2, 2, 4}, "zero": {0, 0, 0, 0}, "NaN": {math.NaN(), 1, 1, 1}, "infinite": {math.Inf(1), 1, 1, 1}, "minus infinite": {1, 1, 1, math.Inf(-1)}} {
		if b := []float64{1, 1}; Eliminate(a, b) {
			t.Errorf("%s: %v", name, b)
		}
	}
}

// With the largest pivot of each column no step multiplies by more than one,
// and what is left over is a few roundings of the largest term (Higham,
// Accuracy and Stability of Numerical Algorithms, 2nd edition, 9.3); another
// pivot now and then multiplies by thousands.
func TestEliminateLeavesNothingOver(t *testing.T) {
	const n = 6
	draw := rand.New(rand.NewPCG(5, 7))
	for range 5000 {
		var a, kept [n * n]float64
		var b, x [n]float64
		for i := range kept {
			kept[i] = draw.NormFloat64()
		}
		for i := range b {
			b[i] = draw.NormFloat64()
		}
		a, x = kept, b
		if !Eliminate(a[:], x[:]) {
			t.Fatalf("no answer to %v", kept)
		}
		for i := range n {
			over, most := b[i], math.Abs(b[i])
			for j := range n {
				over -= kept[i*n+j] * x[j]
				for k := range n { // of all rows: elimination mixes them
					most = math.Max(most, math.Abs(kept[k*n+j]*x[j]))
				}
			}
			if !(math.Abs(over) <= 2e-15*most) {
				t.Fatalf("row %d of %v leaves %v of %v over", i, kept, over, most)
			}
		}
	}
}

// radau is one step of u' = λu, as two real equations, from 1 at 0 to 1.
func radau(lambda complex128) complex128 {
	r := RadauRule()
	re, im := real(lambda), imag(lambda)
	const m = RadauStages
	var a [4 * m * m]float64
	var b [2 * m]float64
	for i := range m {
		for j := range m {
			q := r.Q[i][j]
			a[i*2*m+j], a[i*2*m+m+j] = -q*re, q*im
			a[(m+i)*2*m+j], a[(m+i)*2*m+m+j] = -q*im, -q*re
		}
		a[i*2*m+i]++
		a[(m+i)*2*m+m+i]++
		b[i] = 1
	}
	Eliminate(a[:], b[:])
	return complex(b[m-1], b[2*m-1])
}

// One step turns by e^λ to the last digits where λ is moderate, and damps
// whatever is stiff: the rule is L-stable.
func TestRadauDamps(t *testing.T) {
	for _, l := range []complex128{-1, -4, 2i, complex(-2, 4), complex(0, 5)} {
		got := radau(l)
		e := math.Exp(real(l))
		want := complex(e*math.Cos(imag(l)), e*math.Sin(imag(l)))
		if d := got - want; !(math.Hypot(real(d), imag(d)) <= 1e-13) {
			t.Errorf("λ = %v: %v, want %v", l, got, want)
		}
	}
	for _, l := range []complex128{-1e3, -1e6, complex(-10, 1e4), complex(0, 1e3), complex(0, 1e8)} {
		if got := radau(l); !(math.Hypot(real(got), imag(got)) < 1) {
			t.Errorf("λ = %v grows to %v", l, got)
		}
	}
	if got := radau(-1e9); !(math.Hypot(real(got), imag(got)) < 1e-6) {
		t.Errorf("the stiffest is not damped: %v", got)
	}
}
