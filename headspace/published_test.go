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
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }
