package rest

import (
	"math"

	"example.org/evenlot/degas"
	"example.org/evenlot/internal/num"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/figure"
	"github.com/shopspring/decimal"
)

// Invented readings: 300 g in an open dish, and 120 g in a jar of two litres.
const (
	exampleWeighings = "0.04 300.00\n0.2 299.80\n0.5 299.57\n1 299.29\n2 298.92\n3 298.66\n5 298.31\n7 298.10\n10 297.89\n14 297.75\n21 297.66\n28 297.65"
	exampleJar       = "0.04 101.3\n0.2 103.6\n0.5 107.1\n1 111.3\n2 116.9\n3 120.8\n5 125.9\n7 129.0\n10 131.9\n14 133.8\n21 135.4"
)

// The shapes a fit may try.
const (
	bentShape = "stretched"
	poolShape = "pools"
	oneShape  = "one"
)

func shapeField() catalogue.Field {
	return catalogue.Field{ID: "shape", Label: "Shape of curve", Kind: catalogue.Choice, Example: bentShape,
		Choices: []catalogue.Option{{ID: bentShape, Label: "Stretched exponential"}, {ID: poolShape, Label: "Two pools"}, {ID: oneShape, Label: "One pool, first order"}},
		Help:    "Begin with the stretched exponential; the table below says which of the three the readings prefer"}
}

func shapeOf(choice string) degas.Curve {
	switch choice {
	case poolShape:
		return degas.TwoPools{}
	case oneShape:
		return degas.FirstOrder{}
	}
	return degas.Stretched{}
}

var shapes = []catalogue.Option{{ID: bentShape, Label: "Stretched exponential"}, {ID: poolShape, Label: "Two pools"}, {ID: oneShape, Label: "One pool, first order"}}

// exact marks a setting: a fit is not run again for its digits.
func exact(f catalogue.Field) catalogue.Field {
	f.Exact = true
	return f
}

func withinField() catalogue.Field {
	return catalogue.Field{ID: "within", Label: "Refuse unless the content is known to", Symbol: "w", Unit: "%", Min: 1, Max: 100, GoField: "WithinPct", Example: "50", Exact: true,
		Help: "At 95 %, like 50. Readings that cannot tell better give no answer"}
}

func fitOutputs() []catalogue.Output {
	return []catalogue.Output{
		{ID: "gas", Label: "Gas at drop", Symbol: "M_0", Unit: "mg/g"},
		{ID: "first", Label: "Gas left at the first reading", Symbol: "M_1", Unit: "mg/g"},
		{ID: "left", Label: "Gas left at the age asked about", Symbol: "L", Unit: "%"},
		{ID: "until", Label: "Age when it comes down to the level", Unit: "d"},
	}
}

