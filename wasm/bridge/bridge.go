//go:build js && wasm

// Package bridge puts calculators behind a few functions on
// globalThis.evenlot. It is the only package here that imports syscall/js; the
// commands below it are the bundles, one for each part of the building.
//
//	solve(calculator, state, field, output, target) {"text"} or {"why"}, as JSON text
//	convert(typed, base, from, to)                  the number in another unit, or null
//	speak(words, comma)                             the language of the answers from now on
//	feed(calculator, field, lines, begin)           reads lines of a series; {"good", "bad"} so far
//	aim(calculator, state, field, output)           takes one number as a dial: its range, {"lo", "hi"}, or {"why"}
//	curve(from, to, bytes)                          the dial's output over evenly spaced values, into the bytes of float64s
//	lapse()                                         what went wrong inside the last export, {"panic"}, or null
//
// Beside them the instance exports what a key or a slider asks for, since an
// export is called at a tenth of the cost:
//
//	number(x)      the output with the dial at x; NaN where the calculator refuses x
//	room(n)        where in the memory n bytes of a question can be written
//	sheet(n, all)  the sheet for the n bytes of calculator, U+0001 and state in
//	               the room: the length of its JSON text, which then lies in the
//	               room; -1 for none. all is 0 for a brief sheet, 1 for one
//	               without figures, 2 for all of it
//
// state is what stands in the fields, as typed, and words a table of texts:
// both as one string, each key and value closed by U+0001, since a string
// crosses at once and each property of an object by itself.
package bridge

import (
	"encoding/binary"
	"math"
	"strings"
	"syscall/js"
	"unsafe"

	"example.org/evenlot/wasm/catalogue"
)

// calculators are what this bundle holds, set once before the first call.
var calculators []*catalogue.Calculator

