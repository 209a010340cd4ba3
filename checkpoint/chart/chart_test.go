package chart

import (
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/evenlot/internal/num"
)

var (
	inf = math.Inf(1)
	nan = math.NaN()
)

func refused(err error) (names []string) {
	var in *InputError
	if errors.As(err, &in) {
		for _, f := range in.Fields {
			names = append(names, f.Field)
		}
	}
	return names
}

func impossible(err error) bool {
	var no *ImpossibleError
	return errors.As(err, &no)
}

func near(a, b, rel float64) bool { return math.Abs(a-b) <= rel*math.Max(1e-30, math.Abs(b)) }

// normals is an invented series, by inversion of a plain congruential
// generator.
func normals(n int, seed uint64) []float64 {
	x := make([]float64, n)
	for i := range x {
		seed = seed*6364136223846793005 + 1442695040888963407
		x[i] = num.NormalQuantile((float64(seed>>11) + 0.5) / (1 << 53))
	}
	return x
}

func TestConstantsAgainstReference(t *testing.T) {
	b, err := os.ReadFile("testdata/constants.csv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(b)), "\n")[2:]
	if len(lines) != MaxGroup-1 {
		t.Fatalf("%d rows", len(lines))
	}
	for i, line := range lines {
		f := strings.Split(line, ",")
		d2, err1 := strconv.ParseFloat(f[1], 64)
		d3, err2 := strconv.ParseFloat(f[2], 64)
		if err1 != nil || err2 != nil || f[0] != strconv.Itoa(i+2) || math.Abs(meanRange[i]-d2) > 1e-9 || math.Abs(rangeSD[i]-d3) > 1e-9 {
			t.Errorf("n = %s: %v and %v, want %s and %s", f[0], meanRange[i], rangeSD[i], f[1], f[2])
		}
	}
	// And by our own quadrature: E(R) = ∫ 1 − Φⁿ − (1 − Φ)ⁿ dx; for two, both
	// in closed form.
	for n := 2; n <= MaxGroup; n++ {
		d2 := 0.0
		for a := -9.0; a < 9; a++ {
			d2 += num.Gauss(func(x float64) float64 {
				p := num.NormalCDF(x)
				return 1 - math.Pow(p, float64(n)) - math.Pow(1-p, float64(n))
			}, a, a+1)
		}
		if math.Abs(d2-meanRange[n-2]) > 1e-9 {
			t.Errorf("d2 of %d is %v, want %v", n, meanRange[n-2], d2)
		}
	}
	if math.Abs(rangeSD[0]-math.Sqrt(2-4/math.Pi)) > 1e-9 {
		t.Error(rangeSD[0])
	}
	last := Factors{}
	for n := 2; n <= MaxGroup; n++ {
		f, err := GroupFactors(n)
		if err != nil || !(f.MeanRange > last.MeanRange && f.MeanSD > last.MeanSD && f.MeanSD < 1 && f.B3 >= last.B3 && f.D3 >= last.D3) {
			t.Errorf("n = %d: %+v after %+v", n, f, last)
		}
		last = f
	}
}

func TestRefusals(t *testing.T) {
	next := math.Nextafter
	over := next(MaxMagnitude, inf)
	x := []float64{1, 2, 4, 3}
	one := func(_ any, err error) error { return err }
	lines := Lines{0, -3, 3, 1}
	still := Still{10, 1, 9, 10, 7, 13, 95}
	with := func(change func(*Still)) Still {
		s := still
		change(&s)
		return s
	}
	for _, c := range []struct {
		name string
		err  error
		want []string
	}{
		{"factors of one", one(GroupFactors(1)), []string{"n"}},
		{"factors of too many", one(GroupFactors(26)), []string{"n"}},
		{"individuals", one(Individuals(x)), nil},
		{"one reading", one(Individuals(x[:1])), []string{"x"}},
		{"bad readings", one(Individuals([]float64{nan, over, 1, -inf}, 4, -1)), []string{"x[0]", "x[1]", "x[3]", "setAside[0]", "setAside[1]"}},
		{"groups", one(MeanAndRange(x, 2)), nil},
		{"half a group", one(MeanAndRange(x, 3)), []string{"x"}},
		{"one group", one(MeanAndSD(x, 4)), []string{"x"}},
		{"no group", one(MeanAndSD(nil, 26)), []string{"x", "size"}},
		{"summary", one(FromMeanSD(0, 1e-300, 25, 2)), nil},
		{"no summary", one(FromMeanSD(nan, 0, 1, 1)), []string{"grandMean", "meanSD", "size", "groups"}},
		{"points of groups", func() error { _, _, _, err := Groups(x, 1); return err }(), []string{"size"}},
		{"targets", one(Deviations(x, x[:3])), []string{"target"}},
		{"no targets", one(Deviations(nil, []float64{nan})), []string{"x", "target[0]", "target"}},
		{"check", one(Check(x, lines, Nelson)), nil},
		{"zero lines", one(Check(x, Lines{}, Beyond)), []string{"Sigma"}},
		{"crossed lines", one(Check(x, Lines{0, 1, -1, 1}, Beyond)), []string{"Lower", "Upper"}},
		{"NaN lines", one(Check(x, Lines{nan, nan, nan, nan}, 0)), []string{"Centre", "Lower", "Upper", "Sigma", "rules"}},
		{"unknown rule", one(Check(nil, lines, 1<<9)), []string{"x", "rules"}},
		{"run length", one(RunLength(Beyond, 10)), nil},
		{"of steps", one(RunLength(Nelson, next(10, 11))), []string{"rules", "shiftSD"}},
		{"of none", one(RunLength(0, nan)), []string{"rules", "shiftSD"}},
		{"miss", one(MissPct(0, 1000)), nil},
		{"no miss", one(MissPct(-1, 0)), []string{"shiftSD", "size"}},
		{"EWMA", one(EWMA(x, Smooth{0, 1, 1, 0.1})), nil},
		{"zero EWMA", one(EWMA(x, Smooth{})), []string{"Sigma", "Lambda", "Width"}},
		{"EWMA beyond", one(EWMA(nil, Smooth{nan, over, next(0.01, 0), next(10, 11)})), []string{"x", "Target", "Sigma", "Lambda", "Width"}},
		{"CUSUM", one(CUSUM(x, Cumulate{0, 0, 1})), nil},
		{"zero CUSUM", one(CUSUM(x, Cumulate{})), []string{"Decision"}},
		{"CUSUM beyond", one(CUSUM(nil, Cumulate{nan, -1, over})), []string{"x", "Target", "Slack", "Decision"}},
		{"sums", one(Sums(nil, nan)), []string{"x", "target"}},
		{"capability", one(Capability(still)), nil},
		{"zero process", one(Capability(Still{})), []string{"SD", "DF", "N", "Hi", "ConfidencePct"}},
		{"NaN process", one(Capability(Still{nan, nan, 0, 1, nan, nan, nan})), []string{"Mean", "SD", "DF", "N", "Lo", "Hi", "ConfidencePct"}},
		{"no limits", one(Capability(with(func(s *Still) { s.Lo, s.Hi = -inf, inf }))), []string{"Hi"}},
		{"an index past all numbers", one(Capability(Still{0, 1e-300, 9, 10, -1, 1, 95})), []string{"SD"}},
	} {
		if d := cmp.Diff(c.want, refused(c.err)); d != "" || c.want == nil && c.err != nil {
			t.Errorf("%s: refused (-want +got):\n%s%v", c.name, d, c.err)
		}
	}
	for name, err := range map[string]error{
		"no scatter":            one(Individuals([]float64{5, 5, 5})),
		"no range":              one(MeanAndRange([]float64{5, 5, 6, 6}, 2)),
		"no deviation":          one(MeanAndSD([]float64{5, 5, 6, 6}, 2)),
		"all but one set aside": one(Individuals(x, 0, 1, 2)),
	} {
		if !impossible(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Individuals([]float64{1, 2, 3}, 1); !impossible(err) {
		t.Errorf("no two in a row: %v", err)
	}
}

// The lines find the standard deviation of an invented process, whichever way
// they are made, and setting a reading aside takes exactly it out.
func TestLines(t *testing.T) {
	x := normals(20000, 3)
	for i := range x {
		x[i] = 250 + 2*x[i]
	}
	im, err := Individuals(x)
	if err != nil || !near(im.Level.Sigma, 2, 0.02) || !near(im.Level.Centre, 250, 1e-3) || im.Points != 20000 {
		t.Errorf("%+v, %v", im, err)
	}
	for _, size := range []int{2, 5, 25} {
		n := len(x) / size * size
		r, err1 := MeanAndRange(x[:n], size)
		s, err2 := MeanAndSD(x[:n], size)
		want := 2 / math.Sqrt(float64(size))
		if err1 != nil || err2 != nil || !near(r.Level.Sigma, want, 0.02) || !near(s.Level.Sigma, want, 0.02) || r.Points != n/size {
			t.Errorf("groups of %d: %+v, %+v; %v %v", size, r, s, err1, err2)
		}
		means, ranges, sds, err := Groups(x[:n], size)
		if err != nil || len(means) != n/size || !near(mean(ranges), r.Spread.Centre, 1e-9) || !near(mean(sds), s.Spread.Centre, 1e-9) || !near(mean(means), r.Level.Centre, 1e-12) {
			t.Errorf("groups of %d: %d points; %v", size, len(means), err)
		}
		// The spread of the ranges is what the lines say.
		ss := 0.0
		for _, v := range ranges {
			ss += (v - r.Spread.Centre) * (v - r.Spread.Centre)
		}
		if sd := math.Sqrt(ss / float64(len(ranges))); !near(sd, r.Spread.Sigma, 0.06) {
			t.Errorf("groups of %d: ranges scatter by %v, line says %v", size, sd, r.Spread.Sigma)
		}
	}
	short := []float64{10, 10.4, 10.1, 15, 10.2, 9.9, 10.3}
	got, err := Individuals(short, 3)
	if err != nil || !near(got.Level.Centre, (10+10.4+10.1+10.2+9.9+10.3)/6, 1e-12) || !near(got.Spread.Centre, (0.4+0.3+0.3+0.4)/4, 1e-9) || got.Points != 6 {
		t.Errorf("%+v, %v", got, err)
	}
	d, err := Deviations([]float64{15.2, 14.1}, []float64{15, 14})
	if err != nil || !near(d[0], 0.2, 1e-9) || !near(d[1], 0.1, 1e-9) {
		t.Errorf("%v, %v", d, err)
	}
}

// Each rule on a pattern that just completes it and on one that just does not.
func TestRules(t *testing.T) {
	lines := Lines{10, 4, 16, 2}
	repeat := func(n int, v ...float64) (x []float64) {
		for i := range n {
			x = append(x, v[i%len(v)])
		}
		return x
	}
	for _, c := range []struct {
		rule Rules
		x    []float64 // in sigma from the centre
		want bool      // the last point completes the rule
	}{
		{Beyond, []float64{3}, false},
		{Beyond, []float64{math.Nextafter(3, 4) + 1e-15}, true},
		{Beyond, []float64{-3.01}, true},
		{Run9, repeat(9, 0.1), true},
		{Run9, repeat(8, 0.1), false},
		{Run9, append(repeat(8, 0.1), 0), false},
		{Run9, append(repeat(8, -0.1), 0.1), false},
		{Run8, repeat(8, -0.1), true},
		{Run8, repeat(7, -0.1), false},
		{Trend, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5}, true},
		{Trend, []float64{0, 0.1, 0.2, 0.3, 0.4}, false},
		{Trend, []float64{0, 0.1, 0.2, 0.2, 0.4, 0.5}, false},
		{Trend, []float64{0.5, 0.4, 0.3, 0.2, 0.1, 0}, true},
		{Zigzag, repeat(14, 0.1, 0.2), true},
		{Zigzag, repeat(13, 0.1, 0.2), false},
		{Zigzag, append(repeat(13, 0.1, 0.2), 0.1), false},
		{TwoOfThree, []float64{2.1, 0, 2.1}, true},
		{TwoOfThree, []float64{2.1, 2.1}, true},
		{TwoOfThree, []float64{2.1, 0, 0, 2.1}, false},
		{TwoOfThree, []float64{2.1, -2.1, 0}, false},
		{TwoOfThree, []float64{2.1, -2.1}, false},
		{TwoOfThree, []float64{2, 2}, false},
		{FourOfFive, []float64{1.1, 1.1, 0, 1.1, 1.1}, true},
		{FourOfFive, []float64{1.1, 1.1, 0, 0, 1.1, 1.1}, false},
		{FourOfFive, []float64{1.1, 1.1, -1.1, 1.1, 0.9}, false},
		{FourOfFive, []float64{-1.1, -1.1, -1.1, -1.1}, true},
		{Hugging, repeat(15, 0.9, -0.9), true},
		{Hugging, repeat(14, 0.9, -0.9), false},
		{Hugging, append(repeat(14, 0.9), 1.1), false},
		{Avoiding, repeat(8, 1.1, -1.1), true},
		{Avoiding, repeat(7, 1.1, -1.1), false},
		{Avoiding, repeat(8, 1.1), false}, // one side only is rule 6
		{Avoiding, append(repeat(7, 1.1), -1.1), true},
		{Avoiding, append(append([]float64{-1.1}, repeat(7, 1.1)...), 1.1), false},
	} {
		x := make([]float64, len(c.x))
		for i, z := range c.x {
			x[i] = 10 + 2*z
		}
		marks, err := Check(x, lines, c.rule)
		if err != nil {
			t.Fatal(err)
		}
		if got := marks[len(x)-1] == c.rule; got != c.want {
			t.Errorf("rule %s on %v: %v, want %v", c.rule.Number(), c.x, got, c.want)
		}
		// Upside down every rule sees the same.
		for i := range x {
			x[i] = 20 - x[i]
		}
		mirror, _ := Check(x, lines, c.rule)
		if d := cmp.Diff(marks, mirror); d != "" && c.rule != Beyond {
			t.Errorf("rule %s on %v and its mirror image:\n%s", c.rule.Number(), c.x, d)
		}
	}
	if s := (Beyond | Run8).Number(); s != "1, WE4" {
		t.Error(s)
	}
	if s := (TwoOfThree | Run9).String(); s != "nine running on one side of the centre; two of three beyond two sigma on one side" {
		t.Error(s)
	}
	if (Rules(0)).String() != "" {
		t.Error("no rule has words")
	}
}

// The chain against the rules themselves, played on an invented series.
func TestRunLength(t *testing.T) {
	for _, c := range []struct {
		rules Rules
		shift float64
	}{{Beyond, 0}, {Beyond, 1}, {WesternElectric, 0}, {WesternElectric, 1}, {Run9 | Hugging, 0}, {Avoiding | Beyond, 0.5}, {DefaultRules, 3}, {Nelson &^ (Trend | Zigzag), 0}} {
		want, err := RunLength(c.rules, c.shift)
		if err != nil {
			t.Fatal(err)
		}
		x := normals(400000, 11)
		var s runs
		calls, since, sum, ss := 0, 0, 0.0, 0.0
		for _, z := range x {
			z += c.shift
			since++
			if s.next(z, math.Abs(z) > 3)&c.rules != 0 {
				calls++
				sum += float64(since)
				ss += float64(since) * float64(since)
				s, since = runs{}, 0
			}
		}
		got := sum / float64(calls)
		se := math.Sqrt((ss/float64(calls) - got*got) / float64(calls))
		if !(math.Abs(got-want) <= 4*se) {
			t.Errorf("rules %s, shift %v: played %v ± %v, chain %v", c.rules.Number(), c.shift, got, se, want)
		}
	}
	// Alone, a point beyond has a geometric run.
	for _, d := range []float64{0, 0.5, 2, 6, 10} {
		p, _ := MissPct(d, 1)
		arl, err := RunLength(Beyond, d)
		if err != nil || !near(arl, 1/(1-p/100), 1e-9) {
			t.Errorf("shift %v: %v, want %v; %v", d, arl, 1/(1-p/100), err)
		}
	}
	if m, _ := MissPct(0, 7); !near(m, 99.7300203937, 1e-9) {
		t.Error(m)
	}
}

func TestSmall(t *testing.T) {
	x := normals(200, 5)
	// λ = 1 is the chart of single readings.
	list, err := EWMA(x, Smooth{0, 1, 1, 3})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range list {
		if math.Abs(p.Value-x[i]) > 1e-12 || p.Upper != 3 || p.Lower != -3 || p.Out != (math.Abs(x[i]) > 3) {
			t.Fatalf("point %d: %+v of %v", i, p, x[i])
		}
	}
	// The lines open towards their end, and a lasting shift of one is called.
	for i := range x {
		x[i] += 1
	}
	list, _ = EWMA(x, Smooth{0, 1, DefaultLambda, DefaultWidth})
	for i := 1; i < len(list); i++ {
		if list[i].Upper < list[i-1].Upper {
			t.Fatal("the lines close")
		}
	}
	called := 0
	for _, p := range list {
		if p.Out {
			called++
		}
	}
	if end := 3 * math.Sqrt(0.2/1.8); !near(list[199].Upper, end, 1e-9) || called < 60 {
		t.Errorf("called %d times of 200; %+v, end %v", called, list[199], end)
	}
	// A shift that begins at the 50th reading, told by its sum.
	y := normals(100, 9)
	for i := 50; i < 100; i++ {
		y[i] -= 1.5
	}
	sums, err := CUSUM(y, Cumulate{0, 0.75, 5})
	if err != nil {
		t.Fatal(err)
	}
	first := -1
	for i, p := range sums {
		if p.High < 0 || p.Low < 0 || p.Out != (p.Since >= 0) {
			t.Fatalf("point %d: %+v", i, p)
		}
		if p.Out && first < 0 {
			first = i
		}
	}
	if first < 50 || first > 65 || sums[first].Since < 47 || sums[first].Since > 55 {
		t.Errorf("called at %d, since %+v", first, sums[max(first, 0)])
	}
	// Without slack both sums together hold the plain one.
	a, _ := CUSUM([]float64{1, 2, 3}, Cumulate{0, 0, 100})
	b, _ := Sums([]float64{1, 2, 3}, 0)
	if a[2].High != b[2] || a[2].Low != 0 {
		t.Errorf("%+v, %v", a, b)
	}
}

func TestCapability(t *testing.T) {
	a, err := Capability(Still{10, 1, 9, 10, 6, 14, 97.5})
	if err != nil || !near(a.Cp, 4.0/3, 1e-12) || !near(a.Cpk, a.Cp, 1e-12) || a.OffCentre != 0 || a.Exact {
		t.Errorf("%+v, %v", a, err)
	}
	// C_p = 1.33 from ten readings may be 0.73.
	if !near(a.CpLower, 0.73, 0.005) {
		t.Errorf("lower bound %v", a.CpLower)
	}
	// Bissell's formula by hand: 1.3333 − 1.960·√(1/90 + 1.7778/18).
	if !near(a.CpkLower, 0.6837, 1e-4) {
		t.Errorf("lower bound of Cpk %v", a.CpkLower)
	}
	// Moving off the middle costs C_pk, not C_p.
	b, _ := Capability(Still{11, 1, 9, 10, 6, 14, 97.5})
	if b.Cp != a.Cp || !near(b.Cpk, a.Cp*(1-b.OffCentre), 1e-12) || !(b.OutsidePct > a.OutsidePct) {
		t.Errorf("%+v", b)
	}
	// One limit: the exact bound keeps its promise, and is the tolerance
	// factor read backwards.
	for _, n := range []int{3, 10, 50, 300} {
		d := num.NoncentralT{Nu: float64(n - 1), Delta: 4 * math.Sqrt(float64(n))}
		k := d.Quantile(0.95) / math.Sqrt(float64(n)) // observed distance whose bound is 4 deviations
		c, err := Capability(Still{0, 1, n - 1, n, -inf, k, 95})
		if err != nil || !c.Exact || !near(c.CpkLower, 4.0/3, 1e-7) || !near(c.Cpk, k/3, 1e-12) || c.Cp != 0 {
			t.Errorf("n = %d: %+v, %v", n, c, err)
		}
		m, _ := Capability(Still{0, 1, n - 1, n, -k, inf, 95})
		if !near(m.CpkLower, c.CpkLower, 1e-9) || !near(m.OutsidePct, c.OutsidePct, 1e-9) {
			t.Errorf("the mirror image: %+v, %+v", m, c)
		}
	}
	last := -inf
	for _, mean := range []float64{30, 20, 14, 13, 10} {
		c, err := Capability(Still{mean, 1, 29, 30, 6, 14, 95})
		if err != nil || !(c.CpkLower < c.Cpk && c.CpkLower > last) {
			t.Errorf("mean %v: %+v, %v", mean, c, err)
		}
		last = c.CpkLower
	}
	// Beyond the noncentral t's range the approximation stands in.
	far, err := Capability(Still{0, 1, 1e5, 1e5, -inf, 30, 95})
	if err != nil || far.Exact || !(far.CpkLower > 9.9 && far.CpkLower < 10) {
		t.Errorf("%+v, %v", far, err)
	}
	if n := testing.AllocsPerRun(10, func() { _, _ = Capability(Still{0, 1, 9, 10, -inf, 4, 95}) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func FuzzCheck(f *testing.F) {
	f.Add([]byte{0, 9, 0, 9, 0, 9}, 4.0, 1.0)
	f.Add([]byte{5}, 5.0, 1e-300)                                         // on the centre, no scatter to speak of
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13}, -1e15, 1e15) // all on one side
	f.Fuzz(func(t *testing.T, b []byte, centre, sigma float64) {
		x := make([]float64, len(b))
		for i, v := range b {
			x[i] = float64(v) - 5
		}
		marks, err := Check(x, Lines{centre, centre - 3*sigma, centre + 3*sigma, sigma}, Nelson|Run8)
		if err != nil && (refused(err) == nil || marks != nil) || err == nil && len(marks) != len(x) {
			t.Fatalf("%v, %v", marks, err)
		}
		if p, err := Individuals(x); err == nil && !(p.Level.Lower < p.Level.Centre && p.Level.Centre < p.Level.Upper && p.Level.Sigma > 0) {
			t.Fatalf("%+v", p)
		}
	})
}

func FuzzCapability(f *testing.F) {
	f.Add(10.0, 1.0, 9, 10, 6.0, 14.0, 95.0)
	f.Add(0.0, 1e-300, 1, 2, math.Inf(-1), 1e15, 50.0) // an index past all numbers
	f.Add(1e15, 1e15, 1, 1000000, 0.0, 1.0, 99.99)     // far outside
	f.Fuzz(func(t *testing.T, m, s float64, df, n int, lo, hi, conf float64) {
		a, err := Capability(Still{m, s, df, n, lo, hi, conf})
		if err != nil {
			if refused(err) == nil || a != (Ability{}) {
				t.Fatalf("%+v, %v", a, err)
			}
			return
		}
		for _, v := range []float64{a.Cp, a.CpLower, a.Cpk, a.CpkLower, a.OffCentre, a.OutsidePct} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v", a)
			}
		}
	})
}
