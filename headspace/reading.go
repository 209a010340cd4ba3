package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// A Calibration is what a meter showed in two known gases.
//
// The zero Calibration is refused: the span gas holds oxygen. The zero point
// is truly zero when zero.
type Calibration struct {
	ZeroRawPct  float64 // shown in the zero gas, %
	ZeroTruePct float64 // oxygen of the zero gas, % by volume
	SpanRawPct  float64 // shown in the span gas, %
	SpanTruePct float64 // oxygen of the span gas, % by volume; room air by AirOxygen
}

// A Meter is a reading with all that is known about the meter that gave it.
//
// The zero Meter is refused. Where no second calibration was made, After is
// the same as Before and the drift is left unknown: say so beside the result.
// A second one that shows the same to the last digit is told from none by
// Again.
type Meter struct {
	RawPct        float64     // shown in the bag, %
	Before        Calibration // before the run
	After         Calibration // after the run, in the same or in other gases
	ElapsedPct    float64     // place of the reading between the two, 0 to 100 %
	SpanKPa       float64     // pressure at the cell when calibrated, kPa absolute
	ReadKPa       float64     // pressure at the cell when read, kPa absolute
	ResolutionPct float64     // smallest step shown, %
	RepeatSDPct   float64     // standard deviation of repeated readings, %
	GasSDPct      float64     // standard uncertainty of the oxygen of each calibration gas, % by volume
	Again         bool        // After is a calibration of its own even where it is the same as Before
}

// A Corrected reading.
type Corrected struct {
	OxygenPct      float64 // oxygen of the gas at the cell, % by volume
	UncertaintyPct float64 // its standard uncertainty, % by volume
	DriftPct       float64 // what the drift between the calibrations would move this reading by, whole way, % by volume
	FromReadingPct float64 // part of the uncertainty from resolution and repeat of the reading, % by volume
	FromZeroPct    float64 // part from the zero point, % by volume
	FromSpanPct    float64 // part from the span point, % by volume
	Notes          Notes
}

// CorrectReading returns the oxygen that a reading stands for.
//
//	r' = z + (r − z)·P_span/P_read
//	y  = y_z + (y_s − y_z)·(r' − z)/(s − z), by each calibration
//	y  = (1 − e)·y_before + e·y_after
//
//	r         RawPct                   %    accepted −2 to 110
//	z, s      ZeroRawPct, SpanRawPct   %    accepted −2 to 110, apart by 0.5 or more
//	y_z, y_s  ZeroTruePct, SpanTruePct %    accepted 0 to 100, apart by 0.5 or more
//	e         ElapsedPct/100                accepted 0 to 100 %
//	P         SpanKPa, ReadKPa         kPa  accepted 50 to 200, absolute
//	          ResolutionPct            %    accepted 0 to 1
//	          RepeatSDPct              %    accepted 0 to 5
//	          GasSDPct                 %    accepted 0 to 5
//
// The pressures matter to a cell that answers to the partial pressure of
// oxygen: spanned at sea level it shows 17.5 % in air at 1500 m. For a meter
// that corrects for pressure give the same number twice. Near 1 % the zero
// point governs the uncertainty, the span point hardly matters.
//
// The uncertainty joins, as root of squares, a resolution uniform over its
// step and the repeat of each raw number, and that of the two gases. A result
// below 0 is left as it is and carries [BelowZero].
//
// Source: linear interpolation between two calibration points; JCGM 100:2008
// (GUM), 5.1.2.
func CorrectReading(m Meter) (Corrected, error) {
	if err := m.check(); err != nil {
		return Corrected{}, err
	}
	e := m.ElapsedPct / 100
	ratio := m.SpanKPa / m.ReadKPa
	a, da := m.Before.line(m.RawPct, ratio)
	b, db := m.After.line(m.RawPct, ratio)
	at := func(x, y float64) float64 { return (1-e)*x + e*y }
	shown := m.ResolutionPct * m.ResolutionPct / 12
	raw2 := shown + m.RepeatSDPct*m.RepeatSDPct
	cal2, gas2 := raw2, m.GasSDPct*m.GasSDPct
	reading := at(da.raw, db.raw) * at(da.raw, db.raw) * raw2
	var zero, span float64
	once := m.Before == m.After && !m.Again
	if once { // one calibration, used twice
		zero = da.zeroRaw*da.zeroRaw*cal2 + da.zeroTrue*da.zeroTrue*gas2
		span = da.spanRaw*da.spanRaw*cal2 + da.spanTrue*da.spanTrue*gas2
	} else {
		// The raw numbers are independent; the gases are taken to be the same.
		p, q := (1-e)*(1-e), e*e
		zt, st := at(da.zeroTrue, db.zeroTrue), at(da.spanTrue, db.spanTrue)
		zero = (p*da.zeroRaw*da.zeroRaw+q*db.zeroRaw*db.zeroRaw)*cal2 + zt*zt*gas2
		span = (p*da.spanRaw*da.spanRaw+q*db.spanRaw*db.spanRaw)*cal2 + st*st*gas2
	}
	c := Corrected{
		OxygenPct:      at(a, b),
		UncertaintyPct: math.Sqrt(reading + zero + span),
		DriftPct:       b - a,
		FromReadingPct: math.Sqrt(reading),
		FromZeroPct:    math.Sqrt(zero),
		FromSpanPct:    math.Sqrt(span),
	}
	if c.OxygenPct < 0 {
		c.Notes |= BelowZero
	}
	if once {
		c.Notes |= DriftUnknown
	}
	return c, nil
}

