package brewratio

import (
	"fmt"
	"math"
	"testing"

	"example.org/evenlot/internal/published"
	"github.com/shopspring/decimal"
)

// standard finds one of the standards by its ID.
func standard(id string) (Standard, error) {
	for _, s := range Standards() {
		if s.ID == id {
			return s, nil
		}
	}
	return Standard{}, fmt.Errorf("there is no standard %q", id)
}

func vessel(in *published.Inputs) Vessel {
	return Vessel{TopMM: in.Decimal("TopMM"), BottomMM: in.Decimal("BottomMM"), HeightMM: in.Decimal("HeightMM")}
}

func TestPublished(t *testing.T) {
	type inputs = *published.Inputs
	exact := published.Exact
	at := func(in inputs) At { return At{in.Decimal("TempC")} }
	kept := func(in inputs) (Kept, error) {
		return RetainedByWeight(WeighedBrew{in.Decimal("DoseG"), in.Decimal("WaterG"), in.Decimal("BeverageG")})
	}
	published.Run(t, map[string]published.Claim{
		"cupping ratio by volume, coffee per water": exact(func(in inputs) (decimal.Decimal, error) {
			b, err := Ratio(DoseAndWater{in.Decimal("DoseG"), in.Decimal("WaterML")})
			if err != nil {
				return decimal.Zero, err
			}
			return decimal.NewFromInt(1).DivRound(b.Ratio, 9), nil
		}),
		"brew ratio": exact(func(in inputs) (decimal.Decimal, error) {
			b, err := Ratio(DoseAndWater{in.Decimal("DoseG"), in.Decimal("WaterG")})
			return b.Ratio, err
		}),
		"coffee saved by a smaller dose": exact(func(in inputs) (decimal.Decimal, error) {
			b, err := Ratio(DoseAndWater{in.Decimal("FromG"), in.Decimal("ToG")}) // a ratio like any other
			return decimal.NewFromInt(1).Sub(b.Ratio).Shift(2), err
		}),
		"dose for a vessel by a standard": exact(func(in inputs) (decimal.Decimal, error) {
			s, err := standard(in.Text("Standard"))
			if err != nil {
				return decimal.Zero, err
			}
			r, err := StandardDose(StandardBowl{s, in.Decimal("WaterG"), in.Decimal("TempC")})
			return r.DoseG, err
		}),
		"dose range of a standard": published.Range(func(in inputs) (lo, hi float64, err error) {
			s, err := standard(in.Text("Standard"))
			return s.DoseG.Sub(s.DoseToleranceG).InexactFloat64(), s.DoseG.Add(s.DoseToleranceG).InexactFloat64(), err
		}),
		"brew ratio by mass of a standard by volume": exact(func(in inputs) (decimal.Decimal, error) {
			n, err := FromGramsPerLitre(GPerLAt{in.Decimal("CoffeeGPerL"), in.Decimal("TempC")})
			return n.Ratio, err
		}),
		"brew ratio by mass of a dose per 100 mL": exact(func(in inputs) (decimal.Decimal, error) {
			n, err := FromGramsPer100ML(GPer100MLAt{in.Decimal("CoffeeGPer100ML"), in.Decimal("TempC")})
			return n.Ratio, err
		}),
		"dose per litre of a ratio": exact(func(in inputs) (decimal.Decimal, error) {
			n, err := FromRatio(RatioAt{in.Decimal("Ratio"), in.Decimal("TempC")})
			return n.CoffeeGPerL, err
		}),
		"coffee as a percentage of the water": exact(func(in inputs) (decimal.Decimal, error) {
			n, err := FromRatio(RatioAt{in.Decimal("Ratio"), in.Decimal("TempC")})
			return n.CoffeePct, err
		}),
		"density of water": exact(func(in inputs) (decimal.Decimal, error) { return WaterDensity(at(in)) }),
		"mass of a volume of water": exact(func(in inputs) (decimal.Decimal, error) {
			return WaterMass(PouredVolume{in.Decimal("VolumeML"), in.Decimal("TempC")})
		}),
		"volume of a mass of water": exact(func(in inputs) (decimal.Decimal, error) {
			return WaterVolume(PouredMass{in.Decimal("WaterG"), in.Decimal("TempC")})
		}),
		"volume of a vessel": exact(func(in inputs) (decimal.Decimal, error) { return VesselVolume(vessel(in)) }),
		"volume of a frustum with pi taken as 3": published.Number(func(in inputs) (float64, error) {
			v, err := VesselVolume(vessel(in))
			return v.InexactFloat64() / 1000 * 3 / math.Pi, err
		}),
		"volume of a part fill": published.Number(func(in inputs) (float64, error) {
			v, err := PartVolume(PartFill{vessel(in), in.Decimal("FillMM")})
			return v.InexactFloat64() / 1000, err
		}),
		"height of a volume in a vessel": exact(func(in inputs) (decimal.Decimal, error) {
			return FillHeight(VolumeIn{vessel(in), in.Decimal("VolumeML")})
		}),
		"diameter of a vessel at a fill": published.Number(func(in inputs) (float64, error) {
			fill := in.Decimal("FillMM")
			lo, err1 := PartVolume(PartFill{vessel(in), fill.Sub(d("0.5"))})
			hi, err2 := PartVolume(PartFill{vessel(in), fill.Add(d("0.5"))})
			if err1 != nil {
				return 0, err1
			}
			return math.Sqrt(4 / math.Pi * 1000 * hi.Sub(lo).InexactFloat64()), err2
		}),
		"room that a gram of grounds takes": published.Constant(GroundsMLPerG),
		"water retained": exact(func(in inputs) (decimal.Decimal, error) {
			k, err := kept(in)
			return k.RetainedGPerG, err
		}),
		"share of the water retained": exact(func(in inputs) (decimal.Decimal, error) {
			k, err := kept(in)
			return k.RetainedPct, err
		}),
		"most water retained, drip":                  published.Constant(DripRetainedMaxGPerG),
		"least water retained, drip":                 published.Constant(DripRetainedMinGPerG),
		"default retained liquid, drained immersion": published.Constant(ImmersionRetainedGPerG),
		"heat that melts ice":                        published.Constant(FusionJPerG),
		"bowls per coffee":                           published.Constant(UsualBowlsPerCoffeeCount),
		"rinse doses per coffee":                     published.Constant(UsualRinsesPerCoffeeCount),
		"beverage of a dose": exact(func(in inputs) (decimal.Decimal, error) {
			p, err := PlanDose(DosePlan{DoseG: in.Decimal("DoseG"), Ratio: in.Decimal("Ratio"), RetainedGPerG: in.Decimal("RetainedGPerG")})
			return p.BeverageG, err
		}),
		"strength served per strength brewed": exact(func(in inputs) (decimal.Decimal, error) {
			p, err := PlanBrew(Wanted{in.Decimal("BeverageG"), in.Decimal("Ratio"), in.Decimal("RetainedGPerG"), in.Decimal("BypassPct")})
			return p.ThinnedPct, err
		}),
		"smallest mass for a tolerance": exact(func(in inputs) (decimal.Decimal, error) {
			return SmallestDose(SmallestWanted{Balance{in.Decimal("DivisionG"), in.Decimal("RepeatableToG")}, in.Decimal("TolerancePct")})
		}),
		"coffee for one sample of five cups": exact(func(in inputs) (decimal.Decimal, error) {
			p, err := PlanSession(Session{CoffeesCount: 1, BowlsPerCoffeeCount: in.Int("BowlsPerCoffeeCount"), RinsesPerCoffeeCount: in.Int("RinsesPerCoffeeCount"),
				DoseG: in.Decimal("DoseG"), RinseG: in.Decimal("DoseG"), WaterG: d("150"), KettleG: d("1000"), DivisionG: d("0.1")})
			return p.CoffeeG, err
		}),
		"dose of a recipe in another size": exact(func(in inputs) (decimal.Decimal, error) {
			b, err := ScaleRecipe(Resize{in.Decimal("DoseG"), in.Decimal("WaterG"), in.Decimal("ToWaterG")})
			return b.DoseG, err
		}),
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
