package headspace

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Cautions that belong beside every answer about people.
const (
	CautionNitrogen = "Nitrogen gives no warning: a few breaths of it can make a person unconscious, and rescuers are often the next victims. " +
		"This is a calculation and no gas detector: it takes the room as mixed, which a leak is not. " +
		"Fixed oxygen alarm and ventilation first; local codes and a licensed practitioner decide."
	CautionCarbonDioxide = "Carbon dioxide is toxic long before it takes enough oxygen to alarm an oxygen meter, and it gathers low. " +
		"Measure it with a carbon dioxide meter. This is a calculation and no gas detector; local codes and a licensed practitioner decide."
)

// Oxygen limits in rooms. They differ between countries: local law decides.
const (
	DeficientOxygenPct   = 19.5 // % by volume; OSHA letter of 2 April 2007 on 29 CFR 1910.134: below it deficient and immediately dangerous; opened
	EvacuateOxygenPct    = 18.0 // % by volume; second alarm in laboratories (UK university note), legal limit in Taiwan; opened
	EnrichedOxygenPct    = 23.5 // % by volume; OSHA 29 CFR 1910.146, above it fire hazard; quoted
	ImpairedOxygenPct    = 17.0 // % by volume; an industrial-gas safety table: impaired judgement begins to show; opened
	USNitrogenDeathCount = 80   // deaths, United States 1992 to 2002; CSB Safety Bulletin 2003-10-B; opened
)

// Carbon dioxide limits, ppm by volume.
const (
	CO2LongPPM        = 5000  // ppm over 8 h; OSHA PEL and HSE EH40; quoted by public safety pages
	CO2ShortUKPPM     = 15000 // ppm over 15 min; HSE EH40/2005; quoted by a sensor article
	CO2ShortUSPPM     = 30000 // ppm over 15 min; ACGIH TLV-STEL; quoted by OSHA rulemaking text
	CO2DangerPPM      = 40000 // ppm, immediately dangerous to life or health; NIOSH; quoted by a building-safety page
	CO2UnconsciousPct = 10    // %, to 15 %: unconscious within minutes; EPA appendix; quoted by a building-safety page
	CO2OutsidePPM     = 412   // ppm outside, about 2019; The Engineering ToolBox, air composition; opened
	CO2YieldLPerKG    = 6     // L/kg given off by fresh roast, an upper figure; encyclopaedia article on package valves; opened
)

// Air changes of rooms without a fan, per hour. Source: University of Oxford
// Safety Office, policy S4/03 (basement); CCPS, CHEF Guide, table 12-7 (the
// others); opened.
const (
	AirChangesBasementPerHour   = 0.4  // 1/h
	AirChangesTightHousePerHour = 0.25 // 1/h
	AirChangesHousePerHour      = 0.5  // 1/h
	AirChangesLeakyPerHour      = 1.0  // 1/h
)

// An Effect is what a level of a gas does to people, as one source has it.
// Agencies differ: take the band as a warning and never as a safe time.
type Effect struct {
	LowPct, HighPct float64 // band, % by volume
	What            string  // what happens
	Source          string  // who says so
}

// OxygenEffects returns the effects of too little oxygen, at one atmosphere,
// from the mildest.
//
// Source: 'The effects of oxygen deficiency', a construction-safety table, and
// a safety table of an industrial-gas company; opened.
func OxygenEffects() [6]Effect {
	const table = "construction-safety table 'The effects of oxygen deficiency' (opened)"
	return [6]Effect{
		{17, 17, "impaired judgement begins to show", "safety table of an industrial-gas company (opened)"},
		{15, 19, "less able to work hard; coordination may suffer", table},
		{12, 14, "pulse quickens; poor coordination and judgement", table},
		{8, 10, "fainting and unconsciousness", table},
		{6, 8, "death within 8 minutes; half die within 6", table},
		{4, 6, "coma within 40 seconds", table},
	}
}

