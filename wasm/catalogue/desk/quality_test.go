package desk

import (
	"math"
	"strings"
	"testing"

	"example.org/evenlot/checkpoint"
	"example.org/evenlot/checkpoint/chart"
	"example.org/evenlot/checkpoint/sampling"
	"example.org/evenlot/checkpoint/uncertainty"
	"example.org/evenlot/wasm/catalogue"
)

// sheetOf evaluates a calculator's example with changes, by pairs.
func sheetOf(t *testing.T, c *catalogue.Calculator, changes ...string) catalogue.Sheet {
	t.Helper()
	s := c.Example()
	for i := 0; i+1 < len(changes); i += 2 {
		s[changes[i]] = changes[i+1]
	}
	sheet := c.Eval(s, nil)
	if sheet.Problem != "" || len(sheet.Faults) > 0 {
		t.Fatalf("%s: %q %v", c.ID, sheet.Problem, sheet.Faults)
	}
	return sheet
}

// place rounds v to the second digit of u.
func place(v, u float64) float64 {
	p := math.Pow(10, 1-math.Floor(math.Log10(u)))
	return math.Round(v*p) / p
}

// tells checks outputs: a number against the package called by hand, or words.
func tells(t *testing.T, s catalogue.Sheet, id string, want any) {
	t.Helper()
	for _, v := range s.Values {
		if v.ID != id {
			continue
		}
		switch w := want.(type) {
		case float64:
			if !(math.Abs(v.Number-w) <= 1e-9*math.Abs(w)+1e-12) {
				t.Errorf("%s: %s is %v, by hand %v", s.Calc, id, v.Number, w)
			}
		case int:
			if v.Number != float64(w) {
				t.Errorf("%s: %s is %v, by hand %d", s.Calc, id, v.Number, w)
			}
		case string:
			if !strings.Contains(v.Text, w) {
				t.Errorf("%s: %s is %q, want %q in it", s.Calc, id, v.Text, w)
			}
		}
		return
	}
	if want != nil {
		t.Errorf("%s gives no %s, want %v", s.Calc, id, want)
	}
}

func shows(t *testing.T, s catalogue.Sheet, figures int, words ...string) {
	t.Helper()
	if len(s.Figures) != figures {
		t.Fatalf("%s draws %d figures, want %d", s.Calc, len(s.Figures), figures)
	}
	all := ""
	for _, f := range s.Figures {
		all += f.SVG
	}
	for _, w := range words {
		if !strings.Contains(all, w) {
			t.Errorf("%s: no figure shows %q", s.Calc, w)
		}
	}
}

func noted(t *testing.T, s catalogue.Sheet, words string, want bool) {
	t.Helper()
	if got := strings.Contains(strings.Join(s.Notes, "\n"), words); got != want {
		t.Errorf("%s: note %q is %v, want %v: %q", s.Calc, words, got, want, s.Notes)
	}
}

func TestReadingVerdict(t *testing.T) {
	s := sheetOf(t, readingVerdict())
	v, err := checkpoint.Judge(checkpoint.Reading{Value: 11.7, U: 0.15}, checkpoint.Limit{Lo: 10, Hi: 12}, 5)
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "word", "in")
	tells(t, s, "in", v.InPct)
	tells(t, s, "alo", place(v.AcceptLo, 0.15))
	tells(t, s, "ahi", place(v.AcceptHi, 0.15))
	shows(t, s, 1, "true value", "readings called in", "at most")
	s = sheetOf(t, readingVerdict(), "y", "11.9")
	tells(t, s, "word", "too close to call")
	v, _ = checkpoint.Judge(checkpoint.Reading{Value: 11.9, U: 0.15}, checkpoint.Limit{Lo: 10, Hi: 12}, 5)
	tells(t, s, "need", sig(2*v.MaxU, 2))
	shows(t, s, 1, "f-flag")
	s = sheetOf(t, readingVerdict(), "y", "12.5", "lo", "")
	tells(t, s, "word", "out")
	tells(t, s, "alo", nil)
	noted(t, sheetOf(t, readingVerdict(), "pm", "5"), "too coarse", true)
	noted(t, sheetOf(t, readingVerdict(), "pm", "0", "y", "12"), "plain comparison", true)
	noted(t, sheetOf(t, readingVerdict(), "y", "12"), "stands on the limit", true)
	if s := readingVerdict(); s.Eval(catalogue.State{"y": "1", "pm": "1", "risk": "5"}, nil).Problem == "" {
		t.Error("a verdict without any limit")
	}
}

