package extraction

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// fields lists the names of the refused fields of err, in order.
func fields(err error) []string {
	var in *InputError
	if !errors.As(err, &in) {
		return nil
	}
	var names []string
	for _, f := range in.Fields {
		names = append(names, f.Field)
	}
	return names
}

// impossible is the field whose change makes an answer possible.
func impossible(err error) string {
	var none *ImpossibleError
	if !errors.As(err, &none) {
		return ""
	}
	return none.Field
}

func second[T any](_ T, err error) error { return err }

// near says whether two numbers agree to a relative 1e-12.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)) }

// The doses, ratios, strengths and shares that the properties run over.
var (
	doses     = []float64{0.1, 5, 7, 8.25, 10, 18, 60, 1000, 100_000}
	ratios    = []float64{2, 3, 5, 10, 14.3, 16.5, 18.2, 25, 40}
	yields    = []float64{1, 5, 10, 18, 20, 22, 25, 30, 36, 60}
	shares    = []float64{0, 10, 57.142857, 90, 100}
	keepings  = []float64{0.5, 1.5, 1.9} // liquid kept, g/g
	absorbeds = []float64{0, 0.1, 0.4}
)

// Both limits are the same code: the general balance, given what each limit
// assumes, is the draining and the immersion formula.
func TestLimitsOfOneBalance(t *testing.T) {
	for _, dose := range doses {
		for _, r := range ratios {
			for _, strength := range []float64{0.15, 0.8, 1.2, 1.35, 2, 5, 9.5} {
				water := min(dose*r, MaxWaterG)
				if water < 1 {
					continue
				}
				immersion, err1 := ImmersionYield(Immersion{dose, water, strength})
				for _, poured := range []float64{0.2, 0.5, 0.8, 1} {
					beverage := poured * water
					general, err := Yield(Brew{dose, water, beverage, strength, strength, 0})
					if err1 != nil {
						// A dose that is accepted helps both, or neither.
						one, two := new(ImpossibleError), new(ImpossibleError)
						if !errors.As(err, &one) || !errors.As(err1, &two) || one.Why != two.Why || (one.Field == "DoseG") != (two.Field == "DoseG") {
							t.Fatalf("immersion says %v, the general balance %v", err1, err)
						}
						continue
					}
					if err != nil {
						t.Fatal(err)
					}
					if !near(general.YieldPct, immersion.YieldPct) {
						t.Fatalf("%v g, %v g, %v %%: immersion %v, general %v with %v g poured off", dose, water, strength, immersion.YieldPct, general.YieldPct, beverage)
					}
					draining, err := DrainingYield(Draining{dose, beverage, strength})
					if err != nil {
						t.Fatal(err)
					}
					clean, err := Yield(Brew{dose, water, beverage, strength, 0, 0})
					if err != nil {
						t.Fatal(err)
					}
					if !near(clean.YieldPct, draining.YieldPct) || !near(clean.YieldPct, general.CupYieldPct) {
						t.Fatalf("draining %v, clean %v, cup %v", draining.YieldPct, clean.YieldPct, general.CupYieldPct)
					}
					if !(draining.YieldPct <= immersion.YieldPct*(1+1e-12)) {
						t.Fatalf("the cup yield %v is above the total %v", draining.YieldPct, immersion.YieldPct)
					}
				}
			}
		}
	}
}

// Strength and Yield are inverse, and every gram is somewhere.
func TestBalanceCloses(t *testing.T) {
	n := 0
	for _, dose := range doses {
		for _, r := range ratios {
			for _, e := range yields {
				for _, q := range shares {
					for _, keep := range keepings {
						for _, a := range absorbeds {
							water := dose * r
							beverage := water + e/100*dose - keep*dose
							if water < MinWaterG || water > MaxWaterG || beverage < MinWaterG || beverage > MaxWaterG {
								continue
							}
							s, err := Strength(Target{dose, water, beverage, e, q, a})
							if impossible(err) != "" || err == nil && s.Notes&UnusualStrength != 0 {
								continue
							}
							if err != nil {
								t.Fatal(err)
							}
							b, err := Yield(Brew{dose, water, beverage, s.StrengthPct, s.RetainedStrengthPct, a})
							if err != nil {
								t.Fatal(err)
							}
							n++
							if !near(b.YieldPct, e) {
								t.Fatalf("%v g, 1:%v, q %v: yield %v came back as %v", dose, r, q, e, b.YieldPct)
							}
							in := dose + water
							out := b.CupSolidsG + b.CupWaterG + b.RetainedSolidsG + b.RetainedWaterG + b.UndissolvedG
							if !near(in, out) || !near(b.CupSolidsG+b.CupWaterG, beverage) || !near(dose, b.DissolvedG+b.UndissolvedG) {
								t.Fatalf("%v g went in and %v g came out: %+v", in, out, b)
							}
							// The retained solids are where T_r says that they are.
							mixed := b.RetainedWaterG + b.RetainedSolidsG - a*dose
							if math.Abs(b.RetainedSolidsG-s.RetainedStrengthPct/100*mixed) > 1e-12*in {
								t.Fatalf("retained solids %v g, but %v %% of %v g", b.RetainedSolidsG, s.RetainedStrengthPct, mixed)
							}
						}
					}
				}
			}
		}
	}
	if n < 5000 {
		t.Errorf("only %d brews were checked", n)
	}
}

