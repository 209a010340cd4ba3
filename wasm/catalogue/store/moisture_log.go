package store

import (
	"errors"
	"math"
	"strconv"

	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func storeLog() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "store-log",
		Place:    catalogue.GreenStore,
		Order:    16,
		Name:     "A logger's record",
		Question: "What did the store's climate do to the coffee over this record?",
		Keywords: "data logger history time in band excursion mould risk csv",
		Fields: []catalogue.Field{
			{ID: "log", Label: "Record", Kind: catalogue.Series, GoField: "Rows",
				Columns: []catalogue.Column{
					{ID: "h", Label: "Hours", Unit: "h", Min: 0, Max: 1e6},
					{ID: "t", Label: "Temperature", Unit: "°C", Min: -100, Max: 200, Optional: true},
					{ID: "rh", Label: "Humidity", Unit: "%", Min: 0, Max: 1000, Optional: true}},
				Example: "0 17.8 57\n6 17.5 61\n12 18.4 66\n18 18.9 70\n24 18.3 66\n30 17.9 62\n36 17.7 59\n42 18.2 58\n48 18.0 57",
				Help:    "One reading a line: hours since any moment, °C, percent. Leave a cell empty where the logger failed; paste a file or choose one"},
			number("lt", "Lowest temperature", "", "°C", moisture.AirMinC, moisture.AirMaxC, "12", 0, "LowC", "Of the band that you keep, like 12"),
			number("ht", "Highest temperature", "", "°C", moisture.AirMinC, moisture.AirMaxC, "20", 0, "HighC", "Of the band that you keep, like 20"),
			number("lr", "Lowest humidity", "", "%", 0, 100, "50", 0, "LowRHPct", "Of the band that you keep, like 50"),
			number("hr", "Highest humidity", "", "%", 1, 100, "62", 0, "HighRHPct", "Of the band that you keep, like 62"),
			number("gap", "Longest pause that counts", "", "h", 0.001, 8784, "12", 0, "MaxGapSeconds", "A longer one is a gap and counts nowhere, like 12"),
		},
		Outputs: []catalogue.Output{
			{ID: "in", Label: "Time in the band", Unit: "%"},
			{ID: "risk", Label: "Air at or above 68 %, where mould may grow", Unit: "h"},
			{ID: "longest", Label: "Longest stretch of it", Unit: "h"},
			{ID: "m", Label: "Moisture that the room led to", Symbol: "M", Unit: "%"},
			{ID: "t", Label: "Mean temperature", Unit: "°C"},
			{ID: "rh", Label: "Mean humidity", Unit: "%"},
			{ID: "worst", Label: "Farthest outside the band, humidity", Unit: "%"},
			{ID: "used", Label: "Time that counts", Unit: "h"},
			{ID: "lost", Label: "Time in gaps", Unit: "h"},
		},
		Limits: []catalogue.Limit{
			{Output: "risk", Lo: nan, Hi: 0, Source: growth, Caution: mouldCaution},
			{Output: "m", Lo: moisture.SpecialtyMinMoisturePct, Hi: moisture.SpecialtyMaxMoisturePct, Source: greenStandard, Caution: mouldCaution},
		},
		Compute:  computeLog,
		Cautions: []string{"A mean inside the band says nothing about the weeks outside it. " + mouldCaution},
		Sources:  []catalogue.Source{roaPaper, growth},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "equilibrium moisture"}, {Package: "moisture", Quantity: "activity below which nothing grows"}},
	}
}

