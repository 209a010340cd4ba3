package stock_test

import (
	"errors"
	"fmt"

	"example.org/evenlot/checkpoint/stock"
	"github.com/shopspring/decimal"
)

// The bags asked for in twenty weekends, invented.
var weekends = []int{31, 28, 35, 40, 33, 29, 36, 38, 31, 44, 30, 27, 35, 33, 39, 31, 36, 42, 34, 37}

func weekend() []stock.Bin {
	bins, err := stock.Tally(weekends)
	if err != nil {
		panic(err)
	}
	return bins
}

func pct(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// What demand was seen how often?
func ExampleTally() {
	bins, err := stock.Tally([]int{31, 28, 31})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bins)
	// Output: [{28 1} {31 2}]
}

// How many bags on Friday evening, to last nine weekends of ten?
func ExampleBuffer() {
	h, err := stock.Buffer(stock.Wait{Days: [][]stock.Bin{weekend()}, LevelPct: pct("90")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d bags last %.0f %% of weekends and serve %.1f %% of the demand\n", h.Bags, h.ServicePct, h.FillPct)
	// Output: 40 bags last 90 % of weekends and serve 99.1 % of the demand
}

// A level given as a fraction.
func ExampleBuffer_refused() {
	_, err := stock.Buffer(stock.Wait{Days: [][]stock.Bin{weekend()}, LevelPct: pct("0.95")})
	var field *stock.FieldError
	if errors.As(err, &field) {
		fmt.Println(field.Field, "takes", field.Min, "to", field.Max, field.Unit)
	}
	// Output: LevelPct takes 50 to 99.999 %
}

// How many to serve 99 of 100 bags asked for?
func ExampleFillBuffer() {
	h, err := stock.FillBuffer(stock.Wait{Days: [][]stock.Bin{weekend()}, LevelPct: pct("99")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(h.Bags, "bags")
	// Output: 40 bags
}

// What do 36 bags do?
func ExampleService() {
	h, err := stock.Service([][]stock.Bin{weekend()}, 36)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("last %.0f %% of weekends; %.1f bags short on average\n", h.ServicePct, h.ShortBags)
	// Output: last 70 % of weekends; 1.2 bags short on average
}

// Saturday and Sunday apart, if they do not depend on each other.
func ExampleDemand() {
	saturday := []stock.Bin{{Bags: 10, Times: 3}, {Bags: 14, Times: 1}}
	sunday := []stock.Bin{{Bags: 4, Times: 1}, {Bags: 8, Times: 1}}
	list, err := stock.Demand([][]stock.Bin{saturday, sunday})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range list {
		fmt.Printf("%d bags: %.1f %%\n", c.Bags, c.Pct)
	}
	// Output:
	// 14 bags: 37.5 %
	// 18 bags: 50.0 %
	// 22 bags: 12.5 %
}

// When may the weekend's bags be roasted that want 5 days and keep 28?
func ExampleRoastWindow() {
	w, err := stock.RoastWindow(stock.Sale{FromDay: 5, ToDay: 6, RestDays: 5, ShelfDays: 28})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("from day", w.EarliestDay, "to day", w.LatestDay)
	// Output: from day -22 to day 0
}

// A week that is roasted for on Monday and Thursday, closed on Sunday.
func ExampleRoastPlan() {
	quiet := []stock.Bin{{Bags: 2, Times: 4}, {Bags: 4, Times: 5}, {Bags: 7, Times: 1}}
	busy := []stock.Bin{{Bags: 8, Times: 3}, {Bags: 12, Times: 6}, {Bags: 17, Times: 1}}
	closed := []stock.Bin{{Bags: 0, Times: 1}}
	plan, err := stock.RoastPlan(stock.Cycle{
		Days:      [][]stock.Bin{quiet, quiet, quiet, quiet, busy, busy, closed},
		RoastDays: []int{0, 3},
		RestDays:  3,
		ShelfDays: 21,
		LevelPct:  pct("95"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range plan {
		fmt.Printf("day %d: up to %d bags, about %.0f to roast\n", r.Day, r.UpTo, r.MeanRoast)
	}
	// Output:
	// day 0: up to 45 bags, about 26 to roast
	// day 3: up to 45 bags, about 10 to roast
}

// There are 18 bags left, and a batch fills 24.
func ExampleToRoast() {
	b, err := stock.ToRoast(stock.Need{UpTo: 45, Have: 18, PerBatch: 24})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d bags, %d batches, %d over\n", b.Bags, b.Batches, b.Extra)
	// Output: 27 bags, 2 batches, 21 over
}

// How sure should one be, when a bag earns 5.30 and risks 3.20?
func ExampleCriticalRatioPct() {
	r, err := stock.CriticalRatioPct(stock.Trade{PriceEach: pct("9.50"), CostEach: pct("4.20"), LeftoverEach: pct("1.00")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %%\n", r)
	// Output: 62 %
}

// Which weekend stock earns most?
func ExampleBestStock() {
	o, err := stock.BestStock([][]stock.Bin{weekend()}, stock.Trade{PriceEach: pct("9.50"), CostEach: pct("4.20"), LeftoverEach: pct("1.00")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f bags\n", o.Bags)
	// Output: 36 bags
}

// And by the textbook, from mean and spread only?
func ExampleNewsvendor() {
	o, err := stock.Newsvendor(stock.Market{
		Trade:    stock.Trade{PriceEach: pct("9.50"), CostEach: pct("4.20"), LeftoverEach: pct("1.00")},
		MeanBags: 34.5, SDBags: 4.6,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f bags\n", o.Bags)
	// Output: 35.9 bags
}

func ExampleNormalLoss() {
	fmt.Printf("%.4f standard deviations\n", stock.NormalLoss(1))
	// Output: 0.0833 standard deviations
}

// What to hold when green arrives after 10 days, give or take two?
func ExampleSafetyStock() {
	s, err := stock.SafetyStock(stock.Lead{DailyBags: 12, DailySDBags: 4, LeadDays: 10, LeadSDDays: 2}, 95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("order at %.0f bags, %.0f of them for safety\n", s.ReorderBags, s.SafetyBags)
	// Output: order at 165 bags, 45 of them for safety
}

func ExampleFillRatePct() {
	f, err := stock.FillRatePct(stock.Lead{DailyBags: 12, DailySDBags: 4, LeadDays: 10, LeadSDDays: 2}, 45, 240)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %%\n", f)
	// Output: 99.8 %
}

func ExampleSafetyForFill() {
	s, err := stock.SafetyForFill(stock.Lead{DailyBags: 12, DailySDBags: 4, LeadDays: 10, LeadSDDays: 2}, 240, 99)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f bags\n", s.SafetyBags)
	// Output: 26 bags
}
