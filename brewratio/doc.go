// Package brewratio answers how much coffee and how much water: for one bowl,
// for a table of bowls, for a brew and for a batch, to the last gram that the
// scale shows.
//
// # Quantities
//
//	D  DoseG   coffee, as weighed, g
//	W  WaterG  water, g
//	R  Ratio   water per coffee by mass, g/g: the x of 1:x
//	ρ          density of water, kg/m³ = g/L
//
// # Exact
//
// What a person weighs is a decimal here, from end to end: 0.1 is 0.1, and
// ten bowls of 8.25 g are 82.50 g. Sums and products are exact. A quotient
// that does not end is rounded once, to 12 places, and says so. Nothing is
// brought to a scale's division before [Round] is asked.
//
// # What it leaves out
//
// Strength and yield are in package extraction.
package brewratio
