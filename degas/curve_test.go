package degas

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

// fields lists the refused fields of an error, in order.
func fields(t *testing.T, err error) []string {
	t.Helper()
	bad, ok := err.(*InputError)
	if !ok {
		t.Fatalf("%v (%T) is not an InputError", err, err)
	}
	var names []string
	for _, f := range bad.Fields {
		names = append(names, f.Field)
		if f.Error() == "" || !(f.Min <= f.Max) {
			t.Errorf("%s: range %v to %v", f.Field, f.Min, f.Max)
		}
	}
	return names
}

// impossible checks that an answer was said not to exist and that the range
// offered instead is one.
func impossible(t *testing.T, err error, field string) *ImpossibleError {
	t.Helper()
	e, ok := err.(*ImpossibleError)
	if !ok {
		t.Fatalf("%v (%T) is not an ImpossibleError", err, err)
	}
	if e.Field != field || !(e.Min <= e.Max) {
		t.Errorf("%v: field %s, range %v to %v", e, e.Field, e.Min, e.Max)
	}
	return e
}

// curves reach the limits of what is accepted.
var curves = []Curve{
	FirstOrder{2}, FirstOrder{MinTauDays}, FirstOrder{MaxTauDays},
	Stretched{3.1, 0.59}, Stretched{MinTauDays, MinExponent}, Stretched{MaxTauDays, MaxExponent},
	Stretched{MaxTauDays, MinExponent}, Stretched{MinTauDays, MaxExponent}, Stretched{5, 1},
	TwoPools{37.5, 0.5, 8}, TwoPools{1, MinTauDays, MaxTauDays}, TwoPools{99, 3, 3}, TwoPools{50, MinTauDays, MinTauDays},
	Sphere{3.5, 10e-13}, Sphere{MinRadiusMM, MaxDiffusivityM2PerS}, Sphere{MaxRadiusMM, MinDiffusivityM2PerS},
	Sheet{0.5, 1e-13}, Sheet{MinRadiusMM, MaxDiffusivityM2PerS}, Sheet{MaxRadiusMM, MinDiffusivityM2PerS},
}

func TestCurvesFallAndInvert(t *testing.T) {
	for _, c := range curves {
		if s, err := Left(c, 0); err != nil || s.LeftPct != 100 || s.GonePct != 0 {
			t.Errorf("%#v at 0: %v, %v", c, s, err)
		}
		if s, err := Left(c, MaxDays); err != nil || math.IsNaN(s.LeftPct) || s.LeftPct < 0 || !(s.GonePct > 0) {
			t.Errorf("%#v at the oldest age: %v, %v", c, s, err)
		}
		last := Share{LeftPct: 100}
		for days := 1e-9; days <= MaxDays; days *= 1.7 {
			s, err := Left(c, days)
			if err != nil {
				t.Fatal(err)
			}
			if !near(s.LeftPct+s.GonePct, 100, 4e-16) {
				t.Fatalf("%#v at %v: %v and %v do not make 100", c, days, s.LeftPct, s.GonePct)
			}
			if s.LeftPct > last.LeftPct || s.GonePct < last.GonePct {
				t.Fatalf("%#v at %v: gas comes back", c, days)
			}
			last = s
			if s.LeftPct < MinLeftPct || s.LeftPct > 99.9999 {
				continue
			}
			back, err := DaysUntil(c, s.LeftPct)
			// A share of 99.9999 holds ten digits of what is gone; a slow
			// exponent of 0.1 costs one more.
			if err != nil || !near(back, days, 1e-8) {
				t.Fatalf("%#v: %v days came back as %v, %v", c, days, back, err)
			}
		}
		if d, err := DaysUntil(c, 100); err != nil || d != 0 {
			t.Errorf("%#v: all is left until %v, %v", c, d, err)
		}
	}
}

func TestMeanRateAddsUp(t *testing.T) {
	for _, c := range curves {
		ages := []float64{0, 1e-3, 0.2, 1, 3, 3.001, 40, 900, MaxDays}
		sum := 0.0
		for i := 1; i < len(ages); i++ {
			r, err := MeanRate(c, ages[i-1], ages[i])
			if err != nil || !(r >= 0) || math.IsInf(r, 0) {
				t.Fatalf("%#v: %v, %v", c, r, err)
			}
			sum += r * (ages[i] - ages[i-1])
		}
		s, err := Left(c, MaxDays)
		if err != nil || !near(sum, s.GonePct, 1e-12) {
			t.Errorf("%#v: the parts sum to %v, the whole is %v", c, sum, s.GonePct)
		}
		if a, err := AmountLeft(Coffee{8, c}, MaxDays); err != nil || a.Share != s || !near(a.LeftMgPerG+a.GoneMgPerG, 8, 1e-15) {
			t.Errorf("%#v: %v against %v, %v", c, a, s, err)
		}
		got, err := AmountLost(Coffee{8, c}, 1, 3)
		r, _ := MeanRate(c, 1, 3)
		if err != nil || !(math.Abs(got-0.08*r*2) <= 1e-14) {
			t.Errorf("%#v: lost %v mg/g at a rate of %v %%/day, %v", c, got, r, err)
		}
	}
}

// With β = 1, with two equal pools, all is first order.
func TestCurvesMeet(t *testing.T) {
	for days := 1e-4; days < 100; days *= 2 {
		want, _ := Left(FirstOrder{3}, days)
		for _, c := range []Curve{Stretched{3, 1}, TwoPools{40, 3, 3}} {
			if got, err := Left(c, days); err != nil || !near(got.LeftPct, want.LeftPct, 1e-14) || !near(got.GonePct, want.GonePct, 1e-14) {
				t.Errorf("%#v at %v: %v, want %v, %v", c, days, got, want, err)
			}
		}
	}
	// A sphere's radius and diffusivity count as D/a² alone.
	a, _ := Left(Sphere{1, 1e-12}, 2)
	b, _ := Left(Sphere{2, 4e-12}, 2)
	if !near(a.LeftPct, b.LeftPct, 1e-13) {
		t.Errorf("%v and %v", a, b)
	}
}

