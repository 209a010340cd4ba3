// Package weighing answers whether a scale can be believed, how little may be
// weighed on it, and whether packs hold what they say: by how much a single
// pack may fall short, what the mean must be, how much to overfill at a given
// spread, and what that gives away.
//
// # Quantities
//
//	m        LoadG         load on the scale, g
//	I        ReadingG      what the scale shows, g
//	e        IntervalG     verification scale interval, g (on the plate of a scale for trade)
//	d        DivisionG     smallest step shown, g
//	E        ErrorG        indication less load, g
//	mpe      LimitG        permissible error, g
//	s        SpreadG, RepeatabilityG   standard deviation, g
//	Q_n      NominalG      nominal content of a pack, g
//	T_1      T1G           tolerable shortage of a single pack, g
//	n, N     sample, batch
//
// Whatever is weighed is a decimal, to its last digit; a spread is a float.
//
// # Method
//
// Permissible errors of scales after OIML R 76, of test weights after OIML
// R 111, the smallest weighing after USP chapter 41, packs after Council
// Directive 76/211/EEC (and the United Kingdom's regulations of 2006, which
// have its numbers), the international recommendation OIML R 87 and, for one
// table, New Zealand's regulations.
//
// # Legal metrology is local
//
// These are the rules of one union, one kingdom and one recommendation. A
// scale used for trade must be of an approved type and verified where it
// stands, and the inspector's own rules and reference tests decide about a
// pack: ask the local weights and measures authority. Other countries have
// other shortages, other plans, and drained or moisture-dependent contents
// have rules of their own. Nothing here replaces a verification.
//
// # What it leaves out
//
// Multi-interval and multi-range scales (give each range's own e), eccentric
// loading, temperature, air buoyancy (0.1 % of the weight in common, and the
// same for test weight and coffee to about 0.1 g in a kilogram), contents by
// volume, and labels with the e mark.
package weighing
