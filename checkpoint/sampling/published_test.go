package sampling

import (
	"testing"

	"example.org/evenlot/internal/published"
)

func factor(f func(n int, coveragePct, confidencePct float64) (float64, error)) published.Claim {
	return published.Number(func(in *published.Inputs) (float64, error) {
		return f(in.Int("n"), in.Float("coveragePct"), in.Float("confidencePct"))
	})
}

func points(in *published.Inputs) Points {
	return Points{in.Float("GoodPct"), in.Float("GoodAcceptPct"), in.Float("BadPct"), in.Float("BadAcceptPct")}
}

func TestPublished(t *testing.T) {
	limit := func(sign float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			k, err := ApproximateFactor(in.Int("n"), in.Float("coveragePct"), in.Float("confidencePct"))
			return in.Float("mean") + sign*k*in.Float("s"), err
		})
	}
	critical := func(twoSided bool) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			return GrubbsCritical(in.Int("n"), in.Float("alphaPct"), twoSided)
		})
	}
	tabled := func(what func(Attributes) int) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			p, err := TabledAttributes(in.Int("lot"), in.Float("aqlPct"))
			return float64(what(p)), err
		})
	}
	counting := func(what func(Attributes) int) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			p, err := PlanAttributes(points(in))
			return float64(what(p)), err
		})
	}
	measuring := func(known bool, what func(Variables) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			p, err := PlanVariables(points(in), known)
			return what(p), err
		})
	}
	units := func(a Attributes) int { return a.N }
	ac := func(a Attributes) int { return a.Ac }
	share := func(pct float64, err error) (float64, error) { return pct / 100, err }
	judged := func(what func(Measured) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			x := in.Floats("readings")
			m, err := JudgeVariables(x, in.Float("limit"), true, Variables{N: len(x), K: 1.53}, 0)
			if !m.Accept {
				t.Error("the standard accepts this lot")
			}
			return what(m), err
		})
	}
	published.Run(t, map[string]published.Claim{
		"one-sided tolerance factor":            factor(OneSidedFactor),
		"approximate tolerance factor":          factor(ApproximateFactor),
		"two-sided tolerance factor":            factor(TwoSidedFactor),
		"Howe's two-sided factor":               factor(HoweFactor),
		"upper limit by the approximate factor": limit(1),
		"lower limit by the approximate factor": limit(-1),
		"upper bound of a lognormal lot": published.Number(func(in *published.Inputs) (float64, error) {
			b, err := ToleranceBound(in.Floats("x"), Claim{CoveragePct: in.Float("coveragePct"), ConfidencePct: in.Float("confidencePct"), Side: Upper, Lognormal: true})
			return b.Hi, err
		}),
		"units that must all be good": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := ZeroFailure(in.Float("coveragePct"), in.Float("confidencePct"))
			return float64(n), err
		}),
		"units of a code letter": published.Number(func(in *published.Inputs) (float64, error) {
			_, n, err := CodeLetter(in.Int("lot"))
			return float64(n), err
		}),
		"tabled plan by counting, units":             tabled(units),
		"tabled plan by counting, acceptance number": tabled(ac),
		"chance of acceptance by counting": published.Number(func(in *published.Inputs) (float64, error) {
			return share(AcceptPct(Attributes{N: in.Int("N"), Ac: in.Int("Ac")}, in.Float("badPct")))
		}),
		"smallest plan by counting, units":                   counting(units),
		"smallest plan by counting, acceptance number":       counting(ac),
		"smallest plan by measuring, units":                  measuring(false, func(v Variables) float64 { return float64(v.N) }),
		"smallest plan by measuring, constant":               measuring(false, func(v Variables) float64 { return v.K }),
		"smallest plan by measuring, known deviation, units": measuring(true, func(v Variables) float64 { return float64(v.N) }),
		"chance of acceptance by measuring": published.Number(func(in *published.Inputs) (float64, error) {
			return share(AcceptVariablesPct(Variables{N: in.Int("N"), K: in.Float("K")}, in.Float("badPct")))
		}),
		"tabled plan by measuring, constant": published.Number(func(in *published.Inputs) (float64, error) {
			v, err := TabledVariables(in.Int("n"), in.Float("aqlPct"))
			return v.K, err
		}),
		"constant of a plan with a greatest share": published.Number(func(in *published.Inputs) (float64, error) {
			return IndexFor(in.Int("n"), in.Float("maxPct"))
		}),
		"greatest share of a plan with a constant": published.Number(func(in *published.Inputs) (float64, error) {
			return share(Estimated(in.Int("n"), in.Float("index")))
		}),
		"quality index":                    judged(func(m Measured) float64 { return m.Index }),
		"estimated share beyond the limit": judged(func(m Measured) float64 { return m.EstimatedPct / 100 }),
		"quality accepted with a chance": published.Number(func(in *published.Inputs) (float64, error) {
			return share(QualityAt(Attributes{N: in.Int("N"), Ac: in.Int("Ac")}, in.Float("acceptPct")))
		}),
		"greatest distance of one reading by chance, two-sided": critical(true),
		"greatest distance of one reading by chance, one-sided": critical(false),
		"distance of the oddest reading": published.Number(func(in *published.Inputs) (float64, error) {
			s, err := Grubbs(in.Floats("readings"), DefaultAlphaPct)
			return s.G, err
		}),
		"median": published.Number(func(in *published.Inputs) (float64, error) {
			r, err := RobustMean(in.Floats("readings"))
			return r.Median, err
		}),
		"robust deviation from the MAD": published.Number(func(in *published.Inputs) (float64, error) {
			r, err := RobustMean(in.Floats("readings"))
			return r.ScaledMAD, err
		}),
		"robust mean, Algorithm A": published.Number(func(in *published.Inputs) (float64, error) {
			r, err := RobustMean(in.Floats("readings"))
			return r.Mean, err
		}),
	})
	published.Docs(t)
}
