package desk

import (
	"strings"
	"testing"

	"example.org/evenlot/checkpoint/stock"
	"example.org/evenlot/wasm/catalogue"
)

func weekends(t *testing.T) [][]stock.Bin {
	t.Helper()
	bins, err := stock.Tally([]int{31, 28, 35, 40, 33, 29, 36, 38, 31, 44, 30, 27, 35, 33, 39, 31, 36, 42, 34, 37})
	if err != nil {
		t.Fatal(err)
	}
	return [][]stock.Bin{bins}
}

func TestWeekendBuffer(t *testing.T) {
	c := weekendBuffer()
	h, err := stock.Buffer(stock.Wait{Days: weekends(t), LevelPct: dec("90")})
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"bags": float64(h.Bags), "roast": float64(h.Bags - 12), "batches": 2, "service": h.ServicePct, "fill": h.FillPct,
		"left": h.LeftBags, "short": h.ShortBags, "latest": 5, "earliest": 27})
	f, err := stock.FillBuffer(stock.Wait{Days: weekends(t), LevelPct: dec("99")})
	if err != nil {
		t.Fatal(err)
	}
	gives(t, answered(t, c, catalogue.State{"aim": "fill", "level": "99"}), map[string]float64{"bags": float64(f.Bags), "fill": f.FillPct})
	state := c.Example()
	state["days"], state["shelf"] = "9", "10"
	if s := c.Eval(state, nil); !strings.Contains(s.Problem, "rest and shelf") {
		t.Errorf("nine days on sale, five to rest, ten to keep: %q", s.Problem)
	}
	state = c.Example()
	state["d"] = "31 28.5 35"
	if s := c.Eval(state, nil); !strings.Contains(s.Problem, "whole number") {
		t.Errorf("half a bag: %q", s.Problem)
	}
	state = c.Example()
	state["level"] = "99"
	if s := c.Eval(state, nil); !strings.Contains(strings.Join(s.Notes, " "), "so short a record") {
		t.Errorf("99 %% from 20 weekends: %v", s.Notes)
	}
}

func TestRoastDays(t *testing.T) {
	c := roastDays()
	cycle := stock.Cycle{RoastDays: []int{0, 3}, RestDays: 3, ShelfDays: 21, LevelPct: dec("90")}
	for _, day := range [][]int{{3, 2, 4, 3, 2, 5, 3, 2}, {2, 4, 3, 3, 2, 3, 4, 3}, {4, 3, 2, 5, 3, 3, 2, 4}, {3, 2, 5, 2, 4, 3, 3, 6},
		{8, 9, 7, 10, 8, 9, 11, 8}, {12, 14, 11, 13, 15, 12, 10, 13}, {0, 0, 0, 0, 0, 0, 0, 0}} {
		bins, err := stock.Tally(day)
		if err != nil {
			t.Fatal(err)
		}
		cycle.Days = append(cycle.Days, bins)
	}
	plan, err := stock.RoastPlan(cycle)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, c, nil)
	gives(t, s, map[string]float64{"up1": float64(plan[0].UpTo), "up2": float64(plan[1].UpTo), "week": plan[0].MeanRoast + plan[1].MeanRoast, "stale": max(plan[0].StalePct, plan[1].StalePct)})
	if len(s.Tables) != 1 || len(s.Tables[0].Rows) != 2 {
		t.Errorf("tables %+v", s.Tables)
	}
	valueOf(t, answered(t, c, catalogue.State{"r3": "5"}), "up3")
	state := c.Example()
	state["r2"] = "0"
	if s := c.Eval(state, nil); !strings.Contains(s.Problem, "later in the week") {
		t.Errorf("the same day twice: %q", s.Problem)
	}
	state = c.Example()
	state["r2"], state["shelf"] = "none", "8"
	if s := c.Eval(state, nil); !strings.Contains(s.Problem, "must last") {
		t.Errorf("one roast a week for bags of eight days: %q", s.Problem)
	}
}

func TestBestStockSheet(t *testing.T) {
	o, err := stock.BestStock(weekends(t), stock.Trade{PriceEach: dec("9.50"), CostEach: dec("4.20"), LeftoverEach: dec("1")})
	if err != nil {
		t.Fatal(err)
	}
	gives(t, answered(t, bestStock(), nil), map[string]float64{"bags": o.Bags, "ratio": o.RatioPct, "service": o.ServicePct, "profit": o.Profit, "mismatch": o.Mismatch})
	state := bestStock().Example()
	state["c"] = "10"
	if s := bestStock().Eval(state, nil); len(s.Faults) == 0 {
		t.Errorf("a bag that costs more than it brings: %q", s.Problem)
	}
}

func TestSafetyStockSheet(t *testing.T) {
	w, err := stock.SafetyStock(stock.Lead{DailyBags: 12, DailySDBags: 4, LeadDays: 10, LeadSDDays: 2}, 90)
	if err != nil {
		t.Fatal(err)
	}
	s := answered(t, safetyStock(), nil)
	gives(t, s, map[string]float64{"order": w.ReorderBags, "safety": w.SafetyBags, "spread": w.SpreadBags})
	answered(t, safetyStock(), catalogue.State{"sd": "0", "lsd": "0"})
}
