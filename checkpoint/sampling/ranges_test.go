package sampling

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"AcceptPct":          AcceptPct,
		"AcceptVariablesPct": AcceptVariablesPct,
		"ApproximateFactor":  ApproximateFactor,
		"Below":              Below,
		"CodeLetter":         CodeLetter,
		"Estimated":          Estimated,
		"GoodShare":          GoodShare,
		"Grubbs":             Grubbs,
		"GrubbsCritical":     GrubbsCritical,
		"HoweFactor":         HoweFactor,
		"IndexFor":           IndexFor,
		"JudgeVariables":     JudgeVariables,
		"ModifiedScore":      ModifiedScore,
		"OneSidedFactor":     OneSidedFactor,
		"PlanAttributes":     PlanAttributes,
		"PlanVariables":      PlanVariables,
		"QualityAt":          QualityAt,
		"ReadingsForBound":   ReadingsForBound,
		"ReadingsForMean":    ReadingsForMean,
		"RobustMean":         RobustMean,
		"Rosner":             Rosner,
		"TabledAttributes":   TabledAttributes,
		"TabledVariables":    TabledVariables,
		"ToleranceBound":     ToleranceBound,
		"TrimmedMean":        TrimmedMean,
		"TwoSidedFactor":     TwoSidedFactor,
		"ZeroFailure":        ZeroFailure,
		"ZeroFailureInLot":   ZeroFailureInLot,
	})
}
