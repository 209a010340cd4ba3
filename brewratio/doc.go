// Package brewratio answers how much coffee and how much water: for one bowl,
// for a table of bowls, for a brew and for a batch, to the last gram that the
// scale shows, and how well that scale can tell.
//
// # Quantities
//
//	D  DoseG          coffee, as weighed, g
//	W  WaterG         water, g
//	R  Ratio          water per coffee by mass, g/g: the x of 1:x
//	c  CoffeeGPerL    coffee per litre of water, g/L
//	ρ                 density of water, kg/m³ = g/L
//	λ  RetainedGPerG  water poured less beverage received, per dose, g/g
//	B  BeverageG      what is served, g
//
// # What is here
//
//   - Any two of dose, water and ratio: [Water], [Dose], [Ratio]; many bowls:
//     [Bowls]; the scale's division: [Round].
//   - The ratio in every writing, water by mass or by volume at its
//     temperature: [FromRatio] and its siblings, [WaterDensity], [WaterMass],
//     [WaterVolume]; published ratios as data: [Standards], [StandardDose].
//   - The vessel: [VesselVolume], [PartVolume], [FillHeight], [FilledVolume],
//     and the brew that fills it: [BowlDose].
//   - A cupping table: [PlanSession], [WeighingList], [Parts].
//   - A brew: [PlanBrew], [PlanDose], [RetainedByWeight], [Pours], [Melt],
//     [ScaleRecipe].
//   - What the scale can tell: [SmallestDose], [RatioTolerance].
//
// # Exact
//
// What a person weighs is a decimal here, from end to end: 0.1 is 0.1, and
// ten bowls of 8.25 g are 82.50 g. Sums and products are exact, so that what
// goes into a plan comes out of it to the last digit. A quotient that does
// not end is rounded once, to 12 places, and says so. Nothing is brought to a
// scale's division before [Round] or [Parts] is asked. Floats compute only
// what nobody weighs: a height, a tolerance.
//
// A ratio by volume is a trap: 150 mL of water from the tap weigh 150 g, from
// the kettle 144.5 g. Where a standard says millilitres, this package asks at
// which temperature; a bowl filled on a scale needs no such question.
//
// # What it leaves out
//
// Strength and yield are in package extraction. What the grinder keeps, what
// evaporates from an open bowl and what a spoon carries away are not planned.
package brewratio
