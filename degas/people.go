package degas

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Limits for carbon dioxide in air, ppm by volume.
//
// Source: NIOSH, Documentation for immediately dangerous to life or health
// concentrations, carbon dioxide, 1994. Local codes govern.
const (
	CO2LimitPPM      = 5000.0  // ppm over 8 h: OSHA and ACGIH, and NIOSH over 10 h; the EU has the same in Directive 2006/15/EC
	CO2ShortLimitPPM = 30000.0 // ppm over 15 min: NIOSH and ACGIH
	CO2DangerPPM     = 40000.0 // ppm, immediately dangerous to life or health
	CO2SignsPPM      = 50000.0 // ppm that give signs of intoxication in 30 min
	OutdoorCO2PPM    = 420.0   // ppm in open air; from memory, about the mean of the 2020s; package headspace has that of 2019
)

// Limits for carbon monoxide in air, ppm by volume, and what was measured. No
// rate at which coffee gives it off could be found, so that nothing is
// computed: measure.
const (
	COLimitNIOSHPPM  = 35.0     // ppm over 10 h; NIOSH, Documentation for IDLH concentrations, carbon monoxide, 1994
	COLimitOSHAPPM   = 50.0     // ppm over 8 h; the same
	COLimitACGIHPPM  = 25.0     // ppm over 8 h; the same
	COLimitEUPPM     = 20.0     // ppm over 8 h; Directive 2004/37/EC Annex III as amended by (EU) 2022/431
	COShortEUPPM     = 100.0    // ppm over 15 min; the same Directive
	CODangerPPM      = 1200.0   // ppm, immediately dangerous to life or health; hygiene association on a NIOSH report, 2025
	COStoreLowPPM    = 35.0     // ppm through an unventilated store of more than 22 t of roasted coffee; Maitland, fire service magazine, on an incident of 2019
	COStoreHighPPM   = 50.0     // ppm, the same
	COTotePPM        = 150.0    // ppm and more at each open tote of 227 kg there
	COGrinderLowPPM  = 1041.0   // ppm, peak near a small grinder; NIOSH evaluation of a coffee packing plant, 2023, quoted
	COGrinderHighPPM = 1521.0   // ppm, the same
	COTankLowPPM     = 10000.0  // ppm in tanks of a coffee extract plant where a man died; letter, JAMA 290, 2003, quoted
	COTankHighPPM    = 100000.0 // ppm, the same
)

// Oxygen, and why its alarm does not protect from carbon dioxide.
const (
	AirOxygenPct   = 20.9 // % by volume, as safety sheets round it; that of package headspace is 20.946
	OxygenAlarmPct = 19.5 // % by volume; OSHA, quoted
)

// CO2PctAtOxygen returns how much carbon dioxide has been mixed into air when
// its oxygen has fallen to a level.
//
//	x = 100·(1 − y/20.9)
//
//	y   oxygenPct   %   accepted 1 to AirOxygenPct
//	x   result      %
//
// At the usual alarm of 19.5 % it is 6.7 %, beyond the 4 % that is immediately
// dangerous: an oxygen alarm does not protect from carbon dioxide. A bad level
// is refused with an [*InputError].
//
// Source: dilution.
func CO2PctAtOxygen(oxygenPct float64) (float64, error) {
	if err := fault.Input(fault.Float(nil, "oxygenPct", oxygenPct, 1, AirOxygenPct, "%")); err != nil {
		return 0, err
	}
	return 100 * (1 - oxygenPct/AirOxygenPct), nil
}

// A Vapour is a concentration of a gas in air to be converted. The zero Vapour
// is refused.
type Vapour struct {
	PPM     float64 // ppm by volume; accepted 0 to 1000000
	GPerMol float64 // molar mass, g/mol; accepted 2 to 400; see CO2GPerMol and COGPerMol
	Conditions
}

// MgPerM3 returns a concentration in milligrams per cubic metre of air.
//
//	c = x·M·P/(R·T)
//
//	x   PPM           ppm
//	M   GPerMol       g/mol
//	T   TempC         °C, then K      25 in American documents, 20 in European ones
//	P   PressureKPa   kPa absolute
//	c   result        mg/m³
//
// Bad fields are refused together with an [*InputError].
//
// Source: ideal gas law.
func MgPerM3(v Vapour) (float64, error) {
	bad := fault.Float(nil, "PPM", v.PPM, 0, 1e6, "ppm")
	bad = fault.Float(bad, "GPerMol", v.GPerMol, 2, 400, "g/mol")
	if err := fault.Input(v.Conditions.check(bad)); err != nil {
		return 0, err
	}
	return v.PPM * v.GPerMol * v.PressureKPa / (GasConstant * (v.TempC + ZeroC)), nil
}

