// Package chart says whether today is like the days before: charts of single
// readings, of groups, of small shifts, the run rules by number and in plain
// words, and whether a process that keeps still is also good enough.
//
// # Quantities
//
//	x    readings in the order of time, in any unit
//	σ    Sigma       short-term standard deviation of what is charted, same unit
//	d2   MeanRange   mean range of n standard normals, pure number
//	c4   MeanSD      mean standard deviation of n standard normals, pure number
//	λ    Lambda      weight of the newest reading in an EWMA, pure number
//	C_p  Cp          limits' width over six deviations, pure number
//
// # Method
//
// Limits come from the process itself: from a time when it was known to be
// still (phase 1), by the scatter from one reading to the next, never from the
// customer's limits, and never from the deviation of all readings, which
// contains the very shifts to be found. Later readings are judged by lines
// that no longer move (phase 2). Lots with different targets go on one chart
// by their deviation from target.
//
// # What it leaves out
//
// Readings that depend on the one before (a roaster warming up): every chart
// here takes them as independent and would cry wolf. Counts of defects.
package chart
