package embed

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
)

// camel is a calculator's or a field's name in JavaScript: room-moisture is
// roomMoisture.
func camel(id string) string {
	parts := strings.Split(id, "-")
	for i, p := range parts {
		if i > 0 && p != "" {
			parts[i] = strings.ToUpper(p[:1]) + p[1:]
		}
	}
	return strings.Join(parts, "")
}

// A calculator as the module knows it.
type calculator struct {
	ID     string            `json:"id"`
	Bundle string            `json:"bundle"`
	Fields map[string]string `json:"fields"`           // field → number, exact, choice, series, moment, words
	Limits map[string]string `json:"limits,omitempty"` // limit's field → our default
}

var (
	name = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9]*(-[A-Za-z0-9]+)*$`)
	// What the module and the element keep for themselves.
	verbs      = map[string]bool{"language": true, "say": true, "evaluate": true, "convert": true, "solve": true, "dial": true}
	attributes = map[string]bool{"calculator": true, "language": true, "folder": true}
)

func kindOf(f catalogue.Field) string {
	switch {
	case f.Kind == catalogue.Number && f.Exact:
		return "exact"
	case f.Kind == catalogue.Number:
		return "number"
	case f.Kind == catalogue.Choice:
		return "choice"
	case f.Kind == catalogue.Series:
		return "series"
	case f.Kind == catalogue.Moment:
		return "moment"
	}
	return "words"
}

// calculators makes the module's table: function → calculator.
func calculators() (map[string]calculator, error) {
	table := map[string]calculator{}
	for _, b := range all.Bundles() {
		for _, c := range b.Calculators {
			fn := camel(c.ID)
			if _, twice := table[fn]; twice || verbs[fn] || !name.MatchString(c.ID) {
				return nil, errors.New(c.ID + " makes no function of its own")
			}
			x := calculator{c.ID, b.Name, map[string]string{}, map[string]string{}}
			for _, f := range c.Form() {
				if f.IsLimit() {
					x.Limits[f.ID] = strings.ReplaceAll(f.Example, "−", "-")
				} else {
					x.Fields[f.ID] = kindOf(f)
				}
			}
			if err := distinct(c); err != nil {
				return nil, err
			}
			table[fn] = x
		}
	}
	return table, nil
}

// distinct says whether a calculator's names stay apart in JavaScript and as
// attributes.
func distinct(c *catalogue.Calculator) error {
	seen := map[string]bool{}
	take := func(id string) error {
		if seen[id] {
			return fmt.Errorf("%s: two inputs are called %s", c.ID, id)
		}
		seen[id] = true
		return nil
	}
	var bad []error
	for _, f := range c.Form() {
		if !name.MatchString(f.ID) || attributes[f.ID] || strings.HasPrefix(f.ID, "field-") {
			bad = append(bad, fmt.Errorf("%s: %s is no name for an attribute", c.ID, f.ID))
		}
		bad = append(bad, take(camel(f.ID)))
		if f.Kind == catalogue.Number && !f.IsLimit() {
			bad = append(bad, take(camel(f.ID)+"Unit"), take(camel(f.ID)+"PlusMinus"))
		}
	}
	for _, o := range c.Outputs {
		if o.ID != camel(o.ID) || !name.MatchString(o.ID) {
			bad = append(bad, fmt.Errorf("%s: %s is no name for a value", c.ID, o.ID))
		}
	}
	return errors.Join(bad...)
}

// types writes the declarations: those of the sheet as they stand, then the
// inputs, the values and the function of every calculator.
func types(codes []string) ([]byte, error) {
	fixed, err := own.ReadFile("types.d.ts")
	if err != nil {
		return nil, err
	}
	var b, functions strings.Builder
	b.Write(fixed)
	fmt.Fprintf(&b, "\n/** The languages in which answers are written. */\nexport type Language = %s;\n", union(codes))
	for _, c := range all.Calculators() {
		title := strings.ToUpper(c.ID[:1]) + camel(c.ID)[1:]
		fmt.Fprintf(&b, "\n/** What {@link Evenlot.%s} takes. */\nexport interface %sInput {\n", camel(c.ID), title)
		for _, f := range c.Form() {
			declare(&b, f)
		}
		fmt.Fprintf(&b, "}\n\n/** What {@link Evenlot.%s} may give. */\nexport interface %sValues {\n", camel(c.ID), title)
		for _, o := range c.Outputs {
			fmt.Fprintf(&b, "  /** %s%s */\n  %s?: Value;\n", comment(o.Label), in(o.Unit), o.ID)
		}
		b.WriteString("}\n")
		fmt.Fprintf(&functions, "  /**\n   * %s: %s\n", comment(c.Name), comment(c.Question))
		for _, text := range c.Cautions {
			fmt.Fprintf(&functions, "   *\n   * Take care: %s\n", comment(text))
		}
		fmt.Fprintf(&functions, "   */\n  %s(input: %sInput, options?: Options): Promise<Result<%[2]sValues, keyof %[2]sInput>>;\n", camel(c.ID), title)
	}
	b.WriteString("\n/** The calculators. Their functions never reject. */\nexport interface Evenlot {\n" + general + functions.String() + "}\n")
	return []byte(b.String()), nil
}

const general = `  readonly language: Language;
  /** A text of the catalogue in the language; {} takes the next of args. */
  say(english: string, ...args: unknown[]): string;
  /** Asks by the calculator's address, with the characters of a form: as in the address of its page. No limit is filled in. */
  evaluate(calculator: string, state: Record<string, string>, options?: Options): Promise<Result<Record<string, Value>, string>>;
  /** What was typed, in another unit of the same dimension; null if it is no number or there is no such unit. */
  convert(calculator: string, typed: string, unit: string, from: string, to: string): Promise<string | null>;
  /** What one number of the input must read, in its unit, for an output to reach a target in its own. */
  solve<Name extends Calculator>(calculator: Name, input: Partial<Input<Name>>, field: string & keyof Input<Name>, output: Output<Name>, target: Quantity): Promise<Solved>;
  /** One number of the input turned, one output read: for a slider or a curve. */
  dial<Name extends Calculator>(calculator: Name, input: Partial<Input<Name>>, field: string & keyof Input<Name>, output: Output<Name>): Promise<Dial | Undialled>;
