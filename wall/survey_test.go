package wall_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/walltest"
)

// survey returns the face of w alone in a room.
func survey(t *testing.T, w wall.Wall) wall.Face {
	t.Helper()
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}})
	require.NoError(t, err)
	require.Len(t, site.Faces, 1)
	return site.Faces[0]
}

// sampled estimates the free area of w in mm² without polygons: the share of 60,000 points spread
// evenly over its box (by the plastic ratio) that lie farther than the margin from the edge and
// than the clearance from obstructions.
func sampled(w wall.Wall) float64 {
	const points, plastic = 60_000, 1.32471795724474602596
	b := w.Outline.Bounds()
	var n int
	for i := range points {
		_, u := math.Modf(0.5 + float64(i)/plastic)
		_, v := math.Modf(0.5 + float64(i)/(plastic*plastic))
		if open(w, plane.Point{X: b.Min.X + u*b.Width(), Y: b.Min.Y + v*b.Height()}) {
			n++
		}
	}
	return float64(n) / points * b.Width() * b.Height()
}

func open(w wall.Wall, p plane.Point) bool {
	if !w.Outline.Contains(p) || toEdge(p, w.Outline) < w.Margin {
		return false
	}
	for _, o := range w.Obstructions {
		if o.Shape.Contains(p) || toEdge(p, o.Shape) < o.Clearance {
			return false
		}
	}
	return true
}

func toEdge(p plane.Point, r plane.Ring) float64 {
	near := math.Inf(1)
	for i, a := range r {
		near = math.Min(near, plane.SegmentDistance(p, a, r[(i+1)%len(r)]))
	}
	return near
}

func TestFreeAreaAgainstSampling(t *testing.T) {
	for _, w := range walltest.Elevations() {
		t.Run(w.Name, func(t *testing.T) {
			assert.Empty(t, wall.Room{Walls: []wall.Wall{w}}.Check(measure.Millimetre))
			b := w.Outline.Bounds()
			assert.InDelta(t, sampled(w), survey(t, w).Free().Area(), 0.001*b.Width()*b.Height())
		})
	}
}
