package brewratio

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// fields lists the names of the refused fields of err, in order.
func fields(err error) []string {
	var in *InputError
	if !errors.As(err, &in) {
		return nil
	}
	var names []string
	for _, f := range in.Fields {
		names = append(names, f.Field)
	}
	return names
}

// same compares results with decimals by value.
func same(t *testing.T, got, want any) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want -, got +:\n%s", diff)
	}
}

func TestThreeFromTwo(t *testing.T) {
	b, err := Water(DoseAndRatio{d("10.0"), d("16.5")})
	same(t, err, nil)
	same(t, b, Brew{DoseG: d("10"), WaterG: d("165"), Ratio: d("16.5")})

	b, err = Dose(WaterAndRatio{d("165"), d("16.5")})
	same(t, err, nil)
	same(t, b, Brew{DoseG: d("10"), WaterG: d("165"), Ratio: d("16.5")})
	if got := b.DoseG.String(); got != "10" {
		t.Errorf("a dose that ends is printed as %s", got)
	}

	b, err = Dose(WaterAndRatio{d("100"), d("15")})
	same(t, err, nil)
	same(t, b, Brew{DoseG: d("6.666666666667"), WaterG: d("100"), Ratio: d("15"), Notes: Unending})

	b, err = Ratio(DoseAndWater{d("8.25"), d("150")})
	same(t, err, nil)
	same(t, b, Brew{DoseG: d("8.25"), WaterG: d("150"), Ratio: d("18.181818181818"), Notes: Unending})

	b, err = Ratio(DoseAndWater{d("150"), d("8.25")})
	same(t, err, nil)
	same(t, b, Brew{DoseG: d("150"), WaterG: d("8.25"), Ratio: d("0.055"), Notes: UnusualRatio})
}

// A recipe weighed to a hundredth of a gram survives every round trip.
func TestRoundTrips(t *testing.T) {
	for _, dose := range []string{"0.10", "5.00", "7.03", "8.25", "18.10", "33.33", "999.99", "99999.99", "100000"} {
		for _, r := range []string{"0.5", "1.9", "2", "6.66", "14.29", "16.5", "17.42", "18.18", "39.99", "40"} {
			w, err := Water(DoseAndRatio{d(dose), d(r)})
			if err != nil {
				t.Fatal(err)
			}
			if w.WaterG.LessThan(d("0.1")) {
				continue // too little water to be asked about
			}
			back, err := Dose(WaterAndRatio{w.WaterG, d(r)})
			if err != nil {
				t.Fatal(err)
			}
			if !back.DoseG.Equal(d(dose)) || back.Notes != 0 {
				t.Errorf("%s g at 1:%s came back as %s g (%v)", dose, r, back.DoseG, back.Notes)
			}
			q, err := Ratio(DoseAndWater{d(dose), w.WaterG})
			if err != nil {
				t.Fatal(err)
			}
			if !q.Ratio.Equal(d(r)) {
				t.Errorf("%s g at 1:%s came back as 1:%s", dose, r, q.Ratio)
			}
			// Any water, not only one that divides well, to its hundredth.
			water := w.WaterG.Round(2).Add(d("0.07"))
			b, err := Dose(WaterAndRatio{water, d(r)})
			if err != nil {
				continue // beyond the largest water
			}
			again, err := Water(DoseAndRatio{b.DoseG, d(r)})
			if err != nil {
				continue // beyond the largest dose
			}
			if !again.WaterG.Round(2).Equal(water) {
				t.Errorf("%s g of water at 1:%s came back as %s g", water, r, again.WaterG)
			}
		}
	}
}

