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

// The heights of a way are above the floor that one walks on, up a stair and on its landing too: 685 to
// 2,030 mm (IBC 2018 §1003.3.3). A part of the outline over an opening is no floor.
func TestWalkingHeightsFollowTheFloor(t *testing.T) {
	stair := Wall{Name: "Stair", Surface: Brick, Outline: plane.Ring{
		{}, {X: 1000}, {X: 3000, Y: 1500}, {X: 4000, Y: 1500}, {X: 4000, Y: 4000}, {Y: 4000},
	}}
	opening := Wall{Name: "Opening", Surface: Brick, Outline: plane.Ring{
		{}, {X: 1000}, {X: 1000, Y: 900}, {X: 2000, Y: 900}, {X: 2000}, {X: 4000}, {X: 4000, Y: 4000}, {Y: 4000},
	}}
	sloping := Wall{Name: "Sloping", Surface: Brick, Outline: plane.Rectangle(plane.Point{}, 4000, 4000),
		Floor: []plane.Point{{X: 1000}, {X: 3000, Y: -200}}}
	raised := Wall{Name: "Raised", Surface: Brick, Outline: plane.Rectangle(plane.Point{Y: 400}, 4000, 1800), Alone: &Stand{}}
	for _, tt := range []struct {
		wall Wall
		x    float64
		foot float64
	}{
		{stair, 500, 0}, {stair, 2000, 750}, {stair, 3500, 1500}, {opening, 500, 0}, {opening, 1500, 0}, {opening, 3000, 0},
		{sloping, 500, 0}, {sloping, 2000, -100}, {sloping, 3900, -200}, {raised, 2000, 0},
	} {
		site, err := Survey(Room{Walls: []Wall{tt.wall}})
		require.NoError(t, err)
		var band plane.Region
		for _, z := range site.Faces[0].Zones {
			if z.Code == "route-projection" {
				band = z.Shape
			}
		}
		for up, want := range map[float64]bool{684: false, 686: true, 2029: true, 2031: false} {
			at := plane.Point{X: tt.x, Y: tt.foot + up}
			if plane.RegionOf(tt.wall.Outline).Contains(at) {
				assert.Equal(t, want, band.Contains(at), "%s, %g above the floor at %g", tt.wall.Name, up, tt.x)
			}
		}
	}
}

// What hangs over a landing is as near to heads as it is above the landing.
func TestHeadroomIsAboveTheFloorUnderIt(t *testing.T) {
	for foot, want := range map[float64]bool{0: false, 1500: true} {
		w := Wall{Name: "Landing", Surface: Brick, Outline: plane.Rectangle(plane.Point{Y: foot}, 4000, 4000-foot), Obstructions: []Obstruction{{
			Kind: Bulkhead, Name: "box", Shape: plane.Rectangle(plane.Point{X: 1000, Y: 3600}, 2000, 300), Depth: 400, Use: []Side{Underside},
		}}}
		site, err := Survey(Room{Walls: []Wall{w}})
		require.NoError(t, err)
		i, found := site.FaceByName("Landing", "box underside")
		require.True(t, found)
		var codes []string
		for _, z := range site.Faces[i].Zones {
			codes = append(codes, z.Code)
		}
		if !want {
			assert.NotContains(t, codes, "headroom")
			continue
		}
		assert.Contains(t, codes, "headroom")
	}
}
