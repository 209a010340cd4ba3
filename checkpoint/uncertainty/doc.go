// Package uncertainty says how well a result is known: what one reading, its
// meter and its repetition leave open, which input of a formula is to blame
// for most of it, and which digits of the answer are earned.
//
// # Quantities
//
//	x, y   Value        an input and the result of a formula, in any unit
//	u      U            standard uncertainty: one standard deviation of what the value may be, same unit
//	ν      DF           degrees of freedom of u: how well u itself is known
//	c      Sensitivity  how far y moves for one unit of x
//	r      R            correlation of two inputs, −1 to 1
//	p      CoveragePct  share of what is possible that an interval holds, %
//
// # Method
//
// [Measured] and its kin turn what is known about a reading into a Quantity.
// [Propagate] carries Quantities through any Go function by first-order
// propagation (JCGM 100), says which input dominates, and warns where the
// function is too curved for that. [Simulate] does the same by drawing (JCGM
// 101), adaptively, in flat memory, and the same for the same seed.
// [Earned] prints a value with the digits that its uncertainty allows.
//
// # What it leaves out
//
// Models with several outputs, except for their correlation ([OutputR]);
// Bayesian updating of what was known before; drift and hidden bias, which no
// arithmetic on readings can find: check the meter against a standard.
package uncertainty