func gasWeighings() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "gas-weighings",
		Place:    catalogue.RestShelf,
		Order:    50,
		Name:     "A curve from weighings",
		Question: "What release curve do my repeated weighings of one open sample give, and how well do they know it?",
		Keywords: "fit degassing gravimetric balance scale residuals uncertainty least squares AICc",
		Fields: []catalogue.Field{
			{ID: "rows", Label: "Weighings", Kind: catalogue.Series, GoField: "Readings", Example: exampleWeighings,
				Columns: []catalogue.Column{{ID: "t", Label: "Age", Unit: "d", Max: degas.MaxDays}, {ID: "m", Label: "Mass", Unit: "g", Min: 1, Max: 100000}},
				Help:    "Age in days and mass in g without the dish, one weighing a line. Eight and more, close together on the first day"},
			shapeField(),
			{ID: "d", Label: "Division of the balance", Symbol: "d", Unit: "g", Min: 0.00001, Max: 100, GoField: "DivisionG", Example: "0.01", Exact: true, Help: "Its last digit, like 0.01"},
			{ID: "s", Label: "Repeatability of the balance", Symbol: "s", Unit: "g", Min: 0, Max: 100, GoField: "RepeatabilityG", Example: "0.01", Exact: true, Help: "Standard deviation of ten weighings of one thing, like 0.01"},
			{ID: "drift", Label: "Drift of the balance", Symbol: "u_b", Unit: "g/d", Min: 0, Max: 10, GoField: "DriftGPerDay", Example: "0", Exact: true, Group: "What runs away in a straight line", Help: "Standard uncertainty, from a test mass weighed beside the sample; 0 for none"},
			{ID: "w", Label: "Moisture taken up", Symbol: "w", Unit: "mg/(g·d)", Min: -10, Max: 10, GoField: "PickupMgPerGDay", Example: "0.01", Exact: true, Group: "What runs away in a straight line", Help: "From a witness of old coffee in the same room, like 0.01; minus if it dries"},
			{ID: "uw", Label: "Its standard uncertainty", Symbol: "u_w", Unit: "mg/(g·d)", Min: 0, Max: 10, GoField: "PickupUncertaintyMgPerGDay", Example: "0.01", Exact: true, Group: "What runs away in a straight line", Help: "Like 0.01"},
			exact(ageField("t", "Age asked about", "10", "Like 10")), exact(levelField("33")), withinField(),
		},
		Outputs: fitOutputs(),
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			w := degas.Weighings{DivisionG: in.D("d"), RepeatabilityG: in.F("s"), DriftGPerDay: in.F("drift"),
				PickupMgPerGDay: in.F("w"), PickupUncertaintyMgPerGDay: in.F("uw"), WithinPct: in.F("within")}
			cols := in.Columns("rows")
			for i := range cols[0] {
				w.Readings = append(w.Readings, degas.Weighing{Days: cols[0][i], MassG: decimal.NewFromFloat(cols[1][i])})
			}
			fit := func(like degas.Curve) (degas.Fit, error) { return degas.FitWeighings(w, like) }
			f, err := showFit(in, out, fit)
			if err != nil || !out.Full() {
				return err
			}
			out.Work("m = m_1 - G*(F_t - F_1) + b*(t - t_1)", "b", catalogue.Num(f.Slope.Value, 2)+" g/d")
			perMg := cols[1][0] / 1000 // g for each mg/g
			showReadings(out, f, "Mass less curve, g", func(r degas.Residual) float64 { return r.Left / perMg })
			out.Note("Moisture and gas cannot be told apart by weighing: what is not stated about the pick-up goes into the gas.")
			return nil
		},
		Cautions: []string{"Keep the sample in moving air: the gas gathers in a closed cupboard."},
		Sources: []catalogue.Source{
			{Name: "Smrke and others, J. Agric. Food Chem. 66, 5293, 2018", Locator: "weighing as a method; abstract", Provenance: "quoted"},
			{Name: "Bates and Watts, Nonlinear Regression Analysis and Its Applications, 1988", Locator: "intervals", Provenance: "memory"},
			{Name: "Burnham and Anderson, Model Selection and Multimodel Inference, 2nd ed., 2002", Locator: "AICc", Provenance: "memory"},
		},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "amount gone, stretched"}, {Package: "degas", Quantity: "amount gone, two pools"}},
	}
}

