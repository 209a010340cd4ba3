package figure

import "testing"

// BenchmarkSVG tells time and size of a figure as the page draws it on each
// answer, and of the longest series that a logger gives.
func BenchmarkSVG(b *testing.B) {
	g := gallery()
	for _, name := range []string{"release", "oxygen", "family", "variance", "cup", "lot", "humidity", "cloud"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			size := 0
			for b.Loop() {
				size = len(g[name].SVG())
			}
			b.ReportMetric(float64(size), "svg-bytes")
		})
	}
}

func BenchmarkTable(b *testing.B) {
	p := gallery()["release"]
	b.ReportAllocs()
	for b.Loop() {
		p.Table()
	}
}