`

func declare(b *strings.Builder, f catalogue.Field) {
	id := camel(f.ID)
	may := ""
	if f.Optional {
		may = "?"
	}
	write := func(text, key, kind string) { fmt.Fprintf(b, "  /** %s */\n  %s: %s;\n", text, key, kind) }
	text := comment(f.Label)
	span := func(lo, hi float64, unit string) string {
		return fmt.Sprintf(", %s to %s%s", strconv.FormatFloat(lo, 'g', -1, 64), strconv.FormatFloat(hi, 'g', -1, 64), strings.TrimPrefix(in(unit), ","))
	}
	switch {
	case f.IsLimit():
		if f.Example != "" {
			text += in(f.Unit) + ". Ours: " + f.Example + "; null for no limit."
		} else {
			text += in(f.Unit) + ". Ours: none."
		}
		write(text, id+"?", "Quantity | null")
	case f.Kind == catalogue.Number:
		write(text+span(f.Min, f.Max, f.Unit)+". "+comment(f.Help), id+may, "Quantity")
		if units := catalogue.Units(f.Unit); len(units) > 1 {
			write("The unit of "+id+"; "+f.Unit+" if left out.", id+"Unit?", union(units))
		}
		if !f.Exact {
			usual := "none beyond the last digit"
			if f.PlusMinus > 0 {
				usual = strconv.FormatFloat(f.PlusMinus, 'g', -1, 64) + " " + f.Unit
			}
			write("What the instrument may be off by, in the unit of "+id+". Usual: "+strings.TrimSpace(usual)+".", id+"PlusMinus?", "Quantity")
		}
	case f.Kind == catalogue.Choice:
		var ids, labels []string
		for _, o := range f.Choices {
			ids, labels = append(ids, o.ID), append(labels, o.ID+": "+o.Label)
		}
		write(comment(f.Label+". "+strings.Join(labels, "; ")), id+may, union(ids))
	case f.Kind == catalogue.Series:
		for i, c := range f.Columns {
			sep := "; "
			if i == 0 {
				sep = ". Each row: "
			}
			text += sep + comment(c.Label) + span(c.Min, c.Max, c.Unit)
			if c.Optional {
				text += " (may be null)"
			}
		}
		write(text, id+may, "Series")
	case f.Kind == catalogue.Moment:
		write(text+". Like 2026-11-25T14:30, in the zone of the page", id+may, "string | Date")
	default:
		write(text, id+may, "string")
	}
}

func in(unit string) string {
	if unit == "" {
		return ""
	}
	return ", " + comment(unit)
}

// comment keeps a text from ending the comment it stands in.
func comment(s string) string {
	return strings.ReplaceAll(strings.Join(strings.Fields(s), " "), "*/", "* /")
}

func union(list []string) string {
	quoted := make([]string, len(list))
	for i, s := range list {
		quoted[i] = strconv.Quote(s)
	}
	return strings.Join(quoted, " | ")
}
