package figure_test

import (
	"fmt"
	"strings"

	"example.org/evenlot/wasm/figure"
)

// What does a figure look like as text?
func ExamplePlot_SVG() {
	fmt.Print(figure.Plot{Title: "Oxygen in the bag", Desc: "No reading was taken."}.SVG())
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" class="f-figure f-plot" viewBox="0 0 360 96" font-family="sans-serif" font-size="14" direction="ltr" role="img" aria-labelledby="oxygen-in-the-bag-t" aria-describedby="oxygen-in-the-bag-d">
	// <title id="oxygen-in-the-bag-t">Oxygen in the bag</title>
	// <desc id="oxygen-in-the-bag-d">No reading was taken.</desc>
	// <rect class="f-empty" x="1" y="1" width="358" height="94" fill="none" stroke="currentColor" stroke-dasharray="2 6"/>
	// <text class="f-text" x="180" y="53" text-anchor="middle" fill="currentColor">There is nothing to draw yet</text>
	// </svg>
}

// Which readings are behind the picture, and which one was flagged?
func ExamplePlot_Table() {
	p := figure.Plot{
		Title: "Oxygen in the bag",
		X:     figure.Axis{Label: "Time since sealing", Unit: "d"},
		Y:     figure.Axis{Label: "Oxygen", Unit: "%"},
		Points: []figure.Points{{Name: "bag 3", X: []float64{1, 4, 9}, Y: []float64{0.42, 0.55, 1.3},
			Err: []float64{0.05, 0.05, 0.05}, Flagged: []bool{false, false, true}}},
		Marks: []figure.Mark{{Name: "limit", At: 1}},
	}
	t := p.Table()
	fmt.Println(strings.Join(t.Head, " | "))
	for _, r := range t.Rows {
		fmt.Println(strings.Join(r, " | "))
	}
	// Output:
	// What | Time since sealing, d | Oxygen, %
	// bag 3 | 1 | 0.42 ± 0.05
	// bag 3 | 4 | 0.55 ± 0.05
	// bag 3 (flagged) | 9 | 1.3 ± 0.05
	// limit |  | 1
}

// How does a figure look on a wide page that writes decimal commas?
func ExamplePlot_Draw() {
	p := figure.Plot{Title: "Loss", Y: figure.Axis{Label: "Loss", Unit: "%"},
		Lines: []figure.Line{{Name: "batch 12", X: []float64{0, 2}, Y: []float64{0, 1.5}}}}
	s := p.Draw(figure.Look{ID: "loss-2", Wide: true, Comma: true})
	fmt.Println(strings.Contains(s, `viewBox="0 0 720 `), strings.Contains(s, `id="loss-2-t"`), strings.Contains(s, ">1,5<"))
	// Output: true true true
}

// Where did the roast's weight go, and is anything missing?
func ExampleFlow_Table() {
	f := figure.Flow{
		Title: "Roast loss", Unit: "kg",
		From: []figure.Share{{Name: "Green", Amount: 15, Text: "15.00"}},
		To:   []figure.Share{{Name: "Roasted", Amount: 12.75, Text: "12.75"}, {Name: "Water driven off", Amount: 1.5, Text: "1.50"}},
	}
	for _, r := range f.Table().Rows {
		fmt.Println(strings.Join(r, " | "))
	}
	// Output:
	// In | Green | 15.00 | 100.0
	// Out | Roasted | 12.75 | 85.0
	// Out | Water driven off | 1.50 | 10.0
	// Out | Not accounted for | 0.75 | 5.0
}

// When is the lot at its best?
func ExampleStrip_Table() {
	s := figure.Strip{
		Title: "Windows of the lot", Unit: "days",
		Windows: []figure.Window{{Name: "rest", From: 0, To: 7}, {Name: "best", From: 7, To: 35, Tone: figure.Full}},
		Moments: []figure.Moment{{Name: "Ready", At: 7, Err: 1.5, Text: "2 Dec"}},
	}
	t := s.Table()
	fmt.Println(strings.Join(t.Head, " | "))
	for _, r := range t.Rows {
		fmt.Println(strings.TrimSpace(strings.Join(r, " | ")))
	}
	// Output:
	// What | From, days | To, days | When
	// rest | 0 | 7 |
	// best | 7 | 35 |
	// Ready | 7 ± 1.5 |  | 2 Dec
}

// How does a figure get into a README?
func ExampleStandalone() {
	f := figure.Flow{Title: "Cup", Unit: "g", From: []figure.Share{{Name: "Water", Amount: 300}}, To: []figure.Share{{Name: "Cup", Amount: 300}}}
	file := figure.Standalone(f.SVG())
	fmt.Println(strings.Count(f.SVG(), "<style>"), strings.Count(file, "<style>"))
	// Output: 0 1
}