func gasJar() *catalogue.Calculator {
	return &catalogue.Calculator{
		ID:       "gas-jar",
		Place:    catalogue.RestShelf,
		Order:    80,
		Name:     "A curve from the pressure in a jar",
		Question: "What release curve does the rising pressure in my closed jar give?",
		Keywords: "fit degassing manometric gauge headspace sealed",
		Fields: []catalogue.Field{
			{ID: "rows", Label: "Pressures", Kind: catalogue.Series, GoField: "Readings", Example: exampleJar,
				Columns: []catalogue.Column{{ID: "t", Label: "Age", Unit: "d", Max: degas.MaxDays}, {ID: "p", Label: "Pressure", Unit: "kPa", Min: -100, Max: 1000}},
				Help:    "Age in days and pressure in kPa, all absolute or all gauge, one reading a line. Eight and more"},
			shapeField(),
			{ID: "v", Label: "Inside volume of the jar", Symbol: "V_j", Unit: "mL", Min: 10, Max: 1e6, GoField: "VolumeML", Example: "2010", Exact: true, Help: "Filled with water to the lid and weighed, like 2010"},
			{ID: "uv", Label: "Standard uncertainty of what the gas fills", Symbol: "u_V", Unit: "mL", Min: 0, Max: 2e5, GoField: "VolumeUncertaintyML", Example: "10", Exact: true, Help: "Of jar and beans together, like 10"},
			{ID: "m", Label: "Coffee", Symbol: "m", Unit: "g", Min: 1, Max: 1e6, GoField: "CoffeeG", Example: "120", Exact: true, Help: "As the scale shows it, like 120; little coffee in much volume, so that the pressure does not hold it back"},
			{ID: "rho", Label: "Density of the bean", Symbol: "ρ", Unit: "g/mL", Min: 0.3, Max: 1.6, GoField: "DensityGPerML", Example: "0.80", Exact: true, Help: "Of the particle, not in bulk, like 0.80"},
			exact(tempField("temp", "Temperature, held constant", "T", "TempC", "22")),
			{ID: "d", Label: "Last digit of the gauge", Symbol: "d", Unit: "kPa", Min: 0.00001, Max: 10, GoField: "ResolutionKPa", Example: "0.1", Exact: true, Help: "Like 0.1"},
			{ID: "s", Label: "Repeatability of the gauge", Symbol: "s", Unit: "kPa", Min: 0, Max: 10, GoField: "RepeatabilityKPa", Example: "0.2", Exact: true, Help: "Standard deviation of its readings; with the barometer's swing if it reads gauge, like 0.2"},
			{ID: "drift", Label: "Drift of the gauge", Symbol: "u_b", Unit: "kPa/d", Min: 0, Max: 10, GoField: "DriftKPaPerDay", Example: "0", Exact: true, Help: "Standard uncertainty, from an empty jar; 0 for none"},
			exact(ageField("t", "Age asked about", "10", "Like 10")), exact(levelField("33")), withinField(),
		},
		Outputs: fitOutputs(),
		Compute: func(in *catalogue.In, out *catalogue.Out) error {
			j := degas.Jar{VolumeML: in.F("v"), VolumeUncertaintyML: in.F("uv"), CoffeeG: in.F("m"), DensityGPerML: in.F("rho"), TempC: in.F("temp"),
				ResolutionKPa: in.F("d"), RepeatabilityKPa: in.F("s"), DriftKPaPerDay: in.F("drift"), WithinPct: in.F("within")}
			cols := in.Columns("rows")
			for i := range cols[0] {
				j.Readings = append(j.Readings, degas.JarReading{Days: cols[0][i], PressureKPa: cols[1][i]})
			}
			fit := func(like degas.Curve) (degas.Fit, error) { return degas.FitJar(j, like) }
			f, err := showFit(in, out, fit)
			if err != nil || !out.Full() {
				return err
			}
			v, err := degas.CO2MLPerG(degas.Conditions{TempC: j.TempC, PressureKPa: degas.AtmosphereKPa})
			if err != nil {
				return err
			}
			free := j.VolumeML - j.CoffeeG/j.DensityGPerML
			perMg := j.CoffeeG * v / 1000 * degas.AtmosphereKPa / free // kPa for each mg/g
			out.Work("V = V_j - m/ρ", "V", catalogue.Num(free, 4)+" mL", "V_j", in.Text("v"), "m", in.Text("m"), "ρ", in.Text("rho"))
			out.Work("P = P_1 + M_0*m*v*101.325/V*(F_t - F_1)", "m", in.Text("m"), "v", catalogue.Num(v/1000, 4)+" mL/mg", "V", catalogue.Num(free, 4)+" mL", "M_0", catalogue.Num(f.Coffee.GasMgPerG, 3)+" mg/g")
			showReadings(out, f, "Pressure less curve, kPa", func(r degas.Residual) float64 { return -r.Left / perMg })
			return nil
		},
		Cautions: []string{"A closed jar of fresh coffee builds up pressure that can burst it. Use a vessel that is made for it, with a relief valve, and keep away from its lid."},
		Sources: []catalogue.Source{idealCO,
			{Name: "Bates and Watts, Nonlinear Regression Analysis and Its Applications, 1988", Locator: "intervals", Provenance: "memory"}},
		Checks: []catalogue.Check{{Package: "degas", Quantity: "gas from the pressure in a jar"}, {Package: "degas", Quantity: "volume of a gram of carbon dioxide"}},
	}
}

