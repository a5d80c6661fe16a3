package caution

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// builtWall returns a wall of 4 by 2.7 m that is built as change says.
func builtWall(t *testing.T, surface wall.Surface, change func(*wall.Wall)) wall.Site {
	t.Helper()
	w := wall.Wall{Name: "Wall", Surface: surface, Outline: plane.Rectangle(plane.Point{}, 4000, 2700)}
	change(&w)
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{w}})
	require.NoError(t, err)
	return site
}

func framed(material string, rule wall.HoleRule) func(*wall.Wall) {
	return func(w *wall.Wall) {
		w.Studs = &wall.Studs{First: 200, Spacing: 400, Width: 45, Material: material, Holes: rule}
	}
}

// Of three holes one goes into the middle of a stud, one just meets the edge of one, and one misses.
func TestHolesInStudsAndInBoard(t *testing.T) {
	l := at(plane.Point{X: 600, Y: 1000}, plane.Point{X: 1000 + 22.5 + 0.7, Y: 1000}, plane.Point{X: 1400 + 22.5 + 0.8, Y: 1000})
	for _, tt := range []struct {
		surface     wall.Surface
		material    string
		stud, board int
		says        string
	}{
		{wall.Plasterboard, "", 2, 1, "Keep to the plan's depth, and stop where the bit meets steel"},
		{wall.Plasterboard, wall.TimberStud, 2, 1, "does not split"},
		{wall.Plasterboard, wall.SteelStud, 2, 1, "cables run inside steel studs"},
		{wall.Timber, "", 2, 0, "stop where the bit meets steel"},
	} {
		r := find(builtWall(t, tt.surface, framed(tt.material, wall.HolesAnywhere)), plate(60, 60), l)
		in := ofCode(r, "in-stud")
		require.Len(t, in, 1)
		assert.Equal(t, tt.stud, in[0].Holes)
		assert.Equal(t, Note, in[0].Severity)
		assert.Contains(t, in[0].Text, tt.says)
		board := ofCode(r, "board-only")
		if tt.board == 0 {
			assert.Empty(t, board)
			continue
		}
		require.Len(t, board, 1)
		assert.Equal(t, tt.board, board[0].Holes)
		assert.Contains(t, r.OfHole(3, 0), "board-only")
	}
	plain := find(builtWall(t, wall.Plasterboard, func(*wall.Wall) {}), plate(60, 60), l)
	assert.Empty(t, ofCode(plain, "in-stud"), "nobody knows where they are")
	assert.Empty(t, ofCode(plain, "board-only"))
}

func TestHolesThatThePlanWantsElsewhereAreStopped(t *testing.T) {
	l := at(plane.Point{X: 600, Y: 1000}, plane.Point{X: 800, Y: 1000})
	for _, tt := range []struct {
		rule wall.HoleRule
		hole int // 0 for none
	}{{wall.HolesOn, 2}, {wall.HolesOff, 1}, {wall.HolesAnywhere, 0}} {
		r := find(builtWall(t, wall.Plasterboard, framed("", tt.rule)), plate(60, 60), l)
		got := ofCode(r, "off-structure")
		if tt.hole == 0 {
			assert.Empty(t, got)
			continue
		}
		require.Len(t, got, 1)
		assert.Equal(t, [2]any{Stop, 1}, [2]any{got[0].Severity, got[0].Holes})
		assert.Contains(t, got[0].Text, "and the plan ")
		assert.Contains(t, r.OfHole(tt.hole, 0), "off-structure")
	}
}

func TestHolesInMortarAndInTiles(t *testing.T) {
	laid := func(rule wall.HoleRule) func(*wall.Wall) {
		return func(w *wall.Wall) {
			w.Joints = &wall.Joints{Course: 75, Length: 225, Width: 10, Bond: wall.HalfBond, Holes: rule}
		}
	}
	onJoint, inUnit := at(plane.Point{X: 300, Y: 750}), at(plane.Point{X: 337.5, Y: 787.5})
	for _, tt := range []struct {
		surface wall.Surface
		rule    wall.HoleRule
		layout  scatter.Layout
		want    string
	}{
		{wall.Brick, wall.HolesOn, onJoint, "in-joint"},
		{wall.Brick, wall.HolesOff, inUnit, ""},
		{wall.Tile, wall.HolesOff, inUnit, "in-tile"},
		{wall.Tile, wall.HolesOn, onJoint, ""},
		{wall.Tile, wall.HolesAnywhere, inUnit, "in-tile"},
	} {
		r := find(builtWall(t, tt.surface, laid(tt.rule)), plate(60, 60), tt.layout)
		for _, code := range []string{"in-joint", "in-tile", "off-structure"} {
			got := ofCode(r, code)
			if code != tt.want {
				assert.Empty(t, got, "%+v", tt)
				continue
			}
			require.Len(t, got, 1, "%+v", tt)
			assert.True(t, strings.HasSuffix(got[0].Text, Standing))
			assert.NotEmpty(t, got[0].Source)
		}
	}
}
