package extraction

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

// A way is a function of a struct of numbers, the accepted range of each, and
// the refusals that it must have given before the test says anything.
type way struct {
	name   string
	call   any // func(T) (…, error)
	lo, hi []float64
	fields []string // what its refusals name; "" where no change of one helps
}

// What an ImpossibleError says would make an answer exist does: at both ends of
// its range, in the field that it names, which is refused as it was given.
func TestWaysOut(t *testing.T) {
	for _, w := range ways {
		draw := rand.New(rand.NewPCG(uint64(len(w.name)), 31))
		f := reflect.ValueOf(w.call)
		ask := func(v []float64) error {
			in := reflect.New(f.Type().In(0)).Elem()
			fill(in, v)
			out := f.Call([]reflect.Value{in})
			err, _ := out[len(out)-1].Interface().(error)
			return err
		}
		names := spelled(f.Type().In(0), "")
		seen := map[string]int{}
		for range 6000 {
			v := make([]float64, len(names))
			for i := range v {
				v[i] = drawn(draw, w.lo[i], w.hi[i], v[:i])
			}
			none, ok := ask(v).(*ImpossibleError)
			if !ok {
				continue
			}
			seen[none.Field]++
			if none.Field == "" {
				continue
			}
			i := -1
			for j, name := range names {
				if name == none.Field {
					i = j
				}
			}
			if i < 0 {
				t.Fatalf("%s(%v): %v is no field", w.name, v, none.Field)
			}
			if given := strconv.FormatFloat(v[i], 'g', -1, 64); none.Given != given && !same(none.Given, v[i]) {
				t.Fatalf("%s(%v): given is told as %v", w.name, v, none.Given)
			}
			if !(none.Min <= none.Max) || v[i] >= none.Min && v[i] <= none.Max {
				t.Fatalf("%s(%v): %v", w.name, v, none)
			}
			for _, end := range []float64{none.Min, none.Max} {
				there := append([]float64(nil), v...)
				there[i] = end
				err := ask(there)
				if then, ok := err.(*ImpossibleError); ok && then.Quantity != none.Quantity {
					continue // that exists now, and what comes after it does not
				}
				if err != nil {
					t.Fatalf("%s(%v): %v; with %v: %v", w.name, v, none, end, err)
				}
			}
		}
		for _, name := range w.fields {
			if seen[name] == 0 {
				t.Errorf("%s: never blamed %q: %v", w.name, name, seen)
			}
			delete(seen, name)
		}
		if len(seen) != 0 {
			t.Errorf("%s: also blamed %v", w.name, seen)
		}
	}
}

// drawn is a number from lo to hi: an end, one of those before it, or any, by
// its logarithm where there is one.
func drawn(draw *rand.Rand, lo, hi float64, before []float64) float64 {
	switch k := draw.IntN(12); {
	case k == 0:
		return lo
	case k == 1:
		return hi
	case k == 2 && len(before) > 0:
		if v := before[draw.IntN(len(before))]; v >= lo && v <= hi {
			return v
		}
	case k == 3 && lo >= 0:
		v := math.Exp(math.Log(max(lo, hi/1000)) + draw.Float64()*math.Log(min(hi/lo, 1000)))
		return min(max(v, lo), hi)
	}
	if lo > 0 && hi > 50*lo {
		return min(max(lo*math.Pow(hi/lo, draw.Float64()), lo), hi)
	}
	return lo + draw.Float64()*(hi-lo)
}

func same(given string, v float64) bool {
	g, err := strconv.ParseFloat(given, 64)
	return err == nil && g == v
}

// fill sets the numbers of a struct in order; a bool is true from a half on.
func fill(in reflect.Value, v []float64) []float64 {
	switch in.Kind() {
	case reflect.Float64:
		in.SetFloat(v[0])
		return v[1:]
	case reflect.Bool:
		in.SetBool(v[0] >= 0.5)
		return v[1:]
	}
	for i := range in.NumField() {
		v = fill(in.Field(i), v)
	}
	return v
}

// spelled lists the names of a struct's numbers as a refusal spells them.
func spelled(in reflect.Type, under string) []string {
	if in.Kind() != reflect.Struct {
		return []string{strings.TrimSuffix(under, ".")}
	}
	var list []string
	for i := range in.NumField() {
		list = append(list, spelled(in.Field(i).Type, under+in.Field(i).Name+".")...)
	}
	return list
}

