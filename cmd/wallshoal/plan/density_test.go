package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter/density"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// everyDensity is every field of a density, said in every way, with a flow that leads somewhere.
const everyDensity = `  density:
    gather:
      - {round: {wall: Long wall, at: [400, 1500]}, strength: 4}
      - round: {room: [1, 2, 3]}
        reach: 1.2 m
        strength: 0.2
      - {along: {wall: Long wall, points: [[3000, 1000], [4000, 1100]]}, strength: 3}
      - along:
          - {wall: Long wall, points: [[3000, 1000], [4000, 1100]]}
          - {wall: Short wall, points: [[600, 1300]]}
        strength: 3
      - {edge: {wall: Long wall, of: window, side: top}, reach: 300, strength: 2}
      - {edge: {wall: short_wall, side: All}, strength: 2}
    bands:
      - {from: 900, to: 1500, strength: 2, soft: 0}
      - {to: 300, strength: 0.5}
    fade:
      - {towards: edges, over: 300}
      - {towards: edges, wall: Short wall, over: 300, rest: 20 %}
      - {towards: corners, over: 500, rest: 0.5}
      - {towards: corners, wall: Long wall, over: 500}
      - {towards: left, over: 500}
      - {towards: top, wall: Short wall, over: 500}
    clumps: {size: 700, strength: 5, seed: 3}
    drift: 3
`

// dense returns the density of the sound plan with the given lines of its composition.
func dense(t *testing.T, lines string) density.Scheme {
	t.Helper()
	p, err := plan.Read("p.yaml", []byte(strings.Replace(sound, "  flow:\n", lines+"  flow:\n", 1)))
	require.NoError(t, err)
	return p.Composition.Density
}

func TestDensity(t *testing.T) {
	assert.Equal(t, density.Scheme{}, dense(t, ""))
	scheme := dense(t, everyDensity)
	assert.Zero(t, scheme.PerSquareMetre)
	fields := scheme.Field.(density.Product)
	require.Len(t, fields, 16)
	place := space.Vec{X: 400, Z: 1500}
	assert.Equal(t, density.Gathering{Round: density.Place(place), Reach: 500, Strength: 4}, fields[0])
	assert.Equal(t, density.Gathering{Round: density.Place(space.Vec{X: 1, Y: 2, Z: 3}), Reach: 1200, Strength: 0.2}, fields[1])
	from, to := space.Vec{X: 3000, Z: 1000}, space.Vec{X: 4000, Z: 1100}
	assert.Equal(t, density.Shape{{A: from, B: to}}, fields[2].(density.Gathering).Round)
	path := fields[3].(density.Gathering).Round
	require.Len(t, path, 2)
	near(t, space.Vec{X: 4000, Y: -600, Z: 1300}, path[1].B)
	assert.Equal(t, density.Gathering{Round: density.Shape{{A: space.Vec{X: 2200, Z: 1900}, B: space.Vec{X: 1000, Z: 1900}}}, Reach: 300, Strength: 2}, fields[4], "the window's head")
	assert.Len(t, fields[5].(density.Gathering).Round, 5, "the wall with the gable")
	assert.Equal(t, density.Band{From: 900, To: 1500, Strength: 2}, fields[6])
	assert.Equal(t, density.Band{From: math.Inf(-1), To: 300, Strength: 0.5, Soft: 200}, fields[7])

	long, short := space.Upright(space.Vec{}, 0), space.Upright(space.Vec{X: 4000}, -90)
	at := func(i int, f space.Frame, x, y float64) float64 { return fields[i].At(f, plane.Point{X: x, Y: y}) }
	assert.InDelta(t, 0.5, at(8, long, 2000, 150), 1e-9)
	assert.InDelta(t, 0.5, at(8, short, 150, 1000), 1e-9)
	assert.InDelta(t, 1.0, at(9, long, 2000, 150), 1e-9)
	assert.InDelta(t, 0.6, at(9, short, 150, 1000), 1e-9)
	for _, i := range []int{10, 11} {
		rest := 0.5 * float64(11-i)
		assert.InDelta(t, rest, at(i, long, 4000, 2500), 1e-9, "the corner is as high as either wall")
		assert.InDelta(t, rest, at(i, short, 0, 1), 1e-9)
		assert.InDelta(t, (1+rest)/2, at(i, short, 250, 1), 1e-9)
		assert.InDelta(t, 1, at(i, long, 0, 100), 1e-9, "the walls do not come back to where they began")
	}
	assert.InDelta(t, 0.5, at(12, long, 250, 900), 1e-9)
	assert.InDelta(t, 1, at(12, short, 0, 900), 1e-9)
	assert.InDelta(t, 0, at(13, short, 1500, 3000), 1e-9, "the ridge")
	assert.InDelta(t, 0, at(13, short, 750, 2500), 1e-9, "the verge")
	assert.InDelta(t, 1, at(13, short, 1500, 2000), 1e-9)
	assert.IsType(t, density.Clumps{}, fields[14])
	drift := fields[15].(density.Drift)
	assert.Equal(t, 3.0, drift.Factor)
	assert.Less(t, drift.From, drift.To)
	assert.InDelta(t, 0, drift.To, 100, "the place that the flow runs to")
}

