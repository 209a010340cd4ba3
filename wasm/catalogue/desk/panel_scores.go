package desk

import (
	"errors"
	"math"

	"example.org/evenlot/checkpoint/panel"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

var tasterNames = [...]string{"Taster 1", "Taster 2", "Taster 3", "Taster 4", "Taster 5", "Taster 6", "Taster 7", "Taster 8"}

func tableField() catalogue.Field {
	f := catalogue.Field{ID: "table", Label: "Scores", Kind: catalogue.Series, GoField: "Scores",
		Example: "84.25 83.50 85.00 84.00\n86.00 85.75 86.50 86.25\n81.50 82.00 82.25 81.00\n87.75 86.50 88.00 87.00\n84.00 83.25 83.50 84.50",
		Help:    "One coffee a line, one score for each taster, two to eight of them; every taster scores every coffee"}
	for j, name := range tasterNames {
		f.Columns = append(f.Columns, catalogue.Column{ID: "t" + counted(j+1), Label: name, Unit: "points", Min: 0, Max: 1000, Optional: j > 1})
	}
	return f
}

func panelAgreement() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "panel-agreement",
		Place:    catalogue.QualityDesk,
		Order:    78,
		Name:     "Do the tasters agree?",
		Question: "How far do these tasters agree, and who scores milder or stricter?",
		Keywords: "intraclass correlation icc kendall friedman calibration offset cupping panel",
		Fields:   []catalogue.Field{tableField(), confidenceField()},
		Outputs: []catalogue.Output{
			{ID: "icc", Label: "Agreement of one taster with any other, ICC(2,1)"},
			{ID: "lo", Label: "at least"},
			{ID: "hi", Label: "at most"},
			{ID: "mean", Label: "Of the table's mean, ICC(2,k)"},
			{ID: "order", Label: "Agreement on the order alone, ICC(3,1)"},
			{ID: "w", Label: "Concordance of ranks, Kendall's W", Symbol: "W"},
			{ID: "p", Label: "Ranks alike by chance", Symbol: "p", Unit: "%"},
		},
		Compute:  computeAgreement,
		Cautions: []string{"Agreement is not truth: a table trained by one person agrees with that person. A strict taster is no fault where the order is right."},
		Sources: []catalogue.Source{{Name: "Shrout & Fleiss, Psychological Bulletin 86, 1979", Locator: "worked example", Provenance: "quoted"},
			{Name: "Hollander & Wolfe, Nonparametric Statistical Methods, 1999", Locator: "example 7.1", Provenance: "memory"}},
		Checks: []catalogue.Check{{Package: "checkpoint/panel", Quantity: "ICC(2,1)"}, {Package: "checkpoint/panel", Quantity: "ICC(2,k)"}, {Package: "checkpoint/panel", Quantity: "ICC(3,1)"},
			{Package: "checkpoint/panel", Quantity: "rank statistic with ties"}, {Package: "checkpoint/panel", Quantity: "exact tail of ranks without ties"}},
	}
}

