package headspace_test

import (
	"errors"
	"fmt"
	"math"

	"example.org/evenlot/headspace"
	"github.com/shopspring/decimal"
)

// How much gas is there in a filled bag?
func ExampleFreeVolume() {
	f, err := headspace.FreeVolume(headspace.Fill{BagML: 1200, CoffeeG: 340, BeanGPerML: headspace.BeanMediumGPerML})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mL, %.0f %% of the bag\n", f.FreeML, f.FreePct)
	// Output: 775 mL, 65 % of the bag
}

// What do three shots of 500 mL leave in a bag of 775 mL headspace?
func ExampleAfterFlushes() {
	y, err := headspace.AfterFlushes(headspace.Flushes{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, FlushML: 500, Count: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", y.OxygenPct)
	// Output: 4.8 %
}

// And the same gas as one steady stream, the bag well stirred?
func ExampleAfterSweep() {
	y, err := headspace.AfterSweep(headspace.Purge{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, GasML: 1500})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", y.OxygenPct)
	// Output: 3.1 %
}

// And if it drove the air out before it like a piston?
func ExampleAfterPiston() {
	y, err := headspace.AfterPiston(headspace.Purge{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, GasML: 1500})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", y.OxygenPct)
	// Output: 0.1 %
}

// How much nitrogen brings a stirred bag under 1 %?
func ExampleSweepFor() {
	n, err := headspace.SweepFor(headspace.Target{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: headspace.ExcellentOxygenPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f L, %.1f headspaces\n", n.GasML/1000, n.Volumes)
	// Output: 2.4 L, 3.1 headspaces
}

// How much would do if nothing mixed?
func ExamplePistonFor() {
	n, err := headspace.PistonFor(headspace.Target{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: headspace.ExcellentOxygenPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f L\n", n.GasML/1000)
	// Output: 0.74 L
}

// How many shots of 500 mL bring the bag under 1 %?
func ExampleFlushesFor() {
	n, err := headspace.FlushesFor(headspace.FlushTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: 1, FlushML: 500})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d shots leave %.2f %%\n", n.Count, n.OxygenPct)
	// Output: 7 shots leave 0.74 %
}

// The supply itself sets the floor.
func ExampleSweepFor_refused() {
	_, err := headspace.SweepFor(headspace.Target{StartPct: headspace.AirOxygenPct, SupplyPct: 1, FreeML: 775, TargetPct: 0.5})
	var none *headspace.ImpossibleError
	if errors.As(err, &none) {
		fmt.Println(none.Why)
	}
	_, err = headspace.SweepFor(headspace.Target{StartPct: 0.209, SupplyPct: 0, FreeML: 775, TargetPct: 1})
	var field *headspace.FieldError
	if errors.As(err, &field) {
		fmt.Println(field.Error())
	}
	// Output:
	// the purge gas itself holds 1 % oxygen and no purging goes below that
	// StartPct is 0.209 %; accepted: 0.5 to 100 %
}

// What do two rounds of vacuum and back-fill leave in a chamber?
func ExampleAfterCycles() {
	y, err := headspace.AfterCycles(headspace.Cycles{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, LowKPa: 20, HighKPa: 101.3, TempC: 20, Count: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %% with %.2f L of gas\n", y.OxygenPct, y.SupplyML/1000)
	// Output: 0.91 % with 1.24 L of gas
}

// How many rounds does it take?
func ExampleCyclesFor() {
	n, err := headspace.CyclesFor(headspace.CycleTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: 1, LowKPa: 30, HighKPa: 101.3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, so %d\n", n.Exact, n.Count)
	// Output: 2.6, so 3
}

// How deep must the vacuum be for a single round?
func ExampleVacuumFor() {
	v, err := headspace.VacuumFor(headspace.VacuumTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, TargetPct: 1, HighKPa: 101.3, Count: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kPa absolute\n", v.LowKPa)
	// Output: 4.4 kPa absolute
}

// How much does a flat bag of 130 by 200 mm hold at most?
func ExamplePillowBag() {
	v, err := headspace.PillowBag(headspace.Pillow{WidthMM: 130, HeightMM: 200})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f mL\n", v.BagML, v.HighML)
	// Output: 773 to 880 mL
}

// How heavy is the water in the bag?
func ExampleWaterDensity() {
	v, err := headspace.WaterDensity(22)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f g/mL\n", v)
	// Output: 0.9978 g/mL
}

// The bag was filled with water on the scale: what does it hold?
func ExampleWaterFilled() {
	v, err := headspace.WaterFilled(headspace.WaterFill{EmptyG: 14, FilledG: 1212, TempC: 22})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mL\n", v)
	// Output: 1201 mL
}

// What is the particle density of this roast?
func ExampleBeanDensity() {
	v, err := headspace.BeanDensity(headspace.Displacement{BeansG: 100, VesselG: 612.4, TogetherG: 583.1, MediumGPerML: 0.998, ScaleG: 0.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f ± %.3f g/mL\n", v.BeanGPerML, v.UncertaintyGPerML)
	// Output: 0.772 ± 0.001 g/mL
}

// How much of a heap of beans is gap?
func ExampleVoidShare() {
	v, err := headspace.VoidShare(headspace.Heap{BulkGPerML: 0.37, BeanGPerML: headspace.BeanMediumGPerML})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", v)
	// Output: 54 %
}

// How much gas sits inside the beans?
func ExamplePoreVolume() {
	v, err := headspace.PoreVolume(headspace.Pores{CoffeeG: 340, BeanGPerML: 0.8, PorosityPct: headspace.PorosityRoastedPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mL\n", v)
	// Output: 145 mL
}

// The beans rested in air: what will the reading drift to?
func ExampleAfterEvening() {
	v, err := headspace.AfterEvening(headspace.Evening{FreeML: 775, OxygenPct: 0.8, PoreML: 145, PorePct: 9})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", v)
	// Output: 2.1 %
}

// What does our nozzle leave, a little better than stirred?
func ExampleAfterNozzle() {
	v, err := headspace.AfterNozzle(headspace.Nozzle{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, GasML: 1500, NozzlePct: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", v.OxygenPct)
	// Output: 2.0 %
}

// How much gas does it need for 1 %?
func ExampleNozzleFor() {
	v, err := headspace.NozzleFor(headspace.NozzleTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: 1, NozzlePct: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f L\n", v.GasML/1000)
	// Output: 2.0 L
}

// A chamber pulls a vacuum, fills it back, and the nozzle sweeps what is left.
func ExampleAfterSteps() {
	nitrogen := headspace.Mix{OxygenPct: 0.1, NitrogenPct: 99.9}
	air := headspace.Mix{OxygenPct: headspace.AirOxygenPct, NitrogenPct: headspace.AirNitrogenPct}
	o, err := headspace.AfterSteps(headspace.Space{FreeML: 775, TempC: 20, KPa: 101.3, Mix: air}, []headspace.Step{
		{Kind: headspace.VentStep, ToKPa: 30},
		{Kind: headspace.FillStep, Supply: nitrogen, ToKPa: 101.3},
		{Kind: headspace.SweepStep, Supply: nitrogen, GasML: 800},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", o.Mix.OxygenPct)
	// Output: 2.3 %
}

// invented readings of one nozzle, 20 L/min into bags of 775 mL.
func nozzleTrial() headspace.Trial {
	t := headspace.Trial{StartPct: headspace.AirOxygenPct, SupplyPct: 0.05, ResolutionPct: 0.1}
	for _, r := range [][2]float64{{3, 5.1}, {3, 5.9}, {4, 3.9}, {4, 3.2}, {5, 2.3}, {5, 2.0}, {6, 1.5}, {6, 1.2}, {7, 0.9}, {7, 0.8}} {
		t.Readings = append(t.Readings, headspace.Reading{FreeML: 775, FlowLPerMin: 20, Seconds: r[0], OxygenPct: r[1]})
	}
	return t
}

// What kind of nozzle made these readings?
func ExampleFitNozzle() {
	f, err := headspace.FitNozzle(nozzleTrial())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("nozzle %.0f ± %.0f %%, bags spread by %.0f %%\n", f.NozzlePct, f.SEPct, 100*f.SDLn)
	// Output: nozzle 7 ± 1 %, bags spread by 10 %
}

// Does one reading stand apart?
func ExampleJudgeReading() {
	f, err := headspace.FitNozzle(nozzleTrial())
	if err != nil {
		fmt.Println(err)
		return
	}
	j, err := headspace.JudgeReading(f, headspace.Reading{FreeML: 775, FlowLPerMin: 20, Seconds: 5, OxygenPct: 6})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("expected %.1f %%, outlier: %v\n", j.ExpectedPct, j.Outlier)
	// Output: expected 2.1 %, outlier: true
}

// What will the next bag hold at 8 s?
func ExamplePredictOxygen() {
	f, err := headspace.FitNozzle(nozzleTrial())
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := headspace.PredictOxygen(f, headspace.Setting{FreeML: 775, FlowLPerMin: 20, Seconds: 8, ConfidencePct: 95})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%, between %.1f and %.1f %%; %v\n", p.OxygenPct, p.LowPct, p.HighPct, p.Notes)
	// Output: 0.6 %, between 0.5 and 0.7 %; outside the published range or the readings fitted
}

// How long must we flush so that 95 % of bags stay under 2 % with 95 %
// confidence? For 10 readings the factor is 2.911.
func ExampleShortestTime() {
	f, err := headspace.FitNozzle(nozzleTrial())
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := headspace.ShortestTime(f, headspace.Assurance{FreeML: 775, FlowLPerMin: 20, LimitPct: headspace.LimitOxygenPct, ToleranceFactor: 2.911})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f s, %.1f L a bag, %.1f %% in the middle\n", s.Seconds, s.GasML/1000, s.OxygenPct)
	// Output: 5.8 s, 1.9 L a bag, 1.5 % in the middle
}

// The meter showed 1.3 %, 0.1 % in nitrogen and 20.4 % in the room: what was it?
func ExampleCorrectReading() {
	room, err := headspace.AirOxygen(headspace.RoomAir{TempC: 25, RHPct: 50, KPa: 101.3})
	if err != nil {
		fmt.Println(err)
		return
	}
	cal := headspace.Calibration{ZeroRawPct: 0.1, SpanRawPct: 20.4, SpanTruePct: room}
	c, err := headspace.CorrectReading(headspace.Meter{RawPct: 1.3, Before: cal, After: cal, SpanKPa: 101.3, ReadKPa: 101.3, ResolutionPct: 0.1, RepeatSDPct: 0.03, GasSDPct: 0.01})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f %%; %v\n", c.OxygenPct, c.UncertaintyPct, c.Notes)
	// Output: 1.22 ± 0.06 %; no second calibration: drift is not in the uncertainty
}

// Is that bag fit to go?
func ExampleJudgeOxygen() {
	v, err := headspace.JudgeOxygen(headspace.Case{OxygenPct: 1.22, UncertaintyPct: 0.06, CoverageFactor: 2, ExcellentPct: headspace.ExcellentOxygenPct, LimitPct: headspace.LimitOxygenPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(v)
	// Output: acceptable
}

// The pump drew 20 mL through a line of 6 mL: what was in the bag?
func ExampleBagOxygen() {
	v, err := headspace.BagOxygen(headspace.Draw{OxygenPct: 1.9, AirPct: 20.6, DrawML: 20, GiveML: 700, LineML: 6})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", v.OxygenPct)
	// Output: 1.2 %
}

// What pressure does the roastery at 1500 m have?
func ExamplePressure() {
	v, err := headspace.Pressure(1500)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kPa\n", v)
	// Output: 84.6 kPa
}

// What should the meter show in the room before we span it?
func ExampleAirOxygen() {
	v, err := headspace.AirOxygen(headspace.RoomAir{TempC: 25, RHPct: 50, KPa: 101.325})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %%\n", v)
	// Output: 20.62 %
}

// How big is a mole at 20 °C?
func ExampleMolarVolume() {
	v, err := headspace.MolarVolume(headspace.GasState{TempC: 20, KPa: headspace.SeaLevelKPa})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f L\n", v)
	// Output: 24.06 L
}

// What is a normal litre at the bag, at 20 °C?
func ExampleVolumeAt() {
	v, err := headspace.VolumeAt(headspace.Restated{Volume: 1, From: headspace.GasState{TempC: headspace.NormalTempC, KPa: headspace.SeaLevelKPa}, To: headspace.GasState{TempC: 20, KPa: headspace.SeaLevelKPa}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f L\n", v)
	// Output: 1.073 L
}

// What does 12 µm of polyester let through, 3 cm³·mil/(100 in²·d·atm) by the textbook?
func ExampleFilmOTR() {
	v, err := headspace.FilmOTR(headspace.Layer{PermCCMMPerM2DayAtm: 3 * headspace.PermFromMil100In2, ThicknessUM: 12})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f cc/(m²·d·atm)\n", v)
	// Output: 98 cc/(m²·d·atm)
}

// And with polyethylene behind it?
func ExampleLaminateOTR() {
	v, err := headspace.LaminateOTR([]float64{headspace.OTRPET, headspace.OTRLDPE})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f cc/(m²·d·atm)\n", v)
	// Output: 103.6 cc/(m²·d·atm)
}

// How much oxygen is 1 % for each gram of coffee?
func ExampleOxygenDose() {
	v, err := headspace.OxygenDose(headspace.Dose{FreeML: 775, OxygenPct: 1, CoffeeG: 340, State: headspace.GasState{TempC: 20, KPa: headspace.SeaLevelKPa}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f µg/g\n", v)
	// Output: 30 µg/g
}

// What factor does 10 °C mean for ground coffee, by the published energy?
func ExampleGroundQ10() {
	fmt.Printf("%.2f\n", headspace.GroundQ10())
	// Output: 1.19
}

// bag is an invented 340 g bag in a metallised laminate with a valve.
func bag() headspace.Bag {
	return headspace.Bag{
		FreeML: 775, CoffeeG: 340, TempC: 20, KPa: headspace.SeaLevelKPa, OxygenPct: 1.2, OpenKPa: 1,
		Film:   headspace.Film{OTRCCPerM2DayAtm: headspace.OTRMetPETLaminate, AreaM2: 0.08, OutsidePct: headspace.AirOxygenPct},
		Uptake: headspace.Uptake{UGPerGDay: 0.5, AtPct: 1},
	}
}

// gas is an invented release of carbon dioxide.
func gas(days float64) float64 { return -1200 * math.Expm1(-math.Pow(days/6, 0.6)) }

// What will a meter show an hour, a day and a month after sealing?
func ExampleOxygenAfter() {
	for _, days := range []float64{1.0 / 24, 1, 30} {
		a, err := headspace.OxygenAfter(bag(), days, gas)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.2f %% oxygen, %.0f %% carbon dioxide\n", a.OxygenPct, a.CarbonDioxidePct)
	}
	// Output:
	// 1.11 % oxygen, 7 % carbon dioxide
	// 0.76 % oxygen, 36 % carbon dioxide
	// 0.20 % oxygen, 76 % carbon dioxide
}

// The same in one run.
func ExampleOxygenAt() {
	var a [3]headspace.Aged
	if err := headspace.OxygenAt(bag(), a[:], []float64{1.0 / 24, 1, 30}, gas); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, %.2f, %.2f %%\n", a[0].OxygenPct, a[1].OxygenPct, a[2].OxygenPct)
	// Output: 1.11, 0.76, 0.20 %
}

// And every hour of a year?
func ExampleOxygenCourse() {
	year := make([]headspace.Aged, 365*24+1)
	if err := headspace.OxygenCourse(bag(), year, 1.0/24, gas); err != nil {
		fmt.Println(err)
		return
	}
	last := year[len(year)-1]
	fmt.Printf("%.2f %%, %.0f µg/g taken up\n", last.OxygenPct, last.TakenUGPerG)
	// Output: 0.08 %, 22 µg/g taken up
}

// When has each gram taken up 10 µg of oxygen?
func ExampleDaysToDose() {
	v, err := headspace.DaysToDose(bag(), 10, 365, gas)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f days\n", v)
	// Output: 96 days
}

// What does a shift of 300 bags draw?
func ExampleGasUsed() {
	v, err := headspace.GasUsed(headspace.Shift{BagGasML: 2000, Bags: 300, LostPct: 10, Bag: headspace.GasState{TempC: 20, KPa: 101.325}, Ref: headspace.GasState{TempC: headspace.CylinderTempC, KPa: headspace.StandardKPa}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f L a bag, %.0f L in all\n", v.BagL, v.ShiftL)
	// Output: 2.21 L a bag, 664 L in all
}

// What is in a 50 L cylinder at 200 bar, used down to 5 bar?
func ExampleCylinderContent() {
	v, err := headspace.CylinderContent(headspace.Cylinder{WaterL: 50, GaugeBar: 200, LeaveBar: 5, TempC: 15, AmbientKPa: 101.325, Ref: headspace.GasState{TempC: headspace.CylinderTempC, KPa: headspace.StandardKPa}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f m³, not %.1f\n", v.UsableM3, v.IdealM3)
	// Output: 9.3 m³, not 10.1
}

// How far does it go, and what does a bag cost?
func ExampleCylinderLife() {
	v, err := headspace.CylinderLife(headspace.Draught{UsableM3: 9.3, BagL: 2.2, BagsPerHour: 60, CylinderPrice: decimal.RequireFromString("48.50")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d bags, %.0f h, %s a bag\n", v.Bags, v.Hours, v.CostPerBag.StringFixed(4))
	// Output: 4227 bags, 70 h, 0.0115 a bag
}

// The float meter for air shows 20 L/min of nitrogen at 2.5 bar absolute: how much is that?
func ExampleTrueFlow() {
	v, err := headspace.TrueFlow(headspace.FloatMeter{ShownLPerMin: 20, ScaleMolarG: headspace.AirMolarG, Scale: headspace.GasState{TempC: 20, KPa: 101.325}, GasMolarG: headspace.NitrogenMolarG, Gas: headspace.GasState{TempC: 20, KPa: 250}, Ref: headspace.GasState{TempC: 20, KPa: 101.325}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f L/min at the bag\n", v.RefLPerMin)
	// Output: 32 L/min at the bag
}

// How far is nitrogen from ideal in a full cylinder?
func ExampleNitrogenZ() {
	v, err := headspace.NitrogenZ(headspace.GasState{TempC: 15, KPa: 20_000})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f\n", v)
	// Output: 1.048
}

// A cylinder empties into a store of 30 m³: what is left to breathe?
func ExampleAfterSpill() {
	v, err := headspace.AfterSpill(headspace.Spill{RoomM3: 30, GasM3: 9.6, StartPct: headspace.AirOxygenPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", v.OxygenPct)
	// Output: 14 %
}

// A hose leaks 6 m³/h in a room with half an air change an hour.
func ExampleAfterLeak() {
	v, err := headspace.AfterLeak(headspace.Leak{RoomM3: 60, LeakM3PerHour: 6, AirM3PerHour: 30, Fan: headspace.BlownIn, StartPct: headspace.AirOxygenPct, OutsidePct: headspace.AirOxygenPct, MixingFactor: 1, Hours: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% after an hour, %.1f %% in the end\n", v.OxygenPct, v.SteadyPct)
	// Output: 19.4 % after an hour, 17.5 % in the end
}

// How long until 19.5 %?
func ExampleHoursToOxygen() {
	v, err := headspace.HoursToOxygen(headspace.Leak{RoomM3: 60, LeakM3PerHour: 6, AirM3PerHour: 30, Fan: headspace.BlownIn, StartPct: headspace.AirOxygenPct, OutsidePct: headspace.AirOxygenPct, MixingFactor: 1, Hours: 1}, headspace.DeficientOxygenPct)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f minutes\n", 60*v)
	// Output: 53 minutes
}

// What leak would that room carry?
func ExampleLeakAllowed() {
	v, err := headspace.LeakAllowed(headspace.Allowance{AirM3PerHour: 30, Fan: headspace.BlownIn, OutsidePct: headspace.AirOxygenPct, LevelPct: headspace.DeficientOxygenPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f m³/h\n", v)
	// Output: 2.2 m³/h
}

// Two tonnes of fresh coffee give off 1 m³ of carbon dioxide an hour.
func ExampleAfterResting() {
	v, err := headspace.AfterResting(headspace.Resting{RoomM3: 200, CO2M3PerHour: 1, AirM3PerHour: 100, StartPPM: 420, OutsidePPM: 420, MixingFactor: 1, Hours: 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ppm, while an oxygen meter shows %.1f %%\n", math.Round(v.PPM/100)*100, v.OxygenPct)
	// Output: 10100 ppm, while an oxygen meter shows 20.7 %
}

// How much fresh air would hold the room at the limit for a day of work?
func ExampleFreshAirFor() {
	v, err := headspace.FreshAirFor(headspace.FreshAir{CO2M3PerHour: 1, OutsidePPM: 420, LevelPPM: headspace.CO2LongPPM})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f m³/h\n", v)
	// Output: 217 m³/h
}

// What does too little oxygen do to people?
func ExampleOxygenEffects() {
	for _, e := range headspace.OxygenEffects() {
		fmt.Printf("%.0f to %.0f %%: %s\n", e.LowPct, e.HighPct, e.What)
	}
	// Output:
	// 17 to 17 %: impaired judgement begins to show
	// 15 to 19 %: less able to work hard; coordination may suffer
	// 12 to 14 %: pulse quickens; poor coordination and judgement
	// 8 to 10 %: fainting and unconsciousness
	// 6 to 8 %: death within 8 minutes; half die within 6
	// 4 to 6 %: coma within 40 seconds
}

// And carbon dioxide?
func ExampleCarbonDioxideEffects() {
	e := headspace.CarbonDioxideEffects()[3]
	fmt.Printf("%.0f %%: %s\n", e.LowPct, e.What)
	// Output: 4 %: immediately dangerous to life or health
}