// A map by itself does for a list of one.
func TestADensityOfOneItem(t *testing.T) {
	one := dense(t, "  density: {bands: {from: 900, strength: 2}}\n")
	assert.Equal(t, one, dense(t, "  density:\n    bands:\n      - {from: 900, strength: 2}\n"))
	assert.Equal(t, 2.0, one.At(space.Upright(space.Vec{}, 0), plane.Point{Y: 1100}))
}

func TestBase(t *testing.T) {
	for text, want := range map[string]float64{
		"42 per m2": 42, "42.5 per m²": 42.5, "9/m2": 9, "12 per square metre": 12, ".5 per sq m": 0.5,
		"4 per sq ft": 43.0556, "4 per ft2": 43.0556, "4 Per Square Foot": 43.0556, // 10.7639 ft² to the m²
	} {
		text = strings.Replace(sound, "  count: 100\n", "  density: {base: "+text+"}\n", 1)
		p, err := plan.Read("p.yaml", []byte(text))
		require.NoError(t, err)
		assert.InDelta(t, want, p.Composition.Density.PerSquareMetre, 1e-4, text)
		assert.Zero(t, p.Composition.Count)
	}
}

// The edges of what stands on a wall are where it meets the wall and in front.
func TestEdgesOfThings(t *testing.T) {
	read := func(edge string) density.Shape {
		text := strings.Replace(hall, "composition:\n", "composition:\n  density: {gather: {edge: "+edge+", strength: 2}}\n", 1)
		p, err := plan.Read("p.yaml", []byte(text))
		require.NoError(t, err)
		return p.Composition.Density.Field.(density.Product)[0].(density.Gathering).Round
	}
	breast := read("{wall: North, of: chimney breast, side: left}")
	require.Len(t, breast, 2)
	assert.Equal(t, density.Segment{A: space.Vec{X: 1000, Z: 2500}, B: space.Vec{X: 1000}}, breast[0])
	assert.Equal(t, density.Segment{A: space.Vec{X: 1000, Y: -350, Z: 2500}, B: space.Vec{X: 1000, Y: -350}}, breast[1])
	assert.Equal(t, density.Shape{{A: space.Vec{X: 3600, Z: 1400}, B: space.Vec{X: 3000, Z: 1400}}}, read("{wall: North, of: niche, side: top}"))
	for _, s := range read("{wall: ceiling, of: sprinkler, side: all}") {
		assert.InDelta(t, 2500, s.A.Z, 1e-9)
	}
}

