package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
)

// A Nozzle is a gas space flushed through a real nozzle, which lies between
// the ideals.
//
// NozzlePct is one number for that place: 100 is a piston; p above 0 is a
// share p of the space driven out as by a piston and the rest stirred; 0 is
// stirred; −b below 0 is stirred with a share b of the gas leaving straight
// for the outlet. The mixing factor K of the fire-safety literature is
// 1 + NozzlePct/100 where that is at most 1.
//
// The zero Nozzle is refused. SupplyPct, GasML and NozzlePct are truly zero
// when zero.
type Nozzle struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space, mL
	GasML     float64 // purge gas fed, mL at the temperature and pressure of the bag
	NozzlePct float64 // −99 (nearly all lost) over 0 (stirred) to 100 (piston), %
}

// A NozzleTarget is a target to be reached through a real nozzle.
//
// The zero NozzleTarget is refused. SupplyPct and NozzlePct are truly zero
// when zero.
type NozzleTarget struct {
	StartPct  float64 // oxygen before, % by volume
	SupplyPct float64 // oxygen in the purge gas, % by volume
	FreeML    float64 // gas space, mL
	TargetPct float64 // oxygen to be reached, % by volume
	NozzlePct float64 // see Nozzle, %
}

// AfterNozzle returns the mean oxygen that a real nozzle leaves.
//
//	θ = V/V_h
//	M = e^(−(1+q)·θ)                for q ≤ 0
//	M = 1 − θ                       for q > 0, θ ≤ q
//	M = (1−q)·e^(−(θ−q)/(1−q))      for q > 0, θ > q
//	y = y_n + (y_0 − y_n)·M
//
//	q    NozzlePct/100  accepted −99 to 100 %
//	y_0  StartPct       %   accepted 0.5 to 100
//	y_n  SupplyPct      %   accepted 0 to 100
//	V_h  FreeML         mL  accepted 1 to 1e9
//	V    GasML          mL  accepted 0 to 1e12
//
// For q > 0 it is a piston volume and a stirred volume one after the other;
// the mean is the same whichever comes first. The two branches join at 0 with
// equal slope, so that a fit may cross it. It is a description with one
// number, not a flow calculation: no value for a bag under a nozzle is
// published, so fit it from your own readings with [FitNozzle].
//
// Source: Cholette and Cloutier, Canadian Journal of Chemical Engineering 37,
// 1959 (piston, stirred and bypassed volumes), from memory; NFPA 69 annex for
// q ≤ 0, where K = 1 + q.
func AfterNozzle(n Nozzle) (Purged, error) {
	bad := gasSpace(nil, n.StartPct, n.SupplyPct, n.FreeML)
	bad = fault.Float(bad, "GasML", n.GasML, 0, maxGasML, "mL")
	bad = fault.Float(bad, "NozzlePct", n.NozzlePct, minNozzlePct, 100, "%")
	if bad != nil {
		return Purged{}, fault.Input(bad)
	}
	p := Purge{n.StartPct, n.SupplyPct, n.FreeML, n.GasML}
	return p.left(nozzleShare(n.GasML/n.FreeML, n.NozzlePct/100)), nil
}

// NozzleFor returns the gas that brings the mean oxygen to a target through a
// real nozzle, the inverse of [AfterNozzle].
//
//	m = (y − y_n)/(y_0 − y_n)
//	θ = −ln(m)/(1+q)             for q ≤ 0
//	θ = 1 − m                    for q > 0, m ≥ 1 − q
//	θ = q + (1−q)·ln((1−q)/m)    for q > 0, m < 1 − q
//
//	y  TargetPct  %  accepted 1e-6 to 100
//
// Other symbols as in AfterNozzle; refusals as in [SweepFor].
//
// Source: as AfterNozzle, solved for the gas.
func NozzleFor(t NozzleTarget) (Needed, error) {
	bad := target(nil, t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct)
	bad = fault.Float(bad, "NozzlePct", t.NozzlePct, minNozzlePct, 100, "%")
	if bad != nil {
		return Needed{}, fault.Input(bad)
	}
	g := Target{t.StartPct, t.SupplyPct, t.FreeML, t.TargetPct}
	left, done, err := g.share("gas volume")
	if err != nil || done {
		return Needed{Notes: there(done)}, err
	}
	return g.gas(nozzleVolumes(left, t.NozzlePct/100)), nil
}

// minNozzlePct is the worst nozzle accepted: 1 % of the gas does work.
const minNozzlePct = -99

// nozzleShare is the share of start gas left after theta volumes.
func nozzleShare(theta, q float64) float64 {
	switch {
	case q <= 0:
		return math.Exp(-(1 + q) * theta)
	case theta <= q:
		return 1 - theta
	case q >= 1:
		return 0
	}
	return (1 - q) * math.Exp(-(theta-q)/(1-q))
}

// nozzleVolumes is the inverse of nozzleShare, for a share over 0 and under 1.
func nozzleVolumes(left, q float64) float64 {
	switch {
	case q <= 0:
		return -math.Log(left) / (1 + q)
	case left >= 1-q:
		return 1 - left
	}
	return q + (1-q)*math.Log((1-q)/left)
}
