package wall_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// soundRoom returns a room with nothing wrong with it: a wall with a window and a zone, and a
// gable.
func soundRoom() wall.Room {
	return wall.Room{Datum: 1500, Walls: []wall.Wall{
		{
			Name: "Long wall", Turn: 90, Surface: wall.Plaster, Margin: 50,
			Outline: plane.Rectangle(plane.Point{}, 4000, 2500),
			Obstructions: []wall.Obstruction{{
				Kind: wall.Window, Name: "window", Shape: plane.Rectangle(plane.Point{X: 1000, Y: 900}, 1200, 1000), Clearance: 50,
			}},
			Marked: []wall.Zone{{
				Code: "marked", Name: "coats", Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: -100, Y: 0}, 600, 1800)),
				Strength: wall.Forbidden, Binds: wall.Pieces, Reason: "coats hang here",
			}},
		},
		{
			Name: "Gable", Surface: wall.Brick, Margin: 50,
			Outline: plane.Ring{{}, {X: 3000}, {X: 3000, Y: 2000}, {X: 1500, Y: 3000}, {Y: 2000}},
			Obstructions: []wall.Obstruction{{
				Kind: wall.Lamp, Name: "lamp", Round: true, Shape: plane.Ellipse(plane.Point{X: 1500, Y: 2800}, 100, 100, 64),
			}},
		},
	}}
}

