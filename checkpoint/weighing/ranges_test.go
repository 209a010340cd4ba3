package weighing

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"AsFound":              AsFound,
		"DestructivePlan":      DestructivePlan,
		"DoublePlan":           DoublePlan,
		"FillTarget":           FillTarget,
		"Giveaway":             Giveaway,
		"Judge":                Judge,
		"MeanFactor":           MeanFactor,
		"MinimumCapacityG":     MinimumCapacityG,
		"PermissibleError":     PermissibleError,
		"RepeatabilityG":       RepeatabilityG,
		"SinglePlan":           SinglePlan,
		"SmallestWeighing":     SmallestWeighing,
		"StandardUncertaintyG": StandardUncertaintyG,
		"TolerableShortage":    TolerableShortage,
		"TolerableShortageR87": TolerableShortageR87,
		"UnroundedG":           UnroundedG,
		"WeightErrorG":         WeightErrorG,
	})
}