// Emission returns the carbon dioxide that stored coffee gives off on average
// between two ages, in litres per hour at the conditions stated.
//
//	G = m·M0·(F(t₂) − F(t₁))·v/(24·(t₂ − t₁))
//
//	m       coffeeKg           kg     accepted 0.01 to 1000000
//	M0, F   c                  mg/g, fraction
//	t₁, t₂  fromDays, toDays   days   accepted 0 to MaxDays, in order
//	v       by [CO2MLPerG], here L/g
//	G       result             L/h
//
// The first hours run several times higher than the mean of a day. Bad fields
// are refused together with an [*InputError].
//
// Source: mass balance and ideal gas law.
func Emission(coffeeKg float64, c Coffee, fromDays, toDays float64, at Conditions) (float64, error) {
	bad := fault.Float(nil, "coffeeKg", coffeeKg, 0.01, 1e6, "kg")
	bad = c.check(bad)
	bad = checkInterval(bad, fromDays, toDays)
	if err := fault.Input(at.check(bad)); err != nil {
		return 0, err
	}
	mg := coffeeKg * 1000 * c.GasMgPerG * lost(c.Curve, fromDays, toDays)
	return mg * mlPerMg(at.TempC, at.PressureKPa) / 1000 / (24 * (toDays - fromDays)), nil
}

// A Room is a stirred volume of air with a steady source and a steady supply
// of open air. The zero Room is refused.
type Room struct {
	VolumeM3       float64 // V, m³ of air; accepted 0.01 to 1000000
	FreshM3PerHour float64 // Q, m³/h of open air; accepted 0 to 10000000; 0 truly is a closed room
	SourceLPerHour float64 // G, L/h of carbon dioxide, as by [Emission]; accepted 0 to 10000000
	OutdoorPPM     float64 // in the open air and in the room at first, ppm; accepted 300 to 2000; see OutdoorCO2PPM
	Hours          float64 // t, h; accepted 0 to 8760
}

// An Air is the carbon dioxide in a room. The zero Air stands beside an error
// only.
type Air struct {
	PPM     float64 // ppm by volume
	RisePPM float64 // over the open air, ppm
	Notes   Notes
}

func airOf(outdoor, rise float64) Air {
	a := Air{PPM: outdoor + rise, RisePPM: rise}
	if a.PPM > CO2LimitPPM {
		a.Notes |= OverLimit
	}
	if a.PPM > CO2DangerPPM {
		a.Notes |= AirDisplaced
	}
	return a
}

// RoomAir returns the carbon dioxide in a room after some hours of a steady
// source.
//
//	ΔC = (10⁶ − C₀)·G/(Q + G)·(1 − exp(−(Q + G)·t/V))
//
//	G   SourceLPerHour   L/h, here m³/h
//	Q   FreshM3PerHour   m³/h
//	V   VolumeM3         m³
//	t   Hours            h
//	C₀  OutdoorPPM       ppm
//	ΔC  Air.RisePPM      ppm
//
// For a small source it is the usual 10⁶·G/Q·(1 − exp(−Q·t/V)); in full, the
// source drives out as much air as it brings gas. The air is taken as stirred; carbon dioxide
// is heavier and gathers in pits, bins and corners, where there is more. Above
// the 8 h limit the answer carries [OverLimit], above what is immediately
// dangerous [AirDisplaced]. Bad fields are refused together with an
// [*InputError].
//
// Safety: no result of this makes a bin, silo or closed room safe to enter.
// Meters for carbon dioxide and carbon monoxide, local codes and trained
// people do.
//
// Source: mass balance of a stirred volume.
func RoomAir(r Room) (Air, error) {
	bad := fault.Float(nil, "VolumeM3", r.VolumeM3, 0.01, 1e6, "m³")
	bad = fault.Float(bad, "FreshM3PerHour", r.FreshM3PerHour, 0, 1e7, "m³/h")
	bad = fault.Float(bad, "SourceLPerHour", r.SourceLPerHour, 0, 1e7, "L/h")
	bad = fault.Float(bad, "OutdoorPPM", r.OutdoorPPM, 300, 2000, "ppm")
	bad = fault.Float(bad, "Hours", r.Hours, 0, 8760, "h")
	if err := fault.Input(bad); err != nil {
		return Air{}, err
	}
	g := r.SourceLPerHour / 1000
	return airOf(r.OutdoorPPM, stirred(0, g, r.FreshM3PerHour, r.VolumeM3, r.Hours, r.OutdoorPPM)), nil
}

