package checkpoint

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"Judge":        Judge,
		"LongRunRisks": LongRunRisks,
		"Together":     Together,
	})
}
