package chart

import (
	"math"
	"strings"
	"testing"

	"example.org/evenlot/internal/published"
)

func TestPublished(t *testing.T) {
	factor := func(what func(Factors) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			f, err := GroupFactors(in.Int("n"))
			return what(f), err
		})
	}
	single := func(what func(Pair) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			p, err := Individuals(in.Floats("x"))
			return what(p), err
		})
	}
	rubber := func(what func(Pair) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			p, err := FromMeanSD(in.Float("grandMean"), in.Float("meanSD"), in.Int("size"), 20)
			return what(p), err
		})
	}
	smooth := func(what func([]SmoothPoint, *published.Inputs) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			p, err := EWMA(in.Floats("x"), Smooth{in.Float("Target"), in.Float("Sigma"), in.Float("Lambda"), in.Float("Width")})
			if err != nil {
				return 0, err
			}
			return what(p, in), nil
		})
	}
	cumulate := func(what func([]CumulatePoint, *published.Inputs) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			p, err := CUSUM(in.Floats("x"), Cumulate{in.Float("Target"), in.Float("Slack"), in.Float("Decision")})
			if err != nil {
				return 0, err
			}
			return what(p, in), nil
		})
	}
	able := func(what func(Ability) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			s := Still{Mean: in.Float("Mean"), SD: in.Float("SD"), DF: 99, N: 100, Lo: math.Inf(-1), Hi: math.Inf(1), ConfidencePct: 95}
			if in.Has("Lo") {
				s.Lo = in.Float("Lo")
			}
			if in.Has("Hi") {
				s.Hi = in.Float("Hi")
			}
			a, err := Capability(s)
			return what(a), err
		})
	}
	// The shortest run of a rule that calls, found by feeding it points.
	length := func(rule Rules, point func(i int) float64) published.Claim {
		return published.Number(func(*published.Inputs) (float64, error) {
			var x []float64
			for i := range 30 {
				x = append(x, point(i))
				marks, err := Check(x, Lines{0, -3, 3, 1}, rule)
				if err != nil {
					return 0, err
				}
				if marks[i] != 0 {
					return float64(i + 1), nil
				}
			}
			return math.NaN(), nil
		})
	}
	alternate := func(size float64) func(int) float64 {
		return func(i int) float64 { return size * (1 - 2*float64(i%2)) }
	}
	names := map[string]Rules{"1": Beyond, "5": TwoOfThree, "6": FourOfFive, "WE4": Run8}
	published.Run(t, map[string]published.Claim{
		"factor d2": factor(func(f Factors) float64 { return f.MeanRange }),
		"factor d3": factor(func(f Factors) float64 { return f.RangeSD }),
		"factor c4": factor(func(f Factors) float64 { return f.MeanSD }),
		"factor A2": factor(func(f Factors) float64 { return f.A2 }),
		"factor A3": factor(func(f Factors) float64 { return f.A3 }),
		"factor B3": factor(func(f Factors) float64 { return f.B3 }),
		"factor B4": factor(func(f Factors) float64 { return f.B4 }),
		"factor D3": factor(func(f Factors) float64 { return f.D3 }),
		"factor D4": factor(func(f Factors) float64 { return f.D4 }),

		"individuals, centre":                             single(func(p Pair) float64 { return p.Level.Centre }),
		"individuals, mean moving range":                  single(func(p Pair) float64 { return p.Spread.Centre }),
		"individuals, upper line":                         single(func(p Pair) float64 { return p.Level.Upper }),
		"individuals, lower line":                         single(func(p Pair) float64 { return p.Level.Lower }),
		"moving range, upper line":                        single(func(p Pair) float64 { return p.Spread.Upper }),
		"group means, lower line from the mean deviation": rubber(func(p Pair) float64 { return p.Level.Lower }),
		"group means, upper line from the mean deviation": rubber(func(p Pair) float64 { return p.Level.Upper }),

		"chance of missing a shift": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := MissPct(in.Float("shiftSD"), in.Int("size"))
			return p / 100, err
		}),
		"run length": published.Number(func(in *published.Inputs) (float64, error) {
			var r Rules
			for w := range strings.FieldsSeq(in.Text("rules")) {
				r |= names[w]
			}
			return RunLength(r, 0)
		}),
		"length of rule 2":                   length(Run9, func(int) float64 { return 0.5 }),
		"length of rule 3":                   length(Trend, func(i int) float64 { return 0.1 * float64(i) }),
		"length of rule 4":                   length(Zigzag, alternate(0.5)),
		"length of rule 7":                   length(Hugging, alternate(0.5)),
		"length of rule 8":                   length(Avoiding, alternate(1.5)),
		"length of the Western Electric run": length(Run8, func(int) float64 { return -0.5 }),

		"EWMA":                        smooth(func(p []SmoothPoint, in *published.Inputs) float64 { return p[in.Int("point")-1].Value }),
		"EWMA, upper line in the end": smooth(func(p []SmoothPoint, _ *published.Inputs) float64 { return p[len(p)-1].Upper }),
		"EWMA, lower line in the end": smooth(func(p []SmoothPoint, _ *published.Inputs) float64 { return p[len(p)-1].Lower }),
		"CUSUM, high side":            cumulate(func(p []CumulatePoint, in *published.Inputs) float64 { return p[in.Int("point")-1].High }),
		"CUSUM, low side":             cumulate(func(p []CumulatePoint, in *published.Inputs) float64 { return p[in.Int("point")-1].Low }),
		"CUSUM, first call": cumulate(func(p []CumulatePoint, _ *published.Inputs) float64 {
			for i, v := range p {
				if v.Out {
					return float64(i + 1)
				}
			}
			return math.NaN()
		}),
		"plain running sum": published.Number(func(in *published.Inputs) (float64, error) {
			s, err := Sums(in.Floats("x"), in.Float("target"))
			if err != nil {
				return 0, err
			}
			return s[in.Int("point")-1], nil
		}),

		"Cp":               able(func(a Ability) float64 { return a.Cp }),
		"Cpk":              able(func(a Ability) float64 { return a.Cpk }),
		"Cpk, one limit":   able(func(a Ability) float64 { return a.Cpk }),
		"off-centre index": able(func(a Ability) float64 { return a.OffCentre }),
		"share outside":    able(func(a Ability) float64 { return a.OutsidePct / 100 }),
	})
	published.Docs(t)
}
