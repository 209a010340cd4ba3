package uncertainty

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/internal/published"
)

// An example is a worked example of a guide: its model and how its inputs are
// read from a row.
type example struct {
	f      Model
	inputs func(in *published.Inputs) []Quantity
}

func normal(in *published.Inputs, value, u string) Quantity {
	return Quantity{Value: in.Float(value), U: in.Float(u)}
}

func within(t *testing.T, value, half float64, shape Shape) Quantity {
	t.Helper()
	q, err := FromHalfWidth(value, half, shape)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func (e example) first(what func(Result) float64) published.Claim {
	return published.Number(func(in *published.Inputs) (float64, error) {
		r, err := Propagate(e.f, e.inputs(in))
		if err != nil {
			return 0, err
		}
		return what(r), nil
	})
}

func (e example) simulate(in *published.Inputs) (Simulation, error) {
	p := Plan{CoveragePct: DefaultCoveragePct, Digits: 2, MinDraws: 1e6, MaxDraws: DefaultMaxDraws, Seed: 1}
	if in.Has("CoveragePct") {
		p.CoveragePct = in.Float("CoveragePct")
	}
	inputs := e.inputs(in)
	// Several rows ask the same draws: a million are made once.
	key := fmt.Sprint(reflect.ValueOf(e.f).Pointer(), inputs, p)
	if s, ok := simulated[key]; ok {
		return s, nil
	}
	s, err := Simulate(e.f, inputs, p)
	if err == nil {
		simulated[key] = s
	}
	return s, err
}

// simulated are the draws made so far, by model, inputs and plan.
var simulated = map[string]Simulation{}

func (e example) drawn(what func(Simulation) float64) published.Claim {
	return published.Number(func(in *published.Inputs) (float64, error) {
		s, err := e.simulate(in)
		return what(s), err
	})
}

func (e example) interval(short bool) published.Claim {
	return published.Range(func(in *published.Inputs) (float64, float64, error) {
		s, err := e.simulate(in)
		if short {
			return s.ShortLo, s.ShortHi, err
		}
		return s.Lo, s.Hi, err
	})
}

func value(r Result) float64      { return r.Value }
func first(r Result) float64      { return r.U }
func second(r Result) float64     { return r.SecondU }
func df(r Result) float64         { return r.DF }
func mean(s Simulation) float64   { return s.Mean }
func spread(s Simulation) float64 { return s.U }

func TestPublished(t *testing.T) {
	shapes := map[string]Shape{"normal": Normal, "rectangular": Rectangular}
	gauge := example{
		func(x []float64) float64 { return x[0] + x[1] - x[0]*(x[2]*x[3]+x[4]*x[5]) },
		func(in *published.Inputs) []Quantity {
			return []Quantity{normal(in, "ls", "uls"), normal(in, "d", "ud"), normal(in, "dalpha", "udalpha"),
				normal(in, "theta", "utheta"), normal(in, "alphas", "ualphas"), normal(in, "dtheta", "udtheta")}
		},
	}
	three := example{
		func(x []float64) float64 { return x[0] + x[1] + x[2] },
		func(in *published.Inputs) []Quantity {
			return []Quantity{{U: in.Float("u1"), DF: in.Float("nu1")}, {U: in.Float("u2"), DF: in.Float("nu2")}, {U: in.Float("u3"), DF: in.Float("nu3")}}
		},
	}
	four := example{
		func(x []float64) float64 { return x[0] + x[1] + x[2] + x[3] },
		func(in *published.Inputs) []Quantity {
			s := shapes[in.Text("shape")]
			return []Quantity{{U: in.Float("u1"), Shape: s}, {U: in.Float("u2"), Shape: s}, {U: in.Float("u3"), Shape: s}, {U: in.Float("u4"), Shape: s}}
		},
	}
	mass := example{
		nil,
		func(in *published.Inputs) []Quantity {
			return []Quantity{normal(in, "mRc", "umRc"), normal(in, "dmRc", "udmRc"),
				within(t, in.Float("rhoa"), in.Float("arhoa"), Rectangular),
				within(t, in.Float("rhow"), in.Float("arhow"), Rectangular),
				within(t, in.Float("rhor"), in.Float("arhor"), Rectangular),
				{Value: in.Float("rhoa0")}, {Value: in.Float("mnom")}}
		},
	}
	mass.f = func(x []float64) float64 { return (x[0]+x[1])*(1+(x[2]-x[5])*(1/x[3]-1/x[4])) - x[6] }
	loss := example{
		func(x []float64) float64 { return x[0]*x[0] + x[1]*x[1] },
		func(in *published.Inputs) []Quantity {
			return []Quantity{normal(in, "x1", "u1"), {U: in.Float("u2")}}
		},
	}
	block := example{
		func(x []float64) float64 {
			return x[0] + x[1] + x[2] + x[3] - x[0]*(x[7]*(x[5]+x[6])+x[4]*x[8]) - x[9]
		},
		func(in *published.Inputs) []Quantity {
			curved := func(a, d string) Quantity {
				q, err := FromInexactLimits(0, in.Float(a), in.Float(d))
				if err != nil {
					t.Error(err)
				}
				return q
			}
			return []Quantity{
				{Value: in.Float("ls"), U: in.Float("uls"), DF: in.Float("nuls"), Shape: Student},
				{Value: in.Float("D"), U: in.Float("uD"), DF: in.Float("nuD"), Shape: Student},
				{U: in.Float("ud1"), DF: in.Float("nud1"), Shape: Student},
				{U: in.Float("ud2"), DF: in.Float("nud2"), Shape: Student},
				within(t, in.Float("alphas"), in.Float("aalphas"), Rectangular),
				normal(in, "theta0", "utheta0"),
				within(t, 0, in.Float("aDelta"), Arcsine),
				curved("adalpha", "ddalpha"), curved("adtheta", "ddtheta"), {Value: in.Float("lnom")}}
		},
	}
	logarithm := example{
		func(x []float64) float64 { return math.Log(x[0]) },
		func(in *published.Inputs) []Quantity {
			return []Quantity{within(t, in.Float("x"), in.Float("ax"), Rectangular)}
		},
	}
	expansion := example{
		func(x []float64) float64 { return (x[2] - x[0]) / (x[0] * (x[3] - x[1])) },
		func(in *published.Inputs) []Quantity {
			return []Quantity{normal(in, "L0", "uL0"), normal(in, "T0", "uT0"), normal(in, "L1", "uL1"), normal(in, "T1", "uT1")}
		},
	}
	viscosity := example{
		func(x []float64) float64 { return x[0] * (x[5] - x[2]) / (x[5] - x[3]) * x[1] / x[4] },
		func(in *published.Inputs) []Quantity {
			return []Quantity{normal(in, "muC", "umuC"), normal(in, "tM", "utM"), normal(in, "rhoM", "urhoM"),
				normal(in, "rhoC", "urhoC"), normal(in, "tC", "utC"), normal(in, "rhoB", "urhoB")}
		},
	}
	cadmium := example{
		func(x []float64) float64 { return 1000 * x[0] * x[1] / (x[2] + x[3] + x[4] + x[5]) },
		func(in *published.Inputs) []Quantity {
			return []Quantity{normal(in, "m", "um"), within(t, in.Float("P"), in.Float("aP"), Rectangular), {Value: in.Float("V")},
				within(t, 0, in.Float("aflask"), Triangular), {U: in.Float("urep")}, within(t, 0, in.Float("aVT"), Rectangular)}
		},
	}
	fluorescence := example{
		func(x []float64) float64 { return x[0] / x[1] * x[2] },
		func(in *published.Inputs) []Quantity {
			return []Quantity{{Value: in.Float("X1"), U: in.Float("u1"), DF: in.Float("nu1")},
				{Value: in.Float("X2"), U: in.Float("u2"), DF: in.Float("nu2")}, {Value: in.Float("Yu"), U: in.Float("u3"), DF: in.Float("nu3")}}
		},
	}

	// The end-gauge of H.2: voltage, current and phase read together.
	resistance := func(x []float64) float64 { return x[0] / x[1] * math.Cos(x[2]) }
	reactance := func(x []float64) float64 { return x[0] / x[1] * math.Sin(x[2]) }
	impedance := func(x []float64) float64 { return x[0] / x[1] }
	read := func(in *published.Inputs) (q []Quantity, c []Correlation) {
		var lists [3][]float64
		for i, name := range []string{"V", "I", "phi"} {
			lists[i] = in.Floats(name)
			m, err := FromReadings(lists[i])
			if err != nil {
				t.Error(err)
			}
			q = append(q, m)
		}
		for _, p := range [][2]int{{0, 1}, {0, 2}, {1, 2}} {
			r, err := MeansR(lists[p[0]], lists[p[1]])
			if err != nil {
				t.Error(err)
			}
			c = append(c, Correlation{p[0], p[1], r})
		}
		// From mA to A, which no uncertainty minds.
		q[1].Value /= 1000
		q[1].U /= 1000
		return q, c
	}
	together := func(f Model, what func(Result) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			q, c := read(in)
			r, err := Propagate(f, q, c...)
			if err != nil {
				return 0, err
			}
			return what(r), nil
		})
	}
	outputs := func(f, g Model) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			q, c := read(in)
			return OutputR(f, g, q, c...)
		})
	}
	of := func(pick func([]Quantity, []Correlation) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) { return pick(read(in)), nil })
	}

	line := func(what func(Line) float64) published.Claim {
		return published.Number(func(in *published.Inputs) (float64, error) {
			var x, y []float64
			if in.Has("data") {
				x, y = certified(t, in.Text("data"))
			} else {
				x, y = in.Floats("x"), in.Floats("y")
			}
			l, err := FitLine(in.Float("x0"), x, y)
			return what(l), err
		})
	}
	at30 := func(what func(Quantity) float64) published.Claim {
		return line(func(l Line) float64 {
			q, notes, err := OnLine(l, 30)
			if err != nil || notes != OutsideLine {
				t.Error(notes, err)
			}
			return what(q)
		})
	}

	published.Run(t, map[string]published.Claim{
		"length of an end gauge":                          gauge.first(value),
		"length of an end gauge, standard uncertainty":    gauge.first(first),
		"length of an end gauge, with second-order terms": gauge.first(second),
		"uncertainty of a sum of three":                   three.first(first),
		"degrees of freedom of a sum of three":            three.first(df),
		"expanded uncertainty": published.Number(func(in *published.Inputs) (float64, error) {
			k, err := CoverageFactor(in.Float("CoveragePct"), in.Float("DF"))
			return k * in.Float("U"), err
		}),
		"coverage factor": published.Number(func(in *published.Inputs) (float64, error) {
			return CoverageFactor(in.Float("CoveragePct"), in.Float("DF"))
		}),

		"resistance":                                together(resistance, value),
		"resistance, standard uncertainty":          together(resistance, first),
		"reactance":                                 together(reactance, value),
		"reactance, standard uncertainty":           together(reactance, first),
		"impedance":                                 together(impedance, value),
		"impedance, standard uncertainty":           together(impedance, first),
		"correlation of resistance and reactance":   outputs(resistance, reactance),
		"correlation of resistance and impedance":   outputs(resistance, impedance),
		"correlation of reactance and impedance":    outputs(reactance, impedance),
		"uncertainty of a mean of five voltages":    of(func(q []Quantity, _ []Correlation) float64 { return q[0].U }),
		"uncertainty of a mean of five currents":    of(func(q []Quantity, _ []Correlation) float64 { return 1000 * q[1].U }),
		"uncertainty of a mean of five phases":      of(func(q []Quantity, _ []Correlation) float64 { return q[2].U }),
		"correlation of means, voltage and current": of(func(_ []Quantity, c []Correlation) float64 { return c[0].R }),
		"correlation of means, voltage and phase":   of(func(_ []Quantity, c []Correlation) float64 { return c[1].R }),
		"correlation of means, current and phase":   of(func(_ []Quantity, c []Correlation) float64 { return c[2].R }),

		"calibration line, intercept":                          line(func(l Line) float64 { return l.Intercept }),
		"calibration line, slope":                              line(func(l Line) float64 { return l.Slope }),
		"calibration line, uncertainty of the intercept":       line(func(l Line) float64 { return l.InterceptU }),
		"calibration line, uncertainty of the slope":           line(func(l Line) float64 { return l.SlopeU }),
		"calibration line, correlation of intercept and slope": line(func(l Line) float64 { return l.R }),
		"calibration line, residual deviation":                 line(func(l Line) float64 { return l.ResidualSD }),
		"calibration line at 30 degC":                          at30(func(q Quantity) float64 { return q.Value }),
		"calibration line at 30 degC, standard uncertainty":    at30(func(q Quantity) float64 { return q.U }),

		"certificate, standard uncertainty": published.Number(func(in *published.Inputs) (float64, error) {
			q, err := FromCertificate(0, in.Float("expandedU"), in.Float("k"))
			return q.U, err
		}),
		"rectangular half-width, standard uncertainty": published.Number(func(in *published.Inputs) (float64, error) {
			q, err := FromHalfWidth(0, in.Float("halfWidth"), Rectangular)
			return q.U, err
		}),
		"display's step, standard uncertainty": published.Number(func(in *published.Inputs) (float64, error) {
			m, err := Measured(Meter{Value: 1, Division: in.Float("Division")})
			return m.Quantity.U, err
		}),
		"mean of readings": published.Number(func(in *published.Inputs) (float64, error) {
			q, err := FromReadings(in.Floats("readings"))
			return q.Value, err
		}),
		"mean of readings, standard uncertainty": published.Number(func(in *published.Inputs) (float64, error) {
			q, err := FromReadings(in.Floats("readings"))
			return q.U, err
		}),
		"value in earned digits": published.Number(func(in *published.Inputs) (float64, error) {
			s, _, err := Earned(in.Float("value"), in.Float("u"), in.Int("digits"))
			return number(t, s), err
		}),
		"uncertainty in earned digits": published.Number(func(in *published.Inputs) (float64, error) {
			_, s, err := Earned(in.Float("value"), in.Float("u"), in.Int("digits"))
			return number(t, s), err
		}),

		"sum of four, simulated uncertainty":                      four.drawn(spread),
		"sum of four, simulated interval":                         four.interval(false),
		"mass calibration, standard uncertainty":                  mass.first(first),
		"mass calibration, with second-order terms":               mass.first(second),
		"mass calibration, simulated uncertainty":                 mass.drawn(spread),
		"mass calibration, simulated interval":                    mass.interval(false),
		"comparison loss, mean":                                   loss.first(func(r Result) float64 { return r.Value + r.Shift }),
		"comparison loss, standard uncertainty":                   loss.first(second),
		"comparison loss, shortest interval":                      loss.interval(true),
		"gauge block, simulated mean":                             block.drawn(mean),
		"gauge block, simulated uncertainty":                      block.drawn(spread),
		"gauge block, simulated interval":                         block.interval(false),
		"logarithm of a rectangular input":                        logarithm.first(value),
		"logarithm of a rectangular input, standard uncertainty":  logarithm.first(first),
		"logarithm of a rectangular input, simulated mean":        logarithm.drawn(mean),
		"logarithm of a rectangular input, simulated uncertainty": logarithm.drawn(spread),
		"logarithm of a rectangular input, shortest interval":     logarithm.interval(true),
		"thermal expansion coefficient":                           expansion.first(value),
		"thermal expansion coefficient, standard uncertainty":     expansion.first(first),
		"falling-ball viscosity":                                  viscosity.first(value),
		"falling-ball viscosity, simulated mean":                  viscosity.drawn(mean),
		"falling-ball viscosity, simulated uncertainty":           viscosity.drawn(spread),
		"falling-ball viscosity, simulated interval":              viscosity.interval(false),
		"cadmium standard":                                        cadmium.first(value),
		"cadmium standard, standard uncertainty":                  cadmium.first(first),
		"ratio times a factor, standard uncertainty":              fluorescence.first(first),
		"ratio times a factor, degrees of freedom":                fluorescence.first(df),
		"ratio times a factor, expanded uncertainty": published.Number(func(in *published.Inputs) (float64, error) {
			r, err := Propagate(fluorescence.f, fluorescence.inputs(in))
			if err != nil {
				return 0, err
			}
			k, err := CoverageFactor(in.Float("CoveragePct"), r.DF)
			return k * r.U, err
		}),
	})
	published.Docs(t)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Error(err)
	}
	return v
}

// certified reads the points of a certified data set: y then x in each row.
func certified(t *testing.T, name string) (x, y []float64) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(b)) {
		f := strings.Fields(line)
		if len(f) != 2 || strings.HasPrefix(line, "#") {
			continue
		}
		if f[0] == "y" {
			continue
		}
		y, x = append(y, number(t, f[0])), append(x, number(t, f[1]))
	}
	return x, y
}
