// Package sampling says what a few readings tell about the whole lot: how far
// its worst share may lie from the readings' mean, how many readings it takes,
// and which readings to look at twice.
//
// # Quantities
//
//	n        readings or units drawn, count
//	x̄, s     Mean, SD         mean and standard deviation of the readings, in their unit
//	p        CoveragePct      the share of the lot that a claim is about, %
//	γ        ConfidencePct    how often such a claim is right, %
//	k        factor           x̄ ± k·s is the bound, pure number
//	c        Ac               bad units with which a lot is still accepted, count
//	AQL      AQLPct           the quality that a plan accepts nearly always, % bad
//
// Coverage and confidence are both percents and are easily swapped: a bound
// for 95 % of bags with 99 % confidence is not one for 99 % with 95 %. Every
// name here says which.
//
// # Method
//
// Tolerance bounds are exact for a normal lot, by the noncentral t; of
// lognormal data take the bound on logarithms, which Lognormal does. Plans by
// attributes are exact binomial or hypergeometric, plans by variables exact
// noncentral t. Outlier tests flag and never delete.
//
// # What it leaves out
//
// How to draw: units must come from all over one lot, independently. Ten
// readings of one bag are one bag. Lots that are mixtures of several.
package sampling