func TestStrengthLimits(t *testing.T) {
	for _, e := range yields {
		imm, err := ImmersionStrength(ImmersionTarget{10, 165, e})
		if err != nil {
			t.Fatal(err)
		}
		back, err := ImmersionYield(Immersion{10, 165, imm.StrengthPct})
		if err == nil && !near(back.YieldPct, e) || err != nil && imm.Notes&UnusualStrength == 0 {
			t.Errorf("immersion: %v %% came back as %v, %v", e, back.YieldPct, err)
		}
		drain, err := DrainingStrength(DrainingTarget{18, 36, e})
		if err != nil {
			t.Fatal(err)
		}
		back, err = DrainingYield(Draining{18, 36, drain.StrengthPct})
		if err == nil && !near(back.YieldPct, e) || err != nil && drain.Notes&UnusualStrength == 0 {
			t.Errorf("draining: %v %% came back as %v, %v", e, back.YieldPct, err)
		}
		general, err := Strength(Target{18, 54, 36, e, 0, 0})
		if err != nil || general != drain {
			t.Errorf("general %v, draining %v, %v", general, drain, err)
		}
		whole, err := Strength(Target{10, 165, 140, e, 100, 0})
		if err != nil || !near(whole.StrengthPct, imm.StrengthPct) {
			t.Errorf("general %v, immersion %v, %v", whole, imm, err)
		}
	}
}

func TestYieldRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := Brew{15, 250, 220, 1.4, 0.8, 0}
	with := func(f func(*Brew)) error { b := good; f(&b); return second(Yield(b)) }
	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"good":                 {with(func(b *Brew) {}), nil},
		"zero":                 {second(Yield(Brew{})), []string{"DoseG", "WaterG", "BeverageG", "StrengthPct"}},
		"smallest":             {second(Yield(Brew{0.1, 0.1, 0.1, 0.15, 0, 0})), nil},
		"below":                {second(Yield(Brew{math.Nextafter(0.1, 0), 0.1, math.Nextafter(0.1, 0), math.Nextafter(0.15, 0), 0, 0})), []string{"DoseG", "BeverageG", "StrengthPct"}},
		"largest":              {second(Yield(Brew{100_000, 4_000_000, 100_000, 35, 0, 3})), nil},
		"beyond":               {with(func(b *Brew) { b.DoseG = math.Nextafter(1e5, 2e5); b.WaterG = math.Nextafter(4e6, 5e6) }), []string{"DoseG", "WaterG"}},
		"strength beyond":      {with(func(b *Brew) { b.StrengthPct = math.Nextafter(35, 36) }), []string{"StrengthPct"}},
		"a fraction":           {with(func(b *Brew) { b.StrengthPct = 0.014 }), []string{"StrengthPct"}},
		"retained beyond":      {with(func(b *Brew) { b.RetainedStrengthPct = math.Nextafter(0, -1) }), []string{"RetainedStrengthPct"}},
		"absorbed beyond":      {with(func(b *Brew) { b.AbsorbedGPerG = math.Nextafter(3, 4) }), []string{"AbsorbedGPerG"}},
		"NaN":                  {second(Yield(Brew{nan, nan, nan, nan, nan, nan})), []string{"DoseG", "WaterG", "BeverageG", "StrengthPct", "RetainedStrengthPct", "AbsorbedGPerG"}},
		"infinite":             {with(func(b *Brew) { b.DoseG = inf; b.AbsorbedGPerG = -inf }), []string{"DoseG", "AbsorbedGPerG"}},
		"draining zero":        {second(DrainingYield(Draining{})), []string{"DoseG", "BeverageG", "StrengthPct"}},
		"immersion zero":       {second(ImmersionYield(Immersion{})), []string{"DoseG", "WaterG", "StrengthPct"}},
		"strength zero":        {second(Strength(Target{})), []string{"DoseG", "WaterG", "BeverageG", "YieldPct"}},
		"a yield as fraction":  {second(Strength(Target{15, 250, 220, 0.2, 101, 0})), []string{"YieldPct", "RetainedSharePct"}},
		"draining strength":    {second(DrainingStrength(DrainingTarget{18, 36, math.Nextafter(1, 0)})), []string{"YieldPct"}},
		"immersion strength":   {second(ImmersionStrength(ImmersionTarget{10, 165, math.Nextafter(100, 101)})), []string{"YieldPct"}},
		"draining at limits":   {second(DrainingYield(Draining{100_000, 100_000, 35})), nil},
		"immersion at a limit": {second(ImmersionYield(Immersion{100_000, 100_000, 35})), nil},
	} {
		if diff := cmp.Diff(c.want, fields(c.err)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	for name, c := range map[string]struct {
		err  error
		want string
	}{
		"more beverage than water": {with(func(b *Brew) { b.WaterG = 200 }), "WaterG"},
		"more solids than dose":    {with(func(b *Brew) { b.StrengthPct = 30 }), "DoseG"},
		"more locked in than kept": {with(func(b *Brew) { b.AbsorbedGPerG = 2.9 }), "AbsorbedGPerG"},
		"immersion from nothing":   {second(ImmersionYield(Immersion{0.1, 1000, 1})), "DoseG"},
		"strength of syrup":        {second(DrainingStrength(DrainingTarget{100, 30, 31})), "YieldPct"},
		"beverage from nothing":    {second(Strength(Target{15, 250, 254, 20, 0, 0})), "BeverageG"},
	} {
		if got := impossible(c.err); got != c.want {
			t.Errorf("%s: the refusal names %q, want %q: %v", name, got, c.want, c.err)
		}
	}
	if b, err := Yield(Brew{}); err == nil || b != (Balance{}) {
		t.Errorf("beside an error stands %v", b)
	}
}

func TestYieldNotes(t *testing.T) {
	for _, c := range []struct {
		strength, retained float64
		want               Notes
	}{
		{0.6, 0, LowYield}, {1.4, 0, 0}, {2.1, 0, HighYield}, {2.5, 0, HighYield | AboveSoluble}, {1.4, 1.41, RetainedStronger}, {0.4, 0.5, LowYield | RetainedStronger},
	} {
		b, err := Yield(Brew{15, 250, 220, c.strength, c.retained, 0})
		if err != nil || b.Notes != c.want {
			t.Errorf("%v %%: notes are %q, want %q; %v", c.strength, b.Notes, c.want, err)
		}
	}
	if got, want := (LowYield | UnusualStrength).String(), "a lower yield than any finished brew: check strength and masses; a strength that brewed coffee does not have"; got != want {
		t.Errorf("got %q", got)
	}
}

// Any input gives a finite balance or a refusal.
func FuzzYield(f *testing.F) {
	f.Add(15.0, 250.0, 220.0, 1.4, 0.8, 0.0)                // a filter brew
	f.Add(0.1, 4e6, 4e6, 35.0, 35.0, 3.0)                   // every limit at once
	f.Add(18.0, 36.0, 36.0, 0.15, 0.0, 0.0)                 // nothing retained but the solids' mass
	f.Add(1e-320, math.Inf(1), math.NaN(), -1.0, 1e300, .1) // none is a mass
	f.Fuzz(func(t *testing.T, dose, water, beverage, strength, retained, absorbed float64) {
		b, err := Yield(Brew{dose, water, beverage, strength, retained, absorbed})
		if err != nil {
			if none := new(ImpossibleError); b != (Balance{}) || fields(err) == nil && !errors.As(err, &none) {
				t.Fatalf("%v beside %v", b, err)
			}
			return
		}
		for _, v := range []float64{b.YieldPct, b.CupYieldPct, b.DissolvedG, b.CupSolidsG, b.CupWaterG, b.RetainedSolidsG, b.RetainedWaterG, b.UndissolvedG} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v", b)
			}
		}
	})
}

func TestYieldAllocatesNothing(t *testing.T) {
	for name, f := range map[string]func() error{
		"Yield":             func() error { return second(Yield(Brew{15, 250, 220, 1.4, 0.8, 0})) },
		"DrainingYield":     func() error { return second(DrainingYield(Draining{18, 36, 10})) },
		"ImmersionYield":    func() error { return second(ImmersionYield(Immersion{10, 165, 1.3})) },
		"Strength":          func() error { return second(Strength(Target{15, 250, 220, 20, 50, 0})) },
		"DrainingStrength":  func() error { return second(DrainingStrength(DrainingTarget{18, 36, 20})) },
		"ImmersionStrength": func() error { return second(ImmersionStrength(ImmersionTarget{10, 165, 20})) },
	} {
		if n := testing.AllocsPerRun(100, func() {
			if err := f(); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}
