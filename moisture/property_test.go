package moisture

import (
	"math"
	"strings"
	"testing"
)

// lotPairs are invented readings of an invented lot.
var lotPairs = []IsothermPair{{0.35, 8.1, 22}, {0.45, 9.2, 22.4}, {0.55, 10.3, 22}, {0.62, 11.2, 22.3}, {0.70, 12.5, 22}, {0.78, 14.3, 22.1}}

var storeLimits = LogLimits{LowC: 12, HighC: 22, LowRHPct: 50, HighRHPct: 62, RiskAw: GrowthLimitAw, MaxGapSeconds: 3600}

func TestSaturationShape(t *testing.T) {
	last := Saturation{}
	for c := float64(WaterMinC); c <= WaterMaxC; c += 0.5 {
		s, err := SaturationOverWater(c)
		if err != nil || !(s.PressureKPa > last.PressureKPa && s.KPaPerK > last.KPaPerK) {
			t.Fatalf("at %v °C over water: %+v after %+v, %v", c, s, last, err)
		}
		if (s.Notes&Extrapolated != 0) != (c < 0) {
			t.Fatalf("at %v °C the notes are %v", c, s.Notes)
		}
		const h = 1e-3
		if c > WaterMinC && c < WaterMaxC {
			if d := (waterKPa(c+h) - waterKPa(c-h)) / (2 * h); !near(s.KPaPerK, d, 1e-6) {
				t.Fatalf("at %v °C the slope is %v, by differences %v", c, s.KPaPerK, d)
			}
		}
		last = s
	}
	last = Saturation{}
	for c := float64(IceMinC); c <= 0; c += 0.5 {
		s, err := SaturationOverIce(c)
		if err != nil || !(s.PressureKPa > last.PressureKPa) {
			t.Fatalf("at %v °C over ice: %+v, %v", c, s, err)
		}
		if c >= WaterMinC && c < 0 && !(s.PressureKPa < waterKPa(c)) {
			t.Fatalf("at %v °C ice gives off more than water", c)
		}
		const h = 1e-3
		if d := 1000 * s.KPaPerK / math.Exp(lnOverIce(c+zeroCInKelvin)); !near(d, (lnOverIce(c+h+zeroCInKelvin)-lnOverIce(c-h+zeroCInKelvin))/(2*h), 1e-6) {
			t.Fatalf("at %v °C the slope over ice is %v", c, d)
		}
		last = s
	}
	if w, i := waterKPa(0.01), math.Exp(lnOverIce(273.16))/1000; !near(i, w, 2e-5) {
		t.Errorf("at the triple point water has %v kPa and ice %v", w, i)
	}
}

func TestDewPointThereAndBack(t *testing.T) {
	for c := float64(AirMinC); c <= AirMaxC; c += 2.5 {
		last := math.Inf(-1)
		for rh := float64(MinRHPct); rh <= MaxRHPct; rh += 1.5 {
			d, err := DewPoint(Air{c, rh})
			if err != nil || !(d.DewC > last) || !(d.DewC <= c+1e-9) {
				t.Fatalf("%v °C, %v %%: %+v, %v", c, rh, d, err)
			}
			last = d.DewC
			back, err := RelativeHumidity(DewReading{c, math.Min(d.DewC, c)})
			if err != nil || !near(back, rh, 1e-9) {
				t.Fatalf("%v °C: %v %% came back as %v, %v", c, rh, back, err)
			}
			if f, err := FrostPoint(Air{c, rh}); err == nil {
				if !(f.FrostC >= d.DewC && f.FrostC <= 0) {
					t.Fatalf("%v °C, %v %%: frost %v, dew %v", c, rh, f.FrostC, d.DewC)
				}
				e := rh / 100 * waterKPa(c)
				if got := math.Exp(lnOverIce(f.FrostC+zeroCInKelvin)) / 1000; !near(got, e, 1e-9) {
					t.Fatalf("%v °C, %v %%: over ice %v kPa, in the air %v", c, rh, got, e)
				}
			} else if d.DewC < -0.02 {
				t.Fatalf("%v °C, %v %%: dew at %v and no frost: %v", c, rh, d.DewC, err)
			}
			if (d.Notes&OverIce != 0) != (d.DewC < 0) {
				t.Fatalf("dew at %v with the notes %v", d.DewC, d.Notes)
			}
		}
		d, _ := DewPoint(Air{c, 100})
		if !near(d.DewC+300, c+300, 1e-12) {
			t.Fatalf("saturated at %v °C, dew at %v", c, d.DewC)
		}
	}
}