func TestFaultsOfDensity(t *testing.T) {
	const (
		edge   = "name a wall, what stands on it and a side, like {wall: Long wall, of: fireplace, side: top}"
		area   = "write a number and an area, like 42 per m2 or 4 per sq ft"
		range1 = "; give a number from 0.01 to 100"
	)
	for _, tt := range []struct{ lines, want string }{
		{"▶density: 4", ": is a single value; write keys and values on the lines below it"},
		{"density:\n▶    gathre: 4", ".gathre: is not a known key; did you mean gather?"},
		{"density: {▶base: 42 per m2}", ".base: stands beside a count; keep one of them: the base and the walls say how many pieces there are, or the count does"},
		{"density: {▶base: 42}", `.base: "42" is not a number of pieces to an area; ` + area},
		{"density: {▶base: 4 per acre}", `.base: "acre" is not an area; ` + area},
		{"density: {▶base: 0 per m2}", `.base: "0 per m2" is not a number of pieces to an area; give 0.01 to 100000 per m2`},
		{"density: {▶gather: 4}", ".gather: is a single value; write a list of places, each starting with a dash"},
		{"density: {▶gather: []}", ".gather: is an empty list; list something, or remove the line"},
		{"density: {gather: {round: {room: [1, 2, 3]}, ▶strength: 101}}", ".gather.strength: 101 is not a strength" + range1},
		{"density: {▶gather: {round: {room: [1, 2, 3]}}}", ".gather.strength: is missing; say how many times as dense it is there, like 4"},
		{"density:\n    gather:\n▶      - {strength: 4}", ".gather[0]: says nowhere; give one of round, along, edge"},
		{"density: {gather: {strength: 4, round: {room: [1, 2, 3]}, ▶edge: {}}}", ".gather.edge: stands beside round; make it an item of its own, with a dash before it"},
		{"density: {gather: {strength: 4, round: {room: [1, 2, 3]}, ▶reach: 0.5}}", ".gather.reach: 0.5 mm is too little for a reach; give at least 1 mm"},
		{"density: {gather: {strength: 4, round: {wall: Long wall, ▶at: [1, 2600]}}}", ".gather.round.at: the point lies 100 mm off Long wall; measure it from the wall's left end and from the floor, or give a point in the room as room: [x, y, z]"},
		{"density: {gather: {strength: 4, ▶along: {wall: Long wall, points: [[1, 2]]}}}", ".gather.along: has no length; give at least two points that lie apart"},
		{"density: {gather: {strength: 4, ▶edge: {wall: Long wall, of: window}}}", ".gather.edge.side: is missing; " + edge},
		{"density: {gather: {strength: 4, ▶edge: {side: top}}}", ".gather.edge.wall: is missing; " + edge},
		{"density: {gather: {strength: 4, edge: {wall: Long wall, ▶of: windwo, side: top}}}", `.gather.edge.of: "windwo" is not the name of anything on Long wall; did you mean window?`},
		{"density: {gather: {strength: 4, edge: {wall: Short wall, ▶of: window, side: top}}}", ".gather.edge.of: nothing stands on Short wall; remove the line for an edge of the wall itself"},
		{"density: {gather: {strength: 4, edge: {wall: Long wall, ▶side: middle}}}", `.gather.edge.side: "middle" is not a side; write one of top, bottom, left, right, all`},
		{"density: {▶bands: {strength: 4}}", ".bands: says no height; give from, to or both, above the floor"},
		{"density: {bands: {from: 900, ▶to: 800, strength: 4}}", ".bands.to: 800 mm is not above 900 mm; give from the lower height and to the higher"},
		{"density: {▶bands: {from: 900}}", ".bands.strength: is missing; say how many times as dense it is in the band, like 2"},
		{"density: {▶fade: {over: 300}}", ".fade.towards: is missing; say what it thins out towards: edges, corners, left, right, top or bottom"},
		{"density: {▶fade: {towards: edges}}", ".fade.over: is missing; say how far from there it begins"},
		{"density: {fade: {▶towards: middle, over: 9}}", `.fade.towards: "middle" is not something to fade towards; write one of edges, corners, top, bottom, left, right`},
		{"density: {fade: {towards: edges, over: 9, ▶rest: 20}}", ".fade.rest: 20 is not a share that is left; write 20 % if it is meant per cent, or a number from 0 to 1"},
		{"density: {fade: {towards: edges, over: 9, ▶wall: Lnog wall}}", `.fade.wall: "Lnog wall" is not the name of a wall; did you mean Long wall?`},
		{"density: {clumps: {strength: 4}▶}", ".clumps.size: is missing; say how far it is from a group to the next, like {size: 700}"},
		{"density: {clumps: {▶size: 20}}", ".clumps.size: 20 mm makes more groups than there can be, 10000; give at least 44 mm"},
		{"density: {▶drift: 0}", ".drift: 0 is not a strength" + range1},
	} {
		t.Run(tt.lines, func(t *testing.T) {
			text, line := change(t, []string{"  flow:\n", strings.Replace("  "+tt.lines, "  ▶density", "▶  density", 1) + "\n  flow:\n"})
			_, err := plan.Read("p.yaml", []byte(text))
			assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: composition.density%s", line, tt.want))
		})
	}
}