// showFit fits the shape chosen, sets the outputs and, in the full run, draws
// the curve and compares the three shapes.
func showFit(in *catalogue.In, out *catalogue.Out, fit func(like degas.Curve) (degas.Fit, error)) (degas.Fit, error) {
	f, err := fit(shapeOf(in.Choice("shape")))
	if err != nil {
		return f, err
	}
	const why = "the readings"
	out.SetU("gas", f.Estimates[0].Value, f.Estimates[0].SE, why)
	out.SetU("first", f.AtFirst.Value, f.AtFirst.SE, why)
	b, err := f.Left(in.F("t"))
	if err != nil {
		return f, err
	}
	// A 95 % interval is two standard uncertainties to either side.
	out.SetU("left", b.LeftPct, (b.HighPct-b.LowPct)/4, why)
	until, err := degas.DaysUntil(f.Coffee.Curve, in.F("level"))
	if err != nil {
		return f, err
	}
	out.SetU("until", until, spread(f, in.F("level"), until), why)
	if !out.Full() {
		return f, nil
	}

	noteOn(out, f.Notes)
	head := []string{"What", "Value", "95 % from", "to"}
	var rows [][]string
	for _, e := range f.Estimates {
		rows = append(rows, []string{estimateName(out, e.Name), catalogue.Num(e.Value, 3), catalogue.Num(e.Low, 3), catalogue.Num(e.High, 3)})
	}
	rows = append(rows, []string{out.Say("What ran away in a straight line, a day"), catalogue.Num(f.Slope.Value, 3), catalogue.Num(f.Slope.Low, 3), catalogue.Num(f.Slope.High, 3)})
	out.Table("What the readings say", head, rows)
	for i, e := range f.Estimates {
		if e.Name == "TauDays" || e.Name == "SlowTauDays" {
			out.Note("Content and time scale go together: their errors correlate by {}. Use both from one fit, never one alone.", catalogue.Num(f.Correlation[0][i], 2))
		}
	}
	compareShapes(out, fit)
	return f, nil
}

func estimateName(out *catalogue.Out, name string) string {
	switch name {
	case "GasMgPerG":
		return out.Say("Gas at drop, mg/g")
	case "TauDays":
		return out.Say("Time scale τ, d")
	case "Exponent":
		return out.Say("Shape β")
	case "FastPct":
		return out.Say("Share in the fast pool, %")
	case "FastTauDays":
		return out.Say("Time scale of the fast pool, d")
	case "SlowTauDays":
		return out.Say("Time scale of the slow pool, d")
	}
	return name
}

// spread is the standard uncertainty of the age at which the fit comes down to
// a level: from where its band does.
func spread(f degas.Fit, level, until float64) float64 {
	if !(until > 0) {
		return 0
	}
	lo, hi := math.Log(until*1e-3), math.Log(math.Min(until*1e3, degas.MaxDays))
	edge := func(high bool) float64 {
		over := func(log float64) float64 {
			b, err := f.Left(math.Min(math.Exp(log), degas.MaxDays))
			if err != nil {
				return math.NaN()
			}
			if high {
				return b.HighPct - level
			}
			return b.LowPct - level
		}
		at, ok := num.Root(over, lo, hi, 1e-9)
		if !ok { // it comes down later
			at = hi
		}
		return math.Exp(at)
	}
	return (edge(true) - edge(false)) / 4
}

