package moisture

import (
	"math"
	"testing"
)

var sink float64

func bench(b *testing.B, checked func() error, floor func() float64) {
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := checked(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sink = floor()
		}
	})
}

// Floor: the one logarithm and exponential that the equation needs.
func BenchmarkSaturationOverWater(b *testing.B) {
	bench(b, func() error { _, err := SaturationOverWater(21.5); return err },
		func() float64 { return math.Exp(math.Log(294.65)) })
}

// Floor: Magnus, two logarithms' worth of the same answer to 0.02 °C.
func BenchmarkDewPoint(b *testing.B) {
	air := Air{21.5, 57}
	bench(b, func() error { _, err := DewPoint(air); return err },
		func() float64 {
			g := math.Log(air.RHPct/100) + magnusFactor*air.TempC/(magnusTempC+air.TempC)
			return magnusTempC * g / (magnusFactor - g)
		})
}

// Floor: one saturated humidity ratio.
func BenchmarkAirProperties(b *testing.B) {
	air := MoistAir{21.5, 57, 101.325}
	bench(b, func() error { _, err := AirProperties(air); return err },
		func() float64 { return saturatedRatio(21.5, 101.325, false) })
}

// Floor: the curve alone.
func BenchmarkEquilibriumMoisture(b *testing.B) {
	air := Air{18, 57}
	bench(b, func() error { _, err := EquilibriumMoisture(roa, air); return err },
		func() float64 { return roa.dry(0.57, 18) })
}

// Floor: the curve alone; the answer solves it three times.
func BenchmarkWaterActivity(b *testing.B) {
	bench(b, func() error { _, err := WaterActivity(roa, Bean{11.5, 18}); return err },
		func() float64 { return roa.dry(0.57, 18) })
}

// Floor: one multiplication and one division, rounded.
func BenchmarkSackMass(b *testing.B) {
	d := Drift{dec("60.00"), dec("11.0"), dec("11.7")}
	num, den := dec("5340"), dec("88.3")
	bench(b, func() error { _, err := SackMass(d); return err },
		func() float64 { return float64(num.DivRound(den, MassPlacesCount).Exponent()) })
}

// Floor: three divisions, rounded.
func BenchmarkRoastLoss(b *testing.B) {
	r := Roast{dec("12.00"), dec("10.20"), dec("11.0"), dec("2.0")}
	num, den := dec("180"), dec("12.00")
	bench(b, func() error { _, err := RoastLoss(r); return err },
		func() float64 {
			n := int32(0)
			for range 3 {
				n += num.DivRound(den, PctPlacesCount).Exponent()
			}
			return float64(n)
		})
}

// A peer for saturation, dew point and wet bulb is in testdata/oracle:
// node psychrolib.cjs bench prints its lines beside these.

// A year of a store at one reading a minute. Floor: reading the slice once.
func BenchmarkSummariseLog(b *testing.B) {
	rows := yearLog(525_600)
	b.Run("checked", func(b *testing.B) {
		b.ReportAllocs()
		b.SetBytes(int64(24 * len(rows)))
		for b.Loop() {
			if _, err := SummariseLog(roa, storeLimits, rows); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("floor", func(b *testing.B) {
		b.ReportAllocs()
		b.SetBytes(int64(24 * len(rows)))
		for b.Loop() {
			s := 0.0
			for i := range rows {
				s += rows[i].TempC + rows[i].RHPct + float64(rows[i].UnixSeconds)
			}
			sink = s
		}
	})
}

// Floor: one fit of the same data by the straight line that begins it.
func BenchmarkChooseIsotherm(b *testing.B) {
	x := make([]float64, len(lotPairs))
	for i, p := range lotPairs {
		x[i] = dryFromWet(p.MoisturePct)
	}
	bench(b, func() error { _, err := ChooseIsotherm(lotPairs); return err },
		func() float64 { return start(FormOswin, lotPairs, x)[0] })
}

// Floor: one pass over the pairs.
func BenchmarkCalibrateMeter(b *testing.B) {
	pairs := make([]MeterPair, 20)
	for i := range pairs {
		pairs[i] = MeterPair{9 + 0.2*float64(i), 8.8 + 0.19*float64(i) + 0.1*float64(i%3)}
	}
	bench(b, func() error { _, err := CalibrateMeter(pairs); return err },
		func() float64 {
			s := 0.0
			for _, p := range pairs {
				s += p.MeterPct * p.OvenPct
			}
			return s
		})
}
