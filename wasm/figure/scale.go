package figure

import (
	"math"
	"strconv"
)

// A scale maps values of an axis to units of the drawing.
type scale struct {
	lo, hi float64
	log    bool
	p0, p1 float64 // where lo and hi are drawn
	digits int     // decimals of the tick labels
	ticks  []Tick
	own    bool    // the ticks were given
	whole  bool    // only whole numbers were met
	m      float64 // the step m·10^e to which the range was widened; 0 for none
	e      int
}

// at maps a value. What is beyond the range lands beyond p0 and p1.
func (s *scale) at(v float64) float64 {
	t := 0.0
	if s.log {
		t = math.Log(v/s.lo) / math.Log(s.hi/s.lo)
	} else {
		t = (v - s.lo) / (s.hi - s.lo)
	}
	return s.p0 + t*(s.p1-s.p0)
}

// can says whether v has a place on the axis or on its continuation.
func (s *scale) can(v float64) bool { return drawable(v) && (!s.log || v >= 1e-150) }

// in says whether v lies on the axis.
func (s *scale) in(v float64) bool {
	if !s.can(v) {
		return false
	}
	const dust = 1e-6 // of a drawing unit's worth: a reading at the very end is in
	p := s.at(v)
	return p >= min(s.p0, s.p1)-dust && p <= max(s.p0, s.p1)+dust
}

// A span collects the range of what will be drawn.
type span struct {
	lo, hi float64
	log    bool
	any    bool
	broken bool // a number that is not whole was met
}

func (s *span) add(v float64) {
	if !drawable(v) || s.log && v < 1e-150 {
		return
	}
	if math.Abs(v) < 1e-150 {
		v = 0
	}
	s.broken = s.broken || v != math.Floor(v)
	if !s.any {
		s.lo, s.hi, s.any = v, v, true
		return
	}
	s.lo, s.hi = min(s.lo, v), max(s.hi, v)
}

// mark adds a value without asking whether it is whole.
func (s *span) mark(v float64) {
	b := s.broken
	s.add(v)
	s.broken = b
}

// newScale settles an axis' range. pad is the share of the range left free at
// each end; snap widens the range to whole steps.
func newScale(a *Axis, s span, pad float64, snap bool, count int) scale {
	lo, hi := s.lo, s.hi
	if !s.any {
		lo, hi = 0, 1
		if a.Log {
			lo, hi = 1, 10
		}
	}
	fixLo, fixHi := false, false
	can := func(v float64) bool { return drawable(v) && (!a.Log || v >= 1e-150) }
	if !(a.Min == 0 && a.Max == 0) && !(a.Max <= a.Min) {
		if can(a.Min) {
			lo, fixLo = a.Min, true
		}
		if can(a.Max) {
			hi, fixHi = a.Max, true
		}
	}
	if !(hi-lo > 1e-9*max(math.Abs(lo), math.Abs(hi))) || hi-lo < 1e-150 {
		// One value, or a side given beyond the data.
		mid := lo
		if fixHi && !fixLo {
			mid = hi
		}
		w := math.Abs(mid) / 10
		if w < 1e-140 {
			w = 1
		}
		switch {
		case a.Log:
			lo, hi = mid/2, mid*2
		case fixLo:
			lo, hi = mid, mid+w
		case fixHi:
			lo, hi = mid-w, mid
		default:
			lo, hi = mid-w, mid+w
		}
		pad = 0
	}
	if pad > 0 {
		if a.Log {
			f := math.Pow(hi/lo, pad)
			if !fixLo && lo > 1e-140 {
				lo /= f
			}
			if !fixHi && hi < 1e140 {
				hi *= f
			}
		} else {
			w := (hi - lo) * pad
			if !fixLo && !(lo >= 0 && lo-w < 0) {
				lo -= w
			} else if !fixLo {
				lo = 0
			}
			if !fixHi && !(hi <= 0 && hi+w > 0) {
				hi += w
			} else if !fixHi {
				hi = 0
			}
		}
	}
	whole := s.any && !s.broken && !a.Log && s.hi-s.lo >= 2
	if snap && a.Log {
		if !fixLo {
			lo = outward(lo, -1)
		}
		if !fixHi {
			hi = outward(hi, 1)
		}
	}
	m, e := 0.0, 0
	if snap && !a.Log {
		m, e = step(hi-lo, count)
		if whole && e < 0 {
			m, e = 1, 0
		}
		w := scaled(m, e)
		if !fixLo {
			lo = min(lo, scaled(math.Floor(lo/w+1e-9)*m, e))
		}
		if !fixHi {
			hi = max(hi, scaled(math.Ceil(hi/w-1e-9)*m, e))
		}
	}
	return scale{lo: lo, hi: hi, log: a.Log, whole: whole, m: m, e: e}
}

