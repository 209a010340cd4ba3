// Command sacktocup takes one lot through every checkpoint, from the sack to
// the cup, and prints what each one says. The lot, Tern Ridge 26-041, is
// invented.
//
//	go run ./examples/sacktocup
package main

import (
	"fmt"
	"io"
	"log"
	"os"
	"time"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/checkpoint"
	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/degas"
	"example.org/evenlot/extraction"
	"example.org/evenlot/headspace"
	"example.org/evenlot/moisture"
	"github.com/shopspring/decimal"
)

// must ends the program with the library's own message, which names the field,
// the value given and the range accepted.
func must[T any](v T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return v
}

// judge prints a value, in the digits that its uncertainty earns, with the
// verdict on it; u is its standard uncertainty.
func judge(w io.Writer, what string, value, u, lo, hi float64, unit string) checkpoint.Verdict {
	v := must(checkpoint.Judge(checkpoint.Reading{Value: value, U: u}, checkpoint.Limit{Lo: lo, Hi: hi}, checkpoint.DefaultRiskPct))
	digits, plusMinus, err := uncertainty.Earned(value, 2*u, 2)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Fprintf(w, "%-28s %8s ± %s %-3s %v\n", what, digits, plusMinus, unit, v.Word)
	return v
}

func main() { sackToCup(os.Stdout) }

func sackToCup(w io.Writer) {
	kg := decimal.RequireFromString // what a scale shows is a decimal

	// The sack: the meter is good to ± 0.3 %, which is 0.17 as a standard
	// uncertainty.
	green := judge(w, "moisture of the green", 10.8, 0.17, moisture.SpecialtyMinMoisturePct, moisture.SpecialtyMaxMoisturePct, "%")

	// The store: what the room does to the lot, by a published isotherm whose
	// own error is most of the uncertainty.
	room := must(moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: 18, RHPct: 57}))
	store := judge(w, "moisture the store leads to", room.MoisturePct, room.SEPct, moisture.SpecialtyMinMoisturePct, moisture.SpecialtyMaxMoisturePct, "%")

	// The roast: exact, from the scale.
	loss := must(moisture.RoastLoss(moisture.Roast{GreenKg: kg("12.00"), RoastedKg: kg("10.14"),
		GreenMoisturePct: kg("10.8"), RoastedMoisturePct: kg("1.8")}))
	roast := judge(w, "roast loss", loss.TotalPct.InexactFloat64(), 0.033, 14, 20, "%")
	fmt.Fprintf(w, "%-28s %8s %% of green dry matter\n", "dry-matter loss", loss.DryMatterPct.StringFixed(3))

	// The bag: five flushes, each fully mixed.
	free := must(headspace.FreeVolume(headspace.Fill{BagML: 1150, CoffeeG: 340, BeanGPerML: headspace.BeanMediumGPerML}))
	flushed := must(headspace.AfterFlushes(headspace.Flushes{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1,
		FreeML: free.FreeML, FlushML: 800, Count: 5}))
	bag := judge(w, "oxygen after five flushes", flushed.OxygenPct, 0.05, 0, headspace.LimitOxygenPct, "%")
	read := judge(w, "oxygen read", 0.8, 0.06, 0, headspace.LimitOxygenPct, "%")

	// The rest: ready when the roastery's own release curve is down to half of
	// its gas, and gone after 14 days; in whole time, known to some minutes.
	window := must(degas.RestWindow(degas.RestPlan{
		Coffee:     degas.Coffee{GasMgPerG: 9, Curve: degas.Stretched{TauDays: 4, Exponent: 0.65}},
		LeftMgPerG: 4.5, FreshDays: 14}))
	roasted := time.Date(2026, 11, 16, 9, 30, 0, 0, time.UTC)
	cupped := time.Date(2026, 11, 23, 10, 0, 0, 0, time.UTC)
	rest := judge(w, "rest before the cup", cupped.Sub(roasted).Hours()/24, 0.003, window.FromDays, window.ToDays, "d")

	// The cup: the ratio exactly, the yield of the bowl from its strength.
	brew := must(brewratio.Ratio(brewratio.DoseAndWater{DoseG: kg("10.0"), WaterG: kg("165.0")}))
	fmt.Fprintf(w, "%-28s %8s g/g\n", "water per coffee", brew.Ratio.StringFixed(3))
	bowl := must(extraction.ImmersionYield(extraction.Immersion{DoseG: 10, WaterG: 165, StrengthPct: 1.25}))
	cup := judge(w, "extraction yield", bowl.YieldPct, 0.35, 18, 22, "%")

	lot := must(checkpoint.Together(green, store, roast, bag, read, rest, cup))
	fmt.Fprintf(w, "the lot: %v\n", lot.Word)
}