func TestOneReading(t *testing.T) {
	s := sheetOf(t, oneReading())
	m, err := uncertainty.Measured(uncertainty.Meter{Value: 11.4, Division: 0.1, RepeatabilitySD: 0.15, Readings: 3, CalibrationU: 0.3, CalibrationK: 2, CalibrationError: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "y", 11.2)
	tells(t, s, "u", sig(m.Quantity.U, 2))
	tells(t, s, "U", sig(1.959963984540054*m.Quantity.U, 2))
	tells(t, s, "most", "the calibration")
	shows(t, s, 1, "calibration")
	noted(t, sheetOf(t, oneReading(), "s", "", "U", "", "k", ""), "Nothing is said of the scatter", true)
}

func TestDrawn(t *testing.T) {
	s := sheetOf(t, drawnQuotient())
	tells(t, s, "most", "the divisor")
	tells(t, s, "first", sig(math.Sqrt((math.Pow(0.5/36, 2)+math.Pow(0.1/9.5, 2)+math.Pow(1.0/18, 2))/3)*19, 2))
	shows(t, s, 2, "divisor", "up to")
	noted(t, s, "curved", false)
	noted(t, sheetOf(t, drawnQuotient(), "uc", "14"), "curved", true)
	exact := sheetOf(t, drawnQuotient(), "ua", "0", "ub", "0", "uc", "0")
	tells(t, exact, "mean", 19.0)
	tells(t, exact, "most", "nothing")
	c := drawnQuotient()
	state := c.Example()
	state["uc"] = "18"
	if c.Eval(state, nil).Problem == "" {
		t.Error("a divisor that may be zero was drawn")
	}
}

func TestMeterLine(t *testing.T) {
	s := sheetOf(t, meterLine())
	l, err := uncertainty.FitLine(0, []float64{9.8, 10.6, 11.1, 11.9, 12.6}, []float64{10.1, 10.8, 11.4, 12.1, 12.9})
	if err != nil {
		t.Fatal(err)
	}
	q, _, err := uncertainty.ReadBack(l, 11, 1)
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "v", q.Value)
	tells(t, s, "b", l.Slope)
	tells(t, s, "s", sig(l.ResidualSD, 2))
	shows(t, s, 1, "true meter")
	noted(t, s, "outside the points", false)
	noted(t, sheetOf(t, meterLine(), "y", "14"), "outside the points", true)
}

func TestMeanOfReadings(t *testing.T) {
	x := []float64{1.38, 1.40, 1.39, 1.52, 1.41, 1.38}
	s := sheetOf(t, meanOfReadings())
	q, err := uncertainty.FromReadings(x)
	if err != nil {
		t.Fatal(err)
	}
	r, err := sampling.RobustMean(x)
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "mean", q.Value)
	tells(t, s, "sd", sig(q.U*math.Sqrt(6), 2))
	tells(t, s, "robust", place(r.Mean, q.U))
	tells(t, s, "median", 1.395)
	tells(t, s, "odd", "line 4, 1.52: flagged")
	shows(t, s, 1, "f-flag", "median")
	tells(t, sheetOf(t, meanOfReadings(), "x", "3\n3\n3"), "odd", "none")
	noted(t, sheetOf(t, meanOfReadings(), "x", "13.0\n13.1\n10.1\n10.3\n9.9\n10.0\n10.2\n10.1\n9.8\n10.0"), "2 readings together", true)
}

func TestLotBound(t *testing.T) {
	x := []float64{0.8, 1.1, 0.9, 1.3, 1.0, 1.2, 0.7, 1.1, 1.4, 1.0}
	claim := sampling.Claim{CoveragePct: 95, ConfidencePct: 95, Side: sampling.Upper, Lognormal: true, Division: 0.1}
	s := sheetOf(t, lotBound())
	b, err := sampling.ToleranceBound(x, claim)
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "hi", sig(b.Hi, 3))
	tells(t, s, "k", b.K)
	tells(t, s, "word", "holds")
	tells(t, s, "lo", nil)
	shows(t, s, 1, "upper bound", "limit", "mean")
	tells(t, sheetOf(t, lotBound(), "limit", "1.9"), "word", "cannot be made")
	claim.Side, claim.Lognormal = sampling.Lower, false
	b, _ = sampling.ToleranceBound(x, claim)
	s = sheetOf(t, lotBound(), "side", "lower", "shape", "plain", "limit", "0.2")
	tells(t, s, "lo", sig(b.Lo, 3))
	tells(t, s, "word", "holds")
	noted(t, sheetOf(t, lotBound(), "x", "1.1\n1.1\n1.1"), "step stands in", true)
}

func TestHowMany(t *testing.T) {
	s := sheetOf(t, howMany())
	n, err := sampling.ReadingsForBound(0.95/0.22, 95, 95)
	if err != nil {
		t.Fatal(err)
	}
	c, err := sampling.ZeroFailureInLot(600, 30, 95)
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "n", n)
	tells(t, s, "c", c)
	shows(t, s, 1, "needed", "yours")
	tells(t, sheetOf(t, howMany(), "lot", ""), "c", 59)
	tells(t, sheetOf(t, howMany(), "limit", "1.2"), "n", "no number is enough")
}

