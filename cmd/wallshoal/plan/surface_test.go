package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/flow"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// hall is a room of 5 x 3 m with a ceiling at 2.6 m, a breast on the back wall whose front carries
// pieces, and a screen in the middle.
func hall() wall.Room {
	side := func(name string, length float64) wall.Wall {
		return wall.Wall{Name: name, Turn: 90, Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, length, 2600)}
	}
	room := wall.Room{
		Walls:   []wall.Wall{side("Back", 5000), side("Right", 3000), side("Near", 5000), side("Left", 3000)},
		Ceiling: &wall.Wall{Name: "Ceiling", Surface: wall.Plasterboard},
	}
	room.Walls[0].Obstructions = []wall.Obstruction{{
		Kind: wall.Chimney, Name: "breast", Shape: plane.Rectangle(plane.Point{X: 1000}, 1200, 2600), Depth: 350, Use: []wall.Side{wall.Front},
	}}
	screen := wall.Wall{
		Name: "Screen", Surface: wall.Timber, Outline: plane.Rectangle(plane.Point{}, 1000, 1800),
		Alone: &wall.Stand{At: &plane.Point{X: 2000, Y: -1500}, Thickness: 30, Back: true},
	}
	room.Walls = append(room.Walls, screen)
	return room
}

// read returns the flow that the list of currents gives in the hall.
func read(list string) (flow.Field, error) {
	var field flow.Field
	err := yamlfile.Read("p.yaml", []byte("flow:\n"+list), MaxBytes, func(f *yamlfile.File, top yamlfile.Map) {
		r := &reader{file: f}
		field = r.stage(hall()).flow(top.Get("flow"))
	})
	return field, err
}

func TestPlacesOnEveryKindOfFace(t *testing.T) {
	for list, want := range map[string]space.Vec{
		"{wall: Back, at: [400, 900]}":                             {X: 400, Z: 900},
		"{wall: right, at: [400, 900]}":                            {X: 5000, Y: -400, Z: 900},
		"{wall: Back, face: breast front, at: [200, 900]}":         {X: 1200, Y: -350, Z: 900},
		"{wall: Back, face: Breast right return, at: [100, 2500]}": {X: 2200, Y: -250, Z: 2500},
		"{wall: ceiling, at: [400, 900]}":                          {X: 400, Y: -900, Z: 2600},
		"{wall: ceiling, face: wall, at: [400, 900]}":              {X: 400, Y: -900, Z: 2600},
		"{wall: Screen, at: [1000, 900]}":                          {X: 3000, Y: -1500, Z: 900},
		"{wall: Screen, face: back, at: [1000, 900]}":              {X: 2000, Y: -1470, Z: 900},
	} {
		field, err := read("  - away: " + list)
		require.NoError(t, err, list)
		got := field[0].(flow.Away).Point
		assert.InDelta(t, 0, got.Sub(want).Len(), 1e-6, "%s is at %v", list, got)
	}
}

func TestPlacesOffAFace(t *testing.T) {
	for list, want := range map[string]string{
		"{wall: Ceiling, at: [400, 3100]}":                   `p.yaml:2: flow[0].away.at: the point lies 100 mm off Ceiling; measure it from the bottom-left corner of the ceiling as it is drawn, seen looking up, or give a point in the room as room: [x, y, z]`,
		"{wall: Ceilnig, at: [400, 100]}":                    `p.yaml:2: flow[0].away.wall: "Ceilnig" is not the name of a wall; did you mean Ceiling?`,
		"{wall: Roof, at: [400, 100]}":                       `p.yaml:2: flow[0].away.wall: "Roof" is not the name of a wall; name one of the walls: Back, Right, Near, Left, Screen, Ceiling`,
		"{wall: Back, face: breast front, at: [1201, 100]}":  `p.yaml:2: flow[0].away.at: the point lies 1 mm off Back, breast front; measure it from the bottom-left corner of the face, or give a point in the room as room: [x, y, z]`,
		"{wall: Back, face: breast frnt, at: [1, 100]}":      `p.yaml:2: flow[0].away.face: "breast frnt" is not a face of Back; did you mean breast front?`,
		"{wall: Back, face: chimney, at: [1, 100]}":          `p.yaml:2: flow[0].away.face: "chimney" is not a face of Back; name one of the faces: wall, breast left return, breast front, breast right return`,
		"{wall: Right, face: breast front, at: [1201, 100]}": `p.yaml:2: flow[0].away.face: "breast front" is not a face of Right; name one of the faces: wall`,
	} {
		_, err := read("  - away: " + list)
		assert.EqualError(t, err, want)
	}
}

// A swirl on the ceiling goes the way it says as somebody sees it who looks up.
func TestASwirlOnTheCeiling(t *testing.T) {
	field, err := read("  - swirl: {wall: Ceiling, at: [2500, 1500], turn: clockwise}")
	require.NoError(t, err)
	site, err := wall.Survey(hall())
	require.NoError(t, err)
	f, ok := site.FaceByName("Ceiling", wall.WallFace)
	require.True(t, ok)
	got := field.At(site.Faces[f].Frame, plane.Point{X: 2500, Y: 2000})
	assert.InDelta(t, 1, got.X, 1e-9, "above the middle it runs to the right")
	assert.InDelta(t, 0, got.Y, 1e-9)
}