func TestAirPropertiesHangTogether(t *testing.T) {
	for _, p := range []float64{MinPressureKPa, 70, 101.325, MaxPressureKPa} {
		for c := float64(AirMinC); c <= AirMaxC; c += 4 {
			last := AirState{RatioGPerKg: -1, EnthalpyKJPerKg: -1e9, WetBulbC: -1e9, DensityKgPerM3: 1e9}
			for _, rh := range []float64{1, 5, 20, 35, 50, 57, 65, 80, 95, 100} {
				s, err := AirProperties(MoistAir{c, rh, p})
				if err != nil {
					t.Fatal(err)
				}
				if !(s.RatioGPerKg > last.RatioGPerKg && s.EnthalpyKJPerKg > last.EnthalpyKJPerKg &&
					s.DensityKgPerM3 < last.DensityKgPerM3 && s.WetBulbC >= last.WetBulbC) {
					t.Fatalf("%v °C, %v %%, %v kPa: %+v after %+v", c, rh, p, s, last)
				}
				// Over ice the wick may be warmer than supersaturated air.
				if !(s.WetBulbC <= c+1e-9) || c > 1 && !(s.WetBulbC >= s.DewC-0.02) {
					t.Fatalf("%v °C, %v %%, %v kPa: dew %v, wet bulb %v", c, rh, p, s.DewC, s.WetBulbC)
				}
				w := s.RatioGPerKg / 1000
				if !near(s.DensityKgPerM3*s.VolumeM3PerKg, 1+w, 1e-12) || !near(s.WaterGPerM3*s.VolumeM3PerKg, s.RatioGPerKg, 1e-12) {
					t.Fatalf("mass does not close: %+v", s)
				}
				if rh == 100 && !near(s.SaturationPct, 100, 1e-12) {
					t.Fatalf("saturated air is saturated to %v %%", s.SaturationPct)
				}
				last = s
				// A psychrometer in that air shows its humidity.
				if s.WetBulbC < AirMinC {
					continue
				}
				back, err := HumidityFromWetBulb(Psychrometer{c, s.WetBulbC, p})
				if err != nil || !(math.Abs(back-rh) < 1e-5) && !(c < 0 && s.WetBulbC == c) {
					t.Fatalf("%v °C, %v %%, %v kPa: wet bulb %v gives %v, %v", c, rh, p, s.WetBulbC, back, err)
				}
			}
		}
	}
	last := math.Inf(1)
	for z := float64(MinAltitudeM); z <= MaxAltitudeM; z += 50 {
		p, err := PressureAtAltitude(z)
		if err != nil || !(p < last) {
			t.Fatalf("%v m: %v, %v", z, p, err)
		}
		last = p
	}
}