// outward is the next 1, 2 or 5 times a power of ten below or above v.
func outward(v float64, way int) float64 {
	e := int(math.Floor(math.Log10(v)))
	best := v
	for k := e - 1; k <= e+1; k++ {
		for _, m := range [...]float64{1, 2, 5} {
			w := scaled(m, k)
			switch {
			case way < 0 && w <= v*(1+1e-9):
				best = w // the last one is the nearest
			case way > 0 && w >= v*(1-1e-9):
				return w
			}
		}
	}
	return best
}

// step is the round step, m·10^e with m 1, 2 or 5, that cuts a range into at
// most count parts.
func step(width float64, count int) (m float64, e int) {
	raw := width / float64(max(count, 1))
	e = int(math.Floor(math.Log10(raw)))
	for {
		for _, m := range [...]float64{1, 2, 5} {
			if scaled(m, e) >= raw*(1-1e-9) {
				return m, e
			}
		}
		e++
	}
}

// scaled is v·10^e, rounded once.
func scaled(v float64, e int) float64 {
	if e < 0 {
		return v / math.Pow10(-e)
	}
	return v * math.Pow10(e)
}

// round sets the ticks at round numbers, at most count parts.
func (s *scale) round(l *Look, count int) {
	s.ticks = s.ticks[:0]
	if s.log && s.logTicks(l, count) {
		return
	}
	m, e := s.m, s.e
	if m == 0 {
		if m, e = step(s.hi-s.lo, count); s.whole && e < 0 {
			m, e = 1, 0
		}
	}
	w := scaled(m, e)
	s.digits = max(-e, 0)
	first, last := math.Ceil(s.lo/w-1e-9), math.Floor(s.hi/w+1e-9)
	big := max(math.Abs(s.lo), math.Abs(s.hi))
	for i := first; i <= last && len(s.ticks) <= 4*count; i++ {
		v := scaled(i*m, e)
		var name string
		switch {
		case v == 0:
			name = "0"
			if big < 1e7 && big >= 1e-3 {
				name = l.fixed(0, s.digits)
			}
		case big >= 1e7 || big < 1e-3:
			top := int(math.Floor(math.Log10(math.Abs(v)) + 1e-12))
			name = l.power(v, top, min(max(top-e, 0), 12))
		default:
			name = l.fixed(v, s.digits)
		}
		s.ticks = append(s.ticks, Tick{v, name})
	}
}

// logTicks sets ticks at 1, 2, 5 in each decade, or at some of the powers of
// ten. It says false when the range is too short for three of them.
func (s *scale) logTicks(l *Look, count int) bool {
	e0, e1 := int(math.Floor(math.Log10(s.lo)-1e-9)), int(math.Ceil(math.Log10(s.hi)+1e-9))
	every := func(stride int, ms ...float64) []Tick {
		var ticks []Tick
		for e := e0; e <= e1; e++ {
			if stride > 1 && e%stride != 0 {
				continue
			}
			for _, m := range ms {
				v := scaled(m, e)
				if v >= s.lo*(1-1e-9) && v <= s.hi*(1+1e-9) {
					ticks = append(ticks, Tick{v, l.short(v, 3)})
				}
			}
		}
		return ticks
	}
	most := count + 1 + count/2
	t := every(1, 1, 2, 5)
	if len(t) < 3 {
		return false
	}
	if len(t) > most {
		t = every(1, 1)
	}
	for stride := 2; len(t) > most; stride++ {
		t = every(stride, 1)
	}
	s.ticks = t
	if s.digits = -e0; s.digits < 0 {
		s.digits = 0
	}
	return len(t) > 0
}

func itoa(n int) string { return strconv.Itoa(n) }
