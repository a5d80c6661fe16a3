package elevation_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Where the floor was measured a sheet gives the height over the floor right under its mark, and what
// hangs it is the datum. Nothing that is drilled moves.
func TestAMeasuredFloorIsToldAndMovesNothing(t *testing.T) {
	flat := wall.Wall{Name: "One", Outline: plane.Rectangle(plane.Point{}, 3000, 2400), Surface: wall.Brick}
	fallen := flat
	fallen.Floor = []plane.Point{{}, {X: 3000, Y: -30}}
	pieces := []scatter.Piece{{At: plane.Point{X: 2000, Y: 1200}, Kind: 1, Heading: 90}}
	level, sunk := worktest.Work(t, worktest.Site(flat), pieces), worktest.Work(t, worktest.Site(fallen), pieces)
	assert.Equal(t, level.Map, sunk.Map)

	p := worktest.Print("A4")
	cut := worktest.CutUp(t, sunk, p)
	tiles := cut.Tiles(0)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	sheets := strings.Join(r.Texts(len(r.Pages)), "\n")
	for _, tile := range tiles {
		if len(tile.Holes) == 0 {
			continue
		}
		left, up := tile.Cell.Min.X, tile.Cell.Max.Y
		assert.Contains(t, sheets, plain(left)+" mm from the left end · "+plain(up+left/100)+" mm above the floor right under it")
		assert.Contains(t, sheets, "\ndatum is ")
	}
	key := strings.Join(r.Texts(1), " ")
	assert.Contains(t, key, "Heights hang from the datum, never from the floor")
	assert.Contains(t, key, plain(sunk.Site.Room.Datum+30)+" mm at 3000 mm")

	e := worktest.Recorded(t, func(c draw.Canvas) error { return elevation.Draw(c, sunk, 0) })
	assert.Contains(t, strings.Join(e.Texts(1), " "), "Heights hang from the datum, never from the floor")
	fall := 0.0
	for _, m := range e.Marks {
		if len(m.Groups) == 2 && m.Groups[1] == "floor" {
			fall = m.Points[len(m.Points)-1].Y - m.Points[0].Y
		}
	}
	assert.InDelta(t, 30.0/20, fall, 1e-6, "drawn to scale")
}

// plain returns a length in whole millimetres.
func plain(mm float64) string { return strconv.Itoa(int(math.Round(mm))) }
