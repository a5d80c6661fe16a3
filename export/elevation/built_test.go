package elevation_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// linesIn returns the lines of a group.
func linesIn(r *draw.Record, group string) []draw.Mark {
	return slices.DeleteFunc(slices.Clone(r.Marks), func(m draw.Mark) bool {
		return m.Kind != "line" || !slices.Contains(m.Groups, group)
	})
}

func TestElevationsShowStudsOnBothSidesOfAScreen(t *testing.T) {
	r := draw.NewRecord()
	require.NoError(t, elevation.Draw(r, worktest.Framed(t), 0))
	studs := linesIn(r, "studs")
	require.Len(t, studs, 10, "five on each side")
	for i, m := range studs {
		assert.Equal(t, draw.Dashed, m.Paint.Stroke.Dash)
		assert.Equal(t, m.Points[0].X, m.Points[1].X)
		if i%5 > 0 {
			step := m.Points[0].X - studs[i-1].Points[0].X
			assert.InDelta(t, 40, step*step/40, 1e-6, "400 mm at 1:10, the other way behind")
		}
	}
	assert.True(t, slices.ContainsFunc(r.Texts(1), func(s string) bool {
		return s == "steel studs, 45 wide, every 400" || s == "steel studs"
	}), "%q", r.Texts(1))
}

func TestElevationsShowJointsWhereTheyAreNotTooClose(t *testing.T) {
	w := worktest.Framed(t)
	r := draw.NewRecord()
	require.NoError(t, elevation.Draw(r, w, 2))
	level := 0
	for _, m := range linesIn(r, "joints") {
		if m.Points[0].Y == m.Points[1].Y {
			level++
		}
	}
	assert.Equal(t, 28, level, "2100 mm in courses of 75, and the floor, less the very tip")

	w.Site.Room.Walls[1].Joints.Course, w.Site.Room.Walls[1].Joints.Length = 6, 6
	r = draw.NewRecord()
	require.NoError(t, elevation.Draw(r, w, 2))
	assert.Empty(t, linesIn(r, "joints"))
}

func TestClientsSeeNeitherStudsNorJoints(t *testing.T) {
	r := draw.NewRecord()
	require.NoError(t, clientpage.DrawWith(r, worktest.Framed(t), clientpage.More{}, worktest.Print("A4")))
	assert.Empty(t, linesIn(r, "studs"))
	assert.Empty(t, linesIn(r, "joints"))
}

// On the sheets a stud runs where the plan has it, at full size.
func TestSheetsShowStudsAndJointsWhereTheyAre(t *testing.T) {
	w := worktest.Framed(t)
	p := worktest.Print("A4")
	r := draw.NewRecord()
	cut := worktest.CutUp(t, w, p)
	require.NoError(t, template.HoleMap(r, cut))
	tiles := cut.Tiles(0)
	named := 0
	for _, tile := range tiles {
		if len(tile.Holes) == 0 {
			continue
		}
		var want []float64
		for x := 215.0; x < 2000; x += 400 {
			if x > tile.Area.Min.X && x < tile.Area.Max.X {
				want = append(want, tile.ToPage(plane.Point{X: x}).X)
			}
		}
		var got []float64
		for _, m := range linesIn(r, "sheet "+tile.Name) {
			if slices.Contains(m.Groups, "studs") {
				got = append(got, m.Points[0].X)
			}
		}
		assert.InDeltaSlice(t, want, got, 1e-6, tile.Name)
		named += len(want)
	}
	require.Positive(t, named)
	count := map[string]int{}
	for page := range r.Pages {
		for _, text := range r.Texts(page + 1) {
			count[text]++
		}
	}
	assert.Greater(t, count["steel stud"], named/2, "most are named")
	assert.NotEmpty(t, linesIn(r, "joints"))
}
