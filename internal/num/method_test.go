package num

import (
	"math"
	"testing"
)

// dormandPrince is the tableau as it is printed: nodes, coefficients, and the
// weights of both orders. Source: Dormand and Prince, J. Comput. Appl. Math. 6,
// 1980; by memory.
var (
	dpC = []float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}
	dpA = [][]float64{{}, {1. / 5}, {3. / 40, 9. / 40}, {44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
		{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84}}
	dp5 = []float64{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84, 0}
	dp4 = []float64{5179. / 57600, 0, 7571. / 16695, 393. / 640, -92097. / 339200, 187. / 2100, 1. / 40}
)

// dpStep is one step of the tableau: the answer of order 5 and its difference
// to that of order 4.
func dpStep(f func(float64, *ODEState, *ODEState), t, h float64, y ODEState) (next, diff ODEState) {
	var k [7]ODEState
	for i := range 7 {
		z := y
		for j, a := range dpA[i] {
			for m := range z {
				z[m] += h * a * k[j][m]
			}
		}
		f(t+dpC[i]*h, &z, &k[i])
	}
	next = y
	for i := range 7 {
		for m := range y {
			next[m] += h * dp5[i] * k[i][m]
			diff[m] += h * (dp5[i] - dp4[i]) * k[i][m]
		}
	}
	return next, diff
}

func pendulum(t float64, y, dy *ODEState) {
	dy[0], dy[1] = y[1], -math.Sin(y[0])-0.1*y[1]*y[1]+0.3*math.Cos(2*t)
	dy[2], dy[3] = y[0]*y[3]-t, 1/(1+y[2]*y[2])-y[3]
}

// Every step is the tableau's, and the next is as long as its error allows:
// 0.9·error^(−1/5) times it, at most five times, no longer after a refusal, at
// least a tenth.
func TestODEStepsAreTheTableaus(t *testing.T) {
	o := ODE{F: pendulum, Rel: 1e-9, Abs: ODEState{1e-10, 2e-10, 3e-10, 4e-10}, MaxSteps: 400}
	at, y, h := 0.25, ODEState{1, 0.4, -0.2, 0.7}, 1e-5
	o.Start(at, y, h)
	tries, refused := 0, 0
	for range 120 {
		rejected := false
		var next ODEState
		for {
			tries++
			var diff ODEState
			next, diff = dpStep(pendulum, at, h, y)
			worst := 0.0
			for m := range y {
				worst = math.Max(worst, math.Abs(diff[m])/(o.Abs[m]+o.Rel*math.Max(math.Abs(y[m]), math.Abs(next[m]))))
			}
			used := h
			factor := 0.9 * math.Pow(math.Max(worst, 1e-10), -0.2)
			if worst > 1 {
				rejected = true
				refused++
				h *= math.Max(0.1, factor)
				continue
			}
			if rejected {
				h *= math.Min(1, factor)
			} else {
				h *= math.Min(5, factor)
			}
			at, y = at+used, next
			break
		}
		if !o.Step() {
			t.Fatal("no step")
		}
		if got := o.Within(o.Reached()); math.Abs(o.Reached()-at) > 1e-6*at || o.Steps() != tries || math.Abs(got[0]-y[0])+math.Abs(got[1]-y[1])+math.Abs(got[2]-y[2])+math.Abs(got[3]-y[3]) > 1e-8 {
			t.Fatalf("after %d tries at %v: %v; the tableau is at %v: %v after %d", o.Steps(), o.Reached(), got, at, y, tries)
		}
		at, y = o.Reached(), o.Within(o.Reached()) // rounding is not to add up
	}
	// From a first step far too long the tenth is met.
	o.Start(0, ODEState{1, 0.4, -0.2, 0.7}, 40)
	if !o.Step() {
		t.Fatal("no step")
	}
	_, length := o.Last()
	tries, h = 0, 40
	for {
		tries++
		next, diff := dpStep(pendulum, 0, h, ODEState{1, 0.4, -0.2, 0.7})
		worst := 0.0
		for m, v := range (ODEState{1, 0.4, -0.2, 0.7}) {
			worst = math.Max(worst, math.Abs(diff[m])/(o.Abs[m]+o.Rel*math.Max(math.Abs(v), math.Abs(next[m]))))
		}
		if worst <= 1 {
			break
		}
		h *= math.Max(0.1, 0.9*math.Pow(worst, -0.2))
	}
	if math.Abs(length/h-1) > 1e-6 || o.Steps() != tries {
		t.Errorf("a first step of %v after %d tries, by the tableau %v after %d", length, o.Steps(), h, tries)
	}
	if refused == 0 {
		t.Error("no step was refused")
	}
}

