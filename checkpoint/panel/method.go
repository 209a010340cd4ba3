package panel

import (
	"math"

	"example.org/evenlot/internal/fault"
	"example.org/evenlot/internal/num"
)

// A Method is a way to serve coffees and ask which one is meant.
//
// The zero Method is refused.
type Method uint8

// The methods.
const (
	Triangle Method = iota + 1 // three cups, two alike: which is the odd one?
	DuoTrio                    // a reference, then two cups: which is the reference?
	Paired                     // two cups: which has more of a named attribute? (2-AFC)
	ThreeAFC                   // three cups, two alike: which has most of a named attribute?
	Tetrad                     // four cups, two and two: sort them into pairs
)

var methodNames = [...]string{"no method", "triangle", "duo-trio", "paired", "3-AFC", "tetrad"}

// String is the method's name in the trade.
func (m Method) String() string {
	if int(m) < len(methodNames) {
		return methodNames[m]
	}
	return methodNames[0]
}

// chance is p_0, as a share.
func (m Method) chance() float64 {
	if m == DuoTrio || m == Paired {
		return 1. / 2
	}
	return 1. / 3
}

// checkMethod refuses an unknown method, which the input calls name.
func checkMethod(bad []*FieldError, name string, m Method) []*FieldError {
	return fault.Int(bad, name, int(m), int(Triangle), int(Tetrad), "")
}

// The accepted ranges of this file.
const (
	// MaxDPrime is the largest distance accepted, in standard deviations of
	// one sip; at 3 hardly anybody errs.
	MaxDPrime = 20

	// MaxCorrectPct is the largest share of right answers that a distance is
	// computed for, %: at 100 the distance has no end.
	MaxCorrectPct = 99.9999999
)

// ChancePct returns how often guessing alone is right: a third with three or
// four cups, a half with two.
//
//	p_0 = 1/3   Triangle, ThreeAFC, Tetrad
//	p_0 = 1/2   DuoTrio, Paired
//
// An unknown method is refused with an [*InputError].
//
// Source: ISO 4120:2021; ISO 10399:2017; ISO 5495:2005.
func ChancePct(method Method) (float64, error) {
	if err := fault.Input(checkMethod(nil, "method", method)); err != nil {
		return 0, err
	}
	return 100 * method.chance(), nil
}

// CorrectPct returns the share of right answers, in percent, when
// discriminatorsPct of the tasters truly tell the coffees apart and the
// others guess.
//
//	p_c = p_0 + p_d·(1 − p_0)
//
//	p_d   discriminatorsPct   %   accepted 0 to 100
//
// An unknown method and a share outside its range are refused with an
// [*InputError].
//
// Source: Abbott's formula, as in ISO 4120:2021, annex B.
func CorrectPct(method Method, discriminatorsPct float64) (float64, error) {
	bad := checkMethod(nil, "method", method)
	bad = fault.Float(bad, "discriminatorsPct", discriminatorsPct, 0, 100, "%")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return 100 * method.correct(discriminatorsPct/100), nil
}

func (m Method) correct(pd float64) float64 { return m.chance() + pd*(1-m.chance()) }

// DiscriminatorsPct is the inverse of [CorrectPct]: the share of tasters who
// tell the coffees apart, from the share of right answers.
//
//	p_d = (p_c − p_0)/(1 − p_0)
//
//	p_c   correctPct   %   accepted p_0 to 100
//
// An unknown method and a share outside its range are refused with an
// [*InputError].
//
// Source: Abbott's formula, as in ISO 4120:2021, annex B.
func DiscriminatorsPct(method Method, correctPct float64) (float64, error) {
	if err := checkCorrect(method, correctPct, 100); err != nil {
		return 0, err
	}
	return 100 * method.discriminators(correctPct/100), nil
}

func (m Method) discriminators(pc float64) float64 { return (pc - m.chance()) / (1 - m.chance()) }

func checkCorrect(method Method, correctPct, most float64) error {
	bad := checkMethod(nil, "method", method)
	if bad == nil {
		bad = fault.Float(bad, "correctPct", correctPct, 100*method.chance(), most, "%")
	} else {
		bad = fault.Float(bad, "correctPct", correctPct, 100./3, most, "%")
	}
	return fault.Input(bad)
}

// CorrectAtPct returns the share of right answers, in percent, for coffees
// that lie dPrime apart on the scale of one taster's own sip-to-sip scatter.
//
//	triangle   p_c = 1 − 4·T(d′/√6, √3)
//	duo-trio   p_c = 1 − Φ(d′/√2) − Φ(d′/√6) + 2·Φ(d′/√2)·Φ(d′/√6)
//	paired     p_c = Φ(d′/√2)
//	3-AFC      p_c = Φ(d′/√2) − 2·T(d′/√2, 1/√3)
//	tetrad     p_c = 1 − 8·T(d′/√2, 1/√3)
//
//	d′   dPrime           accepted 0 to MaxDPrime
//	Φ    normal distribution function
//	T    Owen's function
//
// The forms with T are the published integrals, brought to that shape with
// the bivariate normal; they agree with the integrals to 1e-15.
//
// An unknown method and a distance outside its range are refused with an
// [*InputError].
//
// Source: Ennis, The power of sensory discrimination methods, 1993; for the
// tetrad Ennis & Jesionka, 2011.
func CorrectAtPct(method Method, dPrime float64) (float64, error) {
	bad := checkMethod(nil, "method", method)
	bad = fault.Float(bad, "dPrime", dPrime, 0, MaxDPrime, "")
	if err := fault.Input(bad); err != nil {
		return 0, err
	}
	return 100 * method.correctAt(dPrime), nil
}

// The arguments of Owen's T that the geometry of three and four cups gives.
const (
	root3  = 1.73205080756887729352744634150587236694280525381038062805581
	root13 = root3 / 3 // 1/√3
	root6  = root3 * math.Sqrt2
)

func (m Method) correctAt(d float64) float64 {
	switch m {
	case Triangle:
		return 1 - 4*num.OwenT(d/root6, root3)
	case DuoTrio:
		a, b := num.NormalCDF(d/math.Sqrt2), num.NormalCDF(d/root6)
		return 1 - a - b + 2*a*b
	case Paired:
		return num.NormalCDF(d / math.Sqrt2)
	case ThreeAFC:
		return num.NormalCDF(d/math.Sqrt2) - 2*num.OwenT(d/math.Sqrt2, root13)
	default:
		return 1 - 8*num.OwenT(d/math.Sqrt2, root13)
	}
}

// DPrime is the inverse of [CorrectAtPct]: how far apart the coffees lie, in
// standard deviations of one sip, when a share correctPct of the answers is
// right.
//
//	p_c   correctPct   %   accepted p_0 to MaxCorrectPct
//
// Near p_0 the triangle, the duo-trio and the tetrad are flat: there d′ says
// little, and the last digits of p_c move it much.
//
// An unknown method and a share outside its range are refused with an
// [*InputError].
//
// Source: as [CorrectAtPct]; the root by Brent's method.
func DPrime(method Method, correctPct float64) (float64, error) {
	if err := checkCorrect(method, correctPct, MaxCorrectPct); err != nil {
		return 0, err
	}
	return method.dPrime(correctPct / 100), nil
}

// dPrime is the distance at pc, which is p_0 or more and under 1.
func (m Method) dPrime(pc float64) float64 {
	if pc <= m.correctAt(0) { // p_0, but for its last digit
		return 0
	}
	d, _ := num.Root(func(d float64) float64 { return m.correctAt(d) - pc }, 0, 2*MaxDPrime, 1e-12)
	return d
}
