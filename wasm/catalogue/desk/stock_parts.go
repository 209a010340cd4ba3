package desk

import (
	"example.org/evenlot/checkpoint/stock"
	"example.org/evenlot/wasm/catalogue"
	"github.com/shopspring/decimal"
)

func levelField(label, help string) catalogue.Field {
	return given("level", label, "", "%", stock.MinLevelPct, 99.9, "90", "LevelPct", help)
}

// record is a field that takes past demands.
func record(example, help string) catalogue.Field {
	return catalogue.Field{ID: "d", Label: "Bags asked for", Kind: catalogue.Series, GoField: "Record",
		Columns: []catalogue.Column{{ID: "d", Label: "Bags", Min: 0, Max: stock.MaxBags}}, Example: example, Help: help}
}

const weekendsOf = "31 28 35 40 33 29 36 38 31 44 30 27 35 33 39 31 36 42 34 37"

// half is a demand that is no whole number of bags.
const half = missing("a demand is a whole number of bags")

// whole reads numbers of bags.
func whole(list []float64) ([]int, error) {
	n := make([]int, len(list))
	for i, v := range list {
		n[i] = int(v)
		if float64(n[i]) != v {
			return nil, half
		}
	}
	return n, nil
}

// histogram counts a column of past demands.
func histogram(list []float64) ([]stock.Bin, error) {
	n, err := whole(list)
	if err != nil {
		return nil, err
	}
	return stock.Tally(n)
}

const askedFor = "Write down what was asked for, not what was sold: a shelf that was empty hides demand."

var (
	stockBook  = catalogue.Source{Name: "Silver, Pyke & Thomas, Inventory and Production Management in Supply Chains", Locator: "periodic review; normal loss", Provenance: "memory"}
	chopraBook = catalogue.Source{Name: "Chopra & Meindl, Supply Chain Management", Locator: "safety inventory", Provenance: "memory"}
	countingIt = catalogue.Source{Name: "exact counting of the histogram", Provenance: "derived"}
)

// sayStock turns the notes of package stock into notes of the sheet.
func sayStock(out *catalogue.Out, n stock.Notes) {
	if n&stock.BeyondRecord != 0 {
		out.Note("So high a level cannot be read from so short a record: the answer is the most ever seen, or near it. Keep a longer record, or take a lower level.")
	}
	if n&stock.Stale != 0 {
		out.Note("More than one roast in twenty leaves bags past their last day: roast more often, keep them longer, or take a lower level.")
	}
	if n&stock.ThinMargin != 0 {
		out.Note("A bag left over loses more than a bag sold earns: the best stock is small, and customers will be sent away.")
	}
	if n&stock.NegativeStock != 0 {
		out.Note("Less than the mean demand is enough for this.")
	}
}

// bagsOf writes a mean number of bags.
func bagsOf(v float64) string { return catalogue.Num(v, 3) }

func decimals(in *catalogue.In, ids ...string) (list []decimal.Decimal) {
	for _, id := range ids {
		list = append(list, in.D(id))
	}
	return list
}
