package desk

import (
	"example.org/evenlot/checkpoint/stock"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
)

func weekendBuffer() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "weekend-buffer",
		Place:    catalogue.QualityDesk,
		Order:    90,
		Name:     "Bags for the weekend",
		Question: "How many roasted bags must be there when the weekend begins?",
		Keywords: "buffer stock service level fill rate demand histogram rest shelf",
		Fields: []catalogue.Field{
			record(weekendsOf, "One number for each weekend in the past, twenty or more: 31 28 35"),
			chosen("aim", "Aim", "", "Never to run out in so many weekends, or to serve so many of the bags asked for", "service",
				catalogue.Option{ID: "service", Label: "not to run out, in a share of weekends"}, catalogue.Option{ID: "fill", Label: "to serve a share of the bags asked for"}),
			levelField("Level", "Like 90: nine weekends of ten, or nine bags of ten"),
			given("have", "Bags at hand and at rest", "", "", 0, stock.MaxTotalBags, "12", "Have", "Those that will be rested and not stale on the weekend; 0 for none"),
			given("batch", "Bags that a batch fills", "", "", 1, stock.MaxTotalBags, "24", "PerBatch", "1 where any number will do"),
			given("days", "Days from first to last of selling", "", "", 1, 31, "2", "ToDay", "2 for Saturday and Sunday"),
			given("rest", "Rest before selling", "r", "d", 0, stock.MaxRestDays, "5", "RestDays", "Days after the roast, like 5"),
			given("shelf", "Last day of selling", "w", "d", 0, stock.MaxShelfDays, "28", "ShelfDays", "Days after the roast, like 28"),
		},
		Outputs: []catalogue.Output{
			{ID: "bags", Label: "Bags when the weekend begins", Symbol: "S"},
			{ID: "roast", Label: "To roast"},
			{ID: "batches", Label: "In batches"},
			{ID: "service", Label: "Weekends without running out", Unit: "%"},
			{ID: "fill", Label: "Of the bags asked for, served", Unit: "%"},
			{ID: "left", Label: "Left over on average, bags"},
			{ID: "short", Label: "Short on average, bags"},
			{ID: "latest", Label: "Roast at the latest, days before the first day"},
			{ID: "earliest", Label: "and at the earliest, days before"},
		},
		Compute:  computeBuffer,
		Cautions: []string{askedFor, "Past weekends are no promise: a fair, a holiday or a new customer is in no histogram."},
		Sources:  []catalogue.Source{countingIt, stockBook},
		Checks:   []catalogue.Check{{Package: "checkpoint/stock", Quantity: "share of a total"}, {Package: "checkpoint/stock", Quantity: "best stock"}},
	}
}