func computeAgreement(in *catalogue.In, out *catalogue.Out) error {
	table := onlyTasters(in.Columns("table"))
	a, err := panel.Agree(table, in.F("conf"))
	if err != nil {
		return err
	}
	f, err := panel.Friedman(table)
	if err != nil {
		return err
	}
	offsets, err := panel.Offsets(table, in.F("conf"))
	if err != nil {
		return err
	}
	out.Set("icc", sig(a.ICC21.Value, 2))
	out.Set("lo", sig(a.ICC21.Lower, 2))
	out.Set("hi", sig(a.ICC21.Upper, 2))
	out.Set("mean", sig(a.ICC2K.Value, 2))
	out.Set("order", sig(a.ICC31.Value, 2))
	out.Set("w", sig(f.KendallW, 2))
	out.Set("p", sig(f.ByChancePct, 2))
	if !out.Full() {
		return nil
	}
	k := float64(len(offsets))
	out.Work("r = (R - E)/(R + (k - 1)*E + k*(C - E)/n)", "r", catalogue.Num(a.ICC21.Value, 3), "R", catalogue.Num(a.CoffeesMS, 4), "E", catalogue.Num(a.ResidualMS, 4),
		"C", catalogue.Num(a.TastersMS, 4), "k", catalogue.Shortest(k), "n", counted(len(table)))
	out.Note("There are six such coefficients and they differ widely: always say which. This one asks how well one of these tasters stands for any other.")
	sayPanel(out, a.Notes|f.Notes)
	means, err := panel.CoffeeMeans(table, in.F("conf"))
	if err != nil {
		return err
	}
	var rows [][]string
	var x, y, e []float64
	var flags []bool
	for j, o := range offsets {
		word := out.Say("with the table")
		if o.Clear && o.Points > 0 {
			word = out.Say("milder")
		} else if o.Clear {
			word = out.Say("stricter")
		}
		rows = append(rows, []string{counted(j + 1), catalogue.Num(o.Points, 2), catalogue.Num(o.HalfWidth, 2), catalogue.Num(o.SD, 2), word})
		x, y, e, flags = append(x, float64(j+1)), append(y, o.Points), append(e, o.HalfWidth), append(flags, o.Clear)
	}
	out.Table("Tasters", []string{"Taster", "Offset, points", "Plus-minus", "Scatter, points", "Scores"}, rows)
	rows = nil
	for i, m := range means[:min(len(means), 50)] {
		rows = append(rows, []string{counted(i + 1), catalogue.Num(m.Score, 4), catalogue.Num(m.HalfWidth, 2)})
	}
	out.Table("Coffees", []string{"Coffee", "Mean, points", "Plus-minus, to compare with the others"}, rows)
	out.Figure(figure.Plot{
		Title:  "Who scores milder or stricter",
		Desc:   out.Say("Each taster's mean less the mean of the table, with an interval of {}.", in.Text("conf")),
		X:      figure.Axis{Label: "Taster", Min: 0, Max: k + 1},
		Y:      figure.Axis{Label: "Offset", Unit: "points"},
		Points: []figure.Points{{Name: "tasters", X: x, Y: y, Err: e, Flagged: flags}},
		Marks:  []figure.Mark{{Name: "the table", At: 0}},
	})
	return nil
}

