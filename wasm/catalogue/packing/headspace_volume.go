package packing

import (
	"example.org/evenlot/headspace"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func bagField() catalogue.Field {
	return field("bag", "Inside volume of the sealed bag", "V_b", "mL", 10, 200_000, "1200", 20, "BagML", "Best filled with water and weighed, like 1200")
}

func coffeeField() catalogue.Field {
	return field("m", "Coffee in the bag", "m", "g", 1, 100_000, "340", 0, "CoffeeG", "Net weight, like 340")
}

func beanField() catalogue.Field {
	return field("rho", "Density of the bean", "ρ", "g/mL", 0.5, 1.5, "0.80", 0.05, "BeanGPerML", "Of the particle, not in bulk: dark about 0.66, medium 0.80, light 0.90; better from your own displacement weighing")
}

func bagHeadspace() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "bag-headspace",
		Place:    catalogue.PackingLine,
		Order:    10,
		Name:     "Headspace of a bag",
		Question: "How much gas is in a filled, sealed bag?",
		Keywords: "volume void gap porosity density net weight",
		Fields: fields([]catalogue.Field{bagField(), coffeeField(), beanField()},
			under("What more you know",
				maybe(field("bulk", "Bulk density", "ρ_b", "g/mL", 0.1, 1, "0.37", 0, "BulkGPerML", "A vessel of known volume filled without shaking, like 0.37; it tells the gaps from the room above")),
				maybe(field("pore", "Pores in the bean", "ε", "%", 0, 80, "34", 5, "PorosityPct", "34 % of the roasted bean by microscopy, about 50 by mercury; the gas in them is beside the headspace and may be air")))),
		Outputs: []catalogue.Output{
			{ID: "v", Label: "Headspace", Symbol: "V_h", Unit: "mL"},
			{ID: "share", Label: "Share of the bag that is gas", Unit: "%"},
			{ID: "per", Label: "Headspace for each gram", Unit: "mL/g"},
			{ID: "void", Label: "Gap between the beans of a heap", Unit: "%"},
			{ID: "pores", Label: "Gas space inside the beans", Symbol: "V_p", Unit: "mL"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			f, err := headspace.FreeVolume(headspace.Fill{BagML: in.F("bag"), CoffeeG: in.F("m"), BeanGPerML: in.F("rho")})
			if err != nil {
				return err
			}
			out.Set("v", f.FreeML)
			out.Set("share", f.FreePct)
			out.Set("per", f.FreeMLPerG)
			void := nan
			if in.Has("bulk") {
				if void, err = headspace.VoidShare(headspace.Heap{BulkGPerML: in.F("bulk"), BeanGPerML: in.F("rho")}); err != nil {
					return err
				}
				out.Set("void", void)
			}
			if in.Has("pore") {
				p, err := headspace.PoreVolume(headspace.Pores{CoffeeG: in.F("m"), BeanGPerML: in.F("rho"), PorosityPct: in.F("pore")})
				if err != nil {
					return err
				}
				out.Set("pores", p)
			}
			if !out.Full() {
				return nil
			}
			out.Work("V_h = V_b - m/ρ", "V_h", ml(f.FreeML), "V_b", in.Text("bag"), "m", in.Text("m"), "ρ", in.Text("rho"))
			say(out, f.Notes)
			flow := figure.Flow{
				Title: "What fills the bag", Unit: "mL",
				Desc: out.Say("Of {} in the bag the beans take {} mL; {} mL are gas.", in.Text("bag"), num(f.BeanML, 3), num(f.FreeML, 3)),
				From: []figure.Share{{Name: "bag", Amount: in.F("bag")}},
				To:   []figure.Share{{Name: "beans", Amount: f.BeanML}, {Name: "gas", Amount: f.FreeML}},
			}
			if in.Has("bulk") {
				out.Work("E = 100*(1 - ρ_b/ρ)", "E", pct(void, 3), "ρ_b", in.Text("bulk"), "ρ", in.Text("rho"))
				heap := in.F("m") / in.F("bulk")
				if above := in.F("bag") - heap; above > 0 {
					flow.To = []figure.Share{{Name: "beans", Amount: f.BeanML}, {Name: "between the beans", Amount: heap - f.BeanML}, {Name: "above the beans", Amount: above}}
				} else {
					out.Note("Poured loosely, this coffee takes {} mL, more than the bag: it must be shaken down, or a number is wrong.", num(heap, 3))
				}
			}
			out.Figure(flow)
			return nil
		},
		Sources: []catalogue.Source{definition, pycnometry,
			{Name: "Oliveros and others, Journal of Food Engineering, 2017", Locator: "porosity by electron microscopy; abstract", Provenance: "opened"}},
		Checks: []catalogue.Check{{Package: "headspace", Quantity: "free share of a heap of beans"}, {Package: "headspace", Quantity: "internal porosity, roasted"}},
	}
}

