package tiling_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

func prints() []tiling.Print {
	var out []tiling.Print
	for _, p := range drafting.Papers() {
		for _, landscape := range []bool{false, true} {
			out = append(out, tiling.Print{Paper: p, Landscape: landscape, Overlap: 12, Margin: 6})
		}
	}
	return append(out, tiling.Print{Paper: worktest.Print("A4").Paper, Overlap: 20, Margin: 10})
}

// A wall without holes is cut into full sheets from its top left.
func TestTilesCoverABareWallOnOneGrid(t *testing.T) {
	w := worktest.Work(t, worktest.FerrySite(), nil)
	for _, p := range prints() {
		tiles := worktest.CutUp(t, w, p).Tiles(0)
		area := 0.0
		for _, tile := range tiles {
			area += tile.Cell.Width() * tile.Cell.Height()
			c := tile.Cell
			assert.Equal(t, plane.Point{X: c.Min.X, Y: c.Max.Y}, plane.Point{X: tile.Area.Min.X, Y: tile.Area.Max.Y}, "cut along the grid")
			assert.InDelta(t, math.Min(6400, c.Max.X+p.Overlap), tile.Area.Max.X, 1e-9, "the paper ends where the wall does")
			assert.InDelta(t, math.Max(0, c.Min.Y-p.Overlap), tile.Area.Min.Y, 1e-9)
			assert.InDelta(t, 0, math.Mod(c.Min.X+1e-9, tiles[0].Cell.Width()), 1e-6, "the grid starts at the left end")
			assert.InDelta(t, 0, math.Mod(2700-c.Max.Y+1e-9, tiles[0].Cell.Height()), 1e-6, "and at the top")
			assert.Equal(t, c.Width(), math.Trunc(c.Width()), "marks stand at whole millimetres")
			assert.InDelta(t, tile.Area.Width(), tile.Frame.Width(), 1e-9, "full size")
			assert.InDelta(t, tile.Area.Height(), tile.Frame.Height(), 1e-9, "full size")
		}
		assert.InDelta(t, 6400.0*2700, area, 1e-3, "cells do not overlap, and leave nothing of the wall out")
	}
}

func TestTilesKeepWithinThePrintableSheet(t *testing.T) {
	w := worktest.Ferry(t)
	for _, p := range prints() {
		tiles := worktest.CutUp(t, w, p).Tiles(0)
		width, height := p.Paper.Width, p.Paper.Height
		if p.Landscape {
			width, height = height, width
		}
		printable := plane.Rect{Max: plane.Point{X: width, Y: height}}.Grow(-p.Margin)
		for _, tile := range tiles {
			assert.True(t, printable.Contains(tile.Frame.Min) && printable.Contains(tile.Frame.Max))
		}
	}
}

// Every hole lies in the cell of one tile, and its cross is on every printed tile that shows it.
func TestEveryHoleIsOnEveryTileThatShowsIt(t *testing.T) {
	w := worktest.Ferry(t)
	cut := worktest.CutUp(t, w, worktest.Print("A4"))
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for i, h := range w.Map.Holes {
			shown, owners := 0, 0
			for _, tile := range tiles {
				if len(tile.Holes) == 0 {
					continue
				}
				has := slices.Contains(tile.Holes, i)
				assert.Equal(t, h.Face == face && tile.Area.Contains(h.At), has, "hole %d on %s", h.Number, tile.Name)
				if has {
					shown++
					at := tile.ToPage(h.At)
					assert.True(t, tile.Frame.Contains(at))
					assert.InDelta(t, 0, tile.ToFace(at).Distance(h.At), 1e-9)
				}
				if c := tile.Cell; h.Face == face && h.At.X >= c.Min.X && h.At.X < c.Max.X && h.At.Y > c.Min.Y && h.At.Y <= c.Max.Y {
					owners++
				}
			}
			if h.Face == face {
				assert.GreaterOrEqual(t, shown, 1)
				assert.LessOrEqual(t, shown, 4)
				assert.Equal(t, 1, owners, "hole %d is in so many cells", h.Number)
			}
		}
	}
}

