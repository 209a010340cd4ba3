package store

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/evenlot/internal/published"
	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// Each calculator's example, beside the package called by hand.
func TestMoistureExamplesByHand(t *testing.T) {
	sheets := map[string]catalogue.Sheet{}
	for _, c := range slices.Concat(Green(), Meters(), Roast()) {
		sheets[c.ID] = c.Eval(c.Example(), nil)
	}
	value := func(id, output string) float64 {
		for _, v := range sheets[id].Values {
			if v.ID == output {
				return v.Number
			}
		}
		t.Errorf("%s has no %s: %s %v", id, output, sheets[id].Problem, sheets[id].Faults)
		return math.NaN()
	}
	want := func(id, output string, v float64, err error) {
		t.Helper()
		if got := value(id, output); err != nil || !(math.Abs(got-v) <= 1e-9*math.Max(1, math.Abs(v))) {
			t.Errorf("%s: %s is %v, by hand %v, %v", id, output, got, v, err)
		}
	}
	f := func(d decimal.Decimal) float64 { return d.InexactFloat64() }
	curve := moisture.ParchmentArabica()

	x, err := moisture.DryBasis(12)
	want("moisture-basis", "x", x, err)
	m1, err := moisture.LossOnDrying(moisture.Dish{TareG: dec("21.3456"), BeforeG: dec("31.3462"), AfterG: dec("30.2241")})
	want("oven-moisture", "m1", f(m1.Round(2)), err)
	m2, err := moisture.LossOnDrying(moisture.Dish{TareG: dec("20.9871"), BeforeG: dec("30.9925"), AfterG: dec("29.8648")})
	want("oven-moisture", "m2", f(m2.Round(2)), err)
	want("oven-moisture", "m", f(m1.Add(m2).Mul(dec("0.5")).Round(2)), nil)
	want("oven-moisture", "apart", f(m1.Sub(m2).Abs().Round(3)), nil)
	// scipy 1.10.1: the same pairs as in the tests of package moisture.
	if got := value("moisture-meter", "o"); math.Abs(got-11.540578195750612) > 1e-9 {
		t.Errorf("the corrected reading is %v", got)
	}
	if got := value("moisture-meter", "slope"); math.Abs(got-1.036746778126088) > 1e-9 {
		t.Errorf("the slope is %v", got)
	}
	d, err := moisture.SackMass(moisture.Drift{MassKg: dec("60.00"), MoisturePct: dec("11.0"), ToMoisturePct: dec("11.7")})
	want("sack-drift", "m2", f(d.MassKg), err)
	want("sack-drift", "water", f(d.WaterKg), err)
	w, err := moisture.MoistureByWeight(moisture.WeighBack{MassKg: dec("60.00"), MoisturePct: dec("10.8"), ToMassKg: dec("60.42")})
	want("weigh-back", "w2", f(w), err)
	want("lot-of-sacks", "m", 60.2+59.8+60.1+60.0+59.7+31.5, nil)
	want("lot-of-sacks", "wettest", 12.6, nil)
	want("lot-of-sacks", "n", 6, nil)
	a, err := moisture.WaterActivity(curve, moisture.Bean{MoisturePct: 12, TempC: 20})
	want("green-activity", "a", a.Aw, err)
	own, err := moisture.FitIsotherm(moisture.FormGAB, []moisture.IsothermPair{{Aw: 0.35, MoisturePct: 8.1, TempC: 5}, {Aw: 0.45, MoisturePct: 9.2, TempC: 5}, {Aw: 0.55, MoisturePct: 10.3, TempC: 5},
		{Aw: 0.62, MoisturePct: 11.2, TempC: 5}, {Aw: 0.70, MoisturePct: 12.5, TempC: 5}, {Aw: 0.78, MoisturePct: 14.3, TempC: 5}})
	want("own-isotherm", "p0", own.Curve.P[0], err)
	a, err = moisture.WaterActivity(own.Curve, moisture.Bean{MoisturePct: 11.8, TempC: 5})
	want("own-isotherm", "a", a.Aw, err)
	c, err := moisture.CarryActivity(moisture.SealedSample{Aw: 0.67, MoisturePct: 11.8, FromC: 25, ToC: 15})
	want("activity-temperature", "a2", c.Aw, err)
	p, err := moisture.PressureAtAltitude(100)
	if err != nil {
		t.Fatal(err)
	}
	air, err := moisture.AirProperties(moisture.MoistAir{TempC: 18, RHPct: 58, PressureKPa: p})
	want("store-air", "dew", air.DewC, err)
	want("store-air", "w", air.RatioGPerKg, err)
	rh, err := moisture.HumidityFromWetBulb(moisture.Psychrometer{TempC: 18, WetBulbC: 13.2, PressureKPa: p})
	want("wet-bulb", "rh", rh, err)
	e, err := moisture.EquilibriumMoisture(curve, moisture.Air{TempC: 18, RHPct: 60})
	want("store-drift", "e", e.MoisturePct, err)
	m, err := moisture.DriftAfter(moisture.Stay{MoisturePct: 10.2, EquilibriumPct: e.MoisturePct, TimeConstantDays: 45}, 30)
	want("store-drift", "m1", m, err)
	fit, err := moisture.FitDrift([]moisture.StoreReading{{Days: 0, MoisturePct: 10.20}, {Days: 14, MoisturePct: 10.47}, {Days: 28, MoisturePct: 10.66}, {Days: 42, MoisturePct: 10.80}, {Days: 56, MoisturePct: 10.93}}, 11.2)
	want("drift-rate", "tau", fit.TimeConstantDays, err)
	room, err := moisture.WaterForRoom(moisture.RoomChange{VolumeM3: 300, PressureKPa: p, From: moisture.Air{TempC: 20, RHPct: 72},
		To: moisture.Air{TempC: 18, RHPct: 58}, Outside: moisture.Air{TempC: 16, RHPct: 85}, ChangesPerHour: 0.5})
	want("room-water", "once", -room.OnceG/1000, err)
	want("room-water", "hour", -room.PerHourG/1000, err)
	sweat, err := moisture.SackSweat(moisture.ColdSack{SurfaceC: 9, Room: moisture.Air{TempC: 18, RHPct: 58}, MarginK: 3})
	want("cold-sack", "above", sweat.AboveK, err)
	want("cold-sack", "warm", sweat.WarmToC, err)
	want("store-log", "used", 48, nil)
	want("store-log", "risk", 6, nil)        // half of the time to each neighbour of 70 %
	want("store-log", "in", 100*30./48, nil) // 57, 61, 62, 59, 58, 57 %: 3+6+6+6+6+3 h
	salt, err := moisture.StandardSalt(moisture.MagnesiumNitrate, 22)
	want("salt-check", "el", 55.1-salt.RHPct, err)
	loss, err := moisture.RoastLoss(moisture.Roast{GreenKg: dec("12.00"), RoastedKg: dec("10.20"), GreenMoisturePct: dec("11.0"), RoastedMoisturePct: dec("2.0")})
	want("roast-loss", "dry", f(loss.DryMatterPct), err)
	want("roast-loss", "water", f(loss.WaterPct), err)
	charge, err := moisture.GreenForRoasted(moisture.RoastPlan{RoastedKg: dec("20"), LossPct: dec("15.5"), OverfillPct: dec("0.4"), HeldBackKg: dec("0.300"), GreenSampleKg: dec("0.350")})
	want("green-to-weigh", "g", f(charge.GreenKg), err)
	l, err := moisture.ExpectedLoss(moisture.RoastAim{GreenMoisturePct: dec("12.0"), RoastedMoisturePct: dec("2.0"), DryMatterLossPct: dec("6.9")})
	want("expected-loss", "l", f(l), err)

	sum := 10.16 + 10.14 + 10.17 + 10.13 + 10.15 + 10.16 + 10.13 + 10.15 + 10.16 + 10.14 + 10.15 + 10.04
	want("roast-series", "mean", 100*(1-sum/144), nil)
	want("roast-series", "apart", 1, nil) // the last
	// Moving ranges in hundredths of a kilogram: 2, 3, 4, 2, 1, 3, 2, 1, 2, 1, 11.
	want("roast-series", "sigma", 32./11/100/12*100/1.1283791670955126, nil)

	for id, s := range sheets {
		if len(s.Figures) == 0 {
			t.Errorf("%s draws no picture", id)
		}
	}
}