func bagVolume() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "bag-volume",
		Place:    catalogue.PackingLine,
		Order:    20,
		Name:     "Volume of a bag by water",
		Question: "The bag was filled with water to the seal and weighed: what does it hold?",
		Keywords: "gusset block bottom flat pouch capacity",
		Fields: []catalogue.Field{
			field("m1", "Empty bag", "m_1", "g", 0, 10_000, "14", 0, "EmptyG", "As the scale shows it, like 14"),
			field("m2", "Bag full of water", "m_2", "g", 10, 200_000, "1212", 5, "FilledG", "Filled as far as the coffee bag is sealed, like 1212"),
			field("t", "Water temperature", "t", "°C", 0, 40, "22", 2, "TempC", "Like 22; it hardly matters"),
		},
		Outputs: []catalogue.Output{{ID: "v", Label: "Inside volume", Symbol: "V_b", Unit: "mL"}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			v, err := headspace.WaterFilled(headspace.WaterFill{EmptyG: in.F("m1"), FilledG: in.F("m2"), TempC: in.F("t")})
			if err != nil {
				return err
			}
			out.Set("v", v)
			if !out.Full() {
				return nil
			}
			rho := (in.F("m2") - in.F("m1")) / v
			out.Work("V_b = (m_2 - m_1)/ρ_w", "V_b", ml(v), "m_2", in.Text("m2"), "m_1", in.Text("m1"), "ρ_w", num(rho, 5)+" g/mL")
			out.Note("Water stretches a bag and rounds its bottom: hold it as the coffee does, and take the mean of three bags.")
			out.Figure(figure.Flow{
				Title: "What was weighed", Unit: "g",
				Desc: out.Say("Of {} on the scale {} is the bag; the water takes {} mL.", in.Text("m2"), in.Text("m1"), num(v, 4)),
				From: []figure.Share{{Name: "full bag", Amount: in.F("m2")}},
				To:   []figure.Share{{Name: "bag", Amount: in.F("m1")}, {Name: "water", Amount: in.F("m2") - in.F("m1")}},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "Tanaka and others, Metrologia 38, 2001", Locator: "density of water", Provenance: "memory"}},
		Checks:  []catalogue.Check{{Package: "headspace", Quantity: "density of water"}, {Package: "headspace", Quantity: "density of water, g/mL"}},
	}
}

func pillowBag() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "pillow-bag",
		Place:    catalogue.PackingLine,
		Order:    140,
		Name:     "Volume of a flat bag",
		Question: "How much does a flat bag without gussets hold at most?",
		Keywords: "pillow paper bag dimensions width height pouch",
		Fields: []catalogue.Field{
			field("w", "Width inside the seals", "w", "mm", 20, 2000, "130", 1, "WidthMM", "The shorter side, laid flat, like 130"),
			field("h", "Height inside the seals", "h", "mm", 20, 2000, "200", 1, "HeightMM", "The longer side, laid flat, like 200"),
		},
		Outputs: []catalogue.Output{
			{ID: "v", Label: "Largest volume, by the approximation", Symbol: "V", Unit: "mL"},
			{ID: "high", Label: "Largest volume, if it errs as much as it can", Unit: "mL"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			w, h := in.F("w"), in.F("h")
			if h < w { // the sides of a flat bag may be given either way
				w, h = h, w
			}
			v, err := headspace.PillowBag(headspace.Pillow{WidthMM: w, HeightMM: h})
			if err != nil {
				return err
			}
			out.Set("v", v.BagML)
			out.Set("high", v.HighML)
			if !out.Full() {
				return nil
			}
			out.Work("V = w^3/1000*(h/(π*w) - 0.142*(1 - 10^(-h/w)))", "V", ml(v.BagML), "w", num(w, 4)+" mm", "h", num(h, 4)+" mm", "π", "3.1416")
			out.Note("For a square bag the approximation is proven 7 % to 14 % low. A bag on the shelf is slacker than its largest; a gusset or a block bottom is not in it. Water settles it.")
			x := grid(w, 3*w, 40)
			at := func(high bool) []float64 {
				return each(x, func(h float64) (float64, error) {
					v, err := headspace.PillowBag(headspace.Pillow{WidthMM: w, HeightMM: h})
					if high {
						return v.HighML, err
					}
					return v.BagML, err
				})
			}
			out.Figure(figure.Plot{
				Title:  "Largest volume by height",
				Desc:   out.Say("Volume of a flat bag {} mm wide against its height, from the approximation to its proven error; this one holds {} to {} mL.", num(w, 3), num(v.BagML, 3), num(v.HighML, 3)),
				X:      figure.Axis{Label: "Height", Unit: "mm"},
				Y:      figure.Axis{Label: "Volume", Unit: "mL", Max: nan},
				Bands:  []figure.Band{{Name: "error of the approximation", X: x, Lo: at(false), Hi: at(true)}},
				Lines:  []figure.Line{{Name: "approximation", X: x, Y: at(false)}},
				Points: []figure.Points{{Name: "this bag", X: []float64{h}, Y: []float64{v.BagML}}},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "Robin, Paper bag problem, Mathematics Today, 2004", Locator: "as given by Wikipedia", Provenance: "opened"}},
		Checks:  []catalogue.Check{{Package: "headspace", Quantity: "square pillow bag, approximation"}, {Package: "headspace", Quantity: "pillow bag volume"}},
	}
}

