package tiling_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Sheets start where few are needed: never more than the plain grid takes, and a good deal fewer where
// holes are scarce. What is said of a cutting is what its tiles show.
func TestFewSheetsAndFewHolesNearSeams(t *testing.T) {
	for _, n := range []int{1, 12, 60, 200, 900} {
		w := worktest.Strewn(t, 6000, 2600, n)
		for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Landscape(worktest.Print("Letter")), worktest.Auto(worktest.Print("A3"))} {
			cut := worktest.CutUp(t, w, p)
			all := cut.Cuttings()
			require.Len(t, all, 1)
			c := all[0]
			tiles := cut.Tiles(0)
			near := map[int]bool{}
			for _, tile := range tiles {
				for i, h := range w.Map.Holes {
					d, e := h.At.X-tile.Cell.Min.X, tile.Cell.Max.Y-h.At.Y
					left := math.Abs(d) < 8-1e-6 && e > -8 && e < tile.Cell.Height()+8
					top := math.Abs(e) < 8-1e-6 && d > -8 && d < tile.Cell.Width()+8
					if len(tile.Holes) > 0 && (left || top) {
						near[i] = true
					}
				}
			}
			assert.Equal(t, worktest.Printed(tiles), c.Sheets)
			assert.Len(t, near, c.Near)
			assert.LessOrEqual(t, c.Sheets, c.PlainSheets, "%d holes on %s", n, p.Paper.Name)
			assert.LessOrEqual(t, c.Around, c.Near)
			if n <= 200 {
				assert.Less(t, float64(c.Near), 1+0.2*float64(c.PlainNear))
			}
			if n == 60 {
				assert.Less(t, float64(c.Sheets), 0.95*float64(c.PlainSheets))
			}
		}
	}
}

// A sheet starts off the line of its row only to keep clear of a hole, by no more than what the sheet
// above still reaches below that line, and no hole lies between the two.
func TestSheetsStartOffTheirRowOnlyForAHole(t *testing.T) {
	moved := 0
	for _, n := range []int{60, 300} {
		w := worktest.Strewn(t, 6000, 2600, n)
		for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Landscape(worktest.Print("Letter"))} {
			tiles := worktest.CutUp(t, w, p).Tiles(0)
			starts := map[int]map[float64]int{} // by row, how many sheets start at a height
			inRow := map[int]int{}
			for _, tile := range tiles {
				if starts[tile.Row] == nil {
					starts[tile.Row] = map[float64]int{}
				}
				starts[tile.Row][tile.Cell.Max.Y]++
				inRow[tile.Row]++
			}
			for _, tile := range tiles {
				line, known := 0.0, false
				for y, sheets := range starts[tile.Row] {
					if 3*sheets > 2*inRow[tile.Row] {
						line, known = y, true
					}
				}
				off := tile.Cell.Max.Y - line
				if !known || math.Abs(off) < 1e-6 {
					continue
				}
				moved++
				assert.LessOrEqual(t, off, 16.0)
				assert.GreaterOrEqual(t, off, -(p.Overlap - 4))
				close := false
				for _, h := range w.Map.Holes {
					if h.At.X > tile.Cell.Min.X-8 && h.At.X < tile.Cell.Max.X+8 {
						d := h.At.Y - line
						close = close || math.Abs(d) < 8
						assert.False(t, d*off > 0 && math.Abs(d) < math.Abs(off), "hole %d between %s and its row", h.Number, tile.Name)
					}
				}
				assert.True(t, close, tile.Name)
			}
		}
	}
	assert.Positive(t, moved)
}

// One hole takes one sheet, whichever way round, and two that fit on a sheet take one, wherever they
// are.
func TestWhatFitsOnASheetTakesOne(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	s := worktest.Site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 3000, 2600), Surface: wall.Brick})
	for range 40 {
		at := plane.Point{X: 20 + 2700*rng.Float64(), Y: 20 + 2300*rng.Float64()}
		by := plane.Point{X: 140 * rng.Float64(), Y: 200 * rng.Float64()}
		w := worktest.Work(t, s, []scatter.Piece{{At: at.Snap(100), Kind: 1}, {At: at.Add(by).Snap(100), Kind: 1}})
		tiles := worktest.CutUp(t, w, worktest.Print("A4")).Tiles(0)
		assert.Equal(t, 1, worktest.Printed(tiles), "%v and %v", at, at.Add(by))
	}
}

// No mark of a hole is cut: where one crosses an edge along which a sheet is cut, the cut goes round
// it, and both sheets show all of it. The crowd leaves seams no way out.
func TestCutsGoRoundMarks(t *testing.T) {
	t.Parallel()
	w := worktest.Strewn(t, 500, 500, 300)
	for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Landscape(worktest.Print("A3"))} {
		cut := worktest.CutUp(t, w, p)
		r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		byName := map[string]tiling.Tile{}
		for _, tile := range tiles {
			byName[tile.Name] = tile
		}
		cuts, lines := map[string][][]plane.Point{}, map[string][][]plane.Point{}
		clipped := 0
		for _, m := range r.Marks {
			if m.Kind == "clip" {
				clipped++
			} else if m.Kind == "unclip" {
				clipped--
			}
			if len(m.Groups) < 2 || m.Kind != "line" {
				continue
			}
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			switch {
			case m.Groups[1] == "cut":
				cuts[name] = append(cuts[name], m.Points)
			case strings.HasPrefix(m.Groups[1], "hole "):
				assert.Zero(t, clipped, "the mark of %s is clipped on %s", m.Groups[1], name)
				lines[name] = append(lines[name], m.Points)
			}
		}
		tabbed := 0
		for name, cut := range cuts {
			for _, c := range cut {
				for _, l := range lines[name] {
					assert.False(t, plane.SegmentsMeet(c[0], c[1], l[0], l[1]), "%s: the cut %v runs through the mark %v", name, c, l)
				}
			}
			if len(cut) > 2 {
				tabbed++
			}
			for _, h := range w.Map.Holes {
				tile := byName[name]
				if tile.Cell.Grow(4 - 1e-6).Contains(h.At) {
					at := tile.ToPage(h.At)
					shown := 0
					for _, l := range lines[name] {
						if l[0].Lerp(l[1], 0.5).Distance(at) < 1e-6 {
							shown++
						}
					}
					assert.Equal(t, 2, shown, "hole %d is whole on %s", h.Number, name)
				}
			}
		}
		assert.Positive(t, tabbed)
	}
}

// The same work is cut in the same way whatever the order of its holes, and each face for itself.
func TestCuttingIsSettled(t *testing.T) {
	w := worktest.Ferry(t)
	first := worktest.CutUp(t, w, worktest.Auto(worktest.Print("A4"))).Cuttings()
	again := worktest.CutUp(t, w, worktest.Auto(worktest.Print("A4"))).Cuttings()
	assert.Equal(t, first, again)
	for _, c := range first {
		upright := worktest.CutUp(t, w, worktest.Print("A4")).Cuttings()
		level := worktest.CutUp(t, w, worktest.Landscape(worktest.Print("A4"))).Cuttings()
		assert.Equal(t, min(upright[c.Face].Sheets, level[c.Face].Sheets), c.Sheets)
	}
}
