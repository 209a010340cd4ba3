package degas_test

import (
	"errors"
	"fmt"
	"time"
	_ "time/tzdata" // the examples bring their own time zones

	"example.org/evenlot/degas"
	"github.com/shopspring/decimal"
)

// coffee is invented: 9 mg/g at drop, and a curve of one's own.
var coffee = degas.Coffee{GasMgPerG: 9, Curve: degas.Stretched{TauDays: 4, Exponent: 0.65}}

func show(format string, a any, err error) {
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf(format+"\n", a)
}

// weighings are invented: 300 g in an open dish on a balance of 0.01 g.
func weighings() degas.Weighings {
	w := degas.Weighings{
		DivisionG: decimal.RequireFromString("0.01"), RepeatabilityG: 0.01,
		PickupMgPerGDay: 0.01, PickupUncertaintyMgPerGDay: 0.01, // a witness of old beans beside it
		WithinPct: degas.DefaultWithinPct,
	}
	for _, r := range []struct {
		days float64
		g    string
	}{
		{0.04, "300.00"}, {0.2, "299.80"}, {0.5, "299.57"}, {1, "299.29"}, {2, "298.92"}, {3, "298.66"},
		{5, "298.31"}, {7, "298.10"}, {10, "297.89"}, {14, "297.75"}, {21, "297.66"}, {28, "297.65"},
	} {
		w.Readings = append(w.Readings, degas.Weighing{Days: r.days, MassG: decimal.RequireFromString(r.g)})
	}
	return w
}

