package num

import (
	"bufio"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func TestRoot(t *testing.T) {
	for name, c := range map[string]struct {
		f    func(float64) float64
		a, b float64
		want float64
	}{
		"cosine":    {func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607},
		"cubic":     {func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265},
		"flat":      {func(x float64) float64 { return math.Pow(x-1, 9) }, 0, 3, 1},
		"at an end": {func(x float64) float64 { return x - 2 }, 0, 2, 2},
		"reversed":  {func(x float64) float64 { return 1 - x }, 5, 0, 1},
	} {
		got, ok := Root(c.f, c.a, c.b, 0)
		if tol := 1e-14; name == "flat" {
			tol = 1e-1 // every x near 1 gives zero to working precision
			if !ok || !(math.Abs(got-c.want) < tol) {
				t.Errorf("%s: %v, %v", name, got, ok)
			}
		} else if !ok || !(math.Abs(got-c.want) <= tol*c.want) {
			t.Errorf("%s: %v, %v, want %v", name, got, ok, c.want)
		}
	}
	for name, f := range map[string]func(float64) float64{
		"no sign change": func(x float64) float64 { return x*x + 1 },
		"NaN at an end":  math.Log,
		"NaN inside":     func(x float64) float64 { return (x - 0.5) / math.Sqrt(math.Abs(x)-0.9) },
	} {
		if x, ok := Root(f, -1, 1, 0); ok {
			t.Errorf("%s: found %v", name, x)
		}
	}
}

// A strd is one of the NIST Statistical Reference Datasets.
type strd struct {
	y, x                  []float64
	start1, start2, b, sd []float64
	rss, residualSD       float64
}

var field = regexp.MustCompile(`(start1|start2|certified|certified_sd) ([-+0-9.eE]+)`)

func readStRD(t *testing.T, name string) strd {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var s strd
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for in := bufio.NewScanner(f); in.Scan(); {
		line := in.Text()
		switch {
		case strings.HasPrefix(line, "# b"):
			for _, m := range field.FindAllStringSubmatch(line, -1) {
				v := number(m[2])
				switch m[1] {
				case "start1":
					s.start1 = append(s.start1, v)
				case "start2":
					s.start2 = append(s.start2, v)
				case "certified":
					s.b = append(s.b, v)
				case "certified_sd":
					s.sd = append(s.sd, v)
				}
			}
		case strings.HasPrefix(line, "# certified_residual_sum_of_squares:"):
			s.rss = number(line[strings.Index(line, ":")+1:])
		case strings.HasPrefix(line, "# certified_residual_sd:"):
			s.residualSD = number(line[strings.Index(line, ":")+1:])
		case !strings.HasPrefix(line, "#") && line != "":
			w := strings.Fields(line)
			s.y = append(s.y, number(w[0]))
			s.x = append(s.x, number(w[1]))
		}
	}
	return s
}

// strdModels are the certified nonlinear models; norris is the straight line.
var strdModels = map[string]func(b []float64, x float64) float64{
	"misra1a":  func(b []float64, x float64) float64 { return b[0] * -math.Expm1(-b[1]*x) },
	"boxbod":   func(b []float64, x float64) float64 { return b[0] * -math.Expm1(-b[1]*x) },
	"chwirut2": func(b []float64, x float64) float64 { return math.Exp(-b[0]*x) / (b[1] + b[2]*x) },
	"rat42":    func(b []float64, x float64) float64 { return b[0] / (1 + math.Exp(b[1]-b[2]*x)) },
	"rat43":    func(b []float64, x float64) float64 { return b[0] / math.Pow(1+math.Exp(b[1]-b[2]*x), 1/b[3]) },
	"mgh17": func(b []float64, x float64) float64 {
		return b[0] + b[1]*math.Exp(-x*b[3]) + b[2]*math.Exp(-x*b[4])
	},
	"norris": func(b []float64, x float64) float64 { return b[0] + b[1]*x },
}

// The NIST certified values to at least six digits, from both starts.
func TestLeastSquaresOnCertifiedData(t *testing.T) {
	for name, model := range strdModels {
		s := readStRD(t, name)
		starts := [][]float64{s.start1, s.start2}
		if name == "norris" {
			starts = [][]float64{{0, 0}, {-100, 100}}
		}
		for i, start := range starts {
			fit, err := LeastSquares(len(s.y), start, func(dst, p []float64) {
				for i, x := range s.x {
					dst[i] = s.y[i] - model(p, x)
				}
			})
			if err != nil {
				t.Errorf("%s from start %d: %v", name, i+1, err)
				continue
			}
			near := func(what string, got, want float64) {
				if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
					t.Errorf("%s from start %d: %s is %.11g, certified %.11g", name, i+1, what, got, want)
				}
			}
			for j := range s.b {
				near("parameter", fit.P[j], s.b[j])
				near("its error", fit.SE[j], s.sd[j])
			}
			near("sum of squares", fit.RSS, s.rss)
			near("residual sd", fit.ResidualSD(), s.residualSD)
		}
	}
}

