// Package figure draws what a calculator found: a curve with its
// uncertainty, readings against a limit, a balance of masses, the weeks of a
// lot. It writes SVG text and the table behind it, and nothing else: the same
// figure goes into the page, a README, an example and a golden test.
//
// # Three figures
//
//	Plot   two axes; bands, bars, marks, lines, points, ellipses, arrows, labels
//	Flow   what went in, what became of it, and what is not accounted for
//	Strip  windows of time and the moments between them
//
// Each has SVG and Table for the plain case, Draw and Data for another [Look]:
// wide, with decimal commas, in another language, with an id of its own. The
// output depends on nothing but the input and is the same every time.
//
// # What a reader can rely on
//
//   - A value that is not finite, or beyond 1e150, is not drawn: in a line it
//     is a gap, in the table a dash. Readings outside a range that was given
//     are counted under the picture; a mark outside it is named with an arrow.
//     Without data the figure says that there is nothing to draw.
//   - Ticks are round numbers with the digits that their step needs. Whole
//     numbers get no half ticks. The minus sign is U+2212, thousands stand
//     apart from 10 000 on.
//   - Names stand beside what they name where there is room, or on their
//     line, or away from their reading with a thin line to it. Otherwise a
//     letter stands there, and the name under the picture. Nothing is told by
//     colour alone: lines have styles, readings have shapes, a flagged reading
//     is ringed, a flagged bar has a thick outline.
//   - A long series is thinned to what can be seen: a line keeps the first,
//     lowest, highest and last of its points in each unit of width.
//
// # In a document
//
// The figure is 360 units wide, or 720 when wide, and as high as it needs. It
// scales with its container; text is 14 units high, which is 11 px when a
// phone of 320 px shows the narrow one. It has role="img", its title and
// description, with ids made of the title or of Look.ID: two figures of one
// title on one page need an ID each. A plot (unless long names make its bars
// lie) carries, for a script that follows the pointer,
//
//	data-frame  left, top, right and bottom of the plot area, in units
//	data-x      least value, greatest value, linear or log
//	data-y      the same for Y, which is drawn upwards
//
// There is no style element and no style attribute. Presentation attributes
// make a figure legible without any stylesheet, in currentColor; every rule of
// a stylesheet goes before them. Do not change font sizes there: room for text
// was made for 14 units.
//
// # Classes
//
//	f-figure            the svg element; also f-plot, f-flow or f-strip
//	f-grid              faint rules at the ticks of Y
//	f-axis              the line of the X axis, its ticks, the zero of bars
//	f-tick f-label      numbers of an axis; its name and unit: quiet text
//	f-note              a remark under the picture: quiet text
//	f-empty             frame of a figure without data
//	f-text              text that belongs to nothing else
//	f-band              area, faint
//	f-bar               bar, half filled and outlined
//	f-line              curve, with f-solid, f-dashed or f-dotted; f-guide in place of a number
//	f-point             reading, filled; f-hollow when drawn as an outline
//	f-blots             more than 200 readings, one path of round dots
//	f-err               error bar, thin
//	f-flag              ring of a flagged reading, outline of a flagged bar: the colour of a warning
//	f-mark              rule of a limit or a target, thinner than a curve
//	f-ellipse f-arrow   outline; arrow
//	f-name              name beside or under the picture; also, by what it names,
//	                    f-line-name, f-band-name, f-point-name, f-mark-name,
//	                    f-ellipse-name, f-arrow-name; f-letter for a letter in
//	                    place of the name
//	f-amount            amount or time beside a name: may be bold
//	f-node f-ribbon     bar of a share, filled; what flows between two, faint
//	f-window            window of a strip, with f-open, f-full or f-faint
//	f-moment f-now      pole of a moment; the present, heavier
//	f-leader            thin line from a name to its window or reading
//	f-1 to f-6          the how-manieth of its kind, for a colour; a name has that
//	                    of its line
//
// Colour by setting color: strokes and fills are currentColor. Text over the
// picture is easier to read with a halo in the colour of the paper:
//
//	.f-name, .f-amount { paint-order: stroke; stroke: Canvas; stroke-width: 3px; stroke-linejoin: round }
//
// On paper and in forced colours leave the colours alone. [Standalone] shows a
// whole stylesheet.
package figure