// CarbonDioxideEffects returns limits and effects of carbon dioxide, from the
// lowest.
//
// Source: OSHA, HSE EH40, ACGIH, NIOSH, EPA, each as quoted by a public safety
// page.
func CarbonDioxideEffects() [5]Effect {
	return [5]Effect{
		{0.5, 0.5, "limit over 8 hours", "OSHA PEL, HSE EH40 (quoted)"},
		{1.5, 1.5, "limit over 15 minutes, United Kingdom", "HSE EH40 (quoted)"},
		{3, 3, "limit over 15 minutes, United States", "ACGIH (quoted)"},
		{4, 4, "immediately dangerous to life or health", "NIOSH (quoted)"},
		{10, 15, "unconscious within one to several minutes", "EPA appendix (quoted)"},
	}
}

// A Spill is gas let go at once in a closed room.
//
// The zero Spill is refused. GasM3 is truly zero when zero.
type Spill struct {
	RoomM3   float64 // free volume of the room, m³: height capped at 2 m, furniture off
	GasM3    float64 // gas let go, m³ at the state of the room
	StartPct float64 // oxygen before, % by volume
}

// Spilled is the oxygen after a release.
type Spilled struct {
	OxygenPct float64 // when the gas drives out pure room air, the lower one: use this, % by volume
	MixedPct  float64 // when what leaves is already mixed, % by volume
}

// AfterSpill returns the oxygen of a closed room after a sudden release of
// nitrogen or another gas without oxygen.
//
//	x = x_0·max(0, 1 − V_g/V)   OxygenPct
//	x = x_0·e^(−V_g/V)          MixedPct
//
//	V    RoomM3    m³  accepted 0.1 to 1e6
//	V_g  GasM3     m³  accepted 0 to 1e6
//	x_0  StartPct  %   accepted 0 to 100
//
// Near the leak and near the floor it is worse. [CautionNitrogen] holds.
//
// Source: UK laboratory safety guides (first form, the default); perfect
// mixing (second form).
func AfterSpill(s Spill) (Spilled, error) {
	bad := fault.Float(nil, "RoomM3", s.RoomM3, 0.1, 1e6, "m³")
	bad = fault.Float(bad, "GasM3", s.GasM3, 0, 1e6, "m³")
	bad = fault.Float(bad, "StartPct", s.StartPct, 0, 100, "%")
	if bad != nil {
		return Spilled{}, fault.Input(bad)
	}
	r := s.GasM3 / s.RoomM3
	return Spilled{OxygenPct: s.StartPct * math.Max(0, 1-r), MixedPct: s.StartPct * math.Exp(-r)}, nil
}

// A Fan says which way the air of a room is moved.
type Fan uint8

// The ways of moving air. The zero Fan is refused: they differ.
const (
	// BlownIn: FreshM3PerHour is blown or drifts in; what leaves is that and
	// the leak.
	BlownIn Fan = iota + 1

	// DrawnOut: FreshM3PerHour is what a fan draws out; the leak is part of it,
	// so that less fresh air comes in.
	DrawnOut
)

// A Leak is gas without oxygen that leaks into a ventilated room.
//
// The zero Leak is refused. LeakM3PerHour and Hours are truly zero when zero.
type Leak struct {
	RoomM3        float64 // free volume of the room, m³
	LeakM3PerHour float64 // leak, m³/h at the state of the room
	AirM3PerHour  float64 // air moved, m³/h: air changes times RoomM3
	Fan           Fan     // which way
	StartPct      float64 // oxygen in the room at the start, % by volume
	OutsidePct    float64 // oxygen outside, % by volume
	MixingFactor  float64 // K: share of the air that takes part, 0.1 to 1
	Hours         float64 // time since the start, h
}

// Breathed is the oxygen of a room.
type Breathed struct {
	OxygenPct float64 // now, % by volume
	SteadyPct float64 // after a long time, % by volume
}

