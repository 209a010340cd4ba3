package brewratio

import (
	"testing"

	"example.org/evenlot/internal/published"
	"github.com/shopspring/decimal"
)

func TestPublished(t *testing.T) {
	ratio := published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
		b, err := Ratio(DoseAndWater{DoseG: in.Decimal("DoseG"), WaterG: in.Decimal("WaterG")})
		return b.Ratio, err
	})
	published.Run(t, map[string]published.Claim{
		"cupping ratio by volume, coffee per water": published.Exact(func(in *published.Inputs) (decimal.Decimal, error) {
			b, err := Ratio(DoseAndWater{DoseG: in.Decimal("DoseG"), WaterG: in.Decimal("WaterG")})
			if err != nil {
				return decimal.Zero, err
			}
			return decimal.NewFromInt(1).DivRound(b.Ratio, 9), nil
		}),
		"brew ratio": ratio,
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
