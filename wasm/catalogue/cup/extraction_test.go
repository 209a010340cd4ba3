package cup

import (
	"math"
	"strings"
	"testing"

	"example.org/evenlot/extraction"
	"github.com/google/go-cmp/cmp"
)

func TestYieldOfABrew(t *testing.T) {
	b := must[extraction.Balance](t)(extraction.Yield(extraction.Brew{DoseG: 15, WaterG: 250, BeverageG: 220, StrengthPct: 1.4, RetainedStrengthPct: 0.8}))
	s := example(t, brewYield())
	agree(t, s, "yield", b.YieldPct)
	agree(t, s, "cup", b.CupYieldPct)
	f := must[float64](t)(extraction.DryFactor(extraction.Bean{MoisturePct: 2}))
	agree(t, s, "dry", b.YieldPct*f)
	if len(s.Figures) != 2 {
		t.Fatalf("%d figures, want the balance and the map", len(s.Figures))
	}
	var parts []string
	for _, row := range s.Figures[0].Table.Rows {
		parts = append(parts, row[1])
	}
	want := []string{"coffee", "water poured", "solids in the cup", "water in the cup", "solids left in the grounds' liquid", "water left in the grounds", "grounds"}
	if diff := cmp.Diff(want, parts[:min(len(parts), len(want))]); diff != "" {
		t.Errorf("the balance shows other parts: %s", diff)
	}
	for _, want := range []string{"finer", "coarser", "more water", "more dose", "f-ellipse", "Golden Cup", "1:"} {
		if !strings.Contains(s.Figures[1].SVG, want) {
			t.Errorf("the map does not show %q", want)
		}
	}

	// Without last drops the yield is the cup's.
	clean := example(t, brewYield(), "tr", "")
	agree(t, clean, "yield", got(clean, "cup"))

	// Steeping is the immersion formula.
	steeped := example(t, brewYield(), "how", "steeps")
	e := must[extraction.Extracted](t)(extraction.ImmersionYield(extraction.Immersion{DoseG: 15, WaterG: 250, StrengthPct: 1.4}))
	agree(t, steeped, "yield", e.YieldPct)

	// Bypass moves the strength and leaves the yield alone.
	for _, how := range []string{"drains", "steeps"} {
		plain := example(t, brewYield(), "how", how, "b", "220", "t", "1.80", "w", "270", "tr", "")
		thin := example(t, brewYield(), "how", how, "b", "264", "p", "44", "t", "1.50", "w", "270", "tr", "")
		agree(t, thin, "yield", got(plain, "yield"))
		agree(t, thin, "before", 1.8)
	}

	// Espresso draws another part of the map.
	shot := example(t, brewYield(), "dose", "18.0", "w", "55", "b", "36.0", "t", "9.80", "tr", "")
	if strings.Contains(shot.Figures[1].SVG, "Golden Cup") {
		t.Error("an espresso is held against a window of filter coffee in the picture")
	}
}

func TestYieldOfABowl(t *testing.T) {
	s := example(t, bowlYield())
	e := must[extraction.Extracted](t)(extraction.ImmersionYield(extraction.Immersion{DoseG: 10, WaterG: 165, StrengthPct: 1.25}))
	agree(t, s, "yield", e.YieldPct)
	q := must[extraction.Steeped](t)(extraction.Equilibrium(extraction.Steep{Ratio: 16.5, YieldPct: 23.9}))
	agree(t, s, "rest", q.StrengthPct)
	agree(t, example(t, steepStrength()), "t", q.StrengthPct)

	// The machinery's uncertainty and the package's are two routes to one.
	var u float64
	for _, v := range s.Values {
		if v.ID == "yield" {
			u = v.U
		}
	}
	half := func(digit, pm float64) float64 { return math.Hypot(digit/2, pm) / math.Sqrt(3) }
	known := must[extraction.YieldU](t)(extraction.ImmersionUncertainty(extraction.Immersion{DoseG: 10, WaterG: 165, StrengthPct: 1.25},
		extraction.BrewU{DoseG: half(0.1, 0), WaterG: half(0.1, 0), StrengthPct: half(0.01, 0.05)}))
	if math.Abs(u-known.UPct) > 1e-3*known.UPct {
		t.Errorf("the sheet says ± %v, the package ± %v", u, known.UPct)
	}
}

func TestRecipesAndChanges(t *testing.T) {
	filter := extraction.Method{LiquidGPerG: 2.1}
	r := must[extraction.Recipe](t)(extraction.RecipeFor(extraction.Goal{Method: filter, BeverageG: 1000, StrengthPct: 1.3, YieldPct: 20, DoseMinG: 30, DoseMaxG: 90, WaterMaxG: 1250}))
	s := example(t, recipeFor())
	agree(t, s, "dose", r.DoseG)
	agree(t, s, "water", r.WaterG)

	t2, e, err := extraction.StrengthAfter(extraction.Changed{Method: filter, StrengthPct: 1.22, Ratio: 17, ToRatio: 16})
	if err != nil {
		t.Fatal(err)
	}
	s = example(t, strengthAfter())
	agree(t, s, "t2", t2)
	agree(t, s, "e", e)
}

func TestMeasurements(t *testing.T) {
	agree(t, example(t, refractometer()), "t", 0.85*1.55)
	c := must[float64](t)(extraction.BrixCorrection(extraction.Uncompensated{BrixPct: 1.55, TempC: 25}))
	agree(t, example(t, refractometer(), "temp", "25"), "t", 0.85*(1.55+c))

	m := must[extraction.Measured](t)(extraction.OvenStrength(extraction.Oven{DishG: 25, WetG: 35.2, DryG: 25.1377, UG: 0.0002}))
	s := example(t, ovenStrength())
	agree(t, s, "t", m.StrengthPct)
	if math.Abs(s.Values[0].U-m.UPct) > 1e-9 {
		t.Errorf("± %v, want ± %v", s.Values[0].U, m.UPct)
	}

	y := must[extraction.OvenYield](t)(extraction.SpentGroundsYield(extraction.Spent{DoseG: 15, DryG: 12.1, Bean: extraction.Bean{MoisturePct: 3},
		Ratio: 15, LiquidGPerG: 2.48, VolatilesPct: 2.3, RetainedAsBrew: true}))
	agree(t, example(t, spentGrounds()), "e", y.YieldPct)

	k := must[extraction.SlopeFit](t)(extraction.FitSlope([]extraction.Pair{{BrixPct: 1.21, StrengthPct: 1.03}, {BrixPct: 1.48, StrengthPct: 1.25}, {BrixPct: 1.62, StrengthPct: 1.39},
		{BrixPct: 1.77, StrengthPct: 1.49}, {BrixPct: 2.05, StrengthPct: 1.74}, {BrixPct: 2.40, StrengthPct: 2.05}}))
	agree(t, example(t, ownSlope()), "k", k.SlopePct)

	r := must[extraction.Repeated](t)(extraction.Repeatability([]float64{1.31, 1.33, 1.32, 1.30, 1.34, 1.32}))
	agree(t, example(t, repeatReadings()), "r", r.LimitPct)

	g := must[extraction.Strengths](t)(extraction.Convert(extraction.Solution{StrengthPct: 1.35, TempC: 20, SoluteMLPerG: 0.62}))
	agree(t, example(t, strengthUnits()), "gl", g.GPerL)
}

func TestMixtures(t *testing.T) {
	agree(t, example(t, dilute()), "x", 100)
	s := example(t, blendTwo())
	agree(t, s, "m1", 112.5)
	agree(t, s, "m2", 187.5)
}