func computeBuffer(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "have", "Have", "batch", "PerBatch", "days", "ToDay", "rest", "RestDays", "shelf", "ShelfDays"); err != nil {
		return err
	}
	bins, err := histogram(in.Columns("d")[0])
	if err != nil {
		return err
	}
	wait := stock.Wait{Days: [][]stock.Bin{bins}, LevelPct: in.D("level")}
	find := stock.Buffer
	if in.Choice("aim") == "fill" {
		find = stock.FillBuffer
	}
	h, err := find(wait)
	if err != nil {
		return err
	}
	w, err := stock.RoastWindow(stock.Sale{FromDay: 0, ToDay: in.Int("days") - 1, RestDays: in.Int("rest"), ShelfDays: in.Int("shelf")})
	if err != nil {
		return err
	}
	r, err := stock.ToRoast(stock.Need{UpTo: h.Bags, Have: in.Int("have"), PerBatch: in.Int("batch")})
	if err != nil {
		return err
	}
	out.SetCount("bags", h.Bags)
	out.SetCount("roast", r.Bags)
	out.SetCount("batches", r.Batches)
	out.Set("service", sig(h.ServicePct, 3))
	out.Set("fill", sig(h.FillPct, 3))
	out.Set("left", sig(h.LeftBags, 3))
	out.Set("short", sig(h.ShortBags, 3))
	out.SetCount("latest", -w.LatestDay)
	out.SetCount("earliest", -w.EarliestDay)
	if !out.Full() {
		return nil
	}
	n := len(in.Columns("d")[0])
	within := 0
	for _, b := range bins {
		if b.Bags <= h.Bags {
			within += b.Times
		}
	}
	out.Work("P = 100*k/n", "P", percent(h.ServicePct, 4), "k", counted(within), "n", counted(n))
	out.Work("β = 100*(1 - S_short/D_m)", "β", percent(h.FillPct, 4), "S_short", bagsOf(h.ShortBags), "D_m", bagsOf(h.MeanBags))
	out.Note("{} of {} past weekends asked for no more than {} bags.", counted(within), counted(n), counted(h.Bags))
	out.Note("Running out and bags not served are two things: say which level is meant.")
	sayStock(out, h.Notes)
	var bars []figure.Bar
	for _, b := range bins[:min(len(bins), drawn)] {
		bars = append(bars, figure.Bar{X: float64(b.Bags), Width: 0.9, Hi: float64(b.Times), Flag: b.Bags > h.Bags})
	}
	lo, hi := float64(bins[0].Bags), float64(max(bins[len(bins)-1].Bags, h.Bags))
	out.Figure(figure.Plot{
		Title: "Past weekends and the buffer",
		Desc:  out.Say("How often each demand was seen; {} bags last {} of the weekends.", counted(h.Bags), percent(h.ServicePct, 3)),
		X:     figure.Axis{Label: "Bags asked for", Min: lo - 1, Max: hi + 1},
		Y:     figure.Axis{Label: "Weekends"},
		Bars:  bars,
		Marks: []figure.Mark{{Name: "buffer", At: float64(h.Bags) + 0.5, Vertical: true}},
	})
	return nil
}

var weekdays = [...]string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}

func roastDays() *catalogue.Calculator {
	days := make([]catalogue.Option, 0, 7)
	cols := make([]catalogue.Column, 0, 7)
	for i, d := range weekdays {
		id := counted(i)
		days = append(days, catalogue.Option{ID: id, Label: d})
		cols = append(cols, catalogue.Column{ID: "d" + id, Label: d, Unit: "bags", Min: 0, Max: stock.MaxBags})
	}
	no := append([]catalogue.Option{{ID: "none", Label: "no further roast day"}}, days...)
	return &catalogue.Calculator{
		ID:       "roast-days",
		Place:    catalogue.QualityDesk,
		Order:    92,
		Name:     "Bags on each roast day",
		Question: "How many bags should there be after each roast of the week?",
		Keywords: "production plan order up to periodic review roast day rest shelf week",
		Fields: []catalogue.Field{
			{ID: "d", Label: "Past weeks", Kind: catalogue.Series, Columns: cols, GoField: "Days",
				Example: "3 2 4 3 8 12 0\n2 4 3 2 9 14 0\n4 3 2 5 7 11 0\n3 3 5 2 10 13 0\n2 2 3 4 8 15 0\n5 3 3 3 9 12 0\n3 4 2 3 11 10 0\n2 3 4 6 8 13 0",
				Help:    "One week a line: bags asked for from Monday to Sunday, 0 on a closed day"},
			chosen("r1", "First roast day", "RoastDays", "Roasts are done before opening", "0", days...),
			chosen("r2", "Second roast day", "RoastDays", "Later in the week than the first", "3", no...),
			chosen("r3", "Third roast day", "RoastDays", "Later in the week than the second", "none", no...),
			given("rest", "Rest before selling", "r", "d", 0, stock.MaxRestDays, "3", "RestDays", "Days after the roast, like 3"),
			given("shelf", "Last day of selling", "w", "d", 0, stock.MaxShelfDays, "21", "ShelfDays", "Days after the roast, like 21"),
			levelField("Not to run out, in a share of stretches between roasts", "Like 90"),
		},
		Outputs: []catalogue.Output{
			{ID: "up1", Label: "After the first roast day, at hand and at rest"},
			{ID: "up2", Label: "After the second"},
			{ID: "up3", Label: "After the third"},
			{ID: "week", Label: "Roasted in a week on average, bags"},
			{ID: "stale", Label: "Most often left past their last day, after a roast", Unit: "%"},
		},
		Compute: computeRoastDays,
		Cautions: []string{askedFor, "The days are taken as independent of each other. Count the bags before opening on the roast day, leave out those that will be stale, and roast the difference.",
			"Rest and last day come from how this coffee tastes and from its bag; what food law says about dates comes before both."},
		Sources: []catalogue.Source{countingIt, stockBook},
		Checks:  []catalogue.Check{{Package: "checkpoint/stock", Quantity: "share of a total"}, {Package: "checkpoint/stock", Quantity: "order-up-to level"}},
	}
}

