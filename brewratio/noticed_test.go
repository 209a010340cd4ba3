package brewratio

import (
	"errors"
	"testing"

	"github.com/shopspring/decimal"
)

// What a run of mutants showed that no other test noticed.

// Ice that is left: the heat of the brew melts as much as it can, no more.
func TestMeltLeavesIce(t *testing.T) {
	brew, temp, ice := decimal.New(100, 0), decimal.New(50, 0), decimal.New(500, 0)
	m, err := Melt(Iced{BrewG: brew, TempC: temp, IceG: ice})
	if err != nil {
		t.Fatal(err)
	}
	heat := brew.Mul(temp).Mul(decimal.NewFromFloat(WaterJPerGPerK))
	if off := m.MeltedG.Mul(decimal.NewFromFloat(FusionJPerG)).Sub(heat).Abs(); off.GreaterThan(decimal.New(2, -4)) {
		t.Errorf("%v g melted take %v J more or less than there are", m.MeltedG, off)
	}
	if !m.MeltedG.Add(m.LeftG).Equal(ice) || !m.TempC.IsZero() {
		t.Errorf("of %v g ice %v melted and %v are left at %v °C", ice, m.MeltedG, m.LeftG, m.TempC)
	}
}

// An answer that does not exist says where one does, and there it does.
func TestImpossibleNamesAWayOut(t *testing.T) {
	whole := Whole{MassG: decimal.New(1, -1), DivisionG: decimal.New(1, 0), Shares: []decimal.Decimal{decimal.New(1, 0)}}
	_, err := Parts(whole)
	none, ok := errors.AsType[*ImpossibleError](err)
	if !ok || none.Field != "DivisionG" {
		t.Fatalf("%v", err)
	}
	whole.DivisionG = decimal.NewFromFloat(none.Max)
	if _, err := Parts(whole); err != nil {
		t.Errorf("at %v g: %v", none.Max, err)
	}

	full := VolumeIn{Vessel: Vessel{BottomMM: decimal.New(60, 0), TopMM: decimal.New(80, 0), HeightMM: decimal.New(70, 0)}, VolumeML: decimal.New(5000, 0)}
	_, err = FillHeight(full)
	if none, ok = errors.AsType[*ImpossibleError](err); !ok || none.Min != 0 {
		t.Fatalf("%v", err)
	}
	full.VolumeML = decimal.NewFromFloat(none.Max)
	if h, err := FillHeight(full); err != nil || h.Sub(full.Vessel.HeightMM).Abs().GreaterThan(decimal.New(1, -2)) {
		t.Errorf("the vessel full to its brim is %v mm: %v", h, err)
	}
}
