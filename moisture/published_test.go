package moisture

import (
	"math"
	"testing"

	"example.org/evenlot/internal/published"
	"github.com/shopspring/decimal"
)

func TestPublished(t *testing.T) {
	drift := func(in *published.Inputs) (Drifted, error) {
		return SackMass(Drift{in.Decimal("MassKg"), in.Decimal("MoisturePct"), in.Decimal("ToMoisturePct")})
	}
	saturation := func(factor float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			s, err := SaturationOverWater(in.Float("TempC"))
			return s.PressureKPa * factor, err
		})
	}
	dew := func(in *published.Inputs) (float64, error) {
		d, err := DewPoint(Air{in.Float("TempC"), in.Float("RHPct")})
		return d.DewC, err
	}
	roast := func(in *published.Inputs) (Loss, error) {
		return RoastLoss(Roast{in.Decimal("GreenKg"), in.Decimal("RoastedKg"),
			in.Decimal("GreenMoisturePct"), in.Decimal("RoastedMoisturePct")})
	}
	curve := ParchmentArabica()
	published.Run(t, map[string]published.Claim{
		// Mass.
		"mass after drift": published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
			d, err := drift(in)
			return d.MassKg, err
		}),
		"mass ratio on drying": published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
			d, err := drift(in)
			return d.MassKg.DivRound(in.Decimal("MassKg"), 9), err
		}),
		"mass lost on drying": published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
			d, err := drift(in)
			return d.WaterKg.Neg().Shift(2).DivRound(in.Decimal("MassKg"), 9), err
		}),
		"water in a lot": published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
			l, err := SackLot([]Sack{{in.Decimal("MassKg"), in.Decimal("MoisturePct")}})
			return l.WaterKg.Shift(-3), err
		}),
		"dry-basis moisture as a fraction": published.Number(func(in *published.Inputs) (float64, error) {
			x, err := DryBasis(in.Float("MoisturePct"))
			return x / 100, err
		}),

		// Limits.
		"moisture for export":                      published.Limits(ExportMinMoisturePct, ExportMaxMoisturePct),
		"greatest moisture against ochratoxin":     published.Constant(CodexMaxMoisturePct),
		"moisture of specialty green":              published.Limits(SpecialtyMinMoisturePct, SpecialtyMaxMoisturePct),
		"greatest activity of specialty green":     published.Constant(SpecialtyMaxAw),
		"humidity for sea transport":               published.Limits(CargoMinRHPct, CargoMaxRHPct),
		"greatest equilibrium humidity of a cargo": published.Constant(100 * CargoMaxAw),
		"greatest store temperature":               published.Constant(StoreMaxTempC),
		"habit of the store, humidity":             published.Limits(HabitMinRHPct, HabitMaxRHPct),
		"habit of the store, temperature":          published.Constant(HabitTempC),
		"activity below which nothing grows":       published.Constant(GrowthLimitAw),
		"least activity for ochratoxin in vitro":   published.Constant(OchratoxinLimitAw),

		// The isotherm.
		"Roa parameter p1":                  published.Constant(curve.P[0]),
		"Roa parameter p2":                  published.Constant(curve.P[1]),
		"Roa parameter p3":                  published.Constant(curve.P[2]),
		"Roa parameter q1":                  published.Constant(curve.P[3]),
		"Roa parameter q2":                  published.Constant(curve.P[4]),
		"Roa parameter q3":                  published.Constant(curve.P[5]),
		"standard error of the isotherm":    published.Constant(curve.SEDryPct),
		"temperature range of the isotherm": published.Limits(curve.MinC, curve.MaxC),
		"humidity range of the isotherm":    published.Limits(100*curve.MinAw, 100*curve.MaxAw),
		"equilibrium moisture of parchment, Roa isotherm": published.Number(func(in *published.Inputs) (float64, error) {
			e, err := EquilibriumMoisture(curve, Air{in.Float("TempC"), in.Float("RHPct")})
			return e.DryMoisturePct, err
		}),
		"equilibrium moisture": published.Number(func(in *published.Inputs) (float64, error) {
			e, err := EquilibriumMoisture(curve, Air{in.Float("TempC"), in.Float("RHPct")})
			return e.MoisturePct, err
		}),
		"water activity": published.Number(func(in *published.Inputs) (float64, error) {
			a, err := WaterActivity(curve, Bean{in.Float("MoisturePct"), in.Float("TempC")})
			return a.Aw, err
		}),

		// Air.
		"saturation pressure over water":       saturation(1000),
		"saturation pressure over water, kPa":  saturation(1),
		"saturation pressure over water, mbar": saturation(10),
		"saturation pressure over water, MPa":  saturation(1e-3),
		"dew point":                            published.Number(dew),
		"dew point, °F": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := dew(in)
			return c*9/5 + 32, err
		}),
		"Magnus factor where the search begins":      published.Constant(magnusFactor),
		"Magnus temperature where the search begins": published.Constant(magnusTempC),
		"gas constant of water vapour":               published.Constant(VapourGasConstant),

		// The roaster.
		"water lost in the roaster": published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
			l, err := roast(in)
			return l.WaterPct, err
		}),
		"dry matter lost in the roaster": published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
			l, err := roast(in)
			return l.DryMatterPct, err
		}),

		// Methods.
		"green oven temperature":          published.Constant(GreenOvenC),
		"green oven time":                 published.Constant(GreenOvenHours),
		"green portion":                   published.Constant(GreenPortionG),
		"offset of the 2003 edition":      published.Constant(OvenOffset2003Pct),
		"roasted oven temperature":        published.Constant(RoastedOvenC),
		"roasted oven time":               published.Constant(RoastedOvenHours),
		"roasted portion":                 published.Constant(RoastedPortionG),
		"repeatability of roasted coffee": published.Constant(RoastedRepeatabilityPct),
		"Brazilian oven temperature":      published.Constant(BrazilOvenC),
		"Brazilian oven time":             published.Constant(BrazilOvenHours),
		"vacuum oven temperature":         published.Constant(VacuumOvenC),
		"weigh-back against the oven":     published.Limits(WeighBackMinDiffPct, WeighBackMaxDiffPct),
		"target moisture of exporters":    published.Constant(ExportTargetMoisturePct),
		"greatest store humidity":         published.Constant(StoreMaxRHPct),

		// Meters.
		"slope of a line":           calibrated(func(c Calibration) float64 { return c.SlopeRatio }),
		"offset of a line":          calibrated(func(c Calibration) float64 { return c.OffsetPct }),
		"standard error of a slope": calibrated(func(c Calibration) float64 { return c.SlopeSERatio }),
		"bias of two meters":        calibrated(func(c Calibration) float64 { return c.BiasPct }),
		"lower limit of agreement":  calibrated(func(c Calibration) float64 { return c.AgreeLowPct }),
		"upper limit of agreement":  calibrated(func(c Calibration) float64 { return c.AgreeHighPct }),

		// Other isotherms, heat and points.
		"GAB content": published.Number(func(in *published.Inputs) (float64, error) {
			gab := Isotherm{Form: FormGAB, Scale: 1, MaxAw: 1,
				P: [6]float64{in.Float("MonolayerDryPct"), in.Float("CFactor"), in.Float("KFactor")}}
			e, err := EquilibriumMoisture(gab, Air{25, 100 * in.Float("Aw")})
			return e.DryMoisturePct, err
		}),
		"GAB monolayer fitted":      gabFitted(0),
		"GAB heat constant fitted":  gabFitted(1),
		"GAB factor fitted":         gabFitted(2),
		"latent heat of free water": published.Constant(LatentKJPerKg),
		"fall of the latent heat":   published.Constant(LatentKJPerKgPerC),
		"factor of bound water":     published.Constant(BoundFactor),
		"exponent of bound water":   published.Constant(BoundExponent),
		"heat of sorption": published.Number(func(in *published.Inputs) (float64, error) {
			h, err := HeatOfSorption(Bean{in.Float("MoisturePct"), in.Float("TempC")})
			return h.TotalKJPerKg, err
		}),
		"activity carried to another temperature": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := CarryActivity(SealedSample{in.Float("Aw"), in.Float("MoisturePct"), in.Float("FromC"), in.Float("ToC")})
			return c.Aw, err
		}),
		"box of arabica in adsorption, dry basis": published.Limits(PublishedPoints()[2].LowDryPct, PublishedPoints()[2].HighDryPct),
		"box of arabica in adsorption, activity":  published.Limits(PublishedPoints()[2].LowAw, PublishedPoints()[2].HighAw),
		"box of roasted blends, activity":         published.Limits(PublishedPoints()[3].LowAw, PublishedPoints()[3].HighAw),

		// Moist air.
		"saturation pressure over ice": published.Number(func(in *published.Inputs) (float64, error) {
			s, err := SaturationOverIce(in.Float("TempC"))
			return 1000 * s.PressureKPa, err
		}),
		"absolute humidity at saturation": properties(func(s AirState) float64 { return s.WaterGPerM3 }),
		"saturation humidity ratio":       properties(func(s AirState) float64 { return s.RatioGPerKg / 1000 }),
		"enthalpy at saturation":          properties(func(s AirState) float64 { return s.EnthalpyKJPerKg }),
		"volume at saturation":            properties(func(s AirState) float64 { return s.VolumeM3PerKg }),
		"wet bulb":                        properties(func(s AirState) float64 { return s.WetBulbC }),
		"gas constant of dry air":         published.Constant(DryAirGasConstant),
		"humidity ratio of a vapour pressure": published.Number(func(in *published.Inputs) (float64, error) {
			return ratioOf(in.Float("VapourKPa") / in.Float("PressureKPa")), nil
		}),
		"enthalpy of moist air": published.Number(func(in *published.Inputs) (float64, error) {
			return 1000 * enthalpy(in.Float("TempC"), in.Float("RatioKgPerKg")), nil
		}),
		"enhancement factor": published.Number(func(in *published.Inputs) (float64, error) {
			t := in.Float("TempC")
			return enhancement(t, in.Float("PressureKPa"), waterKPa(t), false), nil
		}),
		"pressure at altitude": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := PressureAtAltitude(in.Float("AltitudeM"))
			return 1000 * p, err
		}),
		"humidity from wet bulb": published.Number(func(in *published.Inputs) (float64, error) {
			return HumidityFromWetBulb(Psychrometer{in.Float("TempC"), in.Float("WetBulbC"), in.Float("PressureKPa")})
		}),
		"Magnus pressure where the search begins": published.Constant(math.Exp(lnMagnusPa) / 100),

		// The store.
		"margin above the dew point": published.Constant(CondensationMarginK * 9.0 / 5),
		"greatest safe humidity of a cold sack": published.Number(func(in *published.Inputs) (float64, error) {
			s, err := SackSweat(ColdSack{in.Float("SurfaceC"), Air{in.Float("TempC"), in.Float("RHPct")}, in.Float("MarginK")})
			return s.SafeRHPct, err
		}),
		"thin-layer factor":              published.Constant(ThinLayerFactor),
		"thin-layer exponent of dryness": published.Constant(ThinLayerDryExponent),
		"thin-layer exponent of time":    published.Constant(ThinLayerTimeExponent),
		"hours of a thin layer": published.Number(func(in *published.Inputs) (float64, error) {
			return LayerHours(Layer{in.Float("TempC"), in.Float("RHPct"), in.Float("LeftPct")})
		}),

		// Salts.
		"humidity over a salt, handbook": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := HandbookSalt(Salt(in.Int("Salt")), in.Float("TempC"))
			return p.RHPct, err
		}),
		"humidity over a salt, standard": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := StandardSalt(Salt(in.Int("Salt")), in.Float("TempC"))
			return p.RHPct, err
		}),

		// Roast orientation.
		"typical total loss":                  published.Limits(TypicalLossMinPct, TypicalLossMaxPct),
		"average total loss":                  published.Constant(AverageLossPct),
		"typical dry-matter loss":             published.Limits(TypicalDryLossMinPct, TypicalDryLossMaxPct),
		"greatest dry-matter loss":            published.Constant(DarkestDryLossPct),
		"dry-matter loss, light":              degree(0),
		"dry-matter loss, medium":             degree(1),
		"dry-matter loss, dark":               degree(2),
		"start of reactions":                  published.Constant(ReactionsFromC),
		"greatest moisture of roasted coffee": published.Constant(RoastedMaxMoisturePct),
	})
	published.Docs(t)
}

