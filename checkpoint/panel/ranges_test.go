package panel

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"Agree":                 Agree,
		"Alike":                 Alike,
		"AlikeAssessors":        AlikeAssessors,
		"AlikeCount":            AlikeCount,
		"Assessors":             Assessors,
		"ByChance":              ByChance,
		"ChancePct":             ChancePct,
		"CoffeeMeans":           CoffeeMeans,
		"CorrectAtPct":          CorrectAtPct,
		"CorrectPct":            CorrectPct,
		"CriticalCount":         CriticalCount,
		"DPrime":                DPrime,
		"DiscriminatorsPct":     DiscriminatorsPct,
		"Estimate":              Estimate,
		"Friedman":              Friedman,
		"LeastRankDifference":   LeastRankDifference,
		"MeanScore":             MeanScore,
		"Offsets":               Offsets,
		"Power":                 Power,
		"PreferenceByChancePct": PreferenceByChancePct,
		"RankSums":              RankSums,
		"ScoreTrend":            ScoreTrend,
		"Under":                 Under,
	})
}
