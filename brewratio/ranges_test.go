package brewratio

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"BowlDose":          BowlDose,
		"Bowls":             Bowls,
		"Dose":              Dose,
		"FillHeight":        FillHeight,
		"FilledVolume":      FilledVolume,
		"FromGramsPer100ML": FromGramsPer100ML,
		"FromGramsPerLitre": FromGramsPerLitre,
		"FromPct":           FromPct,
		"FromRatio":         FromRatio,
		"Melt":              Melt,
		"PartVolume":        PartVolume,
		"Parts":             Parts,
		"PlanBrew":          PlanBrew,
		"PlanDose":          PlanDose,
		"PlanSession":       PlanSession,
		"Pours":             Pours,
		"Ratio":             Ratio,
		"RatioTolerance":    RatioTolerance,
		"RetainedByWeight":  RetainedByWeight,
		"Round":             Round,
		"ScaleRecipe":       ScaleRecipe,
		"SmallestDose":      SmallestDose,
		"StandardDose":      StandardDose,
		"VesselVolume":      VesselVolume,
		"Water":             Water,
		"WaterDensity":      WaterDensity,
		"WaterMass":         WaterMass,
		"WaterVolume":       WaterVolume,
		"WeighingList":      WeighingList,
	})
}
