package wall_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

func TestCheckOfStudsJointsAndEdges(t *testing.T) {
	studs := func(change func(*wall.Studs)) func(*wall.Wall) {
		return func(w *wall.Wall) {
			w.Studs = &wall.Studs{First: 215, Spacing: 400, Width: 45, Holes: wall.HolesOn}
			change(w.Studs)
		}
	}
	joints := func(change func(*wall.Joints)) func(*wall.Wall) {
		return func(w *wall.Wall) {
			w.Joints = &wall.Joints{Course: 75, Length: 225, Width: 10, Bond: wall.HalfBond, Holes: wall.HolesOn}
			change(w.Joints)
		}
	}
	edge := func(mm float64) func(*wall.Wall) { return func(w *wall.Wall) { w.HoleEdge = mm } }
	list := func(at ...float64) func(*wall.Wall) {
		return studs(func(s *wall.Studs) { s.First, s.Spacing, s.At = 0, 0, at })
	}
	const in, at = "measure the middle of the stud from the wall's left end", "room.walls[0].studs"
	tests := []struct {
		name   string
		change func(*wall.Wall)
		want   string
	}{
		{"sound studs", studs(func(*wall.Studs) {}), ""},
		{"a list of studs", list(0, 500, 4000), ""},
		{"sound joints", joints(func(*wall.Joints) {}), ""},
		{"edge", edge(25), ""},
		{"no spacing", studs(func(s *wall.Studs) { s.Spacing = 0 }), at + ".spacing: 0 mm is out of range; give a length from 1 mm to 1000000 mm"},
		{"spacing NaN", studs(func(s *wall.Studs) { s.Spacing = math.NaN() }), at + ".spacing: ? is out of range; give a length from 1 mm to 1000000 mm"},
		{"no width", studs(func(s *wall.Studs) { s.Width = 0 }), at + ".width: 0 mm is out of range; give a length from 1 mm to 1000000 mm"},
		{"wide studs", studs(func(s *wall.Studs) { s.Width = 400 }), at + ".width: studs of 400 mm overlap where one comes every 400 mm; give a width below the spacing, which is from middle to middle"},
		{"first outside", studs(func(s *wall.Studs) { s.First = 4001 }), at + ".first: 4001 mm is off the wall, which goes from 0 mm to 4000 mm; " + in},
		{"first across", studs(func(s *wall.Studs) { s.Across, s.First = true, 3000 }), at + ".first: 3000 mm is off the wall, which goes from 0 mm to 2500 mm; measure the middle of the stud from the floor, since the studs run across"},
		{"many studs", studs(func(s *wall.Studs) { s.Spacing, s.Width, s.First = 2, 1, 0 }), at + ".spacing: 2 mm makes 2001 studs; give a spacing that makes at most 500 on one wall"},
		{"listed outside", list(5, -40), at + ".at[1]: a stud of 45 mm at -40 mm overlaps the one before it, at 5 mm; list the middles of the studs in order, each of them once"},
		{"listed past the end", list(5, 4040), at + ".at[1]: 4040 mm is off the wall, which goes from 0 mm to 4000 mm; " + in},
		{"too close", list(5, 40), at + ".at[1]: a stud of 45 mm at 40 mm overlaps the one before it, at 5 mm; list the middles of the studs in order, each of them once"},
		{"NaN listed", list(math.NaN()), at + ".at[0]: ? is out of range; give a length from -1000000 mm to 1000000 mm"},
		{"many listed", list(slices.Repeat([]float64{5}, 501)...), at + ".at: there are 501 studs; give at most 500 on one wall"},
		{"rule", studs(func(s *wall.Studs) { s.Holes = "near" }), at + `.holes: "near" is not a rule for holes; write on or off`},
		{"material", studs(func(s *wall.Studs) { s.Material = "jelly" }), at + `.material: "jelly" is nothing that studs are made of; write timber or steel`},
		{"keep", studs(func(s *wall.Studs) { s.Keep = -1 }), at + ".keep: -1 mm is not a distance to keep; give 0 or more"},
		{"nothing of a stud", studs(func(s *wall.Studs) { s.Keep = 22.5 }), at + ".keep: 22.5 mm from both edges leaves nothing of a stud of 45 mm; give less than half of the width"},
		{"nothing between", studs(func(s *wall.Studs) { s.Holes, s.Keep = wall.HolesOff, 200 }), at + ".keep: 200 mm from every stud leaves nothing between two that are 355 mm apart; give less than half of that"},
		{"nothing between the listed", func(w *wall.Wall) {
			list(1000, 1100, 1300)(w)
			w.Studs.Holes, w.Studs.Keep = wall.HolesOff, 80
		}, at + ".keep: 80 mm from every stud leaves nothing between two that are 155 mm apart; give less than half of that"},
		{"course", joints(func(j *wall.Joints) { j.Course = 0 }), "room.walls[0].joints.course: 0 mm is out of range; give a length from 5 mm to 1000000 mm"},
		{"length", joints(func(j *wall.Joints) { j.Length = math.Inf(1) }), "room.walls[0].joints.length: ? is out of range; give a length from 5 mm to 1000000 mm"},
		{"joint", joints(func(j *wall.Joints) { j.Width = 0 }), "room.walls[0].joints.width: 0 mm is not the width of a joint; give a number above 0"},
		{"thick joints", joints(func(j *wall.Joints) { j.Width = 75 }), "room.walls[0].joints.width: joints of 75 mm leave nothing of the units: a course measures 75 mm in all; give the width of a joint; course and length are of a unit and a joint together"},
		{"thick upright joints", joints(func(j *wall.Joints) { j.Width, j.Length, j.Bond = 60, 60, wall.StackBond }), "room.walls[0].joints.width: joints of 60 mm leave nothing of the units: a unit and its joint measures 60 mm in all; give the width of a joint; course and length are of a unit and a joint together"},
		{"thick in half bond", joints(func(j *wall.Joints) { j.Width, j.Length = 31, 60 }), "room.walls[0].joints.width: joints of 31 mm leave nothing of the units: half of a unit and its joint measures 30 mm in all; give the width of a joint; course and length are of a unit and a joint together"},
		{"bond", joints(func(j *wall.Joints) { j.Bond = "" }), `room.walls[0].joints.bond: "" is not a bond; write half or stack`},
		{"joints off the wall", joints(func(j *wall.Joints) { j.First = plane.Point{X: 100, Y: 2800} }), "room.walls[0].joints.first: the place lies off the wall, at x = 100 mm, y = 2800 mm; measure, from the wall's left end and from the floor, where an upright joint meets the level one below it"},
		{"joints at no place", joints(func(j *wall.Joints) { j.First.Y = math.NaN() }), "room.walls[0].joints.first: it is at no place; give two lengths"},
		{"nothing of a joint", joints(func(j *wall.Joints) { j.Keep = 5 }), "room.walls[0].joints.keep: 5 mm from both edges leaves nothing of a joint of 10 mm; give less than half of the width"},
		{"nothing of a unit", joints(func(j *wall.Joints) { j.Holes, j.Keep = wall.HolesOff, 33 }), "room.walls[0].joints.keep: 33 mm from every joint leaves nothing of a unit of 65 mm; give less than half of that"},
		{"edge below 0", edge(-1), "room.walls[0].holes.edge: -1 mm is not a distance from an edge; give 0 or more"},
		{"edge over all", edge(1250), "room.walls[0].holes.edge: 1250 mm along every edge leaves nothing to drill; give a smaller distance"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := soundRoom()
			tt.change(&r.Walls[0])
			got := r.Check(measure.Millimetre)
			if tt.want == "" {
				assert.Empty(t, got)
				return
			}
			require.Len(t, got, 1)
			assert.Equal(t, tt.want, got[0].Error())
			_, _ = wall.Survey(r) // it may fail, and ends
		})
	}
}

func TestCheckOfJoists(t *testing.T) {
	r := room([]float64{4000, 3000, 4000, 3000}, []float64{90, 90, 90, 90})
	r.Ceiling = &wall.Wall{Name: "Ceiling", Surface: wall.Plasterboard, HoleEdge: -1, Studs: &wall.Studs{First: 3200, Spacing: 400, Width: 45, Across: true}}
	problems := r.Check(measure.Millimetre)
	require.Len(t, problems, 1)
	assert.Equal(t, "room.ceiling.holes.edge: -1 mm is not a distance from an edge; give 0 or more", problems[0].Error())
	r.Ceiling.HoleEdge = 20
	problems = r.Check(measure.Millimetre)
	require.Len(t, problems, 1)
	assert.Equal(t, "room.ceiling.studs.first: 3200 mm is off the wall, which goes from 0 mm to 3000 mm; measure the middle of the joist from the first wall, since the joists run across", problems[0].Error())
	r.Ceiling.Studs.First = 200
	assert.Empty(t, r.Check(measure.Millimetre))
}