func TestDaysUntilTooFar(t *testing.T) {
	err := second(DaysUntil(Stretched{MaxTauDays, 0.5}, 5))
	e := impossible(t, err, "leftPct")
	if d, err := DaysUntil(Stretched{MaxTauDays, 0.5}, e.Min*(1+1e-9)); err != nil || !near(d, MaxDays, 1e-6) {
		t.Errorf("at the level said to be possible: %v, %v", d, err)
	}
	err = second(DaysUntilAmount(Coffee{10, Stretched{MaxTauDays, 0.5}}, 0.5))
	impossible(t, err, "leftMgPerG")
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	up := func(v float64) float64 { return math.Nextafter(v, inf) }
	down := func(v float64) float64 { return math.Nextafter(v, -inf) }
	ok := Stretched{3, 0.6}
	for name, c := range map[string]struct {
		err  func() error
		want []string
	}{
		"no curve":              {func() error { return second(Left(nil, 1)) }, []string{"curve"}},
		"a pointer":             {func() error { return second(Left((*Stretched)(nil), 1)) }, []string{"curve"}},
		"zero curve":            {func() error { return second(Left(Stretched{}, 1)) }, []string{"TauDays", "Exponent"}},
		"zero first order":      {func() error { return second(Left(FirstOrder{}, 1)) }, []string{"TauDays"}},
		"zero pools":            {func() error { return second(Left(TwoPools{}, 1)) }, []string{"FastPct", "FastTauDays", "SlowTauDays"}},
		"pools out of order":    {func() error { return second(Left(TwoPools{50, 3, 2}, 1)) }, []string{"SlowTauDays"}},
		"zero sphere":           {func() error { return second(Left(Sphere{}, 1)) }, []string{"RadiusMM", "DiffusivityM2PerS"}},
		"zero sheet":            {func() error { return second(Left(Sheet{}, 1)) }, []string{"HalfThicknessMM", "DiffusivityM2PerS"}},
		"curve and age":         {func() error { return second(Left(FirstOrder{nan}, -1)) }, []string{"TauDays", "days"}},
		"age NaN":               {func() error { return second(Left(ok, nan)) }, []string{"days"}},
		"age infinite":          {func() error { return second(Left(ok, inf)) }, []string{"days"}},
		"age too old":           {func() error { return second(Left(ok, up(MaxDays))) }, []string{"days"}},
		"age negative":          {func() error { return second(Left(ok, down(0))) }, []string{"days"}},
		"tau too short":         {func() error { return second(Left(FirstOrder{down(MinTauDays)}, 1)) }, []string{"TauDays"}},
		"tau too long":          {func() error { return second(Left(FirstOrder{up(MaxTauDays)}, 1)) }, []string{"TauDays"}},
		"exponent":              {func() error { return second(Left(Stretched{1, up(MaxExponent)}, 1)) }, []string{"Exponent"}},
		"exponent low":          {func() error { return second(Left(Stretched{1, down(MinExponent)}, 1)) }, []string{"Exponent"}},
		"radius in µm":          {func() error { return second(Left(Sphere{250, 1e-12}, 1)) }, []string{"RadiusMM"}},
		"diffusivity in cm²/s":  {func() error { return second(Left(Sphere{1, up(MaxDiffusivityM2PerS)}, 1)) }, []string{"DiffusivityM2PerS"}},
		"level as a fraction":   {func() error { return second(DaysUntil(ok, 0.4)) }, []string{"leftPct"}},
		"level over 100":        {func() error { return second(DaysUntil(ok, up(100))) }, []string{"leftPct"}},
		"level just too low":    {func() error { return second(DaysUntil(ok, down(MinLeftPct))) }, []string{"leftPct"}},
		"interval backwards":    {func() error { return second(MeanRate(ok, 3, 2)) }, []string{"toDays"}},
		"interval of nothing":   {func() error { return second(MeanRate(ok, 2, 2)) }, []string{"toDays"}},
		"interval NaN":          {func() error { return second(MeanRate(ok, nan, nan)) }, []string{"fromDays", "toDays"}},
		"Fo negative":           {func() error { return second(SphereShare(down(0))) }, []string{"fo"}},
		"Fo NaN":                {func() error { return second(SheetShare(nan)) }, []string{"fo"}},
		"Fo huge":               {func() error { return second(SphereShare(up(MaxFo))) }, []string{"fo"}},
		"zero coffee":           {func() error { return second(AmountLeft(Coffee{}, 1)) }, []string{"GasMgPerG", "Curve"}},
		"gas too much":          {func() error { return second(AmountLeft(Coffee{up(MaxGasMgPerG), ok}, 1)) }, []string{"GasMgPerG"}},
		"gas too little":        {func() error { return second(AmountLost(Coffee{down(MinGasMgPerG), ok}, 1, 2)) }, []string{"GasMgPerG"}},
		"amount over the gas":   {func() error { return second(DaysUntilAmount(Coffee{10, ok}, up(10))) }, []string{"leftMgPerG"}},
		"zero conditions":       {func() error { return second(CO2MLPerG(Conditions{})) }, []string{"PressureKPa"}},
		"pressure in bar":       {func() error { return second(CO2MLPerG(Conditions{20, 1.01})) }, []string{"PressureKPa"}},
		"pressure in mbar":      {func() error { return second(Compressibility(Conditions{20, 1013})) }, []string{"PressureKPa"}},
		"temperature in °F":     {func() error { return second(CO2MLPerG(Conditions{68, 101})) }, []string{"TempC"}},
		"volume of nothing":     {func() error { return second(GasFromVolume(0, Conditions{nan, 101})) }, []string{"mlPerG", "TempC"}},
		"virial":                {func() error { return second(SecondVirial(up(300))) }, []string{"tempC"}},
		"pores":                 {func() error { return second(PoreMLPerG(0, Conditions{})) }, []string{"gasMgPerG", "PressureKPa"}},
		"activation in J":       {func() error { return second(ArrheniusFactor(Arrhenius{51000, 20, 30})) }, []string{"ActivationKJPerMol"}},
		"activation negative":   {func() error { return second(ArrheniusFactor(Arrhenius{-1, nan, 90})) }, []string{"ActivationKJPerMol", "ReferenceC", "TempC"}},
		"zero Q10":              {func() error { return second(Q10Factor(Q10{})) }, []string{"Factor"}},
		"q10 of a cooler":       {func() error { return second(ActivationFromQ10(down(1), 20)) }, []string{"q10"}},
		"Q10 at the hot end":    {func() error { return second(Q10FromActivation(13, up(MaxTempC-10))) }, []string{"tempC"}},
		"haste":                 {func() error { return second(Hastened(ok, 0)) }, []string{"factor"}},
		"hasted out of range":   {func() error { return second(Hastened(FirstOrder{1e-3}, 1e4)) }, []string{"TauDays"}},
		"zero point":            {func() error { return second(FirstOrderThrough(Point{})) }, []string{"Days", "GonePct"}},
		"a fraction":            {func() error { return second(FirstOrderThrough(Point{1, 0.4})) }, []string{"GonePct"}},
		"points out of order":   {func() error { return second(StretchedThrough(Point{2, 40}, Point{1, 30})) }, []string{"b.Days", "b.GonePct"}},
		"zero points":           {func() error { return second(TwoPoolsThrough(0, Point{}, Point{})) }, []string{"fastPct", "a.Days", "a.GonePct", "b.Days", "b.GonePct"}},
		"sphere of no radius":   {func() error { return second(SphereThrough(0, Point{1, 40})) }, []string{"radiusMM"}},
		"sheet of no thickness": {func() error { return second(SheetThrough(nan, Point{})) }, []string{"halfThicknessMM", "Days", "GonePct"}},
		"zero losses":           {func() error { return second(FirstOrderFromLosses(Loss{}, Loss{})) }, []string{"a.Days", "a.GoneMgPerG", "b.Days", "b.GoneMgPerG"}},
		"losses out of order":   {func() error { return second(SphereFromLosses(1, Loss{2, 1}, Loss{1, 2})) }, []string{"b.Days"}},
		"losses without size":   {func() error { return second(SheetFromLosses(inf, Loss{1, 1}, Loss{2, 2})) }, []string{"halfThicknessMM"}},
		"stays": {func() error {
			_, err := EquivalentDays([]Stay{{1, 20}, {nan, 90}, {-1, 20}}, func(float64) (float64, error) { return 1, nil })
			return err
		}, []string{"stays[1].Days", "stays[1].TempC", "stays[2].Days"}},
		"factor of stays": {func() error {
			_, err := EquivalentDays([]Stay{{1, 20}}, func(float64) (float64, error) { return nan, nil })
			return err
		}, []string{"factor"}},
	} {
		err := c.err()
		if err == nil {
			t.Errorf("%s: accepted", name)
			continue
		}
		if diff := cmp.Diff(c.want, fields(t, err)); diff != "" {
			t.Errorf("%s: fields (-want +got):\n%s", name, diff)
		}
	}
	// At the limits themselves an answer stands.
	for name, err := range map[string]error{
		"Fo":    second(SphereShare(MaxFo)),
		"level": second(DaysUntil(ok, MinLeftPct)),
		"cold":  second(CO2MLPerG(Conditions{MinTempC, MaxPressureKPa})),
		"hot":   second(CO2MLPerG(Conditions{MaxTempC, MinPressureKPa})),
		"Q10":   second(Q10Factor(Q10{MaxQ10, MinTempC, MaxTempC})),
		"Ea":    second(ArrheniusFactor(Arrhenius{MaxActivationKJPerMol, MinTempC, MaxTempC})),
	} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// second is the error of a call; a result beside it that is not the zero one
// is an error of its own.
func second[T any](v T, err error) error {
	if err != nil && !reflect.ValueOf(&v).Elem().IsZero() {
		return fmt.Errorf("%v stands beside %w", v, err)
	}
	return err
}

func TestThrough(t *testing.T) {
	// What goes through points of a curve is that curve.
	for _, c := range []Stretched{{3.1, 0.59}, {0.2, 1.9}, {100, 0.2}} {
		pa, _ := Left(c, 0.4*c.TauDays)
		pb, _ := Left(c, 1.5*c.TauDays)
		got, err := StretchedThrough(Point{0.4 * c.TauDays, pa.GonePct}, Point{1.5 * c.TauDays, pb.GonePct})
		if err != nil || !near(got.TauDays, c.TauDays, 1e-12) || !near(got.Exponent, c.Exponent, 1e-12) {
			t.Errorf("%v came back as %v, %v", c, got, err)
		}
	}
	for _, c := range []TwoPools{{37.5, 0.5, 8}, {80, 1, 30}, {10, 0.1, 3}} {
		pa, _ := Left(c, 1)
		pb, _ := Left(c, 7)
		got, err := TwoPoolsThrough(c.FastPct, Point{1, pa.GonePct}, Point{7, pb.GonePct})
		if err != nil || !near(got.FastTauDays, c.FastTauDays, 1e-8) || !near(got.SlowTauDays, c.SlowTauDays, 1e-8) {
			t.Errorf("%v came back as %v, %v", c, got, err)
		}
	}
	for _, mm := range []float64{0.25, 3.5} {
		ball, err := SphereThrough(mm, Point{1, 40})
		if s, _ := Left(ball, 1); err != nil || !near(s.GonePct, 40, 1e-12) {
			t.Errorf("sphere of %v mm: %v, %v", mm, s, err)
		}
		flat, err := SheetThrough(mm, Point{1, 70})
		if s, _ := Left(flat, 1); err != nil || !near(s.GonePct, 70, 1e-12) {
			t.Errorf("sheet of %v mm: %v, %v", mm, s, err)
		}
	}
	for _, c := range []Coffee{{8, FirstOrder{3}}, {12, Sphere{2, 8e-13}}, {6, Sheet{1, 5e-13}}} {
		pa, _ := AmountLeft(c, 1)
		pb, _ := AmountLeft(c, 5)
		a, b := Loss{1, pa.GoneMgPerG}, Loss{5, pb.GoneMgPerG}
		var got Coffee
		var err error
		switch s := c.Curve.(type) {
		case FirstOrder:
			got, err = FirstOrderFromLosses(a, b)
		case Sphere:
			got, err = SphereFromLosses(s.RadiusMM, a, b)
		case Sheet:
			got, err = SheetFromLosses(s.HalfThicknessMM, a, b)
		}
		if err != nil || !near(got.GasMgPerG, c.GasMgPerG, 1e-9) {
			t.Errorf("%v came back as %v, %v", c, got, err)
			continue
		}
		if back, _ := AmountLeft(got, 9); true {
			if want, _ := AmountLeft(c, 9); !near(back.LeftMgPerG, want.LeftMgPerG, 1e-8) {
				t.Errorf("%v: %v, want %v", c, back, want)
			}
		}
	}
}

// Every limit exactly is accepted, and one float beyond it is refused by the
// name of its field.
func TestLimits(t *testing.T) {
	ok := Stretched{3, 0.6}
	at := Conditions{20, 101}
	coffee := Coffee{9, ok}
	b := func(change func(b *Bag, v float64)) func(v float64) error {
		return func(v float64) error {
			x := bag()
			change(&x, v)
			return second(BagPeak(x))
		}
	}
	bin := func(change func(b *SealedBin, v float64)) func(v float64) error {
		return func(v float64) error {
			x := SealedBin{5000, 600, 101, 20, 100, 10, 22, 500}
			change(&x, v)
			return second(SealedBinMLPerG(x))
		}
	}
	room := func(change func(r *Room, v float64)) func(v float64) error {
		return func(v float64) error {
			x := Room{100, 10, 50, 420, 8}
			change(&x, v)
			return second(RoomAir(x))
		}
	}
	stored := func(change func(r *CoffeeRoom, v float64)) func(v float64) error {
		return func(v float64) error {
			x := CoffeeRoom{50, coffee, 1, 8, 60, 10, 420, at}
			change(&x, v)
			return second(CoffeeRoomAir(x))
		}
	}
	store := func(change func(s *Store, v float64)) func(v float64) error {
		return func(v float64) error {
			x := Store{5, 0.2, 20}
			change(&x, v)
			return second(RelativeLife(x, Store{21, 0.2, 20}))
		}
	}
	roasted := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	release := func(change func(r *Release, v float64)) func(v float64) error {
		return func(v float64) error {
			x := Release{coffee, roasted, roasted.Add(48 * time.Hour), 8, 1, 10}
			change(&x, v)
			return second(TasteBefore(x))
		}
	}
	good := weighed(rand.New(rand.NewPCG(1, 2)), bent, 200, 0.01, 0.01, 0, ages)
	weigh := func(change func(w *Weighings, v float64)) func(v float64) error {
		return func(v float64) error {
			x := good
			change(&x, v)
			return second(FitWeighings(x, FirstOrder{}))
		}
	}
	jar := jarred(rand.New(rand.NewPCG(1, 2)), bent, Jar{VolumeML: 2000, CoffeeG: 200, DensityGPerML: 0.8, TempC: 23, ResolutionKPa: 0.1, RepeatabilityKPa: 0.2, WithinPct: 50}, ages)
	press := func(change func(j *Jar, v float64)) func(v float64) error {
		return func(v float64) error {
			x := jar
			change(&x, v)
			return second(FitJar(x, FirstOrder{}))
		}
	}
	for _, c := range []struct {
		field  string
		lo, hi float64
		call   func(v float64) error
	}{
		{"fo", 0, MaxFo, func(v float64) error { return second(SphereShare(v)) }},
		{"days", 0, MaxDays, func(v float64) error { return second(Left(ok, v)) }},
		{"days", 0, MaxDays, func(v float64) error { return second(AmountLeft(coffee, v)) }},
		{"TauDays", MinTauDays, MaxTauDays, func(v float64) error { return second(Left(FirstOrder{v}, 1)) }},
		{"TauDays", MinTauDays, MaxTauDays, func(v float64) error { return second(Left(Stretched{v, 1}, 1)) }},
		{"Exponent", MinExponent, MaxExponent, func(v float64) error { return second(Left(Stretched{1, v}, 1)) }},
		{"FastPct", 1, 99, func(v float64) error { return second(Left(TwoPools{v, 1, 2}, 1)) }},
		{"FastTauDays", MinTauDays, MaxTauDays, func(v float64) error { return second(Left(TwoPools{30, v, MaxTauDays}, 1)) }},
		{"SlowTauDays", 2, MaxTauDays, func(v float64) error { return second(Left(TwoPools{30, 2, v}, 1)) }},
		{"RadiusMM", MinRadiusMM, MaxRadiusMM, func(v float64) error { return second(Left(Sphere{v, 1e-12}, 1)) }},
		{"DiffusivityM2PerS", MinDiffusivityM2PerS, MaxDiffusivityM2PerS, func(v float64) error { return second(Left(Sphere{1, v}, 1)) }},
		{"HalfThicknessMM", MinRadiusMM, MaxRadiusMM, func(v float64) error { return second(Left(Sheet{v, 1e-12}, 1)) }},
		{"DiffusivityM2PerS", MinDiffusivityM2PerS, MaxDiffusivityM2PerS, func(v float64) error { return second(Left(Sheet{1, v}, 1)) }},
		{"leftPct", MinLeftPct, 100, func(v float64) error { return second(DaysUntil(ok, v)) }},
		{"leftPct", MinLeftPct, 100, func(v float64) error { return second(OrientationDays(v)) }},
		{"days", 0, MaxDays, func(v float64) error { return second(OrientationBand(v)) }},
		{"fromDays", 0, 5, func(v float64) error {
			if v > 5 {
				return second(MeanRate(ok, v, 5)) // too late a start is too early an end
			}
			return second(MeanRate(ok, v, 5.1))
		}},
		{"toDays", 2 + MinIntervalDays, MaxDays, func(v float64) error { return second(AmountLost(coffee, 2, v)) }},
		{"GasMgPerG", MinGasMgPerG, MaxGasMgPerG, func(v float64) error { return second(AmountLeft(Coffee{v, ok}, 1)) }},
		{"leftMgPerG", 0.09, 9, func(v float64) error { return second(DaysUntilAmount(coffee, v)) }},
		{"TempC", MinTempC, MaxTempC, func(v float64) error { return second(CO2MLPerG(Conditions{v, 101})) }},
		{"PressureKPa", MinPressureKPa, MaxPressureKPa, func(v float64) error { return second(CO2MLPerG(Conditions{20, v})) }},
		{"mlPerG", 0.1, 30, func(v float64) error { return second(GasFromVolume(v, at)) }},
		{"tempC", MinTempC, 300, func(v float64) error { return second(SecondVirial(v)) }},
		{"gasMgPerG", MinGasMgPerG, MaxGasMgPerG, func(v float64) error { return second(PoreMLPerG(v, at)) }},
		{"PressureKPa", MinPressureKPa, 3000, func(v float64) error { return second(PoreMLPerG(6, Conditions{20, v})) }},
		{"TempC", MinTempC, MaxTempC, func(v float64) error { return second(PoreMLPerG(6, Conditions{v, 600})) }},
		{"ActivationKJPerMol", 0, MaxActivationKJPerMol, func(v float64) error { return second(ArrheniusFactor(Arrhenius{v, 20, 30})) }},
		{"ReferenceC", MinTempC, MaxTempC, func(v float64) error { return second(ArrheniusFactor(Arrhenius{40, v, 30})) }},
		{"TempC", MinTempC, MaxTempC, func(v float64) error { return second(ArrheniusFactor(Arrhenius{40, 20, v})) }},
		{"Factor", MinQ10, MaxQ10, func(v float64) error { return second(Q10Factor(Q10{v, 20, 30})) }},
		{"ReferenceC", MinTempC, MaxTempC, func(v float64) error { return second(Q10Factor(Q10{2, v, 30})) }},
		{"TempC", MinTempC, MaxTempC, func(v float64) error { return second(Q10Factor(Q10{2, 20, v})) }},
		{"activationKJPerMol", 0, MaxActivationKJPerMol, func(v float64) error { return second(Q10FromActivation(v, 20)) }},
		{"tempC", MinTempC, MaxTempC - 10, func(v float64) error { return second(Q10FromActivation(13, v)) }},
		{"q10", MinQ10, MaxQ10, func(v float64) error { return second(ActivationFromQ10(v, 20)) }},
		{"tempC", MinTempC, MaxTempC - 10, func(v float64) error { return second(ActivationFromQ10(2, v)) }},
		{"factor", MinHaste, MaxHaste, func(v float64) error { return second(Hastened(FirstOrder{1}, v)) }},
		{"stays[0].Days", 0, MaxDays, func(v float64) error {
			return second(EquivalentDays([]Stay{{v, 20}}, func(float64) (float64, error) { return 1, nil }))
		}},
		{"stays[0].TempC", MinTempC, MaxTempC, func(v float64) error {
			return second(EquivalentDays([]Stay{{1, v}}, func(float64) (float64, error) { return 1, nil }))
		}},
		{"factor", MinHaste, MaxHaste, func(v float64) error {
			return second(EquivalentDays([]Stay{{1, 20}}, func(float64) (float64, error) { return v, nil }))
		}},
		{"Days", 0.0001, MaxDays, func(v float64) error { return second(FirstOrderThrough(Point{v, 40})) }},
		{"GonePct", 1, 99, func(v float64) error { return second(FirstOrderThrough(Point{1, v})) }},
		{"fastPct", 1, 99, func(v float64) error { return second(TwoPoolsThrough(v, Point{1, 40}, Point{7, 80})) }},
		{"radiusMM", MinRadiusMM, MaxRadiusMM, func(v float64) error { return second(SphereThrough(v, Point{1, 40})) }},
		{"halfThicknessMM", MinRadiusMM, MaxRadiusMM, func(v float64) error { return second(SheetThrough(v, Point{1, 40})) }},
		{"radiusMM", MinRadiusMM, MaxRadiusMM, func(v float64) error { return second(SphereFromLosses(v, Loss{1, 3}, Loss{4, 5})) }},
		{"halfThicknessMM", MinRadiusMM, MaxRadiusMM, func(v float64) error { return second(SheetFromLosses(v, Loss{1, 3}, Loss{4, 5})) }},
		{"a.Days", 0.0001, MaxDays, func(v float64) error {
			if v == MaxDays {
				v = MaxDays - 1 // the second is later still
			}
			return second(FirstOrderFromLosses(Loss{v, 3}, Loss{MaxDays, 5}))
		}},
		{"a.GoneMgPerG", 0.01, MaxGasMgPerG, func(v float64) error { return second(FirstOrderFromLosses(Loss{1, v}, Loss{4, 5})) }},
		{"b.GoneMgPerG", 0.01, MaxGasMgPerG, func(v float64) error { return second(FirstOrderFromLosses(Loss{1, 3}, Loss{4, v})) }},
		{"CoffeeG", 1, 1e6, b(func(b *Bag, v float64) { b.CoffeeG = v })},
		{"SealedDays", 0, MaxDays, b(func(b *Bag, v float64) { b.SealedDays = v })},
		{"GasML", 1, 1e7, b(func(b *Bag, v float64) { b.GasML = v })},
		{"SlackML", 0, 1e7, b(func(b *Bag, v float64) { b.SlackML = v })},
		{"ValveKPa", 0, 50, b(func(b *Bag, v float64) { b.ValveKPa = v })},
		{"TempC", MinTempC, MaxTempC, b(func(b *Bag, v float64) { b.TempC = v })},
		{"OutsideKPa", MinPressureKPa, 110, b(func(b *Bag, v float64) { b.OutsideKPa = v })},
		{"days", 0, MaxDays - 1, func(v float64) error { return second(BagAfter(bag(), v)) }},
		{"gaugeKPa", 0, 700, func(v float64) error { return second(DaysToGauge(bag(), v)) }},
		{"gaugeKPa", 0, 700, func(v float64) error { return second(HoldDays(bag(), v)) }},
		{"slackML", 0, 1e7, func(v float64) error { return second(SlackMgPerG(v, 250, at)) }},
		{"coffeeG", 1, 1e6, func(v float64) error { return second(SlackMgPerG(100, v, at)) }},
		{"evolvedML", 0, 1e7, func(v float64) error { return second(ValveSweep(v, 300, 20)) }},
		{"gasML", 1, 1e7, func(v float64) error { return second(ValveSweep(100, v, 20)) }},
		{"oxygenPct", 0, 21, func(v float64) error { return second(ValveSweep(100, 300, v)) }},
		{"BinML", 601, 1e7, bin(func(b *SealedBin, v float64) {
			if b.BinML = v; v < 601 {
				b.BinML = 9 // a bin too small for its coffee is the coffee's fault
			}
		})},
		{"SolidML", 0, 4999, bin(func(b *SealedBin, v float64) { b.SolidML = v })},
		{"StartKPa", MinPressureKPa, 110, bin(func(b *SealedBin, v float64) { b.StartKPa = v })},
		{"StartC", MinTempC, MaxTempC, bin(func(b *SealedBin, v float64) { b.StartC = v })},
		{"OutsideKPa", MinPressureKPa, 110, bin(func(b *SealedBin, v float64) { b.OutsideKPa = v })},
		{"GaugeKPa", -50, 700, bin(func(b *SealedBin, v float64) { b.GaugeKPa = v })},
		{"TempC", MinTempC, MaxTempC, bin(func(b *SealedBin, v float64) { b.TempC = v })},
		{"CoffeeG", 1, 1e6, bin(func(b *SealedBin, v float64) { b.CoffeeG = v })},
		{"LeftMgPerG", 0.09, 9, func(v float64) error { return second(RestWindow(RestPlan{coffee, v, 100})) }},
		{"FreshDays", 0.1, MaxDays, func(v float64) error { return second(RestWindow(RestPlan{coffee, 8.9, v})) }},
		{"days", 0, MaxDays, func(v float64) error { return second(WhenAged(roasted, v, time.UTC)) }},
		{"days", 1, MaxDays, func(v float64) error { return second(BestBefore(roasted, v)) }},
		{"RestHours", 0, 720, release(func(r *Release, v float64) { r.RestHours = v })},
		{"TastingHours", 0, 24, release(func(r *Release, v float64) { r.TastingHours = v })},
		{"OpenedDays", 0.1, MaxDays, release(func(r *Release, v float64) { r.OpenedDays = v; r.Coffee.Curve = Stretched{4000, 0.6} })},
		{"OxygenKPa", 0.05, 30, store(func(s *Store, v float64) { s.OxygenKPa = v })},
		{"WaterActivity", 0.05, 0.6, store(func(s *Store, v float64) { s.WaterActivity = v })},
		{"TempC", -25, 45, store(func(s *Store, v float64) { s.TempC = v })},
		{"Days", 1, MaxDays, func(v float64) error { return second3(BestBeforeDays(Anchor{v, Store{5, 0.2, 20}}, Store{5, 0.2, 20})) }},
		{"oxygenPct", 1, AirOxygenPct, func(v float64) error { return second(CO2PctAtOxygen(v)) }},
		{"PPM", 0, 1e6, func(v float64) error { return second(MgPerM3(Vapour{v, 44, at})) }},
		{"GPerMol", 2, 400, func(v float64) error { return second(MgPerM3(Vapour{10, v, at})) }},
		{"coffeeKg", 0.01, 1e6, func(v float64) error { return second(Emission(v, coffee, 0, 1, at)) }},
		{"VolumeM3", 0.01, 1e6, room(func(r *Room, v float64) { r.VolumeM3 = v })},
		{"FreshM3PerHour", 0, 1e7, room(func(r *Room, v float64) { r.FreshM3PerHour = v })},
		{"SourceLPerHour", 0, 1e7, room(func(r *Room, v float64) { r.SourceLPerHour = v })},
		{"OutdoorPPM", 300, 2000, room(func(r *Room, v float64) { r.OutdoorPPM = v })},
		{"Hours", 0, 8760, room(func(r *Room, v float64) { r.Hours = v })},
		{"CoffeeKg", 0.01, 1e6, stored(func(r *CoffeeRoom, v float64) { r.CoffeeKg = v })},
		{"FromDays", 0, MaxDays - 8.0/24, stored(func(r *CoffeeRoom, v float64) { r.FromDays = v })},
		{"Hours", 0, 8760, stored(func(r *CoffeeRoom, v float64) { r.Hours = v })},
		{"VolumeM3", 0.001, 1e6, stored(func(r *CoffeeRoom, v float64) { r.VolumeM3 = v })},
		{"FreshM3PerHour", 0, 1e7, stored(func(r *CoffeeRoom, v float64) { r.FreshM3PerHour = v })},
		{"OutdoorPPM", 300, 2000, stored(func(r *CoffeeRoom, v float64) { r.OutdoorPPM = v })},
		{"sourceLPerHour", 0, 1e7, func(v float64) error { return second(FreshAirFor(v, 5000, 420)) }},
		{"limitPPM", 430, 1e5, func(v float64) error { return second(FreshAirFor(10, v, 420)) }},
		{"outdoorPPM", 300, 2000, func(v float64) error { return second(FreshAirFor(10, 5000, v)) }},
		{"limitPPM", 420, 1e6, func(v float64) error { return second(HoursToLimit(Room{100, 5, 200, 420, 0}, v)) }},
		{"DivisionG", 0.00001, 100, weigh(func(w *Weighings, v float64) { w.DivisionG = decimal.NewFromFloat(v) })},
		{"RepeatabilityG", 0, 100, weigh(func(w *Weighings, v float64) { w.RepeatabilityG = v })},
		{"DriftGPerDay", 0, 10, weigh(func(w *Weighings, v float64) { w.DriftGPerDay = v })},
		{"PickupMgPerGDay", -10, 10, weigh(func(w *Weighings, v float64) { w.PickupMgPerGDay = v })},
		{"PickupUncertaintyMgPerGDay", 0, 10, weigh(func(w *Weighings, v float64) { w.PickupUncertaintyMgPerGDay = v })},
		{"WithinPct", 1, 100, weigh(func(w *Weighings, v float64) { w.WithinPct = v })},
		{"Readings[0].MassG", 1, 100000, weigh(func(w *Weighings, v float64) {
			w.Readings = append([]Weighing(nil), w.Readings...)
			w.Readings[0].MassG = decimal.NewFromFloat(v)
		})},
		{"Readings[12].Days", 21.000001, MaxDays, weigh(func(w *Weighings, v float64) {
			w.Readings = append([]Weighing(nil), w.Readings...)
			if w.Readings[12].Days = v; v < 21.000001 {
				w.Readings[12].Days = 21
			}
		})},
		{"VolumeML", 251, 1e6, press(func(j *Jar, v float64) { j.VolumeML = v })},
		{"VolumeUncertaintyML", 0, 350, press(func(j *Jar, v float64) { j.VolumeUncertaintyML = v })},
		{"CoffeeG", 1, 1599.2, press(func(j *Jar, v float64) {
			if j.CoffeeG = v; v > 1599.2 {
				j.CoffeeG = 1.1e6
			}
		})},
		{"DensityGPerML", 0.3, 1.6, press(func(j *Jar, v float64) { j.DensityGPerML = v })},
		{"TempC", MinTempC, MaxTempC, press(func(j *Jar, v float64) { j.TempC = v })},
		{"ResolutionKPa", 0.00001, 10, press(func(j *Jar, v float64) { j.ResolutionKPa = v })},
		{"RepeatabilityKPa", 0, 10, press(func(j *Jar, v float64) { j.RepeatabilityKPa = v })},
		{"DriftKPaPerDay", 0, 10, press(func(j *Jar, v float64) { j.DriftKPaPerDay = v })},
		{"WithinPct", 1, 100, press(func(j *Jar, v float64) { j.WithinPct = v })},
		{"Readings[3].PressureKPa", -100, 1000, press(func(j *Jar, v float64) {
			j.Readings = append([]JarReading(nil), j.Readings...)
			j.Readings[3].PressureKPa = v
		})},
	} {
		for _, v := range []float64{c.lo, c.hi} {
			var e *ImpossibleError
			if err := c.call(v); err != nil && !errors.As(err, &e) {
				t.Errorf("%s at its limit %v: %v", c.field, v, err)
			}
		}
		for _, v := range []float64{math.Nextafter(c.lo, math.Inf(-1)), math.Nextafter(c.hi, math.Inf(1))} {
			err := c.call(v)
			if err == nil {
				t.Errorf("%s beyond its limit, %v, passed", c.field, v)
				continue
			}
			found := false
			for _, f := range fields(t, err) {
				found = found || f == c.field || c.field == "fromDays" && f == "toDays"
			}
			if !found {
				t.Errorf("%s beyond its limit, %v: %v", c.field, v, err)
			}
		}
	}
}

func TestThroughImpossible(t *testing.T) {
	a := Point{1, 40}
	err := second(StretchedThrough(a, Point{7, 41}))
	e := impossible(t, err, "b.GonePct")
	for _, f := range []float64{e.Min * (1 + 1e-9), e.Max * (1 - 1e-9)} {
		if _, err := StretchedThrough(a, Point{7, f}); err != nil {
			t.Errorf("%v %% was said to be possible: %v", f, err)
		}
	}
	for _, f := range []float64{98.5, 40.5} {
		err = second(TwoPoolsThrough(30, a, Point{7, f}))
		e = impossible(t, err, "b.GonePct")
		for _, f := range []float64{e.Min + 0.5, e.Max - 0.5} {
			if _, err := TwoPoolsThrough(30, a, Point{7, f}); err != nil {
				t.Errorf("%v %% was said to be possible (%v): %v", f, e, err)
			}
		}
	}
	err = second(FirstOrderFromLosses(Loss{1, 2}, Loss{5, 10.5}))
	e = impossible(t, err, "b.GoneMgPerG")
	if !near(e.Max, 50*(1-math.Pow(0.96, 5)), 1e-9) {
		t.Errorf("of 50 mg/g, of which 4 %% are gone each day, not %v", e.Max)
	}
	err = second(SphereFromLosses(1, Loss{1, 2}, Loss{4, 1}))
	e = impossible(t, err, "b.GoneMgPerG")
	// Before the middle feels it F = 6·√(θ/π) − 3·θ; of 50 mg/g 4 % are gone first.
	root := 1/math.Sqrt(math.Pi) - math.Sqrt(1/math.Pi-0.04/3) // √θ
	if want := 50 * (12*root/math.Sqrt(math.Pi) - 12*root*root); !near(e.Max, want, 1e-9) {
		t.Errorf("four times as long can lose %v mg/g at most, not %v", want, e.Max)
	}
	err = second(SphereThrough(MinRadiusMM, Point{MaxDays, 1}))
	impossible(t, err, "radiusMM")
	err = second(SheetThrough(MinRadiusMM, Point{MaxDays, 1}))
	impossible(t, err, "halfThicknessMM")
	err = second(FirstOrderThrough(Point{MaxDays, 1}))
	e = impossible(t, err, "GonePct")
	if _, err := FirstOrderThrough(Point{MaxDays, e.Min * (1 + 1e-9)}); err != nil {
		t.Error(err)
	}
}

func TestTemperature(t *testing.T) {
	f, err := ArrheniusFactor(Arrhenius{51.216, 20, 30})
	if err != nil || !near(f, 2, 1e-4) {
		t.Errorf("51.2 kJ/mol over 20 to 30 °C: %v, %v", f, err)
	}
	if f, _ := ArrheniusFactor(Arrhenius{0, 20, 40}); f != 1 {
		t.Errorf("without an energy: %v", f)
	}
	back, _ := ArrheniusFactor(Arrhenius{51.216, 30, 20})
	if !near(f*back, 1, 1e-14) {
		t.Errorf("there and back: %v", f*back)
	}
	for _, q := range []float64{1, 1.19, 2, 9.9} {
		ea, err := ActivationFromQ10(q, 20)
		if err != nil {
			t.Fatal(err)
		}
		if again, err := Q10FromActivation(ea, 20); err != nil || !near(again, q, 1e-13) {
			t.Errorf("Q10 %v came back as %v, %v", q, again, err)
		}
	}
	// Hastened curves run faster and keep their shape.
	for _, c := range []Curve{FirstOrder{2}, Stretched{3.1, 0.59}, TwoPools{37.5, 0.5, 8}, Sphere{3.5, 10e-13}, Sheet{0.5, 1e-13}} {
		h, err := Hastened(c, 3)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := Left(h, 2)
		b, _ := Left(c, 6)
		if !near(a.LeftPct, b.LeftPct, 1e-12) {
			t.Errorf("%v hastened: %v, want %v", c, a, b)
		}
	}
	// A day at 30 °C and two at 20 °C, Q10 = 2, are four days at 20 °C.
	q := func(c float64) (float64, error) { return Q10Factor(Q10{2, 20, c}) }
	if d, err := EquivalentDays([]Stay{{1, 30}, {2, 20}}, q); err != nil || !near(d, 4, 1e-15) {
		t.Errorf("%v, %v", d, err)
	}
	if d, err := EquivalentDays(nil, q); err != nil || d != 0 {
		t.Errorf("no stay: %v, %v", d, err)
	}
	// A history's factor of its own may refuse.
	if _, err := EquivalentDays([]Stay{{1, 20}}, func(float64) (float64, error) { return Q10Factor(Q10{}) }); err == nil {
		t.Error("a refused factor passed")
	}
}

func TestDigits(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 1234.5: "1230", 0.0123456: "0.0123", -2.5: "-2.5", math.Inf(1): "+Inf", 1e-320: "1e-320", 1e300: "1e+300", 99.99: "100"} {
		if got := digits3(v); got != want {
			t.Errorf("%v prints as %s, want %s", v, got, want)
		}
	}
	// What an error says besides the range.
	for want, err := range map[string]error{
		"the slow pool is not faster than the fast one":      second(Left(TwoPools{50, 3, 2}, 1)),
		"an interval ends after it begins":                   second(MeanRate(FirstOrder{1}, 3, 2)),
		"one of the five shapes, by value":                   second(Left(nil, 2)),
		"the second point is later than the first":           second(StretchedThrough(Point{2, 40}, Point{1, 50})),
		"more is gone at the second point than at the first": second(StretchedThrough(Point{1, 40}, Point{2, 30})),
		"its exponent would be 0.0166":                       second(StretchedThrough(Point{1, 40}, Point{7, 41})),
		"its scale of time would be ":                        second(StretchedThrough(Point{3000, 1}, Point{3600, 1.03})),
		"the clock skips this time on that day":              second(Instant(WallClock{2026, 3, 29, 2, 15}, place(t, "Europe/Berlin"))),
		"its diffusivity would be ":                          second(SphereThrough(MinRadiusMM, Point{MaxDays, 1})),
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not say %q", err, want)
		}
	}
}

