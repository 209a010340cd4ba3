// Package catalogue holds every calculator of the page as data plus one pure
// function. It knows the formula packages and no browser: the same calculator
// is pre-rendered by the build, evaluated in WebAssembly, tested by go test
// and described in TypeScript types.
//
// # A calculator is one file
//
//	var _ = add(&Calculator{
//		ID:       "room-moisture",               // its address, for good
//		Place:    GreenStore,                    // where in the building it is used
//		Order:    10,                            // within the place
//		Name:     "Green in this room",
//		Question: "What moisture does green coffee come to in this room?",
//		Keywords: "equilibrium storage humidity", // for finding; not shown
//		Fields: []Field{
//			{ID: "t", Label: "Air temperature", Symbol: "t", Unit: "°C", Min: 5, Max: 55,
//				GoField: "TempC", Example: "18.0", PlusMinus: 0.5,
//				Help: "As the store's thermometer shows it, like 18 or 18.5"},
//			...
//		},
//		Outputs: []Output{{ID: "m", Label: "Moisture it comes to", Symbol: "M_e", Unit: "%"}},
//		Limits:  []Limit{{Output: "m", Lo: 10, Hi: 12, Source: Source{...}}},
//		Compute: roomMoisture,
//		Cautions: []string{...},
//		Sources: []Source{{Name: "Trejos, Roa & Oliveros, Cenicafé 40(1), 1989", Locator: "eq. 2", Provenance: "quoted"}},
//		Checks:  []Check{{Package: "moisture", Quantity: "equilibrium moisture of parchment, Roa isotherm"}},
//	})
//
//	func roomMoisture(in *In, out *Out) error {
//		e, err := moisture.Equilibrium(moisture.Room{TempC: in.F("t"), RHPct: in.F("rh")})
//		if err != nil {
//			return err
//		}
//		out.SetU("m", e.MoisturePct, e.StdErrPct, "the curve itself")
//		if out.Full() { // once per evaluation: working, notes, pictures
//			out.Work("X = (p_1*f + p_2*f^2 + p_3*f^3)*exp(q*t)", "X", Num(x, 4)+" %", "t", in.Text("t"), ...)
//			out.Note("The curve is for parchment, drying.")
//			out.Figure(figure.Plot{...})
//		}
//		return nil
//	}
//
// # The rules
//
//   - Fields come in SI units at base (Unit); the page offers the other units
//     of the same dimension by exact factors. Example is in the base unit and
//     must compute: it is what the page starts from when asked for an example,
//     and every test starts there. Examples are invented.
//   - GoField is the field's name in the package's errors, so that a
//     FieldError finds its label and its unit on show.
//   - Min and Max are the accepted range in the base unit, the same as the
//     package's or narrower.
//   - PlusMinus is the half-width of what the usual instrument can be off by,
//     beyond the digits typed; zero when only the digits count. Exact marks
//     counts and settings that carry no uncertainty at all.
//   - Compute is pure: it reads In, writes Out, and must do the same whenever
//     asked. It is run many times (uncertainty, solving, curves): everything
//     that is only for reading goes behind out.Full().
//   - Limits are what the verdict is judged by. They appear as fields of
//     their own, filled with our default, which names its source.
//   - Every calculator where work can hurt someone carries Cautions.
//
// What the machinery does with it, once for all: reading what was typed,
// units, faults beside the field, uncertainty (first order, by central
// differences over each field's half-width), earned digits, what dominates,
// the verdict, solving for any one field, sweeping one field for a curve,
// the sheet as JSON.
//
// Every calculator is tested by the tests of this package: its example
// computes and is finite, hostile input in each field gives a fault or a
// finite answer, no field is without help or unit, ranges agree with the
// package. Beside them, each calculator's own test compares its example's
// answer with the package function called by hand.
package catalogue