// Every check that a calculator names has rows in the package's table.
func TestChecksHaveRows(t *testing.T) {
	rows, err := published.Read("../../../moisture/testdata/published.csv")
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	for _, r := range rows {
		have[r.Quantity] = true
	}
	for _, c := range slices.Concat(Green(), Meters(), Roast()) {
		if len(c.Checks) == 0 {
			t.Errorf("%s names no check", c.ID)
		}
		for _, k := range c.Checks {
			if k.Package == "moisture" && !have[k.Quantity] {
				t.Errorf("%s: no row has the quantity %q", c.ID, k.Quantity)
			}
		}
	}
}

// The propagated uncertainty of a roast's loss is that of the formula package.
func TestRoastLossUncertainty(t *testing.T) {
	s := roastLoss().Eval(roastLoss().Example(), nil)
	third := func(pm, half float64) float64 { return math.Hypot(pm, half) / math.Sqrt(3) }
	se, err := moisture.RoastLossSE(
		moisture.RoastReadings{GreenKg: 12, RoastedKg: 10.2, GreenMoisturePct: 11, RoastedMoisturePct: 2},
		moisture.RoastReadings{GreenKg: third(0, 0.005), RoastedKg: third(0, 0.005), GreenMoisturePct: third(0.3, 0.05), RoastedMoisturePct: third(0.2, 0.05)})
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range s.Values {
		var want float64
		switch v.ID {
		case "dry":
			want = se.DryMatterPct
		case "total":
			want = se.TotalPct
		case "water":
			want = se.WaterPct
		case "organic":
			want = se.OrganicPct
		default:
			continue
		}
		if !(math.Abs(v.U-want) <= 1e-4*want) {
			t.Errorf("%s is known to %v, by the formula %v", v.ID, v.U, want)
		}
	}
}