// stirred carries the rise in ppm over a time with a steady source g of pure
// gas and a supply q, both m³/h: V·dC/dt = 10⁶·g − (q + g)·C for the whole
// concentration C, of which the open air brings q·C_out.
func stirred(rise, g, q, volume, hours, outdoor float64) float64 {
	flow := g + q
	if flow == 0 {
		return rise
	}
	// The end, and the way there.
	end := g * (1e6 - outdoor) / flow
	return end + (rise-end)*math.Exp(-flow*hours/volume)
}

// A CoffeeRoom is a room in which coffee of one age is put, all at once. The
// zero CoffeeRoom is refused.
type CoffeeRoom struct {
	CoffeeKg       float64 // kg; accepted 0.01 to 1000000
	Coffee         Coffee
	FromDays       float64 // its age when it comes in, days; accepted 0 to MaxDays
	Hours          float64 // time since then, h; accepted 0 to 8760
	VolumeM3       float64 // V, m³ of air around the coffee; accepted 0.001 to 1000000
	FreshM3PerHour float64 // Q, m³/h of open air; accepted 0 to 10000000; 0 truly is a closed room or bin
	OutdoorPPM     float64 // ppm in the open air and in the room at first; accepted 300 to 2000; see OutdoorCO2PPM
	Conditions
}

// roomSteps cuts the time of a CoffeeRoom. The steps are short at the start,
// where the release is fastest, and at the end, where the answer is read off.
// Eight times as many change the answer by less than 0.2 % (tested).
const roomSteps = 240

// CoffeeRoomAir returns the carbon dioxide in a room or bin some hours after
// coffee was put there, following the coffee's own release curve.
//
//	V·dC/dt = 10⁶·G(t) − (Q + G(t))·C + Q·C₀,   G = m·M0·v·dF/dt
//
//	m, M0, F   CoffeeKg, Coffee   kg, mg/g, fraction
//	v          at the Conditions, L/g
//	Q, V       FreshM3PerHour, VolumeM3   m³/h, m³
//	C₀         OutdoorPPM                 ppm
//
// The time is cut into steps in which G is the exact mean of the curve, so
// that no gas is lost. Notes, refusals and the warning as in [RoomAir].
//
// Source: mass balance of a stirred volume.
func CoffeeRoomAir(r CoffeeRoom) (Air, error) {
	if err := fault.Input(r.check()); err != nil {
		return Air{}, err
	}
	return airOf(r.OutdoorPPM, r.rise(r.Hours, roomSteps, nil)), nil
}

func (r CoffeeRoom) check() []*FieldError {
	bad := fault.Float(nil, "CoffeeKg", r.CoffeeKg, 0.01, 1e6, "kg")
	bad = r.Coffee.check(bad)
	most := float64(MaxDays)
	if r.Hours >= 0 && r.Hours <= 8760 {
		most -= r.Hours / 24
	}
	bad = fault.Float(bad, "FromDays", r.FromDays, 0, most, "days")
	bad = fault.Float(bad, "Hours", r.Hours, 0, 8760, "h")
	bad = fault.Float(bad, "VolumeM3", r.VolumeM3, 0.001, 1e6, "m³")
	bad = fault.Float(bad, "FreshM3PerHour", r.FreshM3PerHour, 0, 1e7, "m³/h")
	bad = fault.Float(bad, "OutdoorPPM", r.OutdoorPPM, 300, 2000, "ppm")
	return r.Conditions.check(bad)
}

// rise steps through the hours and calls each, if any, with the rise.
func (r CoffeeRoom) rise(hours float64, steps int, each func(hours, rise float64)) float64 {
	m3 := r.CoffeeKg * 1000 * r.Coffee.GasMgPerG * mlPerMg(r.TempC, r.PressureKPa) * 1e-6 // all of its gas
	rise, last := 0.0, 0.0
	for i := 1; i <= steps; i++ {
		x := float64(i) / float64(steps)
		t := hours * x * x * x * (10 + x*(6*x-15))
		if dt := t - last; dt > 0 {
			g := m3 * lost(r.Coffee.Curve, r.FromDays+last/24, r.FromDays+t/24) / dt
			rise = stirred(rise, g, r.FreshM3PerHour, r.VolumeM3, dt, r.OutdoorPPM)
		}
		last = t
		if each != nil {
			each(t, rise)
		}
	}
	return rise
}

// An AirAt is the carbon dioxide in a room at a time. The zero AirAt stands
// beside an error only.
type AirAt struct {
	Hours float64 // h after the coffee came in
	Air
}

