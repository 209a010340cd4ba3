package extraction

import (
	"fmt"
	"testing"

	"example.org/evenlot/internal/published"
)

type inputs = *published.Inputs

func general(in inputs) (Balance, error) {
	return Yield(Brew{DoseG: in.Float("DoseG"), WaterG: in.Float("WaterG"), BeverageG: in.Float("BeverageG"),
		StrengthPct: in.Float("StrengthPct"), RetainedStrengthPct: in.Float("RetainedStrengthPct"), AbsorbedGPerG: in.Float("AbsorbedGPerG")})
}

func draining(in inputs) Draining {
	return Draining{in.Float("DoseG"), in.Float("BeverageG"), in.Float("StrengthPct")}
}

func immersion(in inputs) Immersion {
	return Immersion{in.Float("DoseG"), in.Float("WaterG"), in.Float("StrengthPct")}
}

func solution(in inputs) (Strengths, error) {
	return Convert(Solution{in.Float("StrengthPct"), in.Float("TempC"), in.Float("SoluteMLPerG")})
}

func steeped(in inputs) (Steeped, error) {
	return Equilibrium(Steep{in.Float("Ratio"), DesorptionYieldPct, DesorptionYieldUPct})
}

func fitted(in inputs) (SlopeFit, error) {
	var pairs []Pair
	y := in.Floats("StrengthPct")
	for i, x := range in.Floats("BrixPct") {
		pairs = append(pairs, Pair{x, y[i]})
	}
	return FitSlope(pairs)
}

func repeated(in inputs) (Repeated, error) { return Repeatability(in.Floats("Readings")) }

func window(in inputs) (Window, error) {
	id := in.Text("Window")
	for _, w := range Windows() {
		if w.ID == id {
			return w, nil
		}
	}
	return Window{}, fmt.Errorf("there is no window %q", id)
}

func parts(in inputs) (first, second float64, err error) {
	return BlendParts(TwoBrews{in.Float("FirstPct"), in.Float("SecondPct"), in.Float("ToStrengthPct"), in.Float("TotalG")})
}

