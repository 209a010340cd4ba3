package uncertainty

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"AppendEarned":      AppendEarned,
		"CoverageFactor":    CoverageFactor,
		"Earned":            Earned,
		"FitLine":           FitLine,
		"FromCertificate":   FromCertificate,
		"FromHalfWidth":     FromHalfWidth,
		"FromInexactLimits": FromInexactLimits,
		"FromReadings":      FromReadings,
		"InsidePct":         InsidePct,
		"InsidePctError":    InsidePctError,
		"MeansR":            MeansR,
		"Measured":          Measured,
		"OnLine":            OnLine,
		"OutputR":           OutputR,
		"Places":            Places,
		"Propagate":         Propagate,
		"ReadBack":          ReadBack,
		"Simulate":          Simulate,
	})
}
