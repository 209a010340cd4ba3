package uncertainty

import (
	"math"
	"slices"
	"testing"
)

// A model that writes down what it was asked, so that all that Simulate says of
// its draws can be counted anew: mean, deviation and share from the plain list;
// the intervals and quantiles from the batches sorted and averaged rank by
// rank, the p-quantile at rank p·(M + 1/4) + 3/8 of M; and the batch at which
// two standard errors of all four first fell under half of the last digit. Each
// of the four is the last to do so for one of the shapes.
func TestRecount(t *testing.T) {
	rare := func(z float64) float64 { // 0, or ±12 six times of a hundred
		switch {
		case z > 1.880794:
			return 12
		case z < -1.880794:
			return -12
		}
		return 0
	}
	for _, c := range []struct {
		in     Quantity
		plan   Plan
		settle bool                    // whether it ends by itself
		f      func(x float64) float64 // nil for the input itself
	}{
		{Quantity{Value: 3, U: 2.5}, Plan{CoveragePct: 95, Digits: 2, MaxDraws: 50000, MinDraws: 50000, Lo: 2, Hi: 4.5}, false, nil},
		{Quantity{Value: 3, U: 1, Shape: Rectangular}, Plan{CoveragePct: 60, Digits: 1, MaxDraws: 2 * Batch, Lo: 3, Hi: inf}, false, nil},
		{Quantity{Value: 3, U: 2, Shape: Triangular}, Plan{CoveragePct: 90, Digits: 1, MaxDraws: 1e6, Lo: -inf, Hi: 3}, true, nil},
		{Quantity{Value: -1, U: 0.03, Shape: Arcsine}, Plan{CoveragePct: 80, Digits: 2, MaxDraws: 1e6, Lo: -1, Hi: -0.99}, true, nil},
		{Quantity{Value: 0, U: 1, Shape: Student, DF: 9}, Plan{CoveragePct: 95, Digits: 1, MaxDraws: 1e6, MinDraws: 3 * Batch}, true, nil},
		{Quantity{U: 1}, Plan{CoveragePct: 95, Digits: 2, MaxDraws: 1e6}, true, func(x float64) float64 { return math.Copysign(5, x) }}, // the mean
		{Quantity{U: 1}, Plan{CoveragePct: 50, Digits: 2, MaxDraws: 1e6}, true, rare},                                                   // the deviation
		{Quantity{U: 1 / math.Sqrt(3), Shape: Rectangular}, Plan{CoveragePct: 90, Digits: 2, MaxDraws: 1e6}, true, func(x float64) float64 { return 7 * math.Pow((1+x)/2, 4) }},
		{Quantity{U: 1 / math.Sqrt(3), Shape: Rectangular}, Plan{CoveragePct: 90, Digits: 2, MaxDraws: 1e6}, true, func(x float64) float64 { return -7 * math.Pow((1+x)/2, 4) }},
	} {
		var all []float64
		s, err := Simulate(func(x []float64) float64 {
			y := x[0]
			if c.f != nil {
				y = c.f(y)
			}
			all = append(all, y)
			return y
		}, []Quantity{c.in}, c.plan)
		if err != nil || s.Draws != len(all) {
			t.Fatalf("%+v: %d draws, asked %d times; %v", c.in, s.Draws, len(all), err)
		}
		n := float64(len(all))
		mean, ss, inside := 0.0, 0.0, 0.0
		for _, y := range all {
			mean += y / n
			if y >= c.plan.Lo && y <= c.plan.Hi {
				inside++
			}
		}
		for _, y := range all {
			ss += (y - mean) * (y - mean)
		}
		u := math.Sqrt(ss / (n - 1))
		if !near(s.Mean, mean, 1e-10) && math.Abs(s.Mean-mean) > 1e-12 || !near(s.U, u, 1e-9) {
			t.Errorf("%+v: mean %v and deviation %v, counted anew %v and %v", c.in, s.Mean, s.U, mean, u)
		}
		if want := 100 * inside / n; (c.plan.Lo != 0 || c.plan.Hi != 0) && !near(s.InsidePct, want, 1e-12) {
			t.Errorf("%+v: %v %% inside, counted anew %v", c.in, s.InsidePct, want)
		}

		order := make([]float64, Batch)
		tail := (1 - c.plan.CoveragePct/100) / 2
		at := func(sorted []float64, p float64) float64 {
			k := p*(Batch+0.25) + 0.375 // counted from 1
			i := int(math.Floor(k))
			return sorted[i-1] + (k-float64(i))*(sorted[i]-sorted[i-1])
		}
		var told [4][]float64 // mean, deviation and both ends of each batch
		first := 0
		for b := 0; b < len(all); b += Batch {
			x := slices.Clone(all[b : b+Batch])
			slices.Sort(x)
			m, v := 0.0, 0.0
			for i, y := range x {
				order[i] += y * Batch / n
				m += y / Batch
			}
			for _, y := range x {
				v += (y - m) * (y - m) / Batch
			}
			for i, w := range []float64{m, math.Sqrt(v), at(x, tail), at(x, 1-tail)} {
				told[i] = append(told[i], w)
			}
			draws := b + Batch
			if first > 0 || draws < 2*Batch {
				continue
			}
			// The last digit that counts, of the deviation so far.
			sofar := all[:draws]
			m, v = 0, 0
			for _, y := range sofar {
				m += y / float64(draws)
			}
			for _, y := range sofar {
				v += (y - m) * (y - m) / float64(draws-1)
			}
			e := math.Floor(math.Log10(math.Sqrt(v)))
			half := 0.5 * math.Pow(10, e-float64(c.plan.Digits-1))
			settled := true
			for _, list := range told {
				k := float64(len(list))
				m, v := 0.0, 0.0
				for _, w := range list {
					m += w / k
				}
				for _, w := range list {
					v += (w - m) * (w - m)
				}
				settled = settled && 2*math.Sqrt(v/(k*(k-1))) <= half
			}
			if settled && draws >= c.plan.MinDraws {
				first = draws
			}
		}
		if c.settle && first != s.Draws || !c.settle && s.Draws != c.plan.MaxDraws {
			t.Errorf("%+v: ended after %d draws, counted anew %d", c.in, s.Draws, first)
		}
		if (s.Notes == NotSettled) != (first == 0) {
			t.Errorf("%+v: notes %q, settled at %d", c.in, s.Notes, first)
		}
		if !near(s.Lo, at(order, tail), 1e-9) || !near(s.Hi, at(order, 1-tail), 1e-9) {
			t.Errorf("%+v: %v to %v, counted anew %v to %v", c.in, s.Lo, s.Hi, at(order, tail), at(order, 1-tail))
		}
		for i, q := range s.Quantiles {
			if want := at(order, float64(i+1)/100); math.Abs(q-want) > 1e-9 {
				t.Errorf("%+v: quantile %d is %v, counted anew %v", c.in, i+1, q, want)
			}
		}
		best := inf
		span := c.plan.CoveragePct / 100 * (Batch + 0.25)
		for i := 1; float64(i)+span <= Batch; i++ {
			k := float64(i) + span
			j := int(math.Floor(k))
			end := order[j-1]
			if j < Batch {
				end += (k - float64(j)) * (order[j] - order[j-1])
			}
			best = min(best, end-order[i-1])
		}
		if !near(s.ShortHi-s.ShortLo, best, 1e-9) {
			t.Errorf("%+v: shortest %v to %v, %v wide; counted anew %v", c.in, s.ShortLo, s.ShortHi, s.ShortHi-s.ShortLo, best)
		}
	}
	// A spread without end does not settle, however small it is.
	for _, u := range []float64{0.5, 1} {
		s, err := Simulate(func(x []float64) float64 { return x[0] }, []Quantity{{U: u, DF: 2, Shape: Student}, {Value: 1}}, Plan{CoveragePct: 50, Digits: 1, MaxDraws: 4 * Batch})
		if err != nil || s.Notes != NotSettled || s.Draws != 4*Batch {
			t.Errorf("%+v, %v", s.Notes, err)
		}
	}
}
