package brewratio

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// The vessels that this package measures.
const (
	MinDiameterMM = 5    // smallest inner diameter, mm: centimetres lie below it
	MaxDiameterMM = 2000 // largest, mm
	MinHeightMM   = 5    // lowest vessel, mm
	MaxHeightMM   = 3000 // highest, mm
)

// GroundsMLPerG is the volume that a gram of ground coffee displaces in hot
// water, mL: 1/1.37 g/mL, a home displacement experiment (opened).
const GroundsMLPerG = 0.73

// pi has more digits than any calliper.
func pi() decimal.Decimal { return decimal.New(3141592653589793238, -18) }

// Vessel is a bowl, cup or beaker with straight walls, measured inside. The
// zero Vessel is refused.
type Vessel struct {
	TopMM    decimal.Decimal // inner diameter at the brim, mm
	BottomMM decimal.Decimal // inner diameter at the floor, mm
	HeightMM decimal.Decimal // inner height, plumb, not along the wall, mm
}

func (v Vessel) check() []*FieldError {
	bad := fault.Decimal(nil, "TopMM", v.TopMM, MinDiameterMM, MaxDiameterMM, "mm")
	bad = fault.Decimal(bad, "BottomMM", v.BottomMM, MinDiameterMM, MaxDiameterMM, "mm")
	return fault.Decimal(bad, "HeightMM", v.HeightMM, MinHeightMM, MaxHeightMM, "mm")
}

// VesselVolume returns the volume of a vessel to its brim.
//
//	V = π·h/12·(d_t² + d_t·d_b + d_b²)/1000
//
//	d_t  Vessel.TopMM     mm  accepted 5 to 2000
//	d_b  Vessel.BottomMM  mm  accepted 5 to 2000
//	h    Vessel.HeightMM  mm  accepted 5 to 3000
//	V                     mL, rounded to 6 places
//
// Outside, it returns 0 and an [*InputError]. Averaging the two areas, using
// the slant of the wall for h, or leaving out the product of the diameters
// are the usual mistakes: they are worth 5 to 50 %. A round floor and a lip
// are not in it; weigh a fill ([FilledVolume]) where that matters.
//
// Source: volume of a conical frustum, geometry.
func VesselVolume(v Vessel) (decimal.Decimal, error) {
	if err := fault.Input(v.check()); err != nil {
		return decimal.Zero, err
	}
	return frustum(v), nil
}

func frustum(v Vessel) decimal.Decimal {
	squares := v.TopMM.Mul(v.TopMM).Add(v.TopMM.Mul(v.BottomMM)).Add(v.BottomMM.Mul(v.BottomMM))
	return pi().Mul(v.HeightMM).Mul(squares).DivRound(decimal.New(12000, 0), 6)
}

// PartFill is a vessel filled to a height. The zero PartFill is refused.
type PartFill struct {
	Vessel Vessel          // the vessel
	FillMM decimal.Decimal // height of the water above the floor, mm
}

// PartVolume returns the volume of a vessel below a height.
//
//	d(y) = d_b + (d_t − d_b)·y/h
//
// and [VesselVolume] of the part below y.
//
//	y  PartFill.FillMM  mm  accepted 0 to the vessel's height
//	V                   mL, rounded to 6 places
//
// Outside, it returns 0 and an [*InputError].
//
// Source: volume of a conical frustum, geometry.
func PartVolume(in PartFill) (decimal.Decimal, error) {
	bad := in.Vessel.check()
	if bad == nil {
		bad = fault.Decimal(nil, "FillMM", in.FillMM, 0, in.Vessel.HeightMM.InexactFloat64(), "mm")
	}
	if err := fault.Input(bad); err != nil {
		return decimal.Zero, err
	}
	v := in.Vessel
	rise, _ := quotient(v.TopMM.Sub(v.BottomMM).Mul(in.FillMM), v.HeightMM)
	return frustum(Vessel{TopMM: v.BottomMM.Add(rise), BottomMM: v.BottomMM, HeightMM: in.FillMM}), nil
}

// VolumeIn is a volume poured into a vessel. The zero VolumeIn is refused.
type VolumeIn struct {
	Vessel   Vessel          // the vessel
	VolumeML decimal.Decimal // what is poured, mL
}

