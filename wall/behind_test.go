package wall_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// The band of an accessory counts on the other face of a wall of 100 mm or less as well (BS 7671:2018
// regulation 522.6.202(i), as a trade guide has it).
func TestTheFarSideOfAThinWall(t *testing.T) {
	for _, tt := range []struct {
		thickness, limit float64
		counts           bool
	}{{0, 0, true}, {100, 0, true}, {100.5, 0, false}, {120, 150, true}} {
		w := boxWall(0)
		w.Thickness = tt.thickness
		w.FarSide = []wall.Obstruction{rect(wall.Socket, 400, 300, 146, 86, 50), rect(wall.Fixture, 2000, 800, 600, 400, 50)}
		site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}, Rules: wall.Rules{FarSide: tt.limit}})
		require.NoError(t, err)
		f := site.Faces[0]
		if !tt.counts {
			assert.Empty(t, zonesOf(f, "far-side"), "%+v", tt)
			assert.Len(t, zonesOf(f, "cable-band"), 1, "the top of the wall alone: %+v", tt)
			continue
		}
		band := zone(t, f, "cable-band", "the socket")
		assert.InDelta(t, 146*2500+86*4000-146*86, band.Shape.Area(), 1e-6)
		assert.Contains(t, band.Reason, "on the other side of a thin wall")
		basin := zone(t, f, "far-side", "the fixture")
		assert.Equal(t, [2]any{wall.Caution, wall.Holes}, [2]any{basin.Strength, basin.Binds})
		assert.True(t, basin.Shape.Contains(plane.Point{X: 1955, Y: 1000}))
		assert.False(t, basin.Shape.Contains(plane.Point{X: 1945, Y: 1000}))
		assert.Equal(t, f.Outline, f.Free(), "pieces hang before it all the same")
	}
}

func TestHowThinAWallIs(t *testing.T) {
	thick := func(mm float64) wall.Wall { return wall.Wall{Thickness: mm} }
	assert.True(t, thick(100).Thin(wall.Rules{}))
	assert.False(t, thick(101).Thin(wall.Rules{}))
	assert.True(t, thick(101).Thin(wall.Rules{FarSide: 120}))
	assert.False(t, thick(0).Thin(wall.Rules{}), "nobody has said")
	screen := wall.Wall{Alone: &wall.Stand{Thickness: 40}}
	assert.Equal(t, 40.0, screen.Through())
}

func TestCheckOfWhatLiesBehind(t *testing.T) {
	for _, tt := range []struct {
		name, want string
		change     func(*wall.Wall)
	}{
		{"sound", "", func(w *wall.Wall) { w.Behind, w.Thickness = wall.BehindWet, 95 }},
		{"jelly", `room.walls[0].behind: "jelly" is nothing that lies behind a wall; write one of outside, plant room, room, unknown, wet room`,
			func(w *wall.Wall) { w.Behind = "jelly" }},
		{"thickness", "room.walls[0].thickness: -1 mm is out of range", func(w *wall.Wall) { w.Thickness = -1 }},
		{"alone", "room.walls[0].stands: behind a wall that stands alone lies the room itself",
			func(w *wall.Wall) { w.Behind, w.Alone = wall.BehindRoom, &wall.Stand{} }},
		{"off the wall", "room.walls[0].far-side[0]", func(w *wall.Wall) {
			w.FarSide = []wall.Obstruction{rect(wall.Socket, 9000, 300, 86, 86, 50)}
		}},
	} {
		w := boxWall(0)
		tt.change(&w)
		problems := wall.Room{Walls: []wall.Wall{w}}.Check(measure.Millimetre)
		if tt.want == "" {
			assert.Empty(t, problems, tt.name)
			continue
		}
		require.Len(t, problems, 1, tt.name)
		assert.Contains(t, problems[0].Error(), tt.want)
	}
}

// The regulation speaks of points as well as of accessories: a lamp, an alarm and the like have a cable.
func TestCableBandsOfPoints(t *testing.T) {
	for _, kind := range []wall.ObstructionKind{wall.Lamp, wall.Alarm, wall.CallPoint, wall.ExitSign, wall.Detector} {
		f := survey(t, boxWall(0, rect(kind, 1000, 1500, 100, 60, 50)))
		z := zone(t, f, "cable-band", "the "+string(kind))
		assert.True(t, z.Shape.Contains(plane.Point{X: 1050, Y: 10}), kind)
		assert.True(t, z.Shape.Contains(plane.Point{X: 3990, Y: 1530}), kind)
	}
	assert.Len(t, zonesOf(survey(t, boxWall(0, rect(wall.Extinguisher, 1000, 900, 150, 500, 50))), "cable-band"), 1, "the top of the wall alone")
}
