package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// backed is what may lie behind the first wall of the sound plan.
const backed = `surface: glass
      thickness: 95
      behind: wet room
      far-side:
        - {kind: socket, centre: [2120, 300], width: 86, height: 86}
        - {kind: fixture, name: wash basin, left: 900, bottom: 700, width: 600, height: 300, clearance: 80}`

func TestWhatLiesBehind(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(strings.Replace(sound, "surface: brick", backed, 1)))
	require.NoError(t, err)
	w := p.Room.Walls[0]
	assert.Equal(t, [3]any{wall.Glass, wall.BehindWet, 95.0}, [3]any{w.Surface, w.Behind, w.Thickness})
	assert.Equal(t, []wall.Obstruction{
		{Kind: wall.Socket, Name: "socket", Shape: plane.Rectangle(plane.Point{X: 2077, Y: 257}, 86, 86), Clearance: wall.Rule(wall.Socket).Clearance},
		{Kind: wall.Fixture, Name: "wash basin", Shape: plane.Rectangle(plane.Point{X: 900, Y: 700}, 600, 300), Clearance: 80},
	}, w.FarSide)
	assert.Equal(t, [3]any{wall.Behind(""), 0.0, 0}, [3]any{p.Room.Walls[1].Behind, p.Room.Walls[1].Thickness, len(p.Room.Walls[1].FarSide)})
}

func TestFaultsInWhatLiesBehind(t *testing.T) {
	for from, to := range map[string][2]string{
		"behind: wet room":                {"behind: bathroom", "p.yaml:9: room.walls[0].behind: \"bathroom\" is not something that lies behind a wall; did you mean wet room?"},
		"thickness: 95":                   {"thickness: 0", "p.yaml:8: room.walls[0].thickness: 0 mm is not a thickness; give a number above 0"},
		"{kind: socket, ":                 {"{kind: soket, ", "p.yaml:11: room.walls[0].far-side[0].kind: \"soket\" is not a kind of obstruction; did you mean socket?"},
		"clearance: 80":                   {"depth: 80", "p.yaml:12: room.walls[0].far-side[1].depth: is not a known key"},
		"left: 900":                       {"left: 9000", "p.yaml:12: room.walls[0].far-side[1]: "},
		"behind: wet room\n      far":     {"stands: alone\n      far", "p.yaml:10: room.walls[0].far-side: is only used with a wall that is joined"},
		"      far-side:\n        - {kin": {"      stands: alone\n      far-side:\n        - {kin", "room.walls[0].behind: is only used with a wall that is joined"},
	} {
		text := strings.Replace(backed, from, to[0], 1)
		require.NotEqual(t, backed, text, from)
		_, err := plan.Read("p.yaml", []byte(strings.Replace(sound, "surface: brick", text, 1)))
		assert.ErrorContains(t, err, to[1], from)
	}
}

func TestEdgesAndAnchors(t *testing.T) {
	text := strings.Replace(sound, "fixing: pin\n    stand-off: 12", "fixing: pin\n        anchor: plug\n    edges: sharp\n    stand-off: 12", 1)
	require.NotEqual(t, sound, text)
	p, err := plan.Read("p.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, [2]any{scatter.Plug, true}, [2]any{p.Kinds[0].Holes[0].Anchor, p.Kinds[0].Sharp})
	assert.Equal(t, [2]any{scatter.Anchor(""), false}, [2]any{p.Kinds[1].Holes[0].Anchor, p.Kinds[1].Sharp})
	for from, want := range map[string]string{
		"anchor: plug": "pieces[0].holes[0].anchor: \"jelly\" is not a way to hold; write one of pin, plug, expansion",
		"edges: sharp": "pieces[0].edges: \"jelly\" is not a sort of edges; write one of blunt, sharp",
	} {
		key, _, _ := strings.Cut(from, ":")
		_, err := plan.Read("p.yaml", []byte(strings.Replace(text, from, key+": jelly", 1)))
		assert.ErrorContains(t, err, want)
	}
}
