package figure

import (
	"encoding/binary"
	"math"
	"testing"
)

// FuzzFigures draws whatever comes. Any numbers and any text give sound
// figures and whole tables.
func FuzzFigures(f *testing.F) {
	nums := func(v ...float64) (b []byte) {
		for _, x := range v {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
		return b
	}
	f.Add("Oxygen", "bag", uint16(0), nums(0, 1, 2, 3, 4, 5))                                       // plain
	f.Add("", "", uint16(0xffff), nums())                                                           // no data
	f.Add("a]]><b", "\x00\xff\ufffe", uint16(1), nums(1e150, -1e150, math.Nextafter(1e150, 2e150))) // the widest range
	f.Add("x", "y", uint16(2), nums(math.NaN(), math.Inf(1), math.Inf(-1), 5))                      // not finite
	f.Add("x", "y", uint16(3), nums(5e-324, 1e-320, 1e-150, 1e-151))                                // nearly nothing, on logarithmic axes
	f.Add("x", "y", uint16(4), nums(7, 7, 7, 7))                                                    // no range
	f.Add("x", "long word "+string(make([]rune, 200)), uint16(8), nums(1, math.Nextafter(1, 2)))    // no room
	f.Add("x", "y", uint16(16), nums(1e9, 1e9+1, 1e9+2, 1e9-3))                                     // many digits
	f.Add("x", "y", uint16(0x50), nums(-1e150, 1e150, 0, 1e-150, 1e150))                            // given ranges
	f.Add("0", "0", uint16(2), nums(0, 2e-150))                                                     // a zero among powers of ten
	f.Add("\x01", "", uint16(0xffff), nums(-1, -2))                                                 // a title of nothing that XML can hold
	f.Add("0", " ", uint16(3), []byte("00000000"))                                                  // a window named by a space
	f.Add("A", "0", uint16(56), nums(0, 1, 1<<33, 3, 4, 5))                                         // a band far beside the frame
	classes := documented(f)
	f.Fuzz(func(t *testing.T, title, name string, how uint16, data []byte) {
		if len(title) > 300 || len(name) > 300 || len(data) > 2048 {
			return
		}
		var v []float64
		for ; len(data) >= 8; data = data[8:] {
			v = append(v, math.Float64frombits(binary.LittleEndian.Uint64(data)))
		}
		at := func(i int) float64 {
			if len(v) == 0 {
				return math.NaN()
			}
			return v[i%len(v)]
		}
		var w []float64
		for i := range v {
			w = append(w, at(len(v)-1-i))
		}
		bit := func(n int) bool { return how>>n&1 == 1 }
		p := Plot{Title: title, Desc: name, X: Axis{Label: name, Unit: title, Log: bit(0)}, Y: Axis{Label: title, Log: bit(1)}}
		if bit(2) {
			p.X.Ticks = []Tick{{at(0), name}, {at(1), title}}
		}
		if bit(4) {
			p.X.Min, p.X.Max = at(0), at(1)
		}
		if bit(5) {
			p.Y.Ticks = []Tick{{at(0), name}, {at(1), title}, {at(2), ""}}
		}
		if bit(6) {
			p.Y.Min, p.Y.Max = at(2), at(3)
		}
		if !bit(7) {
			p.Lines = []Line{{Name: name, X: v, Y: w, Style: Style(how)}, {Name: title, X: w, Y: v}}
			p.Bands = []Band{{Name: name, X: v, Lo: w, Hi: v}}
		}
		if !bit(8) {
			p.Points = []Points{{Name: name, X: v, Y: w, Err: v, Flagged: []bool{bit(3)}, Shape: Shape(how)}}
			p.Ellipses = []Ellipse{{Name: title, X: at(0), Y: at(1), HalfX: at(2), HalfY: at(3), Rho: at(4)}}
			p.Arrows = []Arrow{{name, at(0), at(1), at(2), at(3)}}
			p.Labels = []Label{{name, at(0), at(1)}}
		}
		if bit(9) {
			p.Bars = []Bar{{Name: name, X: at(0), Width: at(1), Lo: at(2), Hi: at(3)}, {Name: title, X: at(1), Width: at(2), Hi: at(0), Flag: true}}
		}
		p.Marks = []Mark{{name, at(0), bit(10)}, {title, at(1), !bit(10)}}
		flow := Flow{Title: title, Unit: name, Links: []Link{{int(how), 0, at(0)}}}
		strip := Strip{Title: title, Unit: name}
		for i := range v {
			flow.From = append(flow.From, Share{Name: name, Amount: at(i)})
			flow.To = append(flow.To, Share{Name: title, Amount: at(2*i + 1), Text: name})
			strip.Windows = append(strip.Windows, Window{name, at(i), at(i + 1), Tone(how)})
			strip.Moments = append(strip.Moments, Moment{Name: title, At: at(i), Err: at(i + 1), Now: bit(3)})
			if i == 3 {
				break
			}
		}
		if bit(11) {
			flow.Links = nil
		}
		look := Look{Wide: bit(12), Comma: bit(13)}
		if bit(14) {
			look.ID = name
		}
		for kind, fig := range map[string]picture{"plot": p, "flow": flow, "strip": strip} {
			s := fig.Draw(look)
			if err := sound(s, classes); err != nil {
				t.Fatalf("%s: %v\n%s", kind, err, s)
			}
			table := fig.Data(look)
			for _, r := range table.Rows {
				if len(r) != len(table.Head) {
					t.Fatalf("%s: row %q under head %q", kind, r, table.Head)
				}
			}
		}
	})
}
