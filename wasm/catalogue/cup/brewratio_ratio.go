package cup

import (
	"example.org/evenlot/brewratio"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

// sig4 writes four significant digits with a unit, if there is one.
func sig4(v float64, unit string) string {
	if unit == "" {
		return catalogue.Num(v, 4)
	}
	return catalogue.Num(v, 4) + " " + unit
}

// dec4 is sig4 of a decimal.
func dec4(d decimal.Decimal, unit string) string { return sig4(d.InexactFloat64(), unit) }

// plain prints a decimal with the places that it carries.
func plain(d decimal.Decimal) string { return d.StringFixed(max(0, -d.Exponent())) }

// onScale prints a mass as a scale shows it.
func onScale(mass, division decimal.Decimal) (string, error) {
	r, err := brewratio.Round(brewratio.OnScale{MassG: mass, DivisionG: division})
	if err != nil {
		return "", err
	}
	return r.MassG.StringFixed(max(0, -division.Exponent())), nil
}

const scalds = "Water for cupping and brewing scalds: pour away from people, and keep kettles and cords off the edge."

// bowlWindow stands by a window of filter coffee that judges a cupping bowl.
const bowlWindow = "The window is of filter coffee and of taste; for a cupping bowl it is a habit, not a standard."

var (
	definition   = catalogue.Source{Name: "definition", Provenance: "derived"}
	cuppingRatio = catalogue.Source{Name: "Specialty Coffee Association, Coffee Standards, revised 2018", Locator: "s. 3.1: 8.25 ± 0.25 g to 150 mL", Provenance: "opened"}
	kell         = catalogue.Source{Name: "Kell, J. Chem. Eng. Data 20:97, 1975", Locator: "density of water", Provenance: "quoted"}
)

func waterField() catalogue.Field {
	return catalogue.Field{ID: "w", Label: "Water", Symbol: "W", Unit: "g", Min: brewratio.MinWaterG, Max: brewratio.MaxWaterG, Example: "165", GoField: "WaterG", Help: "By weight, as the scale shows it, like 165"}
}

func ratioField(example string) catalogue.Field {
	return catalogue.Field{ID: "r", Label: "Water per coffee", Symbol: "R", Unit: "g/g", Min: brewratio.MinRatio, Max: brewratio.MaxRatio, Example: example, GoField: "Ratio", Help: "The x of 1:x by weight, like " + example, Exact: true}
}

func divisionField(id, goField string) catalogue.Field {
	return catalogue.Field{ID: id, Label: "Step of the scale", Symbol: "d", Unit: "g", Min: brewratio.MinDivisionG, Max: 10, Example: "0.1", GoField: goField, Help: "The smallest change that the display shows, like 0.1", Exact: true}
}

func doseForBowl() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "dose-for-bowl", Place: catalogue.CuppingTable, Order: 10,
		Name:     "Coffee for a bowl",
		Question: "How much coffee goes on this water?",
		Keywords: "dose ratio cupping grams per litre percent brew ratio",
		Fields: []catalogue.Field{
			waterField(), ratioField("16.5"), divisionField("d", "DivisionG"),
			{ID: "t", Label: "Temperature of the water where it is read by volume", Symbol: "t", Unit: "°C", Max: 100, Example: "93", GoField: "TempC", Help: "For grams per litre and for standards in millilitres, like 93 for the kettle or 20 for the tap", Exact: true},
		},
		Outputs: []catalogue.Output{
			{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g"},
			{ID: "gl", Label: "The same per litre of water", Symbol: "c", Unit: "g/L"},
			{ID: "pct", Label: "The same in percent of the water's weight", Symbol: "p", Unit: "%"},
			{ID: "ml", Label: "Volume of that water", Symbol: "V", Unit: "mL"},
		},
		Derived: []catalogue.Derived{{GoField: "MassG", Label: "All the water"}},
		Limits:  []catalogue.Limit{{Output: "dose", Lo: nan, Hi: nan}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			b, err := brewratio.Dose(brewratio.WaterAndRatio{WaterG: in.D("w"), Ratio: in.D("r")})
			if err != nil {
				return err
			}
			n, err := brewratio.FromRatio(brewratio.RatioAt{Ratio: in.D("r"), TempC: in.D("t")})
			if err != nil {
				return err
			}
			v, err := brewratio.WaterVolume(brewratio.PouredMass{WaterG: in.D("w"), TempC: in.D("t")})
			if err != nil {
				return err
			}
			out.SetD("dose", b.DoseG)
			out.Set("gl", n.CoffeeGPerL.InexactFloat64())
			out.Set("pct", n.CoffeePct.InexactFloat64())
			out.Set("ml", v.InexactFloat64())
			if !out.Full() {
				return nil
			}
			shown, err := onScale(b.DoseG, in.D("d"))
			if err != nil {
				return err
			}
			out.Work("D = W/R", "D", dec4(b.DoseG, "g"), "W", in.Text("w"), "R", in.Text("r"))
			out.Work("c = ρ/R", "c", dec4(n.CoffeeGPerL, "g/L"), "ρ", dec4(n.WaterKgPerM3, "g/L"), "R", in.Text("r"))
			out.Note("The scale is to show {} g.", shown)
			out.Note("A ratio by volume depends on the temperature of the water: 150 mL weigh 150 g from the tap and 144.5 g from the kettle.")
			var bars []figure.Bar
			for i, s := range brewratio.Standards() {
				r, err := brewratio.StandardDose(brewratio.StandardBowl{Standard: s, WaterG: in.D("w"), TempC: in.D("t")})
				if err != nil {
					continue
				}
				bars = append(bars, figure.Bar{Name: s.Name, X: float64(i + 1), Width: 0.7, Hi: r.DoseG.InexactFloat64()})
			}
			out.Figure(figure.Plot{
				Title: "What published ratios ask of this water",
				Desc:  out.Say("The dose that each published ratio gives for {} of water; this recipe takes {}.", in.Text("w"), dec4(b.DoseG, "g")),
				X:     figure.Axis{},
				Y:     figure.Axis{Label: "Coffee", Unit: "g"},
				Bars:  bars,
				Marks: []figure.Mark{{Name: "this recipe", At: b.DoseG.InexactFloat64()}},
			})
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{definition, cuppingRatio, kell},
		Checks:   []catalogue.Check{{Package: "brewratio", Quantity: "brew ratio"}, {Package: "brewratio", Quantity: "dose range of a standard"}, {Package: "brewratio", Quantity: "density of water"}},
	}
}

func waterByVolume() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "water-by-volume", Place: catalogue.BrewBar, Order: 28,
		Name:     "Water by volume",
		Question: "What does this volume of water weigh at its temperature?",
		Keywords: "density kettle millilitres litre mass hot",
		Fields: []catalogue.Field{
			{ID: "v", Label: "Volume", Symbol: "V", Unit: "mL", Min: brewratio.MinWaterG, Max: brewratio.MaxVolumeML, Example: "150", GoField: "VolumeML", Help: "As the jug or the line shows it, like 150"},
			{ID: "t", Label: "Temperature of that water", Symbol: "t", Unit: "°C", Max: 100, Example: "93.0", PlusMinus: 0.5, GoField: "TempC", Help: "When the volume was read, like 93"},
		},
		Outputs: []catalogue.Output{
			{ID: "m", Label: "Weight", Symbol: "W", Unit: "g"},
			{ID: "rho", Label: "Density of the water", Symbol: "ρ", Unit: "kg/m³"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			m, err := brewratio.WaterMass(brewratio.PouredVolume{VolumeML: in.D("v"), TempC: in.D("t")})
			if err != nil {
				return err
			}
			rho, err := brewratio.WaterDensity(brewratio.At{TempC: in.D("t")})
			if err != nil {
				return err
			}
			out.Set("m", m.InexactFloat64())
			out.Set("rho", rho.InexactFloat64())
			if !out.Full() {
				return nil
			}
			out.Work("W = V*ρ/1000", "W", dec4(m, "g"), "V", in.Text("v"), "ρ", catalogue.Num(rho.InexactFloat64(), 6)+" g/L")
			if !out.Pictured() {
				return nil
			}
			const n = 50
			x, y := make([]float64, n+1), make([]float64, n+1)
			for i := range x {
				d, err := brewratio.WaterDensity(brewratio.At{TempC: decimal.New(int64(2*i), 0)})
				if err != nil {
					return err
				}
				x[i], y[i] = float64(2*i), d.InexactFloat64()
			}
			out.Figure(figure.Plot{
				Title:  "Density of water",
				Desc:   out.Say("Density of water from 0 to 100 °C; at {} it is {}.", in.Text("t"), catalogue.Num(rho.InexactFloat64(), 5)+" kg/m³"),
				X:      figure.Axis{Label: "Temperature", Unit: "°C"},
				Y:      figure.Axis{Label: "Density", Unit: "kg/m³"},
				Lines:  []figure.Line{{Name: "water", X: x, Y: y}},
				Points: []figure.Points{{Name: "this water", X: []float64{in.F("t")}, Y: []float64{rho.InexactFloat64()}}},
			})
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{kell},
		Checks:   []catalogue.Check{{Package: "brewratio", Quantity: "density of water"}},
	}
}