// Four weeks of weighings: what does this coffee hold?
func ExampleFitWeighings() {
	fit, err := degas.FitWeighings(weighings(), degas.Stretched{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range fit.Estimates {
		fmt.Printf("%-9s %5.2f, 95 %% from %.2f to %.2f\n", e.Name, e.Value, e.Low, e.High)
	}
	fmt.Printf("content and time correlate by %.1f\n", fit.Correlation[0][1])
	// Output:
	// GasMgPerG  8.89, 95 % from 8.40 to 9.41
	// TauDays    4.21, 95 % from 3.81 to 4.65
	// Exponent   0.72, 95 % from 0.69 to 0.75
	// content and time correlate by 0.9
}

// Three days of weighings are not enough, and the fit says so.
func ExampleFitWeighings_refused() {
	w := weighings()
	w.Readings = w.Readings[:6]
	_, err := degas.FitWeighings(w, degas.Stretched{})
	var none *degas.ImpossibleError
	if errors.As(err, &none) {
		fmt.Printf("no %s: the gas content is open by %.0f %%, %s %% was asked for\n", none.Quantity, none.Min, none.Given)
	}
	// Output: no release curve: the gas content is open by 64 %, 50 % was asked for
}

// What will be left on day ten, as far as the weighings tell?
func ExampleFit_Left() {
	fit, err := degas.FitWeighings(weighings(), degas.Stretched{})
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := fit.Left(10)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% left, 95 %% from %.0f to %.0f\n", b.LeftPct, b.LowPct, b.HighPct)
	// Output: 16 % left, 95 % from 13 to 18
}

// Which shape do the weighings prefer?
func ExampleCompare() {
	var fits []degas.Fit
	for _, like := range []degas.Curve{degas.FirstOrder{}, degas.Stretched{}, degas.TwoPools{}} {
		f, err := degas.FitWeighings(weighings(), like)
		if err != nil {
			fmt.Println(err)
			return
		}
		fits = append(fits, f)
	}
	ranks, err := degas.Compare(fits...)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, r := range ranks {
		fmt.Printf("%T is %.0f behind\n", fits[i].Coffee.Curve, r.Delta)
	}
	// Output:
	// degas.FirstOrder is 260 behind
	// degas.Stretched is 0 behind
	// degas.TwoPools is 13 behind
}

// Pressure in a jar of two litres with 200 g of beans.
func ExampleFitJar() {
	jar := degas.Jar{VolumeML: 2010, VolumeUncertaintyML: 10, CoffeeG: 200, DensityGPerML: 0.8, TempC: 22,
		ResolutionKPa: 0.1, RepeatabilityKPa: 0.2, WithinPct: degas.DefaultWithinPct}
	for i, kpa := range []float64{101.3, 105.3, 111.6, 119.0, 128.8, 135.7, 144.6, 150.1, 155.2, 158.6, 161.3} {
		days := []float64{0.04, 0.2, 0.5, 1, 2, 3, 5, 7, 10, 14, 21}
		jar.Readings = append(jar.Readings, degas.JarReading{Days: days[i], PressureKPa: kpa})
	}
	fit, err := degas.FitJar(jar, degas.Stretched{})
	if err != nil {
		fmt.Println(err)
		return
	}
	e := fit.Estimates[0]
	fmt.Printf("%.1f mg/g, 95 %% from %.1f to %.1f\n", e.Value, e.Low, e.High)
	// Output: 10.1 mg/g, 95 % from 9.9 to 10.2
}

// How much has gone after a week?
func ExampleAmountLeft() {
	a, err := degas.AmountLeft(coffee, 7)
	show("%.1f mg/g gone", a.GoneMgPerG, err)
	// Output: 6.9 mg/g gone
}

// How much comes out in the bag between the second and the thirtieth day?
func ExampleAmountLost() {
	q, err := degas.AmountLost(coffee, 2, 30)
	show("%.1f mg/g", q, err)
	// Output: 4.5 mg/g
}

func ExampleCO2MLPerG() {
	v, err := degas.CO2MLPerG(degas.Conditions{TempC: 25, PressureKPa: degas.AtmosphereKPa})
	show("%.0f mL/g", v, err)
	// Output: 556 mL/g
}

func ExampleSecondVirial() {
	b, err := degas.SecondVirial(25)
	show("%.0f cm³/mol", b, err)
	// Output: -124 cm³/mol
}

// Is the ideal gas enough in a bag?
func ExampleCompressibility() {
	z, err := degas.Compressibility(degas.Conditions{TempC: 25, PressureKPa: degas.AtmosphereKPa})
	show("%.3f", z, err)
	// Output: 0.995
}

// Can a bean hold 6 mg/g at 6 bar?
func ExamplePoreMLPerG() {
	v, err := degas.PoreMLPerG(6, degas.Conditions{TempC: 20, PressureKPa: 600})
	show("it takes %.2f mL of pores per gram", v, err)
	// Output: it takes 0.55 mL of pores per gram
}

func ExampleArrheniusFactor() {
	f, err := degas.ArrheniusFactor(degas.Arrhenius{ActivationKJPerMol: 45, ReferenceC: 20, TempC: 5})
	show("%.2f times as fast", f, err)
	// Output: 0.37 times as fast
}

func ExampleQ10Factor() {
	f, err := degas.Q10Factor(degas.Q10{Factor: 2, ReferenceC: 23, TempC: 45})
	show("%.1f times as fast", f, err)
	// Output: 4.6 times as fast
}

// The activation energy of staling as a Q10: far from the usual two.
func ExampleQ10FromActivation() {
	q, err := degas.Q10FromActivation(degas.StalingKJPerMol, 20)
	show("%.2f", q, err)
	// Output: 1.19
}

func ExampleActivationFromQ10() {
	e, err := degas.ActivationFromQ10(2, 20)
	show("%.0f kJ/mol", e, err)
	// Output: 51 kJ/mol
}

// Half is gone after a day: how much by the fifth, if it were one pool?
func ExampleFirstOrderThrough() {
	c, err := degas.FirstOrderThrough(degas.Point{Days: 1, GonePct: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := degas.Left(c, 5)
	show("%.0f %%", s.GonePct, err)
	// Output: 97 %
}

func ExampleStretchedThrough() {
	c, err := degas.StretchedThrough(degas.Point{Days: 1, GonePct: 45}, degas.Point{Days: 7, GonePct: 85})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f days, exponent %.2f\n", c.TauDays, c.Exponent)
	// Output: 2.4 days, exponent 0.59
}

func ExampleTwoPoolsThrough() {
	c, err := degas.TwoPoolsThrough(35, degas.Point{Days: 1, GonePct: 45}, degas.Point{Days: 7, GonePct: 85})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f and %.1f days\n", c.FastTauDays, c.SlowTauDays)
	// Output: 0.4 and 4.8 days
}

func ExampleSphereThrough() {
	c, err := degas.SphereThrough(0.25, degas.Point{Days: 0.1, GonePct: 60})
	show("%.1e m²/s", c.DiffusivityM2PerS, err)
	// Output: 3.5e-13 m²/s
}

func ExampleSheetThrough() {
	c, err := degas.SheetThrough(0.1, degas.Point{Days: 0.1, GonePct: 60})
	show("%.1e m²/s", c.DiffusivityM2PerS, err)
	// Output: 3.3e-13 m²/s
}

func ExampleSphereFromLosses() {
	c, err := degas.SphereFromLosses(0.25, degas.Loss{Days: 0.05, GoneMgPerG: 3}, degas.Loss{Days: 0.2, GoneMgPerG: 5})
	show("%.1f mg/g", c.GasMgPerG, err)
	// Output: 6.4 mg/g
}

func ExampleSheetFromLosses() {
	c, err := degas.SheetFromLosses(0.1, degas.Loss{Days: 0.05, GoneMgPerG: 3}, degas.Loss{Days: 0.2, GoneMgPerG: 5})
	show("%.1f mg/g", c.GasMgPerG, err)
	// Output: 5.4 mg/g
}

func ExampleSphereShare() {
	s, err := degas.SphereShare(0.0305)
	show("%.0f %% left", s.LeftPct, err)
	// Output: 50 % left
}

func ExampleSheetShare() {
	s, err := degas.SheetShare(0.197)
	show("%.0f %% left", s.LeftPct, err)
	// Output: 50 % left
}

// Nobody weighed this coffee. How much has it lost by the third day?
func ExampleOrientationBand() {
	b, err := degas.OrientationBand(3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f %%: %v\n", b.LowGonePct, b.HighGonePct, b.Notes)
	// Output: 60 to 84 %: an orientation between published claims, not a measurement of this coffee
}

func ExampleOrientationDays() {
	s, err := degas.OrientationDays(20)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f to %.0f days\n", s.LowDays, s.HighDays)
	// Output: 2 to 9 days
}

func ExampleOrientationCurves() {
	slow, fast := degas.OrientationCurves()
	fmt.Printf("%.1f and %.1f days\n", slow.TauDays, fast.TauDays)
	// Output: 3.6 and 0.6 days
}

// pack is invented: 250 g sealed a day old into a soft bag of 450 mL of gas.
var pack = degas.Bag{CoffeeG: 250, Coffee: coffee, SealedDays: 1, GasML: 300, SlackML: 150, TempC: 21, OutsideKPa: 100}

// What is the pressure in a bag without a valve after a week?
func ExampleBagAfter() {
	s, err := degas.BagAfter(pack, 7)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mL came, %.0f kPa: %v\n", s.EvolvedML, s.GaugeKPa, s.Notes)
	// Output: 573 mL came, 94 kPa: an upper bound, because coffee gives off less into a pack under pressure
}

func ExampleBagPeak() {
	valved := pack
	valved.ValveKPa = degas.ValveHighKPa
	s, err := degas.BagPeak(valved)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mL let out at %.0f kPa\n", s.VentedML, s.GaugeKPa)
	// Output: 679 mL let out at 1 kPa
}

// When does a valve of half a kilopascal open?
func ExampleDaysToGauge() {
	days, err := degas.DaysToGauge(pack, 0.5)
	show("%.1f hours after sealing", 24*days, err)
	// Output: 20.6 hours after sealing
}

// How long must it rest open before a bag without a valve may only swell?
func ExampleHoldDays() {
	days, err := degas.HoldDays(pack, 0)
	show("%.0f days", days, err)
	// Output: 13 days
}

func ExampleSlackMgPerG() {
	q, err := degas.SlackMgPerG(150, 250, degas.Conditions{TempC: 23, PressureKPa: degas.AtmosphereKPa})
	show("%.1f mg/g", q, err)
	// Output: 1.1 mg/g
}

// Does the coffee's own gas make flushing needless?
func ExampleValveSweep() {
	s, err := degas.ValveSweep(480, 300, 20.9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% carbon dioxide, and %.1f %% oxygen still\n", s.CO2Pct, s.OxygenPct)
	// Output: 80 % carbon dioxide, and 4.2 % oxygen still
}

func ExampleSealedBinMLPerG() {
	v, err := degas.SealedBinMLPerG(degas.SealedBin{BinML: 5000, SolidML: 650, StartKPa: 101.3, StartC: 20,
		OutsideKPa: 100.8, GaugeKPa: 12, TempC: 22, CoffeeG: 500})
	show("%.2f mL/g at 0 °C and one atmosphere", v, err)
	// Output: 0.86 mL/g at 0 °C and one atmosphere
}

// Ready at 3 mg/g, gone by five weeks.
func ExampleRestWindow() {
	w, err := degas.RestWindow(degas.RestPlan{Coffee: coffee, LeftMgPerG: 3, FreshDays: 35})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("day %.1f to day %.0f\n", w.FromDays, w.ToDays)
	// Output: day 4.6 to day 35
}

// What do people say about rest before espresso? They do not agree.
func ExampleRestClaims() {
	for _, c := range degas.RestClaims() {
		if c.Use == degas.Espresso {
			fmt.Printf("%.0f to %.0f days: %s (%s)\n", c.FromDays, c.ToDays, c.Source, c.Provenance)
		}
	}
	// Output:
	// 7 to 28 days: trade habit (common practice)
	// 7 to 21 days: Roaster guide on roast age and espresso (opened)
	// 5 to 10 days: UK roaster trial on freshness and espresso, 2020 (opened)
	// 3 to 5 days: Espresso forum thread, 2006 (opened)
	// 21 to 35 days: Article on degassing in a vacuum chamber, 2023, one taster (opened)
}

// Roasted on a Friday morning in March; ready after nine and a half days. The
// clocks change in between.
func ExampleWhenAged() {
	loc, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		fmt.Println(err)
		return
	}
	roasted, err := degas.Instant(degas.WallClock{Year: 2026, Month: 3, Day: 27, Hour: 8, Minute: 30}, loc)
	if err != nil {
		fmt.Println(err)
		return
	}
	ready, err := degas.WhenAged(roasted.Time, 9.5, loc)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %v\n", ready.Time.Format("Mon 2 Jan 15:04"), ready.Notes)
	// Output: Sun 5 Apr 21:30: the clock changes in between
}

// The hour that the clock shows twice.
func ExampleInstant() {
	loc, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := degas.Instant(degas.WallClock{Year: 2026, Month: 10, Day: 25, Hour: 2, Minute: 30}, loc)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(m.Notes)
	// Output: the clock showed this time twice; the first is meant
}

func ExampleAgeDays() {
	roasted := time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC)
	days, err := degas.AgeDays(roasted, roasted.Add(60*time.Hour))
	show("%.1f days", days, err)
	// Output: 2.5 days
}

// Roasted at two, despatched at eleven the next morning, opened on day ten:
// what does the cup before despatch say?
func ExampleTasteBefore() {
	t, err := degas.TasteBefore(degas.Release{
		Coffee:  coffee,
		Roasted: time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC), CutOff: time.Date(2026, 5, 5, 11, 0, 0, 0, time.UTC),
		RestHours: degas.CuppingRestHours, TastingHours: 1.5, OpenedDays: 10,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("cup from %s to %s; it holds %.1f times the gas of the cup at opening\n",
		t.From.Format("15:04"), t.To.Format("15:04"), t.GasRatio)
	// Output: cup from 22:00 to 09:30; it holds 4.3 times the gas of the cup at opening
}

// How much longer does ground coffee keep at 1 % oxygen than in air?
func ExampleRelativeLife() {
	l, err := degas.RelativeLife(degas.Store{OxygenKPa: 1.01, WaterActivity: 0.2, TempC: 20},
		degas.Store{OxygenKPa: 21, WaterActivity: 0.2, TempC: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f times: %v\n", l.Factor, l.Notes)
	// Output: 10 times: for roasted and ground coffee; it does not carry to whole beans
}

// Ours keeps 40 days in air in the shop. And at 2 % oxygen in a cool store?
func ExampleBestBeforeDays() {
	shop := degas.Anchor{Days: 40, Store: degas.Store{OxygenKPa: 21, WaterActivity: 0.2, TempC: 22}}
	days, _, err := degas.BestBeforeDays(shop, degas.Store{OxygenKPa: 2, WaterActivity: 0.2, TempC: 15})
	show("%.0f days", days, err)
	// Output: 244 days
}

func ExampleBestBefore() {
	day, err := degas.BestBefore(time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC), 90.7)
	show("%s", day.Format(time.DateOnly), err)
	// Output: 2026-08-02
}

func ExampleStalingHalfRateKPa() {
	fmt.Printf("%.1f kPa\n", degas.StalingHalfRateKPa())
	// Output: 17.9 kPa
}

// When an oxygen alarm rings, how much carbon dioxide is there already?
func ExampleCO2PctAtOxygen() {
	x, err := degas.CO2PctAtOxygen(degas.OxygenAlarmPct)
	show("%.1f %%, and 4 %% is immediately dangerous", x, err)
	// Output: 6.7 %, and 4 % is immediately dangerous
}

func ExampleMgPerM3() {
	c, err := degas.MgPerM3(degas.Vapour{PPM: degas.CO2LimitPPM, GPerMol: degas.CO2GPerMol,
		Conditions: degas.Conditions{TempC: 20, PressureKPa: degas.AtmosphereKPa}})
	show("%.0f mg/m³", c, err)
	// Output: 9148 mg/m³
}

// What do 100 kg give off on their first day?
func ExampleEmission() {
	g, err := degas.Emission(100, coffee, 0, 1, degas.Conditions{TempC: 20, PressureKPa: degas.AtmosphereKPa})
	show("%.1f L/h", g, err)
	// Output: 6.8 L/h
}

func ExampleRoomAir() {
	a, err := degas.RoomAir(degas.Room{VolumeM3: 100, FreshM3PerHour: 20, SourceLPerHour: 6.8, OutdoorPPM: degas.OutdoorCO2PPM, Hours: 12})
	show("%.0f ppm", a.PPM, err)
	// Output: 729 ppm
}

// A tonne in a bin with a cubic metre of air around the beans, after a day.
func ExampleCoffeeRoomAir() {
	a, err := degas.CoffeeRoomAir(degas.CoffeeRoom{CoffeeKg: 1000, Coffee: coffee, Hours: 24, VolumeM3: 1,
		OutdoorPPM: degas.OutdoorCO2PPM, Conditions: degas.Conditions{TempC: 20, PressureKPa: degas.AtmosphereKPa}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% carbon dioxide: %v\n", a.PPM/1e4, a.Notes)
	// Output: 81 % carbon dioxide: above a published limit for people; gas drives the air out, and an oxygen alarm warns late
}

func ExampleCoffeeRoomPeak() {
	p, err := degas.CoffeeRoomPeak(degas.CoffeeRoom{CoffeeKg: 200, Coffee: coffee, Hours: 48, VolumeM3: 80, FreshM3PerHour: 15,
		OutdoorPPM: degas.OutdoorCO2PPM, Conditions: degas.Conditions{TempC: 20, PressureKPa: degas.AtmosphereKPa}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ppm after %.0f hours\n", p.PPM, p.Hours)
	// Output: 1406 ppm after 6 hours
}

func ExampleCoffeeRoomCourse() {
	course, err := degas.CoffeeRoomCourse(degas.CoffeeRoom{CoffeeKg: 200, Coffee: coffee, Hours: 48, VolumeM3: 80, FreshM3PerHour: 15,
		OutdoorPPM: degas.OutdoorCO2PPM, Conditions: degas.Conditions{TempC: 20, PressureKPa: degas.AtmosphereKPa}})
	if err != nil {
		fmt.Println(err)
		return
	}
	over := 0.0
	for _, at := range course {
		if at.PPM > 1000 {
			over = at.Hours
		}
	}
	fmt.Printf("over 1000 ppm for about %.0f hours\n", over)
	// Output: over 1000 ppm for about 24 hours
}

func ExampleFreshAirFor() {
	q, err := degas.FreshAirFor(200, degas.CO2LimitPPM, degas.OutdoorCO2PPM)
	show("%.0f m³/h", q, err)
	// Output: 43 m³/h
}

func ExampleHoursToLimit() {
	h, err := degas.HoursToLimit(degas.Room{VolumeM3: 100, FreshM3PerHour: 5, SourceLPerHour: 200, OutdoorPPM: degas.OutdoorCO2PPM}, degas.CO2LimitPPM)
	show("%.1f hours", h, err)
	// Output: 2.4 hours
}

// What a bag that is followed through its life takes: the gas given off since
// it was sealed, a day after the roast.
func ExampleReleaseML() {
	released, err := degas.ReleaseML(340, coffee, 1, degas.Conditions{TempC: 20, PressureKPa: degas.AtmosphereKPa})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mL in a day, %.0f mL in a month\n", released(1), released(30))
	// Output: 230 mL in a day, 1076 mL in a month
}
