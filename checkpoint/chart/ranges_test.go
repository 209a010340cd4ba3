package chart

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"CUSUM":        CUSUM,
		"Capability":   Capability,
		"Check":        Check,
		"Deviations":   Deviations,
		"EWMA":         EWMA,
		"FromMeanSD":   FromMeanSD,
		"GroupFactors": GroupFactors,
		"Groups":       Groups,
		"Individuals":  Individuals,
		"MeanAndRange": MeanAndRange,
		"MeanAndSD":    MeanAndSD,
		"MissPct":      MissPct,
		"RunLength":    RunLength,
		"Sums":         Sums,
	})
}