func TestNotes(t *testing.T) {
	for i, w := range noteWords {
		if got := Notes(1 << i).String(); got != w {
			t.Errorf("note %d is %q", i, got)
		}
	}
	if AirDisplaced != 1<<(len(noteWords)-1) {
		t.Errorf("%d words for notes up to %d", len(noteWords), AirDisplaced)
	}
	if got := (Extrapolated | GroundOnly).String(); got != noteWords[0]+"; "+noteWords[7] {
		t.Errorf("%q", got)
	}
	if s, err := Left(Sphere{1, 11e-13}, 1); err != nil || s.Notes != Extrapolated {
		t.Errorf("a diffusivity beyond the published: %v, %v", s.Notes, err)
	}
	if s, err := Left(Sheet{1, 10e-13}, 1); err != nil || s.Notes != 0 {
		t.Errorf("a published diffusivity: %v, %v", s.Notes, err)
	}
	if s, err := AmountLeft(Coffee{21, FirstOrder{1}}, 1); err != nil || s.Notes != Extrapolated {
		t.Errorf("a gas content beyond the claims: %v, %v", s.Notes, err)
	}
}

// Given a Curve, nothing is allocated.
func TestNoAllocation(t *testing.T) {
	var pools, ball, flat, bent Curve = TwoPools{37.5, 0.5, 8}, Sphere{3.5, 10e-13}, Sheet{0.5, 1e-13}, Stretched{3.1, 0.59}
	coffee := Coffee{10, bent}
	for name, f := range map[string]func() error{
		"SphereShare":     func() error { return second(SphereShare(0.07)) },
		"SheetShare":      func() error { return second(SheetShare(0.3)) },
		"Left":            func() error { return second(Left(ball, 3)) },
		"DaysUntil":       func() error { return second(DaysUntil(pools, 30)) },
		"DaysUntil ball":  func() error { return second(DaysUntil(ball, 30)) },
		"DaysUntil sheet": func() error { return second(DaysUntil(flat, 70)) },
		"MeanRate":        func() error { return second(MeanRate(bent, 0, 1)) },
		"AmountLeft":      func() error { return second(AmountLeft(coffee, 2)) },
		"DaysUntilAmount": func() error { return second(DaysUntilAmount(coffee, 2)) },
		"Arrhenius":       func() error { return second(ArrheniusFactor(Arrhenius{40, 20, 30})) },
		"StretchedThrough": func() error {
			return second(StretchedThrough(Point{1, 40}, Point{7, 80}))
		},
		"TwoPoolsThrough": func() error { return second(TwoPoolsThrough(30, Point{1, 40}, Point{7, 80})) },
	} {
		var err error
		if n := testing.AllocsPerRun(100, func() { err = f() }); n != 0 || err != nil {
			t.Errorf("%s: %v allocations, %v", name, n, err)
		}
	}
}