func TestAcceptancePlan(t *testing.T) {
	p := sampling.Points{GoodPct: 1, GoodAcceptPct: 95, BadPct: 8, BadAcceptPct: 10}
	a, err := sampling.PlanAttributes(p)
	if err != nil {
		t.Fatal(err)
	}
	v, err := sampling.PlanVariables(p, false)
	if err != nil {
		t.Fatal(err)
	}
	s := sheetOf(t, acceptancePlan())
	tells(t, s, "n", a.N)
	tells(t, s, "c", a.Ac)
	tells(t, s, "v", v.N)
	tells(t, s, "k", v.K)
	tells(t, s, "own", sig(100*math.Pow(0.92, 13), 3))
	shows(t, s, 1, "by measuring", "yours", "wanted")
	tells(t, sheetOf(t, acceptancePlan(), "n", ""), "own", nil)
}

func TestBelowDetection(t *testing.T) {
	s := sheetOf(t, belowDetection())
	e, err := sampling.Below(sampling.Censored{Detected: []float64{0.12, 0.15, 0.18, 0.24, 0.31, 0.40}, Below: 4, Limit: 0.1, Lognormal: true})
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "mean", sig(e.Mean, 2))
	tells(t, s, "lo", 0.14)
	tells(t, s, "hi", 0.18)
	tells(t, s, "share", 40.0)
	shows(t, s, 1, "detection limit")
	noted(t, sheetOf(t, belowDetection(), "m", "7"), "rests on the shape", true)
}

func TestControlChart(t *testing.T) {
	s := sheetOf(t, controlChart())
	pair, err := chart.Individuals([]float64{14.8, 15.1, 14.9, 15.0, 15.2, 14.9, 15.1, 15.0, 14.8, 15.0, 15.1, 14.9})
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "hi", place(pair.Level.Upper, pair.Level.Sigma))
	tells(t, s, "sigma", sig(pair.Level.Sigma, 2))
	tells(t, s, "word", "2 of 16")
	tells(t, s, "arl", 225)
	shows(t, s, 1, "f-flag", "judged from here", "upper line")
	if len(s.Tables) != 1 || len(s.Tables[0].Rows) != 2 || s.Tables[0].Rows[0][2] != "1" || s.Tables[0].Rows[0][3] != "beyond three sigma" {
		t.Errorf("%+v", s.Tables)
	}
	tells(t, sheetOf(t, controlChart(), "x", "14.8\n15.1\n14.9\n15.0\n15.2", "base", ""), "word", "none")
	both := sheetOf(t, controlChart(), "x", "13.2 13\n17.1 17\n12.9 13\n17.0 17\n13.1 13", "base", "")
	tells(t, both, "mid", 0.06)
	noted(t, both, "its own target", true)
	c := controlChart()
	state := c.Example()
	state["x"] = "13.2 13\n17.1\n12.9 13"
	if c.Eval(state, nil).Problem == "" {
		t.Error("half of the targets were taken")
	}
}

func TestGroupChart(t *testing.T) {
	x := []float64{251.2, 250.8, 251.5, 250.9, 251.1, 251.6, 251.3, 250.7, 251.0, 251.4, 251.2, 250.6, 250.9, 251.3, 251.1}
	r, err := chart.MeanAndRange(x, 3)
	if err != nil {
		t.Fatal(err)
	}
	s := sheetOf(t, groupChart())
	tells(t, s, "hi", place(r.Level.Upper, r.Level.Sigma))
	tells(t, s, "shi", sig(r.Spread.Upper, 3))
	tells(t, s, "word", "1 of 6")
	shows(t, s, 2, "f-flag", "Spread within the groups")
	d, err := chart.MeanAndSD(x, 3)
	if err != nil {
		t.Fatal(err)
	}
	tells(t, sheetOf(t, groupChart(), "by", "sd"), "hi", place(d.Level.Upper, d.Level.Sigma))
}

func TestSmallShift(t *testing.T) {
	s := sheetOf(t, smallShift())
	x := []float64{15.0, 14.9, 15.1, 15.3, 15.2, 15.4, 15.3, 15.3, 15.4}
	sums, err := chart.CUSUM(x, chart.Cumulate{Target: 15, Slack: 0.085, Decision: 0.85})
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "high", place(sums[8].High, 0.17))
	tells(t, s, "since", 3)
	tells(t, s, "word", "has moved")
	shows(t, s, 2, "within the lines", "calls above")
	tells(t, sheetOf(t, smallShift(), "x", "15.0\n14.9\n15.1"), "word", "has not clearly moved")
}

func TestCapabilityOf(t *testing.T) {
	s := sheetOf(t, capabilityOf())
	a, err := chart.Capability(chart.Still{Mean: 251.1, SD: 0.6, DF: 29, N: 30, Lo: 250, Hi: math.Inf(1), ConfidencePct: 95})
	if err != nil {
		t.Fatal(err)
	}
	tells(t, s, "cpk", sig(a.Cpk, 3))
	tells(t, s, "cpkl", sig(a.CpkLower, 3))
	tells(t, s, "out", sig(a.OutsidePct, 2))
	tells(t, s, "cp", nil)
	shows(t, s, 1, "at least")
	noted(t, s, "Bissell", false)
	both := sheetOf(t, capabilityOf(), "hi", "253")
	tells(t, both, "cp", sig(3/(6*0.6), 3))
	noted(t, both, "Bissell", true)
}
