package moisture

import "testing"

func TestFloatsAllocateNothing(t *testing.T) {
	cal := goodCalibration()
	pairs := []MeterPair{{10.1, 10.4}, {11.0, 11.2}, {11.9, 12.3}, {12.8, 13.1}}
	two := []StoreReading{{0, 10.2}, {30, 10.7}}
	log := yearLog(1000)
	for name, f := range map[string]func() error{
		"DewPoint":            func() error { _, err := DewPoint(Air{18, 60}); return err },
		"FrostPoint":          func() error { _, err := FrostPoint(Air{5, 30}); return err },
		"SaturationOverWater": func() error { _, err := SaturationOverWater(18); return err },
		"SaturationOverIce":   func() error { _, err := SaturationOverIce(-18); return err },
		"VapourPressure":      func() error { _, err := VapourPressure(Air{18, 60}); return err },
		"RelativeHumidity":    func() error { _, err := RelativeHumidity(DewReading{18, 10}); return err },
		"PressureAtAltitude":  func() error { _, err := PressureAtAltitude(500); return err },
		"AirProperties":       func() error { _, err := AirProperties(MoistAir{18, 60, 101.325}); return err },
		"AirProperties, ice":  func() error { _, err := AirProperties(MoistAir{1, 30, 101.325}); return err },
		"HumidityFromWetBulb": func() error { _, err := HumidityFromWetBulb(Psychrometer{18, 13, 101.325}); return err },
		"DryBasis":            func() error { _, err := DryBasis(11); return err },
		"WetBasis":            func() error { _, err := WetBasis(12); return err },
		"EquilibriumMoisture": func() error { _, err := EquilibriumMoisture(roa, Air{18, 60}); return err },
		"WaterActivity":       func() error { _, err := WaterActivity(roa, Bean{12, 25}); return err },
		"ParchmentArabica":    func() error { _ = ParchmentArabica(); return nil },
		"HeatOfSorption":      func() error { _, err := HeatOfSorption(Bean{12, 25}); return err },
		"CarryActivity":       func() error { _, err := CarryActivity(SealedSample{0.6, 11, 25, 18}); return err },
		"DriftAfter":          func() error { _, err := DriftAfter(Stay{10.5, 11.4, 40}, 30); return err },
		"DaysToMoisture":      func() error { _, err := DaysToMoisture(Stay{10.5, 11.4, 40}, 11); return err },
		"FitDrift of two":     func() error { _, err := FitDrift(two, 11.4); return err },
		"LayerHours":          func() error { _, err := LayerHours(Layer{40, 30, 50}); return err },
		"WaterForRoom": func() error {
			_, err := WaterForRoom(RoomChange{120, 101.325, Air{20, 70}, Air{18, 58}, Air{5, 85}, 0.5})
			return err
		},
		"SackSweat":         func() error { _, err := SackSweat(ColdSack{10, Air{20, 55}, 3}); return err },
		"HandbookSalt":      func() error { _, err := HandbookSalt(SodiumChloride, 20); return err },
		"StandardSalt":      func() error { _, err := StandardSalt(SodiumChloride, 20); return err },
		"CorrectedHumidity": func() error { _, err := CorrectedHumidity(TwoPoint{54, 54.4, 74, 75.3, 0.2, 0.5}, 60); return err },
		"CalibrateMeter":    func() error { _, err := CalibrateMeter(pairs); return err },
		"CorrectedReading":  func() error { _, err := CorrectedReading(cal, 11); return err },
		"RoastLossSE": func() error {
			_, err := RoastLossSE(RoastReadings{12, 10.2, 11, 2}, RoastReadings{0.01, 0.01, 0.3, 0.2})
			return err
		},
		"SummariseLog": func() error { _, err := SummariseLog(roa, storeLimits, log); return err },
	} {
		if n := testing.AllocsPerRun(50, func() {
			if err := f(); err != nil {
				t.Fatal(name, err)
			}
		}); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}
