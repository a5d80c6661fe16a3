package plan_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
	"wallshoal/scatter"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// sound is a plan without a fault, of as few lines as will do.
const sound = `title: Leaves
room:
  walls:
    - name: Long wall
      length: 4000
      height: 2500
      surface: brick
      obstructions:
        - kind: window
          left: 1000
          bottom: 900
          width: 1200
          height: 1000
    - name: Short wall
      outline: [[0, 0], [3000, 0], [3000, 2000], [1500, 3000], [0, 2000]]
      surface: plaster
pieces:
  - name: Leaf
    code: A
    outline:
      ellipse: [80, 22]
    holes:
      - at: [0, 0]
        bit: 1.5
        depth: 25
        fixing: pin
    stand-off: 12
  - name: Twig
    code: B
    outline:
      points: [[0, 0], [60, 0], [30, 40]]
    heads: right
    holes:
      - at: [30, 10]
        bit: 2
        depth: 25
        fixing: pin
    stand-off: 5
composition:
  count: 100
  spacing: 95
  flow:
    - toward: {wall: Short wall, at: [1500, 1200]}
`

func TestDefaults(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound))
	require.NoError(t, err)
	assert.Equal(t, measure.Millimetre, p.Units)
	assert.Equal(t, uint64(1), p.Seed)
	assert.True(t, p.Date.IsZero())
	assert.Equal(t, 1500.0, p.Room.Datum)
	w := p.Room.Walls[0]
	assert.Equal(t, 50.0, w.Margin)
	assert.Equal(t, 90.0, w.Turn)
	assert.False(t, w.Bare)
	assert.Equal(t, "window", w.Obstructions[0].Name)
	assert.Equal(t, wall.Rule(wall.Window).Clearance, w.Obstructions[0].Clearance)
	k := p.Kinds[0]
	assert.True(t, k.Combustible)
	assert.Equal(t, 1.0, k.Share)
	assert.NotEqual(t, k.Colour, p.Kinds[1].Colour)
	assert.InDelta(t, 80, k.Outline.Bounds().Width(), 0.01, "the length of an ellipse runs the way it heads")
	assert.Equal(t, 5.0, p.Composition.Gap)
	assert.Equal(t, 12.0, p.Composition.Headings.Spread)
	a4, _ := drafting.PaperByName("A4")
	assert.Equal(t, tiling.Print{Paper: a4, Auto: true, Overlap: 10, Margin: 6}, p.Print)

	p, err = plan.Read("p.yaml", []byte(without(sound, "  flow:", "    - toward")))
	require.NoError(t, err)
	assert.Equal(t, flow.Field{flow.Sweep{Angle: heading.Bearing(90).Angle(), Strength: 1}}, p.Composition.Flow)

	p, err = plan.Read("p.yaml", []byte("units: ft\n"+strings.NewReplacer("[80, 22]", `[8", 2"]`, ": 12\n", ": 1\"\n", "spacing: 95", "spacing: 1", "outline: [[0, 0], [3000, 0], [3000, 2000], [1500, 3000], [0, 2000]]", "outline: [[0, 0], [9, 0], [9, 6]]",
		"left: 1000", "left: 3", "bottom: 900", "bottom: 2", "width: 1200", "width: 3", "height: 1000", "height: 3", "length: 4000", "length: 12", "height: 2500", "height: 8", "[1500, 1200]", "[8, 3]", ": 25\n", ": 1\"\n", "bit: 1.5", `bit: 1/16"`, "bit: 2", `bit: 1/16"`,
		"[[0, 0], [60, 0], [30, 40]]", "[[0, 0], [0.2, 0], [0.1, 0.15]]", "[30, 10]", "[0.1, 0.05]", "stand-off: 5", `stand-off: 1/2"`).Replace(sound)))
	require.NoError(t, err)
	assert.Equal(t, "Letter", p.Print.Paper.Name)
	assert.Equal(t, 304.8, p.Composition.Spacing)
}

