// Package headspace answers how much oxygen is left in a bag of coffee, how
// much gas it takes to get there, what becomes of it until the customer opens
// the bag, and what the gas does to the people beside the machine.
//
// # Quantities
//
//	V_h  FreeML      gas space of the bag, mL: between and above the beans
//	ρ    BeanGPerML  particle density of the bean, g/mL, not the bulk density
//	y    OxygenPct   oxygen, % by volume of the gas (0 to 100)
//	y_0  StartPct    oxygen before, %
//	y_n  SupplyPct   oxygen in the purge gas, %
//	V    GasML       purge gas, mL at the temperature and pressure of the bag
//
// Pressures are absolute unless the name says Gauge. Gas volumes elsewhere
// name their reference temperature and pressure.
//
// # Method
//
// Volumes: [FreeVolume] from bag, coffee and particle density; [WaterFilled],
// [PillowBag] and [BeanDensity] measure what it takes.
//
// Purging follows the process-safety literature on inerting: stirred sweep,
// piston displacement, flushes, cycles between two pressures. All of it
// assumes constant temperature and an ideal gas; a bag on a machine is
// neither stirred nor a piston, so a real nozzle is fitted from readings.
// Every function answers for the mean of the gas space: a reading taken before
// the gas has evened out may differ. [AfterNozzle] describes a real nozzle by
// one number, [FitNozzle] finds it from readings, [ShortestTime] sets the
// machine by it. [AfterSteps] follows any sequence.
//
// A reading is put right by [CorrectReading] and [BagOxygen] and judged by
// [JudgeOxygen]. [OxygenAfter] follows the sealed bag: film, uptake, pores, and
// carbon dioxide that sweeps it. [CylinderContent], [GasUsed] and [TrueFlow]
// count the gas; [AfterSpill], [AfterLeak] and [AfterResting] look at the room.
//
// Masses are float64 here, unlike in the packages where weights are exact: a
// bean's density is uncertain by several percent and governs every result.
//
// # Cautions
//
// Nitrogen gives no warning: a few breaths of pure nitrogen can make a person
// unconscious, and rescuers are often the next victims. Carbon dioxide is
// toxic long before it displaces enough oxygen to alarm an oxygen meter. No
// calculation here is a gas detector; alarm and ventilation come first, and
// local codes and a licensed practitioner decide.
//
// # Left out
//
// A whole bean's rate of oxygen uptake is published too thinly to carry a
// default; so are valve leak rates and the mixing of a bag under a nozzle.
// They are inputs, to be measured. Nothing here turns oxygen into a best-before
// date.
package headspace
