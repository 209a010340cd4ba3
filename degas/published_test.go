package degas

import (
	"errors"
	"testing"

	"example.org/evenlot/internal/published"
)

func TestPublished(t *testing.T) {
	type in = *published.Inputs
	coffee := func(in in, c Curve) Coffee { return Coffee{GasMgPerG: in.Float("GasMgPerG"), Curve: c} }
	first := func(in in) (FirstOrder, error) {
		return FirstOrderThrough(Point{Days: in.Float("Days"), GonePct: in.Float("GonePct")})
	}
	stretched := func(in in) Stretched { return Stretched{in.Float("TauDays"), in.Float("Exponent")} }
	through := func(in in) (Stretched, error) {
		return StretchedThrough(
			Point{Days: in.Float("Days1"), GonePct: in.Float("GonePct1")},
			Point{Days: in.Float("Days2"), GonePct: in.Float("GonePct2")})
	}
	pools := func(in in) TwoPools {
		return TwoPools{in.Float("FastPct"), in.Float("FastTauDays"), in.Float("SlowTauDays")}
	}
	ball := func(in in) Sphere { return Sphere{in.Float("RadiusMM"), in.Float("DiffusivityM2PerS")} }
	at := func(in in) Conditions { return Conditions{in.Float("TempC"), in.Float("PressureKPa")} }
	gone := func(s Share, err error) (float64, error) { return s.GonePct, err }

	published.Run(t, map[string]published.Claim{
		"gas at drop, to begin from":             published.Constant(InitialGasMgPerG),
		"gas at drop, highest credible claim":    published.Constant(InitialGasHighMgPerG),
		"gas at drop, lower claim":               published.Constant(InitialGasLowMgPerG),
		"diffusivity of ground coffee, low end":  published.Constant(GroundDiffusivityLowM2PerS),
		"diffusivity of ground coffee, high end": published.Constant(GroundDiffusivityHighM2PerS),
		"gas content from a volume": published.Number(func(in in) (float64, error) {
			return GasFromVolume(in.Float("MLPerG"), at(in))
		}),
		"hours until a share is left, sphere": published.Number(func(in in) (float64, error) {
			d, err := DaysUntil(ball(in), in.Float("LeftPct"))
			return 24 * d, err
		}),
		"days until a share is left, sphere": published.Number(func(in in) (float64, error) {
			return DaysUntil(ball(in), in.Float("LeftPct"))
		}),
		"rate constant from one point": published.Number(func(in in) (float64, error) {
			c, err := first(in)
			return 1 / (24 * c.TauDays), err
		}),
		"half-life from one point": published.Number(func(in in) (float64, error) {
			c, err := first(in)
			if err != nil {
				return 0, err
			}
			d, err := DaysUntil(c, 50)
			return 24 * d, err
		}),
		"share gone later, first order from one point": published.Number(func(in in) (float64, error) {
			c, err := first(in)
			if err != nil {
				return 0, err
			}
			return gone(Left(c, in.Float("AtDays")))
		}),
		"exponent from two points": published.Number(func(in in) (float64, error) {
			c, err := through(in)
			return c.Exponent, err
		}),
		"scale of time from two points": published.Number(func(in in) (float64, error) {
			c, err := through(in)
			return c.TauDays, err
		}),
		"share gone later, stretched from two points": published.Number(func(in in) (float64, error) {
			c, err := through(in)
			if err != nil {
				return 0, err
			}
			return gone(Left(c, in.Float("AtDays")))
		}),
		"days until a share is left, stretched": published.Number(func(in in) (float64, error) {
			return DaysUntil(stretched(in), in.Float("LeftPct"))
		}),
		"share gone, stretched": published.Number(func(in in) (float64, error) {
			return gone(Left(stretched(in), in.Float("Days")))
		}),
		"days until an amount is left, stretched": published.Number(func(in in) (float64, error) {
			return DaysUntilAmount(coffee(in, stretched(in)), in.Float("LeftMgPerG"))
		}),
		"amount gone, stretched": published.Number(func(in in) (float64, error) {
			a, err := AmountLeft(coffee(in, stretched(in)), in.Float("Days"))
			return a.GoneMgPerG, err
		}),
		"amount gone, two pools": published.Number(func(in in) (float64, error) {
			a, err := AmountLeft(coffee(in, pools(in)), in.Float("Days"))
			return a.GoneMgPerG, err
		}),
		"share gone, sphere": published.Number(func(in in) (float64, error) {
			return gone(SphereShare(in.Float("Fo")))
		}),
		"share gone, sheet": published.Number(func(in in) (float64, error) {
			return gone(SheetShare(in.Float("Fo")))
		}),
		"Fo until a share is left, sphere": published.Number(func(in in) (float64, error) {
			c := Sphere{RadiusMM: 1, DiffusivityM2PerS: 1e-11}
			d, err := DaysUntil(c, in.Float("LeftPct"))
			return c.fo(d), err
		}),
		"Q10 from an activation energy": published.Number(func(in in) (float64, error) {
			return Q10FromActivation(in.Float("ActivationKJPerMol"), in.Float("TempC"))
		}),
		"activation energy from Q10": published.Number(func(in in) (float64, error) {
			return ActivationFromQ10(in.Float("Q10"), in.Float("TempC"))
		}),
		"factor of rate, Q10": published.Number(func(in in) (float64, error) {
			return Q10Factor(Q10{in.Float("Q10"), in.Float("ReferenceC"), in.Float("TempC")})
		}),
		"volume of a gram of carbon dioxide": published.Number(func(in in) (float64, error) {
			return CO2MLPerG(at(in))
		}),
		"second virial coefficient": published.Number(func(in in) (float64, error) {
			return SecondVirial(in.Float("TempC"))
		}),
		"compressibility factor": published.Number(func(in in) (float64, error) {
			return Compressibility(at(in))
		}),
		"pore volume that holds the gas": published.Number(func(in in) (float64, error) {
			return PoreMLPerG(in.Float("GasMgPerG"), at(in))
		}),
		"gas at drop, begin and highest claim":    published.Limits(InitialGasMgPerG, InitialGasHighMgPerG),
		"share gone after a day, slower claim":    published.Constant(ClaimedDayLowPct),
		"share gone after a day, faster claim":    published.Constant(ClaimedDayHighPct),
		"days until a valved bag is nearly empty": published.Constant(ClaimedEmptyDays),
		"orientation, slower edge": published.Number(func(in in) (float64, error) {
			b, err := OrientationBand(in.Float("Days"))
			return b.LowGonePct, err
		}),
		"orientation, faster edge": published.Number(func(in in) (float64, error) {
			b, err := OrientationBand(in.Float("Days"))
			return b.HighGonePct, err
		}),
		"time at a raised temperature": published.Number(func(in in) (float64, error) {
			f, err := Q10Factor(Q10{in.Float("Q10"), in.Float("ReferenceC"), in.Float("TempC")})
			return in.Float("Time") / f, err
		}),
		"pressure in a rigid pack": published.Number(func(in in) (float64, error) {
			s, err := BagPeak(Bag{CoffeeG: in.Float("CoffeeG"), Coffee: coffee(in, FirstOrder{1}), GasML: in.Float("GasML"), TempC: in.Float("TempC"), OutsideKPa: in.Float("OutsideKPa")})
			return s.GaugeKPa, err
		}),
		"gas evolved into a soft bag": published.Number(func(in in) (float64, error) {
			s, err := BagPeak(Bag{CoffeeG: in.Float("CoffeeG"), Coffee: coffee(in, FirstOrder{1}), GasML: 400, SlackML: 1e4, TempC: in.Float("TempC"), OutsideKPa: in.Float("OutsideKPa")})
			return s.GasML - 400, err
		}),
		"gas that a soft bag can take": published.Number(func(in in) (float64, error) {
			return SlackMgPerG(in.Float("SlackML"), in.Float("CoffeeG"), at(in))
		}),
		"gas by the sealed bin, per 500 g": published.Number(func(in in) (float64, error) {
			v, err := SealedBinMLPerG(SealedBin{in.Float("BinML"), in.Float("SolidML"), in.Float("StartKPa"), in.Float("StartC"), in.Float("OutsideKPa"), in.Float("GaugeKPa"), in.Float("TempC"), in.Float("CoffeeG")})
			return 500 * v, err
		}),
		"carbon dioxide after a sweep": published.Number(func(in in) (float64, error) {
			s, err := ValveSweep(1000*in.Float("Volumes"), 1000, 20.946)
			return s.CO2Pct, err
		}),
		"oxygen after a sweep": published.Number(func(in in) (float64, error) {
			s, err := ValveSweep(1000*in.Float("Volumes"), 1000, in.Float("OxygenPct"))
			return s.OxygenPct, err
		}),
		"valve, opening pressure": published.Limits(ValveLowKPa, ValveHighKPa),
		"pressure of a valved bag over the air": published.Number(func(in in) (float64, error) {
			b := Bag{CoffeeG: 250, Coffee: Coffee{10, FirstOrder{1}}, GasML: 400, ValveKPa: in.Float("ValveKPa"), TempC: 20, OutsideKPa: in.Float("OutsideKPa")}
			s, err := BagPeak(b)
			return s.GaugeKPa / b.OutsideKPa, err
		}),
		"volume of carbon dioxide": published.Number(func(in in) (float64, error) {
			v, err := CO2MLPerG(at(in))
			return in.Float("MassG") * v / 1000, err
		}),
		"gas from the pressure in a jar": published.Number(func(in in) (float64, error) {
			// From the volume at 0 °C to mass.
			g := in.Float("CoffeeG")
			v, err := SealedBinMLPerG(SealedBin{BinML: in.Float("BinML"), SolidML: g / in.Float("DensityGPerML"), StartKPa: 101.325, StartC: in.Float("TempC"), OutsideKPa: 101.325, GaugeKPa: in.Float("RiseKPa"), TempC: in.Float("TempC"), CoffeeG: g})
			if err != nil {
				return 0, err
			}
			return GasFromVolume(v, Conditions{0, AtmosphereKPa})
		}),
		"rest claim, days":              claimed(1),
		"rest claim, hours":             claimed(24),
		"cupping, least rest":           published.Constant(CuppingRestHours),
		"cupping, latest age":           published.Constant(CuppingLatestHours),
		"staling study, oxygen":         published.Limits(StalingOxygenLowKPa, StalingOxygenHighKPa),
		"staling study, water activity": published.Limits(StalingAwLow, StalingAwHigh),
		"staling study, temperature":    published.Limits(StalingLowC, StalingHighC),
		"staling study, end point":      published.Constant(StalingRejectPct),
		"staling rate ratio, oxygen": published.Number(func(in in) (float64, error) {
			l, err := RelativeLife(Store{in.Float("OxygenKPa"), 0.2, 20}, Store{in.Float("ReferenceKPa"), 0.2, 20})
			return 1 / l.Factor, err
		}),
		"staling rate increase, water activity": published.Number(func(in in) (float64, error) {
			l, err := RelativeLife(Store{5, in.Float("WaterActivity"), 20}, Store{5, in.Float("ReferenceAw"), 20})
			return 100 * (1/l.Factor - 1), err
		}),
		"staling rate ratio, water activity": published.Number(func(in in) (float64, error) {
			l, err := RelativeLife(Store{5, in.Float("WaterActivity"), 20}, Store{5, in.Float("ReferenceAw"), 20})
			return 1 / l.Factor, err
		}),
		"staling rate increase, temperature, as printed": published.Limits(StalingTenDegreesLowPct, StalingTenDegreesHighPct),
		"staling, activation energy":                     published.Constant(StalingKJPerMol),
		"companion study, oxygen factor":                 published.Limits(CompanionOxygenLow, CompanionOxygenHigh),
		"companion study, water activity factor":         published.Limits(CompanionAwLow, CompanionAwHigh),
		"companion study, temperature factor":            published.Limits(CompanionQ10Low, CompanionQ10High),
		"water activity of sharper staling":              published.Constant(StalingAwRise),
		"half-rate oxygen pressure":                      published.Constant(StalingHalfRateKPa()),
		"shelf life against air, ground coffee": published.Number(func(in in) (float64, error) {
			l, err := RelativeLife(Store{in.Float("OxygenKPa"), 0.2, 20}, Store{in.Float("ReferenceKPa"), 0.2, 20})
			return l.Factor, err
		}),
		"CO2 limit, 8 h":                         published.Constant(CO2LimitPPM),
		"CO2 limit, 15 min":                      published.Constant(CO2ShortLimitPPM),
		"CO2, immediately dangerous":             published.Constant(CO2DangerPPM),
		"CO2 that gives signs of intoxication":   published.Constant(CO2SignsPPM),
		"CO limit, NIOSH":                        published.Constant(COLimitNIOSHPPM),
		"CO limit, OSHA":                         published.Constant(COLimitOSHAPPM),
		"CO limit, ACGIH":                        published.Constant(COLimitACGIHPPM),
		"CO limit, EU":                           published.Constant(COLimitEUPPM),
		"CO limit, EU, 15 min":                   published.Constant(COShortEUPPM),
		"CO, immediately dangerous":              published.Constant(CODangerPPM),
		"CO through a store without ventilation": published.Limits(COStoreLowPPM, COStoreHighPPM),
		"CO at open totes":                       published.Constant(COTotePPM),
		"peak CO near a small grinder":           published.Limits(COGrinderLowPPM, COGrinderHighPPM),
		"CO in tanks of an extract plant":        published.Limits(COTankLowPPM, COTankHighPPM),
		"oxygen alarm level":                     published.Constant(OxygenAlarmPct),
		"CO2 that lowers oxygen to the alarm": published.Number(func(in in) (float64, error) {
			return CO2PctAtOxygen(in.Float("OxygenPct"))
		}),
		"mg/m³ from ppm, CO2": published.Number(func(in in) (float64, error) {
			return MgPerM3(Vapour{in.Float("PPM"), CO2GPerMol, at(in)})
		}),
		"mg/m³ from ppm, CO": published.Number(func(in in) (float64, error) {
			return MgPerM3(Vapour{in.Float("PPM"), COGPerMol, at(in)})
		}),
		"mass of a gas that makes a concentration": published.Number(func(in in) (float64, error) {
			c, err := MgPerM3(Vapour{in.Float("PPM"), COGPerMol, at(in)})
			return c * in.Float("VolumeM3") / 1000, err
		}),
		"CO2 given off by stored coffee": published.Number(func(in in) (float64, error) {
			// So quick a curve that all is gone within the day.
			return Emission(in.Float("CoffeeKg"), coffee(in, FirstOrder{0.01}), 0, 1, at(in))
		}),
		"CO2 rise in a room": published.Number(func(in in) (float64, error) {
			a, err := RoomAir(Room{in.Float("VolumeM3"), in.Float("FreshM3PerHour"), in.Float("SourceLPerHour"), OutdoorCO2PPM, in.Float("Hours")})
			return a.RisePPM, err
		}),
		"CO2 rise in a closed room": published.Number(func(in in) (float64, error) {
			a, err := CoffeeRoomAir(CoffeeRoom{CoffeeKg: in.Float("CoffeeKg"), Coffee: coffee(in, FirstOrder{0.01}), Hours: 24, VolumeM3: in.Float("VolumeM3"), OutdoorPPM: OutdoorCO2PPM, Conditions: at(in)})
			return a.RisePPM, err
		}),
		"CO2 volume of all the gas in coffee": published.Number(func(in in) (float64, error) {
			v, err := CO2MLPerG(at(in))
			return in.Float("CoffeeKg") * in.Float("GasMgPerG") * v * 1e-6, err
		}),
	})
}

// claimed finds a claim about rest by its name.
func claimed(perDay float64) published.Claim {
	return published.Range(func(in *published.Inputs) (lo, hi float64, err error) {
		id := in.Text("ID")
		for _, c := range RestClaims() {
			if c.ID == id {
				return c.FromDays * perDay, c.ToDays * perDay, nil
			}
		}
		return 0, 0, errors.New("there is no claim " + id)
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
