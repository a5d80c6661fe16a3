package plane_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
)

func near(t *testing.T, want, got plane.Point) {
	t.Helper()
	assert.InDelta(t, 0, want.Distance(got), 1e-9, "want %v, got %v", want, got)
}

func TestMotionCarriesOneEdgeOntoAnother(t *testing.T) {
	a, b := plane.Point{X: 100, Y: 0}, plane.Point{X: 100, Y: 50}
	c, d := plane.Point{X: 0, Y: 7}, plane.Point{X: 30, Y: 47} // 3-4-5, also 50 long
	m := plane.Carry(a, b, c, d)
	near(t, c, m.Apply(a))
	near(t, d, m.Apply(b))
	// A point 10 left of the first edge lies 10 left of the second.
	near(t, plane.Point{X: 15 - 8, Y: 27 + 6}, m.Apply(plane.Point{X: 90, Y: 25}))
	assert.InDelta(t, math.Atan2(40, 30)-math.Pi/2, m.Angle(), 1e-12)
}

func TestMotionsUndoAndFollow(t *testing.T) {
	m := plane.Carry(plane.Point{}, plane.Point{X: 13}, plane.Point{X: 4, Y: -9}, plane.Point{X: 9, Y: 3})
	n := plane.Carry(plane.Point{X: 1}, plane.Point{X: 1, Y: 2}, plane.Point{X: 5}, plane.Point{X: 3})
	for _, p := range []plane.Point{{}, {X: 3, Y: 8}, {X: -2000, Y: 17.5}} {
		near(t, p, m.Inverse().Apply(m.Apply(p)))
		near(t, n.Apply(m.Apply(p)), m.Then(n).Apply(p))
		near(t, p, plane.Stay().Apply(p))
	}
}
