package main

import (
	"fmt"
	"math"
	"math/rand/v2"
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
	"example.org/evenlot/moisture"
	"github.com/shopspring/decimal"
)

// A bench is one function of the library beside its floor.
type bench struct {
	name  string
	ours  func() error
	floor string // what the floor computes
	bare  func()
	peer  string // the function of peer.mjs or peer.py that computes the same; empty for none
}

// inputs are variables, so that the compiler computes nothing ahead.
var (
	tempC, rhPct               = 21.5, 57.0
	doseG, waterG, strengthPct = 10.0, 165.0, 1.25
	days, tauDays, shape       = 4.0, 3.1, 0.59
	value, u, lo, hi           = 11.2, 0.2, 10.0, 12.0
	dec                        = decimal.RequireFromString
)

func magnus(t float64) float64 { return 6.112 * math.Exp(17.62*t/(243.12+t)) }

func benches() []bench {
	decDose, decRatio := dec("18.5"), dec("16.2")
	roast := moisture.Roast{GreenKg: dec("12.00"), RoastedKg: dec("10.14"), GreenMoisturePct: dec("10.8"), RoastedMoisturePct: dec("1.8")}
	green, roasted, mg, mr := 12.00, 10.14, 10.8, 1.8
	purge := headspace.Purge{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 600, GasML: 1500}
	flushes := headspace.Flushes{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 600, FlushML: 800, Count: 5}
	bag := headspace.Bag{FreeML: 600, CoffeeG: 250, TempC: 20, KPa: 101.325, OxygenPct: 1, OpenKPa: 0.5,
		Film:   headspace.Film{OTRCCPerM2DayAtm: 1, AreaM2: 0.1, OutsidePct: headspace.AirOxygenPct},
		Uptake: headspace.Uptake{UGPerGDay: 2, AtPct: 1}}
	year := make([]headspace.Aged, 365*24+1)
	release := func(days float64) float64 { return -1500 * math.Expm1(-math.Pow(0.2*days, 0.6)) }
	var curve degas.Curve = degas.Stretched{TauDays: tauDays, Exponent: shape}
	quantities := []uncertainty.Quantity{{Value: 36, U: 0.1}, {Value: 9.5, U: 0.05}, {Value: 18, U: 0.05}}
	yield := func(x []float64) float64 { return x[0] * x[1] / x[2] }
	draw := rand.New(rand.NewPCG(1, 2))
	series := make([]float64, 1000)
	for i := range series {
		series[i] = draw.NormFloat64()
	}
	lines := chart.Lines{Centre: 0, Lower: -3, Upper: 3, Sigma: 1}
	check := weighing.Check{Load: weighing.Load{Class: weighing.ClassIII, IntervalG: dec("5"), LoadG: dec("2000"), InService: true}, ReadingG: dec("2005"), WeightErrorG: dec("0.1")}
	day := make([]stock.Bin, 60)
	for i := range day {
		day[i] = stock.Bin{Bags: 10 + i, Times: 1 + i}
	}
	demand := [][]stock.Bin{day, day, day}
	return []bench{
		{"brewratio.Water", func() error {
			_, err := brewratio.Water(brewratio.DoseAndRatio{DoseG: decDose, Ratio: decRatio})
			return err
		},
			"one product", func() { sink = doseG * strengthPct }, ""},
		{"extraction.ImmersionYield", func() error {
			_, err := extraction.ImmersionYield(extraction.Immersion{DoseG: doseG, WaterG: waterG, StrengthPct: strengthPct})
			return err
		}, "the same quotient", func() { sink = 100 * waterG * strengthPct / (100 - strengthPct) / doseG }, ""},
		{"moisture.SaturationOverWater", func() error { _, err := moisture.SaturationOverWater(tempC); return err },
			"Magnus form", func() { sink = magnus(tempC) }, "saturation"},
		{"moisture.DewPoint", func() error { _, err := moisture.DewPoint(moisture.Air{TempC: tempC, RHPct: rhPct}); return err },
			"Magnus form, inverted", func() {
				g := math.Log(rhPct/100) + 17.62*tempC/(243.12+tempC)
				sink = 243.12 * g / (17.62 - g)
			}, "dewPoint"},
		{"moisture.HumidityFromWetBulb", func() error {
			_, err := moisture.HumidityFromWetBulb(moisture.Psychrometer{TempC: tempC, WetBulbC: 16, PressureKPa: 101.325})
			return err
		}, "two Magnus forms", func() { sink = 100 * (magnus(16) - 0.662*(tempC-16)) / magnus(tempC) }, "humidity"},
		{"moisture.EquilibriumMoisture", func() error {
			_, err := moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: tempC, RHPct: rhPct})
			return err
		}, "the same curve", func() {
			a := rhPct / 100
			x := a * (61.030848 + a*(-108.37141+a*74.46105)) * math.Exp(a*(-0.037049+a*(0.070114-0.035177*a))*tempC)
			sink = 100 * x / (100 + x)
		}, ""},
		{"moisture.RoastLoss", func() error { _, err := moisture.RoastLoss(roast); return err },
			"the same balance in floats", func() {
				w := green*mg/100 - roasted*mr/100
				sink = 100 * (green - roasted - w) / (green * (100 - mg) / 100)
			}, ""},
		{"headspace.AfterSweep", func() error { _, err := headspace.AfterSweep(purge); return err },
			"one exponential", func() {
				sink = purge.SupplyPct + (purge.StartPct-purge.SupplyPct)*math.Exp(-purge.GasML/purge.FreeML)
			}, ""},
		{"headspace.AfterFlushes", func() error { _, err := headspace.AfterFlushes(flushes); return err },
			"one power", func() {
				sink = 0.1 + 20.8*math.Pow(flushes.FreeML/(flushes.FreeML+flushes.FlushML), float64(flushes.Count))
			}, ""},
		{"headspace.OxygenAfter", func() error { _, err := headspace.OxygenAfter(bag, days, nil); return err },
			"two exponentials", func() { sink = math.Exp(-0.8*days) + math.Expm1(-0.1*days) }, ""},
		{"headspace.OxygenCourse, a year by the hour", func() error { return headspace.OxygenCourse(bag, year, 1.0/24, nil) },
			"two exponentials an hour", func() {
				for i := range year {
					t := float64(i) / 24
					sink = math.Exp(-0.8*t) + math.Expm1(-0.1*t)
				}
			}, ""},
		{"the same while carbon dioxide sweeps it", func() error { return headspace.OxygenCourse(bag, year, 1.0/24, release) },
			"the release and one exponential an hour", func() {
				for i := range year {
					sink = math.Exp(-release(float64(i)/24) / 600)
				}
			}, ""},
		{"degas.Left", func() error { _, err := degas.Left(curve, days); return err },
			"a power, an exponential", func() { sink = 100 * math.Exp(-math.Pow(days/tauDays, shape)) }, ""},
		{"degas.DaysUntil", func() error { _, err := degas.DaysUntil(curve, 30); return err },
			"a logarithm, a power", func() { sink = tauDays * math.Pow(-math.Log(30/100.), 1/shape) }, ""},
		{"checkpoint.Judge", func() error {
			_, err := checkpoint.Judge(checkpoint.Reading{Value: value, U: u}, checkpoint.Limit{Lo: lo, Hi: hi}, 5)
			return err
		}, "two tails: no limits of acceptance, no largest u", func() {
			sink = 1 - (math.Erfc((hi-value)/u/math.Sqrt2)+math.Erfc((value-lo)/u/math.Sqrt2))/2
		}, ""},
		{"uncertainty.Propagate", func() error { _, err := uncertainty.Propagate(yield, quantities); return err },
			"the three terms by hand", func() {
				y := quantities[0].Value * quantities[1].Value / quantities[2].Value
				a, b, c := quantities[0].U/quantities[0].Value, quantities[1].U/quantities[1].Value, quantities[2].U/quantities[2].Value
				sink = y * math.Sqrt(a*a+b*b+c*c)
			}, "propagate"},
		{"sampling.OneSidedFactor", func() error { _, err := sampling.OneSidedFactor(15, 95, 95); return err },
			"an approximation by two normal quantiles", func() {
				z := math.Sqrt2 * math.Erfinv(0.9)
				a := 1 - z*z/28
				sink = (z + math.Sqrt(z*z-a*(z*z-z*z/15))) / a
			}, "factor"},
		{"chart.Check, 1000 points, 9 rules", func() error { _, err := chart.Check(series, lines, chart.Nelson|chart.Run8); return err },
			"rule 1 alone", func() {
				for _, v := range series {
					if math.Abs(v) > 3 {
						sink++
					}
				}
			}, ""},
		{"weighing.AsFound", func() error { _, err := weighing.AsFound(check); return err },
			"one decimal difference", func() { sink = float64(check.ReadingG.Sub(check.Load.LoadG).Sign()) }, ""},
		{"panel.ByChance", func() error {
			_, err := panel.ByChance(panel.Trial{Method: panel.Triangle, Assessors: 60, Correct: 27})
			return err
		}, "the tail's terms as products", func() {
			term, sum := 1e-3, 0.0
			for k := 27; k < 60; k++ {
				sum += term
				term *= float64(60-k) / float64(k+1) * 0.5
			}
			sink = sum
		}, "chance"},
		{"stock.Buffer, 3 days of 60 bins", func() error {
			_, err := stock.Buffer(stock.Wait{Days: demand, LevelPct: dec("95")})
			return err
		}, "the same convolution in floats", func() {
			p := []float64{1}
			for range 3 {
				next := make([]float64, len(p)+69)
				for i, x := range p {
					for _, d := range day {
						next[i+d.Bags] += x * float64(d.Times)
					}
				}
				p = next
			}
			sink = p[100]
		}, ""},
	}
}

func library() error {
	list := benches()
	peers, version, err := peer()
	if err != nil {
		return err
	}
	fmt.Printf("\n## Library: one call\n\nPeers: %s. A dash: no general-purpose library of the registries computes the same.\n", version)
	var rows [][]string
	for _, b := range list {
		if err := b.ours(); err != nil {
			return fmt.Errorf("%s: %w", b.name, err)
		}
		ours := perCall(func() {
			if b.ours() != nil {
				panic(b.name)
			}
		})
		allocs := testing.AllocsPerRun(100, func() {
			if b.ours() != nil {
				panic(b.name)
			}
		})
		bare := perCall(b.bare)
		theirs, ratio := "–", "–"
		if p := peers[b.peer]; p > 0 {
			theirs, ratio = ns(p), fmt.Sprintf("%.2g", ours/p)
		}
		rows = append(rows, []string{b.name, ns(ours), fmt.Sprint(allocs), b.floor, ns(bare), fmt.Sprintf("%.2g", ours/bare), theirs, ratio})
	}
	table(" function | ours | allocations | floor | its time | ratio | peer | ratio ", rows)
	return nil
}
