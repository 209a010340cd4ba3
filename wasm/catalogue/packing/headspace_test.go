package packing

import (
	"math"
	"strings"
	"testing"

	"example.org/evenlot/checkpoint/sampling"
	"example.org/evenlot/headspace"
	"example.org/evenlot/internal/published"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

func example(t *testing.T, id string, set ...string) catalogue.Sheet {
	t.Helper()
	for _, c := range Calculators() {
		if c.ID != id {
			continue
		}
		s := c.Example()
		for i := 0; i+1 < len(set); i += 2 {
			if set[i+1] == "" {
				delete(s, set[i])
				continue
			}
			s[set[i]] = set[i+1]
		}
		return c.Eval(s, nil)
	}
	t.Fatalf("there is no %s", id)
	return catalogue.Sheet{}
}

func value(t *testing.T, s catalogue.Sheet, output string) float64 {
	t.Helper()
	for _, v := range s.Values {
		if v.ID == output {
			return v.Number
		}
	}
	t.Errorf("%s has no %s: %q %v", s.Calc, output, s.Problem, s.Faults)
	return math.NaN()
}

// Each calculator's example, beside the package called by hand.
func TestExamplesByHand(t *testing.T) {
	want := func(id, output string, v float64, err error) {
		t.Helper()
		if got := value(t, example(t, id), output); err != nil || !(math.Abs(got-v) <= 1e-9*math.Max(1, math.Abs(v))) {
			t.Errorf("%s: %s is %v, by hand %v, %v", id, output, got, v, err)
		}
	}
	free, err := headspace.FreeVolume(headspace.Fill{BagML: 1200, CoffeeG: 340, BeanGPerML: 0.8})
	want("bag-headspace", "v", free.FreeML, err)
	want("bag-headspace", "void", 100*(1-0.37/0.80), nil)
	want("bag-headspace", "pores", 340/0.8*0.34, nil)
	v, err := headspace.WaterFilled(headspace.WaterFill{EmptyG: 14, FilledG: 1212, TempC: 22})
	want("bag-volume", "v", v, err)
	p, err := headspace.PillowBag(headspace.Pillow{WidthMM: 130, HeightMM: 200})
	want("pillow-bag", "v", p.BagML, err)
	want("pillow-bag", "high", p.HighML, err)
	d, err := headspace.BeanDensity(headspace.Displacement{BeansG: 100, VesselG: 612.4, TogetherG: 583.1, MediumGPerML: 0.998})
	want("bean-density", "rho", d.BeanGPerML, err)

	pu := headspace.Purge{StartPct: 20.9, SupplyPct: 0.1, FreeML: 775, GasML: 2000}
	y, err := headspace.AfterSweep(pu)
	want("flush-oxygen", "sweep", y.OxygenPct, err)
	y, err = headspace.AfterPiston(pu)
	want("flush-oxygen", "piston", y.OxygenPct, err)
	y, err = headspace.AfterNozzle(headspace.Nozzle{StartPct: 20.9, SupplyPct: 0.1, FreeML: 775, GasML: 2000, NozzlePct: 10})
	want("flush-oxygen", "o2", y.OxygenPct, err)
	y, err = headspace.AfterFlushes(headspace.Flushes{StartPct: 20.9, SupplyPct: 0.1, FreeML: 775, FlushML: 500, Count: 4})
	want("flush-oxygen", "shots", y.OxygenPct, err)
	n, err := headspace.NozzleFor(headspace.NozzleTarget{StartPct: 20.9, SupplyPct: 0.1, FreeML: 775, TargetPct: 1, NozzlePct: 10})
	want("flush-target", "gas", n.GasML, err)
	want("flush-target", "s", n.GasML/20_000*60, err)
	k, err := headspace.FlushesFor(headspace.FlushTarget{StartPct: 20.9, SupplyPct: 0.1, FreeML: 775, TargetPct: 1, FlushML: 500})
	want("flush-target", "n", float64(k.Count), err)
	c, err := headspace.AfterCycles(headspace.Cycles{StartPct: 20.9, SupplyPct: 0.1, FreeML: 775, LowKPa: 10, HighKPa: 101.3, TempC: 20, Count: 2})
	want("vacuum-fill", "o2", c.OxygenPct, err)
	want("vacuum-fill", "gas", c.SupplyML, err)
	vac, err := headspace.VacuumFor(headspace.VacuumTarget{StartPct: 20.9, SupplyPct: 0.1, TargetPct: 1, HighKPa: 101.3, Count: 2})
	want("vacuum-fill", "deep", vac.LowKPa, err)
	want("vacuum-fill", "need", 2, nil)
	nitrogen := headspace.Mix{OxygenPct: 0.1, NitrogenPct: 99.9}
	o, err := headspace.AfterSteps(headspace.Space{FreeML: 775, TempC: 20, KPa: 101.3, Mix: headspace.Mix{OxygenPct: 20.9}}, []headspace.Step{
		{Kind: headspace.VentStep, ToKPa: 30}, {Kind: headspace.FillStep, Supply: nitrogen, ToKPa: 101.3}, {Kind: headspace.SweepStep, Supply: nitrogen, GasML: 800}})
	want("purge-sequence", "o2", o.Mix.OxygenPct, err)
	want("purge-sequence", "gas", 775*(101.3-30)/101.3+800, nil)

	p100, err := headspace.Pressure(100)
	if err != nil {
		t.Fatal(err)
	}
	air, err := headspace.AirOxygen(headspace.RoomAir{TempC: 22, RHPct: 50, KPa: p100})
	want("oxygen-reading", "span", air, err)
	// Half way between the two calibrations, then the outside air taken out.
	at := func(z, s float64) float64 { return air * (1.3 - z) / (s - z) }
	cell := (at(0.1, 20.4) + at(0.2, 20.2)) / 2
	want("oxygen-reading", "cell", cell, nil)
	w := math.Exp(-20. / 4)
	want("oxygen-reading", "y", (cell-w*air)/(1-w), nil)
	want("oxygen-reading", "drift", at(0.2, 20.2)-at(0.1, 20.4), nil)
	air, err = headspace.AirOxygen(headspace.RoomAir{TempC: 25, RHPct: 50, KPa: p100})
	want("air-oxygen", "x", air, err)

	otr, err := headspace.LaminateOTR([]float64{105, 8000})
	want("film-layers", "otr", otr, err)
	dose, err := headspace.OxygenDose(headspace.Dose{FreeML: 775, OxygenPct: 1, CoffeeG: 340, State: headspace.GasState{TempC: 20, KPa: 101.3}})
	want("oxygen-per-gram", "d", dose, err)
	ref := headspace.GasState{TempC: 15, KPa: 100}
	u, err := headspace.GasUsed(headspace.Shift{BagGasML: 2000, Bags: 300, LostPct: 10, Bag: headspace.GasState{TempC: 18, KPa: 101.3}, Ref: ref})
	want("nitrogen-supply", "one", u.BagL, err)
	want("nitrogen-supply", "shift", u.ShiftL, err)
	cyl, err := headspace.CylinderContent(headspace.Cylinder{WaterL: 50, GaugeBar: 200, LeaveBar: 5, TempC: 18, AmbientKPa: 101.3, Ref: ref})
	want("nitrogen-supply", "use", cyl.UsableM3, err)
	life, err := headspace.CylinderLife(headspace.Draught{UsableM3: cyl.UsableM3, BagL: u.BagL, BagsPerHour: 60, CylinderPrice: decimal.RequireFromString("48.50")})
	want("nitrogen-supply", "bags", float64(life.Bags), err)
	want("nitrogen-supply", "cost", life.CostPerBag.InexactFloat64(), err)
	// √(28.96/28.01) for the gas, and the pressure's root.
	want("flow-meter", "bag", 20*math.Sqrt(28.96/28.01*101.3/251.3)*251.3/101.3, nil)
	want("room-release", "x", 20.9*(1-9.6/60), nil)
	want("room-release", "mix", 20.9*math.Exp(-9.6/60), nil)
	want("room-leak", "low", headspace.AirOxygenPct*30/36, nil)
	want("room-leak", "may", 30*(headspace.AirOxygenPct/19.5-1), nil)

	for _, c := range Calculators() {
		if s := c.Eval(c.Example(), nil); len(s.Figures) == 0 {
			t.Errorf("%s draws no picture", c.ID)
		}
		switch c.ID {
		case "bag-headspace", "bag-volume", "pillow-bag", "bean-density", "film-layers", "air-oxygen": // nothing in them hurts
		default:
			if len(c.Cautions) == 0 {
				t.Errorf("%s carries no caution", c.ID)
			}
		}
	}
}

// The shortest time keeps its promise with the factor for as many readings as
// the fit is worth there, and not more.
func TestNozzleFitByHand(t *testing.T) {
	s := example(t, "nozzle-fit")
	trial := headspace.Trial{StartPct: 20.9, SupplyPct: 0.1, ResolutionPct: 0.1}
	for _, r := range [][2]float64{{3, 5.1}, {3, 5.9}, {4, 3.9}, {4, 3.2}, {5, 2.3}, {5, 2.0}, {6, 1.5}, {6, 1.2}, {7, 0.9}, {7, 0.8}} {
		trial.Readings = append(trial.Readings, headspace.Reading{FreeML: 775, FlowLPerMin: 20, Seconds: r[0], OxygenPct: r[1]})
	}
	f, err := headspace.FitNozzle(trial)
	if err != nil {
		t.Fatal(err)
	}
	if got := value(t, s, "q"); math.Abs(got-f.NozzlePct) > 1e-9 {
		t.Errorf("nozzle %v, by hand %v", got, f.NozzlePct)
	}
	kept := false
	for n := f.Count; n >= 2; n-- {
		k, err := sampling.OneSidedFactor(n, 95, 95)
		if err != nil {
			t.Fatal(err)
		}
		h, err := headspace.ShortestTime(f, headspace.Assurance{FreeML: 775, FlowLPerMin: 20, LimitPct: 2, ToleranceFactor: k})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(h.Seconds-value(t, s, "s")) < 1e-9 {
			kept = true
			if h.EffectiveCount < float64(n) {
				t.Errorf("the factor is for %d readings, the fit is worth %v", n, h.EffectiveCount)
			}
		}
	}
	if !kept {
		t.Errorf("%v s is the answer for no number of readings", value(t, s, "s"))
	}
	// An own flow in a line counts, and gives the same headspaces of gas.
	other := example(t, "nozzle-fit", "rows", "3 5.1\n3 5.9\n2 3.9 40\n4 3.2\n5 2.3\n10 2.0 10\n6 1.5\n6 1.2\n7 0.9\n7 0.8")
	if a, b := value(t, s, "s"), value(t, other, "s"); math.Abs(a-b) > 1e-9 {
		t.Errorf("%v s with one flow, %v s with three", a, b)
	}
	// A zero is taken, and told.
	zero := example(t, "nozzle-fit", "rows", "3 5.1\n3 5.9\n4 3.9\n4 3.2\n5 2.3\n5 2.0\n6 1.5\n6 1.2\n9 0.0\n9 0.0")
	if !strings.Contains(strings.Join(zero.Notes, " "), "intervals") {
		t.Errorf("zeros: %v %q", zero.Notes, zero.Problem)
	}
	// A limit that the nitrogen itself passes leaves the rest standing.
	none := example(t, "nozzle-fit", "y", "0.1")
	if len(none.Values) == 0 || !strings.Contains(strings.Join(none.Notes, " "), "No time keeps this limit") {
		t.Errorf("%v %q", none.Notes, none.Problem)
	}
}

// The bag's life: without coffee's gas and uptake it is the film alone; what
// is left empty is none; half a curve is told.
func TestBagLife(t *testing.T) {
	film := example(t, "bag-oxygen", "up", "", "gas", "", "pore", "", "leak", "")
	b := headspace.Bag{FreeML: 775, CoffeeG: 340, TempC: 20, KPa: 101.3, OxygenPct: 1.2, Film: headspace.Film{OTRCCPerM2DayAtm: 0.6, AreaM2: 0.08, OutsidePct: headspace.AirOxygenPct}}
	for output, days := range map[string]float64{"hour": 1.0 / 24, "one": 1, "month": 30, "then": 90} {
		a, err := headspace.OxygenAfter(b, days, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := value(t, film, output); math.Abs(got-a.OxygenPct) > 1e-9 {
			t.Errorf("%s: %v, film alone %v", output, got, a.OxygenPct)
		}
	}
	for _, day := range []string{"0", "0.01", "0.5", "20", "1000"} {
		s := example(t, "bag-oxygen", "day", day)
		if v := value(t, s, "hour"); !(v > 0.9 && v < 1.2) || value(t, s, "month") > v {
			t.Errorf("day %s: an hour %v, a month %v", day, v, value(t, s, "month"))
		}
	}
	s := example(t, "bag-oxygen")
	if !(value(t, s, "then") < value(t, s, "hour")) {
		t.Error("carbon dioxide does not sweep the bag")
	}
	half := example(t, "bag-oxygen", "tau", "")
	if !strings.Contains(strings.Join(half.Notes, " "), "not complete") {
		t.Errorf("half a curve: %v", half.Notes)
	}
}

// Each fan has its own answer, and a room that holds says so.
func TestRoomFans(t *testing.T) {
	in, out := value(t, example(t, "room-leak"), "low"), value(t, example(t, "room-leak", "fan", "out"), "low")
	if !(out < in) {
		t.Errorf("blown in %v, drawn out %v", in, out)
	}
	s := example(t, "room-leak", "r", "0.5")
	if !strings.Contains(strings.Join(s.Notes, " "), "stays over 19.5 %") || s.Verdicts[0].Word != "in" {
		t.Errorf("%v %v", s.Notes, s.Verdicts)
	}
	if s := example(t, "room-release"); s.Verdicts[0].Word != "out" {
		t.Errorf("%v", s.Verdicts)
	}
	if s := example(t, "room-release", "g", "100"); value(t, s, "x") != 0 {
		t.Error("more gas than room leaves air")
	}
}

// A target below the nitrogen's own oxygen is explained with what would do.
func TestImpossibleTarget(t *testing.T) {
	s := example(t, "flush-target", "y", "0.05")
	if !strings.Contains(s.Problem, "purge gas itself") || !strings.Contains(s.Problem, "possible") {
		t.Errorf("%q", s.Problem)
	}
}

// Every check that a calculator names has rows in the package's table.
func TestChecksHaveRows(t *testing.T) {
	have := map[string]bool{}
	for _, pkg := range []string{"headspace", "checkpoint/sampling"} {
		rows, err := published.Read("../../../" + pkg + "/testdata/published.csv")
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			have[pkg+": "+r.Quantity] = true
		}
	}
	for _, c := range Calculators() {
		if len(c.Checks) == 0 {
			t.Errorf("%s names no check", c.ID)
		}
		for _, k := range c.Checks {
			if !have[k.Package+": "+k.Quantity] {
				t.Errorf("%s: no row of %s has the quantity %q", c.ID, k.Package, k.Quantity)
			}
		}
	}
}

// A step that cannot be read, such as a gauge pressure below zero, is a fault:
// without it the sequence would be another one.
func TestSequenceIsReadWhole(t *testing.T) {
	s := example(t, "purge-sequence", "rows", "-70 0\n101.3 0\n101.3 2000")
	if len(s.Faults) != 1 || s.Faults[0].Field != "rows" || !strings.Contains(s.Faults[0].Text, "line 1: ") || len(s.Values) > 0 {
		t.Errorf("%+v, %d values", s.Faults, len(s.Values))
	}
}

// Who calibrated again and saw the same is not told that there was no second
// calibration; who left it out is.
func TestTheSameCalibrationAgain(t *testing.T) {
	none := "There was no second calibration"
	told := func(s catalogue.Sheet) bool { return strings.Contains(strings.Join(s.Notes, "\n"), none) }
	if s := example(t, "oxygen-reading", "z2", "0.1", "s2", "20.4"); told(s) || value(t, s, "drift") != 0 {
		t.Errorf("the same again: %q", s.Notes)
	}
	if s := example(t, "oxygen-reading", "z2", "", "s2", ""); !told(s) {
		t.Errorf("not again: %q", s.Notes)
	}
}

// The table of what too little oxygen does marks the band that the room is in;
// in a gap, and under the last, the worse one; over all of them none.
func TestWorseBandIsMarked(t *testing.T) {
	for _, c := range []struct {
		nitrogen, changes, here string
	}{
		{"0", "0.5", ""},
		{"6", "0.5", "15–19 %"}, // 17.5 %
		{"25", "0.5", "8–10 %"}, // 11.4 %, between two bands
		{"500", "0.1", "4–6 %"}, // 0.2 %, under the last
		{"20", "0", "4–6 %"},    // nothing in the end
	} {
		s := example(t, "room-leak", "r", c.nitrogen, "n", c.changes)
		var marked []string
		for _, row := range s.Tables[0].Rows {
			if row[2] != "" {
				marked = append(marked, row[0])
			}
		}
		if strings.Join(marked, "; ") != c.here {
			t.Errorf("%s m³/h, %s changes: %v is marked, want %q", c.nitrogen, c.changes, marked, c.here)
		}
	}
}

// A reading that no gas can have has no verdict; one a little below zero has.
func TestImpossibleOxygenIsNotIn(t *testing.T) {
	for typed, impossible := range map[string]bool{"-1": true, "-1.0": true, "0.1": false, "1.2": false} {
		s := example(t, "oxygen-reading", "r", typed)
		if got := strings.Contains(s.Problem, "below zero"); got != impossible || impossible && len(s.Verdicts) != 0 {
			t.Errorf("%s: %q, %+v", typed, s.Problem, s.Verdicts)
		}
	}
	if s := example(t, "oxygen-reading", "r", "25.0"); !strings.Contains(strings.Join(s.Notes, " "), "above that of the air") {
		t.Errorf("25 %%: %q", s.Notes)
	}
}
