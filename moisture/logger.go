package moisture

import (
	"math"
	"strconv"

	"example.org/evenlot/internal/fault"
)

// LogReading is one row of a store logger. A row whose temperature or humidity
// is NaN or outside the accepted ranges is a missing reading, not a zero.
type LogReading struct {
	UnixSeconds int64   // time, seconds since 1970
	TempC       float64 // temperature, °C
	RHPct       float64 // relative humidity, %
}

// LogLimits is what a store's log is held against. The zero LogLimits is
// refused.
type LogLimits struct {
	LowC          float64 // least temperature of the band, °C
	HighC         float64 // greatest temperature of the band, °C
	LowRHPct      float64 // least humidity of the band, %
	HighRHPct     float64 // greatest humidity of the band, %
	RiskAw        float64 // activity from which time is counted as a mould risk, such as GrowthLimitAw
	MaxGapSeconds int64   // a longer pause between usable readings is a gap
}

// StoreLog is what SummariseLog found. Times are seconds.
type StoreLog struct {
	ReadingsCount      int // rows read
	MissingCount       int // rows without a usable reading
	GapsCount          int // pauses longer than the limit
	UsedSeconds        int64
	GapSeconds         int64
	InBandSeconds      float64
	RiskSeconds        float64 // time at or above RiskAw
	LongestRiskSeconds float64 // longest unbroken part of it
	MeanTempC          float64 // weighted by time
	MeanRHPct          float64 // weighted by time
	MoisturePct        float64 // equilibrium content, weighted by time, % wet basis
	MinTempC, MaxTempC float64
	MinRHPct, MaxRHPct float64
	WorstIndex         int     // row farthest above or below the humidity band; -1 when none left it
	WorstByPct         float64 // how far, % of relative humidity
	Notes              Notes   // what to tell the reader beside the numbers
}