// slopes are the derivatives of a corrected reading.
type slopes struct{ raw, zeroRaw, zeroTrue, spanRaw, spanTrue float64 }

// line corrects by one calibration; ratio is that of the cell pressures.
func (c Calibration) line(raw, ratio float64) (float64, slopes) {
	gain := (c.SpanTruePct - c.ZeroTruePct) / (c.SpanRawPct - c.ZeroRawPct)
	f := (raw - c.ZeroRawPct) * ratio / (c.SpanRawPct - c.ZeroRawPct)
	return c.ZeroTruePct + (c.SpanTruePct-c.ZeroTruePct)*f, slopes{
		raw: gain * ratio, zeroRaw: gain * (f - ratio), zeroTrue: 1 - f, spanRaw: -gain * f, spanTrue: f,
	}
}

func (m Meter) check() error {
	bad := fault.Float(nil, "RawPct", m.RawPct, -2, 110, "%")
	bad = m.Before.check(bad, "Before.")
	bad = m.After.check(bad, "After.")
	bad = fault.Float(bad, "ElapsedPct", m.ElapsedPct, 0, 100, "%")
	bad = fault.Float(bad, "SpanKPa", m.SpanKPa, 50, 200, "kPa")
	bad = fault.Float(bad, "ReadKPa", m.ReadKPa, 50, 200, "kPa")
	bad = fault.Float(bad, "ResolutionPct", m.ResolutionPct, 0, 1, "%")
	bad = fault.Float(bad, "RepeatSDPct", m.RepeatSDPct, 0, 5, "%")
	bad = fault.Float(bad, "GasSDPct", m.GasSDPct, 0, 5, "%")
	return fault.Input(bad)
}

func (c Calibration) check(bad []*FieldError, prefix string) []*FieldError {
	n := len(bad)
	bad = fault.Float(bad, "ZeroRawPct", c.ZeroRawPct, -2, 109.5, "%")
	bad = fault.Float(bad, "ZeroTruePct", c.ZeroTruePct, 0, 99.5, "%")
	k := len(bad)
	loRaw, loTrue := c.ZeroRawPct+0.5, c.ZeroTruePct+0.5
	if k > n {
		loRaw, loTrue = -1.5, 0.5
	}
	if bad = fault.Float(bad, "SpanRawPct", c.SpanRawPct, loRaw, 110, "%"); len(bad) > k {
		bad[k].Why = "at least 0.5 above the zero point"
	}
	k = len(bad)
	if bad = fault.Float(bad, "SpanTruePct", c.SpanTruePct, loTrue, 100, "%"); len(bad) > k {
		bad[k].Why = "at least 0.5 above the zero gas"
	}
	return fault.Under(prefix, bad, n)
}

