package headspace

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var (
	dryAir = Mix{AirOxygenPct, AirNitrogenPct, AirCarbonDioxidePct}
	clean  = Mix{0.1, 99.9, 0}
	aSpace = Space{750, 20, SeaLevelKPa, dryAir}
)

func after(t *testing.T, s Space, steps ...Step) Outcome {
	t.Helper()
	o, err := AfterSteps(s, steps)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// Every gas that came in is either out or still there, after any sequence.
func TestStepsKeepEveryGas(t *testing.T) {
	kinds := func(i int, at float64) Step {
		switch i % 5 {
		case 0:
			return Step{Kind: SweepStep, Supply: clean, GasML: 1234, NozzlePct: -40}
		case 1:
			return Step{Kind: FillStep, Supply: Mix{0.5, 60, 39}, ToKPa: at * 1.5}
		case 2:
			return Step{Kind: VentStep, ToKPa: at / 3}
		case 3:
			return Step{Kind: SweepStep, Supply: Mix{5, 0, 95}, GasML: 300, NozzlePct: 70}
		}
		return Step{Kind: FillStep, Supply: dryAir, ToKPa: at * 1.8}
	}
	for seed := range 600 {
		at := SeaLevelKPa
		var steps []Step
		for j, n := 0, seed; j < 6; j++ {
			st := kinds(n+j*j, at)
			n /= 5
			if st.ToKPa > 0 {
				at = st.ToKPa
			}
			steps = append(steps, st)
		}
		o := after(t, aSpace, steps...)
		for _, g := range []struct {
			name               string
			start, fed, out, l float64
		}{
			{"O2", o.Start.OxygenMol, o.Fed.OxygenMol, o.Vented.OxygenMol, o.Left.OxygenMol},
			{"N2", o.Start.NitrogenMol, o.Fed.NitrogenMol, o.Vented.NitrogenMol, o.Left.NitrogenMol},
			{"CO2", o.Start.CarbonDioxideMol, o.Fed.CarbonDioxideMol, o.Vented.CarbonDioxideMol, o.Left.CarbonDioxideMol},
			{"other", o.Start.OtherMol, o.Fed.OtherMol, o.Vented.OtherMol, o.Left.OtherMol},
		} {
			if !(math.Abs(g.start+g.fed-g.out-g.l) <= 1e-12*(g.start+g.fed)) {
				t.Fatalf("%s of %d: %v and %v in, %v out, %v left", g.name, seed, g.start, g.fed, g.out, g.l)
			}
			if g.out < 0 || g.l < -1e-18 {
				t.Fatalf("%s of %d: %v out, %v left", g.name, seed, g.out, g.l)
			}
		}
	}
}

// What the ledger calls vented is the flow that leaves, added up parcel by
// parcel.
func TestStepsVentedIsTheOutflow(t *testing.T) {
	const parcels = 200_000
	o := after(t, aSpace, Step{Kind: SweepStep, Supply: clean, GasML: 1500})
	n := o.Start.OxygenMol
	held := amount(SeaLevelKPa, 750, 20)
	d := o.SupplyMol / parcels
	out := 0.0
	for range parcels {
		gone := n / held * d
		out += gone
		n += d*0.001 - gone
	}
	near(t, "vented oxygen", o.Vented.OxygenMol, out, 1e-4)
}

// The sequence agrees with the single formulas.
func TestStepsAgreeWithFormulas(t *testing.T) {
	s, err := AfterNozzle(Nozzle{AirOxygenPct, 0.1, 750, 900, 25})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sweep", after(t, aSpace, Step{Kind: SweepStep, Supply: clean, GasML: 900, NozzlePct: 25}).Mix.OxygenPct, s.OxygenPct, 1e-14)
	c, err := AfterCycles(Cycles{AirOxygenPct, 0.1, 750, 20, SeaLevelKPa, 20, 3})
	if err != nil {
		t.Fatal(err)
	}
	var steps []Step
	for range 3 {
		steps = append(steps, Step{Kind: VentStep, ToKPa: 20}, Step{Kind: FillStep, Supply: clean, ToKPa: SeaLevelKPa})
	}
	o := after(t, aSpace, steps...)
	near(t, "vacuum", o.Mix.OxygenPct, c.OxygenPct, 1e-13)
	near(t, "vacuum gas", o.SupplyMol, c.SupplyMol, 1e-13)
	f, err := AfterFlushes(Flushes{AirOxygenPct, 0.1, 750, 250, 3})
	if err != nil {
		t.Fatal(err)
	}
	steps = nil
	for range 3 { // 250 mL pressed into 750 mL is a third more pressure
		steps = append(steps, Step{Kind: FillStep, Supply: clean, ToKPa: SeaLevelKPa * 4 / 3}, Step{Kind: VentStep, ToKPa: SeaLevelKPa})
	}
	near(t, "flushes", after(t, aSpace, steps...).Mix.OxygenPct, f.OxygenPct, 1e-13)
}

// Order matters only where it should.
func TestStepOrder(t *testing.T) {
	sweep := func(s Mix, q float64) Step { return Step{Kind: SweepStep, Supply: s, GasML: 800, NozzlePct: q} }
	vent, fill := Step{Kind: VentStep, ToKPa: 20}, Step{Kind: FillStep, Supply: clean, ToKPa: SeaLevelKPa}
	same := func(what string, a, b Outcome) {
		t.Helper()
		near(t, what, a.Mix.OxygenPct, b.Mix.OxygenPct, 1e-12)
	}
	same("two nozzles, one supply", after(t, aSpace, sweep(clean, 50), sweep(clean, -50)), after(t, aSpace, sweep(clean, -50), sweep(clean, 50)))
	same("sweep and vacuum cycle", after(t, aSpace, sweep(clean, 0), vent, fill), after(t, aSpace, vent, fill, sweep(clean, 0)))
	dirty := Mix{2, 98, 0}
	cleanLast := after(t, aSpace, sweep(dirty, 0), sweep(clean, 0)).Mix.OxygenPct
	cleanFirst := after(t, aSpace, sweep(clean, 0), sweep(dirty, 0)).Mix.OxygenPct
	if !(cleanLast < cleanFirst) {
		t.Errorf("clean gas last leaves %v, clean gas first %v", cleanLast, cleanFirst)
	}
	press := Step{Kind: FillStep, Supply: clean, ToKPa: 300}
	pressFirst := after(t, aSpace, press, vent, press).Mix.OxygenPct
	vacuumFirst := after(t, aSpace, vent, press).Mix.OxygenPct
	if !(pressFirst < vacuumFirst) {
		t.Errorf("pressure first leaves %v, vacuum first %v", pressFirst, vacuumFirst)
	}
}

// Oxygen stays between the leanest supply and the richest gas.
func TestStepsBounds(t *testing.T) {
	o := after(t, aSpace, Step{Kind: SweepStep, Supply: clean, GasML: 5000}, Step{Kind: FillStep, Supply: Mix{3, 97, 0}, ToKPa: 200}, Step{Kind: VentStep, ToKPa: 50})
	if o.LowOxygenPct < 0.1 || o.HighOxygenPct > AirOxygenPct || o.Mix.OxygenPct < o.LowOxygenPct || o.Mix.OxygenPct > o.HighOxygenPct || o.KPa != 50 {
		t.Errorf("%+v", o)
	}
	if o := after(t, aSpace); o.Mix != aSpace.Mix || o.Start != o.Left || o.SupplyMol != 0 {
		t.Errorf("no steps at all: %+v", o)
	}
}

func TestStepRefusals(t *testing.T) {
	refuses(t, aSpace, func(s Space) (Outcome, error) { return AfterSteps(s, nil) },
		limit{"FreeML", 1, 1e9}, limit{"TempC", -40, 150}, limit{"KPa", 0.01, 5000})
	for name, c := range map[string]struct {
		space Space
		steps []Step
		want  []string
	}{
		"mixture over 100 %": {Space{750, 20, 100, Mix{21, 70, 10}}, nil, []string{"Mix.CarbonDioxidePct"}},
		"two bad shares":     {Space{750, 20, 100, Mix{-1, math.NaN(), 0}}, nil, []string{"Mix.OxygenPct", "Mix.NitrogenPct"}},
		"no kind":            {aSpace, []Step{{}}, []string{"steps[0].Kind"}},
		"a fill goes up": {aSpace, []Step{{Kind: VentStep, ToKPa: 50}, {Kind: FillStep, ToKPa: 49}, {Kind: FillStep, ToKPa: 6000}},
			[]string{"steps[1].ToKPa", "steps[2].ToKPa"}},
		"a vent goes down": {aSpace, []Step{{Kind: VentStep, ToKPa: 150}}, []string{"steps[0].ToKPa"}},
		"a bad sweep": {aSpace, []Step{{Kind: SweepStep, Supply: Mix{OxygenPct: 101}, GasML: -1, NozzlePct: 101}},
			[]string{"steps[0].Supply.OxygenPct", "steps[0].GasML", "steps[0].NozzlePct"}},
		"too many": {aSpace, make([]Step, 1001), []string{"steps"}},
	} {
		o, err := AfterSteps(c.space, c.steps)
		var input *InputError
		if !errors.As(err, &input) || o != (Outcome{}) {
			t.Errorf("%s: %+v, %v", name, o, err)
			continue
		}
		var got []string
		for _, f := range input.Fields {
			got = append(got, f.Field)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	steps := []Step{{Kind: SweepStep, Supply: clean, GasML: 900}, {Kind: VentStep, ToKPa: 20}, {Kind: FillStep, Supply: clean, ToKPa: 100}}
	allocatesNothing(t, aSpace, func(s Space) (Outcome, error) { return AfterSteps(s, steps) })
}

// A thousand small sweeps thin as one large one does, e^(−G/V).
func TestThousandSweeps(t *testing.T) {
	steps := make([]Step, 1000)
	for i := range steps {
		steps[i] = Step{Kind: SweepStep, GasML: 2}
	}
	o := after(t, aSpace, steps...)
	near(t, "oxygen", o.Mix.OxygenPct, dryAir.OxygenPct*math.Exp(-2000.0/750), 1e-11)
}

// What is refused of a step tells nothing about the next: that is held against
// the pressure before it only where that is known.
func TestStepsAfterARefusedOne(t *testing.T) {
	space := Space{FreeML: 750, TempC: 20, KPa: 100}
	fill := func(kPa float64) Step { return Step{Kind: FillStep, ToKPa: kPa} }
	vent := func(kPa float64) Step { return Step{Kind: VentStep, ToKPa: kPa} }
	for _, c := range []struct {
		name  string
		kPa   float64
		steps []Step
		want  []string
	}{
		{"a fill to nothing known", 100, []Step{fill(math.NaN()), fill(200)}, []string{"steps[0].ToKPa 100 to 5000"}},
		{"a fill too far", 100, []Step{fill(6000), vent(150)}, []string{"steps[0].ToKPa 100 to 5000"}},
		{"a vent up, then a fill", 100, []Step{vent(300), fill(200), fill(150)}, []string{"steps[0].ToKPa 0.01 to 100", "steps[2].ToKPa 200 to 5000"}},
		{"two that are refused", 100, []Step{fill(50), vent(math.Inf(1))}, []string{"steps[0].ToKPa 100 to 5000", "steps[1].ToKPa 0.01 to 5000"}},
		{"a kind that is none", 100, []Step{{}, vent(300), fill(200)}, []string{"steps[0].Kind 1 to 3", "steps[2].ToKPa 300 to 5000"}},
		{"no pressure to begin with", math.NaN(), []Step{fill(50), vent(60)}, []string{"KPa 0.01 to 5000", "steps[1].ToKPa 0.01 to 50"}},
	} {
		space.KPa = c.kPa
		_, err := AfterSteps(space, c.steps)
		var input *InputError
		if !errors.As(err, &input) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var got []string
		for _, f := range input.Fields {
			got = append(got, fmt.Sprintf("%s %v to %v", f.Field, f.Min, f.Max))
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}
