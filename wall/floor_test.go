package wall

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// Between two places that were measured the floor is straight, and past the ends level.
func TestTheFloorRunsStraightBetweenThePlacesMeasured(t *testing.T) {
	w := Wall{Floor: []plane.Point{{X: 500, Y: 4}, {X: 1500, Y: -6}, {X: 3500, Y: 0}}}
	for x, want := range map[float64]float64{-20: 4, 500: 4, 1000: -1, 1500: -6, 2500: -3, 3500: 0, 9000: 0} {
		got, measured := w.FloorAt(x)
		assert.True(t, measured)
		assert.InDelta(t, want, got, 1e-9, "at %g", x)
	}
	_, measured := Wall{}.FloorAt(100)
	assert.False(t, measured)
}

func TestCheckOfAFloor(t *testing.T) {
	many := make([]plane.Point, MaxFloor+1)
	for i := range many {
		many[i].X = float64(i)
	}
	for _, tt := range []struct {
		name, field, wrong string
		floor              []plane.Point
	}{
		{"one place", "floor", "measured at one place", []plane.Point{{}}},
		{"too many", "floor", "201 places", many},
		{"back and forth", "floor[2]", "no farther along", []plane.Point{{}, {X: 900}, {X: 900, Y: 1}}},
		{"past the end", "floor[1]", "past the end of the wall", []plane.Point{{}, {X: 3100}}},
		{"before the start", "floor[0]", "past the end of the wall", []plane.Point{{X: -50}, {X: 300}}},
		{"a stair", "floor[1]", "from the wall's zero", []plane.Point{{}, {X: 3000, Y: 1200}}},
		{"nowhere", "floor[1]", "no place", []plane.Point{{}, {X: math.NaN()}}},
		{"good", "", "", []plane.Point{{}, {X: 1500, Y: -12}, {X: 3000, Y: -8}}},
	} {
		w := Wall{Name: "Hall", Surface: Brick, Outline: plane.Rectangle(plane.Point{}, 3000, 2500), Floor: tt.floor}
		problems := Room{Walls: []Wall{w}}.Check(measure.Millimetre)
		if tt.wrong == "" {
			assert.Empty(t, problems, tt.name)
			continue
		}
		require.Len(t, problems, 1, tt.name)
		assert.Equal(t, "room.walls[0]."+tt.field, problems[0].Field, tt.name)
		assert.Contains(t, problems[0].Wrong, tt.wrong, tt.name)
		assert.NotEmpty(t, problems[0].Fix)
	}
}