// bypassed is BypassYield, in whose other refusals the brew is the one before the
// bypass: no field that it was given.
func bypassed(in Bypassed) error {
	err := third(BypassYield(in))
	if none, ok := err.(*ImpossibleError); ok && none.Why != "nothing is left of the beverage before the bypass" {
		return errors.New("before the bypass: " + none.Error())
	}
	return err
}

var ways = []way{
	{"SpentGroundsYield", SpentGroundsYield, []float64{MinDoseG, 0.05, 0, 0, 1, 0, 0, 0}, []float64{MaxDoseG, MaxDoseG, 15, 3, MaxRatio, 3.5, 5, 1},
		[]string{"DryG", "LiquidGPerG", ""}},
	{"BypassYield", bypassed, []float64{MinDoseG, MinWaterG, MinWaterG, MinStrengthPct, 0, 0, 0}, []float64{MaxDoseG, MaxWaterG, MaxWaterG, MaxStrengthPct, MaxStrengthPct, MaxAbsorbedGPerG, MaxWaterG},
		[]string{"BypassG", ""}},
	{"OvenStrength", OvenStrength, []float64{0, 0.5, 0, 0}, []float64{10_000, 10_000, 10_000, 1}, []string{"WetG", "DryG", "DishG", ""}},
	{"Dilute", Dilute, []float64{0.1, 0, 0, 0.01}, []float64{MaxWaterG, 100, 100, 100}, []string{"ToStrengthPct", "WithPct", ""}},
	{"BlendParts", BlendParts, []float64{0, 0, 0, 0.1}, []float64{100, 100, 100, MaxMassG}, []string{"ToStrengthPct"}},
	{"Yield", Yield, []float64{MinDoseG, MinWaterG, MinWaterG, MinStrengthPct, 0, 0}, []float64{MaxDoseG, MaxWaterG, MaxWaterG, MaxStrengthPct, MaxStrengthPct, MaxAbsorbedGPerG},
		[]string{"DoseG", "WaterG", "BeverageG", "StrengthPct", "AbsorbedGPerG", ""}},
	{"DrainingYield", DrainingYield, []float64{MinDoseG, MinWaterG, MinStrengthPct}, []float64{MaxDoseG, MaxWaterG, MaxStrengthPct}, []string{"DoseG", "BeverageG"}},
	{"ImmersionYield", ImmersionYield, []float64{MinDoseG, MinWaterG, MinStrengthPct}, []float64{MaxDoseG, MaxWaterG, MaxStrengthPct}, []string{"DoseG", "WaterG"}},
	{"Strength", Strength, []float64{MinDoseG, MinWaterG, MinWaterG, MinYieldPct, 0, 0}, []float64{MaxDoseG, MaxWaterG, MaxWaterG, MaxYieldPct, 100, MaxAbsorbedGPerG},
		[]string{"BeverageG", "WaterG", "AbsorbedGPerG", "YieldPct", ""}},
	{"DrainingStrength", DrainingStrength, []float64{MinDoseG, MinWaterG, MinYieldPct}, []float64{MaxDoseG, MaxWaterG, MaxYieldPct}, []string{"YieldPct", "BeverageG"}},
	{"ImmersionStrength", ImmersionStrength, []float64{MinDoseG, MinWaterG, MinYieldPct}, []float64{MaxDoseG, MaxWaterG, MaxYieldPct}, nil},
	{"LineStrength", LineStrength, []float64{0, 0, 0, MinRatio, MinYieldPct}, []float64{6, 100, MaxAbsorbedGPerG, MaxRatio, MaxYieldPct}, []string{"Ratio"}},
	{"PointRatio", PointRatio, []float64{0, 0, 0, MinStrengthPct, MinYieldPct}, []float64{6, 100, MaxAbsorbedGPerG, MaxStrengthPct, MaxYieldPct}, []string{"StrengthPct"}},
	{"RecipeFor", RecipeFor, []float64{0, 0, 0, MinWaterG, MinStrengthPct, MinYieldPct, MinDoseG, MinDoseG, MinWaterG},
		[]float64{6, 100, MaxAbsorbedGPerG, MaxWaterG, MaxStrengthPct, MaxYieldPct, MaxDoseG, MaxDoseG, MaxWaterG}, []string{"BeverageG", "StrengthPct", "DoseMinG", "DoseMaxG", "WaterMaxG", ""}},
	{"StrengthAfter", StrengthAfter, []float64{0, 0, 0, MinStrengthPct, MinRatio, MinRatio}, []float64{6, 100, MaxAbsorbedGPerG, MaxStrengthPct, MaxRatio, MaxRatio}, []string{"Ratio", "ToRatio"}},
}
