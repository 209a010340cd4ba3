// Command flushtime sets the flushing time of a packing machine from readings
// of its own bags: bags flushed for several times, each measured for oxygen.
//
//	go run ./examples/flushtime
//
// A nozzle is neither a piston nor a stirred tank: the readings say what it is
// (headspace.FitNozzle). How many readings there are says how sure one may be
// of the bags that were not measured (sampling.OneSidedFactor), and the two
// together the shortest time (headspace.ShortestTime). The readings here are
// invented.
//
// Flushing fills the room around the machine with nitrogen, which gives no
// warning. Ventilation and an oxygen alarm come before any of this; local
// codes and licensed practice decide.
package main

import (
	"fmt"
	"io"
	"log"
	"math"
	"os"

	"example.org/evenlot/checkpoint/sampling"
	"example.org/evenlot/headspace"
)

// What the roastery promises: 95 % of the bags under 2 % oxygen, said with
// 95 % confidence.
const (
	limitPct      = headspace.LimitOxygenPct
	coveragePct   = 95.0
	confidencePct = 95.0
)

// The bag and the machine.
const (
	bagML        = 1250.0
	coffeeG      = 350.0
	flowLPerMin  = 60.0
	resolutionPc = 0.1 // step of the oxygen meter, %
)

// trial is what was read: three bags at each of five times.
var trial = []struct{ seconds, oxygenPct float64 }{
	{0.8, 9.1}, {0.8, 8.2}, {0.8, 9.9},
	{1.2, 5.4}, {1.2, 6.1}, {1.2, 5.0},
	{1.6, 3.3}, {1.6, 3.8}, {1.6, 3.5},
	{2.0, 2.3}, {2.0, 2.0}, {2.0, 2.6},
	{2.6, 1.1}, {2.6, 1.3}, {2.6, 0.9},
}

func main() {
	if err := dialIn(os.Stdout); err != nil {
		log.Fatal(err)
	}
}

func dialIn(w io.Writer) error {
	free, err := headspace.FreeVolume(headspace.Fill{BagML: bagML, CoffeeG: coffeeG, BeanGPerML: headspace.BeanMediumGPerML})
	if err != nil {
		return err
	}
	readings := make([]headspace.Reading, len(trial))
	for i, r := range trial {
		readings[i] = headspace.Reading{FreeML: free.FreeML, FlowLPerMin: flowLPerMin, Seconds: r.seconds, OxygenPct: r.oxygenPct}
	}
	fit, err := headspace.FitNozzle(headspace.Trial{
		StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, ResolutionPct: resolutionPc, Readings: readings})
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "gas space            %.0f mL\n", free.FreeML)
	fmt.Fprintf(w, "nozzle               %.0f ± %.0f %% (100 is a piston, 0 is stirred)\n", fit.NozzlePct, 2*fit.SEPct)
	fmt.Fprintf(w, "bag to bag           a factor of %.2f\n", math.Exp(fit.SDLn))

	// The factor for the number of readings, and once more for what the fit
	// is worth at the answer where that is less.
	best, n := headspace.Shortest{}, fit.Count
	for range 10 {
		k, err := sampling.OneSidedFactor(n, coveragePct, confidencePct)
		if err != nil {
			return err
		}
		best, err = headspace.ShortestTime(fit, headspace.Assurance{
			FreeML: free.FreeML, FlowLPerMin: flowLPerMin, LimitPct: limitPct, ToleranceFactor: k})
		if err != nil {
			return err // a limit out of reach says what would bring it into reach
		}
		if best.Notes&headspace.WeakHere == 0 || int(best.EffectiveCount) >= n {
			break
		}
		n = max(2, int(best.EffectiveCount))
	}
	seconds := math.Ceil(10*best.Seconds) / 10 // up to the machine's step
	fmt.Fprintf(w, "flush for            %.1f s, %.1f L of gas a bag\n", seconds, flowLPerMin*seconds/60)
	fmt.Fprintf(w, "half of the bags     under %.1f %% oxygen, %.0f %% of them under %.1f %%\n", best.OxygenPct, coveragePct, limitPct)

	next, err := headspace.PredictOxygen(fit, headspace.Setting{FreeML: free.FreeML, FlowLPerMin: flowLPerMin, Seconds: seconds, ConfidencePct: 95})
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "the next bag         %.1f to %.1f %%: outside this, look at the machine\n", next.LowPct, next.HighPct)
	if notes := fit.Notes | best.Notes | next.Notes; notes != 0 {
		fmt.Fprintf(w, "notes                %v\n", notes)
	}
	return nil
}
