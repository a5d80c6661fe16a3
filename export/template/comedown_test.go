package template_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/orderpage"
	"wallshoal/export/stand"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// The work is gone through stand by stand: no sheet comes down before all its holes are drilled, or while
// another that lies over it hangs, and no piece is hung on paper. Something can hang at its stand.
func TestNothingHangsOnPaper(t *testing.T) {
	now, later := 0, 0
	for name, w := range map[string]holemap.Work{"ferry": worktest.Ferry(t), "chamber": worktest.Stepping(t, 600), "feet": worktest.DeepFerry(t)} {
		for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Print("A2"), {Paper: drafting.Roll(914), Overlap: 12, Margin: 6}} {
			stands, err := stand.Plan(w, stand.UsualReach())
			require.NoError(t, err)
			cut := worktest.CutUp(t, w, p)
			stands = cut.Rounds(stands)
			of := stand.Of(stands)
			hangs := map[int]int{} // after which stand
			for _, s := range stands {
				for _, id := range s.Pieces {
					if hangs[id] = s.Number; slices.Contains(s.Later, id) {
						hangs[id] = len(stands)
						later++
					} else {
						now++
					}
				}
			}
			for face := range w.Site.Faces {
				tiles := cut.Tiles(face)
				tiles = slices.DeleteFunc(tiles, func(t tiling.Tile) bool { return len(t.Holes) == 0 })
				last := map[string]int{}
				for _, tile := range tiles {
					for _, i := range tile.Holes {
						last[tile.Name] = max(last[tile.Name], of[w.Map.Holes[i].Piece])
					}
				}
				down := tiling.ComeDown(tiles, last)
				assert.Len(t, down, len(tiles))
				for i, tile := range tiles {
					assert.GreaterOrEqual(t, down[tile.Name], last[tile.Name], "%s: %s is not drilled", name, tile.Name)
					// What follows it in the rows and meets it lies over it.
					for _, over := range tiles[i+1:] {
						if over.Area.Overlaps(tile.Area.Grow(-0.01)) {
							assert.GreaterOrEqual(t, down[tile.Name], down[over.Name], "%s: %s lies on %s", name, over.Name, tile.Name)
						}
					}
					for _, piece := range w.Layout.Pieces {
						if piece.Face == face && piece.Outline(w.Kinds).Bounds().Overlaps(tile.Area) && plane.Closer(piece.Outline(w.Kinds), plane.Rectangle(tile.Area.Min.Add(plane.Point{X: 0.1, Y: 0.1}), tile.Area.Width()-0.2, tile.Area.Height()-0.2), 0) {
							assert.GreaterOrEqual(t, hangs[piece.ID], down[tile.Name], "%s: piece %d on %s", name, piece.ID, tile.Name)
						}
					}
				}
			}
		}
	}
	assert.Positive(t, now)
	assert.Positive(t, later)
}

// tileName is the form of the name of a sheet where one face carries pieces.
var tileName = regexp.MustCompile(`^([0-9]+-)?[A-Z]+[0-9]+$`)

// Worked by hand: three sheets in a row, and one below the first. The first waits for the two that lie on
// it, and the second for the third.
func TestASheetWaitsForThoseThatLieOnIt(t *testing.T) {
	tile := func(name string, x, y float64) tiling.Tile {
		cell := plane.Rect{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + 100, Y: y + 100}}
		area := cell
		area.Min.Y -= 12
		area.Max.X += 12
		return tiling.Tile{Name: name, Cell: cell, Area: area, Holes: []int{0}}
	}
	tiles := []tiling.Tile{tile("A1", 0, 100), tile("A2", 100, 100), tile("A3", 200, 100), tile("B1", 0, 0), tile("C1", 0, -400)}
	got := tiling.ComeDown(tiles, map[string]int{"A1": 1, "A2": 2, "A3": 5, "B1": 3, "C1": 1})
	assert.Equal(t, map[string]int{"A1": 5, "A2": 5, "A3": 5, "B1": 3, "C1": 1}, got)
}

// The order of work that goes with sheets printed anew over older ones names sheets that belong on the wall
// then, and each of them.
func TestTheOrderNamesTheSheetsOnTheWall(t *testing.T) {
	old := worktest.Ferry(t)
	pieces := slices.Clone(old.Layout.Pieces)
	pieces[4].At = pieces[4].At.Add(plane.Point{X: 7, Y: -9})
	changed := old
	changed.Layout = scatter.Layout{Pieces: pieces}
	m, err := holemap.Make(changed.Site, changed.Kinds, changed.Layout)
	require.NoError(t, err)
	changed.Map, _ = m.NumberedAs(old.Map)
	cut := worktest.CutUp(t, changed, worktest.Print("A4"), old)
	revision := cut.Revision()
	belong := map[string]bool{}
	for _, m := range slices.Concat(revision.Printed, revision.Staying) {
		belong[m.Name] = true
	}
	require.NotEmpty(t, revision.Staying)
	stands, err := stand.Plan(changed, stand.UsualReach())
	require.NoError(t, err)
	r := worktest.Recorded(t, func(c draw.Canvas) error {
		return orderpage.Draw(c, cut, stands)
	})
	text := ""
	for _, m := range r.Marks {
		if m.Kind == "text" {
			text += m.Text.Say + " "
		}
	}
	assert.Contains(t, text, "those that hang on the wall")
	for name := range belong {
		if strings.Count(text, name) == 0 {
			// It is within a run of a row.
			row := strings.TrimRight(name, "0123456789")
			assert.Contains(t, text, row, name)
		}
	}
	for _, s := range stands {
		for _, mark := range r.Marks {
			if mark.Kind != "text" || len(mark.Groups) != 1 || mark.Groups[0] != fmt.Sprintf("stand %d", s.Number) {
				continue
			}
			for _, name := range strings.FieldsFunc(mark.Text.Say, func(r rune) bool { return strings.ContainsRune(" ,;:", r) }) {
				if tileName.MatchString(name) {
					assert.True(t, belong[name], "%s: stand %d", name, s.Number)
				}
			}
		}
	}
}

// A stand whose sheets meet no others is done with when it is left: all its paper comes down and all its
// pieces hang. On a wall with two groups of pieces far apart there are such stands.
func TestAStandOfItsOwnIsDoneWhenItIsLeft(t *testing.T) {
	s := worktest.Site(wall.Wall{Name: "Corridor", Outline: plane.Rectangle(plane.Point{}, 9000, 2600), Surface: wall.Plaster})
	var pieces []scatter.Piece
	for _, x := range []float64{600, 900, 5200, 5400, 5600, 6900, 7300} {
		pieces = append(pieces, scatter.Piece{At: plane.Point{X: x, Y: 1400}, Heading: 70})
	}
	w, p := worktest.Work(t, s, pieces), worktest.Print("A4")
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	cut := worktest.CutUp(t, w, p)
	stands = cut.Rounds(stands)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return orderpage.Draw(c, cut, stands) })
	alone := 0
	for _, s := range stands {
		text := ""
		for _, m := range r.Marks {
			if m.Kind == "text" && len(m.Groups) > 0 && m.Groups[0] == fmt.Sprintf("stand %d", s.Number) {
				text += " " + m.Text.Say
			}
		}
		if strings.Contains(text, "They meet no others") {
			alone++
			assert.Empty(t, s.Later, "stand %d", s.Number)
			assert.Contains(t, text, "Then hang all pieces")
		}
	}
	assert.Positive(t, alone)
}
