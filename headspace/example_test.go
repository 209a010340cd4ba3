package headspace_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/headspace"
)

// How much gas is there in a filled bag?
func ExampleFreeVolume() {
	f, err := headspace.FreeVolume(headspace.Fill{BagML: 1200, CoffeeG: 340, BeanGPerML: headspace.BeanMediumGPerML})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mL, %.0f %% of the bag\n", f.FreeML, f.FreePct)
	// Output: 775 mL, 65 % of the bag
}

// What do three shots of 500 mL leave in a bag of 775 mL headspace?
func ExampleAfterFlushes() {
	y, err := headspace.AfterFlushes(headspace.Flushes{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, FlushML: 500, Count: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", y.OxygenPct)
	// Output: 4.8 %
}

// And the same gas as one steady stream, the bag well stirred?
func ExampleAfterSweep() {
	y, err := headspace.AfterSweep(headspace.Purge{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, GasML: 1500})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", y.OxygenPct)
	// Output: 3.1 %
}

// And if it drove the air out before it like a piston?
func ExampleAfterPiston() {
	y, err := headspace.AfterPiston(headspace.Purge{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, GasML: 1500})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", y.OxygenPct)
	// Output: 0.1 %
}

// How much nitrogen brings a stirred bag under 1 %?
func ExampleSweepFor() {
	n, err := headspace.SweepFor(headspace.Target{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: headspace.ExcellentOxygenPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f L, %.1f headspaces\n", n.GasML/1000, n.Volumes)
	// Output: 2.4 L, 3.1 headspaces
}

// How much would do if nothing mixed?
func ExamplePistonFor() {
	n, err := headspace.PistonFor(headspace.Target{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: headspace.ExcellentOxygenPct})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f L\n", n.GasML/1000)
	// Output: 0.74 L
}

// How many shots of 500 mL bring the bag under 1 %?
func ExampleFlushesFor() {
	n, err := headspace.FlushesFor(headspace.FlushTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: 1, FlushML: 500})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d shots leave %.2f %%\n", n.Count, n.OxygenPct)
	// Output: 7 shots leave 0.74 %
}

// The supply itself sets the floor.
func ExampleSweepFor_refused() {
	_, err := headspace.SweepFor(headspace.Target{StartPct: headspace.AirOxygenPct, SupplyPct: 1, FreeML: 775, TargetPct: 0.5})
	var none *headspace.ImpossibleError
	if errors.As(err, &none) {
		fmt.Println(none.Why)
	}
	_, err = headspace.SweepFor(headspace.Target{StartPct: 0.209, SupplyPct: 0, FreeML: 775, TargetPct: 1})
	var field *headspace.FieldError
	if errors.As(err, &field) {
		fmt.Println(field.Error())
	}
	// Output:
	// the purge gas itself holds 1 % oxygen and no purging goes below that
	// StartPct is 0.209 %; accepted: 0.5 to 100 %
}

// What do two rounds of vacuum and back-fill leave in a chamber?
func ExampleAfterCycles() {
	y, err := headspace.AfterCycles(headspace.Cycles{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, LowKPa: 20, HighKPa: 101.3, TempC: 20, Count: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f %% with %.2f L of gas\n", y.OxygenPct, y.SupplyML/1000)
	// Output: 0.91 % with 1.24 L of gas
}

// How many rounds does it take?
func ExampleCyclesFor() {
	n, err := headspace.CyclesFor(headspace.CycleTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, FreeML: 775, TargetPct: 1, LowKPa: 30, HighKPa: 101.3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, so %d\n", n.Exact, n.Count)
	// Output: 2.6, so 3
}

// How deep must the vacuum be for a single round?
func ExampleVacuumFor() {
	v, err := headspace.VacuumFor(headspace.VacuumTarget{StartPct: headspace.AirOxygenPct, SupplyPct: 0.1, TargetPct: 1, HighKPa: 101.3, Count: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kPa absolute\n", v.LowKPa)
	// Output: 4.4 kPa absolute
}
