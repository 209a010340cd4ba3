package extraction

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"BeverageMass":         BeverageMass,
		"Blend":                Blend,
		"BlendParts":           BlendParts,
		"Brix":                 Brix,
		"BrixCorrection":       BrixCorrection,
		"BrixStrength":         BrixStrength,
		"BypassYield":          BypassYield,
		"Convert":              Convert,
		"ConvertGPerL":         ConvertGPerL,
		"Dilute":               Dilute,
		"Directions":           Directions,
		"DrainingStrength":     DrainingStrength,
		"DrainingUncertainty":  DrainingUncertainty,
		"DrainingYield":        DrainingYield,
		"DryFactor":            DryFactor,
		"Equilibrium":          Equilibrium,
		"FitSlope":             FitSlope,
		"ImmersionStrength":    ImmersionStrength,
		"ImmersionUncertainty": ImmersionUncertainty,
		"ImmersionYield":       ImmersionYield,
		"LineStrength":         LineStrength,
		"MapEllipse":           MapEllipse,
		"OvenApparentYield":    OvenApparentYield,
		"OvenStrength":         OvenStrength,
		"PointRatio":           PointRatio,
		"RecipeFor":            RecipeFor,
		"Repeatability":        Repeatability,
		"SlopePct":             SlopePct,
		"SpentGroundsYield":    SpentGroundsYield,
		"Strength":             Strength,
		"StrengthAfter":        StrengthAfter,
		"SucroseIndex":         SucroseIndex,
		"WaterIndex":           WaterIndex,
		"Yield":                Yield,
		"YieldUncertainty":     YieldUncertainty,
	})
}
