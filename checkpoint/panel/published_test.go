package panel

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/internal/num"
	"example.org/evenlot/internal/published"
)

func methodOf(in *published.Inputs) Method {
	name := in.Text("Method")
	for m := Triangle; m <= Tetrad; m++ {
		if m.String() == name {
			return m
		}
	}
	return 0
}

// rows reads "1 2 | 3 4" as a table.
func rows(text string) (table [][]float64) {
	for line := range strings.SplitSeq(text, "|") {
		var row []float64
		for w := range strings.FieldsSeq(line) {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				return nil
			}
			row = append(row, v)
		}
		table = append(table, row)
	}
	return table
}

// turned exchanges rows and columns.
func turned(t [][]float64) [][]float64 {
	out := make([][]float64, len(t[0]))
	for j := range out {
		for i := range t {
			out[j] = append(out[j], t[i][j])
		}
	}
	return out
}

func TestPublished(t *testing.T) {
	number := published.Number
	count := func(f func(in *published.Inputs) (int, error)) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			n, err := f(in)
			return float64(n), err
		})
	}
	trial := func(in *published.Inputs) Trial {
		return Trial{methodOf(in), in.Int("Assessors"), in.Int("Correct")}
	}
	byPd := func(in *published.Inputs) (float64, error) {
		return CorrectPct(methodOf(in), in.Float("DiscriminatorsPct"))
	}
	byD := func(in *published.Inputs) (float64, error) { return CorrectAtPct(methodOf(in), in.Float("DPrime")) }
	power := func(effect func(in *published.Inputs) (float64, error)) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			pc, err := effect(in)
			if err != nil {
				return 0, err
			}
			c, err := Power(Design{methodOf(in), in.Int("Assessors"), in.Float("RiskPct"), pc})
			return c.PowerPct / 100, err
		})
	}
	panelOf := func(effect func(in *published.Inputs) (float64, error), part func(Size) int) published.Claim {
		return count(func(in *published.Inputs) (int, error) {
			pc, err := effect(in)
			if err != nil {
				return 0, err
			}
			s, err := Assessors(Goal{methodOf(in), in.Float("RiskPct"), in.Float("PowerPct"), pc})
			return part(s), err
		})
	}
	smallest := func(s Size) int { return s.Smallest }
	agreement := func(part func(Agreement) float64) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			a, err := Agree(rows(in.Text("Scores")), 95)
			return part(a), err
		})
	}
	fromSums := func(part func(RankTest) float64) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			var sums []int
			for _, s := range in.Floats("RankSums") {
				sums = append(sums, int(2*s))
			}
			r, ok := friedman(sums, in.Int("Tasters"), 0)
			if !ok {
				return 0, fmt.Errorf("all tied")
			}
			return part(r), nil
		})
	}
	blocks := func(part func(RankTest) float64) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			r, err := Friedman(turned(rows(in.Text("Blocks"))))
			return part(r), err
		})
	}
	trend := func(part func(Trend) float64) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			w, s := in.Floats("Weeks"), in.Floats("Scores")
			list := make([]Cupping, len(w))
			for i := range w {
				list[i] = Cupping{w[i], s[i]}
			}
			tr, err := ScoreTrend(list, 95)
			return part(tr), err
		})
	}
	published.Run(t, map[string]published.Claim{
		"critical count": count(func(in *published.Inputs) (int, error) {
			return CriticalCount(methodOf(in), in.Int("Assessors"), in.Float("RiskPct"))
		}),
		"preference: least majority": count(func(in *published.Inputs) (int, error) {
			n, risk := in.Int("Assessors"), in.Float("RiskPct")
			for x := (n + 1) / 2; x <= n; x++ {
				if p, err := PreferenceByChancePct(n, x); err != nil || p <= risk {
					return x, err
				}
			}
			return n + 1, nil
		}),
		"by chance": number(func(in *published.Inputs) (float64, error) {
			d, err := ByChance(trial(in))
			return d.ByChancePct / 100, err
		}),
		"likeness by chance": number(func(in *published.Inputs) (float64, error) {
			d, err := Alike(Likeness{trial(in), in.Float("MaxDiscriminatorsPct")})
			return d.ByChancePct / 100, err
		}),
		"power by discriminators":          power(byPd),
		"power by distance":                power(byD),
		"smallest panel by discriminators": panelOf(byPd, smallest),
		"smallest panel by distance":       panelOf(byD, smallest),
		"stable panel by distance":         panelOf(byD, func(s Size) int { return s.Stable }),
		"smallest panel for likeness": count(func(in *published.Inputs) (int, error) {
			s, err := AlikeAssessors(LikenessGoal{methodOf(in), in.Float("RiskPct"), in.Float("PowerPct"),
				in.Float("MaxDiscriminatorsPct"), in.Float("TrueDiscriminatorsPct")})
			return s.Smallest, err
		}),
		"right answers at a distance": number(func(in *published.Inputs) (float64, error) {
			p, err := byD(in)
			return p / 100, err
		}),
		"right answers by discriminators": number(func(in *published.Inputs) (float64, error) {
			p, err := byPd(in)
			return p / 100, err
		}),
		"distance": number(func(in *published.Inputs) (float64, error) { return DPrime(methodOf(in), in.Float("CorrectPct")) }),
		"distance by discriminators": number(func(in *published.Inputs) (float64, error) {
			p, err := byPd(in)
			if err != nil {
				return 0, err
			}
			return DPrime(methodOf(in), p)
		}),
		"estimated distance": number(func(in *published.Inputs) (float64, error) {
			s, err := Estimate(trial(in), 95)
			if err != nil {
				return 0, err
			}
			return DPrime(methodOf(in), s.CorrectPct)
		}),
		"lower limit of right answers": number(func(in *published.Inputs) (float64, error) {
			s, err := Estimate(trial(in), in.Float("ConfidencePct"))
			return s.LowerCorrectPct / 100, err
		}),
		"ICC(1,1)":                agreement(func(a Agreement) float64 { return a.ICC11.Value }),
		"ICC(2,1)":                agreement(func(a Agreement) float64 { return a.ICC21.Value }),
		"ICC(3,1)":                agreement(func(a Agreement) float64 { return a.ICC31.Value }),
		"ICC(1,k)":                agreement(func(a Agreement) float64 { return a.ICC1K.Value }),
		"ICC(2,k)":                agreement(func(a Agreement) float64 { return a.ICC2K.Value }),
		"ICC(3,k)":                agreement(func(a Agreement) float64 { return a.ICC3K.Value }),
		"F of coffees":            agreement(func(a Agreement) float64 { return a.CoffeesMS / a.ResidualMS }),
		"mean square of coffees":  agreement(func(a Agreement) float64 { return a.CoffeesMS }),
		"mean square of tasters":  agreement(func(a Agreement) float64 { return a.TastersMS }),
		"mean square of residual": agreement(func(a Agreement) float64 { return a.ResidualMS }),
		"mean square within":      agreement(func(a Agreement) float64 { return a.WithinMS }),
		"sum of squared rank deviations": fromSums(func(r RankTest) float64 {
			return r.KendallW * 4 * 4 * (1000 - 10) / 12
		}),
		"concordance from rank sums": fromSums(func(r RankTest) float64 { return r.KendallW }),
		"statistic from rank sums":   fromSums(func(r RankTest) float64 { return r.Statistic }),
		"rank statistic with ties":   blocks(func(r RankTest) float64 { return r.Statistic }),
		"rank test by chi-squared":   blocks(func(r RankTest) float64 { return num.ChiSquareTail(r.Statistic, float64(r.DF)) }),
		"chi-squared at a risk":      number(chiSquareAt),
		"least rank-sum difference":  number(leastDifference),
		"exact tail of ranks without ties": number(func(in *published.Inputs) (float64, error) {
			n, m := in.Int("Coffees"), in.Int("Tasters")
			ranks := make([][]int, m)
			for j := range ranks {
				for i := range n {
					ranks[j] = append(ranks[j], 2*(i+1))
				}
			}
			// 4·S that the statistic stands for, a whole number.
			s4 := int(math.Floor(in.Float("Statistic")*float64(m*n*(n+1))/3 + 0.01))
			p, ok := byEnumeration(ranks, s4)
			if !ok {
				return 0, fmt.Errorf("too much to enumerate")
			}
			return p, nil
		}),
		"slope":                             trend(func(t Trend) float64 { return t.SlopePerWeek }),
		"score in week 0":                   trend(func(t Trend) float64 { return t.ScoreAt(0) }),
		"standard uncertainty of the slope": trend(func(t Trend) float64 { return t.SlopeU }),
		"scatter about the line":            trend(func(t Trend) float64 { return t.SD }),
	})
}

func leastDifference(in *published.Inputs) (float64, error) {
	return LeastRankDifference(in.Int("Coffees"), in.Int("Tasters"), in.Float("RiskPct"))
}

// chiSquareAt finds where the tail that the rank test uses is the risk.
func chiSquareAt(in *published.Inputs) (float64, error) {
	df, risk := in.Float("DF"), in.Float("RiskPct")/100
	x, ok := num.Root(func(x float64) float64 { return num.ChiSquareTail(x, df) - risk }, 0, 100, 1e-9)
	if !ok {
		return 0, fmt.Errorf("no root")
	}
	return x, nil
}

func TestDocs(t *testing.T) { published.Docs(t) }