func TestRatioRefusals(t *testing.T) {
	huge := decimal.New(1, 30000)
	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"smallest dose":      {second(Water(DoseAndRatio{d("0.1"), d("0.5")})), nil},
		"below it":           {second(Water(DoseAndRatio{d("0.09999999999"), d("0.5")})), []string{"DoseG"}},
		"largest":            {second(Water(DoseAndRatio{d("100000"), d("40")})), nil},
		"beyond both":        {second(Water(DoseAndRatio{d("100000.0001"), d("40.0001")})), []string{"DoseG", "Ratio"}},
		"g/L for a ratio":    {second(Water(DoseAndRatio{d("10"), d("55")})), []string{"Ratio"}},
		"zero":               {second(Water(DoseAndRatio{})), []string{"DoseG", "Ratio"}},
		"hostile":            {second(Water(DoseAndRatio{huge, huge.Neg()})), []string{"DoseG", "Ratio"}},
		"dose of zero":       {second(Dose(WaterAndRatio{})), []string{"WaterG", "Ratio"}},
		"dose at the limits": {second(Dose(WaterAndRatio{d("4000000"), d("40")})), nil},
		"too much water":     {second(Dose(WaterAndRatio{d("4000000.1"), d("40")})), []string{"WaterG"}},
		"ratio of zero":      {second(Ratio(DoseAndWater{})), []string{"DoseG", "WaterG"}},
		"ratio negative":     {second(Ratio(DoseAndWater{d("-1"), d("10")})), []string{"DoseG"}},
		"no bowls":           {second(Bowls(Batch{d("10"), d("165"), 0})), []string{"BowlsCount"}},
		"most bowls":         {second(Bowls(Batch{d("10"), d("165"), 10000})), nil},
		"more":               {second(Bowls(Batch{d("10"), d("0"), 10001})), []string{"WaterG", "BowlsCount"}},
		"no division":        {second(Round(OnScale{d("10"), d("0")})), []string{"DivisionG"}},
		"negative mass":      {second(Round(OnScale{d("-10"), d("0.1")})), []string{"MassG"}},
	} {
		if diff := cmp.Diff(c.want, fields(c.err)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	if b, err := Water(DoseAndRatio{d("10"), d("55")}); err == nil || !cmp.Equal(b, Brew{}) {
		t.Errorf("beside an error stands %v", b)
	}
}

func second[T any](_ T, err error) error { return err }

func TestRoundToDivision(t *testing.T) {
	for _, c := range []struct{ mass, div, want, err string }{
		{"8.25", "0.1", "8.3", "0.05"}, // a tie goes up
		{"8.24", "0.1", "8.2", "-0.04"},
		{"8.25", "0.5", "8.5", "0.25"},
		{"8.2", "0.2", "8.2", "0"},
		{"8.31", "0.2", "8.4", "0.09"},
		{"6.666666666667", "0.01", "6.67", "0.003333333333"},
		{"0.04", "0.1", "0", "-0.04"},
		{"1234", "5", "1235", "1"},
	} {
		r, err := Round(OnScale{d(c.mass), d(c.div)})
		same(t, err, nil)
		same(t, r, Rounded{d(c.want), d(c.err)})
	}
}

func TestBowlsKeepTheRatio(t *testing.T) {
	total, err := Bowls(Batch{d("8.25"), d("150"), 5})
	same(t, err, nil)
	same(t, total, Total{d("41.25"), d("750")})
}

// Any two numbers give an answer or a refusal, and the answer multiplies back.
func FuzzDose(f *testing.F) {
	f.Add("165", "16.5")                                    // ends
	f.Add("100", "15")                                      // does not end
	f.Add("1e9000", "1e-9000")                              // cheap to write, dear to print
	f.Add("0.1", "40")                                      // the smallest dose there is
	f.Add("4000000", "0.5")                                 // the largest
	f.Add("123456789.123456789123456789123456789", "16.66") // more digits than a scale has
	f.Fuzz(func(t *testing.T, water, ratio string) {
		w, err1 := decimal.NewFromString(water)
		r, err2 := decimal.NewFromString(ratio)
		if err1 != nil || err2 != nil || len(water)+len(ratio) > 200 {
			return
		}
		b, err := Dose(WaterAndRatio{w, r})
		if err != nil {
			if fields(err) == nil || !cmp.Equal(b, Brew{}) {
				t.Fatalf("%v beside %v", b, err)
			}
			return
		}
		off := b.DoseG.Mul(r).Sub(w).Abs()
		if off.GreaterThan(r.Mul(d("0.5e-12"))) {
			t.Fatalf("%s at 1:%s gives %s, which is %s off", water, ratio, b.DoseG, off)
		}
		if (b.Notes&Unending != 0) == off.IsZero() {
			t.Fatalf("%s at 1:%s: notes %q but %s off", water, ratio, b.Notes, off)
		}
	})
}