func computeLog(in *catalogue.In, out *catalogue.Out) error {
	cols := in.Columns("log")
	rows := make([]moisture.LogReading, len(cols[0]))
	for i := range rows {
		rows[i] = moisture.LogReading{UnixSeconds: int64(math.Round(cols[0][i] * 3600)), TempC: cols[1][i], RHPct: cols[2][i]}
	}
	for i, h := range cols[0] {
		if i > 0 && rows[i].UnixSeconds <= rows[i-1].UnixSeconds {
			return &moisture.InputError{Fields: []*moisture.FieldError{{Field: "rows[" + strconv.Itoa(i) + "].Hours", Given: catalogue.Shortest(h),
				Min: cols[0][i-1], Max: 1e6, Unit: "h", Why: "times rise from row to row"}}}
		}
	}
	limits := moisture.LogLimits{LowC: in.F("lt"), HighC: in.F("ht"), LowRHPct: in.F("lr"), HighRHPct: in.F("hr"),
		RiskAw: moisture.GrowthLimitAw, MaxGapSeconds: int64(math.Ceil(in.F("gap") * 3600))}
	log, err := moisture.SummariseLog(moisture.ParchmentArabica(), limits, rows)
	if err != nil {
		if none, ok := errors.AsType[*moisture.ImpossibleError](err); ok && none.Field == "MaxGapSeconds" { // the form asks for hours
			none.Min, none.Max, none.Unit = none.Min/3600, none.Max/3600, "h"
		}
		return err
	}
	used := float64(log.UsedSeconds)
	out.Set("in", 100*log.InBandSeconds/used)
	out.Set("risk", log.RiskSeconds/3600)
	out.Set("longest", log.LongestRiskSeconds/3600)
	e, err := moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: log.MeanTempC, RHPct: log.MeanRHPct})
	if err != nil {
		return err
	}
	out.SetU("m", log.MoisturePct, e.SEPct, "the curve itself")
	out.Set("t", log.MeanTempC)
	out.Set("rh", log.MeanRHPct)
	out.Set("worst", log.WorstByPct)
	out.Set("used", used/3600)
	out.Set("lost", float64(log.GapSeconds)/3600)
	if !out.Full() {
		return nil
	}
	h := func(s float64) string { return catalogue.Num(s/3600, 4) + " h" }
	out.Work("p = 100*T_in/T", "p", pct(100*log.InBandSeconds/used, 3), "T_in", h(log.InBandSeconds), "T", h(used))
	if log.WorstIndex >= 0 {
		w := rows[log.WorstIndex]
		out.Note("The worst reading was {}, at hour {} of the record: {} outside the band.", pct(w.RHPct, 3), catalogue.Shortest(math.Round(cols[0][log.WorstIndex]*100)/100), pct(log.WorstByPct, 3))
	}
	if log.MissingCount > 0 {
		out.Note("{} rows had no usable reading.", catalogue.Shortest(float64(log.MissingCount)))
	}
	out.Note("Each reading stands for half of the time to its neighbours. The beans follow the room with the time constant of their sacks: a damp day is less than it seems, a damp month is not.")
	say(out, log.Notes)
	// A picture of at most 400 points: of each bundle of rows the dampest.
	const most = 400
	step := max((len(rows)+most-1)/most, 1)
	var x, y []float64
	for i := 0; i < len(rows); i += step {
		top := -1
		for k := i; k < min(i+step, len(rows)); k++ {
			if rh := rows[k].RHPct; rh >= moisture.MinRHPct && rh <= moisture.MaxRHPct && (top < 0 || rh > rows[top].RHPct) {
				top = k
			}
		}
		if top >= 0 {
			x, y = append(x, cols[0][top]), append(y, rows[top].RHPct)
		}
	}
	first, last := cols[0][0], cols[0][len(rows)-1]
	out.Figure(figure.Plot{
		Title: "Humidity over the record",
		Desc:  out.Say("Relative humidity from {} to {} over {} hours; {} of the time in the band.", pct(log.MinRHPct, 3), pct(log.MaxRHPct, 3), catalogue.Num(last-first, 4), pct(100*log.InBandSeconds/used, 3)),
		X:     figure.Axis{Label: "Time", Unit: "h"},
		Y:     figure.Axis{Label: "Relative humidity", Unit: "%"},
		Bands: []figure.Band{{Name: "band", X: []float64{first, last}, Lo: []float64{limits.LowRHPct, limits.LowRHPct}, Hi: []float64{limits.HighRHPct, limits.HighRHPct}}},
		Lines: []figure.Line{{Name: "humidity", X: x, Y: y}},
		Marks: []figure.Mark{{Name: "mould risk", At: 100 * moisture.GrowthLimitAw}},
	})
	return nil
}