// without returns the text less the lines that begin so.
func without(text string, starts ...string) string {
	var kept []string
	for _, line := range strings.Split(text, "\n") {
		drop := false
		for _, s := range starts {
			drop = drop || strings.HasPrefix(line, s)
		}
		if !drop {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "\n")
}

// Everything a plan can say is read into its place.
func TestEverything(t *testing.T) {
	const full = `title: Stones
for: The school
place: South stair
by: The kiln
date: 2026-11-25
units: cm
seed: 18446744073709551615
room:
  datum: 4'-9"
  margin: 6
  walls:
    - name: Stair wall
      length: 4 m
      height: 250
      turn: -45.5
      surface: Concrete
      use: false
      margin: 0
      obstructions:
        - {kind: radiator, name: old radiator, centre: [100, 50], width: 80, height: 60, depth: 12, clearance: 0}
        - {kind: detector, centre: [200, 200], diameter: 11}
        - {kind: niche, points: [[300, 0], [300, 40], [350, 0]], depth: -20}
        - {kind: cable, path: [[10, 30], [60, 30], [60, 250]], width: 4}
      zones:
        - {name: coats, left: -10, bottom: 0, width: 60, height: 180, reason: coats hang here}
        - {name: walk, left: 0, bottom: 68, width: 400, height: 135, strength: caution, binds: projecting, limit: 10, reason: people walk past}
    - name: Landing
      outline: {points: [[0, 0], [0, 200], [300, 200], [300, 0]]}
      surface: stone
pieces:
  - name: Pebble
    code: Β1
    outline:
      path: >-
        M 0,-50 L 20,50
        L -20,50 Z
    length: 8
    holes:
      - {at: [0, 40], bit: 6 mm, depth: 3.5, fixing: plug and screw}
    stand-off: 2.2
    weight: 160.5
    combustible: no
    colour: "#8C8375"
    count: 30
composition:
  spacing: 9
  gap: 1
  spread: 0
  flow:
    - {toward: {wall: stair wall, at: [100, 150]}, strength: 0.5}
    - {toward: {room: [1, 2, 3]}}
    - {sweep: 360, strength: 2}
print:
  paper: tabloid
  orientation: Landscape
  overlap: 12 mm
  margin: 1/4 in
`
	p, err := plan.Read("p.yaml", []byte(full))
	require.NoError(t, err)
	assert.Equal(t, []string{"Stones", "The school", "South stair", "The kiln"}, []string{p.Title, p.For, p.Place, p.By})
	assert.Equal(t, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), p.Date)
	assert.Equal(t, uint64(math.MaxUint64), p.Seed)
	assert.Equal(t, 57*25.4, p.Room.Datum)

	w := p.Room.Walls[0]
	assert.Equal(t, []any{"Stair wall", -45.5, wall.Concrete, true, 0.0}, []any{w.Name, w.Turn, w.Surface, w.Bare, w.Margin})
	assert.Equal(t, plane.Rectangle(plane.Point{}, 4000, 2500), w.Outline)
	assert.Equal(t, wall.Obstruction{
		Kind: wall.Radiator, Name: "old radiator", Shape: plane.Rectangle(plane.Point{X: 600, Y: 200}, 800, 600), Depth: 120,
	}, w.Obstructions[0])
	round := w.Obstructions[1]
	assert.True(t, round.Round)
	assert.InDelta(t, math.Pi*55*55, round.Shape.Area(), 0.05*math.Pi*110)
	assert.InDelta(t, 0, round.Shape.Centroid().Distance(plane.Point{X: 2000, Y: 2000}), 1e-9)
	assert.Equal(t, -200.0, w.Obstructions[2].Depth)
	assert.Equal(t, 100_000.0, w.Obstructions[2].Shape.Area(), "turned counter-clockwise")
	// A band of 40 mm along 500 mm and up to the top of the wall, 2200 mm, round at the bend.
	assert.InDelta(t, 40*(500+2200)-20*20+math.Pi*20*20/4, w.Obstructions[3].Shape.Area(), 5)
	assert.InDelta(t, 2500, w.Obstructions[3].Shape.Bounds().Max.Y, 1e-9)

	assert.Equal(t, []any{"coats", wall.Forbidden, wall.Pieces, "marked", "coats hang here"},
		[]any{w.Marked[0].Name, w.Marked[0].Strength, w.Marked[0].Binds, w.Marked[0].Code, w.Marked[0].Reason})
	assert.Equal(t, []any{wall.Caution, wall.Projecting, 100.0}, []any{w.Marked[1].Strength, w.Marked[1].Binds, w.Marked[1].Limit})
	assert.InDelta(t, 4000*1350, w.Marked[1].Shape.Area(), 1)
	assert.Equal(t, 6e6, p.Room.Walls[1].Outline.Area())
	assert.Equal(t, 60.0, p.Room.Walls[1].Margin)

	k := p.Kinds[0]
	assert.Equal(t, []any{"Pebble", "Β1", 22.0, 160.5, false, 30, 0.0, scatter.Colour{R: 0x8c, G: 0x83, B: 0x75}},
		[]any{k.Name, k.Code, k.StandOff, k.Weight, k.Combustible, k.Count, k.Share, k.Colour})
	// The triangle points up on the screen, so its tip comes first; a third of the way from its foot
	// is its centroid, and the hole lies 10 of its 100 units above the foot: 80 mm long, 0.8 to one.
	assert.InDelta(t, 80*2.0/3, k.Outline.Bounds().Max.X, 0.002)
	assert.InDelta(t, -80.0/3+8, k.Holes[0].At.X, 0.002)
	assert.Equal(t, []any{6.0, 35.0, "plug and screw"}, []any{k.Holes[0].Bit, k.Holes[0].Depth, k.Holes[0].Fixing})

	assert.Equal(t, 30, p.Composition.Count, "the sum of the counts")
	assert.Equal(t, []float64{90, 10, 0}, []float64{p.Composition.Spacing, p.Composition.Gap, p.Composition.Headings.Spread})
	assert.Equal(t, flow.Field{
		flow.Toward{Point: space.Vec{X: 1000, Z: 1500}, Strength: 0.5},
		flow.Toward{Point: space.Vec{X: 10, Y: 20, Z: 30}, Strength: 1},
		flow.Sweep{Angle: heading.Bearing(0).Angle(), Strength: 2},
	}, p.Composition.Flow)
	tabloid, _ := drafting.PaperByName("Tabloid")
	assert.Equal(t, tiling.Print{Paper: tabloid, Landscape: true, Overlap: 12, Margin: 6.35}, p.Print)
}

