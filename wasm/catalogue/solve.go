package catalogue

import (
	"math"

	"example.org/evenlot/internal/num"
	"github.com/shopspring/decimal"
)

// Solvable lists the fields that can be solved for: numbers that may take any
// value of their range.
func (c *Calculator) Solvable() []Field {
	var list []Field
	for _, f := range c.Fields {
		if f.Kind == Number && !f.Exact {
			list = append(list, f)
		}
	}
	return list
}

// Solve finds what a field must read, all else as in the state, for an output
// to reach a target in the output's base unit. The answer is in the unit in
// which the field stands; where there are several, it is the one nearest to
// what the field reads now. why says why there is none.
func (c *Calculator) Solve(state State, locale Locale, field, output, target string) (text, why string) {
	l := &locale
	f, ok := c.field(field)
	if !ok || f.Exact {
		return "", l.word("This field cannot be solved for.")
	}
	d, why := c.Dial(state, locale, field, output)
	if d == nil {
		return "", why
	}
	o := c.output(output)
	aim, how := readNumber(target, o.Unit, func(decimal.Decimal) bool { return true })
	if how != readable && how != twoWays {
		return "", l.say("{} reads {}; it takes digits and one point or comma.", l.word("The wanted value"), clip(target))
	}
	want := aim.InexactFloat64()
	now := nan
	if in, faults := c.read(state, l); len(faults) == 0 {
		now = in.F(field)
	}
	miss := func(x float64) float64 { return d.At(x) - want }
	x, found := nearestRoot(miss, f.Min, f.Max, now)
	if !found {
		return "", l.say("{} cannot come to {} by changing this alone: {}.", l.word(o.Label), joined(Num(want, 4), l.unit(o.Unit)), l.word(f.Label))
	}
	u := unitOf(f, state)
	return significantF(convertF(x, f.Unit, u), 5), ""
}

// nearestRoot scans lo to hi, evenly and, where the range spans decades, by
// equal ratios, and refines the sign change nearest to now.
func nearestRoot(miss func(float64) float64, lo, hi, now float64) (float64, bool) {
	const steps = 240
	best, found := 0.0, false
	scan := func(at func(i int) float64) {
		px := at(0)
		py := miss(px)
		if py == 0 {
			best, found = closer(best, px, now, found)
		}
		for i := 1; i <= steps; i++ {
			x := at(i)
			y := miss(x)
			if y == 0 {
				best, found = closer(best, x, now, found)
			} else if (py < 0) != (y < 0) && py != 0 && !math.IsNaN(py) && !math.IsNaN(y) {
				if r, ok := num.Root(miss, px, x, 0); ok {
					best, found = closer(best, r, now, found)
				}
			}
			px, py = x, y
		}
	}
	scan(func(i int) float64 { return lo + (hi-lo)*float64(i)/steps })
	if from := math.Max(lo, hi*1e-9); !found && from > 0 && hi/from > 100 {
		scan(func(i int) float64 { return math.Min(hi, from*math.Pow(hi/from, float64(i)/steps)) })
	}
	return best, found
}

func closer(best, x, now float64, found bool) (float64, bool) {
	if !found || math.Abs(x-now) < math.Abs(best-now) {
		return x, true
	}
	return best, true
}

func significantF(v float64, n int) string {
	return significant(decimal.NewFromFloat(v), n)
}

// Sweep runs the calculator with one field going from lo to hi in n steps and
// returns the points where the output has a finite value.
func (c *Calculator) Sweep(in *In, field, output string, lo, hi float64, n int) (x, y []float64) {
	f, ok := c.field(field)
	o := c.place(output)
	if !ok || o < 0 {
		return nil, nil
	}
	d := c.dial(in.with(field, lo), f, o)
	for i := range n + 1 {
		at := lo + (hi-lo)*float64(i)/float64(n)
		if v := d.free(at); v == v {
			x, y = append(x, at), append(y, v)
		}
	}
	return x, y
}
