package panel

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// Mean is a mean of scores with its uncertainty.
type Mean struct {
	Score     float64 // points
	SD        float64 // spread of one taster's score, points; 0 only if nothing scatters
	U         float64 // standard uncertainty of the mean, points
	HalfWidth float64 // the interval is Score ± HalfWidth, points
	DF        int     // degrees of freedom of SD
}

// MeanScore returns the mean of one coffee's scores by several tasters, with
// the interval for what a whole population of such tasters would give.
//
//	x̄ = Σ x/k;  s² = Σ (x − x̄)²/(k − 1);  u = s/√k;  U = t(½ + γ/2; k − 1)·u
//
//	x   scores               accepted −MaxScore to MaxScore, 2 to MaxTasters of them
//	γ   confidencePct   %    accepted MinConfidencePct to MaxConfidencePct
//
// With three tasters U is 4.3 times u at 95 %, not twice. Fields outside
// their range are refused with an [*InputError].
//
// Source: JCGM 100:2008, 4.2 and annex G.
func MeanScore(scores []float64, confidencePct float64) (Mean, error) {
	bad := fault.Int(nil, "scores", len(scores), 2, MaxTasters, "tasters")
	if bad == nil {
		for i, x := range scores {
			if !(math.Abs(x) <= MaxScore) {
				bad = fault.Float(bad, "scores["+itoa(i)+"]", x, -MaxScore, MaxScore, "points")
			}
		}
	}
	bad = fault.Float(bad, "confidencePct", confidencePct, MinConfidencePct, MaxConfidencePct, "%")
	if err := fault.Input(bad); err != nil {
		return Mean{}, err
	}
	shift := scores[0]
	m := rowMean(scores, shift)
	ss := 0.0
	for _, x := range scores {
		e := x - shift - m
		ss += e * e
	}
	k := float64(len(scores))
	return mean(m+shift, math.Sqrt(ss/(k-1)), k, len(scores)-1, confidencePct), nil
}

func mean(score, sd, k float64, df int, confidencePct float64) Mean {
	u := sd / math.Sqrt(k)
	return Mean{score, sd, u, u * num.StudentQuantile(0.5+confidencePct/200, float64(df)), df}
}

// CoffeeMeans returns the mean score of each coffee of a table, with the
// interval that serves to compare these coffees as scored by these tasters:
// what a taster is strict or mild by on all coffees does not count.
//
//	s² = E, the residual mean square;  u = s/√k;  U = t(½ + γ/2; (n − 1)(k − 1))·u
//
//	scores[i][j]   coffee i, taster j   accepted −MaxScore to MaxScore
//	γ              confidencePct  %     accepted MinConfidencePct to MaxConfidencePct
//
// For how near such a mean is to what other tasters would give, take
// [MeanScore] of the coffee's own row. Fields outside their range and a
// ragged table are refused with an [*InputError].
//
// Source: Montgomery, Design and Analysis of Experiments, randomized blocks.
func CoffeeMeans(scores [][]float64, confidencePct float64) ([]Mean, error) {
	a, err := table(scores, confidencePct)
	if err != nil {
		return nil, err
	}
	list := make([]Mean, a.n)
	each := mean(0, math.Sqrt(a.msErr), float64(a.k), (a.n-1)*(a.k-1), confidencePct)
	for i, row := range scores {
		list[i] = each
		list[i].Score = row[0] + rowMean(row, row[0])
	}
	return list, nil
}

func table(scores [][]float64, confidencePct float64) (twoWay, error) {
	bad := checkTable(nil, scores, 2)
	bad = fault.Float(bad, "confidencePct", confidencePct, MinConfidencePct, MaxConfidencePct, "%")
	if err := fault.Input(bad); err != nil {
		return twoWay{}, err
	}
	return analyse(scores), nil
}

// Offset is how far one taster lies above or below the table.
type Offset struct {
	Points    float64 // mean of this taster less mean of all, points
	HalfWidth float64 // the interval is Points ± HalfWidth, points
	Clear     bool    // the interval leaves out zero
	SD        float64 // scatter of this taster's scores about coffee and offset, points
}

// Offsets returns for each taster of a table how much milder (positive) or
// stricter (negative) than the table that taster scores, with its interval.
//
//	o_j = x̄_j − x̄
//	u²  = E·(1 − 1/k)/n;  U = t(½ + γ/2; (n − 1)(k − 1))·u
//	s_j² = Σ_i (x_ij − x̄_i − o_j)²/((n − 1)(1 − 1/k))
//
//	scores[i][j]   coffee i, taster j   accepted −MaxScore to MaxScore
//	E              residual mean square, shared by all tasters
//	γ              confidencePct  %     accepted MinConfidencePct to MaxConfidencePct
//
// Offset.SD shows who scatters most; with few coffees it is itself uncertain.
// An offset is no fault: a table that agrees on the order can live with it.
// Fields outside their range and a ragged table are refused with an
// [*InputError].
//
// Source: Montgomery, Design and Analysis of Experiments, randomized blocks.
func Offsets(scores [][]float64, confidencePct float64) ([]Offset, error) {
	a, err := table(scores, confidencePct)
	if err != nil {
		return nil, err
	}
	n, k := float64(a.n), float64(a.k)
	half := math.Sqrt(a.msErr*(1-1/k)/n) * num.StudentQuantile(0.5+confidencePct/200, (n-1)*(k-1))
	shift := scores[0][0]
	var room [fewRows]float64
	means := rowMeans(room[:0], scores, shift)
	grand := 0.0
	for _, m := range means {
		grand += m / n
	}
	list := make([]Offset, a.k)
	for j := range list {
		o := colMean(scores, j, shift) - grand
		ss := 0.0
		for i, row := range scores {
			e := row[j] - shift - means[i] - o
			ss += e * e
		}
		list[j] = Offset{o, half, math.Abs(o) > half, math.Sqrt(ss / ((n - 1) * (1 - 1/k)))}
	}
	return list, nil
}