// What the flow runs to stands in the room where the survey has it, round a corner as well.
func TestTowardIsOnTheWall(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound))
	require.NoError(t, err)
	site, err := wall.Survey(p.Room)
	require.NoError(t, err)
	to := p.Composition.Flow[0].(flow.Toward).Point
	at, off := site.Faces[1].Frame.Local(to)
	assert.InDelta(t, 0, off, 1e-9)
	assert.InDelta(t, 0, at.Distance(plane.Point{X: 1500, Y: 1200}), 1e-9)
	assert.InDelta(t, 0, to.Sub(space.Vec{X: 4000, Y: -1500, Z: 1200}).Len(), 1e-9)
}

// An outline with straight sides is the same drawn as a path, as points, or as a list of points.
func TestSameOutline(t *testing.T) {
	const points = "      points: [[0, 0], [60, 0], [30, 40]]"
	var want []scatter.Kind
	for _, drawing := range []string{points, "      path: M 0,0 L 60,0 L 30,-40 Z", "      path: m0 0h60l-30-40z"} {
		text := strings.Replace(sound, points, drawing, 1)
		if strings.Contains(drawing, "path") {
			text = strings.Replace(text, "at: [30, 10]", "at: [30, -10]", 1)
		}
		p, err := plan.Read("p.yaml", []byte(text))
		require.NoError(t, err)
		if want == nil {
			want = p.Kinds
		}
		assert.Equal(t, want, p.Kinds)
	}
	p, err := plan.Read("p.yaml", []byte(strings.Replace(sound, "outline:\n"+points, "outline: [[0, 0], [60, 0], [30, 40]]", 1)))
	require.NoError(t, err)
	assert.Equal(t, want, p.Kinds)
}

// change returns the sound plan with every old replaced. A ▶ in the replacement marks the line of
// the fault.
func change(t *testing.T, pairs []string) (text string, line int) {
	t.Helper()
	return changed(t, sound, pairs)
}

// changed does the same with any plan.
func changed(t *testing.T, text string, pairs []string) (_ string, line int) {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, text, pairs[i])
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	for i, l := range strings.Split(text, "\n") {
		if strings.Contains(l, "▶") {
			line = i + 1
		}
	}
	return strings.ReplaceAll(text, "▶", ""), line
}

