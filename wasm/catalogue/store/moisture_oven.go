package store

import (
	"errors"
	"strings"

	"example.org/evenlot/moisture"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

// ofSecond makes the fields that an error names those of the second dish.
func ofSecond(err error) error {
	of := func(field string) string { return strings.Join([]string{"Second", field}, ".") }
	if input, ok := errors.AsType[*moisture.InputError](err); ok {
		for _, f := range input.Fields {
			f.Field = of(f.Field)
		}
	}
	if none, ok := errors.AsType[*moisture.ImpossibleError](err); ok {
		none.Field = of(none.Field)
	}
	return err
}

func ovenMoisture() *catalogue.Calculator {
	dish := func(id, label, symbol, example, goField, group string) catalogue.Field {
		f := number(id, label, symbol, "g", 0, moisture.MaxDishG, example, 0, goField, "As the balance shows it, like 31.3456")
		f.Exact = true // its last digit is far below what two dishes differ by
		return under(group, f)
	}
	const one, two = "First dish", "Second dish"
	return &catalogue.Calculator{
		ID:       "oven-moisture",
		Place:    catalogue.GreenStore,
		Order:    24,
		Name:     "Moisture by the oven",
		Question: "What moisture do two dishes from the oven give, and do they agree?",
		Keywords: "loss on drying duplicate repeatability dish tare reference method",
		Fields: []catalogue.Field{
			dish("d1", "First dish, empty", "d_1", "21.3456", "TareG", one),
			dish("b1", "First dish with its portion", "b_1", "31.3462", "BeforeG", one),
			dish("a1", "First dish after the oven", "a_1", "30.2241", "AfterG", one),
			dish("d2", "Second dish, empty", "d_2", "20.9871", "Second.TareG", two),
			dish("b2", "Second dish with its portion", "b_2", "30.9925", "Second.BeforeG", two),
			dish("a2", "Second dish after the oven", "a_2", "29.8648", "Second.AfterG", two),
		},
		Outputs: []catalogue.Output{
			{ID: "m", Label: "Mean moisture, wet basis", Symbol: "M", Unit: "%"},
			{ID: "m1", Label: "First dish", Symbol: "M_1", Unit: "%"},
			{ID: "m2", Label: "Second dish", Symbol: "M_2", Unit: "%"},
			{ID: "apart", Label: "The two lie apart by", Symbol: "Δ", Unit: "%"},
		},
		Derived: []catalogue.Derived{{GoField: "FirstPct", Label: "Moisture of the first dish"}, {GoField: "SecondPct", Label: "Moisture of the second dish"}},
		Limits:  []catalogue.Limit{{Output: "apart", Lo: nan, Hi: moisture.RoastedRepeatabilityPct, Source: isoOven}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			m1, err := moisture.LossOnDrying(moisture.Dish{TareG: in.D("d1"), BeforeG: in.D("b1"), AfterG: in.D("a1")})
			if err != nil {
				return err
			}
			m2, err := moisture.LossOnDrying(moisture.Dish{TareG: in.D("d2"), BeforeG: in.D("b2"), AfterG: in.D("a2")})
			if err != nil {
				return ofSecond(err)
			}
			d, err := moisture.MeanOfDuplicates(moisture.Duplicates{FirstPct: m1, SecondPct: m2, RepeatabilityPct: decimal.NewFromFloat(moisture.RoastedRepeatabilityPct)})
			if err != nil {
				return err
			}
			out.SetD("m", d.MoisturePct.Round(2))
			out.SetD("m1", m1.Round(2))
			out.SetD("m2", m2.Round(2))
			out.SetD("apart", d.DifferencePct.Round(3))
			if !out.Full() {
				return nil
			}
			a, b := m1.InexactFloat64(), m2.InexactFloat64()
			mean := d.MoisturePct.InexactFloat64()
			out.Work("M_1 = 100*(b_1 - a_1)/(b_1 - d_1)", "M_1", pct(a, 4), "b_1", in.Text("b1"), "a_1", in.Text("a1"), "d_1", in.Text("d1"))
			out.Work("M_2 = 100*(b_2 - a_2)/(b_2 - d_2)", "M_2", pct(b, 4), "b_2", in.Text("b2"), "a_2", in.Text("a2"), "d_2", in.Text("d2"))
			out.Work("M = (M_1 + M_2)/2", "M", pct(mean, 4), "M_1", pct(a, 4), "M_2", pct(b, 4))
			out.Note("Write the oven beside the number: 105 °C for 16 h, 103 °C for 24 h and the vacuum method differ by up to a point.")
			out.Note("The limit shown is that of roasted ground coffee; none for green was found in a source. Whatever leaves in the oven counts as water: degas ground coffee first.")
			half := moisture.RoastedRepeatabilityPct / 2
			out.Figure(figure.Plot{
				Title:  "Two dishes and their mean",
				Desc:   out.Say("The dishes give {} and {}; the band about their mean is as wide as the repeatability limit.", pct(a, 4), pct(b, 4)),
				X:      figure.Axis{Label: "Dish", Min: 0, Max: 3, Ticks: []figure.Tick{{At: 1, Name: "1"}, {At: 2, Name: "2"}}},
				Y:      figure.Axis{Label: "Moisture, wet basis", Unit: "%"},
				Bands:  []figure.Band{{Name: "repeatability", X: []float64{0, 3}, Lo: []float64{mean - half, mean - half}, Hi: []float64{mean + half, mean + half}}},
				Points: []figure.Points{{Name: "dish", X: []float64{1, 2}, Y: []float64{a, b}}},
				Marks:  []figure.Mark{{Name: "mean", At: mean}},
			})
			return nil
		},
		Cautions: []string{"The oven and its dishes are hot and look cold: tongs, dry gloves, a stand beside the door. Let dishes cool in a desiccator before weighing."},
		Sources:  []catalogue.Source{isoOven, {Name: "ISO 6673, green coffee, loss in mass at 105 °C", Locator: "scope, 7.2", Provenance: "opened"}},
		Checks:   []catalogue.Check{{Package: "moisture", Quantity: "repeatability of roasted coffee"}, {Package: "moisture", Quantity: "green oven temperature"}},
	}
}
