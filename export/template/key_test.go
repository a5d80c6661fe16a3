package template_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/caution"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Somebody with a piece in the hand must find in the key every sheet that one of its holes is to be
// drilled through, and no other.
func TestTheIndexFindsTheSheetsOfEveryPiece(t *testing.T) {
	w := worktest.Ferry(t)
	p := worktest.Print("A4")
	r := draw.NewRecord()
	cut := worktest.CutUp(t, w, p)
	require.NoError(t, template.HoleMap(r, cut))
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, piece := range w.Layout.Pieces {
			if piece.Face != face {
				continue
			}
			var names []string
			for _, tile := range tiles {
				if slices.ContainsFunc(w.Map.Holes, func(h holemap.Hole) bool {
					return h.Piece == piece.ID && tile.Cell.Contains(h.At)
				}) {
					names = append(names, tile.Name)
				}
			}
			row := slices.IndexFunc(r.Marks, func(m draw.Mark) bool {
				return m.Kind == "text" && m.Text.Bold && m.Text.Height == 3 && m.Text.Say == fmt.Sprint(piece.ID)
			})
			require.GreaterOrEqual(t, row, 0, "piece %d", piece.ID)
			assert.Equal(t, w.Kinds[piece.Kind].Code, r.Marks[row+1].Text.Say)
			assert.Equal(t, strings.Join(names, ", "), r.Marks[row+3].Text.Say, "piece %d", piece.ID)
		}
	}
}

// Two bits of one diameter can want different depths. Where a face has several ways to drill, each
// has a letter that stands at the hole and in the key.
func TestWaysToDrillHaveLetters(t *testing.T) {
	w := worktest.Ferry(t)
	w.Kinds = slices.Clone(w.Kinds)
	w.Kinds[0].Holes = []scatter.Hole{{Bit: 5, Depth: 30, Fixing: "pin"}}
	w.Kinds[1].Holes = []scatter.Hole{{Bit: 5, Depth: 40, Fixing: "stud"}}
	w.Kinds[2].Holes = []scatter.Hole{{Bit: 6, Depth: 40, Fixing: "stud"}}
	m, err := holemap.Make(w.Site, w.Kinds, w.Layout)
	require.NoError(t, err)
	w.Map = m
	r := draw.NewRecord()
	require.NoError(t, template.HoleMap(r, worktest.CutUp(t, w, worktest.Print("A4"))))
	key := slices.Concat(r.Texts(1), r.Texts(2))
	assert.Contains(t, key, "Ø5 a, 30 mm deep, pin")
	assert.Contains(t, key, "Ø5 b, 40 mm deep, stud")
	want := map[float64]string{30: "Ø5 a", 40: "Ø5 b"}
	for _, h := range m.Holes {
		if h.Bit != 5 {
			continue
		}
		assert.True(t, slices.ContainsFunc(r.Marks, func(m draw.Mark) bool {
			return m.Kind == "text" && m.Text.Say == want[h.Depth] && len(m.Groups) > 1 && m.Groups[1] == fmt.Sprintf("label of hole %d", h.Number)
		}), "hole %d", h.Number)
	}
}

