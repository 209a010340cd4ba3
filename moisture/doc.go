// Package moisture answers how much water is in the bean, how much of it is
// free to feed mould, and what the air of a store and the heat of a roaster do
// to it: what a lot weighs when its moisture drifts, what a room will bring it
// to, whether a cold sack will sweat, and what of a roast's loss was water.
//
// # Quantities
//
//	M    MoisturePct     water per bean, wet basis, %
//	X    DryMoisturePct  water per dry matter, dry basis, %
//	a_w  Aw              water activity, 0 to 1
//	t    TempC           temperature, °C
//	φ    RHPct           relative humidity over liquid water, %
//	t_d  DewC            dew point, °C
//	e    PressureKPa     vapour pressure, kPa
//	L    LossPct         mass lost in the roaster, % of green mass
//
// A moisture is wet basis unless its name says Dry. Every moisture belongs to
// the oven that gave it: 105 °C for 16 h, 103 °C for 24 h and the vacuum
// method at 48 °C differ by up to a point. Keep the method with the number.
//
// # What is where
//
//	sack and lot   [SackMass], [MoistureByWeight], [SackLot]
//	oven, meter    [LossOnDrying], [MeanOfDuplicates], [CalibrateMeter], [CorrectedReading]
//	activity       [WaterActivity], [EquilibriumMoisture], [AnchorIsotherm], [FitIsotherm], [ChooseIsotherm], [CarryActivity]
//	air            [DewPoint], [FrostPoint], [AirProperties], [HumidityFromWetBulb], [SaturationOverWater]
//	store          [DriftAfter], [FitDrift], [WaterForRoom], [SackSweat], [SummariseLog]
//	meters' check  [StandardSalt], [HandbookSalt], [CorrectedHumidity]
//	roaster        [RoastLoss], [RoastLossSE], [ExpectedLoss], [GreenForRoasted]
//
// # Method
//
// Masses are decimal and balance exactly; isotherms and air are float64.
// Saturation follows Hyland and Wexler as ASHRAE prints it, over water and
// over ice, and the air is a real gas to the second virial coefficient; both
// are compared point by point with IAPWS over −40 to 80 °C. Relative humidity
// is over liquid water at every temperature, as hygrometers are scaled.
//
// The one isotherm that ships, [ParchmentArabica], carries its standard error
// and the name of what it was measured on. No coefficients of other curves
// stand here, because none was read in a source; a lot's own readings make its
// own curve.
//
// # What practitioners get wrong
//
// A lot inside the moisture limit can be above the activity limit: 12.5 % at
// 25 °C is an activity of about 0.72 on the shipped curve, while mould may
// grow from 0.68. Content and activity are two readings, not one.
//
// # Cautions
//
// No answer here clears a lot for sale. A lot's average hides its wettest
// beans; mould and ochratoxin are judged by analysis and by the food-safety
// law at the place of sale. Ovens for loss on drying are hot and their dishes
// look cold. Handheld meters know neither the density nor the temperature of
// a bean that they were not calibrated for.
//
// # Left out
//
// Drying of parchment on patios and in machines, except as a lower bound of
// time; anything about taste.
package moisture