func TestCheck(t *testing.T) {
	require.Empty(t, soundRoom().Check(measure.Millimetre))
	shape := func(x, y, w, h float64) func(*wall.Room) {
		return func(r *wall.Room) { r.Walls[0].Obstructions[0].Shape = plane.Rectangle(plane.Point{X: x, Y: y}, w, h) }
	}
	onGable := func(x, y, w, h float64) func(*wall.Room) {
		return func(r *wall.Room) { r.Walls[1].Obstructions[0].Shape = plane.Rectangle(plane.Point{X: x, Y: y}, w, h) }
	}
	outline := func(ring ...plane.Point) func(*wall.Room) {
		return func(r *wall.Room) { r.Walls[1].Outline, r.Walls[1].Obstructions = ring, nil }
	}
	first := func(change func(*wall.Wall)) func(*wall.Room) {
		return func(r *wall.Room) { change(&r.Walls[0]) }
	}
	name := func(name string) func(*wall.Room) {
		return func(r *wall.Room) { r.Walls[1].Name = name }
	}
	const move = "move it or make it smaller, or correct the wall"
	tests := []struct {
		name   string
		change func(*wall.Room)
		want   string
	}{
		{"no walls", func(r *wall.Room) { r.Walls = nil }, "room.walls: there is no wall; describe at least one"},
		{"many walls", func(r *wall.Room) { r.Walls = make([]wall.Wall, 65) }, "room.walls: there are 65 walls; plan at most 64 at a time"},
		{"datum", func(r *wall.Room) { r.Datum = math.NaN() }, "room.datum: ? is out of range; give a length from -1000000 mm to 1000000 mm"},
		{"no name", name(""), "room.walls[1].name: there is no name; give one"},
		{"same name", name("long  WALL."), `room.walls[1].name: "long  WALL." begins or ends with a dot; remove the dot`},
		{"same name but for signs", name("long-WALL"), `room.walls[1].name: "long-WALL" is also the name of wall 1; give each wall a name of its own`},
		{"path as name", name("../x"), `room.walls[1].name: "../x" begins or ends with a dot; remove the dot`},
		{"path in name", name("a/b"), `room.walls[1].name: "a/b" has the character '/', which not every system takes in a file name; use letters, digits, spaces and - _ . , ' only`},
		{"control in name", name("a\x07b"), `room.walls[1].name: "a\ab" has the character '\a', which not every system takes in a file name; use letters, digits, spaces and - _ . , ' only`},
		{"direction in name", name("a\u202eb"), `room.walls[1].name: "a\u202eb" has the character '\u202e', which not every system takes in a file name; use letters, digits, spaces and - _ . , ' only`},
		{"space at the end", name("a "), `room.walls[1].name: "a " begins or ends with a space; remove the space`},
		{"signs alone", name("--"), `room.walls[1].name: "--" has no letter and no digit; give a name that can be read out`},
		{"long name", name(strings.Repeat("ж", 61)), `room.walls[1].name: the name has 61 characters; keep it within 60`},
		{"turn", first(func(w *wall.Wall) { w.Turn = 180 }), "room.walls[0].turn: 180 is not a turn; give degrees between -180 and 180: 90 an inside corner, -90 an outside corner, 0 straight on"},
		{"turn NaN", first(func(w *wall.Wall) { w.Turn = math.NaN() }), "room.walls[0].turn: NaN is not a turn; give degrees between -180 and 180: 90 an inside corner, -90 an outside corner, 0 straight on"},
		{"surface", first(func(w *wall.Wall) { w.Surface = "jelly" }), `room.walls[0].surface: "jelly" is not a surface; write one of block, brick, concrete, glass, plaster, plasterboard, stone, tile, timber`},
		{"margin", first(func(w *wall.Wall) { w.Margin = -1 }), "room.walls[0].margin: -1 mm is not a margin; give 0 or more"},
		{"margin over all", first(func(w *wall.Wall) { w.Margin = 1250 }), "room.walls[0].margin: 1250 mm along every edge leaves nothing of the wall; give a smaller margin, or write use: false for a wall that takes no pieces"},
		{"few corners", outline(plane.Point{}, plane.Point{X: 5}), "room.walls[1].outline: the outline has 2 corners; give at least 3"},
		{"many corners", func(r *wall.Room) { r.Walls[1].Outline = plane.Ellipse(plane.Point{X: 900, Y: 900}, 900, 900, 401) }, "room.walls[1].outline: the outline has 401 corners; give at most 400"},
		{"NaN corner", outline(plane.Point{}, plane.Point{X: 5}, plane.Point{X: math.NaN()}), "room.walls[1].outline: corner 3 is at no place; give two lengths"},
		{"infinite corner", outline(plane.Point{}, plane.Point{X: math.Inf(1)}, plane.Point{Y: 5}), "room.walls[1].outline: corner 2 is at no place; give two lengths"},
		{"thin", outline(plane.Point{}, plane.Point{X: 500}, plane.Point{Y: 0.5}), "room.walls[1].outline: it is only 0.5 mm across; give at least 1 mm each way"},
		{"vast", outline(plane.Point{}, plane.Point{X: 2e6}, plane.Point{Y: 500}), "room.walls[1].outline: it is 2000000 mm across; give at most 1000000 mm each way"},
		{"crossing", outline(plane.Point{}, plane.Point{X: 500}, plane.Point{Y: 500}, plane.Point{X: 600, Y: 500}), "room.walls[1].outline: the side after corner 2 and the side after corner 4 cross or touch; give the corners in order round the outline, each of them once"},
		{"clockwise", outline(plane.Point{}, plane.Point{Y: 500}, plane.Point{X: 500}), "room.walls[1].outline: the outline runs clockwise; give its corners counter-clockwise"},
		{"starts late", outline(plane.Point{X: 120}, plane.Point{X: 500}, plane.Point{X: 500, Y: 500}), "room.walls[1].outline: its leftmost corner is at x = 120 mm; measure x from the wall's left end, so that the leftmost corner has x = 0"},
		{"below the floor", outline(plane.Point{Y: -20}, plane.Point{X: 500}, plane.Point{Y: 500}), "room.walls[1].outline: its lowest corner is 20 mm below the floor; measure y from the floor up"},
		{"past the right end", shape(3000, 900, 1120, 500), "room.walls[0].obstructions[0]: reaches 120 mm past the right end of the wall; " + move},
		{"past the left end", shape(-0.5, 900, 1120, 500), "room.walls[0].obstructions[0]: reaches 0.5 mm past the left end of the wall; " + move},
		{"past the top", shape(0, 2400, 1120, 500), "room.walls[0].obstructions[0]: reaches 400 mm past the top of the wall; " + move},
		{"past the foot", shape(0, -10, 1120, 500), "room.walls[0].obstructions[0]: reaches 10 mm past the foot of the wall; " + move},
		{"flush but for the last bits", shape(0, 0, 4000+1e-9, 2500+1e-9), ""},
		{"beside the wall", shape(5000, 0, 100, 100), "room.walls[0].obstructions[0]: lies wholly outside the wall, up to 1100 mm past the right end of the wall; measure it from the wall's left end and from the floor"},
		{"past the slope", onGable(0, 1900, 300, 200), "room.walls[1].obstructions[0]: reaches 83.21 mm past the outline of the wall; " + move}, // 100 mm, times the cosine of the slope, 3/√13
		{"above the slope", onGable(0, 2900, 100, 100), "room.walls[1].obstructions[0]: lies wholly outside the wall, up to 832.05 mm past the outline of the wall; measure it from the wall's left end and from the floor"},
		{"round the ridge", onGable(1400, 2800, 200, 200), "room.walls[1].obstructions[0]: reaches 55.47 mm past the outline of the wall; " + move}, // 200/3 mm below the ridge
		{"kind", first(func(w *wall.Wall) { w.Obstructions[0].Kind = "moon" }), `room.walls[0].obstructions[0].kind: "moon" is not a kind of obstruction; write one of alarm, boxing, bulkhead, cable, call point, chimney breast, column, detector, door, exit door, exit sign, extinguisher, fireplace, fixture, flue, hatch, lamp, niche, panel, pipe, radiator, shelf, sign, socket, sprinkler, switch, vent, window`},
		{"nameless", first(func(w *wall.Wall) { w.Obstructions[0].Name = "" }), "room.walls[0].obstructions[0].name: there is no name; give one"},
		{"depth", first(func(w *wall.Wall) { w.Obstructions[0].Depth = math.Inf(-1) }), "room.walls[0].obstructions[0].depth: ? is deeper than any room; give at most 50000 mm"},
		{"clearance", first(func(w *wall.Wall) { w.Obstructions[0].Clearance = -3 }), "room.walls[0].obstructions[0].clearance: -3 mm is not a clearance; give 0 or more"},
		{"many obstructions", first(func(w *wall.Wall) { w.Obstructions = make([]wall.Obstruction, 501) }), "room.walls[0].obstructions: there are 501 obstructions; give at most 500 on one wall"},
		{"many zones", first(func(w *wall.Wall) { w.Marked = make([]wall.Zone, 201) }), "room.walls[0].zones: there are 201 zones; give at most 200 on one wall"},
		{"zone beside the wall", first(func(w *wall.Wall) {
			w.Marked[0].Shape = plane.RegionOf(plane.Rectangle(plane.Point{X: 9000}, 5, 5))
		}), "room.walls[0].zones[0]: the zone lies wholly outside the wall; measure it from the wall's left end and from the floor"},
		{"empty zone", first(func(w *wall.Wall) { w.Marked[0].Shape = plane.Region{} }), "room.walls[0].zones[0]: the zone has no area; give a width and a height above 0"},
		{"strength", first(func(w *wall.Wall) { w.Marked[0].Strength = "maybe" }), `room.walls[0].zones[0].strength: "maybe" is not a strength; write forbidden or caution`},
		{"binds", first(func(w *wall.Wall) { w.Marked[0].Binds = "air" }), `room.walls[0].zones[0].binds: "air" is nothing a zone can bind; write pieces, holes, combustible or projecting`},
		{"limit", first(func(w *wall.Wall) { w.Marked[0].Limit = -1 }), "room.walls[0].zones[0].limit: -1 mm is not a limit; give 0 or more"},
		{"nameless zone", first(func(w *wall.Wall) { w.Marked[0].Name = "" }), "room.walls[0].zones[0].name: there is no name; give one"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := soundRoom()
			tt.change(&r)
			var got []string
			for _, p := range r.Check(measure.Millimetre) {
				got = append(got, p.Error())
			}
			if tt.name == "many walls" {
				got = got[:1]
			}
			assert.Equal(t, tt.want, strings.Join(got, "\n"))
		})
	}
}