// compareShapes says which shape the readings prefer.
func compareShapes(out *catalogue.Out, fit func(like degas.Curve) (degas.Fit, error)) {
	var fits []degas.Fit
	var names []string
	var rows [][]string
	for _, s := range shapes {
		f, err := fit(shapeOf(s.ID))
		if err != nil {
			rows = append(rows, []string{s.Label, out.Say("cannot tell"), "–", "–", "–"})
			continue
		}
		fits, names = append(fits, f), append(names, s.Label)
	}
	if len(fits) < 2 {
		return
	}
	ranks, err := degas.Compare(fits...)
	if err != nil {
		return
	}
	best := make([][]string, 0, len(shapes))
	for i, r := range ranks {
		f := fits[i]
		best = append(best, []string{names[i], catalogue.Num(f.ChiSquare, 3) + " / " + catalogue.Shortest(float64(f.DF)), catalogue.Num(r.AICc, 4), catalogue.Num(r.Delta, 2), belief(r.WeightPct)})
	}
	out.Table("Which shape the readings prefer", []string{"Shape", "χ² / degrees of freedom", "AICc", "behind the best", "share of belief"}, append(best, rows...))
}

// belief prints a share of belief, without digits that nobody believes.
func belief(pct float64) string {
	if pct < 0.1 {
		return "< 0.1 %"
	}
	return catalogue.Num(pct, 2) + " %"
}

// showReadings draws the curve with its band and the readings on it, and what
// the curve leaves of them. leftMgPerG turns a residual into gas left.
func showReadings(out *catalogue.Out, f degas.Fit, what string, leftMgPerG func(r degas.Residual) float64) {
	last := f.Residuals[len(f.Residuals)-1].Days
	x := ages(math.Min(degas.MaxDays, 1.3*last), 80)
	mid, lo, hi := make([]float64, len(x)), make([]float64, len(x)), make([]float64, len(x))
	for i, d := range x {
		b, err := f.Left(d)
		if err != nil {
			b.LeftMgPerG, b.LowMgPerG, b.HighMgPerG = nan, nan, nan
		}
		mid[i], lo[i], hi[i] = b.LeftMgPerG, b.LowMgPerG, b.HighMgPerG
	}
	n := len(f.Residuals)
	t, y, rest, sigmas := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	flagged := make([]bool, n)
	for i, r := range f.Residuals {
		b, err := f.Left(r.Days)
		if err != nil {
			b.LeftMgPerG = nan
		}
		t[i], y[i], rest[i], sigmas[i] = r.Days, b.LeftMgPerG+leftMgPerG(r), r.Left, r.InSigmas
		flagged[i] = math.Abs(r.InSigmas) > 3
	}
	out.Figure(figure.Plot{
		Title:  "Gas left, by your readings",
		Desc:   out.Say("Gas left per gram against age: the fitted curve, its 95 % band, and {} readings.", catalogue.Shortest(float64(n))),
		X:      figure.Axis{Label: "Age", Unit: "days", Max: x[len(x)-1]},
		Y:      figure.Axis{Label: "Gas left", Unit: "mg/g", Max: nan},
		Bands:  []figure.Band{{Name: "95 % of the curve", X: x, Lo: lo, Hi: hi}},
		Lines:  []figure.Line{{Name: "fitted curve", X: x, Y: mid}},
		Points: []figure.Points{{Name: "readings", X: t, Y: y}},
	})
	out.Figure(figure.Plot{
		Title:  "What the curve leaves of the readings",
		Desc:   out.Say("Reading less curve, over the stated uncertainty of a reading, against age. A trend says that the shape is wrong."),
		X:      figure.Axis{Label: "Age", Unit: "days"},
		Y:      figure.Axis{Label: "Reading less curve, in σ"},
		Marks:  []figure.Mark{{Name: "0", At: 0}, {Name: "+2 σ", At: 2}, {Name: "−2 σ", At: -2}},
		Points: []figure.Points{{Name: "residuals", X: t, Y: sigmas, Flagged: flagged}},
	})
	rows := make([][]string, n)
	for i := range rows {
		rows[i] = []string{catalogue.Shortest(t[i]), catalogue.Num(rest[i], 3), catalogue.Num(sigmas[i], 2)}
	}
	out.Table("Residuals", []string{"Age, d", what, "in σ"}, rows)
}