// A Verdict is what a reading says about a bag.
type Verdict uint8

// The verdicts. The zero Verdict is none.
const (
	// Excellent: under the excellent limit with the margin asked for.
	Excellent Verdict = iota + 1

	// Acceptable: below the limit with the margin asked for.
	Acceptable

	// Undecided: the limit lies inside the uncertainty of the reading. Read
	// again, or calibrate the zero point.
	Undecided

	// TooMuch: above the limit with the margin asked for.
	TooMuch
)

// String is the verdict as one word or two.
func (v Verdict) String() string {
	switch v {
	case Excellent:
		return "excellent"
	case Acceptable:
		return "acceptable"
	case Undecided:
		return "undecided"
	case TooMuch:
		return "too much oxygen"
	}
	return "none"
}

// A Case is a reading to be judged against limits.
//
// The zero Case is refused: limits are chosen, if only as [ExcellentOxygenPct]
// and [LimitOxygenPct]. OxygenPct, UncertaintyPct and CoverageFactor are truly
// zero when zero; with the last one at zero the reading is taken as exact.
type Case struct {
	OxygenPct      float64 // oxygen, % by volume
	UncertaintyPct float64 // its standard uncertainty, % by volume
	CoverageFactor float64 // standard uncertainties kept as a margin, such as 2
	ExcellentPct   float64 // under it the bag is excellent, % by volume
	LimitPct       float64 // below it the bag is acceptable, % by volume
}

// JudgeOxygen gives the verdict on a reading, with the uncertainty held
// against the bag: it passes when reading and margin together are below the
// limit.
//
//	     OxygenPct       %  accepted −2 to 110
//	u    UncertaintyPct  %  accepted 0 to 10
//	k    CoverageFactor     accepted 0 to 5
//	     ExcellentPct    %  accepted 0.01 to 20
//	     LimitPct        %  accepted ExcellentPct to 20
//
//	y + k·u < excellent   Excellent
//	y + k·u < limit       Acceptable
//	y − k·u ≥ limit       TooMuch
//	else                  Undecided
//
// Source: JCGM 106:2012 (guarded acceptance); the limits are common practice.
func JudgeOxygen(c Case) (Verdict, error) {
	bad := fault.Float(nil, "OxygenPct", c.OxygenPct, -2, 110, "%")
	bad = fault.Float(bad, "UncertaintyPct", c.UncertaintyPct, 0, 10, "%")
	bad = fault.Float(bad, "CoverageFactor", c.CoverageFactor, 0, 5, "")
	n := len(bad)
	bad = fault.Float(bad, "ExcellentPct", c.ExcellentPct, 0.01, 20, "%")
	lo := 0.01
	if len(bad) == n {
		lo = c.ExcellentPct
	}
	n = len(bad)
	if bad = fault.Float(bad, "LimitPct", c.LimitPct, lo, 20, "%"); len(bad) > n {
		bad[n].Why = "not below the excellent limit"
	}
	if bad != nil {
		return 0, fault.Input(bad)
	}
	margin := c.CoverageFactor * c.UncertaintyPct
	switch {
	case c.OxygenPct+margin < c.ExcellentPct:
		return Excellent, nil
	case c.OxygenPct+margin < c.LimitPct:
		return Acceptable, nil
	case c.OxygenPct-margin >= c.LimitPct:
		return TooMuch, nil
	}
	return Undecided, nil
}

