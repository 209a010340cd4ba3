package extraction

import (
	"bufio"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// grid reads a frozen table of two columns.
func grid(t *testing.T, name string) [][2]float64 {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows [][2]float64
	for lines := bufio.NewScanner(f); lines.Scan(); {
		a, b, ok := strings.Cut(lines.Text(), ",")
		x, err1 := strconv.ParseFloat(a, 64)
		y, err2 := strconv.ParseFloat(b, 64)
		if ok && err1 == nil && err2 == nil {
			rows = append(rows, [2]float64{x, y})
		}
	}
	if len(rows) < 20 {
		t.Fatalf("%s has %d rows", name, len(rows))
	}
	return rows
}

func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// The index of water against IAPWS R9-97 from a general-purpose library.
func TestWaterIndexAgainstIAPWS(t *testing.T) {
	for _, row := range grid(t, "waterindex.csv") {
		got := must[float64](t)(WaterIndex(At{row[0]}))
		if want := row[1] / AirIndex; math.Abs(got-want) > 2e-6 {
			t.Errorf("at %v °C: ours %.7f, theirs %.7f", row[0], got, want)
		}
	}
}

// The volume model against NIST Circular 440 as a general-purpose library
// holds it: apparent densities in air, brass weights.
func TestDensityAgainstCircular440(t *testing.T) {
	const air, brass = 0.0012, 8.4 // g/mL
	for _, row := range grid(t, "brixdensity.csv") {
		want := 1000 * (row[1]*(1-air/brass) + air)
		got := must[Strengths](t)(Convert(Solution{row[0], 20, 0.617})).KgPerM3
		tol := 3e-4
		if row[0] > 20 {
			tol = 1.2e-3 // beyond what the comment promises, looked at all the same
		}
		if math.Abs(got/want-1) > tol {
			t.Errorf("%v °Brix: ours %.3f, theirs %.3f kg/m³", row[0], got, want)
		}
	}
}

// Index and density of sugar come from two sources. If both are right, each
// gram of sucrose refracts the same, whatever the strength.
func TestSpecificRefractionIsConstant(t *testing.T) {
	const air, brass = 0.0012, 8.4
	refraction := func(n float64) float64 { return (n*n - 1) / (n*n + 2) }
	low, high := math.Inf(1), 0.0
	rows := grid(t, "brixdensity.csv")
	density := func(apparent float64) float64 { return apparent*(1-air/brass) + air }
	water := refraction(sucrose(0)) / density(rows[0][1])
	for _, row := range rows {
		bx := row[0]
		if bx < 4 || bx > 20 {
			continue // too little sugar to tell, or no points behind the parabola
		}
		w := bx / 100
		r := (refraction(sucrose(bx))/density(row[1]) - (1-w)*water) / w
		low, high = min(low, r), max(high, r)
	}
	if !(low > 0.205 && high < 0.208 && high-low < 5e-4) {
		t.Errorf("a gram of sucrose refracts from %v to %v mL/g", low, high)
	}
}

func TestConversionsAreInverse(t *testing.T) {
	for _, temp := range []float64{0, 20, 60, 93, 100} {
		for _, v := range []float64{0.4, SoluteMLPerG, 0.9} {
			for _, strength := range []float64{0, 0.15, 1.2, 5, 10, 20, 35} {
				s := must[Strengths](t)(Convert(Solution{strength, temp, v}))
				back := must[Strengths](t)(ConvertGPerL(ByVolume{s.GPerL, temp, v}))
				if math.Abs(back.StrengthPct-strength) > 1e-12*35 || !near(back.KgPerM3, s.KgPerM3) {
					t.Errorf("%v %% came back as %v", strength, back.StrengthPct)
				}
				if !near(s.PPMByMass, 1e4*strength) || !near(s.MgPerL, 1000*s.GPerL) || !near(s.GPer100ML, s.GPerL/10) {
					t.Errorf("%+v", s)
				}
				// A litre weighs its density and holds its solids.
				m := must[float64](t)(BeverageMass(Served{1000, strength, temp, v}))
				if !near(m, s.KgPerM3) || math.Abs(m*strength/100-s.GPerL) > 1e-12*m {
					t.Errorf("a litre weighs %v g, %+v", m, s)
				}
				if v < 0.9 && strength > 0 && !(s.KgPerM3 > s.WaterKgPerM3) {
					t.Errorf("a brew lighter than water: %+v", s)
				}
			}
		}
	}
	// The stated uncertainty of the density is what a shifted volume makes.
	a := must[Strengths](t)(Convert(Solution{10, 20, SoluteMLPerG + SoluteUMLPerG}))
	b := must[Strengths](t)(Convert(Solution{10, 20, SoluteMLPerG}))
	if diff := 100 * (b.KgPerM3/a.KgPerM3 - 1); math.Abs(diff-b.DensityUPct) > 0.01 {
		t.Errorf("shifted by %v %%, stated %v %%", diff, b.DensityUPct)
	}
}

func TestBrixIsInverse(t *testing.T) {
	for bx := -1.0; bx <= 30; bx += 0.5 {
		r := must[Refracted](t)(SucroseIndex(Reading{bx}))
		back := must[Refracted](t)(Brix(Sample{r.Index, 20}))
		if math.Abs(back.BrixPct-bx) > 1e-10 || r.Notes != back.Notes && bx != 0 && bx != 20 {
			t.Errorf("%v °Brix came back as %v, %v %v", bx, back.BrixPct, r.Notes, back.Notes)
		}
		if c := must[float64](t)(BrixCorrection(Uncompensated{bx, 20})); math.Abs(c) > 1e-10 {
			t.Errorf("a correction of %v at 20 °C", c)
		}
		warm := must[float64](t)(BrixCorrection(Uncompensated{bx, 25}))
		cold := must[float64](t)(BrixCorrection(Uncompensated{bx, 15}))
		if !(warm > 0 && cold < 0) {
			t.Errorf("%v °Brix: corrected by %v warm and %v cold", bx, warm, cold)
		}
	}
}

// Zeroing on water of the sample's temperature is the correction.
func TestZeroingIsTheCorrection(t *testing.T) {
	for _, temp := range []float64{10, 15, 25, 30} {
		zero := brix(waterIndex(temp) / waterIndex(20) * SucroseIndex0)
		shown := brix(sucrose(1.5) + waterIndex(temp) - waterIndex(20))
		a := must[Measured](t)(BrixStrength(Refractometry{BrixPct: shown, ZeroPct: zero, SlopePct: 0.85}))
		c := must[float64](t)(BrixCorrection(Uncompensated{shown, temp}))
		b := must[Measured](t)(BrixStrength(Refractometry{BrixPct: shown + c, SlopePct: 0.85}))
		if math.Abs(a.StrengthPct-b.StrengthPct) > 0.01 {
			t.Errorf("at %v °C: zeroed %v %%, corrected %v %%", temp, a.StrengthPct, b.StrengthPct)
		}
	}
}

func TestSlopeFit(t *testing.T) {
	exact := must[SlopeFit](t)(FitSlope([]Pair{{1, 0.85}, {2, 1.7}, {5, 4.25}, {10, 8.5}, {12, 10.2}, {14, 11.9}}))
	if math.Abs(exact.SlopePct-0.85) > 1e-12 || exact.SlopeUPct > 1e-9 || exact.Notes != 0 || exact.LowBrixPct != 1 || exact.HighBrixPct != 14 || exact.DFCount != 5 {
		t.Errorf("%+v", exact)
	}
	// A zero that was off by 0.3 °Brix shows.
	off := must[SlopeFit](t)(FitSlope([]Pair{{1.3, 0.85}, {2.3, 1.7}, {5.3, 4.25}, {10.3, 8.5}, {12.3, 10.2}, {14.3, 11.9}}))
	if off.Notes&InterceptMatters == 0 || math.Abs(off.InterceptPct+0.255) > 1e-9 {
		t.Errorf("%+v", off)
	}
	few := must[SlopeFit](t)(FitSlope([]Pair{{1, 0.86}, {1, 0.84}, {1, 0.85}}))
	if few.Notes != FewReadings || few.InterceptU != 0 {
		t.Errorf("%+v", few)
	}
	if _, err := FitSlope([]Pair{{0, 1}, {0, 1}, {0, 1}}); impossible(err) != "pairs" {
		t.Errorf("a slope from water: %v", err)
	}
}

func TestOvenYieldIsInverse(t *testing.T) {
	for _, e := range []float64{2, 10, 15, 21.51, 30, 40, 90} {
		for _, r := range []float64{1, 3, 5, 15, 25, 40} {
			for _, keep := range []float64{0, 0.9, 2.48} {
				if keep > r {
					continue
				}
				shown, err := OvenApparentYield(OvenCheck{e, r, keep, OvenVolatilesPct})
				if err != nil {
					t.Fatal(err)
				}
				if shown >= 99 {
					continue
				}
				bean := Bean{3.5, 1}
				dry := 20 * (1 - 0.035 - 0.01)
				got, err := SpentGroundsYield(Spent{20, dry * (1 - shown/100), bean, r, keep, OvenVolatilesPct, true})
				if err != nil {
					t.Fatalf("%v %% at 1:%v, %v kept: %v", e, r, keep, err)
				}
				if math.Abs(got.YieldPct-e) > 1e-9 || math.Abs(got.ApparentPct-shown) > 1e-9 || math.Abs(got.BiasPct-(shown-e)) > 1e-9 {
					t.Fatalf("%v %% at 1:%v, %v kept: came back as %+v", e, r, keep, got)
				}
				if (got.Notes&Extrapolated != 0) != (r < 3 || r > 25) {
					t.Errorf("1:%v: %v", r, got.Notes)
				}
			}
		}
	}
	// Rinsed grounds need no correction but the oven's own.
	rinsed := must[OvenYield](t)(SpentGroundsYield(Spent{DoseG: 20, DryG: 16, Ratio: 15, LiquidGPerG: 2.48}))
	if math.Abs(rinsed.YieldPct-20) > 1e-12 {
		t.Errorf("%+v", rinsed)
	}
	if _, err := SpentGroundsYield(Spent{DoseG: 20, DryG: 21, Ratio: 15}); impossible(err) != "DryG" {
		t.Errorf("the grounds grew: %v", err)
	}
}

func TestBypassKeepsTheYield(t *testing.T) {
	for _, bypass := range []float64{0, 10, 50, 100, 500} {
		plain := must[Balance](t)(Yield(Brew{15, 250, 220, 1.6, 0.8, 0}))
		thinned := 1.6 * 220 / (220 + bypass)
		if thinned < MinStrengthPct {
			continue
		}
		got, strength, err := BypassYield(Bypassed{Brew{15, 250, 220 + bypass, thinned, 0.8, 0}, bypass})
		if err != nil {
			t.Fatal(err)
		}
		if !near(got.YieldPct, plain.YieldPct) || !near(strength, 1.6) {
			t.Errorf("bypass of %v g: yield %v at %v %%, want %v at 1.6 %%", bypass, got.YieldPct, strength, plain.YieldPct)
		}
	}
	if _, _, err := BypassYield(Bypassed{Brew{15, 250, 220, 1.4, 0, 0}, 220}); impossible(err) != "BypassG" {
		t.Errorf("all bypass: %v", err)
	}
}

var methods = []Method{
	{},                           // nothing kept
	{FilterLiquidGPerG, 0, 0},    // filter, clean last drops
	{FilterLiquidGPerG, 57, 0.3}, // filter, strong last drops
	{SpentLiquidGPerG, 100, 0},   // immersion
	{SpentLiquidGPerG, 100, 0.9}, // immersion with locked water
	{1.1, 20, 0},                 // espresso
	{6, 0, MaxAbsorbedGPerG},     // the most there is
}

// Ratio, strength and yield: any two give the third, on every method's line,
// and the line is the balance.
func TestLinesAreTheBalance(t *testing.T) {
	n := 0
	for _, m := range methods {
		for _, r := range []float64{1.5, 2, 5, 12, 14.3, 16.5, 18, 25, 39.99} {
			last := 0.0
			for _, e := range yields {
				s, err := LineStrength(OnLine{m, r, e})
				if err != nil {
					if impossible(err) == "" {
						t.Fatal(err)
					}
					continue
				}
				if !(s > last) {
					t.Fatalf("%+v 1:%v: strength does not rise with yield", m, r)
				}
				last = s
				if s < MinStrengthPct || s > MaxStrengthPct {
					continue
				}
				back, err := PointRatio(OnMap{m, s, e})
				if err != nil {
					t.Fatalf("%+v, 1:%v, %v %%: %v", m, r, e, err)
				}
				if math.Abs(back-r) > 1e-11*r {
					t.Fatalf("%+v: 1:%v came back as 1:%v", m, r, back)
				}
				b, err := Yield(Brew{20, 20 * r, 20 * (r + e/100 - m.LiquidGPerG), s, s * m.RetainedSharePct / 100, m.AbsorbedGPerG})
				if err != nil {
					if fields(err) != nil || m.LiquidGPerG == 0 { // a beverage too small to ask about, or rounding at nothing kept
						continue
					}
					t.Fatalf("%+v, 1:%v, %v %%: %v", m, r, e, err)
				}
				if math.Abs(b.YieldPct-e) > 1e-10*e {
					t.Fatalf("%+v, 1:%v: the line says %v %%, the balance %v %%", m, r, e, b.YieldPct)
				}
				n++
				if e == MinYieldPct {
					continue // rounding may put it below
				}
				same, yield, err := StrengthAfter(Changed{m, s, r, r})
				if err != nil || math.Abs(same-s) > 1e-10*s || math.Abs(yield-e) > 1e-10*e {
					t.Fatalf("%+v, 1:%v: unchanged, %v %% became %v at %v; %v", m, r, s, same, yield, err)
				}
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d points", n)
	}
	// The lines bend with the method: the same ratio and yield, two strengths.
	drain := must[float64](t)(LineStrength(OnLine{Method{2.1, 0, 0}, 15, 20}))
	steep := must[float64](t)(LineStrength(OnLine{Method{2.1, 100, 0}, 15, 20}))
	if math.Abs(drain-1.527) > 0.001 || math.Abs(steep-1.316) > 0.001 {
		t.Errorf("draining %v, immersion %v", drain, steep)
	}
	// In immersion the line is the published equilibrium, whatever is kept.
	eq := must[Steeped](t)(Equilibrium(Steep{15, 20, 0}))
	if !near(eq.StrengthPct, steep) {
		t.Errorf("equilibrium %v, line %v", eq.StrengthPct, steep)
	}
}

func TestRecipesGiveTheirCup(t *testing.T) {
	for _, m := range methods[:6] {
		for _, strength := range []float64{0.8, 1.3, 1.45, 8} {
			r, err := RecipeFor(Goal{m, 300, strength, 20, 1, 1000, 5000})
			if impossible(err) != "" {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if !near(r.WaterG+r.DissolvedG, 300+r.RetainedG) {
				t.Errorf("liquid %v g, cup and grounds %v g", r.WaterG+r.DissolvedG, 300+r.RetainedG)
			}
			b, err := Yield(Brew{r.DoseG, r.WaterG, 300, strength, strength * m.RetainedSharePct / 100, m.AbsorbedGPerG})
			if err != nil || math.Abs(b.YieldPct-20) > 1e-9 {
				t.Errorf("%+v: the recipe gives %v %%, %v", m, b.YieldPct, err)
			}
		}
	}
	filter := Method{FilterLiquidGPerG, 0, 0}
	_, err := RecipeFor(Goal{filter, 1000, 1.3, 20, 10, 40, 2000})
	var none *ImpossibleError
	if !errors.As(err, &none) || none.Field != "BeverageG" {
		t.Fatalf("a litre from 40 g: %v", err)
	}
	for _, ends := range []float64{none.Min, none.Max} { // what it says is possible is possible
		if _, err := RecipeFor(Goal{filter, ends, 1.3, 20, 10 - 1e-9, 40 + 1e-9, 2000}); err != nil {
			t.Errorf("%v g: %v", ends, err)
		}
	}
}

// Each stated contribution is what a small step of that input does.
func TestUncertaintyIsTheDerivative(t *testing.T) {
	for _, b := range []Brew{{15, 250, 220, 1.4, 0.8, 0.2}, {18, 60, 36, 9.5, 2, 0}, {10, 165, 140, 1.3, 1.3, 0}, {60, 1000, 870, 1.35, 0, 0.4}} {
		u := BrewU{0.05, 0.8, 0.6, 0.03, 0.2, 0.1}
		got := must[YieldU](t)(YieldUncertainty(b, u))
		at := func(f func(*Brew, float64), h float64) float64 {
			up, down := b, b
			f(&up, h)
			f(&down, -h)
			return math.Abs(solidsOf(up)-solidsOf(down)) / (2 * h)
		}
		for name, c := range map[string][2]float64{
			"dose":     {got.ByDosePct, at(func(b *Brew, h float64) { b.DoseG += h }, 1e-4) * u.DoseG},
			"water":    {got.ByWaterPct, at(func(b *Brew, h float64) { b.WaterG += h }, 1e-3) * u.WaterG},
			"beverage": {got.ByBeveragePct, at(func(b *Brew, h float64) { b.BeverageG += h }, 1e-3) * u.BeverageG},
			"strength": {got.ByStrengthPct, at(func(b *Brew, h float64) { b.StrengthPct += h }, 1e-5) * u.StrengthPct},
			"retained": {got.ByRetainedPct, at(func(b *Brew, h float64) { b.RetainedStrengthPct += h }, 1e-5) * u.RetainedStrengthPct},
			"absorbed": {got.ByAbsorbedPct, at(func(b *Brew, h float64) { b.AbsorbedGPerG += h }, 1e-5) * u.AbsorbedGPerG},
		} {
			if math.Abs(c[0]-c[1]) > 1e-6*math.Max(1e-3, c[1]) {
				t.Errorf("%+v: %s contributes %v, by steps %v", b, name, c[0], c[1])
			}
		}
		if !(got.CorrelationEtoT > 0 && got.CorrelationEtoT <= 1) {
			t.Errorf("correlation is %v", got.CorrelationEtoT)
		}
	}
	// Tied together, one strength counts as both.
	tied := must[YieldU](t)(ImmersionUncertainty(Immersion{10, 180, 1.2}, BrewU{StrengthPct: 0.03}))
	up := must[Extracted](t)(ImmersionYield(Immersion{10, 180, 1.2 + 1e-6}))
	down := must[Extracted](t)(ImmersionYield(Immersion{10, 180, 1.2 - 1e-6}))
	if want := (up.YieldPct - down.YieldPct) / 2e-6 * 0.03; math.Abs(tied.UPct-want) > 1e-7 || math.Abs(tied.CorrelationEtoT-1) > 1e-12 {
		t.Errorf("%+v, by steps %v", tied, want)
	}
	// The limits agree with the general case.
	general := must[YieldU](t)(YieldUncertainty(Brew{18, 54, 36, 10, 0, 0}, BrewU{DoseG: 0.05, BeverageG: 0.1, StrengthPct: 0.1}))
	drain := must[YieldU](t)(DrainingUncertainty(Draining{18, 36, 10}, BrewU{DoseG: 0.05, BeverageG: 0.1, StrengthPct: 0.1}))
	if !near(general.UPct, drain.UPct) || !near(general.CovariancePct, drain.CovariancePct) {
		t.Errorf("general %+v, draining %+v", general, drain)
	}
}

func solidsOf(b Brew) float64 {
	return 100 * solids(b.BeverageG, b.WaterG, b.AbsorbedGPerG*b.DoseG, b.StrengthPct/100, b.RetainedStrengthPct/100) / b.DoseG
}

// The ellipse has the covariance that it was drawn from: its points, taken
// all around, spread as k²/2 of it.
func TestEllipseHasTheCovariance(t *testing.T) {
	for _, p := range []MapPoint{{20, 0.5, 1.3, 0.03, 0.012, 95}, {20, 0.5, 1.3, 0.03, -0.015, 50}, {20, 0.4, 1.3, 0, 0, 95}, {20, 0, 1.3, 0.02, 0, 95}, {21, 0.45, 1.4, 0.03, 0.0135, 99}} {
		e := must[Ellipse](t)(MapEllipse(p))
		var cxx, cyy, cxy float64
		const n = 360
		for i := range n {
			x, y := e.At(2 * math.Pi * float64(i) / n)
			cxx += (x - p.YieldPct) * (x - p.YieldPct) / n
			cyy += (y - p.StrengthPct) * (y - p.StrengthPct) / n
			cxy += (x - p.YieldPct) * (y - p.StrengthPct) / n
		}
		k2 := e.CoverageRatio * e.CoverageRatio / 2
		for _, c := range [][2]float64{{cxx, k2 * p.YieldUPct * p.YieldUPct}, {cyy, k2 * p.StrengthUPct * p.StrengthUPct}, {cxy, k2 * p.CovariancePct}} {
			if math.Abs(c[0]-c[1]) > 1e-9 {
				t.Errorf("%+v: %v, want %v", p, c[0], c[1])
			}
		}
	}
	// From a real brew it always fits.
	u := must[YieldU](t)(ImmersionUncertainty(Immersion{10, 165, 1.3}, BrewU{StrengthPct: 0.03}))
	must[Ellipse](t)(MapEllipse(MapPoint{u.YieldPct, u.UPct, u.StrengthPct, u.StrengthUPct, u.CovariancePct, 95}))
}

func TestDirections(t *testing.T) {
	for _, m := range methods[:6] {
		d, err := Directions(Turn{m, 1.3, 20, 1, 5})
		if err != nil {
			t.Fatal(err)
		}
		if !(d[0].StrengthPct > 1.3 && d[0].YieldPct == 21 && d[1].StrengthPct < 1.3 && d[1].YieldPct == 19) {
			t.Errorf("%+v: finer %+v, coarser %+v", m, d[0], d[1])
		}
		if !(d[2].StrengthPct < 1.3 && d[2].YieldPct == 20 && d[3].StrengthPct > 1.3 && d[3].YieldPct == 20) {
			t.Errorf("%+v: more water %+v, more dose %+v", m, d[2], d[3])
		}
		r := must[float64](t)(PointRatio(OnMap{m, 1.3, 20}))
		if finer := must[float64](t)(PointRatio(OnMap{m, d[0].StrengthPct, d[0].YieldPct})); math.Abs(finer-r) > 1e-9 {
			t.Errorf("finer leaves the line of 1:%v for 1:%v", r, finer)
		}
	}
}

// Solids are conserved by every mixture.
func TestMixturesConserveSolids(t *testing.T) {
	for _, strength := range []float64{0.15, 1.8, 9.5, 35, 100} {
		for _, with := range []float64{0, 0.5, 60} {
			for _, share := range []float64{0.1, 0.5, 0.999} {
				to := with + (strength-with)*share
				if to < 0.01 {
					continue
				}
				x := must[float64](t)(Dilute(Dilution{200, strength, with, to}))
				b := must[Mixed](t)(Blend([]Part{{200, strength}, {x, with}}))
				if math.Abs(b.StrengthPct-to) > 1e-10 || !near(b.MassG, 200+x) || !near(b.SolidsG, 2*strength+x*with/100) {
					t.Errorf("%v %% to %v %% with %v %%: %v g gives %+v", strength, to, with, x, b)
				}
				first, second, err := BlendParts(TwoBrews{strength, with, to, 200 + x})
				if err != nil || math.Abs(first-200) > 1e-8*(200+x) || first+second != 200+x && math.Abs(first+second-200-x) > 1e-9 {
					t.Errorf("parts are %v and %v of %v, %v", first, second, 200+x, err)
				}
			}
		}
	}
	for name, err := range map[string]error{
		"water to strengthen": second(Dilute(Dilution{100, 1.2, 0, 1.3})),
		"down to water":       second(Dilute(Dilution{100, 1.2, 1, 1})),
	} {
		if impossible(err) != "ToStrengthPct" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if first, second, err := BlendParts(TwoBrews{1.2, 1.2, 1.2, 100}); err != nil || first != 100 || second != 0 {
		t.Errorf("two equal brews: %v and %v, %v", first, second, err)
	}
	if _, _, err := BlendParts(TwoBrews{1.2, 1.2, 1.3, 100}); impossible(err) != "ToStrengthPct" {
		t.Errorf("two equal brews for another strength: %v", err)
	}
	if x := must[float64](t)(Dilute(Dilution{100, 1.2, 0, 1.2})); x != 0 {
		t.Errorf("nothing to do takes %v g", x)
	}
}

func TestRepeatability(t *testing.T) {
	r := must[Repeated](t)(Repeatability([]float64{1.31, 1.33, 1.32, 1.30, 1.32, 1.34}))
	if math.Abs(r.MeanPct-1.32) > 1e-12 || math.Abs(r.SDPct-0.0141421356) > 1e-9 || r.DFCount != 5 || r.Notes != 0 {
		t.Errorf("%+v", r)
	}
	// Far from zero the digits stay.
	far := must[Repeated](t)(Repeatability([]float64{100 - 2e-9, 100 - 1e-9, 100}))
	if math.Abs(far.SDPct-1e-9) > 1e-13 {
		t.Errorf("%+v", far)
	}
	if r := must[Repeated](t)(Repeatability([]float64{1.3, 1.3})); r.SDPct != 0 || r.U95Pct != 0 || r.Notes != FewReadings {
		t.Errorf("%+v", r)
	}
}

func TestWindowsAreWhole(t *testing.T) {
	for _, w := range Windows() {
		if w.ID == "" || w.Source == "" || !(w.StrengthLowPct < w.StrengthHighPct && w.YieldLowPct < w.YieldHighPct) {
			t.Errorf("%+v", w)
		}
	}
}

func TestCupRefusals(t *testing.T) {
	nan := math.NaN()
	third := func(_, _ float64, err error) error { return err }
	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"convert":            {second(Convert(Solution{math.Nextafter(35, 36), nan, 0})), []string{"StrengthPct", "TempC", "SoluteMLPerG"}},
		"convert at limits":  {second(Convert(Solution{35, 100, 0.4})), nil},
		"convert g/L":        {second(ConvertGPerL(ByVolume{-1, math.Nextafter(100, 101), 0.9})), []string{"GPerL", "TempC"}},
		"beverage of zero":   {second(BeverageMass(Served{})), []string{"VolumeML", "SoluteMLPerG"}},
		"bean":               {second(DryFactor(Bean{15.1, 3.1})), []string{"MoisturePct", "GasPct"}},
		"dry bean":           {second(DryFactor(Bean{})), nil},
		"bypass of zero":     {func() error { _, _, err := BypassYield(Bypassed{}); return err }(), []string{"BeverageG", "StrengthPct"}},
		"spent of zero":      {second(SpentGroundsYield(Spent{})), []string{"DoseG", "DryG", "Ratio"}},
		"check of zero":      {second(OvenApparentYield(OvenCheck{})), []string{"YieldPct", "Ratio"}},
		"more kept than had": {second(OvenApparentYield(OvenCheck{20, 1, 1.3, 0})), []string{"LiquidGPerG"}},
		"steep of zero":      {second(Equilibrium(Steep{})), []string{"Ratio", "YieldPct"}},
		"steep in g/L":       {second(Equilibrium(Steep{60, 0.215, 11})), []string{"Ratio", "YieldPct", "YieldUPct"}},
		"line of zero":       {second(LineStrength(OnLine{})), []string{"Ratio", "YieldPct"}},
		"locks what it lost": {second(LineStrength(OnLine{Method{2, 101, 2.1}, 15, 20})), []string{"Method.RetainedSharePct", "Method.AbsorbedGPerG"}},
		"point of zero":      {second(PointRatio(OnMap{})), []string{"StrengthPct", "YieldPct"}},
		"goal of zero":       {second(RecipeFor(Goal{})), []string{"BeverageG", "StrengthPct", "YieldPct", "DoseMinG", "DoseMaxG", "WaterMaxG"}},
		"goal upside down":   {second(RecipeFor(Goal{Method{}, 300, 1.3, 20, 40, 10, 1000})), []string{"DoseMaxG"}},
		"change of zero":     {third(StrengthAfter(Changed{})), []string{"StrengthPct", "Ratio", "ToRatio"}},
		"index low":          {second(Brix(Sample{math.Nextafter(1.3290, 0), 51})), []string{"Index", "TempC"}},
		"index high":         {second(Brix(Sample{1.3820, 50})), nil},
		"brix":               {second(SucroseIndex(Reading{math.Nextafter(30, 31)})), []string{"BrixPct"}},
		"correction":         {second(BrixCorrection(Uncompensated{nan, 68})), []string{"BrixPct", "TempC"}},
		"water index":        {second(WaterIndex(At{math.Nextafter(60, 61)})), []string{"TempC"}},
		"reading of zero":    {second(BrixStrength(Refractometry{})), []string{"SlopePct"}},
		"slope by volume":    {second(SlopePct(SlopeByMass{0.85, 1})), []string{"GPerL", "KgPerM3"}},
		"pairs":              {second(FitSlope([]Pair{{1, 0.8}, {nan, 36}, {2, 1.7}})), []string{"pairs[1].BrixPct", "pairs[1].StrengthPct"}},
		"no pairs":           {second(FitSlope(nil)), []string{"pairs"}},
		"oven of zero":       {second(OvenStrength(Oven{})), []string{"WetG"}},
		"no readings":        {second(Repeatability([]float64{1})), []string{"readings"}},
		"a bad reading":      {second(Repeatability([]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, nan})), []string{"readings[10].Pct"}},
		"uncertainty":        {second(YieldUncertainty(Brew{15, 250, 220, 1.4, 0, 0}, BrewU{DoseG: -1, StrengthPct: nan})), []string{"u.DoseG", "u.StrengthPct"}},
		"ellipse of zero":    {second(MapEllipse(MapPoint{})), []string{"YieldPct", "StrengthPct", "CoveragePct"}},
		"too much together":  {second(MapEllipse(MapPoint{20, 0.5, 1.3, 0.03, 0.0151, 95})), []string{"CovariancePct"}},
		"turn of zero":       {second(Directions(Turn{})), []string{"StrengthPct", "YieldPct", "PointsPct", "ChangePct"}},
		"blend of nothing":   {second(Blend(nil)), []string{"parts"}},
		"blend of no mass":   {second(Blend([]Part{{}})), []string{"parts"}},
		"blend":              {second(Blend([]Part{{1, 1}, {-1, 101}})), []string{"parts[1].MassG", "parts[1].StrengthPct"}},
		"dilution of zero":   {second(Dilute(Dilution{})), []string{"BrewG", "ToStrengthPct"}},
		"parts of zero":      {third(BlendParts(TwoBrews{})), []string{"TotalG"}},
	} {
		if diff := cmp.Diff(c.want, fields(c.err)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	for name, c := range map[string]struct {
		err  error
		want string
	}{
		"kept it all":      {second(LineStrength(OnLine{Method{6, 0, 0}, 5, 20})), "Ratio"},
		"too strong":       {second(PointRatio(OnMap{Method{2, 0, 0}, 0.2, 30})), "StrengthPct"},
		"no such brew":     {third(StrengthAfter(Changed{Method{2, 0, 0}, 1.3, 1.5, 16})), "Ratio"},
		"oven empty":       {second(OvenStrength(Oven{25, 25.05, 25, 0})), "WetG"},
		"oven lost":        {second(OvenStrength(Oven{25, 35, 24.9, 0})), "DryG"},
		"oven did not dry": {second(OvenStrength(Oven{25, 35, 35, 0})), "DryG"},
	} {
		if got := impossible(c.err); got != c.want {
			t.Errorf("%s: the refusal names %q, want %q: %v", name, got, c.want, c.err)
		}
	}
}

// What an ImpossibleError of a point says is possible, is.
func TestPointRatioTellsWhatIsPossible(t *testing.T) {
	for _, m := range methods {
		for _, strength := range []float64{0.15, 0.4, 35} {
			for _, e := range []float64{1, 20, 36} {
				_, err := PointRatio(OnMap{m, strength, e})
				var none *ImpossibleError
				if !errors.As(err, &none) {
					continue
				}
				for _, s := range []float64{none.Min * (1 + 1e-9), none.Max * (1 - 1e-9)} {
					if s < MinStrengthPct {
						continue
					}
					if _, err := PointRatio(OnMap{m, s, e}); err != nil {
						t.Errorf("%+v, %v %%: said to be possible at %v %%, but %v", m, e, s, err)
					}
				}
			}
		}
	}
}

// Any input gives a finite answer or a refusal.
func FuzzPointRatio(f *testing.F) {
	f.Add(2.1, 0.0, 0.0, 1.3, 20.0)             // a filter
	f.Add(2.48, 100.0, 0.0, 1.3, 21.5)          // a bowl
	f.Add(6.0, 0.0, 3.0, 35.0, 100.0)           // every upper limit
	f.Add(0.0, 0.0, 0.0, 0.15, 1.0)             // every lower one
	f.Add(math.NaN(), -1.0, 1e308, 1e-320, 0.2) // none is a brew
	f.Fuzz(func(t *testing.T, liquid, share, absorbed, strength, yield float64) {
		m := Method{liquid, share, absorbed}
		r, err := PointRatio(OnMap{m, strength, yield})
		if err != nil {
			if r != 0 || fields(err) == nil && impossible(err) == "" {
				t.Fatalf("%v beside %v", r, err)
			}
			return
		}
		s, err := LineStrength(OnLine{m, r, yield})
		if err != nil {
			if impossible(err) == "" { // r is at the very edge of what the grounds keep
				t.Fatalf("1:%v: %v", r, err)
			}
			return
		}
		if math.Abs(s-strength) > 1e-9*strength {
			t.Fatalf("%v %% came back as %v %%", strength, s)
		}
	})
}

func TestCupAllocatesNothing(t *testing.T) {
	pairs := []Pair{{1, 0.85}, {2, 1.7}, {5, 4.25}, {10, 8.5}}
	readings := []float64{1.31, 1.33, 1.32}
	blend := []Part{{100, 1.2}, {50, 1.4}}
	filter := Method{FilterLiquidGPerG, 0, 0}
	for name, f := range map[string]func() error{
		"Convert":           func() error { return second(Convert(Solution{1.2, 20, SoluteMLPerG})) },
		"ConvertGPerL":      func() error { return second(ConvertGPerL(ByVolume{12, 20, SoluteMLPerG})) },
		"BeverageMass":      func() error { return second(BeverageMass(Served{200, 1.2, 60, SoluteMLPerG})) },
		"DryFactor":         func() error { return second(DryFactor(Bean{3, 1})) },
		"BypassYield":       func() error { _, _, err := BypassYield(Bypassed{Brew{15, 250, 240, 1.3, 0, 0}, 20}); return err },
		"SpentGroundsYield": func() error { return second(SpentGroundsYield(Spent{20, 16, Bean{}, 15, 2.48, 2.3, true})) },
		"OvenApparentYield": func() error { return second(OvenApparentYield(OvenCheck{20, 15, 2.48, 2.3})) },
		"Equilibrium":       func() error { return second(Equilibrium(Steep{15, 21.5, 1})) },
		"LineStrength":      func() error { return second(LineStrength(OnLine{filter, 15, 20})) },
		"PointRatio":        func() error { return second(PointRatio(OnMap{filter, 1.3, 20})) },
		"RecipeFor":         func() error { return second(RecipeFor(Goal{filter, 300, 1.3, 20, 5, 50, 1000})) },
		"StrengthAfter":     func() error { _, _, err := StrengthAfter(Changed{filter, 1.3, 16, 15}); return err },
		"SucroseIndex":      func() error { return second(SucroseIndex(Reading{1.5})) },
		"Brix":              func() error { return second(Brix(Sample{1.335, 22})) },
		"BrixCorrection":    func() error { return second(BrixCorrection(Uncompensated{1.5, 22})) },
		"WaterIndex":        func() error { return second(WaterIndex(At{20})) },
		"BrixStrength":      func() error { return second(BrixStrength(Refractometry{1.5, 0, 0.02, 0.85, 0.02})) },
		"SlopePct":          func() error { return second(SlopePct(SlopeByMass{8.25, 1003})) },
		"FitSlope":          func() error { return second(FitSlope(pairs)) },
		"OvenStrength":      func() error { return second(OvenStrength(Oven{25, 35, 25.14, 1e-4})) },
		"Repeatability":     func() error { return second(Repeatability(readings)) },
		"YieldUncertainty": func() error {
			return second(YieldUncertainty(Brew{15, 250, 220, 1.4, 0.8, 0}, BrewU{0.05, 1, 1, 0.03, 0.2, 0}))
		},
		"DrainingUncertainty":  func() error { return second(DrainingUncertainty(Draining{18, 36, 10}, BrewU{DoseG: 0.05})) },
		"ImmersionUncertainty": func() error { return second(ImmersionUncertainty(Immersion{10, 165, 1.3}, BrewU{DoseG: 0.05})) },
		"MapEllipse":           func() error { return second(MapEllipse(MapPoint{20, 0.5, 1.3, 0.03, 0.01, 95})) },
		"Directions":           func() error { return second(Directions(Turn{filter, 1.3, 20, 1, 5})) },
		"Blend":                func() error { return second(Blend(blend)) },
		"Dilute":               func() error { return second(Dilute(Dilution{100, 1.8, 0, 1.3})) },
		"BlendParts":           func() error { _, _, err := BlendParts(TwoBrews{1.8, 0, 1.3, 300}); return err },
	} {
		if n := testing.AllocsPerRun(100, func() {
			if err := f(); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}
