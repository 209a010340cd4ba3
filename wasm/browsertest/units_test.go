package browsertest

import (
	"math"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/lot"
	"github.com/chromedp/chromedp/kb"
)

// Switching a unit converts what was typed, and the answer stays the same
// question's; switching back gives the very characters. Every unit of every
// number of one calculator per bundle.
func TestUnits(t *testing.T) {
	// A plus-minus is a difference: a degree of it has no zero point.
	difference := func(unit string) string {
		switch unit {
		case "°C":
			return "K"
		case "°F":
			return "°F difference"
		}
		return unit
	}
	half := func(text string) float64 {
		_, places, _ := strings.Cut(text, ".")
		return 0.5 * math.Pow10(-len(places))
	}
	var switched, widened atomic.Int64
	t.Cleanup(func() {
		if switched.Load() == 0 || widened.Load() == 0 {
			t.Error("no unit was switched, or none left more open than its digits say")
		}
	})
	for _, c := range onePerBundle(t) {
		t.Run(c.ID, func(t *testing.T) {
			t.Parallel()
			b := open(t, home)
			b.visit(c.ID + "/")
			b.click("#example")
			b.same(c.Eval(c.Example(), nil))
			for _, f := range own(c) {
				if f.Example == "" {
					continue
				}
				id := "#" + control(c, f)
				value := `document.querySelector(` + lit(id) + `).value`
				meter := `(document.querySelector(` + lit(id+"-pm") + `)?.value ?? "")`
				usual := js[string](b, meter)
				for _, u := range catalogue.Units(f.Unit)[1:] {
					want, ok := catalogue.Convert(f.Example, f.Unit, f.Unit, u)
					if !ok {
						t.Fatalf("%s does not convert %s to %s", f.ID, f.Example, u)
					}
					state := c.Example()
					state[f.ID], state[f.ID+".unit"] = want, u
					b.choose(`select[name="`+f.ID+`.unit"]`, u)
					b.want(value, want)
					in := func(text string) string {
						v, ok := catalogue.Convert(text, difference(f.Unit), difference(f.Unit), difference(u))
						if !ok {
							t.Fatalf("the plus-minus of %s does not convert %s to %s", f.ID, text, u)
						}
						return v
					}
					pm := usual
					if usual != "" {
						pm = in(usual)
					}
					// What the last digit left open goes on where the new digits claim more.
					open, now := number(t, in(strconv.FormatFloat(half(f.Example), 'f', 12, 64))), half(want)
					if !f.Exact && open > 1.01*now {
						wide := math.Hypot(number(t, "0"+pm), math.Sqrt(open*open-now*now))
						two, err := strconv.ParseFloat(strconv.FormatFloat(wide, 'e', 1, 64), 64)
						if err != nil {
							t.Fatal(err)
						}
						pm = strconv.FormatFloat(two, 'f', -1, 64)
						widened.Add(1)
					}
					if pm != "" {
						state[f.ID+".pm"] = pm
						b.want(meter, pm)
					}
					if s := c.Eval(state, nil); s.Problem == "" && len(s.Faults) == 0 {
						b.same(s)
					}
					b.choose(`select[name="`+f.ID+`.unit"]`, f.Unit)
					b.want(value, f.Example)
					b.want(meter, usual)
					switched.Add(1)
				}
			}
			b.same(c.Eval(c.Example(), nil))
		})
	}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A unit that comes by the address takes the usual plus-minus along, and a
// form emptied after a switch starts from its first units.
func TestUnitInTheAddress(t *testing.T) {
	t.Parallel()
	c := lot.Calculators()[0]
	b := open(t, home)
	b.visit(c.ID + "/?t=64.4&t.unit=%C2%B0F&rh=57")
	b.want(`document.getElementById("`+c.ID+`-t-pm").value`, "0.90")
	state := catalogue.State{"t": "64.4", "t.unit": "°F", "t.pm": "0.90", "rh": "57"}
	for _, f := range c.Form() {
		if f.IsLimit() && f.Example != "" {
			state[f.ID] = f.Example
		}
	}
	b.same(c.Eval(state, nil))
	b.click("#clear")
	b.want(`document.querySelector("select[name='t.unit']").value`, "°C")
	b.enter(c.ID+"-t", "18")
	b.choose(`select[name="t.unit"]`, "°F")
	b.want(`document.getElementById("`+c.ID+`-t").value`, "64")
}

// 57,5 and 57.5 with their unit behind them are understood, and stay as they
// were typed.
func TestWaysToType(t *testing.T) {
	t.Parallel()
	c := lot.Calculators()[0]
	b := open(t, home)
	b.visit(c.ID + "/")
	b.click("#example")
	plain := c.Example()
	plain["rh"] = "57.5"
	sheet := c.Eval(plain, nil)
	rh, ok := field(c, "rh")
	if !ok {
		t.Fatal("the lot sheet has no humidity")
	}
	id := control(c, rh)
	for _, typed := range []string{"57,5", "57.5 %", "57,5%", " 57.5 ", "+57.5"} {
		b.fill(id, "1") // another answer between
		b.fill(id, typed)
		b.same(sheet)
		b.leave()
		b.same(sheet)
		if got := b.fault(id); got.Value != typed || got.Fault != "" {
			t.Errorf("%q became %+v", typed, got)
		}
	}
	// In °F, with a true minus: a temperature may be negative.
	frost := c.Example()
	frost["t"], frost["t.unit"] = "−4", "°F"
	b.choose(`select[name="t.unit"]`, "°F")
	b.enter(c.ID+"-t", "−4")
	s := c.Eval(frost, nil)
	if len(s.Faults) == 0 {
		t.Fatal("the store takes −4 °F now: choose another limit for this test")
	}
	b.want(`document.getElementById("`+c.ID+`-t-fault").textContent`, s.Faults[0].Text)
}

// The steppers and the arrow keys move the last digit that stands there.
func TestSteppers(t *testing.T) {
	t.Parallel()
	c := lot.Calculators()[0]
	b := open(t, home)
	b.size(phone)
	b.visit(c.ID + "/")
	b.click("#example")
	gm, _ := field(c, "gm")
	id := control(c, gm)
	value := `document.getElementById(` + lit(id) + `).value`
	for _, s := range []struct{ typed, act, want string }{
		{"10.8", "+", "10.9"}, {"10.9", "+", "11.0"}, {"9,99", "+", "10,00"}, {"10.0", "-", "9.9"}, {"10", "up", "11"}, {"10.80", "down", "10.79"}, {"10.9 %", "+", "11.0 %"},
	} {
		b.fill(id, s.typed)
		switch s.act {
		case "+":
			b.click(`[data-field=gm] [data-step="1"]`)
		case "-":
			b.click(`[data-field=gm] [data-step="-1"]`)
		case "up":
			b.press(kb.ArrowUp)
		case "down":
			b.press(kb.ArrowDown)
		}
		b.want(value, s.want)
		state := c.Example()
		state["gm"] = s.want
		b.same(c.Eval(state, nil))
	}
}
