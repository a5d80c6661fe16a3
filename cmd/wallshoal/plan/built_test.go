package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// framed is the hall with what is known of what it is built of.
var framed = strings.NewReplacer(
	"  margin: 70\n", "  margin: 70\n  holes: {edge: 25}\n",
	"      surface: brick\n", "      surface: brick\n      joints: {course: 75, length: 225, width: 10, first: [5, -5], holes: on}\n      holes: {edge: 60}\n",
	"    - name: East\n      length: 3000\n      height: 2500\n", "    - name: East\n      length: 3000\n      height: 2500\n      studs: {spacing: 400, first: 215, width: 45, material: timber, holes: off, keep: 10}\n",
	"    - name: West\n      length: 3000\n      height: 2500\n      surface: plaster\n",
	"    - name: West\n      length: 3000\n      height: 2500\n      surface: tile\n      joints: {course: 200, length: 300, width: 3, holes: off, keep: 15}\n      studs: {at: [20, 600, 1 m], width: 38, run: across}\n",
	"    surface: plasterboard\n    margin: 90\n", "    surface: plasterboard\n    margin: 90\n    studs: {spacing: 16 in, first: 8 in, width: 1.5 in, run: across}\n    holes: {edge: 0}\n",
).Replace(hall)

func TestStudsJointsAndEdgesOfAPlan(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(framed))
	require.NoError(t, err)
	walls, ceiling := p.Room.Walls, p.Room.Ceiling
	assert.Equal(t, &wall.Joints{Course: 75, Length: 225, Width: 10, First: plane.Point{X: 5, Y: -5}, Bond: wall.HalfBond, Holes: wall.HolesOn}, walls[0].Joints)
	assert.Equal(t, &wall.Studs{Spacing: 400, First: 215, Width: 45, Material: wall.TimberStud, Holes: wall.HolesOff, Keep: 10}, walls[1].Studs)
	assert.Equal(t, &wall.Joints{Course: 200, Length: 300, Width: 3, Bond: wall.StackBond, Holes: wall.HolesOff, Keep: 15}, walls[3].Joints)
	assert.Equal(t, &wall.Studs{At: []float64{20, 600, 1000}, Width: 38, Across: true}, walls[3].Studs)
	assert.InDelta(t, 406.4, ceiling.Studs.Spacing, 1e-9)
	assert.Equal(t, []float64{60, 25, 25, 25, 25, 0}, []float64{walls[0].HoleEdge, walls[1].HoleEdge, walls[2].HoleEdge, walls[3].HoleEdge, walls[4].HoleEdge, ceiling.HoleEdge})
	assert.Nil(t, walls[2].Studs)
	assert.Nil(t, walls[2].Joints)
}

