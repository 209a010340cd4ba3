package degas

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// fields lists the refused fields of an error, in order.
func fields(t *testing.T, err error) []string {
	t.Helper()
	var bad *InputError
	if !errors.As(err, &bad) {
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
	var e *ImpossibleError
	if !errors.As(err, &e) {
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
	_, err := DaysUntil(Stretched{MaxTauDays, 0.5}, 5)
	e := impossible(t, err, "leftPct")
	if d, err := DaysUntil(Stretched{MaxTauDays, 0.5}, e.Min*(1+1e-9)); err != nil || !near(d, MaxDays, 1e-6) {
		t.Errorf("at the level said to be possible: %v, %v", d, err)
	}
	_, err = DaysUntilAmount(Coffee{10, Stretched{MaxTauDays, 0.5}}, 0.5)
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
		"no curve":              {func() error { _, err := Left(nil, 1); return err }, []string{"Curve"}},
		"a pointer":             {func() error { _, err := Left((*Stretched)(nil), 1); return err }, []string{"Curve"}},
		"zero curve":            {func() error { _, err := Left(Stretched{}, 1); return err }, []string{"TauDays", "Exponent"}},
		"zero first order":      {func() error { _, err := Left(FirstOrder{}, 1); return err }, []string{"TauDays"}},
		"zero pools":            {func() error { _, err := Left(TwoPools{}, 1); return err }, []string{"FastPct", "FastTauDays", "SlowTauDays"}},
		"pools out of order":    {func() error { _, err := Left(TwoPools{50, 3, 2}, 1); return err }, []string{"SlowTauDays"}},
		"zero sphere":           {func() error { _, err := Left(Sphere{}, 1); return err }, []string{"RadiusMM", "DiffusivityM2PerS"}},
		"zero sheet":            {func() error { _, err := Left(Sheet{}, 1); return err }, []string{"HalfThicknessMM", "DiffusivityM2PerS"}},
		"curve and age":         {func() error { _, err := Left(FirstOrder{nan}, -1); return err }, []string{"TauDays", "days"}},
		"age NaN":               {func() error { _, err := Left(ok, nan); return err }, []string{"days"}},
		"age infinite":          {func() error { _, err := Left(ok, inf); return err }, []string{"days"}},
		"age too old":           {func() error { _, err := Left(ok, up(MaxDays)); return err }, []string{"days"}},
		"age negative":          {func() error { _, err := Left(ok, down(0)); return err }, []string{"days"}},
		"tau too short":         {func() error { _, err := Left(FirstOrder{down(MinTauDays)}, 1); return err }, []string{"TauDays"}},
		"tau too long":          {func() error { _, err := Left(FirstOrder{up(MaxTauDays)}, 1); return err }, []string{"TauDays"}},
		"exponent":              {func() error { _, err := Left(Stretched{1, up(MaxExponent)}, 1); return err }, []string{"Exponent"}},
		"exponent low":          {func() error { _, err := Left(Stretched{1, down(MinExponent)}, 1); return err }, []string{"Exponent"}},
		"radius in µm":          {func() error { _, err := Left(Sphere{250, 1e-12}, 1); return err }, []string{"RadiusMM"}},
		"diffusivity in cm²/s":  {func() error { _, err := Left(Sphere{1, up(MaxDiffusivityM2PerS)}, 1); return err }, []string{"DiffusivityM2PerS"}},
		"level as a fraction":   {func() error { _, err := DaysUntil(ok, 0.4); return err }, []string{"leftPct"}},
		"level over 100":        {func() error { _, err := DaysUntil(ok, up(100)); return err }, []string{"leftPct"}},
		"level just too low":    {func() error { _, err := DaysUntil(ok, down(MinLeftPct)); return err }, []string{"leftPct"}},
		"interval backwards":    {func() error { _, err := MeanRate(ok, 3, 2); return err }, []string{"toDays"}},
		"interval of nothing":   {func() error { _, err := MeanRate(ok, 2, 2); return err }, []string{"toDays"}},
		"interval NaN":          {func() error { _, err := MeanRate(ok, nan, nan); return err }, []string{"fromDays", "toDays"}},
		"Fo negative":           {func() error { _, err := SphereShare(down(0)); return err }, []string{"fo"}},
		"Fo NaN":                {func() error { _, err := SheetShare(nan); return err }, []string{"fo"}},
		"Fo huge":               {func() error { _, err := SphereShare(up(MaxFo)); return err }, []string{"fo"}},
		"zero coffee":           {func() error { _, err := AmountLeft(Coffee{}, 1); return err }, []string{"GasMgPerG", "Curve"}},
		"gas too much":          {func() error { _, err := AmountLeft(Coffee{up(MaxGasMgPerG), ok}, 1); return err }, []string{"GasMgPerG"}},
		"gas too little":        {func() error { _, err := AmountLost(Coffee{down(MinGasMgPerG), ok}, 1, 2); return err }, []string{"GasMgPerG"}},
		"amount over the gas":   {func() error { _, err := DaysUntilAmount(Coffee{10, ok}, up(10)); return err }, []string{"leftMgPerG"}},
		"zero conditions":       {func() error { _, err := CO2MLPerG(Conditions{}); return err }, []string{"PressureKPa"}},
		"pressure in bar":       {func() error { _, err := CO2MLPerG(Conditions{20, 1.01}); return err }, []string{"PressureKPa"}},
		"pressure in mbar":      {func() error { _, err := Compressibility(Conditions{20, 1013}); return err }, []string{"PressureKPa"}},
		"temperature in °F":     {func() error { _, err := CO2MLPerG(Conditions{68, 101}); return err }, []string{"TempC"}},
		"volume of nothing":     {func() error { _, err := GasFromVolume(0, Conditions{nan, 101}); return err }, []string{"mlPerG", "TempC"}},
		"virial":                {func() error { _, err := SecondVirial(up(300)); return err }, []string{"tempC"}},
		"pores":                 {func() error { _, err := PoreMLPerG(0, Conditions{}); return err }, []string{"gasMgPerG", "PressureKPa"}},
		"activation in J":       {func() error { _, err := ArrheniusFactor(Arrhenius{51000, 20, 30}); return err }, []string{"ActivationKJPerMol"}},
		"activation negative":   {func() error { _, err := ArrheniusFactor(Arrhenius{-1, nan, 90}); return err }, []string{"ActivationKJPerMol", "ReferenceC", "TempC"}},
		"zero Q10":              {func() error { _, err := Q10Factor(Q10{}); return err }, []string{"Factor"}},
		"Q10 of a cooler":       {func() error { _, err := ActivationFromQ10(down(1), 20); return err }, []string{"q10"}},
		"Q10 at the hot end":    {func() error { _, err := Q10FromActivation(13, up(MaxTempC-10)); return err }, []string{"tempC"}},
		"haste":                 {func() error { _, err := Hastened(ok, 0); return err }, []string{"factor"}},
		"hasted out of range":   {func() error { _, err := Hastened(FirstOrder{1e-3}, 1e4); return err }, []string{"TauDays"}},
		"zero point":            {func() error { _, err := FirstOrderThrough(Point{}); return err }, []string{"Days", "GonePct"}},
		"a fraction":            {func() error { _, err := FirstOrderThrough(Point{1, 0.4}); return err }, []string{"GonePct"}},
		"points out of order":   {func() error { _, err := StretchedThrough(Point{2, 40}, Point{1, 30}); return err }, []string{"b.Days", "b.GonePct"}},
		"zero points":           {func() error { _, err := TwoPoolsThrough(0, Point{}, Point{}); return err }, []string{"fastPct", "a.Days", "a.GonePct", "b.Days", "b.GonePct"}},
		"sphere of no radius":   {func() error { _, err := SphereThrough(0, Point{1, 40}); return err }, []string{"radiusMM"}},
		"sheet of no thickness": {func() error { _, err := SheetThrough(nan, Point{}); return err }, []string{"halfThicknessMM", "Days", "GonePct"}},
		"zero losses":           {func() error { _, err := FirstOrderFromLosses(Loss{}, Loss{}); return err }, []string{"a.Days", "a.GoneMgPerG", "b.Days", "b.GoneMgPerG"}},
		"losses out of order":   {func() error { _, err := SphereFromLosses(1, Loss{2, 1}, Loss{1, 2}); return err }, []string{"b.Days"}},
		"losses without size":   {func() error { _, err := SheetFromLosses(inf, Loss{1, 1}, Loss{2, 2}); return err }, []string{"halfThicknessMM"}},
		"stays": {func() error {
			_, err := EquivalentDays([]Stay{{1, 20}, {nan, 90}, {-1, 20}}, func(float64) (float64, error) { return 1, nil })
			return err
		}, []string{"Stays[1].Days", "Stays[1].TempC", "Stays[2].Days"}},
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

func second[T any](_ T, err error) error { return err }

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

func TestThroughImpossible(t *testing.T) {
	a := Point{1, 40}
	_, err := StretchedThrough(a, Point{7, 41})
	e := impossible(t, err, "b.GonePct")
	for _, f := range []float64{e.Min * (1 + 1e-9), e.Max * (1 - 1e-9)} {
		if _, err := StretchedThrough(a, Point{7, f}); err != nil {
			t.Errorf("%v %% was said to be possible: %v", f, err)
		}
	}
	for _, f := range []float64{98.5, 40.5} {
		_, err = TwoPoolsThrough(30, a, Point{7, f})
		e = impossible(t, err, "b.GonePct")
		for _, f := range []float64{e.Min + 0.5, e.Max - 0.5} {
			if _, err := TwoPoolsThrough(30, a, Point{7, f}); err != nil {
				t.Errorf("%v %% was said to be possible (%v): %v", f, e, err)
			}
		}
	}
	_, err = FirstOrderFromLosses(Loss{1, 2}, Loss{5, 10.5})
	e = impossible(t, err, "b.GoneMgPerG")
	if !near(e.Max, 10, 1e-6) {
		t.Errorf("five times as long can lose five times as much at most, not %v", e.Max)
	}
	_, err = SphereFromLosses(1, Loss{1, 2}, Loss{4, 1})
	e = impossible(t, err, "b.GoneMgPerG")
	if !near(e.Max, 4, 1e-3) {
		t.Errorf("four times as long can lose twice as much at most, not %v", e.Max/2)
	}
	_, err = SphereThrough(MinRadiusMM, Point{MaxDays, 1})
	impossible(t, err, "radiusMM")
	_, err = SheetThrough(MinRadiusMM, Point{MaxDays, 1})
	impossible(t, err, "halfThicknessMM")
	_, err = FirstOrderThrough(Point{MaxDays, 1})
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
