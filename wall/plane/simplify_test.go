package plane

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSimplifyLeavesNoCornerFartherOffThanTheSlack(t *testing.T) {
	for _, slack := range []float64{0.1, 1, 5} {
		r := Ellipse(Point{3, 4}, 60, 20, 90)
		got := r.Simplify(slack)
		require.Less(t, len(got), len(r))
		for _, p := range r {
			near := math.Inf(1)
			for i, a := range got {
				near = math.Min(near, SegmentDistance(p, a, got[got.after(i)]))
			}
			assert.LessOrEqual(t, near, slack+1e-9)
		}
		for _, p := range got {
			assert.Contains(t, r, p, "it makes no corner of its own")
		}
	}
}

func TestSimplifyKeepsWhatItCannotSpare(t *testing.T) {
	square := Rectangle(Point{}, 10, 10)
	assert.Equal(t, square, square.Simplify(100))
	round := Ellipse(Point{}, 1, 1, 30)
	assert.Equal(t, round, round.Simplify(100), "a ring never comes to a line")
}