// A thin slot cut out of the wall, right through what stands there, is seen although every corner
// of it is on the wall.
func TestOverASlot(t *testing.T) {
	r := soundRoom()
	r.Walls[0].Outline = plane.Ring{{}, {X: 4000}, {X: 4000, Y: 2500}, {X: 1502, Y: 2500}, {X: 1501, Y: 500}, {X: 1499, Y: 500}, {X: 1498, Y: 2500}, {Y: 2500}}
	problems := r.Check(measure.Inch)
	require.Len(t, problems, 1)
	assert.Equal(t, `room.walls[0].obstructions[0]: reaches 0.067" past the outline of the wall; move it or make it smaller, or correct the wall`, problems[0].Error())
}

// What Check lets pass, Survey can place.
func TestCheckedRoomsAreSurveyed(t *testing.T) {
	_, err := wall.Survey(soundRoom())
	assert.NoError(t, err)
}

func TestFoldName(t *testing.T) {
	for _, same := range [][2]string{{"Long wall", "LONG-WALL"}, {"Straße", "straße"}, {"Été", "e\u0301te\u0301"}, {"ΟΔΟΣ", "οδος"}} {
		assert.Equal(t, wall.FoldName(same[0]), wall.FoldName(same[1]))
	}
	assert.NotEqual(t, wall.FoldName("Wall 1"), wall.FoldName("Wall 11"))
	for i, k := range wall.ObstructionKinds() {
		assert.Equal(t, k, wall.Rule(k).Kind, "%d", i)
	}
	assert.Len(t, wall.ObstructionKinds(), 28, fmt.Sprint(wall.ObstructionKinds()))
}

func TestTooMuchInTheRoom(t *testing.T) {
	var room wall.Room
	for i := range 5 {
		w := wall.Wall{Name: string(rune('A' + i)), Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 60_000, 2500)}
		for j := range 401 {
			w.Obstructions = append(w.Obstructions, wall.Obstruction{
				Kind: wall.Socket, Name: "socket", Shape: plane.Rectangle(plane.Point{X: 100 * float64(j), Y: 300}, 80, 80),
			})
		}
		room.Walls = append(room.Walls, w)
	}
	problems := room.Check(measure.Millimetre)
	require.Len(t, problems, 1)
	assert.Equal(t, "room.walls", problems[0].Field)
	assert.Equal(t, "there are 2005 obstructions in all", problems[0].Wrong)
}
