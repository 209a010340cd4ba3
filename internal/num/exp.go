package num

import "math"

// Exp and Log are simplified from package math of Go, whose constants are from
// FreeBSD's lib/msun/src/e_exp.c and e_log.c and came with these notices:
//
// ====================================================
// Copyright (C) 2004 by Sun Microsystems, Inc. All rights reserved.
//
// Permission to use, copy, modify, and distribute this
// software is freely granted, provided that this notice
// is preserved.
// ====================================================
//
// ====================================================
// Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
//
// Developed at SunPro, a Sun Microsystems, Inc. business.
// Permission to use, copy, modify, and distribute this
// software is freely granted, provided that this notice
// is preserved.
// ====================================================

// Ln2 in two parts, the first with room for k times it to be exact.
const (
	ln2Hi = 6.93147180369123816490e-01
	ln2Lo = 1.90821492927058770002e-10
)

// Exp is e^x to a unit in the last place, by the method of the math package
// without what numbers too small or too large for it would need: those go to
// math.Exp. In WebAssembly it takes a third of the time, and it gives there what
// it gives on amd64, where math.Exp is another.
//
// Source: FreeBSD, lib/msun/src/e_exp.c, by way of package math.
func Exp(x float64) float64 {
	if !(math.Abs(x) < 700) {
		return math.Exp(x)
	}
	const (
		p1 = 1.66666666666666657415e-01
		p2 = -2.77777777770155933842e-03
		p3 = 6.61375632143793436117e-05
		p4 = -1.65339022054652515390e-06
		p5 = 4.13813679705723846039e-08
	)
	k := math.Floor(math.Log2E*x + 0.5)
	hi, lo := x-k*ln2Hi, k*ln2Lo
	r := hi - lo
	t := r * r
	c := r - t*(p1+t*(p2+t*(p3+t*(p4+t*p5))))
	y := 1 - ((lo - (r*c)/(2-c)) - hi)
	return y * math.Float64frombits(uint64(int64(k)+1023)<<52)
}

// Log is ln x to a unit in the last place; as Exp, it leaves what is not
// positive, not finite or denormal to math.Log.
//
// Source: FreeBSD, lib/msun/src/e_log.c, by way of package math.
func Log(x float64) float64 {
	if !(x >= 0x1p-1022 && x <= math.MaxFloat64) {
		return math.Log(x)
	}
	const (
		l1 = 6.666666666666735130e-01
		l2 = 3.999999999940941908e-01
		l3 = 2.857142874366239149e-01
		l4 = 2.222219843214978396e-01
		l5 = 1.818357216161805012e-01
		l6 = 1.531383769920937332e-01
		l7 = 1.479819860511658591e-01
	)
	bits := math.Float64bits(x)
	k := float64(int64(bits>>52) - 1022)
	m := math.Float64frombits(bits&(1<<52-1) | 1022<<52) // 0.5 to 1
	if m < math.Sqrt2/2 {
		m *= 2
		k--
	}
	f := m - 1
	s := f / (2 + f)
	s2 := s * s
	s4 := s2 * s2
	r := s2*(l1+s4*(l3+s4*(l5+s4*l7))) + s4*(l2+s4*(l4+s4*l6))
	half := 0.5 * f * f
	return k*ln2Hi - ((half - (s*(half+r) + k*ln2Lo)) - f)
}