// One step errs by the sixth power of its length, and within it by the fifth.
func TestODEOrders(t *testing.T) {
	f := func(t float64, y, dy *ODEState) { dy[0], dy[1] = y[0]*y[0]*math.Cos(t), -2*t*y[1] }
	exact := func(t float64) (float64, float64) { return 1 / (2 - math.Sin(t)), math.Exp(-t * t) } // from 1/2 and 1
	off := func(h float64, inside bool) (e [2]float64) {                                           // at the end, or the worst before it
		o := ODE{F: f, Rel: 1, Abs: ODEState{1, 1, 1, 1}, MaxSteps: 10}
		a, b := exact(0.3)
		o.Start(0.3, ODEState{a, b}, h)
		if !o.Step() {
			t.Fatal("no step")
		}
		at := []float64{1}
		if inside {
			at = []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9}
		}
		for _, s := range at {
			y := o.Within(0.3 + s*h)
			a, b = exact(0.3 + s*h)
			e[0], e[1] = math.Max(e[0], math.Abs(y[0]-a)), math.Max(e[1], math.Abs(y[1]-b))
		}
		return e
	}
	for inside, least := range map[bool]float64{false: 45, true: 26} { // 2⁶ = 64 and 2⁵ = 32
		h := map[bool]float64{false: 0.3, true: 0.1}[inside]
		long, short := off(h, inside), off(h/2, inside)
		for i := range long {
			if !(long[i]/short[i] > least) || !(short[i] < 1e-7) {
				t.Errorf("inside %v: errors %v and, at half the length, %v", inside, long[i], short[i])
			}
		}
	}
}