func TestFaultsOfStudsJointsAndEdges(t *testing.T) {
	const studs, list, joints = "studs: {spacing: 400, first: 215, width: 45,", "studs: {at: [20, 600, 1 m],", "joints: {course: 75, length: 225, width: 10,"
	tests := []struct {
		pairs []string
		want  string
	}{
		{[]string{studs, "studs: {▶spacing: 40, first: 215, width: 45,"}, "room.walls[1].studs.width: studs of 45 mm overlap where one comes every 40 mm; give a width below the spacing, which is from middle to middle"},
		{[]string{studs, "studs: {▶spacing: -400, first: 215, width: 45,"}, "room.walls[1].studs.spacing: -400 mm is not a spacing; give a number above 0"},
		{[]string{studs, "▶studs: {first: 215, width: 45,"}, "room.walls[1].studs.spacing: is missing; give spacing and first, or a list of middles as at"},
		{[]string{studs, "▶studs: {spacing: 400, width: 45,"}, "room.walls[1].studs.first: is missing; measure to the middle of the first"},
		{[]string{studs, "▶studs: {spacing: 400, first: 215,"}, "room.walls[1].studs.width: is missing; give the width of a stud, like 45"},
		{[]string{studs, "studs: {spacing: 400, ▶first: 3215, width: 45,"}, "room.walls[1].studs.first: 3215 mm is off the wall, which goes from 0 mm to 3000 mm; measure the middle of the stud from the wall's left end"},
		{[]string{studs, "studs: {at: [5], ▶spacing: 400, width: 45,"}, "room.walls[1].studs.spacing: stands beside at, which says it already; keep at, or spacing and first"},
		{[]string{list, "studs: {▶at: [],"}, "room.walls[3].studs.at: is empty; give at least one, like [215, 615, 1015]"},
		{[]string{list, "studs: {▶at: 215,"}, "room.walls[3].studs.at: is a single value; write a list of middles, like [215, 615, 1015]"},
		{[]string{list, "studs: {at: [5, ▶x],"}, `room.walls[3].studs.at[1]: "x" is not a length; write a number with or without a unit, like 2.4 m, 180 mm or 7'-6 1/2"`},
		{[]string{list, "studs: {at: [5, ▶2600],"}, "room.walls[3].studs.at[1]: 2600 mm is off the wall, which goes from 0 mm to 2500 mm; measure the middle of the stud from the floor, since the studs run across"},
		{[]string{"holes: off, keep: 10}", "holes: ▶beside, keep: 10}"}, `room.walls[1].studs.holes: "beside" is not a rule for holes; write one of on, off`},
		{[]string{"holes: off, keep: 10}", "holes: ▶true}"}, `room.walls[1].studs.holes: "true" is not a rule for holes; did you mean on?`},
		{[]string{"holes: off, keep: 10}", "▶keep: 10}"}, "room.walls[1].studs.keep: is only used with holes; write holes: on or holes: off, or remove it"},
		{[]string{"material: timber", "material: ▶wood"}, `room.walls[1].studs.material: "wood" is not a material of studs; did you mean timber?`},
		{[]string{"width: 38, run: across", "width: 38, run: ▶level"}, `room.walls[3].studs.run: "level" is not a way to run; did you mean across?`},
		{[]string{joints, "joints: {course: 75, length: 225, ▶width: 80,"}, "room.walls[0].joints.width: joints of 80 mm leave nothing of the units: a course measures 75 mm in all; give the width of a joint; course and length are of a unit and a joint together"},
		{[]string{joints, "joints: {course: ▶3, length: 225, width: 1,"}, "room.walls[0].joints.course: 3 mm is too little for a course; give at least 5 mm"},
		{[]string{joints, "▶joints: {course: 75, width: 10,"}, "room.walls[0].joints.length: is missing; give the length of a unit and a joint together"},
		{[]string{"first: [5, -5], holes: on}", "▶first: [5, -500], holes: on}"}, "room.walls[0].joints.first: the place lies off the wall, at x = 5 mm, y = -500 mm; measure, from the wall's left end and from the floor, where an upright joint meets the level one below it"},
		{[]string{"first: [5, -5], holes: on}", "▶bond: stac, holes: on}"}, `room.walls[0].joints.bond: "stac" is not a bond; did you mean stack?`},
		{[]string{"first: [5, -5], holes: on}", "▶bond: running, holes: on}"}, `room.walls[0].joints.bond: "running" is not a bond; did you mean half?`},
		{[]string{"holes: {edge: 60}", "holes: {▶edge: -60}"}, "room.walls[0].holes.edge: -60 mm is too little for a distance from an edge; give at least 0 mm"},
		{[]string{"holes: {edge: 60}", "holes: {▶edge: 1250}"}, "room.walls[0].holes.edge: 1250 mm along every edge leaves nothing to drill; give a smaller distance"},
		{[]string{"holes: {edge: 60}", "▶holes: 60"}, "room.walls[0].holes: is a single value; write keys and values on the lines below it"},
		{[]string{"holes: {edge: 60}", "holes: {▶egde: 60}"}, "room.walls[0].holes.egde: is not a known key; did you mean edge?"},
	}
	for i, tt := range tests {
		t.Run(fmt.Sprint(i, " ", strings.Join(tt.pairs, " → ")), func(t *testing.T) {
			text, line := changed(t, framed, tt.pairs)
			_, err := plan.Read("p.yaml", []byte(text))
			assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: %s", line, tt.want))
		})
	}
}

func TestABitThatNoWallTakes(t *testing.T) {
	read := func(pairs ...string) error {
		text := strings.NewReplacer(append(pairs, "      surface: brick\n", "      surface: brick\n      joints: {course: 75, length: 225, width: 3, holes: on}\n")...).Replace(sound)
		_, err := plan.Read("p.yaml", []byte(text))
		return err
	}
	const bare = "      surface: plaster\n      use: false\n"
	assert.NoError(t, read("bit: 2", "bit: 3.5"), "the other wall takes it")
	assert.NoError(t, read("      surface: plaster\n", bare), "it is narrow enough")
	assert.EqualError(t, read("      surface: plaster\n", bare, "bit: 2", "bit: 3.5"),
		"p.yaml:8: room.walls[0].joints.holes: the joints leave no room for the bit of 3.5 mm that Twig needs, and no other wall does; use a finer bit, keep less, or let holes be elsewhere")
}
