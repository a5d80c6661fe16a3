package tiling_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// No paper hangs past the edge of a face to its right or below it, whatever the paper, and no register mark
// stands where the sheet is cut off there.
func TestSheetsEndWhereTheirFaceDoes(t *testing.T) {
	w := worktest.Stepping(t, 900)
	ended := 0
	for _, p := range []tiling.Print{worktest.Auto(worktest.Print("A1")), worktest.Print("A4"), {Paper: drafting.Roll(914), Overlap: 12, Margin: 6}, {Paper: drafting.Roll(914), Landscape: true, Overlap: 12, Margin: 6}} {
		marks := registersBySheet(t, w, p)
		cut := worktest.CutUp(t, w, p)
		for face, f := range w.Site.Faces {
			tiles := cut.Tiles(face)
			edge := f.Outline.Bounds()
			if !f.Whole.Empty() {
				edge = f.Whole.Bounds()
			}
			for _, tile := range tiles {
				if len(tile.Holes) == 0 {
					continue
				}
				assert.LessOrEqual(t, tile.Area.Max.X, edge.Max.X+1e-6, "%s, sheet %s on %s", w.Site.Title(face), tile.Name, p.Paper.Name)
				assert.GreaterOrEqual(t, tile.Area.Min.Y, edge.Min.Y-1e-6, "%s, sheet %s on %s", w.Site.Title(face), tile.Name, p.Paper.Name)
				right, below := tile.Area.Max.X > edge.Max.X-1e-6, tile.Area.Min.Y < edge.Min.Y+1e-6
				for _, at := range marks[tile.Name] {
					q := tile.ToFace(at)
					if right {
						assert.Less(t, q.X, edge.Max.X-6, "a mark of sheet %s is cut off at the right", tile.Name)
					}
					if below {
						assert.Greater(t, q.Y, edge.Min.Y+6, "a mark of sheet %s is cut off below", tile.Name)
					}
				}
				if right || below {
					ended++
				}
			}
		}
	}
	assert.Greater(t, ended, 20)
}

// Off a roll a sheet that ends with its face is no longer than it has to be for that and for its foot.
func TestTheEndOfAFaceSavesPaperOffARoll(t *testing.T) {
	w := worktest.Strewn(t, 700, 900, 60)
	p := tiling.Print{Paper: drafting.Roll(914), Overlap: 12, Margin: 6}
	tiles := worktest.CutUp(t, w, p).Tiles(0)
	for _, tile := range tiles {
		if len(tile.Holes) > 0 {
			assert.LessOrEqual(t, tile.Sheet.Height, 900+60.0)
		}
	}
}

// registersBySheet returns where the register marks stand on the page, by sheet.
func registersBySheet(t testing.TB, w holemap.Work, p tiling.Print) map[string][]plane.Point {
	t.Helper()
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, p)) })
	out := map[string][]plane.Point{}
	for _, m := range r.Marks {
		if len(m.Groups) == 2 && m.Groups[1] == "register" && m.Kind == "circle" {
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			out[name] = append(out[name], m.Points[0])
		}
	}
	return out
}

// Beside a step or a slope of the outline a sheet starts and ends about where the face does on it.
func TestSheetsLeaveNoBlankPaperBesideAStep(t *testing.T) {
	step := plane.Ring{{}, {X: 4200}, {X: 4200, Y: 1500}, {X: 2400, Y: 1500}, {X: 2400, Y: 3600}, {Y: 3600}}
	s := worktest.Site(wall.Wall{Name: "Wall", Outline: step, Surface: wall.Brick})
	w := worktest.Work(t, s, worktest.Strew(s, 0, 300))
	tiles := worktest.CutUp(t, w, tiling.Print{Paper: drafting.Roll(914), Overlap: 12, Margin: 6}).Tiles(0)
	low := 0
	for _, tile := range tiles {
		if len(tile.Holes) > 0 && tile.Area.Min.X > 2400 {
			assert.LessOrEqual(t, tile.Area.Max.Y, 1501.0, tile.Name)
			assert.LessOrEqual(t, tile.Sheet.Height, 1600.0, tile.Name)
			low++
		}
	}
	assert.Positive(t, low)
}
