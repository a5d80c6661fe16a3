package plan_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// hall is a closed room with a ceiling, things with a depth, and a screen.
const hall = `title: Hall
room:
  margin: 70
  ceiling:
    surface: plasterboard
    margin: 90
    obstructions:
      - {kind: lamp, centre: [2000, 1500], diameter: 300, depth: 80}
      - {kind: sprinkler, centre: [800, 700], diameter: 60}
    zones:
      - {name: hatch swing, left: 3000, bottom: 2000, width: 600, height: 600, reason: the loft hatch opens here}
  walls:
    - name: North
      length: 4000
      height: 2500
      surface: brick
      obstructions:
        - kind: chimney breast
          left: 1000
          bottom: 0
          width: 1400
          height: 2500
          depth: 350
          use: all
          margin: 25
        - kind: niche
          left: 3000
          bottom: 1000
          width: 600
          height: 400
          depth: -200
          use: [back, sill]
    - name: East
      length: 3000
      height: 2500
      surface: plaster
    - name: South
      length: 4000
      height: 2500
      surface: plaster
      use: false
    - name: West
      length: 3000
      height: 2500
      surface: plaster
    - name: Screen
      length: 1200
      height: 1800
      surface: timber
      stands: alone
      at: [1000, -2200]
      angle: -30
      thickness: 40
      back: true
pieces:
  - name: Leaf
    code: A
    outline:
      ellipse: [80, 22]
    holes:
      - {at: [0, 0], bit: 1.5, depth: 25, fixing: pin}
    stand-off: 12
composition:
  count: 100
  spacing: 95
`

func TestARoomWithACeilingAndAScreen(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(hall))
	require.NoError(t, err)
	breast, niche := p.Room.Walls[0].Obstructions[0], p.Room.Walls[0].Obstructions[1]
	assert.Equal(t, []wall.Side{wall.All}, breast.Use)
	assert.Equal(t, 25.0, *breast.Margin)
	assert.Equal(t, []wall.Side{wall.Back, wall.Sill}, niche.Use)
	assert.Nil(t, niche.Margin)
	c := p.Room.Ceiling
	require.NotNil(t, c)
	assert.Equal(t, []any{"Ceiling", wall.Plasterboard, 90.0, 2, 1, false}, []any{c.Name, c.Surface, c.Margin, len(c.Obstructions), len(c.Marked), c.Bare})
	assert.Equal(t, &wall.Stand{At: &plane.Point{X: 1000, Y: -2200}, Angle: -30, Thickness: 40, Back: true}, p.Room.Walls[4].Alone)
	assert.Nil(t, p.Room.Walls[0].Alone)

	site, err := wall.Survey(p.Room)
	require.NoError(t, err)
	var used []string
	for i, f := range site.Faces {
		if f.Used {
			used = append(used, site.Title(i))
			assert.Positive(t, f.Free().Area(), site.Title(i))
		}
	}
	assert.Equal(t, []string{
		"North", "North, chimney breast left return", "North, chimney breast front", "North, chimney breast right return",
		"North, niche back", "North, niche sill", "East", "West", "Screen", "Screen, back", "Ceiling",
	}, used)
}

