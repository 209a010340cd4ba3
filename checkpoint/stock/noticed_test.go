package stock

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
)

// An order carries the ratio by which it was chosen.
func TestOrderTellsItsRatio(t *testing.T) {
	trade := Trade{PriceEach: decimal.New(12, 0), CostEach: decimal.New(5, 0), LeftoverEach: decimal.New(2, 0)}
	want, err := CriticalRatioPct(trade)
	if err != nil || !(math.Abs(want-70) <= 1e-9) { // (12 − 5)/(12 − 2)
		t.Fatalf("%v: %v", want, err)
	}
	o, err := BestStock([][]Bin{{{10, 3}, {20, 4}, {30, 3}}}, trade)
	if err != nil || !(math.Abs(o.RatioPct-70) <= 1e-9) || o.Bags != 20 {
		t.Errorf("%+v: %v", o, err)
	}
}