func beanDensity() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "bean-density",
		Place:    catalogue.PackingLine,
		Order:    130,
		Name:     "Density of the bean",
		Question: "What is the density of my roasted bean by displacement?",
		Keywords: "particle pycnometer water seed weighing roast degree",
		Fields: []catalogue.Field{
			field("m", "Beans alone", "m", "g", 1, 10_000, "100.0", 0.1, "BeansG", "Like 100"),
			field("m1", "Vessel full of water or fine seed", "m_1", "g", 1, 50_000, "612.4", 0.1, "VesselG", "Levelled at its rim, without beans, like 612.4"),
			field("m2", "Vessel with the beans, filled up again", "m_2", "g", 1, 50_000, "583.1", 0.1, "TogetherG", "Levelled at the same rim, the beans held under, like 583.1"),
			field("rm", "Density of the water or seed", "ρ_m", "g/mL", 0.3, 2, "0.998", 0.001, "MediumGPerML", "Water 0.998 at 20 °C; of fine seed its bulk density, from the same vessel"),
		},
		Outputs: []catalogue.Output{
			{ID: "rho", Label: "Density of the bean", Symbol: "ρ", Unit: "g/mL"},
			{ID: "v", Label: "Volume displaced", Unit: "mL"},
		},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			d, err := headspace.BeanDensity(headspace.Displacement{BeansG: in.F("m"), VesselG: in.F("m1"), TogetherG: in.F("m2"), MediumGPerML: in.F("rm")})
			if err != nil {
				return err
			}
			out.Set("rho", d.BeanGPerML)
			out.Set("v", d.BeanML)
			if !out.Full() {
				return nil
			}
			out.Work("ρ = m*ρ_m/(m + m_1 - m_2)", "ρ", num(d.BeanGPerML, 4)+" g/mL", "m", in.Text("m"), "ρ_m", in.Text("rm"), "m_1", in.Text("m1"), "m_2", in.Text("m2"))
			say(out, d.Notes)
			out.Note("Roasted beans float: hold them under with a lid or a mesh that is in both weighings. They drink water: weigh within a minute, or use fine seed.")
			out.Figure(figure.Plot{
				Title: "Where this bean lies",
				Desc:  out.Say("Density of this bean, {} g/mL, beside the darkest, the mean and the lightest of 18 published bags.", num(d.BeanGPerML, 3)),
				Y:     figure.Axis{Label: "Density", Unit: "g/mL"},
				Bars: []figure.Bar{
					{Name: "darkest", X: 1, Width: 0.7, Hi: headspace.BeanMinGPerML}, {Name: "mean", X: 2, Width: 0.7, Hi: headspace.BeanMediumGPerML},
					{Name: "lightest", X: 3, Width: 0.7, Hi: headspace.BeanMaxGPerML}, {Name: "yours", X: 4, Width: 0.7, Hi: d.BeanGPerML, Flag: true},
				},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "Pycnometer weighing", Provenance: "derived"}, pycnometry},
		Checks:  []catalogue.Check{{Package: "headspace", Quantity: "density by displacement, ground coffee"}, {Package: "headspace", Quantity: "lowest particle density"}, {Package: "headspace", Quantity: "highest particle density"}},
	}
}