func TestNeighboursKnowOneAnother(t *testing.T) {
	tiles := worktest.CutUp(t, worktest.Ferry(t), worktest.Print("Letter")).Tiles(1)
	byName := map[string]tiling.Tile{}
	for _, tile := range tiles {
		byName[tile.Name] = tile
	}
	require.Len(t, byName, len(tiles), "names are unique")
	rights, belows := 0, 0
	for _, tile := range tiles {
		if right, is := byName[tile.Right.Name]; is {
			rights++
			assert.Equal(t, tile.Name, right.Left.Name)
			assert.InDelta(t, tile.Cell.Max.X, right.Cell.Min.X, 1e-9, "neighbours share their register marks")
			assert.InDelta(t, tile.Cell.Max.X, right.Area.Min.X, 1e-9, "the cut edge comes to lie on the landing line")
			assert.Equal(t, len(right.Holes) > 0, tile.Right.Printed)
		}
		for _, n := range tile.Below {
			belows++
			below := byName[n.Name]
			i := slices.IndexFunc(below.Above, func(a tiling.Neighbour) bool { return a.Name == tile.Name })
			require.GreaterOrEqual(t, i, 0, "%s knows %s", n.Name, tile.Name)
			assert.Equal(t, [2]float64{n.From, n.To}, [2]float64{below.Above[i].From, below.Above[i].To})
			assert.Less(t, n.From, n.To)
			assert.InDelta(t, tile.Cell.Min.Y, below.Cell.Max.Y, 16, "near the line of its row")
			assert.InDelta(t, n.Edge, below.Area.Max.Y, 1e-9)
			assert.GreaterOrEqual(t, n.Edge-4, tile.Area.Min.Y-1e-9, "there is paper for it to land on")
		}
		for _, other := range tiles {
			c := other.Cell
			if other.Row > tile.Row {
				c.Max.Y = min(c.Max.Y, math.Max(tile.Cell.Min.Y, c.Max.Y-16))
			} else if other.Row < tile.Row {
				c.Min.Y = max(c.Min.Y, math.Min(tile.Cell.Max.Y, c.Min.Y+16))
			}
			assert.False(t, other.Name != tile.Name && c.Grow(-0.01).Overlaps(tile.Cell), "cells do not overlap but where a row starts higher")
		}
	}
	assert.NotZero(t, rights)
	assert.NotZero(t, belows)
	assert.Equal(t, "2-A1", tiles[0].Name, "the face's number tells walls apart")
}

func TestMarksStandOnSixteenthsWhereThePlanIsInFeet(t *testing.T) {
	w := worktest.Ferry(t)
	w.Units = measure.Foot
	tiles := worktest.CutUp(t, w, worktest.Print("Letter")).Tiles(0)
	for _, tile := range tiles {
		sixteenths := tile.Cell.Min.X / 25.4 * 16
		assert.InDelta(t, math.Round(sixteenths), sixteenths, 1e-6)
	}
}

func TestRowsPastTwentySixHaveTwoLetters(t *testing.T) {
	s := worktest.Site(wall.Wall{Name: "Tower", Outline: plane.Rectangle(plane.Point{}, 300, 8000), Surface: wall.Brick})
	tiles := worktest.CutUp(t, worktest.Work(t, s, nil), worktest.Print("A4")).Tiles(0)
	assert.Equal(t, "A1", tiles[0].Name)
	assert.Equal(t, "Z1", tiles[25*2].Name)
	assert.Equal(t, "AA1", tiles[26*2].Name)
}

func TestTilesSayWhatIsWrong(t *testing.T) {
	w := worktest.Ferry(t)
	w.Site.Faces[0].Outline = plane.RegionOf(plane.Rectangle(plane.Point{}, 1e6, 1e6))
	w.Site.Faces[0].Whole = w.Site.Faces[0].Outline
	_, err := tiling.CutOf(w, worktest.Print("A4"))
	assert.ErrorContains(t, err, "the most is")
}
