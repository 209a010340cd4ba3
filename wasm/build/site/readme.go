package site

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.org/evenlot/internal/published"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
)

// ReadmeChecks is the table of checks that stands in the README.
func ReadmeChecks(checks map[string][]published.Check) string {
	var b strings.Builder
	b.WriteString("| package | published values | of these, constants | sources | read | quoted | from memory | common practice | missed, and said | nearest to its tolerance |\n|---|---:|---:|---:|---:|---:|---:|---:|---:|---|\n")
	rows, constants, missed := 0, 0, 0
	for _, pkg := range slices.Sorted(maps.Keys(checks)) {
		s := published.Summarise(pkg, checks[pkg])
		fmt.Fprintf(&b, "| `%s` | %d | %d | %d | %d | %d | %d | %d | %d | %s, %.0f %% of it |\n", s.Package, s.Rows, s.Constants, s.Sources, s.Opened, s.Quoted, s.Memory, s.Practice, s.Disagree, s.WorstID, s.WorstUsed)
		rows += s.Rows
		constants += s.Constants
		missed += s.Disagree
	}
	fmt.Fprintf(&b, "| all | %d | %d | | | | | | %d | |\n", rows, constants, missed)
	return b.String()
}

// ReadmeCalculators is the list of calculators that stands in the README.
func ReadmeCalculators() string {
	var b strings.Builder
	for _, p := range catalogue.Places() {
		first := true
		for _, c := range all.Calculators() {
			if c.Place != p {
				continue
			}
			if first {
				fmt.Fprintf(&b, "- **%s**\n", p)
				first = false
			}
			fmt.Fprintf(&b, "  - %s: %s\n", c.Name, c.Question)
		}
	}
	return b.String()
}
