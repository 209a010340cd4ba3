package words_test

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/checkpoint"
	"example.org/evenlot/checkpoint/chart"
	"example.org/evenlot/checkpoint/panel"
	"example.org/evenlot/checkpoint/sampling"
	"example.org/evenlot/checkpoint/stock"
	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/checkpoint/weighing"
	"example.org/evenlot/degas"
	"example.org/evenlot/extraction"
	"example.org/evenlot/headspace"
	"example.org/evenlot/internal/words"
	"example.org/evenlot/moisture"
	"github.com/shopspring/decimal"
)

// A set is a type of bits, and how many of them have a name.
func set[T ~uint16 | ~uint32, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, most int) {
	t.Helper()
	seen := map[string]bool{}
	named := 0
	for bit := range most {
		v := T(1) << bit
		text := fmt.Sprint(v)
		if text == "" {
			break
		}
		if seen[text] {
			t.Errorf("%T: bit %d prints %q, which cannot be read back", v, bit, text)
		}
		seen[text] = true
		named++
	}
	if named == 0 {
		t.Errorf("%T: no bit has a name", T(0))
	}
	for v := uint64(0); v < 1<<named; v += 1 + v/64 { // every small set, and many large ones
		var back T
		text, err := any(T(v)).(encoding.TextMarshaler).MarshalText()
		if err == nil {
			err = P(&back).UnmarshalText(text)
		}
		if err != nil || back != T(v) {
			t.Fatalf("%T: %d came back as %d from %q: %v", back, v, back, text, err)
		}
	}
	refuses[T, P](t)
}

// refuses checks that other words leave the value as it was.
func refuses[T ~uint8 | ~uint16 | ~uint32, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T) {
	t.Helper()
	for _, text := range []string{"; ", "no such word", "7", strings.Repeat("a; ", 1000), "\xff"} {
		v := T(1)
		if err := P(&v).UnmarshalText([]byte(text)); err == nil || v != 1 || len(err.Error()) > 300 {
			t.Errorf("%T: %.20q was read as %d: %v", v, text, v, err)
		}
	}
}

// kind is a type of numbered words, from and to the numbers that have one.
func kind[T ~uint8, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, from, to T) {
	t.Helper()
	for v := from; v <= to; v++ {
		var back T
		text, err := any(v).(encoding.TextMarshaler).MarshalText()
		if err == nil {
			err = P(&back).UnmarshalText(text)
		}
		if err != nil || back != v {
			t.Errorf("%T: %d came back as %d from %q: %v", v, uint8(v), uint8(back), text, err)
		}
	}
	if fmt.Sprint(to+1) == fmt.Sprint(to) || fmt.Sprint(T(200)) != fmt.Sprint(T(201)) {
		t.Errorf("%T: numbers without a word print %v, %v", to, to+1, T(200))
	}
	refuses[T, P](t)
}

func TestThereAndBack(t *testing.T) {
	set[brewratio.Notes](t, 32)
	set[extraction.Notes](t, 32)
	set[moisture.Notes](t, 32)
	set[headspace.Notes](t, 32)
	set[degas.Notes](t, 32)
	set[uncertainty.Notes](t, 32)
	set[panel.Notes](t, 32)
	set[stock.Notes](t, 32)
	set[sampling.Notes](t, 32)
	set[weighing.Notes](t, 32)
	set[chart.Rules](t, 16)
	kind(t, brewratio.RinseDose, brewratio.SpareDose)
	kind(t, moisture.FormRoa, moisture.FormHenderson)
	kind(t, moisture.LithiumChloride, moisture.PotassiumSulfate)
	kind(t, headspace.Excellent, headspace.TooMuch)
	kind(t, headspace.BlownIn, headspace.DrawnOut)
	kind(t, headspace.SweepStep, headspace.VentStep)
	kind(t, degas.Cupping, degas.PeakTaste)
	kind(t, checkpoint.In, checkpoint.TooClose)
	kind(t, uncertainty.Normal, uncertainty.CurvedTrapezoid)
	kind(t, panel.Triangle, panel.Tetrad)
	kind(t, sampling.Upper, sampling.Both)
	kind(t, weighing.MeanRule, weighing.NeverRule)
	kind(t, weighing.E2, weighing.M3)
	kind(t, weighing.ClassI, weighing.ClassIIII)
	kind(t, weighing.Pass, weighing.Close)
}

// Results go through JSON and come back equal, with the unit in each name and
// words for notes and kinds.
func TestResultsAsJSON(t *testing.T) {
	kg := decimal.RequireFromString
	must := func(v any, err error) any {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for want, v := range map[string]any{
		`"MoisturePct":10.9`: must(func() (any, error) {
			return moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: 18, RHPct: 57})
		}()),
		`"DryMatterPct":"`: must(func() (any, error) {
			return moisture.RoastLoss(moisture.Roast{GreenKg: kg("12.00"), RoastedKg: kg("10.14"), GreenMoisturePct: kg("10.8"), RoastedMoisturePct: kg("1.8")})
		}()),
		`"WaterG":"299.7"`: must(func() (any, error) {
			return brewratio.Water(brewratio.DoseAndRatio{DoseG: kg("18.5"), Ratio: kg("16.2")})
		}()),
		`"Word":"in"`: must(func() (any, error) {
			return checkpoint.Judge(checkpoint.Reading{Value: 11, U: 0.1}, checkpoint.Limit{Lo: 10, Hi: 12}, 5)
		}()),
		`"GasML":`: must(func() (any, error) {
			return headspace.FlushesFor(headspace.FlushTarget{StartPct: 20.9, SupplyPct: 0.1, FreeML: 600, FlushML: 800, TargetPct: 2})
		}()),
		`"YieldPct":`: must(func() (any, error) {
			return extraction.ImmersionYield(extraction.Immersion{DoseG: 10, WaterG: 165, StrengthPct: 1.25})
		}()),
		`"LeftPct":`: must(func() (any, error) {
			return degas.Left(degas.FirstOrder{TauDays: 10}, 3)
		}()),
	} {
		text, err := json.Marshal(v)
		if err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%T: %s: %v; want %s", v, text, err, want)
			continue
		}
		back := reflect.New(reflect.TypeOf(v))
		if err := json.Unmarshal(text, back.Interface()); err != nil {
			t.Errorf("%T: %v", v, err)
			continue
		}
		again, err := json.Marshal(back.Interface())
		if err != nil || string(again) != string(text) {
			t.Errorf("%T: %s came back as %s: %v", v, text, again, err)
		}
	}
}

func FuzzSet(f *testing.F) {
	f.Add([]byte("a; b"))       // two words
	f.Add([]byte("a; a; a"))    // one word thrice
	f.Add([]byte("; a"))        // an empty first word
	f.Add([]byte("a;b"))        // no space
	f.Add([]byte("a; b; \x00")) // not text
	f.Fuzz(func(t *testing.T, text []byte) {
		got, err := words.Set(text, func(bit uint) string { return []string{"a", "b", "c", ""}[min(bit, 3)] })
		if err == nil && (got > 7 || got == 0 && len(text) > 0) {
			t.Errorf("%q was read as %b", text, got)
		}
	})
}
