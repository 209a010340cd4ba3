package headspace

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"AfterCycles":     AfterCycles,
		"AfterEvening":    AfterEvening,
		"AfterFlushes":    AfterFlushes,
		"AfterLeak":       AfterLeak,
		"AfterNozzle":     AfterNozzle,
		"AfterPiston":     AfterPiston,
		"AfterResting":    AfterResting,
		"AfterSpill":      AfterSpill,
		"AfterSteps":      AfterSteps,
		"AfterSweep":      AfterSweep,
		"AirOxygen":       AirOxygen,
		"BagOxygen":       BagOxygen,
		"BeanDensity":     BeanDensity,
		"CorrectReading":  CorrectReading,
		"CyclesFor":       CyclesFor,
		"CylinderContent": CylinderContent,
		"CylinderLife":    CylinderLife,
		"DaysToDose":      DaysToDose,
		"FilmOTR":         FilmOTR,
		"FitNozzle":       FitNozzle,
		"FlushesFor":      FlushesFor,
		"FreeVolume":      FreeVolume,
		"FreshAirFor":     FreshAirFor,
		"GasUsed":         GasUsed,
		"HoursToOxygen":   HoursToOxygen,
		"JudgeOxygen":     JudgeOxygen,
		"JudgeReading":    JudgeReading,
		"LaminateOTR":     LaminateOTR,
		"LeakAllowed":     LeakAllowed,
		"MolarVolume":     MolarVolume,
		"NitrogenZ":       NitrogenZ,
		"NozzleFor":       NozzleFor,
		"OxygenAfter":     OxygenAfter,
		"OxygenAt":        OxygenAt,
		"OxygenCourse":    OxygenCourse,
		"OxygenDose":      OxygenDose,
		"PillowBag":       PillowBag,
		"PistonFor":       PistonFor,
		"PoreVolume":      PoreVolume,
		"PredictOxygen":   PredictOxygen,
		"Pressure":        Pressure,
		"ShortestTime":    ShortestTime,
		"SweepFor":        SweepFor,
		"TrueFlow":        TrueFlow,
		"VacuumFor":       VacuumFor,
		"VoidShare":       VoidShare,
		"VolumeAt":        VolumeAt,
		"WaterDensity":    WaterDensity,
		"WaterFilled":     WaterFilled,
	})
}
