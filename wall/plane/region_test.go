package plane

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func box(x, y, w, h float64) Region { return RegionOf(Rectangle(Point{x, y}, w, h)) }

func TestRegionAreasAgainstClosedForms(t *testing.T) {
	frame, err := NewRegion(Polygon{
		Outer: Rectangle(Point{}, 100, 100),
		Holes: []Ring{Rectangle(Point{20, 20}, 60, 60)},
	})
	require.NoError(t, err)
	island := box(40, 40, 20, 20)

	nested, err := Union(frame, island)
	require.NoError(t, err)
	assert.InDelta(t, 100*100-60*60+20*20, nested.Area(), 1e-9, "an island in a hole")
	assert.Len(t, nested.Polygons(), 2)

	hole, err := box(0, 0, 100, 100).Difference(box(20, 20, 60, 60))
	require.NoError(t, err)
	assert.Equal(t, frame, hole, "one region made in two ways")

	both, err := box(0, 0, 100, 100).Intersection(nested)
	require.NoError(t, err)
	assert.Equal(t, nested, both)

	twice, err := NewRegion(
		Polygon{Outer: Rectangle(Point{}, 100, 100)},
		Polygon{Outer: Rectangle(Point{50, 0}, 100, 100).Reverse()},
		Polygon{Outer: Rectangle(Point{150, 0}, 10, 100)},
	)
	require.NoError(t, err)
	assert.Equal(t, box(0, 0, 160, 100), twice, "overlapping and edge-sharing parts, either way round")
}

func TestGrowRoundsWhatOpens(t *testing.T) {
	square := box(0, 0, 100, 100)

	wide, err := square.Grow(10)
	require.NoError(t, err)
	// Steiner's formula: area + perimeter·d + π d², here with a disc of 128 sides for the true one.
	disc := 0.5 * 128 * math.Sin(2*math.Pi/128) * 100
	assert.InDelta(t, 100*100+400*10+disc, wide.Area(), 0.01)

	narrow, err := square.Grow(-10)
	require.NoError(t, err)
	assert.Equal(t, box(10, 10, 80, 80), narrow)

	gone, err := square.Grow(-50)
	require.NoError(t, err)
	assert.True(t, gone.Empty())

	_, err = square.Grow(math.NaN())
	assert.Error(t, err)
}

func TestNewRegionRefuses(t *testing.T) {
	tests := []struct {
		name string
		poly Polygon
	}{
		{"bow tie", Polygon{Outer: Ring{{0, 0}, {10, 10}, {10, 0}, {0, 15}}}},
		{"hole outside", Polygon{Outer: Rectangle(Point{}, 10, 10), Holes: []Ring{Rectangle(Point{20, 0}, 5, 5)}}},
		{"holes that overlap", Polygon{Outer: Rectangle(Point{}, 10, 10), Holes: []Ring{
			Rectangle(Point{1, 1}, 5, 5), Rectangle(Point{3, 3}, 5, 5)}}},
		{"corner not a number", Polygon{Outer: Ring{{0, 0}, {10, 0}, {math.NaN(), 10}}}},
		{"corner at infinity", Polygon{Outer: Ring{{0, 0}, {10, 0}, {0, math.Inf(1)}}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := NewRegion(tt.poly)
			assert.Error(t, err)
		})
	}
}

func TestTheEmptyRegion(t *testing.T) {
	var none Region
	assert.True(t, none.Empty())
	assert.Zero(t, none.Area())
	assert.Equal(t, Rect{}, none.Bounds())
	assert.Empty(t, none.Polygons())
	assert.False(t, none.Contains(Point{}))
	assert.False(t, none.Touches(Rectangle(Point{}, 1, 1)))
	assert.True(t, math.IsInf(none.Distance(Point{}), -1))

	for name, r := range map[string]Ring{
		"nil": nil, "one corner": {{1, 1}}, "flat": {{0, 0}, {10, 0}, {5, 0}},
		"hairline": Rectangle(Point{}, 1000, 1e-5), "not finite": {{0, 0}, {math.NaN(), 0}, {0, 1}},
	} {
		assert.True(t, RegionOf(r).Empty(), name)
	}

	u, err := Union()
	require.NoError(t, err)
	assert.Equal(t, none, u)
	d, err := none.Difference(box(0, 0, 1, 1))
	require.NoError(t, err)
	assert.Equal(t, none, d)
	i, err := none.Intersection(box(0, 0, 1, 1))
	require.NoError(t, err)
	assert.Equal(t, none, i)
}

// A region that is turned over keeps its area, its hole, and what lies in it.
func TestMapTurnsOver(t *testing.T) {
	plate, err := RegionOf(Rectangle(Point{}, 100, 60)).Difference(RegionOf(Rectangle(Point{X: 10, Y: 10}, 20, 20)))
	require.NoError(t, err)
	over := func(p Point) Point { return Point{X: 300 - p.X, Y: p.Y} }
	turned, err := plate.Map(over)
	require.NoError(t, err)
	assert.InDelta(t, 100*60-20*20, turned.Area(), 1e-9)
	for _, p := range []Point{{X: 5, Y: 5}, {X: 20, Y: 20}, {X: 99, Y: 59}, {X: 120, Y: 5}} {
		assert.Equal(t, plate.Contains(p), turned.Contains(over(p)), "%v", p)
	}
	back, err := turned.Map(over)
	require.NoError(t, err)
	assert.Equal(t, plate, back)
	_, err = plate.Map(func(p Point) Point { return p.Scale(1e9) })
	assert.Error(t, err)
}
