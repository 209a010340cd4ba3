package moisture

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// MeterPair is one sample measured by a quick meter and by the oven. The zero
// MeterPair is refused.
type MeterPair struct {
	MeterPct float64 // the meter's reading, % wet basis
	OvenPct  float64 // the oven's result on the same sample, % wet basis
}

// Counts of pairs that CalibrateMeter takes.
const (
	MinPairsCount  = 3       // least number of pairs: a line and one more
	GoodPairsCount = 10      // below this the answer carries FewPairs; common practice
	MaxPairsCount  = 100_000 // greatest number of pairs
)

// AgreementFactor is the normal deviate of the limits of agreement, 95 %.
// Bland & Altman, Lancet 1986, use 2 and later 1.96; memory. Pure number.
const AgreementFactor = 1.96

// Calibration is what CalibrateMeter found: a line from readings to oven
// results, and how far the readings themselves are from them.
type Calibration struct {
	PairsCount   int
	SlopeRatio   float64 // oven % per meter %, ideally 1
	SlopeSERatio float64 // its standard error
	OffsetPct    float64 // oven result at a reading of 0, %
	OffsetSEPct  float64 // its standard error, %
	ResidualPct  float64 // standard deviation about the line, %
	BiasPct      float64 // mean of meter less oven, %
	BiasSEPct    float64 // its standard error, %
	AgreeLowPct  float64 // lower limit of agreement of meter less oven, %
	AgreeHighPct float64 // upper limit of agreement, %
	TFactor      float64 // two-sided 95 % Student factor for the line
	MeanPct      float64 // mean reading, %
	SpreadPct2   float64 // sum of squared deviations of the readings, %²
	LowestPct    float64 // least reading calibrated, %
	HighestPct   float64 // greatest reading calibrated, %
	Notes        Notes   // what to tell the reader beside the numbers
}

// CalibrateMeter fits a quick meter to the oven.
//
//	O  = a + b·R                       least squares, n − 2 degrees of freedom
//	s² = Σ (Oᵢ − a − b·Rᵢ)²/(n − 2)
//	u_b = s/√S,  u_a = s·√(1/n + R̄²/S),  S = Σ (Rᵢ − R̄)²
//	D  = mean of Rᵢ − Oᵢ, u_D = s_D/√n, limits of agreement D ± 1.96·s_D
//
//	R  MeterPair.MeterPct       % wet basis  accepted 0.5 to 80
//	O  MeterPair.OvenPct        % wet basis  accepted 0.5 to 80
//	n  3 to 100 000 pairs
//	a  Calibration.OffsetPct    %
//	b  Calibration.SlopeRatio
//	D  Calibration.BiasPct      %
//
// Fewer than ten pairs carry [FewPairs]. Outside the accepted ranges it returns
// the zero Calibration and an [*InputError]; readings that are all the same
// give an [*ImpossibleError].
//
// The oven's own scatter ends in s and so in the uncertainty; scatter of the
// meter flattens b a little, by its variance over that of the readings. Take
// pairs over the whole range that the meter will be asked for, from one
// coffee type at a time: density and temperature move a capacitance meter.
//
// Source: Draper & Smith, Applied Regression Analysis; Bland & Altman, Lancet
// 327:307–310, 1986.
func CalibrateMeter(pairs []MeterPair) (Calibration, error) {
	bad := fault.Int(nil, "pairs", len(pairs), MinPairsCount, MaxPairsCount, "")
	if bad == nil {
		for i, p := range pairs {
			bad = floatAt(bad, "pairs", i, "MeterPct", p.MeterPct, MinMoisturePct, MaxMoisturePct, "%")
			bad = floatAt(bad, "pairs", i, "OvenPct", p.OvenPct, MinMoisturePct, MaxMoisturePct, "%")
		}
	}
	if err := fault.Input(bad); err != nil {
		return Calibration{}, err
	}
	n := float64(len(pairs))
	c := Calibration{PairsCount: len(pairs), LowestPct: pairs[0].MeterPct, HighestPct: pairs[0].MeterPct}
	meanO := 0.0
	for _, p := range pairs {
		c.MeanPct += p.MeterPct / n
		meanO += p.OvenPct / n
		c.LowestPct = math.Min(c.LowestPct, p.MeterPct)
		c.HighestPct = math.Max(c.HighestPct, p.MeterPct)
	}
	if c.LowestPct == c.HighestPct {
		return Calibration{}, &ImpossibleError{Quantity: "calibration line", Why: "all readings are the same",
			Field: "pairs[1].MeterPct", Given: fault.Shortest(c.LowestPct), Min: MinMoisturePct, Max: MaxMoisturePct, Unit: "%"}
	}
	c.BiasPct = c.MeanPct - meanO
	sxy, sd := 0.0, 0.0
	for _, p := range pairs {
		dx := p.MeterPct - c.MeanPct
		c.SpreadPct2 += dx * dx
		sxy += dx * (p.OvenPct - meanO)
		d := p.MeterPct - p.OvenPct - c.BiasPct
		sd += d * d
	}
	c.SlopeRatio = sxy / c.SpreadPct2
	c.OffsetPct = meanO - c.SlopeRatio*c.MeanPct
	rss := 0.0
	for _, p := range pairs {
		r := p.OvenPct - meanO - c.SlopeRatio*(p.MeterPct-c.MeanPct)
		rss += r * r
	}
	c.ResidualPct = math.Sqrt(rss / (n - 2))
	c.SlopeSERatio = c.ResidualPct / math.Sqrt(c.SpreadPct2)
	c.OffsetSEPct = c.ResidualPct * math.Sqrt(1/n+c.MeanPct*c.MeanPct/c.SpreadPct2)
	sd = math.Sqrt(sd / (n - 1))
	c.BiasSEPct = sd / math.Sqrt(n)
	c.AgreeLowPct = c.BiasPct - AgreementFactor*sd
	c.AgreeHighPct = c.BiasPct + AgreementFactor*sd
	c.TFactor = num.StudentQuantile(0.975, n-2)
	if len(pairs) < GoodPairsCount {
		c.Notes |= FewPairs
	}
	return c, nil
}

