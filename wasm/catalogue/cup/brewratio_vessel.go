package cup

import (
	"math"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

// nan leaves a side of a limit open.
var nan = math.NaN()

var frustum = catalogue.Source{Name: "volume of a conical frustum", Locator: "geometry", Provenance: "derived"}

func bowlFields(example string) []catalogue.Field {
	return []catalogue.Field{
		ratioField(example),
		{ID: "t", Label: "Temperature of the water poured", Symbol: "t", Unit: "°C", Max: 100, Example: "93", PlusMinus: 1, GoField: "TempC", Help: "In the kettle, like 93"},
		{ID: "v", Label: "Room that the grounds take", Symbol: "v", Unit: "mL/g", Max: 3, Example: "0.73", PlusMinus: 0.05, None: true, GoField: "GroundsMLPerG", Help: "Below the line, per gram of coffee: 0.73 when water is poured on the grounds up to the line, 0 when the volume is all water"},
	}
}

func fillOutputs(out *catalogue.Out, in *catalogue.In, volume decimal.Decimal) (brewratio.Brew, error) {
	b, err := brewratio.BowlDose(brewratio.BowlFill{VolumeML: volume, Ratio: in.D("r"), TempC: in.D("t"), GroundsMLPerG: in.D("v")})
	if err != nil {
		return b, err
	}
	out.Set("dose", b.DoseG.InexactFloat64())
	out.Set("water", b.WaterG.InexactFloat64())
	out.Set("vol", volume.InexactFloat64())
	if out.Full() {
		rho, err := brewratio.WaterDensity(brewratio.At{TempC: in.D("t")})
		if err != nil {
			return b, err
		}
		out.Work("D = V/(1000*R/ρ + v)", "D", dec4(b.DoseG, "g"), "V", dec4(volume, "mL"), "R", in.Text("r"), "ρ", dec4(rho, "g/L"), "v", in.Text("v"))
		out.Work("W = D*R", "W", dec4(b.WaterG, "g"), "D", dec4(b.DoseG, "g"), "R", in.Text("r"))
		out.Note("To weigh: {} of coffee, {} of water.", dec4(b.DoseG, "g"), dec4(b.WaterG, "g"))
	}
	return b, nil
}

var bowlOutputs = []catalogue.Output{
	{ID: "dose", Label: "Coffee", Symbol: "D", Unit: "g"},
	{ID: "water", Label: "Water", Symbol: "W", Unit: "g"},
	{ID: "vol", Label: "Volume to the line", Symbol: "V", Unit: "mL"},
}

func measuredBowl() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "measured-bowl", Place: catalogue.CuppingTable, Order: 40,
		Name:     "Bowl by its sizes",
		Question: "What does this bowl hold, and how much coffee does it take?",
		Keywords: "vessel cup volume diameter height taper frustum dose",
		Fields: append([]catalogue.Field{
			{ID: "top", Label: "Inner diameter at the brim", Symbol: "d_t", Unit: "mm", Min: brewratio.MinDiameterMM, Max: brewratio.MaxDiameterMM, Example: "90", PlusMinus: 0.5, GoField: "TopMM", Help: "Inside, like 90"},
			{ID: "bottom", Label: "Inner diameter at the floor", Symbol: "d_b", Unit: "mm", Min: brewratio.MinDiameterMM, Max: brewratio.MaxDiameterMM, Example: "60", PlusMinus: 0.5, GoField: "BottomMM", Help: "Inside, like 60"},
			{ID: "h", Label: "Inner height", Symbol: "h", Unit: "mm", Min: brewratio.MinHeightMM, Max: brewratio.MaxHeightMM, Example: "55", PlusMinus: 0.5, GoField: "HeightMM", Help: "Plumb, not along the wall, like 55"},
			{ID: "fill", Label: "Height of the line", Symbol: "y", Unit: "mm", Min: 1, Max: brewratio.MaxHeightMM, Example: "45", PlusMinus: 0.5, GoField: "FillMM", Help: "From the floor to where the bowl is filled, like 45"},
		}, bowlFields("16.5")...),
		Outputs: append(bowlOutputs[:3:3], catalogue.Output{ID: "brim", Label: "Volume to the brim", Symbol: "V_h", Unit: "mL"}),
		Derived: []catalogue.Derived{{GoField: "VolumeML", Label: "Volume to the line"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			bowl := brewratio.Vessel{TopMM: in.D("top"), BottomMM: in.D("bottom"), HeightMM: in.D("h")}
			brim, err := brewratio.VesselVolume(bowl)
			if err != nil {
				return err
			}
			volume, err := brewratio.PartVolume(brewratio.PartFill{Vessel: bowl, FillMM: in.D("fill")})
			if err != nil {
				return err
			}
			t, b, h, y := in.F("top"), in.F("bottom"), in.F("h"), in.F("fill")
			at := b + (t-b)*y/h
			if out.Full() {
				out.Work("d_y = d_b + (d_t - d_b)*y/h", "d_y", sig4(at, "mm"), "d_b", in.Text("bottom"), "d_t", in.Text("top"), "y", in.Text("fill"), "h", in.Text("h"))
				out.Work("V = π*y/12000*(d_y^2 + d_y*d_b + d_b^2)", "V", dec4(volume, "mL"), "π", "3.1416", "y", in.Text("fill"), "d_y", sig4(at, "mm"), "d_b", in.Text("bottom"))
			}
			if _, err := fillOutputs(out, in, volume); err != nil {
				return err
			}
			out.Set("brim", brim.InexactFloat64())
			if !out.Full() {
				return nil
			}
			out.Note("A round floor or a lip is not in it: weigh a fill of water where that matters.")
			out.Figure(figure.Plot{
				Title: "The bowl, cut in half",
				Desc:  out.Say("Profile of the bowl with the line at {}: {} below it, {} to the brim.", in.Text("fill"), dec4(volume, "mL"), dec4(brim, "mL")),
				X:     figure.Axis{Label: "Width", Unit: "mm", Min: -0.6 * max(t, b), Max: 0.6 * max(t, b)},
				Y:     figure.Axis{Label: "Height", Unit: "mm", Min: 0, Max: 1.05 * h},
				Bands: []figure.Band{{Name: "filled", X: profile(b, at), Lo: profileFloor(b, at, y), Hi: []float64{y, y, y, y}}},
				Lines: []figure.Line{{Name: "wall", X: []float64{-t / 2, -b / 2, b / 2, t / 2}, Y: []float64{h, 0, 0, h}}},
				Marks: []figure.Mark{{Name: "line", At: y}},
			})
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{frustum, kell, {Name: "home displacement of ground coffee, web forum", Locator: "34.5 g took 25.2 mL", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "brewratio", Quantity: "volume of a vessel"}, {Package: "brewratio", Quantity: "room that a gram of grounds takes"}},
	}
}

// profile gives the four corners across of what is filled; where the walls
// close upwards, the corners at the line lie inside those of the floor.
func profile(floor, line float64) []float64 {
	a, b := max(floor, line)/2, min(floor, line)/2
	return []float64{-a, -b, b, a}
}

// profileFloor is how low the filled part reaches at those corners.
func profileFloor(floor, line, y float64) []float64 {
	if line >= floor {
		return []float64{y, 0, 0, y}
	}
	return []float64{0, 0, 0, 0}
}

func weighedBowl() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID: "weighed-bowl", Place: catalogue.CuppingTable, Order: 50,
		Name:     "Bowl by a weighed fill",
		Question: "What does this bowl hold by weight of water, and how much coffee does it take?",
		Keywords: "vessel cup volume tare water dose",
		Fields: append([]catalogue.Field{
			{ID: "empty", Label: "Bowl, empty and dry", Symbol: "m_e", Unit: "g", Max: 1e5, Example: "210.4", GoField: "EmptyG", Help: "0 when the scale was set to zero on it, or like 210.4"},
			{ID: "full", Label: "Bowl with water to the line", Symbol: "m_f", Unit: "g", Min: 1, Max: 1e5, Example: "395.6", PlusMinus: 1, GoField: "FullG", Help: "On the same scale, like 395.6"},
			{ID: "tw", Label: "Temperature of that water", Symbol: "t_w", Unit: "°C", Max: 100, Example: "20", PlusMinus: 2, GoField: "TempC", Help: "Of the water used for weighing, like 20"},
		}, bowlFields("16.5")...),
		Outputs: bowlOutputs,
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			volume, err := brewratio.FilledVolume(brewratio.Fill{EmptyG: in.D("empty"), FullG: in.D("full"), TempC: in.D("tw")})
			if err != nil {
				return err
			}
			b, err := fillOutputs(out, in, volume)
			if err != nil || !out.Full() {
				return err
			}
			rho, err := brewratio.WaterDensity(brewratio.At{TempC: in.D("tw")})
			if err != nil {
				return err
			}
			out.Work("V = 1000*(m_f - m_e)/ρ_w", "V", dec4(volume, "mL"), "m_f", in.Text("full"), "m_e", in.Text("empty"), "ρ_w", dec4(rho, "g/L"))
			grounds := b.DoseG.Mul(in.D("v")).InexactFloat64()
			out.Figure(figure.Flow{
				Title: "What fills the bowl", Unit: "mL",
				Desc: out.Say("{} to the line: water and grounds.", dec4(volume, "mL")),
				From: []figure.Share{{Name: "bowl to the line", Amount: volume.InexactFloat64()}},
				To:   []figure.Share{{Name: "hot water", Amount: volume.InexactFloat64() - grounds}, {Name: "grounds", Amount: grounds}},
			})
			return nil
		},
		Cautions: []string{scalds},
		Sources:  []catalogue.Source{definition, kell},
		Checks:   []catalogue.Check{{Package: "brewratio", Quantity: "volume of a mass of water"}},
	}
}