func computeRoastDays(in *catalogue.In, out *catalogue.Out) error {
	if err := wholes(in, "rest", "RestDays", "shelf", "ShelfDays"); err != nil {
		return err
	}
	cols := in.Columns("d")
	cycle := stock.Cycle{RestDays: in.Int("rest"), ShelfDays: in.Int("shelf"), LevelPct: in.D("level")}
	for _, c := range cols {
		day, err := histogram(c)
		if err != nil {
			return err
		}
		cycle.Days = append(cycle.Days, day)
	}
	for _, id := range []string{"r1", "r2", "r3"} {
		if c := in.Choice(id); c != "none" {
			cycle.RoastDays = append(cycle.RoastDays, int(c[0]-'0'))
		}
	}
	for i := 1; i < len(cycle.RoastDays); i++ {
		if cycle.RoastDays[i] <= cycle.RoastDays[i-1] {
			return missing("each roast day must lie later in the week than the one before")
		}
	}
	plan, err := stock.RoastPlan(cycle)
	if err != nil {
		return err
	}
	total, stale := 0.0, 0.0
	for i, r := range plan {
		out.SetCount("up"+counted(i+1), r.UpTo)
		total += r.MeanRoast
		stale = max(stale, r.StalePct)
	}
	out.Set("week", sig(total, 3))
	out.Set("stale", sig(stale, 3))
	if !out.Full() {
		return nil
	}
	var rows [][]string
	var bars []figure.Bar
	for i, r := range plan {
		rows = append(rows, []string{weekdays[r.Day], counted(r.UpTo), bagsOf(r.MeanRoast), counted(r.CoverFrom), counted(r.CoverTo), percent(r.ServicePct, 3), bagsOf(r.StaleBags), percent(r.StalePct, 2)})
		bars = append(bars, figure.Bar{Name: weekdays[r.Day], X: float64(i + 1), Width: 0.6, Hi: float64(r.UpTo)})
		sayStock(out, r.Notes)
	}
	out.Table("Roast days", []string{"Roast day", "Bags after it", "To roast on average", "Sold from day", "to day", "Does not run out", "Left past their last day, bags", "Any left"}, rows)
	out.Work("k = d + r", "k", counted(plan[0].CoverTo+1), "d", counted(plan[0].CoverTo-cycle.RestDays+1), "r", counted(cycle.RestDays))
	out.Note("After a roast the bags must last until the next roast's are rested: k days, with d days from one roast to the next.")
	out.Note("On the day roast the difference between these bags and what is there before opening.")
	out.Figure(figure.Plot{
		Title: "Bags after each roast",
		Desc:  out.Say("Bags at hand and at rest after each roast of the week, {} of them roasted in a week on average.", bagsOf(total)),
		X:     figure.Axis{Label: "Roast day"},
		Y:     figure.Axis{Label: "Bags", Min: 0},
		Bars:  bars,
	})
	return nil
}
