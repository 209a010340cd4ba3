package extraction

import (
	"testing"

	"example.org/evenlot/internal/published"
)

func general(in *published.Inputs) (Balance, error) {
	return Yield(Brew{DoseG: in.Float("DoseG"), WaterG: in.Float("WaterG"), BeverageG: in.Float("BeverageG"),
		StrengthPct: in.Float("StrengthPct"), RetainedStrengthPct: in.Float("RetainedStrengthPct"), AbsorbedGPerG: in.Float("AbsorbedGPerG")})
}

func TestPublished(t *testing.T) {
	published.Run(t, map[string]published.Claim{
		"extraction yield, draining": published.Number(func(in *published.Inputs) (float64, error) {
			e, err := DrainingYield(Draining{in.Float("DoseG"), in.Float("BeverageG"), in.Float("StrengthPct")})
			return e.YieldPct, err
		}),
		"extraction yield, immersion": published.Number(func(in *published.Inputs) (float64, error) {
			e, err := ImmersionYield(Immersion{in.Float("DoseG"), in.Float("WaterG"), in.Float("StrengthPct")})
			return e.YieldPct, err
		}),
		"extraction yield, general balance": published.Number(func(in *published.Inputs) (float64, error) {
			b, err := general(in)
			return b.YieldPct, err
		}),
		"yield delivered to the cup, general balance": published.Number(func(in *published.Inputs) (float64, error) {
			b, err := general(in)
			return b.CupYieldPct, err
		}),
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