// SummariseLog reads a logger's series once, without allocation, and returns
// what it did to the coffee in the room.
//
//	each usable reading stands for half of the time to its neighbours;
//	a pause above MaxGapSeconds stands for nothing
//	mean = Σ xᵢ·Δtᵢ / Σ Δtᵢ
//	a    = φ/100, the activity that the air leads the beans to
//	M    = curve(a, t), see [EquilibriumMoisture]
//
//	t  LogReading.TempC            °C  accepted 0 to 70, else missing
//	φ  LogReading.RHPct            %   accepted 1 to 100 (to 99 for a fitted curve), else missing
//	LogLimits: temperatures −40 to 80 °C, low below high; humidities 0 to
//	100 %, low below high; RiskAw 0.3 to 1; MaxGapSeconds 1 to 31 622 400
//
// Times must rise from row to row, and at least two usable readings must lie
// within a gap's length of each other: else it returns the zero StoreLog and
// an [*InputError] or an [*ImpossibleError], which names the shortest pause that
// there is where a limit of that length is accepted. Rows left out and gaps
// carry [Gaps].
//
// The activity inside a sack follows the room with the lag of [FitDrift], so a
// damp day is less than it seems, and a damp month is not. A mean inside the
// band says nothing about the weeks outside it: read the times.
//
// Source: definition, weighting by time; the curve's own for the content.
func SummariseLog(curve Isotherm, limits LogLimits, rows []LogReading) (StoreLog, error) {
	bad := curve.refuse(nil)
	bad = limits.refuse(bad)
	bad = fault.Int(bad, "rows", len(rows), 2, 1<<31-1, "")
	if err := fault.Input(bad); err != nil {
		return StoreLog{}, err
	}
	log := StoreLog{ReadingsCount: len(rows), WorstIndex: -1}
	var (
		topPct   = 100 * curve.Form.topAw()
		riskPct  = percentOf(limits.RiskAw)
		prev     LogReading // last usable row
		have     bool
		prevM    float64
		prevIn   bool
		prevRisk bool
		run      float64 // seconds of the present stretch at risk
		sumT     float64
		sumRH    float64
		sumM     float64
		lastAt   int64
		shortest int64 // of the gaps, s
	)
	for i := range rows {
		r := rows[i]
		if i > 0 && r.UnixSeconds <= lastAt {
			return StoreLog{}, &InputError{Fields: []*FieldError{{Field: "rows[" + strconv.Itoa(i) + "].UnixSeconds",
				Given: strconv.FormatInt(r.UnixSeconds, 10), Min: float64(lastAt) + 1, Max: maxUnixSeconds, Unit: "s",
				Why: "times rise from row to row"}}}
		}
		if r.UnixSeconds < -maxUnixSeconds || r.UnixSeconds > maxUnixSeconds {
			return StoreLog{}, &InputError{Fields: []*FieldError{{Field: "rows[" + strconv.Itoa(i) + "].UnixSeconds",
				Given: strconv.FormatInt(r.UnixSeconds, 10), Min: -maxUnixSeconds, Max: maxUnixSeconds, Unit: "s",
				Why: "seconds, not milliseconds"}}}
		}
		lastAt = r.UnixSeconds
		if !(r.TempC >= BeanMinC && r.TempC <= BeanMaxC && r.RHPct >= MinRHPct && r.RHPct <= topPct) {
			log.MissingCount++
			continue
		}
		x := curve.dry(r.RHPct/100, r.TempC)
		if !(x > 0 && x <= MaxDryMoisturePct) {
			return StoreLog{}, brokenCurve(x)
		}
		m := wetFromDry(x)
		in := r.TempC >= limits.LowC && r.TempC <= limits.HighC && r.RHPct >= limits.LowRHPct && r.RHPct <= limits.HighRHPct
		risk := r.RHPct >= riskPct
		if by := max(r.RHPct-limits.HighRHPct, limits.LowRHPct-r.RHPct); by > log.WorstByPct {
			log.WorstByPct, log.WorstIndex = by, i
		}
		if !have {
			have = true
			log.MinTempC, log.MaxTempC, log.MinRHPct, log.MaxRHPct = r.TempC, r.TempC, r.RHPct, r.RHPct
		} else {
			log.MinTempC, log.MaxTempC = min(log.MinTempC, r.TempC), max(log.MaxTempC, r.TempC)
			log.MinRHPct, log.MaxRHPct = min(log.MinRHPct, r.RHPct), max(log.MaxRHPct, r.RHPct)
			dt := r.UnixSeconds - prev.UnixSeconds
			if dt > limits.MaxGapSeconds {
				if log.GapsCount == 0 || dt < shortest {
					shortest = dt
				}
				log.GapsCount++
				log.GapSeconds += dt
				run = 0
			} else {
				log.UsedSeconds += dt
				half := float64(dt) / 2
				sumT += half * (prev.TempC + r.TempC)
				sumRH += half * (prev.RHPct + r.RHPct)
				sumM += half * (prevM + m)
				if prevIn {
					log.InBandSeconds += half
				}
				if in {
					log.InBandSeconds += half
				}
				if prevRisk {
					run += half
					log.RiskSeconds += half
				} else {
					run = 0
				}
				if risk {
					run += half
					log.RiskSeconds += half
				}
				log.LongestRiskSeconds = max(log.LongestRiskSeconds, run)
			}
		}
		prev, prevM, prevIn, prevRisk = r, m, in, risk
	}
	if log.UsedSeconds == 0 {
		none := &ImpossibleError{Quantity: "summary", Why: "no two usable readings lie within a gap's length of each other"}
		if log.GapsCount > 0 && shortest <= maxGapSeconds { // else no limit helps
			none.Field, none.Given = "MaxGapSeconds", strconv.FormatInt(limits.MaxGapSeconds, 10)
			none.Min, none.Max, none.Unit = float64(shortest), maxGapSeconds, "s"
		}
		return StoreLog{}, none
	}
	used := float64(log.UsedSeconds)
	log.MeanTempC, log.MeanRHPct, log.MoisturePct = sumT/used, sumRH/used, sumM/used
	log.Notes = curve.notes(log.MeanRHPct/100, log.MeanTempC)
	if log.MissingCount > 0 || log.GapsCount > 0 {
		log.Notes |= Gaps
	}
	if log.MaxRHPct >= 100*GrowthLimitAw {
		log.Notes |= MayGrowMould
	}
	return log, nil
}

const (
	maxUnixSeconds = 1e11     // some three thousand years: milliseconds fall outside
	maxGapSeconds  = 31622400 // 366 days, s
)

// percentOf is 100·share. Where that is a decimal of nine places but for its
// rounding, it is the float of that decimal: 0.55 is 55 %, not the next above.
func percentOf(share float64) float64 {
	pct := 100 * share
	if near := math.Round(1e9*pct) / 1e9; math.Abs(near-pct) <= 0x1p-51*pct {
		return near
	}
	return pct
}

func (l LogLimits) refuse(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "LowC", l.LowC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "HighC", l.HighC, within(l.LowC, AirMinC, AirMaxC), AirMaxC, "°C")
	bad = fault.Float(bad, "LowRHPct", l.LowRHPct, 0, 100, "%")
	bad = fault.Float(bad, "HighRHPct", l.HighRHPct, math.Max(within(l.LowRHPct, 0, 100), 1), 100, "%")
	bad = fault.Float(bad, "RiskAw", l.RiskAw, 0.3, MaxAw, "")
	if l.MaxGapSeconds < 1 || l.MaxGapSeconds > maxGapSeconds {
		bad = append(bad, &FieldError{Field: "MaxGapSeconds", Given: strconv.FormatInt(l.MaxGapSeconds, 10), Min: 1, Max: maxGapSeconds, Unit: "s"})
	}
	return bad
}
