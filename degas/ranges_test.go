package degas

import (
	"testing"

	"example.org/evenlot/internal/published"
)

// What is accepted stands in testdata/ranges.csv and is kept to its ends.
func TestRanges(t *testing.T) {
	published.Ranges(t, map[string]any{
		"ActivationFromQ10":    ActivationFromQ10,
		"AgeDays":              AgeDays,
		"AmountLeft":           AmountLeft,
		"AmountLost":           AmountLost,
		"ArrheniusFactor":      ArrheniusFactor,
		"BagAfter":             BagAfter,
		"BagPeak":              BagPeak,
		"BestBefore":           BestBefore,
		"BestBeforeDays":       BestBeforeDays,
		"CO2MLPerG":            CO2MLPerG,
		"CO2PctAtOxygen":       CO2PctAtOxygen,
		"CoffeeRoomAir":        CoffeeRoomAir,
		"CoffeeRoomCourse":     CoffeeRoomCourse,
		"CoffeeRoomPeak":       CoffeeRoomPeak,
		"Compare":              Compare,
		"Compressibility":      Compressibility,
		"DaysToGauge":          DaysToGauge,
		"DaysUntil":            DaysUntil,
		"DaysUntilAmount":      DaysUntilAmount,
		"Emission":             Emission,
		"EquivalentDays":       EquivalentDays,
		"FirstOrderFromLosses": FirstOrderFromLosses,
		"FirstOrderThrough":    FirstOrderThrough,
		"FitJar":               FitJar,
		"FitWeighings":         FitWeighings,
		"FreshAirFor":          FreshAirFor,
		"GasFromVolume":        GasFromVolume,
		"Hastened":             Hastened,
		"HoldDays":             HoldDays,
		"HoursToLimit":         HoursToLimit,
		"Instant":              Instant,
		"Left":                 Left,
		"MeanRate":             MeanRate,
		"MgPerM3":              MgPerM3,
		"OrientationBand":      OrientationBand,
		"OrientationDays":      OrientationDays,
		"PoreMLPerG":           PoreMLPerG,
		"Q10Factor":            Q10Factor,
		"Q10FromActivation":    Q10FromActivation,
		"RelativeLife":         RelativeLife,
		"RestWindow":           RestWindow,
		"RoomAir":              RoomAir,
		"SealedBinMLPerG":      SealedBinMLPerG,
		"SecondVirial":         SecondVirial,
		"SheetFromLosses":      SheetFromLosses,
		"SheetShare":           SheetShare,
		"SheetThrough":         SheetThrough,
		"SlackMgPerG":          SlackMgPerG,
		"SphereFromLosses":     SphereFromLosses,
		"SphereShare":          SphereShare,
		"SphereThrough":        SphereThrough,
		"StretchedThrough":     StretchedThrough,
		"TasteBefore":          TasteBefore,
		"TwoPoolsThrough":      TwoPoolsThrough,
		"ValveSweep":           ValveSweep,
		"WhenAged":             WhenAged,
	})
}