func TestPublished(t *testing.T) {
	number, constant := published.Number, published.Constant
	published.Run(t, map[string]published.Claim{
		"extraction yield, draining": number(func(in inputs) (float64, error) {
			e, err := DrainingYield(draining(in))
			return e.YieldPct, err
		}),
		"extraction yield, immersion": number(func(in inputs) (float64, error) {
			e, err := ImmersionYield(immersion(in))
			return e.YieldPct, err
		}),
		"extraction yield, general balance": number(func(in inputs) (float64, error) {
			b, err := general(in)
			return b.YieldPct, err
		}),
		"yield delivered to the cup, general balance": number(func(in inputs) (float64, error) {
			b, err := general(in)
			return b.CupYieldPct, err
		}),
		"liquid of an immersion brew": number(func(in inputs) (float64, error) {
			e, err := ImmersionYield(immersion(in))
			return in.Float("WaterG") + e.DissolvedG, err
		}),
		"yield multiplier of a moist dose": number(func(in inputs) (float64, error) {
			return DryFactor(Bean{in.Float("MoisturePct"), in.Float("GasPct")})
		}),
		"strength before a bypass": number(func(in inputs) (float64, error) {
			_, strength, err := BypassYield(Bypassed{Brew{DoseG: in.Float("DoseG"), WaterG: in.Float("WaterG"),
				BeverageG: in.Float("BeverageG"), StrengthPct: in.Float("StrengthPct")}, in.Float("BypassG")})
			return strength, err
		}),
		"dose error that moves a yield by 0.1 point": number(func(in inputs) (float64, error) {
			u, err := DrainingUncertainty(draining(in), BrewU{DoseG: 0.01})
			return 0.01 * 0.1 / u.UPct, err
		}),
		"yield above which a brew is doubtful":                constant(HighYieldPct),
		"largest published total of solubles":                 constant(SolublePct),
		"difference of strength that tasters tell":            constant(TasteThresholdPct),
		"spread of yields about the model":                    constant(DesorptionYieldUPct),
		"yield of cupping bowls at equilibrium":               constant(CuppingYieldPct),
		"yield of decaffeinated cupping bowls at equilibrium": constant(DecafCuppingYieldPct),
		"liquid that drained immersion grounds keep":          constant(SpentLiquidGPerG),
		"yield feigned by oven volatiles":                     constant(OvenVolatilesPct),
		"salt per conductivity":                               constant(SaltPerConductivity),
		"strength per degree Brix in use":                     constant(SlopePracticePct),
		"strength per degree Brix, regression":                constant(SlopeRegressionPct),
		"strength by volume per degree Brix":                  constant(SlopeGPerL),
		"strength per degree Brix, weak fractions":            constant(SlopeWeakPct),
		"strength per degree Brix, strong fractions":          constant(SlopeStrongPct),
		"yield of a full immersion at equilibrium": number(func(in inputs) (float64, error) {
			s, err := steeped(in)
			if err != nil {
				return 0, err
			}
			// The yield that the strength stands for, not the one put in.
			e, err := ImmersionYield(Immersion{10, 10 * in.Float("Ratio"), s.StrengthPct})
			return e.YieldPct, err
		}),
		"strength of a full immersion at equilibrium": number(func(in inputs) (float64, error) {
			s, err := steeped(in)
			return s.StrengthPct, err
		}),
		"strength of a cupping bowl at equilibrium": number(func(in inputs) (float64, error) {
			s, err := Equilibrium(Steep{in.Float("Ratio"), CuppingYieldPct, CuppingYieldUPct})
			return s.StrengthPct, err
		}),
		"yield shown by dried grounds": number(func(in inputs) (float64, error) {
			return OvenApparentYield(OvenCheck{in.Float("YieldPct"), in.Float("Ratio"), in.Float("LiquidGPerG"), in.Float("VolatilesPct")})
		}),
		"strength window": published.Range(func(in inputs) (lo, hi float64, err error) {
			w, err := window(in)
			return w.StrengthLowPct, w.StrengthHighPct, err
		}),
		"yield window": published.Range(func(in inputs) (lo, hi float64, err error) {
			w, err := window(in)
			return w.YieldLowPct, w.YieldHighPct, err
		}),
		"strength window, g/L": published.Range(func(in inputs) (lo, hi float64, err error) {
			w, err := window(in)
			if err != nil {
				return 0, 0, err
			}
			a, err1 := Convert(Solution{w.StrengthLowPct, in.Float("TempC"), SoluteMLPerG})
			b, err2 := Convert(Solution{w.StrengthHighPct, in.Float("TempC"), SoluteMLPerG})
			if err1 != nil {
				return 0, 0, err1
			}
			return a.GPerL, b.GPerL, err2
		}),
		"concentration of a solution of sucrose": number(func(in inputs) (float64, error) {
			s, err := solution(in)
			return s.GPerL, err
		}),
		"density of a solution of sucrose": number(func(in inputs) (float64, error) {
			s, err := solution(in)
			return s.KgPerM3, err
		}),
		"refractive index of a sucrose solution": number(func(in inputs) (float64, error) {
			r, err := SucroseIndex(Reading{in.Float("BrixPct")})
			return r.Index, err
		}),
		"sucrose reading of a 10 % glucose syrup": number(func(in inputs) (float64, error) {
			r, err := Brix(Sample{in.Float("Index"), in.Float("TempC")})
			return r.BrixPct, err
		}),
		"refractive index of water against air": number(func(in inputs) (float64, error) { return WaterIndex(At{in.Float("TempC")}) }),
		"correction of a Brix reading": number(func(in inputs) (float64, error) {
			return BrixCorrection(Uncompensated{in.Float("BrixPct"), in.Float("TempC")})
		}),
		"strength of a Brix reading": number(func(in inputs) (float64, error) {
			m, err := BrixStrength(Refractometry{BrixPct: in.Float("BrixPct"), SlopePct: in.Float("SlopePct")})
			return m.StrengthPct, err
		}),
		"strength by mass per degree Brix": number(func(in inputs) (float64, error) {
			return SlopePct(SlopeByMass{in.Float("GPerL"), in.Float("KgPerM3")})
		}),
		"strength by drying": number(func(in inputs) (float64, error) {
			m, err := OvenStrength(Oven{in.Float("DishG"), in.Float("WetG"), in.Float("DryG"), 0})
			return m.StrengthPct, err
		}),
		"slope through zero": number(func(in inputs) (float64, error) {
			f, err := fitted(in)
			return f.SlopePct, err
		}),
		"uncertainty of a slope through zero": number(func(in inputs) (float64, error) {
			f, err := fitted(in)
			return f.SlopeUPct, err
		}),
		"residual spread about a line through zero": number(func(in inputs) (float64, error) {
			f, err := fitted(in)
			return f.ResidualPct, err
		}),
		"mean of readings": number(func(in inputs) (float64, error) {
			r, err := repeated(in)
			return r.MeanPct, err
		}),
		"uncertainty of a mean of readings": number(func(in inputs) (float64, error) {
			r, err := repeated(in)
			return r.UMeanPct, err
		}),
		"half-width of a 95 % interval per uncertainty of the mean": number(func(in inputs) (float64, error) {
			r, err := repeated(in)
			return r.U95Pct / r.UMeanPct, err
		}),
		"repeatability limit per standard deviation": number(func(in inputs) (float64, error) {
			r, err := repeated(in)
			return r.LimitPct / r.SDPct, err
		}),
		"standard uncertainty of a yield, draining": number(func(in inputs) (float64, error) {
			u, err := DrainingUncertainty(draining(in), BrewU{DoseG: in.Float("U.DoseG"), BeverageG: in.Float("U.BeverageG"), StrengthPct: in.Float("U.StrengthPct")})
			return u.UPct, err
		}),
		"standard uncertainty of a yield, immersion": number(func(in inputs) (float64, error) {
			u, err := ImmersionUncertainty(immersion(in), BrewU{DoseG: in.Float("U.DoseG"), WaterG: in.Float("U.WaterG"), StrengthPct: in.Float("U.StrengthPct")})
			return u.UPct, err
		}),
		"reach of a 95 % ellipse": number(func(in inputs) (float64, error) {
			e, err := MapEllipse(MapPoint{20, 0.5, 1.3, 0.03, 0, in.Float("CoveragePct")})
			return e.CoverageRatio, err
		}),
		"parts of the stronger brew": number(func(in inputs) (float64, error) {
			first, _, err := parts(in)
			return first, err
		}),
		"parts of the weaker brew": number(func(in inputs) (float64, error) {
			_, second, err := parts(in)
			return second, err
		}),
		"what to add for a strength": number(func(in inputs) (float64, error) {
			return Dilute(Dilution{in.Float("BrewG"), in.Float("StrengthPct"), in.Float("WithPct"), in.Float("ToStrengthPct")})
		}),
		"strength of a blend": number(func(in inputs) (float64, error) {
			strength := in.Floats("StrengthPct")
			var list []Part
			for i, m := range in.Floats("MassG") {
				list = append(list, Part{m, strength[i]})
			}
			b, err := Blend(list)
			return b.StrengthPct, err
		}),
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