func cupScore() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "cup-score",
		Place:    catalogue.QualityDesk,
		Order:    80,
		Name:     "Score with its uncertainty",
		Question: "What is this coffee's score, and how well is it known?",
		Keywords: "cupping score mean uncertainty threshold tasters",
		Fields: []catalogue.Field{
			{ID: "s", Label: "Scores", Kind: catalogue.Series, GoField: "Scores",
				Columns: []catalogue.Column{{ID: "s", Label: "Score", Unit: "points", Min: 0, Max: 1000}},
				Example: "84.25 83.50 85.00 84.00 84.75", Help: "One number for each taster, at least two"},
			confidenceField()},
		Outputs: []catalogue.Output{
			{ID: "mean", Label: "Score", Symbol: "x_m", Unit: "points"},
			{ID: "half", Label: "Interval, up and down", Unit: "points"},
			{ID: "sd", Label: "Standard deviation of one taster", Symbol: "s", Unit: "points"},
		},
		Limits: []catalogue.Limit{{Output: "mean", Lo: 80, Hi: math.NaN(), Source: catalogue.Source{Name: "80 points as the line of specialty coffee", Provenance: "common practice"},
			Caution: "A score is this table's on this day, for this roast and water."}},
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			list := in.Columns("s")[0]
			m, err := panel.MeanScore(list, in.F("conf"))
			if err != nil {
				return err
			}
			wide, err := panel.MeanScore(list, 95)
			if err != nil {
				return err
			}
			out.SetU("mean", m.Score, wide.HalfWidth/2, "the tasters") // so that the ± holds 95 %, however few they are
			out.Set("half", sig(m.HalfWidth, 2))
			out.Set("sd", sig(m.SD, 2))
			if !out.Full() {
				return nil
			}
			out.Work("u = s/sqrt(k)", "u", catalogue.Num(m.U, 2)+" points", "s", catalogue.Num(m.SD, 3)+" points", "k", counted(len(list)))
			factor := 0.0
			if m.U > 0 {
				factor = m.HalfWidth / m.U
			}
			out.Work("U = t*u", "U", catalogue.Num(m.HalfWidth, 2)+" points", "t", catalogue.Num(factor, 3), "u", catalogue.Num(m.U, 2)+" points")
			out.Note("The interval is for what all tasters of this kind would give on average, by Student's t: with few tasters it is wide. The ± of the score, and its verdict, are by that interval at 95 %.")
			shown := list[:min(len(list), drawn)]
			out.Figure(figure.Plot{
				Title:  "Scores of the table",
				Desc:   out.Say("{} scores with a mean of {} points.", counted(len(list)), catalogue.Num(m.Score, 4)),
				X:      figure.Axis{Label: "Taster", Min: 0, Max: float64(len(shown) + 1)},
				Y:      figure.Axis{Label: "Score", Unit: "points"},
				Bands:  []figure.Band{{Name: "mean and its interval", X: []float64{0, float64(len(shown) + 1)}, Lo: []float64{m.Score - m.HalfWidth, m.Score - m.HalfWidth}, Hi: []float64{m.Score + m.HalfWidth, m.Score + m.HalfWidth}}},
				Points: []figure.Points{{Name: "scores", X: numbered(len(shown)), Y: shown}},
				Marks:  []figure.Mark{{Name: "mean", At: m.Score}},
			})
			return nil
		},
		Sources: []catalogue.Source{{Name: "JCGM 100:2008", Locator: "4.2 and annex G", Provenance: "memory"}},
	}
}

func scoreTrend() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "score-weeks",
		Place:    catalogue.QualityDesk,
		Order:    82,
		Name:     "Score over weeks",
		Question: "When will this coffee's score fall under the line at which it is bought?",
		Keywords: "ageing past crop fade green storage forecast regression slope",
		Fields: []catalogue.Field{
			{ID: "s", Label: "Cuppings", Kind: catalogue.Series, GoField: "Cuppings",
				Columns: []catalogue.Column{{ID: "w", Label: "Week", Min: 0, Max: 5000}, {ID: "s", Label: "Score", Unit: "points", Min: 0, Max: 1000}},
				Example: "0 87.00\n4 86.50\n8 86.75\n12 86.00\n16 85.25\n20 85.50\n26 84.50",
				Help:    "One cupping a line: weeks since any day, then the mean score of the table"},
			given("h", "Buying threshold", "h", "points", 0, 1000, "84", "Threshold", "The score under which you would not buy it again, like 84"),
			confidenceField()},
		Outputs: []catalogue.Output{
			{ID: "week", Label: "Falls under the threshold in week", Symbol: "w_0"},
			{ID: "early", Label: "at the earliest"},
			{ID: "late", Label: "at the latest"},
			{ID: "slope", Label: "Change per week", Symbol: "b", Unit: "points"},
			{ID: "half", Label: "its interval, up and down", Unit: "points"},
			{ID: "next", Label: "Score of the last week, by the line", Unit: "points"},
		},
		Compute:  computeTrend,
		Cautions: []string{"A forecast is no cupping. Cup again before the earliest week, and before buying or selling on it."},
		Sources:  []catalogue.Source{{Name: "NIST Statistical Reference Datasets, Norris", Locator: "certified values", Provenance: "quoted"}, {Name: "Fieller, J. R. Statist. Soc. B 16, 1954", Provenance: "memory"}},
		Checks:   []catalogue.Check{{Package: "checkpoint/panel", Quantity: "slope"}, {Package: "checkpoint/panel", Quantity: "standard uncertainty of the slope"}},
	}
}