func TestIsothermThereAndBack(t *testing.T) {
	choice, err := ChooseIsotherm(lotPairs)
	if err != nil {
		t.Fatal(err)
	}
	anchored, err := AnchorIsotherm(roa, Anchor{Aw: 0.56, MoisturePct: 10.4, TempC: 22, AwSE: 0.01, MoistureSEPct: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	curves := []Isotherm{roa, anchored}
	for _, f := range choice.Fits {
		curves = append(curves, f.Curve)
	}
	for _, curve := range curves {
		for c := float64(BeanMinC); c <= BeanMaxC; c += 5 {
			last := 0.0
			for a := 0.01; a <= curve.Form.topAw()+1e-9; a += 0.01 {
				rh := math.Min(100*a, 100*curve.Form.topAw())
				e, err := EquilibriumMoisture(curve, Air{c, math.Max(rh, 1)})
				if err != nil || !(e.MoisturePct > last) || !(e.PctPerRHPct > 0) || !(e.SEPct < curve.SEDryPct) {
					t.Fatalf("%s at %v °C, %v %%: %+v, %v", curve.Name, c, rh, e, err)
				}
				last = e.MoisturePct
				if e.MoisturePct < MinMoisturePct {
					continue
				}
				back, err := WaterActivity(curve, Bean{e.MoisturePct, c})
				if err != nil || !near(back.Aw, math.Max(rh, 1)/100, 1e-7) {
					t.Fatalf("%s at %v °C: activity %v came back as %+v, %v", curve.Name, c, rh/100, back, err)
				}
				if !(back.LowAw <= back.Aw && back.Aw <= back.HighAw && back.SEAw >= 0) {
					t.Fatalf("%s: the band is %+v", curve.Name, back)
				}
			}
		}
	}
	// Through its pair, whatever the shape.
	e, err := EquilibriumMoisture(anchored, Air{22, 56})
	if err != nil || !near(e.MoisturePct, 10.4, 1e-12) {
		t.Errorf("the anchored curve gives %+v at its anchor, %v", e, err)
	}
	if !(anchored.SEDryPct > roa.SEDryPct*anchored.Scale) || !strings.Contains(anchored.Name, roa.Name) {
		t.Errorf("an anchored curve must be wider than its parent and name it: %+v", anchored)
	}
}

func TestIsothermNotes(t *testing.T) {
	for _, c := range []struct {
		bean Bean
		want Notes
	}{
		{Bean{10, 18}, ParchmentDesorption},
		{Bean{11.9, 18}, ParchmentDesorption | MayGrowMould | InsideMoistureLimit},
		{Bean{12.5, 25}, ParchmentDesorption | MayGrowMould | InsideMoistureLimit},
		{Bean{12.6, 25}, ParchmentDesorption | MayGrowMould},
		{Bean{10, 4}, ParchmentDesorption | Extrapolated},
		{Bean{2, 20}, ParchmentDesorption | Extrapolated},
	} {
		a, err := WaterActivity(roa, c.bean)
		if err != nil || a.Notes != c.want {
			t.Errorf("%+v: %q, want %q, %v", c.bean, a.Notes, c.want, err)
		}
	}
	for rh, want := range map[float64]Notes{5: ParchmentDesorption, 4.9: ParchmentDesorption | Extrapolated, 100: ParchmentDesorption} {
		if e, err := EquilibriumMoisture(roa, Air{55, rh}); err != nil || e.Notes != want {
			t.Errorf("%v %%: %q, %v", rh, e.Notes, err)
		}
	}
	if e, _ := EquilibriumMoisture(roa, Air{up(55), 60}); e.Notes&Extrapolated == 0 {
		t.Error("above 55 °C is not told")
	}
}

func TestNotesAreAllNamed(t *testing.T) {
	seen := map[string]bool{}
	for n := Extrapolated; n <= NearDew; n <<= 1 {
		s := n.String()
		if s == "" || seen[s] {
			t.Errorf("note %d reads %q", n, s)
		}
		seen[s] = true
	}
	if s := (NearDew << 1).String(); s != "" {
		t.Errorf("a bit without a note reads %q", s)
	}
	if s := (Extrapolated | Gaps).String(); s != "outside the published range; some of the time has no usable reading" {
		t.Errorf("two notes read %q", s)
	}
	for _, f := range []Form{FormRoa, FormGAB, FormOswin, FormHenderson} {
		if f.String() == "none" || f.params() == 0 {
			t.Errorf("form %d has no name", f)
		}
	}
	for s := LithiumChloride; s <= PotassiumSulfate; s++ {
		if s.String() == "" {
			t.Errorf("salt %d has no name", s)
		}
	}
}

// A fit finds the constants that made its pairs, and noise moves them by what
// the standard errors say.
func TestFitsFindTheirConstants(t *testing.T) {
	for form, p := range map[Form][6]float64{
		FormGAB: {5.1, 12.5, 0.87}, FormOswin: {10.6, 0.31}, FormHenderson: {11.2, 0.42},
	} {
		made := Isotherm{Form: form, Scale: 1, P: p}
		pairs := func(noise func(i int) float64) []IsothermPair {
			var list []IsothermPair
			for i, a := range []float64{0.12, 0.22, 0.33, 0.43, 0.53, 0.62, 0.71, 0.8, 0.88} {
				list = append(list, IsothermPair{a, wetFromDry(made.dry(a, 25) + noise(i)), 25})
			}
			return list
		}
		f, err := FitIsotherm(form, pairs(func(int) float64 { return 0 }))
		if err != nil {
			t.Fatalf("%v: %v", form, err)
		}
		for i := range form.params() {
			if !near(f.Curve.P[i], p[i], 1e-6) {
				t.Errorf("%v: constant %d is %v, made with %v", form, i, f.Curve.P[i], p[i])
			}
		}
		signs := []float64{1, -1, -1, 1, 1, -1, 1, 1, -1}
		f, err = FitIsotherm(form, pairs(func(i int) float64 { return 0.1 * signs[i] }))
		if err != nil {
			t.Fatalf("%v: %v", form, err)
		}
		for i := range form.params() {
			if off := math.Abs(f.Curve.P[i]-p[i]) / f.SE[i]; !(f.SE[i] > 0 && off < 3) {
				t.Errorf("%v: constant %d is %v ± %v, made with %v", form, i, f.Curve.P[i], f.SE[i], p[i])
			}
		}
		if !(f.Curve.SEDryPct > 0.05 && f.Curve.SEDryPct < 0.15) {
			t.Errorf("%v: noise of 0.1 is seen as %v", form, f.Curve.SEDryPct)
		}
	}
}

func TestChoice(t *testing.T) {
	made := Isotherm{Form: FormOswin, Scale: 1, P: [6]float64{10.6, 0.31}}
	var pairs []IsothermPair
	for i, a := range []float64{0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9} {
		pairs = append(pairs, IsothermPair{a, wetFromDry(made.dry(a, 25) + 0.02*float64(i%3-1)), 25})
	}
	c, err := ChooseIsotherm(pairs)
	if err != nil || c.Best.Curve.Form != FormOswin || c.Notes&CloseCall != 0 || !(c.NextIndex > CloseBIC) {
		t.Errorf("pairs made by Oswin choose %v, next %v, notes %q, %v", c.Best.Curve.Form, c.NextIndex, c.Notes, err)
	}
	c, err = ChooseIsotherm(pairs[2:6])
	if err != nil || c.Notes&FewPairs == 0 {
		t.Errorf("four pairs: %+v, %v", c.Notes, err)
	}
	for i, form := range []Form{FormGAB, FormOswin, FormHenderson} {
		if f := c.Fits[i]; f.PairsCount != 0 && f.Curve.Form != form {
			t.Errorf("fit %d is of %v", i, f.Curve.Form)
		}
	}
	if same, err := ChooseIsotherm([]IsothermPair{{0.5, 10, 20}, {0.5, 10.1, 20}, {0.5, 10.2, 20}, {0.5, 10, 20}}); err == nil {
		t.Errorf("pairs at one activity chose %+v", same.Best.Curve.Form)
	}
}

func TestHeatRises(t *testing.T) {
	last := math.Inf(1)
	for m := float64(MinMoisturePct); m <= MaxMoisturePct; m += 0.5 {
		h, err := HeatOfSorption(Bean{m, 20})
		if err != nil || !(h.NetKJPerKg < last && h.NetKJPerKg > 0) || !near(h.TotalKJPerKg-h.NetKJPerKg, 2453.81, 1e-12) {
			t.Fatalf("%v %%: %+v, %v", m, h, err)
		}
		last = h.NetKJPerKg
	}
	// There and back, and against the isotherm's own temperature effect.
	there, err := CarryActivity(SealedSample{0.676, 12, 20, 25})
	if err != nil {
		t.Fatal(err)
	}
	back, err := CarryActivity(SealedSample{there.Aw, 12, 25, 20})
	if err != nil || !near(back.Aw, 0.676, 1e-14) {
		t.Errorf("carried back to %+v, %v", back, err)
	}
	own, err := WaterActivity(roa, Bean{12, 25})
	if err != nil || !(math.Abs(own.Aw-there.Aw) < 0.003) {
		t.Errorf("the isotherm says %v, the heat %v, %v", own.Aw, there.Aw, err)
	}
}

func TestCalibration(t *testing.T) {
	// A meter that reads exactly 0.5 high.
	var pairs []MeterPair
	for m := 9.0; m <= 13; m += 0.5 {
		pairs = append(pairs, MeterPair{m + 0.5, m})
	}
	c, err := CalibrateMeter(pairs)
	if err != nil || !near(c.SlopeRatio, 1, 1e-12) || !near(c.BiasPct, 0.5, 1e-12) || !near(c.OffsetPct, -0.5, 1e-10) || !(c.ResidualPct < 1e-12) || c.Notes != FewPairs {
		t.Errorf("%+v, %v", c, err)
	}
	r, err := CorrectedReading(c, 11.5)
	if err != nil || !near(r.MoisturePct, 11, 1e-12) || r.Notes != FewPairs {
		t.Errorf("%+v, %v", r, err)
	}
	for v, want := range map[float64]Notes{c.LowestPct: FewPairs, down(c.LowestPct): FewPairs | OutsidePairs, up(c.HighestPct): FewPairs | OutsidePairs} {
		if r, err := CorrectedReading(c, v); err != nil || r.Notes != want {
			t.Errorf("at %v the notes are %q, %v", v, r.Notes, err)
		}
	}
	// The interval is narrowest at the mean, and symmetric about it.
	c = goodCalibration()
	at := func(v float64) Corrected {
		r, err := CorrectedReading(c, v)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	mid, lo, hi := at(c.MeanPct), at(c.MeanPct-1), at(c.MeanPct+1)
	if !(mid.SEPct < lo.SEPct) || !near(lo.SEPct, hi.SEPct, 1e-12) || !near(mid.SEPct, c.ResidualPct*math.Sqrt(1.25), 1e-12) {
		t.Errorf("%v, %v, %v", lo.SEPct, mid.SEPct, hi.SEPct)
	}
	if !near((mid.HighPct-mid.LowPct)/2, 4.302652729911275*mid.SEPct, 1e-9) { // t(0.975; 2)
		t.Errorf("the interval is %v to %v", mid.LowPct, mid.HighPct)
	}
}

func TestDrift(t *testing.T) {
	s := Stay{MoisturePct: 10.2, EquilibriumPct: 11.4, TimeConstantDays: 45}
	last := s.MoisturePct - 1e-9
	var readings []StoreReading
	for d := 0.0; d <= 200; d += 10 {
		m, err := DriftAfter(s, d)
		if err != nil || !(m > last && m < s.EquilibriumPct) {
			t.Fatalf("day %v: %v, %v", d, m, err)
		}
		back, err := DaysToMoisture(s, m)
		if err != nil || !(math.Abs(back-d) < 1e-9) {
			t.Fatalf("day %v came back as %v, %v", d, back, err)
		}
		last = m
		readings = append(readings, StoreReading{d, m})
	}
	// One time constant goes 63.2 % of the way in dry-basis content.
	m, _ := DriftAfter(s, 45)
	x0, xe, x := dryFromWet(10.2), dryFromWet(11.4), dryFromWet(m)
	if !near((x-x0)/(xe-x0), 0.6321205588285577, 1e-12) {
		t.Errorf("after one time constant %v of the way", (x-x0)/(xe-x0))
	}
	for _, n := range []int{2, 3, 5, len(readings)} {
		f, err := FitDrift(readings[:n], 11.4)
		if err != nil || !near(f.TimeConstantDays, 45, 1e-7) || !near(f.StartPct, 10.2, 1e-9) || (f.Notes&FewPairs != 0) != (n < 5) {
			t.Errorf("%d readings: %+v, %v", n, f, err)
		}
	}
	f, err := FitDriftAndEquilibrium(readings)
	if err != nil || !near(f.TimeConstantDays, 45, 1e-5) || !near(f.EquilibriumPct, 11.4, 1e-6) {
		t.Errorf("%+v, %v", f, err)
	}
	// Drying works the same way.
	s = Stay{MoisturePct: 12.6, EquilibriumPct: 11, TimeConstantDays: 20}
	readings = readings[:0]
	for i, d := range []float64{0, 4, 9, 15, 22, 30, 45, 70, 100} {
		m, err := DriftAfter(s, d)
		if err != nil {
			t.Fatal(err)
		}
		readings = append(readings, StoreReading{d, m + 0.02*float64(i%3-1)})
	}
	f, err = FitDriftAndEquilibrium(readings)
	if err != nil || !(math.Abs(f.TimeConstantDays-20) < 3*f.TimeConstantSEDays) || !(math.Abs(f.EquilibriumPct-11) < 3*f.EquilibriumSEPct) || !(f.TimeConstantSEDays < 3) {
		t.Errorf("%+v, %v", f, err)
	}
	if _, err := FitDrift([]StoreReading{{0, 10}, {5, 10.2}, {5, 10.3}}, 11); fields(err) == nil {
		t.Error("two readings at one moment are taken")
	}
}

func TestRoomWater(t *testing.T) {
	room := RoomChange{VolumeM3: 200, PressureKPa: 101.325, From: Air{20, 70}, To: Air{20, 55}, Outside: Air{20, 55}, ChangesPerHour: 2}
	w, err := WaterForRoom(room)
	if err != nil || !(w.OnceG < 0) || w.PerHourG != 0 {
		t.Errorf("%+v, %v", w, err)
	}
	// At one temperature the water is the difference of absolute humidities,
	// but for the little that the volume of the dry air changes.
	a1, _ := AirProperties(MoistAir{20, 70, 101.325})
	a2, _ := AirProperties(MoistAir{20, 55, 101.325})
	if !near(w.OnceG, 200*(a2.WaterGPerM3-a1.WaterGPerM3), 0.02) {
		t.Errorf("%v g, by the densities %v g", w.OnceG, 200*(a2.WaterGPerM3-a1.WaterGPerM3))
	}
	room.Outside = room.From
	w2, _ := WaterForRoom(room)
	if !near(w2.PerHourG, 2*w.OnceG, 1e-12) {
		t.Errorf("two changes an hour of the old air ask for %v g/h after %v g once", w2.PerHourG, w.OnceG)
	}
	back, _ := WaterForRoom(RoomChange{VolumeM3: 200, PressureKPa: 101.325, From: room.To, To: room.From, Outside: room.From})
	if !near(back.OnceG, -w.OnceG, 0.01) || back.PerHourG != 0 {
		t.Errorf("back again takes %v g after %v g", back.OnceG, w.OnceG)
	}
}

func TestSweat(t *testing.T) {
	room := Air{20, 55}
	dew, _ := DewPoint(room)
	for surface, want := range map[float64]struct {
		wet bool
		n   Notes
	}{
		dew.DewC - 0.01: {true, 0}, dew.DewC + 0.01: {false, NearDew}, dew.DewC + 3.01: {false, 0},
	} {
		s, err := SackSweat(ColdSack{surface, room, CondensationMarginK})
		if err != nil || s.Wet != want.wet || s.Notes != want.n {
			t.Errorf("at %v °C: %+v, %v", surface, s, err)
		}
	}
	// At the safe humidity the surface is just the margin above the dew point.
	s, err := SackSweat(ColdSack{10, room, 3})
	if err != nil {
		t.Fatal(err)
	}
	at, err := SackSweat(ColdSack{10, Air{20, s.SafeRHPct}, 3})
	if err != nil || !near(at.AboveK, 3, 1e-9) {
		t.Errorf("at the safe humidity the surface is %v K above the dew point, %v", at.AboveK, err)
	}
	if s, _ := SackSweat(ColdSack{40, room, 3}); s.SafeRHPct != 100 {
		t.Errorf("a surface warmer than the room is safe to %v %%", s.SafeRHPct)
	}
}

func TestSalts(t *testing.T) {
	for s := LithiumChloride; s <= PotassiumSulfate; s++ {
		h, err1 := HandbookSalt(s, 22)
		g, err2 := StandardSalt(s, 22)
		if err1 != nil && err2 != nil {
			t.Errorf("%v is known by neither table", s)
		}
		if err1 == nil && err2 == nil && !(math.Abs(h.RHPct-g.RHPct) < h.UncertaintyPct+g.UncertaintyPct) {
			t.Errorf("%v: handbook %v, standard %v", s, h.RHPct, g.RHPct)
		}
		d := s.data()
		if d.a > 0 {
			for c, want := range map[float64]Notes{math.Max(d.minC, 0): 0, math.Min(d.maxC, 50): 0, d.minC - 1: Extrapolated, d.maxC + 1: Extrapolated} {
				if p, err := HandbookSalt(s, c); err == nil && p.Notes != want {
					t.Errorf("%v at %v °C: notes %q", s, c, p.Notes)
				}
			}
		}
	}
	for c, want := range map[float64]Notes{20: 0, 25: 0, down(20): Extrapolated, up(25): Extrapolated} {
		if p, err := StandardSalt(SodiumChloride, c); err != nil || p.Notes != want {
			t.Errorf("at %v °C: notes %q, %v", c, p.Notes, err)
		}
	}
}

func TestTwoPoint(t *testing.T) {
	p := TwoPoint{LowReadPct: 55.1, LowTruePct: 53.5, HighReadPct: 78, HighTruePct: 75.4, TrueSEPct: 0.15, ReadSEPct: 0.4}
	for read, want := range map[float64]float64{55.1: 53.5, 78: 75.4, 66.55: 64.45} {
		c, err := CorrectedHumidity(p, read)
		if err != nil || !near(c.RHPct, want, 1e-12) || c.Notes != 0 {
			t.Errorf("%v is corrected to %+v, %v", read, c, err)
		}
	}
	// The uncertainty by differences of every input.
	b := (75.4 - 53.5) / (78 - 55.1)
	f := func(q TwoPoint, r float64) float64 {
		c, err := CorrectedHumidity(q, r)
		if err != nil {
			t.Fatal(err)
		}
		return c.RHPct
	}
	const h = 1e-4
	sum := 0.0
	for i, u := range []float64{0.4, 0.15, 0.4, 0.15, 0.4} {
		q, r := p, 61.0
		*[]*float64{&q.LowReadPct, &q.LowTruePct, &q.HighReadPct, &q.HighTruePct, &r}[i] += h
		d := (f(q, r) - f(p, 61)) / h * u
		sum += d * d
	}
	c, _ := CorrectedHumidity(p, 61)
	if !near(c.SEPct, math.Sqrt(sum), 1e-4) {
		t.Errorf("uncertainty %v, by differences %v (slope %v)", c.SEPct, math.Sqrt(sum), b)
	}
	if c, _ := CorrectedHumidity(p, 50); c.Notes != OutsidePairs {
		t.Errorf("outside the salts the notes are %q", c.Notes)
	}
}

// The uncertainties are those of differences of the decimal balance itself.
func TestRoastLossSEByDifferences(t *testing.T) {
	r := RoastReadings{12, 10.2, 11, 2}
	se := RoastReadings{0.02, 0.01, 0.3, 0.15}
	loss := func(r RoastReadings) [4]float64 {
		q := r.RoastedKg / r.GreenKg
		water := r.GreenMoisturePct - q*r.RoastedMoisturePct
		organic := 100*(1-q) - water
		return [4]float64{100 * (1 - q), water, organic, 100 * organic / (100 - r.GreenMoisturePct)}
	}
	exact, err := RoastLoss(Roast{dec("12"), dec("10.2"), dec("11"), dec("2")})
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range []string{exact.TotalPct.String(), exact.WaterPct.String(), exact.OrganicPct.String(), exact.DryMatterPct.String()} {
		if !near(loss(r)[i], dec(d).InexactFloat64(), 1e-8) {
			t.Fatalf("the float balance gives %v, the decimal one %s", loss(r)[i], d)
		}
	}
	var sum [4]float64
	const h = 1e-5
	for i, u := range []float64{se.GreenKg, se.RoastedKg, se.GreenMoisturePct, se.RoastedMoisturePct} {
		q := r
		*[]*float64{&q.GreenKg, &q.RoastedKg, &q.GreenMoisturePct, &q.RoastedMoisturePct}[i] += h
		for j := range sum {
			d := (loss(q)[j] - loss(r)[j]) / h * u
			sum[j] += d * d
		}
	}
	got, err := RoastLossSE(r, se)
	if err != nil {
		t.Fatal(err)
	}
	for j, v := range []float64{got.TotalPct, got.WaterPct, got.OrganicPct, got.DryMatterPct} {
		if !near(v, math.Sqrt(sum[j]), 1e-4) {
			t.Errorf("uncertainty %d is %v, by differences %v", j, v, math.Sqrt(sum[j]))
		}
	}
}

// Over supercooled water the enhancement factor joins the one of warm water at
// 0 °C and stays as near to that over ice as the two condensed phases allow.
func TestEnhancementIsOnePiece(t *testing.T) {
	for _, p := range []float64{MinPressureKPa, 80, 101.325, MaxPressureKPa} {
		below := enhancement(-1e-9, p, waterKPa(-1e-9), false)
		if at := enhancement(0, p, waterKPa(0), false); !(math.Abs(at-below) < 1e-4) {
			t.Errorf("at 0 °C and %v kPa f jumps from %v to %v", p, below, at)
		}
		for c := -40.0; c <= 80; c += 2 {
			e := waterKPa(c)
			f := enhancement(c, p, e, false)
			if !(f > 1 && f < 1.0075) {
				t.Errorf("at %v °C and %v kPa f is %v", c, p, f)
			}
			if c < 0 {
				ice := enhancement(c, p, math.Exp(lnOverIce(c+zeroCInKelvin))/1000, true)
				if !(math.Abs(f-ice) < 3e-4) {
					t.Errorf("at %v °C and %v kPa f is %v over water and %v over ice", c, p, f, ice)
				}
			}
		}
	}
}
