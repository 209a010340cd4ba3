// Package checkpoint says whether a reading is within its limit, and when
// nobody can tell: what the meter's own uncertainty leaves open is called too
// close to call, with the uncertainty that it would take to call it.
//
// # Quantities
//
//	y         Value     the reading, in any unit
//	u         U         its standard uncertainty, same unit
//	T_L, T_U  Lo, Hi    the limit, same unit
//	α         riskPct   the risk of a wrong call to accept, %
//	p_c       InPct     probability that the true value is inside, %
//
// # Method
//
// Conformance probability and guard bands after JCGM 106, for a normal
// uncertainty. Limits come from the user, a contract or a law: this package
// holds none. How u is found is the business of checkpoint/uncertainty; whether
// the rest of the lot is like the reading, that of checkpoint/sampling; whether
// today is like last month, that of checkpoint/chart.
//
// # What it leaves out
//
// Uncertainties far from normal (take the probability from a Monte Carlo run
// of checkpoint/uncertainty); knowledge of the process beyond the reading,
// except in [FalseAccept].
package checkpoint