func TestRoomFaults(t *testing.T) {
	const niche = "          use: [back, sill]"
	tests := []struct {
		pairs []string
		want  string
	}{
		{[]string{"use: [back, sill]", "▶use: [back, top]"}, `room.walls[0].obstructions[1].use: it has no side called "top"; write all, or some of left, back, right, head, sill`},
		{[]string{"use: [back, sill]", "use: [back, ▶sil]"}, `room.walls[0].obstructions[1].use[1]: "sil" is not a side; did you mean sill?`},
		{[]string{"use: [back, sill]", "▶use: {back: true}"}, `room.walls[0].obstructions[1].use: is a map of keys; write one of all, front, left, right, top, underside, back, head, sill`},
		{[]string{"use: all", "▶use: [left, top]"}, "room.walls[0].obstructions[0].use: nothing can be seen of the top of chimney breast; take top out of use, or correct the places and depths of what hides it"},
		{[]string{"depth: -200\n" + niche, "▶use: all"}, "room.walls[0].obstructions[1].use: it is flat and has no sides; give a depth of 1 mm or more, or remove use"},
		{[]string{"use: all\n          margin: 25", "use: left\n▶          margin: 180"}, "room.walls[0].obstructions[0].margin: 180 mm along every edge leaves nothing of the left return; give a smaller margin, or take the side out of use"},
		{[]string{"margin: 25", "▶margin: -25"}, "room.walls[0].obstructions[0].margin: -25 mm is too little for a margin; give at least 0 mm"},
		{[]string{"depth: 350", "▶depth: 3100", "at: [1000, -2200]", "at: [2600, -2200]"}, "room.walls[0].obstructions[0].depth: 3100 mm is deeper than the room, where South stands 3000 mm off; make it less deep, or correct the walls"},
		{[]string{"depth: 350", "▶depth: 2000"}, "room.walls[0].obstructions[0].depth: 2000 mm reaches through Screen, which stands 1600 mm off; make it less deep, or correct the walls"},
		{[]string{"depth: 80", "▶depth: 2600"}, "room.ceiling.obstructions[0].depth: 2600 mm reaches 100 mm below the floor; make it less deep, or correct the walls' height"},
		{[]string{"  ceiling:", "▶  ceiling:", "length: 3000", "length: 2600"}, "room.ceiling: the walls do not come back to where the first begins; give all walls round the room, with use: false for those that take no pieces, or remove the ceiling"},
		{[]string{"  ceiling:", "▶  ceiling:", "    - name: West\n      length: 3000\n      height: 2500", "    - name: West\n      length: 3000\n      height: 2400"}, "room.ceiling: the walls do not end in one plane: West is 100 mm off the one that the others end in; give the walls one height, or outlines that end where one sloping ceiling meets them"},
		{[]string{"  ceiling:", "▶  ceiling:", "    - name: West\n      length: 3000\n      height: 2500", "    - name: West\n      outline: [[0, 0], [3000, 0], [3000, 2500], [1500, 3200], [0, 2500]]"}, "room.ceiling: the top of West is not one straight line; give the wall a straight top, or remove the ceiling: one is drawn as a single plane"},
		{[]string{"    surface: plasterboard\n    margin: 90", "▶    surface: cloth\n    margin: 90"}, `room.ceiling.surface: "cloth" is not a surface; write one of block, brick, concrete, glass, plaster, plasterboard, stone, tile, timber`},
		{[]string{"    surface: plasterboard\n", "    surface: plasterboard\n▶    name: north\n"}, `room.ceiling.name: "north" is also the name of wall 1; give each wall a name of its own`},
		{[]string{"    margin: 90", "▶    margin: 1500"}, "room.ceiling.margin: 1500 mm along every edge leaves nothing of the wall; give a smaller margin, or write use: false for a wall that takes no pieces"},
		{[]string{"- {kind: sprinkler, centre: [800, 700]", "- {▶kind: sprinkler, centre: [800, 3100]"}, "room.ceiling.obstructions[1]: reaches 130 mm past the edge of the ceiling; measure x from its left end and y from the first wall, as seen facing that wall with the head back"},
		{[]string{"    - name: West\n", "    - ▶name: West\n", "  ceiling:\n    surface: plasterboard\n    margin: 90\n    obstructions:\n      - {kind: lamp, centre: [2000, 1500], diameter: 300, depth: 80}\n      - {kind: sprinkler, centre: [800, 700], diameter: 60}\n    zones:\n      - {name: hatch swing, left: 3000, bottom: 2000, width: 600, height: 600, reason: the loft hatch opens here}\n", "", "length: 3000\n      height: 2500\n      surface: plaster\n    - name: South\n      length: 4000\n      height: 2500\n      surface: plaster", "length: 1500\n      height: 2500\n      surface: plaster\n    - name: South\n      length: 2000\n      height: 2500\n      surface: plaster"}, "room.walls[3]: the wall crosses North in plan; correct the lengths and turns of the walls up to here"},
		{[]string{"    - name: Screen", "    - ▶name: Screen", "at: [1000, -2200]", "at: [-600, -2200]"}, "room.walls[4]: the wall crosses West in plan; place it where it stands free"},
		{[]string{"      stands: alone\n", "", "      at: [1000, -2200]\n      angle: -30\n      thickness: 40\n      back: true\n", "▶      back: true\n", "    - name: Screen", "    - name: Long screen"}, "room.walls[4].back: is only used with stands: alone; write stands: alone, or remove it"},
		{[]string{"at: [1000, -2200]\n      angle", "gap: 200\n▶      angle"}, "room.walls[4].angle: is only used with at; give the turn of the wall before it, or say where the wall stands with at"},
		{[]string{"angle: -30", "▶gap: 30"}, "room.walls[4].gap: stands beside at; keep one of them"},
		{[]string{"thickness: 40", "▶thickness: 0.5"}, "room.walls[4].thickness: 0.5 mm parts the front from the back; give a thickness of 1 mm or more, or remove back"},
		{[]string{"stands: alone", "▶stands: aloon"}, `room.walls[4].stands: "aloon" is not a way to stand; write one of joined, alone`},
	}
	for i, tt := range tests {
		t.Run(fmt.Sprint(i, " ", strings.Join(tt.pairs, " → ")), func(t *testing.T) {
			text, line := changed(t, hall, tt.pairs)
			_, err := plan.Read("p.yaml", []byte(text))
			assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: %s", line, tt.want))
		})
	}
}

