package panel

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// The accepted ranges of tables of scores.
const (
	// MaxCoffees and MaxTasters bound a table, counts.
	MaxCoffees = 1000
	MaxTasters = 1000

	// MaxScore is the largest score accepted, and its negative the smallest,
	// in points: any scale fits.
	MaxScore = 1e6
)

// checkTable refuses a table that is too small, too large, ragged, or holds a
// score that is none. Row i is coffee i, column j taster j.
func checkTable(bad []*FieldError, scores [][]float64, leastRows int) []*FieldError {
	before := len(bad)
	bad = fault.Int(bad, "scores", len(scores), leastRows, MaxCoffees, "coffees")
	if len(bad) > before {
		return bad
	}
	k := len(scores[0])
	bad = fault.Int(bad, "scores[0]", k, 2, MaxTasters, "tasters")
	for i, row := range scores {
		if len(row) != k {
			bad = append(bad, &FieldError{Field: "scores[" + itoa(i) + "]", Given: itoa(len(row)), Min: float64(k), Max: float64(k),
				Unit: "tasters", Why: "every taster scores every coffee"})
			continue
		}
		for j, x := range row {
			if !(math.Abs(x) <= MaxScore) { // the name is made only where it is needed
				bad = fault.Float(bad, "scores["+itoa(i)+"]["+itoa(j)+"]", x, -MaxScore, MaxScore, "points")
			}
		}
	}
	return bad
}

// twoWay is the analysis of variance of a complete table.
type twoWay struct {
	n, k                  int
	largest               float64 // the largest score, without its sign
	msRows, msCols, msErr float64
	msWithin              float64
}

// flat says whether the coffees' means differ by no more than the rounding of
// the scores themselves.
func (a twoWay) flat() bool {
	d := 1e-15 * a.largest
	return a.msRows <= float64(a.k)*d*d
}

// rowMean is the mean of one row, less a shift that keeps the digits.
func rowMean(row []float64, shift float64) float64 {
	s := 0.0
	for _, x := range row {
		s += x - shift
	}
	return s / float64(len(row))
}

// rowMeans are the means of all rows, in room where they fit.
func rowMeans(room []float64, scores [][]float64, shift float64) []float64 {
	for _, row := range scores {
		room = append(room, rowMean(row, shift))
	}
	return room
}

// fewRows is how many means of rows find room without an allocation.
const fewRows = 32

func colMean(scores [][]float64, j int, shift float64) float64 {
	s := 0.0
	for _, row := range scores {
		s += row[j] - shift
	}
	return s / float64(len(scores))
}

// analyse splits the squares of the table; it needs two rows and two columns.
func analyse(scores [][]float64) twoWay {
	n, k := len(scores), len(scores[0])
	shift := scores[0][0]
	var room [fewRows]float64
	means := rowMeans(room[:0], scores, shift)
	var g, largest float64 // g is the grand mean less shift
	for i, row := range scores {
		g += means[i]
		for _, x := range row {
			largest = max(largest, math.Abs(x))
		}
	}
	g /= float64(n)
	var ssRows, ssCols, ssErr, ssWithin float64
	for _, m := range means {
		d := m - g
		ssRows += float64(k) * d * d
	}
	for j := range k {
		c := colMean(scores, j, shift) - g
		ssCols += float64(n) * c * c
		for i, row := range scores {
			x, r := row[j]-shift, means[i]
			e := x - r - c
			within := x - r
			ssErr += e * e
			ssWithin += within * within
		}
	}
	return twoWay{n, k, largest,
		ssRows / float64(n-1), ssCols / float64(k-1), ssErr / float64((n-1)*(k-1)), ssWithin / float64(n*(k-1))}
}

// A Coefficient is an intraclass correlation with its interval. It is at most
// 1; below zero it says that tasters differ more on one coffee than coffees
// do among themselves.
type Coefficient struct {
	Value, Lower, Upper float64 // pure numbers
}

// Agreement is how far tasters agree on a table of scores, in the six forms
// of Shrout and Fleiss. They answer different questions and differ widely:
// always name the form.
type Agreement struct {
	// One taster's score. ICC11: each coffee was scored by other tasters.
	// ICC21: these tasters stand for any others, and their strictness counts
	// as disagreement. ICC31: only these tasters matter, and only their order.
	ICC11, ICC21, ICC31 Coefficient
	// The same for the mean of all k tasters.
	ICC1K, ICC2K, ICC3K Coefficient

	CoffeesMS  float64 // mean square between coffees, points²
	TastersMS  float64 // mean square between tasters, points²
	ResidualMS float64 // mean square left over, points²
	WithinMS   float64 // mean square within coffees, points²
	Notes      Notes
}

