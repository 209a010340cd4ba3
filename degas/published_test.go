package degas

import (
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
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