// A decay with a drift that is nothing, and a rate that may not be negative:
// what a fit to weighings asks of the search.
func TestLeastSquaresNearZeroAndBounds(t *testing.T) {
	at := []float64{0.25, 0.5, 1, 2, 4, 7, 14, 30}
	noise := []float64{1, -2, 1, 2, -1, -2, 2, -1}
	tries := 0
	resid := func(dst, p []float64) {
		tries++
		for i, x := range at {
			dst[i] = 8*-math.Expm1(-0.3*x) + 1e-3*noise[i] - p[0]*-math.Expm1(-p[1]*x) - p[2]*x
		}
		if !(p[1] > 0) {
			dst[0] = math.NaN()
		}
	}
	want, err := LeastSquares(len(at), []float64{8, 0.3, 0}, resid)
	if err != nil {
		t.Fatal(err)
	}
	for _, start := range [][]float64{{1, 5, 0}, {20, 0.01, 1}, {8, 0.3, 1e-17}, {1e3, 2, -3}} {
		tries = 0
		got, err := LeastSquares(len(at), start, resid)
		if err != nil {
			t.Errorf("from %v: %v", start, err)
			continue
		}
		for j := range want.P {
			if !(math.Abs(got.P[j]-want.P[j]) <= 1e-6*want.SE[j]) || !(math.Abs(got.SE[j]-want.SE[j]) <= 1e-6*want.SE[j]) {
				t.Errorf("from %v: parameter %d is %v ± %v, want %v ± %v", start, j, got.P[j], got.SE[j], want.P[j], want.SE[j])
			}
		}
		if tries > 3000 {
			t.Errorf("from %v: %d evaluations", start, tries)
		}
	}
}

func TestLeastSquaresRefuses(t *testing.T) {
	line := func(dst, p []float64) {
		for i := range dst {
			dst[i] = p[0] + p[1]*float64(i) - float64(i*i)
		}
	}
	if _, err := LeastSquares(2, []float64{0, 0}, line); err != ErrTooFew {
		t.Errorf("two points for two parameters: %v", err)
	}
	twins := func(dst, p []float64) {
		for i := range dst {
			dst[i] = p[0] + p[1] - float64(i)
		}
	}
	if _, err := LeastSquares(5, []float64{0, 0}, twins); err != ErrSingular {
		t.Errorf("two parameters that only their sum matters: %v", err)
	}
	idle := func(dst, p []float64) {
		for i := range dst {
			dst[i] = p[0] - float64(i)
		}
	}
	if _, err := LeastSquares(5, []float64{0, 0}, idle); err != ErrSingular {
		t.Errorf("a parameter without effect: %v", err)
	}
	bad := func(dst, p []float64) {
		for i := range dst {
			dst[i] = math.NaN()
		}
	}
	if _, err := LeastSquares(5, []float64{0}, bad); err != ErrNoAnswer {
		t.Errorf("NaN residuals: %v", err)
	}
}

// Values of standard tables; scipy 1.10 and R 4.2 agree on the long ones.
func TestDistributions(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"normal .975", NormalQuantile(0.975), 1.959963984540054},
		{"normal 1e-10", NormalQuantile(1e-10), -6.361340902404056},
		{"Φ(1.96)", NormalCDF(1.96), 0.9750021048517795},
		{"t .975, 9", StudentQuantile(0.975, 9), 2.262157162798},
		{"t .95, 1", StudentQuantile(0.95, 1), 6.313751514675043},
		{"t .0005, 2", StudentQuantile(0.0005, 2), -31.599054576443618},
		{"χ² .95, 10", ChiSquareQuantile(0.95, 10), 18.307038053275146},
		{"χ² .05, 9", ChiSquareQuantile(0.05, 9), 3.325112843066815},
		{"F(3.4902948; 3, 12)", FCDF(3.490294819497605, 3, 12), 0.95},
	} {
		if !(math.Abs(c.got-c.want) <= 2e-12*math.Abs(c.want)) {
			t.Errorf("%s is %.15g, want %.15g", c.name, c.got, c.want)
		}
	}
	for _, p := range []float64{0, 1, -1, 2, math.NaN()} {
		if v := StudentQuantile(p, 3); !math.IsNaN(v) {
			t.Errorf("StudentQuantile(%v) is %v", p, v)
		}
	}
	for _, nu := range []float64{1, 2.5, 30, 1e3} {
		for _, p := range []float64{1e-8, 0.025, 0.3, 0.9, 0.9999} {
			if back := StudentCDF(StudentQuantile(p, nu), nu); !(math.Abs(back-p) <= 1e-12) {
				t.Errorf("t with %v degrees: %v came back as %v", nu, p, back)
			}
		}
	}
}
