package moisture

import (
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
		"equilibrium moisture, dry basis": published.Number(func(in *published.Inputs) (float64, error) {
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
	})
	published.Docs(t)
}
