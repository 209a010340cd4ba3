// Command worksheet prints exercises for a class, each with numbers of its
// own, and the answers on a sheet of their own. Every answer is computed by the
// library, so that the sheet is as right as the library is; the numbers are
// invented, and the same seed prints the same sheet.
//
//	go run ./examples/worksheet -seed 7            # for the class
//	go run ./examples/worksheet -seed 7 -answers   # for the trainer
package main

import (
	"flag"
	"fmt"
	"io"
	"log"
	"math/rand/v2"
	"os"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/checkpoint"
	"example.org/evenlot/extraction"
	"example.org/evenlot/headspace"
	"example.org/evenlot/moisture"
	"github.com/shopspring/decimal"
)

func main() {
	log.SetFlags(0)
	seed := flag.Uint64("seed", 1, "of the numbers")
	answers := flag.Bool("answers", false, "print the answers in place of the lines to write on")
	flag.Parse()
	if err := sheet(os.Stdout, *seed, *answers); err != nil {
		log.Fatal(err)
	}
}

// An exercise draws its numbers, asks, and answers in two lines: the answer,
// and the working that leads to it.
type exercise func(draw *rand.Rand) (question, answer, working string, err error)

func sheet(w io.Writer, seed uint64, answers bool) error {
	draw := rand.New(rand.NewPCG(seed, 0))
	title := "From the sack to the cup"
	if answers {
		title += ": answers"
	}
	fmt.Fprintf(w, "%s (sheet %d)\n", title, seed)
	for i, e := range []exercise{water, dryBasis, roastLoss, flushes, yield, verdict} {
		question, answer, working, err := e(draw)
		if err != nil {
			return err // the numbers drawn are all within the ranges
		}
		fmt.Fprintf(w, "\n%d. %s\n", i+1, question)
		if answers {
			fmt.Fprintf(w, "   %s\n   %s\n", answer, working)
		} else {
			fmt.Fprint(w, "\n   ______________________________________________\n")
		}
	}
	return nil
}

// tenths draws a decimal between two bounds with one place.
func tenths(draw *rand.Rand, lo, hi int64) decimal.Decimal {
	return decimal.New(10*lo+draw.Int64N(10*(hi-lo)+1), -1)
}

func water(draw *rand.Rand) (string, string, string, error) {
	in := brewratio.DoseAndRatio{DoseG: tenths(draw, 12, 60), Ratio: tenths(draw, 14, 18)}
	brew, err := brewratio.Water(in)
	return fmt.Sprintf("A recipe says 1:%s. How much water goes on %s g of coffee?", in.Ratio.StringFixed(1), in.DoseG.StringFixed(1)),
		brew.WaterG.StringFixed(2) + " g",
		fmt.Sprintf("%s g × %s", in.DoseG.StringFixed(1), in.Ratio.StringFixed(1)), err
}

func dryBasis(draw *rand.Rand) (string, string, string, error) {
	wet := tenths(draw, 9, 13).InexactFloat64()
	dry, err := moisture.DryBasis(wet)
	return fmt.Sprintf("A lot has %.1f %% moisture, wet basis. How much water is that on each 100 g of dry matter?", wet),
		fmt.Sprintf("%.2f g", dry),
		fmt.Sprintf("100 × %.1f / (100 − %.1f)", wet, wet), err
}

func roastLoss(draw *rand.Rand) (string, string, string, error) {
	green := tenths(draw, 8, 20)
	lost := decimal.New(1300+draw.Int64N(600), -4) // 13 to 19 %
	r := moisture.Roast{GreenKg: green, RoastedKg: green.Sub(green.Mul(lost)).Round(2),
		GreenMoisturePct: tenths(draw, 10, 12), RoastedMoisturePct: tenths(draw, 1, 3)}
	loss, err := moisture.RoastLoss(r)
	return fmt.Sprintf("%s kg of green at %s %% moisture become %s kg of roasted at %s %%. How much mass was lost, and how much of the dry matter?",
			r.GreenKg.StringFixed(1), r.GreenMoisturePct.StringFixed(1), r.RoastedKg.StringFixed(2), r.RoastedMoisturePct.StringFixed(1)),
		fmt.Sprintf("%s %% of the mass, %s %% of the dry matter", loss.TotalPct.StringFixed(2), loss.DryMatterPct.StringFixed(2)),
		fmt.Sprintf("%s kg in all, %s kg of it water", loss.TotalKg.StringFixed(2), loss.WaterKg.StringFixed(3)), err
}

func flushes(draw *rand.Rand) (string, string, string, error) {
	f := headspace.FlushTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, TargetPct: headspace.LimitOxygenPct,
		FreeML: float64(400 + 50*draw.IntN(13)), FlushML: float64(400 + 50*draw.IntN(13))}
	n, err := headspace.FlushesFor(f)
	return fmt.Sprintf("A bag holds %.0f mL of air around the beans. Each flush adds %.0f mL of nitrogen with %.1f %% oxygen, mixes, and vents. How many flushes bring it to %.0f %%?",
			f.FreeML, f.FlushML, f.SupplyPct, f.TargetPct),
		fmt.Sprintf("%d, which leave %.2f %%", n.Count, n.OxygenPct),
		fmt.Sprintf("each keeps %.0f/(%.0f + %.0f) of what is above %.1f %%; %.2f would just do", f.FreeML, f.FreeML, f.FlushML, f.SupplyPct, n.Exact), err
}

func yield(draw *rand.Rand) (string, string, string, error) {
	in := extraction.Immersion{DoseG: tenths(draw, 10, 13).InexactFloat64(), WaterG: float64(165 + draw.IntN(40)), StrengthPct: float64(115+draw.IntN(40)) / 100}
	e, err := extraction.ImmersionYield(in)
	return fmt.Sprintf("A cupping bowl of %.1f g and %.0f g of water measures %.2f %%. What share of the coffee is in the water?", in.DoseG, in.WaterG, in.StrengthPct),
		fmt.Sprintf("%.1f %%", e.YieldPct),
		fmt.Sprintf("the solids spread over all %.0f g of water, also what the grounds hold", in.WaterG), err
}

func verdict(draw *rand.Rand) (string, string, string, error) {
	r := checkpoint.Reading{Value: tenths(draw, 11, 13).InexactFloat64(), U: 0.2}
	l := checkpoint.Limit{Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct}
	v, err := checkpoint.Judge(r, l, checkpoint.DefaultRiskPct)
	return fmt.Sprintf("A meter with a standard uncertainty of %.1f %% reads %.1f %% moisture; the limit is %.0f to %.0f %%. In, out, or too close to call?", r.U, r.Value, l.Lo, l.Hi),
		v.Word.String(),
		fmt.Sprintf("the chance of being inside is %.0f %%; readings from %.2f to %.2f %% are in", v.InPct, v.AcceptLo, v.AcceptHi), err
}
