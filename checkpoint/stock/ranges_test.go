package stock

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"BestStock":        BestStock,
		"Buffer":           Buffer,
		"CriticalRatioPct": CriticalRatioPct,
		"Demand":           Demand,
		"FillBuffer":       FillBuffer,
		"FillRatePct":      FillRatePct,
		"Newsvendor":       Newsvendor,
		"RoastPlan":        RoastPlan,
		"RoastWindow":      RoastWindow,
		"SafetyForFill":    SafetyForFill,
		"SafetyStock":      SafetyStock,
		"Service":          Service,
		"Tally":            Tally,
		"ToRoast":          ToRoast,
	})
}