func computeTrend(in *catalogue.In, out *catalogue.Out) error {
	cols := in.Columns("s")
	list := make([]panel.Cupping, len(cols[0]))
	for i := range list {
		list[i] = panel.Cupping{Week: cols[0][i], Score: cols[1][i]}
	}
	t, err := panel.ScoreTrend(list, in.F("conf"))
	if err != nil {
		return err
	}
	out.SetU("slope", t.SlopePerWeek, t.SlopeU, "the scatter of the cuppings")
	out.Set("half", sig(t.SlopeHalfWidth, 2))
	out.SetU("next", t.ScoreAt(t.LastWeek), t.HalfWidthAt(t.LastWeek)/t.T, "the scatter of the cuppings")
	c, err := panel.Under(t, in.F("h"))
	var none *panel.ImpossibleError
	falls := !errors.As(err, &none)
	switch {
	case !falls:
		out.SetWords("week", out.Say("cannot be said: the score does not clearly fall"))
	case err != nil:
		return err
	default:
		out.SetU("week", c.Week, (c.Latest-c.Earliest)/(2*t.T), "the scatter of the cuppings")
		out.Set("early", math.Floor(c.Earliest)) // whole weeks, outwards
		out.Set("late", math.Ceil(c.Latest))
	}
	if !out.Full() {
		return nil
	}
	out.Note("The line is that of the cuppings' means; a single cupping scatters about it by {} points.", catalogue.Num(t.SD, 2))
	desc, reach := out.Say("The scores do not clearly fall."), t.LastWeek
	if falls {
		out.Work("w_0 = w_m + (h - s_m)/b", "w_0", catalogue.Num(c.Week, 3), "w_m", catalogue.Num(t.MeanWeek, 3), "h", in.Text("h"), "s_m", catalogue.Num(t.MeanScore, 4)+" points", "b", catalogue.Num(t.SlopePerWeek, 3)+" points")
		out.Note("The interval is for the week of the true mean score, by Fieller's method.")
		sayPanel(out, c.Notes)
		desc = out.Say("The line falls under {} in week {}, between {} and {}.", in.Text("h"), catalogue.Num(c.Week, 3), catalogue.Num(c.Earliest, 3), catalogue.Num(c.Latest, 3))
		reach = c.Latest
	} else {
		out.Work("b_1 = b + U", "b_1", catalogue.Num(t.SlopePerWeek+t.SlopeHalfWidth, 3), "b", catalogue.Num(t.SlopePerWeek, 3), "U", catalogue.Num(t.SlopeHalfWidth, 3))
		out.Note("Zero lies inside the interval of the slope, or the score rises: more cuppings, further apart, would tell.")
	}
	from, to := t.FirstWeek, max(t.LastWeek, min(reach, t.LastWeek+2*(t.LastWeek-t.FirstWeek)))
	var x, y, lo, hi []float64
	for i := range 61 {
		w := from + (to-from)*float64(i)/60
		s, h := t.ScoreAt(w), t.HalfWidthAt(w)
		x, y, lo, hi = append(x, w), append(y, s), append(lo, s-h), append(hi, s+h)
	}
	shown := min(len(list), drawn)
	out.Figure(figure.Plot{
		Title:  "Score over weeks",
		Desc:   desc,
		X:      figure.Axis{Label: "Week"},
		Y:      figure.Axis{Label: "Score", Unit: "points"},
		Bands:  []figure.Band{{Name: "interval of the line", X: x, Lo: lo, Hi: hi}},
		Lines:  []figure.Line{{Name: "line", X: x, Y: y}},
		Points: []figure.Points{{Name: "cuppings", X: cols[0][:shown], Y: cols[1][:shown]}},
		Marks:  []figure.Mark{{Name: "threshold", At: in.F("h")}},
	})
	return nil
}