// A drift, of the density or of the kinds, follows a flow that leads somewhere; a flow that is wrong
// itself is complained of alone.
func TestADriftNeedsAFlow(t *testing.T) {
	for _, lines := range []string{"  density: {drift: 3}\n", "  mix: drifting\n"} {
		text, line := change(t, []string{"  flow:\n" + soundFlow, "▶" + lines})
		_, err := plan.Read("p.yaml", []byte(text))
		assert.ErrorContains(t, err, fmt.Sprintf("p.yaml:%d: ", line))
		assert.ErrorContains(t, err, "the flow leads nowhere", "a sweep as each wall is looked at")
		assert.ErrorContains(t, err, "like sweep: {wall: Long wall, heading: 90}")
	}
	text, line := change(t, []string{"  flow:\n" + soundFlow, "▶  density: {drift: 3}\n  flow: [{sweep: 90}, {meander: {size: 900}}, {swirl: {room: [1, 2, 3]}}]\n"})
	_, err := plan.Read("p.yaml", []byte(text))
	assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: composition.density.drift: follows the flow, and the flow leads nowhere: it has no current toward or away from a place, along a path, or that sweeps through the room; give it one, like sweep: {wall: Long wall, heading: 90}, or remove the line", line))

	text, line = change(t, []string{"  flow:\n" + soundFlow, "  density: {drift: 3}\n▶  flow: [{sweep: 400}]\n"})
	_, err = plan.Read("p.yaml", []byte(text))
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "drift")
	assert.Contains(t, err.Error(), fmt.Sprintf("p.yaml:%d:", line))
}

// What is wrong with a base or with the room is said once.
func TestFaultsThatADensityRepeatsNot(t *testing.T) {
	text, _ := change(t, []string{"  count: 100\n", "  density: {base: many}\n"})
	_, err := plan.Read("p.yaml", []byte(text))
	require.Error(t, err)
	assert.Len(t, strings.Split(err.Error(), "\n"), 1, err.Error())

	text, _ = change(t, []string{"surface: brick", "surface: cheese", "  flow:\n", everyDensity + "  flow:\n"})
	_, err = plan.Read("p.yaml", []byte(text))
	require.Error(t, err)
	assert.Len(t, strings.Split(err.Error(), "\n"), 1, err.Error())
}

// A density of the plan is one of the site that is composed on: its faces are known by their frames.
func TestADensityKnowsTheFacesOfTheSite(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(strings.Replace(hall, "composition:\n", "composition:\n  density: {fade: {towards: edges, over: 100}}\n", 1)))
	require.NoError(t, err)
	site, err := wall.Survey(p.Room)
	require.NoError(t, err)
	for i, f := range site.Faces {
		if f.Used {
			corner := f.Outline.Polygons()[0].Outer[0]
			assert.InDelta(t, 0, p.Composition.Density.At(f.Frame, corner), 1e-6, site.Title(i))
		}
	}
}