// A pair of the lot's own readings draws the curve through itself, and half a
// pair is told.
func TestActivityAnchored(t *testing.T) {
	c := greenActivity()
	s := c.Example()
	s["m"], s["t"], s["a0"], s["m0"], s["t0"] = "10.4", "22", "0.56", "10.4", "22"
	sheet := c.Eval(s, nil)
	if len(sheet.Values) == 0 || math.Abs(sheet.Values[0].Number-0.56) > 1e-9 {
		t.Errorf("through its own pair: %+v", sheet)
	}
	delete(s, "m0")
	sheet = c.Eval(s, nil)
	if len(sheet.Values) == 0 || math.Abs(sheet.Values[0].Number-0.56) < 1e-3 || !strings.Contains(strings.Join(sheet.Notes, " "), "not complete") {
		t.Errorf("half a pair: %+v", sheet.Notes)
	}
}

// A fortnight at one reading a minute, with a hole in it, becomes one sheet.
func TestStoreLogOfAFortnight(t *testing.T) {
	n := 20_000
	var b strings.Builder
	b.WriteString("hours;t;rh\n")
	for i := range n {
		h := float64(i) / 60
		if i >= n/2 {
			h += 100
		}
		b.WriteString(catalogue.Shortest(math.Round(h*1e4) / 1e4))
		b.WriteString(";18;58\n")
	}
	c := storeLog()
	s := c.Example()
	s["log"] = b.String()
	sheet := c.Eval(s, nil)
	if len(sheet.Values) == 0 || sheet.Rows[0].Good != n {
		t.Fatalf("%v %q", sheet.Faults, sheet.Problem)
	}
	for _, v := range sheet.Values {
		if v.ID == "in" && v.Number != 100 || v.ID == "lost" && math.Abs(v.Number-100-1.0/60) > 1e-3 {
			t.Errorf("%s is %v", v.ID, v.Number)
		}
	}
}

// The meter's plus-minus is in the lot's moisture and in the wettest sack's; left
// out, the readings stand as they are.
func TestSacksByTheirMeter(t *testing.T) {
	c := lotOfSacks()
	word := func(pm string) (lot string, u float64) {
		state := c.Example()
		state["sacks"], state["pm"] = "60 12.0\n60 12.0\n60 11.95", pm
		s := c.Eval(state, nil)
		if len(s.Verdicts) != 2 {
			t.Fatalf("%q: %+v", pm, s)
		}
		return s.Verdicts[0].Word, s.Values[0].U
	}
	if w, u := word("0.3"); w != "too close to call" || math.Abs(u-0.3/math.Sqrt(3)) > 1e-12 {
		t.Errorf("a meter of 0.3: %s, u %v", w, u)
	}
	if w, u := word(""); w != "in" || u != 0 {
		t.Errorf("no meter: %s, u %v", w, u)
	}
}
