package desk

import (
	"example.org/evenlot/checkpoint/panel"
	"example.org/evenlot/wasm/catalogue"
)

var panelMethods = map[string]panel.Method{"triangle": panel.Triangle, "duo-trio": panel.DuoTrio, "paired": panel.Paired, "3-afc": panel.ThreeAFC, "tetrad": panel.Tetrad}

func methodField() catalogue.Field {
	return chosen("method", "Test", "Method", "How the cups were served and what was asked", "triangle",
		catalogue.Option{ID: "triangle", Label: "triangle: which of three is the odd one"},
		catalogue.Option{ID: "duo-trio", Label: "duo-trio: which of two is the reference"},
		catalogue.Option{ID: "paired", Label: "paired: which of two has more of it"},
		catalogue.Option{ID: "3-afc", Label: "3-AFC: which of three has most of it"},
		catalogue.Option{ID: "tetrad", Label: "tetrad: sort four into two pairs"})
}

func tasters(example string) catalogue.Field {
	return given("n", "Tasters", "n", "", 1, panel.MaxAssessors, example, "Assessors", "One answer from each, like 24")
}

func rightAnswers(example string) catalogue.Field {
	return given("x", "Right answers", "x", "", 0, panel.MaxAssessors, example, "Correct", "How many of them were right, like 13")
}

func riskField(help string) catalogue.Field {
	return given("risk", "Risk of a wrong call", "α", "%", panel.MinRiskPct, panel.MaxRiskPct, "5", "RiskPct", help)
}

func confidenceField() catalogue.Field {
	return given("conf", "Confidence", "γ", "%", panel.MinConfidencePct, panel.MaxConfidencePct, "95", "ConfidencePct", "Of the intervals, like 95")
}

const panelCaution = "One answer from each taster: three rounds of eight people are not 24 tasters. Serve in random order, coded, at one temperature, and let nobody talk."

var (
	triangleRule = catalogue.Source{Name: "ISO 4120:2021, Sensory analysis, triangle test", Locator: "tables A.1 to A.3", Provenance: "memory"}
	duoTrioRule  = catalogue.Source{Name: "GOST ISO 10399-2015, duo-trio test", Locator: "table A.1", Provenance: "opened"}
	triangleFAO  = catalogue.Source{Name: "FAO document V7180E", Locator: "appendix A, triangle test", Provenance: "opened"}
	powerPaper   = catalogue.Source{Name: "Christensen, Statistical methodology for sensory discrimination tests, 2023", Locator: "3.2", Provenance: "opened"}
)

// sayPanel turns the notes of package panel into notes of the sheet.
func sayPanel(out *catalogue.Out, n panel.Notes) {
	if n&panel.BelowChance != 0 {
		out.Note("Fewer are right than guessing gives: the best estimate of the difference is none.")
	}
	if n&panel.FewAssessors != 0 {
		out.Note("The published tables begin with 6 tasters: fewer can hardly show anything.")
	}
	if n&panel.Approximate != 0 {
		out.Note("The table is too large to enumerate: the probability is that of a chi-squared distribution.")
	}
	if n&panel.Extrapolated != 0 {
		out.Note("This lies after the last cupping: it is a forecast.")
	}
	if n&panel.FarAhead != 0 {
		out.Note("It lies further ahead than the cuppings span. Coffee need not keep falling along a line: cup again before trusting it.")
	}
	if n&panel.AlreadyUnder != 0 {
		out.Note("The line was under the threshold by the last cupping.")
	}
	if n&panel.NoICC2K != 0 {
		out.Note("The tasters scatter more than the coffees differ: there is no agreement of the mean to speak of.")
	}
}

// onlyTasters takes the columns of a table of scores that hold any, as rows
// of coffees.
func onlyTasters(cols [][]float64) [][]float64 {
	var used []int
	for j, c := range cols {
		for _, v := range c {
			if v == v {
				used = append(used, j)
				break
			}
		}
	}
	rows := make([][]float64, len(cols[0]))
	for i := range rows {
		for _, j := range used {
			rows[i] = append(rows[i], cols[j][i])
		}
	}
	return rows
}
