package moisture

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/shopspring/decimal"
)

// A way is a function of numbers by their names, the accepted range of each, and
// what its refusals must have named before the test says anything: "" where no
// change of one number helps.
type way struct {
	name   string
	fields []string
	lo, hi []float64
	blamed []string
	call   func(v []float64) error
}

// What an ImpossibleError says would make an answer exist does: at both ends of
// its range, in the field that it names, which is refused as it was given.
func TestWaysOut(t *testing.T) {
	for _, w := range ways {
		draw := rand.New(rand.NewPCG(uint64(len(w.name)), 37))
		seen := map[string]int{}
		for range 2000 {
			v := make([]float64, len(w.fields))
			for i := range v {
				v[i] = drawn(draw, w.lo[i], w.hi[i], v[:i])
			}
			none, ok := w.call(v).(*ImpossibleError)
			if !ok {
				continue
			}
			seen[none.Field]++
			if none.Field == "" || none.Field == "readings" { // none, or how many there are
				continue
			}
			i := -1
			for j, name := range w.fields {
				if name == none.Field {
					i = j
				}
			}
			if i < 0 {
				t.Fatalf("%s(%v): %v is no field", w.name, v, none.Field)
			}
			if given, err := strconv.ParseFloat(none.Given, 64); err != nil || given != v[i] && none.Unit != "s" { // whole seconds
				t.Fatalf("%s(%v): given is told as %v", w.name, v, none.Given)
			}
			if !(none.Min <= none.Max) || v[i] >= none.Min && v[i] <= none.Max {
				t.Fatalf("%s(%v): %v", w.name, v, none)
			}
			for _, end := range []float64{none.Min, none.Max} {
				there := append([]float64(nil), v...)
				there[i] = end
				if err := w.call(there); err != nil {
					t.Fatalf("%s(%v): %v; with %v: %v", w.name, v, none, end, err)
				}
			}
		}
		for _, name := range w.blamed {
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
// its logarithm where the range is long.
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
	}
	if lo > 0 && hi > 50*lo {
		return min(max(lo*math.Pow(hi/lo, draw.Float64()), lo), hi)
	}
	return lo + draw.Float64()*(hi-lo)
}

func decs(v []float64) []decimal.Decimal {
	d := make([]decimal.Decimal, len(v))
	for i := range v {
		d[i] = decimal.NewFromFloat(v[i])
	}
	return d
}

var ways = []way{
	{"CarryActivity", []string{"Aw", "MoisturePct", "FromC", "ToC"},
		[]float64{MinAw, MinMoisturePct, BeanMinC, BeanMinC}, []float64{MaxAw, MaxMoisturePct, BeanMaxC, BeanMaxC}, []string{"ToC"},
		func(v []float64) error { return second(CarryActivity(SealedSample{v[0], v[1], v[2], v[3]})) }},
	{"HumidityFromWetBulb", []string{"TempC", "WetBulbC", "PressureKPa"},
		[]float64{AirMinC, AirMinC, MinPressureKPa}, []float64{AirMaxC, AirMaxC, MaxPressureKPa}, []string{"WetBulbC"},
		func(v []float64) error { return second(HumidityFromWetBulb(Psychrometer{v[0], v[1], v[2]})) }},
	{"AirProperties", []string{"TempC", "RHPct", "PressureKPa"},
		[]float64{AirMinC, MinRHPct, MinPressureKPa}, []float64{AirMaxC, MaxRHPct, MaxPressureKPa}, nil,
		func(v []float64) error { return second(AirProperties(MoistAir{v[0], v[1], v[2]})) }},
	{"CorrectedHumidity", []string{"LowReadPct", "LowTruePct", "HighReadPct", "HighTruePct", "TrueSEPct", "ReadSEPct", "readPct"},
		[]float64{0, 1, 5, 6, 0, 0, 0}, []float64{95, 95, 100, 100, 5, 10, 100}, []string{"readPct"},
		func(v []float64) error {
			return second(CorrectedHumidity(TwoPoint{v[0], v[1], v[2], v[3], v[4], v[5]}, v[6]))
		}},
	{"FrostPoint", []string{"TempC", "RHPct"}, []float64{AirMinC, MinRHPct}, []float64{AirMaxC, MaxRHPct}, []string{"RHPct"},
		func(v []float64) error { return second(FrostPoint(Air{v[0], v[1]})) }},
	{"RelativeHumidity", []string{"TempC", "DewC"}, []float64{AirMinC, DewMinC}, []float64{AirMaxC, AirMaxC}, []string{"DewC"},
		func(v []float64) error { return second(RelativeHumidity(DewReading{v[0], v[1]})) }},
	{"LossOnDrying", []string{"TareG", "BeforeG", "AfterG"},
		[]float64{0, 0.01, 0.01}, []float64{MaxDishG, MaxDishG, MaxDishG}, []string{"BeforeG", "TareG", "AfterG", ""},
		func(v []float64) error { d := decs(v); return second(LossOnDrying(Dish{d[0], d[1], d[2]})) }},
	{"MoistureByWeight", []string{"MassKg", "MoisturePct", "ToMassKg"},
		[]float64{MinMassKg, MinMoisturePct, MinMassKg}, []float64{MaxMassKg, MaxMoisturePct, MaxMassKg}, []string{"ToMassKg"},
		func(v []float64) error { d := decs(v); return second(MoistureByWeight(WeighBack{d[0], d[1], d[2]})) }},
	{"RoastLoss", []string{"GreenKg", "RoastedKg"}, []float64{MinMassKg, MinMassKg}, []float64{MaxMassKg, MaxMassKg}, []string{"RoastedKg"},
		func(v []float64) error {
			d := decs(v)
			return second(RoastLoss(Roast{d[0], d[1], dec("11"), dec("2")}))
		}},
	{"TotalLoss", []string{"greenKg", "roastedKg"}, []float64{MinMassKg, MinMassKg}, []float64{MaxMassKg, MaxMassKg}, []string{"roastedKg"},
		func(v []float64) error { d := decs(v); return second(TotalLoss(d[0], d[1])) }},
	{"RoastLossSE", []string{"GreenKg", "RoastedKg"}, []float64{MinMassKg, MinMassKg}, []float64{MaxMassKg, MaxMassKg}, []string{"RoastedKg"},
		func(v []float64) error { return second(RoastLossSE(RoastReadings{v[0], v[1], 11, 2}, RoastReadings{})) }},
	{"WaterActivity", []string{"MoisturePct", "TempC"}, []float64{MinMoisturePct, BeanMinC}, []float64{MaxMoisturePct, BeanMaxC}, []string{"MoisturePct"},
		func(v []float64) error { return second(WaterActivity(roa, Bean{v[0], v[1]})) }},
	{"AnchorIsotherm", []string{"Aw", "MoisturePct", "TempC"}, []float64{MinAw, MinMoisturePct, BeanMinC}, []float64{0.99, MaxMoisturePct, BeanMaxC}, []string{"MoisturePct"},
		func(v []float64) error {
			return second(AnchorIsotherm(roa, Anchor{Aw: v[0], MoisturePct: v[1], TempC: v[2]}))
		}},
	{"AnchorIsotherm, again", []string{"Scale", "Aw", "MoisturePct", "TempC"}, []float64{minScale, MinAw, MinMoisturePct, BeanMinC}, []float64{maxScale, 0.99, 60, BeanMaxC}, []string{"MoisturePct", ""},
		func(v []float64) error {
			c := roa
			c.Scale = v[0]
			return second(AnchorIsotherm(c, Anchor{Aw: v[1], MoisturePct: v[2], TempC: v[3]}))
		}},
	{"DaysToMoisture", []string{"MoisturePct", "EquilibriumPct", "TimeConstantDays", "targetPct"},
		[]float64{MinMoisturePct, MinMoisturePct, MinTimeConstantDays, MinMoisturePct},
		[]float64{MaxMoisturePct, MaxMoisturePct, MaxTimeConstantDays, MaxMoisturePct}, []string{"targetPct"},
		func(v []float64) error { return second(DaysToMoisture(Stay{v[0], v[1], v[2]}, v[3])) }},
	{"FitDrift", []string{"readings[0].MoisturePct", "readings[1].MoisturePct", "equilibriumPct"},
		[]float64{MinMoisturePct, MinMoisturePct, MinMoisturePct}, []float64{MaxMoisturePct, MaxMoisturePct, MaxMoisturePct}, []string{"readings[1].MoisturePct", "readings", ""},
		func(v []float64) error { return second(FitDrift([]StoreReading{{0, v[0]}, {50, v[1]}}, v[2])) }},
	{"FitIsotherm", []string{"pairs[0].TempC", "pairs[1].TempC", "pairs[2].TempC", "pairs[3].TempC"}, []float64{BeanMinC, BeanMinC, 66, 66}, []float64{BeanMaxC, BeanMaxC, BeanMaxC, BeanMaxC},
		[]string{"pairs[0].TempC", "pairs[1].TempC", "pairs[2].TempC", "pairs[3].TempC", ""},
		func(v []float64) error {
			return second(FitIsotherm(FormOswin, []IsothermPair{{0.4, 9, v[0]}, {0.5, 10, v[1]}, {0.6, 11.5, v[2]}, {0.7, 13, v[3]}}))
		}},
	{"SummariseLog", []string{"MaxGapSeconds", "s1", "s2"}, []float64{1, 1, 1}, []float64{maxGapSeconds, 1e8, 1e8}, []string{"MaxGapSeconds", ""},
		func(v []float64) error {
			l := storeLimits
			l.MaxGapSeconds = int64(math.Floor(v[0]))
			rows := []LogReading{{0, 18, 58}, {int64(v[1]), 18, 58}, {int64(v[1]) + int64(v[2]), 18, 58}}
			return second(SummariseLog(roa, l, rows))
		}},
}
