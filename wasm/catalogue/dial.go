package catalogue

import "math"

// A Dial is a calculator whose fields have been read, all but one: that one
// turns, and one output is read. It is what a slider, a curve and a solver
// need, thousands of times faster than a sheet: no uncertainty, no verdict, no
// words.
type Dial struct {
	// Lo and Hi are the least and the greatest value of the field, in its base
	// unit.
	Lo, Hi float64

	at    *value
	out   int
	fixed []result // of the parts that do not see the field
	moved []*In    // the others
	err   error    // of the first
	run   Out
}

// Dial reads a state and takes one of its numbers as the dial. The field
// itself may be empty or unreadable. why says why there is none.
func (c *Calculator) Dial(state State, locale Locale, field, output string) (d *Dial, why string) {
	l := &locale
	f, ok := c.field(field)
	if !ok || f.Kind != Number {
		return nil, l.word("This field cannot be solved for.")
	}
	o := c.place(output)
	if o < 0 {
		return nil, l.word("There is no such result.")
	}
	in, faults := c.read(state, l)
	if len(faults) > 0 {
		trial := State{}
		for k, v := range state {
			trial[k] = v
		}
		trial[field] = f.Example
		delete(trial, field+".unit")
		if in, faults = c.read(trial, l); len(faults) > 0 {
			return nil, join(l.word("The other fields must read well first."), faults[0].Text)
		}
	}
	return c.dial(in, f, o), ""
}

// dial takes in for its own.
func (c *Calculator) dial(in *In, f Field, output int) *Dial {
	d := &Dial{Lo: f.Min, Hi: f.Max, at: in.at(f.ID), out: output, fixed: make([]result, len(c.Outputs))}
	d.run = Out{calc: c, locale: &english, results: d.fixed}
	for i := range c.parts {
		part := in.of(&c.parts[i])
		if part.part.sees(f.ID) {
			d.moved = append(d.moved, part)
		} else if d.err == nil {
			d.err = part.run(&d.run)
		}
	}
	d.run.results = make([]result, len(c.Outputs))
	return d
}

// read reads a state once.
func (c *Calculator) read(state State, l *Locale) (*In, []Fault) {
	return c.Sit(*l).read(state, &Sheet{})
}

func (c *Calculator) field(id string) (Field, bool) {
	for _, f := range c.Fields {
		if f.ID == id {
			return f, true
		}
	}
	return Field{}, false
}

// place is where an output stands in the list, or −1.
func (c *Calculator) place(output string) int {
	for i, o := range c.Outputs {
		if o.ID == output {
			return i
		}
	}
	return -1
}

// At is the output, in its base unit, with the field at x in its base unit. It
// is NaN where the calculator refuses x, or gives no number for it.
func (d *Dial) At(x float64) float64 {
	if !(x >= d.Lo && x <= d.Hi) {
		return nan
	}
	return d.free(x)
}

// free is At without the field's own range.
func (d *Dial) free(x float64) float64 {
	d.at.turn(x)
	copy(d.run.results, d.fixed)
	err := d.err
	for _, part := range d.moved {
		if err == nil {
			err = part.run(&d.run)
		}
	}
	r := &d.run.results[d.out]
	if err != nil || !r.set || r.words != "" || math.IsInf(r.v, 0) {
		return nan
	}
	return r.v
}

// Curve fills y with At of evenly spaced values from one to another, both
// included.
func (d *Dial) Curve(y []float64, from, to float64) {
	for i := range y {
		y[i] = d.At(from + (to-from)*(float64(i)/math.Max(1, float64(len(y)-1))))
	}
}