// AfterLeak returns the oxygen of a ventilated room under a steady leak, and,
// with a leak of 0, its recovery.
//
//	F = Q (BlownIn), F = max(0, Q − R) (DrawnOut)
//	x_s = x_e·F/(F + R)
//	x = x_s + (x_0 − x_s)·e^(−K·(F + R)·t/V)
//
//	V    RoomM3         m³    accepted 0.1 to 1e6
//	R    LeakM3PerHour  m³/h  accepted 0 to 1e6
//	Q    AirM3PerHour   m³/h  accepted 0 to 1e7
//	x_0  StartPct       %     accepted 0 to 100
//	x_e  OutsidePct     %     accepted 0 to 100
//	K    MixingFactor         accepted 0.1 to 1
//	t    Hours          h     accepted 0 to 8784
//
// Without leak and air nothing changes. The guides use a K of 0.2 for a room
// purged through one opening; it slows the change and leaves the steady level.
// [CautionNitrogen] holds.
//
// Source: Fermilab ES&H Manual, chapter 4240, cases A to D; quoted by an open
// source module.
func AfterLeak(l Leak) (Breathed, error) {
	bad := l.check(nil)
	bad = fault.Float(bad, "Hours", l.Hours, 0, 8784, "h")
	if bad != nil {
		return Breathed{}, fault.Input(bad)
	}
	steady, rate := l.flow()
	return Breathed{
		OxygenPct: blend(l.StartPct, steady, math.Exp(-rate*l.Hours)),
		SteadyPct: steady,
	}, nil
}

