package tiling_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/draw"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// registersOn returns where the register marks of each sheet stand on its page.
func registersOn(r *draw.Record) map[string][]plane.Point {
	out := map[string][]plane.Point{}
	for _, m := range r.Marks {
		if len(m.Groups) == 2 && m.Groups[1] == "register" && m.Kind == "circle" && m.Radius > 1 {
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			out[name] = append(out[name], m.Points[0])
		}
	}
	return out
}

// What is cut off with the waste joins nothing: no register mark stands off the wall, or under what stands out of it.
func TestRegisterMarksStandOnThePaperThatStays(t *testing.T) {
	t.Parallel()
	for name, j := range worktest.Jointed(t) {
		registers := registersOn(j.Hung)
		for face, f := range j.Site.Faces {
			tiles := j.Tiles(face)
			for _, tile := range tiles {
				if len(tile.Holes) == 0 {
					continue
				}
				for _, m := range registers[tile.Name] {
					at := tile.ToFace(m)
					assert.Greater(t, f.Outline.Distance(at), -0.5, "%s: a mark off the wall, at %v on %s", name, at, tile.Name)
				}
			}
		}
	}
}

// Two sheets that share a seam of some length meet at two marks, where crosses leave room for them.
func TestJointsHaveTwoRegisterMarks(t *testing.T) {
	t.Parallel()
	const long = 120.0
	joints := 0
	for name, j := range worktest.Jointed(t) {
		registers := registersOn(j.Hung)
		for face, f := range j.Site.Faces {
			tiles := j.Tiles(face)
			for _, tile := range tiles {
				if len(tile.Holes) == 0 {
					continue
				}
				type seam struct {
					other string
					a, b  plane.Point
				}
				var seams []seam
				if tile.Left.Printed {
					x := tile.Cell.Min.X
					seams = append(seams, seam{tile.Left.Name, plane.Point{X: x, Y: tile.Cell.Min.Y + 30}, plane.Point{X: x, Y: tile.Cell.Max.Y - 30}})
				}
				for _, n := range tile.Above {
					if n.Printed {
						seams = append(seams, seam{n.Name, plane.Point{X: n.From, Y: n.Edge}, plane.Point{X: n.To, Y: n.Edge}})
					}
				}
				for _, s := range seams {
					if s.a.Distance(s.b) < long || f.Outline.Distance(s.a) < 0 || f.Outline.Distance(s.b) < 0 {
						continue
					}
					other := tiles[slices.IndexFunc(tiles, func(o tiling.Tile) bool { return o.Name == s.other })]
					both := 0
					for _, m := range registers[tile.Name] {
						if at := tile.ToFace(m); worktest.Near(registers[other.Name], other.ToPage(at)) < 1e-6 {
							both++
						}
					}
					joints++
					assert.GreaterOrEqual(t, both, 2, "%s: %s on %s", name, tile.Name, s.other)
				}
			}
		}
	}
	assert.Greater(t, joints, 100)
}

// Marks without a name are no use: a sheet names every sheet that lies on it, and every one that it lies on.
func TestSheetsNameEveryNeighbour(t *testing.T) {
	t.Parallel()
	named := 0
	for name, j := range worktest.Jointed(t) {
		said := map[string]string{}
		for _, m := range j.Hung.Marks {
			if m.Kind == "text" && len(m.Groups) > 0 {
				sheetName := strings.TrimPrefix(m.Groups[0], "sheet ")
				said[sheetName] += " " + m.Text.Say + " "
			}
		}
		for face := range j.Site.Faces {
			tiles := j.Tiles(face)
			for _, tile := range tiles {
				if len(tile.Holes) == 0 {
					continue
				}
				for _, n := range slices.Concat([]tiling.Neighbour{tile.Left, tile.Right}, tile.Above, tile.Below) {
					if n.Printed {
						named++
						assert.Contains(t, said[tile.Name], " "+n.Name+" ", "%s: %s does not name %s", name, tile.Name, n.Name)
					}
				}
			}
		}
	}
	assert.Greater(t, named, 100)
}