// The covariance of a parabola against Cramer's rule, and where two
// parameters nearly tell one thing, that it is said only when they do.
func TestCovarianceByCramer(t *testing.T) {
	x := []float64{-1, 0, 0.5, 2, 3, 4.5, 7}
	noise := []float64{0.1, -0.2, 0.15, 0.05, -0.1, 0.2, -0.15}
	fit, err := LeastSquares(len(x), []float64{0, 3, -1}, func(dst, p []float64) {
		for i, v := range x {
			dst[i] = 2 - v + 0.5*v*v + noise[i] - p[0] - p[1]*v - p[2]*v*v
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	var s [5]float64
	for _, v := range x {
		for k := range s {
			s[k] += math.Pow(v, float64(k))
		}
	}
	m := [3][3]float64{{s[0], s[1], s[2]}, {s[1], s[2], s[3]}, {s[2], s[3], s[4]}}
	minor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return m[a][c]*m[b][d] - m[a][d]*m[b][c]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	rss := 0.0
	for i, v := range x {
		r := 2 - v + 0.5*v*v + noise[i] - fit.P[0] - fit.P[1]*v - fit.P[2]*v*v
		rss += r * r
	}
	if fit.DF != 4 || math.Abs(fit.RSS/rss-1) > 1e-9 || math.Abs(fit.ResidualSD()/math.Sqrt(rss/4)-1) > 1e-9 {
		t.Errorf("%+v", fit)
	}
	for i := range 3 {
		for j := range 3 {
			if want := minor(j, i) / det * rss / 4; math.Abs(fit.Cov[i][j]-want) > 1e-8*math.Abs(want) {
				t.Errorf("covariance %d, %d: %v, want %v", i, j, fit.Cov[i][j], want)
			}
		}
		if math.Abs(fit.SE[i]/math.Sqrt(fit.Cov[i][i])-1) > 1e-14 {
			t.Errorf("standard error %d: %v", i, fit.SE[i])
		}
	}
	for split, want := range map[float64]error{1e-6: nil, 1e-13: ErrSingular} {
		_, err := LeastSquares(6, []float64{1, 1}, func(dst, p []float64) {
			for i := range dst {
				v := float64(i)
				dst[i] = p[0]*v + p[1]*v*(1+split*v) - 3*v - noise[i]
			}
		})
		if err != want {
			t.Errorf("columns apart by %v: %v", split, err)
		}
	}
}

// The paths of the two searches. The answers do not depend on them, so these
// are our own, frozen: they hold the constants by which a region grows and
// shrinks, and Brent's choice between his three steps. Only products, sums and
// quotients lead here, which are the same on every machine.
func TestPathsOfTheSearches(t *testing.T) {
	var path []float64
	Root(func(x float64) float64 { path = append(path, x); return (x-1)*(1+(x-1)*(x-1)*40) - 0.3 }, -4, 3, 1e-9)
	compare(t, "root of a cubic", path, rootPath)
	path = nil
	Root(func(x float64) float64 { path = append(path, x); return 1/(x+0.02) - 3 }, 0, 60, 0)
	compare(t, "root of a quotient", path, quotientPath)
	path = nil
	_, err := LeastSquares(3, []float64{-1.9, 2}, func(dst, p []float64) {
		path = append(path, p[0], p[1])
		dst[0], dst[1], dst[2] = 10*(p[1]-p[0]*p[0]), 1-p[0], 0.1*(p[0]+p[1]-2.5)
	})
	if err != nil {
		t.Fatal(err)
	}
	compare(t, "valley", path[:min(len(path), len(valleyPath))], valleyPath)
	path = nil
	_, err = LeastSquares(6, []float64{1, 1, 1}, func(dst, p []float64) {
		path = append(path, p...)
		for i := range dst {
			v := float64(i)
			dst[i] = p[0]/(1+p[1]*v*v) + p[2]*v - []float64{9, 4.1, 1.6, 1.1, 0.9, 1}[i]
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	compare(t, "quotient and line", path[:min(len(path), len(lorentzPath))], lorentzPath)
}

func compare(t *testing.T, name string, got, want []float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %d places, frozen %d", name, len(got), len(want))
	}
	for i := range min(len(got), len(want)) {
		if !(math.Abs(got[i]-want[i]) <= 2e-9*math.Max(1e-3, math.Abs(want[i]))) {
			t.Errorf("%s: place %d is %.12g, frozen %.12g", name, i, got[i], want[i])
			return
		}
	}
}

var (
	rootPath = []float64{
		-4, 3, 2.57726675427, 2.18061153191, -0.909694234044, 1.5874051726,
		1.50448203976, 1.36240870558, 0.22635723577, 1.25880446519, 1.20904431876, 1.17361813295,
		1.15842849065, 1.15438449256, 1.15398535836, 1.15397646833, 1.1539764503, 1.1539764498,
	}
	quotientPath = []float64{
		0, 60, 56.4188, 28.2094, 14.1047, 7.05235,
		3.526175, 1.7630875, 0.88154375, 0.440771875, 0.2203859375, 0.348868575063,
		0.309545073119, 0.313737183561, 0.313337923003, 0.31333333327, 0.313333333333, 0.313333333333,
	}
	valleyPath = []float64{
		-1.9, 2, -1.9000114, 2, -1.8999886, 2,
		-1.9, 1.999988, -1.9, 2.000012, 0.768678720446, -6.53015299023,
		-1.53207752038, 2.21091752963, -1.53208671285, 2.21091752963, -1.53206832792, 2.21091752963,
		-1.53207752038, 2.21090426413, -1.53207752038, 2.21093079514, -0.934119950815, 0.517613142674,
		-1.38414532504, 1.89654871238, -1.38415362991, 1.89654871238, -1.38413702017, 1.89654871238,
		-1.38414532504, 1.89653733308, -1.38414532504, 1.89656009167, -1.13137457672, 1.21891697395,
		-1.13138136497, 1.21891697395, -1.13136778847, 1.21891697395, -1.13137457672, 1.21890966045,
		-1.13137457672, 1.21892428745, -0.833028246545, 0.607130266548, -0.833033244715, 0.607130266548,
		-0.833023248376, 0.607130266548, -0.833028246545, 0.607126623766, -0.833028246545, 0.607133909329,
		-0.544098641809, 0.214087328178, -0.544101906401, 0.214087328178, -0.544095377217, 0.214087328178,
		-0.544098641809, 0.214086043654, -0.544098641809, 0.214088612702, -0.212936425272, -0.0633885600412,
		-0.212937702891, -0.0633885600412, -0.212935147654, -0.0633885600412, -0.212936425272, -0.0633895514499,
		-0.212936425272, -0.0633875686325, 0.126112906924, -0.0987388331614, 0.126112150247, -0.0987388331614,
		0.126113663602, -0.0987388331614, 0.126112906924, -0.0987397106626, 0.126112906924, -0.0987379556602,
		0.461617370613, 0.100492269904, 0.461614600909, 0.100492269904, 0.461620140318, 0.100492269904,
		0.461617370613, 0.100491512123, 0.461617370613, 0.100493027685, 0.784674446058, 0.511274413023,
		0.784669738011, 0.511274413023, 0.784679154105, 0.511274413023, 0.784674446058, 0.511271345377,
		0.784674446058, 0.51127748067, 1.01316745231, 0.974350480719, 1.01316137331, 0.974350480719,
		1.01317353131, 0.974350480719, 1.01316745231, 0.974344634617, 1.01316745231, 0.974356326822,
		1.01386562378, 1.02796883219, 1.01385954059, 1.02796883219, 1.01387170697, 1.02796883219,
	}
	lorentzPath = []float64{
		1, 1, 1, 0.999994, 1, 1,
		1.000006, 1, 1, 1, 0.999994, 1,
		1, 1.000006, 1, 1, 1, 0.999994,
		1, 1, 1.000006, 9.01088224898, 3.40234352548, 0.136873954568,
		9.01082818368, 3.40234352548, 0.136873954568, 9.01093631427, 3.40234352548, 0.136873954568,
		9.01088224898, 3.40232311142, 0.136873954568, 9.01088224898, 3.40236393954, 0.136873954568,
		9.01088224898, 3.40234352548, 0.136872253709, 9.01088224898, 3.40234352548, 0.136875655428,
		9.00000028616, -0.697073175875, 0.149393957702, 9.00000028616, -0.697073175875, 0.149393957702,
		9.0439836007, 3.00600473517, 0.147079969521, 9.0439293368, 3.00600473517, 0.147079969521,
		9.0440378646, 3.00600473517, 0.147079969521, 9.0439836007, 3.00598432111, 0.147079969521,
		9.0439836007, 3.00602514923, 0.147079969521, 9.0439836007, 3.00600473517, 0.147078477607,
		9.0439836007, 3.00600473517, 0.147081461436, 9.10382814705, 2.33589864186, 0.163789092153,
		9.10377352408, 2.33589864186, 0.163789092153, 9.10388277002, 2.33589864186, 0.163789092153,
		9.10382814705, 2.33588462647, 0.163789092153, 9.10382814705, 2.33591265725, 0.163789092153,
		9.10382814705, 2.33589864186, 0.163788049508, 9.10382814705, 2.33589864186, 0.163790134798,
		9.11938426084, 1.37506680461, 0.16526239021, 9.11932954453, 1.37506680461, 0.16526239021,
		9.11943897714, 1.37506680461, 0.16526239021, 9.11938426084, 1.37505855421, 0.16526239021,
		9.11938426084, 1.37507505502, 0.16526239021, 9.11938426084, 1.37506680461, 0.165261398636,
		9.11938426084, 1.37506680461, 0.165263381784, 9.00801694346, 1.3045150465, 0.132736637653,
		9.00796289536, 1.3045150465, 0.132736637653, 9.00807099156, 1.3045150465, 0.132736637653,
		9.00801694346, 1.30450721941, 0.132736637653, 9.00801694346, 1.30452287359, 0.132736637653,
		9.00801694346, 1.3045150465, 0.132735841233, 9.00801694346, 1.3045150465, 0.132737434073,
		9.00876461572, 1.30697176249, 0.132766811419, 9.00871056313, 1.30697176249, 0.132766811419,
		9.00881866831, 1.30697176249, 0.132766811419, 9.00876461572, 1.30696392066, 0.132766811419,
		9.00876461572, 1.30697960432, 0.132766811419, 9.00876461572, 1.30697176249, 0.132766014818,
	}
)