// FillHeight returns how high a volume stands in a vessel: [PartVolume] read
// backwards.
//
//	k = (d_t − d_b)/h
//	y = [(d_b³ + 12000·k·V/π)^⅓ − d_b]/k
//
//	V  VolumeIn.VolumeML  mL  accepted 0 to the vessel's volume
//	y                     mm, rounded to 6 places
//
// Outside, it returns 0 and an [*InputError]; where the volume is more than
// the vessel holds, an [*ImpossibleError]. The root is taken in floats,
// bracketed by the floor and the brim: it is a length, not a weight.
//
// Source: volume of a conical frustum, geometry.
func FillHeight(in VolumeIn) (decimal.Decimal, error) {
	bad := in.Vessel.check()
	bad = fault.Decimal(bad, "VolumeML", in.VolumeML, 0, 20_000_000, "mL")
	if err := fault.Input(bad); err != nil {
		return decimal.Zero, err
	}
	if brim := frustum(in.Vessel); in.VolumeML.GreaterThan(brim) {
		return decimal.Zero, &ImpossibleError{Quantity: "fill height", Why: "the vessel holds less",
			Field: "VolumeML", Given: fault.Digits(in.VolumeML), Min: 0, Max: brim.InexactFloat64(), Unit: "mL"}
	}
	b, h := in.Vessel.BottomMM.InexactFloat64(), in.Vessel.HeightMM.InexactFloat64()
	k := (in.Vessel.TopMM.InexactFloat64() - b) / h
	v := 12000 * in.VolumeML.InexactFloat64() / math.Pi // d_b² y·3 + 3 d_b k y² + k² y³
	y, ok := num.Root(func(y float64) float64 { return y*(3*b*b+y*(3*b*k+y*k*k)) - v }, 0, h, 0)
	if !ok {
		y = h // full to the brim, to the last digit
	}
	return decimal.NewFromFloat(y).Round(6), nil
}

// Fill is a vessel weighed empty and full of water. The zero Fill is refused.
type Fill struct {
	EmptyG decimal.Decimal // vessel, dry, g; 0 where the scale was set to zero on it
	FullG  decimal.Decimal // vessel with water to the line, g
	TempC  decimal.Decimal // temperature of that water, °C
}

// FilledVolume returns the volume of a vessel from the water that fills it.
//
//	V = 1000·(m_f − m_e)/ρ(t)
//
//	m_e  Fill.EmptyG  g   accepted 0 to 4 000 000
//	m_f  Fill.FullG   g   accepted 0.1 to 4 000 000
//	t    Fill.TempC   °C  accepted 0 to 100
//	V                 mL, rounded to 12 places
//
// Outside, it returns 0 and an [*InputError]; where the full vessel is not
// heavier, an [*ImpossibleError]. The air that the water pushed out (0.1 %)
// is left out, as all kitchen weighing leaves it out.
//
// Source: definition; density by [WaterDensity].
func FilledVolume(in Fill) (decimal.Decimal, error) {
	bad := fault.Decimal(nil, "EmptyG", in.EmptyG, 0, MaxWaterG, "g")
	bad = fault.Decimal(bad, "FullG", in.FullG, MinWaterG, MaxWaterG, "g")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	if err := fault.Input(bad); err != nil {
		return decimal.Zero, err
	}
	net := in.FullG.Sub(in.EmptyG)
	if !net.IsPositive() {
		return decimal.Zero, &ImpossibleError{Quantity: "volume", Why: "the full vessel is not heavier than the empty one",
			Field: "FullG", Given: fault.Digits(in.FullG), Min: in.EmptyG.InexactFloat64(), Max: MaxWaterG, Unit: "g"}
	}
	return net.Shift(3).DivRound(density(in.TempC), QuotientPlacesCount), nil
}

// BowlFill is a bowl to be filled to a line at a ratio. The zero BowlFill is
// refused.
type BowlFill struct {
	VolumeML decimal.Decimal // volume of the bowl to the line, mL
	Ratio    decimal.Decimal // water per coffee by mass, g/g
	TempC    decimal.Decimal // temperature of the water poured, °C

	// GroundsMLPerG is the room that the grounds take below the line, mL
	// per g: [GroundsMLPerG] when water is poured on the grounds up to the
	// line, 0 when the bowl's volume is all water.
	GroundsMLPerG decimal.Decimal
}

// BowlDose returns the brew that fills a bowl to its line at a ratio.
//
//	D = V/(1000·R/ρ(t) + v)    W = D·R
//
//	V  BowlFill.VolumeML       mL    accepted 1 to 4 000 000
//	R  BowlFill.Ratio          g/g   accepted 0.5 to 40
//	t  BowlFill.TempC          °C    accepted 0 to 100
//	v  BowlFill.GroundsMLPerG  mL/g  accepted 0 to 3
//	D  Brew.DoseG              g, rounded to 12 places
//	W  Brew.WaterG             g, exact for that dose
//
// Outside, it returns the zero Brew and an [*InputError]. Foam and bloom
// stand above the line and are not in it.
//
// Source: addition of volumes; density by [WaterDensity].
func BowlDose(in BowlFill) (Brew, error) {
	bad := fault.Decimal(nil, "VolumeML", in.VolumeML, 1, MaxVolumeML, "mL")
	bad = fault.Decimal(bad, "Ratio", in.Ratio, MinRatio, MaxRatio, "g/g")
	bad = fault.Decimal(bad, "TempC", in.TempC, MinTempC, MaxTempC, "°C")
	bad = fault.Decimal(bad, "GroundsMLPerG", in.GroundsMLPerG, 0, 3, "mL/g")
	if err := fault.Input(bad); err != nil {
		return Brew{}, err
	}
	rho := density(in.TempC)
	// D = V·ρ/(1000·R + v·ρ)
	dose, notes := quotient(in.VolumeML.Mul(rho), in.Ratio.Shift(3).Add(in.GroundsMLPerG.Mul(rho)))
	return Brew{DoseG: dose, WaterG: dose.Mul(in.Ratio), Ratio: in.Ratio, Notes: notes}, nil
}
