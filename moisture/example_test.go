package moisture_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/evenlot/moisture"
	"github.com/shopspring/decimal"
)

// A paper prints 13.6 % dry basis. What would a meter in the store show?
func ExampleWetBasis() {
	m, err := moisture.WetBasis(13.6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% wet basis\n", m)
	// Output: 12.0 % wet basis
}

// A meter shows 12 %. Which figure compares with a paper's dry basis?
func ExampleDryBasis() {
	x, err := moisture.DryBasis(12)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% dry basis\n", x)
	// Output: 13.6 % dry basis
}

// A 60 kg sack drifts from 11.0 to 11.7 % in a damp store. What does it weigh?
func ExampleSackMass() {
	d, err := moisture.SackMass(moisture.Drift{
		MassKg:        decimal.RequireFromString("60.00"),
		MoisturePct:   decimal.RequireFromString("11.0"),
		ToMoisturePct: decimal.RequireFromString("11.7"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s kg, of which %s kg is water taken up\n", d.MassKg.StringFixed(2), d.WaterKg.StringFixed(2))
	// Output: 60.48 kg, of which 0.48 kg is water taken up
}

// What does a refused reading say? Here a fraction was typed for a percent,
// and the weight is missing.
func ExampleSackMass_refused() {
	_, err := moisture.SackMass(moisture.Drift{
		MoisturePct:   decimal.RequireFromString("0.11"),
		ToMoisturePct: decimal.RequireFromString("11.7"),
	})
	var bad *moisture.InputError
	if errors.As(err, &bad) {
		for _, f := range bad.Fields {
			fmt.Println(f)
		}
	}
	// Output:
	// MassKg is 0 kg; accepted: 0.001 to 100000000 kg
	// MoisturePct is 0.11 %; accepted: 0.5 to 80 %
}

// A pallet came in at 10.8 % and 1200 kg, and now weighs 1209.5 kg. What would
// the meter show?
func ExampleMoistureByWeight() {
	m, err := moisture.MoistureByWeight(moisture.WeighBack{
		MassKg:      decimal.RequireFromString("1200.0"),
		MoisturePct: decimal.RequireFromString("10.8"),
		ToMassKg:    decimal.RequireFromString("1209.5"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(m.StringFixed(1), "%")
	// Output: 11.5 %
}

// Three sacks of one lot were measured. What is the lot's moisture, and how
// wet is its wettest sack?
func ExampleSackLot() {
	lot, err := moisture.SackLot([]moisture.Sack{
		{MassKg: decimal.RequireFromString("60.2"), MoisturePct: decimal.RequireFromString("11.2")},
		{MassKg: decimal.RequireFromString("59.8"), MoisturePct: decimal.RequireFromString("11.0")},
		{MassKg: decimal.RequireFromString("31.5"), MoisturePct: decimal.RequireFromString("12.6")},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s kg at %s %%, wettest %s %%, spread %.1f %%\n", lot.MassKg.StringFixed(1),
		lot.MoisturePct.StringFixed(2), lot.HighestPct.StringFixed(1), lot.MoistureSpreadPct)
	// Output: 151.5 kg at 11.41 %, wettest 12.6 %, spread 0.9 %
}

// What will a room at 18 °C and 60 % bring a lot of green to?
func ExampleEquilibriumMoisture() {
	e, err := moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: 18, RHPct: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.1f %%\n", e.MoisturePct, e.SEPct)
	fmt.Println(e.Notes)
	// Output:
	// 11.2 ± 0.4 %
	// curve of drying parchment arabica, not of this lot
}

// A lot is at 12.5 % and the contract takes it. May it grow mould at 25 °C?
func ExampleWaterActivity() {
	a, err := moisture.WaterActivity(moisture.ParchmentArabica(), moisture.Bean{MoisturePct: 12.5, TempC: 25})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("activity %.2f (%.2f to %.2f)\n", a.Aw, a.LowAw, a.HighAw)
	fmt.Println(a.Notes)
	// Output:
	// activity 0.72 (0.70 to 0.74)
	// curve of drying parchment arabica, not of this lot; mould may grow at this activity or within one standard error of it; inside the moisture limit, which is no proof of a safe activity
}

// How much water can air at 20 °C hold, as a pressure?
func ExampleSaturationOverWater() {
	s, err := moisture.SaturationOverWater(20)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f kPa, rising %.3f kPa per kelvin\n", s.PressureKPa, s.KPaPerK)
	// Output: 2.339 kPa, rising 0.145 kPa per kelvin
}

// And over ice, in a freezer at −18 °C?
func ExampleSaturationOverIce() {
	s, err := moisture.SaturationOverIce(-18)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f kPa\n", s.PressureKPa)
	// Output: 0.1249 kPa
}

// What does the water in the store's air press?
func ExampleVapourPressure() {
	e, err := moisture.VapourPressure(moisture.Air{TempC: 18, RHPct: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f kPa\n", e)
	// Output: 1.24 kPa
}

// When does a cold sack start to sweat in a store at 20 °C and 60 %?
func ExampleDewPoint() {
	d, err := moisture.DewPoint(moisture.Air{TempC: 20, RHPct: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("below %.1f °C\n", d.DewC)
	// Output: below 12.0 °C
}

// A batch of 12.00 kg came out at 10.20 kg. What of the loss was water?
func ExampleRoastLoss() {
	l, err := moisture.RoastLoss(moisture.Roast{
		GreenKg:            decimal.RequireFromString("12.00"),
		RoastedKg:          decimal.RequireFromString("10.20"),
		GreenMoisturePct:   decimal.RequireFromString("11.0"),
		RoastedMoisturePct: decimal.RequireFromString("2.0"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s %% in all: %s %% water, %s %% dry matter\n", l.TotalPct.StringFixed(1),
		l.WaterPct.StringFixed(1), l.OrganicPct.StringFixed(1))
	fmt.Printf("%s %% of the dry matter left\n", l.DryMatterPct.StringFixed(1))
	// Output:
	// 15.0 % in all: 9.3 % water, 5.7 % dry matter
	// 6.4 % of the dry matter left
}

// How much green must be weighed out for 20 kg in bags at 15.5 % loss, with
// 0.4 % overfill and 300 g for the cupping table?
func ExampleGreenForRoasted() {
	c, err := moisture.GreenForRoasted(moisture.RoastPlan{
		RoastedKg:   decimal.RequireFromString("20"),
		LossPct:     decimal.RequireFromString("15.5"),
		OverfillPct: decimal.RequireFromString("0.4"),
		HeldBackKg:  decimal.RequireFromString("0.300"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.GreenKg.StringFixed(2), "kg")
	// Output: 24.12 kg
}

// What will a charge of 15 kg give at 16 % loss?
func ExampleRoastedMass() {
	r, err := moisture.RoastedMass(moisture.Batch{
		GreenKg: decimal.RequireFromString("15.0"),
		LossPct: decimal.RequireFromString("16"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.StringFixed(2), "kg")
	// Output: 12.60 kg
}

// At which temperature does a freezer door grow frost in a room at 4 °C, 40 %?
func ExampleFrostPoint() {
	f, err := moisture.FrostPoint(moisture.Air{TempC: 4, RHPct: 40})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("below %.1f °C\n", f.FrostC)
	// Output: below -7.4 °C
}

// Outside it is 5 °C and foggy. What will that air show once it is warmed to
// 18 °C in the store?
func ExampleRelativeHumidity() {
	rh, err := moisture.RelativeHumidity(moisture.DewReading{TempC: 18, DewC: 5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", rh)
	// Output: 42 %
}

// What is the air pressure at a farm 1400 m up?
func ExamplePressureAtAltitude() {
	p, err := moisture.PressureAtAltitude(1400)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kPa\n", p)
	// Output: 85.6 kPa
}

// What is in the air of a store at 18 °C and 58 %?
func ExampleAirProperties() {
	s, err := moisture.AirProperties(moisture.MoistAir{TempC: 18, RHPct: 58, PressureKPa: moisture.StandardPressureKPa})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("dew point %.1f °C, wet bulb %.1f °C\n", s.DewC, s.WetBulbC)
	fmt.Printf("%.1f g of water per m³, %.2f g per kg of dry air\n", s.WaterGPerM3, s.RatioGPerKg)
	fmt.Printf("%.3f kg/m³, %.1f kJ/kg\n", s.DensityKgPerM3, s.EnthalpyKJPerKg)
	// Output:
	// dew point 9.6 °C, wet bulb 13.2 °C
	// 8.9 g of water per m³, 7.47 g per kg of dry air
	// 1.207 kg/m³, 37.0 kJ/kg
}

// A whirling psychrometer shows 18.0 and 13.2 °C. Does the hygrometer's 62 %
// agree?
func ExampleHumidityFromWetBulb() {
	rh, err := moisture.HumidityFromWetBulb(moisture.Psychrometer{TempC: 18, WetBulbC: 13.2, PressureKPa: moisture.StandardPressureKPa})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", rh)
	// Output: 58 %
}

// A dish was weighed empty, with beans, and after 16 h at 105 °C. How moist
// were they?
func ExampleLossOnDrying() {
	m, err := moisture.LossOnDrying(moisture.Dish{
		TareG:   decimal.RequireFromString("21.3456"),
		BeforeG: decimal.RequireFromString("31.3462"),
		AfterG:  decimal.RequireFromString("30.2241"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(m.StringFixed(2), "% by loss at 105 °C")
	// Output: 11.22 % by loss at 105 °C
}

// Two results on one roasted sample differ by 0.18 %. May their mean be
// reported?
func ExampleMeanOfDuplicates() {
	d, err := moisture.MeanOfDuplicates(moisture.Duplicates{
		FirstPct:         decimal.RequireFromString("2.31"),
		SecondPct:        decimal.RequireFromString("2.49"),
		RepeatabilityPct: decimal.NewFromFloat(moisture.RoastedRepeatabilityPct),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %s %%, apart %s %%\n", d.MoisturePct.StringFixed(2), d.DifferencePct.StringFixed(2))
	fmt.Println(d.Notes)
	// Output:
	// mean 2.40 %, apart 0.18 %
	// duplicates differ by more than the repeatability limit
}

// invented pairs of a quick meter and the oven
func pairs() []moisture.MeterPair {
	return []moisture.MeterPair{
		{MeterPct: 9.6, OvenPct: 9.1}, {MeterPct: 10.1, OvenPct: 9.8}, {MeterPct: 10.4, OvenPct: 9.9},
		{MeterPct: 10.9, OvenPct: 10.5}, {MeterPct: 11.2, OvenPct: 10.9}, {MeterPct: 11.4, OvenPct: 10.9},
		{MeterPct: 11.8, OvenPct: 11.5}, {MeterPct: 12.3, OvenPct: 11.9}, {MeterPct: 12.6, OvenPct: 12.4},
		{MeterPct: 13.1, OvenPct: 12.7},
	}
}

// How far is our quick meter from the oven?
func ExampleCalibrateMeter() {
	c, err := moisture.CalibrateMeter(pairs())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("bias %.2f ± %.2f %%, a single reading %.1f to %.1f %% off\n", c.BiasPct, c.BiasSEPct, c.AgreeLowPct, c.AgreeHighPct)
	fmt.Printf("oven = %.2f (± %.2f) + %.3f (± %.3f) × reading\n", c.OffsetPct, c.OffsetSEPct, c.SlopeRatio, c.SlopeSERatio)
	// Output:
	// bias 0.38 ± 0.03 %, a single reading 0.2 to 0.6 % off
	// oven = -0.80 (± 0.34) + 1.037 (± 0.030) × reading
}

// The meter shows 11.9 %. What would the oven say?
func ExampleCorrectedReading() {
	c, err := moisture.CalibrateMeter(pairs())
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := moisture.CorrectedReading(c, 11.9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%, 95 %% within %.1f to %.1f %%\n", r.MoisturePct, r.LowPct, r.HighPct)
	// Output: 11.5 %, 95 % within 11.3 to 11.8 %
}

// What does the shipped curve rest on?
func ExampleParchmentArabica() {
	c := moisture.ParchmentArabica()
	fmt.Printf("%s %s, %s, %g to %g °C, ± %g %% dry basis, %s\n", c.Coffee, c.State, c.Branch, c.MinC, c.MaxC, c.SEDryPct, c.Provenance)
	// Output: arabica, Caturra parchment, desorption, 5 to 55 °C, ± 0.54 % dry basis, quoted
}

// Our lot shows 10.4 % and 0.56 at 22 °C. Where will a room at 18 °C and 60 %
// bring it?
func ExampleAnchorIsotherm() {
	ours, err := moisture.AnchorIsotherm(moisture.ParchmentArabica(), moisture.Anchor{
		Aw: 0.56, MoisturePct: 10.4, TempC: 22, AwSE: 0.01, MoistureSEPct: 0.2,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := moisture.EquilibriumMoisture(ours, moisture.Air{TempC: 18, RHPct: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.1f %%\n", e.MoisturePct, e.SEPct)
	// Output: 10.9 ± 0.5 %
}

// invented readings of one lot at several contents
func lot() []moisture.IsothermPair {
	return []moisture.IsothermPair{
		{Aw: 0.35, MoisturePct: 8.1, TempC: 22}, {Aw: 0.45, MoisturePct: 9.2, TempC: 22.4},
		{Aw: 0.55, MoisturePct: 10.3, TempC: 22}, {Aw: 0.62, MoisturePct: 11.2, TempC: 22.3},
		{Aw: 0.70, MoisturePct: 12.5, TempC: 22}, {Aw: 0.78, MoisturePct: 14.3, TempC: 22.1},
	}
}

// What is the monolayer of our own lot?
func ExampleFitIsotherm() {
	f, err := moisture.FitIsotherm(moisture.FormGAB, lot())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("monolayer %.1f ± %.1f %% dry basis, spread %.2f %%\n", f.Curve.P[0], f.SE[0], f.Curve.SEDryPct)
	// Output: monolayer 6.7 ± 0.3 % dry basis, spread 0.10 %
}

// Which curve do the readings of our lot choose, and what is its activity at
// 11.8 %?
func ExampleChooseIsotherm() {
	c, err := moisture.ChooseIsotherm(lot())
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := moisture.WaterActivity(c.Best.Curve, moisture.Bean{MoisturePct: 11.8, TempC: 22})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: %.2f\n", c.Best.Curve.Form, a.Aw)
	// Output: GAB: 0.66
}

// Which published contents stand beside the curve as points?
func ExamplePublishedPoints() {
	for _, p := range moisture.PublishedPoints() {
		fmt.Printf("%s: %.1f to %.1f %% dry basis at %.2f to %.2f\n", p.Coffee, p.LowDryPct, p.HighDryPct, p.LowAw, p.HighAw)
	}
	// Output:
	// green coffee: 16.3 to 16.3 % dry basis at 0.80 to 0.80
	// green coffee in store: 12.4 to 13.6 % dry basis at 0.65 to 0.65
	// arabica, adsorption, 30 to 60 °C: 1.9 to 25.3 % dry basis at 0.10 to 0.83
	// roasted ground blends, 10 and 30 °C: 2.2 to 5.5 % dry basis at 0.19 to 0.52
}

// How much harder is the water of a bean at 11 % held than free water?
func ExampleHeatOfSorption() {
	h, err := moisture.HeatOfSorption(moisture.Bean{MoisturePct: 11, TempC: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f kJ/kg above %.0f kJ/kg\n", h.NetKJPerKg, h.TotalKJPerKg-h.NetKJPerKg)
	// Output: 245 kJ/kg above 2454 kJ/kg
}

// A sample at 11.8 % shows 0.67 in a laboratory at 25 °C. What is it in the
// store at 15 °C?
func ExampleCarryActivity() {
	c, err := moisture.CarryActivity(moisture.SealedSample{Aw: 0.67, MoisturePct: 11.8, FromC: 25, ToC: 15})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", c.Aw)
	// Output: 0.64
}

// A lot at 10.2 % lies in a room that brings it to 11.2 %, with a time
// constant of 45 days. How moist is it after a month?
func ExampleDriftAfter() {
	m, err := moisture.DriftAfter(moisture.Stay{MoisturePct: 10.2, EquilibriumPct: 11.2, TimeConstantDays: 45}, 30)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", m)
	// Output: 10.7 %
}

// When does it pass 11 %?
func ExampleDaysToMoisture() {
	d, err := moisture.DaysToMoisture(moisture.Stay{MoisturePct: 10.2, EquilibriumPct: 11.2, TimeConstantDays: 45}, 11)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("after %.0f days\n", d)
	// Output: after 72 days
}

// A sack was weighed every two weeks and its moisture followed from that. How
// fast does our store work?
func ExampleFitDrift() {
	f, err := moisture.FitDrift([]moisture.StoreReading{
		{Days: 0, MoisturePct: 10.20}, {Days: 14, MoisturePct: 10.47}, {Days: 28, MoisturePct: 10.66},
		{Days: 42, MoisturePct: 10.80}, {Days: 56, MoisturePct: 10.93},
	}, 11.2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("time constant %.0f ± %.0f days\n", f.TimeConstantDays, f.TimeConstantSEDays)
	// Output: time constant 45 ± 1 days
}

// And if we do not trust the curve's equilibrium?
func ExampleFitDriftAndEquilibrium() {
	f, err := moisture.FitDriftAndEquilibrium([]moisture.StoreReading{
		{Days: 0, MoisturePct: 10.20}, {Days: 14, MoisturePct: 10.47}, {Days: 28, MoisturePct: 10.66},
		{Days: 42, MoisturePct: 10.80}, {Days: 56, MoisturePct: 10.91}, {Days: 84, MoisturePct: 11.04},
		{Days: 112, MoisturePct: 11.13}, {Days: 140, MoisturePct: 11.16},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("towards %.2f ± %.2f %% with %.0f ± %.0f days\n", f.EquilibriumPct, f.EquilibriumSEPct, f.TimeConstantDays, f.TimeConstantSEDays)
	// Output: towards 11.21 ± 0.01 % with 47 ± 1 days
}

// How fast would a single exposed layer go half of its way at 18 °C and 60 %?
// A sack is far slower.
func ExampleLayerHours() {
	h, err := moisture.LayerHours(moisture.Layer{TempC: 18, RHPct: 60, LeftPct: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f h at least\n", h)
	// Output: 45 h at least
}

// How much water must a dryer take from a store of 300 m³ to bring it from
// 20 °C and 72 % to 18 °C and 58 %, with half an air change an hour?
func ExampleWaterForRoom() {
	w, err := moisture.WaterForRoom(moisture.RoomChange{
		VolumeM3: 300, PressureKPa: moisture.StandardPressureKPa,
		From: moisture.Air{TempC: 20, RHPct: 72}, To: moisture.Air{TempC: 18, RHPct: 58},
		Outside: moisture.Air{TempC: 16, RHPct: 85}, ChangesPerHour: 0.5,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kg at once, then %.2f kg an hour\n", -w.OnceG/1000, -w.PerHourG/1000)
	// Output: 1.1 kg at once, then 0.40 kg an hour
}

// A sack comes from a truck at 9 °C into a store at 18 °C and 58 %. Does it
// sweat?
func ExampleSackSweat() {
	s, err := moisture.SackSweat(moisture.ColdSack{
		SurfaceC: 9, Room: moisture.Air{TempC: 18, RHPct: 58}, MarginK: moisture.CondensationMarginK,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("sweats: %v; warm it to %.1f °C first\n", s.Wet, s.WarmToC)
	// Output: sweats: true; warm it to 12.6 °C first
}

// A logger's file has a gap and a broken row. What did the store do?
func ExampleSummariseLog() {
	const file = `time,t,rh
2031-03-01T00:00:00Z,17.8,57
2031-03-01T06:00:00Z,17.5,61
2031-03-01T12:00:00Z,18.4,66
2031-03-01T18:00:00Z,18.9,70
2031-03-02T00:00:00Z,,
2031-03-02T06:00:00Z,17.9,62
2031-03-05T06:00:00Z,17.6,58
2031-03-05T12:00:00Z,18.1,57
`
	records, err := csv.NewReader(strings.NewReader(file)).ReadAll()
	if err != nil {
		fmt.Println(err)
		return
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return math.NaN() // a missing reading
		}
		return v
	}
	var rows []moisture.LogReading
	for _, r := range records[1:] {
		at, err := time.Parse(time.RFC3339, r[0])
		if err != nil {
			fmt.Println(err)
			return
		}
		rows = append(rows, moisture.LogReading{UnixSeconds: at.Unix(), TempC: number(r[1]), RHPct: number(r[2])})
	}
	log, err := moisture.SummariseLog(moisture.ParchmentArabica(), moisture.LogLimits{
		LowC: 12, HighC: 20, LowRHPct: 50, HighRHPct: 62, RiskAw: moisture.GrowthLimitAw, MaxGapSeconds: 12 * 3600,
	}, rows)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d h used, %d h missing, %.0f h in band, %.0f h at mould risk\n",
		log.UsedSeconds/3600, log.GapSeconds/3600, log.InBandSeconds/3600, log.RiskSeconds/3600)
	fmt.Printf("the room led the beans to %.1f %%; worst row %d, %.0f %% outside the band\n",
		log.MoisturePct, log.WorstIndex, log.WorstByPct)
	// Output:
	// 36 h used, 72 h missing, 21 h in band, 9 h at mould risk
	// the room led the beans to 11.6 %; worst row 3, 8 % outside the band
}

// What should the activity meter show over magnesium nitrate at 23 °C?
func ExampleStandardSalt() {
	p, err := moisture.StandardSalt(moisture.MagnesiumNitrate, 23)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.1f %%, which is an activity of %.3f\n", p.RHPct, p.UncertaintyPct, p.RHPct/100)
	// Output: 53.5 ± 0.2 %, which is an activity of 0.535
}

// And a hygrometer over table salt in a cup, in a store at 15 °C?
func ExampleHandbookSalt() {
	p, err := moisture.HandbookSalt(moisture.SodiumChloride, 15)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ± %.1f %%\n", p.RHPct, p.UncertaintyPct)
	// Output: 75 ± 1.5 %
}

// The hygrometer shows 55.1 over 53.5 % and 78.0 over 75.4 %. Now it shows 64.
func ExampleCorrectedHumidity() {
	c, err := moisture.CorrectedHumidity(moisture.TwoPoint{
		LowReadPct: 55.1, LowTruePct: 53.5, HighReadPct: 78.0, HighTruePct: 75.4, TrueSEPct: 0.15, ReadSEPct: 0.4,
	}, 64)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.1f %%\n", c.RHPct, c.SEPct)
	// Output: 62.0 ± 0.5 %
}

// What did a batch lose in all?
func ExampleTotalLoss() {
	l, err := moisture.TotalLoss(decimal.RequireFromString("15.00"), decimal.RequireFromString("12.65"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(l.StringFixed(1), "%")
	// Output: 15.7 %
}

// The last lot lost 15 % at 10.5 %. The new one is at 12 %. What will the same
// roast show on the scale?
func ExampleExpectedLoss() {
	l, err := moisture.ExpectedLoss(moisture.RoastAim{
		GreenMoisturePct:   decimal.RequireFromString("12.0"),
		RoastedMoisturePct: decimal.RequireFromString("2.0"),
		DryMatterLossPct:   decimal.RequireFromString("6.9"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(l.StringFixed(1), "%")
	// Output: 16.4 %
}

// How well is the split of a loss known, with a scale of 10 g and meters of
// 0.3 and 0.2 %?
func ExampleRoastLossSE() {
	u, err := moisture.RoastLossSE(
		moisture.RoastReadings{GreenKg: 12, RoastedKg: 10.2, GreenMoisturePct: 11, RoastedMoisturePct: 2},
		moisture.RoastReadings{GreenKg: 0.01, RoastedKg: 0.01, GreenMoisturePct: 0.3, RoastedMoisturePct: 0.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("total ± %.2f, water ± %.2f, dry matter ± %.2f %%\n", u.TotalPct, u.WaterPct, u.DryMatterPct)
	// Output: total ± 0.11, water ± 0.34, dry matter ± 0.39 %
}

// What dry matter does a medium roast cost by the table?
func ExampleDryLossByDegree() {
	d := moisture.DryLossByDegree()[1]
	fmt.Printf("%s: %g to %g %% (%s)\n", d.Degree, d.MinPct, d.MaxPct, d.Provenance)
	// Output: medium: 5 to 8 % (memory)
}
