package cup

import (
	"example.org/evenlot/brewratio"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

func scaleTells() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "what-a-scale-tells", Place: catalogue.CuppingTable, Order: 80,
		Name:     "What the scale can tell",
		Question: "How well do these scales know the ratio, and what is the least that this one may weigh?",
		Keywords: "resolution division repeatability tolerance smallest dose balance",
		Fields: []catalogue.Field{
			{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g", Min: brewratio.MinDoseG, Max: brewratio.MaxDoseG, Example: "10.0", GoField: "DoseG", Help: "Like 10.0", Exact: true},
			{ID: "w", Label: "Water", Symbol: "W", Unit: "g", Min: brewratio.MinWaterG, Max: brewratio.MaxWaterG, Example: "165", GoField: "WaterG", Help: "Like 165", Exact: true},
			divisionField("d", "DoseBalance.DivisionG"),
			{ID: "s", Label: "Repeatability of the coffee's scale", Symbol: "s", Unit: "g", Max: 10, Example: "0.05", GoField: "DoseBalance.RepeatableToG", Help: "Standard deviation of one weight weighed ten times, like 0.05; 0 when it never moved", Exact: true},
			{ID: "dw", Label: "Step of the water's scale", Symbol: "d_w", Unit: "g", Min: brewratio.MinDivisionG, Max: 10, Example: "1", GoField: "WaterBalance.DivisionG", Help: "Like 1", Exact: true},
			{ID: "p", Label: "Tolerance wanted of the dose", Symbol: "p", Unit: "%", Min: 0.001, Max: 50, Example: "1", GoField: "TolerancePct", Help: "Either side, like 1", Exact: true},
		},
		Outputs: []catalogue.Output{
			{ID: "least", Label: "The least that the coffee's scale may weigh", Symbol: "m", Unit: "g"},
			{ID: "dosepct", Label: "The dose is known within", Symbol: "p_D", Unit: "%"},
			{ID: "ratiopct", Label: "The ratio is known within", Symbol: "p_R", Unit: "%"},
			{ID: "x", Label: "The x of 1:x is known within", Unit: "g/g"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			b := brewratio.Balance{DivisionG: in.D("d"), RepeatableToG: in.D("s")}
			told, err := brewratio.RatioTolerance(brewratio.WeighedRatio{DoseG: in.D("dose"), WaterG: in.D("w"), DoseBalance: b, WaterBalance: brewratio.Balance{DivisionG: in.D("dw")}})
			if err != nil {
				return err
			}
			least, err := brewratio.SmallestDose(brewratio.SmallestWanted{Balance: b, TolerancePct: in.D("p")})
			if err != nil {
				return err
			}
			out.Set("least", least.InexactFloat64())
			out.Set("dosepct", told.DosePct)
			out.Set("ratiopct", told.RatioPct)
			out.Set("x", told.Ratio)
			if !out.Full() {
				return nil
			}
			spread := max(in.F("s"), brewratio.DivisionFloor*in.F("d"))
			out.Work("m = 100*k*u/p", "m", dec4(least, "g"), "k", "2", "u", sig4(spread, "g"), "p", in.Text("p"))
			out.Work("p_R = sqrt(p_D^2 + p_W^2)", "p_R", sig4(told.RatioPct, "%"), "p_D", sig4(told.DosePct, "%"), "p_W", sig4(told.WaterPct, "%"))
			out.Note("A scale is credited with no less spread than the rounding of two readings, 0.41 of its step.")
			out.Note("This is repeatability alone: a scale that is repeatably wrong shows it only on a test weight.")
			const n = 40
			x, y := make([]float64, 0, n), make([]float64, 0, n)
			top := max(in.F("dose"), least.InexactFloat64())
			for i := 1; i <= n; i++ {
				m := 2 * top * float64(i) / n
				t, err := brewratio.RatioTolerance(brewratio.WeighedRatio{DoseG: decimal.NewFromFloat(m), WaterG: in.D("w"), DoseBalance: b, WaterBalance: b})
				if err != nil || t.DosePct > 10*max(told.DosePct, in.F("p")) {
					continue
				}
				x, y = append(x, m), append(y, t.DosePct)
			}
			out.Figure(figure.Plot{
				Title:  "How well the scale knows a dose",
				Desc:   out.Say("Tolerance against the dose on this scale; this dose is known within {} %.", catalogue.Num(told.DosePct, 2)),
				X:      figure.Axis{Label: "Dose", Unit: "g"},
				Y:      figure.Axis{Label: "Known within", Unit: "%", Min: 0, Max: nan},
				Lines:  []figure.Line{{Name: "this scale", X: x, Y: y}},
				Points: []figure.Points{{Name: "this dose", X: []float64{in.F("dose")}, Y: []float64{told.DosePct}}},
				Marks:  []figure.Mark{{Name: "wanted", At: in.F("p")}},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "USP general chapter 41, Balances", Locator: "repeatability, 2 and 0.41 of a division", Provenance: "memory"}},
		Checks:  []catalogue.Check{{Package: "brewratio", Quantity: "smallest mass for a tolerance"}},
	}
}