// floatAt is fault.Float for a field of an element; it makes the name only
// when the value is refused.
func floatAt(bad []*FieldError, list string, i int, field string, v, min, max float64, unit string) []*FieldError {
	if v >= min && v <= max {
		return bad
	}
	return fault.Float(bad, list+"["+strconv.Itoa(i)+"]."+field, v, min, max, unit)
}

// Corrected is what CorrectedReading found.
type Corrected struct {
	MoisturePct float64 // what the oven would most likely give, % wet basis
	SEPct       float64 // standard error of one reading's correction, %
	LowPct      float64 // lower end of the 95 % interval, %
	HighPct     float64 // upper end of the 95 % interval, %
	Notes       Notes   // what to tell the reader beside the numbers
}

// CorrectedReading returns what the oven would give for a meter's reading, by
// a calibration line.
//
//	O  = a + b·R
//	u  = s·√(1 + 1/n + (R − R̄)²/S)
//	O ± t·u, t the two-sided 95 % Student factor for n − 2
//
//	R  meterPct               % wet basis  accepted 0.5 to 80
//	O  Corrected.MoisturePct  % wet basis
//	u  Corrected.SEPct        %, of one new reading
//
// A reading outside the calibrated ones carries [OutsidePairs]. Outside the
// accepted range, and for a calibration that CalibrateMeter did not make, it
// returns the zero Corrected and an [*InputError].
//
// Source: Draper & Smith, Applied Regression Analysis, prediction of one new
// observation.
func CorrectedReading(c Calibration, meterPct float64) (Corrected, error) {
	bad := fault.Int(nil, "PairsCount", c.PairsCount, MinPairsCount, MaxPairsCount, "")
	bad = fault.Float(bad, "SlopeRatio", c.SlopeRatio, -1e6, 1e6, "")
	bad = fault.Float(bad, "OffsetPct", c.OffsetPct, -1e8, 1e8, "%")
	bad = fault.Float(bad, "ResidualPct", c.ResidualPct, 0, 1e6, "%")
	bad = fault.Float(bad, "TFactor", c.TFactor, 1.9, 13, "")
	bad = fault.Float(bad, "MeanPct", c.MeanPct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Float(bad, "SpreadPct2", c.SpreadPct2, 1e-30, 1e9, "%²")
	bad = fault.Float(bad, "meterPct", meterPct, MinMoisturePct, MaxMoisturePct, "%")
	if err := fault.Input(bad); err != nil {
		return Corrected{}, err
	}
	d := meterPct - c.MeanPct
	r := Corrected{MoisturePct: c.OffsetPct + c.SlopeRatio*meterPct, Notes: c.Notes}
	r.SEPct = c.ResidualPct * math.Sqrt(1+1/float64(c.PairsCount)+d*d/c.SpreadPct2)
	r.LowPct = r.MoisturePct - c.TFactor*r.SEPct
	r.HighPct = r.MoisturePct + c.TFactor*r.SEPct
	if meterPct < c.LowestPct || meterPct > c.HighestPct {
		r.Notes |= OutsidePairs
	}
	return r, nil
}