// A row of panels, each a gap after the one before it, stands on one line; and each has its back.
func TestAFenceOfPanels(t *testing.T) {
	panel := func(name string, gap int) string {
		return fmt.Sprintf("    - {name: %s, length: 1800, height: 1500, surface: timber, turn: 0, stands: alone, gap: %d, thickness: 20, back: true}\n", name, gap)
	}
	a, b := strings.Index(hall, "  ceiling:"), strings.Index(hall, "pieces:")
	p, err := plan.Read("p.yaml", []byte(hall[:a]+"  walls:\n"+panel("One", 0)+panel("Two", 100)+panel("Three", 100)+hall[b:]))
	require.NoError(t, err)
	site, err := wall.Survey(p.Room)
	require.NoError(t, err)
	require.Len(t, site.Faces, 6)
	for i, x := range []float64{0, 1900, 3800} {
		assert.InDelta(t, x, site.Faces[2*i].Frame.Origin.X, 1e-9)
		back := site.Faces[2*i+1]
		assert.Equal(t, wall.BackFace, back.Name)
		assert.InDelta(t, x+1800, back.Frame.Origin.X, 1e-9)
		assert.InDelta(t, 20, back.Frame.Origin.Y, 1e-9, "behind is away from whoever looks")
		assert.Positive(t, back.Free().Area())
	}
}

// As many things with a depth as there can be are read soon, side by side or run into one another,
// and more are refused.
func TestManyThingsWithADepth(t *testing.T) {
	boxes := func(n, step int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "        - {kind: boxing, name: b%d, left: %d, bottom: %d, width: 900, height: 600, depth: %d, use: all}\n", i, step*i, i, 50+i)
		}
		text := strings.Replace(sound, "      length: 4000", "      length: 160 m", 1)
		return strings.Replace(text, "        - kind: window", b.String()+"        - kind: window", 1)
	}
	for _, tt := range []struct {
		name, text, want string
	}{
		{"side by side", boxes(160, 990), ""},
		{"too many", boxes(161, 990), "p.yaml:3: room.walls: the things with a depth have 805 sides; keep within 800: leave out the depth of things that need no faces, or plan fewer walls at a time"},
		{"heaped", boxes(160, 20), "p.yaml:3: room.walls: the things with a depth run into one another in 30985 places; keep within 5000: draw as one what is one, with fewer corners"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var err error
			took := leastTime(5*time.Second, func() { _, err = plan.Read("p.yaml", []byte(tt.text)) })
			assert.Less(t, took, 5*time.Second)
			if tt.want == "" {
				assert.NoError(t, err)
			} else {
				assert.EqualError(t, err, tt.want)
			}
		})
	}
}
