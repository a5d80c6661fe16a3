package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The exact overlay is the judge.
func TestSharedIsTheAreaOfTheIntersection(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	star := func(points int) Ring {
		var ring Ring
		for i := range points {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(points))
			far := 20 + 40*rng.Float64()
			ring = append(ring, Point{far * cos, far * sin})
		}
		return ring.Place(Point{60 * rng.Float64(), 60 * rng.Float64()}, 7*rng.Float64())
	}
	for range 500 {
		r, s := star(3+rng.IntN(30)), star(3+rng.IntN(30))
		both, err := RegionOf(r).Intersection(RegionOf(s))
		require.NoError(t, err)
		assert.InDelta(t, both.Area(), Shared(r, s), 0.05)
		assert.InDelta(t, Shared(r, s), Shared(s.Reverse(), r), 1e-6)
	}
}

func TestSharedByHand(t *testing.T) {
	square := Rectangle(Point{}, 10, 10)
	assert.InDelta(t, 12.0, Shared(square, Rectangle(Point{X: 7, Y: 6}, 10, 10)), 1e-9)
	assert.InDelta(t, 4.0, Shared(square, Rectangle(Point{X: 3, Y: 3}, 2, 2)), 1e-9)
	assert.Zero(t, Shared(square, Rectangle(Point{X: 11}, 5, 5)))
}