// Agree returns the six intraclass correlations of a table of scores with
// their intervals, and the mean squares that they come from.
//
//	R, C, E, W   mean squares of coffees, tasters, residual, within coffees
//	ICC(1,1) = (R − W)/(R + (k−1)·W)
//	ICC(2,1) = (R − E)/(R + (k−1)·E + k·(C − E)/n)
//	ICC(3,1) = (R − E)/(R + (k−1)·E)
//	ICC(1,k) = (R − W)/R
//	ICC(2,k) = (R − E)/(R + (C − E)/n)
//	ICC(3,k) = (R − E)/R
//
//	scores[i][j]   coffee i, taster j   accepted −MaxScore to MaxScore
//	n, k           coffees, tasters     accepted 2 to MaxCoffees, 2 to MaxTasters
//	γ              confidencePct  %     accepted MinConfidencePct to MaxConfidencePct
//
// The intervals are those of F ratios; for ICC(2,·) Satterthwaite's degrees
// of freedom are used. Where the residual so outweighs the coffees that
// ICC(2,k) does not exist it is 0, with a note; a limit of it that does not
// exist is 0, the least that its model allows. Scores and confidence outside their ranges, and a
// ragged table, are refused with an [*InputError]. Coffees whose means do not
// differ at all have no correlation: an [*ImpossibleError].
//
// Source: Shrout & Fleiss, Intraclass correlations, Psychological Bulletin
// 86, 1979.
func Agree(scores [][]float64, confidencePct float64) (Agreement, error) {
	bad := checkTable(nil, scores, 2)
	bad = fault.Float(bad, "confidencePct", confidencePct, MinConfidencePct, MaxConfidencePct, "%")
	if err := fault.Input(bad); err != nil {
		return Agreement{}, err
	}
	a := analyse(scores)
	if a.flat() {
		return Agreement{}, &ImpossibleError{Quantity: "correlation", Why: "the coffees' means do not differ",
			Field: "scores", Given: "1", Min: 2, Max: float64(a.n), Unit: "different means"}
	}
	n, k := float64(a.n), float64(a.k)
	R, C, E, W := a.msRows, a.msCols, a.msErr, a.msWithin
	p := 0.5 + confidencePct/200
	out := Agreement{CoffeesMS: R, TastersMS: C, ResidualMS: E, WithinMS: W}
	out.ICC11, out.ICC1K = oneWay(R, W, k, fQuantile(p, n-1, n*(k-1)), fQuantile(p, n*(k-1), n-1))
	dfe := (n - 1) * (k - 1)
	out.ICC31, out.ICC3K = oneWay(R, E, k, fQuantile(p, n-1, dfe), fQuantile(p, dfe, n-1))

	single := (R - E) / (R + (k-1)*E + k*(C-E)/n)
	// Satterthwaite's degrees of freedom, multiplied through by E² so that a
	// table without residual has them too.
	other := (n*(1+(k-1)*single) - k*single) * E
	vn := k*single*C + other
	vd := (n-1)*k*k*single*single*C*C + other*other
	out.ICC21 = Coefficient{single, single, single}
	if vd > 0 {
		v := (k - 1) * (n - 1) * vn * vn / vd
		lo, hi := 1/fQuantile(p, n-1, v), 1/fQuantile(p, v, n-1)
		out.ICC21.Lower = n * (R*lo - E) / (k*C + (k*n-k-n)*E + n*R*lo)
		out.ICC21.Upper = n * (R - E*hi) / ((k*C+(k*n-k-n)*E)*hi + n*R)
	}
	// Spearman and Brown; at or under −1/(k−1) there is no such form, and the
	// model itself allows nothing under 0.
	mean := func(r float64) float64 {
		if 1+r*(k-1) <= 0 {
			return 0
		}
		return r * k / (1 + r*(k-1))
	}
	out.ICC2K = Coefficient{mean(single), mean(out.ICC21.Lower), mean(out.ICC21.Upper)}
	if 1+single*(k-1) <= 0 {
		out.Notes |= NoICC2K
	}
	return out, nil
}

// oneWay gives the coefficients of one taster and of the mean of k from the
// mean squares of coffees and of what is left, where fl and fu are the F
// quantiles of the lower and the upper limit.
func oneWay(R, W, k, fl, fu float64) (single, mean Coefficient) {
	s := func(r, w float64) float64 { return (r - w) / (r + (k-1)*w) }
	m := func(r, w float64) float64 { return 1 - w/r }
	return Coefficient{s(R, W), s(R, W*fl), s(R*fu, W)}, Coefficient{m(R, W), m(R, W*fl), m(R*fu, W)}
}

// fQuantile is the x below which the share p of Fisher's F lies, infinite
// where it passes all floats.
func fQuantile(p, d1, d2 float64) float64 {
	if !(d1 > 1e-6 && d2 > 1e-6) { // so heavy a tail has no end
		return math.Inf(1)
	}
	return num.FQuantile(p, d1, d2)
}
