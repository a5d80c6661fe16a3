package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter/flow"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

const soundFlow = "    - toward: {wall: Short wall, at: [1500, 1200]}\n"

// everyCurrent is currents of every kind, said in every way.
const everyCurrent = `    - {toward: {wall: Long wall, at: [400, 1500]}, reach: 800}
    - {away: {wall: short_wall, at: [1000, 500]}, strength: 2}
    - {away: {room: [1, 2, 3]}, reach: 9}
    - {sweep: {wall: Short wall, heading: 90}}
    - {sweep: {plan: 90}, strength: 3}
    - {sweep: {plan: 180, rise: 30}}
    - {swirl: {wall: Long wall, at: [400, 1500]}, reach: 700}
    - {swirl: {wall: Long wall, face: wall, at: [400, 1500], turn: anticlockwise}}
    - {swirl: {room: [1, 2, 3]}}
    - {swirl: {room: [1, 2, 3], axis: [0, -1.5, 2], turn: Anticlockwise}}
    - {along: {wall: Long wall, points: [[0, 0], [4000, 2000]]}}
    - along:
        - {wall: Long wall, points: [[3000, 1000], [4000, 1100]]}
        - {wall: Short wall, points: [[0, 1100], [600, 1300]]}
        - {room: [[3000, -700, 1400]]}
      reach: 300
      strength: 0.5
    - {meander: {size: 900}}
    - {meander: {size: 1.2 m, seed: 7}, strength: 0.25}
`

// currents returns the flow of the sound plan with the given currents in place of its own.
func currents(t *testing.T, list string) flow.Field {
	t.Helper()
	p, err := plan.Read("p.yaml", []byte(strings.Replace(sound, soundFlow, list, 1)))
	require.NoError(t, err)
	return p.Composition.Flow
}

func near(t *testing.T, want, got space.Vec) {
	t.Helper()
	assert.InDelta(t, 0, want.Sub(got).Len(), 1e-9, "want %v, got %v", want, got)
}

// The long wall runs 4000 mm along the room's x; at its right end the short wall turns towards the
// viewer, so that x on it is -y in the room.
func TestCurrents(t *testing.T) {
	f := currents(t, everyCurrent)
	require.Len(t, f, 14)
	assert.Equal(t, flow.Toward{Point: space.Vec{X: 400, Z: 1500}, Reach: 800, Strength: 1}, f[0])
	away := f[1].(flow.Away)
	near(t, space.Vec{X: 4000, Y: -1000, Z: 500}, away.Point)
	assert.Equal(t, []float64{0, 2}, []float64{away.Reach, away.Strength})
	assert.Equal(t, flow.Away{Point: space.Vec{X: 1, Y: 2, Z: 3}, Reach: 9, Strength: 1}, f[2])

	near(t, space.Vec{Y: -1}, f[3].(flow.RoomSweep).Way)
	near(t, space.Vec{X: 1}, f[4].(flow.RoomSweep).Way)
	assert.Equal(t, 3.0, f[4].(flow.RoomSweep).Strength)
	near(t, space.Vec{Y: -math.Sqrt(3) / 2, Z: 0.5}, f[5].(flow.RoomSweep).Way)

	// Clockwise as it is looked at: above the middle it runs to the right.
	long := space.Upright(space.Vec{}, 0)
	above := plane.Point{X: 400, Y: 1600}
	assert.Positive(t, f[6].At(long, above).X)
	assert.Equal(t, 700.0, f[6].(flow.Swirl).Reach)
	assert.Negative(t, f[7].At(long, above).X)
	// Seen from above, clockwise: before the axis it runs to the left, behind it to the right.
	assert.Positive(t, f[8].At(long, plane.Point{X: 1, Y: 3}).X*-1)
	near(t, space.Vec{Y: -1.5, Z: 2}, f[9].(flow.Swirl).Axis)

	assert.Equal(t, flow.Along{Path: []space.Vec{{}, {X: 4000, Z: 2000}}, Reach: 500, Strength: 1}, f[10])
	along := f[11].(flow.Along)
	assert.Equal(t, []float64{300, 0.5}, []float64{along.Reach, along.Strength})
	want := []space.Vec{
		{X: 3000, Z: 1000}, {X: 4000, Z: 1100}, {X: 4000, Z: 1100}, {X: 4000, Y: -600, Z: 1300}, {X: 3000, Y: -700, Z: 1400},
	}
	require.Len(t, along.Path, len(want))
	for i := range want {
		near(t, want[i], along.Path[i])
	}
	assert.Equal(t, flow.NewMeander(900, 1, 1), f[12])
	assert.Equal(t, flow.NewMeander(1200, 7, 0.25), f[13])
}

// The direction of a sweep in plan is that of the space package seen from above, whichever it is.
func TestASweepInPlanTurnsClockwise(t *testing.T) {
	for bearing, want := range map[int]space.Vec{0: {Y: 1}, 90: {X: 1}, 180: {Y: -1}, 270: {X: -1}, 360: {Y: 1}} {
		f := currents(t, fmt.Sprintf("    - sweep: {plan: %d}\n", bearing))
		near(t, want, f[0].(flow.RoomSweep).Way)
	}
	f := currents(t, "    - sweep: {plan: 17, rise: -90}\n")
	near(t, space.Vec{Z: -1}, f[0].(flow.RoomSweep).Way)
}

