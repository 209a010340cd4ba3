package checkpoint

import (
	"math"
	"testing"

	"example.org/evenlot/internal/published"
)

func limitOf(in *published.Inputs) Limit {
	l := Limit{math.Inf(-1), math.Inf(1)}
	if in.Has("Lo") {
		l.Lo = in.Float("Lo")
	}
	if in.Has("Hi") {
		l.Hi = in.Float("Hi")
	}
	return l
}

func TestPublished(t *testing.T) {
	inside := func(in *published.Inputs) (float64, error) {
		v, err := Judge(Reading{in.Float("Value"), in.Float("U")}, limitOf(in), DefaultRiskPct)
		return v.InPct / 100, err
	}
	published.Run(t, map[string]published.Claim{
		"chance of being inside": published.Number(inside),
		"chance of being outside": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := inside(in)
			return 1 - p, err
		}),
		"guard band on one side in units of u": published.Number(func(in *published.Inputs) (float64, error) {
			l, u := limitOf(in), in.Float("U")
			v, err := Judge(Reading{l.Hi, u}, l, in.Float("riskPct"))
			return (l.Hi - v.AcceptHi) / u, err
		}),
		"default risk": published.Constant(DefaultRiskPct),
		"false acceptance over many lots": published.Number(func(in *published.Inputs) (float64, error) {
			r, err := LongRunRisks(Process{in.Float("Mean"), in.Float("SD")}, in.Float("u"), limitOf(in), limitOf(in))
			return r.FalseAcceptPct / 100, err
		}),
	})
	published.Docs(t)
}
