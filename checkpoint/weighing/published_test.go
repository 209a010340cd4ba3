package weighing

import (
	"fmt"
	"strings"
	"testing"

	"example.org/evenlot/internal/published"
	"github.com/shopspring/decimal"
)

func classOf(name string) Class {
	for c := ClassI; c <= ClassIIII; c++ {
		if c.String() == name {
			return c
		}
	}
	return 0
}

func weightClassOf(name string) WeightClass {
	for c := E2; c <= M3; c++ {
		if c.String() == name {
			return c
		}
	}
	return 0
}

func decimals(text string) (list []decimal.Decimal) {
	for w := range strings.FieldsSeq(text) {
		d, err := decimal.NewFromString(w)
		if err != nil {
			break
		}
		list = append(list, d)
	}
	return list
}

func TestPublished(t *testing.T) {
	exact := func(f func(in *published.Inputs) (decimal.Decimal, error)) published.Claim { return published.Exact(f) }
	count := func(f func(in *published.Inputs) (int, error)) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			n, err := f(in)
			return float64(n), err
		})
	}
	double := func(part func(Plan) int) published.Claim {
		return count(func(in *published.Inputs) (int, error) {
			p, err := DoublePlan(in.Int("Batch"))
			return part(p), err
		})
	}
	destructive := func(part func(Plan) int) published.Claim {
		return count(func(in *published.Inputs) (int, error) {
			p, err := DestructivePlan(in.Int("Batch"))
			return part(p), err
		})
	}
	shortage := func(part func(Shortage) decimal.Decimal) published.Claim {
		return exact(func(in *published.Inputs) (decimal.Decimal, error) {
			s, err := TolerableShortage(in.Decimal("NominalG"))
			return part(s), err
		})
	}
	published.Run(t, map[string]published.Claim{
		"permissible error": exact(func(in *published.Inputs) (decimal.Decimal, error) {
			p, err := PermissibleError(Load{Class: classOf(in.Text("Class")), IntervalG: in.Decimal("IntervalG"), LoadG: in.Decimal("LoadG")})
			return p.LimitG, err
		}),
		"factor in service": published.Constant(InServiceFactor),
		"minimum capacity": exact(func(in *published.Inputs) (decimal.Decimal, error) {
			return MinimumCapacityG(classOf(in.Text("Class")), in.Decimal("IntervalG"))
		}),
		"weights: limit over weight error": published.Constant(LimitPerWeight),
		"unrounded indication": exact(func(in *published.Inputs) (decimal.Decimal, error) {
			return UnroundedG(Changeover{in.Decimal("ReadingG"), in.Decimal("DivisionG"), in.Decimal("AddedG")})
		}),
		"weight error": exact(func(in *published.Inputs) (decimal.Decimal, error) { // mg there
			w, err := WeightErrorG(weightClassOf(in.Text("WeightClass")), in.Decimal("NominalG"))
			return w.Shift(3), err
		}),
		"smallest weighing": exact(func(in *published.Inputs) (decimal.Decimal, error) {
			s, err := SmallestWeighing(Weighing{DivisionG: in.Decimal("DivisionG"), TolerancePct: in.Decimal("TolerancePct")})
			return s.LoadG, err
		}),
		"repeatability factor": published.Constant(RepeatabilityFactor),
		"least repeatability":  published.Constant(LeastRepeatability),
		"standard uncertainty of a reading": published.Number(func(in *published.Inputs) (float64, error) {
			return StandardUncertaintyG(Readout{DivisionG: in.Float("DivisionG"), Net: in.Text("Net") == "yes"})
		}),
		"repeatability": published.Number(func(in *published.Inputs) (float64, error) {
			return RepeatabilityG(decimals(in.Text("ReadingsG")))
		}),
		"tolerable shortage":                  shortage(func(s Shortage) decimal.Decimal { return s.T1G }),
		"content that few packs may be under": shortage(func(s Shortage) decimal.Decimal { return s.FewG }),
		"content that no pack may be under":   shortage(func(s Shortage) decimal.Decimal { return s.NeverG }),
		"tolerable shortage, recommendation": exact(func(in *published.Inputs) (decimal.Decimal, error) {
			s, err := TolerableShortageR87(in.Decimal("NominalG"))
			return s.T1G, err
		}),
		"factor of the mean": published.Number(func(in *published.Inputs) (float64, error) {
			return MeanFactor(in.Int("Sample"), in.Int("Batch"))
		}),
		"double plan: Sample":       double(func(p Plan) int { return p.Sample }),
		"double plan: Accept":       double(func(p Plan) int { return p.Accept }),
		"double plan: Reject":       double(func(p Plan) int { return p.Reject }),
		"double plan: SecondAccept": double(func(p Plan) int { return p.SecondAccept }),
		"double plan: SecondReject": double(func(p Plan) int { return p.SecondReject }),
		"destructive plan: Sample":  destructive(func(p Plan) int { return p.Sample }),
		"destructive plan: Accept":  destructive(func(p Plan) int { return p.Accept }),
		"single plan: Accept": count(func(in *published.Inputs) (int, error) {
			p, err := SinglePlan(in.Int("Batch"))
			if p.Reject != p.Accept+1 {
				return 0, fmt.Errorf("a single plan rejects from %d", p.Reject)
			}
			return p.Accept, err
		}),
		"quantile of the few": published.Constant(zFew),
		"quantile of none":    published.Constant(zNever),
		"few packs, share":    published.Constant(FewShortPct),
		"filling target": exact(func(in *published.Inputs) (decimal.Decimal, error) {
			f, err := FillTarget(Fill{NominalG: in.Decimal("NominalG"), SpreadG: in.Float("SpreadG"), StepG: decimal.New(1, -2)})
			return f.TargetG, err
		}),
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