func FuzzLeft(f *testing.F) {
	f.Add(uint8(0), 1.0, 3.0, 0.5, 10.0)         // an ordinary curve
	f.Add(uint8(1), 1e-320, 1e-320, 0.1, 0.0)    // the smallest positive floats
	f.Add(uint8(2), 3650.0, 50.0, 1e-5, 36500.0) // limits
	f.Add(uint8(3), 2.0, 20.0, 1e-17, 0.0)       // the slowest sphere
	f.Add(uint8(4), math.MaxFloat64, -1.0, math.Inf(1), math.NaN())
	f.Fuzz(func(t *testing.T, kind uint8, days, a, b, c float64) {
		curve := []Curve{FirstOrder{a}, Stretched{a, b}, TwoPools{a, b, c}, Sphere{a, b}, Sheet{a, b}}[kind%5]
		s, err := Left(curve, days)
		if err != nil {
			fields(t, err)
			if s != (Share{}) {
				t.Fatalf("%v beside %v", s, err)
			}
			return
		}
		if !(s.LeftPct >= 0 && s.LeftPct <= 100 && s.GonePct >= 0 && s.GonePct <= 100) {
			t.Fatalf("%#v at %v: %v", curve, days, s)
		}
		if s.LeftPct < MinLeftPct || s.LeftPct > 99 {
			return
		}
		back, err := DaysUntil(curve, s.LeftPct)
		if err != nil {
			var e *ImpossibleError
			if !errors.As(err, &e) {
				t.Fatal(err)
			}
			return
		}
		if !near(back, days, 1e-6) {
			t.Fatalf("%#v: %v came back as %v", curve, days, back)
		}
	})
}