func TestFaults(t *testing.T) {
	const (
		outline = "outline: [[0, 0], [3000, 0], [3000, 2000], [1500, 3000], [0, 2000]]"
		window  = "          left: 1000\n          bottom: 900\n          width: 1200\n          height: 1000"
		oneWay  = "say where it is in one way: left, bottom, width and height; centre, width and height; centre and diameter; points; or path and width"
		kinds   = "alarm, boxing, bulkhead, cable, call point, chimney breast, column, detector, door, exit door, exit sign, extinguisher, fireplace, fixture, flue, hatch, lamp, niche, panel, pipe, radiator, shelf, sign, socket, sprinkler, switch, vent, window"
		length  = `write a number with or without a unit, like 2.4 m, 180 mm or 7'-6 1/2"`
		empty   = "give it a value or remove the line; what follows a space and a # is not read"
		signs   = "use letters, digits, spaces and - _ . , ' only"
		move    = "move it or make it smaller, or correct the wall"
		onWall  = "name a wall and a place on it, like {wall: Long wall, at: [2100, 1450]}"
		flowOf  = "    - toward: {wall: Short wall, at: [1500, 1200]}"
	)
	tests := []struct {
		pairs []string
		want  string
	}{
		// The top.
		{[]string{"title: Leaves\nroom:", "▶room:"}, "title: is missing; give the work a title"},
		{[]string{"title: Leaves", "▶title: #1"}, "title: is empty; " + empty},
		{[]string{"title: Leaves", "▶title: \"Leaves\\x1b[2J\""}, `title: "Leaves\u001b[2J" holds a hidden character (U+001B); write one line of plain text`},
		{[]string{"title: Leaves", "title: Leaves\n▶datum: 3"}, "datum: is not a known key; known here: title, for, place, by, date, units, seed, room, pieces, composition, print, install, hours, calendar, cautions, sheets, spares, stock, materials, recipes, cost, options"},
		{[]string{"title: Leaves", "title: Leaves\n▶unit: mm"}, "unit: is not a known key; did you mean units?"},
		{[]string{"title: Leaves", "title: Leaves\n▶units: yards"}, `units: "yards" is not a unit of length; write mm, cm, m, in or ft`},
		{[]string{"title: Leaves", "title: Leaves\n▶seed: 1.5"}, `seed: "1.5" is not a seed; give a whole number from 0 to 18446744073709551615`},
		{[]string{"title: Leaves", "title: Leaves\n▶date: 2026-02-30"}, `date: "2026-02-30" is not a date; write year, month and day, like 2026-11-25`},
		{[]string{"title: Leaves", "title: Leaves\n▶date: tomorrow"}, `date: "tomorrow" is not a date; write year, month and day, like 2026-11-25`},
		{[]string{"title: Leaves", "title: Leaves\n▶units: milimetre"}, `units: "milimetre" is not a unit of length; did you mean mm?`},
		{[]string{"title: Leaves", "▶title:Leaves"}, `there is no space after the colon; write title: Leaves`},
		// The room.
		{[]string{"    - name: Long wall\n", "    -\n▶"}, "room.walls[0].name: is missing; give each wall a name"},
		{[]string{"room:\n  walls:", "▶rooom:\n  walls:"}, "rooom: is not a known key; did you mean room?"},
		{[]string{"room:\n", "room:\n▶  datum: 1e3\n"}, `room.datum: "1e3" is written with an exponent; write the number in full, like 1500`},
		{[]string{"room:\n", "room:\n▶  datum: 3001\n"}, "room.datum: 3001 mm is above every wall; give the height of a level line from 0 mm to 3000 mm"},
		{[]string{"room:\n", "room:\n▶  datum: -0.5\n"}, "room.datum: -0.5 mm is below the foot of every wall; give the height of a level line from 0 mm to 3000 mm"},
		{[]string{"room:", "▶room:", "height: 2500", "height: 1400", "height: 1000", "height: 400", outline, "outline: [[0, 0], [3000, 0], [3000, 1200], [0, 1400]]"}, "room.datum: none is given, and the usual 1500 mm is above every wall; give the height of a level line from 0 mm to 1400 mm"},
		{[]string{"room:\n", "room:\n▶  margin: -5\n"}, "room.margin: -5 mm is too little for a margin; give at least 0 mm"},
		{[]string{"- name: Long wall", "- ▶name: Long wall", "room:\n", "room:\n  margin: 1300\n", outline, outline + "\n      margin: 0"}, "room.walls[0].margin: 1300 mm along every edge leaves nothing of the wall; give a smaller margin, or write use: false for a wall that takes no pieces"},
		{[]string{"name: Long wall", "▶name: ../x"}, `room.walls[0].name: "../x" begins or ends with a dot; remove the dot`},
		{[]string{"name: Long wall", "▶name: a:b"}, `room.walls[0].name: "a:b" has the character ':', which not every system takes in a file name; ` + signs},
		{[]string{"name: Long wall", "▶name: " + strings.Repeat("w", 61)}, `room.walls[0].name: the name has 61 characters; keep it within 60`},
		{[]string{"name: Short wall", "▶name: LONG_WALL", "wall: Short", "wall: Long"}, `room.walls[1].name: "LONG_WALL" is also the name of wall 1; give each wall a name of its own`},
		{[]string{"surface: brick", "▶surface: brcik"}, `room.walls[0].surface: "brcik" is not a surface; did you mean brick?`},
		{[]string{"surface: brick", "▶surface: Drywall"}, `room.walls[0].surface: "Drywall" is not a surface; did you mean plasterboard?`},
		{[]string{"length: 4000", "▶length: 2,5"}, `room.walls[0].length: "2,5" has a comma; write a point before decimals and nothing between thousands, like 1234.5`},
		{[]string{"surface: brick", "▶surfaces: brick"}, "room.walls[0].surfaces: is not a known key; did you mean surface?"},
		{[]string{"surface: brick", "surface: brick\n▶      turn: 180"}, "room.walls[0].turn: 180 is not a turn between walls; give a number from -179.99 to 179.99"},
		{[]string{"surface: brick", "surface: brick\n▶      use: maybe"}, `room.walls[0].use: "maybe" is neither true nor false; write true or false`},
		{[]string{"length: 4000", "▶length: 0"}, "room.walls[0].length: 0 mm is not a length; give a number above 0"},
		{[]string{"length: 4000", "▶length: -4 m"}, "room.walls[0].length: -4000 mm is not a length; give a number above 0"},
		{[]string{"length: 4000", "▶length: .inf"}, `room.walls[0].length: ".inf" is not a length that can be measured; ` + length},
		{[]string{"length: 4000", "▶length: 1001 m"}, "room.walls[0].length: 1001000 mm is too much for a length; give at most 1000000 mm"},
		{[]string{"length: 4000", "▶length: 0.9"}, "room.walls[0].length: 0.9 mm is too little for a length; give at least 1 mm"},
		{[]string{"length: 4000", "▶length: 4,000"}, `room.walls[0].length: "4,000" has a comma; write a point before decimals and nothing between thousands, like 1234.5`},
		{[]string{"length: 4000", "▶lenght: 4000"}, "room.walls[0].lenght: is not a known key; did you mean length?"},
		{[]string{outline, "▶length: 3000\n      " + outline}, "room.walls[1].length: stands beside an outline, which says it already; remove it, or remove the outline"},
		{[]string{outline, "▶outline: [[0, 0], [3000, 0], [0, 2000], [3000, 2001]]", flowOf, "    - sweep: 1"}, "room.walls[1].outline: the side after corner 2 and the side after corner 4 cross or touch; give the corners in order round the outline, each of them once"},
		{[]string{outline, "▶outline: [[0, 0], [3000, 0]]"}, "room.walls[1].outline: the outline has 2 corners; give at least 3"},
		{[]string{outline, "▶outline: [[0, 0], [3000, 0], [nan, 2000]]"}, `room.walls[1].outline[2][0]: "nan" is not a length that can be measured; ` + length},
		{[]string{outline, "▶outline: [[0, 0], [3000, 0, 1], [3000, 2000]]"}, "room.walls[1].outline[1]: has 3 lengths; write 2, like [400, 1200], with a point before decimals, like 52.5"},
		{[]string{outline, "▶outline: [[0, 0]" + strings.Repeat(", [1, 1]", 400) + "]"}, "room.walls[1].outline: has 401 items; give at most 400"},
		{[]string{outline, "▶outline: 3000 x 2000"}, "room.walls[1].outline: is a single value; write a list of points, like [[0, 0], [2400, 0], [2400, 1800]]"},
		{[]string{outline, "▶outline: [[-10, 0], [3000, 0], [3000, 2000]]", "[1500, 1200]", "[2500, 700]"}, "room.walls[1].outline: its leftmost corner is at x = -10 mm; measure x from the wall's left end, so that the leftmost corner has x = 0"},
		// Obstructions.
		{[]string{"kind: window", "▶kind: windwo"}, `room.walls[0].obstructions[0].kind: "windwo" is not a kind of obstruction; did you mean window?`},
		{[]string{"kind: window", "▶kind: piano"}, `room.walls[0].obstructions[0].kind: "piano" is not a kind of obstruction; write one of ` + kinds},
		{[]string{"- kind: window\n          left", "- ▶left"}, "room.walls[0].obstructions[0].kind: is missing; say what it is: " + kinds},
		{[]string{"width: 1200", "▶width: -40"}, "room.walls[0].obstructions[0].width: -40 mm is not a width; give a number above 0"},
		{[]string{"width: 1200", "▶width: 1.2km"}, `room.walls[0].obstructions[0].width: "1.2km" has the unit "km", which is not known here; write mm, cm, m, in or ft`},
		{[]string{"- kind: window", "- ▶kind: window", "          width: 1200\n", ""}, "room.walls[0].obstructions[0].width: is missing; give the width of the obstruction"},
		{[]string{"bottom: 900", "▶botom: 900"}, "room.walls[0].obstructions[0].botom: is not a known key; did you mean bottom?"},
		{[]string{"kind: window", "▶kind: window", "left: 1000", "left: 3000"}, "room.walls[0].obstructions[0]: reaches 200 mm past the right end of the wall; " + move},
		{[]string{"kind: window", "▶kind: window", "left: 1000", "left: 9 m"}, "room.walls[0].obstructions[0]: lies wholly outside the wall, up to 6200 mm past the right end of the wall; measure it from the wall's left end and from the floor"},
		{[]string{"left: 1000", "centre: [1000, 1200]\n▶          left: 1000", "          bottom: 900\n", ""}, "room.walls[0].obstructions[0].left: does not go with centre; " + oneWay},
		{[]string{window, "          centre: [1000, 1000]\n▶          diameter: 0"}, "room.walls[0].obstructions[0].diameter: 0 mm is not a diameter; give a number above 0"},
		{[]string{window, "▶          centre: 1000\n          diameter: 90"}, "room.walls[0].obstructions[0].centre: is a single value; write 2 lengths, like [400, 1200]"},
		{[]string{"kind: window", "▶kind: window", window, "          points: [[0, 0], [900, 0], [0, 900], [901, 901]]"}, "room.walls[0].obstructions[0]: the side after corner 2 and the side after corner 4 cross or touch; give the corners in order round the outline, each of them once"},
		{[]string{window, "▶          path: [[10, 10]]\n          width: 5"}, "room.walls[0].obstructions[0].path: has one point; give at least two"},
		{[]string{window, "▶          path: [[10, 10], [10, 10]]\n          width: 5"}, "room.walls[0].obstructions[0].path: has no length; give points that lie apart"},
		{[]string{"kind: window", "▶kind: pipe", window, "          path: [[10, 10], [10, 2900]]\n          width: 5"}, "room.walls[0].obstructions[0]: reaches 400 mm past the top of the wall; " + move},
		{[]string{"height: 1000", "height: 1000\n▶          depth: 60 m"}, "room.walls[0].obstructions[0].depth: 60000 mm is too much for a depth; give at most 50000 mm"},
		{[]string{"height: 1000", "height: 1000\n▶          clearance: -1"}, "room.walls[0].obstructions[0].clearance: -1 mm is too little for a clearance; give at least 0 mm"},
		{[]string{"- kind: window\n" + window, "- ▶window"}, "room.walls[0].obstructions[0]: is a single value; write keys and values on the lines below it"},
		{[]string{"- kind: window\n" + window, "▶-"}, "room.walls[0].obstructions[0]: is empty; " + empty},
		// Zones.
		{[]string{"surface: brick", "surface: brick\n      zones:\n▶        - {name: a, left: 0, bottom: 0, width: 50, height: 90}"}, "room.walls[0].zones[0].reason: is missing; say in plain words why"},
		{[]string{"surface: brick", "surface: brick\n      zones:\n▶        - {name: a, left: 0, bottom: 0, width: 50, height: 90, reason: b, limit: 5}"}, "room.walls[0].zones[0].limit: is only used with binds: projecting; remove it"},
		{[]string{"surface: brick", "surface: brick\n      zones:\n▶        - {name: a, left: 0, bottom: 0, width: 50, height: 90, reason: b, strength: forbiden}"}, `room.walls[0].zones[0].strength: "forbiden" is not a strength; did you mean forbidden?`},
		{[]string{"surface: brick", "surface: brick\n      zones:\n▶        - {name: a, left: 9000, bottom: 0, width: 50, height: 90, reason: b}"}, "room.walls[0].zones[0]: the zone lies wholly outside the wall; measure it from the wall's left end and from the floor"},
		{[]string{"surface: brick", "surface: brick\n      zones:\n▶        - {name: a, points: [[0, 0], [9, 0], [0, 9], [9, 10]], reason: b}"}, "room.walls[0].zones[0]: its sides cross or touch; give the corners in order round the zone, each of them once"},
		// Pieces.
		{[]string{"name: Leaf", "▶name: a/b"}, `pieces[0].name: "a/b" has the character '/', which not every system takes in a file name; ` + signs},
		{[]string{"name: Twig", "▶name: leaf"}, `pieces[1].name: "leaf" is also the name of piece 1; give each kind a name of its own`},
		{[]string{"code: B", "▶code: a"}, `pieces[1].code: "a" is also the code of piece 1; give each kind a code of its own`},
		{[]string{"code: B", "▶code: LEAF"}, `pieces[1].code: "LEAF" is not a code; give one or two letters or digits, like A or B2`},
		{[]string{"    outline:\n      ellipse: [80, 22]", "▶    outline: {}"}, "pieces[0].outline: has 0 drawings; give one of path, points, ellipse and rectangle"},
		{[]string{"      ellipse: [80, 22]", "      elipse: [80, 22]", "elipse", "▶elipse"}, "pieces[0].outline.elipse: is not a known key; did you mean ellipse?"},
		{[]string{"    outline:\n      ellipse: [80, 22]", "▶    outline:\n      ellipse: [80, 22]\n      rectangle: [80, 22]"}, "pieces[0].outline: has 2 drawings; give one of path, points, ellipse and rectangle"},
		{[]string{"ellipse: [80, 22]", "▶ellipse: [80, 0]"}, "pieces[0].outline.ellipse[1]: 0 mm is not a coordinate; give a number above 0"},
		{[]string{"ellipse: [80, 22]", "▶path: M0,0 L10,0 L10,10"}, "pieces[0].outline.path: the path is not closed; write the path data of one closed outline, like M 0,0 L 60,0 L 30,40 Z"},
		{[]string{"    outline:\n      ellipse: [80, 22]", "▶    outline:\n      path: M-9,-9 L9,9 L9,-9 L-9,10 Z"}, "pieces[0].outline: the side after corner 1 and the side after corner 3 cross or touch; give the corners in order round the outline, each of them once"},
		{[]string{"    outline:\n      points: [[0, 0], [60, 0], [30, 40]]", "▶    outline:\n      points: [[0, 0], [60, 0], [30, 0]]"}, "pieces[1].outline: the outline encloses nothing; draw one closed outline with fewer and gentler curves"},
		{[]string{"    outline:\n      ellipse: [80, 22]", "▶    outline: {path: M0,0 L10,0 L11,10 Z}"}, "pieces[0].outline: has the commas of a path within braces, where commas part the keys; put the path data in quotation marks"},
		{[]string{"heads: right", "▶heads: west"}, `pieces[1].heads: "west" is not a way to head; write one of up, right, down, left`},
		{[]string{"heads: right", "heads: right\n▶    length: -3"}, "pieces[1].length: -3 mm is not a length; give a number above 0"},
		{[]string{"at: [0, 0]", "▶at: [40, 0]"}, "pieces[0].holes[0].at: the hole lies 29 mm outside the outline; move it inside"},
		{[]string{"at: [0, 0]", "▶at: [10.5, 0]"}, "pieces[0].holes[0].at: a hole of 1.5 mm lies 0.5 mm from the edge and breaks through it; move it inwards, or use a finer bit"},
		{[]string{"- at: [0, 0]\n        bit", "- ▶bit"}, "pieces[0].holes[0].at: is missing; give the place of the hole in the outline's own coordinates"},
		{[]string{"bit: 1.5", "▶bit: 0"}, "pieces[0].holes[0].bit: 0 mm is not a bit; give a number above 0"},
		{[]string{"bit: 1.5", "▶bit: 120"}, "pieces[0].holes[0].bit: 120 mm is too much for a bit; give at most 100 mm"},
		{[]string{"depth: 25", "▶depth: -25"}, "pieces[0].holes[0].depth: -25 mm is not a depth to drill; give a number above 0"},
		{[]string{"fixing: pin", "▶fixing: [pin]"}, "pieces[0].holes[0].fixing: is a list; write a single line of text"},
		{[]string{"    holes:\n      - at: [0, 0]\n        bit: 1.5\n        depth: 25\n        fixing: pin", "▶    holes: []"}, "pieces[0].holes: there is no hole; give at least one"},
		{[]string{"    holes:\n      - at: [0, 0]\n        bit: 1.5\n        depth: 25\n        fixing: pin", "▶    holes: [" + strings.Repeat("{at: [0, 0], bit: 1, depth: 1, fixing: a}, ", 13) + "]"}, "pieces[0].holes: has 13 items; give at most 12"},
		{[]string{"stand-off: 12", "▶stand-off: 6 m"}, "pieces[0].stand-off: 6000 mm is too much for a stand-off; give at most 5000 mm"},
		{[]string{"stand-off: 12", "▶stand_off: 12"}, "pieces[0].stand_off: is not a known key; did you mean stand-off?"},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    weight: -1"}, "pieces[0].weight: -1 is not a weight in grams; give a number from 0 to 1000000"},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    colour: red"}, `pieces[0].colour: "red" is not a colour; write six digits from 0 to f in quotation marks, like "#7f97a8"`},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    colour: '#12345g'"}, `pieces[0].colour: "#12345g" is not a colour; write six digits from 0 to f in quotation marks, like "#7f97a8"`},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    colour: #123456"}, "pieces[0].colour: is empty; " + empty},
		{[]string{"stand-off: 12", "stand-off: 12\n    count: 3\n▶    share: 2"}, "pieces[0].share: stands beside a count; keep one of them"},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    count: 0"}, `pieces[0].count: "0" is not a number of pieces; give a whole number from 1 to 200000`},
		// The composition.
		{[]string{"count: 100", "▶count: 200001"}, `composition.count: "200001" is not a number of pieces; give a whole number from 1 to 200000`},
		{[]string{"count: 100", "▶count: 100.0"}, `composition.count: "100.0" is not a number of pieces; give a whole number from 1 to 200000`},
		{[]string{"composition:\n  count: 100\n", "▶composition:\n"}, "composition.count: is missing; say how many pieces there are to be"},
		{[]string{"stand-off: 12", "stand-off: 12\n    count: 101", "count: 100", "▶count: 100"}, "composition.count: 100 is fewer than the 101 that the kinds' counts come to; raise it, or lower the counts"},
		{[]string{"stand-off: 12", "stand-off: 12\n    count: 9", "stand-off: 5", "stand-off: 5\n    count: 9", "count: 100", "▶count: 100"}, "composition.count: 100 is more than the 18 that the kinds' counts come to; lower it, raise the counts, or give a kind a share in place of its count"},
		{[]string{"spacing: 95", "▶spacing: 0"}, "composition.spacing: 0 mm is not a spacing; give a number above 0"},
		{[]string{"spacing: 95", "spacing: 95\n▶  gap: -2"}, "composition.gap: -2 mm is too little for a gap; give at least 0 mm"},
		{[]string{"spacing: 95", "spacing: 95\n▶  spread: 1000"}, "composition.spread: 1000 is not a spread of headings; give a number from 0 to 120"},
		{[]string{flowOf, "    - toward: {▶wall: Shrot wall, at: [1500, 1200]}"}, `composition.flow[0].toward.wall: "Shrot wall" is not the name of a wall; did you mean Short wall?`},
		{[]string{flowOf, "    - toward: {▶wall: Ceiling, at: [1500, 1200]}"}, `composition.flow[0].toward.wall: "Ceiling" is not the name of a wall; name one of the walls: Long wall, Short wall`},
		{[]string{flowOf, "    - toward: {wall: Short wall, ▶at: [1500, 3100]}"}, "composition.flow[0].toward.at: the point lies 100 mm off Short wall; measure it from the wall's left end and from the floor, or give a point in the room as room: [x, y, z]"},
		{[]string{flowOf, "    - ▶toward: {wall: Short wall}"}, "composition.flow[0].toward.at: is missing; " + onWall},
		{[]string{flowOf, "    - toward: {▶room: [1, 2]}"}, "composition.flow[0].toward.room: has 2 lengths; write 3, like [400, 1200, 1500]"},
		{[]string{flowOf, "    - toward: {room: [1, 2, 3], ▶wall: Short wall}"}, "composition.flow[0].toward.wall: stands beside room; give wall and at, or room alone"},
		{[]string{flowOf, flowOf + "\n▶      strength: -1"}, "composition.flow[0].strength: -1 is not a strength; give a number from 0.001 to 1000"},
		{[]string{flowOf, flowOf + "\n▶      sweep: 10"}, "composition.flow[0].sweep: stands beside toward; make it a current of its own, with a dash before it"},
		{[]string{flowOf, "▶    - sweep: 400"}, "composition.flow[0].sweep: 400 is not a heading in degrees clockwise from straight up; give a number from 0 to 360"},
		{[]string{flowOf, "▶    - strength: 4"}, "composition.flow[0]: names no current; give one of toward, away, sweep, swirl, along, meander"},
		{[]string{"  flow:\n" + flowOf, "▶  flow: []"}, "composition.flow: has no current; list one, or remove the line for a sweep to the right"},
		{[]string{flowOf, strings.Repeat("    - sweep: 1\n", 33), "  flow:", "▶  flow:"}, "composition.flow: has 33 items; give at most 32"},
		// The print.
		{[]string{"composition:", "print:\n▶  paper: A5\ncomposition:"}, `print.paper: "A5" is not a paper; write one of A4, A3, A2, A1, A0, Letter, Legal, Tabloid, ARCH A, ARCH B, ARCH C, ARCH D, ARCH E, ARCH E1`},
		{[]string{"composition:", "print:\n▶  paper: Broadsheet\ncomposition:"}, `print.paper: "Broadsheet" is not a paper; write one of A4, A3, A2, A1, A0, Letter, Legal, Tabloid, ARCH A, ARCH B, ARCH C, ARCH D, ARCH E, ARCH E1`},
		{[]string{"composition:", "print:\n▶  orientation: sideways\ncomposition:"}, `print.orientation: "sideways" is not an orientation; write one of portrait, landscape, auto`},
		{[]string{"composition:", "print:\n▶  overlap: -1\ncomposition:"}, "print.overlap: -1 mm is too little for an overlap; give at least 0 mm"},
	}
	for i, tt := range tests {
		t.Run(fmt.Sprint(i, " ", strings.Join(tt.pairs, " → ")), func(t *testing.T) {
			text, line := change(t, tt.pairs)
			_, err := plan.Read("p.yaml", []byte(text))
			assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: %s", line, tt.want))
		})
	}
}