func TestPart(t *testing.T) {
	for text, want := range map[string]bool{"": false, "  part: true\n": true, "  part: no\n": false} {
		p, err := plan.Read("p.yaml", []byte(strings.Replace(sound, "  flow:\n", text+"  flow:\n", 1)))
		require.NoError(t, err)
		assert.Equal(t, want, p.Composition.Part)
	}
}

// A face that a plan can name is any that the survey finds, by its name there.
func TestAPlaceOnAFace(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound))
	require.NoError(t, err)
	site, err := wall.Survey(p.Room)
	require.NoError(t, err)
	for _, face := range site.Faces {
		middle := face.Outline.Bounds().Centre()
		list := fmt.Sprintf("    - toward: {wall: %s, face: %q, at: [%v, %v]}\n", p.Room.Walls[face.Wall].Name, strings.ToUpper(face.Name), middle.X, middle.Y)
		near(t, face.Frame.At(middle), currents(t, list)[0].(flow.Toward).Point)
	}
}

func TestFaultsOfCurrents(t *testing.T) {
	const (
		field   = "composition.flow[0]"
		heading = " is not a heading in degrees clockwise from straight up; give a number from 0 to 360"
		drawing = "draw a path on a wall, like {wall: Long wall, points: [[400, 1200], [2400, 1500]]}"
		apart   = "give plan and rise, or wall and heading"
	)
	for _, tt := range []struct{ list, want string }{
		{"▶    - towrad: {room: [1, 2, 3]}", ".towrad: is not a known key; did you mean toward?"},
		{"    - away: {▶wall: Shrot wall, at: [1, 1]}", `.away.wall: "Shrot wall" is not the name of a wall; did you mean Short wall?`},
		{"    - swirl: {▶wall: Ceiling, at: [1, 1]}", `.swirl.wall: "Ceiling" is not the name of a wall; name one of the walls: Long wall, Short wall`},
		{"    - toward: {wall: Short wall, ▶face: underside, at: [1, 1]}", `.toward.face: "underside" is not a face of Short wall; name one of the faces: wall`},
		{"    - sweep: {wall: Short wall, ▶face: walk, heading: 1}", `.sweep.face: "walk" is not a face of Short wall; did you mean wall?`},
		{"    - toward: {wall: Short wall, face: wall, ▶at: [-10, 5]}", ".toward.at: the point lies 10 mm off Short wall; measure it from the bottom-left corner of the face, or give a point in the room as room: [x, y, z]"},
		{"    - away: {wall: Short wall, ▶at: [-10, 5]}", ".away.at: the point lies 10 mm off Short wall; measure it from the wall's left end and from the floor, or give a point in the room as room: [x, y, z]"},
		{"    - toward: {room: [1, 2, 3], ▶face: wall}", ".toward.face: stands beside room; give wall and at, or room alone"},
		{"    - toward: {room: [1, 2, 3], ▶turn: clockwise}", ".toward.turn: is not a known key; known here: wall, face, at, room"},
		{"    - sweep: 10\n▶      reach: 5", ".reach: is not used with sweep; remove it; toward, away, swirl and along have a reach"},
		{"    - meander: {size: 10}\n▶      reach: 5", ".reach: is not used with meander; remove it; toward, away, swirl and along have a reach"},
		{"    - toward: {room: [1, 2, 3]}\n▶      reach: 0", ".reach: 0 mm is not a reach; give a number above 0"},
		{"    - swirl: {room: [1, 2, 3]}\n▶      along: {wall: Long wall, points: [[1, 1], [2, 2]]}", ".along: stands beside swirl; make it a current of its own, with a dash before it"},
		{"    - ▶sweep: {wall: Short wall}", ".sweep.heading: is missing; name a wall and a heading on it, like {wall: Long wall, heading: 85}, or give plan and rise in degrees"},
		{"    - sweep: {wall: Short wall, ▶heading: 361}", ".sweep.heading: 361" + heading},
		{"    - sweep: {plan: 5, ▶wall: Short wall}", ".sweep.wall: stands beside plan; " + apart},
		{"    - sweep: {wall: Short wall, heading: 5, ▶rise: 4}", ".sweep.rise: stands beside wall; " + apart},
		{"    - ▶sweep: {rise: 4}", ".sweep.plan: is missing; give the direction seen from above, in degrees clockwise"},
		{"    - sweep: {plan: 5, ▶rise: 91}", ".sweep.rise: 91 is not a rise in degrees; give a number from -90 to 90"},
		{"    - sweep: {▶plan: -5}", ".sweep.plan: -5 is not a direction in degrees clockwise seen from above; give a number from 0 to 360"},
		{"    - ▶sweep: [1]", ".sweep: is a list; write a number"},
		{"    - swirl: {room: [1, 2, 3], ▶axis: [0, 0, 0]}", ".swirl.axis: points nowhere; write three numbers, like [0, 0, 1] for one that points up"},
		{"    - swirl: {room: [1, 2, 3], ▶axis: [0, 1]}", ".swirl.axis: is not three numbers; write three numbers, like [0, 0, 1] for one that points up"},
		{"    - swirl: {room: [1, 2, 3], axis: [0, ▶1e3, 1]}", `.swirl.axis[1]: "1e3" is not a part of a direction; give a number from -1000000 to 1000000`},
		{"    - swirl: {wall: Long wall, at: [1, 1], ▶axis: [0, 1, 1]}", ".swirl.axis: stands beside wall; the axis stands square to the wall; give it with room alone"},
		{"    - swirl: {room: [1, 2, 3], ▶turn: left}", `.swirl.turn: "left" is not a turn; write one of clockwise, anticlockwise`},
		{"    - ▶along: 5", ".along: is a single value; write a path on a wall, like {wall: Long wall, points: [[400, 1200], [2400, 1500]]}"},
		{"    - ▶along: []", ".along: has no length; give at least two points that lie apart"},
		{"    - ▶along: {wall: Long wall, points: [[5, 5]]}", ".along: has no length; give at least two points that lie apart"},
		{"    - ▶along: {wall: Long wall, points: [[5, 5], [5, 5]]}", ".along: has no length; give at least two points that lie apart"},
		{"    - ▶along: {wall: Long wall}", ".along.points: is missing; " + drawing},
		{"    - ▶along: {points: [[5, 5], [6, 6]]}", ".along.wall: is missing; " + drawing},
		{"    - along: {wall: Long wall, points: [[5, 5], ▶[5, 2600]]}", ".along.points[1]: the point lies 100 mm off Long wall; measure it from the wall's left end and from the floor, or give a point in the room as room: [x, y, z]"},
		{"    - along:\n        - {wall: Long wall, points: [[5, 5], [6, 6]]}\n        - {▶wall: Lnog wall, points: [[5, 5]]}", `.along[1].wall: "Lnog wall" is not the name of a wall; did you mean Long wall?`},
		{"    - along: {room: [[1, 2, 3], ▶[1, 2]]}", ".along.room[1]: has 2 lengths; write 3, like [400, 1200, 1500]"},
		{"    - along: {room: [[1, 2, 3], [1, 2, 4]], ▶points: [[1, 1]]}", ".along.points: stands beside room; give wall and points, or room alone"},
		{"    - along: {wall: Long wall, ▶points: [" + strings.Repeat("[5, 5], ", 101) + "]}", ".along.points: has 101 items; give at most 100"},
		{"▶    - along:\n" + strings.Repeat("        - {wall: Long wall, points: ["+strings.Repeat("[5, 5], ", 60)+"]}\n", 2), ".along: has 120 points; draw the path with at most 100"},
		{"    - ▶meander: {}", ".meander.size: is missing; give the size of its bends, like {size: 900}"},
		{"    - meander: {▶size: 0}", ".meander.size: 0 mm is not a size; give a number above 0"},
		{"    - meander: {size: 900, ▶seed: -1}", `.meander.seed: "-1" is not a seed; give a whole number from 0 to 18446744073709551615`},
		{"    - ▶meander: 900", ".meander: is a single value; write keys and values on the lines below it"},
	} {
		t.Run(tt.list, func(t *testing.T) {
			text, line := change(t, []string{soundFlow, tt.list + "\n"})
			_, err := plan.Read("p.yaml", []byte(text))
			assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: %s%s", line, field, tt.want))
		})
	}
}

