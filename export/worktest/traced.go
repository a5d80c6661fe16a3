package worktest

import (
	"bytes"
	"math"
	"testing"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/plane"
)

// Crosses returns where a level and an upright line of 8 mm meet in the middle of both: holes and
// register marks.
func Crosses(lines []Stroke) []plane.Point {
	var level, upright, out []plane.Point
	for _, l := range lines {
		middle := l.A.Lerp(l.B, 0.5)
		switch {
		case math.Abs(l.A.Distance(l.B)-8) > 0.01:
		case math.Abs(l.A.Y-l.B.Y) < 0.005:
			level = append(level, middle)
		case math.Abs(l.A.X-l.B.X) < 0.005:
			upright = append(upright, middle)
		}
	}
	for _, p := range level {
		for _, q := range upright {
			if p.Distance(q) < 0.01 {
				out = append(out, p)
			}
		}
	}
	return out
}

// Near returns how far p is from the nearest of the points.
func Near(points []plane.Point, p plane.Point) float64 {
	best := math.Inf(1)
	for _, q := range points {
		best = math.Min(best, q.Distance(p))
	}
	return best
}

// A Stroke is one straight line on a page, in mm from the top-left corner.
type Stroke struct{ A, B plane.Point }

// Strokes reads the straight lines of every page as another program's reader of PDF finds them.
func Strokes(t *testing.T, doc []byte) [][]Stroke {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(doc), int64(len(doc)))
	require.NoError(t, err)
	var pages [][]Stroke
	for n := 1; n <= r.NumPage(); n++ {
		page := r.Page(n)
		box := page.V.Key("MediaBox")
		if box.IsNull() {
			box = page.V.Key("Parent").Key("MediaBox")
		}
		height := box.Index(3).Float64()
		var lines []Stroke
		var last plane.Point
		pdf.Interpret(page.V.Key("Contents"), func(stk *pdf.Stack, op string) {
			args := make([]float64, stk.Len())
			for i := len(args) - 1; i >= 0; i-- {
				args[i] = stk.Pop().Float64()
			}
			if op != "m" && op != "l" {
				return
			}
			at := plane.Point{X: args[0] * 25.4 / 72, Y: (height - args[1]) * 25.4 / 72}
			if op == "l" {
				lines = append(lines, Stroke{last, at})
			}
			last = at
		})
		pages = append(pages, lines)
	}
	return pages
}