// Ten faults in one plan are told together, in the order in which they stand in it.
func TestTenFaults(t *testing.T) {
	text, _ := change(t, []string{
		"title: Leaves", "title: Leaves\nunits: milimetres",
		"length: 4000", "length: -4000",
		"surface: brick", "surface: cheese",
		"bottom: 900", "bottom: 1,5",
		"name: Short wall", "name: ../x",
		"code: A", "code: AAA",
		"bit: 1.5", "bit: NaN",
		"heads: right", "heads: east",
		"spacing: 95", "spacing: 95\n  gpa: 3",
		"[1500, 1200]}", "[1500, 9999]}",
	})
	_, err := plan.Read("p.yaml", []byte(text))
	var faults yamlfile.Faults
	require.True(t, errors.As(err, &faults))
	var fields []string
	last := 0
	for _, f := range faults {
		fields = append(fields, f.Field)
		assert.Greater(t, f.Line, last)
		last = f.Line
	}
	assert.Equal(t, []string{
		"units", "room.walls[0].length", "room.walls[0].surface", "room.walls[0].obstructions[0].bottom", "room.walls[1].name",
		"pieces[0].code", "pieces[0].holes[0].bit", "pieces[1].heads", "composition.gpa", "composition.flow[0].toward.wall",
	}, fields)
}

