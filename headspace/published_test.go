package headspace

import (
	"testing"

	"example.org/evenlot/internal/published"
)

const (
	mLPerM3     = 1e6
	mLPerFt3    = 28316.846592 // exact
	molPerLbMol = 453.59237    // exact
)

func targetOf(in *published.Inputs) Target {
	t := Target{in.Float("StartPct"), in.Float("SupplyPct"), 1000, in.Float("TargetPct")}
	if in.Has("FreeML") {
		t.FreeML = in.Float("FreeML")
	}
	return t
}

func cyclesOf(in *published.Inputs) Cycles {
	return Cycles{AirOxygenPct, 0, in.Float("FreeML"), in.Float("LowKPa"), in.Float("HighKPa"), in.Float("TempC"), in.Int("Count")}
}

func cycleTargetOf(in *published.Inputs) CycleTarget {
	return CycleTarget{in.Float("StartPct"), in.Float("SupplyPct"), 1000, in.Float("TargetPct"), in.Float("LowKPa"), in.Float("HighKPa")}
}

func cycleVolumes(in *published.Inputs) (Cycled, error) {
	return AfterCycles(Cycles{AirOxygenPct, 0, 1, in.Float("LowKPa"), in.Float("HighKPa"), 20, in.Int("Count")})
}

func TestPublished(t *testing.T) {
	published.Run(t, map[string]published.Claim{
		"purge cycles, whole": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := CyclesFor(cycleTargetOf(in))
			return float64(n.Count), err
		}),
		"purge cycles, unrounded": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := CyclesFor(cycleTargetOf(in))
			return n.Exact, err
		}),
		"purge gas of cycles": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := AfterCycles(cyclesOf(in))
			return c.SupplyMol, err
		}),
		"purge gas of cycles, lb-mol": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := AfterCycles(cyclesOf(in))
			return c.SupplyMol / molPerLbMol, err
		}),
		"gas volumes of cycles at the upper pressure": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := cycleVolumes(in)
			return c.SupplyML, err
		}),
		"gas volumes of cycles at the lower pressure": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := cycleVolumes(in)
			return c.SupplyML * in.Float("HighKPa") / in.Float("LowKPa"), err
		}),
		"oxygen after cycles": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := AfterCycles(Cycles{in.Float("StartPct"), in.Float("SupplyPct"), 1000, in.Float("LowKPa"), in.Float("HighKPa"), 20, in.Int("Count")})
			return c.OxygenPct, err
		}),
		"sweep gas for a target": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := SweepFor(targetOf(in))
			return n.GasML / mLPerM3, err
		}),
		"sweep gas for a target, ft3": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := SweepFor(targetOf(in))
			return n.GasML / mLPerFt3, err
		}),
		"sweep volumes for a target": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := SweepFor(targetOf(in))
			return n.Volumes, err
		}),
		"piston gas for all": published.Number(func(in *published.Inputs) (float64, error) {
			// All of the start gas is gone at one volume and not before.
			p := Purge{in.Float("StartPct"), in.Float("SupplyPct"), in.Float("FreeML"), in.Float("FreeML")}
			y, err := AfterPiston(p)
			if err == nil && y.LeftPct > 0 {
				return 0, nil
			}
			return p.GasML / mLPerM3, err
		}),
		"residual oxygen limit":      published.Constant(LimitOxygenPct),
		"residual oxygen, excellent": published.Constant(ExcellentOxygenPct),
		"oxygen in dry air":          published.Constant(AirOxygenPct),
		"free share of a heap of beans": published.Number(func(in *published.Inputs) (float64, error) {
			f, err := FreeVolume(Fill{in.Float("BagML"), in.Float("CoffeeG"), in.Float("BeanGPerML")})
			return f.FreePct, err
		}),
		"sweep gas of one bag": published.Number(func(in *published.Inputs) (float64, error) {
			f, err := FreeVolume(Fill{in.Float("BagML"), in.Float("CoffeeG"), in.Float("BeanGPerML")})
			if err != nil {
				return 0, err
			}
			n, err := SweepFor(Target{in.Float("StartPct"), in.Float("SupplyPct"), f.FreeML, in.Float("TargetPct")})
			return n.GasML, err
		}),
		"nozzle volumes for a target": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := NozzleFor(nozzleTargetOf(in))
			return n.Volumes, err
		}),
		"nozzle minutes for a target": published.Number(func(in *published.Inputs) (float64, error) {
			n, err := NozzleFor(nozzleTargetOf(in))
			return n.Volumes / in.Float("PerMinute"), err
		}),
		"fresh-air changes of a leak": published.Number(func(in *published.Inputs) (float64, error) {
			l := Leak{100, in.Float("LeakM3PerHour"), in.Float("AirM3PerHour"), BlownIn, AirOxygenPct, AirOxygenPct, in.Float("MixingFactor"), 0}
			h, err := HoursToOxygen(l, AirOxygenPct*(1-in.Float("Thinned")/100))
			return h * l.AirM3PerHour / l.RoomM3, err
		}),
		"oxygen after steps": published.Number(func(in *published.Inputs) (float64, error) {
			low, high := Step{Kind: VentStep, ToKPa: in.Float("LowKPa")}, Step{Kind: FillStep, ToKPa: in.Float("HighKPa")}
			var steps []Step
			if in.Float("VacuumFirst") == 0 {
				steps = append(steps, high)
			}
			for range in.Int("Cycles") {
				steps = append(steps, low, high)
			}
			o, err := AfterSteps(Space{1000, 20, in.Float("StartKPa"), Mix{OxygenPct: in.Float("StartPct")}}, steps)
			return o.Mix.OxygenPct, err
		}),
		"nitrogen mass": published.Number(func(in *published.Inputs) (float64, error) {
			return in.Float("Mol") * NitrogenMolarG / 1000, nil
		}),
		"square pillow bag, approximation": published.Number(func(*published.Inputs) (float64, error) {
			v, err := PillowBag(Pillow{100, 100})
			return v.BagML / 1000, err
		}),
		"square pillow bag, best built": published.Constant(PillowSquareBest),
		"square pillow bag, upper bound": published.Number(func(*published.Inputs) (float64, error) {
			v, err := PillowBag(Pillow{100, 100})
			return v.HighML / 1000, err
		}),
		"pillow bag volume": published.Number(func(in *published.Inputs) (float64, error) {
			v, err := PillowBag(Pillow{in.Float("WidthMM"), in.Float("HeightMM")})
			return v.BagML, err
		}),
		"density by displacement, ground coffee": published.Number(func(in *published.Inputs) (float64, error) {
			m := in.Float("BeansG")
			d, err := BeanDensity(Displacement{BeansG: m, VesselG: 100, TogetherG: 100 + m - in.Float("BeanML"), MediumGPerML: 1})
			return d.BeanGPerML, err
		}),
		"lowest particle density":    published.Constant(BeanMinGPerML),
		"highest particle density":   published.Constant(BeanMaxGPerML),
		"mean particle density":      published.Constant(BeanMediumGPerML),
		"internal porosity, green":   published.Constant(PorosityGreenPct),
		"internal porosity, roasted": published.Constant(PorosityRoastedPct),
		"bulk density from lb per cubic yard": published.Number(func(in *published.Inputs) (float64, error) {
			// The unit is the test: 27 cubic feet to the yard.
			bulk := in.Float("LbPerYd3") * 453.59237 / (27 * mLPerFt3)
			v, err := VoidShare(Heap{bulk, BeanMediumGPerML})
			return 1000 * BeanMediumGPerML * (1 - v/100), err
		}),
		"density of water": published.Number(func(in *published.Inputs) (float64, error) {
			v, err := WaterDensity(in.Float("TempC"))
			return 1000 * v, err
		}),
		"density of water, g/mL": published.Number(func(in *published.Inputs) (float64, error) {
			v, err := WaterFilled(WaterFill{0, 1000, in.Float("TempC")})
			return 1000 / v, err
		}),
		"nitrogen in dry air":       published.Constant(AirNitrogenPct),
		"argon in dry air":          published.Constant(AirArgonPct),
		"carbon dioxide in dry air": published.Constant(AirCarbonDioxidePct),
		"molar mass of dry air":     published.Constant(AirMolarG),
		"oxygen in dry air by mass": published.Constant(AirOxygenPct * OxygenMolarG / AirMolarG),
		"water in saturated air": published.Number(func(in *published.Inputs) (float64, error) {
			x, err := AirOxygen(RoomAir{in.Float("TempC"), 100, in.Float("KPa")})
			return 100 * (1 - x/AirOxygenPct), err
		}),
		"oxygen of humid air": published.Number(func(in *published.Inputs) (float64, error) {
			return AirOxygen(RoomAir{in.Float("TempC"), in.Float("RHPct"), in.Float("KPa")})
		}),
		"standard-atmosphere pressure": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := Pressure(in.Float("AltitudeM"))
			return 10 * p, err
		}),
		"standard-atmosphere pressure, bar": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := Pressure(in.Float("AltitudeM"))
			return p / 100, err
		}),
		"sea-level equivalent of oxygen at altitude": published.Number(func(in *published.Inputs) (float64, error) {
			p, err := Pressure(in.Float("AltitudeM"))
			return AirOxygenPct * p / SeaLevelKPa, err
		}),
		"uncorrected partial-pressure reading": published.Number(func(in *published.Inputs) (float64, error) {
			// What shows x is the reading that CorrectReading takes back to the truth.
			shown := in.Float("OxygenPct") * in.Float("ReadKPa") / in.Float("SpanKPa")
			cal := Calibration{0, 0, AirOxygenPct, AirOxygenPct}
			c, err := CorrectReading(Meter{RawPct: shown, Before: cal, After: cal, SpanKPa: in.Float("SpanKPa"), ReadKPa: in.Float("ReadKPa")})
			return shown + (c.OxygenPct - in.Float("OxygenPct")), err
		}),
		"corrected reading": published.Number(func(in *published.Inputs) (float64, error) {
			cal := Calibration{in.Float("ZeroRawPct"), 0, in.Float("SpanRawPct"), in.Float("SpanTruePct")}
			c, err := CorrectReading(Meter{RawPct: in.Float("RawPct"), Before: cal, After: cal, SpanKPa: 101.325, ReadKPa: 101.325})
			return c.OxygenPct, err
		}),
		"molar volume": published.Number(func(in *published.Inputs) (float64, error) {
			return MolarVolume(GasState{in.Float("TempC"), in.Float("KPa")})
		}),
		"compressibility factor of nitrogen": published.Number(func(in *published.Inputs) (float64, error) {
			return NitrogenZ(GasState{in.Float("TempC"), in.Float("KPa")})
		}),
		"real over ideal gas of a cylinder": published.Number(func(in *published.Inputs) (float64, error) {
			// Against the distributor's 10 m³: water volume times the gauge.
			c, err := CylinderContent(Cylinder{50, in.Float("GaugeBar"), 0, 15, SeaLevelKPa, GasState{15, 100}})
			return c.FullM3 / (0.05 * in.Float("GaugeBar")), err
		}),
		"cylinder content, 1 bar": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := CylinderContent(Cylinder{in.Float("WaterL"), in.Float("GaugeBar"), 0, in.Float("TempC"), 100, GasState{15, 100}})
			return c.FullM3, err
		}),
		"cylinder content, 1 atm": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := CylinderContent(Cylinder{in.Float("WaterL"), in.Float("GaugeBar"), 0, in.Float("TempC"), SeaLevelKPa, GasState{15, SeaLevelKPa}})
			return c.FullM3, err
		}),
		"cylinder content used, 1 atm": published.Number(func(in *published.Inputs) (float64, error) {
			c, err := CylinderContent(Cylinder{in.Float("WaterL"), in.Float("GaugeBar"), in.Float("LeaveBar"), in.Float("TempC"), SeaLevelKPa, GasState{15, SeaLevelKPa}})
			return c.UsableM3, err
		}),
		"gas volume at another pressure": published.Number(func(in *published.Inputs) (float64, error) {
			// 2000 psi is beyond a GasState: in two steps.
			v, err := VolumeAt(Restated{in.Float("Volume"), GasState{20, in.Float("FromKPa") / 100}, GasState{20, in.Float("ToKPa")}})
			return 100 * v, err
		}),
		"specific volume of carbon dioxide": published.Number(func(in *published.Inputs) (float64, error) {
			v, err := MolarVolume(GasState{in.Float("TempC"), in.Float("KPa")})
			return v / CarbonDioxideMolarG, err
		}),
		"ground coffee, oxygen effect":           published.Constant(GroundOxygenFactor),
		"ground coffee, water activity effect":   published.Constant(GroundPerTenthAwPct),
		"ground coffee, temperature effect":      published.Limits(GroundPer10KLowPct, GroundPer10KHighPct),
		"ground coffee, activation energy":       published.Constant(GroundEaKJPerMol),
		"ground coffee, Q10 of the uptake paper": published.Limits(1+GroundPer10KLowPct/100.0, 1+GroundPer10KHighPct/100.0),
		"ground coffee, Q10":                     published.Constant(GroundQ10()),
		"oxygen left by a vacuum, at 1 atm": published.Number(func(in *published.Inputs) (float64, error) {
			o, err := AfterSteps(Space{1000, 20, SeaLevelKPa, Mix{OxygenPct: AirOxygenPct}}, []Step{{Kind: VentStep, ToKPa: in.Float("LowKPa")}})
			return 100 * o.Left.OxygenMol / (o.Start.OxygenMol / AirOxygenPct * 100), err
		}),
		"old dose": published.Number(func(in *published.Inputs) (float64, error) {
			return OxygenDose(Dose{in.Float("FreeML"), 100, in.Float("CoffeeG"), GasState{in.Float("TempC"), in.Float("KPa")}})
		}),
		"oxygen of a gas space": published.Number(func(in *published.Inputs) (float64, error) {
			return OxygenDose(Dose{in.Float("FreeML"), in.Float("OxygenPct"), in.Float("CoffeeG"), GasState{in.Float("TempC"), in.Float("KPa")}})
		}),
		"transmission per area": published.Number(func(in *published.Inputs) (float64, error) {
			return in.Float("CC") * PerM2FromPer100In2 * 0.064516 / in.Float("AreaM2"), nil
		}),
		"permeability unit": published.Constant(PermFromMil100In2),
		"transmission in SI": published.Number(func(*published.Inputs) (float64, error) {
			v, err := MolarVolume(GasState{NormalTempC, SeaLevelKPa})
			return 1 / v / 1000 / 86400 / (MolPerM2SFromCCM2D / 5.164e-10), err
		}),
		"film of a thickness": published.Number(func(in *published.Inputs) (float64, error) {
			return FilmOTR(Layer{in.Float("Perm") * PermFromMil100In2, in.Float("ThicknessUM")})
		}),
		"foil laminate":       published.Limits(0, OTRFoilLaminate),
		"metallised PET":      published.Constant(OTRMetPET),
		"metallised laminate": published.Constant(OTRMetPETLaminate),
		"PET":                 published.Constant(OTRPET),
		"LDPE":                published.Constant(OTRLDPE),
		"cast PP":             published.Constant(OTRCastPP),
		"layers in series": published.Number(func(in *published.Inputs) (float64, error) {
			return LaminateOTR(in.Floats("OTR"))
		}),
		"transmission per area and day": published.Number(func(in *published.Inputs) (float64, error) {
			// By the model: a bag that lets OTR in for a time lets in the volume measured.
			otr := in.Float("CC") / in.Float("AreaM2") * 24 / in.Float("Hours")
			b := Bag{FreeML: 1e6, CoffeeG: 1, TempC: 0, KPa: SeaLevelKPa, Film: Film{OTRCCPerM2DayAtm: otr, AreaM2: in.Float("AreaM2"), OutsidePct: 100}}
			a, err := OxygenAfter(b, in.Float("Hours")/24, nil)
			return otr * a.EnteredML / in.Float("CC"), err
		}),
		"oxygen of a bag with film alone": published.Number(func(in *published.Inputs) (float64, error) {
			b := Bag{FreeML: in.Float("FreeML"), CoffeeG: 340, TempC: in.Float("TempC"), KPa: SeaLevelKPa, OxygenPct: in.Float("OxygenPct"),
				Film: Film{OTRCCPerM2DayAtm: in.Float("OTR"), AreaM2: in.Float("AreaM2"), OutsidePct: in.Float("OutsidePct")}}
			a, err := OxygenAfter(b, in.Float("Days"), nil)
			return a.OxygenPct, err
		}),
		"oxygen entered, STP": published.Number(func(in *published.Inputs) (float64, error) {
			b := Bag{FreeML: 750, CoffeeG: 340, TempC: 0, KPa: SeaLevelKPa,
				Film: Film{OTRCCPerM2DayAtm: in.Float("OTR"), AreaM2: in.Float("AreaM2"), OutsidePct: in.Float("OutsidePct")}}
			a, err := OxygenAfter(b, in.Float("Days"), nil)
			return a.EnteredML, err
		}),
		"oxygen after a sweep by carbon dioxide": published.Number(func(in *published.Inputs) (float64, error) {
			b := Bag{FreeML: in.Float("FreeML"), CoffeeG: 250, TempC: 20, KPa: SeaLevelKPa, OxygenPct: in.Float("OxygenPct"), OpenKPa: in.Float("OpenKPa")}
			a, err := OxygenAfter(b, 1, func(d float64) float64 { return in.Float("ReleasedML") * d })
			return a.OxygenPct, err
		}),
		"carbon dioxide yield":        published.Constant(CO2YieldLPerKG),
		"deficient oxygen":            published.Constant(DeficientOxygenPct),
		"enriched oxygen":             published.Constant(EnrichedOxygenPct),
		"nitrogen deaths":             published.Constant(USNitrogenDeathCount),
		"effect band 1":               band(1),
		"effect band 2":               band(2),
		"effect band 3":               band(3),
		"effect band 4":               band(4),
		"effect band 5":               band(5),
		"onset of impaired judgement": published.Constant(ImpairedOxygenPct),
		"evacuation level":            published.Constant(EvacuateOxygenPct),
		"oxygen volume after a spill": published.Number(func(in *published.Inputs) (float64, error) {
			s, err := AfterSpill(Spill{in.Float("RoomM3"), in.Float("GasM3"), in.Float("StartPct")})
			return s.OxygenPct / 100 * in.Float("RoomM3"), err
		}),
		"oxygen after a spill": published.Number(func(in *published.Inputs) (float64, error) {
			s, err := AfterSpill(Spill{in.Float("RoomM3"), in.Float("GasM3"), in.Float("StartPct")})
			return s.OxygenPct, err
		}),
		"oxygen after a spill, mixed": published.Number(func(in *published.Inputs) (float64, error) {
			s, err := AfterSpill(Spill{in.Float("RoomM3"), in.Float("GasM3"), in.Float("StartPct")})
			return s.MixedPct, err
		}),
		"liquid nitrogen that a room bears": published.Number(func(in *published.Inputs) (float64, error) {
			v := in.Float("RoomM3")
			l, err := LeakAllowed(Allowance{v, DrawnOut, in.Float("StartPct"), in.Float("LevelPct")})
			if err != nil {
				return 0, err
			}
			s, err := AfterSpill(Spill{v, l, in.Float("StartPct")})
			return l / in.Float("M3PerL") * in.Float("LevelPct") / s.OxygenPct, err
		}),
		"added gas that takes air to a level": published.Number(func(in *published.Inputs) (float64, error) {
			l, err := LeakAllowed(Allowance{100, DrawnOut, in.Float("StartPct"), in.Float("LevelPct")})
			return l, err
		}),
		"steady depletion": published.Number(func(in *published.Inputs) (float64, error) {
			b, err := AfterLeak(Leak{100, in.Float("LeakShare"), 1, BlownIn, in.Float("StartPct"), in.Float("StartPct"), 1, 0})
			return in.Float("StartPct") - b.SteadyPct, err
		}),
		"air changes, basement":      published.Constant(AirChangesBasementPerHour),
		"air changes, average house": published.Constant(AirChangesHousePerHour),
		"oxygen under a leak": published.Number(func(in *published.Inputs) (float64, error) {
			b, err := AfterLeak(Leak{in.Float("RoomM3"), in.Float("LeakM3PerHour"), in.Float("AirM3PerHour"), Fan(in.Int("Fan")), in.Float("StartPct"), in.Float("StartPct"), 1, in.Float("Hours")})
			return b.OxygenPct, err
		}),
		"steady oxygen under a leak": published.Number(func(in *published.Inputs) (float64, error) {
			b, err := AfterLeak(Leak{in.Float("RoomM3"), in.Float("LeakM3PerHour"), in.Float("AirM3PerHour"), Fan(in.Int("Fan")), 0, in.Float("OutsidePct"), 1, 1e3})
			return b.OxygenPct, err
		}),
		"oxygen after a leak": published.Number(func(in *published.Inputs) (float64, error) {
			b, err := AfterLeak(Leak{in.Float("RoomM3"), 0, in.Float("AirM3PerHour"), BlownIn, in.Float("StartPct"), in.Float("OutsidePct"), 1, in.Float("Hours")})
			return b.OxygenPct, err
		}),
		"leak that a room bears": published.Number(func(in *published.Inputs) (float64, error) {
			return LeakAllowed(Allowance{in.Float("AirM3PerHour"), Fan(in.Int("Fan")), in.Float("OutsidePct"), in.Float("LevelPct")})
		}),
		"CO2, 8 h":       published.Constant(CO2LongPPM),
		"CO2, 15 min UK": published.Constant(CO2ShortUKPPM),
		"CO2, 15 min US": published.Constant(CO2ShortUSPPM),
		"CO2, dangerous": published.Constant(CO2DangerPPM),
		"CO2, unconscious": published.Range(func(*published.Inputs) (float64, float64, error) {
			e := CarbonDioxideEffects()[4]
			return e.LowPct, e.HighPct, nil
		}),
	})
}

// band claims an effect of too little oxygen.
func band(i int) published.Claim {
	e := OxygenEffects()[i]
	return published.Limits(e.LowPct, e.HighPct)
}

func nozzleTargetOf(in *published.Inputs) NozzleTarget {
	return NozzleTarget{in.Float("StartPct"), in.Float("SupplyPct"), 1000, in.Float("TargetPct"), in.Float("NozzlePct")}
}

func TestDocs(t *testing.T) { published.Docs(t) }
