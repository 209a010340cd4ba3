package figure

import "strings"

// Standalone makes of a figure an SVG file that carries its stylesheet, for a
// README or a slide. In a page with a strict content security policy use the
// figure as it is.
func Standalone(svg string) string {
	head, rest, ok := strings.Cut(svg, "\n")
	if !ok {
		return svg
	}
	return head + "\n<style>" + sheet + "</style>\n" + rest
}

const sheet = `
.f-figure { --paper: #fcfbf8; --ink: #1d1c1a; --quiet: #66625a; --flag: #a8321a; --mark: #7d5200; color: var(--ink); background: var(--paper); font-family: system-ui, sans-serif; font-variant-numeric: tabular-nums }
.f-1 { color: #17456b } .f-2 { color: #7a3b12 } .f-3 { color: #2e5a2b } .f-4 { color: #5b2a63 } .f-5 { color: #4a4a4a } .f-6 { color: #0f5c5c }
@media (prefers-color-scheme: dark) {
.f-figure { --paper: #171614; --ink: #eeeae2; --quiet: #a8a297; --flag: #ff8a70; --mark: #e6b450 }
.f-1 { color: #8ec5f2 } .f-2 { color: #f0b088 } .f-3 { color: #9fd59b } .f-4 { color: #d9a8e2 } .f-5 { color: #c9c9c9 } .f-6 { color: #7fd6d6 }
}
.f-tick, .f-label, .f-note, .f-axis, .f-grid, .f-guide { color: var(--quiet) }
.f-mark, .f-mark-name { color: var(--mark) }
.f-flag { color: var(--flag) }
.f-name, .f-amount { paint-order: stroke; stroke: var(--paper); stroke-width: 3px; stroke-linejoin: round }
.f-amount, .f-letter { font-weight: 600 }
@media (forced-colors: active) { .f-figure { --paper: Canvas } }
@media print { .f-figure, .f-figure * { color: #000 } .f-figure { --paper: #fff; background: none } }
`