// A plan at its limits is read soon, and one past them refused.
func TestLimits(t *testing.T) {
	many := func(n int, form string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, form, i, i%1000)
		}
		return b.String()
	}
	walls := func(n int) string {
		return strings.Replace(sound, "    - name: Long wall", many(n, "    - {name: W%d, length: 4000, height: 2%03d, surface: tile, turn: 0}\n")+"    - name: Long wall", 1)
	}
	things := func(n int) string {
		return strings.Replace(sound, "        - kind: window", many(n, "        - {kind: socket, name: s%d, left: %d, bottom: 300, width: 86, height: 86}\n")+"        - kind: window", 1)
	}
	for name, tt := range map[string]struct{ text, want string }{
		"64 walls":         {walls(62), ""},
		"65 walls":         {walls(63), "p.yaml:3: room.walls: has 65 items; give at most 64"},
		"500 obstructions": {things(499), ""},
		"501 obstructions": {things(500), "p.yaml:8: room.walls[0].obstructions: has 501 items; give at most 500"},
		"all that can be":  {full(), ""},
		"too long":         {sound + strings.Repeat("#", plan.MaxBytes), fmt.Sprintf("p.yaml:1: the file has %d bytes; keep it within 4194304", len(sound)+plan.MaxBytes)},
	} {
		t.Run(name, func(t *testing.T) {
			var err error
			took := leastTime(10*time.Second, func() { _, err = plan.Read("p.yaml", []byte(tt.text)) })
			assert.Less(t, took, 10*time.Second)
			if tt.want == "" {
				assert.NoError(t, err)
			} else {
				assert.EqualError(t, err, tt.want)
			}
		})
	}
}

