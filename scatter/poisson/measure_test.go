package poisson

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// On a square with radii that go evenly from 1 to k both integrals are known: that of r⁻² is the area
// over k, that of r⁻¹ along the edge the side times 1 + 1/k + 2 ln k / (k-1).
func TestMeasuredIntegrals(t *testing.T) {
	const side, scale = 1000.0, 5.0
	for _, k := range []float64{1, 1.4, 2, 3, 5} {
		bounds := plane.Rect{Max: plane.Point{X: side, Y: side}}
		chart := Chart{
			Frame:  space.Upright(space.Vec{}, 0),
			Bounds: bounds,
			Deep:   func(p plane.Point, d float64) bool { return min(p.X, p.Y, side-p.X, side-p.Y) >= d },
			Radii:  NewRaster(bounds, 10, func(p plane.Point) float64 { return 1 + (k-1)*p.X/side }),
		}
		along := 2.0
		if k > 1 {
			along = 2 * math.Log(k) / (k - 1)
		}
		slope := (k - 1) / side * scale
		m := measured([]Chart{chart}, scale)
		assert.InEpsilon(t, side*side/k*(1+2/math.Pi*slope), m.area, 0.003, "area, 1 to %v", k)
		assert.InEpsilon(t, side*(1+1/k+along), m.edge, 0.12, "edge, 1 to %v", k)
	}
}
