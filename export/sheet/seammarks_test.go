package sheet_test

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/sheet"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// stair is a wall up a stair with pieces strewn over it, a lamp and a handrail that stand out of it.
func stair(t testing.TB, apart float64) holemap.Work {
	w := wall.Wall{
		Name: "Stair wall", Surface: wall.Brick, Margin: 50,
		Outline:      plane.Ring{{}, {X: 1200}, {X: 4500, Y: 2160}, {X: 6000, Y: 2160}, {X: 6000, Y: 4760}, {X: 4300, Y: 4760}, {X: 900, Y: 2600}, {Y: 2600}},
		Obstructions: []wall.Obstruction{box(wall.Fixture, "lamp", 2300, 2900, 280, 280)},
	}
	w.Obstructions[0].Depth = 110
	s := site(w)
	return work(t, s, strew(s, 0, apart))
}

// jointed are works with joints of every sort, and the paper that they are printed on.
func jointed(t testing.TB) map[string]joined {
	t.Helper()
	joinOnce.Do(func() {
		roll := sheet.Print{Paper: sheet.Roll(914), Overlap: 12, Margin: 6}
		joinedWorks = map[string]joined{}
		for name, of := range map[string]struct {
			holemap.Work
			sheet.Print
		}{
			"ferry on A4":         {ferry(t), auto(print("A4"))},
			"stair on Letter":     {stair(t, 210), auto(print("Letter"))},
			"stair on a roll":     {stair(t, 260), roll},
			"sides of things, A4": {deepFerry(t), auto(print("A4"))},
			"sides on a roll":     {deepFerry(t), roll},
		} {
			cut := cutUp(t, of.Work, of.Print)
			joinedWorks[name] = joined{of.Work, cut, recorded(t, func(c draw.Canvas) error { return sheet.HoleMap(c, cut) })}
		}
	})
	return joinedWorks
}

// A joined work is cut and drawn once for all who look at its joints.
type joined struct {
	holemap.Work
	sheet.Cut
	hung *draw.Record
}

var (
	joinOnce    sync.Once
	joinedWorks map[string]joined
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
	for name, j := range jointed(t) {
		registers := registersOn(j.hung)
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
	for name, j := range jointed(t) {
		registers := registersOn(j.hung)
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
					other := tiles[slices.IndexFunc(tiles, func(o sheet.Tile) bool { return o.Name == s.other })]
					both := 0
					for _, m := range registers[tile.Name] {
						if at := tile.ToFace(m); near(registers[other.Name], other.ToPage(at)) < 1e-6 {
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
	for name, j := range jointed(t) {
		said := map[string]string{}
		for _, m := range j.hung.Marks {
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
				for _, n := range slices.Concat([]sheet.Neighbour{tile.Left, tile.Right}, tile.Above, tile.Below) {
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