func TestPartIsYesOrNo(t *testing.T) {
	text, line := change(t, []string{"spacing: 95", "spacing: 95\n▶  part: round"})
	_, err := plan.Read("p.yaml", []byte(text))
	assert.EqualError(t, err, fmt.Sprintf(`p.yaml:%d: composition.part: "round" is neither true nor false; write true or false`, line))
}

// Where the room itself has faults, a current says nothing of where its walls stand, and still what
// is wrong with the current.
func TestCurrentsOfAFaultyRoom(t *testing.T) {
	text, _ := change(t, []string{"surface: brick", "surface: cheese", soundFlow,
		"    - toward: {wall: Short wall, at: [1500, 1200]}\n    - swirl: {wall: Long wall, at: [5000, 1]}\n    - along: {wall: Long wall, face: front, points: [[1, 1], [2, 2]]}\n    - sweep: {wall: Short wall, heading: 400}\n"})
	_, err := plan.Read("p.yaml", []byte(text))
	require.Error(t, err)
	lines := strings.Split(err.Error(), "\n")
	require.Len(t, lines, 3, err.Error())
	assert.Contains(t, lines[0], "surface")
	assert.Contains(t, lines[1], "composition.flow[1].swirl.at: the point lies 1000 mm off Long wall")
	assert.Contains(t, lines[2], "composition.flow[3].sweep.heading")
}
