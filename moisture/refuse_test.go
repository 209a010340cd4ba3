package moisture

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// A probe is one float function with its fields as a vector.
type probe struct {
	name     string
	fields   []string
	min, max []float64
	base     []float64 // accepted, with an answer
	call     func(v []float64) (any, error)
}

var roa = ParchmentArabica()

func probes() []probe {
	return []probe{
		{"DryBasis", []string{"moisturePct"}, []float64{MinMoisturePct}, []float64{MaxMoisturePct}, []float64{11},
			func(v []float64) (any, error) { return DryBasis(v[0]) }},
		{"WetBasis", []string{"dryMoisturePct"}, []float64{MinDryMoisturePct}, []float64{MaxDryMoisturePct}, []float64{12},
			func(v []float64) (any, error) { return WetBasis(v[0]) }},
		{"SaturationOverWater", []string{"tempC"}, []float64{WaterMinC}, []float64{WaterMaxC}, []float64{20},
			func(v []float64) (any, error) { return SaturationOverWater(v[0]) }},
		{"SaturationOverIce", []string{"tempC"}, []float64{IceMinC}, []float64{0}, []float64{-18},
			func(v []float64) (any, error) { return SaturationOverIce(v[0]) }},
		{"VapourPressure", []string{"TempC", "RHPct"}, []float64{AirMinC, MinRHPct}, []float64{AirMaxC, MaxRHPct}, []float64{18, 60},
			func(v []float64) (any, error) { return VapourPressure(Air{v[0], v[1]}) }},
		{"DewPoint", []string{"TempC", "RHPct"}, []float64{AirMinC, MinRHPct}, []float64{AirMaxC, MaxRHPct}, []float64{18, 60},
			func(v []float64) (any, error) { return DewPoint(Air{v[0], v[1]}) }},
		{"FrostPoint", []string{"TempC", "RHPct"}, []float64{AirMinC, MinRHPct}, []float64{AirMaxC, MaxRHPct}, []float64{5, 30},
			func(v []float64) (any, error) { return FrostPoint(Air{v[0], v[1]}) }},
		{"RelativeHumidity", []string{"TempC", "DewC"}, []float64{AirMinC, DewMinC}, []float64{AirMaxC, AirMaxC}, []float64{18, 10},
			func(v []float64) (any, error) { return RelativeHumidity(DewReading{v[0], v[1]}) }},
		{"PressureAtAltitude", []string{"altitudeM"}, []float64{MinAltitudeM}, []float64{MaxAltitudeM}, []float64{500},
			func(v []float64) (any, error) { return PressureAtAltitude(v[0]) }},
		{"AirProperties", []string{"TempC", "RHPct", "PressureKPa"}, []float64{AirMinC, MinRHPct, MinPressureKPa},
			[]float64{AirMaxC, MaxRHPct, MaxPressureKPa}, []float64{18, 60, 101.325},
			func(v []float64) (any, error) { return AirProperties(MoistAir{v[0], v[1], v[2]}) }},
		{"HumidityFromWetBulb", []string{"TempC", "WetBulbC", "PressureKPa"}, []float64{AirMinC, AirMinC, MinPressureKPa},
			[]float64{AirMaxC, AirMaxC, MaxPressureKPa}, []float64{18, 13, 101.325},
			func(v []float64) (any, error) { return HumidityFromWetBulb(Psychrometer{v[0], v[1], v[2]}) }},
		{"EquilibriumMoisture", []string{"TempC", "RHPct"}, []float64{BeanMinC, MinRHPct}, []float64{BeanMaxC, MaxRHPct}, []float64{18, 60},
			func(v []float64) (any, error) { return EquilibriumMoisture(roa, Air{v[0], v[1]}) }},
		{"WaterActivity", []string{"MoisturePct", "TempC"}, []float64{MinMoisturePct, BeanMinC}, []float64{MaxMoisturePct, BeanMaxC}, []float64{12, 25},
			func(v []float64) (any, error) { return WaterActivity(roa, Bean{v[0], v[1]}) }},
		{"AnchorIsotherm", []string{"Aw", "MoisturePct", "TempC", "AwSE", "MoistureSEPct"},
			[]float64{MinAw, MinMoisturePct, BeanMinC, 0, 0}, []float64{0.99, MaxMoisturePct, BeanMaxC, 0.1, 5}, []float64{0.55, 11, 22, 0.01, 0.2},
			func(v []float64) (any, error) { return AnchorIsotherm(roa, Anchor{v[0], v[1], v[2], v[3], v[4]}) }},
		{"HeatOfSorption", []string{"MoisturePct", "TempC"}, []float64{MinMoisturePct, BeanMinC}, []float64{MaxMoisturePct, BeanMaxC}, []float64{12, 25},
			func(v []float64) (any, error) { return HeatOfSorption(Bean{v[0], v[1]}) }},
		{"CarryActivity", []string{"Aw", "MoisturePct", "FromC", "ToC"}, []float64{MinAw, MinMoisturePct, BeanMinC, BeanMinC},
			[]float64{MaxAw, MaxMoisturePct, BeanMaxC, BeanMaxC}, []float64{0.6, 11, 25, 18},
			func(v []float64) (any, error) { return CarryActivity(SealedSample{v[0], v[1], v[2], v[3]}) }},
		{"DriftAfter", []string{"MoisturePct", "EquilibriumPct", "TimeConstantDays", "days"},
			[]float64{MinMoisturePct, MinMoisturePct, MinTimeConstantDays, 0},
			[]float64{MaxMoisturePct, MaxMoisturePct, MaxTimeConstantDays, MaxStoreDays}, []float64{10.5, 11.4, 40, 30},
			func(v []float64) (any, error) { return DriftAfter(Stay{v[0], v[1], v[2]}, v[3]) }},
		{"DaysToMoisture", []string{"MoisturePct", "EquilibriumPct", "TimeConstantDays", "targetPct"},
			[]float64{MinMoisturePct, MinMoisturePct, MinTimeConstantDays, MinMoisturePct},
			[]float64{MaxMoisturePct, MaxMoisturePct, MaxTimeConstantDays, MaxMoisturePct}, []float64{10.5, 11.4, 40, 11},
			func(v []float64) (any, error) { return DaysToMoisture(Stay{v[0], v[1], v[2]}, v[3]) }},
		{"LayerHours", []string{"TempC", "RHPct", "LeftPct"}, []float64{0, MinRHPct, 1}, []float64{AirMaxC, 99, 99}, []float64{40, 30, 50},
			func(v []float64) (any, error) { return LayerHours(Layer{v[0], v[1], v[2]}) }},
		{"WaterForRoom", []string{"VolumeM3", "PressureKPa", "From.TempC", "From.RHPct", "To.TempC", "To.RHPct", "Outside.TempC", "Outside.RHPct", "ChangesPerHour"},
			[]float64{0.1, MinPressureKPa, 0, MinRHPct, 0, MinRHPct, AirMinC, MinRHPct, 0},
			[]float64{1e6, MaxPressureKPa, 60, MaxRHPct, 60, MaxRHPct, 60, MaxRHPct, 60}, []float64{120, 101.325, 20, 70, 18, 58, 5, 85, 0.5},
			func(v []float64) (any, error) {
				return WaterForRoom(RoomChange{v[0], v[1], Air{v[2], v[3]}, Air{v[4], v[5]}, Air{v[6], v[7]}, v[8]})
			}},
		{"SackSweat", []string{"SurfaceC", "Room.TempC", "Room.RHPct", "MarginK"}, []float64{AirMinC, AirMinC, MinRHPct, 0},
			[]float64{AirMaxC, AirMaxC, MaxRHPct, 10}, []float64{10, 20, 55, 3},
			func(v []float64) (any, error) { return SackSweat(ColdSack{v[0], Air{v[1], v[2]}, v[3]}) }},
		{"HandbookSalt", []string{"tempC"}, []float64{0}, []float64{50}, []float64{20},
			func(v []float64) (any, error) { return HandbookSalt(SodiumChloride, v[0]) }},
		{"StandardSalt", []string{"tempC"}, []float64{15}, []float64{30}, []float64{20},
			func(v []float64) (any, error) { return StandardSalt(SodiumChloride, v[0]) }},
		{"CorrectedHumidity", []string{"LowReadPct", "LowTruePct", "HighReadPct", "HighTruePct", "TrueSEPct", "ReadSEPct", "readPct"},
			[]float64{0, 1, 59, 59.4, 0, 0, 0}, []float64{95, 95, 100, 100, 5, 10, 100}, []float64{54, 54.4, 74, 75.3, 0.2, 0.5, 60},
			func(v []float64) (any, error) {
				return CorrectedHumidity(TwoPoint{v[0], v[1], v[2], v[3], v[4], v[5]}, v[6])
			}},
		{"CorrectedReading", []string{"meterPct"}, []float64{MinMoisturePct}, []float64{MaxMoisturePct}, []float64{11},
			func(v []float64) (any, error) { return CorrectedReading(goodCalibration(), v[0]) }},
		{"RoastLossSE", []string{"GreenKg", "RoastedKg", "GreenMoisturePct", "RoastedMoisturePct", "se.GreenKg", "se.RoastedKg", "se.GreenMoisturePct", "se.RoastedMoisturePct"},
			[]float64{MinMassKg, MinMassKg, MinMoisturePct, MinRoastedMoisturePct, 0, 0, 0, 0},
			[]float64{MaxMassKg, MaxMassKg, MaxMoisturePct, MaxRoastedMoisturePct, 1.2, 1.02, 5, 5},
			[]float64{12, 10.2, 11, 2, 0.01, 0.01, 0.3, 0.2},
			func(v []float64) (any, error) {
				return RoastLossSE(RoastReadings{v[0], v[1], v[2], v[3]}, RoastReadings{v[4], v[5], v[6], v[7]})
			}},
	}
}

