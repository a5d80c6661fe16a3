package poisson_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
)

var plot = plane.Rect{Min: plane.Point{X: -30, Y: 20}, Max: plane.Point{X: 470, Y: 331}}

// What is bilinear already comes back as it was, to the rounding of the values.
func TestRasterOfABilinearField(t *testing.T) {
	field := func(p plane.Point) float64 { return 3 + 0.01*p.X + 0.02*p.Y + 0.0001*p.X*p.Y }
	r := poisson.NewRaster(plot, 7, field)
	rng := rand.New(rand.NewPCG(1, 1))
	for range 1000 {
		p := within(plot, rng)
		assert.InEpsilon(t, field(p), r.At(p), 1e-6)
	}
	assert.Equal(t, r.At(plot.Min), r.At(plane.Point{X: -1000, Y: -1000}), "beyond the edge it is as at the edge")
}

// No place in a box has a radius beyond the bounds of the box, and in a small one places come near
// to both. Some nodes are infinite.
func TestRasterBoundsItsBoxes(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	noise := rand.New(rand.NewPCG(4, 5))
	r := poisson.NewRaster(plot, 9, func(p plane.Point) float64 {
		if p.X > 380 && p.Y > 240 {
			return math.Inf(1)
		}
		return 5 + 40*noise.Float64()
	})
	for size := 0.5; size < 600; size *= 1.3 {
		for range 60 {
			a := within(plot.Grow(20), rng)
			box := plane.Rect{Min: a, Max: a.Add(plane.Point{X: size, Y: size * rng.Float64()})}
			least, most := r.Within(box)
			low, high := math.Inf(1), math.Inf(-1)
			for range 400 {
				v := r.At(within(box, rng))
				low, high = min(low, v), max(high, v)
			}
			require.LessOrEqual(t, least, low+1e-9)
			require.GreaterOrEqual(t, most, high-1e-9)
			if size < 9 && !math.IsInf(most, 1) {
				require.InDelta(t, high-low, most-least, 0.25*(most-least)+1e-9, "a box of %v", size)
			}
		}
	}
}

func within(box plane.Rect, rng *rand.Rand) plane.Point {
	return plane.Point{X: box.Min.X + box.Width()*rng.Float64(), Y: box.Min.Y + box.Height()*rng.Float64()}
}