// Serve answers the page's calls with these calculators, for ever.
func Serve(list []*catalogue.Calculator) {
	calculators = list
	o := js.Global().Get("Object").New()
	o.Set("solve", js.FuncOf(guarded(solve)))
	o.Set("convert", js.FuncOf(guarded(convert)))
	o.Set("speak", js.FuncOf(guarded(speak)))
	o.Set("feed", js.FuncOf(guarded(feed)))
	o.Set("aim", js.FuncOf(guarded(aim)))
	o.Set("curve", js.FuncOf(guarded(curve)))
	o.Set("lapse", js.FuncOf(guarded(lapse)))
	js.Global().Set("evenlot", o)
	if ready := js.Global().Get("evenlotReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}

// guarded turns a panic into an object with its message, so that the
// instance lives and the page can tell.
func guarded(f func(args []js.Value) any) func(js.Value, []js.Value) any {
	return func(_ js.Value, args []js.Value) (answer any) {
		defer func() {
			if p := recover(); p != nil {
				sitting = nil
				answer = map[string]any{"panic": panicText(p)}
			}
		}()
		return f(args)
	}
}

func panicText(p any) string {
	switch p := p.(type) {
	case error:
		return p.Error()
	case string:
		return p
	}
	return "unknown"
}

func find(id string) *catalogue.Calculator {
	for _, c := range calculators {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// room is shared with the page: a question, then its answer.
var room = make([]byte, 4096)

// roomFor makes room for n bytes and says where it begins. Memory that Go has
// given out does not move.
//
//go:wasmexport room
func roomFor(n uint32) uint32 {
	if uint64(n) > uint64(len(room)) {
		room = make([]byte, n)
	}
	return uint32(uintptr(unsafe.Pointer(unsafe.SliceData(room))))
}

//go:wasmexport sheet
func sheet(n, all uint32) (length int32) {
	defer func() {
		if p := recover(); p != nil {
			sitting, length, lapsed = nil, -1, panicText(p)
		}
	}()
	id, text, _ := strings.Cut(string(room[:n]), "\x01")
	s := sit(id)
	if s == nil {
		return -1
	}
	say := [...]func(catalogue.State) catalogue.Sheet{s.Brief, s.Worked, s.Whole}[all]
	answer := say(state(text)).AppendJSON(room[:0])
	room = answer[:cap(answer)]
	return int32(len(answer))
}

// sitting answers the form at hand, in the language at hand.
var (
	sitting *catalogue.Sitting
	sits    string // with which calculator
)

func sit(id string) *catalogue.Sitting {
	if sitting == nil || sits != id {
		c := find(id)
		if c == nil {
			return nil
		}
		sitting, sits = c.Sit(reader()), id
	}
	return sitting
}

func solve(args []js.Value) any {
	c := find(args[0].String())
	if c == nil {
		return js.Null()
	}
	text, why := c.Solve(state(args[1].String()), reader(), args[2].String(), args[3].String(), args[4].String())
	return map[string]any{"text": text, "why": why}
}

func convert(args []js.Value) any {
	text, ok := catalogue.Convert(args[0].String(), args[1].String(), args[2].String(), args[3].String())
	if !ok {
		return js.Null()
	}
	return text
}

// words and comma are what speak was told last; empty is English.
var (
	words map[string]string
	comma bool
)

func speak(args []js.Value) any {
	words, comma = state(args[0].String()), args[1].Bool()
	sitting = nil
	return nil
}

func reader() catalogue.Locale {
	return catalogue.Locale{Zone: zone(), Words: words, Comma: comma, Fed: fed}
}

// fed are the series that were fed, by field, of the calculator at hand.
var fed = map[string]*catalogue.Rows{}

func feed(args []js.Value) any {
	c, id := find(args[0].String()), args[1].String()
	if c == nil {
		return js.Null()
	}
	if args[3].Bool() {
		for _, f := range c.Fields {
			if f.ID == id {
				fed[id] = catalogue.NewRows(f.Columns, catalogue.Locale{Words: words, Comma: comma})
			}
		}
	}
	rows := fed[id]
	if rows == nil {
		return js.Null()
	}
	rows.Feed(args[2].String())
	return map[string]any{"good": rows.Good(), "bad": rows.Bad()}
}

var (
	dial   *catalogue.Dial
	lapsed string
)

func aim(args []js.Value) any {
	c := find(args[0].String())
	if c == nil {
		return js.Null()
	}
	d, why := c.Dial(state(args[1].String()), reader(), args[2].String(), args[3].String())
	if d == nil {
		return map[string]any{"why": why}
	}
	dial = d
	return map[string]any{"lo": d.Lo, "hi": d.Hi}
}

// number is the dial's output at x: twenty nanoseconds of crossing, and no
// memory. NaN stands for what has no number.
//
//go:wasmexport number
func number(x float64) (y float64) {
	if dial == nil {
		return math.NaN()
	}
	defer func() {
		if p := recover(); p != nil {
			y, lapsed = math.NaN(), panicText(p)
		}
	}()
	return dial.At(x)
}

func curve(args []js.Value) any {
	bytes := make([]byte, args[2].Length()/8*8)
	y := make([]float64, len(bytes)/8)
	if dial == nil {
		return js.Null()
	}
	dial.Curve(y, args[0].Float(), args[1].Float())
	for i, v := range y {
		binary.LittleEndian.PutUint64(bytes[8*i:], math.Float64bits(v))
	}
	return js.CopyBytesToJS(args[2], bytes)
}

func lapse([]js.Value) any {
	if lapsed == "" {
		return js.Null()
	}
	text := lapsed
	lapsed = ""
	return map[string]any{"panic": text}
}

// state reads pairs of strings, each closed by U+0001.
func state(text string) catalogue.State {
	s := catalogue.State{}
	for rest := text; ; {
		key, after, ok := strings.Cut(rest, "\x01")
		if !ok {
			return s
		}
		s[key], rest, _ = strings.Cut(after, "\x01")
	}
}
