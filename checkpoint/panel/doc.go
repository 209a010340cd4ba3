// Package panel answers what a table of tasters can tell and what it cannot:
// whether two coffees differ, whether they are alike enough, how many tasters
// that takes, how far the tasters agree, and when a coffee's score will have
// fallen under the line at which it is bought.
//
// # Quantities
//
//	n       Assessors          assessments, one per taster
//	x       Correct            right answers among them
//	p_0     ChancePct          right answers by guessing alone, %
//	p_c     CorrectPct         right answers of the population, %
//	p_d     DiscriminatorsPct  tasters who truly tell the coffees apart, %
//	d′      DPrime             distance of the coffees in standard deviations of one sip
//	α       RiskPct            risk of calling a difference that is none, %
//	1 − β   PowerPct           chance of finding the difference that is there, %
//	n, k                       coffees (rows) and tasters (columns) of a table of scores
//	b       SlopePerWeek       score points gained per week, negative when falling
//
// Every probability is in percent, the p value too: [Difference.ByChancePct]
// of 4.3 is what a textbook writes as p = 0.043.
//
// # Method
//
// Discrimination tests are exact binomial tests; nothing here is a normal
// approximation. The Thurstonian functions of triangle, 3-AFC and tetrad are
// written in Owen's T, which makes them exact to the last digits. Agreement
// is the two-way analysis of variance of a complete table. The rank test is
// exact, by enumeration, where that is small enough, and a χ² otherwise, with
// a note that says so. A score over weeks is a straight line with Student's
// intervals; the week at which it crosses a threshold has Fieller's interval.
//
// # What it leaves out
//
// Replicated assessments by the same taster (they are not independent: a
// panel of 8 that tastes three times is not a panel of 24), sequential tests,
// incomplete tables, scores that fall along a curve. A difference that a test
// did not find is no proof of likeness: for that there is [Similarity].
package panel
