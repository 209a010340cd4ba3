package stock

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/internal/published"
	"github.com/shopspring/decimal"
)

// bins reads "100x30 150x20" as a histogram.
func bins(text string) (day []Bin) {
	for w := range strings.FieldsSeq(text) {
		b, n, ok := strings.Cut(w, "x")
		if !ok {
			return nil
		}
		bags, err1 := strconv.Atoi(b)
		times, err2 := strconv.Atoi(n)
		if err1 != nil || err2 != nil {
			return nil
		}
		day = append(day, Bin{bags, times})
	}
	return day
}

// dice reads "6 | 6" as days on which each of 1 to 6 bags is equally likely.
func dice(text string) (days [][]Bin) {
	for s := range strings.SplitSeq(text, "|") {
		n, err := strconv.Atoi(strings.TrimSpace(s))
		if err != nil {
			return nil
		}
		var day []Bin
		for b := range n {
			day = append(day, Bin{b + 1, 1})
		}
		days = append(days, day)
	}
	return days
}

func TestPublished(t *testing.T) {
	number := published.Number
	trade := func(in *published.Inputs) Trade {
		return Trade{in.Decimal("PriceEach"), in.Decimal("CostEach"), in.Decimal("LeftoverEach")}
	}
	vendor := func(part func(Order) float64) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			o, err := Newsvendor(Market{trade(in), in.Float("MeanBags"), in.Float("SDBags")})
			return part(o), err
		})
	}
	lead := func(in *published.Inputs) Lead {
		l := Lead{DailyBags: in.Float("DailyBags"), DailySDBags: in.Float("DailySDBags"), LeadDays: in.Float("LeadDays")}
		if in.Has("LeadSDDays") {
			l.LeadSDDays = in.Float("LeadSDDays")
		}
		if in.Has("ReviewDays") {
			l.ReviewDays = in.Float("ReviewDays")
		}
		return l
	}
	safety := func(part func(Safety) float64) published.Claim {
		return number(func(in *published.Inputs) (float64, error) {
			s, err := SafetyStock(lead(in), in.Float("LevelPct"))
			return part(s), err
		})
	}
	reorder := func(s Safety) float64 { return s.ReorderBags }
	published.Run(t, map[string]published.Claim{
		"newsvendor stock":    vendor(func(o Order) float64 { return o.Bags }),
		"newsvendor mismatch": vendor(func(o Order) float64 { return o.Mismatch }),
		"newsvendor profit":   vendor(func(o Order) float64 { return o.Profit }),
		"newsvendor fill":     vendor(func(o Order) float64 { return o.FillPct / 100 }),
		"critical ratio": number(func(in *published.Inputs) (float64, error) {
			r, err := CriticalRatioPct(trade(in))
			return r / 100, err
		}),
		"reorder point by z": number(func(in *published.Inputs) (float64, error) {
			return lead(in).safety(in.Float("Z")).ReorderBags, nil
		}),
		"reorder point":     safety(reorder),
		"order-up-to level": safety(reorder),
		"safety stock":      safety(func(s Safety) float64 { return s.SafetyBags }),
		"spread of lead demand": number(func(in *published.Inputs) (float64, error) {
			s, err := SafetyStock(lead(in), 90)
			return s.SpreadBags, err
		}),
		// The level whose safety stock is the one given.
		"service at a safety stock": number(func(in *published.Inputs) (float64, error) {
			want := in.Float("SafetyBags")
			for level := 50.0; level < 100; level += 0.01 {
				s, err := SafetyStock(lead(in), level)
				if err != nil || s.SafetyBags >= want {
					return level / 100, err
				}
			}
			return 0, fmt.Errorf("no level gives %v bags", want)
		}),
		"shortage per order": number(func(in *published.Inputs) (float64, error) {
			const lot = 10000
			f, err := FillRatePct(lead(in), in.Float("SafetyBags"), lot)
			return lot * (1 - f/100), err
		}),
		"fill rate at a safety stock": number(func(in *published.Inputs) (float64, error) {
			f, err := FillRatePct(lead(in), in.Float("SafetyBags"), in.Float("LotBags"))
			return f / 100, err
		}),
		"safety stock by fill": number(func(in *published.Inputs) (float64, error) {
			s, err := SafetyForFill(lead(in), in.Float("LotBags"), in.Float("FillPct"))
			return s.SafetyBags, err
		}),
		"normal loss": number(func(in *published.Inputs) (float64, error) { return NormalLoss(in.Float("Z")), nil }),
		"best stock": number(func(in *published.Inputs) (float64, error) {
			o, err := BestStock([][]Bin{bins(in.Text("Demand"))}, trade(in))
			return o.Bags, err
		}),
		"share of a total": number(func(in *published.Inputs) (float64, error) {
			list, err := Demand(dice(in.Text("Days")))
			want := in.Int("Bags")
			for _, c := range list {
				if c.Bags == want {
					return c.Pct / 100, err
				}
			}
			return 0, fmt.Errorf("no demand of %d bags: %w", want, err)
		}),
	})
}

func TestDocs(t *testing.T) { published.Docs(t) }

// pct is a decimal percentage.
func pct(s string) decimal.Decimal { return decimal.RequireFromString(s) }
