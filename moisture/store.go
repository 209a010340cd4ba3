package moisture

import (
	"math"
	"slices"
	"strconv"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Accepted times of a store.
const (
	MinTimeConstantDays = 0.01   // least time constant accepted, days
	MaxTimeConstantDays = 10_000 // greatest time constant accepted, days
	MaxStoreDays        = 10_000 // longest time accepted, days
)

// Stay is a lot in a room that does not change. The zero Stay is refused.
type Stay struct {
	MoisturePct      float64 // content at the beginning, % wet basis
	EquilibriumPct   float64 // content that the room brings it to, % wet basis
	TimeConstantDays float64 // time in which 63 % of the way is gone, days
}

func (s Stay) refuse() []*FieldError {
	bad := fault.Float(nil, "MoisturePct", s.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
	bad = fault.Float(bad, "EquilibriumPct", s.EquilibriumPct, MinMoisturePct, MaxMoisturePct, "%")
	return fault.Float(bad, "TimeConstantDays", s.TimeConstantDays, MinTimeConstantDays, MaxTimeConstantDays, "days")
}

// DriftAfter returns the content, % wet basis, of a lot after some days in a
// room: it goes towards the equilibrium fast at first and ever slower.
//
//	X(t) = X_e + (X₀ − X_e)·exp(−t/τ)
//
//	X₀   Stay.MoisturePct       % wet basis  accepted 0.5 to 80, taken to dry basis
//	X_e  Stay.EquilibriumPct    % wet basis  accepted 0.5 to 80, taken to dry basis
//	τ    Stay.TimeConstantDays  days         accepted 0.01 to 10 000
//	t    days                   days         accepted 0 to 10 000
//
// Outside, and for NaN, it returns 0 and an [*InputError].
//
// First order holds where one resistance rules: air between the sacks, or a
// liner. No time constant of a sack was found in a source: fit it from two
// weighings of your own with [FitDrift]. The outside of a sack goes faster
// than its core.
//
// Source: definition, first-order approach to equilibrium.
func DriftAfter(s Stay, days float64) (moisturePct float64, err error) {
	if err := fault.Input(fault.Float(s.refuse(), "days", days, 0, MaxStoreDays, "days")); err != nil {
		return 0, err
	}
	x0, xe := dryFromWet(s.MoisturePct), dryFromWet(s.EquilibriumPct)
	return wetFromDry(xe + (x0-xe)*math.Exp(-days/s.TimeConstantDays)), nil
}

// DaysToMoisture returns the days until a lot reaches a content.
//
//	t = τ·ln[(X₀ − X_e)/(X₁ − X_e)]
//
//	X₀, X_e, τ  as in [DriftAfter]
//	X₁  targetPct  % wet basis  accepted 0.5 to 80, between X₀ and X_e
//	t              days
//
// Outside the accepted ranges, and for NaN, it returns 0 and an [*InputError];
// a content that the room never brings it to gives an [*ImpossibleError].
//
// Source: definition, first-order approach to equilibrium.
func DaysToMoisture(s Stay, targetPct float64) (days float64, err error) {
	if err := fault.Input(fault.Float(s.refuse(), "targetPct", targetPct, MinMoisturePct, MaxMoisturePct, "%")); err != nil {
		return 0, err
	}
	x0, xe, x1 := dryFromWet(s.MoisturePct), dryFromWet(s.EquilibriumPct), dryFromWet(targetPct)
	if x1 == x0 {
		return 0, nil
	}
	passed := func(x1 float64) (ratio float64, ok bool) {
		ratio = (x0 - xe) / (x1 - xe)
		return ratio, ratio > 1 && ratio < math.Inf(1)
	}
	ratio, ok := passed(x1)
	if !ok {
		// It comes as near to the equilibrium as may be, and never there.
		near := num.Inside(s.EquilibriumPct, s.MoisturePct, func(pct float64) bool { _, ok := passed(dryFromWet(pct)); return ok })
		return 0, &ImpossibleError{Quantity: "day", Why: "this room never brings the lot to that content",
			Field: "targetPct", Given: fault.Shortest(targetPct), Min: math.Min(s.MoisturePct, near), Max: math.Max(s.MoisturePct, near), Unit: "%"}
	}
	return s.TimeConstantDays * math.Log(ratio), nil
}

// StoreReading is a lot's content on a day, by a meter or by weighing back
// with [MoistureByWeight]. The zero StoreReading is refused.
type StoreReading struct {
	Days        float64 // days since any fixed moment
	MoisturePct float64 // content, % wet basis
}

// DriftFit is what FitDrift and FitDriftAndEquilibrium found. A standard error
// is 0 where the readings leave nothing to judge it by.
type DriftFit struct {
	TimeConstantDays   float64 // τ, days
	TimeConstantSEDays float64 // its standard error, days
	StartPct           float64 // content at the first reading, on the curve, % wet basis
	EquilibriumPct     float64 // content approached, given or fitted, % wet basis
	EquilibriumSEPct   float64 // its standard error, %; 0 when it was given
	ResidualDryPct     float64 // standard deviation about the curve, % dry basis
	Notes              Notes   // what to tell the reader beside the numbers
}

// MaxReadingsCount is the greatest number of readings that a drift is fitted to.
const MaxReadingsCount = 100_000

// FitDrift returns how fast a lot drifts in its store, from two or more
// readings of it and the content that the room brings it to.
//
//	X(t) = X_e + (X₀ − X_e)·exp(−t/τ), least squares for X₀ and τ
//	two readings: τ = (t₂ − t₁)/ln[(X₁ − X_e)/(X₂ − X_e)]
//
//	t    StoreReading.Days         days         accepted 0 to 10 000, rising
//	X    StoreReading.MoisturePct  % wet basis  accepted 0.5 to 80, taken to dry basis
//	X_e  equilibriumPct            % wet basis  accepted 0.5 to 80, such as EquilibriumMoisture of the room
//	τ    DriftFit.TimeConstantDays days
//
// Two readings fix the curve and leave no uncertainty to state; fewer than
// five carry [FewPairs]. Outside the accepted ranges it returns the zero
// DriftFit and an [*InputError]; readings that do not go towards the
// equilibrium, or cross it, give an [*ImpossibleError].
//
// The equilibrium from a curve is known to ± 0.4 % only; when the readings
// come close to it, use [FitDriftAndEquilibrium].
//
// Source: definition, first-order approach to equilibrium.
func FitDrift(readings []StoreReading, equilibriumPct float64) (DriftFit, error) {
	bad := refuseReadings(readings, 2)
	bad = fault.Float(bad, "equilibriumPct", equilibriumPct, MinMoisturePct, MaxMoisturePct, "%")
	if err := fault.Input(bad); err != nil {
		return DriftFit{}, err
	}
	n := len(readings)
	first, last := readings[0], readings[n-1]
	xe := dryFromWet(equilibriumPct)
	d0, d1 := dryFromWet(first.MoisturePct)-xe, dryFromWet(last.MoisturePct)-xe
	if d0/d1 > 1 && d0/d1 < math.Inf(1) {
		return drift(readings, equilibriumPct)
	}
	none := &ImpossibleError{Quantity: "time constant",
		Why: "the last reading does not lie between the first and the equilibrium"}
	takes := func(pct float64) bool {
		again := slices.Clone(readings)
		again[n-1].MoisturePct = pct
		d1 := dryFromWet(pct) - xe
		if !(d0/d1 > 1 && d0/d1 < math.Inf(1)) {
			return false
		}
		_, err := drift(again, equilibriumPct)
		return err == nil
	}
	span := last.Days - first.Days
	slow, fast := wetFromDry(xe+d0*math.Exp(-span/MaxTimeConstantDays)), wetFromDry(xe+d0*math.Exp(-span/MinTimeConstantDays))
	middle := (slow + fast) / 2
	slow, fast = num.Inside(slow, middle, takes), num.Inside(fast, middle, takes)
	if takes(slow) && takes(fast) {
		none.Field, none.Given, none.Unit = "readings["+strconv.Itoa(n-1)+"].MoisturePct", fault.Shortest(last.MoisturePct), "%"
		none.Min, none.Max = math.Min(slow, fast), math.Max(slow, fast)
	}
	return DriftFit{}, none
}

// drift fits readings that go towards the equilibrium.
func drift(readings []StoreReading, equilibriumPct float64) (DriftFit, error) {
	n := len(readings)
	first, last := readings[0], readings[n-1]
	xe := dryFromWet(equilibriumPct)
	d0, d1 := dryFromWet(first.MoisturePct)-xe, dryFromWet(last.MoisturePct)-xe
	tau := (last.Days - first.Days) / math.Log(d0/d1)
	f := DriftFit{TimeConstantDays: tau, StartPct: first.MoisturePct, EquilibriumPct: equilibriumPct}
	if n > 2 {
		fit, err := num.LeastSquares(n, []float64{d0, math.Log(tau)}, func(dst, p []float64) {
			for i, r := range readings {
				dst[i] = xe + p[0]*math.Exp(-(r.Days-first.Days)*math.Exp(-p[1])) - dryFromWet(r.MoisturePct)
			}
		})
		if err != nil {
			return DriftFit{}, noDrift(err.Error(), n)
		}
		f.TimeConstantDays = math.Exp(fit.P[1])
		f.TimeConstantSEDays = f.TimeConstantDays * fit.SE[1]
		f.StartPct = wetFromDry(xe + fit.P[0])
		f.ResidualDryPct = fit.ResidualSD()
	}
	if n < 5 {
		f.Notes |= FewPairs
	}
	return sound(f, n)
}

// FitDriftAndEquilibrium is FitDrift for readings that come so close to their
// end that they tell it themselves: it fits the equilibrium too.
//
//	X(t) = X_e + (X₀ − X_e)·exp(−t/τ), least squares for X₀, X_e and τ
//
//	t    StoreReading.Days            days         accepted 0 to 10 000, rising
//	X    StoreReading.MoisturePct     % wet basis  accepted 0.5 to 80, taken to dry basis
//	τ    DriftFit.TimeConstantDays    days
//	X_e  DriftFit.EquilibriumPct      % wet basis
//
// At least four readings; fewer than eight carry [FewPairs]. Outside the
// accepted ranges it returns the zero DriftFit and an [*InputError]; readings
// that cannot tell the three apart give an [*ImpossibleError].
//
// Source: definition, first-order approach to equilibrium.
func FitDriftAndEquilibrium(readings []StoreReading) (DriftFit, error) {
	if err := fault.Input(refuseReadings(readings, 4)); err != nil {
		return DriftFit{}, err
	}
	n := len(readings)
	first, last := readings[0], readings[n-1]
	x0, x1 := dryFromWet(first.MoisturePct), dryFromWet(last.MoisturePct)
	// Begin with the last reading short of the end by a tenth of the way gone.
	fit, err := num.LeastSquares(n, []float64{x0, x1 + 0.1*(x1-x0), math.Log((last.Days - first.Days) / 2)}, func(dst, p []float64) {
		for i, r := range readings {
			dst[i] = p[1] + (p[0]-p[1])*math.Exp(-(r.Days-first.Days)*math.Exp(-p[2])) - dryFromWet(r.MoisturePct)
		}
	})
	if err != nil {
		return DriftFit{}, noDrift(err.Error(), n)
	}
	xe := fit.P[1]
	if !(xe >= MinDryMoisturePct && xe <= MaxDryMoisturePct && fit.P[0] > 0) {
		return DriftFit{}, noDrift("the readings lead to no content that coffee can have", n)
	}
	f := DriftFit{TimeConstantDays: math.Exp(fit.P[2]), StartPct: wetFromDry(fit.P[0]), EquilibriumPct: wetFromDry(xe),
		ResidualDryPct: fit.ResidualSD()}
	f.TimeConstantSEDays = f.TimeConstantDays * fit.SE[2]
	f.EquilibriumSEPct = fit.SE[1] * 1e4 / ((100 + xe) * (100 + xe))
	if n < 8 {
		f.Notes |= FewPairs
	}
	return sound(f, n)
}

// refuseReadings appends what is wrong with a list of readings.
func refuseReadings(readings []StoreReading, least int) []*FieldError {
	bad := fault.Int(nil, "readings", len(readings), least, MaxReadingsCount, "")
	if bad != nil {
		return bad
	}
	for i, r := range readings {
		bad = floatAt(bad, "readings", i, "Days", r.Days, 0, MaxStoreDays, "days")
		bad = floatAt(bad, "readings", i, "MoisturePct", r.MoisturePct, MinMoisturePct, MaxMoisturePct, "%")
		if i > 0 && bad == nil && !(r.Days >= readings[i-1].Days+1e-4) {
			bad = append(bad, &FieldError{Field: "readings[" + strconv.Itoa(i) + "].Days", Given: fault.Shortest(r.Days),
				Min: readings[i-1].Days + 1e-4, Max: MaxStoreDays, Unit: "days", Why: "readings stand in order of time"})
		}
	}
	return bad
}

func noDrift(why string, n int) error {
	return &ImpossibleError{Quantity: "time constant", Why: why, Field: "readings",
		Given: strconv.Itoa(n), Min: float64(n + 1), Max: MaxReadingsCount}
}

// sound refuses a fit that left the accepted range.
func sound(f DriftFit, n int) (DriftFit, error) {
	if !(f.TimeConstantDays >= MinTimeConstantDays && f.TimeConstantDays <= MaxTimeConstantDays) {
		return DriftFit{}, noDrift("the readings give a time constant of "+strconv.FormatFloat(f.TimeConstantDays, 'g', 4, 64)+" days", n)
	}
	if math.IsNaN(f.TimeConstantSEDays+f.EquilibriumSEPct+f.ResidualDryPct) || math.IsInf(f.TimeConstantSEDays+f.EquilibriumSEPct, 0) {
		return DriftFit{}, noDrift("the data cannot tell the parameters apart", n)
	}
	return f, nil
}

// The thin-layer law of drying parchment. Parra-Coronado, Roa & Oliveros, Rev.
// Bras. Eng. Agríc. Ambient. 12(4), 2008, eq. 15; quoted by thesis research notes.
const (
	ThinLayerFactor       = 0.0143  // m, for kPa and h
	ThinLayerDryExponent  = 0.87898 // n, of the vapour pressure deficit
	ThinLayerTimeExponent = 1.06439 // q, of the time
)

// Layer is a single exposed layer of parchment in moving air. The zero Layer
// is refused.
type Layer struct {
	TempC   float64 // air temperature, °C
	RHPct   float64 // air humidity, %
	LeftPct float64 // share of the way to equilibrium still to go, %
}

// LayerHours returns the hours that a single exposed layer of parchment needs
// until a share of its way to equilibrium is left. A sack, a pallet, a liner
// are all far slower: for them it is a lower bound.
//
//	MR = exp[−m·(e_w − e)ⁿ·t^q], solved for t
//
//	MR   Layer.LeftPct  %    accepted 1 to 99
//	T    Layer.TempC    °C   accepted 0 to 80, published 10 to 70
//	φ    Layer.RHPct    %    accepted 1 to 99
//	e_w − e  pressure deficit of the air, kPa, see [SaturationOverWater]
//	t                   h
//	m, n, q  ThinLayerFactor, ThinLayerDryExponent, ThinLayerTimeExponent
//
// Outside, and for NaN, it returns 0 and an [*InputError]. It was fitted to
// drying, not to a store: at 18 °C and 60 % it is an extrapolation in the
// driving force.
//
// Source: Parra-Coronado, Roa & Oliveros 2008, eq. 15; quoted.
func LayerHours(l Layer) (hours float64, err error) {
	bad := fault.Float(nil, "TempC", l.TempC, 0, AirMaxC, "°C")
	bad = fault.Float(bad, "RHPct", l.RHPct, MinRHPct, 99, "%")
	bad = fault.Float(bad, "LeftPct", l.LeftPct, 1, 99, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	deficit := waterKPa(l.TempC) * (1 - l.RHPct/100)
	return math.Pow(-math.Log(l.LeftPct/100)/(ThinLayerFactor*math.Pow(deficit, ThinLayerDryExponent)), 1/ThinLayerTimeExponent), nil
}

// RoomChange is a room to be brought from one state to another and held there
// while outside air comes in. The zero RoomChange is refused.
type RoomChange struct {
	VolumeM3       float64 // free air in the room, m³
	PressureKPa    float64 // air pressure, kPa absolute
	From           Air     // the room now
	To             Air     // the room wanted
	Outside        Air     // the air that comes in
	ChangesPerHour float64 // air changes per hour, may truly be 0
}

// RoomWater is what WaterForRoom found. Positive is water to add, negative to
// remove.
type RoomWater struct {
	OnceG    float64 // to bring the room's air there, g
	PerHourG float64 // to hold it there against the outside air, g per hour
	Notes    Notes   // what to tell the reader beside the numbers
}

// WaterForRoom returns the water that a humidifier must add or a dryer must
// remove to bring a room's air from one state to another, once, and to hold it
// there against the air that comes in, per hour.
//
//	m  = V·(W₂ − W₁)/v₂
//	ṁ  = n·V·(W₂ − W_o)/v₂
//
//	V    RoomChange.VolumeM3        m³   accepted 0.1 to 1e6
//	p    RoomChange.PressureKPa     kPa  accepted 50 to 110
//	W₁   of RoomChange.From         accepted 0 to 60 °C, 1 to 100 %
//	W₂   of RoomChange.To           accepted 0 to 60 °C, 1 to 100 %
//	W_o  of RoomChange.Outside      accepted −40 to 60 °C, 1 to 100 %
//	v₂   volume per kg of dry air of RoomChange.To, see [AirProperties]
//	n    RoomChange.ChangesPerHour  accepted 0 to 60
//	m    RoomWater.OnceG            g
//	ṁ    RoomWater.PerHourG         g/h
//
// Outside air below 0 °C carries [Extrapolated]. Outside the accepted ranges,
// and for NaN, it returns the zero RoomWater and an [*InputError].
//
// The coffee holds far more water than the air around it: a tonne that gives
// off 0.1 % of its mass sets free 1 kg, as much as 100 m³ of store air hold.
// See [SackMass].
//
// Source: definition, conservation of water, with W of ASHRAE, ch. 1, eq. 20.
func WaterForRoom(r RoomChange) (RoomWater, error) {
	bad := fault.Float(nil, "VolumeM3", r.VolumeM3, 0.1, 1e6, "m³")
	bad = fault.Float(bad, "PressureKPa", r.PressureKPa, MinPressureKPa, MaxPressureKPa, "kPa")
	bad = fault.Float(bad, "From.TempC", r.From.TempC, 0, 60, "°C")
	bad = fault.Float(bad, "From.RHPct", r.From.RHPct, MinRHPct, MaxRHPct, "%")
	bad = fault.Float(bad, "To.TempC", r.To.TempC, 0, 60, "°C")
	bad = fault.Float(bad, "To.RHPct", r.To.RHPct, MinRHPct, MaxRHPct, "%")
	bad = fault.Float(bad, "Outside.TempC", r.Outside.TempC, AirMinC, 60, "°C")
	bad = fault.Float(bad, "Outside.RHPct", r.Outside.RHPct, MinRHPct, MaxRHPct, "%")
	bad = fault.Float(bad, "ChangesPerHour", r.ChangesPerHour, 0, 60, "per hour")
	if err := fault.Input(bad); err != nil {
		return RoomWater{}, err
	}
	to := MoistAir{r.To.TempC, r.To.RHPct, r.PressureKPa}
	w1 := MoistAir{r.From.TempC, r.From.RHPct, r.PressureKPa}.ratio()
	w2 := to.ratio()
	wo := MoistAir{r.Outside.TempC, r.Outside.RHPct, r.PressureKPa}.ratio()
	T, x := r.To.TempC+zeroCInKelvin, to.molarShare()
	v2 := dryGas * T * compressibility(T, r.PressureKPa, x) * (1 + w2/molarRatio) / (1000 * r.PressureKPa)
	dryAirG := 1000 * r.VolumeM3 / v2
	w := RoomWater{OnceG: dryAirG * (w2 - w1), PerHourG: dryAirG * r.ChangesPerHour * (w2 - wo)}
	if r.Outside.TempC < 0 {
		w.Notes |= Extrapolated
	}
	return w, nil
}

// CondensationMarginK is how far a surface should stay above the dew point, K.
// Surface-coating practice says 5 °F, which is 2.8 K; opened.
const CondensationMarginK = 3

// ColdSack is a cold surface in a room: a sack from a truck, a wall, a window.
// The zero ColdSack is refused.
type ColdSack struct {
	SurfaceC float64 // temperature of the surface, °C
	Room     Air     // the air of the room
	MarginK  float64 // how far above the dew point to stay, K; may truly be 0
}

// Sweat is what SackSweat found.
type Sweat struct {
	Wet       bool    // the surface is below the dew point: it sweats
	DewC      float64 // dew point of the room, °C
	AboveK    float64 // surface above the dew point, K; negative when below
	WarmToC   float64 // temperature that it must reach before it meets this air, °C
	SafeRHPct float64 // greatest humidity of this room at which it stays dry, with the margin, %
	Notes     Notes   // what to tell the reader beside the numbers
}

// SackSweat says whether a cold sack sweats in a room, and how warm it must be
// before it is brought there. It is the dew point that matters, not the
// humidity alone: keep the liner closed until the beans have warmed.
//
//	wet       when t_s < t_d
//	t_w     = t_d + m
//	φ_safe  = 100·e_w(t_s − m)/e_w(t)
//
//	t_s  ColdSack.SurfaceC    °C  accepted −40 to 80
//	t    ColdSack.Room.TempC  °C  accepted −40 to 80
//	φ    ColdSack.Room.RHPct  %   accepted 1 to 100
//	m    ColdSack.MarginK     K   accepted 0 to 10, such as CondensationMarginK
//	t_d  Sweat.DewC           °C, see [DewPoint]
//	t_w  Sweat.WarmToC        °C
//	φ_safe  Sweat.SafeRHPct   %, at most 100
//
// A surface above the dew point by less than the margin carries [NearDew], a
// dew point below 0 °C [OverIce]. Outside the accepted ranges, and for NaN, it
// returns the zero Sweat and an [*InputError].
//
// The middle of a sack stays cold for days after its surface is warm.
//
// Source: definition, with e_w of ASHRAE, ch. 1, eq. 6.
func SackSweat(s ColdSack) (Sweat, error) {
	bad := fault.Float(nil, "SurfaceC", s.SurfaceC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "Room.TempC", s.Room.TempC, AirMinC, AirMaxC, "°C")
	bad = fault.Float(bad, "Room.RHPct", s.Room.RHPct, MinRHPct, MaxRHPct, "%")
	bad = fault.Float(bad, "MarginK", s.MarginK, 0, 10, "K")
	if err := fault.Input(bad); err != nil {
		return Sweat{}, err
	}
	dew := saturatedAt(s.Room.lnVapourPa(), false)
	w := Sweat{DewC: dew, AboveK: s.SurfaceC - dew, WarmToC: dew + s.MarginK, Wet: s.SurfaceC < dew,
		SafeRHPct: 100 * math.Min(1, math.Exp(lnOverWater(s.SurfaceC-s.MarginK+zeroCInKelvin)-lnOverWater(s.Room.TempC+zeroCInKelvin)))}
	if !w.Wet && w.AboveK < s.MarginK {
		w.Notes |= NearDew
	}
	if dew < 0 {
		w.Notes |= OverIce | Extrapolated
	}
	return w, nil
}