// What stands out of a wall keeps paper off it: the sheet says to cut.
func TestSheetsSayWhatToCutAway(t *testing.T) {
	breast := worktest.Box(wall.Chimney, "old breast", 500, 0, 700, 1200)
	breast.Depth = 350
	rail := worktest.Box(wall.Fixture, "rail", 0, 0, 1, 1)
	rail.Shape, rail.Depth = plane.Ring{{X: 1300, Y: 300}, {X: 2300, Y: 2200}, {X: 2260, Y: 2220}, {X: 1260, Y: 320}}, 85
	flush := worktest.Box(wall.Window, "window", 1500, 1000, 500, 500)
	s := worktest.Site(wall.Wall{Name: "Cut wall", Outline: plane.Rectangle(plane.Point{}, 2400, 2400), Surface: wall.Brick, Obstructions: []wall.Obstruction{breast, flush, rail}})
	var pieces []scatter.Piece // close before the breast and the rail
	for y := 200.0; y < 1200; y += 290 {
		pieces = append(pieces, scatter.Piece{At: plane.Point{X: 430, Y: y}, Kind: 1, Heading: 90}, scatter.Piece{At: plane.Point{X: 1280 + 0.52*y, Y: y + 300}, Kind: 1, Heading: 90})
	}
	w := worktest.Work(t, s, pieces)
	r := draw.NewRecord()
	cut := worktest.CutUp(t, w, worktest.Print("A4"))
	require.NoError(t, template.HoleMap(r, cut))
	said, rails := map[string]bool{}, map[string]bool{}
	for _, m := range r.Marks {
		if m.Kind == "text" && len(m.Groups) > 0 {
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			said[name] = said[name] || strings.Contains(m.Text.Say, "stands out 350 mm")
			rails[name] = rails[name] || strings.Contains(m.Text.Say, "stands out 85 mm")
		}
	}
	tiles := cut.Tiles(0)
	cuts := 0
	for _, tile := range tiles {
		if len(tile.Holes) == 0 {
			continue
		}
		area := plane.Rectangle(tile.Area.Min, tile.Area.Width(), tile.Area.Height())
		assert.False(t, rails[tile.Name] && !plane.RegionOf(rail.Shape).Touches(area), "%s has nothing of the rail", tile.Name)
		b := breast.Shape.Bounds()
		if b.Overlaps(tile.Cell.Grow(-15)) {
			assert.True(t, said[tile.Name], tile.Name)
			cuts++
		}
		if !b.Overlaps(tile.Area) {
			assert.False(t, said[tile.Name], tile.Name)
		}
	}
	assert.GreaterOrEqual(t, cuts, 3)
}

// Every sheet that is printed is named in the picture of its face, or in that of one of its parts,
// however many there are.
func TestThePictureNamesEverySheet(t *testing.T) {
	for _, long := range []float64{6000, 16_000} {
		s := worktest.Site(wall.Wall{Name: "Crowd", Outline: plane.Rectangle(plane.Point{}, long, 4700), Surface: wall.Plaster})
		w := worktest.Work(t, s, worktest.Strew(s, 0, 330))
		p := worktest.Print("A4")
		cut := worktest.CutUp(t, w, p)
		tiles := cut.Tiles(0)
		require.Greater(t, worktest.Printed(tiles), 100)
		r := draw.NewRecord()
		require.NoError(t, template.HoleMap(r, cut))
		named := map[string]int{}
		for _, m := range r.Marks {
			if m.Kind == "text" && len(m.Groups) == 0 && m.Text.Height != 3 { // not in the index
				named[m.Text.Say]++
			}
		}
		missing := 0
		for _, tile := range tiles {
			if len(tile.Holes) > 0 && named[tile.Name] == 0 {
				missing++
			}
		}
		assert.Zero(t, missing, "of %d on %g mm", worktest.Printed(tiles), long)
	}
}

// A wall says how much of it burns, kept or not: where it is not, that is among the cautions.
func TestTheKeySaysHowMuchOfAWallBurns(t *testing.T) {
	for _, limit := range []float64{0.5, 0.0001} {
		w := worktest.Ferry(t)
		w.Kinds = slices.Clone(w.Kinds)
		for i := range w.Kinds {
			w.Kinds[i].Combustible = true
		}
		limits := caution.UsualLimits()
		limits.CombustibleShare = limit
		var err error
		w.Map, err = holemap.MakeWithin(w.Site, w.Kinds, w.Layout, limits)
		require.NoError(t, err)
		r := draw.NewRecord()
		require.NoError(t, template.HoleMap(r, worktest.CutUp(t, w, worktest.Print("A4"))))
		var said []string
		for _, m := range r.Marks {
			if m.Kind == "text" {
				said = append(said, m.Text.Say)
			}
		}
		all := strings.ToLower(strings.Join(said, " "))
		require.NotEmpty(t, w.Map.Shares)
		for _, s := range w.Map.Shares {
			assert.Contains(t, all, fmt.Sprintf("pieces that burn cover %.1f %% of this wall", 100*s.Of()))
		}
		assert.Equal(t, limit > 0.1, strings.Contains(all, "of this wall; the limit set is"))
	}
}