// full returns a plan with as many walls, things on them and kinds of pieces as there can be.
func full() string {
	var b strings.Builder
	b.WriteString("title: All\nroom:\n  walls:\n")
	for w := range plan.MaxWalls {
		fmt.Fprintf(&b, "  - name: W%d\n    length: 100000\n    height: 2500\n    surface: tile\n    turn: 0\n    obstructions:\n", w)
		for i := range plan.MaxInRoom / plan.MaxWalls {
			fmt.Fprintf(&b, "    - {kind: lamp, left: %d, bottom: %d, width: 90, height: 90}\n", 190*i, i)
		}
	}
	b.WriteString("pieces:\n")
	for i := range plan.MaxKinds {
		var path strings.Builder
		for j := range plan.MaxCorners {
			fmt.Fprintf(&path, " %.3f,%.3f", 50*math.Cos(2*math.Pi*float64(j)/plan.MaxCorners), 40*math.Sin(2*math.Pi*float64(j)/plan.MaxCorners))
		}
		fmt.Fprintf(&b, "- name: P%d\n  code: %c%d\n  outline: {path: \"M%s Z\"}\n  stand-off: 0\n  holes:\n", i, 'A'+rune(i%26), i/26, path.String())
		for j := range plan.MaxHoles {
			fmt.Fprintf(&b, "  - {at: [%d, 0], bit: 1, depth: 9, fixing: pin}\n", 4*j)
		}
	}
	b.WriteString("composition:\n  count: 200000\n  spacing: 9\n  flow:\n")
	for range plan.MaxCurrents {
		b.WriteString("  - toward: {wall: W63, at: [5, 5]}\n")
	}
	return b.String()
}

func TestAliasBomb(t *testing.T) {
	bomb := "title: &a [x, x]\n"
	for i := range 30 {
		bomb += fmt.Sprintf("k%d: &b%d [*a, *a]\n", i, i)
	}
	var err error
	took := leastTime(time.Second, func() { _, err = plan.Read("p.yaml", []byte(bomb)) })
	assert.ErrorContains(t, err, "p.yaml:1: title: &a names a part of the file to repeat it; remove it")
	assert.ErrorContains(t, err, "p.yaml:2: k0[0]: *a repeats another part of the file; write it out here")
	assert.Less(t, took, time.Second)
}

// leastTime returns how long f takes; where that is over the limit, the least of three runs, since
// a busy machine may halt any one of them.
func leastTime(limit time.Duration, f func()) time.Duration {
	least := time.Duration(math.MaxInt64)
	for range 3 {
		start := time.Now()
		f()
		if least = min(least, time.Since(start)); least < limit {
			break
		}
	}
	return least
}