// CoffeeRoomPeak returns the highest carbon dioxide within r.Hours, and when.
//
//	the largest C over the steps of [CoffeeRoomAir]
//
// Notes, refusals and the warning as in [RoomAir].
//
// Source: see [CoffeeRoomAir].
func CoffeeRoomPeak(r CoffeeRoom) (AirAt, error) {
	if err := fault.Input(r.check()); err != nil {
		return AirAt{}, err
	}
	var top, at float64
	highest := func(hours, rise float64) {
		if rise > top {
			top, at = rise, hours
		}
	}
	r.rise(r.Hours, roomSteps, highest)
	r.rise(math.Min(r.Hours, 2*at), roomSteps, highest) // closer by
	return AirAt{Hours: at, Air: airOf(r.OutdoorPPM, top)}, nil
}

// CoffeeRoomCourse returns the carbon dioxide from the beginning to r.Hours, at
// times that are close together at both ends: what a picture needs.
//
//	C at each step of [CoffeeRoomAir]
//
// Notes, refusals and the warning as in [RoomAir].
//
// Source: see [CoffeeRoomAir].
func CoffeeRoomCourse(r CoffeeRoom) ([]AirAt, error) {
	if err := fault.Input(r.check()); err != nil {
		return nil, err
	}
	course := append(make([]AirAt, 0, roomSteps+1), AirAt{Air: airOf(r.OutdoorPPM, 0)})
	r.rise(r.Hours, roomSteps, func(hours, rise float64) {
		course = append(course, AirAt{Hours: hours, Air: airOf(r.OutdoorPPM, rise)})
	})
	return course, nil
}

// FreshAirFor returns the supply of open air, in m³/h, that keeps a steady
// source at a limit for ever.
//
//	Q = G·(10⁶ − C)/(C − C₀)
//
//	G    sourceLPerHour   L/h   accepted 0 to 10000000
//	C    limitPPM         ppm   accepted outdoorPPM + 10 to 100000
//	C₀   outdoorPPM       ppm   accepted 300 to 2000
//	Q    result           m³/h
//
// It is the least for a stirred room; where people work, codes ask for more.
// Bad fields are refused together with an [*InputError].
//
// Source: mass balance of a stirred volume.
func FreshAirFor(sourceLPerHour, limitPPM, outdoorPPM float64) (float64, error) {
	bad := fault.Float(nil, "sourceLPerHour", sourceLPerHour, 0, 1e7, "L/h")
	low := 310.0
	if outdoorPPM >= 300 && outdoorPPM <= 2000 {
		low = outdoorPPM + 10
	}
	bad = fault.Float(bad, "limitPPM", limitPPM, low, 1e5, "ppm")
	bad = fault.Float(bad, "outdoorPPM", outdoorPPM, 300, 2000, "ppm")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return sourceLPerHour / 1000 * (1e6 - limitPPM) / (limitPPM - outdoorPPM), nil
}

// HoursToLimit returns how long a room with a steady source takes to reach a
// concentration. The Hours of the room do not count.
//
//	[RoomAir] solved for t
//
//	limitPPM   ppm   accepted OutdoorPPM to 1000000
//
// A concentration that is never reached is an [*ImpossibleError] that says
// which one is. Bad fields are refused together with an [*InputError].
//
// Source: see [RoomAir].
func HoursToLimit(r Room, limitPPM float64) (float64, error) {
	r.Hours = 8760
	far, err := RoomAir(r)
	low := 300.0
	if err == nil {
		low = r.OutdoorPPM
	}
	bad := fault.Float(nil, "limitPPM", limitPPM, low, 1e6, "ppm")
	if err != nil {
		if in, ok := err.(*InputError); ok {
			bad = append(in.Fields, bad...)
		}
	}
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	want := limitPPM - r.OutdoorPPM
	if want > far.RisePPM {
		return 0, &ImpossibleError{Quantity: "time", Why: "the room never comes to that concentration",
			Field: "limitPPM", Given: fault.Shortest(limitPPM), Min: r.OutdoorPPM,
			Max: num.Inside(far.PPM, r.OutdoorPPM, func(ppm float64) bool { return ppm-r.OutdoorPPM <= far.RisePPM }), Unit: "ppm"}
	}
	g := r.SourceLPerHour / 1000
	hours, _ := num.Root(func(t float64) float64 {
		return stirred(0, g, r.FreshM3PerHour, r.VolumeM3, t, r.OutdoorPPM) - want
	}, 0, 8760, 0)
	return hours, nil
}
