package moisture

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"AirProperties":          AirProperties,
		"AnchorIsotherm":         AnchorIsotherm,
		"CalibrateMeter":         CalibrateMeter,
		"CarryActivity":          CarryActivity,
		"ChooseIsotherm":         ChooseIsotherm,
		"CorrectedHumidity":      CorrectedHumidity,
		"CorrectedReading":       CorrectedReading,
		"DaysToMoisture":         DaysToMoisture,
		"DewPoint":               DewPoint,
		"DriftAfter":             DriftAfter,
		"DryBasis":               DryBasis,
		"EquilibriumMoisture":    EquilibriumMoisture,
		"ExpectedLoss":           ExpectedLoss,
		"FitDrift":               FitDrift,
		"FitDriftAndEquilibrium": FitDriftAndEquilibrium,
		"FitIsotherm":            FitIsotherm,
		"FrostPoint":             FrostPoint,
		"GreenForRoasted":        GreenForRoasted,
		"HandbookSalt":           HandbookSalt,
		"HeatOfSorption":         HeatOfSorption,
		"HumidityFromWetBulb":    HumidityFromWetBulb,
		"LayerHours":             LayerHours,
		"LossOnDrying":           LossOnDrying,
		"MeanOfDuplicates":       MeanOfDuplicates,
		"MoistureByWeight":       MoistureByWeight,
		"PressureAtAltitude":     PressureAtAltitude,
		"RelativeHumidity":       RelativeHumidity,
		"RoastLoss":              RoastLoss,
		"RoastLossSE":            RoastLossSE,
		"RoastedMass":            RoastedMass,
		"SackLot":                SackLot,
		"SackMass":               SackMass,
		"SackSweat":              SackSweat,
		"SaturationOverIce":      SaturationOverIce,
		"SaturationOverWater":    SaturationOverWater,
		"StandardSalt":           StandardSalt,
		"SummariseLog":           SummariseLog,
		"TotalLoss":              TotalLoss,
		"VapourPressure":         VapourPressure,
		"WaterActivity":          WaterActivity,
		"WaterForRoom":           WaterForRoom,
		"WetBasis":               WetBasis,
	})
}