func degree(i int) published.Claim {
	d := DryLossByDegree()[i]
	return published.Limits(d.MinPct, d.MaxPct)
}

func properties(f func(AirState) float64) published.Claim {
	return published.Number(func(in *published.Inputs) (float64, error) {
		s, err := AirProperties(MoistAir{in.Float("TempC"), in.Float("RHPct"), in.Float("PressureKPa")})
		return f(s), err
	})
}

func calibrated(f func(Calibration) float64) published.Claim {
	return published.Number(func(in *published.Inputs) (float64, error) {
		meter, oven := in.Floats("MeterPct"), in.Floats("OvenPct")
		pairs := make([]MeterPair, len(meter))
		for i := range pairs {
			pairs[i] = MeterPair{meter[i], oven[i]}
		}
		c, err := CalibrateMeter(pairs)
		return f(c), err
	})
}

func gabFitted(i int) published.Claim {
	return published.Number(func(in *published.Inputs) (float64, error) {
		aw, dry := in.Floats("Aw"), in.Floats("DryMoisturePct")
		pairs := make([]IsothermPair, len(aw))
		for i := range pairs {
			pairs[i] = IsothermPair{aw[i], wetFromDry(dry[i]), 25}
		}
		f, err := FitIsotherm(FormGAB, pairs)
		return f.Curve.P[i], err
	})
}