// HoursToOxygen returns the time after which the oxygen of a room under a
// steady leak has fallen, or after the leak has risen, to a level: how long
// until the alarm.
//
//	t = V/(K·(F + R))·ln((x_0 − x_s)/(x − x_s))
//
//	x  levelPct  %  accepted 0 to 100
//
// Symbols as in [AfterLeak]; l.Hours is not read. A level that is never
// reached is an [*ImpossibleError] that says why: the ventilation carries the
// leak, or the room is beyond the level from the start, which for a low level
// of oxygen is no good news. [CautionNitrogen] holds.
//
// Source: as AfterLeak, solved for the time.
func HoursToOxygen(l Leak, levelPct float64) (float64, error) {
	bad := l.check(nil)
	bad = fault.Float(bad, "levelPct", levelPct, 0, 100, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	steady, rate := l.flow()
	hours := func(pct float64) float64 { // NaN or +Inf for never
		if pct == l.StartPct {
			return 0
		}
		if !(pct > math.Min(l.StartPct, steady) && pct < math.Max(l.StartPct, steady)) {
			return math.NaN()
		}
		return math.Log((l.StartPct-steady)/(pct-steady)) / rate
	}
	h := hours(levelPct)
	if !(h <= math.MaxFloat64) {
		why := "the room settles at " + fault.Shortest(steady) + " % and never passes the level"
		switch {
		case levelPct > math.Max(l.StartPct, steady):
			why = "the room is below the level from the start and stays there: it settles at " + fault.Shortest(steady) + " %"
		case levelPct < l.StartPct && steady > l.StartPct:
			why = "the room is above the level from the start and rises to " + fault.Shortest(steady) + " %"
		}
		if !(rate > 0) {
			why = "there is neither leak nor air: nothing changes"
		}
		// The steady level itself takes for ever.
		near := num.Furthest(l.StartPct, math.Nextafter(steady, l.StartPct), func(pct float64) bool { return hours(pct) <= math.MaxFloat64 })
		return 0, &ImpossibleError{
			Quantity: "time to that oxygen", Why: why,
			Field: "levelPct", Given: fault.Shortest(levelPct), Min: math.Min(near, l.StartPct), Max: math.Max(near, l.StartPct), Unit: "%",
		}
	}
	return h, nil
}

// An Allowance is the question how much may leak.
//
// The zero Allowance is refused.
type Allowance struct {
	AirM3PerHour float64 // air moved, m³/h
	Fan          Fan     // which way
	OutsidePct   float64 // oxygen outside, % by volume
	LevelPct     float64 // oxygen to be kept, % by volume
}

// LeakAllowed returns the steady leak that holds a room at a level, m³/h: the
// most that the ventilation carries.
//
//	R = Q·(x_e/x − 1)   BlownIn
//	R = Q·(1 − x/x_e)   DrawnOut
//
//	Q    AirM3PerHour  m³/h  accepted 0 to 1e7
//	x_e  OutsidePct    %     accepted 10 to 100
//	x    LevelPct      %     accepted 1 to OutsidePct
//
// [CautionNitrogen] holds.
//
// Source: as [AfterLeak], solved for the leak.
func LeakAllowed(a Allowance) (float64, error) {
	bad := fault.Float(nil, "AirM3PerHour", a.AirM3PerHour, 0, 1e7, "m³/h")
	bad = a.Fan.check(bad)
	n := len(bad)
	bad = fault.Float(bad, "OutsidePct", a.OutsidePct, 10, 100, "%")
	most := 100.0
	if len(bad) == n {
		most = a.OutsidePct
	}
	bad = fault.Float(bad, "LevelPct", a.LevelPct, 1, most, "%")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	if a.Fan == DrawnOut {
		return a.AirM3PerHour * (1 - a.LevelPct/a.OutsidePct), nil
	}
	return a.AirM3PerHour * (a.OutsidePct/a.LevelPct - 1), nil
}

// A Resting is coffee that gives off carbon dioxide into a ventilated room.
//
// The zero Resting is refused. CO2M3PerHour, StartPPM, OutsidePPM and Hours
// are truly zero when zero.
type Resting struct {
	RoomM3       float64 // free volume of the room, m³
	CO2M3PerHour float64 // carbon dioxide given off, m³/h at the state of the room
	AirM3PerHour float64 // fresh air blown or drifting in, m³/h
	StartPPM     float64 // carbon dioxide in the room at the start, ppm by volume
	OutsidePPM   float64 // carbon dioxide outside, ppm by volume
	MixingFactor float64 // K: share of the air that takes part, 0.1 to 1
	Hours        float64 // time since the start, h
}

// Loaded is the carbon dioxide of a room.
type Loaded struct {
	PPM       float64 // carbon dioxide now, ppm by volume
	SteadyPPM float64 // carbon dioxide after a long time, ppm by volume; the whole room without air
	OxygenPct float64 // what an oxygen meter would show now in dry air, % by volume: no measure of this danger
}

// AfterResting returns the carbon dioxide of a room where coffee rests.
//
//	c_s = (F·c_e + R·10⁶)/(F + R)
//	c = c_s + (c_0 − c_s)·e^(−K·(F + R)·t/V)
//
//	V    RoomM3        m³    accepted 0.1 to 1e6
//	R    CO2M3PerHour  m³/h  accepted 0 to 1e5
//	F    AirM3PerHour  m³/h  accepted 0 to 1e7
//	c_0  StartPPM      ppm   accepted 0 to 1e6
//	c_e  OutsidePPM    ppm   accepted 0 to 1e5
//	K    MixingFactor        accepted 0.1 to 1
//	t    Hours         h     accepted 0 to 8784
//
// [CautionCarbonDioxide] holds.
//
// Source: mass balance, as [AfterLeak].
func AfterResting(r Resting) (Loaded, error) {
	bad := r.check()
	if bad != nil {
		return Loaded{}, fault.Input(bad)
	}
	steady, rate := r.StartPPM, 0.0
	if all := r.AirM3PerHour + r.CO2M3PerHour; all > 0 {
		steady = (r.AirM3PerHour*r.OutsidePPM + r.CO2M3PerHour*1e6) / all
		rate = r.MixingFactor * all / r.RoomM3
	}
	c := blend(r.StartPPM, steady, math.Exp(-rate*r.Hours))
	return Loaded{PPM: c, SteadyPPM: steady, OxygenPct: AirOxygenPct * (1 - c/1e6) / (1 - CO2OutsidePPM/1e6)}, nil
}

func (r Resting) check() []*FieldError {
	bad := fault.Float(nil, "RoomM3", r.RoomM3, 0.1, 1e6, "m³")
	bad = fault.Float(bad, "CO2M3PerHour", r.CO2M3PerHour, 0, 1e5, "m³/h")
	bad = fault.Float(bad, "AirM3PerHour", r.AirM3PerHour, 0, 1e7, "m³/h")
	bad = fault.Float(bad, "StartPPM", r.StartPPM, 0, 1e6, "ppm")
	bad = fault.Float(bad, "OutsidePPM", r.OutsidePPM, 0, 1e5, "ppm")
	bad = fault.Float(bad, "MixingFactor", r.MixingFactor, 0.1, 1, "")
	return fault.Float(bad, "Hours", r.Hours, 0, 8784, "h")
}

// A FreshAir is the question how much air a room of resting coffee needs.
//
// The zero FreshAir is refused. OutsidePPM is truly zero when zero.
type FreshAir struct {
	CO2M3PerHour float64 // carbon dioxide given off, m³/h
	OutsidePPM   float64 // carbon dioxide outside, ppm by volume
	LevelPPM     float64 // carbon dioxide to be kept, ppm by volume
}

// FreshAirFor returns the fresh air that keeps a room of resting coffee at a
// level of carbon dioxide, m³/h.
//
//	F = R·(10⁶ − c)/(c − c_e)
//
//	R    CO2M3PerHour  m³/h  accepted 1e-9 to 1e5
//	c_e  OutsidePPM    ppm   accepted 0 to 1e5
//	c    LevelPPM      ppm   accepted 100 to 1e6
//
// A level at or below that outside is an [*ImpossibleError].
// [CautionCarbonDioxide] holds.
//
// Source: as [AfterResting], solved for the air.
func FreshAirFor(f FreshAir) (float64, error) {
	bad := fault.Float(nil, "CO2M3PerHour", f.CO2M3PerHour, 1e-9, 1e5, "m³/h")
	bad = fault.Float(bad, "OutsidePPM", f.OutsidePPM, 0, 1e5, "ppm")
	bad = fault.Float(bad, "LevelPPM", f.LevelPPM, 100, 1e6, "ppm")
	if bad != nil {
		return 0, fault.Input(bad)
	}
	if !(f.LevelPPM > f.OutsidePPM) {
		return 0, &ImpossibleError{
			Quantity: "fresh air", Why: "the air outside holds no less carbon dioxide than the level",
			Field: "LevelPPM", Given: fault.Shortest(f.LevelPPM), Min: math.Nextafter(f.OutsidePPM, 1e6), Max: 1e6, Unit: "ppm",
		}
	}
	return f.CO2M3PerHour * (1e6 - f.LevelPPM) / (f.LevelPPM - f.OutsidePPM), nil
}

// flow is the steady oxygen, %, and the rate of approach to it, per hour.
func (l Leak) flow() (steadyPct, perHour float64) {
	fresh := l.AirM3PerHour
	if l.Fan == DrawnOut {
		fresh = math.Max(0, fresh-l.LeakM3PerHour)
	}
	all := fresh + l.LeakM3PerHour
	if all == 0 {
		return l.StartPct, 0
	}
	return l.OutsidePct * fresh / all, l.MixingFactor * all / l.RoomM3
}

func (l Leak) check(bad []*FieldError) []*FieldError {
	bad = fault.Float(bad, "RoomM3", l.RoomM3, 0.1, 1e6, "m³")
	bad = fault.Float(bad, "LeakM3PerHour", l.LeakM3PerHour, 0, 1e6, "m³/h")
	bad = fault.Float(bad, "AirM3PerHour", l.AirM3PerHour, 0, 1e7, "m³/h")
	bad = l.Fan.check(bad)
	bad = fault.Float(bad, "StartPct", l.StartPct, 0, 100, "%")
	bad = fault.Float(bad, "OutsidePct", l.OutsidePct, 0, 100, "%")
	return fault.Float(bad, "MixingFactor", l.MixingFactor, 0.1, 1, "")
}

func (f Fan) check(bad []*FieldError) []*FieldError {
	return fault.Int(bad, "Fan", int(f), int(BlownIn), int(DrawnOut), "")
}
