package figure

// A Plot is a figure with two axes. The zero Plot is allowed: it draws a
// figure that says there is nothing to draw.
type Plot struct {
	Title    string // accessible name
	Desc     string // what the figure shows, in a sentence
	X, Y     Axis
	Bands    []Band
	Bars     []Bar
	Ellipses []Ellipse
	Marks    []Mark
	Lines    []Line
	Arrows   []Arrow
	Points   []Points
	Labels   []Label
}

// An Axis says what one direction of a Plot means.
//
// With Min and Max both 0 the range comes from the data. NaN leaves that side
// to the data. A range that is no range (Max not above Min, or a bound that a
// logarithmic axis cannot show) is ignored.
type Axis struct {
	Label    string
	Unit     string // as printed behind the label; empty for a pure number
	Min, Max float64
	Log      bool   // logarithmic; what is not above zero is not drawn
	Ticks    []Tick // own ticks, such as dates; empty for round numbers
}

// A Tick is one named place on an axis.
type Tick struct {
	At   float64
	Name string
}

// A Style tells lines apart without colour.
type Style uint8

// The styles.
const (
	Solid Style = iota
	Dashed
	Dotted
	Guide // thin dots without a colour: one of a family to read the others by
)

// A Line joins points in their order. A value that is not finite is a gap.
type Line struct {
	Name  string // written beside the line
	X, Y  []float64
	Style Style
}

// A Band is the region between Lo and Hi along X: an uncertainty, a target.
type Band struct {
	Name      string
	X, Lo, Hi []float64
}

// A Shape tells series of points apart without colour.
type Shape uint8

// The shapes.
const (
	Dot Shape = iota
	Ring
	Square
	Diamond
	Triangle
	Cross
)

// Points are readings.
type Points struct {
	Name    string
	X, Y    []float64
	Err     []float64 // half-widths along Y; nil for none, 0 for none at that point
	Flagged []bool    // nil for none; a flagged point is ringed
	Shape   Shape
}

// A Bar is one bar of a histogram or of a comparison, from Lo to Hi.
type Bar struct {
	Name   string // under the bar, in place of the axis' numbers; empty in a histogram
	X      float64
	Width  float64 // along X, X in its middle
	Lo, Hi float64 // from its foot to its end
	Text   string  // the value as to be printed at a named bar; empty for a number of four digits
	Flag   bool    // outlined, as a flagged point is ringed
}

// A Mark is a rule across the figure with its name: a limit, a target.
type Mark struct {
	Name     string
	At       float64 // on Y, or on X when Vertical
	Vertical bool
}

// An Ellipse is a region of two quantities known together.
type Ellipse struct {
	Name         string
	X, Y         float64 // centre
	HalfX, HalfY float64 // half of its width and of its height
	Rho          float64 // correlation, −1 to 1
}

// An Arrow leads from one point to another.
type Arrow struct {
	Name                   string
	FromX, FromY, ToX, ToY float64
}

// A Label is text at a point.
type Label struct {
	Text string
	X, Y float64
}

// A Look says how a figure is drawn, not what it shows. The zero Look is the
// narrow figure with decimal points and English words.
type Look struct {
	ID    string // prefix of the ids; empty derives it from the title
	Wide  bool   // 720 units wide in place of 360
	Comma bool   // decimal comma
	Words Words
}

// Words are the words that figures and their tables add to what they are
// given. An empty one is English.
type Words struct {
	Figure      string // Figure: the name of one that has no title
	Nothing     string // There is nothing to draw yet
	Outside     string // Readings outside the picture
	Unaccounted string // Not accounted for
	What        string // head of a column of names
	Readings    string // points without a name
	Range       string // to, between the ends of a range
	Flagged     string // flagged
	Unlisted    string // more, not listed
	Side        string // Side, In, Out, Amount, Share: the table of a balance
	In, Out     string
	Amount      string
	Share       string
	From, To    string // From, To, When: the table of a strip
	When        string
}

var english = Words{
	Figure:      "Figure",
	Nothing:     "There is nothing to draw yet",
	Outside:     "Readings outside the picture",
	Unaccounted: "Not accounted for",
	What:        "What",
	Readings:    "Readings",
	Range:       "to",
	Flagged:     "flagged",
	Unlisted:    "more, not listed",
	Side:        "Side",
	In:          "In",
	Out:         "Out",
	Amount:      "Amount",
	Share:       "Share",
	From:        "From",
	To:          "To",
	When:        "When",
}

// worded is a Look in which the words that were left empty are filled.
func (l Look) worded() *Look {
	w, e := &l.Words, &english
	for _, p := range [...][2]*string{
		{&w.Figure, &e.Figure}, {&w.Nothing, &e.Nothing}, {&w.Outside, &e.Outside}, {&w.Unaccounted, &e.Unaccounted},
		{&w.What, &e.What}, {&w.Readings, &e.Readings}, {&w.Range, &e.Range}, {&w.Flagged, &e.Flagged},
		{&w.Unlisted, &e.Unlisted}, {&w.Side, &e.Side}, {&w.In, &e.In}, {&w.Out, &e.Out},
		{&w.Amount, &e.Amount}, {&w.Share, &e.Share}, {&w.From, &e.From}, {&w.To, &e.To}, {&w.When, &e.When},
	} {
		if *p[0] == "" {
			*p[0] = *p[1]
		}
	}
	return &l
}

// A Table is what a figure shows, in words and numbers.
type Table struct {
	Head []string
	Rows [][]string
}
