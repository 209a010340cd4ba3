// Package catalogue is the machinery by which every calculator of the page is
// data plus one pure function. It knows no browser: the same calculator is
// pre-rendered by the build, evaluated in WebAssembly, tested by go test and
// described in TypeScript types.
//
// The calculators themselves stand in the packages below it, one for each
// part of the building, so that each can be shipped alone:
//
//	store    green store and roaster: moisture
//	packing  packing line: headspace
//	rest     rest shelf: degas
//	cup      cupping table and brew bar: brewratio, extraction
//	desk     quality desk: checkpoint and its chapters
//	lot      the lot sheet, which passes one lot through every checkpoint
//	all      all of them, for the build and the tests
//
// # A calculator is one file
//
// and one line in its package's list.go:
//
//	func roomMoisture() *catalogue.Calculator {
//		return &catalogue.Calculator{
//			ID:       "room-moisture",               // its address, for good
//			Place:    catalogue.GreenStore,          // where in the building it is used
//			Order:    10,                            // within the place
//			Name:     "Green in this room",
//			Question: "What moisture does green coffee come to in this room?",
//			Keywords: "equilibrium storage humidity", // for finding; not shown
//			Fields: []catalogue.Field{
//				{ID: "t", Label: "Air temperature", Symbol: "t", Unit: "°C", Min: 0, Max: 70,
//					GoField: "TempC", Example: "18.0", PlusMinus: 0.5,
//					Help: "As the store's thermometer shows it, like 18 or 18.5"},
//				...
//			},
//			Outputs: []catalogue.Output{{ID: "m", Label: "Moisture it comes to", Symbol: "M", Unit: "%"}},
//			Limits:  []catalogue.Limit{{Output: "m", Lo: 10, Hi: 12, Source: greenStandard}},
//			Compute: func(in *catalogue.In, out *catalogue.Out) error {
//				e, err := moisture.EquilibriumMoisture(...in.F("t")...)
//				if err != nil {
//					return err
//				}
//				out.SetU("m", e.MoisturePct, e.SEPct, "the curve itself")
//				if out.Full() { // once per evaluation: working, notes, pictures
//					out.Work("M = 100*X/(100 + X)", "M", catalogue.Num(m, 4)+" %", "X", catalogue.Num(x, 4))
//					out.Note("The curve is for parchment, drying.")
//					out.Figure(figure.Plot{..., Desc: out.Say("... at {}.", in.Text("t"))})
//				}
//				return nil
//			},
//			Cautions: []string{...},
//			Sources: []catalogue.Source{{Name: "Trejos, Roa & Oliveros, Cenicafé 40(1), 1989", Locator: "eq. 2", Provenance: "quoted"}},
//			Checks:  []catalogue.Check{{Package: "moisture", Quantity: "equilibrium moisture of parchment, Roa isotherm"}},
//		}
//	}
//
// store/room.go is a whole one to copy.
//
// # The rules
//
//   - Fields come in SI units at base (Unit); the page offers the other units
//     of the same dimension by exact factors. Example is in the base unit and
//     must compute: it is what the page starts from when asked for an example,
//     and every test starts there. Examples are invented.
//   - GoField is the field's name in the package's errors, so that a
//     FieldError finds its label and its unit on show.
//   - Derived names what is computed on the way and handed to a package that
//     may refuse it: a refusal then speaks of it by its label.
//   - Min and Max are the accepted range in the base unit, the same as the
//     package's or narrower.
//   - PlusMinus is the half-width of what the usual instrument can be off by,
//     beyond the digits typed; zero when only the digits count. Exact marks
//     counts and settings that carry no uncertainty at all.
//   - Compute is pure: it reads In, writes Out, and must do the same whenever
//     asked. It is run many times (uncertainty, solving, curves): everything
//     that is only for reading goes behind out.Full().
//   - A form in groups that hardly depend on each other, like the lot sheet,
//     has Parts in place of Compute: what a key does not reach is not worked
//     out again.
//   - Limits are what the verdict is judged by. They appear as fields of
//     their own, filled with our default, which names its source.
//   - Words are constants, so that they can be translated: a sentence with
//     numbers is a pattern, out.Note("Below {} % there are no data.", "5"), or
//     out.Say(pattern, args...) for a figure's Desc, a date in words, a cell.
//     Never glue a sentence from pieces. Labels, titles, table heads, names of
//     lines and marks are looked up on their way out and need no Say.
//   - Every calculator where work can hurt someone carries Cautions.
//
// What the machinery does with it, once for all: reading what was typed,
// units, faults beside the field, uncertainty (first order, by central
// differences over each field's half-width), earned digits, what dominates,
// the verdict, solving for any one field, sweeping one field for a curve,
// the sheet as JSON.
//
// Every calculator is tested by the tests of package all: its example
// computes and is finite, hostile input in each field gives a fault or a
// finite answer, no field is without help or unit, ranges agree with the
// package. Beside them, a test in the calculator's own package compares its
// example's answer with the formula package called by hand.
//
// # Keep it small
//
// All of this is downloaded. Code for reading (Work, Note, Figure) is most of
// a calculator: keep its strings plain constants where they can be, share
// helpers within a package, and import nothing that the formula packages do
// not import already: no fmt, no encoding/json, no text/template, no regexp,
// and of package time only what needs no formatting or parsing.
package catalogue