// A Draw is the taking of a gas sample through a needle.
//
// The zero Draw is refused. OxygenPct, LineML and AirPct are truly zero when
// zero.
type Draw struct {
	OxygenPct float64 // oxygen at the meter, corrected for its calibration, % by volume
	AirPct    float64 // oxygen of the air around, % by volume
	DrawML    float64 // gas that the pump draws, mL
	GiveML    float64 // gas that the bag gives before it resists and air leaks in, mL
	LineML    float64 // needle, tube and cell, full of air at the start, mL
}

// A Sample is a reading with the air taken out.
type Sample struct {
	OxygenPct float64 // oxygen of the bag, % by volume
	AirShare  float64 // share of outside air in what the meter saw, %
	Notes     Notes
}

// BagOxygen returns the oxygen of the bag from a sample that held some
// outside air: what the line held at the start, and what leaked in at the
// needle when the pump asked for more than the bag gives.
//
//	w = 1 − (1 − e^(−D/L))·min(1, G/D)
//	y = (r − w·a)/(1 − w)
//
//	r  OxygenPct  %   accepted −2 to 110
//	a  AirPct     %   accepted 0 to 100
//	D  DrawML     mL  accepted 0.1 to 10 000
//	G  GiveML     mL  accepted 0.1 to 1e6; for a limp bag the gas in it, for a rigid pack about a tenth
//	L  LineML     mL  accepted 0 to 10 000
//
// The line is taken as a stirred volume that the sample sweeps, the leak as
// even over the draw. More than a tenth of outside air carries [AirInSample]:
// the correction then rests on volumes nobody knows well; use a smaller draw.
// More than nine tenths is an [*ImpossibleError] of the draw, or of the line or
// of what the bag gives where no draw would do; of none where that takes more
// than one change.
//
// Source: mass balance; no published figures for needles were found.
func BagOxygen(d Draw) (Sample, error) {
	bad := fault.Float(nil, "OxygenPct", d.OxygenPct, -2, 110, "%")
	bad = fault.Float(bad, "AirPct", d.AirPct, 0, 100, "%")
	bad = fault.Float(bad, "DrawML", d.DrawML, 0.1, 10_000, "mL")
	bad = fault.Float(bad, "GiveML", d.GiveML, 0.1, 1e6, "mL")
	bad = fault.Float(bad, "LineML", d.LineML, 0, 10_000, "mL")
	if bad != nil {
		return Sample{}, fault.Input(bad)
	}
	bag := bagShare(d.DrawML, d.GiveML, d.LineML)
	if !(bag >= 0.1) {
		// Beyond what the bag gives a draw takes more air in, below it less of the line's.
		return Sample{}, opened(&ImpossibleError{Quantity: "oxygen of the bag", Why: "more than nine tenths of the sample is outside air"},
			way{"DrawML", "mL", d.DrawML, 0.1, 10_000, math.Min(d.GiveML, 10_000), func(ml float64) bool { return bagShare(ml, d.GiveML, d.LineML) >= 0.1 }},
			way{"LineML", "mL", d.LineML, 0, 10_000, 0, func(ml float64) bool { return bagShare(d.DrawML, d.GiveML, ml) >= 0.1 }},
			way{"GiveML", "mL", d.GiveML, 0.1, 1e6, 1e6, func(ml float64) bool { return bagShare(d.DrawML, ml, d.LineML) >= 0.1 }})
	}
	s := Sample{OxygenPct: (d.OxygenPct - (1-bag)*d.AirPct) / bag, AirShare: 100 * (1 - bag)}
	if s.AirShare > 10 {
		s.Notes |= AirInSample
	}
	if s.OxygenPct < 0 {
		s.Notes |= BelowZero
	}
	return s, nil
}

// bagShare is the share of the bag's own gas in a sample, 1 − w.
func bagShare(drawML, giveML, lineML float64) float64 {
	share := math.Min(1, giveML/drawML)
	if lineML > 0 {
		share *= -math.Expm1(-drawML / lineML)
	}
	return share
}