func goodCalibration() Calibration {
	c, err := CalibrateMeter([]MeterPair{{10.1, 10.4}, {11.0, 11.2}, {11.9, 12.3}, {12.8, 13.1}})
	if err != nil {
		panic(err)
	}
	return c
}

// numbers lists every float in a result.
func numbers(v reflect.Value) []float64 {
	switch v.Kind() {
	case reflect.Float64:
		return []float64{v.Float()}
	case reflect.Struct, reflect.Array:
		var list []float64
		n := v.NumField
		at := v.Field
		if v.Kind() == reflect.Array {
			n, at = v.Len, v.Index
		}
		for i := range n() {
			list = append(list, numbers(at(i))...)
		}
		return list
	}
	return nil
}

// sane fails on a result beside an error that is not zero, an error of a
// strange type, and a number that is not finite.
func sane(t *testing.T, name string, in, got any, err error) {
	t.Helper()
	var bad *InputError
	var none *ImpossibleError
	switch {
	case err == nil:
		for _, x := range numbers(reflect.ValueOf(got)) {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%s(%v) is %+v", name, in, got)
			}
		}
	case !errors.As(err, &bad) && !errors.As(err, &none):
		t.Fatalf("%s(%v): error of type %T: %v", name, in, err, err)
	case !reflect.ValueOf(got).IsZero():
		t.Fatalf("%s(%v): %+v beside the error %v", name, in, got, err)
	}
	if none != nil && !(none.Min <= none.Max) {
		t.Fatalf("%s(%v): possible from %v to %v: %v", name, in, none.Min, none.Max, err)
	}
	if bad != nil {
		for _, f := range bad.Fields {
			if !(f.Min <= f.Max) {
				t.Fatalf("%s(%v): accepted from %v to %v: %v", name, in, f.Min, f.Max, err)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, p := range probes() {
		with := func(i int, x float64) []float64 {
			v := append([]float64(nil), p.base...)
			v[i] = x
			return v
		}
		if got, err := p.call(p.base); err != nil || reflect.ValueOf(got).IsZero() {
			t.Errorf("%s(%v) is %+v, %v", p.name, p.base, got, err)
		}
		for i, field := range p.fields {
			for _, x := range []float64{p.min[i], p.max[i]} {
				v := with(i, x)
				got, err := p.call(v)
				sane(t, p.name, v, got, err)
				if names := fields(err); len(names) > 0 && names[0] == field {
					t.Errorf("%s: %s at its limit %v is refused: %v", p.name, field, x, err)
				}
			}
			for _, x := range append(awkward, down(p.min[i]), up(p.max[i])) {
				v := with(i, x)
				got, err := p.call(v)
				sane(t, p.name, v, got, err)
				if x >= p.min[i] && x <= p.max[i] {
					continue
				}
				names := fields(err)
				// A limit may depend on the field before it: then both are named.
				if len(names) == 0 || names[0] != field {
					t.Errorf("%s: %s = %v is refused as %q", p.name, field, x, names)
				}
			}
			if i > 0 {
				v := with(i, math.NaN())
				v[0] = math.Inf(1)
				got, err := p.call(v)
				sane(t, p.name, v, got, err)
				names := fields(err)
				if len(names) < 2 || names[0] != p.fields[0] {
					// An uncertainty can only be judged beside its value.
					if p.name != "RoastLossSE" {
						t.Errorf("%s: two bad fields are told as %q", p.name, names)
					}
				}
			}
		}
	}
}

// The zero value of every input type is refused, or is what its comment says.
func TestZeroValues(t *testing.T) {
	for name, c := range map[string]struct {
		call func() (any, error)
		want []string
	}{
		"air":          {func() (any, error) { return DewPoint(Air{}) }, []string{"RHPct"}},
		"MoistAir":     {func() (any, error) { return AirProperties(MoistAir{}) }, []string{"RHPct", "PressureKPa"}},
		"Psychrometer": {func() (any, error) { return HumidityFromWetBulb(Psychrometer{}) }, []string{"PressureKPa"}},
		"Isotherm":     {func() (any, error) { return EquilibriumMoisture(Isotherm{}, Air{18, 60}) }, []string{"Form"}},
		"bean":         {func() (any, error) { return WaterActivity(roa, Bean{}) }, []string{"MoisturePct"}},
		"both":         {func() (any, error) { return WaterActivity(Isotherm{}, Bean{}) }, []string{"Form", "MoisturePct"}},
		"Anchor":       {func() (any, error) { return AnchorIsotherm(roa, Anchor{}) }, []string{"Aw", "MoisturePct"}},
		"SealedSample": {func() (any, error) { return CarryActivity(SealedSample{}) }, []string{"Aw", "MoisturePct"}},
		"Stay":         {func() (any, error) { return DriftAfter(Stay{}, 0) }, []string{"MoisturePct", "EquilibriumPct", "TimeConstantDays"}},
		"Layer":        {func() (any, error) { return LayerHours(Layer{}) }, []string{"RHPct", "LeftPct"}},
		"RoomChange":   {func() (any, error) { return WaterForRoom(RoomChange{}) }, []string{"VolumeM3", "PressureKPa", "From.RHPct", "To.RHPct", "Outside.RHPct"}},
		"ColdSack":     {func() (any, error) { return SackSweat(ColdSack{}) }, []string{"Room.RHPct"}},
		"salt":         {func() (any, error) { return HandbookSalt(0, 20) }, []string{"salt"}},
		"Salt2":        {func() (any, error) { return StandardSalt(0, 20) }, []string{"salt"}},
		"no entry":     {func() (any, error) { return HandbookSalt(PotassiumSulfate, 20) }, []string{"salt"}},
		"no entry2":    {func() (any, error) { return StandardSalt(AmmoniumNitrate, 20) }, []string{"salt"}},
		"TwoPoint":     {func() (any, error) { return CorrectedHumidity(TwoPoint{}, 50) }, []string{"LowTruePct", "HighReadPct", "HighTruePct"}},
		"Calibration":  {func() (any, error) { return CorrectedReading(Calibration{}, 11) }, []string{"PairsCount", "TFactor", "MeanPct", "SpreadPct2"}},
		"no pairs":     {func() (any, error) { return CalibrateMeter(nil) }, []string{"pairs"}},
		"MeterPair":    {func() (any, error) { return CalibrateMeter(make([]MeterPair, 3)) }, []string{"pairs[0].MeterPct", "pairs[0].OvenPct", "pairs[1].MeterPct", "pairs[1].OvenPct", "pairs[2].MeterPct", "pairs[2].OvenPct"}},
		"no fit":       {func() (any, error) { return FitIsotherm(0, nil) }, []string{"form", "pairs"}},
		"IsothermPair": {func() (any, error) { return FitIsotherm(FormGAB, make([]IsothermPair, 4)) }, []string{"pairs[0].Aw", "pairs[0].MoisturePct", "pairs[1].Aw", "pairs[1].MoisturePct", "pairs[2].Aw", "pairs[2].MoisturePct", "pairs[3].Aw", "pairs[3].MoisturePct"}},
		"Roa fit":      {func() (any, error) { return FitIsotherm(FormRoa, lotPairs) }, []string{"form"}},
		"no choice":    {func() (any, error) { return ChooseIsotherm(nil) }, []string{"pairs"}},
		"no drift":     {func() (any, error) { return FitDrift(nil, 0) }, []string{"readings", "equilibriumPct"}},
		"no drift2":    {func() (any, error) { return FitDriftAndEquilibrium(nil) }, []string{"readings"}},
		"LogLimits":    {func() (any, error) { return SummariseLog(roa, LogLimits{}, nil) }, []string{"HighRHPct", "RiskAw", "MaxGapSeconds", "rows"}},
		"RoastReadings": {func() (any, error) { return RoastLossSE(RoastReadings{}, RoastReadings{}) },
			[]string{"GreenKg", "RoastedKg", "GreenMoisturePct", "RoastedMoisturePct"}},
		"Drift":      {func() (any, error) { return SackMass(Drift{}) }, []string{"MassKg", "MoisturePct", "ToMoisturePct"}},
		"WeighBack":  {func() (any, error) { return MoistureByWeight(WeighBack{}) }, []string{"MassKg", "MoisturePct", "ToMassKg"}},
		"no sacks":   {func() (any, error) { return SackLot(nil) }, []string{"sacks"}},
		"Sack":       {func() (any, error) { return SackLot(make([]Sack, 1)) }, []string{"sacks[0].MassKg", "sacks[0].MoisturePct"}},
		"Dish":       {func() (any, error) { return LossOnDrying(Dish{}) }, []string{"BeforeG", "AfterG"}},
		"Duplicates": {func() (any, error) { return MeanOfDuplicates(Duplicates{}) }, []string{"FirstPct", "SecondPct", "RepeatabilityPct"}},
		"Roast":      {func() (any, error) { return RoastLoss(Roast{}) }, []string{"GreenKg", "RoastedKg", "GreenMoisturePct", "RoastedMoisturePct"}},
		"RoastPlan":  {func() (any, error) { return GreenForRoasted(RoastPlan{}) }, []string{"RoastedKg", "LossPct"}},
		"Batch":      {func() (any, error) { return RoastedMass(Batch{}) }, []string{"GreenKg", "LossPct"}},
		"RoastAim":   {func() (any, error) { return ExpectedLoss(RoastAim{}) }, []string{"GreenMoisturePct", "RoastedMoisturePct"}},
		"TotalLoss":  {func() (any, error) { return TotalLoss(dec("0"), dec("0")) }, []string{"greenKg", "roastedKg"}},
	} {
		got, err := c.call()
		sane(t, name, "zero", got, err)
		if diff := cmp.Diff(c.want, fields(err), cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	// The zero DewReading is saturated air at 0 °C.
	if rh, err := RelativeHumidity(DewReading{}); err != nil || rh != 100 {
		t.Errorf("the zero DewReading gives %v, %v", rh, err)
	}
}

// What cannot be is told with what would make it possible.
func TestImpossible(t *testing.T) {
	for name, c := range map[string]struct {
		call     func() (any, error)
		field    string
		min, max float64
	}{
		"frost in a warm room": {func() (any, error) { return FrostPoint(Air{20, 60}) }, "RHPct", MinRHPct, 26.13},
		"dew above the air":    {func() (any, error) { return RelativeHumidity(DewReading{18, 19}) }, "DewC", DewMinC, 18},
		"wet above dry":        {func() (any, error) { return HumidityFromWetBulb(Psychrometer{18, 19, 101.325}) }, "WetBulbC", 4.78, 18},
		"too dry a wick":       {func() (any, error) { return HumidityFromWetBulb(Psychrometer{18, 4, 101.325}) }, "WetBulbC", 4.78, 18},
		"beyond the curve":     {func() (any, error) { return WaterActivity(roa, Bean{40, 20}) }, "MoisturePct", 0.5917, 20.63},
		"activity above one":   {func() (any, error) { return CarryActivity(SealedSample{1, 5, 10, 60}) }, "ToC", BeanMinC, 10},
		"wrong material": {func() (any, error) {
			return AnchorIsotherm(roa, Anchor{Aw: 0.5, MoisturePct: 4, TempC: 20})
		}, "MoisturePct", 5.405, 18.60},
		"the room never": {func() (any, error) { return DaysToMoisture(Stay{10, 11, 30}, 11.5) }, "targetPct", 10, 11},
		"past its end":   {func() (any, error) { return DaysToMoisture(Stay{10, 11, 30}, 11) }, "targetPct", 10, 11},
		"away from it":   {func() (any, error) { return FitDrift([]StoreReading{{0, 10.5}, {10, 10.2}}, 11.4) }, "readings[1].MoisturePct", 10.5, 11.4},
		"same readings":  {func() (any, error) { return CalibrateMeter([]MeterPair{{11, 11}, {11, 12}, {11, 11.5}}) }, "pairs[1].MeterPct", MinMoisturePct, MaxMoisturePct},
		"too far apart": {func() (any, error) {
			return FitIsotherm(FormOswin, append([]IsothermPair{{0.3, 8, 30}}, lotPairs...))
		}, "pairs[0].TempC", 19.4, 25},
		"roasted heavier": {func() (any, error) { return RoastLoss(Roast{dec("10"), dec("10.1"), dec("11"), dec("2")}) }, "RoastedKg", MinMassKg, 10},
		"heavier, floats": {func() (any, error) { return RoastLossSE(RoastReadings{10, 10.1, 11, 2}, RoastReadings{}) }, "RoastedKg", MinMassKg, 10},
		"heavier, total":  {func() (any, error) { return TotalLoss(dec("10"), dec("10.1")) }, "roastedKg", MinMassKg, 10},
		"less than dry":   {func() (any, error) { return MoistureByWeight(WeighBack{dec("100"), dec("12"), dec("87.9")}) }, "ToMassKg", 88, MaxMassKg},
		"no portion":      {func() (any, error) { return LossOnDrying(Dish{dec("20"), dec("20"), dec("20")}) }, "BeforeG", 20, MaxDishG},
		"oven gain":       {func() (any, error) { return LossOnDrying(Dish{dec("20"), dec("30"), dec("30.1")}) }, "AfterG", 20, 30},
		"below tare":      {func() (any, error) { return LossOnDrying(Dish{dec("20"), dec("30"), dec("19")}) }, "AfterG", 20, 30},
		"line leaves":     {func() (any, error) { return CorrectedHumidity(TwoPoint{40, 50, 60, 90, 0, 0}, 70) }, "readPct", 15, 65},
		"all gaps": {func() (any, error) {
			return SummariseLog(roa, storeLimits, []LogReading{{0, 18, 60}, {7200, 18, 60}})
		}, "MaxGapSeconds", 7200, maxGapSeconds},
	} {
		got, err := c.call()
		sane(t, name, "", got, err)
		var none *ImpossibleError
		if !errors.As(err, &none) {
			t.Errorf("%s: %+v, %v", name, got, err)
			continue
		}
		if none.Field != c.field || !near(none.Min, c.min, 0.002) || !near(none.Max, c.max, 0.002) {
			t.Errorf("%s: %v; want %s between %v and %v", name, none, c.field, c.min, c.max)
		}
	}
}

// The units that are typed by mistake fall outside.
func TestUnitSlips(t *testing.T) {
	for name, call := range map[string]func() (any, error){
		"fraction for percent humidity": func() (any, error) { return DewPoint(Air{18, 0.6}) },
		"fraction for percent moisture": func() (any, error) { return WaterActivity(roa, Bean{0.115, 20}) },
		"percent for activity":          func() (any, error) { return CarryActivity(SealedSample{60, 11, 20, 25}) },
		"hPa for kPa":                   func() (any, error) { return AirProperties(MoistAir{18, 60, 1013.25}) },
		"Pa for kPa":                    func() (any, error) { return AirProperties(MoistAir{18, 60, 101325}) },
		"bar for kPa":                   func() (any, error) { return AirProperties(MoistAir{18, 60, 1.013}) },
		"kelvin for Celsius":            func() (any, error) { return SaturationOverWater(293.15) },
		"fraction for percent loss":     func() (any, error) { return RoastedMass(Batch{dec("12"), dec("0.15")}) },
		"fraction for roasted moisture": func() (any, error) { return ExpectedLoss(RoastAim{dec("11"), dec("0.02"), dec("6")}) },
		"milliseconds in a log": func() (any, error) {
			return SummariseLog(roa, storeLimits, []LogReading{{1.76e12, 18, 60}, {1.77e12, 18, 60}})
		},
		"fractions in a log are missing": func() (any, error) { return SummariseLog(roa, storeLimits, []LogReading{{0, 18, 0.6}, {60, 18, 0.6}}) },
	} {
		if got, err := call(); err == nil {
			t.Errorf("%s: answered %+v", name, got)
		}
	}
}
